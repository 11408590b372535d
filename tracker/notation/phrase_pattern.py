"""Phrases as patterns of words: "IN? SIDE OF* CHAIN*" is a regular expression over the words of a line.

A name in a pattern is a kind of word (`T`), a set of kinds (`BASES`), or a group of words that the grammar asks for
by their spelling (`WORD_GROUPS`); all other signs mean what they mean in `re`, and spaces mean nothing. `[IN OVER]`
is one word of either kind, `..` any word, `(?! NUMBER)` looks ahead, `$` is the end of the line.

Each word is two characters, its kind and its spelling, so that half of the length of a match is a number of words.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import cached_property

from tracker.notation.token_kinds import KIND_SETS, WORD_GROUPS, T

_KIND = {kind: chr(0xE000 + number) for number, kind in enumerate(T)}
_NO_WORD = "-"
_WORD = {
    word: chr(0xF000 + number)
    for number, word in enumerate(dict.fromkeys(word for words in WORD_GROUPS.values() for word in words.split("|")))
}

_CHOICE = re.compile(r"\[([A-Z_ ]+)\]")
_NAME = re.compile(r"\b[A-Z][A-Z_]+\b")


def shape(kinds: Iterable[T], texts: Iterable[str]) -> str:
    """The words of a line as patterns see them, from their kinds and their spellings."""
    return "".join([_KIND[kind] + _WORD.get(text, _NO_WORD) for kind, text in zip(kinds, texts, strict=True)])


class PhrasePattern:
    """A pattern of words; `source` is how it is written.

    It is compiled when it is first asked for: most patterns of stitches ask for few of the phrases that there are.
    """

    def __init__(self, source: str) -> None:
        self.source = source

    @cached_property
    def _match(self) -> Callable[[str, int], re.Match[str] | None]:
        spread = _CHOICE.sub(lambda choice: f"(?:{'|'.join(choice[1].split())})", self.source)
        return re.compile("".join(_NAME.sub(lambda name: _one_word(name[0]), spread).split())).match

    def length(self, line: str, first: int) -> int:
        """How many words of a line's `shape` the phrase that begins at word `first` has; 0 if none begins there."""
        found = self._match(line, 2 * first)
        return (found.end() - found.start()) // 2 if found else 0

    def begins(self, line: str, first: int) -> bool:
        """Whether it begins at word `first`, even if it has no words of its own there but only looks ahead."""
        return self._match(line, 2 * first) is not None


def _one_word(name: str) -> str:
    if name in WORD_GROUPS:
        return f"(?:.[{''.join(_WORD[word] for word in WORD_GROUPS[name].split('|'))}])"
    kinds: Sequence[T] = sorted(KIND_SETS[name], key=list(T).index) if name in KIND_SETS else (T[name],)
    return f"(?:[{''.join(_KIND[kind] for kind in kinds)}].)"
