"""Every number that the search for a miscount rests on, in one place, each with its basis.

Nobody publishes how often crocheters make which mistake, so most of these are trade knowledge put as a number.
They matter less than they seem: the difference in the count rules most causes out, the rhythm of the taps does the
ranking, and what the maker confirms shifts the causes (see `learned`).
"""

from __future__ import annotations

from dataclasses import dataclass

from tracker.session.mistakes import Mistake

PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Weight:
    """One number of the model and what it rests on."""

    value: float
    meaning: str
    basis: str = PRACTICE


FINISHED_ROUND: dict[Mistake, Weight] = {
    Mistake.PLACE: Weight(0.14, "a tap missed or doubled"),
    Mistake.MISCOUNT: Weight(0.14, "the stitches were counted wrongly"),
    Mistake.MISSED_INCREASE: Weight(0.15, "one stitch where the line says two in one"),
    Mistake.MISSED_DECREASE: Weight(0.10, "two stitches where the line says two together"),
    Mistake.SKIPPED: Weight(0.10, "a base with nothing worked into it"),
    Mistake.DOUBLED: Weight(0.08, "two stitches in one base by accident"),
    Mistake.CHAIN_OR_JOIN: Weight(0.08, "the join or turning chain taken for a stitch or not counted"),
    Mistake.REPEAT_MISSED: Weight(0.02, "a whole repeat left out"),
    Mistake.REPEAT_EXTRA: Weight(0.02, "a whole repeat too many"),
    Mistake.EVERY_REPEAT: Weight(0.05, "the line misread, the same slip in each repeat"),
    Mistake.SPACING: Weight(0.10, "the gap between the changes misread, all round"),
    Mistake.DRIFT: Weight(0.10, "a spiral ended before its marker or beyond it"),
}
"""How likely each cause is when a finished round was counted and differs; those that cannot be are left out."""

HALF_WAY_PLACE = Weight(0.55, "the share of a wrong place when counting half-way: people count between two taps")
"""At a half-way count this share goes to `Mistake.PLACE`; the others keep their proportions."""

TWICE_COUNTED = Weight(0.02, "what is left of a wrong count when the same number came out twice")
NEXT_ROUND = Weight(3.0, "the number is what the round before or after leaves: how much likelier than all the rest")
ROUND_AFTER_NEXT = Weight(1.0, "the same, for the round beyond it")
WORKED_TWICE = Weight(2.0, "the number is what the line gives over what it had left: likewise")
WORKED_TWICE_LOOSELY = Weight(0.3, "the same, with what is left over worked plain or not at all")
DRIFT_BY = Weight(0.55, "each further stitch of a drift is this much rarer")

WRONG_COUNT_BY = Weight(0.25, "each further stitch of a wrong count is this much rarer than the one before")
WRONG_COUNT_TENS = Weight(0.06, "the share of wrong counts that are out by exactly ten: a ten lost or counted twice")
LONG_COUNT = Weight(36.0, "the number of stitches at which a wrong count has its full weight; shorter rounds less")

EDGE_ROW = Weight(0.60, "of skipped and doubled stitches, the share at the first and last of a row")
EDGE_JOINED = Weight(0.45, "the same, in a joined round")
EDGE_SPIRAL = Weight(0.25, "the same, in a spiral")
CARRIED_TO_THE_END = Weight(0.35, "of skipped stitches, the share noticed only when the last one has no base")
CARRIED_TO_A_CHANGE = Weight(0.03, "the same where the last is an increase: a missing base is seen there")

BETWEEN_TAPS = Weight(0.45, "of wrong places half-way: the maker is inside the repeat that comes next")
TAPPED_EARLY = Weight(0.10, "of wrong places half-way: tapped before the last stitches were made")
TAP_MISSED = Weight(0.25, "of wrong places: a repeat was worked and not tapped")
TAP_DOUBLED = Weight(0.20, "of wrong places: one tap too many")
ANY_PLACE = Weight(0.02, "of wrong places half-way: the place is wrong in some other way")
INTO_NEXT_ROUND = Weight(0.05, "of missed taps, the share that shows as stitches of the next round counted in")

EARLIER_ROUND = Weight(0.7, "the share of a mistake in the round before, for each round that was not counted")
TWO_MISTAKES = Weight(0.4, "how often a second mistake comes with the first")

STITCH_SPREAD = Weight(0.28, "spread of the time of one stitch, as a standard deviation of its logarithm")
TAP_SPREAD = Weight(0.13, "spread added by tapping early or late, likewise")
SPREAD_TRUST = Weight(10.0, "as many taps must have been seen before the maker's own spread counts as much as these")
PAUSES = Weight(0.06, "the share of taps with a pause before them")
PAUSE_LENGTH = Weight(30.0, "the middle length of a pause, seconds")
PAUSE_SPREAD = Weight(1.4, "spread of the length of pauses, as a standard deviation of the logarithm")
LONG_PAUSE = Weight(4.0, "a tap that took this many times its due is a long pause")
AFTER_PAUSE = Weight(1.5, "a mistake is this much likelier in the tap that holds a long pause or the one after it")
BARE_TAP = Weight(0.45, "the middle time of a tap with no work before it, seconds")
BARE_TAP_SPREAD = Weight(0.7, "spread of that, as a standard deviation of the logarithm")
CAUTION = Weight(0.6, "how far the rhythm is believed: ratios are raised to this power")
FEWEST_TAPS = Weight(4.0, "with fewer timed taps than this the rhythm says nothing")

EFFORT: dict[str, Weight] = {
    "sc": Weight(1.0, "time of one stitch beside a single crochet"),
    "hdc": Weight(1.2, "the same"),
    "dc": Weight(1.5, "the same"),
    "tr": Weight(1.9, "the same"),
    "dtr": Weight(2.3, "the same"),
    "sl st": Weight(0.7, "the same"),
    "ch": Weight(0.4, "the same, for one chain"),
    "sk": Weight(0.3, "finding the next base"),
    "step": Weight(1.0, "a join, a turn, a marker moved"),
    "together": Weight(0.6, "each further base of a decrease"),
}
"""How long each thing takes the hands, a single crochet being 1; a stitch that is not here counts as 1.3."""
OTHER_EFFORT = Weight(1.3, "a stitch that is not in the table")
