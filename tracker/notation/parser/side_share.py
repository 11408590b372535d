"""What each side has of a total: "44 dc, 11 per side", "48 sc (12 on each side)", "24 sts: 8 on each of 3 sides"."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import PhrasePattern, Token


@dataclass(frozen=True, slots=True)
class SideShare:
    """So many stitches on each of `sides` sides (0: how many there are is not told), and the words before that."""

    each: int
    sides: int
    before: list[Token]


_SHARE = PhrasePattern(
    "(?<! [NUMBER NOUN STITCH WORD BUNCH]) NUMBER [NOUN STITCH]? [IN AROUND]? EACH [OF FILLER]* NUMBER? WORD?"
    " [SIDE SHARED SIDES] CLOSE? $"
)


def share_of(words: list[Token]) -> SideShare | None:
    """The share that these words end with; None if they end otherwise."""
    if all(word.kind is not T.EACH for word in words[-_LONGEST:]):
        return None
    start = _SHARE.first_in(words, max(0, len(words) - _LONGEST))
    if start == len(words):
        return None
    numbers = [word.number for word in words[start:] if word.kind is T.NUMBER]
    return SideShare(numbers[0], sum(numbers[1:]), words[: max(start - 1, 0)])


_LONGEST = 10
"""Words of "12 sts on each of the 3 short sides)". """


def share_of_groups(words: list[Token], before: list[Token]) -> SideShare | None:
    """What each group has of a round that is told to go round `before`: "rep from * around, ch 4 (9 dc in each
    group)". In a round that does not so far it says what to make."""
    goes_round = any(word.kind in _GOES_ROUND for word in before)
    if not words or not goes_round or _GROUP_SHARE.first_in(words, 0) != 0:
        return None
    return SideShare(words[0].number, 0, [])


_GROUP_SHARE = PhrasePattern("NUMBER [NOUN STITCH] IN EACH (?= WORD) A_GROUP $")
_GOES_ROUND = frozenset((T.REPEAT, T.AROUND))


def tells_each_side(words: list[Token]) -> bool:
    """Whether what stands behind a number says that each side has so many: "two ch-1 sps to fill along each side"."""
    return _EACH_SIDE.first_in(words, 0) < len(words)


_EACH_SIDE = PhrasePattern("EACH [OF FILLER]* [SIDE SIDES]")
