"""Where to look when a count differs: at most five places, best first.

Every single mistake that explains the difference is weighed, and every pair of mistakes that together do. A pair
is never listed: what is added up for each place is how much of all explanations goes through it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from tracker.rounds.plan import Plan, Repeat, Spot
from tracker.rounds.slicing import stretch_at
from tracker.session.miscount import priors as weights
from tracker.session.miscount.causes import Cause, causes_of
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.question import Question, Tap, Worked
from tracker.session.miscount.sections import acts_from, closing, first_chain_counts
from tracker.session.mistakes import LOOK_FOR, Mistake

__all__ = ["MOST_SUSPECTS", "Learned", "Mistake", "Question", "Suspect", "Tap", "Worked", "locate"]

MOST_SUSPECTS = 5

_WHOLE = (Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT)

_ALONE = (*_WHOLE, Mistake.MISCOUNT)
"""Causes that are rare or vague enough to be thought of only when they explain the difference by themselves."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """One place to look at, and what may be wrong there.

    `move` to `until` are moves of the round that is `rounds_back` rounds before this one (0: this one), as exact
    as can be told; `stretch` is the whole part that the words name. For a wrong place of the tracker, `move` is
    where the count says that the maker is. `stitch` is how many stitches of its round are made before the place,
    `back` how many lie between it and the hook, as worked. `probability` is how likely something is wrong here (a
    wrong count and a wrong place of the tracker included). `others` are further mistakes that may have happened
    at this place. `alike` is how many places are as likely as this one, itself included.
    """

    mistake: Mistake
    effect: int
    words: str
    look_for: str
    move: int
    until: int
    stretch: tuple[int, int]
    stitch: int
    back: int
    probability: float
    rounds_back: int = 0
    edge: str = ""
    others: tuple[Mistake, ...] = ()
    alike: int = 1


def locate(question: Question, learned: Learned | None = None) -> tuple[Suspect, ...]:
    """Where to look, best first; nothing when the count is as expected."""
    if not question.by:
        return ()
    explained = _explained(causes_of(question, learned or Learned()), question.by)
    total = sum(share.alone + share.paired / 2 for share in explained)
    if total <= 0:
        return (_place(question, [_Share(Cause(Mistake.MISCOUNT, question.by, 1.0), 1.0, 0.0)], 1.0),)
    together: dict[tuple[object, ...], list[_Share]] = defaultdict(list)
    for share in explained:
        together[_key(question, share.cause)].append(share)
    ranked = sorted(together.values(), key=_rank)
    alike = [sum(_as_likely(shares, other) for other in ranked) for shares in ranked[:MOST_SUSPECTS]]
    return tuple(
        replace(_place(question, shares, total), alike=count) for shares, count in zip(ranked, alike, strict=False)
    )


_ALIKE = 0.05
"""Two places whose weights differ by less than this share of the greater one are equally likely for a maker."""


def _as_likely(shares: list[_Share], others: list[_Share]) -> bool:
    """Whether something is wrong with the work in both places, and in one as likely as in the other."""
    if not all(each[0].cause.mistake.is_in_fabric for each in (shares, others)):
        return shares is others
    first, second = (sum(share.weight for share in each) for each in (shares, others))
    return abs(first - second) <= _ALIKE * max(first, second)


def _rank(shares: list[_Share]) -> tuple[float, int, int]:
    """Likeliest first; of equals the one nearest to the hook, which is soonest seen and least to rip."""
    nearest = max(shares, key=lambda share: share.cause.start).cause
    return -round(sum(share.weight for share in shares), 12), nearest.rounds_back, -nearest.start


@dataclass(frozen=True, slots=True)
class _Share:
    """How much of what explains the difference goes through one cause, alone and with a second mistake."""

    cause: Cause
    alone: float
    paired: float

    @property
    def weight(self) -> float:
        return self.alone + self.paired


def _explained(causes: list[Cause], by: int) -> list[_Share]:
    """What each cause explains. Pairs are summed by their effects: what is left for the second is known."""
    whole = sum(cause.weight for cause in causes) or 1.0
    of_effect: dict[int, float] = defaultdict(float)
    for cause in causes:
        if cause.mistake not in _ALONE:
            of_effect[cause.effect] += cause.weight
    shares = []
    for cause in causes:
        alone = cause.weight if cause.effect == by else 0.0
        paired = 0.0
        if cause.mistake not in _ALONE:
            rest = of_effect.get(by - cause.effect, 0.0) - (cause.weight if 2 * cause.effect == by else 0.0)
            paired = weights.TWO_MISTAKES.value * cause.weight * max(rest, 0.0) / whole
        if alone + paired > 0:
            shares.append(_Share(cause, alone, paired))
    return shares


def _key(question: Question, cause: Cause) -> tuple[object, ...]:
    """Causes with the same key are one place. Where a round closes, its first stitch, its last, the chain and the
    join sit side by side; only in rows are the two ends apart."""
    if not cause.mistake.is_in_fabric:
        return (cause.mistake,)
    if cause.mistake in _WHOLE:
        return (cause.mistake, cause.rounds_back, cause.start)
    if cause.edge:
        in_rows = closing(_plan_of(question, cause.rounds_back)) == "turn"
        return (cause.rounds_back, cause.edge if in_rows else "edge")
    return (cause.rounds_back, cause.stretch)


def _place(question: Question, shares: list[_Share], total: float) -> Suspect:
    weight_of: dict[Mistake, float] = defaultdict(float)
    for share in shares:
        weight_of[share.cause.mistake] += share.weight
    leading, *others = sorted(weight_of, key=lambda mistake: -weight_of[mistake])
    best = max(
        (s for s in shares if s.cause.mistake is leading), key=lambda s: (round(s.weight, 12), s.cause.start)
    ).cause
    move, until = _moves(question, best)
    plan = _plan_of(question, best.rounds_back)
    probability = min(1.0, sum(share.weight for share in shares) / total)
    return Suspect(
        mistake=leading,
        effect=question.by if leading is Mistake.PLACE else best.effect,
        words=words_for(plan, question, best, move, until),
        look_for=LOOK_FOR[leading],
        move=move,
        until=until,
        stretch=_stretch(plan, best),
        stitch=question.counted if leading is Mistake.PLACE else plan.stitches_before(move),
        back=_back(question, best, move),
        probability=probability,
        rounds_back=best.rounds_back,
        edge=best.edge,
        others=tuple(m for m in others if weight_of[m] > 0.2 * weight_of[leading]),
    )


def _plan_of(question: Question, rounds_back: int) -> Plan:
    return question.earlier[rounds_back - 1].plan if rounds_back else question.plan


def _moves(question: Question, cause: Cause) -> tuple[int, int]:
    """The moves that the place is about: the act itself where it is the only one that it can be."""
    if cause.mistake is Mistake.PLACE:
        there = question.plan.move_after_stitches(question.counted)
        return there, there
    if cause.mistake is Mistake.MISCOUNT:
        return question.done, question.done
    plan = _plan_of(question, cause.rounds_back)
    wanted = [
        bounds
        for bounds, act in acts_from(plan, cause.start, cause.until)
        if (cause.mistake is Mistake.MISSED_INCREASE and act.is_increase)
        or (cause.mistake is Mistake.MISSED_DECREASE and act.is_decrease)
    ]
    return wanted[0] if len(wanted) == 1 else (cause.start, cause.until)


def _stretch(plan: Plan, cause: Cause) -> tuple[int, int]:
    """The part of the round that the words name."""
    if cause.edge or cause.mistake in _WHOLE or not cause.mistake.is_in_fabric:
        return cause.start, cause.until
    within = stretch_at(plan, cause.start)
    named = within.in_group and cause.until <= within.until
    return (within.start, within.until) if named else (cause.start, cause.until)


def _back(question: Question, cause: Cause, move: int) -> int:
    """Stitches from the place to the hook, as they were worked."""
    if not cause.mistake.is_in_fabric:
        return 0
    if not cause.rounds_back:
        return max(0, question.counted - question.plan.stitches_before(move))
    between = sum(worked.plan.leaves for worked in question.earlier[: cause.rounds_back - 1])
    there = question.earlier[cause.rounds_back - 1].plan
    return question.counted + between + there.leaves - there.stitches_before(move)


# A place to look at, in words of the round: "repeat 4: the increase may be missing".


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
