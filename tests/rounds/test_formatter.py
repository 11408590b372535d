"""What we write, we read back: the same moves, bases, stitches by kind and spaces."""

from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from support.round_shapes import bodies, dec, group, inc, plain, round_of, step

from tracker.pattern.loader import load
from tracker.rounds.formatter import notate
from tracker.rounds.line_report import read_line
from tracker.rounds.plan import Act, Into, Loop, Made, Plan, Role, Run, Tally, Technique

PATTERNS = sorted((Path(__file__).parents[2] / "patterns").glob("*.toml"))


def numbers(tally: Tally) -> tuple:
    """All of a tally but the names, which are shorthand for what is counted here."""
    return tally.moves, tally.takes, tally.stitches, tally.spaces, tally.chains, sorted(tally.kinds)


SPACE = Run(Act("ch", Role.CHAIN, (Made("ch", 3),), 0))

WRITTEN = {
    "a run": (round_of(plain(5)), "5 sc"),
    "a group": (round_of(group(6, plain(2), inc())), "(2 sc, inc) x 6"),
    "several increases": (round_of(inc(6)), "6 inc"),
    "three in one": (round_of(plain(2), inc(1, "sc", 3)), "2 sc, 3 sc in next st"),
    "decreases": (round_of(group(4, plain(3), dec())), "(3 sc, dec) x 4"),
    "another stitch": (round_of(plain(2, "dc"), inc(1, "dc"), dec(1, "dc")), "2 dc, 2 dc in next st, dc2tog"),
    "a mixed round names the stitch": (round_of(plain(2, "dc"), inc(1, "sc")), "2 dc, 2 sc in next st"),
    "nested groups": (round_of(group(3, group(2, plain(), inc()), plain(2))), "[(1 sc, inc) x 2, 2 sc] x 3"),
    "a joined round": (round_of(step("ch 1"), plain(12, "hdc"), step("join")), "ch 1, 12 hdc, join"),
    "a ring": (
        round_of(Run(Act("sc", Role.WORK, (Made("sc"),), 0, Into.RING), 6)),
        "6 sc in magic ring",
    ),
    "a loop": (round_of(Run(Act("sc", Role.WORK, (Made("sc"),), 1, loop=Loop.BACK), 9)), "9 sc in BLO"),
    "one place": (
        round_of(Run(Act("in one", Role.WORK, (Made("dc", 2), Made("ch", 1), Made("dc", 2)), 1)), plain(3)),
        "(2 dc, ch 1, 2 dc) in next st, 3 sc",
    ),
    "skips and chains": (
        round_of(Run(Act("sk", Role.SKIP, (), 1), 2), Run(Act("ch", Role.CHAIN, (Made("ch", 3),), 0)), plain(3)),
        "sk 2, ch 3, 3 sc",
    ),
    "a space at the start": (round_of(SPACE, plain(3), dec()), "(ch 3, 3 sc) x 1, dec"),
    "a space at the end": (round_of(plain(3), dec(), SPACE), "3 sc, (dec, ch 3) x 1"),
    "nothing but a space": (round_of(SPACE), "ch 3"),
    "a space behind a chain": (
        round_of(step("ch 2"), SPACE, plain(3), dec()),
        "ch 2 (does not count), ch 3, 3 sc, dec",
    ),
    "slip stitches in a loop": (
        round_of(Run(Act("sl st", Role.WORK, (Made("sl st"),), 1, loop=Loop.BACK), 5)),
        "5 BLO sl st",
    ),
    "a chain and one that counts": (
        round_of(
            Run(Act("ch 1", Role.CHAIN, (Made("ch", 1),), 0, technique=Technique.CHAIN)),
            Run(Act("ch 3", Role.CHAIN, (Made("ch", 3, "dc"),), 0)),
            plain(1, "dc"),
            inc(1, "dc"),
        ),
        "[ch 1, ch 3 (counts as dc)] x 1, 1 dc, 2 dc in next st",
    ),
    "a chain that counts": (
        round_of(Run(Act("ch 3", Role.CHAIN, (Made("ch", 3, "dc"),), 0)), plain(11, "dc"), step("join")),
        "ch 3 (counts as dc), 11 dc, join",
    ),
}


@pytest.mark.parametrize(("plan", "text"), WRITTEN.values(), ids=WRITTEN)
def test_written(plan, text):
    assert notate(plan) == text


def test_colours_are_written_where_they_change():
    def of(colour: str) -> Run:
        return Run(Act("sc", Role.WORK, (Made("sc"),), 1, colour=colour), 4)

    assert notate(round_of(of("A"), of("B"), of("A"))) == "(A) 4 sc, (B) 4 sc, (A) 4 sc"
    assert notate(round_of(group(3, of("A"), of("B")), of("B"))) == "[(A) 4 sc, (B) 4 sc] x 3, 4 sc"


@pytest.mark.parametrize(
    "line", ["(A) 3 sc, (B) 3 sc; repeat these 6 sts 4 more times", "3 sc A, 3 sc B around", "3 sc A, 3 sc B x 5"]
)
def test_colours_of_a_part_that_is_repeated_are_kept(line):
    read = read_line(f"Rnd 6: {line}", 30).plan
    assert read is not None
    assert notate(read).upper() == "[(A) 3 SC, (B) 3 SC] X 5"


def test_a_colour_drawn_in_at_the_end_is_written():
    plan = Plan((plain(12),), ends_with="B")
    assert notate(plan) == "12 sc, change to B"
    read = read_line(f"Rnd 2: {notate(plan)}", 12).plan
    assert read is not None
    assert read.ends_with.upper() == "B"


def test_uk_terms_are_written_in_uk_terms():
    plan = round_of(plain(5), dec(), plain(2, "dc"))
    assert notate(plan, "UK") == "5 dc, dc2tog, 2 tr"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("8 sc, 2 dc in each of the 4 skipped sts", "8 sc, 2 dc in each of 4 skipped sts"),
        ("8 sc, dc in skipped st", "8 sc, 1 dc in skipped st"),
        ("sc in each of 8 skipped sts", "8 sc"),
    ],
)
def test_stitches_passed_over_before_are_several_places(text: str, written: str) -> None:
    plan = read_line(text, 8).plan
    assert plan is not None
    assert notate(plan) == written
    again = read_line(written, 8).plan
    assert again is not None
    assert numbers(again.tally) == numbers(plan.tally)


@settings(deadline=None)
@given(bodies())
def test_what_is_written_is_read_back_to_the_same_numbers(body):
    """With its total, as rounds are always written."""
    plan = Plan(body)
    assume(plan.leaves or plan.uses)  # a line of nothing but one chain is a foundation
    for terms in ("US", "UK"):
        read = read_line(f"Rnd 2: {notate(plan, terms)} ({plan.leaves})", plan.uses, terms)
        assert read.plan is not None, (notate(plan, terms), read.messages)
        assert numbers(read.plan.tally) == numbers(plan.tally), notate(plan, terms)


READ = [
    (None, "Row 1: ch 22; dc in 4th ch from hook (skipped chs count as dc) and in each ch across (20)"),
    (None, "Row 1: ch 11; sc in 2nd ch from hook and in each ch across (10)"),
    (None, "Row 1: ch 13; dc in 4th ch from hook (skipped chs do not count) and in each ch across (10)"),
    (20, "Row 2: ch 3 (counts as first dc), sk first st, dc in next 19 sts, turn (20)"),
    (12, "Rnd 3: ch 4 (counts as dc, ch 1), *dc in next st, ch 1; rep from * around, join (12 dc, 12 ch-1 sps)"),
    (24, "Rnd 4: *sc in next 4 sts, ch 2**, dc in next st; rep from *, end last rep at **"),
    (30, "Rnd 5: in FLO: *5 dc in next st, sl st in next st; rep from * around (90)"),
    (24, "Rnd 6: (bobble, 3 sc) x 6 (24)"),
    (24, "Rnd 7: (FPdc, BPdc) x 12 (24)"),
    (12, "Rnd 8: 9 sc, change to B in last st, sc in next 3 sts"),
    (None, "Rnd 9: *3 sc in next ch-3 sp; rep from * around (24)"),
]


@pytest.mark.parametrize(("before", "text"), READ, ids=[text for _, text in READ])
def test_what_was_read_is_written_and_read_again_the_same(before, text):
    plan = read_line(text, before).plan
    assert plan is not None
    again = read_line(f"Rnd 2: {notate(plan)} ({plan.leaves})", before).plan
    assert again is not None, notate(plan)
    assert numbers(again.tally) == numbers(plan.tally), notate(plan)


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.stem)
def test_every_round_of_the_shipped_patterns_is_read_back_the_same(path):
    pattern = load(path)
    for piece in pattern.pieces:
        for item in piece.rounds:
            assert item.plan is not None
            text = f"{item.label}: {notate(item.plan, pattern.terms)}"
            read = read_line(text, item.before, pattern.terms, piece.context)
            assert read.plan is not None, (text, read.messages)
            assert numbers(read.plan.tally) == numbers(item.plan.tally), text
