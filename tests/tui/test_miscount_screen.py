"""A differing count at the working screen: what is told, what each key does, and that taps go on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from support.building import toadstool
from support.running_app import text
from support.screens import Clock, app_of, desk_of, project_of, screen, shipped, shown
from textual.pilot import Pilot

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.session.events import AskChosen, Frog, RoundDone, RoundLeaves, Stitch, Undo
from tracker.session.miscount.offers import Answer
from tracker.session.state import Copy
from tracker.tui.app import RoundsApp
from tracker.tui.commands import Command, Keys
from tracker.tui.controller import Desk
from tracker.tui.pages.history import changed_rounds
from tracker.tui.pages.suspects import WherePage
from tracker.tui.render.instructions import words
from tracker.tui.render.scene import Tone
from tracker.tui.settings import Settings

BALL = loads('''
title = "Ball"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnds 5-6: sc around (24)
Rnd 7: (2 sc, dec) x 6 (18)
"""
[[piece]]
name = "Stem"
rounds = """
Rnd 1: 6 sc in magic ring (6)
"""
''')

SIZES = [(42, 19), (52, 35), (92, 55), (40, 12)]
"""The room for the words in terminals of 80x24, 120x40, 200x60 and 40x20."""


def differing(folder: Path, counted: str = "23", rounds: int = 4, settings: Settings | None = None) -> Desk:
    """After so many rounds, a count that is not right."""
    desk = desk_of(BALL, folder, settings)
    for _ in range(rounds):
        desk.round()
    desk.count(counted)
    return desk


def half_way(folder: Path, settings: Settings | None = None) -> Desk:
    """After four repeats of round 4, seventeen where the tracker has sixteen."""
    desk = desk_of(BALL, folder, settings)
    for _ in range(3):
        desk.round()
    for _ in range(4):
        desk.main()
    desk.count("17")
    return desk


def told(desk: Desk, size: tuple[int, int] = (92, 55)) -> str:
    return " ".join(shown(words(desk.scene(), *size)).split())


def choose(desk: Desk, key: str) -> None:
    waiting = desk.count_question
    assert waiting is not None and key in waiting.offers, waiting
    desk.choose(waiting.offers[key])


@pytest.mark.parametrize("size", SIZES)
def test_one_sentence_and_at_most_three_choices_show_in_every_size(size: tuple[int, int], tmp_path: Path) -> None:
    desk = differing(tmp_path)
    waiting = desk.count_question
    assert waiting is not None and 1 <= len(waiting.choices) <= 3
    lines = shown(words(desk.scene(), *size)).split("\n")
    assert lines[0] == " 1 stitch too few"
    assert lines[1].startswith("Rnd 4: 1 fewer than 24")
    heard = " ".join(" ".join(lines).split())
    assert waiting.words in heard, "what it means is never cut"
    first, *others = waiting.choices
    assert f"{first.key} {first.words}" in heard
    for choice in others:  # one that has no room is left out whole: the key of the page that tells all is named
        assert f"{choice.key} {choice.words}" in heard or f" {choice.key}  " not in "\n".join(lines)


def test_the_changed_round_is_shown_and_called_changed(tmp_path: Path) -> None:
    desk = differing(tmp_path)
    choose(desk, "J")
    assert (desk.talk.words, desk.talk.tone) == ("what comes next is changed; undo brings everything back", Tone.GOOD)
    for size in SIZES:
        assert "changed" in told(desk, size), size
    shows = told(desk)
    assert "changed; the pattern has Rnds 5-6: sc around (24)" in shows
    assert desk.view.text in shows and desk.view.text.startswith("Rnd 5: ")
    assert "1 stitch too few" not in shows
    desk.round()
    assert "changed" not in told(desk)


def test_a_changed_round_is_called_changed_from_before_and_when_it_is_looked_at(tmp_path: Path) -> None:
    desk = differing(tmp_path, "19")
    choose(desk, "J")
    assert "next changed: Rnd 6: " in told(desk)
    desk.look(1)
    assert "looking at Rnd 6, changed; your place stays at Rnd 5" in told(desk)
    desk.look(1)
    assert "looking at Rnd 7; your place" in told(desk)


def test_the_history_holds_both_texts(tmp_path: Path) -> None:
    desk = differing(tmp_path)
    choose(desk, "J")
    rows = [row for row in changed_rounds(desk.project) if row.more]
    assert [(row.text, row.more) for row in rows] == [
        (desk.view.text, "Ball; the pattern has Rnds 5-6: sc around (24)")
    ]


def test_half_way_the_place_is_moved_with_one_key_and_back_with_another(tmp_path: Path) -> None:
    desk = half_way(tmp_path)
    assert "g the work is right: set the place to stitch 17" in told(desk)
    choose(desk, "g")
    assert (desk.view.stitch, desk.talk.words) == (17, "your place is set; undo brings everything back")
    desk.undo()
    assert desk.view.stitch == 16 and desk.view.unanswered is not None
    assert desk.project.state.work.causes == ()


def test_a_half_way_count_that_agrees_says_so(tmp_path: Path) -> None:
    desk = half_way(tmp_path)
    choose(desk, "g")
    desk.count("17 so far")
    assert (desk.talk.words, desk.talk.tone) == ("Rnd 4: 17 so far, just where you are here", Tone.GOOD)


def test_going_on_puts_the_question_into_one_line_without_working_anything_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = differing(tmp_path)
    told(desk)
    asked: list[object] = []
    monkeypatch.setattr(desk.project, "diagnosis", lambda: asked.append(1))
    desk.stitch()
    told(desk)
    waiting = desk.count_question
    assert waiting is not None and not waiting.offers
    assert [choice.key for choice in waiting.choices] == ["w", "k"]
    assert asked == []


def test_carrying_on_tells_what_it_will_come_to(tmp_path: Path) -> None:
    desk = differing(tmp_path)
    desk.carry_on()
    assert desk.talk.words == "the difference is remembered; Rnd 7 will not work out"
    desk.carry_on()
    assert desk.talk.words == "there is no differing count to carry on from"


def test_a_count_of_a_piece_that_was_put_away_says_where_to_go(tmp_path: Path) -> None:
    desk = differing(tmp_path)
    desk.go_on_with(Copy(1, 1))
    waiting = desk.count_question
    assert waiting is not None
    assert waiting.words == "Ball, Rnd 4: you counted 23, it should be 24"
    assert [(choice.key, choice.words) for choice in waiting.choices] == [
        ("p", "go on with Ball to put it right"),
        ("k", "carry on, knowing it"),
    ]


def test_the_count_of_a_copy_just_made_is_about_that_copy(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    for _ in range(3):
        desk.round()
    desk.count("17")
    found = desk.view.unanswered
    assert found is not None and (found.piece, found.expected) == ("Cap", 18)
    waiting = desk.count_question
    assert waiting is not None and waiting.words.startswith("Rnd 3: 1 fewer than 18")


def test_keys_keep_their_meaning_while_a_count_waits(tmp_path: Path) -> None:
    """What an answer shares with a command has the key of the command; what only an answer does has a key of its
    own."""
    desk = differing(tmp_path)
    offers = desk.count_question.offers if desk.count_question else {}
    shared = {Answer.COUNT_AGAIN: Command.COUNT, Answer.FROG: Command.FROG, Answer.CARRY_ON: Command.CARRY_ON}
    assert offers
    for key, offer in offers.items():
        assert desk.keys.command(key) is shared.get(offer.answer), (key, offer)


def test_a_key_that_taps_never_answers(tmp_path: Path) -> None:
    """Whoever taps with j is not to change the round with it: the capital does, and frogging goes where it is set."""
    keys = Keys({Command.STITCH: ("j",), Command.FROG: ("d",)})
    desk = differing(tmp_path, settings=Settings(keys=keys))
    waiting = desk.count_question
    assert waiting is not None
    assert "J" in waiting.offers and "j" not in waiting.offers
    assert any(choice.key == "J" for choice in waiting.choices)
    desk.keys = Keys({Command.STITCH: ("j", "J"), Command.FROG: ("d",)})
    assert not {"j", "J"} & set(desk.count_question.offers if desk.count_question else "j")


def test_a_count_by_parts_keeps_the_sum_and_asks_for_the_next(tmp_path: Path) -> None:
    desk = differing(tmp_path)
    choose(desk, "c")
    for number in "4434":
        assert desk.typing is not None and desk.typing.entry.question.startswith("stitches counted in Rnd 4, repeat ")
        desk.type(number, number)
        desk.type("enter", None)
    assert desk.typing is not None and desk.typing.entry.question.startswith(
        "stitches counted in Rnd 4, repeat 5 of 6"
    )
    assert desk.talk.words == "repeat 4: 4, as it should be"
    desk.undo()
    assert desk.project.state.work.part_counts == (4, 4, 3)
    for number in "444":
        desk._ask_for_part(3)
        desk.type(number, number)
        desk.type("enter", None)
    assert "counted twice: look here: repeat 3, the increase may be missing" in told(desk)


def test_an_older_round_is_asked_for_and_the_question_goes_down_to_it(tmp_path: Path) -> None:
    desk = differing(tmp_path, "22", rounds=6)
    desk.count("22")
    choose(desk, "d")
    assert desk.typing is not None and desk.typing.entry.question == "stitches counted in Rnd 3:"
    for key in "16":
        desk.type(key, key)
    desk.type("enter", None)
    waiting = desk.count_question
    assert waiting is not None and waiting.words.startswith("Rnd 3: 2 fewer than 18")


def test_only_a_maker_who_says_that_it_was_there_is_learned_from(tmp_path: Path) -> None:
    desk = differing(tmp_path, "22", rounds=6)
    desk.do(Undo())
    desk.do(Undo())
    desk.count("24")
    desk.round()
    desk.count("22")
    choose(desk, "f")
    assert desk.talk.words == "ripped back; was it there? z: yes"
    assert not desk.confirm("i") and desk.project.learned().as_json() == {}
    assert desk.confirm("z") and desk.project.learned().as_json() == {"drift": 1}
    assert not desk.confirm("z")


def test_the_foot_names_the_key_that_looks_into_it_only_while_a_count_waits(tmp_path: Path) -> None:
    desk = differing(tmp_path)
    assert ("w", "where") in [(choice.key, choice.words) for choice in desk.scene().keys[:3]]
    desk.carry_on()
    assert "w" not in [choice.key for choice in desk.scene().keys]


def test_what_happens_to_the_journal_is_said_when_it_happens(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    for name in ("journal.sqlite3", "journal.sqlite3-wal", "journal.sqlite3-shm"):
        (tmp_path / "data" / name).unlink(missing_ok=True)
    desk.round()
    assert desk.talk.words == "the journal was removed while it was in use; it was put back"
    desk.round()
    assert "removed" not in desk.talk.words


def test_the_time_of_today_stands_in_the_heading_and_says_when_it_stands_still(tmp_path: Path) -> None:
    clock = Clock()
    desk = Desk(project_of(toadstool(), tmp_path, clock))
    desk.round()
    clock.now += 120
    desk.round()
    assert desk.scene().today == "today 2 minutes"
    clock.now += 3600
    assert desk.scene().today.endswith("paused")


ENDS: dict[str, Callable[[Desk], object]] = {
    "taken back": lambda desk: desk.undo(),
    "counted right": lambda desk: desk.count("18"),
    "the next round is right": lambda desk: (desk.round(), desk.count("24")),
    "ripped": lambda desk: desk.do(Frog(1)),
    "mended": lambda desk: desk.do(RoundLeaves(0, 2, 17)),
    "carried on, then right": lambda desk: (desk.carry_on(), desk.round(), desk.count("24")),
    "carried on, then ripped": lambda desk: (desk.carry_on(), desk.do(Frog(1))),
}


@pytest.mark.parametrize("end", ENDS)
def test_no_warning_outlives_its_cause(end: str, tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    for _ in range(3):
        desk.round()
    desk.count("17")
    for size in ((30, 8), (40, 20), (80, 24)):
        assert "1 stitch too few" in shown(screen(desk.scene(), *size))
    ENDS[end](desk)
    for _ in range(2):
        for size in ((30, 8), (40, 20), (80, 24)):
            painted = shown(screen(desk.scene(), *size))
            assert "too few" not in painted and "counted" not in painted, painted
        desk.main()


async def at_work(pilot: Pilot[None], made: Pattern = BALL) -> RoundsApp:
    app = pilot.app
    assert isinstance(app, RoundsApp)
    await pilot.pause()
    await pilot.press("space")
    await pilot.pause()
    return app


async def test_the_keys_answer_and_undo_takes_everything_back(tmp_path: Path) -> None:
    async with app_of(BALL, tmp_path).run_test(size=(100, 40)) as pilot:
        app = await at_work(pilot)
        await pilot.press(*"rrrr", "2", "3", "enter")
        project = app.project
        assert project is not None
        before = project.state.work
        assert before.unanswered is not None and "1 stitch too few" in text(app, "words")
        await pilot.press("J")
        assert project.view().changed and "changed" in text(app, "words")
        await pilot.press("u")
        assert project.state.work == before
        assert "1 stitch too few" in text(app, "words")


async def test_an_open_question_never_blocks_a_tap(tmp_path: Path) -> None:
    async with app_of(BALL, tmp_path).run_test() as pilot:
        app = await at_work(pilot)
        await pilot.press(*"rrrr", "2", "3", "enter", "s", "s", "space")
        assert app.project is not None
        view = app.project.view()
        assert (view.round_label, view.stitch, view.unanswered is not None) == ("Rnd 6", 0, True)


async def test_asking_for_a_count_never_blocks_a_tap(tmp_path: Path) -> None:
    async with app_of(BALL, tmp_path).run_test() as pilot:
        app = await at_work(pilot)
        assert app.project is not None
        assert app.project.state.work.asks == AskChosen("change")
        await pilot.press("r", "r")
        assert app.project.view().asks_count and "count Rnd 2: type the number" in text(app, "words")
        await pilot.press("s")
        assert app.project.view().stitch == 1 and not app.project.view().asks_count


async def test_keys_have_their_usual_meaning_again_when_nothing_is_asked(tmp_path: Path) -> None:
    async with app_of(BALL, tmp_path).run_test() as pilot:
        app = await at_work(pilot)
        await pilot.press(*"rrrr", "2", "3", "enter", "k", "n", *"soft", "enter")
        assert app.project is not None
        assert app.project.view().notes_here == ("soft",)
        assert [found.by for found in app.project.view().differences] == [-1]


async def test_counting_again_is_one_key_and_the_right_number_is_learned(tmp_path: Path) -> None:
    project = project_of(BALL, tmp_path)
    for event in (*[RoundDone()] * 4, Stitch(24)):
        project.do(event)
    app = RoundsApp(tmp_path / "data", Settings(), project)
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("2", "1", "enter")
        assert project.view().unanswered is not None
        assert "c  count again by quarters" in text(app, "words")
        await pilot.press("c", "6", "enter", "6", "enter", "6", "enter", "6", "enter")
        assert project.view().unanswered is None
        assert project.learned().as_json() == {"miscount": 1}


async def test_the_page_tells_where_to_look_and_takes_an_answer(tmp_path: Path) -> None:
    async with app_of(BALL, tmp_path).run_test(size=(100, 40)) as pilot:
        app = await at_work(pilot)
        await pilot.press(*"rrrr", "2", "3", "enter", "s", "w")
        await pilot.pause()
        assert isinstance(app.screen, WherePage)
        page = text(app, "leaf")
        assert "Rnd 4: 1 fewer than 24" in page
        assert "an increase is two V tops growing from one base" in page
        assert "with the difference Rnd 7 will not work out as written" in page
        assert "Rnd 5: 11 sc, inc, 11 sc (24)" in page
        await pilot.press("J")
        await pilot.pause()
        assert app.project is not None
        assert app.project.view().changed and app.project.view().unanswered is None
        await pilot.press("u")
        assert (app.project.view().round_label, app.project.view().stitch) == ("Rnd 5", 1)


async def test_the_page_without_a_question_says_so(tmp_path: Path) -> None:
    async with app_of(BALL, tmp_path).run_test() as pilot:
        app = await at_work(pilot)
        await pilot.press("w")
        await pilot.pause()
        assert "no count of the piece in hand waits for an answer" in text(app, "leaf")
        await pilot.press("q", "s")
        await pilot.pause()
        assert app.project is not None and app.project.view().stitch == 1
