"""Pages as a maker pastes them."""

from __future__ import annotations

PEBBLE = """Pebble
For an adult. Hook 3 mm.

Pebble
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnd 5: wander about with the tail
Rnds 6-7: sc around (24)
Rnd 8: (2 sc, dec) x 6 (16)
Rnd 9: (1 sc, dec) x 6 (12)
Rnd 10: dec x 6, fasten off (6)
"""
"""Two misprints (a repeat of Rnd 3, the total of Rnd 8), and Rnd 5, which nobody can read."""
