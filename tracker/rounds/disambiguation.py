"""Which reading of a round is meant: the bases that are there decide, the stated total is a second witness.

A stated total may choose between readings that are all plausible. It never turns a line that uses up the wrong
number of bases into a right one. What is then told of the round stands in `checks`.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum, auto

from tracker.diagnostics import Severity, note
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Into, Stated, acts
from tracker.notation.instructions import each_act
from tracker.notation.line import Line
from tracker.rounds.bases import Base
from tracker.rounds.plan import Plan
from tracker.rounds.readings import Candidate, candidates
from tracker.rounds.resolver import Solved


class ReadingStanding(Enum):
    """What the witnesses say to the reading that was taken."""

    AGREES = auto()
    """It uses up the bases, as far as they are known, and makes the total, if one is stated."""
    BY_BASES_ALONE = auto()
    """An unlikely reading that uses up the bases where no plain one does; no total is stated."""
    NOT_THE_TOTAL = auto()
    """It uses up the bases and makes another number than is stated."""
    MISFIT = auto()
    """It does not come out with the bases that are there."""


@dataclass(frozen=True)
class Refusal:
    """No reading of a line comes to a number: the bases are not known, or a repeat has no end."""

    code: str
    reason: str


@dataclass(frozen=True)
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


@dataclass(frozen=True)
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
        base = base.opened([act.onto for act in acts(line.body)])
    if base is not None and base.spaces == 0:
        line = _between_stitches(line, stated)
    readings = candidates(line, base, stated)
    if plainly:
        readings = [candidate for candidate in readings if candidate.reading.is_primary]
    solved = [candidate for candidate in readings if candidate.solved.plan is not None]
    if not solved:
        return Refusal(readings[0].solved.refusal_code, readings[0].solved.refusal)
    court = _Court(line, base, solved)
    return _by_bases(court) if stated is None else _by_bases_and_total(court, stated)


def _between_stitches(line: Line, stated: Stated | None) -> Line:
    """Over a round without chains "in next space" is between two stitches; only a total can tell that it is not
    between two groups of them."""
    into = [act.onto for act in acts(line.body) if act.into is Into.SPACE]
    if not into or any(into):
        return line
    body = each_act(line.body, lambda act: replace(act, into=Into.BETWEEN) if act.into is Into.SPACE else act)
    message = "the round below has no chain spaces: read 'space' as between two stitches"
    told = note("spaces-between", message, line.instruction)
    if stated is None:
        told = replace(told, severity=Severity.WARNING, help="state the total")
    return replace(line, body=body, problems=(*line.problems, told))


def _by_bases_and_total(court: _Court, stated: Stated) -> Decision:
    """The likeliest reading that both the bases and the total agree with, if there is one."""
    fitting = court.fitting
    agreeing = [candidate for candidate in fitting if candidate.says_total]
    to_the_number = [candidate for candidate in agreeing if candidate.leaves == stated.stitches]
    likeliest = next(iter(to_the_number or agreeing), None)
    if likeliest is not None:
        whys = () if likeliest is fitting[0] else likeliest.reading.whys
        return court.decided(ReadingStanding.AGREES, likeliest, whys)
    if not court.base_known or not fitting:
        unlikely = next((candidate for candidate in court.rescued if candidate.says_total), None)
        if unlikely is not None:
            return court.decided(ReadingStanding.AGREES, unlikely, unlikely.reading.whys)
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
    fitting, rescued = court.fitting, court.rescued
    if fitting:
        others = _other_numbers(fitting)
        turns_on_chain = any(candidate.reading.opening for candidate in fitting)
        return replace(
            court.decided(ReadingStanding.AGREES, fitting[0], others=others), turns_on_chain=turns_on_chain
        )
    if rescued and court.base_known:
        first = rescued[0]
        return court.decided(ReadingStanding.BY_BASES_ALONE, first, first.reading.whys, _other_numbers(rescued))
    return court.decided(ReadingStanding.MISFIT, court.solved[0])


def _other_numbers(readings: list[Candidate]) -> tuple[int, ...]:
    """What the readings besides the first make, if it is another number."""
    return tuple(sorted({candidate.leaves for candidate in readings} - {readings[0].leaves}))
