"""More invented patterns as they are pasted, each in the style of another page, for the tests of `rounds read`."""

from __future__ import annotations

GARLAND = """Fern Garland

Contents
Materials ....... 1
Fern ...... 1

Materials
~ fingering yarn in moss & olive
~ 2.75 mm hook
~ wool needle

Abbreviations (US): ch = chain, sl st = slip stitch, sc = single crochet, hdc = half double crochet

Caution: hang it out of the reach of babies.

Fern (make 8: 4 of each colour)

Ch 6.
Round 1: Sc in second ch from hook, hdc in each of next 3 ch, 3 sc in last ch; working along the other side of the
chain, hdc in each of next 3 ch, sc in last ch; join with sl st in first sc: 11 sts.
Fasten off.

2

Cord

Ch 101.
Row 1: Sl st in second ch from hook and in each ch across: 100 sts.

Putting the garland together
Sew the ferns to the cord.
"""

RABBIT = """Rill the Rabbit

{Yarn} DK cotton: cream
{Hook} 3 mm
{Also} fibrefill, needle, markers

{Abbr.} sc, ch as usual; inc = increase; dec = decrease; MR = magic ring

----------------
LEGS (x2) - cream
----------------
1. 6sc in MR [6]
2. 6inc [12]
3-5. sc in each st [12]
Do not fasten off the second leg - we go on to join them.
----------------
BODY - cream
----------------
6. ch 3, join to the first leg with a sc, sc in next 11 sts of the first leg, sc in each of the 3 ch, sc in each of \
the 12 sts of the second leg, sc in the other side of the 3 ch [30]
7-9. sc in each st [30]
10. (3sc, dec) x6 [24]
"""

POUCH = """Slate Pouch

Pattern notes
1. Uses US stitch names.
2. The pouch is worked in a spiral from the bottom up, then the flap is worked in rows.
3. Turning chains do not count as stitches.

Body

Foundation chain: Ch 7.

Round 1: Starting in the 2nd ch from the hook, 1 sc in each of the next 5 ch, 3 sc in
the last ch. Continue on the other side of the chain: 1 sc in each of the next 4 ch,

        www.example.com          page 4

2 sc in the last ch. (14)
Rounds 2 through 6: 1 sc in each st around. (14)

Flap

Row 1: 1 sc in each of the next 6 sts, leaving the remaining sts unworked, turn. (6)
Row 2: Ch 1, sc2tog, 1 sc, ch 1, skip 1 st, sc2tog, turn. (4)
Row 3: Ch 1, 1 sc in each st and ch across. (4)
"""

COWL = """Slow Cowl

1. MATERIALS
   - 2 skeins of bulky yarn
   - 8 mm hook
2. SIZE
   60 cm round
3. INSTRUCTIONS
   Ch 60, being careful not to twist, join with sl st to first ch to form a ring.
   Round 1: Ch 1, sc in each ch around. Sl st to first sc. [60]
   Round 2: Ch 1, hdc in BLO of each st around. Sl st to first hdc. [60]
   Rounds 3-6: Repeat Rounds 1 and 2.
4. FINISHING
   Weave in the ends.
"""

CHICK = """Puddle the Chick

What you'll need:
◦ gray and orange cotton yarn
◦ Hook 2.0 mm

Glossary
MR: magic ring
X: single crochet
V: increase
A: decrease

1. Body (gray, from the head down)
R1: 6X in MR (6)
R2: 6V (12)
R3: (2X, A)*3 (9)

2. Foot (orange, make 2)
R1: 6X in MR (6)
R2: 6X (6)
"""

SHOE = """Dew Baby Shoes
UK terms

SHOE (make 2)

Sole
Foundation: 5 ch.
Rnd 1: 2 dc in 2nd ch from hook, 1 dc in each of next 2 ch, 4 dc in last ch; now work along the other side of the \
chain: 1 dc in each of next 2 ch, 2 dc in last ch. Ss to first dc. (12 dc)

Sides
Rnd 2: 1 ch, 1 dc in BLO of each st around. Ss to first dc. (12 dc)

STRAP (make 2)
9 ch.
Row 1: 1 dc in 2nd ch from hook, 1 dc in each ch to end. (8 dc)
"""

BROOCH = """Briar Brooch

What you need:
  * cotton in yellow and pink
  * 2.5mm hook
Pattern is in US terms.
ch: chain // sc: single crochet // sl st: slip stitch // st(s): stitch(es)

~ Centre ~  (yellow)

R1: ch 2, 6 sc in 2nd ch from hook, join with a sl st to the first sc. (6)
TIP: hide the end now.
R2: ch 1, 2 sc in each st around, join. (12)

~ Leaf ~ (green, make two)

Chain 6.
R1: sc in 2nd ch from hook, hdc in next 3 ch, sc in last ch. (5)

To make up: sew the leaves to the back.
"""

BEANIE = """Ferry Beanie
US terms

Crown
Round 1: Ch 2, 8 (9, 10) hdc in a magic ring; join with sl st in first hdc. – 8 (9, 10) hdc
Round 2: Ch 2, 2 hdc in each st around; join. – 16
(18, 20) hdc
Round 3: Ch 2, *hdc in next st, 2 hdc in next st; rep from * around;
join. – 24 (27, 30) hdc
"""

PUMPKIN = """Harvest Pumpkin

PUMPKIN BODY:
Chain 11, leaving a long tail.
Row 1: Sc in the second chain from the hook and in each remaining chain across. Chain 1 and turn. (10 sc)
Row 2: BLO sc in each st across. Chain 1 and turn. (10 sc)
Repeat row 2 until you have 36 rows.
Border: ch 1, sc evenly around the edge, 1 in each row end. (72 sc)

SHELL TOP – in brown
Round 1 – start with a magic ring, 6 sc (6 sts)
Round 2 – inc in each st (12 sts)
"""
