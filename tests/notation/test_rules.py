"""The rules of a row: each is needed by its line, and each pattern of words by a line of a table or of these."""

from __future__ import annotations

from importlib import import_module
from pkgutil import walk_packages

import pytest

from tracker import notation
from tracker.notation import reader
from tracker.notation.lexer import scan
from tracker.notation.parser import items as table
from tracker.notation.parser.items import RULES, Rule
from tracker.notation.reader import read_line
from tracker.notation.token_stream import PhrasePattern, shape
from tracker.rounds.line_report import read_line as check


@pytest.fixture
def grammar_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """No line is read without the grammar."""
    monkeypatch.setattr(reader, "plain_line", lambda *_: None)


@pytest.mark.usefixtures("grammar_alone")
@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_each_rule_has_a_line_that_needs_it(rule: Rule) -> None:
    with_it = read_line(rule.line)
    try:
        table.set_rules(tuple(other for other in RULES if other is not rule))
        assert read_line(rule.line) != with_it
    finally:
        table.set_rules(RULES)


@pytest.mark.usefixtures("grammar_alone")
@pytest.mark.parametrize("rule", [rule for rule in RULES if rule.why], ids=lambda rule: rule.name)
def test_a_rule_with_a_reason_for_its_place_does_not_go_last(rule: Rule) -> None:
    with_it = read_line(rule.line)
    try:
        table.set_rules((*(other for other in RULES if other is not rule), rule))
        assert read_line(rule.line) != with_it
    finally:
        table.set_rules(RULES)


@pytest.mark.parametrize(
    ("text", "before", "leaves"),
    [
        ("(inc, 1) x 6", 12, 18),
        ("twice: sc, inc", 4, 6),
        ("*sc, inc*, 6 times", 12, 18),
        ("magic ring 6", None, 6),
        ("6 sc, change to B at the seam 6 sc", 12, 12),
        ("6 sc, change to B at the seam *sc, inc* 3 times", 12, 15),
        ("dec 6 sc evenly around", 36, 30),
        ("dec sc evenly around", 36, 35),
        ("inc 6 times evenly in this rnd", 12, 18),
        ("2 hdc in next st, sc remaining", 12, 13),
        ("beginning in any stitch 2 dc in each st", 12, 24),
        ("start at any point *sc, inc* 6 times", 12, 18),
        ("sc in next 2 sts, in next 3 sts dc", 5, 5),
        ("sc in next 2 sts, in next st, (2 dc, ch 1, 2 dc)", 3, 6),
    ],
)
def test_forms_that_no_table_has(text: str, before: int | None, leaves: int) -> None:
    report = check(text, before)
    assert (report.verdict, report.leaves) == ("ok", leaves)


@pytest.mark.parametrize(
    ("pattern", "text", "words"),
    [
        ("IN? SIDE OF* CHAIN*", "in other side of ch", 2),
        ("NUMBER [STITCH INC]", "6 sc", 2),
        ("NUMBER [STITCH INC]", "6 ch", 0),
        ("NUMBER (?! STITCH)", "6 inc", 1),
        ("NUMBER (?! STITCH)", "6 sc", 0),
        ("(?= WORD) BOTH", "both ends", 1),
        ("PAUSES* NUMBER $", ", , 6", 3),
        ("PAUSES* NUMBER $", ", , 6 sc", 0),
    ],
)
def test_a_pattern_goes_by_kinds_and_spellings(pattern: str, text: str, words: int) -> None:
    assert PhrasePattern(pattern).length(shape_of(text), 0) == words


def test_a_pattern_that_is_not_compiled_yet_matches_where_it_would() -> None:
    """Which it is compiled for goes by single words; what it matches, by their order and what stands around them."""
    modules = [import_module(found.name) for found in walk_packages(notation.__path__, "tracker.notation.")]
    for phrase in {each for module in modules for each in vars(module).values() if isinstance(each, PhrasePattern)}:
        for line in {shape_of(rule.line) for rule in RULES}:
            for at in range(0, len(line) + 1, 2):
                assert (PhrasePattern(phrase.source).match(line, at) is None) == (phrase.compiled(line, at) is None)


def shape_of(text: str) -> str:
    tokens = scan(text, "US")
    return shape([token.kind for token in tokens], [token.text for token in tokens])


def test_a_pattern_looks_behind_by_whole_words() -> None:
    line = shape_of("ch 3 sc")
    assert not PhrasePattern("(?<! CHAIN | OF) NUMBER STITCH").match(line, 2)
    assert PhrasePattern("(?<= CHAIN) NUMBER STITCH").match(line, 2)
