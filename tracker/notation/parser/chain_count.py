"""Whether a chain counts as a stitch, as the pattern says: "counts as dc and ch 1", "does not count as a stitch".

What is said is kept on the chain until the whole line is known: `Act.remark` is "never" or "counts STITCH CHAINS".
"""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.ast import Act, Item, Role, Some
from tracker.notation.lexer import Token
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor

_NEVER = "never"
_COUNTS = "counts"


def said_of(act: Act) -> bool | None:
    """Whether the pattern says of this chain, or of the chains before this stitch, that they count; None: nothing."""
    words = act.remark.split()
    if _NEVER in words:
        return False
    return True if _COUNTS in words else None


def counts_as(chain: Act) -> tuple[str, int]:
    """The stitch that a chain which is said to count stands for ("" if none was named), and its chains besides."""
    stitch, chains = chain.remark.removeprefix(f"{_COUNTS} ").rsplit(" ", 1)
    return stitch, int(chains)


def counting(cursor: Cursor, found: list[Item], close: int) -> None:
    """COUNTING := [not] counts [as stitch [and ch n]], up to word `close`; about the last chain in `found`

    With no chain there it is about every chain of the line.
    """
    inner = cursor.tokens[cursor.place : close]
    denied = any(token.kind is T.NOT or token.text in ("no", "without", "neither") for token in inner)
    for index in reversed(range(len(found))):
        item = found[index]
        if isinstance(item, Some) and _is_chain(item.act):
            found[index] = replace(item, act=replace(item.act, remark=_told(item.act, inner, denied)))
            return
    cursor.chains_count = not denied and cursor.chains_count is not False
    cursor.remarks.append(cursor.words(cursor.place, close))


def _is_chain(act: Act) -> bool:
    """A chain, or the stitch after the chains of "4th ch from hook"."""
    return act.role is Role.CHAIN or act.from_hook > 0


def _told(act: Act, inner: list[Token], denied: bool) -> str:
    if act.role is not Role.CHAIN:
        return f"{act.remark} {_NEVER if denied else _COUNTS}"
    if denied:
        return _NEVER
    kinds = [token.kind for token in inner]
    after = inner[kinds.index(T.COUNTS) :] if T.COUNTS in kinds else []
    stitch = next((token.name for token in after or inner if token.kind is T.STITCH), "")
    return f"{_COUNTS} {stitch} {_chains_besides(after)}"


def _chains_besides(after: list[Token]) -> int:
    """ "counts as dc and ch 1": the chain is longer than its stitch by so many."""
    chains = 0
    for index, token in enumerate(after):
        if token.kind is T.CHAIN:
            beside = [*after[index + 1 : index + 2], *after[index - 1 : index]]
            chains = next((word.number for word in beside if word.kind is T.NUMBER), 1)
    return chains
