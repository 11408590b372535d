"""The chart of a piece, or of one of its rounds: which rounds are drawn, upon what, and what is left out."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, pi, remainder, tau

from tracker.drawing.acts import PlacedAct, chain_before, chain_step, closing, foundation, is_chain_alone, worked
from tracker.drawing.chart_layout import BREAK, Below, Ground, lay
from tracker.drawing.chart_model import (
    OVAL_BREADTH,
    Chart,
    ChartStart,
    DrawnRound,
    Layout,
    Middle,
    Oval,
)
from tracker.drawing.chart_rows import EARLIER, Cut, ground_of, is_drifting, stitches_of, unrolled
from tracker.drawing.geometry import Circle, Foot, Point, Polygon, Stadium, Straight, Track
from tracker.drawing.marks import DrawnBase, drafts_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Into
from tracker.pattern.first_ring import ring_of_chains
from tracker.pattern.model import Piece, Round
from tracker.pattern.model import Start as Way
from tracker.rounds.plan import Act, Plan, Role, Technique

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


def chart_of_piece(piece: Piece, corners: int = 0) -> Chart:
    """All rounds of a piece, from the middle outwards, as far as they stay readable; a figure has `corners`."""
    cuts, remarks = _cuts_of(piece)
    return _chart(cuts, piece.start, tuple(remarks), may_unroll=not corners, corners=corners)


def is_drawn_whole(piece: Piece) -> bool:
    """Whether the chart of a piece has all of its rounds, told without drawing one."""
    return not _cuts_of(piece)[1]


def _cuts_of(piece: Piece) -> tuple[list[Cut], list[str]]:
    """What is drawn of a piece, and in sentences what is not."""
    cuts: list[Cut] = []
    remarks: list[str] = []
    total = 0
    for index, each in enumerate(piece.rounds):
        if each.plan is None:
            remarks.append(f"{_label(each)} could not be read and is not drawn")
            continue
        if chain_before(each.plan):
            continue
        cut = _founded(_cut(each, each.plan, piece.start), piece, index)
        total += sum(item.act.moves for item in cut.acts)
        if cuts and (cut.undrawn or total > MOST_IN_ALL or len(cuts) == MOST_ROUNDS):
            remarks.append(_tell_left_out(piece.rounds[index:]))
            break
        cuts.append(cut)
        if cut.undrawn:
            remarks.append(_tell_undrawn(each, cut))
            if piece.rounds[index + 1 :]:
                remarks.append(_tell_left_out(piece.rounds[index + 1 :]))
            break
    return cuts, remarks


def chart_of_round(piece: Piece, index: int, corners: int = 0) -> Chart:
    """One round (`index` counts from 0), with the round below it as a shadow to show what it goes into.

    Raises IndexError if the piece has no such round.
    """
    each = piece.rounds[index]
    if each.plan is None:
        return _chart([], piece.start, (f"{_label(each)} could not be read and is not drawn",))
    if chain := chain_before(each.plan):
        alone = _row(min(chain, MOST_ACROSS), min(chain, MOST_ACROSS), 0)
        return Chart(alone.shape, alone.start, (), (f"a chain of {chain:,}: the first round is worked into it",))
    cut = _founded(_cut(each, each.plan, piece.start), piece, index)
    if cut.undrawn:
        return _chart([cut], piece.start, (_tell_undrawn(each, cut),), index, backward=_is_turned(piece, index))
    whole = _up_to(piece, index, corners)
    if whole is not None and (whole.shape is Layout.OVAL or corners):
        return _shadowed(whole)
    under = _under(piece, index)
    first = index - len(under) if cut.before is not None or under else 0
    return _shadowed(_chart([*under, cut], piece.start, (), first, backward=_is_turned(piece, first)))


def _is_turned(piece: Piece, index: int) -> bool:
    """Whether a round is worked on the wrong side, the work having been turned an odd number of times before it."""
    before = [each.plan for each in piece.rounds[:index] if not chain_before(each.plan)]
    if piece.start is Way.ROWS:
        return bool(len(before) % 2)
    return bool(sum(any(act.technique is Technique.TURN for act in plan.acts()) for plan in before if plan) % 2)


def _founded(cut: Cut, piece: Piece, index: int) -> Cut:
    """The round with the foundation chain as its first act, or a ring of chains as its first two, if that has a line
    of its own before it."""
    chain = chain_before(piece.rounds[index - 1].plan) if index else 0
    if chain:
        return replace(cut, acts=(foundation(chain), *cut.acts), before=None)
    goes_into_ring = any(each.act.into is Into.RING for each in cut.acts)
    is_closed_here = any(each.act.technique in _CLOSING for each in cut.acts[1:2])
    ring = ring_of_chains(piece, piece.rounds[0]) if not index and goes_into_ring and not is_closed_here else None
    return replace(cut, acts=(foundation(ring), closing(), *cut.acts)) if ring else cut


def _up_to(piece: Piece, index: int, corners: int) -> Chart | None:
    """All rounds up to this one, if they can be drawn."""
    chart = chart_of_piece(replace(piece, rounds=piece.rounds[: index + 1]), corners)
    needed = sum(not chain_before(each.plan) for each in piece.rounds[: index + 1])
    return None if any(each.undrawn for each in chart.rounds) or len(chart.rounds) < needed else chart


def _shadowed(chart: Chart) -> Chart:
    """The last round alone, the one below it as its shadow."""
    if len(chart.rounds) < 2:
        return chart
    below, last = chart.rounds[-2:]
    return replace(chart, rounds=(replace(below, ghost=True), last))


def _under(piece: Piece, index: int) -> list[Cut]:
    """The round below, if there is one that can be drawn whole."""
    below = piece.rounds[index - 1] if index else None
    if below is None or below.plan is None or chain_before(below.plan):
        return []
    cut = _cut(below, below.plan, piece.start)
    return [] if cut.undrawn else [cut]


def _cut(each: Round, plan: Plan, way: Way) -> Cut:
    most = MOST_ACROSS if way is Way.ROWS else MOST_AROUND
    whole = plan.moves <= most
    acts = tuple(worked(plan, each.colour, most if whole else SOME))
    drawn = sum(item.act.stitches for item in acts)
    techniques = {act.technique for act in plan.acts()}
    undrawn = 0 if whole else max(1, plan.leaves - drawn)
    return Cut(
        each.number, acts, each.before, undrawn, Technique.JOIN in techniques and whole, Technique.TURN in techniques
    )


def _chart(
    cuts: Sequence[Cut],
    way: Way,
    remarks: tuple[str, ...],
    first: int = 0,
    *,
    backward: bool = False,
    may_unroll: bool = False,
    corners: int = 0,
    turned_by: float = 0.0,
) -> Chart:
    if not cuts:
        return Chart(Layout.ROUND, beginning(way, (), None).start, (), remarks or ("there is nothing to draw yet",))
    begun = beginning(way, cuts[0].acts, cuts[0].before if first else None, broken=cuts[0].undrawn > 0)
    rounds: list[DrawnRound] = []
    if isinstance(begun.track, Circle):
        begun = replace(begun, track=replace(begun.track, begin=turned_by))
    grounds = [_first_ground(begun)]
    layout_notes = [begun.left_out] if begun.left_out else []
    strips: list[ChartStart] = []
    was_backward = backward
    for index, cut in enumerate(cuts):
        acts = _first_acts(begun, cut.acts) if index == 0 else cut.acts
        below, earlier = _worked_into(cut, grounds, rounds)
        drafts = drafts_of(acts, [ground.place for ground in below.grounds], in_rows=not below.track.closed)
        if not drafts:
            continue
        drawn_round = lay(
            cut.number, drafts, below, backward=backward, joined=cut.joined, undrawn=cut.undrawn, corners=corners
        )
        if corners and not turned_by and isinstance(drawn_round.track, Polygon) and isinstance(below.track, Circle):
            turn = _turn_upright(drawn_round, below)
            if abs(turn) > _TURN_SEEN:
                return _chart(cuts, way, remarks, first, backward=was_backward, corners=corners, turned_by=turn)
        if may_unroll and len(rounds) > 1 and not earlier and is_drifting(drawn_round, drafts):
            layout_notes.append(f"from round {cut.number} on the work no longer lies flat: drawn above, row over row")
            strips, more, remarks_of_rows = unrolled(cuts[index:], grounds, rounds, way, backward=backward)
            rounds += more
            layout_notes += remarks_of_rows
            break
        rounds.append(drawn_round)
        if earlier:
            layout_notes.append(EARLIER.format(cut.number, cut.before))
        turned = way is Way.ROWS or cut.turns
        grounds.append(ground_of(rounds[-1], turned))
        backward = backward is not turned
    return Chart(begun.shape, begun.start, tuple(rounds), (*layout_notes, *remarks), tuple(strips))


_TURN_SEEN = 0.01
"""Radians: by less the beginning of a figure need not be turned."""


def _turn_upright(drawn_round: DrawnRound, below: Below) -> float:
    """By how much the rounds below have to be turned so that the corners of a figure stand over what they go into."""
    turns = []
    for mark in drawn_round.marks:
        if mark.bases and not mark.standing:
            base = below.grounds[mark.bases[0]].foot.point
            turns.append(remainder(atan2(mark.top.y, mark.top.x) - atan2(base.y, base.x), tau))
    return sum(turns) / len(turns) if turns else 0.0


def _worked_into(cut: Cut, grounds: Sequence[Below], rounds: Sequence[DrawnRound]) -> tuple[Below, bool]:
    """What a round goes into, raised to where it is drawn, and whether that is an earlier round than the last.

    That is so if only an earlier round has as many stitches as the reader found there to work into.
    """
    below = grounds[-1]
    if cut.before is None or not rounds or stitches_of(rounds[-1]) == cut.before:
        return below, False
    for ground, each in zip(reversed(grounds[1:-1]), reversed(rounds[:-1]), strict=True):
        if stitches_of(each) == cut.before and below.track.closed:
            lift = below.level - ground.level
            raised = [replace(one, foot=Foot(one.foot.raised(lift), one.foot.outward)) for one in ground.grounds]
            return replace(below, grounds=tuple(raised)), True
    return below, False


def _first_acts(begun: ChartOpening, acts: tuple[PlacedAct, ...]) -> tuple[PlacedAct, ...]:
    """What is left to draw of a first round, the skipped chains of its foundation standing at its start."""
    undrawn = acts[begun.spent :]
    if not begun.spare or not undrawn:
        return undrawn
    standing = Act(f"ch {begun.spare}", Role.STEP, into=Into.NOTHING, technique=Technique.CHAIN, length=begun.spare)
    return (PlacedAct(standing, undrawn[0].colour, True), *undrawn)


def _first_ground(begun: ChartOpening) -> Below:
    grounds = tuple(Ground(foot, DrawnBase()) for foot in begun.start.places)
    return Below(begun.track, begun.start.reach, grounds)


def _label(each: Round) -> str:
    return each.label or f"round {each.number}"


def _tell_undrawn(each: Round, cut: Cut) -> str:
    more = "1 more stitch is" if cut.undrawn == 1 else f"{cut.undrawn:,} more stitches are"
    return f"{_label(each)}: {more} not drawn"


def _tell_left_out(rounds: Sequence[Round]) -> str:
    first, last = rounds[0], rounds[-1]
    labels = _label(first) if first is last else f"{_label(first)} to {_label(last)}"
    return f"not drawn, because there is too much to read: {labels}; draw one round at a time"


# What the first round that is drawn goes into: a magic ring, a ring of chains, a chain, or stitches not drawn.

# In stitch widths: small enough that six stitches around it do not touch.
RING_RADIUS = 0.42
MOST_BASES = 400
"""Places under a first round that are drawn."""
MOST_RING = 60
"""Chains of a ring that are drawn."""
_FIRST_LEVEL = 1.04
"""How far from the chain the first round of an oval runs."""
_CLOSING = (Technique.JOIN_RING, Technique.JOIN)


@dataclass(frozen=True, slots=True)
class ChartOpening:
    """How a chart begins: its shape, what is in its middle and the track of that.

    `spent` of the acts are drawn with it; `spare` chains of a foundation stand up at the start of the first round.
    `left_out` tells what is not drawn of it, "" if nothing.
    """

    shape: Layout
    start: ChartStart
    track: Track
    spent: int = 0
    spare: int = 0
    left_out: str = ""


def beginning(way: Way, acts: Sequence[PlacedAct], before: int | None, *, broken: bool = False) -> ChartOpening:
    """What these acts of a first round stand on, where `before` bases are known to be there.

    `broken` leaves the same room at the end of a ring of bases as the round above them does.
    """
    first = [each.act for each in acts[:2]]
    chain = _foundation(first, before)
    closed = chain > 0 and len(first) > 1 and first[1].technique in _CLOSING
    work = [each.act for each in acts if each.act.role is Role.WORK]
    takes = min(MOST_BASES, sum(each.act.takes for each in acts))
    into_ring = bool(work) and work[0].into is Into.RING
    if way is Way.ROWS and not into_ring:
        counted = sum(made.count for each in acts[1:2] for made in each.act.makes if made.counts_as)
        return _row(chain, takes, counted)
    if into_ring:
        return _ring(chain if closed else 0, 2 if closed else 0)
    # A chain of three and fewer is a dot to work around (see SMALL_CHAIN of the measures).
    if any(each.act.technique is Technique.OTHER_SIDE for each in acts) and takes > 3:
        return _oval(takes, chain, sum(each.act.stitches for each in acts))
    # Up to three chains joined are a dot, not a ring.
    if closed and takes > 3:
        return _round(takes, Middle.CHAIN_RING, 2)
    if takes > 1:
        return _round(takes, Middle.BASES, 1 if chain > takes else 0, BREAK if broken else 0.0)
    return _ring(0, 1 if chain else 0)


def _foundation(first: Sequence[Act], before: int | None) -> int:
    """The length of the chain that everything is worked into; 0 if the work begins otherwise."""
    if not first:
        return 0
    if is_chain_alone(first[0]) and not before and not any(made.counts_as for made in first[0].makes):
        return first[0].makes[0].count
    return chain_step(first[0])


def _ring(chain: int, spent: int) -> ChartOpening:
    if not chain:
        return ChartOpening(Layout.ROUND, ChartStart(Middle.RING, (), reach=RING_RADIUS), Circle(RING_RADIUS), spent)
    drawn = min(chain, MOST_RING)
    radius = max(RING_RADIUS, drawn * 0.62 / tau)
    ovals = _around(Circle(radius), drawn)
    start = ChartStart(Middle.CHAIN_RING, (), ovals, radius + OVAL_BREADTH / 2)
    left_out = f"the ring has {chain:,} chains; {drawn} are drawn" if chain > drawn else ""
    return ChartOpening(Layout.ROUND, start, Circle(radius), spent, left_out=left_out)


def _round(count: int, middle: Middle, spent: int, spare: float = 0.0) -> ChartOpening:
    track = Circle(max(1.0, (count + spare) / tau))
    return ChartOpening(Layout.ROUND, _on(track, count, middle, spare), track, spent)


def _row(chain: int, count: int, counted: int) -> ChartOpening:
    count = max(count, 1)
    middle = Middle.CHAIN if chain else Middle.BASES
    track = Straight(count / 2, float(count), 0.0)
    spare = max(0, chain - count - counted)
    return ChartOpening(Layout.ROWS, _on(track, count, middle), track, 1 if chain else 0, spare)


def _on(track: Track, count: int, middle: Middle, spare: float = 0.0) -> ChartStart:
    places = tuple(track.at((each + 0.5) * track.length / (count + spare)) for each in range(count))
    ovals = tuple(Oval(place.point, place.outward + pi / 2) for place in places)
    return ChartStart(middle, places, ovals, track.level_of(track.at(0.0).point) + OVAL_BREADTH / 2)


def _around(track: Circle, count: int) -> tuple[Oval, ...]:
    feet = [track.at((each + 0.5) * track.length / count) for each in range(count)]
    return tuple(Oval(foot.point, foot.outward + pi / 2) for foot in feet)


def _oval(takes: int, length: int, stitches: int) -> ChartOpening:
    """Both sides of a chain: its last stitch is worked into once, the others from both sides.

    The chain is drawn as long as the stitches around it leave it room, so that they stand over it.
    """
    chain = takes // 2 + (1 if takes % 2 or length > takes // 2 + 1 else 0)
    pitch = (stitches + 1.3 - tau * _FIRST_LEVEL) / 2 / max(1, chain - 1)
    pitch = min(1.1, max(0.65, pitch))
    along = [((chain - 1) / 2 - each) * pitch for each in range(chain)]
    back = along[::-1] if takes == 2 * chain else along[-2::-1]
    places = [*(Foot(Point(x, 0.0), pi / 2) for x in along), *(Foot(Point(x, 0.0), -pi / 2) for x in back)]
    ovals = tuple(Oval(Point(x, 0.0), 0.0) for x in along)
    start = ChartStart(Middle.CHAIN, tuple(places[:takes]), ovals, OVAL_BREADTH)
    track = Stadium((chain - 1) * pitch, 0.0)
    return ChartOpening(Layout.OVAL, start, track, 1 if length else 0, max(0, length - chain))
