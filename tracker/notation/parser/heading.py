"""The heading of a round line: "Rnds 5-8:", "2nd Round -", "R9.", "5)", "Next rnd:"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from tracker.diagnostics import Lines, Problem, error
from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import Heading
from tracker.notation.lexer import scan
from tracker.notation.parser.heading_forms import (
    BARE,
    FILLING,
    JOINER,
    LETTERED,
    LISTED_ROUNDS,
    NAMED,
    NEXT,
    NUMBER_FIRST,
    NUMBER_OF_A_PART,
    RANGE_OF_LISTED,
    SHAPING,
    SORTS,
    TITLE,
    UNNUMBERED,
    WORD_FIRST,
    HeadingForm,
)
from tracker.notation.parser.words_before_heading import words_kept
from tracker.notation.token_kinds import MADE, WORKED, T

MAX_ROUND = 20_000
"""The highest round number and the longest range taken for real: a large blanket has some thousand rows."""


_SORT_OF = {word: sort for sort, words in SORTS.items() for word in words.split()}
_ORDINAL_ENDINGS = ("st", "nd", "rd", "th", "d")
_ATOM = compile_later(r"\*+|(?<=\d)-(?:st|nd|rd|th)\b|[a-z]+(?:'[a-z]+)*|\d+|\n|\s+|.", re.DOTALL)
_LONGEST = 400
"""Characters of the longest title and list of rounds; almost every heading is over within `_MOSTLY`."""
# Characters in which a heading ends, as a rule; longer ones are tried as a whole.
_MOSTLY = 60


class _Words:
    """The words of a text: their sorts, one letter each, and where each of them begins."""

    def __init__(self, text: str, length: int) -> None:
        self.text = text
        sorts: list[str] = []
        starts: list[int] = []
        for atom in _ATOM.finditer(text, 0, length):
            sorts.append(_sort(atom[0], sorts[-1] if sorts else ""))
            starts.append(atom.start())
        self.sorts = "".join(sorts)
        self.starts = [*starts, min(len(text), length)]

    def between(self, first: int, last: int) -> str:
        """The text of the words from number `first` up to but not including number `last`."""
        return self.text[self.starts[first] : self.starts[last]]

    def numbers(self, first: int, last: int) -> list[int]:
        """The places of the numbers among these words."""
        return [index for index in range(first, last) if self.sorts[index] == "n"]


def _sort(atom: str, before: str) -> str:
    if "0" <= atom[0] <= "9":
        # More digits are no number of a round.
        return "n" if len(atom) < 10 else "W"
    if before == "n" and atom.removeprefix("-") in _ORDINAL_ENDINGS:
        return "o"
    if "a" <= atom[0] <= "z":
        return _SORT_OF.get(atom, "W")
    if atom[0] == "*":
        return {"*": "*", "**": "B"}.get(atom, "!")
    if atom == "\n":
        return atom
    return " " if atom.isspace() else atom if atom in _SIGNS else "!"


_SIGNS = frozenset("-#>+._()[]{}:,;=|/&~'\"?")

# Characters; a longer name is a sentence.
_LONGEST_TITLE = 30
_NO_TITLE = (MADE - {T.BUNCH, T.CHAIN, T.CHAINLESS, T.INC, T.DEC}) | {
    T.IN, T.OF, T.AS, T.REPEAT, T.JOIN, T.SAME, T.TO, T.UNTIL, T.CHANGE, T.AROUND, T.FROM, T.BETWEEN, T.BEHIND,
    T.OVER, T.END, T.BEGINNING,
}  # fmt: skip
_NOT_IN_A_TITLE = frozenset("inc dec ch work before after by since place sew stuff finish to with of at on".split())
"""Words of a sentence that names a round, besides those that instruct."""


_LONGEST_START = 1_000
"""Characters that tell all of a heading: what it ends in, and whether anything is worked behind it."""


def heading(text: str) -> Heading:
    """Read the heading at the start of the folded `text`; one that ends at 0 if there is none."""
    return _heading(text[:_LONGEST_START])


ROUND_WORDS = tuple(SORTS["R"].split())
"""The words for a round in headings."""

LONGEST_HEADING = 400
"""Characters of a line as typed that are looked at for its heading."""


_KEPT = 16_384
"""How many headings are kept; a piece is gone through twice, once to cut it up and once to read it."""


@lru_cache(maxsize=_KEPT)
def heading_of(text: str) -> Heading:
    """The heading of a line as typed."""
    return heading(fold(text[:LONGEST_HEADING]))


_IN_WORDS = compile_later(
    r"\W*(?:[ivx]{1,6}(?:\s*-\s*[ivx]{1,6})?[.)]\s|(?:(?:then|now|the|for|in)\s+)*"
    r"(?:(?:rnd|round|row|rd)s?\s+[a-z]|(?:[a-z]+[- ])?(?:[a-z]{2,}(?:st|rd|th)|second)\b|\w+\s+\w+\s+a?round\b))"
)
""" "Round nine", "IX.", and "Round the edge"; "Fourth round", "3rd time round" """


_PLAIN = compile_later(r"(?:rnd|round|(?P<row>row)|r)s? ?(\d{1,5})(?:-(\d{1,5}))?: (?=[a-z0-9(\[])")
"""A heading with nothing unusual in it, "Rnd 4: ", "Rnds 5-8: ", as most are."""


@lru_cache(maxsize=2_048)  # a line of a page is asked for its heading by each of its neighbours
def _heading(text: str) -> Heading:
    return _plain(text) or _of_any_form(text)


def _plain(text: str) -> Heading | None:
    """The same as `_of_any_form`, without looking for any other form; None for a heading that is not plain."""
    match = _PLAIN.match(text)
    if match is None:
        return None
    row, end, first, last = bool(match["row"]), match.end(), int(match[2]), int(match[3] or match[2])
    numbers = (first,) if match[3] is None else tuple(range(first, last + 1))
    if match[3] is not None and not first < last <= first + MAX_ROUND:
        return None
    return Heading(end, numbers, first, last, row, span=(0, end))


def _of_any_form(text: str) -> Heading:
    if _IN_WORDS.match(text):
        from tracker.notation.parser.spelt_numbers import rounds_in_figures  # few lines have their number in words

        text = rounds_in_figures(text, most=1)
    head = _read(_Words(text, _MOSTLY))
    return head if head.end < _MOSTLY // 2 else _read(_Words(text, _LONGEST))


def _read(words: _Words) -> Heading:
    for read in (_filling, _in_figures, _of_a_part, _behind_title, _next):
        head = read(words)
        if head is not None:
            return head
    return Heading(0)


def _filling(words: _Words) -> Heading | None:
    """ "All odd rounds:", "Even rows 4-10:" """
    match = FILLING.match(words.sorts)
    if match is None:
        return None
    sort, row, end = words.between(*match.span("sort")), _is_row(match, words), words.starts[match.end()]
    span = (0, end)
    ends = [int(words.between(place, place + 1)) for place in words.numbers(*match.span("list"))]
    if not ends:
        own = tuple(int(words.between(place, place + 1)) for place in words.numbers(*match.span("own")))
        first = own[0] if own else None
        return Heading(end, own, first, first, row, fills=sort, span=span)
    first, last = ends
    numbers = tuple(range(first + (first % 2 != (sort == "odd")), min(last, first + MAX_ROUND) + 1, 2))
    return Heading(end, numbers, numbers[0], numbers[-1], row, span=span) if numbers else None


def _in_figures(words: _Words) -> Heading | None:
    """ "Rnds 5-8:", "2nd Round -", "5)" """
    for pattern in (WORD_FIRST, NUMBER_FIRST, LETTERED, RANGE_OF_LISTED, LISTED_ROUNDS, BARE):
        match = pattern.match(words.sorts)
        if match and not _is_count(pattern, match, words):
            return None if _tells_since_when(match, words) else _listed(pattern, match, words)
    return None


def _of_a_part(words: _Words) -> Heading | None:
    """ "1st rib round:", "2nd and 3rd rib rounds:" """
    match = NUMBER_OF_A_PART.match(words.sorts)
    if match is None or not _may_be_title(words.between(*match.span("part"))):
        return None
    return _listed(NUMBER_OF_A_PART, match, words)


def _may_be_title(words: str) -> bool:
    """Whether the words neither tell what is worked, nor are those of a sentence."""
    spelt = re.findall(r"[a-z']+", words)
    if spelt not in (["inc"], ["dec"]) and not _NOT_IN_A_TITLE.isdisjoint(spelt):
        return False
    return _NO_TITLE.isdisjoint(_kinds(words))


def _tells_since_when(match: re.Match[str], words: _Words) -> bool:
    """ "From round 5 use a thicker hook": a sentence, where "From round 5 to 9: ..." names the rounds themselves"""
    first, last = match.span("list")
    named_from = "f" in words.sorts[:first]
    return named_from and (len(words.numbers(first, last)) < 2 or not match["rest"].strip())


def _behind_title(words: _Words) -> Heading | None:
    """ "Body, Rnd 5:" """
    match = TITLE.match(words.sorts)
    if match is None or words.starts[match.end("title")] > _LONGEST_TITLE:
        return None
    title = words.between(0, match.end())
    if not _may_be_title(title):
        return None
    if match["sign"] == " " and title.rstrip()[-1:] != ")" and len(title.split()) > 2:
        return None  # with nothing but a space behind it, a longer one is a sentence that names a round
    start = words.starts[match.end()]
    inner = heading(words.text[start:])
    if not inner.numbers:
        return None
    if _kinds(title) & {T.INC, T.DEC}:  # counted among those that shape, "Dec rnd 1": the next one
        ahead, end = len(inner.numbers), inner.end + start
        return Heading(end, is_next=True, is_row=inner.is_row, rounds_ahead=ahead, span=(0, end))
    return _moved(inner, start)


def _kinds(text: str) -> set[T]:
    """What sorts of words the text has, in US and in UK terms: a heading is read before the terms count."""
    return {token.kind for terms in ("US", "UK") for token in scan(text, terms)}


def _moved(head: Heading, columns: int) -> Heading:
    span, bracketed = (tuple(column + columns for column in part) for part in (head.span, head.bracketed))
    return replace(head, end=head.end + columns, span=(span[0], span[1]), bracketed=bracketed)


def _next(words: _Words) -> Heading | None:
    """ "Next rnd", "Next 4 rounds", "Foundation row", "Border:", "Row:" """
    unnumbered = UNNUMBERED.match(words.sorts)
    named = NAMED.match(words.sorts) or unnumbered
    if named is not None and _kinds(words.text[words.starts[named.end()] :][:_LONGEST]) & WORKED:
        end = words.starts[named.end()]
        is_row = named is unnumbered and _is_row(named, words)
        return Heading(end, is_next=True, is_row=is_row, rounds_ahead=1, span=(0, end))
    shaping = SHAPING.match(words.sorts)
    if shaping is not None:
        end = words.starts[shaping.end()]
        return Heading(end, is_next=True, is_row=_is_row(shaping, words), rounds_ahead=1, span=(0, end))
    match = NEXT.match(words.sorts)
    if match is None or re.match(r"\s*(?:of|as|was)\b", words.text[words.starts[match.end()] :]):
        return None
    ahead = int(words.between(*match.span("n"))) if match["n"] else 1
    end = words.starts[match.end()]
    sizes = [int(words.between(place, place + 1)) for place in words.numbers(*match.span("sizes"))]
    by_size = (ahead, *sizes) if sizes else ()
    row = _is_row(match, words)
    return Heading(end, is_next=True, is_row=row, rounds_ahead=ahead, ahead_by_size=by_size, span=(0, end))


def _is_count(pattern: HeadingForm, match: re.Match[str], words: _Words) -> bool:
    """Whether what looks like a round number counts stitches or rounds: "6 - ch", "12 sc", "next 2 rounds",
    "(27, 30) hdc"."""
    behind = words.text[words.starts[match.end()] :]
    if pattern is NUMBER_FIRST and NEXT.match(words.sorts):
        return True
    if pattern is BARE and re.match(r"\s*\(\s*\d+\s*[,/]", words.text):
        return True  # the counts of other sizes
    return pattern is BARE and not re.search(r"[a-z*]", behind)


def _listed(pattern: HeadingForm, match: re.Match[str], words: _Words) -> Heading:
    """One number or several: "5-8", "6, 8 and 10"."""
    first, last = match.span("list")
    places = words.numbers(first, last)
    end = match.end()
    if _parts_a_count(pattern, match, words, places):
        end = _behind_joiner(words, places[-2])
        places = places[:-1]
    numbers = [int(words.between(place, place + 1)) for place in places]
    joiners = [words.sorts[a + 1 : b] for a, b in pairwise(places)]
    span = (0, words.starts[end])
    row, own = _is_row(match, words), _expanded(joiners, numbers)
    by_size = (own, *_ranges(words, *match.span("ranges"), own)) if own and match.groupdict().get("ranges") else ()
    bracketed = _number_in_brackets(match, words) if by_size else ()
    is_open = bool(match.groupdict().get("open"))
    return Heading(
        span[1], own, numbers[0], numbers[-1], row, is_open=is_open, by_size=by_size, span=span, bracketed=bracketed
    )


def _number_in_brackets(match: re.Match[str], words: _Words) -> tuple[int, ...]:
    """The columns of the number that stands alone in brackets behind that of the round."""
    places = words.numbers(*match.span("ranges"))
    first = words.between(*match.span("ranges")).strip()
    return (words.starts[places[0]], words.starts[places[0] + 1]) if first.isdecimal() else ()


def _ranges(words: _Words, first: int, last: int, own: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """The rounds of the other sizes in "Rows 3-10 (3-12, 3-14)", "Rows 3-10 (12, 14)"."""
    for one in re.split("[,/]", words.between(first, last)):
        ends = [int(number) for number in re.findall(r"\d+", one)]
        if len(ends) not in (1, 2):
            continue
        start = ends[0] if len(ends) == 2 or len(own) == 1 else own[0]
        if start <= ends[-1] <= start + MAX_ROUND:
            yield tuple(range(start, ends[-1] + 1))


_LISTS = ("&", "+", ",", "A")
"""What joins rounds that are named one by one, "Rounds 3 & 4 - 1 sc in each st"."""

_RANGES = ("-", "J", "a", "b", "~")
"""What joins the first and the last round of a range; no second range begins at its end."""


def _behind_joiner(words: _Words, place: int) -> int:
    """Which word comes behind the sign that joins the number at `place` to the next one."""
    joined = re.compile(rf"no?\)?{JOINER}").match(words.sorts, place)
    return joined.end() if joined is not None else place + 1


def _parts_a_count(pattern: HeadingForm, match: re.Match[str], words: _Words, places: list[int]) -> bool:
    """Whether the sign parts the number of the round from a count: "Round 2 - 3 ch" has one number, and "Rounds 5 to
    9 - 1 sc in each st" two."""
    if len(places) > 2:
        before, sign = (words.sorts[a + 1 : b].strip("o()R. ") for a, b in list(pairwise(places))[-2:])
        spaced = words.sorts[places[-1] - 1] == " " and not match["rest"].strip(" ")
        goes_on = before in _RANGES or (before[:1] in _LISTS and spaced)
        parts = sign == "-" or (sign == "," and before in _RANGES and not match["rest"].strip())
        return goes_on and parts and _counts(words.text[words.starts[match.end()] :])
    if len(places) != 2 or pattern in (RANGE_OF_LISTED, LISTED_ROUNDS):
        return False
    if "R" in words.sorts[places[0] : places[1]]:
        return False  # "r6 + r7 sc around" names the second one too
    joiner = words.sorts[places[0] + 1 : places[1]].strip("o()R.")
    sign = joiner.strip()
    word = words.between(*match.span("word")) if pattern is not BARE else ""
    plural = word.endswith("s") and len(word) > 1
    punctuated = bool(match["rest"].strip())
    follows = _counts(words.text[words.starts[match.end()] :])
    if sign not in ("-", "/", ",", "+") or plural or (punctuated and not follows and sign == "-"):
        return False
    glued = follows and match["rest"] == ""
    spaced = joiner != sign
    first, second = (int(words.between(place, place + 1)) for place in places)
    return not (second > first and not glued and (punctuated or not follows or not spaced))


def _counts(text: str) -> bool:
    """Whether the text begins with something that a number before it counts: a stitch of any sort, or stitches; a
    word that nobody knows is one of another language."""
    for terms in ("US", "UK"):
        for token in scan(text[:_LONGEST_NAME], terms):
            if token.kind in MADE or token.kind in (T.NOUN, T.WORD) or token.text in ("x", "v", "a"):
                return True
            if token.kind not in (T.LOOP, T.FILLER):
                break
    return False


_LONGEST_NAME = 60
"""Characters that the longest name of a stitch fits in, with a loop before it."""


def _is_row(match: re.Match[str], words: _Words) -> bool:
    """Rows lie back and forth; "rwo" is a row mistyped, and "round" is none."""
    named = "word" in match.re.groupindex and match["word"]
    return bool(named) and words.between(*match.span("word")).startswith(("row", "rw"))


def _expanded(joiners: list[str], numbers: list[int]) -> tuple[int, ...]:
    """ "5-8" to 5, 6, 7, 8; "6, 8, 10" as they stand; a range that runs backwards or too far is empty."""
    rounds: list[int] = [numbers[0]]
    for joiner, number in zip(joiners, numbers[1:], strict=True):
        listed = any(sign in joiner for sign in "&+,/") and "/u" not in joiner  # "7 t/m 12" is a range
        if joiner.strip() == ")" or listed or ("A" in joiner and "I" not in joiner):
            rounds.append(number)
        elif not rounds[-1] < number <= rounds[-1] + MAX_ROUND:
            return ()
        else:
            rounds.extend(range(rounds[-1] + 1, number + 1))
    return tuple(rounds)


_HEADING_AHEAD = compile_later(
    r"(?<=[.,:;) -])(?:(?:rnds?|rounds?|rows?|r)\s*\d|\d{1,3}(?:st|nd|rd|th)\s+(?:rnd|round|row)\b)"
)
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
    start = words_kept(folded[: ahead.start()]) if ahead is not None else None
    if ahead is None or start is None:
        return folded, head
    inner = heading(folded[ahead.start() :])
    if not inner.numbers:
        return folded, head
    words = re.sub(r"\b(ch|chains?) of\b", lambda m: m[1].ljust(len(m[0])), folded[start : ahead.start()])
    span = (ahead.start() + inner.span[0], ahead.start() + inner.span[1])
    blanked = " " * start + words + " " * inner.end + folded[ahead.start() + inner.end :]
    return blanked, replace(inner, end=start, span=span)


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
