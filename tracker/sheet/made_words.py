"""What was made, in words: how each copy stands, and what is to be told beside a line of the sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from tracker.pattern.model import Pattern, Piece, Round
from tracker.session.phrases import spell
from tracker.session.state import Copy
from tracker.sheet.drafts import WrittenLine
from tracker.sheet.made import Alike, Made


def how_it_went(made: Made) -> tuple[str, ...]:
    """Day by day: rounds made and time at work; and what of it the pattern has no place for any more."""
    days = [day for day in made.history.days if day.seconds or day.rounds]
    said = [f"{day.date}: {_rounds(day.rounds)}, {spell(day.seconds)} at work" for day in days]
    if len(days) > 1:
        said.append(f"in all {spell(sum(day.seconds for day in days))} at work, pauses left out")
    return (*said, *made.history.changed)


def _rounds(count: int) -> str:
    return "1 round" if count == 1 else f"{count:,} rounds"


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


def how_far(pattern: Pattern, made: Made, group: Alike) -> tuple[str, ...]:
    """Which copies are made, and up to which round the others are."""
    by_place: dict[str, list[Copy]] = {}
    for copy in group.begun:
        by_place.setdefault(_place(made, copy, group.rounds), []).append(copy)
    single = pattern.pieces[group.piece].make == 1
    said = [f"{_copies(copies)}: {place}" if not single else place for place, copies in by_place.items()]
    left = group.count - len(group.begun)
    if left:
        said.append("not begun" if not group.begun else f"the other {left:,}: not begun")
    return tuple(said)


def _place(made: Made, copy: Copy, rounds: Sequence[Round]) -> str:
    done = made.rounds_done(copy)
    if done >= len(rounds):
        return "made"
    return f"made as far as {rounds[done - 1].label}" if done else f"begun with {rounds[0].label}"


InTerms = Callable[[str], str]
"""Puts a round as the pattern has it into the terms of the sheet."""


def beside(
    line: WrittenLine, first: int, group: Alike, made: Made, piece: Piece, in_terms: InTerms
) -> tuple[str, ...]:
    """What is told of the rounds of a line, of which the first has the number `first`."""
    return tuple(_beside(line, first, group, made, piece, in_terms))


def _beside(
    line: WrittenLine, first: int, group: Alike, made: Made, piece: Piece, in_terms: InTerms
) -> Iterator[str]:
    furthest = max((made.rounds_done(copy) for copy in group.begun), default=0)
    for index, round_ in enumerate(line.rounds, first):
        if index == furthest and group.begun:
            yield f"{f'{round_.label}: ' if len(line.rounds) > 1 else ''}not made yet, from here on"
        planned = piece.rounds[index]
        if round_.text != planned.text:
            yield f'worked instead of "{in_terms(" ".join(planned.text.split()))}"'
        for copy in group.begun:
            said = made.at(copy, index, round_.leaves)
            which = [round_.label] if len(line.rounds) > 1 else []
            which += [f"copy {copy.number}"] if piece.make > 1 else []
            if said:
                yield f"{', '.join(which)}: {'; '.join(said)}" if which else "; ".join(said)
