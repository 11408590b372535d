"""Which single change would make the witnesses of a round agree.

Instruction, stated total, round before and round after are the witnesses. Changes are tried in the order in which
printers make them. Only what the checker finds clean is proposed.
"""

DOORS = ("finder", "remedies")
"""The modules of this folder that others may import; the rest is its own."""
