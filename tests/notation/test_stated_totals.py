"""What the totals of a line say, and what stands before and behind them without being one."""

from __future__ import annotations

import pytest

from tracker.notation.ast import Stated
from tracker.notation.context import Context
from tracker.notation.reader import read_line
from tracker.rounds.line_report import read_line as read_round

NOTHING = {
    "stitches": None,
    "spaces": None,
    "groups": (),
    "chains": None,
    "sizes": (),
    "kinds": (),
    "space_length": 0,
}

TOTALS: dict[str, dict[str, object]] = {
    "(12)": {"stitches": 12},
    "[12 sts]": {"stitches": 12},
    "<12 sc>": {"stitches": 12, "kinds": (("sc", 12),)},
    "= 12": {"stitches": 12},
    "\u2192 12": {"stitches": 12},
    "=> 12 sts": {"stitches": 12},
    "\u27a1\ufe0f 12 (fill it now!)": {"stitches": 12},
    "\u279c 12 sew the gap shut with a needle": {"stitches": 12},
    "= 12 and then fill it": {"stitches": 12},
    "-> 12 sts fasten off and hide the end": {"stitches": 12},
    "\u21d2 12 beads": {"groups": (("beads", 12),)},
    ". Count 12": {"stitches": 12},
    ", 12 again": {"stitches": 12},
    "(12 sts again)": {"stitches": 12},
    ", again 12 sts": {"stitches": 12},
    ". 12 as before": {"stitches": 12},
    "/12/": {"stitches": 12},
    "/12 sc/.": {"stitches": 12, "kinds": (("sc", 12),)},
    "/12 together with chains/": {"stitches": 12},
    ", so that's 12 altogether": {"stitches": 12},
    "- 12 sts": {"stitches": 12},
    ", total 12": {"stitches": 12},
    ": 12": {"stitches": 12},
    "- 12. I put the eyes in now, 3 sts apart, and close the hole": {"stitches": 12},
    ", 12 sts. Stuff it well, since you cannot reach it later": {"stitches": 12},
    "(total of 12 sts)": {"stitches": 12},
    "(9 sc, 9 ch-2 sps)": {"stitches": 9, "kinds": (("sc", 9),), "spaces": 9, "space_length": 2},
    "(9 sc and 9 ch-2 sps)": {"stitches": 9, "kinds": (("sc", 9),), "spaces": 9, "space_length": 2},
    "(9 sts, 9 ch sps)": {"stitches": 9, "spaces": 9},
    "(8 ch-3 sps, 2 ch-2 sps)": {"spaces": 10},
    "(8 ch-3 sps)": {"spaces": 8, "space_length": 3},
    "(8 3-ch sps)": {"spaces": 8, "space_length": 3},
    "(8 corners)": {"groups": (("corner", 8),)},
    "(8 shells)": {"groups": (("shell", 8),)},
    "(8 shells, 8 sc)": {"stitches": 8, "groups": (("shell", 8),), "kinds": (("sc", 8),)},
    "(8 5-tr shells)": {"groups": (("shell", 8),)},
    "(6 petals)": {"groups": (("petals", 6),)},
    "(36 sc, 24 ch)": {"stitches": 36, "chains": 24, "kinds": (("sc", 36),)},
    "(6 sc, 4 hdc, 2 dc)": {"stitches": 12, "kinds": (("sc", 6), ("hdc", 4), ("dc", 2))},
    "(6 fpdc, 6 bpdc)": {"stitches": 12, "kinds": (("dc", 6), ("dc", 6))},
    "(12 sts: 6 sc, 6 hdc)": {"stitches": 12},
    "= 2 x 6 = 12": {"stitches": 12},
    "(6 sc + 6 hdc = 12)": {"stitches": 12},
    "(6 + 6 = 12)": {"stitches": 12},
    "(12 sts in rnd)": {"stitches": 12},
    "(12 sts, counting the chain)": {"stitches": 12},
    "(12 counting the chain)": {"stitches": 12},
    "(12 sts, the chains count)": {"stitches": 12},
    "(12 dc, the chains count)": {"stitches": 12, "kinds": (("dc", 12),)},
    "(12, 16, 20)": {"stitches": 12, "sizes": (12, 16, 20)},
    "(12 (16, 20) sts)": {"stitches": 12, "sizes": (12, 16, 20)},
    "(12/16/20)": {"stitches": 12, "sizes": (12, 16, 20)},
    "*(12 sts)*": {"stitches": 12},
    ". *12 sc*": {"stitches": 12, "kinds": (("sc", 12),)},
    "(*12*)": {"stitches": 12},
    "*= 12*": {"stitches": 12},
    "(12 sts) *stuff*": {"stitches": 12},
}


def said(stated: Stated) -> dict[str, object]:
    return {name: getattr(stated, name) for name in NOTHING}


@pytest.mark.parametrize("total", TOTALS)
def test_what_a_total_says(total: str) -> None:
    [stated] = read_line(f"sc in each st around {total}").stated
    assert said(stated) == NOTHING | TOTALS[total]


@pytest.mark.parametrize("size", [0, 1, 2])
def test_a_total_for_each_size_is_that_of_the_size_that_is_made(size: int) -> None:
    for text in ("sc around (12, 16, 20)", "sc around = 12 (16, 20)", "sc in next 12 (16, 20) sts (12, 16, 20)"):
        [stated] = read_line(text, Context(size=size)).stated
        assert stated.stitches == 12 + 4 * size


@pytest.mark.parametrize(
    ("text", "totals"),
    [
        ("(sc, inc) x 6 (18) (see picture)", [18]),
        ("(sc, inc) x 6 (18). Start to stuff", [18]),
        ("(sc, inc) x 6 (18), join", [18]),
        ("(sc, inc) x 6 = 18, join, ch 1", [18]),
        ("(sc, inc) x 6, join. 18 sts. Fasten off", [18]),
        ("inc around (12) (24)", [12, 24]),
        ("(sc, inc) x 6", []),
        ("sc in next 5, hdc in next 6, dc 7", []),
        ("sc in next 12", []),
        ("dc in next st, (dc, ch 1) 4 times, 7 dc", []),
        ("ch 3, 11 dc in ring", []),
        ("sl st in next 2 sts, 10 sc", []),
        ("sc 12", []),
        ("6 sc, 6 hdc", []),
        ("6 sc (6 made), 6 hdc", []),
        ("6 sc (6 sc made), 6 hdc", []),
        ("Rep rnds 3-4", []),
        ("Rep rnds 3-4, 24 sts", [24]),
        ("Rep rnd 3 - 24", [24]),
        ("As rnds 3, 5", []),
        ("As rnds 3-5, 24", [24]),
        ("*sc, inc* 6 times *(18 sc)*", [18]),
        ("*sc, inc; rep from * around. *(18)*", [18]),
        ("*sc, inc* *6", []),
        ("6 sc, *3 sc*", []),
        ("Rnd 4 (24) *2 sc, inc; rep from * around", [24]),
        ("Rnd 4 (24), 2 sc, inc, rep around", [24]),
        ("4. (24 sts) (2 sc, inc) x 6", [24]),
        ("Rnd 4 (24 sc) - (2 sc, inc) x 6", [24]),
        ("Rnd 1: (6 sc) in ring", []),
        ("Rnd 4: (6 sc), inc", []),
    ],
)
def test_only_a_total_is_taken_for_one(text: str, totals: list[int]) -> None:
    assert [stated.stitches for stated in read_line(text).stated] == totals


def test_the_number_of_rounds_of_a_range_is_no_total() -> None:
    line = read_line("Rnds 5-8: sc around (4 rnds)")
    assert (line.rounds, line.stated) == (4, ())
    line = read_line("Rnds 5-8: sc around (24) (4 rnds)")
    assert (line.rounds, [stated.stitches for stated in line.stated]) == (4, [24])


@pytest.mark.parametrize("text", ["R6-R9: 18", "Rnd 6: 18", "Rnds 6-7: = 18", "R6: 18 sts"])
def test_a_round_of_which_only_the_number_is_told_has_so_many_plain_stitches(text: str) -> None:
    report = read_round(text, 18)
    assert (report.verdict, report.uses, report.leaves) == ("ok", 18, 18)
    assert read_round(text, 24).verdict != "ok"
    assert read_round(text, 12).verdict == "error"


@pytest.mark.parametrize(
    ("text", "before", "leaves"),
    [
        ("Rnd. 1: Ch. 3 (counts as dc), 13 dc. in ring. Join.", None, 14),
        ("Rnd. 2: Ch. 1, 2 sc. in each st. around. Join.", 14, 28),
        ("Rnd. 2: Ch. 1. Sc. in each st. Join.", 14, 14),
        ("Rnd 2: Ch. 4, join. 12 sc in ring. Join to first sc. 12 sts.", None, 12),
        ("Rnd 1: Ch 7. Sc in 2nd ch from hook, 4 sc, 3 sc in last ch. On the other side sc in next 5 ch.", None, 13),
    ],
)
def test_full_stops_that_only_shorten_a_word_part_nothing(text: str, before: int | None, leaves: int) -> None:
    report = read_round(text, before)
    assert (report.verdict, report.leaves) == ("ok", leaves), report.messages
