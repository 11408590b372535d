"""The sorts of words in written rounds, and the sets of sorts that the grammar asks for by name.

Which spelling is of which sort stands in `vocabulary`.
"""

from __future__ import annotations

from enum import Enum, auto


class T(Enum):
    """What sort of word it is."""

    # What is made.
    NUMBER = auto()
    STITCH = auto()
    POSTED = auto()
    INC = auto()
    DEC = auto()
    TOG = auto()
    BUNCH = auto()
    CHAIN = auto()
    CHAINLESS = auto()
    SKIP = auto()
    LOOP = auto()
    # Where it goes.
    IN = auto()
    OVER = auto()
    OF = auto()
    IN_THERE = auto()
    NOUN = auto()
    SPACE = auto()
    RING = auto()
    CENTRE = auto()
    CORNER = auto()
    SIDE = auto()
    TOP = auto()
    BASE = auto()
    MARKER = auto()
    HOOK = auto()
    BETWEEN = auto()
    BEHIND = auto()
    EACH = auto()
    ALL = auto()
    OTHER = auto()
    NEXT = auto()
    SAME = auto()
    LAST = auto()
    ORDINAL = auto()
    BEGINNING = auto()
    PREVIOUS = auto()
    ROUND = auto()
    # How far and how often.
    AROUND = auto()
    TO = auto()
    UNTIL = auto()
    END = auto()
    LEFT = auto()
    REMAINING = auto()
    REPEAT = auto()
    FROM = auto()
    TIMES = auto()
    OFTEN = auto()
    MORE = auto()
    AGAIN = auto()
    ONGOING = auto()
    EVENLY = auto()
    EVEN = auto()
    OMIT = auto()
    # What else is done and said.
    WORK = auto()
    JOIN = auto()
    TURN = auto()
    STEP = auto()
    WITH = auto()
    CHANGE = auto()
    COLOURED = auto()
    COUNTS = auto()
    TOTAL = auto()
    NOT = auto()
    AS = auto()
    AND = auto()
    THEN = auto()
    FILLER = auto()
    WORD = auto()
    # Signs.
    MARK = auto()
    OPEN = auto()
    CLOSE = auto()
    COMMA = auto()
    SEMI = auto()
    DOT = auto()
    COLON = auto()
    DASH = auto()
    EQUALS = auto()
    PLUS = auto()
    SLASH = auto()
    NEWLINE = auto()
    OTHER_SIGN = auto()

    __hash__ = object.__hash__  # there is one of each: what Enum computes from the name is slow in sets


PAUSES = frozenset((T.COMMA, T.SEMI, T.DOT, T.NEWLINE))
"""What parts one clause from the next."""

STOPS = PAUSES | {T.CLOSE}
"""Where a clause ends, the end of a bracket among them."""

ENDS: frozenset[T | None] = STOPS | {None}
"""Where a clause ends, the end of the line among them."""

HEADS = frozenset((T.STITCH, T.POSTED, T.INC, T.DEC, T.BUNCH))
"""What a stitch phrase is about."""

WORKED = HEADS | {T.CHAIN}
"""What comes off the hook."""

MADE = WORKED | {T.CHAINLESS, T.SKIP}
"""What a round is made up of; a word of this sort tells instructions from sentences."""

BASES = frozenset(
    (T.NOUN, T.STITCH, T.SPACE, T.CHAIN, T.CHAINLESS, T.BUNCH, T.INC, T.DEC, T.POSTED, T.CORNER, T.MARKER)
)  # fmt: skip
"""What a stitch can be worked into."""

BETWEEN_ITEMS = PAUSES | {
    T.DASH, T.PLUS, T.AND, T.THEN, T.SLASH, T.COLON, T.OTHER_SIGN, T.AGAIN, T.FILLER, T.EQUALS,
}  # fmt: skip
"""What may stand between one item of a row and the next."""

PARTS_STITCHES = frozenset((T.COMMA, T.SEMI, T.DASH, T.PLUS, T.AND, T.SLASH))
"""The signs and words that part one stitch from the next within a clause."""

LEADS = frozenset((T.IN, T.OVER, T.EACH, T.ALL, T.NEXT, T.SAME, T.REMAINING, T.BETWEEN, T.BEHIND))
"""What a place begins with."""

KIND_SETS = {
    "PAUSES": PAUSES,
    "STOPS": STOPS,
    "HEADS": HEADS,
    "WORKED": WORKED,
    "BETWEEN_ITEMS": BETWEEN_ITEMS,
    "MADE": MADE,
    "BASES": BASES,
    "LEADS": LEADS,
}
"""The sets by the names that patterns of words call them by."""

AND_IN_HEADS = ("and", "en", "et", "und", "og", "och", "y", "e", "i", "ve")
"""What stands between the numbers of two rounds, in the languages that pages are translated from."""

WORD_GROUPS = {
    "ADDING": "adding|placing|putting",
    "ADVICE_WORD": "tip|hint|note",
    "A_GROUP": "group|groups|grp|grps|gr|grs|gp|gps|pair|pairs|set|sets",
    "A_PAIR": "pair|pairs",
    "ONE_GROUP": "group|grp|gr|gp|pair|set",
    "A_HOOK": "hook",
    "AFTER_WORD": "after|behind|following|past",
    "ALL_THE_OTHERS": "others|all others|other sts|all other sts|the others|other stitches",
    "ALTERNATING": "alternating|alternately|alternate|switching",
    "ANOTHER": "another",
    "ANY": "any",
    "ANYWHERE": "anywhere",
    "ARTICLE": "a",
    "APART": "apart|distance",
    "AT_WORDS": "beginning at|starting at",
    "BACK_WORD": "back",
    "BARE_EDGES": "side|sides|bottom",
    "BEFORE_WORD": "before|above",
    "BEHIND_WORD": "behind",
    "BECOMES": "becomes|becoming|become",
    "BOTH": "both",
    "BOTH_OR_ALL": "both|all|two|2",
    "CARRIES": "carry|carrying|carried|float|floating",
    "DOUBLE": "double|doubled|twice",
    "DRAW": "draw|pull|drawing|pulling",
    "DRAWN_THROUGH": "draw through|pull through|through|draw|pull|drawing|pulling",
    "DROPS": "drop|dropping",
    "EXAMPLE": "ie|eg|viz",
    "FEWER": "fewer|less",
    "FINISHES": "finish|finishing|completing|complete",
    "FOR": "for",
    "FRONT_OR_BACK": "front|back",
    "FORMED": "formed|created|made",
    "GAINS_WORD": "gain|gains|gaining|grows|grow|growing|adds|adding",
    "HOLDING": "holding|keeping|folding|pushing|bending|hold|keep|fold|push|bend",
    "HAVING": "having",
    "HELD_BACK": "holding|hold|keeping|keep|leaving|leave|retaining|retain",
    "IF": "if",
    "IN_ALL": "in all",
    "INCLUDED_WORD": "including|incl|counting",
    "INSIDE": "inside",
    "INSTEAD_WORD": "instead|in place of",
    "ITS_END": "end of row|end of the row|end of rnd|end of the rnd|end of round|end of the round",
    "JUST": "just",
    "LAST_LOOP": "yo|yoh|yrh|yarn over|yarnover|pull through",
    "LEFT_OR_RIGHT": "left|right|lower|upper|inner|outer",
    "LETTER_T": "t",
    "LIMBS": "arms|legs|ears|wings|feet|sleeves|hands|paws|horns|fins|pieces|parts",
    "KEEP": "keep|go on",
    "LAYING": "place|placing|lay|laying|put|putting|set|bring|bringing|match|pin",
    "LAYERS": "layers|thicknesses|sides|walls|pieces|edges|squares|motifs|panels|layer|thickness",
    "LOOP_DRAWN": "loop|lp|loops|lps|a loop",
    "MADE_BEFORE": "made",
    "MANY": "many",
    "MILLIMETRES": "mm",
    "MULTIPLE_WORD": "multiple|multiples",
    "NARROW": "narrow",
    "NEW_WORD": "new",
    "NOTHING_WORD": "nothing|none",
    "NO_WORD": "no",
    "IS_WORD": "is",
    "ONE_STAR": "*",
    "DEMONSTRATIVE": "this|this one|this is|this round|this row|here|it|it has|that",
    "EDGES": "edge|edges|opening|rim",
    "ONE_SPACE": "sp|space|lp|loop",
    "PARTS": (
        "edge|edges|opening|rim|leg|legs|arm|arms|hand|hands|paw|paws|pen|pens|body|head|ear|ears|toe|toes|thumb|finger|wing|wings|sleeve|strap|"
        "handle|foot|feet|motif|square|petal|petals|neck|neckline|underarm|tail|both|piece|pieces|part|parts|flap|snout|"
        "muzzle|beak|fin|horn|trunk|shoulder|armhole|sole|upper|heel|cuff|half|tentacle|stem|cap|base|lid|bottom|"
        "top|arch|antenna|nose|front|back|side|sides|point|points|star|leaf|leaves|tip|tips|spoke|spokes|"
        "hat|brim|crown|bag|basket|bowl|panel|mitten|collar|hood|pocket|block|hexagon|triangle|flower|skirt|sweater|"
        "cardigan|jumper|pullover|vest|garment|dress|yoke|bodice|cowl|scarf|shawl|blanket|throw|afghan|cushion|sock|"
        "slipper|glove|pouch|mat|strip"
    ),
    "PASSED_OVER": "skipped|missed|sk",
    "PETALS": "petal|petals|leaf|leaves",
    "PLACE_WORD": "place",
    "SURE": "sure|care|certain",
    "POINTS": "point|spot|place|position|points|spots|places|positions",
    "REPEAT_THIS": "repeat this|repeat that",
    "REPEATED_WORDS": (
        "s|instructions|sequence|group|brackets|parentheses|steps|asterisk|asterisks|star|stars|between|pattern|what|"
        "section"
    ),
    "RING_LETTERS": "mc|ma|mcr|ml",
    "SEVERAL_STITCHES": "sts|stitches",
    "SHARED": "section|sections|segment|segments|half|quarter|third|needle|needles|wedge|wedges",
    "SIDES": "side|sides|edge|edges",
    "SIZE_WORD": "size|sizes",
    "SO_MANY_REPEATS": "repeats|reps",
    "START_WORD": "start|begin",
    "STITCH_LETTERS": "x|v|a|w",
    "STOPPING": "stopping|stop|ending|finishing",
    "STARTING": (
        "starting with|beginning with|start with|begin with|starting from|beginning from|beginning in|starting in|"
        "starting on"
    ),
    "TAKING": "taking|catching|joining|grabbing|closing|connecting",
    "THINGS": "elastic|tie|band|scrunchie|cord|hoop|wire|washer|rope|tube|bangle|frame",
    "TO_WORD": "to",
    "TOUCHES": "touches|touching",
    "THEM": "them|it|these",
    "THROUGH": "through|thru",
    "THE_SAME": "same|the same|same thing|the same thing|that same|this same|likewise|ditto|idem|too",
    "TIMES_SIGN": "x",
    "UNDER_WORD": "under|underneath",
    "WHERE": "where|used",
    "WHOLE_OF_IT": "whole|entire|outer|inner|outside",
    "WHOLE_PIECE": "hat|square|motif|bag|basket|bowl|blanket|cowl|coaster|mandala|doily|hexagon|ball|piece",
    "WHEN_WORD": "when|once",
    "WITHIN": "within",
    "YARN_OVER": "yo|yoh|yrh|wrh|yarn over|yarnover|yarn|thread|wool|cotton|over|round|hook",
}
"""Words that the grammar asks for by their spelling, whatever their kind, by the names that patterns call them."""

NUMBERS = {
    word: number
    for number, word in enumerate(
        (
            "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
            "sixteen seventeen eighteen nineteen twenty"
        ).split()
    )
} | {"thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}

ORDINALS = {
    word: number
    for number, word in enumerate(
        "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth".split(), start=1
    )
}
