"""What the hands do next, in words: "2 single crochet, then an increase".

Stitches are called by a mapping from their US abbreviation to a name, so that the same words come in US or UK terms.
Lower case, no full stop, so that a screen, a sentence and a voice can all use them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from tracker.notation.ast import SLIP_STITCH
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import STITCHES
from tracker.plural import number_of, plural
from tracker.rounds.next_step import MOST_PHRASES, Stretch, merged
from tracker.rounds.plan import Act, Into, Loop, Made, Node, Plan, Role, Run, Technique

SKIP = "sk"
"""The word for passing a stitch over stands among the names: it differs as they do."""

RING = "ring"
"""So does the one for what a first round is worked into: a ring of chains is no magic one."""

_MAGIC = {RING: "magic ring"}
US_NAMES: Mapping[str, str] = {**{stitch.id: stitch.us_name for stitch in STITCHES}, SKIP: "skip", **_MAGIC}
UK_NAMES: Mapping[str, str] = {**{stitch.id: stitch.uk_name for stitch in STITCHES}, SKIP: "miss", **_MAGIC}

_LOOPS = {
    Loop.BACK: "in the back loop only",
    Loop.FRONT: "in the front loop only",
    Loop.BACK_POST: "around the back post",
    Loop.FRONT_POST: "around the front post",
}


def names_for(terms: str) -> Mapping[str, str]:
    """The names of the stitches in "US" or "UK" terms."""
    return UK_NAMES if terms == "UK" else US_NAMES


def stretch_words(stretch: Stretch, names: Mapping[str, str] = US_NAMES) -> str:
    """All that is made in a part of a round."""
    nodes = stretch.nodes
    begun: list[str] = []
    if stretch.inside and isinstance(nodes[0], Run):
        begun = [_rest_of_act(nodes[0].act, stretch.inside, names)]
        left = nodes[0].times - 1
        nodes = ((Run(nodes[0].act, left),) if left else ()) + nodes[1:]
    loop = _common_loop(stretch)
    if loop is not None and len(begun) + len(merged(nodes)) > 1:
        plain = [_node_words(_in_both_loops(node), names) for node in merged(nodes)]
        return f"{_listed([*begun, *plain])}, all {_LOOPS[loop]}"
    return _listed([*begun, *(_node_words(node, names) for node in merged(nodes))])


def _common_loop(stretch: Stretch) -> Loop | None:
    """The loop that all the stitches go into, if it is one that must be told; to be told once, not with each."""
    loops = {act.loop for act in Plan(stretch.nodes).acts() if act.role is Role.WORK}
    return loops.pop() if len(loops) == 1 and not stretch.inside and Loop.BOTH not in loops else None


def _in_both_loops(node: Node) -> Node:
    if isinstance(node, Run):
        return replace(node, act=replace(node.act, loop=Loop.BOTH))
    return replace(node, body=tuple(_in_both_loops(inner) for inner in node.body))


def _listed(phrases: list[str]) -> str:
    if len(phrases) > MOST_PHRASES:
        phrases = [*phrases[: MOST_PHRASES - 1], "the rest of the repeat"]
    if len(phrases) < 2:
        return "".join(phrases)
    return f"{', '.join(phrases[:-1])}, then {phrases[-1]}"


def _node_words(node: Node, names: Mapping[str, str]) -> str:
    if isinstance(node, Run):
        return act_words(node.act, node.times, names)
    inner = _listed([_node_words(inner, names) for inner in merged(node.body)])
    return inner if node.times == 1 else f"{node.times} times ({inner})"


def act_words(act: Act, times: int = 1, names: Mapping[str, str] = US_NAMES) -> str:
    """One act, `times` over: "5 single crochet in the back loop only", "an increase", "chain 3"."""
    if act.role is Role.STEP:
        return f"chain {act.length}" if act.length else _STEPS.get(act.name, act.name)
    if act.role is Role.SKIP:
        return skip_words(act, times, names)
    if act.role is Role.CHAIN:
        return chain_words(act, times, names)
    loop = _LOOPS.get(act.loop, "")
    return f"{_work_words(act, times, names)} {loop}".rstrip()


def _work_words(act: Act, times: int, names: Mapping[str, str]) -> str:
    if act.name in BUNCH_BY_ID:
        return _bunch_words(act, times, names)
    if len(act.makes) != 1:
        return _group_in_one(act, times, names)
    made = act.makes[0]
    if act.is_decrease:
        over = f" over {act.takes} stitches" if act.takes > 2 else ""
        return f"{_some('decrease', times)}{over}{_of_kind(made.kind, names)}{_place(act, times, names)}"
    if act.is_increase and made.count == 2 and act.into is Into.STITCH:
        return f"{_some('increase', times)}{_of_kind(made.kind, names)}"
    if act.into is Into.RING or (made.count == 1 and not (times > 1 and act.into in _ONE_BY_ONE)):
        return f"{_count(made.count * times, made.kind, names)}{_place(act, times, names)}"
    return f"{_count(made.count, made.kind, names)}{_in_each(act, times, names)}"


def _bunch_words(act: Act, times: int, names: Mapping[str, str]) -> str:
    words = _some(act.name, times)
    if any(made.kind != act.name for made in act.makes):
        words += f" ({_made_words(act.makes, names)})"
    return words + _place(act, times, names)


def _group_in_one(act: Act, times: int, names: Mapping[str, str]) -> str:
    if not act.makes:
        return act.name
    return f"({_made_words(act.makes, names)}){_in_each(act, times, names)}"


def _made_words(makes: tuple[Made, ...], names: Mapping[str, str]) -> str:
    return ", ".join(
        f"chain {made.count}" if made.is_chain else _count(made.count, made.kind, names) for made in makes
    )


def _in_each(act: Act, times: int, names: Mapping[str, str]) -> str:
    """Where several stitches of one place go."""
    if act.into is not Into.STITCH:
        return _place(act, times, names)
    if act.takes > 1:
        return f" over {act.takes} stitches" + (f", {times} times" if times > 1 else "")
    return " in one stitch" if times == 1 else f" in each of the next {times} stitches"


_ONE_BY_ONE = {Into.SPACE: "chain space", Into.CHAIN: "chain"}
"""Places that are named with every stitch that goes into them."""


def _place(act: Act, times: int, names: Mapping[str, str]) -> str:
    if act.into is Into.CHAIN and act.from_hook:
        return f" in chain {act.from_hook} from the hook"
    if act.into in _ONE_BY_ONE:
        place = _ONE_BY_ONE[act.into]
        return f" in the {place}" if times == 1 else f" in each of the next {times} {place}s"
    if act.into is Into.SAME and act.same_space:
        return " in the same chain space"
    return {
        Into.RING: f" in the {names.get(RING, _MAGIC[RING])}",
        Into.SAME: " in the same stitch",
        Into.BETWEEN: " between the stitches",
    }.get(act.into, "")


def _rest_of_act(act: Act, inside: int, names: Mapping[str, str]) -> str:
    """What is left of an act of which some moves are made: "1 more single crochet in the same stitch"."""
    left: list[Made] = []
    for made in act.makes:
        done = min(inside, made.moves)
        inside -= done
        if made.is_chain and not done:
            left.append(made)
        elif not made.is_chain and made.count > done:
            left.append(Made(made.kind, made.count - done, made.counts_as))
    where = _place(act, 1, names) if act.into in (Into.RING, Into.SPACE) else " in the same stitch"
    loop = _LOOPS.get(act.loop, "")
    if len(left) == 1 and not left[0].is_chain:
        return f"{left[0].count} more {_named(left[0].count, left[0].kind, names)}{where} {loop}".rstrip()
    return f"{_made_words(tuple(left), names)}{where} {loop}".rstrip()


def _some(noun: str, count: int) -> str:
    if count == 1:
        return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"
    return number_of(count, noun)


def _count(count: int, kind: str, names: Mapping[str, str]) -> str:
    return f"{count:,} {_named(count, kind, names)}"


def _named(count: int, kind: str, names: Mapping[str, str]) -> str:
    """The name of a stitch for so many of it: "3 single crochet", "2 slip stitches", "4 trebles"."""
    name = names.get(kind, kind)
    return name if count == 1 else plural(name)


def _of_kind(kind: str, names: Mapping[str, str]) -> str:
    """What an increase or decrease is made of; single crochet goes without saying."""
    return "" if kind == "sc" else f" of {names.get(kind, kind)}"


# Words for what is done between stitches: chains, skips, joins and turns.

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
"""Steps by their names; one that has no other name is told as the pattern calls it."""


def skip_words(act: Act, times: int, names: Mapping[str, str] = US_NAMES) -> str:
    """ "skip 1 stitch", "leave 2 stitches unworked"."""
    count = max(act.takes, 1) * times
    noun = {Into.SPACE: "chain space", Into.CHAIN: "chain"}.get(act.into, "stitch")
    what = number_of(count, noun)
    if act.technique is Technique.SLIP_ACROSS:
        return f"{names.get(SLIP_STITCH, 'slip stitch')} over {what}"
    return f"leave {what} unworked" if act.technique is Technique.LEAVE else f"{names.get(SKIP, 'skip')} {what}"


def chain_words(act: Act, times: int, names: Mapping[str, str]) -> str:
    """ "chain 3", and what it counts as if it counts."""
    parts = [f"chain {made.count:,}" for made in act.makes] or ["chain"]
    words = ", ".join(parts)
    stands_for = next((made.counts_as for made in act.makes if made.counts_as), "")
    if stands_for:
        name = names.get(stands_for, stands_for)
        words += f" (counts as {'an' if name[0] in 'aeiou' else 'a'} {name})"
    return words if times == 1 else f"{words}, {times:,} times"
