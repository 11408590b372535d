"""Every way that the count could have come to differ, each with a weight: the prior times what the taps say.

The number of ways is bounded by the parts of the round, not by its stitches.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tracker.rounds.count_parts import parts_to_count
from tracker.rounds.next_step import coming_now
from tracker.rounds.other_bases import leaves_over, other_spacings
from tracker.rounds.plan import Plan, Repeat
from tracker.session.miscount import priors as weights
from tracker.session.miscount.confirmed_causes import Learned, shifted
from tracker.session.miscount.question import Question
from tracker.session.miscount.sections import (
    Part,
    all_plain,
    closing,
    first_act,
    first_chain_counts,
    form_of,
    glance_bounds,
    is_joined,
    last_act,
    parts_of,
    runs_out_by,
)
from tracker.session.miscount.tap_timing import Rhythm, beats_of
from tracker.session.mistakes import Mistake


@dataclass(frozen=True, slots=True)
class Cause:
    """One mistake at one place. `effect` is what it does to the count; `edge` is "first", "last" or "".

    `stretch` is the move that the named stretch around it starts with: causes of one stretch are told together.
    """

    mistake: Mistake
    effect: int
    weight: float
    start: int = 0
    until: int = 0
    stretch: int = 0
    edge: str = ""
    rounds_back: int = 0


def causes_of(question: Question, learned: Learned) -> list[Cause]:
    """All causes, whatever their effect; their weights are relative."""
    prior = shifted(_prior(question), learned)
    beats = beats_of(question.plan, question.taps, question.begun)
    earlier = [beats_of(worked.plan, worked.taps, worked.begun) for worked in question.earlier]
    rhythm = Rhythm(beats, tuple(beat for before in earlier for beat in before))
    parts = parts_to_count(question.plan) if question.parts else ()
    bounds = [part.moves[0] for part in parts] if parts else glance_bounds(question.plan, question.done)
    causes = list(_in_round(question.plan, question.done, prior, rhythm, bounds))
    causes += _repeats(question, prior, rhythm)
    causes += _place(question, prior[Mistake.PLACE], rhythm)
    causes += _miscount(question, prior[Mistake.MISCOUNT])
    causes += _drift(question, prior[Mistake.DRIFT], rhythm)
    causes += _spacing(question, prior[Mistake.SPACING])
    causes += _in_earlier_rounds(question, prior)
    return [cause for cause in causes if cause.effect and cause.weight > 0]


def _prior(question: Question) -> dict[Mistake, float]:
    prior = {mistake: weight.value for mistake, weight in weights.FINISHED_ROUND.items()}
    prior[Mistake.MISCOUNT] *= min(max(question.expected / weights.LONG_COUNT.value, 0.25), 1.5)
    if question.is_confirmed:
        prior[Mistake.MISCOUNT] *= weights.TWICE_COUNTED.value
    if not question.finished:
        others = sum(prior.values()) - prior[Mistake.PLACE]
        share = weights.HALF_WAY_PLACE.value
        prior[Mistake.PLACE] = others * share / (1 - share)
    return prior


def _in_round(
    plan: Plan, done: int, prior: dict[Mistake, float], rhythm: Rhythm, bounds: Sequence[int] = ()
) -> Iterator[Cause]:
    """The mistakes of single stitches: in the middle by chances, at the edges by their own share."""
    parts = parts_of(plan, done, rhythm.beats, bounds)
    finished = done >= plan.moves
    edge = _edge_share(plan)
    for mistake in (Mistake.MISSED_INCREASE, Mistake.MISSED_DECREASE):
        yield from _spread(mistake, prior[mistake], parts, rhythm)
    yield from _skipped(plan, prior[Mistake.SKIPPED] * (1 - edge), parts, rhythm, finished)
    yield from _spread(Mistake.DOUBLED, prior[Mistake.DOUBLED] * (1 - edge), parts, rhythm)
    for mistake, effect in ((Mistake.SKIPPED, -1), (Mistake.DOUBLED, 1)):
        yield from _at_edges(plan, done, mistake, effect, prior[mistake] * edge, rhythm)
    yield from _chain_or_join(plan, done, prior[Mistake.CHAIN_OR_JOIN], rhythm)


def _edge_share(plan: Plan) -> float:
    if closing(plan) == "turn":
        return weights.EDGE_ROW.value
    return (weights.EDGE_JOINED if is_joined(plan) else weights.EDGE_SPIRAL).value


def _spread(
    mistake: Mistake, prior: float, parts: tuple[Part, ...], rhythm: Rhythm, shows_in_taps: bool = True
) -> Iterator[Cause]:
    """A mistake that may be at each of its chances. `shows_in_taps` is whether the taps tell of the place itself."""
    places = [
        (part, by, chances) for part in parts for (kind, by), chances in part.chances.items() if kind is mistake
    ]
    drawn = [chances * rhythm.drawn_by_pause(rhythm.beat_at(part.start)) for part, _, chances in places]
    whole = sum(drawn)
    for (part, by, _), share in zip(places, drawn, strict=True):
        ratio = _ratio(rhythm, rhythm.beat_at(part.until - 1), mistake, by) if shows_in_taps else 1.0
        start = part.within.start if part.within.in_group else part.start
        yield Cause(mistake, by, prior * share / whole * ratio, part.start, part.until, start)


def _ratio(rhythm: Rhythm, beat: int | None, mistake: Mistake, effect: int) -> float:
    """What the time of a beat says for a mistake in it that makes so many stitches more or fewer."""
    if beat is None:
        return 1.0
    own_beat = rhythm.beats[beat]
    one = own_beat.effort / own_beat.stitches if own_beat.stitches else 1.0
    saved = weights.EFFORT["together"].value if mistake is Mistake.MISSED_DECREASE else 0.0
    return rhythm.ratio(beat, effect * (one - saved))


def _skipped(plan: Plan, prior: float, parts: tuple[Part, ...], rhythm: Rhythm, finished: bool) -> Iterator[Cause]:
    """A skipped stitch is missed where it was, or only at the end, where the last act then has no base; the taps
    show that at the end and nothing at the place itself."""
    last, lost = last_act(plan), runs_out_by(plan)
    share = weights.CARRIED_TO_THE_END if lost < 2 else weights.CARRIED_TO_A_CHANGE
    carried = share.value if finished else 0.0
    yield from _spread(Mistake.SKIPPED, prior * (1 - carried), parts, rhythm)
    if finished and last and lost:
        ratio = _ratio(rhythm, rhythm.beat_at(last[0]), Mistake.SKIPPED, -lost)
        for cause in _spread(Mistake.SKIPPED, prior * carried * ratio, parts, rhythm, shows_in_taps=False):
            yield replace(cause, effect=-lost)


def _at_edges(plan: Plan, done: int, mistake: Mistake, effect: int, prior: float, rhythm: Rhythm) -> Iterator[Cause]:
    for edge, bounds in (("first", first_act(plan)), ("last", last_act(plan))):
        if bounds is None or bounds[1] > done:
            continue
        ratio = _ratio(rhythm, rhythm.beat_at(bounds[0]), mistake, effect)
        yield Cause(mistake, effect, prior / 2 * ratio, *bounds, bounds[0], edge)


def _chain_or_join(plan: Plan, done: int, prior: float, rhythm: Rhythm) -> Iterator[Cause]:
    if not is_joined(plan):
        return
    first, last, chain = first_act(plan), last_act(plan), first_chain_counts(plan)
    if first and chain is not None:
        effect = -1 if chain else 1
        yield Cause(Mistake.CHAIN_OR_JOIN, effect, prior / 2, 0, first[0], 0, "first")
    if last and done >= plan.moves:
        ratio = _ratio(rhythm, rhythm.beat_at(last[0]), Mistake.DOUBLED, 1)
        yield Cause(Mistake.CHAIN_OR_JOIN, 1, prior / 2 * ratio, last[0], plan.moves, last[0], "last")


def _repeats(question: Question, prior: dict[Mistake, float], rhythm: Rhythm) -> Iterator[Cause]:
    """Whole repeats too few or too many, and the same slip in each."""
    groups = [group for group in _outer_groups(question.plan, question.done) if group[1].once.stitches]
    for start, repeat, turns in groups:
        until = start + repeat.once.moves * turns
        for mistake, sign in ((Mistake.REPEAT_MISSED, -1), (Mistake.REPEAT_EXTRA, 1)):
            ratio = _mean_ratio(rhythm, start, until, sign)
            weight = prior[mistake] / len(groups) * ratio
            yield Cause(mistake, sign * repeat.once.stitches, weight, start, until, start)
    slips = _every_repeat(question, [turns for _, _, turns in groups])
    for effect in slips:
        weight = prior[Mistake.EVERY_REPEAT] / len(slips)
        yield Cause(Mistake.EVERY_REPEAT, effect, weight, 0, question.done, 0)


def _outer_groups(plan: Plan, done: int) -> Iterator[tuple[int, Repeat, int]]:
    """The groups of the line that are under way or done: first move, group, whole turns done."""
    start = 0
    for node in plan.body:
        if isinstance(node, Repeat):
            turns = min(node.times, max(0, done - start) // node.once.moves)
            if turns >= 2:
                yield start, node, turns
        start += node.tally.moves


def _mean_ratio(rhythm: Rhythm, start: int, until: int, sign: int) -> float:
    inside = [i for i, beat in enumerate(rhythm.beats) if start <= beat.start and beat.until <= until]
    if not inside:
        return 1.0
    return sum(rhythm.ratio(i, sign * rhythm.beats[i].effort) for i in inside) / len(inside)


def _every_repeat(question: Question, turns: list[int]) -> list[int]:
    """What one slip in each repeat would do, and all increases or all decreases left out."""
    # Fewer than three times is no habit.
    effects = {sign * times for times in turns if times >= 3 for sign in (-1, 1)}
    lost, gained = all_plain(question.plan, question.done)
    return sorted(effects | {effect for effect in (-lost, gained) if abs(effect) >= 2})


def _place(question: Question, prior: float, rhythm: Rhythm) -> Iterator[Cause]:
    """Taps too few or too many: the tracker is ahead of the work or behind it."""
    shares = _tap_shares(question.finished)
    sizes: list[tuple[int, int | None]] = [(beat.stitches, i) for i, beat in enumerate(rhythm.beats)]
    sizes = sizes or [(size, None) for size in _usual_taps(question)]
    for stitches, i in sizes:
        each = prior / len(sizes)
        doubled = rhythm.doubled(i) if i is not None else 1.0
        missed = rhythm.ratio(i, rhythm.beats[i].effort) if i is not None else 1.0
        yield Cause(Mistake.PLACE, -stitches, each * shares["doubled"] * doubled)
        yield Cause(Mistake.PLACE, stitches, each * shares["missed"] * missed)
    if not question.finished:
        yield from _between_taps(question, prior * shares["between"])
        yield from _tapped_early(question, prior * shares["early"], rhythm)
        yield Cause(Mistake.PLACE, question.by, prior * shares["any"] / max(question.plan.leaves, 1))


def _tap_shares(finished: bool) -> dict[str, float]:
    if finished:
        over = weights.INTO_NEXT_ROUND.value
        return {"doubled": 1 - over, "missed": over}
    return {
        "doubled": weights.TAP_DOUBLED.value,
        "missed": weights.TAP_MISSED.value,
        "between": weights.BETWEEN_TAPS.value,
        "early": weights.TAPPED_EARLY.value,
        "any": weights.ANY_PLACE.value,
    }


def _usual_taps(question: Question) -> list[int]:
    """What single taps would be worth if nobody knows them: the stretches of the round."""
    plan = question.plan
    return [
        plan.stitches_before(part.until) - plan.stitches_before(part.start)
        for part in parts_of(plan, question.done, ())
    ]


def _between_taps(question: Question, prior: float) -> Iterator[Cause]:
    """The maker is somewhere inside what comes next, or has worked it and not tapped yet."""
    plan, done = question.plan, question.done
    ahead = coming_now(plan, done).stitches
    if 0 < question.by <= ahead:
        yield Cause(Mistake.PLACE, question.by, prior / ahead)


def _tapped_early(question: Question, prior: float, rhythm: Rhythm) -> Iterator[Cause]:
    """The last tap came before its last stitches."""
    last = rhythm.beats[-1].stitches if rhythm.beats else 1
    if -last <= question.by < 0:
        yield Cause(Mistake.PLACE, question.by, prior / last)


def _miscount(question: Question, prior: float) -> Iterator[Cause]:
    by = abs(question.by)
    rarer, tens = weights.WRONG_COUNT_BY.value, weights.WRONG_COUNT_TENS.value
    # Ten off is a slip in counting aloud; beyond forty every number is as unlikely as the next.
    share = (1 - tens) * (1 - rarer) * rarer ** min(by - 1, 40) + (tens if by == 10 else 0)
    yield Cause(Mistake.MISCOUNT, question.by, prior * share / 2)


def _drift(question: Question, prior: float, rhythm: Rhythm) -> Iterator[Cause]:
    """A spiral has no edge: the round ends where the maker takes the marker to be."""
    plan, last = question.plan, last_act(question.plan)
    if not question.finished or last is None or (question.form or form_of(plan)) != "spiral":
        return
    rarer = weights.DRIFT_BY.value
    for by in range(1, MOST_DRIFT + 1):
        share = prior / 2 * (1 - rarer) * rarer ** (by - 1)
        for effect in (-by, by):
            ratio = _ratio(rhythm, rhythm.beat_at(last[0]), Mistake.DRIFT, effect)
            yield Cause(Mistake.DRIFT, effect, share * ratio, *last, last[0], "last")


MOST_DRIFT = 3
"""Stitches; whoever is further from the marker sees it."""


def _spacing(question: Question, prior: float) -> Iterator[Cause]:
    spacings = other_spacings(question.plan) if question.finished else ()
    for leaves in spacings:
        yield Cause(Mistake.SPACING, leaves - question.plan.leaves, prior / len(spacings), 0, question.done)


def _in_earlier_rounds(question: Question, prior: dict[Mistake, float]) -> Iterator[Cause]:
    """A mistake in a round before that nobody counted shows here as what the rounds since make of it.

    Its taps say nothing here: such rounds are told as one place until one of them is counted.
    """
    if not question.finished:
        return
    share, since = 1.0, [question.plan]
    for back, worked in enumerate(question.earlier, start=1):
        if worked.counted:
            return
        share *= weights.EARLIER_ROUND.value
        effects_here: dict[int, dict[int, float]] = {}
        for cause in _in_round(worked.plan, worked.plan.moves, prior, Rhythm(())):
            if cause.effect not in effects_here:
                effects_here[cause.effect] = _passed_on(cause.effect, worked.plan, since)
            for effect, likely in effects_here[cause.effect].items():
                yield replace(cause, effect=effect, weight=cause.weight * share * likely, rounds_back=back)
        since = [worked.plan, *since]


LEFT_OVER = (0.5, 0.3, 0.2)
"""How likely each way is of working over too many bases; see `leaves_over`."""


def _passed_on(effect: int, plan: Plan, since: Sequence[Plan]) -> dict[int, float]:
    """What a difference in a round comes to after the rounds since, nearest to it first, with how likely it is."""
    chances = {plan.leaves + effect: 1.0}
    for worked in since:
        now: dict[int, float] = defaultdict(float)
        for stitches, likely in chances.items():
            outcomes = leaves_over(worked, stitches)
            for left, share in zip(outcomes, LEFT_OVER if len(outcomes) > 1 else (1.0,), strict=False):
                now[left] += likely * share
        chances = now
    return {stitches - since[-1].leaves: likely for stitches, likely in chances.items()}


# Whole rounds: the number is that of a neighbour.


@dataclass(frozen=True, slots=True)
class OutOfStep:
    """A whole round too many or too few. `steps` is how many rounds the work is ahead (+) or behind (-) of the
    tracker, `label` the round that leaves the number; `weight` is relative to all other explanations together."""

    mistake: Mistake
    steps: int
    label: str
    weight: float


def out_of_step(question: Question) -> list[OutOfStep]:
    """The rounds near by that leave the number that was counted, likeliest first."""
    if not question.by or not (question.finished or _is_beyond_a_tap(question)):
        return []
    rounds: list[OutOfStep] = []
    for near in sorted(question.near, key=lambda each: abs(each.steps)):
        if near.leaves != question.counted or any(other.steps * near.steps > 0 for other in rounds):
            continue
        mistake = Mistake.ROUND_NOT_MADE if near.steps < 0 else Mistake.ROUND_NOT_TAPPED
        weight = weights.NEXT_ROUND if abs(near.steps) == 1 else weights.ROUND_AFTER_NEXT
        rounds.append(OutOfStep(mistake, near.steps, near.label, weight.value))
    twice = twice_over(question.plan) if question.again is None else (question.again,)
    if question.finished and question.counted in twice:
        weight = weights.WORKED_TWICE if question.counted in twice[:2] else weights.WORKED_TWICE_LOOSELY
        rounds.append(OutOfStep(Mistake.ROUND_TWICE, 1, question.label, weight.value))
    return sorted(rounds, key=lambda each: -each.weight)


def _is_beyond_a_tap(question: Question) -> bool:
    """Whether half-way the tracker is too far off for a tap that was forgotten or came early."""
    ahead = coming_now(question.plan, question.done).stitches
    last = question.taps[-1] if question.taps else None
    stitches_before = question.plan.stitches_before
    behind = stitches_before(last.after) - stitches_before(last.before) if last else 1
    return question.by > ahead or -question.by > behind


def twice_over(plan: Plan) -> tuple[int, ...]:
    """What is there when the line of the round is worked once more over what it left; none where it changes
    nothing."""
    return () if plan.uses == plan.leaves else leaves_over(plan, plan.leaves)
