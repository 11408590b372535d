"""A differing count at the working screen: what is told of it, and which keys answer.

Keys do not change their meaning here: counting, ripping back and carrying on have the keys that they always have, and
what only an answer can do has keys that nothing else has. A tap is never in the way: whoever only wants to go on can.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tracker.project.project import Project
from tracker.session.counting import parts_now
from tracker.session.events import CauseConfirmed, Event
from tracker.session.miscount.diagnosis import Diagnosis, answer, stands_at_count
from tracker.session.miscount.offers import Answer, Offer
from tracker.session.state import State
from tracker.session.view import Difference
from tracker.session.view_words import part_words
from tracker.tui.commands import Command, Keys
from tracker.tui.render.scene import Choice

_COMMANDS = {
    Answer.COUNT_AGAIN: Command.COUNT,
    Answer.FROG: Command.FROG,
    Answer.CARRY_ON: Command.CARRY_ON,
}
"""Answers that are what a key does anyway."""

_OWN_KEYS = {
    Answer.MOVE_PLACE: "g",
    Answer.COUNT_EARLIER: "d",
    Answer.MEND_HERE: "j",
    Answer.MEND_NEXT: "j",
}
"""Go there, down to an earlier round, adjust the round."""

CONFIRM = "z"
"""It was there."""


@dataclass(frozen=True, slots=True)
class CountQuestion:
    """What is told, at most three choices, and what each key chooses."""

    words: str
    choices: tuple[Choice, ...]
    offers: Mapping[str, Offer] = field(default_factory=dict)


def written_down(project: Project, counted: int) -> str:
    """The count of a round of an open end is what that round leaves from now on; "" for any other round."""
    from tracker.reports.mending import write_count

    return write_count(project, counted)


def in_doubt_words(project: Project, before: State, keys: Keys) -> str:
    """What the count that was given since `before` says of a printed line that is in doubt; "" if none is."""
    work, old = project.state.work, before.work
    if (work.witnesses, work.corrections) == (old.witnesses, old.corrections):
        return ""
    from tracker.reports.mending import after_count

    return after_count(project, before, keys.named(Command.MEND))


def question_of(project: Project, keys: Keys) -> CountQuestion | None:
    """What the screen tells of the count that waits for an answer; None if none does.

    Once the maker has gone on, only that it waits is told: looking into it again is one key, and no tap waits for it.
    A count of an older round is answered where it is told, since it was asked for there.
    """
    difference = project.view().unanswered
    if difference is None:
        return None
    diagnosis = project.diagnosis() if _is_looked_into(project) else None
    if diagnosis is None:
        return _in_short(project, difference, keys)
    offers = keyed(diagnosis, keys)
    choices = tuple(Choice(key, offer.words) for key, offer in offers.items())
    return CountQuestion(f"{diagnosis.label}: {diagnosis.sentence}", choices, offers)


def _is_looked_into(project: Project) -> bool:
    """Whether nothing was made since the count, or since an older round was counted because of it."""
    if stands_at_count(project.pattern, project.state):
        return True
    past, work = project.state.past, project.state.work
    return bool(past) and past[-1].unanswered != work.unanswered and past[-1].place == work.place


def keyed(diagnosis: Diagnosis, keys: Keys) -> dict[str, Offer]:
    """The choices by the keys that take them, in their order.

    One whose own key does something else on this keyboard takes the capital; one whose capital is taken too has no
    key: its row on the page can be chosen still.
    """
    offer_by_key = {}
    for offer in diagnosis.offers:
        key = _key(offer.answer, keys)
        if key:
            offer_by_key[key] = offer
    return offer_by_key


def _key(choice: Answer, keys: Keys) -> str:
    if choice in _COMMANDS:
        return next(iter(keys.of(_COMMANDS[choice])), "")
    key = _OWN_KEYS[choice]
    return next((name for name in (key, key.upper()) if keys.command(name) is None), "")


def event_of(project: Project, offer: Offer) -> Event | None:
    """What a choice does now; None if it only asks for another count."""
    diagnosis = project.diagnosis()
    return answer(project.pattern, diagnosis, offer) if diagnosis else None


def round_to_be_counted(project: Project, offer: Offer) -> int | None:
    """Which round a choice that asks for a count is about, as its index."""
    diagnosis = project.diagnosis()
    if diagnosis is None:
        return None
    return diagnosis.miscount.round_index + (offer.to[0] if offer.to else 0)


def part_to_be_counted(project: Project, index: int) -> str:
    """What is asked while a round is counted by parts: "repeat 2 of 6"; "" when it is counted as a whole."""
    parts = parts_now(project.pattern, project.state, index)
    number = len(project.state.work.part_counts)
    return f"{parts[number].name} of {len(parts)}" if number < len(parts) else ""


def parts_so_far(project: Project, index: int) -> str:
    """How the part that was counted last compares."""
    counted = project.state.work.part_counts
    parts = parts_now(project.pattern, project.state, index)
    return part_words(parts[len(counted) - 1 :], counted[-1:]) if counted and parts else ""


def answer_words(project: Project, choice: Answer) -> str:
    """What is said when a choice was taken; for carrying on, also what it will come to."""
    diagnosis = project.diagnosis()
    stuck = diagnosis.stuck if diagnosis and choice is Answer.CARRY_ON else ()
    if stuck:
        return f"{choice.came_to}; {', '.join(stuck)} will not work out"
    asks = f"; was it there? {CONFIRM}: yes" if choice in (Answer.FROG, Answer.MEND_HERE) else ""
    return f"{choice.came_to}{asks or '; undo brings everything back'}"


def confirmation(project: Project, key: str, keys: Keys) -> Event | None:
    """The event of a key that says that the mistake was where the maker was sent; None for any other key."""
    supposed = project.state.work.supposed
    if key != CONFIRM or not supposed or keys.command(key) is not None:
        return None
    return CauseConfirmed(supposed[0])


def _in_short(project: Project, difference: Difference, keys: Keys) -> CountQuestion:
    counts = f"you counted {difference.counted:,}, it should be {difference.expected:,}"
    words = f"{difference.piece}, {difference.round_label}: {counts}"
    carry_on = Choice(keys.named(Command.CARRY_ON), "carry on, knowing it")
    work = project.state.work
    if work.unanswered is not None and work.unanswered.copy != work.in_hand:
        back = Choice(keys.named(Command.PIECES), f"go on with {difference.piece} to put it right")
        return CountQuestion(words, (back, carry_on))
    return CountQuestion(words, (Choice(keys.named(Command.LOOK_INTO), "see where, and what to do"), carry_on))
