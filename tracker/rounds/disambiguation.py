"""Which reading of a round is meant: the bases that are there decide, the stated total is a second witness.

A stated total may choose between readings that are all plausible. It never turns a line that uses up the wrong
number of bases into a right one.
"""

from __future__ import annotations

from dataclasses import replace

from tracker.diagnostics import (
    Problem,
    Severity,
    disagreement,
    error,
    note,
    verdict_of,
    warning,
)
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Stated
from tracker.notation.reader import Line
from tracker.notation.traversal import acts
from tracker.rounds.base_usage import off_the_row
from tracker.rounds.bases import Base
from tracker.rounds.plan import Plan, Repeat, Spot
from tracker.rounds.readings import Candidate, candidates
from tracker.rounds.resolver import Solved

_CHAIN_HELP = "write (counts as a stitch) or (does not count) after the chain, or state the total"
_HELP = {
    "too-many": "the limit is 10,000,000,000 stitches",
    "repeat-of-nothing": "put a stitch into the group, or say how many times",
    "no-such-base": "check the round before, or what this one is worked into",
    "open-inside": "write how many stitches it is",
}
"""What to do where a reading has no numbers, by the code of its refusal."""


@dataclass(frozen=True)
class Weighed:
    """A round decided. `leaves` is None where it is not known; `plan` then is None too, or cannot be trusted."""

    plan: Plan | None
    leaves: int | None
    uses: int | None
    stated: Stated | None
    problems: tuple[Problem, ...]


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

    def base_problems(self, candidate: Candidate) -> list[Problem]:
        return base_problems(self.line, self.base, candidate.solved, candidate.plan)


def weigh(line: Line, base: Base | None, stated: Stated | None = None, *, plainly: bool = False) -> Weighed:
    """Decide how `line` is to be read over `base` (None: not known), and say all that the maker should hear.

    `plainly` allows no unlikely reading: words read plainly in one round of a range are read so in all of them.
    """
    stated = stated or (line.stated[-1] if line.stated else None)
    if not line.is_readable or not line.body:
        return Weighed(None, None, None, stated, line.problems)
    if base is not None and base.bridges:
        base = base.opened([act.onto for act in acts(line.body)])
    readings = candidates(line, base, stated)
    if plainly:
        readings = [candidate for candidate in readings if candidate.reading.is_primary]
    solved = [candidate for candidate in readings if candidate.solved.plan is not None]
    if not solved:
        return _unsolved(line, readings[0], stated)
    court = _Court(line, base, solved)
    weighed = _without_total(court) if stated is None else _with_total(court, stated)
    if weighed.plan is None or verdict_of(weighed.problems) != "ok":
        return weighed
    return replace(weighed, problems=(*weighed.problems, *passed_over(line, base, weighed.plan)))


def _unsolved(line: Line, first: Candidate, stated: Stated | None) -> Weighed:
    """No number can be given: the bases are not known, or a repeat has no end."""
    reason, code = first.solved.refusal, first.solved.refusal_code
    span = line.instruction
    if code == "base-unknown":
        told = warning(code, reason, span, "give the number of stitches of the round before")
    elif code == "total-does-not-divide":
        told = disagreement(code, reason, stated.span if stated else span, "check the total and the group")
    else:
        told = error(code, reason, span, _HELP.get(code, ""))
    return Weighed(None, None, None, stated, (*line.problems, told))


def _with_total(court: _Court, stated: Stated) -> Weighed:
    """The likeliest reading that both the bases and the total agree with, if there is one."""
    fitting = court.fitting
    agreeing = [candidate for candidate in fitting if candidate.says_total]
    to_the_number = [candidate for candidate in agreeing if candidate.leaves == stated.stitches]
    told = next(iter(to_the_number or agreeing), None)
    if told is not None:
        return _taken(court.line, told, stated, () if told is fitting[0] else _whys(court.line, told))
    if not court.base_known or not fitting:
        saved = next((candidate for candidate in court.rescued if candidate.says_total), None)
        if saved is not None:
            return _taken(court.line, saved, stated, _whys(court.line, saved))
    return _disagreeing(court, stated)


def _without_total(court: _Court) -> Weighed:
    fitting, rescued = court.fitting, court.rescued
    if fitting:
        return _rivals(court.line, fitting)
    if rescued and court.base_known:
        return _rescued(court.line, rescued)
    first = court.solved[0]
    return _result(first, None, (*court.line.problems, *court.base_problems(first)))


def _rescued(line: Line, rescued: list[Candidate]) -> Weighed:
    """An unlikely reading taken because it alone uses up the bases; the maker hears of it."""
    first = rescued[0]
    others = [str(number) for number in sorted({candidate.leaves for candidate in rescued} - {first.leaves})]
    more = f"; it could also make {' or '.join(others)}" if others else ""
    whys = first.reading.whys
    reason = whys[0] if whys else "read so that it uses the stitches that are there"
    told = warning("read-otherwise", f"{reason}{more}", line.instruction, "a stated total would settle it")
    return _result(first, None, (*line.problems, told))


def _rivals(line: Line, fitting: list[Candidate]) -> Weighed:
    """Readings that are equally good by the bases: fine if they make the same, else the maker hears of it."""
    first = fitting[0]
    totals = sorted({candidate.leaves for candidate in fitting})
    problems = (*line.problems, *_assumptions(line, first))
    if len(totals) == 1:
        return _result(first, None, problems)
    listed = " or ".join(str(number) for number in totals)
    if any(candidate.reading.opening for candidate in fitting):
        why = first.reading.opening or "read the starting chain by its height"
        message = f"{why}; with the other reading it makes {listed}"
        told = warning("chain-by-convention", message, line.instruction, _CHAIN_HELP)
        return _result(first, None, (*problems, told))
    if first.reading.convention:
        message = f"{first.reading.convention}; it could make {listed}"
        told = warning("by-convention", message, line.instruction, "state the total")
        return _result(first, None, (*problems, told))
    message = f"this can be read in two ways, making {listed}"
    told = error("two-readings", message, line.instruction, "state the total")
    return Weighed(None, None, None, None, (*problems, told))


def _assumptions(line: Line, candidate: Candidate) -> list[Problem]:
    """What is told of chain spaces: that their number was assumed, or how many are made besides the stitches."""
    if candidate.solved.assumed:
        message = "the number of spaces to work into is not known, so it was assumed"
        return [warning("spaces-assumed", message, line.instruction)]
    if candidate.plan.tally.spaces and not line.stated:
        tally = candidate.plan.tally
        message = f"makes {candidate.plan.leaves} stitches, and {tally.spaces} chain spaces besides"
        names = dict(tally.names)
        if names.get("sk") == tally.chains and names.get("ch") == tally.spaces:
            with_chains = f"{message}; it leaves {tally.stitches + tally.chains} if its chains count"
            return [warning("chains-for-stitches", with_chains, line.instruction, "state the total")]
        return [note("spaces-besides", message, line.instruction)]
    return []


def _whys(line: Line, candidate: Candidate) -> tuple[Problem, ...]:
    """In which unlikely ways words were read."""
    return tuple(note("read-otherwise", why, line.instruction) for why in candidate.reading.whys)


def _taken(line: Line, candidate: Candidate, stated: Stated, notes: tuple[Problem, ...]) -> Weighed:
    assert candidate.agrees is not None
    problems = [*line.problems, *notes]
    if candidate.agrees.plainly and stated.stitches is not None:
        problems = [replace(p, severity=Severity.NOTE) if p.code == "undefined-group" else p for p in problems]
    if candidate.agrees.how:
        problems.append(note("total-counts-otherwise", candidate.agrees.how, stated.span))
    if candidate.solved.spaces_from_total:
        message = "the number of spaces to work into is not known, and was taken from the total"
        problems.append(warning("spaces-from-total", message, stated.span))
    if candidate.solved.from_total:
        problems.append(
            note("base-from-total", f"uses {candidate.plan.uses} stitches, if the total is right", stated.span)
        )
    return _result(candidate, stated, tuple(problems))


def _result(candidate: Candidate, stated: Stated | None, problems: tuple[Problem, ...]) -> Weighed:
    return Weighed(candidate.plan, candidate.leaves, candidate.plan.uses, stated, problems)


def _disagreeing(court: _Court, stated: Stated) -> Weighed:
    """No reading agrees with both witnesses: tell which one says what."""
    line = court.line
    best = next((candidate for candidate in court.primary if candidate.says_total), None)
    off = court.fitting or (court.rescued if court.base_known and best is None else [])
    if off:
        return _result(off[0], stated, (*line.problems, *_whys(line, off[0]), _total_problem(stated, off[0])))
    best = best or court.solved[0]
    problems = (*line.problems, *court.base_problems(best))
    if best.solved.unworked < 0:
        return Weighed(best.plan, None, best.plan.uses, stated, problems)
    if not best.says_total:
        problems = (*problems, _total_problem(stated, best))
    return _result(best, stated, problems)


def _total_problem(stated: Stated, best: Candidate) -> Problem:
    assert best.agrees is not None
    if best.agrees.how:
        return disagreement("total-differs", f"this round {best.agrees.how}", stated.span)
    message = f"the instruction makes {best.plan.leaves}, and the total says {stated.stitches}"
    return disagreement("total-differs", message, stated.span)


# What is told where a round does not come out with the stitches that are there: left over, cut short, run out.


def base_problems(line: Line, base: Base | None, solved: Solved, plan: Plan) -> list[Problem]:
    """At most one: how the bases and what the round uses differ."""
    there = base.stitches if base else plan.uses + solved.unworked
    if solved.cut:
        return [_cut_short(line, there, plan)]
    if solved.idle and solved.unworked >= 0:
        message = "something goes to the end of the round, and nothing is left for what is to go there after it"
        return [warning("nothing-left", message, line.instruction, "say how far the first part goes")]
    if solved.unworked > 0:
        left = f"{solved.unworked} {'is' if solved.unworked == 1 else 'are'} left unworked"
        message = f"uses {plan.uses} of the {there} stitches that are there: {left}"
        return [warning("unworked", message, line.instruction, _other_number(plan, there))]
    if solved.unworked < 0:
        return [_runs_out(line, there, plan)]
    return []


def passed_over(line: Line, base: Base | None, plan: Plan) -> list[Problem]:
    """At most one: spaces that are not worked into by a round that goes from space to space and into nothing else."""
    if base is None or base.spaces is None or line.worked_into is not None:
        return []
    spaces, groups = off_the_row(plan.body)
    if groups or not 0 < spaces < base.spaces or plan.uses > spaces:
        return []
    message = f"works into {spaces} of the {base.spaces} chain spaces that are there"
    return [warning("spaces-left", message, line.instruction, "write which ones are skipped")]


def _cut_short(line: Line, there: int, plan: Plan) -> Problem:
    group = next((node for node in plan.body if isinstance(node, Repeat)), None)
    if group is not None:
        message = f"{there} stitches do not divide by {group.once.takes}: the last group is cut short"
        return warning("cut-short", message, group.span, "check the count of the round before")
    left = there - plan.uses
    are = "stitch is" if left == 1 else "stitches are"
    message = f"{there} stitches do not come out: {left} {are} left over"
    return warning("cut-short", message, line.instruction, "check the count of the round before")


def _runs_out(line: Line, there: int, plan: Plan) -> Problem:
    spot = _last_spot(plan, there)
    span = spot.span if spot else line.instruction
    where = f" in repeat {spot.turns[0].number}" if spot and spot.turns else ""
    message = f"this round uses {plan.uses} stitches, and only {there} are there: they run out{where}"
    return error("runs-out", message, span, _other_number(plan, there))


def _other_number(plan: Plan, there: int) -> str:
    """The number of repeats that would use up what is there, if a whole one does."""
    groups = [node for node in plan.body if isinstance(node, Repeat) and node.times > 1 and node.once.takes]
    if len(groups) != 1:
        return ""
    group = groups[0]
    times, over = divmod(there - (plan.uses - group.tally.takes), group.once.takes)
    if over or times < 1:
        return ""
    makes = plan.leaves + (times - group.times) * group.once.stitches
    return f"x {times} would use {there} and make {makes}"


def _last_spot(plan: Plan, there: int) -> Spot | None:
    """The first move that finds no base left, by halving."""
    low, high = 0, plan.moves - 1
    while low < high:
        middle = (low + high) // 2
        spot = plan.spot(middle)
        assert spot is not None
        if spot.takes_done + (spot.act.takes if spot.in_act == 0 else 0) > there:
            high = middle
        else:
            low = middle + 1
    return plan.spot(low)
