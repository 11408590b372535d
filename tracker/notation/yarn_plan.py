"""Which rounds are made with which yarn, as a sentence says it of all of them."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass, field

ONWARD = 0
"""The last round of a span that goes on to the end of the piece."""


@dataclass(frozen=True, slots=True)
class YarnPlan:
    """What a sentence says of the yarns of rounds.

    `spans` are rounds by their numbers, first and last, and their yarn; `others` is that of all else. `turns` are
    yarns with their numbers of rounds, counted from the first round, and `again` whether they begin anew behind the
    last. `order` are yarns whose rounds are not told: the yarn changes every `each` rounds (0: not told either), they
    come in turn if it `alternates`, and the first is for the first round if it `begins`. `usual` is the yarn of
    rounds that name no other. `words` are the sentence.
    """

    spans: tuple[tuple[int, int, str], ...] = ()
    others: str = ""
    turns: tuple[tuple[str, int], ...] = ()
    again: bool = False
    order: tuple[str, ...] = ()
    each: int = 0
    begins: bool = False
    alternates: bool = False
    usual: str = ""
    words: str = field(default="", compare=False)

    @property
    def yarns(self) -> tuple[str, ...]:
        """The yarns that it names, each once."""
        named = (*(yarn for _, _, yarn in self.spans), *(yarn for yarn, _ in self.turns), *self.order)
        return tuple(dict.fromkeys(yarn for yarn in (*named, self.others, self.usual) if yarn))

    @property
    def is_whole(self) -> bool:
        """Whether it says of rounds which yarn they are made with, and not only in which order yarns come."""
        return bool(self.spans or self.turns or self.others)

    def yarn_of(self, number: int, index: int) -> str:
        """The yarn of the round of a number, which is the piece's `index`th from 0; "" where that is not told."""
        for first, last, yarn in self.spans:
            if first <= number <= (last or number):
                return yarn
        length = sum(rounds for _, rounds in self.turns)
        place = index % length if length and self.again else index
        for yarn, rounds in self.turns:
            if place < rounds:
                return yarn
            place -= rounds
        return self.others

    def beside(self, other: YarnPlan) -> YarnPlan:
        """Both plans as one, where each is of rounds by their numbers; else the other one, which is the later."""
        if not self.spans or other.turns or other.order:
            return other
        others, usual = other.others or self.others, other.usual or self.usual
        words = f"{self.words} {other.words}"
        return YarnPlan((*self.spans, *other.spans), others, self.turns, self.again, usual=usual, words=words)
