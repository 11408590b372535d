"""Where the bases, the instruction and the total do not agree, each says what it says. Counts by arithmetic."""

from __future__ import annotations

import pytest

from tracker.rounds.line_report import read_line


@pytest.mark.parametrize(
    ("text", "before", "verdict", "leaves", "told"),
    [
        ("Rnd 3: dec around", 13, "warning", 6, "13 stitches do not come out: 1 stitch is left over"),
        ("Rnd 3: sc3tog around", 14, "warning", 4, "14 stitches do not come out: 2 stitches are left over"),
        (
            "Rnd 3: (2 sc, dec) around",
            14,
            "warning",
            11,
            "14 stitches do not divide by 4: the last group is cut short",
        ),
        ("Rnds 2-4: inc around (12)", 6, "disagrees", 24, "the instruction makes 24, and the total says 12"),
        ("Rnds 2-3: inc around (24)", 6, "ok", 24, ""),
        ("Rnds 2-4: inc around (48)", 6, "ok", 48, ""),
        ("Rnds 2-4: inc around (40)", 6, "disagrees", 12, "the instruction makes 12, and the total says 40"),
        (
            "Rnd 8: (sc in next 5 sts, ch 4, sk 4) 2 times, sc in next 10 sts (28)",
            28,
            "ok",
            28,
            "the total counts 20 stitches",
        ),
        ("Rnd 8: sc in next 10 sts, ch 8, sk 8, sc in next 10 sts (28)", 28, "ok", 28, ""),
        (
            "Rnd 8: sc in next 10 sts, ch 8, sk 8, sc in next 10 sts",
            28,
            "warning",
            28,
            "counts the chains over the opening; it could make 20 or 28",
        ),
        (
            "Rnd 8: sc in next 10 sts, ch 8, sk 8, sc in next 10 sts (20)",
            28,
            "ok",
            20,
            "read 'ch 8' as a space, its chains not counted",
        ),
        ("Rnd 3: ch 3 (counts as dc), dc in next 47 sts (47 dc, 1 ch)", 48, "ok", 48, ""),
        (
            "Rnd 3: ch 3 (counts as dc), dc in next 47 sts (46 dc, 1 ch)",
            48,
            "disagrees",
            48,
            "the instruction makes 48, and the total says 46",
        ),
        (
            "Rnd 3: sc around, dc around",
            12,
            "warning",
            12,
            "something goes to the end of the round, and nothing is left for what is to go there after it",
        ),
        ("Rnd 3: sc in next 12 sts, inc", 12, "error", None, "this round uses 13 stitches, and only 12 are there"),
        ("Rnd 3: 12 sc in each", 12, "error", None, "this can be read in two ways, making 12 or 144"),
        ("Rnd 3: 12 sc in each (12)", 12, "ok", 12, "read '12 sc in each' as 12 stitches in all"),
        ("Rnd 3: 12 sc in each st (144)", 12, "ok", 144, ""),
        ("Rnd 3: 6 dc in each st", 8, "ok", 48, ""),
        ("Rnd 3: 2 dc in each gap around (40)", 16, "warning", 40, "uses 20 spaces if the total is right, and 16"),
        ("Rnd 3: 2 dc in each gap around (32)", 16, "ok", 32, "uses 16 spaces, if the total is right"),
        ("Rnd 3: (7) sc, (1) inc", 8, "ok", 9, ""),
    ],
)
def test_what_does_not_agree_is_told(text: str, before: int, verdict: str, leaves: int | None, told: str) -> None:
    report = read_line(text, before)
    assert (report.verdict, report.leaves) == (verdict, leaves), report.messages
    assert not told or report.messages[0].startswith(told)


def test_every_fourth_stitch_of_a_round_that_goes_around() -> None:
    """ "sc around, working 2 sc in every 4th st" tells of the round twice."""
    assert read_line("Rnd 8: sc around, working 2 sc in every 4th st. 25 sts", 20).verdict == "ok"
    assert read_line("Rnd 8: sc around, working 2 sc in every 4th st", 20).leaves == 25


@pytest.mark.parametrize(
    "closing",
    [
        "sl st in first ch",
        "sl st in first of these 3 ch",
        "sl st in 1st of 3 ch",
        "sl st to first ch to form picot",
        "sl st in first ch of ch-3",
        "sl st in top of last sc",
        "sl st in last sc",
        "sl st in base of ch",
    ],
)
def test_what_closes_a_picot_takes_no_place_and_is_no_stitch(closing: str) -> None:
    """By the hand: a picot hangs on the stitch below it, so three of 18 are used for each of them."""
    report = read_line(f"Rnd 5: *sc in next 3 sts, ch 3, {closing}; rep from * around (18 sc, 6 picots)", 18)
    assert (report.verdict, report.uses, report.leaves) == ("ok", 18, 18), report.messages
    assert read_line("Rnd 5: 5 sc, ch 3, sl st in first ch, 5 sc", 10).uses == 10
    told = read_line("Rnd 5: *3 sc, picot (ch 3, sl st in first ch); rep from * around", 18)
    assert (told.verdict, told.uses, told.leaves) == ("ok", 18, 18), told.messages


def test_a_chain_that_is_closed_at_the_start_is_a_ring() -> None:
    assert read_line("Rnd 1: ch 4, sl st in first ch, 12 sc in ring", None).leaves == 12


def test_a_total_of_groups_that_tells_how_often_it_goes_around_may_leave_out_the_first_one() -> None:
    """The gaps are not known: 20 clusters may be 20 besides the one that the round begins with, or with it."""
    text = "Rnd 2: ch 2, hdc in next gap (first cl made), *(hdc2tog) in next gap; rep from * around (20 cl)"
    assert read_line(text, None).verdict == "warning"
    assert read_line("Rnd 2: *(2 dc, ch 1) in next gap; rep from * around (20 groups)", None).verdict == "ok"


HALF = "ch 3, dc in same st"
HALVES = f"{HALF}, (sk 3, 5 dc shell in next st) x 3, sk 3, 2 dc in first st, join"


@pytest.mark.parametrize(
    ("text", "groups", "verdict"),
    [
        ("ch 4, dc in same st, (sk 1, V-st in next st) x 7, join", 8, "ok"),
        (f"{HALF}, (sk 3, 5 dc shell in next st) x 3, join", 3, "ok"),
        (f"{HALF}, (sk 3, 5 dc shell in next st) x 3, join", 4, "disagrees"),
        (HALVES.replace("dc in same st", "2 dc in same st"), 4, "ok"),
    ],
)
def test_what_a_round_begins_with_is_one_of_the_groups_if_it_is_whole(text: str, groups: int, verdict: str) -> None:
    name = "V-sts" if "V-st" in text else "shells"
    told = read_line(f"{text} ({groups} {name})", 16)
    assert ("total-differs" in [problem.code for problem in told.problems]) == (verdict == "disagrees"), told.messages


@pytest.mark.parametrize(
    ("total", "verdict"), [("(12)", "ok"), ("(10 sc)", "ok"), ("(10)", "disagrees"), ("(10 sts)", "disagrees")]
)
def test_a_total_leaves_out_slip_stitches_only_if_it_names_what_it_counts(total: str, verdict: str) -> None:
    """A bare total that is short by just the slip stitches may as well be a misprint."""
    report = read_line(f"(5 sc, sl st) x 2 {total}", 12)
    assert (report.verdict, report.uses) == (verdict, 12)


LOOPS = "(sc, ch 2, sk 1, sc) x 6"
FANS = "(5 dc in next st, sk 1, sc in next st) x 6"
PAIRS = "ch 4 (counts as dc, ch 1), dc in same st, (sk 2, (dc, ch 1, dc) in next st) x 5, sk 2, join"
CHAIN = "ch 3 (counts as dc), dc in next 17 sts"
MESH = "ch 3 (counts as dc), (ch 1, sk 1, dc) x 8, ch 1, sk 1"


@pytest.mark.parametrize(
    ("line", "total", "verdict", "leaves", "told"),
    [
        ("(5 sc, sl st) x 3", "15", "ok", 15, "the total leaves out the 3 slip stitches"),
        ("(5 sc, sl st) x 3", "18", "ok", 18, ""),
        ("(8 sc, sl st) x 2", "16", "disagrees", 18, "the instruction makes 18, and the total says 16"),
        (CHAIN, "17 dc + 3 ch", "ok", 18, "the total names the starting chain apart"),
        (CHAIN, "16 dc, 3 ch", "disagrees", 18, "the instruction makes 18, and the total says 16"),
        (MESH, "8 dc + 3 ch", "ok", 9, "the total names the starting chain apart"),
        (MESH, "7 dc + 3 ch", "disagrees", 9, "the instruction makes 9, and the total says 7"),
        (MESH, "9 dc, 9 ch-1 sps", "ok", 9, ""),
        (LOOPS, "12 sc, 6 ch-2 sps", "ok", 12, ""),
        (LOOPS, "12 sc, 5 ch-2 sps", "disagrees", 12, "this round makes 6 chain spaces, and the total says 5"),
        (LOOPS, "12 sc, 12 ch", "ok", 12, ""),
        (LOOPS, "24", "ok", 24, "the total counts 12 stitches and 12 chains"),
        (LOOPS, "18", "ok", 18, "the total counts 12 stitches and 6 chain spaces"),
        (LOOPS, "6", "ok", 6, "the total counts the 6 chain spaces"),
        (LOOPS, "7", "disagrees", 12, "the instruction makes 12, and the total says 7"),
        (LOOPS, "12 sc", "ok", 12, ""),
        (LOOPS, "13 sc", "disagrees", 12, "the instruction makes 12, and the total says 13"),
        (LOOPS, "24 sc", "disagrees", 12, "the instruction makes 12, and the total says 24"),
        ("(sc, sk 2) x 6", "6 loops", "ok", 6, ""),
        (FANS, "6 sc, 6 shells", "ok", 36, ""),
        (FANS, "6 sc, 7 shells", "disagrees", 36, "this round makes 6 shells, and the total says 7"),
        (FANS, "7 sc, 6 shells", "disagrees", 36, "the instruction makes 36, and the total says 7"),
        (FANS, "6 petals", "ok", 36, ""),
        (FANS, "36 petals", "ok", 36, "the total counts petals, which were not checked"),
        (FANS, "3 petals", "ok", 36, "the total counts petals, which were not checked"),
        (FANS, "5 petals", "warning", 36, "the total says 5 petals, and this makes 36: what is 'petals'?"),
        ("(sc, sk 2) x 6", "20 w", "warning", 6, "the total says 20 w, and this makes 6: what is 'w'?"),
        ("(cluster, ch 2, sk 2) x 6", "6 clusters, 6 ch-2 sps", "ok", 6, ""),
        (
            "(cluster, ch 2, sk 2) x 6",
            "5 clusters",
            "disagrees",
            6,
            "this round makes 6 clusters, and the total says 5",
        ),
        (PAIRS, "6 V-sts", "ok", 12, ""),
        (PAIRS, "5 V-sts", "ok", 12, ""),
        (PAIRS, "4 V-sts", "disagrees", 12, "this round makes 5 v-sts, and the total says 4"),
        ("(6 sc, 3 hdc) x 2", "12 sc, 6 hdc", "ok", 18, ""),
        ("(bobble, 2 sc) x 6", "18 sts, 6 bobbles", "ok", 18, ""),
        (
            "(bobble, 2 sc) x 6",
            "18 sts, 7 bobbles",
            "disagrees",
            18,
            "this round makes 6 bobbles, and the total says 7",
        ),
    ],
)
def test_what_a_total_may_count(line: str, total: str, verdict: str, leaves: int, told: str) -> None:
    """Over 18 stitches. A pair that a chain begins may be counted with the others or not."""
    report = read_line(f"Rnd 4: {line} ({total})", 18)
    assert (report.verdict, report.leaves) == (verdict, leaves)
    assert [problem.message for problem in report.problems] == ([told] if told else [])


@pytest.mark.parametrize(
    ("line", "before", "leaves", "verdict"),
    [
        ("Rnd 3: (4 sc, 2 sc in same st) x 7 (42)", 35, 42, "ok"),  # an increase of its own
        ("Rnd 3: *3 sc, 2 sc in the same stitch* 5 times (25)", 20, 25, "ok"),
        ("Rnd 3: (sc, 2 sc in same st) x 9 (27)", 9, 27, "ok"),  # two more where the first went
        ("Rnd 3: (4 sc, 2 sc in same st) x 7", 35, 42, "warning"),  # nothing vouches for it but the stitches there
        ("Rnd 3: (4 sc, 2 sc in same st) x 7 (40)", 35, 42, "disagrees"),
    ],
)
def test_stitches_in_the_same_one_are_an_increase_where_the_stitches_say_so(
    line: str, before: int, leaves: int, verdict: str
) -> None:
    report = read_line(line, before, "US")
    assert (report.verdict, report.leaves) == (verdict, leaves), report.messages
