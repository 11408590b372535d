"""All that is told of a pattern's size, yarn and time, as a table or as JSON."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.measure.pace import TimeLeft, WorkingPace
from tracker.measure.resize import PatternFit
from tracker.measure.size import PatternSize
from tracker.measure.yarn import Lasting, YarnNeed, YarnRate
from tracker.pattern.model import Pattern


@dataclass(frozen=True)
class Measured:
    """Everything that is told of one pattern. `fit` is None where no other size was asked for."""

    pattern: Pattern
    size: PatternSize
    rate: YarnRate | None
    needs: tuple[YarnNeed, ...]
    lasting: tuple[tuple[str, Lasting], ...]
    pace: WorkingPace
    time: TimeLeft
    is_begun: bool
    fit: PatternFit | None
