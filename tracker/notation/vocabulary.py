"""The words of written rounds, as data: each spelling and what sort of word it is.

A phrase is written with single spaces; the scanner matches the longest phrase, and reads "back-loop", "sl. st."
and "back loop" alike. Stitch names come from the glossary and depend on the terms; all else is here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from itertools import chain

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Loop, Technique
from tracker.notation.bunches import BUNCHES
from tracker.notation.glossary import stitch_words
from tracker.notation.token_kinds import MADE, NUMBERS, ORDINALS, T

Meaning = tuple[T, object]
Vocabulary = dict[tuple[str, ...], Meaning]

COLOUR_WORDS = frozenset(
    (
        "black white red blue green yellow orange purple violet pink brown grey gray beige cream ivory navy "
        "teal turquoise aqua mint lime olive gold golden silver tan rust coral peach lavender lilac mauve "
        "maroon burgundy crimson charcoal mustard fuchsia magenta cyan indigo khaki salmon moss sand skin "
        "flesh sage ecru terracotta ochre petrol taupe scarlet apricot caramel denim"
    ).split()
)

_PLAIN: dict[T, str] = {
    T.INC: (
        "inc|incs|increase|increases|increasing|inc st|incr|increase st|increase stitch|"
        "inv inc|inv incs|invinc|inv increase|inv increases|invisible inc|invisible increase|invisible increases"
    ),
    T.TOG: "tog|together",
    T.CHAIN: "ch|chs|chain|chains|air loop|air loops|chain st|ch st|chain stitch|chain stitches|ch sts|chn|chain sts",
    T.SKIP: "sk|skip|skips|skipping|miss|missing|sp over|skp|omit st",
    T.NOUN: (
        "them|those|these|stem|stems|st|sts|stitch|stitches|st's|stich|stiches|stitchs|stitces|bump|bumps|strand|"
        "strands|base st|base sts|foundation st|post|posts"
    ),
    T.SPACE: "sp|sps|space|spaces|lp sp|gap|gaps|loop|loops|lp|lps|arch|arches|hole|holes",
    T.RING: (
        "amr|adjustable magic ring|amigurumi ring|into it|in it|inside it|inside of it|magic ring|magic circle|"
        "magic loop|mr|"
        "mc ring|mring|ring|rg|circle|adjustable ring|adj ring|adjustable loop|center ring|centre ring|sliding loop|"
        "mgc|ring of amigurumi|make a loop|a loop|"
        "magicring|magiccircle|magicloop|magic rings|"
        "slip ring|slip knot ring|slipknot ring|slip knot loop|"
        "center of ring|centre of ring|loop ring|mcr|center of circle|magic r"
    ),
    T.CENTRE: "center|centre|middle|central",
    T.CORNER: "corner|corners",
    T.IN: (
        "in to|on to|in|в|into|for|inside|inside of|in the inside of|in the interior of|within|inserting in|on|onto|"
        "through|thru|across the|at"
    ),
    T.OVER: "over",
    T.OF: "of",
    T.EACH: (
        "every single|each single|each one|each one of|every one of|each single one of|each and every|each|"
        "ea|every|per"
    ),
    T.ALL: "all|all the",
    T.OTHER: (
        "other|other one|others|all others|other sts|all other sts|the others|other stitches|alternate|alt|"
        "second other"
    ),
    T.NEXT: "any|the one after|the one after that|next|coming|upcoming|adjacent|nxt|nx|following|foll|the next",
    T.SAME: "same|the same|that same|this same|this|that",
    T.LAST: "last|final|lst",
    T.REMAINING: "remaining|rem|remainder of|rest of|remaining of|remainder|rest|the rest|remain",
    T.AROUND: (
        "everywhere|all the way to the marker|to the marker|to marker|until the marker|all the way to marker|"
        "until marker|around|across|all around|all across|all the way around|all the way across|all round|"
        "to end of rd|to the end of rd|to the end of the rd|"
        "on whole round|on the whole round|over the whole round|round and round|around the|evenly around|"
        "evenly across|to the end|to end|to eor|til end|till end|until end|"
        "to end of rnd|to end of round|to end of row|to the end of the round|to the end of the row|"
        "to the end of the rnd|to end of the round|to end of the row|to end of the rnd|until the end|"
        "until end of round|until end of row|until the end of the round|until the end of the row|end of the round|"
        "end of round|end of row|till the end|till end of round|til the end|to the end of round|to the end of row|"
        "to the end of rnd|around all|around rnd|around the rnd|around the round|around the circle|around the ring|"
        "around the row|round the|all round the|"
        "around the whole piece|across the row|across row|across the whole row|in a round|"
        "around the piece|around entire round|around the entire round|around the entire piece|the entire round|"
        "till the end of rnd|till the end of the rnd|till the end of the round|till the end of round|till end of rnd|"
        "till the end of the row|till the end of row|entire round|whole round|the whole round|all the way round|"
        "the way around|until you reach the end|"
        "until you get to the end|all of the way around|until the end of the rnd|until end of rnd|around the edge|"
        "along|throughout|around entire circle|to the beginning|to beginning|back around|until finished|right around|"
        "the whole way round|the whole way around|all the way to the end|to the last st|eor"
    ),
    T.END: "end|ends|ending|end of",
    T.TO: "to|til|till|up to|over to",
    T.UNTIL: "until|until you have|until you've made|unitl|untill|til there are|till there are",
    T.LEFT: "left|remains|unworked|are left|is left|remaining unworked",
    T.REPEAT: (
        "rep|repeat|repeats|repeated|repeating|reps|repet|rept|rpt|do this|do that|do this sequence|repeat this|"
        "repeat that|do it|repeat form|rep form"
    ),
    T.FROM: "from",
    T.TIMES: "times this|times that|times over|times|time|x|xs|total times",
    T.MORE: "more|additional|further|extra",
    T.ONGOING: (
        "alternately|alternating|go on like this|keep going like this|keep on like this|carry on like this|"
        "keep going|going on like this|keep repeating|continue|continuing|cont|and so on|so on|etc|carry on|and on|"
        "continue in pattern|continue this pattern|continue this way|continue like this|continue pattern|in pattern|"
        "in patt|in this manner|in this fashion|in the same fashion|in like manner|"
        "continue in this manner|in this way|continue in this way|continue as established|"
        "as established|continue around|this way|like this|in the same way|same way|in same manner|in same way|"
        "in same pattern|continue in same manner|and continue|continue thus|continue thus all|thus"
    ),
    T.EVENLY: "evenly|evenly spaced|spaced evenly|evenly spaced around|in each row end|in every row end|"
    "per row|for every row|for each row|for every row end|"
    "per row end|"
    "in the end of each row|in end of each row|in the side of each row|in each row side|for each row end",
    T.BETWEEN: "between|bet|btw|in between|btwn",
    T.AND: "and|plus|also",
    T.THEN: "then|followed by|next work|and then|afterwards|after that|finally|lastly",
    T.WORK: (
        "work|works|working|worked|make|makes|making|do|place|placing|putting|crochet|put|starting|start|begin|commence|"
        "work in|you will work|you work|we work|crocheting|starting with|beginning with|start with|begin with|"
        "beginning in|starting in|"
        "starting from|beginning at|starting at|begin in|stitch in|st in|just|take|taking up|taking|catching|picking|"
        "knit|knits|knitting|we knit|begin to work|begin to crochet|begin to knit|start to work|start to crochet|"
        "start to knit|we tie|dial|we dial|we crochet|crochets|cast on|recruit|going"
    ),
    T.BEGINNING: "beg|beginning|initial|turning|standing|tch|t",
    T.HOOK: "from hk|from hook|from the hook|from your hook|from needle|from the needle",
    T.TOP: "top of|the top of|top|tip of|the tip of",
    T.BASE: "base of|bottom of|foot of|the base of|base",
    T.MARKER: "marker|markers|m|sm|marked|stitch marker|st marker|stitch markers",
    T.JOIN: (
        "jn|join|joined|rejoin|close|closing|connect|joining|close rnd|close round|join rnd|join round|"
        "close the round|join the round|close ring|join to form a ring|to form a ring|to form ring|form a ring|"
        "form ring|forming a ring|forming ring|to make a ring|to form a circle|to form circle|to form a loop|"
        "to form the ring|to form a tube|to form tube|to make a tube|into a ring|into a tube|"
        "join together|finish off rnd|joins|sl st closed|ss closed|slip stitch closed|sl st to close|"
        "slip stitch to close|to close off|to finish|to fasten|to finish rnd|to finish the rnd|"
        "to finish round|to finish the round|to complete rnd|to complete the rnd|to complete round|"
        "to complete the round"
    ),
    T.TURN: "turn|turn work|turn the work|turn your work|turning work|turn piece|turn the piece|turn over",
    T.COUNTS: (
        "replaces|replacing|takes the place of|stands for|in place of|counts|count|counted|counting|counts as|"
        "count off|counting off|"
        "count as|counted as|counting as|to count as|considered|equals"
    ),
    T.NOT: "not|doesn't|does not|do not|don't|won't|will not|never|isn't|doesnt|dont|doesn t|don t",
    T.SIDE: (
        "back along the chain|back along the other side|back along|back along the ch|other side of the beginning ch|"
        "upside down|the bottom|the bottom loops|the unused loops|the free loops|the remaining loops|"
        "other half of the chain|other side|opposite side|the other side|the opposite side|underside|bottom loops|"
        "unused loops|free loops|other side of ch|other side of chain|other side of the ch|other side of the chain|"
        "opposite side of ch|opposite side of chain|opposite side of the chain|opposite side of the ch|"
        "other side of foundation ch|other side of foundation chain|other side of the foundation chain|"
        "opposite side of foundation ch|opposite side of foundation chain|opposite side of the foundation chain|"
        "opposite side of beg ch|underside of ch|underside of chain|underside of the chain|bottom of ch|"
        "bottom of chain|bottom of the chain|back side of chain|remaining loops|remaining free loops|the back side|"
        "remaining loops of ch|remaining loops of chain|remaining loops of foundation ch|"
        "remaining loops of the chain|remaining loops of the foundation chain|free loops of ch|free loops of chain|"
        "free loops of foundation ch|free loops of the chain|unused loops of ch|unused loops of the chain|"
        "unused loops of foundation ch|unused side|second side|back of chain|back of the chain|bottom side|"
        "bottom loop|free lps|free loop of|other side of starting chain|other side of the starting chain|"
        "opposite side of starting chain|other side of starting ch|other side of beg ch|other side of work|"
        "other side of your chain|opposite side of the starting chain|other side of beginning ch|back of ch|"
        "bottom edge"
    ),
    T.BEHIND: "behind|in front of|in back of",
    T.AGAIN: "again",
    T.AS: "as|like|same as|just like|exactly as|as for|as in|as per|see",
    T.EVEN: (
        "no increase or decrease|no increases or decreases|no inc or dec|without increase or decrease|"
        "without increasing or decreasing|no increasing or decreasing|without inc or dec|no decreases|no decrease|"
        "without changes|no changes|without change|without any change|without any increases|work even|even|straight|"
        "work straight|no increase|no increases|without increasing|without increases|without increase|"
        "without decreasing|unchanged"
    ),
    T.PREVIOUS: (
        "previous|prev|last rnd|previous rnd|previous round|below|prev rnd|previous row|rnd below|round below|"
        "row below|prev row|prev round|last round|last row"
    ),
    T.THERE: "there|in there",
    T.ROUND: "rnd|round|row|rnds|rounds|rows|rd|rds|lap|laps|tour|tours|stripe|stripes",
    T.WITH: "with|together with|using|use|work with",
    T.CHANGE: (
        "change to|switch to|changing to|change colour to|change color to|switching to|change yarn to|change colour|"
        "change color|changing color to|changing colour to|changing color|changing colour|attach|swap to|"
        "switch color to|switch colour to|change|switch|attach yarn|reattach|join new|color change|"
        "colour change|drop|pick up|change back to|switch back to|changing back to|changing"
    ),
    T.COLOURED: "color|colour|yarn|col|colours|colors|yarns|thread|shade|shades|hue|hues",
    T.TOTAL: (
        "after this|after this round|after this rnd|after this row|by the end|total|still|that makes|which makes|"
        "this makes|that's|thats|that is|that gives|gives|you get|you should get|in total|total of|altogether|in all|"
        "all together|stitch count|st count|you should have|have|there should be|you will have|you'll have|there are|"
        "for a total of|giving|giving you|to make|totaling|totalling|sts total|total sts|you have|should be|"
        "total stitches|made|sum|resulting in|inc made"
    ),
    T.OMIT: "leaving|leave|omit|omitting|leave out|leaving out|except|without",
    T.FILLER: (
        "this time|at the same time|at same time|work in a spiral|working in a spiral|"
        "work in spirals|working in spirals|"
        "work in spiral|work in continuous rounds|work in continuous rnds|working in continuous rounds|in a spiral|"
        "in spirals|in each turn|in every turn|per turn|"
        "in each lap|in every lap|per lap|nothing but|"
        "in continuous rounds|"
        "nothing else|nothing more|nothing changes here|nothing changes|from here on|from now on|from now|from here|"
        "to begin|always|to start|begin by|"
        "each round|each rnd|each row|every round|every rnd|every row|in each round|in every round|"
        "in each rnd|in each row|of each round|for each round|at the end of each|at the end of each round|"
        "at the end of each rnd|at the end of every round|per round|per rnd|at end of each round|the|a|an|now|it|"
        "your|you|is|are|be|being|will|so|very|only|evenly placed|simply|complete|should|completed|all of the|"
        "all of|by|up|has|which|but|it's|its|here|us|we|i|or|please|proceed|"
        "down|drop down|way|loosely|tightly|tight|carefully|regular|normal|ordinary"
    ),
}

_LOOPS: dict[Loop, str] = {
    Loop.BACK: (
        "blo|bl|back loop|back loops|back loop only|back loops only|back lp|back lps|back lp only|back lps only|tbl|"
        "through back loop|through the back loop|through back loops|"
        "back half loop|back half loops|back wall|back walls|rear wall|rear walls|bl only|"
        "b l o|backloop|backloops|back half|"
        "backloop only|blos|through back loop only|back loop of|back loops of|the back loop of|the back loops of|"
        "back lp of|back lps of|blo of|bl of|back loop only of|back loops only of|back bump|back bumps|"
        "back loops throughout|back strand|back strands|third loop|third loops|back ridge|back ridges|third lp|"
        "third loop only|third loop of|third loops of|third loop only of|"
        "third lps|third loops only"
    ),
    Loop.FRONT: (
        "flo|fl|front strand|front strands|front loop|front loops|front loop only|front loops only|front lp|"
        "front lps|front lp only|front lps only|tfl|"
        "through front loop|through the front loop|fl only|f l o|frontloop|frontloops|flos|"
        "through front loops|front half loop|front half loops|front wall|front walls|"
        "front half|frontloop only|front loop of|front loops of|the front loop of|"
        "the front loops of|front lp of|front lps of|flo of|fl of|front loop only of|front loops only of"
    ),
    Loop.BOTH: "both loops|both lps|both loop|under both loops|through both loops|tbl both",
}

_SIDE_BEHIND = tuple(
    (f"{word} {behind}", loop)
    for word in ("loop", "loops", "strand", "strands", "lp", "lps")
    for behind, loop in (
        *((f"{of} {side}", Loop.BACK) for of in ("of", "from") for side in ("behind", "the back", "back")),
        *((f"{of} {side}", Loop.FRONT) for of in ("of", "from") for side in ("the front", "front")),
    )
)
"""The side of the loop behind it: "the strand of behind", in translated patterns."""

_LEFT_LOOPS = tuple(
    (f"{left} {side} {word}", loop)
    for left in ("leftover", "unworked", "unused", "free", "remaining", "exposed", "skipped", "rem")
    for side, loop in (("front", Loop.FRONT), ("back", Loop.BACK))
    for word in ("loops", "loop", "lps", "lp", "loops only")
)
"""The loops that an earlier round left free to be worked into."""

_DECREASES = (
    "dec|decs|decrease|decreases|decreasing|decr|invdec|inv dec|inv decs|invisible decrease|invisible decreases|"
    "invisible dec|inv decrease|dec st|invd|inv d|idec|i dec|"
    "decrease st|decrease stitch|inv"
)

_STEPS: dict[Technique, str] = {
    Technique.FASTEN_OFF: (
        "fasten off|finish off|fo|cast off|bind off|cut yarn|cut the yarn|break yarn|break off yarn|break off|"
        "break thread|break off thread|"
        "cut thread|end off|tie off|cut|off"
    ),
    Technique.NO_TURN: "do not turn|don't turn|no turn|without turning|do not turn work|don't turn work",
    Technique.TURN_AROUND: (
        "turn to rs|turn the work around|turn work around|turn around|turn piece around|turn the piece around"
    ),
    Technique.ROTATE: "rotate|rotate work|rotate piece|rotate the work",
    Technique.MARK: "pm|place marker|place a marker|place st marker|place m|place stitch marker",
    Technique.OTHER: (
        "slip knot|slipknot|make a slip knot|make slip knot|start with a slip knot|make a slipknot|move marker up|"
        "move marker|do not join|don't join|no join|without joining|leave a long tail|leaving a long tail|"
        "leaving an end|leave an end|"
        "leaving tails|weave in ends|weave in all ends|weave ends in|leave long tail|leaving long tail|leave tail|"
        "do not fasten off|don't fasten off|do not cut yarn|don't cut yarn|do not cut|invisible join|"
        "pull ring closed|pull tight|pull the ring tight|pull ring tight|pull tight to close|do not close|"
        "rnd closed|do not break yarn|do not break off|carry yarn|remove marker|move m|sl m|slip marker|"
        "with rs facing|with ws facing|rs facing|ws facing|right side facing|wrong side facing|thread through|"
        "pull through|draw through|do not finish off|don't finish off|close hole|draw ring closed|draw closed|"
        "close the ring|tighten ring|surface sl st|surface slip st|surface slip stitch|surface ss|"
        "surface slip stitches|join as you go|jayg|tighten the ring|pull the ring closed|yarn over|"
        "move marker up each rnd|move marker up each round"
    ),
}
"""What is done between stitches, as the pattern calls it, and what that is."""

_OFTEN = {"once": 1, "twice": 2, "thrice": 3}


@dataclass(frozen=True, slots=True)
class Phrases:
    """What begins with a word: each phrase with its meaning, how many words the longest of them has, and which word
    is the second of any."""

    meanings: Vocabulary
    longest: int
    seconds: frozenset[str]


@cache
def vocabulary(terms: str) -> Vocabulary:
    """Every phrase as its words, with its sort and value, for these terms ("US" or "UK"); the first sort counts.

    To write down twenty thousand of them takes a while: whoever looks up words asks for those `beginning_with` one.
    """
    return _written(_of_stitches(_stitches(terms)), _others())


@lru_cache(maxsize=4_096)
def beginning_with(first: str, terms: str) -> Phrases:
    """The phrases of the vocabulary that begin with this word."""
    near = _before_stitches(terms)[first] if first in _BEFORE_A_STITCH else _near(first, terms)
    found = _written(near, _others_by_first().get(first, ()))
    meanings = {words: meaning for words, meaning in found.items() if words[0] == first}
    seconds = frozenset(words[1] for words in meanings if len(words) > 1)
    return Phrases(meanings, max(map(len, meanings), default=0), seconds)


def meaning(words: tuple[str, ...], terms: str) -> Meaning | None:
    """The sort and the value of a phrase; None for one that is not known."""
    return beginning_with(words[0], terms).meanings.get(words) if words else None


def leading_to(second: str) -> list[str]:
    """The first words of the phrases of two words that end in this one, and that are no fillers or stitches."""
    return _firsts_by_second().get(second, [])


@cache
def _firsts_by_second() -> dict[str, list[str]]:
    firsts: dict[str, list[str]] = {}
    for words, (kind, _) in _others():
        if len(words) == 2 and kind not in MADE and kind is not T.FILLER:
            firsts.setdefault(words[1], []).append(words[0])
    return firsts


_Named = tuple[tuple[str, ...], str]
"""The words of a stitch, and its id."""

_Phrase = tuple[tuple[str, ...], Meaning]


def _written(*phrases: Iterable[_Phrase]) -> Vocabulary:
    table: Vocabulary = {}
    for words, told in chain.from_iterable(phrases):
        table.setdefault(words, told)
    return table


def _of_stitches(stitches: Iterable[_Named]) -> Iterator[_Phrase]:
    return chain.from_iterable(_of_stitch(words, stitch) for words, stitch in stitches)


@cache
def _stitches(terms: str) -> tuple[_Named, ...]:
    return tuple((phrase_words(word), stitch) for word, stitch in stitch_words(terms).items())


@cache
def _places_by_first(terms: str) -> dict[str, list[int]]:
    """By the first word of a stitch's name, which of `_stitches` those are."""
    places: dict[str, list[int]] = {}
    for place, (words, _) in enumerate(_stitches(terms)):
        places.setdefault(words[0], []).append(place)
    return places


@cache
def _before_stitches(terms: str) -> dict[str, list[_Phrase]]:
    """By a word that stands in front of any stitch, the phrases of stitches that begin with it."""
    found: dict[str, list[_Phrase]] = {first: [] for first in _BEFORE_A_STITCH}
    for told in _of_stitches(_stitches(terms)):
        if told[0][0] in found:
            found[told[0][0]].append(told)
    return found


def _near(first: str, terms: str) -> Iterator[_Phrase]:
    """The phrases of the stitches, in their order, of which one may begin with this word: it is the first word of
    their name, perhaps with letters before or behind."""
    stems = {first}
    stems.update(first.removeprefix(letters) for letters in _LED)
    stems.update(first.removesuffix(change) for change in (*_INCREASED, *_DECREASED))
    stems.update(first[1:-1] for loop in _POSTS if first.startswith("r") and first.endswith(loop[3]))
    by_first, stitches = _places_by_first(terms), _stitches(terms)
    return _of_stitches(
        stitches[place] for place in sorted(place for stem in stems for place in by_first.get(stem, ()))
    )


@cache
def _others() -> tuple[_Phrase, ...]:
    return tuple((phrase_words(phrase), (kind, value)) for phrase, kind, value in _spellings())


@cache
def _others_by_first() -> dict[str, list[_Phrase]]:
    found: dict[str, list[_Phrase]] = {}
    for told in _others():
        found.setdefault(told[0][0], []).append(told)
    return found


_WORD = re.compile(r"\d+|[^\s\d]+")


def phrase_words(phrase: str) -> tuple[str, ...]:
    """The words of a phrase as the scanner sees them: hyphens and full stops separate and vanish."""
    if phrase.replace(" ", "").isalpha():
        return tuple(phrase.split())  # as most are
    return tuple(_WORD.findall(phrase.replace("-", " ").replace(".", " ")))


def _spellings() -> Iterator[tuple[str, T, object]]:
    """All but the stitches; these are the same in all terms."""
    for bunch in BUNCHES:
        yield from ((word, T.BUNCH, bunch.id) for word in bunch.words)
    for loop, phrases in _LOOPS.items():
        yield from ((phrase, T.LOOP, loop) for phrase in phrases.split("|"))
    yield from ((phrase, T.LOOP, loop) for phrase, loop in (*_LEFT_LOOPS, *_SIDE_BEHIND))
    yield from ((phrase, T.DEC, "") for phrase in _DECREASES.split("|"))
    for kind, phrases in _PLAIN.items():
        yield from ((phrase, kind, None) for phrase in phrases.split("|"))
    for technique, phrases in _STEPS.items():
        yield from ((phrase, T.STEP, technique) for phrase in phrases.split("|"))
    for kind, numbers in ((T.OFTEN, _OFTEN), (T.NUMBER, NUMBERS), (T.ORDINAL, ORDINALS)):
        yield from ((word, kind, number) for word, number in numbers.items())


def _of_stitch(words: tuple[str, ...], stitch: str) -> Iterator[tuple[tuple[str, ...], Meaning]]:
    """The stitch itself, its increases, decreases and post stitches: "sc", "sc inc", "scdec", "fpsc", "rscf"."""
    last, before = words[-1], words[:-1]
    yield words, (T.STITCH, stitch)
    yield ("foundation", *words), (T.CHAINLESS, stitch)
    if not before and stitch != "sl st":
        yield _led("f", words), (T.CHAINLESS, stitch)
    for kind, changes in ((T.INC, _INCREASED), (T.DEC, _DECREASED)):
        told = kind, stitch
        for change in changes:
            changed = (*words, change)
            yield changed, told
            yield (changed if last.isdigit() else (*before, last + change)), told
            yield ("inv", *changed), told
            yield ("invisible", *changed), told
    for loop, short, side, letter in _POSTS:
        post = T.POSTED, (stitch, loop)
        yield _led(short, words), post
        yield (short, *words), post
        yield (side, "post", *words), post
        yield ("raised", side, *words), post
        yield ("raised", *words, side), post
        if not before:
            yield _led("r", (last + letter,)), post


def _led(letters: str, words: tuple[str, ...]) -> tuple[str, ...]:
    """The words with letters typed in front of the first of them; a number is a word of its own."""
    return (letters, *words) if words[0].isdigit() else (letters + words[0], *words[1:])


_INCREASED = ("inc", "incs", "increase", "increases")
_DECREASED = ("dec", "decs", "decrease", "decreases")
_POSTS = ((Loop.FRONT_POST, "fp", "front", "f"), (Loop.BACK_POST, "bp", "back", "b"))
_LED = ("f", "r", *(short for _, short, _, _ in _POSTS))
"""What is typed in front of a stitch as one word with it."""

_BEFORE_A_STITCH = frozenset((
    "foundation", "inv", "invisible", "raised", *(word for _, short, side, _ in _POSTS for word in (short, side)),
))  # fmt: skip
"""The words that stand in front of any stitch."""
