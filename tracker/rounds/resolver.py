"""Items and the bases that are there to a plan: are the bases used up?

All by arithmetic on the tree.
"""

from __future__ import annotations

from contextlib import suppress

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Colour, Exactly, Group, Instruction, Into, Item, Role, Some, Technique, ToEnd
from tracker.rounds.abreast import in_order
from tracker.rounds.bases import (
    Base,
    is_any_group,
    is_group_name,
    is_off_the_row,
    is_on_a_group,
    off_the_row,
)
from tracker.rounds.edge import STITCH, place_name
from tracker.rounds.lace import (
    begin_along,
    goes_round,
    is_joined,
    repeat_along,
    times_along,
)
from tracker.rounds.plan import MAX_STITCHES, Act, Node, Plan, Repeat, Run, repeated, set_in, summed
from tracker.rounds.slicing import falls_on_first, first_takes
from tracker.rounds.walk import Unsolvable, Walk


@dataclass(frozen=True, slots=True)
class Solved:
    """A reading with its numbers.

    `plan` is None when it depends on a number of bases that is not known. `unworked` bases are left over
    (negative: so many are missing). `idle` says that nothing was left for what was to go to the end. `cut` says that
    a group going round was cut short, `closed` names the stitch that its last repeat leaves out because the first of
    the round stands there. `assumed` says that a number of spaces had to be assumed. `from_total` says
    that the stated total had to tell how often it goes round, `spaces_from_total` that it had to tell how many
    spaces there are.
    """

    plan: Plan | None
    unworked: int = 0
    idle: bool = False
    cut: bool = False
    closed: str = ""
    assumed: bool = False
    from_total: bool = False
    spaces_from_total: bool = False
    passed: int | None = None
    """Spaces or groups passed over with no word, of the sort that was gone into before; None where not known."""
    refusal: str = ""
    refusal_code: str = ""

    @property
    def is_exact(self) -> bool:
        return self.plan is not None and self.unworked == 0 and not self.cut and not self.idle


MOST_ENDS = 24
"""How often a line may go to the end of the round; each of several parts is gone around once, and nobody joins so
many."""


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
    below = Base(foundation, 0) if foundation else base
    stitches, spaces = (below.stitches, below.spaces) if below else (None, None)
    walk = Walk(base, total, hint, foundation, other_side, stitches, spaces)
    if (ends := goes_round(body)) > MOST_ENDS:
        return Solved(None, refusal=f"this goes to the end of the round {ends} times", refusal_code="open-inside")
    walk.along = begin_along(body, base) if is_off_the_row(body) and not foundation else None
    try:
        nodes = _sequence(body, (), walk, top=True)
    except Unsolvable as stop:
        return Solved(None, refusal=stop.reason, refusal_code=stop.code)
    if walk.unset is not None:
        nodes = set_in(nodes, *walk.unset)
    nodes = in_order(nodes, body, walk.along) if walk.along is not None else nodes
    nodes += walk.left_out
    plan = Plan(tuple(nodes), ends_with=walk.colour)
    if plan.tally.stitches > MAX_STITCHES or plan.tally.moves > 4 * MAX_STITCHES or plan.tally.takes > MAX_STITCHES:
        return Solved(None, refusal="this makes more stitches than a round can hold", refusal_code="too-many")
    passed = walk.along.ended().passed if walk.along is not None else None
    assumed = walk.assumed, walk.from_total, walk.spaces_from_total
    return Solved(plan, walk.unworked(), walk.idle, walk.cut, walk.closed, *assumed, passed)


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
    if act.technique is Technique.LEAVE and act.length:
        walk.work_only_on(act.length, replace(act, role=Role.SKIP, length=0))
        return []
    place = place_name(act, also_spaces=item.act.also_spaces) if walk.along is not None else ""
    if walk.along is not None and act.technique in (Technique.SLIP_ACROSS, Technique.JOIN) and not walk.touched:
        walk.lead = act if act.into is not Into.NOTHING else walk.lead
        walk.along = walk.along.slipped(item.act.leads_over, act.onto)
    if not isinstance(item.times, ToEnd):
        times = item.times.count
    else:
        if walk.along is not None and (top or item.times.to_corner or item.times.in_one):
            walk.along = walk.along.abreast() if item.times == ToEnd() else walk.along
            if not (act.takes or act.into is Into.CHAIN or item.times.in_one):
                raise Unsolvable("repeat-of-nothing", "what goes round uses no stitch, so it would never end")
            times = times_along(act, place, item.times, after, walk.along)
            walk.into_each_stitch = item.times == ToEnd() and place == STITCH and not walk.went_round
        elif top:
            times = times_of_act(act, item.act, item.times, after, walk)
        else:
            raise Unsolvable("open-inside", f"'{act.name}' to the end cannot stand inside a group that is repeated")
        walk.idle = walk.idle or (times == 0 and walk.went_round)
        walk.went_round = walk.went_round or item.times == ToEnd()
    walk.work(act, times, place)
    if not times:
        return []
    run = Run(act, times, item.act.span)
    if top and item.act.spread and walk.unset is None:
        walk.unset = run, item.act.spread
    return [run]


def _group(item: Group, after: tuple[Item, ...], walk: Walk, top: bool) -> list[Node]:
    """The group as often as it says, or as the bases allow; a part of it where they do not come out."""
    around = isinstance(item.times, ToEnd)
    in_itself = goes_round(item.body) if walk.along is not None else _goes_to_end(item.body)
    if top and in_itself and (around or item.times == Exactly(1)):
        return _sequence(item.body, after, walk, top=True)  # to the end in itself: its items stand like any others
    if walk.along is not None:
        return _group_along(item, after, walk, top)
    if around and not top:
        raise Unsolvable("open-inside", "a group that goes round cannot stand inside another")
    start = replace(walk)
    body = tuple(_sequence(item.body, (), walk))
    again = body if walk.begins_alike(start) else tuple(_sequence(item.body, (), replace(walk)))
    walk.rewind(start)
    if top and not item.cut and (times := _times_to_beginning(body, again, item.times, after, walk)):
        nodes = [*repeated(body, again, times - 1, item.span, 0), Repeat(_closed_by_slip(again), 1, item.span)]
        walk.advance(nodes)
        return nodes
    if isinstance(item.times, ToEnd):
        times, over = times_of_group(body, item.cut, item.times, after, walk)
        times = min(times, MAX_STITCHES + 1)
        skips = any(isinstance(node, Run) and node.act.role is Role.SKIP for node in body)  # "1 in every 3rd st"
        walk.idle = walk.idle or (walk.went_round and not (times or over or skips))
        walk.went_round = walk.went_round or item.times == ToEnd()
    else:
        times, over = item.times.count, 0
    nodes = repeated(body, again, times, item.span, item.cut)
    left = over
    if top and isinstance(item.times, Exactly) and walk.stitches is not None and not walk.spaces_taken:
        left = walk.stitches - walk.taken - sum(node.tally.takes for node in nodes)
    closes = left > 0 and not item.cut and item.times in (ToEnd(), Exactly(times)) and is_joined(after)
    last = falls_on_first(body, left, walk.begun_with) if closes else 0
    if last and (over or all(node.tally.names == (("sk", node.tally.takes),) for node in body[:last])):
        walk.closed = walk.begun_with
        nodes.append(Repeat(body[:last], 1, item.span))
    elif over:
        walk.cut = True
        partial = tuple(first_takes(body, over))
        nodes += [Repeat(partial, 1, item.span)] if partial else []
    walk.advance(nodes)
    return nodes


def _group_along(item: Group, after: tuple[Item, ...], walk: Walk, top: bool) -> list[Node]:
    """The group gone along the edge below."""
    if isinstance(item.times, ToEnd) and not top and not item.times.to_corner:
        raise Unsolvable("open-inside", "a group that goes round cannot stand inside another")
    walk.went_round = walk.went_round or item.times == ToEnd()
    nodes = repeat_along(item, after, walk, lambda items, walked: tuple(_sequence(items, (), walked)), top=top)
    if nodes is None:
        raise Unsolvable("repeat-of-nothing", "the group uses no stitch, so going round would never end")
    return nodes


def _goes_to_end(body: tuple[Item, ...]) -> bool:
    return any(isinstance(item, (Some, Group)) and isinstance(item.times, ToEnd) for item in body)


# How often what goes around is worked: so that the bases are used up, or so that the stated total comes out. All by
# arithmetic; a group that goes round ten thousand million times costs one division.


def times_of_act(act: Act, written: Instruction, to_end: ToEnd, after: tuple[Item, ...], walk: Walk) -> int:
    """How often an act goes to the end, less what `rest` leaves or what the items `after` it need."""
    if to_end.in_one:
        raise Unsolvable("base-unknown", "it is not known how many of them there are in one to work into")
    if act.takes == 0:
        raise Unsolvable("repeat-of-nothing", "what goes round uses no stitch, so it would never end")
    needs, spaces_needed = _fixed_takes(after)
    if act.into is Into.SPACE or is_on_a_group(act):
        return _times_into_spaces(act.takes, act.stitches, spaces_needed, after, walk, act.onto)
    if walk.stitches is None and act.technique is Technique.LEAVE:
        return 0  # nobody knows how many are left, and none is made
    if walk.stitches is None or (act.into is Into.PART and walk.total is not None):
        return _times_from_total(act.stitches, after, walk, beside=_made_beside(act, after))
    spaces = _spaces_besides(act, after, walk) if written.also_spaces else 0
    left = walk.stitches + spaces - walk.taken - (to_end.leaving or needs)
    times, over = divmod(max(left, 0), act.takes)
    walk.taken -= spaces
    if over or (times == 0 and written.to_the_end):
        walk.cut = True
    return times


def times_of_group(
    body: tuple[Node, ...], cut: int, to_end: ToEnd, after: tuple[Item, ...], walk: Walk
) -> tuple[int, int]:
    """How often a group goes to the end, and how many bases are over then; `cut` nodes are left out at the last."""
    once = summed(node.tally for node in body)
    if once.takes == 0:
        raise Unsolvable("repeat-of-nothing", "the group uses no stitch, so going round would never end")
    stitches, (needs, spaces_needed) = once.takes - (spaces := sum(off_the_row(body))), _fixed_takes(after)
    if spaces and (walk.spaces is not None or not stitches):
        return _times_into_spaces(spaces, once.stitches, spaces_needed, after, walk, _onto(body)), 0
    if walk.stitches is None:
        return _times_from_total(once.stitches, after, walk), 0
    given_up = sum(node.tally.takes for node in body[len(body) - cut :]) if cut else 0
    left = walk.stitches - walk.taken - (to_end.leaving or needs) + given_up
    walk.assumed = walk.assumed or spaces > 0
    return divmod(max(left, 0), stitches)


def _times_to_beginning(
    body: tuple[Node, ...], again: tuple[Node, ...], times: Exactly | ToEnd, after: tuple[Item, ...], walk: Walk
) -> int:
    """How often a group is made that begins where the round does and ends with a slip stitch into the next place, as
    petals do: "ch 5, sl st in same st, sl st in next st" (common practice, no source). The place that the last one
    ends in is the one that the first began in. 0 if it does not come out so."""
    last = again[-1] if again else None
    if walk.stitches is None or walk.taken or not isinstance(last, Run) or not last.act.is_slip_stitch:
        return 0
    each = summed(node.tally for node in again).takes
    begun = summed(node.tally for node in body).takes - each
    if begun != 1 or not each or last.act.takes != 1 or _fixed_takes(after) != (0, 0) or walk.stitches % each:
        return 0
    whole = walk.stitches // each
    return whole if times in (ToEnd(), Exactly(whole)) and whole > 1 else 0


def _closed_by_slip(body: tuple[Node, ...]) -> tuple[Node, ...]:
    """A group whose last slip stitch goes into the first place of the round."""
    last = body[-1]
    assert isinstance(last, Run)
    before = (replace(last, times=last.times - 1),) if last.times > 1 else ()
    join = replace(last.act, name="join", role=Role.STEP, makes=(), takes=0, technique=Technique.JOIN)
    return (*body[:-1], *before, replace(last, act=replace(join, into=Into.NOTHING), times=1))


def _onto(body: tuple[Node, ...]) -> str:
    """The one name that a group uses for the spaces it is worked into; "" if there are several or none."""
    names = {act.onto for act in Plan(body).acts() if act.into is Into.SPACE or is_on_a_group(act)}
    return names.pop() if len(names) == 1 else ""


def _spaces_besides(act: Act, after: tuple[Item, ...], walk: Walk) -> int:
    """Spaces worked into besides the stitches; where they are not known the stated total may tell how many."""
    spaces = walk.base.besides(act.onto) if walk.base is not None and walk.spaces is not None else walk.spaces
    if spaces is not None:
        return spaces
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
    places = walk.base.count(onto) if walk.base is not None else walk.spaces
    if places is not None:
        if onto and places == 0:
            raise Unsolvable("no-such-base", f"there is no {_base_word(onto)} in the round below to work into")
        taken = walk.groups_taken if is_group_name(onto) else walk.spaces_taken
        return max(places - taken - needed, 0) // takes
    if walk.total is not None or walk.hint is not None:
        with suppress(Unsolvable):
            return _times_from_total(makes, after, walk)
    if walk.stitches is None or is_any_group(onto):
        noun = "groups" if is_any_group(onto) else "spaces"
        raise Unsolvable("base-unknown", f"it is not known how many {noun} there are to work into")
    walk.assumed = True
    return max(walk.stitches - walk.spaces_taken - needed, 0) // takes


def _base_word(onto: str) -> str:
    return f"{onto} space" if onto.startswith("ch-") else onto


def _made_beside(act: Act, after: tuple[Item, ...]) -> int:
    """What one stitch makes on each other part that a total is shared with: "sc around first leg, sc around second
    leg". That the parts are alike is likely, and changes no sum."""
    if act.into is not Into.PART:
        return 0
    others = [i for i in after if isinstance(i, Some) and i.act.into is Into.PART and isinstance(i.times, ToEnd)]
    return sum(other.act.stitches for other in others)


def _times_from_total(makes: int, after: tuple[Item, ...], walk: Walk, beside: int = 0) -> int:
    """How often it goes round, from the stated total, because the bases are not known."""
    if walk.total is None and walk.hint is not None:
        walk.from_total = True
        return walk.hint - (0 < walk.made == makes)  # what the round begins with is one of them
    if walk.total is None:
        raise Unsolvable("base-unknown", "it is not known how many stitches there are to work into")
    left = walk.total - walk.made - _fixed_makes(after)
    if makes == 0 or left <= 0 or (left % makes and not beside):
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
            if item.act.into is Into.SPACE or is_on_a_group(item.act):
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
