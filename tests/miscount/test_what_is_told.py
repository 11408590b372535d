"""What a maker is told of a count that differs, in many rounds: the sentence, the choices, the places to look at.

It lies as text in `what_is_told.txt`, to be read over by somebody who crochets. After a change that is meant,
`SNAPSHOTS=write .venv/bin/python -m pytest tests/miscount/test_what_is_told.py` writes it anew: look at each line
that differs.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.text_blocks import blocks_of, write_blocks

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.session.events import Counted, Event, PartCounted, RepeatDone, RoundDone, Stitch
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.diagnosis import diagnose
from tracker.session.reducer import advance, begin

TOLD = Path(__file__).with_name("what_is_told.txt")

PIECES = {
    "ball": (
        "spiral",
        """Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnds 5-6: sc around (24)
Rnd 7: (2 sc, dec) x 6 (18)
Rnd 8: (1 sc, dec) x 6 (12)""",
    ),
    "basket": (
        "joined",
        """Rnd 1: 12 hdc in magic ring, join (12)
Rnd 2: ch 1, 2 hdc in each st around, join (24)
Rnd 3: ch 1, (hdc in next st, 2 hdc in next st) x 12, join (36)
Rnd 4: ch 1, 10 hdc, 2 hdc in next st, 14 hdc, 2 hdc in next st, 10 hdc, join (38)
Rnd 5: ch 1, hdc in each st around, join, fasten off (38)""",
    ),
    "flap": (
        "rows",
        """Row 1: ch 22, dc in 4th ch from hook (skipped chs count as dc) and in each ch across, turn (20)
Row 2: ch 3 (counts as dc), sk first st, dc in next 19 sts, turn (20)
Row 3: ch 3 (counts as dc), sk first st, dc2tog, dc in next 15 sts, dc2tog, turn (18)
Row 4: ch 1, sc in each st across, turn (18)""",
    ),
    "doily": (
        "spiral",
        """Rnd 1: 8 sc in magic ring (8)
Rnd 2: inc in each st around (16)
Rnd 3: [(1 sc, inc) x 2, 4 sc] x 2 (20)
Rnd 4: (3 sc, 3 sc in next st, sc) x 4 (28)
Rnd 5: (5 sc, dec) x 2, (5 sc, dec) x 2 (24)
Rnd 6: sc around (24)
Rnd 7: sc around (24)""",
    ),
    "leaf": (
        "spiral",
        """Rnd 1: 6 sc in magic ring (6)
Rnd 2: (1 sc, inc) x 3 (9)
Rnd 3: (2 sc, inc) x 3 (12)
Rnd 4: (3 sc, inc) x 3 (15)
Rnd 5: sc around (15)""",
    ),
    "hat": (
        "joined",
        """Rnd 1: 60 sc in magic ring, join (60)
Rnd 2: ch 1, sc in each st around, join (60)
Rnd 3: ch 1, (9 sc, inc) x 6, join (66)""",
    ),
}

ASKED: list[tuple[str, int, tuple[int, ...], int, tuple[int, ...]]] = [
    *[("ball", 4, (), 0, (counted,)) for counted in (14, 18, 19, 22, 23, 25, 26, 30, 34)],
    ("ball", 4, (3,), 0, (23, 23)),
    ("ball", 4, (3, 2), 0, (25, 25)),
    ("ball", 6, (4, 5), 0, (22, 22)),
    ("ball", 6, (1,), 0, (23, 23)),
    ("ball", 7, (6,), 0, (19, 19)),
    ("ball", 8, (7,), 0, (11, 11)),
    ("ball", 8, (), 0, (13,)),
    ("ball", 3, (3,), 9, (7,)),
    ("ball", 3, (3,), 9, (11, 11)),
    ("ball", 6, (6,), 10, (9, 9)),
    ("basket", 3, (2,), 0, (35, 35)),
    ("basket", 3, (2,), 0, (24,)),
    ("basket", 3, (2,), 0, (48, 48)),
    ("basket", 4, (3,), 0, (37, 37)),
    ("basket", 4, (3,), 0, (39, 39)),
    ("basket", 5, (4,), 0, (36, 36)),
    ("basket", 5, (), 0, (37, 37)),
    ("basket", 4, (3, 4), 20, (18, 18)),
    ("flap", 2, (1,), 0, (19, 19)),
    ("flap", 2, (1,), 0, (21, 21)),
    ("flap", 3, (2,), 0, (19, 19)),
    ("flap", 4, (3,), 0, (17, 17)),
    ("flap", 4, (), 0, (16,)),
    ("flap", 2, (2,), 9, (8,)),
    ("doily", 3, (2,), 0, (19, 19)),
    ("doily", 3, (2,), 0, (21,)),
    ("doily", 4, (3,), 0, (26, 26)),
    ("doily", 4, (3,), 0, (27, 27)),
    ("doily", 5, (4,), 0, (25, 25)),
    ("doily", 5, (4,), 0, (26, 26)),
    ("doily", 7, (4,), 0, (22, 22)),
    ("hat", 2, (1,), 0, (58, 58)),
    ("hat", 2, (1,), 0, (50,)),
    ("hat", 3, (2,), 0, (65, 65)),
    ("hat", 3, (2,), 0, (72, 72)),
    ("leaf", 3, (), 0, (6,)),
    ("leaf", 4, (3,), 0, (9, 9)),
    ("leaf", 5, (), 0, (17, 17)),
]
"""The piece, rounds made, those of them that were counted right, stitches after them, and what is counted there."""

PARTS: list[tuple[str, int, tuple[int, ...]]] = [
    ("ball", 4, (4, 4, 3, 4, 4, 4)),
    ("ball", 4, (3, 3, 3, 3, 3, 3)),
    ("ball", 4, (3, 4, 4, 4, 3, 4)),
    ("ball", 6, (6, 6, 6, 5)),
    ("ball", 6, (6, 7, 6, 6)),
    ("basket", 4, (9, 10, 9, 9)),
    ("flap", 4, (4, 5, 4, 4)),
    ("hat", 3, (11, 11, 10, 11, 11, 11)),
    ("ball", 4, (4, 4, 9, 4, 4, 4)),
    ("ball", 4, (4, 4, 0, 4, 4, 4)),
    ("ball", -6, (6, 6, 6, 5)),
    ("ball", -6, (6, 5, 6, 6)),
    ("ball", -6, (6, 5, 6, 5)),
    ("leaf", 4, (4, 4, 4)),
    ("leaf", 4, (3, 3, 6)),
    ("leaf", 4, (5, 4, 4)),
    ("leaf", -4, (5, 5, 4)),
]
"""The piece, rounds made, and what is counted over each part; with a minus none of the rounds before was counted."""


TAPPED: list[tuple[str, int, tuple[float, ...], tuple[int, ...]]] = [
    ("ball", 3, (8, 8.3, 7.9, 5.6, 8.1, 8.2), (23,)),
    ("ball", 3, (8, 8.3, 7.9, 5.6, 8.1, 8.2), (23, 23)),
    ("ball", 3, (8, 8.3, 7.9, 10.9, 8.1, 8.2), (25, 25)),
    ("ball", 3, (8, 0.3, 7.9, 8.2), (12,)),
    ("ball", 3, (8, 16.2, 8.1), (16,)),
    ("ball", 3, (8, 8.3, 1.2), (9,)),
    ("ball", 3, (8, 300, 8, 8.1, 7.9, 8.2), (22, 22)),
    ("ball", 6, (9, 9.2, 9.1, 9, 11.5, 9), (19, 19)),
    ("ball", 6, (9, 9.2, 9.1), (8,)),
    ("basket", 2, (4, 4, 4, 2, 4, 4, 4, 4, 4, 4, 4, 4), (35, 35)),
    ("doily", 3, (9, 9.1, 6.2, 9), (26, 26)),
    ("doily", 3, (9, 9.1, 6.2, 9), (27,)),
    ("hat", 2, (22, 21, 23), (32,)),
    ("hat", 2, (22, 21, 40), (43,)),
]
"""The piece, rounds made and counted right, the seconds of each repeat of the next, and what is counted there."""


def pattern_of(name: str) -> Pattern:
    start, rounds = PIECES[name]
    return loads(f'title = "Trial"\n[[piece]]\nname = "Piece"\nstart = "{start}"\nrounds = """\n{rounds}\n"""\n')


def made(pattern: Pattern, rounds: int, right: tuple[int, ...], stitches: int) -> list[Event]:
    """So many rounds, some of them counted, and stitches of the next."""
    events: list[Event] = []
    for index in range(rounds):
        events.append(RoundDone())
        if index + 1 in right:
            events.append(Counted(pattern.pieces[0].rounds[index].leaves or 0, index))
    return [*events, *[Stitch()] * stitches]


def told(pattern: Pattern, events: list[Event], seconds: tuple[float, ...]) -> Iterator[str]:
    """What is told after these: one every four seconds, so that none is remarkable, and the last ones with these."""
    state, log, clock = begin(pattern), list[tuple[float, Event]](), 0.0
    gaps = [*[4.0] * (len(events) - len(seconds)), *seconds]
    for event, gap in zip(events, gaps, strict=True):
        clock += gap
        log.append((clock, event))
        state = advance(pattern, state, event, log[-1][0])
    found = diagnose(pattern, state, reversed(log), Learned())
    assert found is not None
    yield f"  {found.sentence}"
    for offer in found.offers:
        yield f"    - {offer.words}{f' [{offer.whole}]' if offer.whole else ''}"
    for suspect in found.suspects[:4]:
        alike = f" (of {suspect.alike})" if suspect.alike > 1 else ""
        yield f"    ? {suspect.probability:.2%} {suspect.words}{alike}"
    if found.stuck:
        yield f"    would not work out: {', '.join(found.stuck)}"


def scenes() -> Iterator[tuple[str, str, list[Event], tuple[float, ...]]]:
    """Each scene in words, its piece, what happens in it, and after how many seconds each of the last of that."""
    for name, rounds, right, stitches, counts in ASKED:
        index = rounds if stitches else rounds - 1
        events = [*made(PATTERNS[name], rounds, right, stitches), *[Counted(count, index) for count in counts]]
        where = f"{stitches} stitches after round {rounds}" if stitches else f"round {rounds}"
        were_right = f" (right: {', '.join(map(str, right))})" if right else ""
        yield f"{name}, {where}{were_right}, counted {', then '.join(map(str, counts))}", name, events, ()
    for name, rounds, seconds, counts in TAPPED:
        before = made(PATTERNS[name], rounds, tuple(range(1, rounds + 1)), 0)
        taps: list[Event] = [RepeatDone()] * len(seconds)
        events = [*before, *taps, *[Counted(count, rounds) for count in counts]]
        title = f"{name}, repeats after round {rounds} in {', '.join(map(str, seconds))} seconds"
        yield f"{title}, counted {', then '.join(map(str, counts))}", name, events, (*seconds, *[4.0] * len(counts))
    for name, rounds, parts in PARTS:
        right, rounds, none = (rounds - 1,), abs(rounds), " (none right)" if rounds < 0 else ""
        counted = [PartCounted(number, rounds - 1) for number in parts]
        events = [*made(PATTERNS[name], rounds, right, 0), *counted]
        yield f"{name}, round {rounds}{none}, by parts {', '.join(map(str, parts))}", name, events, ()


PATTERNS = {name: pattern_of(name) for name in PIECES}
SCENES = {title: (PATTERNS[name], events, seconds) for title, name, events, seconds in scenes()}


@pytest.mark.parametrize("title", SCENES)
def test_what_is_told_of_a_count(title: str) -> None:
    lines = list(told(*SCENES[title]))
    kept = blocks_of(TOLD)
    if os.environ.get("SNAPSHOTS") == "write":
        kept[title] = lines
        write_blocks(TOLD, {each: kept[each] for each in SCENES if each in kept})
    assert lines == kept[title]


def test_nothing_is_kept_that_is_not_asked() -> None:
    assert list(blocks_of(TOLD)) == list(SCENES)
