"""The words of the working screen: what must be read there, and that pattern text is shown as it is."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from support.building import inc, pattern, piece, ring, rnd, sc, times, toadstool
from support.screens import Clock, desk_of, project_of, shipped, shown

from tracker.diagnostics import Span
from tracker.pattern.loader import loads
from tracker.pattern.model import Start
from tracker.session.events import Frog, Stitch
from tracker.tui.controller import Desk
from tracker.tui.render.blocks import Block, stacked
from tracker.tui.render.instructions import instruction, words
from tracker.tui.render.progress import drawing
from tracker.tui.render.scene import Choice, Scene, Tone
from tracker.tui.render.status_lines import heading, keys_in, shares, talk
from tracker.tui.render.styled_text import Look, line
from tracker.tui.settings import Settings
from tracker.tui.work_screen import arrangement

SIZES = [(42, 19), (52, 35), (92, 55), (40, 12)]
"""The room for the words in terminals of 80x24, 120x40, 200x60 and 40x20."""


def at(desk: Desk, round_index: int, stitch: int = 0) -> Scene:
    desk.do(Frog(round_index, stitch))
    return desk.scene()


@pytest.mark.parametrize("size", SIZES)
def test_the_essential_things_show_in_every_size(size: tuple[int, int], tmp_path: Path) -> None:
    told = " ".join(shown(words(at(desk_of(shipped("toadstool"), tmp_path), 2, 6), *size)).split())
    for part in (
        "1 single crochet, then an increase",
        "Rnd 3: (1 sc, inc) x 6 (18)",
        "stitch 6 of 18 · repeat 3 of 6",
        "in 335 stitches: cream (C)",
        "Rnd 4: 1 sc, inc",
    ):
        assert part in told


@pytest.mark.parametrize("size", SIZES)
def test_lines_have_the_width_and_number_they_are_given(size: tuple[int, int], tmp_path: Path) -> None:
    scene = at(desk_of(shipped("lighthouse"), tmp_path), 9, 13)
    for painter in (words, drawing):
        painted = painter(scene, *size)
        assert len(painted) == size[1]
        assert {len(row) for row in shown(painted).split("\n")} <= set(range(size[0] + 1))


def test_the_colour_cue_comes_with_the_stitch_before_the_change(tmp_path: Path) -> None:
    desk = desk_of(shipped("lighthouse"), tmp_path)
    at(desk, 9, 11)
    desk.main_step = desk.main_step.STITCH
    assert desk.cue == ""
    desk.do(Stitch())
    told = " ".join(shown(words(desk.scene(), 42, 19)).split())
    assert told.startswith("┏━ N ━ change to navy ━")
    assert "make this stitch up to the last loop" in told
    assert told.count("change to navy") == 1


def test_a_count_that_differs_comes_first_with_its_ways(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    desk.count("7")
    told = shown(words(desk.scene(), 42, 30))
    assert told.startswith(" 1 stitch too many\nRnd 1: 1 more than 6; ")
    assert " c  count again" in told and " J  make it up in Rnd 2: " in told


@pytest.mark.parametrize("size", [(40, 10), (42, 19)])
def test_a_warning_stays_until_it_is_answered(size: tuple[int, int], tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    desk.count("5")
    desk.main()
    told = shown(words(desk.scene(), *size))
    for part in ("1 stitch too few", " w  see where, and what to do", " k  carry on, knowing it"):
        assert part in told
    desk.carry_on()
    told = shown(words(desk.scene(), 42, 19))
    assert "! Cap, Rnd 1: 1 stitch too few" in told
    assert not told.startswith(" 1 stitch")


def test_looking_ahead_shows_another_round_and_where_the_place_is(tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    desk.look(2)
    told = shown(words(desk.scene(), 60, 19))
    assert "looking at Rnd 3; your place stays at Rnd 1" in told
    assert "18 stitches when it is done" in told
    desk.look(-3)
    assert desk.talk.words == "there is no round before"
    desk.main()
    assert desk.scene().looked_at is None
    assert desk.view.round_label == "Rnd 1" and desk.view.stitch == 0


HOSTILE = "Rnd 1: [bold]6 sc[/x] in [@click=app.quit]ring[/] \\[ (6)"


def test_hostile_text_is_shown_as_it_was_written(tmp_path: Path) -> None:
    made = pattern(piece("[red]Cap[/red]", rnd(1, ring(6), text=HOSTILE)), title="[blink]T[/nope]")
    scene = desk_of(made, tmp_path).scene()
    assert HOSTILE in " ".join(shown(words(scene, 90, 19)).split())
    assert shown(heading(scene, 80, 1)).startswith("[red]Cap[/red]  [blink]T[/nope]")


def test_the_worked_part_the_present_part_and_the_rest_look_different() -> None:
    (row,) = instruction("Rnd 3: 1 sc, inc (12)", (Span(0, 7, 11),), 60)
    assert [(bit.text, bit.look) for bit in row] == [
        ("Rnd 3: ", Look.DONE),
        ("1 sc", Look.NOW),
        (", inc (12)", Look.AHEAD),
    ]


def test_lines_of_an_instruction_before_the_present_one_are_done() -> None:
    rows = instruction("Rnd 3: 1 sc,\ninc,\n1 sc", (Span(1, 0, 3),), 60)
    assert [[bit.look for bit in row] for row in rows] == [[Look.DONE], [Look.NOW, Look.AHEAD], [Look.AHEAD]]


def test_blocks_that_matter_least_give_way_first() -> None:
    def block(rank: int, name: str, count: int, least: int = 1) -> Block:
        return Block(rank, tuple(line(f"{name}{number}") for number in range(1, count + 1)), least)

    blocks = [block(2, "c", 2), block(0, "a", 3, least=2), block(1, "b", 1)]
    assert shown(stacked(blocks, 5, 9)).split("\n") == ["c1", "c2", "", "a1", "a2", "a3", "", "b1", ""]
    assert shown(stacked(blocks, 5, 6)).split("\n") == ["c1", "c2", "a1", "a2", "a3", "b1"]
    assert shown(stacked(blocks, 5, 4)).split("\n") == ["c1 ⋯", "a1", "a2 ⋯", "b1"]
    assert shown(stacked(blocks, 5, 2)).split("\n") == ["a1", "a2 ⋯"]


def test_the_heading_gives_up_the_title_then_the_time(tmp_path: Path) -> None:
    scene = replace(desk_of(shipped("toadstool"), tmp_path).scene(), today="today 12 minutes")
    assert shown(heading(scene, 60, 1)) == "Cap  Toadstool pincushion                   today 12 minutes"
    assert shown(heading(scene, 40, 1)) == "Cap                     today 12 minutes"
    assert shown(heading(scene, 12, 1)) == "Cap"


def test_copies_are_counted(tmp_path: Path) -> None:
    made = pattern(piece("Spot", rnd(1, ring(6)), make=5))
    desk = desk_of(made, tmp_path)
    desk.round()
    assert shown(heading(desk.scene(), 40, 1)).startswith("Spot 2 of 5")
    assert desk.scene().just_made[0].startswith("Spot 1 of 5 is made")


def test_shares_never_say_all_before_it_is(tmp_path: Path) -> None:
    view = desk_of(toadstool(), tmp_path).scene()
    nearly = replace(view, view=replace(view.view, piece_share=0.999, whole_share=0.001))
    assert shown(shares(nearly, 40, 1)) == "this piece 99%   everything 1%"


def test_keys_are_packed_and_the_needed_ones_come_first() -> None:
    keys = (Choice("space", "repeat"), Choice("s", "stitch"), Choice("u", "undo"))
    assert shown(keys_in(keys, 22, 1)) == "space repeat  s stitch"
    assert shown(keys_in(keys, 14, 2)) == "space repeat\ns stitch"


def test_trouble_with_the_disk_is_said_before_anything_else(tmp_path: Path) -> None:
    scene = replace(
        desk_of(toadstool(), tmp_path).scene(), message="noted", tone=Tone.GOOD, trouble="the disk is full"
    )
    assert shown(talk(scene, 60, 1)) == " the disk is full"
    assert shown(talk(replace(scene, trouble="", message="", looking_on=True), 60, 1)).startswith(
        "looking on: open in another window"
    )


@pytest.mark.parametrize(
    ("width", "height", "flat", "clock", "small"),
    [
        (80, 24, False, True, False),
        (80, 24, True, False, False),
        (60, 24, False, False, False),
        (80, 20, False, True, False),
        (40, 20, False, False, False),
        (39, 20, False, False, True),
        (40, 19, False, False, True),
    ],
)
def test_the_layout_follows_the_size(width: int, height: int, flat: bool, clock: bool, small: bool) -> None:
    found = arrangement(width, height, flat)
    assert (found.clock, found.strip) == (clock, small)


def test_rows_go_to_and_fro(tmp_path: Path) -> None:
    made = pattern(piece("Cloth", rnd(1, sc(4)), rnd(2, sc(4)), start=Start.ROWS))
    desk = desk_of(made, tmp_path)
    assert desk.scene().backwards
    desk.round()
    assert not desk.scene().backwards
    other = Desk(project_of(made, tmp_path / "other", Clock()), Settings(left_handed=True))
    assert not other.scene().backwards


def test_when_all_is_made_the_checklist_and_its_number_are_shown(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    for _ in range(7):
        desk.round()
    desk.count("6")
    scene = desk.scene()
    told = shown(words(scene, 42, 19))
    assert "making up: Stuff the cap." in told
    assert "   2  Sew it on." in told
    assert told.count("Stuff the cap.") == 1
    assert scene.keys[0].words == "step done"
    desk.main()
    assert shown(words(desk.scene(), 42, 19)).split("\n")[:2] == ["making up: Sew it on.", "done  Stuff the cap."]
    desk.main()
    assert desk.view.finished
    told = shown(words(desk.scene(), 42, 19))
    assert told.startswith("everything is made") and "done  Stuff the cap.\ndone  Sew it on." in told


def test_what_to_do_now_is_written_big_where_there_is_room(tmp_path: Path) -> None:
    made = pattern(piece("Cap", rnd(1, ring(6)), rnd(2, times(3, sc(), inc()))))
    desk = desk_of(made, tmp_path)
    desk.round()
    told = shown(words(desk.scene(), 60, 30))
    assert "█" in told and "1 single crochet, then an increase" in told


@pytest.mark.parametrize("size", SIZES)
def test_a_misprint_is_told_where_it_is_met(size: tuple[int, int], tmp_path: Path) -> None:
    rounds = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (13)\nRnd 3: sc around (12)"
    misprinted = loads(f'[[piece]]\nname = "Cap"\nrounds = """\n{rounds}\n"""\n')
    desk = desk_of(misprinted, tmp_path)
    told = [" ".join(shown(words(at(desk, index), *size)).split()) for index in range(3)]
    doubt = "! as written: the instruction makes 12, and the total says 13"
    assert [doubt in words_of_round for words_of_round in told] == [False, True, False]
