"""The view in sentences: whole ones that make sense when they are only heard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.pattern.model import Pattern
from tracker.session.colour_changes import ColourChange
from tracker.session.phrases import off_by, percent
from tracker.session.view import Difference, RoundAhead, View

if TYPE_CHECKING:
    from tracker.measure.safety import Cautions
from tracker.phrasing.sentences import sentence
from tracker.project.project import Project
from tracker.session.events import CarryOn
from tracker.session.miscount.diagnosis import Diagnosis, answer, count_of
from tracker.session.miscount.offers import Answer, Offer
from tracker.session.miscount.suspects import Suspect
from tracker.session.phrases import counted_words
from tracker.session.state import Refused
from tracker.session.typed_input import number_in


def piece_name(view: View) -> str:
    """ "Cap", "Spot 2 of 5"."""
    return view.piece if view.copies <= 1 else f"{view.piece} {view.copy} of {view.copies}"


def here(view: View) -> str:
    """Where the maker is, with the piece, and what the hands do next."""
    if view.finished:
        return sentence(f"{view.title}: everything is made")
    if view.piece_finished:
        return sentence(f"{piece_name(view)}: {view.now}")
    return sentence(f"{piece_name(view)}, {in_round(view)}: {view.now}{_marker(view)}")


def in_round(view: View) -> str:
    """ "Rnd 3, stitch 3 of 18, repeat 2 of 6"."""
    parts = [
        view.round_label,
        f"stitch {view.stitch}" + (f" of {view.expected}" if view.expected is not None else ""),
    ]
    if view.repeat is not None and view.repeats is not None:
        parts.append(f"repeat {view.repeat} of {view.repeats}")
    return ", ".join(parts)


def now(view: View) -> str:
    """Where in the round, and what the hands do next."""
    if view.piece_finished:
        return sentence(view.now)
    return sentence(f"{in_round(view)}: {view.now}{_marker(view)}")


def _marker(view: View) -> str:
    """What is to be done with the work before a round begins."""
    turned = f"; turned: {view.side} faces you" if view.side else ""
    return turned + ("; move the marker to the first stitch" if view.moves_marker else "")


def doubt(view: View) -> str:
    """What does not come out in the round as it is written, or ""."""
    return sentence(f"as written, {view.doubt}; say mend to put it right") if view.doubt else ""


def change(view: View) -> str:
    """The next change of colour, or ""."""
    coming = view.next_colour
    if coming is None:
        return ""
    return sentence(f"{_when(coming)}: {coming.name}")


def _when(coming: ColourChange) -> str:
    if coming.in_stitches == 0:
        return "the next colour is drawn through with this stitch"
    stitches = "1 stitch" if coming.in_stitches == 1 else f"{coming.in_stitches} stitches"
    return f"the next colour comes after {stitches}"


def ahead(view: View) -> list[str]:
    """The next rounds as they will be worked, each with what it leaves."""
    if not view.ahead:
        return [sentence(f"{piece_name(view)} has no more rounds after this one")]
    return [sentence(_coming(coming)) for coming in view.ahead]


def _coming(coming: RoundAhead) -> str:
    leaves = f", {coming.leaves} stitches" if coming.leaves is not None else ""
    return f"{'changed: ' if coming.changed else ''}{coming.text}{leaves}"


def differs(found: Difference) -> str:
    """A count that differs."""
    return sentence(
        f"{found.piece}, {found.round_label} has {off_by(found)}: you counted {found.counted:,}, it should be "
        f"{found.expected:,}"
    )


def changed(view: View) -> str:
    """That the round is worked otherwise than the pattern has it, in both texts; "" if it is not."""
    if not view.changed:
        return ""
    return sentence(f"this round is changed: work {view.text}; the pattern has {view.pattern_text}")


def carried(found: Difference) -> str:
    """A difference that was carried on with."""
    return sentence(f"{found.piece}, {found.round_label}: {off_by(found)}, carried on with")


def share(view: View) -> str:
    return sentence(
        f"{percent(view.piece_share)} of {piece_name(view)} and {percent(view.whole_share)} of everything is made"
    )


def making_up(view: View, cautions: Cautions) -> list[str]:
    """The checklist, numbered from 1, with what to mind at each step."""
    if not view.making_up:
        return ["There is no making-up in this pattern."]
    return [
        sentence(f"step {number}, {'done' if done else 'not done'}: {step}{_minded(cautions, number - 1)}")
        for number, (step, done) in enumerate(view.making_up, 1)
    ]


def _minded(cautions: Cautions, index: int) -> str:
    """What to mind at a step, behind it. Where nobody said who it is for, the maker is to judge."""
    told = "; ".join(caution.text for caution in cautions.at_step(index))
    whom = " if a child will have it" if cautions.ask else ""
    return f" Mind{whom}: {told}" if told else ""


def materials(pattern: Pattern) -> list[str]:
    """What is needed before the first stitch."""
    from tracker.measure.safety import LOCAL_RULES, cautions_for

    told = [f"Pattern: {pattern.title}"]
    told += [f"hook: {pattern.hook}"] if pattern.hook else []
    told += [f"yarn {yarn.key}: {yarn.name}" for yarn in pattern.yarns]
    told += [f"you also need: {', '.join(pattern.notions)}"] if pattern.notions else []
    told += [f"make {piece.make} of {piece.name}" for piece in pattern.pieces]
    told += list(pattern.notes)
    cautions = cautions_for(pattern)
    told += [cautions.ask] if cautions.ask else []
    told += [f"mind: {caution.text}" for caution in (*cautions.materials, *cautions.working)]
    told += [f"of what to mind {LOCAL_RULES}"] if cautions.materials else []
    return [sentence(part) for part in told]


# A differing count in plain sentences: what may be wrong, a line for each choice, and what a choice came to.

KEYS = tuple(choice.value for choice in Answer)
"""What may be typed to choose."""


def count(project: Project, text: str) -> list[str]:
    """The maker typed a count: a quiet yes, or what may be wrong."""
    before, state, counted = project.view(), project.state, number_in(text)
    after = project.do(count_of(project.pattern, project.state, counted))
    work = project.state.work
    if (work.witnesses, work.corrections) != (state.work.witnesses, state.work.corrections):
        from tracker.reports.mending import after_count

        return [sentence(after_count(project, state, "say mend"))]
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
    return [] if view.unanswered is None else [f"{differs(view.unanswered)} Say look to hear what to do."]


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
    return f"{differs(found)} Go on with {found.piece} first to put it right, or say carry on."
