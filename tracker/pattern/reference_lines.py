"""Lines of a piece that name its rounds again: behind a round on its line, or as sentences of several lines."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.context import Context
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_once
from tracker.pattern.model import Entry

_AGAIN = compile_later(
    r"(?<=[.;)\]])\s+(?=(?:rep|repeat|rpt)\b\.?\s+(?:for\s+(?:the\s+next\s+)?\d{1,2}\s+(?:more\s+)?|"
    r"(?:the\s+)?(?:(?:last|previous|this|that)\s+)?(?:\d{1,2}\s+)?)(?:rnds?|rounds?|rows?)\b)"
)


def with_its_repeat(piece: Entry, context: Context) -> tuple[Entry, ...]:
    """The round, and apart from it what tells behind it how often it comes again: "... Repeat last row 4 times"."""
    folded = fold(piece.text)
    match = _AGAIN.search(folded, heading_of(piece.text).end) if "rep" in folded or "rpt" in folded else None
    again = piece.text[match.end() :] if match is not None else ""
    named = read_once(again, context).reference if again else None
    if match is None or named is None or (named.times, named.rounds, named.until) == (1, 0, 0):
        return (piece,)
    first = replace(piece, text=piece.text[: match.start()])
    return first, replace(piece, text=again, column=piece.column + match.end())


_BEGINS_REFERENCE = compile_later(r"\W*(?:then\s+)?(?:continue|continuing|cont|repeat|rep|keep|work)\b")
_MOST_LINES = 3
"""Lines of the longest such sentence that was met, and one more."""


def with_whole_references(pieces: list[Entry], context: Context) -> list[Entry]:
    """The lines with those as one that together name rounds again, "Continue thus, having 1 more between" over "the
    increases, until there are 48", and apart do not."""
    whole: list[Entry] = []
    index = 0
    while index < len(pieces):
        text, length = _whole_reference(pieces, index, context)
        whole.append(replace(pieces[index], text=text))
        index += length
    return whole


def _whole_reference(pieces: list[Entry], index: int, context: Context) -> tuple[str, int]:
    """The line of this index, with those below that belong to the same sentence if together they name rounds again;
    and how many lines that is."""
    own = text = pieces[index].text
    if _BEGINS_REFERENCE.match(fold(own)) and not names_again(own, context):
        for length, below in enumerate(pieces[index + 1 : index + _MOST_LINES], 2):
            if text.rstrip().endswith((".", "!")) or heading_of(below.text).end or not below.text.strip():
                break
            text = f"{text}\n{below.text}"
            if names_again(text, context):
                return text, length
    return own, 1


def names_again(text: str, context: Context) -> bool:
    """Whether a line names other rounds again, and is no advice that speaks of them."""
    return _ADVISES.match(fold(text)) is None and read_once(text, context).reference is not None


_ADVISES = compile_later(
    r"\W*(?:tip|hint|note|if|optional|you (?:can|may|could|might))\b"
    r"|.{0,80}\b(?:if you|for an? (?:longer|bigger|larger|wider|taller|deeper|smaller|shorter))\b"
)
""" "If you want it taller repeat the last round", "Repeat rows 3 to 11 if you have the yarn": as one likes"""
