"""The ways in which one round can be written: in the pattern's own words, and in the shorthand of its plan.

Which of them goes onto the sheet is settled where it is read back: see `lines`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tracker.diagnostics import Span
from tracker.normalize import fold
from tracker.notation.ast import Colour
from tracker.notation.glossary import abbreviation
from tracker.notation.reader import Line, read_line
from tracker.pattern.model import Piece, Round
from tracker.phrasing.terms import round_in_terms
from tracker.rounds.formatter import notate
from tracker.rounds.plan import Plan

_LEADS_TO_TOTAL = re.compile(
    r"[\s.,;:=–—([{<-]*(?:\b(?:(?:for )?a )?(?:total(?: of)?|you (?:will |should )?have|that makes|still)\s*)?$", re.I
)
_BESIDE_HEADING = re.compile(r"[\s\])},:.-]*(?:\(\s*\d+\s+(?:rounds?|rnds?|rows?)\s*\)[\s:.,-]*)?", re.I)
_HEADING_INSIDE = re.compile(r"(?<=[\w)\]])[\s.,;-]*\s(?:rnd|round|row)\s*\d+\s*[:.)-]+\s*", re.I)
_EDGES = " \n.,;:)]}>–—-"


@dataclass(frozen=True, slots=True)
class Words:
    """A round without its heading: its instructions, and its total with its brackets ("" for none)."""

    body: str
    total: str


@dataclass(frozen=True, slots=True)
class Own:
    """What the pattern itself says in a round: instructions, words of the total, whether it names a colour first,
    the earlier round that it goes into, and how many chains it begins on."""

    body: str
    total: str
    names_colour: bool
    worked_into: int | None
    foundation: int


def own_words(round_: Round, piece: Piece) -> Own:
    """The round as the pattern has it, its heading and the colour in it taken off. Nothing else is lost."""
    line = read_line(round_.text, piece.context)
    text = line.text
    first_said = line.body[0] if line.body else None
    colour = first_said if isinstance(first_said, Colour) and first_said.span.end else None
    named, into = colour is not None, line.worked_into
    foundation = line.foundation.bases if line.foundation else 0
    start = _instructions(text, _offset(text, colour.span, end=True) if colour else line.heading.end)
    if not line.stated:
        return Own(_flat(text[start:]), "", named, into, foundation)
    first, last = _offset(text, line.stated[0].span), _offset(text, line.stated[-1].span, end=True)
    before = _LEADS_TO_TOTAL.sub("", text[start:first])
    after = text[last:].strip(_EDGES)
    if re.search("[a-z]", fold(after)):
        return Own(_flat(f"{before}, {after}"), _own_total(line, text[first:last]), named, into, foundation)
    total = text[first:] if re.search(r"\d", after) else text[first:last]
    return Own(_flat(before), _own_total(line, total), named, into, foundation)


def _own_total(line: Line, said: str) -> str:
    """The words of a total that tells more than one number; "" for a plain one, and where there are several."""
    plain = re.fullmatch(r"\W*(?:\d+|[a-z]+(?:-[a-z]+)?)\s*(?:sts?|stitch(?:es)?)?\W*", said, re.I)
    if len(line.stated) != 1 or line.stated[0].sizes or plain:
        return ""
    return _flat(said)


def _flat(text: str) -> str:
    """In one line, without what joins it to its surroundings, and without a heading in its middle ("Base: ch 4, join.
    Rnd 1: ...")."""
    text = _HEADING_INSIDE.sub(", ", text, count=1)
    return " ".join(text.strip(" \n.,;:-–—").split())


def _instructions(text: str, start: int) -> int:
    """Behind what ends the heading: the rest of a bracket, a number of rounds, signs."""
    found = _BESIDE_HEADING.match(text, start)
    return found.end() if found else start


def _offset(text: str, span: Span, *, end: bool = False) -> int:
    rows = text.split("\n")
    start = sum(len(row) + 1 for row in rows[: span.line])
    return start + (span.end if end else span.start)


def wordings(round_: Round, own: Own, source: str, target: str, colours: frozenset[str]) -> Iterator[Words]:
    """The ways to write a round in the terms `target`, best first."""
    body = round_in_terms(own.body, source, target, colours)
    total = round_in_terms(own.total, source, target, colours)
    counted = total_words(round_, target)
    if round_.plan is None:
        yield Words(body, f"({total})" if total else counted)
        return
    if total:
        yield Words(body, f"({total})")
    yield Words(body, counted)
    shorthand = _shorthand(round_, round_.plan, own, target)
    yield Words(shorthand, counted)
    yield Words(body, "")
    yield Words(shorthand, "")


def _shorthand(round_: Round, plan: Plan, own: Own, terms: str) -> str:
    text = notate(plan, terms).removeprefix(f"({round_.colour}) ")
    return f"into Rnd {own.worked_into}, {text}" if own.worked_into is not None else text


def total_words(round_: Round, terms: str) -> str:
    """The total as a maker counts it: "(18)", "(12 sc, 12 ch-2 sps)"; the stated one where the two differ."""
    stated = round_.stated.stitches if round_.stated else None
    if round_.plan is None or (stated is not None and round_.verdict not in ("ok", "warning")):
        return f"({stated})" if stated is not None else ""
    plan = round_.plan
    spaces = _spaces(plan)
    if not spaces:
        return f"({plan.leaves})"
    kinds = [kind for kind, count in plan.tally.kinds if count]
    name = abbreviation(kinds[0], terms) if len(kinds) == 1 else "sts"
    return f"({plan.leaves} {name}, {spaces})"


def _spaces(plan: Plan) -> str:
    lengths = {made.count for act in plan.acts() for made in act.makes if made.is_chain and not made.counts_as}
    if not plan.tally.spaces:
        return ""
    of = f"ch-{lengths.pop()} " if len(lengths) == 1 else "ch-"
    return f"{plan.tally.spaces} {of}{'sp' if plan.tally.spaces == 1 else 'sps'}"
