"""Scenes on a disk that refuses in earnest. A program of its own, because limits and mounts hold for a process:

    python disk_scenes.py SCENE WAY FOLDER

It prints what was seen, as JSON. WAY is how the disk is made to refuse: `limit`, the system's limit on the size of
files; `mounted`, a file system of 1 MB; `permissions`, as a user who may not write.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import urllib.parse  # noqa: F401 - pathlib asks for it late, when this user may no longer read root's Python
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parent)]

from support.project_bench import Bench, place  # noqa: E402

from tracker.journal.errors import JournalTrouble  # noqa: E402
from tracker.project.project import Project  # noqa: E402
from tracker.session.events import Note, RoundDone, Stitch, Undo  # noqa: E402

NOBODY = 65534


class Limited:
    """No file may grow beyond a size. The system cuts the write that would, as a full disk does."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def fill(self) -> None:
        sys.dont_write_bytecode = True  # a compiled file would be cut too, and taken for whole by the next start
        largest = max((path.stat().st_size for path in self._folder.rglob("*") if path.is_file()), default=0)
        resource.setrlimit(resource.RLIMIT_FSIZE, (min(largest, 1000), resource.RLIM_INFINITY))

    def free(self) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))


class Mounted:
    """A file system of its own in memory, 1 MB large, that really fills up and can be made read-only."""

    def __init__(self, folder: Path) -> None:
        self._filler = folder / "filler"
        self._folder = folder
        _mount("-t", "tmpfs", "-o", "size=1M", "tmpfs", str(folder))

    def fill(self) -> None:
        with suppress(OSError), self._filler.open("wb", buffering=0) as file:
            while file.write(bytes(512)):
                pass

    def free(self) -> None:
        self._filler.unlink()

    def lock(self) -> None:
        _mount("-o", "remount,bind,ro", str(self._folder))

    def unlock(self) -> None:
        _mount("-o", "remount,bind,rw", str(self._folder))


class Permitted:
    """A folder of a user who takes away their own right to write there. Root, who may always, becomes that user."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        if os.getuid() == 0:
            os.chown(folder, NOBODY, NOBODY)
            os.setgroups([])
            os.setgid(NOBODY)
            os.setuid(NOBODY)

    def lock(self) -> None:
        (self._folder / "data").chmod(0o555)

    def unlock(self) -> None:
        (self._folder / "data").chmod(0o755)


WAYS: dict[str, Callable[[Path], Any]] = {"limit": Limited, "mounted": Mounted, "permissions": Permitted}


def _mount(*arguments: str) -> None:
    subprocess.run(["mount", *arguments], check=True, capture_output=True)


def fills_up(bench: Bench, disk: Any) -> dict[str, Any]:
    """The disk fills up under way, and has room again."""
    project = bench.work(RoundDone(), Stitch(2))
    disk.fill()
    told = _worked(project)
    waited = project.retry()
    disk.free()
    saved = project.retry()
    project.close()
    return {"told": told, "waited": waited, "saved": saved, **_again(bench)}


def is_full(bench: Bench, disk: Any) -> dict[str, Any]:
    """The disk is full before the first start."""
    disk.fill()
    project = bench.open()
    told = _worked(project)
    disk.free()
    saved = project.retry()
    project.close()
    return {"told": told, "saved": saved, **_again(bench)}


def is_left_full(bench: Bench, disk: Any) -> dict[str, Any]:
    """The maker leaves while the disk is full: what was written before it filled up is still there."""
    project = bench.work(RoundDone(), Stitch(2))
    disk.fill()
    told = _worked(project)
    project.close()
    disk.free()
    return {"told": told, **_again(bench)}


def is_damaged_and_full(bench: Bench, disk: Any) -> dict[str, Any]:
    """There is no room to put a damaged journal aside: it must stay as it is until there is."""
    bench.work(RoundDone(), Stitch(2)).close()
    damaged = bytearray(bench.journal.read_bytes())
    damaged[:100] = bytes(100)
    bench.journal.write_bytes(damaged)
    disk.fill()
    refused = ""
    try:
        bench.open()
    except JournalTrouble as trouble:
        refused = str(trouble)
    untouched = bench.journal.read_bytes() == damaged
    left = sorted(path.name for path in bench.data.iterdir())
    disk.free()
    again = _again(bench)
    aside = [path.read_bytes() == damaged for path in bench.data.glob("journal-damaged-*")]
    return {"refused": refused, "untouched": untouched, "left": left, "aside": any(aside), **again}


def is_read_only(bench: Bench, disk: Any) -> dict[str, Any]:
    """The folder cannot be written to at the start, and can be later."""
    bench.work(RoundDone(), Stitch(2)).close()
    disk.lock()
    project = bench.open()
    found = place(project.view())
    told = _worked(project)
    disk.unlock()
    saved = project.retry()
    project.close()
    return {"found": found, "told": told, "saved": saved, **_again(bench)}


def _worked(project: Project) -> list[str]:
    """What is told while the maker goes on."""
    told = []
    for event in (Stitch(), Note("x" * 3000), Stitch(3), Undo()):
        project.do(event)
        told.append(project.trouble)
    return told


def _again(bench: Bench) -> dict[str, Any]:
    project = bench.open()
    seen = {"place": place(project.view()), "notices": project.notices, "trouble": project.trouble}
    seen["numbers"] = [each.number for each in project.history()]
    project.close()
    return seen


SCENES = {scene.__name__: scene for scene in (fills_up, is_full, is_left_full, is_damaged_and_full, is_read_only)}


def main() -> None:
    scene, way, folder = sys.argv[1:]
    disk = WAYS[way](Path(folder))
    bench = Bench(Path(folder))
    print(json.dumps(SCENES[scene](bench, disk)))
    bench.clear()


if __name__ == "__main__":
    main()
