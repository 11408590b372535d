"""What is told when a piece or everything is made: what it is, how big, how long it took, what comes next."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from tracker.journal import JournalTrouble
from tracker.journal.pattern_files import keep_sheet
from tracker.pattern.model import Pattern
from tracker.plural import number_of
from tracker.project.project import Project
from tracker.project.work_time import PAUSE
from tracker.session.replay import steps
from tracker.session.state import Copy, copy_name, next_copy, rounds_of
from tracker.session.steps import YARN_AT_THE_END, says_nothing_of_the_yarn
from tracker.session.view_words import spell
from tracker.session.worked_rounds import round_at
from tracker.tui.render.scene import Tone


def sentences_on_piece(project: Project, copy: Copy) -> tuple[str, ...]:
    """Of a copy that was just made: "Cap is made: 17 rounds, 5.5 cm across, in 42 minutes"."""
    pattern, state = project.pattern, project.state
    parts = [number_of(rounds_of(pattern, copy), "round"), _size(pattern, copy), _time(project, copy)]
    sentence = f"{copy_name(pattern, copy)} is made: {', '.join(part for part in parts if part)}"
    yarn = (YARN_AT_THE_END,) if says_nothing_of_the_yarn(pattern, pattern.pieces[copy.piece]) else ()
    notes = pattern.pieces[copy.piece].notes
    closing = notes[len(notes) - pattern.pieces[copy.piece].closing :]
    following = next_copy(pattern, state.work)
    after = (f"next: {copy_name(pattern, following)}",) if following else ()
    return (sentence, *yarn, *closing, *after)


def _size(pattern: Pattern, copy: Copy) -> str:
    """Only where there is a gauge to measure by."""
    from tracker.measure.size import measure_pattern
    from tracker.measure.stitch_sizes import Unit
    from tracker.reports.measure_words import piece_words

    measured = measure_pattern(pattern)
    size = measured.pieces[copy.piece]
    if measured.unit is not Unit.CM or not size.rounds:
        return ""
    return piece_words(size, "cm")


def _time(project: Project, copy: Copy) -> str:
    seconds = 0.0
    last: float | None = None
    for before, _, _, at in steps(project.pattern, ((each.at, each.event) for each in project.history())):
        if last is not None and 0 < at - last <= PAUSE and before.copy == copy:
            seconds += at - last
        last = at
    # Less than a minute is told as none: taps made up for later.
    return f"in {spell(seconds)}" if seconds >= 60 else ""


def sentences_on_all(project: Project, key: str) -> tuple[str, ...]:
    """Of a pattern that is made and sewn: time, stitches, yarn, and what can be done with it now.

    `key` is the one that writes the sheet, "" if none does.
    """
    pattern = project.pattern
    days = project.days()
    worked = f"{spell(sum(day.seconds for day in days))} at work" + (f" on {len(days)} days" if len(days) > 1 else "")
    copies = [Copy(index, number + 1) for index, piece in enumerate(pattern.pieces) for number in range(piece.make)]
    pieces = number_of(len(copies), "piece")
    if len(copies) <= MOST_SUMMED:
        made = _stitches_by_yarn(project, copies)
        sentences = [f"{pieces}, {made.total():,} stitches, {worked}"]
        sentences += [f"stitches by yarn: {_by_yarn(pattern, made)}"] if pattern.yarns else []
    else:
        sentences = [f"{pieces}, {worked}"]
    return (*sentences, f"{key}: a sheet to print or share") if key else tuple(sentences)


MOST_SUMMED = 500
"""Copies whose stitches are added up."""


def _stitches_by_yarn(project: Project, copies: list[Copy]) -> Counter[str]:
    """What all rounds leave, as they were made."""
    from tracker.measure.stitch_counts import counted_in_round

    pattern, made = project.pattern, Counter[str]()
    for copy in copies:
        for index in range(rounds_of(pattern, copy)):
            made.update(counted_in_round(round_at(pattern, project.state.work, copy.piece, copy.number, index)))
    return made


def _by_yarn(pattern: Pattern, made: Counter[str]) -> str:
    return ", ".join(f"{pattern.yarn_name(key) or 'the yarn'} {stitches:,}" for key, stitches in made.items())


def written_sheet(project: Project) -> tuple[str, Tone]:
    """Write what was made as a page for print, in the folder that the program was begun in or else in that of the
    places; what is said of it."""
    from tracker.reports.sheet import sheet_as_made  # nobody at work waits for it

    begun_in = _begun_in()
    try:
        path = keep_sheet((*begun_in, project.folder), project.pattern.title, sheet_as_made(project))
    except JournalTrouble as trouble:
        return str(trouble), Tone.REFUSED
    return f"written: {path.name if path.parent in begun_in else path}", Tone.GOOD


def _begun_in() -> tuple[Path, ...]:
    try:
        return (Path.cwd(),)
    except OSError:  # it was removed meanwhile
        return ()
