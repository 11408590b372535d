"""Which character stands for which stitch in a terminal: one of its own for each use, all explained in the key."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from tracker.pictures.drawn import Mark
from tracker.pictures.inks import short
from tracker.pictures.key import DECREASE, INCREASE, PLAIN, Use
from tracker.pictures.symbols import symbol_of
from tracker.rounds.plan import Act, Made, Role

MOST_WRITTEN = 8
"""Characters of a group that the key writes out; a longer one is known by its first."""
_SPARE = "WYMNKLHZGDSEF123456789"
_OWN = {(INCREASE, "sc"): "v", (DECREASE, "sc"): "^"}
_USUAL = {INCREASE: "V", DECREASE: "A"}
SKIPPED = "_"
"""A place that is passed over."""
RING = "@"
"""The magic ring in the middle."""


@dataclass
class Glyphs:
    """Gives each sort of stitch its character, in the order in which they are first met."""

    _taken: dict[tuple[int, str], str] = field(default_factory=dict)
    others: set[str] = field(default_factory=set)
    """Which of the ring and the sign for a place passed over are in use."""

    def of(self, rank: int, kind: str) -> str:
        """The character for a stitch of this kind, plain, in an increase, or in a decrease."""
        place = rank if rank in (INCREASE, DECREASE) else PLAIN, kind
        if place not in self._taken:
            wanted = [_OWN.get(place, _USUAL.get(rank, symbol_of(kind).glyph)), *_SPARE]
            used = {*self._taken.values(), SKIPPED, RING}
            self._taken[place] = next((glyph for glyph in wanted if glyph not in used), "?")
        return self._taken[place]

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
            return self.of(PLAIN, "ch" if mark.name != "picot" else "picot")
        return self.of(_rank(mark.is_increase, mark.is_decrease), _kind(mark.kind, mark.name))

    def of_act(self, act: Act) -> Iterable[tuple[str, int]]:
        """The characters of an act, each with how often it stands: a chain of 3 is three ovals."""
        if act.role is Role.SKIP:
            self.others.add(SKIPPED)
            return [(SKIPPED, 1)]
        if act.role is Role.STEP:
            return [(self.join(), 1)] if act.name == "join" else []
        return [(self._of_made(act, made), made.count) for made in act.makes]

    def _of_made(self, act: Act, made: Made) -> str:
        if made.is_chain:
            return self.of(PLAIN, "picot" if act.name == "picot" else "ch")
        return self.of(_rank(act.is_increase, act.is_decrease), _kind(made.kind, act.name))

    def of_use(self, use: Use) -> str:
        """What an entry of the key explains, as it stands in the drawing: "VVV" for three; "" where nothing does."""
        if use.company:
            ranked = [(PLAIN if kind == "ch" else use.rank, kind, count) for kind, count in use.company]
            written = "".join(self._taken.get((rank, kind), "") * count for rank, kind, count in ranked)
            return written if len(written) <= MOST_WRITTEN else written[0]
        return self._taken.get((use.rank, use.name or use.kind), "")


def _rank(increase: bool, decrease: bool) -> int:
    if increase:
        return INCREASE
    return DECREASE if decrease else PLAIN


def _kind(kind: str, name: str) -> str:
    """Named groups that only the pattern knows have a character each."""
    return kind if symbol_of(kind).glyph != "?" else short(name or kind, 24)
