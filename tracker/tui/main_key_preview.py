"""How far the main key goes in the round, and the cue for a change of colour on the way."""

from __future__ import annotations

from tracker.pattern.model import Pattern, Round
from tracker.session.colour_changes import cue_words
from tracker.session.reducer import State, round_at
from tracker.session.view import View
from tracker.tui.render.progress_ring import Progress


def present_round(pattern: Pattern, state: State) -> Round | None:
    """The round being worked; None when the copy in hand is made."""
    copy, index = state.work.copy, state.work.place.round_index
    if copy.piece >= len(pattern.pieces) or index >= len(pattern.pieces[copy.piece].rounds):
        return None
    return round_at(pattern, state.work, copy.piece, copy.number, index)


def progress(view: View) -> Progress:
    """Moves of the present round that are done, and how many will be after the main key."""
    return Progress(view.tap.start, view.tap.until) if view.tap else Progress(1, 1)


def cue(view: View) -> str:
    """The cue for a change of colour within the main key's next step, or ""."""
    return cue_words(view.next_colour, view.tap.stitches) if view.tap and view.tap.stretch.nodes else ""
