"""A chart in a terminal: one character a stitch on rings, ovals or rows; where they do not fit, a line a round."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from tracker.drawing.acts import chain_before
from tracker.drawing.chart_model import Chart, DrawnRound, Layout, Mark, Middle
from tracker.drawing.geometry import Point, unit
from tracker.drawing.legend import (
    PLAIN,
    RING,
    SKIPPED,
    Glyphs,
    in_order,
    meaning,
    uses_of_act,
)
from tracker.drawing.styled_text import CELL_HEIGHT, Grid, PictureBit, PictureLine, Style, line, wrapped
from tracker.drawing.symbols import SymbolForm
from tracker.drawing.yarn_letters import Ink, inks, short
from tracker.notation.ast import Loop
from tracker.pattern.model import Pattern, Round
from tracker.phrasing.stitches import WordStyle, loop_words
from tracker.rounds.plan import Act, Node, Plan, Role, Run

MOST_LISTED = 500
"""Rounds that are drawn as lines; a longer piece says how many are left out."""
MOST_RUNS = 12
"""Changes of colour in one round, or rounds of one loop, that are told in words."""
# More letters than this cannot be told apart in a key.
MOST_YARNS = 20
_LABEL = 9
"""Columns for the heading of a round before its line."""
_READING = {
    Layout.ROUND: "read counter-clockwise from the middle; numbers stand where rounds begin",
    Layout.OVAL: "read counter-clockwise from the chain outwards; numbers stand where rounds begin",
    Layout.ROWS: "read from the bottom up; arrows tell the way of each row",
}


def chart_text(
    chart: Chart, pattern: Pattern, heading: str, rounds: Sequence[Round], columns: int, rows: int, terms: str = ""
) -> tuple[PictureLine, ...]:
    """Heading, drawing and key for these `rounds` of one piece; the drawing takes at most `rows` lines.

    A drawing by lines may be longer: one line a round, or a few where a round is long.
    """
    glyphs = Glyphs()
    yarn_inks = inks(pattern, _colours(rounds))
    head = line([PictureBit(short(heading, columns), Style.HEADING)])
    to_draw = [each for each in rounds if not chain_before(each.plan)]
    whole = len(chart.drawn) == len(to_draw) and not any(each.undrawn for each in chart.drawn)
    body = _drawing(chart, glyphs, yarn_inks, columns, rows) if whole else None
    if body is None:
        body = _by_lines(rounds, glyphs, columns)
    else:
        body += [*_quiet(_READING[chart.shape], columns), *_colour_runs(chart, yarn_inks, columns)]
    below = [
        *_loops(rounds, columns),
        *_yarns(yarn_inks, columns),
        *_key(rounds, glyphs, terms or pattern.terms, columns),
    ]
    return (head, PictureLine(), *body, PictureLine(), *below)


def _colours(rounds: Sequence[Round]) -> Iterator[str]:
    for each in rounds:
        yield each.colour
        if each.plan is not None:
            yield from (act.colour for act in each.plan.acts())


def _quiet(words: str, columns: int) -> list[PictureLine]:
    return [line([PictureBit(part, Style.QUIET)]) for part in wrapped(words, columns)]


def _drawing(
    chart: Chart, glyphs: Glyphs, yarn_inks: Mapping[str, Ink], columns: int, rows: int
) -> list[PictureLine] | None:
    if not chart.drawn or chart.unrolled:
        return None
    if chart.shape is Layout.ROWS:
        return draw_rows(chart, glyphs, yarn_inks, columns, rows)
    return draw_rings(chart, glyphs, yarn_inks, columns, rows)


def _by_lines(rounds: Sequence[Round], glyphs: Glyphs, columns: int) -> list[PictureLine]:
    """Every round a line: its heading, its symbols with repeats in brackets, and what it leaves."""
    if not rounds:
        return _quiet("there is nothing to draw yet", columns)
    lines = []
    for each in rounds[:MOST_LISTED]:
        lines += _one_by_lines(each, glyphs, columns)
    if len(rounds) > MOST_LISTED:
        lines += _quiet(f"{len(rounds) - MOST_LISTED:,} more rounds are not listed; draw one at a time", columns)
    return lines


def _one_by_lines(each: Round, glyphs: Glyphs, columns: int) -> list[PictureLine]:
    label = short(each.label or str(each.number), _LABEL - 1).ljust(_LABEL)
    if each.plan is None:
        return [line([PictureBit(label, Style.NUMBER), PictureBit("could not be read", Style.QUIET)])]
    letter = [PictureBit(f"{each.colour}: ", Style.LETTER, each.colour)] if each.colour else []
    total = f"  {each.plan.leaves:,}"
    first, *continued = run_lines(each.plan, each.colour, glyphs, max(8, columns - _LABEL - len(total) - 4))
    lines = [line([PictureBit(label, Style.NUMBER), *letter, *first.bits, PictureBit(total, Style.NUMBER)])]
    return [*lines, *(line([" " * _LABEL, *more.bits]) for more in continued)]


def _colour_runs(chart: Chart, yarn_inks: Mapping[str, Ink], columns: int) -> list[PictureLine]:
    """In words where colours change within a round, for those who cannot see them."""
    lines = []
    for each in chart.drawn:
        if len(each.stretches) > 1 and all(stretch.colour in yarn_inks for stretch in each.stretches):
            runs = [f"{yarn_inks[stretch.colour].label} {stretch.stitches}" for stretch in each.stretches[:MOST_RUNS]]
            more = ", …" if len(each.stretches) > MOST_RUNS else ""
            lines += _quiet(f"{each.number}: {', '.join(runs)}{more}", columns)
    return lines


def _loops(rounds: Sequence[Round], columns: int) -> list[PictureLine]:
    """Which rounds take up another part of the stitch than both loops."""
    rounds_by_loop: dict[Loop, list[str]] = {}
    for each in rounds:
        loops = {act.loop for act in each.plan.acts()} if each.plan else set()
        for loop in loops - {Loop.BOTH}:
            rounds_by_loop.setdefault(loop, []).append(short(each.label or str(each.number), 12))
    lines = []
    for loop, labels in sorted(rounds_by_loop.items(), key=lambda item: item[0].value):
        more = ", …" if len(labels) > MOST_RUNS else ""
        lines += _quiet(f"{loop_words(loop, WordStyle.KEY)}: {', '.join(labels[:MOST_RUNS])}{more}", columns)
    return lines


def _yarns(yarn_inks: Mapping[str, Ink], columns: int) -> list[PictureLine]:
    lines = []
    for ink in list(yarn_inks.values())[:MOST_YARNS]:
        words = ink.label if ink.name == ink.label else f"{ink.label}  {ink.name}"
        lines.append(
            line(
                [
                    PictureBit(short(ink.label, columns), Style.LETTER, ink.key),
                    short(words, columns)[len(ink.label) :],
                ]
            )
        )
    return lines


def _key(rounds: Sequence[Round], glyphs: Glyphs, terms: str, columns: int) -> list[PictureLine]:
    acts = [act for each in rounds if each.plan for act in each.plan.acts()]
    entries = [
        (glyphs.of_use(use), meaning(use, terms)) for use in in_order(use for act in acts for use in uses_of_act(act))
    ]
    if RING in glyphs.others:
        entries.insert(0, (RING, "magic ring"))
    if SKIPPED in glyphs.others:
        entries.append((SKIPPED, "a place passed over"))
    entries = [(glyph, words) for glyph, words in entries if glyph]
    wide = max((len(glyph) for glyph, _ in entries), default=1) + 2
    return [
        line([PictureBit(glyph.ljust(wide), Style.SYMBOL), short(words, max(8, columns - wide))])
        for glyph, words in entries
    ]


# Charts in terminal cells: rings and ovals to scale, rows one above the other. A chart that does not fit is None.

LARGEST = 2.0
"""At most so many rows to a stitch width, so that a small round stays together."""
LEAST = 1.25
"""With fewer rows to a stitch width several rounds run into each other."""
_SHADOW = "·"
_SIDE = 7
"""Columns beside a row for its number and its arrow."""


def draw_rings(
    chart: Chart, glyphs: Glyphs, yarn_inks: Mapping[str, Ink], columns: int, rows: int
) -> list[PictureLine] | None:
    """One character a stitch, as large as `columns` and `rows` allow; None if two would need the same cell."""
    middles = [_middle(mark) for each in chart.rounds for mark in each.marks]
    high = max(abs(point.y) for point in middles)
    wide = max(abs(point.x) for point in middles) * CELL_HEIGHT
    scale = min(LARGEST, (rows - 1) / 2 / high, (columns - 3) / 2 / wide)
    if len(chart.drawn) > 1 and scale < LEAST:
        return None
    sheet = _TextChart(Grid(columns, 2 * int(high * scale + 0.5) + 1), scale, int(wide * scale + 0.5) + 1)
    for each in sorted(chart.rounds, key=lambda each: each.ghost):
        for mark in each.marks:
            if not sheet.mark(mark, _bit(mark, each, glyphs)) and not each.ghost:
                return None
    _start(sheet, chart, glyphs)
    before = ""
    for each in chart.drawn:
        before = _number(sheet, each, yarn_inks, before)
        if (
            each.joined
            and each.join_at is not None
            and sheet.at(each.join_at.point, PictureBit(glyphs.join(), Style.SYMBOL))
        ):
            continue
    return list(sheet.grid.lines())


class _TextChart:
    """A grid with the middle of the chart in its middle."""

    def __init__(self, grid: Grid, scale: float, middle: int) -> None:
        self.grid = grid
        self._scale = scale
        self._middle = middle

    def mark(self, mark: Mark, bit: PictureBit) -> bool:
        """A symbol in its cell; each oval of a chain in one of its own as long as there are free ones."""
        if not mark.ovals or mark.symbol.form is SymbolForm.PICOT:
            return self.at(_middle(mark), bit)
        crown = mark.ovals[len(mark.ovals) // 2].centre
        placed = self.at(crown, bit)
        for oval in mark.ovals:
            self.grid.put(*self._cell(oval.centre), bit)
        return placed

    def at(self, point: Point, bit: PictureBit) -> bool:
        """In the nearest free cell, at most half a cell aside."""
        for across, down in ((0.0, 0.0), (0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)):
            if self.grid.put(*self._cell(point, across, down), bit):
                return True
        return False

    def _cell(self, point: Point, across: float = 0.0, down: float = 0.0) -> tuple[int, int]:
        x = self._middle + point.x * self._scale * CELL_HEIGHT + across
        y = (self.grid.rows - 1) / 2 - point.y * self._scale + down
        return int(x + 0.5), int(y + 0.5)

    def words(self, point: Point, bit: PictureBit) -> bool:
        x, y = self._cell(point)
        return self.grid.put(x - len(bit.text) // 2, y, bit)


def _middle(mark: Mark) -> Point:
    """Where the one character of a symbol goes."""
    if mark.symbol.form in (
        SymbolForm.STEM,
        SymbolForm.CLUSTER,
        SymbolForm.BOBBLE,
        SymbolForm.POPCORN,
        SymbolForm.PUFF,
    ):
        return mark.feet[0].toward(mark.feet[-1], 0.5).toward(mark.top, 0.75)
    if mark.ovals:
        return mark.ovals[len(mark.ovals) // 2].centre
    return mark.top + unit(mark.outward) * -0.45


def _bit(mark: Mark, each: DrawnRound, glyphs: Glyphs) -> PictureBit:
    if each.ghost:
        return PictureBit(_SHADOW, Style.QUIET)
    return PictureBit(glyphs.of_mark(mark), Style.SYMBOL, mark.colour)


def _start(sheet: _TextChart, chart: Chart, glyphs: Glyphs) -> None:
    if not chart.shows_start:
        return
    if chart.start.middle is Middle.RING:
        sheet.at(Point(0.0, 0.0), PictureBit(glyphs.ring(), Style.SYMBOL))
    for oval in chart.start.ovals:
        below = chart.start.middle is Middle.BASES
        sheet.at(
            oval.centre,
            PictureBit(_SHADOW, Style.QUIET) if below else PictureBit(glyphs.of(PLAIN, "ch"), Style.SYMBOL),
        )


def _number(sheet: _TextChart, each: DrawnRound, yarn_inks: Mapping[str, Ink], before: str) -> str:
    """The round's number, with the letter of its yarn where that is a new one; gives the yarn it ends with."""
    ink = yarn_inks.get(each.stretches[0].colour)
    letter = ink.label if ink and ink.key != before else ""
    arrow = "↻" if each.backward else ""
    for words in (f"{each.number}{letter}{arrow}", str(each.number)):
        if sheet.words(each.number_at, PictureBit(words, Style.NUMBER)):
            break
    return each.stretches[-1].colour


def draw_rows(
    chart: Chart, glyphs: Glyphs, yarn_inks: Mapping[str, Ink], columns: int, rows: int
) -> list[PictureLine] | None:
    """One line a row, the last on top; None if they are too wide or too many."""
    if len(chart.rounds) + 1 > rows:
        return None
    places = [mark.top.x for each in chart.rounds for mark in each.marks]
    left, right = min(places), max(places)
    room = columns - 2 * _SIDE
    for scale in (2.0, 1.0):
        if (right - left) * scale < room:
            lines = _rows(chart, glyphs, yarn_inks, left, scale, int((right - left) * scale) + 1)
            if lines is not None:
                return lines
    return None


def _rows(
    chart: Chart, glyphs: Glyphs, yarn_inks: Mapping[str, Ink], left: float, scale: float, width: int
) -> list[PictureLine] | None:
    grid = Grid(width + 2 * _SIDE, len(chart.rounds) + 1)

    def column(x: float) -> int:
        return _SIDE + int((x - left) * scale + 0.5)

    before = ""
    for index, each in enumerate(chart.rounds):
        row = len(chart.rounds) - 1 - index
        for mark in each.marks:
            bit = _bit(mark, each, glyphs)
            if not any(grid.put(column(mark.top.x) + aside, row, bit) for aside in (0, 1, -1)):
                return None
        if not each.ghost:
            _row_number(grid, each, row, _row_label(each, yarn_inks, before), width)
            before = each.stretches[-1].colour
    if chart.shows_start:
        for oval in chart.start.ovals:
            below = chart.start.middle is Middle.BASES
            bit = PictureBit(_SHADOW, Style.QUIET) if below else PictureBit(glyphs.of(PLAIN, "ch"), Style.SYMBOL)
            grid.put(column(oval.centre.x), len(chart.rounds), bit)
    return list(grid.lines())


def _row_label(each: DrawnRound, yarn_inks: Mapping[str, Ink], before: str) -> str:
    ink = yarn_inks.get(each.stretches[0].colour)
    return f"{each.number}{ink.label if ink and ink.key != before else ''}"


def _row_number(grid: Grid, each: DrawnRound, row: int, label: str, width: int) -> None:
    words = f"→ {label}" if each.backward else f"{label} ←"
    x = _SIDE - 2 - len(words) if each.backward else _SIDE + width + 2
    grid.put(max(0, x), row, PictureBit(words[:_SIDE], Style.NUMBER))


# A round as one line of symbols, its repeats in brackets as they are worked: as long as its text, however many

MOST_ALIKE = 12
"""Up to so many equal symbols are written out; more are written once, with a number."""
MOST_LINES = 4
"""A round that needs more lines than this is cut, with an ellipsis."""


def run_lines(plan: Plan, colour: str, glyphs: Glyphs, columns: int) -> list[PictureLine]:
    """The round in lines of at most `columns` characters; yarn letters stand before the first stitch of each."""
    lines: list[list[PictureBit]] = [[]]
    for bit in _spaced(plan, colour, glyphs):
        length = sum(len(each.text) for each in lines[-1])
        if length + len(bit.text) > columns and length:
            if len(lines) == MOST_LINES:
                lines[-1].append(PictureBit("…", Style.QUIET))
                break
            lines.append([])
        lines[-1].append(PictureBit(bit.text[:columns], bit.style, bit.colour))
    return [line(bits) for bits in lines]


def _spaced(plan: Plan, colour: str, glyphs: Glyphs) -> Iterator[PictureBit]:
    before = None
    for bit in _RunWalk(colour, glyphs).bits(plan.body):
        if before is not None and before.text != "(" and bit.text != ")":
            yield PictureBit(" ", Style.QUIET)
        yield bit
        before = bit


def _merged(body: tuple[Node, ...]) -> list[Node]:
    """The same with neighbouring runs of one plain stitch made into one."""
    nodes: list[Node] = []
    for node in body:
        last = nodes[-1] if nodes else None
        if isinstance(node, Run) and isinstance(last, Run) and _alike(node.act, last.act):
            nodes[-1] = Run(last.act, last.times + node.times)
        else:
            nodes.append(node)
    return nodes


def _alike(act: Act, other: Act) -> bool:
    plain = act.role is other.role is not Role.STEP and act.moves == other.moves == 1 and act.makes == other.makes
    return plain and act.takes == other.takes and act.colour == other.colour


class _RunWalk:
    """Goes along the tree of a round and remembers the yarn in use."""

    def __init__(self, colour: str, glyphs: Glyphs) -> None:
        self._colour = colour
        self._glyphs = glyphs

    def bits(self, body: tuple[Node, ...]) -> Iterator[PictureBit]:
        for node in _merged(body):
            if isinstance(node, Run):
                yield from self._run(node)
            elif node.times == 1:
                yield from self.bits(node.body)
            else:
                yield PictureBit("(", Style.QUIET)
                yield from self.bits(node.body)
                yield PictureBit(")", Style.QUIET)
                yield PictureBit(f"{node.times:,} times", Style.NUMBER)

    def _run(self, run: Run) -> Iterator[PictureBit]:
        if run.act.colour and run.act.colour != self._colour:
            self._colour = run.act.colour
            yield PictureBit(f"{self._colour}:", Style.LETTER, self._colour)
        parts = list(self._glyphs.of_act(run.act))
        alike = len({glyph for glyph, _ in parts}) == 1
        total = sum(count for _, count in parts)
        if alike and total == 1 and run.times > MOST_ALIKE:
            yield self._symbol(parts[0][0])
            yield PictureBit(f"{run.times:,} times", Style.NUMBER)
        elif parts and total * run.times <= MOST_ALIKE * (1 if alike else 2):
            yield from self._written_out(parts, run.times, total)
        elif parts:
            yield PictureBit("(", Style.QUIET)
            yield from self._shortened(parts)
            yield PictureBit(")", Style.QUIET)
            yield PictureBit(f"{run.times:,} times", Style.NUMBER)

    def _written_out(self, parts: list[tuple[str, int]], times: int, total: int) -> Iterator[PictureBit]:
        once = "".join(glyph * count for glyph, count in parts)
        if total == 1:
            yield self._symbol(once * times)
            return
        for _ in range(times):
            yield self._symbol(once)

    def _shortened(self, parts: list[tuple[str, int]]) -> Iterator[PictureBit]:
        for glyph, count in parts:
            if count > MOST_ALIKE:
                yield self._symbol(glyph)
                yield PictureBit(f"{count:,} times", Style.NUMBER)
            else:
                yield self._symbol(glyph * count)

    def _symbol(self, text: str) -> PictureBit:
        return PictureBit(text, Style.SYMBOL, self._colour)
