"""What a page says that one of its words is: the parts of an explanation, and the name of the trade that stands
anywhere in it, "firm mesh (US: single crochet)", "medium point: sc"."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.glossary import OTHER_TERMS, full_name
from tracker.notation.own_words import Meaning, meaning_of
from tracker.notation.token_kinds import HEADS, T

_PARTS = compile_later(r"[()\[\]{}:;,=|]+|\s[-–]+\s|\.\s|\s/\s")
_SIDES = compile_later(r"\b(?:(?P<US>us|usa|american)|(?P<UK>uk|british))\b(?: (?:terms?|english|crochet)\b)?")
_LED = compile_later(r"^(?:i\.?e\.?|that is|(?:that |which |this )?means?|or|in english|english|an?|the)\s+")
_PLURAL = compile_later(r"\((?:e?s|e?n)\)")
_LONGEST_PART = 60
"""Characters of a part that is looked at; no name of a stitch is as long."""
_MOST_PARTS = 8
"""Parts that are looked at; what a page explains in more is prose."""


@dataclass(frozen=True, slots=True)
class MeaningPart:
    """Words of an explanation between its signs, folded, and the terms that they are in, "" if it does not say."""

    text: str
    side: str


def parts_of(explanation: str) -> Iterator[MeaningPart]:
    """The parts of an explanation in their order, the one in front first."""
    side, count = "", 0
    for piece in _PARTS.split(_PLURAL.sub("", fold(explanation))):
        named = _SIDES.search(piece)
        label = (named.lastgroup or "") if named is not None else ""
        text = _LED.sub("", _SIDES.sub(" ", piece).strip(" -.*"))
        if not text:
            side = label or side  # "UK: double crochet" tells of what follows
        elif len(text) <= _LONGEST_PART:
            yield MeaningPart(" ".join(text.split()), label or side)
            side, count = "", count + 1
        if count == _MOST_PARTS:
            return


_BEHIND = HEADS | {T.CHAIN, T.RING, T.LOOP}
"""What an explanation may name behind its first words: "post (double crochet)" is no post."""


def term_in(explanation: str, terms: str) -> str:
    """The one name of the trade that an explanation gives, as a word of these terms; "" if it gives none, or several
    that are not the same."""
    named = [named for part in parts_of(explanation) if (named := _named(part, terms)) is not None]
    sides = {each.part.side for each in named} - {""}
    if len(sides) > 1:
        named = [each for each in named if each.part.side == terms]
    behind = {each.meaning: each for each in reversed(named) if each.meaning.kind in _BEHIND}
    if len(behind) != 1:
        return ""
    ((meaning, each),) = behind.items()
    return each.part.text if each.side == terms else _in_terms(meaning, terms)


@dataclass(frozen=True, slots=True)
class _NamedTerm:
    """A part that is a name of the trade, what it means, and in which terms."""

    part: MeaningPart
    meaning: Meaning
    side: str


def _named(part: MeaningPart, terms: str) -> _NamedTerm | None:
    """The part as a name: in its own terms, in those of the page, or in the others, where only they have it."""
    other = OTHER_TERMS[terms]
    for side in (part.side,) if part.side else (terms, other):
        meaning = meaning_of(part.text, side)
        if meaning is not None and meaning.value != FILET_MESH:
            return _NamedTerm(part, meaning, side if meaning.kind is T.STITCH else terms)
    return None


FILET_MESH = "filet mesh"
"""A group of filet; in an explanation it is what translated pages call a stitch, "tight mesh (single crochet)"."""


def _in_terms(meaning: Meaning, terms: str) -> str:
    """The name in full that these terms have for a stitch."""
    return full_name(str(meaning.value), terms)
