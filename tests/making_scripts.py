"""Random things that a maker does, on a small pattern with everything: chains, joins, skips, copies, a bad round."""

from __future__ import annotations

from building import cap, ch, inc, join, pattern, piece, ring, rnd, sc, sk, times, unread
from hypothesis import strategies as some

from tracker.making.events import (
    AskChosen,
    CarryOn,
    Counted,
    Frog,
    Note,
    PieceChosen,
    RepeatDone,
    RoundDone,
    StepDone,
    Stitch,
)

BAND = piece("Band", rnd(1, ch(1), sc(4), join()), rnd(2, ch(3, counts_as="dc"), sk(), times(2, sc(), inc()), join()))
PATTERN = pattern(cap(), BAND, piece("Ear", rnd(1, ring(6)), unread(2, 6), make=3), making_up=["Sew.", "Press."])

moves = some.one_of(
    some.builds(Stitch, some.integers(1, 9)), some.just(RepeatDone()), some.just(RoundDone()), some.just(Stitch())
)
events = some.one_of(
    moves,
    moves,
    some.builds(Frog, some.integers(0, 3), some.integers(0, 8)),
    some.builds(Counted, some.integers(0, 20), some.integers(0, 3)),
    some.just(CarryOn()),
    some.builds(Note, some.text(max_size=8)),
    some.builds(StepDone, some.integers(0, 2), some.booleans()),
    some.builds(PieceChosen, some.integers(0, 3), some.integers(1, 3)),
    some.builds(AskChosen, some.sampled_from(["each", "change", "every", "never"]), some.integers(1, 3)),
)
