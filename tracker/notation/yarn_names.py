"""What a yarn is called in a line: "B", "brick red", "colour 2", "yarn 4132 (mustard)"; and which words are that."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.notation.ast import Colour, Item
from tracker.notation.token_kinds import MADE, STOPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token
from tracker.notation.vocabulary import COLOUR_WORDS

YARN_NOUNS = frozenset(("color", "colour", "yarn", "col", "yarns", "thread", "colors", "colours"))
"""Words that say that a yarn is named and not which one."""

_LEADS_A_KEY = YARN_NOUNS - {"thread"}
""" "Thread a ring onto the tail" says what to do."""

_SHADED = frozenset(("light", "dark", "pale", "bright", "deep", "off", "soft", "medium", "pastel", "baby", "royal"))
"""What stands before the name of a colour and is part of it: "off white"."""

SURE_KEYS = frozenset(("main", "contrast", "mc", "cc"))
"""What yarns are called that have no other key (common practice, no source)."""

BEHIND_STITCHES = PhrasePattern("STOPS | CLOSE | MARK | $")
"""What follows a yarn that is told behind its stitches: "9 sc with red, 9 sc with blue"."""

_LEADS = frozenset((T.WITH, T.CHANGE, T.IN, T.JOIN, T.TO, T.OPEN))
_ENDS = frozenset((*STOPS, T.CLOSE, T.IN, T.COLON))

_SHADE_CODE = 3
"""Figures of a maker's number of a shade; a colour that is counted ("colour 2") has one or two."""


def is_sure_yarn(name: str) -> bool:
    """Whether a word that was read as a yarn can be nothing else: it has the word for a colour, or is "MC"."""
    return name in SURE_KEYS or not COLOUR_WORDS.isdisjoint(name.split())


def yarn_led_to(tokens: list[Token], colours: frozenset[str]) -> str:
    """The yarn that a sentence without stitches goes on with; "" if it leads to none.

    "Go back to red", "Fasten off green and join red", "Work the next 2 rounds in green". Of several it is the last.
    """
    words = with_yarn_names(tokens, colours)
    if any(word.kind in MADE for word in words):
        return ""
    yarns = [word.text for at, word in enumerate(words) if _is_yarn(word, colours) and _leads(words[:at])]
    return yarns[-1] if yarns else ""


def _is_yarn(word: Token, colours: frozenset[str]) -> bool:
    return (
        word.kind is T.COLOURED and word.text not in YARN_NOUNS and (word.text in colours or is_sure_yarn(word.text))
    )


def _leads(before: list[Token]) -> bool:
    """Whether the words before a yarn say that it is worked with from here on."""
    if not before:
        return False
    last = before[-1].kind
    if last is T.TO:
        return len(before) > 1 and before[-2].text in ("back", "return", "returning")
    worked = before[0].kind is T.WORK and any(word.kind is T.ROUND for word in before)
    return last in (T.CHANGE, T.JOIN) or (last in (T.IN, T.WITH) and worked)


def stands_behind(cursor: Cursor, items: list[Item], first: int) -> bool:
    """Whether the words from number `first` on are said of the stitches before them: no stop parts them."""
    return bool(items) and not isinstance(items[-1], Colour) and cursor.tokens[first - 1].kind not in STOPS


def with_yarn_names(tokens: list[Token], colours: frozenset[str]) -> list[Token]:
    """The tokens, with all words of a yarn's name as one; `colours` are the pattern's own keys, in lower case."""
    named: list[Token] = []
    place = 0
    while place < len(tokens):
        token, length = _yarn_name(tokens, place, colours) or (tokens[place], 1)
        named.append(token)
        place += length
    return named


def _yarn_name(tokens: list[Token], place: int, colours: frozenset[str]) -> tuple[Token, int] | None:
    """The name of several words that begins here, as one, and how many words it has."""
    first, after = tokens[place], tokens[place + 1] if place + 1 < len(tokens) else None
    if after is None:
        return None
    if first.text in _SHADED and after.kind is T.COLOURED and after.text not in YARN_NOUNS:
        return _as_one(tokens, place, 2, f"{first.text} {after.text}")
    if first.kind is not T.COLOURED or first.text not in _LEADS_A_KEY:
        return None
    if after.kind is T.NUMBER:
        return _numbered(tokens, place, colours)
    is_letter = after.text in colours or (len(after.text) == 1 and after.text.isalpha())
    if is_letter and (after.text != "a" or _is_name_here(tokens, place)):
        return _as_one(tokens, place, 2, after.text)
    return None


def _is_name_here(tokens: list[Token], place: int) -> bool:
    """Whether an "a" behind "yarn" is its key, and does not belong to what follows."""
    return (
        place == 0 or tokens[place - 1].kind in _LEADS or place + 2 == len(tokens) or tokens[place + 2].kind in _ENDS
    )


def _numbered(tokens: list[Token], place: int, colours: frozenset[str]) -> tuple[Token, int] | None:
    """ "colour 2", "yarn 4132 (mustard)"; "with yarn 2 sc" counts stitches"""
    number, after = tokens[place + 1], tokens[place + 2] if place + 2 < len(tokens) else None
    figures = number.text
    if len(figures) >= _SHADE_CODE and after is not None and after.kind is T.OPEN:
        close = next((at for at in range(place + 3, len(tokens)) if tokens[at].kind is T.CLOSE), 0)
        words = tokens[place + 3 : close]
        if words and all(word.kind in (T.COLOURED, T.WORD) for word in words):
            return _as_one(tokens, place, close + 1 - place, " ".join(word.text for word in words))
    if after is not None and after.kind not in _ENDS and len(figures) < _SHADE_CODE:
        return None
    keys = (figures, f"c{figures}", f"{tokens[place].text} {figures}")
    return _as_one(tokens, place, 2, next((key for key in keys if key in colours), f"colour {figures}"))


def _as_one(tokens: list[Token], place: int, length: int, name: str) -> tuple[Token, int]:
    first, last = tokens[place], tokens[place + length - 1]
    return Token(T.COLOURED, name, name, first.start, last.end, first.glued), length


LONGEST_KEY = 2
"""Letters of a yarn's key: "LG"."""


def key_of(words: Sequence[Token]) -> str:
    """The colour that these words name, without "colour" and "yarn" if anything else is left."""
    names = [word.text for word in words if word.kind in (T.COLOURED, T.WORD, T.MARKER)]
    return " ".join([name for name in names if name not in YARN_NOUNS] or names)


def is_colour(cursor: Cursor, inner: list[Token]) -> bool:
    """Whether what stands in a bracket is the name of a yarn; "RS" and "WS" are sides of the work."""
    kinds = {token.kind for token in inner}
    if not kinds or not kinds <= {T.COLOURED, T.WORD, T.WITH, T.MARKER, T.IN, T.CHANGE}:
        return False
    words = [token.text for token in inner if token.kind in (T.COLOURED, T.WORD)]
    if words in (["rs"], ["ws"]):
        return False
    return T.COLOURED in kinds or (
        len(words) == 1 and (len(words[0]) <= LONGEST_KEY or words[0] in cursor.context.colours)
    )
