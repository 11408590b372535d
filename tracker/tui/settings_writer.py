"""Writes one setting into the maker's file and leaves everything else in it as it is, remarks and order too."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path

from tracker.tui.settings import FILE

Value = str | float | Sequence[str]


def keep(folder: Path, name: str, value: Value, table: str = "") -> bool:
    """Whether the setting was written; `table` is the one it stands in, "" for none.

    A file that is not TOML, or holds the setting in a form that cannot be changed alone, is left as it is: its maker
    goes on writing it. Of a link the file behind it is written. Raises OSError if it can't be written.
    """
    path = (folder / FILE).resolve()
    try:
        text = path.read_text("utf-8-sig") if path.exists() else ""
        changed = _changed(text, name, value, table)
    except (RecursionError, ValueError):
        return False
    if changed is None:
        return False
    folder.mkdir(parents=True, exist_ok=True)
    fresh = path.with_suffix(".new")
    fresh.write_text(changed, "utf-8", newline="\n")
    fresh.replace(path)
    return True


def _changed(text: str, name: str, value: Value, table: str) -> str | None:
    """The text with the setting in it; None where no change of single lines gives just that."""
    new_table = tomllib.loads(text)
    section = new_table.setdefault(table, {}) if table else new_table
    if not isinstance(section, dict):
        return None
    section[name] = list(value) if isinstance(value, list | tuple) else value
    lines = text.splitlines()
    start, end = _room_of(lines, table)
    if start < 0:
        lines += ["", f"[{table}]"]
        start = end = len(lines)
    setting_lines = [f"{name} = {json.dumps(value, ensure_ascii=False)}"]
    for before, after in _places(lines, name, start, end):
        candidate = "\n".join([*lines[:before], *setting_lines, *lines[after:]]) + "\n"
        if _is_toml_of(candidate, new_table):
            return candidate
    return None


def _places(lines: list[str], name: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """The lines that the setting may take: those that hold it now, which may be several, or none at the end."""
    setting_line = re.compile(rf'\s*"?{re.escape(name)}"?\s*=')
    first = next((at for at in range(start, end) if setting_line.match(lines[at])), None)
    if first is None:
        yield end, end
        return
    yield from ((first, after) for after in range(first + 1, end + 1))


def _room_of(lines: list[str], table: str) -> tuple[int, int]:
    """From where to where the lines of a table stand, those of no table for ""; -1 where it is not there."""
    heads = [at for at, each in enumerate(lines) if re.match(r"\s*\[", each)]
    if not table:
        return 0, _behind_last(lines, 0, heads[0] if heads else len(lines))
    start = next((at for at in heads if re.fullmatch(rf"\s*\[\s*{re.escape(table)}\s*\]\s*(#.*)?", lines[at])), None)
    if start is None:
        return -1, -1
    return start + 1, _behind_last(lines, start + 1, next((at for at in heads if at > start), len(lines)))


def _behind_last(lines: list[str], start: int, end: int) -> int:
    """Behind the last line that is not blank."""
    while end > start and not lines[end - 1].strip():
        end -= 1
    return end


def _is_toml_of(text: str, table: dict[str, object]) -> bool:
    try:
        return tomllib.loads(text) == table
    except ValueError:
        return False
