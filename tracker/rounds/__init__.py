"""The arithmetic of one round: from a tree to a plan over the bases that are there.

A plan is a small tree of runs and repeats; totals and positions are sums over it. Readings are weighed against each
other by what they use up. A plan is also cut, written out again, and asked what comes next.
"""

DOORS = (
    "agreement",
    "bases",
    "checks",
    "count_at_end",
    "count_parts",
    "formatter",
    "line_report",
    "next_step",
    "other_bases",
    "plan",
    "possible_readings",
    "resolver",
    "slicing",
    "tolerance",
)
"""The modules of this folder that others may import; the rest is its own."""
