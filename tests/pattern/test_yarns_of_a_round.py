"""Which stitches are made with which yarn, as patterns write it: common practice, no source.

Each round is worked over twelve stitches in the yarn A, and is told as the yarns of its stitches one after the other.
"""

from __future__ import annotations

from itertools import groupby

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.rounds.plan import unrolled

YARNS = '[yarn.A]\nname = "clay"\n[yarn.B]\nname = "dark moss"\n[yarn.CC1]\nname = "cream"\n'

ROUNDS = {
    "Rnd 2: With B, sc around": "12 B",
    "Rnd 2 in B: sc around": "12 B",
    "Rnd 2 - B - sc around": "12 B",
    "Rnd 2 (B): sc around": "12 B",
    "Rnd 2: Using yarn B make 12 sc": "12 B",
    "Rnd 2: Start with the moss colour, sc around": "12 B",
    "Rnd 2: Attach CC1, sc around": "12 CC1",
    "Rnd 2: sc around (12) (CC1)": "12 CC1",
    "Rnd 2: sc around (in dark moss yarn) (12)": "12 B",
    "Rnd 2: Rejoin B, sc around": "12 B",
    "Rnd 2: with A sc 5, with CC1 sc 7": "5 A, 7 CC1",
    "Rnd 2: 5 sc with A, 7 sc with B": "5 A, 7 B",
    "Rnd 2: 5 sc in A, 7 sc in B": "5 A, 7 B",
    "Rnd 2: sc 5 (B), sc 7 (CC1)": "5 B, 7 CC1",
    "Rnd 2: 5 sc (B) 7 sc (CC1)": "5 B, 7 CC1",
    "Rnd 2: 5 sc, (B) 7 sc": "5 A, 7 B",
    "Rnd 2: (B) 5 sc (CC1) 7 sc": "5 B, 7 CC1",
    "Rnd 2: *2 sc A, 4 sc B; rep from * around": "2 A, 4 B, 2 A, 4 B",
    "Rnd 2: *2 sc (A), 4 sc (B)* twice": "2 A, 4 B, 2 A, 4 B",
    "Rnd 2: 5 sc, change colour to B, 7 sc": "5 A, 7 B",
    "Rnd 2: 5 sc, change the yarn to yarn B, 7 sc": "5 A, 7 B",
    "Rnd 2: 5 sc, change to color B, 7 sc": "5 A, 7 B",
    "Rnd 2: 5 sc, colour change: B, 7 sc": "5 A, 7 B",
    "Rnd 2: 5 sc, changing colours as in the picture, 7 sc": "12 A",
    "Rnd 2: 5 sc, drop A, pick up B, 7 sc": "5 A, 7 B",
    "Rnd 2: 5 sc, in last yo of last st change to B, 7 sc": "5 A, 7 B",
    "Rnd 2: sc in next 5 sts, finish last st with B, sc in next 7 sts": "5 A, 7 B",
    "Rnd 2: 5 sc (last yo in B), 7 sc": "5 A, 7 B",
    "Rnd 2: [2 sc in B, carrying A, 4 sc in A, carry B along] twice": "2 B, 4 A, 2 B, 4 A",
    "Rnd 2: sc 3B, 2A, 7B (12)": "3 B, 2 A, 7 B",
    "Rnd 2: (2A, 4B) x 2": "2 A, 4 B, 2 A, 4 B",
    "Rnd 2: B, 12 sc": "12 B",
    "Rnd 2: (start with B) 12 sc": "12 B",
    "Rnd 2: sc around, alternating 4 sts B and 2 sts CC1": "4 B, 2 CC1, 4 B, 2 CC1",
    "Rnd 2: alternate 4 sc B, 2 sc CC1 around": "4 B, 2 CC1, 4 B, 2 CC1",
    "Rnd 2: alternating 5 sts in cream and 3 sts in B, 12 sc": "5 CC1, 3 B, 4 CC1",
    "Rnd 2: sc around, alternating CC1 and B every 3 sts": "3 CC1, 3 B, 3 CC1, 3 B",
    "Rnd 2: alternating 6 sts A and 6 sts B around": "6 A, 6 B",
    "Fasten off A and join new colour.\nRnd 2: with B, sc around": "12 B",
    "Change the color to B, no longer use A\nRnd 2: sc around": "12 B",
    "Start with colour 4711 (dark moss)\nRnd 2: sc around": "12 B",
    "In B:\nRnd 2: sc around": "12 B",
    "Switch back to B at the end of the last stitch.\nRnd 2: sc around": "12 B",
    "Go back to B.\nRnd 2: sc around": "12 B",
    "Fasten off A and join cream.\nRnd 2: sc around": "12 CC1",
    "Join B and work one more round:\nRnd 2: sc around": "12 B",
    "Work the next 2 rounds in cream.\nRnd 2: sc around": "12 CC1",
    "Sew the eyes on with B.\nRnd 2: sc around": "12 A",
    "Leave it open, with a long tail.\nRnd 2: sc around": "12 A",
    "Embroider a mouth in cream.\nRnd 2: sc around": "12 A",
    "Rnd 2: sc around (12) - B": "12 B",
}


def yarns_of(pattern: Pattern) -> str:
    round_ = pattern.pieces[0].rounds[-1]
    assert round_.plan is not None, round_.problems
    in_use, made = round_.colour or "A", list[str]()
    for run in unrolled(round_.plan.body):
        in_use = run.act.colour or in_use
        made += [in_use] * run.act.stitches * run.times
    return ", ".join(f"{len(list(run))} {yarn}" for yarn, run in groupby(made))


@pytest.mark.parametrize(("text", "yarns"), ROUNDS.items(), ids=list(ROUNDS))
def test_the_yarns_of_the_stitches(text: str, yarns: str) -> None:
    rounds = f"Rnd 1: With A, 12 sc in magic ring\n{text}"
    pattern = loads(f'title = "t"\n{YARNS}[[piece]]\nrounds = """\n{rounds}\n"""\n')
    assert yarns_of(pattern) == yarns
    assert not any(problem.code == "new-colour" for item in pattern.pieces[0].rounds for problem in item.problems)


def test_a_piece_may_say_what_it_begins_with() -> None:
    rounds = 'rounds = """\nRnd 1: 6 sc in magic ring\nRnd 2: sc around\n"""\n'
    pattern = loads(f'title = "t"\n{YARNS}[[piece]]\nyarn = "moss"\n{rounds}')
    assert [item.colour for item in pattern.pieces[0].rounds] == ["B", "B"]
    wrong = loads(f'title = "t"\n{YARNS}[[piece]]\nyarn = "teal"\n{rounds}')
    assert [problem.code for problem in wrong.problems] == ["new-colour"]


def test_a_change_at_the_end_of_a_range_is_for_its_last_round() -> None:
    rounds = """Rnd 1 (A): 5 sc in magic ring (5)
Rnds 2-4: sc around, change to B in the last st (5)
Rnds 5-6: sc around (5), change to A
Rnds 7-8: (A) 2 sc, (B) 3 sc, change to A
Rnd 9: sc around"""
    yarns = '[yarn.A]\nname = "a"\n[yarn.B]\nname = "b"\n'
    text = f'title = "T"\n{yarns}[[piece]]\nname = "P"\nrounds = """\n{rounds}\n"""\n'
    piece = loads(text).pieces[0]
    assert "".join(item.colour for item in piece.rounds) == "AAAABBAAA"
    assert [item.plan.ends_with if item.plan else "" for item in piece.rounds][3:8] == ["B", "", "A", "A", "A"]


def test_the_yarn_of_the_ring_is_the_yarn_of_the_first_round() -> None:
    rounds = "With A, ch 4, join with a sl st to make a ring.\nRound 1: Ch 3 (counts as dc), 9 dc in ring, join. (10)"
    text = f'title = "T"\n[yarn.A]\nname = "a"\n[[piece]]\nname = "P"\nrounds = """\n{rounds}\n"""\n'
    piece = loads(text).pieces[0]
    assert [item.colour for item in piece.rounds] == ["A"]


@pytest.mark.parametrize(
    "how",
    [
        "alternating colours every 3 sts",
        "changing colour every 3 sts",
        "alternating the two colours every 3 stitches",
    ],
)
def test_two_yarns_take_turns_where_none_is_named(how: str) -> None:
    """The yarn in hand comes first, as it is in the hand (common practice, no source)."""
    yarns = '[yarn.A]\nname = "clay"\n[yarn.B]\nname = "moss"\n'
    rounds = f"Rnd 1 (A): 12 sc in mr (12)\nRnd 2: sc around, {how} (12)"
    pattern = loads(f'title = "T"\n{yarns}[[piece]]\nname = "a"\nrounds = """\n{rounds}\n"""')
    assert yarns_of(pattern) == "3 A, 3 B, 3 A, 3 B"


@pytest.mark.parametrize(
    "words",
    [
        "sc around. (12) In the last st of Rnd 3 change to B.",
        "sc around. In the last st of Rnd 3 change to B. (12)",
        "sc around (12). Change to B on the last st of Rnd 3.",
        "sc around, changing to B in last st of Rnd 3 (12)",
    ],
)
@pytest.mark.parametrize("declared", [True, False])
def test_a_yarn_that_is_changed_in_the_last_round_of_several_is_that_of_the_next(
    words: str, *, declared: bool
) -> None:
    rounds = f"Rnd 1: 12 sc in ring\nRnds 2-3: {words}\nRnd 4: sc around"
    piece = loads(f'{YARNS if declared else ""}[[piece]]\nname = "Tube"\nrounds = """\n{rounds}\n"""\n').pieces[0]
    assert [round_.leaves for round_ in piece.rounds] == [12] * 4
    assert not any(problem.code == "no-such-round" for round_ in piece.rounds for problem in round_.problems)
    assert [round_.plan.ends_with.upper() for round_ in piece.rounds if round_.plan][1:3] == ["", "B"]
