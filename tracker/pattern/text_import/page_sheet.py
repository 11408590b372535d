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
from tracker.pattern.text_import.draft_parts import Told
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
        tables = {name: {int(unit): said for unit, said in plain[name].items()} for name in kinds}
        sound = all(isinstance(said, kinds[name]) for name, table in tables.items() for said in table.values())
        plainly = isinstance(plain["terms"], str) and isinstance(plain["title"], str) and type(plain["size"]) is int
        if not (sound and plainly and all(said in KINDS for said in tables["moved"].values())):
            raise ValueError("other decisions")
        return Decisions(plain["terms"], plain["size"], plain["title"], **tables)
    except (AttributeError, KeyError, TypeError) as wrong:
        raise ValueError("no decisions of a page") from wrong


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A unit of the page: what became of it, and the rounds of its piece, by their indexes, that it is for."""

    told: Told
    rounds: tuple[int, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """A page as it is understood by now. `printed` is the pattern as it stands there."""

    text: str
    decided: Decisions
    found: FromText
    draft: Draft
    source: str
    printed: Pattern
    lines: tuple[SheetLine, ...]

    @cached_property
    def corrections(self) -> tuple[Correction, ...]:
        """How lines are mended, as the project takes it over."""
        return tuple(
            Correction(line.told.piece, line.rounds[0], *_as_mended(self.decided.mends[line.told.unit]))
            for line in self.lines
            if line.rounds and line.told.unit in self.decided.mends
        )

    @cached_property
    def pattern(self) -> Pattern:
        """The pattern with what was mended."""
        return mended(self.printed, self.corrections)

    def rounds_of(self, line: SheetLine) -> tuple[Round, ...]:
        """The rounds that a line is for, as they are worked."""
        rounds = self.pattern.pieces[line.told.piece].rounds if line.rounds else ()
        return tuple(rounds[index] for index in line.rounds if index < len(rounds))

    def first_unit(self, piece: int) -> int:
        """The unit by which the name of a piece is remembered."""
        return next((line.told.unit for line in self.lines if line.told.piece == piece), -1)


def _as_mended(mend: str | int) -> tuple[str, int | None]:
    return ("", mend) if isinstance(mend, int) else (mend, None)


def sheet_of(text: str, decided: Decisions) -> Sheet:
    """The page with these decisions. Raises `TermsUnclear` where they do not tell the terms and the words do not
    either, and `UnreadableFile` where no pattern can be made of it."""
    moved = {unit: KINDS[kind] for unit, kind in decided.moved.items()}
    found = from_text(text, decided.terms or None, decided.size, moved=moved)
    pieces = list(found.draft.pieces)
    for told in reversed(found.told):
        if told.piece >= 0 and told.unit in decided.names:
            pieces[told.piece] = replace(pieces[told.piece], name=decided.names[told.unit])
    draft = replace(found.draft, title=decided.title or found.draft.title, pieces=tuple(pieces))
    source = as_toml(draft)
    printed = loads(source)
    places = _places(printed)
    lines = tuple(SheetLine(told, places.get((told.piece, told.at), ())) for told in found.told)
    return Sheet(text, decided, found, draft, source, printed, lines)


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
        own = by_place.get((line.told.piece, line.rounds[0])) if line.rounds else None
        if own is not None:
            mends[line.told.unit] = own.text if own.leaves is None else own.leaves
    return replace(sheet, decided=replace(sheet.decided, mends=mends))
