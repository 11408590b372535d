"""Regular expressions that are compiled when they are first used, and not when their module is read.

A start reads some sixty of them and uses a third; to compile one takes as long as to read a small module.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from re import compile as compile_later

    __all__ = ["compile_later"]
else:

    class compile_later:  # called as `re.compile` is
        """The pattern that `re.compile` would give, for all that is asked of a pattern itself; the functions of `re`
        do not take it."""

        def __init__(self, text: str, flags: int = 0) -> None:
            self._arguments = text, flags

        def __getattr__(self, name: str) -> object:
            value = getattr(re.compile(*self._arguments), name)
            setattr(self, name, value)
            return value
