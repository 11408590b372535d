"""The view in sentences: whole ones that make sense when they are only heard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.pattern.model import Pattern
from tracker.plural import number_of
from tracker.session.view import ColourChange, Difference, RoundAhead, View
from tracker.session.view_words import off_by, percent

if TYPE_CHECKING:
    from tracker.measure.safety import Cautions
from tracker.phrasing.hooks import hook_words
from tracker.phrasing.printable_text import sentence
from tracker.project.project import Project
from tracker.session.colour_changes import cue_words
from tracker.session.counting import parts_now, round_to_count
from tracker.session.events import CarryOn, CauseConfirmed
from tracker.session.miscount.diagnosis import Diagnosis, answer, count_in_parts, count_of
from tracker.session.miscount.offers import Answer, Offer
from tracker.session.miscount.suspects import Suspect
from tracker.session.state import Miscount, Refused
from tracker.session.typed_input import counts_in, round_numbered
from tracker.session.view_words import counted_words, part_words
from tracker.session.worked_rounds import round_at


def piece_name(view: View) -> str:
    """ "Cap", "Spot 2 of 5"."""
    return view.piece if view.copies <= 1 else f"{view.piece} {view.copy} of {view.copies}"


def place_sentence(view: View) -> str:
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
    """Where in the round, and what the hands do next; a change of colour is told with it, or as what it is."""
    if view.piece_finished:
        return sentence(view.now)
    cue = cue_words(view.next_colour, view.tap.stitches) if view.tap and view.colour_event else ""
    act_words = view.now.removesuffix(f"; {cue}") if cue else view.now
    return sentence(f"{in_round(view)}: {act_words}{_marker(view)}")


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
    if coming.in_stitches == 0 and coming.cut_first:
        return "the next colour is joined with the next round"
    if coming.in_stitches == 0:
        return "the next colour is drawn through with this stitch"
    return f"the next colour comes after {number_of(coming.in_stitches, 'stitch')}"


def ahead(view: View) -> list[str]:
    """The next rounds as they will be worked, each with what it leaves."""
    if not view.ahead:
        return [sentence(f"{piece_name(view)} has no more rounds after this one")]
    return [sentence(_coming(coming)) for coming in view.ahead]


def _coming(coming: RoundAhead) -> str:
    leaves = f", {coming.leaves} stitches" if coming.leaves is not None else ""
    return f"{'changed: ' if coming.changed else ''}{coming.text}{leaves}"


def differs(difference: Difference) -> str:
    """A count that differs."""
    return sentence(
        f"{difference.piece}, {difference.round_label} has {off_by(difference)}: "
        f"you counted {difference.counted:,}, it should be {difference.expected:,}"
    )


def changed(view: View) -> str:
    """That the round is worked otherwise than the pattern has it, in both texts; "" if it is not."""
    if not view.changed:
        return ""
    return sentence(f"this round is changed: work {view.text}; the pattern has {view.pattern_text}")


def carried(difference: Difference) -> str:
    """A difference that was carried on with."""
    return sentence(f"{difference.piece}, {difference.round_label}: {off_by(difference)}, carried on with")


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
    cautions_in_words = "; ".join(caution.text for caution in cautions.at_step(index))
    whom = " if a child will have it" if cautions.ask else ""
    return f" Mind{whom}: {cautions_in_words}" if cautions_in_words else ""


def materials(pattern: Pattern) -> list[str]:
    """What is needed before the first stitch."""
    from tracker.measure.safety import LOCAL_RULES, cautions_for

    lines = [f"Pattern: {pattern.title}"]
    lines += [f"hook: {hook_words(pattern.hook)}"] if pattern.hook else []
    lines += [f"yarn {yarn.key}: {yarn.name}" for yarn in pattern.yarns]
    lines += [f"you also need: {', '.join(pattern.notions)}"] if pattern.notions else []
    lines += [f"make {piece.make} of {piece.name}" for piece in pattern.pieces]
    lines += list(pattern.notes)
    cautions = cautions_for(pattern)
    lines += [cautions.ask] if cautions.ask else []
    lines += [f"mind: {caution.text}" for caution in (*cautions.materials, *cautions.working)]
    lines += [f"of what to mind {LOCAL_RULES}"] if cautions.materials else []
    return [sentence(part) for part in lines]


# A differing count in plain sentences: what may be wrong, a line for each choice, and what a choice came to.

KEY_OF = {
    Answer.MOVE_PLACE: "g",
    Answer.COUNT_AGAIN: "c",
    Answer.COUNT_EARLIER: "d",
    Answer.FROG: "f",
    Answer.MEND_HERE: "j",
    Answer.MEND_NEXT: "j",
    Answer.CARRY_ON: "k",
}
"""What is typed to choose."""
KEYS = tuple(dict.fromkeys(KEY_OF.values()))
CONFIRM = "z"
"""What is typed when the mistake was where the maker was sent."""


def count(project: Project, text: str) -> list[str]:
    """The maker typed a count: a quiet yes, or what may be wrong."""
    numbers, older = counts_in(text)
    pattern, before, state = project.pattern, project.view(), project.state
    index = None if older is None else round_numbered(pattern, state, older)
    if len(numbers) > 1 or state.work.part_counts:
        return _count_in_parts(project, numbers, index)
    after = project.do(count_of(pattern, state, numbers[0], index))
    work = project.state.work
    if (work.witnesses, work.corrections) != (state.work.witnesses, state.work.corrections):
        from tracker.reports.mending import after_count

        return [sentence(after_count(project, state, "say mend"))]
    if after.unanswered is None:
        return [sentence(counted_words(before, numbers[0]))]
    if index is not None and project.state.work.unanswered != _open(project, index):
        return [sentence(f"{_label(project, index)} is as it should be"), *open_count(project)]
    return open_count(project)


def _open(project: Project, index: int) -> Miscount | None:
    """The open question, if it is about this round."""
    miscount = project.state.work.unanswered
    return miscount if miscount is not None and miscount.round_index == index else None


def _count_in_parts(project: Project, numbers: tuple[int, ...], index: int | None) -> list[str]:
    """Numbers for the next parts of the round; after the last one it is known where it differs."""
    before, work = project.view(), project.state.work
    at = round_to_count(work) if index is None else index
    parts = parts_now(project.pattern, project.state, at)
    if not parts:
        raise Refused("this round is counted as a whole: say count and the number")
    if len(work.part_counts) + len(numbers) > len(parts):
        raise Refused(f"there are {len(parts)} parts: say so many numbers")
    after = project.do(count_in_parts(project.pattern, project.state, numbers, at))
    so_far = project.state.work.part_counts
    if so_far:
        return [
            sentence(part_words(parts, so_far)),
            sentence(f"now {parts[len(so_far)].name}: say count and the number"),
        ]
    if after.unanswered is None:
        return [sentence(counted_words(before, sum((*work.part_counts, *numbers))))]
    return open_count(project)


def _label(project: Project, index: int) -> str:
    copy = project.state.work.in_hand
    return round_at(project.pattern, project.state.work, copy.piece, copy.number, index).label


def open_count(project: Project) -> list[str]:
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
        return open_count(project)
    places = [sentence(f"{number}: {_place(suspect)}") for number, suspect in enumerate(diagnosis.suspects, 1)]
    whole = [sentence(f"{KEY_OF[offer.answer]} is {offer.whole}") for offer in diagnosis.offers if offer.whole]
    return [*places, *_stuck(diagnosis), *whole, *open_count(project)]


def chosen(project: Project, key: str) -> list[str]:
    """What a choice came to. Raises `Refused` where it is not one of those that were told."""
    difference, diagnosis = project.view().unanswered, project.diagnosis()
    if difference is None:
        raise Refused("no count is open: there is nothing to choose")
    if key == KEY_OF[Answer.CARRY_ON]:
        return carried_on(project)
    if diagnosis is None:
        raise Refused(_elsewhere(project))
    if key == KEY_OF[Answer.COUNT_AGAIN]:
        return [sentence(_how_to_count(diagnosis))]
    offer = next((each for each in diagnosis.offers if KEY_OF[each.answer] == key), None)
    if offer is None:
        raise Refused("that is not to be chosen now; say look to hear what is")
    if offer.answer is Answer.COUNT_EARLIER and offer.to is not None:
        label = _label(project, diagnosis.miscount.round_index + offer.to[0])
        return [sentence(f"say count, the number, and in {label}: count 24 in {label}")]
    event = answer(project.pattern, diagnosis, offer)
    if event is None:
        raise Refused("that is not to be chosen now; say look to hear what is")
    project.do(event)
    return [*_came_to(offer.answer), *_was_it_there(project)]


def _how_to_count(diagnosis: Diagnosis) -> str:
    if not diagnosis.parts:
        return f"count {diagnosis.label} again: say count and the number"
    numbers = " ".join(str(part.expected) for part in diagnosis.parts)
    return f"say count and a number for each part, from the first: count {numbers} would be right"


def _was_it_there(project: Project) -> list[str]:
    """Only what the maker says was there is learned from."""
    return [f"Was it there? Say {CONFIRM} if it was."] if project.state.work.supposed else []


def confirmed(project: Project) -> list[str]:
    """The mistake was where the maker was sent."""
    supposed = project.state.work.supposed
    if not supposed:
        raise Refused("nothing is asked: there is nothing to confirm")
    project.do(CauseConfirmed(supposed[0]))
    return ["Noted: it will be thought of sooner."]


def carried_on(project: Project) -> list[str]:
    """The maker goes on with the difference, whatever that means for later rounds."""
    diagnosis = project.diagnosis()
    project.do(CarryOn())
    return [*_came_to(Answer.CARRY_ON), *(_stuck(diagnosis) if diagnosis else ())]


def _came_to(choice: Answer) -> list[str]:
    return [sentence(f"{choice.came_to}; undo brings everything back")]


def _choice(offer: Offer) -> str:
    """The key stays as it is typed."""
    return f"{KEY_OF[offer.answer]}: {offer.words}."


def _place(suspect: Suspect) -> str:
    is_told = suspect.back and suspect.is_one_place
    back = f", {number_of(suspect.back, 'stitch')} back" if is_told else ""
    return f"{suspect.words}{' ' if suspect.words.endswith('?') else f'{back}; '}{suspect.look_for}"


def _stuck(diagnosis: Diagnosis) -> list[str]:
    if not diagnosis.stuck:
        return []
    return [sentence(f"with the difference {', '.join(diagnosis.stuck)} will not work out as written")]


def _elsewhere(project: Project) -> str:
    difference = project.view().unanswered
    assert difference is not None
    return f"{differs(difference)} Go on with {difference.piece} first to put it right, or say carry on."
