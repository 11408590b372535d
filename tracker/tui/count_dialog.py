"""A differing count at the working screen: what is told of it, and which keys answer.

A key that answers comes before its usual meaning, but never before a tap: whoever only wants to go on can.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tracker.project.project import Project
from tracker.session.events import Event
from tracker.session.miscount.diagnosis import Diagnosis, answer, stands_at_count
from tracker.session.miscount.offers import Answer, Offer
from tracker.session.view import Difference
from tracker.tui.commands import Command, Keys
from tracker.tui.render.scene import Choice

_NEVER = (Command.MAIN, Command.STITCH, Command.ROUND, Command.UNDO)
"""Whatever is asked, these keys go on doing what they do."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is told, at most three choices, and what each key chooses."""

    told: str
    choices: tuple[Choice, ...]
    offers: Mapping[str, Offer] = field(default_factory=dict)


def asked_of(project: Project, keys: Keys) -> Asked | None:
    """What the screen tells of the count that waits for an answer; None if none does.

    Once the maker has gone on, only that it waits is told: looking into it again is one key, and no tap waits for it.
    """
    found = project.view().unanswered
    if found is None:
        return None
    diagnosis = project.diagnosis() if stands_at_count(project.pattern, project.state) else None
    if diagnosis is None:
        return _in_short(project, found, keys)
    offers = keyed(diagnosis, keys)
    choices = tuple(Choice(key, offer.words) for key, offer in offers.items())
    return Asked(f"{diagnosis.label}: {diagnosis.sentence}", choices, offers)


def keyed(diagnosis: Diagnosis, keys: Keys) -> dict[str, Offer]:
    """The choices by the keys that take them; one whose key is a tap on this keyboard takes the capital.

    One whose capital is a tap as well has no key: its row on the page can be chosen still.
    """
    found = {_key(offer.answer, keys): offer for offer in diagnosis.offers}
    return {key: offer for key, offer in found.items() if keys.command(key) not in _NEVER}


def event_of(project: Project, offer: Offer) -> Event | None:
    """What a choice does now; None if it only asks for another count."""
    diagnosis = project.diagnosis()
    return answer(diagnosis, offer) if diagnosis else None


def said_of(project: Project, choice: Answer) -> str:
    """What is said when a choice was taken; for carrying on, also what it will come to."""
    diagnosis = project.diagnosis()
    stuck = diagnosis.stuck if diagnosis and choice is Answer.CARRY_ON else ()
    if stuck:
        return f"{choice.came_to}; {', '.join(stuck)} will not work out as written"
    return f"{choice.came_to}; undo brings everything back"


def _key(choice: Answer, keys: Keys) -> str:
    return choice.value.upper() if keys.command(choice.value) in _NEVER else choice.value


def _in_short(project: Project, found: Difference, keys: Keys) -> Asked:
    told = f"{found.piece}, {found.round_label}: you counted {found.counted:,}, it should be {found.expected:,}"
    carry_on = Choice(keys.named(Command.CARRY_ON), "carry on, knowing it")
    work = project.state.work
    if work.unanswered is not None and work.unanswered.copy != work.in_hand:
        back = Choice(keys.named(Command.PIECES), f"go on with {found.piece} to put it right")
        return Asked(told, (back, carry_on))
    return Asked(told, (Choice(keys.named(Command.LOOK_INTO), "see where, and what to do"), carry_on))
