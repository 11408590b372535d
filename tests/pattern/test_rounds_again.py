"""Rounds that stand for others; each number is worked out by hand from the rule of the line (geometry of a flat disk:
as many more in each round as in the one before)."""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.pattern.checker import check_rounds
from tracker.pattern.model import Round
from tracker.pattern.round_splitter import cut

DISK = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\n"
CORNER = "Ch 2\nRow 1: 3 sc in 2nd ch from hook, turn (3)\nRow 2: ch 1, sc across, turn (3)\n"
GROWING = CORNER + "Row 3: ch 1, 2 sc in first st, sc to last st, 2 sc in last st, turn (5)\n"


def rounds_of(text: str) -> list[Round]:
    pieces = cut(text, Context())
    return check_rounds(pieces.entries, pieces.context)[0]


def left(text: str) -> list[int | None]:
    """What each round with a number leaves."""
    return [each.leaves for each in rounds_of(text) if each.number]


def told(text: str) -> str:
    return "; ".join(problem.message for each in rounds_of(text) for problem in each.problems)


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        (DISK + "Rnd 4: as Rnd 3, but with 2 sc between the increases (24)", [6, 12, 18, 24]),
        (DISK + "Rnd 4: (2 sc, inc) x 6\nRnd 5: like R4, but with 3 sc before each inc (30)", [6, 12, 18, 24, 30]),
        (DISK + "Continue increasing in this way until you have 42 sts.", [6, 12, 18, 24, 30, 36, 42]),
        (DISK + "Then continue increasing in this way until 36.", [6, 12, 18, 24, 30, 36]),
        (DISK + "Rnds 4-5: continue increasing as established (30)", [6, 12, 18, 24, 30]),
        (DISK + "Continue increasing 6 sts each rnd to 36 sts.", [6, 12, 18, 24, 30, 36]),
        (DISK + "Rnd 4 and on: keep increasing by 6 to 30", [6, 12, 18, 24, 30]),
        (DISK + "Rnd 4 onwards: continue increasing until 30 sts", [6, 12, 18, 24, 30]),
        (DISK + "Rnds 4 - ?: keep increasing by 6 until 30 sts", [6, 12, 18, 24, 30]),
        (DISK + "Rnd 4+: continue in this way until 30 sts\nNext rnd: sc around", [6, 12, 18, 24, 30, 30]),
        (DISK + "Rnds 4-5: increase by 6 each round (30)", [6, 12, 18, 24, 30]),
        (DISK + "Repeat, adding one sc between increases, until you have 30 sts", [6, 12, 18, 24, 30]),
        (DISK + "Rnds 4-5: continue in this way, adding 1 sc between increases (30)", [6, 12, 18, 24, 30]),
        (DISK + "Keep adding 6 increases each round until you reach 30 stitches", [6, 12, 18, 24, 30]),
        (DISK + "Continue in this pattern to 30 sts", [6, 12, 18, 24, 30]),
        (DISK + "Rnd 4: sc around\nRnd 5: (2 sc, inc) x 6 (24)\nContinue in this way for 3 more rnds.",
         [6, 12, 18, 18, 24, 24, 30, 30]),
        (CORNER + "Row 3: ch 1, sc across (3)\nContinue in pattern for 2 more rows", [3, 3, 3, 3, 3]),
        (GROWING + "Rows 4 to 7. Rep Rows 2 & 3 twice more. 9 sc.\nRow 8. sc across", [3, 3, 5, 5, 7, 7, 9, 9]),
        (DISK + "Rnd 4: blo sc around (18)\nr5 same but both loops\nr6 the same again (18)\nr7: same, but in red",
         [6, 12, 18, 18, 18, 18, 18]),
        (DISK + "Rnd 4: sc around\nRnd 5: likewise (18)\nRnd 6: ditto.\nRnd 7: the same as the previous (18)",
         [6, 12, 18, 18, 18, 18, 18]),
        (DISK + "Rnd 4: sc around\nRnd 5 (red): same <18>\nRnd 6: same as before", [6, 12, 18, 18, 18, 18]),
        ("Rnd 1: 24 sc in ring (24)\nRnd 2: (2 sc, dec) x 6 (18)\nRnd 3: (sc, dec) x 6 (12)\n"
         "Continue decreasing in this way until 6 sts remain.", [24, 18, 12, 6]),
        (GROWING + "Rep last 2 rows until there are 9 sts.", [3, 3, 5, 5, 7, 7, 9]),
        (DISK + "Rnd 4: sc around\nRnds 5, 7: as rnd 4\nRnd 6: (2 sc, inc) x 6 (24)", [6, 12, 18, 18, 18, 24, 24]),
        ("All odd rounds: sc around\nRnd 1: 6 sc in ring\nRnd 2: inc x 6\nRnd 4: (sc, inc) x 6\nRnd 6: sc around",
         [6, 12, 12, 18, 18, 18]),
        (DISK + "Rnd 4: like rnd 3 but now 2 sc between the increasings (24)\nRnd 5: and now 3 sc between (30)\n"
         "Rnd 6: with 4 sc between incs (36)", [6, 12, 18, 24, 30, 36]),
        (DISK + "Rnd 4: sc around\nRnd 5 too (18)\nRnd 6: the same, then cut the yarn.\nRnd 7: same thing, stuff it\n"
         "Rnd 8: as before and fasten off", [6, 12, 18, 18, 18, 18, 18, 18]),
        (DISK + "Rnd 4: sc around\nRnds 5-7: three times rnd 4 (18)\nRnds 8-9: twice as rnd 4\nRnd 10: again rnd 4",
         [6, 12, *[18] * 8]),
        (GROWING + "Row 4: rep Row 3. You gain 2 sts every row. (7)", [3, 3, 5, 7]),
    ],
)  # fmt: skip
def test_what_goes_on_is_worked_out(text: str, counts: list[int]) -> None:
    assert left(text) == counts


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (DISK + "Continue increasing in this way until you have 40 sts.", "and not to 40"),
        (DISK + "Rnd 4: (sc, inc) x 9 (27)\nContinue increasing in this way until you have 45 sts.", "same number"),
        (GROWING + "Rep last 2 rows until there are 8 sts.", "never leave 8"),
        (DISK + "Rep last rnd until there are 18 sts.", "how often"),
        (GROWING + "Row 4: rep Row 3. There are 3 more sts each row. (7)", "says 3 a time, and what comes again"),
        (DISK + "Rnds 4-?: keep increasing by 6", "for how many rounds it goes on is not told"),
        (DISK + "Rnd 4 onwards: sc around", "to which round it goes on is not told"),
        (DISK + "Keep increasing by 5 until 38 sts", "it says 5 a time, and the rounds before change by +6"),
        (DISK + "Rep last rnd until it measures 5 cm", "taken for 1 round"),
        (CORNER + "Row 3: ch 1, hdc across (3)\nContinue in pattern for 6 rows.", "do not change by the same"),
        (DISK + "Continue as established for 2 rnds.\nEven rounds: sc around", "no even round is left"),
    ],
)
def test_what_does_not_come_out_is_told_and_nothing_assumed(text: str, why: str) -> None:
    assert why in told(text)


def test_a_round_with_a_change_is_the_same_round_with_its_words_before_it() -> None:
    entries = cut(DISK + "Rnd 4: as rnd 3 but in back loops only", Context())
    rounds, _ = check_rounds(entries.entries, entries.context)
    assert rounds[-1].text == "Rnd 3: in back loops only, (sc, inc) x 6"
    assert rounds[-1].plan is not None and {act.loop.value for act in rounds[-1].plan.acts()} == {"BLO"}


def test_how_far_it_goes_is_not_asked_where_it_is_measured() -> None:
    assert "not told" not in told(DISK + "Rnd 4+: sc around until it is tall enough")


TUBE = DISK + "Rnd 4: sc around (18)\n"


@pytest.mark.parametrize(
    "line",
    [
        "Work 6 more rounds in hdc",
        "Work 6 more rounds of hdc.",
        "6 more rounds in hdc",
        "Work another 6 rounds in hdc",
        "Rnd 5: Work 6 more rounds in hdc.",
        "Work even in hdc for 6 rounds.",
        "Rnd 5: work even in hdc for 6 rounds",
        "Work even for 6 rnds in hdc",
        "Rnd 5: hdc around for 6 rounds",
        "Rnd 5: hdc around (6 rnds)",
        "Rnds 5-10: Work 6 more rounds in hdc",
    ],
)
def test_a_line_for_so_many_rounds_is_for_all_of_them(line: str) -> None:
    entries = cut(f"{TUBE}{line}\nRnd 11: (sc, dec) x 6 (12)", Context())
    rounds, _ = check_rounds(entries.entries, entries.context)
    assert [(each.number, each.leaves) for each in rounds[4:]] == [*((n, 18) for n in range(5, 11)), (11, 12)]
    assert [dict(each.plan.tally.kinds) for each in rounds[4:10] if each.plan] == [{"hdc": 18}] * 6
    assert not told(f"{TUBE}{line}\nRnd 11: (sc, dec) x 6 (12)")


@pytest.mark.parametrize("words", ["the same way", "in the same manner", "as established", "like this", ""])
def test_more_rounds_the_same_way_are_the_last_one_again(words: str) -> None:
    text = f"{TUBE}Work 4 more rounds {words}.\nRnd 9: (sc, dec) x 6 (12)"
    assert (left(text), told(text)) == ([6, 12, 18, 18, 18, 18, 18, 18, 12], "")


def test_a_number_of_rounds_that_the_next_number_does_not_bear_out_is_told() -> None:
    assert "round number 9 comes after 5" in told(f"{TUBE}Rnd 5: sc around for 3 rounds\nRnd 9: (sc, dec) x 6")
    assert left(f"{TUBE}Rnd 5: sc around for 3 rounds\nRnd 6: (sc, dec) x 6") == [6, 12, 18, 18, 18, 12]


@pytest.mark.parametrize("words", ["even in hdc", "Work even in hdc", "work even in hdc around", "even in hdc (18)"])
def test_rounds_that_are_worked_even_are_of_the_stitch_that_is_named(words: str) -> None:
    entries = cut(f"{DISK}Rnds 4-5: {words}", Context())
    rounds, _ = check_rounds(entries.entries, entries.context)
    assert [dict(each.plan.tally.kinds) for each in rounds[3:] if each.plan] == [{"hdc": 18}] * 2


def test_a_number_that_the_total_does_not_vouch_for_is_asked_about() -> None:
    again = "Rnd 1: 6 sc in ring\nRnd 2: 2 sc in each sc\nRnd 3: as Rnd 2, but with 3 sc in each sc"
    assert left(again) == [6, 12, 36]
    assert told(again) == "read as that round with 3 in place of 2: right?"


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 4: as Rnd 3, but with 2 sc between the increases",
        "Fourth round. Like the third, having two plain between the widenings; twenty-four sc.",
        "Fourth round. Same as third, with two plain stitches between the increases, 24 sc.",
        "Rnd 4: Inc as before, having 2 sc between incs. (24)",
        "Rnd 4: Work as for rnd 3, working 2 sc between each inc",
        "Rnd 4 (right side): as last rnd, with 2 between",
        "Rnd 4: same again but 2 sc before each inc (24)",
        "Rnd 4: As 3rd round, but work 2 sc between increases. 24 sc.",
    ],
)
def test_a_round_may_be_an_earlier_one_with_another_gap_between_its_increases(line: str) -> None:
    """Six increases with two plain stitches before each are 18 stitches used and 24 made."""
    assert left(DISK + line) == [6, 12, 18, 24]
    entries = cut(DISK + line, Context())
    rounds, _ = check_rounds(entries.entries, entries.context)
    assert [(run.act.stitches, run.times) for run, _ in rounds[-1].plan.runs()] == [(1, 2), (2, 1)]  # type: ignore[union-attr]
    assert "right?" not in told(DISK + line)


def test_the_gap_holds_whatever_stitch_and_chain_a_round_begins_with() -> None:
    ring = "Rnd 1: ch 3 (counts as dc), 9 dc in ring (10)\nRnd 2: ch 3, dc in same st, 2 dc in each dc around (20)\n"
    first = "Rnd 3: ch 3, 2 dc in next dc, *dc in next dc, 2 dc in next dc; rep from * around (30)\n"
    text = (
        ring + first + "Rnd 4: as Rnd 3, with 2 dc between increases (40)\nRnd 5: as before, with 3 dc between incs"
    )
    assert left(text) == [10, 20, 30, 40, 50]


def test_a_gap_that_the_total_does_not_agree_with_is_told() -> None:
    text = DISK + "Rnd 4: as Rnd 3, having 2 sc between increases (25)"
    assert left(text) == [6, 12, 18, 24]
    assert "makes 24, and the total says 25" in told(text)


def test_a_total_stands_behind_a_round_that_is_named() -> None:
    doubling = "Rnd 1: 6 sc in magic ring\nRnd 2: 2 sc in each st\n"
    assert left(doubling + "Rnd 3: As last rnd. 24 sc.\nRnd 4: repeat (48)") == [6, 12, 24, 48]
    assert told(doubling + "Rnd 3: As last rnd. 25 sc.") == "the instruction makes 24, and the total says 25"


def test_narrowing_goes_by_its_gap_too() -> None:
    text = DISK + "Rnd 4: (2 sc, inc) x 6 (24)\nRnd 5: (2 sc, dec) x 6 (18)\nRnd 6: as before, with 1 sc between decs"
    assert left(text) == [6, 12, 18, 24, 18, 12]


@pytest.mark.parametrize(
    "words",
    [
        "Continue thus, increasing 6 sc in every other round, having 1 sc more between the incs, until there are 36.",
        "Continue in this manner until there are 36 sc in the round.",
        "Continue increasing 6 sts on every 2nd round, having 1 more sc between incs, until you have 36 sts.",
    ],
)
def test_what_goes_on_in_every_other_round_has_as_many_plain_ones_between(words: str) -> None:
    text = (
        "Rnd 1: 6 sc in ring\nRnd 2: 2 sc in each sc (12)\nRnd 3: sc in each sc\n"
        "Rnd 4: *sc in next sc, 2 sc in next sc; rep from * to end (18)\nRnd 5: as 3rd\n"
        "Rnd 6: *sc in each of next 2 sc, 2 sc in next sc; rep from * to end (24)\n"
    )
    assert left(text + words) == [6, 12, 12, 18, 18, 24, 24, 30, 30, 36]
    assert "it changes in other rounds" in told(
        text + "Continue increasing 6 sc in each round until there are 36 sc."
    )
    assert "it says another number" in told(
        text + "Continue thus, having 2 sc more between the increases, until there are 36."
    )


def test_a_number_that_may_be_in_place_of_none_is_refused() -> None:
    assert "does not come out here" in told(DISK + "Rnd 4: as Rnd 3, but with 11 sc between the increases (40)")


@pytest.mark.parametrize(
    ("line", "counts"),
    [
        ("Three rounds plain.", [18, 18, 18]),
        ("Two rounds without widening.", [18, 18]),
        ("Work 4 rounds in sc on these 18 sts, sl st into next sc and fasten off.", [18, 18, 18, 18]),
        ("Change to No. 12 hook and work 2 rounds in sc on these 18 sts.", [18, 18]),
    ],
)
def test_so_many_rounds_in_older_words_are_worked_even(line: str, counts: list[int]) -> None:
    assert left(DISK + line) == [6, 12, 18, *counts]


def test_so_many_rounds_on_another_number_than_is_there_are_told() -> None:
    assert "18" in told(DISK + "Work 2 rounds in sc on these 20 sts.")


HEXAGON = (
    "Rnd 1: ch 3 (counts as dc), dc in ring, (ch 2, 2 dc in ring) 5 times, ch 2.\nJoin with sl st in top of ch-3.\n"
    "Rnd 2: ch 3, dc in next dc, *in next sp make dc, ch 2 and dc; dc in next 2 dc; rep from * around,"
    " ending with dc, ch 2 and dc in last sp, join (24)\n"
    "Rnd 3: ch 3, dc in each dc around, making dc, ch 2 and dc in each sp, join (36)\n"
)


def test_what_each_side_has_vouches_for_a_round_that_comes_again() -> None:
    """Two more stitches at each of six corners: 36 and 12 are 48, 8 on a side."""
    assert left(HEXAGON + "Rnd 4: Work as for last rnd, having 8 dc on each side of hexagon. Join.") == [
        12,
        24,
        36,
        48,
    ]
    assert "8 on each" not in told(HEXAGON + "Rnd 4: Work as for last rnd, having 8 dc on each side.")
    assert "9 on each of 6 sides are 54" in told(HEXAGON + "Rnd 4: Work as for last rnd, having 9 dc on each side.")


def test_a_sentence_of_two_lines_names_rounds_again_as_one() -> None:
    text = DISK + "Continue in this manner, increasing 6 sc in each round and having 1 sc more between\n"
    assert left(text + "the increases each time, until there are 36 sc in the round.") == [6, 12, 18, 24, 30, 36]
    assert left(text + "Rnd 5: sc around")[3:] != [24, 30, 36]


def test_spaces_that_two_totals_vouch_for_are_worked_into_where_an_instruction_says_otherwise() -> None:
    text = (
        "Rnd 1: ch 4, *dc in ring, ch 1; rep from * 6 times more, join (8 sps)\nRnd 2: 9 sc in each sp (72)\n"
        "Rnd 3: *ch 7, sc at the back of the work between two petals; rep from * around (8 loops)\n"
        "Rnd 4: 9 sc in each loop (72)\nRnd 5: sc around"
    )
    assert left(text)[3:] == [72, 72]
    assert "total says 8" in told(text)


SQUARE = """
Rnd 1: ch 3 (counts as 1 dc throughout), 2 dc in ring, ch 2, *3 dc in ring, ch 2* 3 times, sl st in top of ch 3. (12)
Rnd 2: join in any corner sp. Ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, *(3 dc, ch 2, 3 dc) in next corner sp, ch 1*
3 times, sl st in top of ch 3. (24)
Rnd 3: join in any corner sp. Ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, 3 dc in next ch-1 sp, ch 1, *(3 dc, ch 2,
3 dc) in next corner sp, ch 1, 3 dc in next ch-1 sp, ch 1* 3 times, sl st in top of ch 3. (36)
"""


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 4: continue in the same way (48)",
        "Rnd 4: as Rnd 3, but there are two ch-1 sps on each side now (48)",
        "Rnd 4: as Rnd 3, but with two groups of 3 dc along each side (48)",
        "Rnd 4: Repeat Rnd 3, working 3 dc, ch 1 in each ch-1 sp along the sides. (48)",
        "Rnd 4: repeat rnd 3, there will be one more group on each side (48)",
    ],
)
def test_a_square_goes_on_with_one_group_more_on_each_side(line: str) -> None:
    """Twelve more a round, as four sides have a group of three more each (geometry of a square of groups)."""
    assert [(each.leaves, each.verdict) for each in rounds_of(SQUARE + line)][3:] == [(48, "ok")]
    assert [each.leaves for each in rounds_of(SQUARE + "Rnds 4-6: repeat Rnd 3 (72)")] == [12, 24, 36, 48, 60, 72]


def test_a_square_that_would_leave_spaces_is_asked_about() -> None:
    (*_, last) = rounds_of(SQUARE + "Rnd 4: Repeat Rnd 3.")
    assert (last.leaves, last.verdict) == (48, "warning")
    assert any(problem.message.endswith("right?") for problem in last.problems)
    (*_, stated) = rounds_of(SQUARE + "Rnd 4: as Rnd 3 (36)")
    assert stated.verdict == "warning"  # a total that vouches for the plain repeat leaves it as it stands


def test_going_on_is_not_read_as_stitches_in_brackets() -> None:
    text = (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) x 6 (18)\nRnd 4: continue in this way ("
    )
    assert [each.leaves for each in rounds_of(text + "24 sc)")] == [6, 12, 18, 24]
    assert rounds_of(text + "25)")[-1].verdict == "disagrees"


def test_a_shawl_goes_on_with_another_number_on_both_its_sides() -> None:
    text = """
The 3 ch at the beginning of a row are always the first dc.
Row 1: 3 ch, 2 dc in the ring, 2 ch, 3 dc in the ring, turn. (6 dc)
Row 2: 3 ch, 1 dc in the same st, 1 dc in the next 2 dc, (2 dc, 2 ch, 2 dc) in the space, 1 dc in the next 2 dc, 2 dc
in the last st, turn. (12 dc)
Row 3: as row 2, but now with 5 dc between. (18 dc)
Row 4: 3 ch, 1 dc in the same st, 1 dc in every dc to the space, (2 dc, 2 ch, 2 dc) in the space, 1 dc in every dc to
the last st, 2 dc in the last st, turn. (24 dc)
Row 5 till 7: repeat row 4. You have now 42 dc.
"""
    assert [each.leaves for each in rounds_of(text)] == [6, 12, 18, 24, 30, 36, 42]


@pytest.mark.parametrize(
    "begun",
    [
        ("join in any corner sp.", "sl st across to corner sp."),
        ("ch 3 (counts as 1 dc throughout), 2 dc in ring", "in ring, ch 3 (counts as 1 dc throughout), 2 dc"),
    ],
)
def test_a_square_whose_rounds_begin_in_other_words_goes_on_too(begun: tuple[str, str]) -> None:
    text = SQUARE.replace(*begun, 1)
    assert left(text + "Rnd 4: as Rnd 3, but there are two ch-1 sps on each side now.") == [12, 24, 36, 48]


def test_a_square_whose_rounds_differ_in_what_is_made_does_not_go_on() -> None:
    """Five chains at the corners of the round before: nobody knows how many the next one has."""
    text = SQUARE.replace("(2 dc, ch 2, 3 dc) in same sp, ch 1, *", "(2 dc, ch 5, 3 dc) in same sp, ch 1, *", 1)
    (*_, last) = rounds_of(text + "Rnd 4: as Rnd 3, but there are two ch-1 sps on each side now.")
    assert last.leaves != 48 and last.verdict != "ok"


SOLID = """
Rnd 1: ch 5 (is 1 dc and ch 2), [4 dc in ring, ch 2] x 3, 3 dc in ring, sl st to 3rd of ch 5. 16 dc
Rnd 2: sl st into sp, ch 5 (is 1 dc and ch 2), 2 dc in same sp, [1 dc in each of next 4 dc, (2 dc, ch 2, 2 dc) in
corner] x 3, 1 dc in each of last 4 dc, 1 dc in first corner, sl st to 3rd of ch 5. 32 dc
"""


def test_a_solid_square_is_the_same_again_with_longer_sides() -> None:
    """A side of so many has four more in the next round, and four sides sixteen (geometry of a square)."""
    again = "Rnd 3: Same again with 8 dc along the sides. {} dc\nRnd 4: the same again with 12 dc along the sides."
    rounds = rounds_of(SOLID + again.format(48))
    assert [(each.before, each.leaves) for each in rounds][1:] == [(16, 32), (32, 48), (48, 64)]
    assert [each.verdict for each in rounds] == ["ok", "ok", "ok", "warning"]  # the last one states no total
    assert rounds_of(SOLID + again.format(52))[2].verdict != "ok"
    assert rounds_of(SOLID + again.format(48).replace("8 dc", "9 dc"))[2].verdict != "ok"


def test_a_corner_that_a_round_began_in_is_come_to_again_at_its_end() -> None:
    assert rounds_of(SOLID.replace("32 dc", "33 dc"))[1].verdict == "disagrees"
    assert rounds_of(SOLID.replace("x 3, 1 dc in each of last", "x 2, 1 dc in each of last"))[1].verdict != "ok"


def test_a_gap_between_other_things_than_increases_is_a_number_of_the_round() -> None:
    """Rows about a point: six more in each, three on either side of it."""
    rows = (
        "Row 1: ch 3 (counts as 1 dc throughout), 3 dc in ring, ch 2, 4 dc in ring, turn. (8)\n"
        "Row 2: ch 3, 1 dc in same st, 1 dc in next 3 dc, (2 dc, ch 2, 2 dc) in sp, 1 dc in next 3 dc, 2 dc in last"
        " st, turn. (14)\n"
        "Row 3: as row 2, but now with {} dc between. ({} dc)"
    )
    assert left(rows.format(6, 20)) == [8, 14, 20]
    onward = (
        "\nRow 4: ch 3, dc in same st, dc in every dc to the sp, (2 dc, ch 2, 2 dc) in the sp, dc in every dc to"
        " the last st, 2 dc in last st, turn."
    )
    assert left(rows.format(6, 20) + onward) == [8, 14, 20, 26]
    assert "does not come out" in told(rows.format(5, 20))
    assert "does not come out" in told(rows.format(6, 22))


GROWN = "Row 1: 4 sc in ring (4)\nRow 2: 2 sc in first st, sc to last st, 2 sc in last st (6)\n"


@pytest.mark.parametrize(
    "more",
    [
        ", with 2 more sc every time",
        ", with 2 more sts each row",
        "; you gain 2 sc every row",
        ", increasing 2 sts every row",
        ", adding 2 sc each time",
    ],
)
def test_how_much_comes_to_it_each_time_is_checked_and_no_other_work(more: str) -> None:
    text = f"{GROWN}Rows 3-5: Repeat row 2{more}. (12 sc)"
    assert (left(text), told(text)) == ([4, 6, 8, 10, 12], "")
    assert "it says 3 a time" in told(
        text.replace("2 sc e", "3 sc e").replace("2 st", "3 st").replace("2 more", "3 more")
    )


@pytest.mark.parametrize(
    "as_one_likes",
    [
        "Repeat rows 1 to 2 if you have the yarn.",
        "Repeat rows 1-2 for a longer scarf.",
        "You can repeat row 2 once more.",
    ],
)
def test_rounds_that_may_be_worked_again_are_not(as_one_likes: str) -> None:
    assert left(f"{GROWN}{as_one_likes}\nRow 3: sc in each st (6)") == [4, 6, 6]
