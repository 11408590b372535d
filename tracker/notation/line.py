"""One written round, read: its heading, what it says to make, and the total it states.

`read_line` never raises on what a person typed: what cannot be understood comes back as a problem.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from tracker.notation.closing import closed
from tracker.notation.cursor import Context, Cursor, NotUnderstood
from tracker.notation.definitions import take_definitions
from tracker.notation.fold import fold
from tracker.notation.foundation import Foundation, foundation_only, on_own_chains
from tracker.notation.headings import Heading, heading
from tracker.notation.lexicon import T
from tracker.notation.opening import opened
from tracker.notation.problems import Problem, Severity, error, note
from tracker.notation.rows import acts, filled, in_ring, made_by, main_stitch
from tracker.notation.scanner import Lines, Token, scan
from tracker.notation.sentence import items
from tracker.notation.totals import take_totals
from tracker.notation.tree import Item, Stated

MAX_TEXT = 20_000
"""The longest round, in characters; a long lace round has about a thousand."""

MAX_WORDS = 4_000


@dataclass(frozen=True, slots=True)
class Reference:
    """ "Rep Rnds 5-6": rounds named again. `last` n is "the last n rounds"; `times` as often as that."""

    numbers: tuple[int, ...] = ()
    last: int = 0
    times: int = 1
    more: bool = False


@dataclass(frozen=True)
class Line:
    """What one line says. `body` is empty when the line only refers to other rounds or could not be read."""

    text: str
    heading: Heading
    body: tuple[Item, ...] = ()
    stated: tuple[Stated, ...] = ()
    rounds: int | None = None
    reference: Reference | None = None
    worked_into: int | None = None
    foundation: Foundation | None = None
    remarks: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    words: int = 0

    @property
    def is_readable(self) -> bool:
        return not any(problem.severity is Severity.ERROR for problem in self.problems)

    @property
    def turns(self) -> bool:
        return any(act.name == "turn" for act in acts(self.body))


def read_line(text: str, context: Context = Context(), main: str = "sc") -> Line:  # noqa: B008 - a frozen value
    """Read one round. `main` is the stitch that "inc" means when the line names none."""
    lines = Lines(text)
    if len(text) > MAX_TEXT:
        problem = error(
            "too-long",
            f"this round has {len(text):,} characters",
            lines.span(0, 1),
            f"the limit is {MAX_TEXT:,}",
        )
        return Line(text, Heading(0), problems=(problem,))
    folded = fold(text)
    folded, head = _with_chain_before(folded, heading(folded))
    problems = list(_heading_problems(head, lines))
    blank = " " * head.end + folded[head.end :]
    tokens = _without_fillers(scan(blank, context.terms, context.colours))
    if len(tokens) > MAX_WORDS:
        problems.append(
            error(
                "too-long",
                f"this round has {len(tokens):,} words",
                lines.span(0, 1),
                f"the limit is {MAX_WORDS:,}",
            )
        )
        return Line(text, head, problems=tuple(problems))
    problems.extend(
        note("slip-forgiven", f"read '{t.typed}' as '{t.text}'", lines.span(t.start, t.end))
        for t in tokens
        if t.typed
    )
    defined = take_definitions(tokens, lambda words: _makes(words, lines, context))
    tokens = defined.body
    if defined.bunches:
        context = replace(context, bunches=(*defined.bunches, *context.bunches))
    totals = take_totals(tokens, lines, context.size)
    cursor = Cursor(totals.body, lines, context, items)
    reference = _reference(cursor)
    if reference is not None:
        if set(reference.numbers) & set(head.numbers):
            span = lines.span(*head.span)
            problems.append(error("refers-to-itself", "this round repeats itself", span, "name an earlier round"))
        return Line(
            text,
            head,
            (),
            totals.stated,
            totals.rounds,
            reference,
            problems=tuple(problems),
            words=len(tokens),
        )
    cursor.place = 0
    _skip_title(cursor)
    foundation: Foundation | None = None
    body: tuple[Item, ...] = ()
    try:
        body = _body(cursor)
        chain_counts = _said_in_remarks(cursor.remarks, context.chain_counts)
        body = filled(body, main_stitch(body, main))
        body = closed(on_own_chains(in_ring(body)))
        body, foundation = opened(body, chain_counts)
        body = foundation_only(body)
    except NotUnderstood as stop:
        problems.append(stop.problem)
        body = ()
    except RecursionError:
        problems.append(
            error("too-deep", "groups stand too deep inside each other", lines.span(0, 1), "split the round up")
        )
        body = ()
    return Line(
        text, head, body, totals.stated, totals.rounds, None, cursor.worked_into, foundation,
        tuple(cursor.remarks), (*problems, *cursor.notes), len(tokens),
    )  # fmt: skip


def _makes(words: list[Token], lines: Lines, context: Context) -> tuple[tuple[str, int], ...]:
    """What the words of a definition make in one place; empty if they are no such thing."""
    cursor = Cursor(words, lines, context, items)
    try:
        return made_by(tuple(items(cursor, len(words))))
    except NotUnderstood:
        return ()


_IN_A_TITLE = (
    T.WORD, T.BUNCH, T.NOUN, T.INC, T.DEC, T.CORNER, T.SPACE, T.OF, T.SIDE, T.BEGINNING, T.WORK, T.TO, T.JOIN, T.AND,
)  # fmt: skip


def _skip_title(cursor: Cursor) -> None:
    """ "Rnd 7 - scallops: ...": a name for the round, with no number in it."""
    end = 1 if cursor.at(T.DASH) else 0
    start = end
    while cursor.peek(end) in _IN_A_TITLE and end < start + 5:
        end += 1
    named = any(cursor.peek(index) is not T.INC for index in range(start, end))
    single = end == start + 1 and cursor.peek(start) is T.WORD and len(cursor.token(start).text) <= 2
    if start < end and cursor.peek(end) is T.COLON and named and not single:
        cursor.remarks.append(" ".join(token.text for token in cursor.tokens[start:end]))
        cursor.place = end + 1


_CHAIN_BEFORE = re.compile(
    r"[a-z' -]{0,20}[:,-]?\s*(?:(?:make|work|begin with|start with)\s+)?(?:a\s+)?"
    r"(?P<chain>(?:ch|chain)s?)(?P<of>\s+of)?\s*\d{1,4}\s*[.,;:-]+\s*(?=(?:rnd|round|row|r)\s*\d)"
)


def _with_chain_before(folded: str, head: Heading) -> tuple[str, Heading]:
    """ "Base: chain 13. R1 ...": the chain belongs to the round behind it; its words stay, all else is blanked."""
    match = _CHAIN_BEFORE.match(folded) if head.end == 0 else None
    if match is None:
        return folded, head
    inner = heading(folded[match.end() :])
    if not inner.numbers:
        return folded, head
    of = match.group("of") or ""
    chain = folded[match.start("chain") : match.end()].replace(of, " " * len(of), 1)
    blanked = " " * match.start("chain") + chain
    span = (match.end() + inner.span[0], match.end() + inner.span[1])
    rest = folded[match.end() + inner.end :]
    return blanked + " " * inner.end + rest, replace(inner, end=match.start("chain"), span=span)


def _without_fillers(tokens: list[Token]) -> list[Token]:
    """Words that change nothing are left out; an "a" on its own is the yarn A, and glued to a number a letter."""
    kept: list[Token] = []
    for index, token in enumerate(tokens):
        after = tokens[index + 1].kind if index + 1 < len(tokens) else None
        if token.kind is not T.FILLER:
            kept.append(token)
        elif token.text == "a" and (token.glued or after in _ENDS or (after is T.IN and _names_colour(kept))):
            kept.append(replace(token, kind=T.WORD))
    return kept


def _names_colour(kept: list[Token]) -> bool:
    return bool(kept) and kept[-1].kind in (T.CHANGE, T.WITH, T.COLOURED, T.JOIN)


_ENDS = (None, T.COMMA, T.SEMI, T.DOT, T.COLON, T.CLOSE, T.NEWLINE)


def _body(cursor: Cursor) -> tuple[Item, ...]:
    found: list[Item] = []
    while not cursor.finished:
        if cursor.at(T.CLOSE):
            token = cursor.token()
            raise cursor.fail(
                "stray-bracket",
                f"'{token.text}' closes a bracket that was never opened",
                help="open it before the group, or take it away",
            )
        found.extend(items(cursor, len(cursor.tokens)))
    return tuple(found)


def _said_in_remarks(remarks: list[str], known: bool | None) -> bool | None:
    if "counts: never" in remarks:
        return False
    return True if "counts: yes" in remarks else known


def _heading_problems(head: Heading, lines: Lines) -> list[Problem]:
    if head.numbers or head.first is None:
        return []
    span = lines.span(*head.span)
    if head.last is not None and head.last < head.first:
        message = f"the range runs backwards, from {head.first} to {head.last}"
        return [error("range-backwards", message, span, f"did you mean {head.last}-{head.first}?")]
    return [
        error(
            "range-too-long",
            f"the range from {head.first} to {head.last} is too long",
            span,
            "check the numbers",
        )
    ]


def _reference(cursor: Cursor) -> Reference | None:
    """REFERENCE := (rep | as | like) [last] (rnd | row) n [- n] [n times], alone in its round"""
    cursor.skip(T.COMMA, T.COLON, T.DASH, T.DOT, T.OPEN)
    if not cursor.at(T.REPEAT, T.AS, T.WORK):
        return None
    cursor.skip(T.WORK)
    cursor.skip(T.REPEAT, T.AS, T.FROM, T.ALL)
    last = 0
    if cursor.at(T.LAST, T.PREVIOUS) or cursor.sees(T.SAME, T.ROUND):
        previous = cursor.take().kind is T.PREVIOUS
        last = cursor.number() if cursor.at(T.NUMBER) else 1
        if not previous and not cursor.accept(T.ROUND):
            return None
        return _often(cursor, Reference(last=last))
    if not cursor.at(T.ROUND):
        return None
    numbers: list[int] = []
    joiner: T | None = None
    while cursor.at(T.ROUND, T.NUMBER, T.ORDINAL, T.DASH, T.TO, T.AND, T.COMMA, T.PLUS):
        token = cursor.take()
        if token.kind is T.NUMBER and cursor.at(T.TIMES, T.MORE):
            cursor.place -= 1
            break
        if token.kind in (T.NUMBER, T.ORDINAL):
            if joiner in (T.DASH, T.TO) and numbers and numbers[-1] < token.number <= numbers[-1] + 1000:
                numbers.extend(range(numbers[-1] + 1, token.number + 1))
            else:
                numbers.append(token.number)
        joiner = token.kind
    return _often(cursor, Reference(tuple(numbers))) if numbers else None


def _often(cursor: Cursor, reference: Reference) -> Reference | None:
    cursor.skip(T.CLOSE, T.COMMA)
    times, more = 1, False
    if cursor.at(T.OFTEN):
        times = cursor.take().number
        more = bool(cursor.accept(T.MORE))
    elif cursor.sees(T.TIMES, T.NUMBER):
        cursor.take()
        times = cursor.number()
    elif cursor.at(T.NUMBER) and cursor.peek(1) in (T.TIMES, T.MORE):
        times = cursor.number()
        more = bool(cursor.accept(T.MORE))
        cursor.skip(T.TIMES)
        more = bool(cursor.accept(T.MORE)) or more
    if any(token.kind in (T.STITCH, T.INC, T.DEC, T.BUNCH) for token in cursor.tokens[cursor.place :]):
        return None
    return Reference(reference.numbers, reference.last, times, more)
