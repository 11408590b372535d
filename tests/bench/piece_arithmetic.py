"""A piece of work kept as numbers, and the few lines of arithmetic that count it.

Text is made of it elsewhere, so that a misprint can be planted and the truth is still known. Nothing here knows the
program that is measured with it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

ACTS: dict[str, tuple[int, int, int, int]] = {
    "plain": (1, 1, 0, 0),
    "inc": (1, 2, 0, 0),
    "dec": (2, 1, 0, 0),
    "skip": (1, 0, 0, 0),
    "space": (0, 0, 1, 0),  # a chain of three, to be worked into by the next round
    "shell": (1, 5, 0, 1),
    "fill": (1, 3, 0, 0),  # three stitches into one chain space
    "same": (0, 1, 0, 0),  # one more into the place of the counted chain
    "counted chain": (1, 1, 0, 0),
    "uncounted chain": (0, 0, 0, 0),
    "ring": (0, 1, 0, 0),
    "ring chain": (0, 1, 0, 0),  # the counted chain of a round that begins in a ring
    "foundation": (0, 1, 0, 0),
}
"""What one of each act uses up, and the stitches, chain spaces and shells it leaves."""

OPENINGS = ("ring", "ring chain", "foundation")


@dataclass(frozen=True, slots=True)
class Run:
    """`count` acts of one kind; None: as many as go in before the last `keep` bases."""

    act: str
    count: int | None = 1
    keep: int = 0


@dataclass(frozen=True, slots=True)
class Group:
    """Runs made `times` over; None: around, to the end of what is there."""

    runs: tuple[Run, ...]
    times: int | None


@dataclass(frozen=True, slots=True)
class Oval:
    """Up one side of a chain and down the other: `side`, `end` in the last chain, `back`, `last` in the first."""

    chain: int
    side: int
    end: int
    back: int
    last: int


Part = Run | Group | Oval


@dataclass(frozen=True, slots=True)
class Tally:
    """What a round leaves."""

    stitches: int = 0
    spaces: int = 0
    shells: int = 0


@dataclass(frozen=True, slots=True)
class Round:
    """One written line, for the rounds `first` to `last`. `states` names the kinds that its total tells."""

    first: int
    last: int
    parts: tuple[Part, ...]
    total: Tally
    states: tuple[str, ...] = ("stitches",)
    colour: str = ""
    back_loops: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece in numbers: its shape's name, stitch (by its US name), terms, start, and rounds."""

    shape: str
    stitch: str
    start: str
    rounds: tuple[Round, ...]
    terms: str = "US"


@dataclass(frozen=True, slots=True)
class Worked:
    """What came of working the parts into what was there. `whole` is False where the numbers do not go in."""

    tally: Tally
    whole: bool


def runs_of(part: Part) -> tuple[Run, ...]:
    if isinstance(part, Group):
        return part.runs
    return (part,) if isinstance(part, Run) else ()


def sums(runs: tuple[Run, ...], times: int) -> tuple[int, int, int, int]:
    """Bases used, stitches, spaces and shells left by fixed runs made `times` over."""
    columns = [[(run.count or 0) * figure for figure in ACTS[run.act]] for run in runs]
    used, stitches, spaces, shells = (times * sum(column) for column in zip(*columns, strict=True))
    return used, stitches, spaces, shells


def around_oval(oval: Oval) -> Worked:
    """The first side leaves the hook's chain and the last one free; the back leaves the first one to `last`."""
    free = oval.chain - 2
    whole = oval.side == free and oval.back == free - (1 if oval.last else 0)
    return Worked(Tally(oval.side + oval.end + oval.back + oval.last), whole)


def worked(parts: tuple[Part, ...], before: Tally) -> Worked:
    """The parts worked into `before`: into its chain spaces if they fill spaces, else into its stitches."""
    if isinstance(parts[0], Oval):
        return around_oval(parts[0])
    fills = any(run.act == "fill" for part in parts for run in runs_of(part))
    opens = any(run.act in OPENINGS for part in parts for run in runs_of(part))
    there = 0 if opens else before.spaces if fills else before.stitches
    room = there - sum(bases(part) for part in parts)
    left = [0, 0, 0]
    whole = room >= 0
    for place, part in enumerate(parts):
        runs, times = runs_of(part), 1
        if isinstance(part, Group) and part.times is not None:
            times = part.times
        elif is_open(part):
            runs = runs if isinstance(part, Group) else tuple(replace(run, count=1) for run in runs)
            unit = sums(runs, 1)[0]
            times, rest = divmod(max(room, 0), unit)
            kept = part.keep if isinstance(part, Run) else 0
            whole = whole and rest == 0 and times > 0 and kept == sum(map(bases, parts[place + 1 :]))
            room = 0
        for kind, made in enumerate(sums(runs, times)[1:]):
            left[kind] += made
    return Worked(Tally(*left), whole and room == 0)


def is_open(part: Part) -> bool:
    return (isinstance(part, Run) and part.count is None) or (isinstance(part, Group) and part.times is None)


def bases(part: Part) -> int:
    """Bases that a part surely takes; an open one takes what the others leave."""
    if is_open(part):
        return 0
    return sums(runs_of(part), part.times or 1 if isinstance(part, Group) else 1)[0]


def fits(item: Round, before: Tally) -> bool:
    """Does the line use exactly what is there, in each of its rounds, and make what its total tells?"""
    there = before
    for _ in range(min(item.last - item.first + 1, 2)):  # a third round repeats what the second one showed
        result = worked(item.parts, there)
        if not result.whole or any(getattr(result.tally, kind) != getattr(item.total, kind) for kind in item.states):
            return False
        there = after(item, there)
    return True


def after(item: Round, before: Tally) -> Tally:
    """What the next line finds: the stated numbers, and the instruction's where none is stated."""
    made = worked(item.parts, before).tally
    return replace(made, **{kind: getattr(item.total, kind) for kind in item.states})


def faults(piece: Piece) -> list[int]:
    """The lines that do not fit the line before and their own total."""
    there, wrong = Tally(), []
    for place, item in enumerate(piece.rounds):
        if not fits(item, there):
            wrong.append(place)
        there = after(item, there)
    return wrong
