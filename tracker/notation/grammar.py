"""The words behind the heading of a line, read by the whole grammar: what they say to make, and the total.

Nothing here raises on what a person typed: what cannot be understood comes back as a problem.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import pairwise

from tracker.diagnostics import Lines, Problem, error, note, warning
from tracker.lazy_dataclass import dataclass, replace
from tracker.lazy_pattern import compile_later
from tracker.notation.ast import (
    SLIP_STITCH,
    Colour,
    Foundation,
    Heading,
    Instruction,
    Into,
    Item,
    Line,
    Reference,
    Role,
    Some,
    Stated,
    every_act,
)
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.context import Context, OwnWord
from tracker.notation.instructions import (
    fill_stitches,
    made_by,
    main_stitch,
    place_in_ring,
    place_in_same_stitch,
)
from tracker.notation.lexer import scan_behind, without_fillers
from tracker.notation.line_ends import unwrapped
from tracker.notation.lowering.chain_gap import add_plain_stitches, lower_bridges, lower_last_loop
from tracker.notation.lowering.closed_flat import closed_flat
from tracker.notation.lowering.first_cluster import whole_group
from tracker.notation.lowering.round_end import lower_end, settle_opening
from tracker.notation.lowering.space_between import with_space_between
from tracker.notation.lowering.starting_chain import lower_lone_chain, lower_own_chains, lower_start
from tracker.notation.mistyping import forgive_small
from tracker.notation.own_words import with_own_words
from tracker.notation.parser.definition import (
    DEFINING,
    Definitions,
    named_where_made,
    take_definitions,
    without_names,
)
from tracker.notation.parser.heading import heading_problems
from tracker.notation.parser.items import items, names_all_layers
from tracker.notation.parser.prose_behind import with_sentences_in_words
from tracker.notation.parser.reference import THE_SAME_AGAIN, onward, reference, split_goal
from tracker.notation.parser.remark import TITLING, skip_title
from tracker.notation.parser.total_finder import take_totals
from tracker.notation.parser.total_inside import settle_totals_inside
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, NotUnderstood, PhrasePattern, Token, shape_of
from tracker.notation.yarn_names import are_plain_keys, with_yarn_names

# Words of a line; the longest round met has some hundred.
MAX_WORDS = 4_000

_NAMED_AGAIN = frozenset(((T.STITCH, T.OPEN), (T.CHAIN, T.OPEN), (T.TOTAL, T.CLOSE), (T.WORD, T.CLOSE)))
"""Where these follow on each other a stitch may be named in other words, "4 dc (double crochet)", or what was made
be named, "ch 4 (p made)". """

_REFERS = PhrasePattern(
    "(OPEN ((?! [NUMBER CLOSE MADE]) ..)* CLOSE)? [COMMA COLON DASH DOT OPEN]*"
    " ([REPEAT AS WORK EVEN] | [INC DEC] AS | [OTHER ONGOING] BETWEEN? ROUND NUMBER"
    " | NUMBER (MORE ROUND | ROUND EVEN) | (NUMBER TIMES | OFTEN | AGAIN) AS? ROUND NUMBER"
    " | [AND WITH THEN]* NUMBER [STITCH NOUN]* BETWEEN ([EACH ALL]* [INC DEC] | DOT? $))"
)
""" "Rnd 6: repeat rnd 5", "Rnd 6: as rnd 5", "Rnd 6 (wrong side): as rnd 5" """

_NAMES_ROUNDS = PhrasePattern("REPEAT (ROUND NUMBER | [LAST PREVIOUS SAME] | ORDINAL) | AS ROUND NUMBER")
""" "Rnd 6: with B, repeat rnd 5", "Rnd 6: with B. As rnd 5" """


_SO_MANY_ROUNDS = PhrasePattern("WORK NUMBER ROUND [IN OF] STITCH [IN OVER] [SAME NOUN]+ NUMBER")
""" "Change to a 3 mm hook and work 8 rounds in dc on these 60 sts" """


def read_words(text: str, folded: str, head: Heading, context: Context, main: str) -> Line:
    """The line of this text, whose heading ends at `head.end` of what it is folded to; `main` is the stitch that
    "inc" means when the line names none."""
    lines = Lines(text)
    typed = scan_behind(folded, head.end, context.terms, context.colours)
    own = _own_words(context)
    tokens = with_own_words(typed, own, context.terms) if own else typed
    if any(token.kind is T.COLOURED for token in tokens) or not are_plain_keys(context.colours):
        tokens = with_yarn_names(tokens, context.colours)
    tokens = _with_repeats_first(
        _in_short_words(unwrapped(without_fillers(with_sentences_in_words(_with_small_words(tokens)))))
    )
    problems = heading_problems(head, lines)
    if len(tokens) > MAX_WORDS:
        return Line(text, head, problems=(*problems, too_long(len(tokens), "words", MAX_WORDS, lines)))
    kinds = {token.kind for token in tokens}
    if T.ROUND in kinds:
        tokens = _without_own_title(tokens, folded[: head.end])
    defined = Definitions(tokens, ())
    if kinds & DEFINING or (T.DASH in kinds and tokens[0].kind is T.BUNCH):
        defined = take_definitions(tokens, lambda words: _makes(words, lines, context))
    if defined.bunches:
        context = replace(context, bunches=(*defined.bunches, *context.bunches))
    problems = (*problems, *_forgiven(tokens, lines))
    line = Line(text, head, problems=problems, words=len(defined.body), chains_count=context.chains_count)
    if _may_go_on(tokens, kinds, head):
        going_on = _going_on(line, Cursor(defined.body, lines, context, items), lines)
        if going_on is not None:
            return going_on
    column, words = _first_column(defined.body, lines) if head.numbers else ((), defined.body)
    totals = take_totals(_as_change(words) if head.numbers else words, lines, context.size)
    in_front = column or _total_in_heading(folded, head, context, lines) if not totals.stated else ()
    line = replace(line, stated=totals.stated or in_front, rounds=totals.rounds)
    body = totals.body
    if head.numbers and _is_count_alone(body) and _ROUND_WORD.search(folded[: head.end]):
        body = [body[-1], body[-1]._replace(kind=T.NOUN, value="")]  # "R6-R9: 30" are 30 sts
    made: list[str] = []
    if T.BUNCH in kinds or not _NAMED_AGAIN.isdisjoint(pairwise(token.kind for token in body)):
        named = named_where_made(body, lambda words: _group_ending(words, lines, context))
        context = replace(context, bunches=(*named, *context.bunches)) if named else context
        line = replace(line, groups=named)
        body, made = without_names(body)
    cursor = Cursor(body, lines, context, items)
    cursor.is_row = head.is_row
    if totals.stated:
        left = {token.start for token in body}
        cursor.total_end = max((token.end for token in defined.body if token.start not in left), default=0)
    try:
        again = _reference(cursor, is_headed=head.end > 0)
    except NotUnderstood as stop:  # "as Rnd 2 x 999999999999"
        return replace(line, problems=(*line.problems, stop.problem))
    if again is not None and not (line.heading.numbers and body[0].kind is T.EVEN):  # "Rnd 5: work even for 3 rnds"
        return _repeating(line, again, lines)
    cursor.place = 0
    if kinds & TITLING or ".." in text:
        with suppress(NotUnderstood):  # brackets that cross are told of by what is made
            skip_title(cursor)
    instructed = _instructing(line, cursor, main)
    return replace(instructed, remarks=(*instructed.remarks, *made)) if made else instructed


_ROUND_WORD = compile_later(r"(?<![\d-])[a-z]|[a-z]{3}")
"""A word in a heading that is no ending of an ordinal."""


def _is_count_alone(body: list[Token]) -> bool:
    """Whether nothing is said of a round but a number: "R6-R9: 30", "R6: = 30"."""
    kinds = [token.kind for token in body]
    return kinds in ([T.NUMBER], [T.EQUALS, T.NUMBER])


def _with_small_words(tokens: list[Token]) -> list[Token]:
    """The words with "of" and "in" where a slip of the keyboard stands in their place."""
    mended: dict[int, Token] = {}
    for index, word in enumerate(tokens[1:-1], 1):
        small = word.kind is T.WORD and forgive_small(tokens[index - 1].kind, word.text, tokens[index + 1].kind)
        if small:
            kind = T.OF if small == "of" else T.IN
            mended[index] = word._replace(kind=kind, value=None, text=small, typed=word.text)
    return [mended.get(index, word) for index, word in enumerate(tokens)] if mended else tokens


def _in_short_words(tokens: list[Token]) -> list[Token]:
    """The words with the short ones of the trade for what older publications say at length: "2 sc as 1 sc" is 2 sc
    together, "widen once in every five stitches" in every 5th, and "narrow" before its place a decrease."""
    if all(token.kind not in (T.AS, T.OFTEN) and token.text != "narrow" for token in tokens):
        return tokens
    line = shape_of(tokens)
    words: list[Token] = []
    behind = 0
    for index, token in enumerate(tokens):
        if index < behind:
            continue
        behind = index + 1
        if (length := _AS_ONE.length(line, index)) and _number(tokens[index : index + length]) == 1:
            words.append(token._replace(kind=T.TOG, value=None, text="together"))
            behind = index + length
        elif (length := _ONCE_IN.length(line, index)) and token.number == 1:
            every, nth = tokens[index + length - 2 : index + length]
            words += [every, nth._replace(kind=T.ORDINAL)]
            behind = index + length
        else:
            words.append(token._replace(kind=T.DEC, value="") if _NARROWS.length(line, index) else token)
    return words


def _number(words: list[Token]) -> int:
    return next((word.number for word in words if word.kind is T.NUMBER), 0)


_AS_ONE = PhrasePattern("(?<= NUMBER [STITCH NOUN]) (STEP | WORK)* AS NUMBER [STITCH NOUN]?")
_ONCE_IN = PhrasePattern("(?<= [INC DEC WORD]) OFTEN IN EACH NUMBER")
_NARROWS = PhrasePattern("(?= WORD) NARROW (?= [IN EACH NUMBER OFTEN])")


def _with_repeats_first(tokens: list[Token]) -> list[Token]:
    """ "from * repeat" as "repeat from *", in words of the same columns"""
    ordered = list(tokens)
    for index in range(len(ordered) - 2):
        origin, mark, again = ordered[index : index + 3]
        if (origin.kind, mark.kind, again.kind) == (T.FROM, T.MARK, T.REPEAT):
            ordered[index : index + 3] = [
                again._replace(start=origin.start, end=origin.end),
                origin._replace(start=mark.start, end=mark.end),
                mark._replace(start=again.start, end=again.end),
            ]
    return ordered


def _without_own_title(tokens: list[Token], title: str) -> list[Token]:
    """ "Ribbing rnds 2-3: rep ribbing rnd 1" without the name that its rounds have in the heading too."""
    called = {word for word in re.findall("[a-z]+", title) if len(word) > 1}
    named = {
        index
        for index, (word, after) in enumerate(pairwise(tokens))
        if word.kind is T.WORD and after.kind is T.ROUND and word.text in called
    }
    return [token for index, token in enumerate(tokens) if index not in named]


def _own_words(context: Context) -> tuple[OwnWord, ...]:
    """What the pattern explains, the groups among it that the trade has no name for."""
    return (*context.words, *(OwnWord(name) for name, _ in context.bunches if name not in BUNCH_BY_ID))


_COLUMN = PhrasePattern("NUMBER SLASH .")
""" "Rnd 12 | 36 | +6" """


def _first_column(words: list[Token], lines: Lines) -> tuple[tuple[Stated, ...], list[Token]]:
    """The total that stands in a column of its own before what is made, and the words behind it."""
    if not _COLUMN.length(shape_of(words[:3]), 0):
        return (), words
    number, bar = words[:2]
    if bar.text != "|":
        return (), words
    return (Stated(number.number, span=lines.span(number.start, number.end)),), words[2:]


_CHANGE_ALONE = PhrasePattern("[PLUS DASH] NUMBER ([OPEN EQUALS] | $)")


def _as_change(words: list[Token]) -> list[Token]:
    """ "+6" and nothing else but a total as "inc 6 evenly", "-6" as "dec 6 evenly" """
    if not _CHANGE_ALONE.length(shape_of(words[:3]), 0) or not words[1].glued:
        return words
    sign, number = words[:2]
    kind, text = (T.INC, "inc") if sign.kind is T.PLUS else (T.DEC, "dec")
    evenly = number._replace(kind=T.EVENLY, value="", text="evenly")
    return [sign._replace(kind=kind, value="", text=text), number, evenly, *words[2:]]


_SEVERAL = 2
"""Sizes of which a number in brackets behind that of a round is the number that the round has for another one."""


def _total_in_heading(folded: str, head: Heading, context: Context, lines: Lines) -> tuple[Stated, ...]:
    """The total in "Rnd 5 (30): ..."; none where the page is for several sizes."""
    if context.sizes >= _SEVERAL or context.size or not head.bracketed:
        return ()
    start, end = head.bracketed
    return (Stated(int(folded[start:end]), span=lines.span(start, end)),)


_GOING_ON = frozenset((T.UNTIL, T.ONGOING, T.BETWEEN))
_KEEPS = ("keep", "go on")


def _may_go_on(tokens: list[Token], kinds: set[T], head: Heading) -> bool:
    """Whether a line may say how far it goes on, or that it goes on in the same way."""
    if not kinds.isdisjoint(_GOING_ON):
        return True
    several = len(head.numbers) > 1 or head.is_open
    return bool(tokens) and (tokens[0].text in _KEEPS or (several and tokens[0].kind in (T.INC, T.DEC)))


def _going_on(line: Line, cursor: Cursor, lines: Lines) -> Line | None:
    """A line that names rounds again up to a count of stitches, or goes on as those before it; None for any other."""
    words, goal = split_goal(cursor, lines)
    totals = take_totals(words, lines, cursor.context.size)
    before_goal = Cursor(totals.body, lines, cursor.context, items)
    try:
        again = onward(before_goal, line.heading) or (_reference(before_goal) if goal else None)
    except NotUnderstood as stop:
        return replace(line, problems=(*line.problems, stop.problem))
    if again is None or (again.onward and not (goal or again.rounds or line.heading.numbers)):
        return None
    line = replace(line, stated=totals.stated, rounds=totals.rounds)
    return _repeating(line, replace(again, stitches=goal), lines)


def _reference(cursor: Cursor, *, is_headed: bool = False) -> Reference | None:
    """The rounds that the line names again; before them it may join, or take another yarn, but makes nothing."""
    if cursor.begins(_REFERS) or (is_headed and cursor.begins(THE_SAME_AGAIN)):
        return reference(cursor)
    names = (_NAMES_ROUNDS, _SO_MANY_ROUNDS, *((THE_SAME_AGAIN,) if is_headed else ()))
    places = range(1, len(cursor.tokens))
    starts = (index for index in places if any(cursor.begins(phrase, index) for phrase in names))
    start = next(starts, None)
    if start is None:
        return None
    try:
        lead = tuple(items(cursor, start))
    except NotUnderstood:
        return None
    prepares = all(
        isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP) for item in lead
    )
    again = reference(cursor) if prepares and cursor.place == start else None
    return replace(again, lead=lead) if again is not None else None


def too_long(length: int, units: str, limit: int, lines: Lines) -> Problem:
    return error("too-long", f"this round has {length:,} {units}", lines.span(0, 1), f"the limit is {limit:,}")


def _forgiven(tokens: list[Token], lines: Lines) -> Iterator[Problem]:
    for token in tokens:
        if token.typed:
            second = token.typed.removeprefix(token.text)  # of two words typed as one
            read = f"{token.text} {second}" if second != token.typed else token.text
            message = f"read '{token.typed}' as '{read}'"
            yield note("slip-forgiven", message, lines.span(token.start, token.end))


def _makes(words: list[Token], lines: Lines, context: Context) -> tuple[tuple[str, int], ...]:
    """What the words of a definition make in one place; empty if they are no such thing."""
    cursor = Cursor(words, lines, context, items)
    try:
        return made_by(tuple(items(cursor, len(words))))
    except NotUnderstood:
        return ()


def _group_ending(words: list[Token], lines: Lines, context: Context) -> tuple[tuple[str, int], ...]:
    """What the group makes that these words end in; empty if they end in none."""
    try:
        return whole_group(tuple(items(Cursor(words, lines, context, items), len(words))))
    except NotUnderstood:
        return ()


def _repeating(line: Line, again: Reference, lines: Lines) -> Line:
    """A line that only names other rounds."""
    if not set(again.numbers) & set(line.heading.numbers):
        return replace(line, reference=again)
    span = lines.span(*line.heading.span)
    problem = error("refers-to-itself", "this round repeats itself", span, "name an earlier round")
    return replace(line, reference=again, problems=(*line.problems, problem))


_HOW_FAR = "write for example: Rnds 5-9: ..."


def _instructing(line: Line, cursor: Cursor, main: str) -> Line:
    """A line that says what to make; without a body if it cannot be read."""
    body: tuple[Item, ...] = ()
    foundation: Foundation | None = None
    problems = line.problems
    if line.heading.is_open and all(word.kind is not T.UNTIL for word in cursor.tokens):
        span = Lines(line.text).span(*line.heading.span)
        problems = (*problems, warning("goes-on-unclear", "to which round it goes on is not told", span, _HOW_FAR))
    try:
        made = tuple(items(cursor, len(cursor.tokens)))
        totals, unchecked = settle_totals_inside(cursor, made, line.stated)
        line, problems = replace(line, stated=totals), (*problems, *unchecked)
        body, foundation = _lowered(made, cursor, main)
    except NotUnderstood as stop:
        problems = (*problems, stop.problem)
    except RecursionError:
        message = "groups stand too deep inside each other"
        problems = (*problems, error("too-deep", message, cursor.span(0, 1), "split the round up"))
    return replace(
        line,
        body=body,
        foundation=foundation,
        rounds=line.rounds or cursor.rounds,
        worked_into=cursor.worked_into,
        passing=cursor.passing,
        remarks=tuple(cursor.remarks),
        problems=(*problems, *cursor.notes),
    )


@dataclass(frozen=True, slots=True)
class Lowered:
    """The items of a line on their way from what the words say to what they mean, and what the rest of the pattern
    says: the stitch that "inc" means, and whether chains count as one."""

    body: tuple[Item, ...]
    main: str
    chains_count: dict[int, bool | None]
    """By their length; that of any other length stands under 0."""
    joined_at: int = 0
    """Which chain of those at its start the round is closed in; 0 if that is not told."""
    foundation: Foundation | None = None


Pass = Callable[[Lowered], Lowered]


def _on_items(change: Callable[[tuple[Item, ...]], tuple[Item, ...]]) -> Pass:
    def lower(line: Lowered) -> Lowered:
        body = change(line.body)
        return line if body is line.body else replace(line, body=body)

    return lower


def _fill_stitches(line: Lowered) -> Lowered:
    return replace(line, body=fill_stitches(line.body, main_stitch(line.body, line.main)))


def _lower_start(line: Lowered) -> Lowered:
    body, foundation = lower_start(line.body, line.chains_count, line.joined_at)
    return replace(line, body=body, foundation=foundation)


PASSES: tuple[Pass, ...] = (
    # The plain stitches that "inc 6 evenly" stands among name no stitch: they come before the filling.
    _on_items(add_plain_stitches),
    # Every kind is known from here on; the height of a stitch tells what a chain before it is.
    _fill_stitches,
    # What goes into a ring or the stitch just joined in, and what is worked back over a chain, takes no base. These
    # three come before what looks for a first and a last stitch; none of them touches what another one changes.
    _on_items(place_in_ring),
    _on_items(place_in_same_stitch),
    _on_items(lower_own_chains),
    # The end comes before the start: in "ch 4, sl st in first ch" the slip stitch closes a ring, and the start needs
    # to know that.
    _on_items(lower_end),
    _on_items(with_space_between),
    # A last loop stands before what closes the round, and the start takes all that follows it into its readings.
    _on_items(lower_last_loop),
    _lower_start,
    # Only a chain that was not taken for a start can be the whole line, or the way over an opening.
    _on_items(lower_lone_chain),
    _on_items(lower_bridges),
)
"""What is done with the items when the whole line is known, in this order."""


def _is_settled_later(act: Instruction) -> bool:
    """Whether the rest of the line tells what an act is for: all but stitches into stitches of the round below."""
    if act.role is not Role.WORK or act.into is not Into.STITCH or act.is_slip_stitch or act.from_hook:
        return True
    return act.spread is not None or act.same_space or any(made.is_chain for made in act.makes)


_JOINED_TO_CHAIN = PhrasePattern(
    "(JOIN | STITCH) [WITH STITCH IN TO]* ( TOP [BEGINNING SAME ORDINAL]* NUMBER? CHAIN"
    " | ORDINAL [CHAIN NOUN]? OF [BEGINNING SAME]* (NUMBER CHAIN | CHAIN NUMBER | CHAIN (?= STOPS | $)) )"
)
""" "join to top of ch-3", "s.s. into 3rd of the 5 ch" """


def _chain_joined_to(cursor: Cursor) -> int | None:
    """Which chain of those that the round begins with it is closed on, 0 for the top one; None if on no chain."""
    for index, word in enumerate(cursor.tokens):
        if (word.kind is T.JOIN or word.value == SLIP_STITCH) and cursor.begins(_JOINED_TO_CHAIN, index):
            ordinals = (word for word in cursor.tokens[index:] if word.kind in (T.ORDINAL, T.TOP))
            nth = next(ordinals)
            return nth.number if nth.kind is T.ORDINAL else 0
    return None


def _lowered(body: tuple[Item, ...], cursor: Cursor, main: str) -> tuple[tuple[Item, ...], Foundation | None]:
    """The items once the whole line is known: what "inc" is made of, what its chains and slip stitches are for."""
    chains_count = dict(cursor.context.chains_count)
    if cursor.chains_count is not None:
        chains_count = {0: cursor.chains_count}
    joined_at = _chain_joined_to(cursor)
    line = Lowered(body, main, chains_count, joined_at or 0)
    for lower in PASSES if any(map(_is_settled_later, every_act(body))) else (_fill_stitches,):
        line = lower(line)
    if joined_at is not None:
        line = replace(line, body=settle_opening(line.body))
    words = [word.text for word in cursor.tokens]
    return closed_flat(line.body, words, through_layers=names_all_layers(cursor)), line.foundation
