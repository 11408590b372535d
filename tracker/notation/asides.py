"""What stands in a round besides stitches: joins, colours, remarks in brackets, sentences for the maker."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import T
from tracker.notation.places import begins_place, place
from tracker.notation.scanner import Token
from tracker.notation.tree import Act, Choice, Colour, Exactly, Group, Into, Item, Made, Option, Role, Some
from tracker.notation.unknown import is_of_other_terms, nearest, unknown

_STOPS = (T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.CLOSE)
_MADE = (T.STITCH, T.INC, T.DEC, T.BUNCH, T.CHAIN, T.POSTED, T.SKIP)
_ITEM_STARTS = (
    *_MADE, T.NUMBER, T.MARK, T.OPEN, T.IN, T.LOOP, T.NEXT, T.REPEAT, T.JOIN, T.WITH, T.CHANGE, T.COLOURED, T.TIMES,
    T.WORK, T.BEGINNING, T.EACH, T.LAST, T.OFTEN, T.THEN,
)  # fmt: skip
_TELLING = frozenset(
    (
        "stuff stuffing insert sew leave fasten add embroider fold flip push pull hold secure keep remember "
        "note thread weave hide tie sewing fill attach pin mark assemble press block finish lightly firmly "
        "eyes eye safety wire if when once before after check adjust tighten see repeat tip don't dont be "
        "these those he she they we hook body head arm arms leg legs ear ears tail part piece pattern photo "
        "picture invisible close flatten cut stuffed beads bead pipe cleaner cardboard felt glue sts optional "
        "careful ready set aside proceed tuck yes no darn pop about apart wrap bring end ends loose long short size row shape"
    ).split()
)


def is_remark_bracket(cursor: Cursor, first: int, close: int) -> bool:
    """Whether the bracket at words `first` to `close` is a remark, a colour or a loop and not stitches."""
    inner = cursor.tokens[first + 1 : close]
    if not inner:
        return True
    if any(token.kind is T.COUNTS for token in inner) or inner[0].text in ("skipped", "missed", "unworked"):
        return True
    if all(token.kind is T.LOOP for token in inner):
        return True
    made = any(token.kind in _MADE for token in inner) or _letters(inner)
    if not made:
        return not any(token.kind is T.TOG for token in inner)
    if inner[-1].text == "made":
        return True
    if inner[0].kind is T.ORDINAL:
        return not any(token.kind in (T.NUMBER, T.IN) for token in inner)
    return inner[0].kind not in _ITEM_STARTS and not (inner[0].kind is T.WORD and inner[0].text in "vaw")


def _letters(inner: list[Token]) -> bool:
    """Letter notation: "(3X, V)"."""
    texts = [token.text for token in inner]
    kinds = {token.kind for token in inner}
    allowed = {T.NUMBER, T.COMMA, T.TIMES, T.WORD, T.FILLER, T.PLUS}
    return (
        kinds <= allowed and all(t in "xvaw,+" or t.isdigit() for t in texts) and (T.COMMA in kinds or "v" in texts)
    )


def bracket_remark(cursor: Cursor, found: list[Item], behind_chain: bool = False) -> None:
    """REMARK := '(' counts as dc | does not count | BLO | colour | no stitches ')', or bare "counts as dc" """
    if cursor.at(T.OPEN):
        first = cursor.place
        close = cursor.closing(first)
        stands_for = [t.kind for t in cursor.tokens[first + 1 : close]] == [T.STITCH]
        if not is_remark_bracket(cursor, first, close) and not (behind_chain and stands_for):
            return
        cursor.take()
        _inside_remark(cursor, found, close)
        cursor.place = close + 1
        return
    ahead = 1 if cursor.at(T.COMMA, T.DASH) else 0
    if cursor.peek(ahead) is T.COUNTS or (cursor.peek(ahead) is T.NOT and cursor.peek(ahead + 1) is T.COUNTS):
        cursor.place += ahead
        end = cursor.place
        while end < len(cursor.tokens) and cursor.tokens[end].kind not in (*_STOPS, T.OPEN, T.MARK):
            end += 1
        _inside_remark(cursor, found, end)
        cursor.place = max(cursor.place, end)


def _inside_remark(cursor: Cursor, found: list[Item], close: int) -> None:
    inner = cursor.tokens[cursor.place : close]
    kinds = [token.kind for token in inner]
    if (
        {T.COUNTS, T.EQUALS} & set(kinds)
        or (T.NOT in kinds and {T.STITCH, T.NOUN} & set(kinds))
        or _stands_for_stitch(found, kinds)
    ):
        _counting(cursor, found, close)
    elif kinds == [T.LOOP]:
        loop = inner[0].value
        if found and isinstance(found[-1], Some):
            found[-1] = replace(found[-1], act=replace(found[-1].act, loop=loop))  # type: ignore[arg-type]
        else:
            cursor.loop = loop  # type: ignore[assignment]
    elif _is_colour(cursor, inner):
        found.append(Colour(_key(inner), cursor.span(cursor.place, close)))
    else:
        cursor.remarks.append(" ".join(token.text for token in inner))


def _stands_for_stitch(found: list[Item], kinds: list[T]) -> bool:
    """ "beg ch-3 (is first dc)": a chain with a stitch named behind it."""
    last = found[-1] if found else None
    chain = isinstance(last, Some) and last.act.role is Role.CHAIN
    return chain and T.STITCH in kinds and all(kind in (T.ORDINAL, T.STITCH, T.AS) for kind in kinds)


def _is_colour(cursor: Cursor, inner: list[Token]) -> bool:
    kinds = [token.kind for token in inner]
    if not kinds or any(kind not in (T.COLOURED, T.WORD, T.WITH, T.MARKER, T.IN, T.CHANGE) for kind in kinds):
        return False
    words = [token.text for token in inner if token.kind in (T.COLOURED, T.WORD)]
    if words in (["rs"], ["ws"]):
        return False
    return T.COLOURED in kinds or (len(words) == 1 and (len(words[0]) <= 2 or words[0] in cursor.context.colours))


def _key(inner: list[Token]) -> str:
    generic = ("color", "colour", "yarn", "col", "yarns", "thread", "colors", "colours")
    words = [t.text for t in inner if t.kind in (T.COLOURED, T.WORD, T.MARKER)]
    named = [word for word in words if word not in generic]
    return " ".join(named or words)


def _counting(cursor: Cursor, found: list[Item], close: int) -> None:
    """Whether the chain before counts, and as what: "counts as dc", "counts as dc and ch 1", "does not count"."""
    inner = cursor.tokens[cursor.place : close]
    kinds = [token.kind for token in inner]
    denied = T.NOT in kinds or any(token.text in ("no", "without", "neither") for token in inner)
    after = inner[kinds.index(T.COUNTS) :] if T.COUNTS in kinds else []
    stitches = [token.name for token in after or inner if token.kind is T.STITCH]
    extra = 0
    for index, token in enumerate(after):
        if token.kind is T.CHAIN:
            beside = [*after[index + 1 : index + 2], *after[index - 1 : index]]
            extra = next((t.number for t in beside if t.kind is T.NUMBER), 1)
    for index in range(len(found) - 1, -1, -1):
        item = found[index]
        if isinstance(item, Some) and item.act.role is Role.CHAIN:
            word = "never" if denied else f"counts {stitches[0] if stitches else ''} {extra}"
            found[index] = replace(item, act=replace(item.act, remark=word))
            return
        if isinstance(item, Some) and item.act.remark.startswith("hook"):
            found[index] = replace(
                item, act=replace(item.act, remark=f"{item.act.remark} {'never' if denied else 'counts'}")
            )
            return
    cursor.remarks.append("counts: never" if denied else "counts: yes")


def join(cursor: Cursor) -> list[Item]:
    """JOIN := join [colour] [with sl st] [to place]; "join with sc in any st" makes that stitch"""
    first = cursor.place
    cursor.take()
    found: list[Item] = []
    ring = False
    stitch: str | None = None
    saw_colour = False
    while not cursor.finished and not cursor.at(*_STOPS, T.OPEN, T.MARK, T.REPEAT, T.AND, T.THEN):
        if cursor.at(T.WITH):
            cursor.take()
            continue
        if cursor.at(T.COLOURED) or (cursor.at(T.WORD) and not saw_colour and _short_key(cursor)):
            start = cursor.place
            tokens = [cursor.take()]
            while cursor.at(T.COLOURED, T.WORD) and len(tokens) < 4:
                tokens.append(cursor.take())
            found.append(Colour(_key(tokens), cursor.span(start)))
            saw_colour = True
            continue
        if cursor.at(T.RING):
            ring = True
        if cursor.at(T.STITCH) and cursor.token().value != "sl st" and stitch is None and _is_standing(cursor):
            stitch = cursor.take().name
            continue
        if cursor.at(T.NUMBER) and cursor.peek(1) in _MADE and cursor.peek(-1) not in (T.CHAIN, T.OF):
            break
        cursor.take()
    name = "join ring" if ring else "join"
    if stitch is not None:
        act = Act(stitch, Role.WORK, (Made(stitch),), 1, span=cursor.span(first))
        return [*found, Some(act)]
    return [Some(Act(name, Role.STEP, into=Into.NOTHING, span=cursor.span(first))), *found]


def _short_key(cursor: Cursor) -> bool:
    text = cursor.token().text
    return len(text) <= 2 or text in cursor.context.colours or (cursor.peek(-1) is T.COLOURED)


def _is_standing(cursor: Cursor) -> bool:
    """ "join with sc in ...": a stitch made in joining, told by the WITH before it."""
    ahead = -1
    while cursor.peek(ahead) in (T.BEGINNING, T.NUMBER, T.FILLER):
        ahead -= 1
    return cursor.peek(ahead) is T.WITH


def colour_of(cursor: Cursor, found: list[Item]) -> bool:
    """COLOUR := with B | change to B [in last st] | in B | B: ; taken if one stands here."""
    first = cursor.place
    if cursor.at(T.CHANGE, T.WITH) and cursor.peek(1) in (
        T.COLOURED,
        T.WORD,
        T.TO,
        T.MARKER,
        T.IN,
        T.BEGINNING,
    ):
        trigger = cursor.take()
        cursor.skip(T.TO)
        if trigger.kind is T.WITH and not _names_colour(cursor):
            cursor.place = first
            return False
        return _colour_named(cursor, found, first, changes=trigger.kind is T.CHANGE)
    if cursor.at(T.CHANGE) and cursor.peek(1) in (None, *_STOPS):
        cursor.take()
        return True
    if cursor.at(T.IN) and cursor.peek(1) in (T.COLOURED, T.WORD):
        cursor.take()
        if not _names_colour(cursor):
            cursor.place = first
            return False
        behind = (
            bool(found)
            and isinstance(found[-1], Some | Choice | Group)
            and cursor.tokens[first - 1].kind not in _STOPS
        )
        start = cursor.place
        tokens = [cursor.take()]
        while cursor.at(T.COLOURED):
            tokens.append(cursor.take())
        colour = Colour(_key(tokens), cursor.span(start))
        found.insert(len(found) - 1 if behind else len(found), colour)
        return True
    if cursor.at(T.COLOURED, T.WORD) and _names_colour(cursor):
        return _colour_named(cursor, found, first, changes=False)
    return False


def _names_colour(cursor: Cursor) -> bool:
    if cursor.at(T.COLOURED, T.MARKER):
        return True
    text = cursor.token().text if not cursor.finished else ""
    if text in cursor.context.colours:
        return True
    return len(text) == 1 or text in (
        "mc",
        "cc",
        "ca",
        "cb",
        "bc",
        "cc1",
        "cc2",
        "main",
        "contrast",
        "contrasting",
    )


def _colour_named(cursor: Cursor, found: list[Item], first: int, *, changes: bool) -> bool:
    start = cursor.place
    tokens: list[Token] = []
    while cursor.at(T.COLOURED, T.WORD, T.MARKER, T.BEGINNING, T.NUMBER) and len(tokens) < 4:
        if cursor.at(T.NUMBER) and not (tokens and cursor.peek(1) in (None, *_STOPS, T.IN, T.COLON)):
            break
        tokens.append(cursor.take())
    if not tokens:
        cursor.place = first
        return False
    colour = Colour(_key(tokens), cursor.span(start))
    if changes and cursor.at(T.IN) and begins_place(cursor):
        found.append(_changing_in(cursor, found, colour, first))
        return True
    if changes:
        while not cursor.finished and not (
            cursor.at(*_STOPS, T.OPEN, T.MARK, T.AND) or (cursor.at(T.NUMBER) and cursor.peek(1) in _MADE)
        ):
            cursor.take()
    found.append(colour)
    return True


def _changing_in(cursor: Cursor, found: list[Item], colour: Colour, first: int) -> Item:
    """ "change to B in last st": the last stitch may be among those named before, or be one more."""
    place(cursor)
    last = next((item for item in reversed(found) if isinstance(item, Some) and item.act.role is Role.WORK), None)
    if last is None or last.act.takes != 1:
        return colour
    one_more = Some(replace(last.act, span=cursor.span(first), remark=""), Exactly(1))
    why = "read 'in last st' as one more stitch, because that uses the stitches that are there"
    return Choice("change in last", (Option((colour,)), Option((one_more, colour), why, rescue=True)))


def aside(cursor: Cursor, found: list[Item], until: int) -> bool:
    """ "other side of ch", "leaving last 3 sts unworked", "for 4 rounds", stray totals: taken if one stands here."""
    first = cursor.place
    if cursor.at(T.SIDE):
        cursor.take()
        cursor.skip(T.OF, T.CHAIN)
        found.append(Some(Act("other side", Role.STEP, into=Into.NOTHING, span=cursor.span(first))))
        return True
    if cursor.at(T.OMIT) and cursor.peek(1) in (T.LAST, T.REMAINING, T.NUMBER):
        return _unworked(cursor, found)
    if cursor.at(T.NOT) and cursor.peek(1) is T.COUNTS:
        _counting(cursor, found, _sentence(cursor))
        cursor.place = _sentence(cursor)
        return True
    if cursor.at(T.COUNTS):
        _counting(cursor, found, _sentence(cursor))
        cursor.place = _sentence(cursor)
        return True
    if cursor.at(T.IN) and cursor.peek(1) in (T.NUMBER, T.NEXT, T.AGAIN, T.ONGOING, None):
        cursor.take()
        cursor.skip(T.NEXT, T.NUMBER, T.ROUND, T.AGAIN, T.ONGOING)
        return True
    if cursor.sees(T.NUMBER, T.ROUND) or cursor.at(T.TOTAL, T.EVENLY, T.AROUND, T.MARKER, T.TOP, T.BASE, T.ROUND):
        cursor.place = max(_sentence(cursor), first + 1)
        cursor.remarks.append(" ".join(t.text for t in cursor.tokens[first : cursor.place]))
        return True
    if cursor.sees(T.SAME, T.WORD) and cursor.peek(2) in _STOPS:
        cursor.place += 2
        return True
    if cursor.at(T.SAME) and T.ROUND in [t.kind for t in cursor.tokens[first : _sentence(cursor)]]:
        cursor.place = _sentence(cursor)
        return True
    if cursor.at(T.ALL) and cursor.peek(1) is T.COLOURED:
        cursor.take()
        return True
    if cursor.sees(T.NOUN, T.NUMBER):
        cursor.take()
        return _plain_count(cursor, found)
    if cursor.sees(T.NUMBER, T.NOUN) and not cursor.sees(T.NUMBER, T.NOUN, T.TOG):
        return _plain_count(cursor, found)
    return False


def _plain_count(cursor: Cursor, found: list[Item]) -> bool:
    """ "28 sts round": so many of the stitch of the line."""
    first = cursor.place
    number = cursor.number()
    cursor.skip(T.NOUN)
    cursor.skip(T.AROUND, T.ROUND)
    act = Act("", Role.WORK, (Made(""),), 1, loop=cursor.loop, span=cursor.span(first))
    found.append(Some(act, Exactly(number)))
    return True


def _unworked(cursor: Cursor, found: list[Item]) -> bool:
    """ "leaving last 3 sts unworked": passed over, so that the round still accounts for them."""
    first = cursor.place
    cursor.take()
    number = 0
    while not cursor.finished and not cursor.at(*_STOPS, T.OPEN):
        token = cursor.take()
        if token.kind is T.NUMBER:
            number = token.number
        elif token.kind is T.LAST and number == 0:
            number = 1
    if number and cursor.tokens[cursor.place - 1].kind is T.LEFT:
        found.append(Some(Act("leave", Role.SKIP, (), 1, span=cursor.span(first)), Exactly(number)))
    return True


def _sentence(cursor: Cursor) -> int:
    """The number of the word after this clause."""
    end = cursor.place
    while end < len(cursor.tokens) and cursor.tokens[end].kind not in (*_STOPS, T.OPEN, T.MARK):
        end += 1
    return end


def sentence_end(cursor: Cursor, until: int, *, anything: bool = False) -> None:
    """After "fasten off" and the like the clause may say more: kept as a remark, unless it makes stitches."""
    end = min(_sentence(cursor), until)
    words = cursor.tokens[cursor.place : end]
    if not anything and any(token.kind in _MADE for token in words):
        return
    if end > cursor.place:
        cursor.remarks.append(" ".join(t.text for t in cursor.tokens[cursor.place : end]))
    cursor.place = end


def remark(cursor: Cursor, until: int) -> None:
    """A sentence for the maker is kept as a remark; a word that should have been a stitch is refused."""
    first = cursor.place
    token = cursor.token()
    telling = token.kind is T.WORD and token.text in _TELLING
    end = first
    stops = (T.DOT, T.NEWLINE, T.SEMI, T.CLOSE) if telling else (*_STOPS, T.OPEN, T.MARK)
    while end < min(len(cursor.tokens), until) and cursor.tokens[end].kind not in stops:
        end += 1
    if telling:
        end = _before_stitches(cursor, first, end)
    clause = cursor.tokens[first:end]
    if any(t.kind is T.SIDE for t in clause):
        cursor.place = first + next(i for i, t in enumerate(clause) if t.kind is T.SIDE)
        return
    makes = any(t.kind in (T.STITCH, T.INC, T.DEC, T.BUNCH, T.CHAIN, T.POSTED) for t in clause[1:])
    near = nearest(token.text, cursor.context.terms)
    foreign = [
        i for i, t in enumerate(clause) if t.kind is T.WORD and is_of_other_terms(t.text, cursor.context.terms)
    ]
    if foreign:
        raise unknown(cursor, first + foreign[0], None)
    words = [i for i, t in enumerate(clause) if t.kind is T.WORD]
    counts = any(t.kind in _MADE for t in clause) or token.kind is T.NUMBER
    if token.kind is not T.WORD and (counts or not words):
        index = first + (words[0] if words else 0)
        raise unknown(cursor, index, nearest(cursor.tokens[index].text, cursor.context.terms))
    if not telling and (makes or len(clause) <= 1 or (near and len(clause) <= 3)):
        raise unknown(cursor, first, near)
    cursor.remarks.append(" ".join(t.text for t in clause))
    cursor.place = max(end, first + 1)


def _before_stitches(cursor: Cursor, first: int, end: int) -> int:
    """A sentence that goes on to stitches ("hold the arm to the body, 4 sc ...") ends at the comma before them."""
    for index in range(first, end):
        counted = cursor.tokens[index].kind is T.NUMBER and index + 1 < end and cursor.tokens[index + 1].kind in _MADE
        if counted or (
            cursor.tokens[index].kind in _MADE and index + 1 < end and cursor.tokens[index + 1].kind is T.NUMBER
        ):
            stops = [i for i in range(first, index) if cursor.tokens[i].kind in (T.COMMA, T.COLON, T.AND, T.THEN)]
            return stops[-1] if stops else end
    return end
