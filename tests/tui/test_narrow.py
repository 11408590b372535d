"""Forty columns by twenty lines: nothing that is said ends in mid-sentence, and no way back is unnamed."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.screens import desk_of, screen, shipped, shown

from tracker.pattern.loader import loads
from tracker.tui.commands import Command
from tracker.tui.controller import Desk, Talk
from tracker.tui.pages.page import BACK, CHOOSE
from tracker.tui.pages.registry import page_for
from tracker.tui.render.instructions import words
from tracker.tui.render.list_view import Leaf, Row, paint_leaf, scrolled, with_rows
from tracker.tui.render.scene import Choice
from tracker.tui.render.status_lines import shares, talk
from tracker.tui.render.styled_text import Look

WIDTH, WORDS = 40, 12
"""The columns, and the lines that the words have beneath the drawing."""


def at(name: str, folder: Path, rounds: int) -> Desk:
    desk = desk_of(shipped(name), folder)
    for _ in range(rounds):
        desk.round()
    return desk


def said(desk: Desk) -> str:
    """The line of talk with the one above it."""
    scene = desk.scene()
    return shown([*shares(scene, WIDTH, 1), *talk(scene, WIDTH, 1)])


def test_a_long_talk_takes_the_line_of_the_shares(tmp_path: Path) -> None:
    desk = at("toadstool", tmp_path, 3)
    assert said(desk).startswith("this piece 7%")
    desk.count("17")
    desk.carry_on()
    assert " ".join(said(desk).split()) == ("the difference is remembered; Rnd 4, Rnd 5, Rnd 7 will not work out")
    assert shown(shares(desk.scene(), 80, 1)).startswith("this piece")


def test_a_talk_too_long_for_two_lines_says_so(tmp_path: Path) -> None:
    desk = at("toadstool", tmp_path, 3)
    desk.talk = Talk("word " * 40)
    assert said(desk).count("word") < 20
    assert said(desk).endswith("…")


KEYS = (*CHOOSE, Choice("y", "size, yarn"), BACK)


@pytest.mark.parametrize("rows", [3, 60])
@pytest.mark.parametrize("width", [40, 80])
def test_a_page_names_all_its_keys(rows: int, width: int) -> None:
    leaf = with_rows(Leaf("pieces", (), KEYS), tuple(Row(f"row {n}", n) for n in range(rows)))
    painted = shown(paint_leaf(leaf, width, 20)).split("\n")
    foot = [row for row in painted[2:] if row and not row.lstrip("▸ ").startswith("row")]
    assert len(painted) == 20
    assert len(foot) == (1 if width == 80 else 2)
    assert all(f"{key.key} {key.words}" in " ".join(foot) for key in KEYS)
    assert ("↓ more" in foot[-1]) is (rows == 60)


def test_every_row_of_a_page_with_two_lines_of_keys_can_be_reached() -> None:
    leaf = with_rows(Leaf("pieces", (), KEYS), tuple(Row(f"row {n}") for n in range(60)))
    end = shown(paint_leaf(scrolled(leaf, 1000, 40, 20), 40, 20))
    assert "row 59" in end
    assert "more" not in end


def test_a_count_that_differs_leaves_room_for_what_to_do_now(tmp_path: Path) -> None:
    desk = at("toadstool", tmp_path, 3)
    desk.count("17")
    told = shown(words(desk.scene(), WIDTH, WORDS))
    assert told.startswith(" 1 stitch too few")
    assert "▀█▀ █▄ █" in told


def test_the_round_being_worked_is_shown_before_the_rounds_after_it(tmp_path: Path) -> None:
    """Row 4 of the face cloth takes four lines."""
    told = shown(words(at("face-cloth", tmp_path, 3).scene(), WIDTH, WORDS))
    assert "Row 4: 1 ch, 1 dc in first st, *miss 1" in told and "next  Row 5" not in told.split("Row 4:")[0]


def test_the_cue_for_a_colour_is_told_to_its_end(tmp_path: Path) -> None:
    desk = at("tide-pool-coaster", tmp_path, 1)
    told = " ".join(shown(words(desk.scene(), WIDTH, WORDS)).split())
    assert "join sea foam" in told and "where this round begins" in told.replace("┃ ┃ ", "")


def test_of_a_long_round_the_part_being_worked_is_in_sight(tmp_path: Path) -> None:
    long = ", ".join(["sc in next st, hdc in next st"] * 20)
    rounds = f"Rnd 1: 40 sc in magic ring (40)\nRnd 2: {long} (40)"
    desk = desk_of(loads(f'title = "T"\n[[piece]]\nname = "T"\nrounds = """\n{rounds}\n"""\n'), tmp_path)
    desk.round()
    while desk.view.round_label == "Rnd 2" and not desk.view.piece_finished:
        painted = words(desk.scene(), WIDTH, WORDS)
        assert any(bit.look is Look.NOW for row in painted for bit in row), desk.view.stitch
        desk.stitch()


def test_what_there_is_no_room_for_is_one_key_away(tmp_path: Path) -> None:
    desk = desk_of(shipped("soap-dish"), tmp_path)
    assert "e reads " in " ".join(shown(words(desk.scene(), WIDTH, WORDS)).split())
    page = page_for(Command.EXPLAIN, desk)
    told = "\n".join(row.text for row in page.rows())
    assert desk.view.text in told and desk.view.remark in told


def test_a_round_ahead_that_takes_many_lines_is_told_by_what_it_leaves(tmp_path: Path) -> None:
    told = shown(words(at("face-cloth", tmp_path, 2).scene(), WIDTH, 16))
    assert "next  Row 4, 36 stitches" in told and "…" not in told


def test_what_to_do_now_is_never_half_a_figure(tmp_path: Path) -> None:
    """A figure takes three lines (two rows six), or five of the larger ones; else it is not written at all."""
    scene = at("toadstool", tmp_path, 7).scene()
    for height in range(9, 24):
        rows = shown(words(scene, 42, height)).split("\n")
        drawn = "".join("#" if row.strip() and set(row) <= set("█▀▄ ") else " " for row in rows)
        assert all(len(figure) in (3, 5, 6) for figure in drawn.split())


def test_what_is_asked_of_the_maker_comes_before_big_letters(tmp_path: Path) -> None:
    desk = at("toadstool", tmp_path, 3)
    assert "█" in shown(words(desk.scene(), 42, 19))
    desk.count("17")
    told = shown(words(desk.scene(), 42, 12))
    assert told.startswith(" 1 stitch too few") and "▀█▀ █▄ █" in told


SMALL = (30, 8), (40, 20), (80, 24)
"""Where something has to give way; what fits here fits in more."""


@pytest.mark.parametrize("name", ["toadstool", "lighthouse", "soap-dish", "tide-pool-coaster"])
def test_no_state_on_the_way_through_a_pattern_cuts_a_sentence(name: str, tmp_path: Path) -> None:
    """Of the round as it is written a part is shown, with marks of its own where it goes on; of what the pattern says
    here, whole sentences, or the key that reads it."""
    desk = desk_of(shipped(name), tmp_path)
    for tap in range(24):
        for size in SMALL:
            painted = shown(screen(desk.scene(), *size))
            assert "…" not in painted, painted
            view, told = desk.view, " ".join(painted.split())
            if view.remark and not (view.stop or view.colour_event or view.piece_finished):
                is_whole = " ".join(view.remark.split()) in told
                assert is_whole or any(key in told for key in ("e reads", "e note")), painted
        desk.round() if tap % 3 and not desk.view.piece_finished else desk.main()
