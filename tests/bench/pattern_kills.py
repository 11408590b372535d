"""Kill the real program while a pattern is mended, pasted and written: nothing that was confirmed and shown is lost.

    python tests/bench/pattern_kills.py [--kills 210] [--seed 1] [--json FILE]

In a pseudo-terminal a line is mended, a pasted page is put right and kept, or a round is written; what is shown
counts as confirmed. Then one more of these is begun, and the program is killed with -9 at a random moment of it:
while it is typed, while it is committed, while it is painted. What lies on the disk is then looked at from outside:
all that was shown is there, of the last one either all or nothing, and every file can be read.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from support.terminal_driver import Terminal  # noqa: E402

from tracker.journal.pattern_files import own_folder, page_kept  # noqa: E402
from tracker.pattern.loader import load  # noqa: E402
from tracker.project.project import Project, open_project  # noqa: E402
from tracker.session.events import AskChosen  # noqa: E402

LIFE = 10
"""Kills of one data folder; then a new one is begun."""

START = """title = "Ring"
for = "adult"
stage = "draft"
[[piece]]
name = "Ring"
rounds = "Rnd 1: 6 sc in magic ring (6)"
"""

PAGE = """Pebble
For an adult. US terms.

Top
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
"""

MENDED = "Rnd 3: (1 sc, inc) x 6 (18)"
CLEAR = "\x15"


@dataclass(slots=True)
class Tally:
    """What was counted in one manner of work."""

    kills: int = 0
    confirmed: int = 0
    kept_in_flight: int = 0
    lost: int = 0
    faults: list[str] = field(default_factory=list)


class Maker:
    """One data folder that is worked in and killed again and again."""

    def __init__(self, folder: Path, dice: Random) -> None:
        self.data, self._dice = folder, dice
        self.path = own_folder(folder) / "ring.toml"
        self.path.parent.mkdir(parents=True)
        self.path.write_text(START, "utf-8")
        begun = open_project(load(self.path), self.path, self.data, time.time)
        begun.do(AskChosen("never", 1))
        begun.close()
        self._seconds = 0.5
        self._number = 0

    def _fresh(self) -> int:
        self._number += 1
        return self._number

    def _kill_within(self, terminal: Terminal, begin: Callable[[], None]) -> None:
        """Begin something, and kill the program at a random moment before it is done."""
        begin()
        end = time.perf_counter() + self._dice.uniform(0, 1.2) * self._seconds
        while time.perf_counter() < end:
            terminal.read(0.001)
        terminal.kill()

    def _timed(self, terminal: Terminal, begin: Callable[[], None], shown: str) -> None:
        began = time.perf_counter()
        begin()
        terminal.wait_for(shown)
        self._seconds = time.perf_counter() - began

    def project(self) -> Project:
        """What lies on the disk, looked at from outside."""
        found = open_project(load(self.path), self.path, self.data, time.time, to_work=False)
        found.close()
        return found

    # The three manners: each does some of its work, is killed in the next, and tells what was wrong on the disk.

    def mend(self, tally: Tally) -> None:
        """A line is mended anew each time, with another number of stitches."""
        said = [f"Rnd 1: {2 + self._fresh()} sc in magic ring" for _ in range(self._dice.randint(2, 4))]
        with Terminal("work", str(self.path), data=self.data) as terminal:
            terminal.wait_for("Rnd 1", "of ")
            for line in said[:-1]:
                self._timed(terminal, lambda line=line: terminal.type(f"me{CLEAR}{line}\r"), line)
                terminal.wait_for("undo takes it back")
            self._kill_within(terminal, lambda: terminal.type(f"me{CLEAR}{said[-1]}\r"))
        tally.confirmed += len(said) - 1
        kept = [own.text for own in self.project().state.work.corrections]
        self._judge(tally, kept, [said[-2:-1], said[-1:]])

    def write(self, tally: Tally) -> None:
        """Rounds are written behind the others."""
        before = len(load(self.path).pieces[0].rounds)
        count = self._dice.randint(2, 4)
        with Terminal("work", str(self.path), data=self.data, lines=40) as terminal:
            terminal.wait_for("Rnd 1", "of ")
            terminal.type("j")
            for number in range(before + 1, before + count):
                terminal.wait_for(f"Rnd {number}\n")
                self._timed(terminal, lambda: terminal.type("sc around\rj"), f"Rnd {number}: sc around (")
            self._kill_within(terminal, lambda: terminal.type("sc around\r"))
        tally.confirmed += count - 1
        project = self.project()
        is_told = project.changed is not None and not project.changed.only_adds
        rounds = len(load(self.path).pieces[0].rounds)
        self._judge(tally, ["changed"] if is_told else rounds, [before + count - 1, before + count])

    def paste(self, tally: Tally) -> None:
        """A page is pasted, mended, and called otherwise again and again; at the end it is kept, sometimes."""
        for old in own_folder(self.data).glob("p*.toml"):
            old.unlink()
        names = [f"Pebble {self._fresh()}" for _ in range(self._dice.randint(2, 4))]
        keeps = self._dice.random() < 0.4
        with Terminal(data=self.data, columns=100, lines=40) as terminal:
            terminal.wait_for("just count")
            if page_kept(self.data)[0]:
                terminal.type("v")
                terminal.wait_for("was here when the program ended")
                terminal.type("q")
                terminal.wait_for("just count")
            terminal.paste(PAGE)
            terminal.wait_for("in doubt")
            self._timed(terminal, lambda: terminal.type("d1"), f"mended: {MENDED}")
            for name in names[:-1]:
                self._timed(terminal, lambda name=name: terminal.type(f"t{CLEAR}{name}\r"), f"{name}\n")
            self._kill_within(terminal, lambda: terminal.type("\r" if keeps else f"t{CLEAR}{names[-1]}\r"))
        tally.confirmed += len(names)
        page, _ = page_kept(self.data)
        if page:
            found = (page["title"], MENDED in page["mends"].values())
        else:
            self_kept = next(own_folder(self.data).glob("p*.toml"), None)
            found = ("", False) if self_kept is None else self._kept_page(self_kept)
        self._judge(tally, found, [(names[-2], True), (names[-1], True)])

    def _kept_page(self, path: Path) -> tuple[str, bool]:
        project = open_project(load(path), path, self.data, time.time, to_work=False)
        project.close()
        return project.pattern.title, any(own.text == MENDED for own in project.state.work.corrections)

    @staticmethod
    def _judge(tally: Tally, found: object, allowed: list[object]) -> None:
        tally.kills += 1
        if found not in allowed:
            tally.lost += 1
            tally.faults.append(f"{found} is kept, and {allowed[0]} was shown")
        tally.kept_in_flight += found == allowed[1]


def kill(kills: int, seed: int) -> dict[str, Tally]:
    """So many kills, in the three manners by turns."""
    dice = Random(seed)
    tallies = {"mending": Tally(), "writing": Tally(), "pasting": Tally()}
    for begun in range(0, kills, LIFE):
        with tempfile.TemporaryDirectory() as folder:
            maker = Maker(Path(folder), dice)
            does = {"mending": maker.mend, "writing": maker.write, "pasting": maker.paste}
            name = list(does)[begun // LIFE % len(does)]
            for _ in range(min(LIFE, kills - begun)):
                does[name](tallies[name])
        counted = [sum(getattr(tally, name) for tally in tallies.values()) for name in ("kills", "confirmed", "lost")]
        print("{} kills, {} confirmed before them, {} lost".format(*counted), file=sys.stderr, flush=True)
    return tallies


COLUMNS = ("kills", "confirmed", "kept_in_flight", "lost")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=210)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--json", type=Path, metavar="FILE")
    told = parser.parse_args()
    tallies = kill(told.kills, told.seed)
    print(f"{'':12}" + "".join(f"{name.replace('_', ' '):>16}" for name in COLUMNS))
    for name, tally in tallies.items():
        print(f"{name:12}" + "".join(f"{getattr(tally, column):16}" for column in COLUMNS))
        for fault in tally.faults:
            print(f"  {fault}")
    if told.json:
        rows = {name: {c: getattr(tally, c) for c in (*COLUMNS, "faults")} for name, tally in tallies.items()}
        told.json.write_text(json.dumps(rows, indent=2), "utf-8")
    return int(any(tally.faults for tally in tallies.values()))


if __name__ == "__main__":
    sys.exit(main())
