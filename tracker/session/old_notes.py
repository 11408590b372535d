"""Facts that versions 1 and 2 of the journal kept as notes of fixed words: who it is for, and what a ball weighs.

Such a note becomes the event that it tells of, once, when it is read; what is on the disk stays. Since version 3
these are events, and a note of the same words is the maker's own. The sentences here are those of the old journals
and are never changed.
"""

from __future__ import annotations

import re
from dataclasses import replace

from tracker.session.events import HEAVIEST, AudienceChosen, BallWeighed, Note
from tracker.session.state import BallWeight, Work

_AUDIENCES = {
    "this is for a child under 3": "under 3",
    "this is for an older child": "older child",
    "this is for a grown-up": "grown-up",
}
"""By the note that told it: the value of an `Audience`."""

_WEIGHT = re.compile(r"the ball(?: of (\S+))? weighs (\d{1,6}(?:[.,]\d{1,3})?) g")


def event_in_note(text: str) -> Note | AudienceChosen | BallWeighed:
    """What a note of an old journal tells."""
    if text in _AUDIENCES:
        return AudienceChosen(_AUDIENCES[text])
    weight = _WEIGHT.fullmatch(text)
    grams = float(weight[2].replace(",", ".")) if weight else 0.0
    return BallWeighed(weight[1] or "", grams) if weight and 0 < grams <= HEAVIEST else Note(text)


def without_old_notes(work: Work) -> Work:
    """The work of an old journal with its facts where they stand today."""
    notes = []
    for note in work.notes:
        match event_in_note(note.text):
            case AudienceChosen(audience):
                work = replace(work, audience=audience)
            case BallWeighed(yarn, grams):
                work = replace(work, weights=(*work.weights, BallWeight(yarn, grams, note.at)))
            case _:
                notes.append(note)
    return replace(work, notes=tuple(notes)) if len(notes) < len(work.notes) else work
