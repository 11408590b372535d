"""Random things that a maker does, on a small pattern with everything: chains, joins, skips, copies, a bad round,
rounds that they change."""

from __future__ import annotations

from hypothesis import strategies as some
from support.building import cap, ch, inc, join, pattern, piece, ring, rnd, sc, sk, times, unread

from tracker.session.events import (
    AskChosen,
    AudienceChosen,
    BallWeighed,
    CarryOn,
    CauseConfirmed,
    Counted,
    Frog,
    MovesDone,
    Note,
    PieceChosen,
    RepeatDone,
    RoundDone,
    RoundRewritten,
    StepDone,
    Stitch,
    Together,
)

BAND = piece("Band", rnd(1, ch(1), sc(4), join()), rnd(2, ch(3, counts_as="dc"), sk(), times(2, sc(), inc()), join()))
PATTERN = pattern(cap(), BAND, piece("Ear", rnd(1, ring(6)), unread(2, 6), make=3), making_up=["Sew.", "Press."])

moves = some.one_of(
    some.builds(Stitch, some.integers(1, 9)),
    some.just(RepeatDone()),
    some.builds(MovesDone, some.integers(1, 5)),
    some.just(RoundDone()),
    some.just(Stitch()),
)
CHANGES = (
    RoundRewritten(1, "Rnd 2: 5 inc (10)", 5),
    RoundRewritten(1, "Rnd 2: 2 sc, inc, 2 sc (6)", 5),
    RoundRewritten(2, "Rnd 3: (2 sc, inc) x 4 (16)", 12),
    RoundRewritten(2, "Rnd 3: 3 sc, inc, 3 sc (8)", 7),
    RoundRewritten(1, "Rnd 2: sew on the ears", 5),
    RoundRewritten(9, "Rnd 10: 6 sc (6)", 6),
)
changes = some.sampled_from(CHANGES)
rest = some.one_of(
    some.builds(Frog, some.integers(0, 3), some.integers(0, 8)),
    some.builds(Counted, some.integers(0, 20), some.integers(0, 3)),
    some.just(CarryOn()),
    some.builds(Note, some.text(max_size=8)),
    some.builds(AudienceChosen, some.sampled_from(["under 3", "older child", "grown-up", "nobody"])),
    some.builds(BallWeighed, some.sampled_from(["", "R"]), some.sampled_from([0.0, 12.5, 50.0, 1e9])),
    some.builds(StepDone, some.integers(0, 2), some.booleans()),
    some.builds(PieceChosen, some.integers(0, 3), some.integers(1, 3)),
    some.builds(AskChosen, some.sampled_from(["each", "change", "every", "never"]), some.integers(1, 3)),
    changes,
    some.builds(CauseConfirmed, some.sampled_from(["place", "miscount", "wind"])),
)
together = some.builds(Together, some.lists(some.one_of(moves, changes, rest), max_size=3).map(tuple))
events = some.one_of(moves, moves, rest, rest, changes, together)
