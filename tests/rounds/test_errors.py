"""Every kind of problem as the maker sees it: the whole text, with place, caret, what was expected and what to do.

The kinds are those of the notation's rules: unknown words, brackets, repeats of nothing, limits, ranges that run
backwards, numbers that jump or come again, rounds that are not there, colours not declared, absurd numbers, mixed
terms, and witnesses that disagree.
"""

from __future__ import annotations

from textwrap import dedent

import pytest
from rounds.shown_problems import CASES, Case

from tracker.diagnostics import Severity, show
from tracker.normalize import clean
from tracker.notation.grammar import MAX_WORDS
from tracker.notation.reader import MAX_TEXT
from tracker.pattern.loader import all_problems, loads
from tracker.rounds.line_report import MAX_BEFORE, read_line


def shown(text: str, before: int | None = None, terms: str = "US") -> str:
    """All findings on a line as a person reads them; notes are no findings."""
    report = read_line(text, before, terms)
    findings = [problem for problem in report.problems if problem.severity is not Severity.NOTE]
    return "\n".join(show(problem, clean(text).split("\n")) for problem in findings)


@pytest.mark.parametrize("case", [pytest.param(case, id=name) for name, case in CASES.items()])
def test_a_problem_shows_its_place_and_what_to_do(case: Case) -> None:
    assert shown(case.text, case.before, case.terms) == dedent(case.shown).strip()


@pytest.mark.parametrize("case", [pytest.param(case, id=name) for name, case in CASES.items()])
def test_a_message_is_short_plain_and_without_a_full_stop(case: Case) -> None:
    for problem in read_line(case.text, case.before, case.terms).problems:
        assert not problem.message.endswith(".")
        assert problem.message[0] == problem.message[0].lower()
        assert not {"token", "EOF", "parse", "syntax", "None"} & set(problem.message.split())
        assert len(problem.message) < 100


def test_a_round_that_is_too_long_says_how_long_and_the_limit() -> None:
    text = "Rnd 3: " + "sc, " * (MAX_TEXT // 4)
    told = shown(text, 12).split("\n")
    assert told[0] == f"1:1: error: this round has {len(text):,} characters"
    assert told[-1] == f"  help: the limit is {MAX_TEXT:,}"


def test_a_round_of_too_many_words_says_how_many_and_the_limit() -> None:
    told = shown("Rnd 3: " + "sc " * (MAX_WORDS + 1), 12).split("\n")
    assert told[0] == f"1:1: error: this round has {MAX_WORDS + 1:,} words"
    assert told[-1] == f"  help: the limit is {MAX_WORDS:,}"


def test_just_within_the_limits_a_round_is_read() -> None:
    assert read_line("Rnd 3: " + "sc," * (MAX_WORDS // 2), MAX_WORDS // 2).verdict == "ok"
    assert read_line("Rnd 3: sc around", MAX_BEFORE).leaves == MAX_BEFORE


def test_a_long_line_is_shown_as_a_window_around_the_words() -> None:
    text = "Rnd 3: " + "sc, " * 100 + "icn, " + "sc, " * 100
    head, window, caret = shown(text, 300).split("\n")
    assert head.startswith("1:408: error: unknown word 'icn'")
    assert len(window) <= 104
    assert window[caret.index("^") : caret.rindex("^") + 1] == "icn"


def whole(rounds: str, head: str = "") -> str:
    """All findings on a pattern file with one piece."""
    source = f'{head}[[piece]]\nname = "Cap"\nrounds = """\n{rounds}\n"""\n'
    return "\n".join(show(problem, source.split("\n"), "cap.toml") for problem in all_problems(loads(source)))


PIECES = {
    "a number that jumps": (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 3: inc around (12)",
        """
        cap.toml:5:1: warning: round number 3 comes after 1
            Rnd 3: inc around (12)
            ^^^^^^^
          help: did you mean 2?
        """,
    ),
    "a number that comes again": (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)\nRnd 2: sc around (12)",
        """
        cap.toml:6:1: warning: round number 2 comes again
            Rnd 2: sc around (12)
            ^^^^^^^
          help: did you mean 3?
        """,
    ),
    "a number of rounds that the range does not have": (
        "Rnd 1: 6 sc in magic ring (6)\nRnds 2-4: sc around (6) (4 rnds)",
        """
        cap.toml:5:1: warning: says 4 rounds, and the numbers make 3
            Rnds 2-4: sc around (6) (4 rnds)
            ^^^^^^^^^^
        """,
    ),
    "a space that the round below does not have": (
        "Rnd 1: 16 sc in magic ring (16)\nRnd 2: (sc, ch 3, sk 1) around (8 sc, 8 ch-3 sps)\n"
        "Rnd 3: 3 sc in each ch-2 sp around (24)",
        """
        cap.toml:6:8: error: there is no ch-2 space in the round below to work into
            Rnd 3: 3 sc in each ch-2 sp around (24)
                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          help: check the round before, or what this one is worked into
        """,
    ),
}


@pytest.mark.parametrize(("rounds", "told"), [pytest.param(*case, id=name) for name, case in PIECES.items()])
def test_a_problem_between_rounds_shows_its_place_in_the_file(rounds: str, told: str) -> None:
    assert whole(rounds) == dedent(told).strip()


def test_a_round_that_is_not_there_is_named() -> None:
    told = whole("Rnd 1: 6 sc in magic ring (6)\nRnds 2-4: as Rnd 9")
    assert told.count("error: there is no round 9 before this one to repeat") == 1


def test_a_colour_that_is_not_declared_is_taken_and_told_with_those_that_are() -> None:
    told = whole("Rnd 1: with grey, 6 sc in magic ring (6)", '[yarn.A]\nname = "amber"\n')
    assert told.startswith("cap.toml:6:13: warning: colour 'grey' is not among the yarns\n")
    assert told.endswith("  help: add [yarn.grey], or use one of: A")


def test_a_pattern_without_yarns_may_name_any_colour() -> None:
    assert whole("Rnd 1 (A): 6 sc in magic ring (6)\nRnd 2: with grey, inc around (12)") == ""


SOURCES = {
    "a single-line string": '[[piece]]\nname = "A"\nrounds = "Rnd 1: 6 sc in MR, |icn"\n',
    "a literal string": "[[piece]]\nrounds = 'Rnd 1: 6 sc in MR, |icn'\n",
    "a multi-line string": '[[piece]]\nrounds = """\nRnd 1: 6 sc in MR\nRnd 2: |icn x 6, sc\n"""\n',
    "a multi-line string that begins on the line of its key": '[[piece]]\nrounds = """Rnd 1: sc, |icn"""\n',
    "a multi-line literal string": "[[piece]]\nrounds = '''\n\nRnd 1: 6 sc in MR\n\nRnd 2: sc, |icn'''\n",
    "indented tables and rounds": '  [[piece]]\n  name = "A"\n    rounds = """\n    Rnd 1: 5 sc, |icn\n    """\n',
    "quoted keys": '[[piece]]\n"name" = "A"\n"rounds" = """\nRnd 1: sc, |icn"""\n',
    "the second of two pieces": '[[piece]]\nrounds = """\nR1: 6 sc in MR\n"""\n\n[[piece]]\nrounds = "R1: sc, |icn"',
    "a piece behind yarns, notes and comments": (
        'title = "icn"\n# rounds = "icn"\nnotes = ["icn"]\n[yarn.A]\nname = "icn 4"\n[[piece]] # icn\nmake = 2\n'
        'rounds = """\n\n  Rnd 1: sc, |icn\n"""\n[[making-up]]\nstep = "icn"\n'
    ),
    "a round of several lines": '[[piece]]\nrounds = """\nRnd 1: 6 sc in MR\nRnd 2: sc,\n  sc,\n  |icn\n"""\n',
    "the second of two rounds on one line": '[[piece]]\nrounds = """\nRnd 1: 6 sc in MR (6) Rnd 2: sc, |icn (12)"""',
}


@pytest.mark.parametrize("marked", [pytest.param(source, id=name) for name, source in SOURCES.items()])
def test_the_place_is_right_whatever_the_file_looks_like(marked: str) -> None:
    """A bar stands before the wrong word; it is taken away before the file is read."""
    before, after = marked.split("|")
    problem = next(p for p in all_problems(loads(before + after)) if p.code == "unknown-word")
    line, column = before.count("\n"), len(before) - before.rfind("\n") - 1
    assert (problem.span.line, problem.span.start, problem.span.end) == (line, column, column + 3)


def test_several_pieces_tell_all_their_problems_in_the_order_of_the_file() -> None:
    source = "".join(f'[[piece]]\nname = "P{n}"\nrounds = """\nRnd 1: {n} sc in MR, icn\n"""\n' for n in range(1, 5))
    places = [(problem.span.line + 1, problem.span.start + 1) for problem in all_problems(loads(source))]
    assert places == [(4, 20), (9, 20), (14, 20), (19, 20)]
