"""What the words of the trade mean, for whoever asks: stitches and groups from their tables, everything else here.

How things are done: common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from tracker.lazy_dataclass import dataclass
from tracker.notation.bunches import BUNCHES
from tracker.notation.glossary import STITCHES, Stitch, spellings_of, stitch_words
from tracker.phrasing.terms import prose_in_terms


@dataclass(frozen=True, slots=True)
class Explanation:
    """What a word means. The first name is the one that it is told by; `how` is in US terms."""

    names: tuple[str, ...]
    how: str


def _explained(how: str, *names: str) -> Explanation:
    return Explanation(names, how)


TRADE = (
    _explained(
        "a loop of yarn that closes: the first round is worked into it, then its tail is drawn tight",
        *("magic ring", "ring", "magic circle", "magic loop", "mr", "mc", "adjustable ring"),
    ),
    _explained("work 2 stitches into the same place", "increase", "increases", "inc"),
    _explained(
        "work 2 stitches together: begin each, leave its last loop on the hook, and draw through all at the end",
        *("decrease", "decreases", "dec", "together", "invisible decrease", "inv dec"),
    ),
    _explained(
        "put the hook under the loop of the stitch that lies further from you, not under both",
        *("back loop only", "back loop", "back loops", "blo", "bl"),
    ),
    _explained(
        "put the hook under the loop of the stitch that lies nearer to you, not under both",
        *("front loop only", "front loop", "front loops", "flo", "fl"),
    ),
    _explained(
        "put the hook in from the back, around the upright part of the stitch below, and out at the back again",
        *("back post", "bp", "around the back post"),
    ),
    _explained(
        "put the hook in from the front, around the upright part of the stitch below, and out at the front again",
        *("front post", "fp", "around the front post", "post"),
    ),
    _explained(
        "yarn over and pull through the loop on the hook; so many of them make a row", "chain", "chains", "ch"
    ),
    _explained(
        "the hole below a chain: put the hook through it, not into the chain itself",
        *("chain space", "chain spaces", "space", "spaces", "sp", "ch-sp", "ch sp"),
    ),
    _explained(
        "the chain at the start of a round or row that brings the hook to the height of its stitches",
        *("turning chain", "starting chain", "counts as"),
    ),
    _explained("the chains that the first row or round is worked into", "foundation chain", "foundation"),
    _explained("pass over a stitch of the row below without working into it", "skip", "sk", "miss"),
    _explained("end the round or row before these stitches: nothing is worked into them", "unworked", "leave"),
    _explained("close the round with a slip stitch into its first stitch", "join"),
    _explained("a yarn is fastened on with a slip stitch, or with a knot on the hook", "join yarn", "fresh yarn"),
    _explained("turn the work over, so that you go back over the stitches just made", "turn", "turned"),
    _explained(
        "go on around the end and along the other side of the chain, into the loops left free there",
        "along the other side",
    ),
    _explained("cut the yarn and pull its end through the last loop", "fasten off", "fo", "finish off"),
    _explained("the end of yarn left hanging, to sew with or to weave in", "tail", "tails"),
    _explained("draw the tail to and fro through stitches with a needle, so that it stays", "weave in", "sew in"),
    _explained(
        "a pin or a bit of yarn in the first stitch of a round, so that its end can be found",
        *("marker", "move the marker", "stitch marker", "place the marker"),
    ),
    _explained("the last yarn over and pull that ends a stitch", "pull-through", "last loop", "draw through"),
    _explained("the thread that is worked, and its colour", "yarn", "colour", "color"),
    _explained("once around the work, back to where it began", "round", "rnd", "rounds"),
    _explained("once across the work, from one side to the other", "row", "rows"),
    _explained("stitches that are worked again and again in a round", "repeat", "repeats"),
    _explained(
        "loops drawn up by the hook and closed: from above each is one V along the edge",
        "stitch",
        "stitches",
        "st",
        "sts",
    ),
    _explained("pull stitches out again, back to an earlier place", "frog", "frogged", "rip", "ripped"),
    _explained("sewing the pieces together and weaving in what hangs out", "making up", "making-up"),
    _explained("the face that is to be seen when it is done", "right side", "rs"),
    _explained("the face that is hidden when it is done", "wrong side", "ws"),
    _explained("the face that was away from you until the work was turned", "other side"),
    _explained("as it looks right to you: the program only counts it as a round", "by eye"),
    _explained("how many stitches and rounds go into a length, which decides the size", "gauge", "tension"),
    _explained("the hook goes through the hole between two stitches, not into their tops", "between the stitches"),
    _explained("the hook goes once more where the last stitch went", "same stitch", "same chain space", "same place"),
    _explained("begin the round where you are: the rounds go on without being closed", "spiral"),
)

_TOGETHER = re.compile(r"(?P<stitch>[a-z ]+?)(?P<count>[2-9])tog")


def explanation_of(word: str, terms: str) -> tuple[str, str] | None:
    """The name and what it means, in "US" or "UK" terms; None for a word that is not known."""
    bare_word = re.sub(r"^(?:an?|the) ", "", " ".join(word.casefold().strip(" .,;:!?").split()))
    stitch = _stitch(bare_word, terms)
    if stitch is not None:
        return _of_stitch(stitch, terms)
    bunch = next((each for each in BUNCHES if bare_word in (each.id, *each.words, f"{each.id}s")), None)
    if bunch is not None:
        return bunch.id, prose_in_terms(bunch.how, "US", terms)
    together = _TOGETHER.fullmatch(bare_word)
    if together and together["stitch"].strip() in stitch_words(terms):
        return (
            bare_word,
            f"work {together['count']} stitches together: begin each, then draw through all",
        )
    entry = _trade().get(bare_word)
    if entry is None:
        return None
    name = _UK_NAMES.get(entry.names[0], entry.names[0]) if terms == "UK" else entry.names[0]
    return name, prose_in_terms(entry.how, "US", terms)


_UK_NAMES = {"skip": "miss", "gauge": "tension"}
"""Words of the trade besides stitches that differ (the table of terms of the published standards, from memory)."""


def _stitch(word: str, terms: str) -> Stitch | None:
    singular = word.removesuffix("es") if word.endswith("ches") else word.removesuffix("s")
    kinds = stitch_words(terms)
    kind = kinds.get(word) or kinds.get(singular)
    return next((stitch for stitch in STITCHES if stitch.id == kind), None)


def _of_stitch(stitch: Stitch, terms: str) -> tuple[str, str]:
    name, other, other_terms = stitch.us_name, stitch.uk_name, "UK"
    if terms == "UK":
        name, other, other_terms = other, name, "US"
    elsewhere = f"; in {other_terms} terms {other}" if other != name else ""
    return name, prose_in_terms(stitch.how, "US", terms) + elsewhere


@cache
def _trade() -> dict[str, Explanation]:
    return {name: each for each in TRADE for name in each.names}


def words_explained_in(text: str, terms: str) -> tuple[str, ...]:
    """The words of a text that can be explained, as they are called, each once and in the order of the text."""
    names: dict[str, None] = {}
    for match in _explainable(terms).finditer(text.casefold()):
        explanation = explanation_of(match[0], terms)
        if explanation is not None:
            names.setdefault(explanation[0])
    return tuple(names)


@cache
def _explainable(terms: str) -> re.Pattern[str]:
    names = {name for each in TRADE for name in each.names}
    names |= {word for stitch in STITCHES for word in spellings_of(stitch, terms) if len(word) > 2}
    names |= {word for bunch in BUNCHES for word in (bunch.id, *bunch.words) if len(word) > 2}
    longest_first = sorted(names, key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest_first))})(?:e?s)?\b")
