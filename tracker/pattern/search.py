"""The search for a misprint: every small change near a complaint is tried, and judged by the checker itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from tracker.notation.line import Line, read_line
from tracker.notation.problems import Severity
from tracker.notation.tree import Stated
from tracker.pattern.agree import groups_in
from tracker.pattern.check import base_left_by
from tracker.pattern.edits import Edit, Slip, instruction_edits, reference_edits, swapped, total_edits
from tracker.pattern.likely import odd_growth, unevenness
from tracker.pattern.plan import Plan
from tracker.pattern.resolve import Base, left_by
from tracker.pattern.sheet import COUNTING, Checked, Sheet
from tracker.pattern.weigh import Weighed, weigh
from tracker.pattern.wording import Wording, wording
from tracker.pattern.written import Written, written

AHEAD = 12
"""Lines after a complaint that are checked with a change; a misprint's trace is lost in fewer."""

BACK = 6
"""Lines before a complaint that are looked at, in patterns that state few totals."""

MAX_TRIED = 24
"""Changes that are put through the whole checker for one complaint."""

# Costs beside those of the change itself; smaller is likelier.
AWAY = 0.15
VOUCHED = 0.5
LEFT_OVER = 1.0
OTHERWISE = 1.5


@dataclass(frozen=True)
class Repair:
    """A change that the checker accepts: the new text of each line that it touches, and the piece with it."""

    edit: Edit
    lines: Mapping[int, str]
    after: Checked
    cost: float


@dataclass(frozen=True)
class _Try:
    """A change worth a look. `cost` is that of the change and its place, without what the checker will say."""

    edit: Edit
    lines: Mapping[int, str]
    cost: float


def repairs(sheet: Sheet, checked: Checked, seen: int, most: int) -> list[Repair]:
    """What could have been meant, likeliest first; `seen` is the line whose numbers do not agree."""
    search = _Search(sheet, checked, seen)
    found = list(search.accepted(search.tries()))
    if not found:
        found = list(search.accepted(search.pairs()))
    found.sort(key=lambda repair: repair.cost)
    return found[:most]


@dataclass(frozen=True)
class _Search:
    """One complaint under search."""

    sheet: Sheet
    checked: Checked
    seen: int

    @cached_property
    def words(self) -> Wording:
        return wording(self.written(line) for line in range(len(self.checked.of_line)) if self.checked.of_line[line])
    ...
