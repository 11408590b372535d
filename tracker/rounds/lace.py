"""Work along the edge of a round of lace: which places it goes into, how far it has come, and what it passed over."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Protocol, Self, TypeVar

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Exactly, Group, Instruction, Into, Item, Role, Some, Technique, Timed, ToEnd, acts
from tracker.notation.instructions import AFTER_CORNER, CORNER, EACH_SIDE, FIRST, is_side, sides, within
from tracker.rounds.bases import Base, is_each_chain
from tracker.rounds.edge import BUT, GAP, SPACE, STITCH, Edge, edge_of, place_name
from tracker.rounds.plan import Act, Node, Repeat, Run


@dataclass(frozen=True, slots=True)
class Advance:
    """How far work has come along an edge. `at` counts places, on and on where the edge comes round again.

    `began` is the place that was gone into first, with which the round ends. `last` is what was gone into last, if it
    was no stitch. `passed` counts the places of that name that were then passed over with no word, `short` those that
    are not there any more. `skipped` are the places that the pattern said to skip last, by name and number: as many
    on the other side of a motif go without saying.
    """

    edge: Edge
    at: int = 0
    began: int | None = None
    last: str = ""
    passed: int = 0
    short: int = 0
    skipped: tuple[str, int] = ("", 0)
    corners_apart: bool = False
    """Something else goes into the corners at once: "sc in each st and sp around, 3 sc in each corner"."""
    stitches_too: bool = False
    """Something goes into every stitch at once, so that spaces are those of chains: "sc in each dc and each sp"."""
    fork: int | None = None
    """Where what goes round began, from which on other places are gone into at once."""

    @property
    def end(self) -> int:
        return (self.at if self.began is None else self.began) + len(self.edge.places)

    @property
    def corner(self) -> int:
        """Where the next corner is, or the end of the round; where no corners are told a space is one, as the one in
        the middle of a shawl."""
        name = CORNER if self.edge.sites(CORNER) else SPACE
        return min(self.edge.nth(name, self.at, 1), self.end) if self.edge.sites(name) else self.end

    def stop(self, to_end: ToEnd) -> int:
        """Where what goes to a corner, or to another place that it names, comes to it, or to the end of the round."""
        return min(self.edge.nth(to_end.onto, self.at, 1), self.end) if to_end.onto else self.corner

    @property
    def begins_at_corner(self) -> bool:
        return self.began is not None and CORNER in self.edge.places[self.began % len(self.edge.places)]

    @property
    def is_back_at_corner(self) -> bool:
        """Whether the corner that it began in is the only one ahead."""
        return self.begins_at_corner and not self.edge.count(CORNER, self.at, self.end)

    def left(self, name: str, until: int) -> int:
        """How many places of this name there still are before `until`."""
        return self.edge.count(self.called(name), self.at, until)

    def called(self, name: str) -> str:
        """A name of places without those that something else goes into at once; where all chain spaces are corners a
        space is between two groups too."""
        if name == SPACE and self.edge.has_gaps_on_its_sides and not self.stitches_too:
            name = f"{SPACE}+{GAP}"
        return f"{name}{BUT}{CORNER}" if self.corners_apart and SPACE in name.split("+") else name

    def past(self, name: str, number: int) -> Advance:
        """Gone on into so many places of this name."""
        if not name or number < 1:
            return self
        name = self.called(name)
        if name == SPACE and not self.edge.sites(name):  # "in same sp" names what slip stitches led to
            name = GAP if self.edge.sites(GAP) else STITCH
        if not self.edge.sites(name):
            return replace(self, short=self.short + number)
        first = self.edge.nth(name, self.at, 1)
        end = self.end if self.began is not None else first + len(self.edge.places)
        last_place = self.edge.places[(self.at - 1) % len(self.edge.places)]
        alike = not last_place.isdisjoint(name.split("+"))  # one place called by two names
        over = 0 if alike else self._passed_before(min(first, end))
        ahead = self.edge.count(name, self.at, end)
        at = end if ahead < number else self.edge.nth(name, self.at, number) + 1
        return replace(
            self,
            at=at,
            began=first if self.began is None else self.began,
            last="" if (self.began is None and number == 1) or STITCH in name.split("+") else name,
            passed=self.passed + over,
            short=self.short + max(number - ahead, 0),
        )

    def _passed_before(self, place: int) -> int:
        over = self.left(self.last, place) if self.last else 0
        name, number = self.skipped
        return 0 if name == self.last and over <= number else over

    def done(self, act: Act | Instruction, name: str, times: int) -> Advance:
        """Gone on by an act into places of this name, so often."""
        if act.role is Role.SKIP:
            return replace(self.past(name, act.takes * times), skipped=(name, act.takes * times))
        if name and act.into is Into.CHAIN:
            return self._along_chains(name, act.takes * times)
        return self.past(name, act.takes * times)

    def _along_chains(self, name: str, chains: int) -> Advance:
        """Gone on along so many chains of the spaces of this name."""
        spaces = 0
        while chains > 0 and spaces < len(self.edge.places):
            spaces += 1
            chains -= self.length(name, spaces)
        return self.past(name, spaces)

    def length(self, name: str, number: int = 1) -> int:
        """Of how many chains the nth space of this name ahead is."""
        place = self.edge.places[self.edge.nth(name, self.at, number) % len(self.edge.places)]
        lengths = (each.removeprefix("ch-") for each in place if each.startswith("ch-"))
        return max((int(length) for length in lengths if length.isdecimal()), default=1)  # "ch-1 of v-st" is no other

    def slipped(self, stitches: int, name: str) -> Advance:
        """Led over so many stitches from the one that the round below was joined in, or to one of this name."""
        if name == AFTER_CORNER:
            return replace(self, at=self.edge.nth(CORNER, self.at, 1) + 1) if self.edge.sites(CORNER) else self
        return replace(self, at=self.edge.nth(name or STITCH, self.at + 1, stitches)) if stitches else self

    def abreast(self) -> Advance:
        """Where the next thing begins that goes all the way round."""
        if self.fork is None:
            return replace(self, fork=self.at)
        # A corner that the round began in is not gone into again.
        began = self.fork if self.began is None else min(self.began, self.fork)
        return replace(self, at=self.fork, began=began, last="")

    def in_last_loop(self) -> Advance:
        """Begun in the loop that the round below was closed with."""
        return replace(self, at=len(self.edge.places) - 1) if self.edge.ends_in_space else self

    def ended(self) -> Advance:
        """At the end of the round, with what is left of the places that were gone into last passed over."""
        return replace(self, passed=self.passed + self._passed_before(self.end))


def begin_along(body: tuple[Item, ...], base: Base | None) -> Advance | None:
    """Where these items begin on the edge that they are worked along; None where they go into what an edge does not
    tell, or round several times into places that are not told apart."""
    if base is None or base.plan is None or (goes_round(body) > 1 and not _go_abreast(body)):
        return None
    done = acts(body)
    if any(act.into is Into.PART or _is_off_the_edge(act) for act in done):
        return None
    edge = edge_of(base.plan, _is_turned(base, done))
    if edge is None:
        return None
    names = {name for act in done for name in _name_of(act).split("+") if name}
    corner = CORNER if edge.sites(CORNER) else SPACE
    names |= {side.onto or corner for side in sides(body)}
    missing = {name for name in names if not edge.sites(name)}
    if not missing <= {name for item in body for name in _on_sides(item)}:
        return None
    abreast = goes_round(body) > 1
    return Advance(edge, corners_apart=abreast and CORNER in names, stitches_too=abreast and STITCH in names)


def goes_round(body: tuple[Item, ...]) -> int:
    """How many of these items go all the way round, as far as they stand there once."""
    number = 0
    for item in body:
        if isinstance(item, Timed) and isinstance(item.times, ToEnd):
            number += not item.times.to_corner and not item.times.in_one
        elif isinstance(item, Group) and item.times == Exactly(1):
            number += goes_round(item.body)
    return number


def _go_abreast(body: tuple[Item, ...]) -> bool:
    """Whether what goes round does so at once: "sc in each dc around, 2 sc in each ch-1 sp"."""
    around = [item for item in body if isinstance(item, Timed) and item.times == ToEnd()]
    if len(around) < goes_round(body) or not all(isinstance(item, Some) for item in around):
        return False
    names = [name for item in around for act in acts((item,)) for name in _name_of(act).split("+")]
    others = set(names) - {STITCH, CORNER, SPACE}
    return len(set(names)) == len(names) and not (SPACE in names and others)


def _name_of(act: Instruction) -> str:
    return place_name(act, also_spaces=act.also_spaces)


def _on_sides(item: Item) -> Iterator[str]:
    """What is gone into on the way to a corner: of that there need not be any, as on the first sides of a granny."""
    if isinstance(item, Timed) and is_side(item):
        yield from (place_name(act) for act in acts((item,)))
    elif isinstance(item, Group):
        for inner in item.body:
            yield from _on_sides(inner)


def _is_off_the_edge(act: Instruction) -> bool:
    if act.from_hook or act.technique is Technique.OTHER_SIDE or act.onto == EACH_SIDE:
        return True
    if act.also_spaces and is_each_chain(act.onto):
        return True
    return act.into is Into.CHAIN and act.takes > 0 and not act.onto


def _is_turned(base: Base, done: list[Instruction]) -> bool:
    """Whether the work was turned since the round below was made, so that it is gone along from its end."""
    assert base.plan is not None
    below = [act.technique for act in base.plan.acts() if act.role in (Role.WORK, Role.STEP)]
    return _ends_turned(below[::-1]) != _ends_turned([a.technique for a in done if a.role in (Role.WORK, Role.STEP)])


def _ends_turned(techniques: list[Technique]) -> bool:
    """Whether the work is turned, and not back again, before the first of these that is no step."""
    is_turned = False
    for technique in techniques:
        if technique is Technique.TURN:
            is_turned = not is_turned
        elif technique not in _STEPS:
            break
    return is_turned


_STEPS = (Technique.JOIN, Technique.CHAIN, Technique.NO_TURN, Technique.MARK, Technique.SLIP_ACROSS, Technique.OTHER)


def fits(after: tuple[Item, ...], along: Advance) -> bool:
    """Whether there is room for what comes behind, whatever goes round in it left out."""
    return not _past_all(after, along).short


def _past_all(items: tuple[Item, ...], along: Advance) -> Advance:
    for item in items:
        if isinstance(item, Some) and isinstance(item.times, Exactly):
            name = _name_of(item.act)
            along = along.done(item.act, name, item.times.count)
        elif isinstance(item, Group) and isinstance(item.times, Exactly):
            for _ in range(min(item.times.count, len(along.edge.places) + 1)):
                along = _past_all(item.body, along)
        if along.short:
            break
    return along


def takes_any(items: tuple[Item, ...]) -> bool:
    """Whether any of these goes into a place."""
    return any(_name_of(act) for act in acts(items))


def is_joined(after: tuple[Item, ...]) -> bool:
    """Whether nothing more is made, and the round is joined."""
    steps = [each.act for each in after if isinstance(each, Some) and each.act.role is Role.STEP]
    return len(steps) == len(after) and any(act.technique is Technique.JOIN for act in steps)


def times_along(act: Act, name: str, to_end: ToEnd, after: tuple[Item, ...], along: Advance) -> int:
    """How often an act into places of this name goes on to the corner, or to the end of the round, or of a space."""
    until, takes = along.stop(to_end) if to_end.to_corner else along.end, act.takes
    if act.into is Into.CHAIN:
        return along.length(name) * (1 if to_end.in_one else along.left(name, until))
    if to_end.in_one:
        return along.edge.extent(act.onto, along.edge.nth(within(act.onto, FIRST), along.at, 1))
    kept = 0 if takes_any(after) else to_end.leaving
    times = max(along.left(name, until) - kept, 0) // takes
    if to_end.to_corner:
        return times
    most = _most(times, lambda number: fits(after, along.past(name, takes * number)))
    return times if most is None else most


# Groups, gone along time by time: the sides of a piece need not be alike.


class Walker(Protocol):
    """What works items, and knows how far it has come."""

    along: Advance | None
    cut: bool
    begun_with: str
    closed: str

    def copy(self) -> Self:
        """The same, to go on from here by itself."""

    def restore(self, state: Self) -> None:
        """Back to an earlier state in everything."""


W = TypeVar("W", bound=Walker)
Nodes = tuple[Node, ...]
Once = Callable[[tuple[Item, ...], W], Nodes]
"""Works items once, from where a walker has come to."""

Bodies = list[tuple[Nodes, int]]
"""What a group comes to each time, with how often one after the other it comes to that."""


def repeat_along(item: Group, after: tuple[Item, ...], walk: W, once: Once[W], *, top: bool) -> list[Node] | None:
    """The group as often as it says, or as there is room for it before what comes behind; `top` unless it stands in
    another. None if it goes into nothing and would never come to an end."""
    bodies: Bodies | None
    if isinstance(item.times, Exactly):
        bodies = _each_time(item, item.times.count, walk, once)
    else:
        bodies = _to_the_end(item, item.times, after, walk, once)
    if bodies is None:
        return None
    if top and not takes_any(after):
        bodies += _left_over(item, walk, once)
    nodes: list[Node] = []
    for body, times in bodies:
        before = nodes[-1] if nodes else None
        if isinstance(before, Repeat) and before.body == body:
            nodes[-1] = replace(before, times=before.times + times)
        elif body:
            nodes.append(Repeat(body, times, item.span))
    return nodes


def _each_time(item: Group, count: int, walk: W, once: Once[W]) -> Bodies:
    bodies: Bodies = []
    done = 0
    while done < count:
        before = walk.along
        body = once(_shortened(item) if done == count - 1 else item.body, walk)
        stays = walk.along is before or (walk.along is not None and walk.along.short > 0)
        times = max(count - done - (item.cut > 0), 1) if stays else 1
        bodies.append((body, times))
        done += times
    return bodies


def _shortened(item: Group) -> tuple[Item, ...]:
    """The group as it is worked the last time."""
    return item.body[: len(item.body) - item.cut]


def _to_the_end(item: Group, to_end: ToEnd, after: tuple[Item, ...], walk: W, once: Once[W]) -> Bodies | None:
    """So often that there is room for what comes behind, on one side or all round."""
    along = walk.along
    assert along is not None
    corner = along.stop(to_end) if to_end.to_corner else None
    bodies: list[Nodes] = []
    states = [walk.copy()]
    while len(bodies) <= len(along.edge.places):
        body = once(item.body, walk)
        assert walk.along is not None
        if walk.along is states[-1].along:
            return None
        if walk.along.short or (corner is not None and walk.along.at > corner):
            break
        bodies.append(body)
        states.append(walk.copy())

    def ended(times: int) -> tuple[Nodes, W]:
        state = states[times].copy()
        return once(_shortened(item), state) if item.cut else (), state

    times = _most(len(bodies), lambda times: _has_room(ended(times)[1], corner, to_end, after))
    if times is None:
        walk.restore(states[-1])
        return [(body, 1) for body in bodies]
    shorter, state = ended(times)
    walk.restore(state)
    walk.cut = walk.cut or (not times and along.began is None and not to_end.to_corner)
    if times and along.began is not None and not item.cut and to_end == ToEnd() and is_joined(after):
        shorter = _up_to_first(bodies[times - 1], walk)
    return [(body, 1) for body in (*bodies[:times], shorter)]


def _most(times: int, fits: Callable[[int], bool]) -> int | None:
    """The largest number up to `times` that fits, where all smaller ones do; None if not even 0 does."""
    low, high = -1, times
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if fits(middle) else (low, middle - 1)
    return low if low >= 0 else None


def _up_to_first(body: Nodes, walk: Walker) -> Nodes:
    """What a last repeat makes before it comes to where the round began, when the stitch there is like the first one:
    "sc in same sp, *ch 5, sc in next sp; rep from * around, join" (common practice, no source)."""
    along = walk.along
    assert along is not None
    for index, node in enumerate(body):
        if not isinstance(node, Run):
            return ()
        name = place_name(node.act)
        is_alike = node.tally.takes == 1 and walk.begun_with in node.act.kinds and not _is_skip(node)
        if index and name and is_alike and along.edge.nth(name, along.at, 1) == along.end:
            walk.along, walk.closed = along, walk.begun_with
            return body[:index]
        along = along.done(node.act, name, node.times)
        if along.short or along.at > along.end:
            return ()
    return ()


def _is_skip(node: Node) -> bool:
    return isinstance(node, Run) and node.act.role is Role.SKIP


def _has_room(walk: Walker, corner: int | None, to_end: ToEnd, after: tuple[Item, ...]) -> bool:
    along = walk.along
    assert along is not None
    until = along.end if corner is None else corner
    kept = 0 if takes_any(after) else to_end.leaving
    if along.short or along.at > until or along.left(to_end.onto or along.last or STITCH, until) < kept:
        return False
    return to_end.to_corner or fits(after, along)


def _left_over(item: Group, walk: W, once: Once[W]) -> Bodies:
    """The last side, where the round began in the middle of it; where a whole repeat is left over it is missed."""
    along = walk.along
    assert along is not None
    side = next((index for index, inner in enumerate(item.body) if is_side(inner)), None)
    if along.short or along.began is None:
        return []
    if side is not None and not takes_any(item.body[:side]):
        end = next((at for at in range(side + 1, len(item.body)) if takes_any(item.body[at : at + 1])), side + 1)
        ahead = walk.copy()
        last = once(item.body[:end], ahead)
        if ahead.along is along:
            return []
        if item.times == ToEnd() or not along.begins_at_corner:
            walk.restore(ahead)
            return [(last, 1)]
        walk.along = replace(along, passed=along.passed + 1)
        return []
    again = walk.copy()
    once(item.body, again)
    assert again.along is not None
    if item.times != Exactly(1) and again.along.last and not again.along.short:
        walk.along = replace(along, passed=along.passed + 1)
    return []
