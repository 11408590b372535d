"""What a yarn is called in a line: "B", "brick red", "colour 2", "yarn 4132 (mustard)"; and which words are that."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from tracker.lazy_pattern import compile_later
from tracker.notation.ast import NEXT_YARN, Colour, Item
from tracker.notation.context import Context
from tracker.notation.token_kinds import MADE, STOPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token
from tracker.notation.vocabulary import COLOUR_WORDS

YARN_NOUNS = frozenset(("color", "colour", "yarn", "col", "yarns", "thread", "colors", "colours"))
"""Words that say that a yarn is named and not which one."""

_LEADS_A_KEY = YARN_NOUNS - {"thread"}
""" "Thread a ring onto the tail" says what to do."""

_SHADED = frozenset((
    "light", "lt", "dark", "dk", "pale", "bright", "deep", "off", "soft", "medium", "pastel", "baby", "royal",
))  # fmt: skip
"""What stands before the name of a colour and is part of it: "off white"."""

SURE_KEYS = frozenset(("main", "contrast", "mc", "cc"))
"""What yarns are called that have no other key (common practice, no source)."""

BEHIND_STITCHES = PhrasePattern("STOPS | CLOSE | MARK | $")
"""What follows a yarn that is told behind its stitches: "9 sc with red, 9 sc with blue"."""

LAST_LOOP = PhrasePattern(
    "[IN WORK]* ((?= WORD) FINISHES)? LAST (?= WORD | STEP) LAST_LOOP"
    " ([OF IN] [LAST NEXT SAME ORDINAL]* [NOUN STITCH]?)?"
    " | (?= WORD) FINISHES [LAST SAME] [NOUN STITCH] (?= WITH | IN)"
)
""" "in last yo of last st change to B", "change to B in last yo of last st": where every change of yarn is made"""

_LEADS = frozenset((T.WITH, T.CHANGE, T.IN, T.JOIN, T.TO, T.OPEN))
_ENDS = frozenset((*STOPS, T.OPEN, T.IN, T.COLON))

_SHADE_CODE = 3
"""Figures of a maker's number of a shade; a colour that is counted ("colour 2") has one or two."""


def is_sure_yarn(name: str) -> bool:
    """Whether a word that was read as a yarn can be nothing else: it has the word for a colour, or is "MC"."""
    return name in SURE_KEYS or not COLOUR_WORDS.isdisjoint(name.split())


def is_unnamed(words: Sequence[Token]) -> bool:
    """Whether the words say that another yarn comes and not which: "change colour", "next colour", "new yarn"."""
    texts = [word.text for word in words]
    colour = any(text.startswith("colo") or " colo" in text for text in texts)
    kinds = {word.kind for word in words}
    named = any(word.kind in (T.COLOURED, T.WORD) and word.text not in (*YARN_NOUNS, "new") for word in words)
    another = bool(kinds & {T.NEXT, T.OTHER}) or any("new" in text.split() for text in texts)
    return not named and ((T.CHANGE in kinds and colour) or (another and T.COLOURED in kinds))


def yarn_led_to(tokens: list[Token], colours: frozenset[str]) -> str:
    """The yarn that a sentence without stitches goes on with; "" if it leads to none.

    "Go back to red", "Fasten off green and join red", "Work the next 2 rounds in green". Of several it is the last.
    """
    words = with_yarn_names(tokens, colours)
    if any(word.kind in MADE for word in words):
        return ""
    yarns = [word.text for at, word in enumerate(words) if is_yarn(word, colours) and _leads(words[:at])]
    return yarns[-1] if yarns else ""


def is_yarn(word: Token, colours: frozenset[str]) -> bool:
    """Whether a word is one of the `colours`, the pattern's own keys, or surely the name of a yarn."""
    return word.text in colours or (
        word.kind is T.COLOURED and word.text not in YARN_NOUNS and is_sure_yarn(word.text)
    )


def is_among_yarns(letter: str, words: Sequence[Token], colours: frozenset[str]) -> bool:
    """Whether a letter is the key of a yarn in a line that names another one besides: "14A, 2B"."""
    return letter in colours and any(word.text in colours and word.text != letter for word in words)


def are_runs(words: Sequence[Token], context: Context) -> bool:
    """Whether the words are numbers of stitches in several yarns, "3A, 2B, 3A"."""
    parts = [word for word in words if word.kind not in (T.COMMA, T.AND)]
    counts, names = parts[::2], parts[1::2]
    several = len(counts) == len(names) > 0 and len({word.text for word in names}) > 1
    return (
        several and all(word.kind is T.NUMBER for word in counts) and all(is_yarn(n, context.colours) for n in names)
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


def change_in_bracket(cursor: Cursor, close: int) -> str:
    """The yarn that a bracket changes to, whose words begin here: "(change colour)", and what names the last loop of
    a stitch, "(last yo in B)"; "" for any other bracket."""
    start = cursor.place
    if is_unnamed(cursor.tokens[start:close]):
        return NEXT_YARN
    at = cursor.first_of(LAST_LOOP, start, close)
    cursor.place = at
    behind = at + cursor.length(LAST_LOOP)
    cursor.place = start
    words = [*cursor.tokens[start:at], *cursor.tokens[behind:close]]
    return key_of(words) if at < close and is_colour(cursor, words) else ""


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
    listed = _listed_name(tokens, place, colours)
    if listed:
        return _as_one(tokens, place, listed, " ".join(token.text for token in tokens[place : place + listed]))
    if T.OPEN in (first.kind, after.kind):
        return _numbered_in_bracket(tokens, place, colours)
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


def _listed_name(tokens: list[Token], place: int, colours: frozenset[str]) -> int:
    """How many words the name of several words has that is listed among the yarns and begins here; 0 if none does."""
    for name in _names_by_first(colours).get(tokens[place].text, ()):
        if tuple(token.text for token in tokens[place : place + len(name)]) == name:
            return len(name)
    return 0


@lru_cache(maxsize=64)
def _names_by_first(colours: frozenset[str]) -> dict[str, list[tuple[str, ...]]]:
    """The names of several words by the first of them, longer ones first."""
    names = sorted((tuple(name.split()) for name in colours if " " in name), key=len, reverse=True)
    return {name[0]: [other for other in names if other[0] == name[0]] for name in names}


@lru_cache(maxsize=64)
def are_plain_keys(colours: frozenset[str]) -> bool:
    """Whether each key of a pattern's yarns is one word, so that nothing has to be put together but behind "yarn"."""
    return not any(" " in key or key.isdecimal() for key in colours)


def _numbered_in_bracket(tokens: list[Token], place: int, colours: frozenset[str]) -> tuple[Token, int] | None:
    """ "yarn (1)"; "with (1)", where the yarns are numbered"""
    named = tokens[place].text in _LEADS_A_KEY
    first = place + named
    if [token.kind for token in tokens[first : first + 3]] != [T.OPEN, T.NUMBER, T.CLOSE]:
        return None
    figures = tokens[first + 1].text
    if not named and (figures not in colours or place == 0 or tokens[place - 1].kind not in _LEADS):
        return None
    return _as_one(tokens, place, 3 + named, figures if figures in colours else f"colour {figures}")


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

LONGEST_NAME = 4
"""Words that the name of a colour may have: "main colour dark red"."""

_NUMBER = compile_later(r"(?:(?:colou?r|col|yarn|thread|c) ?)?(\d{1,2})")


def figures_of(name: str) -> str:
    """The number by which a name counts a yarn: "colour 2", "C2", "2"; "" for any other name."""
    match = _NUMBER.fullmatch(name.lower())
    return match[1] if match else ""


def key_of(words: Sequence[Token]) -> str:
    """The colour that these words name, without "colour" and "yarn" if anything else is left."""
    names = [word.text for word in words if word.kind in (T.COLOURED, T.WORD, T.MARKER)]
    return " ".join([name for name in names if name not in YARN_NOUNS] or names)


def is_colour(cursor: Cursor, inner: list[Token]) -> bool:
    """Whether what stands in a bracket is the name of a yarn; "RS" and "WS" are sides of the work."""
    begins = inner[:1] and inner[0].kind is T.WORK and inner[0].text.endswith((" with", " in"))  # "(start with A)"
    kinds = {token.kind for token in inner[bool(begins) :]}
    if not kinds or not kinds <= {T.COLOURED, T.WORD, T.WITH, T.MARKER, T.IN, T.CHANGE}:
        return False
    words = [token.text for token in inner if token.kind in (T.COLOURED, T.WORD)]
    if words in (["rs"], ["ws"]):
        return False
    return T.COLOURED in kinds or (
        len(words) == 1 and (len(words[0]) <= LONGEST_KEY or words[0] in cursor.context.colours)
    )


def changes_yarn(words: list[Token]) -> bool:
    """ "(10), change to A", "(10). In the last st of Rnd 5 change to A": one or two words for the yarn, a place for
    the change, and no other sentence."""
    change = next((index for index, word in enumerate(words) if word.kind is T.CHANGE), None)
    if change is None:
        return False
    behind = words[change + 1 :]
    named = next((index for index, word in enumerate(behind) if word.kind in _OF_A_CHANGE), len(behind))
    places = [*words[:change], *behind[named:]]
    is_yarn = all(word.kind in (T.WORD, T.COLOURED) and word.text not in YARN_NOUNS for word in behind[:named])
    return 1 <= named <= _LONGEST_YARN and is_yarn and all(word.kind in _OF_A_CHANGE for word in places)


_OF_A_CHANGE = frozenset((T.IN, T.LAST, T.NOUN, T.STITCH, T.OF, T.ROUND, T.NUMBER, T.COMMA, T.DOT))
"""What tells where a yarn is changed: "in the last st of Rnd 5"."""

_LONGEST_YARN = 2
"""Words of a yarn that no list names, "dusty pink"."""
