"""The present round in full, and how its stitches are worked, with their names on both sides of the sea."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import BY_ID, Stitch
from tracker.pattern.model import Pattern, Piece, Round
from tracker.phrasing.terms import prose_in_terms
from tracker.rounds.plan import Act
from tracker.session.due_notes import due_notes
from tracker.session.view import View
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Look


class ExplainPage(Page):
    """What is written of the round comes first, then the stitches, the one that comes now before the others; then
    the notes of the piece that are not due here."""

    def __init__(self, view: View, pattern: Pattern, a_round: Round | None, move: int, palette: Palette) -> None:
        super().__init__("this round and its stitches", palette)
        round_rows = tuple(written(view)) if a_round else ()
        notes = other_notes(pattern.pieces[view.piece_index], view.remark if a_round else "")
        self._rows = (*round_rows, *explained(a_round, move, pattern.terms), *notes)

    def rows(self) -> tuple[Row, ...]:
        return self._rows or (Row("there is no stitch here to explain"),)


def written(view: View) -> Iterator[Row]:
    """The round as it is worked, what the pattern says of it, and what the maker noted here."""
    yield from (Row(part, look=Look.STRONG) for part in view.text.split("\n"))
    if view.doubt:
        yield Row(f"! as written: {view.doubt}", look=Look.STRONG)
    if view.remark:
        yield Row(view.remark)
    yield from (Row(f"note: {note}") for note in view.notes_here)
    yield Row("")


def other_notes(piece: Piece, due: str) -> Iterator[Row]:
    """All notes of the piece, sentence by sentence as written, but for those in `due`, which are told above."""
    others = [note.text for note in due_notes(piece) if note.text.rstrip(".") not in due]
    if others:
        yield from (Row(""), Row("other notes of this piece", look=Look.STRONG))
    yield from (Row(text) for text in others)


def explained(a_round: Round | None, move: int, terms: str) -> Iterator[Row]:
    """A row for each kind of stitch and each act that needs words of its own, the present one first."""
    if a_round is None or a_round.plan is None:
        return
    spot = a_round.plan.spot(move)
    acts = ([spot.act] if spot else []) + list(a_round.plan.acts())
    told_names: set[str] = set()
    for act in acts:
        for name, row in _of_act(act, terms):
            if name not in told_names:
                told_names.add(name)
                yield row


def _of_act(act: Act, terms: str) -> Iterator[tuple[str, Row]]:
    if act.name in BUNCH_BY_ID:
        yield act.name, Row(act.name, None, BUNCH_BY_ID[act.name].how, Look.STRONG)
    elif act.is_increase:
        yield "inc", Row("increase (inc)", None, f"work {act.stitches} stitches into the same place", Look.STRONG)
    elif act.is_decrease:
        yield "dec", Row("decrease (dec)", None, _DECREASE.format(act.takes), Look.STRONG)
    for made in act.makes:
        stitch = BY_ID.get(made.kind)
        if stitch is not None:
            yield stitch.id, _of_stitch(stitch, terms)


_DECREASE = "work {} stitches together: begin each, leave its last loop on the hook, and draw through all at the end"


def _of_stitch(stitch: Stitch, terms: str) -> Row:
    name, short = (stitch.uk_name, stitch.uk) if terms == "UK" else (stitch.us_name, stitch.us)
    other = f"UK: {stitch.uk_name} ({stitch.uk})" if terms != "UK" else f"US: {stitch.us_name} ({stitch.us})"
    how = prose_in_terms(stitch.how, "US", terms)
    return Row(f"{name} ({short})", None, f"{how}. {other}. In a chart: {stitch.symbol_words}.", Look.STRONG)
