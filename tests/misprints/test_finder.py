"""One misprint in a piece that agrees with itself: where it is, how the line should read, and what speaks for it.

The right answers are the pieces before the misprint. That each of them agrees with itself was counted by hand: an
increase takes 1 and makes 2, a decrease takes 2 and makes 1, a skip takes 1 and makes none
(common practice, no source).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.notation.ast import Line
from tracker.notation.context import Context
from tracker.pattern.loader import load, loads
from tracker.pattern.misprints import search
from tracker.pattern.misprints.finder import MAX_FINDINGS, Finding, find
from tracker.pattern.misprints.recheck import sheet_of
from tracker.pattern.misprints.search import Budget

CAP = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: 1 sc, inc, (2 sc, inc) x 5, 1 sc (24)
Rnd 5: (3 sc, inc) x 6 (30)
Rnds 6-8: sc around (30)
Rnd 9: (3 sc, dec) x 6 (24)
Rnd 10: (2 sc, dec) x 6 (18)
"""

NO_TOTALS = """
Rnd 1: 6 sc in magic ring
Rnd 2: inc in each st around
Rnd 3: *sc in next st, 2 sc in next st; rep from * 5 more times
Rnd 4: *sc in next 2 sts, 2 sc in next st; rep from * 5 more times
Rnds 5-7: sc in each st around
Rnd 8: *sc in next 2 sts, sc2tog; rep from * 5 more times
Rnd 9: *sc in next st, sc2tog; rep from * 5 more times
"""

CLOTH = """
Row 1: 21 ch, 1 dc in 2nd ch from hook, 1 dc in each ch to end, turn (20)
Row 2: 1 ch, 2 dc in next st, dc to last st, 2 dc in next st, turn (22)
Rows 3-4: 1 ch, dc in each st to end, turn (22)
Row 5: 1 ch, 2 dc in next st, dc to last st, 2 dc in next st, turn (24)
Row 6: as Row 5 (26)
Rows 7-9: as Row 4 (26)
"""

LACE = """
Rnd 1: ch 3 (counts as dc), 11 dc in magic ring, sl st to top of ch-3 (12)
Rnd 2: ch 3 (counts as dc), dc in same st, 2 dc in each st around, sl st to top of ch-3 (24)
Rnd 3: ch 1, *sc in next st, ch 2, sk 1; rep from * around, sl st to first sc (12 sc, 12 ch-2 sps)
Rnd 4: ch 1, *3 sc in next ch-2 sp; rep from * around, sl st to first sc (36)
Rnd 5: ch 1, *sc in next st, sk 2, 5 dc in next st, sk 2; rep from * around, sl st to first sc (6 shells)
"""

SHORT = """
R1: MR, 6sc = 6
R2: inc around = 12
R3: (sc, inc)*6 = 18
R4 (A): sc, 2 inc, 7sc, 2 inc, 6sc = 22
R5 (B): sc around = 22
R6-R7 (A): sc around = 22
R8: sc, 2 dec, 7sc, 2 dec, 6sc = 18
"""

PIECES = {"cap": CAP, "no totals": NO_TOTALS, "cloth": CLOTH, "lace": LACE, "short": SHORT}


def lines_of(name: str) -> list[str]:
    return PIECES[name].strip().split("\n")


def found(name: str, lines: list[str]) -> list[Finding]:
    terms, start = ("UK", "rows") if name == "cloth" else ("US", "spiral")
    yarns = '[yarn.A]\nname = "sand"\n[yarn.B]\nname = "moss"\n'
    rounds = "\n".join(lines)
    text = f'terms = "{terms}"\n{yarns}[[piece]]\nname = "Piece"\nstart = "{start}"\nrounds = """\n{rounds}\n"""\n'
    return find(loads(text))


MISPRINTS = {
    "a digit in a total": ("cap", 4, "Rnd 5: (3 sc, inc) x 6 (35)"),
    "two digits of a total changed about": ("cap", 2, "Rnd 3: (1 sc, inc) x 6 (81)"),
    "the total of a range": ("cap", 5, "Rnds 6-8: sc around (36)"),
    "a multiplier": ("cap", 4, "Rnd 5: (3 sc, inc) x 5 (30)"),
    "a multiplier of another round left behind": ("cap", 3, "Rnd 4: 1 sc, inc, (2 sc, inc) x 6, 1 sc (24)"),
    "a count in a group": ("cap", 4, "Rnd 5: (4 sc, inc) x 6 (30)"),
    "a count with two digits": ("cap", 6, "Rnd 9: (13 sc, dec) x 6 (24)"),
    "the first round": ("cap", 0, "Rnd 1: 8 sc in magic ring (6)"),
    "the last number of a staggered round": ("cap", 3, "Rnd 4: 1 sc, inc, (2 sc, inc) x 5, 2 sc (24)"),
    "an increase lost in a group": ("cap", 4, "Rnd 5: (3 sc) x 6 (30)"),
    "an increase lost beside a group": ("cap", 3, "Rnd 4: 1 sc, (2 sc, inc) x 5, 1 sc (24)"),
    "an increase printed twice": ("cap", 4, "Rnd 5: (3 sc, inc, inc) x 6 (30)"),
    "a decrease for an increase": ("cap", 4, "Rnd 5: (3 sc, dec) x 6 (30)"),
    "count and total wrong together": ("cap", 4, "Rnd 5: (3 sc, inc) x 5 (25)"),
    "no totals: a multiplier": ("no totals", 3, "Rnd 4: *sc in next 2 sts, 2 sc in next st; rep from * 4 more times"),
    "no totals: an increase lost": ("no totals", 3, "Rnd 4: *sc in next 2 sts; rep from * 5 more times"),
    "no totals: a decrease lost": ("no totals", 5, "Rnd 8: *sc in next 2 sts; rep from * 5 more times"),
    "no totals: one for several": ("no totals", 5, "Rnd 8: *sc in next st, sc2tog; rep from * 5 more times"),
    "no totals: several for one": ("no totals", 6, "Rnd 9: *sc in next 3 sts, sc2tog; rep from * 5 more times"),
    "UK: an increase lost at the edge": ("cloth", 1, "Row 2: 1 ch, dc to last st, 2 dc in next st, turn (22)"),
    "UK: a foundation chain": (
        "cloth",
        0,
        "Row 1: 20 ch, 1 dc in 2nd ch from hook, 1 dc in each ch to end, turn (20)",
    ),
    "the total of rows that are told by another": ("cloth", 5, "Rows 7-9: as Row 4 (62)"),
    "the number of the row that is told again": ("cloth", 4, "Row 6: as Row 4 (26)"),
    "a number of chain spaces": (
        "lace",
        2,
        "Rnd 3: ch 1, *sc in next st, ch 2, sk 1; rep from * around, sl st to first sc (12 sc, 21 ch-2 sps)",
    ),
    "a number of shells": (
        "lace",
        4,
        "Rnd 5: ch 1, *sc in next st, sk 2, 5 dc in next st, sk 2; rep from * around, sl st to first sc (8 shells)",
    ),
    "the length of the chain spaces": (
        "lace",
        3,
        "Rnd 4: ch 1, *3 sc in next ch-3 sp; rep from * around, sl st to first sc (36)",
    ),
    "the stitches in one space": (
        "lace",
        3,
        "Rnd 4: ch 1, *2 sc in next ch-2 sp; rep from * around, sl st to first sc (36)",
    ),
    "behind a chain that counts": (
        "lace",
        0,
        "Rnd 1: ch 3 (counts as dc), 12 dc in magic ring, sl st to top of ch-3 (12)",
    ),
    "no brackets: a count of increases": ("short", 3, "R4 (A): sc, 3 inc, 7sc, 2 inc, 6sc = 22"),
    "no brackets: a count lost": ("short", 3, "R4 (A): sc, 2 inc, sc, 2 inc, 6sc = 22"),
}


@pytest.mark.parametrize("name", PIECES)
def test_a_piece_that_agrees_with_itself_is_left_alone(name: str) -> None:
    assert found(name, lines_of(name)) == []


@pytest.mark.parametrize(
    "path", sorted((Path(__file__).parents[2] / "patterns").glob("*.toml")), ids=lambda p: p.stem
)
def test_no_misprint_is_seen_in_a_shipped_pattern(path: Path) -> None:
    assert find(load(path)) == []


@pytest.mark.parametrize(("piece", "place", "wrong"), MISPRINTS.values(), ids=MISPRINTS)
def test_the_line_as_it_was_is_offered_first(piece: str, place: int, wrong: str) -> None:
    lines = lines_of(piece)
    right, lines[place] = lines[place], wrong
    (finding,) = found(piece, lines)
    assert finding.corrected_line == right


SENTENCES = {
    "a total": (
        "cap",
        4,
        "Rnd 5: (3 sc, inc) x 6 (35)",
        "Rnd 5: the total is probably 30, not 35: the instruction uses the 24 that Rnd 4 leaves, makes 30,"
        " and Rnd 6 states 30",
    ),
    "a multiplier, with the words around it": (
        "no totals",
        3,
        "Rnd 4: *sc in next 2 sts, 2 sc in next st; rep from * 4 more times",
        "Rnd 4: 'rep from * 4 more times' is probably 'rep from * 5 more times': it then uses the 18"
        " that Rnd 3 leaves, and makes 24",
    ),
    "a count, with its stitch": (
        "cap",
        6,
        "Rnd 9: (4 sc, dec) x 6 (24)",
        "Rnd 9: '4 sc' is probably '3 sc': it then uses the 30 that Rnd 8 leaves, makes 24 as stated,"
        " and Rnd 10 needs 24",
    ),
    "a loss": (
        "cap",
        3,
        "Rnd 4: 1 sc, (2 sc, inc) x 5, 1 sc (24)",
        "Rnd 4: 'inc' is probably missing: it then uses the 18 that Rnd 3 leaves, makes 24 as stated,"
        " and Rnd 5 needs 24",
    ),
    "one too many": (
        "cap",
        4,
        "Rnd 5: (3 sc, inc, inc) x 6 (30)",
        "Rnd 5: 'inc' is probably too much: it then uses the 24 that Rnd 4 leaves, makes 30 as stated,"
        " and Rnd 6 states 30",
    ),
    "two that belong together": (
        "cap",
        4,
        "Rnd 5: (3 sc, inc) x 5 (25)",
        "Rnd 5: 'x 5' is probably 'x 6', and the total follows from it: it then uses the 24 that Rnd 4 leaves,"
        " makes 30 as stated, and Rnd 6 states 30",
    ),
    "a row that is told again": (
        "cloth",
        4,
        "Row 6: as Row 4 (26)",
        "Row 6: 'Row 4' is probably 'Row 5': it then uses the 24 that Row 5 leaves, makes 26 as stated,"
        " and Row 7 states 26",
    ),
}


@pytest.mark.parametrize(("piece", "place", "wrong", "sentence"), SENTENCES.values(), ids=SENTENCES)
def test_a_sentence_tells_the_change_and_its_witnesses(piece: str, place: int, wrong: str, sentence: str) -> None:
    lines = lines_of(piece)
    lines[place] = wrong
    (finding,) = found(piece, lines)
    assert finding.sentence == sentence


def test_two_rounds_in_the_wrong_order_are_put_right_together() -> None:
    lines = lines_of("cap")
    lines[3:5] = ["Rnd 4: (3 sc, inc) x 6 (30)", "Rnd 5: 1 sc, inc, (2 sc, inc) x 5, 1 sc (24)"]
    (finding,) = found("cap", lines)
    assert finding.sentence == "Rnd 4 and Rnd 5 look swapped: in the other order every count agrees"
    assert finding.offers[0].corrected_lines == tuple(lines_of("cap")[3:5])


def test_swapped_rounds_leave_ranges_and_colours_where_they_stand() -> None:
    lines = lines_of("short")
    lines[3:5] = ["R4 (A): sc around = 22", "R5 (B): sc, 2 inc, 7sc, 2 inc, 6sc = 22"]
    (finding,) = found("short", lines)
    assert finding.offers[0].corrected_lines == tuple(lines_of("short")[3:5])
    lines = [*lines_of("short")[:5], "R6-R7 (A): sc, 2 dec, 7sc, 2 dec, 6sc = 18", "R8: sc around = 22"]
    (finding,) = found("short", lines)
    assert finding.offers[0].corrected_lines == tuple(lines_of("short")[5:])


def test_two_misprints_are_two_findings_each_with_the_other_mended() -> None:
    lines = lines_of("cap")
    lines[2], lines[6] = "Rnd 3: (1 sc, inc) x 6 (81)", "Rnd 9: (3 sc, dec) x 5 (24)"
    findings = found("cap", lines)
    assert [finding.corrected_line for finding in findings] == [lines_of("cap")[2], lines_of("cap")[6]]


def test_a_misprint_is_found_in_its_round_even_if_a_later_one_complains() -> None:
    """With no totals, 18 for 12 is first seen in the round after; 4 in the ring would do too, but grow oddly."""
    lines = lines_of("no totals")
    lines[1] = "Rnd 2: 3 sc in each st around"
    (finding,) = found("no totals", lines)
    assert finding.seen_at == 2
    assert (finding.round_index, finding.corrected_line) == (1, "Rnd 2: 2 sc in each st around")


CANNOT_TELL = {
    "two numbers of one round are wrong": (4, "Rnd 5: (5 sc, inc, dec) x 7 (47)", "Rnd 5"),
    "nothing small makes sense of it": (4, "Rnd 5: (9 sc, dec, inc) x 2 (47)", "Rnd 5"),
    "it agrees with itself, and the next does not": (1, "Rnd 2: dec x 3 (3)", "Rnd 3"),
}


@pytest.mark.parametrize(("place", "wrong", "label"), CANNOT_TELL.values(), ids=CANNOT_TELL)
def test_where_no_single_change_helps_that_is_said(place: int, wrong: str, label: str) -> None:
    lines = lines_of("cap")
    lines[place] = wrong
    finding = found("cap", lines)[0]
    assert finding.sentence == (
        f"{label}: no single change makes the instruction, the totals and the rounds around it agree"
    )
    assert (finding.offers, finding.corrected_line) == ((), "")


def test_a_misprint_that_agrees_with_all_around_it_cannot_be_told() -> None:
    """Arithmetic has no witness against it: the total was left out, and the next rounds go with any number."""
    lines = [
        "Rnd 1: 6 sc in magic ring",
        "Rnd 2: inc in each st around",
        "Rnd 3: (2 sc, inc) x 4",
        "Rnd 4: sc around",
    ]
    assert found("cap", lines) == []


def test_changes_that_are_as_likely_are_told_too() -> None:
    """Rows 2 and 4 are the same increase row: either can have been meant where Row 3 is named."""
    lines = [
        "Row 1: 13 ch, dc in 2nd ch from hook and in each ch to end, turn (12)",
        "Row 2: 1 ch, inc, dc to last st, inc, turn (14)",
        "Row 3: 1 ch, dc to end, turn (14)",
        "Row 4: 1 ch, inc, dc to last st, inc, turn (16)",
        "Row 5: as Row 3 (18)",
        "Row 6: 1 ch, dc to end, turn (18)",
    ]
    (finding,) = found("cloth", lines)
    told = [finding.corrected_line, *(offer.corrected_line for offer in finding.rivals)]
    assert told == ["Row 5: as Row 2 (18)", "Row 5: as Row 4 (18)"]


def test_the_same_change_in_another_place_is_no_rival() -> None:
    lines = lines_of("cap")
    lines[4] = "Rnd 5: (3 sc) x 6 (30)"
    (finding,) = found("cap", lines)
    assert finding.offers[1].corrected_line == "Rnd 5: (inc, 3 sc) x 6 (30)"
    assert finding.rivals == ()


def test_a_wrong_total_beside_another_is_put_with_more_doubt() -> None:
    lines = lines_of("cap")
    lines[3], lines[4] = "Rnd 4: 1 sc, inc, (2 sc, inc) x 5, 1 sc (42)", "Rnd 5: (3 sc, inc) x 6 (39)"
    first, second = found("cap", lines)
    assert first.sentence.startswith("Rnd 4: the total is perhaps 24, not 42: ")
    assert first.sentence.endswith("; but Rnd 5 still disagrees")
    assert [first.corrected_line, second.corrected_line] == lines_of("cap")[3:5]


def test_a_piece_that_was_badly_read_is_not_searched_without_end() -> None:
    lines = ["Rnd 1: 6 sc in magic ring (6)"]
    lines += [f"Rnd {number}: sc around ({9 if number % 3 == 0 else 6})" for number in range(2, 60)]
    findings = found("cap", lines)
    assert len(findings) == MAX_FINDINGS + 1
    assert findings[-1].sentence == "Rnd 27: 11 more lines do not agree; mend the others, and check again"


def test_a_line_with_hundreds_of_changes_is_tried_with_the_likeliest_only() -> None:
    """Forty words that can each be wrong, over stitches that nobody counted."""
    lines = ["Rnd 1: 7" + " dc hdc" * 20 + " in magic ring (7)", "Rnd 2: (1 sc, inc, dec) x 3 (9)"]
    findings = found("cap", lines)
    assert findings[-1].sentence.endswith("more were not tried")


def test_the_search_reads_no_more_than_it_may(monkeypatch: pytest.MonkeyPatch) -> None:
    rounds = "Rnd 1: 7" + " dc hdc" * 20 + " in magic ring (7)"
    sheet = sheet_of(loads(f'[[piece]]\nname = "Piece"\nrounds = "{rounds}"\n'), 0)
    read: set[str] = set()
    plainly = search._read

    def counted(text: str, context: Context, main: str) -> Line:
        read.add(text)
        return plainly(text, context, main)

    monkeypatch.setattr(search, "_read", counted)
    for most in (1_000, 5_000):
        read.clear()
        search.repairs(sheet, sheet.checked(), 0, 3, Budget(most))
        assert most / 2 < sum(map(len, read)) < most + len(rounds)


def test_a_round_that_comes_to_no_number_is_never_the_better_line() -> None:
    """Chains passed over with nothing to show for it: the last line runs out in any spelling of the others."""
    lines = [
        "Rnd 1: 10 sc in magic ring (10)",
        "Rnd 2: sc in next 10 sts, ch 12, skip 12 sts, sc in next 10 sts (32)",
        "Rnd 3: *3 sc in next st, sk 1, 3 sc in next st, sk 1; rep from * around",
        "Rnd 4: sc (30)",
    ]
    first = found("cap", lines)[0]
    assert (first.round_index, first.offers) == (1, ())


def test_a_corrected_line_keeps_what_else_was_typed() -> None:
    lines = lines_of("cap")
    lines[4] = "  Rnd 5 :  [ 3 SC,  Inc ] × 5   ( 30 )"
    (finding,) = found("cap", lines)
    assert finding.corrected_line.strip() == "Rnd 5 :  [ 3 SC,  Inc ] × 6   ( 30 )"


@given(start=st.integers(5, 9), rounds=st.integers(3, 9), place=st.integers(1, 8), total=st.integers(1, 99))
@settings(max_examples=25, deadline=None)
def test_a_wrong_total_of_a_disk_is_always_put_right(start: int, rounds: int, place: int, total: int) -> None:
    """A disk of n increases a round has n*k stitches after round k (source: geometry, growth of a flat circle)."""
    place = min(place, rounds - 1)
    lines = [f"Rnd 1: {start} sc in magic ring ({start})", f"Rnd 2: inc x {start} ({2 * start})"]
    lines += [f"Rnd {k}: ({k - 2} sc, inc) x {start} ({start * k})" for k in range(3, rounds + 1)]
    right = lines[place]
    lines[place] = right.rsplit("(", 1)[0] + f"({total})"
    findings = found("cap", [*lines, f"Rnd {rounds + 1}: ({rounds - 1} sc, inc) x {start}"])
    if total == start * (place + 1):
        assert findings == []
    else:
        assert [finding.corrected_line for finding in findings] == [right]
