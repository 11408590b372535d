"""Items and the bases that are there to a plan: are the bases used up?

All by arithmetic on the tree; how often "around" goes is told by `reach`.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import (
    Colour,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Rest,
    Role,
    Some,
    Spread,
    Technique,
)
from tracker.rounds.bases import ANY_GROUP, Base, Unsolvable, Walk, is_group_name, left_by, off_the_row
from tracker.rounds.plan import MAX_STITCHES, Act, Node, Plan, Repeat, Run, summed

__all__ = ["Base", "Solved", "left_by", "solve"]


@dataclass(frozen=True)
class Solved:
    """A reading with its numbers.

    `plan` is None when it depends on a number of bases that is not known. `unworked` bases are left over
    (negative: so many are missing). `idle` says that nothing was left for what was to go to the end. `cut` says that
    a group going round was cut short. `assumed` says that a number of spaces had to be assumed. `from_total` says
    that the stated total had to tell how often it goes round, `spaces_from_total` that it had to tell how many
    spaces there are.
    """

    plan: Plan | None
    unworked: int = 0
    idle: bool = False
    cut: bool = False
    assumed: bool = False
    from_total: bool = False
    spaces_from_total: bool = False
    refusal: str = ""
    refusal_code: str = ""

    @property
    def is_exact(self) -> bool:
        return self.plan is not None and self.unworked == 0 and not self.cut and not self.idle


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
    known = Base(foundation, 0) if foundation else base
    stitches, spaces = (known.stitches, known.spaces) if known else (None, None)
    walk = Walk(base, total, hint, foundation, other_side, stitches, spaces)
    try:
        nodes = _sequence(body, (), walk, top=True)
    except Unsolvable as stop:
        return Solved(None, refusal=stop.reason, refusal_code=stop.code)
    if walk.unset is not None:
        nodes = set_in(nodes, *walk.unset)
    plan = Plan(tuple(nodes), ends_with=walk.colour)
    if plan.tally.stitches > MAX_STITCHES or plan.tally.moves > 4 * MAX_STITCHES or plan.tally.takes > MAX_STITCHES:
        return Solved(None, refusal="this makes more stitches than a round can hold", refusal_code="too-many")
    return Solved(plan, walk.unworked(), walk.idle, walk.cut, walk.assumed, walk.from_total, walk.spaces_from_total)


def _sequence(items: tuple[Item, ...], after: tuple[Item, ...], walk: Walk, *, top: bool = False) -> list[Node]:
    """The nodes of these items, with what stands `after` them; `top` unless a group that is repeated holds them."""
    nodes: list[Node] = []
    for index, item in enumerate(items):
        behind = items[index + 1 :] + after
        if isinstance(item, Colour):
            walk.colour = item.key
        elif isinstance(item, Some):
            nodes.extend(_some(item, behind, walk, top))
        elif isinstance(item, Group):
            nodes.extend(_group(item, behind, walk, top))
        else:
            raise AssertionError("choices are settled before")
    return nodes


def _some(item: Some, after: tuple[Item, ...], walk: Walk, top: bool) -> list[Node]:
    act = walk.placed(item.act)
    if act.technique is Technique.OTHER_SIDE:
        walk.turn_the_side()
    if not isinstance(item.times, Rest):
        times = item.times.count
    elif top:
        times = times_of_act(act, item.act, item.times, after, walk)
        walk.idle = walk.idle or (times == 0 and walk.went_round)
        walk.went_round = walk.went_round or item.times == Rest()
    else:
        raise Unsolvable("open-inside", f"'{act.name}' to the end cannot stand inside a group that is repeated")
    walk.work(act, times)
    if not times:
        return []
    run = Run(act, times, item.act.span)
    if top and item.act.spread and walk.unset is None:
        walk.unset = run, item.act.spread
    return [run]


def _group(item: Group, after: tuple[Item, ...], walk: Walk, top: bool) -> list[Node]:
    """The group as often as it says, or as the bases allow; a part of it where they do not come out."""
    around = isinstance(item.times, Rest)
    if around and not top:
        raise Unsolvable("open-inside", "a group that goes round cannot stand inside another")
    if top and _has_rest(item.body) and (around or item.times == Exactly(1)):
        return _sequence(item.body, after, walk, top=True)  # to the end in itself: its items stand like any others
    start = replace(walk)
    body = tuple(_sequence(item.body, (), walk))
    again = body if walk.begins_alike(start) else tuple(_sequence(item.body, (), replace(walk)))
    walk.rewind(start)
    if isinstance(item.times, Rest):
        times, over = times_of_group(body, item.cut, item.times, after, walk)
        times = min(times, MAX_STITCHES + 1)
        walk.went_round = walk.went_round or item.times == Rest()
    else:
        times, over = item.times.count, 0
    nodes = _repeated(body, again, times, item)
    if over:
        walk.cut = True
        partial = tuple(_first_takes(body, over))
        nodes += [Repeat(partial, 1, item.span)] if partial else []
    walk.advance(nodes)
    return nodes


def _has_rest(body: tuple[Item, ...]) -> bool:
    return any(isinstance(item, Some | Group) and isinstance(item.times, Rest) for item in body)


def _repeated(body: tuple[Node, ...], again: tuple[Node, ...], times: int, item: Group) -> list[Node]:
    """The repeat; its first time stands alone if a colour or "in same st" makes it different from the others."""
    if times == 0 or not body:
        return []
    if item.cut:
        whole = times - 1
        last = again[: len(again) - item.cut] if whole else body[: len(body) - item.cut]
        nodes: list[Node] = [Repeat(body, whole, item.span)] if whole else []
        return [*nodes, Repeat(last, 1, item.span)] if last else nodes
    if body == again or times == 1:
        return [Repeat(body, times, item.span)]
    return [Repeat(body, 1, item.span), Repeat(again, times - 1, item.span)]


def _first_takes(body: tuple[Node, ...], bases: int) -> list[Node]:
    """As much of a group, from its start, as these bases allow."""
    nodes: list[Node] = []
    for node in body:
        takes = node.tally.takes
        if takes <= bases:
            nodes.append(node)
            bases -= takes
            continue
        if isinstance(node, Run) and node.act.takes:
            times = bases // node.act.takes
            if times:
                nodes.append(Run(node.act, times, node.span))
        elif isinstance(node, Repeat) and node.once.takes:
            times, rest = divmod(bases, node.once.takes)
            if times:
                nodes.append(replace(node, times=times))
            nodes.extend(_first_takes(node.body, rest))
        break
    return nodes


# Increases and decreases whose places a pattern leaves open, set among the plain stitches beside them.


def set_in(nodes: list[Node], changes: Run, spread: Spread) -> list[Node]:
    """The round with these changes among the plain stitches: evenly, the gaps differing by at most one, or at both
    ends. Numbers of stitches stay as they are."""
    index = next(index for index, node in enumerate(nodes) if node is changes)
    first, end = _plain_beside(nodes, index)
    plain = [beside for beside in nodes[first:end] if isinstance(beside, Run) and beside is not changes]
    if not plain or changes.act.makes[0].kind != plain[0].act.makes[0].kind:
        return nodes
    longest = max(plain, key=lambda run: run.times)
    place = _evenly if spread is Spread.EVENLY else _at_both_ends
    return [*nodes[:first], *place(changes, longest, sum(run.times for run in plain)), *nodes[end:]]


def _plain_beside(nodes: list[Node], index: int) -> tuple[int, int]:
    """The stretch of plain stitches of one kind that these changes stand in."""
    first, end = index, index + 1
    while first and _is_plain(nodes[first - 1]):
        first -= 1
    while end < len(nodes) and _is_plain(nodes[end]):
        end += 1
    return first, end


def _is_plain(node: Node) -> bool:
    if not isinstance(node, Run):
        return False
    act = node.act
    return act.role is Role.WORK and act.takes == act.stitches == 1 and act.into is Into.STITCH


def _evenly(changes: Run, plain: Run, there: int) -> list[Node]:
    gap, longer = divmod(there, changes.times)
    nodes: list[Node] = []
    for length, times in ((gap + 1, longer), (gap, changes.times - longer)):
        body = (*((replace(plain, times=length),) if length else ()), replace(changes, times=1))
        nodes += [Repeat(body, times)] if times else []
    return nodes


def _at_both_ends(changes: Run, plain: Run, there: int) -> list[Node]:
    half = changes.times // 2
    middle = [replace(plain, times=there)] if there else []
    return [replace(changes, times=half), *middle, replace(changes, times=changes.times - half)]


# How often what goes around is worked: so that the bases are used up, or so that the stated total comes out. All by
# arithmetic; a group that goes round ten thousand million times costs one division.


def times_of_act(act: Act, written: Instruction, rest: Rest, after: tuple[Item, ...], walk: Walk) -> int:
    """How often an act goes to the end, less what `rest` leaves or what the items `after` it need."""
    if act.takes == 0:
        raise Unsolvable("repeat-of-nothing", "what goes round uses no stitch, so it would never end")
    needs, spaces_needed = _fixed_takes(after)
    if act.into is Into.SPACE:
        return _times_into_spaces(act.takes, act.stitches, spaces_needed, after, walk, act.onto)
    if walk.stitches is None and act.technique is Technique.LEAVE:
        return 0  # nobody knows how many are left, and none is made
    if walk.stitches is None or (act.into is Into.PART and walk.total is not None):
        return _times_from_total(act.stitches, after, walk, beside=_made_beside(act, after))
    spaces = _spaces_besides(act, after, walk) if written.also_spaces else 0
    left = walk.stitches + spaces - walk.taken - (rest.leaving or needs)
    times, over = divmod(max(left, 0), act.takes)
    walk.taken -= spaces
    if over or (times == 0 and written.to_the_end):
        walk.cut = True
    return times


def times_of_group(
    body: tuple[Node, ...], cut: int, rest: Rest, after: tuple[Item, ...], walk: Walk
) -> tuple[int, int]:
    """How often a group goes to the end, and how many bases are over then; `cut` nodes are left out at the last."""
    once = summed(node.tally for node in body)
    if once.takes == 0:
        raise Unsolvable("repeat-of-nothing", "the group uses no stitch, so going round would never end")
    spaces = sum(off_the_row(body))
    stitches = once.takes - spaces
    needs, spaces_needed = _fixed_takes(after)
    if spaces and (walk.spaces is not None or stitches == 0):
        return _times_into_spaces(spaces, once.stitches, spaces_needed, after, walk, _onto(body)), 0
    if walk.stitches is None:
        return _times_from_total(once.stitches, after, walk), 0
    given_up = sum(node.tally.takes for node in body[len(body) - cut :]) if cut else 0
    left = walk.stitches - walk.taken - (rest.leaving or needs) + given_up
    walk.assumed = walk.assumed or spaces > 0
    return divmod(max(left, 0), stitches)


def _onto(body: tuple[Node, ...]) -> str:
    """The one name that a group uses for the spaces it is worked into; "" if there are several or none."""
    names = {act.onto for act in Plan(body).acts() if act.into is Into.SPACE}
    return names.pop() if len(names) == 1 else ""


def _spaces_besides(act: Act, after: tuple[Item, ...], walk: Walk) -> int:
    """Spaces worked into besides the stitches; where they are not known the stated total may tell how many."""
    known = walk.base.besides(act.onto) if walk.base is not None and walk.spaces is not None else walk.spaces
    if known is not None:
        return known
    makes = act.stitches
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


def _times_into_spaces(takes: int, makes: int, needed: int, after: tuple[Item, ...], walk: Walk, onto: str) -> int:
    """How often it goes round where it is worked into spaces or groups of the name `onto`, `needed` of them kept."""
    there = walk.base.count(onto) if walk.base is not None else walk.spaces
    if there is not None:
        if onto and there == 0:
            raise Unsolvable("no-such-base", f"there is no {_base_word(onto)} in the round below to work into")
        taken = walk.groups_taken if is_group_name(onto) else walk.spaces_taken
        return max(there - taken - needed, 0) // takes
    if walk.total is not None or walk.hint is not None:
        with suppress(Unsolvable):
            return _times_from_total(makes, after, walk)
    if walk.stitches is None or onto in ANY_GROUP:
        what = "groups" if onto in ANY_GROUP else "spaces"
        raise Unsolvable("base-unknown", f"it is not known how many {what} there are to work into")
    walk.assumed = True
    return max(walk.stitches - walk.spaces_taken - needed, 0) // takes


def _base_word(onto: str) -> str:
    return f"{onto} space" if onto.startswith("ch-") else onto


def _made_beside(act: Act, after: tuple[Item, ...]) -> int:
    """What one stitch makes on each other part that a total is shared with: "sc around first leg, sc around second
    leg". That the parts are alike is likely, and changes no sum."""
    if act.into is not Into.PART:
        return 0
    others = [i for i in after if isinstance(i, Some) and i.act.into is Into.PART and isinstance(i.times, Rest)]
    return sum(other.act.stitches for other in others)


def _times_from_total(makes: int, after: tuple[Item, ...], walk: Walk, beside: int = 0) -> int:
    """How often it goes round, from the stated total, because the bases are not known."""
    if walk.total is None and walk.hint is not None:
        walk.from_total = True
        return walk.hint
    if walk.total is None:
        raise Unsolvable("base-unknown", "it is not known how many stitches there are to work into")
    left = walk.total - walk.made - _fixed_makes(after)
    if makes == 0 or left < 0 or (left % makes and not beside):
        raise Unsolvable("total-does-not-divide", f"no whole number of repeats makes {walk.total}")
    walk.from_total = True
    return left // (makes + beside)


def _fixed_takes(items: tuple[Item, ...]) -> tuple[int, int]:
    """Stitches and spaces that these items take whatever there is; the other side of a chain is another matter."""
    stitches = spaces = 0
    for item in items:
        if isinstance(item, Some):
            if item.act.technique is Technique.OTHER_SIDE:
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
    """Stitches that these items make whatever there is."""
    made = 0
    for item in items:
        if isinstance(item, Some) and isinstance(item.times, Exactly):
            made += item.act.stitches * item.times.count
        elif isinstance(item, Group) and isinstance(item.times, Exactly):
            made += _fixed_makes(item.body) * item.times.count
    return made
