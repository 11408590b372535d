"""US and UK terms and the trade's abbreviations, held against the published tables.

Source of names, abbreviations and the US/UK table: Craft Yarn Council, "Standards & Guidelines for Knitting and
Crochet" (2018), restated here from memory. Rows marked so are common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import pytest

from tracker.notation.glossary import BY_ID, STITCHES, Stitch, abbreviation, full_name, stitch_words
from tracker.notation.spellings import spellings as all_of
from tracker.rounds.line_report import LineReport, read_line

TERMS = ("US", "UK")


@dataclass(frozen=True)
class Row:
    """One row of the table of terms: abbreviations and names on both sides."""

    us: str
    uk: str
    us_name: str
    uk_name: str


PUBLISHED = (
    Row("sl st", "ss", "slip stitch", "slip stitch"),
    Row("sc", "dc", "single crochet", "double crochet"),
    Row("hdc", "htr", "half double crochet", "half treble"),
    Row("dc", "tr", "double crochet", "treble"),
    Row("tr", "dtr", "treble", "double treble"),
    Row("dtr", "trtr", "double treble", "triple treble"),
)

CHAINS = {"sl st": 0, "sc": 1, "hdc": 2, "dc": 3, "tr": 4, "dtr": 5}
"""Turning chains by height: common practice, no source."""


def spellings(stitch: Stitch, terms: str) -> tuple[str, ...]:
    if terms == "UK":
        return (stitch.uk, stitch.uk_name, *all_of(stitch.uk_words))
    return (stitch.us, stitch.us_name, *all_of(stitch.us_words))


def kinds(report: LineReport) -> dict[str, int]:
    """What the round is made of, by US names."""
    assert report.plan is not None, report.messages
    return dict(report.plan.tally.kinds)


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row.us)
def test_the_glossary_agrees_with_the_published_table(row: Row) -> None:
    stitch = BY_ID[row.us]
    assert (stitch.us, stitch.uk, stitch.us_name, stitch.uk_name) == (row.us, row.uk, row.us_name, row.uk_name)
    assert (abbreviation(row.us, "US"), abbreviation(row.us, "UK")) == (row.us, row.uk)
    assert (full_name(row.us, "US"), full_name(row.us, "UK")) == (row.us_name, row.uk_name)


@pytest.mark.parametrize("row", PUBLISHED[1:], ids=lambda row: row.us)
def test_a_round_in_one_language_is_the_same_round_in_the_other(row: Row) -> None:
    there = read_line(f"Rnd 3: (3 {row.us}, 2 {row.us} in next st) x 6 (30)", 24, "US")
    here = read_line(f"Rnd 3: (3 {row.uk}, 2 {row.uk} in next st) x 6 (30)", 24, "UK")
    assert kinds(there) == kinds(here) == {row.us: 30}
    assert (there.verdict, here.verdict) == ("ok", "ok")
    assert (dict(there.by_kind), dict(here.by_kind)) == ({row.us: 30}, {row.uk: 30})


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row.us)
@pytest.mark.parametrize("name", ["in full", "abbreviated"])
def test_names_in_full_are_understood_on_both_sides(row: Row, name: str) -> None:
    words = (row.us_name, row.uk_name) if name == "in full" else (row.us, row.uk)
    for terms, word in zip(TERMS, words, strict=True):
        assert kinds(read_line(f"Round 3: {word} in each of next 12 stitches", 12, terms)) == {row.us: 12}


ALL = [pytest.param(stitch, terms, id=f"{stitch.id} {terms}") for stitch in STITCHES for terms in TERMS]


@pytest.mark.parametrize(("stitch", "terms"), ALL)
def test_every_spelling_of_the_glossary_is_that_stitch(stitch: Stitch, terms: str) -> None:
    for word in spellings(stitch, terms):
        assert stitch_words(terms)[word] == stitch.id, word
        report = read_line(f"Rnd 3: {word} in each st around (12)", 12, terms)
        assert (kinds(report), report.verdict) == ({stitch.id: 12}, "ok"), word


@pytest.mark.parametrize(("stitch", "terms"), ALL)
def test_what_is_written_is_read_back_as_the_same_stitch(stitch: Stitch, terms: str) -> None:
    """Exact both ways for the whole glossary: counts, increases and decreases in each of the terms."""
    word = abbreviation(stitch.id, terms)
    assert kinds(read_line(f"Rnd 3: 12 {word}", 12, terms)) == {stitch.id: 12}
    if stitch.id == "sl st":
        return
    assert kinds(read_line(f"Rnd 3: 2 {word} in each st around", 6, terms)) == {stitch.id: 12}
    if stitch.id in CHAINS:
        assert kinds(read_line(f"Rnd 3: {word}2tog x 6", 12, terms)) == {stitch.id: 6}


@pytest.mark.parametrize("terms", TERMS)
def test_no_two_stitches_share_a_word(terms: str) -> None:
    words = [word for stitch in STITCHES for word in {*spellings(stitch, terms)}]
    assert sorted(words) == sorted(set(words))
    abbreviations = [abbreviation(stitch.id, terms) for stitch in STITCHES]
    assert len(set(abbreviations)) == len(STITCHES)


def test_the_stitches_grow_by_a_chain_each() -> None:
    """The same word means one chain more in US than in UK terms, for dc, tr, dtr and trtr."""
    assert {stitch: BY_ID[stitch].turning_chain for stitch in CHAINS} == CHAINS
    us, uk = stitch_words("US"), stitch_words("UK")
    for word in ("dc", "tr", "dtr", "trtr"):
        assert BY_ID[us[word]].turning_chain == BY_ID[uk[word]].turning_chain + (2 if word == "dc" else 1)


ABBREVIATIONS = {
    "beg": ("beg dc, 11 dc", 12, {"dc": 12}),
    "bet": ("dc bet next 2 dc (2)", 2, {"dc": 2}),
    "BL": ("sc in BL only around", 12, {"sc": 12}),
    "BLO": ("BLO sc around", 12, {"sc": 12}),
    "bo": ("(bo, sc) around", 12, {"bobble": 6, "sc": 6}),
    "BPdc": ("BPdc around", 12, {"dc": 12}),
    "BPhdc": ("BPhdc in each st", 12, {"hdc": 12}),
    "BPsc": ("12 BPsc", 12, {"sc": 12}),
    "BPtr": ("12 BPtr", 12, {"tr": 12}),
    "CC": ("with CC, sc around", 12, {"sc": 12}),
    "ch": ("(sc, ch 1) around", 12, {"sc": 12}),
    "CL": ("(CL, ch 1) around", 12, {"cluster": 12}),
    "dc2tog": ("dc2tog x 6", 12, {"dc": 6}),
    "dec": ("dec x 6", 12, {"sc": 6}),
    "dtr": ("dtr around", 12, {"dtr": 12}),
    "edc": ("edc around", 12, {"edc": 12}),
    "FL": ("sc in FL only around", 12, {"sc": 12}),
    "FLO": ("FLO sc around", 12, {"sc": 12}),
    "foll": ("sc in foll 12 sts", 12, {"sc": 12}),
    "FPdc": ("FPdc around", 12, {"dc": 12}),
    "FPhdc": ("12 FPhdc", 12, {"hdc": 12}),
    "FPsc": ("12 FPsc", 12, {"sc": 12}),
    "FPtr": ("FPtr in each st around", 12, {"tr": 12}),
    "hdc2tog": ("hdc2tog x 6", 12, {"hdc": 6}),
    "inc": ("inc around", 12, {"sc": 24}),
    "m": ("12 sc, m", 12, {"sc": 12}),
    "MC": ("with MC, sc around", 12, {"sc": 12}),
    "pc": ("(pc, sc) around", 12, {"popcorn": 6, "sc": 6}),
    "pm": ("pm, 12 sc", 12, {"sc": 12}),
    "prev": ("sc in each st of prev rnd", 12, {"sc": 12}),
    "ps": ("(ps, sc) around", 12, {"puff": 6, "sc": 6}),
    "puff": ("(puff, sc) around", 12, {"puff": 6, "sc": 6}),
    "rem": ("6 inc, sc in rem sts", 12, {"sc": 18}),
    "rep": ("*sc, inc; rep from * around", 12, {"sc": 18}),
    "RS": ("(RS) sc around", 12, {"sc": 12}),
    "sc2tog": ("sc2tog x 6", 12, {"sc": 6}),
    "sh": ("shell = 5 dc in one st. (sh in next st, sk 1) x 6", 12, {"dc": 30}),
    "sk": ("(sk 1, sc) x 6", 12, {"sc": 6}),
    "sl st": ("sc around, sl st to first sc", 12, {"sc": 12}),
    "sm": ("sm, sc around", 12, {"sc": 12}),
    "st": ("sc in each st", 12, {"sc": 12}),
    "tbl": ("sc tbl around", 12, {"sc": 12}),
    "t-ch": ("11 dc, dc in top of t-ch", 12, {"dc": 12}),
    "tog": ("(sc next 2 sts tog) x 6", 12, {"sc": 6}),
    "tr2tog": ("tr2tog x 6", 12, {"tr": 6}),
    "trtr": ("trtr around", 12, {"trtr": 12}),
    "WS": ("(WS) sc around", 12, {"sc": 12}),
}
"""Abbreviations of the master list, each in words where it matters, over so many stitches."""


@pytest.mark.parametrize("word", ABBREVIATIONS)
def test_an_abbreviation_of_the_master_list_is_understood(word: str) -> None:
    text, before, made = ABBREVIATIONS[word]
    assert word in text
    assert kinds(read_line(f"Rnd 3: {text}", before)) == made


@pytest.mark.parametrize(("us", "uk"), [("sk 1", "miss 1"), ("skip next st", "miss next st")])
def test_skip_is_miss(us: str, uk: str) -> None:
    there = read_line(f"Rnd 3: ({us}, 2 sc in next st) x 6", 12, "US")
    here = read_line(f"Rnd 3: ({uk}, 2 dc in next st) x 6", 12, "UK")
    assert (there.leaves, there.uses, here.leaves, here.uses) == (12, 12, 12, 12)


def only_in(terms: str) -> list[str]:
    """Abbreviations that the other terms do not have at all; "ss" is written on both sides of the ocean."""
    other = "US" if terms == "UK" else "UK"
    return [word for stitch in STITCHES if (word := abbreviation(stitch.id, terms)) not in stitch_words(other)]


def test_which_words_give_the_terms_away() -> None:
    """Common practice: no sc and no hdc in the UK, no htr in the US; dc, tr and dtr prove nothing."""
    assert {"sc", "hdc"} <= set(only_in("US"))
    assert {"htr"} <= set(only_in("UK"))
    assert not {"dc", "tr", "dtr", "sl st"} & {*only_in("US"), *only_in("UK")}


MIXED = [(word, "UK", "US") for word in only_in("US")] + [(word, "US", "UK") for word in only_in("UK")]


@pytest.mark.parametrize(("word", "terms", "other"), MIXED)
@pytest.mark.parametrize("text", ["Rnd 3: {} in each st around (12)", "Rnd 3: 6 {}, 6 dc", "Rnd 3: (dc, {}) x 6"])
def test_a_stitch_of_the_other_terms_is_refused_with_the_reason(text: str, word: str, terms: str, other: str) -> None:
    report = read_line(text.format(word), 12, terms)
    assert (report.verdict, report.leaves) == ("error", None)
    (problem,) = (p for p in report.problems if p.code == "mixed-terms")
    assert problem.message == f"'{word}' does not exist in {terms} terms: are these {other} terms?"
    assert problem.help == f'set terms = "{other}", or write the {terms} name'


US_ONLY = re.compile(r"\b(?:sc|hdc|single crochet|skip)\b")


@pytest.mark.parametrize(
    "line",
    [
        "shell in each st",
        "shell, flurb, 2 dc",
        "2 dc, fan, 2 dc",
        "(2 htr, dec) x 2",
        "frond in next st",
        "dc around (11)",
        "1 dc, sc, 1 dc",
        "inc x 9",
        "wander about",
    ],
)
def test_what_is_told_of_a_uk_line_is_told_in_uk_terms(line: str) -> None:
    """A fan of 5 trebles is no fan of 5 dc (UK): publishers' tables of terms."""
    report = read_line(line, before=12, terms="UK")
    told = [f"{problem.message} {problem.help}" for problem in report.problems]
    assert told or line == "dc around (11)"
    assert not any(
        US_ONLY.search(words.replace(f"'{line}'", "")) for words in told if "sc' does not exist" not in words
    )
