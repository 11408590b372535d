"""Items and the bases that are there to a plan: how often does "around" go, and are the bases used up?

All by arithmetic on the tree; a group that goes round ten thousand million times costs one division.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.tree import Colour, Exactly, Group, Into, Item, Rest, Role, Some
from tracker.pattern.plan import MAX_STITCHES, Act, Node, Plan, Repeat, Run, Tally


@dataclass(frozen=True, slots=True)
class Base:
    """What is there to be worked into. `spaces` is None where it is not known how many chain spaces there are.

    `named` are the numbers of places by name, where the round below is known: ("ch-3", 8), ("shell", 6).
    """

    stitches: int
    spaces: int | None = None
    named: tuple[tuple[str, int], ...] = ()

    def count(self, onto: str) -> int | None:
        """How many places of this name there are; None if that cannot be told."""
        if onto and self.named:
            return dict(self.named).get(onto, 0)
        return self.spaces


def left_by(plan: Plan) -> Base:
    """What a round leaves: its stitches, its chain spaces by length, and its named groups."""
    named: dict[str, int] = {}
    _count_places(plan.body, 1, named)
    return Base(plan.leaves, plan.tally.spaces, tuple(named.items()))


def _count_places(body: tuple[Node, ...], times: int, named: dict[str, int]) -> None:
    for node in body:
        if isinstance(node, Repeat):
            _count_places(node.body, times * node.times, named)
            continue
        for made in node.act.makes:
            if made.is_chain and not made.counts_as:
                key = f"ch-{made.count}"
                named[key] = named.get(key, 0) + times * node.times
        if node.act.role is Role.WORK:
            named[node.act.name] = named.get(node.act.name, 0) + times * node.times
            if node.act.name == "in one":
                for group in _as_groups(node.act):
                    named[group] = named.get(group, 0) + times * node.times


def _as_groups(act: Act) -> tuple[str, ...]:
    """What a group written out in one place is called when it is named later."""
    kinds = [made.is_chain for made in act.makes]
    if any(kinds):
        return ("v-st",) if act.stitches == 2 else ("shell", "fan")
    return ("shell", "fan")


@dataclass(frozen=True)
class Solved:
    """A reading with its numbers.

    `plan` is None when it depends on a number of bases that is not known. `unworked` bases are left over
    (negative: so many are missing). `cut` says that a group going round was cut short. `assumed` says that a
    number of spaces had to be assumed. `from_total` says that the stated total had to tell how often it goes round,
    `spaces_from_total` that it had to tell how many spaces there are.
    """

    plan: Plan | None
    unworked: int = 0
    cut: bool = False
    assumed: bool = False
    from_total: bool = False
    spaces_from_total: bool = False
    refusal: str = ""
    refusal_code: str = ""

    @property
    def is_exact(self) -> bool:
        return self.plan is not None and self.unworked == 0 and not self.cut


class _Unsolvable(Exception):
    def __init__(self, code: str, reason: str) -> None:
        super().__init__(reason)
        self.code = code
        self.reason = reason


@dataclass
class _Walk:
    """What has been taken so far; `stitches` and `spaces` are what there is (None: not known)."""

    stitches: int | None
    spaces: int | None
    total: int | None
    side: int
    taken: int = 0
    spaces_taken: int = 0
    groups_taken: int = 0
    made: int = 0
    touched: bool = False
    in_space: bool = False
    cut: bool = False
    assumed: bool = False
    from_total: bool = False
    spaces_from_total: bool = False
    colour: str = ""
    elsewhere: bool = False
    base: Base | None = None
    hint: int | None = None
    foundation: int = 0


def solve(
    body: tuple[Item, ...],
    base: Base | None,
    total: int | None = None,
    *,
    foundation: int = 0,
    other_side: int = 1,
    hint: int | None = None,
) -> Solved:
    """Resolve a reading.

    `total` is the stated number of stitches and only used where the bases are not known. `foundation` is the number
    of chains to work into when the line makes its own; `other_side` is how many of them the second side does not
    have for itself. `hint` is how many groups the pattern says there are, where it states no number of stitches.
    """
    walk = _Walk(
        base.stitches if base else None,
        base.spaces if base else None,
        total,
        other_side,
        foundation=foundation,
        hint=hint,
        base=base,
    )
    if foundation:
        walk.stitches, walk.spaces = foundation, 0
    try:
        nodes = _sequence(body, walk, top=True)
    except _Unsolvable as stop:
        return Solved(None, refusal=stop.reason, refusal_code=stop.code)
    plan = Plan(tuple(nodes), ends_with=walk.colour)
    if plan.tally.stitches > MAX_STITCHES or plan.tally.moves > 4 * MAX_STITCHES or plan.tally.takes > MAX_STITCHES:
        return Solved(None, refusal="this makes more stitches than a round can hold", refusal_code="too-many")
    unworked = _unworked(walk)
    return Solved(plan, unworked, walk.cut, walk.assumed, walk.from_total, walk.spaces_from_total)


def _unworked(walk: _Walk) -> int:
    """Bases left over. Stitches passed over on the way between spaces are not left over."""
    if walk.stitches is None or walk.elsewhere or not (walk.touched or walk.taken):
        return 0
    if walk.spaces_taken or walk.groups_taken:
        if walk.taken > walk.stitches:
            return walk.stitches - walk.taken
        return 0 if walk.spaces is None else min(0, walk.spaces - walk.spaces_taken)
    return walk.stitches - walk.taken


def _sequence(items: tuple[Item, ...], walk: _Walk, top: bool = False) -> list[Node]:
    nodes: list[Node] = []
    for index, item in enumerate(items):
        if isinstance(item, Colour):
            walk.colour = item.key
            continue
        if isinstance(item, Some):
            nodes.extend(_some(item, items[index + 1 :], walk, top))
        elif isinstance(item, Group):
            nodes.extend(_group(item, items[index + 1 :], walk, top))
        else:
            raise AssertionError("choices are settled before")
    return nodes


def _placed(act: Act, walk: _Walk) -> Act:
    """The act with its colour, and with the base that "in same st" takes if nothing was worked into before."""
    if walk.colour and not act.colour and act.role is not Role.STEP:
        act = replace(act, colour=walk.colour)
    if act.role is Role.SKIP and act.into is Into.CHAIN and walk.spaces and not walk.foundation:
        act = replace(act, takes=0)
    if act.into is Into.SAME and not walk.touched and act.role is Role.WORK:
        act = replace(act, takes=1, into=Into.SPACE if act.remark == "space" else Into.STITCH)
    return act


def _some(item: Some, after: tuple[Item, ...], walk: _Walk, top: bool) -> list[Node]:
    act = _placed(item.act, walk)
    if act.name == "other side":
        _turn_the_side(walk)
    if isinstance(item.times, Rest):
        if not top:
            return [_rest_in_group(act, item.times)]
        times = _times_of_rest(act.takes, act.stitches, item.times, after, walk, act)
    else:
        times = item.times.count
    run = Run(act, times)
    _note(walk, act, times)
    return [run] if times else []


def _rest_in_group(act: Act, rest: Rest) -> Node:
    raise _Unsolvable("open-inside", f"'{act.name}' to the end cannot stand inside a group that is repeated")


def _turn_the_side(walk: _Walk) -> None:
    """The second side of a foundation chain has its bases for itself, less the shared ones at its ends."""
    if walk.foundation:
        walk.stitches = walk.foundation + max(walk.foundation - walk.side, 0)
    else:
        walk.stitches = None
        walk.assumed = True


def _note(walk: _Walk, act: Act, times: int) -> None:
    if act.remark.startswith("hook") and not walk.foundation and not walk.touched:
        walk.taken += int(act.remark.split()[1]) - 1
    if act.into is Into.SPACE and _is_group_name(act.onto):
        walk.groups_taken += act.takes * times
    elif act.into is Into.SPACE:
        walk.spaces_taken += act.takes * times
    else:
        walk.taken += act.takes * times
    walk.made += act.stitches * times
    walk.elsewhere = walk.elsewhere or act.into is Into.PART
    if act.takes or act.into is Into.RING:
        walk.touched = True


def _times_of_rest(takes: int, makes: int, rest: Rest, after: tuple[Item, ...], walk: _Walk, act: Act) -> int:
    if takes == 0:
        raise _Unsolvable("repeat-of-nothing", "what goes round uses no stitch, so it would never end")
    needs, spaces_needed = _fixed_takes(after)
    if act.into is Into.SPACE:
        return _times_into_spaces(takes, makes, spaces_needed, after, walk, act.onto)
    if walk.stitches is None:
        return _times_from_total(makes, after, walk)
    extra = 0
    if act.remark == "also spaces":
        extra = _spaces_besides(makes, after, walk)
    left = walk.stitches + extra - walk.taken - (rest.leaving or needs)
    times, over = divmod(max(left, 0), takes)
    if extra:
        walk.taken -= extra
    if over or (times == 0 and act.remark == "onward"):
        walk.cut = True
    return times


def _spaces_besides(makes: int, after: tuple[Item, ...], walk: _Walk) -> int:
    """Spaces worked into besides the stitches; where they are not known the stated total may tell how many."""
    if walk.spaces is not None:
        return walk.spaces
    assert walk.stitches is not None
    walk.assumed = True
    if walk.total is None or not makes:
        return 0
    times, over = divmod(walk.total - walk.made - _fixed_makes(after), makes)
    besides = times - (walk.stitches - walk.taken)
    if over or not 0 < besides <= walk.stitches:
        return 0
    walk.spaces_from_total = True
    return besides


def _times_into_spaces(
    takes: int, makes: int, needed: int, after: tuple[Item, ...], walk: _Walk, onto: str = ""
) -> int:
    there = walk.base.count(onto) if walk.base is not None else walk.spaces
    if there is not None:
        if onto and there == 0:
            raise _Unsolvable("no-such-base", f"there is no {_base_word(onto)} in the round below to work into")
        taken = walk.groups_taken if _is_group_name(onto) else walk.spaces_taken
        return max(there - taken - needed, 0) // takes
    if walk.total is not None or walk.hint is not None:
        try:
            return _times_from_total(makes, after, walk)
        except _Unsolvable:
            pass
    if walk.stitches is None:
        raise _Unsolvable("base-unknown", "it is not known how many spaces there are to work into")
    walk.assumed = True
    return max(walk.stitches - walk.spaces_taken - needed, 0) // takes


def _base_word(onto: str) -> str:
    return f"{onto} space" if onto.startswith("ch-") else onto


def _times_from_total(makes: int, after: tuple[Item, ...], walk: _Walk) -> int:
    """How often it goes round, from the stated total, because the bases are not known."""
    if walk.total is None and walk.hint is not None:
        walk.from_total = True
        return walk.hint
    if walk.total is None:
        raise _Unsolvable("base-unknown", "it is not known how many stitches there are to work into")
    left = walk.total - walk.made - _fixed_makes(after)
    if makes == 0 or left < 0 or left % makes:
        raise _Unsolvable("total-does-not-divide", f"no whole number of repeats makes {walk.total}")
    walk.from_total = True
    return left // makes


def _group(item: Group, after: tuple[Item, ...], walk: _Walk, top: bool) -> list[Node]:
    if isinstance(item.times, Rest):
        if not top:
            raise _Unsolvable("open-inside", "a group that goes round cannot stand inside another")
        return _group_around(item, item.times, after, walk)
    times = item.times.count
    if times == 1 and top and _has_rest(item.body):
        return _spliced(item, after, walk)
    start = replace(walk)
    body = tuple(_sequence(item.body, walk))
    if not body:
        return []
    first = Repeat(body, 1, item.span)
    again_walk = replace(walk)
    again = tuple(_sequence(item.body, again_walk))
    nodes = _repeat(first, body, again, times, item)
    _advance(walk, start, nodes)
    return nodes


def _spliced(item: Group, after: tuple[Item, ...], walk: _Walk) -> list[Node]:
    """A group worked once that goes to the end in itself: its items stand in the round like any others."""
    nodes: list[Node] = []
    for index, inner in enumerate(item.body):
        rest_after = item.body[index + 1 :] + after
        if isinstance(inner, Colour):
            walk.colour = inner.key
        elif isinstance(inner, Some):
            nodes.extend(_some(inner, rest_after, walk, True))
        elif isinstance(inner, Group):
            nodes.extend(_group(inner, rest_after, walk, True))
    return nodes


def _repeat(first: Repeat, body: tuple[Node, ...], again: tuple[Node, ...], times: int, item: Group) -> list[Node]:
    """The repeat; its first time stands alone if a colour or "in same st" makes it different from the others."""
    if item.cut and times:
        whole = times - 1
        last = again[: len(again) - item.cut] if whole else body[: len(body) - item.cut]
        nodes: list[Node] = [Repeat(body, whole, item.span)] if whole else []
        return [*nodes, Repeat(tuple(last), 1, item.span)] if last else nodes
    if body == again or times == 1:
        return [Repeat(body, times, item.span)]
    return [first, Repeat(again, times - 1, item.span)]


def _advance(walk: _Walk, start: _Walk, nodes: list[Node]) -> None:
    """Set what has been taken and made to what these nodes take and make, counted from `start`."""
    tally = sum((node.tally for node in nodes), Tally())
    spaces, groups = _off_the_row(tuple(nodes))
    walk.taken = start.taken + tally.takes - spaces - groups
    walk.spaces_taken = start.spaces_taken + spaces
    walk.groups_taken = start.groups_taken + groups
    walk.made = start.made + tally.stitches


def _off_the_row(body: tuple[Node, ...]) -> tuple[int, int]:
    """How many chain spaces and how many named groups these nodes are worked into, besides stitches."""
    spaces = groups = 0
    for node in body:
        if isinstance(node, Repeat):
            inner = _off_the_row(node.body)
            spaces += inner[0] * node.times
            groups += inner[1] * node.times
        elif node.act.into is Into.SPACE and _is_group_name(node.act.onto):
            groups += node.act.takes * node.times
        elif node.act.into is Into.SPACE:
            spaces += node.act.takes * node.times
    return spaces, groups


def _is_group_name(onto: str) -> bool:
    return bool(onto) and not onto.startswith("ch-")


def _has_rest(body: tuple[Item, ...]) -> bool:
    return any(isinstance(i, Some | Group) and isinstance(i.times, Rest) for i in body)


def _group_around(item: Group, rest: Rest, after: tuple[Item, ...], walk: _Walk) -> list[Node]:
    if _has_rest(item.body):
        return _spliced(item, after, walk)
    start = replace(walk)
    body = tuple(_sequence(item.body, walk))
    once = sum((node.tally for node in body), Tally())
    spaces_once = sum(_off_the_row(body))
    stitches_once = once.takes - spaces_once
    if once.takes == 0:
        raise _Unsolvable("repeat-of-nothing", "the group uses no stitch, so going round would never end")
    needs, spaces_needed = _fixed_takes(after)
    walk.taken, walk.spaces_taken, walk.made = start.taken, start.spaces_taken, start.made
    walk.groups_taken = start.groups_taken
    over = 0
    if spaces_once and (walk.spaces is not None or stitches_once == 0):
        times = _times_into_spaces(spaces_once, once.stitches, spaces_needed, after, walk, _onto(body))
    elif walk.stitches is None:
        times = _times_from_total(once.stitches, after, walk)
    else:
        given_up = _cut_takes(body, item.cut)
        left = walk.stitches - walk.taken - (rest.leaving or needs) + given_up
        times, over = divmod(max(left, 0), stitches_once)
        walk.assumed = walk.assumed or bool(spaces_once)
    times = min(times, MAX_STITCHES + 1)
    nodes: list[Node] = []
    if times:
        again = tuple(_sequence(item.body, replace(walk)))
        nodes = _repeat(Repeat(body, 1, item.span), body, again, times, item)
    if over:
        walk.cut = True
        partial = _first_takes(body, over)
        if partial:
            nodes.append(Repeat(tuple(partial), 1, item.span))
    _advance(walk, start, nodes)
    walk.touched = walk.touched or start.touched or bool(nodes)
    return nodes


def _onto(body: tuple[Node, ...]) -> str:
    """The one name that a group uses for the spaces it is worked into; "" if there are several or none."""
    names = {act.onto for act in Plan(body).acts() if act.into is Into.SPACE}
    return names.pop() if len(names) == 1 else ""


def _cut_takes(body: tuple[Node, ...], cut: int) -> int:
    """Bases that the last repeat does not take because it ends early."""
    return sum(node.tally.takes for node in body[len(body) - cut :]) if cut else 0


def _first_takes(body: tuple[Node, ...], bases: int) -> list[Node]:
    """As much of a group, from its start, as these bases allow."""
    found: list[Node] = []
    for node in body:
        takes = node.tally.takes
        if takes <= bases:
            found.append(node)
            bases -= takes
            continue
        if isinstance(node, Run) and node.act.takes:
            times = bases // node.act.takes
            if times:
                found.append(Run(node.act, times))
        elif isinstance(node, Repeat) and node.once.takes:
            times, rest = divmod(bases, node.once.takes)
            if times:
                found.append(replace(node, times=times))
            found.extend(_first_takes(node.body, rest))
        break
    return found


def _fixed_takes(items: tuple[Item, ...]) -> tuple[int, int]:
    """Stitches and spaces that these items take whatever there is; the other side of a chain is another matter."""
    stitches = spaces = 0
    for item in items:
        if isinstance(item, Some):
            if item.act.name == "other side":
                break
            count = item.times.count if isinstance(item.times, Exactly) else 0
            if item.act.into is Into.SPACE:
                spaces += count * item.act.takes
            else:
                stitches += count * item.act.takes
        elif isinstance(item, Group):
            inner = _fixed_takes(item.body)
            count = item.times.count if isinstance(item.times, Exactly) else 0
            stitches += inner[0] * count
            spaces += inner[1] * count
    return stitches, spaces


def _fixed_makes(items: tuple[Item, ...]) -> int:
    made = 0
    for item in items:
        if isinstance(item, Some) and isinstance(item.times, Exactly):
            made += item.act.stitches * item.times.count
        elif isinstance(item, Group) and isinstance(item.times, Exactly):
            made += _fixed_makes(item.body) * item.times.count
    return made
