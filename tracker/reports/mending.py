"""Words about printed lines in doubt that both front ends say."""

from __future__ import annotations

from tracker.journal.errors import JournalTrouble
from tracker.pattern.growing import opens_at
from tracker.pattern.misprints.remedies import Remedy, remedies
from tracker.project.project import Project
from tracker.session.counting import round_to_count
from tracker.session.events import Event, Part, RoundCorrected, Together
from tracker.session.state import Refused, State
from tracker.session.worked_rounds import round_at


def event_of(piece_index: int, choice: Remedy) -> Event:
    """What the maker does who takes a choice: one correction, or two together where lines were swapped."""
    parts: tuple[Part, ...] = tuple(RoundCorrected(piece_index, index, text) for index, text in choice.lines)
    return parts[0] if len(parts) == 1 else Together(parts)


def words_of(choice: Remedy) -> str:
    """The lines as they then read, on one row."""
    return "; ".join(" ".join(text.split()) for _, text in choice.lines)


def after_count(project: Project, before: State, mend: str) -> str:
    """What a count says of a round in doubt, which it is held against no printed total of; "" if it says nothing.

    `before` is the state before the count, `mend` what to press or say to mend a line.
    """
    work = project.state.work
    if work.corrections != before.work.corrections:
        return _by_eye(project, before)
    if work.witnesses == before.work.witnesses or not work.witnesses:
        return ""
    witness = work.witnesses[-1]
    item = round_at(project.pattern, project.state.work, witness.copy.piece, witness.copy.number, witness.round_index)
    agreeing = [
        choice
        for choice in remedies(project.pattern, witness.copy.piece, witness.round_index, witness.counted)
        if choice.leaves == witness.counted
    ]
    if agreeing:
        return f"{witness.counted:,} agrees with: {words_of(agreeing[0])}; {mend} to keep that"
    if item.plan is not None and item.leaves == witness.counted:
        return f"{witness.counted:,} is what the words of {item.label} make, its total differs; {mend} to settle it"
    return f"{item.label} is in doubt, and {witness.counted:,} fits no reading of it; {mend} to put it right"


def write_count(project: Project, counted: int) -> str:
    """Write down what a round of an open end leaves, the one that a count is about; what was done, "" if none is."""
    work = project.state.work
    copy, index = work.in_hand, round_to_count(work)
    piece = project.printed.pieces[copy.piece]
    opened = opens_at(piece)
    if opened is None or not opened <= index < len(piece.rounds):
        return ""
    label = piece.rounds[index].label
    try:
        project.write_on(copy.piece, (f"{label}: as you like ({counted})",), index)
    except (JournalTrouble, Refused):
        return ""
    return f"{counted:,} written down for {label}"


def _by_eye(project: Project, before: State) -> str:
    old = set(before.work.corrections)
    fresh = next((own for own in project.state.work.corrections if own not in old), None)
    if fresh is None or fresh.leaves is None:
        return ""
    label = project.pattern.pieces[fresh.piece].rounds[fresh.round_index].label
    return f"{label} leaves {fresh.leaves:,}: what lies behind it goes on from there"
