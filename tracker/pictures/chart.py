"""The chart of a piece, or of one of its rounds: which rounds are drawn, upon what, and what is left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tracker.pattern.model import Piece, Round
from tracker.pattern.model import Start as Way
from tracker.pictures.bases import Place
from tracker.pictures.drafts import drafts_of
from tracker.pictures.drawn import Chart, DrawnRound, Mark, Shape
from tracker.pictures.frames import Below, Ground
from tracker.pictures.laying import lay
from tracker.pictures.starts import Beginning, beginning
from tracker.pictures.tracks import Foot
from tracker.pictures.unroll import Worked, worked
from tracker.rounds.plan import Act, Into, Plan, Role

MOST_AROUND = 240
"""Moves that are drawn of one round; on a sheet of A4 more are too small to read."""
MOST_ACROSS = 120
"""The same of a row."""
MOST_IN_ALL = 3000
"""Moves that are drawn of a whole piece."""
MOST_ROUNDS = 60
"""Rounds that are drawn of a whole piece."""
SOME = 60
"""Of a round that is too long to draw, the first so many moves are."""


@dataclass(frozen=True, slots=True)
class _Cut:
    """One round as far as it is drawn."""

    number: int
    acts: tuple[Worked, ...]
    before: int | None
    undrawn: int
    joined: bool
    turns: bool


def chart_of_piece(piece: Piece) -> Chart:
    """All rounds of a piece, from the middle outwards, as far as they stay readable."""
    cuts: list[_Cut] = []
    remarks: list[str] = []
    total = 0
    for index, each in enumerate(piece.rounds):
        if each.plan is None:
            remarks.append(f"{_label(each)} could not be read and is not drawn")
            continue
        cut = _cut(each, each.plan, piece.start)
        total += sum(item.act.moves for item in cut.acts)
        if cuts and (cut.undrawn or total > MOST_IN_ALL or len(cuts) == MOST_ROUNDS):
            remarks.append(_rest(piece.rounds[index:]))
            break
        cuts.append(cut)
        if cut.undrawn:
            remarks.append(_undrawn(each, cut))
            if piece.rounds[index + 1 :]:
                remarks.append(_rest(piece.rounds[index + 1 :]))
            break
    return _chart(cuts, piece.start, tuple(remarks))


def chart_of_round(piece: Piece, index: int) -> Chart:
    """One round (`index` counts from 0), with the round below it as a shadow to show what it goes into.

    Raises IndexError if the piece has no such round.
    """
    each = piece.rounds[index]
    if each.plan is None:
        return _chart([], piece.start, (f"{_label(each)} could not be read and is not drawn",))
    cut = _cut(each, each.plan, piece.start)
    if cut.undrawn:
        return _chart([cut], piece.start, (_undrawn(each, cut),), first=index)
    whole = _up_to(piece, index)
    if whole is not None and whole.shape is Shape.OVAL:
        return _shadowed(whole)
    under = _under(piece, index)
    return _shadowed(_chart([*under, cut], piece.start, (), first=index - len(under)))


def _up_to(piece: Piece, index: int) -> Chart | None:
    """All rounds up to this one, if they can be drawn."""
    chart = chart_of_piece(replace(piece, rounds=piece.rounds[: index + 1]))
    return None if any(each.undrawn for each in chart.rounds) or len(chart.rounds) <= index else chart


def _shadowed(chart: Chart) -> Chart:
    """The last round alone, the one below it as its shadow."""
    if len(chart.rounds) < 2:
        return chart
    below, last = chart.rounds[-2:]
    return replace(chart, rounds=(replace(below, ghost=True), last))


def _under(piece: Piece, index: int) -> list[_Cut]:
    """The round below, if there is one that can be drawn whole."""
    below = piece.rounds[index - 1] if index else None
    if below is None or below.plan is None:
        return []
    cut = _cut(below, below.plan, piece.start)
    return [] if cut.undrawn else [cut]


def _cut(each: Round, plan: Plan, way: Way) -> _Cut:
    most = MOST_ACROSS if way is Way.ROWS else MOST_AROUND
    whole = plan.moves <= most
    acts = tuple(worked(plan, each.colour, most if whole else SOME))
    drawn = sum(item.act.stitches for item in acts)
    names = {act.name for act in plan.acts() if act.role is Role.STEP}
    undrawn = 0 if whole else max(1, plan.leaves - drawn)
    return _Cut(each.number, acts, each.before, undrawn, "join" in names and whole, "turn" in names)


def _chart(cuts: Sequence[_Cut], way: Way, remarks: tuple[str, ...], first: int = 0) -> Chart:
    if not cuts:
        return Chart(Shape.ROUND, beginning(way, (), None).start, (), remarks or ("there is nothing to draw yet",))
    begun = beginning(way, cuts[0].acts, cuts[0].before if first else None, broken=cuts[0].undrawn > 0)
    rounds: list[DrawnRound] = []
    grounds = [_first_ground(begun)]
    told = [begun.left_out] if begun.left_out else []
    backward = bool(first % 2) if way is Way.ROWS else False
    for index, cut in enumerate(cuts):
        acts = _first_acts(begun, cut.acts) if index == 0 else cut.acts
        below, earlier = _worked_into(cut, grounds, rounds)
        drafts = drafts_of(acts, [ground.place for ground in below.grounds], in_rows=not below.track.closed)
        if not drafts:
            continue
        rounds.append(lay(cut.number, drafts, below, backward=backward, joined=cut.joined, undrawn=cut.undrawn))
        if earlier:
            told.append(f"round {cut.number} goes into an earlier one of {cut.before} stitches, not the one below it")
        turned = way is Way.ROWS or cut.turns
        grounds.append(_ground(rounds[-1], turned))
        backward = backward is not turned
    return Chart(begun.shape, begun.start, tuple(rounds), (*told, *remarks))


def _worked_into(cut: _Cut, grounds: Sequence[Below], rounds: Sequence[DrawnRound]) -> tuple[Below, bool]:
    """What a round goes into, raised to where it is drawn, and whether that is an earlier round than the last.

    That is so if only an earlier round has as many stitches as the reader found there to work into.
    """
    below = grounds[-1]
    if cut.before is None or not rounds or _stitches(rounds[-1]) == cut.before:
        return below, False
    for ground, each in zip(reversed(grounds[1:-1]), reversed(rounds[:-1]), strict=True):
        if _stitches(each) == cut.before and below.track.closed:
            lift = below.level - ground.level
            raised = [replace(one, foot=Foot(one.foot.raised(lift), one.foot.outward)) for one in ground.grounds]
            return replace(below, grounds=tuple(raised)), True
    return below, False


def _stitches(each: DrawnRound) -> int:
    return sum(mark.is_stitch for mark in each.marks)


def _first_acts(begun: Beginning, acts: tuple[Worked, ...]) -> tuple[Worked, ...]:
    """What is left to draw of a first round, the skipped chains of its foundation standing at its start."""
    rest = acts[begun.spent :]
    if not begun.spare or not rest:
        return rest
    standing = Act(f"ch {begun.spare}", Role.STEP, into=Into.NOTHING)
    return (Worked(standing, rest[0].colour, True), *rest)


def _first_ground(begun: Beginning) -> Below:
    grounds = tuple(Ground(foot, Place()) for foot in begun.start.places)
    return Below(begun.track, begun.start.reach, grounds)


def _ground(each: DrawnRound, turned: bool) -> Below:
    """What the next round can go into, in the order in which it comes to it."""
    middles = _middles(each.marks)
    grounds = [
        Ground(Foot(mark.top, mark.outward), Place(mark.space, mark.chains, middles.get(index, "")))
        for index, mark in enumerate(each.marks)
        if mark.is_stitch or mark.space
    ]
    return Below(each.track, each.reach, tuple(reversed(grounds) if turned else grounds))


def _middles(marks: Sequence[Mark]) -> dict[int, str]:
    """The marks in the middle of a fan, with the name of the fan."""
    found = {}
    index = 0
    while index < len(marks):
        size = max(1, sum(made.moves for made in marks[index].company))
        if marks[index].fan > 1:
            found[index + size // 2] = marks[index].name
        index += size
    return found


def _label(each: Round) -> str:
    return each.label or f"round {each.number}"


def _undrawn(each: Round, cut: _Cut) -> str:
    more = "1 more stitch is" if cut.undrawn == 1 else f"{cut.undrawn:,} more stitches are"
    return f"{_label(each)}: {more} not drawn"


def _rest(rounds: Sequence[Round]) -> str:
    first, last = rounds[0], rounds[-1]
    which = _label(first) if first is last else f"{_label(first)} to {_label(last)}"
    return f"not drawn, because there is too much to read: {which}; draw one round at a time"
