"""A round as one line of symbols, its repeats in brackets as they are worked: as long as its text, however many
stitches it has."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.pictures.glyphs import Glyphs
from tracker.pictures.lines import Bit, Line, Style, line
from tracker.rounds.plan import Act, Node, Plan, Role, Run

MOST_ALIKE = 12
"""Up to so many equal symbols are written out; more are written once, with a number."""
MOST_LINES = 4
"""A round that needs more lines than this is cut, with an ellipsis."""


def run_lines(plan: Plan, colour: str, glyphs: Glyphs, columns: int) -> list[Line]:
    """The round in lines of at most `columns` characters; yarn letters stand before the first stitch of each."""
    lines: list[list[Bit]] = [[]]
    for bit in _spaced(plan, colour, glyphs):
        used = sum(len(each.text) for each in lines[-1])
        if used + len(bit.text) > columns and used:
            if len(lines) == MOST_LINES:
                lines[-1].append(Bit("…", Style.QUIET))
                break
            lines.append([])
        lines[-1].append(Bit(bit.text[:columns], bit.style, bit.colour))
    return [line(bits) for bits in lines]


def _spaced(plan: Plan, colour: str, glyphs: Glyphs) -> Iterator[Bit]:
    before = None
    for bit in _Walk(colour, glyphs).bits(plan.body):
        if before is not None and before.text != "(" and bit.text != ")":
            yield Bit(" ", Style.QUIET)
        yield bit
        before = bit


def _merged(body: tuple[Node, ...]) -> list[Node]:
    """The same with neighbouring runs of one plain stitch made into one."""
    found: list[Node] = []
    for node in body:
        last = found[-1] if found else None
        if isinstance(node, Run) and isinstance(last, Run) and _alike(node.act, last.act):
            found[-1] = Run(last.act, last.times + node.times)
        else:
            found.append(node)
    return found


def _alike(act: Act, other: Act) -> bool:
    plain = act.role is other.role is not Role.STEP and act.moves == other.moves == 1 and act.makes == other.makes
    return plain and act.takes == other.takes and act.colour == other.colour


class _Walk:
    """Goes along the tree of a round and remembers the yarn in use."""

    def __init__(self, colour: str, glyphs: Glyphs) -> None:
        self._colour = colour
        self._glyphs = glyphs

    def bits(self, body: tuple[Node, ...]) -> Iterator[Bit]:
        for node in _merged(body):
            if isinstance(node, Run):
                yield from self._run(node)
            elif node.times == 1:
                yield from self.bits(node.body)
            else:
                yield Bit("(", Style.QUIET)
                yield from self.bits(node.body)
                yield Bit(")", Style.QUIET)
                yield Bit(f"{node.times:,} times", Style.NUMBER)

    def _run(self, run: Run) -> Iterator[Bit]:
        if run.act.colour and run.act.colour != self._colour:
            self._colour = run.act.colour
            yield Bit(f"{self._colour}:", Style.LETTER, self._colour)
        parts = list(self._glyphs.of_act(run.act))
        alike = len({glyph for glyph, _ in parts}) == 1
        total = sum(count for _, count in parts)
        if alike and total == 1 and run.times > MOST_ALIKE:
            yield self._symbol(parts[0][0])
            yield Bit(f"{run.times:,} times", Style.NUMBER)
        elif parts and total * run.times <= MOST_ALIKE * (1 if alike else 2):
            yield from self._written_out(parts, run.times, total)
        elif parts:
            yield Bit("(", Style.QUIET)
            yield from self._shortened(parts)
            yield Bit(")", Style.QUIET)
            yield Bit(f"{run.times:,} times", Style.NUMBER)

    def _written_out(self, parts: list[tuple[str, int]], times: int, total: int) -> Iterator[Bit]:
        once = "".join(glyph * count for glyph, count in parts)
        if total == 1:
            yield self._symbol(once * times)
            return
        for _ in range(times):
            yield self._symbol(once)

    def _shortened(self, parts: list[tuple[str, int]]) -> Iterator[Bit]:
        for glyph, count in parts:
            if count > MOST_ALIKE:
                yield self._symbol(glyph)
                yield Bit(f"{count:,} times", Style.NUMBER)
            else:
                yield self._symbol(glyph * count)

    def _symbol(self, text: str) -> Bit:
        return Bit(text, Style.SYMBOL, self._colour)
