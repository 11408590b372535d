"""Small patterns built by hand, for tests that need no file and no reader.

Round 3 of a cap:  rnd(3, times(6, sc(), inc()))
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from tracker.pattern.model import MakingUp, Pattern, Piece, Round, Start, Stated, Yarn
from tracker.rounds.plan import Act, Into, Loop, Made, Node, Plan, Repeat, Role, Run, Technique


def st(kind: str, count: int = 1, *, loop: Loop = Loop.BOTH, colour: str = "", into: Into = Into.STITCH) -> Run:
    """`count` plain stitches of one kind, one a base."""
    return Run(Act(kind, Role.WORK, (Made(kind),), 1, into, loop, colour), count)


def sc(count: int = 1, *, loop: Loop = Loop.BOTH, colour: str = "") -> Run:
    return st("sc", count, loop=loop, colour=colour)


def inc(count: int = 1, kind: str = "sc", *, colour: str = "") -> Run:
    return Run(Act("inc", Role.WORK, (Made(kind, 2),), 1, colour=colour, technique=Technique.INCREASE), count)


def dec(count: int = 1, kind: str = "sc", over: int = 2) -> Run:
    return Run(Act("dec", Role.WORK, (Made(kind),), over, technique=Technique.DECREASE), count)


def ring(count: int, kind: str = "sc") -> Run:
    """So many stitches in a magic ring."""
    return Run(Act(kind, Role.WORK, (Made(kind),), 0, Into.RING), count)


def ch(length: int, *, counts_as: str = "", colour: str = "") -> Run:
    return Run(
        Act(
            "ch",
            Role.CHAIN,
            (Made("ch", length, counts_as),),
            into=Into.NOTHING,
            colour=colour,
            technique=Technique.CHAIN,
        )
    )


def sk(count: int = 1) -> Run:
    return Run(Act("sk", Role.SKIP, (), 1, technique=Technique.SKIP), count)


_TECHNIQUES = {
    "join": Technique.JOIN,
    "join ring": Technique.JOIN_RING,
    "turn": Technique.TURN,
    "other side": Technique.OTHER_SIDE,
    "fasten off": Technique.FASTEN_OFF,
}


def step_act(name: str) -> Act:
    """A step by its name; "ch 3" is a chain that makes nothing."""
    length = int(name.removeprefix("ch ")) if name.startswith("ch ") else 0
    technique = Technique.CHAIN if length else _TECHNIQUES.get(name, Technique.OTHER)
    return Act(name, Role.STEP, into=Into.NOTHING, technique=technique, length=length)


def step(name: str) -> Run:
    return Run(step_act(name))


def join() -> Run:
    return step("join")


def shell(count: int = 1) -> Run:
    return Run(Act("shell", Role.WORK, (Made("dc", 5),), 1, technique=Technique.GROUP), count)


def times(count: int, *body: Node) -> Repeat:
    return Repeat(body, count)


def rnd(number: int, *body: Node, colour: str = "", text: str = "", stated: int | None = None) -> Round:
    """A round with its plan; `before` is what the plan uses."""
    ends = [act.colour for act in Plan(body).acts() if act.colour]
    plan = Plan(body, ends[-1] if ends else colour)
    words = text or f"Rnd {number}: {plan.leaves} stitches"
    total = Stated(stated) if stated is not None else None
    return Round(number, f"Rnd {number}", words, plan, before=plan.uses, stated=total, colour=colour)


def unread(number: int, stated: int | None = None, colour: str = "") -> Round:
    """A round that could not be read."""
    total = Stated(stated) if stated is not None else None
    return Round(number, f"Rnd {number}", f"Rnd {number}: as you like", None, stated=total, colour=colour)


def piece(name: str, *rounds: Round, make: int = 1, start: Start = Start.SPIRAL) -> Piece:
    return Piece(name, rounds, make, start)


YARNS = (Yarn("R", "brick red"), Yarn("C", "cream"), Yarn("G", "moss green"))


def pattern(*pieces: Piece, making_up: Iterable[str] = (), title: str = "Trial", terms: str = "US") -> Pattern:
    """A pattern with a source that tells its rounds, line by line, for the digest of that."""
    lines = [title]
    for each in pieces:
        lines += [f"# {each.name}", *(item.text for item in each.rounds)]
    made = Pattern(title, pieces, terms, yarns=YARNS, making_up=tuple(MakingUp(words) for words in making_up))
    source = "\n".join(lines) + "\n"
    return replace(made, source=source)


def cap(make: int = 1, name: str = "Cap") -> Piece:
    """Three rounds of a disk: 6, 12, 18."""
    return piece(name, rnd(1, ring(6)), rnd(2, inc(6)), rnd(3, times(6, sc(), inc())), make=make)


def toadstool() -> Pattern:
    """Two pieces, one of them made twice, with a making-up list; small enough to finish in a test."""
    stem = piece("Stem", rnd(1, ring(6)), rnd(2, sc(6), join()), start=Start.JOINED, make=2)
    return pattern(cap(), stem, making_up=("Stuff the cap.", "Sew it on."), title="Toadstool")
