"""How much of a differing count each cause explains: alone, and together with a second mistake.

A pair of mistakes is never listed: it is shared between its two causes, so that what is added up for each place is
never likelier together than certain.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

from tracker.rounds.count_parts import CountPart, parts_to_count, spaced_parts
from tracker.session.miscount import priors as weights
from tracker.session.miscount.causes import Cause
from tracker.session.miscount.question import Question
from tracker.session.mistakes import WHOLE, Mistake

_ALONE = (*WHOLE, Mistake.MISCOUNT)
"""Causes that are rare or vague enough to be thought of only when they explain the difference by themselves."""


@dataclass(frozen=True, slots=True)
class Share:
    """How much of what explains the difference goes through one cause, alone and with a second mistake."""

    cause: Cause
    alone: float
    paired: float

    @property
    def weight(self) -> float:
        """What takes two mistakes counts half for each."""
        return self.alone + self.paired / 2


def explain(causes: list[Cause], by: int) -> list[Share]:
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
            partner_weight = of_effect.get(by - cause.effect, 0.0) - (cause.weight if 2 * cause.effect == by else 0.0)
            paired = weights.TWO_MISTAKES.value * cause.weight * max(partner_weight, 0.0) / whole
        if alone + paired > 0:
            shares.append(Share(cause, alone, paired))
    return shares


def explain_by_parts(question: Question, causes: list[Cause]) -> list[Share]:
    """What explains the difference of each part that was counted. A part that is as it should be holds nothing; the
    last one holds too what was wrong before this round, and what is wrong all round explains the whole only."""
    parts = parts_to_count(question.plan)
    if len(parts) != len(question.parts):
        return explain(causes, question.by)
    off = [(part, count - part.expected) for part, count in zip(parts, question.parts, strict=True)]
    wrong = [(part, by) for part, by in off if by]
    all_round = len(wrong) >= min(ALL_ROUND, len(parts)) and len({by > 0 for _, by in wrong}) == 1
    shares: list[Share] = []
    for part, by in wrong:
        inside = [cause for cause in causes if is_inside(cause, part)]
        inner_shares = explain(inside, by)
        if not inner_shares:
            mistake = Mistake.DOUBLED if by > 0 else Mistake.SKIPPED
            inner_shares = [Share(Cause(mistake, by, 1.0, *part.moves, part.moves[0]), 1.0, 0.0)]
        scale = IN_PARTS / len(wrong) / sum(share.weight for share in inner_shares)
        shares += [replace(s, alone=s.alone * scale, paired=s.paired * scale) for s in inner_shares]
    at_end = wrong == [off[-1]] if wrong else False
    all_round = all_round or (len(wrong) > 1 and question.parts in spaced_parts(question.plan, parts))
    outer_causes = [cause for cause in causes if _is_elsewhere(cause, all_round, at_end)]
    elsewhere = [share for share in explain(outer_causes, question.by) if share.alone]
    # A place that was seen to differ outweighs a wrong count; what is wrong all round outweighs each of its places.
    return shares + [replace(s, alone=s.alone * (ALL_ROUND_SHARE if all_round else 1), paired=0.0) for s in elsewhere]


IN_PARTS = 1.0
ALL_ROUND = 3
"""With so many parts off to the same side the line was misread, rather than a slip made in each."""
ALL_ROUND_SHARE = 30.0
"""All explanations together weigh about 1, and one of a misread line some hundredths."""


def is_inside(cause: Cause, part: CountPart) -> bool:
    """Whether this slip of the round shows in this part. One that runs out at the end shows where the base is
    empty."""
    if cause.rounds_back or not cause.mistake.is_in_fabric or cause.mistake in WHOLE:
        return False
    if cause.mistake is Mistake.SKIPPED and cause.effect != -1:
        return False
    return part.moves[0] <= cause.start and cause.until <= part.moves[1]


def _is_elsewhere(cause: Cause, all_round: bool, at_end: bool) -> bool:
    if cause.mistake in (Mistake.EVERY_REPEAT, Mistake.SPACING):
        return all_round
    if cause.mistake is Mistake.MISCOUNT:
        return True
    return at_end and (bool(cause.rounds_back) or cause.mistake in WHOLE or not cause.mistake.is_in_fabric)
