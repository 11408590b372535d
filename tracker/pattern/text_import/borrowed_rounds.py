"""Rounds that a pasted text takes from another piece: "Rnds 1-5: as for the head", "Work as for hull to Rnd 2"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.parser.heading import MAX_ROUND, ROUND_WORDS, heading
from tracker.notation.parser.spelt_numbers import rounds_in_figures
from tracker.notation.token_kinds import NUMBERS
from tracker.pattern.text_import.draft_parts import DraftPart

_ROUNDS = rf"\b(?:{'|'.join(ROUND_WORDS)})\s*"
_RANGE = rf"{_ROUNDS}(?P<{{0}}>\d{{{{1,4}}}})(?:\s*(?:-|to|through|and|&)\s*r?(?P<{{1}}>\d{{{{1,4}}}}))?"
_BORROWS = compile_later(
    r"\s*(?:(?:with|using|in)\s+(?P<yarn>[a-z ]{1,24}?)(?:,\s*|\s+(?=(?:work|make)\b)))?"
    r"(?:(?:work|make|do|follow|repeat|rep|crochet)\s+)?"
    rf"(?:{_RANGE.format('first', 'last')}\s*)?"
    r"(?:(?:is|are) )?(?:(?:exactly )?(?:the )?same(?: way| thing)? (?:as|that|than)|as|like|of|from)"
    r"\s+(?:for\s+|in\s+)?"
    rf"(?:{_RANGE.format('begin', 'end')}\s+(?:of|from)\s+)?(?:the\s+)?"
    rf"(?P<name>(?!{_ROUNDS}\d|(?:the|(?:rnd|round|row)s?|before|above|previous|last|every|each)\b)[a-z][a-z ]*?)"
    rf"(?:,?\s*(?:{_RANGE.format('from', 'until')}|(?:up )?(?:to|until|through)\s+(?:the )?(?:end of )?{_ROUNDS}"
    r"(?P<to>\d{1,4})))?(?:,? (?P<all_in>(?:all |but )?(?:in|with|using) [a-z ]{1,24}?))?\s*(?:[.;:=(\[{].*)?"
)


_ORDINALS = compile_later(
    r"\b(\d{1,4})(?:st|nd|rd|th)(?:( to | and | & |-)(\d{1,4})(?:st|nd|rd|th))?\s+(rnds?|rounds?|rows?)\b"
)


def _with_plain_numbers(folded: str) -> str:
    """ "1st to 4th rnds", "rounds one to four", "first four rnds" as "rnds 1 to 4" """
    folded = _FIRST_SO_MANY.sub(lambda m: f"{m[2]} 1 to {NUMBERS.get(m[1], m[1])}", folded)
    return _ORDINALS.sub(lambda m: f"{m[4]} {m[1]}{m[2] or ''}{m[3] or ''}", rounds_in_figures(folded))


_FIRST_SO_MANY = compile_later(rf"\bfirst (\d{{1,3}}|{'|'.join(NUMBERS)}) (rnds|rounds|rows)\b")

_OWN_YARN = compile_later(r"(?:with|using|in)\s+[a-z ]{1,24}?(?=,|\s+(?:make|ch|chain|\d))", re.I)
"""The yarn that the rounds of a piece begin with."""


@dataclass(frozen=True, slots=True)
class Borrowed:
    """The lines that stand for the rounds, as they stand in the piece called `name`, and what to look at: another
    yarn that they are made in, "all in cream", a total that theirs is not; "" if there is nothing."""

    name: str
    lines: tuple[str, ...]
    doubt: str = ""


def may_borrow(line: str) -> bool:
    """Whether the line asks for rounds of a piece by its name, wherever that may be."""
    folded = fold(line)
    return bool(_borrowing(folded, heading(folded).end))


def _borrowing(folded: str, end: int) -> re.Match[str] | None:
    """What is asked for behind a heading that ends there, or in all of the line."""
    return _BORROWS.fullmatch(_with_plain_numbers(folded[end:])) or _BORROWS.fullmatch(_with_plain_numbers(folded))


def names_rounds(line: str) -> bool:
    """Whether a line that may borrow surely asks for work: "Work as for the leg", "Rnds 1-4: as leg"."""
    return re.match(rf"\W*(?:work|make|do|crochet|follow|rep|repeat|{_ROUNDS}\d)", fold(line)) is not None


def borrowed(line: str, pieces: Sequence[DraftPart]) -> Borrowed | None:
    """The rounds of one of the pieces that the line asks for again; None if it names no piece, or rounds it lacks."""
    folded = fold(line)
    head = heading(folded)
    match = _borrowing(folded, head.end)
    source = _piece_called(match["name"], pieces) if match else None
    if match is None or source is None or not source.placed:
        return None
    first, last = _range(match, head.numbers, source)
    if (head.numbers and head.numbers[0] != first) or not first <= last <= first + MAX_ROUND:
        return None
    lines = _lines(source, first, last)
    if lines and match["yarn"] and first == 1:
        begun = f"With {match['yarn']}"
        lines = (_OWN_YARN.sub(begun, lines[0], 1), *lines[1:]) if _OWN_YARN.match(lines[0]) else (begun, *lines)
    return Borrowed(source.name, lines, _doubt(folded, lines[-1], source.name, match["all_in"])) if lines else None


_TOTAL = compile_later(r"[(\[{]\s*(\d{1,4})(?:\s*[a-z]{1,10})?\s*[)\]}]")


def _doubt(folded: str, last: str, name: str, all_in: str | None) -> str:
    """What to look at where the line asks for other than the rounds are, of which this is the last."""
    if all_in:
        return f"written out with the yarns of '{name}': {all_in}?"
    wish, own = (_TOTAL.findall(text)[-1:] for text in (folded, fold(last)))
    return f"the rounds of '{name}' end with {own[0]}, and not {wish[0]}" if wish and own and wish != own else ""


def _piece_called(name: str, pieces: Sequence[DraftPart]) -> DraftPart | None:
    """The last piece whose name has all these words in it."""
    words = _words(name)
    for piece in reversed(pieces):
        if words and (words <= _words(fold(piece.name)) or words <= _words(fold(piece.title))):
            return piece
    return None


def _words(name: str) -> set[str]:
    return {word.removesuffix("s") for word in re.findall(r"[a-z]+", name)}


def _range(match: re.Match[str], numbers: tuple[int, ...], source: DraftPart) -> tuple[int, int]:
    """The first and the last round: as named, or those of the heading, or all."""
    first = match["first"] or match["begin"] or match["from"]
    last = match["last"] or match["end"] or match["until"] or match["to"]
    if first:
        return int(first), int(last or first)
    if numbers:
        return numbers[0], numbers[-1]
    return 1, int(last) if last else source.last_number


def _lines(source: DraftPart, first: int, last: int) -> tuple[str, ...]:
    """The lines from round `first` to round `last`, what stands over the first one of the piece included."""
    inside = [(index, numbers) for index, numbers in source.placed if numbers and set(numbers) & {first, last}]
    reached = [numbers for _, numbers in inside]
    if not reached or first not in reached[0] or last not in reached[-1] or reached[0][0] != first:
        return ()
    begin = 0 if first == 1 else inside[0][0]
    end = inside[-1][0]
    last_line = source.lines[end]
    if reached[-1][-1] != last:
        last_line = _cut_short(last_line, reached[-1][0], last)
    until = end
    while until + 1 in source.rests:
        until += 1
    return (*source.lines[begin:end], last_line, *source.lines[end + 1 : until + 1])


def _cut_short(line: str, first: int, last: int) -> str:
    """ "Rnds 6-8: sc around" up to round 7 only."""
    end = heading(fold(line)).end
    called = f"Rnd {first}" if first == last else f"Rnds {first}-{last}"
    return f"{called}: {line[end:]}"
