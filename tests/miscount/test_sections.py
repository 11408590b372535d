"""A round as a row of places where something can go wrong, by hand."""

from __future__ import annotations

import pytest
from support.building import ch, sk
from support.round_shapes import dec, group, inc, plain, round_of, step

from tracker.rounds.plan import Act, Made, Plan, Role, Run
from tracker.session.miscount.sections import (
    LOOK_AT_MOST,
    acts_from,
    all_plain,
    chances_of,
    changes_made,
    closing,
    first_act,
    first_chain_counts,
    form_of,
    glance_bounds,
    is_fastened_off,
    is_joined,
    last_act,
    narrow_width,
    parts_of,
    runs_out_by,
)
from tracker.session.miscount.tap_timing import Beat
from tracker.session.mistakes import Mistake

COUNTS = Run(Act("ch 3", Role.CHAIN, (Made("ch", 3, "dc"),), 0))
ROW = round_of(COUNTS, plain(19, "dc"), step("turn"))
JOINED = round_of(step("ch 1"), plain(12), step("join"))
STAR = round_of(group(6, plain(2), inc()))
CLOSING = round_of(group(6, plain(2), dec()))


@pytest.mark.parametrize(
    ("plan", "end", "form", "joined", "off", "chain"),
    [
        (STAR, "", "spiral", False, False, None),
        (JOINED, "join", "joined", True, False, False),
        (ROW, "turn", "rows", True, False, True),
        (round_of(plain(6), step("join"), step("fasten off")), "join", "joined", True, True, None),
        (round_of(plain(6), step("fasten off")), "", "spiral", False, True, None),
        (round_of(plain(6), step("join"), step("turn")), "turn", "rows", True, False, None),
        (round_of(ch(1), plain(6)), "", "joined", True, False, False),
        (round_of(step("turn")), "turn", "rows", True, False, None),
        (round_of(), "", "spiral", False, False, None),
    ],
)
def test_how_a_round_is_closed_and_begun(
    plan: Plan, end: str, form: str, joined: bool, off: bool, chain: bool | None
) -> None:
    assert (closing(plan), form_of(plan), is_joined(plan), is_fastened_off(plan)) == (end, form, joined, off)
    assert first_chain_counts(plan) is chain


@pytest.mark.parametrize(
    ("run", "chances"),
    [
        (plain(), {(Mistake.SKIPPED, -1): 1.0, (Mistake.DOUBLED, 1): 1.0}),
        (inc(), {(Mistake.MISSED_INCREASE, -1): 1.0, (Mistake.DOUBLED, 1): 1.0}),
        (
            inc(1, "sc", 3),
            {(Mistake.MISSED_INCREASE, -1): 0.5, (Mistake.MISSED_INCREASE, -2): 0.5, (Mistake.DOUBLED, 1): 1.0},
        ),
        (dec(), {(Mistake.MISSED_DECREASE, 1): 1.0, (Mistake.DOUBLED, 1): 1.0}),
        (sk(), {}),
        (step("join"), {}),
        (ch(2), {}),
    ],
)
def test_how_one_stitch_can_go_wrong(run: Run, chances: dict[tuple[Mistake, int], float]) -> None:
    assert chances_of(run.act) == chances


def test_the_first_and_the_last_stitch() -> None:
    assert (first_act(JOINED), last_act(JOINED)) == ((1, 2), (12, 13))
    assert (first_act(ROW), last_act(ROW)) == ((1, 2), (19, 20))
    assert (first_act(STAR), last_act(STAR)) == ((0, 1), (22, 24))
    assert (first_act(round_of(ch(3))), last_act(round_of(ch(3)))) == (None, None)
    assert (first_act(round_of()), last_act(round_of())) == (None, None)
    picots = Run(Act("picot", Role.WORK, (Made("ch", 3),), 1), 2)
    assert picots.act.stitches == 0
    both = round_of(picots, plain(2), picots)
    assert (first_act(both), last_act(both)) == ((2, 3), (3, 4))


@pytest.mark.parametrize(
    ("plan", "loses"),
    [(STAR, 2), (CLOSING, 0), (JOINED, 1), (ROW, 1), (round_of(ch(3)), 0), (round_of(inc(1, "sc", 3)), 3)],
)
def test_what_is_lost_where_the_last_base_is_missing(plan: Plan, loses: int) -> None:
    assert runs_out_by(plan) == loses


def test_what_is_lost_and_gained_where_all_is_worked_plain() -> None:
    assert (all_plain(STAR, 24), all_plain(STAR, 12), all_plain(CLOSING, 18)) == ((6, 0), (3, 0), (0, 6))
    both = round_of(group(2, inc(1, "sc", 3), dec()))
    assert (all_plain(both, both.moves), changes_made(both, both.moves), changes_made(both, 4)) == (
        (4, 2),
        (2, 2),
        (1, 1),
    )


def test_acts_are_gone_through_up_to_a_bound() -> None:
    acts = list(acts_from(STAR, 4, 9))
    assert [bounds for bounds, _ in acts] == [(4, 5), (5, 6), (6, 8), (8, 9)]
    assert len(list(acts_from(round_of(plain(1000)), 0))) == LOOK_AT_MOST


def test_a_round_is_cut_at_its_repeats_and_at_the_taps() -> None:
    tapped = parts_of(STAR, 10, [Beat(0, 6, 1.0, 6.0, 6), Beat(6, 10, 1.0, 4.0, 4)])
    assert [(part.start, part.until) for part in tapped] == [(0, 4), (4, 6), (6, 8), (8, 10)]
    parts = parts_of(STAR, 10, [], bounds=(2, 10, 99))
    assert [(part.start, part.until) for part in parts] == [(0, 2), (2, 4), (4, 8), (8, 10)]
    assert parts[1].chances == {(Mistake.MISSED_INCREASE, -1): 1.0, (Mistake.DOUBLED, 1): 1.0}
    assert parts[2].chances[Mistake.SKIPPED, -1] == 2.0
    assert (parts[2].within.start, parts[2].within.until) == (4, 8)


def test_a_half_made_increase_belongs_to_the_part_that_finishes_it() -> None:
    parts = parts_of(STAR, 8, [], bounds=(3,))
    assert [(part.start, part.until) for part in parts] == [(0, 3), (3, 4), (4, 8)]
    assert (Mistake.MISSED_INCREASE, -1) not in parts[0].chances
    assert parts[1].chances[Mistake.MISSED_INCREASE, -1] == 1.0


@pytest.mark.parametrize(
    ("plan", "bounds"),
    [
        (round_of(plain(12)), []),
        (round_of(plain(13)), [6]),
        (round_of(plain(30)), [10, 20]),
        (round_of(plain(100)), [20, 40, 60, 80]),
        (STAR, []),
        (round_of(group(2, plain(20), inc(2))), [12, 36]),
    ],
)
def test_what_is_too_wide_for_one_look_is_divided(plan: Plan, bounds: list[int]) -> None:
    assert glance_bounds(plan, plan.moves) == bounds


def test_twelve_stitches_or_a_fifth_are_seen_at_a_glance() -> None:
    assert [narrow_width(leaves) for leaves in (0, 12, 60, 64, 65, 100)] == [12, 12, 12, 12, 13, 20]
