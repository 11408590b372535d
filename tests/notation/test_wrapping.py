"""A round broken for the page reads as the round on one line; a line end that parts two instructions stays one."""

from __future__ import annotations

import re

import pytest

from tracker.rounds.line_report import read_line

ROUNDS = (
    ("Rnd 12: [dec, 3 sc] x 6. (24)", 30),
    ("Rnd 2: 1 sc in each of the next 5 sts, inc in the next st, 1 sc in each of the last 6 sts. (13)", 12),
    ("Rnd 3: Ch 2, *hdc in next st, 2 hdc in next st; rep from * around; join. - 24 (27, 30) hdc", 16),
    ("Rnd 4: (sc in next 2 sts, 2 sc in next st) 4 times, sl st to first sc. [16]", 12),
    ("Rnd 5: ch 3 (counts as dc), dc in next 5 sts, skip 2 sts, 2 dc in each of the last 4 sts. (14 dc)", 12),
    ("Rnd 7: Ch. 1, 2 s.c. in each s.c. around, join. 24 s.c.", 12),
    ("Rnd 8: Ch. 3, d.c. in next d.c., ch. 1, * d.c. in each of next 2 d.c., ch. 1, rep. from * to end. (8 d.c.)", 8),
    ("Row 6: Starting in the 2nd ch from the hook, sc in each ch across. (11)", 12),
    (
        "Rnd 1: 2 sc in 2nd ch from hook, sc in next 5 ch, 4 sc in last ch, now work along other side of ch: "
        "sc in next 5 ch, 2 sc in last ch. (18)",
        8,
    ),
    ("Rnd 4: sc in each st around, working (sc, ch 2, sc) in each corner 2-ch sp. (56 sc)", 48),
)


def counts(text: str, before: int) -> tuple[int | None, int | None, int | None, str]:
    """What a round leaves, uses and states, and the verdict on it."""
    report = read_line(text, before)
    return report.leaves, report.uses, report.stated, report.verdict


@pytest.mark.parametrize(("text", "before"), ROUNDS)
def test_a_line_end_between_any_two_words_changes_nothing(text: str, before: int) -> None:
    whole = counts(text, before)
    assert whole[-1] == "ok"
    words = text.split(" ")
    for index in range(3, len(words)):
        broken = f"{' '.join(words[:index])}\n{' '.join(words[index:])}"
        assert counts(broken, before) == whole, broken


@pytest.mark.parametrize(("text", "before"), ROUNDS)
def test_a_word_that_a_hyphen_cuts_at_the_end_of_a_line_is_read_whole(text: str, before: int) -> None:
    whole = counts(text, before)
    for word in re.finditer(r"(?<=[ *])[a-z]{5,}\b", text):
        for cut in range(word.start() + 2, word.end() - 1):
            broken = f"{text[:cut]}-\n{text[cut:]}"
            assert counts(broken, before) == whole, broken


WORDS_CUT = (
    ("Rnd 2: Half dou-\nble crochet in each st around. (30)", 30, 30),
    ("Rnd 3: Half-\ndouble crochet in each st around. (30)", 30, 30),
    ("Rnd 4: *Sc in next st, ch-\n3, skip next st; rep from * around. (15 ch-\n3 sps)", 30, 15),
    ("Rnd 5: (Sc in next 3 sts, sc2-\ntog) 6 times. (24)", 30, 24),
    ("Rnd 6: 2 sc in each st, place mar-\nker in last st. (24)", 12, 24),
    ("Rnd 7: *Sc in next st, 2 sc in next st*, work\nfrom * to * 6 times in all. (18)", 12, 18),
)


@pytest.mark.parametrize(("text", "before", "leaves"), WORDS_CUT)
def test_parts_that_are_words_by_themselves_are_joined_as_the_trade_writes_them(
    text: str, before: int, leaves: int
) -> None:
    read = read_line(text, before)
    assert (read.leaves, read.verdict) == (leaves, "ok"), read.messages
