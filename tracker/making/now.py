"""What is to be done at this moment, in words, with the cue for the next colour."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.lazy_dataclass import dataclass
from tracker.making.sides import OTHER, turned_to
from tracker.making.view import ColourChange
from tracker.making.words import act_words, cue_words, now_words
from tracker.making.work import (
    Copy,
    Place,
    State,
    copy_name,
    is_made,
    next_copy,
    round_at,
    rounds_of,
)
from tracker.pattern.model import Pattern, Round, Start
from tracker.rounds.next_step import coming_now
from tracker.rounds.plan import Act, Role, Spot


@dataclass(frozen=True, slots=True)
class Here:
    """The round that is shown and the place in it; the last round once the copy is made."""

    copy: Copy
    item: Round
    index: int
    place: Place
    made: bool
    spot: Spot | None = None
    """Where in the round the next move is; None at its end, and in a round that could not be read."""

    @property
    def moves_done(self) -> int:
        return self.item.moves if self.made else self.place.moves

    @property
    def stitch(self) -> int:
        return self.item.leaves or 0 if self.made else self.place.stitches


NO_ROUND = Round(0, "", "", None)


def here(pattern: Pattern, state: State) -> Here:
    """Where the maker is. A pattern without rounds has nowhere to be and counts as made."""
    copy, place = state.work.copy, state.work.place
    index = shown_index(pattern, copy, place.round_index)
    if index < 0:
        return Here(copy, NO_ROUND, 0, place, True)
    item = round_at(pattern, state, copy.piece, copy.number, index)
    made = is_made(pattern, state.work, copy)
    spot = item.plan.spot(place.moves) if item.plan and not made else None
    return Here(copy, item, index, place, made, spot)


def shown_index(pattern: Pattern, copy: Copy, index: int) -> int:
    """The round that is shown for so many rounds done; -1 if there are none."""
    return min(index, rounds_of(pattern, copy) - 1)


def words_of_now(
    pattern: Pattern, state: State, at: Here, change: ColourChange | None, names: Mapping[str, str]
) -> str:
    """What the hands do next, up to the next boundary."""
    if at.made:
        return _after_all_rounds(pattern, state, at.copy)
    if at.item.plan is None:
        return "work this round by eye, it could not be read"
    if at.spot is None:
        return "nothing to make in this round, go on to the next"
    words = now_words(at.item.plan, at.place.moves, names)
    stitches = coming_now(at.item.plan, at.place.moves).stitches
    if stitches:
        words += _into_earlier(at.item)
    elif words.endswith("turn"):
        words += f": {turned_to(pattern.pieces[at.copy.piece], at.index + 1) or OTHER} faces you then"
    if change is None:
        return words
    cue = cue_words(change, stitches)
    return f"{words}; {cue}" if cue else words


def _into_earlier(item: Round) -> str:
    """Where the stitches go if not into the round before, and on which side of what lies between."""
    into = "" if item.worked_into is None else f", into {item.label.split()[0]} {item.worked_into}"
    if not item.passing:
        return into
    return f"{into}, {item.passing} what was made since" if into else f", working {item.passing.removesuffix(' of')}"


def _after_all_rounds(pattern: Pattern, state: State, copy: Copy) -> str:
    following = next_copy(pattern, state.work)
    if following is not None:
        return f"{copy_name(pattern, copy)} is made, {copy_name(pattern, following)} comes next"
    done = state.work.steps_done
    step = next((step.step for i, step in enumerate(pattern.making_up) if i not in done), None)
    return "everything is made" if step is None else f"making up: {step}"


def moves_marker(pattern: Pattern, at: Here) -> bool:
    """Whether the marker is to be moved up: at the first stitch of a round of a spiral, but for the first round."""
    if at.made or at.item.plan is None or at.index == 0 or at.place.moves:
        return False
    return pattern.pieces[at.copy.piece].start is Start.SPIRAL


def side_now(pattern: Pattern, at: Here) -> str:
    """The side that faces the maker at the beginning of a round that the work was turned for, or ""."""
    begins = not at.made and not at.place.moves
    return turned_to(pattern.pieces[at.copy.piece], at.index) if begins and pattern.pieces else ""


def step_of_now(at: Here, names: Mapping[str, str]) -> str:
    """The chain or step that comes now and makes no stitch, in words, or ""."""
    act: Act | None = at.spot.act if at.spot else None
    if act is None or act.stitches or act.role not in (Role.STEP, Role.CHAIN):
        return ""
    return act_words(act, 1, names)
