"""`rounds new`: a pattern from a shape and a size, or on the screen one that is written as it is made."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.output import Unwritable, write_new
from tracker.measure.shapes import CannotShape, Shape, shaped, stitches_of
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.toml_writer import as_toml
from tracker.reports.quantities import UnclearFigure, gauge_from_words, length_cm


@dataclass(frozen=True, slots=True)
class NewRequest:
    """What is wanted: a shape `across` a length, for a gauge or a yarn weight; where to, and what it is called."""

    shape: str
    across: str = ""
    gauge: str = ""
    weight: int | None = None
    title: str = ""
    output: Path | None = None
    replace_file: bool = False


def write_shape(request: NewRequest) -> int:
    """Write the pattern of a shape (standard output if no file is named); what it comes to goes to standard error."""
    try:
        across = length_cm(request.across or "8 cm")
        gauge = gauge_from_words(request.gauge) if request.gauge else None
        shaped_piece = shaped(Shape(request.shape), across, stitches_of(gauge, request.weight))
        text = as_toml(replace(shaped_piece.draft, title=request.title or shaped_piece.draft.title))
        if request.output is None:
            print(text, end="")
        else:
            write_new(text, request.output, replace=request.replace_file)
    except (CannotShape, UnclearFigure, Unwritable) as wrong:
        print(f"rounds new: {wrong}", file=sys.stderr)
        return ExitCode.REFUSED
    problems = all_problems(loads(text))
    print(f"{shaped_piece.source}", file=sys.stderr)
    print(f"about {shaped_piece.across:.1f} cm across and {shaped_piece.tall:.1f} cm the other way", file=sys.stderr)
    return ExitCode.FINDINGS if problems else ExitCode.DONE
