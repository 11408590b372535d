"""Words that nobody understands: left out where two witnesses vouch for the rest, asked about where one does.

The numbers are worked out by hand: a stitch takes one base, an increase one and makes two, a decrease takes two.
"""

from __future__ import annotations

import pytest

from tracker.diagnostics import Proposal
from tracker.notation.context import Context, OwnWord
from tracker.notation.reader import read_line as parse
from tracker.pattern.loader import loads
from tracker.pattern.model import Round
from tracker.rounds import tolerance
from tracker.rounds.line_report import read_line

START = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\nRnd 3: (1 sc, inc) x 6 (18)\n"


def rounds_of(lines: str) -> list[Round]:
    (piece,) = loads(f'[[piece]]\nname = "Bowl"\nrounds = """\n{START}{lines}\n"""\n').pieces
    return list(piece.rounds[3:])


def proposals(round_: Round) -> list[Proposal]:
    return [problem.proposal for problem in round_.problems if problem.proposal is not None]


def codes(round_: Round) -> list[str]:
    return [problem.code for problem in round_.problems]


ASKED = [
    ("Rnd 4: (2 sc, inc) x (24)", "Rnd 4: (2 sc, inc) x 6 (24)", 18, 24, "read the lost number of times as 6"),
    ("Rnd 4: (8 sc, inc) x (20)", "Rnd 4: (8 sc, inc) x 2 (20)", 18, 20, "read the lost number of times as 2"),
    (
        "Rnd 4: (2 sc, dec) x , 2 sc = 14",
        "Rnd 4: (2 sc, dec) x 4 , 2 sc = 14",
        18,
        14,
        "read the lost number of times as 4",
    ),
    (
        "Rnd 4: (1 sc, dec) x 6 (12) * With thin yarn you may want fewer decreases, 4 or 5 will do.",
        "Rnd 4: (1 sc, dec) x 6 (12)",
        18,
        12,
        "left out 'With thin yarn you may want fewer decreases, 4 or 5 will do'",
    ),
    ("Rnd 4: (1 sc, imc) x 9 (27)", "Rnd 4: (1 sc, inc) x 9 (27)", 18, 27, "read 'imc' as 'inc'"),
    (
        "Rnd 4: 6 zp, in the 2nd loop from the hook we begin to knit: 4 sc, 3 sc in 1 loop, 3 sc, inc (12)",
        "Rnd 4: 6 ch, in the 2nd loop from the hook we begin to knit: 4 sc, 3 sc in 1 loop, 3 sc, inc (12)",
        9,
        12,
        "read 'zp' as 'ch'",
    ),
    ("Rnd 4: (1 sc, inc x 9 (27)", "Rnd 4: (1 sc, inc) x 9 (27)", 18, 27, "read a ')' behind 'inc'"),
    ("Rnd 4: [1 sc, inc) x 9 (27)", "Rnd 4: [1 sc, inc] x 9 (27)", 18, 27, "read ')' as ']'"),
    ("Rnd 4: 1 sc, inc) x 9 (27)", "Rnd 4: (1 sc, inc) x 9 (27)", 18, 27, "read a '(' before '1'"),
    (
        "Rnd 4: *skeip next st, 3 sc in next st* x 9",
        "Rnd 4: *skip next st, 3 sc in next st* x 9",
        18,
        27,
        "read 'skeip' as 'skip'",
    ),
    ("Rnd 4: skk next st, sc in next 17 sts", "Rnd 4: sk next st, sc in next 17 sts", 18, 17, "read 'skk' as 'sk'"),
    (
        "Rnd 4: 9 dec * With thin yarn you may want fewer decreases, 7 or 8 will do.",
        "Rnd 4: 9 dec",
        18,
        9,
        "left out 'With thin yarn you may want fewer decreases, 7 or 8 will do'",
    ),
]


@pytest.mark.parametrize(("line", "text", "uses", "leaves", "reason"), ASKED)
def test_a_sentence_that_names_numbers_or_stitches_is_asked_about(
    line: str, text: str, uses: int, leaves: int, reason: str
) -> None:
    (round_,) = rounds_of(line)
    assert (round_.verdict, round_.leaves) == ("warning", leaves)
    assert proposals(round_) == [Proposal(text, uses, leaves, reason)]
    asked = next(problem for problem in round_.problems if problem.proposal)
    assert asked.message == f"{reason}; then it uses {uses} and leaves {leaves}: right?"


@pytest.mark.parametrize(("line", "text"), [row[:2] for row in ASKED])
def test_what_is_proposed_reads_as_it_was_proposed(line: str, text: str) -> None:
    """To agree is to write the proposal in place of the line: nothing is left to ask then."""
    (asked,), (agreed,) = rounds_of(line), rounds_of(text)
    assert (agreed.verdict, agreed.plan) == ("ok", asked.plan)


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 4: sc 9, blorp 2, sc 9 (18)",
        "Rnd 4: sc 18, blorp around (18)",
        "Rnd 4: 18 sc, (icn) (18)",
        "Rnd 4: 18 sc, blorple (18)",
        "Rnd 4: 18 sc, mossy simple stitch (18)",
        "Rnd 4: 18 sc. Then you can make 5 sc blorpwise on it. (18)",
    ],
)
def test_no_number_and_no_stitch_is_left_out_to_make_a_round_fit(line: str) -> None:
    """Without the words in question each of these would use 18 and make its total."""
    (round_,) = rounds_of(line)
    assert (round_.plan, proposals(round_)) == (None, [])
    assert round_.verdict == "error"


def test_a_lost_number_of_times_is_not_made_up_from_the_stitches_alone() -> None:
    """18 go into two groups of nine, and no total says so."""
    (round_,) = rounds_of("Rnd 4: (sc in next 8 sts, inc) x")
    assert (round_.verdict, proposals(round_), codes(round_)) == ("error", [], ["times-lost"])
    (settled, _) = rounds_of("Rnd 4: (sc in next 8 sts, inc) x\nRnd 5: (sc in next 8 sts, dec) x 2 (18)")
    assert [proposal.text for proposal in proposals(settled)] == ["Rnd 4: (sc in next 8 sts, inc) x 2"]


def test_a_witness_that_contradicts_ends_it() -> None:
    tail = " * With thin yarn you may want fewer decreases, 4 or 5 will do."
    assert rounds_of("Rnd 4: (1 sc, dec) x 6 (13)" + tail)[0].verdict == "error"
    assert rounds_of("Rnd 4: (1 sc, dec) x 5 (12)" + tail)[0].verdict == "error"
    against, _ = rounds_of("Rnd 4: (1 sc, dec) x 6" + tail + "\nRnd 5: 14 sc (14)")
    assert against.verdict == "error"
    agreeing, _ = rounds_of("Rnd 4: (1 sc, dec) x 6" + tail + "\nRnd 5: 12 sc (12)")
    assert agreeing.verdict == "warning"


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 4: from the side it will now curl, sc around (18)",
        "Rnd 4: from the side it will now curl, (1 sc, inc) x 9 (27)",
        "Rnd 4: from the side it will now curl, (1 sc, dec) x 6 (12)",
    ],
)
def test_two_witnesses_settle_what_costs_little_and_the_maker_is_told(line: str) -> None:
    """The 18 stitches that are there, and the total."""
    (round_,) = rounds_of(line)
    assert (round_.verdict, codes(round_)) == ("ok", ["taken-as-remark"])
    assert round_.problems[0].message == "took 'from the side it will now curl' as a remark"
    assert (round_.plan and round_.plan.uses, round_.remark) == (18, "from the side it will now curl")


FORGIVEN = [
    ("Rnd 4: *sc in each if next 2 sts, inc* x 6 (24)", 24, "read 'if' as 'of'"),
    ("Rnd 4: sc in teh next 16 sts, dec (17)", 17, "read 'teh' as 'the'"),
    ("Rnd 4: (sc in netx st, inc) x 9 (27)", 27, "read 'netx' as 'next'"),
    ("Rnd 4: (1 sc, inc)) x 9 (27)", 27, "left out a ')' that has no other one"),
    ("Rnd 4: sc in next 10 sts], dec x 4 (14)", 14, "left out a ']' that has no other one"),
    (
        "Rnd 4: poking the shells of rnd 2 back, (1 sc, inc) x 9 (27)",
        27,
        "took 'poking the shells of rnd 2 back' as a ",
    ),
    (
        "Rnd 4: 9 dec (do these as an inv dec if you can) (9)",
        9,
        "took '(do these as an inv dec if you can)' as a",
    ),
]


@pytest.mark.parametrize(("line", "leaves", "told"), FORGIVEN)
def test_small_slips_and_prose_are_told_where_two_witnesses_agree(line: str, leaves: int, told: str) -> None:
    (round_,) = rounds_of(line)
    assert (round_.verdict, round_.leaves) == ("ok", leaves)
    assert [problem.message for problem in round_.problems if problem.message.startswith(told)] != []


@pytest.mark.parametrize(
    "line",
    [
        pytest.param("Rnd 4: sc in teh next 16 sts, dec (18)", id="the total says otherwise"),
        pytest.param("Rnd 4: (1 sc, inc)) x 8 (27)", id="two stitches are left over"),
        pytest.param("Rnd 4: pushing 2 sc back, (1 sc, inc) x 9 (27)", id="a clause with a number of stitches"),
    ],
)
def test_no_slip_is_forgiven_against_a_witness(line: str) -> None:
    assert rounds_of(line)[0].verdict == "error"


def test_a_bracket_too_many_is_left_out_by_the_stitches_that_are_there_alone() -> None:
    """18 go into groups of 3; "in each st" would fit over any number, so there the maker is asked."""
    (read,) = rounds_of("Rnd 4: *sc in next 2 sts, inc); repeat from * around")
    assert (read.verdict, read.leaves, codes(read)) == ("ok", 24, ["slip-forgiven"])
    (asked,) = rounds_of("Rnd 4: 2 sc in each st) around")
    assert (asked.verdict, asked.leaves) == ("warning", 36)


def test_one_witness_alone_is_asked() -> None:
    """The same without a total: only the stitches that are there agree. The next round is the second witness."""
    line = "Rnd 4: from the side it will now curl, (1 sc, dec) x 6"
    (alone,) = rounds_of(line)
    assert (alone.verdict, codes(alone)) == ("warning", ["proposal"])
    assert alone.problems[0].message == (
        "left out 'from the side it will now curl'; then it uses 18 and leaves 12: right?"
    )
    settled, _ = rounds_of(line + "\nRnd 5: (1 sc, inc) x 6 (18)")
    assert (settled.verdict, codes(settled)) == ("ok", ["taken-as-remark"])


@pytest.mark.parametrize(
    ("following", "verdict"),
    [
        pytest.param("Rnd 5: (sc in next st, dec) around", "ok", id="12 go into groups of 3, and 13 would not"),
        pytest.param("Rnd 5: (sc in next st, dec)) around", "ok", id="so they do where that one has to be mended"),
        pytest.param("Rnd 5: sc in each st around", "warning", id="any number would do"),
        pytest.param("Rnd 5: (sc in next 3 sts, dec) around", "warning", id="12 do not go into groups of 5"),
    ],
)
def test_a_next_round_that_comes_out_over_one_number_alone_is_a_witness(following: str, verdict: str) -> None:
    curling, _ = rounds_of(f"Rnd 4: from the side it will now curl, (1 sc, dec) x 6\n{following}")
    assert (curling.verdict, curling.leaves) == (verdict, 12)


def test_a_word_like_skip_behind_a_chain_is_read_where_two_witnesses_agree() -> None:
    """Chains lie over what is skipped: 18 go into 6 groups with two spaces each, into which 6 groups go."""
    netting = "Rnd 4: *dc in next st, ch 2, dc in next st, ch 1, seek next st; rep from * around"
    skipping, _ = rounds_of(f"{netting}\nRnd 5: *sc in next ch-2 sp, 3 dc in next ch-1 sp; rep from * around")
    assert (skipping.verdict, skipping.leaves, "slip-forgiven" in codes(skipping)) == ("ok", 12, True)
    (alone,) = rounds_of(netting)
    assert (alone.verdict, proposals(alone) != []) == ("warning", True)


def test_full_stops_of_short_words_are_passed_over() -> None:
    (round_,) = rounds_of("Rnd 4: 2 sc into each st. around. (36 sts) Join with a sl st. to the top of the first sc.")
    assert (round_.verdict, round_.plan.uses if round_.plan else None, round_.leaves) == ("ok", 18, 36)


def test_a_line_on_its_own_keeps_its_error_and_carries_the_proposal() -> None:
    report = read_line(
        "Rnd 4: (1 sc, dec) x 6 (12) * With thin yarn you may want fewer decreases, 4 or 5 will do.", 18
    )
    assert (report.verdict, report.leaves) == ("error", None)
    assert [problem.proposal for problem in report.problems if problem.proposal] == [
        Proposal(
            "Rnd 4: (1 sc, dec) x 6 (12)",
            18,
            12,
            "left out 'With thin yarn you may want fewer decreases, 4 or 5 will do'",
        )
    ]


def test_the_search_is_bounded() -> None:
    text = "Rnd 4: " + ", ".join(["from of it as to by from it"] * 60)
    line, read = parse(text, Context()), []

    def counted(changed: str, words: tuple[OwnWord, ...]):  # type: ignore[no-untyped-def]
        read.append(changed)
        return parse(changed, Context(words=words))

    list(tolerance.lenient_readings(line, Context(), counted))
    assert len(read) <= tolerance.MOST_TRIED
    assert sum(map(len, read)) <= tolerance.MOST_READ
    list(tolerance.lenient_readings(parse(text * 3, Context()), Context(), counted))
    assert all(len(changed) <= tolerance.LONGEST for changed in read)


SUPPOSED = [
    ("Rnd 4: (2 sc, blorp in next st) x 6 (18)", "blorp", 18),
    ("Rnd 4: 12 sc, 6 wiggle stitches (18)", "wiggle stitches", 18),
    ("Rnd 4: (1 sc, inc, blorp st in next st) x 6 (24)", "blorp", 24),
]


@pytest.mark.parametrize(("line", "word", "leaves"), SUPPOSED)
def test_an_unknown_word_is_asked_about_as_a_stitch(line: str, word: str, leaves: int) -> None:
    (round_,) = rounds_of(line)
    assert (round_.verdict, round_.leaves) == ("warning", leaves)
    (asked,) = round_.problems
    assert asked.code == "stitch-supposed"
    assert asked.message == f"took '{word}' for a stitch over one place; then it uses 18 and leaves {leaves}: right?"


@pytest.mark.parametrize(
    "line",
    [
        pytest.param("Rnd 4: (2 sc, blorp in next st) x 6 (17)", id="the total says otherwise"),
        pytest.param("Rnd 4: 12 sc, 5 blorp (17)", id="a stitch is left over"),
        pytest.param("Rnd 4: blorp in each st around", id="no total, and each st around fits in any case"),
    ],
)
def test_a_word_that_no_number_speaks_for_is_no_stitch(line: str) -> None:
    (round_,) = rounds_of(line)
    assert (round_.verdict, codes(round_)) == ("error", ["unknown-word"])
