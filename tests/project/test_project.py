"""A project: resumed as it was left, one writer, changed files, moved files, history."""

from __future__ import annotations

import subprocess
import sys
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from support.building import cap, dec, inc, pattern, piece, ring, rnd, sc, times
from support.event_scripts import PATTERN as LAWS
from support.event_scripts import events
from support.project_bench import Bench, place

from tracker.journal.paths import data_folder
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.project.project import projects_under_way
from tracker.session.events import (
    Closed,
    Counted,
    Event,
    Frog,
    Note,
    Opened,
    PieceChosen,
    RoundDone,
    StepDone,
    Stitch,
    Undo,
)
from tracker.session.reducer import Refused, advance, begin
from tracker.session.view import View


def test_a_project_is_resumed_where_it_was_left(bench: Bench) -> None:
    bench.work(RoundDone(), RoundDone(), Stitch(3)).close()
    project = bench.open()
    assert place(project.view()) == ("Cap", 1, 3, 3)
    assert (project.trouble, project.notices, project.looking_on, project.changed) == ("", (), False, None)


def test_and_without_being_closed_as_well(bench: Bench) -> None:
    bench.break_off(bench.work(RoundDone(), RoundDone(), Stitch(3)))
    assert place(bench.open().view()) == ("Cap", 1, 3, 3)


def test_undo_reaches_back_over_sessions(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(4)).close()
    project = bench.open()
    assert place(project.do(Undo())) == ("Cap", 1, 2, 0)
    assert place(project.do(Undo())) == ("Cap", 1, 1, 0)


def test_the_history_holds_everything_with_its_time(bench: Bench) -> None:
    bench.work(Stitch(3), Note("soft"), Undo()).close()
    happened = bench.open().history()
    opened = Opened(bench.pattern.digest)
    assert [each.event for each in happened] == [opened, Stitch(3), Note("soft"), Undo(), Closed(), opened]
    assert [each.number for each in happened] == [1, 2, 3, 4, 5, 6]
    times = [each.at for each in happened]
    assert times == sorted(times) and len(set(times)) == 6


def test_time_today_and_the_days_come_from_the_history(bench: Bench) -> None:
    project = bench.work(RoundDone(), RoundDone())
    start = project.history()[0].at
    bench.clock.at += 100
    assert project.seconds_today() == bench.clock.at - start
    bench.clock.at += 1000
    assert project.is_paused()
    project.close()
    (day,) = bench.open(to_work=False).days()
    assert day.rounds == 2 and 0 < day.seconds < 200


def test_a_refused_event_is_not_written(bench: Bench) -> None:
    project = bench.work(Stitch(2))
    with pytest.raises(Refused, match="no such round"):
        project.do(Frog(99))
    assert len(project.history()) == 2


def test_looking_only_writes_nothing_and_keeps_nobody_out(bench: Bench) -> None:
    looker = bench.open(to_work=False)
    assert place(looker.view()) == ("Cap", 1, 1, 0)
    assert not bench.data.exists()
    worker = bench.work(RoundDone())
    assert not worker.looking_on
    assert place(looker.view()) == ("Cap", 1, 2, 0)
    with pytest.raises(Refused, match="only look"):
        looker.do(Stitch())


def test_a_second_window_looks_on_and_follows(bench: Bench) -> None:
    first = bench.work(RoundDone())
    second = bench.open()
    assert second.looking_on and place(second.view()) == ("Cap", 1, 2, 0)
    first.do(Stitch(5))
    assert place(second.view()) == ("Cap", 1, 2, 5)
    for refused in (lambda: second.do(Stitch()), second.agree_to_change):
        with pytest.raises(Refused, match="in another window"):
            refused()
    assert not second.work_here()
    first.close()
    assert second.work_here() and place(second.do(Stitch())) == ("Cap", 1, 2, 6)


def test_two_projects_are_worked_at_the_same_time(bench: Bench, tmp_path: Path) -> None:
    first = bench.work(RoundDone())
    second = bench.open(pattern(cap(), title="Other"), file=tmp_path / "other.toml")
    assert not second.looking_on
    for _ in range(5):
        first.do(Stitch())
        second.do(Stitch())
    assert (first.view().stitch, second.view().stitch) == (5, 5)


LOCK_HOLDER = """
import sys
from pathlib import Path
sys.path[:0] = sys.argv[1:3]
from hypothesis import given, settings
from hypothesis import strategies as some
from support.project_bench import Bench, place
from support.event_scripts import PATTERN as LAWS
from support.event_scripts import events
bench = Bench(Path(sys.argv[3]))
bench.work()
print("open", flush=True)
sys.stdin.read()
"""


def test_the_turn_to_write_ends_with_the_process_that_had_it(bench: Bench, tmp_path: Path) -> None:
    """Killed with -9, a window must not keep others out: the lock is the system's, not a row."""
    here = Path(__file__).parent
    command = [sys.executable, "-c", LOCK_HOLDER, str(here.parents[1]), str(here.parent), str(tmp_path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout is not None and holder.stdout.readline() == "open\n"
        assert bench.open().looking_on
        holder.kill()
        holder.wait()
    assert not bench.open().looking_on


TOML = '''
title = "Ball"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: {third}
"""
'''


def test_a_changed_file_is_told_and_waits_for_the_makers_word(bench: Bench) -> None:
    before, after = loads(TOML.format(third="(1 sc, inc) x 6 (18)")), loads(TOML.format(third="sc around (12)"))
    bench.pattern = before
    bench.break_off(bench.work(RoundDone(), RoundDone(), Stitch(4)))
    project = bench.open(after)
    assert project.changed is not None
    assert list(project.changed) == [
        "- Rnd 3: (1 sc, inc) x 6 (18)",
        "+ Rnd 3: sc around (12)",
        "Ball: Rnd 3 reads otherwise now, the place is after 4 of its stitches",
    ]
    with pytest.raises(Refused, match="the pattern file has changed"):
        project.do(Stitch())
    kept = project.agree_to_change()
    assert kept == ("Ball: Rnd 3 reads otherwise now, the place is after 4 of its stitches",)
    assert (project.view().stitch, project.view().expected) == (4, 12)
    assert place(project.do(Undo())) == ("Ball", 1, 3, 0)
    project.close()
    project = bench.open(after)
    assert project.changed is None and place(project.view()) == ("Ball", 1, 3, 0)


def test_without_agreement_nothing_is_written(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(2)).close()
    other = pattern(cap(), title="Toadstool")
    bench.open(other).close()
    project = bench.open()
    assert project.changed is None and place(project.view()) == ("Cap", 1, 2, 2)


def test_looking_on_a_journal_that_breaks_keeps_the_last_view(bench: Bench) -> None:
    bench.work(RoundDone()).close()
    looker = bench.open(to_work=False)
    assert looker._watched is not None
    looker._watched.close()
    assert place(looker.view()) == ("Cap", 1, 2, 0)
    assert looker.trouble


def test_agreeing_when_nothing_changed_is_refused(bench: Bench) -> None:
    with pytest.raises(Refused, match="nothing to agree to"):
        bench.open().agree_to_change()


def changed(bench: Bench, after: Pattern, *events: Event) -> tuple[View, list[str]]:
    bench.work(*events).close()
    project = bench.open(after)
    assert project.changed is not None
    told = list(project.changed.not_kept)
    assert project.agree_to_change() == tuple(told)
    return project.view(), told


@pytest.mark.parametrize(
    ("what", "after", "events", "expected", "told"),
    [
        (
            "a round put in before the place moves it along",
            pattern(
                piece("Cap", rnd(1, ring(6)), rnd(9, sc(6)), rnd(2, inc(6)), rnd(3, times(6, sc(), inc()))),
                title="Toadstool",
            ),
            [RoundDone(), Stitch(3)],
            ("Cap", 1, 2, 3),
            [],
        ),
        (
            "a round that is gone leaves the place behind the one before it",
            pattern(piece("Cap", rnd(1, ring(6)), rnd(3, times(6, sc(), inc()))), title="Toadstool"),
            [RoundDone(), Stitch(3)],
            ("Cap", 1, 3, 0),
            ["Cap: Rnd 2 is not there any more, the place is the start of Rnd 3"],
        ),
        (
            "a piece of another name is another piece",
            pattern(piece("Hat", rnd(1, ring(6))), title="Toadstool"),
            [RoundDone(), Stitch(3)],
            ("Hat", 1, 1, 0),
            ["Cap is not in the pattern any more: its place is dropped"],
        ),
        (
            "pieces in another order are found by their names",
            pattern(piece("Stem", rnd(1, ring(6)), make=2), cap(), title="Toadstool"),
            [Stitch(2), PieceChosen(1, 2), Stitch(3)],
            ("Stem", 2, 1, 3),
            [],
        ),
        (
            "a made piece with more rounds is open again",
            pattern(
                piece("Cap", rnd(1, ring(6)), rnd(2, inc(6)), rnd(3, times(6, sc(), inc())), rnd(4, sc(18))),
                title="Toadstool",
            ),
            [*[RoundDone()] * 3, PieceChosen(0, 1)],
            ("Cap", 1, 4, 0),
            ["Cap: there is more to make now, from Rnd 4 on"],
        ),
        (
            "a shorter round is done if as many stitches are made",
            pattern(
                piece("Cap", rnd(1, ring(6)), rnd(2, dec(3), text="Rnd 2: other"), rnd(3, sc(3))), title="Toadstool"
            ),
            [RoundDone(), Stitch(5)],
            ("Cap", 1, 3, 0),
            ["Cap: Rnd 2 reads otherwise now, the place is after 3 of its stitches"],
        ),
    ],
)
def test_the_place_is_found_again_by_piece_and_label(
    what: str,
    after: Pattern,
    events: list[Event],
    expected: tuple[str, int, int, int],
    told: list[str],
    bench: Bench,
) -> None:
    view, not_kept = changed(bench, after, *events)
    assert (place(view), not_kept) == (expected, told), what


def test_notes_counts_and_steps_go_along_or_are_told(bench: Bench) -> None:
    events = [
        RoundDone(),
        Counted(7, 0),
        StepDone(0),
        StepDone(1),
        Note("loose"),
        PieceChosen(1, 1),
        Note("stem"),
        Stitch(),
    ]
    after = pattern(piece("Cap", rnd(2, inc(6))), making_up=["Sew it on.", "Press."], title="Toadstool")
    view, told = changed(bench, after, *events)
    assert view.making_up == (("Sew it on.", True), ("Press.", False))
    assert (view.notes_here, view.unanswered) == (("loose",), None)
    assert told == [
        "Stem 1 of 2 is not in the pattern any more: its place is dropped",
        "a differing count in Cap has no round any more",
        'the note "stem" is in the history only: Stem 1 of 2 is gone',
        'the step "Stuff the cap." that was ticked is not there any more',
    ]


def test_a_file_that_was_moved_is_found_by_title_and_text(bench: Bench, tmp_path: Path) -> None:
    bench.work(RoundDone(), Stitch(3)).close()
    old, bench.file = bench.file, bench.file.rename(tmp_path / "elsewhere.toml")
    project = bench.open()
    assert project.moved_from == old
    assert place(project.take_up_moved()) == ("Cap", 1, 2, 3)
    assert place(project.do(Stitch())) == ("Cap", 1, 2, 4)
    project.close()
    assert [under_way.path for under_way in projects_under_way(bench.data)] == [bench.file]
    assert bench.open().moved_from is None


KNOB = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: sc around (18)
Rnd 5: (1 sc, dec) x 6 (12)
"""


def knob(rounds: str = KNOB, title: str = "Knob") -> Pattern:
    return loads(f'title = "{title}"\n[[piece]]\nname = "Knob"\nrounds = """{rounds}"""\n')


def test_a_file_that_was_moved_and_edited_is_found_by_its_rounds(tmp_path: Path) -> None:
    bench = Bench(tmp_path, knob())
    bench.work(RoundDone(), RoundDone(), Stitch(4)).close()
    bench.open(pattern(piece("Dot", rnd(1, ring(6))), title="Dots"), file=tmp_path / "dots.toml").do(RoundDone())
    old, bench.file = bench.file, bench.file.rename(tmp_path / "elsewhere.toml")
    edited = knob(KNOB.replace("Rnd 4: sc", "Rnd 4: FLO sc"), "Handle")
    project = bench.open(edited)
    assert project.moved_from == old
    assert place(project.take_up_moved()) == ("Knob", 1, 3, 4)
    assert project.changed is not None and "+ Rnd 4: FLO sc around (18)" in project.changed.lines
    with pytest.raises(Refused, match="agree"):
        project.do(Stitch())
    project.agree_to_change()
    assert place(project.do(Stitch())) == ("Knob", 1, 3, 5)
    project.close()
    assert place(bench.open(edited).view()) == ("Knob", 1, 3, 5)
    bench.clear()


def test_another_pattern_with_a_few_rounds_alike_is_a_work_of_its_own(tmp_path: Path) -> None:
    """Two of its five rounds stand in the file that is gone: most patterns begin alike."""
    bench = Bench(tmp_path, knob())
    bench.work(RoundDone()).close()
    bench.file.unlink()
    fresh = knob(KNOB.replace("x 6 (18)", "x 6").replace("(18)", "(18 sts)").replace("dec) x 6 (12)", "dec) x 6"))
    assert bench.open(fresh, file=tmp_path / "fresh.toml").moved_from is None
    bench.clear()


def test_a_moved_file_may_also_be_begun_anew(bench: Bench, tmp_path: Path) -> None:
    bench.work(RoundDone()).close()
    bench.file = bench.file.rename(tmp_path / "elsewhere.toml")
    project = bench.open()
    assert place(project.do(Stitch(2))) == ("Cap", 1, 1, 2)
    project.close()
    assert place(bench.open().view()) == ("Cap", 1, 1, 2)


def test_a_copy_of_a_file_is_a_project_of_its_own(bench: Bench, tmp_path: Path) -> None:
    bench.work(RoundDone()).close()
    copy = tmp_path / "copy.toml"
    copy.write_bytes(bench.file.read_bytes())
    project = bench.open(file=copy)
    assert project.moved_from is None and place(project.view()) == ("Cap", 1, 1, 0)


def test_projects_under_way_are_listed_last_touched_first(bench: Bench, tmp_path: Path) -> None:
    assert projects_under_way(bench.data) == []
    bench.work(RoundDone(), RoundDone(), Stitch(3)).close()
    other = tmp_path / "other.toml"
    second = bench.open(pattern(piece("Dot", rnd(1, ring(6))), title="Dots"), file=other)
    second.do(RoundDone())
    listed = projects_under_way(bench.data)
    assert [(p.title, p.path, p.next, p.finished) for p in listed] == [
        ("Dots", other, "everything is made", True),
        ("Toadstool", bench.file, "Cap, Rnd 3: 1 single crochet, then an increase", False),
    ]
    assert listed[0].share == 1.0 and listed[1].share == pytest.approx(21 / 62 * 7 / 9)
    assert listed[0].touched_at > listed[1].touched_at


@settings(max_examples=15, deadline=None)
@given(some.lists(some.one_of(events, some.sampled_from(["close", "break off"])), max_size=30))
def test_what_the_store_holds_adds_up_to_the_live_place(script: list[Event | str]) -> None:
    """Replayed from the first entry, and resumed from the saved place: both are the state that was shown last."""
    with TemporaryDirectory() as folder:
        table = Bench(Path(folder), LAWS)
        project = table.open()
        for act in script:
            if isinstance(act, str):
                project.close() if act == "close" else table.break_off(project)
                project = table.open()
                continue
            with suppress(Refused):
                project.do(act)
        live = project.state
        replayed = begin(LAWS)
        for happened in project.history():
            replayed = advance(LAWS, replayed, happened.event, happened.at)
        assert replayed == live
        table.break_off(project)
        assert table.open(to_work=False).state == live
        table.clear()


def test_the_data_folder_can_be_chosen(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("ROUNDS_DATA", str(tmp_path / "named"))
    assert data_folder() == tmp_path / "named"
    assert data_folder(tmp_path / "given") == tmp_path / "given"
    monkeypatch.delenv("ROUNDS_DATA")
    assert data_folder().name == "round-tracker"


def test_a_changed_title_keeps_the_place_and_is_told(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(3), Note("tight")).close()
    source = bench.pattern.source.replace("Toadstool", "Red toadstool")
    retitled = replace(bench.pattern, title="Red toadstool", source=source)
    looker = bench.open(retitled, to_work=False)
    assert place(looker.view()) == ("Cap", 1, 2, 3) and looker.changed is not None
    project = bench.open(retitled)
    assert project.changed is not None and "+ Red toadstool" in project.changed.lines
    project.agree_to_change()
    project.do(Stitch())
    project.close()
    assert [known.title for known in projects_under_way(bench.data)] == ["Red toadstool"]
    again = bench.open(retitled)
    assert again.changed is None and place(again.view()) == ("Cap", 1, 2, 4)
    assert [note.text for note in again.state.work.notes] == ["tight"]


def test_another_pattern_under_the_name_of_the_file_begins_anew(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(3)).close()
    project = bench.open(pattern(piece("Kite", rnd(1, ring(6))), title="Kite"))
    assert project.changed is None and place(project.view()) == ("Kite", 1, 1, 0)
    project.close()
    assert place(bench.open().view()) == ("Cap", 1, 2, 3)
