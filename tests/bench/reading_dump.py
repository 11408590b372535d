"""Everything that is read, as text, so that the reader before a change can be compared with the reader after it.

    python tests/bench/reading_dump.py [--pages FILE] [--only parse|sums] [--spans] > dump.txt
    python tests/bench/reading_dump.py --compare OLD NEW [--only parse|sums]

Read are the lines of every table under tests/ that has a column `text`, every shipped pattern, and pages of pasted
text from a file of JSON lines (`id`, `terms`, `lines`), which go through the text import. Each line and round gives
two lines of text: `parse` is all that the parser made of it and all that its plan holds, class by class; `sums` is
what a maker hears of it, without the name of any class: the verdict, what it uses and leaves, its stitches move by
move, and every message. A refactoring may rename what stands in `parse`; nothing but a mended reading changes `sums`.

Fields that have their default are left out, and so are places in the text unless `--spans` asks for them. Lines of
tables go by their words and not by their table, so that tables can be renamed and sorted otherwise. `--compare`
prints what differs and exits with 1 if anything does.
"""

from __future__ import annotations

import argparse
import csv
import json
import sys
from collections.abc import Callable, Iterator
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from tracker.normalize import clean  # noqa: E402
from tracker.notation.context import Context  # noqa: E402
from tracker.notation.reader import read_line as parse  # noqa: E402
from tracker.pattern.loader import all_problems, load, loads  # noqa: E402
from tracker.pattern.text_import.draft_assembly import from_text  # noqa: E402
from tracker.pattern.text_import.page_terms import TermsUnclear  # noqa: E402
from tracker.pattern.toml_writer import as_toml  # noqa: E402
from tracker.rounds.line_report import read_line as check  # noqa: E402

SECTIONS = ("parse", "sums")

PLACES = ("span", "instruction", "end", "column")
"""Fields that say where in the text something stands."""

SHOWN = 40
"""Differences that are printed in full; the rest are counted."""

Entry = tuple[str, str, str]
"""Section, name of the line, and what was read."""


def shown(value: Any, spans: bool) -> str:
    """A value as text: dataclasses by class, field and value, without what has its default."""
    if isinstance(value, Enum):
        return value.name
    if is_dataclass(value):
        parts = [
            f"{field.name}={shown(getattr(value, field.name), spans)}"
            for field in fields(value)
            if (spans or field.name not in PLACES) and getattr(value, field.name) != default(field)
        ]
        return f"{type(value).__name__}({', '.join(parts)})"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {shown(item, spans)}" for key, item in value.items()) + "}"
    if isinstance(value, set | frozenset):
        return "{" + ", ".join(sorted(shown(item, spans) for item in value)) + "}"
    if isinstance(value, tuple | list):
        return "[" + ", ".join(shown(item, spans) for item in value) + "]"
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


def default(field: Any) -> Any:
    """What a field is where nobody says; `MISSING`, which nothing equals, where somebody has to."""
    return field.default if field.default_factory is MISSING else field.default_factory()


def plan_in_short(nodes: Any) -> str:
    """The stitches of a plan in the order they are made, whatever its classes are called."""
    return ", ".join(
        f"{node.times} x {act_in_short(node.act)}"
        if hasattr(node, "act")
        else f"{node.times} x [{plan_in_short(node.body)}]"
        for node in nodes
    )


def act_in_short(act: Any) -> str:
    """One act: its name, what it makes over how many bases, and where."""
    makes = "+".join(
        f"{made.count} {made.kind}{f' as {made.counts_as}' if made.counts_as else ''}" for made in act.makes
    )
    where = [act.into.name.lower(), act.loop.value, act.onto, act.colour]
    return f"{act.name} ({makes or act.role.name.lower()} over {act.takes} {' '.join(filter(None, where))})"


def sums(facts: dict[str, Any], plan: Any, problems: Any) -> str:
    """What a maker hears of a line or round."""
    told = [
        f"{one.severity.value} {one.code}: {one.message}{f'; {one.help}' if one.help else ''}" for one in problems
    ]
    if plan is not None:
        tally = plan.tally
        facts |= {
            "moves": tally.moves,
            "uses": tally.takes,
            "makes": tally.stitches,
            "spaces": tally.spaces,
            "chains": tally.chains,
            "kinds": dict(tally.kinds),
            "ends_with": plan.ends_with,
            "plan": plan_in_short(plan.body),
        }
    return json.dumps({**facts, "messages": told}, ensure_ascii=False)


def stated_in_short(stated: Any) -> dict[str, Any]:
    """The numbers of a stated total."""
    names = ("stitches", "spaces", "chains", "groups", "kinds", "sizes", "space_length", "without_slips")
    return {name: value for name in names if (value := getattr(stated, name, None))}


class Dump:
    """Reads what is there to be read; `sections` are those that are wanted."""

    def __init__(self, sections: tuple[str, ...], spans: bool) -> None:
        self.sections, self.spans = sections, spans

    def entries(self, name: str, parsed: Callable[[], str], summed: Callable[[], str]) -> Iterator[Entry]:
        for section, made in zip(SECTIONS, (parsed, summed), strict=True):
            if section in self.sections:
                yield section, name, made()

    def line(self, text: str, before: int | None, terms: str) -> Iterator[Entry]:
        """A line on its own, as a program asks for it."""
        report = check(text, before, terms)
        facts = {
            "verdict": report.verdict,
            "leaves": report.leaves,
            "needs": report.uses,
            "by_kind": dict(report.by_kind),
            "stated": report.stated,
        }
        yield from self.entries(
            f"line {terms} {before} {json.dumps(text, ensure_ascii=False)}",
            lambda: f"{self.shown(parse(clean(text), Context(terms=terms)))} {self.shown(report.plan)}",
            lambda: sums(facts, report.plan, report.problems),
        )

    def pattern(self, name: str, pattern: Any) -> Iterator[Entry]:
        """Every round of a pattern, and what is told of the whole."""
        yield from self.entries(
            name,
            lambda: self.shown([pattern.yarns, pattern.gauge, pattern.making_up]),
            lambda: sums({"title": pattern.title, "terms": pattern.terms}, None, all_problems(pattern)),
        )
        for number, piece in enumerate(pattern.pieces):
            facts = {"make": piece.make, "start": piece.start.value, "main": piece.main, "notes": piece.notes}
            whole = f"{name} piece {number} {json.dumps(piece.name, ensure_ascii=False)}"
            yield from self.entries(
                whole, lambda piece=piece: self.shown(piece.context), lambda facts=facts: sums(facts, None, ())
            )
            for index, (item, written) in enumerate(zip(piece.rounds, piece.lines, strict=True)):
                yield from self.round(f"{whole} round {index}", item, written)

    def round(self, name: str, item: Any, written: Any) -> Iterator[Entry]:
        facts = {
            "label": item.label,
            "text": item.text,
            "verdict": item.verdict,
            "before": item.before,
            "leaves": item.leaves,
            "stated": stated_in_short(item.stated),
            "colour": item.colour,
            "remark": item.remark,
            "worked_into": item.worked_into,
            "passing": item.passing,
            "line": item.line,
        }
        yield from self.entries(
            name,
            lambda: f"{self.shown(written)} {self.shown(item.plan)}",
            lambda: sums(facts, item.plan, item.problems),
        )

    def page(self, name: str, text: str, terms: str) -> Iterator[Entry]:
        """A pasted pattern: what became of each line, and the rounds of the pattern file that it makes."""
        try:
            read = from_text(text, terms)
        except TermsUnclear as unclear:
            yield "sums", name, f"terms unclear {unclear}"
            return
        if "sums" in self.sections:
            for one in read.outcomes:
                yield (
                    "sums",
                    f"{name} line {one.line}",
                    json.dumps([one.text, one.fate.value, one.why], ensure_ascii=False),
                )
        if read.draft.pieces:
            yield from self.pattern(name, loads(as_toml(read.draft)))

    def shown(self, value: Any) -> str:
        return shown(value, self.spans)


def table_lines() -> list[tuple[str, int | None, str]]:
    """Every line of the tables, once: its text, the stitches before it, and US or UK."""
    found: dict[tuple[str, int | None, str], None] = {}
    for path in sorted((ROOT / "tests").rglob("*.tsv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
                if row.get("text"):
                    before = (row.get("before") or "").strip()
                    text = row["text"].replace("\\n", "\n")
                    found[text, int(before) if before else None, row.get("terms") or "US"] = None
    return sorted(found, key=lambda line: (line[0], line[1] or 0, line[2]))


def everything(dump: Dump, pages: Path | None) -> Iterator[Entry]:
    for text, before, terms in table_lines():
        yield from dump.line(text, before, terms)
    for path in sorted((ROOT / "patterns").glob("*.toml")):
        yield from dump.pattern(f"shipped {path.stem}", load(path))
    for row in pages.read_text(encoding="utf-8").splitlines() if pages else ():
        page = json.loads(row)
        terms = page["terms"] if page["terms"] in ("US", "UK") else "US"
        yield from dump.page(f"page {page['id']}", "\n".join(page["lines"]) + "\n", terms)


def read_dump(path: Path, sections: tuple[str, ...]) -> dict[tuple[str, str], str]:
    rows = (row.split("\t", 2) for row in path.read_text(encoding="utf-8").split("\n") if row)
    return {(section, name): value for section, name, value in rows if section in sections}


def differences(old: dict[tuple[str, str], str], new: dict[tuple[str, str], str]) -> Iterator[str]:
    for key in [*old, *(key for key in new if key not in old)]:
        before, after = old.get(key), new.get(key)
        if before != after:
            section, name = key
            yield f"{section}\t{name}\n  - {before or '(not there)'}\n  + {after or '(not there)'}"


def compare(old: Path, new: Path, sections: tuple[str, ...]) -> int:
    before, after = read_dump(old, sections), read_dump(new, sections)
    found = list(differences(before, after))
    for one in found[:SHOWN]:
        print(one)
    print(f"{len(found)} of {len(before | after)} entries differ")
    return 1 if found else 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--pages", type=Path, metavar="FILE", help="pages of pasted text, as JSON lines")
    parser.add_argument("--only", choices=SECTIONS)
    parser.add_argument("--spans", action="store_true", help="with places in the text")
    parser.add_argument("--compare", nargs=2, type=Path, metavar=("OLD", "NEW"))
    told = parser.parse_args()
    sections = (told.only,) if told.only else SECTIONS
    if told.compare:
        return compare(*told.compare, sections)
    for entry in everything(Dump(sections, told.spans), told.pages):
        print("\t".join(part.replace("\t", "\\t") for part in entry))
    return 0


if __name__ == "__main__":
    sys.exit(main())
