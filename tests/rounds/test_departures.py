"""What could be read otherwise in a line, in which order, and what each departure from the words costs.

Read over line by line: a sign costs 1, a word of a place or a clause that carries nothing 2, prose with a stitch in
brackets 3, "skip" under a chain 4; 5 and more are guesses that the maker is asked about, and "?" stands behind the
cost of those that the maker is asked about whatever it is. Blanks keep every column where it was.
"""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.notation.reader import read_line
from tracker.rounds.departures import departures

LINES: dict[str, list[str]] = {
    # Brackets: taken away, or given the one that they lack, wherever a group may begin or end.
    "sc in next 9 sts), dec": ["1 sc in next 9 sts , dec"],
    "3 sc, (sc, inc x 9 (27)": [
        "1? 3 sc,  sc, inc x 9 (27)",
        "1? 3 sc, (sc, inc)x 9 (27)",
        "1? 3 sc, (sc, inc x 9)(27)",
    ],
    "3 sc, (sc, inc 9 times, sc": [
        "1? 3 sc,  sc, inc 9 times, sc",
        "1? 3 sc, (sc, inc)9 times, sc",
        "1? 3 sc, (sc, inc 9)times, sc",
    ],
    "3 sc, (inc, dec, 3 sc 4, 2 sc": ["1? 3 sc,  inc, dec, 3 sc 4, 2 sc"],
    "(3 sc, [sc, inc) x 3": ["1? (3 sc, [sc, inc] x 3"],
    "[1 sc, inc) x 9": ["1? [1 sc, inc] x 9"],
    "6 sc {3 sc) x 2, sc": ["1? 6 sc {3 sc} x 2, sc"],
    "3 sc, inc in next st) x 9": ["1 3 sc, inc in next st  x 9", "1? 3 sc,(inc in next st) x 9"],
    "(3 sc) dec, 2 sc) x 3": [
        "1 (3 sc) dec, 2 sc  x 3",
        "1? (3 sc) dec,(2 sc) x 3",
        "1? (3 sc)(dec, 2 sc) x 3",
        "1 (3 sc  dec, 2 sc) x 3",
    ],
    "(sc, inc around, sc": ["1?  sc, inc around, sc", "1? (sc, inc)around, sc"],
    "(sc, inc) in next st] x 3, sc": [
        "1 (sc, inc) in next st  x 3, sc",
        "1? (sc, inc)[in next st] x 3, sc",
        "1 (sc, inc  in next st] x 3, sc",
        "1? (sc,[inc) in next st] x 3, sc",
    ],
    # Words that say how or which: left out where all is whole without them.
    "sc snugly in each st": ["2 sc        in each st", "6 a stitch, snugly"],
    "sc very snugly tightly warmly in each st": ["2 sc                            in each st", "6 a stitch, snugly"],
    "sc snugly tightly warmly slowly in each st": [
        "2 sc                              in each st",
        "6 a stitch, snugly",
    ],
    "sc snugly tightly warmly slowly dearly in each st": [],
    "squeeze 9 sc into ring": ["2         9 sc into ring", "6 a stitch, squeeze"],
    "3 sc, squeeze 9 sc into ring": ["2 3 sc,         9 sc into ring", "6 a stitch, squeeze"],
    "sc around snugly, 3 sc": ["2 sc around       , 3 sc", "6 a stitch, snugly"],
    "sc around snugly": ["2 sc around       ", "6 a stitch, snugly"],
    "sc around snugly in": [],
    "2 sc in b st": ["2 2 sc in   st"],
    "sc in nexttt st": ["2 sc in        st", "6 nexttt as next", "6 a stitch, nexttt st", "6 a stitch, nexttt"],
    "sc in coming third st": [],
    # Clauses that carry nothing.
    "sc, then breathe. 3 sc": ["2 sc,             . 3 sc", "6 a stitch, breathe"],
    "sc, breathe. 3 sc": ["6 a stitch, breathe"],
    "3 sc, a blorp, 3 sc": ["2 3 sc,        , 3 sc", "6 a stitch, blorp"],
    "3 sc, blorp, 3 sc": ["6 a stitch, blorp"],
    "3 sc, an blorp of it, 3 sc": [],
    "6 sc (dec as you like) blorple, 3 sc": ["3 6 sc                   blorple, 3 sc"],
    "6 sc (as you like (or not) if you can dec) blorple": [
        "3 6 sc                                       blorple",
        "6 a stitch, blorple",
    ],
    "3 sc, mossy blorple, 3 sc": ["6 mossy as miss", "6 a stitch, mossy blorple", "6 a stitch, mossy"],
    "3 sc, the blorple here (6)": ["2 3 sc,                  (6)", "6 a stitch, blorple"],
    "6 sc, blorple as the far one": ["2 6 sc                        ", "6 a stitch, blorple"],
    "6 sc, blorple as the one behind it": ["2 6 sc                              ", "6 a stitch, blorple"],
    "6 sc, blorple as one": ["2 6 sc                ", "6 a stitch, blorple"],
    "6 sc, blorple as one 2": ["6 a stitch, blorple"],
    # What a round begins with.
    "Edging. Sc around": ["2       . Sc around", "2       . Sc around", "6 a stitch, edging"],
    "Hems. Sc around": ["6 a stitch, hems"],
    "edging. sc around": ["6 a stitch, edging"],
    "tilting the shells of rnd 3 back, 6 sc": ["2                                 , 6 sc", "6 a stitch, tilting"],
    "tying the shells of rnd 3 back, 6 sc": ["2                               , 6 sc", "6 a stitch, tying"],
    "king the shells of rnd 3 back, 6 sc": ["5 king as ring", "6 a stitch, king"],
    "tilted the shells of rnd 3 back, 6 sc": ["6 a stitch, tilted"],
    "tilting the shells of rnd 3 and 2 sc back, 6 sc": [
        "2 tilting the shells of rnd 3 and 2 sc     , 6 sc",
        "6 a stitch, tilting",
    ],
    # Prose that names stitches.
    "6 sc (do these as an inv dec if you can) 3 sc": [
        "3 6 sc                                     3 sc",
        "6 6 sc (do these as an inv dec           ) 3 sc",
        "2 if as in",
        "2 if as of",
    ],
    "6 sc (do these as an inv dec\nif you can) 3 sc": ["3 6 sc                        \n            3 sc"],
    "6 sc (do 2 of these as an inv dec if you can) 3 sc": [
        "6 6 sc (do 2 of these as an inv dec           ) 3 sc",
        "2 if as in",
        "2 if as of",
    ],
    "6 sc * With thin yarn you may want fewer decreases, 4 or 5 will do.": [
        "7 6 sc                                                               "
    ],
    "6 sc. With thin yarn you may want fewer decreases, 4 or 5 will do.": [
        "7 6 sc.                                                             "
    ],
    "6 sc. It may be a pretty sc if you like": [
        "7 6 sc.                                  ",
        "6 6 sc. It may be a pretty sc            ",
    ],
    "6 sc. It a pretty sc": ["7 6 sc.               ", "6 a stitch, pretty sc", "6 a stitch, pretty"],
    "6 sc. Blorple a sc": ["6 a stitch, blorple"],
    "6 sc. Then you can make 5 sc blorpwise on it.": [
        "2 6 sc. Then you can make 5 sc           on it.",
        "5 can as fan",
    ],
    # Full stops of short words.
    "2 sc in hdc. of st blorple": ["6 a stitch, blorple"],
    "2 sc in 3rd. st, blorple": ["6 a stitch, blorple"],
    "2 sc in each esdc .around": ["5 esdc as esc", "5 esdc as ehdc", "5 esdc as edc", "6 a stitch, esdc"],
    "2 sc in st. Blorple": ["6 a stitch, blorple"],
    "hem. sc around": ["1 hem  sc around", "6 a stitch, hem"],
    # Words that are like others.
    "sc in teh next st": ["2 sc in     next st", "6 a stitch, teh"],
    "teh sc": ["2     sc", "6 a stitch, teh sc", "6 a stitch, teh"],
    "sc, skk": ["5 skk as sk", "6 a stitch, skk"],
    "ch 1, seek next st": ["4 seek as sk", "6 a stitch, seek"],
    "ch 1 seek next st": ["6 seek as sk", "6 a stitch, seek"],
    "3 sc, seek next st": ["6 seek as sk", "6 a stitch, seek"],
    "sc in nxet st": ["6 sc in      st", "2 nxet as next", "6 a stitch, nxet st", "6 a stitch, nxet"],
    "2 sc in nextt st": ["6 2 sc in       st", "2 nextt as next", "6 a stitch, nextt st", "6 a stitch, nextt"],
    "sc icn sc": ["5 icn as inc", "6 a stitch, icn sc", "6 a stitch, icn"],
    "sc in icn": ["5 icn as inc", "6 a stitch, icn"],
    "2 sc in each esdc. around": [
        "1 2 sc in each esdc  around",
        "5 esdc as esc",
        "5 esdc as ehdc",
        "5 esdc as edc",
        "6 a stitch, esdc",
    ],
    "6 sc, b in next st": [],
}


def proposed(text: str) -> list[str]:
    line = read_line(text)
    found = []
    for departure in departures(line, line, Context()):
        asked = "?" if departure.is_asked else ""
        words = [f"{word.phrase} as {word.meaning}" for word in departure.corrections]
        words += [f"a stitch, {departure.stitch}"] if departure.stitch else []
        read = departure.applied(text) if departure.written else ", ".join(words)
        found.append(f"{departure.cost}{asked} {read}")
    return found


@pytest.mark.parametrize(("text", "read"), LINES.items())
def test_what_could_be_read_otherwise(text: str, read: list[str]) -> None:
    assert proposed(text) == read
