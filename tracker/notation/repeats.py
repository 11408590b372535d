"""Repeat clauses: "rep from * around", "repeat 5 more times", "rep ( ) to last 2 sts, end last rep at **"."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import MADE, STOPS, T
from tracker.notation.often import how_often_repeated, repeated_again
from tracker.notation.rows import without_leads
from tracker.notation.tree import Choice, Exactly, Group, Item

_CLAUSE_ENDS = STOPS | {T.OPEN, T.JOIN}
_WHAT = (
    T.FROM, T.MARK, T.BEGINNING, T.BETWEEN, T.THEN, T.SAME, T.OPEN, T.COLON, T.IN, T.FILLER, T.ORDINAL,
)  # fmt: skip
_WHAT_IN_WORDS = frozenset(
    (
        "s instructions sequence group brackets parentheses steps asterisk asterisks star stars between pattern "
        "what section"
    ).split()
)


def announces_group(cursor: Cursor) -> bool:
    """ "Repeat (sc, inc) 6 times" announces a group; "rep (5 times)" and "rep ( ) 5 times" look back."""
    ahead = 2 if cursor.peek(1) in (T.FROM, T.WORK, T.COLON) else 1
    if cursor.peek(ahead) is T.OPEN:
        return any(token.kind in MADE for token in cursor.inside(cursor.place + ahead))
    if cursor.peek(ahead) is T.MARK and ahead == 1 and cursor.open_marks == 0:
        counts = cursor.peek(2) is T.NUMBER and cursor.peek(3) in (T.TIMES, T.MORE)
        return (cursor.peek(2) is T.NUMBER or cursor.peek(2) in MADE) and not counts
    return False


def repeat(cursor: Cursor, found: list[Item], _until: int) -> None:
    """REPEAT without a star: a group that follows, the bracket before, or all of the row so far"""
    if announces_group(cursor):
        cursor.take()
        cursor.skip(T.FROM, T.COLON, T.WORK)
        return
    lead, body = without_leads(found)
    if not body:
        raise cursor.fail(
            "repeat-of-nothing", "there is nothing before this to repeat", help="put the repeat behind a group"
        )
    cursor.repeat_all()
    last = _bracket(found[-1])
    if isinstance(last, Group) and last.times == Exactly(1) and not from_beginning(cursor):
        found[-1] = repeat_clause(cursor, last)
    else:
        found[lead:] = [repeat_clause(cursor, Group(tuple(body), Exactly(1), cursor.here()))]


def _bracket(item: Item) -> Item:
    """A bracket with nothing behind it is a choice, and a group in its first reading."""
    if isinstance(item, Choice) and item.key.startswith("group"):
        return item.options[0].body[0]
    return item


def from_beginning(cursor: Cursor) -> bool:
    """ "rep from beg": all of the row so far, whatever stands right before it."""
    return cursor.peek(1) is T.FROM and cursor.peek(2) is T.BEGINNING


def repeat_clause(cursor: Cursor, group: Group, early: int | None = None, *, besides_first: bool = False) -> Item:
    """REPEAT := rep [WHAT] OFTEN [EARLY END]

    `early` is after how many items of the group a double star stands. `besides_first`: if a star is named, the group
    as written most likely comes on top of the number of times.
    """
    first = cursor.place
    cursor.take()
    starred = _what(cursor)
    often = how_often_repeated(cursor)
    span = group.span.to(cursor.span(first))
    cut = early_end(cursor, group, early)
    return cut_short(repeated_again(group.body, often, span, besides_first=starred and besides_first), cut)


def _what(cursor: Cursor) -> bool:
    """WHAT := { from | * | to * | between | beginning | '(' words ')' ... }: taken; whether a star was named"""
    starred = False
    while _says_what(cursor):
        starred = starred or cursor.at(T.MARK)
        if not cursor.at(T.OPEN):
            cursor.take()
        elif any(token.kind is T.NUMBER for token in cursor.inside(cursor.place)):
            return starred
        else:
            cursor.place = cursor.closing(cursor.place) + 1
    return starred


def _says_what(cursor: Cursor) -> bool:
    if cursor.at(T.WORD):
        return cursor.token().text in _WHAT_IN_WORDS
    if cursor.at(T.TO):
        return cursor.peek(1) in (T.MARK, T.OPEN)
    return cursor.at(*_WHAT) or cursor.sees(T.AND, T.MARK)


def early_end(cursor: Cursor, group: Group, early: int | None) -> int:
    """EARLY END := omit last ... | end last rep at **; how many items the last repeat leaves out"""
    left_out = len(group.body) - early if early is not None else 0
    start = cursor.place
    cursor.skip(T.COMMA, T.SEMI, T.DOT, T.AND)
    end = cursor.end_of(_CLAUSE_ENDS)
    if cursor.at(T.OMIT):
        cursor.place = end
        return 1
    names_star = any(token.kind is T.MARK for token in cursor.tokens[cursor.place : end])
    cursor.place = end if cursor.at(T.END) and names_star else start
    return left_out


def cut_short(item: Item, cut: int) -> Item:
    """The repeat with the last time through cut short by so many items."""
    if cut and isinstance(item, Group):
        return replace(item, cut=cut)
    if cut and isinstance(item, Choice):
        options = (replace(option, body=tuple(cut_short(i, cut) for i in option.body)) for option in item.options)
        return replace(item, options=tuple(options))
    return item
