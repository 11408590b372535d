"""What a line of the materials names: a hook, a gauge, yarns."""

from __future__ import annotations

import re
from functools import cache

from tracker.normalize import fold
from tracker.notation.glossary import any_stitch, only_in
from tracker.notation.lexer import scan
from tracker.notation.token_kinds import MADE, T
from tracker.pattern.model import Gauge, Yarn

_HOOK = re.compile(r"(?P<size>\d+(?:\.\d+)?\s*mm)[^.;]*\bhook\b|\bhook\b[^.;\d]*(?P<after>\d+(?:\.\d+)?\s*mm)")
_GAUGE = re.compile(
    rf"(?P<stitches>\d+(?:\.\d+)?)\s*(?P<stitch>{any_stitch()}|sts?|stitches)\b\D{{0,20}}?(?:x|and|by|,|\s)\s*"
    r"(?P<rounds>\d+(?:\.\d+)?)\s*(?:rows?|rounds?|rnds?)\b\D{0,20}?(?P<over>\d+(?:\.\d+)?)\s*(?P<unit>cm|in|inch|inches|\")"
)
_YARN = re.compile(
    r"^\W*(?:(?:yarn|colou?r|col)\s+)?\(?(?P<key>[A-Z]{1,2}\d?|MC|CC\d?)\)?\s*(?:[:=]|-\s|–\s|\s-)\s*(?P<name>[^\d(][^;(]{1,60})"
)
_YARN_KEYED = re.compile(
    r"^\W*(?:main|contrast(?:ing)?|second|third)?\s*(?:yarn|colou?r)\s*\(?(?P<key>[A-Z]{1,2}\d?)\)?\s*[:=–-]\s*(?P<name>[^\d(][^;(]{1,60})",
    re.I,
)
_YARN_BEHIND = re.compile(
    r"(?P<name>[A-Za-z][a-z]+(?:[ -][a-z]+){0,2})\s*\((?:(?:yarn|colou?r)\s+)?(?P<key>(?!U[SK])[A-Z]{1,2}\d?)\)"
)
_JOINS_NAMES = re.compile(r"^.*\b(?:in|and|of|yarn|with|or)\s+")


def hook_in(line: str) -> str:
    """The size of the hook that the line names; "" if none."""
    match = _HOOK.search(fold(line))
    return (match["size"] or match["after"]).strip() if match else ""


def gauge_in(line: str) -> Gauge | None:
    """The gauge that the line gives, over centimetres."""
    match = _GAUGE.search(fold(line))
    if match is None:
        return None
    over = float(match["over"]) * (1.0 if match["unit"] == "cm" else CM_PER_INCH)
    stitch = match["stitch"] if match["stitch"] not in ("st", "sts", "stitches") else "sc"
    return Gauge(stitch, float(match["stitches"]), float(match["rounds"]), over)


CM_PER_INCH = 2.54


def yarns_in(line: str) -> list[Yarn]:
    """The yarns that the line names with their keys: "A: moss", "moss (A) and sand (B)"."""
    match = _YARN.match(line) or _YARN_KEYED.match(line)
    if match and _is_stitch(match["name"]):
        return []
    if match:
        return [Yarn(match["key"], match["name"].strip(" .,-–"))]
    return [Yarn(m["key"], _JOINS_NAMES.sub("", m["name"])) for m in _YARN_BEHIND.finditer(line)]


def _is_stitch(name: str) -> bool:
    """Whether a key stands for something that is done, "X: single crochet", and for no yarn."""
    first = scan(fold(name), "US")[:1]
    return bool(first) and first[0].kind in (*MADE, T.RING, T.LOOP, T.NOUN, T.REPEAT, T.STEP)


# Whether a text speaks US or UK terms, by the words in it.


class TermsUnclear(Exception):
    """The words do not tell whether the text is in US or UK terms."""


def guess_terms(text: str) -> tuple[str, str]:
    """US or UK, and the words that tell. Raises `TermsUnclear`."""
    folded = fold(text)
    said = re.search(r"\b(us|usa|american|uk|british)\b(?: crochet)? (?:terms|terminology|abbreviations)", folded)
    if said:
        terms = "UK" if said[1] in ("uk", "british") else "US"
        return terms, f"the text says '{said[0]}'"
    us = _words_of("US").search(folded)
    if us:
        return "US", f"it uses '{us[0].strip()}'"
    uk = _words_of("UK").search(folded)
    if uk:
        return "UK", f"it uses '{uk[0].strip()}' and no sc"
    if (
        re.search(r"\b\d*\s?dc(?:\d?tog)?\b|double crochet", folded)
        and re.search(r"magic|ring|ball|toy|stuff", folded)
        and "ch 3" not in folded
        and "3ch" not in folded
    ):
        return "UK", "it works small rounds in dc, and uses no sc"
    raise TermsUnclear


_NO_STITCHES = {"US": (), "UK": ("miss", "tension")}
"""Words of one side only besides the names of stitches; US "skip" and "gauge" are met in UK patterns too."""


@cache
def _words_of(terms: str) -> re.Pattern[str]:
    """The words that only these terms have, with a count before them or so many closed together."""
    words = sorted((*only_in(terms), *_NO_STITCHES[terms]), key=len, reverse=True)
    return re.compile(rf"\b\d*\s?(?:{'|'.join(map(re.escape, words))})(?:\d?tog)?\b")
