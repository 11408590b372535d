"""A round over another number of bases than it is written for, as hands work it that follow the line."""

from __future__ import annotations

from tracker.rounds.plan import Node, Plan, Repeat, Run


def move_at_base(plan: Plan, base: int) -> int:
    """The first move of the act that takes the base with this number (from 0); all moves where there are not so many.

    By arithmetic on the tree, as every sum here.
    """
    return _move_at(plan.body, base) if base < plan.uses else plan.moves


def _move_at(body: tuple[Node, ...], base: int) -> int:
    move = 0
    for node in body:
        takes = node.tally.takes
        if base >= takes:
            base -= takes
            move += node.tally.moves
            continue
        if isinstance(node, Run):
            return move + base // node.act.takes * node.act.moves
        turns, inside = divmod(base, node.once.takes)
        return move + turns * node.once.moves + _move_at(node.body, inside)
    return move


def bases_before(plan: Plan, move: int) -> int:
    """How many bases the first moves take."""
    spot = plan.spot(move)
    return plan.uses if spot is None else spot.takes_done


def leaves_over(plan: Plan, bases: int) -> tuple[int, ...]:
    """What the round may leave over so many bases, likeliest first.

    With too few, the hands come to the end of the round sooner, and a decrease with one base left is a plain stitch.
    With too many, the line goes on as it began, or what is left over is worked plain, or nothing is worked into it.
    """
    if bases < 1 or not plan.uses:
        return ()
    if bases == plan.uses:
        return (plan.leaves,)
    if bases < plan.uses:
        move = move_at_base(plan, bases)
        return (plan.stitches_before(move) + (1 if bases_before(plan, move) < bases else 0),)
    more = bases - plan.uses
    counts = [plan.leaves + more, leaves_begun_again(plan, bases), plan.leaves]
    return tuple(dict.fromkeys(counts))


def leaves_begun_again(plan: Plan, bases: int) -> int:
    """What is left if the line is begun again and again until the bases are used up."""
    times, over = divmod(bases, plan.uses)
    move = move_at_base(plan, over) if over else 0
    short = 1 if over and bases_before(plan, move) < over else 0
    return times * plan.leaves + plan.stitches_before(move) + short


def other_spacings(plan: Plan) -> tuple[int, ...]:
    """What the round leaves if in every repeat one plain stitch more, or one fewer, stands before the change.

    Only for groups of one plain run and one change; the number of repeats is what fits over the bases.
    """
    counts: list[int] = []
    for node in plan.body:
        gap = _gap_and_change(node)
        if gap is None:
            continue
        for other in _other_gaps(gap):
            times, over = divmod(node.tally.takes, other + gap[1])
            counts.append(plan.leaves - node.tally.stitches + times * (other + gap[2]) + over)
    return tuple(counts)


def other_repeats(group: Repeat) -> list[list[tuple[int, int]]]:
    """The acts of the group with those spacings, each as bases taken and stitches left, as far as they fit."""
    gap = _gap_and_change(group)
    if gap is None:
        return []
    assert isinstance(group.body[0], Run) and isinstance(group.body[1], Run)
    change = group.body[0] if group.body[1].act.takes == group.body[1].act.stitches else group.body[1]
    repeats = []
    for other in _other_gaps(gap):
        times, over = divmod(group.tally.takes, other + gap[1])
        once = [(1, 1)] * other, [(change.act.takes, change.act.stitches)] * change.times
        plain_first = change is group.body[1]
        repeats.append([*(once[0] + once[1] if plain_first else once[1] + once[0]) * times, *[(1, 1)] * over])
    return repeats


def _other_gaps(gap: tuple[int, int, int]) -> list[int]:
    return [other for other in (gap[0] + 1, gap[0] - 1) if other >= 0]


def _gap_and_change(node: Node) -> tuple[int, int, int] | None:
    """Plain stitches, then bases and stitches of the change, of a group that has just these."""
    if not isinstance(node, Repeat) or len(node.body) != 2 or not all(isinstance(part, Run) for part in node.body):
        return None
    runs = [part for part in node.body if isinstance(part, Run)]
    plain = [run for run in runs if run.act.takes == run.act.stitches == 1]
    change = [run for run in runs if run.act.is_increase or run.act.is_decrease]
    if len(plain) != 1 or len(change) != 1:
        return None
    return plain[0].times, change[0].act.takes * change[0].times, change[0].act.stitches * change[0].times
