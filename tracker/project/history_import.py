"""A history from another machine taken in for a pattern, if all of it is what this program would have written.

Histories are sent from hand to hand, so nothing in one is believed: the journal looks at types, ranges and links, and
this module at what they mean. Anything that does not hold together is refused, and nothing is kept then.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from tracker.journal.errors import JournalTrouble
from tracker.journal.transfer import History, NotWhole, adopt_history, read_history
from tracker.normalize import clean
from tracker.pattern.model import Pattern
from tracker.project.pattern_outline import PatternOutline, outline_in
from tracker.session.serialization import Unreadable, state_read
from tracker.session.state import State, Work


def take_history(lines: Iterable[str], pattern: Pattern, path: Path, folder: Path, clock: Callable[[], float]) -> str:
    """Take a history in for the pattern file at `path`. A sentence that tells what was taken.

    Raises `JournalTrouble`, with nothing taken, if the file is not whole, is about another pattern, or if the journal
    here and the file went on separately.
    """
    history = read_history(lines)
    title = clean(history.record.title)
    if history.record.title != pattern.title:
        raise JournalTrouble(f"this is the history of {title}, and not of {pattern.title}: nothing was taken")
    try:
        _refuse_unfit(history)
    except (Unreadable, ValueError) as problem:
        raise NotWhole from problem
    return adopt_history(history, path, folder, clock)


def _refuse_unfit(history: History) -> None:
    """Raise ValueError where a text steers a terminal, or the saved place is none in the pattern it belongs to."""
    _refuse_unclean(history.record.summary.next)
    outlines = {}
    for wording in history.wordings:
        outline = outlines[wording.digest] = outline_in(wording.outline)
        labels = (item.label for piece in outline.pieces for item in piece.rounds)
        _refuse_unclean(wording.source, *(piece.name for piece in outline.pieces), *labels, *outline.steps)
    if history.record.digest not in outlines:
        raise ValueError("the pattern text is missing")
    if history.saved is not None:
        _refuse_place(state_read(history.saved.state), outlines[history.saved.digest])


def _refuse_place(state: State, outline: PatternOutline) -> None:
    for work in (state.work, *state.past):
        if not outline.fits(work):
            raise ValueError("a place that is not in this pattern")
        _refuse_unclean(*_texts_of(work))


def _texts_of(work: Work) -> tuple[str, ...]:
    notes = (note.text for note in work.notes)
    lines = (*(own.text for own in work.own_rounds), *(line.text for line in work.corrections))
    return (*notes, *lines, *(weight.yarn for weight in work.weights), work.audience)


def _refuse_unclean(*texts: str) -> None:
    for text in texts:
        if clean(text) != text:
            raise ValueError("characters that steer a terminal")
