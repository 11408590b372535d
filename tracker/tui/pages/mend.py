"""A round to be mended where the maker works: what is printed, what could be meant, and a line of their own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from textual import events

from tracker.diagnostics import Severity
from tracker.lazy_dataclass import dataclass
from tracker.pattern.live_reading import around
from tracker.pattern.mending import as_printed, rounds_of_line
from tracker.pattern.misprints.remedies import Remedy, remedies
from tracker.pattern.model import Pattern, Round
from tracker.reports.mending import event_of, words_of
from tracker.session.events import Event, RoundCorrected, RoundLeaves
from tracker.session.state import Refused
from tracker.session.typed_input import number_in
from tracker.tui.controller import Desk, Talk
from tracker.tui.pages.live_line import LiveLine, live_line
from tracker.tui.pages.page import BACK, Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice, Tone
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, fresh_entry, paint_entry, typed

TALL = 16
"""Lines of a screen on which the printed line and what is typed stand under each other; on a smaller one what is
typed comes first."""

WRITE, AS_PRINTED, LEAVES = "e", "p", "l"

TYPING = (Choice("enter", "take it"), Choice("tab", "complete"), Choice("esc", "put it away"))


class Mending(Protocol):
    """Where lines are mended: at work, or on a page before it is kept."""

    @property
    def pattern(self) -> Pattern: ...

    @property
    def palette(self) -> Palette: ...

    def counted(self, piece: int, rounds: tuple[int, ...]) -> int | None:
        """What the maker counted in one of these rounds, the last count first."""

    def mend(self, event: Event, answer: str) -> str:
        """Take a correction; why it is refused, "" if it is taken."""


@dataclass(frozen=True, slots=True)
class AtDesk:
    """Mending at work: an event, committed before it is shown, which undo takes back."""

    desk: Desk

    @property
    def pattern(self) -> Pattern:
        return self.desk.pattern

    @property
    def palette(self) -> Palette:
        return self.desk.palette

    def counted(self, piece: int, rounds: tuple[int, ...]) -> int | None:
        witnesses = reversed(self.desk.project.state.work.witnesses)
        of_line = (each for each in witnesses if each.copy.piece == piece and each.round_index in rounds)
        return next((witness.counted for witness in of_line), None)

    def mend(self, event: Event, answer: str) -> str:
        before = set(doubtful_labels(self.pattern))
        if not self.desk.do(event, f"{answer}; undo takes it back"):
            return self.desk.talk.words
        fresh = [label for label in doubtful_labels(self.pattern) if label not in before]
        if fresh:
            others = f" and {len(fresh) - 1} more do" if len(fresh) > 1 else " does"
            words = f"{answer}, but {fresh[0]}{others} not come out any more; undo takes it back"
            self.desk.talk = Talk(words, Tone.REFUSED)
        return ""


def doubtful_labels(pattern: Pattern) -> Iterator[str]:
    """The rounds of all pieces that are in doubt, or told of, by name."""
    for piece in pattern.pieces:
        where = f" of {piece.name}" if len(pattern.pieces) > 1 else ""
        for item in piece.rounds:
            if item.verdict != "ok" and not item.is_by_eye:
                yield f"{item.label}{where}"


class MendPage(Page):
    """One printed line. Ends with True once it is mended. What is taken is committed before the page goes."""

    def __init__(self, work: Mending, piece_index: int, round_index: int) -> None:
        pattern = work.pattern
        self._piece = pattern.pieces[piece_index]
        self._at = piece_index, rounds_of_line(self._piece, round_index)[0]
        self._round = self._piece.rounds[round_index]
        super().__init__(f"mend {self._label} of {self._piece.name}", work.palette)
        self._work = work
        self._around = around(pattern, piece_index, round_index)
        self._counted = work.counted(piece_index, self._numbers)
        self._remedies = remedies(pattern, piece_index, round_index, self._counted)
        self._line: LiveLine | None = None
        self._number: TextEntry | None = None
        self._refused = ""
        self._foot(self._choosing)
        if self._round.is_in_doubt and self._round.leaves is None and not self._remedies:
            self._ask_for_number()

    @property
    def _choosing(self) -> tuple[Choice, ...]:
        """The keys as the choices are labelled."""
        offers = len(self._remedies)
        numbers = (f"1-{offers}" if offers > 1 else "1",) if offers else ()
        letters = (WRITE, *((AS_PRINTED,) if self._round.plan is not None else ()), LEAVES)
        return (Choice(" ".join((*numbers, *letters)), "take it"), Choice("↑↓ space", "choose"), BACK)

    @property
    def _label(self) -> str:
        first, last = (self._piece.rounds[index] for index in (self._numbers[0], self._numbers[-1]))
        return first.label if first is last else f"{first.label} to {last.number}"

    @property
    def _numbers(self) -> tuple[int, ...]:
        return rounds_of_line(self._piece, self._at[1])

    @property
    def _printed(self) -> Round:
        """The round as its file has it."""
        return as_printed(self._work.pattern).pieces[self._at[0]].rounds[self._at[1]]

    def rows(self) -> tuple[Row, ...]:
        if self._is_typing and self.size.height < TALL:
            return (*self._typed(), Row(""), *self._printed_rows())
        after = self._typed() if self._is_typing else self._choices()
        return (*self._printed_rows(), Row(""), *after)

    @property
    def _is_typing(self) -> bool:
        return self._line is not None or self._number is not None

    def _printed_rows(self) -> Iterator[Row]:
        """The line as it stands in the pattern, and what is to be said of it."""
        own = self._round.printed
        yield Row("as printed", look=Look.FAINT)
        yield from (Row(part.strip(), look=Look.STRONG) for part in (own or self._round.text).split("\n"))
        if own:
            yield Row(f"as you mended it: {self._round.text}")
        if self._counted is not None:
            yield Row(f"you counted {self._counted:,}", look=Look.CUE)
        if self._line is None:
            yield from (Row(f"! {doubt}", look=Look.WARNING) for doubt in self._doubts())

    def _typed(self) -> Iterator[Row]:
        """What is being typed, and what it comes to."""
        if self._refused:
            yield Row(f"! {self._refused}", look=Look.WARNING)
        if self._line is not None:
            yield Row("your line", look=Look.FAINT)
            yield from self._line.rows(self.size.width)
        elif self._number is not None:
            yield Row("", drawn=paint_entry(self._number, self.size.width))
            yield Row("what lies behind it goes on from that number", look=Look.FAINT)

    def _doubts(self) -> Iterator[str]:
        """What does not come out, in short."""
        problems = [problem for problem in self._round.problems if problem.severity is not Severity.NOTE]
        yield from (f"{each.message}; {each.help}" if each.help else each.message for each in problems[:2])

    def _choices(self) -> Iterator[Row]:
        if self._refused:
            yield Row(f"! {self._refused}", look=Look.WARNING)
        for number, each in enumerate(self._remedies, 1):
            yield Row(f"{number}  {words_of(each)}", each, self._why(each))
        yield Row(f"{WRITE}  write the line yourself", WRITE)
        if self._round.plan is not None:
            yield Row(f"{AS_PRINTED}  work it as it is printed", AS_PRINTED)
        yield Row(f"{LEAVES}  work it by eye: you tell how many it leaves", LEAVES)

    def _why(self, each: Remedy) -> str:
        if self._counted is not None and each.leaves == self._counted:
            return f"{self._counted:,} agrees with this, so that is what you made: keep it?"
        return each.sentence

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self or not self._is_typing:
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        if self._line is not None:
            self._typed_line(event)
        else:
            self._typed_number(event)
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._line is not None:
            self._line.paste(event.text)
            self.repaint()

    def pressed(self, key: str) -> bool:
        if key in (WRITE, AS_PRINTED, LEAVES):
            self.taken(key)
            return True
        if key.isdecimal() and 1 <= int(key) <= len(self._remedies):
            self.taken(self._remedies[int(key) - 1])
            return True
        return False

    def taken(self, value: object) -> None:
        if isinstance(value, Remedy):
            self._do(event_of(self._at[0], value), "mended")
        elif value == WRITE:
            self._write()
        elif value == AS_PRINTED and self._round.plan is not None:
            self._do(RoundCorrected(*self._at, self._printed.text), "worked as it is printed")
        elif value == LEAVES:
            self._ask_for_number()
        self.repaint()

    def _write(self) -> None:
        line_text = self._round.printed if self._round.is_by_eye else self._round.text
        text = " ".join(line_text.split())
        caret = self._line_over(text).reading.caret
        self._line = live_line(self._around, text, self._round.text, caret.end if caret and not caret.line else None)
        self._foot(TYPING)

    def _line_over(self, text: str) -> LiveLine:
        return live_line(self._around, text, self._round.text)

    def _ask_for_number(self) -> None:
        stitches = self._counted if self._counted is not None else self._round.leaves
        self._number = fresh_entry(
            f"{self._label}: how many stitches does it leave?", "" if stitches is None else str(stitches)
        )
        self._foot(TYPING[::2])

    def _foot(self, keys: tuple[Choice, ...]) -> None:
        self.leaf = type(self.leaf)(self.leaf.title, self.leaf.rows, keys, self.leaf.chosen, 0)

    def _typed_line(self, event: events.Key) -> None:
        assert self._line is not None
        after = self._line.type(event.key, event.character)
        if after == "":
            self._put_away()
        elif after is not None:
            self._do(RoundCorrected(*self._at, self._line.whole), "mended")

    def _typed_number(self, event: events.Key) -> None:
        assert self._number is not None
        after = typed(self._number, event.key, event.character)
        if isinstance(after, TextEntry):
            self._number = after
        elif not after:
            self._put_away()
        else:
            try:
                self._do(RoundLeaves(*self._at, number_in(after)), f"{self._label} is worked by eye")
            except Refused as refused:
                self._refused = refused.reason

    def _put_away(self) -> None:
        self._line = self._number = None
        self._refused = ""
        self._foot(self._choosing)

    def _do(self, event: Event, answer: str) -> None:
        self._refused = self._work.mend(event, answer)
        if not self._refused:
            self.dismiss(True)
