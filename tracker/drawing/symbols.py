"""Which symbol stands for which stitch. Data only.

Shapes: Craft Yarn Council chart symbols (from memory): chain an oval, slip stitch a filled dot, single crochet a
cross, half double a T, each taller stitch one slanted bar more; stems that meet at the base are worked into one
place, stems that meet at the top are closed together. JIS L 0201 differs only in small ways.
Heights on the paper follow the turning chains of the stitches, drawn closer together than they are worked.
"""

from __future__ import annotations

from enum import Enum

from tracker.lazy_dataclass import dataclass
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import abbreviation, full_name


class SymbolForm(Enum):
    """The body of a symbol."""

    DOT = "dot"
    CROSS = "cross"
    STEM = "stem"
    OVAL = "oval"
    CLUSTER = "cluster"
    BOBBLE = "bobble"
    POPCORN = "popcorn"
    PUFF = "puff"
    PICOT = "picot"
    NAMED = "named"


@dataclass(frozen=True, slots=True)
class Symbol:
    """How one kind of stitch is drawn.

    `drawn_height` is in stitch widths; `bars` are the slanted bars on the stem; `footed` stitches stand on a chain
    oval, `waved` ones a wave on top, `veed` ones stand in a V. `glyph` is its one character in a terminal.
    """

    form: SymbolForm
    drawn_height: float
    glyph: str
    bars: int = 0
    footed: bool = False
    waved: bool = False
    veed: bool = False
    letter: str = ""
    """Beside the symbol of the plain stitch, for one that the published symbols do not have."""


SYMBOLS: dict[str, Symbol] = {
    "sl st": Symbol(SymbolForm.DOT, 0.55, "•"),
    "sc": Symbol(SymbolForm.CROSS, 1.0, "x"),
    "hdc": Symbol(SymbolForm.STEM, 1.4, "T"),
    "dc": Symbol(SymbolForm.STEM, 2.0, "†", bars=1),
    "tr": Symbol(SymbolForm.STEM, 2.6, "‡", bars=2),
    "dtr": Symbol(SymbolForm.STEM, 3.2, "#", bars=3),
    "trtr": Symbol(SymbolForm.STEM, 3.8, "%", bars=4),
    "qtr": Symbol(SymbolForm.STEM, 4.4, "&", bars=5),
    "yusc": Symbol(SymbolForm.CROSS, 1.0, "y", letter="u"),
    "spike": Symbol(SymbolForm.CROSS, 1.4, "S", letter="s"),
    "ldc": Symbol(SymbolForm.STEM, 2.4, "L", bars=1, letter="d"),
    "lkdc": Symbol(SymbolForm.STEM, 2.0, "t", bars=1, letter="l"),
    "lktr": Symbol(SymbolForm.STEM, 2.6, "d", bars=2, letter="l"),
    "hhdc": Symbol(SymbolForm.STEM, 1.4, "H", letter="h"),
    "loop st": Symbol(SymbolForm.CROSS, 1.0, "l", letter="o"),
    "bean": Symbol(SymbolForm.PUFF, 1.4, "u", letter="b"),
    "esc": Symbol(SymbolForm.CROSS, 1.4, "X", footed=True),
    "ehdc": Symbol(SymbolForm.STEM, 1.8, "I", footed=True),
    "edc": Symbol(SymbolForm.STEM, 2.4, "J", bars=1, footed=True),
    "rsc": Symbol(SymbolForm.CROSS, 1.0, "~", waved=True),
    "wst": Symbol(SymbolForm.CROSS, 1.0, "Y", veed=True),
    "ch": Symbol(SymbolForm.OVAL, 0.5, "o"),
    "cluster": Symbol(SymbolForm.CLUSTER, 2.0, "C"),
    "bobble": Symbol(SymbolForm.BOBBLE, 2.0, "B"),
    "popcorn": Symbol(SymbolForm.POPCORN, 2.0, "P"),
    "puff": Symbol(SymbolForm.PUFF, 2.0, "U"),
    "bullion": Symbol(SymbolForm.PUFF, 2.4, "K", letter="k"),
    "picot": Symbol(SymbolForm.PICOT, 0.9, "c"),
}

UNKNOWN = Symbol(SymbolForm.NAMED, 1.4, "?")
"""For a stitch that only the pattern itself names: a box with the first letter of the name."""


def symbol_of(kind: str) -> Symbol:
    """The symbol of a stitch by its US name."""
    return SYMBOLS.get(kind, UNKNOWN)


def name_of(kind: str, terms: str) -> str:
    """A stitch as the key names it: "dc - double crochet". Named groups are called by their name alone."""
    if kind == "ch":
        return "ch - chain"
    short, whole = abbreviation(kind, terms), full_name(kind, terms)
    if kind in BUNCH_BY_ID or short == whole:
        return whole
    return f"{short} - {whole}"
