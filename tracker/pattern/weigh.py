"""Which reading of a round is meant: the bases that are there decide, the stated total is a second witness.

A stated total may choose between readings that are all plausible. It never turns a line that uses up the wrong
number of bases into a right one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.line import Line
from tracker.notation.problems import Problem, Severity, Span, disagreement, error, note, warning
from tracker.notation.tree import Stated
from tracker.pattern.agree import Agreement, agreement
from tracker.pattern.plan import Plan, Repeat, Spot
from tracker.pattern.readings import Reading, readings
from tracker.pattern.resolve import Base, Solved, solve


@dataclass(frozen=True)
class Weighed:
    """A round decided. `leaves` is None where it is not known; `plan` then is None too, or cannot be trusted."""

    plan: Plan | None
    leaves: int | None
    uses: int | None
    stated: Stated | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class _Candidate:
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
        return self.solved.is_exact if base_known else self.solved.plan is not None

    @property
    def says_total(self) -> bool:
        return self.agrees is not None and self.agrees.agrees


def weigh(line: Line, base: Base | None, stated: Stated | None = None, *, plainly: bool = False) -> Weighed:
    """Decide how `line` is to be read over `base` (None: not known), and say all that the maker should hear.

    `plainly` allows no unlikely reading: words read plainly in one round of a range are read so in all of them.
    """
    stated = stated or (line.stated[-1] if line.stated else None)
    if not line.is_readable or not line.body:
        return Weighed(None, None, None, stated, line.problems)
    candidates = _candidates(line, base, stated)
    candidates = [c for c in candidates if c.reading.is_primary] if plainly else candidates
    solved = [candidate for candidate in candidates if candidate.solved.plan is not None]
    if not solved:
        return _unsolved(line, candidates[0], stated)
    known = base is not None or (line.foundation is not None and line.foundation.bases > 0)
    return _decide(line, base, stated, solved, known)


def _candidates(line: Line, base: Base | None, stated: Stated | None) -> list[_Candidate]:
    foundation = line.foundation.bases if line.foundation else 0
    total = stated.stitches if stated else None
    hint = next((n for _, n in stated.groups), stated.spaces) if stated and total is None else None
    found: list[_Candidate] = []
    for reading in readings(line.body):
        for side in (1, 2) if foundation and _has_side(reading) else (1,):
            solved = solve(reading.body, base, total, foundation=foundation, other_side=side, hint=hint)
            agrees = agreement(stated, solved.plan) if stated and solved.plan else None
            found.append(_Candidate(reading, solved, agrees))
            if solved.is_exact and (agrees is None or agrees.agrees):
                break
    return found


def _has_side(reading: Reading) -> bool:
    return any(getattr(getattr(item, "act", None), "name", "") == "other side" for item in reading.body)


def _unsolved(line: Line, first: _Candidate, stated: Stated | None) -> Weighed:
    """No number can be given: the bases are not known, or a repeat has no end."""
    reason, code = first.solved.refusal, first.solved.refusal_code
    span = _instruction_span(line)
    if code == "base-unknown":
        told = warning(code, reason, span, "give the number of stitches of the round before")
    elif code == "total-does-not-divide":
        told = disagreement(code, reason, stated.span if stated else span, "check the total and the group")
    else:
        told = error(code, reason, span, _help_for(code))
    return Weighed(None, None, None, stated, (*line.problems, told))


def _help_for(code: str) -> str:
    return {
        "too-many": "the limit is 10,000,000,000 stitches",
        "repeat-of-nothing": "put a stitch into the group, or say how many times",
        "no-such-base": "check the round before, or what this one is worked into",
        "open-inside": "write how many stitches it is",
    }.get(code, "")


def _instruction_span(line: Line) -> Span:
    end = line.text.find("\n")
    return Span(0, line.heading.end, max(len(line.text) if end < 0 else end, line.heading.end + 1))


def _decide(line: Line, base: Base | None, stated: Stated | None, solved: list[_Candidate], known: bool) -> Weighed:
    primary = [c for c in solved if c.reading.is_primary]
    rescue = [c for c in solved if not c.reading.is_primary]
    fitting = [c for c in primary if c.fits(known)]
    if stated is None:
        return _without_total(line, base, fitting, rescue, solved, known)
    told = next((c for c in fitting if c.says_total), None)
    if told is not None:
        return _taken(line, told, stated, _how_it_was_read(line, told, fitting))
    if not known or not fitting:
        saved = next((c for c in rescue if c.fits(known) and c.says_total), None)
        if saved is not None:
            return _taken(line, saved, stated, _whys(line, saved))
    return _disagreeing(line, base, stated, fitting, primary, rescue, solved, known)


def _without_total(
    line: Line,
    base: Base | None,
    fitting: list[_Candidate],
    rescue: list[_Candidate],
    solved: list[_Candidate],
    known: bool,
) -> Weighed:
    if fitting:
        return _rivals(line, fitting)
    saved = [c for c in rescue if c.fits(known)]
    if saved and known:
        found = sorted({c.leaves for c in saved})
        more = (
            f"; it could also make {' or '.join(str(n) for n in found if n != saved[0].leaves)}"
            if len(found) > 1
            else ""
        )
        reason = (
            saved[0].reading.whys[0] if saved[0].reading.whys else "read so that it uses the stitches that are there"
        )
        told = warning("read-otherwise", f"{reason}{more}", _instruction_span(line), "a stated total would settle it")
        return _result(saved[0], None, (*line.problems, told))
    first = solved[0]
    return _result(first, None, (*line.problems, *_base_problems(line, base, first)))


def _rivals(line: Line, fitting: list[_Candidate]) -> Weighed:
    """Readings that are equally good by the bases: fine if they make the same, else the maker hears of it."""
    first = fitting[0]
    totals = sorted({c.leaves for c in fitting})
    problems = list(_assumptions(line, first))
    if len(totals) > 1:
        listed = " or ".join(str(number) for number in totals)
        span = _instruction_span(line)
        if any(c.reading.opening for c in fitting):
            why = first.reading.opening or "read the starting chain by its height"
            told = warning(
                "chain-by-convention", f"{why}; with the other reading it makes {listed}", span, _CHAIN_HELP
            )
            return _result(first, None, (*line.problems, *problems, told))
        told = error("two-readings", f"this can be read in two ways, making {listed}", span, "state the total")
        return Weighed(None, None, None, None, (*line.problems, *problems, told))
    return _result(first, None, (*line.problems, *problems))


_CHAIN_HELP = "write (counts as a stitch) or (does not count) after the chain, or state the total"


def _assumptions(line: Line, candidate: _Candidate) -> list[Problem]:
    span = _instruction_span(line)
    if candidate.solved.assumed:
        return [warning("spaces-assumed", "the number of spaces to work into is not known, so it was assumed", span)]
    if candidate.plan.tally.spaces and candidate.agrees is None and not line.stated:
        spaces = candidate.plan.tally.spaces
        message = f"makes {candidate.plan.leaves} stitches, and {spaces} chain spaces besides"
        return [note("spaces-besides", message, span)]
    return []


def _how_it_was_read(line: Line, told: _Candidate, fitting: list[_Candidate]) -> tuple[Problem, ...]:
    if told is fitting[0]:
        return ()
    return _whys(line, told)


def _whys(line: Line, candidate: _Candidate) -> tuple[Problem, ...]:
    span = _instruction_span(line)
    return tuple(note("read-otherwise", why, span) for why in candidate.reading.whys)


def _taken(line: Line, candidate: _Candidate, stated: Stated, notes: tuple[Problem, ...]) -> Weighed:
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


def _result(candidate: _Candidate, stated: Stated | None, problems: tuple[Problem, ...]) -> Weighed:
    return Weighed(candidate.plan, candidate.leaves, candidate.plan.uses, stated, problems)


def _disagreeing(
    line: Line,
    base: Base | None,
    stated: Stated,
    fitting: list[_Candidate],
    primary: list[_Candidate],
    rescue: list[_Candidate],
    solved: list[_Candidate],
    known: bool,
) -> Weighed:
    """No reading agrees with both witnesses: tell which one says what."""
    if fitting:
        return _total_is_off(line, stated, fitting[0])
    saved = next((c for c in rescue if c.fits(known)), None)
    best = next((c for c in primary if c.says_total), None)
    if saved is not None and known and best is None:
        return _total_is_off(line, stated, saved)
    best = best or solved[0]
    problems = [*line.problems, *_base_problems(line, base, best)]
    ran_out = best.solved.unworked < 0
    if not best.says_total and not ran_out:
        problems.append(_total_problem(stated, best))
    if ran_out:
        return Weighed(best.plan, None, best.plan.uses, stated, tuple(problems))
    return _result(best, stated, tuple(problems))


def _total_is_off(line: Line, stated: Stated, best: _Candidate) -> Weighed:
    return _result(best, stated, (*line.problems, *_whys(line, best), _total_problem(stated, best)))


def _total_problem(stated: Stated, best: _Candidate) -> Problem:
    assert best.agrees is not None
    if best.agrees.how:
        return disagreement("total-differs", f"this round {best.agrees.how}", stated.span)
    says = stated.stitches
    message = f"the instruction makes {best.plan.leaves}, and the total says {says}"
    return disagreement("total-differs", message, stated.span)


def _base_problems(line: Line, base: Base | None, candidate: _Candidate) -> list[Problem]:
    solved, plan = candidate.solved, candidate.plan
    there = base.stitches if base else plan.uses + solved.unworked
    if solved.cut:
        return [_cut_short(line, there, candidate)]
    if solved.unworked > 0:
        used = plan.uses
        message = f"uses {used} of the {there} stitches that are there: {solved.unworked} are left unworked"
        return [warning("unworked", message, _instruction_span(line), _help_unworked(line, plan, there))]
    if solved.unworked < 0:
        spot = _runs_out(plan, there)
        span = spot.act.span if spot else _instruction_span(line)
        where = f" in repeat {spot.turns[0].number}" if spot and spot.turns else ""
        message = f"this round uses {plan.uses} stitches, and only {there} are there: they run out{where}"
        return [error("runs-out", message, span, _help_unworked(line, plan, there))]
    return []


def _cut_short(line: Line, there: int, candidate: _Candidate) -> Problem:
    group = next((n for n in candidate.plan.body if isinstance(n, Repeat)), None)
    span = group.span if group else _instruction_span(line)
    size = group.once.takes if group else 0
    message = f"{there} stitches do not divide by {size}: the last group is cut short"
    return warning("cut-short", message, span, "check the count of the round before")


def _help_unworked(line: Line, plan: Plan, there: int) -> str:
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


def _runs_out(plan: Plan, there: int) -> Spot | None:
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
