"""One hook by all its names: millimetres, the US letter and number, the old UK number.

Source: sizes that yarn makers' and traders' lists agree on; they differ for some letters, and the millimetres decide.
"""

from __future__ import annotations

import re

from tracker.lazy_pattern import compile_later

HOOKS: tuple[tuple[float, str, str], ...] = (
    (2.0, "", "14"),
    (2.25, "B-1", "13"),
    (2.75, "C-2", "12"),
    (3.0, "", "11"),
    (3.25, "D-3", "10"),
    (3.5, "E-4", "9"),
    (3.75, "F-5", ""),
    (4.0, "G-6", "8"),
    (4.5, "7", "7"),
    (5.0, "H-8", "6"),
    (5.5, "I-9", "5"),
    (6.0, "J-10", "4"),
    (6.5, "K-10 1/2", "3"),
    (7.0, "", "2"),
    (7.5, "", "1"),
    (8.0, "L-11", "0"),
    (9.0, "M/N-13", "00"),
    (10.0, "N/P-15", "000"),
)
"""Millimetres, US name and old UK number; "" where one of them has no such hook."""

_METRIC = compile_later(r"(\d+(?:[.,]\d+)?) ?mm\b", re.IGNORECASE)
_US = compile_later(r"(?:US |USA |size )?(?P<name>[A-P](?:/[A-P])?(?:-\d+(?: 1/2)?)?)(?: hook)?", re.IGNORECASE)


def hook_words(text: str) -> str:
    """The hook as the pattern names it, with its other names in brackets where they are certain.

    A text that already names it in two ways, or says more than one size, comes back as it is.
    """
    sizes = _METRIC.findall(text)
    other_words = _METRIC.sub("", text).strip()
    if len(sizes) == 1 and not re.search(r"[A-Z]\b|\d", other_words):
        names = _names_of_metric(float(sizes[0].replace(",", ".")))
        return f"{text} ({names})" if names else text
    match = _US.fullmatch(text.strip())
    row = _by_us_name(match["name"].upper()) if match else None
    if row is None:
        return text
    old = f", old UK {row[2]}" if row[2] else ""
    return f"{text} ({row[0]:g} mm{old})"


def _names_of_metric(millimetres: float) -> str:
    row = next((row for row in HOOKS if row[0] == millimetres), None)
    if row is None:
        return ""
    return ", ".join(f"{system} {name}" for system, name in (("US", row[1]), ("old UK", row[2])) if name)


def _by_us_name(name: str) -> tuple[float, str, str] | None:
    """By the whole name, or by a letter that only one hook has."""
    rows = [row for row in HOOKS if row[1] and (row[1] == name or row[1].split("-")[0] == name)]
    return rows[0] if len(rows) == 1 else None
