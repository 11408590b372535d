"""The readings of a line, each with its numbers and with what the stated total says to them."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Some, Stated
from tracker.notation.lowering.chain_gap import without_bridges
from tracker.notation.reader import Line
from tracker.pattern.agree import Agreement, agreement
from tracker.pattern.base import Base
from tracker.pattern.plan import Plan
from tracker.pattern.readings import Reading, readings
from tracker.pattern.resolve import Solved, solve


@dataclass(frozen=True)
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
    found: list[Candidate] = []
    apart = stated is not None and (stated.chains, stated.spaces) != (None, None)
    for reading in readings(without_bridges(line.body) if apart else line.body):
        for side in (1, 2, 0) if foundation and _has_side(reading) else (1,):
            solved = solve(reading.body, base, total, foundation=foundation, other_side=side, hint=hint)
            agrees = agreement(stated, solved.plan) if stated and solved.plan else None
            found.append(Candidate(reading, solved, agrees))
            if solved.is_exact and (agrees is None or agrees.agrees):
                break
        first = found[0]
        exact = base is not None and len(found) == 1 and first.solved.is_exact
        if exact and first.says_total and total in (None, first.leaves):
            return found  # nothing can be likelier
    return found


def _has_side(reading: Reading) -> bool:
    return any(isinstance(item, Some) and item.act.name == "other side" for item in reading.body)
