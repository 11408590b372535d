"""The checks of a decided round: one sentence or nothing each, in an order; their codes stand in one table."""

from __future__ import annotations

import ast
import inspect
from pathlib import Path

import pytest

import tracker
from tracker.diagnostics import CODES
from tracker.rounds import checks
from tracker.rounds.line_report import read_line

TRACKER = Path(tracker.__file__).parent

MAKERS = {"error", "warning", "disagreement", "note", "fail", "Problem", "problem", "of_whole", "Unsolvable"}
"""What a problem is made with; the code is its first text."""


def codes_in(source: str) -> set[str]:
    """The codes that a module gives to problems."""
    codes = set()
    for node in ast.walk(ast.parse(source)):
        name = node.func if isinstance(node, ast.Call) else None
        called = name.id if isinstance(name, ast.Name) else name.attr if isinstance(name, ast.Attribute) else ""
        if isinstance(node, ast.Call) and called in MAKERS:
            texts = [a.value for a in node.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
            codes |= set(texts[:1])
    return codes


def test_every_code_stands_in_the_table_and_every_code_of_the_table_is_used() -> None:
    rooms = ("notation", "rounds", "pattern")
    paths = [path for room in rooms for path in (TRACKER / room).rglob("*.py")]
    used = set().union(*(codes_in(path.read_text(encoding="utf-8")) for path in paths))
    assert sorted(set(CODES) - used) == []
    assert sorted(used - set(CODES)) == []
    assert all(meaning and not meaning.endswith(".") for meaning in CODES.values())


def test_every_check_of_the_room_stands_in_a_list() -> None:
    listed = {check.__name__ for check in (*checks.CHECKS, *checks.DOUBTS)}
    like_them = {
        name
        for name, value in inspect.getmembers(checks, inspect.isfunction)
        if list(inspect.signature(value).parameters) == ["decision", "base", "stated"] and not name.startswith("_")
    }
    assert listed == like_them
    assert len(listed) == len(checks.CHECKS) + len(checks.DOUBTS)


EACH_CHECK = [
    ("Rnd 5: *sc, inc; rep from * around", None, ["base-unknown"]),
    ("Rnd 5: (sc, inc) around (32)", None, ["total-does-not-divide"]),
    ("Rnd 5: 3 sc, dec", 20, ["read-otherwise"]),
    ("Rnd 5: 3 sc, dec (16)", None, ["read-otherwise", "repeat-assumed", "base-from-total"]),
    ("Rnd 5: (sc, ch 1, sk 1) x 8 (16)", 16, ["total-counts-otherwise"]),
    ("Rnd 5: sc in each st and ch-1 sp around (30)", 20, ["spaces-from-total"]),
    ("Rnd 5: (sc, dec) around", 20, ["cut-short"]),
    ("Rnd 5: sc around, hdc around", 20, ["nothing-left"]),
    ("Rnd 5: (sc, inc) x 8", 20, ["unworked"]),
    ("Rnd 5: (sc, inc) x 12", 20, ["runs-out"]),
    ("Rnd 5: (sc, inc) x 10 (31)", 20, ["total-differs"]),
    ("Rnd 5: (sc, inc) x 8 (31)", 20, ["unworked", "total-differs"]),
    ("Rnd 5: (sc, ch 2) around", 20, ["spaces-besides"]),
    ("Rnd 5: (sc, ch 1, sk 1) around", 20, ["chains-for-stitches"]),
    ("Rnd 5: 3 dc in each ch-2 sp around", 20, ["spaces-assumed"]),
    ("Rnd 5: ch 3, dc in next 19 sts", 20, []),
    ("Rnd 8: sc in next 10 sts, ch 8, sk 8, sc in next 10 sts", 28, ["by-convention"]),
]


@pytest.mark.parametrize(("text", "before", "codes"), EACH_CHECK)
def test_what_a_round_is_told_in_order(text: str, before: int | None, codes: list[str]) -> None:
    """Worked out by hand: a stitch takes one base, an increase one, a decrease two."""
    assert [problem.code for problem in read_line(text, before).problems] == codes


def test_a_total_alone_does_not_vouch_for_a_repeat_that_nobody_wrote() -> None:
    """Any multiple of the line would do; with the stitches of the round before there is a second witness."""
    assert read_line("Rnd 9: dec, 5 sc (30)", None).verdict == "warning"
    assert read_line("Rnd 9: dec, 5 sc (30)", 35).verdict == "ok"
    assert read_line("Rnd 9: (dec, 5 sc) around (30)", None).verdict == "ok"


@pytest.mark.parametrize(
    ("text", "before", "uses", "leaves"),
    [
        ("Rnd 4: ch 1, sc in each st, 3 sc in each corner, join (32)", 20, 20, 32),
        ("Rnd 2: *sc in next 5 sts, (2 sc, ch 2, 2 sc) in corner sp; rep from * 3 more times (36)", 20, 20, 36),
        ("Rnd 2: 9 sc on the first leg, 9 sc on the second leg (18)", 9, 0, 18),
        ("Rnd 2: *3 sc in next ch-2 sp; rep from * around (60)", 20, 20, 60),
    ],
)
def test_no_round_is_right_that_uses_more_than_is_there(text: str, before: int, uses: int, leaves: int) -> None:
    """Spaces that nobody counted, and other parts, are not among the stitches of the round before."""
    report = read_line(text, before)
    assert (report.verdict, report.uses, report.leaves) == ("ok", uses, leaves)


@pytest.mark.parametrize(
    ("text", "before"),
    [("Rnds 4-9: 24 sc", 12), ("Rnds 6-7: 7 sc in each", 48), ("Rnd 3: 30 sc in next st, 20 sc on the front leg", 9)],
)
def test_what_is_wrong_in_the_first_round_of_a_range_is_not_made_good_by_the_next(text: str, before: int) -> None:
    report = read_line(text, before)
    assert report.verdict != "ok" or (report.uses is not None and report.uses <= before)


def test_places_of_another_part_do_not_hide_that_the_row_runs_out() -> None:
    assert read_line("Rnd 6: 30 sc, 7 sc in the second leg", 24).verdict == "error"
    assert read_line("Rnd 6: 24 sc, 7 sc in the second leg", 24).verdict == "ok"
