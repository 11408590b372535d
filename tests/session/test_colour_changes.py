"""The yarn in use and the next one. The new colour is drawn through at the last pull-through of the old one's last
stitch (common practice, no source), so the maker is told one stitch before the change."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some
from support.building import cap, ch, inc, join, pattern, piece, ring, rnd, sc, st, step, times, unread

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.rounds.plan import Node, Plan
from tracker.session import colour_changes as colours
from tracker.session.events import Event, RepeatDone, RoundDone, RoundRewritten, Stitch
from tracker.session.reducer import advance, begin
from tracker.session.view import StepSize, View
from tracker.session.view_builder import look


def seen(pattern: Pattern, *events: Event) -> View:
    state = begin(pattern)
    for event in events:
        state = advance(pattern, state, event, 0.0)
    return look(pattern, state)


TOWER = pattern(
    piece(
        "Tower",
        rnd(1, sc(6, colour="C"), join(), colour="C"),
        rnd(2, sc(2, colour="C"), sc(2, colour="R"), sc(2, colour="C"), join(), colour="C"),
        rnd(3, sc(6, colour="G"), step("fasten off"), colour="G"),
    )
)


@pytest.mark.parametrize(
    ("done", "colour", "key", "in_stitches"),
    [
        (0, "cream", "R", 7),
        (5, "cream", "R", 2),
        (6, "cream", "R", 1),
        (8, "cream", "R", 0),
        (9, "brick red", "C", 1),
        (10, "brick red", "C", 0),
        (11, "cream", "G", 1),
        (12, "cream", "G", 0),
    ],
)
def test_the_next_change_counts_the_stitches_before_the_last_of_the_old_colour(
    done: int, colour: str, key: str, in_stitches: int
) -> None:
    """`done` are taps of one stitch: 6 stitches and the join of round 1, then round 2."""
    view = seen(TOWER, *[Stitch()] * done)
    assert view.next_colour is not None
    assert (view.colour, view.next_colour.key, view.next_colour.in_stitches) == (colour, key, in_stitches)


def test_while_the_join_is_made_the_new_yarn_is_on_the_hook() -> None:
    view = seen(TOWER, RoundDone(), Stitch(6))
    assert (view.step, view.colour, view.next_colour) == ("join with a slip stitch", "moss green", None)


def test_the_cue_is_in_the_words_of_the_stitch_before_the_change() -> None:
    assert seen(TOWER, *[Stitch()] * 8).now == (
        "1 single crochet; on the last pull-through of this stitch change to brick red"
    )
    assert seen(TOWER, *[Stitch()] * 7).now == "1 single crochet", "the stitch of the change stands alone"
    assert seen(TOWER).now == "6 single crochet"


def test_a_change_inside_a_repeat_names_the_stitch_to_who_taps_by_rounds() -> None:
    flags = pattern(piece("Flag", rnd(1, times(3, sc(2, colour="R"), sc(3, colour="C")), colour="R")))
    told = look(flags, begin(flags), size=StepSize.ROUND).now
    assert told.endswith("on the last pull-through of stitch 2 of these change to cream")
    assert seen(flags, RepeatDone(), Stitch(3)).next_colour is not None
    assert seen(flags, *[RepeatDone()] * 2, Stitch(3)).next_colour is None


def test_yarn_that_is_cut_first_is_told_but_not_drawn_through() -> None:
    cut = pattern(
        piece("Cut", rnd(1, sc(3, colour="R"), step("fasten off"), colour="R"), rnd(2, sc(3, colour="C"), colour="C"))
    )
    view = seen(cut, Stitch(2))
    assert view.next_colour is not None
    assert (view.next_colour.in_stitches, view.next_colour.cut_first, view.now) == (1, True, "1 single crochet")


FRESH = """
[yarn.A]
name = "grey"
[yarn.B]
name = "plum"
[[piece]]
name = "Mat"
start = "joined"
rounds = '''
Rnd 1: With A, 6 sc in MR, join. (6){cut}
Rnd 2: {start}ch 1, sc in each st, join. (6)
'''
"""


@pytest.mark.parametrize(
    ("cut", "start", "at_the_join", "left"),
    [
        (" Fasten off.", "With B, ", "grey", 4),
        ("", "Join B in any stitch. ", "grey", 4),
        ("", "With B, ", "plum", 3),
    ],
)
def test_up_to_its_cut_a_round_is_made_in_its_own_yarn(cut: str, start: str, at_the_join: str, left: int) -> None:
    """A yarn that is joined fresh comes after all stitches of the old one; one drawn through, one before."""
    mat = loads(FRESH.format(cut=cut, start=start))
    two = seen(mat, Stitch(), Stitch())
    assert (two.colour, two.next_colour and two.next_colour.in_stitches) == ("grey", left)
    assert seen(mat, Stitch(6)).colour == at_the_join
    assert seen(mat, RoundDone()).colour == "plum"


def test_a_chain_that_ends_the_old_colour_is_where_the_new_one_is_drawn_through() -> None:
    arch = pattern(piece("Arch", rnd(1, sc(3, colour="R"), ch(2, colour="R"), sc(3, colour="C"), colour="R")))
    ahead = [view.next_colour.in_stitches for n in range(3) if (view := seen(arch, *[Stitch()] * n)).next_colour]
    assert ahead == [3, 2, 1]
    last = pattern(piece("Edge", rnd(1, times(2, sc(1, colour="R"), ch(2, colour="R"))), rnd(2, sc(3), colour="C")))
    assert seen(last, RepeatDone()).now.endswith(
        "; on the last pull-through of the chain after stitch 1 change to cream"
    )
    assert seen(arch, Stitch(3)).now.endswith("; on the last pull-through of this chain change to cream")
    grouped = pattern(
        piece("Arch", rnd(1, times(2, sc(2, colour="R"), ch(2, colour="R"), sc(1, colour="C")), colour="R"))
    )
    assert seen(grouped).now.endswith("; on the last pull-through of the chain after stitch 2 change to cream")


def test_the_colour_goes_on_over_rounds_that_name_none() -> None:
    plain = pattern(piece("Cap", rnd(1, ring(6), colour="R"), rnd(2, inc(6)), rnd(3, sc(12), colour="C")))
    view = seen(plain, RoundDone(), Stitch(2))
    assert (view.colour, view.next_colour and view.next_colour.in_stitches) == ("brick red", 9)


def test_beyond_a_round_of_unknown_length_no_number_is_invented() -> None:
    eye = pattern(piece("Ear", rnd(1, sc(6), colour="R"), unread(2), rnd(3, sc(6), colour="C")))
    assert seen(eye).next_colour is None
    known = pattern(piece("Ear", rnd(1, sc(6), colour="R"), unread(2, 12), rnd(3, sc(6), colour="C")))
    change = seen(known).next_colour
    assert change is not None and change.in_stitches == 17
    begins = pattern(piece("Ear", rnd(1, sc(6), colour="R"), unread(2, colour="C")))
    change = seen(begins).next_colour
    assert change is not None and change.in_stitches == 5


def test_a_pattern_without_colours_names_none() -> None:
    view = seen(pattern(cap()), RoundDone())
    assert (view.colour, view.colour_key, view.next_colour) == ("", "", None)


def test_the_next_piece_is_not_looked_into() -> None:
    two = pattern(piece("A", rnd(1, sc(3), colour="R")), piece("B", rnd(1, sc(3), colour="C")))
    assert seen(two).next_colour is None
    assert seen(two, RoundDone()).colour == "cream"


def test_a_thousand_million_stitches_are_counted_and_not_walked() -> None:
    huge = pattern(piece("Sea", rnd(1, times(500_000_000, sc(), inc()), colour="R"), rnd(2, sc(4), colour="C")))
    change = seen(huge, Stitch(4)).next_colour
    assert change is not None and change.in_stitches == 1_500_000_000 - 5


coloured = some.builds(
    lambda kind, count, colour: st(kind, count, colour=colour),
    some.sampled_from(["sc", "dc"]),
    some.integers(1, 3),
    some.sampled_from(["R", "C", "G"]),
)
bodies = some.lists(
    some.one_of(
        coloured,
        some.builds(
            lambda inner, n: times(n, *inner), some.lists(coloured, min_size=1, max_size=3), some.integers(1, 4)
        ),
    ),
    min_size=1,
    max_size=4,
).map(tuple)


@given(some.lists(bodies, min_size=1, max_size=3), some.data())
def test_arithmetic_agrees_with_walking_every_stitch(rounds: list[tuple[Node, ...]], data: some.DataObject) -> None:
    """The oracle writes out the colour of every stitch of the piece and looks along the list."""
    walked = [spot.act.colour for body in rounds for spot in Plan(body).walk()]
    first = [next(Plan(body).acts()).colour for body in rounds]
    made = pattern(piece("Trial", *(rnd(n, *body, colour=first[n]) for n, body in enumerate(rounds))))
    done = data.draw(some.integers(0, len(walked) - 1))
    view = seen(made, *([Stitch(done)] if done else []))
    rest = walked[done:]
    change = next((n for n, colour in enumerate(rest) if colour != rest[0]), None)
    assert view.colour_key == rest[0]
    if change is None:
        assert view.next_colour is None
    else:
        assert view.next_colour is not None
        assert (view.next_colour.key, view.next_colour.in_stitches) == (rest[change], change - 1)


COLOURS = some.sampled_from(["", "C", "R"])


ROUNDS = some.lists(some.tuples(COLOURS, some.sampled_from(["sc", "two", "chain", "step", "unread"])), max_size=12)


@given(ROUNDS, some.integers(0, 12))
def test_stretches_of_one_colour_are_gone_past_as_if_round_by_round(rounds: list[tuple[str, str]], done: int) -> None:
    made = {
        "sc": lambda colour: (sc(3, colour=colour),),
        "two": lambda colour: (sc(2, colour=colour), sc(2, colour="C")),
        "chain": lambda colour: (sc(2, colour=colour), ch(2, colour=colour)),
        "step": lambda colour: (sc(2, colour=colour), step("fasten off")),
    }
    told = [
        unread(number, 3) if sort == "unread" else rnd(number, *made[sort](colour), colour=colour)
        for number, (colour, sort) in enumerate(rounds, 2)
    ]
    tower = pattern(piece("Tower", rnd(1, sc(3, colour="R"), colour="R"), *told))
    events = [RoundDone()] * min(done, len(told))
    with pytest.MonkeyPatch.context() as changed:
        changed.setattr(colours, "_steady_past", lambda piece, index, walk: index)
        one_by_one = seen(tower, *events)
    assert seen(tower, *events) == one_by_one


def test_a_round_by_eye_is_made_with_the_yarn_that_was_in_use() -> None:
    made = loads(
        'title = "Flag"\n[yarn.A]\nname = "sand"\n[yarn.B]\nname = "blue"\n[[piece]]\nname = "Flag"\nrounds = """\n'
        "Rnd 1 (A): 6 sc in magic ring\nRnd 2 (B): 6 sc\nRnd 3: an edging of your own\nRnd 4 (A): 6 sc\n"
        '"""\n'
    )
    views = [seen(made, *[RoundDone()] * done) for done in range(4)]
    told = [(view.colour, view.next_colour.name if view.next_colour else "") for view in views]
    assert told == [("sand", "blue"), ("blue", ""), ("blue", ""), ("sand", "")]


def test_a_yarn_named_some_rounds_ago_is_in_use_where_a_round_is_worked_otherwise() -> None:
    made = loads(
        '[yarn.A]\nname = "sand"\n[[piece]]\nname = "Cap"\nrounds = """\n'
        'Rnd 1 (A): 6 sc in magic ring\nRnd 2: 6 sc\nRnd 3: 6 sc\nRnd 4: 6 sc\n"""\n'
    )
    otherwise = RoundRewritten(3, "Rnd 4: 5 sc, inc (7)", 6)
    colours = [seen(made, otherwise, *[RoundDone()] * done).colour for done in range(4)]
    assert colours == ["sand"] * 4
