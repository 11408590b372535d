"""What can hurt: cords, small parts, loose tails, stuffing, and the maker's own hands; where each should be
said.

Only an outline: the texts name the standard that they come from, and always that local rules decide. Who a
thing is for comes from the pattern's own mark; an unmarked one is asked about, never assumed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from tracker.measure.stitch_counts import chains_of
from tracker.measure.stitch_sizes import StitchSize, Unit
from tracker.pattern.model import Pattern, Piece


class Concern(Enum):
    """What a caution is about."""

    CORDS = "cords"
    SMALL_PARTS = "small parts"
    TAILS = "tails"
    STUFFING = "stuffing"
    HANDS = "hands"


class Audience(Enum):
    """Who a thing is for. An unmarked one is `UNKNOWN`: ask."""

    UNDER_THREE = "a child under 3"
    CHILD = "a child of 3 or more"
    GROWN = "nobody small"
    UNKNOWN = "not said"


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing to mind: `text` for the maker, `source` the standard or practice behind it."""

    concern: Concern
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Cautions:
    """The cautions of a pattern where they belong: at the materials, at making-up steps (by index), while
    working.

    `ask` is a question for the maker where the pattern does not say who the thing is for, else "".
    """

    audience: Audience
    materials: tuple[Caution, ...]
    steps: tuple[tuple[int, tuple[Caution, ...]], ...]
    working: tuple[Caution, ...]
    ask: str = ""

    def at_step(self, index: int) -> tuple[Caution, ...]:
        """The cautions that a making-up step (from 0) calls for."""
        return dict(self.steps).get(index, ())


LOCAL_RULES = "local rules decide, in their present wording"
"""Said once wherever cautions are shown."""

WHO_IS_IT_FOR = "who is it for? the pattern does not say; what follows matters if a child may get it"

CORD_CM = 22.0
"""Free length of a cord on a toy for children under 36 months: EN 71-1 (220 mm, as in the edition of 2005 +
A8)."""

CORD_ROWS = 3
"""So few rows, or stitches in a row, make a cord rather than a cloth: common practice, no source."""

_EN71 = "EN 71-1, toys for children under 36 months"
_TOYS = "EN 71-1; ASTM F963 (from memory)"


def _any_of(words: str, *phrases: str) -> re.Pattern[str]:
    """Any of these words or phrases, in the singular or the plural."""
    every = "|".join(re.escape(part) for part in [*words.split(), *phrases])
    return re.compile(rf"\b({every})s?\b")


CAUTIONS: dict[Concern, Caution] = {
    Concern.CORDS: Caution(
        Concern.CORDS,
        "a cord, tie or loop can catch round a neck: keep it under 22 cm or leave it off, "
        "and none at the hood or neck of young children's clothes",
        f"{_EN71}: 220 mm; EN 14682 and ASTM F1816 for clothes (from memory)",
    ),
    Concern.SMALL_PARTS: Caution(
        Concern.SMALL_PARTS,
        "no loose eyes, beads or buttons for a child under 3: embroider them instead; "
        "what fits into a tube 31.7 mm wide can choke",
        "16 CFR 1501, small parts under 3 years (from memory)",
    ),
    Concern.TAILS: Caution(
        Concern.TAILS,
        "weave every tail in, there and back, and leave no end or loop that can be pulled out",
        f"{_TOYS}; common practice",
    ),
    Concern.STUFFING: Caution(
        Concern.STUFFING,
        "work so closely that no stuffing shows, sew parts on all round and firmly, and keep it out of a cot",
        f"{_TOYS}; common practice",
    ),
    Concern.HANDS: Caution(
        Concern.HANDS,
        "stop and stretch for a few minutes every 30 to 60 minutes; see a professional if pain or numbness stays",
        "general ergonomics advice; common practice",
    ),
}

_SIGNS: dict[Concern, re.Pattern[str]] = {
    Concern.CORDS: _any_of(
        "cord drawstring strap tie ribbon lace lanyard leash string tassel fringe handle garland mobile",
        "hanging loop",
        "wrist loop",
        "neck loop",
    ),
    Concern.SMALL_PARTS: _any_of(
        "eye bead button sequin bell snap pompom pom-pom magnet pebble rattle gem squeaker gravel washer",
        "small part",
        "press stud",
    ),
    Concern.TAILS: _any_of("tail end", "weave in", "darn in"),
    Concern.STUFFING: _any_of("stuff stuffed stuffing fill filling fibrefill fiberfill wadding pellet"),
}

_HARMLESS = _any_of(
    "",
    "embroidered eye",
    "embroider eye",
    "embroider the eye",
    "bead stitch",
    "both end",
    "end of rnd",
    "end of round",
    "end of row",
    "needle eye",
    "eye of the needle",
)
"""Phrases that hold a sign and mean nothing of the sort."""


def cautions_for(pattern: Pattern, stitch: StitchSize | None = None) -> Cautions:
    """Which cautions a pattern calls for, and where. With a `stitch` size, cords that are too long are
    named."""
    audience = audience_of(pattern.intended_for)
    hands = (CAUTIONS[Concern.HANDS],)
    if audience is Audience.GROWN:
        return Cautions(audience, (), (), hands)
    texts = [*pattern.notions, *(piece.name for piece in pattern.pieces)]
    found = {concern for text in texts for concern in concerns_in(text)}
    steps = tuple((index, _cautions(concerns_in(part.step))) for index, part in enumerate(pattern.making_up))
    for _, cautions in steps:
        found |= {caution.concern for caution in cautions}
    long_cords = _long_cords(pattern.pieces, stitch)
    if long_cords:
        found.add(Concern.CORDS)
    ask = WHO_IS_IT_FOR if audience is Audience.UNKNOWN and found else ""
    materials = (*_cautions(found), *long_cords)
    return Cautions(audience, materials, tuple(step for step in steps if step[1]), hands, ask)


def concerns_in(text: str) -> set[Concern]:
    """What the words of a notion, a piece's name or a making-up step give cause to mind."""
    words = _HARMLESS.sub(" ", text.lower())
    return {concern for concern, signs in _SIGNS.items() if signs.search(words)}


def _cautions(concerns: set[Concern]) -> tuple[Caution, ...]:
    return tuple(CAUTIONS[concern] for concern in Concern if concern in concerns)


def _long_cords(pieces: Sequence[Piece], stitch: StitchSize | None) -> tuple[Caution, ...]:
    """Pieces that are a cord by name or by make, and come out longer than `CORD_CM`."""
    if stitch is None or stitch.unit is not Unit.CM:
        return ()
    source = CAUTIONS[Concern.CORDS].source
    lengths = ((piece, _cord_length(piece, stitch)) for piece in pieces)
    return tuple(
        Caution(Concern.CORDS, f"{piece.name}: about {length:.0f} cm long, more than {CORD_CM:g} cm", source)
        for piece, length in lengths
        if length > CORD_CM
    )


def _cord_length(piece: Piece, stitch: StitchSize) -> float:
    """Length in cm of a piece of chain, or of rows so few that it hangs like one; 0 for anything else."""
    plans = [round_.plan for round_ in piece.rounds if round_.plan]
    chain = max((chains_of(act) for plan in plans for act in plan.acts()), default=0)
    widest = max((round_.leaves or 0 for round_ in piece.rounds), default=0)
    if len(piece.rounds) > CORD_ROWS and widest <= CORD_ROWS:
        return stitch.width.middle * stitch.rise * len(piece.rounds)
    is_cord = Concern.CORDS in concerns_in(piece.name) or (len(piece.rounds) <= CORD_ROWS and chain > 0)
    return stitch.width.middle * max(chain, widest) if is_cord else 0.0


_SMALL = _any_of("baby babies infant newborn toddler under")
_CHILD = _any_of("child children kid girl boy month year")
_GROWN = _any_of("adult grown-up grownup teen teenager")


def audience_of(intended_for: str) -> Audience:
    """Read what a pattern says of who it is for: "child under 3", "baby", "from 4 years", "adult"."""
    words = intended_for.lower()
    if _SMALL.search(words):
        return Audience.UNDER_THREE
    ages = [float(number) / (12 if "month" in words else 1) for number in re.findall(r"\d+", words)]
    if ages:
        return _by_age(min(ages))
    if _CHILD.search(words):
        return Audience.CHILD
    return Audience.GROWN if _GROWN.search(words) else Audience.UNKNOWN


def _by_age(years: float) -> Audience:
    if years < 3:
        return Audience.UNDER_THREE
    return Audience.CHILD if years < 14 else Audience.GROWN
