"""The sheet as it was made: counts, notes, mends, times, and how far each copy is; nothing that was taken back."""

from __future__ import annotations

from support.building import cap, pattern, piece, ring, rnd, toadstool
from support.project_bench import NOON

from tracker.document.as_made import WorkHistory
from tracker.document.builder import Wish, compose
from tracker.document.model import Document
from tracker.document.text import as_text
from tracker.journal.records import Happened
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.project import work_time as pace
from tracker.session.events import (
    CarryOn,
    Closed,
    Counted,
    Event,
    Frog,
    Note,
    Opened,
    PieceChosen,
    RoundDone,
    RoundRewritten,
    StepDone,
    Stitch,
    Together,
    Undo,
)
from tracker.session.reducer import advance, begin


def day_of(at: float) -> str:
    return f"day {int(at // 86_400)}"


def made(the_pattern: Pattern, *events: Event | tuple[float, Event], changed: tuple[str, ...] = ()) -> Document:
    """The sheet after these events, a minute apart; an event with a number comes so many seconds after the last."""
    state, at = begin(the_pattern), NOON
    happened: list[Happened] = []
    for number, event in enumerate(events, 1):
        gap, event = event if isinstance(event, tuple) else (60.0, event)
        at += gap
        state = advance(the_pattern, state, event, at)
        happened.append(Happened(number, at, event, 0))
    days = pace.days((pace.Moment(each.at, each.rounds) for each in happened), day_of)
    history = WorkHistory(state, tuple(happened), days, day_of, changed)
    return compose(the_pattern, Wish("US", False, history))


CAP = loads(
    'title = "Cap"\n[[piece]]\nname = "Cap"\nrounds = """\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n'
    'Rnd 3: (1 sc, inc) x 6 (18)\nRnds 4-5: sc around (18)\n"""\n[[making-up]]\nstep = "Stuff it."\n'
)


def told(sheet: Document, piece: int = 0) -> dict[str, tuple[str, ...]]:
    """What was made at each line that has something to tell."""
    return {line.heading: line.made for line in sheet.pieces[piece].lines if line.made}


def test_counts_notes_and_times_stand_with_their_rounds() -> None:
    sheet = made(CAP, RoundDone(), Note("smaller hook"), RoundDone(), Counted(12, 1))
    assert told(sheet) == {
        "Rnd 2:": (f'counted 12; note of {day_of(NOON)}: "smaller hook"; took 1 minute',),
        "Rnd 3:": ("not made yet, from here on",),
    }


def test_a_count_that_differed_and_was_carried_on_with_says_so() -> None:
    sheet = made(CAP, RoundDone(), (1.0, RoundDone()), Counted(11, 1), CarryOn())
    assert told(sheet)["Rnd 2:"] == ("counted 11 instead of 12, and carried on",)


def test_what_was_taken_back_is_not_told() -> None:
    sheet = made(CAP, RoundDone(), (1.0, RoundDone()), Counted(12, 1), Undo(), Note("wrong"), Undo())
    assert told(sheet) == {"Rnd 3:": ("not made yet, from here on",)}


def test_a_count_of_a_round_that_was_ripped_back_is_no_count_of_the_new_one() -> None:
    sheet = made(CAP, RoundDone(), (1.0, RoundDone()), Counted(12, 1), Frog(1), (1.0, RoundDone()))
    assert "Rnd 2:" not in told(sheet)


def test_a_count_in_the_middle_of_a_round_is_no_count_of_it() -> None:
    sheet = made(CAP, (1.0, RoundDone()), (1.0, Stitch(4)), Counted(4, 1), (1.0, RoundDone()))
    assert "Rnd 2:" not in told(sheet)


def test_a_round_of_the_makers_own_stands_instead_of_the_patterns() -> None:
    mend = Together((Counted(17, 2), RoundRewritten(3, "Rnd 4: 16 sc, inc (18)", 17)))
    sheet = made(CAP, RoundDone(), RoundDone(), (1.0, RoundDone()), mend, (1.0, RoundDone()))
    lines = {line.heading: line for line in sheet.pieces[0].lines}
    assert lines["Rnd 4:"].text == "Rnd 4: 16 sc, inc (18)"
    assert lines["Rnd 4:"].made == ('worked instead of "Rnds 4-5: sc around (18)"',)
    assert lines["Rnd 4:"].watch == ()
    assert lines["Rnd 3:"].made == ("counted 17 instead of 18",)
    assert lines["Rnd 5:"].text == "Rnd 5: sc around (18)"


def test_a_pause_is_no_time_at_work() -> None:
    sheet = made(CAP, Opened("x"), (3_600.0, RoundDone()), (120.0, RoundDone()), Closed(), (120.0, RoundDone()))
    assert told(sheet)["Rnd 2:"] == ("took 2 minutes",)
    assert "Rnd 1:" not in told(sheet) and "Rnd 3:" not in told(sheet)
    assert sheet.made[0].startswith(day_of(NOON))


def test_copies_worked_otherwise_have_lines_of_their_own() -> None:
    spots = loads(
        'title = "S"\n[[piece]]\nname = "Spot"\nmake = 4\nrounds = """\nRnd 1: 6 sc in magic ring (6)\n'
        'Rnd 2: inc x 6 (12)\n"""\n'
    )
    sheet = made(
        spots,
        RoundDone(),
        RoundDone(),
        PieceChosen(0, 3),
        RoundDone(),
        RoundRewritten(1, "Rnd 2: 6 sc (6)", 6),
        RoundDone(),
    )
    assert [(piece.name, piece.make) for piece in sheet.pieces] == [("Spot, the other 3", 3), ("Spot, copy 3", 1)]
    assert sheet.pieces[0].made == ("copy 1: made", "the other 2: not begun")
    assert sheet.pieces[1].made == ("copy 3: made",)
    assert [line.text for line in sheet.pieces[1].lines] == ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: 6 sc (6)"]


def test_the_copy_that_a_count_is_of_is_named() -> None:
    spots = pattern(piece("Spot", rnd(1, ring(6)), make=2))
    sheet = made(spots, (1.0, RoundDone()), Counted(6, 0), (1.0, RoundDone()), Counted(6, 0))
    assert told(sheet) == {"Rnd 1:": ("copy 1: counted 6", "copy 2: counted 6")}
    assert sheet.pieces[0].made == ("copies 1 and 2: made",)


def test_steps_are_done_or_not() -> None:
    sheet = made(toadstool(), StepDone(1))
    assert [step.done for step in sheet.steps] == [False, True]
    assert "2. Sew it on. (done)" in as_text(sheet)


def test_ten_thousand_copies_are_told_by_those_that_are_begun() -> None:
    sheet = made(pattern(cap(make=10_000)), RoundDone(), RoundDone(), RoundDone())
    assert sheet.pieces[0].made == ("copy 1: made", "the other 9,999: not begun")


def test_a_history_that_does_not_lead_to_the_place_tells_no_counts_by_round() -> None:
    """The pattern changed since: the place was carried over, and what the old events were about is not certain."""
    sheet = made(CAP, RoundDone(), (1.0, RoundDone()), Counted(12, 1), changed=("- Rnd 2", "+ Rnd 2"))
    assert told(sheet) == {"Rnd 3:": ("not made yet, from here on",)}
    assert sheet.made[-2:] == ("- Rnd 2", "+ Rnd 2")
