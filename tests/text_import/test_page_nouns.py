"""What a page calls a stitch, where that is no word of the trade.

That pages are translated with their own word for a stitch, or with one that is a loop or a point in English, is
common practice, no source. The counts are by arithmetic.
"""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.words_by_sums import nouns_by_sums
from tracker.pattern.toml_writer import as_toml


def page(one: str, many: str, total: str = "= {}", place: str = "in each {}") -> str:
    def counted(number: int) -> str:
        return total.format(f"{number} {many}".strip())

    return "\n".join(
        (
            "Dew Drop",
            "",
            f"Rnd 1: 5 sc in magic ring {counted(5)}",
            f"Rnd 2: inc {place.format(one)} {counted(10)}",
            f"Rnd 3: (sc, inc) x 5 {counted(15)}",
            f"Rnd 4: sc {place.format(one)} {counted(15)}",
            f"Rnd 5: sc {place.format(one)} {counted(15)}",
            f"Rnd 6: (sc, dec) x 5 {counted(10)}",
            f"Rnd 7: sc {place.format(one)} {counted(10)}",
        )
    )


MANNERS = {
    "points": (page("point", "points"), {"point", "points"}),
    "a letter": (page("st", "w"), {"w"}),
    "maschen in brackets": (page("masche", "Maschen", "({})"), {"masche", "maschen"}),
    "in square ones": (page("oczko", "oczek", "[{}]", "in every {}"), {"oczko", "oczek"}),
    "loops are stitches": (page("loop", "loops"), {"loop", "loops"}),
    "where it goes alone": (page("zil", "", "({})"), {"zil"}),
    "between slashes": (page("ring loop", "lus", "/{}/", "in each st"), {"lus"}),
    "behind a dash": (page("st", "petlica", "- {}"), {"petlica"}),
}


@pytest.mark.parametrize("manner", MANNERS)
def test_the_sums_tell_what_a_page_calls_a_stitch(manner: str) -> None:
    text, nouns = MANNERS[manner]
    found = from_text(text, "US")
    assert {word for word, meaning in found.draft.words if meaning == "st"} == nouns
    (piece,) = loads(as_toml(found.draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [
        (number, "ok") for number in (5, 10, 15, 15, 15, 10, 10)
    ]
    assert text.split("\n")[3] in found.draft.pieces[0].text, "as it was printed"


@pytest.mark.parametrize(
    ("explained", "chains", "is_stitch"),
    [
        ("increase – knit 2 sc in one loop", "", True),
        ("inc = 2 sc in the same loop", "", True),
        ("decrease – knit 2 loops together", "", True),
        ("inc = 2 sc in one loop", "Rnd 4: (ch 3, sk next sc, sc in next sc) x 5\n", False),  # a loop of chains
        ("cl = 3 dc in one loop", "", False),  # no increase
        ("inc = 2 sc in one stitch", "", False),
    ],
)
def test_where_an_increase_is_worked_is_a_stitch_where_no_loops_are_made(
    explained: str, chains: str, is_stitch: bool
) -> None:
    text = f"Fig\n{explained}\n\nBody\nRnd 1: 5 sc in MR\nRnd 2: inc in each loop\nRnd 3: sc in each st\n{chains}"
    draft = from_text(text, "US").draft
    assert (("loop", "st") in draft.words) == is_stitch
    (piece,) = loads(as_toml(draft)).pieces
    assert (piece.rounds[1].verdict == "ok") == is_stitch


def test_a_misprint_in_such_a_total_is_told() -> None:
    text = page("point", "points").replace("x 5 = 15 points", "x 5 = 16 points")
    (piece,) = loads(as_toml(from_text(text, "US").draft)).pieces
    assert [round_.verdict for round_ in piece.rounds][:4] == ["ok", "ok", "disagrees", "ok"]


def test_an_increase_is_explained_with_the_page_s_own_word() -> None:
    text = "zun = 2 sc in the same point\n" + page("point", "points").replace("inc", "zun")
    assert dict(from_text(text, "US").draft.words)["zun"] == "increase"


@pytest.mark.parametrize(
    "lines",
    [
        page("st", "sts").split("\n"),  # the words of the trade
        (
            "Rnd 1: 6 sc in MR (6 petals)",
            "Rnd 2: 12 sc (6 petals)",
            "Rnd 3: 18 sc (6 petals)",
            "Rnd 4: sc (6 petals)",
        ),
        (  # loops of chains, which the next round goes into
            "Rnd 1: 6 sc in magic ring = 6",
            "Rnd 2: *sc in next sc, ch 2; rep from * around = 6 loops",
            "Rnd 3: 3 sc in each loop = 18",
            "Rnd 4: *sc, ch 3, sk 2; rep from * around = 6 loops",
            "Rnd 5: 4 sc in each loop = 24",
        ),
        (  # loops of chains that go into one another
            "Rnd 1: 9 sc in magic ring = 9",
            *(
                f"Rnd {number}: *sc in next loop, ch {number + 1}; rep from * around = 9 loops"
                for number in range(2, 7)
            ),
        ),
        ("Rnd 1: 6 sc in magic ring = 6 w", "Rnd 2: inc x 6 = 12 w"),  # too few to tell
    ],
)
def test_other_words_stay_what_they_are(lines: tuple[str, ...]) -> None:
    assert nouns_by_sums(lines, Context(terms="US")) == ()
