"""Even spacing, against the published examples and an independent way to the same gaps.

Source of the examples: G. Toussaint, "The Euclidean algorithm generates traditional musical rhythms", 2005; the
algorithm is E. Bjorklund's, 2003. Both space k onsets over n pulses as evenly as can be.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.rounds.formatter import spread


def bjorklund(onsets: int, pulses: int) -> str:
    """The Euclidean rhythm by pairing up remainders, as Bjorklund does it: no division into floors anywhere."""
    head, tail = [["x"]] * onsets, [["."]] * (pulses - onsets)
    while len(tail) > 1:
        pairs = min(len(head), len(tail))
        joined = [head[index] + tail[index] for index in range(pairs)]
        head, tail = joined, head[pairs:] + tail[pairs:]
    return "".join(beat for group in head + tail for beat in group)


def rhythm(places: tuple[int, ...], pulses: int) -> str:
    return "".join("x" if pulse in places else "." for pulse in range(pulses))


def turns(pattern: str) -> set[str]:
    return {pattern[turn:] + pattern[:turn] for turn in range(len(pattern))}


@pytest.mark.parametrize("published", ["x..x..x.", "x.xx.xx.", "x..x.x..x.x..", "x.x.x.", "x...x...x..."])
def test_published_rhythms_up_to_rotation(published: str) -> None:
    pulses, onsets = len(published), published.count("x")
    assert rhythm(spread(onsets, pulses), pulses) in turns(published)
    assert bjorklund(onsets, pulses) in turns(published)


@pytest.mark.parametrize("pulses", range(1, 33))
def test_equals_the_euclidean_rhythm_up_to_rotation(pulses: int) -> None:
    for onsets in range(1, pulses + 1):
        assert rhythm(spread(onsets, pulses), pulses) in turns(bjorklund(onsets, pulses)), onsets


@st.composite
def spacings(draw: st.DrawFn) -> tuple[int, int, int]:
    stitches = draw(st.integers(1, 400))
    return draw(st.integers(1, stitches)), stitches, draw(st.integers(-500, 500))


@given(spacings())
def test_gaps_differ_by_at_most_one(spacing: tuple[int, int, int]) -> None:
    changes, stitches, shift = spacing
    places = spread(changes, stitches, shift)
    assert len(set(places)) == changes and all(0 <= place < stitches for place in places)
    gaps = {(after - place) % stitches for place, after in zip(places, (*places[1:], places[0]), strict=True)}
    assert changes == 1 or max(gaps) - min(gaps) <= 1


@given(spacings())
def test_a_shift_turns_the_whole_round(spacing: tuple[int, int, int]) -> None:
    changes, stitches, shift = spacing
    turned = {(place + shift) % stitches for place in spread(changes, stitches)}
    assert set(spread(changes, stitches, shift)) == turned


def test_increases_end_their_repeat_as_the_trade_writes_them() -> None:
    """(2 sc, inc) x 6 over 18: every third stitch (common practice, no source)."""
    assert spread(6, 18) == (2, 5, 8, 11, 14, 17)


def test_nothing_to_spread() -> None:
    assert spread(0, 12) == ()


@pytest.mark.parametrize(("changes", "stitches"), [(7, 6), (-1, 6), (1, 0)])
def test_what_does_not_fit_is_refused(changes: int, stitches: int) -> None:
    with pytest.raises(ValueError, match="do not fit"):
        spread(changes, stitches)
