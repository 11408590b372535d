"""Fuzz the reader: mutated round lines and random text, for as long as it is let. Nothing may be raised, and each
example must be answered within its limit of time.

    python tests/bench/fuzz_lines.py [--examples 200000] [--seed 1] [--pages 50]

One example in `--pages` is a page of several lines, which goes through the cutter of pasted texts, the writer of
pattern files and the loader. Prints examples a second, the slowest example, the peak of memory, and every sort of
failure with the shortest inputs that showed it (as Python literals). Exit code 0 if nothing failed, 1 otherwise.

The same mutations run 3,000 times in the test suite (tests/rounds/test_fuzz.py), where Hypothesis makes a failing
input smaller.
"""

from __future__ import annotations

import argparse
import resource
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from types import FrameType

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from bench.mutated_lines import Example, Mutator, real_lines  # noqa: E402
from bench.sound_reports import hold_places, report_on  # noqa: E402

from tracker.pattern.loader import all_problems, loads  # noqa: E402
from tracker.pattern.text_import.draft_assembly import from_text  # noqa: E402
from tracker.pattern.toml_writer import as_toml  # noqa: E402

LIMIT = 2.0
"""Seconds of processor time that one example may take; a line of the trade takes a thousandth of one."""

TOLD_EVERY = 25_000
"""Examples after which a line on the error output tells how many failed so far: a long run can be given up early."""

SHOWN = 4
"""Inputs that are shown of each sort of failure."""


class TooSlow(Exception):
    """An example did not come to an end within its limit."""


@contextmanager
def limited(seconds: float = LIMIT) -> Iterator[None]:
    """Raise `TooSlow` inside the block after so many seconds of processor time.

    It is raised again every half second: raised inside a callback of the interpreter, it would get lost.
    """

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TooSlow(f"more than {seconds:g} s")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds, 0.5)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def read_page(text: str, terms: str) -> None:
    """A page as a pasted pattern: sorted, written as a pattern file, and loaded."""
    found = from_text(text, terms)
    if found.draft.pieces:
        all_problems(loads(as_toml(found.draft)))


@dataclass
class Findings:
    """What a run has come to. `shortest` holds, by sort of failure, the shortest inputs that showed it."""

    verdicts: Counter[str] = field(default_factory=Counter)
    failures: Counter[tuple[str, str]] = field(default_factory=Counter)
    shortest: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    slowest: tuple[float, str] = (0.0, "")
    hungriest: tuple[float, str] = (0.0, "")
    """The example at which the peak of memory rose most, by so many megabytes; the first few set the scene."""

    def fail(self, wrong: BaseException, shown: str) -> None:
        place = traceback.extract_tb(wrong.__traceback__)[-1]
        where = "" if isinstance(wrong, TooSlow) else f"{Path(place.filename).name}:{place.lineno}"
        sort = (f"{type(wrong).__name__} {where}".strip(), str(wrong)[:100])
        self.failures[sort] += 1
        self.shortest[sort] = sorted([*self.shortest.get(sort, []), shown], key=len)[:SHOWN]


def run(examples: int, seed: int, pages: int) -> tuple[Findings, float]:
    """Run so many examples; gives what was found and the seconds it took."""
    mutator = Mutator(Random(seed), real_lines())
    findings = Findings()
    began = time.perf_counter()
    for number in range(examples):
        if pages and number % pages == pages - 1:
            page, terms = mutator.page(), mutator.example().terms
            _one(findings, repr((page, terms)), lambda page=page, terms=terms: read_page(page, terms))
        else:
            example = mutator.example()
            _one(findings, repr(example), lambda example=example: _verdict(findings, example))
        if number % TOLD_EVERY == TOLD_EVERY - 1:
            print(
                f"{number + 1:,} examples, {sum(findings.failures.values()):,} failures", file=sys.stderr, flush=True
            )
    return findings, time.perf_counter() - began


def _verdict(findings: Findings, example: Example) -> None:
    report = report_on(example)
    findings.verdicts[report.verdict] += 1
    hold_places(report, example)


def _one(findings: Findings, shown: str, work: Callable[[], None]) -> None:
    began, peak = time.process_time(), peak_memory()
    try:
        with limited():
            work()
    except Exception as wrong:
        findings.fail(wrong, shown)
    findings.slowest = max(findings.slowest, (time.process_time() - began, shown))
    findings.hungriest = max(findings.hungriest, (peak_memory() - peak, shown))


def peak_memory() -> float:
    """The most memory that this process has had so far, in megabytes (Linux tells kilobytes)."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--examples", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--pages", type=int, default=50, help="one example in so many is a page; 0: none")
    told = parser.parse_args()
    findings, seconds = run(told.examples, told.seed, told.pages)
    busy = time.process_time()
    rate = f"{told.examples / seconds:.0f} a second, {told.examples / busy:.0f} a second of processor time"
    print(f"{told.examples:,} examples with seed {told.seed} in {seconds:.0f} s: {rate}")
    print("verdicts: " + ", ".join(f"{count:,} {verdict}" for verdict, count in findings.verdicts.most_common()))
    print(f"slowest: {findings.slowest[0]:.3f} s of processor time, {findings.slowest[1][:500]}")
    print(
        f"peak memory: {peak_memory():.0f} MB, {findings.hungriest[0]:.0f} of them by {findings.hungriest[1][:500]}"
    )
    print(f"failures: {sum(findings.failures.values()):,} of {len(findings.failures)} sorts")
    for sort, count in findings.failures.most_common():
        print(f"  {count:,} x {sort[0]}: {sort[1]}")
        for shown in findings.shortest[sort]:
            print(f"      {shown[:2000]}")
    return 1 if findings.failures else 0


if __name__ == "__main__":
    sys.exit(main())
