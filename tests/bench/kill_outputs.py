"""Kill the commands that write a file, again and again: the file is whole, or as it was, and a second try works.

They run in copies of this process (forked_program.py), so that most kills fall into their own work. Each is killed
with -9 at a random moment of its run (`moment`), or by the system in the middle of the write, by a limit on the size
of files (`torn`; POSIX, setrlimit, RLIMIT_FSIZE). Half of the time there is a file already, and `--replace` is said.
What a history is taken into is the journal: all of it is there afterwards, or nothing.
"""

from __future__ import annotations

import json
import time
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout, suppress
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path
from random import Random

import pexpect
from bench.forked_program import ForkedProgram
from bench.kill_windows import PATIENCE, environment
from bench.tube import PATTERN

from tracker.cli.main import main

OLD = "what was there before\n"
PAGE = "Hat\nMaterials: 3 mm hook\nRnd 1: 7 sc in magic ring (7)\nRnd 2: inc in each st around (14)\n"

BEAD = """title = "Bead"
gauge = {stitch = "sc", stitches = 22, rounds = 24, over = "10 cm"}
piece = [{name = "Bead", rounds = "Rnd 1: 6 sc in ring (6)\\nRnd 2: inc around (12)\\nRnd 3: dec around (6)"}]
"""

COMMANDS = {
    "draw": ["draw", "tube.toml", "--round", "2", "-o", "OUT"],
    "write": ["write", "tube.toml", "-o", "OUT"],
    "write a page": ["write", "tube.toml", "--html", "-o", "OUT"],
    "write as made": ["write", "tube.toml", "--as-made", "-o", "OUT"],
    "write the history": ["write", "tube.toml", "--history", "OUT"],
    "read": ["read", "page.txt", "-o", "OUT"],
    "measure": ["measure", "bead.toml", "--fit", "4cm", "-o", "OUT"],
    "new": ["new", "--shape", "ball", "--across", "3cm", "--weight", "3", "-o", "OUT"],
    "take in a history": ["write", "tube.toml", "--history-from", "history.jsonl", "--data", "OUT"],
}
MANNERS = ("moment", "torn")


@dataclass(slots=True)
class OutputTally:
    """What was counted of one command: how its file was found after a kill."""

    kills: int = 0
    whole: int = 0
    as_before: int = 0
    ended_first: int = 0
    faults: list[str] = field(default_factory=list)


class Desk:
    """A folder with a pattern that is under way, and what each command writes when nobody kills it."""

    def __init__(self, folder: Path, dice: Random) -> None:
        self._folder, self._dice = folder, dice
        (folder / "tube.toml").write_text(PATTERN, "utf-8")
        (folder / "bead.toml").write_text(BEAD, "utf-8")
        (folder / "page.txt").write_text(PAGE, "utf-8")
        self._read_modules()
        self._run("work", "tube.toml", "--plain", typed="stitch\nround\nstitch 3\nnote so far\nquit\n")
        self._run("write", "tube.toml", "--history", "history.jsonl")
        self._whole = {name: self._made(name) for name in COMMANDS}

    def kill_once(self, name: str, manner: str, tally: OutputTally) -> None:
        """One run that is killed, a look at what is left, and a second try."""
        target = self._fresh_target(name)
        text, seconds = self._whole[name]
        is_there = self._dice.random() < 0.5 and name != "take in a history"
        if is_there:
            target.write_text(OLD, "utf-8")
        words = [*self._words(name, target), *["--replace"] * is_there]
        limit = self._dice.randrange(1, max(2, len(text.encode()))) if manner == "torn" else None
        tally.kills += 1
        tally.ended_first += self._killed(words, seconds, limit)
        found = self._read(name, target)
        if found == text:
            tally.whole += 1
        elif found == (OLD if is_there else None):
            tally.as_before += 1
        else:
            tally.faults.append(f"{name}, {manner}: {found!r:.200}")
        if found != text:
            self._run(*words)
            if self._read(name, target) != text:
                tally.faults.append(f"{name}, {manner}: the second try wrote something else")

    def _read_modules(self) -> None:
        """Each command once in this process, so that the copies of it have its modules."""
        data = str(self._folder / "read")
        for name in COMMANDS:
            with redirect_stdout(StringIO()), redirect_stderr(StringIO()), suppress(SystemExit):
                words = {"OUT": str(self._folder / f"read-{name.replace(' ', '-')}")}
                for file in ("tube.toml", "bead.toml", "page.txt", "history.jsonl"):
                    words[file] = str(self._folder / file)
                given = [words.get(word, word) for word in COMMANDS[name]]
                main([*given, "--data", data] if "--data" not in given else given)

    def _made(self, name: str) -> tuple[str, float]:
        """What the command writes, and how long it takes."""
        target = self._fresh_target(name)
        began = time.perf_counter()
        self._run(*self._words(name, target))
        text = self._read(name, target)
        assert text, name
        return text, time.perf_counter() - began

    def _fresh_target(self, name: str) -> Path:
        target = self._folder / f"out-{self._dice.getrandbits(48)}"
        if name == "take in a history":
            target.mkdir()
        return target

    def _words(self, name: str, target: Path) -> list[str]:
        return [target.name if word == "OUT" else word for word in COMMANDS[name]]

    def _read(self, name: str, target: Path) -> str | None:
        """What stands in the file; of a history that was taken in, the place that it leads to."""
        if name != "take in a history":
            return target.read_text("utf-8") if target.exists() else None
        place = json.loads(self._run("place", "tube.toml", "--json", "--data", target.name))
        return f"round {place['round']}, stitch {place['stitch']}" if place["stitch"] or place["round"] > 1 else None

    def _killed(self, words: Sequence[str], seconds: float, limit: int | None) -> bool:
        """Whether it came to its end before."""
        it = ForkedProgram(words, environment(self._folder / "data"), self._folder, limit=limit)
        end = time.monotonic() + (self._dice.uniform(0, 1.05) * seconds if limit is None else PATIENCE)
        try:
            while (left := end - time.monotonic()) > 0:
                it.read_nonblocking(1 << 16, left)
        except pexpect.TIMEOUT:
            pass
        except pexpect.EOF:
            return it.wait() >= 0
        finally:
            it.close()
        return False

    def _run(self, *words: str, typed: str = "") -> str:
        it = ForkedProgram(words, environment(self._folder / "data"), self._folder)
        it.send(typed)
        told = b""
        try:
            while True:
                told += it.read_nonblocking(1 << 16, PATIENCE)
        except pexpect.EOF:
            return told.decode()
        finally:
            it.close()


def kill_outputs(kills: int, folder: Path, seed: int) -> dict[str, OutputTally]:
    """So many kills, of all commands and by both manners in turn."""
    desk = Desk(folder, Random(seed))
    tallies = {name: OutputTally() for name in COMMANDS}
    for number in range(kills):
        name = list(COMMANDS)[number % len(COMMANDS)]
        desk.kill_once(name, MANNERS[number // len(COMMANDS) % len(MANNERS)], tallies[name])
    return tallies
