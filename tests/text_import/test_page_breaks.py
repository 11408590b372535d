"""Words that the end of a line parts, and rounds into which something else of the page is set.

The pages are invented, their figures worked out by hand; that pages are set so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.page_breaks import last_number, lines_set_in, with_whole_words
from tracker.pattern.toml_writer import as_toml

BROKEN = """\
LANTERN
Rnd 1: 7 sc in 2nd ch from hook.
Rnd 2: 2 sc in each sc around.
Rnd 3: * Sc in next sc, 2 sc in the next
{set_in}
sc; repeat from * around.
Rnd 4: Sc in each sc around.
"""

SET_IN = {
    "the number of the page": "\n- 31 -\n",
    "an advertisement": "\nSOAP FLAKES for all woollens! At every good grocer's.\nAsk for the green packet.\n",
    "the foot of a page and the head of the next": "\nPlease turn over\n\n32      THE LAMP CORNER\n",
}


@pytest.mark.parametrize("set_in", [pytest.param(text, id=name) for name, text in SET_IN.items()])
def test_a_round_goes_on_behind_what_is_set_into_it(set_in: str) -> None:
    imported = from_text(BROKEN.format(set_in=set_in), "US")
    (piece,) = loads(as_toml(imported.draft)).pieces
    assert [one.plan.leaves if one.plan else None for one in piece.rounds] == [7, 14, 21, 21]
    assert [note for line in set_in.split("\n") if line and (note := line.strip()) not in imported.draft.notes] == []


@pytest.mark.parametrize(
    "lines",
    [
        ["Rnd 3: sc in each sc (18)", "", "Stuff it a little", "", "2 sc in the next sc, and so on"],
        ["Rnd 3: sc in each sc around.", "", "THE LID", "", "make 4 ch and join them to a ring"],
        ["Rnd 3: * sc in next sc, 2 sc in the next", "", "Ch 1 and turn at every end", "", "sc; repeat from *"],
        ["Rnd 3: * sc in next sc, 2 sc in the next", "", "A NOTE", "", "Rnd 4: sc in each sc around"],
        ["2 balls of the grey wool in", "", "SIZE 3", "", "a needle and some thread"],
    ],
)
def test_a_remark_between_two_rounds_is_set_into_none(lines: list[str]) -> None:
    assert lines_set_in(lines) == frozenset()


def test_the_parts_of_a_word_are_put_together() -> None:
    broken = [
        "Rnd 4: * Sc in next sc; rep from * a-",
        "round (18 sc). Work toge-",
        "ther, ch-",
        "3, in the half-",
        "done loop now",
    ]
    assert with_whole_words(broken) == [
        "Rnd 4: * Sc in next sc; rep from * around",
        "(18 sc). Work together,",
        "ch-",
        "3, in the half-",
        "done loop now",
    ]


def test_a_number_alone_is_none_of_a_round() -> None:
    assert [last_number(text, 4) for text in ("Rnds 5-8: even", "9. Press it", "5th rnd: even")] == [8, 4, 5]
