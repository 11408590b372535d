"""The abbreviations that a sheet really uses, each with its full name in the terms of the sheet.

Names: Craft Yarn Council, master list of crochet abbreviations and its US/UK table (from memory). Those that it does
not have (magic ring, invisible decrease, fasten off) are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tracker.lazy_dataclass import dataclass
from tracker.normalize import fold
from tracker.notation.ast import Loop
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.context import Context
from tracker.notation.glossary import BY_ID, abbreviation, full_name
from tracker.notation.lexer import scan
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Token
from tracker.phrasing.terms import prose_in_terms, stitches_named
from tracker.plural import plural

WORDS: dict[str, tuple[str, str]] = {
    "alt": ("alt", "alternate"),
    "approx": ("approx", "approximately"),
    "beg": ("beg", "begin, beginning"),
    "bet": ("bet", "between"),
    "btw": ("bet", "between"),
    "blo": ("BLO", "back loop only"),
    "bl": ("BL", "back loop"),
    "flo": ("FLO", "front loop only"),
    "fl": ("FL", "front loop"),
    "cc": ("CC", "contrasting colour"),
    "ch": ("ch", "chain"),
    "chs": ("ch", "chain"),
    "cont": ("cont", "continue"),
    "dec": ("dec", "decrease: two stitches worked into one"),
    "decs": ("dec", "decrease: two stitches worked into one"),
    "ea": ("ea", "each"),
    "hk": ("hk", "hook"),
    "inc": ("inc", "increase: two stitches in one"),
    "incs": ("inc", "increase: two stitches in one"),
    "inv": ("inv dec", "invisible decrease: in the front loops of both stitches"),
    "invdec": ("inv dec", "invisible decrease: in the front loops of both stitches"),
    "foll": ("foll", "following"),
    "fo": ("FO", "fasten off"),
    "lp": ("lp", "loop"),
    "lps": ("lp", "loop"),
    "mc": ("MC", "main colour"),
    "mr": ("MR", "magic ring"),
    "pat": ("pat", "pattern"),
    "patt": ("patt", "pattern"),
    "pm": ("pm", "place the marker"),
    "prev": ("prev", "previous"),
    "rem": ("rem", "remaining"),
    "rep": ("rep", "repeat"),
    "rnd": ("rnd", "round"),
    "rnds": ("rnd", "round"),
    "rs": ("RS", "right side"),
    "sk": ("sk", "skip"),
    "skp": ("sk", "skip"),
    "sp": ("sp", "space"),
    "sps": ("sp", "space"),
    "st": ("st", "stitch"),
    "sts": ("st", "stitch"),
    "tbl": ("tbl", "through the back loop"),
    "tch": ("tch", "turning chain"),
    "tog": ("tog", "together"),
    "ws": ("WS", "wrong side"),
    "yo": ("yo", "yarn over"),
    "yoh": ("yoh", "yarn over hook"),
    "yrh": ("yrh", "yarn round hook"),
}
"""By the word as it is met, in lower case: how it is listed, and what it is short for."""

_LONGEST_SHORT = 3
"""A group called by so few letters (MB, PC) is called by an abbreviation, which is listed as such."""

_COLOURS = ("cc", "mc")
"""Yarns that are called by what they are for, and not by a letter of their own."""

SIGNS: tuple[tuple[str, str, str], ...] = (
    (
        r"(?m)^[^(\[{\n]*[(\[{].*[)\]}]\s*(?:x|\*|\d|twice|around|in\b)",
        "( ) [ ]",
        "work what is inside as often, or where, is said",
    ),
    (r"(?m)^[^*\n]*\*.*\brep", "*", "repeat from here, as is said behind it"),
    (r"[\])\w]\s+x\s+\d", "x 6", "six times"),
)
"""Signs in the instructions: how one is met, how it is listed, what it means (Craft Yarn Council, from memory).

Each is looked for from the start of its line only: from every bracket of a long line it would take the square of its
length."""

TOTAL = ("(n)", "at the end of a line: n stitches when it is done")


@dataclass(frozen=True, slots=True)
class Texts:
    """What is looked through: the instructions of the rounds, and the sentences beside them."""

    rounds: tuple[str, ...]
    sentences: tuple[str, ...]


def abbreviations(texts: Texts, context: Context, terms: str) -> tuple[tuple[str, str], ...]:
    """What is used, by the alphabet, then the signs. `context` has the groups and yarns that the pattern defines."""
    meanings: dict[str, str] = {}
    for text in texts.rounds:
        meanings.update(_in_round(text, context, terms))
    for text in texts.sentences:
        meanings.update(_names_in_sentence(text, terms))
    words = sorted(meanings.items(), key=lambda item: (item[0].lower(), item[0]))
    return (*words, *_signs(texts.rounds))


def _signs(rounds: Iterable[str]) -> Iterator[tuple[str, str]]:
    texts = list(rounds)
    for pattern, sign, meaning in SIGNS:
        if any(re.search(pattern, text) for text in texts):
            yield sign, meaning
    if any(re.search(r"\(\d+\)$", text) for text in texts):
        yield TOTAL


def _in_round(text: str, context: Context, terms: str) -> Iterator[tuple[str, str]]:
    folded = fold(text)
    for token in scan(folded, terms, context.colours):
        yield from _of_token(token, folded[token.start : token.end], context, terms)
    for word in re.findall(r"(?<![\da-z])[a-z]+", folded):
        if word in WORDS and (word in _COLOURS or word not in context.colours):
            yield WORDS[word]
    for match in re.finditer(r"\b([a-z]+)([2-9])tog\b", folded):
        kind = next((token.name for token in scan(match[1], terms) if token.kind is T.STITCH), "")
        if kind:
            yield f"{abbreviation(kind, terms)}{match[2]}tog", f"{full_name(kind, terms)} {match[2]} together"


def _of_token(token: Token, word: str, context: Context, terms: str) -> Iterator[tuple[str, str]]:
    if token.kind is T.STITCH:
        yield from _stitch(token.name, word, terms)
    elif token.kind is T.POSTED and isinstance(token.value, tuple):
        kind, loop = token.value
        post = ("FP", "front post") if loop is Loop.FRONT_POST else ("BP", "back post")
        if post[1] not in word:
            yield f"{post[0]}{abbreviation(kind, terms)}", f"{post[1]} {full_name(kind, terms)}"
    elif token.kind in (T.INC, T.DEC) and token.value in BY_ID:
        yield from _stitch(str(token.value), word.split()[0], terms)
    elif token.kind is T.BUNCH:
        words = word if len(word) > _LONGEST_SHORT or word == token.name else f"{word.upper()}"
        meaning = _group(token.name, context, terms)
        yield (words, f"{token.name}: {meaning}") if words.isupper() else (token.name, meaning)


def _stitch(kind: str, word: str, terms: str) -> Iterator[tuple[str, str]]:
    """A stitch that is called by its abbreviation; its full name needs no explaining."""
    if word in (full_name(kind, terms), plural(full_name(kind, terms))):
        return
    yield abbreviation(kind, terms), full_name(kind, terms)


def _group(name: str, context: Context, terms: str) -> str:
    """What a named group is: as the pattern defines it, or as it is usually worked."""
    makes = dict(context.bunches).get(name)
    if makes is not None:
        parts = (f"ch {n}" if kind == "ch" else f"{n} {abbreviation(kind, terms)}" for kind, n in makes)
        return f"{', '.join(parts)} in one place"
    bunch = BUNCH_BY_ID.get(name)
    return prose_in_terms(bunch.how, "US", terms) if bunch else name


def _names_in_sentence(text: str, terms: str) -> Iterator[tuple[str, str]]:
    for name, kind in stitches_named(text, terms):
        yield from _stitch(kind, name.lower(), terms)
    for word in re.findall(r"\b(ch|rnd)s? \d", text.lower()):
        yield WORDS[word]
