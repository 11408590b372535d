"""`rounds draw`: charts and outlines, painted on standard output or written as SVG files."""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from rich.console import Console
from rich.text import Text

from tracker.cli.exit_codes import ExitCode
from tracker.cli.open_project import load_or_tell
from tracker.cli.output import Unwritable, refuse_present, write_new
from tracker.drawing.styled_text import PictureLine, Style, half_block
from tracker.drawing.yarn_letters import inks, lightness, short
from tracker.pattern.model import Pattern, Piece
from tracker.reports.pictures import ChartPicture, ObjectPicture, OutlinePicture, Picture
from tracker.suggestion import suggestion

MOST_PIECES = 50
"""Pieces that are drawn at once; of a pattern with more the maker names one."""
_MANY_COLOURS = ("256", "truecolor")
"""With fewer colours light and shade of one yarn cannot be told apart, and its letters are shown."""
_AROUND = 3
"""Lines of the terminal that a drawing leaves free."""
_STYLES = {Style.HEADING: "bold", Style.NUMBER: "bold", Style.QUIET: "dim", Style.AHEAD: "dim"}
_IN_ASCII = str.maketrans("•†‡·→←↻…", "*tl.><)~")
"""Signs of drawings in terminals without them; no other sign looks like one of these."""


class _CannotDraw(Exception):
    """What was asked for cannot be drawn; the message says why and what to do."""


def draw_file(
    name: str,
    piece_name: str | None = None,
    round_number: int | None = None,
    as_outline: bool = False,
    terms: str | None = None,
    output: Path | None = None,
    replace_files: bool = False,
) -> int:
    """Draw the pieces of a pattern, or one piece, or one round of it; 0 when drawn, 2 when that is not possible.

    An outline shows all pieces together; with a piece that one, and with a round number as it stands after it. With
    `output` the pictures are written as SVG, several charts into files of their own beside it; files that are there
    are left alone, and nothing is written, unless `replace_files`.
    """
    pattern_file = load_or_tell(name)
    if pattern_file is None:
        return ExitCode.REFUSED
    _, pattern = pattern_file
    try:
        pictures = _pictures(pattern, piece_name, round_number, as_outline, terms or pattern.terms)
        if output is None:
            _paint(pattern, pictures)
        else:
            _write(pictures, output, replace_files)
    except (_CannotDraw, Unwritable) as reason:
        print(f"rounds draw: {reason}", file=sys.stderr)
        return ExitCode.REFUSED
    return ExitCode.DONE


def _pictures(
    pattern: Pattern, name: str | None, number: int | None, as_outline: bool, terms: str
) -> Sequence[Picture]:
    """What is asked for; an outline of no piece in particular shows all of them on one sheet."""
    if as_outline and name is None and number is None and len(pattern.pieces) > 1:
        whole = ObjectPicture.of(pattern)
        if whole is None:
            raise _CannotDraw("there is no outline: no round of this pattern could be measured")
        return [whole]
    return [_picture(pattern, piece, number, as_outline, terms) for piece in _pieces(pattern, name, number)]


def _pieces(pattern: Pattern, name: str | None, number: int | None) -> Sequence[Piece]:
    """The pieces that are meant; a round is drawn of one piece only."""
    names = [piece.name for piece in pattern.pieces]
    piece_names = ", ".join(short(each, 40) for each in names[:MOST_PIECES])
    if not names:
        raise _CannotDraw("there are no pieces in this pattern to draw")
    if name is not None:
        return [_piece_called(pattern, name, piece_names)]
    if number is not None and len(names) > 1:
        raise _CannotDraw(f"say which piece the round is of, with --piece: {piece_names}")
    if len(names) > MOST_PIECES:
        raise _CannotDraw(f"there are {len(names)} pieces: say which, with --piece: {piece_names}, …")
    return pattern.pieces


def _piece_called(pattern: Pattern, name: str, names: str) -> Piece:
    key = name.casefold().strip()
    by_name = {piece.name.casefold().strip(): piece for piece in reversed(pattern.pieces)}
    if key in by_name:
        return by_name[key]
    near = suggestion(key, by_name)
    hint = f"did you mean {short(by_name[near].name, 40)}?" if near else f"there are: {names}"
    raise _CannotDraw(f"there is no piece called {short(name, 40)}; {hint}")


def _picture(pattern: Pattern, piece: Piece, number: int | None, as_outline: bool, terms: str) -> Picture:
    index = None if number is None else _index(piece, number)
    if as_outline:
        picture = OutlinePicture.of(pattern, piece, index)
        if picture is None:
            raise _CannotDraw(f"{short(piece.name, 40)} has no outline: it has no rounds that could be measured")
        return picture
    return ChartPicture.of(pattern, piece, index, terms)


def _index(piece: Piece, number: int) -> int:
    numbers = [each.number for each in piece.rounds]
    if number in numbers:
        return numbers.index(number)
    rounds = f"its rounds are {min(numbers)} to {max(numbers)}" if numbers else "it has no rounds"
    raise _CannotDraw(f"{short(piece.name, 40)} has no round {number}; {rounds}")


def _paint(pattern: Pattern, pictures: Sequence[Picture]) -> None:
    """On standard output, in the colours of the yarns where the terminal has any."""
    console = Console(markup=False, highlight=False, emoji=False)
    size = shutil.get_terminal_size((80, 24))
    encoding = sys.stdout.encoding or "utf-8"
    in_colour = not console.no_color and console.color_system in _MANY_COLOURS and encoding.lower().startswith("utf")
    for number, picture in enumerate(pictures):
        if number:
            console.print()
        for each in picture.text(size.columns, max(8, size.lines - _AROUND)):
            painted_line = painted(writable(each, encoding), pattern, in_colour=in_colour)
            console.print(painted_line, no_wrap=True, overflow="ignore", crop=False)


def writable(each: PictureLine, encoding: str) -> PictureLine:
    """The line in characters that a terminal of this encoding has, one for one."""
    try:
        each.text.encode(encoding)
    except UnicodeEncodeError:
        return PictureLine(tuple(replace(bit, text=_in_ascii(bit.text)) for bit in each.bits))
    return each


def _in_ascii(text: str) -> str:
    return text.translate(_IN_ASCII).encode("ascii", "replace").decode("ascii")


def painted(each: PictureLine, pattern: Pattern, *, in_colour: bool = False) -> Text:
    """A line with its styles; a yarn is shown by the ground behind its letter, so that any yarn can be read.

    `in_colour` the cells of an outline are painted in two halves, as light falls on it.
    """
    text = Text()
    colours = {key: ink.colour for key, ink in inks(pattern, (bit.colour for bit in each.bits)).items()}
    for bit in each.bits:
        colour = colours.get(bit.colour, "")
        if in_colour and any(bit.halves):
            block, ink, ground = half_block(bit.halves)
            text.append(block * len(bit.text), f"{ink} on {ground}" if ground else ink)
        elif colour and bit.style in (Style.DONE, Style.LETTER):
            ink = "#000000" if lightness(colour) > 0.4 else "#ffffff"
            text.append(bit.text, f"{ink} on {colour}")
        else:
            text.append(bit.text, _STYLES.get(bit.style))
    return text


def _write(pictures: Sequence[Picture], output: Path, replace_files: bool) -> None:
    paths = _paths(pictures, output)
    refuse_present(paths, replace=replace_files)
    for picture, path in zip(pictures, paths, strict=True):
        write_new(picture.svg(), path, replace=replace_files)
        print(f"drawn: {path}")


def _paths(pictures: Sequence[Picture], output: Path) -> list[Path]:
    """The file itself for one picture; for several the names of the pieces are put behind its name."""
    if len(pictures) == 1:
        return [output]
    stem, suffix = output.stem, output.suffix or ".svg"
    paths: list[Path] = []
    for number, picture in enumerate(pictures, 1):
        words = re.sub(r"[^a-z0-9]+", "-", picture.name.casefold()).strip("-")[:40] or str(number)
        path = output.with_name(f"{stem}-{words}{suffix}")
        paths.append(path if path not in paths else output.with_name(f"{stem}-{words}-{number}{suffix}"))
    return paths
