"""A differing count that waits for an answer: where to look, what to do about it, and what each choice does.

Whoever goes on before answering loses nothing: all of it is told as things stand now, with what was made since the
count taken to be right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import takewhile

from tracker.pattern.model import Pattern, Round
from tracker.rounds.count_parts import CountPart
from tracker.rounds.formatter import folded
from tracker.rounds.plan import Plan
from tracker.rounds.slicing import cut
from tracker.session.counting import (
    LOOKS_AHEAD,
    carried_to,
    expected_now,
    parts_now,
    round_to_count,
)
from tracker.session.events import (
    CarryOn,
    CauseConfirmed,
    CauseSupposed,
    Counted,
    Event,
    Frog,
    Part,
    PartCounted,
    RoundRewritten,
    Together,
)
from tracker.session.history import Timed
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.offers import Answer, Offer, offers, sentence
from tracker.session.miscount.question import Neighbour, Question, Worked
from tracker.session.miscount.repairs import Mend, Situation, Way, mends
from tracker.session.miscount.suspects import Suspect, locate
from tracker.session.miscount.tap_history import Tapped, rounds_tapped
from tracker.session.mistakes import Mistake
from tracker.session.refit import made_over
from tracker.session.state import Miscount, Place, State, copy_name, rounds_of
from tracker.session.worked_rounds import last_carried, reader_for, round_at, written_at

ROUNDS_BEFORE = 8
"""How many rounds before the counted one are looked at: for the pace, and because the mistake may be in them."""

FOR_THE_PACE = 2
"""Of rounds that were counted, so many are enough."""

NEAR = 2
"""How many rounds before and after may be the one whose number was counted."""


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What is told of a differing count in the round with this label, likeliest first.

    `stuck` are the labels of later rounds that would not work out with the difference, `parts` those in which the
    round can be counted again.
    """

    miscount: Miscount
    label: str
    sentence: str
    offers: tuple[Offer, ...]
    suspects: tuple[Suspect, ...] = ()
    stuck: tuple[str, ...] = ()
    parts: tuple[CountPart, ...] = ()

    def offer(self, kind: Answer) -> Offer | None:
        """The choice that does this."""
        return next((offer for offer in self.offers if offer.answer is kind), None)


ALWAYS = (Offer(Answer.COUNT_AGAIN, "count again"), Offer(Answer.CARRY_ON, "carry on, knowing it"))
"""What can be done about any count."""


def diagnose(pattern: Pattern, state: State, newest_first: Iterable[Timed], learned: Learned) -> Diagnosis | None:
    """What to tell of the count that waits for an answer; None if there is none about the piece in hand.

    `newest_first` is the history with its times, as far back as it is read.
    """
    miscount = state.work.unanswered
    if miscount is None or miscount.copy != state.work.in_hand:
        return None
    item = _at(pattern, state, miscount, miscount.round_index)
    if item.plan is None:
        return _of_unread(miscount, item.label)
    question = _question(pattern, state, item.plan, miscount, newest_first)
    suspects = locate(question, learned)
    situation = _situation(pattern, state, miscount, item, question)
    since = _Since(pattern, state, miscount)
    ways = tuple(since.now(way) for way in mends(situation, suspects) if since.allows(way))
    choices = offers(question, suspects, ways)
    if since.is_begun:
        choices = tuple(offer for offer in choices if offer.answer is not Answer.MOVE_PLACE) or ALWAYS
    label = _named(pattern, miscount, item.label)
    parts = parts_now(pattern, state, miscount.round_index)
    return Diagnosis(miscount, label, sentence(question, suspects), choices, suspects, situation.onward.stuck, parts)


def _named(pattern: Pattern, miscount: Miscount, label: str) -> str:
    """The round, with the copy where there are several of the piece."""
    return f"{copy_name(pattern, miscount.copy)}, {label}" if pattern.pieces[miscount.copy.piece].make > 1 else label


def stands_at_count(pattern: Pattern, state: State) -> bool:
    """Whether a count waits for an answer and nothing was made since, of the piece in hand."""
    miscount = state.work.unanswered
    if miscount is None or miscount.copy != state.work.in_hand:
        return False
    place = state.work.place_in(miscount.copy)
    if place.round_index == miscount.round_index:
        return place.moves == miscount.moves
    was_whole = miscount.moves >= _at(pattern, state, miscount, miscount.round_index).moves
    return was_whole and (place.round_index, place.moves) == (miscount.round_index + 1, 0)


def answer(pattern: Pattern, diagnosis: Diagnosis, offer: Offer) -> Event | None:
    """What a choice does, undone in one step; None for a choice that asks for another count."""
    parts: list[Part] = list(_done_by(pattern, diagnosis.miscount, offer))
    if not parts:
        return None
    if offer.supposes is not None:
        parts.append(CauseSupposed(offer.supposes.value))
    return _together(tuple(parts))


def count_of(pattern: Pattern, state: State, stitches: int, earlier: int | None = None) -> Event:
    """The event for a count that is told now, of the round at hand or of an earlier one with this index. One that
    agrees after another that did not shows what was wrong."""
    index = round_to_count(state.work) if earlier is None else earlier
    return _count_event(pattern, state, (Counted(stitches, index),), index, stitches)


def count_in_parts(pattern: Pattern, state: State, numbers: Sequence[int], earlier: int | None = None) -> Event:
    """The event for numbers that are told one for each next part of the round."""
    index = round_to_count(state.work) if earlier is None else earlier
    parts = tuple(PartCounted(number, index) for number in numbers)
    part_counts = (*state.work.part_counts, *numbers)
    is_whole = len(part_counts) == len(parts_now(pattern, state, index))
    return _count_event(pattern, state, parts, index, sum(part_counts)) if is_whole else _together(parts)


def _count_event(pattern: Pattern, state: State, parts: tuple[Part, ...], index: int, stitches: int) -> Event:
    """The count alone, or with what it shows: a number that differed was counted wrongly if now it is right."""
    miscount, copy = state.work.unanswered, state.work.in_hand
    again = miscount is not None and (miscount.copy, miscount.round_index) == (copy, index)
    if again and rounds_of(pattern, copy) and expected_now(pattern, state, index) == stitches:
        return Together((*parts, CauseConfirmed(Mistake.MISCOUNT.value)))
    return _together(parts)


def _together(parts: tuple[Part, ...]) -> Event:
    return parts[0] if len(parts) == 1 else Together(parts)


def _done_by(pattern: Pattern, miscount: Miscount, offer: Offer) -> Iterable[Part]:
    mend, index = offer.mend, miscount.round_index
    if offer.answer is Answer.MOVE_PLACE and offer.to is not None:
        return [_place_at(pattern, miscount, *offer.to)]
    if offer.answer is Answer.CARRY_ON:
        return [CarryOn()]
    if mend is None:
        return []
    if offer.answer is Answer.FROG:
        return [Frog(index - mend.rounds_back, mend.stitch)]
    return [RoundRewritten(index + line.ahead, line.text, line.before) for line in mend.rounds]


def _place_at(pattern: Pattern, miscount: Miscount, rounds: int, stitch: int) -> Frog:
    """A place, told in rounds from the one that was counted; beyond the last round it is the end of that one."""
    index, last = miscount.round_index + rounds, rounds_of(pattern, miscount.copy) - 1
    if index <= last:
        return Frog(index, stitch)
    return Frog(last, pattern.pieces[miscount.copy.piece].rounds[last].leaves or 0)


def _at(pattern: Pattern, state: State, miscount: Miscount, index: int) -> Round:
    return round_at(pattern, state.work, miscount.copy.piece, miscount.copy.number, index)


def _of_unread(miscount: Miscount, label: str) -> Diagnosis:
    """In a round that could not be read there is no place to point at."""
    by = abs(miscount.counted - miscount.expected)
    more = "more" if miscount.counted > miscount.expected else "fewer"
    difference = f"{by:,} {more} than {miscount.expected:,}"
    return Diagnosis(miscount, label, difference, ALWAYS)


def _question(
    pattern: Pattern, state: State, plan: Plan, miscount: Miscount, newest_first: Iterable[Timed]
) -> Question:
    index, place = miscount.round_index, state.work.place_in(miscount.copy)
    done = place.moves if place.round_index == index else plan.moves
    since = plan.stitches_before(done) - plan.stitches_before(miscount.moves)
    tapped = rounds_tapped(pattern, state, newest_first, miscount.copy, max(0, index - ROUNDS_BEFORE))
    this_round = tapped.get(index, Tapped())
    before = (
        _worked(_at(pattern, state, miscount, number), tapped.get(number, Tapped()))
        for number in range(index - 1, max(-1, index - 1 - ROUNDS_BEFORE), -1)
    )
    piece = pattern.pieces[miscount.copy.piece]
    return Question(
        plan=plan,
        expected=miscount.expected + since,
        counted=miscount.counted + since,
        done=done,
        taps=tuple(this_round.taps),
        begun=this_round.begun,
        earlier=_up_to_a_gap(before),
        near=tuple(_near(pattern, state, miscount)),
        times=miscount.times,
        parts=miscount.parts if done >= plan.moves else (),
        form=piece.start.value,
        label=_at(pattern, state, miscount, index).label,
        again=made_over(_at(pattern, state, miscount, index), plan.leaves, reader_for(pattern, piece)),
    )


def _near(pattern: Pattern, state: State, miscount: Miscount) -> Iterator[Neighbour]:
    """The rounds on both sides whose number is known."""
    for steps in range(-NEAR, NEAR + 1):
        index = miscount.round_index + steps
        if steps and 0 <= index < rounds_of(pattern, miscount.copy):
            item = _at(pattern, state, miscount, index)
            if item.leaves is not None:
                yield Neighbour(steps, item.label, item.leaves)


def _worked(item: Round, tapped: Tapped) -> Worked | None:
    if item.plan is None:
        return None
    return Worked(item.plan, tuple(tapped.taps), tapped.begun, tapped.counted, item.label)


def _up_to_a_gap(rounds: Iterable[Worked | None]) -> tuple[Worked, ...]:
    """Beyond a round that could not be read nothing is known."""
    unbroken: list[Worked] = []
    counted = 0
    for worked in rounds:
        if worked is None or counted == FOR_THE_PACE:
            break
        unbroken.append(worked)
        counted = counted + 1 if counted or worked.counted else 0
    return tuple(unbroken)


def _situation(pattern: Pattern, state: State, miscount: Miscount, item: Round, question: Question) -> Situation:
    index, copy = miscount.round_index, miscount.copy
    carried = last_carried(state.work, copy, index - 1)
    bases = carried_to(pattern, state, carried, index - 1) if carried else None
    last = min(index + 2 + LOOKS_AHEAD, rounds_of(pattern, copy))
    as_written = partial(written_at, pattern, state.work, copy.piece, copy.number)
    coming = map(as_written, range(index + 1, last))
    # A round that goes into an earlier one has that one's count, whatever this one came to.
    ahead = tuple(takewhile(lambda round_: round_.worked_into is None, coming))
    read = reader_for(pattern, pattern.pieces[copy.piece])
    below = item.before if bases is None else bases
    return Situation(question, item, ahead, read, below, pattern.terms, as_written(index).leaves)


class _Since:
    """What was made after the round that was counted, and what that leaves of the ways to put it right."""

    def __init__(self, pattern: Pattern, state: State, miscount: Miscount) -> None:
        self._place: Place = state.work.place_in(miscount.copy)
        self._next = miscount.round_index + 1
        whole = range(self._next, self._place.round_index)
        self._rounds: Sequence[Round] = [_at(pattern, state, miscount, index) for index in whole]
        self.is_begun = (self._place.round_index, self._place.moves) > (self._next, 0)
        self._present = _at(pattern, state, miscount, self._next) if self._is_in_next(pattern, miscount) else None

    def _is_in_next(self, pattern: Pattern, miscount: Miscount) -> bool:
        return self._place.round_index == self._next < rounds_of(pattern, miscount.copy)

    def allows(self, way: Mend) -> bool:
        """A round that is begun can be changed only where the change lies ahead."""
        if way.way is not Way.NEXT or not self.is_begun:
            return True
        present = self._present.plan if self._present else None
        return present is not None and _begin_alike(present, way.rounds[0].plan, self._place.moves)

    def now(self, way: Mend) -> Mend:
        """The same way with its price as it is now."""
        if way.way is not Way.FROG or not self.is_begun:
            return way
        more = sum(item.leaves or 0 for item in self._rounds) + self._place.stitches
        return replace(way, ripped=way.ripped + more)


def _begin_alike(one: Plan, other: Plan, moves: int) -> bool:
    """Whether two rounds are the same up to a move."""
    if moves >= min(one.moves, other.moves):
        return False
    try:
        return folded(cut(one.body, moves)[0]) == folded(cut(other.body, moves)[0])
    except ValueError:  # between the two stitches of an increase
        return False
