"""Stitch phrases: how many of what, and where: "2 sc in each of next 3 sts", "dec over next 2 sts", "sk 2"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.cursor import Cursor
from tracker.notation.glossary import BUNCH_BY_ID
from tracker.notation.lexicon import T
from tracker.notation.parts import takes_part
from tracker.notation.places import Where, base, begins_place, place, rest, sizes
from tracker.notation.problems import warning
from tracker.notation.scanner import Token
from tracker.notation.tree import (
    Act,
    Choice,
    Exactly,
    Group,
    Into,
    Item,
    Loop,
    Made,
    Option,
    Rest,
    Role,
    Some,
    Times,
)

MAIN = ""
"""Stands for the stitch of the line until it is known: "inc" in a round of hdc is two hdc."""

_PLACES = (T.COLOURED, T.NEXT, T.ORDINAL, T.LAST, T.SAME, T.EACH, T.NOUN, T.STITCH, T.RING)
HEADS = (T.STITCH, T.POSTED, T.INC, T.DEC, T.BUNCH)
_LETTERS = {"x": (T.STITCH, "sc", 1), "v": (T.INC, "sc", 2), "a": (T.DEC, "sc", 2), "w": (T.INC, "sc", 3)}
_TALL_GROUP = 5
"""From here on a count before "around" is the whole round ("48 sc around"), not so many in each stitch."""


@dataclass(frozen=True, slots=True)
class Head:
    """What is to be made, before it is known where: stitches in one base and bases that each takes."""

    name: str
    makes: tuple[Made, ...]
    takes: int = 1
    loop: Loop = Loop.BOTH
    single: bool = False
    """One plain stitch, so that a count before it may mean several stitches or several in one."""


def begins_phrase(cursor: Cursor) -> bool:
    """Whether a stitch phrase starts here (a count, a loop and a beginning word may come first)."""
    ahead = 0
    while cursor.peek(ahead) in (T.NUMBER, T.LOOP, T.BEGINNING, T.ORDINAL, T.MORE, T.OPEN):
        if cursor.peek(ahead) is T.OPEN:
            if ahead == 0 or cursor.peek(ahead - 1) is not T.NUMBER:
                return False
            ahead = cursor.closing(cursor.place + ahead) - cursor.place
        ahead += 1
    if cursor.peek(ahead) is T.OF:
        ahead += 1
    counted = ahead > 0 and cursor.at(T.NUMBER) and all(cursor.peek(i) is T.MORE for i in range(1, ahead))
    if counted and cursor.peek(ahead) in (T.IN, T.EACH) and cursor.peek(ahead + 1) in _PLACES:
        return True
    return cursor.peek(ahead) in HEADS or _is_tog(cursor, ahead) or _is_letter(cursor, ahead)


def _is_tog(cursor: Cursor, ahead: int) -> bool:
    """ "2tog" after a number."""
    return cursor.peek(ahead) is T.TOG and cursor.peek(ahead - 1) is T.NUMBER and ahead > 0


def _is_letter(cursor: Cursor, ahead: int) -> bool:
    """Letter notation, "3X, V": X for sc, V for an increase, A for a decrease, W for three in one."""
    index = cursor.place + ahead
    if index >= len(cursor.tokens):
        return False
    token = cursor.tokens[index]
    if token.text not in _LETTERS or token.kind not in (T.TIMES, T.WORD, T.FILLER):
        return False
    after = cursor.peek(ahead + 1)
    if after is None and _has_letters(cursor):
        return True
    if token.text == "x" and after is T.NUMBER:
        return False
    before_is_number = ahead > 0 and cursor.peek(ahead - 1) is T.NUMBER
    ends = after in (None, T.COMMA, T.CLOSE, T.PLUS, T.MARK) or (after is T.NUMBER and before_is_number)
    return ends and (before_is_number or token.text in "vw" or (token.text in "xa" and after is not None))


def _has_letters(cursor: Cursor) -> bool:
    """Whether the line is in letter notation elsewhere, so that a letter at its end is one too."""
    return any(t.text in "vaw" or (t.text == "x" and t.glued) for t in cursor.tokens[:-1] if len(t.text) == 1)


def stitch_phrase(cursor: Cursor) -> list[Item]:
    """PHRASE := [number] [loop] stitch [number] [loop] [place] [times]"""
    first = cursor.place
    count = _count(cursor)
    if cursor.at(T.INC, T.DEC) and cursor.token().text.split()[0] in _STITCHES and " " in cursor.token().text:
        if (count is not None and count > 1) or (count is None and _is_bare_two(cursor)):
            return _two_words(cursor, first, count or 1)
    loop = _loop(cursor) or cursor.loop
    cursor.skip(T.BEGINNING, T.MORE, T.OF, T.ORDINAL)
    head, count = _head(cursor, count)
    cursor.skip(T.NOUN) if cursor.at(T.NOUN) and head.single else None
    behind = count is None
    if count is None:
        count = _count_after(cursor)
    loop = head.loop if head.loop is not Loop.BOTH else loop
    loop = _loop_after(cursor) or loop
    often = _often_in_place(cursor)
    if count is not None and takes_part(cursor):
        act = Act(head.name, Role.WORK, head.makes, head.takes, Into.PART, loop, span=cursor.span(first))
        return [Some(act, Exactly(count))]
    if cursor.sees(T.IN, T.OTHER) and cursor.peek(2) not in (T.NOUN, T.STITCH):
        cursor.place += 2
        return []
    if cursor.at(T.EACH) and cursor.peek(1) in _NOTHING_MORE and count is not None and count >= _TALL_GROUP:
        cursor.take()
    if _on_other_side(cursor):
        return _other_side(cursor, head, loop, first)
    where, even = _where(cursor)
    if where is not None and where.loop is not Loop.BOTH:
        loop = where.loop
    if where is not None and cursor.at(T.TOG):
        cursor.take()
        head, where = _tog_over(cursor, head, where)
    loop = _loop_after(cursor) or loop
    often *= _often(cursor)
    act = Act(head.name, Role.WORK, head.makes, head.takes, loop=loop, span=cursor.span(first))
    words = " ".join(token.text for token in cursor.tokens[first : cursor.place])
    even_count = Exactly(count) if count and count > 1 else Rest()
    items: list[Item] = _combined(act, head, count, where, words, behind) if not even else [Some(act, even_count)]
    if often > 1:
        items = _oftener(items, often, where)
    return items


_NOTHING_MORE = (None, T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.CLOSE)


def _on_other_side(cursor: Cursor) -> bool:
    return (
        cursor.sees(T.IN, T.SIDE)
        and cursor.peek(2) in (T.OF, T.NUMBER)
        and T.NUMBER in (cursor.peek(2), cursor.peek(3))
    )


def _other_side(cursor: Cursor, head: Head, loop: Loop, first: int) -> list[Item]:
    """ "sc in other side of 3 ch": a stitch into each of them, from below."""
    cursor.place += 2
    cursor.skip(T.OF)
    number = cursor.number()
    cursor.skip(T.CHAIN, T.NOUN)
    act = Act(head.name, Role.WORK, head.makes, head.takes, Into.PART, loop, span=cursor.span(first))
    return [Some(act, Exactly(number))]


_STITCHES = ("sc", "hdc", "dc", "tr", "htr")


def _is_bare_two(cursor: Cursor) -> bool:
    """ "sc inc" with nothing behind it that tells how many: an sc increase, or an sc and an increase."""
    return cursor.peek(1) in (None, T.COMMA, T.STITCH, T.INC, T.DEC, T.CLOSE, T.DOT, T.MARK)


def _two_words(cursor: Cursor, first: int, count: int) -> list[Item]:
    """ "8 sc dec": eight decreases in sc, or eight sc and a decrease."""
    token = cursor.take()
    stitch = str(token.value or MAIN)
    span = cursor.span(first)
    head = _stitch(stitch, 2) if token.kind is T.INC else _together(stitch, 2, generic=True)
    change = Act(head.name, Role.WORK, head.makes, head.takes, loop=cursor.loop, span=span)
    plain = Act(stitch, Role.WORK, (Made(stitch),), 1, loop=cursor.loop, span=span)
    words = f"{count} {token.text}"
    apart = Option(
        (Some(plain, Exactly(count)), Some(change)), f"read '{words}' as {count} {stitch} and one {head.name}"
    )
    together = Option((Some(change, Exactly(count)),), f"read '{words}' as {count} {head.name}")
    before = cursor.tokens[first - 1] if first else None
    if before is not None and before.kind is T.STITCH:
        return [Choice(words, (apart, replace(together, rescue=True)))]
    return [Choice(words, (together, apart if count > 1 else replace(apart, rescue=True)))]


def _count(cursor: Cursor, anywhere: bool = False) -> int | None:
    if not cursor.at(T.NUMBER):
        return None
    number = sizes(cursor, cursor.number(), anywhere)
    if number == 0:
        raise cursor.fail("nothing", "a count of 0 makes nothing", cursor.span(cursor.place - 1), "leave it out")
    return number


def _loop(cursor: Cursor) -> Loop | None:
    token = cursor.accept(T.LOOP)
    if token is None:
        return None
    assert isinstance(token.value, Loop)
    return token.value


def _loop_after(cursor: Cursor) -> Loop | None:
    """ "sc blo", "sc in back loops only": a loop with no place behind it."""
    if cursor.at(T.LOOP) and not begins_place(cursor):
        return _loop(cursor)
    if cursor.sees(T.IN, T.LOOP) and cursor.peek(2) not in (T.OF, T.NEXT, T.EACH, T.IN):
        cursor.take()
        return _loop(cursor)
    return None


def _count_after(cursor: Cursor) -> int | None:
    """ "sc 5": a number behind the stitch that does not belong to what follows."""
    if not cursor.at(T.NUMBER):
        if cursor.sees(T.EACH, T.NUMBER):
            return None
        return None
    after = cursor.peek(1)
    if cursor.token().glued and cursor.token(-1).text.isalpha() and after not in (T.TOG, T.TIMES):
        return _count(cursor)
    if after in (T.TIMES, T.MORE, T.TOG, T.RING):
        return None
    if after in (T.STITCH, T.INC, T.DEC, T.CHAIN, T.BUNCH, T.POSTED, T.SKIP) and not _number_is_behind(cursor):
        return None
    number = _count(cursor)
    cursor.skip(T.NOUN)
    return number


def _number_is_behind(cursor: Cursor) -> bool:
    """In a line written "sc 2 inc sc 2 inc" without commas the numbers stand behind."""
    texts = [token.kind for token in cursor.tokens]
    return (
        texts[0] in HEADS
        and T.COMMA not in texts
        and len(texts) > 1
        and texts[1] is T.NUMBER
        and texts[-1] is not T.NUMBER
    )


def _often_in_place(cursor: Cursor) -> int:
    """ "sc twice in next st": so many in the one place."""
    if cursor.at(T.OFTEN) and cursor.peek(1) in (T.IN, T.NEXT, T.SAME):
        return cursor.take().number
    return 1


def _often(cursor: Cursor) -> int:
    """TIMES := x n | n x | n times | twice; 1 if nothing of the sort stands here."""
    if cursor.at(T.OFTEN) and cursor.peek(1) is not T.MORE:
        return cursor.take().number
    if cursor.sees(T.TIMES, T.NUMBER):
        cursor.take()
        return _positive(cursor)
    if cursor.sees(T.NUMBER, T.TIMES) and cursor.peek(2) is not T.MORE:
        number = _positive(cursor)
        cursor.take()
        return number
    if cursor.at(T.MARK) and cursor.peek(1) is T.NUMBER and _is_multiplication(cursor):
        cursor.take()
        return _positive(cursor)
    return 1


def _is_multiplication(cursor: Cursor) -> bool:
    """ "inc*6": a star between a stitch and a number with nothing to be made behind it."""
    after = cursor.peek(2)
    if cursor.open_marks and after is T.TIMES:
        return False
    return cursor.token().text == "*" and after in (
        None,
        T.COMMA,
        T.SEMI,
        T.DOT,
        T.CLOSE,
        T.OPEN,
        T.EQUALS,
        T.JOIN,
        T.TIMES,
    )


def _positive(cursor: Cursor) -> int:
    number = cursor.number()
    if number == 0:
        raise cursor.fail("nothing", "0 times makes nothing", cursor.span(cursor.place - 1), "leave it out")
    return number


often = _often
is_multiplication = _is_multiplication


def _head(cursor: Cursor, count: int | None) -> tuple[Head, int | None]:
    if cursor.at(T.TOG) and count is not None:
        cursor.take()
        return _together(MAIN, count), None
    if cursor.at(T.IN, T.EACH):
        return _stitch(MAIN, 1), count
    if cursor.at(T.TIMES, T.WORD, T.FILLER):
        kind, stitch, number = _LETTERS[cursor.take().text]
        if kind is T.DEC:
            return _together(stitch, 2), count
        return _stitch(stitch, number), count
    token = cursor.take()
    if token.kind is T.POSTED:
        assert isinstance(token.value, tuple)
        stitch, loop = token.value
        head, count = _stitch_or_bunch(cursor, stitch, count)
        return replace(head, loop=loop), count
    if token.kind is T.STITCH:
        return _stitch_or_bunch(cursor, token.name, count)
    if token.kind is T.INC:
        stitch = str(token.value or MAIN)
        return _stitch(stitch, 2), count
    if token.kind is T.DEC:
        return _together(str(token.value or MAIN), 2, generic=True), count
    if token.kind is not T.BUNCH:
        place = cursor.place - 1
        raise cursor.fail(
            "no-stitch", f"expected a stitch before '{token.text}'", cursor.span(place), "name the stitch"
        )
    return _bunch(cursor, token.name), count


def _stitch(stitch: str, number: int) -> Head:
    if number == 1:
        return Head(stitch, (Made(stitch),), single=True)
    return Head("inc", (Made(stitch, number),))


def _together(stitch: str, over: int, generic: bool = False) -> Head:
    name = "dec" if generic or not stitch else f"{stitch}{over}tog"
    return Head(name, (Made(stitch),), takes=over)


def _stitch_or_bunch(cursor: Cursor, stitch: str, count: int | None) -> tuple[Head, int | None]:
    if cursor.sees(T.NUMBER, T.TOG):
        over = _positive(cursor)
        cursor.take()
        return _together(stitch, over), count
    if cursor.sees(T.NUMBER, T.NOUN) and cursor.peek(2) is T.TOG:
        over = _positive(cursor)
        cursor.place += 2
        return _together(stitch, over), count
    if cursor.at(T.TOG):
        cursor.take()
        return _together(stitch, count or 2), None
    if cursor.at(T.BUNCH) and cursor.token().value != "v-st":
        token = cursor.take()
        bunch = BUNCH_BY_ID.get(token.name)
        if bunch is None:
            return _bunch(cursor, token.name), None
        if bunch.stitches is None:
            return Head(bunch.id, (Made(stitch, count or 5),)), None
        return Head(bunch.id, (Made(bunch.id),)), None
    return _stitch(stitch, 1), count


def _bunch(cursor: Cursor, name: str) -> Head:
    for defined, contents in cursor.context.bunches:
        if defined == name:
            return Head(name, tuple(Made(kind, number) for kind, number in contents))
    if name not in BUNCH_BY_ID:
        return Head(name, (Made(name),))
    told = _told_makes(cursor, name)
    if told is not None:
        return Head(name, told)
    if name == "picot":
        return Head(name, (Made("ch", 3),), takes=0)
    if BUNCH_BY_ID[name].stitches is None and not any(note.code == "undefined-group" for note in cursor.notes):
        usual = " and ".join(f"{number} {kind}" for kind, number in BUNCH_BY_ID[name].usual)
        message = f"'{name}' is not defined, and was taken as {usual} in one stitch"
        span = cursor.span(cursor.place - 1)
        cursor.notes.append(warning("undefined-group", message, span, f"define it: {name} = {usual} in one st"))
    return Head(name, tuple(Made(kind, number) for kind, number in BUNCH_BY_ID[name].usual))


def _told_makes(cursor: Cursor, name: str) -> tuple[Made, ...] | None:
    """ "shell of 5 dc", "V-st (dc, ch 1, dc) in next st": what the group is, said where it is used."""
    single = BUNCH_BY_ID[name].stitches == 1
    if cursor.sees(T.OF, T.NUMBER) and cursor.peek(2) is T.STITCH:
        number, stitch = cursor.token(1).number, cursor.token(2).name
        cursor.place += 3
        return (Made(name),) if single else (Made(stitch, number),)
    if not cursor.at(T.OPEN):
        return None
    close = cursor.closing(cursor.place)
    inner = cursor.tokens[cursor.place + 1 : close]
    after = cursor.tokens[close + 1].kind if close + 1 < len(cursor.tokens) else None
    if after not in (T.IN, T.NEXT, T.EACH, None, T.COMMA) or not all(t.kind in _IN_A_BUNCH for t in inner):
        return None
    makes = _plain_makes(inner)
    if not makes:
        return None
    cursor.place = close + 1
    return (Made(name),) if single else makes


_IN_A_BUNCH = (T.NUMBER, T.STITCH, T.CHAIN, T.COMMA, T.AND)


def _plain_makes(inner: list[Token]) -> tuple[Made, ...]:
    """ "2 dc, ch 1, 2 dc" as what it makes; empty if it is not as simple as that."""
    makes: list[Made] = []
    number = 1
    for index, token in enumerate(inner):
        if token.kind is T.NUMBER:
            if index and inner[index - 1].kind is T.CHAIN:
                makes[-1] = replace(makes[-1], count=token.number)
            else:
                number = token.number
        elif token.kind is T.STITCH:
            makes.append(Made(token.name, number))
            number = 1
        elif token.kind is T.CHAIN:
            makes.append(Made("ch", number))
            number = 1
    return tuple(makes) if any(not made.is_chain for made in makes) else ()


def _where(cursor: Cursor) -> tuple[Where | None, bool]:
    if (
        cursor.at(T.IN)
        and cursor.peek(1) is T.WORD
        and cursor.token(1).text in _RING_LETTERS
        and _may_be_ring(cursor)
    ):
        cursor.place += 2
        return Where(Exactly(0), Into.RING), False
    if cursor.accept(T.THERE):
        return Where(Exactly(1)), False
    if begins_place(cursor) or cursor.at(T.RING, T.TOP):
        return place(cursor), False
    if cursor.at(T.EVENLY):
        cursor.take()
    if cursor.at(T.EVEN):
        cursor.take()
        rest(cursor)
        return None, True
    far = rest(cursor)
    if far is not None:
        return Where(far), False
    if cursor.at(T.REMAINING) and cursor.peek(1) in (None, T.COMMA, T.DOT, T.CLOSE):
        cursor.take()
        return Where(Rest(), each=True), False
    return None, False


_RING_LETTERS = ("mc", "ma", "mcr", "ml")


def _may_be_ring(cursor: Cursor) -> bool:
    """ "in MC" is the magic circle in a round that starts there, unless the pattern has a yarn of that name."""
    text = cursor.token(1).text
    return text not in cursor.context.colours and not any(
        t.kind in (T.EACH, T.NEXT, T.AROUND, T.REPEAT) for t in cursor.tokens
    )


def _tog_over(cursor: Cursor, head: Head, where: Where) -> tuple[Head, Where]:
    """ "sc next 2 sts together": a decrease over so many."""
    over = where.bases.count if isinstance(where.bases, Exactly) else 2
    made = head.makes[0]
    return _together(made.kind, max(over, 2)), Where(Exactly(1), loop=where.loop)


def _combined(act: Act, head: Head, count: int | None, where: Where | None, words: str, behind: bool) -> list[Item]:
    """The items that a stitch with its count and place stands for."""
    if where is None:
        return _without_place(act, head, count, "" if behind else words)
    if where.into is not Into.STITCH and head.takes <= 1:
        act = replace(act, into=where.into, onto=where.onto)
    if where.from_hook:
        act = replace(act, into=Into.CHAIN, remark=f"hook {where.from_hook}")
    if where.into is Into.PART and isinstance(where.bases, Exactly):
        return [Some(act, Exactly(max(count or 1, where.bases.count)))]
    if where.into is Into.RING:
        return [Some(replace(act, takes=0, into=Into.RING), Exactly(count or 1))]
    if where.same:
        remark = "space" if where.into is Into.SPACE else ""
        return [Some(_many(replace(act, takes=0, into=Into.SAME, remark=remark), head, count or 1))]
    if where.every > 1:
        return _every(act, head, count, where)
    if head.takes > 1:
        return _decreases(act, head, count, where, words)
    if not head.single:
        return _several(act, count, where)
    if isinstance(where.bases, Rest):
        return _to_the_end(act, head, count, where, words)
    return _into_some(act, head, count, where, words)


def _without_place(act: Act, head: Head, count: int | None, words: str) -> list[Item]:
    if count is None:
        return [Some(act)]
    plain = Some(act, Exactly(count))
    if words and head.single and count in (2, 3) and act.name not in ("sl st",):
        why = f"read '{words}' as {count} in one stitch, because that uses the stitches that are there"
        return [Choice(words, (Option((plain,)), Option((Some(_many(act, head, count)),), why, rescue=True)))]
    return [plain]


def _many(act: Act, head: Head, number: int) -> Act:
    """So many of the stitch into one base."""
    if number == 1:
        return act
    if not head.single:
        return replace(act, makes=act.makes * number)
    made = act.makes[0]
    return replace(act, name="inc" if number < 4 else "in one", makes=(replace(made, count=number),))


def _every(act: Act, head: Head, count: int | None, where: Where) -> list[Item]:
    """ "2 sc in every 4th st" is three plain and one increase; "sc in every other st" passes one over."""
    n = where.every
    if head.takes > 1:
        plain = replace(act, name=act.makes[0].kind or "sc", takes=1)
        between = n - head.takes
        before = (Some(plain, Exactly(between)),) if between > 0 else ()
        return [Group((*before, Some(act)), where.bases, act.span)]
    number = count or 1
    if head.single and number == 1:
        skip = Act("sk", Role.SKIP, (), 1, span=act.span)
        return [Group((Some(act), Some(skip, Exactly(n - 1))), where.bases, act.span)]
    plain = replace(act, name=act.makes[0].kind or "sc", makes=(replace(act.makes[0], count=1),))
    increase = _many(act, head, number) if head.single else act
    with_plain = Group((Some(plain, Exactly(n - 1)), Some(increase)), where.bases, act.span)
    skip = Act("sk", Role.SKIP, (), 1, span=act.span)
    skipping = Group((Some(increase), Some(skip, Exactly(n - 1))), where.bases, act.span)
    why = f"read as worked into every {n}th stitch only, the others passed over"
    return [Choice(f"every {act.span}", (Option((with_plain,)), Option((skipping,), why, rescue=True)))]


def _decreases(act: Act, head: Head, count: int | None, where: Where, words: str) -> list[Item]:
    if isinstance(where.bases, Rest):
        return [Some(act, where.bases)]
    over = where.bases.count
    if where.into is Into.SPACE or (head.name != "dec" and not where.told and over == 1 and count is None):
        in_one = Some(replace(act, takes=1, into=where.into))
        across = Some(act)
        if where.into is Into.SPACE:
            return [in_one]
        why = f"read '{words}' as taking one stitch"
        return [Choice(words, (Option((across,)), Option((in_one,), why, rescue=True)))]
    if count is not None:
        return [Some(act, Exactly(count))]
    if where.each and over > 1:
        return [Some(act, Exactly(max(1, over // head.takes)))]
    if over > head.takes and over % head.takes == 0:
        several = Some(act, Exactly(over // head.takes))
        why = f"read '{words}' as {over} decreases"
        return [Choice(words, (Option((several,)), Option((Some(act, Exactly(over)),), why, rescue=True)))]
    if over > head.takes:
        return [Some(replace(act, takes=over))]
    return [Some(act)]


def _several(act: Act, count: int | None, where: Where) -> list[Item]:
    """Increases and named groups: one a base."""
    if isinstance(where.bases, Rest):
        if count and count > 1 and not where.each:
            return [Some(act, Exactly(count))]
        return [Some(act, where.bases)]
    over = where.bases.count
    return [Some(act, Exactly(max(over, count or 1)))]


def _to_the_end(act: Act, head: Head, count: int | None, where: Where, words: str) -> list[Item]:
    each = Some(_many(act, head, count or 1), where.bases)
    if where.also_spaces:
        each = Some(replace(each.act, into=Into.STITCH, remark="also spaces"), where.bases)
    if count is None or count == 1 or where.each:
        return [each]
    whole = Some(act, Exactly(count))
    why = f"read '{words}' as {count} stitches in all"
    if count >= _TALL_GROUP:
        return [Choice(words, (Option((whole,)), Option((each,), "", rescue=True)))]
    return [Choice(words, (Option((each,)), Option((whole,), why, rescue=True)))]


def _into_some(act: Act, head: Head, count: int | None, where: Where, words: str) -> list[Item]:
    assert isinstance(where.bases, Exactly)
    over = where.bases.count
    if count is None or count == 1:
        return [Some(act, Exactly(over))]
    into_each = Some(_many(act, head, count), Exactly(over))
    if over == 1 or where.each:
        return [into_each]
    spread = Some(act, Exactly(count))
    if over == count:
        why = f"read '{words}' as {count} in each of them"
        return [Choice(words, (Option((spread,)), Option((into_each,), why, rescue=True)))]
    return [into_each]


def _oftener(items: list[Item], times: int, where: Where | None) -> list[Item]:
    """ "sc twice in next st" and "in next st twice" fill one place; "inc x 6" and "2 sc in next st, 6 times" go on."""
    if len(items) != 1:
        return [Group(tuple(items), Exactly(times))]
    item = items[0]
    if not isinstance(item, Some) or not isinstance(item.times, Exactly):
        return [Group((item,), Exactly(times))]
    act = item.act
    one_place = where is not None and not where.told and item.times.count == 1 and times <= 3
    if one_place and act.role is Role.WORK and len(act.makes) == 1 and act.makes[0].count == 1 and act.takes <= 1:
        return [Some(replace(act, name="inc", makes=(replace(act.makes[0], count=times),)))]
    return [Some(act, Exactly(item.times.count * times))]


def skip_phrase(cursor: Cursor) -> list[Item]:
    """SKIP := sk [next | first] [number] [base]"""
    first = cursor.place
    cursor.take()
    cursor.skip(T.OVER)
    number = 1
    where: Where | None = None
    if cursor.at(T.NUMBER):
        number = _count(cursor) or 1
        where = _base_after(cursor)
    elif begins_place(cursor) or cursor.at(T.ORDINAL, T.LAST):
        where = place(cursor)
        number = where.bases.count if isinstance(where.bases, Exactly) else 1
    else:
        where = _base_after(cursor)
    into = where.into if where is not None else Into.STITCH
    onto = where.onto if where is not None else ""
    act = Act("sk", Role.SKIP, (), 1, into=into, span=cursor.span(first), onto=onto)
    if where is not None and where.first:
        act = replace(act, remark="first")
    times: Times = where.bases if where is not None and isinstance(where.bases, Rest) else Exactly(number)
    return [Some(act, times)]


def _base_after(cursor: Cursor) -> Where | None:
    cursor.skip(T.NEXT)
    return base(cursor, Exactly(1))


def chain_phrase(cursor: Cursor) -> list[Item]:
    """CHAIN := ch [number] | number ch, with what the pattern says of counting it"""
    first = cursor.place
    number = _count(cursor) if cursor.at(T.NUMBER) else None
    cursor.take()
    if number is None and cursor.at(T.NUMBER) and cursor.peek(1) not in (T.TIMES,):
        number = _count(cursor, anywhere=True)
    cursor.skip(T.NOUN)
    act = Act("ch", Role.CHAIN, (Made("ch", number or 1),), 0, into=Into.NOTHING, span=cursor.span(first))
    times = _often(cursor)
    return [Some(act, Exactly(times))]
