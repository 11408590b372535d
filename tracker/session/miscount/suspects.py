"""Where to look when a count differs: at most five places, best first.

Every single mistake that explains the difference is weighed, and every pair of mistakes that together do. A pair
is never listed: what is added up for each place is how much of all explanations goes through it, each pair being
shared between its two places, so that the places are never likelier together than certain.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tracker.rounds.count_parts import parts_to_count
from tracker.rounds.plan import Plan
from tracker.rounds.slicing import stretch_at
from tracker.session.miscount.causes import Cause, OutOfStep, causes_of, out_of_step
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.explanation import Share, explain, explain_by_parts, is_inside
from tracker.session.miscount.place_words import out_of_step_words, several, uncounted, words_for
from tracker.session.miscount.question import Question, Tap, Worked
from tracker.session.miscount.sections import acts_from, changes_made, closing, narrow_width
from tracker.session.miscount.windows import LIKELY, Window, weight_of, windows_of
from tracker.session.mistakes import LOOK_FOR, WHOLE, Mistake

__all__ = ["MOST_SUSPECTS", "Learned", "Mistake", "Question", "Suspect", "Tap", "Worked", "locate"]

# As many as fit on a small screen.
MOST_SUSPECTS = 5


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
    like_changes: int = 0
    """If nothing in this round is likelier than a missed increase (or decrease) and none of them stands out: how many
    there are of these changes."""
    beside: str = ""
    """ "first", "last" or "both" where the place reaches that end of the round, and the other end where it closes."""

    @property
    def is_one_place(self) -> bool:
        """Whether it is so many stitches from the hook, and not all round or in several rounds."""
        return self.mistake.is_in_fabric and self.mistake not in WHOLE and not self.rounds_back_most

    def is_narrow_in(self, leaves: int) -> bool:
        """Whether the place is seen at a glance: so few stitches, or so small a share of the round."""
        if self.rounds_back or self.mistake in WHOLE:
            return False
        return bool(self.edge) or self.width <= narrow_width(leaves)


def locate(question: Question, learned: Learned | None = None) -> tuple[Suspect, ...]:
    """Where to look, best first; nothing when the count is as expected.

    The first are of different sorts, since one look tells them apart: a wrong count, the round itself, its edge, an
    earlier round, a whole round out of step.
    """
    if not question.by:
        return ()
    causes = causes_of(question, learned or Learned())
    shares = explain_by_parts(question, causes) if question.parts else explain(causes, question.by)
    total = sum(share.weight for share in shares)
    if total <= 0:
        shares = [Share(Cause(Mistake.MISCOUNT, question.by, 1.0), 1.0, 0.0)]
        total = 1.0
    steps = out_of_step(question)
    whole = total * (1 + sum(step.weight for step in steps))
    ranked = sorted(_places(question, shares, total), key=_rank)
    like = _like_changes(question, shares)
    places = [_place(question, place, whole, like) for place in ranked[:MOST_SUSPECTS]]
    out = [_step(question, step, step.weight * total / whole) for step in steps]
    if len(out) > 1 and (out[0].mistake, out[1].mistake) == (Mistake.ROUND_NOT_TAPPED, Mistake.ROUND_TWICE):
        out[0] = _either(question, out[0], out[1])
    first = sum(step.weight >= 1 for step in steps)
    return tuple([*out[:first], *places[:1], *out[first:], *places[1:]][:MOST_SUSPECTS])


def _places(question: Question, shares: list[Share], total: float) -> Iterator[Window]:
    """What explains the difference, told together where one look finds it."""
    together: dict[tuple[object, ...], list[Share]] = defaultdict(list)
    inside: list[Share] = []
    for share in shares:
        if not question.parts and _is_of_this_round(share.cause):
            inside.append(share)
        else:
            together[_key(question, share.cause)].append(share)
    yield from windows_of(question.plan, inside, total)
    for each in together.values():
        best = _leading(each)
        yield Window(best.start, best.until, tuple(each), is_named=False)


def _like_changes(question: Question, shares: list[Share]) -> int:
    """How many increases or decreases could all be the one that is missing; 0 if that is not the likeliest slip, or
    if one of them stands out."""
    inside = [share for share in shares if not question.parts and _is_of_this_round(share.cause)]
    if not inside:
        return 0
    mistake = _by_mistake(inside)[0][0]
    if mistake not in (Mistake.MISSED_INCREASE, Mistake.MISSED_DECREASE):
        return 0
    missed = [share for share in inside if share.cause.mistake is mistake]
    if max(share.weight for share in missed) >= LIKELY * weight_of(missed):
        return 0
    return changes_made(question.plan, question.done)[mistake is Mistake.MISSED_DECREASE]


def _is_of_this_round(cause: Cause) -> bool:
    """Whether it is a slip at one place of the round that was counted."""
    return not cause.rounds_back and cause.mistake.is_in_fabric and cause.mistake not in WHOLE


def _either(question: Question, first: Suspect, second: Suspect) -> Suspect:
    """A whole round more is there, and the number fits two: only a look at it tells which."""
    words = f"{first.words.removesuffix('?')}, or {question.label} twice?"
    return replace(first, words=words, others=(second.mistake,))


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


def _rank(place: Window) -> tuple[float, int, int]:
    """Likeliest first; of equals the one nearest to the hook, which is soonest seen and least to rip."""
    nearest = max(place.shares, key=lambda share: share.cause.start).cause
    return -round(place.weight, 12), nearest.rounds_back, -nearest.start


def _key(question: Question, cause: Cause) -> tuple[object, ...]:
    """Causes with the same key are one place. Where a round closes, its first stitch, its last, the chain and the
    join sit side by side; only in rows are the two ends apart. Several rounds that nobody counted are one place until
    one of them is counted."""
    if not cause.mistake.is_in_fabric:
        return (cause.mistake,)
    if cause.rounds_back and uncounted(question):
        return ("earlier",)
    if cause.mistake in WHOLE:
        return (cause.mistake, cause.rounds_back, cause.start)
    if (part := part_of(question, cause)) is not None:
        return ("part", part)
    if cause.edge:
        in_rows = closing(_plan_of(question, cause.rounds_back)) == "turn"
        return (cause.rounds_back, cause.edge if in_rows else "edge")
    return (cause.rounds_back, cause.stretch)


def part_of(question: Question, cause: Cause) -> int | None:
    """Which of the parts that were counted holds this slip of the round; None if it was not counted by parts."""
    if not question.parts or cause.rounds_back or cause.mistake in (*WHOLE, Mistake.DRIFT):
        return None
    parts = parts_to_count(question.plan)
    return next((number for number, part in enumerate(parts) if is_inside(cause, part)), None)


def _leading(shares: Sequence[Share]) -> Cause:
    """The likeliest cause of the likeliest mistake."""
    mistake = _by_mistake(shares)[0][0]
    of_it = (share for share in shares if share.cause.mistake is mistake)
    return max(of_it, key=lambda share: (round(share.weight, 12), share.cause.start)).cause


def _by_mistake(shares: Sequence[Share]) -> list[tuple[Mistake, float]]:
    weight_of: dict[Mistake, float] = defaultdict(float)
    for share in shares:
        weight_of[share.cause.mistake] += share.weight
    # The last figures of a sum are not the same in every Python; what is as likely stays in its order.
    return sorted(weight_of.items(), key=lambda item: -round(item[1], 12))


def _place(question: Question, place: Window, total: float, like_changes: int = 0) -> Suspect:
    (leading, most), *others = _by_mistake(place.shares)
    best = _leading(place.shares)
    plan = _plan_of(question, best.rounds_back)
    part = part_of(question, best)
    if part is not None and any((s.cause.start, s.cause.until) != (best.start, best.until) for s in place.shares):
        start, end = parts_to_count(plan)[part].moves
        best = replace(best, start=start, until=end, edge="")
    if place.is_named and (place.start, place.until) != (best.start, best.until):
        best = replace(best, start=place.start, until=place.until, edge="")
    move, until = _moves(question, best)
    stretch = (best.start, best.until) if part is not None or place.is_named else _stretch(plan, best)
    labels = uncounted(question) if best.rounds_back else ()
    words = words_for(plan, question, best, move, until, place.beside)
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
        probability=place.weight / total,
        rounds_back=1 if labels else 0,
        edge="" if labels else best.edge,
        others=tuple(mistake for mistake, weight in others if weight > 0.2 * most),
        alike=place.alike,
        rounds_back_most=len(labels),
        width=plan.stitches_before(stretch[1]) - plan.stitches_before(stretch[0]),
        part=part,
        like_changes=like_changes if place.is_named else 0,
        beside=place.beside,
    )


def _plan_of(question: Question, rounds_back: int) -> Plan:
    return question.earlier[rounds_back - 1].plan if rounds_back else question.plan


def _moves(question: Question, cause: Cause) -> tuple[int, int]:
    """The moves that the place is about: the act itself where it is the only one that it can be."""
    if cause.mistake is Mistake.PLACE:
        move = question.plan.move_after_stitches(question.counted)
        return move, move
    if cause.mistake is Mistake.MISCOUNT:
        return question.done, question.done
    plan = _plan_of(question, cause.rounds_back)
    changes = [
        bounds
        for bounds, act in acts_from(plan, cause.start, cause.until)
        if (cause.mistake is Mistake.MISSED_INCREASE and act.is_increase)
        or (cause.mistake is Mistake.MISSED_DECREASE and act.is_decrease)
    ]
    return changes[0] if len(changes) == 1 else (cause.start, cause.until)


def _stretch(plan: Plan, cause: Cause) -> tuple[int, int]:
    """The part of the round that the words name."""
    if cause.edge or cause.mistake in WHOLE or not cause.mistake.is_in_fabric:
        return cause.start, cause.until
    within = stretch_at(plan, cause.start)
    is_named = within.in_group and cause.until <= within.until
    return (within.start, within.until) if is_named else (cause.start, cause.until)


def _back(question: Question, cause: Cause, move: int) -> int:
    """Stitches from the place to the hook, as they were worked."""
    if not cause.mistake.is_in_fabric:
        return 0
    if not cause.rounds_back:
        return max(0, question.counted - question.plan.stitches_before(move))
    between = sum(worked.plan.leaves for worked in question.earlier[: cause.rounds_back - 1])
    plan = question.earlier[cause.rounds_back - 1].plan
    return question.counted + between + plan.leaves - plan.stitches_before(move)
