"""The real program, killed: nothing that was shown is lost, and the place is where the taps lead by sums alone."""

from __future__ import annotations

import pytest
from bench.kills import kill


@pytest.mark.parametrize(("kills", "on_screen"), [(10, False), (5, True)], ids=["typed lines", "screen"])
def test_a_kill_loses_nothing(kills: int, on_screen: bool) -> None:
    """By every manner of killing in turn; `tests/bench/kills.py` does a thousand."""
    tallies = kill(kills, on_screen, seed=20)
    assert [fault for tally in tallies.values() for fault in tally.faults] == []
    assert sum(tally.lost + tally.wrong_places + tally.false_alarms for tally in tallies.values()) == 0
    assert sum(tally.kills for tally in tallies.values()) == kills
    assert sum(tally.taps_shown for tally in tallies.values()) >= kills // 2
