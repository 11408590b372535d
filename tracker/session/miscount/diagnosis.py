"""A differing count that waits for an answer: where to look, what to do about it, and what each choice does.

Whoever goes on before answering loses nothing: all of it is told as things stand now, with what was made since the
count taken to be right.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import takewhile

from tracker.pattern.model import Pattern, Round
from tracker.rounds.formatter import folded
from tracker.rounds.plan import Plan
from tracker.rounds.slicing import cut
from tracker.session.counting import (
    LOOKS_AHEAD,
    carried_to,
    expected_now,
    last_carried,
    round_to_count,
)
from tracker.session.events import (
    CarryOn,
    CauseConfirmed,
    Counted,
    Event,
    Frog,
    Part,
    RoundRewritten,
    Together,
)
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.offers import Answer, Offer, offers, sentence
from tracker.session.miscount.question import Question, Worked
from tracker.session.miscount.repairs import Mend, Situation, Way, mends
from tracker.session.miscount.suspects import Suspect, locate
from tracker.session.miscount.tap_history import Tapped, rounds_tapped
from tracker.session.mistakes import Mistake
from tracker.session.replay import Timed
from tracker.session.state import Miscount, Place, State, reader_for, round_at, rounds_of

ROUNDS_BEFORE = 2
"""How many rounds before the counted one are looked at: for the pace, and because the mistake may be in them."""


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What is told of a differing count in the round with this label, likeliest first.

    `stuck` are the labels of later rounds that would not work out with the difference.
    """

    found: Miscount
    label: str
    sentence: str
    offers: tuple[Offer, ...]
    suspects: tuple[Suspect, ...] = ()
    stuck: tuple[str, ...] = ()

    def offer(self, key: str) -> Offer | None:
        """The choice with this key."""
        return next((offer for offer in self.offers if offer.key == key), None)


ALWAYS = (Offer(Answer.COUNT_AGAIN, "count again"), Offer(Answer.CARRY_ON, "carry on"))
"""What can be done about any count."""


def diagnose(pattern: Pattern, state: State, newest_first: Iterable[Timed], learned: Learned) -> Diagnosis | None:
    """What to tell of the count that waits for an answer; None if there is none about the piece in hand.

    `newest_first` is the history with its times, as far back as it is read.
    """
    found = state.work.unanswered
    if found is None or found.copy != state.work.in_hand:
        return None
    item = _at(pattern, state, found, found.round_index)
    if item.plan is None:
        return _of_unread(found, item.label)
    question = _question(pattern, state, item.plan, found, newest_first)
    suspects = locate(question, learned)
    situation = _situation(pattern, state, found, item, question)
    since = _Since(pattern, state, found)
    ways = tuple(since.now(way) for way in mends(situation, suspects) if since.allows(way))
    told = offers(question, suspects, ways)
    if since.is_begun:
        told = tuple(offer for offer in told if offer.answer is not Answer.MOVE_PLACE) or ALWAYS
    return Diagnosis(found, item.label, sentence(question, suspects), told, suspects, situation.onward.stuck)


def stands_at_count(pattern: Pattern, state: State) -> bool:
    """Whether a count waits for an answer and nothing was made since, of the piece in hand."""
    found = state.work.unanswered
    if found is None or found.copy != state.work.in_hand:
        return False
    place = state.work.place_in(found.copy)
    if place.round_index == found.round_index:
        return place.moves == found.moves
    was_whole = found.moves >= _at(pattern, state, found, found.round_index).moves
    return was_whole and (place.round_index, place.moves) == (found.round_index + 1, 0)


def answer(diagnosis: Diagnosis, offer: Offer) -> Event | None:
    """What a choice does, undone in one step; None for a choice that asks for another count."""
    parts: list[Part] = list(_done_by(diagnosis.found.round_index, offer))
    if not parts:
        return None
    if offer.confirms is not None:
        parts.append(CauseConfirmed(offer.confirms.value))
    return parts[0] if len(parts) == 1 else Together(tuple(parts))


def count_of(pattern: Pattern, state: State, stitches: int) -> Event:
    """The event for a count that is told now. One that agrees after another that did not shows what was wrong."""
    index, found = round_to_count(state.work), state.work.unanswered
    given = Counted(stitches, index)
    again = found is not None and (found.copy, found.round_index) == (state.work.in_hand, index)
    if not again or not rounds_of(pattern, state.work.in_hand) or expected_now(pattern, state, index) != stitches:
        return given
    return Together((given, CauseConfirmed(Mistake.MISCOUNT.value)))


def _done_by(index: int, offer: Offer) -> Iterable[Part]:
    mend = offer.mend
    if offer.answer is Answer.MOVE_PLACE and offer.stitch is not None:
        return [Frog(index, offer.stitch)]
    if offer.answer is Answer.CARRY_ON:
        return [CarryOn()]
    if mend is None:
        return []
    if offer.answer is Answer.FROG:
        return [Frog(index - mend.rounds_back, mend.stitch)]
    return [RoundRewritten(index + line.ahead, line.text, line.before) for line in mend.rounds]


def _at(pattern: Pattern, state: State, found: Miscount, index: int) -> Round:
    return round_at(pattern, state, found.copy.piece, found.copy.number, index)


def _of_unread(found: Miscount, label: str) -> Diagnosis:
    """In a round that could not be read there is no place to point at."""
    by = abs(found.counted - found.expected)
    more = "more" if found.counted > found.expected else "fewer"
    told = f"{by:,} {'stitch' if by == 1 else 'stitches'} {more} than {found.expected:,}"
    return Diagnosis(found, label, told, ALWAYS)


def _question(pattern: Pattern, state: State, plan: Plan, found: Miscount, newest_first: Iterable[Timed]) -> Question:
    index, place = found.round_index, state.work.place_in(found.copy)
    done = place.moves if place.round_index == index else plan.moves
    since = plan.stitches_before(done) - plan.stitches_before(found.moves)
    tapped = rounds_tapped(pattern, state, newest_first, found.copy, max(0, index - ROUNDS_BEFORE))
    here = tapped.get(index, Tapped())
    before = (
        _worked(_at(pattern, state, found, number), tapped.get(number, Tapped()))
        for number in range(index - 1, max(-1, index - 1 - ROUNDS_BEFORE), -1)
    )
    return Question(
        plan=plan,
        expected=found.expected + since,
        counted=found.counted + since,
        done=done,
        taps=tuple(here.taps),
        begun=here.begun,
        earlier=_up_to_a_gap(before),
    )


def _worked(item: Round, tapped: Tapped) -> Worked | None:
    return None if item.plan is None else Worked(item.plan, tuple(tapped.taps), tapped.begun, tapped.counted)


def _up_to_a_gap(rounds: Iterable[Worked | None]) -> tuple[Worked, ...]:
    """Beyond a round that could not be read nothing is known."""
    known: list[Worked] = []
    for worked in rounds:
        if worked is None:
            break
        known.append(worked)
    return tuple(known)


def _situation(pattern: Pattern, state: State, found: Miscount, item: Round, question: Question) -> Situation:
    index, copy = found.round_index, found.copy
    carried = last_carried(state.work, copy, index - 1)
    bases = carried_to(pattern, state, carried, index - 1) if carried else None
    last = min(index + 1 + LOOKS_AHEAD, rounds_of(pattern, copy))
    coming = map(partial(_at, pattern, state, found), range(index + 1, last))
    # A round that goes into an earlier one has that one's count, whatever this one came to.
    ahead = tuple(takewhile(lambda round_: round_.worked_into is None, coming))
    read = reader_for(pattern, pattern.pieces[copy.piece])
    return Situation(question, item, ahead, read, item.before if bases is None else bases, pattern.terms)


class _Since:
    """What was made after the round that was counted, and what that leaves of the ways to put it right."""

    def __init__(self, pattern: Pattern, state: State, found: Miscount) -> None:
        self._place: Place = state.work.place_in(found.copy)
        self._next = found.round_index + 1
        whole = range(self._next, self._place.round_index)
        self._rounds: Sequence[Round] = [_at(pattern, state, found, index) for index in whole]
        self.is_begun = (self._place.round_index, self._place.moves) > (self._next, 0)
        self._present = _at(pattern, state, found, self._next) if self._is_in_next(pattern, found) else None

    def _is_in_next(self, pattern: Pattern, found: Miscount) -> bool:
        return self._place.round_index == self._next < rounds_of(pattern, found.copy)

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
