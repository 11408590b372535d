"""What matters before the first stitch, in five lines; below them the rest, and behind a key the sources."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.measure.safety import LOCAL_RULES, WHO_IS_IT_FOR, Caution, cautions_for
from tracker.pattern.model import Gauge, Pattern, Piece, Yarn
from tracker.phrasing.hooks import hook_words
from tracker.session.audience import ANSWERS, QUESTION, answer_in, answered
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, Page
from tracker.tui.palette import Palette
from tracker.tui.render.instructions import called
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Bit, Line, Look, line
from tracker.tui.render.yarn_colours import swatches

BEGIN = object()
"""What the page ends with when the maker begins."""

SOURCES = "e"
"""The key that shows what the cautions rest on."""


class MaterialsPage(Page):
    """Before the first round it ends with `BEGIN`; later it is only read.

    Where the pattern does not say who it is for, the maker is asked, and can answer otherwise at any time. Beginning
    without an answer is fine: then it is told what matters for a child.
    """

    def __init__(self, desk: Desk, begins: bool) -> None:
        keys = (Choice("space", "begin"), Choice("q", "leave"), Choice("↑↓", "scroll")) if begins else (BACK,)
        keys = (*keys[:1], Choice(SOURCES, "sources"), *keys[1:])
        asks = bool(cautions_for(desk.pattern).ask)
        super().__init__(desk.pattern.title, desk.palette, keys)
        self._begins = begins
        self._asks = asks
        self._desk = desk
        self._with_sources = False
        self._tell()

    def _tell(self) -> None:
        pattern = answered(self._desk.pattern, self._desk.project.state.work)
        question = self._question_rows(pattern.intended_for) if self._asks else ()
        self._rows = (*question, *materials(pattern, self._desk.palette, self._with_sources))

    def _question_rows(self, intended_for: str) -> tuple[Row, ...]:
        """The question first, where it is in sight, with its answers or the one that was given."""
        answers = ", ".join(f"{answer.key} {answer.offered}" for answer in ANSWERS)
        answer_words = (
            f"you said: {intended_for}; to change it: {answers}"
            if intended_for
            else f"{answers}; without an answer you read what matters for a child"
        )
        why = cautions_for(self._desk.pattern).ask
        because = (Row(why, look=Look.STRONG),) if why != WHO_IS_IT_FOR else ()
        return (*because, Row(QUESTION, None, answer_words, Look.STRONG))

    def rows(self) -> tuple[Row, ...]:
        return self._rows

    def pressed(self, key: str) -> bool:
        answer = answer_in(key) if self._asks else None
        if answer is not None:
            is_kept = self._desk.do(answer.event, f"noted: this is for {answer.intended_for}")
            self._tell()
            if not is_kept:
                self._rows = (Row(self._desk.talk.words, look=Look.STRONG), *self._rows)
            self.repaint()
            return True
        if key == SOURCES:
            self._with_sources = not self._with_sources
            self._tell()
            self.repaint()
            return True
        if self._begins and key in ("space", "enter"):
            self.dismiss(BEGIN)
            return True
        return False

    def on_click(self) -> None:
        if self._begins:
            self.dismiss(BEGIN)


def materials(pattern: Pattern, palette: Palette, with_sources: bool = False) -> Iterator[Row]:
    """What matters in five rows: what is made, of which yarns, with which hook and what else, and what to mind. A
    caution stands below the thing that it is about. Then the notes, and the yarns in full."""
    cautions = cautions_for(pattern)
    yield Row(f"to make: {', '.join(_times(piece) for piece in pattern.pieces)}")
    if pattern.yarns:
        yield Row(_yarns_in_short(pattern), bits=_yarn_bits(pattern, palette))
    yield Row("; ".join(_hook_and_gauge(pattern)))
    minded = {notion: cautions.of_notion(notion) for notion in pattern.notions}
    plain = [notion for notion, cautions_of_notion in minded.items() if not cautions_of_notion]
    if plain:
        yield Row(f"also: {'; '.join(plain)}")
    for notion, cautions_of_notion in minded.items():
        if cautions_of_notion:
            yield Row(f"also: {notion}")
            yield from (_caution(caution, with_sources) for caution in cautions_of_notion)
    told_cautions = {caution for cautions_of_notion in minded.values() for caution in cautions_of_notion}
    yield from (_caution(caution, with_sources) for caution in cautions.materials if caution not in told_cautions)
    yield from _findings(pattern)
    yield Row("")
    yield from (Row(note, look=Look.FAINT) for note in pattern.notes)
    yield from (Row(_yarn_in_full(yarn), look=Look.FAINT) for yarn in pattern.yarns)
    yield from (_caution(caution, with_sources) for caution in cautions.working)


def _yarns_in_short(pattern: Pattern) -> str:
    return f"yarn: {', '.join(called(yarn.name, yarn.key) for yarn in pattern.yarns)}"


def _yarn_bits(pattern: Pattern, palette: Palette) -> Line:
    colours = swatches(pattern, palette.paper or "#000000")
    parts: list[str | Bit] = ["yarn: "]
    for yarn in pattern.yarns:
        if colour := colours.get(yarn.key, ""):
            parts.append(Bit("▐█▌", Look.PLAIN, colour))  # with no blank behind it: they stay together in a line
        parts += [called(yarn.name, yarn.key), ", "]
    return line(*parts[:-1])


def _hook_and_gauge(pattern: Pattern) -> Iterator[str]:
    if pattern.hook:
        yield f"hook {hook_words(pattern.hook)}"
    name = "tension" if pattern.terms == "UK" else "gauge"
    yield _gauge(pattern.gauge, name) if pattern.gauge else f"no {name} is given: the size is yours"


def _caution(caution: Caution, with_source: bool) -> Row:
    source = f"{caution.source}; {LOCAL_RULES}" if with_source else ""
    return Row(f"! {caution.text}", None, source, Look.STRONG, hang=2)


def _times(piece: Piece) -> str:
    return piece.name if piece.make == 1 else f"{piece.make} times {piece.name}"


def _yarn_in_full(yarn: Yarn) -> str:
    parts = [called(yarn.name, yarn.key)]
    parts += [f"weight {yarn.weight}"] if yarn.weight is not None else []
    parts += [f"{yarn.ball_grams:g} g"] if yarn.ball_grams else []
    parts += [f"{yarn.ball_metres:g} m"] if yarn.ball_metres else []
    return ", ".join(parts)


def _gauge(gauge: Gauge, called: str) -> str:
    return f"{called}: {gauge.stitches:g} {gauge.stitch} and {gauge.rounds:g} rounds over {gauge.over_cm:g} cm"


def _findings(pattern: Pattern) -> Iterator[Row]:
    """A word on what the checks found, before it is met half-way."""
    rounds = [item for piece in pattern.pieces for item in piece.rounds if item.verdict in ("disagrees", "error")]
    if rounds or pattern.problems:
        count = len(rounds) + len(pattern.problems)
        places = "1 place in this pattern needs" if count == 1 else f"{count} places in this pattern need"
        yield Row(f"! {places} a look: rounds check shows them", look=Look.STRONG)
