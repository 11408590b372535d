"""Which reading of a round is meant: the bases that are there decide, the stated total is a second witness.

A stated total may choose between readings that are all plausible. It never turns a line that uses up the wrong
number of bases into a right one. What is then told of the round stands in `checks`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import Enum, auto
from itertools import pairwise

from tracker.diagnostics import Severity, note
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import (
    Into,
    Line,
    Some,
    Stated,
    Technique,
    acts,
)
from tracker.notation.instructions import IN_THE_MIDDLE, MAY_STAND_IN_ONE, each_act, names_corners
from tracker.notation.lowering.chain_gap import drop_bridges, lower_bridges
from tracker.rounds.agreement import Agreement, agreement
from tracker.rounds.bases import Base, lies_under_chains, off_the_row
from tracker.rounds.corners import at_corners, from_corner
from tracker.rounds.edge import has_like_parts
from tracker.rounds.lace import begin_along
from tracker.rounds.loop_chains import NoSuchLoop, along_loops
from tracker.rounds.plan import Plan, Repeat, Run
from tracker.rounds.possible_readings import Reading, readings
from tracker.rounds.resolver import Solved, solve

# The readings of a line, each with its numbers and with what the stated total says to them.


@dataclass(frozen=True, slots=True)
class Candidate:
    """One reading over the bases that are there. `agrees` is None where no total is stated, or nothing came out."""

    reading: Reading
    solved: Solved
    agrees: Agreement | None

    @property
    def plan(self) -> Plan:
        assert self.solved.plan is not None
        return self.solved.plan

    @property
    def leaves(self) -> int:
        return self.agrees.leaves if self.agrees and self.agrees.agrees else self.plan.leaves

    def fits(self, base_known: bool) -> bool:
        """Whether it uses up the bases, or has numbers at all where the bases are not known."""
        return self.solved.is_exact if base_known else self.solved.plan is not None

    @property
    def says_total(self) -> bool:
        return self.agrees is not None and self.agrees.agrees


def candidates(line: Line, base: Base | None, stated: Stated | None) -> list[Candidate]:
    """Every reading of the line that is worth a look, likeliest first."""
    foundation = line.foundation.bases if line.foundation else 0
    total = stated.stitches if stated else None
    hint = next((n for _, n in stated.groups), stated.spaces) if stated and total is None else None
    likeliest_first: list[Candidate] = []
    body = line.body
    if stated is not None:
        apart = (stated.chains, stated.spaces) != (None, None)
        body = drop_bridges(body) if apart else lower_bridges(body, loosely=True)
    for reading in _by_kind(
        _with_corners(readings(body), base, has_total=stated is not None),
        base,
    ):
        for side in (1, 2, 0) if foundation and _has_side(reading) else (1,):
            solved = solve(reading.body, base, total, foundation=foundation, other_side=side, hint=hint)
            if reading.goes_by_kind and not (solved.is_exact and not solved.passed):
                continue
            agrees = agreement(stated, solved.plan) if stated and solved.plan else None
            likeliest_first.append(Candidate(reading, solved, agrees))
            if solved.is_exact and (agrees is None or agrees.agrees):
                break
        if not likeliest_first:
            continue
        first = likeliest_first[0]
        exact = base is not None and len(likeliest_first) == 1 and first.solved.is_exact
        is_checked = first.agrees is not None and first.agrees.is_checked
        if exact and is_checked and first.says_total and total in (None, first.plan.leaves):
            return likeliest_first  # nothing can be likelier
    return likeliest_first


def _with_corners(readings: list[Reading], base: Base | None, *, has_total: bool) -> Iterator[Reading]:
    """Where a reading goes from corner to corner, one for each number of corners, the usual one first."""
    for reading in readings:
        if not names_corners(reading.body):
            yield reading
            continue
        if begin_along(reading.body, base) is not None:
            yield replace(reading, body=from_corner(reading.body))
            continue
        for body, why in at_corners(reading.body, base, has_total=has_total):
            whys = (*reading.whys, why) if why else reading.whys
            yield replace(reading, body=body, whys=whys, rescues=reading.rescues + bool(why))


def _by_kind(readings: Iterable[Reading], base: Base | None) -> Iterator[Reading]:
    """Where a reading names stitches by one kind of several, besides it the one that means these alone."""
    below = base.plan if base is not None else None
    if below is None or len(below.tally.kinds) < 2:
        yield from readings
        return
    from tracker.rounds.kinds import by_kind  # only such rounds need it

    for reading in readings:
        body = by_kind(reading.body, below) if reading.is_primary else None
        if body is not None:
            why = "goes into the stitches that it names alone, past the others"
            yield replace(reading, body=body, whys=(*reading.whys, why), goes_by_kind=True)
        yield reading


def _has_side(reading: Reading) -> bool:
    return any(isinstance(item, Some) and item.act.technique is Technique.OTHER_SIDE for item in reading.body)


# Which of them is meant.


class ReadingStanding(Enum):
    """What the witnesses say to the reading that was taken."""

    AGREES = auto()
    """It uses up the bases, as far as they are known, and makes the total, if one is stated."""
    BY_BASES_ALONE = auto()
    """An unlikely reading that uses up the bases where no plain one does; no total is stated."""
    BY_UNLIKELY_WORDS = auto()
    """An unlikely reading that the bases and the total agree with, where the plain ones make another number."""
    NOT_THE_TOTAL = auto()
    """It uses up the bases and makes another number than is stated."""
    MISFIT = auto()
    """It does not come out with the bases that are there."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """No reading of a line comes to a number: the bases are not known, or a repeat has no end."""

    code: str
    reason: str


@dataclass(frozen=True, slots=True)
class Decision:
    """The reading of a line that was taken, and what speaks for it.

    `whys` tell in what unlikely ways words were read, `others` are the numbers that equally good readings make.
    `turns_on_chain` says that these differ in what the chain at the start counts as.
    """

    line: Line
    standing: ReadingStanding
    candidate: Candidate
    base_known: bool
    whys: tuple[str, ...] = ()
    others: tuple[int, ...] = ()
    turns_on_chain: bool = False

    @property
    def plan(self) -> Plan:
        return self.candidate.plan

    @property
    def solved(self) -> Solved:
        return self.candidate.solved

    @property
    def runs_out(self) -> bool:
        """Whether it uses more bases than there are."""
        return self.standing is ReadingStanding.MISFIT and self.solved.unworked < 0

    @property
    def is_undecided(self) -> bool:
        """Whether readings that make different numbers are equally good, and no custom chooses between them."""
        if self.standing is not ReadingStanding.AGREES or not self.others:
            return False
        return not self.turns_on_chain and not self.candidate.reading.convention


@dataclass(frozen=True, slots=True)
class _Court:
    """The witnesses of one round, and the readings with numbers that are to be judged by them."""

    line: Line
    base: Base | None
    solved: list[Candidate]

    @property
    def base_known(self) -> bool:
        foundation = self.line.foundation
        return self.base is not None or (foundation is not None and foundation.bases > 0)

    @property
    def primary(self) -> list[Candidate]:
        return [candidate for candidate in self.solved if candidate.reading.is_primary]

    @property
    def fitting(self) -> list[Candidate]:
        """The plausible readings that use up the bases."""
        return [candidate for candidate in self.primary if candidate.fits(self.base_known)]

    @property
    def rescued(self) -> list[Candidate]:
        """The unlikely readings that use up the bases."""
        return [c for c in self.solved if not c.reading.is_primary and c.fits(self.base_known)]

    def decided(
        self,
        standing: ReadingStanding,
        candidate: Candidate,
        whys: tuple[str, ...] = (),
        others: tuple[int, ...] = (),
    ) -> Decision:
        return Decision(self.line, standing, candidate, self.base_known, whys, others)


def decide(line: Line, base: Base | None, stated: Stated | None, *, plainly: bool = False) -> Decision | Refusal:
    """How a readable `line` is meant over `base` (None: not known); `plainly` allows no unlikely reading."""
    if base is not None and base.bridges:
        base = base.opened([act.onto for act in acts(line.body) if act.onto or act.into is Into.SPACE])
    if base is not None and base.spaces == 0:
        line = _between_stitches(line, stated)
    if base is not None and any(act.onto.endswith(IN_THE_MIDDLE) for act in acts(line.body)):
        from tracker.rounds.kinds import in_middles  # only such rounds need it

        line = replace(line, body=in_middles(line.body, base))
    try:
        line = along_loops(line, base) if base is not None else line
    except NoSuchLoop as stop:
        return Refusal("no-such-base", str(stop))
    readings = candidates(line, base, stated)
    if plainly:
        readings = [candidate for candidate in readings if candidate.reading.is_primary]
    solved = [candidate for candidate in readings if candidate.solved.plan is not None]
    if not solved:
        return Refusal(readings[0].solved.refusal_code, readings[0].solved.refusal)
    if stated is None:
        solved = [each for each in solved if not each.reading.goes_by_kind or lies_under_chains(each.plan)] or solved
    court = _Court(line, base, solved)
    return _by_bases(court) if stated is None else _by_bases_and_total(court, stated)


def _between_stitches(line: Line, stated: Stated | None) -> Line:
    """Over a round without chains "in next space" is between two stitches; only a total can tell that it is not
    between two groups of them."""
    into = [act.onto for act in acts(line.body) if act.into is Into.SPACE]
    if not into or any(into):
        return line
    between = {act.onto for act in acts(line.body) if act.into is Into.BETWEEN}
    onto = next(iter(between)) if len(between) == 1 else ""
    body = each_act(
        line.body, lambda act: replace(act, into=Into.BETWEEN, onto=onto) if act.into is Into.SPACE else act
    )
    if between:
        return replace(line, body=body)  # the pattern says so itself
    message = "the round below has no chain spaces: read 'space' as between two stitches"
    problem = note("spaces-between", message, line.instruction)
    if stated is None:
        problem = replace(problem, severity=Severity.WARNING, help="state the total")
    return replace(line, body=body, problems=(*line.problems, problem))


def _by_bases_and_total(court: _Court, stated: Stated) -> Decision:
    """The likeliest reading that both the bases and the total agree with, if there is one."""
    fitting = court.fitting
    agreeing = [candidate for candidate in fitting if candidate.says_total]
    to_the_number = [candidate for candidate in agreeing if candidate.leaves == stated.stitches]
    in_stitches = [candidate for candidate in to_the_number if candidate.plan.leaves == stated.stitches]
    likeliest = next(iter(in_stitches or to_the_number or agreeing), None)
    vouched = [c for c in court.rescued if c.agrees is not None and c.agrees.vouches]
    checked = next((c for c in vouched if not c.reading.goes_around_unsaid), None) if stated.groups else None
    if likeliest is not None and likeliest.agrees is not None and not likeliest.agrees.is_checked and checked:
        return court.decided(ReadingStanding.BY_UNLIKELY_WORDS, checked, checked.reading.whys)
    if likeliest is not None:
        whys = () if likeliest is fitting[0] else likeliest.reading.whys
        return court.decided(ReadingStanding.AGREES, likeliest, whys)
    if vouched and (not court.base_known or not fitting):
        return court.decided(ReadingStanding.AGREES, vouched[0], vouched[0].reading.whys)
    exact = [c for c in vouched if c.leaves == stated.stitches and not c.reading.goes_around_unsaid]
    if exact:
        return court.decided(ReadingStanding.BY_UNLIKELY_WORDS, exact[0], exact[0].reading.whys)
    return _disagreeing(court)


def _disagreeing(court: _Court) -> Decision:
    """No reading agrees with both witnesses: one that agrees with the bases, else with the total, else the first."""
    by_total = next((candidate for candidate in court.primary if candidate.says_total), None)
    by_bases = court.fitting or (court.rescued if court.base_known and by_total is None else [])
    if by_bases:
        return court.decided(ReadingStanding.NOT_THE_TOTAL, by_bases[0], by_bases[0].reading.whys)
    return court.decided(ReadingStanding.MISFIT, by_total or court.solved[0])


def _by_bases(court: _Court) -> Decision:
    """The likeliest reading that uses up the bases; an unlikely one where no plain one does."""
    fitting, rescued = _in_like_parts(_in_every_space(court, court.fitting)), court.rescued
    fitting = [candidate for candidate in fitting if candidate.reading.goes_by_kind] or fitting
    if fitting:
        others = _other_numbers(fitting)
        turns_on_chain = any(candidate.reading.opening for candidate in fitting)
        if not others and court.base_known and _repeats_twins(fitting[0].plan):
            others = _other_numbers([fitting[0], *(c for c in rescued if not c.reading.goes_around_unsaid)])
            turns_on_chain = False
        whys = fitting[0].reading.whys[-1:] if fitting[0].reading.goes_by_kind else ()
        decided = court.decided(ReadingStanding.AGREES, fitting[0], whys, others)
        return replace(decided, turns_on_chain=turns_on_chain)
    if rescued and court.base_known:
        first = rescued[0]
        return court.decided(ReadingStanding.BY_BASES_ALONE, first, first.reading.whys, _other_numbers(rescued))
    return court.decided(ReadingStanding.MISFIT, court.solved[0])


def _repeats_twins(plan: Plan) -> bool:
    """ "1 sc, 2 sc; repeat around": what is repeated makes a stitch and two or three more like it, which nobody parts
    where they do not mean them for one place."""
    groups = (node.body for node in plan.body if isinstance(node, Repeat))
    pairs = ((one, other) for body in groups for one, other in pairwise(body))
    return any(
        isinstance(one, Run) and isinstance(other, Run) and one.act == other.act and other.times in MAY_STAND_IN_ONE
        for one, other in pairs
    )


def _in_every_space(court: _Court, fitting: list[Candidate]) -> list[Candidate]:
    """Of readings that go into spaces those that go into every one, if there are such: a round of loops leaves none
    out (common practice, no source)."""
    spaces = court.base.spaces if court.base is not None else None
    return [each for each in fitting if spaces and off_the_row(each.plan.body)[0] == spaces] or fitting


def _in_like_parts(fitting: list[Candidate]) -> list[Candidate]:
    """Where the first of these readings makes a round of lace of parts that are alike, those that do so too: a chain
    at its start that counts as no stitch would leave one part smaller than the others."""
    if not fitting or not has_like_parts(fitting[0].plan):
        return fitting
    return [candidate for candidate in fitting if has_like_parts(candidate.plan)]


def _other_numbers(readings: list[Candidate]) -> tuple[int, ...]:
    """What the readings besides the first make, if it is another number."""
    return tuple(sorted({candidate.leaves for candidate in readings} - {readings[0].leaves}))
