"""What to watch in each line of the sheet: colours, loops, chains at the start, joins, rounds further down, findings.

What holds from one round on is said once, where it begins. Sentences are lower case without a full stop, and worded
so that a reader of patterns takes none of them for a round or a change of colour.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tracker.diagnostics import Severity
from tracker.document.round_lines import WrittenLine
from tracker.lazy_dataclass import dataclass, field
from tracker.notation.glossary import abbreviation
from tracker.pattern.model import Pattern, Piece, Round, Start
from tracker.phrasing.stitches import HALVES, LOOPS_IN_WORDS, WordStyle, loop_words
from tracker.rounds.plan import Act, Loop, Node, Plan, Role, Run, Technique
from tracker.session.colour_changes import begins_fresh

MOST_STRETCHES = 12
"""Stretches of colour that are told of one round; a picture in yarn has its own chart."""


@dataclass(slots=True)
class _Watch:
    """Goes down a piece; `last_words` is what was last told of each topic that goes on until it changes."""

    pattern: Pattern
    piece: Piece
    lines: Sequence[WrittenLine]
    terms: str
    last_words: dict[str, str] = field(default_factory=dict)
    labels: dict[int, str] = field(default_factory=dict)
    into: dict[int, list[int]] = field(default_factory=dict)
    """The rounds that go into an earlier one, by the number of that one."""

    def __post_init__(self) -> None:
        for line in self.lines:
            for round_ in line.rounds:
                self.labels.setdefault(round_.number, round_.label)
                if line.own.worked_into is not None:
                    self.into.setdefault(line.own.worked_into, []).append(round_.number)

    def at(self, index: int) -> tuple[str, ...]:
        line = self.lines[index]
        after = self.lines[index + 1].rounds[0] if index + 1 < len(self.lines) else None
        before = self.lines[index - 1].rounds[-1] if index else None
        return (
            *_findings(line, self.piece.start is Start.ROWS),
            *self._below(line),
            *self._loops(line),
            *self._yarn_at_start(line.rounds[0], before),
            *self._yarns_inside(line.rounds[0]),
            *self._marker(index),
            *self._starting_chain(line.rounds[0]),
            *self._join(line.rounds[0]),
            *self._yarn_ahead(line, after),
        )

    def _once(self, topic: str, words: str) -> Iterator[str]:
        """What goes on is said where it begins, and again where it has changed."""
        if words and self.last_words.get(topic) != words:
            self.last_words[topic] = words
            yield words

    def _below(self, line: WrittenLine) -> Iterator[str]:
        if line.own.worked_into is not None:
            yield f"goes into {self._label(line.own.worked_into)}, not into the round just made"

    def _label(self, number: int) -> str:
        return self.labels.get(number, f"round {number}")

    def _loops(self, line: WrittenLine) -> Iterator[str]:
        plan = line.rounds[0].plan
        work = [act for act in plan.acts() if act.role is Role.WORK] if plan else []
        for loop in LOOPS_IN_WORDS:
            inside = [act.loop is loop for act in work]
            if any(inside):
                words = loop_words(loop, WordStyle.HINT)
                yield f"{words}{_FREE.get(loop, '')}" if all(inside) else f"{words} where it says so"
        if work and all(act.loop in HALVES for act in work):
            yield from self._needed_later(line)

    def _needed_later(self, line: WrittenLine) -> Iterator[str]:
        """A round that leaves loops free which a later one is worked into."""
        number = line.rounds[0].number
        below = number - 1 if line.own.worked_into is None else line.own.worked_into
        later = next((other for other in self.into.get(below, ()) if other > number), None)
        if later is not None:
            yield f"keep the loops that stay free in sight: {self._label(later)} goes into them"

    def _yarn_at_start(self, round_: Round, before: Round | None) -> Iterator[str]:
        if before is None or not round_.colour:
            return
        name = self.pattern.yarn_name(round_.colour)
        if _is_cut(before):
            yield f"the yarn was fastened off: join {name} for this round"
        elif (
            self._begins_fresh(round_) and ((before.plan and before.plan.ends_with) or before.colour) != round_.colour
        ):
            yield f"fasten off the yarn before, and join {name} for this round"

    def _begins_fresh(self, round_: Round) -> bool:
        """Whether the pattern says that the yarn of this round is joined and not drawn through before it."""
        names = [piece.name for piece in self.pattern.pieces]
        numbers = [each.number for each in self.piece.rounds]
        if self.piece.name not in names or round_.number not in numbers:
            return False
        return begins_fresh(self.pattern, names.index(self.piece.name), numbers.index(round_.number))

    def _yarns_inside(self, round_: Round) -> Iterator[str]:
        if round_.plan is None:
            return
        stretches = _stretches(round_.plan.body, round_.colour)[0]
        if len(stretches) < 2 and not any(stretch.inner for stretch in stretches):
            return
        stretch_words = [stretch.words(self.pattern) for stretch in stretches[:MOST_STRETCHES]]
        more = ", and so on as written" if len(stretches) > MOST_STRETCHES else ""
        yield f"in this order: {', '.join(stretch_words)}{more}; {_DRAWN_BEFORE}"

    def _marker(self, index: int) -> Iterator[str]:
        if index == 0 and self.piece.start is Start.SPIRAL and len(self.piece.rounds) > 1:
            yield "mark the first stitch, and move the marker up with every round"

    def _starting_chain(self, round_: Round) -> Iterator[str]:
        acts = list(round_.plan.acts()) if round_.plan else []
        first = next((act for act in acts if act.role is not Role.STEP or act.length), None)
        if first is None:
            return
        counted = [abbreviation(made.counts_as, self.terms) for made in first.makes if made.counts_as]
        if counted:
            space = next((made.count for made in first.makes if made.is_chain and not made.counts_as), 0)
            also = f" and a space of {space} ch" if space else ""
            where = "before the turn" if first.technique is Technique.CHAIN_BELOW else "at the start"
            yield from self._once("start", f"the {first.name} {where} counts as the first {counted[0]}{also}")
        elif first.role is Role.STEP and not _is_foundation(acts):
            yield from self._once("start", f"the {first.name} at the start is not counted as a stitch")

    def _join(self, round_: Round) -> Iterator[str]:
        if round_.plan and any(act.technique is Technique.JOIN for act in round_.plan.acts()):
            yield from self._once("join", "the slip stitch that closes the round is not counted")

    def _yarn_ahead(self, line: WrittenLine, after: Round | None) -> Iterator[str]:
        last = line.rounds[-1]
        if after is None or last.plan is None or _is_cut(last):
            return
        present = _stretches(last.plan.body, last.colour)[1]
        if not after.colour or after.colour == present or self._begins_fresh(after):
            return
        of = "last chain" if _ends_in_chain(last.plan) else "last stitch"
        where = f"at the end of {last.label} " if len(line.rounds) > 1 else ""
        name = self.pattern.yarn_name(after.colour)
        yield f"{where}draw {name} through at the last pull-through of the {of}, ready for {after.label}"


def watch(pattern: Pattern, piece: Piece, lines: Sequence[WrittenLine], terms: str) -> tuple[tuple[str, ...], ...]:
    """For each line of a piece what to watch there, in the words of these terms."""
    watching = _Watch(pattern, piece, lines, terms)
    return tuple(watching.at(index) for index in range(len(lines)))


_FREE = {Loop.BACK: ", so that the front ones stay free", Loop.FRONT: ", so that the back ones stay free"}
_DRAWN_BEFORE = "draw each new yarn through at the last pull-through of the stitch before it"


def _findings(line: WrittenLine, is_row: bool) -> Iterator[str]:
    """What was found wrong with a round is never left off the sheet."""
    first = line.rounds[0]
    if first.plan is None:
        unit = "row" if is_row else "round"
        yield f"this {unit} could not be read: work it as it stands, and count for yourself"
    elif not line.reads_back:
        yield "these words were not read back to the same counts: compare them with the pattern"
    if line.original_words:
        yield f'in the words of the pattern: "{line.original_words}"'
    for problem in first.problems:
        if problem.severity is not Severity.NOTE and first.plan is not None:
            yield f"look here: {problem.message}" + (f"; {problem.help}" if problem.help else "")


def _is_cut(round_: Round) -> bool:
    """Whether the yarn is cut after the last stitch."""
    acts = list(round_.plan.acts()) if round_.plan else []
    tail = acts[max((i for i, act in enumerate(acts) if act.role is not Role.STEP), default=-1) + 1 :]
    return any(act.technique is Technique.FASTEN_OFF for act in tail)


def _ends_in_chain(plan: Plan) -> bool:
    made = [act for act in plan.acts() if act.makes]
    return bool(made) and not made[-1].stitches


def _is_foundation(acts: Sequence[Act]) -> bool:
    """A chain that is worked into, and not up from."""
    return any(act.from_hook for act in acts) or acts[0].technique is Technique.JOIN_RING


@dataclass(frozen=True, slots=True)
class _Stretch:
    """So many stitches of one yarn; or a repeat of several stretches, `times` over."""

    colour: str
    stitches: int
    inner: tuple[_Stretch, ...] = ()
    times: int = 1

    def words(self, pattern: Pattern) -> str:
        if self.inner:
            return f"{self.times} times ({', '.join(part.words(pattern) for part in self.inner)})"
        return f"{self.stitches:,} {pattern.yarn_name(self.colour)}".strip()


def _stretches(body: Sequence[Node], colour: str) -> tuple[list[_Stretch], str]:
    """The yarns of a round in their order, and the one in hand at its end."""
    stretches: list[_Stretch] = []
    for node in body:
        if isinstance(node, Run):
            colour = node.act.colour or colour
            _add(stretches, _Stretch(colour, node.tally.stitches))
            continue
        inner, colour = _stretches(node.body, colour)
        if len(inner) == 1 and not inner[0].inner:
            _add(stretches, _Stretch(inner[0].colour, inner[0].stitches * node.times))
        elif inner:
            stretches.append(_Stretch("", 0, tuple(inner), node.times))
    return stretches, colour


def _add(stretches: list[_Stretch], more: _Stretch) -> None:
    if not more.stitches:
        return
    if stretches and not stretches[-1].inner and stretches[-1].colour == more.colour:
        stretches[-1] = _Stretch(more.colour, stretches[-1].stitches + more.stitches)
    else:
        stretches.append(more)
