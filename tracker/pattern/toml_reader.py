"""Tables of a pattern file, asked for values of a certain sort; what is wrong is noted with its place."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from tracker.diagnostics import Problem, Span, error, warning
from tracker.normalize import clean
from tracker.suggestion import suggestion

# Characters of one text; ten thousand rounds have half a million.
MAX_TEXT = 2_000_000
# Entries of one list, as of notions.
MAX_LIST = 1_000
MOST_UNKNOWN = 20
"""Unknown keys of one table that are told one by one."""
MOST_OF_A_KEY = 60
"""Characters of an unknown key that are told."""

_HEADER = re.compile(r"""^\s*\[\[?\s*["']?(.*?)["']?\s*\]?\]""")


class Places:
    """Where keys and texts stand in the source. TOML's reader does not tell, so they are looked up by their look."""

    def __init__(self, source: str) -> None:
        self.lines = source.split("\n")
        self._headers: dict[str, list[int]] = {}
        for number, line in enumerate(self.lines):
            if match := _HEADER.match(line):
                self._headers.setdefault(match[1], []).append(number)

    def key(self, key: str, after: int) -> tuple[int, int]:
        """Line and column of `key = ...` at or below line `after`, within its table; the table itself otherwise."""
        pattern = re.compile(rf"""^\s*["']?{re.escape(key)}["']?\s*[=.]""")
        for number in range(after, len(self.lines)):
            if number > after and self.lines[number].lstrip().startswith("["):
                break
            if pattern.match(self.lines[number]):
                return number, len(self.lines[number]) - len(self.lines[number].lstrip())
        return after, 0

    def header(self, name: str, number: int = 0) -> int:
        """The line of the `number`-th table or list of tables with this name."""
        lines = self._headers.get(name, ())
        return lines[number] if number < len(lines) else 0


class Table:
    """One table. Every question gives a usable answer; problems collect in `problems`, shared with the whole file."""

    def __init__(
        self, data: Mapping[str, Any], places: Places, label: str, line: int, problems: list[Problem] | None = None
    ) -> None:
        self._data = data
        self._places = places
        self._label = label
        self.line = line
        self.problems: list[Problem] = [] if problems is None else problems

    def problem(self, code: str, message: str, help: str = "", line: int | None = None, column: int = 0) -> None:
        number = self.line if line is None else line
        text = self._places.lines[number] if number < len(self._places.lines) else ""
        self.problems.append(error(code, message, Span(number, column, max(len(text), column + 1)), help))

    def _wrong(self, key: str, expected: str) -> None:
        line, column = self._places.key(key, self.line)
        self.problem("wrong-type", f"'{key}' of {self._label} should be {expected}", "", line, column)

    def only(self, names: tuple[str, ...]) -> None:
        """Note every key that is not known, with the nearest one that is; of very many, how many more there are."""
        unknown = [key for key in self._data if key not in names]
        for key in unknown[:MOST_UNKNOWN]:
            name = _shown(str(key))[:MOST_OF_A_KEY]
            near = suggestion(name, names)
            line, column = self._places.key(str(key), self.line)
            if line == self.line and isinstance(self._data[key], Mapping | list):
                line = self._places.header(str(key)) or line
            help = f"did you mean '{near}'?" if near else f"known are: {', '.join(names)}"
            span = Span(line, column, column + max(len(str(key)), 1))
            self.problems.append(warning("unknown-key", f"unknown key '{name}' in {self._label}", span, help))
        if len(unknown) > MOST_UNKNOWN:
            more = f"{len(unknown) - MOST_UNKNOWN:,} more unknown keys in {self._label}"
            self.problems.append(warning("unknown-key", more, Span(self.line, 0, 1)))

    def value(self, key: str) -> Any:
        return self._data.get(key)

    def text(self, key: str) -> str:
        value = self._data.get(key)
        if value is None:
            return ""
        if not isinstance(value, str):
            self._wrong(key, 'text in "quotes"')
            return ""
        return _shown(value[:MAX_TEXT]) if key == "rounds" else _on_one_line(value)

    def texts(self, key: str) -> tuple[str, ...]:
        value = self._data.get(key)
        if value is None:
            return ()
        if isinstance(value, str):
            return (_on_one_line(value),)
        if not isinstance(value, list) or not all(isinstance(item, str) for item in value):
            self._wrong(key, 'a list of texts, ["like", "this"]')
            return ()
        return tuple(_on_one_line(item) for item in value[:MAX_LIST])

    def number(self, key: str) -> float | None:
        value = self._data.get(key)
        if value is None:
            return None
        good = isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
        # Nothing of a pattern weighs, measures or counts a million.
        if not good or not 0 < value < 1_000_000:
            self._wrong(key, "a number above 0")
            return None
        return float(value)

    def whole(self, key: str, low: int, high: int) -> int | None:
        value = self._data.get(key)
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
            self._wrong(key, f"a whole number from {low:,} to {high:,}")
            return None
        return value

    def choice(self, key: str, allowed: tuple[str, ...], default: str) -> str:
        value = self._data.get(key)
        if value is None:
            return default
        for word in allowed:
            if isinstance(value, str) and value.strip().lower() == word.lower():
                return word
        listed = " or ".join(f'"{word}"' for word in allowed)
        self._wrong(key, listed)
        return default

    def hex_colour(self, key: str) -> str:
        value = self._data.get(key)
        if value is None:
            return ""
        if not isinstance(value, str) or not re.fullmatch(r"#[0-9a-fA-F]{6}", value):
            self._wrong(key, 'a colour such as "#b23a2e"')
            return ""
        return value.lower()

    def centimetres(self, key: str, default: float) -> float:
        """A length such as "10 cm" or "4 in", in centimetres; 1 inch is 2.54 cm."""
        value = self._data.get(key)
        if value is None:
            return default
        match = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*(cm|mm|in|inch|inches|\")?\s*", str(value))
        # A hundred metres, in centimetres: no swatch is wider.
        if not match or not 0 < float(match[1]) < 10_000 or isinstance(value, bool | list | dict):
            self._wrong(key, 'a length such as "10 cm" or "4 in"')
            return default
        return float(match[1]) * {"cm": 1.0, None: 1.0, "mm": 0.1}.get(match[2], 2.54)

    def table(self, key: str, names: tuple[str, ...]) -> Table | None:
        value = self._data.get(key)
        if value is None:
            return None
        if not isinstance(value, Mapping):
            self._wrong(key, f"a table: [{key}]")
            return None
        table = Table(value, self._places, f"[{key}]", self._places.header(key), self.problems)
        table.only(names)
        return table

    def named_tables(self, key: str, names: tuple[str, ...]) -> list[tuple[str, Table]]:
        """Tables such as [yarn.R], by name, in the order of the file."""
        value = self._data.get(key)
        if value is None:
            return []
        if not isinstance(value, Mapping):
            self._wrong(key, f"tables: [{key}.A]")
            return []
        tables: list[tuple[str, Table]] = []
        for name, inner in list(value.items())[:MAX_LIST]:
            line = self._places.header(f"{key}.{name}")
            label = _on_one_line(str(name))
            if not isinstance(inner, Mapping):
                self.problem("wrong-type", f"'{label}' of [{key}] should be a table: [{key}.{label}]", "", line)
                continue
            table = Table(inner, self._places, f"[{key}.{label}]", line, self.problems)
            table.only(names)
            tables.append((label, table))
        return tables

    def named_texts(self, key: str) -> list[tuple[str, str, int]]:
        """A table of texts such as [words]: each name, its text and its line, in the order of the file."""
        value = self._data.get(key)
        if value is None:
            return []
        if not isinstance(value, Mapping):
            self._wrong(key, f"a table: [{key}]")
            return []
        line = self._places.header(key)
        texts: list[tuple[str, str, int]] = []
        for name, text in list(value.items())[:MAX_LIST]:
            label, at = _on_one_line(str(name)), self._places.key(str(name), line)[0]
            if isinstance(text, str):
                texts.append((label, _on_one_line(text), at))
            else:
                self.problem("wrong-type", f"'{label}' of [{key}] should be text", 'write it in "quotes"', at)
        return texts

    def tables(self, key: str, names: tuple[str, ...]) -> list[Table]:
        """A list of tables such as [[piece]], in the order of the file."""
        value = self._data.get(key)
        if value is None:
            return []
        if not isinstance(value, list):
            self._wrong(key, f"a list of tables: [[{key}]]")
            return []
        tables: list[Table] = []
        for number, inner in enumerate(value):
            line = self._places.header(key, number)
            if not isinstance(inner, Mapping):
                self.problem("wrong-type", f"each {key} should be a table: [[{key}]]", "", line)
                continue
            table = Table(inner, self._places, f"[[{key}]] number {number + 1}", line, self.problems)
            table.only(names)
            tables.append(table)
        return tables

    def text_place(self, key: str) -> tuple[int, int]:
        """Line and column of the first character of a text's content."""
        line, column = self._places.key(key, self.line)
        if line >= len(self._places.lines):
            return line, column
        match = re.search(r"=\s*(\"\"\"|'''|\"|')", self._places.lines[line][column:])
        if match is None:
            return line, column
        after = column + match.end()
        # Three quotes open a text of several lines (TOML).
        if len(match[1]) == 3 and not self._places.lines[line][after:].strip():
            return line + 1, 0
        return line, after


def _shown(text: str) -> str:
    """The text made safe to show: TOML's own escapes can bring in again what was taken out of the file."""
    return text if text.replace("\n", " ").isprintable() else clean(text)


def _on_one_line(text: str) -> str:
    return " ".join(_shown(text).split())[:2_000]
