"""The text of a piece's rounds, cut into rounds: one entry a heading, with the lines that belong to it."""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import takewhile

from tracker.lazy_dataclass import dataclass, replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import Colour, Into, Line, Role, Technique, acts
from tracker.notation.bunches import BUNCHES
from tracker.notation.context import Context
from tracker.notation.lexer import scan, without_fillers
from tracker.notation.parser.heading import heading_of
from tracker.notation.parser.remark import begins_sentence
from tracker.notation.reader import read_once
from tracker.notation.token_kinds import HEADS, MADE, PARTS_STITCHES, STOPS, WORKED, T
from tracker.notation.token_stream import Token, opening_of
from tracker.notation.yarn_names import is_sure_yarn, yarn_led_to
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.group_definitions import definition
from tracker.pattern.model import Entry
from tracker.pattern.reference_lines import names_again, with_its_repeat, with_whole_references
from tracker.pattern.round_loops import loops_of_round
from tracker.rounds.checks import weigh

MAX_LINES = 20_000
"""The longest piece, in lines of text."""


@dataclass(frozen=True, slots=True)
class Entries:
    """The rounds of a piece in order, what stands after the last one, and what the piece's lines define."""

    entries: tuple[Entry, ...]
    remarks: tuple[str, ...]
    context: Context


_INLINE = compile_later(
    r"(?<=[\])}.;*\d])\s+(?=(?:rnds?|rounds?|rows?|laps?|rds?|r)\s*\d+(?:\s*(?:-|to|&|and)\s*\d+)?\s*(?::|\.\s|\)\s|-\s))"
)


REFERS = compile_later(
    r"\b(?:rep|repeat|of|in|as|like|from|through|thru|to|and|between|see|after|before|until|till|on)\s*$"
)
"""Words behind which a round is named and not begun."""


_COLON_BEHIND = compile_later(r"\s?(?:\([^()\n]{1,30}\)\s?)?:")
"""The colon of a heading, with a side or a yarn before it in brackets: "Row 3 (A):"."""


def is_named_only(above: str, text: str) -> bool:
    """Whether the line above leads to the round that a line begins with: "... the stitches of" over "round 1, dc"."""
    head = heading_of(text)
    # A number alone, "4-7)", is one of a list and not what "repeat" leads to: that is called by its word, "round 4".
    named = text[: head.end]
    if not any(map(str.isalpha, named)) or ":" in named or _COLON_BEHIND.match(text, head.end):
        return ")" in named and above.rfind("(") > above.rfind(")")  # "(count as dc and ch" over "1), dc in ..."
    return REFERS.search(fold(above[-LONGEST_WORD:])) is not None


LONGEST_WORD = 12
"""Characters at the end of a line in which the word stands that leads on."""


def cut(text: str, context: Context) -> Entries:
    """Cut a piece's text into its rounds. Lines without a heading go on with the round before, or stand alone."""
    lines = text.split("\n")[:MAX_LINES]
    rows = (piece for number, line in enumerate(lines) for piece in _split_inline(line, number))
    pieces = with_whole_references([part for piece in rows for part in with_its_repeat(piece, context)], context)
    any_heading = any(_has_heading(piece.text) for piece in pieces)
    entries: list[Entry] = []
    colour, remarks = "", []
    for index, piece in enumerate(pieces):
        if not piece.text.strip():
            continue
        if yarn_plan(piece.text, context) is not None:
            remarks.append(piece.text.strip())
            continue
        headed = _has_heading(piece.text) and not (index and is_named_only(pieces[index - 1].text, piece.text))
        defined = None if headed else definition(piece.text, context)
        if defined is not None:
            context = replace(context, bunches=(*(b for b in context.bunches if b[0] != defined[0]), defined))
            remarks.append(piece.text.strip())
            continue
        if headed:
            unnumbered = False
        elif not any_heading:
            # Nobody numbered anything, so each line that makes something is a round of its own.
            unnumbered = _makes(piece.text, context)
        elif entries:
            # Where others have numbers, one without goes on with the round above, unless it cannot.
            unnumbered = _follows(entries[-1], piece, _below(pieces, index, context), context)
        else:
            text, below = piece.text, _below(pieces, index, context)
            for ahead in range(1, _MOST_LINES):  # "make 6 / ch, join into a / ring" is one sentence
                if not below or _has_heading(below) or not is_cut_in_a_phrase(text, below, context):
                    break
                text, below = f"{text}\n{below}", _below(pieces, index + ahead, context)
            unnumbered = begins(text, context, below) or _is_first(piece.text, below, context)
        if headed or unnumbered or names_again(piece.text, context):
            entries.append(replace(piece, colour=colour, remarks=tuple(remarks)) if colour or remarks else piece)
            colour, remarks = "", []
            continue
        goes_on_here = bool(entries) and not remarks and not colour and _is_next_line(entries[-1], piece, context)
        is_step = goes_on_here and is_bare_heading(entries[-1].text.partition("\n")[0])
        changed = "" if is_step else colour_of_line(piece.text, context)
        if changed:
            colour = changed
            remarks += [piece.text.strip()] * bool(loops_of_round(piece.text))
        elif goes_on_here:
            entries[-1] = replace(entries[-1], text=f"{entries[-1].text}\n{piece.text}")
        else:
            remarks.append(piece.text.strip())
            colour = colour or _colour_of_ground(piece.text, context)
    return Entries(tuple(entries), tuple(remarks), _with_named_groups(context, entries))


def _with_named_groups(context: Context, entries: list[Entry]) -> Context:
    """The context with the groups that a round writes out and names, "3 dc, ch 2, 3 dc in next sp (shell made)",
    where the piece tells of each but one."""
    ways: dict[str, set[tuple[tuple[str, int], ...]]] = {}
    for entry in entries:
        if _NAMED_WHERE_MADE.search(entry.text):
            for name, makes in read_once(entry.text, context).groups:
                ways.setdefault(name, set()).add(makes)
    defined = {name for name, _ in context.bunches}
    named = tuple((name, makes.pop()) for name, makes in ways.items() if len(makes) == 1 and name not in defined)
    return replace(context, bunches=(*context.bunches, *named)) if named else context


_NAMES_OF_GROUPS = "|".join(re.escape(word) for b in BUNCHES if b.stitches not in (0, 1) for word in b.words)
_NAMED_WHERE_MADE = compile_later(rf"\([^()]{{0,12}}\b(?:{_NAMES_OF_GROUPS})\b", re.I)
""" "... (1st shell" """


def _below(pieces: list[Entry], index: int, context: Context) -> str:
    """The line below, with the first of its steps if it is a heading alone, and of a round with the lines up to where
    it can be read; "" if there is none."""
    lines = [piece.text for piece in pieces[index + 1 : index + 1 + _MOST_LINES]]
    if not lines or not _has_heading(lines[0]):
        return "".join(lines[:1])
    shortest = 2 if is_bare_heading(lines[0]) else 1
    own = [lines[0], *takewhile(lambda line: not _has_heading(line), lines[1:])]
    ways = ("\n".join(own[:length]) for length in range(shortest, len(own) + 1))
    return next((way for way in ways if read_once(way, context).is_readable), "\n".join(lines[:shortest]))


_MOST_LINES = 6
"""Lines of a round that are read to know what it goes into."""


def _split_inline(line: str, number: int) -> list[Entry]:
    """Two rounds on one line are cut apart where a heading stands after the end of a round."""
    end = heading_of(line).end
    if end == 0:
        return [Entry(line, number)]
    folded = fold(line)
    headings = (m for m in _INLINE.finditer(folded) if m.end() >= end or not re.search("[a-z]", folded[: m.start()]))
    starts = [0, *(m.end() for m in headings)]
    ends = [*starts[1:], len(line)]
    return [Entry(line[a:b].rstrip(), number, a) for a, b in zip(starts, ends, strict=True)]


def _has_heading(text: str) -> bool:
    head = heading_of(text)
    return head.end > 0 and (head.begins_round or head.first is not None)


def begins(text: str, context: Context, below: str = "") -> bool:
    """A chain to work into, or stitches on a chain or in a ring that the line makes for itself.

    Of a chain that is closed to a ring the round `below` tells whether it goes into the chains or into the ring.
    """
    line = read_once(text, context)
    made = acts(line.body) if line.is_readable else []
    closed = any(act.technique in (Technique.JOIN_RING, Technique.JOIN) for act in made)
    # Three chains and fewer start a ring, not a row.
    if any(act.technique is Technique.FOUNDATION and (act.stitches > 3 or closed) for act in made):
        return not closed or (bool(below) and not _goes_into_ring(below, context))
    works = any(act.role is Role.WORK and act.stitches for act in made)
    on_chain = line.foundation is not None and line.foundation.bases > 0
    ringed = any(act.into is Into.RING or act.technique is Technique.JOIN_RING for act in made)
    return works and (on_chain or ringed)


def _colour_of_ground(text: str, context: Context) -> str:
    """The yarn that a ring of chains without a heading begins with, "With A, ch 4 and join": the first round is made
    with it; "" for any other line."""
    line = read_once(text, context)
    first = line.body[0] if line.is_readable and line.body else None
    return first.key if isinstance(first, Colour) and is_closed_chain(line) else ""


def is_closed_chain(line: Line) -> bool:
    """Whether all that a line makes is a chain, which it closes to a ring."""
    made = acts(line.body)
    chained = all(act.technique is Technique.FOUNDATION for act in made if act.role is not Role.STEP)
    return chained and any(act.technique in (Technique.JOIN_RING, Technique.JOIN) for act in made)


def _is_first(text: str, below: str, context: Context) -> bool:
    """Whether a line over the first heading begins a round that goes on in the line below, or is a first round that
    cannot be read, because the heading below is that of the second."""
    after = heading_of(below).numbers[:1]
    if not _has_heading(below):
        return goes_on(text, below, context) and begins(f"{text}\n{below}", context)
    return after == (2,) and bool(read_once(text, context).stated)


def is_round_alone(text: str, context: Context, below: str = "") -> bool:
    """Whether a line without a heading is a whole round, alone or with the line below that it breaks off for: it
    makes stitches and states their total."""
    line = read_once(text, context)
    breaks_off = below and not line.stated and not text.rstrip().endswith((".", "!", ")", "]"))
    if breaks_off and not _has_heading(below) and not begins_sentence(text):
        line = read_once(f"{text}\n{below}", context)
    if not line.is_readable or not line.stated:
        return False
    # "Close the arm with 4 sc through both layers (4)": a sentence whose sums agree is work.
    if begins_sentence(text) and weigh(replace(line, stated=()), None).leaves != line.stated[-1].stitches:
        return False
    return any(act.role is Role.WORK and act.stitches for act in acts(line.body))


def _follows(entry: Entry, piece: Entry, below: str, context: Context) -> bool:
    """Whether a line without a heading is a round of its own behind one that is complete."""
    return is_round_alone(piece.text, context, below) and not _is_next_line(entry, piece, context)


def _goes_into_ring(text: str, context: Context) -> bool:
    """Whether a round goes into the ring: it says so, or makes spaces and names nothing that it is worked into."""
    made = acts(read_once(text, context).body)
    if any(act.into is Into.RING for act in made):
        return True
    worked = next((act for act in made if act.role is Role.WORK), None)
    if worked is not None and worked.into is Into.SPACE:
        return True  # a ring of chains has no other space than its own: "2 dc in loop"
    has_spaces = any(act.role is Role.CHAIN for act in made[1:])
    return has_spaces and not _NAMES_A_PLACE.search(fold(text))


_NAMES_A_PLACE = compile_later(r"\b(?:in(?:to)?|over|each|every|next|around|sk|skip|miss)\b")
"""Words that lead to what a stitch is worked into, or over it."""


def _makes(text: str, context: Context) -> bool:
    line = read_once(text, context)
    if not line.is_readable:
        return not begins_sentence(text) or any(token.kind in MADE for token in scan(fold(text), context.terms))
    return bool(line.reference) or any(act.role is not Role.STEP for act in acts(line.body))


def colour_of_line(text: str, context: Context) -> str:
    """The colour that a line of its own names ("Change to grey"), else ""."""
    line = read_once(text, context)
    colours = [item for item in line.body if isinstance(item, Colour)]
    if any(act.role is not Role.STEP for act in acts(line.body)):
        return ""
    tokens = without_fillers(scan(fold(text[:_LONGEST_SENTENCE]), context.terms, context.colours))
    # "Leave it open, with a long tail" begins with no word that takes up a yarn, and names none for sure.
    is_yarn = bool(colours) and (is_sure_yarn(colours[-1].key) or colours[-1].key in context.colours)
    if line.is_readable and colours and (is_yarn or (tokens and tokens[0].kind not in (T.WORD, T.OMIT))):
        return colours[-1].key
    return yarn_led_to(tokens, context.colours)


_LONGEST_SENTENCE = 200
"""Characters of a line that are looked at for the yarn that it goes on with."""


def _is_next_line(entry: Entry, piece: Entry, context: Context) -> bool:
    return piece.line == entry.line + entry.text.count("\n") + 1 and goes_on(entry.text, piece.text, context)


@lru_cache(maxsize=64)  # asked again for each of the ways to see a page
def goes_on(text: str, below: str, context: Context) -> bool:
    """Whether a line without a heading is the rest of the round before it, whose text this is."""
    if _repeats_part(text, below, context):
        return True
    if _asks(below):
        return False
    _, steps_above, last = text.rpartition("\n")
    if _BULLET.match(below) and is_bare_heading(text.partition("\n")[0]) and (not steps_above or _BULLET.match(last)):
        return not _is_title(below, context)  # what is said between steps is no more than a remark among them
    if is_cut_in_a_phrase(text, below, context):
        return True
    if is_bare_heading(text.partition("\n")[0]) and _is_last_step(text, below, context):
        return True
    sentences_end = text.rstrip().endswith(".") or below.rstrip().endswith("!")
    if begins_sentence(below) or (sentences_end and _is_aside(below, context)):
        return False
    if is_bare_heading(text.partition("\n")[0]):
        steps = read_once(below, context)
        if steps.is_readable:
            return bool(acts(steps.body) or steps.stated)
        if _is_sentence(below) and read_once(text, context).is_readable and read_once(text, context).stated:
            return False  # "Take a moment to count: there are 11 dc on each side."
        return not _is_title(below, context) and bool(_kinds(below, context) & _OF_A_CLAUSE)
    line = read_once(text, context)
    if _fastens_off(line) and _makes(below, context):
        return False
    if re.match(r"\(\d+[,/]", below) and re.search(r"\d\s*$", text):
        return True  # the totals of the other sizes
    if _COUNTS_WHAT_FOLLOWS.search(text) and below[:1].islower() and _begins_with_stitch(below, context):
        return True
    breaks_off = text.rstrip().endswith((",", ";", "and"))
    if breaks_off and below[:1].islower() and _names_part_of_a_round(below, context):
        return True
    whole = line.is_readable and bool(line.body or line.reference) and not breaks_off
    if whole and _is_sentence(below) and not read_once(f"{text}\n{below}", context).is_readable:
        return False  # "You have 4 groups now." makes no round that can be read unreadable
    unfinished = not line.is_readable or not line.stated or breaks_off
    says_nothing = not _kinds(below, context) & _OF_A_CLAUSE and not _TOTAL_ALONE.fullmatch(below)
    if not unfinished or (says_nothing and not breaks_off):
        return False  # "Save", "Page 2 of 5", "3"
    # A chain at the end of the line above is of the round where that is joined below.
    joins = [act.technique for act in acts(read_once(below, context).body)] == [Technique.JOIN]
    return joins or _makes(below, context) or bool(read_once("sc " + below, context).stated)


def _is_last_step(text: str, below: str, context: Context) -> bool:
    """Whether a sentence says how often the steps above it are worked, or what they come to: "Repeat these two steps
    around.", "Total: 24 stitches." """
    words = scan(fold(below[:_LONGEST_SENTENCE]), context.terms, context.colours)
    return bool(words) and words[0].kind in (T.REPEAT, T.TOTAL) and read_once(f"{text}\n{below}", context).is_readable


def _without_sizes(words: list[Token]) -> list[Token]:
    """The words without the numbers of other sizes behind a number at their end, "hdc in next 20 (22, 24)"."""
    opening = opening_of(words, len(words) - 1) or 0
    inner = {word.kind for word in words[opening + 1 : -1]}
    if not opening or words[opening - 1].kind is not T.NUMBER or not inner <= {T.NUMBER, T.COMMA, T.SLASH}:
        return words
    return words[:opening] if inner != {T.NUMBER} else words


def is_cut_in_a_phrase(text: str, below: str, context: Context) -> bool:
    """Whether the end of the line cuts what one line was: "... 2 sc in next st)" over "x 6 (18", "... rep to" over
    "end of round", and no sentence for the maker stands below."""
    words = scan(fold(text[-_LONGEST_SENTENCE:]), context.terms, context.colours)
    after = scan(fold(below[:_LONGEST_SENTENCE]), context.terms, context.colours)
    if not words or not after or _asks(below):
        return False
    if is_bare_heading(text):
        return begins_sentence(below) and _is_work(read_once(below, context))
    first, kinds = after[0].kind, {word.kind for word in after}
    opened = sum((word.kind is T.OPEN) - (word.kind is T.CLOSE) for word in words)
    closes = next((word.kind for word in after if word.kind in (T.OPEN, T.CLOSE)), None) is T.CLOSE
    if opened > 0 and (closes or (kinds & _OF_A_ROUND and not begins_sentence(below))):
        return True
    last = _without_sizes(words)[-1]
    # "Next, we make the mouth" begins anew
    leads = last.kind in WORKED and first in (T.IN, T.TO, T.NEXT, T.EACH) and not below[:2].istitle()
    if leads or (last.kind in PARTS_STITCHES and first in _GOES_ON_WITH_STITCHES):
        return True
    if last.kind is T.NUMBER and first in _COUNTED:
        return True
    if first is T.NOUN and below[:1].islower() and last.kind not in STOPS | {T.CLOSE}:
        return True  # "sc in each of the 20 skipped" over "sts, ..."
    is_cut_ordinal = last.kind is T.ORDINAL and last.text.isalpha() and below[:1].islower()  # "on second" over "leg"
    if is_cut_ordinal or last.kind in _LEADS_ON or last.text in _ARTICLES:
        is_told = first is T.WORD and begins_sentence(below)
        return not is_told or read_once(f"{text}\n{below}", context).is_readable
    line = read_once(text, context)
    if line.stated:
        return False
    if first in _GOES_ON_BEHIND_COMMA and last.kind in (T.CLOSE, T.MARK):
        return T.ROUND not in kinds
    return not line.is_readable and read_once(f"{text}\n{below}", context).is_readable


def _is_work(line: Line) -> bool:
    return line.is_readable and any(act.role is Role.WORK for act in acts(line.body))


_GOES_ON_BEHIND_COMMA = frozenset((T.REPEAT, T.TIMES, T.OFTEN, T.ONGOING, T.AROUND))
_GOES_ON_WITH_STITCHES = _GOES_ON_BEHIND_COMMA | HEADS
_COUNTED = frozenset((T.NOUN, T.TIMES, T.MORE, T.TOG))
_LEADS_ON = frozenset((T.IN, T.OVER, T.OF, T.EACH, T.OTHER, T.NEXT, T.FROM, T.TO, T.UNTIL, T.BETWEEN))
_ARTICLES = ("the", "a", "an")
"""What a line ends in that was cut for the page."""


_TOTAL_ALONE = compile_later(r"\W*(?:\d{2,4}|[4-9])\W*")
"""A number alone on its line, from the fewest stitches that a round is begun on (common practice, no source)."""

_COUNTS_WHAT_FOLLOWS = compile_later(r"[,;(*:]\s*\d{1,3}\s*$")
""" "ch 1, 12" over "sc in ring": a number that the end of the line cut off from its stitch"""


def _begins_with_stitch(text: str, context: Context) -> bool:
    words = scan(fold(text), context.terms, context.colours)
    return bool(words) and words[0].kind in MADE


def _asks(text: str) -> bool:
    """Whether the reader is asked something, as in no round: "Was it fun? Show me yours!" """
    return text[:1].isupper() and re.search(r"[a-z]\?(?:\s|$)", text) is not None


def _is_sentence(text: str) -> bool:
    """Whether it begins and ends as a sentence, of more words than a phrase of a round has by itself."""
    return text[:1].isupper() and text.rstrip().endswith((".", "!")) and len(text.split()) > _PHRASE


_PHRASE = 5
"""Words of "Repeat from * to end." """


def _kinds(text: str, context: Context) -> set[T]:
    return {token.kind for token in scan(fold(text), context.terms, context.colours)}


def _is_aside(text: str, context: Context) -> bool:
    """Whether a sentence names nothing that a round is made of: "Now work in two halves for the handle.", or only
    says how it turns out: "You always put a sc on top of a dc." """
    kinds = _kinds(text, context)
    if _TELLS.match(text) and not kinds & _TO_BE_MADE:
        return True
    return text[:1].isupper() and T.WORD in kinds and not kinds & _OF_A_ROUND


_TELLS = compile_later(r"(?:You|I|It|This|That|They)\b")
_TO_BE_MADE = frozenset((
    T.NUMBER, T.ORDINAL, T.EACH, T.NEXT, T.SAME, T.LAST, T.AROUND, T.REPEAT, T.OFTEN, T.TIMES, T.SKIP, T.MARK,
))  # fmt: skip
"""What tells how many are made, or into what."""


def _names_part_of_a_round(text: str, context: Context) -> bool:
    """Whether a line counts stitches, or says what is done with them: "count down 9 loops at the back and"."""
    kinds = _kinds(text, context)
    return T.NUMBER in kinds and bool(kinds & _OF_A_ROUND)


_OF_A_ROUND = MADE | {
    T.NOUN, T.SPACE, T.REPEAT, T.JOIN, T.TURN, T.MARK, T.RING, T.AROUND, T.LOOP, T.COLOURED, T.CHANGE,
}  # fmt: skip
"""What a sentence has that goes on with a round."""


_OF_A_CLAUSE = _OF_A_ROUND | {
    T.EACH, T.NEXT, T.TIMES, T.OFTEN, T.MORE, T.OPEN, T.CLOSE, T.EQUALS, T.TOTAL, T.END, T.REMAINING, T.TO, T.EVEN,
    T.TOG, T.EVENLY, T.DASH, T.STEP, T.ONGOING,
}  # fmt: skip
"""What the end of a round has, if it is no number alone; words without any of it have nothing to do with one."""

_REPEATING = compile_later(r"\W*(?:rep|repeat)\b.*\*")


def _repeats_part(text: str, below: str, context: Context) -> bool:
    """Whether a line tells how often a marked part of this text is worked: "rep from * twice"."""
    if "*" not in text or not _REPEATING.match(fold(below)):
        return False
    both = read_once(f"{text}\n{below}", context)
    return both.is_readable and both.body != read_once(text, context).body


def _fastens_off(line: Line) -> bool:
    """Whether the yarn is cut at the end of a round: what is worked below begins anew."""
    made = [act.technique for act in acts(line.body) if act.technique is not Technique.TURN]
    return made[-1:] == [Technique.FASTEN_OFF]


_BULLET = compile_later(r"\s*[-–—•*▪◦●]\s+\S")
"""A step in a list of them; behind a number it is a sentence."""

_TITLE = compile_later(r"[A-Z][a-z]+(?: [A-Z][a-z]+){1,3}:?")
"""Two to four words that all begin with a capital: "Shoe Body", which names what comes and is no step."""


def _is_title(text: str, context: Context) -> bool:
    return _TITLE.fullmatch(text.strip()) is not None and MADE.isdisjoint(_kinds(text, context))


def is_bare_heading(text: str) -> bool:
    """Whether nothing stands behind the heading of a round: what is below it, a step a line, is all of the round."""
    head = heading_of(text)
    return bool(head.numbers) and not any(map(str.isalnum, text[head.end :]))
