"""How fast it is, in one table: every figure is a ratio to a baseline taken in the same run.

    python tests/bench/speed.py [--table] [--runs 5] [--only FIGURE ...] [--json FILE]

Each figure is taken five times, each time in a fresh interpreter; ours and the baseline take turns within each. The
spread of the five is the noise of the machine. What each figure is stands in speed_figures.py.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import subprocess
import sys
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from bench.speed_figures import FIGURES  # noqa: E402

GOALS = {
    "start to first paint vs a bare app": 1.2,
    "start to first paint vs one that commits": 1.1,
    "key to last byte, p50 vs one that commits": 1.3,
    "processor per key vs one that commits": 1.4,
    "total of a round of 10^9 stitches vs of 100": 1.5,
    "looking up a stitch in it vs in one of 100": 1.5,
    "memory for it vs for one of 100": 1.1,
    "tap to durable vs a bare commit": 1.5,
    "resuming after 100,000 entries vs after 10": 1.5,
    "10,000 rounds vs ten times 1,000": 1.2,
}
"""The ratio that is aimed at."""

MOST_MORE = {
    "rounds check vs bare Python": 110.0,
    "rounds place vs bare Python": 120.0,
    "rounds read vs bare Python": 120.0,
    "a key of a next round being typed vs a bare app": 30.0,
    "a key of an early line being mended vs a bare app": 30.0,
}
"""Milliseconds over the baseline that are aimed at."""

MOST = {
    "measure of 100,000 taps vs of ten": 2.0,
    "write --as-made of 100,000 taps vs of ten": 2.0,
    "the same with its table vs cutting into words": 2.0,
    "a small pattern with slips vs bare Python": 1.0,
    "bytes per key vs one that commits": 500.0,
}
"""What ours is to take at most on an ordinary machine, in the figure's unit."""


WAITED_FOR = ("screen", "commands", "check", "long_history", "slips", "typing")
"""The figures of what a maker waits for, which have goals: `--table` takes each of them once."""


def load() -> str:
    """How busy the machine is: what waits for a processor, over the last minute, beside the processors that there
    are."""
    return f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors"


def taken(figure: str) -> dict[str, tuple[float, float, str]]:
    """One figure, once."""
    program = Path(__file__).with_name("speed_figures.py")
    done = subprocess.run([sys.executable, str(program), figure], capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{figure} could not be taken:\n{done.stderr}")
    found: dict[str, tuple[float, float, str]] = json.loads(done.stdout)
    return found


def summed(runs: list[tuple[float, float, str]]) -> dict[str, object]:
    ratios = sorted(ours / baseline if baseline else float("inf") for ours, baseline, _ in runs)
    return {
        "unit": runs[0][2],
        "ours": median(ours for ours, _, _ in runs),
        "baseline": median(baseline for _, baseline, _ in runs),
        "ratio": {"min": ratios[0], "median": median(ratios), "max": ratios[-1]},
        "runs": runs,
    }


def goal(name: str, found: dict[str, object]) -> str:
    """What was aimed at, and whether it is met."""
    ours, baseline, ratio = float(found["ours"]), float(found["baseline"]), float(found["ratio"]["median"])
    if name in GOALS:
        return f"<= {GOALS[name]}x {'met' if ratio <= GOALS[name] else 'MISSED'}"
    if name in MOST_MORE:
        more = ours - baseline
        return f"<= +{MOST_MORE[name]:.0f} {'met' if more <= MOST_MORE[name] else 'MISSED'}: +{more:.0f}"
    if name in MOST:
        return f"<= {MOST[name]} {found['unit']} {'met' if ours <= MOST[name] else 'MISSED'}"
    return ""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--only", nargs="+", choices=FIGURES, default=list(FIGURES))
    parser.add_argument("--table", action="store_true", help="only what has a goal and is waited for, taken once")
    parser.add_argument("--json", type=Path, metavar="FILE")
    told = parser.parse_args()
    if told.table:
        told.runs, told.only = 1, list(WAITED_FOR)
    table: dict[str, dict[str, object]] = {}
    print(f"Python {platform.python_version()}, {load()}")
    print(f"{'':58}{'ours':>10}{'baseline':>10}{'':5}{'min':>8}{'median':>8}{'max':>8}")
    for figure in told.only:
        runs = [taken(figure) for _ in range(told.runs)]
        for name in runs[0]:
            found = table[name] = summed([tuple(run[name]) for run in runs])
            ratio = found["ratio"]
            print(
                f"{name:58}{found['ours']:10.2f}{found['baseline']:10.2f} {found['unit']:4}"
                f"{ratio['min']:8.3g}{ratio['median']:8.3g}{ratio['max']:8.3g}  {goal(name, found)}",
                flush=True,
            )
    print(f"at the end: {load()}")
    if told.json:
        told.json.write_text(json.dumps(table, indent=2), "utf-8")


if __name__ == "__main__":
    main()
