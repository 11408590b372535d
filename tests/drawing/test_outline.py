"""Outlines: the shape that the points tell, filled by yarn, in text and as SVG."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections import Counter
from math import pi, sin

import pytest
from drawing import by_hand as made

from tracker.drawing.outline import ACROSS, PieceOutline, Viewpoint, groups, label, outline
from tracker.drawing.outline_svg import outline_svg
from tracker.drawing.outline_text import outline_text
from tracker.drawing.styled_text import PictureLine
from tracker.pattern.model import Piece, Round
from tracker.rounds.plan import Run

SVG = "{http://www.w3.org/2000/svg}"


def rounds(colours: str) -> tuple[Round, ...]:
    """One even round for each letter, in that yarn ("-" for none named)."""
    plan = made.plan(Run(made.stitch(), 24))
    return tuple(
        Round(index + 1, f"Rnd {index + 1}", "", plan, colour=colour.strip("-"))
        for index, colour in enumerate(colours)
    )


def ball(count: int = 12) -> list[tuple[float, float]]:
    """A ball of radius 1: points on a half circle (geometry)."""
    from math import cos

    return [(sin(pi * k / count), 1 - cos(pi * k / count)) for k in range(count + 1)]


def tube(count: int) -> list[tuple[float, float]]:
    return [(1.0, float(k)) for k in range(count + 1)]


def drawing(seen: PieceOutline, columns: int = 80, rows: int = 20) -> list[str]:
    return [line.text for line in body(outline_text(seen, made.pattern(), "Thing", columns, rows))]


def body(lines: tuple[PictureLine, ...]) -> list[PictureLine]:
    end = next(index for index, line in enumerate(lines) if index > 1 and not line.text)
    return list(lines[2:end])


def test_a_ball_is_round() -> None:
    """Each line is as wide as the circle in its upper or its lower half: 2 sqrt(2rh - h^2); a cell is half as wide as
    high. From wherever a ball is seen it is round (geometry)."""
    lines = drawing(outline(rounds("-" * 12), ball()), columns=80, rows=20)
    assert len(lines) == 20
    for row, text in enumerate(lines):
        highs = [2 * (1 - (row + part) / 20) for part in (0.25, 0.75)]
        widths = [2 * (2 * high - high**2) ** 0.5 * 20 for high in highs]
        drawn = len(text.split("  1-12")[0].strip())
        assert min(widths) - 2 <= drawn <= max(widths) + 2, row


def test_what_is_made_has_letters_and_what_is_to_come_has_dots() -> None:
    lines = drawing(outline(rounds("RRRCCC"), tube(6), done=4), rows=12)
    fill = [Counter(line[:8]).most_common(1)[0][0] for line in lines]
    assert "".join(fill) == "····CCRRRRRR"


def test_the_yarns_to_come_are_told_beside() -> None:
    lines = drawing(outline(rounds("RRRCCC"), tube(6), done=1), rows=12)
    assert [line.split("  ")[-1] for line in lines if "  " in line] == ["C 4-6", "R 1-3"]


def test_as_it_stands_and_as_it_will_be_are_the_same_shape() -> None:
    whole = drawing(outline(rounds("RRRCCC"), tube(6)))
    half = drawing(outline(rounds("RRRCCC"), tube(6), done=3))
    assert [len(line) for line in whole] == [len(line) for line in half]


def test_a_flat_piece_is_seen_from_above() -> None:
    seen = outline(rounds("RC"), [(0.0, 0.0), (1.0, 0.0), (2.0, 0.05)])
    assert seen.view is Viewpoint.ABOVE
    lines = drawing(seen, rows=16)
    middle = lines[len(lines) // 2].strip()
    assert middle[0] == middle[-1] == "C"
    assert middle[len(middle) // 2] == "R"


def test_rows_are_seen_from_the_front() -> None:
    seen = outline(rounds("RC"), [(3.0, 0.0), (3.0, 4.0), (3.0, 8.0)], flat=True)
    assert seen.view is Viewpoint.FRONT
    lines = drawing(seen, rows=8)
    assert [set(line.split(" ")[0]) for line in lines] == [{"C"}] * 4 + [{"R"}] * 4


def test_an_oval_is_as_long_as_its_core_makes_it() -> None:
    seen = outline(rounds("RR"), tube(2), core=6.0)
    assert seen.width == 8.0


def test_a_pattern_of_colours_in_a_round_is_seen_on_its_front() -> None:
    """4 of 30 stitches in the middle of the round, opposite its start: 48 degrees of the front, seen head on."""
    door = made.plan(
        Run(made.stitch(colour="W"), 13), Run(made.stitch(colour="N"), 4), Run(made.stitch(colour="W"), 13)
    )
    seen = outline((Round(1, "Rnd 1", "", door, colour="W"),), [(1.0, 0.0), (1.0, 1.0)])
    patches = seen.bands[0].patches
    assert [patch.colour for patch in patches] == ["W", "N", "W"]
    assert patches[1].end - patches[1].start == pytest.approx(48 / 180, abs=1 / ACROSS)
    wide = (seen.across(patches[1].end) - seen.across(patches[1].start)) / 2
    assert wide == pytest.approx(sin(24 * pi / 180), abs=0.03)


def test_places_and_shares_are_inverse() -> None:
    seen = outline(rounds("R"), tube(1))
    for step in range(11):
        assert seen.share(seen.across(step / 10)) == pytest.approx(step / 10)


def test_rounds_of_one_yarn_are_told_together() -> None:
    seen = outline(rounds("RRCCCR"), tube(6))
    letters = {"R": "R", "C": "C"}
    assert [label(group, seen.bands, letters) for group in groups(seen.bands)] == ["R 1-2", "C 3-5", "R 6"]


def test_points_must_fit_the_rounds() -> None:
    with pytest.raises(ValueError, match="3 rounds need 4 points, not 3"):
        outline(rounds("RRR"), tube(2))


def test_an_empty_piece_says_so() -> None:
    seen = outline((), [])
    assert "there is nothing to draw yet" in [line.text for line in outline_text(seen, made.pattern(), "T", 80, 20)]
    ET.fromstring(outline_svg(seen, made.pattern(), "T"))


@pytest.mark.parametrize("done", [None, 0, 3, 6])
def test_the_svg_has_a_band_for_each_round_and_letters_beside(done: int | None) -> None:
    seen = outline(rounds("RRRCCC"), tube(6), done=done)
    root = ET.fromstring(outline_svg(seen, made.pattern(), "<Thing> & [more]\x1b"))
    filled = [path for path in root.iter(f"{SVG}path") if path.get("fill", "none").startswith("#")]
    outlined = [path for path in filled if path.get("stroke")]
    dashed = [path for path in outlined if path.get("stroke-dasharray")]
    made_rounds = 6 if done is None else done
    assert [path in dashed for path in outlined[:6]] == [number >= made_rounds for number in range(6)]
    fills = [path.get("fill") for path in outlined]
    assert fills[:made_rounds] == ["#b23a2e", "#b23a2e", "#b23a2e", "#efe3c8", "#efe3c8", "#efe3c8"][:made_rounds]
    assert len(outlined) > 6, "the inside is seen through the opening"
    words = [text.text for text in root.iter(f"{SVG}text")]
    assert {"R 1-3", "C 4-6", "brick red", "cream", "<Thing> & [more]"} <= set(words)


def test_a_very_long_piece_is_bounded() -> None:
    count = 5000
    seen = outline(rounds("R" * count), tube(count))
    assert seen.left_out == ("only the first 2,000 rounds are drawn",)
    assert len(drawing(seen)) == 20


def test_a_piece_without_yarns_is_filled_all_the_same() -> None:
    lines = drawing(outline(rounds("---"), tube(3)))
    assert set("".join(lines)) <= set("# 1-3")


def test_the_piece_is_not_needed() -> None:
    """Only rounds and points: whoever measures decides what they are."""
    piece = Piece("Thing", rounds("RC"))
    assert outline(piece.rounds, tube(2)).height == 2.0
