"""The ordinary mistakes of hand work, by name: what each does to the count, and how it shows in the fabric."""

from __future__ import annotations

from enum import Enum


class Mistake(Enum):
    """Why a count can differ. The value is its name in the journal and in JSON; never change one."""

    PLACE = "place"
    """The work is right and the tracker's place is not: a tap too few or too many."""
    MISCOUNT = "miscount"
    """The work is right and the count is not."""
    MISSED_INCREASE = "missed increase"
    MISSED_DECREASE = "missed decrease"
    SKIPPED = "stitch skipped"
    DOUBLED = "two in one"
    CHAIN_OR_JOIN = "chain or join"
    """The join or the turning chain was taken for a stitch, or one that counts was not."""
    REPEAT_MISSED = "repeat missed"
    REPEAT_EXTRA = "repeat too many"
    EVERY_REPEAT = "every repeat"
    """The same slip in each repeat, or all increases left out: the line was misread."""
    SPACING = "spacing"
    """One plain stitch too many or too few between the changes, all round."""
    DRIFT = "drift"
    """A spiral that was ended some stitches before its marker or beyond it."""
    ROUND_NOT_MADE = "round not made"
    """The tracker is a whole round ahead of the work."""
    ROUND_NOT_TAPPED = "round not tapped"
    """The work is a whole round ahead of the tracker."""
    ROUND_TWICE = "round made twice"
    """The line of the round was worked once more over what it had left."""

    @property
    def is_in_fabric(self) -> bool:
        """Whether something is wrong with stitches of the work."""
        return self not in (Mistake.PLACE, Mistake.MISCOUNT) and not self.is_out_of_step

    @property
    def is_out_of_step(self) -> bool:
        """Whether a whole round is too many or too few, and its stitches are good."""
        return self in (Mistake.ROUND_NOT_MADE, Mistake.ROUND_NOT_TAPPED, Mistake.ROUND_TWICE)


WHOLE = (Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT, Mistake.SPACING)
"""What concerns whole repeats, or the round all along."""

LOOK_FOR: dict[Mistake, str] = {
    Mistake.PLACE: "find the last stitch you made and see whether the tracker shows the same one",
    Mistake.MISCOUNT: "count once more, with a pin in every tenth stitch",
    Mistake.MISSED_INCREASE: "an increase is two V tops growing from one base; here there may be one",
    Mistake.MISSED_DECREASE: "a decrease is one V top over two bases; here there may be two",
    Mistake.SKIPPED: "a skipped stitch leaves a small gap below and a V of the round before with nothing in it",
    Mistake.DOUBLED: "two V tops growing from one base where there should be one",
    Mistake.CHAIN_OR_JOIN: "the join and the turning chain sit lower and lean; see whether one was worked or counted",
    Mistake.REPEAT_MISSED: "look for stitches of the round before that nothing was worked into",
    Mistake.REPEAT_EXTRA: "count the repeats: there may be one more than the line says",
    Mistake.EVERY_REPEAT: "compare one repeat with the line, stitch by stitch",
    Mistake.SPACING: "count the plain stitches between two changes and compare them with the line",
    Mistake.DRIFT: "find the first stitch of the round and see whether the marker is in it",
    Mistake.ROUND_NOT_MADE: "count the rounds up the side: there may be one fewer than the tracker has",
    Mistake.ROUND_NOT_TAPPED: "count the rounds up the side: there may be one more than the tracker has",
    Mistake.ROUND_TWICE: "count the rounds up the side: there may be one more than the tracker has",
}
"""What to look for in the fabric. Common practice, no source."""
