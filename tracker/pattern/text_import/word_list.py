"""A list of words on one line, cut into the parts that explain one each: "ch - chain, sc - single crochet", "pb: low
point / aum: increase"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.own_words import meaning_of
from tracker.notation.token_kinds import T

A_SIGN = r"[^\w\s()\[\]{}:=|/.,;'\"*+!?-]"
"""A sign that stands for a stitch, as in charts: "^ = sc2tog"."""
_SHORT = rf"(?:[^\W\d_][\w() /'-]{{0,14}}\.?|{A_SIGN})"
_ITEMS = compile_later(
    rf"\s*(?:[;•▪◦●]|//|,(?=\s*{_SHORT}(?:\s*[=:]|\s[-–—]\s))"
    r"|(?<=\S)\s{3,}(?=[^\W\d_][\w() /.-]{0,14}(?:[=:]|\s[=–—-]\s)))\s*"
)
_BY_SIGN = compile_later(rf"\s[-–—/|]\s+(?!(?i:us|usa|uk|american|british)\b)(?=(?!-){_SHORT}\s*[=:])")
"""Between the parts of a list whose words all have a sign of their own, "pb: low point - pa: high point"."""
_LABEL = compile_later(
    r"^[^\w(]*(?:[^:=]{0,80}[.!] )?(?P<label>[A-Za-z][\w /&'-]{2,40})(?: \([^()]{1,20}\))?\s*:\s*"
    r"(?=\S+\s*(?:=|\s[-–—]\s|\([^()]*\)\s*[;,]))"
)
"""What a list on one line is called, "Abbreviations (US): ch - chain, sc - single crochet"."""


def parts_of_list(line: str) -> list[str]:
    """The parts of a line that explain a word each, without what the list is called."""
    label = _LABEL.match(line)
    meaning = meaning_of(fold(label["label"]), "US") if label is not None else None
    names_it = meaning is None or meaning.kind is T.NOUN  # "Stitches: dc - ...", and not "bobble: dc - ..."
    whole = line[label.end() :] if label is not None and names_it else line
    return [part for item in _ITEMS.split(whole) for part in _signed_parts(item)]


def _signed_parts(item: str) -> Iterator[str]:
    """The parts of "pb = low point / aum = increase", each with a sign behind its word; "inc / dec = ..." is one."""
    start = 0
    for match in _BY_SIGN.finditer(item):
        if re.search("[=:]", item[start : match.start()]):
            yield item[start : match.start()]
            start = match.end()
    yield item[start:]
