"""The yarns of a page that no list gives a letter: what its materials, its pieces and its rounds call them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import NEXT_YARN
from tracker.notation.context import Context
from tracker.notation.lexer import scan, scan_behind
from tracker.notation.own_words import with_own_words
from tracker.notation.parser.heading import heading_of
from tracker.notation.token_kinds import MADE, T
from tracker.notation.yarn_names import is_sure_yarn, is_yarn, with_yarn_names
from tracker.pattern.model import Yarn
from tracker.pattern.round_yarns import yarn_key
from tracker.pattern.text_import.draft_parts import DraftPart
from tracker.pattern.text_import.materials import yarns_named

_YARN = compile_later(
    r"\b(?:yarns?|cottons?|wool|acrylic|thread|skeins?|colou?rs?"
    r"|dk|aran|worsted|sport|fingering|4 ?ply|chunky|bulky)\b"
)
"""Words by which a line of the materials tells that yarns stand in it."""

_AMOUNT = compile_later(
    r"\b\d+(?:[.,/]\d+)?\s*(?:%|g|gr|grams?|oz|m|yds?|yards?|balls?|skeins?|metres?|meters?)?(?!\w)"
    r"|\b(?:small|little|amounts?|scraps?|bits?|left-?overs?|some|an?|each|of|in|balls?|shades?|weight|medium)\b"
)
_PARTS = compile_later(r"[,;:/()]|\band\b|\bin\b|\s-\s")

_LONGEST = 2
"""Words of the name of a yarn in a list, "dusty pink"."""


def colours_in(materials: Iterable[str]) -> frozenset[str]:
    """What the yarns are called in the list of materials: "DK cotton: grey, rose, white", "20 g petal DK"."""
    return frozenset(name for line in materials for name in _colours(fold(line)))


def _colours(folded: str) -> Iterator[str]:
    if not _YARN.search(folded):
        return
    for part in _PARTS.split(folded):
        name = " ".join(_AMOUNT.sub(" ", _YARN.sub(" ", part)).split()).strip(" .-*")
        kinds = {token.kind for token in scan(name, "US")} if name else {T.NUMBER}
        if kinds <= {T.WORD, T.COLOURED} and 0 < len(name.split()) <= _LONGEST and name.replace(" ", "").isalpha():
            yield name


def yarns_called(pieces: Iterable[DraftPart], context: Context) -> Iterator[str]:
    """What the rounds, and the lines between them, call the yarns that they name."""
    for part in pieces:
        rounds = {number for number, _ in part.placed} | part.rests
        for number, line in enumerate(part.lines):
            yield from yarns_named(line, context, is_round=number in rounds)


def yarns_beside(pieces: Iterable[DraftPart], context: Context) -> frozenset[str]:
    """The words that nobody knows and that several rounds have where another part begins with a yarn: "(white 1 sc,
    plum inc) x 6"."""
    named = Counter(
        name
        for part in pieces
        for line in {part.lines[number] for number, _ in part.placed}
        for name in set(_beside(line, context))
    )
    return frozenset(name for name, rounds in named.items() if rounds >= _FEWEST_ROUNDS)


def _beside(line: str, context: Context) -> Iterator[str]:
    words = scan_behind(fold(line), heading_of(line).end, context.terms, context.colours)
    tokens = with_yarn_names(with_own_words(words, context.words, context.terms), context.colours)
    kinds = [None, *(token.kind for token in tokens), None, None]
    leads = [
        token
        for token, before, after, behind in zip(tokens, kinds, kinds[2:], kinds[3:], strict=False)
        if before in _BEFORE_A_PART and (after in MADE or (after is T.NUMBER and behind in MADE))
    ]
    if any(is_yarn(token, context.colours) for token in leads):
        yield from (token.text for token in leads if token.kind is T.WORD and token.text.isalpha())


_BEFORE_A_PART = frozenset((None, T.OPEN, T.COMMA, T.SEMI, T.AND))
_FEWEST_ROUNDS = 2
"""Rounds that have to name it: a word in one may be a slip."""


def unlisted_yarns(called: Sequence[str], yarns: tuple[Yarn, ...], listed: frozenset[str]) -> Iterator[Yarn]:
    """The yarns that pieces and rounds name and no list gives, by what they are called there; where there is a list
    only what is sure to be a yarn, or stands among the materials, because a key that it lacks may be a misprint."""
    keys = {yarn.key for yarn in yarns}
    for key in dict.fromkeys(called):
        listed_key = yarn_key(key, yarns)
        sure = is_sure_yarn(key) or key in listed or not (yarns or " " in key)  # "brick red", and no "if you prefer"
        if sure and key not in ("", NEXT_YARN) and listed_key not in keys:
            yield Yarn(listed_key, listed_key)
