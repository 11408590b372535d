"""The key of a chart: each symbol that is used, once, with its name in the maker's terms."""

from __future__ import annotations

import string
from collections.abc import Iterable
from math import pi

from tracker.drawing.chart_model import CHAIN_LENGTH, SEEN_FROM_BEHIND, Chart, Mark, Middle, Oval, arc, column, loop
from tracker.drawing.geometry import Foot, Point
from tracker.drawing.symbols import SYMBOLS, SymbolForm, name_of, symbol_of
from tracker.drawing.yarn_letters import short
from tracker.lazy_dataclass import dataclass, field, replace
from tracker.notation.ast import CHAIN_BASE, Into, Loop, Made, Role, Technique
from tracker.notation.bunches import BUNCH_BY_ID, PICOT
from tracker.notation.glossary import abbreviation
from tracker.phrasing.stitches import WordStyle, loop_words
from tracker.rounds.plan import Act

MOST_ENTRIES = 40
"""A chart that uses more symbols than this explains the first so many."""
_DRAWN = 5
"""A sample shows at most so many stems or chains."""
_FEET_APART = 0.4
"""How far apart the feet of a sample stand that is worked into a space, as a share of how far the tops do."""


RIGHT_SIDE = (
    "The chart shows the right side: on a wrong-side row work back post where front post is drawn, "
    "back loop where front loop is drawn, and the other way round."
)


@dataclass(frozen=True, slots=True, order=True)
class Use:
    """One way in which a symbol is used.

    `company` is all that is worked into one place, as (kind, count); `legs` is how many places end in one stitch, or
    the length of a chain that stands for a stitch. `name` is given for what only the pattern or the trade names.
    `of` is what a bobble or the like is made of, as (stitch, how many), as far as that is told.
    Stitches worked `in_space` go under a chain. `loop` is what the right side shows, worked as the other one if
    `behind`, on the wrong side.
    """

    rank: int
    kind: str
    company: tuple[tuple[str, int], ...] = ()
    legs: int = 1
    loop: str = ""
    name: str = ""
    behind: bool = False
    in_space: bool = False
    of: tuple[str, int] = ("", 0)


PLAIN, INCREASE, DECREASE, LOOPED, STANDING = range(5)


@dataclass(frozen=True, slots=True)
class LegendEntry:
    """One line of the key: sample symbols standing on the level 0, and what they mean."""

    use: Use
    sample: tuple[Mark, ...]
    meaning: str


def key(chart: Chart, terms: str) -> tuple[LegendEntry, ...]:
    """The entries for all that is drawn in a chart, plain stitches first; `terms` is "US" or "UK"."""
    uses: set[Use] = set()
    for each in chart.drawn:
        uses.update(use for mark in each.marks for use in uses_of(mark))
        if each.joined:
            uses.add(Use(PLAIN, "sl st"))
    if chart.shows_start and chart.start.middle in (Middle.CHAIN, Middle.CHAIN_RING):
        uses.add(Use(PLAIN, "ch"))
    return tuple(LegendEntry(use, _sample(use), meaning(use, terms)) for use in in_order(uses))


def explain_side(chart: Chart) -> tuple[str, ...]:
    """A sentence for a chart in which what is drawn is not what the hands do; none for the others."""
    turned = [mark for each in chart.drawn for mark in each.marks if mark.loop_shown is not mark.loop]
    return (RIGHT_SIDE,) if turned else ()


def in_order(uses: Iterable[Use]) -> list[Use]:
    """Plain stitches first, low before tall; not more than are explained."""
    return sorted(set(uses), key=_order)[:MOST_ENTRIES]


def _order(use: Use) -> tuple[int, float, Use]:
    return use.rank, symbol_of(use.kind).drawn_height, use


def uses_of(mark: Mark) -> Iterable[Use]:
    """What the key has to explain for this mark."""
    if mark.standing and mark.counted:
        return [Use(PLAIN, "ch"), Use(STANDING, "ch", legs=mark.chains)]
    if mark.chains:
        return [Use(PLAIN, "picot" if mark.symbol.form is SymbolForm.PICOT else "ch")]
    name = short(mark.name or mark.kind, 24) if mark.symbol.form is SymbolForm.NAMED else ""
    uses = [Use(PLAIN, mark.kind, name=name, of=mark.legs or ("", 0))]
    if mark.is_increase:
        uses.append(_company(mark.company, mark.name, in_space=mark.in_space))
    if mark.is_decrease:
        uses.append(Use(DECREASE, mark.kind, legs=len(mark.bases), name=name))
    if mark.loop is not Loop.BOTH:
        uses.append(Use(LOOPED, mark.kind, loop=mark.loop_shown.value, name=name, behind=mark.wrong_side))
    return uses


def _company(makes: Iterable[Made], name: str, *, in_space: bool) -> Use:
    company = tuple((made.kind, made.count) for made in makes)[:_DRAWN]
    return Use(INCREASE, company[0][0], company, name=name if name in BUNCH_BY_ID else "", in_space=in_space)


def uses_of_act(act: Act) -> list[Use]:
    """What the key has to explain for an act, drawn by characters."""
    if act.role is Role.STEP:
        return [Use(PLAIN, "sl st"), Use(PLAIN, "ch")]
    uses = []
    for made in act.makes:
        if made.kind == CHAIN_BASE:
            return [Use(PLAIN, "ch")]
        name = short(act.name or made.kind, 24) if symbol_of(made.kind).form is SymbolForm.NAMED else ""
        uses.append(Use(PLAIN, PICOT if act.technique is Technique.PICOT else made.kind, name=name))
        if act.is_decrease:
            uses.append(Use(DECREASE, made.kind, legs=act.takes // max(1, act.stitches), name=name))
    if act.is_increase or (act.into is Into.SAME and act.stitches > 1):
        uses.append(_company(act.makes, act.name, in_space=act.into is Into.SPACE))
    return uses


def meaning(use: Use, terms: str) -> str:
    """An entry in words, in US or UK terms."""
    if use.rank == STANDING:
        return f"ch {use.legs} that stands for a stitch"
    if use.rank == INCREASE:
        return _together_in_one(use, terms)
    name = use.name or _short(use.kind, terms)
    if use.rank == DECREASE:
        return f"{name}{use.legs}tog" + (" (dec)" if use.legs == 2 else "")
    if use.rank == LOOPED:
        return f"{name} {_where(Loop(use.loop), use.behind)}"
    return use.name or f"{name_of(use.kind, terms)}{_made_of(use.of, terms)}"


def _made_of(legs: tuple[str, int], terms: str) -> str:
    kind, count = legs
    number = f"{count} " if count else ""
    return f" of {number}{_short(kind, terms)}" if kind else ""


def _where(loop_shown: Loop, behind: bool) -> str:
    """Which loop or post, as it is worked."""
    if behind:
        return f"worked {SEEN_FROM_BEHIND[loop_shown].value} on the wrong side"
    return loop_words(loop_shown, WordStyle.KEY)


def _together_in_one(use: Use, terms: str) -> str:
    counts = [f"ch {n}" if kind == "ch" else f"{n} {_short(kind, terms)}" for kind, n in use.company]
    words = ", ".join(counts) + (" in one space" if use.in_space else " in one place")
    if use.name:
        return f"{use.name}: {words}"
    return f"{words} (inc)" if [n for _, n in use.company] == [2] and not use.in_space else words


def _short(kind: str, terms: str) -> str:
    return short(kind, 24) if kind in BUNCH_BY_ID else abbreviation(kind, terms)


def _sample(use: Use) -> tuple[Mark, ...]:
    if use.rank == STANDING:
        count = min(use.legs, _DRAWN)
        return (_chain(column(_GROUND.point, _GROUND.raised(CHAIN_LENGTH * count), count)),)
    if use.kind == "ch":
        return (_chain(arc(Point(-0.3, 0.3), Point(0.3, 0.3), pi / 2, 1)),)
    if use.kind == "picot":
        return (_chain(loop(_GROUND, 3)),)
    mark = _alone(use)
    if use.rank == INCREASE:
        return _fan(use.company, use.in_space)
    if use.rank == DECREASE:
        return (_together(mark, min(use.legs, _DRAWN)),)
    return (mark,)


_GROUND = Foot(Point(0.0, 0.0), pi / 2)


def _alone(use: Use) -> Mark:
    symbol = symbol_of(use.kind)
    return Mark(
        kind=use.kind,
        symbol=symbol,
        name=use.name,
        top=Point(0.0, symbol.drawn_height),
        outward=pi / 2,
        feet=(Point(0.0, 0.1),),
        bases=(0,),
        distance=0.0,
        width=1.0,
        loop=Loop(use.loop),
        legs=use.of if use.of[0] else None,
    )


def _chain(ovals: tuple[Oval, ...]) -> Mark:
    return replace(_alone(Use(PLAIN, "ch")), ovals=ovals, chains=len(ovals))


def _fan(company: tuple[tuple[str, int], ...], in_space: bool) -> tuple[Mark, ...]:
    """What is worked into one place, side by side; chains leave a gap. In a space the feet stand apart."""
    kinds = [kind for kind, count in company for _ in range(1 if kind == "ch" else min(count, _DRAWN))][: _DRAWN + 2]
    pitch = 0.8 if len(kinds) < _DRAWN else 0.7
    fan = []
    for place, kind in enumerate(kinds):
        mark = _alone(Use(PLAIN, kind))
        at = Point((place - (len(kinds) - 1) / 2) * pitch, mark.top.y)
        if kind == "ch":
            fan.append(_chain((Oval(Point(at.x, 1.9), 0.0),)))
        else:
            foot = Point(at.x * _FEET_APART, mark.feet[0].y) if in_space else mark.feet[0]
            fan.append(replace(mark, top=at, feet=(foot,), fan=len(kinds)))
    return tuple(fan)


def _together(mark: Mark, count: int) -> Mark:
    places = [(each - (count - 1) / 2) * 0.9 for each in range(count)]
    feet = tuple(Point(x, 0.0) for x in places)
    return replace(mark, feet=feet, bases=tuple(range(count)))


# Which character stands for which stitch in a terminal: one of its own for each use, all explained in the key.

MOST_WRITTEN = 8
"""Characters of a group that the key writes out; a longer one is known by its first."""
_SPARE = "WYMNKLHZGDSEF123456789"
_MORE = string.ascii_letters
"""For a pattern that names more stitches of its own than there are spare signs."""
_ANY = "*"
"""For those after the last sign that is free: the key then stands for several."""
_OWN = {(INCREASE, "sc"): "v", (DECREASE, "sc"): "^"}
_USUAL = {INCREASE: "V", DECREASE: "A"}
SKIPPED = "_"
"""A place that is passed over."""
RING = "@"
"""The magic ring in the middle."""


@dataclass
class Glyphs:
    """Gives each sort of stitch its character, in the order in which they are first met."""

    _glyph_by_place: dict[tuple[int, str], str] = field(default_factory=dict)
    others: set[str] = field(default_factory=set)
    """Which of the ring and the sign for a place passed over are in use."""

    def of(self, rank: int, kind: str) -> str:
        """The character for a stitch of this kind, plain, in an increase, or in a decrease."""
        place = rank if rank in (INCREASE, DECREASE) else PLAIN, kind
        if place not in self._glyph_by_place:
            usual = symbol_of(kind).glyph if kind in SYMBOLS else next((c.upper() for c in kind if c.isalpha()), "N")
            candidates = [_OWN.get(place, _USUAL.get(rank, usual)), *_SPARE, *_MORE]
            glyphs_in_use = {*self._glyph_by_place.values(), SKIPPED, RING}
            self._glyph_by_place[place] = next((glyph for glyph in candidates if glyph not in glyphs_in_use), _ANY)
        return self._glyph_by_place[place]

    def ring(self) -> str:
        """The character of the magic ring."""
        self.others.add(RING)
        return RING

    def join(self) -> str:
        """The character of the slip stitch that closes a round."""
        return self.of(PLAIN, "sl st")

    def of_mark(self, mark: Mark) -> str:
        """The character for a symbol of a chart."""
        if mark.chains:
            return self.of(PLAIN, PICOT if mark.name == PICOT else "ch")
        return self.of(_rank(mark.is_increase, mark.is_decrease), _kind(mark.kind, mark.name))

    def of_act(self, act: Act) -> Iterable[tuple[str, int]]:
        """The characters of an act, each with how often it stands: a chain of 3 is three ovals."""
        if act.role is Role.SKIP:
            self.others.add(SKIPPED)
            return [(SKIPPED, 1)]
        if act.role is Role.STEP:
            return [(self.join(), 1)] if act.technique is Technique.JOIN else []
        if act.makes and act.makes[0].kind == CHAIN_BASE:
            return [(self.of(PLAIN, "ch"), made.count) for made in act.makes]
        return [(self._of_made(act, made), made.count) for made in act.makes]

    def _of_made(self, act: Act, made: Made) -> str:
        if made.is_chain:
            return self.of(PLAIN, PICOT if act.technique is Technique.PICOT else "ch")
        return self.of(_rank(act.is_increase, act.is_decrease), _kind(made.kind, act.name))

    def of_use(self, use: Use) -> str:
        """What an entry of the key explains, as it stands in the drawing: "VVV" for three; "" where nothing does."""
        if use.company:
            ranked = [(PLAIN if kind == "ch" else use.rank, kind, count) for kind, count in use.company]
            glyphs = "".join(self._glyph_by_place.get((rank, kind), "") * count for rank, kind, count in ranked)
            return glyphs if len(glyphs) <= MOST_WRITTEN else glyphs[0]
        return self._glyph_by_place.get((use.rank, use.name or use.kind), "")


def _rank(increase: bool, decrease: bool) -> int:
    if increase:
        return INCREASE
    return DECREASE if decrease else PLAIN


def _kind(kind: str, name: str) -> str:
    """Named groups that only the pattern knows have a character each."""
    return kind if kind in SYMBOLS else short(name or kind, 24)
