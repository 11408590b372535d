"""Going on with a project: the last saved place and the few events after it, in the pattern as it is now."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from tracker.journal.errors import JournalTrouble
from tracker.journal.reader import Reader
from tracker.journal.records import Kept, Known, Wording
from tracker.lazy_dataclass import dataclass
from tracker.making.outline import outline_in, outline_of
from tracker.pattern import loader
from tracker.pattern.model import Pattern
from tracker.session.reducer import advance, begin
from tracker.session.serialization import Unreadable, state_in
from tracker.session.state import Refused, State

if TYPE_CHECKING:
    from tracker.making.changed import Changed


@dataclass(frozen=True, slots=True)
class Resumed:
    """Where a project stands.

    `number` is that of its last entry, `saved_at` that of the entry of its last saved place. If the pattern
    `changed`, the state is already carried over to the new one, but nothing is written before the maker agrees.
    """

    state: State
    number: int = 0
    saved_at: int = 0
    changed: Changed | None = None


def wording_of(pattern: Pattern) -> Wording:
    """The pattern's text, to be kept beside the places in it."""
    return Wording(pattern.digest, pattern.source, outline_of(pattern).written())


def resume(pattern: Pattern, journal: Reader, known: Known) -> Resumed:
    """The place as the journal has it. Raises `JournalTrouble`."""
    kept, before = journal.kept(known), journal.wording(known)
    saved_at = kept.saved.number if kept.saved else 0
    if before is None or before == wording_of(pattern):
        return Resumed(_replayed(pattern, kept), known.number, saved_at)
    state, changed = _in_new_text(pattern, kept, before)
    return Resumed(state, known.number, saved_at, changed)


def _replayed(pattern: Pattern, kept: Kept) -> State:
    return _with_entries(pattern, _saved(kept) or begin(pattern), kept)


def _saved(kept: Kept) -> State | None:
    if kept.saved is None:
        return None
    try:
        return state_in(json.loads(kept.saved.state))
    except (ValueError, Unreadable) as problem:
        raise JournalTrouble("the saved place was written by another version of this program") from problem


def _with_entries(pattern: Pattern, state: State, kept: Kept) -> State:
    """The state after the entries. One that was taken then and makes no sense now changes nothing."""
    for happened in kept.entries:
        try:
            state = advance(pattern, state, happened.event, happened.at)
        except Refused:
            continue
    return state


def _in_new_text(pattern: Pattern, kept: Kept, before: Wording) -> tuple[State, Changed]:
    from tracker.making.changed import Changed, carried_over, line_difference

    lines = line_difference(before.source, pattern.source)
    outline = outline_in(before.outline)
    old = _reread(before)
    if old is not None:
        state, not_kept = carried_over(_replayed(old, kept), outline, pattern)
        return state, Changed(lines, not_kept)
    state, not_kept = carried_over(_saved(kept) or begin(pattern), outline, pattern)
    if kept.entries:
        count = "the last entry" if len(kept.entries) == 1 else f"the last {len(kept.entries)} entries"
        not_kept = (
            *not_kept,
            f"{count} before the change are counted in the new text: look whether the place is right",
        )
    return _with_entries(pattern, state, kept), Changed(lines, not_kept)


def _reread(before: Wording) -> Pattern | None:
    """The pattern as it was, if its text still reads as it did then."""
    try:
        old = loader.loads(before.source)
    except loader.Unreadable:
        return None
    return old if outline_of(old).written() == before.outline else None
