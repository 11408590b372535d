"""The command `rounds`: read what was asked, call one function, give back its exit code.

What the codes mean stands in `exit_codes`. Everything is imported where it is used, so that a command without a
screen never pays for one.
"""

from __future__ import annotations

import argparse
import atexit
import gc
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.misspelling import Parser, with_command
from tracker.cli.streams import let_go_of_output, prepare_streams
from tracker.lazy_dataclass import dataclass
from tracker.normalize import clean

MANY = 1_000_000
"""New objects after which Python looks for those that nobody needs: a command that goes through a long history makes
fewer, and most of them stay in use."""


SHELLS = ("bash", "zsh", "fish")


@dataclass(frozen=True, slots=True)
class CommandEntry:
    """One verb: what it is for, what it takes, what it calls, and an example of its use."""

    name: str
    summary: str
    takes: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]
    examples: tuple[str, ...]


def _one_pattern(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="FILE", help="a pattern file, or the name of a shipped pattern")


def _output_takes(parser: argparse._ActionsContainer, summary: str) -> None:
    parser.add_argument("-o", dest="output", metavar="FILE", type=Path, help=summary)
    parser.add_argument("--replace", action="store_true", help="write over a file that is there already")


def _work_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    parser.add_argument(
        "--plain", action="store_true", help="by typed lines and plain sentences, without a full screen"
    )
    parser.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")


def _work(options: argparse.Namespace) -> int:
    from tracker.cli.open_project import open_or_tell

    if not options.plain and not (sys.stdin.isatty() and sys.stdout.isatty()):
        print("the working screen needs a terminal; use --plain here", file=sys.stderr)
        return ExitCode.REFUSED
    project = open_or_tell(options.pattern, options.data)
    if project is None:
        return ExitCode.REFUSED
    if options.plain:
        from tracker.cli.work_plain import work_plainly

        return work_plainly(project)
    _begin_screen()
    from tracker.tui.app import work_on_screen

    return work_on_screen(project, options.data, mouse=not options.no_mouse)


def _begin_screen() -> None:
    """Nothing is looked for that nobody needs, until the first paint is there: what a screen is made of stays in use,
    and to go through it takes a fifteenth of the start."""
    gc.disable()


def _place_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    parser.add_argument("--json", action="store_true", help="as JSON, for other programs")


def _place(options: argparse.Namespace) -> int:
    from tracker.cli.place import tell_place

    return tell_place(options.pattern, options.data, options.json)


def _check_takes(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("patterns", metavar="FILE", nargs="*", help="pattern files, or names of shipped patterns")
    parser.add_argument("--json", action="store_true", help="as JSON, for other programs")
    parser.add_argument("--lines", action="store_true", help="check JSON lines from standard input, one round each")


def _check(options: argparse.Namespace) -> int:
    from tracker.cli.shipped_patterns import path_of

    if options.lines:
        from tracker.cli.check import filter_lines

        return filter_lines()
    if not options.patterns:
        print("rounds check needs a pattern file, or --lines", file=sys.stderr)
        return ExitCode.REFUSED
    from tracker.cli.check import check_files

    return check_files([path_of(name) for name in options.patterns], options.json)


def _read_takes(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("text", metavar="FILE", nargs="?", type=Path, help="a text; standard input if left out")
    parser.add_argument("--terms", choices=("US", "UK"), help="the terms that it is written in, if you know")
    parser.add_argument("--size", type=int, metavar="N", help="which of several sizes you make, from 1")
    _output_takes(parser, "where to write the pattern file")


def _read(options: argparse.Namespace) -> int:
    if options.text is None and options.output is None and sys.stdin.isatty() and sys.stdout.isatty():
        _begin_screen()
        from tracker.tui.app import begin_on_screen

        return begin_on_screen(options.data, "paste")
    from tracker.cli.read import ReadWish, read_text

    return read_text(options.text, ReadWish(options.terms, options.size), options.output, options.replace)


def _new_takes(parser: argparse.ArgumentParser) -> None:
    shape = parser.add_argument_group("from a shape")
    shapes = ("ball", "disk", "bowl", "egg", "cone", "tube", "oval", "square")
    shape.add_argument("--shape", choices=shapes, help="a tube has round ends, a bowl is half a ball")
    shape.add_argument("--across", metavar="LENGTH", default="", help="at its widest, such as 8cm; 8 cm if left out")
    shape.add_argument("--gauge", metavar="SxR", default="", help='over 10 cm, such as "22 sc x 24 rounds"')
    shape.add_argument("--weight", metavar="N", type=int, choices=range(8), help="the yarn weight, 0 to 7")
    parser.add_argument("--title", metavar="NAME", default="", help="what it is called")
    _output_takes(parser, "where to write the pattern file")


def _new(options: argparse.Namespace) -> int:
    if options.shape is None:
        return _write_on_screen(options)
    from tracker.cli.new import NewRequest, write_shape

    return write_shape(
        NewRequest(
            options.shape,
            options.across,
            options.gauge,
            options.weight,
            options.title,
            options.output,
            options.replace,
        )
    )


def _write_on_screen(options: argparse.Namespace) -> int:
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        print("a pattern is written on a terminal; or say which --shape it is to have", file=sys.stderr)
        return ExitCode.REFUSED
    _begin_screen()
    from tracker.tui.app import begin_on_screen

    return begin_on_screen(options.data, "write")


def _draw_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    parser.add_argument("--piece", metavar="NAME", help="which piece; all of them if left out")
    parser.add_argument(
        "--round", metavar="N", type=int, help="this round only; with --outline, as it stands after it"
    )
    parser.add_argument("--outline", action="store_true", help="the piece as seen, and not its chart")
    parser.add_argument("--terms", choices=("US", "UK"), help="the terms of the key; the pattern's own if left out")
    _output_takes(parser, "as an SVG file")


def _draw(options: argparse.Namespace) -> int:
    from tracker.cli.draw import draw_file

    return draw_file(
        options.pattern, options.piece, options.round, options.outline, options.terms, options.output, options.replace
    )


def _measure_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    parser.add_argument("--json", action="store_true", help="as JSON, for other programs")
    parser.add_argument("--gauge", metavar="SxR", default="", help="stitches by rounds over 10 cm, such as 20x22")
    swatch = parser.add_argument_group("yarn, from a swatch or from a ball that was weighed")
    swatch.add_argument("--swatch-grams", metavar="G", type=float, help="what the swatch weighs")
    swatch.add_argument("--swatch-stitches", metavar="N", type=int, help="how many stitches it has")
    swatch.add_argument(
        "--swatch-kind", metavar="STITCH", default="sc", help="which stitch, in US terms; sc if left out"
    )
    swatch.add_argument(
        "--scale-step", metavar="G", type=float, default=1.0, help="what the scale tells apart; 1 g if left out"
    )
    swatch.add_argument(
        "--weighed",
        nargs=4,
        action="append",
        default=[],
        metavar=("BEFORE", "AFTER", "PIECE", "ROUNDS"),
        help="grams of the ball before and after these rounds of a piece; as often as you like",
    )
    swatch.add_argument(
        "--left", metavar="YARN=G", action="append", default=[], help="grams left of a yarn: will they last?"
    )
    fit = parser.add_argument_group("the same pattern in another size")
    fit.add_argument("--fit", metavar="LENGTH", default="", help="written anew to this diameter, such as 8cm")
    fit.add_argument("--fit-gauge", metavar="SxR", default="", help="written anew for this gauge")
    _output_takes(fit, "the pattern written anew, as a new pattern file")


def _measure(options: argparse.Namespace) -> int:
    from tracker.cli.measure import MeasureRequest, measure_file

    request = MeasureRequest(
        as_json=options.json,
        gauge=options.gauge,
        swatch_grams=options.swatch_grams,
        swatch_stitches=options.swatch_stitches,
        swatch_kind=options.swatch_kind,
        scale_step=options.scale_step,
        weighed=options.weighed,
        balls_left=options.left,
        fit_diameter=options.fit,
        fit_gauge=options.fit_gauge,
        output=options.output,
        replace_file=options.replace,
    )
    return measure_file(options.pattern, request, options.data)


def _write_takes(parser: argparse.ArgumentParser) -> None:
    _one_pattern(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--text", dest="form", action="store_const", const="text", help="plain text, not Markdown")
    form.add_argument("--html", dest="form", action="store_const", const="html", help="one page for print")
    form.add_argument("--history", metavar="FILE", type=Path, help="what was done, to take to another machine")
    form.add_argument("--history-from", metavar="FILE", type=Path, help="take in what was done on another machine")
    _output_takes(parser, "a new file; standard output if left out")
    parser.add_argument("--terms", choices=("US", "UK"), help="the terms to write in; the pattern's own if left out")
    parser.add_argument("--spoken", action="store_true", help="each round as it is said to a class")
    parser.add_argument("--as-made", action="store_true", help="with what you really made: counts, notes, times")
    parser.add_argument("--as-printed", action="store_true", help="without the lines that you mended")
    parser.add_argument("--no-pictures", action="store_true", help="words only")


def _write(options: argparse.Namespace) -> int:
    from tracker.cli.write import WriteRequest, take_in_history, write_file, write_history

    if options.history is not None:
        return write_history(options.pattern, options.data, options.history, options.replace)
    if options.history_from is not None:
        return take_in_history(options.pattern, options.data, options.history_from)
    pictures = not options.no_pictures
    request = WriteRequest(
        options.form,
        options.output,
        options.terms,
        options.spoken,
        options.as_made,
        pictures,
        options.replace,
        options.as_printed,
    )
    return write_file(options.pattern, request, options.data)


COMMANDS: tuple[CommandEntry, ...] = (
    CommandEntry(
        "work",
        "work a pattern and keep your place",
        _work_takes,
        _work,
        ("rounds work toadstool", "rounds work mitten.toml --plain"),
    ),
    CommandEntry("place", "tell the saved place in a pattern", _place_takes, _place, ("rounds place toadstool",)),
    CommandEntry(
        "check",
        "check the counts of every round",
        _check_takes,
        _check,
        ("rounds check mitten.toml", "rounds check toadstool lighthouse --json"),
    ),
    CommandEntry(
        "read",
        "make a pattern file of a written pattern",
        _read_takes,
        _read,
        ("rounds read mitten.txt -o mitten.toml", "rounds read mitten.txt --terms UK -o mitten.toml"),
    ),
    CommandEntry(
        "new",
        "write a new pattern: from a shape, or as you make it",
        _new_takes,
        _new,
        ("rounds new", 'rounds new --shape ball --across 8cm --gauge "22 sc x 24 rounds" -o ball.toml'),
    ),
    CommandEntry(
        "measure",
        "tell size, yarn and time, or fit another size",
        _measure_takes,
        _measure,
        ("rounds measure toadstool --gauge 20x22", "rounds measure toadstool --fit 8cm -o small.toml"),
    ),
    CommandEntry(
        "draw",
        "draw charts and outlines",
        _draw_takes,
        _draw,
        ("rounds draw toadstool --piece Cap", "rounds draw toadstool --piece Cap --round 3 -o round-3.svg"),
    ),
    CommandEntry(
        "write",
        "write a pattern out, to make or teach from",
        _write_takes,
        _write,
        ("rounds write toadstool --html -o toadstool.html", "rounds write toadstool --history toadstool.jsonl"),
    ),
)


def parser(verb_name: str = "") -> tuple[Parser, dict[str, Parser]]:
    """The parser of the whole command, and that of each verb, or only of `verb_name` if it is named: all of them
    together take as long as the start of Python. `--data` may stand before or after the verb.
    """
    shared = Parser(add_help=False)
    shared.add_argument(
        "--data",
        metavar="FOLDER",
        type=_folder,
        default=argparse.SUPPRESS,
        help="where your places are kept (also: the environment variable ROUNDS_DATA)",
    )
    whole = Parser(
        "rounds",
        description="Keeps your place in a crochet pattern. Alone it lists what you make and what you could begin.",
        epilog=_listed(f"{command.examples[0]:<50} {command.summary}" for command in COMMANDS),
        parents=[shared],
        allow_abbrev=False,
    )
    whole.add_argument("--version", action="store_true", help="tell which version this is")
    whole.add_argument("--completion", choices=SHELLS, help="what a shell is to run so that it completes words")
    verbs = whole.add_subparsers(title="commands", prog="rounds", metavar="COMMAND", parser_class=Parser)
    by_name: dict[str, Parser] = {}
    for command in [each for each in COMMANDS if verb_name in ("", each.name)]:
        verb = by_name[command.name] = verbs.add_parser(
            command.name,
            help=command.summary,
            description=command.summary,
            epilog=_listed(command.examples),
            parents=[shared],
            allow_abbrev=False,
        )
        command.takes(verb)
        verb.set_defaults(run=command.run, verb=command.name)
    return whole, by_name


def _listed(examples: Iterable[str]) -> str:
    return "\n".join(["for example:", *(f"  {example}" for example in examples)])


def _folder(word: str) -> Path:
    """A folder by its name; an empty one would be the folder that one happens to stand in."""
    if not word:
        raise argparse.ArgumentTypeError("the name of a folder is empty")
    return Path(word)


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the arguments say; those of the command line by default. The exit code."""
    gc.set_threshold(MANY)
    atexit.register(gc.freeze)  # Python would go through all that there is before it ends
    prepare_streams()
    words = list(sys.argv[1:] if arguments is None else arguments)
    data: Path | None = None
    try:
        options = _understood(words)
        data = options.data
        code = options.run(options)
        sys.stdout.flush()
    except BrokenPipeError:
        let_go_of_output()
        return ExitCode.UNHEARD
    except SystemExit as leaving:
        if isinstance(leaving.__context__, BrokenPipeError):  # Rich leaves by itself where nobody reads on
            return ExitCode.UNHEARD
        raise
    except KeyboardInterrupt:
        return ExitCode.INTERRUPTED
    except OSError as trouble:
        let_go_of_output()
        reason = (trouble.strerror or str(trouble)).lower()
        print(f"rounds: {clean(str(trouble.filename or 'standard output'))}: {reason}", file=sys.stderr)
        return ExitCode.REFUSED
    except Exception as fault:  # whatever it is, a maker gets a sentence and not a page of code
        from tracker.cli.fault_report import tell_fault
        from tracker.journal.paths import data_folder

        tell_fault(fault, words, data_folder(data))
        return ExitCode.FAULT
    return int(code)


def _understood(words: Sequence[str]) -> argparse.Namespace:
    if "_ARGCOMPLETE" in os.environ:
        from tracker.cli.completion import complete

        complete(*parser())
    words, verb = with_command(words, [command.name for command in COMMANDS], Parser("rounds"))
    whole, by_verb = parser("" if {"-h", "--help"} & set(words) else verb)
    try:
        options, extra = whole.parse_known_args(words)
    except SystemExit:
        sys.stdout.flush()  # a full device is told also of the help
        raise
    if extra:
        by_verb.get(getattr(options, "verb", ""), whole).refuse_unknown(extra)
    options.data = getattr(options, "data", None)
    if options.version:
        options.run = _tell_version
    elif options.completion:
        options.run = _tell_completion
    else:
        options.run = getattr(options, "run", _projects)
    return options


def _tell_version(options: argparse.Namespace) -> int:
    from tracker.cli.fault_report import version_words

    print(f"rounds {version_words()}")
    return ExitCode.DONE


def _tell_completion(options: argparse.Namespace) -> int:
    from tracker.cli.completion import shell_words

    print(shell_words(options.completion))
    return ExitCode.DONE


def _projects(options: argparse.Namespace) -> int:
    if sys.stdin.isatty() and sys.stdout.isatty():
        from tracker.cli.shipped_patterns import shipped

        _begin_screen()
        from tracker.tui.app import choose_on_screen

        return choose_on_screen(options.data, shipped())
    from tracker.cli.projects import list_projects

    return list_projects(options.data)
