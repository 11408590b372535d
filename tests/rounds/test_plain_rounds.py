"""A plain round that comes out is decided at once: it comes to what it comes to when every reading is weighed."""

from __future__ import annotations

from collections.abc import Iterable
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.plain_texts import plain_lines

from tracker.diagnostics import Span
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Line, Stated
from tracker.notation.reader import read_line
from tracker.rounds import checks
from tracker.rounds.bases import Base, left_by
from tracker.rounds.checks import Weighed, weigh
from tracker.rounds.plan import Node, Run

BELOW = [
    *("(2 sc, inc) x 6", "3 sc, 6 hdc, 9 dc", "(dc, ch 2) x 9", "(sc, dec) x 6", "18 sc", "ch 3, sk 3, 15 sc"),
    *("*2 dc in next st, sk 1; rep from * around", "(dc, ch 1, dc) in each st around", "sl st in each st around"),
]
"""Rounds of several sorts, some with spaces, groups, or several kinds of stitches."""


def by_weighing(line: Line, base: Base | None, stated: Stated | None, plainly: bool) -> Weighed:
    with patch.object(checks, "plain_plan", return_value=None):
        return weigh(line, base, stated, plainly=plainly)


@st.composite
def bases(draw: st.DrawFn, line: Line) -> Base:
    """What lies below: often just as many stitches as the line uses."""
    needed = by_weighing(line, None, None, False).uses
    stitches = draw(st.sampled_from([needed or 18, needed or 12, draw(st.integers(1, 40))]))
    below = weigh(read_line(draw(st.sampled_from(BELOW))), Base(draw(st.sampled_from([6, 9, 12, 18, 24]))))
    if below.plan is None or draw(st.booleans()):
        return Base(stitches, draw(st.sampled_from([None, 0, 6])))
    left = left_by(below.plan)
    return left if draw(st.booleans()) else replace(left, stitches=stitches)


@st.composite
def totals(draw: st.DrawFn, line: Line, base: Base) -> Stated | None:
    """What is stated: nothing, often what the line makes, or something besides."""
    made = by_weighing(replace(line, stated=()), base, None, False).leaves or 6
    told = draw(
        st.sampled_from(
            [
                {"groups": (("inc", 3),)},
                {"kinds": (("sc", 1), ("dc", made - 1))},
                {"spaces": 6},
                {"chains": 3},
                {"without_slips": True},
            ]
        )
    )
    return draw(
        st.sampled_from([None, Stated(made), Stated(draw(st.integers(1, 40))), Stated(made, **told), Stated(**told)])
    )


NOT_PLAIN = [
    *(
        "(sc, inc), repeat 5 times",
        "(2 sc, inc), repeat 5 more times",
        "*sc, inc; rep from * 5 times",
        "sc, inc, rep 5 times",
    ),
    *("sc in next 3 dc, 15 sc", "sc in each dc around", "9 sc, sc in next dc", "inc 6 evenly", "3 sc, inc around"),
    *("sc in same st, 17 sc", "2 dc in next sp, 16 sc", "ch 1, 18 sc", "18 sc, turn", "(sc, ch 1) x 18", "18 sl st"),
    *(
        "sc in each st to last 2 sts, inc x 2",
        "sc around, leave 2 sts",
        "*sc, inc* around",
        "(sc, inc) around",
        "18 scc",
    ),
]
"""Lines of which something more is to be known before they come to a number."""


@settings(max_examples=400)
@given(st.data(), st.one_of(plain_lines(), plain_lines(), st.sampled_from(NOT_PLAIN)), st.booleans())
def test_a_round_comes_to_what_weighing_makes_of_it(data: st.DataObject, text: str, plainly: bool) -> None:
    line = read_line(text)
    if data.draw(st.sampled_from([True, True, False])):
        line = replace(line, stated=())
    base = data.draw(bases(line))
    stated = data.draw(totals(line, base))
    weighed, expected = weigh(line, base, stated, plainly=plainly), by_weighing(line, base, stated, plainly)
    assert weighed == expected
    if weighed.plan is not None and expected.plan is not None:
        assert list(spans(weighed.plan.body)) == list(spans(expected.plan.body))
        assert left_by(weighed.plan) == left_by(expected.plan)


def spans(nodes: Iterable[Node]) -> Iterable[Span]:
    """Where each of them stands in the text, which is no part of its value."""
    for node in nodes:
        yield node.span
        if not isinstance(node, Run):
            yield from spans(node.body)


@pytest.mark.parametrize(
    ("text", "before", "leaves"),
    [
        ("Rnd 4: 2 sc, inc, (sc, dec) x 3, sc in each st around (18)", 20, 18),
        ("Rnd 3: (2 sc, inc) x 6 (24)", 18, 24),
        ("Rnd 3: (2 sc, inc) x 6", 18, 24),
        ("Rnd 9: sc in each st around", 24, 24),
        ("57 sc, inc, 12 sc, dec, 20 sc (92)", 92, 92),
    ],
)
def test_plain_rounds_that_come_out_are_not_weighed(text: str, before: int, leaves: int) -> None:
    with patch.object(checks, "decide", side_effect=AssertionError("weighed")):
        assert weigh(read_line(text), Base(before)).leaves == leaves


@pytest.mark.parametrize(
    ("text", "base", "stated"),
    [
        ("(2 sc, inc) x 6 (25)", Base(18), None),
        ("(2 sc, inc) x 6", Base(17), None),
        ("3 sc (6)", Base(2), None),
        ("inc in each st", Base(0), None),
        ("18 sc", Base(18, bridges=((6, 1),)), None),
        ("(sc, inc), repeat 5 times", Base(10), None),
        ("(sc, inc), repeat 5 times", Base(12), None),
        ("sc in next 3 dc, 15 sc", Base(18), None),
        ("17 sc, sc in same st", Base(18), None),
        ("(2 sc, inc) x 6", Base(18), Stated(24, groups=(("inc", 3),))),
        ("(2 sc, inc) x 6", Base(18), Stated(24, kinds=(("sc", 24),))),
        ("(2 sc, inc) x 6", Base(18), Stated(24, chains=6)),
        ("(2 sc, inc) x 6", Base(18), Stated(24, spaces=6)),
        ("(2 sc, inc) x 6", Base(18), Stated(24, without_slips=True)),
        ("(2 sc, inc) x 6", None, Stated(24)),
    ],
)
def test_all_else_is_weighed(text: str, base: Base | None, stated: Stated | None) -> None:
    with patch.object(checks, "decide", side_effect=InterruptedError), pytest.raises(InterruptedError):
        weigh(read_line(text), base, stated)
