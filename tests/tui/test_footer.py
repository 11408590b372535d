"""The foot of the screen: it names what can be done now, and every key that it names does something."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from support.building import toadstool
from support.screens import OPENED, desk_of, project_of

from tracker.session.events import PieceChosen, RoundDone
from tracker.session.state import Copy
from tracker.tui.commands import Command, Keys
from tracker.tui.controller import Desk
from tracker.tui.settings import Settings


def named(desk: Desk) -> dict[str, str]:
    return {choice.key: choice.words for choice in desk.scene().keys}


def after_rounds(folder: Path, rounds: int) -> Desk:
    desk = desk_of(toadstool(), folder)
    for _ in range(rounds):
        desk.do(RoundDone())
    return desk


def all_made(folder: Path) -> Desk:
    desk = desk_of(toadstool(), folder)
    while not desk.view.all_made:
        assert desk.do(RoundDone())
    return desk


def test_the_most_needed_keys_come_first(tmp_path: Path) -> None:
    keys = list(named(desk_of(toadstool(), tmp_path)))
    assert keys[:4] == ["space", "s", "r", "u"]
    assert "?" in keys[:6]


@pytest.mark.parametrize("ask", [Desk.ask_for_count, Desk.ask_for_note])
def test_while_a_line_is_typed_its_two_keys_are_named(ask: Callable[[Desk], None], tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    ask(desk)
    assert named(desk) == {"enter": "take it", "esc": "put it away"}
    desk.type("escape", None)
    assert desk.typing is None
    assert "enter" not in named(desk)


def test_making_up_names_no_keys_for_stitches(tmp_path: Path) -> None:
    desk = all_made(tmp_path)
    keys = named(desk)
    assert keys["space"] == "step done"
    assert "x" in keys
    assert not {"s", "r", "o", "e", "→"} & set(keys)


def test_where_all_is_made_nothing_goes_on(tmp_path: Path) -> None:
    desk = all_made(tmp_path)
    while not desk.view.finished:
        desk.main()
    keys = named(desk)
    assert not {"space", "s", "r", "o", "e", "→", "f"} & set(keys)
    assert {"u", "q", "?", "h"} <= set(keys)


def test_another_round_is_looked_at_with_the_arrows_and_left_with_the_main_key(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.look(1)
    assert list(named(desk)) == ["space", "f", "→", "←", "?", "q"]


def test_looking_on_names_only_what_a_second_window_can_do(tmp_path: Path) -> None:
    desk_of(toadstool(), tmp_path)
    desk = desk_of(toadstool(), tmp_path)
    assert desk.project.looking_on
    keys = named(desk)
    assert not {"space", "s", "r", "u", "c", "f", "n"} & set(keys)
    assert {"→", "p", "q", "?"} <= set(keys)


def test_a_count_that_differs_names_its_keys_first(tmp_path: Path) -> None:
    desk = after_rounds(tmp_path, 2)
    desk.count("11")
    assert list(named(desk))[:3] == ["space", "w", "k"]


def test_a_command_that_lost_its_keys_is_not_named(tmp_path: Path) -> None:
    keys = Keys({Command.UNDO: ("s",), Command.STITCH: ()})
    desk = desk_of(toadstool(), tmp_path, Settings(keys=keys))
    assert named(desk)["s"] == "undo"
    assert "" not in named(desk)


def at_a_made_piece(folder: Path) -> Desk:
    desk = after_rounds(folder, 3)
    assert desk.view.just_made == "Cap"
    desk.go_on_with(Copy(0, 1))
    return desk


def test_from_a_piece_that_is_made_the_main_key_goes_on_to_the_next(tmp_path: Path) -> None:
    desk = at_a_made_piece(tmp_path)
    scene = desk.scene()
    assert scene.view.now == "Cap is made, Stem 1 of 2 comes next"
    assert scene.message == "nothing is left to make here: space goes on to Stem 1 of 2"
    assert named(desk)["space"] == "on to Stem 1 of 2"
    assert not {"s", "r", "o", "e"} & set(named(desk))
    desk.main()
    assert (desk.view.piece, desk.view.copy, desk.view.piece_finished) == ("Stem", 1, False)
    desk.undo()
    assert desk.view.piece == "Cap"


def test_whoever_comes_back_to_a_piece_that_is_made_is_told_so(tmp_path: Path) -> None:
    at_a_made_piece(tmp_path)
    OPENED.pop().close()
    desk = Desk(project_of(toadstool(), tmp_path))
    assert desk.view.piece_finished
    assert "nothing is left to make here" in desk.scene().message
    desk.do(PieceChosen(1, 2))
    assert desk.scene().message == ""
