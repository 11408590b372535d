"""What a line of the materials names: a hook, a gauge, yarns."""

from __future__ import annotations

import re

from tracker.normalize import fold
from tracker.notation.glossary import any_stitch
from tracker.notation.lexer import scan
from tracker.notation.token_kinds import MADE, T
from tracker.pattern.model import Gauge, Yarn

_MILLIMETRES = re.compile(r"(?P<size>\d{1,2}(?:\.\d{1,3})?\s*mm)\b")
_NUMBERED = r"(?:\s*[/-]\s*\d{1,2}(?:\.\d|\s1/2)?)?"
_LETTER = re.compile(
    r"(?:\bsize\s+|\bhooks?\b[\s:,-]*(?:size[\s:]+)?|\bu\.?s\.?\s+|^\W*)"
    rf"(?P<letter>[b-s])(?![a-z']){_NUMBERED}"
    rf"|\b(?P<before>[b-s]){_NUMBERED}\s+(?:size\s+)?(?:crochet\s+)?hook\b"
)
_HOOK_WORD = re.compile(r"\bhooks?\b")
_STEEL = re.compile(r"\bsteel\b")

HOOK_LETTERS = {
    "b": "2.25 mm", "c": "2.75 mm", "d": "3.25 mm", "e": "3.5 mm", "f": "3.75 mm", "g": "4 mm", "h": "5 mm",
    "i": "5.5 mm", "j": "6 mm", "k": "6.5 mm", "l": "8 mm", "m": "9 mm", "n": "9 mm", "p": "10 mm", "q": "16 mm",
    "s": "19 mm",
}  # fmt: skip
"""US letters of hooks in millimetres: Craft Yarn Council, table of hook sizes (seen).

Makers differ by a quarter of a millimetre at B and C; the millimetres on the hook decide.
"""

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
    """The size of the hook that the line names, in millimetres; "" if none. Of several the first is taken.

    A letter is told in millimetres. Steel hooks are numbered another way, and a number alone tells no size.
    """
    folded = fold(line)
    if not _HOOK_WORD.search(folded):
        return ""
    exact = _MILLIMETRES.search(folded)
    if exact:
        return exact["size"].strip()
    letter = None if _STEEL.search(folded) else _LETTER.search(folded)
    return HOOK_LETTERS.get(letter["letter"] or letter["before"], "") if letter else ""


def gauge_in(line: str) -> Gauge | None:
    """The gauge that the line gives, over centimetres."""
    match = _GAUGE.search(fold(line))
    if match is None:
        return None
    over = float(match["over"]) * (1.0 if match["unit"] == "cm" else CM_PER_INCH)
    stitch = match["stitch"] if match["stitch"] not in ("st", "sts", "stitches") else "sc"
    return Gauge(stitch, float(match["stitches"]), float(match["rounds"]), over)


# By definition (international yard and pound, 1959).
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
