"""A pasted plain-text pattern to a draft of a pattern file.

Rounds go to the pieces whose headings stand over them; what is said between them stays where it stood. Nothing is
dropped: a line that has no place of its own is kept as a note, and is told.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from enum import Enum

from tracker.notation.cursor import Context
from tracker.notation.fold import clean, fold
from tracker.notation.headings import Heading, heading
from tracker.notation.line import read_line
from tracker.notation.rows import acts
from tracker.notation.tree import Role
from tracker.pattern.draft import Draft, DraftPiece
from tracker.pattern.entries import begins
from tracker.pattern.materials import gauge_in, hook_in, yarns_in
from tracker.pattern.model import Gauge, Start, Yarn
from tracker.pattern.piece_names import is_plain_name, named_round, numbered_name, piece_name, stands_out, times_made
from tracker.pattern.text_sections import section_in
from tracker.pattern.text_terms import guess_terms

MAX_LINES = 50_000


class Fate(Enum):
    """What became of a line."""

    ROUND = "round"
    PLACED = "placed"
    NOTE = "kept as a note"
    EYE = "needs your eye"


@dataclass(frozen=True, slots=True)
class Told:
    """One line of the text: its number from 1, what became of it, and why, where that is worth saying."""

    line: int
    text: str
    fate: Fate
    why: str = ""


@dataclass(frozen=True, slots=True)
class FromText:
    """The draft and the story of every line. `terms_why` says how US or UK terms were told apart."""

    draft: Draft
    told: tuple[Told, ...]
    terms_why: str


@dataclass
class _Sorting:
    """The text on its way into the draft."""

    context: Context
    section: str = ""
    title: str = ""
    hook: str = ""
    gauge: Gauge | None = None
    yarns: list[Yarn] = field(default_factory=list)
    notions: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    pieces: list[_Part] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    waiting: _Part | None = None
    """A piece heading whose rounds have not come yet, with the lines under it."""
    following: list[str] = field(default_factory=list)
    """The next few lines below the one that is being sorted."""
    told: list[Told] = field(default_factory=list)


@dataclass
class _Part:
    name: str
    make: int = 1
    line: int = 0
    text: str = ""
    lines: list[str] = field(default_factory=list)
    last_number: int = 0
    turns: int = 0
    joins: int = 0
    rows: int = 0
    rounds: int = 0


def from_text(text: str, terms: str | None = None) -> FromText:
    """Sort a pasted pattern. Raises `TermsUnclear` if `terms` is None and the words do not tell."""
    lines = clean(text).split("\n")[:MAX_LINES]
    terms, why = (terms, "as you said") if terms else guess_terms("\n".join(lines))
    sorting = _Sorting(Context(terms=terms))
    for number, line in enumerate(lines, 1):
        sorting.following = lines[number : number + _BLANK_LINES]
        _sort(sorting, number, line)
    _give_up_waiting(sorting)
    return FromText(_draft(sorting, terms), tuple(sorted(sorting.told, key=lambda t: t.line)), why)


def _sort(sorting: _Sorting, number: int, line: str) -> None:
    stripped = line.strip().strip("•").strip()
    if not stripped:
        return
    numbered = _numbered_name(sorting, stripped)
    if numbered:
        _name_of_piece(sorting, number, stripped, numbered)
        return
    if _is_round(sorting, stripped):
        _round(sorting, number, stripped)
        return
    section = section_in(stripped)
    if section is not None:
        _open_section(sorting, number, stripped, *section)
        return
    named = named_round(stripped, sorting.context) if sorting.section != "abbreviations" else None
    if named is not None:
        _give_up_waiting(sorting)
        name, make, beginning = named
        sorting.waiting = _Part(name, make)
        _round(sorting, number, beginning)
        return
    if not sorting.title and not sorting.pieces and not sorting.section:
        sorting.title = stripped.strip("*#=- ")
        sorting.told.append(Told(number, stripped, Fate.PLACED, "title"))
        return
    _by_section(sorting, number, stripped)


_BLANK_LINES = 4
"""How many lines on the first round may stand below the name of its piece."""


def _is_before_round(sorting: _Sorting) -> bool:
    """Whether the next line that says anything is a round."""
    after = next((line.strip() for line in sorting.following if line.strip()), "")
    return bool(after) and _is_round(sorting, after)


def _numbered_name(sorting: _Sorting, line: str) -> str:
    """The name in "2. MUZZLE" over a first round, or over anything that is not Rnd 3; "" if it is none."""
    number, named = numbered_name(line, sorting.context)
    if not named or not _is_before_round(sorting):
        return ""
    after = next(line for line in sorting.following if line.strip())
    return piece_name(named, sorting.context) if heading(fold(after)).numbers[:1] != (number + 1,) else ""


def _name_of_piece(sorting: _Sorting, number: int, line: str, name: str) -> None:
    _give_up_waiting(sorting)
    sorting.waiting = _Part(name, times_made(line), number, line)


def _is_round(sorting: _Sorting, line: str) -> bool:
    head = heading(fold(line))
    if head.end == 0 or not (head.numbers or head.is_next):
        return False
    if sorting.section == "making up" and not re.match(r"\W*(?:rnd|round|row|r\d)", fold(line)):
        return False
    read = read_line(line, sorting.context)
    return bool(read.reference or not read.is_readable or read.stated or acts(read.body))


def _round(sorting: _Sorting, number: int, line: str) -> None:
    head = heading(fold(line))
    part = _part_for(sorting, number, head)
    sorting.section = "rounds"
    read = read_line(line, sorting.context)
    part.lines.append(line)
    part.rounds += max(len(head.numbers), 1)
    part.rows += max(len(head.numbers), 1) if head.is_row else 0
    if head.end:
        part.last_number = head.numbers[-1] if head.numbers else part.last_number + 1
    names = [act.name for act in acts(read.body)]
    part.turns += "turn" in names
    part.joins += "join" in names
    trouble = [p.message for p in read.problems] if not read.is_readable else []
    fate = Fate.EYE if trouble else Fate.ROUND
    sorting.told.append(Told(number, line, fate, "; ".join(trouble)))


def _part_for(sorting: _Sorting, number: int, head: Heading) -> _Part:
    """The piece that a round belongs to: the one whose name stands over it, the one before, or a new one."""
    before, named = sorting.pieces[-1] if sorting.pieces else None, sorting.waiting
    sorting.waiting = None
    if before is not None and named is not None and _numbers_go_on(before, named, head):
        before.lines += [named.text, *named.lines]
        sorting.told.append(Told(named.line, named.text, Fate.NOTE, f"part of '{before.name}': the numbers go on"))
        return before
    if named is not None and named.text:
        sorting.told.append(Told(named.line, named.text, Fate.PLACED, f"piece '{named.name}'"))
    elif named is None and before is not None and not (head.numbers and head.numbers[0] == 1 and before.last_number):
        return before
    part = named or _Part(f"Piece {len(sorting.pieces) + 1}", line=number)
    sorting.pieces.append(part)
    return part


def _numbers_go_on(before: _Part, named: _Part, head: Heading) -> bool:
    """ "Sides" over "Rnd 6" behind a base of five rounds names a part of the piece, and no other one."""
    return named.make == 1 and head.numbers[:1] == (before.last_number + 1,) and before.last_number > 0


def _open_section(sorting: _Sorting, number: int, line: str, name: str, rest: str) -> None:
    _give_up_waiting(sorting)
    sorting.section = name
    sorting.told.append(Told(number, line, Fate.PLACED, name))
    if rest:
        _by_section(sorting, number, rest, already_told=True)


def _by_section(sorting: _Sorting, number: int, line: str, *, already_told: bool = False) -> None:
    placed = ""
    name = _piece_name(sorting, line)
    if sorting.section == "making up":
        sorting.steps.append(line.lstrip("-*0123456789.) "))
        placed = "making up"
    elif name:
        _name_of_piece(sorting, number, line, name)
        return
    elif sorting.section in ("materials", "gauge", ""):
        placed = _material(sorting, line)
    if placed:
        if not already_told:
            sorting.told.append(Told(number, line, Fate.PLACED, placed))
        return
    if sorting.waiting is not None:
        _under_a_name(sorting, sorting.waiting, number, line)
        return
    if sorting.section == "rounds":
        _between_rounds(sorting, number, line)
        return
    _keep(sorting, number, line, "", silent=already_told)


def _give_up_waiting(sorting: _Sorting) -> None:
    """No round came under what looked like the name of a piece."""
    part, sorting.waiting = sorting.waiting, None
    if part is None:
        return
    _keep(sorting, part.line, part.text, "looked like the name of a piece, and no round follows")
    sorting.notes += part.lines


def _under_a_name(sorting: _Sorting, part: _Part, number: int, line: str) -> None:
    """A line between the name of a piece and its first round stays there, or is its only round, without a number."""
    if begins(line, sorting.context):
        _round(sorting, number, line)
        return
    part.lines.append(line)
    sorting.told.append(Told(number, line, Fate.NOTE))


def _between_rounds(sorting: _Sorting, number: int, line: str) -> None:
    """A line between rounds stays where it is: the reader takes a colour, a continuation or a remark from it."""
    part = sorting.pieces[-1]
    part.lines.append(line)
    read = read_line(line, sorting.context)
    if read.reference is not None and read.is_readable:
        sorting.told.append(Told(number, line, Fate.ROUND))
        return
    makes = read.is_readable and any(act.role is not Role.STEP for act in acts(read.body))
    why = "has stitches and no round number: is it part of the round before?" if makes else ""
    sorting.told.append(Told(number, line, Fate.EYE if makes else Fate.NOTE, why))


def _keep(sorting: _Sorting, number: int, line: str, why: str, *, silent: bool = False) -> None:
    sorting.notes.append(line)
    if not silent:
        sorting.told.append(Told(number, line, Fate.NOTE, why))


def _material(sorting: _Sorting, line: str) -> str:
    """Hook, gauge or yarns out of a line of the materials; "" if it is none of them."""
    found: list[str] = []
    hook, gauge = hook_in(line), gauge_in(line)
    if hook and not sorting.hook:
        sorting.hook = hook
        found.append("hook")
    if gauge is not None and sorting.gauge is None:
        sorting.gauge = gauge
        found.append("gauge")
    known = {yarn.key for yarn in sorting.yarns}
    new = [yarn for yarn in yarns_in(line) if yarn.key not in known] if sorting.section == "materials" else []
    sorting.yarns += new
    found += [f"yarn {yarn.key}" for yarn in new]
    if sorting.section == "materials" and (not found or line.strip() not in (sorting.hook,)):
        sorting.notions.append(line.lstrip("-*• "))
        found.append("materials")
    elif found:
        sorting.notes.append(line)
    return ", ".join(found)


def _piece_name(sorting: _Sorting, line: str) -> str:
    """The name of a piece, if the line may be one where it stands; "" if not."""
    listed = sorting.section in ("materials", "abbreviations")
    if sorting.section == "gauge" and not is_plain_name(line):
        return ""
    if listed and not (stands_out(line) or (is_plain_name(line) and _is_before_round(sorting))):
        return ""
    return piece_name(line, sorting.context)


def _draft(sorting: _Sorting, terms: str) -> Draft:
    return Draft(
        title=sorting.title,
        terms=terms,
        hook=sorting.hook,
        notions=tuple(sorting.notions),
        notes=tuple(sorting.notes),
        gauge=sorting.gauge,
        yarns=tuple(sorting.yarns),
        pieces=tuple(_piece(part) for part in sorting.pieces),
        making_up=tuple(step for step in sorting.steps if step),
    )


def _piece(part: _Part) -> DraftPiece:
    return DraftPiece(part.name, "\n".join(part.lines), part.make, _start(part))


def _start(part: _Part) -> Start:
    """How the piece goes on, by what most of its rounds say; "Row" alone is also what some call a round."""
    if part.turns * 2 > part.rounds or (part.turns and part.rows * 2 > part.rounds):
        return Start.ROWS
    return Start.JOINED if part.joins * 2 > part.rounds else Start.SPIRAL
