"""A place to look at, in the words of the fabric: "repeat 4: the increase may be missing"."""

from __future__ import annotations

from tracker.plural import number_of
from tracker.rounds.count_parts import parts_to_count
from tracker.rounds.plan import Plan, Repeat, Spot
from tracker.session.miscount.causes import Cause
from tracker.session.miscount.question import Question
from tracker.session.miscount.sections import closing, first_chain_counts, form_of
from tracker.session.mistakes import Mistake


def words_for(plan: Plan, question: Question, cause: Cause, move: int, until: int, beside: str = "") -> str:
    """What may be wrong where, in one short clause without a full stop. `beside` is the end of the round that the
    place reaches."""
    if cause.mistake is Mistake.PLACE:
        return _of_the_tracker(question)
    if cause.mistake is Mistake.MISCOUNT:
        return "the work may be right and the count off"
    form = question.form or form_of(plan)
    return (
        _whole(plan, cause) or _at_an_edge(plan, cause, form) or _inside(plan, question, cause, (move, until), beside)
    )


def uncounted(question: Question) -> tuple[str, ...]:
    """The labels of the rounds before this one that nobody counted, nearest first."""
    labels = []
    for worked in question.earlier:
        if worked.counted:
            break
        labels.append(worked.label)
    return tuple(labels)


def several(labels: tuple[str, ...]) -> str:
    """ "Rnds 5 to 8" of labels, nearest first."""
    name, _, first = labels[-1].rpartition(" ")
    last = labels[0].rpartition(" ")[2]
    return f"{name}s {first} {'and' if len(labels) == 2 else 'to'} {last}" if len(labels) > 1 else labels[0]


def out_of_step_words(mistake: Mistake, steps: int, question: Question, label: str) -> str:
    """The question whether a whole round is out of step."""
    if mistake is Mistake.ROUND_TWICE:
        return f"{question.counted:,} is what {label} gives when it is worked twice: was it?"
    if steps > 0:
        between = "is it" if steps == 1 else f"are {steps} rounds"
        return f"{question.counted:,} is what {label} leaves: {between} made already?"
    if steps == -1 and not question.finished:
        return f"{question.counted:,} is what {label} leaves: is {question.label} not begun yet?"
    if steps == -1:
        return f"{question.counted:,} is what {label} leaves: is {question.label} not made yet?"
    return f"{question.counted:,} is what {label} leaves: are {-steps} {_rounds(question)} not made yet?"


def _rounds(question: Question) -> str:
    return "rows" if question.form == "rows" else "rounds"


def _of_the_tracker(question: Question) -> str:
    stitches = number_of(abs(question.by), "stitch")
    if question.by < 0:
        return f"the tracker may be {stitches} ahead of you"
    if question.finished:
        return f"you may be {stitches} into the next round"
    return f"you may be {stitches} further than the tracker"


def _whole(plan: Plan, cause: Cause) -> str:
    """Words for what concerns whole repeats; "" for anything else."""
    if cause.mistake is Mistake.SPACING:
        return "the gaps between the changes may be a stitch off all round"
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


def _at_an_edge(plan: Plan, cause: Cause, form: str) -> str:
    if cause.mistake is Mistake.DRIFT:
        by = number_of(abs(cause.effect), "stitch")
        return f"the round may end {by} {'past' if cause.effect > 0 else 'short of'} the marker"
    if cause.mistake is Mistake.CHAIN_OR_JOIN and cause.edge == "first":
        if first_chain_counts(plan):
            return "the chain at the start counts as a stitch and may be left out"
        return "the chain at the start may be counted as a stitch"
    words = _EDGES.get((cause.mistake, cause.edge), "")
    join = closing(plan)
    end = {"rows": " of the row", "spiral": " at the marker"}.get(form, f" before the {join}" if join else "")
    return words.format(end=end, join=join or "turning chain")


def _inside(plan: Plan, question: Question, cause: Cause, moves: tuple[int, int], beside: str) -> str:
    where = _part(plan, question, cause) or _up_to_end(plan, question, cause, beside)
    where = where or where_in(plan, cause.start, cause.until)
    move, until = moves
    several = until - move > 1 and not _is_one_act(plan, move, until)
    if cause.mistake in (Mistake.MISSED_INCREASE, Mistake.MISSED_DECREASE):
        name = "increase" if cause.mistake is Mistake.MISSED_INCREASE else "decrease"
        return f"{where}: {f'one of the {name}s' if several else f'the {name}'} may be missing"
    if cause.mistake is Mistake.SKIPPED:
        return f"{where}: a stitch may be skipped"
    return f"{where}: two stitches may share one base"


def _up_to_end(plan: Plan, question: Question, cause: Cause, beside: str) -> str:
    """A place that reaches the marker or the join; "" for any other. The ends of a row are stitches like others."""
    end = {"spiral": "the marker", "joined": "the join"}.get(question.form or form_of(plan), "")
    if beside == "both":
        return f"the whole {'round' if end else 'row'}, {plan.leaves} stitches"
    if not end or not beside:
        return ""
    if beside == "last":
        return f"{where_in(plan, cause.start, cause.start + 1)} to {end}"
    return f"{end} to {where_in(plan, cause.until - 1, cause.until)}"


def _part(plan: Plan, question: Question, cause: Cause) -> str:
    """The part of the count that the whole place lies in, where the line has no repeat to name; "" for none."""
    spot = plan.spot(cause.start)
    if cause.rounds_back or not question.parts or spot is None:
        return ""
    parts = parts_to_count(plan)
    return next((part.name for part in parts if part.moves[0] <= cause.start and cause.until <= part.moves[1]), "")


def _is_one_act(plan: Plan, move: int, until: int) -> bool:
    spot = plan.spot(move)
    return spot is not None and spot.in_act == 0 and spot.act.moves == until - move


def where_in(plan: Plan, start: int, until: int) -> str:
    """ "repeat 4", "repeats 5 to 9", "stitch 7", "stitches 7 to 9"."""
    first, last = plan.spot(start), plan.spot(max(start, until - 1))
    assert first is not None and last is not None
    is_one_group = bool(first.turns and last.turns) and _which_group(plan, first) == _which_group(plan, last)
    if is_one_group and (first.turns == last.turns or max(len(first.turns), len(last.turns)) == 1):
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
        if any(run.act is spot.act and run.span == spot.span for run, _ in Plan(group.body).runs()):
            return number  # two groups may do the same: only where its words stand tells one from the other
    return None


def place_words(plan: Plan, move: int, form: str = "") -> str:
    """A place in the fabric to rip back to: "the end of repeat 3", "the increase of repeat 4", "stitch 12"."""
    spot = plan.spot(move)
    if spot is None:
        return {"rows": "the end of the row", "joined": "the join"}.get(form, "the marker")
    if not spot.stitches_done:
        return "the start of the row" if form == "rows" else "the start of the round"
    if not spot.turns:
        return f"stitch {spot.stitches_done}"
    number = spot.turns[0].number
    if spot.act.is_increase or spot.act.is_decrease:
        return f"the {'increase' if spot.act.is_increase else 'decrease'} of repeat {number}"
    before = plan.spot(move - 1)
    if number > 1 and before is not None and before.turns and before.turns[0].number == number - 1:
        return f"the end of repeat {number - 1}"
    return f"stitch {spot.stitches_done}, in repeat {number}"
