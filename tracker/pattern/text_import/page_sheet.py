"""A page before it is kept: what was understood of each line, and what the maker says of it.

A sheet is made anew from the text and all that was decided, so that nothing depends on the order of the decisions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from functools import cached_property
from typing import Any

from tracker.lazy_dataclass import dataclass, field, replace
from tracker.pattern.loader import loads
from tracker.pattern.mending import mended
from tracker.pattern.model import Correction, Pattern, Round
from tracker.pattern.text_import.draft_assembly import FromText, from_text
from tracker.pattern.text_import.draft_parts import Outcome
from tracker.pattern.text_import.line_labelling import Label
from tracker.pattern.toml_writer import Draft, as_toml

KINDS: Mapping[str, Label] = {"round": Label.ROUND, "note": Label.REMARK, "name": Label.NAME}
"""What the maker can say that a line is."""


@dataclass(frozen=True, slots=True)
class Decisions:
    """What the maker said of a page, units by their numbers: what they are, what the piece is called that a unit is
    the first of, and how a line is mended: as it should read, or how many stitches it leaves.
    """

    terms: str = ""
    size: int = 1
    title: str = ""
    moved: Mapping[int, str] = field(default_factory=dict)
    names: Mapping[int, str] = field(default_factory=dict)
    mends: Mapping[int, str | int] = field(default_factory=dict)

    def written(self) -> dict[str, Any]:
        """As plain values, for JSON."""
        return asdict(self)


def decisions_in(plain: Mapping[str, Any]) -> Decisions:
    """The decisions that were written. Raises ValueError for anything else."""
    try:
        kinds: dict[str, type | tuple[type, ...]] = {"moved": str, "names": str, "mends": (str, int)}
        tables = {name: {int(unit): value for unit, value in plain[name].items()} for name in kinds}
        sound = all(isinstance(value, kinds[name]) for name, table in tables.items() for value in table.values())
        plainly = isinstance(plain["terms"], str) and isinstance(plain["title"], str) and type(plain["size"]) is int
        if not (sound and plainly and all(value in KINDS for value in tables["moved"].values())):
            raise ValueError("other decisions")
        return Decisions(plain["terms"], plain["size"], plain["title"], **tables)
    except (AttributeError, KeyError, TypeError) as wrong:
        raise ValueError("no decisions of a page") from wrong


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A unit of the page: what became of it, and the rounds of its piece, by their indexes, that it is for."""

    outcome: Outcome
    rounds: tuple[int, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """A page as it is understood by now. `printed` is the pattern as it stands there."""

    text: str
    decided: Decisions
    page: FromText
    draft: Draft
    source: str
    printed: Pattern
    lines: tuple[SheetLine, ...]

    @cached_property
    def corrections(self) -> tuple[Correction, ...]:
        """How lines are mended, as the project takes it over."""
        return tuple(
            Correction(line.outcome.piece, line.rounds[0], *_as_mended(self.decided.mends[line.outcome.unit]))
            for line in self.lines
            if line.rounds and line.outcome.unit in self.decided.mends
        )

    @cached_property
    def pattern(self) -> Pattern:
        """The pattern with what was mended."""
        return mended(self.printed, self.corrections)

    def rounds_of(self, line: SheetLine) -> tuple[Round, ...]:
        """The rounds that a line is for, as they are worked."""
        rounds = self.pattern.pieces[line.outcome.piece].rounds if line.rounds else ()
        return tuple(rounds[index] for index in line.rounds if index < len(rounds))

    def first_unit(self, piece: int) -> int:
        """The unit by which the name of a piece is remembered."""
        return next((line.outcome.unit for line in self.lines if line.outcome.piece == piece), -1)


def _as_mended(mend: str | int) -> tuple[str, int | None]:
    return ("", mend) if isinstance(mend, int) else (mend, None)


def sheet_of(text: str, decided: Decisions) -> Sheet:
    """The page with these decisions. Raises `TermsUnclear` where they do not tell the terms and the words do not
    either, and `UnreadableFile` where no pattern can be made of it."""
    moved = {unit: KINDS[kind] for unit, kind in decided.moved.items()}
    page = from_text(text, decided.terms or None, decided.size, moved=moved)
    pieces = list(page.draft.pieces)
    for outcome in reversed(page.outcomes):
        if outcome.piece >= 0 and outcome.unit in decided.names:
            pieces[outcome.piece] = replace(pieces[outcome.piece], name=decided.names[outcome.unit])
    draft = replace(page.draft, title=decided.title or page.draft.title, pieces=tuple(pieces))
    source = as_toml(draft)
    printed = loads(source)
    places = _places(printed)
    lines = tuple(SheetLine(outcome, places.get((outcome.piece, outcome.at), ())) for outcome in page.outcomes)
    return Sheet(text, decided, page, draft, source, printed, lines)


def _places(pattern: Pattern) -> dict[tuple[int, int], tuple[int, ...]]:
    """The rounds, by their indexes, that begin on each line of each piece."""
    places: dict[tuple[int, int], tuple[int, ...]] = {}
    for piece, whole in enumerate(pattern.pieces):
        for index, item in enumerate(whole.rounds):
            place = piece, item.line - whole.at[0]
            places[place] = (*places.get(place, ()), index)
    return places


def with_corrections(sheet: Sheet, corrections: tuple[Correction, ...]) -> Sheet:
    """The sheet with its lines mended like this."""
    by_place = {correction.is_for: correction for correction in corrections}
    mends: dict[int, str | int] = {}
    for line in sheet.lines:
        own = by_place.get((line.outcome.piece, line.rounds[0])) if line.rounds else None
        if own is not None:
            mends[line.outcome.unit] = own.text if own.leaves is None else own.leaves
    return replace(sheet, decided=replace(sheet.decided, mends=mends))
