"""`rounds check`: every piece and round with its verdict, as a table, as JSON, or line by line for other programs.

Standard output is the answer; what went wrong in reading a file goes to standard error.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import IO, Any

from tracker.cli.exit_codes import ExitCode
from tracker.cli.file_hints import tell_what_to_do
from tracker.diagnostics import Problem, show
from tracker.normalize import clean
from tracker.pattern.loader import all_problems, load
from tracker.pattern.model import Pattern, Piece, Round
from tracker.pattern.pattern_file import UnreadableFile
from tracker.rounds.line_report import read_line

_MARKS = {"ok": "ok", "warning": "? warning", "disagrees": "! disagrees", "error": "x error"}
_UNKNOWN = "- not known"
"""For a round of which nothing can be said, because the one below it could not be read."""

MAX_LINE = 1_000_000
"""The longest line of JSON that the filter reads, in characters."""


def check_files(paths: list[Path], as_json: bool) -> int:
    """Check pattern files; 0 if all are clean, 1 with findings, 2 if one cannot be read."""
    worst = ExitCode.DONE
    reports: list[dict[str, Any]] = []
    for path in paths:
        try:
            pattern = load(path)
        except UnreadableFile as stop:
            worst = ExitCode.REFUSED
            reports.append({"file": str(path), "readable": False, "problems": [_problem(p) for p in stop.problems]})
            if not as_json:
                _print_problems(stop.problems, stop.source, path, sys.stderr)
                tell_what_to_do(path, str(path), stop)
            continue
        problems = all_problems(pattern)
        worst = max(worst, ExitCode.FINDINGS if problems else ExitCode.DONE)
        if as_json:
            reports.append(_report(path, pattern, problems))
        else:
            _print_pattern(path, pattern, problems)
    if as_json:
        import json  # whoever reads the table does not wait for it

        print(json.dumps(reports, ensure_ascii=False, indent=2))
    return worst


def _print_problems(problems: Iterable[Problem], source: str, path: Path, stream: IO[str]) -> None:
    lines = source.split("\n")
    for problem in problems:
        print(show(problem, lines, str(path)), file=stream)


def _print_pattern(path: Path, pattern: Pattern, problems: list[Problem]) -> None:
    for piece in pattern.pieces:
        print(*_table(pattern, piece), sep="\n")
    _print_problems(problems, pattern.source, path, sys.stdout)
    for line in _suggested(pattern):
        print(line)
    rounds = sum(len(piece.rounds) for piece in pattern.pieces)
    verdict = "all clean" if not problems else f"{len(problems)} finding{'s' if len(problems) > 1 else ''}"
    pieces = len(pattern.pieces)
    counts = f"{rounds} round{'s' * (rounds != 1)} in {pieces} piece{'s' * (pieces != 1)}"
    print(f"{clean(str(path))}: {counts}, {verdict}\n")


_HEADINGS = ("round", "there", "uses", "leaves", "stated", "verdict")
_IN_FIGURES = slice(1, 5)
"""The columns of numbers, which stand at the right."""


def _table(pattern: Pattern, piece: Piece) -> Iterator[str]:
    """The rounds of a piece in columns; written here, as loading what paints tables takes as long as the reading."""
    copies = f", made {piece.make} times" if piece.make > 1 else ""
    yield f"{pattern.title}: {piece.name}{copies}"
    rows = [_HEADINGS, *(_row(label, round_) for label, round_ in _merged(piece.rounds))]
    columns = list(zip(*rows, strict=True))
    columns[_IN_FIGURES] = [_at_the_right(column) for column in columns[_IN_FIGURES]]
    labels, width = columns[0], max(map(len, columns[0]))
    columns[0] = tuple([label.ljust(width) for label in labels])
    yield from map("  ".join, zip(*columns, strict=True))


def _row(label: str, round_: Round) -> tuple[str, ...]:
    plan = round_.plan
    numbers = (round_.before, plan.uses if plan else None, plan.leaves if plan else None)
    verdict = round_.verdict
    mark = _UNKNOWN if plan is None and verdict == "ok" else _MARKS[verdict]
    return label, *("-" if number is None else f"{number}" for number in numbers), stated_words(round_), mark


def _at_the_right(cells: tuple[str, ...]) -> tuple[str, ...]:
    """The cells of a column, all as wide as the widest of them on a terminal."""
    if "".join(cells).isascii():
        width = max(map(len, cells))
        return tuple([cell.rjust(width) for cell in cells])
    from rich.cells import cell_len

    width = max(map(cell_len, cells))
    return tuple([" " * (width - cell_len(cell)) + cell for cell in cells])


def _merged(rounds: tuple[Round, ...]) -> Iterator[tuple[str, Round]]:
    """Rounds of one range with the same numbers, in one row."""
    index = 0
    while index < len(rounds):
        first, end = rounds[index], index + 1
        while end < len(rounds) and _alike(first, rounds[end]):
            end += 1
        word = first.label.split(" ")[0]
        label = first.label if end == index + 1 else f"{word}s {first.number}-{rounds[end - 1].number}"
        yield label, first
        index = end


def _alike(one: Round, other: Round) -> bool:
    if one.line != other.line or one.column != other.column:
        return False
    numbers = one.before == other.before and one.leaves == other.leaves and one.verdict == other.verdict
    return numbers and one.plan == other.plan


def stated_words(round_: Round) -> str:
    """The stated total in short: "18", "9 + 9 sp", "7 shell", "-" where there is none."""
    stated = round_.stated
    if stated is None:
        return "-"
    parts = [str(stated.stitches)] if stated.stitches is not None else []
    parts += [f"{stated.spaces} sp"] if stated.spaces is not None else []
    parts += [f"{stated.chains} ch"] if stated.chains is not None else []
    parts += [f"{number} {name}" for name, number in stated.groups]
    parts += [f"{stated.change:+}"] if stated.change and not parts else []
    return " + ".join(parts) or "-"


def _is_quiet(pattern: Pattern) -> bool:
    """Whether nothing at all is said of any round, so that there is no misprint to look for."""
    return not any(round_.problems for piece in pattern.pieces for round_ in piece.rounds)


def _suggested(pattern: Pattern) -> Iterable[str]:
    if _is_quiet(pattern):
        return ()
    from tracker.cli import suggestions

    return suggestions.suggestion_lines(pattern)


def _suggestions(pattern: Pattern) -> list[dict[str, Any]]:
    if _is_quiet(pattern):
        return []
    from tracker.cli import suggestions

    return suggestions.as_values(pattern)


def _report(path: Path, pattern: Pattern, problems: list[Problem]) -> dict[str, Any]:
    return {
        "file": str(path),
        "readable": True,
        "title": pattern.title,
        "clean": not problems,
        "pieces": [
            {"name": piece.name, "make": piece.make, "rounds": [_round(round_) for round_ in piece.rounds]}
            for piece in pattern.pieces
        ],
        "problems": [_problem(problem) for problem in problems],
        "suggestions": _suggestions(pattern),
    }


def _round(round_: Round) -> dict[str, Any]:
    plan = round_.plan
    return {
        "round": round_.number,
        "label": round_.label,
        "line": round_.line + 1,
        "before": round_.before,
        "uses": plan.uses if plan else None,
        "leaves": plan.leaves if plan else None,
        "spaces": plan.tally.spaces if plan else None,
        "by_kind": dict(plan.tally.kinds) if plan else {},
        "stated": round_.stated.stitches if round_.stated else None,
        "verdict": round_.verdict,
        "messages": [problem.message for problem in round_.problems],
    }


def _problem(problem: Problem) -> dict[str, Any]:
    return {
        "severity": problem.severity.value,
        "code": problem.code,
        "line": problem.span.line + 1,
        "column": problem.span.start + 1,
        "message": problem.message,
        "help": problem.help,
    }


def filter_lines(source: Iterable[str] | None = None, target: IO[str] | None = None) -> int:
    """Read one JSON object a line and write one a line; whatever a line holds, it gets an answer."""
    import json

    target = target or sys.stdout
    for line in sys.stdin if source is None else source:
        if line.strip():
            print(json.dumps(_answer(line), ensure_ascii=False), file=target, flush=True)
    return ExitCode.DONE


def _answer(line: str) -> dict[str, object]:
    import json

    try:
        if len(line) > MAX_LINE:
            raise ValueError(f"the line has more than {MAX_LINE:,} characters")
        request = json.loads(line)
        text, before, terms = _fields_of(request)
    except (ValueError, RecursionError) as wrong:
        return _refused(str(wrong) or "too deep")
    return read_line(text, before, terms).as_json()


def _fields_of(request: object) -> tuple[str, int | None, str]:
    if not isinstance(request, dict):
        raise ValueError('expected an object such as {"text": "Rnd 3: ...", "before": 12, "terms": "US"}')
    text, before, terms = request.get("text"), request.get("before"), request.get("terms", "US")
    if not isinstance(text, str):
        raise ValueError("'text' should be the round as text")
    if before is not None and (not isinstance(before, int) or isinstance(before, bool)):
        raise ValueError("'before' should be a whole number or null")
    if terms is not None and terms not in ("US", "UK"):
        raise ValueError("'terms' should be US or UK")
    return text, before, terms or "US"


def _refused(message: str) -> dict[str, object]:
    return {"leaves": None, "uses": None, "by_kind": {}, "stated": None, "verdict": "error", "messages": [message]}
