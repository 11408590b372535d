"""A pasted plain-text pattern to a draft of a pattern file.

Rounds go to the pieces whose headings stand over them; what is said between them stays where it stood. Nothing is
dropped: a line that has no place of its own is kept as a note, and is told.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from tracker.normalize import clean, fold
from tracker.notation.ast import Technique
from tracker.notation.parser.heading import Heading, heading
from tracker.notation.token_stream import Context
from tracker.notation.traversal import acts
from tracker.pattern.model import Start
from tracker.pattern.round_splitter import begins, read_once
from tracker.pattern.text_import.borrowed_rounds import borrowed
from tracker.pattern.text_import.import_state import Fate, Part, Sorting, Told
from tracker.pattern.text_import.line_classifier import (
    LINES_AHEAD,
    ahead,
    ends_list,
    is_before_round,
    is_item,
    is_label,
    is_next_line,
    is_numbered_section,
    is_over_rounds,
    is_page_number,
    is_round,
    is_ruler,
    numbers_go_on,
    section_in,
    starts_rounds,
    tells_words,
    why_to_look,
)
from tracker.pattern.text_import.materials import gauge_in, guess_terms, hook_in, yarns_in
from tracker.pattern.text_import.piece_names import (
    is_bulleted,
    is_plain_name,
    named_round,
    numbered_name,
    piece_name,
    stands_out,
    times_made,
)
from tracker.pattern.toml_writer import Draft, DraftPiece

MAX_LINES = 50_000


@dataclass(frozen=True, slots=True)
class FromText:
    """The draft and the story of every line. `terms_why` says how US or UK terms were told apart."""

    draft: Draft
    told: tuple[Told, ...]
    terms_why: str


def from_text(text: str, terms: str | None = None) -> FromText:
    """Sort a pasted pattern. Raises `TermsUnclear` if `terms` is None and the words do not tell."""
    lines = clean(text).split("\n")[:MAX_LINES]
    terms, why = (terms, "as you said") if terms else guess_terms("\n".join(lines))
    sorting = Sorting(Context(terms=terms))
    for number, line in enumerate(lines, 1):
        sorting.following = lines[number : number + LINES_AHEAD]
        _sort(sorting, number, line)
        sorting.set_apart = not line.strip() or is_ruler(line)
    _give_up_waiting(sorting)
    told = {one.line: one for one in sorting.told}  # the heading of a section, and then what stands behind it
    return FromText(_draft(sorting, terms), tuple(told[line] for line in sorted(told)), why)


def _sort(sorting: Sorting, number: int, line: str) -> None:
    stripped = line.strip().strip("•").strip()
    if not stripped:
        return
    if is_ruler(stripped):
        sorting.told.append(Told(number, stripped, Fate.PLACED, "a line across the page"))
        return
    if sorting.taken:
        sorting.taken = False
        _keep(sorting, number, stripped, "the rest of the line above")
        return
    if is_page_number(stripped) and (sorting.title or not stripped.isdigit()):
        _keep(sorting, number, stripped, "the number of a page")
        return
    numbered = _numbered_name(sorting, stripped)
    if numbered:
        _name_of_piece(sorting, number, stripped, numbered)
        return
    if _borrows(sorting, number, stripped):
        return
    if is_round(sorting, stripped) and not (is_numbered_section(stripped) or is_label(stripped)):
        _round(sorting, number, stripped)
        return
    section = section_in(stripped)
    aside = sorting.section == "rounds" and section is not None and section[0] in ("notes", "about") and section[1]
    if section is not None and not aside and not is_item(stripped):
        _open_section(sorting, number, stripped, *section)
        return
    named = named_round(stripped, sorting.context) if sorting.section != "abbreviations" else None
    if named is not None:
        _give_up_waiting(sorting)
        name, make, beginning = named
        sorting.waiting = Part(name, make)
        _round(sorting, number, beginning)
        return
    if not sorting.title and not sorting.pieces and not sorting.section:
        sorting.title = stripped.strip("*#=- ")
        sorting.told.append(Told(number, stripped, Fate.PLACED, "title"))
        return
    _by_section(sorting, number, stripped)


def _numbered_name(sorting: Sorting, line: str) -> str:
    """The name in "2. MUZZLE" over a first round, or over anything that is not Rnd 3; "" if it is none."""
    if not is_before_round(sorting):
        return ""
    below = fold(ahead(sorting)[0])
    first = heading(below).numbers[:1] == (1,) and below[:1].isalpha()
    number, named = numbered_name(line, sorting.context, over_first=first)
    if not named:
        return ""
    after = heading(fold(ahead(sorting)[0]))
    return piece_name(named, sorting.context) if after.numbers[:1] != (number + 1,) else ""


def _name_of_piece(sorting: Sorting, number: int, line: str, name: str) -> None:
    """The line is the name of a piece, or of the first part of one that is made several times ("SHOE (make 2)")."""
    outer = sorting.waiting
    if outer is not None and outer.make > 1 and times_made(line) == 1 and not outer.lines:
        outer.lines.append(line)
        sorting.told.append(Told(number, line, Fate.NOTE, f"part of '{outer.name}'"))
        return
    _give_up_waiting(sorting)
    sorting.waiting = Part(name, times_made(line), number, line)
    if is_over_rounds(sorting):
        sorting.section = "name"


def _round(sorting: Sorting, number: int, line: str) -> None:
    head = heading(fold(line))
    part = _part_for(sorting, number, head, line)
    sorting.section = "rounds"
    read = read_once(line, sorting.context)
    part.placed.append((len(part.lines), head.numbers))
    part.lines.append(line)
    part.open_round = line
    part.is_worded = part.is_worded or re.search("[a-z]", fold(line)[: head.end]) is not None
    part.rounds += max(len(head.numbers), 1)
    part.rows += max(len(head.numbers), 1) if head.is_row else 0
    if head.end:
        part.last_number = head.numbers[-1] if head.numbers else part.last_number + 1
    techniques = [act.technique for act in acts(read.body)]
    part.turns += Technique.TURN in techniques
    part.joins += Technique.JOIN in techniques
    trouble = [p.message for p in read.problems] if not read.is_readable else []
    fate = Fate.EYE if trouble else Fate.ROUND
    sorting.told.append(Told(number, line, fate, "; ".join(trouble)))


def _borrows(sorting: Sorting, number: int, line: str) -> bool:
    """Write out the rounds that the line takes from another piece, and keep it as a note; False if it takes none."""
    goes_on = sorting.waiting is None
    sources = sorting.pieces[:-1] if goes_on else sorting.pieces
    if not sources or (goes_on and heading(fold(line)).numbers[:1] != (sorting.pieces[-1].last_number + 1,)):
        return False
    below = sorting.following[0].strip() if sorting.following else ""
    found = borrowed(line, sources)
    if found is None and below:
        found = borrowed(f"{line} {below}", sources)
        sorting.taken = found is not None
    if found is None:
        return False
    for written in found.lines:
        if is_round(sorting, written) or begins(written, sorting.context):
            _round(sorting, number, written)
        elif sorting.waiting is not None:
            sorting.waiting.lines.append(written)
        else:
            _between_rounds(sorting, number, written)
    _keep(sorting, number, line, f"the rounds of '{found.name}' are written out in its place")
    return True


def _part_for(sorting: Sorting, number: int, head: Heading, line: str) -> Part:
    """The piece that a round belongs to: the one whose name stands over it, the one before, or a new one."""
    before, named = sorting.pieces[-1] if sorting.pieces else None, sorting.waiting
    sorting.waiting = None
    if before is not None and named is not None and numbers_go_on(before, named, head, line):
        before.lines += [named.text, *named.lines]
        sorting.told.append(Told(named.line, named.text, Fate.NOTE, f"part of '{before.name}': the numbers go on"))
        return before
    if named is not None and named.text:
        sorting.told.append(Told(named.line, named.text, Fate.PLACED, f"piece '{named.name}'"))
    elif named is None and before is not None and not (head.numbers and head.numbers[0] == 1 and before.last_number):
        return before
    part = named or Part(f"Piece {len(sorting.pieces) + 1}", line=number)
    sorting.pieces.append(part)
    return part


def _open_section(sorting: Sorting, number: int, line: str, name: str, rest: str) -> None:
    _give_up_waiting(sorting)
    sorting.section = name
    if name == "about":
        if not _material(sorting, line, listed=False):
            sorting.notes.append(line)
        sorting.told.append(Told(number, line, Fate.NOTE))
        return
    sorting.told.append(Told(number, line, Fate.PLACED, name))
    if rest and name == "notes" and is_round(sorting, rest):
        _round(sorting, number, rest)
    elif rest:
        _by_section(sorting, number, rest, already_told=True)


def _by_section(sorting: Sorting, number: int, line: str, *, already_told: bool = False) -> None:
    placed = ""
    in_rounds = sorting.section == "rounds" and sorting.waiting is None and not sorting.set_apart
    if in_rounds and not stands_out(line) and is_next_line(sorting, line):
        _between_rounds(sorting, number, line)
        return
    name = _piece_name(sorting, line)
    if sorting.section == "making up":
        sorting.steps.append(line.lstrip("-*0123456789.) "))
        placed = "making up"
    elif name:
        _name_of_piece(sorting, number, line, name)
        return
    elif _may_tell_materials(sorting, line):
        listed = sorting.section == "materials" or is_item(line)
        over = not already_told and ends_list(sorting, line)
        placed = "" if over else _material(sorting, line, listed=listed)
    if placed:
        if not already_told:
            sorting.told.append(Told(number, line, Fate.PLACED, placed))
        return
    if sorting.waiting is None and starts_rounds(sorting, line):
        sorting.waiting = Part(f"Piece {len(sorting.pieces) + 1}", line=number)
    if sorting.waiting is not None:
        _under_a_name(sorting, sorting.waiting, number, line)
        return
    if sorting.section == "rounds":
        _between_rounds(sorting, number, line)
        return
    _keep(sorting, number, line, "", silent=already_told)


def _may_tell_materials(sorting: Sorting, line: str) -> bool:
    if sorting.section in ("materials", "gauge", ""):
        return True
    return not sorting.pieces and (is_item(line) or (sorting.section == "notes" and not starts_rounds(sorting, line)))


def _give_up_waiting(sorting: Sorting) -> None:
    """No round came under what looked like the name of a piece."""
    part, sorting.waiting = sorting.waiting, None
    if part is None:
        return
    if part.text:
        _keep(sorting, part.line, part.text, "looked like the name of a piece, and no round follows")
    sorting.notes += part.lines


def _under_a_name(sorting: Sorting, part: Part, number: int, line: str) -> None:
    """A line between the name of a piece and its first round stays there, or is its only round, without a number."""
    if begins(line, sorting.context) and not tells_words(line):
        _round(sorting, number, line)
        return
    part.lines.append(line)
    begun = any(
        act.technique in (Technique.FOUNDATION, Technique.RING) for act in acts(read_once(line, sorting.context).body)
    )
    why = "" if begun else why_to_look(sorting, line)
    sorting.told.append(Told(number, line, Fate.EYE if why else Fate.NOTE, why))


def _between_rounds(sorting: Sorting, number: int, line: str) -> None:
    """A line between rounds stays where it is: the reader takes a colour, a continuation or a remark from it."""
    part = sorting.pieces[-1]
    part.lines.append(line)
    read = read_once(line, sorting.context)
    if is_next_line(sorting, line):
        part.rests.add(len(part.lines) - 1)
        part.open_round = f"{part.open_round}\n{line}"
        whole = read_once(part.open_round, sorting.context)
        if whole.is_readable:
            sorting.told.append(Told(number, line, Fate.ROUND))
            _reads_as_a_whole(sorting, part.open_round.count("\n") + 1)
            return
    else:
        part.open_round = ""
    if read.reference is not None and read.is_readable:
        sorting.told.append(Told(number, line, Fate.ROUND))
        return
    why = why_to_look(sorting, line)
    sorting.told.append(Told(number, line, Fate.EYE if why else Fate.NOTE, why))


def _reads_as_a_whole(sorting: Sorting, lines: int) -> None:
    """The last lines told are one round, broken for the page, and need no eye together."""
    told = sorting.told[-lines:]
    sorting.told[-lines:] = [replace(one, fate=Fate.ROUND, why="") for one in told]


def _keep(sorting: Sorting, number: int, line: str, why: str, *, silent: bool = False) -> None:
    sorting.notes.append(line)
    if not silent:
        sorting.told.append(Told(number, line, Fate.NOTE, why))


def _material(sorting: Sorting, line: str, *, listed: bool) -> str:
    """What a line tells: a hook, a gauge, yarns, or one of the materials if it is `listed`; "" if nothing of that."""
    found: list[str] = []
    hook, gauge = hook_in(line), gauge_in(line)
    if hook and not sorting.hook:
        sorting.hook = hook
        found.append("hook")
    if gauge is not None and sorting.gauge is None:
        sorting.gauge = gauge
        found.append("gauge")
    known = {yarn.key for yarn in sorting.yarns}
    new = [yarn for yarn in yarns_in(line) if yarn.key not in known] if listed else []
    sorting.yarns += new
    found += [f"yarn {yarn.key}" for yarn in new]
    if listed and (not found or line.strip() not in (sorting.hook,)):
        sorting.notions.append(re.sub(r"^[^\w(\"'“‘{\[]+", "", line))
        found.append("materials")
    elif found:
        sorting.notes.append(line)
    return ", ".join(found)


def _piece_name(sorting: Sorting, line: str) -> str:
    """The name of a piece, if the line may be one where it stands; "" if not."""
    listed = sorting.section in ("materials", "abbreviations")
    if sorting.section == "gauge" and not (is_plain_name(line) or stands_out(line)):
        return ""
    name = piece_name(line, sorting.context)
    if not name or not listed or stands_out(line):
        return name
    sure = is_plain_name(line) and is_before_round(sorting)
    set_apart = sorting.set_apart and line[:1].upper() == line[:1] and not is_bulleted(line)
    return name if sure or (set_apart and is_over_rounds(sorting)) else ""


def _draft(sorting: Sorting, terms: str) -> Draft:
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


def _piece(part: Part) -> DraftPiece:
    return DraftPiece(part.name, "\n".join(part.lines), part.make, _start(part))


def _start(part: Part) -> Start:
    """How the piece goes on, by what most of its rounds say; "Row" alone is also what some call a round."""
    if part.turns * 2 > part.rounds or (part.turns and part.rows * 2 > part.rounds):
        return Start.ROWS
    return Start.JOINED if part.joins * 2 > part.rounds else Start.SPIRAL
