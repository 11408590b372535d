"""The upper edge of a round of lace: its stitches, its chain spaces and the gaps between its groups, in the order in
which the next round comes to them.

With it "each ch-1 sp to corner" is what lies before the corner, and what is passed over unsaid is seen. It is only
asked for by rounds that go into such places; a round of stitches is arithmetic.
"""

from __future__ import annotations

from bisect import bisect_left

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, field
from tracker.notation.ast import Instruction, Into, Role, Technique
from tracker.notation.bunches import PICOT
from tracker.notation.instructions import ANY_SPACE, CORNER, FIRST, LAST, PETAL, is_at_corner, within
from tracker.rounds.bases import ALONE, ANY_GROUP, FEWEST_SIDES, MOST_SIDES, is_group_name, kinds_of, stands_up
from tracker.rounds.plan import Act, Plan, unrolled

MOST_MOVES = 4000
"""A round of lace has some hundreds; of a longer one, a slip of the keyboard, nobody asks where its spaces lie."""

STITCH, SPACE, GAP = "stitch", ANY_SPACE, "gap"
"""What a place is called by which sort it is: a stitch, any chain space, between two groups."""
BUT = " but "
"""Stands before the name of those places that are left out."""
CHAIN = "chain"
"""What a place of a group is, besides a stitch of it: a chain between those."""


@dataclass(frozen=True, slots=True)
class Edge:
    """The places in order, each with all that it may be called; behind the last the first comes again.

    `ends_in_space` says that the round is closed like a loop, in which the next one begins.
    """

    places: tuple[frozenset[str], ...]
    ends_in_space: bool = False
    _sites: dict[str, list[int]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def has_gaps_on_its_sides(self) -> bool:
        """Whether there are gaps between its groups, and no chain spaces but at the corners."""
        corners = self.sites(CORNER)
        return bool(corners) and bool(self.sites(GAP)) and self.sites(SPACE) == corners

    def sites(self, name: str) -> list[int]:
        """Where the places of this name are; "stitch+ch-1" are those of either, "space but corner" the others."""
        sites = self._sites.get(name)
        if sites is None:
            names, besides = (set(each.split("+")) for each in f"{name}{BUT}".split(BUT)[:2])
            sites = [i for i, place in enumerate(self.places) if names & place and not besides & place]
            self._sites[name] = sites
        return sites

    def nth(self, name: str, start: int, number: int) -> int:
        """Where the nth place of this name from `start` on lies, however often one has to go round for it."""
        sites = self.sites(name)
        rank = self._rank(name, start) + number - 1
        return rank // len(sites) * len(self.places) + sites[rank % len(sites)]

    def count(self, name: str, start: int, stop: int) -> int:
        """How many places of this name lie from `start` on before `stop`."""
        return max(self._rank(name, stop) - self._rank(name, start), 0) if self.sites(name) else 0

    def extent(self, group: str, start: int) -> int:
        """How many stitches the group has that begins at `start`."""
        members = {within(group, STITCH), within(group, CHAIN)}
        stitches = 0
        for index in range(len(self.places)):
            place = self.places[(start + index) % len(self.places)]
            if not place & members or (index and within(group, FIRST) in place):
                break
            stitches += STITCH in place
        return stitches

    def _rank(self, name: str, index: int) -> int:
        rounds, place = divmod(index, len(self.places))
        sites = self.sites(name)
        return rounds * len(sites) + bisect_left(sites, place)


@dataclass(slots=True, eq=False)
class _Group:
    """What stands in one place: its stitches and the chains between them, in order, as far as they are made."""

    pieces: list[_EdgePiece] = field(default_factory=list)
    names: set[str] = field(default_factory=set)


@dataclass(slots=True, eq=False)
class _EdgePiece:
    """A stitch, or a length of chain (0 for a stitch), on its way to be a place. What stands between groups has
    none."""

    names: set[str]
    length: int = 0
    group: _Group | None = None


@remembered
def edge_of(plan: Plan, turned: bool) -> Edge | None:
    """The edge that a round leaves, as the next one comes along it; `turned` if that is worked back over it.

    None if the round is so long that nobody made it.
    """
    if plan.moves > MOST_MOVES:
        return None
    pieces = _pieces(plan)
    if not pieces:
        return None
    _name_corners(pieces, plan)
    groups = list(dict.fromkeys(piece.group for piece in pieces if piece.group is not None))
    if len(groups) == 1 and any(act.into is Into.RING for act in plan.acts()):
        groups = []  # no group is the whole round
    _name_alike(groups)
    closed = _is_joined(plan)
    blocks = _blocks(pieces, goes_round=closed or not turned)
    if _are_widened(blocks):
        groups = []  # two stitches in one place widen a group, and are none
    fans = {"shell", "fan"} & {name for group in groups for name in group.names} or {"shell", "fan"}
    for group in groups:
        _name_by_middle(group, fans, turned)
    if not any(ANY_GROUP in piece.names for piece in pieces):
        _name_blocks(blocks, turned)
    places = _with_gaps(pieces, goes_round=closed or not turned)
    ends_in_space = SPACE in places[-1] and not turned
    if turned:
        first = 1 if closed else 0  # a joined round that is turned begins in the stitch that it was joined in
        places = places[:first] + places[first:][::-1]
    return Edge(tuple(frozenset(place) for place in places), ends_in_space)


def _pieces(plan: Plan) -> list[_EdgePiece]:
    """Stitches and chains as they are made. What goes into the place before, or is made in the ring without a chain
    between, is of one group, and so are the chains between its stitches."""
    pieces: list[_EdgePiece] = []
    group: _Group | None = None
    apart: list[_EdgePiece] = []
    for act in (run.act for run in unrolled(plan.body) for _ in range(run.times)):
        if act.role not in (Role.CHAIN, Role.WORK):
            continue
        begins = act.into not in (Into.SAME, Into.RING)
        for made in act.makes:
            if made.is_chain and not made.counts_as:
                is_small = act.technique is Technique.IN_ONE and stands_up(made)
                names = {PICOT} if is_small or act.technique is Technique.PICOT else set()
                apart.append(_EdgePiece({SPACE, f"ch-{made.count}", *names}, made.count))
                continue
            if group is None or begins or (act.into is Into.RING and apart):
                group = _Group()
                pieces += apart
            else:
                _add(group, apart, pieces)
            apart, begins = [], False
            if act.technique is Technique.GROUP:
                group.names.add(act.name)
            kinds = {STITCH, *(ALONE + kind for kind in kinds_of(made, act))}
            _add(group, [_EdgePiece(set(kinds)) for _ in range(made.stitches)], pieces)
    return pieces + apart


def _add(group: _Group, more: list[_EdgePiece], pieces: list[_EdgePiece]) -> None:
    for piece in more:
        piece.group = group
    group.pieces += more
    pieces += more


def _name_corners(pieces: list[_EdgePiece], plan: Plan) -> None:
    """Where the round goes about a corner: at the chains with stitches on both sides in one place, the longest of
    them if they differ; where there are none, at the longest chains."""
    within = [piece for piece in pieces if piece.length and piece.group is not None]
    lengths = {
        made.count for act in plan.acts() if is_at_corner(act.onto) for made in act.makes[1:-1] if made.is_chain
    }
    for chains in (within, [piece for piece in pieces if piece.length]):
        longest = max(lengths or {piece.length for piece in chains}, default=0)
        corners = [piece for piece in chains if piece.length == longest]
        if FEWEST_SIDES <= len(corners) <= MOST_SIDES:
            for piece in corners:
                piece.names.add(CORNER)
            return


def _name_alike(groups: list[_Group]) -> None:
    """A group that the round begins with, "ch 4, dc in same st", is called as those that it is like."""
    named = {tuple(piece.length for piece in group.pieces): group.names for group in groups if group.names}
    for group in groups:
        group.names |= named.get(tuple(piece.length for piece in group.pieces), set())


def _name_by_middle(group: _Group, fans: set[str], turned: bool) -> None:
    """A group is gone into at its middle: at the chain between its stitches, or at the stitch there. One that has no
    name of its own is called as such `fans` are in this round."""
    chains = [piece for piece in group.pieces if piece.length]
    stitches = [piece for piece in group.pieces if not piece.length]
    for stretch in _stretches(group.pieces):
        _name_stretch(stretch, turned)
    if chains and len(stitches) == 2:
        group.names.add("v-st")
    elif len(stitches) > 2:
        group.names |= {*fans, PETAL}
    middle = chains or stitches
    middle[len(middle) // 2].names |= group.names
    _name_members(group.pieces, group.names, turned)


def _blocks(pieces: list[_EdgePiece], *, goes_round: bool) -> list[list[_EdgePiece]]:
    """The stitches between two spaces, "dc in next 3 dc, ch 4"; none if they differ in number, as then nobody knows
    which are called a group. A stitch alone is none."""
    blocks = _stretches(pieces)
    if len(blocks) == 1:
        return []  # no group is the whole round
    if goes_round:
        blocks[0] = blocks.pop() + blocks[0]  # it comes back to where it began
    blocks = [block for block in blocks if len(block) > 1]
    return blocks if len({len(block) for block in blocks}) == 1 else []


@remembered
def has_like_parts(plan: Plan) -> bool:
    """Whether a joined round of stitches and chain spaces is made of several parts that are alike, as a motif is."""
    if plan.moves > MOST_MOVES or not plan.tally.spaces or not _is_joined(plan):
        return False
    pieces = _pieces(plan)
    lengths = [piece.length for piece in pieces if piece.length]
    before, *behind = (len(stretch) for stretch in _stretches(pieces))
    if not behind:
        return False
    behind[-1] += before  # it comes back to where it began
    parts = list(zip(lengths, behind, strict=True))
    return any(parts == parts[:size] * (len(parts) // size) for size in range(1, len(parts) // 2 + 1))


def _is_joined(plan: Plan) -> bool:
    return any(act.technique is Technique.JOIN for act in plan.acts())


def _are_widened(blocks: list[list[_EdgePiece]]) -> bool:
    """Whether no more than two stitches of any block stand in one place, with no chain there, and others alone."""
    together = [{piece.group for piece in block if piece.group is not None} for block in blocks]
    sizes = [{len(group.pieces) for group in groups} for groups in together]
    chains = any(piece.length for groups in together for group in groups for piece in group.pieces)
    return bool(blocks) and not chains and all(numbers == {1, 2} for numbers in sizes)


def _name_blocks(blocks: list[list[_EdgePiece]], turned: bool) -> None:
    """Where no group stands in one place the blocks between the spaces are called so."""
    for block in blocks:
        _name_stretch(block, turned)


def _name_stretch(stretch: list[_EdgePiece], turned: bool) -> None:
    """Several stitches side by side are a group, "5-dc group", and its middle is what it is gone into at."""
    if len(stretch) > 1:
        names = {ANY_GROUP, f"{len(stretch)}-{ANY_GROUP}"}
        stretch[len(stretch) // 2].names |= names
        _name_members(stretch, names, turned)


def _name_members(pieces: list[_EdgePiece], groups: set[str], turned: bool) -> None:
    """Each stitch and chain is called as one of the groups that it is of, and so are the first and the last that are
    come to."""
    for piece in pieces:
        called = (CHAIN, f"ch-{piece.length}") if piece.length else (STITCH,)
        piece.names |= {within(name, each) for name in groups for each in called}
    first, last = (-1, 0) if turned else (0, -1)
    pieces[first].names |= {within(name, FIRST) for name in groups}
    pieces[last].names |= {within(name, LAST) for name in groups}


def _stretches(pieces: list[_EdgePiece]) -> list[list[_EdgePiece]]:
    """The stitches among these, parted by chains."""
    stretches: list[list[_EdgePiece]] = [[]]
    for piece in pieces:
        if piece.length:
            stretches.append([])
        else:
            stretches[-1].append(piece)
    return stretches


def _with_gaps(pieces: list[_EdgePiece], *, goes_round: bool) -> list[set[str]]:
    """The places, with those between two groups: the chain there, or where there is none a place of its own."""
    places: list[set[str]] = []
    before: _Group | None = None
    apart: _EdgePiece | None = None
    first = [piece for piece in pieces if piece.group is not None][: int(goes_round)]
    for piece in (*pieces, *first):
        if piece.group is None:
            apart = piece
        else:
            if before is not None and before is not piece.group and _are_several(before, piece.group):
                if apart is None:
                    places.append({GAP})
                else:
                    apart.names.add(GAP)
            before, apart = piece.group, None
        places.append(piece.names)
    return places[: len(places) - len(first)]


def _are_several(*groups: _Group) -> bool:
    """Whether more than one stitch stands in each of these places."""
    return all(sum(not piece.length for piece in group.pieces) > 1 for group in groups)


def place_name(act: Act | Instruction, *, also_spaces: bool = False) -> str:
    """What the places that an act goes into are called on an edge; "" if it goes into none there."""
    if act.role is Role.STEP or not act.takes:
        return ""
    if act.into is Into.SPACE:
        return _space_name(act.onto)
    if act.into is Into.BETWEEN:
        return GAP if is_group_name(act.onto) else STITCH
    if act.into is Into.CHAIN:
        return act.onto
    if act.into is not Into.STITCH:
        return ""
    if act.onto.startswith(ALONE):
        return act.onto
    if is_group_name(act.onto) and not also_spaces:
        return within(act.onto, STITCH)
    return f"{STITCH}+{_space_name(act.onto)}" if also_spaces else STITCH


def _space_name(onto: str) -> str:
    return CORNER if is_at_corner(onto) else onto or SPACE
