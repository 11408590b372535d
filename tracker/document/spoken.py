"""A line of the sheet as a person would say it to a class.

"Round three: one single crochet, then an increase; do that six times; you have eighteen."

No digits and no abbreviations, so that it can be heard as well as read.
"""

from __future__ import annotations

from collections.abc import Mapping

from tracker.document.round_lines import WrittenLine
from tracker.pattern.model import Pattern, Piece, Round, Start
from tracker.phrasing.numbers import digits_in_words, in_words, times_in_words
from tracker.phrasing.stitches import (
    HALVES,
    WordStyle,
    act_words,
    common_loop,
    in_both_loops,
    listed,
    loop_words,
    names_for,
)
from tracker.plural import plural
from tracker.rounds.next_step import merged
from tracker.rounds.plan import Into, Node, Plan, Repeat, Role, Run


def spoken(pattern: Pattern, piece: Piece, line: WrittenLine, terms: str) -> str:
    """The line in one sentence without a full stop, in "US" or "UK" terms; one that was not read as it stands."""
    first = line.rounds[0]
    if first.plan is None:
        return f"{_number_of(line)}: {line.words.body}"
    words = _Aloud(pattern, piece, terms, first.colour).round(first, first.plan)
    if line.own.worked_into is not None:
        words = f"into round {in_words(line.own.worked_into)}, {words}"
    if line.colour:
        words = f"with {pattern.yarn_name(line.colour)}, {words}"
    count = _count(line, first.plan)
    return f"{_number_of(line)}: {words}" + (f"; {count}" if count else "")


def _number_of(line: WrittenLine) -> str:
    first, last = line.rounds[0], line.rounds[-1]
    word = "row" if first.label.startswith("Row") else "round"
    if first is last:
        return f"{word} {in_words(first.number)}"
    joint = "and" if last.number == first.number + 1 else "to"
    return f"{word}s {in_words(first.number)} {joint} {in_words(last.number)}"


def _count(line: WrittenLine, plan: Plan) -> str:
    if not plan.leaves:
        return ""
    count = in_words(plan.leaves)
    if plan.tally.spaces:
        count = f"{_some(plan.leaves, 'stitch')} and {_some(plan.tally.spaces, 'chain space')}"
    stated = line.rounds[0].stated
    groups = [_some(number, name) for name, number in stated.groups] if stated else []
    among = f", {' and '.join(groups)} among them" if groups else ""
    each = " each time" if len(line.rounds) > 1 else ""
    return f"you have {count}{each}{among}"


def _some(count: int, noun: str) -> str:
    return f"{in_words(count)} {noun if count == 1 else plural(noun)}"


class _Aloud:
    """Puts one round into words, so that it is always clear what a repeat holds; knows the yarn in hand."""

    def __init__(self, pattern: Pattern, piece: Piece, terms: str, colour: str) -> None:
        self._pattern = pattern
        self._names: Mapping[str, str] = names_for(terms)
        self._way = "to the end" if piece.start is Start.ROWS else "around"
        self._colour = colour

    def round(self, round_: Round, plan: Plan) -> str:
        common = common_loop(plan.body)
        loop = common if common in HALVES else None
        body = in_both_loops(plan.body) if loop else plan.body
        words = self._everywhere(round_, body) or self._body(body)
        return f"{loop_words(loop, WordStyle.SPOKEN)}: {words}" if loop else words

    def _everywhere(self, round_: Round, body: tuple[Node, ...]) -> str:
        """ "an increase in every stitch around", of a round that does the same in each; "" for any other."""
        nodes = merged(body)
        work = [node for node in nodes if not (isinstance(node, Run) and node.act.role is Role.STEP)]
        only = _as_run(work[0]) if len(work) == 1 else None
        if only is None or only.act.role is not Role.WORK or only.act.into is not Into.STITCH:
            return ""
        if only.act.takes != 1 or only.times != round_.before:
            return ""
        once = self._run(Run(only.act)).removesuffix(" in one stitch")
        every = f"{once} in every stitch {self._way}"
        return "; ".join(every if node is work[0] else self._body((node,)) for node in nodes)

    def _body(self, body: tuple[Node, ...], inside: bool = False) -> str:
        """All of a body. A repeat that stands first is said and then "do that six times"."""
        clauses: list[str] = []
        runs: list[Run] = []
        for node in (*merged(body), None):
            if isinstance(node, Run):
                runs.append(node)
                continue
            if runs:
                clauses.append(f"{'after that ' if clauses else ''}{listed([self._run(run) for run in runs])}")
                runs = []
            if node is not None:
                clauses.append(self._repeat(node, first=not clauses and not inside))
        return "; ".join(clauses)

    def _repeat(self, node: Repeat, first: bool) -> str:
        if len({act.colour for act in Plan(node.body).acts() if act.colour}) > 1:
            self._colour = ""
        inner = self._body(node.body, inside=node.times > 1 or not first)
        if node.times == 1:
            return inner
        nested = any(isinstance(part, Repeat) for part in node.body)
        if first:
            return f"{inner}; {'do all of that' if nested else 'do that'} {times_in_words(node.times)}"
        end = ", and that is all of it" if nested else ""
        return f"do this {times_in_words(node.times)}: {inner}{end}"

    def _run(self, run: Run) -> str:
        words = run_aloud(run, self._names)
        if not run.act.colour or run.act.colour == self._colour:
            return words
        self._colour = run.act.colour
        return f"{words} in {self._pattern.yarn_name(self._colour)}"


def _as_run(node: Node) -> Run | None:
    """The node as one run, if it is nothing else: "(inc) x 6"."""
    if isinstance(node, Run):
        return node
    inner = _as_run(node.body[0]) if len(node.body) == 1 else None
    return Run(inner.act, inner.times * node.times) if inner else None


def run_aloud(run: Run, names: Mapping[str, str]) -> str:
    """ "three increases", "nine single crochet, one in each chain": no digits, no brackets."""
    return digits_in_words(act_words(run.act, run.times, names, WordStyle.SPOKEN))
