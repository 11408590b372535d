"""Counting: when to ask for it, and what to do when the maker's count differs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Pattern, Round
from tracker.rounds.plan import MAX_STITCHES
from tracker.session.events import AskChosen, Counted, PartCounted
from tracker.session.refit import Reader, is_worked_elsewhere, made_over
from tracker.session.state import Copy, Miscount, Place, Refused, State, Witness, Work, copy_name
from tracker.session.worked_rounds import is_fitted, last_carried, remembering_reader, round_at, written_at

if TYPE_CHECKING:
    from tracker.rounds.count_parts import CountPart

WHEN = ("each", "change", "every", "never")


def round_to_count(work: Work) -> int:
    """The round of the copy in hand that a count given now is about: the one just ended, or the one being made."""
    place = work.place_in(work.in_hand)
    return place.round_index - 1 if place.moves == 0 and place.round_index else place.round_index


def expected_now(pattern: Pattern, state: State, index: int) -> int | None:
    """How many stitches this round of the copy in hand should have by now; None where nobody can know."""
    copy = state.work.in_hand
    place = state.work.place_in(copy)
    item = written_at(pattern, state.work, copy.piece, copy.number, index)
    if item.leaves is None or (item.plan is None and index >= place.round_index):
        return None
    return (item.leaves if index < place.round_index else place.stitches) + made_up_for(state.work, copy, index, item)


def counted(pattern: Pattern, state: State, event: Counted, parts: tuple[int, ...] = ()) -> Work:
    """The work after a count: equal answers what was open, different opens a question.

    While a question is open, an older round may be counted to find where the difference began: if that one is right
    the question stays, and if it differs the question is about that round from now on.
    """
    if not 0 <= event.stitches <= MAX_STITCHES:
        raise Refused(f"a count from 0 to {MAX_STITCHES:,} is needed")
    copy, index = state.work.in_hand, _index_meant(pattern, state, event)
    expected = expected_now(pattern, state, index)
    work = state.work if index != round_to_count(state.work) else replace(state.work, count_due=False)
    item = round_at(pattern, state.work, copy.piece, copy.number, index)
    if item.is_in_doubt and index < state.work.place_in(copy).round_index and not work.own_round(copy, index):
        return _witnessed(work, Witness(copy, index, event.stitches))
    if expected is None:
        return work
    is_older = work.unanswered is not None and work.unanswered.copy == copy and index < work.unanswered.round_index
    if event.stitches == expected and not _is_in_own_number(pattern, state, copy, index):
        return replace(work, miscounts=_without(work, copy, index)) if is_older else _agreed(work, copy, index)
    carried = last_carried(work, copy, index)
    carried_count = carried_to(pattern, state, carried, index) if carried else None
    if carried_count is None and _is_in_own_number(pattern, state, copy, index):
        carried_count = expected
    if event.stitches == carried_count:
        return work if is_older else _nothing_new(work, copy)
    if carried_count is not None and carried and carried.round_index < index:
        expected = carried_count
    moves = _moves_made(pattern, state, copy, index)
    miscount = Miscount(copy, index, moves, expected, event.stitches, parts=parts)
    return replace(work, unanswered=miscount) if is_older else _with_question(work, _again(work.unanswered, miscount))


def _is_in_own_number(pattern: Pattern, state: State, copy: Copy, index: int) -> bool:
    """Whether this is the round being made, and it follows the maker's own number."""
    return index == state.work.place_in(copy).round_index and is_fitted(pattern, state.work, copy, index)


def _again(before: Miscount | None, miscount: Miscount) -> Miscount:
    """The same number counted once more is confirmed by it; a whole count keeps the parts of the one before."""
    if before is None or replace(before, times=1, parts=miscount.parts) != miscount:
        return miscount
    return replace(miscount, times=before.times + 1, parts=miscount.parts or before.parts)


def part_counted(pattern: Pattern, state: State, event: PartCounted) -> Work:
    """The work after one more part of a round was counted; the last part makes the count of the round."""
    if not 0 <= event.stitches <= MAX_STITCHES:
        raise Refused(f"a count from 0 to {MAX_STITCHES:,} is needed")
    parts = parts_now(pattern, state, event.round_index)
    if not parts:
        raise Refused("this round is counted as a whole")
    part_counts = (*state.work.part_counts, event.stitches)
    if len(part_counts) < len(parts):
        return replace(state.work, part_counts=part_counts)
    whole = Counted(sum(part_counts), event.round_index)
    return counted(pattern, replace(state, work=replace(state.work, part_counts=())), whole, part_counts)


def parts_now(pattern: Pattern, state: State, index: int) -> tuple[CountPart, ...]:
    """The parts in which this round of the copy in hand can be counted: none before it is whole, or in doubt."""
    copy = state.work.in_hand
    if not 0 <= index < state.work.place_in(copy).round_index:
        return ()
    from tracker.rounds.count_parts import parts_to_count  # no tap needs it

    item = round_at(pattern, state.work, copy.piece, copy.number, index)
    return parts_to_count(item.plan) if item.plan and not item.is_in_doubt else ()


def _witnessed(work: Work, witness: Witness) -> Work:
    """A count in a round whose printed line is in doubt: remembered, and held against nothing."""
    others = tuple(w for w in work.witnesses if (w.copy, w.round_index) != (witness.copy, witness.round_index))
    return replace(work, witnesses=(*others, witness))


def _index_meant(pattern: Pattern, state: State, event: Counted) -> int:
    """Which round was counted. At the start of a round there is nothing of it to count: the one before is meant."""
    place = state.work.place_in(state.work.in_hand)
    index = event.round_index
    if index < 0 or index > place.round_index:
        raise Refused("that round is not begun yet: count the one just made, or the one being made")
    if index < place.round_index or place.moves:
        return index
    if index == 0:
        raise Refused(f"nothing of {copy_name(pattern, state.work.in_hand)} is made yet that could be counted")
    return index - 1


def _moves_made(pattern: Pattern, state: State, copy: Copy, index: int) -> int:
    place: Place = state.work.place_in(copy)
    if index == place.round_index:
        return place.moves
    return round_at(pattern, state.work, copy.piece, copy.number, index).moves


def _agreed(work: Work, copy: Copy, index: int) -> Work:
    """A count that is as it should be: what differed in this round or before it has come right."""
    differing = tuple(m for m in work.miscounts if m.copy != copy or m.round_index > index)
    return replace(_nothing_new(work, copy), miscounts=differing)


def _nothing_new(work: Work, copy: Copy) -> Work:
    """A count with no more in it than the maker knows already answers what was open about this copy."""
    still = work.unanswered if work.unanswered and work.unanswered.copy != copy else None
    return replace(work, unanswered=still)


def _with_question(work: Work, miscount: Miscount) -> Work:
    """A difference waits for an answer. One that still waited about another round was carried on from in fact."""
    before = work.unanswered
    if before is not None and (before.copy, before.round_index) != (miscount.copy, miscount.round_index):
        work = carried_on(work)
    return replace(work, unanswered=miscount)


def carried_on(work: Work, fitted: bool = False) -> Work:
    """The difference is remembered and no longer asked about; `fitted` is whether later rounds follow it."""
    miscount = work.unanswered
    if miscount is None:
        raise Refused("there is no differing count to carry on from")
    miscounts = _without(work, miscount.copy, miscount.round_index)
    return replace(work, unanswered=None, miscounts=(*miscounts, replace(miscount, fitted=fitted)))


def _without(work: Work, copy: Copy, index: int) -> tuple[Miscount, ...]:
    """The remembered differences without those of one round: a later count of it replaces them."""
    return tuple(m for m in work.miscounts if (m.copy, m.round_index) != (copy, index))


def asked_when(work: Work, event: AskChosen) -> Work:
    """The work with another wish of when to be asked."""
    if event.when not in WHEN or event.every < 1:
        raise Refused('a count can be asked for "each" round, at a "change", "every" so many rounds, or "never"')
    due = work.count_due and event.when != "never"
    return replace(work, asks=event, count_due=due)


# Differences that the maker knows of: what a count should come to with them, so that nobody is told twice.


def made_up_for(work: Work, copy: Copy, index: int, item: Round) -> int:
    """How many stitches more or fewer there are in a round because the next one was changed to make up for it."""
    following = work.own_round(copy, index + 1) if work.own_rounds else None
    if following is None or following.since[0] != index or item.leaves is None:
        return 0
    place = work.place_in(copy)
    is_before = (place.round_index, place.moves) < following.since
    return 0 if is_before else following.before - item.leaves


def carried_to(pattern: Pattern, state: State, miscount: Miscount, index: int) -> int | None:
    """What a round comes to by now with a difference that was carried on with in it or before it; None if the
    difference has come right since, or if nobody can know."""
    place = state.work.place_in(miscount.copy)
    if index < place.round_index:
        return _whole_with(pattern, state, miscount, index)
    by = _by(round_at(pattern, state.work, miscount.copy.piece, miscount.copy.number, miscount.round_index), miscount)
    return place.stitches + by if by is not None and index == miscount.round_index else None


def comes_to(pattern: Pattern, state: State, copy: Copy, index: int) -> int | None:
    """Stitches that a whole round leaves in the maker's hands: as it is worked, or with the difference that was
    carried on with in it or before it, for as long as that has not come right. None where nobody can know."""
    carried = last_carried(state.work, copy, index)
    own = _whole_with(pattern, state, carried, index) if carried else None
    return round_at(pattern, state.work, copy.piece, copy.number, index).leaves if own is None else own


def stitches_made(pattern: Pattern, state: State, copy: Copy) -> int:
    """Stitches of the round in work that are made, never more than it comes to. A difference that was counted in
    this very round is in it; one from an earlier round shows only where the round ends, since nobody can know the
    place before."""
    place = state.work.place_in(copy)
    carried = last_carried(state.work, copy, place.round_index)
    if carried is None:
        return place.stitches
    carried_count = carried_to(pattern, state, carried, place.round_index)
    whole = comes_to(pattern, state, copy, place.round_index)
    stitches = max(0, place.stitches if carried_count is None else carried_count)
    return stitches if whole is None else min(stitches, whole)


def _by(item: Round, miscount: Miscount) -> int | None:
    """Stitches more (+) or fewer (-) than the round has by itself at the place of the count."""
    stitches = item.leaves if item.plan is None else item.plan.stitches_before(miscount.moves)
    return None if stitches is None else miscount.counted - stitches


def _whole_with(pattern: Pattern, state: State, miscount: Miscount, index: int) -> int | None:
    """What a whole round comes to with a difference; None as for `carried_to`."""
    if index - miscount.round_index > LOOKS_AHEAD:
        return None
    at = partial(written_at, pattern, state.work, miscount.copy.piece, miscount.copy.number)
    counted_in = round_at(pattern, state.work, miscount.copy.piece, miscount.copy.number, miscount.round_index)
    by, leaves = _by(counted_in, miscount), at(miscount.round_index).leaves
    if by is None or leaves is None or counted_in.leaves is None:
        return None
    printed_rounds = pattern.pieces[miscount.copy.piece].rounds
    coming = [(at(number), printed_rounds[number]) for number in range(miscount.round_index + 1, index + 1)]
    return _worked_on(pattern, miscount.copy, coming, counted_in.leaves + by, leaves)


def _worked_on(
    pattern: Pattern, copy: Copy, coming: list[tuple[Round, Round]], stitches: int, leaves: int | None
) -> int | None:
    """Stitches after the last of the coming rounds, each with the pattern's in its place, if there are so many before
    them instead of what the pattern leaves, and they are worked as they are."""
    read = remembering_reader(pattern, copy.piece)
    for item, printed in coming:
        if leaves is None or stitches == leaves or is_worked_elsewhere(printed, leaves):
            return None
        new_leaves = made_over(item, stitches, read)
        if new_leaves is None:  # by eye, or as well as it can be done: the difference goes on
            new_leaves = None if item.leaves is None else max(0, item.leaves + stitches - leaves)
        if new_leaves is None:
            return None
        stitches, leaves = new_leaves, printed.leaves
    return stitches


# Carrying on with a difference: which of the rounds to come still work out.

LOOKS_AHEAD = 1000
"""Rounds; where a piece has more, nothing is said of carrying on, since nothing is proven."""


MOST_STUCK = 3
"""Rounds that do not work out; after so many nobody needs to hear of more."""


@dataclass(frozen=True, slots=True)
class Onward:
    """What happens to a difference. `stuck` names the first rounds that do not work out; `left` is how many stitches
    more (+) or fewer (-) than the pattern there are at the end, or at the last round looked at. `is_proven` is
    whether every round to come was worked with the real number until the difference was gone or the piece ended."""

    stuck: tuple[str, ...]
    left: int
    is_proven: bool = True


def carried_on_too(ahead: Sequence[Round], stitches: int, leaves: int | None, read: Reader) -> Onward:
    """Work the rounds to come as written over `stitches` stitches where the pattern has `leaves`."""
    stuck: list[str] = []
    leaves_by_line: dict[tuple[str, int], int | None] = {}
    is_proven = len(ahead) <= LOOKS_AHEAD
    for round_ in ahead[:LOOKS_AHEAD]:
        if leaves is None:
            is_proven = False
        if leaves is None or len(stuck) == MOST_STUCK:
            break
        if stitches == leaves or is_worked_elsewhere(round_, leaves):
            is_proven = True
            break
        if (round_.text, stitches) not in leaves_by_line:
            leaves_by_line[round_.text, stitches] = made_over(round_, stitches, read)
        new_leaves = leaves_by_line[round_.text, stitches]
        if new_leaves is None:
            stuck.append(round_.label)
            new_leaves = (round_.leaves or 0) + stitches - leaves
        stitches, leaves = new_leaves, round_.leaves
    difference = stitches - leaves if leaves is not None else 0
    return Onward(tuple(stuck), difference, is_proven and not stuck)
