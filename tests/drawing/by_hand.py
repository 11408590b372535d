"""Rounds put together by hand, for pictures of things with a known shape. Invented."""

from __future__ import annotations

from support.building import step_act

from tracker.notation.ast import Into, Loop
from tracker.pattern.model import Pattern, Piece, Round, Start, Yarn
from tracker.rounds.plan import Act, Made, Node, Plan, Repeat, Role, Run, Technique

YARNS = (
    Yarn("R", "brick red", "#b23a2e"),
    Yarn("C", "cream", "#efe3c8"),
    Yarn("G", "moss green", "#5f7138"),
)


def stitch(kind: str = "sc", colour: str = "", loop: Loop = Loop.BOTH) -> Act:
    return Act(kind, Role.WORK, (Made(kind),), 1, loop=loop, colour=colour)


def in_ring(kind: str = "sc", colour: str = "") -> Act:
    return Act(kind, Role.WORK, (Made(kind),), 0, Into.RING, colour=colour)


def inc(kind: str = "sc", count: int = 2, colour: str = "") -> Act:
    return Act("inc", Role.WORK, (Made(kind, count),), 1, colour=colour, technique=Technique.INCREASE)


def dec(kind: str = "sc", legs: int = 2) -> Act:
    return Act("dec", Role.WORK, (Made(kind),), legs, technique=Technique.DECREASE)


def shell(kind: str = "dc", count: int = 5) -> Act:
    return Act("shell", Role.WORK, (Made(kind, count),), 1, technique=Technique.GROUP)


def chain(count: int) -> Act:
    return Act("ch", Role.CHAIN, (Made("ch", count),), 0, Into.NOTHING)


def counted(count: int, kind: str, takes: int = 1) -> Act:
    into = Into.STITCH if takes else Into.NOTHING
    return Act(f"ch {count}", Role.CHAIN, (Made("ch", count, kind),), takes, into)


def step(name: str) -> Act:
    return step_act(name)


def skip(into: Into = Into.STITCH) -> Act:
    return Act("sk", Role.SKIP, (), 1, into)


JOIN = step("join")
TURN = step("turn")


def plan(*nodes: Node | Act) -> Plan:
    return Plan(body(*nodes))


def body(*nodes: Node | Act) -> tuple[Node, ...]:
    return tuple(Run(node) if isinstance(node, Act) else node for node in nodes)


def times(count: int, *nodes: Node | Act) -> Repeat:
    return Repeat(body(*nodes), count)


def piece(*plans: Plan, start: Start = Start.SPIRAL, colours: str = "", name: str = "Piece") -> Piece:
    rounds = []
    before: int | None = None
    for index, each in enumerate(plans):
        colour = colours[min(index, len(colours) - 1)] if colours else ""
        rounds.append(Round(index + 1, f"Rnd {index + 1}", "", each, before, colour=colour))
        before = each.leaves
    return Piece(name, tuple(rounds), start=start)


def pattern(*pieces: Piece, title: str = "Thing", terms: str = "US") -> Pattern:
    return Pattern(title, pieces, terms, yarns=YARNS)


def disk(rounds: int = 6, colours: str = "") -> Piece:
    """A flat disk of sc: 6, 12, 18 and so on, increases straight over each other."""
    plans = [plan(step("magic ring"), Run(in_ring(), 6)), plan(Run(inc(), 6))]
    plans += [plan(times(6, Run(stitch(), count), inc())) for count in range(1, rounds - 1)]
    return piece(*plans[:rounds], colours=colours, name="Disk")


def ball(colours: str = "") -> Piece:
    """Up by sixes to 24, even, and down again."""
    up = disk(4).rounds
    plans = [each.plan for each in up if each.plan]
    plans += [plan(Run(stitch(), 24)) for _ in range(3)]
    plans += [plan(times(6, Run(stitch(), count), dec())) for count in (2, 1)]
    return piece(*plans, plan(Run(dec(), 6)), colours=colours, name="Ball")


def mandala() -> Piece:
    """Joined rounds of dc with chain spaces and shells."""
    into_space = Act("dc", Role.WORK, (Made("dc", 3),), 1, Into.SPACE)
    same_space = Act("dc", Role.WORK, (Made("dc", 2),), 0, Into.SAME)
    sc_space = Act("sc", Role.WORK, (Made("sc"),), 1, Into.SPACE)
    return piece(
        plan(counted(3, "dc", 0), Run(in_ring("dc"), 11), JOIN),
        plan(counted(3, "dc"), Act("dc", Role.WORK, (Made("dc"),), 0, Into.SAME), Run(inc("dc"), 11), JOIN),
        plan(step("ch 1"), times(12, stitch(), chain(2), skip()), JOIN),
        plan(
            Act("ch 3", Role.CHAIN, (Made("ch", 3, "dc"),), 1, Into.SPACE),
            same_space,
            chain(1),
            times(11, into_space, chain(1)),
            JOIN,
        ),
        plan(step("ch 1"), times(12, Run(stitch(), 3), sc_space), JOIN),
        plan(step("ch 1"), times(8, stitch(), Run(skip(), 2), shell(), Run(skip(), 2)), JOIN),
        start=Start.JOINED,
        colours="RCGRGC",
        name="Coaster",
    )


def oval() -> Piece:
    """Around a chain of 12, three in the one end and two more in the other."""
    along = Act("sc", Role.WORK, (Made("sc"),), 1, Into.CHAIN)
    end = Act("inc", Role.WORK, (Made("sc", 3),), 1, Into.CHAIN)
    last = Act("inc", Role.WORK, (Made("sc", 2),), 1, Into.CHAIN)
    return piece(
        plan(step("ch 12"), Run(along, 10), end, step("other side"), Run(along, 9), last),
        plan(inc(), Run(stitch(), 9), Run(inc(), 3), Run(stitch(), 9), Run(inc(), 2)),
        plan(
            stitch(), inc(), Run(stitch(), 9), times(3, stitch(), inc()), Run(stitch(), 9), times(2, stitch(), inc())
        ),
        plan(times(12, Run(stitch(), 2), chain(1), skip())),
        colours="RRCC",
        name="Dish",
    )


def rows() -> Piece:
    """A flat piece: sc, a row of dc, a narrowing row."""
    into_chain = Act("sc", Role.WORK, (Made("sc"),), 1, Into.CHAIN)
    pair = Act("sc, hdc", Role.WORK, (Made("sc"), Made("hdc")), 1)
    return piece(
        plan(step("ch 15"), Run(into_chain, 14), TURN),
        plan(step("ch 1"), Run(stitch(), 14), TURN),
        plan(counted(3, "dc", 0), skip(), Run(stitch("dc"), 13), TURN),
        plan(step("ch 1"), stitch(), times(6, skip(), pair), stitch(), TURN),
        plan(step("ch 1"), dec(), Run(stitch(), 10), dec(), TURN),
        plan(step("ch 1"), Run(stitch("hdc", loop=Loop.BACK), 12)),
        start=Start.ROWS,
        colours="CCGCCR",
        name="Cloth",
    )
