"""The numbers of a line that is written for several sizes, "sc in next 10 (13, 16) sts", "10/13/16 sts": which ones
are for the size that is made."""

from __future__ import annotations

import re
from functools import lru_cache

from tracker.notation.context import Context

_FEWEST = 3
"""Of two sizes a number in brackets may be the total behind a number of times, "x 6 (18)"; of more it is none."""


def for_one_size(folded: str, context: Context) -> str:
    """The text with one number where it has one for each of the `sizes`, blanks behind it, so that columns stay."""
    if context.sizes < _FEWEST or not 0 <= context.size < context.sizes:
        return folded
    return _listed(context.sizes).sub(lambda listed: _one(listed, context.size), folded)


@lru_cache(maxsize=8)
def _listed(sizes: int) -> re.Pattern[str]:
    more = sizes - 1
    return re.compile(
        rf"(?<![\w./-])\d{{1,4}}(?:\s?\((?:\s*\d{{1,4}}\s*[,/:;]){{{more - 1}}}\s*\d{{1,4}}\s*\)"
        rf"|\s?\[(?:\s*\d{{1,4}}\s*[,/:;]){{{more - 1}}}\s*\d{{1,4}}\s*\]|(?:/\d{{1,4}}){{{more}}})(?![\w/])"
    )


def _one(listed: re.Match[str], size: int) -> str:
    numbers: list[str] = re.findall(r"\d+", listed[0])
    return numbers[size].ljust(len(listed[0]))
