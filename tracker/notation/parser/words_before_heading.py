"""What stands before the heading of a round and belongs to it: yarn and chain in "Sole: with tan, ch 13. R1"."""

from __future__ import annotations

import re

from tracker.lazy_pattern import compile_later

_CHAIN_CLAUSE = compile_later(r"\b(?:ch|chain)s?(?:\s+of)?\s*\d{1,4}\b|\b\d{1,4}\s*(?:ch|chains?)\b")
_JOIN_CLAUSE = compile_later(r"\s*(?:join|sl st|ss|close|form a ring|to form)\b")
_COLOUR_CLAUSE = compile_later(r"\s*(?:join|attach|with|change to|using|in) [a-z ]{1,40}$")


def words_kept(before: str) -> int | None:
    """Where the yarn and the chain begin in what stands before a heading; None if it says anything else."""
    place, start = 0, None
    for clause in re.split(r"(?<=[.,:;])(?![^()\[\]]*[)\]])", before):  # "ch 90 (96, 102)" is one
        words = clause.strip(" .,:;-*")
        chain = _CHAIN_CLAUSE.search(clause)
        if chain is not None and (start is not None or _LEADS_A_CHAIN.fullmatch(clause[: chain.start()])):
            start = place + chain.start() if start is None else start
        elif _COLOUR_CLAUSE.match(clause.rstrip(" .,:;-")):
            start = place + len(clause) - len(clause.lstrip(" -*")) if start is None else start
        elif words and not (start is not None and _JOIN_CLAUSE.match(clause)) and not _is_title(words, start):
            return None
        place += len(clause)
    return start


_LEADS_A_CHAIN = compile_later(r"[a-z' -]{0,20}[,:-]?\s*(?:(?:make|work|begin with|start with)\s+)?(?:a\s+)?")


def _is_title(words: str, start: int | None) -> bool:
    """ "Base", "Left ear", "Beg at center": a few words before the yarn and the chain."""
    # A name of a round has three words at most ("left front edge").
    return start is None and len(words.split()) <= 3 and re.fullmatch(r"[a-z' -]+", words) is not None
