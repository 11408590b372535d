"""The house in figures: how many rooms, how deep, how many doors a plain round passes.

    python tests/bench/house_figures.py [FOLDER]

FOLDER holds a checkout of this project (this one, if none is given), so that two can be set side by side. Nothing of
the folder is imported except to read one round, in an interpreter of its own. Figures:

- modules and lines, without the faces of folders (`__init__.py`);
- the longest chain of imports at the head of files (not those inside functions or for type checking only);
- modules that are entered while `(1 sc, inc) x 6 (18)` is read over twelve stitches;
- modules with one importer, and that one beside them in the same folder;
- class names that stand in more than one module;
- string marks: comparisons of `.remark`, `.key` or a prefix of them with a literal, outside the screens;
- thresholds without a reason: numbers above 2 that are compared with in a function, and constants that are numbers
  with neither a comment nor a line of text under them.
"""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROUND = """
import json, sys
entered = set()
def note(frame, event, _):
    name = frame.f_globals.get("__name__", "")
    if name == "tracker.lazy_dataclass":
        return  # stands for the standard library's own, which is not counted
    if event == "call" and name.startswith("tracker.") and frame.f_code.co_name not in ("<module>", "__init__"):
        entered.add(name)
try:
    from tracker.rounds.line_report import read_line
except ImportError:
    from tracker.pattern.lines import read_line
read_line("Rnd 3: (2 sc, inc) x 6 (24)", 18, "US")
sys.setprofile(note)
report = read_line("(1 sc, inc) x 6 (18)", 12, "US")
sys.setprofile(None)
assert report.leaves == 18
print(json.dumps(sorted(entered)))
"""


class House:
    """The sources of one checkout."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.paths = {
            ".".join(path.relative_to(root).with_suffix("").parts): path
            for path in sorted((root / "tracker").rglob("*.py"))
            if path.name != "__init__.py"
        }
        self.trees = {name: ast.parse(path.read_text("utf-8")) for name, path in self.paths.items()}

    def imports(self, module: str) -> set[str]:
        """The modules that the head of a file imports."""
        return {name for node in self.trees[module].body for name in _names(node)} & set(self.paths)

    def longest_chain(self) -> list[str]:
        @cache
        def chain(module: str) -> tuple[str, ...]:
            return (module, *max((chain(below) for below in self.imports(module)), key=len, default=()))

        return list(max((chain(module) for module in self.paths), key=len))

    def lonely(self) -> list[str]:
        """Modules with one importer, beside them in the same folder."""
        importers: dict[str, set[str]] = defaultdict(set)
        for module in self.paths:
            for node in ast.walk(self.trees[module]):
                for name in _names(node):
                    importers[name].add(module)
        folder = {module: module.rpartition(".")[0] for module in self.paths}
        return [
            module
            for module in self.paths
            if len(importers[module]) == 1 and folder[next(iter(importers[module]))] == folder[module]
        ]

    def homonyms(self) -> dict[str, int]:
        classes = (node.name for tree in self.trees.values() for node in tree.body if isinstance(node, ast.ClassDef))
        return {name: times for name, times in Counter(classes).items() if times > 1}

    def string_marks(self) -> int:
        trees = (tree for name, tree in self.trees.items() if ".screen" not in name and ".tui" not in name)
        return sum(_is_string_mark(node) for tree in trees for node in ast.walk(tree))

    def bare_thresholds(self) -> list[str]:
        return [
            f"{module}:{line}"
            for module, tree in self.trees.items()
            for line in _bare_numbers(tree, self.paths[module].read_text("utf-8").splitlines())
        ]

    def entered_by_a_round(self) -> list[str]:
        command = [sys.executable, "-c", ROUND]
        environment = {"PYTHONPATH": str(self.root), "PATH": ""}
        done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=self.root, env=environment)
        return list(json.loads(done.stdout))


def _names(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom) and node.module:
        yield node.module
        yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _is_string_mark(node: ast.AST) -> bool:
    """`act.remark == "evenly"`, `choice.key.startswith("times")`, `"hook" in act.remark`."""
    marks = ("remark", "key")
    if isinstance(node, ast.Compare):
        sides = [node.left, *node.comparators]
        named = any(isinstance(side, ast.Attribute) and side.attr in marks for side in sides)
        words = [side.value for side in sides if isinstance(side, ast.Constant)]
        return named and any(word and isinstance(word, str) for word in words)
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        value = node.func.value
        split = node.func.attr in ("startswith", "split", "partition", "endswith", "removeprefix")
        return split and isinstance(value, ast.Attribute) and value.attr in marks
    return False


def _bare_numbers(tree: ast.Module, lines: list[str]) -> Iterator[int]:
    def has_reason(line: int) -> bool:
        return any("#" in lines[at] for at in (line - 1, line - 2) if at >= 0)

    for at, node in enumerate(tree.body):
        if isinstance(node, (ast.Assign, ast.AnnAssign)) and _is_number(node.value):
            below = tree.body[at + 1] if at + 1 < len(tree.body) else None
            told = isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant)
            if not told and not has_reason(node.lineno):
                yield node.lineno
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare) and any(map(_is_number, node.comparators)) and not has_reason(node.lineno):
            yield node.lineno


def _is_number(node: ast.AST | None) -> bool:
    """A number that decides something: none, one and two explain themselves."""
    if not isinstance(node, ast.Constant) or isinstance(node.value, bool):
        return False
    return isinstance(node.value, (int, float)) and node.value not in (0, 1, 2)


def main(arguments: list[str]) -> None:
    house = House(Path(arguments[0]).resolve() if arguments else Path(__file__).parents[2])
    lines = sum(len(path.read_text("utf-8").splitlines()) for path in house.paths.values())
    print(f"{'modules':32}{len(house.paths)}\n{'lines':32}{lines}")
    for title, places in (
        ("longest import chain", house.longest_chain()),
        ("modules entered by a round", house.entered_by_a_round()),
        ("modules with one importer", house.lonely()),
        ("class names with two meanings", list(house.homonyms())),
        ("thresholds without a reason", house.bare_thresholds()),
    ):
        print(f"{title:32}{len(places):<5}{' '.join(places)}")
    print(f"{'string marks':32}{house.string_marks()}")


if __name__ == "__main__":
    main(sys.argv[1:])
