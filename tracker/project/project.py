"""One project of a maker: a pattern, the place in it, and everything done so far, kept as it happens.

`Project.do` commits an event and then gives the view; what was shown is always kept. While the disk refuses,
`trouble` says so, and what is done is written down as soon as it can be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.journal.errors import DamagedJournal, JournalTrouble
from tracker.journal.opener import UnderWay, open_to_read, projects_under_way
from tracker.journal.paths import as_text, day_begins, day_of
from tracker.journal.pattern_files import keep_over, own_folder
from tracker.journal.reader import Reader
from tracker.journal.records import Happened, Kept, ProjectRecord, Summary, Wording
from tracker.journal.retrying_writer import Keeper, Standing, last_deeds
from tracker.journal.writer import Journal
from tracker.lazy_dataclass import dataclass
from tracker.pattern.mending import mended
from tracker.pattern.model import Pattern
from tracker.pattern.pattern_file import UnreadableFile
from tracker.project import work_time as pace
from tracker.project.pattern_outline import PatternOutline, outline_in, outline_of, share_alike
from tracker.session.events import Closed, Event, Opened
from tracker.session.miscount.confirmed_causes import Learned, learned_from
from tracker.session.reducer import advance, begin
from tracker.session.replay import replayed
from tracker.session.serialization import Unreadable, state_read, state_written
from tracker.session.state import Refused, State, Work, copy_name
from tracker.session.view import View
from tracker.session.view_builder import look, rounds_done

if TYPE_CHECKING:
    from tracker.project.pattern_diff import Changed
    from tracker.session.history import Timed
    from tracker.session.miscount.diagnosis import Diagnosis

__all__ = ["Project", "UnderWay", "open_project", "projects_under_way"]


def open_project(
    pattern: Pattern, path: Path, folder: Path, clock: Callable[[], float], *, to_work: bool = True
) -> Project:
    """The project of a pattern file, with its journal in `folder`; begun if it is new.

    `clock` gives seconds since the epoch. With `to_work` false nothing is written and nobody is kept from working.
    Raises `JournalTrouble` where the journal cannot be used at all; it was left as it is then.
    """
    project = Project(pattern, path, folder, clock)
    project._open(to_work)
    return project


class Project:
    """A maker at work on a pattern. Made by `open_project`."""

    def __init__(self, pattern: Pattern, path: Path, folder: Path, clock: Callable[[], float]) -> None:
        self.printed = pattern
        """The pattern as its file has it."""
        self.path = path.resolve()
        self.folder = folder
        self._clock = clock
        self._keeper = Keeper(folder, as_text(self.path), pattern.title, clock)
        self._wording = wording_of(pattern)
        self._state = begin(pattern)
        self._number = 0
        self._begun_session = False
        self._watched: Journal | None = None
        self._today = pace.Today(day_begins)
        self._shown: tuple[State, View] | None = None
        self._moved: ProjectRecord | None = None
        self._last_diagnosis: tuple[Work, Diagnosis | None] | None = None
        self._elsewhere: tuple[str, ...] | None = None
        self.looking_on = False
        """Another window works on this project, or it was opened for looking: nothing here is kept."""
        self.changed: Changed | None = None
        """How the pattern file differs from the text that the project was worked from; None if it does not."""

    @property
    def pattern(self) -> Pattern:
        """The pattern as it is worked: with what the maker mended of it."""
        return mended(self.printed, self._state.work.corrections)

    @property
    def state(self) -> State:
        return self._state

    @property
    def trouble(self) -> str:
        """Why what is done is only in memory at the moment; "" if all is on the disk."""
        return self._keeper.trouble

    @property
    def loss(self) -> str:
        """What would be lost if the program ended now, and why; "" if all is on the disk."""
        keeper = self._keeper
        lost = [each for each in (*keeper.missing, *keeper.unwritten) if not isinstance(each.event, Opened | Closed)]
        if not lost:
            return ""
        record = keeper.record
        where = f"at {record.summary.next}" if record and record.number else "at the beginning"
        return f"{last_deeds(len(lost))} not written down ({keeper.refusal}); the disk has you {where}"

    @property
    def notices(self) -> tuple[str, ...]:
        """What happened to the journal that the maker should know: damage and what was saved, and the like."""
        return tuple(self._keeper.notices)

    @property
    def moved_from(self) -> Path | None:
        """Where this pattern was when it was worked, if this project is new and that file is gone."""
        return Path(self._moved.path) if self._moved else None

    def view(self) -> View:
        """What is to be shown now. Looking on, it follows what the other window does."""
        if self.looking_on:
            self._look_again()
        if self._shown is None or self._shown[0] is not self._state:
            self._shown = self._state, look(self.pattern, self._state)
        return self._shown[1]

    def do(self, event: Event) -> View:
        """Commit an event, then give the view. Raises `Refused`, with nothing changed, where it makes no sense."""
        self._must_work()
        if not self._begun_session:
            self._begin_session()
        self._commit(event)
        return self.view()

    def diagnosis(self) -> Diagnosis | None:
        """What to tell of a differing count that waits for an answer; None if none does about the piece in hand.

        Worked out when it is asked for and kept until something is done: no tap waits for it.
        """
        from tracker.session.miscount.diagnosis import diagnose

        work = self._state.work
        if work.unanswered is None:
            return None
        if self._last_diagnosis is None or self._last_diagnosis[0] is not work:
            self._last_diagnosis = work, diagnose(self.pattern, self._state, self._newest_first(), self.learned())
        return self._last_diagnosis[1]

    def learned(self) -> Learned:
        """What differing counts came from in all of this maker's projects, as they confirmed it."""
        if self._elsewhere is None:
            journal, record = self._source()
            try:
                self._elsewhere = journal.causes_elsewhere(record) if journal else ()
            except JournalTrouble:
                self._elsewhere = ()
        return learned_from((*self._elsewhere, *self._state.work.causes))

    def retry(self) -> bool:
        """Try to write down what is only in memory. Whether all is on the disk."""
        return self._keeper.retry(self._standing(is_stop=True)) if self._keeper.unwritten else True

    def agree_to_change(self) -> tuple[str, ...]:
        """Go on with the pattern as it is now. Tells what could not be kept."""
        if self.looking_on:
            raise Refused(_ELSEWHERE)
        if self.changed is None:
            raise Refused("the pattern is as it was: there is nothing to agree to")
        not_kept, self.changed = self.changed.not_kept, None
        self._begin_session(is_new_wording=True)
        return not_kept

    @cached_property
    def is_own(self) -> bool:
        """Whether the pattern is the maker's own: its file lies beside the journal, and can be written on here."""
        return self.path.parent == own_folder(self.folder).resolve()

    def write_on(self, piece: int, lines: Sequence[str], at: int | None = None, rhythm: str = "") -> View:
        """More lines at the end of a piece of the maker's own pattern, or from its round `at` on (see `growing`), and
        a note that tells a `rhythm`: in the file and then in the journal. What was mended of a draft is in its file
        from then on.

        Raises `Refused` where the pattern is not the maker's own or the lines would not be read back as they are,
        `DiskRefuses` if the file cannot be written; nothing is changed then.
        """
        from tracker.pattern.growing import grown, with_rhythm  # who works by a printed pattern does not wait for it
        from tracker.pattern.loader import loads

        self._must_work()
        if not self.is_own:
            raise Refused("this pattern is a file of its own: write rounds into that")
        corrections = self._state.work.corrections if self.printed.is_draft else ()
        try:
            growth = grown(self.printed, piece, lines, at, corrections)
            source = with_rhythm(growth.source, piece, rhythm) if rhythm else growth.source
            pattern = loads(source)
        except (ValueError, UnreadableFile):
            raise Refused("the file was changed meanwhile: leave it, and begin again") from None
        if len(pattern.pieces[piece].entries) != growth.entries:
            raise Refused("this would not be read as one round: begin it with its stitches")
        keep_over(self.path, source)
        self._grow_to(pattern)
        return self.view()

    def _grow_to(self, pattern: Pattern) -> None:
        """Go on in a pattern that has more rounds at the end of a piece than before."""
        from tracker.project.pattern_diff import carried_over

        state, _ = carried_over(self._state, outline_of(self.printed), pattern)
        self.printed, self._state, self._wording = pattern, state, wording_of(pattern)
        self._begin_session(is_new_wording=True)

    def take_up_moved(self) -> View:
        """Go on with the project that this pattern had where it was before; it may have `changed` since."""
        if self._moved is None or self._keeper.journal is None:
            raise Refused("there is no project of this pattern in another place")
        record = self._keeper.journal.move(self._moved, as_text(self.path))
        self._moved = None
        self._keeper.know(record)
        self._resume(self._keeper.journal, record)
        if self.changed is None:
            self._begin_session()
        return self.view()

    def work_here(self) -> bool:
        """Looking on, take over the work if the other window has let go of it. Whether that was possible."""
        if not self.looking_on:
            return True
        self._stop_watching()
        self._keeper = Keeper(self.folder, as_text(self.path), self.printed.title, self._clock)
        self._open(to_work=True)
        return not self.looking_on

    def history(self) -> list[Happened]:
        """Everything that happened, oldest first, with its time."""
        journal, record = self._source()
        entries = list(journal.entries(record)) if journal and record else []
        return [*entries, *self._keeper.missing, *self._keeper.unwritten]

    def _newest_first(self) -> Iterator[Timed]:
        """The history backwards, as far as it is asked for and can be read."""
        journal, record = self._source()
        yield from ((each.at, each.event) for each in reversed((*self._keeper.missing, *self._keeper.unwritten)))
        with suppress(JournalTrouble):
            yield from ((each.at, each.event) for each in (journal.backwards(record) if journal and record else ()))

    def days(self, pause: float = pace.PAUSE, history: Iterable[Happened] | None = None) -> tuple[pace.Day, ...]:
        """The history by days: rounds made and seconds at work. Whoever has read the `history` gives it."""
        moments = (_moment(happened) for happened in (self.history() if history is None else history))
        return pace.days(moments, day_of, pause)

    def seconds_today(self) -> float:
        """Seconds at work today, up to now, with pauses left out."""
        return self._today.seconds_until(self._clock())

    def is_paused(self) -> bool:
        """Whether nothing was done for so long that the time does not count."""
        return self._today.is_paused(self._clock())

    def close(self) -> None:
        """Stop working. Nothing needs saving; `trouble` tells if something could still not be written."""
        if not self.looking_on and self._begun_session:
            self._commit(Closed())
            self._begun_session = False
        self._stop_watching()
        self._keeper.close()

    def _open(self, to_work: bool) -> None:
        self.looking_on = not to_work or not self._keeper.open()
        if self.looking_on:
            self._keeper.close()
            self._follow()
            return
        journal, record = self._keeper.journal, self._keeper.record
        if journal is not None and record is None:
            record = self._retitled(journal)
        if journal is not None and record is not None:
            self._resume(journal, record)
        elif journal is not None:
            self._moved = self._moved_to_here(journal)
        if self.changed is not None and self.is_own and self.changed.only_adds:
            self.agree_to_change()  # the program was broken off between the file and the journal
        elif self.changed is None and self._moved is None:
            self._begin_session()

    def _resume(self, journal: Journal, record: ProjectRecord) -> None:
        resumed = resume(self.printed, journal, record)
        self._keeper.know(record, resumed.saved_at)
        self._take(resumed)
        self._look_back_over_today(journal, record)

    def _look_back_over_today(self, journal: Reader, record: ProjectRecord) -> None:
        moments = (_moment(happened) for happened in journal.since(record, day_begins(self._clock())))
        self._today = pace.Today(day_begins, moments)

    def _take(self, resumed: Resumed) -> None:
        self._state, self._number, self.changed = resumed.state, resumed.number, resumed.changed

    def _retitled(self, journal: Journal) -> ProjectRecord | None:
        """The project of this very file under another title, the last touched of several.

        It is the same work if half of its pieces are in the pattern still; else another pattern has taken the name.
        """
        same = [record for record in journal.projects() if record.path == as_text(self.path)]
        for record in sorted(same, key=lambda record: record.summary.touched_at, reverse=True):
            wording = journal.wording(record)
            names: set[str] = set()
            with suppress(ValueError):
                names = {piece.name for piece in outline_in(wording.outline).pieces} if wording else names
            if names and 2 * len(names.intersection(piece.name for piece in self.printed.pieces)) >= len(names):
                return record
        return None

    def _moved_to_here(self, journal: Journal) -> ProjectRecord | None:
        """The project of a file that is gone and was this one: its very text, or else most of its rounds."""
        records = [record for record in journal.projects() if not Path(record.path).exists()]
        same = (self.printed.title, self.printed.digest)
        exactly = next((record for record in records if (record.title, record.digest) == same), None)
        if exactly is not None or not records:
            return exactly
        shares = [(_share_kept(journal.wording(record), self.printed), record) for record in records]
        share, record = max(shares, key=lambda candidate: (candidate[0], candidate[1].summary.touched_at))
        return record if share > SAME_WORK else None

    def _must_work(self) -> None:
        if self.looking_on:
            raise Refused(_ELSEWHERE)
        if self.changed is not None:
            raise Refused("the pattern file has changed: agree to go on with it as it is now")

    def _begin_session(self, is_new_wording: bool = False) -> None:
        self._begun_session = True
        self._commit(Opened(self.printed.digest), is_new_wording)

    def _commit(self, event: Event, is_new_wording: bool = False) -> None:
        at = self._clock()
        state = advance(self.pattern, self._state, event, at)
        self._state = state
        self._number += 1
        happened = Happened(self._number, at, event, rounds_done(self.pattern, state.work))
        self._today.add(_moment(happened))
        self._keeper.write(happened, self._standing(isinstance(event, Closed), is_new_wording))

    def _standing(self, is_stop: bool = False, is_new_wording: bool = False) -> Standing:
        view = self.view()
        name = copy_name(self.pattern, self._state.work.copy)
        upcoming = view.now if view.piece_finished else f"{name}, {view.round_label}: {view.now}"
        summary = Summary(view.whole_share, upcoming, view.finished, self._state.at)
        return Standing(summary, self._wording, self._place, is_stop, is_new_wording)

    def _place(self) -> str:
        return state_written(self._state)

    def _follow(self) -> None:
        """Look at what the working window has written since."""
        if self._watched is None:
            self._watched = open_to_read(self.folder)
        journal, record = self._source()
        if journal is not None and record is not None and record.number != self._number:
            self._take(resume(self.printed, journal, record))
            self._look_back_over_today(journal, record)

    def _look_again(self) -> None:
        try:
            self._follow()
            self._keeper.trouble = ""
        except JournalTrouble as problem:
            self._keeper.trouble = str(problem)

    def _source(self) -> tuple[Journal | None, ProjectRecord | None]:
        if not self.looking_on:
            return self._keeper.journal, self._keeper.record
        journal = self._watched
        if journal is None:
            return None, None
        return journal, journal.find(as_text(self.path), self.printed.title) or self._retitled(journal)

    def _stop_watching(self) -> None:
        if self._watched is not None:
            self._watched.close()
            self._watched = None


SAME_WORK = 0.5
"""Share of the rounds that a moved file must still have: with more than half no other pattern can have as many."""


def _share_kept(wording: Wording | None, pattern: Pattern) -> float:
    try:
        return share_alike(outline_in(wording.outline), outline_of(pattern)) if wording else 0.0
    except ValueError:
        return 0.0


_ELSEWHERE = "this project is open for work in another window: here you can only look"


def _moment(happened: Happened) -> pace.Moment:
    return pace.Moment(happened.at, happened.rounds, isinstance(happened.event, Closed))


# Going on with a project: the last saved place and the few events after it, in the pattern as it is now.


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


def resume(pattern: Pattern, journal: Reader, record: ProjectRecord) -> Resumed:
    """The place as the journal has it. Raises `JournalTrouble`."""
    before = journal.wording(record)
    try:
        return _resumed(pattern, journal.kept(record), before, record)
    except Unreadable:
        pass
    try:  # the history leads to the same place, if all of it is there
        return _resumed(pattern, journal.kept(record, from_start=True), before, record)
    except (DamagedJournal, Unreadable) as problem:
        raise JournalTrouble(_UNREADABLE_PLACE) from problem


_UNREADABLE_PLACE = (
    "the saved place of this pattern cannot be read; it was left as it is: take in a history of it from another "
    "machine (rounds write FILE --history-from), or use another data folder"
)


def _resumed(pattern: Pattern, kept: Kept, before: Wording | None, record: ProjectRecord) -> Resumed:
    saved_at = kept.saved.number if kept.saved else 0
    if before is None or before == wording_of(pattern):
        return Resumed(_replayed(pattern, kept), record.number, saved_at)
    state, changed = _in_new_text(pattern, kept, before)
    return Resumed(state, record.number, saved_at, changed)


def _replayed(pattern: Pattern, kept: Kept) -> State:
    return _with_entries(pattern, _saved(kept, outline_of(pattern)) or begin(pattern), kept)


def _saved(kept: Kept, outline: PatternOutline) -> State | None:
    """The saved place, in a pattern of this outline. Raises `Unreadable`."""
    if kept.saved is None:
        return None
    state = state_read(kept.saved.state)
    if not outline.fits(state.work):
        raise Unreadable("a saved place that is not in this pattern")
    return state


def _with_entries(pattern: Pattern, state: State, kept: Kept) -> State:
    return replayed(pattern, ((happened.at, happened.event) for happened in kept.entries), state)


def _in_new_text(pattern: Pattern, kept: Kept, before: Wording) -> tuple[State, Changed]:
    from tracker.project.pattern_diff import Changed, carried_over, line_difference

    lines = line_difference(before.source, pattern.source)
    try:
        outline = outline_in(before.outline)
    except ValueError as problem:
        raise Unreadable("an outline that is not known here") from problem
    old = _reread(before)
    if old is not None:
        state, not_kept = carried_over(_replayed(old, kept), outline, pattern)
        return state, Changed(lines, not_kept)
    state, not_kept = carried_over(_saved(kept, outline) or begin(pattern), outline, pattern)
    if kept.entries:
        count = "the last entry" if len(kept.entries) == 1 else f"the last {len(kept.entries)} entries"
        not_kept = (
            *not_kept,
            f"{count} before the change are counted in the new text: look whether the place is right",
        )
    return _with_entries(pattern, state, kept), Changed(lines, not_kept)


def _reread(before: Wording) -> Pattern | None:
    """The pattern as it was, if its text still reads as it did then."""
    from tracker.pattern.loader import loads

    try:
        old = loads(before.source)
    except UnreadableFile:
        return None
    return old if outline_of(old).written() == before.outline else None
