"""The view in sentences: whole ones that make sense when they are only heard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.pattern.model import Pattern
from tracker.session.phrases import off_by, percent
from tracker.session.view import ColourChange, Difference, RoundAhead, View

if TYPE_CHECKING:
    from tracker.measure.safety import Cautions


def sentence(text: str) -> str:
    """The text with a capital at its start, a stop at its end, and on one line."""
    told = " ".join(text.split())
    if not told:
        return ""
    return told[0].upper() + told[1:] + ("" if told[-1] in ".!?" else ".")


def clean(text: str) -> str:
    """The text without anything that could steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)


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
    return sentence(f"as written, {view.doubt}") if view.doubt else ""


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
