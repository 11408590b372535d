"""The command `rounds`: read what was asked, call one function, give back its exit code.

0 is clean, 1 means findings, 2 means that something could not be read. Everything is imported where it is used, so
that a command without a screen never pays for one.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

UNREADABLE = 2


@dataclass(frozen=True, slots=True)
class Command:
    """One verb: what it is for, what it takes, and what it calls."""

    name: str
    told: str
    takes: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]


def _one_pattern(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="FILE", help="a pattern file, or the name of a shipped pattern")


def _work_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    parser.add_argument(
        "--plain", action="store_true", help="by typed lines and plain sentences, without a full screen"
    )
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")


def _work(told: argparse.Namespace) -> int:
    from tracker.telling.opening import open_or_tell

    if not told.plain and not (sys.stdin.isatty() and sys.stdout.isatty()):
        print("the working screen needs a terminal; use --plain here", file=sys.stderr)
        return UNREADABLE
    project = open_or_tell(told.pattern, told.data)
    if project is None:
        return UNREADABLE
    if told.plain:
        from tracker.telling.plain import work_plainly

        return work_plainly(project)
    from tracker.screen.app import work_on_screen

    return work_on_screen(project, told.data, mouse=not told.no_mouse)


def _place_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    parser.add_argument("--json", action="store_true", help="as JSON, for other programs")


def _place(told: argparse.Namespace) -> int:
    from tracker.telling.place import tell_place

    return tell_place(told.pattern, told.data, told.json)


def _check_takes(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("patterns", metavar="FILE", nargs="*", help="pattern files, or names of shipped patterns")
    parser.add_argument("--json", action="store_true", help="as JSON, for other programs")
    parser.add_argument("--lines", action="store_true", help="check JSON lines from standard input, one round each")


def _check(told: argparse.Namespace) -> int:
    from tracker.telling.shipped import path_of

    if told.lines:
        from tracker.telling.checks import filter_lines

        return filter_lines()
    if not told.patterns:
        print("rounds check needs a pattern file, or --lines", file=sys.stderr)
        return UNREADABLE
    from tracker.telling.checks import check_files

    return check_files([path_of(name) for name in told.patterns], told.json)


def _read_takes(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("text", metavar="FILE", nargs="?", type=Path, help="a text; standard input if left out")
    parser.add_argument("--terms", choices=("US", "UK"), help="the terms that it is written in, if you know")
    parser.add_argument("-o", dest="output", metavar="FILE", type=Path, help="where to write the pattern file")


def _read(told: argparse.Namespace) -> int:
    from tracker.telling.reading import read_text

    return read_text(told.text, told.terms, told.output)


COMMANDS: tuple[Command, ...] = (
    Command("work", "work a pattern and keep your place", _work_takes, _work),
    Command("place", "tell the saved place in a pattern", _place_takes, _place),
    Command("check", "check the counts of every round", _check_takes, _check),
    Command("read", "make a pattern file of a written pattern", _read_takes, _read),
)


def parser() -> argparse.ArgumentParser:
    """The parser of the whole command. `--data` may stand before or after the verb."""
    shared = argparse.ArgumentParser(add_help=False)
    shared.add_argument(
        "--data",
        metavar="FOLDER",
        type=Path,
        default=argparse.SUPPRESS,
        help="where your places are kept (also: the environment variable ROUNDS_DATA)",
    )
    whole = argparse.ArgumentParser(
        "rounds",
        description="Keeps your place in a crochet pattern. Alone it lists what you make and what you could begin.",
        parents=[shared],
    )
    verbs = whole.add_subparsers(title="commands", metavar="COMMAND")
    for command in COMMANDS:
        verb = verbs.add_parser(command.name, help=command.told, description=command.told, parents=[shared])
        command.takes(verb)
        verb.set_defaults(run=command.run)
    return whole


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the arguments say; those of the command line by default."""
    told = parser().parse_args(arguments)
    told.data = getattr(told, "data", None)
    run: Callable[[argparse.Namespace], int] = getattr(told, "run", _projects)
    try:
        return run(told)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        return 130


def _projects(told: argparse.Namespace) -> int:
    if sys.stdin.isatty() and sys.stdout.isatty():
        from tracker.screen.app import choose_on_screen
        from tracker.telling.shipped import shipped

        return choose_on_screen(told.data, shipped())
    from tracker.telling.projects import list_projects

    return list_projects(told.data)
