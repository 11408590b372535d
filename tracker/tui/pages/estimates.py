"""Size, yarn and time of what is being made; the ball is weighed here, and the pictures are one key further."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from textual import events

from tracker.measure.pace import WorkingPace, learn, time_for
from tracker.measure.size import PatternSize, PieceSize, RoundSize, measure_pattern
from tracker.measure.stitch_counts import NO_WORK, ByYarn, StitchWork, work_of_pattern
from tracker.measure.stitch_sizes import Unit
from tracker.measure.yarn import Weighing, YarnRate, grams_for, metres_of, will_it_last
from tracker.pattern.model import Pattern
from tracker.project.project import Project
from tracker.reports.ball_weights import BallReading, rate_of, readings, weighings, weight_in
from tracker.reports.measure_words import ball_words, in_terms_of, lie_words, piece_words, time_words
from tracker.reports.quantities import UnclearFigure, amount
from tracker.reports.work_so_far import rest_of, samples_of
from tracker.session.events import BallWeighed
from tracker.session.state import Copy, copy_name
from tracker.tui.controller import Desk
from tracker.tui.footer import TYPING
from tracker.tui.pages.page import BACK, Page
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, fresh_entry, inserted, paint_entry, typed

WEIGH, PICTURES = "g", "d"
KEYS = (Choice(WEIGH, "weigh"), Choice(PICTURES, "pictures"), BACK, Choice("↑↓", "scroll"))


class MeasurePage(Page):
    """Of the copy in hand, or of another one that was chosen."""

    def __init__(self, desk: Desk, copy: Copy | None = None) -> None:
        super().__init__("size, yarn and time", desk.palette, KEYS)
        self._desk = desk
        self._copy = copy or desk.project.state.work.in_hand
        self._entry: TextEntry | None = None
        self._answer_row: Row | None = None
        self._reckon()

    def _reckon(self) -> None:
        self._sum_rows = tuple(sum_rows(sums_of(self._desk.project, self._copy), WEIGH))

    def rows(self) -> tuple[Row, ...]:
        """What is being typed, or was just said, stands first: it must be in sight."""
        if self._entry is not None:
            return (Row("", drawn=paint_entry(self._entry, max(8, self.size.width))), *self._sum_rows)
        return (self._answer_row, *self._sum_rows) if self._answer_row else self._sum_rows

    def pressed(self, key: str) -> bool:
        if key == WEIGH:
            self._ask()
        elif key == PICTURES:
            from tracker.tui.pages.pictures import PicturesPage

            self.app.push_screen(PicturesPage(self._desk, self._copy))
        return key in (WEIGH, PICTURES)

    def _ask(self) -> None:
        self._entry = fresh_entry(f"grams on the scale{self._of_yarn()}:")
        self._to_top()

    def _of_yarn(self) -> str:
        view = self._desk.view
        return f", {view.colour} ({view.colour_key})" if view.colour_key and view.colour else ""

    def repaint(self) -> None:
        self.leaf = replace(self.leaf, keys=TYPING if self._entry else KEYS)
        super().repaint()

    def _to_top(self) -> None:
        self._usual("home")

    def on_key(self, event: events.Key) -> None:
        """While grams are typed every key goes there."""
        if self._entry is None or self.app.screen is not self:
            return
        event.stop()
        event.prevent_default()
        self._type(self._entry, event.key, event.character)
        self._to_top()

    def _type(self, entry: TextEntry, key: str, character: str | None) -> None:
        after = typed(entry, key, character)
        self._entry = after if isinstance(after, TextEntry) else None
        if isinstance(after, str) and after:
            self._weighed(after)

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._entry is not None:
            self._entry = inserted(self._entry, event.text.strip())
            self.repaint()

    def _weighed(self, text: str) -> None:
        """Keep the reading as a note; what was typed and makes no sense stays in the line."""
        try:
            key, grams = weight_in(text, self._desk.view.colour_key, yarns_of(self._desk.pattern))
        except UnclearFigure as wrong:
            self._entry = fresh_entry(f"{wrong}:", text)
            return
        is_kept = self._desk.do(BallWeighed(key, grams), "the weight is noted")
        self._answer_row = Row(self._desk.talk.words, look=Look.GOOD if is_kept else Look.STRONG)
        self._reckon()


# Size, yarn and time as rows to read: of one copy of a piece, the round it is at, and all that is left.

_UNITS = {Unit.CM: "cm", Unit.WIDTHS: "stitch widths"}


@dataclass(frozen=True)
class Sums:
    """Everything that the page tells, worked out once each time something is done."""

    pattern: Pattern
    copy: Copy
    round_index: int
    size: PatternSize
    work_left: ByYarn
    weighed: Mapping[str, tuple[Weighing, ...]]
    last: Mapping[str, BallReading]
    """The newest reading of each yarn."""
    pace: WorkingPace
    is_begun: bool


def sums_of(project: Project, copy: Copy) -> Sums:
    """The sums of a project as it stands, for the piece of this copy."""
    pattern, state, history = project.pattern, project.state, project.history()
    ball_readings = readings(pattern, history, state)
    return Sums(
        pattern=pattern,
        copy=copy,
        round_index=state.work.place_in(copy).round_index,
        size=measure_pattern(pattern),
        work_left=rest_of(pattern, state.work),
        weighed=weighings(ball_readings),
        last={reading.key: reading for reading in ball_readings},
        pace=learn(samples_of(pattern, history)),
        is_begun=bool(history),
    )


def sum_rows(sums: Sums, weigh_key: str) -> Iterator[Row]:
    """How big, how much yarn, how long: in the order in which a maker asks."""
    yield from _size_rows(sums)
    yield Row("")
    yield from _yarn_rows(sums, weigh_key)
    yield Row("")
    time_left = time_for(sum(sums.work_left.values(), NO_WORK), sums.pace)
    yield Row(time_words(time_left, sums.pace, sums.is_begun))


def _size_rows(sums: Sums) -> Iterator[Row]:
    piece, unit = sums.size.pieces[sums.copy.piece], _UNITS[sums.size.unit]
    name = copy_name(sums.pattern, sums.copy)
    if not piece.rounds and not piece.across.high:
        yield Row(f"{name}: no size can be told", None, "; ".join(piece.remarks), Look.STRONG)
        return
    yield Row(
        f"{name}, finished: {piece_words(piece, unit)}",
        None,
        in_terms_of(sums.pattern, sums.size.stitch.source),
        Look.STRONG,
    )
    present = _present(piece, sums)
    if present is not None:
        yield Row(_round_words(present, unit), None, _lie_advice(present))
    yield from (Row(in_terms_of(sums.pattern, remark), look=Look.STRONG) for remark in piece.remarks)


def _present(piece: PieceSize, sums: Sums) -> RoundSize | None:
    """The size of the round that is being made; None when the piece is made or its rounds have no sizes."""
    rounds = sums.pattern.pieces[sums.copy.piece].rounds
    if len(piece.rounds) != len(rounds) or sums.round_index >= len(rounds):
        return None
    return piece.rounds[sums.round_index]


def _round_words(present: RoundSize, unit: str) -> str:
    if present.across is None:
        return f"{present.label}, when done: {amount(present.around, unit)} wide"
    around, across = amount(present.around, unit), amount(present.across, unit)
    lies = f"; {lie_words(present.growth)}" if present.growth else ""
    return f"{present.label}, when done: {around} around, {across} across{lies}"


def _lie_advice(present: RoundSize) -> str:
    """What is to be done about a round that waves: nothing, if it is meant to."""
    waves = present.growth is not None and lie_words(present.growth).startswith(("ruffles", "gathers"))
    return "fine if it is meant to; otherwise count the round before" if waves else ""


def _yarn_rows(sums: Sums, weigh_key: str) -> Iterator[Row]:
    whole = work_of_pattern(sums.pattern)
    all_units = sum(work.units for work in whole.values())
    for key, work in whole.items():
        yield _yarn_row(sums, key, work, work.units / all_units if all_units else 0.0)
        if key in sums.last and (rate := rate_of(key, sums.weighed)) is not None:
            yield Row(_will_last(sums.last[key], sums.work_left.get(key, NO_WORK), rate), look=Look.STRONG)
    if not sums.weighed:
        yield Row(_how_to_weigh(sums.last, weigh_key), look=Look.FAINT)


def _how_to_weigh(last: Mapping[str, BallReading], weigh_key: str) -> str:
    if last:
        return f"work on, then weigh the same ball again ({weigh_key}): the difference tells the grams"
    return f"for grams weigh the ball now and after a round or more ({weigh_key}); both are kept as notes"


def _yarn_row(sums: Sums, key: str, whole: StitchWork, share: float) -> Row:
    work_left = sums.work_left.get(key, NO_WORK)
    done = max(0, whole.stitches - work_left.stitches)
    name = sums.pattern.yarn_name(key) or "the yarn"
    words = f"{name}: {done:,} of {whole.stitches:,} stitches made"
    rate = rate_of(key, sums.weighed)
    if rate is None:
        return Row(f"{words}; {share:.0%} of all the yarn", None, _weighed_once(sums, key))
    guess = "" if key in sums.last else "reckoned as the ball that was weighed; weigh this one to know"
    return Row(f"{words}; {_grams(sums, key, whole, work_left, rate)}", None, guess)


def _grams(sums: Sums, key: str, whole: StitchWork, work_left: StitchWork, rate: YarnRate) -> str:
    share_used = max(0.0, 1 - work_left.units / whole.units) if whole.units else 0.0
    need = grams_for(work_left, rate)
    metres = metres_of(need, sums.pattern.yarn(key))
    words = f"{amount(grams_for(whole, rate) * share_used, 'g')} used, " if share_used else ""
    words += f"{amount(need, 'g')} still needed"
    return words + (f" ({amount(metres, 'm', 0)})" if metres else "")


def _weighed_once(sums: Sums, key: str) -> str:
    reading = sums.last.get(key)
    return f"the ball weighed {reading.grams:g} g" if reading else ""


def _will_last(reading: BallReading, work_left: StitchWork, rate: YarnRate) -> str:
    """Whether the ball lasts. What was used since it was weighed last is the same on both sides of the question."""
    when = "will this ball last?" if reading.work_left == work_left else "will this ball last? when last weighed"
    return ball_words(when, will_it_last(reading.work_left, reading.grams, rate)).replace("?:", "?", 1)


def yarns_of(pattern: Pattern) -> Sequence[str]:
    """The keys of all yarns that are worked with."""
    return tuple(work_of_pattern(pattern))
