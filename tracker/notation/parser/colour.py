"""Colours of yarn: "with B", "change to B in last st", "in red", "(MC)", "colour 2:"."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    NEXT_YARN,
    Choice,
    ChoiceKind,
    Colour,
    Exactly,
    Instruction,
    Into,
    Item,
    Option,
    Role,
    Some,
)
from tracker.notation.instructions import (
    AFTER_CORNER,
    CORNER_SPACE,
    MAIN,
    is_at_corner,
    is_plain_work,
    joining,
    stitch,
    unmarked,
)
from tracker.notation.parser.place import begins_place, place
from tracker.notation.parser.remark import rest_of_clause
from tracker.notation.parser.worked_into import RING, Where
from tracker.notation.token_kinds import STOPS, T
from tracker.notation.token_stream import Cursor, NotUnderstood, PhrasePattern
from tracker.notation.yarn_names import (
    BEHIND_STITCHES,
    LAST_LOOP,
    LONGEST_KEY,
    LONGEST_NAME,
    SURE_KEYS,
    YARN_NOUNS,
    is_unnamed,
    is_yarn,
    key_of,
    stands_behind,
)

_SHORT_NAMES = SURE_KEYS | {"ca", "cb", "bc", "contrasting"}
_CHANGE = PhrasePattern("[CHANGE WITH] (?= [COLOURED WORD TO MARKER IN BEGINNING COLON])")
""" "change to red, 6 sc", "with B, 6 sc" """

_CHANGE_UNNAMED = PhrasePattern(
    "CHANGE (?= STOPS | $) | (CHANGE | WITH) [NEXT OTHER] COLOURED | CHANGE COLOURED (?! AS | TO | WORD)"
)
""" "6 sc, change colour", "change to next colour", "with next colour" """

_DROPPED = PhrasePattern("(?= CHANGE) DROPS [COLOURED WORD MARKER]")
""" "drop A, pick up B" """

_CARRIED = PhrasePattern("(?= WORD) CARRIES")
""" "6 dc in B, carrying A" """

_RUN = PhrasePattern("NUMBER [COLOURED WORD MARKER] (?= STOPS | [MARK AND TIMES] | $)")
""" "sc 3A, 2B, 3A": a row of a colour chart in words"""

_THE_COLOUR = PhrasePattern("COLOURED? WORD? TO (?= [COLOURED WORD])")
""" "change the colour to blue" """

_IN_COLOUR = PhrasePattern("IN [COLOURED WORD]")
""" "6 sc in red" """

_DESCRIBED_COLOUR = PhrasePattern("WORD WORD? COLOURED")
""" "with brick red, 6 sc", "start with sock colour" """

_WORD_ALONE = PhrasePattern("WORD [COMMA SEMI DOT NEWLINE COLON]")
""" "with moss, 6 sc" """

_NUMBER_ALONE = PhrasePattern("NUMBER (?= STOPS | IN | COLON | $)")
""" "colour 2, 6 sc" """

_GOES_ON = PhrasePattern("STOPS | OPEN | MARK | AND | NUMBER (MADE (?! [SPACE CORNER]) | STITCH_LETTERS) | $")
""" "change to red at the seam, 6 sc", "change to red 6X" """


def colour(cursor: Cursor, items: list[Item], until: int) -> bool:
    """COLOUR := CHANGE | in NAME | NAME; taken if one stands here"""
    first = cursor.place
    if cursor.at(T.CHANGE) and cursor.token().text in _JOINS and _joins_somewhere(cursor, items):
        return True
    if cursor.begins(_DROPPED) or cursor.begins(_CARRIED):
        rest_of_clause(cursor, until, anything=True)
        return True
    if cursor.take_phrase(LAST_LOOP):
        cursor.skip(T.WITH, T.IN, T.CHANGE, T.TO)
        items.extend(yarn_name(cursor))
        return True
    unnamed = cursor.take_phrase(_CHANGE_UNNAMED)
    if unnamed and is_unnamed(unnamed):
        items.append(Colour(NEXT_YARN, cursor.span(first)))
        return True
    cursor.place = first
    if cursor.begins(_CHANGE):
        return _change(cursor, items)
    if cursor.begins(_IN_COLOUR):
        return _in_colour(cursor, items)
    begun = cursor.place > 0 and cursor.peek(-1) is T.WORK and cursor.begins(_DESCRIBED_COLOUR)
    labels = cursor.peek(-1) in _BEFORE_A_LABEL and cursor.begins(_LABEL)
    if begun or labels or (cursor.at(T.COLOURED, T.WORD) and _names_colour(cursor)):
        items.extend(yarn_name(cursor))
        return cursor.place > first
    return False


_LABEL = PhrasePattern("WORD WORD? COLOURED [COLON DASH]")
_BEFORE_A_LABEL = (None, *STOPS)
"""Before a yarn with a colon behind it, "Petal colour: 1 ch, ...", and nothing or the end of a sentence before it."""


def _names_colour(cursor: Cursor) -> bool:
    if cursor.at(T.COLOURED, T.MARKER):
        return True
    text = "" if cursor.finished or _is_called_so(cursor) else cursor.token().text
    return text in cursor.context.colours or len(text) == 1 or text in _SHORT_NAMES


def _is_called_so(cursor: Cursor) -> bool:
    """Whether the word here, which is none of the pattern's yarns, is what stitches go into: "sc in next p" """
    return cursor.peek(-1) in (T.NEXT, T.EACH, T.SAME) and cursor.token().text not in cursor.context.colours


def _colour_in_words(cursor: Cursor, first: int) -> bool:
    """ "With brick red,": a colour word with a describing word before it; "With moss,", "with LG,": any word if it
    is first, or a short one."""
    if cursor.begins(_WORD_ALONE) and (first == 0 or len(cursor.token().text) <= LONGEST_KEY):
        return True
    return cursor.begins(_DESCRIBED_COLOUR)


def yarn_name(cursor: Cursor) -> list[Colour]:
    """NAME := { word } [n]; empty if none stands here"""
    start = cursor.place
    while cursor.place - start < LONGEST_NAME:
        numbered = cursor.place > start and cursor.begins(_NUMBER_ALONE)
        if not (numbered or cursor.at(T.COLOURED, T.WORD, T.MARKER, T.BEGINNING)):
            break
        cursor.take()
    key = key_of(cursor.tokens[start : cursor.place])
    return [Colour(key, cursor.span(start))] if key and key not in YARN_NOUNS else []


def _change(cursor: Cursor, items: list[Item]) -> bool:
    """CHANGE := with NAME | change [to] NAME [in PLACE | words up to the next stitches]"""
    first = cursor.place
    changes = cursor.take().kind is T.CHANGE
    if changes and not cursor.take_phrase(_THE_COLOUR):
        cursor.skip(T.TO, T.COLON)
    named = yarn_name(cursor) if changes or _names_colour(cursor) or _colour_in_words(cursor, first) else []
    if not named and not (changes and cursor.peek(-1) is T.COLOURED):
        cursor.place = first
        return False
    if named and changes and cursor.at(T.IN) and begins_place(cursor):
        items.append(_changing_in(cursor, items, named[0], first))
        return True
    while changes and not cursor.begins(_GOES_ON):
        cursor.take()
    behind = bool(named) and not changes and stands_behind(cursor, items, first) and cursor.begins(BEHIND_STITCHES)
    items[len(items) - behind : len(items) - behind] = named
    return True


_JOINS = ("attach", "attach yarn", "reattach", "join new")
"""Words for another yarn by which a round is begun."""


def _joins_somewhere(cursor: Cursor, items: list[Item]) -> bool:
    """attach [NAME] PLACE: taken if it tells where a round begins"""
    first = cursor.place
    cursor.take()
    named = yarn_name(cursor)
    words = cursor.tokens[first : cursor.place]
    where = yarn_place(cursor, items)
    if where is None:
        cursor.place = first
        return False
    if is_unnamed(words):
        named = [Colour(NEXT_YARN, cursor.span(first))]
    items.extend((Some(joined_there(joining(cursor.span(first)), where)), *named))
    return True


def _changing_in(cursor: Cursor, items: list[Item], named: Colour, first: int) -> Item:
    """ "change to B in last st": the last stitch may be among those named before, or be one more."""
    place(cursor)
    last = next((item for item in reversed(items) if isinstance(item, Some) and item.act.role is Role.WORK), None)
    if last is None or last.act.takes != 1:
        return named
    one_more = Some(unmarked(replace(last.act, span=cursor.span(first))), Exactly(1))
    why = "read 'in last st' as one more stitch, because that uses the stitches that are there"
    return Choice(ChoiceKind.CHANGE_IN_LAST, (Option((named,)), Option((one_more, named), why, rescue=True)))


def _in_colour(cursor: Cursor, items: list[Item]) -> bool:
    """in NAME: for the stitches before it, unless a stop stands between"""
    first = cursor.place
    cursor.take()
    if not _names_colour(cursor):
        cursor.place = first
        return False
    start = cursor.place
    cursor.take()
    cursor.skip(T.COLOURED)
    named = Colour(key_of(cursor.tokens[start : cursor.place]), cursor.span(start))
    items.insert(len(items) - stands_behind(cursor, items, first), named)
    return True


def yarn_run(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """RUN := n NAME, with no stitch: so many of the stitch of the line in that yarn, "3A, 2B, 3A" """
    if not cursor.begins(_RUN) or not is_yarn(cursor.token(1), cursor.context.colours):
        return False
    first = cursor.place
    count = cursor.number()
    named = Colour(key_of([cursor.take()]), cursor.span(first + 1))
    items.extend((named, Some(stitch(MAIN).act(cursor.loop, cursor.span(first)), Exactly(count))))
    return True


def colour_behind(cursor: Cursor, items: list[Item]) -> None:
    """ "6 sc br, 12 sc cr": a short word behind a stitch is its yarn; "6x a" is letter notation."""
    word = cursor.token()
    is_letter = word.text in "vaw" and cursor.peek(-1) is not T.STITCH
    is_name = word.kind is T.COLOURED and word.text not in YARN_NOUNS
    if not is_name and _is_called_so(cursor):
        return
    is_name = is_name or (word.glued and word.text in cursor.context.colours)
    if is_name or (not word.glued and len(word.text) <= LONGEST_KEY and not is_letter):
        start = cursor.place
        items.insert(len(items) - 1, Colour(cursor.take().text, cursor.span(start)))


# Where the yarn of a round is joined that begins so: "join B in any ch-2 sp", "attach yarn between two groups".

_AT_A_PLACE = PhrasePattern("[IN BETWEEN] | TO [NEXT SAME EACH CORNER LAST]")
""" "join B in any ch-2 sp", "join between two groups", "attach yarn to any corner" """


_BEHIND_A_CORNER = PhrasePattern(
    "[IN TO] [ORDINAL NEXT EACH]* [STITCH NOUN] ((?= WORD) AFTER_WORD | BEHIND) [EACH NEXT]* CORNER [SPACE STITCH]*"
)
""" "join B to 1st tr after a corner" """


def yarn_place(cursor: Cursor, items: list[Item]) -> Where | None:
    """Where the yarn is joined, if that is told here and nothing is made yet; taken"""
    start = cursor.place
    if cursor.begins(_BEHIND_A_CORNER) and not any(is_plain_work(item) for item in items):
        cursor.take_phrase(_BEHIND_A_CORNER)
        return Where(Exactly(1), Into.STITCH, onto=AFTER_CORNER)
    if not cursor.begins(_AT_A_PLACE) or any(is_plain_work(item) for item in items):
        return None
    taken_in = cursor.accept(T.TO) is not None
    try:
        where = place(cursor, taken_in=taken_in)
    except NotUnderstood:  # whatever else is said of a joining is no matter
        where = RING
    if where.into is Into.RING or any(token.text in _IN_IT for token in cursor.tokens[cursor.place :]):
        cursor.place = start
        return None
    return where


_IN_IT = ("in it", "into it")
"""What goes on from the place itself: "join B in any corner, (2 dc, ch 2, 2 dc) in it" """


def joined_there(act: Instruction, where: Where | None) -> Instruction:
    """A joining, or the stitch that joins, with the space or gap that it is in, or the corner that it is behind."""
    if where is not None and where.onto == AFTER_CORNER and not act.takes:
        return replace(act, leads_over=1, onto=AFTER_CORNER)
    if where is None or where.into not in (Into.SPACE, Into.BETWEEN):
        return act
    return replace(act, into=where.into, onto=CORNER_SPACE if is_at_corner(where.onto) else where.onto)
