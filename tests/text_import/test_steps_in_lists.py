"""Rounds that are written as lists: a heading alone, and each step on a line of its own below it.

That pages for beginners break a round down so is common practice, no source; the counts are by arithmetic.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml

PAGE = """Plum Stone

Yarn: cotton in plum (A) and moss (B)

Stone
Round 1:
{0}Make a magic ring with color A.
{0}Work 7 single crochets into the ring.
{0}You now have 7 stitches.
Round 2:
{0}2 sc in every stitch around.
{0}Total: 14 stitches.
Round 3:
{0}1 sc in the next stitch.
{0}2 sc in the following stitch.
{0}Repeat these two steps all the way around.
{0}Total: 21 stitches.
Round 4:
{0}1 sc in each of the next 2 stitches.
{0}2 sc in the following stitch.
{0}Repeat the last 2 steps to the end.
{0}Total: 28 stitches.
Rounds 5-7:
{0}1 sc in each stitch around. Nothing changes here.
{0}Total: 28 stitches.
Round 8:
{0}1 sc in each of the next 2 stitches.
{0}sc2tog.
{0}Repeat these steps around.
{0}Total: 21 stitches.
"""


def leaves(text: str) -> list[tuple[int | None, str]]:
    (piece,) = loads(as_toml(from_text(text, "US").draft)).pieces
    return [(round_.leaves, round_.verdict) for round_ in piece.rounds]


@pytest.mark.parametrize("bullet", ["• ", "- ", "▪ ", "  ● ", ""])
def test_a_round_is_all_of_its_steps(bullet: str) -> None:
    counts = [7, 14, 21, 28, 28, 28, 28, 21]
    assert leaves(PAGE.format(bullet)) == [(number, "ok") for number in counts]


def test_a_step_that_changes_the_yarn_is_one_of_them() -> None:
    changing = PAGE.replace("Round 8:\n", "Round 8:\n{0}Change to color B, back loops only.\n")
    assert leaves(changing.format("• "))[-1] == (21, "ok")


def test_a_wrong_total_is_told_and_no_step_is_left_out() -> None:
    assert leaves(PAGE.format("• ").replace("Total: 21 stitches", "Total: 22 stitches"))[2] == (21, "disagrees")


THREE = (
    "Stone\nRnd 1: 8 sc in magic ring (8)\nRnd 2:\n• sc in the next 2 sts.\n• inc.\n• sc in the next stitch.\n{}\n"
)


@pytest.mark.parametrize(
    ("repeat", "comes_to"),
    [
        ("• Repeat these three steps around.\n• Total: 10 stitches.", (10, "ok")),
        ("• Repeat the last 2 steps twice more.\n• Total: 11 stitches.", (11, "ok")),
        ("• Repeat the last 4 steps around.", (None, "error")),
    ],
)
def test_so_many_steps_are_repeated_as_are_named(repeat: str, comes_to: tuple[int | None, str]) -> None:
    assert leaves(THREE.format(repeat))[1] == comes_to
