"""Where stitches go: "in next 5 sts", "in each ch-3 sp around", "in 2nd ch from hook", "to last 2 sts"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.cursor import Cursor
from tracker.notation.glossary import BUNCH_BY_ID
from tracker.notation.lexicon import T
from tracker.notation.parts import PARTS
from tracker.notation.tree import Exactly, Into, Loop, Rest, Times

_BASE_WORDS = (T.NOUN, T.STITCH, T.SPACE, T.CHAIN, T.BUNCH, T.INC, T.DEC, T.POSTED, T.CORNER, T.MARKER)
_BEGINS = (
    T.IN, T.OVER, T.EACH, T.ALL, T.NEXT, T.SAME, T.REMAINING, T.BETWEEN, T.BEHIND,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Where:
    """A place phrase. `bases` is over how many; `each` says that what is named goes into every single one.

    `every` is n for "every nth"; `from_hook` is n for "nth chain from the hook"; `same` is the place just worked
    into; `base_word` is the word used for the base; `also_spaces` says that spaces count as bases besides.
    `told` says that the phrase gave a number of bases itself.
    """

    bases: Times
    into: Into = Into.STITCH
    each: bool = False
    told: bool = False
    every: int = 0
    from_hook: int = 0
    same: bool = False
    first: bool = False
    last: bool = False
    also_spaces: bool = False
    onto: str = ""
    loop: Loop = Loop.BOTH


def begins_place(cursor: Cursor) -> bool:
    """Whether a place phrase starts here."""
    if cursor.at(T.ALL) and cursor.peek(1) is T.COLOURED:
        return False
    if cursor.at(*_BEGINS):
        return not _is_colour_or_rounds(cursor)
    if cursor.at(T.LOOP):
        return cursor.peek(1) in (T.OF, T.NEXT, T.EACH) or (cursor.peek(1) is T.IN and cursor.peek(2) in _BEGINS)
    if cursor.at(T.LAST, T.ORDINAL):
        return cursor.peek(1) in _BASE_WORDS or (cursor.peek(1) is T.NUMBER and cursor.peek(2) in _BASE_WORDS)
    if cursor.sees(T.ROUND, T.NOUN) or cursor.sees(T.ROUND, T.NEXT):
        return True
    return cursor.sees(T.AROUND, T.NEXT) or cursor.sees(T.AROUND, T.NOUN) or cursor.sees(T.AROUND, T.EACH)


def _is_colour_or_rounds(cursor: Cursor) -> bool:
    """ "in red", "in A", "for 4 rounds": IN, but not a place."""
    if not cursor.at(T.IN):
        return False
    if cursor.peek(1) is T.SIDE:
        return True
    if cursor.sees(T.IN, T.NUMBER, T.ROUND) or cursor.sees(T.IN, T.NEXT, T.NUMBER, T.ROUND):
        return True
    return cursor.peek(1) in (T.COLOURED, T.WORD, T.ONGOING, None, T.AGAIN)


def place(cursor: Cursor, taken_in: bool = False) -> Where:
    """PLACE := [in] [loop of] (each | next | same | first | last | nth | ring | ...) [number] [base] [extent]"""
    first = cursor.place
    loop = Loop.BOTH
    around_post = bool(cursor.accept(T.AROUND, T.ROUND))
    taken_in = bool(cursor.accept(T.IN, T.OVER, T.FROM)) or around_post or taken_in
    if cursor.at(T.LOOP):
        value = cursor.take().value
        assert isinstance(value, Loop)
        loop = value
        cursor.skip(T.OF, T.IN)
    cursor.skip(T.TOTAL)
    where = _place_body(cursor, taken_in)
    if where is None:
        raise cursor.fail(
            "no-place",
            f"where does this go? '{_words(cursor, first)}' names no stitch, space or ring",
            cursor.span(first, cursor.place + 1),
            "write for example: in next st, in each st around, in next ch-2 sp, in ring",
        )
    where = replace(where, loop=loop if loop is not Loop.BOTH else where.loop)
    if cursor.sees(T.IN, T.BASE):
        cursor.place += 2
        base(cursor, Exactly(1))
        where = replace(where, same=True)
    if _of_part(cursor):
        where = replace(where, into=Into.PART)
    where = _of_bunch(cursor, where)
    _of_what(cursor)
    cursor.skip(T.TOTAL) if cursor.at(T.TOTAL) and cursor.token().text == "made" else None
    where = extent(cursor, where)
    if cursor.depth and where.into is Into.SPACE and where.bases == Rest():
        return replace(where, bases=Exactly(1))  # in a group that is repeated, "each" is the next one every time
    return where


def _words(cursor: Cursor, first: int) -> str:
    return " ".join(token.text for token in cursor.tokens[first : cursor.place + 1])


def _place_body(cursor: Cursor, taken_in: bool) -> Where | None:
    cursor.skip(T.WORK)
    if cursor.accept(T.RING):
        return Where(Exactly(0), Into.RING)
    if cursor.at(T.BETWEEN):
        return _between(cursor)
    if cursor.at(T.BEHIND):
        cursor.take()
        return _place_body(cursor, True)
    if cursor.accept(T.TOP):
        cursor.skip(T.OF, T.ORDINAL, T.LAST, T.NEXT, T.SAME, T.BEGINNING)
        return replace(base(cursor, Exactly(1)) or Where(Exactly(1)), first=True)
    if cursor.accept(T.BASE):
        cursor.skip(T.OF, T.SAME)
        base(cursor, Exactly(1))
        return Where(Exactly(1), same=True)
    if cursor.accept(T.CENTRE):
        if cursor.accept(T.RING):
            return Where(Exactly(0), Into.RING)
        return base(cursor, Exactly(1)) or Where(Exactly(1))
    if cursor.at(T.EACH, T.ALL):
        return _each(cursor)
    if cursor.at(T.SAME):
        cursor.take()
        cursor.skip(T.SAME, T.NEXT)
        number = cursor.number() if cursor.at(T.NUMBER) else 1
        where = base(cursor, Exactly(number)) or Where(Exactly(number))
        _as_what(cursor)
        return replace(where, same=True)
    if cursor.at(T.NEXT):
        return _next(cursor)
    if cursor.at(T.REMAINING):
        cursor.take()
        cursor.skip(T.OF)
        if cursor.at(T.NUMBER):
            return _numbered(cursor, told=True)
        return replace(base(cursor, Rest()) or Where(Rest()), each=True)
    if cursor.at(T.JOIN) and cursor.peek(1) in _BASE_WORDS:
        cursor.place += 1
        return replace(base(cursor, Exactly(1)) or Where(Exactly(1)), same=True)
    if cursor.at(T.LAST, T.ORDINAL, T.BEGINNING) or (cursor.at(T.END) and cursor.peek(1) in _BASE_WORDS):
        return _ordinal(cursor)
    if cursor.at(T.NUMBER) and not _is_chain_space(cursor) and (taken_in or cursor.peek(1) in _BASE_WORDS):
        return _numbered(cursor, told=True)
    if cursor.at(T.MARKER):
        cursor.take()
        return base(cursor, Exactly(1)) or Where(Exactly(1))
    if taken_in:
        cursor.skip(T.OTHER)
        return base(cursor, Exactly(1))
    return None


def _next(cursor: Cursor) -> Where | None:
    cursor.take()
    cursor.skip(T.NEXT)
    if cursor.at(T.EACH):
        return _each(cursor)
    if cursor.at(T.NUMBER) and not _is_chain_space(cursor):
        return _numbered(cursor, told=True)
    if cursor.at(T.ORDINAL):
        return _ordinal(cursor)
    cursor.skip(T.SAME, T.MARKER, T.CENTRE, T.TOP)
    return base(cursor, Exactly(1)) or Where(Exactly(1))


def _is_chain_space(cursor: Cursor) -> bool:
    """ "2ch-sp" is one space of two chains; "2 ch-sps" are two spaces."""
    return cursor.sees(T.NUMBER, T.CHAIN) and cursor.peek(2) is T.SPACE and cursor.token(1).glued


def _numbered(cursor: Cursor, told: bool, each: bool = False) -> Where:
    number = cursor.number()
    number = sizes(cursor, number)
    cursor.skip(T.REMAINING, T.NEXT, T.MORE)
    where = base(cursor, Exactly(number)) or Where(Exactly(number))
    return replace(where, told=told, each=each)


def sizes(cursor: Cursor, number: int, anywhere: bool = False) -> int:
    """A number followed by the other sizes' numbers in brackets: "5 (6, 7)"."""
    if not cursor.at(T.OPEN):
        return number
    close = cursor.closing(cursor.place)
    inner = cursor.tokens[cursor.place + 1 : close]
    numbers = [token for token in inner if token.kind is T.NUMBER]
    others = [token for token in inner if token.kind not in (T.NUMBER, T.COMMA, T.SEMI, T.DASH, T.SLASH)]
    after = cursor.tokens[close + 1].kind if close + 1 < len(cursor.tokens) else None
    if anywhere and len(numbers) > 1 and not others:
        after = T.NOUN
    if others or not numbers or after in (None, T.DOT, T.TIMES) or (len(numbers) == 1 and after not in _BASE_WORDS):
        return number
    cursor.place = close + 1
    every = [number, *(token.number for token in numbers)]
    return every[min(cursor.context.size, len(every) - 1)]


def _each(cursor: Cursor) -> Where | None:
    cursor.take()
    cursor.skip(T.OF, T.ALL)
    if cursor.accept(T.OTHER):
        return replace(base(cursor, Rest()) or Where(Rest()), each=True, every=2)
    if cursor.at(T.ORDINAL) and (cursor.peek(1) in _BASE_WORDS or cursor.peek(1) in (T.AND, None)):
        nth = cursor.take().number
        if cursor.sees(T.AND, T.ORDINAL):
            cursor.take()
            nth = cursor.take().number
        return replace(base(cursor, Rest()) or Where(Rest()), each=True, every=nth)
    if cursor.at(T.ORDINAL, T.LAST):
        where = _ordinal(cursor)
        return replace(where, each=True) if where else None
    cursor.skip(T.NEXT, T.REMAINING)
    cursor.skip(T.OF)
    if cursor.at(T.NUMBER):
        return _numbered(cursor, told=True, each=True)
    if cursor.at(T.LOOP):
        cursor.take()
        cursor.skip(T.OF)
        return replace(base(cursor, Rest()) or Where(Rest()), each=True)
    if cursor.at(T.RING):
        cursor.take()
        return Where(Exactly(0), Into.RING)
    cursor.skip(T.CENTRE, T.TOP, T.MARKER)
    where = base(cursor, Rest()) or Where(Rest())
    if cursor.at(T.AND) and cursor.peek(1) in (T.EACH, T.IN, T.SPACE, T.CHAIN, T.STITCH):
        where = _and_each(cursor, where)
    return replace(where, each=True)


def _and_each(cursor: Cursor, where: Where) -> Where:
    """ "in each dc and ch-1 sp around": both are bases."""
    start = cursor.place
    cursor.take()
    cursor.skip(T.IN, T.EACH)
    other = base(cursor, Rest())
    if other is None or other.into is where.into or cursor.at(T.FROM):
        cursor.place = start
        return where
    return replace(where, into=Into.STITCH, also_spaces=True)


def _ordinal(cursor: Cursor) -> Where | None:
    token = cursor.take()
    nth = token.number if token.kind is T.ORDINAL else 0
    is_first = nth == 1 or token.kind is T.BEGINNING
    if cursor.at(T.OF) and (cursor.peek(1) is T.CHAIN or cursor.peek(2) is T.CHAIN):
        cursor.take()
        cursor.skip(T.NUMBER, T.BEGINNING)
        base(cursor, Exactly(1))
        return Where(Exactly(1), Into.CHAIN, first=True)
    cursor.skip(T.REMAINING, T.OF)
    if cursor.at(T.NUMBER):
        where = _numbered(cursor, told=True)
        cursor.skip(T.HOOK)
        return replace(where, first=is_first, last=token.kind in (T.LAST, T.END), each=where.bases != Exactly(1))
    listed = 1
    while cursor.at(T.COMMA, T.AND) and cursor.peek(1) is T.ORDINAL:
        cursor.place += 2
        listed += 1
    found = base(cursor, Exactly(listed))
    if listed > 1:
        return replace(found or Where(Exactly(listed)), told=True, each=True)
    if cursor.accept(T.HOOK):
        return replace(found or Where(Exactly(1)), from_hook=max(nth, 1), into=Into.CHAIN)
    if cursor.at(T.FROM) and cursor.peek(1) is T.HOOK:
        cursor.place += 2
        return replace(found or Where(Exactly(1)), from_hook=max(nth, 1), into=Into.CHAIN)
    if found and found.into is Into.CHAIN and nth > 1:
        return replace(found, from_hook=nth)
    return replace(found or Where(Exactly(1)), first=is_first, last=token.kind is T.LAST)


def _between(cursor: Cursor) -> Where:
    cursor.take()
    each = bool(cursor.accept(T.EACH, T.ALL))
    cursor.skip(T.NEXT, T.SAME)
    if cursor.at(T.NUMBER):
        cursor.take()
    cursor.skip(T.NEXT)
    found = base(cursor, Exactly(1))
    if found is None and cursor.at(T.WORD):
        cursor.take()
    if cursor.accept(T.AND):
        cursor.skip(T.NEXT, T.NUMBER)
        base(cursor, Exactly(1))
    if found and found.into is Into.SPACE:
        return found
    return Where(Rest() if each else Exactly(1), Into.BETWEEN, each=each)


def base(cursor: Cursor, bases: Times) -> Where | None:
    """BASE := st | sc | ch | [ch-3] sp | shell | corner ..., also several words for one thing."""
    cursor.skip(T.MARKER, T.CENTRE, T.BEGINNING)
    if cursor.at(T.WORD, T.COLOURED, T.SIDE) and cursor.peek(1) in _BASE_WORDS:
        cursor.take()
    if cursor.at(T.CHAIN):
        return _chain_base(cursor, bases)
    if cursor.sees(T.NUMBER, T.CHAIN) and cursor.peek(2) is T.SPACE:
        length = cursor.token().number
        cursor.place += 3
        return Where(bases, Into.SPACE, onto=f"ch-{length}")
    if cursor.at(T.CORNER):
        cursor.take()
        cursor.skip(T.CHAIN, T.NUMBER)
        cursor.skip(T.SPACE, T.NOUN)
        return Where(bases, Into.SPACE)
    if cursor.at(T.SPACE):
        cursor.take()
        if cursor.at(T.BETWEEN):
            _between(cursor)
            return Where(bases, Into.BETWEEN)
        return Where(bases, Into.SPACE)
    if cursor.at(T.RING):
        cursor.take()
        return Where(Exactly(0), Into.RING)
    if cursor.at(T.NOUN, T.STITCH, T.BUNCH, T.INC, T.DEC, T.POSTED):
        return _stitch_base(cursor, bases)
    return None


def _chain_base(cursor: Cursor, bases: Times) -> Where:
    cursor.take()
    if cursor.at(T.NUMBER) and cursor.peek(1) in (T.SPACE, T.CORNER):
        length = cursor.token().number
        cursor.place += 2
        cursor.skip(T.SPACE)
        return Where(bases, Into.SPACE, onto=f"ch-{length}")
    if cursor.accept(T.SPACE):
        return Where(bases, Into.SPACE)
    if cursor.at(T.NUMBER) and not _starts_a_count(cursor):
        cursor.take()
        cursor.skip(T.SPACE, T.NOUN)
        return Where(bases, Into.CHAIN if bases == Rest() else Into.SPACE, first=bases != Rest())
    cursor.skip(T.NOUN)
    return Where(bases, Into.CHAIN)


def _starts_a_count(cursor: Cursor) -> bool:
    """Whether the number here belongs to what follows ("in last ch 3 sc in ...") rather than to "ch-3"."""
    return cursor.peek(1) in (T.STITCH, T.INC, T.DEC, T.CHAIN, T.BUNCH, T.POSTED)


_ONE = BUNCH_BY_ID["cluster"]


def _stitch_base(cursor: Cursor, bases: Times) -> Where:
    named = cursor.take()
    if named.kind is T.BUNCH and BUNCH_BY_ID.get(named.name, _ONE).stitches != 1:
        cursor.skip(T.SPACE)
        return Where(bases, Into.SPACE, onto=named.name)
    if cursor.at(T.SPACE):
        cursor.take()
        return Where(bases, Into.SPACE)
    if cursor.at(T.NOUN) or (cursor.at(T.STITCH) and cursor.token().glued):
        cursor.take()
    return Where(bases)


def _of_bunch(cursor: Cursor, where: Where) -> Where:
    """ "in the centre dc of each shell": one place in every group of that name."""
    if not cursor.at(T.OF):
        return where
    ahead = 2 if cursor.peek(1) in (T.EACH, T.NEXT) else 1
    if cursor.peek(ahead) is not T.BUNCH:
        return where
    each = cursor.peek(1) is T.EACH
    name = cursor.token(ahead).name
    cursor.place += ahead + 1
    return replace(where, into=Into.SPACE, onto=name, bases=Rest() if each else where.bases, each=each or where.each)


def _of_part(cursor: Cursor) -> bool:
    """ "in 12 sts of first leg": on another part."""
    if not cursor.at(T.OF):
        return False
    ahead = 1
    while cursor.peek(ahead) in (T.ORDINAL, T.OTHER, T.SAME, T.NEXT, T.EACH):
        ahead += 1
    if cursor.peek(ahead) is not T.WORD or cursor.token(ahead).text not in PARTS:
        return False
    cursor.place += ahead + 1
    cursor.skip(T.NUMBER)
    return True


def _of_what(cursor: Cursor) -> None:
    """ "of next shell", "of Rnd 5", "below", "of previous round": tells which, changes no number."""
    while cursor.at(T.OF, T.PREVIOUS, T.FROM, T.BEHIND):
        if cursor.at(T.FROM) and cursor.peek(1) not in (T.ROUND, T.PREVIOUS):
            return
        start = cursor.place
        cursor.take()
        cursor.skip(T.EACH, T.NEXT, T.SAME, T.LAST, T.ORDINAL, T.PREVIOUS, T.CENTRE, T.BEGINNING)
        if round_reference(cursor):
            continue
        if cursor.at(T.NUMBER):
            cursor.take()
        if base(cursor, Exactly(1)) is None and cursor.tokens[start].kind is not T.PREVIOUS:
            cursor.skip(T.RING)
            cursor.skip(T.PREVIOUS)
            return


def round_reference(cursor: Cursor) -> bool:
    """ "rnd 12": remembers that the bases are those of an earlier round."""
    if not cursor.at(T.ROUND):
        return False
    cursor.take()
    if cursor.at(T.NUMBER):
        cursor.worked_into = cursor.number()
    return True


def _as_what(cursor: Cursor) -> None:
    """ "same st as joining", "as sl st", "as last dc", "where you joined"."""
    if not cursor.accept(T.AS):
        if cursor.at(T.WORD) and cursor.token().text in ("where", "used"):
            while not cursor.finished and not cursor.at(T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.OPEN, T.CLOSE, T.AND):
                cursor.take()
        return
    cursor.skip(T.JOIN, T.STITCH, T.LAST, T.ORDINAL, T.PREVIOUS, T.CHAIN, T.TURN, T.BEGINNING, T.NOUN, T.INC, T.TOP)


def extent(cursor: Cursor, where: Where) -> Where:
    """How far: "around", "to last 2 sts", "until 1 st remains"; leaves `where` alone if nothing is said."""
    far = rest(cursor)
    if far is None:
        return where
    if isinstance(where.bases, Exactly) and where.told and where.bases.count > 1:
        return where
    return replace(where, bases=far, each=True)


def rest(cursor: Cursor) -> Rest | None:
    """EXTENT := around | to end | [to] last n sts | until n sts remain; taken if it stands here."""
    if cursor.at(T.AROUND) or (cursor.at(T.ROUND) and cursor.peek(1) is not T.NUMBER):
        cursor.take()
        cursor.skip(T.AROUND)
        result_told = cursor.at(T.UNTIL)
        left = _leaving(cursor)
        return Rest() if left is None or result_told else left
    if cursor.at(T.TO, T.UNTIL):
        return _leaving(cursor) or _until_done(cursor)
    return None


def _until_done(cursor: Cursor) -> Rest | None:
    """ "until the hole closes": to the end of the round, however it is put."""
    if not cursor.at(T.UNTIL) or cursor.peek(1) not in (T.WORD, T.SPACE, T.RING, T.CORNER):
        return None
    while not cursor.finished and not cursor.at(T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.OPEN, T.CLOSE):
        cursor.take()
    return Rest()


def _leaving(cursor: Cursor) -> Rest | None:
    """ "to last 2 sts", "until 2 sts are left", "to within 3 sts of end", "until last st"."""
    start = cursor.place
    if not cursor.accept(T.TO, T.UNTIL):
        return None
    cursor.skip(T.TO, T.ALL, T.REMAINING)
    if cursor.at(T.WORD) and cursor.token().text == "within":
        cursor.take()
    if cursor.at(T.END):
        cursor.take()
        cursor.skip(T.OF, T.ROUND)
        return Rest()
    is_last = bool(cursor.accept(T.LAST))
    if is_last and cursor.at(T.ROUND):
        cursor.place = start
        return None
    number = cursor.number() if cursor.at(T.NUMBER) else None
    if number is not None:
        number = sizes(cursor, number)
    named = cursor.at(*_BASE_WORDS)
    cursor.skip(T.CHAIN) if cursor.at(T.CHAIN) and cursor.peek(1) is T.SPACE else None
    if named:
        cursor.skip(T.LAST)
        cursor.take()
        cursor.skip(T.NOUN, T.SPACE) if cursor.at(T.NOUN, T.SPACE) else None
    if not (is_last or number is not None):
        cursor.place = start
        return None
    cursor.skip(T.LEFT, T.REMAINING)
    if cursor.at(T.OF) and cursor.peek(1) in (T.ROUND, T.END):
        cursor.place += 2
    return Rest(1 if number is None else number)
