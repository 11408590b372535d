"""Words for what is done between stitches: chains, skips, joins and turns."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.rounds.plan import Act, Into

_STEPS = {
    "join": "join with a slip stitch",
    "join ring": "join into a ring with a slip stitch",
    "sl st across": "slip stitch across to where it begins",
    "other side": "go on along the other side",
    "fo": "fasten off",
    "f/o": "fasten off",
    "pm": "place the marker",
    "place marker": "place the marker",
}


def step_words(name: str) -> str:
    """A step in words; one that has no other name is told as the pattern calls it."""
    if name.startswith("ch ") and name[3:].isdigit():
        return f"chain {name[3:]}"
    return _STEPS.get(name, name)


def skip_words(act: Act, times: int) -> str:
    """ "skip 1 stitch", "leave 2 stitches unworked"."""
    count = max(act.takes, 1) * times
    noun = {Into.SPACE: "chain space", Into.CHAIN: "chain"}.get(act.into, "stitch")
    plural = f"{noun}es" if noun == "stitch" else f"{noun}s"
    what = f"{count:,} {noun if count == 1 else plural}"
    return f"leave {what} unworked" if act.name == "leave" else f"skip {what}"


def chain_words(act: Act, times: int, names: Mapping[str, str]) -> str:
    """ "chain 3", and what it counts as if it counts."""
    parts = [f"chain {made.count:,}" for made in act.makes] or ["chain"]
    words = ", ".join(parts)
    stands_for = next((made.counts_as for made in act.makes if made.counts_as), "")
    if stands_for:
        name = names.get(stands_for, stands_for)
        words += f" (counts as {'an' if name[0] in 'aeiou' else 'a'} {name})"
    return words if times == 1 else f"{words}, {times:,} times"
