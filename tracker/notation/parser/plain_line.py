"""A line of counted stitches and groups of them, without the grammar: "2 sc, inc, (sc, dec) x 6, sc in each st (18)".

Most rounds that are made are like that, and the grammar is for what else people write. What is read here comes out as
the grammar reads it, node by node; a line with any other word, sign or blank in it is left to that.
"""

from __future__ import annotations

import re
from functools import lru_cache

from tracker.diagnostics import Span
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Exactly, Group, Heading, Instruction, Into, Item, Loop, Role, Some, Stated, ToEnd
from tracker.notation.context import Context
from tracker.notation.glossary import abbreviation
from tracker.notation.instructions import decrease, increase, stitch
from tracker.notation.parser.distribution import Amount, is_unshared, spread
from tracker.notation.parser.worked_into import Where

LONGEST = 400
"""Characters of a line that is looked at; a longer one is hardly ever plain."""

_KINDS = ("sc", "hdc", "dc", "tr", "dtr")
_CHANGES = {"inc": increase, "dec": decrease}
_OTHER_WORDS = ("in", "each", "next", "st", "sts", "stitch", "stitches", "around", "x", "times")

_N = r"[1-9]\d{0,5}"
_CLAUSE = re.compile(
    rf"(?P<opens>[(\[])?"
    rf"(?P<item>(?:(?P<count>{_N}) )?(?P<word>[a-z]+)"
    rf"(?: (?P<behind>{_N})| x ?(?P<times>{_N})| (?P<place>around|in each (?:st|stitch)(?: around)?"
    rf"|in next (?:st|stitch)|in next (?P<over>{_N}) (?:sts|stitches)))?)"
    rf"(?P<closes>[)\]] (?:x ?(?P<factor>{_N})|(?P<often>{_N}) times))?"
)
_TOTAL = re.compile(rf" (?:\(|(\[))(({_N})( sts)?)(?(1)\]|\))$")
_MAY_BE_TOTAL = re.compile(rf" around, {_N} [a-z]+$")
""" "sc in each st around, 24 sc": the round is over, and the end a total"""
_LONGEST_TOTAL = len(" (999999 sts)")

_CLOSING = {"(": ")", "[": "]"}

_MAY_BE_IN_ONE = (2, 3)
"""Stitches of one kind that may be meant for one place: "sc, 2 sc, sc" (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PlainLine:
    """What a plain line says to make, the total that it states, and how many words and signs it has."""

    body: tuple[Item, ...]
    stated: tuple[Stated, ...]
    words: int


@dataclass(frozen=True, slots=True)
class _Clause:
    """What stands between two commas, wherever in a line that is: one item, with the bracket that begins or ends
    there.

    Of `change` and `kind` one is "": it makes increases or decreases of the stitch of the line, or stitches that it
    names.
    """

    words: int
    item: str
    behind: int
    """Characters behind the item: of the bracket that ends there, and how often that is worked."""
    change: str
    kind: str
    times: Exactly
    spread: tuple[int | None, bool, Where | None] | None
    """Its count, whether that stands behind the stitch, and its place; None where `times` tells all of it."""
    opens: str
    """The sign that closes the group which begins here; "" where none does."""
    closes: str
    often: Exactly
    """How often the group is worked that ends here."""
    needs_more: bool
    """A stitch alone, which at the end of a line may go on to the end of the round."""
    needs_none: bool
    """A number of times, which behind other items may be that of all of them."""


def plain_line(folded: str, head: Heading, context: Context, main: str) -> PlainLine | None:
    """What the folded line says behind its heading; None if it is not as plain as that. `main` is the stitch that
    "inc" means where the line names none."""
    if len(folded) > LONGEST or "\n" in folded:
        return None
    if head.is_open or head.bracketed or (head.first is not None and not head.numbers):
        return None
    if context.words or context.bunches or context.sizes or context.size or not _are_apart(context.colours):
        return None
    if len(head.numbers) > 1 and folded.startswith(_MAY_GO_ON, head.end):
        return None
    return _read(folded[head.end :], head.end, context.terms, main)


_MAY_GO_ON = tuple(_CHANGES)
"""What the line for several rounds begins with if each of them may do a little more than the one before."""


@lru_cache(maxsize=256)
def _are_apart(colours: frozenset[str]) -> bool:
    """Whether no yarn is called by a number, or by one of the words here, be it among others or with a figure."""
    words = {*_CHANGES, *_OTHER_WORDS, *_stitches("US"), *_stitches("UK")}
    return not any(key.isdecimal() or not words.isdisjoint(re.findall("[a-z]+", key)) for key in colours)


@lru_cache(maxsize=2)
def _stitches(terms: str) -> dict[str, str]:
    """The kinds of the stitches that are read here, by their abbreviation."""
    return {abbreviation(kind, terms): kind for kind in _KINDS}


@lru_cache(maxsize=2_048)
def _read(text: str, start: int, terms: str, main: str) -> PlainLine | None:
    """Kept, so that rounds that say the same have the same body."""
    total = _TOTAL.search(text, max(0, len(text) - _LONGEST_TOTAL)) if text.endswith((")", "]")) else None
    if total is None and _MAY_BE_TOTAL.search(text):
        return None
    clauses: list[_Clause] = []
    for written in (text if total is None else text[: total.start()]).split(", "):
        clause = _clause(written, terms)
        if clause is None:
            return None
        clauses.append(clause)
    body = _body(clauses, start, _stitch_of_line(clauses) or main)
    if body is None:
        return None
    words = sum([clause.words for clause in clauses]) + len(clauses) - 1
    if total is None:
        return PlainLine(body, (), words)
    span = Span(0, start + total.start(2), start + total.end(2))
    return PlainLine(body, (Stated(int(total[3]), span=span),), words + len(("(", total[3], ")")) + bool(total[4]))


def _stitch_of_line(clauses: list[_Clause]) -> str:
    """The kind that most items name, the first one of several; "" if none names any."""
    named = [clause.kind for clause in clauses if clause.kind]
    return max(named, key=named.count) if named else ""


def _body(clauses: list[_Clause], start: int, main: str) -> tuple[Item, ...] | None:
    """The items, the first of which begins at column `start`; None where brackets do not match, or where something
    besides may be meant."""
    body: list[Item] = []
    row, awaited, opening = body, "", start
    for clause in clauses:
        if (clause.opens and awaited) or (clause.needs_none and body and row is body):
            return None
        if clause.opens:
            row, awaited, opening = [], clause.opens, start
            start += 1
        end = start + len(clause.item)
        head = _CHANGES[clause.change](main) if clause.change else stitch(clause.kind)
        span = Span(0, start, end)
        act = Instruction(head.name, Role.WORK, head.makes, head.takes, Into.STITCH, Loop.BOTH, head.technique, span)
        if clause.spread is None:
            row.append(Some(act, clause.times))
        else:
            count, is_behind, where = clause.spread
            if awaited and where is not None and isinstance(where.bases, ToEnd):
                return None
            amount = Amount(act, count, head.single, clause.item, is_behind)
            if where is not None and is_unshared(amount, where):
                return None
            row += spread(amount, where)
        if clause.closes != awaited and clause.closes:
            return None
        end += clause.behind
        if clause.closes:
            body.append(Group(tuple(row), clause.often, Span(0, opening, end)))
            row, awaited = body, ""
        start = end + len(", ")
    return None if awaited or (clauses[-1].needs_more and not clauses[-1].closes) else tuple(body)


@lru_cache(maxsize=4_096)
def _clause(written: str, terms: str) -> _Clause | None:
    """The same clause stands in many lines."""
    match = _CLAUSE.fullmatch(written)
    if match is None:
        return None
    word, place = match["word"], match["place"] or ""
    change, kind = (word, "") if word in _CHANGES else ("", _stitches(terms).get(word, ""))
    numbers = [number for number in (match["count"], match["behind"], match["times"]) if number]
    if not (change or kind) or len(numbers) > 1:
        return None
    if change and place and (numbers or change == "dec" or place == "around"):
        return None
    count = int(numbers[0]) if numbers else None
    several = match["times"] is None and bool(kind) and count in _MAY_BE_IN_ONE
    item, closes, often = match["item"], match["closes"] or "", match["factor"] or match["often"]
    return _Clause(
        words=len(item.replace(" x", " x ").split()) + bool(match["opens"]) + 3 * bool(closes),
        item=item,
        behind=len(closes),
        change=change,
        kind=kind,
        times=Exactly(count or 1),
        spread=(count, bool(match["behind"]), _place(place, match["over"])) if place or several else None,
        opens=_CLOSING.get(match["opens"], ""),
        closes=closes[:1],
        often=Exactly(int(often or 1)),
        needs_more=not (change or numbers or place),
        needs_none=match["times"] is not None,
    )


def _place(words: str, over: str | None) -> Where | None:
    """Where stitches go: "in next 3 sts", "in each st around"; None where that is not told."""
    if not words:
        return None
    if over:
        return Where(Exactly(int(over)), has_number=True)
    return Where(Exactly(1)) if "next" in words else Where(ToEnd(), each="each" in words)
