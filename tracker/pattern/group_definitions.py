"""Groups that a pattern tells in a line of its own, "shell = 5 dc in one st"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import Line, Technique, acts
from tracker.notation.bunches import BUNCHES
from tracker.notation.context import Context
from tracker.notation.instructions import made_by
from tracker.notation.own_words import may_name_group
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_once

_DEFINITION = compile_later(r"^\s*(?P<name>[a-z][a-z -]{0,30}?)\s*(?:\([a-z -]{1,20}\)\s*)?[=:]\s*(?P<what>.+)$")
_ALL_IN_ONE = compile_later(
    r"^([^()\[\]]*,[^()\[\]]*?)(?: all)?,? (in(?:to)? (?:the )?(?:same|one) (?:place|st|stitch|sp|space))\W*$"
)
""" "1 dc, 1 ch, 1 dc in the same place": all that a group is made of goes there"""

_SEVERAL = 2
"""Kinds of what is made in one place, from which on it is a group and no increase."""


def definition(text: str, context: Context) -> tuple[str, tuple[tuple[str, int], ...]] | None:
    """ "shell = 5 dc in one st": the name of a group and what it makes; None for any other line."""
    match = _DEFINITION.match(fold(text).strip())
    if match is None:
        return None
    name = match["name"].strip()
    bunch = next((b for b in BUNCHES if name in b.words or name == b.id), None)
    is_letter = len(name) == 1 and "=" in text and name not in context.colours
    if bunch is None and (heading_of(text).end or not (is_letter or may_name_group(name, context.terms))):
        return None
    line = read_once(_ALL_IN_ONE.sub(r"(\1) \2", text.strip()[match.start("what") :]), context)
    if is_letter and all(len(act.makes) < _SEVERAL for act in acts(line.body)):
        return None  # "V = 2 sc in one st" is read where it stands
    makes = made_by(line.body)
    if not line.is_readable or not makes:
        return None
    if bunch is None:
        return (name, makes) if _is_one_group(line) else None
    return None if bunch.stitches == 1 else (bunch.id, makes)


def with_definitions(context: Context, notes: Iterable[str]) -> Context:
    """The context with the groups that these notes define."""
    for note in notes:
        for part in re.split(r"[\n;.]", note):
            defined = definition(part, context)
            if defined is not None:
                context = replace(context, bunches=(*context.bunches, defined))
    return context


def _is_one_group(line: Line) -> bool:
    """Whether a line makes several stitches in one place and nothing else."""
    made = acts(line.body)
    return len(made) == 1 and made[0].technique in (Technique.IN_ONE, Technique.INCREASE) and not line.stated
