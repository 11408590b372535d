"""Writing a pattern as it is made: a round typed, worked, typed, worked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from textual import events

from tracker.diagnostics import Problem, Severity
from tracker.journal.errors import JournalTrouble
from tracker.journal.pattern_files import keep_new
from tracker.lazy_dataclass import dataclass, replace
from tracker.measure.next_round import Going, going_on, next_number, size_words, whole_rounds, written_line
from tracker.measure.stitch_sizes import stitch_size
from tracker.notation.context import Context
from tracker.pattern.growing import opens_at
from tracker.pattern.live_reading import Around, around, read_live
from tracker.pattern.model import Gauge, Piece, Round, Start, Yarn
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml
from tracker.session.state import Refused
from tracker.tui.controller import Desk
from tracker.tui.pages.live_line import LiveLine, live_line
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import fresh_entry

KEYS = (Choice("enter", "take it"), Choice("tab", "complete"), Choice("esc", "back"))
SHOWN = 6
"""Lines of rounds that are shown above the one being typed."""

BELOW = 12
"""Lines of the screen that are for the round being typed and what it comes to."""

_STOPS = (Severity.ERROR, Severity.DISAGREES)


@dataclass(frozen=True, slots=True)
class WriteOffer:
    """What the words typed stand for: whole rounds that come out, or many rounds at once, or why neither."""

    rounds: tuple[str, ...] = ()
    going: Going | None = None
    why_not: str = ""

    @property
    def is_shorthand(self) -> bool:
        """Whether what is typed is no round by itself."""
        return bool(self.going or self.why_not)


@dataclass(frozen=True, slots=True)
class Beginning:
    """What is told of a pattern before its first round."""

    title: str
    yarns: tuple[Yarn, ...] = ()
    gauge: Gauge | None = None

    def draft(self, line: str) -> Draft:
        """The pattern with its first round."""
        piece = DraftPiece(self.title, line)
        return Draft(title=self.title, yarns=self.yarns, gauge=self.gauge, pieces=(piece,), is_draft=True)


class WritePage(Page):
    """The round that comes next, or round `at` of an open end; of a pattern that is begun the first one.

    It ends with the path of the new pattern's file, or with True once the round is in the pattern at the desk.
    """

    def __init__(
        self,
        folder: Path,
        palette: Palette,
        desk: Desk | None = None,
        at: int | None = None,
        beginning: Beginning | None = None,
    ) -> None:
        super().__init__("write as you go", palette, KEYS)
        self._folder = folder
        self._desk = desk
        self._beginning = beginning or Beginning("")
        self._at = self._open_round() if at is None else at
        self._line = self._fresh_line()
        self._refused = ""
        self._offer: tuple[str, WriteOffer] | None = None
        self._measured: tuple[str, str] | None = None

    @property
    def _piece_index(self) -> int:
        work = self._desk.project.state.work if self._desk else None
        return (work.ended or work.copy).piece if work else 0

    @property
    def _piece(self) -> Piece | None:
        return None if self._desk is None else self._desk.project.pattern.pieces[self._piece_index]

    def _open_round(self) -> int | None:
        """The round in hand, where it is one of an open end."""
        if self._desk is None or self._piece is None or self._desk.project.state.work.ended is not None:
            return None
        index, opened = self._desk.project.state.work.place.round_index, opens_at(self._piece)
        return index if opened is not None and opened <= index < len(self._piece.rounds) else None

    def _fresh_line(self) -> LiveLine:
        if self._desk is None or self._piece is None:
            return live_line(Around(None, Context()), "")
        index = len(self._piece.rounds) if self._at is None else self._at
        return live_line(around(self._desk.project.pattern, self._piece_index, index, alone=True), "")

    @property
    def _number(self) -> int:
        piece = self._piece
        return next_number(piece) if piece is None or self._at is None else piece.rounds[self._at].number

    @property
    def _is_rows(self) -> bool:
        return self._piece is not None and self._piece.start is Start.ROWS

    @property
    def offer(self) -> WriteOffer:
        """What the words typed stand for. Of rounds only those that come out over what is there."""
        typed = self._line.entry.text
        if self._offer is None or self._offer[0] != typed:
            self._offer = typed, self._offered(typed)
        return self._offer[1]

    def _offered(self, typed: str) -> WriteOffer:
        surroundings, piece = self._line.around, self._piece
        if piece is not None and self._at is not None:
            going = going_on(typed, piece, self._at, surroundings.context.terms)
            if going is not None:
                wrong = self._wrong_in(going)
                return WriteOffer(why_not=wrong) if wrong else WriteOffer(going=going)
        lines = whole_rounds(typed, piece, surroundings.context.terms, self._at)
        readings = [(text, read_live(text, surroundings)) for text in lines]
        proven = tuple(text for text, reading in readings if reading.is_clean)
        if proven or not typed.strip() or not lines:
            return WriteOffer(proven)
        problem = _first_wrong(readings[0][1].problems)
        return WriteOffer(why_not=f"{lines[0]} does not come out here{f': {problem.message}' if problem else ''}")

    def _wrong_in(self, going: Going) -> str:
        """Why the first line of many does not come out; "" if it does."""
        reading = read_live(going.lines[0], self._line.around) if going.lines else None
        wrong = _first_wrong(reading.problems) if reading else None
        return wrong.message if wrong else ""

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._rows())

    def _rows(self) -> Iterator[Row]:
        yield Row(self._desk.pattern.title if self._desk else self._beginning.title, look=Look.STRONG)
        yield from (Row(f"  {text}", look=Look.DONE) for text in self._lines_above())
        yield Row("")
        yield Row(f"{'Row' if self._is_rows else 'Rnd'} {self._number}", look=Look.FAINT)
        offer, typed = self.offer, self._line.entry.text
        yield from self._line.rows(self.size.width, reads=not offer.is_shorthand and not (typed and offer.rounds))
        if not offer.is_shorthand and (words := self._size_words()):
            yield Row(words)
        if offer.why_not:
            yield Row(f"! {offer.why_not}", look=Look.WARNING)
        if offer.going is not None:
            going_lines = (*offer.going.lines, *([offer.going.rhythm] if offer.going.rhythm else ()))
            yield Row("enter: from here on", look=Look.FAINT)
            yield from (Row(f"  {text}", look=Look.FAINT) for text in going_lines[:SHOWN])
        elif offer.rounds:
            yield Row("tab: a whole round", look=Look.FAINT)
            yield from (Row(f"  {text}", look=Look.FAINT) for text in offer.rounds)
        if not typed and self._piece:
            yield Row('or type "same again", "as round 3", "to 40 stitches, evenly"', look=Look.FAINT)
            if self._at is not None:
                more = '"24 stitches in 6 repeats", "every 4th round increase"'
                yield Row(f"for all rounds from here: {more}", look=Look.FAINT)
        if self._refused:
            yield Row(f"! {self._refused}", look=Look.WARNING)

    def _lines_above(self) -> tuple[str, ...]:
        rounds = self._piece.rounds[: self._at] if self._piece else ()
        lines = dict.fromkeys(" ".join(item.text.split()) for item in rounds[-SHOWN:])
        room = max(0, self.size.height - BELOW)
        return tuple(lines)[-room:] if room else ()

    def _written(self) -> str:
        return written_line(self._number, self._line.entry.text, self._line.reading.leaves, self._is_rows)

    def _size_words(self) -> str:
        """How the piece lies and how big it is once this round is made."""
        reading, piece = self._line.reading, self._piece
        if self._desk is None or piece is None or not reading.is_clean:
            return ""
        if self._measured is None or self._measured[0] != reading.text:
            fresh = Round(self._number, "", reading.text, reading.plan, reading.bases)
            grown = replace(piece, rounds=(*piece.rounds[: self._at], fresh))
            self._measured = reading.text, size_words(grown, stitch_size(self._desk.project.pattern))
        return self._measured[1]

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self:
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._refused = ""
        if event.key in ("ctrl+c", "ctrl+q"):
            self.dismiss(None)
            return
        self._type(event)
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self._line.paste(event.text)
        self.repaint()

    def _type(self, event: events.Key) -> None:
        offered = self.offer.rounds
        if event.key == "tab" and offered:
            self._line.entry = fresh_entry("", offered[0])
            return
        after = self._line.type(event.key, event.character)
        if after == "":
            self.dismiss(None)
        elif after is not None:
            self._take(after)

    def _take(self, typed: str) -> None:
        offer = self.offer
        if offer.going is not None:
            self._keep(offer.going.lines, offer.going.rhythm)
            return
        if offer.rounds:
            self._line.entry = fresh_entry("", offer.rounds[0])
        reading = self._line.reading
        wrong = _first_wrong(reading.problems)
        if offer.why_not:
            self._refused = ""  # it stands there already
        elif reading.plan is None or not reading.plan.moves or wrong is not None:
            self._refused = wrong.message if wrong else "there is nothing to make in this line: name its stitches"
        else:
            self._keep((self._written(),))

    def _keep(self, lines: tuple[str, ...], rhythm: str = "") -> None:
        try:
            if self._desk is None:
                text = as_toml(self._beginning.draft(lines[0]))
                self.dismiss(keep_new(self._folder, self._beginning.title, text))
                return
            self._desk.project.write_on(self._piece_index, lines, self._at if lines else None, rhythm)
        except (JournalTrouble, Refused) as trouble:
            self._refused = str(trouble)
            return
        self.dismiss(True)


def _first_wrong(problems: tuple[Problem, ...]) -> Problem | None:
    """What keeps a line from being taken."""
    return next((problem for problem in problems if problem.severity in _STOPS), None)
