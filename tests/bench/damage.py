"""Damage a data folder at every position: it opens with the last place, or with an earlier one and says so.

    python tests/bench/damage.py [--every 1] [--log-every 1] [--pairs 200] [--json FILE]

One bit of each byte of the journal and of its log is flipped, and each is cut at each length; `--every 8` takes every
eighth position. In the tests of the journal only some positions are tried. Every other file of the folder is flipped
and cut at every position, emptied, removed, filled with noise or zeros, or a folder stands in its place. Last, two
files are damaged at once, wherever that is.
"""

from __future__ import annotations

import argparse
import json
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from support.project_bench import Bench  # noqa: E402

from tracker.journal.errors import JournalTrouble  # noqa: E402
from tracker.journal.pattern_files import PAGE, SHELF, keep_page, page_kept, shelf, stand  # noqa: E402
from tracker.project.project import open_project  # noqa: E402
from tracker.session.events import Note, RoundDone, Stitch  # noqa: E402
from tracker.session.state import Work  # noqa: E402

SCRIPT = (RoundDone(), RoundDone(), Stitch(3), Note("hello there"), Stitch(3))
JOURNAL, LOG = "journal.sqlite3", "journal.sqlite3-wal"
LAST_COMMIT = 3 * (4096 + 24)
"""Bytes at the end of the log that may belong to a commit of which nobody knows whether it was acknowledged."""

GOOD = (
    "the last place, silent",
    "the last place, told",
    "an earlier place, told",
    "as it was",
    "there is none",
    "told and kept aside",
)
EARLIER = "an earlier place, silent"
NOT_ACKNOWLEDGED = "the place before the last commit, silent"


NOTHING: Mapping[str, bytes | None] = {}
FOLDER = "in the data folder is a folder; move it away"
MISSING = "missing from the journal"
"""Told by the mark beside the journal; what the log has up to there is in the journal then."""
GONE = b"no file"
"""Instead of a content: there is none."""


class Left:
    """A data folder as it was left, closed in order or broken off, with the places that were shown on the way."""

    def __init__(self, folder: Path, name: str, closed: bool) -> None:
        folder.mkdir()
        self._bench = Bench(folder)
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
        self.name = str(next(self._left.glob(name)).relative_to(self._left))
        self.content = (self._left / self.name).read_bytes()

    def others(self) -> list[str]:
        """Every other file of the folder."""
        names = (str(path.relative_to(self._left)) for path in self._left.rglob("*") if path.is_file())
        return sorted(name for name in names if name not in (JOURNAL, LOG))

    def judged(self, content: bytes | None, also: Mapping[str, bytes | None] = NOTHING) -> str:
        """What comes of opening it with that content; None: with a folder of that name."""
        shutil.copytree(self._left, self._trial)
        for name, damaged in {self.name: content, **also}.items():
            path = self._trial / name
            path.unlink()
            if damaged is None:
                path.mkdir()
            elif damaged != GONE:
                path.write_bytes(damaged)
        try:
            return self._opened(content)
        finally:
            shutil.rmtree(self._trial)

    def _opened(self, content: bytes | None) -> str:
        project = open_project(self._bench.pattern, self._bench.file, self._trial, self._bench.clock)
        try:
            told, kept = bool(project.notices), self._is_kept(content)
            place = self._placed(project.state.work)
            if project.trouble or project.changed is not None:
                return f"{'in memory, told' if FOLDER in project.trouble else 'TROUBLE'}: {project.trouble}"
            is_saved = any(MISSING not in notice for notice in project.notices)
        finally:
            project.close()
        if is_saved and content and not kept and self.name in (JOURNAL, LOG):
            return "WRITTEN OVER"
        return f"{place}, {'told' if told else 'silent'}"

    def _placed(self, work: Work) -> str:
        if work not in self._places:
            return "WRONG PLACE"
        return "the last place" if work == self._places[-1] else "an earlier place"

    def _is_kept(self, content: bytes | None) -> bool:
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


MOST = 500
"""Positions of a file that is not the journal; one is all zeros and made anew at each start."""


def of_all_sorts(content: bytes) -> Iterator[tuple[int, bytes | None]]:
    """Each as a whole, numbered from below 0, then at every position."""
    noise = Random(1).randbytes(max(100, len(content)))
    yield from enumerate((None, GONE, b"", noise, bytes(len(content))), -5)
    yield from flipped(content, 1 + len(content) // MOST)
    yield from cut(content, 1 + len(content) // MOST)


def at_once(left: Left, names: Sequence[str], count: int) -> dict[str, list[int]]:
    """The journal or its log, and another file, each damaged somehow."""
    dice = Random(2)
    found: dict[str, list[int]] = {}
    for number in range(count):
        content, name = bytearray(left.content), dice.choice(names)
        content[dice.randrange(len(content))] ^= 1 << dice.randrange(8)
        other = dice.choice((None, GONE, b"", dice.randbytes(80)))
        try:
            end = left.judged(
                bytes(content[: dice.choice((len(content), dice.randrange(len(content))))]), {name: other}
            )
        except JournalTrouble as trouble:
            end = f"in memory, told: {trouble}"
        except Exception as problem:  # whatever it is, it is the finding
            end = f"{type(problem).__name__}: {problem}"
        found.setdefault(end, []).append(number)
    return found


def judged(left: Left, damages: Iterator[tuple[int, bytes | None]]) -> dict[str, list[int]]:
    """The positions that came to each end."""
    found: dict[str, list[int]] = {}
    for position, content in damages:
        try:
            end = left.judged(content)
        except JournalTrouble as trouble:
            end = f"in memory, told: {trouble}"
        except Exception as problem:  # whatever it is, it is the finding
            end = f"{type(problem).__name__}: {problem}"
        if end == EARLIER and left.name == LOG and position >= len(left.content) - LAST_COMMIT:
            end = NOT_ACKNOWLEDGED
        found.setdefault(end, []).append(position)
    return found


def lists(folder: Path) -> Iterator[tuple[str, dict[str, list[int]]]]:
    """The files that are no part of the journal: what lies on the shelf, and a page that is being looked through."""
    folder.mkdir()
    stand(folder, "/knits/hat.toml|Hat", "resting")
    stand(folder, "/knits/bean.toml|Bean", "off")
    keep_page(folder, {"text": "Hat\nRnd 1: 6 sc in magic ring (6)", "mends": {"3": "Rnd 2: 6 sc"}, "size": 1})
    for name, read in ((SHELF, shelf), (PAGE, page_kept)):
        file, found = folder / name, {}
        sound, held = file.read_bytes(), read(folder)
        for position, content in of_all_sorts(sound):
            file.unlink(missing_ok=True)
            if content is None:
                file.mkdir()
            elif content != GONE:
                file.write_bytes(content)
            content_read, told = read(folder)
            if content is None:
                file.rmdir()
            aside = list(folder.glob("*-damaged-*"))
            kept = content is None or [path.read_bytes() for path in aside] == [content]
            end = "WRONG, silent" if not told and content != GONE else "told and kept aside" if kept else "NOT KEPT"
            end = "as it was" if (content_read, told) == held else "there is none" if content == GONE else end
            found.setdefault(end, []).append(position)
            for path in aside:
                path.unlink()
        yield name, found


def is_good(end: str) -> bool:
    """Whether this may come of damage."""
    return end in (*GOOD, NOT_ACKNOWLEDGED) or end.startswith("in memory, told")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--log-every", type=int, default=1)
    parser.add_argument("--pairs", type=int, default=200, help="how often two files are damaged at once")
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
        for place, is_closed in (("closed", True), ("broken off", False)):
            names = (closed if is_closed else broken).others()
            for name in names:
                ending = f"*/*{Path(name).suffix}" if "/" in name else name  # those are called by where they lie
                other = Left(Path(folder) / f"{place}-{Path(name).name}", ending, is_closed)
                trials[f"{place}, {ending}"] = other, of_all_sorts(other.content)
        found = {name: judged(left, damages) for name, (left, damages) in trials.items()}
        for name, left in (("two, closed", closed), ("two, broken off", broken)):
            found[name] = at_once(left, left.others(), told.pairs)
        found |= lists(Path(folder) / "lists")
    for name, ends in found.items():
        print(f"{name}: {sum(map(len, ends.values()))} positions")
        for end, positions in ends.items():
            print(f"  {len(positions):7}  {end}  (first at {positions[0]})")
    print(f"{time.perf_counter() - began:.0f} s")
    if told.json:
        told.json.write_text(json.dumps({n: Counter({e: len(p) for e, p in v.items()}) for n, v in found.items()}))
    return int(not all(is_good(end) for ends in found.values() for end in ends))


if __name__ == "__main__":
    sys.exit(main())
