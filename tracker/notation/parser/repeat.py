"""Repeat clauses: "rep from * around", "repeat 5 more times", "rep ( ) to last 2 sts, end last rep at **"."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    SLIP_STITCH,
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Into,
    Item,
    Option,
    Role,
    Some,
    ToEnd,
    acts,
)
from tracker.notation.instructions import MAIN, is_plain_work, last_act, likeliest, stitch, without_leads
from tracker.notation.parser.join import BY_A_SPACE
from tracker.notation.parser.last_repeat import closing_instead, cut_short, early_end
from tracker.notation.parser.one_place import in_places
from tracker.notation.parser.place import begins_place, place
from tracker.notation.parser.quantity import SO_MANY_TIMES, how_often_repeated, multiplier, repeated, repeated_again
from tracker.notation.token_kinds import BETWEEN_ITEMS, MADE, PAUSES, STOPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern

_PART_NAMED = PhrasePattern(
    """
      DASH MARK
    | [FROM MARK BEGINNING BETWEEN THEN SAME OPEN COLON FILLER ORDINAL]
    | IN (?! [NEXT EACH])
    | (?= WORD) REPEATED_WORDS
    | [TO UNTIL] [MARK OPEN ORDINAL]
    """
)
""" "rep from * to *", "repeat between stars", "repeat instructions in brackets" """

_BRACKET_AHEAD = PhrasePattern(".. [FROM WORK COLON SAME]* OPEN")
""" "repeat (sc, inc) 6 times", "repeat: (sc, inc) 6 times" """

_STAR_AHEAD = PhrasePattern(".. MARK (?! NUMBER [TIMES MORE]) (NUMBER | MADE)")
""" "repeat *2 sc, inc* 6 times", but "repeat * 6 times" looks back"""

BEFORE_REPEAT = PhrasePattern("PAUSES* DASH? (?= REPEAT)")
""" "(2 dc, ch 1, 2 dc). Repeat in next ch-2 sp. Repeat 5 times" """

_FROM_BEGINNING = PhrasePattern(".. FROM BEGINNING")
""" "sc, (inc) twice, repeat from beginning around" """

_FACTOR_IN_BRACKETS_BEFORE = PhrasePattern("(?<= OPEN .. NUMBER CLOSE) | (?<= OPEN NUMBER .. CLOSE)")
""" "4 sc - inc (x 6)" """

_FACTOR_BEFORE = PhrasePattern("(?<= [TIMES MARK] NUMBER) | (?<= NUMBER TIMES)")
""" "4 sc - inc x6", "4 sc - inc 6x", "4 sc, inc *6" """


_BEGINS = PhrasePattern(f"REPEAT | WORK? {SO_MANY_TIMES} FROM ORDINAL? MARK")
""" "rep from * 5 times", "5 times more from *" """

_FROM_WHERE = PhrasePattern(
    "FROM BEGINNING | (?= WORD | BETWEEN) REPEATED_WORDS+"
    " | FROM ORDINAL? MARK ([TO DASH AND UNTIL] ORDINAL? MARK)? | MARK [TO UNTIL] MARK"
)
""" "repeat 5 times from * to *", "repeat 6 times between the stars": what is repeated, behind how often"""


def begins_repeat(cursor: Cursor) -> bool:
    """Whether a repeat of what stands before begins here."""
    return cursor.begins(_BEGINS) and not (cursor.at(T.REPEAT) and announces_group(cursor))


def announces_group(cursor: Cursor) -> bool:
    """ "Repeat (sc, inc) 6 times" announces a group; "rep (5 times)" and "rep ( ) 5 times" look back."""
    words = cursor.length(_BRACKET_AHEAD)
    if words:
        return any(token.kind in MADE for token in cursor.inside(cursor.place + words - 1))
    return cursor.open_marks == 0 and cursor.begins(_STAR_AHEAD)


def repeat(cursor: Cursor, items: list[Item], _until: int) -> None:
    """REPEAT without a star: a group that follows, the bracket before, or all of the row so far"""
    if announces_group(cursor):
        cursor.take()
        cursor.skip(T.FROM, T.COLON, T.WORK, T.SAME)
        return
    if items and (_until_measured(cursor) or _takes_rounds(cursor)):
        return
    lead, body = without_leads(items)
    if not body:
        raise cursor.fail(
            "repeat-of-nothing", "there is nothing before this to repeat", help="put the repeat behind a group"
        )
    cursor.repeat_all()
    steps = _number_of_steps(cursor)
    if steps:
        lead = len(items) - len(_last_steps(cursor, body, steps))
        items[lead:] = [repeat_clause(cursor, Group(tuple(items[lead:]), Exactly(1), cursor.next_word_span()))]
        return
    last = likeliest(items[-1])
    if isinstance(last, Group) and last.times == Exactly(1) and not from_beginning(cursor):
        items[-1] = repeat_clause(cursor, last)
    else:
        items[lead:] = [repeat_clause(cursor, Group(tuple(body), Exactly(1), cursor.next_word_span()))]


def _number_of_steps(cursor: Cursor) -> int:
    """How many steps are named behind "repeat"; 0 if none are."""
    words = cursor.tokens[cursor.place : cursor.place + cursor.length(_SO_MANY_STEPS)]
    return next((word.number for word in words if word.kind is T.NUMBER), 0)


def _last_steps(cursor: Cursor, body: list[Item], number: int) -> list[Item]:
    """The last so many steps, each an item, or a line of items where they are more than the items of one line."""
    lines = [acts((item,))[0].span.line for item in body if acts((item,))]
    own = list(dict.fromkeys(lines))
    if number == len(body) or len(lines) < len(body) or len(own) == 1 or number > len(own):
        steps = body[-number:] if number <= len(body) and len(own) in (1, len(body)) else []
    else:
        steps = [item for item, line in zip(body, lines, strict=True) if line in own[-number:]]
    if not steps:
        raise cursor.fail(
            "repeat-of-nothing", f"which {number} steps? {len(body)} stand before this", help="put them in brackets"
        )
    return steps


_SO_MANY_STEPS = PhrasePattern("REPEAT NOUN? LAST? NUMBER (?= WORD) REPEATED_WORDS")
""" "repeat these two steps around", "repeat the last 2 steps to the end" """

_IN_PLACE = PhrasePattern("REPEAT (FROM | MARK | SAME | (?= WORD) REPEATED_WORDS)* (?= IN [NEXT LAST EACH])")
""" "(2 dc, ch 1, 2 dc) - repeat the sequence in next ch-2 sp" """

PLACED = frozenset((T.IN, T.NEXT, T.EACH, T.SAME, T.LAST, T.AROUND))
"""The words of a list that tell where something in it goes."""


def repeated_in_place(cursor: Cursor, body: tuple[Item, ...], first: int) -> Item | None:
    """rep [WHAT] in PLACE, behind a list that names no place and begins at word `first`: all of it goes there; taken
    if it stands here"""
    start = cursor.place
    placed = not PLACED.isdisjoint(token.kind for token in cursor.tokens[first:start])
    cursor.take_phrase(BEFORE_REPEAT)
    if placed or not cursor.take_phrase(_IN_PLACE) or not begins_place(cursor):
        cursor.place = start
        return None
    where = place(cursor)
    if where.into is Into.STITCH and where.bases != Exactly(1):
        cursor.place = start  # "*sc, inc; rep from * in each st around" goes from one to the next
        return None
    return in_places(body, where, cursor.span(first))


_FOR_ROUNDS = PhrasePattern("REPEAT SAME* IN NEXT* NUMBER MORE? ROUND (?! NUMBER)")
""" "sc in each st around, and do that for five rounds" """


def _takes_rounds(cursor: Cursor) -> bool:
    """REPEAT for n [more] rounds, behind a round: that is worked so often; taken"""
    words = cursor.take_phrase(_FOR_ROUNDS) if not cursor.depth else []
    for word in words:
        if word.kind is T.NUMBER:
            cursor.rounds = word.number + (T.MORE in {each.kind for each in words})
    return bool(words)


def _until_measured(cursor: Cursor) -> bool:
    """rep last rnd until ..., behind a round: how far it is repeated is measured; taken with its sentence"""
    if cursor.peek(1) not in (T.PREVIOUS, T.SAME, T.LAST, T.ROUND):
        return False
    end = cursor.end_of(frozenset((T.NEWLINE,)))
    words = cursor.tokens[cursor.place : end]
    until = next((index for index, word in enumerate(words) if word.kind is T.UNTIL), None)
    if until is None or not any(word.text in _MEASURED for word in words[until:]):
        return False
    cursor.take_remark(end)
    return True


_MEASURED = ("measures", "measure", "measuring", "long", "tall", "cm", "inch", "inches", "mm", "length", "height")


def from_beginning(cursor: Cursor) -> bool:
    """ "rep from beg": all of the row so far, whatever stands right before it."""
    return cursor.begins(_FROM_BEGINNING)


_SO_MANY_STITCHES = PhrasePattern("NOUN? NUMBER NOUN (?= NUMBER MORE? TIMES | AROUND)")
""" "repeat these 6 sts 4 more times": how many stitches the part has, and not how often it is worked"""


_STEPS_NAMED = PhrasePattern("NOUN? LAST? NUMBER? (?= WORD) REPEATED_WORDS")


def repeat_clause(cursor: Cursor, group: Group, early: int | None = None, *, besides_first: bool = False) -> Item:
    """REPEAT := [rep] [WHAT] OFTEN [WHAT] [EARLY END]

    `early` is after how many items of the group a double star stands. `besides_first`: if a star is named, the group
    as written most likely comes on top of the number of times.
    """
    first = cursor.place
    word = cursor.accept(T.REPEAT, T.WORK)
    is_in_all = word is not None and word.kind is T.REPEAT and word.text.startswith(_SO)
    starred = _part_named(cursor)
    cursor.take_phrase(_SO_MANY_STITCHES)
    cursor.take_phrase(_STEPS_NAMED)
    often = how_often_repeated(cursor)
    starred = from_where(cursor) or starred
    if early is not None and isinstance(often.times, Exactly) and _takes_part_again(cursor):
        often = replace(often, times=Exactly(often.times.count + 1))
    span = group.span.to(cursor.span(first))
    cut = early_end(cursor, group, early)
    again = repeated_again(group.body, often, span, besides_first=starred and besides_first, is_in_all=is_in_all)
    return cut_short(again, cut)


_PART_AGAIN = PhrasePattern(
    "[COMMA SEMI DOT AND THEN]* (REPEAT FROM? | FROM) ORDINAL? MARK [TO DASH UNTIL] ORDINAL? MARK"
    " (OFTEN MORE? | AGAIN)? (?= STOPS | [OPEN JOIN AND THEN] | $)"
)
""" "repeat from * 3 more times, then from * to ** once more": a last time, up to the double star"""


def _takes_part_again(cursor: Cursor) -> bool:
    """then from * to ** [once more]: taken if it stands here, and is told of no more than one time"""
    start = cursor.place
    words = cursor.take_phrase(_PART_AGAIN)
    if [len(word.text) for word in words if word.kind is T.MARK] == [1, 2] and all(
        word.number == 1 for word in words if word.kind is T.OFTEN
    ):
        return True
    cursor.place = start
    return False


_SO = ("and so", "so on", "and on")
"""What leads to how often in all: "1 sc, inc - and so 6x" """


def from_where(cursor: Cursor) -> bool:
    """from * to *, behind how often: taken if it stands here"""
    return cursor.open_marks == 0 and bool(cursor.take_phrase(_FROM_WHERE))


def _part_named(cursor: Cursor) -> bool:
    """WHAT := { from | * | to * | between | beginning | '(' words ')' ... }: taken; whether a star was named"""
    starred = False
    while cursor.begins(_PART_NAMED):
        starred = starred or cursor.at(T.MARK)
        if not cursor.at(T.OPEN):
            cursor.take()
        elif any(token.kind is T.NUMBER for token in cursor.inside(cursor.place)):
            return starred
        else:
            cursor.place = cursor.closing(cursor.place) + 1
    return starred


# What the end of a row says of all that stands before it: "and so on around", "x 6", "ending with 2 sc".

_WHOLE_LINE = "read the number of times as for the whole line"


def ending(cursor: Cursor, items: list[Item], until: int) -> None:
    """ENDING := ending with ITEMS: tells how the last repeat ends, or adds what it says"""
    if closing_instead(cursor, items, until):
        return
    first = cursor.place
    cursor.take()
    of_last = T.REPEAT in {word.kind for word in cursor.tokens[first + 1 : first + 3]}
    cursor.skip(T.WITH, T.IN, T.LAST, T.REPEAT, T.BEGINNING)
    closing = cursor.tokens[cursor.place : cursor.place + cursor.length(BY_A_SPACE)]
    joins_by_space = bool(closing) and closing[-1].value != SLIP_STITCH and not any(map(is_plain_work, items[:-1]))
    added_items = tuple(cursor.items(until))
    end = len(added_items)
    while end and _is_closing(added_items[end - 1]):
        end -= 1
    if added_items[:end]:
        added = Option(added_items[:end], "read the ending as coming after the last repeat")
        within = Option((), "read the ending as how the last repeat ends")
        is_apart = any(act.into is Into.SPACE for act in acts(added_items[:end]))  # room for it is kept in lace
        is_last = not any(isinstance(item, Choice) and item.kind is ChoiceKind.ENDING for item in added_items)
        if of_last and is_last and items and cut_short(items[-1], 1) is not items[-1]:
            whole = items.pop()
            why = "read the ending as in place of the end of the last repeat"
            cut = Option((cut_short(whole, 1), *added.body), why, rescue=True)
            within, added = replace(within, body=(whole,)), replace(added, body=(whole, *added.body))
            items.append(Choice(ChoiceKind.ENDING, (within, added, cut), cursor.span(first)))
            items.extend(added_items[end:])
            return
        begins_another = bool(items) and _begins_another(added_items[:end], items[-1])
        is_apart = is_apart or (begins_another and not (joins_by_space and 0 < end < len(added_items)))
        options = (added, within) if is_apart else (within, added)
        items.append(Choice(ChoiceKind.ENDING, options, cursor.span(first)))
    items.extend(added_items[end:])


def _begins_another(ending: tuple[Item, ...], before: Item) -> bool:
    """Whether the ending is the beginning of the repeat before it and not its end: "*ch 5, sc in next sp; rep from *
    around, ending ch 5, join", where the join stands for the last stitch."""
    likely = likeliest(before)
    if not isinstance(likely, Group) or len(likely.body) < 2:
        return False
    body, last = list(map(_without_spans, likely.body)), list(map(_without_spans, ending))
    return body[: len(last)] == last and body[-len(last) :] != last


def _is_closing(item: Item) -> bool:
    return isinstance(item, Some) and (item.act.role is Role.STEP or item.act.is_slip_stitch)


def times_alone(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """OFTEN on its own behind items with no bracket: for the last one, or for all of them"""
    lead, body = without_leads(items)
    start = cursor.place
    often = multiplier(cursor) if body else None
    if often is None:
        cursor.place = start
        return False
    span = cursor.span(start)
    behind = _behind_then(cursor, body, start)
    if behind and isinstance(often.times, ToEnd):
        items[len(items) - behind :] = [repeated(tuple(body[-behind:]), often, span)]
        return True
    everything = repeated(tuple(body), often, span)
    if len(body) > 1 or isinstance(often.times, ToEnd):
        cursor.repeat_all()
    if len(body) == 1 or isinstance(often.times, ToEnd):
        items[lead:] = [everything]
        return True
    one = Option((*body[:-1], repeated((body[-1],), often, span)))
    whole = Option((everything,), _WHOLE_LINE)
    apart = cursor.tokens[start - 1].kind in PAUSES | {T.DASH, T.COLON} or behind == len(body)
    options: tuple[Option, ...] = (whole, replace(one, rescue=True)) if apart else (one, replace(whole, rescue=True))
    if 0 < behind < len(body):
        named = Option((*body[:-behind], repeated(tuple(body[-behind:]), often, span)))
        options = (named, *(replace(other, rescue=True) for other in options))
    items[lead:] = [Choice(ChoiceKind.TIMES, options, span)]
    return True


def _behind_then(cursor: Cursor, body: list[Item], end: int) -> int:
    """How many of the last items stand behind the last "then" of the sentence, where those are several and others
    stand before it: "inc, then 2 sc, inc 5 times"; 0 if it is not so."""
    then = next((at for at in range(end - 1, 0, -1) if cursor.tokens[at].kind in (T.THEN, T.DOT, T.CLOSE, T.MARK)), 0)
    if not then or cursor.tokens[then].kind is not T.THEN:
        return 0
    edge = cursor.span(then, then + 1)
    behind = [(act.span.line, act.span.start) > (edge.line, edge.start) for act in map(last_act, body) if act]
    number = sum(behind)
    return number if number > 1 and behind == [False] * (len(body) - number) + [True] * number else 0


def times_behind(cursor: Cursor, items: list[Item]) -> None:
    """ "4 sc - inc x6" with no bracket: six increases, or the whole line six times."""
    number = _factor_taken(cursor)
    body = [item for item in items if is_plain_work(item)]
    last = items[-1]
    if not number or len(body) < 2 or cursor.depth or _times_chosen(items):
        return
    if not all(is_plain_work(item) for item in items[-len(body) :]):
        return  # a colour, a skip or a chain parts the line, and the number belongs to what stands behind that
    if not isinstance(last, Some) or not isinstance(last.times, Exactly) or last.times.count % number:
        return
    span = last.act.span
    single = replace(last, times=Exactly(last.times.count // number or 1))
    whole = Option((Group((*body[:-1], single), Exactly(number), span),), _WHOLE_LINE, rescue=True)
    options: tuple[Option, ...] = (Option(tuple(body)), whole)
    if behind := _behind_then(cursor, body, cursor.place):
        group = Group((*body[-behind:-1], single), Exactly(number), span)
        options = (Option((*body[:-behind], group)), *(replace(other, rescue=True) for other in options))
    items[len(items) - len(body) :] = [Choice(ChoiceKind.TIMES, options, span)]


def _times_chosen(items: list[Item]) -> bool:
    """Whether a number of times before this one can be read in two ways; no two in a line can."""
    for item in items:
        if isinstance(item, Choice) and (item.kind is ChoiceKind.TIMES or _times_chosen(list(item.options[0].body))):
            return True
        if isinstance(item, Group) and _times_chosen(list(item.body)):
            return True
    return False


def _factor_taken(cursor: Cursor) -> int | None:
    """n of the "x n" or "n x" that was just read; None if none was."""
    if cursor.begins(_FACTOR_IN_BRACKETS_BEFORE):
        return next(cursor.token(ahead).number for ahead in (-2, -3) if cursor.peek(ahead) is T.NUMBER)
    if not cursor.begins(_FACTOR_BEFORE):
        return None
    return cursor.token(-1 if cursor.peek(-1) is T.NUMBER else -2).number


_TO_NTH = PhrasePattern("TO [ORDINAL LAST]")
""" "sc in each st on the 5th petal and so on to the 1st" """


def ongoing(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """ONGOING := and so on [around]: the unit written so far goes round; taken"""
    cursor.take()
    cursor.skip(T.ONGOING, T.REPEAT)
    if cursor.begins(_TO_NTH) and items and isinstance(items[-1], Some) and items[-1].act.into is Into.PART:
        cursor.place = cursor.end_of(STOPS)  # the other parts are among those that the stitches go round
        return True
    cursor.skip(T.AROUND, T.FILLER)
    lead, body = without_leads(items)
    ends = cursor.finished or cursor.at(T.CLOSE, T.MARK) or cursor.peek() in BETWEEN_ITEMS
    last = body[-1] if any(act.takes for act in acts(tuple(body))) else None
    if last is not None and ends and not (isinstance(last, Group) and isinstance(last.times, ToEnd)):
        items[lead:] = [Group(tuple(_unit(body)), ToEnd())]
    return True


def _unit(body: list[Item]) -> list[Item]:
    """The shortest part that, written again and again, gives the whole."""
    bare = [_without_spans(item) for item in body]
    for length in range(1, len(body) // 2 + 1):
        if len(body) % length == 0 and bare == bare[:length] * (len(body) // length):
            return body[:length]
    return body


def _without_spans(item: Item) -> object:
    """What an item says, whatever words it was read from."""
    if isinstance(item, Some):
        return (item.act.name, item.act.makes, item.act.takes, item.times)
    if isinstance(item, Choice):
        return tuple(_without_spans(inner) for inner in item.options[0].body)
    if isinstance(item, Group):
        return (tuple(_without_spans(inner) for inner in item.body), item.times)
    return item


_SO_MANY_ROUNDS = PhrasePattern("IN NEXT? NUMBER MORE? ROUND (?= [IN OF] STITCH)")
""" "work even for 5 rounds in hdc" """

_IN_STITCH = PhrasePattern("[IN OF] STITCH (?= STOPS | OPEN | IN NEXT? NUMBER | AROUND | $)")
""" "work even in hdc", "even in tr around" """


def _goes_onward(item: Item) -> bool:
    """Whether it goes to the end, or so often that it may."""
    return not isinstance(item, Some) or isinstance(item.times, ToEnd) or item.act.spread is not None


_ALL_ROUND = PhrasePattern("HEADS (AROUND | [IN OVER]? [EACH ALL] (?! END))")
""" "1 dc in every st", "sc around" """


def even(cursor: Cursor, items: list[Item], _until: int) -> None:
    """EVEN := work even [around] [for n rnds] [(in | of) STITCH]: one stitch in each, if no stitches are named before
    it"""
    first = cursor.place
    denies = cursor.take().text.startswith(("no ", "without "))
    if denies and cursor.first_of(_ALL_ROUND, cursor.place, len(cursor.tokens)) < len(cursor.tokens):
        return  # "no increasing, ch 3 and 1 dc in every st": how, and not what
    onward = cursor.accept(T.AROUND) is not None and not any(map(_goes_onward, items))
    rounds = cursor.take_phrase(_SO_MANY_ROUNDS)
    cursor.rounds = next((word.number for word in rounds if word.kind is T.NUMBER), cursor.rounds)
    named = cursor.take_phrase(_IN_STITCH)
    if onward or not any(is_plain_work(item) for item in items):
        act = stitch(named[-1].name if named else MAIN).act(cursor.loop, cursor.span(first))
        items.append(Some(act, ToEnd()))
