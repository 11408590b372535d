"""What holds for every line, whatever stands in it, and how the reader tells what it made of one."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tracker.normalize import fold
from tracker.notation.ast import Exactly, Line, Made, Role, Some, acts
from tracker.notation.context import Context
from tracker.notation.parser.heading import heading
from tracker.notation.reader import read_line
from tracker.notation.vocabulary import vocabulary
from tracker.rounds.possible_readings import readings

WORDS = sorted({" ".join(words) for terms in ("US", "UK") for words in vocabulary(terms)})
SIGNS = [
    "(",
    ")",
    "[",
    "]",
    "*",
    "**",
    ",",
    ";",
    ".",
    ":",
    "-",
    "=",
    "x",
    "0",
    "1",
    "2",
    "6",
    "36",
    "99999999999",
    "\n",
]
lines = st.lists(st.sampled_from(SIGNS) | st.sampled_from(WORDS), max_size=14).map(" ".join)
contexts = st.builds(
    Context,
    terms=st.sampled_from(["US", "UK"]),
    chain_counts=st.sampled_from([None, True, False]),
    colours=st.frozensets(st.sampled_from(["a", "b", "mc"])),
    size=st.integers(0, 2),
)


@given(lines, contexts)
def test_any_row_of_known_words_is_read_or_told(text: str, context: Context) -> None:
    """Reading never raises; what cannot be understood comes back as a problem with a place in the text."""
    line = read_line(text, context)
    rows = text.split("\n")
    for problem in line.problems:
        assert problem.message
        assert 0 <= problem.span.line < len(rows)
        assert problem.span.start <= len(rows[problem.span.line])


@given(lines)
@example("0 * (")
@example("invisible l d c dec")
@example("foundation l d c")
def test_capitals_and_wide_spaces_change_nothing(text: str) -> None:
    def told(line: Line) -> tuple[object, ...]:
        return line.body, line.stated, line.reference, line.problems

    assert told(read_line(text)) == told(read_line(text.upper())) == told(read_line(text.replace(" ", "\u00a0")))


@pytest.mark.parametrize(
    ("text", "numbers", "is_row"),
    [
        ("rnds 5-8: ", (5, 6, 7, 8), False),
        ("2nd round - ", (2,), False),
        ("row 3. ", (3,), True),
        ("round one: ", (1,), False),
        ("first row: ", (1,), True),
        ("rows 6, 8 and 10: ", (6, 8, 10), True),
        ("round 2 - ", (2,), False),
        ("ears, rnd 4: ", (4,), False),
    ],
)
def test_a_heading_names_its_rounds(text: str, numbers: tuple[int, ...], is_row: bool) -> None:
    head = heading(f"{text}3 sc")
    assert (head.numbers, head.is_row, head.end) == (numbers, is_row, len(text))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("(sc, inc)) x 6", "')' closes a bracket that was never opened"),
        ("6 sc] in ring", "']' closes a bracket that was never opened"),
        ("(sc, inc x 6", "bracket '(' is not closed"),
        ("(sc, inc] x 6", "']' closes a bracket that was opened with another sign"),
        ("0 sc", "a count of 0 makes nothing"),
        ("(sc, inc) x 0", "0 times makes nothing"),
        ("rep 6 times", "there is nothing before this to repeat"),
        ("6 htr in ring", "'htr' does not exist in US terms: are these UK terms?"),
        ("6 wombats", "unknown word 'wombats'"),
    ],
)
def test_what_is_wrong_is_told_in_the_makers_words(text: str, message: str) -> None:
    assert [problem.message for problem in read_line(text).problems] == [message]


@pytest.mark.parametrize("stitch", ["dc", "hdc", "slip stitch", "sc"])
def test_a_chain_may_count_as_any_stitch(stitch: str) -> None:
    line = read_line(f"ch 3 (counts as {stitch}), turn, dc in each st")
    assert line.problems == ()
    chain = next(act for act in acts(line.body) if act.role is Role.CHAIN)
    kind = "sl st" if stitch == "slip stitch" else stitch
    assert (chain.makes, chain.takes) == ((Made("ch", 3, counts_as=kind),), 1)


def test_what_is_said_of_chains_is_kept_in_its_own_words() -> None:
    line = read_line("dc in each st around. Does not count as a stitch.")
    assert line.remarks == ("does not count as stitch",)


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("６ ｓｃ ＝ ６", "6 sc = 6"),
        ("Rnd 5\u2013É\u00a0Å", "rnd 5-e a"),
        ("6 d.c. in 2nd ch. from hook", "6 dc   in 2nd ch  from hook"),
        ("\u2022 6 sc × 2 → 12", "  6 sc x 2 = 12"),
        ("6 sс", "6 sc"),
    ],
)
def test_untidy_characters_become_plain_and_stay_in_their_columns(text: str, plain: str) -> None:
    assert fold(text) == plain
    assert len(text) == len(plain)


@pytest.mark.parametrize("text", ["3 sc, dec", "2 sc, 3 hdc, inc", "ch 2, 3 dc, dc2tog, join"])
def test_words_are_read_otherwise_before_a_repeat_is_read_that_nobody_wrote(text: str) -> None:
    """Of the unlikely readings, those of words that are there come before those of a "repeat" that is not."""
    silent = ["read the line as repeated around" in reading.whys for reading in readings(read_line(text).body)]
    assert True in silent and False in silent
    assert silent == sorted(silent)


def test_as_many_in_each_as_there_are_places_in_a_shell_is_no_choice() -> None:
    """ "2 dc in each of next 2 dc" is an increase in each of them; with "of next shell" behind it, still."""
    for place in ("each of next 2 dc", "each of next 2 dc of next shell"):
        (item,) = read_line(f"2 dc in {place}").body
        assert isinstance(item, Some)
        assert (item.act.stitches, item.times) == (2, Exactly(2)), place
