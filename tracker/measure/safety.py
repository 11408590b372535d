"""What can hurt: cords, small parts, loose tails, stuffing, and the maker's own hands; where each should be
said.

Only an outline: the texts name the standard that they come from, and always that local rules decide. Who a
thing is for comes from the pattern's own mark; an unmarked one is asked about, never assumed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import Enum
from functools import cache

from tracker.lazy_dataclass import dataclass
from tracker.measure.stitch_counts import chains_of
from tracker.measure.stitch_sizes import StitchSize, Unit, stitch_size
from tracker.pattern.model import Pattern, Piece


class Concern(Enum):
    """What a caution is about, the most harmful first."""

    MAGNETS = "magnets"
    BATTERIES = "batteries"
    SMALL_PARTS = "small parts"
    CORDS = "cords"
    SOOTHERS = "soothers"
    SHARP = "wire and pins"
    WEIGHTS = "loose filling"
    STUFFING = "stuffing"
    THREADS = "loose threads"
    HOLES = "holes"
    TAILS = "tails"
    HEAT = "heat"
    PINCUSHION = "pins that sink"
    HANDS = "hands"


OF_ITS_USE = frozenset(
    {Concern.MAGNETS, Concern.BATTERIES, Concern.SHARP, Concern.WEIGHTS, Concern.HEAT, Concern.PINCUSHION}
)
"""What matters whoever gets the thing: it hurts by its use, or lies in a home where a child may find it."""


class Recipient(Enum):
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

    audience: Recipient
    materials: tuple[Caution, ...]
    steps: tuple[tuple[int, tuple[Caution, ...]], ...]
    working: tuple[Caution, ...]
    ask: str = ""

    def at_step(self, index: int) -> tuple[Caution, ...]:
        """The cautions that a making-up step (from 0) calls for."""
        return dict(self.steps).get(index, ())

    def of_notion(self, notion: str) -> tuple[Caution, ...]:
        """Those among the materials' that this thing gives cause to."""
        concerns = concerns_in(notion)
        return tuple(caution for caution in self.materials if caution.concern in concerns)


LOCAL_RULES = "local rules decide, in their present wording"
"""Said once wherever cautions are shown."""

WHO_IS_IT_FOR = "who is it for? the pattern does not say; what follows matters if a child may get it"
SOFT_WITH_A_FACE = "who is it for? it is soft and has a face, so a small child may get it, whatever the pattern says"

CORD_CM = 22.0
"""Free length of a cord on a toy for children under 36 months: EN 71-1 (220 mm, as in the edition of 2005 +
A8)."""

CORD_ROWS = 3
"""So few rows, or stitches in a row, make a cord rather than a cloth: common practice, no source."""

_EN71 = "EN 71-1, toys for children under 36 months"
_SMALL_PARTS = "16 CFR 1501.4, small parts under 3 years"
_PRACTICE = "common practice, no source"


def _caution(concern: Concern, text: str, source: str) -> tuple[Concern, Caution]:
    return concern, Caution(concern, text, source)


CAUTIONS: dict[Concern, Caution] = dict(
    (
        _caution(
            Concern.MAGNETS,
            "two swallowed magnets pinch the gut: none in anything that a child under 14 may get",
            "ASTM F963 and EN 71-1 on magnets (from memory)",
        ),
        _caution(
            Concern.BATTERIES,
            "a swallowed button battery burns within two hours: only behind a lid that is screwed shut",
            "consumer safety advice; EN 62115 (from memory)",
        ),
        _caution(
            Concern.SMALL_PARTS,
            "no eyes, beads, buttons or bells for a child under 3, embroider instead: "
            "what fits a tube 31.7 mm wide chokes",
            _SMALL_PARTS,
        ),
        _caution(
            Concern.CORDS,
            "a cord, tie or loop can catch round a neck: keep it under 22 cm or leave it off, "
            "and none at the hood or neck of young children's clothes",
            f"{_EN71}: 220 mm; EN 14682 and ASTM F1816 for clothes",
        ),
        _caution(
            Concern.SOOTHERS,
            "a soother holder is at most 22 cm from clip to end, comes off in bed, and needs a clip made for it",
            "EN 12586: 220 mm",
        ),
        _caution(
            Concern.SHARP,
            "wire, pipe cleaners and pins work their way out: bend ends in, count pins in and out, "
            "none for a child under 3",
            _PRACTICE,
        ),
        _caution(
            Concern.WEIGHTS,
            "sew loose filling into a pouch of close cloth of its own; rice and beans draw pests and do not wash",
            _PRACTICE,
        ),
        _caution(
            Concern.STUFFING,
            "work so closely that no stuffing shows, sew parts on all round and firmly, and keep it out of a cot",
            f"{_EN71}; advice on safe sleep for cots",
        ),
        _caution(
            Concern.THREADS,
            "knot each strand in and tug it: loose hair, fringe and glitter end in a small child's mouth",
            _PRACTICE,
        ),
        _caution(
            Concern.HOLES,
            "lacy holes and long loose threads catch a baby's fingers and toes: work closely, with none inside",
            "advice of neonatal wards",
        ),
        _caution(
            Concern.TAILS,
            "weave every tail in, there and back, and leave no end or loop that can be pulled out",
            _PRACTICE,
        ),
        _caution(
            Concern.HEAT,
            "acrylic and other plastics melt and stick on something hot: cotton or wool, two layers thick",
            "softening of acrylic fibre from about 200 C, a handbook figure",
        ),
        _caution(
            Concern.PINCUSHION,
            "fine needles sink in and come out elsewhere: a firm filling, a stiff base, and out of children's reach",
            _PRACTICE,
        ),
        _caution(
            Concern.HANDS,
            "stop and stretch for a few minutes every 30 to 60 minutes; see a doctor if pain or numbness stays",
            "general advice on repeated work; common practice",
        ),
    )
)


def _any_of(words: str, *phrases: str) -> str:
    """An expression for any of these words or phrases, in the singular or the plural."""
    every = "|".join(re.escape(part).replace(r"\ ", r"[ -]?") for part in [*words.split(), *phrases])
    return rf"(?:{every})(?:e?s)?"


_SIGNS: dict[Concern, str] = {
    Concern.MAGNETS: _any_of("magnet magnetic neodymium"),
    Concern.BATTERIES: _any_of(
        "battery batterie led",
        "coin cell",
        "button cell",
        "fairy light",
        "light string",
        "string of lights",
        "tea light",
    ),
    Concern.SMALL_PARTS: _any_of(
        "eye nose bead button sequin bell snap gem rhinestone brad stud squeaker rattle pebble washer coin glitter "
        "charm shank zip zipper penny pennie peg",
        *(
            "pom pom",
            "small part",
            "press stud",
            "key ring",
            "wooden ring",
            "metal ring",
            "plastic ring",
            "teething ring",
            "key chain",
            "split ring",
            "jump ring",
        ),
    ),
    Concern.CORDS: _any_of(
        "cord drawstring strap ribbon lanyard leash tie string tassel fringe garland bunting elastic shoelace laces",
        *(
            "handle",
            "mobile",
            "hanging loop",
            "wrist loop",
            "neck loop",
            "loop for hanging",
            "loop to hang",
            "hanger",
        ),
        *("hang it", "hang them", "lace it up"),
    ),
    Concern.SOOTHERS: _any_of("pacifier soother", "dummy clip", "dummy holder", "dummy chain"),
    Concern.SHARP: _any_of(
        "wire", "pipe cleaner", "chenille stem", "safety pin", "brooch pin", "bar pin", "brooch back", "pin back"
    ),
    Concern.WEIGHTS: _any_of(
        "rice bean pea lentil sand gravel stone pebble pellet shot coin penny pennie weight washer marble",
        *("cherry stone", "weigh it down", "weighed down", "weigh the"),
    ),
    Concern.STUFFING: _any_of(
        "stuff stuffed stuffing fibrefill fiberfill wadding filling fill filled padded padding pellet",
        "to pad",
        "pad the",
    ),
    Concern.THREADS: _any_of("fringe hair mane glitter beard"),
    Concern.HOLES: _any_of("lacy lace openwork mesh eyelet filet"),
    Concern.TAILS: _any_of("", "yarn tail", "yarn end", "loose end", "tail end", "starting tail", "long tail"),
    Concern.HEAT: _any_of(
        "coaster trivet kettle teapot candle casserole",
        *(
            "pot holder",
            "hot pad",
            "oven glove",
            "oven mitt",
            "tea cosy",
            "tea cozy",
            "mug rug",
            "hot pan",
            "hot dish",
        ),
        *("hot water bottle", "heat pack"),
    ),
    Concern.PINCUSHION: _any_of("", "pin cushion", "needle cushion", "needle book", "needle keeper"),
}

_YARN_TAIL = (
    r"(?:weave|darn|work|sew|tuck|thread) in\b[^.;,]*\b(?:ends?|tails?|strands?)"
    r"|(?:weave|darn|work|sew|tuck|thread) (?:(?:all|the|both|every|each|any|its|loose|yarn) )*(?:ends?|tails?) in\b"
    r"|(?:leav\w+|cut\w*) [^.;,]*\btails?"
    r"|(?:with|using|pull|draw) (?:the|its|this|that|each|a) (?:\w+ )?(?:tail|end)\b"
    r"|tail (?:to|for) sew\w*|weave in\b|darn in\b"
)
"""A tail of yarn is known by what is done with it, since animals have tails and work has ends."""

_IS_NONE_OF_IT = (
    # A stitch, a shade or a thing that is only called after it: "bead stitch", "stone grey", "coin purse".
    r"\b{sign}[ -](?:stitch(?:es)?|colou?r(?:ed)?|gr[ae]y|beige|pink|white|shaped?|pattern|weight|category)\b",
    r"\b{sign}[ -](?:yarns?|cotton|sleeves?|purse|band|phone|edging|trim)\b",
    # What is not to be there: "no buttons", "without any wire", "instead of eyes", "do not stuff".
    r"\b(?:no|without|instead of|rather than|never|not|don't|skip the|leave out the)(?: \w+){{0,2}} {sign}\b",
    # Features of yarn are no parts, up to the end of the clause.
    r"\b(?:embroider\w*|crochet(?:ed)?|felt|knitted|satin stitch|french knots?|bobble|straight stitch(?:es)?)\b"
    r"(?: \w+){{0,5}} {sign}\b",
    # Words that are verbs here: "tie off", "handle with care", "string the beads"; and the maker's own tools.
    r"\bties? (?:off|a knot|it|in|on|them|together|both|the (?:\w+ )?(?:ends?|tails?|yarn|strands?))\b",
    r"\b(?:handles? (?:with|gently|carefully|(?:the|this|it|them|your)\b[^.;]*)|hook handles?)\b",
    r"\bhandles? of (?:the|your) hook\b",
    r"\bstrings? (?:the|each|all|on)\b|\bsnap (?:shut|off)\b|\bfill (?:in|out|up the row)\b",
    r"\bneedle(?:'s)? eyes?\b|\beyes? of (?:the|a|your) (?:\w+ )?needle\b",
    r"\bbelly[ -]?buttons?\b|\bhair[ -]?(?:bands?|clips?|ties?)\b",
    # A place on the body of the thing: "at the nose", "to the end of the nose", "between the eyes".
    r"\b(?:at|to|from|of|near|below|above|between|behind|under|over|beside) (?:the|its|both|each) "
    r"(?:nose|eyes?|hair|mane|beard)\b",
    # A figure of yarn: "worsted weight", "weight 4", "the same weight".
    r"\b(?:yarn|worsted|dk|aran|sport|fingering|lace|chunky|same|light|medium|heavy|total|ball)[ -]?weights?\b",
    r"\bweights? (?:\d|of yarn)",
)
"""Ways in which a sign means nothing of the sort; `{sign}` stands for the words of the concern at hand."""


def cautions_for(pattern: Pattern) -> Cautions:
    """Which cautions a pattern calls for, and where; cords that come out too long at its gauge are named.

    Use decides before the label: something soft with a face ends up in a cot whatever the pattern says, unless the
    maker says otherwise (source: guidance on what is a toy, the EU's Guidance Document 20, from memory).
    """
    labelled = audience_of(pattern.intended_for)
    is_soft_toy = (
        has_face(pattern) and not pattern.intended_by_maker and labelled in (Recipient.CHILD, Recipient.GROWN)
    )
    audience = Recipient.UNDER_THREE if is_soft_toy else labelled
    minded = _minded_for(audience)
    steps = [(index, concerns_in(part.step) & minded) for index, part in enumerate(pattern.making_up)]
    texts = [pattern.title, *pattern.notions, *(piece.name for piece in pattern.pieces)]
    concerns = {concern for text in texts for concern in concerns_in(text)}.union(
        *(at_step for _, at_step in steps)
    ) & minded
    long_cords = _long_cords(pattern.pieces, stitch_size(pattern)) if Concern.CORDS in minded else ()
    if long_cords:
        concerns.add(Concern.CORDS)
    is_open = audience is Recipient.UNKNOWN and bool(concerns - OF_ITS_USE)
    ask = SOFT_WITH_A_FACE if is_soft_toy else WHO_IS_IT_FOR if is_open else ""
    at_steps = tuple((index, _cautions(at_step)) for index, at_step in steps if at_step)
    return Cautions(audience, (*_cautions(concerns), *long_cords), at_steps, (CAUTIONS[Concern.HANDS],), ask)


def _minded_for(audience: Recipient) -> frozenset[Concern]:
    """What matters for whom. Holes catch the fingers of babies only; soother holders are for nobody else."""
    if audience is Recipient.GROWN:
        return OF_ITS_USE
    babies_only = {Concern.HOLES, Concern.THREADS}
    return frozenset(Concern) - (babies_only if audience is Recipient.CHILD else set())


def has_face(pattern: Pattern) -> bool:
    """Whether it is soft and has a face, and so is taken for a toy by every small child."""
    texts = [*pattern.notions, *(step.step for step in pattern.making_up), *(piece.name for piece in pattern.pieces)]
    notes = [note for piece in pattern.pieces for note in piece.notes]
    words = " ".join([*texts, *notes]).lower()
    return _FACE.search(words) is not None and any(Concern.STUFFING in concerns_in(text) for text in [*texts, *notes])


_FACE = re.compile(
    rf"\b{_any_of('eye face nose muzzle snout beak mouth whisker ear')}\b(?! of (?:the|a|your) needle)"
)
"""Parts of a face, whether of yarn or not."""


def concerns_in(text: str) -> set[Concern]:
    """What the words of a notion, a piece's name or a making-up step give cause to mind."""
    words = " ".join(text.lower().split())
    return {concern for concern in Concern if concern in _SIGNS and _has_sign(words, concern)}


def _has_sign(words: str, concern: Concern) -> bool:
    # To compile what is harmless takes longer than all else, and most texts have no sign at all. What is done with a
    # tail may stand around something harmless.
    if concern is not Concern.TAILS and _sign(concern).search(words) is None:
        return False
    other_words = _harmless(concern).sub(" ", words)
    return _sign(concern).search(other_words) is not None


@cache
def _sign(concern: Concern) -> re.Pattern[str]:
    more = f"|{_YARN_TAIL}" if concern is Concern.TAILS else ""
    return re.compile(rf"\b(?:{_SIGNS[concern]}{more})\b")


@cache
def _harmless(concern: Concern) -> re.Pattern[str]:
    # A stitch that is called after holes has them.
    ways = _IS_NONE_OF_IT[1:] if concern is Concern.HOLES else _IS_NONE_OF_IT
    return re.compile("|".join(way.format(sign=_SIGNS[concern]) for way in ways))


def _cautions(concerns: set[Concern]) -> tuple[Caution, ...]:
    return tuple(CAUTIONS[concern] for concern in Concern if concern in concerns)


def _long_cords(pieces: Sequence[Piece], stitch: StitchSize) -> tuple[Caution, ...]:
    """Pieces that are a cord by name or by make, and come out longer than `CORD_CM`."""
    if stitch.unit is not Unit.CM:
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


_NOT_UNDER = re.compile(
    r"\b(?:not|un)[ -]?suitable for[^,.;]*|\b(?:not|never|no) (?:\w+ )?(?:for )?[^,.;]*\bunder \d+[^,.;]*"
)
"""A label that keeps small children off says that it is for older ones."""
_SMALL = re.compile(rf"\b{_any_of('baby babie infant newborn toddler under')}\b")
_CHILD = re.compile(rf"\b{_any_of('child children kid girl boy month year')}\b")
_GROWN = re.compile(rf"\b{_any_of('adult grown-up grownup teen teenager')}\b")


def audience_of(intended_for: str) -> Recipient:
    """Read what a pattern says of who it is for: "child under 3", "baby", "from 4 years", "adult"."""
    words = intended_for.lower()
    other_words = _NOT_UNDER.sub(" ", words)
    if other_words != words:
        return Recipient.GROWN if _GROWN.search(other_words) else Recipient.CHILD
    if _SMALL.search(words):
        return Recipient.UNDER_THREE
    ages = [float(number) / (12 if "month" in words else 1) for number in re.findall(r"\d+", words)]
    if ages:
        return _by_age(min(ages))
    if _CHILD.search(words):
        return Recipient.CHILD
    return Recipient.GROWN if _GROWN.search(words) else Recipient.UNKNOWN


def _by_age(years: float) -> Recipient:
    """By the ages of the standards: small parts matter under 3, toys are for play under 14."""
    if years < 3:  # 16 CFR 1501.4 and EN 71-1: children under 36 months
        return Recipient.UNDER_THREE
    return Recipient.CHILD if years < 14 else Recipient.GROWN  # a toy is for play under 14 (Directive 2009/48/EC)
