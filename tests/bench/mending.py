"""How many planted misprints the maker mends with one key, and how many keys the rest take.

    python tests/bench/mending.py [--pieces 50] [--seed 1-2] [--show 3]

The misprints are those of misprints.py: each is one that arithmetic alone can tell. The maker is at the round where
the page calls for them, the first one that is in doubt, and looks at what could be meant, as `remedies` gives it to
the page. One key mends where the choices that the page shows have the line as it was before the misprint, or one that
arithmetic takes as well (`accepted`). For the rest the keys are counted that change the misprinted line into the true
one by hand: m, e, to each place that differs by words or characters, what is taken out and typed there, enter.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from difflib import SequenceMatcher
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

from misprints import Planted, plain, planted_misprints, seeds_in

if TYPE_CHECKING:
    from tracker.pattern.model import Pattern
    from tracker.tui.render.text_field import TextEntry

ROOT = Path(__file__).parents[2]


def doubtful(pattern: Pattern) -> list[tuple[int, int]]:
    """Piece and round of what the list of rounds walks through, in its order."""
    from tracker.pattern.misprints.finder import doubtful_lines

    return list(doubtful_lines(pattern))


def choices(text: str) -> tuple[list[tuple[int, int]], list[str]]:
    """Where the maker is called to, and the lines that one key each would put there."""
    from tracker.pattern.loader import loads
    from tracker.pattern.misprints.remedies import remedies

    pattern = loads(text, "bench")
    spots = doubtful(pattern)
    offered = remedies(pattern, *spots[0]) if spots else ()
    return spots, [line for each in offered for _, line in each.lines]


def keys_by_hand(planted: Planted) -> int:
    """Keys from the list of rounds to the true lines, typed over the misprinted ones."""
    pairs = zip(planted.wrong, planted.truth, strict=True)
    return sum(_keys(" ".join(wrong.split()), " ".join(truth.split())) for wrong, truth in pairs)


OPENING = len(("m", "e", "enter"))
"""To the line, whose cursor stands at its end, and away from it with the line taken."""

MOVES = ("left", "right", "home", "end", "ctrl+left", "ctrl+right")


def _keys(wrong: str, truth: str) -> int:
    """From the end of the line: the moves from one place that differs to the next, from the last to the first, and
    one key for each character that is taken out or typed there."""
    from tracker.tui.render.text_field import TextEntry, edited

    changes = [each for each in SequenceMatcher(None, wrong, truth, False).get_opcodes() if each[0] != "equal"]
    if not changes:
        return 0
    entry, keys = TextEntry("", wrong, len(wrong)), OPENING
    for _, start, end, other, other_end in reversed(changes):
        keys += _moves(entry, end, edited) + (end - start) + (other_end - other)
        text = entry.text[:start] + truth[other:other_end] + entry.text[end:]
        entry = TextEntry("", text, start + other_end - other)
    return keys


def _moves(entry: TextEntry, to: int, edited: Callable[[TextEntry, str], TextEntry]) -> int:
    """The fewest keys that bring the cursor to a place."""
    reached, count = {entry.cursor}, 0
    while to not in reached:
        reached |= {edited(replace(entry, cursor=place), key).cursor for place in reached for key in MOVES}
        count += 1
    return count


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pieces", type=int, default=50, help="pieces for each seed")
    parser.add_argument("--seed", type=seeds_in, default=range(1, 3), help="a seed, or several: 1-4")
    parser.add_argument("--show", type=int, default=3, help="how many of those that one key does not mend to show")
    told = parser.parse_args()
    counts: dict[str, Counter[str]] = {}
    rest: list[int] = []
    for planted in planted_misprints(told.pieces, told.seed):
        spots, lines = choices(planted.text)
        said, good = {plain(line) for line in lines}, set(map(plain, planted.accepted))
        count = counts.setdefault(planted.kind, Counter())
        is_one_key = bool(said & good)
        first = bool(lines) and plain(lines[0]) in good
        count.update(planted=1, called=bool(spots), mended=is_one_key, first=first)
        if not is_one_key:
            rest.append(keys_by_hand(planted))
            if len(rest) <= told.show:
                print(f"{planted.kind}: {' / '.join(planted.wrong)}\n  truth {' / '.join(planted.truth)}\n  {lines}")
    print(f"{'':24}{'planted':>9}{'called':>9}{'one key':>9}{'key 1':>9}")
    for kind, count in {**counts, "all": sum(counts.values(), Counter[str]())}.items():
        whole = max(count["planted"], 1)
        shares = (f"{count[name] / whole:9.1%}" for name in ("called", "mended", "first"))
        print(f"{kind:24}{count['planted']:9}{''.join(shares)}")
    if rest:
        print(f"keys for the other {len(rest)}, typed by hand: median {median(rest):g}, most {max(rest)}")


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    main()
