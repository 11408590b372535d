"""A page cut into the units that something is decided about: lines, and the rounds and sentences of a paragraph."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.context import Context
from tracker.notation.lexer import scan
from tracker.notation.parser.heading import heading
from tracker.notation.parser.remark import PARTS, begins_sentence
from tracker.notation.parser.total_inside import start_of_closing
from tracker.notation.token_kinds import MADE, T
from tracker.notation.yarn_names import is_sure_yarn
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.round_splitter import is_bare_heading
from tracker.pattern.text_import.borrowed_rounds import may_borrow
from tracker.pattern.text_import.page_breaks import last_number, lines_set_in, with_whole_words
from tracker.pattern.text_import.round_starts import LISTED, round_starts, with_whole_headings
from tracker.pattern.text_import.sections import is_item, is_label, is_ruler, section_in


@dataclass(frozen=True, slots=True)
class PageUnit:
    """One line of the page, or a part of one: its line from 1, whether a blank line or a ruler stands over it, if it
    belongs to a picture drawn with signs, and if it is set into a round that goes on below."""

    line: int
    text: str
    is_apart: bool = True
    is_picture: bool = False
    is_set_in: bool = False


_BAR = compile_later(r"\|(?!.*\|\s*$)")
"""One bar at the left of a line and none at its end, as beside a drawing; a row of a table has both."""

_NAMED = compile_later(
    r"(?!Foundation|Base|Start|Begin|Set-?up|Chain|To |With |Using )"
    r"(?P<name>[A-Z][A-Za-z ]{1,30}(?:\([^()]{1,30}\))?)\s*(?::|\s[-–])\s+(?=\S)"
)
"""The name of a piece before what it borrows or the ring it begins with, "LID (grey): as Rnds 1-5 of Pot"."""

_OVER_FIRST = compile_later(r"(?P<name>[A-Z][A-Za-z]+(?: [^\s:.,;!?]+){0,4}):\s+(?=\S)")
"""What may be the name of a piece, with how often it is made, before a colon."""

_STOPPED = compile_later(
    r"(?P<name>[A-Z][a-z']+(?: [a-z']+){0,2}(?: ?\([\w ]{1,20}\))?(?:, ?[a-z ]{2,20}){0,2})"
    r"(?: ?(?P<aside>\([^()]{1,80}\)))?\.(?=\s|$)\s*(?P<ground>(?:(?:\d{1,3} ?ch|ch ?\d{1,3})\b[^.]{0,60}\.)?)$"
)
"""A name with a full stop in front of its first round, "Wings, two, white. Rnd 1. 6 dc", with what is said of it in
brackets, "Hat (for cold days only). Rnd 1", and the chain or ring that the piece is worked on."""

_YARN_FIRST = compile_later(r"(?P<yarn>[A-Za-z]+(?: [a-z]+)?)\s*:\s+(?=\d{1,3}[.)]\s+\S)")
"""What may be the yarn of a round that has a number alone, "white: 3. sc in each st"."""

_RING = compile_later(
    r"(?:with [a-z ]{1,24},\s*)?(?:(?:ch|chain)\s*\d{1,3}|\d{1,3}\s*ch)\b[,;.]?\s*(?:and\s+)?"
    r"(?:join|close|sl\.? ?st|ss)\b[^.;:\d]{0,50}\.?$",
    re.I,
)
"""A ring and nothing on it, "Ch 6, join with a sl st"."""

_ESCAPED = compile_later(r"\\([*_#+.()\[\]!|~`>-])")
_BOLD = compile_later(r"(?<![\w*])(\*\*|__)(?=\w)(?P<text>.{1,60}?)(?<=[\w.:!)])\1(?!\w)")
"""Signs that Markdown lets stand as they are, and its signs of bold type around a few words."""

_LEANING = compile_later(r"(?<![\w*])\*(\([^()*]{1,60}\))\*(?!\w)")
"""A bracket in slanted type, "*(make two)*", which it is for sure in a line with bold type alone."""

_SPACED = compile_later(r"\b(?:[A-Z] ){2,}[A-Z]\b")
_SPREAD = compile_later(r"\W*(?:[A-Z] ){2,}[A-Z](?:\s+(?:[A-Z] )*[A-Z]\b)*\W*")
"""Capitals set apart, "H E A D", as titles are in some PDFs."""

_MARK_OF_A_LIST = "•▪◦●■·"
_PARTS = compile_later(r"(?<=[.!?])\s+(?=[A-Z*])|\s+(?=[•▪◦●■]\s)|(?<=[a-z.)])\s+(?=[A-Z][A-Za-z ]{2,24}:\s)")
"""Between sentences, before a bullet, and before a word with a colon that opens a part of the page."""

_BETWEEN = compile_later(r"(?:\s[/|]|\s*;)$")
"""What parts a round from the next one on its line, "... = 7 / 2. rnd: ...", and says nothing."""

_LABELS = compile_later(r"(?<=[\w.)\"])\s+(?=[A-Z][A-Za-z]{2,12}(?: [a-z]{2,12})?:\s)")
"""Before each of several labels on a line: "Yarn: cotton, 1 ball. Hook: 3 mm. Gauge: 5 hdc = 1 in." """


def page_units(lines: list[str], places: Sequence[int]) -> Iterator[PageUnit]:
    """The units of the lines, which must be cleaned, in order; blank lines are none. `places` are their numbers."""
    apart, drawn, above, in_steps = True, False, 0, False
    whole = with_whole_headings(with_whole_words(lines))
    set_in = lines_set_in(whole)
    for at, line in enumerate(whole):
        number = places[at]
        fence = line.lstrip().startswith("```")
        drawn = drawn != fence
        text = _unframed(line)
        if fence or drawn or _BAR.match(text):
            yield PageUnit(number, text, apart, is_picture=True)
            apart = True
            continue
        if not text:
            apart = apart or at not in set_in
            continue
        if at in set_in:
            yield PageUnit(number, text, is_set_in=True)
            continue
        below = whole[at + 1] if at + 1 < len(whole) else ""
        in_steps = in_steps and line.lstrip()[:1] in _MARK_OF_A_LIST
        for part in (f"- {text}",) if in_steps else _parted(text, above, below):
            yield PageUnit(number, part, apart)
            apart, above = False, last_number(part, above)
            in_steps = in_steps or is_bare_heading(part)
        apart = is_ruler(text)


def _unframed(line: str) -> str:
    """The line without its bullet, and without the outer bars of a row of a table."""
    typed = _ESCAPED.sub(r"\1", line)
    plain = _BOLD.sub(_not_bold, typed)
    text = _without_pictures((_LEANING.sub(r"\1", plain) if plain != typed else plain).strip())
    if len(text) > 1 and text[0] == text[-1] == "|":
        text = text.strip("| ")
    text = text.strip(_MARK_OF_A_LIST).strip() or text
    return _SPACED.sub(lambda m: m[0].replace(" ", ""), text) if _SPREAD.fullmatch(text) else text


def _without_pictures(text: str) -> str:
    """The line without the small pictures set around it; what stands behind a name framed by two alike is set off by
    a dash, as the yarn of a piece is. A line of pictures alone stays as it is."""
    if text.isascii():
        return text
    start = _pictures_before(text)
    frame, bare = text[:start].strip(), text[start:]
    bare = bare[: len(bare) - _pictures_before(bare[::-1])].strip()
    if frame and frame in bare:
        bare = re.sub(rf"\s*{re.escape(frame)}\s*", " - ", bare, count=1)
    return bare or text


def _pictures_before(text: str) -> int:
    """How many characters at the beginning are small pictures or blanks, and no sign that the trade writes."""
    return next((at for at, character in enumerate(text) if not _is_picture(character)), len(text))


def _is_picture(character: str) -> bool:
    """Whether a character is a picture, or joins or tints one; a star that stands for the asterisk is none."""
    if character in _JOINS_PICTURES or character.isspace():
        return True
    return unicodedata.category(character) == "So" and character not in "©®°" and not fold(character).isascii()


_JOINS_PICTURES = "\ufe0e\ufe0f\u200d\U0001f3fb\U0001f3fc\U0001f3fd\U0001f3fe\U0001f3ff"
"""Selectors of how a picture is shown, the joiner of two, and tones of skin."""


def _not_bold(bold: re.Match[str]) -> str:
    """The words between the signs of bold type where they head a line, are all of it, or instruct nothing; else as
    they stand: two stars are a sign of the trade too."""
    text, whole = bold["text"], bold[0] == bold.string.strip()
    heads = text.endswith(":") or bold.string[bold.end() :].lstrip()[:1] == ":"
    plain = not re.search(r"[\d,]", text)
    return text if whole or heads or plain or heading(fold(text)).numbers else bold[0]


def _parted(text: str, above: int, below: str) -> Iterator[str]:
    """The rounds in the text one by one, and the sentences of what stands before the first and behind the last; what
    says which rounds are made with which yarn has none. `above` is the number of the last round over it,
    `below` the next line."""
    if yarn_plan(text, Context()) is not None:
        yield text
        return
    over_first = _OVER_FIRST.match(text)
    if over_first and _is_name_over_first(over_first["name"], text[over_first.end() :]):
        yield f"{over_first['name']}:"
        text = text[over_first.end() :]
    yarn = _YARN_FIRST.match(text)
    if yarn is not None and is_sure_yarn(fold(yarn["yarn"])):
        yield f"{yarn['yarn']}:"
        text = text[yarn.end() :]
    starts = round_starts(text, above, below)
    if not starts:
        named = _NAMED.match(text)
        headed = heading(fold(text)).begins_round
        if named and not headed and section_in(named["name"]) is None and _is_of_a_piece(named, text):
            yield f"{named['name']}:"
            text = text[named.end() :]
        labelled = [part.strip() for part in _LABELS.split(text)]
        yield from labelled if all(is_item(part) or is_label(part) for part in labelled) else _closed_apart(text)
        return
    before = text[: starts[0]].strip()
    stopped = _STOPPED.match(before)
    if stopped and _is_name_over_first(stopped["name"], text[starts[0] :]) and _names_a_thing(stopped["name"]):
        yield f"{stopped['name']}:"
        yield from filter(None, (stopped["aside"], stopped["ground"]))
        before = ""
    named = _NAMED.match(before)
    if named and section_in(named["name"]) is None and named.end() < len(before):
        yield named["name"]
        before = before[named.end() :]
    if before and not LISTED.match(before):
        yield from _sentences(before)
    for start, end in zip(starts, [*starts[1:], len(text)], strict=True):
        yield from _closed_apart(_BETWEEN.sub("", text[start:end].strip()))


def _closed_apart(text: str) -> Iterator[str]:
    """A round, and apart from it the stitches that close the piece behind its total: "R9: 6 dec (6). Fold the edge, 3
    sc through both layers"."""
    start = start_of_closing(fold(text), "US") if _MAY_CLOSE.search(text) else 0
    yield from filter(None, (text[:start].strip(), text[start:].strip()))


_MAY_CLOSE = compile_later(r"\d[^()\[\]]{0,12}[)\]].*\b(?:both|all|two|the)\b", re.I)


def _is_name_over_first(name: str, behind: str) -> bool:
    """Whether the name of a piece stands before its first round: "Paws (4): 1 rnd: 5 sc". "Gauge: Rnds 1-3" and
    "Size: 1. small" have none."""
    if section_in(name) is not None or heading(fold(f"{name}:")).end:
        return False
    head = heading(fold(behind))
    return head.numbers[:1] == (1,) and re.search("[a-z]", fold(behind)[: head.end]) is not None


def _names_a_thing(name: str) -> bool:
    """Whether the words before a comma or a bracket neither tell the maker to do something nor what is worked."""
    words = scan(fold(re.split("[,(]", name)[0]), "US")
    names = words[0].text in PARTS or not begins_sentence(name)
    return names and all(word.kind in (T.WORD, T.FILLER) for word in words)


def _is_of_a_piece(named: re.Match[str], text: str) -> bool:
    """Whether what stands behind a name is of a piece: what it borrows, or its ring. "Picot: ch 3, sl st in first ch"
    tells a stitch."""
    behind = text[named.end() :]
    return may_borrow(behind) or (_RING.match(behind) is not None and scan(fold(text), "US")[0].kind not in MADE)


def _sentences(text: str) -> Iterator[str]:
    yield from (part.strip() for part in _PARTS.split(text) if part.strip())
