"""`rounds work FILE --plain`: a whole pattern by words alone, and plain answers to everything else."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.building import inc, pattern, piece, ring, rnd, sc, times, toadstool

from tracker.cli.plain_answers import Teller
from tracker.cli.work_plain import VERBS, answer, work_plainly
from tracker.cli.write import WriteRequest, write_file
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Pattern
from tracker.project.project import Project, open_project

SHIPPED = Path(__file__).parents[2] / "patterns"


class Clock:
    now = 1_750_000_000.0

    def __call__(self) -> float:
        self.now += 1.0
        return self.now


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Project]:
    project = open_project(toadstool(), tmp_path / "p.toml", tmp_path / "data", Clock())
    yield project
    project.close()


def said(project: Project, *lines: str) -> list[str]:
    """The answer to the last of the lines."""
    teller = Teller(project)
    return [answer(teller, line) for line in lines][-1]


def work(made: Pattern, folder: Path, *lines: str) -> list[str]:
    """A whole session: everything that was said."""
    out = io.StringIO()
    project = open_project(made, folder / "p.toml", folder / "data", Clock())
    assert work_plainly(project, [f"{line}\n" for line in lines], out) == 0
    return out.getvalue().splitlines()


def test_every_line_that_is_said_is_a_sentence(tmp_path: Path) -> None:
    told = work(
        load(SHIPPED / "toadstool.toml"), tmp_path, *(f"{verb.names[0]} {verb.takes}" for verb in VERBS), "help"
    )
    assert all(line == line.strip() and line for line in told)
    assert all(line[0] == line[0].upper() or ": " in line for line in told)
    assert all(line[-1] in ".!?" for line in told)


def test_a_maker_who_cannot_see_finishes_a_pattern(tmp_path: Path) -> None:
    """Nothing is used but what was said: the words after each step tell what to do next."""
    made = load(SHIPPED / "toadstool.toml")
    project = open_project(made, tmp_path / "p.toml", tmp_path / "data", Clock())
    teller = Teller(project)
    heard = answer(teller, "place")
    for _ in range(2000):
        if any("everything is made" in sentence.casefold() for sentence in heard):
            break
        counts = [sentence for sentence in heard if "say count and the number" in sentence]
        steps = [sentence for sentence in heard if sentence.startswith("Step ") and "not done" in sentence]
        if counts:
            heard = answer(teller, "place")  # counting is not the point here: go on without
        if any("making up" in sentence.casefold() for sentence in heard) or steps:
            open_steps = [sentence for sentence in answer(teller, "steps") if "not done" in sentence]
            number = open_steps[0].split(",")[0].removeprefix("Step ")
            heard = answer(teller, f"step {number} done")
        else:
            heard = answer(teller, "repeat")
    view = project.view()
    project.close()
    assert view.finished
    assert all(done for _, done in view.making_up)


def test_a_fresh_start_and_some_commands_give_the_place_of_the_readme(tmp_path: Path) -> None:
    told = work(load(SHIPPED / "toadstool.toml"), tmp_path, "round", "round", "stitch 3")
    assert told[-1] == "Rnd 3, stitch 3 of 18, repeat 2 of 6: 1 single crochet, then an increase."


MARKER = "; move the marker to the first stitch"


@pytest.mark.parametrize(
    ("lines", "last"),
    [
        (["stitch 2"], ["Rnd 1, stitch 2 of 6: 4 single crochet in the magic ring."]),
        (["stitch"], ["Rnd 1, stitch 1 of 6: 5 single crochet in the magic ring."]),
        (["REPEAT"], ["Rnd 1 is done with 6 stitches.", f"Rnd 2, stitch 0 of 12: 6 increases{MARKER}."]),
        (["round", "count 6"], ["Rnd 1: 6, as it should be."]),
        (["round", "round"], [
            "Rnd 2 is done with 12 stitches.",
            "Count Rnd 2: say count and the number; or go on.",
            f"Rnd 3, stitch 0 of 18, repeat 1 of 6: 1 single crochet, then an increase{MARKER}.",
        ]),
        (["round", "undo"], ["Taken back.", "Cap, Rnd 1, stitch 0 of 6: 6 single crochet in the magic ring."]),
        (["undo"], ["There is nothing to take back."]),
        (["note the [b]loose[/b] one"], ["Noted."]),
        (["note a", "notes"], ["Cap, Rnd 1, stitch 0: a."]),
        (["notes"], ["There are no notes yet."]),
        (["piece stem 2"], ["Stem 2 of 2, Rnd 1, stitch 0 of 6: 6 single crochet in the magic ring."]),
        (["piece stmm"], ["There is no piece called stmm: do you mean Stem?"]),
        (["step 1 done"], ["Step 1 is done.", "Step 2, not done: Sew it on."]),
        (["step 1 done", "step 1 not done"], ["Step 1 is not done.",
                "Step 1, not done: Stuff the cap. Mind if a child will have it: "
                "work so closely that no stuffing shows, "
                "sew parts on all round and firmly, and keep it out of a cot."]),
        (["step 9 done"], ["There is no such making-up step."]),
        (["step"], ["Say the number of the step: step 2 done."]),
        (["ask every 3"], ["You will be asked for a count after every 3 rounds."]),
        (["ask sometimes"], ["Say when to ask for a count: each, change, every 3, or never."]),
        (["frog 9"], ["Cap has no round 9: it has 1 to 3."]),
        (["frog"], ["Type the round to go back to, and the stitches of it that stay: 7 or 7 12."]),
        (["carry on"], ["There is no differing count to carry on from."]),
        (["count many"], ["Type how many stitches you counted, as a number: 24."]),
        (["stitch -2"], ["Say how many stitches, as a number: stitch 3."]),
        (["stitch 99999999999"], ["A number of stitches from 1 to 10,000,000,000 is needed."]),
        (["ahead"], ["Rnd 2: 12 stitches, 12 stitches.", "Rnd 3: 18 stitches, 18 stitches."]),
        (["read"], ["Rnd 1: 6 stitches."]),
        (["far"], ["0% of Cap and 0% of everything is made."]),
        (["differences"], ["No count differs."]),
        (["explain sc"], [
            "Single crochet: insert the hook, yarn over, pull up a loop, yarn over, pull through both loops; "
            "in UK terms double crochet.",
        ]),
        (["explain blorg"], [
            "Say explain and a word that you read or heard here, like single crochet, magic ring."
        ]),
        (["next", "next stitch"], [
            "Rnd 2, stitch 1 of 12: 1 more single crochet in the same stitch, then 5 increases."
        ]),
        (["r", "next round"], [
            "Rnd 2 is done with 12 stitches.",
            "Count Rnd 2: say count and the number; or go on.",
            "Rnd 3, stitch 0 of 18, repeat 1 of 6: 1 single crochet, then an increase; "
            "move the marker to the first stitch.",
        ]),
        (["next colour"], ["The pattern names no yarn here.", "No other colour comes in this piece."]),
        (["next piece"], ["Cap is not made yet: say piece and a name to go on with another."]),
        (["another"], ["This one is not finished yet."]),
        (["changes"], ["The pattern is as it was."]),
        (["agree"], ["There is nothing to agree to: the pattern is as it was."]),
        (["work here"], ["You work here already."]),
        (["repaet"], ["There is no command repaet; do you mean repeat? say help for all of them."]),
        (["cary on"], ["There is no command cary on; do you mean carry on? say help for all of them."]),
        (["xyzzy"], ["There is no command xyzzy; say help for all of them."]),
        ([""], []),
    ],
)  # fmt: skip
def test_answers(lines: list[str], last: list[str], opened: Project) -> None:
    assert said(opened, *lines) == last


def test_a_count_that_differs_waits_for_an_answer(opened: Project) -> None:
    assert said(opened, "round", "count 7")[0].startswith("Rnd 1: 1 more than 6; ")
    waiting = "Cap, Rnd 1 has 1 stitch too many: you counted 7, it should be 6. Say look to hear what to do."
    assert waiting in said(opened, "repeat")
    assert said(opened, "carry on")[0] == "The difference is remembered; undo brings everything back."
    assert said(opened, "differences") == ["Cap, Rnd 1: 1 stitch too many, carried on with."]


def test_the_next_copy_and_the_next_piece_are_told(opened: Project) -> None:
    assert said(opened, "round", "round", "round")[0] == "Cap is made; next is Stem 1 of 2."
    assert said(opened, "round", "round")[0] == "Stem 1 of 2 is made; next is Stem 2 of 2."


def test_the_end_is_told_with_the_first_step_of_making_up(opened: Project) -> None:
    told = said(opened, *["round"] * 7)
    assert told[0] == "Stem 2 of 2 is made."
    assert told[-1] == "Making up: Stuff the cap."


def test_pieces_are_told_one_by_one_but_never_thousands(tmp_path: Path) -> None:
    made = pattern(piece("Leaf", rnd(1, ring(6)), make=10_000))
    project = open_project(made, tmp_path / "p.toml", tmp_path / "data", Clock())
    assert said(project, "pieces") == [
        "Leaf 1 of 10000: 0 of 1 round done, in hand.",
        "Leaf 2 of 10000: 0 of 1 round done.",
    ]
    project.close()


def test_colours_come_with_their_cue(tmp_path: Path) -> None:
    made = load(SHIPPED / "lighthouse.toml")
    project = open_project(made, tmp_path / "p.toml", tmp_path / "data", Clock())
    told = said(project, "set 10 12", "place")
    project.close()
    assert "on the last pull-through of this stitch change to navy" in told[0]


def test_hostile_text_cannot_steer_a_terminal(tmp_path: Path) -> None:
    made = pattern(piece("[bold]C[/x]", rnd(1, ring(6), text="Rnd 1: \x1b[2J\x07[red]")), title="\x1b]0;x\x07T")
    told = "\n".join(work(made, tmp_path, "read", "place", "note \x1b[31m", "notes"))
    assert "[bold]C[/x]" in told
    assert all(character.isprintable() or character == "\n" for character in told)


def test_quit_ends_and_the_place_is_kept(tmp_path: Path) -> None:
    made = toadstool()
    first = work(made, tmp_path, "stitch 3", "quit", "stitch 1")
    assert first[-1] == "Rnd 1, stitch 3 of 6: 3 single crochet in the magic ring."
    assert work(made, tmp_path)[-1] == "Cap, Rnd 1, stitch 3 of 6: 3 single crochet in the magic ring."


def test_a_changed_pattern_is_told_and_needs_agreement(tmp_path: Path) -> None:
    before = pattern(piece("Cap", rnd(1, ring(6)), rnd(2, inc(6))))
    after = pattern(piece("Cap", rnd(1, ring(6)), rnd(2, times(6, sc(1)), text="Rnd 2: 6 stitches")))
    work(before, tmp_path, "round")
    told = work(after, tmp_path, "repeat", "agree", "repeat")
    assert "The pattern file has changed since you last worked." in told
    assert "- Rnd 2: 12 stitches." in told and "+ Rnd 2: 6 stitches." in told
    assert "The pattern file has changed: agree to go on with it as it is now." in told
    assert "You go on with the changed pattern." in told


def test_looking_on_says_so_and_refuses(tmp_path: Path) -> None:
    made = toadstool()
    holding = open_project(made, tmp_path / "p.toml", tmp_path / "data", Clock())
    told = work(made, tmp_path, "repeat", "work here")
    holding.close()
    assert any(line.startswith("It is open in another window") for line in told)
    assert "This project is open for work in another window: here you can only look." in told
    assert "The other window is still open: close it first." in told


def test_who_an_unmarked_pattern_is_for_is_asked_once_and_kept(tmp_path: Path) -> None:
    unmarked = load(SHIPPED / "face-cloth.toml")
    question = "Is this for a child under 3, an older child, or neither?"
    first = work(unmarked, tmp_path, "materials", "steps")
    assert question in first
    assert any("the pattern does not say" in line for line in first), "not answered: told for a child"
    assert any("Mind if a child will have it: " in line for line in first)
    told = work(unmarked, tmp_path, "for 3", "materials", "steps")
    assert question in told and not any("cord, tie or loop" in line for line in told)
    again = work(unmarked, tmp_path, "steps", "for child under 3", "steps")
    assert question not in again, "asked once"
    assert sum("cord, tie or loop" in line for line in again) == 2, "said when it is changed, and at its step"
    undone = work(unmarked, tmp_path, "undo", "steps")
    assert not any("cord, tie or loop" in line for line in undone), "the earlier answer stands again"


def test_a_marked_pattern_is_not_asked_about(tmp_path: Path) -> None:
    marked = load(SHIPPED / "toadstool.toml")
    told = work(marked, tmp_path, "for 1")
    assert not any("older child" in line for line in told)
    assert told[-1] == f"The pattern says who it is for: {marked.intended_for}."


def test_a_ball_weighed_twice_tells_whether_it_lasts(tmp_path: Path) -> None:
    told = work(load(SHIPPED / "face-cloth.toml"), tmp_path, "weigh 43 g", "round", "round", "round", "weigh 40")
    assert told[-1].startswith("Unbleached: ") and "39.5-40.5 g are left" in told[-1]
    assert work(load(SHIPPED / "face-cloth.toml"), tmp_path, "weigh a lot")[-1].startswith("Type the grams")


@pytest.mark.parametrize(("said_to_be", "cords"), [("for 1", True), ("for 2", True), ("for 3", False)])
def test_the_sheet_as_made_minds_whom_it_is_for(
    said_to_be: str, cords: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, data = SHIPPED / "face-cloth.toml", tmp_path / "data"
    project = open_project(load(path), path, data, Clock())
    work_plainly(project, [f"{said_to_be}\n", "round\n"], io.StringIO())
    assert write_file(str(path), WriteRequest(form="text", as_made=True, with_pictures=False), data) == 0
    assert ("cord, tie or loop" in capsys.readouterr().out) is cords


def test_a_misprint_is_told_where_it_is_met(tmp_path: Path) -> None:
    rounds = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (13)\nRnd 3: sc around (12)"
    misprinted = loads(f'[[piece]]\nname = "Cap"\nrounds = """\n{rounds}\n"""\n')
    doubt = "As written, the instruction makes 12, and the total says 13; say mend to put it right."
    assert doubt not in work(misprinted, tmp_path, "read"), "not before it is met"
    assert doubt in work(misprinted, tmp_path, "round"), "told on the way into the round"
    assert doubt in work(misprinted, tmp_path, "read"), "told again with the words of the round"
    work(misprinted, tmp_path, "round")
    assert doubt not in work(misprinted, tmp_path, "read"), "not after it"


def test_the_weights_of_the_balls_are_told_again(opened: Project) -> None:
    assert said(opened, "weigh 43.5 g", "weigh 40", "weigh") == ["The ball: 43.5 g.", "The ball: 40 g."]


def test_next_goes_all_the_way_and_what_the_pattern_says_is_said_once(tmp_path: Path) -> None:
    told = work(load(SHIPPED / "toadstool.toml"), tmp_path, *["next round"] * 52, *["next"] * 7, "another")
    assert "Everything is made: say another to begin it once more." in told
    assert told.count("Rnds 1-12 are the dome.") == 1
    assert "Another one; undo brings the finished one back." in told


def test_a_maker_who_lost_the_place_is_asked_and_led_to_it(tmp_path: Path) -> None:
    toadstool = load(SHIPPED / "toadstool.toml")
    told = work(toadstool, tmp_path, "next round", "lost", "42", "2", "1", "42")
    assert "2: a ridge of free loops below it." in told
    assert "1: Rnd 13 is whole, Rnd 14 begins." in told
    assert told[-2].startswith("Cap, Rnd 14, stitch 0 of 36") or told[-3].startswith("Cap, Rnd 14, stitch 0 of 36")
