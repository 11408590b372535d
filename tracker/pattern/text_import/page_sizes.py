"""A page that is written for several sizes, "54 (58, 62)": which of its numbers, and which of its rounds, are for the
one that is made."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import takewhile

from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.parser.heading import heading
from tracker.notation.token_kinds import ORDINALS
from tracker.pattern.text_import.page_units import PageUnit
from tracker.pattern.toml_writer import Draft

_STANDARD = {
    word: size
    for size, words in {
        "xxs": "xxs|2xs",
        "xs": "xs|x-small|extra small|xsmall",
        "s": "s|small|sm",
        "m": "m|medium|med",
        "l": "l|large|lg",
        "xl": "xl|x-large|extra large|1x",
        "2xl": "2xl|xxl|2x|xx-large",
        "3xl": "3xl|xxxl|3x",
        "4xl": "4xl|4x",
        "5xl": "5xl|5x",
    }.items()
    for word in words.split("|")
}
"""The names of clothing sizes, from the smallest on (common practice, no source)."""

_LISTED = compile_later(
    r"(?:^|\b(?:for|in|fits?)\s+|[.;]\s*)(?:finished\s+|the\s+)?sizes?\b(?:\s+(?:are|to fit|given|is))?\s*[:=-]?\s*"
    r"(?P<list>[a-z0-9][a-z0-9 -]{0,20}(?:\s*[,/(\[&]\s*(?:and\s+)?[a-z0-9][a-z0-9 -]{0,20}){1,9}[)\]]?)\s*[.;]?\s*$"
)
"""The list of the sizes: "Sizes: S (M, L)", "Instructions are for size small (medium, large)"."""

_NAMES = r"(?P<names>[a-z0-9][a-z0-9 ,/&+()-]{0,60}?)"
_ROUND = r"(?:(?:next|last|rnds?|rounds?|rows?|r)\b[\s\d-]*(?:rnd|round|row)?\s*[:,(\[-]\s*[(\[]?)?"
_LEAD = compile_later(
    rf"\W*(?P<round>{_ROUND})(?:for\s+)?(?:the\s+)?"
    rf"(?:sizes?\s+{_NAMES}|(?P<all>all|both)\s+(?:the\s+)?sizes|{_NAMES.replace('names', 'before')}\s+sizes?"
    rf"|(?P<only>[a-z][a-z ,/&-]{{0,30}}?)(?=\s+only\s*[)\]:,-])|(?<=\()(?P<bare>[a-z0-9 ,/&+-]{{1,40}})(?=\)\s*:))"
    r"(?:\s+only)?\s*[)\]]?\s*(?P<sign>[:.,]|-\s|$|(?<=only[)\]] )|(?<=only[)\]]))\s*(?P<rest>.*)",
    re.DOTALL,
)
"""For which sizes something is: "Sizes M and L only:", "All sizes:", "Rnd 5 (sizes M, L):", "Two largest sizes:"."""

_GO_TO = compile_later(
    r"\b(?:go|skip|proceed|jump|move|continue)\b(?:\s+[a-z]+)?\s+(?:to|with|at|from)\s+(?:the\s+)?"
    r"(?:rnd|round|row)s?\s*(?P<number>\d{1,4})"
)
FOR_OTHER_SIZES = "For other sizes: rounds"
"""What stands in a piece's text where it has no round for the size that is made, before their numbers."""

_FROM_AN_END = {"smallest": 0, "first": 0, "smaller": 0, "largest": -1, "last": -1, "larger": -1, "biggest": -1}
_COUNTED = {"two": 2, "2": 2, "three": 3, "3": 3}
_ONWARD = compile_later(r"\s*(?:and|or)\s+(?:up|larger|above|bigger)$|\s*\+$")


def is_size_heading(text: str) -> bool:
    """Whether the line says for which sizes what follows is, and nothing else."""
    lead = _LEAD.match(fold(text[:_LONGEST_LIST]))
    return lead is not None and not lead["rest"]


def size_names(texts: Sequence[str]) -> tuple[str, ...]:
    """What the page calls its sizes, in order; empty if it does not list two of them."""
    for text in _with_lists_below(texts):
        match = _LISTED.search(fold(text[:_LONGEST_LIST]))
        names = [name.strip() for name in re.split(r"[,/()\[\]&]|\band\b", match["list"])] if match else []
        names = [_named(name) for name in names if name]
        if len(names) > 1 and len(set(names)) == len(names) and all(map(_is_size, names)):
            return tuple(names)
    return ()


_HEADING = compile_later(r"\W*(?:finished\s+|available\s+)?sizes?\W*", re.IGNORECASE)


def _with_lists_below(texts: Sequence[str]) -> Iterator[str]:
    """The lines, a heading "Sizes" together with what is listed under it: "S, M, L", or one size a line."""
    for index, text in enumerate(texts):
        yield text
        if _HEADING.fullmatch(text[:_LONGEST_LIST]):
            alone = takewhile(
                lambda below: _named(fold(below.strip("-*• :"))) in _STANDARD.values(), texts[index + 1 :]
            )
            yield f"Sizes: {', '.join(alone) or ''.join(texts[index + 1 : index + 2])}"


_LONGEST_LIST = 200
"""Characters of a line that lists the sizes."""

_NO_SIZE = compile_later(r"\b(?:mm|cm|in|inch|inches|hook|needle|yarn|us|uk|approx|with|cotton|thread)\b")
_AGE = compile_later(r"\d{1,2}(?:\s*-\s*\d{1,2})?\s*(?:m|mo|mths?|months?|y|yrs?|years?|t|xl|x)")


def _is_size(name: str) -> bool:
    """Whether it may be the name of a size: a word or an age, that measures no hook and names no yarn."""
    if name[:1].isdigit():
        return _AGE.fullmatch(name) is not None
    return not _NO_SIZE.search(name) and len(name.split()) <= _LONGEST_NAME


_LONGEST_NAME = 3
"""Words of the name of a size, "extra extra large"; more of them are a sentence."""


def _named(name: str) -> str:
    return _STANDARD.get(name.strip(), name.strip())


def of_other_sizes(units: Sequence[PageUnit], size: int) -> tuple[int, frozenset[int]]:
    """How many sizes the page is for, and which units are for other sizes than that of this number, from 0.

    What stands behind "Size M only:" on its line is for that size, and where nothing does the lines below it: up to a
    blank line, the name of a part, the next such heading, or a line that has a number for each of the sizes.
    """
    leads = {
        index: lead for index, unit in enumerate(units) if (lead := _LEAD.match(fold(unit.text[:_LONGEST_LIST])))
    }
    names = size_names([unit.text for unit in units])
    if not leads or not names:
        count = _sizes_in(units)
        listed = len(names) if any(_has_all(unit.text, len(names)) for unit in units) else 1
        if not leads or max(count, listed) == 1:
            return max(count, listed), frozenset()
        names = tuple(map(str, range(1, count + 1)))  # "3rd size only"
    others: set[int] = set()
    until = 0
    for index, lead in leads.items():
        mine = _sizes_of(lead, names)
        if mine is None:
            continue
        go_to = _GO_TO.search(lead["rest"])
        if go_to is not None:
            until = index + 1
            if size in mine:
                until = _beginning(units, index + 1, int(go_to["number"]))
                others.update(range(index + 1, until))
        elif size not in mine and index >= until:
            others.update(range(index, _end(units, index, lead, leads, len(names))))
    return len(names), frozenset(others)


def _beginning(units: Sequence[PageUnit], start: int, number: int) -> int:
    """The first unit from `start` on that is a round of that number; `start` if none is."""
    numbered = (i for i in range(start, len(units)) if heading(fold(units[i].text)).numbers[:1] == (number,))
    return next(numbered, start)


def _end(
    units: Sequence[PageUnit], index: int, lead: re.Match[str], leads: Mapping[int, re.Match[str]], count: int
) -> int:
    """Behind the last unit that the heading of some sizes is for."""
    same_line = next((i for i in range(index + 1, len(units)) if units[i].line != units[index].line), len(units))
    if lead["rest"] or lead["round"] or same_line > index + 1:
        return same_line
    for other in range(index + 1, len(units)):
        ends = other in leads or (units[other].is_apart and other > index + 1)
        if ends or _NAMES_PART.fullmatch(units[other].text) or _has_all(units[other].text, count):
            return other
    return len(units)


_NAMES_PART = compile_later(r"\s*[^\W\d][^\d,;:()]{1,30}:\s*")
"""The name of the part that comes next, by itself: "Body:"."""


def _sizes_of(lead: re.Match[str], names: Sequence[str]) -> set[int] | None:
    """The sizes that a heading is for, by their numbers from 0; None if it names anything else."""
    if lead["all"]:
        return set(range(len(names)))
    words = (lead["names"] or lead["before"] or lead["bare"] or lead["only"]).strip(" ,()")
    relative = re.fullmatch(r"(?:(?P<count>two|2|three|3)\s+)?(?P<end>[a-z]+)", words)
    if lead["before"] and relative and relative["end"] in _FROM_AN_END:
        count = _COUNTED.get(relative["count"] or "", 1)
        order = list(range(len(names)))
        return set(order[-count:] if _FROM_AN_END[relative["end"]] else order[:count])
    sizes: set[int] = set()
    for part in re.split(r"\s*(?:,|/|&|\band\b(?!\s+(?:up|larger|above|bigger))|[()])\s*", words):
        if not part:
            continue
        ends = [_named(each) for each in re.split(r"\s+to\s+|\s*-\s*(?=[a-z0-9])", _ONWARD.sub("", part))]
        if part in names or _named(part) in names:
            ends = [_named(part)]
        places = [_place_of(end, names) for end in ends]
        if len(places) > 2 or None in places:
            return None
        first, last = places[0] or 0, places[-1] or 0
        sizes.update(range(first, len(names) if _ONWARD.search(part) else last + 1))
    return sizes or None


def _place_of(name: str, names: Sequence[str]) -> int | None:
    """Which size it is that is called so, or is counted so among them: "3rd", "second"; None if there is none."""
    if name in names:
        return names.index(name)
    nth = ORDINALS.get(name) or (int(name[:-2]) if _ORDINAL.fullmatch(name) else 0)
    return nth - 1 if 0 < nth <= len(names) else None


_ORDINAL = compile_later(r"\d(?:st|nd|rd|th)")


_SIZES = compile_later(
    r"(?<![\w.])(?P<first>\d+(?:\.\d+)?)\s?[(\[](?P<others>\d+(?:\.\d+)?(?:\s*[,/:;-]\s*\d+(?:\.\d+)?)+)[)\]]"
)
_FEWEST = 2
"""How often numbers must come in brackets before a page is said to be for several sizes."""


def _sizes_in(units: Sequence[PageUnit]) -> int:
    """For how many sizes the numbers of the rounds are; 1 if they are for one."""
    rounds = (unit.text for unit in units if heading(fold(unit.text)).end or _MAKES_CHAIN.match(unit.text))
    counts = Counter(1 + len(_numbers(match)) for text in rounds for match in _SIZES.finditer(text))
    size, often = counts.most_common(1)[0] if counts else (1, 0)
    return size if often >= _FEWEST else 1


def _has_all(text: str, count: int) -> bool:
    """Whether the line has a number for each of so many sizes."""
    return any(1 + len(_numbers(match)) == count for match in _SIZES.finditer(text))


def _numbers(match: re.Match[str]) -> list[str]:
    """The numbers of the other sizes."""
    return re.findall(r"\d+(?:\.\d+)?", match["others"])


_MAKES_CHAIN = compile_later(r"\W*(?:ch|chain|foundation)\b", re.IGNORECASE)


def for_size(draft: Draft, size: int) -> Draft:
    """The draft with the numbers of one size, from 1, in its prose; the rounds follow the `size` of the draft."""
    return replace(
        draft,
        notions=tuple(_sized(text, size) for text in draft.notions),
        notes=tuple(_sized(text, size) for text in draft.notes),
        making_up=tuple(_sized(text, size) for text in draft.making_up),
    )


def _sized(text: str, size: int) -> str:
    return _SIZES.sub(lambda match: _number_for(match, size), text)


def _number_for(match: re.Match[str], size: int) -> str:
    numbers = [match["first"], *_numbers(match)]
    return numbers[size - 1] if size <= len(numbers) else match[0]
