"""What is made, before it is known where: "sc", "fpdc", "inc", "dc3tog", "2tog", "shell of 5 dc"."""

from __future__ import annotations

from tracker.diagnostics import warning
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Made, Technique
from tracker.notation.bunches import BUNCH_BY_ID, PICOT
from tracker.notation.glossary import BY_ID, abbreviation
from tracker.notation.instructions import MAIN, Head, decrease, increase, stitch, together
from tracker.notation.parser import quantity as counts
from tracker.notation.token_kinds import HEADS, WORKED, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token
from tracker.notation.yarn_names import is_among_yarns

_STITCHES_EVENLY = PhrasePattern("NUMBER STITCH EVENLY")
""" "dec 6 sc evenly around" """

_STITCH_EVENLY = PhrasePattern("STITCH EVENLY")
""" "inc sc evenly around" """

_ONE_NAMED = PhrasePattern("NUMBER [STITCH NOUN] ([OVER IN NEXT EVENLY] | EACH (END | (?= AROUND) ITS_END))")
""" "dec 1 sc over next 2 sc", "dec 1 sc each end" """

_SO_MANY_TOGETHER = PhrasePattern("NUMBER NOUN? TOG")
""" "sc3tog", "sc 3 sts together" """

_SO_MANY_IN_ONE = PhrasePattern("NUMBER INC")
""" "dc2inc" """

_DOUBLE_EACH = PhrasePattern("(?= STITCH) DOUBLE ([EACH ALL] | ORDINAL ([COMMA AND]+ ORDINAL)* NOUN)")
""" "double every 2nd st", "double all sts", "double the 1st and the 5th st": an increase there"""

_DOUBLE_NEXT = PhrasePattern("(?= STITCH) DOUBLE NEXT NOUN (?! NUMBER)")
""" "1 hdc, double the next st": so too where other stitches of the line have their short names"""

_OF_SO_MANY = PhrasePattern("((?= TOTAL) MADE_BEFORE)? [OF FROM WITH] NUMBER STITCH")
""" "shell of 5 dc in next st", "bobble made from 4 dc" """


_LETTERS = {"x": stitch("sc"), "v": increase("sc"), "a": together("sc", 2), "w": increase("sc", 3)}
"""Letter notation, "3X, V": a single crochet, an increase, a decrease, three in one (common practice, no source)."""


def is_head(cursor: Cursor, ahead: int) -> bool:
    """Whether the word `ahead` words on is what a stitch phrase makes; "tog" stands behind a number."""
    kind = cursor.peek(ahead)
    if kind is T.TOG or (kind is T.NOUN and cursor.peek(ahead + 1) is T.TOG):
        return ahead > 0
    return kind in HEADS or _is_letter(cursor, ahead)


def _is_letter(cursor: Cursor, ahead: int) -> bool:
    """Whether a letter of letter notation stands there: between commas, or with a count before it."""
    if cursor.peek(ahead) not in (T.TIMES, T.WORD, T.FILLER) or cursor.token(ahead).text not in _LETTERS:
        return False
    text = cursor.token(ahead).text
    if is_among_yarns(text, cursor.tokens, cursor.context.colours):
        return False
    after = cursor.peek(ahead + 1)
    if text == "a" and ahead == cursor.place == 0 and after is T.COMMA and _is_in_words(cursor):
        return False
    if after is None and _has_letters(cursor):
        return True
    if text == "x" and after is None and T.STITCH in {token.kind for token in cursor.tokens}:
        return False  # "sc, inc - 6x": how often, as the plain stitch has its name
    if text == "x" and after is T.NUMBER:
        return False
    counted = ahead > 0 and cursor.peek(ahead - 1) is T.NUMBER
    first_and_placed = after is T.IN and ahead == 1 and cursor.place == 0
    ends = first_and_placed or after in (None, T.COMMA, T.CLOSE, T.PLUS, T.MARK) or (after is T.NUMBER and counted)
    if counted and after in (T.DOT, T.JOIN, T.TURN, T.STEP):
        return HEADS.isdisjoint(token.kind for token in cursor.tokens)
    return ends and (counted or text in "vw" or after is not None)


def _is_in_words(cursor: Cursor) -> bool:
    """Whether stitches are written as words throughout: in "A, 4 sc in mr" the letter is the yarn."""
    others = cursor.tokens[1:]
    return any(t.kind in HEADS for t in others) and not any(t.text in _LETTERS and t.text != "x" for t in others)


def _has_letters(cursor: Cursor) -> bool:
    """Whether the line is in letter notation elsewhere, so that a letter at its end is one too."""
    return any(t.text in "vaw" or (t.text == "x" and t.glued) for t in cursor.tokens[:-1] if len(t.text) == 1)


def head(cursor: Cursor, count: int | None) -> tuple[Head, int | None]:
    """HEAD := stitch [n] tog | stitch BUNCH | stitch | n tog | inc | dec | BUNCH | letter, and its count

    The count before "tog" is no count but tells how many are closed together. Where the place comes at once ("2 in
    next st") the stitch of the line is meant.
    """
    if cursor.at(T.IN, T.EACH):
        return stitch(MAIN), count
    token = cursor.take()
    if token.kind is T.NOUN and cursor.at(T.TOG):
        token = cursor.take()  # "6 x 2 sts together"
    if token.kind is T.TOG and count is not None:
        return together(MAIN, count), None
    if token.kind in (T.TIMES, T.WORD, T.FILLER) and token.text in _LETTERS:
        return _LETTERS[token.text], count
    if cursor.begins(_DOUBLE_EACH, cursor.place - 1) or _doubles_next(cursor, cursor.place - 1):
        return increase(MAIN), count
    if token.kind is T.STITCH:
        return _of_stitch(cursor, token.name, count)
    if token.kind is T.POSTED:
        kind, loop = token.posted
        posted, count = _of_stitch(cursor, kind, count)
        return replace(posted, loop=loop), count
    if token.kind in (T.INC, T.DEC):
        if count is None and cursor.begins(_STITCHES_EVENLY):
            count = counts.count(cursor)
        if cursor.begins(_MADE_OF):
            cursor.take()
            return (increase if token.kind is T.INC else decrease)(cursor.take().name), count
        named = cursor.take().name if cursor.begins(_STITCH_EVENLY) else _one_named(cursor)
        kind = str(token.value or named or MAIN)
        return (increase if token.kind is T.INC else decrease)(kind), count
    if token.kind is T.BUNCH:
        group = _bunch(cursor, token.name)
        if group.single and cursor.at(T.INC, T.DEC) and not cursor.token().value:
            return (increase if cursor.take().kind is T.INC else decrease)(token.name), count
        return group, count
    message = f"expected a stitch before '{token.text}'"
    raise cursor.fail("no-stitch", message, cursor.span(cursor.place - 1), "name the stitch")


_MADE_OF = PhrasePattern("[FROM OF] STITCH (STOPS | $)")
""" "7 inc from sc": the stitch that increases are made of, in translated patterns"""


def _doubles_next(cursor: Cursor, at: int) -> bool:
    """Whether word number `at` says that the next stitch is doubled, and is no stitch itself: nobody writes one name
    short and the other long."""
    return cursor.begins(_DOUBLE_NEXT, at) and any(
        word.kind is T.STITCH and len(word.text) <= _LONGEST_SHORT for word in cursor.tokens
    )


_LONGEST_SHORT = 4
"""Letters of the short name of a stitch, "hdtr"."""


def _one_named(cursor: Cursor) -> str:
    """1 (stitch | st), between "dec" and its place, as in "dec 1 sc over next 2 sc": the stitch, if it is named"""
    if not cursor.begins(_ONE_NAMED) or cursor.token().number != 1:
        return ""
    cursor.take()
    named = cursor.take()
    return named.name if named.kind is T.STITCH else ""


def _of_stitch(cursor: Cursor, kind: str, count: int | None) -> tuple[Head, int | None]:
    """stitch n [sts] tog | [n] stitch tog | [n] stitch BUNCH | stitch"""
    if cursor.begins(_SO_MANY_TOGETHER):
        over = counts.times(cursor)
        cursor.skip(T.NOUN)
        cursor.take()
        return together(kind, over), count
    if (
        cursor.begins(_SO_MANY_IN_ONE)
        and cursor.token().glued
        and cursor.token(1).glued
        and cursor.token().number > 1
    ):
        number = counts.times(cursor)
        cursor.take()
        return increase(kind, number), count  # "dc2inc"
    if cursor.accept(T.TOG):
        return together(kind, count or 2), None
    if cursor.at(T.BUNCH) and cursor.token().value != "v-st":
        return _bunch_of(cursor, kind, count), None
    return stitch(kind), count


def _bunch_of(cursor: Cursor, kind: str, count: int | None) -> Head:
    """[n] stitch BUNCH: "5 dc shell" tells what is in it, "3 dc cluster" is one stitch"""
    name = cursor.take().name
    if name not in BUNCH_BY_ID:
        return _bunch(cursor, name)
    if BUNCH_BY_ID[name].stitches is None:
        return _named_group(name, (Made(kind, count or 5),))
    return _named_group(name, (Made(name, legs=(kind, count or 0)),))


def _bunch(cursor: Cursor, name: str) -> Head:
    """BUNCH := shell [CONTENTS], as the pattern defines it, as it is told here, or as it usually is"""
    own = next((word for word in cursor.context.words if word.phrase == name and not word.meaning), None)
    if own is not None:
        makes = (Made(name, own.leaves),) if own.leaves else (Made("ch", 1),)
        return replace(_named_group(name if own.leaves else PICOT, makes), takes=own.takes)
    for defined, contents in cursor.context.bunches:
        if defined == name == PICOT:  # it hangs on the stitch below, whatever closes it
            length = sum(number for kind, number in contents if kind == "chain")
            return replace(_named_group(name, (Made("ch", length or 3),)), takes=0)
        if defined == name:
            return _named_group(name, _completed(cursor, tuple(Made(kind, number) for kind, number in contents)))
    if name not in BUNCH_BY_ID:
        return _named_group(name, (Made(name),))
    named_contents = _contents_named(cursor, name)
    if name == PICOT:
        length = next((made.count for made in named_contents or () if made.is_chain), 3)
        return replace(_named_group(name, (Made("ch", length),)), takes=0)
    if named_contents:
        return _named_group(name, named_contents)
    bunch = BUNCH_BY_ID[name]
    if not bunch.usual:
        span = cursor.span(cursor.place - 1)
        message = f"{_article(name)} {name}: how many places does it take, how many does it leave?"
        example = f"{name} = 1 {abbreviation('dc', cursor.context.terms)}"
        raise cursor.fail("asked-stitch", message, span, f"tell it in a line of its own, such as {example}")
    if bunch.stitches is None:
        _note_assumed(cursor, name)
    usual = _named_group(name, tuple(Made(kind, number) for kind, number in bunch.usual))
    return replace(usual, takes=bunch.takes)


def _completed(cursor: Cursor, makes: tuple[Made, ...]) -> tuple[Made, ...]:
    """What is left of a group to be made where the chain before it stands for its first stitch: "ch 3, complete a
    shell in same sp". All of it for any other."""
    words = cursor.tokens[: cursor.place - 1]
    while words and words[-1].kind in (T.ORDINAL, T.NUMBER):
        del words[-1]
    if not words or words[-1].kind is not T.BEGINNING or words[-1].text != "complete":
        return makes
    made = (at for at in range(len(words) - 1, -1, -1) if words[at].kind in WORKED)
    chain = next(made, 0)
    length = words[chain + 1].number if words[chain].kind is T.CHAIN and words[chain + 1].kind is T.NUMBER else 0
    first = makes[0]
    if first.kind not in BY_ID or not 0 < BY_ID[first.kind].turning_chain <= length:
        return makes
    behind = makes[1:]
    if first.count > 1:
        return (replace(first, count=first.count - 1), *behind)
    besides = length - BY_ID[first.kind].turning_chain
    return behind[1:] if besides and behind[0].is_chain and behind[0].count == besides else behind


def _article(name: str) -> str:
    return "an" if name[0] in "aeiou" else "a"


def _named_group(name: str, makes: tuple[Made, ...]) -> Head:
    """A group; one that is a stitch to be counted, as a bobble is, may be made twice in one place like any stitch."""
    technique = Technique.PICOT if name == PICOT else Technique.GROUP
    return Head(name, makes, technique=technique, single=makes == (Made(name),) and name in BUNCH_BY_ID)


def _note_assumed(cursor: Cursor, name: str) -> None:
    """Once a line: what a group without a definition was taken for."""
    if any(note.code == "undefined-group" for note in cursor.notes):
        return
    terms = cursor.context.terms
    usual = " and ".join(f"{number} {abbreviation(kind, terms)}" for kind, number in BUNCH_BY_ID[name].usual)
    message = f"'{name}' is not defined, and was taken as {usual} in one stitch"
    span = cursor.span(cursor.place - 1)
    cursor.notes.append(warning("undefined-group", message, span, f"define it: {name} = {usual} in one st"))


def _contents_named(cursor: Cursor, name: str) -> tuple[Made, ...]:
    """CONTENTS := of n stitch | '(' n stitch { , n stitch } ')': what the group is here; empty if it is not named"""
    makes: tuple[Made, ...] = ()
    if words := cursor.take_phrase(_OF_SO_MANY):
        makes = (Made(words[-1].name, words[-2].number),)
        if BUNCH_BY_ID[name].stitches == 1:
            return (Made(name, legs=(words[-1].name, words[-2].number or 0)),)
    elif cursor.at(T.OPEN) and BUNCH_BY_ID[name].stitches == 1 and _tells_how(cursor):
        cursor.place = cursor.closing(cursor.place) + 1
        makes = (Made(name),)
    elif cursor.at(T.OPEN):
        close = cursor.closing(cursor.place)
        after = cursor.peek(close + 1 - cursor.place)
        makes = _plainly_made(cursor.inside(cursor.place)) if after in (T.IN, T.NEXT, T.EACH, None, T.COMMA) else ()
        cursor.place = close + 1 if makes else cursor.place
    return (Made(name),) if makes and BUNCH_BY_ID[name].stitches == 1 else makes


def _tells_how(cursor: Cursor) -> bool:
    """ "bobble (5 dc tog in one st) in next st", "bullion (7 wraps) in next st": the bracket tells how it is worked,
    and where it goes follows"""
    after = cursor.peek(cursor.closing(cursor.place) + 1 - cursor.place)
    inner = cursor.inside(cursor.place)
    together = any(token.kind is T.TOG or token.text == "together" for token in inner)
    wound = [token.kind for token in inner] in ([T.NUMBER, T.WORD], [T.NUMBER, T.SPACE])
    return (together or wound) and after in (T.IN, T.NEXT, T.EACH)


def _plainly_made(inner: list[Token]) -> tuple[Made, ...]:
    """ "2 dc, ch 1, 2 dc" as what it makes; empty if it is not as simple as that."""
    makes: list[Made] = []
    number = 1
    for index, token in enumerate(inner):
        if token.kind is T.NUMBER and index and inner[index - 1].kind is T.CHAIN:
            makes[-1] = replace(makes[-1], count=token.number)
        elif token.kind is T.NUMBER:
            number = token.number
        elif token.kind in (T.STITCH, T.CHAIN):
            makes.append(Made("ch" if token.kind is T.CHAIN else token.name, number))
            number = 1
        elif token.kind not in (T.COMMA, T.AND):
            return ()
    return tuple(makes) if any(not made.is_chain for made in makes) else ()
