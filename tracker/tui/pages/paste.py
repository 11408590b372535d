"""A page pasted inside the program: its lines, what was understood of each, and what the maker makes of them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from textual import events

from tracker.diagnostics import Severity
from tracker.journal.errors import DiskRefuses, JournalTrouble
from tracker.journal.pattern_files import keep_new, keep_page, page_kept, put_page_aside
from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.misprints.finder import doubtful_lines
from tracker.pattern.model import Correction, Pattern, Round
from tracker.pattern.pattern_file import MAX_FILE, UnreadableFile
from tracker.pattern.text_import.draft_parts import Fate
from tracker.pattern.text_import.page_sheet import (
    Decisions,
    Sheet,
    SheetLine,
    decisions_in,
    sheet_of,
    with_corrections,
)
from tracker.pattern.text_import.page_terms import TermsUnclear
from tracker.plural import number_of
from tracker.project.project import Project
from tracker.session.correcting import corrected
from tracker.session.events import Event, Note, RoundCorrected, RoundLeaves, Together
from tracker.session.reducer import begin
from tracker.session.state import Refused, State
from tracker.tui.pages.mend import MendPage
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row, in_sight
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Bit, Look
from tracker.tui.render.text_field import TextEntry, fresh_entry, inserted, paint_entry, typed

BESIDE = 80
"""Columns from which on what was understood stands beside a line and not under it."""

EMPTY = (Choice("enter", "read that file"), Choice("esc", "back"))
TERMS = (Choice("1", "US terms"), Choice("2", "UK terms"), Choice("q", "back"))
TYPING = (Choice("enter", "take it"), Choice("esc", "put it away"))
KEEP, LOOK_AT = Choice("enter", "keep and begin"), "d"
OTHERS = (
    Choice("space", "mend the line"),
    Choice("r", "a round"),
    Choice("n", "a note"),
    Choice("h", "name of a piece"),
    Choice("t", "title"),
    Choice("u", "undo"),
    Choice("q", "back"),
)
MOVES = {"r": "round", "n": "note"}


@dataclass(frozen=True, slots=True)
class Pasted:
    """A page that was kept as a pattern file, and the lines of it that were mended before."""

    path: Path
    corrections: tuple[Correction, ...] = ()


@dataclass(frozen=True, slots=True)
class Naming:
    """A name being typed: of the page (unit -1), or of the piece that is remembered by a unit."""

    unit: int
    entry: TextEntry


class PastePage(Page):
    """Ends with what was `Pasted`. Whatever is decided is kept until then, also where the program is killed."""

    def __init__(self, folder: Path, palette: Palette, text: str = "") -> None:
        super().__init__("a page", palette, EMPTY)
        self._folder = folder
        self._text = ""
        self._decided = Decisions()
        self._before: list[Decisions] = []
        """What was decided before each decision since the page was opened, for undo."""
        self._stopped = -1
        """The unit to which the way through what is to look at came last."""
        self._sheet: Sheet | None = None
        self._file: TextEntry | None = fresh_entry("name of a file:")
        self._naming: Naming | None = None
        self._refused = ""
        self._was_here = False
        self._shown: tuple[Sheet, int, tuple[Row, ...]] | None = None
        self._looked: tuple[Sheet, list[SheetLine]] | None = None
        if text:
            self._read(text, Decisions())
        else:
            self._go_on()

    @property
    def palette(self) -> Palette:
        return self._palette

    @property
    def pattern(self) -> Pattern:
        """The pattern with what was mended, for the page where lines are mended."""
        assert self._sheet is not None
        return self._sheet.pattern

    # What is shown

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._rows())

    def _rows(self) -> Iterator[Row]:
        if self._refused and self._sheet is None:
            yield Row(f"! {self._refused}", look=Look.WARNING)
        if self._sheet is not None:
            yield from self._understood(self._sheet)
        elif self._text:
            yield Row("the words do not tell US from UK terms: which are they?", look=Look.STRONG)
            yield from (Row(part) for part in self._text.split("\n")[:40])
        elif self._file is not None:
            yield Row("paste a page here, or type where it is", look=Look.STRONG)
            yield Row("", drawn=paint_entry(self._file, self.size.width))

    def _understood(self, sheet: Sheet) -> Iterator[Row]:
        if self._was_here:
            again = "! this page was here when the program ended: go on with it, or leave it with q"
            yield Row(again, look=Look.WARNING)
        if self._naming is not None:
            yield Row("", drawn=paint_entry(self._naming.entry, self.size.width))
        else:
            yield Row(sheet.draft.title or "without a title", look=Look.STRONG)
        rounds = sum(bool(line.rounds) for line in sheet.lines)
        pieces = number_of(len(sheet.draft.pieces), "piece")
        needs = f", {len(doubts)} to look at" if (doubts := self._doubts(sheet)) else ""
        why = "as you said" if sheet.decided.terms else sheet.page.terms_why
        yield Row(f"{pieces}, {rounds} lines of rounds{needs}; {sheet.draft.terms} terms, {why}")
        yield from (Row(word.sentence, look=Look.STRONG) for word in sheet.page.by_sums)
        if sheet.page.sizes > 1:
            yield Row(f"size {sheet.decided.size} of {sheet.page.sizes}; s: the next one", look=Look.STRONG)
        yield Row("")
        marked = self.leaf.value if self.leaf.value is not None else next((e.outcome.unit for e in sheet.lines), -1)
        for row in self._lines(sheet):
            yield self._saying(row) if self._refused and row.value == marked else row

    def _saying(self, row: Row) -> Row:
        """The chosen line with what is to be said: there it is seen wherever the page is scrolled to."""
        return replace(row, bits=(Bit(row.text, Look.NOW), Bit(f"  ! {self._refused}", Look.WARNING)))

    def repaint(self) -> None:
        """The mark stays on its line where rows come or go above it."""
        rows, marked = self.rows(), self.leaf.value
        place = next((number for number, row in enumerate(rows) if row.value == marked), None)
        if marked is not None and place is not None:
            self.leaf = replace(self.leaf, rows=rows, chosen=place)
            if self._refused:
                self.leaf = in_sight(self.leaf, *self.size)
        super().repaint()

    def _go_to(self, unit: int) -> None:
        """Mark the line of this unit, in sight."""
        self.repaint()
        place = next((number for number, row in enumerate(self.leaf.rows) if row.value == unit), None)
        if place is not None:
            self.choose(place)

    def _lines(self, sheet: Sheet) -> tuple[Row, ...]:
        """A row for each line; kept, because the page may be as long as a book."""
        width = self.size.width
        if self._shown is None or self._shown[0] is not sheet or self._shown[1] != width:
            half = width // 2 - 3 if width >= BESIDE else 0
            doubts = self._doubts(sheet)
            self._shown = sheet, width, tuple(_row(sheet, line, half, line in doubts) for line in sheet.lines)
        return self._shown[2]

    def _doubts(self, sheet: Sheet) -> list[SheetLine]:
        """The lines to look at: rounds in doubt or with a warning, if not settled, and what may be one."""
        if self._looked is None or self._looked[0] is not sheet:
            spots = set(doubtful_lines(sheet.pattern))
            self._looked = sheet, [each for each in sheet.lines if _is_to_look_at(sheet, each, spots)]
        return self._looked[1]

    # What is typed

    def on_key(self, event: events.Key) -> None:
        entry = self._naming.entry if self._naming is not None else self._file
        if self.app.screen is not self or entry is None or event.key in ("ctrl+c", "ctrl+q"):
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._refused = ""
        after = typed(entry, event.key, event.character)
        if self._naming is not None:
            if isinstance(after, TextEntry):
                self._naming = replace(self._naming, entry=after)
            else:
                self._call_it(self._naming.unit, after or "")
        elif isinstance(after, TextEntry):
            self._file = after
        elif after is None:
            self.dismiss(None)
        elif after:
            self._open(after)
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._naming is not None:
            self._naming = replace(self._naming, entry=inserted(self._naming.entry, event.text.strip()))
        elif "\n" not in event.text.strip() and self._file is not None:
            self._file = inserted(self._file, event.text.strip())
        elif self._sheet is None:
            self._read(event.text, Decisions())
        else:
            self._refused = "there is a page here already: keep it, or go back, before you paste another"
        self.repaint()

    def _open(self, name: str) -> None:
        try:
            with Path(name).expanduser().open("rb") as file:  # what is no plain file may never end
                data = file.read(MAX_FILE + 1)
            self._read(data.decode("utf-8-sig"), Decisions())
        except (OSError, RuntimeError, ValueError) as wrong:
            self._refused = f"{name}: {(getattr(wrong, 'strerror', None) or 'it is no text').lower()}"

    def _go_on(self) -> None:
        """With the page that was here when the program ended, if there is one."""
        page, self._refused = page_kept(self._folder)
        if not page:
            return
        try:
            self._read(str(page["text"]), decisions_in(page))
        except (KeyError, ValueError):
            self._refused = put_page_aside(self._folder)
            return
        self._was_here = True

    def _read(self, text: str, decided: Decisions) -> bool:
        """Understand a page with these decisions, and keep them; whether that was possible."""
        if len(text) > MAX_FILE:
            self._refused = f"the page has more than {MAX_FILE:,} characters"
            return False
        try:
            sheet = sheet_of(text, decided)
        except TermsUnclear:
            self._text, self._file, self._decided = text, None, decided
            self._foot(TERMS)
            return True
        except UnreadableFile as wrong:
            self._refused = wrong.problems[0].message
            return False
        self._text, self._file = text, None
        self._take(sheet)
        return True

    def _take(self, sheet: Sheet) -> None:
        """Show a sheet, and keep what is decided of it."""
        if self._sheet is not None and sheet.decided != self._sheet.decided:
            self._before.append(self._sheet.decided)
        self._sheet, self._decided = sheet, sheet.decided
        self._usual_foot()
        try:
            keep_page(self._folder, {"text": sheet.text, **sheet.decided.written()})
        except DiskRefuses as trouble:
            self._refused = str(trouble)

    def _usual_foot(self) -> None:
        doubts = len(self._doubts(self._sheet)) if self._sheet else 0
        look = (Choice(LOOK_AT, f"next of {doubts} to look at" if doubts > 1 else "1 to look at"),) if doubts else ()
        self._foot((KEEP, *look, *OTHERS))

    def _foot(self, keys: tuple[Choice, ...]) -> None:
        self.leaf = replace(self.leaf, keys=keys)

    def pressed(self, key: str) -> bool:
        sheet, line = self._sheet, self.leaf.value
        if sheet is None:
            if key not in ("1", "2") or not self._text:
                return False
            self._read(self._text, replace(self._decided, terms="US" if key == "1" else "UK"))
            self.repaint()
            return True
        self._refused, self._was_here = "", False
        if key in ("r", "n", "h") and line is not None and not self.is_mark_seen():
            self._go_to(int(str(line)))
            return True
        match key:
            case "enter":
                self._keep(sheet)
            case "q" | "escape" | "backspace":
                self._forget()
                return False
            case "t":
                self._ask(-1, "title:", sheet.draft.title)
            case "s" if sheet.page.sizes > 1:
                self._decide(replace(sheet.decided, size=sheet.decided.size % sheet.page.sizes + 1))
            case "d" if self._doubts(sheet):
                self._walk()
            case "d":
                self._refused = "nothing is left to look at"
            case "u":
                self._undo(sheet)
            case "r" | "n" if isinstance(line, int):
                self._move(sheet, line, MOVES[key])
            case "h" if isinstance(line, int):
                self._name_line(sheet, line)
            case _:
                return False
        self.repaint()
        return True

    def taken(self, value: object) -> None:
        """The line that is chosen is mended, where it is one of a round."""
        sheet = self._sheet
        line = next((each for each in sheet.lines if each.outcome.unit == value), None) if sheet else None
        if line is not None and line.rounds:
            self.app.push_screen(MendPage(self, line.outcome.piece, line.rounds[0]), lambda _: self.repaint())
        elif line is not None:
            self._refused = _why_not_mended(line)
            self.repaint()

    # What is decided

    def _decide(self, decided: Decisions) -> None:
        self._read(self._text, decided)

    def _undo(self, sheet: Sheet) -> None:
        """Take the last decision back, and mark the line that it was for."""
        if not self._before:
            self._refused = "nothing was decided here since the page was opened"
            return
        before = self._before.pop()
        if self._read(self._text, before):
            self._before.pop()  # what is taken back is no decision
        now = sheet.decided
        tables = (before.moved, now.moved), (before.names, now.names), (before.mends, now.mends)
        units = (unit for old, new in tables for unit in {**old, **new} if old.get(unit) != new.get(unit))
        self._go_to(next(units, -1))

    def _move(self, sheet: Sheet, unit: int, kind: str) -> None:
        line = next(each for each in sheet.lines if each.outcome.unit == unit)
        if (kind == "round" and line.rounds) or (kind == "note" and line.outcome.fate is Fate.NOTE):
            self._refused = f"this is a {kind} already"
            return
        moved = {**sheet.decided.moved, unit: kind}
        self._decide(replace(sheet.decided, moved=moved))

    def _name_line(self, sheet: Sheet, unit: int) -> None:
        """The name of the piece that the line belongs to, or that it becomes the name of."""
        outcome = next(line.outcome for line in sheet.lines if line.outcome.unit == unit)
        if outcome.piece < 0:
            self._move(sheet, unit, "name")
        else:
            name = sheet.draft.pieces[outcome.piece].name
            self._ask(sheet.first_unit(outcome.piece), "name of the piece:", name)

    def _ask(self, unit: int, question: str, text: str) -> None:
        self._naming = Naming(unit, fresh_entry(question, text))
        self._foot(TYPING)

    def _call_it(self, unit: int, name: str) -> None:
        self._naming = None
        self._usual_foot()
        sheet = self._sheet
        if not name or sheet is None:
            return
        if unit < 0:
            self._decide(replace(sheet.decided, title=name))
        else:
            self._decide(replace(sheet.decided, names={**sheet.decided.names, unit: name}))

    def _walk(self, *passed_units: int) -> None:
        """To the next line to look at whose unit is none of `passed_units`: from the mark on, then from above.
        A round is mended there, and the walk goes on once it is; it ends where one is put away, at a line that is no
        round, or where none is left."""
        self.repaint()
        doubts = self._doubts(self._sheet) if self._sheet else ()
        doubts_left = [each for each in doubts if each.outcome.unit not in passed_units]
        if not doubts_left:
            return
        marked = self.leaf.value if isinstance(self.leaf.value, int) else -1
        start = marked + 1 if marked == self._stopped else marked
        line = next((each for each in doubts_left if each.outcome.unit >= start), doubts_left[0])
        unit = self._stopped = line.outcome.unit
        self._refused = "" if line.rounds else _why_not_mended(line)
        self._go_to(unit)
        if line.rounds:
            page = MendPage(self, line.outcome.piece, line.rounds[0])
            self.app.push_screen(page, lambda done: self._walk(*passed_units, unit) if done else self.repaint())

    def counted(self, piece: int, rounds: tuple[int, ...]) -> int | None:
        """Nothing is made yet that could have been counted."""
        return None

    def mend(self, event: Event, answer: str) -> str:
        """Take a correction into the page; why it is refused, "" if it is taken."""
        sheet = self._sheet
        assert sheet is not None
        state = begin(sheet.printed)
        state = State(replace(state.work, corrections=sheet.corrections), (), state.at)
        try:
            for part in event.parts if isinstance(event, Together) else (event,):
                if isinstance(part, RoundCorrected | RoundLeaves):
                    state = State(corrected(sheet.pattern, state, part), (), state.at)
        except Refused as refused:
            return refused.reason
        self._take(with_corrections(sheet, state.work.corrections))
        return ""

    def _forget(self) -> None:
        try:
            keep_page(self._folder, None)
        except DiskRefuses as trouble:
            self._refused = str(trouble)

    def _keep(self, sheet: Sheet) -> None:
        if not any(piece.rounds for piece in sheet.printed.pieces):
            self._refused = "no round was found in it: nothing can be worked"
            return
        try:
            path = keep_new(self._folder, sheet.draft.title or "pattern", sheet.source)
        except JournalTrouble as trouble:
            self._refused = str(trouble)
            return
        self.dismiss(Pasted(path, sheet.corrections))


def take_over(project: Project, corrections: tuple[Correction, ...]) -> None:
    """Mend a project that was begun with a page as the page was mended, and let go of the page."""
    for own in corrections:
        printed = project.printed.pieces[own.piece].rounds[own.round_index].text
        event = RoundCorrected(own.piece, own.round_index, own.text or printed)
        try:
            project.do(event if own.leaves is None else RoundLeaves(own.piece, own.round_index, own.leaves))
        except Refused:  # its line became another one since: it is kept word for word
            project.do(Note(f"mended by you on the page: {own.text}"))
    with suppress(DiskRefuses):
        keep_page(project.folder, None)


def _is_to_look_at(sheet: Sheet, line: SheetLine, spots: set[tuple[int, int]]) -> bool:
    """Whether the maker is asked for a line; those at the `spots` are rounds in doubt."""
    if not line.rounds:
        return line.outcome.fate is Fate.EYE
    if (line.outcome.piece, line.rounds[0]) in spots:
        return True
    is_settled = sheet.decided.mends.get(line.outcome.unit) == ""
    return not is_settled and any(item.verdict == "warning" for item in sheet.rounds_of(line))


def _why_not_mended(line: SheetLine) -> str:
    """Why no mending line opens for a line that begins no round, and which key does what is likely wanted."""
    outcome = line.outcome
    if outcome.piece >= 0 and outcome.at < 0:
        return "this is the name of a piece: h changes it"
    if outcome.why == "title":
        return "this is the title: t changes it"
    if outcome.fate is Fate.ROUND:
        return "this goes on with the round above: mend it there"
    others = "h the name of a piece" if outcome.fate is Fate.NOTE else "n a note, h the name of a piece"
    return f"this is no round yet: r makes it one, {others}"


def _row(sheet: Sheet, line: SheetLine, half: int, is_doubtful: bool) -> Row:
    """A line of the page, with what became of it under it, or beside it in so many columns."""
    outcome, rounds = line.outcome, sheet.rounds_of(line)
    doubt = next((item for item in rounds if item.verdict != "ok"), None) if is_doubtful else None
    is_eye = outcome.fate is Fate.EYE and not rounds
    look = Look.WARNING if doubt or is_eye else Look.FAINT if outcome.fate is Fate.NOTE else Look.PLAIN
    words = _rounds_words(rounds, doubt) if rounds else _fate_words(sheet, line)
    words = f"! {words}" if look is Look.WARNING else words
    text = " ".join(outcome.text.split())
    if not half:
        return Row(text, outcome.unit, f"  {words}", look)
    if len(text) > half:
        return Row(text, outcome.unit, f"{' ' * half}  {words}", look)
    return Row(f"{text:<{half}}  {words}", outcome.unit, look=look, hang=half + 2)


def _fate_words(sheet: Sheet, line: SheetLine) -> str:
    outcome = line.outcome
    if outcome.piece >= 0 and outcome.at < 0:
        return f"piece '{sheet.draft.pieces[outcome.piece].name}'"
    return f"{outcome.fate.value}{f': {outcome.why}' if outcome.why else ''}"


def _rounds_words(rounds: tuple[Round, ...], doubt: Round | None) -> str:
    """What the rounds of a line leave, and what is the matter with them."""
    first, last = rounds[0], rounds[-1]
    label = first.label if first is last else f"{first.label} to {last.number}"
    leaves = "?" if last.leaves is None else f"{last.leaves:,}"
    if first.is_by_eye:
        return f"{label} by eye → {leaves}"
    mended = f", mended: {' '.join(first.text.split())}" if first.printed else ""
    messages = [problem.message for problem in (doubt or first).problems if problem.severity is not Severity.NOTE]
    return f"{label} → {leaves}{mended}{f': {messages[0]}' if messages else ''}"
