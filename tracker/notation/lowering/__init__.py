"""What a whole line decides, once all of it is read.

Starting chains, chains over a gap, and how a round ends get their meaning from what stands elsewhere in the line.
Each file is a pass from tree to tree. The passes and the reason of their order stand in `reader`.
"""

DOORS = ("chain_below", "chain_gap", "closed_flat", "first_cluster", "round_end", "space_between", "starting_chain")
"""The modules of this folder that others may import; the rest is its own."""
