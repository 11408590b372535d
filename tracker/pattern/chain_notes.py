"""What the notes of a pattern say of the chains that rounds begin with: whether they count as a stitch."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tracker.lazy_pattern import compile_later

_CHAIN = compile_later(r"\b(?:ch(?:ain)?s?[ -]*\d*|\d{1,4}\s?ch|turning chain)\b", re.I)
_COUNTS = compile_later(r"\b(?:counts?|counted|counting)\b", re.I)
_DENIES = compile_later(r"\b(?:not|never|no)\b|n['’]t\b|\b(?:does|do|is|are)nt\b", re.I)
_OF_ALL = compile_later(r"\b(?:throughout|always|never|all|every|each|turning|starting|beginning)\b", re.I)

_OF_ALL_ROUNDS = compile_later(
    r"(?:\bch(?:ain)?s?[ -]*\d*|\b\d+ *ch)[, ]*[(\[]"
    r"([^()\[\]\n]{0,40}\bcount(?:s|ed)?\b[^()\[\]\n]{0,60}\bthroughout\b)",
    re.I,
)
"""What a bracket behind a chain says of all rounds: "ch 3 (counts as first dc here and throughout)"."""

_LENGTH = compile_later(r"\bch(?:ain)?s?[ -]*(?P<behind>\d{1,2})\b|\b(?P<before>\d{1,2})[ -]*ch(?:ain)?s?\b", re.I)
_IS = compile_later(r"\b(?:is|are|isn['’]t|aren['’]t)\b", re.I)
_STITCH = compile_later(r"\bst(?:itch(?:es)?)?\b", re.I)
_VERB = compile_later(r"\b(?:counts?|counted|counting|do(?:es)?|is|are)(?:n['’]?t)?\b", re.I)
_CLAUSES = compile_later(r"[.;,\n]|\b(?:but|and|while|whereas)\b", re.I)

_WHOLE_SENTENCE = compile_later(
    r"\W*(?:(?:the|a|your) )?ch(?:ain)?[ -]?\d{1,2} (?:counts?|is counted|(?:does|do)(?: not|n['’]?t) count|stands)"
    r"(?: (?:as|for) (?:an?|one|1|the first|first|the)? ?[a-z]{1,12}(?: st(?:itch)?)?)?\W*",
    re.I,
)
"""A note of nothing else, "Ch 3 counts as a dc.", is for all rounds."""

_SEVERAL = 2
"""Lengths of chains from which on a note tells them apart."""


def chain_counts(notes: tuple[str, ...]) -> bool | None:
    """ "ch 3 counts as a dc throughout", "the starting chain never counts": None where nothing is said of all.

    That one length does not count tells nothing of the others.
    """
    for sentence in (sentence for note in notes for sentence in re.split(r"[.;\n]", note)):
        if not _stand_in_order(_CHAIN, _COUNTS, sentence) or not _OF_ALL.search(sentence):
            continue
        lengths, denied = set(_lengths(sentence)), _DENIES.search(sentence) is not None
        if len(lengths) < _SEVERAL and not (lengths and denied):
            return not denied
    return None


def chain_counts_as_said_once(text: str) -> bool | None:
    """Whether one round says of the chains of all of them that they count; None where none does."""
    match = _OF_ALL_ROUNDS.search(text)
    return not _DENIES.search(match[1]) if match else None


def chains_by_length(notes: tuple[str, ...]) -> tuple[tuple[int, bool], ...]:
    """What is said of chains of one length: "ch 1 does not count as a st, ch 3 does", "ch 2 never counts"."""
    chains: list[tuple[int, bool]] = []
    for note in notes:
        if not _tells_of_counting(note):
            continue
        counts = dict(_counting_by_length(note))
        is_whole = any(map(_WHOLE_SENTENCE.fullmatch, re.split(r"[.;\n]", note)))
        if len(counts) >= _SEVERAL or is_whole or (_OF_ALL.search(note) and False in counts.values()):
            chains += counts.items()
    return tuple(chains)


def _tells_of_counting(note: str) -> bool:
    """ "ch 2 counts", "ch 2 is a stitch" """
    return bool(_COUNTS.search(note)) or any(_stand_in_order(_IS, _STITCH, part) for part in re.split("[.;]", note))


def _stand_in_order(first: re.Pattern[str], second: re.Pattern[str], sentence: str) -> bool:
    """Whether the second stands anywhere behind the first: one pattern of both would try each of the first with the
    whole rest of a long sentence."""
    match = first.search(sentence)
    return match is not None and second.search(sentence, match.end()) is not None


def _counting_by_length(note: str) -> Iterator[tuple[int, bool]]:
    """Length by length, whether a note says that a chain of it counts; several may wait for one verb."""
    waiting: list[int] = []
    for clause in _CLAUSES.split(note):
        lengths = list(_lengths(clause))
        if waiting or lengths:
            waiting += lengths
            if _VERB.search(clause):
                is_counted = _DENIES.search(clause) is None
                yield from ((length, is_counted) for length in waiting)
                waiting = []


def _lengths(words: str) -> Iterator[int]:
    return (int(match["behind"] or match["before"]) for match in _LENGTH.finditer(words))
