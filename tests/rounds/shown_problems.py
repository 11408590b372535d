"""Lines that cannot be right, and the whole text that is shown of each; for test_errors.py.

The texts were written down from the notation's rules and the style of messages: place, what is wrong, the line as
typed, a caret under the words in question, what to do.
"""

from __future__ import annotations

from dataclasses import dataclass

from tracker.notation.token_stream import MAX_NESTING
from tracker.rounds.line_report import MAX_BEFORE


@dataclass(frozen=True)
class Case:
    """A line as it is asked, and all that is shown of it."""

    text: str
    before: int | None
    shown: str
    terms: str = "US"


WORDS = {
    "an unknown word, and the nearest known one": Case(
        "Rnd 3: sc, icn, sc (4)",
        3,
        """
        1:12: error: unknown word 'icn': did you mean inc?
            Rnd 3: sc, icn, sc (4)
                       ^^^
          help: read 'icn' as 'inc'; then it uses 3 and leaves 4: right?
        """,
    ),
    "an unknown word like no other": Case(
        "Rnd 3: 12 sc, blorp (12)",
        12,
        """
        1:15: error: unknown word 'blorp'
            Rnd 3: 12 sc, blorp (12)
                          ^^^^^
          help: expected a stitch such as sc, inc, dec, ch, sk
        """,
    ),
    "an unknown word after a number": Case(
        "Rnd 3: 6 sc, 3 wiggle stitches (9)",
        9,
        """
        1:16: error: unknown word 'wiggle'
            Rnd 3: 6 sc, 3 wiggle stitches (9)
                           ^^^^^^
          help: took 'wiggle stitches' for a stitch over one place; then it uses 9 and leaves 9: right?
        """,
    ),
    "an unknown word in the second line of a round": Case(
        "Rnd 3: (1 sc,\n icn) x 6 (18)",
        12,
        """
        2:2: error: unknown word 'icn': did you mean inc?
             icn) x 6 (18)
             ^^^
          help: read 'icn' as 'inc'; then it uses 12 and leaves 18: right?
        """,
    ),
    "no place behind in": Case(
        "Rnd 3: sc in the, inc",
        12,
        """
        1:11: error: where does this go? 'in ,' names no stitch, space or ring
            Rnd 3: sc in the, inc
                      ^^^^^^^
          help: write for example: in next st, in each st around, in next ch-2 sp, in ring
        """,
    ),
    "a place and no stitch": Case(
        "Rnd 3: in next ch-2 sp, join",
        12,
        """
        1:8: error: which stitch goes there?
            Rnd 3: in next ch-2 sp, join
                   ^^^^^^^^^^^^^^^^
          help: name the stitch: sc in next st
        """,
    ),
    "a heading and nothing else": Case(
        "Rnd 3:",
        12,
        """
        1:1: error: there is nothing to make in this line
            Rnd 3:
            ^
        """,
    ),
    "a stitch of US terms in a UK pattern": Case(
        "Rnd 4: sc in next 3 sts (3)",
        3,
        """
        1:8: error: 'sc' does not exist in UK terms: are these US terms?
            Rnd 4: sc in next 3 sts (3)
                   ^^
          help: set terms = "US", or write the UK name
        """,
        "UK",
    ),
    "a stitch of UK terms in a US pattern": Case(
        "Rnd 4: 2 htr in next st",
        1,
        """
        1:10: error: 'htr' does not exist in US terms: are these UK terms?
            Rnd 4: 2 htr in next st
                     ^^^
          help: set terms = "UK", or write the US name
        """,
    ),
    "a group that the pattern does not define": Case(
        "Rnd 3: shell in each st around",
        12,
        """
        1:8: warning: 'shell' is not defined, and was taken as 5 dc in one stitch
            Rnd 3: shell in each st around
                   ^^^^^
          help: define it: shell = 5 dc in one st
        """,
    ),
}

BRACKETS = {
    "a bracket left open": Case(
        "Rnd 3: (sc, inc x 6 (18)",
        12,
        """
        1:8: error: bracket '(' is not closed
            Rnd 3: (sc, inc x 6 (18)
                   ^
          help: read a ')' behind 'inc'; then it uses 12 and leaves 18: right?
        """,
    ),
    "a square bracket left open inside a round one": Case(
        "Rnd 3: sc, [2 sc in next st",
        2,
        """
        1:12: error: bracket '[' is not closed
            Rnd 3: sc, [2 sc in next st
                       ^
          help: left out a '[' that has no other one; then it uses 2 and leaves 3: right?
        """,
    ),
    "a bracket closed by another sign": Case(
        "Rnd 3: {sc, inc] x 6 (18)",
        12,
        """
        1:16: error: ']' closes a bracket that was opened with another sign
            Rnd 3: {sc, inc] x 6 (18)
                           ^
          help: read ']' as '}'; then it uses 12 and leaves 18: right?
        """,
    ),
    "brackets that cross": Case(
        "Rnd 3: [(sc, inc] x 6) (18)",
        12,
        """
        1:17: error: ']' closes a bracket that was opened with another sign
            Rnd 3: [(sc, inc] x 6) (18)
                            ^
          help: read ']' as ')' and read ')' as ']'; then it uses 12 and leaves 18: right?
        """,
    ),
}

REPEATS = {
    "a repeat with nothing before it": Case(
        "Rnd 3: rep from * 6 times (18)",
        12,
        """
        1:8: error: there is nothing before this to repeat
            Rnd 3: rep from * 6 times (18)
                   ^^^
          help: put the repeat behind a group
        """,
    ),
    "a group around that uses no stitch": Case(
        "Rnd 3: *ch 2; rep from * around",
        12,
        """
        1:8: error: the group uses no stitch, so going round would never end
            Rnd 3: *ch 2; rep from * around
                   ^^^^^^^^^^^^^^^^^^^^^^^^
          help: put a stitch into the group, or say how many times
        """,
    ),
    "to the end inside a group that is repeated": Case(
        "Rnd 3: (sc around, inc) x 3",
        12,
        """
        1:8: error: 'sc' to the end cannot stand inside a group that is repeated
            Rnd 3: (sc around, inc) x 3
                   ^^^^^^^^^^^^^^^^^^^^
          help: write how many stitches it is
        """,
    ),
    "no times": Case(
        "Rnd 3: sc, (sk 1, sc) x 0",
        3,
        """
        1:25: error: 0 times makes nothing
            Rnd 3: sc, (sk 1, sc) x 0
                                    ^
          help: leave it out
        """,
    ),
    "no stitches": Case(
        "Rnd 3: 0 sc, inc",
        3,
        """
        1:8: error: a count of 0 makes nothing
            Rnd 3: 0 sc, inc
                   ^
          help: leave it out
        """,
    ),
}

LIMITS = {
    "a repeat beyond the limit": Case(
        "Rnd 3: sc x 999999999999 (12)",
        12,
        """
        1:13: error: 999999999999 is more than a round can hold
            Rnd 3: sc x 999999999999 (12)
                        ^^^^^^^^^^^^
          help: the limit is 10,000,000,000 stitches a round
        """,
    ),
    "a count beyond the limit": Case(
        "Rnd 3: 10000000001 sc",
        None,
        """
        1:8: error: 10000000001 is more than a round can hold
            Rnd 3: 10000000001 sc
                   ^^^^^^^^^^^
          help: the limit is 10,000,000,000 stitches a round
        """,
    ),
    "counts that are each within the limit, and together beyond it": Case(
        "Rnd 3: (sc, inc) x 5000000000",
        None,
        """
        1:8: error: this makes more stitches than a round can hold
            Rnd 3: (sc, inc) x 5000000000
                   ^^^^^^^^^^^^^^^^^^^^^^
          help: the limit is 10,000,000,000 stitches
        """,
    ),
    "increases around the largest round": Case(
        "Rnd 3: inc around",
        MAX_BEFORE,
        """
        1:8: error: this makes more stitches than a round can hold
            Rnd 3: inc around
                   ^^^^^^^^^^
          help: the limit is 10,000,000,000 stitches
        """,
    ),
    "brackets too deep": Case(
        "Rnd 3: " + "(" * (MAX_NESTING + 1) + "sc" + ")" * (MAX_NESTING + 1),
        12,
        """
        1:16: error: brackets stand more than 8 deep
            Rnd 3: (((((((((sc)))))))))
                           ^
          help: split the round up
        """,
    ),
}

HEADINGS = {
    "a range that runs backwards": Case(
        "Rnds 8-5: sc around (12)",
        12,
        """
        1:1: error: the range runs backwards, from 8 to 5
            Rnds 8-5: sc around (12)
            ^^^^^^^^^^
          help: did you mean 5-8?
        """,
    ),
    "a range without end": Case(
        "Rnds 5-999999: sc around (12)",
        12,
        """
        1:1: error: the range from 5 to 999999 is too long
            Rnds 5-999999: sc around (12)
            ^^^^^^^^^^^^^^^
          help: check the numbers
        """,
    ),
    "a round that repeats itself": Case(
        "Rnd 3: Rep Rnd 3",
        12,
        """
        1:1: error: this round repeats itself
            Rnd 3: Rep Rnd 3
            ^^^^^^^
          help: name an earlier round
        """,
    ),
}

WITNESSES = {
    "more stitches than are there: where they run out": Case(
        "Rnd 5: (4 sc, inc) x 6 (36)",
        24,
        """
        1:15: error: this round uses 30 stitches, and only 24 are there: they run out in repeat 5
            Rnd 5: (4 sc, inc) x 6 (36)
                          ^^^
        """,
    ),
    "they run out, and another number of repeats would fit": Case(
        "Rnd 5: (3 sc, inc) x 7",
        24,
        """
        1:9: error: this round uses 28 stitches, and only 24 are there: they run out in repeat 7
            Rnd 5: (3 sc, inc) x 7
                    ^^^^
          help: x 6 would use 24 and make 30
        """,
    ),
    "stitches left over, and a total that the instruction does not make": Case(
        "Rnd 5: (3 sc, inc) x 5 (30)",
        24,
        """
        1:8: warning: uses 20 of the 24 stitches that are there: 4 are left unworked
            Rnd 5: (3 sc, inc) x 5 (30)
                   ^^^^^^^^^^^^^^^^^^^^
          help: x 6 would use 24 and make 30
        1:25: disagrees: the instruction makes 25, and the total says 30
            Rnd 5: (3 sc, inc) x 5 (30)
                                    ^^
        """,
    ),
    "a total that the instruction does not make": Case(
        "Rnd 5: (3 sc, inc) x 6 (36)",
        24,
        """
        1:25: disagrees: the instruction makes 30, and the total says 36
            Rnd 5: (3 sc, inc) x 6 (36)
                                    ^^
        """,
    ),
    "a group that does not divide what is there": Case(
        "Rnd 5: (3 sc, inc) around (32)",
        26,
        """
        1:8: warning: 26 stitches do not divide by 4: the last group is cut short
            Rnd 5: (3 sc, inc) around (32)
                   ^^^^^^^^^^^^^^^^^^
          help: check the count of the round before
        """,
    ),
    "a total that no number of repeats makes, over a base that is not known": Case(
        "Rnd 5: (sc, inc) around (25)",
        None,
        """
        1:26: disagrees: no whole number of repeats makes 25
            Rnd 5: (sc, inc) around (25)
                                     ^^
          help: check the total and the group
        """,
    ),
    "a base that is not known": Case(
        "Rnd 5: (3 sc, inc) around",
        None,
        """
        1:8: warning: it is not known how many stitches there are to work into
            Rnd 5: (3 sc, inc) around
                   ^^^^^^^^^^^^^^^^^^
          help: give the number of stitches of the round before
        """,
    ),
    "two readings with different totals": Case(
        "Rnd 3: *sc, inc; rep from * 5 times",
        None,
        """
        1:8: error: this can be read in two ways, making 15 or 18
            Rnd 3: *sc, inc; rep from * 5 times
                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          help: state the total
        """,
    ),
    "a starting chain that may count or not": Case(
        "Rnd 2: ch 3, 2 dc in each st around",
        12,
        """
        1:8: warning: read 'ch 3' as no stitch; with the other reading it makes 23 or 24
            Rnd 2: ch 3, 2 dc in each st around
                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^
          help: write (counts as a stitch) or (does not count) after the chain, or state the total
        """,
    ),
    "a base that cannot be": Case(
        "Rnd 3: sc around",
        -5,
        """
        1:1: error: -5 stitches cannot be there
            Rnd 3: sc around
            ^
        """,
    ),
}

CASES = WORDS | BRACKETS | REPEATS | LIMITS | HEADINGS | WITNESSES
