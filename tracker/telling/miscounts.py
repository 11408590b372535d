"""A differing count in plain sentences: what may be wrong, a line for each choice, and what a choice came to."""

from __future__ import annotations

from tracker.project.project import Project
from tracker.session.events import CarryOn
from tracker.session.miscount.diagnosis import Diagnosis, answer, count_of
from tracker.session.miscount.offers import Answer, Offer
from tracker.session.miscount.suspects import Suspect
from tracker.session.phrases import counted_words
from tracker.session.state import Refused
from tracker.session.typed_input import number_in
from tracker.session.view import View
from tracker.telling import sentences
from tracker.telling.sentences import sentence

KEYS = tuple(choice.value for choice in Answer)
"""What may be typed to choose."""


def count(project: Project, text: str) -> list[str]:
    """The maker typed a count: a quiet yes, or what may be wrong."""
    before, counted = project.view(), number_in(text)
    after = project.do(count_of(project.pattern, project.state, counted))
    if after.unanswered is None:
        return [sentence(counted_words(before, counted))]
    return told(project)


def told(project: Project) -> list[str]:
    """What is open: a sentence, then the choices; for a piece that was put away only that it is."""
    view, diagnosis = project.view(), project.diagnosis()
    if view.unanswered is None:
        return ["No count is open."]
    if diagnosis is None:
        return [_elsewhere(project)]
    return [sentence(f"{diagnosis.label}: {diagnosis.sentence}"), *map(_choice, diagnosis.offers)]


def reminder(view: View) -> list[str]:
    """In few words, for whoever goes on without an answer."""
    return [] if view.unanswered is None else [f"{sentences.differs(view.unanswered)} Say look to hear what to do."]


def looked_into(project: Project) -> list[str]:
    """Every place where it may have gone wrong and how that looks, then the choices."""
    diagnosis = project.diagnosis()
    if diagnosis is None:
        return told(project)
    places = [sentence(f"{number}: {_place(suspect)}") for number, suspect in enumerate(diagnosis.suspects, 1)]
    return [*places, *_stuck(diagnosis), *told(project)]


def chosen(project: Project, key: str) -> list[str]:
    """What a choice came to. Raises `Refused` where it is not one of those that were told."""
    open_count, diagnosis = project.view().unanswered, project.diagnosis()
    if open_count is None:
        raise Refused("no count is open: there is nothing to choose")
    offer = diagnosis.offer(key) if diagnosis else None
    if key == Answer.CARRY_ON.value:
        return carried_on(project)
    if diagnosis is None:
        raise Refused(_elsewhere(project))
    if key == Answer.COUNT_AGAIN.value:
        return [sentence(f"count {diagnosis.label} again: say count and the number")]
    event = answer(diagnosis, offer) if offer else None
    if offer is None or event is None:
        raise Refused("that is not to be chosen now; say look to hear what is")
    project.do(event)
    return _came_to(offer.answer)


def carried_on(project: Project) -> list[str]:
    """The maker goes on with the difference, whatever that means for later rounds."""
    diagnosis = project.diagnosis()
    project.do(CarryOn())
    return [*_came_to(Answer.CARRY_ON), *(_stuck(diagnosis) if diagnosis else ())]


def _came_to(choice: Answer) -> list[str]:
    return [sentence(f"{choice.came_to}; undo brings everything back")]


def _choice(offer: Offer) -> str:
    """The key stays as it is typed."""
    return f"{offer.key}: {offer.words}."


def _place(suspect: Suspect) -> str:
    back = f", {suspect.back:,} {'stitch' if suspect.back == 1 else 'stitches'} back" if suspect.back else ""
    return f"{suspect.words}{back}; {suspect.look_for}"


def _stuck(diagnosis: Diagnosis) -> list[str]:
    if not diagnosis.stuck:
        return []
    return [sentence(f"with the difference {', '.join(diagnosis.stuck)} will not work out as written")]


def _elsewhere(project: Project) -> str:
    found = project.view().unanswered
    assert found is not None
    return f"{sentences.differs(found)} Go on with {found.piece} first to put it right, or say carry on."
