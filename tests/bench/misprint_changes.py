"""Every single change that a line, or two neighbouring lines, of a piece can suffer, and those that mend it again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from piece_arithmetic import Group, Oval, Part, Piece, Round, Run, Tally, after, faults, fits, worked

KINDS = ("digit in a total", "multiplier", "stitch count", "dropped increase", "swapped round")


@dataclass(frozen=True, slots=True)
class Change:
    """One change to a piece: its kind, the places of the lines that it touches, and the piece after it."""

    kind: str
    places: tuple[int, ...]
    piece: Piece


def with_round(piece: Piece, place: int, item: Round) -> Piece:
    return replace(piece, rounds=(*piece.rounds[:place], item, *piece.rounds[place + 1 :]))


def with_parts(piece: Piece, place: int, parts: tuple[Part, ...]) -> Piece:
    return with_round(piece, place, replace(piece.rounds[place], parts=parts))


def swapped(piece: Piece, place: int) -> Piece:
    """The line and the next one change places; the headings stay where they are."""
    one, two = piece.rounds[place : place + 2]
    first = replace(two, first=one.first, last=one.last, colour=one.colour)
    second = replace(one, first=two.first, last=two.last, colour=two.colour)
    return replace(piece, rounds=(*piece.rounds[:place], first, second, *piece.rounds[place + 2 :]))


def other_parts(parts: tuple[Part, ...]) -> Iterator[tuple[str, tuple[Part, ...]]]:
    """Every line that differs from this one in one number, or in one increase or decrease more or less."""
    for place, part in enumerate(parts):
        for kind, new in other_part(part):
            yield kind, (*parts[:place], *new, *parts[place + 1 :])
    if not isinstance(parts[0], Oval):
        for place in range(len(parts) + 1):
            for act in ("inc", "dec"):
                yield "one more", (*parts[:place], Run(act), *parts[place:])


def other_part(part: Part) -> Iterator[tuple[str, tuple[Part, ...]]]:
    if isinstance(part, Run):
        yield from other_run(part)
    elif isinstance(part, Group):
        if part.times is not None and part.times > 1:
            for times in others(part.times, least=2):
                yield "multiplier", (replace(part, times=times),)
        for kind, runs in other_runs(part.runs):
            yield kind, (replace(part, runs=runs),)
    else:
        for name in ("chain", "side", "end", "back", "last"):
            for number in others(getattr(part, name)):
                yield "stitch count", (replace(part, **{name: number}),)


def other_run(run: Run) -> Iterator[tuple[str, tuple[Run, ...]]]:
    if run.count is None:
        return
    if run.act not in ("counted chain", "uncounted chain", "ring chain", "same", "space", "shell", "fill"):
        for number in others(run.count):
            yield "stitch count", (replace(run, count=number),)
    if run.count == 1 and run.act in ("inc", "dec"):
        yield "dropped increase", ()


def other_runs(runs: tuple[Run, ...]) -> Iterator[tuple[str, tuple[Run, ...]]]:
    for place, run in enumerate(runs):
        for kind, new in other_run(run):
            if len(runs) + len(new) > 1:
                yield kind, (*runs[:place], *new, *runs[place + 1 :])
    for place in range(len(runs) + 1):
        for act in ("inc", "dec"):
            yield "one more", (*runs[:place], Run(act), *runs[place:])


def others(number: int, least: int = 1) -> Iterator[int]:
    """Numbers that could have stood there instead; a repeat of once is not written as one, so 2 is its least."""
    return (other for other in range(least, 2 * number + 12) if other != number)


def instruction_changes(piece: Piece, place: int) -> Iterator[Change]:
    for kind, parts in other_parts(piece.rounds[place].parts):
        if parts:
            yield Change(kind, (place,), with_parts(piece, place, parts))


def swaps(piece: Piece, place: int) -> Iterator[Change]:
    if 0 < place < len(piece.rounds) - 1:
        yield Change("swapped round", (place, place + 1), swapped(piece, place))


def misread_totals(piece: Piece, place: int) -> Iterator[Change]:
    """One digit of the stated total is another."""
    item = piece.rounds[place]
    if not item.states:
        return
    kind = item.states[0]
    digits = str(getattr(item.total, kind))
    for at in range(len(digits)):
        for digit in "0123456789":
            number = int(digits[:at] + digit + digits[at + 1 :])
            if digit != digits[at] and len(str(number)) == len(digits) and number > 0:
                total = replace(item.total, **{kind: number})
                yield Change("digit in a total", (place,), with_round(piece, place, replace(item, total=total)))


def misprints(piece: Piece, kind: str) -> list[Change]:
    """Every misprint of that kind that the piece could have."""
    found: list[Change] = []
    for place in range(len(piece.rounds)):
        if kind == "digit in a total":
            found += misread_totals(piece, place)
        elif kind == "swapped round":
            found += swaps(piece, place)
        else:
            near = (change for change in instruction_changes(piece, place) if change.kind == kind)
            found += (change for change in near if kind == "dropped increase" or is_slip(piece, change))
    return found


def is_slip(piece: Piece, change: Change) -> bool:
    """A number two off at most, or its tens one off: what a hand or an eye gets wrong."""
    old, new = (numbers_of(item.rounds[change.places[0]]) for item in (piece, change.piece))
    pairs = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    return all(abs(a - b) in (1, 2, 10) for a, b in pairs)


def numbers_of(item: Round) -> list[int]:
    numbers: list[int] = []
    for part in item.parts:
        if isinstance(part, Oval):
            numbers += (part.chain, part.side, part.end, part.back, part.last)
        elif isinstance(part, Run):
            numbers.append(part.count or 0)
        else:
            numbers += (part.times or 0, *(run.count or 0 for run in part.runs))
    return numbers


def repairs(piece: Piece) -> Iterator[Change]:
    """Every single change after which the piece agrees with itself again."""
    wrong = faults(piece)
    found = finds(piece)
    for place in range(first_suspect(piece, wrong[0]), wrong[-1] + 1):
        made = worked(piece.rounds[place].parts, found[place]).tally
        item = piece.rounds[place]
        total = replace(item.total, **{kind: getattr(made, kind) for kind in item.states})
        candidates = [Change("total", (place,), with_round(piece, place, replace(item, total=total)))]
        candidates += instruction_changes(piece, place)
        candidates += swaps(piece, place)
        for change in candidates:
            if mends(change, found, wrong) and faults(change.piece) == []:
                yield change


def first_suspect(piece: Piece, fault: int) -> int:
    """Back to the last line that states a total: what it leaves is that, whatever came before."""
    place = max(fault - 1, 0)
    while place > 0 and not piece.rounds[place].states:
        place -= 1
    return place


def finds(piece: Piece) -> list[Tally]:
    """What each line finds to be worked into, and what the last one leaves."""
    there = [Tally()]
    for item in piece.rounds:
        there.append(after(item, there[-1]))
    return there


def mends(change: Change, found: list[Tally], wrong: list[int]) -> bool:
    """A quick look before the whole piece is counted again: does the changed line fit, and is it near every fault?"""
    place, last = change.places[0], change.places[-1] + 1
    while last < len(change.piece.rounds) and not change.piece.rounds[last].states:
        last += 1
    near = range(place, last + 1)
    return all(fault in near for fault in wrong) and fits(change.piece.rounds[place], found[place])
