"""How long a maker waits for what is told of a differing count, beside one tap of the same project.

    python tests/bench/diagnosis_time.py [--times 20]

A project is worked to a round tap by tap, the count typed is wrong, and the diagnosis is worked out again and again.
The baseline is a tap that is made durable and looked at. A tap never waits for a diagnosis: after it, nothing is
worked out before it is asked for.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT)]

from tracker.pattern.loader import load, loads  # noqa: E402
from tracker.pattern.model import Pattern  # noqa: E402
from tracker.project.project import Project, open_project  # noqa: E402
from tracker.session.events import Event, RepeatDone, Stitch  # noqa: E402
from tracker.session.miscount.diagnosis import count_of, diagnose  # noqa: E402

DISK = "\n".join(
    ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: 6 inc (12)"]
    + [f"Rnd {n}: ({n - 2} sc, inc) x 6 ({6 * n})" for n in range(3, 61)]
)
WIDE = f'title = "Disk"\n[[piece]]\nname = "Disk"\nrounds = """\n{DISK}\n"""\n'


class Clock:
    """Seconds between taps as hands make them."""

    def __init__(self) -> None:
        self.now, self.chance = 1.75e9, random.Random(7)

    def __call__(self) -> float:
        self.now += self.chance.lognormvariate(1.0, 0.3)
        return self.now


def worked(pattern: Pattern, folder: Path, rounds: int, tap: Event) -> tuple[Project, list[float]]:
    """The project after so many rounds, and the seconds of each tap."""
    project = open_project(pattern, folder / "pattern.toml", folder / "data", Clock())
    taps = []
    while project.view().round_index < rounds:
        begun = perf_counter()
        project.do(tap)
        taps.append(perf_counter() - begun)
    return project, taps


def told(name: str, pattern: Pattern, rounds: int, tap: Event, times: int) -> str:
    """One line: milliseconds of a diagnosis, of a tap, and their ratio."""
    with tempfile.TemporaryDirectory() as folder:
        project, taps = worked(pattern, Path(folder), rounds, tap)
        expected = pattern.pieces[0].rounds[rounds - 1].leaves or 0
        project.do(count_of(pattern, project.state, expected - 1))
        spent = []
        for _ in range(times):
            begun = perf_counter()
            diagnose(pattern, project.state, project._newest_first(), project.learned())
            spent.append(perf_counter() - begun)
        project.close()
    ours, base = 1000 * median(spent), 1000 * median(taps)
    most = 1000 * max(spent)
    return f"{name:<52} {ours:7.1f} ms (most {most:6.1f})  a tap {base:5.2f} ms  ratio {ours / base:6.1f}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else None)
    parser.add_argument("--times", type=int, default=20)
    times = parser.parse_args().times
    small, wide = load(ROOT / "patterns" / "toadstool.toml"), loads(WIDE)
    print(told("30 stitches, tapped by repeat", small, 6, RepeatDone(), times))
    print(told("30 stitches, tapped one by one", small, 6, Stitch(), times))
    print(
        told(
            "36 stitches, joined, tapped one by one", load(ROOT / "patterns" / "lighthouse.toml"), 8, Stitch(), times
        )
    )
    print(told("120 stitches, tapped one by one", wide, 20, Stitch(), times))
    print(told("300 stitches, tapped one by one, never counted", wide, 50, Stitch(), times))


if __name__ == "__main__":
    main()
