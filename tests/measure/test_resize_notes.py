"""A fitted file says nothing that is no longer true: sixty files of ten pieces, every sentence reckoned or marked.

The expected figures are worked out here from the plain words, by the factor alone; outlines are compared by the
measuring that geometry and another library check elsewhere.
"""

from __future__ import annotations

import re

import pytest

from tracker.cli.measure import fitted_file
from tracker.measure.resize import fit_pattern
from tracker.measure.resize_counts import KEPT
from tracker.measure.resize_notes import TO_BE_CHECKED, rewrite_sentences, round_numbers
from tracker.measure.size import measure_piece
from tracker.measure.stitch_sizes import stitch_size
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern

TWICE = {
    "About 8 cm across when stuffed.": "About 16 cm across when stuffed.",
    "3.5 cm high": "7.0 cm high",
    "You need 20 g of yarn.": "You need 80 g of yarn.",
    "Stuff after Rnd 4.": "Stuff after Rnd 8.",
    "Sew it between Rnds 2 and 3.": "Sew it between Rnds 4 and 6.",
    "Leave a tail of 20 cm.": "Leave a tail of 20 cm.",
    "Weave in the ends.": "Weave in the ends.",
    "safety eyes, 9 mm": f"{TO_BE_CHECKED}safety eyes, 9 mm",
    "Place the ears 5 stitches apart.": f"{TO_BE_CHECKED}Place the ears 5 stitches apart.",
    "Close it after Rnd 9.": f"{TO_BE_CHECKED}Close it after Rnd 9.",
    "It is 8 cm wide. Pin it. Leave 6 sts free.": f"It is 16 cm wide. Pin it. {TO_BE_CHECKED}Leave 6 sts free.",
}


@pytest.mark.parametrize("sentence", TWICE)
def test_a_sentence_at_twice_the_size(sentence: str) -> None:
    assert rewrite_sentences(sentence, 2.0, {number: 2 * number for number in range(1, 6)}) == TWICE[sentence]


def test_where_a_piece_is_not_named_its_rounds_are_not_guessed() -> None:
    assert rewrite_sentences("Stuff after Rnd 4.", 2.0, None).startswith(TO_BE_CHECKED)


def test_round_numbers_keep_their_share_of_the_way() -> None:
    assert round_numbers([1.0] * 4, [1.0] * 8) == {1: 2, 2: 4, 3: 6, 4: 8}


GAUGE = '[gauge]\nstitch = "sc"\nstitches = 20\nrounds = 21\n'


def disk(rounds: int) -> list[int]:
    return [6 * k for k in range(1, rounds + 1)]


def cup(rounds: int) -> list[int]:
    return [*disk(rounds), *[6 * rounds] * rounds]


def closed(rounds: int) -> list[int]:
    return [*cup(rounds), *reversed(disk(rounds - 1))]


PIECES = {
    f"{name} {size}": make(size)
    for name, make in (("Disk", disk), ("Cup", cup), ("Egg", closed))
    for size in (5, 7, 9)
}
PIECES["Globe"] = [6, 12, 18, 23, 27, 30, 32, 33, 33, 32, 30, 27, 23, 18, 12, 6]


def text_of(counts: list[int]) -> str:
    """Plain rounds, written by hand: sixths where they grow, else as pairs of numbers."""
    lines, before = [f"Rnd 1: {counts[0]} sc in magic ring ({counts[0]})"], counts[0]
    for number, count in enumerate(counts[1:], 2):
        change = abs(count - before)
        if not change:
            work = "sc around"
        else:
            places, word = (before, "inc") if count > before else (count, "dec")
            plain = places - change
            gaps = [plain * (k + 1) // change - plain * k // change for k in range(change)]
            work = ", ".join(f"{gap} sc, {word}" if gap else word for gap in gaps)
        lines.append(f"Rnd {number}: {work} ({count})")
        before = count
    return "\n".join(lines)


def pattern_of(name: str) -> Pattern:
    counts = PIECES[name]
    notes = (
        f'["Stuff after Rnd {len(counts) - 2}.", "It holds 4 sts of the rim.", "A card disk of 6 cm lies inside."]'
    )
    text = (
        f'title = "{name}, 9 cm"\nnotes = ["Takes about 30 g."]\n[gauge]\nstitch = "sc"\nstitches = 20\nrounds = 21\n'
    )
    return loads(f'{text}[[piece]]\nname = "{name}"\nnotes = {notes}\nrounds = """\n{text_of(counts)}\n"""\n')


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("factor", [0.6, 0.8, 1.3, 1.7, 2.1, 2.6])
def test_a_fitted_file_is_true_in_every_sentence_and_in_its_outline(name: str, factor: float) -> None:
    pattern = pattern_of(name)
    stitch = stitch_size(pattern)
    old = measure_piece(pattern.pieces[0], stitch)
    fit = fit_pattern(pattern, across_cm=old.across.middle * factor)
    (piece,) = fit.pieces
    assert not piece.refused
    anew = loads(fitted_file(pattern, fit, pattern.gauge))
    assert [item.verdict for item in anew.pieces[0].rounds] == ["ok"] * len(piece.counts)
    assert anew.title.startswith(f"{name}, {9 * factor:.0f} cm, ")
    assert anew.notes[0] == f"Takes about {30 * factor**2:.0f} g."
    rounds, counted, card = anew.pieces[0].notes
    number = int(re.findall(r"\d+", rounds)[0])
    assert number / len(piece.counts) == pytest.approx(
        (len(PIECES[name]) - 2) / len(PIECES[name]), abs=0.5 / len(piece.counts) + 0.02
    )
    assert counted == f"{TO_BE_CHECKED}It holds 4 sts of the rim."
    assert card == f"A card disk of {6 * factor:.0f} cm lies inside."
    new = measure_piece(anew.pieces[0], stitch)
    if piece.is_kept:
        assert new.across.middle == pytest.approx(old.across.middle * factor, rel=KEPT)
    if not (piece.is_kept and piece.in_repeats):
        wanted = old.across.middle * factor
        assert fit.nearest and all(abs(width - wanted) > KEPT * wanted for width in fit.nearest)


@pytest.mark.parametrize("name", [name for name in PIECES if name != "Globe"])
def test_whole_repeats_stay_whole(name: str) -> None:
    pattern = pattern_of(name)
    fit = fit_pattern(pattern, across_cm=11.0)
    if not fit.nearest:
        assert {count % 6 for count in fit.pieces[0].counts} == {0}
    for width in fit.nearest:
        (piece,) = fit_pattern(pattern, across_cm=width).pieces
        assert piece.is_kept and {count % 6 for count in piece.counts} == {0}


def test_a_chain_that_counts_as_a_stitch_still_does_and_a_tube_needs_no_repair() -> None:
    joined = "Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join (12)\n"
    joined += "Rnd 2: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join (24)\n"
    joined += "Rnd 3: Ch 3 (counts as dc), inc, (dc, inc) x 11, join (36)"
    gauge = '[gauge]\nstitch = "dc"\nstitches = 16\nrounds = 8\n'
    pattern = loads(f'{gauge}[[piece]]\nname = "P"\nstart = "joined"\nrounds = """\n{joined}\n"""\n')
    (piece,) = fit_pattern(pattern, across_cm=15.0).pieces
    assert not piece.refused and all("counts as dc" in line for line in piece.lines)
    tube = "Rnd 1: ch 40, join, sc in each ch around (40)\nRnds 2-9: sc around (40)"
    pattern = loads(
        f'[gauge]\nstitch = "sc"\nstitches = 20\nrounds = 21\n[[piece]]\nname = "P"\nrounds = """\n{tube}\n"""\n'
    )
    (piece,) = fit_pattern(pattern, across_cm=9.3).pieces
    assert not any("dec" in line or "inc" in line for line in piece.lines)
