"""Which way up a piece stands, by the words of the file. Common practice, no source."""

from __future__ import annotations

import pytest

from tracker.measure.standing import stands_of
from tracker.pattern.loader import loads
from tracker.pattern.model import Stands

SAID = {
    "Worked from the foot up.": Stands.FOOT,
    "Worked from the tip of the roof down: Rnds 1-4 are the roof.": Stands.OPENING,
    "It is made top-down, without a seam.": Stands.OPENING,
    "Worked bottom-up.": Stands.FOOT,
    "Begin at the nose and stuff as you go.": Stands.FOOT,
    "": Stands.FOOT,
}


@pytest.mark.parametrize("note", SAID)
def test_notes_tell_which_way_up(note: str) -> None:
    assert stands(f'notes = ["{note}"]') is SAID[note]


def test_the_file_goes_before_the_notes() -> None:
    assert stands('notes = ["Worked top-down."]\nstands = "foot"') is Stands.FOOT


def test_what_is_set_on_another_piece_has_its_open_end_below() -> None:
    assert stands("", "Set the Hat on the body and sew all round.") is Stands.OPENING
    assert stands("", "Sew the body to the chair.") is Stands.FOOT


def stands(extra: str, step: str = "Weave in.") -> Stands:
    rounds = 'rounds = "Rnd 1: 6 sc in magic ring (6)"'
    pattern = loads(f'[[piece]]\nname = "Hat"\n{extra}\n{rounds}\n[[making-up]]\nstep = "{step}"\n')
    return stands_of(pattern, pattern.pieces[0])
