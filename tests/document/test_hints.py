"""What to watch: said at the line that it concerns, and what goes on is said once."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.document_patterns import shipped

from tracker.document.builder import written_lines
from tracker.document.hints import watch
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern


def only_piece(rounds: str, start: str = "spiral", terms: str = "US") -> Pattern:
    yarns = '[yarn.P]\nname = "plum"\n[yarn.B]\nname = "bone"\n'
    piece = f'[[piece]]\nname = "Any"\nstart = "{start}"\nrounds = """\n{rounds}\n"""\n'
    return loads(f'title = "Any"\nterms = "{terms}"\n{yarns}{piece}')


def watched(pattern: Pattern, terms: str = "", piece: int = 0) -> dict[str, tuple[str, ...]]:
    """What is said at each line that has something to watch."""
    terms, the_piece = terms or pattern.terms, pattern.pieces[piece]
    lines = written_lines(pattern, the_piece, the_piece.rounds, terms)
    said = watch(pattern, the_piece, lines, terms)
    return {line.label: words for line, words in zip(lines, said, strict=True) if words}


MARKER = "mark the first stitch, and move the marker up with every round"
CASES = {
    "a spiral has its marker": (
        ("Rnd 1: 6 sc in magic ring\nRnd 2: inc x 6", "spiral"),
        {"Rnd 1": (MARKER,)},
    ),
    "a chain that counts, one that does not, and each said where it changes": (
        (
            "Rnd 1: ch 3 (counts as dc), 11 dc in magic ring, sl st to top of ch-3\n"
            "Rnd 2: ch 3 (counts as dc), dc in same st, 2 dc in each st around, sl st to top of ch-3\n"
            "Rnd 3: ch 1, sc in each st around, sl st to first sc",
            "joined",
        ),
        {
            "Rnd 1": (
                "the ch 3 at the start counts as the first dc",
                "the slip stitch that closes the round is not counted",
            ),
            "Rnd 3": ("the ch 1 at the start is not counted as a stitch",),
        },
    ),
    "one half of the stitches": (
        ("Rnd 1: 6 sc in magic ring\nRnd 2: BLO sc around\nRnd 3: FLO inc x 6", "joined"),
        {
            "Rnd 2": ("back loops only, so that the front ones stay free",),
            "Rnd 3": ("front loops only, so that the back ones stay free",),
        },
    ),
    "posts": (
        ("Rnd 1: 6 dc in magic ring\nRnd 2: (FPdc, BPdc) x 3", "joined"),
        {
            "Rnd 2": (
                "around the post from behind where it says so",
                "around the post from the front where it says so",
            )
        },
    ),
    "a new yarn is drawn through at the end of the round before": (
        ("Rnd 1 (P): 6 sc in magic ring\nRnds 2-3: sc around\nRnd 4 (B): inc x 6", "joined"),
        {
            "Rnds 2-3": (
                "at the end of Rnd 3 draw bone through at the last pull-through of the last stitch, ready for Rnd 4",
            )
        },
    ),
    "a yarn after the last was fastened off is joined": (
        ("Rnd 1 (P): 6 sc in magic ring, fasten off\nRnd 2 (B): inc x 6", "joined"),
        {"Rnd 2": ("the yarn was fastened off: join bone for this round",)},
    ),
    "yarns inside a round, with their repeats": (
        ("Rnd 1 (P): 6 sc in magic ring\nRnd 2: [(P) 2 sc, (B) 1 sc] x 2", "joined"),
        {
            "Rnd 2": (
                "in this order: 2 times (2 plum, 1 bone); "
                "draw each new yarn through at the last pull-through of the stitch before it",
            )
        },
    ),
    "a round that could not be read": (
        ("Rnd 1: 6 sc in magic ring\nRnd 2: frobnicate", "joined"),
        {"Rnd 2": ("this round could not be read: work it as it stands, and count for yourself",)},
    ),
}


@pytest.mark.parametrize(("written", "said"), CASES.values(), ids=CASES)
def test_what_to_watch(written: tuple[str, str], said: dict[str, tuple[str, ...]]) -> None:
    assert watched(only_piece(*written)) == said


def test_a_round_into_an_earlier_one_says_so_and_that_one_is_told_to_keep_its_loops() -> None:
    """The skirt of the toadstool's stem goes into the loops that Rnd 13 leaves free."""
    said = watched(shipped("toadstool"), piece=1)
    assert "keep the loops that stay free in sight: Rnd 17 goes into them" in said["Rnd 13"]
    assert said["Rnd 17"][0] == "goes into Rnd 12, not into the round just made"
    assert "keep the loops" not in " ".join(said["Rnd 6"])


def test_a_finding_stands_with_its_round() -> None:
    (words,) = watched(only_piece("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (13)", "joined"))["Rnd 2"]
    assert words.startswith("look here: ") and "13" in words and "12" in words


def test_the_stitch_that_a_chain_counts_as_is_named_in_the_terms_of_the_sheet() -> None:
    said = watched(shipped("tide-pool-coaster"), terms="UK")
    assert "the ch 3 at the start counts as the first tr" in said["Rnd 1"]


def test_a_round_without_end_costs_no_more_than_its_text() -> None:
    pattern = only_piece("Rnd 1 (P): 1000000000 sc in magic ring\nRnd 2: [(P) 2 sc, (B) 2 sc] x 250000000", "joined")
    (words,) = watched(pattern)["Rnd 2"]
    assert words.startswith("in this order: 250000000 times (2 plum, 2 bone)")


def test_a_yarn_that_is_joined_anew_is_not_drawn_through_as_well() -> None:
    """Where the old yarn is fastened off the new one is joined (read of on pages about changing colour)."""
    rounds = "Rnd 1: With P, 6 sc in magic ring, sl st to first sc\nRnd 2: With B, inc x 6, sl st to first sc"
    fresh = only_piece(rounds, "joined")
    piece = replace(fresh.pieces[0], notes=("Each colour is new: fasten off the old one and join the new one.",))
    said = watched(replace(fresh, pieces=(piece,)))
    assert "fasten off the yarn before, and join bone for this round" in said["Rnd 2"]
    assert not any("draw" in words for line in said.values() for words in line)
    assert any("draw bone through" in words for words in watched(fresh)["Rnd 1"])
