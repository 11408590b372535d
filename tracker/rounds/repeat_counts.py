"""How often what goes around is worked: so that the bases are used up, or so that the stated total comes out.

All by arithmetic; a group that goes round ten thousand million times costs one division.
"""

from __future__ import annotations

from contextlib import suppress

from tracker.notation.ast import Exactly, Group, Instruction, Into, Item, Rest, Some, Technique
from tracker.rounds.base_usage import Unsolvable, Walk, is_group_name, off_the_row
from tracker.rounds.plan import Act, Node, Plan, summed


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
        return _times_from_total(act.stitches, after, walk)
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
    if walk.stitches is None:
        raise Unsolvable("base-unknown", "it is not known how many spaces there are to work into")
    walk.assumed = True
    return max(walk.stitches - walk.spaces_taken - needed, 0) // takes


def _base_word(onto: str) -> str:
    return f"{onto} space" if onto.startswith("ch-") else onto


def _times_from_total(makes: int, after: tuple[Item, ...], walk: Walk) -> int:
    """How often it goes round, from the stated total, because the bases are not known."""
    if walk.total is None and walk.hint is not None:
        walk.from_total = True
        return walk.hint
    if walk.total is None:
        raise Unsolvable("base-unknown", "it is not known how many stitches there are to work into")
    left = walk.total - walk.made - _fixed_makes(after)
    if makes == 0 or left < 0 or left % makes:
        raise Unsolvable("total-does-not-divide", f"no whole number of repeats makes {walk.total}")
    walk.from_total = True
    return left // makes


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
