"""What turned out true, as plain counts of causes, and how they shift what is suspected first.

The counts are pseudo-counts of a Dirichlet distribution: the weights of the table stand for `TRUST` causes seen,
and every cause that the maker confirms is one more. Nothing else is learned.
"""

from __future__ import annotations

from collections.abc import Iterable

from tracker.lazy_dataclass import dataclass
from tracker.session.mistakes import Mistake

TRUST = 20.0
"""How many confirmed causes weigh as much as the table: a habit shows after a handful, chance does not."""


@dataclass(frozen=True, slots=True)
class Learned:
    """How often each cause was confirmed, most frequent first."""

    counts: tuple[tuple[Mistake, int], ...] = ()

    def count(self, mistake: Mistake) -> int:
        return dict(self.counts).get(mistake, 0)

    def with_cause(self, mistake: Mistake) -> Learned:
        """One more confirmed cause."""
        counts = dict(self.counts)
        counts[mistake] = counts.get(mistake, 0) + 1
        return Learned(tuple(sorted(counts.items(), key=lambda item: (-item[1], item[0].value))))

    def as_json(self) -> dict[str, int]:
        """For programs: the name of each cause and its count."""
        return {mistake.value: count for mistake, count in self.counts}


def learned_from(names: Iterable[str]) -> Learned:
    """The counts of confirmed causes by name; a name that this version does not know is passed over."""
    learned = Learned()
    by_name = {mistake.value: mistake for mistake in Mistake}
    for name in names:
        if name in by_name:
            learned = learned.with_cause(by_name[name])
    return learned


def shifted(prior: dict[Mistake, float], learned: Learned) -> dict[Mistake, float]:
    """The prior over causes after what was learned; sums to 1."""
    whole = sum(prior.values())
    weights = {mistake: TRUST * share / whole + learned.count(mistake) for mistake, share in prior.items()}
    total = sum(weights.values())
    return {mistake: weight / total for mistake, weight in weights.items()}
