"""Mended lines from one session to the next, and in a pattern file that was changed outside."""

from __future__ import annotations

from support.project_bench import Bench

from tracker.pattern.loader import loads
from tracker.pattern.model import Correction, Pattern
from tracker.session.events import RoundCorrected, RoundDone, RoundLeaves, Stitch, Undo

TEXT = '''title = "Ball"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnd 5: work the fancy edge
Rnd 6: sc around (24)
"""
'''
MEND = RoundCorrected(0, 2, "Rnd 3: (1 sc, inc) x 6 (18)")


def ball(old: str = "", new: str = "") -> Pattern:
    assert old in TEXT
    return loads(TEXT.replace(old, new) if old else TEXT)


def test_what_was_confirmed_is_there_after_the_program_was_broken_off(bench: Bench) -> None:
    bench.pattern = ball()
    project = bench.work(RoundDone(), RoundDone(), MEND, Stitch(7), RoundLeaves(0, 4, 24))
    view = project.view()
    bench.break_off(project)
    again = bench.open()
    assert again.view() == view and again.changed is None
    assert [item.leaves for item in again.pattern.pieces[0].rounds] == [6, 12, 18, 24, 24, 24]
    assert again.do(Undo()).text == MEND.text
    assert again.state.work.corrections == (Correction(0, 2, MEND.text),)


def test_a_correction_is_carried_over_where_its_line_did_not_change(bench: Bench) -> None:
    bench.pattern = ball()
    bench.work(RoundDone(), RoundDone(), MEND, Stitch(7)).close()
    project = bench.open(ball("Rnd 1: 6 sc", "Start: ch 2\nRnd 1: 6 sc"))
    assert project.changed is not None and project.changed.not_kept == ()
    project.agree_to_change()
    assert [own.text for own in project.state.work.corrections] == [MEND.text]
    view = project.view()
    assert (view.text, view.stitch) == (MEND.text, 7)


def test_a_line_that_was_changed_outside_as_well_is_a_conflict_and_the_makers_own_stays(bench: Bench) -> None:
    bench.pattern = ball()
    bench.work(RoundDone(), RoundDone(), MEND, Stitch(7)).close()
    project = bench.open(ball("(1 sc, inc) x 5 (18)", "(1 sc, inc) x 4, 4 sc (16)"))
    assert project.changed is not None
    assert project.changed.not_kept == (
        'Rnd 3 of Ball was changed in the file, and you had mended it: yours stays: "Rnd 3: (1 sc, inc) x 6 (18)"; '
        "mend it again to take the new line",
    )
    project.agree_to_change()
    view = project.view()
    assert (view.text, view.pattern_text) == (MEND.text, "Rnd 3: (1 sc, inc) x 4, 4 sc (16)")
    assert view.stitch == 7


def test_a_file_that_was_put_right_in_the_same_way_needs_no_correction_any_more(bench: Bench) -> None:
    bench.pattern = ball()
    bench.work(RoundDone(), RoundDone(), MEND, Stitch(7)).close()
    project = bench.open(ball("(1 sc, inc) x 5 (18)", "(1 sc, inc) x 6 (18)"))
    assert project.changed is not None and project.changed.not_kept == ()
    project.agree_to_change()
    assert project.state.work.corrections == ()
    assert (project.view().text, project.view().stitch, project.view().changed) == (MEND.text, 7, False)


def test_a_mended_line_whose_round_is_gone_is_kept_as_a_note(bench: Bench) -> None:
    bench.pattern = ball()
    bench.work(MEND, RoundLeaves(0, 4, 24)).close()
    project = bench.open(ball("Rnd 3: (1 sc, inc) x 5 (18)\n", ""))
    assert project.changed is not None
    assert "Rnd 3 of Ball, which you mended, is not there any more: your line is kept as a note" in list(
        project.changed
    )
    project.agree_to_change()
    assert [note.text for note in project.state.work.notes] == [f"Ball, mended by you: {MEND.text}"]
    assert [(own.round_index, own.leaves) for own in project.state.work.corrections] == [(3, 24)]


def test_undo_reaches_behind_a_change_of_the_file(bench: Bench) -> None:
    bench.pattern = ball()
    bench.work(RoundDone(), MEND).close()
    project = bench.open(ball("Rnd 1: 6 sc", "Start: ch 2\nRnd 1: 6 sc"))
    project.agree_to_change()
    project.do(Undo())
    assert project.state.work.corrections == () and project.view().round_label == "Rnd 2"


def test_another_window_follows_what_is_mended(bench: Bench) -> None:
    bench.pattern = ball()
    project = bench.work(RoundDone(), RoundDone())
    looker = bench.open()
    assert looker.looking_on
    project.do(MEND)
    assert looker.view().text == MEND.text
