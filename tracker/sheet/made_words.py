"""What was made, in words: how each copy stands, and what is to be told beside a line of the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tracker.making.told import spell
from tracker.making.work import Copy
from tracker.pattern.model import Pattern, Piece, Round
from tracker.sheet.lines import WrittenLine
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
    """The piece, and which of its copies where not all were worked alike: "Spot, copies 1 and 3"."""
    piece = pattern.pieces[group.copies[0].piece]
    if len(group.copies) == piece.make:
        return piece.name
    numbers = [str(copy.number) for copy in group.copies]
    listed = f"{', '.join(numbers[:-1])} and {numbers[-1]}" if len(numbers) > 1 else numbers[0]
    return f"{piece.name}, {'copies' if len(numbers) > 1 else 'copy'} {listed}"


def how_far(pattern: Pattern, made: Made, group: Alike) -> tuple[str, ...]:
    """For each copy whether it is made, and up to which round."""
    piece = pattern.pieces[group.copies[0].piece]
    return tuple(_how_far(made, copy, group.rounds, piece) for copy in group.copies)


def _how_far(made: Made, copy: Copy, rounds: Sequence[Round], piece: Piece) -> str:
    done = made.rounds_done(copy)
    name = "it" if piece.make == 1 else f"copy {copy.number}"
    if done >= len(rounds):
        return f"{name} is made"
    return f"{name} is made up to {rounds[done - 1].label}" if done else f"{name} is not begun"


def beside(line: WrittenLine, first: int, group: Alike, made: Made, piece: Piece) -> tuple[str, ...]:
    """What is told of the rounds of a line, of which the first has the number `first`."""
    return tuple(_beside(line, first, group, made, piece))


def _beside(line: WrittenLine, first: int, group: Alike, made: Made, piece: Piece) -> Iterator[str]:
    for index, round_ in enumerate(line.rounds, first):
        planned = piece.rounds[index]
        if round_.text != planned.text:
            yield f'worked instead of "{" ".join(planned.text.split())}"'
        for copy in group.copies:
            said = made.at(copy, index, round_.leaves)
            if said:
                which = [round_.label] if len(line.rounds) > 1 else []
                which += [f"copy {copy.number}"] if piece.make > 1 else []
                yield f"{', '.join(which)}: {'; '.join(said)}" if which else "; ".join(said)
    if all(made.rounds_done(copy) <= first for copy in group.copies):
        yield "not made yet"
