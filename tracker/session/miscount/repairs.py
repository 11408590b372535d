"""How to put a miscount right: rip back, mend here, make it up in the next rounds, or carry on.

Each way has its price in stitches ripped and tells what will show. A rewritten round is offered only after our own
reader has read it back to the very stitches that were meant, over the stitches that are really there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from tracker.pattern.model import Round
from tracker.rounds.formatter import folded, notate
from tracker.rounds.plan import Plan
from tracker.rounds.slicing import Ledger, cut
from tracker.session.counting import Onward
from tracker.session.counting import carried_on_too as carried_on
from tracker.session.miscount.question import Question
from tracker.session.miscount.rewriting import (
    Bump,
    as_worked,
    bumps_of,
    even_round,
    is_even,
    over_more_bases,
    with_more_stitches,
)
from tracker.session.miscount.sections import acts_from
from tracker.session.miscount.suspects import Suspect
from tracker.session.mistakes import Mistake
from tracker.session.refit import Reader

CROWDED = 6
"""With more than one change in so many stitches, the difference is better made up over two rounds."""


class Way(Enum):
    """What can be done about a difference. The value is its name in the journal and in JSON."""

    FROG = "frog"
    THIS_ROUND = "mend here"
    NEXT = "mend next"
    CARRY_ON = "carry on"


@dataclass(frozen=True)
class Rewritten:
    """A round that takes the place of the pattern's. `ahead` is 0 for the one being made, 1 for the next.

    `text` is the whole line with heading and total; `plan` is how our reader reads it over `before` stitches.
    """

    ahead: int
    label: str
    text: str
    before: int
    plan: Plan

    @property
    def leaves(self) -> int:
        return self.plan.leaves


@dataclass(frozen=True)
class Mend:
    """One way to go on. `ripped` is its price in stitches, `shows` what will be seen of it.

    For `Way.FROG`: back to the round `rounds_back` before this one, with `stitch` of its stitches made.
    For `Way.THIS_ROUND` and `Way.NEXT`: the rounds that are worked instead. For `Way.CARRY_ON`: `left` stitches
    more or fewer than the pattern remain.
    """

    way: Way
    ripped: int
    shows: str
    rounds_back: int = 0
    stitch: int = 0
    rounds: tuple[Rewritten, ...] = ()
    left: int = 0


@dataclass(frozen=True)
class Situation:
    """What is known when a mend is looked for.

    `bases` is how many stitches the round being counted is worked into, `ahead` are the rounds after it as the maker
    will work them, `read` is our reader with the pattern's terms and words.
    """

    question: Question
    present: Round
    ahead: tuple[Round, ...]
    read: Reader
    bases: int | None = None
    terms: str = "US"
    printed_leaves: int | None = None
    """What the pattern leaves, where the round is worked over the maker's own number already; None if it is not."""

    @property
    def pattern_leaves(self) -> int:
        return self.question.plan.leaves if self.printed_leaves is None else self.printed_leaves

    @property
    def leaves(self) -> int:
        """How many stitches the round will really have when the rest of it is worked as written."""
        plan = self.question.plan
        return self.question.counted + plan.leaves - plan.stitches_before(self.question.done)

    @property
    def by(self) -> int:
        """How many more (+) or fewer (-) that is than the pattern has."""
        return self.leaves - self.pattern_leaves

    @cached_property
    def onward(self) -> Onward:
        """What carrying on would come to; its `stuck` names rounds that would not work out."""
        return carried_on(self.ahead, self.leaves, self.pattern_leaves, self.read)


def mends(situation: Situation, suspects: Sequence[Suspect]) -> tuple[Mend, ...]:
    """Every way that can be offered. A whole round that is out of step is neither ripped nor mended; what is ripped
    back to is the likeliest place in the fabric."""
    if suspects and suspects[0].mistake.is_out_of_step:
        return tuple(way for way in (carried(situation),) if way is not None)
    suspect = acted_on(suspects)
    ways = (
        frogged(suspect, situation.question),
        mended_here(situation, suspect),
        mended_next(situation),
        carried(situation),
    )
    return tuple(way for way in ways if way is not None)


def acted_on(suspects: Sequence[Suspect]) -> Suspect | None:
    """The place that is ripped back to: the likeliest in the fabric; of parts that were counted the first that
    differs, so that all of them come out."""
    fabric = [s for s in suspects if s.mistake.is_in_fabric and s.mistake is not Mistake.REPEAT_MISSED]
    if fabric and fabric[0].part is not None:
        return min((s for s in fabric if s.part is not None), key=lambda s: s.part or 0)
    return fabric[0] if fabric else None


def frogged(suspect: Suspect | None, question: Question) -> Mend | None:
    """Rip back to just before the mistake; nothing will show. None where the place is not narrow.

    A repeat too many, and a spiral that ran past its marker, are ripped from the end; where a last stitch that was
    left out is the whole difference, or the marker was not reached, there is nothing to rip.
    """
    if suspect is None or suspect.rounds_back:
        return None
    if suspect.mistake is Mistake.CHAIN_OR_JOIN and suspect.edge == "first" and suspect.effect > 0:
        return None  # the chain was counted: the work is right
    leaves = question.plan.leaves
    if suspect.mistake is Mistake.DRIFT and suspect.effect == question.by:
        return Mend(Way.FROG, max(0, question.by), NOTHING, 0, min(leaves, leaves + question.by))
    if suspect.mistake is Mistake.REPEAT_EXTRA:
        stitch = suspect.stitch + suspect.back - suspect.effect
        return Mend(Way.FROG, suspect.effect, NOTHING, suspect.rounds_back, stitch)
    if suspect.mistake in (Mistake.EVERY_REPEAT, Mistake.SPACING):
        return Mend(Way.FROG, question.counted, NOTHING) if question.parts and question.counted else None
    if not suspect.is_narrow_in(leaves) or (suspect.back < 1 and not _is_left_out_at_the_end(suspect, question.by)):
        return None
    if (
        suspect.others or suspect.part is not None
    ) and not suspect.edge:  # whichever it is, it lies in the whole part
        stitch = question.plan.stitches_before(suspect.stretch[0])
        return Mend(Way.FROG, suspect.back + suspect.stitch - stitch, NOTHING, 0, stitch)
    return Mend(Way.FROG, suspect.back, NOTHING, 0, suspect.stitch)


NOTHING = "nothing will show"


def _is_left_out_at_the_end(suspect: Suspect, by: int) -> bool:
    return (suspect.mistake, suspect.edge, suspect.effect) == (Mistake.SKIPPED, "last", by)


def mended_here(situation: Situation, suspect: Suspect | None) -> Mend | None:
    """Change what is left of an unfinished round so that it comes out right."""
    question = situation.question
    if suspect is None or question.finished or situation.bases is None:
        return None
    try:
        head, tail = cut(question.plan.body, question.done)
    except ValueError:  # the maker stands between the two stitches of an increase
        return None
    new_head = as_worked(head, suspect)
    if new_head is None or Plan(new_head).leaves != question.counted:
        return None
    bases, leaves = Plan(tail).uses, question.plan.leaves - question.counted
    new_tail = even_round(tail, bases, leaves) if is_even(question.plan.body) else None
    new_tail = new_tail or with_more_stitches(tail, -situation.by)
    if new_tail is None:
        return None
    plan = Plan(folded((*new_head, *new_tail)), question.plan.ends_with)
    line = _checked(situation, 0, situation.present, plan, situation.bases, question.plan.leaves)
    return None if line is None else Mend(Way.THIS_ROUND, 0, _shows([situation.present], [line]), rounds=(line,))


def mended_next(situation: Situation) -> Mend | None:
    """Make the difference up over the next round, or over two where one would be crowded."""
    question = situation.question
    if not situation.by:
        return None
    bases = situation.leaves
    ahead = [round_ for round_ in situation.ahead[:2] if _is_over(round_, situation.pattern_leaves)]
    below = bumps_of(question.plan)
    in_one = _in_one_round(situation, ahead, bases, below)
    if abs(situation.by) * CROWDED > bases or in_one is None:
        return _in_two_rounds(situation, bases, below) or in_one
    return in_one


def _is_over(round_: Round, leaves: int) -> bool:
    return round_.plan is not None and round_.plan.uses == leaves


def _in_one_round(situation: Situation, ahead: Sequence[Round], bases: int, below: tuple[Bump, ...]) -> Mend | None:
    if not ahead or ahead[0] is not situation.ahead[0] or bases < 1:
        return None
    plan = ahead[0].plan
    assert plan is not None
    body = even_round(plan.body, bases, plan.leaves, below) if is_even(plan.body) else None
    body = body or over_more_bases(plan.body, situation.by)
    line = body and _checked(situation, 1, ahead[0], Plan(body, plan.ends_with), bases, plan.leaves)
    return Mend(Way.NEXT, 0, _shows(ahead[:1], [line]), rounds=(line,)) if line else None


def _in_two_rounds(situation: Situation, bases: int, below: tuple[Bump, ...]) -> Mend | None:
    """Half of the difference in each of the next two rounds."""
    first, second = [*situation.ahead[:2], None, None][:2]
    later = int(situation.by / 2)
    if not later or first is None or second is None or first.plan is None or second.plan is None:
        return None
    if not _is_over(first, situation.pattern_leaves) or not _is_over(second, first.plan.leaves) or bases < 1:
        return None
    if not is_even(first.plan.body) or not is_even(second.plan.body):
        return None
    between = first.plan.leaves + later
    one = even_round(first.plan.body, bases, between, below)
    line = one and _checked(situation, 1, first, Plan(one, first.plan.ends_with), bases, between)
    if not line:
        return None
    two = even_round(second.plan.body, between, second.plan.leaves, bumps_of(line.plan))
    last = two and _checked(situation, 2, second, Plan(two, second.plan.ends_with), between, second.plan.leaves)
    return Mend(Way.NEXT, 0, _shows([first, second], [line, last]), rounds=(line, last)) if last else None


def _shows(instead_of: Sequence[Round], lines: Sequence[Rewritten]) -> str:
    """What changes: how many increases or decreases more or fewer than in the pattern, and where if it is one."""
    more = {"increase": 0, "decrease": 0}
    for round_, line in zip(instead_of, lines, strict=True):
        assert round_.plan is not None
        for name, was, now in zip(more, _changes(round_.plan), _changes(line.plan), strict=True):
            more[name] += now - was
    words = [
        f"{_number(abs(n))} {name}{'s' if abs(n) > 1 else ''} {'more' if n > 0 else 'fewer'}"
        for name, n in more.items()
        if n
    ]
    changes = " and ".join(words) or "its changes set anew"
    return f"{changes}{_where(instead_of, lines)}"


def _number(number: int) -> str:
    return "one" if number == 1 else str(number)


def _where(instead_of: Sequence[Round], lines: Sequence[Rewritten]) -> str:
    """ ", evenly spaced" only if it is; for the one change of a plain round the stitch that it comes after."""
    if all(is_even(line.plan.body) for line in lines):
        places = bumps_of(lines[0].plan)
        if len(lines) == 1 and len(places) == 1:
            return f", after stitch {places[0][0]}" if places[0][0] else ", in the first stitch"
        return ", evenly spaced"
    if len(lines) == 1 and instead_of[0].plan is not None:
        same = _alike_up_to(instead_of[0].plan, lines[0].plan)
        return f", after stitch {same}" if same else ""
    return ""


def _alike_up_to(one: Plan, other: Plan) -> int:
    """How many stitches two rounds have alike from their beginning; only the first few hundred acts are looked at."""
    stitches = 0
    for (_, left), (_, right) in zip(acts_from(one, 0), acts_from(other, 0), strict=False):
        if (left.takes, left.stitches) != (right.takes, right.stitches):
            break
        stitches += left.stitches
    return stitches


def _changes(plan: Plan) -> tuple[int, int]:
    """Increases and decreases, by arithmetic."""
    sums = Ledger(plan.body, lambda act: {"inc": float(act.is_increase), "dec": float(act.is_decrease)}).total
    return round(sums.get("inc", 0)), round(sums.get("dec", 0))


def carried(situation: Situation) -> Mend | None:
    """Go on as written, if every later round was worked with the real number and works out."""
    onward = situation.onward
    if not onward.is_proven:
        return None
    difference = abs(onward.left)
    shows = (
        f"it stays {difference:,} {'more' if onward.left > 0 else 'fewer'}"
        if difference
        else "the count comes right by itself"
    )
    return Mend(Way.CARRY_ON, 0, shows, left=onward.left)


def _checked(
    situation: Situation, ahead: int, round_: Round, plan: Plan, bases: int, target: int
) -> Rewritten | None:
    """The round written out, if our reader reads just that; else None."""
    into = f"into Rnd {round_.worked_into}, " if round_.worked_into is not None else ""
    text = f"{round_.label}: {into}{notate(plan, situation.terms)} ({target})"
    report = situation.read(text, bases)
    if report.verdict != "ok" or report.plan is None or report.leaves != target or report.uses != bases:
        return None
    same = _sum(report.plan) == _sum(plan)
    return Rewritten(ahead, round_.label, text, bases, report.plan) if same else None


def _sum(plan: Plan) -> tuple[object, ...]:
    tally = plan.tally
    return tally.moves, tally.takes, tally.stitches, tally.spaces, tally.chains, sorted(tally.kinds)
