"""Round lines as nobody should write them: real lines with slips, cuts and grafts, and text of no sense at all.

Everything comes from one source of chance, so that a seed gives the same examples again and Hypothesis can make
a failing one smaller.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random

TABLES = Path(__file__).parents[1] / "notation"

SIGNS = (
    *("(", ")", "[", "]", "{", "}", "<", ">", "*", "**", "***", "x", "×", "=", "+", "-", "–", "&", "/", "|"),
    *(",", ";", ".", ":", "...", "!", "?", "'", '"', "\\", "#", "%", "_", "~", "\n", "\t", "\r\n", " "),
)
WORDS = (
    *("0", "1", "-3", "12", "999999999999", "10000000000", "1.5", "½", "²", "six", "twenty one", "3rd"),
    *("rep from *", "rep from * to *", "repeat", "6 times", "twice", "more", "around", "across", "to end", "to last"),
    *("until", "left", "in", "into", "each", "every other", "next", "same", "first", "last", "remaining"),
    *("st", "sts", "ch", "ch-3 sp", "sp", "ring", "magic ring", "from hook", "other side", "join", "turn", "sl st"),
    *("sc", "hdc", "dc", "tr", "htr", "inc", "dec", "sc2tog", "sc3tog", "shell", "picot", "bobble", "v-st", "sk"),
    *("BLO", "FLO", "fpdc", "between", "behind", "with B", "change to", "(A)", "counts as", "does not count"),
    *("Rnd 3:", "Rnds 5-8:", "Rnd 8-5:", "Row 2 (RS):", "2)", "Next rnd:", "as Rnd 2", "Rep Rnds 5-6", "omit"),
    *("(18)", "[18]", "= 18", "- 18 sts", "(9 sc, 9 ch-2 sps)", "(16, 20, 24)", "shell = 5 dc in one st"),
)
ALPHABETS = (
    "sc inhdbtrx0123456789()[]*,.:;-",
    "()[]{}<>*x×",
    "0123456789",
    "abcdefghijklmnopqrstuvwxyz ",
    " \t\n\r\u00a0\u2003\u200b",
    "\x00\x07\x1b\x7f\u202e\u2066\ufeff\ue000\ud800",
    "éßŒΣжשعंกㄱ中🧶👩\u200d\U0010ffff",
)
BASES = (None, 0, 1, 2, 3, 6, 7, 12, 13, 18, 24, 30, 36, 42, 48, 96, 10**9, 10**10, 10**10 + 1, -1)


@dataclass(frozen=True, slots=True)
class Example:
    """What the reader is asked: a text, the number of stitches before it (None: not told), and the terms."""

    text: str
    before: int | None
    terms: str


def real_lines() -> tuple[Example, ...]:
    """The lines of many hands that the reader is measured by."""
    found: list[Example] = []
    for path in sorted(TABLES.glob("*.tsv")):
        for row in path.read_text(encoding="utf-8").splitlines()[1:]:
            terms, before, text, *_ = [*row.split("\t"), "", ""]
            if text:
                base = int(before) if before.strip() else None
                found.append(Example(text.replace("\\n", "\n"), base, terms or "US"))
    return tuple(found)


class Mutator:
    """Makes examples out of real lines. `chance` is the only source of what is random."""

    def __init__(self, chance: Random, lines: tuple[Example, ...]) -> None:
        self._chance = chance
        self._lines = lines

    def example(self) -> Example:
        """Mostly a line with a few slips; one in eight is random text."""
        line = self._chance.choice(self._lines)
        text = self._random_text() if self._chance.randrange(8) == 0 else self._slipped(line.text)
        before = self._chance.choice(BASES) if self._chance.randrange(3) == 0 else line.before
        terms = self._chance.choice(("US", "UK")) if self._chance.randrange(10) == 0 else line.terms
        return Example(text, before, terms)

    def page(self, lines: int = 12) -> str:
        """Several such texts below each other, as in a piece or a pasted pattern."""
        return "\n".join(self.example().text for _ in range(self._chance.randint(1, lines)))

    def _slipped(self, text: str) -> str:
        for _ in range(self._chance.randint(1, 4)):
            text = self._chance.choice(SLIPS)(self, text)
        return text

    def _random_text(self) -> str:
        alphabet = self._chance.choice(ALPHABETS)
        return "".join(self._chance.choice(alphabet) for _ in range(self._chance.randint(0, 60)))

    def _parts(self, text: str) -> list[str]:
        return re.findall(r"\s+|\w+|[^\w\s]", text) or [""]

    def without_a_word(self, text: str) -> str:
        parts = self._parts(text)
        del parts[self._chance.randrange(len(parts))]
        return "".join(parts)

    def with_a_word(self, text: str) -> str:
        parts = self._parts(text)
        word = self._chance.choice(self._chance.choice((SIGNS, WORDS)))
        parts.insert(self._chance.randint(0, len(parts)), f" {word} ")
        return "".join(parts)

    def with_another_word(self, text: str) -> str:
        parts = self._parts(text)
        parts[self._chance.randrange(len(parts))] = self._chance.choice(self._chance.choice((SIGNS, WORDS)))
        return "".join(parts)

    def with_words_swapped(self, text: str) -> str:
        parts = self._parts(text)
        one, other = self._chance.randrange(len(parts)), self._chance.randrange(len(parts))
        parts[one], parts[other] = parts[other], parts[one]
        return "".join(parts)

    def with_a_stretch_again(self, text: str) -> str:
        parts = self._parts(text)
        start = self._chance.randrange(len(parts))
        stretch = parts[start : start + self._chance.randint(1, 8)]
        times = self._chance.choice((1, 1, 2, 3, 5, 20))
        return "".join(parts[:start] + stretch * times + parts[start:])

    def cut_off(self, text: str) -> str:
        start = self._chance.randrange(len(text) + 1)
        return text[start:] if self._chance.randrange(2) else text[:start]

    def grafted(self, text: str) -> str:
        other = self._chance.choice(self._lines).text
        here, there = self._chance.randrange(len(text) + 1), self._chance.randrange(len(other) + 1)
        return text[:here] + other[there:]

    def with_another_character(self, text: str) -> str:
        place = self._chance.randrange(len(text) + 1)
        new = self._chance.choice(self._chance.choice(ALPHABETS))
        return text[:place] + new + text[place + self._chance.randrange(2) :]

    def with_another_number(self, text: str) -> str:
        numbers = list(re.finditer(r"\d+", text))
        if not numbers:
            return text
        number = self._chance.choice(numbers)
        new = self._chance.choice(("0", "1", "2", "7", "17", "10000000000", "9" * 30, str(int(number[0][:9]) + 1)))
        return text[: number.start()] + new + text[number.end() :]

    def in_brackets(self, text: str) -> str:
        parts = self._parts(text)
        start = self._chance.randrange(len(parts))
        end = self._chance.randint(start, len(parts))
        left, right = self._chance.choice(("()", "[]", "{}", "**", "(]", "<>"))
        deep = self._chance.choice((1, 1, 1, 2, 11, 12, 13, 40))
        return "".join([*parts[:start], left * deep, *parts[start:end], right * deep, *parts[end:]])

    def in_capitals(self, text: str) -> str:
        return text.upper() if self._chance.randrange(2) else text.title()

    def with_a_long_run(self, text: str) -> str:
        """A key that was leant on."""
        place = self._chance.randrange(len(text) + 1)
        key = self._chance.choice((" ", "\n", "*", "(", "-", ".", "9", "a", ", ", "sc, ", "1-", "the "))
        return text[:place] + key * self._chance.choice((10, 40, 150)) + text[place:]


Slip = Callable[[Mutator, str], str]

SLIPS: tuple[Slip, ...] = (
    *(Mutator.without_a_word, Mutator.with_a_word, Mutator.with_another_word) * 3,
    *(Mutator.with_words_swapped, Mutator.with_another_number, Mutator.in_brackets, Mutator.cut_off) * 2,
    *(Mutator.with_a_stretch_again, Mutator.grafted, Mutator.with_another_character, Mutator.in_capitals),
    Mutator.with_a_long_run,
)
