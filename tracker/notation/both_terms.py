"""Stitches named in US and in UK terms at once, "2 dc (UK) / 2 sc (US)", "sc [dc]", "dc (UK tr)".

Two names that stand together and mean the same, each in its own terms, are one stitch, and not one behind the other.
"""

from __future__ import annotations

import re

from tracker.lazy_pattern import compile_later
from tracker.notation.glossary import OTHER_TERMS
from tracker.notation.lexer import scan
from tracker.notation.token_kinds import T

_NAME = r"\w{1,20}(?: \w{1,20}){0,4}"
"""Up to five words, its number among them: "2 front post double crochets"."""
_SECOND = compile_later(
    rf" ?\((?:uk|usa?)\) ?/ ?(?P<parted>{_NAME}) ?\((?P<parted_terms>uk|usa?)\)"
    r"|(?<=\w)/(?P<stroked>[a-z]\w{1,19})\b"
    r"| ?[(\[] ?(?P<skipped>skip|miss) ?[)\]]"
    rf"| ?[(\[] ?(?:(?P<before>uk|usa?)\b[ :=]{{0,3}})?(?=[^)\]]{{0,60}}[a-z])(?P<bracketed>{_NAME}?)"
    r"(?: (?P<behind>uk|usa?))? ?[)\]](?! ?(?:[x*×] ?)?\d| ?(?:times|twice)\b)"
)
"""A second name behind a first one. A bracket with a number behind it is a group of its own: "sc (dc) x 6"."""
_WORD = compile_later(r"\w+")
_EITHER = compile_later(r"\b(?:each|every|any|next|last|of|in|into|the) $")
"""Before two names of which either may be meant: "in each dc/sc"."""
_NAMES = frozenset({T.STITCH, T.POSTED, T.INC, T.DEC, T.SKIP})


def in_one(folded: str, terms: str) -> str:
    """The folded text with the stitches of these terms alone, where they stood; the others are blank."""
    if "(" not in folded and "[" not in folded and "/" not in folded:
        return folded
    kept = _in_one(folded, terms, by_another=False)
    return _in_one(kept, terms, by_another=True) if kept != folded and "/" in kept else kept


def _in_one(folded: str, terms: str, *, by_another: bool) -> str:
    """The same in one pass; `by_another` where other names of the line tell how "in each dc/sc" is meant."""
    place = 0
    while (second := _SECOND.search(folded, place)) is not None:
        place = second.end()
        for start in _starts_of_names(folded, second.start()):
            if second["stroked"] and not by_another and _EITHER.search(folded, max(0, start - 6), start):
                continue
            kept = _kept(folded, start, second, terms)
            if kept is not None:
                blanked = " " * (kept[0] - start) + folded[slice(*kept)] + " " * (place - kept[1])
                folded = folded[:start] + blanked + folded[place:]
                break
        else:
            place = second.start() + 1
    return folded


def _starts_of_names(folded: str, end: int) -> list[int]:
    """Where a name that ends at `end` may begin, the longest first: words with nothing but a blank between them."""
    starts: list[int] = []
    start = end
    for word in reversed(list(_WORD.finditer(folded, max(0, end - 40), end))):
        if folded[word.end() : start].strip(" ") or (not starts and word.end() != end):
            break
        start = word.start()
        starts.insert(0, start)
    return starts[-5:]


def _kept(folded: str, start: int, second: re.Match[str], terms: str) -> tuple[int, int] | None:
    """The columns of the name in these terms; None where the two are not one stitch."""
    group = next(name for name in ("parted", "stroked", "skipped", "bracketed") if second[name])
    first, text = folded[start : second.start()], second[group]
    if _digits(first) != _digits(text) or first == text:
        return None
    marked = second["parted_terms"] or second["before"] or second["behind"]
    ways = [(terms, OTHER_TERMS[terms]), (OTHER_TERMS[terms], terms)]
    if marked is not None:
        terms_of_second = "UK" if marked == "uk" else "US"
        ways = [way for way in ways if way[1] == terms_of_second]
    for of_first, of_second in ways:
        meaning = _meaning(first, of_first)
        if meaning and meaning == _meaning(text, of_second):
            return (start, second.start()) if of_first == terms else second.span(group)
    return None


def _digits(text: str) -> str:
    return "".join(filter(str.isdecimal, text))


def _meaning(name: str, terms: str) -> list[tuple[T, object]]:
    """What a name of a stitch says in these terms; nothing where it names none."""
    words = scan(name, terms)
    return [(word.kind, word.value) for word in words] if any(word.kind in _NAMES for word in words) else []
