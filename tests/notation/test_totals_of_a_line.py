"""What is taken off the end, or the front, of an instruction as its total, and what is left to be made.

Read over line by line: of each line the words that are left, and each total with the words that it was read from.
"""

from __future__ import annotations

import pytest

from tracker.diagnostics import Lines
from tracker.normalize import fold
from tracker.notation.lexer import scan, without_fillers
from tracker.notation.line_ends import unwrapped
from tracker.notation.parser.total_finder import Totals, take_totals

LINES = {
    "sc around (18)": ("sc around", ["18 at 18"]),
    "sc around (18) - red": ("sc around ( red )", ["18 at 18"]),
    "sc around (18) (white)": ("sc around ( white )", ["18 at 18"]),
    "sc around (18) (see picture)": ("sc around", ["18 at 18"]),
    "sc around. *(18 sc)*": ("sc around", ["18 at 18 sc"]),
    "sc around *18 sc*": ("sc around", ["18 at 18 sc"]),
    "sc around (18) *stuff*": ("sc around", ["18 at 18"]),
    "*sc, inc* *6": ("* sc , inc * * 6", []),
    "*sc, inc* x 6 *(18)*": ("* sc , inc * x 6", ["18 at 18"]),
    "sc around = 40 with the chains": ("sc around", ["40 at 40"]),
    "sc around, 25 sts, not counting sl sts": ("sc around", ["25 no slips at 25 sts"]),
    "20 dc counting ch-3 as one": ("20 dc", []),
    "sc around (56 sts, counting each ch as a st)": ("sc around", ["56 at 56 sts"]),
    "sc around (44 sts, the chains count)": ("sc around", ["44 at 44 sts"]),
    "sc around (44, ch counted)": ("sc around", ["44 at 44"]),
    "sc around (20 not counting sl st)": ("sc around", ["20 no slips at 20"]),
    "6 sc, 12 hdc including the chain": ("6 sc , 12 hdc", []),
    "(6) sc, (1) inc": ("6 sc , 1 inc", []),
    "6 sc, (6) hdc (12)": ("6 sc , 6 hdc", ["12 at 12"]),
    "sc around (24) (4 rnds)": ("sc around", ["24 at 24"]),
    "sc around (4 rnds) (24)": ("sc around", ["24 at 24"]),
    "sc around (24 sts in rnd)": ("sc around", ["24 at 24 sts in rnd"]),
    "sc around - 40 sts (10 bobbles)": ("sc around", ["40 10 bobble at 40 sts"]),
    "sc around - 6 scallops (36 sts)": ("sc around", ["36 6 fan at 36 sts"]),
    "sc around - 6 scallop (36 sts)": ("sc around", ["36 6 fan at 36 sts"]),
    "sc around 6 scallops (36 sts)": ("sc around 6 scallops", ["36 at 36 sts"]),
    "dc around (26 dc), join": ("dc around , join", ["26 at 26 dc"]),
    "dc around (26 dc), join, turn": ("dc around , join , turn", ["26 at 26 dc"]),
    "dc around (26), ch 1, turn": ("dc around , ch 1 , turn", ["26 at 26"]),
    "dc around = 26, join": ("dc around , join", ["26 at 26"]),
    "(24 sts) sc around": ("sc around", ["24 at 24 sts"]),
    "(24) sc around": ("24 sc around", []),
    "(24 sts): sc around": (": sc around", ["24 at 24 sts"]),
    "(6 sc) in ring": ("( 6 sc ) in ring", []),
    "(24 sts) join": ("( 24 sts ) join", []),
    "you should have 36: sc around": ("sc around", ["36 at 36"]),
    "total 36 sts: sc around": ("sc around", ["36 at 36 sts"]),
    "(36 sts in each): sc around": ("( 36 sts in each ) : sc around", []),
    "6 sc: sc around": ("6 sc : sc around", []),
    "sc around (18). Start to stuff": ("sc around", ["18 at 18"]),
    "(dec, 2 sc) 5 times, 15. Now stuff it, and close": ("( dec , 2 sc ) 5 times", ["15 at 15"]),
    "sc around, 15. Put the eyes in": ("sc around", ["15 at 15"]),
    "6 inc, 5. Put the eyes in": ("6 inc , 5 . put eyes in", []),
    "sc around. Set the eyes in, 7 sts of distance.": ("sc around . set eyes in , 7 sts of distance .", []),
    "sc around. Sew on, 9 sts apart": ("sc around . sew on , 9 sts apart", []),
    "sc around\ntuft = 4 loops of yarn on top": ("sc around \n tuft = 4 loops of yarn on top", []),
    "sc around (18) start to stuff the head now": ("sc around", ["18 at 18"]),
    "sc around (18) start to stuff 3 heads": ("sc around start to stuff 3 heads", ["18 at 18"]),
    "sc around (18) start to stuff rnd 3 here": ("sc around", ["18 at 18"]),
    "sc around (10), change to A": ("sc around , change to a", ["10 at 10"]),
    "sc around (10), change to dusty pink": ("sc around , change to dusty pink", ["10 at 10"]),
    "sc around (10), change to dusty pink yarn here": ("sc around", ["10 at 10"]),
    "sc around (10). In the last st of rnd 5 change to rust": (
        "sc around . in last st of rnd 5 change to rust",
        ["10 at 10"],
    ),
    "sc around (10). Then change to rust": ("sc around . then change to rust", ["10 at 10"]),
    "sc around = 18 (see picture)": ("sc around", ["18 at 18"]),
    "sc around = 12 (16, 20)": ("sc around", ["12 at 12 (16, 20)"]),
    "sc around x 6 (18, 24)": ("sc around x 6", ["18 at 18, 24"]),
    "sc 28 (30, 34)": ("sc 28 ( 30 , 34 )", []),
    "4 x [10 sc]": ("4 x [ 10 sc ]", []),
    "sc, inc, (2 sc)": ("sc , inc , ( 2 sc )", []),
    "sc, inc, (12 sc)": ("sc , inc", ["12 at 12 sc"]),
    "6 sc, inc, (18)": ("6 sc , inc", ["18 at 18"]),
    "(18)": ("( 18 )", []),
    "ring (6)": ("ring", ["6 at 6"]),
    "x 6 (18)": ("x 6", ["18 at 18"]),
    "hello (18)": ("hello ( 18 )", []),
    "sc around: 18": ("sc around", ["18 at 18"]),
    "sc around - 18": ("sc around", ["18 at 18"]),
    "sc around. 18 sts. fasten off": ("sc around", ["18 at 18 sts"]),
    "sc around, 18 sc": ("sc around", ["18 at 18 sc"]),
    "sc around, 4 sc": ("sc around , 4 sc", []),
    "as 2nd row, 12 dc": ("as 2nd row", ["12 at 12 dc"]),
    "rep rows 3 and 4 twice: 12 dc": ("rep rows 3 and 4 twice", ["12 at 12 dc"]),
    "sc in next 12": ("sc in next 12", []),
    "sc around (12) (24)": ("sc around", ["12 at 12", "24 at 24"]),
    "sc around (12), (24)": ("sc around", ["12 at 12", "24 at 24"]),
    "sc around (7 shells) (21)": ("sc around", ["- 7 shell at 7 shells", "21 at 21"]),
    "(sc, inc) x 6 [18] -> stuff it": ("( sc , inc ) x 6 -> stuff", ["18 at 18"]),
    "sc around -> 18": ("sc around", ["18 at 18"]),
    "sc around (total: 18)": ("sc around", ["18 at total: 18"]),
    "sc around, total of 18 sts": ("sc around", ["18 at 18 sts"]),
    "= 18 sc around": ("= 18 sc around", []),
}


def totals_of(text: str) -> Totals:
    folded = fold(text)
    return take_totals(unwrapped(without_fillers(scan(folded, "US"))), Lines(folded))


@pytest.mark.parametrize(("text", "left", "totals"), [(text, *read) for text, read in LINES.items()], ids=list(LINES))
def test_a_total_is_taken_off_and_the_rest_is_left(text: str, left: str, totals: list[str]) -> None:
    read = totals_of(text)
    found = []
    for total in read.stated:
        groups = ", ".join(f"{number} {name}" for name, number in total.groups)
        slips = "no slips" if total.without_slips else ""
        stitches = "-" if total.stitches is None else str(total.stitches)
        words = f"at {fold(text)[total.span.start : total.span.end]}"
        found.append(" ".join(filter(None, (stitches, groups, slips, words))))
    assert (" ".join(word.text for word in read.body), found) == (left, totals)


@pytest.mark.parametrize(
    ("text", "rounds"),
    [("sc around (24) (4 rnds)", 4), ("sc around (4 rnds) (24)", 4), ("sc around (24 sts in rnd)", None)],
)
def test_how_many_rounds_a_line_is_for(text: str, rounds: int | None) -> None:
    assert totals_of(text).rounds == rounds
