"""Where to look when a count differs: at most five places, best first.

Every single mistake that explains the difference is weighed, and every pair of mistakes that together do. A pair
is never listed: what is added up for each place is how much of all explanations goes through it, each pair being
shared between its two places, so that the places are never likelier together than certain.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from tracker.rounds.count_parts import CountPart, parts_to_count, spaced_parts
from tracker.rounds.plan import Plan
from tracker.rounds.slicing import stretch_at
from tracker.session.miscount import priors as weights
from tracker.session.miscount.causes import Cause, OutOfStep, causes_of, out_of_step
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.place_words import out_of_step_words, several, uncounted, words_for
from tracker.session.miscount.question import Question, Tap, Worked
from tracker.session.miscount.sections import acts_from, closing
from tracker.session.mistakes import LOOK_FOR, Mistake

__all__ = ["MOST_SUSPECTS", "Learned", "Mistake", "Question", "Suspect", "Tap", "Worked", "locate"]

# As many as fit on a small screen.
MOST_SUSPECTS = 5

_WHOLE = (Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT, Mistake.SPACING)

_ALONE = (*_WHOLE, Mistake.MISCOUNT)
"""Causes that are rare or vague enough to be thought of only when they explain the difference by themselves."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """One place to look at, and what may be wrong there.

    `move` to `until` are moves of the round that is `rounds_back` rounds before this one (0: this one), as exact
    as can be told; `stretch` is the whole part that the words name. For a wrong place of the tracker, `move` is
    where the count says that the maker is. `stitch` is how many stitches of its round are made before the place,
    `back` how many lie between it and the hook, as worked. `probability` is the share of all explanations that goes
    through here; those of all places together are 1, what takes two mistakes being shared between them. `others` are
    further mistakes that may have happened at this place. `alike` is how many places are as likely as this one,
    itself included. A mistake in an earlier round is not told more exactly than that nobody counted the rounds from
    `rounds_back` to `rounds_back_most` before this one. `steps` is how many whole rounds the work is ahead (+) or
    behind (-).
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
    rounds_back_most: int = 0
    steps: int = 0
    width: int = 0
    """Stitches of the stretch."""
    part: int | None = None
    """Which of the parts that were counted it is."""

    def is_narrow_in(self, leaves: int) -> bool:
        """Whether the place is seen at a glance: so few stitches, or so small a share of the round."""
        if self.rounds_back or self.mistake in _WHOLE:
            return False
        return bool(self.edge) or self.width <= max(NARROW, leaves // NARROW_SHARE)


NARROW, NARROW_SHARE = 12, 5
"""At most twelve stitches or a fifth of the round: what can be looked over without counting."""


def locate(question: Question, learned: Learned | None = None) -> tuple[Suspect, ...]:
    """Where to look, best first; nothing when the count is as expected.

    The first are of different sorts, since one look tells them apart: a wrong count, the round itself, its edge, an
    earlier round, a whole round out of step.
    """
    if not question.by:
        return ()
    causes = causes_of(question, learned or Learned())
    explained = _by_parts(question, causes) if question.parts else _explained(causes, question.by)
    total = sum(share.weight for share in explained)
    if total <= 0:
        explained = [_Share(Cause(Mistake.MISCOUNT, question.by, 1.0), 1.0, 0.0)]
        total = 1.0
    steps = out_of_step(question)
    whole = total * (1 + sum(step.weight for step in steps))
    together: dict[tuple[object, ...], list[_Share]] = defaultdict(list)
    for share in explained:
        together[_key(question, share.cause)].append(share)
    ranked = _told_apart(question, sorted(together.values(), key=_rank))
    alike = [sum(_as_likely(shares, other) for other in ranked) for shares in ranked[:MOST_SUSPECTS]]
    places = [
        replace(_place(question, shares, whole), alike=count) for shares, count in zip(ranked, alike, strict=False)
    ]
    out = [_step(question, step, step.weight * total / whole) for step in steps]
    first = sum(step.weight >= 1 for step in steps)
    return tuple([*out[:first], *places[:1], *out[first:], *places[1:]][:MOST_SUSPECTS])


def _step(question: Question, step: OutOfStep, probability: float) -> Suspect:
    words = out_of_step_words(step.mistake, step.steps, question, step.label)
    done = question.done
    look_for = LOOK_FOR[step.mistake]
    where = (done, done)
    return Suspect(
        step.mistake,
        question.by,
        words,
        look_for,
        done,
        done,
        where,
        question.expected,
        0,
        probability,
        steps=step.steps,
    )


def _sort(question: Question, shares: list[_Share]) -> tuple[object, ...]:
    """What kind of place this is, as far as one look tells it from others."""
    cause = shares[0].cause
    if not cause.mistake.is_in_fabric or cause.mistake in _WHOLE:
        return (cause.mistake,)
    if cause.rounds_back:
        return ("earlier",)
    if cause.edge:
        return ("edge", _key(question, cause)[-1])
    return ("round",)


def _told_apart(question: Question, ranked: list[list[_Share]]) -> list[list[_Share]]:
    """The best of each sort first, the likeliest sort leading, then all others as they are."""
    if question.parts:
        return ranked
    of_sort: dict[tuple[object, ...], float] = defaultdict(float)
    best: dict[tuple[object, ...], list[_Share]] = {}
    for shares in ranked:
        sort = _sort(question, shares)
        of_sort[sort] += sum(share.weight for share in shares)
        best.setdefault(sort, shares)
    leading = [best[sort] for sort in sorted(best, key=lambda sort: -round(of_sort[sort], 12))][:DIFFERENT]
    return [*leading, *(shares for shares in ranked if not any(shares is other for other in leading))]


DIFFERENT = 3
"""So many sorts of place are told first; a maker looks at no more before counting again."""

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
        """What takes two mistakes counts half for each."""
        return self.alone + self.paired / 2


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


def _by_parts(question: Question, causes: list[Cause]) -> list[_Share]:
    """What explains the difference of each part that was counted. A part that is as it should be holds nothing; the
    last one holds too what was wrong before this round, and what is wrong all round explains the whole only."""
    parts = parts_to_count(question.plan)
    if len(parts) != len(question.parts):
        return _explained(causes, question.by)
    off = [(part, made - part.expected) for part, made in zip(parts, question.parts, strict=True)]
    wrong = [(part, by) for part, by in off if by]
    all_round = len(wrong) >= min(ALL_ROUND, len(parts)) and len({by > 0 for _, by in wrong}) == 1
    shares: list[_Share] = []
    for part, by in wrong:
        inside = [cause for cause in causes if _is_inside(cause, part)]
        found = _explained(inside, by)
        if not found:
            mistake = Mistake.DOUBLED if by > 0 else Mistake.SKIPPED
            found = [_Share(Cause(mistake, by, 1.0, *part.moves, part.moves[0]), 1.0, 0.0)]
        scale = IN_PARTS / len(wrong) / sum(share.weight for share in found)
        shares += [replace(s, alone=s.alone * scale, paired=s.paired * scale) for s in found]
    at_end = wrong == [off[-1]] if wrong else False
    all_round = all_round or (len(wrong) > 1 and question.parts in spaced_parts(question.plan, parts))
    rest = [cause for cause in causes if _is_elsewhere(cause, all_round, at_end)]
    elsewhere = [share for share in _explained(rest, question.by) if share.alone]
    # A place that was seen to differ outweighs a wrong count; what is wrong all round outweighs each of its places.
    return shares + [replace(s, alone=s.alone * (ALL_ROUND_SHARE if all_round else 1), paired=0.0) for s in elsewhere]


IN_PARTS = 1.0
ALL_ROUND = 3
"""With so many parts off to the same side the line was misread, rather than a slip made in each."""
ALL_ROUND_SHARE = 30.0
"""All explanations together weigh about 1, and one of a misread line some hundredths."""


def _is_inside(cause: Cause, part: CountPart) -> bool:
    """Whether this slip of the round shows in this part. One that runs out at the end shows where the base is
    empty."""
    if cause.rounds_back or not cause.mistake.is_in_fabric or cause.mistake in _WHOLE:
        return False
    if cause.mistake is Mistake.SKIPPED and cause.effect != -1:
        return False
    return part.moves[0] <= cause.start and cause.until <= part.moves[1]


def _is_elsewhere(cause: Cause, all_round: bool, at_end: bool) -> bool:
    if cause.mistake in (Mistake.EVERY_REPEAT, Mistake.SPACING):
        return all_round
    if cause.mistake is Mistake.MISCOUNT:
        return True
    return at_end and (bool(cause.rounds_back) or cause.mistake in _WHOLE or not cause.mistake.is_in_fabric)


def _key(question: Question, cause: Cause) -> tuple[object, ...]:
    """Causes with the same key are one place. Where a round closes, its first stitch, its last, the chain and the
    join sit side by side; only in rows are the two ends apart. Several rounds that nobody counted are one place until
    one of them is counted."""
    if not cause.mistake.is_in_fabric:
        return (cause.mistake,)
    if cause.rounds_back and uncounted(question):
        return ("earlier",)
    if cause.mistake in _WHOLE:
        return (cause.mistake, cause.rounds_back, cause.start)
    if (part := part_of(question, cause)) is not None:
        return ("part", part)
    if cause.edge:
        in_rows = closing(_plan_of(question, cause.rounds_back)) == "turn"
        return (cause.rounds_back, cause.edge if in_rows else "edge")
    return (cause.rounds_back, cause.stretch)


def part_of(question: Question, cause: Cause) -> int | None:
    """Which of the parts that were counted holds this slip of the round; None if it was not counted by parts."""
    if not question.parts or cause.rounds_back or cause.mistake in (*_WHOLE, Mistake.DRIFT):
        return None
    parts = parts_to_count(question.plan)
    return next((number for number, part in enumerate(parts) if _is_inside(cause, part)), None)


def _place(question: Question, shares: list[_Share], total: float) -> Suspect:
    weight_of: dict[Mistake, float] = defaultdict(float)
    for share in shares:
        weight_of[share.cause.mistake] += share.weight
    leading, *others = sorted(weight_of, key=lambda mistake: -weight_of[mistake])
    best = max(
        (s for s in shares if s.cause.mistake is leading), key=lambda s: (round(s.weight, 12), s.cause.start)
    ).cause
    plan = _plan_of(question, best.rounds_back)
    part = part_of(question, best)
    if part is not None and any((s.cause.start, s.cause.until) != (best.start, best.until) for s in shares):
        start, end = parts_to_count(plan)[part].moves
        best = replace(best, start=start, until=end, edge="")
    move, until = _moves(question, best)
    stretch = (best.start, best.until) if part is not None else _stretch(plan, best)
    labels = uncounted(question) if best.rounds_back else ()
    words = words_for(plan, question, best, move, until)
    if labels:
        was = "were" if len(labels) > 1 else "was"
        words = f"{several(labels)} {was} never counted: the mistake may be there"
    return Suspect(
        mistake=leading,
        effect=question.by if leading is Mistake.PLACE else best.effect,
        words=words,
        look_for=LOOK_FOR[leading],
        move=move,
        until=until,
        stretch=stretch,
        stitch=question.counted if leading is Mistake.PLACE else plan.stitches_before(move),
        back=_back(question, best, move),
        probability=sum(share.weight for share in shares) / total,
        rounds_back=1 if labels else 0,
        edge="" if labels else best.edge,
        others=tuple(m for m in others if weight_of[m] > 0.2 * weight_of[leading]),
        rounds_back_most=len(labels),
        width=plan.stitches_before(stretch[1]) - plan.stitches_before(stretch[0]),
        part=part,
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
