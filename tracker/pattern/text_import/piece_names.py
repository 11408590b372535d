"""Names of pieces in a pasted text: "HEAD", "Ears (make 2):", "LEAF: With LG, ch 8; ..."."""

from __future__ import annotations

import re
from itertools import islice

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import acts, every_colour
from tracker.notation.context import Context
from tracker.notation.lexer import scan
from tracker.notation.own_words import meaning_of
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_once
from tracker.notation.token_kinds import HEADS, MADE, T
from tracker.notation.yarn_names import YARN_NOUNS, is_sure_yarn
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.round_splitter import begins

_WORDS = {
    word: number
    for number, word in enumerate("two three four five six seven eight nine ten eleven twelve".split(), start=2)
}
_WORDS |= {"a pair": 2, "both": 2}
_NUMBER = rf"(\d{{1,5}}|{'|'.join(_WORDS)})"
_MAKE = compile_later(
    rf":?\s*\bmake\s*{_NUMBER}\b(?: (?:the same|alike|in all|in total|of these))?"
    r"|(?<!\w)[x×]\s*(\d+)\b|\((\d+)\s*[x×](?:\)|(?=\s))|(?<![\w(])(\d{1,2})\s?[x×](?=\W*$)"
    rf"|(?<!in )\b{_NUMBER} (?:pieces?|pcs?|parts|details)\b\.?|\b(both) (?:alike|the same)\b",
    re.I,
)
_MAKE_ALONE = compile_later(
    rf"\W*make {_NUMBER}(?: (?:the same|alike|in all|in total|of (?:these|them|each)))?\W*", re.I
)
_COUNT = compile_later(
    rf"\({_NUMBER}(?: (?:alike|the same|of (?:them|these|each)|pieces?|parts|pcs))?\)"
    rf"|,\s*({'|'.join(_WORDS)})(?=\s*(?:[,:]|$))",
    re.I,
)
"""How often a piece is made, said behind its name: "Wings (2)", "Wings, two, white:"."""
_MAKE_BEHIND = compile_later(rf"(?<=[\w)])\.\s+(make {_NUMBER})\.?\s*$", re.I)
"""A sentence behind a name that says how often the piece is made: "LEGS (beige). Make two." """

_STEP_BEFORE = compile_later(r"^\s*(?:step|part)\s+\d{1,2}\s*(?:[-\u2013\u2014:.)]+)\s*(?:the\s+)?(?=\w)", re.I)
"""The step of the page that a piece is, "Step 9 \u2013 The wings"."""

_SAYS_AGAIN = compile_later(r"\W*(?:make|work|crochet)\s+\w+\s+(?:more|others?|the same)\b", re.I)
"""A sentence on copies, "Make 5 more petals", and no name."""

_SHAPES = compile_later(r"\W*shap(?:e|ing)\b", re.I)
"""What heads the rows that narrow a piece, "Shape top", and begins none."""

# Characters; a longer one is a sentence.
LONGEST_NAME = 60
# A longer one is a sentence.
_MOST_WORDS = 6
# Copies of a piece; more is a slip of the keyboard.
MOST_MADE = 10_000

_BRACKET = compile_later(r"\(([^()]*)\)")
_NAME_BEHIND = compile_later(r"(?:\s[-\u2013\u2014]|[,:]|\s(?=(?:in|with)\b))\s*([\w ,]{1,40})$", re.I)
"""What stands behind a name, "Muzzle - cream", and is a yarn if it reads as one."""
_NUMBERED = compile_later(r"^\s*(?P<number>\d{1,2})\s*[.):]\s*(?P<name>[A-Z].*)$")
_PLAIN = compile_later(r"^[A-Z][A-Za-z ]{1,30}(?:\(make \w+\))?:?$")
_ONE_OF_SEVERAL = compile_later(r"(?P<name>[A-Z][A-Za-z ]{2,30}) (?:no\.? ?|nr\.? ?|# ?)?[1-9]\d?")
_COUNTED = frozenset(
    "photo picture image figure fig page step day week chart size version option note tip row round rnd hook "
    "level category volume issue chapter lesson video ball skein".split()
)
"""What has numbers on a page and is no piece."""
_PARTS_NAME = compile_later(r"\s*(?::|\s[-–])\s*(?=\S)")
"""What stands between the name of a piece and its first round on one line."""
_BEGINNING = compile_later(
    r"(?:foundation|base|starting|beginning|set-?up)(?: chain| ch| row)?|(?:to )?(?:begin|start)|chain", re.I
)
"""What stands before the chain of a piece and is not the piece's name."""

_CHAINS = compile_later(r"(?:with [a-z ]{1,20},\s*)?ch(?:ain)?\s*\d+\b|magic (?:ring|circle)", re.I)
"""How a first round begins, whatever is behind it."""

_LEAD = compile_later(r"^(?:and now|now|next|let's make|lets make|let’s make|for)\s+(?:for\s+)?(?:the|a|an)\s+", re.I)
"""Words that lead up to the name of a piece: "And now the wings"."""
_ORNAMENT = compile_later(r"^[^\w(\"'“‘]+|[^\w)\"'”’?!.,;]+$|(?<=\s)[^\w\s()&+/,–→-]+(?=\s|$)")
_WITH_YARN = compile_later(r"(?P<name>[A-Z][^.:]{1,40}?(?:\(\w+\))?)[.:]\s+(?P<yarn>[^.:,()]{3,30}?)\.?")
"""A name and its yarn as a sentence each, "Fins (2). White yarn." """
_SHOUTED = compile_later(r"^[A-Z]{3,}(?: [A-Z]{2,})+\b(?!:)|^[A-Z]{3,} [-–—] ")
_BULLET = compile_later(r"^\W*?[-–—•·*▪◦+]\s")


_PARTS_YARNS = compile_later(r"\w\s*[^\w\s.,'\"#-]\s*\w")
_YARNS_BEHIND = compile_later(r"(?:\s[-\u2013\u2014]|[,:])\s+(.+)$")


def without_plan(line: str, context: Context) -> tuple[str, str]:
    """The name of a piece without what is said of the yarns of its rounds, and that: "Legs (white for rounds 1-2,
    grey for the rest)", "Arms - white, then grey"; "" for a line that says nothing of the kind."""
    line = line.strip()
    if yarn_plan(line, context) is None:
        for match in (*_BRACKET.finditer(line), *_YARNS_BEHIND.finditer(_BRACKET.sub(_without_make, line).strip())):
            plan = yarn_plan(match[1], context)
            # "Panels (A and B)" names two panels.
            if plan is not None and (plan.is_whole or plan.each or all(map(is_sure_yarn, plan.yarns))):
                bare = " ".join(f"{match.string[: match.start()]} {match.string[match.end() :]}".split())
                return bare.replace(" ,", ",").strip(" ,:-\u2013\u2014"), match[1].strip()
    return line, ""


def piece_name(line: str, context: Context) -> str:
    """The name in a short line without stitches that may be the name of a piece; "" if it is none."""
    line = _MAKE_BEHIND.sub(r" (\1)", _STEP_BEFORE.sub("", line))
    line = _with_yarn_in_brackets(re.sub(r"\s*;$", ":", line), context)
    if (len(line) > LONGEST_NAME or line.endswith((".", ",", ";", "!"))) and not _PLAIN.match(line):
        return ""
    if _SAYS_AGAIN.match(line) or _SHAPES.match(line):
        return ""
    bare = _bare(line)
    outside = _without_number(_BRACKET.sub("", _parted(bare, context)[0]), context)
    words = outside.split()
    if not 1 <= len(words) <= _MOST_WORDS or any(character.isdigit() for character in outside):
        return ""
    if outside.count(",") > 1 or re.search(r":\s", outside) or not re.search(r"[^\W\d_]{3}", outside):
        return ""
    if is_bulleted(line) and not _BULLET.match(line.rstrip()[::-1]):
        return ""
    return "" if _is_instruction(line, outside, context) else bare


def _without_number(name: str, context: Context) -> str:
    """The name without the number that tells a piece from others of its kind, "Leg 2"; as it is where the number
    counts what is no piece, "Photo 2", or the word is one of the trade, "Hook 4"."""
    match = _ONE_OF_SEVERAL.fullmatch(name.strip())
    if match is None:
        return name
    kind = fold(match["name"]).split()[-1]
    return name if kind in _COUNTED or meaning_of(kind, context.terms) is not None else match["name"]


def _with_yarn_in_brackets(line: str, context: Context) -> str:
    """The line with the sentence that names the piece's yarn as a remark on its name; as it is if it has none."""
    match = _WITH_YARN.fullmatch(line)
    if match is None:
        return line
    kinds = {token.kind for token in scan(fold(match["yarn"]), context.terms, context.colours)}
    if T.COLOURED not in kinds or kinds & MADE or not _yarn_alone(match["yarn"], context):
        return line
    return f"{match['name']} ({match['yarn'].lower()})"


def without_yarn(name: str, context: Context) -> tuple[str, str]:
    """The name of a piece without the yarn told in it, and that yarn: "Wing (white)", "BODY (in A)", "Head in brown",
    "Muzzle - cream"; "" for the yarn of any other name. A bracket that says more, "(grey, worked flat)", stays."""
    bare, yarn, says_more = _parted(name, context)
    return (name if says_more else bare), yarn


def _parted(name: str, context: Context) -> tuple[str, str, bool]:
    """A name without the words of its yarn, the yarn, and whether those words say more than that."""
    for match in (*_BRACKET.finditer(name), *_NAME_BEHIND.finditer(name)):
        first, _, more = match[1].strip(" ,").partition(",")
        bare = " ".join(f"{name[: match.start()]} {name[match.end() :]}".split()).strip(" ,:-\u2013\u2014")
        yarn = _yarn_alone(first, context) if YARN_NOUNS.isdisjoint(fold(bare).split()) else ""
        if yarn:
            return bare or name, yarn, bool(more)
    return name, "", False


def _yarn_alone(words: str, context: Context) -> str:
    """The yarn that the words name and nothing else; one letter may be a side, "Ear (R)", unless it is a key, and a
    sign parts two yarns, "white → green"."""
    if _PARTS_YARNS.search(words):
        return ""
    read = read_once(words.strip(), context)
    named = [yarn.key for yarn in every_colour(read.body)]
    if not read.is_readable or len(named) != 1 or acts(read.body) or read.remarks:
        return ""
    return "" if len(words.strip()) == 1 and named[0] not in context.colours else named[0]


def _is_instruction(line: str, outside: str, context: Context) -> bool:
    """Whether it says what to do, and is no name with a stitch in it, such as "SHELL TOP" or "Shell (make 2)"."""
    whole = read_once(line, context)
    if whole.heading.numbers and whole.is_readable and whole.body and whole.stated:
        return True  # "(7) (SC - SC-DEC) TO END (16 SC IN TOTAL)"
    read = read_once(outside, context)
    if not read.is_readable or not read.body:
        return False
    if are_names_of_stitches(outside, context):
        return True
    kinds = [token.kind for token in scan(fold(outside), context.terms)]
    placed = kinds[:1] in ([T.STITCH], [T.INC]) and T.IN in kinds  # "make 15 dc in the ring"
    if _MAKE.search(line) and not placed:
        return False
    if outside.istitle() and T.BUNCH in kinds and set(kinds) <= {T.BUNCH, T.WORD}:
        return False  # "Shell", of a snail
    return not outside.isupper() and not _SHOUTED.match(outside)


def are_names_of_stitches(text: str, context: Context) -> bool:
    """Whether the text is nothing but names of stitches, as a list of abbreviations has them."""
    words = scan(fold(text), context.terms)
    return {word.kind for word in words if word.text != "invisible"} <= _NAMES_STITCHES


_NAMES_STITCHES = HEADS - {T.BUNCH} | {T.AND, T.LOOP}
"""The words of a line of abbreviations, "SINGLE CROCHET AND INVISIBLE" over "DECREASE", which name no piece."""


def _bare(line: str) -> str:
    """The line without its ornaments, and without what says how often the piece is made."""
    without = _BRACKET.sub(_without_make, _COUNT.sub("", line))
    bare = _ORNAMENT.sub("", _MAKE.sub("", without))
    bare = _ORNAMENT.sub("", bare.strip(" ,"))
    led_up = _LEAD.match(bare)
    if led_up:
        bare = bare[led_up.end() :].capitalize()
    return " ".join(bare.split())


def _without_make(bracket: re.Match[str]) -> str:
    left = _MAKE.sub("", bracket[0])[1:-1] if _MAKE.search(bracket[1]) else bracket[1]
    left = left.strip(" ,;:-–&") if left != bracket[1] else left
    return f"({left})" if left.strip() and not _MAKE.fullmatch(bracket[0]) else ""


def numbered_name(line: str, context: Context, *, over_first: bool) -> tuple[int, str]:
    """The number and the words of "2. MUZZLE (cream)", which looks like a round; (0, "") if it is none.

    `over_first` says that a first round stands below, called "Rnd 1", so that the name need not be in capitals.
    """
    match = _NUMBERED.match(line)
    read = read_once(line, context) if match is not None else None
    if match is None or (read is not None and read.is_readable and read.stated):
        return 0, ""
    shouted = re.sub(r"\(.*?\)|\bx\s*\d+", "", match["name"])
    named = (over_first or shouted.strip().isupper()) and piece_name(shouted, context)
    return (int(match["number"]), match["name"]) if named else (0, "")


def stands_out(line: str) -> bool:
    """Whether a name is set so that it is told from the short lines of a list: "HEAD", "Ears (make 2)", "Head:",
    "~ Head ~"."""
    if _is_framed(line):
        return True
    if is_bulleted(line):
        return False
    if _MAKE.search(line) and re.search(r"\bmake\b", line, re.I):
        return True
    outside = re.sub(r"\s*;$", ":", _BRACKET.sub("", line).strip())
    return bool(_PLAIN.match(outside)) and (outside.isupper() or outside.endswith(":"))


def is_bulleted(line: str) -> bool:
    """Whether the line stands in a list by its bullet."""
    return _BULLET.match(line) is not None and not _is_framed(line)


_FRAMED = compile_later(r"\s*(?P<left>[^\w\s()\"'.,]{1,5})\s*\w[^\d:]*[\w)]\s*(?P<right>[^\w\s()\"'.,]{1,5})\s*")
_MIRRORED = str.maketrans("[]{}<>«»‹›", "][}{><»«›‹")


def _is_framed(line: str) -> bool:
    """Whether the same signs stand on both sides of the words: "~ Head ~", "*** Head ***", "[Head]"."""
    frame = _FRAMED.fullmatch(line[:LONGEST_NAME])
    return frame is not None and frame["left"][::-1].translate(_MIRRORED) == frame["right"]


def is_plain_name(line: str) -> bool:
    """Whether the line is nothing but words, the first with a capital letter."""
    return bool(_PLAIN.match(line))


def named_round(line: str, context: Context) -> tuple[str, int, str] | None:
    """ "LEAF (make 2 in green): With LG, ch 8; sc in 2nd ch ...": name, how often it is made, and how it begins."""
    if not line[:1].isupper() or heading_of(line).numbers:
        return None
    for parting in islice(_PARTS_NAME.finditer(line[: 2 * LONGEST_NAME]), _MOST_PARTINGS):
        named, beginning = line[: parting.start()], line[parting.end() :]
        if begins(beginning, context) or _CHAINS.match(beginning):
            name = piece_name(named, context)
            return (name, times_made(named), beginning) if name and not _BEGINNING.fullmatch(name) else None
    return None


_MOST_PARTINGS = 3
"""Signs in one line that may end a name: "Leaf - make 2 - in green: Ch 8"."""


def tells_times(line: str) -> bool:
    """Whether the line says how often the piece is made and nothing else: "Make 4." """
    return _MAKE_ALONE.fullmatch(line) is not None


def times_made(line: str) -> int:
    """n of "make n"; 1 if it is not said."""
    make = _MAKE.search(line) or _COUNT.search(line)
    count = next((group for group in make.groups() if group), "1") if make else "1"
    return min(_WORDS.get(count.lower(), int(count) if count.isdigit() else 1), MOST_MADE) or 1
