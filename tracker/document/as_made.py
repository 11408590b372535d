"""What a maker really did, gathered from the place and the history: rounds as worked, counts, notes, and time.

The place (`State`) is certain. Counts that agreed and the time for each round are in the history alone; they are told
only where going through the history leads to that very place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from tracker.document.round_lines import WrittenLine
from tracker.journal.records import Happened
from tracker.lazy_dataclass import dataclass, field
from tracker.pattern.model import Pattern, Piece, Round
from tracker.plural import number_of
from tracker.project.work_time import PAUSE, Day
from tracker.session.events import (
    Closed,
    Counted,
    Deed,
    Event,
    Frog,
    Making,
    Opened,
    Together,
    Undo,
)
from tracker.session.reducer import State, begin
from tracker.session.replay import ReplayStep, steps
from tracker.session.state import BEGINNING, Copy, Parked, Work
from tracker.session.view_words import spell
from tracker.session.worked_rounds import round_at

Rounds = tuple[Copy, int]
"""One round of one copy, by its number from 0."""


@dataclass(frozen=True, slots=True)
class WorkHistory:
    """What the journal tells of a project. `changed` says how the pattern differs from what was worked."""

    state: State
    happened: tuple[Happened, ...]
    days: tuple[Day, ...]
    day_of: Callable[[float], str]
    changed: tuple[str, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether nothing was done yet."""
        return not any(not isinstance(each.event, Opened | Closed) for each in self.happened)


@dataclass(frozen=True, slots=True)
class WorkDone:
    """All that was done. `seconds` and `counts` are by round, and empty where the history does not tell them."""

    history: WorkHistory
    counts: dict[Rounds, int]
    seconds: dict[Rounds, float]

    def rounds(self, pattern: Pattern, copy: Copy) -> tuple[Round, ...]:
        """The rounds of a copy as it has them, mends among them."""
        number = len(pattern.pieces[copy.piece].rounds)
        state = self.history.state
        return tuple(round_at(pattern, state.work, copy.piece, copy.number, index) for index in range(number))

    def rounds_done(self, copy: Copy) -> int:
        return self.history.state.work.place_in(copy).round_index

    def at(self, copy: Copy, index: int, expected: int | None) -> tuple[str, ...]:
        """What is to be told of one round of one copy, that should have `expected` stitches: its count, the maker's
        notes, the time it took."""
        work = self.history.state.work
        remarks = [*_count(work, self.counts.get((copy, index)), copy, index, expected)]
        notes = (note for note in work.notes if (note.copy, note.round_index) == (copy, index))
        remarks += [f'note of {self.history.day_of(note.at)}: "{" ".join(note.text.split())}"' for note in notes]
        # Less than a minute is told as none: taps made up for later.
        if self.seconds.get((copy, index), 0) >= 60:
            remarks.append(f"took {spell(self.seconds[copy, index])}")
        return tuple(remarks)


def _count(work: Work, counted: int | None, copy: Copy, index: int, expected: int | None) -> Iterator[str]:
    carried = next((m for m in work.miscounts if (m.copy, m.round_index) == (copy, index)), None)
    if carried is not None:
        yield f"counted {carried.counted:,} instead of {carried.expected:,}, and carried on"
    elif counted is not None:
        other = f" instead of {expected:,}" if expected is not None and counted != expected else ""
        yield f"counted {counted:,}{other}"


def made_of(pattern: Pattern, history: WorkHistory) -> WorkDone:
    """Everything that the sheet can tell of the making."""
    walk = _HistoryWalk(begin(pattern).work)
    walk.through(steps(pattern, ((happened.at, happened.event) for happened in history.happened)))
    agrees = walk.work == history.state.work and not history.changed
    if not agrees:
        return WorkDone(history, {}, {})
    seconds = {(Copy(piece, number), index): spent for (piece, number, index), spent in walk.seconds.items()}
    return WorkDone(history, walk.counts, seconds)


@dataclass(slots=True)
class _HistoryWalk:
    """Goes through a history once more. `counts_before` are the counts before each event that can be taken back."""

    work: Work
    counts: dict[Rounds, int] = field(default_factory=dict)
    seconds: dict[tuple[int, int, int], float] = field(default_factory=dict)
    counts_before: list[dict[Rounds, int]] = field(default_factory=list)

    def through(self, replay: Iterable[ReplayStep]) -> None:
        last: float | None = None
        for before, event, self.work, at in replay:
            if isinstance(event, Making):
                if last is not None:
                    self._time(before, at - last)
                self.counts_before.append(self.counts)
            else:
                self._counted(before, event)
            last = None if isinstance(event, Closed) else at

    def _time(self, before: Work, gap: float) -> None:
        """The time up to a stitch goes to the round being worked; pauses are left out."""
        if 0 < gap <= PAUSE:
            copy, index = before.copy, before.place.round_index
            key = (copy.piece, copy.number, index)  # numbers: to hash a copy would take longer than all else here
            self.seconds[key] = self.seconds.get(key, 0.0) + gap

    def _counted(self, before: Work, event: Event) -> None:
        if isinstance(event, Undo):
            self.counts = self.counts_before.pop() if self.counts_before else self.counts
        elif isinstance(event, Deed):
            self._changed(before, event)

    def _changed(self, before: Work, event: Deed) -> None:
        self.counts_before.append(self.counts)
        for part in event.parts if isinstance(event, Together) else (event,):
            if isinstance(part, Counted):
                self.counts = {**self.counts, **_whole_round(before, part)}
            elif isinstance(part, Frog):
                self.counts = _without(self.counts, before.in_hand, part.round_index)


def _without(counts: dict[Rounds, int], copy: Copy, index: int) -> dict[Rounds, int]:
    """The counts but for those of the rounds of a copy that were ripped back."""
    return {key: count for key, count in counts.items() if key[0] != copy or key[1] < index}


def _whole_round(work: Work, event: Counted) -> dict[Rounds, int]:
    """The count of a round that is made; one of a round that is half made is no count of it."""
    place = work.place_in(work.in_hand)
    index = event.round_index - (1 if event.round_index == place.round_index and not place.moves else 0)
    return {(work.in_hand, index): event.stitches} if 0 <= index < place.round_index else {}


@dataclass(frozen=True, slots=True)
class Alike:
    """Copies of one piece that have the same rounds: `count` of them, of which `begun` are begun."""

    piece: int
    count: int
    begun: tuple[Copy, ...]
    rounds: tuple[Round, ...]


def alike(pattern: Pattern, made: WorkDone, piece: int) -> tuple[Alike, ...]:
    """The copies of a piece by how they are worked; those that are worked as written come first."""
    work = made.history.state.work
    begun = {place.copy for place in (Parked(work.copy, work.place), *work.parked) if place.place != BEGINNING}
    changed = {own.copy for own in work.own_rounds if own.copy.piece == piece}
    plain = tuple(sorted(copy for copy in begun if copy.piece == piece and copy not in changed))
    as_written = Alike(piece, pattern.pieces[piece].make - len(changed), plain, pattern.pieces[piece].rounds)
    rounds: dict[tuple[Round, ...], list[Copy]] = {}
    for copy in sorted(changed):
        rounds.setdefault(made.rounds(pattern, copy), []).append(copy)
    others = (Alike(piece, len(copies), tuple(copies), own) for own, copies in rounds.items())
    return (*((as_written,) if as_written.count else ()), *others)


# What was made, in words: how each copy stands, and what is to be told beside a line of the sheet.


def how_it_went(made: WorkDone) -> tuple[str, ...]:
    """Day by day: rounds made and time at work; and what of it the pattern has no place for any more."""
    days = [day for day in made.history.days if day.seconds or day.rounds]
    sentences = [f"{day.date}: {number_of(day.rounds, 'round')}, {spell(day.seconds)} at work" for day in days]
    if len(days) > 1:
        sentences.append(f"in all {spell(sum(day.seconds for day in days))} at work, pauses left out")
    for weight in made.history.state.work.weights:
        ball = f"the ball of {weight.yarn}" if weight.yarn else "the ball"
        sentences.append(f"{ball} weighed {weight.grams:g} g on {made.history.day_of(weight.at)}")
    return (*sentences, *made.history.changed)


def copies_name(pattern: Pattern, group: Alike) -> str:
    """The piece, and which of its copies where not all are worked alike: "Spot, copies 1 and 3"."""
    piece = pattern.pieces[group.piece]
    if group.count == piece.make:
        return piece.name
    if len(group.begun) < group.count:
        return f"{piece.name}, the other {group.count:,}"
    return f"{piece.name}, {_copies(group.begun)}"


def _copies(copies: Sequence[Copy]) -> str:
    """ "copy 2", "copies 1, 2 and 5"."""
    numbers = [str(copy.number) for copy in copies]
    if len(numbers) == 1:
        return f"copy {numbers[0]}"
    return f"copies {', '.join(numbers[:-1])} and {numbers[-1]}"


def how_far(pattern: Pattern, made: WorkDone, group: Alike) -> tuple[str, ...]:
    """Which copies are made, and up to which round the others are."""
    by_place: dict[str, list[Copy]] = {}
    for copy in group.begun:
        by_place.setdefault(_place(made, copy, group.rounds), []).append(copy)
    single = pattern.pieces[group.piece].make == 1
    sentences = [f"{_copies(copies)}: {place}" if not single else place for place, copies in by_place.items()]
    copies_left = group.count - len(group.begun)
    if copies_left:
        sentences.append("not begun" if not group.begun else f"the other {copies_left:,}: not begun")
    return tuple(sentences)


def _place(made: WorkDone, copy: Copy, rounds: Sequence[Round]) -> str:
    done = made.rounds_done(copy)
    if done >= len(rounds):
        return "made"
    return f"made as far as {rounds[done - 1].label}" if done else f"begun with {rounds[0].label}"


InTerms = Callable[[str], str]
"""Puts a round as the pattern has it into the terms of the sheet."""


def beside(
    line: WrittenLine, first: int, group: Alike, made: WorkDone, piece: Piece, in_terms: InTerms
) -> tuple[str, ...]:
    """What is told of the rounds of a line, of which the first has the number `first`."""
    return tuple(_beside(line, first, group, made, piece, in_terms))


def _beside(
    line: WrittenLine, first: int, group: Alike, made: WorkDone, piece: Piece, in_terms: InTerms
) -> Iterator[str]:
    furthest = max((made.rounds_done(copy) for copy in group.begun), default=0)
    for index, round_ in enumerate(line.rounds, first):
        if index == furthest and group.begun:
            yield f"{f'{round_.label}: ' if len(line.rounds) > 1 else ''}not made yet, from here on"
        planned = piece.rounds[index]
        if round_.text != planned.text:
            yield f'worked instead of "{in_terms(" ".join(planned.text.split()))}"'
        for copy in group.begun:
            remarks = made.at(copy, index, round_.leaves)
            labels = [round_.label] if len(line.rounds) > 1 else []
            labels += [f"copy {copy.number}"] if piece.make > 1 else []
            if remarks:
                yield f"{', '.join(labels)}: {'; '.join(remarks)}" if labels else "; ".join(remarks)
