"""The round as written, with the part being worked now marked: behind it is done, after it is still to come."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.screen.painting.lines import Bit, Line, Look, wrap


def instruction(text: str, now: Span | None, width: int) -> list[Line]:
    """The text wrapped to a width. Line breaks of the pattern are kept."""
    lines: list[Line] = []
    for number, written in enumerate(text.split("\n")):
        lines += wrap(_marked(written, number, now), width)
    return lines


def _marked(written: str, number: int, now: Span | None) -> list[Bit]:
    if now is None:
        return [Bit(written, Look.AHEAD)]
    if number != now.line:
        return [Bit(written, Look.DONE if number < now.line else Look.AHEAD)]
    parts = (
        Bit(written[: now.start], Look.DONE),
        Bit(written[now.start : now.end], Look.NOW),
        Bit(written[now.end :], Look.AHEAD),
    )
    return [part for part in parts if part.text]
