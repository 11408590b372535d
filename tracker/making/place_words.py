"""A place to look at, in words of the round: "repeat 4: the increase may be missing"."""

from __future__ import annotations

from tracker.making.causes import Cause
from tracker.making.mistakes import Mistake
from tracker.making.question import Question
from tracker.making.stretches import closing, first_chain_counts
from tracker.rounds.plan import Plan, Repeat, Spot


def words_for(plan: Plan, question: Question, cause: Cause, move: int, until: int) -> str:
    """What may be wrong where, in one short clause without a full stop."""
    if cause.mistake is Mistake.PLACE:
        return _of_the_tracker(question)
    if cause.mistake is Mistake.MISCOUNT:
        return "the work may be right and the count off"
    words = _whole(plan, cause) or _at_an_edge(plan, cause) or _inside(plan, cause, move, until)
    return f"{_round(cause.rounds_back)}{words}"


def _round(back: int) -> str:
    if not back:
        return ""
    return "the round before, " if back == 1 else f"{back} rounds before, "


def _of_the_tracker(question: Question) -> str:
    by = abs(question.by)
    stitches = "1 stitch" if by == 1 else f"{by} stitches"
    if question.by < 0:
        return f"the tracker may be {stitches} ahead of you"
    if question.finished:
        return f"you may be {stitches} into the next round"
    return f"you may be {stitches} further than the tracker"


def _whole(plan: Plan, cause: Cause) -> str:
    """Words for what concerns whole repeats; "" for anything else."""
    if cause.mistake is Mistake.EVERY_REPEAT:
        less = "short of" if cause.effect < 0 else "over"
        return f"the same slip in each repeat: all may be {less} the line"
    if cause.mistake not in (Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA):
        return ""
    spot = plan.spot(cause.start)
    times = spot.turns[0].times if spot and spot.turns else 0
    if cause.mistake is Mistake.REPEAT_MISSED:
        return f"a whole repeat may be missing: the line has {times}"
    return f"there may be a repeat too many: the line has {times}"


_EDGES = {
    (Mistake.SKIPPED, "first"): "the first stitch may be left out",
    (Mistake.SKIPPED, "last"): "the last stitch{end} may be left out",
    (Mistake.DOUBLED, "first"): "the first stitch may be worked twice",
    (Mistake.DOUBLED, "last"): "the last stitch{end} may be worked twice",
    (Mistake.CHAIN_OR_JOIN, "last"): "the {join} may be worked as a stitch",
}


def _at_an_edge(plan: Plan, cause: Cause) -> str:
    if cause.mistake is Mistake.CHAIN_OR_JOIN and cause.edge == "first":
        if first_chain_counts(plan):
            return "the chain at the start counts as a stitch and may be left out"
        return "the chain at the start may be counted as a stitch"
    words = _EDGES.get((cause.mistake, cause.edge), "")
    join = closing(plan)
    return words.format(end=f" before the {join}" if join else "", join=join or "turning chain")


def _inside(plan: Plan, cause: Cause, move: int, until: int) -> str:
    where = where_in(plan, cause.start, cause.until)
    several = until - move > 1 and not _is_one_act(plan, move, until)
    if cause.mistake in (Mistake.MISSED_INCREASE, Mistake.MISSED_DECREASE):
        name = "increase" if cause.mistake is Mistake.MISSED_INCREASE else "decrease"
        return f"{where}: {f'one of the {name}s' if several else f'the {name}'} may be missing"
    if cause.mistake is Mistake.SKIPPED:
        return f"{where}: a stitch may be skipped"
    return f"{where}: two stitches may share one base"


def _is_one_act(plan: Plan, move: int, until: int) -> bool:
    spot = plan.spot(move)
    return spot is not None and spot.in_act == 0 and spot.act.moves == until - move


def where_in(plan: Plan, start: int, until: int) -> str:
    """ "repeat 4", "repeats 5 to 9", "stitch 7", "stitches 7 to 9"."""
    first, last = plan.spot(start), plan.spot(max(start, until - 1))
    assert first is not None and last is not None
    if first.turns and last.turns:
        return _repeats(plan, first, last)
    low = first.stitches_done + 1
    high = plan.stitches_before(until)
    return f"stitch {low}" if high <= low else f"stitches {low} to {high}"


def _repeats(plan: Plan, first: Spot, last: Spot) -> str:
    low, high = first.turns[0].number, last.turns[0].number
    words = f"repeat {low}" if low == high else f"repeats {low} to {high}"
    if low == high and len(first.turns) > 1 and first.turns == last.turns:
        words += f", time {first.turns[1].number} of its inner repeat"
    group = _which_group(plan, first)
    return f"{words} of group {group}" if group else words


def _which_group(plan: Plan, spot: Spot) -> int | None:
    """Which of the round's groups, from 1; None when there is only one."""
    groups = [node for node in plan.body if isinstance(node, Repeat)]
    if len(groups) < 2:
        return None
    for number, group in enumerate(groups, start=1):
        if any(act is spot.act for act in Plan(group.body).acts()):
            return number
    return None
