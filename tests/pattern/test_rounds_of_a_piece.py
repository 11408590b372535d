"""The rounds of a piece: cut out of its text, unrolled, and each worked into what the one below it left.

Counts were worked out by hand (source: arithmetic). Text of patterns is invented.
"""

from __future__ import annotations

import pytest
from bench.fuzz_lines import limited

from tracker.diagnostics import Severity
from tracker.pattern.chain_notes import chain_counts, chains_by_length
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.model import Pattern, Piece, Round
from tracker.rounds.plan import Loop

LIMIT = 5.0
"""Seconds of processor time, on a machine that others use too; what doubles at each step takes more."""

YARNS = '[yarn.A]\nname = "amber"\n[yarn.B]\nname = "black"\n[yarn.G]\nname = "slate grey"\n'
DISK = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)\n"


def pattern_of(rounds: str, head: str = "", notes: str = "") -> Pattern:
    return loads(f'{head}[[piece]]\nname = "Cap"\n{notes}rounds = """\n{rounds}\n"""\n')


def piece_of(rounds: str, head: str = "", notes: str = "") -> Piece:
    return pattern_of(rounds, head, notes).pieces[0]


def rounds_of(rounds: str, head: str = "", notes: str = "") -> tuple[Round, ...]:
    return piece_of(rounds, head, notes).rounds


def counts(rounds: tuple[Round, ...]) -> list[tuple[int, int | None]]:
    """Number and stitches of each round; none of them may have a finding."""
    assert [(r.label, r.problems) for r in rounds if r.verdict != "ok"] == []
    return [(r.number, r.leaves) for r in rounds]


def last_of(rounds: str, head: str = "", notes: str = "") -> Round:
    return rounds_of(rounds, head, notes)[-1]


def messages(round_: Round) -> list[str]:
    return [problem.message for problem in round_.problems if problem.severity.value != "note"]


CUT = {
    "one line a round": ("Rnd 1: 6 sc in MR\nRnd 2: inc around\nRnd 3: (1 sc, inc) x 6", [(1, 6), (2, 12), (3, 18)]),
    "blank lines between": ("\n\nRnd 1: 6 sc in MR\n\n\nRnd 2: inc around\n\n", [(1, 6), (2, 12)]),
    "two rounds on one line": ("Rnd 1: 6 sc in MR (6) Rnd 2: inc around (12)", [(1, 6), (2, 12)]),
    "three, ended by stops": ("R1: 6 sc in MR. R2: inc around; R3: sc around", [(1, 6), (2, 12), (3, 12)]),
    "a round over three lines": (
        "Rnd 1: 6 sc in MR\nRnd 2: (1 sc,\ninc) x 3,\nsl st to first sc (9)",
        [(1, 6), (2, 9)],
    ),
    "a total on a line of its own": ("Rnd 1: 6 sc in MR\nRnd 2: (1 sc,\n inc) x 3\n (9)", [(1, 6), (2, 9)]),
    "a round that goes on after a comma": ("Rnd 1: 6 sc in MR\nRnd 2: 3 sc,\n3 inc", [(1, 6), (2, 9)]),
    "no headings, with totals": ("6 sc in MR (6)\ninc around (12)\n(1 sc, inc) x 6 (18)", [(1, 6), (2, 12), (3, 18)]),
    "no headings and no totals": ("6 sc in MR\ninc around\nsc around", [(1, 6), (2, 12), (3, 12)]),
    "a bare number below a repeat": (
        "1) 6 sc in MR\n2) inc around\n3) sc 1, inc, repeat\n4-5) 18 sc",
        [(1, 6), (2, 12), (3, 18), (4, 18), (5, 18)],
    ),
    "stitches above a second round": (
        "start: 6 sc in MR [6]\n2nd: inc x 6 [12]\n3rd: 12 sc",
        [(1, 6), (2, 12), (3, 12)],
    ),
    "a sentence below rounds that come again": (
        "Rnd 1: 6 sc in MR\nRnd 2: sc around\nRnds 3-4: Rep rnd 2.\nSl st the long edges together to close the gap.",
        [(n, 6) for n in range(1, 5)],
    ),
    "a start above a first round": ("6 sc in MR\nRnd 1: inc around\nRnd 2: 12 sc", [(0, 6), (1, 12), (2, 12)]),
    "next round": ("Rnd 1: 6 sc in MR\nNext rnd: inc around\nNext rnd: sc around", [(1, 6), (2, 12), (3, 12)]),
    "more rounds by the size": ("Rnd 1: 6 sc in MR\nNext 3 (4, 5) rnds: sc around", [(n, 6) for n in range(1, 5)]),
    "and of another round": (
        "Rnd 1: 6 sc in MR\nRnd 2: sc around\nNext 2 (3, 4) rnds: rep rnd 2",
        [(n, 6) for n in range(1, 5)],
    ),
    "with another yarn": (
        "Rnd 1: 6 sc in MR\nRnd 2: sc around\nRnds 3-4: with B, rep rnd 2",
        [(n, 6) for n in range(1, 5)],
    ),
    "behind a join": (
        "Rnd 1: 6 sc in MR\nRnd 2: sc around, join\nRnd 3: fasten off A, join B, and repeat rnd 2.",
        [(1, 6), (2, 6), (3, 6)],
    ),
    "a range": ("Rnd 1: 6 sc in MR\nRnds 2-5: sc around (6)", [(n, 6) for n in range(1, 6)]),
    "a range in words": ("Round 1: 6 sc in MR\nRounds 2 to 4 (3 rounds): sc around", [(n, 6) for n in range(1, 5)]),
    "two rounds of a heading": ("Rnd 1: 6 sc in MR\nRnd 2 & 3: sc around (6)", [(1, 6), (2, 6), (3, 6)]),
    "a range with a total for each": (
        "Rnd 1: 6 sc in MR\nRnds 2-3: inc around (12) (24)",
        [(1, 6), (2, 12), (3, 24)],
    ),
    "a step a line, the repeat on its own": (
        "Ch 4, sl st into first ch to form a ring\nRnd 1.\nch 3 (counts as a dc), 1 dc into ring, ch 1\n"
        "*2 dc into ring, ch 1**\nrep from * to ** 3 more times\n"
        "you should now be back at the chain, close with a slip stitch\nRnd 2: ch 1, sc in each dc around",
        [(1, 10), (2, 10)],
    ),
    "a repeat on the next line": (
        DISK + "Rnd 3: *1 sc, inc\nrepeat from * 5 more times\nRnd 4: sc around",
        [(1, 6), (2, 12), (3, 18), (4, 18)],
    ),
    "a round again": (DISK + "Rnd 3: sc around\nRep Rnd 3", [(1, 6), (2, 12), (3, 12), (4, 12)]),
    "a round again, so many times": (
        DISK + "Rnd 3: sc around\nRep Rnd 3 twice more",
        [(1, 6), *((n, 12) for n in range(2, 6))],
    ),
    "rounds again, so many times": (
        DISK + "Rnd 3: sc around\nRnd 4: BLO sc around\nRep Rnds 3-4 three more times",
        [(1, 6), *((n, 12) for n in range(2, 11))],
    ),
    "a row for more rows behind it": (
        "Row 1: ch 7, sc in 2nd ch from hook and in each ch across.\n"
        "Row 2: ch 1, sc in each st across, turn. Rep for 2 more rows.",
        [(n, 6) for n in range(1, 5)],
    ),
    "two rounds in turn": (
        DISK + "Rnd 3: sc around\nRnd 4: BLO sc around\nRnds 5-8: alternate rnds 3 and 4",
        [(1, 6), *((n, 12) for n in range(2, 9))],
    ),
    "a range of rounds again": (
        DISK + "Rnd 3: sc around\nRnd 4: (sc, inc) around\nRnds 5-6: rep Rnds 3-4",
        [(1, 6), (2, 12), (3, 12), (4, 18), (5, 18), (6, 27)],
    ),
    "a range of rounds again, with nothing else said": (
        DISK + "Rnd 3: sc around\nRnd 4: (sc, inc) around\nRep Rnds 3-4.",
        [(1, 6), (2, 12), (3, 12), (4, 18), (5, 18), (6, 27)],
    ),
    "a range of rounds again, x 2": (
        DISK + "Rnd 3: sc around\nRnd 4: inc around\nRep Rnds 3-4 x 2",
        [(1, 6), (2, 12), (3, 12), (4, 24), (5, 24), (6, 48), (7, 48), (8, 96)],
    ),
    "the round before, three times": (
        DISK + "Rep previous rnd 3 more times",
        [(1, 6), (2, 12), (3, 24), (4, 48), (5, 96)],
    ),
    "a round as another by its number alone, and how it lies": (
        DISK + "Rnd 3: sc around\nRnd 4: as 2, ridge over ridge.\nRnd 5: like 3, loose and airy",
        [(1, 6), (2, 12), (3, 12), (4, 24), (5, 24)],
    ),
    "a round as another, with its total": (DISK + "Rnd 3: as Rnd 2, 24", [(1, 6), (2, 12), (3, 24)]),
    "the last rounds again": (
        DISK + "Rnd 3: sc around\nRnds 4-5: Rep last 2 rnds",
        [(1, 6), (2, 12), (3, 12), (4, 24), (5, 24)],
    ),
    "rounds as an earlier one": (
        DISK + "Rnd 3: sc around\nRnds 4-6: as Rnd 3",
        [(1, 6), *((n, 12) for n in range(2, 7))],
    ),
    "an increase round again is worked over what is there then": (
        DISK + "Rnd 3: inc around\nRnd 4: rep Rnd 3",
        [(1, 6), (2, 12), (3, 24), (4, 48)],
    ),
}


@pytest.mark.parametrize(("text", "expected"), [pytest.param(*case, id=name) for name, case in CUT.items()])
def test_a_text_is_cut_into_its_rounds(text: str, expected: list[tuple[int, int]]) -> None:
    assert counts(rounds_of(text)) == expected


def test_how_many_rounds_come_next_goes_by_the_size() -> None:
    rounds = rounds_of("Rnd 1: 6 sc in MR\nNext 3 (4, 5) rnds: sc around", "size = 3\n")
    assert [r.number for r in rounds] == [1, 2, 3, 4, 5, 6]


def test_each_round_of_a_range_knows_the_line_it_was_written_in() -> None:
    rounds = rounds_of(DISK + "Rnds 3-5: sc around")
    assert [(r.label, r.text, r.line) for r in rounds[2:]] == [
        (f"Rnd {number}", "Rnds 3-5: sc around", 5) for number in (3, 4, 5)
    ]


def test_a_repeated_round_shows_the_words_that_are_worked() -> None:
    again = last_of(DISK + "Rnd 3: (sc, inc) around\nRnd 4: rep Rnd 3")
    assert again.text == "Rnd 3: (sc, inc) around"
    assert (again.number, again.before, again.leaves) == (4, 18, 27)


def test_a_repeated_round_that_no_longer_divides_is_told() -> None:
    again = last_of(DISK + "Rnd 3: (2 sc, inc) around\nRnd 4: (sc, inc) around\nRnd 5: rep Rnd 3")
    assert messages(again) == []
    assert (again.before, again.leaves) == (24, 32)
    assert messages(last_of(DISK + "Rnd 3: (4 sc, inc) x 2, 2 sc\nRnd 4: (5 sc, inc) around\nRnd 5: rep Rnd 4")) == [
        "16 stitches do not divide by 6: the last group is cut short"
    ]


def test_a_round_that_does_not_exist_yet_cannot_be_repeated() -> None:
    rounds = rounds_of(DISK + "Rnd 3: as Rnd 4\nRnd 4: sc around")
    assert messages(rounds[2]) == ["there is no round 4 before this one to repeat"]
    assert rounds[2].plan is None


def test_a_round_after_one_that_cannot_be_read_is_worked_into_its_stated_total() -> None:
    assert last_of(DISK + "Rnd 3: (sc, blorp) x 6 (18)\nRnd 4: (2 sc, inc) around").leaves == 24


def test_a_round_after_one_of_which_nothing_is_known_is_no_finding_of_its_own() -> None:
    """One failure is one finding; that its number is not known is told beside it."""
    rounds = rounds_of(DISK + "Rnd 3: blorp around\nRnd 4: sc around\nRnd 5: (sc, dec) around")
    assert [messages(round_) for round_ in rounds[3:]] == [[], []]
    assert [problem.message for round_ in rounds[3:] for problem in round_.problems] == [
        "it is not known how many stitches there are to work into"
    ] * 2
    assert [round_.leaves for round_ in rounds[3:]] == [None, None]


@pytest.mark.parametrize(
    ("lines", "there", "assumed"),
    [
        (
            "Rnd 3: (blorp, sc) x 6 (18)\nRnd 4: (2 sc, inc) x 6 (24)",
            18,
            "Rnd 3 came to no number: it is taken to leave 18, as it states",
        ),
        (
            "Rnd 3: (blorp, sc) x 6\nRnd 4: (2 sc, inc) x 6 (24)",
            18,
            "Rnd 3 came to no number: it is taken to leave 18, as this round needs",
        ),
        (
            "Rnd 3: blorp around\nRnd 4: sc around (18)",
            18,
            "Rnd 3 came to no number: it is taken to leave 18, as this round needs",
        ),
        (
            "Rnd 3: (1 sc, inc) x 5, 2 sc (18)\nRnd 4: (2 sc, inc) x 6 (24)",
            18,
            "Rnd 3 came to 17: it is taken to leave 18, as it states",
        ),
        (
            "Rnd 3: (sc, inc) x 7\nRnd 4: (2 sc, inc) x 6",
            18,
            "Rnd 3 came to no number: it is taken to leave 18, as this round needs",
        ),
        (
            "Rnd 3: (1 sc, inc) x 5, 2 sc (18)\nRnd 4: sc around\nRnd 5: (sc, dec) around",
            18,
            "Rnd 3 came to 17: it is taken to leave 18, as it states",
        ),
    ],
)
def test_rounds_go_on_behind_one_that_was_not_read(lines: str, there: int, assumed: str) -> None:
    """From its stated total, or from what the next one needs: (2 sc, inc) x 6 takes 18 and makes 24."""
    round_ = rounds_of(DISK + lines)[3]
    assert (round_.verdict, round_.before) == ("ok", there)
    assert [problem.message for problem in round_.problems] == [assumed]


def test_no_round_goes_on_in_silence_from_one_that_uses_more_than_is_there() -> None:
    rounds = rounds_of(DISK + "Rnd 3: (sc, inc) x 7\nRnd 4: sc around\nRnd 5: (sc, dec) around")
    assert [(round_.before, round_.leaves) for round_ in rounds[3:]] == [(None, None)] * 2
    assert [messages(round_) for round_ in rounds[3:]] == [[], []]


@pytest.mark.parametrize(
    "behind",
    [
        "Rnd 4: sc around\nRnd 5: sc around",
        "Rnd 4: sc around\nRnd 5: 15 sc, dec",
        "Rnd 4: sc around\nRnd 5: (7 sc, blorp) x 2\nRnd 6: (sc, dec) around",
        "Rnd 4: sc around\n" * 5 + "Rnd 9: (sc, dec) around",
        "Rnd 4: sc around\nRnd 5: sc around (17)",
    ],
)
def test_what_a_round_makes_stands_where_no_round_near_it_needs_what_it_states(behind: str) -> None:
    assert rounds_of(DISK + "Rnd 3: (1 sc, inc) x 5, 2 sc (18)\n" + behind)[3].before == 17


def test_a_total_is_no_witness_to_itself() -> None:
    """The rounds of one line share its total: that each of them needs what it states says nothing."""
    rounds = rounds_of(DISK + "Rnds 3-5: as Rnd 2 (12)\nRnds 6-8: sc around (13)")
    assert [round_.verdict for round_ in rounds[-3:]] == ["disagrees"] * 3


def test_numbers_that_jump_or_come_again_are_told_and_worked_in_the_order_of_the_text() -> None:
    rounds = rounds_of(DISK + "Rnd 4: (sc, inc) around\nRnd 4: sc around")
    assert [(r.number, r.leaves, *messages(r)) for r in rounds[2:]] == [
        (4, 18, "round number 4 comes after 2"),
        (4, 18, "round number 4 comes again"),
    ]


COLOUR_LINES = ("Change to black", "With B", "Change to colour B.", "With B:", "In B:", "(B)", "Join B", "Colour B")


@pytest.mark.parametrize(
    "line", [*COLOUR_LINES, "Using black yarn", "Fasten off A. Join B.", "Change to B in last st"]
)
def test_a_line_that_changes_the_colour_holds_for_the_rounds_after_it(line: str) -> None:
    rounds = rounds_of(f"Rnd 1 (A): 6 sc in MR\n{line}\nRnd 2: sc around\nRnd 3: sc around", YARNS)
    assert [r.colour for r in rounds] == ["A", "B", "B"]


def test_a_yarn_may_be_called_by_its_name_or_a_word_of_it() -> None:
    rounds = rounds_of("Change to slate grey\nRnd 1: 6 sc in MR\nWith grey:\nRnd 2: sc around", YARNS)
    assert [r.colour for r in rounds] == ["G", "G"]


def test_a_yarn_of_two_words_may_be_named_inside_a_round() -> None:
    assert last_of("Rnd 1: With slate grey, 6 sc in MR (6)", YARNS).colour == "G"


def test_a_colour_inside_a_round_goes_on_in_the_next() -> None:
    rounds = rounds_of(
        "Rnd 1 (A): 6 sc in MR\nRnd 2: (A) 3 sc, (B) 3 sc\n"
        "Rnd 3: sc around, change to G in last st\nRnd 4: sc around",
        YARNS,
    )
    assert [r.colour for r in rounds] == ["A", "A", "B", "G"]
    assert rounds[2].plan is not None
    assert rounds[2].plan.ends_with == "G"


def test_sentences_between_rounds_are_kept_with_the_round_after_them() -> None:
    piece = piece_of(
        DISK + "Place the marker here.\nRnd 3: sc around\nDo not stuff yet.\n\nRnd 4: sc around\nFasten off."
    )
    assert counts(piece.rounds) == [(1, 6), (2, 12), (3, 12), (4, 12)]
    assert [r.remark for r in piece.rounds[2:]] == ["Place the marker here.", "Do not stuff yet."]
    assert piece.notes == ("Fasten off.",)


@pytest.mark.parametrize(
    ("end", "remark"),
    [
        ("Fasten off A.", ""),
        ("Fasten off.", ""),
        ("Fasten off B.", "b"),
        ("Fasten off, leaving a tail.", "leaving tail"),
    ],
)
def test_the_key_of_the_yarn_that_is_fastened_off_is_no_remark(end: str, remark: str) -> None:
    assert rounds_of(f"Rnd 1 (A): 6 sc in MR (6) {end}", YARNS)[0].remark == remark


EARLIER = DISK + "Rnd 3: BLO sc around (12)\nRnd 4: (1 sc, inc) x 6 (18)\n"


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 5: in the front loops of Rnd 2, 2 sc in each st around (24)",
        "Rnd 5: working in the free front loops of Rnd 2, 2 sc in each st around (24)",
        "Rnd 5: working behind the petals into Rnd 3, 2 sc in each st around (24)",
        "Rnd 5: 2 sc in each st of Rnd 2 (24)",
        "Rnd 5: in the leftover front loops of Rnd 2, 2 sc in each st around (24)",
    ],
)
def test_a_round_may_be_worked_into_an_earlier_one(line: str) -> None:
    """Rounds 2 and 3 left 12 stitches, round 4 left 18: 12 are there, and 24 are made."""
    round_ = last_of(EARLIER + line)
    assert counts((round_,)) == [(5, 24)]
    assert round_.before == 12


def test_free_front_loops_are_taken_up_by_the_front_loop() -> None:
    round_ = last_of(EARLIER + "Rnd 5: in the front loops of Rnd 2, sc in each st around (12)")
    assert round_.plan is not None
    assert {act.loop for act in round_.plan.acts()} == {Loop.FRONT}


def test_an_earlier_round_that_is_not_there_is_named() -> None:
    round_ = last_of(EARLIER + "Rnd 5: in the front loops of Rnd 9, sc in each st around")
    assert "there is no round 9 before this one to work into" in messages(round_)


MESH = "Rnd 1: 16 sc in MR (16)\nRnd 2: (sc, ch 3, sk 1) around (8 sc, 8 ch-3 sps)\n"
TWO_LENGTHS = "Rnd 1: 12 sc in MR (12)\nRnd 2: (sc, ch 3, sk 1, sc, ch 2, sk 1) around\n"


def test_spaces_are_counted_by_their_length() -> None:
    """Of six spaces three have three chains and three have two."""
    assert last_of(TWO_LENGTHS + "Rnd 3: 5 sc in each ch-3 sp around").leaves == 15
    assert last_of(TWO_LENGTHS + "Rnd 3: (3 sc in next ch-3 sp, 2 sc in next ch-2 sp) around").leaves == 15


@pytest.mark.parametrize(
    "corner", ["the middle sc of each corner", "centre st of every corner", "the middle st of all corners"]
)
def test_the_middle_stitch_of_a_corner_is_at_the_corner(corner: str) -> None:
    square = "Rnd 1: ch 3, dc in MR, *ch 2, 2 dc in MR; rep from * twice more, ch 2, join (8)\n"
    edge = f"Rnd 2: sc in each dc, 3 sc in each corner, join.\nRnd 3: hdc in each sc but 5 hdc in {corner}, join."
    rounds = rounds_of(square + edge)
    assert counts(rounds) == [(1, 8), (2, 20), (3, 36)]


def test_a_chain_before_a_joining_on_a_line_of_its_own_is_a_space() -> None:
    text = (
        "Rnd 1: 12 sc in MR\nRnd 2: *sc in next 2 sts, ch 3; rep from * to last 2 sts, sc in last 2 sts, ch 3.\nJoin."
    )
    assert counts(rounds_of(f"{text}\nRnd 3: 4 sc in each ch-3 sp around, join."))[-1] == (3, 24)


def test_spaces_of_a_length_that_is_not_there_are_refused() -> None:
    assert messages(last_of(TWO_LENGTHS + "Rnd 3: 3 sc in each ch-4 sp around (9)")) == [
        "there is no ch-4 space in the round below to work into"
    ]


def test_a_total_over_spaces_is_checked_and_not_believed() -> None:
    assert counts((last_of(MESH + "Rnd 3: 3 sc in each ch-3 sp around (24)"),)) == [(3, 24)]
    assert messages(last_of(MESH + "Rnd 3: 3 sc in each ch-3 sp around (21)")) == [
        "the instruction makes 24, and the total says 21"
    ]


def test_more_spaces_than_the_round_below_left_run_out() -> None:
    round_ = last_of(MESH + "Rnd 3: (3 sc in next ch-3 sp) x 9 (27)")
    assert round_.verdict == "error"
    assert round_.problems[-1].code == "runs-out"
    assert round_.problems[-1].help == "x 8 would use 8 and make 24"


def test_stitches_between_spaces_can_be_worked_into_as_stitches() -> None:
    assert counts((last_of(MESH + "Rnd 3: skip the chs, sc in each sc around (8)"),)) == [(3, 8)]


SHELLS = "Rnd 1: 18 sc in MR (18)\nRnd 2: (sc, sk 2, shell in next st, sk 2) around (3 sc, 3 shells)\n"
DEFINED = 'notes = ["shell = 5 dc in one st"]\n'


@pytest.mark.parametrize(
    ("line", "leaves"),
    [
        ("Rnd 3: sc in the centre dc of each shell (3)", 3),
        ("Rnd 3: (sc in centre dc of next shell) x 3 (3)", 3),
        ("Rnd 3: (sc in next sc, shell in centre dc of next shell) around (3 sc, 3 shells)", 18),
        ("Rnd 3: *shell in next sc, sc in 3rd dc of next shell; rep from * around (3 sc, 3 shells)", 18),
        ("Rnd 3: sc in each st around (18)", 18),
    ],
)
def test_a_round_over_three_shells(line: str, leaves: int) -> None:
    assert counts((last_of(SHELLS + line, DEFINED),)) == [(3, leaves)]


def test_groups_that_the_round_below_does_not_have_are_refused() -> None:
    assert messages(last_of(SHELLS + "Rnd 3: 3 dc in each fan (9)", DEFINED)) == [
        "there is no fan in the round below to work into"
    ]


def test_a_group_written_out_is_a_shell_to_the_next_round() -> None:
    written_out = SHELLS.replace("shell in next st", "5 dc in next st")
    assert counts((last_of(written_out + "Rnd 3: sc in each shell (3)"),)) == [(3, 3)]


DEFINITIONS = {
    "in the pattern's notes": ('notes = ["shell = 7 dc in one st"]\n', ""),
    "in a note of several sentences": ('notes = "Work loosely. Shell = 7 dc in one st; do not hurry."\n', ""),
    "in a line before the rounds": ("", "shell = 7 dc in one st\n"),
    "in a line with a colon": ("", "Shell: 7 dc in same st\n"),
    "in a line with its abbreviation": ("", "Shell (sh): 7 dc in one st\n"),
}


@pytest.mark.parametrize(("head", "line"), [pytest.param(*case, id=name) for name, case in DEFINITIONS.items()])
def test_a_group_makes_what_the_pattern_defines(head: str, line: str) -> None:
    """Three shells of seven and three sc are 24."""
    rounds = rounds_of(line + SHELLS, head)
    assert counts(rounds) == [(1, 18), (2, 24)]


def test_a_definition_is_kept_as_a_remark() -> None:
    assert rounds_of("shell = 7 dc in one st\n" + SHELLS)[0].remark == "shell = 7 dc in one st"


def test_a_v_stitch_defined_with_a_chain_leaves_its_space() -> None:
    head = 'notes = ["V-st = (dc, ch 1, dc) in one st"]\n'
    rounds = rounds_of("Rnd 1: 12 sc in MR\nRnd 2: (V-st in next st, sk 1) around\nRnd 3: 3 sc in each ch-1 sp", head)
    assert [(r.number, r.leaves) for r in rounds] == [(1, 12), (2, 12), (3, 18)]


COUNTING = {
    "Ch 3 counts as a dc throughout": ("11 dc", "dc in same st, 2 dc in each st around"),
    "Ch 3 at the beginning of a round doesn't count as a stitch": ("12 dc", "2 dc in each st around"),
    "The turning chain always counts as a stitch": ("11 dc", "dc in same st, 2 dc in each st around"),
    "The starting chain never counts as a stitch": ("12 dc", "2 dc in each st around"),
    "The beginning ch 3 does not count as a stitch": ("12 dc", "2 dc in each st around"),
}


@pytest.mark.parametrize(("note", "words"), COUNTING.items())
@pytest.mark.parametrize("where", ["pattern", "piece"])
def test_a_note_on_the_starting_chain_governs_every_round(note: str, words: tuple[str, str], where: str) -> None:
    """Twelve dc, then two in each, with no total that could tell and no warning."""
    told = f'notes = ["{note}"]\n'
    head, notes = (told, "") if where == "pattern" else ("", told)
    rounds = rounds_of(f"Rnd 1: ch 3, {words[0]} in MR, join\nRnd 2: ch 3, {words[1]}, join", head, notes)
    assert counts(rounds) == [(1, 12), (2, 24)]


@pytest.mark.parametrize(
    ("ring", "second"),
    [
        (
            "ch 3 (counts as first dc here and throughout), 11 dc in ring",
            "ch 3, dc in first st, 2 dc in each st around",
        ),
        ("ch 3 (does not count as a stitch throughout), 12 dc in ring", "ch 3, 2 dc in each st around"),
    ],
)
def test_one_round_may_say_of_all_whether_the_chain_counts(ring: str, second: str) -> None:
    assert counts(rounds_of(f"Rnd 1: in a magic ring, {ring}, join\nRnd 2: {second}, join")) == [(1, 12), (2, 24)]


@pytest.mark.parametrize(
    ("note", "leaves"),
    [
        ("Ch 1 does not count as a st, ch 3 does.", (12, None)),
        ("The ch 1 at the start never counts; the ch 3 does.", (12, None)),
        ("Ch 3 counts as dc throughout, ch 2 does not count.", (12, 9)),
        ("Ch 3 does not count as a stitch, ch 2 counts as a hdc.", (11, 10)),
        ("Ch 2 and ch 3 count as a stitch, ch 1 is not a stitch.", (12, 10)),
        ("Ch 1 does not count as a stitch throughout.", (None, None)),
        ("Ch 2 does not count as a stitch throughout.", (None, 9)),
        ("Ch 3 counts as a dc.", (12, None)),
        ("My notes: read them. Ch 2 doesn't count as a stitch.", (None, 9)),
    ],
)
def test_a_note_may_say_of_each_length_of_chain_whether_it_counts(
    note: str, leaves: tuple[int | None, int | None]
) -> None:
    """None where nothing is said of that length: then the reader says how it read the chain."""
    for text, told in zip(("ch 3, 11 dc in MR, join", "ch 2, 9 hdc in MR, join"), leaves, strict=True):
        (round_,) = rounds_of(f"Rnd 1: {text}", f'notes = ["{note}"]\n')
        if told is not None:
            assert (round_.verdict, round_.leaves) == ("ok", told), note
        else:
            assert round_.leaves in (9, 12)
    (without,) = rounds_of("Rnd 1: ch 3, 11 dc in MR, join", 'notes = ["Ch 1 does not count throughout"]\n')
    assert [problem.code for problem in without.problems] == ["chain-by-convention"]


def test_without_such_a_note_the_reader_says_how_it_read_the_chain() -> None:
    (round_,) = rounds_of("Rnd 1: ch 3, 12 dc in MR, join")
    assert [problem.code for problem in round_.problems] == ["chain-by-convention"]


def test_a_piece_says_otherwise_than_the_pattern() -> None:
    head, notes = 'notes = ["Ch 3 counts as a dc throughout"]\n', 'notes = ["Here ch 3 never counts as a stitch"]\n'
    assert counts(rounds_of("Rnd 1: ch 3, 12 dc in MR, join", head, notes)) == [(1, 12)]


def test_increases_are_of_the_stitch_that_the_gauge_names_until_a_round_names_one() -> None:
    gauge = '[gauge]\nstitch = "hdc"\nstitches = 16\nrounds = 13\n'
    plan = rounds_of("Rnd 1: 8 hdc in MR\nRnd 2: inc around", gauge)[1].plan
    assert plan is not None
    assert dict(plan.tally.kinds) == {"hdc": 16}


def test_pieces_count_for_themselves() -> None:
    cap = '[[piece]]\nname = "{}"\nrounds = """\n{}"""\n'
    pattern = loads(cap.format("Cap", DISK) + cap.format("Stem", DISK.replace("6", "8").replace("12", "16")))
    assert [counts(piece.rounds) for piece in pattern.pieces] == [[(1, 6), (2, 12)], [(1, 8), (2, 16)]]


BASE = '[[piece]]\nname = "Base"\n{}rounds = """\nRnd 1: 8 sc in magic ring (8)\nRnd 2: inc around (16)\n"""\n'
SIDES = '[[piece]]\nname = "Sides"\nrounds = """\n{}\n"""\n'


@pytest.mark.parametrize(
    ("line", "before"),
    [
        ("Rnd 1: ch 1, sc in BLO of same st as sl st, sc in BLO of each st around, join.", 16),
        ("Rnd 1: 2 sc in same st as joining, sc in each st around", 16),
        ("Rnd 3: sc in BLO of each st around", 16),
        ("Rnd 3: 16 sc in magic ring", None),
        ("Rnd 1: join yarn in any st, ch 1, sc in same st, sc in next 11 sts", None),
        ("Rnd 1: sc in next 17 sts", None),
    ],
)
def test_a_piece_goes_on_from_the_one_before_where_its_words_or_its_number_say_so(
    line: str, before: int | None
) -> None:
    first = loads(BASE.format("") + SIDES.format(line)).pieces[1].rounds[0]
    assert first.before == before
    told = ["goes on from 'Base', which leaves 16"] if before else []
    assert [problem.message for problem in first.problems if problem.code == "base-assumed"] == told


def test_a_piece_that_begins_over_nothing_asks_whether_it_goes_on_from_the_one_before() -> None:
    first = loads(BASE.format("") + SIDES.format("Rnd 1: sc in each st around")).pieces[1].rounds[0]
    assert (first.before, first.leaves, first.verdict) == (16, 16, "warning")
    assert messages(first) == [
        "nothing tells what it is worked into: taken to go on from 'Base', which leaves 16: right?"
    ]


@pytest.mark.parametrize(
    ("lines", "before", "leaves"),
    [
        ("Rnd 1: In front loops of Rnd 1, 2 sc in each loop (16)", 8, 16),
        ("Join white to any front loop of Rnd 1.\nRnd 1: ch 3, dc in same loop, 2 dc in each loop, join (16)", 8, 16),
        ("With white, join yarn to a front loop of the 1st round.\nRnd 1: 3 sc in each loop (24)", 8, 24),
        ("Join white to any front loop of Rnd 2.\nRnd 1: sc in each loop (16)", 16, 16),
    ],
)
def test_a_piece_is_worked_into_the_loops_of_the_round_that_is_named(lines: str, before: int, leaves: int) -> None:
    first = loads(YARNS + BASE.format("") + SIDES.format(lines)).pieces[1].rounds[0]
    assert (first.before, first.leaves) == (before, leaves)
    named = "goes on from round 1 of 'Base', which has 8" in [problem.message for problem in first.problems]
    assert named is (before == 8)


@pytest.mark.parametrize("number", [1, 5])
def test_loops_of_a_round_that_is_not_there_or_does_not_come_out_are_left_open(number: int) -> None:
    lines = f"Join white to any front loop of Rnd {number}.\nRnd 1: sc in next 12 sts"
    first = loads(YARNS + BASE.format("") + SIDES.format(lines)).pieces[1].rounds[0]
    assert (first.before, first.leaves) == (None, 12)


LEDGE = "Row 1: ch 7, sc in 2nd ch from hook and in each ch across, turn (6)\n"


@pytest.mark.parametrize(
    ("rows", "there", "leaves"),
    [
        ("Row 2: sc in each sc, ch 4, turn (6)\nRow 3: sc in 2nd ch from hook, sc in next 2 ch, sc 6 (9)", 10, 9),
        ("Row 2: sc in each sc, ch 5, turn (6)\nRow 3: dc in 4th ch from hook and next ch, dc in each sc (9)", 11, 9),
        ("Row 2: ch 4, sc in 2nd ch from hook and next 2 ch, sc in each sc across (9)", 10, 9),
        ("Row 2: ch 4, sc in 2nd ch from hook and next 2 ch, sc in each sc across", 10, 9),
        ("Row 2: ch 9, sc in 2nd ch from hook and in each ch across (8)", 8, 8),
        ("Row 2: sc in each sc, ch 1, turn (6)\nRow 3: sc in each sc (6)", 6, 6),
    ],
)
def test_chains_at_the_edge_of_a_row_are_worked_along_before_it(rows: str, there: int, leaves: int) -> None:
    last = last_of(LEDGE + rows)
    assert (last.before, last.leaves, last.verdict) == (there, leaves, "ok")


def test_nothing_goes_on_from_a_piece_that_is_made_several_times() -> None:
    pattern = loads(BASE.format("make = 2\n") + SIDES.format("Rnd 3: sc in each st around"))
    assert [problem.code for problem in pattern.pieces[1].rounds[0].problems] == ["base-unknown"]


def test_the_next_round_decides_between_two_readings() -> None:
    """Chains over an opening of 6 count or do not: 4 + 8 + 4 + 8 are 24, and 8 without the chains."""
    opening = "Rnd 1: 20 sc in magic ring\nRnd 2: sc in next 4 sts, ch 8, sk 6, sc in next 4 sts, ch 8, sk 6"
    assert [problem.code for problem in last_of(opening).problems] == ["by-convention"]
    for following, leaves in (("sc in next 24 sts", 24), ("inc in next 8 sts", 8)):
        decided = rounds_of(f"{opening}\nRnd 3: {following}")[1]
        assert (decided.verdict, decided.leaves) == ("ok", leaves)
        assert "settled-by-next" in [problem.code for problem in decided.problems]
    (_, open_still, _) = rounds_of(f"{opening}\nRnd 3: sc in next 23 sts")
    assert open_still.verdict == "warning"


def test_the_next_round_decides_where_it_comes_out_over_one_of_two_numbers() -> None:
    """Of 24 with the chains and 8 without them only the first go into groups of 3; both go into groups of 4."""
    opening = "Rnd 1: 20 sc in magic ring\nRnd 2: sc in next 4 sts, ch 8, sk 6, sc in next 4 sts, ch 8, sk 6"
    decided = rounds_of(f"{opening}\nRnd 3: (sc in next 2 sts, inc) around")[1]
    assert (decided.verdict, decided.leaves) == ("ok", 24)
    open_still = rounds_of(f"{opening}\nRnd 3: (sc in next 3 sts, inc) around")[1]
    assert [problem.code for problem in open_still.problems] == ["by-convention"]


@pytest.mark.parametrize(
    ("line", "verdict", "leaves"),
    [
        ("(2 dc in next st, dc in next space) x 6 (18)", "ok", 18),
        ("2 dc in each space around, join (24)", "ok", 24),
        ("[puff inc, puff in next 2 spaces] around (16 puffs)", "ok", 16),
        ("2 dc in each space around, join", "warning", 24),
        ("2 dc in each space around, join (25)", "disagrees", 24),
        ("2 dc in each ch-2 space around (24)", "error", 24),
    ],
)
def test_a_space_over_a_round_without_chains_is_between_two_stitches(line: str, verdict: str, leaves: int) -> None:
    """Twelve stitches have twelve spaces between them; without a total they may be those between groups."""
    round_ = last_of(f"{DISK}Rnd 3: {line}")
    assert (round_.verdict, round_.leaves) == (verdict, leaves)
    assert ("spaces-between" in [problem.code for problem in round_.problems]) == ("ch-2" not in line)


def test_slip_stitches_that_a_total_leaves_out_are_not_worked_into() -> None:
    petals = "Rnd 3: *2 sc, sl st in next st*, rep from * around ({})\nRnd 4: sc in each st around"
    assert last_of(DISK + petals.format(8)).leaves == 8
    assert last_of(DISK + petals.format(12)).leaves == 12


def test_what_a_round_comes_to_that_increases_again_and_again_is_told() -> None:
    """12 x 3/2 is 18, then 27; one of 27 is left over, 13 x 3 + 1 are 40, and 60."""
    rounds = rounds_of(DISK + "Rnd 3: (sc, inc) around (18)\nRnds 4-6: repeat Rnd 3")
    assert [round_.leaves for round_ in rounds[3:]] == [27, 40, 60]
    assert [problem.message for problem in rounds[-1].problems] == ["3 times over: 18 stitches become 60"]
    assert last_of(DISK + "Rnd 3: (sc, inc) around (18)\nRnds 4-5: repeat Rnd 3").problems[-1].code == "cut-short"


def test_words_read_plainly_are_read_so_wherever_their_round_comes_again() -> None:
    """All into one stitch the group would use any number of stitches up. Over 16 five groups make 20, and the one
    stitch left over begins a sixth with two."""
    group = "Rnd 3: *[2 sc in next st, 1 sc in next 2 sts], rep from * around (16)\nRnd 4: rep Rnd 3"
    assert (last_of(DISK + group).verdict, last_of(DISK + group).leaves) == ("warning", 22)


def test_a_number_that_comes_again_begins_a_second_way_to_go_on() -> None:
    plain = "Rnds 3-6: sc around\n"
    (second,) = rounds_of(DISK + plain + "Rnd 2: (inc, sc) x 3 (9)")[6:]
    assert (second.before, second.leaves, second.verdict) == (6, 9, "warning")
    assert [problem.code for problem in second.problems] == ["round-number", "base-assumed"]
    (fits_both,) = rounds_of(DISK + plain + "Rnd 3: sc around (12)")[6:]
    assert [problem.code for problem in fits_both.problems] == ["round-number"]
    (fits_neither,) = rounds_of(DISK + plain + "Rnd 2: (inc, sc) x 4 (12)")[6:]
    assert (fits_neither.before, fits_neither.verdict) == (12, "warning")


@pytest.mark.parametrize(
    ("again", "more"),
    [
        ("Repeat last row 3 more times.", 3),
        ("Rep Row 2 twice more.", 2),
        ("Repeat this row 4 times. Fasten off.", 4),
        ("Repeat Row 2 for the next 5 rows.", 5),
        ("Rpt last row 2 more times until 4 rows in all have been worked.", 2),
        ("Repeat Row 2 until there are 6 rows.", 4),
        ("Repeat this row until the piece measures 5 inches.", 0),
        ("Repeat Row 2 for pattern.", 0),
    ],
)
def test_a_row_that_says_behind_itself_how_often_it_comes_again_makes_so_many_rows(again: str, more: int) -> None:
    first = "Row 1: ch 9, sc in 2nd ch from hook and in each ch across, turn\n"
    rounds = rounds_of(f"{first}Row 2: sc across, turn. {again}")
    assert counts(rounds) == [(number, 8) for number in range(1, 3 + more)]


def test_a_number_that_does_not_count_the_rows_that_came_again_is_told() -> None:
    rows = "Row 1: ch 9, sc in 2nd ch from hook and across\nRow 2: sc across. Repeat last row 3 more times.\n"
    assert counts(rounds_of(rows + "Row 6: 2 sc, dec, 4 sc"))[-1] == (6, 7)
    uncounted = last_of(rows + "Row 3: 2 sc, dec, 4 sc")
    assert (uncounted.leaves, messages(uncounted)) == (7, ["round number 3 comes again"])


def test_a_chain_as_long_as_a_stitch_and_the_chains_between_stands_in_the_loop_that_leads_to_it() -> None:
    """Ten loops: the chain of 8 is a dc (3) and the 5 chains of the mesh, so that nine more dc go into the others."""
    mesh = "Rnd 1: 10 sc in magic ring\nRnd 2: *ch 5, sc in next sc; rep from * around, join\n"
    lace = "Rnd 3: sl st to centre of loop, ch 8, dc in 3rd ch of next loop, *ch 5, dc in centre ch of next loop; "
    assert counts(rounds_of(mesh + lace + "rep from * 8 times, ch 5, join in 3rd ch"))[-1] == (3, 10)


def test_a_total_over_a_round_that_went_wrong_is_what_the_next_one_goes_on_from() -> None:
    rounds = rounds_of("Rnd 1: 12 sc in MR (12)\nRnd 2: 13 sc\nRnd 3: inc around (20)\nRnd 4: sc around")
    assert (rounds[3].before, rounds[3].leaves) == (20, 20)


LOOPS = "Rnd 1: 24 sc in magic ring\nRnd 2: *ch 8, sk 3, sl st in next st; rep from * 5 more times\n"


def test_a_round_is_worked_behind_loops_where_its_total_says_so() -> None:
    """Loops held by slip stitches hang in front of the round that they were worked on; its stitches stay free."""
    behind = last_of(LOOPS + "Rnd 3: dec around (12)")
    assert (behind.before, behind.leaves, behind.verdict) == (24, 12, "ok")
    assert [problem.message for problem in behind.problems] == ["worked over Rnd 1, where it comes out"]
    assert last_of(LOOPS + "Rnd 3: 6 sc in each ch-8 sp (36)").before == 6
    assert messages(last_of(LOOPS + "Rnd 3: dec around (11)"))[-1].startswith("the instruction makes 3")


def test_rounds_that_alternate_are_worked_by_their_numbers() -> None:
    """ "Rnds 2, 4, 6: ..." and "Rnds 3, 5: ..." are written one under the other and worked in turn."""
    rounds = rounds_of(
        "Rnd 1: 6 sc in magic ring (6)\nRnds 2, 4, 6: inc around\nRnds 3, 5: sc around\nRnd 7: sc around (48)"
    )
    assert counts(rounds) == [(1, 6), (2, 12), (3, 12), (4, 24), (5, 24), (6, 48), (7, 48)]
    assert [round_.text.split(":")[0] for round_ in rounds[1:4]] == ["Rnds 2, 4, 6", "Rnds 3, 5", "Rnds 2, 4, 6"]


def test_a_line_for_a_round_and_all_even_ones_behind_it_is_for_those_that_have_none() -> None:
    cloth = "Row 1: ch 9, sc in 2nd ch from hook and in each ch across (8)\nRow 2 and all even rows: sc across (8)\n"
    rounds = rounds_of(cloth + "Row 3: 3 sc, 2 hdc, 3 sc\nRow 5: 8 hdc\nRow 6: inc, sc 7\nRow 7: sc across")
    assert counts(rounds) == [(1, 8), (2, 8), (3, 8), (4, 8), (5, 8), (6, 9), (7, 9)]
    assert counts(rounds_of(cloth)) == [(1, 8), (2, 8)]


def test_a_gap_that_no_round_fills_is_told() -> None:
    rounds = rounds_of("Rnd 1: 6 sc in magic ring\nRnds 2, 4: sc around\nRnd 5: sc around\nRnds 6, 9: sc around")
    assert [round_.number for round_ in rounds] == [1, 2, 4, 5, 6, 9]
    assert messages(rounds[2]) == ["round number 4 comes after 2"]
    assert messages(rounds[5]) == ["round number 9 comes after 6"]


@pytest.mark.parametrize("head", ["Next 2 rnds:", "NEXT 2 ROUNDS."])
def test_the_next_rounds_go_on_from_the_last_number(head: str) -> None:
    rounds = rounds_of(f"{DISK}{head} sc around (12)\nNext rnd: dec around (6)")
    assert counts(rounds) == [(1, 6), (2, 12), (3, 12), (4, 12), (5, 6)]


def test_a_repeat_without_a_heading_is_a_row_among_rows() -> None:
    rounds = rounds_of(
        "Row 1: ch 9, sc in 2nd ch from hook and each ch across (8)\nRow 2: sc across\nRep Row 2 once."
    )
    assert [round_.label for round_ in rounds] == ["Row 1", "Row 2", "Row 3"]


def test_stitches_before_the_first_number_are_the_start_of_the_piece() -> None:
    rounds = rounds_of("Ch 2, 6 sc in 2nd ch from hook.\nRnd 1: inc around (12)")
    assert [(r.label, r.number, r.leaves) for r in rounds] == [("Start", 0, 6), ("Rnd 1", 1, 12)]


def test_a_chain_before_the_first_row_is_there_to_work_into() -> None:
    rounds = rounds_of("Ch 21.\nRow 1: sc in 2nd ch from hook and each ch across (20)")
    assert [(r.label, r.leaves) for r in rounds] == [("Start", 21), ("Row 1", 20)]


@pytest.mark.parametrize(
    "line", ["Ch 4, sl st to first ch to form a ring.", "Ch 3 counts as dc throughout.", "Chain 3."]
)
def test_a_ring_or_a_word_on_chains_is_no_round(line: str) -> None:
    rounds = rounds_of(f"{line}\nRnd 1: ch 3 (counts as dc), 11 dc in ring, join (12)")
    assert [r.label for r in rounds] == ["Rnd 1"]


def test_a_piece_of_remarks_has_nothing_to_make_and_says_so() -> None:
    pattern = loads('[[piece]]\nname = "Lid"\nrounds = "Stuff it well."\n')
    (problem,) = all_problems(pattern)
    assert (problem.code, problem.span.line) == ("no-rounds", 2)
    assert problem.message == "'Lid' has no round that can be told from a remark"


@pytest.mark.parametrize("lead", ["Ch 3; join to form ring.", "With MC, ch 3, sl st in first ch to form ring."])
def test_a_ring_of_three_chains_is_no_round_of_its_own(lead: str) -> None:
    rounds = rounds_of(f"{lead}\nRnd 1: ch 1, 9 sc in ring, join (9)\nR2: 2 sc in each st (18)\nR3-R5: repeat R2")
    assert counts(rounds)[:2] == [(1, 9), (2, 18)]
    assert all(problem.severity is Severity.NOTE for round_ in rounds[:2] for problem in round_.problems)


def test_a_ring_goes_with_a_first_round_of_several_lines() -> None:
    """What that round goes into may be told anywhere in it; where it is broken its first line cannot be read."""
    for first in (
        "Rnd 1: ch 3, 17 dc in ring (18 dc,\ncounting ch 3 as dc)",
        "Rnd 1: ch 3 (counts as\ndc), 17 dc in ring",
    ):
        rounds = rounds_of(f"Make 7 ch and join into a ring with 1 sl st.\n{first}\nRnd 2: 2 dc in each st (36)")
        assert counts(rounds) == [(1, 18), (2, 36)]
        assert not any(round_.problems for round_ in rounds)


def test_a_round_in_letters_gives_no_rounds_to_a_yarn() -> None:
    """ "Rnd 2: 7V" is a round of seven increases, and no list of the rounds 2 to 7 in a yarn V."""
    rounds = rounds_of("Rnd 1: 7X in MR\nRnd 2: 7V\nRnd 3: (X, V) x 7\nRnd 4: (X, A) x 7\nRnd 5: 7A")
    assert counts(rounds) == [(1, 7), (2, 14), (3, 21), (4, 14), (5, 7)]


def test_a_round_is_called_by_its_letter_and_number() -> None:
    rounds = rounds_of("R1: 9 sc in MR\nR2: inc in each st\nR3: sc in each st\nR4 to R6: repeat R3 (18)\nR7: as R3")
    assert [round_.leaves for round_ in rounds] == [9, 18, 18, 18, 18, 18, 18]


def test_one_total_behind_repeated_rows_that_decrease_is_that_of_the_last() -> None:
    """12, less two in every other row: 10, 10, 8, 8, 6."""
    lines = (
        "Row 1: ch 13, sc in 2nd ch from hook and in each ch across (12)",
        "Row 2: ch 1, sc2tog, sc across to last 2 sts, sc2tog (10)",
        "Row 3: ch 1, sc in each st across (10)",
        "Rows 4-7: Rep Rows 2 and 3 twice. (6 sc)",
    )
    rounds = rounds_of("\n".join(lines))
    assert [round_.leaves for round_ in rounds] == [12, 10, 10, 8, 8, 6, 6]
    assert all(not round_.problems for round_ in rounds[3:])


def test_a_ring_is_worked_into_where_the_first_round_names_no_other_place() -> None:
    first = (
        "Rnd 1: ch 3 (counts as dc), 2 dc, ch 2, *3 dc, ch 2; rep from * 2 more times, sl st to top of ch-3 (12 dc)"
    )
    (round_,) = rounds_of(f"Ch 4, sl st to form a ring\n{first}")
    assert (round_.before, round_.leaves) == (None, 12)


def test_a_sentence_behind_a_round_is_no_rest_of_it() -> None:
    rounds = rounds_of("Rnd 1: 12 sc in MR\nRnd 2: 1 sc in each sc.\nNow work in two halves for the handle.")
    assert [round_.leaves for round_ in rounds] == [12, 12]
    assert not rounds[1].problems


def test_rounds_may_be_asked_for_again_by_their_number_alone() -> None:
    rounds = rounds_of("1) 9 sc in MR (9)\n2) 2 sc in each st (18)\n3) sc around (18)\n4) Repeat 3. (18)\n5) as 3")
    assert [round_.leaves for round_ in rounds] == [9, 18, 18, 18, 18]


@pytest.mark.parametrize("heading", ["Rnd 3", "Rnd 3 (B)", "Rnd 3 (RS)"])
def test_a_heading_with_its_colon_begins_a_round_whatever_the_line_above_ends_with(heading: str) -> None:
    lines = ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: an edging that you like", f"{heading}: 6 sc (6)"]
    text = "\n".join(lines)
    piece = loads(f'[yarn.B]\nname = "blue"\n[[piece]]\nname = "Cap"\nrounds = """\n{text}\n"""\n').pieces[0]
    assert [(item.label, item.leaves) for item in piece.rounds] == [("Rnd 1", 6), ("Rnd 2", None), ("Rnd 3", 6)]
    assert piece.notes == ()


@pytest.mark.parametrize("again", ["ch ", "ch 3 ", "ch 3 count ", "is ", "ch 3 is "])
def test_no_note_takes_long_to_look_at(again: str) -> None:
    note = again * (30_000 // len(again))
    with limited(LIMIT):
        chain_counts((note,))
        chains_by_length((note,))


SQUARE = """1st ROUND.- 3 ch., 2 tr. in ring, (2 ch., 3 tr. in ring) 3 times, 2 ch., sl.st. to top of 3 ch. 12 tr.
2nd ROUND.- 3 ch., 1 tr. in each of next 2 tr., * (2 tr., 2 ch., 2 tr.)
in corner, 1 tr. in each of next 3 tr., repeat from * twice, (2
tr., 2 ch., 2 tr.) in last corner, sl.st. Break A. 28
tr.
3rd ROUND.- Join B. {where}, 3 ch., 1 tr. in each of next {side} tr., * (2 tr., 2 ch., 2 tr.) in corner, 1 tr. in
each of next 7 tr., repeat from * twice, (2 tr., 2 ch., 2 tr.) in last corner, sl.st. {total} tr."""


@pytest.mark.parametrize(
    "where", ("to 1st tr. af-\nter a corner", "in first tr. after any corner", "to st. behind corner sp.")
)
def test_a_round_joined_behind_a_corner_begins_there(where: str) -> None:
    # By geometry: a square grows by two stitches at each side of four corners, 28 + 16; a side has 3 + 4.
    square = SQUARE.format(where=where, side=6, total=44)
    assert counts(rounds_of(square, YARNS, 'terms = "UK"\n')) == [(1, 12), (2, 28), (3, 44)]
    assert rounds_of(square.replace("next 6 tr", "next 5 tr"), YARNS, 'terms = "UK"\n')[-1].verdict != "ok"


def test_a_chain_over_skipped_stitches_is_one_space_and_each_of_its_chains_a_place() -> None:
    # 30 - 6 stitches, and the 4 chains over the gap besides: 24 + 4.
    mitten = (
        "Rnd. 1: 30 hdc in magic ring. 30 hdc.\n"
        "Rnd. 2: Hdc in next 10 hdc, ch. 4, skip next 6 hdc, hdc in last 14 hdc - 24 hdc and ch-4 sp.\n"
        "Rnd. 3: Hdc in each hdc and in each of the 4 ch. - {total} hdc.\nRnd. 4: Hdc in each hdc around."
    )
    assert counts(rounds_of(mitten.format(total=28))) == [(1, 30), (2, 24), (3, 28), (4, 28)]
    assert rounds_of(mitten.format(total=27))[2].verdict == "disagrees"
    two = mitten.format(total=28).replace("and ch-4 sp", "and 2 ch-4 sps")
    assert messages(rounds_of(two)[1]) == ["this round makes 1 chain spaces, and the total says 2"]


def test_a_count_behind_a_stop_is_the_total_and_says_nothing_of_the_chain() -> None:
    line = "Rnd 2: ch 1, sc in 7 stitches then put two together, do that six times. count {}"
    first = "Rnd 1: 54 sc in magic ring (54)\n"
    assert counts(rounds_of(first + line.format(48))) == [(1, 54), (2, 48)]  # 6 x (7 + 1)
    assert rounds_of(first + line.format(49))[-1].verdict != "ok"


def test_a_corner_that_the_page_explains_goes_into_the_corner() -> None:
    text = """
corner = 2 dc, ch 2, 2 dc all in the corner sp
Rnd 1: ch 3 (counts as first dc throughout), 3 dc in ring, ch 2, (4 dc in ring, ch 2) 3 times, join. (16)
Rnd 2: ch 3, dc in each of next 3 dc, corner, *dc in each of next 4 dc, corner; rep from * 2 more times. (32)
"""
    assert [(each.leaves, each.verdict) for each in rounds_of(text)] == [(16, "ok"), (32, "ok")]


def test_the_last_stitch_of_a_lace_repeat_falls_on_the_first_one() -> None:
    text = """
Rnd 1: ch 3, 4 dc in ring, ch 2, (5 dc in ring, ch 2) 5 times, sl st to top of ch 3. (30)
Rnd 2: Sl st to center dc of group, ch 1, sc in same st, *ch 3, in next sp make dc, ch 1 and dc; ch 3, sc in
center dc of next group; rep from * around. Join.
"""
    first, second = rounds_of(text)
    assert (first.leaves, second.leaves, second.verdict) == (30, 6 * (1 + 2), "ok")


def test_a_remark_names_the_round_whose_loops_are_worked() -> None:
    text = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: in front loops, 3 sc in each st around (36)
Rnd 4: Pick up the yarn again in the back loops of Rnd 2. Sc in each st around. (12)
"""
    assert [(each.before, each.leaves, each.verdict) for each in rounds_of(text)][-1] == (12, 12, "ok")


def test_group_named_where_it_is_written_out() -> None:
    """A shell of the second round is what that calls so; a chain at a beginning is the first stitch of one."""
    first = "1st rnd: 12 sc in ring, join.\n"
    second = "2nd rnd: Ch 3, in same st make 2 dc, ch 2 and 3 dc (shell made), sk 1 sc, * shell in next sc, sk 1 sc. "
    third = "\n3rd rnd: Sl st to sp of shell, ch 3, complete shell in same sp, * ch 1, shell in sp of next shell. "
    whole = f"{first}{second}Rep from * around, join.{third}Rep from * around, ch 1, join."
    assert counts(rounds_of(whole)) == [(1, 12), (2, 36), (3, 36)]
    bracketed = "2nd rnd: (Sk 1 sc, 7 dc in next sc (shell made)) 6 times.\n3rd rnd: *Shell in next shell, ch 1"
    assert counts(rounds_of(f"{first}{bracketed}; rep from * around.")) == [(1, 12), (2, 42), (3, 42)]


def test_group_named_in_two_ways_is_left_open() -> None:
    rounds = (
        "Rnd 1: 12 sc in ring, join.\nRnd 2: *7 dc in next sc (shell), sc in next sc; rep from * around.\n"
        "Rnd 3: *sc in 4th dc of next shell, 9 dc in next sc (shell made); rep from * around.\n"
        "Rnd 4: *shell in next sc, sc in next shell; rep from * around."
    )
    assert "'shell' is not defined, and was taken as 5 dc in one stitch" in messages(last_of(rounds))


@pytest.mark.parametrize(
    ("behind", "numbers", "verdict"),
    [
        ("", [1, 2, 3, 4], "ok"),
        ("Rnd 5: sc in each st", [1, 2, 3, 4, 5], "ok"),
        ("Rnd 4: sc in each st", [1, 2, 3, 4], "warning"),  # no number is left for the second round
    ],
)
def test_a_line_with_one_number_that_says_for_how_many_rounds_it_is(
    behind: str, numbers: list[int], verdict: str
) -> None:
    rounds = rounds_of(f"Rnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\nRnd 3: (sc, inc) around for 2 rounds\n{behind}")
    assert [round_.number for round_ in rounds] == numbers
    assert rounds[2].verdict == verdict, rounds[2].problems


@pytest.mark.parametrize(
    ("total", "verdicts"), [("36 dc after Rnd 6", ["ok", "ok", "ok"]), ("35 dc", ["ok", "ok", "disagrees"])]
)
def test_one_total_behind_several_growing_rounds_is_that_of_the_last(total: str, verdicts: list[str]) -> None:
    """A disk grows by as many in every round: 24, 30, 36; a wrong total is one finding and not three."""
    disk = "Rnd 1: 6 dc in MR (6)\nRnd 2: 2 dc in each st (12)\nRnd 3: (dc, 2 dc in next st) x 6 (18)\n"
    rounds = rounds_of(
        f"{disk}Rnds 4-6: 3 dc in first st, dc to last 2 sts, 3 dc in next st, 3 dc in last st ({total})"
    )
    assert [(each.leaves, each.verdict) for each in rounds[3:]] == list(zip((24, 30, 36), verdicts, strict=True))
    assert [each.stated is None for each in rounds[3:]] == [True, True, False]
