"""A pattern as it is put together from text, and the pattern file that is written from it."""

from __future__ import annotations

from typing import Any

import tomli_w

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Gauge, Seat, Stands, Start, Yarn


@dataclass(frozen=True, slots=True)
class DraftPiece:
    """One piece: `text` is its rounds and whatever stands between them, line for line."""

    name: str
    text: str
    make: int = 1
    start: Start = Start.SPIRAL
    notes: tuple[str, ...] = ()
    stands: Stands | None = None
    seat: Seat | None = None
    yarn: str = ""
    """The yarn that it begins with, where no line of its text says so."""


@dataclass(frozen=True, slots=True)
class Draft:
    """All that a pattern file holds, before it is written."""

    title: str = ""
    terms: str = "US"
    size: int = 1
    """Which of several sizes is made, from 1."""
    sizes: int = 1
    """For how many sizes its numbers are."""
    hook: str = ""
    intended_for: str = ""
    notions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    gauge: Gauge | None = None
    yarns: tuple[Yarn, ...] = ()
    pieces: tuple[DraftPiece, ...] = ()
    making_up: tuple[str, ...] = ()
    is_draft: bool = False
    """Whether it is still being written, by the maker who works it."""
    words: tuple[tuple[str, str], ...] = ()
    """What the page explains of its own words: "pf" is a "puff stitch"."""


def as_toml(draft: Draft) -> str:
    """The pattern file. Reading it again gives the same title, yarns, pieces, rounds and steps."""
    table: dict[str, Any] = {"title": draft.title or "Untitled", "terms": draft.terms}
    if draft.is_draft:
        table["stage"] = "draft"
    if draft.size > 1:
        table["size"] = draft.size
    if draft.sizes > 1:
        table["sizes"] = draft.sizes
    if draft.hook:
        table["hook"] = draft.hook
    if draft.intended_for:
        table["for"] = draft.intended_for
    if draft.notions:
        table["notions"] = list(draft.notions)
    if draft.notes:
        table["notes"] = list(draft.notes)
    if draft.words:
        table["words"] = dict(draft.words)
    if draft.gauge is not None:
        table["gauge"] = _gauge(draft.gauge)
    if draft.yarns:
        table["yarn"] = {yarn.key: _yarn(yarn) for yarn in draft.yarns}
    table["piece"] = [_piece(piece) for piece in draft.pieces]
    table["making-up"] = [{"step": step} for step in draft.making_up]
    return tomli_w.dumps({key: value for key, value in table.items() if value != []}, multiline_strings=True)


def _gauge(gauge: Gauge) -> dict[str, Any]:
    over = f"{gauge.over_cm:g} cm"
    return {"stitch": gauge.stitch, "stitches": gauge.stitches, "rounds": gauge.rounds, "over": over}


def _yarn(yarn: Yarn) -> dict[str, Any]:
    fields = {
        "name": yarn.name,
        "colour": yarn.colour,
        "weight": yarn.weight,
        "ball_grams": yarn.ball_grams,
        "ball_metres": yarn.ball_metres,
    }
    return {key: value for key, value in fields.items() if value not in ("", None)}


def _piece(piece: DraftPiece) -> dict[str, Any]:
    notes = {"notes": list(piece.notes)} if piece.notes else {}
    return {
        "name": piece.name,
        "make": piece.make,
        "start": piece.start.value,
        **({"yarn": piece.yarn} if piece.yarn else {}),
        **({"stands": piece.stands.value} if piece.stands else {}),
        **(_seat(piece.seat) if piece.seat else {}),
        **notes,
        "rounds": piece.text.rstrip("\n") + "\n",
    }


def _seat(seat: Seat) -> dict[str, str]:
    rounds = f"Rnds {seat.rounds[0]}-{seat.rounds[1]}" if seat.rounds else ""
    at = ", ".join(filter(None, (rounds, seat.side.value if seat.side else "")))
    return {"on": seat.on, **({"at": at} if at else {})}
