"""One figure of speed.py, taken once in an interpreter of its own, so that nothing is left over from another.

    python tests/bench/speed_figures.py FIGURE

Prints JSON: for each name what ours took, what the baseline took, and the unit of both.
"""

from __future__ import annotations

import io
import json
import os
import re
import sqlite3
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from itertools import islice
from pathlib import Path
from random import Random
from resource import RUSAGE_CHILDREN, getrusage
from statistics import median

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from support.project_bench import Bench  # noqa: E402

from tracker.journal.records import Happened  # noqa: E402
from tracker.journal.schema import to_write  # noqa: E402
from tracker.pattern.loader import all_problems, load, loads  # noqa: E402
from tracker.pattern.model import Pattern  # noqa: E402
from tracker.project.project import Project  # noqa: E402
from tracker.rounds.plan import Plan  # noqa: E402
from tracker.session.events import BegunAnew, Counted, Event, RepeatDone, Stitch, Undo  # noqa: E402
from tracker.session.reducer import Refused, advance, begin  # noqa: E402
from tracker.session.replay import replayed  # noqa: E402

Figures = dict[str, tuple[float, float, str]]
"""By name: ours, the baseline, the unit."""

BASE = 200
"""Stitches in each round of the long pattern."""

TAPS = 300
STARTS = 7

STARTS_PAINTED = 15
"""Of the screen. The median of four was as much as a fifth off on a machine that does something else besides."""


def long_pattern(rounds: int) -> str:
    """So many rounds, no two alike, each with its total."""
    halves = ((left, middle) for left in range(1, BASE - 4) for middle in range(1, BASE - 3 - left))
    lines = [f"Rnd 1: {BASE} sc in magic ring ({BASE})"]
    for number, (left, middle) in enumerate(islice(halves, rounds - 1), 2):
        right = BASE - 3 - left - middle
        lines.append(f"Rnd {number}: {left} sc, inc, {middle} sc, dec, {right} sc ({BASE})")
    text = "\n".join(lines)
    return f'title = "Long"\n[[piece]]\nname = "Tube"\nrounds = """\n{text}\n"""\n'


def seconds(action: Callable[[], object]) -> float:
    """Processor seconds of this process: what somebody else does on the machine is left out."""
    began = time.process_time()
    action()
    return time.process_time() - began


def by_the_clock(action: Callable[[], object]) -> float:
    """Seconds that pass, waiting for the disk included."""
    began = time.perf_counter()
    action()
    return time.perf_counter() - began


def check() -> Figures:
    """`rounds check` of 10,000 rounds, without the start of Python: read, check, and print the table."""
    short, long = long_pattern(1_000), long_pattern(10_000)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.toml"
        path.write_text(long, "utf-8")
        loads(long_pattern(10))
        words = seconds(lambda: re.findall(r"\w+|\S", long))
        thousand = seconds(lambda: loads(short))
        ten_thousand = seconds(lambda: load(path))
        pattern = load(path)
        assert len(pattern.pieces[0].rounds) == 10_000 and not all_problems(pattern)
        from tracker.cli.check import check_files

        with redirect_stdout(io.StringIO()):
            whole = seconds(lambda: check_files([path], as_json=False))
    return {
        "read and check 10,000 rounds vs cutting them into words": (ten_thousand, words, "s"),
        "the same with its table vs cutting into words": (whole, words, "s"),
        "10,000 rounds vs ten times 1,000": (ten_thousand, 10 * thousand, "s"),
    }


def long_round() -> Figures:
    """A round of a thousand million stitches vs one of a hundred."""
    texts = {100: (80, 20), 10**9: (8 * 10**8, 2 * 10**8)}
    took: dict[int, tuple[float, float, float]] = {}
    for stitches, (base, times) in texts.items():
        text = f'[[piece]]\nname="P"\nrounds="""\nRnd 1: {base} sc in magic ring\nRnd 2: (3 sc, inc) x {times}\n"""'
        loads(text)
        tracemalloc.start()
        plan = loads(text).pieces[0].rounds[1].plan
        memory = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert plan is not None and plan.leaves == stitches
        took[stitches] = _total(plan), _look_up(plan), float(memory)
    (total, look, memory), (total_short, look_short, memory_short) = took[10**9], took[100]
    return {
        "total of a round of 10^9 stitches vs of 100": (total * 1e6, total_short * 1e6, "µs"),
        "looking up a stitch in it vs in one of 100": (look * 1e6, look_short * 1e6, "µs"),
        "memory for it vs for one of 100": (memory / 1024, memory_short / 1024, "KiB"),
    }


def _total(plan: Plan) -> float:
    """A total is kept once it is known, so each is asked of a new plan."""
    plans = [Plan(tuple(plan.body)) for _ in range(2_000)]
    return seconds(lambda: [each.leaves for each in plans]) / len(plans)


def _look_up(plan: Plan) -> float:
    dice = Random(1)
    wanted = [dice.randint(1, plan.leaves) for _ in range(2_000)]
    return seconds(
        lambda: [plan.spot(plan.move_after_stitches(each)) for each in wanted if each < plan.leaves]
    ) / len(wanted)


def tap() -> Figures:
    """A tap until it is durable vs a bare commit of one row and one changed row with the same settings; in turn."""
    lighthouse = load(ROOT / "patterns" / "lighthouse.toml")
    with tempfile.TemporaryDirectory(dir=ROOT) as folder:
        (Path(folder) / "one").mkdir()
        (Path(folder) / "many").mkdir()
        bench, many = Bench(Path(folder) / "one", lighthouse), Bench(Path(folder) / "many", loads(_tube(), "tube"))
        bare = to_write(Path(folder) / "bare.sqlite3")
        bare.execute("CREATE TABLE entry (number INTEGER PRIMARY KEY, body TEXT)")
        bare.execute("CREATE TABLE project (id INTEGER PRIMARY KEY, number INTEGER, next TEXT)")
        bare.execute("INSERT INTO project VALUES (1, 0, '')")
        project, long = bench.work(Stitch()), many.work(Stitch())
        log, bare_log = bench.data / "journal.sqlite3-wal", Path(folder) / "bare.sqlite3-wal"
        for connection in (bare, _connection(project)):
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        actions = {
            "bare": lambda number: _commit(bare, number),
            "tap": lambda _: project.do(Stitch()),
            "long": lambda _: long.do(Stitch()),
        }
        took: dict[str, list[float]] = {name: [] for name in actions}
        for number in range(TAPS):
            for name, action in actions.items():
                took[name].append(by_the_clock(lambda action=action, number=number: action(number)))
        ms = {name: median(spent) * 1e3 for name, spent in took.items()}
        sizes = [each.stat().st_size / TAPS for each in (log, bare_log)]
        bare.close()
        bench.clear()
        many.clear()
    return {
        "tap to durable vs a bare commit": (ms["tap"], ms["bare"], "ms"),
        "tap in 900 rounds of one colour vs a bare commit": (ms["long"], ms["bare"], "ms"),
        "bytes written for a tap vs for a bare commit": (sizes[0], sizes[1], "B"),
    }


def _commit(connection: sqlite3.Connection, number: int) -> None:
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("INSERT INTO entry VALUES (?, ?)", (number, '{"did":"stitch","count":1}'))
    connection.execute("UPDATE project SET number = ?, next = 'Tube, Rnd 3' WHERE id = 1", (number,))
    connection.execute("COMMIT")


def _connection(project: Project) -> sqlite3.Connection:
    assert project._keeper.journal is not None
    return project._keeper.journal._connection


def _tube() -> str:
    return '[[piece]]\nname = "Tube"\nrounds = """\nRnd 1: 18 sc in magic ring\nRnds 2-900: sc around\n"""\n'


def resume() -> Figures:
    """Opening a project with a history of 100,000 entries vs one with ten; in turn, each broken off as by a kill."""
    with tempfile.TemporaryDirectory() as folder:
        benches = {}
        for entries in (10, 100_000):
            (Path(folder) / str(entries)).mkdir()
            benches[entries] = _worked(Path(folder) / str(entries), entries)
        took: dict[int, list[float]] = {entries: [] for entries in benches}
        for _ in range(STARTS):
            for entries, bench in benches.items():
                opened: list[Project] = []
                took[entries].append(seconds(lambda bench=bench, opened=opened: opened.append(bench.open())))
                assert opened[0]._number > entries
                bench.break_off(opened[0])
                opened[0]._keeper._give_up_turn()
    return {
        "resuming after 100,000 entries vs after 10": (median(took[100_000]) * 1e3, median(took[10]) * 1e3, "ms"),
    }


def _worked(folder: Path, entries: int, events: Sequence[Event] = ()) -> Bench:
    """A project with so many entries; the last saved place lies as far back as after any other taps."""
    bench = Bench(folder, loads(_tube(), "tube"))
    project = bench.open()
    keeper = project._keeper
    journal, known = keeper.journal, keeper.record
    assert journal is not None and known is not None
    done = events or [Stitch() if n % 2 else Undo() for n in range(1, entries + 1)]
    many = [Happened(1 + n, bench.clock(), event, 0) for n, event in enumerate(done, 1)]
    project._state = replayed(project.pattern, ((each.at, each.event) for each in many), project.state)
    bench.clock.at += 2 * 86_400  # what was done today is read too, and that is another figure
    standing = project._standing(is_stop=True)
    journal.append(known, many, standing.summary, standing.place(), None, known)
    bench.clear()
    return bench


LOOKING_BACK = {"measure": ("measure",), "write --as-made": ("write", "--as-made")}


def long_history() -> Figures:
    """Commands that go through a whole history, of 100,000 taps vs of ten; processor time of the whole."""
    figures: Figures = {}
    with tempfile.TemporaryDirectory() as folder:
        env = _compiled(folder)
        spent: dict[tuple[str, int], list[float]] = {}
        for entries in (10, 100_000):
            (Path(folder) / str(entries)).mkdir()
            bench = _worked(Path(folder) / str(entries), entries, _tapped(loads(_tube(), "tube"), entries))
            where = (str(bench.file), "--data", str(bench.data))
            for name, (verb, *more) in LOOKING_BACK.items():
                for turn in range(4):
                    took = _run(("-m", "tracker", verb, *where, *more), folder, env)
                    if turn:  # the first turn compiles
                        spent.setdefault((name, entries), []).append(took)
    for name in LOOKING_BACK:
        long, short = (median(spent[name, entries]) for entries in (100_000, 10))
        figures[f"{name} of 100,000 taps vs of ten"] = long, short, "s"
    return figures


def _tapped(pattern: Pattern, entries: int) -> list[Event]:
    """What one does: stitches and repeats, now and then one taken back or a count; from the beginning at the end."""
    dice, found = Random(1), list[Event]()
    state = begin(pattern)
    while len(found) < entries:
        event: Event = dice.choices((Stitch(), RepeatDone(), Undo(), Counted(18, 0)), (80, 10, 9, 1))[0]
        place = state.work.place
        if isinstance(event, Counted):
            event = Counted(18, max(0, place.round_index - 1))
        try:
            state = advance(pattern, state, event, 0.0)
        except Refused:
            event = BegunAnew()
            state = advance(pattern, state, event, 0.0)
        found.append(event)
    return found


COMMANDS = {
    "rounds check": ("check", "toadstool"),
    "rounds place": ("place", "toadstool"),
    "rounds read": ("read", "pasted.txt"),
}
PASTED = "Materials: 3.5 mm hook\n\nCap\nRnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\n"


def commands() -> Figures:
    """Whole commands vs an empty program, compiled beforehand alike. What is over the empty program is their own."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "pasted.txt").write_text(PASTED, "utf-8")
        env = _compiled(folder)
        _run(("-m", "tracker", "work", "toadstool", "--plain"), folder, env)  # what is asked for its place was worked
        took: dict[str, list[float]] = {name: [] for name in ("bare", *COMMANDS)}
        for turn in range(STARTS + 1):
            for name in took:
                command = ("-c", "pass") if name == "bare" else ("-m", "tracker", *COMMANDS[name])
                spent = _run(command, folder, env)
                if turn:  # the first turn compiles
                    took[name].append(spent)
    bare = median(took.pop("bare"))
    return {f"{name} vs bare Python": (median(spent) * 1e3, bare * 1e3, "ms") for name, spent in took.items()}


def _compiled(folder: str) -> dict[str, str]:
    """Ours compiled beforehand, as an installer does it, with its data in this folder."""
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    compiled = {"PYTHONPYCACHEPREFIX": f"{folder}/compiled", "ROUNDS_DATA": f"{folder}/data"}
    return {**env, **compiled, "PYTHONPATH": str(ROOT)}


def _run(command: Sequence[str], folder: str, env: dict[str, str]) -> float:
    """Processor seconds of a program."""
    before = getrusage(RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, *command],
        cwd=folder,
        env=env,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr.decode()
    after = getrusage(RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


SLIPS = f"""title = "Slips"
[[piece]]
name = "Cap"
rounds = \"\"\"
Rnd 1: 7 {"sc " * 24}in magic ring (7)
Rnd 2: inc x 7 (14)
Rnd 3: (1 sc, inc) x 6 (21)
Rnd 4: (2 sc, inc) x 7 (27)
Rnd 5: sc around (28)
Rnd 6: (2 sc, dec) x 7 (21)
\"\"\"
"""
"""A key that stuck, a repeat and a total with a slip: what was meant is looked for in every line."""


def slips() -> Figures:
    """`rounds check` of a small pattern with slips, for which it tells what was meant, vs bare Python."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "slips.toml").write_text(SLIPS, "utf-8")
        env = _compiled(folder)
        took = [_run(("-m", "tracker", "check", "slips.toml"), folder, env) for _ in range(4)][1:]
        bare = [_run(("-c", "pass"), folder, env) for _ in range(3)]
    return {"a small pattern with slips vs bare Python": (median(took), median(bare), "s")}


def typing() -> Figures:
    """A key of a round of 200 characters that is typed live, read anew at each; see live_line.py."""
    from bench.live_line import measure

    found = {name: median(seconds) * 1e3 for name, seconds in measure(rounds=30).items()}
    return {
        "a key of a next round being typed vs a bare app": (found["next round"], found["bare"], "ms"),
        "a key of an early line being mended vs a bare app": (found["mended line"], found["bare"], "ms"),
    }


def screen() -> Figures:
    """Keys and starts on the real screen vs bare Textual apps with one label; see paint.py."""
    from bench.paint import measure

    found = measure(starts=STARTS_PAINTED, keys=100)
    figures: Figures = {}
    for name, value in found["ours"].items():
        told, unit = name.rsplit(", ", 1) if ", " in name else (name, "")
        figures[f"{told} vs a bare app"] = value, found["bare"][name], unit
        if not told.startswith("idle"):
            figures[f"{told} vs one that commits"] = value, found["keeping"][name], unit
    return figures


def idle() -> Figures:
    """Processor time in twenty seconds in which nothing happens."""
    from bench.paint import BARE, Painted

    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        began = subprocess.run(
            [sys.executable, "-m", "tracker", "--data", folder, "work", "lighthouse", "--plain"],
            input="ask never\nround\n",
            text=True,
            cwd=ROOT,
            stdout=subprocess.DEVNULL,
            check=True,
        )
        assert began.returncode == 0
        ours = Painted((sys.executable, "-m", "tracker", "work", "lighthouse"), data)
        bare = Painted((sys.executable, "-c", BARE), data)
        for program in (ours, bare):
            program.until_quiet(time.perf_counter())
        before = [_used(program.process.pid) for program in (ours, bare)]
        time.sleep(20)
        spent = [_used(program.process.pid) - used for program, used in zip((ours, bare), before, strict=True)]
        for program in (ours, bare):
            program.end()
    return {
        "processor time of 20 idle seconds": (spent[0] * 1e3, 20e3, "ms"),
        "the same for a bare app": (spent[1] * 1e3, 20e3, "ms"),
    }


def _used(pid: int) -> float:
    """Processor seconds of a process, to the nanosecond (Linux: proc(5), schedstat)."""
    return int(Path(f"/proc/{pid}/schedstat").read_text().split()[0]) / 1e9


FIGURES: dict[str, Callable[[], Figures]] = {
    figure.__name__: figure
    for figure in (check, long_round, tap, resume, long_history, commands, slips, typing, screen, idle)
}


def main() -> None:
    print(json.dumps(FIGURES[sys.argv[1]]()))


if __name__ == "__main__":
    main()
