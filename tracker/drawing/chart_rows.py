"""Rounds that no longer lie flat, drawn as rows: each stitch over what it goes into, from right to left.

A round that does not grow would stand ever further apart around a disk. As a row it makes a grid with the rows below:
where a decrease closes stitches a square stays empty, and where later rows grow squares are left empty beforehand.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from tracker.drawing.acts import PlacedAct
from tracker.drawing.chart_layout import Below, Ground, lay
from tracker.drawing.chart_model import OVAL_BREADTH, OVAL_LENGTH, ChartStart, DrawnRound, Mark, Middle, Oval
from tracker.drawing.geometry import Foot, Straight
from tracker.drawing.marks import DrawnBase, MarkDraft, drafts_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Start as Way

DRIFT = 1.5
"""With stitches further apart than so many of their widths a round is no longer seen to be one."""
_ABOVE = 1.6
"""Room between a disk and the rows above it, in stitch widths."""
EARLIER = "round {} goes into an earlier one of {} stitches, not the one below it"


@dataclass(frozen=True, slots=True)
class Cut:
    """One round as far as it is drawn."""

    number: int
    acts: tuple[PlacedAct, ...]
    before: int | None
    undrawn: int
    joined: bool
    turns: bool


def is_drifting(drawn_round: DrawnRound, drafts: Sequence[MarkDraft]) -> bool:
    """Whether a round around a disk stands much further apart than its stitches are wide, and does not grow."""
    grows = any(draft.fan > 1 for draft in drafts)
    track, width = drawn_round.track, sum(draft.width for draft in drafts)
    return track.closed and not grows and track.length > DRIFT * width


def ground_of(each: DrawnRound, turned: bool) -> Below:
    """What the next round can go into, in the order in which it comes to it."""
    middles = _middles(each.marks)
    grounds = [
        Ground(Foot(mark.top, mark.outward), DrawnBase(mark.space, mark.chains, middles.get(index, ""), mark.kind))
        for index, mark in enumerate(each.marks)
        if mark.is_stitch or mark.space
    ]
    return Below(each.track, each.reach, tuple(reversed(grounds) if turned else grounds))


def _middles(marks: Sequence[Mark]) -> dict[int, str]:
    """The marks in the middle of a fan, with the name of the fan."""
    fans = {}
    index = 0
    while index < len(marks):
        size = max(1, sum(made.moves for made in marks[index].company))
        if marks[index].fan > 1:
            fans[index + size // 2] = marks[index].name
        index += size
    return fans


def stitches_of(each: DrawnRound) -> int:
    return sum(mark.is_stitch for mark in each.marks)


def unrolled(
    cuts: Sequence[Cut], grounds: Sequence[Below], rounds: Sequence[DrawnRound], way: Way, *, backward: bool
) -> tuple[list[ChartStart], list[DrawnRound], list[str]]:
    """These rounds as rows above those that are drawn already, of which `grounds` are what can be gone into.

    Beside them what each stretch of rows stands on, and what has to be told. Rows that go into an earlier round than
    the one before begin a new stretch.
    """
    layers = list(zip(grounds[1:], rounds, strict=True))
    starts: list[ChartStart] = []
    remarks: list[str] = []
    new_rounds: list[DrawnRound] = []
    cuts_left = list(cuts)
    while cuts_left:
        index = _worked_into(cuts_left[0], [each for _, each in layers])
        if index != len(layers) - 1:
            remarks.append(EARLIER.format(cuts_left[0].number, cuts_left[0].before))
        places = [ground.place for ground in layers[index][0].grounds]
        level = layers[-1][1].reach + _ABOVE
        rows = _Rows(way, places, level, backward)
        first_rows, _ = rows.lay_out(cuts_left, None)
        start, again = rows.lay_out(cuts_left[: len(first_rows)], rows.rooms(first_rows))[::-1]
        starts.append(start)
        for cut, each in zip(cuts_left, again, strict=False):
            turned = way is Way.ROWS or cut.turns
            layers.append((ground_of(each, turned), each))
            backward = backward is not turned
        new_rounds += again
        cuts_left = cuts_left[max(1, len(first_rows)) :]
    return starts, new_rounds, remarks


def _worked_into(cut: Cut, rounds: Sequence[DrawnRound]) -> int:
    """The round that this one goes into: an earlier one than the last if only that has as many stitches."""
    last = len(rounds) - 1
    if cut.before is None or stitches_of(rounds[last]) == cut.before:
        return last
    return next((index for index in range(last - 1, -1, -1) if stitches_of(rounds[index]) == cut.before), last)


@dataclass(frozen=True, slots=True)
class _Rows:
    """A stretch of rows on `places`, which lie in a row at `level`."""

    way: Way
    places: Sequence[DrawnBase]
    level: float
    backward: bool

    def lay_out(
        self, cuts: Sequence[Cut], rooms: Sequence[Sequence[float]] | None
    ) -> tuple[list[DrawnRound], ChartStart]:
        """The rows up to the first that goes into an earlier round; `rooms` are the widths that stitches are given,
        of the places first and then of each row."""
        below, start = self._base(rooms[0] if rooms else [1.0] * len(self.places))
        rows: list[DrawnRound] = []
        backward = self.backward
        for number, cut in enumerate(cuts):
            if rows and cut.before is not None and _goes_back(cut, rows):
                break
            drafts = drafts_of(cut.acts, [ground.place for ground in below.grounds], in_rows=True)
            if not drafts:
                break
            if rooms:
                wide = rooms[number + 1]
                drafts = [replace(each, width=max(each.width, room)) for each, room in zip(drafts, wide, strict=True)]
            rows.append(lay(cut.number, drafts, below, backward=backward, joined=cut.joined, undrawn=cut.undrawn))
            turned = self.way is Way.ROWS or cut.turns
            below = ground_of(rows[-1], turned)
            backward = backward is not turned
        return rows, start

    def _base(self, rooms: Sequence[float]) -> tuple[Below, ChartStart]:
        widths = [max(room, place.chains * OVAL_LENGTH) for room, place in zip(rooms, self.places, strict=True)]
        track = Straight(sum(widths) / 2, sum(widths), self.level)
        ends = list(accumulate(widths, initial=0.0))
        feet = tuple(track.at((one + other) / 2) for one, other in pairwise(ends))
        ovals = tuple(Oval(foot.point, 0.0) for foot in feet)
        reach = self.level + OVAL_BREADTH / 2
        grounds = tuple(Ground(foot, place) for foot, place in zip(feet, self.places, strict=True))
        return Below(track, reach, grounds), ChartStart(Middle.BASES, feet, ovals, reach)

    def rooms(self, rows: Sequence[DrawnRound]) -> list[list[float]]:
        """The room that each place needs, and each symbol of each row, for all that is worked into it further up."""
        needed = [[mark.width for mark in each.marks] for each in rows]
        base = [1.0] * len(self.places)
        for index in range(len(rows) - 1, -1, -1):
            shares: dict[int, float] = {}
            for mark, room in zip(rows[index].marks, needed[index], strict=True):
                for place in mark.bases:
                    shares[place] = shares.get(place, 0.0) + room / len(mark.bases)
            below = base if index == 0 else needed[index - 1]
            order = range(len(base)) if index == 0 else _order(rows[index - 1], rows[index])
            for place, mark_index in enumerate(order):
                below[mark_index] = max(below[mark_index], shares.get(place, 0.0))
        return [base, *needed]


def _goes_back(cut: Cut, rows: Sequence[DrawnRound]) -> bool:
    return stitches_of(rows[-1]) != cut.before


def _order(below: DrawnRound, above: DrawnRound) -> list[int]:
    """The symbols of a row that can be gone into, in the order in which the next row comes to them."""
    indexes = [index for index, mark in enumerate(below.marks) if mark.is_stitch or mark.space]
    return indexes[::-1] if below.backward is not above.backward else indexes
