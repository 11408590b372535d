"""What a line lacks by arithmetic, so that most changes need not be read to be known as useless."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

from tracker.notation.ast import Choice, Group, Into, Item, Rest, Some
from tracker.notation.reader import Line
from tracker.rounds.plan import Plan
from tracker.rounds.readings import readings
from tracker.rounds.resolver import Base, solve

MAX_READINGS = 32


@dataclass(frozen=True, slots=True)
class Adds:
    """What a change adds to one time through the group that it stands in: bases taken and stitches made."""

    takes: int
    makes: int


@dataclass(frozen=True, slots=True)
class Need:
    """What one reading of a line lacks: bases still to take, stitches still to make (None: nothing tells)."""

    takes: int | None
    makes: int | None

    def met_by(self, adds: Adds) -> bool:
        """Whether this change, made a whole number of times, brings what is lacking."""
        times: int | None = None
        for lacking, added in ((self.takes, adds.takes), (self.makes, adds.makes)):
            if lacking is None:
                continue
            if added == 0 and lacking == 0:
                continue
            if added == 0 or lacking % added or lacking // added < 1 or times not in (None, lacking // added):
                return False
            times = lacking // added
        return True


def needs(line: Line, base: Base | None) -> list[Need] | None:
    """What each likely reading of the line lacks; None where that is no matter of simple sums."""
    if line.foundation is not None or len(line.stated) > 1:
        return None
    found: list[Need] = []
    for reading in islice((r for r in readings(line.body) if r.is_primary), MAX_READINGS):
        plan = solve(reading.body, None).plan
        if plan is None or any(act.into in (Into.SPACE, Into.PART, Into.BETWEEN) for act in plan.acts()):
            return None
        takes = base.stitches - plan.uses if base is not None else None
        found.append(Need(takes, _lacking(line, plan)))
    return found


def goes_to_end(body: tuple[Item, ...]) -> bool:
    """Whether the bases that are there tell how often something is made, in the likeliest reading."""
    for item in body:
        inner = item.options[0].body if isinstance(item, Choice) else item.body if isinstance(item, Group) else ()
        if goes_to_end(inner) or (isinstance(item, Some | Group) and isinstance(item.times, Rest)):
            return True
    return False


def _lacking(line: Line, plan: Plan) -> int | None:
    """The stitches that the stated total has above the plan; None where totals may count otherwise."""
    stated = line.stated[0] if line.stated else None
    several = len(line.heading.numbers) > 1
    if stated is None or stated.stitches is None or stated.sizes or several or plan.tally.spaces:
        return None
    return stated.stitches - plan.leaves
