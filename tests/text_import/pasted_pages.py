"""Invented patterns as they are pasted from a page, for the tests of `rounds read`."""

from __future__ import annotations

TOY = """PEBBLE THE OTTER

A small otter for a shelf.

Materials:
A: river brown
B: cream, a little
Hook: 3.5 mm
Stuffing; a yarn needle

Abbreviations:
sc = single crochet
inc = 2 sc in one st

Gauge: 22 sc x 24 rows = 10 cm

Notes
Worked in a spiral from the nose.

HEAD
Rnd 1 (A): 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (sc, inc) x 6 (18)
Rnds 4-6: sc around (18)
Embroider the nose now.
Rnd 7: (sc, dec) x 6 (12)
Stuff the head.
Rnd 8: dec x 6 (6)
Fasten off.

EARS (make 2)
Rnd 1 (B): 6 sc in magic ring, sl st to first sc (6)
Leave a tail for sewing.

Body:
Rnd 1 (A): 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: sc around (12)
Change to B
Rnd 4: sc around (12)

Making up:
1. Sew the ears to the head.
2. Sew the head to the body.
- Weave in all ends.
"""

CLOTH = """Square face cloth

You will need: 50 g of cotton and a 4 mm hook
Tension: 18 tr x 9 rows = 10 cm

Make 31 ch.
Row 1: 1 dc in 2nd ch from hook, 1 dc in each ch to end, turn. (30 dc)
Row 2: 1 ch, 1 dc in each st to end, turn. (30 dc)
Row 3: 3 ch (counts as 1 tr), miss first st, 1 tr in each st to end, turn. (30 tr)
Row 4: as Row 3, turn.
Row 5: 1 ch, 1 dc in each st to end, turn. (30 dc)

To finish
Fasten off and weave in the ends.
"""

HAT = """• Plain warm hat •
you'll need: worsted yarn, 5 mm hook, 200 m
instructions:
1) 12 hdc in magic ring
2) 2 hdc in each st around (24)
 3) *1 hdc, 2 hdc in next*
(36 sts)
4. *2 hdc, inc* around – 48

rows 5–8 hdc around
keep going until it is long enough!!
next rnd:  sc around , fasten off
weave in ends
enjoy!!!
"""
