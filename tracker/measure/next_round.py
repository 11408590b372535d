"""Whole rounds that could come next in a piece that is written as it is made.

"same again", "as round 3", "to 40 stitches, evenly", "around": each is written out as a round of the notation, with
the changes spread evenly (see `resize_writer`).
"""

from __future__ import annotations

import re

from tracker.measure.resize_writer import EvenRound, write_rounds
from tracker.measure.size import measure_piece
from tracker.measure.stitch_sizes import StitchSize
from tracker.pattern.mending import as_printed
from tracker.pattern.model import Pattern, Piece, Round
from tracker.pattern.round_splitter import heading_of

_SAME = re.compile(r"same(?: again)?", re.IGNORECASE)
_AS = re.compile(r"(?:same )?as (?:round|rnd|row)? ?(\d{1,6})", re.IGNORECASE)
_TO = re.compile(r"to (\d{1,6})(?: (?:sts?|stitches))?(?:,? evenly)?", re.IGNORECASE)


def next_number(piece: Piece | None) -> int:
    return piece.rounds[-1].number + 1 if piece and piece.rounds else 1


def whole_rounds(typed: str, piece: Piece | None, terms: str = "US") -> tuple[str, ...]:
    """The rounds that a shorthand stands for, likeliest first, each without its heading and total.

    With nothing typed: the last round again, and a plain one around. Empty for anything that is no shorthand.
    """
    typed = typed.strip()
    if piece is None or not piece.rounds:
        return ("6 sc in magic ring" if terms == "US" else "6 dc in magic ring",) if not typed else ()
    last = piece.rounds[-1]
    if not typed:
        again = (_body(last),) if last.before else ()
        return tuple(dict.fromkeys((*_steadily(piece, terms), f"{_stitch(last, terms)} around", *again)))
    if _SAME.fullmatch(typed):
        return (_body(last),)
    if found := _AS.fullmatch(typed):
        return tuple(_body(item) for item in piece.rounds if item.number == int(found[1]))
    if found := _TO.fullmatch(typed):
        return _changed(last, int(found[1]), terms, len(piece.rounds) % 2 == 1)
    return ()


def _steadily(piece: Piece, terms: str) -> tuple[str, ...]:
    """As many more (or fewer) stitches as the last round had over the one before it."""
    last = piece.rounds[-1].leaves
    before = piece.rounds[-2].leaves if len(piece.rounds) > 1 else 0
    if before is None or last is None or before == last or 2 * last - before <= 0:
        return ()
    return _changed(piece.rounds[-1], 2 * last - before, terms, len(piece.rounds) % 2 == 1)


def _changed(last: Round, after: int, terms: str, staggered: bool) -> tuple[str, ...]:
    if not last.leaves or not after:
        return ()
    try:
        (line,) = write_rounds([EvenRound(1, last.leaves, after, _kind(last), staggered=staggered)], terms=terms)
    except ValueError:
        return ()
    return (_without_total(line[heading_of(line).end :].strip()),)


def _kind(item: Round) -> str:
    kinds = dict(item.plan.tally.kinds) if item.plan else {}
    return max(kinds, key=lambda kind: kinds[kind], default="sc")


def _stitch(item: Round, terms: str) -> str:
    from tracker.notation.glossary import abbreviation

    return abbreviation(_kind(item), terms)


def _body(item: Round) -> str:
    text = " ".join(item.text.split())
    return _without_total(text[heading_of(text).end :].strip())


def _without_total(text: str) -> str:
    return re.sub(r"\s*[(\[]\d[\d,]*(?: sts)?[)\]]\s*$", "", text)


def written_line(number: int, typed: str, leaves: int | None, is_row: bool = False) -> str:
    """The line as it stands in the file: with its heading, and with its total if none was typed."""
    text = " ".join(typed.split())
    word = "Row" if is_row else "Rnd"
    headed = text if heading_of(text).numbers else f"{word} {number}: {text}"
    has_total = re.search(r"[(\[]\d[\d,]*[^()\[\]]*[)\]]$", headed) or re.search(r"=\s*\d+( sts)?$", headed)
    return headed if leaves is None or has_total else f"{headed} ({leaves})"


def size_words(pattern: Pattern, piece_index: int, stitch: StitchSize) -> str:
    """How the last round of a piece lies and how big the piece is by then, in words; "" where that is not known."""
    size = measure_piece(as_printed(pattern).pieces[piece_index], stitch)
    if not size.rounds:
        return ""
    last = size.rounds[-1]
    lies = f"{last.growth.lie.value}, " if last.growth else ""
    across = last.across or last.around
    return f"{lies}about {across.middle:.1f} {stitch.unit.value} across"
