"""Kill the real program again and again: no tap that was shown may be lost, no place may be wrong.

    python tests/bench/kills.py [--kills 1000] [--screen 100] [--outputs 0] [--forked] [--seed 1] [--json FILE]

It is started in a pseudo-terminal, by typed lines mostly and on its screen for the rest, tapped at random, and killed

    shown     with -9, at rest, after everything was shown
    tapped    with -9, so many random microseconds after a tap, while that is written and shown
    burst     with -9, at a random moment while several taps are written one after another
    starting  with -9, at a random moment of a start
    torn      by the system at a random byte of a write: a limit on the size of files cuts a write there

Then it is started again. The place that it shows must be where the taps lead by sums alone (tube.py), and all taps
whose effect had been shown must be in the journal; of those in flight, any first part may be there too.
With `--forked` the program that hears typed lines is a copy of this process (forked_program.py), and no Python is
started for it. With `--outputs` so many more kills are of the commands that write a file (kill_outputs.py).
"""

from __future__ import annotations

import argparse
import json
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from bench.kill_outputs import kill_outputs  # noqa: E402
from bench.kill_windows import FORKED, MORTAL, PROGRAM, PlainWindow, ScreenWindow, Window, WrongPlace  # noqa: E402
from bench.tube import NEVER_ASK, PATTERN, Place, Tap, Tube  # noqa: E402

LIFE = 50
"""Kills of one project; then a new data folder is begun."""

MANNERS = ("shown", "tapped", "burst", "starting") + (("torn",) if sys.platform == "linux" else ())

FRAMES = 3 * 4120
"""Bytes that a tap adds to the log at most, about: pages of 4,096 bytes with a head of 24."""


@dataclass(slots=True)
class Tally:
    """What was counted in one manner of killing."""

    kills: int = 0
    taps_shown: int = 0
    taps_in_flight: int = 0
    kept_of_these: int = 0
    lost: int = 0
    wrong_places: int = 0
    false_alarms: int = 0
    faults: list[str] = field(default_factory=list)


class Maker:
    """One project that is killed again and again. Each start is also the look at what the kill before left."""

    def __init__(self, folder: Path, dice: Random, on_screen: bool, forked: bool = False) -> None:
        self.pattern, self.data = folder / "tube.toml", folder / "data"
        self.pattern.write_text(PATTERN, "utf-8")
        self._dice = dice
        self._on_screen, self._forked = on_screen, forked
        self._start_seconds, self._tap_seconds = 0.5, 0.005
        self._left: tuple[Tally, list[Tap], list[Tap]] | None = None
        """Where the kill before is counted, the taps that had been shown then, and those that were in flight."""
        self.tube = Tube()
        """What is kept for certain."""
        if on_screen:
            self._begin_by_words()

    def kill_once(self, manner: str, tally: Tally) -> None:
        """Start, look, tap, die."""
        tally.kills += 1
        try:
            if manner == "starting":
                self._kill_a_start()
                self._left = self._left or (tally, [], [])
                return
            window = self._opened(MORTAL if manner == "torn" else PROGRAM)
            try:
                self._look(window)
                shown, flying = self._tapped_and_killed(window, manner)
            finally:
                window.end()
            tally.taps_shown += len(shown)
            tally.taps_in_flight += len(flying)
            self._left = tally, shown, flying
        except WrongPlace as wrong:
            self._went_wrong(self._left[0] if self._left else tally, f"{manner}: {wrong}")

    def look_once_more(self) -> None:
        """See what the last kill left."""
        window = self._opened(PROGRAM)
        try:
            self._look(window)
        except WrongPlace as wrong:
            if self._left:
                self._went_wrong(self._left[0], str(wrong))
        finally:
            window.end()

    def _look(self, window: Window) -> None:
        """Hold what is shown first, and what is kept, against what was shown before the kill."""
        began = time.perf_counter()
        place = window.greeted()
        self._start_seconds = time.perf_counter() - began
        if self._left is None:
            return
        tally, shown, flying = self._left
        kept = taps_kept(self.data) - self.tube.taps
        if kept < len(shown):
            tally.lost += len(shown) - kept
            raise WrongPlace(f"{len(shown)} taps were shown, {kept} are kept")
        for tap in [*shown, *flying][:kept]:
            self.tube.do(tap)
        tally.kept_of_these += kept - len(shown)
        tally.false_alarms += any("damage" in line for line in getattr(window, "heard", ()))
        if place != self.tube.place or kept > len(shown) + len(flying):
            tally.wrong_places += 1
            raise WrongPlace(f"{place} was shown after the start, the {kept} taps kept lead to {self.tube.place}")
        self._left = None

    def _went_wrong(self, tally: Tally, told: str) -> None:
        """Go on with a new project, so that one fault is counted once."""
        tally.faults.append(told)
        self.data = self.data.with_name(f"{self.data.name}-again")
        self.tube, self._left = Tube(), None
        if self._on_screen:
            self._begin_by_words()

    def _opened(self, program: Sequence[str]) -> Window:
        if self._on_screen:
            return ScreenWindow(self.pattern, self.data, program)
        return PlainWindow(self.pattern, self.data, (FORKED, *program) if self._forked else program)

    def _kill_a_start(self) -> None:
        window = self._opened(PROGRAM)
        _pass(self._dice.uniform(0.0 if self._forked else 0.5, 1.05) * self._start_seconds)
        window.end()

    def _tapped_and_killed(self, window: Window, manner: str) -> tuple[list[Tap], list[Tap]]:
        """The taps that were shown before the end, and those that were not."""
        tube, done = self.tube.copy(), []
        for _ in range(self._dice.randint(1, 4)):
            done.append(self._any(tube))
            self._tap_seconds = _seconds_of(window, done[-1], tube.do(done[-1]))
        if manner == "shown":
            _pass(self._dice.uniform(0, 0.003))
            window.end()
            return done, []
        flying = [self._any(tube)] if manner == "tapped" else self._many()
        places = _places(tube, flying)
        if manner == "torn":
            self._limit(window)
            window.send(flying)
            answered = window.shows(places)
        else:
            window.send(flying)
            _pass(self._dice.uniform(0, 0.8 * self._tap_seconds * len(flying)))
            window.end()
            answered = window.shown(places)
        return [*done, *flying[:answered]], flying[answered:]

    def _any(self, tube: Tube) -> Tap:
        return tube.any_key(self._dice) if self._on_screen else tube.any_tap(self._dice)

    def _many(self) -> list[Tap]:
        return [Tube.forward(self._dice) for _ in range(self._dice.randint(3, 12))]

    def _limit(self, window: Window) -> None:
        """Let the file system end it at a random byte of one of the next writes."""
        import resource

        log = self.data / "journal.sqlite3-wal"
        limit = log.stat().st_size + self._dice.randint(0, FRAMES)
        resource.prlimit(window.pid, resource.RLIMIT_FSIZE, (limit, limit))

    def _begin_by_words(self) -> None:
        """A project that was begun and never asks for a count, so that the screen always shows the place."""
        window = PlainWindow(self.pattern, self.data)
        window.greeted()
        window.send([NEVER_ASK])
        window.shows([self.tube.do(NEVER_ASK)])
        self.tube.settle()
        window.end()


def _seconds_of(window: Window, tap: Tap, place: Place) -> float:
    """How long a tap takes until it is shown."""
    began = time.perf_counter()
    window.send([tap])
    if window.shows([place]) != 1:
        raise WrongPlace("it ended by itself")
    return time.perf_counter() - began


def _places(tube: Tube, taps: Sequence[Tap]) -> list[Place]:
    after = tube.copy()
    return [after.do(tap) for tap in taps]


def _pass(seconds: float) -> None:
    """Let time pass, to the microsecond."""
    end = time.perf_counter() + seconds
    time.sleep(max(seconds - 0.001, 0))
    while time.perf_counter() < end:
        pass


def taps_kept(data: Path) -> int:
    """How many taps the journal holds, looked at from outside while the program has it open."""
    with closing(sqlite3.connect(f"{(data / 'journal.sqlite3').as_uri()}?mode=ro", uri=True, timeout=10)) as found:
        bodies = [json.loads(body) for (body,) in found.execute("SELECT body FROM entry")]
    return sum(body["did"] not in ("opened", "closed") for body in bodies)


def kill(
    kills: int, on_screen: bool, seed: int, told: Callable[[str], None] = lambda _: None, forked: bool = False
) -> dict[str, Tally]:
    """So many kills, by all manners in turn."""
    dice = Random(seed)
    tallies = {manner: Tally() for manner in MANNERS}
    for begun in range(0, kills, LIFE):
        with tempfile.TemporaryDirectory() as folder:
            maker = Maker(Path(folder), dice, on_screen, forked)
            for number in range(begun, min(begun + LIFE, kills)):
                manner = MANNERS[number % len(MANNERS)]
                maker.kill_once(manner, tallies[manner])
            maker.look_once_more()
        told(f"{min(begun + LIFE, kills)} kills {'on the screen' if on_screen else 'by typed lines'}")
    return tallies


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=1000, help="how many in all")
    parser.add_argument("--screen", type=int, default=100, help="how many of them on the screen")
    parser.add_argument("--outputs", type=int, default=0, help="besides, so many of commands that write a file")
    parser.add_argument("--forked", action="store_true", help="typed lines: do not start Python for each")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--json", type=Path, metavar="FILE")
    told = parser.parse_args()
    began = time.perf_counter()
    found = {
        "typed lines": kill(told.kills - told.screen, False, told.seed, _log, told.forked),
        "screen": kill(told.screen, True, told.seed, _log),
    }
    with tempfile.TemporaryDirectory() as folder:
        outputs = kill_outputs(told.outputs, Path(folder), told.seed) if told.outputs else {}
    rows = {f"{way}, {manner}": tally for way, tallies in found.items() for manner, tally in tallies.items()}
    _print(rows)
    for name, each in outputs.items():
        print(
            f"{name:24}{each.kills:5} kills, {each.whole} whole, {each.as_before} as before,",
            f"{each.ended_first} ended first",
            *each.faults,
        )
    print(f"{time.perf_counter() - began:.0f} s")
    if told.json:
        told.json.write_text(json.dumps({name: _plain(tally) for name, tally in rows.items()}, indent=2), "utf-8")
    return int(any(tally.faults for tally in (*rows.values(), *outputs.values())))


def _log(text: str) -> None:
    print(text, file=sys.stderr, flush=True)


COLUMNS = ("kills", "taps_shown", "taps_in_flight", "kept_of_these", "lost", "wrong_places", "false_alarms")


def _plain(tally: Tally) -> dict[str, object]:
    return {name: getattr(tally, name) for name in (*COLUMNS, "faults")}


def _print(rows: dict[str, Tally]) -> None:
    print(f"{'':24}" + "".join(f"{name.replace('_', ' '):>16}" for name in COLUMNS))
    whole: Counter[str] = Counter()
    for name, tally in rows.items():
        print(f"{name:24}" + "".join(f"{getattr(tally, column):16}" for column in COLUMNS))
        whole.update({column: getattr(tally, column) for column in COLUMNS})
    print(f"{'all':24}" + "".join(f"{whole[column]:16}" for column in COLUMNS))
    for tally in rows.values():
        for fault in tally.faults:
            print(f"  {fault}")


if __name__ == "__main__":
    sys.exit(main())
