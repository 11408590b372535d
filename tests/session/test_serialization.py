"""Events and states written down as JSON and read back."""

from __future__ import annotations

import json

import pytest
from support.building import toadstool

from tracker.session import events
from tracker.session.events import Counted, Note, PieceChosen, RoundDone, Stitch
from tracker.session.reducer import advance, begin
from tracker.session.serialization import DID, Unreadable, event_in, event_out, state_in, state_out
from tracker.session.state import REMEMBERED

EXAMPLES = [
    (events.Stitch(3), {"did": "stitch", "count": 3}),
    (events.RepeatDone(), {"did": "repeat"}),
    (events.BegunAnew(), {"did": "anew"}),
    (events.NoteTicked(2), {"did": "ticked", "note": 2}),
    (events.MovesDone(4), {"did": "moves", "moves": 4}),
    (events.RoundDone(), {"did": "round"}),
    (events.Undo(), {"did": "undo"}),
    (events.Frog(2, 5), {"did": "frog", "round_index": 2, "stitch": 5}),
    (events.Counted(18, 2), {"did": "counted", "stitches": 18, "round_index": 2}),
    (events.CarryOn(), {"did": "carry on", "fitted": True}),
    (events.Note('tight "here" \u2028é'), {"did": "remark", "text": 'tight "here" \u2028é'}),
    (events.AudienceChosen("older child"), {"did": "audience", "audience": "older child"}),
    (events.BallWeighed("R", 43.5), {"did": "weighed", "yarn": "R", "grams": 43.5}),
    (events.StepDone(1, False), {"did": "step", "step": 1, "done": False}),
    (events.PieceChosen(1, 2), {"did": "piece", "piece": 1, "copy": 2}),
    (events.AskChosen("every", 3), {"did": "ask", "when": "every", "every": 3}),
    (
        events.RoundRewritten(3, "Rnd 4: (1 sc, inc) x 6 (18)", 12),
        {"did": "rewritten", "round_index": 3, "text": "Rnd 4: (1 sc, inc) x 6 (18)", "before": 12},
    ),
    (events.PartCounted(6, 2), {"did": "part counted", "stitches": 6, "round_index": 2}),
    (events.CauseSupposed("drift"), {"did": "supposed", "cause": "drift"}),
    (events.CauseConfirmed("missed increase"), {"did": "cause", "cause": "missed increase"}),
    (
        events.RoundCorrected(0, 2, "Rnd 3: (1 sc, inc) x 6 (18)"),
        {"did": "corrected", "piece": 0, "round_index": 2, "text": "Rnd 3: (1 sc, inc) x 6 (18)"},
    ),
    (events.RoundLeaves(1, 4, 24), {"did": "leaves", "piece": 1, "round_index": 4, "stitches": 24}),
    (
        events.Together((events.Frog(2, 5), events.CauseConfirmed("place"))),
        {
            "did": "together",
            "parts": [{"did": "frog", "round_index": 2, "stitch": 5}, {"did": "cause", "cause": "place"}],
        },
    ),
    (events.Opened("abc"), {"did": "opened", "digest": "abc"}),
    (events.Closed(), {"did": "closed"}),
]


@pytest.mark.parametrize(
    ("text", "event"),
    [
        ("tight here", events.Note("tight here")),
        ("this is for a child under 3", events.AudienceChosen("under 3")),
        ("this is for an older child", events.AudienceChosen("older child")),
        ("this is for a grown-up", events.AudienceChosen("grown-up")),
        ("this is for an older child, I think", events.Note("this is for an older child, I think")),
        ("the ball of R weighs 43 g", events.BallWeighed("R", 43.0)),
        ("the ball weighs 43.5 g", events.BallWeighed("", 43.5)),
        ("the ball of R weighs 1e+04 g", events.Note("the ball of R weighs 1e+04 g")),
        ("the ball of R weighs 0 g", events.Note("the ball of R weighs 0 g")),
        ("the ball of R weighs 90000 g", events.Note("the ball of R weighs 90000 g")),
    ],
)
def test_a_note_of_an_old_journal_is_what_it_tells_and_one_of_today_is_a_note(text: str, event: events.Event) -> None:
    assert event_in({"did": "note", "text": text}) == event
    assert event_in({"did": "remark", "text": text}) == events.Note(text)


def test_every_kind_of_event_has_an_example() -> None:
    every = {*events.Part.__args__, events.Together, events.Undo, events.Opened, events.Closed}
    assert {type(event) for event, _ in EXAMPLES} == set(DID.values()) == every


@pytest.mark.parametrize(("event", "plain"), EXAMPLES, ids=[str(plain["did"]) for _, plain in EXAMPLES])
def test_an_event_is_written_so_and_read_back(event: events.Event, plain: dict[str, object]) -> None:
    """These forms are in journals that exist: a change needs a migration."""
    assert event_out(event) == plain
    assert event_in(json.loads(json.dumps(plain))) == event


@pytest.mark.parametrize(
    "plain",
    [
        None,
        [],
        "stitch",
        {},
        {"did": "dance"},
        {"did": "stitch"},
        {"did": "note"},
        {"did": "note", "text": 7},
        {"did": "weighed", "yarn": "R", "grams": "43"},
        {"did": "weighed", "yarn": "R", "grams": True},
        {"did": "weighed", "yarn": "R", "grams": float("nan")},
        {"did": "weighed", "yarn": "R", "grams": float("inf")},
        {"did": "stitch", "count": 2**70},
        {"did": "stitch", "count": "3"},
        {"did": "stitch", "count": 3.0},
        {"did": "stitch", "count": True},
        {"did": "stitch", "count": 3, "more": 1},
        {"did": ["stitch"]},
        {"did": "together"},
        {"did": "together", "parts": {}},
        {"did": "together", "parts": [{"did": "undo"}]},
        {"did": "together", "parts": [{"did": "together", "parts": []}]},
        {"did": "together", "parts": [], "count": 1},
        {"did": "rewritten", "round_index": 3, "text": 7, "before": 12},
    ],
)
def test_anything_else_is_no_event(plain: object) -> None:
    with pytest.raises(Unreadable):
        event_in(plain)


def test_a_state_is_read_back_with_all_that_can_be_taken_back() -> None:
    pattern = toadstool()
    state = begin(pattern)
    script = [
        RoundDone(),
        Counted(7, 0),
        Note("a"),
        Stitch(3),
        events.CarryOn(),
        events.RoundRewritten(2, "Rnd 3: (2 sc, inc) x 4 (16)", 12),
        events.CauseConfirmed("miscount"),
        PieceChosen(1, 2),
        Stitch(2),
        Note("b"),
    ]
    for number, event in enumerate([*script, events.StepDone(0), events.AskChosen("each"), events.Undo()]):
        state = advance(pattern, state, event, float(number))
        assert state_in(json.loads(json.dumps(state_out(state)))) == state


def test_a_state_of_a_version_without_changed_rounds_is_read() -> None:
    state = advance(toadstool(), begin(toadstool()), RoundDone(), 1.0)
    plain = state_out(state)
    for added in ("own_rounds", "causes"):
        del plain["work"][added]
    assert state_in(plain) == state


def test_what_old_versions_kept_as_notes_is_read_as_what_it_tells_and_only_of_them() -> None:
    state = advance(toadstool(), begin(toadstool()), Note("the ball of R weighs 42.5 g"), 1.0)
    plain = state_out(state)
    assert state_in(plain).work == state.work
    del plain["work"]["weights"]
    old = state_in(plain).work
    assert (old.notes, [(each.yarn, each.grams) for each in old.weights]) == ((), [("R", 42.5)])


def test_a_thousand_remembered_moments_are_written_short() -> None:
    """Notes pile up and are still written once each: a thousand of them take well under 200 kB."""
    pattern = toadstool()
    state = begin(pattern)
    for number in range(REMEMBERED + 10):
        state = advance(pattern, state, Note(f"note {number}"), 0.0)
    written = json.dumps(state_out(state))
    assert state_in(json.loads(written)) == state
    assert len(written) < 200_000


@pytest.mark.parametrize("plain", [None, {}, {"at": 0, "work": {}, "past": []}, [1]])
def test_anything_else_is_no_state(plain: object) -> None:
    with pytest.raises(Unreadable):
        state_in(plain)


def test_a_state_with_a_wrong_number_is_refused() -> None:
    plain = state_out(begin(toadstool()))
    plain["work"]["place"] = [0, "1", 0]
    with pytest.raises(Unreadable):
        state_in(plain)
