"""What stands around a round on its line: signs in front of its number and behind it, and signs around its total.

Every page has a manner of its own to set a round, "[3] ... /18/", "#3 ~ ... *18*", "Rnd 3 > ... | 18 sts", and all of
them say the same three things: a number, what is made, a total. Here the signs that mean nothing else become those
that the trade reads everywhere, "3: ... =18". Every text keeps its length, so that columns stay true.
"""

from __future__ import annotations

import re

_SIGN = r"[^\w\s()\[\]{}<>*'\"+\-.,;:=&!?#\u00ab\u00bb\u2018-\u201f\u2010-\u2013\u2015\u2212\u00d7\u2715\u2716\u2a2f]"
"""A sign that says nothing of stitches: a bar, a stroke, a tilde, a star of a list, a box to tick, a picture."""

_ROUND = r"(?:rnd|round|row|rd|r)s?"
_NUMBER = r"\d{1,4}(?:st|nd|rd|th)?"
_NUMBERS = rf"{_NUMBER}(?:(?: ?(?:[-\u2013/,&]|to|and) ?|~)(?:{_ROUND}\.? ?)?#?{_NUMBER}\b)*"
_MADE = r"(?=[a-z0-9(\[{<*\"'\u201c])"
"""What may begin the instructions."""

_HEAD = re.compile(
    rf"(?im)^(?P<lead>(?:{_SIGN}|[ >]|[-+](?=[ #]))*(?:\[[ x]?\] ?)?)"
    rf"(?:(?P<open>[\[{{<]|\((?={_ROUND}[. ]*\d)) ?)?(?P<word>(?:{_ROUND}\b\.? ?|r(?=\d))?)(?P<hash>(?:# ?)?)"
    rf"(?P<list>{_NUMBERS})(?P<behind>(?: ?{_ROUND}\b\.?)?)(?P<close>(?(open) ?[)\]}}>]))"
    rf"(?P<sign>(?: ?(?:(?!/\d|~ ?(?:{_ROUND}\.? ?\d|\d+ ?{_ROUND}\b)){_SIGN}|->|[>.:=_](?!\d)))*)(?P<gap> *){_MADE}"
)
_CLOSING = {"(": ")", "[": "]", "{": "}", "<": ">", "": ""}

_BEGINS = re.compile(
    r"(?i)[\d(\[{*]|(?:sc|hdc|dc|tr|htr|dtr|inc|dec|ch|sl|ss|sk|skip|miss|join|with|work|make|in|into|magic|mr|rep"
    r"|repeat|x|v|a|single|double|half|treble|increase|decrease|amr|mc|form|wrap|start|begin|even|dial|invdec"
    r"|as(?= r(?:nd|ow|ound)?\b))(?![a-z])"
)
"""Words and signs that the instructions of a round begin with, where the number before them has no word: a list of
materials has "#4 yarn"."""

_COLUMN = 3
"""Blanks that part two columns; two are a slip of the thumb."""

_ANY_TOTAL = r"\d{1,4}(?: ?[a-z]{1,10}\.?){0,2}"
_PLAIN_TOTAL = r"\d{1,4}(?: ?(?:sts?|stitch(?:es)?|st\.|total))?"
_BEHIND_STROKE = r"(?:(?<!\d )|(?<=[x*\u00d7]\d )|(?<=[x*\u00d7] \d )|(?<=[x*\u00d7] \d\d ))/ |// ?|/(?=\d)"
"""Strokes before a total; one behind a number parts the totals of sizes, but for a number of times, "x 6 / 18"."""

_TAIL = re.compile(
    r"(?im)(?<=[\w).\]}>*\"'] )(?:"
    rf" {{0,3}}(?:(?!/){_SIGN}|[_>])+ ?(?P<total>{_ANY_TOTAL}(?:, {_ANY_TOTAL}){{0,2}}) ?(?:{_SIGN}|_)*"
    rf"|(?:{_BEHIND_STROKE})(?P<counted>{_PLAIN_TOTAL}|(?<=/)\d{{1,4}} ?[a-z]{{4,12}}s) ?/*"
    r"|(?:st|stitch) count:? (?P<told>\d{1,4})"
    rf"|(?:\*\*|[*\"\u201c\u00ab])(?P<framed>{_PLAIN_TOTAL})[*\"\u201d\u00bb]{{1,2}}"
    r")[ .]*$"
)
_LAST_COLUMN = re.compile(
    r"(?im)(?:(?<=[)\]}.*])|(?<=ring)|(?<=round)|(?<=rnd)|(?<=times)|(?<=st)|(?<=sts)|(?<=stitch))"
    rf"(?P<gap> {{{_COLUMN},}})(?=[(\[]?{_PLAIN_TOTAL}[)\]]?[ ]*$)"
)
"""The gap before a total that stands apart, behind what a round may end in."""

_NUMBERED = re.compile(rf"(?i)\W*(?:{_ROUND}\.? ?)?{_NUMBER}\b.*?[a-z]")
_LAST_COLUMN_OF_ROUND = re.compile(rf"(?i)(?<=\S)(?P<gap> {{{_COLUMN},}})(?=[(\[]?{_PLAIN_TOTAL}[)\]]?[ ]*$)")
"""The same in a line with a number at its beginning or stitches in it, whatever it ends in."""

_STITCHES = re.compile(r"(?i)(?<![a-z])(?:sc|hdc|dc|tr|inc|dec)(?![a-z])")

_FIRST_COLUMN = re.compile(rf"(?im)^(?P<lead>[ ]*(?:{_ROUND}\.? ?)?{_NUMBERS})(?P<gap>[ ]{{2,}})(?=\S)")
_CELL_PART = r"\d{1,4}(?: ?[a-z\d-]{1,10}\.?){0,3}"
_LAST_CELL = re.compile(rf"(?i)(?<! )[ ]{{2,}}(?={_CELL_PART}(?:(?:,| \+| and) {_CELL_PART}){{0,2}}[ ]*$)")

_SO_OFTEN = r"(?= ?(?:[x\u00d7*] ?\d|\d{1,2} ?(?:x|times)\b))"
_FRAMED_GROUP = re.compile(
    rf"(?i)(?<=[\s:])(?:/(?=\w)(?P<stroked>[^()\[\]*\n]{{3,80}}?\w)/"
    rf"|[\"\u201c](?P<quoted>[^()\[\]*\"\u201c\u201d]{{3,80}})[\"\u201d]){_SO_OFTEN}"
)
"""A group between strokes or quotes, "/sc, inc/ x 6", which mean something else where no number of times follows."""

_STAR_FOR_TIMES = re.compile(r"(?i)(?<![a-z*] )(?<![\w*)\]])(\d{1,2}) ?\*(?= ?[(\[])")
"""The sign of multiplication in "6*(sc, inc)"; behind a stitch the star begins a part."""

_BOLD_TOTAL = re.compile(r"(?<=[.;)\s])(\*\*|__)(\s*[(\[]?\d[^*_\n]*)\1(?=\s*$)", re.M)
_DIFFERENCE = re.compile(r"[(\[]\s*(?:\u00b1|\+|-|\u2212|\u2013)\s?\d{1,4}(?: sts?)?\s*[)\]](?=\s*$)")


_STEP = r"[ \t]*\*[ \t]+(?!(?:\d{1,3} ?(?:x|times)|x ?\d|rep|repeat|to|around|across|until|from)\b)[^*\n]*"
_STEPS = re.compile(rf"(?im)^{_STEP}(?:\n{_STEP})+$")
"""Lines of one round as a list, each with a star before it that nothing refers to; a repeat has a second one."""

_NO_NAME_BEFORE = r"(?<![bfp] )" + "".join(
    rf"(?<!{word} )" for word in ("post", "back", "front", "raised", "plain", "inv", "invisible", "foundation")
)
"""No word that stands in front of the name of a stitch, "invisible l d c"."""

_MISSCANNED = re.compile(
    r"\b(?:[lI](?=st\b)|[lI][lIO\d](?=th\b)|(?=\d*[lIO])(?=[lIO]*\d)[lI\d][lIO\d]{1,3}(?=(?:st|nd|rd|th|d)\b)"
    r"|(?=\d*[lO])(?=[lO]*\d)[l\d][lO\d]{1,3}\b"
    rf"|{_NO_NAME_BEFORE}l(?= (?:[dst][.]? ?c|hdc|ch|tr|sl|st)\b))"
    r"|(?P<head>\b(?i:rnd|round|row)[sS]?\b\.?\s?)[lI][lIO\d]{0,2}(?=\s?[.:)-])"
)
"""Figures that a scanner took for letters, "lst rnd", "l8 sc", "1O dc", "Rnd l."; "in f l" is a loop, and
"post l d c" and "invisible l d c" a stitch in letters."""

_FIGURES = str.maketrans("lIO", "110")


def _in_figures(misscanned: re.Match[str]) -> str:
    head = misscanned["head"] or ""
    return head + misscanned[0][len(head) :].translate(_FIGURES)


def with_plain_frame(text: str) -> str:
    """The text, of the same length, with the signs around the rounds of its lines as the trade writes them."""
    text = _MISSCANNED.sub(_in_figures, text)
    if difference := _DIFFERENCE.search(text):  # what stands before it is the end of the line, as far as a frame goes
        start, end = difference.span()
        framed = with_plain_frame(text[:start] + " " * (end - start) + text[end:])
        return framed[:start] + difference[0] + framed[end:]
    text = _BOLD_TOTAL.sub(lambda m: f"{' ' * len(m[1])}{m[2]}{' ' * len(m[1])}", text)
    if text.count("*") > 1 and "\n" in text:
        listed = _STEPS.sub(lambda steps: _ENDED.sub(r"\1.\2", steps[0].replace("*", " ", 1)).replace("*", " "), text)
        text = listed if "*" not in listed else text
    if "  " in text:
        text = "\n".join(map(_with_borders, text.split("\n")))
    text = _FRAMED_GROUP.sub(lambda m: f"({m['stroked'] or m['quoted']})", text)
    text = _TAIL.sub(_plain_tail, _HEAD.sub(_plain_head, text))
    return _STAR_FOR_TIMES.sub(lambda m: m[0].replace("*", "x"), text) if text.count("*") == 1 else text


_ENDED = re.compile(r"([\w)\]][ \t]*\n[ \t]*)\*([ \t])")
"""Where one step ends without a sign and the next begins."""


def _with_borders(line: str) -> str:
    """A row of a table of which the columns are all that is left, "7-9   sc in each st   36", with signs where its
    cells meet, "7-9:  sc in each st  =36".

    In one pass each: a pattern of the whole row would try every gap of a long line with every other.
    """
    head = _FIRST_COLUMN.match(line)
    total = _LAST_CELL.search(line, head.end() + 1) if head is not None else None
    if total is not None and _NO_TOTAL.search(line, total.end()):
        return line
    if head is not None and total is not None and re.search("[a-z]", line[head.end() : total.start()], re.I):
        return f"{line[: head.end('lead')]}:{line[head.end('lead') + 1 : total.end() - 1]}={line[total.end() :]}"
    column = _LAST_COLUMN_OF_ROUND if _NUMBERED.match(line) or _STITCHES.search(line) else _LAST_COLUMN
    return column.sub(lambda m: f"{m['gap'][:-1]}=", line)


def _plain_head(head: re.Match[str]) -> str:
    """ "[3] ~ ", "# 3 ", "> Rnd 3 | " as " 3 :  ", "  3:", "  Rnd 3 : "; what is plain stays."""
    opened, closed, sign, gap = (head[part] or "" for part in ("open", "close", "sign", "gap"))
    if _CLOSING[opened] != closed.strip():
        return head[0]
    is_column = not sign.strip() and len(gap) >= _COLUMN
    is_set_off = bool(closed or is_column or head["hash"] or re.search(r"[^\s.:=]", sign))
    if head["word"] or head["behind"]:
        is_framed = is_set_off or bool(head["lead"].strip(" >+-"))
    else:
        is_framed = is_set_off and bool(sign + gap) and _BEGINS.match(head.string, head.end()) is not None
    if not is_framed:
        return head[0]
    parts = ("lead", "open", "hash", "close")
    characters = list(head[0].replace("#", " "))
    for start, end in (head.span(part) for part in parts if head[part]):
        characters[start - head.start() : end - head.start()] = " " * (end - start)
    ended = len(sign + gap)
    if ended and is_set_off:
        characters[-ended:] = ":".ljust(ended)
    return "".join(characters)


_NO_TOTAL = re.compile(
    r"(?i)\d ?(?:times|x|more|mm|cm|g|m|in|inch|inches|yds?|skeins?|balls?|rnds?|rows?|hours?|minutes?|sizes?"
    r"|pages?)\b"
)
_BLANKS = {ord(sign): " " for sign in '/|_~>*"\u201d\u00bb\u2713\u2714'}


def _plain_tail(tail: re.Match[str]) -> str:
    """ "| 18", "/ 18 sts", "*18*" as "= 18", "= 18 sts", "=18 "."""
    name = next(part for part in ("total", "counted", "told", "framed") if tail[part])
    if _NO_TOTAL.search(tail[name]):
        return tail[0]
    start, end = tail.start(name) - tail.start(), tail.end(name) - tail.start()
    return "=".ljust(start) + tail[name] + tail[0][end:].translate(_BLANKS)
