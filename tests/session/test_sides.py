"""Which side faces the maker: rows alternate, and only the pattern says which of the two is the right side.

That work turned over shows its other side, and turned over twice the first one again, is geometry; that flat rows
are turned after each row is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.session.events import Event, RoundDone, Stitch
from tracker.session.reducer import advance, begin
from tracker.session.view import View
from tracker.session.view_builder import look, turned_to

OTHER, RIGHT, WRONG = "the other side", "the right side", "the wrong side"


def made_of(*lines: str, start: str = "rows") -> Pattern:
    rounds = "\n".join(lines)
    return loads(f'title = "T"\n[[piece]]\nname = "Band"\nstart = "{start}"\nrounds = """\n{rounds}\n"""\n')


def rows(*ends: str, first: str = "Row 1") -> Pattern:
    """A chain of ten and a row for each end, "turn" or the like."""
    lines = [f"{first}: ch 11, sc in 2nd ch from hook and in each ch across, {ends[0]} (10)"]
    lines += [f"Row {number}: ch 1, sc in each st across, {end} (10)" for number, end in enumerate(ends[1:], 2)]
    return made_of(*lines)


def sides(pattern: Pattern) -> list[str]:
    piece = pattern.pieces[0]
    return [turned_to(piece, index) for index in range(len(piece.rounds))]


@pytest.mark.parametrize(
    ("pattern", "told"),
    [
        pytest.param(rows("turn", "turn", "fasten off"), ["", OTHER, OTHER], id="which one is not known"),
        pytest.param(rows("turn", "turn", "turn", first="Row 1 (RS)"), ["", WRONG, RIGHT], id="said at the start"),
        pytest.param(rows("turn", "turn", "turn", first="Row 1 (WS)"), ["", RIGHT, WRONG], id="from the wrong side"),
        pytest.param(
            rows("turn", "do not turn", "turn", "turn", first="Row 1 (RS)"), ["", WRONG, "", RIGHT], id="not turned"
        ),
        pytest.param(
            rows("turn", "fasten off", "turn", "turn", first="Row 1 (RS)"),
            ["", WRONG, "", OTHER],
            id="new yarn may begin at either end",
        ),
        pytest.param(
            made_of(
                "Row 1: ch 11, sc in 2nd ch from hook and in each ch across, turn (10)",
                "Row 2: ch 1, sc in each st across, turn (10)",
                "Row 3 (RS): ch 1, sc in each st across, turn (10)",
                "Rows 4-5: ch 1, sc in each st across, turn (10)",
            ),
            ["", WRONG, RIGHT, WRONG, RIGHT],
            id="back from a later row, and on",
        ),
        pytest.param(
            made_of("Rnd 1: 6 sc in magic ring, join, turn (6)", "Rnd 2: sc around, join (6)", "Rnd 3: sc around (6)",
                    start="joined"),
            ["", OTHER, ""],
            id="rounds are turned only where they say so",
        ),
        pytest.param(
            made_of("Rows 1-3 (RS): sc 4 in magic ring, turn"), ["", WRONG, RIGHT], id="said of several rows"
        ),
    ],
)  # fmt: skip
def test_what_faces_the_maker_after_a_turn(pattern: Pattern, told: list[str]) -> None:
    assert sides(pattern) == told


def seen(pattern: Pattern, *events: Event) -> View:
    state = begin(pattern)
    for event in events:
        state = advance(pattern, state, event, 0.0)
    return look(pattern, state)


def test_the_turn_tells_what_will_face_the_maker_and_the_row_what_does() -> None:
    pattern = rows("turn", "turn", "turn", first="Row 1 (RS)")
    assert seen(pattern, Stitch(10)).now == "turn: the wrong side faces you then"
    view = seen(pattern, RoundDone())
    assert (view.round_label, view.side) == ("Row 2", "the wrong side")
    assert seen(pattern, RoundDone(), Stitch()).side == ""
    unknown = rows("turn", "turn", "turn")
    assert seen(unknown, Stitch(10)).now == "turn: the other side faces you then"
    assert seen(unknown, RoundDone()).side == "the other side"
