"""A round broken for the page reads as the round on one line; a line end that parts two instructions stays one."""

from __future__ import annotations

import pytest

from tracker.rounds.line_report import read_line

ROUNDS = (
    ("Rnd 12: [dec, 3 sc] x 6. (24)", 30),
    ("Rnd 2: 1 sc in each of the next 5 sts, inc in the next st, 1 sc in each of the last 6 sts. (13)", 12),
    ("Rnd 3: Ch 2, *hdc in next st, 2 hdc in next st; rep from * around; join. - 24 (27, 30) hdc", 16),
    ("Rnd 4: (sc in next 2 sts, 2 sc in next st) 4 times, sl st to first sc. [16]", 12),
    ("Rnd 5: ch 3 (counts as dc), dc in next 5 sts, skip 2 sts, 2 dc in each of the last 4 sts. (14 dc)", 12),
    ("Row 6: Starting in the 2nd ch from the hook, sc in each ch across. (11)", 12),
)


@pytest.mark.parametrize(("text", "before"), ROUNDS)
def test_a_line_end_between_any_two_words_changes_nothing(text: str, before: int) -> None:
    whole = read_line(text, before)
    assert whole.verdict == "ok"
    words = text.split(" ")
    for index in range(3, len(words)):
        broken = f"{' '.join(words[:index])}\n{' '.join(words[index:])}"
        read = read_line(broken, before)
        assert (read.leaves, read.uses, read.stated, read.verdict) == (
            whole.leaves,
            whole.uses,
            whole.stated,
            whole.verdict,
        ), broken
