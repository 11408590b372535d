"""Mutation sampling: how many small faults put into a room its tests notice.

One place of the room's code at a time is changed in a copy of the tree (a comparison, a sum, a constant, a condition,
what is returned), and the room's tests run until the first that fails. What no test notices is printed with its line:
some of it changes nothing that can be seen, so that 100% is not to be had. Baseline: the same tests on the tree as it
is must pass first. For example

    python tests/bench/mutants.py session --count 40 --seconds 600
"""

from __future__ import annotations

import argparse
import ast
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

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
PATIENCE = 4.0
"""A change whose tests take so many times what they take without it hangs, and counts as noticed."""


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
        case ast.Return(value=ast.expr()):
            node.value = ast.Constant(None)
        case _:
            return False
    return True


def places(source: str) -> Iterator[int]:
    """The nodes inside functions that can have a fault, by their number in the order of walking."""
    tree = ast.parse(source)
    inside = {
        id(each) for f in ast.walk(tree) if isinstance(f, ast.FunctionDef) for s in f.body for each in ast.walk(s)
    }
    typing = {id(each) for n in ast.walk(tree) if isinstance(n, ast.AnnAssign) for each in ast.walk(n.annotation)}
    for number, node in enumerate(ast.walk(tree)):
        if id(node) in inside and id(node) not in typing and changed(node):
            yield number


def mutant(source: str, number: int) -> tuple[str, int]:
    """The source with a fault in one node, and the line of it."""
    tree = ast.parse(source)
    node = next(node for at, node in enumerate(ast.walk(tree)) if at == number)
    changed(node)
    return ast.unparse(ast.fix_missing_locations(tree)), getattr(node, "lineno", 0)


def passes(tree: Path, tests: tuple[str, ...], seconds: float | None) -> bool:
    """Whether all the tests of a room pass in this tree."""
    words = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    try:
        done = subprocess.run(words, cwd=tree, env={"PYTHONPATH": str(tree)}, capture_output=True, timeout=seconds)
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def sample(room: str, tree: Path, count: int, seconds: float, seed: int) -> None:
    """Try so many changes of a room, or as many as the seconds allow, and print the figure."""
    begun = time.monotonic()
    tests = ROOMS[room]
    if not passes(tree, tests, None):
        raise SystemExit(f"{room}: its tests fail as it is")
    usual = time.monotonic() - begun
    files = sorted((tree / "tracker" / room).rglob("*.py"))
    known = [(file, number) for file in files for number in places(file.read_text("utf-8"))]
    random.Random(seed).shuffle(known)
    tried = noticed = 0
    for file, number in known[:count]:
        if time.monotonic() - begun > seconds:
            break
        source = file.read_text("utf-8")
        faulty, line = mutant(source, number)
        file.write_text(faulty, "utf-8")
        tried += 1
        if passes(tree, tests, PATIENCE * usual):
            print(
                f"  not noticed: {file.relative_to(tree)}:{line}: {source.splitlines()[line - 1].strip()}", flush=True
            )
        else:
            noticed += 1
        file.write_text(source, "utf-8")
    print(f"{room}: {noticed} of {tried} noticed ({len(known)} places; the tests take {usual:.0f} s)", flush=True)


def main() -> None:
    """Each room that is named, in a copy of the tree."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("room", nargs="+", choices=sorted(ROOMS))
    parser.add_argument("--count", type=int, default=20, help="changes to try in each room")
    parser.add_argument("--seconds", type=float, default=600.0, help="after so many no further change is begun")
    parser.add_argument("--seed", type=int, default=1)
    told = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder) / "tree"
        shutil.copytree(ROOT, tree, ignore=shutil.ignore_patterns(".git", ".venv", "*_cache", "__pycache__"))
        for room in told.room:
            sample(room, tree, told.count, told.seconds, told.seed)


if __name__ == "__main__":
    main()
