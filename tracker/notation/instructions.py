"""Instructions: made from a stitch or a step, gone through in a row of items, and changed all through it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import lru_cache

from tracker.diagnostics import Span
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import (
    SLIP_STITCH,
    Choice,
    Colour,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Loop,
    Made,
    Role,
    Some,
    Technique,
    Timed,
    ToEnd,
    acts,
)
from tracker.notation.glossary import BY_ID

MOST_TIMES = 100
"""Times that a group in one place is written out; more than a few are a slip of the keyboard."""

MAY_STAND_IN_ONE = (2, 3)
"""Stitches that a count alone may mean for one place, "1 sc, 2 sc"."""
MOST_IN_AN_INCREASE = 3
"""Stitches of one kind in one place that are called an increase; more are a fan (common practice, no source)."""

NAMES_IN_ONE = {Technique.INCREASE: "inc", Technique.IN_ONE: "in one"}
"""What several stitches in one place are called."""


MAIN = ""
"""Stands for the stitch of the line until it is known: "inc" in a round of hdc is two hdc."""


@dataclass(frozen=True, slots=True)
class Head:
    """What is to be made, before it is known where: stitches in one base and bases that each takes."""

    name: str
    makes: tuple[Made, ...]
    takes: int = 1
    loop: Loop = Loop.BOTH
    technique: Technique = Technique.STITCH
    single: bool = False
    """One plain stitch, so that a count before it may mean several stitches or several in one."""

    def act(self, loop: Loop, span: Span, into: Into = Into.STITCH) -> Instruction:
        """It made once, read from the words at `span`."""
        return Instruction(self.name, Role.WORK, self.makes, self.takes, into, loop, self.technique, span)


@lru_cache
def stitch(kind: str) -> Head:
    return Head(kind, (Made(kind),), single=True)


@lru_cache
def increase(kind: str, number: int = 2) -> Head:
    return Head("inc", (Made(kind, number),), technique=Technique.INCREASE)


@lru_cache
def decrease(kind: str) -> Head:
    return Head("dec", (Made(kind),), takes=2, technique=Technique.DECREASE)


def together(kind: str, over: int) -> Head:
    """So many stitches closed as one; a decrease where no stitch is named."""
    if not kind:
        return Head("dec", (Made(kind),), takes=over, technique=Technique.DECREASE)
    return Head(f"{kind}{over}tog", (Made(kind),), takes=over, technique=Technique.TOGETHER)


def each_act(body: tuple[Item, ...], change: Callable[[Instruction], Instruction]) -> tuple[Item, ...]:
    """The same items with every act changed."""
    changed: list[Item] = []
    for item in body:
        if isinstance(item, Some):
            act = change(item.act)
            changed.append(item if act is item.act else Some(act, item.times))
        elif isinstance(item, Group):
            changed.append(replace(item, body=each_act(item.body, change)))
        elif isinstance(item, Choice):
            options = tuple(replace(option, body=each_act(option.body, change)) for option in item.options)
            changed.append(replace(item, options=options))
        else:
            changed.append(item)
    return tuple(changed)


MOST_AT_ONCE = 100
"""Parts of what is made in one place that a definition is read for; groups in groups would multiply without end."""


def made_by(body: tuple[Item, ...]) -> tuple[tuple[str, int], ...]:
    """What these items make when all of it goes into one place, as (kind, count), side by side."""
    makes: list[tuple[str, int]] = []
    for item in body:
        inner = likeliest(item)  # none of an ending that says again what is there
        times = inner.times.count if isinstance(inner, Timed) and isinstance(inner.times, Exactly) else 1
        if isinstance(inner, Group):
            makes.extend((made_by(inner.body) * min(times, MOST_AT_ONCE))[:MOST_AT_ONCE])
        elif (
            isinstance(inner, Some) and inner.act.role not in (Role.STEP, Role.SKIP) and not _closes_picot(inner.act)
        ):
            makes.extend((m.kind, m.count if m.is_chain else m.count * times) for m in inner.act.makes)
    return tuple(makes)


def _closes_picot(act: Instruction) -> bool:
    """ "ch 3, sl st in first ch": a knot, and no stitch beside it"""
    return act.is_slip_stitch and (act.into is Into.CHAIN or act.from_hook > 0)


def stood_for(items: tuple[Item, ...], height: int = 0) -> str:
    """The kind of the first stitch that is made; where a popcorn comes first, of the tall one behind it; the first
    that is `height` chains tall if there is one and that is more than a sc."""
    kinds = [act.makes[0].kind for act in acts(items) if act.role is Role.WORK]
    tall = (kind for kind in kinds if height > 1 and kind in BY_ID and BY_ID[kind].turning_chain == height)
    if as_tall := next(tall, None):
        return as_tall
    if kinds[0] in BY_ID:
        return kinds[0]
    plain = next((kind for kind in kinds if kind in BY_ID), kinds[0])
    return plain if plain in BY_ID and BY_ID[plain].turning_chain > 1 else kinds[0]


def main_stitch(body: tuple[Item, ...], default: str) -> str:
    """The stitch that the line is mostly made of, for words such as "inc" that name none."""
    kinds = Counter(
        m.kind
        for a in acts(body)
        if a.role is Role.WORK
        for m in a.makes
        if m.kind in BY_ID and m.kind != SLIP_STITCH
    )
    return kinds.most_common(1)[0][0] if kinds else default


def fill_stitches(body: tuple[Item, ...], main: str) -> tuple[Item, ...]:
    """Acts that named no stitch get the main one."""

    def fill(act: Instruction) -> Instruction:
        if all(made.kind for made in act.makes):
            return act
        makes = tuple(replace(made, kind=made.kind or main) for made in act.makes)
        return replace(act, makes=makes, name=act.name or main)

    return each_act(body, fill)


def place_in_ring(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "Magic ring, 6 sc": what names no place goes into the ring that the line begins with."""
    if not any(isinstance(item, Some) and item.act.technique is Technique.RING for item in body):
        return body

    def into(act: Instruction) -> Instruction:
        plain = act.role is Role.WORK and act.into is Into.STITCH and not act.is_slip_stitch
        return replace(act, takes=0, into=Into.RING) if plain else act

    return each_act(body, into)


def place_in_same_stitch(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "sc in same sp as joining" in a line that names no space: the stitch that the round was joined in."""
    following = acts(body)
    if any(act.into in (Into.SPACE, Into.BETWEEN) for act in following):
        return body
    if any(act.role is Role.CHAIN for act in following[1:]):
        return body

    def into(act: Instruction) -> Instruction:
        return replace(act, same_space=False) if act.same_space else act

    return each_act(body, into)


def as_step(act: Instruction) -> Instruction:
    """A chain that makes neither a stitch nor a space."""
    length = act.makes[0].count
    technique = act.technique if act.technique is Technique.CHAIN_BELOW else Technique.CHAIN
    return Instruction(
        f"ch {length}", Role.STEP, into=Into.NOTHING, technique=technique, span=act.span, length=length
    )


def other_side(span: Span) -> Instruction:
    """From here on along the other side of the foundation chain."""
    return Instruction("other side", Role.STEP, into=Into.NOTHING, technique=Technique.OTHER_SIDE, span=span)


def skipping(span: Span) -> Instruction:
    """One stitch passed over."""
    return Instruction("sk", Role.SKIP, (), 1, technique=Technique.SKIP, span=span)


def leaving(span: Span) -> Instruction:
    """One stitch left unworked, so that the round still accounts for it."""
    return Instruction("leave", Role.SKIP, (), 1, technique=Technique.LEAVE, span=span)


def joining(span: Span, *, ring: bool = False) -> Instruction:
    """A round closed, or a chain closed to a `ring`."""
    name, technique = ("join ring", Technique.JOIN_RING) if ring else ("join", Technique.JOIN)
    return Instruction(name, Role.STEP, into=Into.NOTHING, technique=technique, span=span)


_CLOSES_CHAIN = "sl st in ch"


def closing_chain(span: Span) -> Instruction:
    """A slip stitch in a chain that was just made: it closes a picot and takes no place."""
    return Instruction(_CLOSES_CHAIN, Role.STEP, into=Into.NOTHING, technique=Technique.OTHER, span=span)


def closes_chain(act: Instruction) -> bool:
    """Whether a step is such a slip stitch."""
    return act.role is Role.STEP and act.name == _CLOSES_CHAIN


def unmarked(act: Instruction) -> Instruction:
    """The same made again, without what is said of the place and use of the first."""
    return replace(
        act,
        from_hook=0,
        same_space=False,
        over_first=False,
        counts=None,
        slip_use=None,
        spread=None,
        also_spaces=False,
        to_the_end=False,
    )


def likeliest(item: Item) -> Item | None:
    """The item itself, or what a choice would most likely be, as far as that is one item or begins with one; None if
    it is nothing at all."""
    if not isinstance(item, Choice):
        return item
    return next(iter(item.options[0].body), None)


def last_act(item: Item) -> Instruction | None:
    """The last act of an item in its likeliest reading; None for a colour."""
    if isinstance(item, Some):
        return item.act
    if isinstance(item, Choice):
        likely = item.options[0].body
        return last_act(likely[-1]) if likely else None
    if isinstance(item, Group):
        return last_act(item.body[-1]) if item.body else None
    return None


def is_lead(item: Item) -> bool:
    """Whether this is a colour or a step, which a repeat of all that stands before it leaves out."""
    return isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP)


def without_leads(items: list[Item]) -> tuple[int, list[Item]]:
    """The items that a repeat of the whole row is about, and how many stand before them."""
    start = next((index for index, item in enumerate(items) if not is_lead(item)), len(items))
    slips = next((index for index, item in enumerate(items[start:]) if not _is_slip(item)), 0)
    if _begins_with_turning_chain(items[start + slips :]):
        start += slips + 1  # slip stitches and a chain lead to where the round begins
    body = items[start:]
    while start and isinstance(items[start - 1], Colour) and any(isinstance(item, Colour) for item in body):
        start -= 1  # a colour that the repeated part comes back to belongs to it
    return start, items[start:]


def _is_slip(item: Item) -> bool:
    return isinstance(item, Some) and item.act.is_slip_stitch


def _begins_with_turning_chain(body: list[Item]) -> bool:
    """A chain no longer than the stitch behind it is high reaches up to it once, "ch 1, sc 2, inc, 6 times", and one
    that counts as a stitch is it once."""
    chain = body[0] if len(body) > 1 else None
    if not isinstance(chain, Some) or chain.act.role is not Role.CHAIN or chain.times != Exactly(1):
        return False
    first = acts(tuple(body[1:]))[:1]
    if not first or first[0].role is not Role.WORK or first[0].into not in (Into.STITCH, Into.SAME):
        return False
    if chain.act.counts is not None and chain.act.counts.as_stitch:
        return True
    kind = first[0].makes[0].kind
    return chain.act.makes[0].count <= (BY_ID[kind].turning_chain if kind in BY_ID else 1)


def is_plain_work(item: Item) -> bool:
    """Whether this makes stitches; a colour, a chain, a skip or a step on its own does not."""
    return not isinstance(item, Colour) and not (isinstance(item, Some) and item.act.role is not Role.WORK)


CLUSTER = 3
"""Tall stitches closed together from here on are a cluster where they go "in next st"; two are mostly a decrease."""


def is_cluster(act: Instruction) -> bool:
    """Whether it is so many tall stitches closed together that they are a cluster where they go into one place."""
    stitch = BY_ID.get(act.makes[0].kind) if act.makes else None
    tall = stitch is not None and stitch.turning_chain > 1
    return tall and act.takes >= CLUSTER and act.technique is not Technique.DECREASE


# What goes by the corners of a piece, however many there are.

CORNER, CORNER_SPACE = "corner", "corner sp"
"""What a place is called (`onto`) that stands where two sides meet, and one that is a space for certain."""


FIRST_CORNER = "corner the first"
"""What the corner is called that a round began in, and comes to once more at its end: "dc in first corner"."""

AFTER_CORNER = "after corner"
"""What a joining leads to that is in the first stitch behind a corner."""


def is_at_corner(onto: str) -> bool:
    """Whether what an act goes into is called by the corner there: its stitch, or the space at it."""
    return onto.startswith(CORNER)


ANY_SPACE = "space"
"""What the chains of a space are called to be of, where its length is not told."""

PETAL = "petal"
"""What a fan in one place is called besides."""

FIRST, LAST = "first", "last"
"""What a place of a group is called that it begins or ends with."""

WITHIN = " of "


def within(group: str, place: str) -> str:
    """What a place is called that is one of a group: "ch-2 of shell"."""
    return f"{place}{WITHIN}{group}"


IN_EACH_PART = " in each part"
"""Stands behind the name of a change that is told of each side, "1 increase on each side": there are so many times
as many in all."""

OF_CHAINS = "ch of "
"""Stands before how many chains a loop has that each of them is a base of: "each dc and each of the 3 ch"."""

KIND = "kind "


def of_kind(kind: str) -> str:
    """What a place is called by the stitch that stands there: "in next dc"; many say so of any stitch."""
    return KIND + kind


IN_THE_MIDDLE = " in the middle"
"""Stands behind that where it is said to be the middle one, "in centre dc": of the group there, if there are any."""


SKIPPED = "skipped"
"""What the place of stitches is called that were passed over before."""

EACH_SIDE = "each side"
"""What the place of stitches is called that stand along every side of a piece."""


def names_corners(body: tuple[Item, ...]) -> bool:
    """Whether something goes into every corner or into so many, along each side, or on to the next corner."""
    return any(
        is_side(item) or is_every_corner(item) or is_on_each_side(item) or _is_at_corners(item)
        for item in _inside(body)
    )


def _is_at_corners(item: Item) -> bool:
    """ "3 sc in each of the 4 corners" """
    is_at = isinstance(item, Some) and item.act.role is Role.WORK and item.act.onto == CORNER
    return is_at and isinstance(item, Some) and isinstance(item.times, Exactly) and item.times.count > 1


def _inside(body: tuple[Item, ...]) -> Iterator[Item]:
    for item in body:
        yield item
        if isinstance(item, Group):
            yield from _inside(item.body)


def is_side(item: Item) -> bool:
    """Whether this goes on to the next corner."""
    return isinstance(item, Timed) and isinstance(item.times, ToEnd) and item.times.to_corner


def sides(body: tuple[Item, ...]) -> Iterator[ToEnd]:
    """How far what goes to a corner, or to a place that it names, does so."""
    for item in body:
        if isinstance(item, Timed) and is_side(item):
            assert isinstance(item.times, ToEnd)
            yield item.times
        if isinstance(item, Group):
            yield from sides(item.body)


def is_every_corner(item: Item) -> bool:
    """Whether this goes into every corner that there is."""
    return isinstance(item, Some) and is_at_corner(item.act.onto) and isinstance(item.times, ToEnd)


def is_on_each_side(item: Item) -> bool:
    """Whether this goes along each side, so many on it."""
    return isinstance(item, Some) and item.act.onto == EACH_SIDE and isinstance(item.times, Exactly)
