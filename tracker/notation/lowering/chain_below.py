"""A row behind one that ended with a chain: "..., ch 3, turn". That chain may be the first stitch of this row, as one
that the row begins with itself may (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, Instruction, Into, Item, Line, Made, Role, Some, Technique, acts
from tracker.notation.instructions import is_lead
from tracker.notation.lowering.starting_chain import lower_start

CHAINS_BELOW = range(2, 13)
"""Chains that may stand for a stitch, or a stitch and a wide space: one alone reaches up for a row of single crochet
and counts for nothing, and a long chain is there to go on along."""


@remembered
def on_chain_below(line: Line, length: int) -> Line:
    """The line with a chain of this length, which is made already, in front of its first stitch: read as that stitch
    or as none, as its own chain would be. The line itself where it begins with one, or goes along that chain."""
    start = next((index for index, item in enumerate(line.body) if not is_lead(item)), len(line.body))
    if start == len(line.body) or _makes_its_own(line, line.body[start]):
        return line
    makes, span = (Made("ch", length),), line.instruction
    made = Instruction("ch", Role.CHAIN, makes, into=Into.NOTHING, technique=Technique.CHAIN_BELOW, span=span)
    body, _ = lower_start((*line.body[:start], Some(made), *line.body[start:]), dict(line.chains_count))
    return replace(line, body=tuple(_counted(body)))


def _makes_its_own(line: Line, first: Item) -> bool:
    """Whether it begins with a chain, or along one: "ch 3, dc in next dc", "sc in 2nd ch from hook"."""
    if line.foundation is not None or line.worked_into is not None:
        return True
    begins = acts((first,))[:1]
    along = any(act.from_hook or act.into is Into.CHAIN for act in begins)
    return along or any(act.role is Role.CHAIN or act.technique is Technique.CHAIN for act in begins)


def _counted(body: tuple[Item, ...]) -> Iterator[Item]:
    """The items without that chain where it stands for no stitch: it has been made with the row below."""
    for item in body:
        is_below = isinstance(item, Some) and item.act.technique is Technique.CHAIN_BELOW
        if isinstance(item, Choice):
            options = tuple(replace(option, body=tuple(_counted(option.body))) for option in item.options)
            yield replace(item, options=options)
        elif not is_below or any(made.counts_as for act in acts((item,)) for made in act.makes):
            yield item
