"""Words of other languages on pages that keep them: what joins two stitches, and what totals count.

That translated pages keep them is common practice, no source; the counts are by arithmetic.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml

KEPT = {
    "Spanish": ("pb - single crochet\naum - increase\ndism - decrease", "pb", "aum", "dism", "y"),
    "Portuguese": ("pb - single crochet\naum - increase\ndim - decrease", "pb", "aum", "dim", "e"),
    "Italian": ("mb - single crochet\naum - increase\ndim - decrease", "mb", "aum", "dim", "e"),
    "French": ("ms - single crochet\naug - increase\ndim - decrease", "ms", "aug", "dim", "et"),
    "German": ("fm - single crochet\nzun - increase\nabn - decrease", "fm", "zun", "abn", "und"),
    "Dutch": ("v - single crochet\nmeerd - increase\nmind - decrease", "v", "meerd", "mind", "en"),
    "Swedish": ("fm - single crochet\nökn - increase\nminskn - decrease", "fm", "ökn", "minskn", "och"),
    "Polish": ("ps - single crochet\ndod - increase\nuj - decrease", "ps", "dod", "uj", "i"),
    "Turkish": ("sik - single crochet\nart - increase\neks - decrease", "sik", "art", "eks", "ve"),
}

PAGE = """Plum Stone

{words}

Stone
R1: 7 {sc} in a magic ring = 7
R2: 7 {inc} = 14
R3: 1 {sc} {both} 1 {inc} (7x) = 21
R4 {both} 5: 21 {sc} = 21
R6: 1 {sc} {both} 1 {dec} (7x) = 14
R7: 7 {dec} = 7
"""


def page(language: str, sheet: str = PAGE) -> str:
    words, sc, inc, dec, both = KEPT[language]
    return sheet.format(words=words, sc=sc, inc=inc, dec=dec, both=both)


@pytest.mark.parametrize("language", KEPT)
def test_what_joins_two_stitches_in_the_language_of_the_page_is_no_yarn(language: str) -> None:
    draft = from_text(page(language), "US").draft
    assert draft.yarns == ()
    (piece,) = loads(as_toml(draft)).pieces
    assert [round_.leaves for round_ in piece.rounds] == [7, 14, 21, 21, 21, 14, 7]
    assert {round_.verdict for round_ in piece.rounds} == {"ok"}


def test_sums_tell_words_on_both_sides_of_it() -> None:
    lines = page("Portuguese").replace("aum - increase\ndim - decrease", "")
    words = {word.phrase: word.meaning for word in from_text(lines, "US").by_sums}
    assert words == {"aum": "increase", "dim": "decrease", "e": "and"}


def test_a_letter_of_a_yarn_stays_one() -> None:
    sheet = PAGE.replace("R4 {both} 5: 21 {sc} = 21", "R4: (E) 9 {sc}, (F) 12 {sc} = 21\nR5: 21 {sc} in E = 21")
    sheet = sheet.replace("{words}", "Yarn E: plum, yarn F: moss\n{words}").replace("1 {sc} {both} 1", "1 {sc}, 1")
    found = from_text(page("Portuguese", sheet), "US")
    assert {yarn.key for yarn in found.draft.yarns} == {"E", "F"}
    assert found.by_sums == ()


COUNTED = """Plum Stone

lus – loops (stitches)

Stone
R1: 7 sc in a magic ring = 7 lus
R2: 7 inc = 14 lus
R3: skip 2 sts, 12 sc = 12 lus
"""


def test_a_word_that_totals_count_is_what_the_page_says_of_it() -> None:
    found = from_text(COUNTED, "US")
    assert found.draft.words == (("lus", "stitch"),)
    (piece,) = loads(as_toml(found.draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [(7, "ok"), (14, "ok"), (12, "ok")]
    untold = from_text(COUNTED.replace(" lus\n", "\n"), "US")
    assert untold.draft.words == ()


def test_words_that_the_page_explains_help_to_tell_what_totals_count() -> None:
    sheet = PAGE.replace(" = 7\n", " = 7 wad\n").replace(" = 14\n", " = 14 wad\n").replace(" = 21\n", " = 21 wad\n")
    words = dict(from_text(page("Spanish", sheet), "US").draft.words)
    assert words["wad"] == "st"


STRAY = """Plum Stone

Stone
R1: 7 sc in a magic ring
R2: 7 {inc} (14)
R3: (1 sc, 1 inc) x 7 (21)
R4: 21 sc (21)
"""


def test_one_word_of_another_language_is_taken_where_its_round_comes_out_over_it() -> None:
    (word,) = from_text(STRAY.format(inc="aum"), "US").by_sums
    assert word.sentence == (
        "'aum' is increase, as Spanish, Portuguese, Italian pages have it and as the sums of 1 round say"
    )


@pytest.mark.parametrize(
    ("word", "total"),
    [
        ("wup", 14),  # no language has it
        ("aum", 7),  # the sums say something else
        ("aum", 15),
        ("cm", 7),  # two languages have it for a ring
        ("ind", 14),  # a decrease, in the one that has it
    ],
)
def test_a_word_alone_is_not_taken_against_the_sums(word: str, total: int) -> None:
    assert from_text(STRAY.format(inc=word).replace("(14)", f"({total})"), "US").by_sums == ()
