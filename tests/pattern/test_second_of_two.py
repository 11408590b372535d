"""The second of two parts that are joined into the same piece: it is not worked on the tip of the first.

The pattern is invented, its figures worked out by hand; that earflaps are worked so is common practice, no source.
"""

from __future__ import annotations

from tracker.pattern.loader import loads

CAP = '''title = "Cap"
terms = "US"

[[piece]]
name = "Cap"
start = "joined"
rounds = """
Rnd 1: 8 sc in magic ring (8)
Rnd 2: 2 sc in each st around (16)
"""

[[piece]]
name = "First Flap"
start = "rows"
rounds = """
Row 1: Ch 1, sc in same st, sc in next 4 sts, turn (5)
Row 2: Ch 1, sc2tog, sc in next st, sc2tog, turn (3)
"""

[[piece]]
name = "Second Flap"
start = "rows"
rounds = """
Skip 3 sts from the first flap and join the yarn with a sl st.
Row 1: Ch 1, sc in same st, sc in next 4 sts, turn (5)
Row 2: Ch 1, sc2tog, sc in next st, sc2tog, turn (3)
"""
'''


def test_a_flap_that_runs_out_on_the_one_before_is_not_worked_on_its_tip() -> None:
    _, first, second = loads(CAP).pieces
    assert [(one.before, one.leaves) for one in first.rounds] == [(16, 5), (5, 3)]
    assert [one.leaves for one in second.rounds] == [5, 3]
    assert second.rounds[0].before != 3
    assert all(one.verdict != "error" for one in second.rounds)
