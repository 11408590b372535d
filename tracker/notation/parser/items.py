"""A round's instructions as a row of items: stitches, groups, repeats, colours, steps and remarks.

This is the recursive part of the grammar: groups read rows of items again, through the cursor.
"""

from __future__ import annotations

from collections.abc import Callable

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Choice, Exactly, Group, Instruction, Into, Item, Loop, Role, Some, Technique, ToEnd
from tracker.notation.instructions import MAIN, each_act, is_plain_work, stitch
from tracker.notation.parser import aside as asides
from tracker.notation.parser.alternation import ALTERNATES, alternation
from tracker.notation.parser.colour import colour, yarn_run
from tracker.notation.parser.group import bracket, star, times_first
from tracker.notation.parser.held_loops import BEGINS_HELD, held_loops
from tracker.notation.parser.join import join, takes_joining_space
from tracker.notation.parser.last_repeat import closing_instead
from tracker.notation.parser.one_place import (
    all_in_one,
    and_chain,
    both_in,
    place_first,
)
from tracker.notation.parser.place_owner import of_round, of_what
from tracker.notation.parser.places_together import FIRST_TOGETHER, first_together
from tracker.notation.parser.remark import remark, rest_of_clause
from tracker.notation.parser.repeat import ending, even, ongoing, repeat, times_alone
from tracker.notation.parser.standing_start import STARTS, standing_start
from tracker.notation.parser.stitch_run import chain, chainless, drawn_together, skip, stitches
from tracker.notation.parser.worked_into import LOOP_AT_END, THROUGH_ALL, takes_all_layers
from tracker.notation.token_kinds import BETWEEN_ITEMS, PAUSES, STOPS, WORD_GROUPS, T
from tracker.notation.token_stream import Closes, Cursor, PhrasePattern


def items(cursor: Cursor, until: int, closes: Closes | None = None) -> list[Item]:
    """ITEMS := { ITEM [separator] } up to word number `until`, or to where `closes` ends the row"""
    items: list[Item] = []
    while True:
        cursor.skip(*BETWEEN_ITEMS)
        if cursor.place >= until or cursor.finished or (closes is not None and closes(cursor)):
            return items
        before = cursor.place
        _item(cursor, items, until)
        if cursor.place == before:
            word = cursor.token().text
            raise cursor.fail(
                "not-understood", f"'{word}' makes no sense here", help="expected a stitch, a group or a repeat"
            )


def _item(cursor: Cursor, items: list[Item], until: int) -> None:
    """ITEM := STITCHES | CHAIN | SKIP | GROUP | STAR | REPEAT | TIMES FIRST | PLACE FIRST | COLOUR | ... | remark"""
    read = _BY_FIRST_WORD.get(cursor.peek())
    if read is not None:
        read(cursor, items, until)
        return
    for at, take in _BY_LOOK:
        if (at is None or cursor.begins(at)) and take(cursor, items, until):
            return
    remark(cursor, until)


def _stitches(cursor: Cursor, items: list[Item], until: int) -> bool:
    """STITCHES [and CHAIN PLACE]"""
    taken = stitches(cursor, items, until)
    if taken and cursor.at(T.AND, T.PLUS) and not both_in(cursor, items):
        and_chain(cursor, items)
    return taken


def _explained_bunch(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """BUNCH over n BASE '(' ITEMS ')': one that has no numbers of its own, as it is worked here"""
    words = cursor.take_phrase(_EXPLAINED_OVER)
    if not words:
        return False
    cursor.remarks.append(cursor.words(cursor.place - len(words), cursor.place - 1))
    close = cursor.closing(cursor.place - 1)
    items.extend(cursor.items(close))
    cursor.place = close + 1
    return True


_EXPLAINED_OVER = PhrasePattern("BUNCH [OVER IN] NEXT? NUMBER BASES OPEN (?= WORK? (SKIP | NUMBER? HEADS))")
""" "cable over next 4 sts (sk 2, fptr in next 2, fptr in skipped 2)" """


def _ring(cursor: Cursor, items: list[Item], _until: int) -> None:
    """ring [work] [n], before what goes into it; a number alone is of the stitch of the line"""
    items.append(_step(cursor, "ring", Technique.RING))
    cursor.skip(T.WITH, T.OF, T.WORK)
    if cursor.begins(_IN_IT):
        cursor.take()
    if cursor.begins(_NUMBER_ALONE):
        cursor.accept(T.COMMA)
        first = cursor.place
        number = cursor.number()
        items.append(Some(stitch(MAIN).act(cursor.loop, cursor.span(first)), Exactly(number)))


_WHAT_IS_TURNED = PhrasePattern("[WORD WORK] [WORD IN SIDE NUMBER SAME OF NOUN]* (?= PAUSES | AND [WORK THEN] | $)")
""" "turn the brim on its side and work 72 sc", "turn the work 90 degrees, ..." """


def _turn(cursor: Cursor, items: list[Item], _until: int) -> None:
    """turn [what, and where to]"""
    items.append(_step(cursor, "turn", Technique.TURN))
    if len(cursor.token().text if not cursor.finished else "") > _LONGEST_KEY:
        cursor.takes_remark(_WHAT_IS_TURNED)


_LONGEST_KEY = 2
"""Letters of a stitch in charts of letters: "turn X 5" works five of them."""


_TAKEN_UP = PhrasePattern(
    "[AND THEN]+ (JOIN | CHANGE) (?= NEXT? OTHER? [COLOURED WORD MARKER] ([IN STOPS] | $) | STOPS | $)"
)
""" "fasten off A and join B" """

_TO_OTHER_SIDE = PhrasePattern("STEP TO? WORK (?= [IN AROUND]* SIDE)")
""" "rotate to work in opposite side of ch" """


def _other_step(cursor: Cursor, items: list[Item], until: int) -> None:
    """fasten off | place marker | ... [words]"""
    if cursor.take_phrase(_TO_OTHER_SIDE):
        return
    items.append(_step(cursor, cursor.token().text, cursor.token().technique))
    rest_of_clause(cursor, cursor.first_of(_TAKEN_UP, cursor.place, until))


def _step(cursor: Cursor, name: str, technique: Technique) -> Item:
    first = cursor.place
    cursor.take()
    return Some(Instruction(name, Role.STEP, into=Into.NOTHING, technique=technique, span=cursor.span(first)))


def _loop_in_force(cursor: Cursor, body: list[Item], _until: int) -> bool:
    """[[work [all sts]] in] (LOOP [of rnd n] | free loops of rnd n): the loop from here on, and whose they are; one
    that a line ends with is that of all its stitches"""
    if _free_loops(cursor):
        return True
    if not cursor.depth and cursor.begins(LOOP_AT_END) and any(map(is_plain_work, body)):
        loop = next(word.loop for word in cursor.take_phrase(LOOP_AT_END) if word.kind is T.LOOP)
        body[:] = each_act(tuple(body), lambda act: replace(act, loop=loop) if act.loop is Loop.BOTH else act)
        return True
    if not cursor.at(T.LOOP) and not cursor.take_phrase(_LOOP_ONWARD):
        return False
    cursor.loop = cursor.take().loop
    cursor.skip(T.OF, T.FROM)
    cursor.accept(T.PREVIOUS)
    of_round(cursor)
    cursor.take_phrase(_OF_THE_LOOP)
    if cursor.take_phrase(_WHOSE_LOOPS):
        of_what(cursor)
    return True


def _free_loops(cursor: Cursor) -> bool:
    """[work] [in] free loops of rnd n: the front ones, as working into the back ones is usual (common practice, no
    source)"""
    if not cursor.take_phrase(_FREE_LOOPS):
        return False
    cursor.loop = Loop.FRONT
    return of_round(cursor)


def _behind(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """ "Working behind the shells into Rnd 12, ...", "Into Rnd 12, ...": which round the bases are those of"""
    if cursor.take_phrase(_ACROSS):
        return True
    if not cursor.begins(_PASSING):
        return False
    if cursor.take_phrase(_PASSING_THEM):  # what was just made, so that stitches may follow at once
        return True
    begins = 1 if cursor.at(T.WORK) else 0
    if cursor.peek(begins) is T.BEHIND and not cursor.depth and not any(map(_is_work, items)):
        cursor.passing = "in front of" if "front" in cursor.token(begins).text else "behind"
    cursor.take()
    while not cursor.finished and cursor.peek() not in _ENDS_BEHIND and not cursor.begins(_PLACED_STITCHES):
        if not of_round(cursor):
            cursor.take()
    return True


def _is_work(item: Item) -> bool:
    return not isinstance(item, Some) or item.act.role is Role.WORK


_ACROSS = PhrasePattern(
    "WORK ( BEHIND (?= COMMA | MADE [IN AROUND] EACH) | IN (?= WORD) FRONT_OR_BACK (?= COMMA? NUMBER? MADE) )"
)
""" "sk 3 sts, fptr around next 3 sts, working in front fptr around 3 skipped sts": how a crossing lies"""

_PASSING = PhrasePattern("WORK? ( BEHIND | IN ROUND NUMBER )")
""" "working behind the shells into Rnd 12, dc in next st" """

_PLACED_STITCHES = PhrasePattern("NUMBER? HEADS [IN AROUND] ([EACH NEXT SAME LAST ORDINAL NUMBER] | PASSED_OVER)")
""" "working in front of sts just made fptr around each of 2 skipped sts": what is made there, with no comma"""

_PASSING_THEM = PhrasePattern("WORK? .. (?= [WORD NOUN]) THEM")
""" "shell in next st, behind them dc in next st" """


_MARKER_PUT = PhrasePattern("WORK MARKER")
""" "6 sc in ring. Put a marker in this 6th sc and the last sc" """

_BEGINNING_ANYWHERE = PhrasePattern(
    "WORK (?= NEXT) ANY NOUN | WORK+ (IN? (?= NEXT) ANY (?= [WORD WORK]) POINTS | (?= WORD) ANYWHERE)"
)
""" "beginning in any st, sc in each st", "start working at any point of round 1, ..." """

_MADE_NOW = PhrasePattern("MARK | OPEN | (?<! ROUND) NUMBER MADE")
""" "beginning in any stitch 2 dc in each st" """

_BEGINNING_PART = PhrasePattern(
    "(?= WORK) STARTING [ORDINAL LAST OTHER]* (?= WORD) PARTS"
    " | [FROM WITH IN] [ORDINAL LAST OTHER]+ (?= WORD) PARTS (?= [COMMA COLON WORK NUMBER CHAIN JOIN])"
    " | FROM (?= WORD) PARTS (?= [COMMA WORK NUMBER CHAIN])"
)
""" "starting with the last petal, sc in each st", "from the second leg make 3 ch and join to first leg",
"with the second leg 4 ch, 14 sc on the first leg" """

_BEGINNING_AT = PhrasePattern("(?= WORK) AT_WORDS (?= WORD)")
""" "starting at heel, sc in each st" """

_LAST_AGAIN = PhrasePattern("[WORK WITH] LAST [STITCH NOUN] IN")
""" "*miss 2, dc in next st; rep from * to end, working last dc in top of turning ch": where the last of them goes"""

_TO_CLOSE = PhrasePattern("TO JOIN")
""" "sc through both layers across to close the top" """

_SAYS_NOTHING = PhrasePattern(
    """
      WORK BETWEEN [NOUN STITCH BUNCH] (?= STOPS)
    | WORK
    | (?! HAVING) WITH (?= NUMBER)
    | IN ( END ROUND | (?= AROUND) ITS_END ) NUMBER?
    | (?<! ..) IN (?= NUMBER STITCH DOT? $)
    """
)
""" "work between the sts: 2 dc in next gap", "work 6 sc", "with 6 sc", "at the end of rnd 9 fasten off", "on 6 sc" in
a translated pattern: said once more behind it, or of no number"""

_LOOP_ONWARD = PhrasePattern("WORK? (ALL NOUN (IN SAME ROUND)?)? [IN BEHIND] (?= LOOP (?! [NEXT EACH]))")
""" "in back loops, sc in each st", "work all sts for this rnd in back loops, sc around", "behind the back wall of the
loop 60 sc" """

_OF_THE_LOOP = PhrasePattern("(?<= OF) SPACE (?! NUMBER? [SPACE COMMA])")

_IN_IT = PhrasePattern("IN (?= NUMBER MADE)")
""" "magic ring, inside 6 sc" in a translated pattern """

_NUMBER_ALONE = PhrasePattern("COMMA? NUMBER (STOPS | OPEN | $)")
""" "magic ring 6", "mr, 6 (white)" """

_FREE_LOOPS = PhrasePattern("[WORK IN]* SIDE OF (?= ROUND NUMBER)")
""" "in free loops of rnd 8, sc in each st" """

_WHOSE_LOOPS = PhrasePattern("BASES (?= [COLON COMMA] | [OF FROM] (PREVIOUS | ROUND NUMBER))")
""" "in back loops of sts: sc in each st", "in back loops of sc from rnd 2, sc in each st" """
_ENDS_BEHIND = PAUSES | {T.COLON, T.OPEN, T.MARK}


def _says_nothing(cursor: Cursor, items: list[Item], until: int) -> bool:
    """work | starting at words | with, before a number: taken"""
    if takes_all_layers(cursor):
        return True
    if items and _goes_to_end(items[-1]) and cursor.begins(_LAST_AGAIN):
        rest_of_clause(cursor, until, anything=True)
        return True
    if cursor.begins(_MARKER_PUT):
        cursor.place = cursor.end_of(STOPS)
        return True
    if cursor.take_phrase(_BEGINNING_ANYWHERE):
        while not cursor.finished and cursor.peek() not in STOPS and not cursor.begins(_MADE_NOW):
            if not of_round(cursor):
                cursor.take()
        return True
    if cursor.take_phrase(_BEGINNING_AT) or cursor.take_phrase(_BEGINNING_PART):
        rest_of_clause(cursor, until)
        return True
    if cursor.begins(_TO_CLOSE):
        rest_of_clause(cursor, until)
        return True
    return bool(cursor.take_phrase(_SAYS_NOTHING))


def _goes_to_end(item: Item) -> bool:
    if isinstance(item, Choice):
        return any(map(_goes_to_end, item.options[0].body[-1:]))
    return isinstance(item, Some | Group) and isinstance(item.times, ToEnd)


def names_all_layers(cursor: Cursor) -> bool:
    """Whether that stands anywhere in the line, in what is only said to the maker too: "through both layers",
    "taking the two sides", "both edges together"."""
    words = [word.text for word in cursor.tokens]
    for index, word in enumerate(words):
        if word not in _BOTH or not index:
            continue
        of_layers = _LAYERS.issuperset(words[index + 1 : index + 2])
        taken = words[index - 1] in _TAKING or words[index + 2 : index + 3] in _TOGETHER
        if of_layers and (taken or cursor.begins(THROUGH_ALL, index - 1)):
            return True
    return False


_LAYERS = frozenset(WORD_GROUPS["LAYERS"].split("|"))
_BOTH = frozenset(WORD_GROUPS["BOTH_OR_ALL"].split("|"))
_TAKING = frozenset((*WORD_GROUPS["TAKING"].split("|"), "take", "catch", "close", "join", "bring", "hold", "holding"))
_TOGETHER = (["together"], ["together with"], ["tog"])


def _remark_of(phrase: PhrasePattern) -> Callable[[Cursor, list[Item], int], object]:
    """What takes a phrase, and keeps it as a remark."""
    return lambda cursor, _items, _until: cursor.takes_remark(phrase)


def _stray(cursor: Cursor, _items: list[Item], _until: int) -> None:
    raise cursor.fail(
        "stray-bracket",
        f"'{cursor.token().text}' closes a bracket that was never opened",
        help="open it before the group, or take it away",
    )


@dataclass(frozen=True, slots=True)
class Rule:
    """What may stand in a row. `read` takes it if it stands here, and tells whether it does.

    `begins` are the kinds of words that nothing else begins with. A rule without them has to look; `why` tells why it
    has to stand where it does, if it may not stand last. `line` comes out otherwise without it, and if it does. `at`
    is how it begins, where a look at that saves asking for the rest.
    """

    name: str
    read: Callable[[Cursor, list[Item], int], object]
    line: str
    begins: tuple[T, ...] = ()
    why: str = ""
    at: PhrasePattern | None = None


RULES: tuple[Rule, ...] = (
    Rule("bracket", bracket, "(sc, inc) x 6", begins=(T.OPEN,)),
    Rule("stray bracket", _stray, "sc, inc) x 6", begins=(T.CLOSE,)),
    Rule("star", star, "*sc, inc; rep from * 5 more times", begins=(T.MARK,)),
    Rule("repeat", repeat, "sc, inc, rep 5 more times", begins=(T.REPEAT,)),
    Rule("skip", skip, "sk 1, dc in next 5 sts", begins=(T.SKIP,)),
    Rule("join", join, "6 sc in ring, join with sl st to first sc", begins=(T.JOIN,)),
    Rule("ring", _ring, "magic ring, 6 sc", begins=(T.RING,)),
    Rule("turn", _turn, "ch 1, sc in each st across, turn", begins=(T.TURN,)),
    Rule("step", _other_step, "sc in each st around, fasten off", begins=(T.STEP,)),
    Rule("ending", ending, "*sc, inc; rep from * around, ending with sc", begins=(T.END,)),
    Rule("even", even, "work even", begins=(T.EVEN,)),
    Rule(
        "closing instead",
        closing_instead,
        "*5 dc in next st, sc in next st; rep from * around, working the last sc as a sl st in first sc",
        why="before stitches, and work",
        at=PhrasePattern("WORK | LAST | STITCH | IN LAST | COUNTS | WORD"),
    ),
    Rule("times first", times_first, "2 sc, 5x (3 sc, inc)", why="before times, which look back"),
    Rule(
        "spread out",
        asides.spread_out,
        "32 sc evenly, 1 sc in each row end",
        at=PhrasePattern("NUMBER? STITCH? EVENLY"),
    ),
    Rule(
        "joining space",
        takes_joining_space,
        "6 sc, ch 2, dc in first sc to form the last loop",
        why="before chains",
        at=PhrasePattern("JOIN | NUMBER? CHAIN"),
    ),
    Rule(
        "alternation",
        alternation,
        "sc around, alternating 1 st A and 1 st B",
        why="before stitches, which it counts, and what goes on",
        at=ALTERNATES,
    ),
    Rule(
        "explained bunch",
        _explained_bunch,
        "cable over next 4 sts (sk 2, 2 fptr, fptr in 2 skipped sts)",
        why="before stitches",
    ),
    Rule(
        "held loops",
        held_loops,
        "holding back last loop of each, dc in next 4 sts, yo, draw through all loops",
        at=BEGINS_HELD,
    ),
    Rule("chain", chain, "ch 3, 5 dc in ring"),
    Rule(
        "first together",
        first_together,
        "first 2 sts together, 10 sc, last 2 sts together",
        why="before stitches, which take the number for their own",
        at=FIRST_TOGETHER,
    ),
    Rule("foundation", chainless, "24 fsc"),
    Rule(
        "stitches", _stitches, "BLO sc in each st", why="before loops and colours, as both may stand before a stitch"
    ),
    Rule("loop", _loop_in_force, "in back loops only, sc around", why="before places, which name loops of stitches"),
    Rule("behind", _behind, "working behind the shells into Rnd 2, 6 dc", why="before places in a round below"),
    Rule(
        "in passing",
        _remark_of(asides.IN_PASSING),
        "6 sc, alternating colours every 2 rows",
        why="before colours, with a yarn, and what goes on",
    ),
    Rule("ongoing", ongoing, "2 sc, inc, and so on", at=PhrasePattern("ONGOING")),
    Rule("colour", colour, "with red, 6 sc, change to blue, 6 sc"),
    Rule("denial", asides.denial, "do not work the next st, sc in each st around"),
    Rule("other side", asides.side, "ch 6, 5 sc, along other side of ch, 5 sc", why="before an extent alone"),
    Rule("all in one", all_in_one, "2 dc, ch 2, 2 dc all in next sp"),
    Rule(
        "on these only",
        asides.on_these_only,
        "10 sc, turn and work on these 10 sts only",
        why="before work, and places",
        at=asides.ON_THESE,
    ),
    Rule(
        "laid together",
        asides.laid_together,
        "place the lid on the cup with wrong sides together and work 6 sc",
        why="before work, which says nothing alone",
        at=asides.LAID_TOGETHER,
    ),
    Rule(
        "standing start",
        standing_start,
        "start with a standing dc in any st. 2 dc in each st around",
        why="before work, which says nothing alone",
        at=STARTS,
    ),
    Rule("work", _says_nothing, "work 6 sc"),
    Rule("drawn", drawn_together, "draw up a loop in next 2 sts, yo and draw through all loops"),
    Rule(
        "same again",
        asides.same_again,
        "same for next rnd, sc in each st",
        why="before places: the same round is none",
    ),
    Rule(
        "counted off",
        asides.counted_off,
        "10 sc, ch 5, count off 5 sts and starting from the 6th st 10 sc",
        why="before what a chain counts as",
    ),
    Rule(
        "counting",
        asides.counts_or_not,
        "ch 12, dc in 4th ch from hook, dc in each ch. The first 3 ch do not count as a st",
        why="before places: the first chains are none",
    ),
    Rule("place first", place_first, "in next 3 sts together", why="before numbers that tell no more"),
    Rule("times", times_alone, "2 sc, inc, to end", why="before an extent alone: to the end is so often"),
    Rule("unworked", asides.unworked, "8 sc, leaving the last 2 sts unworked"),
    Rule(
        "which stitch",
        _remark_of(asides.IN_WHICH_STITCH),
        "still with sc, 2 in each st",
        why="before what tells no more",
    ),
    Rule("no more told", asides.tells_nothing, "sc in each st for 4 rounds"),
    Rule("plain count", asides.plain_count, "inc, 5 sts, inc"),
    Rule("bare number", asides.bare_number, "(1, inc) x 6"),
    Rule("yarn run", yarn_run, "sc 3 red, 2 white, 3 red"),
    Rule("how it lies", asides.how_it_lies, "keeping the ch-3 loops behind, sc in next sc", at=asides.HOW_IT_LIES),
)
"""What stands in a row: by its first word, or else the first of these that stands there; else it is a remark."""


def set_rules(rules: tuple[Rule, ...]) -> None:
    """Read by these rules from here on."""
    global RULES, _BY_FIRST_WORD, _BY_LOOK
    RULES = rules
    _BY_FIRST_WORD = {kind: rule.read for rule in rules for kind in rule.begins}
    _BY_LOOK = tuple((rule.at, rule.read) for rule in rules if not rule.begins)


_BY_FIRST_WORD: dict[T | None, Callable[[Cursor, list[Item], int], object]]
_BY_LOOK: tuple[tuple[PhrasePattern | None, Callable[[Cursor, list[Item], int], object]], ...]
set_rules(RULES)
