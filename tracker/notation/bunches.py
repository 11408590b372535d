"""Groups of stitches worked as one thing: shell, bobble, picot, and those that only a pattern tells. Data only.

What they make: common practice, no source, where a published standard is not named beside them.
"""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.notation.spellings import spellings


@dataclass(frozen=True, slots=True)
class Bunch:
    """A named group of stitches worked as one thing.

    `stitches` is what one leaves to be counted unless the pattern defines it; None means that nobody can know
    without a definition. `usual` is what is drawn and worked when it has to be assumed; with none the pattern
    is asked how many places it takes and leaves. `takes` is how many places one takes.
    """

    id: str
    spelt: str
    """What it is called besides (`spellings`)."""

    stitches: int | None
    usual: tuple[tuple[str, int], ...]
    how: str
    takes: int = 1

    @property
    def words(self) -> tuple[str, ...]:
        return tuple(spellings(self.spelt))


PICOT = "picot"

BUNCHES: tuple[Bunch, ...] = (
    Bunch("shell", "shell/shells/sh", None, (("dc", 5),), "several tall stitches into one place"),
    Bunch("fan", "fan/fans/scallop/scallops", None, (("dc", 5),), "several tall stitches into one place"),
    Bunch(
        "v-st",
        "v-st/v-sts/v-stitch/v-stitches|v st/sts/stitch/stitches|vst|vsts",
        2,
        (("dc", 1), ("ch", 1), ("dc", 1)),
        "a double crochet, one chain and a double crochet into one place",
    ),
    Bunch(
        "cluster",
        "cluster|clusters|cl|cls|clstr|beg cl/cluster|beginning cluster|cluster st/stitch",
        1,
        (("cluster", 1),),
        "several stitches begun and closed together at the top",
    ),
    Bunch(
        "bobble",
        "bobble|bobbles|bo|bob|mb|bobble st/sts/stitch|bs|bbl|berry stitch",
        1,
        (("bobble", 1),),
        "several stitches begun in one place and closed together",
    ),
    Bunch(
        "popcorn",
        "popcorn|popcorns|pc|pcs|popcorn st/sts/stitch",
        1,
        (("popcorn", 1),),
        "several stitches in one place, then the first and last drawn together",
    ),
    Bunch(
        "puff",
        "puff|puffs|ps|puff st/sts/stitch/stitches",
        1,
        (("puff", 1),),
        "several long loops drawn up in one place and closed together",
    ),
    Bunch(
        PICOT,
        "picot|picots|ch-3 picot|ch 3 picot",
        0,
        (("ch", 3),),
        "three chains closed into a small knot with a slip stitch",
    ),
    Bunch(
        "half shell",
        "half shell/shells/fan",
        None,
        (("dc", 3),),
        "half of a shell, at the edge of the work",
    ),
    Bunch(
        "bean",
        "bean|beans|bean st/sts/stitch/stitches",
        1,
        (("bean", 1),),
        "loops drawn up in one place, three or four times, and closed together: a small puff",
    ),
    Bunch(
        "bullion",
        "bullion|bullions|bullion st/sts/stitch/stitches",
        1,
        (("bullion", 1),),
        "many yarn overs, and the loop drawn through all of them at once",
    ),
    Bunch(
        "crossed dc",
        "crossed dc/dcs/st|crossed double crochet|cdc|cross dc/stitch",
        2,
        (("dc", 2),),
        "skip a stitch, a double crochet into the next, then one into the skipped stitch, across the first",
        takes=2,
    ),
    *(
        Bunch(name, f"{name}|{name}es|{others}", None, (), how)
        for name, others, how in (
            ("star stitch", "star st/sts", "loops drawn up along the side and the base, closed together"),
            ("crocodile stitch", "crocodile st/sts/scale", "scales worked around posts"),
            ("Y stitch", "y st/sts", "a treble with a double crochet on its stem"),
            ("moss stitch", "moss/linen st|linen stitch", "single crochet and chains in turn, into the chains"),
            ("lemon peel stitch", "lemon peel st", "single and double crochet in turn"),
            ("alpine stitch", "alpine st", "double crochet and front post stitches in turn"),
            ("camel stitch", "camel st", "half double crochet in the third loop"),
            ("cable stitch", "cable|cables|cable st/crossing/cross", "stitches worked across each other"),
            ("filet block", "filet blocks|solid/filled block|closed mesh", "tall stitches side by side"),
            ("filet mesh", "open mesh|filet space|mesh|mesh st/stitch", "a tall stitch and chains"),
            ("corner to corner block", "c2c block/blocks?", "a slanting block of chains and tall stitches"),
        )
    ),
)
"""The last ones have no numbers that all patterns share: they are known by name and asked for."""

ONE_STITCH = frozenset(bunch.id for bunch in BUNCHES if bunch.stitches == 1 and bunch.takes == 1)
"""Those that are one stitch to be counted and worked into."""

BUNCH_BY_ID: dict[str, Bunch] = {bunch.id: bunch for bunch in BUNCHES}
