"""What to do now in the trade's short words, few enough to be written big: "2 sc, inc"."""

from __future__ import annotations

from tracker.notation.glossary import STITCHES
from tracker.rounds.next_step import coming_now, merged
from tracker.rounds.plan import Into, Node, Plan, Role, Run, Technique

_UK = {stitch.id: stitch.uk for stitch in STITCHES}


def short_now(plan: Plan, move: int, terms: str) -> str:
    """The next stretch of a round; "" at its end."""
    stretch = coming_now(plan, move)
    if stretch.inside:
        return ""
    return ", ".join(_short(node, terms) for node in merged(stretch.nodes))


def _short(node: Node, terms: str) -> str:
    if not isinstance(node, Run):
        return f"({', '.join(_short(inner, terms) for inner in merged(node.body))}) x {node.times}"
    act = node.act
    if act.role is Role.STEP:
        return act.name
    if act.role is Role.CHAIN:
        length = sum(made.count for made in act.makes) or 1
        return f"ch {length}" if node.times == 1 else f"ch {length} x {node.times}"
    if act.role is Role.SKIP:
        return f"{act.name} {max(act.takes, 1) * node.times}"
    if act.technique is Technique.INCREASE and (act.makes[0].kind != "sc" or act.into is not Into.STITCH):
        several = f"{act.stitches} {_name(act.makes[0].kind, terms)}"
        return several if node.times == 1 else f"{node.times} x {several}"
    count = f"{node.times} " if node.times > 1 or act.stitches == 1 == act.takes else ""
    return f"{act.loop.value} {count}{_name(act.name, terms)}".lstrip()


def _name(kind: str, terms: str) -> str:
    return _UK.get(kind, kind) if terms == "UK" else kind
