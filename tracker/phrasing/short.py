"""Part of a round in the trade's short words, few enough to be written big: "2 sc, inc"."""

from __future__ import annotations

from tracker.notation.glossary import STITCHES
from tracker.rounds.next_step import Stretch, merged
from tracker.rounds.plan import Act, Into, Made, Node, Plan, Role, Run, Technique

_UK = {stitch.id: stitch.uk for stitch in STITCHES}
_STEPS = {
    Technique.JOIN: "join",
    Technique.JOIN_RING: "join",
    Technique.FASTEN_OFF: "fasten off",
    Technique.OTHER_SIDE: "other side",
}
_INTO = {Into.SPACE: " in sp", Into.SAME: " same st", Into.BETWEEN: " between"}


def short(stretch: Stretch, terms: str) -> str:
    """All that is made in a part of a round; "" if nothing is."""
    nodes, begun = merged(stretch.nodes), []
    if stretch.inside and isinstance(nodes[0], Run):
        begun = [_rest(nodes[0].act, stretch.inside, terms)]
        left = nodes[0].times - 1
        nodes = ((Run(nodes[0].act, left),) if left else ()) + nodes[1:]
    return ", ".join([*begun, *(_short(node, terms) for node in nodes)])


def _rest(act: Act, inside: int, terms: str) -> str:
    """What is left of an act that is half made: "1 more sc"."""
    plan = Plan((Run(act),))
    left = act.stitches - plan.stitches_before(inside)
    kinds = {made.kind for made in act.makes if not made.is_chain}
    kind = _name(kinds.pop(), terms) if len(kinds) == 1 else "st"
    return f"{left} more {kind}"


def _short(node: Node, terms: str) -> str:
    if not isinstance(node, Run):
        return f"({', '.join(_short(inner, terms) for inner in merged(node.body))}) x {node.times}"
    act = node.act
    if act.role is Role.STEP:
        return _STEPS.get(act.technique, act.name)
    if act.role is Role.CHAIN:
        length = sum(made.count for made in act.makes) or 1
        return f"ch {length}" if node.times == 1 else f"ch {length} x {node.times}"
    if act.role is Role.SKIP:
        name = "leave" if act.technique is Technique.LEAVE else "miss" if terms == "UK" else "sk"
        return f"{name} {max(act.takes, 1) * node.times}"
    return f"{act.loop.value} {_worked(act, node.times, terms)}{_INTO.get(act.into, '')}".lstrip()


def _worked(act: Act, times: int, terms: str) -> str:
    if act.technique is Technique.FOUNDATION:
        return f"ch {sum(made.count for made in act.makes) * times}"
    if act.technique is Technique.IN_ONE:
        inside = ", ".join(_made(made, terms) for made in act.makes)
        return f"({inside})" if times == 1 else f"({inside}) x {times}"
    if act.technique is Technique.INCREASE and (
        act.makes[0].kind != "sc" or act.into is not Into.STITCH or act.stitches != 2
    ):
        several = f"{act.stitches} {_name(act.makes[0].kind, terms)}"
        return several if times == 1 else f"{times} x {several}"
    is_plain = act.technique is Technique.STITCH and len(act.makes) == 1 and act.stitches == 1
    count = f"{times} " if times > 1 or is_plain else ""
    return f"{count}{_name(act.name, terms)}"


def _made(made: Made, terms: str) -> str:
    return f"ch {made.count}" if made.is_chain else f"{made.count} {_name(made.kind, terms)}"


def _name(kind: str, terms: str) -> str:
    """An abbreviation in the pattern's terms; of a decrease that names its stitch, "sc2tog", the stitch in it."""
    if terms != "UK":
        return kind
    stem, digits, tog = kind.partition("2tog") if "2tog" in kind else (kind, "", "")
    return f"{_UK.get(stem, stem)}{digits}{tog}"
