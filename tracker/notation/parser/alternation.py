"""Stitches that change between yarns: "alternating 1 st A and 1 st B", "alternating colours every 3 sts"."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import NEXT_YARN, Colour, Exactly, Group, Item, Role, Some, ToEnd
from tracker.notation.instructions import MAIN, stitch
from tracker.notation.token_kinds import WORD_GROUPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token
from tracker.notation.yarn_names import YARN_NOUNS, key_of

_ALTERNATING = "IN? (?= [ONGOING OTHER WORD]) ALTERNATING"
_LEAD = f"{_ALTERNATING} BETWEEN?"
_SO_MANY = "NUMBER [NOUN STITCH WORK]? [IN WITH OF]? COLOURED? [COLOURED WORD]"
_EVERY = "EACH OTHER? NUMBER? [NOUN STITCH]"

_BY_COUNTS = PhrasePattern(f"{_LEAD} {_SO_MANY} ([COMMA AND THEN]+ {_SO_MANY})+ AROUND?")
""" "alternating 1 st A and 1 st B", "alternate 2 sc in white, 1 sc in red" """

_BY_NAMES = PhrasePattern(f"{_LEAD} [COLOURED WORD] ([COMMA AND]+ [COLOURED WORD])+ {_EVERY}")
""" "alternating A and B every 2 sts" """

_UNNAMED = PhrasePattern(f"({_LEAD} NUMBER? COLOURED | CHANGE COLOURED?) {_EVERY}")
""" "alternating colours every 3 sts", "changing colour every 3 sts" """

ALTERNATES = PhrasePattern(f"{_ALTERNATING} | CHANGE COLOURED? EACH")

_LEADING_WORDS = frozenset(WORD_GROUPS["ALTERNATING"].split("|"))


def alternation(cursor: Cursor, items: list[Item], until: int) -> bool:
    """ALTERNATION := alternating (n YARN and n YARN | YARN and YARN every n sts | colours every n sts)

    It is of the stitches before it, or of those behind it where none stand before.
    """
    first = cursor.place
    turns = _turns(cursor)
    if not turns:
        return False
    named = next((word for word in cursor.tokens[first : cursor.place] if word.kind is T.STITCH), None)
    before = next((index for index in reversed(range(len(items))) if _is_plain(items[index])), None)
    if before is None:
        cursor.skip(T.COMMA, T.COLON, T.SEMI)
        behind = cursor.items(until)
        at = next((index for index, item in enumerate(behind) if _is_plain(item)), None)
        if at is None and not behind:
            act = stitch(str(named.value) if named is not None else MAIN).act(cursor.loop, cursor.span(first))
            items.extend(_in_turns(Some(act, ToEnd()), turns))
            return True
        if at is None:
            cursor.place = first
            return False
        items.extend((*behind[:at], *_in_turns(behind[at], turns), *behind[at + 1 :]))
        return True
    items[before : before + 1] = _in_turns(items[before], turns)
    return True


def _is_plain(item: Item) -> bool:
    """Whether it is a row of the same stitch, one into each."""
    return isinstance(item, Some) and item.act.role is Role.WORK and item.act.takes == 1 and len(item.act.makes) == 1


def _turns(cursor: Cursor) -> list[tuple[str, int]]:
    """The yarns in turn with their numbers of stitches, taken; where none is named, each is the next."""
    words = cursor.take_phrase(_BY_COUNTS)
    if words:
        counted = [index for index, word in enumerate(words) if word.kind is T.NUMBER]
        ends = [*counted[1:], len(words)]
        return [(_yarn(words[a:b]), words[a].number) for a, b in zip(counted, ends, strict=True)]
    words = cursor.take_phrase(_BY_NAMES)
    if words:
        named = [word for word in words if word.kind in (T.COLOURED, T.WORD) and word.text not in _LEADING_WORDS]
        return [(word.text, _every(words)) for word in named]
    words = cursor.take_phrase(_UNNAMED)
    return [(NEXT_YARN, _every(words))] * 2 if words else []


def _yarn(words: list[Token]) -> str:
    named = [word for word in words if word.text not in YARN_NOUNS]
    return key_of([word for word in named if word.kind in (T.COLOURED, T.WORD)])


def _every(words: list[Token]) -> int:
    """n of "every n sts"; 1 of "every st", 2 of "every other st"."""
    behind = words[next(index for index, word in enumerate(words) if word.kind is T.EACH) :]
    return next((word.number for word in behind if word.kind is T.NUMBER), 1 + any(w.kind is T.OTHER for w in behind))


def _in_turns(item: Item, turns: list[tuple[str, int]]) -> list[Item]:
    """The row of stitches with its yarns; what is left over at its end goes on in the same order."""
    assert isinstance(item, Some)
    unnamed = turns[0][0] == NEXT_YARN
    body: list[Item] = []
    for yarn, count in turns:
        parts: list[Item] = [Colour(yarn, item.act.span), Some(item.act, Exactly(count))]
        body += reversed(parts) if unnamed else parts
    length = sum(count for _, count in turns)
    if isinstance(item.times, ToEnd):
        return [Group(tuple(body), item.times, item.act.span)]
    whole, left = divmod(item.times.count, length)
    row: list[Item] = [Group(tuple(body), Exactly(whole), item.act.span)] if whole else []
    for part in body:
        if left and isinstance(part, Some) and isinstance(part.times, Exactly):
            row.append(replace(part, times=Exactly(min(left, part.times.count))))
            left -= min(left, part.times.count)
        elif left:
            row.append(part)
    return row
