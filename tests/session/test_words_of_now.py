"""What the hands do next, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as some
from support.building import ch, dec, inc, join, pattern, piece, ring, rnd, sc, shell, sk, st, step, step_act, times

from tracker.pattern.loader import loads
from tracker.pattern.model import Round, Start
from tracker.phrasing.stitches import UK_NAMES, US_NAMES, act_words, names_for, stretch_words
from tracker.rounds.next_step import coming_now, up_to_boundary
from tracker.rounds.plan import Act, Into, Loop, Made, Node, Plan, Repeat, Role, Run, Technique
from tracker.session.events import RepeatDone, RoundDone, Stitch
from tracker.session.reducer import advance, begin
from tracker.session.view_builder import look


@pytest.mark.parametrize(
    ("body", "move", "words"),
    [
        ([times(6, sc(2), inc())], 0, "2 single crochet, then an increase"),
        ([times(6, sc(2), inc())], 1, "1 single crochet, then an increase"),
        ([times(6, sc(2), inc())], 3, "1 more single crochet in the same stitch"),
        ([ring(6)], 0, "6 single crochet in the magic ring"),
        ([ring(6)], 2, "4 single crochet in the magic ring"),
        ([ch(3), st("dc", 11)], 0, "chain 3, then 11 double crochet"),
        ([sc(6), join()], 6, "join with a slip stitch"),
        ([sc(6), join(), step("turn")], 6, "join with a slip stitch, then turn"),
        ([inc(6)], 0, "6 increases"),
        ([inc(2, "hdc")], 0, "2 increases of half double crochet"),
        ([dec(1)], 0, "a decrease"),
        ([dec(3, "dc")], 0, "3 decreases of double crochet"),
        ([dec(1, "sc", 3)], 0, "a decrease over 3 stitches"),
        ([sc(18, loop=Loop.BACK)], 0, "18 single crochet in the back loop only"),
        ([sc(1, loop=Loop.FRONT)], 0, "1 single crochet in the front loop only"),
        ([times(2, sc(2, loop=Loop.FRONT), sc(1, loop=Loop.FRONT))], 0, "3 single crochet in the front loop only"),
        (
            [times(2, sc(2, loop=Loop.FRONT), ch(1), st("dc", 1, loop=Loop.FRONT))],
            0,
            "2 single crochet, chain 1, then 1 double crochet, all in the front loop only",
        ),
        (
            [times(2, sc(2, loop=Loop.FRONT), sc(1))],
            0,
            "2 single crochet in the front loop only, then 1 single crochet",
        ),
        ([st("dc", 2, loop=Loop.FRONT_POST)], 0, "2 double crochet around the front post"),
        ([st("sl st", 3)], 0, "3 slip stitches"),
        ([st("tr", 2)], 0, "2 trebles"),
        ([sk(2), sc()], 0, "skip 2 stitches, then 1 single crochet"),
        ([times(5, sk(), shell())], 0, "skip 1 stitch, then a shell (5 double crochet)"),
        (
            [times(2, sc(), times(3, inc(), sc(1)))],
            0,
            "1 single crochet, then 3 times (an increase, then 1 single crochet)",
        ),
        ([sc(), sc(), inc()], 0, "1 single crochet"),
        ([times(2, sc(), sc(), inc())], 0, "2 single crochet, then an increase"),
        ([st("dc", 1, into=Into.SPACE)], 0, "1 double crochet in the chain space"),
        ([st("dc", 3, into=Into.SPACE)], 0, "1 double crochet in each of the next 3 chain spaces"),
        ([ch(3, counts_as="dc"), st("dc", 5)], 0, "chain 3 (counts as a double crochet)"),
    ],
)
def test_words_of_a_place(body: list[Node], move: int, words: str) -> None:
    assert stretch_words(coming_now(Plan(tuple(body)), move)) == words


def work(*makes: Made, takes: int = 1, into: Into = Into.STITCH, name: str = "in one") -> Act:
    return Act(name, Role.WORK, makes, takes, into)


@pytest.mark.parametrize(
    ("act", "often", "words"),
    [
        (work(Made("sc", 3)), 1, "3 single crochet in one stitch"),
        (work(Made("sc", 3)), 4, "3 single crochet in each of the next 4 stitches"),
        (
            work(Made("dc", 2), Made("ch", 1), Made("dc", 2), into=Into.SPACE),
            1,
            "(2 double crochet, chain 1, 2 double crochet) in the chain space",
        ),
        (work(Made("sc", 1), takes=0, into=Into.SAME, name="sc"), 1, "1 single crochet in the same stitch"),
        (work(Made("sc"), name="sc", into=Into.BETWEEN), 2, "2 single crochet between the stitches"),
        (
            replace(work(Made("sc"), name="sc", into=Into.CHAIN), from_hook=2),
            1,
            "1 single crochet in chain 2 from the hook",
        ),
        (work(Made("bobble"), name="bobble"), 2, "2 bobbles"),
        (Act("leave", Role.SKIP, (), 1, technique=Technique.LEAVE), 3, "leave 3 stitches unworked"),
        (step_act("ch 1"), 1, "chain 1"),
        (step_act("place marker"), 1, "place the marker"),
        (step_act("fasten off"), 1, "fasten off"),
    ],
)
def test_words_of_an_act(act: Act, often: int, words: str) -> None:
    assert act_words(act, often) == words


def test_a_group_too_long_for_a_glance_is_cut_short() -> None:
    long = times(2, *[node for n in range(2, 7) for node in (sc(n), inc())])
    words = stretch_words(coming_now(Plan((long,)), 0))
    assert words.endswith("an increase, 4 single crochet, then the rest of the repeat")


def test_uk_terms_come_with_uk_names() -> None:
    """Craft Yarn Council, US/UK conversion: US sc = UK dc, US dc = UK tr (from memory)."""
    assert stretch_words(coming_now(Plan((sc(2),)), 0), names_for("UK")) == "2 double crochet"
    assert stretch_words(coming_now(Plan((st("dc", 2),)), 0), UK_NAMES) == "2 trebles"
    assert names_for("US") is US_NAMES


runs = some.builds(
    Run, some.sampled_from([sc().act, inc().act, dec().act, ch(2).act, sk().act, join().act]), some.integers(1, 4)
)
bodies = some.recursive(
    some.lists(runs, min_size=1, max_size=3).map(tuple),
    lambda inner: some.lists(
        some.one_of(runs, some.builds(Repeat, inner, some.integers(1, 3))), min_size=1, max_size=3
    ).map(tuple),
    max_leaves=6,
)


@given(bodies, some.data())
def test_the_stitches_up_to_the_boundary_are_those_between_its_moves(
    body: tuple[Node, ...], data: some.DataObject
) -> None:
    plan = Plan(body)
    move = data.draw(some.integers(0, plan.moves - 1))
    stretch = up_to_boundary(plan, move)
    assert stretch.stitches == plan.stitches_before(move + stretch.moves) - plan.stitches_before(move)


@given(bodies)
def test_one_tap_of_a_repeat_does_what_the_words_tell(body: tuple[Node, ...]) -> None:
    """And never less than a stitch while one is left."""
    plan = Plan(body)
    band = pattern(piece("Band", Round(1, "Rnd 1", "as drawn", plan), rnd(2, sc(3))))
    state = begin(band)
    ends = []
    while state.work.place.round_index == 0:
        place = state.work.place
        told = coming_now(plan, place.moves)
        ends.append(place.moves + told.moves)
        state = advance(band, state, RepeatDone(), 0.0)
        assert state.work.place.moves == (ends[-1] if ends[-1] < plan.moves else 0)
        if len(told.nodes) < 6:
            assert told.stitches or plan.stitches_before(place.moves) == plan.leaves
    assert ends[-1] == plan.moves


@given(bodies, some.data())
def test_words_hold_no_parser_words_and_are_never_empty(body: tuple[Node, ...], data: some.DataObject) -> None:
    plan = Plan(body)
    words = stretch_words(coming_now(plan, data.draw(some.integers(0, plan.moves - 1))))
    assert words and not words.endswith(".") and "None" not in words


SPIRAL = pattern(piece("Cap", rnd(1, ring(6)), rnd(2, inc(6)), rnd(3, sc(12))))


def test_the_marker_is_moved_at_the_first_stitch_of_each_round_of_a_spiral_but_the_first() -> None:
    """Common practice, no source."""
    state = begin(SPIRAL)
    seen = [look(SPIRAL, state).moves_marker]
    for event in (RoundDone(), Stitch(), RoundDone()):
        state = advance(SPIRAL, state, event, 0.0)
        seen.append(look(SPIRAL, state).moves_marker)
    assert seen == [False, True, False, True]


def test_joined_rounds_need_no_marker() -> None:
    joined = replace(SPIRAL, pieces=(replace(SPIRAL.pieces[0], start=Start.JOINED),))
    assert not look(joined, advance(joined, begin(joined), RoundDone(), 0.0)).moves_marker


def test_the_earlier_round_that_is_worked_into_is_told() -> None:
    behind = pattern(piece("Frill", rnd(1, sc(6)), rnd(2, sc(6)), replace(rnd(3, sc(6)), worked_into=1)))
    state = advance(behind, advance(behind, begin(behind), RoundDone(), 0.0), RoundDone(), 0.0)
    assert look(behind, state).now == "6 single crochet, into Rnd 1"


@pytest.mark.parametrize(
    ("nodes", "words"),
    [
        ([st("dc", 8, into=Into.SPACE)], "1 double crochet in each of the next 8 chain spaces"),
        ([st("sc", 3, into=Into.CHAIN)], "1 single crochet in each of the next 3 chains"),
        ([st("sc", 1, into=Into.CHAIN)], "1 single crochet in the chain"),
    ],
)
def test_one_stitch_in_each_of_several_places_is_not_several_in_each(nodes: list[Node], words: str) -> None:
    assert stretch_words(coming_now(Plan(tuple(nodes)), 0)) == words


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Rnd 3: into Rnd 1, 2 sc in each st around (12)", "6 increases, into Rnd 1"),
        (
            "Rnd 3: working behind the petals into Rnd 1, 2 sc in each st around (12)",
            "6 increases, into Rnd 1, behind what was made since",
        ),
        (
            "Rnd 3: ch 1, working in front of Rnd 2 into Rnd 1, 2 sc in each st around (12)",
            "chain 1, then 6 increases, into Rnd 1, in front of what was made since",
        ),
        ("Rnd 3: behind the petals, sc around (12)", "12 single crochet, working behind"),
        ("Rnd 3: 6 sc, working behind them sc in next 6 sts (12)", "6 single crochet"),
    ],
)
def test_what_goes_into_an_earlier_round_says_on_which_side_of_what_lies_between(line: str, words: str) -> None:
    rounds = f"Rnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st around (12)\n{line}"
    made = loads(f'title = "Flower"\n[[piece]]\nname = "Flower"\nrounds = """\n{rounds}\n"""\n')
    state = begin(made)
    for _ in range(2):
        state = advance(made, state, RoundDone(), 0.0)
    assert look(made, state).now == words


CLOSED = "Ch 6, sl st to first ch to form a ring\\nRnd 1: 12 dc in ring (12)"


@pytest.mark.parametrize(
    ("rounds", "words"),
    [
        (CLOSED, "12 double crochet in the ring"),
        ("Rnd 1: ch 6, sl st to form a ring, 12 dc in ring (12)", "12 double crochet in the ring"),
        ("Rnd 1: 12 dc in magic ring (12)", "12 double crochet in the magic ring"),
    ],
)
def test_a_ring_of_chains_is_no_magic_ring(rounds: str, words: str) -> None:
    made = loads(f'title = "T"\n[[piece]]\nname = "T"\nrounds = "{rounds}"\n')
    told, state = [], begin(made)
    while (view := look(made, state)).tap is not None and not view.piece_finished:
        told.append(view.now)
        state = advance(made, state, view.tap.event, 0.0)
    assert any(words in each for each in told), told


def test_a_round_along_an_edge_is_worked_as_it_says_and_by_eye() -> None:
    cloth = loads(
        '[[piece]]\nname = "Cloth"\nstart = "rows"\nrounds = """\n'
        "Row 1: ch 5, sc in 2nd ch from hook and in each ch, turn (4)\n"
        'Row 2: sc evenly down the side, 3 sc in corner, sc across bottom\n"""\n'
    )
    state = advance(cloth, begin(cloth), RoundDone(), 0.0)
    assert look(cloth, state).now == "work this round as it says, as many along the edge as lie flat"
