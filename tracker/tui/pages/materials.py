"""What is needed before the first stitch: yarns, hook, notions, gauge, what to mind."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.measure.safety import LOCAL_RULES, cautions_for
from tracker.pattern.model import Gauge, Pattern, Piece, Yarn
from tracker.phrasing.hooks import hook_words
from tracker.session.audience import ANSWERS, QUESTION, answer_in, answered
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.yarn_colours import swatches

BEGIN = object()
"""What the page ends with when the maker begins."""


class MaterialsPage(Page):
    """Before the first round it ends with `BEGIN`; later it is only read.

    Where the pattern does not say who it is for, the maker is asked, and can answer otherwise at any time. Beginning
    without an answer is fine: then it is told what matters for a child.
    """

    def __init__(self, desk: Desk, begins: bool) -> None:
        keys = (Choice("space", "begin"), Choice("q", "leave"), Choice("↑↓", "scroll")) if begins else (BACK,)
        asks = bool(cautions_for(desk.pattern).ask)
        super().__init__(desk.pattern.title, desk.palette, keys)
        self._begins = begins
        self._asks = asks
        self._desk = desk
        self._tell()

    def _tell(self) -> None:
        pattern = answered(self._desk.pattern, self._desk.project.state.work)
        asked = self._asked(pattern.intended_for) if self._asks else ()
        self._told = (*asked, *materials(pattern, self._desk.palette))

    def _asked(self, intended_for: str) -> tuple[Row, ...]:
        """The question first, where it is in sight, with its answers or the one that was given."""
        answers = ", ".join(f"{answer.key} {answer.offered}" for answer in ANSWERS)
        said = (
            f"you said: {intended_for}; to change it: {answers}"
            if intended_for
            else f"{answers}; or begin without an answer"
        )
        return (Row(QUESTION, None, said, Look.STRONG),)

    def rows(self) -> tuple[Row, ...]:
        return self._told

    def pressed(self, key: str) -> bool:
        answer = answer_in(key) if self._asks else None
        if answer is not None:
            kept = self._desk.do(answer.event, f"noted: this is for {answer.intended_for}")
            self._tell()
            if not kept:
                self._told = (Row(self._desk.talk.said, look=Look.STRONG), *self._told)
            self.repaint()
            return True
        if self._begins and key in ("space", "enter"):
            self.dismiss(BEGIN)
            return True
        return False

    def on_click(self) -> None:
        if self._begins:
            self.dismiss(BEGIN)


def materials(pattern: Pattern, palette: Palette) -> Iterator[Row]:
    """Everything the pattern says that is needed, then what to mind."""
    colours = swatches(pattern, palette.paper or "#000000")
    yield from (_yarn(yarn, colours.get(yarn.key, "")) for yarn in pattern.yarns)
    if pattern.hook:
        yield Row(f"hook {hook_words(pattern.hook)}")
    yield from (Row(notion) for notion in pattern.notions)
    gauge = "tension" if pattern.terms == "UK" else "gauge"
    yield Row(_gauge(pattern.gauge, gauge) if pattern.gauge else f"no {gauge} is given: the size is yours")
    yield Row(f"to make: {', '.join(_times(piece) for piece in pattern.pieces)}")
    yield from (Row(note, look=Look.FAINT) for note in pattern.notes)
    yield from _to_mind(pattern)
    yield from _found(pattern)


def _times(piece: Piece) -> str:
    return piece.name if piece.make == 1 else f"{piece.make} times {piece.name}"


def _yarn(yarn: Yarn, colour: str) -> Row:
    parts = [f"{yarn.key}  {yarn.name}"]
    parts += [f"weight {yarn.weight}"] if yarn.weight is not None else []
    parts += [f"{yarn.ball_grams:g} g"] if yarn.ball_grams else []
    parts += [f"{yarn.ball_metres:g} m"] if yarn.ball_metres else []
    return Row(", ".join(parts), swatch=colour)


def _gauge(gauge: Gauge, called: str) -> str:
    return f"{called}: {gauge.stitches:g} {gauge.stitch} and {gauge.rounds:g} rounds over {gauge.over_cm:g} cm"


def _to_mind(pattern: Pattern) -> Iterator[Row]:
    cautions = cautions_for(pattern)
    if cautions.ask:
        yield Row(cautions.ask, look=Look.STRONG)
    for caution in (*cautions.materials, *cautions.working):
        yield Row(f"! {caution.text}", None, f"{caution.source}; {LOCAL_RULES}", Look.STRONG)


def _found(pattern: Pattern) -> Iterator[Row]:
    """A word on what the checks found, before it is met half-way."""
    rounds = [item for piece in pattern.pieces for item in piece.rounds if item.verdict in ("disagrees", "error")]
    if rounds or pattern.problems:
        count = len(rounds) + len(pattern.problems)
        places = "1 place in this pattern needs" if count == 1 else f"{count} places in this pattern need"
        yield Row(f"! {places} a look: rounds check shows them", look=Look.STRONG)
