"""What the maker is told about a count: one short sentence, and at most three choices with a key each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from tracker.session.miscount.question import Question
from tracker.session.miscount.repairs import Mend, Way
from tracker.session.miscount.suspects import Suspect
from tracker.session.mistakes import Mistake

MOST_OFFERS = 3


class Answer(Enum):
    """What a choice does. The value is its key on the keyboard."""

    MOVE_PLACE = "p"
    COUNT_AGAIN = "a"
    FROG = "f"
    MEND_HERE = "h"
    MEND_NEXT = "n"
    CARRY_ON = "k"

    @property
    def came_to(self) -> str:
        """What is said once it is done; "" for a choice that only asks."""
        return _CAME_TO[self]


_CAME_TO = {
    Answer.MOVE_PLACE: "your place is set",
    Answer.COUNT_AGAIN: "",
    Answer.FROG: "ripped back",
    Answer.MEND_HERE: "the rest of this round is changed",
    Answer.MEND_NEXT: "what comes next is changed",
    Answer.CARRY_ON: "the difference is remembered",
}

_ANSWERS = {
    Way.FROG: Answer.FROG,
    Way.HERE: Answer.MEND_HERE,
    Way.NEXT: Answer.MEND_NEXT,
    Way.CARRY_ON: Answer.CARRY_ON,
}


@dataclass(frozen=True)
class Offer:
    """One choice: its key, what it is called, and what it rests on.

    `stitch` is where the place would be moved. `confirms` is the cause that the maker takes to be true by choosing
    it; for a count again it shows only when the new count agrees (then it is `Mistake.MISCOUNT`).
    """

    answer: Answer
    words: str
    mend: Mend | None = None
    stitch: int | None = None
    confirms: Mistake | None = None

    @property
    def key(self) -> str:
        return self.answer.value


def sentence(question: Question, suspects: Sequence[Suspect]) -> str:
    """What the count means, in one sentence without a full stop."""
    if not question.by:
        return f"{question.counted}: just as it should be"
    head = f"{_stitches(abs(question.by))} {'more' if question.by > 0 else 'fewer'} than {question.expected:,}"
    if not suspects:
        return head
    if suspects[0].mistake is Mistake.PLACE:
        return f"{head}; {suspects[0].words}"
    in_fabric = [suspect for suspect in suspects if suspect.mistake.is_in_fabric]
    if suspects[0].mistake is Mistake.MISCOUNT:
        return f"{head}; count once more" + (f", or look here: {_where(in_fabric)}" if in_fabric else "")
    return f"{head}; {_where(in_fabric)}"


def _where(likeliest_first: Sequence[Suspect]) -> str:
    """The likeliest place, with the one that is just as likely, or how many are."""
    first, *others = likeliest_first
    if first.alike < 2 or not others:
        return _at(first)
    if first.alike == 2:
        return f"{_at(first)}; or just as likely {_at(others[0])}"
    return f"{_at(first)}; {first.alike - 1} other places are just as likely"


def _at(suspect: Suspect) -> str:
    back = f", {_stitches(suspect.back)} back" if suspect.back else ""
    return f"{suspect.words}{back}"


def _stitches(number: int) -> str:
    return "1 stitch" if number == 1 else f"{number:,} stitches"


def offers(question: Question, suspects: Sequence[Suspect], ways: Sequence[Mend]) -> tuple[Offer, ...]:
    """At most three choices, likeliest to be wanted first; none when the count is as it should be.

    Half-way through a round the tracker's own place is the first suspect, and moving it costs nothing.
    """
    if not question.by:
        return ()
    choices: list[Offer] = []
    if _place_may_move(question, suspects):
        words = f"the work is right: set the place to stitch {question.counted:,}"
        choices.append(Offer(Answer.MOVE_PLACE, words, stitch=question.counted, confirms=Mistake.PLACE))
    if suspects and suspects[0].mistake is Mistake.MISCOUNT:
        choices.append(Offer(Answer.COUNT_AGAIN, "count again"))
    found = next((s for s in suspects if s.mistake.is_in_fabric), None)
    for way in _in_order(ways):
        acted_on = found.mistake if found and way.way in (Way.FROG, Way.HERE) else None
        only_there = "if it is there: " if way.way is Way.FROG and found and found.alike > 1 else ""
        choices.append(Offer(_ANSWERS[way.way], f"{only_there}{_words(way)}", way, confirms=acted_on))
    return tuple(choices[:MOST_OFFERS]) or (Offer(Answer.COUNT_AGAIN, "count again"),)


def _place_may_move(question: Question, suspects: Sequence[Suspect]) -> bool:
    """Whether moving the tracker's place is worth a key: always half-way; at the end only if it is the first thought,
    or a whole repeat seems to be still unworked."""
    if not question.finished:
        return question.counted <= question.plan.leaves
    first = suspects[0].mistake if suspects else None
    return question.by < 0 and first in (Mistake.PLACE, Mistake.REPEAT_MISSED)


def _in_order(ways: Sequence[Mend]) -> list[Mend]:
    """Ripping back, one mend (in this round rather than later), carrying on."""
    here = any(way.way is Way.HERE for way in ways)
    return [way for way in ways if not (here and way.way is Way.NEXT)]


def _words(mend: Mend) -> str:
    if mend.way is Way.FROG and not mend.ripped:
        return f"open the end and work what was left out; {mend.shows}"
    if mend.way is Way.FROG:
        where = "" if not mend.rounds_back else " into the round before"
        return f"rip back {_stitches(mend.ripped)}{where}; {mend.shows}"
    if mend.way is Way.CARRY_ON:
        return f"carry on: {mend.shows}"
    return f"work {', then '.join(line.text for line in mend.rounds)}; {mend.shows}"
