"""What is read of a line besides its numbers: loops, the names of its acts, and where reading gives up."""

from __future__ import annotations

import pytest

from tracker.notation.ast import Choice, ChoiceKind, Colour, Group, Into, Loop, Role, acts
from tracker.notation.bunches import BUNCHES
from tracker.notation.glossary import BY_ID
from tracker.notation.parser.heading import MAX_ROUND, heading
from tracker.notation.reader import read_line
from tracker.notation.token_stream import MAX_WHOLE_REPEATS


def loops_of(text: str) -> list[tuple[str, Loop]]:
    return [(act.name, act.loop) for act in acts(read_line(text).body) if act.role is Role.WORK]


@pytest.mark.parametrize(
    ("text", "loops"),
    [
        ("3 sc, 3 hdc (BLO)", [("sc", Loop.BOTH), ("hdc", Loop.BACK)]),
        ("3 hdc (FLO), 3 sc", [("hdc", Loop.FRONT), ("sc", Loop.BOTH)]),
        ("3 sc, (BLO) 3 hdc", [("sc", Loop.BOTH), ("hdc", Loop.BACK)]),
        ("ch 1 (BLO) 4 sc", [("sc", Loop.BACK)]),
        ("(sc, hdc) x 6 (BLO)", [("sc", Loop.BACK), ("hdc", Loop.BACK)]),
        ("(BLO) 3 sc, 3 hdc", [("sc", Loop.BACK), ("hdc", Loop.BACK)]),
        ("3 sc blo, 3 hdc", [("sc", Loop.BACK), ("hdc", Loop.BOTH)]),
        ("3 sc in back loops only, 3 hdc", [("sc", Loop.BACK), ("hdc", Loop.BOTH)]),
        ("3 sc, BLO hdc in next 3 sts", [("sc", Loop.BOTH), ("hdc", Loop.BACK)]),
        ("sc in each back loop around, hdc", [("sc", Loop.BACK), ("hdc", Loop.BOTH)]),
        ("sc in each st around, taking up the back loop only", [("sc", Loop.BACK)]),
        ("(2 sc, inc) x 6. Work in front loops only. Join.", [("sc", Loop.FRONT), ("inc", Loop.FRONT)]),
        ("6 sc, in back loops only 6 hdc", [("sc", Loop.BOTH), ("hdc", Loop.BACK)]),
        ("sc in flo of next st, hdc", [("sc", Loop.FRONT), ("hdc", Loop.BOTH)]),
    ],
)
def test_a_loop_is_for_the_stitches_it_is_said_of(text: str, loops: list[tuple[str, Loop]]) -> None:
    assert loops_of(text) == loops


@pytest.mark.parametrize("number", [2, 3, 4, 5])
def test_several_in_one_stitch_have_one_name_however_they_are_written(number: int) -> None:
    names = {acts(read_line(text).body)[0].name for text in (f"({number} dc) in next st", f"{number} dc in next st")}
    assert names == {"inc" if number < 4 else "in one"}


def test_a_range_of_rounds_may_be_just_so_long() -> None:
    assert len(heading(f"rnds 1-{MAX_ROUND + 1}: sc").numbers) == MAX_ROUND + 1
    assert MAX_ROUND == 20_000
    [told] = [p.message for p in read_line(f"Rnds 1-{MAX_ROUND + 2}: sc around").problems]
    assert told == f"the range from 1 to {MAX_ROUND + 2} is too long"


def test_a_line_may_repeat_all_that_it_has_said_just_so_often() -> None:
    again = ", repeat 2 times"
    assert read_line("sc, inc" + again * MAX_WHOLE_REPEATS).is_readable
    [told] = [p.message for p in read_line("sc, inc" + again * (MAX_WHOLE_REPEATS + 1)).problems]
    assert told == "this repeats what repeats already, more than 4 times"


def test_what_belongs_to_a_place_is_no_remark() -> None:
    assert read_line("(sc between this st and the next st) 6 times").remarks == ()
    assert read_line("sc in next st of previous rnd, sc in each st around").remarks == ()


@pytest.mark.parametrize(
    ("text", "loop"),
    [
        ("sc in each front loop of rnd 5", Loop.FRONT),
        ("sc in front loops of rnd 5", Loop.FRONT),
        ("6 sc in front loops of rnd 5", Loop.FRONT),
        ("sc around in front loops of rnd 5", Loop.FRONT),
        ("sc in the front loops of each st of rnd 5", Loop.FRONT),
        ("FLO of rnd 5: sc in each st", Loop.FRONT),
        ("working in back loops of rnd 5, sc around", Loop.BACK),
        ("working in free loops of rnd 5, sc in each st", Loop.FRONT),
        ("sc in each st of rnd 5", Loop.BOTH),
        ("sc in next 6 sts of rnd 5", Loop.BOTH),
        ("working behind the petals into rnd 5, sc in each st", Loop.BOTH),
    ],
)
def test_the_round_that_is_worked_into_and_its_loops(text: str, loop: Loop) -> None:
    """Free loops are the front ones, as working into the back ones is usual (common practice, no source)."""
    line = read_line(text)
    assert (line.worked_into, loops_of(text)) == (5, [("sc", loop)])


def test_a_name_of_a_round_is_a_remark() -> None:
    assert read_line("Rnd 7 - scallops: 6 sc").remarks == ("scallops",)


def test_the_joining_stitch_is_a_place_and_no_joining() -> None:
    line = read_line("2 sc in the joining st, 4 sc")
    assert [act.name for act in acts(line.body)] == ["inc", "sc"]


def test_what_a_letter_stands_for_is_a_remark_and_counts_no_chain() -> None:
    line = read_line("ch 3, 5 dc (X = plain)")
    assert line.remarks == ("x = plain",)
    assert any(isinstance(item, Choice) and item.kind is ChoiceKind.OPENING for item in line.body)


def test_a_picot_is_a_space_to_work_into_and_a_cluster_is_a_stitch() -> None:
    """Common practice, no source."""
    into = {name: acts(read_line(f"sc in next {name}").body)[0].into for name in ("picot", "shell", "cluster")}
    assert into == {"picot": Into.SPACE, "shell": Into.SPACE, "cluster": Into.STITCH}


@pytest.mark.parametrize(
    ("text", "numbers", "last"),
    [
        ("Work Rnds 2 and 3 again", (2, 3), 0),
        ("Work as Rnd 2", (2,), 0),
        ("Rep Rnds 2-4", (2, 3, 4), 0),
        ("As Rnds 2, 4", (2, 4), 0),
        ("Repeat last 2 rnds", (), 2),
        ("Repeat previous 3 rnds", (), 3),
        ("Repeat previous rnd 3 more times", (), 1),
        ("As last rnd", (), 1),
        ("Work same rnd 3 times", (), 1),
    ],
)
def test_a_line_may_only_name_other_rounds(text: str, numbers: tuple[int, ...], last: int) -> None:
    named = read_line(text).reference
    assert named is not None
    assert (named.numbers, named.last) == (numbers, last)


@pytest.mark.parametrize(
    ("text", "times"),
    [
        ("Rep Rnds 2-3", 1),
        ("Rep Rnds 2-3 x 4", 4),
        ("Rep Rnds 2-3, 4 times", 4),
        ("(Rep Rnds 2-3) 4 times", 4),
        ("Rep Rnds 2-3 4 more times", 4),
        ("Rep Rnds 2-3 4 times more", 4),
        ("Rep Rnds 2-3 twice", 2),
        ("Rep Rnds 2-3 twice more", 2),
        ("Rep last 2 rnds 3 times", 3),
        ("Rep previous rnd 3 more times", 3),
    ],
)
def test_rounds_may_be_named_so_many_times(text: str, times: int) -> None:
    named = read_line(text).reference
    assert named is not None
    assert named.times == times


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("join b in any st, 6 sc", ["b"]),
        ("join blue, 6 sc", ["blue"]),
        ("join with sl st, 6 sc", []),
        ("6 sc br, 12 sc cr", ["br", "cr"]),
        ("With moss, 6 sc", ["moss"]),
        ("With brick, 6 sc", ["brick"]),
        ("6 sc, with lg, 6 sc", ["lg"]),
        ("With brick red, 6 sc", ["brick red"]),
        ("6 sc in red, 6 sc", ["red"]),
        ("(RS) 6 sc", []),
        ("(b) 6 sc", ["b"]),
        ("(br) 6 sc", ["br"]),
        ("(amber) 6 sc", []),
    ],
)
def test_the_yarns_that_a_line_names(text: str, keys: list[str]) -> None:
    assert [item.key for item in read_line(text).body if isinstance(item, Colour)] == keys


STITCHES_BY_HEIGHT = {
    "sl st": (0, False),
    "sc": (1, False),
    "rsc": (1, False),
    "wst": (1, False),
    "hdc": (2, None),
    "esc": (2, False),
    "ehdc": (2, None),
    "dc": (3, True),
    "edc": (3, True),
    "tr": (4, True),
    "dtr": (5, True),
    "trtr": (6, True),
    "qtr": (7, True),
    "yusc": (1, False),
    "spike": (1, False),
    "loop st": (1, False),
    "hhdc": (2, None),
    "ldc": (3, True),
    "lkdc": (3, True),
    "lktr": (4, True),
}
"""Chains that a stitch needs to turn, and whether they stand for it (None: practice is divided); common practice, no
source. A waistcoat stitch and a reverse one are single crochets; an extended stitch has one chain at its foot."""


def test_a_stitch_is_as_high_as_its_turning_chain() -> None:
    assert {kind: (stitch.turning_chain, stitch.chain_counts) for kind, stitch in BY_ID.items()} == STITCHES_BY_HEIGHT


def test_what_a_named_group_leaves_to_be_counted() -> None:
    """Common practice, no source: what is closed at the top is one stitch, a picot none, a shell not known."""
    left = {bunch.id: bunch.stitches for bunch in BUNCHES if bunch.usual}
    ones = dict.fromkeys(("cluster", "bobble", "popcorn", "puff", "bean", "bullion"), 1)
    none = dict.fromkeys(("shell", "half shell", "fan"))
    assert left == {**none, "v-st": 2, "crossed dc": 2, "picot": 0, **ones}


def nodes_in(items: tuple[object, ...]) -> int:
    """How many nodes a row has, those of every reading among them."""
    inner = [
        body
        for item in items
        for body in (
            [item.body]
            if isinstance(item, Group)
            else [o.body for o in item.options]
            if isinstance(item, Choice)
            else []
        )
    ]
    return len(items) + sum(map(nodes_in, inner))


@pytest.mark.parametrize(
    "words", ["inc x 6 rnd ", "dec 5 x once; ", "inc around ", "3 sc, inc around, ", "2 sc, dec x 3, "]
)
def test_a_line_grows_with_its_words_and_does_not_double_with_each(words: str) -> None:
    """Ten times the words are at most thirty times the nodes: each adds itself and its readings once."""
    assert nodes_in(read_line(words * 20).body) <= 30 * max(nodes_in(read_line(words * 2).body), 4)
