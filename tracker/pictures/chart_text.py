"""A chart in a terminal: one character a stitch on rings, ovals or rows; where they do not fit, a line a round."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from tracker.notation.ast import Loop
from tracker.pattern.model import Pattern, Round
from tracker.pictures.drawn import Chart, Shape
from tracker.pictures.glyphs import RING, SKIPPED, Glyphs
from tracker.pictures.inks import Ink, inks, short
from tracker.pictures.key import WHERE, in_order, meaning, uses_of_act
from tracker.pictures.lines import Bit, Line, Style, bits, line, wrapped
from tracker.pictures.rings_text import draw_rings, draw_rows
from tracker.pictures.runs import run_lines

MOST_LISTED = 500
"""Rounds that are drawn as lines; a longer piece says how many are left out."""
MOST_RUNS = 12
"""Changes of colour in one round, or rounds of one loop, that are told in words."""
MOST_YARNS = 20
_LABEL = 9
"""Columns for the heading of a round before its line."""
_READING = {
    Shape.ROUND: "read counter-clockwise from the middle; numbers stand where rounds begin",
    Shape.OVAL: "read counter-clockwise from the chain outwards; numbers stand where rounds begin",
    Shape.ROWS: "read from the bottom up; arrows tell the way of each row",
}


def chart_text(
    chart: Chart, pattern: Pattern, heading: str, rounds: Sequence[Round], columns: int, rows: int, terms: str = ""
) -> tuple[Line, ...]:
    """Heading, drawing and key for these `rounds` of one piece; the drawing takes at most `rows` lines.

    A drawing by lines may be longer: one line a round, or a few where a round is long.
    """
    glyphs = Glyphs()
    known = inks(pattern, _colours(rounds))
    head = line([Bit(short(heading, columns), Style.HEADING)])
    whole = len(chart.drawn) == len(rounds) and not any(each.undrawn for each in chart.drawn)
    body = _drawing(chart, glyphs, known, columns, rows) if whole else None
    if body is None:
        body = _by_lines(rounds, glyphs, columns)
    else:
        body += [*_quiet(_READING[chart.shape], columns), *_colour_runs(chart, known, columns)]
    below = [
        *_loops(rounds, columns),
        *_yarns(known, columns),
        *_key(rounds, glyphs, terms or pattern.terms, columns),
    ]
    return (head, Line(""), *body, Line(""), *below)


def _colours(rounds: Sequence[Round]) -> Iterator[str]:
    for each in rounds:
        yield each.colour
        if each.plan is not None:
            yield from (act.colour for act in each.plan.acts())


def _quiet(words: str, columns: int) -> list[Line]:
    return [line([Bit(part, Style.QUIET)]) for part in wrapped(words, columns)]


def _drawing(chart: Chart, glyphs: Glyphs, known: Mapping[str, Ink], columns: int, rows: int) -> list[Line] | None:
    if not chart.drawn:
        return None
    if chart.shape is Shape.ROWS:
        return draw_rows(chart, glyphs, known, columns, rows)
    return draw_rings(chart, glyphs, known, columns, rows)


def _by_lines(rounds: Sequence[Round], glyphs: Glyphs, columns: int) -> list[Line]:
    """Every round a line: its heading, its symbols with repeats in brackets, and what it leaves."""
    if not rounds:
        return _quiet("there is nothing to draw yet", columns)
    found = []
    for each in rounds[:MOST_LISTED]:
        found += _one_by_lines(each, glyphs, columns)
    if len(rounds) > MOST_LISTED:
        found += _quiet(f"{len(rounds) - MOST_LISTED:,} more rounds are not listed; draw one at a time", columns)
    return found


def _one_by_lines(each: Round, glyphs: Glyphs, columns: int) -> list[Line]:
    label = short(each.label or str(each.number), _LABEL - 1).ljust(_LABEL)
    if each.plan is None:
        return [line([Bit(label, Style.NUMBER), Bit("could not be read", Style.QUIET)])]
    letter = [Bit(f"{each.colour}: ", Style.LETTER, each.colour)] if each.colour else []
    total = f"  {each.plan.leaves:,}"
    first, *rest = run_lines(each.plan, each.colour, glyphs, max(8, columns - _LABEL - len(total) - 4))
    lines = [line([Bit(label, Style.NUMBER), *letter, *bits(first), Bit(total, Style.NUMBER)])]
    return [*lines, *(line([" " * _LABEL, *bits(more)]) for more in rest)]


def _colour_runs(chart: Chart, known: Mapping[str, Ink], columns: int) -> list[Line]:
    """In words where colours change within a round, for those who cannot see them."""
    found = []
    for each in chart.drawn:
        if len(each.stretches) > 1 and all(stretch.colour in known for stretch in each.stretches):
            runs = [f"{known[stretch.colour].label} {stretch.stitches}" for stretch in each.stretches[:MOST_RUNS]]
            more = ", …" if len(each.stretches) > MOST_RUNS else ""
            found += _quiet(f"{each.number}: {', '.join(runs)}{more}", columns)
    return found


def _loops(rounds: Sequence[Round], columns: int) -> list[Line]:
    """Which rounds take up another part of the stitch than both loops."""
    found: dict[Loop, list[str]] = {}
    for each in rounds:
        loops = {act.loop for act in each.plan.acts()} if each.plan else set()
        for loop in loops - {Loop.BOTH}:
            found.setdefault(loop, []).append(short(each.label or str(each.number), 12))
    lines = []
    for loop, labels in sorted(found.items(), key=lambda item: item[0].value):
        more = ", …" if len(labels) > MOST_RUNS else ""
        lines += _quiet(f"{WHERE[loop]}: {', '.join(labels[:MOST_RUNS])}{more}", columns)
    return lines


def _yarns(known: Mapping[str, Ink], columns: int) -> list[Line]:
    found = []
    for ink in list(known.values())[:MOST_YARNS]:
        words = ink.label if ink.name == ink.label else f"{ink.label}  {ink.name}"
        found.append(
            line([Bit(short(ink.label, columns), Style.LETTER, ink.key), short(words, columns)[len(ink.label) :]])
        )
    return found


def _key(rounds: Sequence[Round], glyphs: Glyphs, terms: str, columns: int) -> list[Line]:
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
        line([Bit(glyph.ljust(wide), Style.SYMBOL), short(words, max(8, columns - wide))]) for glyph, words in entries
    ]
