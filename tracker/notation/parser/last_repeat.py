"""How the last time through a repeat ends: cut short, "end last rep at **", "omitting last ch 3", or with what closes
the round in place of its last stitch."""

from __future__ import annotations

from tracker.diagnostics import warning
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, Group, Item, Some
from tracker.notation.instructions import joining, likeliest
from tracker.notation.token_kinds import HEADS, STOPS, WORD_GROUPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token

_CLAUSE_ENDS = STOPS | {T.OPEN, T.JOIN}

CHAIN_OR_STITCH_LEFT_OUT = PhrasePattern("COMMA? OMIT LAST (CHAIN NUMBER | NUMBER CHAIN | STITCH) (?= STOPS | $)")
""" "(sc in next sp, ch 3) 6 times, omitting last ch 3", but "..., leaving last 2 sts unworked" """


def early_end(cursor: Cursor, group: Group, early: int | None) -> int:
    """EARLY END := omit last ... | end last rep at **; how many items the last repeat leaves out"""
    left_out = len(group.body) - early if early is not None else 0
    start = cursor.place
    cursor.skip(T.COMMA, T.SEMI, T.DOT, T.AND)
    end = cursor.end_of(_CLAUSE_ENDS)
    if cursor.at(T.OMIT):
        if (omitted := cursor.take_phrase(LAST_OF_GROUP)) and not ends_with(group, omitted):
            first = cursor.place - len(omitted)
            message = f"the group does not end with what '{cursor.words(first)}' leaves out"
            cursor.notes.append(warning("omitted-unclear", message, cursor.span(first), "write the last time out"))
            return left_out
        if not any(word.kind is T.LEFT for word in cursor.tokens[cursor.place : end]):
            cursor.place = max(end, cursor.place)
            return 1
        cursor.place = start  # "leaving last st unworked" is no stitch of the group
    names_star = any(token.kind is T.MARK for token in cursor.tokens[cursor.place : end])
    cursor.place = end if cursor.at(T.END) and names_star else start
    return left_out


LAST_OF_GROUP = PhrasePattern(
    "OMIT LAST (CHAIN NUMBER? | NUMBER CHAIN | NUMBER? STITCH | INC | DEC) (OF LAST REPEAT)?"
    " (?= STOPS | JOIN | OPEN | $)"
)
""" "(sc in next sp, ch 3) 6 times, omitting last ch 3" """


def ends_with(group: Group, omitted: list[Token]) -> bool:
    """Whether a group ends with the stitch, or with so many chains, as these words say."""
    last = group.body[-1]
    if not isinstance(last, Some) or len(last.act.makes) != 1:
        return False
    made = last.act.makes[0]
    if {word.kind for word in omitted} & {T.INC, T.DEC}:
        return last.act.is_increase if any(word.kind is T.INC for word in omitted) else last.act.takes > 1
    named = next((word for word in omitted if word.kind is T.STITCH), None)
    if named is not None:
        return made.kind == named.value
    length = next((word.number for word in omitted if word.kind is T.NUMBER), made.count)
    return made.is_chain and made.count == length


def cut_short(item: Item, cut: int) -> Item:
    """The repeat with the last time through cut short by so many items."""
    if cut and isinstance(item, Group):
        return replace(item, cut=cut)
    if cut and isinstance(item, Choice):
        options = (replace(option, body=tuple(cut_short(i, cut) for i in option.body)) for option in item.options)
        return replace(item, options=tuple(options))
    return item


_FOR_THE_LAST = PhrasePattern(
    """
      (?= [WORD COUNTS]) INSTEAD_WORD OF? LAST? NUMBER? HEADS?
    | (?<! IN) LAST HEADS ([AS WITH JOIN] | (?= WORD) BECOMES)* [STITCH JOIN]
    | FOR LAST HEADS
    """
)
""" "working sl st in first sc in place of last sc", "replacing last sc with a join", "the last sc as a sl st in first
sc", "substituting a sl st for the last sc" """

_LAST_TIME = PhrasePattern("IN LAST (REPEAT | TIMES) COMMA? | END IN? LAST? REPEAT? WITH?")
""" "on last repeat, work sl st in first sc instead of sc", "ending last rep with sl st in first sc instead of sc" """


def closing_instead(cursor: Cursor, items: list[Item], until: int) -> bool:
    """WORDS of what stands for the last stitch of a repeat, "working sl st into first sc in place of last sc": taken
    with its clause, and the last repeat is cut short by that stitch; a joining is no stitch of the round"""
    group = likeliest(items[-1]) if items else None
    if not isinstance(group, Group):
        return False
    first = cursor.place
    start = first + cursor.length(_LAST_TIME)
    end = next((at for at in range(start, until) if cursor.tokens[at].kind in STOPS), until)
    at = cursor.first_of(_FOR_THE_LAST, start, end)
    if at == end:
        return False
    words = cursor.tokens[at:end]
    named = next((index for index, word in enumerate(words) if word.kind in HEADS), 0)
    beside = cursor.tokens[start:at] + words[named + 1 :]
    if any(word.value == "sl st" or word.kind is T.JOIN for word in beside):
        if not ends_with(group, [words[named]]):
            return False
        cursor.place = end
        added: list[Item] = [Some(joining(cursor.span(first)))]
    elif words[0].text in _INSTEAD:
        cursor.place = start
        added = cursor.items(at)
        cursor.place = end
    else:
        return False
    items[-1] = cut_short(items[-1], 1)
    items.extend(added)
    return True


_INSTEAD = WORD_GROUPS["INSTEAD_WORD"].split("|")
