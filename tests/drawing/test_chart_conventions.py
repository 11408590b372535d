"""What a chart says by how it is drawn: which side it shows, and what its stitches go into."""

from __future__ import annotations

from math import cos, sin
from pathlib import Path

import pytest
from drawing import by_hand as made

from tracker.drawing.chart import chart_of_piece, chart_of_round
from tracker.drawing.chart_model import Chart, Layout, Mark, Middle
from tracker.drawing.chart_svg import chart_svg
from tracker.drawing.chart_text import chart_text
from tracker.drawing.legend import RIGHT_SIDE, Glyphs, key
from tracker.drawing.strokes import Ellipse, Polyline, strokes_of
from tracker.notation.ast import Into, Loop, Role
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Pattern, Piece, Start
from tracker.rounds.plan import Act, Made, Run

SWAPPED = [
    (Loop.FRONT_POST, Loop.BACK_POST),
    (Loop.BACK_POST, Loop.FRONT_POST),
    (Loop.FRONT, Loop.BACK),
    (Loop.BACK, Loop.FRONT),
]


def cloth(loop: Loop) -> Piece:
    """Three rows, the second on the wrong side; the last two worked into this loop or post."""
    ribbed = made.plan(Run(made.stitch("dc", loop=loop), 6), made.TURN)
    return made.piece(
        made.plan(made.chain(7), Run(made.stitch("sc"), 6), made.TURN), ribbed, ribbed, start=Start.ROWS
    )


def hook(mark: Mark) -> list[tuple[float, float]]:
    """The curved line at the foot, seen from the foot."""
    (curve,) = (stroke for stroke in strokes_of(mark) if isinstance(stroke, Polyline) and stroke.curved)
    return [(round(p.x - mark.feet[0].x, 6), round(p.y - mark.feet[0].y, 6)) for p in curve.points]


@pytest.mark.parametrize(("worked", "shown"), SWAPPED)
def test_a_chart_shows_the_right_side(worked: Loop, shown: Loop) -> None:
    """JIS L 0201-1995 (as told by two pages on it): symbols picture the fabric from its right side."""
    _, wrong, right = chart_of_piece(cloth(worked)).rounds
    _, _, as_shown = chart_of_piece(cloth(shown)).rounds
    assert (wrong.backward, right.backward) == (True, False)
    assert hook(wrong.marks[0]) == hook(as_shown.marks[0])
    assert hook(right.marks[0]) != hook(wrong.marks[0])


@pytest.mark.parametrize("worked", [loop for loop, _ in SWAPPED])
def test_the_key_tells_what_is_worked_on_the_wrong_side(worked: Loop) -> None:
    chart = chart_of_piece(cloth(worked))
    meanings = [entry.meaning for entry in key(chart, "US")]
    assert f"dc worked {worked.value} on the wrong side" in meanings
    pattern = made.pattern(cloth(worked))
    assert RIGHT_SIDE.split(":")[0] in chart_svg(chart, pattern, "Cloth")


def test_a_chart_without_loops_says_nothing_of_sides() -> None:
    plain = chart_of_piece(cloth(Loop.BOTH))
    assert RIGHT_SIDE.split(":")[0] not in chart_svg(plain, made.pattern(cloth(Loop.BOTH)), "Cloth")


def test_one_round_alone_is_on_the_same_side_as_in_the_whole_chart() -> None:
    turned = made.plan(Run(made.stitch("dc", loop=Loop.FRONT_POST), 6), made.JOIN, made.TURN)
    piece = made.piece(
        made.plan(Run(made.in_ring("dc"), 6), made.JOIN, made.TURN), turned, turned, turned, start=Start.JOINED
    )
    whole = chart_of_piece(piece)
    for index, each in enumerate(whole.rounds):
        alone = chart_of_round(piece, index).drawn[-1]
        assert alone.backward == each.backward, index
        assert [mark.loop_shown for mark in alone.marks] == [mark.loop_shown for mark in each.marks]


def granny(into: Into) -> Chart:
    """Three dc into one place of each of four: a space of three chains, or one stitch."""
    trio = Act("3 dc", Role.WORK, (Made("dc", 3),), 1, into)
    piece = made.piece(
        made.plan(made.times(4, made.in_ring("dc"), made.chain(3))),
        made.plan(made.times(4, *([trio] if into is Into.SPACE else [trio, made.skip(Into.SPACE)]))),
    )
    return chart_of_piece(piece)


def test_feet_stand_apart_in_a_space_and_together_in_a_stitch() -> None:
    """Read on a published page of symbols: apart, worked into the space under the chain; together, into one."""
    apart, together = (granny(into).rounds[1].marks for into in (Into.SPACE, Into.STITCH))
    for first in range(0, 12, 3):
        feet = [mark.feet[0] for mark in apart[first : first + 3]]
        assert (feet[1] - feet[0]).size >= 0.2
        assert (feet[2] - feet[1]).size == pytest.approx((feet[1] - feet[0]).size)
        turned = (feet[0].x * feet[2].y) - (feet[0].y * feet[2].x)
        assert turned > 0, "in the order in which they are worked, so that no stems cross"
        assert len({(mark.feet[0].x, mark.feet[0].y) for mark in together[first : first + 3]}) == 1


def test_feet_in_a_space_stay_under_its_chain() -> None:
    below, above = granny(Into.SPACE).rounds
    spaces = [mark for mark in below.marks if mark.space]
    for index, mark in enumerate(above.marks):
        ovals = spaces[index // 3].ovals
        span = (ovals[-1].centre - ovals[0].centre).size
        middle = ovals[0].centre.toward(ovals[-1].centre, 0.5)
        along = mark.feet[0] - middle
        across = cos(spaces[index // 3].outward), sin(spaces[index // 3].outward)
        assert abs(along.x * across[1] - along.y * across[0]) <= span / 2


def test_the_key_tells_a_space_from_a_stitch() -> None:
    for into, words, feet in ((Into.SPACE, "3 dc in one space", 3), (Into.STITCH, "3 dc in one place", 1)):
        (entry,) = (entry for entry in key(granny(into), "US") if entry.meaning == words)
        assert len({mark.feet[0].x for mark in entry.sample}) == feet


@pytest.mark.parametrize(("kind", "plain"), [("esc", "sc"), ("ehdc", "hdc"), ("edc", "dc")])
def test_an_extended_stitch_stands_on_a_chain_oval(kind: str, plain: str) -> None:
    """Read on a published page about extended stitches: the symbol of the plain one on a chain."""

    def drawn(name: str) -> Mark:
        return (
            chart_of_piece(made.piece(made.plan(Run(made.in_ring(), 9)), made.plan(Run(made.stitch(name), 9))))
            .rounds[1]
            .marks[0]
        )

    mark = drawn(kind)
    (oval,) = (stroke for stroke in strokes_of(mark) if isinstance(stroke, Ellipse))
    assert not oval.filled
    assert (oval.centre - mark.feet[0]).size == pytest.approx(oval.broad / 2), "its lower edge is the foot"
    assert not [stroke for stroke in strokes_of(drawn(plain)) if isinstance(stroke, Ellipse)]


OVAL = (
    "Rnd 1: sc in 2nd ch from hook, sc in next 5 ch, 3 sc in last ch, working on other side of chain sc in next "
    "5 ch, 2 sc in last ch (16)\nRnd 2: 2 sc in next st, sc in next 5, 2 sc in each of next 3 sts, sc in next 5, "
    "2 sc in each of next 2 sts (21)"
)
FLAT = "Row 1: sc in 2nd ch from hook and in each ch across, turn. (7)\nRow 2: Ch 1, sc in each st across, turn. (7)"


def read(folder: Path, text: str, start: str) -> Pattern:
    path = folder / "piece.toml"
    path.write_text(f'title = "A"\n[[piece]]\nname = "A"\nstart = "{start}"\nrounds = """\n{text}\n"""\n', "utf-8")
    return load(path)


@pytest.mark.parametrize(
    ("text", "start", "shape"),
    [(OVAL, "spiral", Layout.OVAL), (FLAT, "rows", Layout.ROWS)],
    ids=["oval", "rows"],
)
def test_a_chain_on_a_line_of_its_own_is_what_the_first_round_goes_into(
    tmp_path: Path, text: str, start: str, shape: Layout
) -> None:
    pattern = read(tmp_path, f"Ch 8.\n{text}", start)
    (piece,) = pattern.pieces
    chart = chart_of_piece(piece)
    assert chart.shape is shape, "no disc for an oval"
    assert chart.start.middle is Middle.CHAIN
    assert [each.number for each in chart.rounds] == [1, 2]
    assert not chart.rounds[0].backward
    assert {mark.kind for each in chart.rounds for mark in each.marks} <= {"sc", "ch"}
    for index in range(1, len(piece.rounds)):
        alone = chart_of_round(piece, index)
        assert alone.shape is shape
        assert alone.drawn[-1].backward == chart.rounds[index - 1].backward
    assert not chart_of_round(piece, 0).rounds
    for rows in (40, 2):
        shown = [each.text for each in chart_text(chart, pattern, "A", piece.rounds, 80, rows)]
        assert "?" not in "".join(shown)
        assert "o  ch - chain" in " ".join("  ".join(words.split(maxsplit=1)) for words in shown)
        assert not any("magic ring" in words for words in shown)


def test_no_stitch_of_a_text_chart_is_a_question_mark() -> None:
    names = [f"{first}{last}olt" for first in "bcdfghjklm" for last in "aeiou"]
    piece = made.piece(
        made.plan(Run(made.in_ring(), len(names))), made.plan(*(Run(made.stitch(name)) for name in names))
    )
    chart = chart_of_piece(piece)
    shown = chart_text(chart, made.pattern(piece), "A", piece.rounds, 80, 60)
    assert "?" not in "".join(each.text for each in shown)
    glyphs = Glyphs()
    assert len({glyphs.of(0, name) for name in names}) == len(names), "each has a sign of its own"


@pytest.mark.parametrize("bundle", ["bobble", "popcorn", "cluster"])
@pytest.mark.parametrize(
    ("told", "stems", "bars"),
    [("3-dc ", 3, 1), ("4-hdc ", 4, 0), ("5-dc ", 5, 1), ("3-tr ", 3, 2), ("hdc ", None, 0), ("", None, 1)],
)
def test_the_legs_of_a_bundle_have_the_bars_of_their_stitch(
    tmp_path: Path, bundle: str, told: str, stems: int | None, bars: int
) -> None:
    """Read on a published page of symbols: none for hdc, one on each for dc, a small oval on top of a popcorn."""
    text = f"Rnd 1: 6 sc in magic ring (6)\nRnd 2: ({told}{bundle} in next st, sc in next st) 3 times (6)"
    (piece,) = read(tmp_path, text, "spiral").pieces
    mark = chart_of_piece(piece).rounds[1].marks[0]
    assert mark.kind == bundle
    lines = [stroke for stroke in strokes_of(mark) if isinstance(stroke, Polyline)]
    legs = [line for line in lines if line.points[0] == mark.feet[0]]
    across = len(lines) - len(legs) - (bundle != "popcorn")
    assert len(legs) == (stems or {"cluster": 3}.get(bundle, 5))
    assert across == bars * len(legs)
    assert sum(isinstance(stroke, Ellipse) for stroke in strokes_of(mark)) == (bundle == "popcorn")
    words = bundle + (f" of {told.strip().replace('-', ' ')}" if told else "")
    (entry,) = (entry for entry in key(chart_of_piece(piece), "US") if entry.meaning == words)
    assert len(strokes_of(entry.sample[0])) == len(strokes_of(mark)), "the sample is drawn as in the chart"


AROUND = "Rnd 1: 12 dc in ring (12)\nRnd 2: 2 dc in each st (24)"


@pytest.mark.parametrize(
    ("rounds", "middle", "chains"),
    [
        (f"Ch 6, join with sl st to form a ring.\n{AROUND}", Middle.CHAIN_RING, 6),
        (f"Make a chain of 5 and close it into a ring.\n{AROUND}", Middle.CHAIN_RING, 5),
        (f"8 ch, ss to first ch to form a ring.\n{AROUND}", Middle.CHAIN_RING, 8),
        (f"Make a magic ring.\n{AROUND}", Middle.RING, 0),
        ("Rnd 1: ch 4, join to form a ring, 8 sc in ring (8)\nRnd 2: inc x 8 (16)", Middle.CHAIN_RING, 4),
        ("Rnd 1: 8 sc in magic ring (8)\nRnd 2: inc x 8 (16)", Middle.RING, 0),
    ],
)
def test_a_ring_of_chains_is_drawn_as_one_also_where_it_has_a_line_of_its_own(
    rounds: str, middle: Middle, chains: int
) -> None:
    """The chains stand in a circle in the middle, where a magic ring is a sign of its own (common practice)."""
    piece = loads(f'[[piece]]\nname = "A"\nstart = "joined"\nrounds = """\n{rounds}\n"""\n').pieces[0]
    for chart in (chart_of_piece(piece), chart_of_round(piece, 0)):
        assert (chart.start.middle, len(chart.start.ovals)) == (middle, chains)
