"""`rounds place`: the saved place, for a person or for a program. Nothing is written, nobody is kept from working."""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

from tracker.cli import plain_sentences as sentences
from tracker.cli.exit_codes import ExitCode
from tracker.cli.open_project import has_nothing_to_work, load_or_tell
from tracker.journal import JournalTrouble, data_folder
from tracker.journal.paths import readings_folder
from tracker.project.project import open_project
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.view import View


def tell_place(name: str, data: Path | None, as_json: bool) -> int:
    """Print the place in a pattern; the exit code."""
    pattern_file = load_or_tell(name, readings_folder(data), keeps=False)
    if pattern_file is None:
        return ExitCode.REFUSED
    path, pattern = pattern_file
    if has_nothing_to_work(name, pattern):
        return ExitCode.REFUSED
    try:
        project = open_project(pattern, path, data_folder(data), time.time, to_work=False)
    except JournalTrouble as trouble:
        print(f"rounds: {trouble}", file=sys.stderr)
        return ExitCode.REFUSED
    view, changed, learned = project.view(), project.changed is not None, project.learned()
    project.close()
    if as_json:
        print(json.dumps(place_of(view, changed, learned), ensure_ascii=False))
        return ExitCode.DONE
    lines = [sentences.place_sentence(view), sentences.changed(view), sentences.change(view), sentences.share(view)]
    lines += ["The pattern file has changed since you last worked."] if changed else []
    print("\n".join(part for part in lines if part))
    return ExitCode.DONE


def place_of(view: View, changed: bool, learned: Learned) -> dict[str, Any]:
    """The place as plain values. `round` is the number in the heading, `stitch` how many of its stitches are done.

    `learned` is how often each cause of a differing count was confirmed by this maker, in any project.
    """
    waiting = view.unanswered
    return {
        "title": view.title,
        "piece": view.piece,
        "copy": view.copy,
        "copies": view.copies,
        "round": view.round_number,
        "label": view.round_label,
        "text": view.text,
        "round_changed": view.changed,
        "pattern_text": view.pattern_text,
        "stitch": view.stitch,
        "repeat": view.repeat,
        "repeats": view.repeats,
        "expected": view.expected,
        "now": view.now,
        "side": view.side or None,
        "yarn": view.colour or None,
        "next_yarn": view.next_colour.name if view.next_colour else None,
        "next_yarn_in": view.next_colour.in_stitches if view.next_colour else None,
        "piece_share": round(view.piece_share, 4),
        "whole_share": round(view.whole_share, 4),
        "piece_finished": view.piece_finished,
        "making_up": [{"step": step, "done": done} for step, done in view.making_up],
        "counted_differently": {"round": waiting.round_label, "by": waiting.by} if waiting else None,
        "learned": learned.as_json(),
        "pattern_changed": changed,
        "finished": view.finished,
    }
