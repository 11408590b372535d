"""What stands around a round: signs before and behind its number, and around its total, say no more than plain ones.

That pages set their rounds in these ways is common practice, no source; the counts are sums of what is written.
"""

from __future__ import annotations

import pytest
from bench.fuzz_lines import limited
from hypothesis import given
from hypothesis import strategies as st

from tracker.line_frame import with_plain_frame
from tracker.normalize import fold
from tracker.notation.parser.heading import heading
from tracker.rounds.line_report import read_line

LIMIT = 5.0
"""Seconds of processor time, on a shared machine; what goes through a text again and again takes more."""

HEADS = (
    "[7] ", "<7> ", "{7} ", "[Rnd 7] ", "(R7) ", "#7 ", "#7: ", "# 7 - ", "7   ", "R7 > ", "Rnd 7 -> ", "Rnd 7 → ",
    "Round 7—", "Rnd 7 ~ ", "Rnd 7 | ", "☐ R7: ", "♥ Rnd 7. ", "[ ] Rnd 7: ", "> 7) ", "7th rnd—", "Rnd 7 ※ ",
)  # fmt: skip
TOTALS = (
    " | 28", " ~ 28 ~", " /28/", " / 28 sts", " // 28", " *28*", ' "28"', " «28»", " _28_", " _28 sts_", " > 28",
    " ✔ 28", "   28", " **28**", " → 28", ", 28 sts", ", making 28 sts", " ※ 28 stitches",
)  # fmt: skip


@pytest.mark.parametrize("head", HEADS)
def test_signs_around_a_number_are_no_part_of_the_round(head: str) -> None:
    report = read_line(f"{head}(3 sc, inc) x 7 (35)", 28, "US")
    assert (report.verdict, report.leaves) == ("ok", 35), report.messages
    assert heading(fold(f"{head}(3 sc, inc) x 7 (35)")).numbers == (7,)


@pytest.mark.parametrize("total", TOTALS)
@pytest.mark.parametrize(
    ("made", "before"), [("(2 sc, inc) x 7", 21), ("sc in each st around", 28), ("inc x 14", 14)]
)
def test_signs_around_a_total_say_that_it_is_one(total: str, made: str, before: int) -> None:
    report = read_line(f"Rnd 7: {made}{total}", before, "US")
    assert (report.verdict, report.leaves, report.stated) == ("ok", 28, 28), report.messages


@pytest.mark.parametrize("total", TOTALS)
def test_a_wrong_total_is_told_in_any_frame(total: str) -> None:
    assert read_line(f"Rnd 7: (2 sc, inc) x 8{total}", 24, "US").verdict == "disagrees"


@pytest.mark.parametrize(
    ("line", "before", "leaves"),
    [
        ("Rnd 3: (sc, inc) * 6", 12, 18),  # a sign of multiplication
        ("Rnd 3: (sc, inc) × 6", 12, 18),
        ("Rnd 3: 5 sc / inc / 6 sc", 12, 13),  # strokes between stitches
        ("Rnd 3: *sc, inc* 6 times", 12, 18),
        ("Rnds 4 / 5: sc in each st", 12, 12),
        ("R6~R8: 12 sc", 12, 12),
        ("Rnd 3: 6*(sc, inc)", 12, 18),  # the sign of multiplication, on either side
        ("R.3 6 * (sc, inc). 18 sts.", 12, 18),
        ("Rnd 3: /sc, inc/ x 6", 12, 18),  # a group between strokes or quotes
        ('Rnd 3: "sc, inc" x 6 - 18', 12, 18),
        ("Rnd 9: 5 dec st count 5", 10, 5),
        ("Rnd 2 = inc*6   12", 6, 12),
        ("<1> 7 sc into magic loop   7", None, 7),
        ("Rnds 6-8, 40 sc around (40)", 40, 40),
    ],
)
def test_signs_that_say_something_stay(line: str, before: int | None, leaves: int) -> None:
    report = read_line(line, before, "US")
    assert (report.verdict, report.leaves) == ("ok", leaves), report.messages


@pytest.mark.parametrize(
    "line",
    [
        "#4 worsted yarn, 50 g",
        "[2 sc, inc] x 6",
        "(3) 12 cm",
        "- 3 mm hook",
        "3 mm   hook",
        "\u201cRnds 1-9 are the dome.\u201d",
    ],
)
def test_what_is_no_round_keeps_its_signs(line: str) -> None:
    assert with_plain_frame(line) == line


@given(st.text(st.sampled_from("Rnd 3:#[]<>(){}/|_~*«» 12sc,→—✔☐\n"), max_size=60))
def test_every_column_stays_where_it_was(text: str) -> None:
    plain = with_plain_frame(text)
    assert len(plain) == len(text)
    assert [i for i, c in enumerate(plain) if c.isdigit()] == [i for i, c in enumerate(text) if c.isdigit()]


@pytest.mark.parametrize(
    ("begun", "again"),
    [("Rnd 7: sc ", "|"), ("Rnd 7: sc ", "| "), ("1 ", "\u2014"), ("1 ", "\u2192 "), ("  ", "1, "), ("  ", "1-")],
)
def test_no_line_takes_long_to_look_at(begun: str, again: str) -> None:
    """A row of bars, as pages rule off tables, may be taken in one way only: else each doubles the time."""
    for times in (26, 9_000):  # the first is slow, and not for ever, where signs can be taken in two ways
        with limited(LIMIT):
            with_plain_frame(f"{begun}{again * times}!")


@pytest.mark.parametrize(
    ("line", "before", "leaves"),
    [
        ("Rnd 1 (tan)\n* Make a magic ring and ch 1\n* Work 7 sc into the ring\n* Sl st to the first sc", 0, 7),
        ("Rnd 2\n* Ch 1\n* 2 sc in every st around (18 sc)\n* Sl st to the first sc, cut the yarn", 9, 18),
        ("Rnd 2:\n* ch 1,\n* [2 sc in next st, sc in next 2 sts] 4 times\n* fasten off", 12, 16),
        ("Rnd 2: * sc in next st, inc\n* 6 times", 12, 18),  # the second star ends the part
    ],
)
def test_stars_before_the_steps_of_a_round_are_those_of_a_list(line: str, before: int, leaves: int) -> None:
    report = read_line(line, before or None, "US")
    assert (report.verdict, report.leaves) == ("ok", leaves), report.messages


@pytest.mark.parametrize("again", [" ", "\n", "sc-\n", "1st. "])
def test_no_line_takes_long_to_read(again: str) -> None:
    """Blanks at an end, and empty lines, are gone through once: ten thousand took seconds."""
    with limited(LIMIT):
        read_line(f"Rnd 7: sc {again * 9_000}", 12)


@pytest.mark.parametrize(
    "again", ["*sc, ch 2, sc* ending last rep with hdc, ", "*sc, inc; rep from * around, ending last rep sc. "]
)
def test_an_ending_of_an_ending_doubles_no_readings(again: str) -> None:
    with limited(LIMIT):
        read_line(f"Rnd 7: {again * 16}", 12)


@pytest.mark.parametrize(
    ("scanned", "plain"),
    [
        ("lst rnd: 6 sc", "1st rnd: 6 sc"),
        ("llth to 2Oth rnds:", "11th to 20th rnds:"),
        ("2lst Row.", "21st row."),
        ("Rnds. l-3. lO sc", "rnds. 1-3. lo sc"),  # no figure in "lO" tells that it is a number
        ("l dc in next st (l8 dc)", "1 dc in next st (18 dc)"),
        ("in f l of each sc", "in f l of each sc"),
        ("3Oz of wool, list, lot", "3oz of wool, list, lot"),
        ("I dc here", "i dc here"),
    ],
)
def test_figures_that_a_scanner_took_for_letters(scanned: str, plain: str) -> None:
    assert fold(scanned) == plain
