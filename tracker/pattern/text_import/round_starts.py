"""Where rounds begin in the lines of a page: inside a line, and where the end of one cuts a heading in two."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.lexer import scan
from tracker.notation.parser.heading import ROUND_WORDS, heading
from tracker.notation.token_kinds import MADE, T
from tracker.pattern.round_splitter import REFERS
from tracker.pattern.text_import.sections import section_in

_NUMBER = r"\d{1,3}(?:-?(?:st|[nr]?d|th))?\.?"
_BEHIND = r"(?:\s*(?:rnd|round|row)|(?:\s+|(?<=\.))rd)s?\b"
_HEADED = compile_later(
    rf"(?<!\w)(?:{_NUMBER}(?:\s*(?:[-~+,&]|to|thru|through|and)\s*{_NUMBER}){{0,5}}"
    rf"(?P<behind>(?:(?<=[tdh])|(?<=[tdh]\.)){_BEHIND}|{_BEHIND}(?!\s*#?\d|\.\s*#?\d+(?!\d|\s?[a-z])))"
    r"|\d{1,3}(?:r?\s*[-~]\s*\d{1,3})?(?:r(?=\)|\s*-\s)|\.?\s?r(?=\s?\.?:))"
    rf"|(?:(?:{'|'.join(word for word in ROUND_WORDS if len(word) > 2)}|rd)\b[.\s]*#?|r)\s*\d{{1,3}}\b"
    r"|(?:next|last|final)\s+(?:rnd|round|row)\b|(?:edging|border|trim)(?=\s*:))"
)
"""The heading of a round somewhere in a paragraph, as far as it has to go to be one."""

_COUNTS = compile_later(r"\d+(?:\s*(?:rnd|round|row)|\s+rd)")
"""A number that may count rounds and is no ordinal, "2 rows"."""

_ONE_ROUND = ("rnd", "round", "row")
"""Behind a number above 1 that is what the round is called, as translated pages have it."""

_BARE = compile_later(r"(?<![^\s/;])\d{1,3}(?:\s?[-~]\s?\d{1,3})?(?:[.:](?=\s)|\)(?=[\s\w(\[*]))")
"""A number that may be that of a round, with no word; a bracket needs no blank behind it, "2)6v"."""

_FEWEST_BARE = 3
"""Rounds by their numbers alone that a line has to have one behind the other: two may be two steps, if they do not
stand behind a name or state what they come to."""

_TOTAL = compile_later(r"(?:[(\[] ?\d{1,4}[^()\[\]\d]{0,20}[)\]]|= ?\d{1,4})[\s.;,/|]*$")
""" "(12)", "[12 sts]", "= 12", which ends a round."""

_LONGEST_LINE = 4_000
"""Characters of a line that are looked at for them; a piece has no more rounds than that."""

_LABEL = compile_later(r"(?:[^.:;\d]{2,60}:)?(?:\s*(?:with [a-z ]{2,20},? )?(?:ch|chain|make)\b[^.:;]{1,60}\.)?\s*$")
"""What may stand before the first of them: a name, and the chain or ring that it is worked on."""

_PARTED = compile_later(r"(?:\s\s|[.;/|)\]])\s*$")
"""What stands before such a number: "x 2." is none."""

_LONGEST = 60
"""Characters of a heading, ranges and what stands in brackets behind them included."""

_LONGEST_BEFORE = 200
"""Characters before a heading that tell whether a sentence ends there, or refers to the round."""

_SIGN = compile_later(r"[:.)=-]\W*$")
"""What ends a heading inside a line: without it "2 sc in next rnd 3 times" would begin one."""

_SENTENCE_ENDS = compile_later(r"[.;:!?)\]*\d]\s*$|\s[-•]\s*$")

_SENTENCE_ENDS_FOR_SURE = compile_later(r"(?:^|[.;!)\]]|[-=] ?\d{1,4})\s*$")
"""What ends a sentence before a heading that the end of the line cuts, or a total; other numbers count rows."""

LISTED = compile_later(r"^\W*\d{1,3}\s*[.)]\s*$")
"""The number of a list before the round itself: "3. Round 3: ..." """

_TITLE = compile_later(r"[A-Za-z' ]+(?:\([^()]*\))?\s*[,:-]?")


@dataclass(frozen=True, slots=True)
class _Start:
    """A heading in a line: where it begins and ends, the number of its last round, and whether a sentence ends
    before it."""

    start: int
    end: int
    last: int


def round_starts(text: str, above: int, below: str = "") -> list[int]:
    """Where rounds begin in a line; empty if there is no more than one, at its beginning. `above` is the number of
    the last round over it, `below` the next line, which tells whether a number at the end counts stitches.

    A heading begins a round where a sentence ends before it, or where its number is the next one; one that another
    sentence refers to ("rep rnd 2: ...") does not.
    """
    folded = fold(text)
    starts: list[int] = []
    for one in _starts(folded, above, fold(below[:_LONGEST])):
        is_first = not any(map(str.isalnum, folded[: one.start]))
        starts.append(0 if is_first else one.start)  # "[Rnd 4] ..." begins with its bracket
    starts = starts or _bare_starts(folded)
    if starts and _is_label(text[: starts[0]]):
        return []
    if starts and heading(folded).numbers and _is_title(text[: starts[0]]):
        starts[0] = 0  # "Body, Rnd 5: ..." is read with its title, and so is the first of several
    return starts if len(starts) > 1 or (starts and starts[0] > 0) else []


def _bare_starts(folded: str) -> list[int]:
    """Where rounds begin that follow one another by their numbers alone: "1. 6x   2. 6v (12)   3-4. 12x"."""
    starts: list[int] = []
    last = 0
    for match in _BARE.finditer(folded, 0, _LONGEST_LINE):
        start = match.start()
        numbers = heading(folded[start : start + _LONGEST]).numbers
        is_first = not starts and _may_stand_before(folded[:start])
        is_next = (
            bool(starts)
            and numbers[:1] == (last + 1,)
            and _PARTED.search(folded[max(0, start - _LONGEST) : start]) is not None
        )
        if numbers and (is_first or is_next):
            starts.append(start)
            last = numbers[-1]
    named = starts[:1] > [0]
    sure = named or all(_TOTAL.search(folded[:start]) for start in starts[1:])
    if len(starts) < _FEWEST_BARE - sure or not all(_begins_with_work(folded[start:]) for start in starts):
        return []
    return starts


def _may_stand_before(folded: str) -> bool:
    """Whether nothing stands before the first of them, or the name of a piece with its colon, "Head, white: 1) "."""
    return not any(map(str.isalnum, folded)) or _LABEL.match(folded) is not None


def _begins_with_work(folded: str) -> bool:
    """Whether a count, a group or a stitch stands right behind the number of a round."""
    words = scan(folded[heading(folded[:_LONGEST]).end :].lstrip(" ,")[:_LONGEST], "US")
    kinds = [word.kind for word in words[:2]]
    counts = kinds[:1] == [T.NUMBER] and words[1:2] != [] and words[1].text not in _MEASURES
    return counts or (bool(words) and (kinds[0] in MADE or kinds[0] in _BEGINS))


_BEGINS = (T.OPEN, T.MARK, T.RING, T.FROM, T.SAME, T.AS)


_MEASURES = frozenset("cm mm m g oz in inch inches yd yds".split())


def _starts(folded: str, above: int, below: str) -> Iterator[_Start]:
    whole = f"{folded} {below}"
    last = above
    over = 0
    waiting: list[_Start] = []
    is_unsigned = False
    for match in _HEADED.finditer(folded):
        start = match.start()
        if start < over:
            continue  # the other end of a range, "R5 - R6:"
        headed = heading(whole[start : start + _LONGEST])
        sign = _SIGN.search(whole, start, max(start + headed.end, match.end()))
        numbers = headed.numbers
        if sign is None:
            one = _Start(start, start + headed.end, numbers[-1] if numbers else 0)
            leads = numbers and not any(map(str.isalnum, folded[:start]))
            if leads or (not is_unsigned and numbers[:1] == (1,) and _ends_and_begins(folded, one)):
                waiting, is_unsigned, last = [one], True, one.last
            elif is_unsigned and numbers[:1] == (last + 1,) and _ends_and_begins(folded, one):
                yield from (*waiting, one)
                waiting, last = [], one.last
            continue
        before = LISTED.sub("", folded[max(0, start - _LONGEST_BEFORE) : start])
        colon = ":" in sign[0]
        is_next = bool(numbers) and numbers[0] in (1, last + 1)
        ended = not before.strip() or _SENTENCE_ENDS.search(before) is not None
        listed = before.rstrip().endswith(",") and sign[0].strip() == "-"  # "Rnd 1 - 6 sc, Rnd 2 - 6 inc"
        if REFERS.search(before) or not (ended or ((colon or listed) and is_next)):
            continue
        if before.strip() and not colon and not is_next:
            continue  # "... of Rnd 5) and sew" names a round
        if match["behind"] and _COUNTS.match(match[0]) and before.strip():
            numbers_it = match[0].endswith(_ONE_ROUND) and _SENTENCE_ENDS_FOR_SURE.search(before)
            if not (is_next and (colon or (numbers_it and _begins_with_work(folded[start:])))):
                continue  # "... in the last 2 rows - turn" counts them, and "Pink yarn. 2 row. (sc, inc)" does not
        over = start + headed.end
        last = numbers[-1] if numbers else last + 1
        yield _Start(start, over, last)


def _ends_and_begins(folded: str, one: _Start) -> bool:
    """Whether a round ends before a heading without a sign, and work begins behind it: "... 30 sts R6 (4 dc,"."""
    before = folded[max(0, one.start - _LONGEST_BEFORE) : one.start]
    ended = _SENTENCE_ENDS.search(before) or _COUNTED.search(before)
    return ended is not None and not REFERS.search(before) and _begins_with_work(folded[one.start :])


_COUNTED = compile_later(r"(?<!\w)\d{1,4} ?(?:(?:st|sts|stitches|sc|hdc|dc|htr|tr)\.?(?:[)\]],)?|[)\]],)\s*$")
""" "24 sts", "(24 sts),", which ends a round that states what it comes to."""


def _is_label(before: str) -> bool:
    """Whether rounds stand behind a label that makes them none to work, "Gauge: Rnds 1-3 = 7 cm"."""
    labelled = section_in(before.strip()) if before.strip() else None
    return labelled is not None and labelled[0] in ("gauge", "about") and not labelled[1]


def _is_title(before: str) -> bool:
    """Whether words before the heading of a round are a title that its reader knows, "Body, Rnd 5:"."""
    return 0 < len(before.split()) <= _LONGEST_TITLE and _TITLE.fullmatch(before.strip()) is not None


_LONGEST_TITLE = 3
"""Words; more in front of a colon are a sentence (common practice, no source)."""


def with_whole_headings(lines: list[str]) -> list[str]:
    """The lines with a heading that the end of one cuts in two on the next, "... (54 sts). 10th" over "round: dc"."""
    whole = list(lines)
    for index, below in enumerate(lines[1:], 1):
        above = whole[index - 1].rstrip()
        cut = _cut_heading(above, below.lstrip()) if above and below.strip() else None
        if cut is not None and above[:cut].strip():  # no line is left with nothing to be told of it
            whole[index - 1], whole[index] = above[:cut].rstrip(), f"{above[cut:]} {below.lstrip()}"
    return whole


def _cut_heading(above: str, below: str) -> int | None:
    """Where in the line above a heading begins that goes on below, or behind which nothing more stands there."""
    tail = fold(above[-_LONGEST:])
    if not _MAY_BE_CUT.search(tail):
        return None
    both = f"{tail} {fold(below[:_LONGEST])}"
    for match in _HEADED.finditer(both):
        start = match.start()
        end = max(start + heading(both[start : start + _LONGEST]).end, match.end())
        is_begun = start < len(tail) and _SENTENCE_ENDS_FOR_SURE.search(both[:start]) is not None
        is_begun = is_begun and not _NUMBERED.match(both, len(tail) + 1)
        is_bare = bool(both[:start].strip()) and end >= len(tail.rstrip(" *"))
        if is_begun and (is_bare or any(map(str.isalnum, both[len(tail) : end]))):
            return len(above) - len(tail) + start
    return None


_NUMBERED = compile_later(r"(?:rnd|round|row|rd)s?\b[.\s]*#?\d")
"""A whole heading: "16 st" over "rd 3:" is a total, and not the sixteenth."""

_MAY_BE_CUT = compile_later(
    r"(?:\d(?:st|[nr]?d|th)?|(?<!\w)(?:rnd|round|row)s?|\b(?:to|thru|through|and)|[-,&)*])[.:]*[- *]*$"
)
"""What a line ends in that may be a heading, or a part of one, with the star of a repeat."""
