"""The heading of a round line: "Rnds 5-8:", "2nd Round -", "R9.", "5)", "Next rnd:"."""

from __future__ import annotations

import re
from dataclasses import replace

from tracker.diagnostics import Problem, error
from tracker.lazy_dataclass import dataclass
from tracker.notation.lexer import Lines
from tracker.notation.token_kinds import NUMBERS, ORDINALS

MAX_ROUND = 100_000
"""The highest round number and the longest range taken for real."""


@dataclass(frozen=True, slots=True)
class Heading:
    """`numbers` are the rounds that the line is for, in order; empty for "Next rnd" or no heading.

    `first` to `last` is the range as written, which may run backwards. `end` is where the instructions start.
    `rounds_ahead` is n for "Next n rounds".
    """

    end: int
    numbers: tuple[int, ...] = ()
    first: int | None = None
    last: int | None = None
    is_row: bool = False
    is_next: bool = False
    rounds_ahead: int = 0
    span: tuple[int, int] = (0, 0)


_LEAD = r"[-#>+.\s]*(?:(?:then|now|and|the|for|next|in)\s+)*(?P<bold>\*\*|\*|__|_)?\s*\(?"
_WORD = r"(?:rnds?|rounds?|rows?|rds?|rs?|rwo?s?|vueltas?|laps?)"
_ORD = r"(?:st|nd|rd|th)?"
_JOINER = r"(?:\s*(?:-|up to and including|up to|to|through|thru|until|till|and|&|\+|,|/|~)\s*)"
_LIST = rf"\d{{1,9}}{_ORD}\)?(?:{_JOINER}(?:{_WORD}\.?\s*)?\(?\d{{1,9}}{_ORD}\b)*"
_DELIMITER = r"(?(bold)(?P=bold)?)(?:\s*[(\[][\d,/ -]+[)\]](?=\s*[:.]))?(?:\s*[:.)=\-|/\]]+)*(?(bold)(?P=bold)?)\s*"

_WORD_FIRST = re.compile(
    rf"{_LEAD}(?P<word>{_WORD})\s*(?:\.|#|no\.?|number)?\s*\(?(?P<list>{_LIST})\+?(?P<rest>{_DELIMITER})"
)
_NUMBER_FIRST = re.compile(rf"{_LEAD}(?P<list>{_LIST})\s*\.?\s*(?P<word>{_WORD})\b(?P<rest>{_DELIMITER})")
_BARE = re.compile(
    rf"{_LEAD}(?P<list>{_LIST})(?!\.\d+ ?(?:mm|cm|in|g|m|oz)\b)"
    r"(?P<rest>\s*[:.)=|]+[:.)=|\-\s]*|\s+[-/]+\s+|\s*-\s+(?=\d*\s*\(|\d|\*|\[)|[ ]*\n\s*)"
)
_CARDINALS = {word: number for word, number in NUMBERS.items() if 1 <= number <= 12}
_SPELT = re.compile(rf"{_LEAD}(?P<word>{_WORD})\s+(?P<n>{'|'.join(_CARDINALS)})\b(?P<rest>{_DELIMITER})")
_SPELT_FIRST = re.compile(rf"{_LEAD}(?P<n>{'|'.join(ORDINALS)})\s+(?P<word>{_WORD})\b(?P<rest>{_DELIMITER})")
_NEXT = re.compile(
    rf"{_LEAD}(?:next|last|final|following|foundation|set-?up|base|border|edging|joining|edge|trim|closing|picot)\s+"
    rf"(?:(?P<n>\d{{1,6}})\s+)?(?P<word>{_WORD})\b(?P<rest>{_DELIMITER})"
)
_NAMED = re.compile(
    rf"{_LEAD}(?P<word>(?:outer |final |sc )?(?:border|edging|trim))\s*(?:round|rnd)?\s*:\s*(?=[a-z*(\[\d])"
)
"""A round that is called by what it is for, "Border: ch 1, sc evenly around"."""
_TITLE = re.compile(
    r"[a-z' ]{2,30}(?:\([a-z0-9 ]{1,20}\))?[,:.\-\n ]\s*(?=(?:rnd|round|row|r|rnds|rounds|rows)\s*\d)"
)
_NOT_IN_A_TITLE = frozenset(
    (
        "sc dc hdc tr htr inc dec ch join rep repeat as like into of work behind from same in between at before "
        "after to until till on over across around through with by since place sew stuff end finish beginning"
    ).split()
)
_INSTRUCTS = re.compile(r"\b(?:sc|hdc|dc|tr|htr|sl st|ss|ch)\b")
_STITCH_FOLLOWS = re.compile(r"\s*(?:ch|sc|hdc|dc|tr|dtr|inc|dec|sts?|stitches|sl|htr|ss|sk|x\b|v\b)")


def heading(text: str) -> Heading:
    """Read the heading at the start of the folded `text`; one that ends at 0 if there is none."""
    for read in (_in_figures, _behind_title, _in_words, _next):
        found = read(text)
        if found is not None:
            return found
    return Heading(0)


def _in_figures(text: str) -> Heading | None:
    """ "Rnds 5-8:", "2nd Round -", "5)" """
    for pattern in (_WORD_FIRST, _NUMBER_FIRST, _BARE):
        match = pattern.match(text)
        if match and not _is_count(pattern, match, text):
            return _listed(match, text)
    return None


def _behind_title(text: str) -> Heading | None:
    """ "Body, Rnd 5:" """
    match = _TITLE.match(text)
    if match is None or _NOT_IN_A_TITLE & set(re.findall(r"[a-z']+", match[0])):
        return None
    if match[0].endswith(" ") and not re.search(r"[,:.)\n-]\s*$", match[0]) and len(match[0].split()) > 2:
        return None  # with nothing but a space behind it, a longer one is a sentence that names a round
    inner = heading(text[match.end() :])
    return _moved(inner, match.end()) if inner.numbers else None


def _moved(head: Heading, columns: int) -> Heading:
    return replace(head, end=head.end + columns, span=(head.span[0] + columns, head.span[1] + columns))


def _in_words(text: str) -> Heading | None:
    """ "Round one", "First rnd" """
    match = _SPELT.match(text) or _SPELT_FIRST.match(text)
    if match is None:
        return None
    number = NUMBERS.get(match["n"]) or ORDINALS[match["n"]]
    return Heading(match.end(), (number,), number, number, _is_row(match["word"]), span=match.span())


def _next(text: str) -> Heading | None:
    """ "Next rnd", "Next 4 rounds", "Foundation row" """
    named = _NAMED.match(text)
    if named is not None and _INSTRUCTS.search(text, named.end()):
        return Heading(named.end(), is_next=True, rounds_ahead=1, span=named.span())
    match = _NEXT.match(text)
    if match is None or re.match(r"\s*(?:of|as|was)\b", text[match.end() :]):
        return None
    row, ahead = _is_row(match["word"]), int(match["n"] or 1)
    return Heading(match.end(), is_next=True, is_row=row, rounds_ahead=ahead, span=match.span())


def _is_count(pattern: re.Pattern[str], match: re.Match[str], text: str) -> bool:
    """Whether what looks like a round number counts stitches or rounds: "6 - ch", "12 sc", "next 2 rounds",
    "(27, 30) hdc"."""
    word = (match.groupdict().get("word") or "").strip()
    if pattern is _NUMBER_FIRST and _NEXT.match(text):
        return True
    if pattern is _NUMBER_FIRST:
        return word in ("r", "rs", "rd") and not match["rest"].strip() and not text[match.end() :].strip()
    if pattern is _BARE and re.match(r"\s*\(\s*\d+\s*[,/]", text):
        return True  # the counts of other sizes
    return pattern is _BARE and not re.search(r"[a-z*]", text[match.end() :])


def _listed(match: re.Match[str], text: str) -> Heading:
    """One number or several: "5-8", "6, 8 and 10"."""
    listed, end = match["list"], match.end()
    word = match.groupdict().get("word") or ""
    numbers = [int(n) for n in re.findall(r"\d+", listed)]
    dash = _delimiting_dash(match, text, numbers)
    if dash is not None:
        listed, numbers, end = listed[: dash.start()], numbers[:1], match.start("list") + dash.end()
    span = (match.start(), end)
    return Heading(end, _expanded(listed, numbers), numbers[0], numbers[-1], _is_row(word), span=span)


def _delimiting_dash(match: re.Match[str], text: str, numbers: list[int]) -> re.Match[str] | None:
    """The dash of "Round 2 - 3 ch", which has one number; None where the sign joins two numbers."""
    joiner = re.search(rf"\)?({_JOINER})", match["list"])
    if joiner is None or len(numbers) != 2:
        return None
    sign = joiner[1].strip()
    word = match.groupdict().get("word") or ""
    plural = word.endswith("s") and len(word) > 1
    punctuated = bool(match["rest"].strip())
    follows = bool(_STITCH_FOLLOWS.match(text, match.end()))
    if sign not in ("-", "/", ",", "+") or plural or (punctuated and not follows and sign == "-"):
        return None
    glued = follows and match["rest"] == ""
    spaced = joiner[1] != sign
    if numbers[1] > numbers[0] and not glued and (punctuated or not follows or not spaced):
        return None
    return joiner


def _is_row(word: str) -> bool:
    """Rows lie back and forth; "rwo" is a row mistyped, and "round" is none."""
    return word.startswith(("row", "rwo"))


def _expanded(listed: str, numbers: list[int]) -> tuple[int, ...]:
    """ "5-8" to 5, 6, 7, 8; "6, 8, 10" as they stand; a range that runs backwards or too far is empty."""
    if len(numbers) == 1:
        return tuple(numbers)
    rounds: list[int] = [numbers[0]]
    joiners = re.findall(r"\d\D*?(-|~|up to and including|up to|to|through|thru|until|till|and|&|\+|,|/)", listed)
    for joiner, number in zip(joiners, numbers[1:], strict=False):
        if joiner in ("and", "&", "+", ",", "/"):
            rounds.append(number)
        elif not rounds[-1] < number <= rounds[-1] + MAX_ROUND:
            return ()
        else:
            rounds.extend(range(rounds[-1] + 1, number + 1))
    return tuple(rounds)


_HEADING_AHEAD = re.compile(
    r"(?<=[.,:;) -])(?:(?:rnds?|rounds?|rows?|r)\s*\d|\d{1,3}(?:st|nd|rd|th)\s+(?:rnd|round|row)\b)"
)
_CHAIN_CLAUSE = re.compile(r"\b(?:ch|chain)s?(?:\s+of)?\s*\d{1,4}\b|\b\d{1,4}\s*(?:ch|chains?)\b")
_JOIN_CLAUSE = re.compile(r"\s*(?:join|sl st|ss|close|form a ring|to form)\b")
_COLOUR_CLAUSE = re.compile(r"\s*(?:join|attach|with|change to|using|in) [a-z ]{1,40}$")
_LONGEST_BEFORE = 90
"""Characters of what may stand before the heading of a round and still belong to it."""


def heading_and_rest(folded: str) -> tuple[str, Heading]:
    """The heading at the start of the folded text, and the text, in which the instructions start where it ends.

    In "Sole: with tan, chain 13. R1 ..." the yarn and the chain belong to the round behind them: their words stay,
    all else is blanked.
    """
    head = heading(folded)
    if head.end:
        return folded, head
    ahead = _HEADING_AHEAD.search(folded, 1, _LONGEST_BEFORE)
    start = _words_kept(folded[: ahead.start()]) if ahead is not None else None
    if ahead is None or start is None:
        return folded, head
    inner = heading(folded[ahead.start() :])
    if not inner.numbers:
        return folded, head
    words = re.sub(r"\b(ch|chains?) of\b", lambda m: m[1].ljust(len(m[0])), folded[start : ahead.start()])
    span = (ahead.start() + inner.span[0], ahead.start() + inner.span[1])
    blanked = " " * start + words + " " * inner.end + folded[ahead.start() + inner.end :]
    return blanked, replace(inner, end=start, span=span)


def _words_kept(before: str) -> int | None:
    """Where the yarn and the chain begin in what stands before a heading; None if it says anything else."""
    place, start = 0, None
    for clause in re.split(r"(?<=[.,:;])", before):
        said = clause.strip(" .,:;-*")
        chain = _CHAIN_CLAUSE.search(clause)
        if chain is not None and (start is not None or re.fullmatch(_LEADS_A_CHAIN, clause[: chain.start()])):
            start = place + chain.start() if start is None else start
        elif _COLOUR_CLAUSE.match(clause.rstrip(" .,:;-")):
            start = place + len(clause) - len(clause.lstrip(" -*")) if start is None else start
        elif said and not (start is not None and _JOIN_CLAUSE.match(clause)) and not _is_title(said, start):
            return None
        place += len(clause)
    return start


_LEADS_A_CHAIN = re.compile(r"[a-z' -]{0,20}[,:-]?\s*(?:(?:make|work|begin with|start with)\s+)?(?:a\s+)?")


def _is_title(said: str, start: int | None) -> bool:
    """ "Base", "Left ear", "Beg at center": a few words before the yarn and the chain."""
    return start is None and len(said.split()) <= 3 and re.fullmatch(r"[a-z' -]+", said) is not None


def heading_problems(head: Heading, lines: Lines) -> tuple[Problem, ...]:
    """What is wrong with a range of rounds."""
    if head.numbers or head.first is None:
        return ()
    span = lines.span(*head.span)
    if head.last is not None and head.last < head.first:
        message = f"the range runs backwards, from {head.first} to {head.last}"
        return (error("range-backwards", message, span, f"did you mean {head.last}-{head.first}?"),)
    message = f"the range from {head.first} to {head.last} is too long"
    return (error("range-too-long", message, span, "check the numbers"),)
