"""By how many stitches a round widens or narrows, as its end tells it: "(+6)", "(6 increases)", "2 sts decreased"."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.lazy_dataclass import dataclass
from tracker.notation.instructions import IN_EACH_PART
from tracker.notation.token_kinds import MADE, T
from tracker.notation.token_stream import PhrasePattern, Token, shape_of


@dataclass(frozen=True, slots=True)
class NetChange:
    """`by` so many more or fewer stitches than before (0: not told so), or by so many increases and decreases;
    `beside` are the words that tell something else."""

    by: int = 0
    changes: tuple[tuple[str, int], ...] = ()
    beside: tuple[Token, ...] = ()
    is_sure: bool = False
    """Whether nothing to be worked is called so: "6 increases" and "+6", but not "6 inc"."""

    def stands_behind(self, before: list[Token]) -> bool:
        """Whether it sums up what stands `before` it, and is no work of its own: "(sc, inc) x 6 (6 inc)"."""
        kinds = {word.kind for word in before}
        if not before or before[-1].kind in _GOES_ON or kinds.isdisjoint(MADE):
            return False
        if before[-1].kind is T.MARK and sum(word.kind is T.MARK for word in before) % 2:
            return False  # "* (6 inc)" is what is repeated, "*sc, inc* (6 inc)" tells of it
        if before[-1].kind is T.TIMES and not (len(before) > 2 and before[-3].kind in (T.CLOSE, T.MARK)):
            return False  # "6 x (inc)", but "(sc, inc) 6 x (6 inc)"
        alike = any(_KINDS[name.removesuffix(IN_EACH_PART)] in kinds for name, _ in self.changes)
        return self.is_sure or bool(self.beside) or alike or not kinds.isdisjoint(_GOES_ROUND)


_GOES_ON = frozenset((T.COMMA, T.AND, T.THEN, T.PLUS, T.OPEN))
"""Behind which a bracket is worked: "12 sc, (6 inc)"."""

_KINDS = {"increase": T.INC, "decrease": T.DEC}
_GOES_ROUND = frozenset((T.AROUND, T.REPEAT, T.ONGOING, T.EVENLY, T.TIMES))

_SIGNED = PhrasePattern("[PLUS DASH] NUMBER NOUN? $")
_COUNTED = PhrasePattern(
    "[FILLER WORK]* (PLUS? NUMBER NOUN? [INC DEC] | [INC DEC] FILLER* NUMBER NOUN? | NUMBER NOUN [MORE FEWER] |"
    " NUMBER [MORE FEWER] NOUN) [FILLER TOTAL]* ([IN AROUND]? EACH [FILLER WORD OTHER]* [END SIDE SIDES])? $"
)
""" "6 increases made", "2 sts decreased", "you increased 6 stitches", "increased by 6", "6 sts fewer" """

_PARTS = frozenset((T.COMMA, T.SEMI, T.AND, T.EQUALS, T.SLASH, T.DASH))
_FEWER = ("fewer", "less")


def change_of(words: list[Token]) -> NetChange | None:
    """By how much these words say that a round widens or narrows; None if they say nothing of it."""
    if _matches(_SIGNED, words):
        number = next(word.number for word in words if word.kind is T.NUMBER)
        return NetChange(number if words[0].kind is T.PLUS else -number, is_sure=True)
    counts: dict[str, int] = {}
    beside: list[Token] = []
    is_sure = False
    for part in _parts(words):
        change = next((word for word in part if word.kind in (T.INC, T.DEC, T.MORE) or word.text in _FEWER), None)
        if change is None or not _matches(_COUNTED, part):
            beside += [word._replace(kind=T.COMMA, text=",") for word in beside[-1:]] + part
            continue
        name = "increase" if change.kind in (T.INC, T.MORE) else "decrease"
        name += IN_EACH_PART if any(word.kind is T.EACH for word in part) else ""
        counts[name] = next(word.number for word in part if word.kind is T.NUMBER)
        is_sure = is_sure or change.kind not in (T.INC, T.DEC) or change.text.endswith(("s", "ed"))
    if not counts:
        return None
    return NetChange(0, tuple(counts.items()), tuple(beside), is_sure)


def begin_of_change(body: list[Token], end: int) -> int:
    """Where the clause begins that ends before word `end`, if it is short enough to tell of a change; else `end`."""
    first = max(end - _LONGEST, 1)
    return next((at for at in range(end, first, -1) if body[at - 1].kind in _BEGINS_A_CLAUSE), end)


_LONGEST = 12
"""Words of a clause that tells increases and decreases, "you increased 6 stitches and decreased 2"."""
_BEGINS_A_CLAUSE = frozenset((T.DOT, T.SEMI, T.DASH, T.NEWLINE, T.COLON))


def _matches(pattern: PhrasePattern, words: list[Token]) -> bool:
    return pattern.length(shape_of(words), 0) > 0


def _parts(words: list[Token]) -> Iterator[list[Token]]:
    """The words between commas and the like."""
    part: list[Token] = []
    for word in words:
        if word.kind not in _PARTS:
            part.append(word)
        elif part:
            yield part
            part = []
    if part:
        yield part
