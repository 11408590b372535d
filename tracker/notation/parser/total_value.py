"""What a total says: "18", "36 sts", "9 sc, 9 ch-2 sps", "30 (36, 42)"."""

from __future__ import annotations

from enum import Enum
from itertools import pairwise

from tracker.diagnostics import Lines
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Stated
from tracker.notation.instructions import CORNER
from tracker.notation.parser.measured_number import MEASURES
from tracker.notation.parser.side_share import share_of
from tracker.notation.parser.total_ending import end_of_count, start_of_denied_chains
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import PhrasePattern, Token

_SEPARATORS = frozenset((T.COMMA, T.AND, T.PLUS, T.SLASH, T.SEMI, T.EQUALS, T.DASH, T.COLON))
_BRACKETS = frozenset((T.OPEN, T.CLOSE))
_SAYS_NOTHING = frozenset((T.TOTAL, T.FILLER, T.NOT, T.DOT, T.AND))
_IN_A_TOTAL = _SEPARATORS | _BRACKETS | {
    T.NUMBER, T.NOUN, T.STITCH, T.CHAINLESS, T.BUNCH, T.CHAIN, T.SPACE, T.POSTED, T.WORD, T.CORNER, T.MARKER, T.EACH,
    T.SIDE, T.AROUND, T.REMAINING, T.LEFT, T.OF,
}  # fmt: skip


def _without_share(words: list[Token]) -> list[Token]:
    """ "44 dc, 11 per side", "48 sc (12 on each side)" without what each side has of it."""
    share = share_of(words)
    has_total = share is not None and share.before and words[0].kind is T.NUMBER
    return share.before if share is not None and has_total else words


_IN_GROUPS = PhrasePattern("NUMBER [NOUN STITCH]? COMMA? IN NUMBER [BUNCH WORD] [DOT]* $")


def _with_groups_listed(words: list[Token]) -> list[Token]:
    """ "36 sts in 12 groups", "36 tr, in 12 clusters" as "36 sts, 12 groups", where each has as many."""
    start = _IN_GROUPS.first_in(words, 0)
    within = next((at for at in range(start, len(words)) if words[at].kind is T.IN), 0)
    number = words[start].number if within else 0
    groups = words[within + 1].number if within else 0
    if (
        not within
        or words[within].text != "in"
        or not 1 < groups < number
        or number % groups
        or not words[within + 2].text.endswith("s")
    ):
        return words
    comma = words[within]._replace(kind=T.COMMA, value=None, text=",")
    # Where they begin with a chain the first of them is no group that a name of the trade counts.
    named = words[within + 2]._replace(kind=T.WORD, value=None)
    return [*words[:within], comma, words[within + 1], named, *words[within + 3 :]]


def is_total(words: list[Token]) -> bool:
    """TOTAL := [=] n [KIND] { , n [KIND] }"""
    words = _with_groups_listed(words)
    words = _without_share(words[: end_of_count(words)])
    words = words[: end_of_count(words)]
    if (T.NOT, T.NUMBER) in pairwise(word.kind for word in words):
        return False  # "(1 ch to begin, not 3)": a number that is not made
    content = [word for word in words if word.kind not in _SAYS_NOTHING]
    if [word.kind for word in content] == [T.NUMBER, T.MORE, T.WORD]:
        del content[1]  # "11 more petals"
    while content and content[0].kind in (T.EQUALS, T.DASH, T.COLON, T.COUNTS):
        if content[0].text.endswith("as"):
            return False  # "counts as 1 dc" tells what a chain stands for
        del content[0]
    if any(word.kind is T.WORD and word.text in MEASURES for word in content):
        return False
    kinds = [word.kind for word in content]
    if not kinds or kinds[0] not in (T.NUMBER, T.NOUN) or T.NUMBER not in kinds:
        return False
    if not _IN_A_TOTAL.issuperset(kinds):
        return False
    if T.EACH in kinds and T.SIDE not in kinds and T.WORD not in kinds:
        return False
    return _entries_are_counts(kinds)


def _entries_are_counts(kinds: list[T]) -> bool:
    """Every named thing has a number before it: "9 sc, 9 ch-2 sps" is a total, "9 sc, ch" is not."""
    starts = [True, *(kind in _SEPARATORS for kind in kinds)]
    return all(
        kind in _SEPARATORS or kind in (T.NUMBER, T.NOUN, T.WORD, T.OPEN, T.CLOSE)
        for kind, start in zip(kinds, starts, strict=False)
        if start
    )


def is_of_a_round(body: list[Token], start: int) -> bool:
    """ "rep rnds 3-4", "as rnds 2, 4": the number at the end is that of a round."""
    first = start
    while first and body[first].kind in (T.NUMBER, T.DASH, T.COMMA):
        first -= 1
    listed = {word.kind for word in body[first + 1 : start - 1]}
    if body[first].kind is not T.ROUND or start < len(body) - 1 or T.NUMBER not in listed:
        return False
    if body[start - 1].kind is T.COMMA and T.DASH in listed:
        return False
    return body[first].text.endswith("s") or body[start].glued


class _Sort(Enum):
    """What a total counts; a stitch is one of a kind that it names."""

    PLAIN = "plain"
    STITCH = "stitch"
    SPACE = "space"
    CHAIN = "chain"
    GROUP = "group"


@dataclass(frozen=True, slots=True)
class _Entry:
    """A number, the sort of thing that it counts, and what that is called."""

    number: int
    sort: _Sort
    name: str = ""


def stated(words: list[Token], lines: Lines, size: int) -> Stated:
    """The total that these words state; the one for `size` where it gives several."""
    span = lines.span(words[0].start, words[-1].end)
    denies_chains = start_of_denied_chains(words) < len(words)
    words = _with_groups_listed(words)
    ending = {word.kind for word in words[end_of_count(words) :]}
    words = words[: end_of_count(words)]
    share, words = share_of(words), _without_share(words)
    words = words[: end_of_count(words)]
    entries = _entries(_behind_the_sum(words))
    if _are_sizes(entries):
        sizes = tuple(entry.number for entry in entries)
        return Stated(sizes[min(size, len(sizes) - 1)], span=span, sizes=sizes)
    plain = [entry.number for entry in entries if entry.sort is _Sort.PLAIN]
    if (
        len(entries) == 1
        and entries[0].sort is _Sort.GROUP
        and [word.kind for word in words[-2:]] == [T.OF, T.NUMBER]
    ):
        plain = [entries[0].number * words[-1].number]  # "8 clumps of 3"
    kinds = tuple((entry.name, entry.number) for entry in entries if entry.sort is _Sort.STITCH)
    spaces = 0 if denies_chains else _sum_of(_Sort.SPACE, entries)
    if {T.WITH, T.SPACE} <= ending and len(entries) == 1:
        spaces = entries[0].number  # "8 tr with a gap after each"
    lengths = {int(entry.name) for entry in entries if entry.sort is _Sort.SPACE and entry.name}
    return Stated(
        plain[0] if plain else sum(number for _, number in kinds) if kinds else None,
        spaces,
        tuple((entry.name, entry.number) for entry in entries if entry.sort is _Sort.GROUP),
        span,
        _sum_of(_Sort.CHAIN, entries),
        kinds=() if plain else kinds,
        space_length=lengths.pop() if len(lengths) == 1 else 0,
        share=(share.each, share.sides) if share else None,
    )


def _behind_the_sum(words: list[Token]) -> list[Token]:
    """ "5 dc x 6 = 30": what stands behind the last sign, if that is a number."""
    equals = [index for index, word in enumerate(words) if word.kind is T.EQUALS and index]
    if equals and any(word.kind is T.NUMBER for word in words[equals[-1] :]):
        return words[equals[-1] + 1 :]
    return words


def _are_sizes(entries: list[_Entry]) -> bool:
    """ "30 (36, 42) sts": one total for each size."""
    sorts = [entry.sort for entry in entries]
    return (
        1 < len(sorts) <= _MOST_SIZES
        and set(sorts[:-1]) == {_Sort.PLAIN}
        and sorts[-1] in (_Sort.PLAIN, _Sort.STITCH)
    )


_MOST_SIZES = 20
"""Sizes of a garment from a premature baby's to the largest man's; a line is read once for each."""


def _sum_of(sort: _Sort, entries: list[_Entry]) -> int | None:
    numbers = [entry.number for entry in entries if entry.sort is sort]
    return sum(numbers) if numbers else None


def _entries(words: list[Token]) -> list[_Entry]:
    """{ n [KIND] [of ...] }; "ch-2 sp" without a number before it is one"""
    entries: list[_Entry] = []
    index = 0
    while index < len(words):
        word = words[index]
        index += 1
        if word.kind is not T.NUMBER:
            continue
        kind = _kind(words[index:])
        alone = index > 1 and words[index - 2].kind is T.CHAIN and [each.kind for each in kind] == [T.SPACE]
        entries.append(_Entry(1, _Sort.SPACE, str(word.number)) if alone else _entry(word.number, kind))
        index += len(kind)
        if index < len(words) and words[index].kind is T.OF:
            index = next((i for i in range(index, len(words)) if words[i].kind in _SEPARATORS), len(words))
    return entries


def _kind(words: list[Token]) -> list[Token]:
    """KIND: the words up to a separator or the next number; "ch 2 sps" and "2-ch sps" have a number of their own."""
    for index, word in enumerate(words):
        if word.kind in _SEPARATORS or word.kind in _BRACKETS or word.kind is T.OF:
            return words[:index]
        if word.kind is T.NUMBER:
            leads_chain = index == 0 and len(words) > 1 and (words[1].kind is T.CHAIN or _is_sized_group(words))
            if not leads_chain and (index == 0 or words[index - 1].kind is not T.CHAIN):
                return words[:index]
    return words


def _is_sized_group(words: list[Token]) -> bool:
    """ "5-tr shells" """
    return [word.kind for word in words[:4] if word.kind is not T.DASH] == [T.NUMBER, T.STITCH, T.BUNCH]


def _entry(number: int, words: list[Token]) -> _Entry:
    kinds = {word.kind: word for word in reversed(words)}
    length = str(kinds[T.NUMBER].number) if T.NUMBER in kinds else ""
    if T.SPACE in kinds or (T.CHAIN in kinds and length and T.BUNCH not in kinds):
        return _Entry(number, _Sort.SPACE, length)
    if T.CORNER in kinds:
        return _Entry(number, _Sort.GROUP, CORNER)
    if T.BUNCH in kinds:
        return _Entry(number, _Sort.GROUP, kinds[T.BUNCH].name)
    if T.CHAIN in kinds:
        return _Entry(number, _Sort.CHAIN)
    for kind in (T.STITCH, T.CHAINLESS):
        if kind in kinds:
            return _Entry(number, _Sort.STITCH, kinds[kind].name)
    if T.POSTED in kinds:
        return _Entry(number, _Sort.STITCH, kinds[T.POSTED].posted[0])
    named = [word.text for word in words if word.kind is T.WORD and word.text not in ("each", "side")]
    if named and T.NOUN not in kinds:
        return _Entry(number, _Sort.GROUP, named[0])
    return _Entry(number, _Sort.PLAIN)


# Totals without brackets at the end of a line: "= 18", "- 18 sts", "join. 26 dc", "72 sc and 8 picots".
