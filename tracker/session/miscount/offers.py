"""What the maker is told about a count: one short sentence, and at most three choices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from tracker.plural import number_of
from tracker.rounds.count_parts import CountPart, parts_to_count
from tracker.session.miscount.place_words import place_words, several, uncounted
from tracker.session.miscount.question import Question
from tracker.session.miscount.repairs import Mend, Way, acted_on
from tracker.session.miscount.sections import form_of, is_fastened_off, narrow_width
from tracker.session.miscount.suspects import Suspect
from tracker.session.miscount.windows import LIKELY
from tracker.session.mistakes import Mistake

# More than three answers are no answer.
MOST_OFFERS = 3

MAY_BE_EARLIER = 0.15
"""With this much chance that an earlier round is wrong, that is looked into before anything is ripped."""

GREAT_CHANGE = 10
"""A mend that changes more than one in so many stitches of the round is called what it is."""


class Answer(Enum):
    """What a choice does. The value is its name for programs; keys are the business of screens."""

    MOVE_PLACE = "move place"
    COUNT_AGAIN = "count again"
    COUNT_EARLIER = "count earlier"
    FROG = "frog"
    MEND_HERE = "mend here"
    MEND_NEXT = "mend next"
    CARRY_ON = "carry on"

    @property
    def came_to(self) -> str:
        """What is said once it is done; "" for a choice that only asks."""
        return _CAME_TO[self]


_CAME_TO = {
    Answer.MOVE_PLACE: "your place is set",
    Answer.COUNT_AGAIN: "",
    Answer.COUNT_EARLIER: "",
    Answer.FROG: "ripped back",
    Answer.MEND_HERE: "the rest of this round is changed",
    Answer.MEND_NEXT: "what comes next is changed",
    Answer.CARRY_ON: "the difference is remembered",
}

_ANSWERS = {
    Way.FROG: Answer.FROG,
    Way.THIS_ROUND: Answer.MEND_HERE,
    Way.NEXT: Answer.MEND_NEXT,
    Way.CARRY_ON: Answer.CARRY_ON,
}


@dataclass(frozen=True)
class Offer:
    """One choice: what it is called, and what it rests on.

    `to` is the place that it is about, for moving there or for counting: rounds after the one that was counted, and
    stitches. `supposes` is the cause that the maker acts on by choosing it; whether it was there is asked afterwards.
    `whole` is the round written out that is worked instead.
    """

    answer: Answer
    words: str
    mend: Mend | None = None
    to: tuple[int, int] | None = None
    supposes: Mistake | None = None

    @property
    def whole(self) -> str:
        return ", then ".join(line.text for line in self.mend.rounds) if self.mend else ""


def sentence(question: Question, suspects: Sequence[Suspect]) -> str:
    """What the count means, in one sentence without a full stop."""
    if not question.by:
        return f"{question.counted}: just as it should be"
    head = f"{abs(question.by):,} {'more' if question.by > 0 else 'fewer'} than {question.expected:,}"
    if not suspects:
        return head
    first = suspects[0]
    if first.mistake.is_out_of_step or first.mistake is Mistake.PLACE:
        return f"{head}; {first.words}"
    if first.mistake is Mistake.MISCOUNT and abs(question.by) == TEN and not question.is_confirmed:
        return f"{head}: a ten is soon lost or counted twice; count once more"
    where = _where(question, suspects)
    if question.is_confirmed:
        return f"{head}, counted twice{f': {where}' if where else ''}"
    return f"{head}; count once more{f', then {where}' if where else ''}"


TEN = 10
"""Whoever counts aloud loses a whole ten."""


def _where(question: Question, suspects: Sequence[Suspect]) -> str:
    """One place to look at: the likeliest if it is narrow, else where a round is most often wrong."""
    suspect = next((s for s in suspects if s.mistake.is_in_fabric), None)
    if suspect is None:
        return ""
    if suspect.rounds_back:
        return _look_below(question)
    if 1 < suspect.like_changes <= narrow_width(question.plan.leaves) // 2:
        return _any_of(suspect.like_changes, question)
    if not suspect.is_narrow_in(question.plan.leaves) and suspect.mistake in (Mistake.SKIPPED, Mistake.DOUBLED):
        return _edges(question)
    where, _, detail = suspect.words.partition(": ")
    return (
        f"look over {where}: {detail}"
        if suspect.beside == "both"
        else f"look here: {suspect.words.replace(': ', ', ')}"
    )


def _any_of(number: int, question: Question) -> str:
    change = "increase" if question.by < 0 else "decrease"
    return f"look at the {number} {change}s: one may be missing"


def _look_below(question: Question) -> str:
    labels = uncounted(question)
    was = "was" if len(labels) == 1 else "were"
    return f"look below: {several(labels)} {was} never counted"


def _edges(question: Question) -> str:
    form = question.form or form_of(question.plan)
    return {
        "rows": "look at both edges of the row",
        "joined": "look at the join and the first chain",
    }.get(form, "look at both sides of the marker")


def offers(question: Question, suspects: Sequence[Suspect], ways: Sequence[Mend]) -> tuple[Offer, ...]:
    """At most three choices, what is to be done first leading; none when the count is as it should be.

    Until two counts agree, counting again is one of them. Ripping back is the first only where the place is exact.
    """
    if not question.by:
        return ()
    by_way = {way.way: _offer(question, suspects, way) for way in ways}
    frog, carry = by_way.get(Way.FROG), by_way.get(Way.CARRY_ON)
    mend = by_way.get(Way.THIS_ROUND) or by_way.get(Way.NEXT)
    first = suspects[0].mistake if suspects else None
    place = _placed(question, suspects)
    again = _counted_again(question)
    choices: list[Offer | None] = []
    if first is not None and first.is_out_of_step:
        # The stitches are right and the place is not: nothing may be ripped or mended for it.
        return tuple(choice for choice in (place, again, carry) if choice is not None)
    if place is not None and first is Mistake.PLACE:
        choices += [place, again, carry]
    elif not question.is_confirmed:
        choices += [again, carry, place if not question.finished else None]
    suspect = acted_on(suspects)
    is_likely = suspect is not None and suspect.probability >= LIKELY and suspect.alike == 1
    earlier = _earlier(question, suspects)
    is_earlier = sum(s.probability for s in suspects if s.rounds_back) >= MAY_BE_EARLIER or _only_at_end(question)
    if question.is_confirmed and is_earlier:
        # Before ripping: what was wrong below is still wrong when this round is made again.
        choices.append(earlier)
    if (
        question.is_confirmed
        and frog is not None
        and suspect is not None
        and is_likely
        and _is_exact(question, suspect)
    ):
        choices.append(frog)
    if question.is_confirmed:
        choices.append(earlier)
    if question.is_confirmed and again is not None and not question.parts and parts_to_count(question.plan):
        choices.append(again)
    choices += [carry, mend, frog if is_likely and again else None, earlier, again or _once_more(), frog]
    if not question.is_confirmed and suspect is not None and suspect.alike > 1:
        # Of places that are all as likely the one that is ripped is mostly wrong, and one more count tells which.
        choices = [choice for choice in choices if choice is not frog]
    distinct = list(dict.fromkeys(choice for choice in choices if choice is not None))
    return tuple(distinct[:MOST_OFFERS])


def _only_at_end(question: Question) -> bool:
    """Whether just the last part that was counted differs: so does a round that had too few or too many feet."""
    parts = parts_to_count(question.plan)
    off = [count != part.expected for part, count in zip(parts, question.parts, strict=False)]
    return off.count(True) == 1 and off[-1]


def _is_exact(question: Question, suspect: Suspect) -> bool:
    """Whether ripping back to the place rips nothing that is good, or hardly anything."""
    if suspect.mistake in (Mistake.EVERY_REPEAT, Mistake.SPACING, Mistake.REPEAT_EXTRA, Mistake.DRIFT):
        return True
    if (suspect.others or suspect.part is not None) and not suspect.edge:
        return suspect.width <= EXACT
    plan = question.plan
    return plan.stitches_before(suspect.until) - plan.stitches_before(suspect.move) <= EXACT


EXACT = 3
"""Stitches: the place is one increase or decrease, or one stitch at an edge."""


def _placed(question: Question, suspects: Sequence[Suspect]) -> Offer | None:
    """Setting the tracker's place: to a whole round that is out of step, or to the stitch that was counted."""
    step = next((s for s in suspects if s.mistake.is_out_of_step), None)
    if step is not None and suspects[0] is step:
        return _in_step(question, step)
    first = suspects[0].mistake if suspects else None
    if question.finished and not (question.by < 0 and first in (Mistake.PLACE, Mistake.REPEAT_MISSED)):
        return None
    if question.counted > question.plan.leaves:
        return None
    words = f"the work is right: set the place to stitch {question.counted:,}"
    return Offer(Answer.MOVE_PLACE, words, to=(0, question.counted))


def _in_step(question: Question, step: Suspect) -> Offer:
    """Setting the place to the round that the work is in."""
    labels = {near.steps: near.label for near in question.near} | {0: question.label}
    if step.mistake is Mistake.ROUND_TWICE:
        words = f"take the second {question.label} out; your place is then right"
        return Offer(Answer.MOVE_PLACE, words, to=(1, 0))
    first = step.steps + 1
    if step.mistake is Mistake.ROUND_NOT_MADE:
        return Offer(Answer.MOVE_PLACE, f"set the place to the start of {labels.get(first, 'it')}", to=(first, 0))
    return Offer(Answer.MOVE_PLACE, f"set the place to the end of {labels.get(step.steps, 'it')}", to=(first, 0))


def _counted_again(question: Question) -> Offer | None:
    """Counting again, by parts where the round is whole and long."""
    parts = parts_to_count(question.plan) if question.done >= question.plan.moves else ()
    if question.is_confirmed and (question.parts or not parts):
        return None
    if not parts:
        return Offer(Answer.COUNT_AGAIN, "count again")
    return Offer(Answer.COUNT_AGAIN, f"count again by {_kind(parts)}: {_pins(question, parts)}")


def _once_more() -> Offer:
    return Offer(Answer.COUNT_AGAIN, "count again")


def _kind(parts: Sequence[CountPart]) -> str:
    return {"repeat": "repeats", "quarter": "quarters"}.get(parts[0].name.split()[0], "sixths")


def _pins(question: Question, parts: Sequence[CountPart]) -> str:
    """Where the pins go: into the round below, because its stitches are the feet of this one."""
    wide = {until - start for start, until in (part.bases for part in parts)}
    below = question.earlier[0].label if question.earlier else ""
    every = f"{max(wide)}" if len(wide) == 1 else f"{min(wide)} or {max(wide)}"
    return f"pin every {every} of {below or 'the one below'}"


def _earlier(question: Question, suspects: Sequence[Suspect]) -> Offer | None:
    """Counting one of several rounds that nobody counted: the middle one, so that half of them are done with."""
    labels = uncounted(question)
    if not labels or not (_only_at_end(question) or any(suspect.rounds_back for suspect in suspects)):
        return None
    back = (len(labels) + 1) // 2
    above = question.label if back == 1 else labels[back - 2]
    words = f"count {labels[back - 1]}: its stitches are the feet of {above}"
    return Offer(Answer.COUNT_EARLIER, words, to=(-back, 0))


def _offer(question: Question, suspects: Sequence[Suspect], way: Mend) -> Offer:
    suspect = acted_on(suspects)
    supposed = suspect.mistake if suspect and way.way in (Way.FROG, Way.THIS_ROUND) else None
    only_there = "if it is there: " if way.way is Way.FROG and suspect and suspect.alike > 1 else ""
    return Offer(_ANSWERS[way.way], f"{only_there}{_words(question, way)}", way, supposes=supposed)


def _words(question: Question, mend: Mend) -> str:
    if mend.way is Way.FROG:
        return _frog_words(question, mend)
    if mend.way is Way.CARRY_ON:
        return f"carry on: {mend.shows}"
    changed, bases = abs(question.by), mend.rounds[0].before
    great = f"; that is {changed} of {bases}" if changed > 1 and changed * GREAT_CHANGE > bases else ""
    where = (
        "the rest of this round" if mend.way is Way.THIS_ROUND else " and ".join(line.label for line in mend.rounds)
    )
    return f"make it up in {where}: {mend.shows}{great}"


def _frog_words(question: Question, mend: Mend) -> str:
    form, plan = question.form or form_of(question.plan), question.plan
    is_cut = is_fastened_off(plan) and question.done >= plan.moves
    if not mend.ripped:
        end = {"rows": "at the end of the row", "joined": "before the join"}.get(form, "before the marker")
        end = "before fastening off" if is_fastened_off(plan) else end
        return "open the end and work what was left out" if is_cut else f"work what was left out {end}"
    where = place_words(plan, plan.move_after_stitches(mend.stitch), form)
    if mend.ripped > question.counted and question.label:
        where += f" of {question.label}"
    return f"{'open the end and ' if is_cut else ''}rip back {number_of(mend.ripped, 'stitch')}, to {where}"
