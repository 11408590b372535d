"""A changed count is worded as the piece words it, and else in the words that one and several take."""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.notation.reader import read_line
from tracker.pattern.misprints.house_style import DECREASE, INCREASE, agreeing, to_one, to_several, wording
from tracker.pattern.misprints.source_map import written

TO_ONE = {
    "sc in next 3 sts": (3, "sc in next st"),
    "2 sc in each of next 2 sts": (2, "2 sc in next st"),
    "1 sc in each of the next 4 stitches": (4, "1 sc in the next stitch"),
    "inc x 3": (3, "inc"),
    "inc*3": (3, "inc"),
    "sc2tog 2 times": (2, "sc2tog"),
    "3 dec": (3, "dec"),
    "hdc inc 2": (2, "hdc inc"),
    "5 sc": (5, "1 sc"),
    "sc 5": (5, "sc 1"),
}


@pytest.mark.parametrize(("words", "was", "now"), [(words, *told) for words, told in TO_ONE.items()])
def test_several_become_one(words: str, was: int, now: str) -> None:
    assert to_one(words, was) == now


TO_SEVERAL = {
    ("sc in next st", True): "sc in next 3 sts",
    ("2 sc in next st", False): "2 sc in each of next 3 sts",
    ("1 dc in next stitch", True): "1 dc in each of next 3 stitches",
    ("sc", True): "3 sc",
    ("1 sc", True): "3 sc",
    ("sc 1", True): "sc 3",
    ("inc", False): "inc x 3",
    ("1 inc", False): "3 inc",
}


@pytest.mark.parametrize(("words", "is_plain", "now"), [(*told, now) for told, now in TO_SEVERAL.items()])
def test_one_becomes_several(words: str, is_plain: bool, now: str) -> None:
    assert to_several(words, 3, is_plain=is_plain) == now


@pytest.mark.parametrize(
    ("words", "now"),
    [
        ("rep from * 1 more times", "rep from * 1 more time"),
        ("rep from * 11 more time", "rep from * 11 more times"),
        ("x 1", "x 1"),
    ],
)
def test_times_agree_with_their_number(words: str, now: str) -> None:
    assert agreeing(words) == now


LEARNED = {
    "its own increase": (
        "Rnd 3: *sc in next st, 2 sc in next st; rep from * 5 more times",
        "2 sc in next st",
        "sc2tog",
    ),
    "of several": ("Rnd 3: 3 sc, inc x 2, 3 sc", "inc", "dec"),
    "of a round of increases": ("Rnd 2: 2 dc in each st around", "2 dc in next st", "dc2tog"),
    "with the stitch": ("Rnd 3: [hdc 1, hdc inc] 6 times", "hdc inc", "hdc dec"),
    "of the decreases": ("Rnd 9: (3 sc, sc2tog) x 6", "2 sc in next st", "sc2tog"),
    "of plain stitches": ("Rnd 9: sc in next st, sk 1", "2 sc in next st", "dec"),
    "nothing to learn from": ("Rnd 1: 6 sc in magic ring", "inc", "dec"),
}


@pytest.mark.parametrize(("line", "increase", "decrease"), LEARNED.values(), ids=LEARNED)
def test_a_lost_stitch_is_worded_like_the_others(line: str, increase: str, decrease: str) -> None:
    words = wording([written(read_line(line, Context()), "US")])
    assert (words.one_of(INCREASE), words.one_of(DECREASE)) == (increase, decrease)
