"""Plants one misprint into a clean piece and tells how often the checker finds it, and offers the right line first.

A misprint counts only if arithmetic alone can tell it: the piece must no longer agree with itself, and no single
change of the same kinds in any other round may make it agree again. Where several changes in the right round do,
each of their lines is as good as the true one, and is taken as right (`exact` counts the true line only). Nor does
one count whose words have a second meaning with which all is well: "repeat 3 times" can be 3 or 4 in all.
Into the shipped patterns, whose every line states a total that fits, a wrong digit or multiplier is planted too.

    python tests/bench/misprints.py --pieces 50 --seed 1-4       figures of the project's checker
    python tests/bench/misprints.py --pieces 500 --own           only the plantings and what was skipped, no checker
"""

from __future__ import annotations

import argparse
import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from random import Random
from time import process_time
from typing import TYPE_CHECKING

from clean_pieces import pieces
from hands import Writer, as_file, hand_for
from misprint_changes import KINDS, Change, misprints, repairs, with_parts
from piece_arithmetic import Piece, faults

if TYPE_CHECKING:
    from tracker.pattern.misprints.finder import Finding
    from tracker.pattern.model import Piece as CheckedPiece

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Planted:
    """A misprint: the text with it, the rounds it touched (piece and number), what stands there, what stood there.

    `accepted` are the lines that arithmetic would take there, the true ones among them.
    """

    kind: str
    text: str
    where: frozenset[tuple[int, int]]
    wrong: tuple[str, ...]
    truth: tuple[str, ...]
    accepted: frozenset[str]


@dataclass
class Planting:
    """Plants misprints by turns of kind; `skipped` counts, by kind and reason, those that arithmetic cannot tell."""

    chance: Random
    skipped: Counter[tuple[str, str]]

    def plant(self, piece: Piece, kind: str) -> Planted | None:
        changes = misprints(piece, kind)
        change = self.chance.choice(changes) if changes else None
        wrong = change is not None and faults(change.piece)
        mended = list(repairs(change.piece)) if change and wrong else []
        if change is None:
            reason = "nothing of the kind in the piece"
        elif not wrong:
            reason = "the piece still agrees with itself"
        elif any(not set(repair.places) & set(change.places) for repair in mended):
            reason = "another round could as well be wrong"
        else:
            assert mended, "the way back is one of the changes"
            write = Writer(piece, hand_for(piece, self.chance))
            if all(faults(loose) for loose in read_loosely(write, change)):
                return self.told(piece, write, change, mended)
            reason = "its words can mean the right number too"
        self.skipped[kind, reason] += 1
        return None

    def told(self, piece: Piece, write: Writer, change: Change, mended: list[Change]) -> Planted:
        touched = [change.piece.rounds[place] for place in change.places]
        truth = tuple(write.line(piece.rounds[place]) for place in change.places)
        good = {write.line(repair.piece.rounds[place]) for repair in mended for place in repair.places}
        return Planted(
            change.kind,
            as_file(change.piece, write.hand),
            frozenset((0, number) for item in touched for number in range(item.first, item.last + 1)),
            tuple(write.line(item) for item in touched),
            truth,
            frozenset({*good, *truth}),
        )


def read_loosely(write: Writer, change: Change) -> Iterator[Piece]:
    """The misprinted piece with some groups made once more, where their words allow that: "repeat 3 times"."""
    for place in change.places:
        ways = [
            (part, more) if (more := write.once_more(part)) else (part,) for part in change.piece.rounds[place].parts
        ]
        yield from (with_parts(change.piece, place, parts) for parts in product(*ways))


TOTAL = re.compile(r"(?<=\()\d+(?=\)| sts\))")
MULTIPLIER = re.compile(r"(?<=\) x )\d+|\d+(?= more times)|(?<=[\])*] )\d+(?= times)")


def shipped_misprints(chance: Random) -> Iterator[Planted]:
    """One misprint for each total and each multiplier of the shipped patterns."""
    for path in sorted((ROOT / "patterns").glob("*.toml")):
        text = path.read_text("utf-8")
        piece, start = -1, 0
        for line in text.splitlines(keepends=True):
            piece += line.startswith("[[piece]]")
            heading = re.match(r"(?:Rnd|Round|Row)s? (\d+)(?:-(\d+))?", line)
            forms = (("shipped: total", TOTAL), ("shipped: multiplier", MULTIPLIER)) if heading else ()
            for kind, form in forms:
                if (spots := list(form.finditer(line))) and heading:
                    wrong = spoilt(line, spots[-1], chance)
                    spoilt_text = text[:start] + wrong + text[start + len(line) :]
                    numbers = range(int(heading[1]), int(heading[2] or heading[1]) + 1)
                    here = frozenset((piece, number) for number in numbers)
                    truth = line.strip()
                    yield Planted(kind, spoilt_text, here, (wrong.strip(),), (truth,), frozenset({truth}))
            start += len(line)


def spoilt(line: str, spot: re.Match[str], chance: Random) -> str:
    """The line with one digit of the number changed; no number becomes 0 or begins with it."""
    digits = spot[0]
    at = chance.randrange(len(digits))
    digit = chance.choice([other for other in "123456789" if other != digits[at]])
    return line[: spot.start()] + digits[:at] + digit + digits[at + 1 :] + line[spot.end() :]


@dataclass(frozen=True, slots=True)
class Found:
    """What the checker says about one text: piece, round numbers and corrected lines of each finding, best first.

    There are two of each where it says that two rounds are swapped.
    """

    findings: tuple[tuple[int, tuple[int, ...], tuple[str, ...]], ...]
    alarms: tuple[str, ...]


def checked(text: str) -> Found:
    """The one place that knows the program."""
    from tracker.diagnostics import Severity
    from tracker.pattern.loader import loads
    from tracker.pattern.misprints.finder import find

    pattern = loads(text, "bench")
    rounds = [item for piece in pattern.pieces for item in piece.rounds]
    problems = [*pattern.problems, *(problem for item in rounds for problem in item.problems)]
    alarms = tuple(problem.message for problem in problems if problem.severity is not Severity.NOTE)
    findings = tuple(
        (finding.piece_index, _numbers(pattern.pieces[finding.piece_index], finding), _lines(finding))
        for finding in find(pattern)
    )
    return Found(findings, alarms)


def _numbers(piece: CheckedPiece, finding: Finding) -> tuple[int, ...]:
    partners = [offer.partner_index for offer in finding.offers[:1] if offer.partner_index is not None]
    return tuple(piece.rounds[index].number for index in (finding.round_index, *partners))


def _lines(finding: Finding) -> tuple[str, ...]:
    return finding.offers[0].corrected_lines if finding.offers else ()


def plain(line: str) -> str:
    return " ".join(line.casefold().split())


@dataclass
class Score:
    """Counts by kind of misprint: planted, located, right (the line is one that arithmetic accepts), exact."""

    counts: dict[str, Counter[str]]
    missed: list[str]

    def add(self, planted: Planted) -> None:
        count = self.counts.setdefault(planted.kind, Counter())
        findings = checked(planted.text).findings
        piece, numbers, lines = findings[0] if findings else (0, (), ())
        said = {plain(line) for line in lines}
        located = any((piece, number) in planted.where for number in numbers)
        right = located and bool(said & set(map(plain, planted.accepted)))
        exact = located and bool(said & set(map(plain, planted.truth)))
        count.update(planted=1, located=located, right=right, exact=exact)
        if not right:
            wrong, truth, told = (" / ".join(each) for each in (planted.wrong, planted.truth, lines))
            self.missed.append(f"{planted.kind}\n  read:  {wrong}\n  truth: {truth}\n  said:  {numbers}: {told}")


def table(counts: dict[str, Counter[str]]) -> str:
    columns = ("planted", "located", "right", "exact")
    lines = [f"{'':20}" + "".join(f"{column:>14}" for column in columns)]
    for kind, count in {**counts, "all": sum(counts.values(), Counter())}.items():
        shares = (f"{count[column]} {count[column] / max(count['planted'], 1):8.1%}" for column in columns[1:])
        lines.append(f"{kind:20}{count['planted']:14}" + "".join(f"{share:>14}" for share in shares))
    return "\n".join(lines)


def clean_texts(count: int, seeds: range) -> Iterator[str]:
    """The clean pieces in some hand, and the shipped patterns."""
    for seed in seeds:
        chance = Random(seed)
        for _, piece in zip(range(count), pieces(seed), strict=False):
            yield as_file(piece, hand_for(piece, chance))
    for path in sorted((ROOT / "patterns").glob("*.toml")):
        yield path.read_text("utf-8")


def false_alarms(texts: Iterator[str], show: int) -> int:
    """How many clean texts are not taken as clean; the first few are shown."""
    alarms = 0
    for text in texts:
        found = checked(text)
        if found.alarms or found.findings:
            alarms += 1
            if alarms <= show:
                print(f"false alarm: {(*found.alarms, *found.findings)}\n{text}")
    return alarms


def planted_misprints(count: int, seeds: range) -> list[Planted]:
    """One for each generated piece where arithmetic can tell it, and those of the shipped patterns."""
    planted: list[Planted] = []
    skipped: Counter[tuple[str, str]] = Counter()
    for seed in seeds:
        planting = Planting(Random(seed), skipped)
        for place, piece in zip(range(count), pieces(seed), strict=False):
            kind = KINDS[(place // 10 + seed) % len(KINDS)]  # shapes come by tens: each kind meets every shape
            planted += [misprint] if (misprint := planting.plant(piece, kind)) else []
    print(f"{len(planted)} misprints planted in generated pieces; not planted:")
    for (kind, reason), number in sorted(skipped.items()):
        print(f"  {number:5}  {kind}: {reason}")
    ties = sum(len(item.accepted) > len(item.truth) for item in planted)
    print(f"{ties} have more than one line in the right round that arithmetic accepts")
    return [*planted, *shipped_misprints(Random(seeds[0]))]


def seeds_in(words: str) -> range:
    """ "7" or "100-110"."""
    first, _, last = words.partition("-")
    return range(int(first), int(last or first) + 1)


def main() -> None:
    parse = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parse.add_argument("--pieces", type=int, default=50, help="pieces for each seed")
    parse.add_argument("--seed", type=seeds_in, default=range(1, 5), help="a seed, or several: 1-4")
    parse.add_argument("--show", type=int, default=5, help="how many misses and false alarms to show")
    parse.add_argument("--own", action="store_true", help="plant only, and do not ask the checker")
    asked = parse.parse_args()
    planted = planted_misprints(asked.pieces, asked.seed)
    if asked.own:
        print(f"{sum(item.kind.startswith('shipped') for item in planted)} misprints planted in shipped patterns")
        return
    score = Score({}, [])
    begun = process_time()
    for item in planted:
        score.add(item)
    each = (process_time() - begun) / max(len(planted), 1)
    print(table(score.counts))
    print(f"{each:.3f} s of processor time for each pattern read, checked and searched")
    print(*score.missed[: asked.show], sep="\n")
    alarms = false_alarms(clean_texts(asked.pieces, asked.seed), asked.show)
    print(f"false alarms: {alarms}, on {asked.pieces * len(asked.seed)} clean pieces and the shipped patterns")


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    main()
