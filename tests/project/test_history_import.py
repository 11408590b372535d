"""Histories that somebody made up or spoilt: refused whole, and no project in the folder is any the worse for it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some
from support.building import cap, pattern
from support.event_scripts import PATTERN, events
from support.project_bench import Bench, place

from tracker.journal.errors import JournalTrouble
from tracker.journal.records import link
from tracker.journal.transfer import history_lines
from tracker.project.history_import import take_history
from tracker.project.pattern_outline import outline_in, outline_of
from tracker.project.project import open_project, projects_under_way
from tracker.session.events import Counted, Event, Note, RoundDone, RoundRewritten, StepDone, Stitch, Undo
from tracker.session.replay import replayed

ESCAPE = "\x1b]0;new title\x07\x1b[31m"
Lines = list[dict[str, Any]]


@pytest.fixture
def there(tmp_path: Path) -> Iterator[Bench]:
    """Another maker's machine, with work of their own under way."""
    (tmp_path / "there").mkdir()
    table = Bench(tmp_path / "there")
    other = open_project(pattern(cap(), title="Other"), table.folder / "other.toml", table.data, table.clock)
    other.do(Stitch(2))
    other.close()
    yield table
    table.clear()


def exported(bench: Bench) -> Lines:
    changed = RoundRewritten(1, "Rnd 2: inc x 4, 1 sc (9)", 5)
    bench.work(RoundDone(), Counted(5, 0), changed, Stitch(3), Note("tight"), StepDone(0), Undo()).close()
    return [json.loads(line) for line in history_lines(bench.data, bench.file, bench.pattern.title)]


def sealed(lines: Lines) -> list[str]:
    """The lines with links and numbers that hold together: anybody can make them."""
    last, links = "", {}
    for line in lines:
        if "event" in line:
            body = json.dumps(line["event"], separators=(",", ":"))
            last = links[line["number"]] = link(last, line["number"], line["at"], body, line["rounds"])
            line["link"] = last
            lines[0]["project"].update(link=last, number=line["number"])
    for line in lines:
        if line.get("saved"):
            line["saved"]["link"] = links.get(line["saved"]["number"], "")
    return [json.dumps(line) for line in lines]


def project_of(**values: object) -> Callable[[Lines], None]:
    return lambda lines: lines[0]["project"].update(values)


def summary_of(**values: object) -> Callable[[Lines], None]:
    return lambda lines: lines[0]["project"]["summary"].update(values)


def entry_of(which: int, **values: object) -> Callable[[Lines], None]:
    """Without a saved place, so that the entries are gone through at each opening."""

    def change(lines: Lines) -> None:
        lines[which].update(values)
        for line in lines:
            if "saved" in line:
                line["saved"] = None

    return change


def state_of(change: Callable[[dict[str, Any]], None]) -> Callable[[Lines], None]:
    def spoil(lines: Lines) -> None:
        saved = next(line["saved"] for line in lines if line.get("saved"))
        state = json.loads(saved["state"])
        change(state)
        saved["state"] = json.dumps(state)

    return spoil


def work_of(**values: object) -> Callable[[Lines], None]:
    return state_of(lambda state: state["work"].update(values))


def saved_of(**values: object) -> Callable[[Lines], None]:
    return lambda lines: next(line["saved"] for line in lines if line.get("saved")).update(values)


def wording_of(**values: object) -> Callable[[Lines], None]:
    return lambda lines: next(line["wording"] for line in lines if "wording" in line).update(values)


HOSTILE: dict[str, Callable[[Lines], None]] = {
    "rounds without end": entry_of(-1, rounds=float("-inf")),
    "rounds of 70 bits": entry_of(-1, rounds=2**70),
    "rounds below nothing": entry_of(-1, rounds=-1),
    "rounds as text": entry_of(-1, rounds="3"),
    "a time without end": entry_of(-2, at=float("inf")),
    "a time that is none": entry_of(-2, at=float("nan")),
    "a time beyond the calendar": entry_of(-2, at=1e300),
    "no time": entry_of(-2, at=None),
    "a number of 70 bits": entry_of(-1, number=2**70),
    "an event that nobody knows": entry_of(-2, event={"did": "dance"}),
    "an event of 10**30 stitches": entry_of(-2, event={"did": "stitch", "count": 10**30}),
    "a path that is a number": project_of(path=3),
    "a digest that is none": project_of(digest=None),
    "another digest": project_of(digest="0" * 64),
    "begun at no time": project_of(begun_at=float("nan")),
    "an id": project_of(id=1),
    "one more value": project_of(more=1),
    "a summary that is a list": project_of(summary=[1, 2, 3, 4]),
    "touched beyond the calendar": summary_of(touched_at=1e300),
    "touched without end": summary_of(touched_at=float("inf")),
    "a share that is none": summary_of(share=None),
    "a share of two": summary_of(share=2.0),
    "finished as a number": summary_of(finished=1),
    "next that steers the terminal": summary_of(next=ESCAPE),
    "a title of another project in the saved place": saved_of(title="Other"),
    "a saved place at no number": saved_of(number="6"),
    "an empty state": saved_of(state="{}"),
    "a state that is no JSON": saved_of(state="[" * 7),
    "a state that is too deep": saved_of(state="[" * 100_000),
    "a piece that is not there": work_of(copy=[999, 1]),
    "a copy that is not there": work_of(copy=[1, 9]),
    "a piece below nothing": work_of(copy=[-1, 1]),
    "a round that is not there": work_of(place=[99_999, 5, 5]),
    "a round below nothing": work_of(place=[-1, 0, 0]),
    "more moves than the round has": work_of(place=[2, 10**18, 0]),
    "stitches below nothing": work_of(place=[2, 1, -1]),
    "a parked place that is not there": work_of(parked=[[1, 2, 77, 0, 0]]),
    "a count of a round that is not there": work_of(unanswered=[0, 1, 77, 0, 5, 6]),
    "a note at a round that is not there": work_of(notes=[[0, 1, 77, 0, "x", 1.0]]),
    "a note that steers the terminal": work_of(notes=[[0, 1, 1, 2, ESCAPE, 1.0]]),
    "a note at a time that is text": work_of(notes=[[0, 1, 1, 2, "x", "nan"]]),
    "a step that is not there": work_of(steps_done=[7]),
    "a step that is no number": work_of(steps_done=[[0]]),
    "a changed round that is not there": work_of(own_rounds=[[0, 1, 77, "Rnd 2: 6 sc (6)", 6, 0, 0]]),
    "a changed round over less than nothing": work_of(own_rounds=[[0, 1, 1, "Rnd 2: 6 sc (6)", -6, 0, 0]]),
    "a changed round that steers the terminal": work_of(own_rounds=[[0, 1, 1, ESCAPE, 6, 0, 0]]),
    "twenty thousand notes": work_of(notes=[[0, 1, 1, 2, "x", 1.0]] * 20_000),
    "ten thousand earlier moments": state_of(lambda state: state.update(past=[{}] * 10_000)),
    "an earlier moment elsewhere": state_of(lambda state: state.update(past=[{"place": [99_999, 0, 0]}])),
    "an earlier moment of another form": state_of(lambda state: state.update(past=[{"notes": [5]}])),
    "an outline that is no JSON": wording_of(outline='[[[["'),
    "an outline that is too deep": wording_of(outline="[" * 100_000),
    "an outline of other values": wording_of(outline='[[["Cap","1",[]]],[]]'),
    "a text that steers the terminal": wording_of(source=ESCAPE),
    "a text that is none": wording_of(source=None),
}


@pytest.mark.parametrize("spoil", HOSTILE.values(), ids=HOSTILE)
def test_a_history_with_values_that_cannot_be_is_refused_and_hinders_nobody(
    spoil: Callable[[Lines], None], bench: Bench, there: Bench
) -> None:
    lines = exported(bench)
    spoil(lines)
    with pytest.raises(JournalTrouble, match="not a whole history"):
        take_history(sealed(lines), there.pattern, there.file, there.data, there.clock)
    assert [each.title for each in projects_under_way(there.data)] == ["Other"]
    assert place(there.open().view()) == ("Cap", 1, 1, 0)


def test_the_same_history_unspoilt_is_taken(bench: Bench, there: Bench) -> None:
    """Else the test above would pass whatever it did."""
    lines = sealed(exported(bench))
    assert take_history(lines, there.pattern, there.file, there.data, there.clock) == "Toadstool: 9 entries taken"
    assert place(there.open().view()) == place(bench.open(to_work=False).view())


@pytest.mark.parametrize("text", ["[" * 200_000, "null", "7", '"x"', "", "\x00", '{"form":{}}', "9" * 9_000_000])
def test_lines_that_are_no_history_are_refused(text: str, there: Bench) -> None:
    with pytest.raises(JournalTrouble, match="not a whole history"):
        take_history([text], there.pattern, there.file, there.data, there.clock)


def test_a_history_of_another_pattern_is_not_taken(bench: Bench, there: Bench) -> None:
    lines = exported(bench)
    lines[0]["project"]["title"] = f"{ESCAPE}Kite"
    next(line["saved"] for line in lines if line.get("saved"))["title"] = f"{ESCAPE}Kite"
    with pytest.raises(JournalTrouble) as refused:
        take_history(sealed(lines), there.pattern, there.file, there.data, there.clock)
    told = "this is the history of ]0;new title[31mKite, and not of Toadstool: nothing was taken"
    assert str(refused.value) == told


def test_a_saved_place_that_cannot_be_is_found_again_from_the_history(bench: Bench) -> None:
    """As one that an earlier version took in without a look."""
    project = bench.work(RoundDone(), Stitch(3))
    at = place(project.view())
    keeper = project._keeper
    assert keeper.journal is not None and keeper.record is not None
    state = project._place()
    assert '"place":[1,3,3]' in state
    state = state.replace('"place":[1,3,3]', '"place":[99,3,3]')
    keeper.journal.append(keeper.record, [], keeper.record.summary, state, None, keeper.record)
    bench.break_off(project)
    assert place(bench.open().view()) == at


@given(some.lists(events, max_size=30))
def test_every_place_that_a_maker_can_come_to_fits_the_outline(script: list[Event]) -> None:
    state = replayed(PATTERN, [(float(at), event) for at, event in enumerate(script)])
    outline = outline_of(PATTERN)
    assert outline_in(outline.written()) == outline
    assert all(outline.fits(work) for work in (state.work, *state.past))
