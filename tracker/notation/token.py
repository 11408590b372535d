"""One word or sign of a line, with its sort and its columns."""

from __future__ import annotations

from typing import NamedTuple

from tracker.notation.ast import Loop, Technique
from tracker.notation.token_kinds import T


class Token(NamedTuple):
    """One word or sign. `glued` says that no space stands before it; `start` and `end` are offsets in the text."""

    kind: T
    value: object
    text: str
    start: int
    end: int
    glued: bool = False
    typed: str = ""
    """What was typed, where a slip of the keyboard was forgiven."""

    @property
    def number(self) -> int:
        assert isinstance(self.value, int)
        return self.value

    @property
    def name(self) -> str:
        assert isinstance(self.value, str)
        return self.value

    @property
    def loop(self) -> Loop:
        assert isinstance(self.value, Loop)
        return self.value

    @property
    def technique(self) -> Technique:
        assert isinstance(self.value, Technique)
        return self.value

    @property
    def posted(self) -> tuple[str, Loop]:
        """The stitch and the post of "fpdc"."""
        assert isinstance(self.value, tuple)
        stitch, loop = self.value
        return stitch, loop
