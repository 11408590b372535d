"""A word that may have been a stitch is never dropped: it is named, and the round has no number then."""

from __future__ import annotations

import pytest
from bench.fuzz_lines import limited

from tracker.notation.token_stream import MAX_NESTING, MAX_WHOLE_REPEATS
from tracker.pattern.loader import all_problems, loads
from tracker.rounds.line_report import read_line


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("Rnd 3: sc 4, blorp 2, sc 4", "blorp"),
        ("Rnd 3: sc 4, 2 blorp, sc 4", "blorp"),
        ("Rnd 3: 8 sc, blorp around", "blorp"),
        ("Rnd 3: blorp in each st around", "blorp"),
        ("Rnd 3: sc, mossy simple stitch (8)", "mossy"),
        ("Rnd 3: 8 sc, (icn) (8)", "icn"),
        ("Rnd 3: (icn, sc) x 4", "icn"),
        ("Rnd 3: 4 sc, (blorp, sc)", "blorp"),
        ("Rnd 3: sc around, blorple", "blorple"),
    ],
)
def test_a_word_that_may_be_a_stitch_is_named(text: str, word: str) -> None:
    report = read_line(text, 8)
    assert (report.verdict, report.leaves) == ("error", None)
    assert f"'{word}'" in report.messages[0]
    span = report.problems[0].span
    assert text[span.start : span.end] == word


@pytest.mark.parametrize(
    ("text", "terms", "words", "other"),
    [
        ("Rnd 3: 12 single crochet", "UK", "single crochet", "US"),
        ("Rnd 3: single crochet in each st around", "UK", "single crochet", "US"),
        ("Rnd 3: 12 half treble", "US", "half treble", "UK"),
        ("Rnd 3: half treble crochet in each st around", "US", "half treble crochet", "UK"),
        ("Rnd 3: 6 sc, (htr, dc) x 3", "US", "htr", "UK"),
    ],
)
def test_a_name_of_the_other_terms_is_told_in_full(text: str, terms: str, words: str, other: str) -> None:
    report = read_line(text, 12, terms)
    assert report.verdict == "error"
    assert report.messages[0].startswith(f"'{words}' does not exist in {terms} terms: are these {other} terms?")


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 3: sc around (stuff firmly)",
        "Rnd 3: sc around. Stuff the head and close it well.",
        "Rnd 3: sc around (this makes the rim)",
        "Rnd 3: sc around, changing to white in the last yo of the last st",
    ],
)
def test_a_sentence_for_the_maker_is_no_stitch(text: str) -> None:
    report = read_line(text, 12)
    assert (report.verdict, report.leaves) == ("ok", 12)


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 3: " + "inc x8 " * 16,
        "Rnd 3: sc, inc" + ", x 2" * 40,
        "Rnd 3: sc " + "repeat 2 times, " * 40,
        "Rnd 3: " + "(" * MAX_NESTING + "sc, inc" + ") x 2" * MAX_NESTING,
        "Rnd 3: " + "(" * 40 + "sc" + ")" * 40,
        " " * 4_000 + "Rnd 3: sc around",
        "Rnd 3: 3X () X",
    ],
    ids=lambda text: f"{len(text)} characters, {text[7:20]}",
)
def test_what_repeats_repeats_is_answered_at_once(text: str) -> None:
    """Each of these can be read in two ways at every step: the limit is a thousand times what they take."""
    with limited(5.0):
        read_line(text, 128)


def test_a_line_may_repeat_itself_only_so_often() -> None:
    text = "Rnd 3: sc, inc" + ", repeat 2 times" * (MAX_WHOLE_REPEATS + 1)
    assert "repeats what repeats already" in read_line(text, 12).messages[0]


@pytest.mark.parametrize(
    ("text", "leaves", "verdict"),
    [
        ("Join amber. Rnd 3: sc around", 12, "ok"),
        ("With moss: Rnd 3: (sc, inc) around", 18, "ok"),
        ("Rnd 1: chain of 13, sc in 2nd ch from hook and in each ch across", 12, "ok"),
        ("Rnd 3: working into Rnd 2, sc around", 12, "ok"),
        ("Rnd 3: In the free loops of Rnd 2: sc around", 12, "ok"),
        ("Rnd 3: (1 sl st in FLO) x 12", 12, "ok"),
        ("Rnd 3: ch 3, sk 1, dc in next 11 sts", 12, "warning"),
        ("Rnd 3: ch 3, sk 1, dc in next 11 sts (11)", 11, "ok"),
        ("Rnd 3: ch 4, sk next st, *dc in next st, ch 1, sk next st; rep from * around, join", 6, "ok"),
        ("Place the eyes between Rnds 4 and 5.", None, "error"),
    ],
)
def test_words_before_the_round_and_skips_behind_the_chain(text: str, leaves: int | None, verdict: str) -> None:
    report = read_line(text, 12)
    assert (report.verdict, report.leaves) == (verdict, leaves), report.messages


MESH = '''title = "Mesh"
[[piece]]
name = "Mesh"
rounds = """
Rnd 1: 12 sc in magic ring, join (12)
Rnd 2: *sc in next st, ch 3, sk next st; rep from * around, join (6 sc, 6 ch-3 sps)
Rnd 3: sl st in first ch-3 sp, 3 sc in each of next {spaces} ch-3 sps, join
"""
'''


@pytest.mark.parametrize(("spaces", "told"), [(6, []), (5, ["works into 5 of the 6 chain spaces that are there"])])
def test_spaces_left_over_are_told(spaces: int, told: list[str]) -> None:
    assert [problem.message for problem in all_problems(loads(MESH.format(spaces=spaces)))] == told
