"""Groups that a line defines for itself: "shell = 5 dc in one st", "(MB = make bobble)", "Shell: 5 tr in same st";
and names of groups that were just written out: "5 dc in next st (shell)".
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import accumulate, zip_longest

from tracker.lazy_dataclass import dataclass
from tracker.notation.bunches import BUNCH_BY_ID, PICOT
from tracker.notation.token_kinds import HEADS, PAUSES, STOPS, WORKED, T
from tracker.notation.token_stream import Token

_FULL_STOPS = (T.DOT, T.SEMI, T.NEWLINE)
_STOPS = (*_FULL_STOPS, T.CLOSE)
_NAMES = (T.BUNCH, T.WORD, T.FILLER, T.TIMES, T.COLOURED, T.MARKER)

Makes = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Definitions:
    """The words without the definitions, and what each defined name makes."""

    body: list[Token]
    bunches: tuple[tuple[str, Makes], ...]


DEFINING = frozenset((T.EQUALS, T.COLON))
"""What stands between a name and what it is made of; so does a dash behind the name of a group that a line begins
with, "Shell - 5 tr in same st"."""


def take_definitions(tokens: list[Token], read: Callable[[list[Token]], Makes]) -> Definitions:
    """Take every definition out of a line. `read` tells what the words behind the sign make (empty: nothing)."""
    body = list(tokens)
    bunches: list[tuple[str, Makes]] = []
    other_names: dict[str, Token] = {}
    index = 1
    while index < len(body):
        if _defines(body, index):
            start, stop, end = _extent(body, index)
            name, words = body[index - 1], body[index + 1 : stop]
            if len(words) == 1 and words[0].kind in HEADS and name.kind is not T.BUNCH:
                other_names[name.text] = words[0]
                body = body[:start] + body[end:]
                index = max(start, 1)
                continue
            makes = _single(name, words) or read([token for token in words if token.kind is not T.DASH])
            if makes:
                bunches.append((_id(name), makes))
                body = body[:start] + body[end:]
                index = max(start, 1)
                continue
        index += 1
    names = {name for name, _ in bunches}
    if names or other_names:
        body = [_renamed(token, after, names, other_names) for token, after in zip_longest(body, body[1:])]
    return Definitions(body, tuple(bunches))


def named_where_made(tokens: list[Token], read: Callable[[list[Token]], Makes]) -> tuple[tuple[str, Makes], ...]:
    """The groups that are written out and then named, "in next sp make 3 dc, ch 2 and 3 dc (shell made)"; `read`
    tells what the group makes that the words before the bracket end in (empty: in none)."""
    named: dict[str, Makes] = {}
    begins = 0
    for index, token in enumerate(tokens):
        end = max(_end_of_name(tokens, index), _end_of_made(tokens, index)) if token.kind is T.OPEN else index
        name = next((word.name for word in tokens[index:end] if word.kind is T.BUNCH), "")
        if name in BUNCH_BY_ID and BUNCH_BY_ID[name].stitches not in (0, 1):
            inner = (at + 1 for at in range(index - 1, begins - 1, -1) if _is_open(tokens, at, index))
            if makes := read(tokens[next(inner, begins) : index]):
                named[name] = makes
        if token.kind in (T.MARK, T.SEMI, T.DOT):
            begins = index + 1
    return tuple(named.items())


def _is_open(tokens: list[Token], opening: int, index: int) -> bool:
    """Whether a bracket begins at word `opening` that holds word `index` too."""
    depths = accumulate((token.kind is T.OPEN) - (token.kind is T.CLOSE) for token in tokens[opening:index])
    return all(depth > 0 for depth in depths)


_PLACES = frozenset((T.NOUN, T.SPACE, T.RING, T.CORNER))
"""Words that end what was written out, "5 dc in next st"."""

_MADE_UP = frozenset(("made", "formed", "complete", "completed", "done"))


def without_names(tokens: list[Token]) -> tuple[list[Token], list[str]]:
    """The words without the name of a group behind what it is made of: "5 dc in next st (shell)", "- shell -", and
    without a stitch in other words behind it: "4 dc (double crochet) in ring".

    A name with a place behind it is a group to be made, and so is a cluster or picot, which stands alone in its
    place. Apart from these words stand the remarks in brackets that something is made by now, "(1st p made)": what is
    worked into one place goes on behind them.
    """
    kept: list[Token] = []
    remarks: list[str] = []
    index = 0
    while index < len(tokens):
        end = _end_of_name(tokens, index)
        if end == index and (end := _end_of_made(tokens, index)) > index:
            remarks.append(" ".join(word.text for word in tokens[index + 1 : end - 1]))
        if end == index:
            kept.append(tokens[index])
            end += 1
        index = end
    return kept, remarks


def _end_of_name(tokens: list[Token], first: int) -> int:
    """Where the name of a group that was written out before word `first` ends; `first` if none stands here."""
    sign = tokens[first].kind
    if sign not in (T.OPEN, T.DASH, T.EQUALS) or first == 0:
        return first
    if _says_stitch_again(tokens[first - 1 : first + 3]):
        return first + 3
    named = first + 1
    named += named < len(tokens) and tokens[named].kind is T.NUMBER and tokens[named].number == 1
    if named >= len(tokens) or tokens[named].kind is not T.BUNCH:
        return first
    bunch = BUNCH_BY_ID.get(tokens[named].name)
    if bunch is None or bunch.stitches in (0, 1):
        return first
    end = named + 1
    end += end < len(tokens) and tokens[end].text in _MADE_UP
    before, after = tokens[first - 1].kind, tokens[end].kind if end < len(tokens) else None
    if sign is T.OPEN:
        behind = tokens[end + 1].kind if end + 1 < len(tokens) else None
        placed = before is T.STITCH and (behind is T.IN or (first > 1 and tokens[first - 2].kind in (T.NEXT, T.SAME)))
        written_out = before in _PLACES or before is T.CLOSE or placed
        return end + 1 if written_out and after is T.CLOSE and behind is not T.TIMES else first
    if before not in _PLACES or (after is not None and after not in STOPS and after is not T.DASH):
        return first
    return end + (after is T.DASH)


def _end_of_made(tokens: list[Token], first: int) -> int:
    """Where a bracket ends that begins at word `first` and only says that something is made, or what the chain before
    it is; `first` if none does."""
    end = first + 1
    while end < len(tokens) and (tokens[end].kind in _NAMING or tokens[end].value == 1):
        end += 1
    if tokens[first].kind is not T.OPEN or end >= len(tokens) or tokens[end].kind is not T.CLOSE:
        return first
    last, before = tokens[end - 1], [token.kind for token in tokens[max(first - 2, 0) : first]]
    is_often = end + 1 < len(tokens) and tokens[end + 1].kind is T.TIMES
    is_made = end > first + 2 and last.text in _MADE_UP
    names_chain = before == [T.CHAIN, T.NUMBER] and end == first + 2 and last.value == PICOT and not is_often
    return end + 1 if is_made or names_chain else first


_NAMING = frozenset((T.BUNCH, T.WORD, T.FILLER, T.ORDINAL, T.TOTAL, T.BEGINNING))
"""Words of the name of something, and which of several it is; "made" stands behind totals too."""


def _says_stitch_again(words: list[Token]) -> bool:
    """Whether a bracket behind a stitch holds its name in other words and nothing else."""
    kinds = [word.kind for word in words]
    if kinds[1:] != [T.OPEN, kinds[0], T.CLOSE] or kinds[0] not in (T.STITCH, T.CHAIN):
        return False
    return words[0].value == words[2].value and words[0].text != words[2].text


def _id(name: Token) -> str:
    return name.name if name.kind is T.BUNCH else name.text.removesuffix("'s")


def _defines(body: list[Token], index: int) -> bool:
    """Whether the sign at `index` stands between a name on its own and something made."""
    if body[index].kind not in (*DEFINING, T.DASH) or body[index - 1].kind not in _NAMES:
        return False
    before = body[index - 2].kind if index > 1 else None
    if before not in PAUSES and before not in (None, T.OPEN, T.DASH, T.COLON):
        return False
    following = body[index + 1 : index + 8]
    if body[index].kind is not T.EQUALS and not (
        index == 1 and body[0].kind is T.BUNCH and _in_one_place(body, index)
    ):
        return False
    return any(token.kind in WORKED for token in following) and not all(
        t.kind is T.NUMBER for t in following[:1] + following[1:2]
    )


def _in_one_place(body: list[Token], index: int) -> bool:
    """ "Shell: 5 tr in same st." with a stop behind it."""
    end = next((i for i in range(index, len(body)) if body[i].kind in _FULL_STOPS), None)
    return end is not None and any(token.kind is T.SAME or token.text == "one" for token in body[index:end])


def _extent(body: list[Token], index: int) -> tuple[int, int, int]:
    """Where the definition starts, where its words stop, and where it ends with the brackets around it."""
    start = index - 1
    end = _stop(body, index + 1)
    bracketed = start > 0 and body[start - 1].kind is T.OPEN and end < len(body) and body[end].kind is T.CLOSE
    if bracketed:
        return start - 1, end, end + 1
    if start > 0 and body[start - 1].kind is T.DASH:
        start -= 1
    closed = end >= len(body) or body[end].kind is T.CLOSE
    return start, end, end if closed else end + 1


def _stop(body: list[Token], first: int) -> int:
    """Where the words from `first` on stop: at a full stop, or where a bracket closes that was open before them."""
    depth = 0
    for index in range(first, len(body)):
        kind = body[index].kind
        if depth == 0 and (kind in _STOPS or _begins_another(body, index)):
            return index
        depth += (kind is T.OPEN) - (kind is T.CLOSE)
    return len(body)


def _begins_another(body: list[Token], index: int) -> bool:
    """ "X = sc, V = inc": the comma before another name and sign."""
    kinds = [token.kind for token in body[index : index + 3]]
    return kinds[:1] == [T.COMMA] and kinds[1:2] != [] and kinds[1] in _NAMES and kinds[2:] == [T.EQUALS]


def _single(name: Token, words: list[Token]) -> Makes:
    """ "BST = bobble of 4 dc": one stitch whatever goes into it."""
    for token in words:
        if token.kind is T.BUNCH and token.name in BUNCH_BY_ID and BUNCH_BY_ID[token.name].stitches == 1:
            return ((token.name, 1),)
    bunch = BUNCH_BY_ID.get(str(name.value)) if name.kind is T.BUNCH else None
    return ((bunch.id, 1),) if bunch is not None and bunch.stitches == 1 else ()


def _renamed(token: Token, after: Token | None, names: set[str], other_names: dict[str, Token]) -> Token:
    """The word as what it was defined to be; in "(2X, V) x 8" the last letter is a sign of multiplication."""
    if token.kind is T.TIMES and after is not None and after.kind is T.NUMBER:
        return token
    meaning = other_names.get(token.text)
    if meaning is not None:
        return token._replace(kind=meaning.kind, value=meaning.value)
    text = token.text.removesuffix("'s")
    if token.kind is not T.BUNCH and text in names:
        return token._replace(kind=T.BUNCH, value=text)
    return token
