"""What a line of the materials names: a hook, a gauge, yarns."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import Technique, acts, every_colour
from tracker.notation.context import Context
from tracker.notation.glossary import any_stitch
from tracker.notation.lexer import scan
from tracker.notation.reader import read_once
from tracker.notation.token_kinds import MADE, T
from tracker.notation.yarn_names import LONGEST_KEY, YARN_NOUNS, is_sure_yarn
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.model import Gauge, Yarn
from tracker.pattern.round_splitter import colour_of_line

_MILLIMETRES = compile_later(r"(?<![\d.,])(?P<size>\d{1,2}(?:[.,]\d{1,3})?\s*mm)\b")
_NUMBERED = r"(?:\s*[/-]\s*\d{1,2}(?:\.\d|\s1/2)?)?"
_LETTER = compile_later(
    r"(?:\bsize\s+|\bhooks?\b[\s:,-]*(?:size[\s:]+)?|\bu\.?s\.?\s+|^\W*)"
    rf"(?P<letter>[b-s])(?![a-z']){_NUMBERED}"
    rf"|\b(?P<before>[b-s]){_NUMBERED}\s+(?:size\s+)?(?:crochet\s+)?hook\b"
)
_METRIC_NUMBER = compile_later(r"\bno\.?\s*(?P<size>\d{1,2}\.\d{2})\b")
""" "No. 4.00 hook": in the International Standard Range the number is the size in millimetres (British leaflets from
the 1970s on, from memory)."""

_HOOK_WORD = compile_later(r"\bhooks?\b|\bcrochet needle\b|\bneedle of crochet\b|\bmm crochet\b")
_BARE_SIZE = compile_later(
    r"\bhooks?\b[\s:,-]*(?:(?:size|no\.?)[\s:]+)?(?P<size>\d{1,2}[.,]\d{1,2})\b(?!\s*(?:cm|in|\"|'|/))"
)
""" "hook 2.5": of the ways to number hooks only millimetres have a decimal point."""
_OTHER_GOODS = compile_later(
    r"\b(?:eyes?|nos(?:e|es)|beads?|buttons?|rings?|needles?|wire|pins?|magnets?|felt|pom ?poms?)\b"
)
"""What is sold by millimetres too."""
_STEEL = compile_later(r"\bsteel\b")

HOOK_LETTERS = {
    "b": "2.25 mm", "c": "2.75 mm", "d": "3.25 mm", "e": "3.5 mm", "f": "3.75 mm", "g": "4 mm", "h": "5 mm",
    "i": "5.5 mm", "j": "6 mm", "k": "6.5 mm", "l": "8 mm", "m": "9 mm", "n": "9 mm", "p": "10 mm", "q": "16 mm",
    "s": "19 mm",
}  # fmt: skip
"""US letters of hooks in millimetres: Craft Yarn Council, table of hook sizes (seen).

Makers differ by a quarter of a millimetre at B and C; the millimetres on the hook decide.
"""

_ROWS_COUNTED = compile_later(r"\d\s*(?:rows?|rounds?|rnds?)\b")
"""What every gauge tells; to compile those with every stitch in them takes a tenth of reading a short page."""


@cache
def _gauges() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """ "12 sts x 9 rows = 4 in. in hdc", "Gauge in hdc: ..." """
    stitch = any_stitch()
    return re.compile(
        rf"(?P<stitches>\d+(?:\.\d+)?)\s*(?P<stitch>{stitch}|sts?|stitches)\b\D{{0,20}}?(?:x|and|by|,|\s)\s*"
        r"(?P<rounds>\d+(?:\.\d+)?)\s*(?:rows?|rounds?|rnds?)\b\D{0,20}?(?P<over>\d+(?:\.\d+)?)\s*(?P<unit>cm|inches|inch|in|\")"
    ), re.compile(rf"\b(?:in|over|of|with|using)\s+(?P<stitch>{stitch})\b")


_NOUN = r"(?i:yarn|colou?r|col\b\.?|shade)"
_LETTER_KEY = r"(?:MC|CC\d?|C\d|(?!U[SK]|[RW]S)[A-Z]{1,2}\d?)"
_KEY = compile_later(_LETTER_KEY)
_ANY_KEY = rf"(?:{_LETTER_KEY}|[a-h]|\d)\b"
_NAME = r"[\"'\u2018\u201c]?(?P<name>[^\W\d][^\d,;:()/=\u2013\u2014]{1,40}?)"
_NAME_ENDS = (
    r"(?=\s*(?:[,;()/\d]|\s-\s|[\u2013\u2014]|\.?\s*$|\.\s|\sand\s|\s(?:yarn|colou?r)\s+\w\b|[\"'\u2019\u201d]))"
)
_BEFORE = r"(?:^\W*|(?<=[,;:/\u2022])\s*|\band\s+|\s-\s)"
_YARN_FORMS = (
    # "A: moss", "MC - sand and CC - moss", "Colors MC-sand"
    (
        rf"(?:{_BEFORE}|\b{_NOUN}s?\s+)(?P<open>\()?(?P<key>{_LETTER_KEY})(?(open)\))\s*[:=\u2013-]\s*"
        rf"{_NAME}{_NAME_ENDS}",
        0,
    ),
    # "Colour 1 - black, colour 2 - yellow", "yarn a for the petals"
    (
        rf"\b{_NOUN}(?:\s+|\s*\(|(?=\d))(?P<key>{_ANY_KEY})\)?\s*(?:[:=\u2013-]|\bfor\b(?: the)?)"
        rf"\s*{_NAME}{_NAME_ENDS}",
        re.I,
    ),
    # "Yarn A green, 100 g"
    (rf"\b(?i:{_NOUN})\s+(?P<key>[A-Z]\d?)\s+{_NAME}{_NAME_ENDS}", 0),
    # "Colour A (clay)", "Main Color (MC) cream", "yarn 80304 (blue)"
    (rf"\b{_NOUN}\s*(?P<key>{_ANY_KEY}|\d{{3,}})\s*\({_NAME}\s*\d*\)", re.I),
    (rf"(?:{_BEFORE}|\b{_NOUN}\s*)\((?P<key>{_LETTER_KEY})\)\s*{_NAME}{_NAME_ENDS}", re.I),
    # "Yarn (1) clay, yarn (2) ash"
    (rf"\b{_NOUN}\s*\((?P<key>\d)\)\s*{_NAME}{_NAME_ENDS}", re.I),
    # "Yarn: A (brown), B (white)"
    (rf"(?:(?<=:)|(?<=,))\s*(?P<key>{_LETTER_KEY})\s*\({_NAME}\s*\d*\)", 0),
    # "brown - A, white - B"
    (rf"{_BEFORE}{_NAME}\s+[-=\u2013]\s+(?P<key>{_LETTER_KEY})(?=\s*(?:[,;.]|$|\band\b))", 0),
    # "in main (plum)", "contrast colour: cream"
    (rf"\b(?P<key>main|contrast)(?:ing)?(?:\s+{_NOUN})?\s*[(:=]\s*{_NAME}(?=[\s\d]*(?:[),;.]|$))", re.I),
    # "moss (A) and sand (colour B, 40 g)"
    (
        r"(?P<name>[^\W\d][^\W\d]+(?:[ -][^\W\d]+){0,2})\s*"
        rf"\((?:{_NOUN}\s+)?(?P<key>{_LETTER_KEY})(?:,[^()]{{0,20}})?\)(?!\s*hook)",
        0,
    ),
)
"""How a line gives a yarn its key; the first form that fits any part of the line is the one that it is written in."""

_NAMES_YARN = compile_later(rf"(?<!\w)(?:{_LETTER_KEY})(?!\w)|(?i:\b{_NOUN}|\bmain|\bcontrast|\({_LETTER_KEY}\))")
"""What stands in every line that names a yarn with its key. To compile the forms takes a tenth of reading a short
page."""
_JOINS_NAMES = compile_later(r"^.*\b(?:in|and|of|yarn|with|or)\s+(?=\w\w)", re.I)
_NO_YARN = frozenset(("mm", "size", "hook", "us", "uk", "row", "rows", "rnd", "rnds", "inch", "ply"))


def hook_in(line: str) -> str:
    """The size of the hook that the line names, in millimetres; "" if none. Of several the first is taken.

    A letter is told in millimetres. Steel hooks are numbered another way, and a number alone tells no size.
    """
    folded = fold(line.replace("№", "#"))
    if not _HOOK_WORD.search(folded):
        return ""
    exact = _nearest_size(folded)
    if exact:
        return exact
    bare = _BARE_SIZE.search(folded) or _METRIC_NUMBER.search(folded)
    if bare:
        return f"{bare['size'].replace(',', '.')} mm"
    letter = None if _STEEL.search(folded) else _LETTER.search(folded)
    return HOOK_LETTERS.get(letter["letter"] or letter["before"], "") if letter else ""


def _nearest_size(folded: str) -> str:
    """The first size in millimetres among the goods with a hook in them: "hook 2.5, safety eyes 6 mm" has none."""
    parts = re.split(r"[,;]\s", folded)
    of_hooks = [at for at, part in enumerate(parts) if _HOOK_WORD.search(part)]
    for at, part in enumerate(parts):
        size = _MILLIMETRES.search(part)
        near = any(abs(at - hook) <= 1 for hook in of_hooks)  # "size G, 4 mm hook", "crochet hook, 3 mm"
        if size and near and (at in of_hooks or not _OTHER_GOODS.search(part)):
            return size["size"].strip().replace(",", ".")
    return ""


def gauge_in(line: str) -> Gauge | None:
    """The gauge that the line gives, over centimetres."""
    folded = fold(line)
    if not _ROWS_COUNTED.search(folded):
        return None
    gauge, of_stitch = _gauges()
    match = gauge.search(folded)
    if match is None:
        return None
    over = float(match["over"]) * (1.0 if match["unit"] == "cm" else CM_PER_INCH)
    stitch = match["stitch"]
    if stitch in ("st", "sts", "stitches"):
        named = of_stitch.search(folded)
        stitch = named["stitch"] if named is not None else "sc"
    return Gauge(stitch, float(match["stitches"]), float(match["rounds"]), over)


# By definition (international yard and pound, 1959).
CM_PER_INCH = 2.54


def yarns_in(line: str) -> list[Yarn]:
    """The yarns that the line names with their keys: "A: moss", "moss (A) and sand (B)", "yarn 80304 (blue)".

    A number of a shade is no key of its own: the rounds call the yarn by its name.
    """
    line = line[:_LONGEST_LIST]
    if _NAMES_YARN.search(line) is None:
        return []
    lettered, others = _forms()
    for form in lettered:
        yarns = _yarns_of(form, line)
        if len(yarns) > 1 and [yarn.key for yarn in yarns] in (list(_LETTERS[: len(yarns)]), ["MC", "CC"]):
            return yarns  # keys in their order are a list of yarns, whatever stands around them
    return _yarn_of_row(line) or next(filter(None, (_yarns_of(form, line) for form in others)), [])


_CELLS = compile_later(r"\s*\|\s*|\s{3,}")

_FEWEST_CELLS = 3
"""Of a row that tells of a yarn its name or amount, its colour and its letter."""


def _yarn_of_row(line: str) -> list[Yarn]:
    """The yarn in a row of a table, "DK cotton | moss green | 40 g | A"; its colour is the cell that surely is one,
    or the last one without figures."""
    cells = [cell for cell in _CELLS.split(line.strip("| ")) if cell]
    keys = [cell for cell in cells if _KEY.fullmatch(cell)]
    names = [cell for cell in cells if cell not in keys and not re.search(r"[\d:;]", cell)]
    if len(cells) < _FEWEST_CELLS or len(keys) != 1 or not names:
        return []
    name = next((cell for cell in names if is_sure_yarn(fold(cell))), names[-1])
    return [] if _is_stitch(name) else [Yarn(keys[0], name)]


@cache
def _forms() -> tuple[tuple[re.Pattern[str], ...], tuple[re.Pattern[str], ...]]:
    """The forms in which yarns with their letters in a row are named, and all others."""
    return tuple(map(re.compile, _LETTERED_FORMS)), tuple(re.compile(form, flags) for form, flags in _YARN_FORMS)


def _yarns_of(form: re.Pattern[str], line: str) -> list[Yarn]:
    return [yarn for match in form.finditer(line) if (yarn := _yarn(match)) is not None]


_LETTERS = "ABCDEFGH"
_WORDS = r"(?<!\w)(?P<name>(?!(?:and|in|of|with|used|use|need)\b)[^\W\d_]{2,}(?: (?!and\b)[^\W\d_]{2,})?)"
_LETTERED_FORMS = (
    # "you need A = navy, B = white", "Cotton: A - navy, B - white"
    rf"(?<![\w.])(?P<key>[A-H]|MC|CC)\s*(?:=|:|[-\u2013]\s)\s*{_WORDS}(?=\s*(?:[,;.()]|$|and\b))",
    # "I used navy (A) and white (B)"
    rf"{_WORDS}\s*\(\s*(?P<key>[A-H]|MC|CC)\s*\)",
    # "cotton (A navy, B white)", "in two colours: A navy, B white"
    rf"(?<=[(,:])\s*(?P<key>[A-H]|MC|CC)\s+{_WORDS}(?=\s*(?:[,;.)]|$))",
)
"""Yarns with their letters in a row, in a sentence or a list."""


def yarns_named(line: str, context: Context, *, is_round: bool) -> Iterator[str]:
    """What a round, or a line between rounds, calls the yarns that it names."""
    plan, changed = yarn_plan(line, context), colour_of_line(line, context)
    body = read_once(line, context).body
    if is_round or any(act.technique is Technique.FOUNDATION for act in acts(body)):
        yield from (yarn.key for yarn in every_colour(body))
    elif plan is not None:
        yield from plan.yarns
    elif is_sure_yarn(changed) or len(changed) <= LONGEST_KEY:  # "Attach the keyring" names none
        yield changed


_LONGEST_LIST = 400
"""Characters of a line that are looked at for yarns; a list of ten has some 250."""


def _yarn(match: re.Match[str]) -> Yarn | None:
    # "Main" is a word, "CC2" a key.
    key = match["key"].lower() if len(match["key"]) > 3 else match["key"]
    kinds = {token.kind for token in scan(fold(key), "US")} if key != "M" else set()  # a marker by itself
    if _is_stitch(match["name"]) or not kinds <= {T.WORD, T.COLOURED, T.FILLER, T.NUMBER, T.TIMES}:
        return None
    name = _JOINS_NAMES.sub("", match["name"]).strip(" .,-\u2013\"'\u2018\u2019\u201c\u201d")
    words = name.lower().split()
    # "yarn" and "colours" name none, and no name has one letter.
    if len(name) < 2 or not _NO_YARN.isdisjoint(words) or words[-1] in YARN_NOUNS or _KEY.fullmatch(name):
        return None
    return Yarn(name.lower() if key.isdecimal() and len(key) > 2 else key, name)


def _is_stitch(name: str) -> bool:
    """Whether a key stands for something that is done, "X: single crochet", and for no yarn."""
    first = scan(fold(name), "US")[: int(not fold(name).startswith("off "))]  # "off white"
    return bool(first) and first[0].kind in (*MADE, T.RING, T.LOOP, T.NOUN, T.REPEAT, T.STEP, T.WORK)
