"""A symbol as the strokes of a pen: lines, curves, ovals and dots, in stitch widths."""

from __future__ import annotations

from math import atan2, pi

from tracker.drawing.chart_model import OVAL_BREADTH, Mark, Oval, oval_length
from tracker.drawing.geometry import Point, unit
from tracker.drawing.symbols import Symbol, SymbolForm, symbol_of
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Loop


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight from point to point; `curved` lines bend towards the middle one of three points. `fine` are links."""

    points: tuple[Point, ...]
    curved: bool = False
    fine: bool = False


@dataclass(frozen=True, slots=True)
class Ellipse:
    """An oval `long` along `along` and `broad` across it, whole diameters; `filled` or drawn as an outline."""

    centre: Point
    long: float
    broad: float
    along: float
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Letter:
    """A few letters: the name of a stitch that only the pattern knows, or the length of a long chain."""

    text: str
    centre: Point


Stroke = Polyline | Ellipse | Letter

ARM = 0.2
"""From the middle of a cross to the end of each arm, sideways and up."""
TOP_BAR = 0.25
"""Half the bar on top of a stem."""
# Half the length of a bar across a stem, in stitch widths; by eye.
_SLASH = 0.17
MOST_LEGS = 7
"""A bundle of more stems is drawn with so many."""
_PEDESTAL = 0.2
"""How high the chain oval is that an extended stitch stands on."""
_LINK_FROM = 0.95
"""A cross further than this from its foot is led to it by a fine line."""


def strokes_of(mark: Mark) -> list[Stroke]:
    """The symbol of a mark, where it stands."""
    if mark.ovals:
        return [*ovals(mark.ovals), *_length(mark)]
    body = _BODIES[mark.symbol.form](mark)
    return [*body, *_loop(mark), *_letter(mark)]


def _letter(mark: Mark) -> list[Stroke]:
    """The letter that tells a stitch from the plain one whose symbol it has."""
    if not mark.symbol.letter:
        return []
    return [Letter(mark.symbol.letter, mark.top + unit(mark.outward + pi / 2) * 0.36 - unit(mark.outward) * 0.3)]


def ovals(chain: tuple[Oval, ...]) -> list[Stroke]:
    """The ovals of a length of chain."""
    long = oval_length(chain)
    return [Ellipse(each.centre, long, min(OVAL_BREADTH, long * 0.7), each.along) for each in chain]


def _length(mark: Mark) -> list[Stroke]:
    """The number of a chain that is too long to draw each of its ovals."""
    if mark.chains <= len(mark.ovals):
        return []
    return [Letter(f"{mark.chains:,}", mark.top + unit(mark.outward) * 0.2)]


def _up(mark: Mark) -> float:
    """The direction from the foot of a stitch to its top."""
    foot = mark.feet[0].toward(mark.feet[-1], 0.5)
    return atan2(mark.top.y - foot.y, mark.top.x - foot.x)


def _dot(mark: Mark) -> list[Stroke]:
    centre = mark.top + unit(mark.outward) * -0.2
    return [*_links(mark, centre), Ellipse(centre, 0.24, 0.24, 0.0, filled=True)]


def _cross(mark: Mark) -> list[Stroke]:
    tall = mark.symbol.drawn_height
    # The arms of a low cross reach from its foot to its top; a tall one stands a little above its middle.
    centre = mark.top + unit(mark.outward) * (-0.5 if tall < 1.2 else -0.45)
    arms: list[Stroke] = []
    for turn in (pi / 4, 3 * pi / 4):
        end = unit(mark.outward + turn) * (ARM * 1.414)
        arms.append(Polyline((centre + end, centre - end)))
    return [*arms, *_links(mark, centre), *_trimmings(mark.symbol, centre, mark)]


def _links(mark: Mark, centre: Point) -> list[Stroke]:
    """Lines that lead from a symbol without a stem to its foot, where that is not plain to see."""
    if mark.is_increase or mark.is_decrease:
        return [Polyline((foot, centre)) for foot in mark.feet]
    if mark.bases and (centre - mark.feet[0]).size > _LINK_FROM:
        return [
            Polyline(
                (mark.feet[0], centre + (mark.feet[0] - centre) * (ARM / (centre - mark.feet[0]).size)), fine=True
            )
        ]
    return []


def _trimmings(symbol: Symbol, centre: Point, mark: Mark) -> list[Stroke]:
    up, side = unit(mark.outward), unit(mark.outward + pi / 2)
    strokes: list[Stroke] = []
    if symbol.footed:
        low = mark.feet[0].toward(mark.feet[-1], 0.5) + up * _PEDESTAL
        stem = [] if mark.is_increase or mark.is_decrease else [Polyline((centre - up * 0.2, low))]
        strokes += [*stem, *(_pedestal(foot, mark.outward) for foot in mark.feet)]
    if symbol.waved:
        top = centre + up * 0.36
        strokes += [
            Polyline((top + side * 0.24, top + side * 0.12 + up * 0.16, top), curved=True),
            Polyline((top, top - side * 0.12 - up * 0.16, top - side * 0.24), curved=True),
        ]
    if symbol.veed:
        foot = centre - up * 0.42
        strokes += [
            Polyline((centre + side * 0.34 + up * 0.1, foot)),
            Polyline((centre - side * 0.34 + up * 0.1, foot)),
        ]
    return strokes


def _stem(mark: Mark) -> list[Stroke]:
    up = _up(mark)
    side = unit(up + pi / 2)
    strokes: list[Stroke] = [Polyline((mark.top + side * TOP_BAR, mark.top - side * TOP_BAR))]
    for foot in mark.feet:
        stem_up = atan2(mark.top.y - foot.y, mark.top.x - foot.x)
        low = foot + unit(stem_up) * _PEDESTAL if mark.symbol.footed else foot
        strokes.append(Polyline((low, mark.top)))
        strokes += _bars(low, mark.top, mark.symbol.bars, low=len(mark.feet) > 1)
        if mark.symbol.footed:
            strokes.append(_pedestal(foot, stem_up))
    return strokes


def _pedestal(foot: Point, up: float) -> Ellipse:
    """The chain oval that an extended stitch stands on; source: a published page on extended stitches (one seen)."""
    return Ellipse(foot + unit(up) * (_PEDESTAL / 2), _PEDESTAL * 2, _PEDESTAL, up + pi / 2)


def _bars(foot: Point, top: Point, count: int, *, low: bool) -> list[Stroke]:
    """Slanted bars across a stem, around its middle; lower where stems run together at the top."""
    up = atan2(top.y - foot.y, top.x - foot.x)
    slant = unit(up + 0.35 * pi) * _SLASH
    length = (top - foot).size
    strokes: list[Stroke] = []
    for each in range(count):
        share = (0.48 if low else 0.6) + (each - (count - 1) / 2) * min(0.26 / max(length, 0.1), 0.2)
        at = foot.toward(top, share)
        strokes.append(Polyline((at + slant, at - slant)))
    return strokes


def _bundle(mark: Mark, legs: int, bulge: float, bars: int) -> list[Stroke]:
    """Stems from one foot (or from each of several) that close together at the top."""
    if len(mark.feet) > 1:
        return _stem_feet(mark, bars)
    foot = mark.feet[0]
    side = unit(_up(mark) + pi / 2)
    strokes: list[Stroke] = []
    for leg in range(legs):
        off = (2 * leg / (legs - 1) - 1) * bulge
        middle = foot.toward(mark.top, 0.5) + side * (2 * off)
        strokes.append(Polyline((foot, middle, mark.top), curved=True))
        for bar in range(bars):
            crossing = foot.toward(mark.top, 0.5 + (bar - (bars - 1) / 2) * 0.12) + side * off
            slant = unit(_up(mark) + 0.35 * pi) * 0.11
            strokes.append(Polyline((crossing + slant, crossing - slant)))
    return strokes


def _stem_feet(mark: Mark, bars: int) -> list[Stroke]:
    strokes: list[Stroke] = []
    for foot in mark.feet:
        strokes.append(Polyline((foot, mark.top)))
        strokes += _bars(foot, mark.top, bars, low=True)
    return strokes


def _top_bar(mark: Mark) -> Polyline:
    side = unit(_up(mark) + pi / 2)
    return Polyline((mark.top + side * TOP_BAR, mark.top - side * TOP_BAR))


def _cluster(mark: Mark) -> list[Stroke]:
    return [*_bundle(mark, _legs(mark, 3), 0.36, _leg_bars(mark)), _top_bar(mark)]


def _legs(mark: Mark, usual: int) -> int:
    """How many stems a bundle has: as many as are told, as far as they can be told apart."""
    return min(MOST_LEGS, max(2, mark.legs[1])) if mark.legs and mark.legs[1] else usual


def _leg_bars(mark: Mark) -> int:
    """The bars on each stem of a bundle: those of its stitch, none for hdc and one for dc, which is the usual one.

    Read on a published page of symbols: bundles without bars are of hdc, with a bar on each stem of dc.
    """
    return symbol_of(mark.legs[0]).bars if mark.legs else 1


def _bobble(mark: Mark) -> list[Stroke]:
    return [*_bundle(mark, _legs(mark, 5), 0.42, _leg_bars(mark)), _top_bar(mark)]


def _puff(mark: Mark) -> list[Stroke]:
    """Long loops closed together: an outline of ovals, without bars."""
    along = _up(mark)
    middle = mark.feet[0].toward(mark.top, 0.5)
    length = (mark.top - mark.feet[0]).size
    return [Ellipse(middle, length, 0.62, along), Ellipse(middle, length, 0.22, along)]


def _popcorn(mark: Mark) -> list[Stroke]:
    """A fan closed at the top with an oval."""
    side = unit(_up(mark) + pi / 2)
    high = mark.feet[0].toward(mark.top, 0.86)
    strokes: list[Stroke] = []
    legs = _legs(mark, 5)
    for leg in range(legs):
        end = high + side * ((2 * leg / (legs - 1) - 1) * 0.4)
        strokes.append(Polyline((mark.feet[0], end)))
        for bar in range(_leg_bars(mark)):
            crossing = mark.feet[0].toward(end, 0.82 - 0.14 * bar)
            slant = unit(_up(mark) + 0.35 * pi) * 0.08
            strokes.append(Polyline((crossing + slant, crossing - slant)))
    return [*strokes, Ellipse(mark.feet[0].toward(mark.top, 0.93), 0.92, 0.26, _up(mark) + pi / 2)]


def _letter_box(mark: Mark) -> list[Stroke]:
    """A box with a letter, on a stem from each foot."""
    side, up = unit(mark.outward + pi / 2), unit(mark.outward)
    centre = mark.top - up * 0.36
    corners = [centre + side * x * 0.34 + up * y * 0.34 for x, y in ((1, 1), (-1, 1), (-1, -1), (1, -1), (1, 1))]
    low = centre - up * 0.34
    letter = next((c.upper() for c in mark.name or mark.kind if c.isalnum()), "?")
    return [*(Polyline((foot, low)) for foot in mark.feet), Polyline(tuple(corners)), Letter(letter, centre)]


def _nothing(mark: Mark) -> list[Stroke]:
    return []


_BODIES = {
    SymbolForm.DOT: _dot,
    SymbolForm.CROSS: _cross,
    SymbolForm.STEM: _stem,
    SymbolForm.OVAL: _nothing,
    SymbolForm.PICOT: _nothing,
    SymbolForm.CLUSTER: _cluster,
    SymbolForm.BOBBLE: _bobble,
    SymbolForm.POPCORN: _popcorn,
    SymbolForm.PUFF: _puff,
    SymbolForm.NAMED: _letter_box,
}


def _loop(mark: Mark) -> list[Stroke]:
    """What tells which loop or post is taken up, at the foot."""
    if mark.loop_shown is Loop.BOTH:
        return []
    up, side = unit(_up(mark)), unit(_up(mark) + pi / 2)
    strokes: list[Stroke] = []
    for foot in mark.feet:
        if mark.loop_shown in (Loop.BACK, Loop.FRONT):
            bow = up * (0.14 if mark.loop_shown is Loop.BACK else -0.14)
            strokes.append(Polyline((foot + side * 0.22, foot + bow, foot - side * 0.22), curved=True))
        else:
            away = side * (-0.26 if mark.loop_shown is Loop.FRONT_POST else 0.26)
            strokes.append(Polyline((foot, foot - up * 0.22 + away * 0.4, foot + away), curved=True))
    return strokes
