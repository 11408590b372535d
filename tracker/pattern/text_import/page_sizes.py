"""A page that is written for several sizes, "54 (58, 62)": which of its numbers are for the one that is made."""

from __future__ import annotations

import re
from collections import Counter

from tracker.lazy_dataclass import replace
from tracker.pattern.toml_writer import Draft

_SIZES = re.compile(
    r"(?<![\w.])(?P<first>\d+(?:\.\d+)?)\s?[(\[](?P<others>\d+(?:\.\d+)?(?:\s*[,/:;-]\s*\d+(?:\.\d+)?)+)[)\]]"
)
_FEWEST = 2
"""How often numbers must come in brackets before a page is said to be for several sizes."""


def sizes_in(text: str) -> int:
    """For how many sizes the numbers of the text are; 1 if they are for one."""
    counts = Counter(1 + len(re.findall(r"\d+(?:\.\d+)?", match["others"])) for match in _SIZES.finditer(text))
    size, often = counts.most_common(1)[0] if counts else (1, 0)
    return size if often >= _FEWEST else 1


def for_size(draft: Draft, size: int) -> Draft:
    """The draft with the numbers of one size, from 1, in its prose; the rounds follow the `size` of the draft."""
    return replace(
        draft,
        notions=tuple(_sized(text, size) for text in draft.notions),
        notes=tuple(_sized(text, size) for text in draft.notes),
        making_up=tuple(_sized(text, size) for text in draft.making_up),
    )


def _sized(text: str, size: int) -> str:
    return _SIZES.sub(lambda match: _number_for(match, size), text)


def _number_for(match: re.Match[str], size: int) -> str:
    numbers = [match["first"], *re.findall(r"\d+(?:\.\d+)?", match["others"])]
    return numbers[size - 1] if size <= len(numbers) else match[0]
