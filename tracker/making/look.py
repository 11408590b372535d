"""What a screen, a sentence or a program is told: pattern and state made into a view."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.diagnostics import Severity
from tracker.making.colours import colour_in_use, next_colour
from tracker.making.counting import expected_now, round_to_count
from tracker.making.intended import is_answer
from tracker.making.now import (
    Here,
    here,
    moves_marker,
    shown_index,
    side_now,
    step_of_now,
    words_of_now,
)
from tracker.making.share import piece_share, whole_share
from tracker.making.view import Difference, InHand, RoundAhead, View
from tracker.making.words import names_for
from tracker.making.work import (
    Copy,
    Miscount,
    State,
    copy_name,
    next_copy,
    round_at,
    rounds_of,
)
from tracker.pattern.model import Pattern, Piece, Round

ROUNDS_AHEAD = 2


def look(pattern: Pattern, state: State, names: Mapping[str, str] | None = None) -> View:
    """The view of this moment. `names` are the full names of the stitches, by default in the pattern's own terms."""
    work, at = state.work, here(pattern, state)
    called = names_for(pattern.terms) if names is None else names
    piece = pattern.pieces[at.copy.piece] if pattern.pieces else None
    turns = at.spot.turns if at.spot else ()
    colour = colour_in_use(pattern, state, at.copy, at.place)
    change = next_colour(pattern, state, at.copy, at.place, colour)
    hand = _in_hand(pattern, state)
    return View(
        title=pattern.title,
        piece=piece.name if piece else "",
        piece_index=at.copy.piece,
        pieces=len(pattern.pieces),
        copy=at.copy.number,
        copies=piece.make if piece else 1,
        round_index=at.index,
        rounds=rounds_of(pattern, at.copy),
        round_number=at.item.number,
        round_label=at.item.label,
        text=at.item.text,
        now_span=at.spot.act.span if at.spot else None,
        now=words_of_now(pattern, state, at, change, called),
        stitch=at.stitch,
        expected=at.item.leaves,
        repeat=turns[-1].number if turns else None,
        repeats=turns[-1].times if turns else None,
        moves_done=at.moves_done,
        moves=at.item.moves,
        step=step_of_now(at, called),
        colour=pattern.yarn_name(colour) if colour else "",
        colour_key=colour,
        next_colour=change,
        ahead=_ahead(pattern, state, at),
        piece_share=piece_share(pattern, work, at.copy),
        whole_share=whole_share(pattern, work),
        piece_finished=at.made,
        finished=_is_finished(pattern, state),
        making_up=tuple((step.step, i in work.steps_done) for i, step in enumerate(pattern.making_up)),
        asks_count=work.count_due,
        count_of=_counted(hand, at),
        unanswered=_difference(pattern, state, work.unanswered) if work.unanswered else None,
        differences=tuple(_difference(pattern, state, found) for found in work.miscounts),
        notes_here=_notes(pattern, state, at),
        remark=_remark(piece, at),
        doubt=_doubt(at.item),
        in_hand=hand,
        just_made=copy_name(pattern, work.ended) if work.ended else "",
        changed=work.own_round(at.copy, at.index) is not None,
        moves_marker=moves_marker(pattern, at),
        side=side_now(pattern, at),
        pattern_text=piece.rounds[at.index].text if piece and piece.rounds else "",
    )


def _ahead(pattern: Pattern, state: State, at: Here) -> tuple[RoundAhead, ...]:
    last = min(at.index + 1 + ROUNDS_AHEAD, rounds_of(pattern, at.copy))
    return tuple(_round_ahead(pattern, state, at.copy, index) for index in range(at.index + 1, last))


def _round_ahead(pattern: Pattern, state: State, copy: Copy, index: int) -> RoundAhead:
    item = round_at(pattern, state, copy.piece, copy.number, index)
    return RoundAhead(item.label, item.text, item.leaves, state.work.own_round(copy, index) is not None)


def _remark(piece: Piece | None, at: Here) -> str:
    """What the pattern says of a round; what it says of the piece stands at its first round and at its last."""
    notes = piece.notes if piece and at.index in (0, len(piece.rounds) - 1) else ()
    return ". ".join(part.strip().rstrip(".") for part in (at.item.remark, *notes) if part.strip())


def _doubt(item: Round) -> str:
    """The first thing that does not come out in a round as it is written; "" if all does."""
    return next((problem.message for problem in item.problems if problem.severity in _DOUBTS), "")


_DOUBTS = (Severity.ERROR, Severity.DISAGREES)


def _counted(hand: InHand | None, at: Here) -> str:
    """The round that a count is about; with its copy, where that is not the one that is worked now."""
    if hand is None:
        return ""
    is_here = (hand.piece_index, hand.copy) == (at.copy.piece, at.copy.number)
    return hand.round_label if is_here else f"{hand.round_label} of {hand.name}"


def _in_hand(pattern: Pattern, state: State) -> InHand | None:
    copy = state.work.in_hand
    if not rounds_of(pattern, copy):
        return None
    index = round_to_count(state.work)
    label = round_at(pattern, state, copy.piece, copy.number, index).label
    expected = expected_now(pattern, state, index)
    unended = index == state.work.place_in(copy).round_index
    return InHand(copy.piece, copy.number, copy_name(pattern, copy), index, label, expected, unended)


def _is_finished(pattern: Pattern, state: State) -> bool:
    every_step = len(state.work.steps_done) == len(pattern.making_up)
    return every_step and next_copy(pattern, state.work) is None


def _difference(pattern: Pattern, state: State, found: Miscount) -> Difference:
    piece = pattern.pieces[found.copy.piece]
    label = round_at(pattern, state, found.copy.piece, found.copy.number, found.round_index).label
    return Difference(piece.name, found.copy.number, label, found.expected, found.counted)


def _notes(pattern: Pattern, state: State, at: Here) -> tuple[str, ...]:
    notes = (note for note in state.work.notes if note.copy == at.copy and not is_answer(note.text))
    return tuple(note.text for note in notes if shown_index(pattern, at.copy, note.round_index) == at.index)
