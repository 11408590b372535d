"""US terms to UK terms and back, against the Craft Yarn Council's table of terms (from memory)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.notation.glossary import STITCHES, abbreviation, full_name
from tracker.phrasing.terms import prose_in_terms, round_in_terms, stitches_named

TABLE = [
    ("ch", "ch", "chain", "chain"),
    ("sl st", "ss", "slip stitch", "slip stitch"),
    ("sc", "dc", "single crochet", "double crochet"),
    ("hdc", "htr", "half double crochet", "half treble"),
    ("dc", "tr", "double crochet", "treble"),
    ("tr", "dtr", "treble", "double treble"),
    ("dtr", "trtr", "double treble", "triple treble"),
]
"""US and UK abbreviation, US and UK name: Craft Yarn Council, table of US and UK terms (from memory)."""


@pytest.mark.parametrize(("us", "uk", "us_name", "uk_name"), TABLE, ids=[row[0] for row in TABLE])
def test_the_published_table_holds_both_ways(us: str, uk: str, us_name: str, uk_name: str) -> None:
    for one, other in ((f"3 {us}", f"3 {uk}"), (f"3 {us_name}", f"3 {uk_name}")):
        assert round_in_terms(one, "US", "UK") == other
        assert round_in_terms(other, "UK", "US") == one


ROUNDS = {
    "skip is miss": ("sk 2, skip next st", "miss 2, miss next st"),
    "increases and decreases of a stitch": ("hdc inc, dc dec, dcinc", "htr inc, tr dec, trinc"),
    "together": ("sc2tog, dc3tog", "dc2tog, tr3tog"),
    "posts": ("FPdc, BP dc, front post double crochet", "FPtr, BP tr, front post treble"),
    "capitals stay": ("SC 5, Single crochet in next st", "DC 5, Double crochet in next st"),
    "several": ("4 trebles, 3 single crochets", "4 double trebles, 3 double crochet"),
    "a joined round": ("ch 3 (counts as dc), sl st to top of ch-3", "ch 3 (counts as tr), ss to top of ch-3"),
    "what is no stitch stays": ("(inc, V-st, shell) x 6, fasten off", "(inc, V-st, shell) x 6, fasten off"),
}


@pytest.mark.parametrize(("us", "uk"), ROUNDS.values(), ids=ROUNDS)
def test_the_words_of_a_round(us: str, uk: str) -> None:
    assert round_in_terms(us, "US", "UK") == uk


def test_a_yarn_that_is_called_like_a_stitch_keeps_its_name() -> None:
    assert round_in_terms("(TR) 3 sc, (B) 3 tr", "US", "UK", frozenset({"tr", "b"})) == "(TR) 3 dc, (B) 3 tr"


NOTES = {
    "names and abbreviations": ("the dc is a double crochet", "the tr is a treble"),
    "the gauge": ("Gauge is of single crochet.", "Tension is of double crochet."),
    "a skip before stitches": ("skip the next 2 sts", "miss the next 2 sts"),
    "a group that is defined": ("shell = 5 dc in one st", "shell = 5 tr in one st"),
    "posts and together": ("FPdc and sc2tog", "FPtr and dc2tog"),
    "the terms that are named": ("US terms are used", "UK terms are used"),
}


@pytest.mark.parametrize(("us", "uk"), NOTES.values(), ids=NOTES)
def test_the_words_of_a_note_both_ways(us: str, uk: str) -> None:
    assert prose_in_terms(us, "US", "UK") == uk
    assert prose_in_terms(uk, "UK", "US") == us


@pytest.mark.parametrize(
    "words",
    ["use the yarn double", "a single strand", "skip this step for a flat base", "slip the marker", "Strap and rack"],
)
def test_everyday_words_of_a_note_stay(words: str) -> None:
    assert prose_in_terms(words, "US", "UK") == words


def test_the_tension_of_a_yarn_is_no_gauge() -> None:
    assert prose_in_terms("keep an even tension; tension: 20 dc", "UK", "US") == "keep an even tension; gauge: 20 sc"


KINDS = st.sampled_from([stitch.id for stitch in STITCHES])


@given(st.lists(st.tuples(KINDS, st.booleans(), st.integers(1, 30)), min_size=1, max_size=6))
def test_every_stitch_of_the_glossary_comes_home(stitches: list[tuple[str, bool, int]]) -> None:
    def said(terms: str) -> str:
        call = (full_name if whole else abbreviation for _, whole, _ in stitches)
        words = [f"{n} {name(kind, terms)}" for name, (kind, _, n) in zip(call, stitches, strict=True)]
        return ", ".join(words)

    def named(terms: str) -> str:
        return round_in_terms(said(terms), terms, "UK" if terms == "US" else "US")

    assert named("US").replace("double crochets", "double crochet") == said("UK")
    assert named("UK") == said("US")


def test_stitches_are_found_in_sentences() -> None:
    assert stitches_named("work a single crochet, then 2 dc and sc2tog", "US") == [
        ("single crochet", "sc"),
        ("dc", "dc"),
        ("sc", "sc"),
    ]
