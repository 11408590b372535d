"""What the sums of a round lead to: places by name for the round above, and what is said where witnesses differ.

All numbers were worked out by hand (source: arithmetic).
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Round
from tracker.rounds.formatter import notate
from tracker.rounds.line_report import read_line
from tracker.rounds.slicing import PlanSlice, act_bounds, stretch_at


def rounds_of(*lines: str) -> tuple[Round, ...]:
    text = "\n".join(f"Rnd {number}: {line}" for number, line in enumerate(lines, 1))
    return loads(f'[[piece]]\nname = "Cap"\nrounds = """\n{text}\n"""\n').pieces[0].rounds


@pytest.mark.parametrize(
    ("below", "above", "leaves"),
    [
        ("(5 dc in next st, sk 1) around", "sc in each shell around", 6),
        ("(5 dc in next st, sk 1) around", "(2 sc in each of next 2 shells) twice, sc in each shell around", 10),
        ("(5 dc in next st, sk 1) around", "(sc in next shell, 2 sc in next shell) around", 9),
        ("(5 dc in next st, sk 1) around", "2 sc in each shell to last 2 shells, sc in last 2 shells", 10),
        ("(dc, ch 1, sk 1) around", "(2 sc in next ch-1 sp, 3 sc in next ch-1 sp) around", 15),
        ("(dc, ch 1, sk 1) around", "2 sc in each of next 2 ch-1 sps, 3 sc in each ch-1 sp around", 16),
        ("(dc, ch 1, sk 1) around", "3 sc in each ch-1 sp to last sp, sc in last sp", 16),
        ("(dc, ch 1, sk 1) around", "3 sc in each ch-1 sp around, (sc in next ch-1 sp) 3 times", 12),
        ("[(2 dc, ch 2, 2 dc) in next st, sk 1] around", "3 sc in each shell around", 18),
        ("[(2 dc, ch 2, 2 dc) in next st, sk 1] around", "2 sc in each ch-2 sp around", 12),
        ("[(2 dc, ch 3, 2 dc) in next st, sk 1] around", "3 sc in each ch-3 corner sp around", 18),
        ("[(dc, ch 1, dc) in next st, sk 1] around", "3 sc in each V-st around", 18),
        ("[(dc, ch 1, dc) in next st, ch 3, sk 1] around", "(2 sc in ch-1 sp, 4 sc in ch-3 sp) around", 36),
        ("(dc, ch 1, sk 1) around", "2 sc in each ch-1 sp around", 12),
        ("(dc, ch 1, sk 1) around", "(sc in next dc, sc in next ch-1 sp) around", 12),
        ("(dc, ch 1, sk 1) around", "sc in each dc and ch-1 sp around", 12),
        ("(dc, ch 1, sk 1) around", "sc in next ch-1 sp, 2 sc in each ch-1 sp around", 11),
        ("(dc, ch 1, sk 1) around", "(dc in next single dc, 2 dc in next ch-1 sp) around", 18),
        ("(sc 2, ch 4, sk 4) twice", "sc in each sc, and 5 sc around each chain loop", 14),
        ("(sc 2, ch 4, sk 4) twice", "(sc in next 2 sc, 4 sc in ch sp) twice", 12),
    ],
)
def test_a_round_finds_the_places_that_the_one_below_left(below: str, above: str, leaves: int) -> None:
    last = rounds_of("12 sc in MR", below, above)[-1]
    assert (last.leaves, [p.message for p in last.problems if p.severity.value != "note"]) == (leaves, [])


def test_a_round_is_worked_over_its_total_where_it_makes_far_more() -> None:
    """So it is over what the maker has; a number that is a little off may as well be the total's."""
    far = rounds_of("12 sc in MR", "sc 6, 40 sc in next st, sc 5 (14)", "sc around")[-1]
    near = rounds_of("12 sc in MR", "sc 6, 3 sc in next st, sc 5 (13)", "sc around")[-1]
    assert (far.before, far.leaves, near.before, near.leaves) == (14, 14, 14, 14)


@pytest.mark.parametrize(
    ("below", "above", "told"),
    [
        (
            "(5 dc in next st, sk 1) around",
            "sc in each V-st around",
            "there is no v-st in the round below to work into",
        ),
        (
            "(dc, ch 1, sk 1) around",
            "sc in each ch-2 sp around",
            "there is no ch-2 space in the round below to work into",
        ),
        ("(dc, ch 1, sk 1) around", "(2 sc in ch-1 sp) 5 times", "works into 5 of the 6 chain spaces that are there"),
        (
            "(dc, ch 1, sk 1) around",
            "2 sc in next 8 ch-1 sps",
            "this round uses 8 stitches, and only 6 are there: they run out",
        ),
    ],
)
def test_a_place_that_is_not_there_or_left_out_is_told(below: str, above: str, told: str) -> None:
    assert [p.message for p in rounds_of("12 sc in MR", below, above)[-1].problems] == [told]


def test_a_group_goes_around_over_the_spaces_that_it_names() -> None:
    """Of twelve spaces six have three chains."""
    below, above = (
        "[(dc, ch 1, dc) in next st, ch 3, sk 1] around",
        "(2 sc in next ch-3 sp, sc in next ch-3 sp) around",
    )
    assert rounds_of("12 sc in MR", below, above)[-1].leaves == 9


def test_a_long_range_stands_in_its_order() -> None:
    assert [round_.number for round_ in rounds_of("6 sc in MR", "inc around\nRnds 3-3000: sc around")] == [
        *range(1, 3001)
    ]


def test_the_total_of_a_range_that_grows_is_that_of_its_last_round() -> None:
    rounds = rounds_of("6 sc in MR\nRnds 2-3: inc around (24)\nRnds 4-5: sc around (24)")
    assert [(r.leaves, r.verdict) for r in rounds] == [(n, "ok") for n in (6, 12, 24, 24, 24)]


def test_an_increase_is_of_the_stitch_that_the_rounds_before_are_made_of() -> None:
    rounds = rounds_of("6 hdc in MR", "inc around", "ch 12", "inc around")
    assert [r.plan.tally.kinds for r in rounds if r.plan][1::2] == [(("hdc", 12),), (("hdc", 24),)]


def test_a_round_that_names_no_round_still_states_its_total() -> None:
    rounds = rounds_of("6 sc in MR", "as Rnd 9 (12)", "(sc, inc) around")
    assert [p.message for p in rounds[1].problems] == ["there is no round 9 before this one to repeat"]
    assert rounds[2].leaves == 18
    assert [r.stated and r.stated.stitches for r in rounds_of("6 sc in MR\nRnds 2-3: as Rnd 9 (12) (24)")] == [
        None,
        12,
        24,
    ]


@pytest.mark.parametrize(
    ("before", "text", "leaves", "verdict"),
    [
        (6, "Rnds 2-3: inc around (12) (24)", 24, "ok"),
        (6, "Rnds 2-3: inc around (12) (25)", 12, "disagrees"),
        (6, "Rnds 2-3: inc around (24)", 24, "ok"),
        (6, "Rnds 2-3: inc around (12)", 24, "disagrees"),
        (8, "Rnds 2-4: (sc, inc) around", 27, "ok"),
        (6, "Next 3 rnds: inc around", 48, "ok"),
        (9, "Rnds 2-3: (2 sc, inc) around (16)", 16, "ok"),
        (12, "Rnds 2-900: sc around (12)", 12, "ok"),
    ],
)
def test_each_round_of_a_range_goes_into_the_one_before(before: int, text: str, leaves: int, verdict: str) -> None:
    report = read_line(text, before)
    assert (report.leaves, report.verdict) == (leaves, verdict), report.messages


def test_a_jump_is_told_once_where_rounds_stand_again() -> None:
    text = "Rnd 1: 6 sc in MR\nRnd 2: inc around\nRnds 5-6: as Rnd 2"
    rounds = loads(f'[[piece]]\nname = "Cap"\nrounds = """\n{text}\n"""\n').pieces[0].rounds
    assert [[p.message for p in round_.problems] for round_ in rounds[2:]] == [["round number 5 comes after 2"], []]


TOLD = {
    "left over": ("(sc, inc) x 5", ["uses 10 of the 12 stitches that are there: 2 are left unworked"]),
    "one left over": ("11 sc", ["uses 11 of the 12 stitches that are there: 1 is left unworked"]),
    "run out": ("(sc, inc) x 7", ["this round uses 14 stitches, and only 12 are there: they run out in repeat 7"]),
    "run out early": (
        "(3 sc, inc) x 4",
        ["this round uses 16 stitches, and only 12 are there: they run out in repeat 4"],
    ),
    "cut short": ("(4 sc, inc) around", ["12 stitches do not divide by 5: the last group is cut short"]),
    "does not come out": ("sc in first st, dec around", ["12 stitches do not come out: 1 stitch is left over"]),
    "spaces besides": ("(dc, ch 1) around", ["makes 12 stitches, and 12 chain spaces besides"]),
    "chains over what is skipped": (
        "(dc, ch 1, sk 1) around",
        ["makes 6 stitches, and 6 chain spaces besides; it leaves 12 if its chains count"],
    ),
    "longer chains than what is skipped": (
        "(dc, ch 2, sk 1) around",
        ["makes 6 stitches, and 6 chain spaces besides"],
    ),
    "neither with chains nor without": (
        "(dc, ch 2) around (13)",
        ["the instruction makes 12, and the total says 13"],
    ),
    "chains counted": ("(dc, ch 1) around (24)", ["the total counts 12 stitches and 12 chains"]),
    "spaces counted": ("(dc, ch 2) around (24)", ["the total counts 12 stitches and 12 chain spaces"]),
    "spaces only": ("[(2 dc, ch 1, 2 dc) in next st, sk 2] around (4)", ["the total counts the 4 chain spaces"]),
    "groups": ("[(2 dc, ch 1, 2 dc, ch 1) in next st, sk 2] around (4)", ["the total counts the 4 groups"]),
    "a group short": (
        "[(2 dc, ch 1, 2 dc) in next st, sk 2] around (5)",
        ["the instruction makes 16, and the total says 5"],
    ),
    "other kinds": (
        "7 sc, 5 hdc (6 sc, 6 hdc)",
        ["this round makes 7 sc and 5 hdc, and the total names other numbers of them"],
    ),
    "a space short": (
        "(dc, ch 1) around (12 dc, 11 ch-1 sps)",
        ["this round makes 12 chain spaces, and the total says 11"],
    ),
    "spaces of that length": (
        "(dc, ch 1, dc, ch 2) around (12 dc, 7 ch-2 sps)",
        ["this round makes 6 chain spaces, and the total says 7"],
    ),
    "a group too many": (
        "(5 dc in next st, sk 3) around (4 shells)",
        ["this round makes 3 shells, and the total says 4"],
    ),
    "another total": ("sc around (13)", ["the instruction makes 12, and the total says 13"]),
    "the chain apart": (
        "ch 3 (counts as dc), dc in next 11 sts (11 dc + 3 ch)",
        ["the total names the starting chain apart"],
    ),
    "a chain short": ("4 sc, ch 4, sk 4, 4 sc (8 sc, 5 ch)", ["this round makes 4 chains, and the total says 5"]),
    "chains only": ("ch 5, sk 12 (6 ch)", ["this round makes 5 chains, and the total says 6"]),
    "chains named and right": ("4 sc, ch 4, sk 4, 4 sc (8 sc, 4 ch)", []),
    "groups of three": ("[3 dc in next st, 3 dc in next st, sk 1] around (8 petals)", []),
    "groups of two kinds": ("[(hdc, dc) in next st, (hdc, dc) in next st, sk 1] around (8 petals)", []),
    "named and right": ("(5 dc in next st, sk 3) around (3 shells)", []),
    "spaces named and right": ("(dc, ch 1, dc, ch 2) around (12 dc, 6 ch-2 sps)", []),
}


@pytest.mark.parametrize(("text", "messages"), [pytest.param(*case, id=name) for name, case in TOLD.items()])
def test_what_is_said_of_twelve_stitches(text: str, messages: list[str]) -> None:
    assert [problem.message for problem in read_line(text, 12).problems] == messages


@pytest.mark.parametrize(
    ("before", "text", "help_line"),
    [
        (12, "(sc, inc) x 5", "x 6 would use 12 and make 18"),
        (12, "(sc, inc) x 7", "x 6 would use 12 and make 18"),
        (14, "2 sc, (sc, inc) x 5", "x 6 would use 14 and make 20"),
        (13, "(sc, inc) x 5", ""),
        (12, "(sc, inc) x 2, (2 sc, inc) x 2", ""),
        (2, "3 sc, (sc, inc) x 2", ""),
    ],
)
def test_the_number_of_repeats_that_would_do_is_told(before: int, text: str, help_line: str) -> None:
    assert read_line(text, before).problems[0].help == help_line


def test_a_group_that_is_not_defined_is_of_no_account_where_the_total_agrees() -> None:
    assert read_line("(shell, sk 3) around (15)", 12).verdict == "ok"
    for text in ("", " (3 shells)"):
        assert read_line(f"(shell, sk 3) around{text}", 12).verdict == "warning"
    for chains, total in ((1, 18), (2, 21), (2, 18), (1, 3)):  # a total that counts chains or spaces settles nothing
        assert read_line(f"(shell, ch {chains}, sk 3) around ({total})", 12).verdict == "warning"


def test_each_move_belongs_to_an_act() -> None:
    plan = read_line("2 sc, inc, sc", 4).plan
    assert plan is not None
    bounds = [act_bounds(plan, move) for move in range(plan.moves + 1)]
    assert bounds == [(0, 1), (1, 2), (2, 4), (2, 4), (4, 5), (5, 5)]


def test_each_move_lies_in_the_stretch_that_has_its_name() -> None:
    plan = read_line("3 sc, (sc, inc) x 2, 2 sc", 9).plan
    assert plan is not None
    stretches = [
        (PlanSlice(0, 3, False), 3),
        (PlanSlice(3, 6, True), 3),
        (PlanSlice(6, 9, True), 3),
        (PlanSlice(9, 11, False), 2),
    ]
    assert [stretch_at(plan, move) for move in range(plan.moves)] == [
        s for s, moves in stretches for _ in range(moves)
    ]
    for move in (-1, plan.moves):
        with pytest.raises(ValueError, match="no move"):
            stretch_at(plan, move)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("ch 1, dec, 5 sc, join (18)", "ch 1, (dec, 5 sc) x 3, join"),
        ("ch 1, dec, 5 sc, join", "ch 1, (dec, 5 sc) x 3, join"),
        ("dec, 5 sc (18)", "(dec, 5 sc) x 3"),
    ],
)
def test_what_is_repeated_unsaid_leaves_out_the_chain_and_the_join(text: str, written: str) -> None:
    report = read_line(f"Rnd 9: {text}", 21)
    assert report.plan is not None
    assert notate(report.plan) == written


def test_a_chain_that_is_skipped_takes_no_stitch_where_it_lies_over_one() -> None:
    below = "ch 4 (counts as dc and ch 1), (dc in next st, ch 1) x 11, join"
    last = rounds_of("12 dc in ring", below, "ch 3, (sk 1 ch, dc in next st) x 11, sk last ch, join")[-1]
    assert last.plan is not None
    assert (last.plan.uses, last.plan.leaves, last.problems) == (12, 12, ())


def test_a_report_is_plain_values() -> None:
    assert read_line("Rnd 4: 13 dc (12)", 14, "UK").as_json() == {
        "leaves": 13,
        "uses": 13,
        "by_kind": {"dc": 13},
        "stated": 12,
        "verdict": "disagrees",
        "messages": [
            "uses 13 of the 14 stitches that are there: 1 is left unworked",
            "the instruction makes 13, and the total says 12",
        ],
    }


@pytest.mark.parametrize(
    ("line", "written"),
    [
        ("ch 12; hdc in 3rd ch from hook (skipped chs count as hdc) and in each ch across", "ch 12, 1 hdc in 3rd ch"),
        ("ch 12; dc in 4th ch from hook (skipped chs count as dc) and in each ch across", "ch 12, 1 dc in 4th ch"),
        ("ch 12; tr in 5th ch from hook (skipped chs count as tr) and in each ch across", "ch 12, 1 tr in 5th ch"),
        ("ch 12; dtr in 6th ch from hook (skipped chs count as dtr) and in each ch across", "ch 12, 1 dtr in 6th ch"),
        ("ch 12; trtr in 7th ch from hook (skipped chs count as trtr), trtr in each ch", "ch 12, 1 trtr in 7th ch"),
    ],
)
def test_a_row_on_a_chain_is_written_with_the_chain_that_it_begins_in(line: str, written: str) -> None:
    """As many chains as the stitch is high are skipped, and stand for one."""
    report = read_line(f"Row 1: {line}", None)
    assert report.plan is not None
    stitch = written.split()[3]
    assert notate(report.plan).startswith(f"{written} from hook (skipped chs count as {stitch})")
    assert report.leaves == 12 - int(written.split()[5][0]) + 2


SUMS = [
    (
        12,
        "2 dc in each ch-2 sp around, (sc in next ch-2 sp, hdc in next ch-2 sp) twice",
        "warning",
        20,
        12,
        ["spaces-assumed"],
    ),
    (6, "6 sc, working along the other side, 8 sc", "warning", 14, 14, ["spaces-assumed"]),
    (6, "6 sc, working along the other side, 9 sc", "error", None, 15, ["runs-out"]),
    (20, "sc in next 21 sts, 3 sc in next ch-2 sp", "error", None, 22, ["runs-out"]),
    (20, "sc in next 20 sts, 3 sc in next ch-2 sp", "ok", 23, 20, []),
    (None, "6 sc, leave remaining sts unworked", "ok", 6, 6, []),
    (12, "6 sc, leave remaining sts unworked", "ok", 6, 12, []),
    (
        12,
        "3 dc in next ch-2 sp, 2 dc in each ch-2 sp around, sc in last ch-2 sp",
        "warning",
        24,
        12,
        ["spaces-assumed"],
    ),
    (12, "(3 dc in next ch-2 sp, sc in next ch-2 sp) around", "warning", 24, 12, ["spaces-assumed"]),
    (None, "2 sc, inc around, 3 sc (25)", "warning", 25, 15, ["read-otherwise", "base-from-total"]),
    (None, "sc around, (2 sc, inc) 3 times (30)", "ok", 30, 27, ["base-from-total"]),
    (None, "(2 sc, inc) around, (sc, hdc) 3 times (30)", "ok", 30, 24, ["base-from-total"]),
    (None, "(2 sc, inc) around, (sc, (hdc, dc) twice) 3 times (31)", "ok", 31, 27, ["base-from-total"]),
    (None, "2 sc, inc around, 3 sc (26)", "disagrees", None, None, ["total-does-not-divide"]),
    (None, "inc around (12)", "ok", 12, 6, ["base-from-total"]),
    (None, "sc around first leg, sc around second leg (24)", "ok", 24, 24, ["base-from-total"]),
    (12, "sc around first leg, 2 sc in each st around second leg (36)", "ok", 36, 0, ["base-from-total"]),
    (12, "2 sc in each st around first leg, sc around second leg (36)", "ok", 36, 0, ["base-from-total"]),
    (12, "12 sc, 6 sc on the second leg", "ok", 18, 12, []),
    (10, "sc in each st and in each ch-1 sp around (15)", "warning", 15, 15, ["spaces-from-total"]),
    (10, "2 sc in each st and in each ch-1 sp around (30)", "warning", 30, 15, ["spaces-from-total"]),
    (10, "sc in each st and in each ch-1 sp around", "warning", 10, 10, ["spaces-assumed"]),
    (10, "sc in each st and in each ch-1 sp around (21)", "disagrees", 10, 10, ["total-differs"]),
    (10, "(sc in next st, 2 sc in next ch-1 sp) around", "warning", 30, 10, ["spaces-assumed"]),
    (14, "*sc in next 4 sts, ch 2**, sk 1; rep from *, end last rep at **", "ok", 12, 14, ["spaces-besides"]),
    (14, "(3 sc, ch 2, sk 1) around to last 2 sts, 2 sc", "ok", 11, 14, ["spaces-besides"]),
    (14, "(3 sc, inc) to last 2 sts, sc in last 2 sts", "ok", 17, 14, []),
    (14, "(3 sc, inc) to last 2 sts", "warning", 15, 12, ["unworked"]),
    # As many groups as the total tells, that before the repeat among them where it is one.
    (
        None,
        "Ch 3, 2 dc in same sp, *ch 3, 3 dc in next sp; rep from * around, ch 3, join (9 groups)",
        "ok",
        27,
        9,
        ["base-from-total"],
    ),
    # A ring of petals ends in the place that it began in: as many as there are stitches, or half as many.
    (9, "*ch 4, sl st in same st, sl st in next st; rep from * around (9 petals)", "ok", 17, 9, []),
    (8, "(ch 3, 2 dc in same st, ch 3, sl st in same st, sl st in next 2 sts) x 4 (4 petals)", "ok", 19, 8, []),
    (
        9,
        "*ch 4, sl st in same st, sl st in next st; rep from * around (8 petals)",
        "warning",
        17,
        9,
        ["total-unknown"],
    ),
    (5, "sc in each shell around (8)", "warning", 8, 0, ["base-from-total"]),
    (5, "5 sc in each group around", "warning", None, None, ["base-unknown"]),
    (
        None,
        "ch 6, sc in 2nd ch from hook, sc in next 3 ch, 3 sc in last ch, on the other side sc in next 3 ch, "
        "2 sc in last ch",
        "ok",
        12,
        9,
        [],
    ),
    (
        None,
        "ch 6, sc in 2nd ch from hook, sc in next 3 ch, 3 sc in last ch, on the other side sc in next 3 ch",
        "ok",
        10,
        8,
        [],
    ),
    (
        None,
        "ch 6, 2 sc in 2nd ch from hook, sc in next 3 ch, 4 sc in last ch, on the other side sc in next 4 ch",
        "ok",
        13,
        9,
        [],
    ),
    (None, "ch 6, sc in 2nd ch from hook, sc in next 4 ch, on the other side sc in next 5 ch", "ok", 10, 10, []),
    (
        None,
        "ch 6, sc in 2nd ch from hook, sc in next 4 ch, on the other side sc in next 6 ch",
        "error",
        None,
        11,
        ["runs-out"],
    ),
]
"""What a round leaves and uses where something goes to the end, into spaces, on other parts or along both sides."""


@pytest.mark.parametrize(("before", "line", "verdict", "leaves", "uses", "codes"), SUMS)
def test_sums_of_a_round(
    before: int | None, line: str, verdict: str, leaves: int | None, uses: int | None, codes: list[str]
) -> None:
    report = read_line(f"Rnd 4: {line}", before)
    assert (report.verdict, report.leaves, report.uses) == (verdict, leaves, uses)
    assert [problem.code for problem in report.problems] == codes
