"""Names of pieces that end in a full stop, in front of the first round on their line.

The pages are invented; that pages are set so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.text_import.draft_assembly import from_text

NAMED = {
    "Body.": ("Body", 1),
    "Wings, two, white.": ("Wings", 2),
    "Ears (2), grey.": ("Ears", 2),
    "Hat (for rainy days only, if at all).": ("Hat", 1),
    "Scarf. 9 ch.": ("Scarf", 1),
    "Front paws (make 2).": ("Front paws", 2),
}


@pytest.mark.parametrize("name", NAMED)
def test_a_name_with_a_full_stop_begins_a_piece(name: str) -> None:
    page = f"Hen\nUK terms\n\nBeak\nRnd 1: 4 dc in a loop\n\n{name} Rnd 1. 6 dc in a loop. Rnd 2. 6 dc.\n"
    pieces = from_text(page, "UK").draft.pieces
    assert [(piece.name, piece.make) for piece in pieces] == [("Beak", 1), NAMED[name]]


@pytest.mark.parametrize("words", ["Stuff.", "Turn.", "Fold in half.", "Join yarn.", "Sew.", "Inc."])
def test_what_is_to_be_done_names_no_piece(words: str) -> None:
    page = f"Hen\nUK terms\n\nBeak\nRnd 1: 4 dc in a loop\n\n{words} Rnd 1. 6 dc in a loop. Rnd 2. 6 dc.\n"
    names = [piece.name for piece in from_text(page, "UK").draft.pieces]
    assert words.rstrip(".") not in names
