"""Prose behind a total: sentences that say something to the maker and make nothing."""

from __future__ import annotations

import re

from tracker.notation.parser.measured_number import without_measures
from tracker.notation.token_kinds import MADE, T
from tracker.notation.token_stream import PhrasePattern, Token, shape_of

SAYS_HOW = MADE | {T.REPEAT, T.AROUND, T.TIMES, T.EACH, T.NOUN, T.JOIN, T.TURN, T.NUMBER, T.ONGOING}
"""What tells how many are made, or where: no sentence behind a total has it but for numbers of rounds."""


def sentence_kinds(words: list[Token]) -> set[T]:
    """The kinds of words in what may be a sentence, without measures, whereabouts, and stitches that are only spoken
    of: "the 6 decreases are the top of the snout" makes none, and "dec 6 times" does."""
    words = without_whereabouts(without_measures(words))
    spoken_of = {i for i, word in enumerate(words) if word.kind in MADE and _MANY_MADE.search(word.text)}
    numbers = {i - 1 for i in spoken_of if i and words[i - 1].kind is T.NUMBER}
    return {word.kind for i, word in enumerate(words) if i not in spoken_of | numbers}


def without_whereabouts(words: list[Token]) -> list[Token]:
    """The words without those that tell how far apart eyes are, and between which rounds they are put."""
    kept, line, at = [], shape_of(words), 0
    while at < len(words):
        length = _WHEREABOUTS.length(line, at)
        kept += words[at : at + 1] if not length else []
        at += length or 1
    return kept


_WHEREABOUTS = PhrasePattern(
    """
      BETWEEN [NUMBER ORDINAL] [AND DASH] [NUMBER ORDINAL] ROUND
    | (?= WORD) APART [OF FROM COLON]* NUMBER [NOUN SPACE STITCH]?
    | NUMBER [NOUN SPACE STITCH] OF? (?= WORD) APART
    """
)
""" "put the eyes between 7 and 8 rows, distance 6 loops", "6 loops of distance" """

_MANY_MADE = re.compile("..[^s]s$")
""" "decreases", "shells", and neither "ss" nor "miss"."""


_SPEAKS_OF_IT = PhrasePattern(
    "(^ | (?<= DOT)) (?= [SAME FILLER TOTAL]) DEMONSTRATIVE"
    " [SAME FILLER NUMBER WORD CORNER COMMA AS AND ROUND ALL ORDINAL OF]+ DOT"
)
""" "This one sets the four corners.", "Here it turns square, as if by magic." """


def with_sentences_in_words(tokens: list[Token]) -> list[Token]:
    """The words with those of a sentence that only speaks of the round as no more than words, the numbers in it too:
    "This one sets the four corners. Ch 1, ..."; one in figures may be a total, and so may the last of a line."""
    start = _SPEAKS_OF_IT.first_in(tokens, 0)
    end = start + _SPEAKS_OF_IT.length(shape_of(tokens), start)
    sentence = tokens[start : end - 1]
    if (
        end >= len(tokens)
        or not any(word.kind is T.NUMBER for word in sentence)
        or any(word.text.isdecimal() for word in sentence)
    ):
        return tokens
    plain = [word._replace(kind=T.WORD, value=None) if word.kind in _SPOKEN else word for word in sentence]
    return [*tokens[:start], *plain, *tokens[end - 1 :]]


_SPOKEN = (T.NUMBER, T.CORNER, T.ORDINAL, T.OF)


def is_sentence(words: list[Token]) -> bool:
    """Whether the words say something and make nothing; the only number in them is that of a round, by that name or
    at the end, "I stop after 13"."""
    words = without_measures(words)
    last = len(words) - 2
    lead_on = {at for at, word in enumerate(words) if word.kind is T.ROUND or (at == last and word.kind is T.WORD)}
    numbers = {index for index, word in enumerate(words) if word.kind is T.NUMBER}
    kinds = sentence_kinds(words)
    begins = words[0].kind if words else None
    makes = begins is T.STEP or kinds & (SAYS_HOW - {T.NUMBER, T.NOUN})  # "(6) Fasten off, leaving a tail" does it
    return T.WORD in kinds and len(words) >= _SENTENCE and not makes and numbers <= {at + 1 for at in lead_on}


_SENTENCE = 4
"""Words of the shortest sentence that is taken for one without a full stop before it."""
