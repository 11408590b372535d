"""Which round is made with which yarn where a sentence over the rounds says so, worked out by hand: common practice,
no source. Of six rounds each, in letters of the yarns; "?" is a round whose yarn is asked for.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Piece

YARNS = '[yarn.A]\nname = "clay"\n[yarn.B]\nname = "dark moss"\n'
THREE = f'{YARNS}[yarn.C]\nname = "cream"\n'
ROUNDS = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnds 3-6: sc around (12)"


def piece_of(said: str, yarns: str = YARNS, rounds: str = ROUNDS) -> Piece:
    return loads(f'title = "t"\n{yarns}[[piece]]\nname = "Cup"\nrounds = """\n{said}\n{rounds}\n"""\n').pieces[0]


def yarns_of(piece: Piece) -> str:
    asked = [any(problem.code == "yarn-untold" for problem in item.problems) for item in piece.rounds]
    return "".join("?" if ask else item.colour or "-" for item, ask in zip(piece.rounds, asked, strict=True))


SAID = {
    "Rounds 1-2 in clay, rounds 3-6 in dark moss.": "AABBBB",
    "Work Rnds 1-3 with A, 4-5 with B, then A to the end": "AAABBA",
    "A for rnds 1 and 2, B for the rest": "AABBBB",
    "Rnds 1, 3 and 5: A; all other rounds: B": "ABABAB",
    "Alternate two rounds of clay and one of moss": "AABAAB",
    "Stripe pattern: 1 rnd B, 2 rnds A, repeat.": "BAABAA",
    "Alternate A and B every 2 rounds, beginning with B": "BBAABB",
    "Change colour every 2 rounds, starting with B.": "BBAABB",
    "3 rounds A, 2 rounds B, then A to the end": "AAABBA",
    "2-round stripes of A and B": "AABBAA",
    "Rounds 1-3 in A.\nRounds 4-6 in B.": "AAABBB",
    "Start with B and change colour every round.": "BABABA",
    "A for rounds 1-3, B from round 4": "AAABBB",
    "Work in stripes: 2 rounds B, 1 round A, repeat to the end.": "BBABBA",
    "Rounds 1-3 in A.": "AAA?AA",
    "Change colour every 2 rounds.": "?-----",
    "Alternate clay and moss.": "?AAAAA",
    "Clay, then moss": "?AAAAA",
    "B is used unless noted.": "BBBBBB",
    "Leave 2 rounds of A for later, Rnds 1-3 in B": "------",
}


@pytest.mark.parametrize(("said", "yarns"), SAID.items(), ids=list(SAID))
def test_a_sentence_gives_rounds_to_yarns(said: str, yarns: str) -> None:
    assert yarns_of(piece_of(said)) == yarns


def test_a_question_is_answered_by_the_words_that_it_proposes() -> None:
    (question,) = piece_of("Change colour every 2 rounds.", THREE).rounds[0].problems
    assert question.proposal is not None and (question.proposal.uses, question.proposal.leaves) == (0, 6)
    agreed = ROUNDS.replace("Rnd 1: 6 sc in magic ring (6)", question.proposal.text)
    assert yarns_of(piece_of("Change colour every 2 rounds.", THREE, agreed)) == "AABBCC"


def test_another_yarn_that_is_not_named_is_the_other_of_two_and_else_asked() -> None:
    rounds = ROUNDS.replace("inc x 6", "With A, inc x 6, change colour")
    assert yarns_of(piece_of("", YARNS, rounds)) == "-ABBBB"
    piece = piece_of("", THREE, rounds)
    (question,) = [problem for item in piece.rounds for problem in item.problems]
    assert question.proposal is not None and "change to B" in question.proposal.text
    assert [item.colour for item in piece.rounds[2:]] == ["next colour"] * 4
