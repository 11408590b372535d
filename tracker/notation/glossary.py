"""The stitches: names in US and UK terms, height, what they make, how they are worked. Data only.

Names and abbreviations: Craft Yarn Council, "Standards & Guidelines" master list and US/UK table (from memory).
Heights in chains, and whether the turning chain counts: common practice, no source.
Adding a stitch is adding an entry here; see DEVELOPERS.md.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from tracker.lazy_dataclass import dataclass
from tracker.notation.spellings import spellings

OTHER_TERMS = {"US": "UK", "UK": "US"}
"""By the name of one of the two sets of names that stitches have: the other one."""


@dataclass(frozen=True, slots=True)
class Stitch:
    """One stitch. `id` is the US abbreviation that the program uses throughout.

    `turning_chain` is the chains it needs at the start of a round; `chain_counts` whether they stand for a stitch
    unless the pattern says otherwise (None: practice is divided). `us_words` are further US spellings, `uk_words` UK
    ones (`spellings`). `how` is how to work it, in US terms; `symbol_words` its symbol in a chart, in words.
    """

    id: str
    us: str
    uk: str
    us_name: str
    uk_name: str
    turning_chain: int
    chain_counts: bool | None
    how: str
    symbol_words: str
    us_words: str = ""
    uk_words: str = ""


_JOINING_IN_TRANSLATIONS = (
    "connecting post/column/loop/stitch/st/half-column|slipped/sliding/slid point/stitch/st/mesh|"
    "point/mesh slid/slipped|very low point|point very low|chain/cast/running mesh"
)
_LOW_IN_TRANSLATIONS = (
    "column/columns without a? crochet|column/columns without yarn over|low point/mesh|point/mesh low|"
    "firm/tight/fixed/fast/solid mesh"
)
_HIGH_IN_TRANSLATIONS = "high point/mesh|point/mesh high|column/columns with a? crochet|column/columns with yarn over"
"""What stitches are called word for word in pages translated from Russian, Romance and German tongues: "punto raso",
"Kettmasche", "maille coulée"; "punto bajo", "feste Masche", "maille serrée"; "punto alto" (from memory). Others are
half of one stitch here and of another there."""

STITCHES: tuple[Stitch, ...] = (
    Stitch(
        "sl st",
        "sl st",
        "ss",
        "slip stitch",
        "slip stitch",
        0,
        False,
        "insert the hook, yarn over, pull through everything on the hook",
        "filled dot",
        f"slst|ss|slip st|sl stitch|slip|sl|slipstitch|sst|slp st|{_JOINING_IN_TRANSLATIONS}",
        f"sl st|slst|slip st|sl stitch|slip|sl|slipstitch|sl sts|{_JOINING_IN_TRANSLATIONS}",
    ),
    Stitch(
        "sc",
        "sc",
        "dc",
        "single crochet",
        "double crochet",
        1,
        False,
        "insert the hook, yarn over, pull up a loop, yarn over, pull through both loops",
        "cross",
        f"single|singles|{_LOW_IN_TRANSLATIONS}",
        f"double|doubles|{_LOW_IN_TRANSLATIONS}",
    ),
    Stitch(
        "hdc",
        "hdc",
        "htr",
        "half double crochet",
        "half treble",
        2,
        None,
        "yarn over, insert the hook, yarn over, pull up a loop, yarn over, pull through all three loops",
        "T",
        "half double|half doubles|half dc|hd|h dc",
        "half tr",
    ),
    Stitch(
        "dc",
        "dc",
        "tr",
        "double crochet",
        "treble",
        3,
        True,
        "yarn over, insert the hook, yarn over, pull up a loop, yarn over, pull through two loops, twice",
        "T with one bar",
        f"double|doubles|dbl crochet|single dc|{_HIGH_IN_TRANSLATIONS}",  # "single": one that stands alone
        f"trc|tc|single tr|{_HIGH_IN_TRANSLATIONS}",
    ),
    Stitch(
        "tr",
        "tr",
        "dtr",
        "treble",
        "double treble",
        4,
        True,
        "yarn over twice, insert the hook, yarn over, pull up a loop, yarn over, pull through two loops, three times",
        "T with two bars",
        "triple|triple crochet|trc|tc|trebl|tr c",
        "",
    ),
    Stitch(
        "dtr",
        "dtr",
        "trtr",
        "double treble",
        "triple treble",
        5,
        True,
        "yarn over three times, insert the hook, yarn over, pull up a loop, yarn over, pull through two loops, "
        "four times",
        "T with three bars",
        "dtc",
        "ttr|triple tr|trip tr",
    ),
    Stitch(
        "trtr",
        "trtr",
        "qtr",
        "triple treble",
        "quadruple treble",
        6,
        True,
        "yarn over four times, insert the hook, yarn over, pull up a loop, yarn over, pull through two loops, "
        "five times",
        "T with four bars",
        "ttr",
        "quad|quad tr|quadtr",
    ),
    Stitch(
        "qtr",
        "quad tr",
        "quin tr",
        "quadruple treble",
        "quintuple treble",
        7,
        True,
        "yarn over five times, insert the hook, yarn over, pull up a loop, yarn over, pull through two loops, "
        "six times",
        "T with five bars",
        "quad|quadtr",
        "quintr",
    ),
    Stitch(
        "esc",
        "esc",
        "edc",
        "extended single crochet",
        "extended double crochet",
        2,
        False,
        "insert the hook, pull up a loop, yarn over, pull through one loop, yarn over, pull through both loops",
        "cross with a foot",
        "ext sc|extended sc|exsc",
        "ext dc|extended dc|exdc",
    ),
    Stitch(
        "ehdc",
        "ehdc",
        "ehtr",
        "extended half double crochet",
        "extended half treble",
        2,
        None,
        "yarn over, insert the hook, pull up a loop, yarn over, pull through one loop, yarn over, pull through all "
        "three loops",
        "T with a foot",
        "ext hdc|extended hdc",
        "ext htr|extended htr",
    ),
    Stitch(
        "edc",
        "edc",
        "etr",
        "extended double crochet",
        "extended treble",
        3,
        True,
        "yarn over, insert the hook, pull up a loop, yarn over, pull through one loop, yarn over, pull through two "
        "loops, twice",
        "T with one bar and a foot",
        "ext dc|extended dc|exdc",
        "ext tr|extended tr|extr",
    ),
    Stitch(
        "rsc",
        "rsc",
        "rdc",
        "reverse single crochet",
        "reverse double crochet",
        1,
        False,
        "work from left to right: insert the hook to the right, pull up a loop, yarn over, pull through both loops",
        "cross with a tilde",
        "reverse sc|rev sc|crab stitch|crab st|rev single crochet",
        "reverse dc|rev dc|crab stitch|crab st",
    ),
    Stitch(
        "wst",
        "waistcoat st",
        "waistcoat st",
        "waistcoat stitch",
        "waistcoat stitch",
        1,
        False,
        "work a single crochet into the middle of the V of the stitch below",
        "cross in a V",
        "ksc|csc|knit st/sts|center/centre sc|center/centre single crochet",
        "kdc|centre dc|center dc|centre double crochet",
    ),
    Stitch(
        "yusc",
        "yusc",
        "yudc",
        "yarn under single crochet",
        "yarn under double crochet",
        1,
        False,
        "insert the hook, lay the yarn under the hook and pull up a loop, yarn over, pull through both loops",
        "cross",
        "yu sc|yarn under sc",
        "yu dc|yarn under dc",
    ),
    Stitch(
        "spike",
        "spike st",
        "spike st",
        "spike stitch",
        "spike stitch",
        1,
        False,
        "insert the hook so many rounds below as is told, pull up a long loop, yarn over, pull through both loops; "
        "it stands for the stitch above",
        "cross on a long foot",
        "spike/long sc|spsc|lsc|drop/dropped sc/st|long single crochet",
        "spike dc|long dc|dropped dc|drop dc|drop st|dropped st|long double crochet",
    ),
    Stitch(
        "ldc",
        "ldc",
        "ltr",
        "long double crochet",
        "long treble",
        3,
        True,
        "work a double crochet into the round below that is told, its loop drawn up to this round; it stands for the "
        "stitch above",
        "T with one bar on a long foot",
        "long dc|dropped dc|drop dc|mosaic dc|mdc|overlay dc|dropped double crochet",
        "long tr|dropped tr|drop tr|mosaic tr|mtr|overlay tr|dropped treble",
    ),
    Stitch(
        "lkdc",
        "linked dc",
        "linked tr",
        "linked double crochet",
        "linked treble",
        3,
        True,
        "pull up a loop in the bar of the stitch before instead of the yarn over, then work as a double crochet",
        "T with one bar, joined to the one before",
    ),
    Stitch(
        "lktr",
        "linked tr",
        "linked dtr",
        "linked treble",
        "linked double treble",
        4,
        True,
        "pull up a loop in each bar of the stitch before instead of the yarn overs, then work as a treble",
        "T with two bars, joined to the one before",
    ),
    Stitch(
        "hhdc",
        "hhdc",
        "hhtr",
        "herringbone half double crochet",
        "herringbone half treble",
        2,
        None,
        "yarn over, insert the hook, yarn over, pull through the stitch and the first loop on the hook, yarn over, "
        "pull through both loops",
        "T, slanted",
        "herringbone hdc|hbhdc|hhdcs",
        "herringbone htr|hbhtr",
    ),
    Stitch(
        "loop st",
        "loop st",
        "loop st",
        "loop stitch",
        "loop stitch",
        1,
        False,
        "work a single crochet and hold a loop of yarn on the far side of the work",
        "cross with a loop",
        "ls|lp st|loopy st|fur st|fur stitch",
        "ls|lp st|loopy st|fur st|fur stitch",
    ),
)

BY_ID: dict[str, Stitch] = {stitch.id: stitch for stitch in STITCHES}


@cache
def stitch_words(terms: str) -> dict[str, str]:
    """Every spelling of every stitch in these terms ("US" or "UK"), to its id."""
    words: dict[str, str] = {}
    for stitch in STITCHES:
        for word in (*_short_and_name(stitch, terms), *_further_words(stitch, terms)):
            words.setdefault(word, stitch.id)
    for stitch in STITCHES:
        for word in _usual_spellings(*_short_and_name(stitch, terms)):
            words.setdefault(word, stitch.id)
    for word, stitch_id in list(words.items()):
        if _IS_ABBREVIATION.fullmatch(word):
            words.setdefault(" ".join(word), stitch_id)
    return words


_IS_ABBREVIATION = re.compile("[b-df-hj-np-tv-z]{2,3}")
"""Letters that are no word, and may be set apart from each other, "1 s c in next d c"."""


def spellings_of(stitch: Stitch, terms: str) -> tuple[str, ...]:
    """Every spelling of one stitch in these terms, those first that stand in its entry."""
    short, name = _short_and_name(stitch, terms)
    return (short, name, *_further_words(stitch, terms), *_usual_spellings(short, name))


def _further_words(stitch: Stitch, terms: str) -> tuple[str, ...]:
    return tuple(spellings(stitch.uk_words if terms == "UK" else stitch.us_words))


def _short_and_name(stitch: Stitch, terms: str) -> tuple[str, str]:
    return (stitch.uk, stitch.uk_name) if terms == "UK" else (stitch.us, stitch.us_name)


def _usual_spellings(short: str, name: str) -> Iterator[str]:
    """Several of a stitch, and its abbreviation or name with "stitch" behind it: "scs", "sc sts", "trebles"."""
    yield f"{short}s"
    if name.endswith("stitch"):
        yield f"{name}es"
        return
    yield from (f"{short} st", f"{short} sts", f"{name}s", f"{name} stitch", f"{name} stitches")
    if name.endswith("treble"):
        yield from (f"{name} crochet", f"{name} crochets")


@cache
def any_stitch() -> str:
    """An expression for every spelling of every stitch, in US and in UK terms; the longest come first."""
    words = {*stitch_words("US"), *stitch_words("UK")}
    return "|".join(re.escape(word) for word in sorted(words, key=lambda word: (-len(word), word)))


@cache
def only_in(terms: str) -> frozenset[str]:
    """The abbreviations and full names that stitches have in these terms, and none has in the other ones."""
    other = stitch_words(OTHER_TERMS[terms])
    own = {name for stitch in STITCHES for name in _names_of(stitch, terms)}
    return frozenset(name for name in own if name not in other)


def _names_of(stitch: Stitch, terms: str) -> tuple[str, ...]:
    """The abbreviation, the full name, and a name of several words without "crochet"."""
    short, name = _short_and_name(stitch, terms)
    bare = name.removesuffix(" crochet")
    return (short, name, bare) if " " in bare else (short, name)


def abbreviation(stitch_id: str, terms: str = "US") -> str:
    """How the stitch is abbreviated in these terms; named groups keep their name."""
    stitch = BY_ID.get(stitch_id)
    if stitch is None:
        return stitch_id
    return stitch.uk if terms == "UK" else stitch.us


def full_name(stitch_id: str, terms: str = "US") -> str:
    """The stitch's whole name in these terms."""
    stitch = BY_ID.get(stitch_id)
    if stitch is None:
        return "chain" if stitch_id == "ch" else stitch_id
    return stitch.uk_name if terms == "UK" else stitch.us_name
