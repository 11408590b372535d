"""What the lines of a page are: rounds wherever they stand, and everything else that only looks like one.

The pages are invented, their figures worked out by hand; that pages are laid out so is common practice, no source.
"""

from __future__ import annotations

import re

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.draft_parts import Fate
from tracker.pattern.toml_writer import as_toml

Leaves = list[list[int | None]]

PAGES: dict[str, tuple[str, Leaves]] = {
    "a paragraph that begins with something else": (
        "Mat\n\nHere is how the mat goes. Round 1: 9 sc in magic ring. (9) Round 2: 2 sc in each st around. (18)\n",
        [[9, 18]],
    ),
    "a paragraph with its materials": (
        "Materials: • any hook • red yarn Abbreviations: • SC = single crochet Rnd 1: 9 sc in magic ring. (9) "
        "Rnd 2: 2 sc in each sc around. (18)\n",
        [[9, 18]],
    ),
    "numbers with a dash and rounds that say no more than the same": (
        "otter keyring\nbody\n1- 7 sc in mr (7)\n2- inc x 7 (14)\n3/4- sc around (14)\n5- same as before\n"
        "6- same (14)\n7 to 8- sc (14)\n9- dec x 7 (7)\n",
        [[7, 14, 14, 14, 14, 14, 14, 14, 7]],
    ),
    "columns that a tab parts": (
        "Otter\n\nRnd\tWork\tSts\n1\t7 sc in magic ring\t7\n2\tinc in each st\t14\nMind the marker.\n"
        "3\t(sc, inc) x7\t21\n4-6\tsc in each st\t21\n",
        [[7, 14, 21, 21, 21, 21]],
    ),
    "laps that follow each other on one line": (
        "Bead\nLap 1: 7 sc in a magic ring. Lap 2: 2 sc in each st (14)\n"
        "Lap 3: (sc, inc) x 7 (21) Lap 4: sc around (21)\n",
        [[7, 14, 21, 21]],
    ),
    "times round with a yarn in brackets": (
        "Bead\nFirst time round: 7 sc in a magic ring (7)\nSecond time round (in white): 2 sc in each st (14)\n"
        "Third time round (change colour): (sc, inc) x 7 (21)\nFourth time round (new colour): sc around (21)\n",
        [[7, 14, 21, 21]],
    ),
    "a yarn before the number of its round": (
        "Daisy\nyellow: 1. 7 dc in ring\n2. 2 dc in each st (14)\nwhite: 3. (dc, 2 dc in next st) x 7 (21)\n"
        "4. dc around (21)\n",
        [[7, 14, 21, 21]],
    ),
    "numbers alone behind the name of each piece, with its yarn": (
        "Pip the Mole\nHEAD, grey: 1) 7 sc in ring. 2) inc in all, 14 st. 3) to 5) sc in all, 14 st. "
        "6) dec 7 times, 7 st, and close up.\n"
        "FEET, two, pink: ch 5. 1) from the 2nd ch 3 sc, 3 sc in the last ch, on the other side 3 sc, 9 st. "
        "2) sc in all, 9 st. Only a little stuffing, or none.\n",
        [[7, 14, 14, 14, 14, 7], [5, 9, 9]],
    ),
    "wide signs and a hyphen behind the word for a round": (
        "Bun\n\n【head】\nR-1：6 sc in ring >> 6\nR-2：（sc，inc）×3  >> 9\n"
        "R-3－R-4：9 sc，2 circles unchanged ＝9\n",
        [[6, 9, 9, 9]],
    ),
    "numbers as the Romans wrote them": (
        "Star\n\nI.  ch 1, 8 sc in ring —— 8 sc\nII.  2 sc in each sc —— 16 sc\nIII - IV. sc around —— 16 sc\n"
        "V.  (sc, inc) 8 times —— 24 sc\n",
        [[8, 16, 16, 16, 24]],
    ),
    "a total at the end of a line is no number of the round below": (
        "Mat\nrd 1 :- 8 sc in ring.. 8st\nrd 2 :- 2 sc ea st.. 16st\nrd 3 :- (sc, inc) rep 8x.. 24st\n",
        [[8, 16, 24]],
    ),
    "an edging in a paragraph, behind a repeat with its reason": (
        "Tile\n\nRow 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn - 12 sc. Row 2: Ch 1, (sc in next "
        "st, dc in next st) across, turn - 12 sts. Rows 3-8: Repeat Row 2, so that there is always a dc over a sc. "
        "Edging: Ch 1, sc in each st across, fasten off.\n",
        [[12, 12, 12, 12, 12, 12, 12, 12, 12]],
    ),
    "names of stitches in capitals": (
        "SMALL BEAR\nABBREVIATIONS\nSC\nSINGLE CROCHET AND INVISIBLE\nDECREASE\nINC\nINCREASE\n\nBODY\n"
        "Rnd 1: 7 sc in magic ring (7)\nRnd 2: inc x 7 (14)\n",
        [[7, 14]],
    ),
    "a range in words among numbers without a word": (
        "Head\n1. 5 sc in MR - 5\n2. inc all around - 10\n3 to 5. sc all around - 10\nStuff a little.\n"
        "6. dec all around - 5\n",
        [[5, 10, 10, 10, 10, 5]],
    ),
    "a step that names a stitch and how many, like the name of a part": (
        "Round 1\nStart with a magic ring and chain 3 (counts as first dc)\nMake 13 dc in the ring\n"
        "Slip stitch to the top of the chain 3. You have 14 dc.\nRound 2\nChain 1\nSc in each dc. You have 14 sc.\n",
        [[14, 14]],
    ),
    "a line that ends between a number and its stitch": (
        "Rnd 1: Ch 5; join to form a ring; ch 1, 10\nsc in ring; join in first sc: 10 sc.\n"
        "Rnd 2: Ch 1, 2 sc in each sc around; join:\n20 sc.\n",
        [[10, 20]],
    ),
    "a picot that is told before it is made": (
        "Picot: ch 3, sl st in 3rd ch from hook.\nRnd 1: 8 sc in magic ring (8)\n"
        "Rnd 2: (2 sc, picot, 2 sc) in each sc around\n",
        [[8, 32]],
    ),
    "letters without a sign behind them": (
        "Pea\nX single crochet\nV increase\nA decrease\nBall\nR1 5X into ring\nR2 5V [10]\nR3 (X, V)*5 [15]\n"
        "R4 (X, A)*5 [10]\n",
        [[5, 10, 15, 10]],
    ),
    "a stitch called by its letter in another language": (
        "fm = single crochet, M = stitch\nBall\nRd 1: 6 fm in a thread ring [6]\nRd 2: Double each M [12]\n"
        "Rd 3: crochet always 2 M together [6]\n",
        [[6, 12, 6]],
    ),
    "a word for the round in another language": (
        "Ball\nTurn 1: 6 sc in magic ring (6)\nTurn 2: 6 inc (12)\nTurn 3 to 5: 12 sc in each turn\n",
        [[6, 12, 12, 12, 12]],
    ),
    "rounds as another one, its number in words": (
        "Round one: 6 sc in magic ring (6)\nRound two: sc in each st (6)\n"
        "Rounds three through five: same as round two.\n",
        [[6, 6, 6, 6, 6]],
    ),
    "rounds of a name that refer to each other": (
        "Hat\nRnd 1: 12 dc in magic ring (12)\nRnd 2: 2 dc in each st (24)\n"
        "Ribbing rnd 1: *FPdc, BPdc; rep from * around.\nRibbing rnds 2 and 3: Rep ribbing rnd 1.\n",
        [[12, 24], [24, 24, 24]],
    ),
    "a sentence under rows that are made again": (
        "Band\nChain 10\nRow 1: sc in second ch from hook and in each ch across. 9 sc. Turn.\n"
        "Row 2: ch 1, sc in blo across. 9 sc. Turn.\nRow 3-6: Repeat row 2 until it is long enough.\n"
        "Match the short ends and slip stitch them together.\n",
        [[10, 9, 9, 9, 9, 9, 9]],
    ),
    "a verb that nobody knows before a number": (
        "Hat\nRound 1: Make a magic circle, chain 1 and pop 9 hdc into it. (9 hdc)\n"
        "Round 2: Ch 1, 2 hdc in every stitch. (18 hdc)\n",
        [[9, 18]],
    ),
    "what the round is worked with, and as which one": (
        "Mat\nRound 1. Shade 1. 6 sc in magic ring (6)\nRound 2. Shade 2. 2 sc in each st. (12)\n"
        "Round 3. Shade 3. Sc in each st. (12)\nRound 4. Shade 1. As Round 3. (12)\n",
        [[6, 12, 12, 12]],
    ),
    "a table with outer bars": (
        "Dot\n\n| Round | Work | Stitches |\n|---|---|---|\n"
        "| Rnd 1 | 7 sc in magic ring | (7) |\n| Rnd 2 | inc around | (14) |\n",
        [[7, 14]],
    ),
    "a bullet a step": (
        "Dot\n\nRound 1:\n- Make a magic ring.\n- Work 7 sc into the ring.\nRound 2:\n- 2 sc in each st around.\n",
        [[7, 14]],
    ),
    "a row begun anew where the yarn was cut, over two lines": (
        "Flap\nWith grey yarn and using 4 mm hook ch 13, change to 3.5 mm hook, sc\nin 2nd ch from hook, "
        "sc in each ch to end. (12 sc). Turn.\nNext Row - ch 1, sc in each sc to end. Fasten off. Turn.\n"
        "Skip 4 sc, rejoin yarn to 5th sc with a sl st, ch 1, sc in same st, sc in each\nof next 3 sc. Turn. (4 sc)\n"
        "Next row - ch 1, sc in each of next 4 sc. Turn.\n",
        [[12, 12, 4, 4]],
    ),
    "the name of the next part under steps": (
        "Dot\n\nRound 1:\nMake a magic ring.\nWork 7 sc into the ring.\nRound 2:\n2 sc in each st around.\n"
        "Rim Part\nStep 1: sew it on.\n",
        [[7, 14]],
    ),
    "bullets without numbers": (
        "Cone:\n- 7 sc in MR\n- inc around (14)\n- 14 sc\n- (5 sc, dec) x 2 (12)\n",
        [[7, 14, 14, 12]],
    ),
    "a round that breaks off in the middle of a sentence": (
        "Pouch\nRow 1: 26 sc in ring\nRow 2: 8 sc; 6 ch;\ncount down 6 loops at the bottom and\n"
        "starting from 7 we tie 12 sc\nRow 3: 26 sc\n",
        [[26, 26, 26]],
    ),
    "a round called by its name": (
        "Rnd 1: 9 sc in magic ring (9)\nRnd 2: inc around (18)\nRim: sc in each st around (18)\n",
        [[9, 18, 18]],
    ),
    "a first round without a number": (
        "Cup\nCh 2, 9 sc in 2nd ch from hook. (9)\nRnd 2: 2 sc in each sc around (18)\n",
        [[9, 18]],
    ),
    "a name before the ring of a piece": (
        "US terms\nStem: Ch 5, join with sl st in first ch.\nRnd 1: ch 1, 9 sc in ring, join. (9)\n"
        "Rnd 2: ch 1, sc in each st around, join. (9)\n"
        "Cap: Ch 4; join in ring with a sl st.\nRnd 1: ch 1, 7 sc in ring, join. (7)\n",
        [[9, 9], [7]],
    ),
    "prose that counts in words": (
        "US terms\n"
        "Little pear\n"
        "\n"
        "Let's make a small pear! You will need a bit of green yarn, a 3 mm hook and some filling.\n"
        "\n"
        "To start, make a magic ring and work 6 single crochet into it. (6)\n"
        "Round 2: we increase in every stitch, so you end up with 12 stitches.\n"
        "Round 3: one single crochet in the next stitch, then an increase; do this six times. You should now "
        "have 18 stitches.\n"
        "Rounds 4 and 5: single crochet in each stitch (18).\n"
        "Round 6: work a single crochet in the next stitch, then a decrease, six times over. You have 12 "
        "stitches left. Stuff firmly.\n"
        "Round 7: decrease all the way around (6). Fasten off and sew the hole shut.\n",
        [[6, 12, 18, 18, 18, 12, 6]],
    ),
    "a table with its counts in a column": (
        "Juggling ball\n"
        "US terms\n"
        "\n"
        "Rnd | Instructions | St count\n"
        "1 | MR, 8 sc | 8\n"
        "2 | inc x 8 | 16\n"
        "3 | [1 sc, inc] x 8 | 24\n"
        "4-6 | sc around | 24\n"
        "7 | [1 sc, dec] x 8 | 16\n"
        "8 | dec x 8 | 8\n",
        [[8, 16, 24, 24, 24, 24, 16, 8]],
    ),
    "translated words": (
        "US terms\n"
        "Piglet\n"
        "We need: pink yarn, hook 2.5, filler, eyes 6 mm\n"
        "Conventions: sc - single crochet, inc - increase, dec - decrease\n"
        "\n"
        "Body (pink):\n"
        "1 row: 6 sc in the amigurumi ring (6)\n"
        "2nd row: 6 increases (12)\n"
        "3rd row: (1 sc, 1 increase)*6 (18)\n"
        "4-6 rows: 18 sc (3 rows)\n"
        "7th row: (1 sc, 1 decrease)*6 (12)\n"
        "Fill with filler.\n"
        "8th row: 6 decreases (6)\n"
        "We pull the hole closed, hide the thread.\n",
        [[6, 12, 18, 18, 18, 18, 12, 6]],
    ),
    "a granny square by its corners": (
        "Granny coaster (US terms)\n"
        "\n"
        "Round 1: Ch 4, sl st to first ch to form a ring. Ch 3 (counts as first dc), 2 dc in ring, ch 2, *3 dc "
        "in ring, ch 2; repeat from * two more times. Join to top of ch 3. (12 dc, 4 ch-2 spaces)\n"
        "Round 2: Sl st over to the corner space. Ch 3, 2 dc, ch 2, 3 dc all in the same space. *Ch 1, (3 dc, ch "
        "2, 3 dc) in next corner space* 3 times, ch 1, join. (24 dc)\n"
        "Round 3: Sl st to corner. (Ch 3, 2 dc, ch 2, 3 dc) in corner space, *ch 1, 3 dc in next ch-1 space, ch "
        "1, (3 dc, ch 2, 3 dc) in corner; rep from * around, ending with ch 1, 3 dc in last ch-1 space, ch 1, "
        "join with sl st. (36 dc)\n",
        [[12, 24, 36]],
    ),
    "pictures for bullets": (
        "US terms\n"
        "🐻 HEAD\n"
        "R1: 6sc in MR {6}\n"
        "R2: inc*6 {12}\n"
        "R3: (sc, inc)*6 {18}\n"
        "R4: (2sc, inc)*6 {24}\n"
        "R5-R8: sc in each st {24} [4 rounds]\n"
        "👉 Place safety eyes between R6 and R7, 5 sts apart.\n"
        "R9: (2sc, dec)*6 {18}\n"
        "R10: (sc, dec)*6 {12}\n"
        "🧵 Stuff well.\n"
        "R11: dec*6 {6}\n"
        "\n"
        "🐻 EARS (x2)\n"
        "R1: 5sc in MR {5}\n"
        "R2: inc*5 {10}\n"
        "R3: sc in each st {10}\n"
        "FO leaving a tail for sewing.\n",
        [[6, 12, 18, 24, 24, 24, 24, 24, 18, 12, 6], [5, 10, 10]],
    ),
    "totals behind a sign": (
        "US terms\n"
        "Berry\n"
        "(sc = single crochet)\n"
        "\n"
        "Rd 1: 6 sc into a magic loop = 6\n"
        "Rd 2: double each stitch = 12\n"
        "Rd 3: double every 2nd stitch = 18\n"
        "Rd 4: 18 sc\n"
        "Rd 5: every 2nd and 3rd st together = 12\n"
        "Rd 6: 6 x 2 sts together = 6\n",
        [[6, 12, 18, 18, 12, 6]],
    ),
    "the number of a list before a round": (
        "Dot\n\nPattern\n1. Round 1: 7 sc in magic ring (7)\n2. Round 2: inc around (14)\n",
        [[7, 14]],
    ),
    "a round broken at the foot of a page": (
        "Dot\nRnd 1: 7 sc in magic ring (7)\nRnd 2: 2 sc in each st\nPage 2 of 3\n"
        "around (14)\nRnd 3: sc around (14)\n",
        [[7, 14, 14]],
    ),
    "comments with numbers": (
        "Dot\nRnd 1: 7 sc in magic ring (7)\nRnd 2: inc around (14)\n\n2 comments\n1. I made 3 of them!\n"
        "2. Rnd 2 is hard, 14 sc?\n",
        [[7, 14]],
    ),
    "steps with numbers behind the rounds": (
        "Dot\nRnd 1: 7 sc in magic ring (7)\nRnd 2: inc around (14)\n\n"
        "3. Fasten off and weave in the end.\n4. Press it.\n",
        [[7, 14]],
    ),
    "how to read a round": (
        "Dot\n\nHow to read\nRnd 0: 0 sc, 0 inc (00)\n\nPattern\n"
        "Rnd 1: 7 sc in magic ring (7)\nRnd 2: inc around (14)\n",
        [[7, 14]],
    ),
    "pictures and addresses": (
        "Dot\nwww.example.com/dot\ndot-7 (2).png\n"
        "Rnd 1: 7 sc in magic ring (7)\nImage: the dot\nRnd 2: inc around (14)\n",
        [[7, 14]],
    ),
    "rounds right under the materials": (
        "Dot\nMaterials:\n- red yarn\n- 3 mm hook\nRnd 1: 7 sc in magic ring (7)\nRnd 2: inc around (14)\n",
        [[7, 14]],
    ),
    "a range with its word twice": (
        "Pip\n\nR1: MR 7 (7)\nR2 - R3: 7 sc\nR4 – R6: sc around (7)\nR7: inc x 7 (14)\n",
        [[7, *[7] * 5, 14]],
    ),
    "names with their yarn as a sentence of its own": (
        "Otter\n\nBody and tail. Brown yarn.\n1. 8 sc in magic ring (8)\n2. Inc around (16)\n\n"
        "Paws (4). Beige.\n1. 5 sc in magic ring (5)\n2-3. Sc around (5)\n",
        [[8, 16], [5, 5, 5]],
    ),
    "pieces that are made as another one, on the line of their name": (
        "Jar\n\nJAR\nRnd 1: 7 sc in magic ring (7)\nRnd 2: inc around (14)\nRnd 3: sc around (14)\n\n"
        "SAND (beige): repeat Rnds 1-2 of JAR. Leave a long tail.\n\nCork: work Rnds 1 and 2 as for Jar.\n",
        [[7, 14, 14], [7, 14], [7, 14]],
    ),
    "ranges of ordinals, a letter for rounds, words for numbers, and a sign glued to its stitch": (
        "Newt\n\nBody\n1. R: 7 sc in a magic ring (7)\n2.-3. R: 1 sc in each stitch (7)\n4. & 5. R: sc around (7)\n\n"
        "Legs (4x in green)\nV1: MR 5 (5)\nV2-V4: 5 sc (5)\nV5: incx5 (10)\n\n"
        "Crest\nRow one: chain 8, sc in 2nd ch from hook and in each ch (7)\nRow two: ch 1, turn, sc in each st (7)\n"
        "Repeat for all three crests.\n",
        [[7, 7, 7, 7, 7], [5, 5, 5, 5, 10], [7, 7]],
    ),
    "Markdown with its signs, and a table of abbreviations": (
        "**Star Mat** - for a cup\n\n| Abbr. | Meaning |\n|---|---|\n| ch | chain |\n| sc | single crochet |\n\n"
        "### Middle\n**Rnd 1:** 8 sc in MR, sl st into first sc. (8)\n"
        "**Rnd 2:** ch 1, \\*sc in next st, 2 sc in next st\\*, rep from \\* to \\*, sl st into first sc. (12)\n"
        "**Rnd 3**: \\*ch 4, sc into 2nd ch from hook, hdc, dc, skip 2 sts, sl st into next st\\*. "
        "Repeat from \\* to \\* a total of 4 times.\n",
        [[8, 12, 16]],
    ),
    "a range of ordinals in a row of text, a round that is as another, and a piece that begins on its line": (
        "Imp\n\nHead:\n1st rnd: 7 sc in magic ring – 7 sc\n2nd – 3rd rnds: sc in each sc around\n"
        "4th rnd: inc around – 14 sc\n5th to 6th rnd: same as 2nd\n\n"
        "Collar: With red, ch 10, sl st to first ch to form ring. Rnd 1: sc in each ch – 10 sc. "
        "Rnd 2: inc around – 20 sc.\n",
        [[7, 7, 7, 14, 14, 14], [10, 10, 20]],
    ),
    "names that stand on the line of their first round, and a ring of chains that is called a loop": (
        "Vole\n\nTail: Round 1: Magic ring, 5 sc. (5)\nRound 2: sc around (5)\n\nFeet 4 pcs: 1 r: 6 sc in MR (6)\n"
        "2 r: sc around (6)\n\nTile\nCh 5, join with sl st to make a loop.\n"
        "R1: ch 3, 2 dc in loop, ch 2, *3 dc in loop, ch 2* 3 times, join. (12 dc)\n",
        [[5, 5], [6, 6], [12]],
    ),
    "rounds as of another piece by their ordinals, and a sentence behind a round": (
        "Bun\n\nBASE\nWith rust, 4 ch, join into a ring with ss.\n1st rnd: 8 sc into ring. (8)\n"
        "2nd rnd: 2 sc into each st (16).\nYou have 8 groups of two all around by now.\n3rd rnd: sc around (16)\n\n"
        "TOP\nWith pink work 1st and 2nd rnds as for base.\n3rd rnd: *6 sc, dec; rep from * around (14)\n",
        [[8, 16, 16], [8, 16, 14]],
    ),
}


@pytest.mark.parametrize(("text", "leaves"), [pytest.param(*case, id=name) for name, case in PAGES.items()])
def test_rounds_are_found_wherever_they_stand(text: str, leaves: Leaves) -> None:
    found = from_text(text, "US")
    assert [[r.leaves for r in piece.rounds] for piece in loads(as_toml(found.draft)).pieces] == leaves


@pytest.mark.parametrize("text", [pytest.param(case[0], id=name) for name, case in PAGES.items()])
def test_every_line_is_somewhere(text: str) -> None:
    found = from_text(text, "US")
    assert {told.line for told in found.outcomes} == {n for n, line in enumerate(text.split("\n"), 1) if line.strip()}
    for number, line in enumerate(text.split("\n"), 1):
        parts = [told.text for told in found.outcomes if told.line == number]
        plain = re.sub(r"\\(?=[*_])|\*\*", "", line)  # without the signs of Markdown
        plain = plain.replace("\t", "   ")  # a gap for a tab
        assert all(part in line or part in plain for part in parts)
        without_its_number = re.sub(r"^\d+\. (?=Round)", "", line)
        assert sum(map(str.isalnum, "".join(parts))) == sum(map(str.isalnum, without_its_number))


@pytest.mark.parametrize("text", [pytest.param(case[0], id=name) for name, case in PAGES.items()])
def test_the_text_of_a_round_is_no_material(text: str) -> None:
    found = from_text(text, "US")
    rounds = {told.text for told in found.outcomes if told.fate is Fate.ROUND}
    assert rounds and not rounds & set(found.draft.notions)


def test_numbered_lines_that_begin_with_a_ring_are_rounds_behind_materials_too() -> None:
    page = "Comet\nYarn: size 10 thread. Steel hook 1.5 mm\n1. 10 dc in magic ring, sl st.\n2. 2 sc in each st (20)\n"
    assert [piece.text for piece in from_text(page, "US").draft.pieces] == [
        "1. 10 dc in magic ring, sl st.\n2. 2 sc in each st (20)"
    ]


def test_a_bracket_in_slanted_type_loses_its_stars_beside_bold_words() -> None:
    (piece,) = from_text("**Ears** *(make two)*\n- R1: 6 sc in MR\n- R2: 6 inc [12]\n", "US").draft.pieces
    assert (piece.name, piece.make) == ("Ears", 2)


def test_what_says_only_that_it_is_a_pattern_is_no_title() -> None:
    page = "Harbour Seal\nA free crochet pattern\n\nBody\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)"
    assert from_text(page, "US").draft.title == "Harbour Seal"
    assert from_text(page.replace("Harbour Seal\n", ""), "US").draft.title == "A free crochet pattern"


def test_a_heading_that_the_end_of_a_line_cuts_in_two_begins_its_round_below() -> None:
    page = (
        "Tea cosy\n1st round: 10 sc in magic ring (10 stitches). 2nd\nround: 2 sc in each sc (20 stitches). "
        "3rd and 4th\nrounds: sc in each sc (20 stitches). Round\n"
        "5: (sc in next 3 sc, 2 sc in next sc) 5 times (25 stitches).\n"
        "It is as tall as a hand. This was the 2nd\nsquare, and 6 more come.\n"
    )
    draft = from_text(page, "US").draft
    rounds = loads(as_toml(draft)).pieces[0].rounds
    assert [(one.number, one.leaves) for one in rounds] == [(1, 10), (2, 20), (3, 20), (4, 20), (5, 25)]
    assert "This was the 2nd" in as_toml(draft)


RING = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each sc (12)\n"


@pytest.mark.parametrize(
    ("line", "name", "make"),
    [
        ("LEGS (beige). Make two.", "LEGS", 2),
        ("Step 4 \u2013 The fins (make 3)", "fins", 3),
        ("Part 2: Fins (make 3)", "Fins", 3),
        ("fins x2", "fins", 2),
    ],
)
def test_a_piece_is_named_with_its_step_or_in_two_sentences(line: str, name: str, make: int) -> None:
    page = f"Otter\n\nBody\n{RING}sew it shut\n{line}\n{RING}"
    assert [(piece.name, piece.make) for piece in from_text(page, "US").draft.pieces] == [("Body", 1), (name, make)]


@pytest.mark.parametrize(
    "head", ["Rnd | Instructions | Sts", "Row   Work   Count", "Round - What to do - Total stitches"]
)
def test_what_the_columns_are_called_is_no_piece(head: str) -> None:
    (piece,) = from_text(f"Otter\n\nFINS\n{head}\n{RING}", "US").draft.pieces
    assert piece.name == "FINS"


def test_a_body_that_goes_on_from_the_last_leg_is_no_part_of_the_legs() -> None:
    body = "Rnd 3: 12 sc around leg 2, ch 2, 12 sc around leg 1, 2 sc in ch (26)"
    pieces = from_text(f"Otter\n\nLegs (make 2)\n{RING}\nBody\n{body}\n", "US").draft.pieces
    assert [(piece.name, piece.make) for piece in pieces] == [("Legs", 2), ("Body", 1)]
