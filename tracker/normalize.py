"""Untidy characters to plain ones, one for one, so that columns stay true.

Pasted text brings smart quotes, no-break spaces, bullets, long dashes and letters of other alphabets that look
Latin. Each is replaced by one plain character; nothing is added or taken away, except by `clean`, which is used
once where text enters.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from tracker.lazy_pattern import compile_later

_SAME_LENGTH = {
    **dict.fromkeys("\u2018\u2019\u201a\u201b\u2032\u00b4\u0060", "'"),
    **dict.fromkeys("\u201c\u201d\u201e\u201f\u2033\u00ab\u00bb", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2043\ufe58\ufe63", "-"),
    **dict.fromkeys("\u2022\u25cf\u25aa\u25e6\u00b7\u2219\u25cb\u25a0\u25a1\u27a4\u25ba", " "),
    **dict.fromkeys("\u2217\u204e\u2731\u2605\u2606\u2726\u2733", "*"),
    **dict.fromkeys("\u00d7\u2715\u2716\u2a2f\u0445\u0425\u03c7", "x"),
    **dict.fromkeys("\u3010\u3014\u300c\u300e\u3008\u300a", "["),
    **dict.fromkeys("\u3011\u3015\u300d\u300f\u3009\u300b", "]"),
    "\u2026": ".",
    # Arrows to the right, of text and of pictures, and what chooses between the two.
    **dict.fromkeys("\u2192\u21a0\u21a6\u21d2\u21e2\u21e8\u21fe\u2794\u27f6\u27f9\u27fe\u2b95", "="),
    **dict.fromkeys(map(chr, (*range(0x2799, 0x27A4), *range(0x27A5, 0x27B0), *range(0x27B1, 0x27BF))), "="),
    **dict.fromkeys("\ufe0e\ufe0f", " "),
    "\u3001": ",",
    "\u2044": "/",
    "\u00b2": "2",
    "\u00b3": "3",
    "\u0131": "i",
    # Cyrillic and Greek letters that machine translation leaves inside Latin words.
    **dict(zip("асеорутмнкАСЕОРУТВМНКі", "aceopytmhkaceopytbmhki", strict=True)),
    **dict(zip("οςΟΑΕΤ", "ocOAET", strict=True)),
}

_TABLE = {ord(key): value for key, value in _SAME_LENGTH.items()}


# 32 is the first that prints, 10 a new line, 127 the delete (ASCII).
_ASCII = {code: " " for code in range(32) if code != 10} | {127: " ", ord("`"): "'"}


_DOTTED = compile_later(
    r"\b(?:([A-Za-z])\.([A-Za-z])\.(?:([A-Za-z])\.)?|(?i:([sdht])\. (?:(d)\. )?(c)\.))"
    r"(?P<ends>(?= +(?:[A-Z]|\d{1,4}[ \n]?(?!\d|tog|times|x\b)[a-z])))?"
    r"|\b(?i:(h|d|q|dbl|hf)\.(tr|trip)\b\.?)"
)
_SLASHED = compile_later(r"\b([FfYy])/([Oo])\b")
_LEADS_ON = "nxt?|foll?|follg|prev|rem|ea|alt|sk|beg|rep|rpt|opp|sl|adj|inv|invis|rev"
"""Words that no clause ends with, cut short."""

_CUT_SHORT = (
    "ch|st|sp|lp|sl|ss|sc|dc|tr|hdc|htr|dtr|trtr|qtr|inc|dec|tog|rnd|rd|cl|pc|pic|grp?|patt|bl|fl|blo|flo|tch|yoh?|yrh|"
    "wrh|blk|rem"
)
_GOES_ON = (
    "from|in(?:to)?|on|of|to|and|or|as|at|around|round|across|along|all|until|till|over|before|after|behind|between|"
    "together|tog|each|ea|every|next|same|left|more|made|only|twice|once|thrice|times|evenly|rem|remaining|sps?|lps?|loops?|"
    "spaces?|\\d+ (?:times|evenly)|(?:a|ac|af|be|in|to|un)-\n"
)
"""Words that hang on what stands before them, and begin nothing."""

_STOPPED = compile_later(
    rf"\b(?:(?i:{_LEADS_ON})\.(?=\s*(?:[a-z]|\d))|(?i:(?:{_CUT_SHORT})s?)\.(?=[,;:)\]-]|\s+(?:{_GOES_ON})\b)"
    r"|(?<=\s)\d{1,3}(?:st|nd|rd|th)\.(?=\s+[a-z])|(?<!\d)(?<!\d )(?i:ch)\.(?=[ \n]?\d{1,3} ?(?:[(,.;\n]|$))"
    r"|\b(?i:inc|dec)\.(?=[ \n]+(?:1|one)\b)|\b(?i:as|rep|repeat|like|of|from) (?i:rnd|rd|row)s?\.(?= \d)"
    rf"|\b[A-Z]\.(?=[,;]|\s+(?!and\b)(?:{_GOES_ON}|make|work)\b))"
)
"""A full stop that makes a word short and ends nothing: "ss. to 1st d.c.", "rep. from *", "5-ch. loop", "Ch. 3, 13
dc", "join W. to 1st tr.", "dec. 1", "as rnd. 2"; "ch. 3 dc" may be a chain and three stitches, and keeps its stop."""


def _without_stops(dotted: re.Match[str]) -> str:
    """ "d.c." as "dc", with the stop that ends a sentence too: "join to first d.c. 12 d.c." """
    letters = "".join(filter(None, dotted.groups()))  # a look ahead is empty
    ends = dotted["ends"] is not None and letters.lower() in ("sc", "dc", "hdc", "ss")  # "i.e. 2 sc" goes on
    return letters.ljust(len(dotted[0]) - 1) + ("." if ends else " ")


def _undotted(text: str) -> str:
    """Abbreviations without their full stops, "d.c." and "2nd ch. from hook"; what is taken away stands behind as
    blanks."""
    text = _DOTTED.sub(_without_stops, text)
    return _STOPPED.sub(lambda m: f"{m[0][:-1]} ", text)


_FRAMED = compile_later(
    r"[^\w\s()\[\]{}*'\"+\-.,;:=&!?\u00d7\u2019]|_|   |\n\* |\*\d|\d ?\* ?[(\[]|[\"\u201c]\w|^[^\S\n]*[\[{]"
    r"|[(\[]\s*[+-]|count:? \d|\b[lI](?:\d|st\b|[lIO]?(?:th\b|[.:)-]))|\d[lO]|\bl [dshct]",
    re.M,
)
"""What stands around a round where it is not set plainly: a sign that says nothing of stitches, a gap, a bracket, a
list; and letters that a scanner took for figures."""

LONGEST_KEPT = 400
"""Characters of a text whose plain form is kept: what is longer is no line that is looked at from many sides."""


def fold(text: str) -> str:
    """The text in lower case with plain characters, of exactly the same length."""
    return _kept_fold(text) if len(text) <= LONGEST_KEPT else _folded(text)


@lru_cache(maxsize=16_384)  # the lines of a piece: it is gone through twice, to cut it up and to read it
def _kept_fold(text: str) -> str:
    return _folded(text)


_SPACES = (0xA0, 0x1680, *range(0x2000, 0x200B), 0x202F, 0x205F, 0x3000)

_NARROW = {wide: wide - 0xFEE0 for wide in range(0xFF01, 0xFF5F)} | dict.fromkeys(_SPACES, 0x20)
"""Letters, figures and signs as wide as an ideograph, as the plain ones that they are (Unicode, block Halfwidth and
Fullwidth Forms), and the spaces of every width (Unicode, category Zs) as blanks."""


def _folded(text: str) -> str:
    if not text.isascii():
        text = text.translate(_NARROW)
    if _FRAMED.search(text) is not None:
        from tracker.line_frame import with_plain_frame  # most lines are set plainly, and need none of it

        text = with_plain_frame(text)
    if "." in text:
        text = _undotted(text)
    if "/" in text:
        text = _SLASHED.sub(r"\1\2 ", text)  # "f/o" and "y/o"
    if text.isascii():
        is_plain = text.isprintable() and "`" not in text
        return text.lower() if is_plain else text.translate(_ASCII).lower()
    if "\u2014" in text:
        text = _LONG_DASH.sub("~", text)
    return _SMALL_VE.sub("b", "".join(_plain(character) for character in text.translate(_TABLE)))


_LONG_DASH = compile_later("(?i)(?<=[a-z])(?<!round)(?<!rounds)(?<!nd)(?<!nds)(?<!row)(?<!rows)(?<!rd)\u2014(?=\\d)")
"""A long dash between a word and a number, "join\u201418 sc": it parts them, where a hyphen would join them."""


_SMALL_VE = compile_later("в(?=[a-z])")
"""The small Cyrillic letter that looks like none of ours; behind a word it is the Russian "in", "7 scв ring"."""


def _plain(character: str) -> str:
    if character < "\x7f":
        return character.lower() if character >= " " or character == "\n" else " "
    if unicodedata.category(character)[0] in "ZC":
        return " "
    figure = unicodedata.digit(character, None)
    if figure is not None:
        return str(figure)  # in a circle, in brackets, or of another script
    decomposed = unicodedata.normalize("NFKD", character)
    base = decomposed[0].lower()
    return base if len(base) == 1 and (len(decomposed) == 1 or base.isalnum()) else character


# As above.
_CONTROL = dict.fromkeys([*(code for code in range(32) if code != 10), 127])


_UNSHOWABLE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Sorts of characters that steer a terminal, change the direction of text or end a line where none ends."""


def clean(text: str) -> str:
    """Text from outside made safe to show: control, direction and private characters taken out, line ends plain."""
    text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " ")
    if text.isascii():
        return text.translate(_CONTROL)
    return "".join(c for c in text if c == "\n" or unicodedata.category(c) not in _UNSHOWABLE)
