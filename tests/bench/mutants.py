"""Mutation sampling: how many small faults put into a room its tests notice.

One place of the room's code at a time is changed in a copy of the tree (a comparison, a sum, a constant, a condition,
what is returned), and of the room's tests those that execute it run until the first that fails, the nearest and
quickest first. Which ones these are is recorded once, while all of them pass on the tree as it is: that is the
baseline. The tests are collected once, too; for each change that process is forked and the changed function gets its
new code there, so that a change costs a fraction of a second. What had run already when the tests were collected is
tried with a fresh interpreter if nothing else notices it, and tests that start the program take it from the copy.

What no test notices is printed with its line, and apart from it what no test executes, which counts as not noticed.
Left out is what cannot be seen: what compiles to the same as it is or as another change, what a type checker alone
needs or what asserts (annotations, `assert`, the `strict` of `zip`), and how a value is shown to programmers
(`__repr__`). Some of the rest changes nothing either, so that 100% is not to be had. For example

    python tests/bench/mutants.py session journal --count 100 --seed 2
"""

from __future__ import annotations

import argparse
import ast
import bisect
import functools
import gc
import itertools
import os
import pickle
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType, FunctionType

import coverage
import pytest

ROOT = Path(__file__).parents[2]
ROOMS = {
    "notation": ("tests/notation", "tests/rounds"),
    "rounds": ("tests/rounds", "tests/notation"),
    "session": ("tests/session", "tests/miscount", "tests/project"),
    "journal": ("tests/journal", "tests/project"),
}
"""The tests of each room, nearest first."""

SWAPPED: dict[type, type] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Add,
    ast.FloorDiv: ast.Mult,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
PATIENCE = 4
"""A change whose tests take so many times what they take without it hangs, and counts as noticed."""
GRACE = 10
"""Seconds that are never held against it: another machine load, fixtures."""
MEMORY = 4 << 30
"""Bytes of addresses; the tests need a quarter of it, and a change may ask for all there is."""
SLOW = 0.3
"""Seconds; most tests take a hundredth."""
NOTICED, MISSED, HUNG, UNFIT = 1, 0, 2, 3
STARTS_A_PROCESS = ("subprocess.Popen", "os.fork", "os.forkpty", "os.posix_spawn")


def changed(node: ast.AST) -> bool:
    """Put a fault into a node, in place; whether it is one that can have one."""
    match node:
        case ast.Compare(ops=[op]) if type(op) in SWAPPED:
            node.ops = [SWAPPED[type(op)]()]
        case ast.BinOp(op=op) | ast.BoolOp(op=op) if type(op) in SWAPPED:
            node.op = SWAPPED[type(op)]()
        case ast.Constant(value=bool(value)):
            node.value = not value
        case ast.Constant(value=int(value)):
            node.value = value + 1
        case ast.If(test=test) | ast.IfExp(test=test):
            node.test = ast.UnaryOp(ast.Not(), test)
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            node.op, node.operand = ast.Not(), ast.UnaryOp(ast.Not(), operand)
        case ast.Return(value=ast.expr() as value) if getattr(value, "value", None) is not False:
            node.value = ast.Constant(None)  # of False nobody could tell it: a condition takes them alike
        case _:
            return False
    return True


def is_a_check(node: ast.AST) -> bool:
    """Whether this is the `strict` of `zip`, which like an assertion raises where something cannot be."""
    return isinstance(node, ast.keyword) and node.arg == "strict"


@dataclass(frozen=True)
class Place:
    """A node that can have a fault: its number in the order of walking, its lines, and those of its statement and of
    the function that it is in."""

    file: Path
    number: int
    lines: range
    statement: range
    function: range


def places(file: Path) -> Iterator[Place]:
    """The places of a file, inside functions."""
    tree = ast.parse(file.read_text("utf-8"))
    statements: dict[int, range] = {}
    functions: dict[int, range] = {}
    checked: set[int] = set()
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef) and function.name != "__repr__":
            for statement in function.body:
                for each in ast.walk(statement):
                    if isinstance(each, ast.stmt):
                        body = getattr(each, "body", None) or getattr(each, "cases", None)
                        first = getattr(body[0], "lineno", None) or body[0].pattern.lineno if body else None
                        own = range(each.lineno, (first or each.end_lineno + 1))
                        for node in ast.walk(each):  # what is further inside comes later, and stays
                            statements[id(node)] = own
                            functions[id(node)] = range(function.lineno, function.end_lineno + 1)
                    if isinstance(each, ast.Assert):
                        checked |= {id(node) for node in ast.walk(each)}
                    checked |= {id(word.value) for word in ast.walk(each) if is_a_check(word)}
    checked |= {id(each) for n in ast.walk(tree) if isinstance(n, ast.AnnAssign) for each in ast.walk(n.annotation)}
    for number, node in enumerate(ast.walk(tree)):
        if id(node) in statements and id(node) not in checked:
            shown = node.test if isinstance(node, ast.If) else node
            lines = range(getattr(shown, "lineno", 0), getattr(shown, "end_lineno", 0) + 1)
            if changed(node):
                yield Place(file, number, lines, statements[id(node)], functions[id(node)])


def mutant(place: Place) -> ast.Module:
    """The file with a fault in that place."""
    tree = ast.parse(place.file.read_text("utf-8"))
    changed(next(node for at, node in enumerate(ast.walk(tree)) if at == place.number))
    return ast.fix_missing_locations(tree)


def what_is_done(code: CodeType) -> tuple[object, ...]:
    """Code without its lines: two that are equal do the same."""
    inner = tuple(what_is_done(c) if isinstance(c, CodeType) else (type(c), repr(c)) for c in code.co_consts)
    return code.co_code, inner, code.co_names, code.co_varnames, code.co_freevars, code.co_cellvars


def functions_of(code: CodeType) -> Iterator[CodeType]:
    """The code of a module's functions and of the methods of its classes."""
    for each in code.co_consts:
        if isinstance(each, CodeType):
            yield each
            yield from functions_of(each)


@dataclass
class Record:
    """What the tests did on the tree as it is."""

    seconds: list[float] = field(default_factory=list)
    """Of each test."""
    starting: list[int] = field(default_factory=list)
    """The tests that start another process, where it is not seen what they execute."""
    by_line: dict[tuple[str, int], list[int]] = field(default_factory=dict)
    """The tests that execute a line."""
    failed: str = ""


class Sampling:
    """A plugin that runs the collected tests once for the record and then, of them, what each change needs."""

    def __init__(self, room: str, tree: Path, count: int, seconds: float, seed: int, bound: float) -> None:
        self.room, self.tree, self.seed = room, tree, seed
        self.count, self.seconds, self.bound = count, seconds, bound
        self.files = sorted((tree / "tracker" / room).rglob("*.py"))
        self.collecting = self.coverage()
        self.collecting.start()
        self.failure = ""
        self.leaves_at_failure = False

    def coverage(self) -> coverage.Coverage:
        return coverage.Coverage(
            data_file=None, config_file=False, include=[f"{self.tree}/tracker/{self.room}/*"], messages=False
        )

    def pytest_collection(self) -> None:
        """Laws stop at their first counter-example, always try the same, and remember none from change to change."""
        from hypothesis import Phase, settings  # only now: pytest wants to be the first to import it

        settings.register_profile(
            "until the first failure",
            settings.get_profile("no clock"),
            phases=(Phase.explicit, Phase.generate),
            database=None,
            derandomize=True,
        )
        settings.load_profile("until the first failure")

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_makereport(self, item: pytest.Item, call: pytest.CallInfo[None]) -> None:
        """A change is noticed: what would be told of it takes longer than to notice it."""
        raised = call.excinfo.value if call.excinfo else None
        is_expected = isinstance(raised, (pytest.skip.Exception, pytest.xfail.Exception))
        if self.leaves_at_failure and raised is not None and not is_expected and not item.get_closest_marker("xfail"):
            os._exit(NOTICED)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failure = self.failure or f"{report.nodeid}\n{report.longreprtext}"
            if self.leaves_at_failure:
                os._exit(NOTICED)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.collecting.stop()
        data = self.collecting.get_data()
        self.while_collecting = {(f, line) for f in data.measured_files() for line in data.lines(f) or ()}
        self.items = session.items
        self.record = self.recorded()
        if self.record.failed:
            raise SystemExit(f"{self.room}: its tests fail as it is: {self.record.failed}")
        self.near = [self.nearness(item) for item in self.items]
        self.remembering()
        self.functions: dict[str, list[FunctionType]] = {}
        for each in gc.get_objects():
            if isinstance(each, FunctionType):
                self.functions.setdefault(each.__code__.co_filename, []).append(each)
        gc.freeze()  # a fork copies what is collected through
        self.sample()
        return True

    def nearness(self, item: pytest.Item) -> int:
        """Which of the folders a test lies in."""
        return next(at for at, name in enumerate(ROOMS[self.room]) if item.nodeid.startswith(name + "/"))

    def forget(self) -> None:
        """Empty what functions of the tree remember, so that a test executes all that it needs by itself."""
        for each in self.remembering():
            each.clear() if isinstance(each, dict) else each.cache_clear()

    def remembering(self) -> list:
        """The caches of the modules that are there by now."""
        if len(sys.modules) != getattr(self, "modules", 0):
            self.modules = len(sys.modules)
            self.caches: list = []
            for each in gc.get_objects():
                if isinstance(each, functools._lru_cache_wrapper):
                    code = getattr(each.__wrapped__, "__code__", None)
                    if code and code.co_filename.startswith(str(self.tree)):
                        self.caches.append(each)
                elif isinstance(each, FunctionType) and each.__qualname__ == "remembered.<locals>.ask":
                    self.caches += [
                        cell.cell_contents for cell in each.__closure__ if type(cell.cell_contents) is dict
                    ]
        return self.caches

    def recorded(self) -> Record:
        """Run all the tests once, in a fork that leaves nothing behind."""
        kept = self.tree / "record"
        child = os.fork()
        if not child:
            self.be_quiet()
            with kept.open("wb") as out:
                pickle.dump(self.recorded_here(), out)
            os._exit(0)
        os.waitpid(child, 0)
        return pickle.loads(kept.read_bytes())

    def recorded_here(self) -> Record:
        record = Record()
        started: list[str] = []
        sys.addaudithook(lambda event, _: started.append(event) if event in STARTS_A_PROCESS else None)
        seen = self.coverage()
        seen.start()
        for number, item in enumerate(self.items):
            self.forget()
            seen.switch_context(str(number))
            started.clear()
            at_work, by_the_clock = time.process_time(), time.monotonic()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
            at_work, by_the_clock = time.process_time() - at_work, time.monotonic() - by_the_clock
            record.seconds.append(by_the_clock if started else at_work)  # others are at work on this machine, too
            if started:
                record.starting.append(number)
            if self.failure:
                return Record(failed=self.failure)
        seen.stop()
        data = seen.get_data()
        for file in data.measured_files():
            for line, contexts in data.contexts_by_lineno(file).items():
                record.by_line[file, line] = [int(each) for each in contexts if each]
        return record

    @staticmethod
    def be_quiet() -> None:
        """In a fork: no terminal, and a group of processes of its own."""
        os.setsid()
        nothing = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nothing, stream)

    def sample(self) -> None:
        """Try so many changes, or as many as the seconds allow, and print the figure."""
        begun = time.monotonic()
        known = [place for file in self.files for place in places(file)]
        random.Random(self.seed).shuffle(known)
        before = {what_is_done(compile(f.read_text("utf-8"), str(f), "exec")) for f in self.files}
        outcomes: list[int] = []
        unseen: list[str] = []
        for place in known:
            if len(outcomes) == self.count or time.monotonic() - begun > self.seconds:
                break
            faulty = mutant(place)
            code = compile(faulty, str(place.file), "exec")
            done = what_is_done(code)
            if done in before:
                continue
            before.add(done)
            source = place.file.read_text("utf-8")
            line = place.lines.start
            told = f"{place.file.relative_to(self.tree)}:{line}: {source.splitlines()[line - 1].strip()}"
            tests = self.tests_of(place)
            tried = self.within_bound(tests)
            outcomes.append(self.outcome(place, faulty, code, tried) if tests else MISSED)
            if not len(outcomes) % 10:
                print(f"  {self.room}: {len(outcomes)} tried", file=sys.stderr, flush=True)
            if outcomes[-1] == MISSED and set(tests) <= set(self.record.starting):
                unseen.append(told)
            elif outcomes[-1] == MISSED:
                print(f"  not noticed by {len(tried)} of {len(tests)} tests: {told}", flush=True)
                print(f"      {self.difference(place, faulty)}", flush=True)
        for told in unseen:
            print(f"  executed by no test: {told}", flush=True)
        noticed = sum(each != MISSED for each in outcomes)
        print(
            f"{self.room}, seed {self.seed}: {noticed} of {len(outcomes)} noticed, {noticed / len(outcomes):.0%}"
            f" ({outcomes.count(HUNG)} because they hang; {len(known)} places;"
            f" {(time.monotonic() - begun) / len(outcomes):.1f} s each, after {sum(self.record.seconds):.0f} s)",
            flush=True,
        )

    @staticmethod
    def difference(place: Place, faulty: ast.Module) -> str:
        """The changed place as it is now."""
        node = next(node for at, node in enumerate(ast.walk(faulty)) if at == place.number)
        return ast.unparse(node).splitlines()[0]

    def lines_run(self, place: Place, ran: object) -> list[tuple[str, int]]:
        """Of a place's lines, or else of its statement's, those that are there."""
        for lines in (place.lines, place.statement):
            if found := [(str(place.file), line) for line in lines if (str(place.file), line) in ran]:
                return found
        return []

    def tests_of(self, place: Place) -> list[int]:
        """The tests that execute a place, those first that tell most of it, and behind them those that start a
        process."""
        tests = {test for line in self.lines_run(place, self.record.by_line) for test in self.record.by_line[line]}
        others = set(self.record.starting) - tests
        rarest = dict.fromkeys(tests, len(self.items))
        for line in place.function:
            executing = self.record.by_line.get((str(place.file), line), ())
            for test in executing:
                if test in rarest:
                    rarest[test] = min(rarest[test], len(executing))

        def rank(test: int) -> tuple[bool, int, float]:
            """Quick ones before slow ones; then those that execute what few do in the function; then near ones."""
            return (
                self.record.seconds[test] > SLOW,
                rarest.get(test, 0),
                self.record.seconds[test] * (1 + self.near[test]),
            )

        return sorted(tests, key=rank) + sorted(others, key=rank)

    def within_bound(self, tests: list[int]) -> list[int]:
        """As many of these as there is time for."""
        spent = list(itertools.accumulate(self.record.seconds[each] for each in tests))
        return tests[: bisect.bisect(spent, self.bound)]

    def outcome(self, place: Place, faulty: ast.Module, code: CodeType, tests: list[int]) -> int:
        """What the tests say to a change."""
        source, stamp = place.file.read_bytes(), place.file.stat()
        place.file.write_text(ast.unparse(faulty), "utf-8")
        os.utime(place.file, (place.number + 1, place.number + 1))  # of no other change, so that none is taken for it
        try:
            outcome = self.forked(place.file, code, tests)
            if outcome == UNFIT or (outcome == MISSED and self.lines_run(place, self.while_collecting)):
                outcome = self.afresh()
        finally:
            place.file.write_bytes(source)
            os.utime(place.file, ns=(stamp.st_atime_ns, stamp.st_mtime_ns))
        return outcome

    def forked(self, file: Path, code: CodeType, tests: list[int]) -> int:
        child = os.fork()
        if not child:
            try:
                self.be_quiet()
                seconds = GRACE + int(PATIENCE * sum(self.record.seconds[each] for each in tests))
                resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
                resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
                signal.alarm(PATIENCE * seconds)
                new = {(each.co_qualname, each.co_firstlineno): each for each in functions_of(code)}
                try:
                    for each in self.functions.get(str(file), ()):
                        was = each.__code__
                        each.__code__ = new[was.co_qualname, was.co_firstlineno]
                except (ValueError, KeyError):
                    os._exit(UNFIT)
                self.forget()
                self.leaves_at_failure = True
                for each in tests:
                    self.items[each].config.hook.pytest_runtest_protocol(item=self.items[each], nextitem=None)
                os._exit(MISSED)
            finally:
                os._exit(NOTICED)
        _, status = os.waitpid(child, 0)
        if os.WIFSIGNALED(status):
            return HUNG if os.WTERMSIG(status) in (signal.SIGALRM, signal.SIGXCPU, signal.SIGKILL) else NOTICED
        return os.WEXITSTATUS(status)

    def afresh(self) -> int:
        """The same with an interpreter of its own, which collects the tests with the change, and all of the tests."""
        words = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist"]
        seconds = GRACE + PATIENCE * sum(self.record.seconds)
        try:
            done = subprocess.run([*words, *ROOMS[self.room]], cwd=self.tree, capture_output=True, timeout=seconds)
        except subprocess.TimeoutExpired:
            return HUNG
        return MISSED if done.returncode == 0 else NOTICED


def main() -> None:
    """Each room that is named, in a copy of the tree and a process of its own."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("room", nargs="+", choices=sorted(ROOMS))
    parser.add_argument("--count", type=int, default=100, help="changes to try in each room")
    parser.add_argument("--seconds", type=float, default=1800.0, help="after so many no further change is begun")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--bound", type=float, default=20.0, help="seconds of tests that one change may need")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder).resolve() / "tree"
        shutil.copytree(ROOT, tree, ignore=shutil.ignore_patterns(".git", ".venv", "*_cache", "__pycache__"))
        for room in asked.room:
            child = os.fork()
            if not child:
                os.chdir(tree)
                os.environ["PYTHONPATH"] = sys.path[0] = str(tree)
                plugin = Sampling(room, tree, asked.count, asked.seconds, asked.seed, asked.bound)
                words = ["-q", "-s", "-p", "no:cacheprovider", "-p", "no:xdist", "--assert=plain"]
                words += [f"--basetemp={folder}/{room}"]
                ended = pytest.main([*words, *ROOMS[room]], plugins=[plugin])
                sys.stdout.flush()
                os._exit(ended)
            os.waitpid(child, 0)


if __name__ == "__main__":
    main()
