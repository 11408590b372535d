"""What a screen, a sentence or a program is told: pattern and state made into a view."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import partial
from itertools import accumulate

from tracker.diagnostics import Severity
from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.pattern.first_ring import ring_of_chains
from tracker.pattern.model import Pattern, Piece, Round, Start
from tracker.phrasing.stitches import RING, act_words, names_for, short_words, stretch_words
from tracker.rounds.plan import Act, Role, Spot, Technique
from tracker.session.colour_changes import colour_in_use, cue_words, next_colour
from tracker.session.colour_event import colour_event
from tracker.session.counting import comes_to, expected_now, round_to_count, stitches_made
from tracker.session.due_notes import DueNote, notes_due, notes_due_after
from tracker.session.state import Copy, Miscount, Place, State, Ticked, Work, copy_name, is_made, next_copy, rounds_of
from tracker.session.steps import ends_with_finishing, finishing, step_now
from tracker.session.view import ColourChange, Difference, InHand, RoundAhead, Step, StepSize, View
from tracker.session.worked_rounds import round_at

ROUNDS_AHEAD = 2


def look(
    pattern: Pattern, state: State, names: Mapping[str, str] | None = None, size: StepSize = StepSize.REPEAT
) -> View:
    """The view of this moment. `names` are the full names of the stitches, by default in the pattern's own terms;
    `size` is what one tap takes."""
    work, at = state.work, shown_round(pattern, state)
    called = names_for(pattern.terms) if names is None else names
    piece = pattern.pieces[at.copy.piece] if pattern.pieces else None
    if piece is not None and at.index <= 1 and not at.made and ring_of_chains(piece, at.item) is not None:
        called = {**called, RING: "ring"}
    turns = at.spot.turns if at.spot else ()
    colour = colour_in_use(pattern, state, at.copy, at.place)
    change = next_colour(pattern, state, at.copy, at.place, colour)
    hand = _in_hand(pattern, state)
    stop = stop_due(pattern, work)
    tap = step_now(pattern, state, size) if stop is None else None
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
        tap=tap,
        letters=stop.keyword if stop else short_words(tap.stretch, pattern.terms) if tap else "",
        now=stop.text if stop else words_of_now(pattern, state, at, tap, change, called),
        stitch=at.stitch,
        expected=at.comes_to,
        stitches_left=0 if at.made or at.item.leaves is None else at.item.leaves - at.place.stitches,
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
        all_made=next_copy(pattern, work) is None,
        piece_finished=at.made,
        finished=_is_finished(pattern, state),
        making_up=tuple((step.step, i in work.steps_done) for i, step in enumerate(pattern.making_up)),
        colour_event=colour_event(pattern, state, tap),
        stop=stop,
        asks_count=work.count_due,
        count_of=_counted(hand, at),
        unanswered=_difference(pattern, state, work.unanswered) if work.unanswered else None,
        differences=tuple(_difference(pattern, state, miscount) for miscount in work.miscounts),
        notes_here=_notes(pattern, state, at),
        remarks=tuple(_remarks(piece, at, stop)),
        doubt=_doubt(at.item),
        in_hand=hand,
        just_made=copy_name(pattern, work.ended) if work.ended else "",
        changed=work.own_round(at.copy, at.index) is not None or bool(at.item.printed),
        moves_marker=moves_marker(pattern, at),
        side=side_now(pattern, at),
        pattern_text=_as_printed(piece.rounds[at.index]) if piece and piece.rounds else "",
    )


def _as_printed(item: Round) -> str:
    return item.printed or item.text


def _ahead(pattern: Pattern, state: State, at: ShownRound) -> tuple[RoundAhead, ...]:
    last = min(at.index + 1 + ROUNDS_AHEAD, rounds_of(pattern, at.copy))
    return tuple(_round_ahead(pattern, state, at.copy, index) for index in range(at.index + 1, last))


def _round_ahead(pattern: Pattern, state: State, copy: Copy, index: int) -> RoundAhead:
    item = round_at(pattern, state.work, copy.piece, copy.number, index)
    changed = state.work.own_round(copy, index) is not None or bool(item.printed)
    return RoundAhead(item.label, item.text, item.leaves, changed)


_FULL_STOP = compile_later(r"(?<=\.)\s+")


def _remarks(piece: Piece | None, at: ShownRound, stop: DueNote | None) -> Iterator[str]:
    """What the pattern says of the round, and its notes that are due, sentence by sentence."""
    notes = _due_texts(piece, at, stop) if piece and piece.rounds else ()
    for text in (at.item.remark, *notes):
        yield from (part.rstrip(".") for part in _FULL_STOP.split(text.strip()) if part)


def _due_texts(piece: Piece, at: ShownRound, stop: DueNote | None) -> Iterator[str]:
    is_last = at.index == len(piece.rounds) - 1
    finish = finishing(at.item.plan) if at.item.plan else at.item.moves
    if at.place.moves >= finish or (is_last and finish == at.item.moves):
        yield from (note.text for note in notes_due_after(piece, at.index))
    if at.index and not at.place.moves and not ends_with_finishing(piece.rounds[at.index - 1]):
        yield from (note.text for note in notes_due_after(piece, at.index - 1) if note != stop)
    yield from notes_due(piece, at.index)


def stop_due(pattern: Pattern, work: Work) -> DueNote | None:
    """The note of the copy in hand that asks for something to be done now and is not ticked.

    What is due where the yarn is cut is told with that: it needs no tap of its own.
    """
    copy, place = work.in_hand, work.place_in(work.in_hand)
    if place.moves or not place.round_index:
        return None
    piece, index = pattern.pieces[copy.piece], place.round_index - 1
    if not piece.notes or ends_with_finishing(piece.rounds[index]):
        return None
    due = (note for note in notes_due_after(piece, index) if note.stops)
    return next((note for note in due if Ticked(copy, note.number) not in work.ticked), None)


def _doubt(item: Round) -> str:
    """The first thing that does not come out in a round as it is written; "" if all does."""
    return next((problem.message for problem in item.problems if problem.severity in _DOUBTS), "")


_DOUBTS = (Severity.ERROR, Severity.DISAGREES)


def _counted(hand: InHand | None, at: ShownRound) -> str:
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
    label = round_at(pattern, state.work, copy.piece, copy.number, index).label
    expected = expected_now(pattern, state, index)
    unended = index == state.work.place_in(copy).round_index
    return InHand(copy.piece, copy.number, copy_name(pattern, copy), index, label, expected, unended)


def _is_finished(pattern: Pattern, state: State) -> bool:
    every_step = len(state.work.steps_done) == len(pattern.making_up)
    has_rounds = any(piece.rounds for piece in pattern.pieces)  # of nothing at all nothing is finished
    return has_rounds and every_step and next_copy(pattern, state.work) is None


def _difference(pattern: Pattern, state: State, miscount: Miscount) -> Difference:
    piece = pattern.pieces[miscount.copy.piece]
    label = round_at(pattern, state.work, miscount.copy.piece, miscount.copy.number, miscount.round_index).label
    return Difference(piece.name, miscount.copy.number, label, miscount.expected, miscount.counted)


def _notes(pattern: Pattern, state: State, at: ShownRound) -> tuple[str, ...]:
    notes = (note for note in state.work.notes if note.copy == at.copy)
    return tuple(note.text for note in notes if shown_index(pattern, at.copy, note.round_index) == at.index)


# What is to be done at this moment, in words, with the cue for the next colour.


@dataclass(frozen=True, slots=True)
class ShownRound:
    """The round that is shown and the place in it; the last round once the copy is made."""

    copy: Copy
    item: Round
    index: int
    place: Place
    made: bool
    spot: Spot | None = None
    """Where in the round the next move is; None at its end, and in a round that could not be read."""
    comes_to: int | None = None
    """Stitches that the whole round leaves in the maker's hands."""
    stitch: int = 0
    """Stitches of the round that are made."""

    @property
    def moves_done(self) -> int:
        return self.item.moves if self.made else self.place.moves


NO_ROUND = Round(0, "", "", None)


def shown_round(pattern: Pattern, state: State) -> ShownRound:
    """Where the maker is. A pattern without rounds has nowhere to be and counts as made."""
    copy, place = state.work.copy, state.work.place
    index = shown_index(pattern, copy, place.round_index)
    if index < 0:
        return ShownRound(copy, NO_ROUND, 0, place, True)
    item = round_at(pattern, state.work, copy.piece, copy.number, index)
    made = is_made(pattern, state.work, copy)
    spot = item.plan.spot(place.moves) if item.plan and not made else None
    whole = comes_to(pattern, state, copy, index)
    done = (whole or 0) if made else stitches_made(pattern, state, copy)
    return ShownRound(copy, item, index, place, made, spot, whole, done)


def shown_index(pattern: Pattern, copy: Copy, index: int) -> int:
    """The round that is shown for so many rounds done; -1 if there are none."""
    return min(index, rounds_of(pattern, copy) - 1)


def words_of_now(
    pattern: Pattern,
    state: State,
    at: ShownRound,
    tap: Step | None,
    change: ColourChange | None,
    names: Mapping[str, str],
) -> str:
    """What the hands do next, with one tap."""
    if at.made or tap is None:
        return _after_all_rounds(pattern, state, at.copy)
    if at.item.is_by_eye and at.item.leaves is None:
        along_edge = any(problem.code == "by-eye" for problem in at.item.problems)
        return f"work this round {'as it says, as many along the edge as lie flat' if along_edge else 'as you like'}"
    if at.item.is_by_eye:
        return f"work this round by eye, it leaves {at.item.leaves:,}"
    if at.item.plan is None:
        return "work this round by eye, it could not be read"
    if at.spot is None:
        return "nothing to make in this round, go on to the next"
    words = stretch_words(tap.stretch, names)
    stitches = tap.stitches
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


def moves_marker(pattern: Pattern, at: ShownRound) -> bool:
    """Whether the marker is to be moved up: at the first stitch of a round of a spiral, but for the first round."""
    if at.made or at.item.plan is None or at.index == 0 or at.place.moves:
        return False
    return pattern.pieces[at.copy.piece].start is Start.SPIRAL


def side_now(pattern: Pattern, at: ShownRound) -> str:
    """The side that faces the maker at the beginning of a round that the work was turned for, or ""."""
    begins = not at.made and not at.place.moves
    return turned_to(pattern.pieces[at.copy.piece], at.index) if begins and pattern.pieces else ""


def step_of_now(at: ShownRound, names: Mapping[str, str]) -> str:
    """The chain or step that comes now and makes no stitch, in words, or ""."""
    act: Act | None = at.spot.act if at.spot else None
    if act is None or act.stitches or act.role not in (Role.STEP, Role.CHAIN):
        return ""
    return act_words(act, 1, names)


# How much is done, counted in moves; and how many rounds, for the history of a project.


@remembered
def _moves_before(piece: Piece) -> tuple[int, ...]:
    """The moves of all rounds before each round; the last entry is all of them."""
    return tuple(accumulate((item.moves for item in piece.rounds), initial=0))


def _more_moves(pattern: Pattern, work: Work, copy: Copy, rounds: int) -> int:
    """How many moves more the first rounds of a copy have because the maker works some of them otherwise."""
    if not work.own_rounds:
        return 0
    changed = {own.round_index for own in work.own_rounds if own.copy == copy and own.round_index < rounds}
    printed_rounds = pattern.pieces[copy.piece].rounds
    at = partial(round_at, pattern, work, copy.piece, copy.number)
    return sum(at(index).moves - printed_rounds[index].moves for index in changed)


def _moves_done(pattern: Pattern, work: Work, copy: Copy) -> int:
    place = work.place_in(copy)
    moves = _moves_before(pattern.pieces[copy.piece])[place.round_index]
    return moves + _more_moves(pattern, work, copy, place.round_index) + place.moves


def _all_moves(pattern: Pattern, work: Work, copy: Copy) -> int:
    piece = pattern.pieces[copy.piece]
    return _moves_before(piece)[-1] + _more_moves(pattern, work, copy, len(piece.rounds))


def piece_share(pattern: Pattern, work: Work, copy: Copy) -> float:
    """How much of one copy is done, 0 to 1."""
    if copy.piece >= len(pattern.pieces):
        return 1.0
    # A last round over more stitches than the pattern has goes on beyond it.
    return min(1.0, _moves_done(pattern, work, copy) / (_all_moves(pattern, work, copy) or 1))


def whole_share(pattern: Pattern, work: Work) -> float:
    """How much of everything is done, 0 to 1: of all copies by moves, and a step of making up like a round."""
    moves = sum(_moves_before(piece)[-1] * piece.make for piece in pattern.pieces)
    changed = {own.copy for own in work.own_rounds}
    more = sum(_more_moves(pattern, work, copy, rounds_of(pattern, copy)) for copy in changed)
    whole = moves + more
    done = sum(_moves_done(pattern, work, copy) for copy, _ in _begun(pattern, work))
    share = min(1.0, done / whole) if whole else 1.0
    steps = len(pattern.making_up)
    if not steps:
        return share
    each = 1 / (steps + sum(len(piece.rounds) * piece.make for piece in pattern.pieces))
    return share * (1 - steps * each) + len(work.steps_done) * each


def rounds_done(pattern: Pattern, work: Work) -> int:
    """How many rounds of all copies are made."""
    return sum(place.round_index for _, place in _begun(pattern, work))


def _begun(pattern: Pattern, work: Work) -> list[tuple[Copy, Place]]:
    places = [(work.copy, work.place), *((parked.copy, parked.place) for parked in work.parked)]
    return [(copy, place) for copy, place in places if copy.piece < len(pattern.pieces)]


# Which side of the work faces the maker, as far as the pattern tells it.

OTHER = "the other side"

_NAMES = {
    "rs": "the right side",
    "right side": "the right side",
    "ws": "the wrong side",
    "wrong side": "the wrong side",
}
_OPPOSITE = {"the right side": "the wrong side", "the wrong side": "the right side"}
_SIDE = compile_later(
    r"[(\[]\s*(rs|ws|right side|wrong side)\b|\b(rs|ws|right side|wrong side)\s+facing\b", re.IGNORECASE
)
_TURNS = (Technique.TURN, Technique.TURN_AROUND)


def turned_to(piece: Piece, index: int) -> str:
    """What faces the maker in this round of the piece after the turn before it; "" if there was none.

    "the right side" and "the wrong side" where the pattern tells which, else "the other side".
    """
    if not 0 < index < len(piece.rounds) or not _turns_after(piece, index - 1):
        return ""
    return _side(piece, index) or OTHER


def _side(piece: Piece, index: int) -> str:
    """The side in this round, from the nearest one that says it; "" if none does, or what is between is unclear."""
    for distance in range(len(piece.rounds)):
        for other in (index - distance, index + distance):
            side = _named_side(piece.rounds[other]) if 0 <= other < len(piece.rounds) else ""
            if side:
                return _carried(piece, side, min(index, other), max(index, other))
    return ""


def _carried(piece: Piece, side: str, first: int, last: int) -> str:
    turns = 0
    for index in range(first, last):
        if _is_unclear(piece.rounds[index]):
            return ""
        turns += _turns_after(piece, index)
    return _OPPOSITE[side] if turns % 2 else side


def _named_side(item: Round) -> str:
    """The side that a round names; one that is written for several rounds, or like another, names the first one's."""
    match = _SIDE.search(item.text)
    if match is None:
        return ""
    from tracker.notation.parser.heading import heading_of  # most rounds name no side

    if heading_of(item.text).first != item.number:
        return ""
    return _NAMES[(match[1] or match[2]).lower()]


def _turns_after(piece: Piece, index: int) -> bool:
    """Whether the work is turned at the end of this round; rows are, unless they say otherwise."""
    steps = _steps(piece.rounds[index])
    if any(step in _TURNS for step in steps):
        return True
    return piece.start is Start.ROWS and not _is_unclear(piece.rounds[index]) and Technique.NO_TURN not in steps


def _is_unclear(item: Round) -> bool:
    """Whether it may be turned more than once, or the yarn is cut, after which it may begin at either end."""
    steps = _steps(item)
    cut = Technique.FASTEN_OFF in steps
    return item.plan is None or cut or sum(step in _TURNS for step in steps) > 1


def _steps(item: Round) -> list[Technique]:
    return [act.technique for act in item.plan.acts() if act.role is Role.STEP] if item.plan else []
