"""Headings for several sizes, the yarn that a sentence leads to, and phrases that stand for a known word."""

from __future__ import annotations

import pytest

from tracker.normalize import fold
from tracker.notation.ast import Colour
from tracker.notation.context import Context, OwnWord
from tracker.notation.lexer import scan, without_fillers
from tracker.notation.own_words import meaning_of
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_line
from tracker.notation.token_kinds import T
from tracker.notation.yarn_names import yarn_led_to
from tracker.rounds.formatter import notate
from tracker.rounds.line_report import read_line as check


@pytest.mark.parametrize(("size", "last", "rounds"), [(0, 10, 8), (1, 12, 10), (2, 14, 12), (7, 14, 12)])
def test_a_range_of_rounds_by_size(size: int, last: int, rounds: int) -> None:
    heading = heading_of("Rows 3-10 (3-12, 3-14): sc across").for_size(size)
    assert (heading.first, heading.last, heading.numbers) == (3, last, tuple(range(3, last + 1)))
    assert len(heading.numbers) == rounds


@pytest.mark.parametrize(("size", "ahead"), [(0, 4), (1, 6), (2, 8), (7, 8)])
def test_so_many_next_rounds_by_size(size: int, ahead: int) -> None:
    assert heading_of("Next 4 (6, 8) rnds: sc around").for_size(size).rounds_ahead == ahead


def test_a_heading_for_one_size_is_for_all() -> None:
    heading = heading_of("Rnds 5-7: sc around")
    assert heading.for_size(2) == heading and heading.begins_round
    assert not heading_of("sc around").begins_round


@pytest.mark.parametrize(
    ("sentence", "yarn"),
    [
        ("Go back to red", "red"),
        ("Return to white.", "white"),
        ("Fasten off green and join red", "red"),
        ("Work the next 2 rounds in green", "green"),
        ("Change to black", "black"),
        ("Fasten off red", ""),
        ("Red", ""),
        ("Sew the nose to red", ""),
        ("Join red, 3 sc", ""),
    ],
)
def test_the_yarn_that_a_sentence_goes_on_with(sentence: str, yarn: str) -> None:
    assert yarn_led_to(without_fillers(scan(fold(sentence), "US")), frozenset()) == yarn


@pytest.mark.parametrize(
    ("phrase", "kind", "value"),
    [
        ("puff stitch", T.BUNCH, "puff"),
        ("double crochet", T.STITCH, "dc"),
        ("dc inc", T.INC, "dc"),
        ("hdc dec", T.DEC, "hdc"),
    ],
)
def test_a_phrase_of_known_words_is_one(phrase: str, kind: T, value: str) -> None:
    meaning = meaning_of(phrase, "US")
    assert meaning is not None and (meaning.kind, meaning.value) == (kind, value)


@pytest.mark.parametrize("phrase", ["", "twin knot", "7", "dc hdc", "dc inc dec", "inc dc"])
def test_any_other_phrase_is_none(phrase: str) -> None:
    assert meaning_of(phrase, "US") is None


@pytest.mark.parametrize(
    ("text", "yarns", "named"),
    [
        ("with dark moss, 6 sc", ["dark moss"], ["dark moss"]),
        ("6 sc in dark moss, 6 sc in moss", ["dark moss", "moss"], ["dark moss", "moss"]),
        ("(dark moss) 6 sc, (moss) 6 sc", ["dark moss", "moss"], ["dark moss", "moss"]),
        ("with yarn A, 6 sc", ["a"], ["a"]),
        ("change to yarn B, 6 sc", ["a", "b"], ["b"]),
        ("(start with b) 6 sc", ["a", "b"], ["b"]),
        ("in C2, 6 sc", ["c1", "c2"], ["c2"]),
        ("with yarn (1), 6 sc, with (2), 6 sc", ["1", "2"], ["1", "2"]),
        ("with colour (2) 6 sc", ["2"], ["2"]),
        ("with (3), 6 sc", ["1", "2"], []),
        ("with colour 2, 6 sc", ["colour 2"], ["colour 2"]),
        ("with colour 2, 6 sc", ["c2"], ["c2"]),
        ("with colour 2, 6 sc", ["2"], ["2"]),
        ("with colour 2, 6 sc", [], ["colour 2"]),
        ("with yarn 2 sc in next st", ["a"], []),
        ("with yarn 4132 (mustard), 6 sc", ["mustard"], ["mustard"]),
        ("with yarn 4132 (mustard gold), 6 sc", [], ["mustard gold"]),
        ("with yarn 413 (mustard), 6 sc", [], ["mustard"]),
        ("with yarn 4132, 6 sc", [], ["colour 4132"]),
        ("with light blue, 6 sc", ["blue"], ["light blue"]),
        ("6 sc (br), 6 sc (cr)", ["br", "cr"], ["br", "cr"]),
        ("(RS) 6 sc", ["a"], []),
        ("(xyz) 6 sc", ["xyz"], ["xyz"]),
        ("(xyz) 6 sc", [], []),
    ],
)
def test_a_yarn_goes_by_its_key_its_name_or_its_number(text: str, yarns: list[str], named: list[str]) -> None:
    line = read_line(text, Context(colours=frozenset(yarns)))
    assert [item.key for item in line.body if isinstance(item, Colour)] == named


X, V = OwnWord("x", "sc"), OwnWord("v", "inc")
P, LM = OwnWord("p", "st"), OwnWord("lm", "chain")
PUFF, KNOT = OwnWord("pf", "puff stitch"), OwnWord("twin knot", takes=2, leaves=1)
CORNER = OwnWord("corner", takes=1, leaves=3)


@pytest.mark.parametrize(
    ("text", "before", "words", "leaves", "written"),
    [
        ("(x, v) x 6", 12, (X, V), 18, "(1 sc, inc) x 6"),
        ("*x, v* x 6", 12, (X, V), 18, "(1 sc, inc) x 6"),
        ("3x, v", 4, (X, V), 5, "3 sc, inc"),
        ("from every p. we knit 2 sc", 7, (P,), 14, "7 inc"),
        ("ch 3, sc in the 2nd lm. from the hook, 1 sc", 0, (LM,), 2, "ch 3 (does not count), 1 sc in next ch, 1 sc"),
        ("pf in next st, 5 sc", 6, (PUFF,), 6, "1 puff, 5 sc"),
        ("(twin knot, sc) x 4", 12, (KNOT,), 8, "(twin knot2tog, 1 sc) x 4"),
        ("*5 sc, corner; rep from * around", 12, (CORNER,), 16, "(5 sc, 3 corner in next st) x 2"),
        ("sc to corner, 3 sc in corner", 12, (CORNER,), 14, "11 sc, 3 sc in next st"),
        ("1 corner, 5 sc", 6, (CORNER,), 8, "3 corner in next st, 5 sc"),
        ("3 sc, corner in next st and 2 sc", 6, (CORNER,), 8, "3 sc, 3 corner in next st, 2 sc"),
    ],
)
def test_a_word_of_the_pattern_is_what_it_says_and_not_where_it_is_a_sign_or_a_place(
    text: str, before: int, words: tuple[OwnWord, ...], leaves: int, written: str
) -> None:
    report = check(text, before, context=Context(words=words))
    assert report.plan is not None
    assert (report.verdict, report.leaves, notate(report.plan)) == ("ok", leaves, written)
