"""What the rest of a pattern says about the words of a line."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class OwnWord:
    """A phrase of the pattern, folded, and what it stands for: known words, or the places it takes and the stitches
    it leaves."""

    phrase: str
    meaning: str = ""
    takes: int = 1
    leaves: int = 1


@dataclass(frozen=True, slots=True)
class Context:
    """What the rest of the pattern says about its words.

    `chain_counts`: whether turning chains count as a stitch throughout (None: not said), and `chains_by_length`
    whether those of one length do; the first entry of a length holds.
    `bunches`: named groups that the pattern defines, to what they make. `colours`: its yarn keys, in lower case.
    `size`: which of several sizes in brackets is made, from 0, and `sizes` how many there are (0: not said).
    `words`: what it explains of its own words.
    """

    terms: str = "US"
    chain_counts: bool | None = None
    bunches: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = ()
    colours: frozenset[str] = frozenset()
    size: int = 0
    sizes: int = 0
    words: tuple[OwnWord, ...] = ()
    chains_by_length: tuple[tuple[int, bool], ...] = ()

    @property
    def chains_count(self) -> tuple[tuple[int, bool | None], ...]:
        """Whether turning chains count as a stitch, by length, and under 0 all others; empty if nothing says."""
        if self.chain_counts is None and not self.chains_by_length:
            return ()
        return (0, self.chain_counts), *dict(reversed(self.chains_by_length)).items()
