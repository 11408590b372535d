"""A round with words in it that nobody understands: read without them where the arithmetic vouches for it.

A reading has a cost. The plainest words cost nothing, a full stop taken as part of a short word costs a little, a
clause or a sentence taken as a remark costs more. What carries a number, a stitch or a place is never left out of a
clause; a sentence that carries one costs so much that the maker is asked. A word where a stitch should stand is never
left out either: it is taken for a known one that is one letter off, or for a stitch over one place, and the maker is
asked whether it is one.

The witnesses are the bases that are there, the stated total and the need of the next round. Two agree and the cost is
small: the round is read so, and what was taken as a remark is told. One agrees, or the cost is high: the maker is
asked. A witness that contradicts ends it, and the round stays as unreadable as it was.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from heapq import heappop, heappush
from itertools import pairwise

from tracker.diagnostics import Problem, Proposal, Severity, Span, note, verdict_of, warning
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context, OwnWord
from tracker.notation.lexer import scan
from tracker.notation.parser.remark import like_words, nearest
from tracker.notation.token_kinds import MADE, PAUSES, T
from tracker.notation.token_stream import Token
from tracker.rounds.bases import Base
from tracker.rounds.checks import Weighed, weigh

Read = Callable[[str, tuple[OwnWord, ...]], Line]
"""Reads the text of a round as its piece reads all of them, with words that are explained for this once."""

LONGEST = 1_500
"""Characters of a round that is tried: a page of lace has about a thousand in its longest."""

MOST_TRIED = 10
"""Readings of one round that are tried: three remarks in a round are many, and each can be cut in three ways."""

MOST_READ = 3_000
"""Characters that are read again for one round, so that a long one takes no longer than eight of the usual length."""

MOST_TIMES = 40
"""Numbers of times that are tried where one was lost: a round seldom has more repeats."""

# What a change costs; the sum decides whether the maker is asked.
ABBREVIATION = 1
REMARK = 2
# Cost, above all that may be left out without a question.
# All three above what may be left out without a question. The worse the guess, the more: a letter mistyped, ...
LIKE_WORD = 5
# ... a stitch that nobody knows, ...
UNKNOWN_STITCH = 6
# ... a sentence with stitches in it.
SENTENCE_WITH_STITCHES = 7

SMALL = 4
"""Two remarks, or one and a few full stops: as many as a printed round has. Above it the maker is asked."""

WITNESSES = 2
"""How many must agree before a round is read without asking: one alone can be made to fit."""


@dataclass(frozen=True, slots=True)
class _Change:
    """Blanks for some of the characters. `words` are those taken as a remark, "" where only full stops went; `stitch`
    is a phrase that is taken for a stitch, "" where none is; `meant` is a word taken for another, `places` where it
    stands."""

    cost: int
    blanked: tuple[tuple[int, int], ...] = ()
    words: str = ""
    stitch: str = ""
    meant: tuple[OwnWord, ...] = ()
    places: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class Lenient:
    """A round read with changes. The blanks that stand for what was left out keep every column where it was."""

    line: Line
    cost: int
    left_out: tuple[str, ...] = ()
    stitches: tuple[OwnWord, ...] = ()
    meant: tuple[OwnWord, ...] = ()
    places: tuple[Span, ...] = ()
    """Where the words stand that were taken for others."""


def read_leniently(line: Line, base: Base | None, need: int | None, context: Context, read: Read) -> Line | None:
    """A line that cannot be read, without the words that stand in the way; None if no witness vouches for that.

    `base` is what is there (None: not known), `need` how many stitches the next round uses (None: not known). The
    last problem of the line tells what was left out, with a proposal where the maker has to agree.
    """
    lost = next((problem for problem in line.problems if problem.code == "times-lost"), None)
    if lost is not None:
        return _with_number(line, lost.span, base, need, read)
    best: tuple[Lenient, Weighed, int] | None = None
    for lenient in lenient_readings(line, context, read):
        weighed = weigh(lenient.line, base)
        agreeing = _witnesses(lenient.line, weighed, base, need)
        if not agreeing or not _is_vouched(lenient, weighed, need) or _is_lost(lenient, weighed):
            continue
        if best is None:
            best = lenient, weighed, agreeing
        elif lenient.cost == best[0].cost and weighed.leaves != best[1].leaves:
            return None  # two that are as likely make different numbers
        elif lenient.cost > best[0].cost:
            break
    return None if best is None else _told(line, *best)


def _with_number(line: Line, sign: Span, base: Base | None, need: int | None, read: Read) -> Line | None:
    """A line in which the number of times was lost, with the only one that fits; None if none or several do."""
    start, end = _bounds(line.text, sign)
    found: list[tuple[Line, Weighed, int]] = []
    for number in range(2, min(MOST_TIMES, MOST_READ // max(len(line.text), 1)) + 1):
        fitting = read(line.text[:start] + str(number).ljust(end - start) + line.text[end:], ())
        if not fitting.is_readable:
            return None
        weighed = weigh(fitting, base)
        if _witnesses(fitting, weighed, base, need) >= WITNESSES:
            found.append((fitting, weighed, number))
    if len(found) != 1:
        return None
    fitting, weighed, number = found[0]
    assert weighed.leaves is not None and weighed.uses is not None
    reason = f"read the lost number of times as {number}"
    message = f"{reason}; then it uses {weighed.uses} and leaves {weighed.leaves}: right?"
    told = warning("proposal", message, sign, "agree, or write the round anew")
    text = f"{line.text[:start]}x {number}{line.text[end:]}"
    told = replace(told, proposal=Proposal(text, weighed.uses, weighed.leaves, reason))
    return replace(fitting, text=line.text, problems=(*fitting.problems, told))


def _told(line: Line, lenient: Lenient, weighed: Weighed, agreeing: int) -> Line:
    """The line as it was typed, with what the changed one says and what was changed."""
    is_sure = agreeing >= WITNESSES and lenient.cost <= SMALL
    if lenient.stitches:
        problem: Problem | None = _stitch_problem(line, lenient, weighed)
    else:
        problem = _remark_problem(line, lenient) if is_sure else _proposal_problem(line, lenient, weighed)
    problems = (*lenient.line.problems, problem) if problem else lenient.line.problems
    remarks = (*lenient.line.remarks, *lenient.left_out)
    return replace(lenient.line, text=line.text, remarks=remarks, problems=problems)


def _remark_problem(line: Line, lenient: Lenient) -> Problem | None:
    if not lenient.left_out:
        return None
    return note("taken-as-remark", f"took {_quoted(lenient.left_out)} as a remark", line.instruction)


def _proposal_problem(line: Line, lenient: Lenient, weighed: Weighed) -> Problem:
    assert weighed.leaves is not None and weighed.uses is not None
    reasons = [f"read '{word.phrase}' as '{word.meaning}'" for word in lenient.meant]
    if lenient.left_out:
        reasons.append(f"left out {_quoted(lenient.left_out)}")
    reason = " and ".join(reasons) or "took full stops as part of short words"
    uses, leaves = weighed.uses, weighed.leaves
    text = _tidy(lenient.line.text)
    for word in lenient.meant:
        text = re.sub(rf"\b{re.escape(word.phrase)}\b", word.meaning, text, flags=re.IGNORECASE)
    message = f"{reason}; then it uses {uses} and leaves {leaves}: right?"
    told = warning("proposal", message, line.instruction, "agree, or write the round anew")
    return replace(told, proposal=Proposal(text, uses, leaves, reason))


def _stitch_problem(line: Line, lenient: Lenient, weighed: Weighed) -> Problem:
    assert weighed.leaves is not None and weighed.uses is not None
    names = _quoted(tuple(word.phrase for word in lenient.stitches))
    besides = f", left out {_quoted(lenient.left_out)}" if lenient.left_out else ""
    uses, leaves = weighed.uses, weighed.leaves
    message = f"took {names} for a stitch over one place{besides}; then it uses {uses} and leaves {leaves}: right?"
    return warning("stitch-supposed", message, line.instruction, "say in the file under [words] what it is")


_MOST_QUOTED = 60
"""Characters of left-out words that are shown; a question is to be read at a glance."""


def _quoted(words: tuple[str, ...]) -> str:
    short = [each if len(each) <= _MOST_QUOTED else each[: _MOST_QUOTED - 1].rstrip() + "…" for each in words]
    return " and ".join(f"'{each}'" for each in short)


def _tidy(text: str) -> str:
    """The text without the blanks of what was left out."""
    rows = (" ".join(row.split()) for row in text.split("\n"))
    return "\n".join(row.replace(" ,", ",").replace(" .", ".") for row in rows if row)


def _witnesses(line: Line, weighed: Weighed, base: Base | None, need: int | None) -> int:
    """How many of the witnesses agree; none if one contradicts."""
    if weighed.leaves is None or not weighed.leaves or verdict_of(weighed.problems) != "ok":
        return 0
    if need is not None and need != weighed.leaves:
        return 0
    own_chain = line.foundation is not None and line.foundation.bases > 0
    by_bases = bool(weighed.uses) and (base is not None or own_chain)
    return by_bases + (weighed.stated is not None) + (need is not None)


def _is_vouched(lenient: Lenient, weighed: Weighed, need: int | None) -> bool:
    """Whether every supposed stitch is made, and more than the bases speaks for it, which "in each st around" fits in
    any case."""
    if not lenient.stitches:
        return True
    made = dict(weighed.plan.tally.kinds) if weighed.plan is not None else {}
    is_made = all(made.get(word.phrase) for word in lenient.stitches)
    return is_made and (weighed.stated is not None or need is not None)


def _is_lost(lenient: Lenient, weighed: Weighed) -> bool:
    """Whether a word that was taken for another became part of nothing that is made: that would leave out what may
    have been a stitch."""
    text = lenient.line.text
    made = [_bounds(text, run.span) for run, times in weighed.plan.runs() if times] if weighed.plan else []
    told = zip(lenient.meant, lenient.places, strict=True)
    places = [_bounds(text, place)[0] for word, place in told if word.meaning not in _JOINTS]
    return any(not any(start <= place < end for start, end in made) for place in places)


_JOINTS = ("then", "and")
"""Words that stand between what is made and are part of nothing."""


# The search: cheapest changes first.


def lenient_readings(line: Line, context: Context, read: Read) -> Iterator[Lenient]:
    """Readings of a line that cannot be read, cheapest first; bounded in length and number."""
    if len(line.text) > LONGEST:
        return
    heap: list[tuple[int, int, Lenient]] = [(0, 0, Lenient(line, 0))]
    seen: set[tuple[str, tuple[OwnWord, ...]]] = {(line.text, ())}
    tried = 0
    most = min(MOST_TRIED, MOST_READ // max(len(line.text), 1))
    while heap:
        cost, _, lenient = heappop(heap)
        current = lenient.line
        if current.is_readable and current.body:
            yield lenient
            continue
        for change in _changes(current, line, context):
            text = _blanked(current.text, change.blanked)
            stitches = (*lenient.stitches, OwnWord(change.stitch)) if change.stitch else lenient.stitches
            meant = (*lenient.meant, *change.meant)
            if (text, (*stitches, *meant)) in seen or tried >= most:
                continue
            seen.add((text, (*stitches, *meant)))
            tried += 1
            words = (*lenient.left_out, change.words) if change.words else lenient.left_out
            anew, places = read(text, (*stitches, *meant)), (*lenient.places, *change.places)
            changed = Lenient(anew, cost + change.cost, words, stitches, meant, places)
            heappush(heap, (changed.cost, tried, changed))


def _blanked(text: str, stretches: tuple[tuple[int, int], ...]) -> str:
    for start, end in stretches:
        text = text[:start] + " " * (end - start) + text[end:]
    return text


def _changes(current: Line, typed: Line, context: Context) -> Iterator[_Change]:
    """What could be changed so that the first error of the line goes away."""
    errors = [problem for problem in current.problems if problem.severity is Severity.ERROR]
    if not errors or current.reference is not None:
        return
    begin = current.heading.end
    folded = " " * begin + fold(current.text)[begin:]
    tokens = scan(folded, context.terms, context.colours)
    error = _offset(current.text, errors[0].span.line, errors[0].span.start)
    index = next((number for number, token in enumerate(tokens) if token.end > error), None)
    if index is None or error < begin:
        return
    page = _Page(typed, tokens)
    dots = page.abbreviation_dots()
    if dots:
        yield _Change(ABBREVIATION, dots, "")
    for first, end, is_sentence in page.stretches(index):
        cost = page.cost(first, end, is_sentence=is_sentence)
        if cost:
            start, stop = tokens[first].start, tokens[end - 1].end
            words = " ".join(typed.text[start:stop].split())
            yield _Change(cost, page.rows(*page.with_its_stops(first, end)), words)
    if errors[0].code == "unknown-word":
        is_made = index == 0 or tokens[index - 1].kind in _BEFORE_A_STITCH
        word = tokens[index].text
        likes = like_words(word, context.terms, is_made=is_made)
        for like in likes or _far_likes(word, context.terms):
            cost = LIKE_WORD if likes else UNKNOWN_STITCH
            yield _Change(cost, meant=(OwnWord(word, like),), places=(errors[0].span,))
        yield from (_Change(UNKNOWN_STITCH, stitch=name) for name in page.names_of_stitches(index))


_MOST_OFF = 2
"""Letters by which a word may be longer or shorter than the one that is meant."""


def _far_likes(word: str, terms: str) -> tuple[str, ...]:
    """The known word with the same first letter that is suggested for this one, though more than a letter is off."""
    if len(word) <= _MOST_OFF or word in _FUNCTION_WORDS:
        return ()
    near = nearest(word, terms)
    if near is None or near[0] != word[0] or " " in near:
        return ()
    return (near,) if abs(len(near) - len(word)) <= _MOST_OFF or word.startswith(near) else ()


def _offset(text: str, row: int, column: int) -> int:
    rows = text.split("\n")
    return sum(len(each) + 1 for each in rows[:row]) + column


# What may be left out.

_NEVER_LEFT_OUT = frozenset((
    T.NUMBER, T.ORDINAL, T.OFTEN, T.TIMES, T.MORE, T.STITCH, T.POSTED, T.INC, T.DEC, T.TOG, T.BUNCH, T.CHAIN,
    T.CHAINLESS, T.SKIP, T.LOOP, T.NOUN, T.SPACE, T.RING, T.CORNER, T.EACH, T.NEXT, T.SAME, T.LAST, T.AROUND,
    T.REPEAT, T.REMAINING, T.EVENLY, T.OMIT, T.COUNTS, T.TOTAL, T.TURN, T.JOIN, T.STEP, T.CHANGE, T.COLOURED,
    T.BETWEEN, T.PREVIOUS, T.MARK, T.OPEN, T.CLOSE, T.EQUALS, T.PLUS,
))  # fmt: skip
"""What carries a number, a stitch, a place or a step: a clause that has one is no remark."""

_NEVER_IN_A_SENTENCE = frozenset((
    T.REPEAT, T.TIMES, T.MORE, T.OFTEN, T.COUNTS, T.TOTAL, T.TURN, T.JOIN, T.STEP, T.MARK, T.EQUALS, T.PLUS,
))  # fmt: skip
"""What tells the hands what to do, however many words stand around it."""

_BEFORE_A_STITCH = PAUSES | {T.NUMBER, T.OPEN, T.MARK, T.COLON}
"""Behind these a word that nobody knows is a stitch more likely than a part of a place."""

_CLAUSE_ENDS = PAUSES | {T.OPEN, T.CLOSE, T.MARK, T.COLON, T.DASH}

_SHORT = 4
"""Letters of a word that is written with a full stop: "st.", "nx.", "hdc."."""

_FUNCTION_WORDS = frozenset((
    "this that these those he she they them can could may might must need needs want wants like likes not no if when "
    "while where there then for as at on off with without from into your our their its my more most fewer less "
    "little bit enough until before after once again also too just still over under out make sure"
).split())  # fmt: skip
"""Words that hold an English sentence together and name nothing that is made."""


class _Page:
    """The words of a round as they stand, for judging which of them may be left out."""

    def __init__(self, typed: Line, tokens: list[Token]) -> None:
        self.text = typed.text
        self.tokens = tokens
        self._totals = [_bounds(typed.text, stated.span) for stated in typed.stated]
        marks = sum(token.kind is T.MARK for token in tokens)
        self._lone_mark = marks == 1 and not any(token.kind is T.REPEAT for token in tokens)

    def abbreviation_dots(self) -> tuple[tuple[int, int], ...]:
        """Full stops behind short words with the sentence going on after them: "into each st. around"."""
        return tuple(
            (dot.start, dot.end)
            for before, dot in pairwise(self.tokens)
            if dot.kind is T.DOT
            and dot.text == "."
            and before.end == dot.start
            and before.text[0].isalpha()
            and len(before.text.split()[-1]) <= _SHORT
            and self._goes_on(dot.end)
        )

    def _goes_on(self, place: int) -> bool:
        rest = self.text[place:].lstrip(" ")
        return bool(rest) and (rest[0].islower() or rest[0].isdigit())

    def stretches(self, index: int) -> Iterator[tuple[int, int, bool]]:
        """The clause, the bracket and the sentence that word number `index` stands in, as first and end word."""
        yield (*self._stretch_around(index, self._ends_clause), False)
        bracket = self._bracket_around(index)
        if bracket is not None:
            yield (*bracket, False)
        first, end = self._stretch_around(index, self._ends_sentence)
        yield first, end, True

    def _stretch_around(self, index: int, ends: Callable[[int], bool]) -> tuple[int, int]:
        first, end = index, index + 1
        while first > 0 and not ends(first - 1):
            first -= 1
        while end < len(self.tokens) and not ends(end):
            end += 1
        return first, end

    def _ends_clause(self, index: int) -> bool:
        return self.tokens[index].kind in _CLAUSE_ENDS

    def _ends_sentence(self, index: int) -> bool:
        token = self.tokens[index]
        if token.kind is T.NEWLINE or (token.kind is T.MARK and self._lone_mark):
            return True
        if token.kind is T.DOT:
            return not self._goes_on(token.end)
        if token.kind is T.CLOSE:
            return self.text[token.end :].lstrip(" ")[:1].isupper()
        return any(start <= token.start < end for start, end in self._totals)

    def names_of_stitches(self, index: int) -> Iterator[str]:
        """What a stitch may be called whose name begins with word number `index`: the word, with "stitch" or a known
        stitch behind it, or with the next word; nothing where no stitch is named in the trade's way."""
        word = self.tokens[index]
        if not word.text.isalpha() or word.text in _FUNCTION_WORDS:
            return
        after = self.tokens[index + 1] if index + 1 < len(self.tokens) else None
        named = after is not None and not after.typed and after.kind in (T.NOUN, T.STITCH, T.BUNCH, T.WORD)
        if after is not None and named and after.text not in _FUNCTION_WORDS:
            yield f"{word.text} {after.text}"
        yield word.text

    def _bracket_around(self, index: int) -> tuple[int, int] | None:
        depth = 0
        for first in range(index, -1, -1):
            depth += (self.tokens[first].kind is T.CLOSE) - (self.tokens[first].kind is T.OPEN)
            if depth < 0:
                ends = (i for i in range(index, len(self.tokens)) if self.tokens[i].kind is T.CLOSE)
                end = next(ends, None)
                return None if end is None else (first, end + 1)
        return None

    def cost(self, first: int, end: int, *, is_sentence: bool) -> int:
        """What it costs to take these words as a remark; 0 where they are none."""
        words = self.tokens[first:end]
        if any(start < words[-1].end and words[0].start < stop for start, stop in self._totals):
            return 0
        inner = words[1:-1] if words[0].kind is T.OPEN and words[-1].kind is T.CLOSE else words
        spoken = [token for token in inner if token.text[0].isalpha()]
        joints = sum(_holds_together(token) for token in spoken)
        if not any(token.kind in _NEVER_LEFT_OUT for token in inner):
            return REMARK if len(spoken) >= 2 and joints else 0
        is_prose = is_sentence and joints >= 2 and first > 0 and not _instructs(inner)
        return SENTENCE_WITH_STITCHES if is_prose else 0

    def with_its_stops(self, first: int, end: int) -> tuple[int, int]:
        """Where these words start and end, with the signs that nothing else needs: a mark before, a stop behind."""
        before = self.tokens[first - 1] if first else None
        after = self.tokens[end] if end < len(self.tokens) else None
        start, stop = self.tokens[first].start, self.tokens[end - 1].end
        if before is not None and (before.kind is T.MARK or (before.kind is T.COMMA and after is None)):
            start = before.start
        if after is not None and after.kind is T.DOT and before is not None and self._ends_sentence(first - 1):
            stop = after.end
        return start, stop

    def rows(self, start: int, end: int) -> tuple[tuple[int, int], ...]:
        """The characters between two places, line by line: line ends stay."""
        breaks = [place for place in range(start, end) if self.text[place] == "\n"]
        return tuple(zip([start, *(place + 1 for place in breaks)], [*breaks, end], strict=True))


def _instructs(words: list[Token]) -> bool:
    """Whether a sentence says how many stitches are made, or into what."""
    if any(token.kind in _NEVER_IN_A_SENTENCE for token in words):
        return True
    pairs = pairwise(token.kind for token in words)
    return any(
        (one in MADE and other in (T.NUMBER, T.IN)) or (one is T.NUMBER and other in MADE) for one, other in pairs
    )


def _holds_together(token: Token) -> bool:
    """Whether this is a word of speech: no name of a stitch that nobody knows has one in it."""
    return token.kind is T.FILLER or token.text in _FUNCTION_WORDS


def _bounds(text: str, span: Span) -> tuple[int, int]:
    offset = _offset(text, span.line, 0)
    return offset + span.start, offset + span.end
