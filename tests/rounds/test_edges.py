"""The edge that a round of lace leaves: its places in order, what each is called, and going along them.

Drawn on paper: "x" stands under each place of the name, "." under every other one. The laws are held against a walk
from place to place.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.building import step

from tracker.pattern.loader import loads
from tracker.rounds.edge import BUT, MOST_MOVES, Edge, edge_of
from tracker.rounds.plan import Plan

RING = "Rnd 1: Magic ring, ch 1, 12 sc in ring, join."
SQUARE = (
    "Rnd 1: Ch 4, join to form a ring. Ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join."
)


def plan_of(*lines: str) -> Plan:
    rounds = "\n".join(lines)
    plan = loads(f'[[piece]]\nname = "Motif"\nrounds = """\n{rounds}\n"""\n').pieces[0].rounds[-1].plan
    assert plan is not None
    return plan


EDGES = {
    "a square of groups": (
        [SQUARE],
        {
            "stitch": "xxx." * 4,
            "space": "...x" * 4,
            "ch-2": "...x" * 4,
            "ch-1": "...." * 4,
            "corner": "...x" * 4,
            "gap": "...x" * 4,
            "group": ".x.." * 4,
            "3-group": ".x.." * 4,
            "2-group": "...." * 4,
            "petal": ".x.." * 4,
            "first of petal": "x..." * 4,
            "only dc": "xxx." * 4,
            "only sc": "...." * 4,
        },
    ),
    "fans and stitches by turns": (
        [RING, "Rnd 2: Ch 1, *sc in next st, skip next st, 5 dc in next st, skip next st; rep from * around, join."],
        {
            "stitch": "xxxxxx" * 3,
            "only sc": "x....." * 3,
            "only dc": ".xxxxx" * 3,
            "shell": "...x.." * 3,
            "fan": "...x.." * 3,
            "petal": "...x.." * 3,
            "5-group": "...x.." * 3,
            "stitch of shell": ".xxxxx" * 3,
            "first of shell": ".x...." * 3,
            "gap": "......" * 3,
            "corner": "......" * 3,
        },
    ),
    "shells that the round names are the fans": (
        [RING, "Rnd 2: Ch 1, (sc in next st, sk 1, shell of 5 dc in next st, sk 1) around, join."],
        {"shell": "...x.." * 3, "fan": "......" * 3, "petal": "...x.." * 3},
    ),
    "pairs with a chain between them": (
        [RING, "Rnd 2: Ch 1, [(dc, ch 1, dc) in next st, skip next st] around, join."],
        {
            "stitch": "x.x." * 6,
            "v-st": ".x.." * 6,
            "ch-1": ".x.." * 6,
            "corner": ".x.." * 6,
            "gap": "...x" * 6,
            "shell": "...." * 6,
            "chain of v-st": ".x.." * 6,
            "ch-1 of v-st": ".x.." * 6,
            "stitch of v-st": "x.x." * 6,
            "first of v-st": "x..." * 6,
        },
    ),
    "pairs apart": (
        [RING, "Rnd 2: Ch 1, 2 dc in each st around, join."],
        {"gap": "..x" * 12, "2-group": ".x." * 12, "v-st": "..." * 12, "shell": "..." * 12, "stitch": "xx." * 12},
    ),
    "one stitch stands beside no gap": (
        [RING, "Rnd 2: Ch 1, (2 dc in next st, dc in next st) around, join."],
        {"gap": "..." * 6, "group": ".x." * 6},
    ),
    "the corners are where a chain lies within a group": (
        [RING, "Rnd 2: Ch 1, [(dc, ch 1, dc) in next st, ch 3, sk 1, dc in next st, ch 3] 4 times, join."],
        {"corner": ".x...." * 4, "ch-3": "...x.x" * 4},
    ),
    "or at the longest chains, where none does": (
        [RING, "Rnd 2: Ch 1, [dc in next st, ch 3, dc in next st, ch 1, sk next st] 4 times, join."],
        {"corner": ".x.." * 4, "space": ".x.x" * 4},
    ),
    "two are too few corners, and thirteen too many": (
        [RING, "Rnd 2: Ch 1, [(dc, ch 2, dc) in next st, 5 dc] twice, join."],
        {"corner": "........" * 2, "v-st": ".x......" * 2},
    ),
    "thirteen are no corners": (
        [RING.replace("12", "26"), "Rnd 2: Ch 1, (dc in next st, ch 2, sk 1) 13 times, join."],
        {"corner": ".." * 13, "ch-2": ".x" * 13},
    ),
    "twelve may be": (
        [RING.replace("12", "24"), "Rnd 2: Ch 1, (dc in next st, ch 2, sk 1) 12 times, join."],
        {"corner": ".x" * 12},
    ),
    "three may be": (
        [RING, "Rnd 2: Ch 1, (dc in next st, ch 2, sk 3) 3 times, join."],
        {"corner": ".x" * 3},
    ),
    "stitches between spaces are blocks": (
        [RING, "Rnd 2: Ch 1, (dc in next 3 sts, ch 2, skip next st) around, join."],
        {"group": ".x.." * 3, "3-group": ".x.." * 3, "first of group": "x..." * 3, "stitch of group": "xxx." * 3},
    ),
    "so is the one in which the round begins": (
        [
            RING,
            "Rnd 2: Ch 1, dc in next st, ch 2, sk 1, (dc in next 3 sts, ch 2, sk 1) twice, dc in next 2 sts, join.",
        ],
        {"3-group": "...x" * 3, "first of group": ".." + "x..." * 2 + "x."},
    ),
    "blocks that differ are none": (
        [RING, "Rnd 2: Ch 1, (dc in next 3 sts, ch 2, dc in next 2 sts, ch 2, sk 1) twice, join."],
        {"group": "......." * 2},
    ),
    "a stitch alone between them is none": (
        [RING, "Rnd 2: Ch 1, (dc in next 3 sts, ch 2, sk 1, sc in next st, ch 2, sk 1) twice, join."],
        {"3-group": ".x...." * 2, "first of group": "x....." * 2},
    ),
    "two blocks are enough": (
        [RING, "Rnd 2: Ch 1, (dc in next 5 sts, ch 2, skip next st) twice, join."],
        {"5-group": "..x..." * 2, "first of 5-group": "x....." * 2},
    ),
    "no group is the whole round": ([RING], {"group": "." * 12, "petal": "." * 12, "stitch": "x" * 12}),
    "nor are its stitches": ([RING, "Rnd 2: Ch 1, sc in each st around, join."], {"group": "." * 12}),
    "the corners are where the round says so, though there are longer chains": (
        [
            SQUARE,
            "Rnd 2: Ch 1, *sk 1, (dc, ch 4, dc) in next dc, sk 1, (sc, ch 2, sc) in corner sp; rep from * around.",
        ],
        {"ch-4": ".x......" * 4, "corner": ".....x.." * 4, "gap": "...x...x" * 4},
    ),
    "a picot is a space of its name": (
        [RING, "Rnd 2: Ch 1, (sc in next 3 sts, picot) 4 times, join."],
        {"picot": "...x" * 4, "stitch": "xxx." * 4},
    ),
    "what is closed at the top is one stitch": (
        [RING, "Rnd 2: Ch 1, (dc3tog over next 3 sts, ch 2) 4 times, join."],
        {"only cluster": "x." * 4, "only dc3tog": "x." * 4, "only dc": "x." * 4, "stitch": "x." * 4},
    ),
    "a chain that counts is a stitch": (
        [RING, "Rnd 2: Ch 5 (counts as dc and ch 2), sk 1, (dc in next st, ch 2, sk 1) 5 times, join."],
        {"stitch": "x." * 6, "only dc": "x." * 6, "ch-2": ".x" * 6},
    ),
}


def marked(edge: Edge, name: str) -> str:
    sites = edge.sites(name)
    return "".join(".x"[index in sites] for index in range(len(edge.places)))


@pytest.mark.parametrize(
    ("lines", "name", "marks"),
    [
        pytest.param(lines, name, marks, id=f"{title}: {name}")
        for title, (lines, names) in EDGES.items()
        for name, marks in names.items()
    ],
)
def test_where_the_places_of_a_name_lie(lines: list[str], name: str, marks: str) -> None:
    edge = edge_of(plan_of(*lines), False)
    assert edge is not None
    assert marked(edge, name) == marks


@pytest.mark.parametrize(
    ("line", "is_so"),
    [
        ("Ch 1, (3 dc, ch 2, 3 dc) in each corner sp around, join.", True),
        ("Ch 1, *(3 dc, ch 2, 3 dc) in next corner sp, ch 1; rep from * around, join.", False),
        ("Ch 1, (dc in next dc, 2 dc in next dc, dc in next dc, ch 2) 4 times, join.", False),
        ("Ch 1, 2 dc in each dc around, join.", False),
    ],
)
def test_a_side_of_groups_has_gaps_where_the_chains_are_all_at_the_corners(line: str, is_so: bool) -> None:
    edge = edge_of(plan_of(SQUARE, f"Rnd 2: {line}"), False)
    assert edge is not None
    assert edge.has_gaps_on_its_sides == is_so


@pytest.mark.parametrize(
    ("below", "line", "group", "extents"),
    [
        (12, "(sc in next st, sk 1, 5 dc in next st, sk 1) 3 times", "shell", [5, 5, 5]),
        (12, "(sc in next st, sk 1, (2 dc, ch 1, 2 dc) in next st, sk 1) 3 times", "shell", [4, 4, 4]),
        (12, "(sc in next st, sk 1, (2 dc, ch 1, 2 dc) in next st, sk 1) 3 times", "2-group", [2] * 6),
        (2, "(dc, ch 1, dc) in next 2 sts", "v-st", [2, 2]),
        (3, "4 dc in next st, sc in next st, 3 dc in next st", "group", [3, 4]),
        (2, "(3 dc, ch 2, 2 dc) in next 2 sts", "shell", [5, 5]),
        (1, "(3 dc, ch 2, 3 dc) in next st", "shell", [6]),
    ],
)
def test_a_group_has_as_many_stitches_from_whichever_side_it_is_come_to(
    below: int, line: str, group: str, extents: list[int]
) -> None:
    row = plan_of(f"Row 1: {below} sc, turn.", f"Row 2: Ch 1, {line}, turn.")
    for turned in (True, False):
        edge = edge_of(row, turned)
        assert edge is not None
        assert [edge.extent(group, site) for site in edge.sites(f"first of {group}")] == extents[
            :: 1 if turned else -1
        ]


def test_what_makes_nothing_leaves_no_edge() -> None:
    assert edge_of(Plan((step("turn"),)), True) is None


def test_a_round_that_is_turned_is_gone_along_from_its_end_and_begins_where_it_was_joined() -> None:
    joined = plan_of(RING, "Rnd 2: Ch 3 (counts as dc), dc in next 2 sts, ch 1, hdc in next 9 sts, join, turn.")
    row = plan_of("Row 1: Ch 10, turn.", "Row 2: Sc in 2nd ch from hook, ch 2, sk 2 ch, hdc in next 6 ch, turn.")
    for plan, name, marks in [
        (joined, "ch-1", "..........x.."),
        (joined, "only dc", "x..........xx"),
        (row, "ch-2", "......x."),
        (row, "only sc", ".......x"),
    ]:
        edge = edge_of(plan, True)
        assert edge is not None
        assert marked(edge, name) == marks


def test_the_next_round_begins_in_a_space_where_this_one_ends_in_one() -> None:
    loops = plan_of(RING, "Rnd 2: Ch 1, (sc in next st, ch 3) around, join.")
    filled = plan_of(RING, "Rnd 2: Ch 1, (ch 3, sc in next st) around, join.")
    ends = [edge_of(plan, turned) for plan in (loops, filled) for turned in (False, True)]
    assert [edge is not None and edge.ends_in_space for edge in ends] == [True, False, False, False]


def test_a_row_has_no_gap_between_its_ends_when_it_is_turned() -> None:
    row = plan_of("Row 1: 6 sc", "Row 2: Ch 1, 2 dc in each st across, turn.")
    gaps = [len(edge.sites("gap")) for turned in (False, True) if (edge := edge_of(row, turned))]
    assert gaps == [6, 5]


def test_nobody_asks_where_the_spaces_of_a_slip_of_the_keyboard_lie() -> None:
    for times, is_known in ((MOST_MOVES // 2, True), (MOST_MOVES // 2 + 1, False)):
        ring = f"Rnd 1: Magic ring, {times} sc in ring."
        edge = edge_of(plan_of(ring, f"Rnd 2: (sc in next st, ch 2) {times} times"), False)
        assert (edge is not None) == is_known


NAMES = ["stitch", "space", "gap", "corner"]
places = st.lists(st.frozensets(st.sampled_from(NAMES), min_size=1), min_size=1, max_size=7)
asked = st.sampled_from([*NAMES, "stitch+gap", f"space{BUT}corner", f"stitch+space{BUT}gap"])


def is_called(place: frozenset[str], name: str) -> bool:
    names, _, but = name.partition(BUT)
    return any(each in place for each in names.split("+")) and but not in place


@settings(max_examples=60, deadline=None)
@given(places, asked, st.integers(0, 20), st.integers(1, 9))
def test_a_place_is_found_where_a_walk_comes_to_it(
    there: list[frozenset[str]], name: str, start: int, number: int
) -> None:
    edge = Edge(tuple(there))
    hits = [at for at in range(start, start + len(there) * (number + 1)) if is_called(there[at % len(there)], name)]
    for stop in range(start - 2, start + 2 * len(there)):
        assert edge.count(name, start, stop) == sum(at < stop for at in hits)
    if hits:
        assert [edge.nth(name, start, each) for each in range(1, number + 1)] == hits[:number]
