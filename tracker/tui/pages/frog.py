"""Ripping back, chosen from a list: what stays and what goes is read before anything is done."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.plural import number_of
from tracker.rounds.next_step import breath_end
from tracker.session.events import Frog
from tracker.session.state import Place, copy_name
from tracker.session.worked_rounds import round_at
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, CHOOSE, Page
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Look

MOST_IN_ROUND = 12
"""Places of the round being made that are offered; further back in it stitches are tapped again soon enough."""

# Rounds in one list; further back is typed.
MOST_ROUNDS = 200


class FrogPage(Page):
    """Ends with the `Frog` to do."""

    def __init__(self, desk: Desk) -> None:
        self._rows = tuple(frog_rows(desk))
        name = copy_name(desk.pattern, desk.project.state.work.in_hand)
        super().__init__(f"frog: rip back {name} to", desk.palette, (*CHOOSE, BACK))

    def rows(self) -> tuple[Row, ...]:
        return self._rows


def frog_rows(desk: Desk) -> Iterator[Row]:
    """The last places first: in the round being made, its start, then the start of each earlier round."""
    pattern, state = desk.pattern, desk.project.state
    copy = state.work.in_hand
    place = state.work.place_in(copy)
    if place == Place():
        yield Row("nothing of this piece is made yet: there is nothing to rip back", look=Look.STRONG)
        return
    going = place.stitches
    if place.moves:
        item = round_at(pattern, state.work, copy.piece, copy.number, place.round_index)
        for stitches in _places_before(item.plan, place) if item.plan else ():
            staying_words = f"{stitches:,} of this round stay, {going - stitches:,} go"
            yield Row(f"{item.label}, stitch {stitches:,}", Frog(place.round_index, stitches), staying_words)
        going_words = f"{number_of(going, 'stitch')} of it go, {_before(desk, place.round_index)}"
        yield Row(f"{item.label}, its start", Frog(place.round_index), going_words)
    for index in range(place.round_index - 1, max(-1, place.round_index - 1 - MOST_ROUNDS), -1):
        item = round_at(pattern, state.work, copy.piece, copy.number, index)
        going += item.leaves or 0
        yield Row(f"{item.label}, its start", Frog(index), f"{number_of(going, 'stitch')} go, {_before(desk, index)}")


def _places_before(plan: object, place: Place) -> list[int]:
    """The ends of the steps that led here, nearest first, as stitches of the round."""
    from tracker.rounds.plan import Plan

    assert isinstance(plan, Plan)
    stitch_counts: list[int] = []
    move = 0
    # Places in one list; further back is typed.
    while move < place.moves and len(stitch_counts) < 10_000:
        stitches = plan.stitches_before(move)
        if stitches and stitches < place.stitches:
            stitch_counts.append(stitches)
        move = breath_end(plan, move)
    return list(dict.fromkeys(reversed(stitch_counts)))[:MOST_IN_ROUND]


def _before(desk: Desk, index: int) -> str:
    """What the work ends with then."""
    copy = desk.project.state.work.in_hand
    if index == 0:
        return "nothing stays"
    item = round_at(desk.pattern, desk.project.state.work, copy.piece, copy.number, index - 1)
    return f"{item.label} stays" + (f" with {item.leaves:,}" if item.leaves is not None else "")
