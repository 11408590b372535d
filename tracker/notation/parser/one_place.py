"""What goes into one place: "(2 dc, ch 2, 2 dc) in next ch-3 sp" as one act."""

from __future__ import annotations

from dataclasses import replace

from tracker.diagnostics import Span
from tracker.notation.ast import (
    Choice,
    Counts,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Made,
    Rest,
    Role,
    Some,
    Technique,
)
from tracker.notation.instructions import MOST_IN_AN_INCREASE, MOST_TIMES, NAMES_IN_ONE, is_cluster, skipping
from tracker.notation.parser.worked_into import Where

MOST_MADE = 400
"""Stitches and chains that are made side by side in one place; nobody gets more than two dozen into one."""

# In one place; more is a slip of the keyboard.
_MOST_STITCHES = 1000


def in_places(body: tuple[Item, ...], where: Where, span: Span) -> Item:
    """All of a row into one place, or into each of several; items that have places of their own go on."""
    alone = where.bases == Exactly(1) or where.each or where.into in (Into.SPACE, Into.RING)
    act = as_one_place(body, where, span, closed=alone and len(body) > 1)
    if act is None:
        return Group(body, Rest() if isinstance(where.bases, Rest) else Exactly(1), span)
    if where.every:
        skip = Some(skipping(span), Exactly(where.every - 1))
        return Group((Some(act), skip), where.bases, span)
    return Some(act, Exactly(1) if where.into is Into.RING or where.same else where.bases)


def as_one_place(body: tuple[Item, ...], where: Where, span: Span, *, closed: bool = False) -> Instruction | None:
    """The row as one act, if all in it is made in one place; None if it has places of its own.

    `closed`: stitches that are closed together are so in that one place too, as "(dc2tog, ch 2, dc2tog) in next sp".
    """
    makes = _made_together(body, closed=closed)
    if not makes:
        return None
    stitches = sum(made.stitches for made in makes)
    technique = Technique.STITCH
    if len(makes) > 1 or stitches > MOST_IN_AN_INCREASE:
        technique = Technique.IN_ONE
    elif stitches > 1:
        technique = Technique.INCREASE
    takes = 0 if where.same or where.into is Into.RING else 1
    into = Into.SAME if where.same else where.into
    return Instruction(
        NAMES_IN_ONE.get(technique, makes[0].kind),
        Role.WORK,
        makes,
        takes,
        into,
        where.loop,
        technique,
        span,
        where.onto,
        where.from_hook,
        same_space=where.same and where.into is Into.SPACE and not where.from_hook,
    )


def _made_together(body: tuple[Item, ...], *, closed: bool) -> tuple[Made, ...] | None:
    """What the items make side by side; None if one of them has a place of its own, or too much is made."""
    makes: list[Made] = []
    for item in body:
        made = _made_by(item, closed=closed)
        if made is None:
            return None
        makes.extend(made)
        if len(makes) > MOST_MADE:
            return None
    return tuple(makes)


def _made_by(item: Item, *, closed: bool) -> tuple[Made, ...] | None:
    likely = _likeliest(item)
    if likely is None:
        return ()
    if isinstance(likely, Group) and isinstance(likely.times, Exactly) and likely.times.count <= MOST_TIMES:
        nested = _made_together(likely.body, closed=closed)
        fits = nested and len(nested) * likely.times.count <= MOST_MADE
        return nested * likely.times.count if nested and fits else None
    if not isinstance(likely, Some) or not isinstance(likely.times, Exactly):
        return None
    act, count = likely.act, likely.times.count
    if act.role is Role.STEP or (act.is_slip_stitch and act.into is Into.CHAIN):
        return ()  # a slip stitch back into a chain closes a picot
    if act.role is Role.SKIP or act.into in (Into.SPACE, Into.RING) or count > _MOST_STITCHES:
        return None
    if act.takes > 1 and not is_cluster(act) and not (closed and act.technique is Technique.TOGETHER):
        return None
    if act.role is Role.CHAIN and act.counts is not None and (act.counts.stitch or not act.counts.as_stitch):
        return _counting(act.makes[0], act.counts)
    return tuple(each for made in act.makes for each in _so_often(made, count))


def _counting(chain: Made, counts: Counts) -> tuple[Made, ...]:
    """A chain as the stitch that it counts as, with the chains that are a space besides; nothing if it counts as
    none."""
    if not counts.as_stitch:
        return ()
    stands = Made("ch", max(chain.count - counts.besides, 1), counts.stitch)
    return (stands, Made("ch", counts.besides)) if counts.besides else (stands,)


def _so_often(made: Made, count: int) -> list[Made]:
    """Stitches add up; every chain is a space of its own."""
    return [made] * count if made.is_chain else [replace(made, count=made.count * count)]


def _likeliest(item: Item) -> Item | None:
    """The item itself, or what a choice would most likely be; None if that is nothing at all."""
    if not isinstance(item, Choice):
        return item
    return item.options[0].body[0] if item.options[0].body else None
