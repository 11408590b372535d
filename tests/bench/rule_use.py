"""Which rules of the notation no line needs: rules of the table, patterns of words, and statements of the grammar.

    python tests/bench/rule_use.py [--pages FILE] [--statements]

Read are the lines of every table under tests/ that has a column `text`, the lines that the tests of notation, rounds,
patterns and text import quote, the shipped patterns, and pages of pasted text from a file of JSON lines (`lines`,
`terms`). Told are

- for each rule of `parser/items.py` how many lines it takes words of, how many of these come out otherwise without
  it, and how many do if it is tried last: its place is of use where that is not 0;
- the patterns of words, and their alternatives, that begin nowhere in all these lines;
- with `--statements`, the statements of `notation` that none of these lines comes to, by file. Refusals of what
  nobody writes are among them, and those of other tests.

What no line needs is a rule too many, or lacks its line in a table.
"""

from __future__ import annotations

import argparse
import ast
import csv
import importlib
import json
import pkgutil
import re
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT)]

import tracker.notation  # noqa: E402
from tracker.lazy_dataclass import replace  # noqa: E402
from tracker.normalize import clean  # noqa: E402
from tracker.notation import reader  # noqa: E402
from tracker.notation.ast import Line as ReadLine  # noqa: E402
from tracker.notation.context import Context  # noqa: E402
from tracker.notation.parser import items as table  # noqa: E402
from tracker.notation.reader import read_line  # noqa: E402
from tracker.notation.token_stream import NotUnderstood, PhrasePattern  # noqa: E402
from tracker.pattern.loader import load  # noqa: E402

reader.plain_line = lambda *_: None  # which rules a line needs is told by those that the grammar reads

Case = tuple[str, Context]


def cases(pages: Path | None) -> list[Case]:
    """Every line, once."""
    found: dict[Case, None] = {}
    for path in sorted((ROOT / "tests").rglob("*.tsv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
                if row.get("text"):
                    found[row["text"].replace("\\n", "\n"), Context(terms=row.get("terms") or "US")] = None
    for text in quoted():
        found |= {(text, Context(terms=terms)): None for terms in ("US", "UK")}
    for path in sorted((ROOT / "patterns").glob("*.toml")):
        for piece in load(path).pieces:
            found |= {(line.text, piece.context): None for line in piece.lines}
    for row in pages.read_text(encoding="utf-8").splitlines() if pages else ():
        page = json.loads(row)
        terms = page["terms"] if page["terms"] in ("US", "UK") else "US"
        found |= {(line, Context(terms=terms)): None for line in page["lines"]}
    return list(found)


QUOTING = ("notation", "rounds", "pattern", "text_import", "misprints")
"""The rooms whose tests quote lines of patterns."""


def quoted() -> Iterator[str]:
    """The lines of the texts that tests hold, of two words or more."""
    for room in QUOTING:
        for path in sorted((ROOT / "tests" / room).rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    whole = [node.value] if node.value.count("\n") == 1 else []
                    yield from (line for line in [*whole, *node.value.splitlines()] if " " in line.strip())


def read(case: Case) -> ReadLine:
    return read_line(clean(case[0]), case[1])


def without(rule: table.Rule) -> table.Rule:
    """The rule, never taking anything."""
    return replace(rule, read=lambda _cursor, _found, _until: False)


def rule_use(lines: list[Case]) -> Iterator[str]:
    """A line of the report for each rule."""
    users: dict[str, list[int]] = {rule.name: [] for rule in table.RULES}
    whole = table.RULES
    read_now = [0]

    def note(rule: table.Rule) -> None:
        if users[rule.name][-1:] != read_now:
            users[rule.name].append(read_now[0])

    def counting(rule: table.Rule) -> table.Rule:
        def take(cursor: Any, found: Any, until: int) -> object:
            first = cursor.place
            try:
                taken = rule.read(cursor, found, until)
            except NotUnderstood:
                note(rule)
                raise
            if cursor.place > first:
                note(rule)
            return taken

        return replace(rule, read=take)

    table.set_rules(tuple(map(counting, whole)))
    for read_now[0], case in enumerate(lines):
        read(case)
    table.set_rules(whole)
    known = [read(case) for case in lines]
    yield f"{'rule':16} {'lines':>6} {'needed':>6} {'place':>6}"
    for index, rule in enumerate(whole):
        changed = [0, 0]
        rest = whole[:index] + whole[index + 1 :]
        for which, rules in enumerate((rest, (*rest, rule))):
            if which and rule.begins:
                continue
            table.set_rules(rules)
            changed[which] = sum(read(lines[user]) != known[user] for user in users[rule.name])
            table.set_rules(whole)
        yield f"{rule.name:16} {len(users[rule.name]):6} {changed[0]:6} {changed[1] or '-':>6}"


def patterns() -> dict[str, PhrasePattern]:
    """Every pattern of words, by module and name."""
    found: dict[str, PhrasePattern] = {}
    for module in pkgutil.walk_packages(tracker.notation.__path__, "tracker.notation."):
        for name, value in vars(importlib.import_module(module.name)).items():
            if isinstance(value, PhrasePattern) and value not in found.values():
                found.setdefault(f"{module.name.removeprefix('tracker.notation.')}.{name}", value)
    return found


ALSO_EMPTY = re.compile(r"\(\?<|\$")
"""What makes a pattern of use that takes no word."""


def alternatives(source: str) -> list[str]:
    """What stands between the bars that stand in no bracket."""
    parts, depth = [""], 0
    for sign in source:
        depth += (sign in "([") - (sign in ")]")
        if sign == "|" and not depth:
            parts.append("")
        else:
            parts[-1] += sign
    return [" ".join(part.split()) for part in parts]


def pattern_use(lines: list[Case]) -> Iterator[str]:
    """The patterns and alternatives that begin nowhere."""
    places: dict[str, set[tuple[str, int]]] = {}
    named = patterns()

    def watched(name: str, match: Callable[[str, int], Any]) -> Callable[[str, int], Any]:
        def found(line: str, first: int) -> Any:
            result = match(line, first)
            if result is not None and (result.end() > first or ALSO_EMPTY.search(named[name].source)):
                places[name].add((line, first))
            return result

        return found

    for name, pattern in named.items():
        places[name] = set()
        vars(pattern)["match"] = watched(name, pattern.compiled)
    for case in lines:
        read(case)
    for pattern in named.values():
        pattern.match = pattern.compiled
    for name, pattern in named.items():
        if not places[name]:
            yield f"{name}: {' '.join(pattern.source.split())}"
            continue
        parts = alternatives(pattern.source)
        for part in parts if len(parts) > 1 else ():
            alone = PhrasePattern(part)
            if not any(alone.match(line, first) for line, first in places[name]):
                yield f"{name}: the alternative {part}"


def statements(lines: list[Case]) -> Iterator[str]:
    """The statements that no line comes to."""
    folder = str(ROOT / "tracker" / "notation")
    reached: Counter[tuple[str, int]] = Counter()

    def local(frame: FrameType, event: str, _arg: object) -> Any:
        if event == "line":
            reached[frame.f_code.co_filename, frame.f_lineno] += 1
        return local

    def watch(frame: FrameType, _event: str, _arg: object) -> Any:
        return local if frame.f_code.co_filename.startswith(folder) else None

    sys.settrace(watch)
    for case in lines:
        read(case)
    sys.settrace(None)
    unused = known = 0
    for path in sorted(Path(folder).rglob("*.py")):
        source = path.read_text(encoding="utf-8")
        inside = [
            node
            for function in ast.walk(ast.parse(source))
            if isinstance(function, ast.FunctionDef)
            for node in ast.walk(function)
            if isinstance(node, ast.stmt) and node is not function and not _is_docstring(node)
        ]
        own = {node.lineno for node in inside}
        missed = sorted(line for line in own if (str(path), line) not in reached)
        known, unused = known + len(own), unused + len(missed)
        rows = source.splitlines()
        for line in missed:
            yield f"{path.relative_to(ROOT)}:{line}: {rows[line - 1].strip()}"
    yield f"{unused} of {known} statements are come to by no line"


def _is_docstring(node: ast.stmt) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pages", type=Path, metavar="FILE", help="pages of pasted text, as JSON lines")
    parser.add_argument("--statements", action="store_true", help="the statements that no line comes to")
    asked = parser.parse_args()
    lines = cases(asked.pages)
    print(f"{len(lines)} lines")
    for report in (rule_use, pattern_use, *((statements,) if asked.statements else ())):
        print()
        print("\n".join(report(lines)) or "none")


if __name__ == "__main__":
    main()
