"""The same cautions stand on the screen, on the sheet and in plain sentences: a table of things to make."""

from __future__ import annotations

import pytest

from tracker.cli.plain_sentences import materials as plain_materials
from tracker.document.builder import Wish, compose
from tracker.measure.safety import cautions_for
from tracker.pattern.loader import loads
from tracker.tui.pages.materials import materials as screen_materials
from tracker.tui.palette import LAMP

BEAR = '[[piece]]\nname = "Bear"\nrounds = "Rnd 1: 6 sc in magic ring (6)"\n'
GAUGE = '[gauge]\nstitch = "sc"\nstitches = 20\nrounds = 21\n'
CORD = '[[piece]]\nname = "Leash"\nstart = "rows"\nrounds = "Row 1: ch 121, sc in 2nd ch and in each ch (120)"\n'
THINGS = {
    "a toy for a baby": 'title = "Bear"\nfor = "child under 3"\nnotions = ["8 mm safety eyes", "stuffing"]\n' + BEAR,
    "a cord of sixty centimetres": 'title = "Dog"\nfor = "child"\n' + GAUGE + BEAR + CORD,
    "something soft with a face for an adult": 'title = "Bear"\nfor = "adult"\nnotions = ["stuffing", "eyes"]\n'
    + BEAR,
    "a coaster for an adult": 'title = "Coaster"\nfor = "adult"\n' + BEAR,
    "nobody in particular": 'title = "Bear"\nnotions = ["button", "magnet"]\n' + BEAR,
}


@pytest.mark.parametrize("thing", THINGS)
def test_every_place_has_the_same_cautions(thing: str) -> None:
    pattern = loads(THINGS[thing])
    found = cautions_for(pattern)
    texts = [caution.text for caution in (*found.materials, *found.working)]
    assert len(texts) > 1
    if "cord" in thing:
        assert any("about 60 cm long, more than 22 cm" in text for text in texts)
    screen = "\n".join(row.text for row in screen_materials(pattern, LAMP))
    document = compose(pattern, Wish("US", False, None, {}))
    sheet = "\n".join((*document.cautions, *document.while_working))
    spoken = "\n".join(plain_materials(pattern))
    for text in texts:
        assert text in screen and text in sheet and text in spoken, text
    if found.ask:
        assert found.ask in sheet and found.ask in spoken.lower()
