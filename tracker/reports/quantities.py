"""Figures as a person reads them, and as a person types them: lengths, grams, spans of time, gauges."""

from __future__ import annotations

import re

from tracker.measure.ranges import Range
from tracker.pattern.model import Gauge

_CM = {"mm": 0.1, "cm": 1.0, "m": 100.0, "in": 2.54, '"': 2.54, "": 1.0}
_NUMBER = r"(\d+(?:[.,]\d+)?)"


class UnclearFigure(ValueError):
    """What was typed for a figure makes no sense; the text says what would."""


def length_cm(text: str) -> float:
    """ "8cm", "80 mm", "3.5in" in centimetres; a bare number is centimetres already."""
    match = re.fullmatch(rf'{_NUMBER}\s*(mm|cm|m|in|")?', text.strip().lower())
    value = _number(match[1]) * _CM[match[2] or ""] if match else 0.0
    if value <= 0:
        raise UnclearFigure(f"'{text}' is no length: write for example 8cm, 80mm or 3in")
    return value


def gauge_of(text: str, stitch: str = "sc") -> Gauge:
    """ "20x22": stitches by rounds over 10 cm, of this stitch."""
    match = re.fullmatch(rf"{_NUMBER}\s*[x×*/]\s*{_NUMBER}", text.strip().lower())
    if match is None or not (_number(match[1]) > 0 and _number(match[2]) > 0):
        raise UnclearFigure(f"'{text}' is no gauge: write stitches by rounds over 10 cm, for example 20x22")
    return Gauge(stitch, _number(match[1]), _number(match[2]))


_GAUGE_WORDS = re.compile(
    rf"{_NUMBER}\s*(?:sc|sts?|stitches)?\s*(?:[x×*/,]|by|and)\s*{_NUMBER}\s*(?:rounds?|rnds?|rows?)?", re.IGNORECASE
)


def gauge_from_words(text: str) -> Gauge:
    """ "22 sc x 24 rounds", "22 by 24": single crochets by rounds over 10 cm."""
    match = _GAUGE_WORDS.fullmatch(text.strip())
    return gauge_of(f"{match[1]}x{match[2]}" if match else text)


def round_numbers(text: str) -> tuple[int, int]:
    """ "3" or "1-6": first and last."""
    match = re.fullmatch(r"(\d{1,6})(?:\s*[-–]\s*(\d{1,6}))?", text.strip())
    if match is None:
        raise UnclearFigure(f"'{text}' is no round: write for example 3, or 1-6")
    return int(match[1]), int(match[2] or match[1])


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def amount(value: Range, unit: str = "", digits: int = 1) -> str:
    """ "6.1 cm", "5.2-6.8 cm", "at least 2 cm"."""
    unit = f" {unit}" if unit else ""
    low, high = f"{value.low:.{digits}f}", f"{value.high:.{digits}f}"
    if value.is_open:
        return f"at least {low}{unit}"
    return f"{low}{unit}" if low == high else f"{low}-{high}{unit}"


def span_of_time(seconds: Range) -> str:
    """ "2 to 3 hours", "20 to 30 minutes": never finer than the maker's pace tells."""
    if seconds.high < 90 * 60:
        low, high = max(1, round(seconds.low / 60)), max(1, round(seconds.high / 60))
        return f"{low} to {high} minutes" if low != high else f"about {low} minute{'s' if low > 1 else ''}"
    low_hours, high_hours = _half(seconds.low / 3600), _half(seconds.high / 3600)
    return f"{low_hours:g} to {high_hours:g} hours" if low_hours != high_hours else f"about {low_hours:g} hours"


def _half(hours: float) -> float:
    """To the half hour, and to the hour from ten on."""
    # Half hours mean nothing beside ten of them.
    return float(round(hours)) if hours >= 10 else max(0.5, round(hours * 2) / 2)
