"""The ways in which one round can be written: in the pattern's own words, and in the shorthand of its plan.

Which of them goes onto the sheet is settled where it is read back: see `lines`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tracker.notation.glossary import abbreviation
from tracker.notation.line import Line, read_line
from tracker.notation.tree import Stated
from tracker.pattern.model import Piece, Round
from tracker.pattern.notate import notate
from tracker.pattern.plan import Plan
from tracker.pattern.written import written
from tracker.sheet.terms import round_in_terms

_LEADS_TO_TOTAL = re.compile(
    r"[\s.,;:=–—([{<-]*(?:\b(?:(?:for )?a )?(?:total(?: of)?|you (?:will |should )?have|that makes|still)\s*)?$", re.I
)
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
    start = written(line, piece.context.terms).instructions if line.body else line.heading.end
    into, foundation = line.worked_into, line.foundation.bases if line.foundation else 0
    named = start > line.heading.end
    if not line.stated:
        return Own(_flat(text[start:]), "", named, into, foundation)
    first, last = _offset(text, line.stated[0], end=False), _offset(text, line.stated[-1], end=True)
    before = _LEADS_TO_TOTAL.sub("", text[start:first])
    after = text[last:].strip(_EDGES)
    body = f"{before}, {after}" if re.search(r"\w", after) else before
    return Own(_flat(body), _own_total(line, text[first:last]), named, into, foundation)


def _own_total(line: Line, said: str) -> str:
    """The words of a total that tells more than one number; "" for a plain one, and where there are several."""
    if len(line.stated) != 1 or line.stated[0].sizes or re.fullmatch(r"\d+\s*(?:sts?|stitch(?:es)?)?", said.strip()):
        return ""
    return _flat(said)


def _flat(text: str) -> str:
    return " ".join(text.strip(" \n.,;:-–—").split())


def _offset(text: str, stated: Stated, *, end: bool) -> int:
    rows = text.split("\n")
    start = sum(len(row) + 1 for row in rows[: stated.span.line])
    return start + (stated.span.end if end else stated.span.start)


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
