"""Which lines under a round go on with it, and which are a word to the reader of the page.

The pages are invented; that makers write so under their last round is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.pattern.loader import loads
from tracker.pattern.round_splitter import goes_on, is_cut_in_a_phrase
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml

US = Context(terms="US")
TO_THE_READER = (
    "Was it fun to work? Show me yours!",
    "Did you sc all of it? Well done",
    "Wow what a lovely nest you made!",
)


@pytest.mark.parametrize("line", TO_THE_READER)
def test_a_question_or_a_cheer_is_no_part_of_the_round_above(line: str) -> None:
    page = f"EGG NEST\nRnd 1: 9 sc in magic ring (9)\nRnd 2: sl st in each st, cut the yarn and join\n{line}\n"
    (piece,) = loads(as_toml(from_text(page, "US").draft)).pieces
    assert [one.leaves for one in piece.rounds] == [9, 9]
    assert line in as_toml(from_text(page, "US").draft)
    assert not goes_on("Rnd 2: sl st in each st, cut the yarn and", line, US)
    assert "?" not in line or not is_cut_in_a_phrase("Rnd 2: sl st in each st, sc in", line, US)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("Rnd 4: sl st in each st,", "but sc in the last st!"),
        ("Rnd 4: (2 sc, inc) x 6", "sc in last st (25?)"),
        ("Rnd 4: Ch 1, hdc in next 18 (21, 24)", "sts, ch 18 (21, 24), sk next 18 (21, 24) sts, join"),
        ("Rnd 4: Ch 1, sc in each of the 18 skipped", "sts, sc in free loop of each of the 18 chs,"),
        ("Rnd 4: Ch 1, sc2tog over the first two", "stitches, sc in each st around, join."),
    ],
)
def test_what_has_work_in_it_goes_on_whatever_it_ends_with(text: str, line: str) -> None:
    assert goes_on(text, line, US)
