"""Damage a small journal at every position: it opens with the last place, or with an earlier one and says so.

    python tests/bench/damage.py [--every 1] [--log-every 1] [--json FILE]

One bit of each byte of the journal and of its log is flipped, and each is cut at each length; `--every 8` takes every
eighth position. In the tests of the journal only some positions are tried. A log that is cut looks like one that was
never longer, so the last place that is left in it is all that can be asked for.
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from support.project_bench import Bench  # noqa: E402

from tracker.project.project import open_project  # noqa: E402
from tracker.session.events import Note, RoundDone, Stitch  # noqa: E402
from tracker.session.state import Work  # noqa: E402

SCRIPT = (RoundDone(), RoundDone(), Stitch(3), Note("hello there"), Stitch(3))
JOURNAL, LOG = "journal.sqlite3", "journal.sqlite3-wal"
LAST_COMMIT = 3 * (4096 + 24)
"""Bytes at the end of the log that may belong to a commit of which nobody knows whether it was acknowledged."""

GOOD = ("the last place, silent", "the last place, told", "an earlier place, told")
EARLIER = "an earlier place, silent"
NOT_ACKNOWLEDGED = "the place before the last commit, silent"


class Left:
    """A data folder as it was left, closed in order or broken off, with the places that were shown on the way."""

    def __init__(self, folder: Path, name: str, closed: bool) -> None:
        folder.mkdir()
        self._bench = Bench(folder)
        self.name = name
        project = self._bench.open()
        self._places = [project.state.work]
        for event in SCRIPT:
            project.do(event)
            self._places.append(project.state.work)
        if closed:
            project.close()
        self._left, self._trial = folder / "left", folder / "trial"
        shutil.copytree(self._bench.data, self._left)
        self._bench.break_off(project)
        self.content = (self._left / name).read_bytes()

    def judged(self, content: bytes) -> str:
        """What comes of opening it with that content."""
        shutil.copytree(self._left, self._trial)
        (self._trial / self.name).write_bytes(content)
        try:
            return self._opened(content)
        finally:
            shutil.rmtree(self._trial)

    def _opened(self, content: bytes) -> str:
        project = open_project(self._bench.pattern, self._bench.file, self._trial, self._bench.clock)
        try:
            told, kept = bool(project.notices), self._is_kept(content)
            place = self._placed(project.state.work)
            if project.trouble or project.changed is not None:
                return f"TROUBLE: {project.trouble}"
        finally:
            project.close()
        if told and content and not kept:
            return "WRITTEN OVER"
        return f"{place}, {'told' if told else 'silent'}"

    def _placed(self, work: Work) -> str:
        if work not in self._places:
            return "WRONG PLACE"
        return "the last place" if work == self._places[-1] else "an earlier place"

    def _is_kept(self, content: bytes) -> bool:
        """Whether what was found is kept aside as it was."""
        suffix = self.name.removeprefix("journal")
        return any(path.read_bytes() == content for path in self._trial.glob(f"journal-*{suffix}"))


def flipped(content: bytes, every: int) -> Iterator[tuple[int, bytes]]:
    for position in range(0, len(content), every):
        changed = bytearray(content)
        changed[position] ^= 1 << (position // every % 8)
        yield position, bytes(changed)


def cut(content: bytes, every: int) -> Iterator[tuple[int, bytes]]:
    return ((length, content[:length]) for length in range(0, len(content), every))


def judged(left: Left, damages: Iterator[tuple[int, bytes]]) -> dict[str, list[int]]:
    """The positions that came to each end."""
    found: dict[str, list[int]] = {}
    for position, content in damages:
        try:
            end = left.judged(content)
        except Exception as problem:  # whatever it is, it is the finding
            end = f"{type(problem).__name__}: {problem}"
        if end == EARLIER and left.name == LOG and position >= len(left.content) - LAST_COMMIT:
            end = NOT_ACKNOWLEDGED
        found.setdefault(end, []).append(position)
    return found


def is_good(damage: str, end: str) -> bool:
    """Whether this may come of that damage."""
    return end in (*GOOD, NOT_ACKNOWLEDGED) or (damage, end) == ("log, cut", EARLIER)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--log-every", type=int, default=1)
    parser.add_argument("--json", type=Path, metavar="FILE")
    told = parser.parse_args()
    memory = Path("/dev/shm")
    began = time.perf_counter()
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        closed, broken = Left(Path(folder) / "a", JOURNAL, True), Left(Path(folder) / "b", LOG, False)
        trials = {
            "journal, flipped": (closed, flipped(closed.content, told.every)),
            "journal, cut": (closed, cut(closed.content, told.every)),
            "log, flipped": (broken, flipped(broken.content, told.log_every)),
            "log, cut": (broken, cut(broken.content, told.log_every)),
        }
        found = {name: judged(left, damages) for name, (left, damages) in trials.items()}
    for name, ends in found.items():
        print(f"{name}: {sum(map(len, ends.values()))} positions")
        for end, positions in ends.items():
            print(f"  {len(positions):7}  {end}  (first at {positions[0]})")
    print(f"{time.perf_counter() - began:.0f} s")
    if told.json:
        told.json.write_text(json.dumps({n: Counter({e: len(p) for e, p in v.items()}) for n, v in found.items()}))
    return int(not all(is_good(name, end) for name, ends in found.items() for end in ends))


if __name__ == "__main__":
    sys.exit(main())
