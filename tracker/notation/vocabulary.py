"""The words of written rounds, as data: each spelling and what sort of word it is.

A phrase is written with single spaces, several as one (`spellings`). The scanner matches the longest phrase, and
reads "back-loop", "sl. st." and "back loop" alike. Stitch names come from the glossary and depend on the terms; all
else is here.
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
from tracker.notation.spellings import spellings
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

_CHANGING = (
    "inc/increase/increases/increasing/adding/additions/dec/decrease/decreases/decreasing/reducing/subtracting/"
    "widening/narrowing/increasings/narrowings"
)
"""What an even round has none of."""

_PLAIN: dict[T, str] = {
    T.INC: (
        "inc|incs|increase|increases|increased|increasing|increasings|incr|inc/increase st|increase stitch|"
        "augment|augments|augmentation|augmentations|addition|additions|widen|widening|widenings|"
        "inv/invisible inc/increase/increases|inv incs|invinc"
    ),
    T.TOG: "tog|together|worked/crocheted/knitted/closed/folded down? together|together off mesh",
    T.CHAIN: (
        "ch|chs|chain|chains|chn|air loop/loops/mesh/point|mesh in the air|little chain|ch/chain st/sts|"
        "chain stitch/stitches"
    ),
    T.SKIP: "sk|skip|skips|skipping|miss|missing|jump|jumping|sp over|skp|omit st",
    T.NOUN: (
        "them|those|these|stem|stems|st|sts|stitch|stitches|st's|stich|stiches|stitchs|stitces|bump|bumps|strand|"
        "strands|base st|base sts|foundation st|post|posts"
    ),
    T.SPACE: "sp|sps|space|spaces|lp sp|gap|gaps|loop|loops|lp|lps|arch|arches|hole|holes",
    T.RING: (
        "amr|adjustable/adj ring|adjustable magic ring|adjustable loop|amigurumi ring|ring of amigurumi|"
        "into/in/inside it|inside of it|magic ring/circle/loop/rings/r|magicring|magiccircle|magicloop|mr|mc ring|"
        "mring|ring|rg|circle|mgc|mcr|center/centre ring|center/centre of ring|center of circle|sliding loop|"
        "make? a loop|loop ring|slip ring|slip knot ring/loop|slipknot ring"
    ),
    T.CENTRE: "center|centre|middle|central",
    T.CORNER: "corner|corners",
    T.IN: (
        "in to|on to|in|в|into|for|inside|inside of|in the inside of|in the interior of|within|inserting in|on|onto|"
        "through|thru|across the|at|during|under|underneath|upon"
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
    T.SAME: "same|the same|same thing|the same thing|that same|this same|this|that|likewise|ditto|idem|too",
    T.LAST: "last|final|lst",
    T.REMAINING: "remaining|rem|remainder of|rest of|remaining of|remainder|rest|the rest|remain",
    T.AROUND: (
        "everywhere|along|throughout|around|across|back/right around|around all|the way around|until finished|"
        "all the way to the? marker|to/until the? marker|all around/across/round|all the way around/across/round|"
        "all of the way around|"
        "to/til/till/until the? end|to/til/till/until the? end of the? rnd/round/row/rd|end of the? round|end of row|"
        "all the way to the end|to eor|eor|to the? beginning|to the last st|until you reach the end|"
        "until you get to the end|on/over the? whole round|the whole way round/around|"
        "round and round|around/round the|all round the|evenly around/across|in a round|across the? whole? row|"
        "in a circle|around the entire? rnd/round/row/circle/ring/piece/edge|around rnd|around entire round/circle|"
        "around the whole piece|whole/entire rnd/round/row/rd/turn/lap/tour|"
        "all the rnd/round/row/turn/lap/tour|rnd/round/row/rd out"
    ),
    T.END: "end|ends|ending|end of",
    T.TO: "to|til|till|up to|over to",
    T.UNTIL: "until|until you have|until you've made|unitl|untill|til there are|till there are",
    T.LEFT: "left|remains|unworked|are left|is left|remaining unworked",
    T.REPEAT: (
        "rep|repeat|repeats|repeated|repeating|reps|repet|rept|rpt|do this/that/so|do this sequence|repeat this|"
        "repeat that|do it|repeat form|rep form"
    ),
    T.FROM: "from|out of",
    T.TIMES: "times this|times that|times over|times|time|x|xs|total times",
    T.MORE: "more|additional|further|extra",
    T.ONGOING: (
        "alternately|alternating|continue|continuing|cont|carry on|and continue|and so on|so on|and on|etc|thus|"
        "keep repeating|keep going|go/going/keep/carry on like this/that|keep going like this|this way|like this|"
        "same way|and so|and? like that|that way|in that way|go? all around/round like that/this|"
        "continue? in pattern|continue this? pattern|continue? in this/same way|continue this way|"
        "in the same way/fashion|continue? in this/same manner|in this fashion|in like manner|in same pattern|"
        "in patt|continue like this|continue? as established|continue around|continue thus all?"
    ),
    T.EVENLY: (
        "evenly|evenly spaced around?|spaced evenly|per row end?|for each/every row end?|in each/every row end|"
        "in the? end of each row|in the side of each row|in each row side"
    ),
    T.BETWEEN: "between|bet|btw|in between|btwn",
    T.AND: "and|plus|also|as well as",
    T.THEN: "then|followed by|next work|and then|afterwards|after that|finally|lastly|else|otherwise",
    T.WORK: (
        "work|works|working|worked|make|makes|making|do|place|placing|putting|crochet|put|start|begin|commence|just|"
        "work/working off|take|go/going up with?|raise|climb|with herein|work/stitch/st in|you will work|you/we work|"
        "starting/beginning/start/begin with|"
        "beginning/starting in/at|begin in|starting from?|beginning from|taking up?|catching|picking|crocheting|"
        "crochets|knit|knits|knitting|begin/start to work/crochet/knit|we knit/tie/dial/crochet|dial|cast on|recruit|"
        "going"
    ),
    T.BEGINNING: "beg|beginning|initial|turning|standing|tch|t",
    T.HOOK: "from hk|from hook|from the hook|from your hook|from needle|from the needle",
    T.TOP: "top of|the top of|top|tip of|the tip of",
    T.BASE: "base of|bottom of|foot of|the base of|base",
    T.MARKER: "marker|markers|m|sm|marked|stitch marker|st marker|stitch markers",
    T.JOIN: (
        "jn|join|joins|unite|uniting|joined|rejoin|joining|join together|connect|close|closing|"
        "close/join the? rnd/round|"
        "close ring|finish off rnd|to close off|to finish/fasten|to finish/complete the? rnd/round|"
        "sl/slip st/stitch closed|ss closed|sl/slip st/stitch to close|form/forming a? ring|to? form a ring|"
        "join to form a ring|to form a circle/loop/ring/tube|to make a ring/tube|to form circle/ring/tube|"
        "to form the ring|into a ring/tube"
    ),
    T.TURN: "turn|turn/turning work|turn the/your work|turn the? piece|turn over",
    T.COUNTS: (
        "replaces|replacing|takes the place of|to? represent|represents|to? stand as/for|stands/standing as/for|"
        "in place of|counts|count|counted|counting|counts as|count off|counting off|it is? worth|worth|"
        "count as|counted as|counting as|to count as|considered|equals|is always? the first|always is the first"
    ),
    T.NOT: "not|doesn't|does not|do not|don't|won't|will not|never|isn't|doesnt|dont|doesn t|don t",
    T.SIDE: (
        "back along|back along the ch/chain|back along the other side|upside down|other half of the chain|underside|"
        "the? other/opposite/second/bottom/unused side|other party|the back side|bottom edge|the bottom|"
        "the? bottom/unused/free/remaining loops|bottom loop|free lps|free loop of|remaining free loops|"
        "unused/free/remaining loops of the? foundation? ch/chain|other side of your chain|other side of work|"
        "other/opposite side of the? foundation/starting/beginning/beg? ch/chain|"
        "underside/bottom/back of the? ch/chain|back side of chain"
    ),
    T.BEHIND: "behind|in front of|in back of",
    T.AGAIN: "again",
    T.AS: "as|like|same as|the same as|just like|exactly as|as for|as in|as per|see",
    T.EVEN: (
        "work? even/straight|work? plain|unchanged|as it/they is/are|the? same in each/every st/stitch?|"
        "no increase/increases/inc decrease/decreases/dec|"
        f"without/no any? change/changes/shaping|without/no any? {_CHANGING}"
    ),
    T.PREVIOUS: "previous|prev|below|previous/prev/last rnd/round/row|rnd/round/row below",
    T.IN_THERE: "there|in there",
    T.ROUND: "rnd|round|row|rnds|rounds|rows|rd|rds|lap|laps|tour|tours|turns|circles|stripe|stripes",
    T.WITH: "with|together with|using|use|work with|having",
    T.CHANGE: (
        "change|switch|changing|change/changing/switch colour/color to?|change/changing/switch back? to|"
        "switching/swap to|change yarn to|colour/color change|attach yarn?|reattach|drop|pick up"
    ),
    T.COLOURED: "color|colour|yarn|col|colours|colors|yarns|thread|shade|shades|hue|hues",
    T.TOTAL: (
        "after this round/rnd/row?|by the end|still|total|sum|made|altogether|all together|in total/all|"
        "total of|for a total of|that/which/this makes|that's|thats|that is|that? gives|giving you?|you get|"
        "you should get|you should? have|you will have|you'll have|have|there are|there should be|should be|to make|"
        "totaling|totalling|resulting in|stitch/st count|sts total|total sts/stitches"
    ),
    T.OMIT: "leaving|leave|omit|omitting|leave out|leaving out|except|without",
    T.FILLER: (
        "this time|thereby|at the? same time|work/working in a? spiral|in a spiral|work/working? in spirals|"
        "work/working in continuous rounds|work? in continuous rnds|in continuous rounds|nothing but/else/more|"
        "nothing changes here?|from here on?|from now on?|now|here|to begin/start|begin by|always|steadily|alone|"
        "for/in this round/rnd/row|in/on? each/every round/rnd/row|in each/every turn/lap|per turn/lap/round/rnd|"
        "of/for each round|"
        "at the? end of each/every round/rnd?|the|a|an|it|your|you|is|are|be|being|will|so|very|only|evenly placed|"
        "simply|complete|should|completed|all of? the|all of|by|up|has|which|but|yet|it's|its|us|we|i|or|please|"
        "proceed|down|drop down|way|loosely|tightly|tight|carefully|regular|normal|ordinary"
    ),
}

_LOOPS: dict[Loop, str] = {
    Loop.BACK: (
        "blo/bl of?|blos|bl only|b l o|tbl|the? back loop/loops of|back loop/loops/lp/lps only?|back lp/lps of|"
        "back loop/loops only of|back loops throughout|through the? back loop|through back loop only|"
        "through back loops|backloop only?|backloops|back half loop/loops?|back/rear wall/walls|"
        "back/rear bump/bumps/strand/strands/ridge/ridges/thread/threads|rear loop/loops only?|"
        "back strand/thread of|third loop/loops/lp/lps|third loop/loops only|"
        "third loop/loops of|third loop only of|"
        "leftover/unworked/unused/free/remaining/exposed/skipped/rem back loops/loop/lps/lp|"
        "leftover/unworked/unused/free/remaining/exposed/skipped/rem back loops only|"
        "loop/loops/strand/strands/thread/threads/lp/lps of/from behind|"
        "loop/loops/strand/strands/lp/lps of/from the? back"
    ),
    Loop.FRONT: (
        "flo/fl of?|flos|fl only|f l o|tfl|the? front loop/loops of|front loop/loops/lp/lps only?|front lp/lps of|"
        "front loop/loops only of|through the? front loop|through front loops|frontloop only?|frontloops|"
        "front half loop/loops?|front wall/walls/strand/strands/thread/threads|front strand/thread of|"
        "leftover/unworked/unused/free/remaining/exposed/skipped/rem front loops/loop/lps/lp|"
        "leftover/unworked/unused/free/remaining/exposed/skipped/rem front loops only|"
        "loop/loops/strand/strands/lp/lps of/from the? front"
    ),
    Loop.BOTH: "both loops/lps/loop|under/through both loops|tbl both",
}

_DECREASES = (
    "dec|decs|decrease|decreases|decreased|decreasing|decr|dec/decrease st|decrease stitch|invdec|invd|inv d?|idec|"
    "i dec|inv/invisible dec/decrease/decreases|inv decs|diminution|diminutions|diminish|disminution|"
    "reduction|reductions|narrows|narrowed|narrowing|narrowings"
)

_STEPS: dict[Technique, str] = {
    Technique.FASTEN_OFF: (
        "fasten/finish/end/tie off|fo|cast/bind off|cut|off|cut the? yarn|cut thread|break off?|"
        "break off? yarn/thread"
    ),
    Technique.NO_TURN: "do not turn work?|don't turn work?|no turn|without turning",
    Technique.TURN_AROUND: "turn to rs|turn around|turn the? work/piece around",
    Technique.ROTATE: "rotate|rotate the? work|rotate piece",
    Technique.MARK: "pm|place a? marker|place st/stitch marker|place m",
    Technique.OTHER: (
        "slip knot|slipknot|make a? slip knot|make a slipknot|start with a slip knot|move/remove/slip marker|"
        "move/sl m|move marker up|move marker up each rnd/round|do not join/close/cut|don't join|no join|"
        "without joining|invisible join|join as you go|jayg|leave/leaving a? long tail|leaving/leave an end|"
        "leave/leaving the? thread/yarn|leaving tails|leave tail|weave in all? ends|weave ends in|"
        "do not fasten/finish/break off|"
        "don't fasten/finish off|do not cut/break yarn|don't cut yarn|carry yarn|yarn over|"
        "pull the? ring closed/tight|pull tight|pull tight to close|rnd closed|close hole|close the ring|"
        "tighten the? ring|draw ring? closed|thread/pull/draw through|with? rs/ws facing|right/wrong side facing|"
        "surface sl/slip st|surface ss|surface slip stitch/stitches"
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
    phrases = _written(near, _others_by_first().get(first, ()))
    meanings = {words: meaning for words, meaning in phrases.items() if words[0] == first}
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
    for words, sense in chain.from_iterable(phrases):
        table.setdefault(words, sense)
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
    phrases: dict[str, list[_Phrase]] = {first: [] for first in _BEFORE_A_STITCH}
    for phrase in _of_stitches(_stitches(terms)):
        if phrase[0][0] in phrases:
            phrases[phrase[0][0]].append(phrase)
    return phrases


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
    phrases: dict[str, list[_Phrase]] = {}
    for phrase in _others():
        phrases.setdefault(phrase[0][0], []).append(phrase)
    return phrases


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
        yield from ((phrase, T.LOOP, loop) for phrase in spellings(phrases))
    yield from ((phrase, T.DEC, "") for phrase in spellings(_DECREASES))
    for kind, phrases in _PLAIN.items():
        yield from ((phrase, kind, None) for phrase in spellings(phrases))
    for technique, phrases in _STEPS.items():
        yield from ((phrase, T.STEP, technique) for phrase in spellings(phrases))
    for kind, numbers in ((T.OFTEN, _OFTEN), (T.NUMBER, NUMBERS), (T.ORDINAL, ORDINALS)):
        yield from ((word, kind, number) for word, number in numbers.items())


def _of_stitch(words: tuple[str, ...], stitch: str) -> Iterator[tuple[tuple[str, ...], Meaning]]:
    """The stitch itself, its increases, decreases and post stitches: "sc", "sc inc", "scdec", "fpsc", "rscf"."""
    last, before = words[-1], words[:-1]
    yield words, (T.STITCH, stitch)
    yield ("plain", *words), (T.STITCH, stitch)
    yield ("foundation", *words), (T.CHAINLESS, stitch)
    if not before and stitch != "sl st":
        yield _led("f", words), (T.CHAINLESS, stitch)
    for kind, changes in ((T.INC, _INCREASED), (T.DEC, _DECREASED)):
        sense = kind, stitch
        for change in changes:
            changed = (*words, change)
            yield changed, sense
            yield (changed if last.isdigit() else (*before, last + change)), sense
            yield ("inv", *changed), sense
            yield ("invisible", *changed), sense
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


_INCREASED = ("inc", "incs", "increase", "increases", "increased")
_DECREASED = ("dec", "decs", "decrease", "decreases", "decreased")
_POSTS = ((Loop.FRONT_POST, "fp", "front", "f"), (Loop.BACK_POST, "bp", "back", "b"))
_LED = ("f", "r", *(short for _, short, _, _ in _POSTS))
"""What is typed in front of a stitch as one word with it."""

_BEFORE_A_STITCH = frozenset((
    "foundation", "inv", "invisible", "plain", "raised",
    *(word for _, short, side, _ in _POSTS for word in (short, side)),
))  # fmt: skip
"""The words that stand in front of any stitch."""
