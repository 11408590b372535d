"""Killed with -9 at any moment, the next start is at the last place that was shown."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest
from support.project_bench import Bench

HERE = Path(__file__).parent

WORKER = """
import sys
from pathlib import Path
sys.path[:0] = sys.argv[1:3]
from support.project_bench import Bench
from tracker.session.events import Frog, Note, Stitch, Undo
bench = Bench(Path(sys.argv[3]))
project = bench.open()
number = 0
while True:
    number += 1
    event = Undo() if number % 5 == 0 else Note("x" * 900) if number % 7 == 0 else Stitch()
    if project.state.work.place.round_index == 2:
        event = Frog(0)
    project.do(event)
    place = project.state.work.place
    print(project._number, place.round_index, place.moves, flush=True)
"""


@pytest.mark.parametrize("seed", range(6))
def test_no_shown_place_is_lost_to_a_kill(bench: Bench, seed: int) -> None:
    """Three kills one after another, each after a random number of taps that were shown. At most the tap that was
    under way, and not yet shown, may be there besides."""
    dice = random.Random(seed)
    shown = 0
    for _ in range(3):
        shown = killed_after(bench, dice.randrange(1, 60))
        project = bench.open()
        assert project.notices == () and project.trouble == ""
        number = project._number - 1
        assert number in (shown, shown + 1), "an acknowledged tap was lost"
        bench.break_off(project)
    assert shown > 3


def killed_after(bench: Bench, taps: int) -> int:
    """The number of the last entry that the worker showed before it was killed; its place is checked on the way."""
    command = [sys.executable, "-c", WORKER, str(HERE.parents[1]), str(HERE.parent), str(bench.folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as worker:
        assert worker.stdout is not None
        lines = [worker.stdout.readline() for _ in range(taps)]
        worker.kill()
        lines += [line for line in worker.stdout.read().splitlines(keepends=True) if line.endswith("\n")]
        worker.wait()
    number, *place = map(int, lines[-1].split())
    project = bench.open(to_work=False)
    if project._number == number:
        reached = project.state.work.place
        assert [reached.round_index, reached.moves] == place
    return number
