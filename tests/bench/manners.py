"""How many pages are read right, whatever the manner in which their rounds are set and worded.

    python tests/bench/manners.py [--pages 400] [--seed 1] [--worst 8]
    python tests/bench/manners.py --single               each option alone, all else plain: which one fails
    python tests/bench/manners.py --show 17 [--seed 1]   one page, and what became of it

Each page is invented and its counts are known by arithmetic (`tests/support/page_manners.py`). It goes through the
import of pages as a maker's would. Told are, for example,

    clean 292/300 = 97.3%   pages of which all is right: the pieces, how often each is made, and every round
    right 5253/5311 = 98.9%   rounds that are read "ok" with the count that is meant
    silent 0   rounds that are read "ok" with another count: the ones that cost most
    repeat: '({b})*{t}' 86% of 7; ...   of each dimension the options whose pages are clean least often

The lots are seeded. Pages of seeds that nobody has looked at tell more than those that were mended with.
"""

from __future__ import annotations

import argparse
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, fields
from difflib import SequenceMatcher
from pathlib import Path
from random import Random
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from support.page_manners import OPTIONS, Manner, Page, Words, draw_page  # noqa: E402

from tracker.pattern.loader import loads  # noqa: E402
from tracker.pattern.model import Pattern  # noqa: E402
from tracker.pattern.text_import.draft_assembly import from_text  # noqa: E402
from tracker.pattern.toml_writer import as_toml  # noqa: E402


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a page: its rounds, how many were read right, how many "ok" with another count, and whether
    nothing at all is wrong with it."""

    rounds: int
    right: int
    silent: int
    is_clean: bool


def pattern_of(page: Page) -> Pattern:
    """The page as the import of pages reads it."""
    return loads(as_toml(from_text(page.text, "US").draft))


def judged(page: Page, pattern: Pattern) -> Outcome:
    """Compare what was read with what was meant; rounds that are missing or too many are passed by their numbers."""
    meant = [(number, leaves) for _, rounds in page.pieces for number, leaves in enumerate(rounds, 1)]
    read = [(one.number, one) for piece in pattern.pieces for one in piece.rounds]
    matcher = SequenceMatcher(None, [number for number, _ in meant], [number for number, _ in read], autojunk=False)
    right = silent = 0
    for block in matcher.get_matching_blocks():
        for at in range(block.size):
            (_, leaves), (_, one) = meant[block.a + at], read[block.b + at]
            if one.verdict == "ok" and one.leaves is not None:
                right += one.leaves == leaves
                silent += one.leaves != leaves
    pieces = [(piece.make, len(piece.rounds)) for piece in pattern.pieces]
    is_clean = right == len(meant) and pieces == [(make, len(rounds)) for make, rounds in page.pieces]
    return Outcome(len(meant), right, silent, is_clean)


def pages_of(count: int, seed: int) -> Iterator[Page]:
    for number in range(count):
        yield draw_page(Random(f"{seed}/{number}"))


def shown(option: Any) -> str:
    """An option as it is told."""
    return f"{option.several}, {option.inc}, {option.dec}" if isinstance(option, Words) else repr(option)


def tell_all(count: int, seed: int, worst: int) -> None:
    """Read pages by lot, and tell how many are right and which options are clean least often."""
    outcomes: list[Outcome] = []
    by_option: dict[str, dict[Any, list[bool]]] = defaultdict(lambda: defaultdict(list))
    failed = []
    for number, page in enumerate(pages_of(count, seed)):
        outcome = judged(page, pattern_of(page))
        outcomes.append(outcome)
        for part in fields(Manner):
            by_option[part.name][getattr(page.manner, part.name)].append(outcome.is_clean)
        if not outcome.is_clean:
            failed.append(f"{number}{'!' * outcome.silent}")
    clean = sum(outcome.is_clean for outcome in outcomes)
    right, rounds = sum(outcome.right for outcome in outcomes), sum(outcome.rounds for outcome in outcomes)
    print(f"clean {clean}/{count} = {clean / count:.1%}")
    print(f"right {right}/{rounds} = {right / rounds:.1%}")
    print(f"silent {sum(outcome.silent for outcome in outcomes)}")
    for name, options in by_option.items():
        shares = sorted((sum(was) / len(was), len(was), shown(option)) for option, was in options.items())
        told = (f"{option} {share:.0%} of {of}" for share, of, option in shares[:worst] if share < 1)
        print(f"{name}: {'; '.join(told)}")
    print(f"not clean, with a ! for each silent round: {' '.join(failed)}")


def tell_each(seed: int) -> None:
    """Each option alone, with and without a total: those whose pages are not all clean."""
    plain = {part.name: getattr(Manner(), part.name) for part in fields(Manner)}
    for name, options in OPTIONS.items():
        for option in dict.fromkeys(options):
            for total in (" ({n})", "") if name != "total" else (option,):
                fixed = {**plain, "total": total, name: option}
                if not total and fixed["repeat"].startswith("{b}"):
                    continue
                pages = [draw_page(Random(f"{seed}/{number}"), **fixed) for number in range(4)]
                outcomes = [judged(page, pattern_of(page)) for page in pages]
                clean, silent = sum(one.is_clean for one in outcomes), sum(one.silent for one in outcomes)
                if clean < len(outcomes):
                    told = f"total {fixed['total']!r}: {clean} of {len(outcomes)} clean, silent {silent}"
                    print(f"{name} {shown(option)}, {told}")


def tell_one(number: int, seed: int) -> None:
    """A page of the run with that seed, what became of its rounds, and what was meant."""
    page = draw_page(Random(f"{seed}/{number}"))
    pattern = pattern_of(page)
    for part in fields(Manner):
        print(f"{part.name}: {shown(getattr(page.manner, part.name))}")
    print(page.text, judged(page, pattern), sep="\n\n")
    for make, rounds in page.pieces:
        print(f"meant, {make} times: {rounds}")
    for piece in pattern.pieces:
        print(f"{piece.name}, {piece.make} times")
        for one in piece.rounds:
            told = "; ".join(problem.message for problem in one.problems)
            print(f"    {one.label} {one.text!r}: {one.leaves} {one.verdict} {told}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pages", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--worst", type=int, default=8, help="options of each dimension that are told")
    parser.add_argument("--single", action="store_true", help="each option alone")
    parser.add_argument("--show", type=int, help="one page of the run")
    asked = parser.parse_args()
    if asked.show is not None:
        tell_one(asked.show, asked.seed)
    elif asked.single:
        tell_each(asked.seed)
    else:
        tell_all(asked.pages, asked.seed, asked.worst)


if __name__ == "__main__":
    main()
