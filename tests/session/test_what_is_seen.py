"""What a maker is shown at each tap of whole pieces, as text in `what_is_seen.txt`, to be read over like a pattern.

After a change that is meant, `SNAPSHOTS=write .venv/bin/python -m pytest tests/session/test_what_is_seen.py` writes
it anew: look at each line that differs.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.text_blocks import blocks_of, write_blocks

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.session.events import Event, NoteTicked, PieceChosen, RoundRewritten, StepDone
from tracker.session.reducer import advance, begin
from tracker.session.state import State
from tracker.session.view import StepSize, View
from tracker.session.view_builder import look

SEEN = Path(__file__).with_name("what_is_seen.txt")

BUOY = """
title = "Buoy"
[yarn.R]
name = "red"
[yarn.W]
name = "white"
[yarn.G]
name = "grey"
[[piece]]
name = "Float"
make = 2
start = "spiral"
notes = ["Keep it tight.", "After Rnd 4 stuff it firmly, do not close it yet.", "In round 3 carry the white inside."]
rounds = '''
Rnd 1 (R): 4 sc in magic ring (4)
Rnd 2: inc x 4 (8)
Rnd 3: *(R) 2 sc, (W) 2 sc; rep from * around (8)
Rnd 4: (R) (2 sc, dec) x 2 (6)
Rnd 5 (W): sc around, fasten off (6)
Rnd 6 (G): join grey in any st, sc around (6)
Sew it to the rope.
'''
[[making-up]]
step = "Sew the floats together."
[[making-up]]
step = "Weave in the ends."
"""

FLAG = """
title = "Flag"
terms = "UK"
notes = ["Cut the old yarn each time and join the new colour."]
[yarn.A]
name = "sand"
[yarn.B]
name = "blue"
[[piece]]
name = "Flag"
start = "rows"
rounds = '''
Row 1 (A): 10 ch, 1 dc in 2nd ch from hook, 1 dc in each ch to end, turn (9)
Row 2: 3 ch (counts as 1 tr), miss first st, 1 tr in each st to end, turn (9)
Row 3 (B): 1 ch, 1 dc in first st, (1 ch, miss 1 st, 1 dc in next st) x 4, turn (5 dc, 4 ch-1 sps)
Row 4: work an edging of your own
Row 5 (A): 1 ch, 9 dc, fasten off (9)
'''
"""

DISC = """
title = "Disc"
[yarn.A]
name = "ecru"
[yarn.B]
name = "moss"
[[piece]]
name = "Disc"
start = "joined"
notes = ["Before Rnd 3 attach the ring, sew it on well."]
rounds = '''
Rnd 1 (A): ch 2, 8 hdc in ring, join (8)
Rnd 2: ch 1, (1 hdc, 2 hdc in next st) x 4, join (12)
Rnd 3 (B): ch 1, (hdc, ch 2, sk 1, shell) x 2, 5 hdc, 3 hdc, join
Rnd 4: [(1 sc, inc) x 2, 2 sc] x 2, 2 sc in BLO, sl st to first st, (A) join, fasten off
'''
"""

NET = """
title = "Net"
[yarn.A]
name = "ecru"
[yarn.B]
name = "moss"
[[piece]]
name = "Net"
start = "spiral"
rounds = '''
Rnd 1 (A): 8 sc in magic ring (8)
Rnd 2: (1 sc, ch 2, sk 1, ch 1) x 4
Rnd 3 (B): 1 sc, 2 hdc, 1 sc
'''
"""


def told(view: View) -> Iterator[str]:
    """What stands out at one moment."""
    left = f"of {view.expected}, {view.stitches_left} left" if view.expected is not None else ""
    repeat = f", time {view.repeat} of {view.repeats}" if view.repeat else ""
    yield f"{view.round_label} {view.stitch} {left}{repeat} [{view.letters}] {view.now}"
    shares = f"{view.moves_done}/{view.moves} {view.piece_share:.0%} {view.whole_share:.0%}"
    lines = view.text.split("\n")
    marked = " | ".join(lines[span.line][span.start : span.end] for span in (view.tap.spans if view.tap else ()))
    yield f"    {shares} {type(view.tap.event).__name__ if view.tap else '-'} <{marked}> {view.colour} {view.step}"
    for name in ("just_made", "side", "doubt", "remark", "count_of"):
        if (value := getattr(view, name)) and (name != "count_of" or view.asks_count):
            yield f"    {name}: {value}"
    if view.next_colour is not None:
        change = view.next_colour
        signs = f"{' in chain' if change.in_chain else ''}{' cut first' if change.cut_first else ''}"
        yield f"    next {change.name} in {change.in_stitches}{signs}"
    if view.colour_event is not None:
        yield f"    ! {view.colour_event.key}: {view.colour_event.words}"
    if view.stop is not None:
        yield f"    stop: {view.stop.text}"
    if view.moves_marker:
        yield "    the marker is moved up"
    if view.changed:
        yield f"    changed from {view.pattern_text}"
    if view.all_made:
        yield f"    all made, finished: {view.finished}, {view.making_up}"


def tapped(pattern: Pattern, size: StepSize, state: State, most: int) -> Iterator[str]:
    """Tap after tap, notes ticked as they come; all of it for what is usual, else what is in large letters."""
    remark = ""
    for at in range(most):
        view = look(pattern, state, size=size)
        if size in (StepSize.REPEAT, StepSize.ROUND):
            yield from (line for line in told(view) if line != remark)
        else:
            marked = view.tap.spans if view.tap else ()
            yield f"{view.round_label} {view.stitch} [{view.letters}] {[(m.start, m.end) for m in marked]}"
        remark = f"    remark: {view.remark}"
        event: Event | None = view.tap.event if view.tap else None
        if view.stop is not None:
            event = NoteTicked(view.stop.number)
        if event is None:
            return
        state = advance(pattern, state, event, at * 5.0)


BY_TITLE = {pattern.title: pattern for pattern in map(loads, (BUOY, FLAG, DISC, NET))}
OTHERWISE = "The second float first, a round of it worked otherwise, a step of making up before all is made"


def seen(title: str) -> list[str]:
    """All that is shown in one scene."""
    if title == OTHERWISE:
        buoy = BY_TITLE["Buoy"]
        state = begin(buoy)
        for event in (PieceChosen(0, 2), RoundRewritten(1, "Rnd 2: 3 inc, sc (7)", 4), StepDone(1)):
            state = advance(buoy, state, event, 1.0)
        return list(tapped(buoy, StepSize.ROUND, state, 4))
    name, _, size = title.partition(" by ")
    most = 24 if name == "Buoy" else 99
    return list(tapped(BY_TITLE[name], StepSize(size), begin(BY_TITLE[name]), most))


SCENES = (*(f"{name} by {size.value}" for name in BY_TITLE for size in StepSize), OTHERWISE)


@pytest.mark.parametrize("title", SCENES)
def test_what_is_shown_at_each_tap(title: str) -> None:
    lines = [line.rstrip() for line in seen(title)]
    kept = blocks_of(SEEN)
    if os.environ.get("SNAPSHOTS") == "write":
        kept[title] = lines
        write_blocks(SEEN, {each: kept[each] for each in SCENES if each in kept})
    assert lines == kept[title]
