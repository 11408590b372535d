"""Rounds by hand and rounds at random, for the tests of this room."""

from __future__ import annotations

from hypothesis import strategies as st

from tracker.rounds.plan import Act, Loop, Made, Node, Plan, Repeat, Role, Run


def plain(times: int = 1, kind: str = "sc") -> Run:
    return Run(Act(kind, Role.WORK, (Made(kind),), 1), times)


def inc(times: int = 1, kind: str = "sc", into_one: int = 2) -> Run:
    return Run(Act("inc" if into_one < 4 else "in one", Role.WORK, (Made(kind, into_one),), 1), times)


def dec(times: int = 1, kind: str = "sc") -> Run:
    return Run(Act("dec" if kind == "sc" else f"{kind}2tog", Role.WORK, (Made(kind),), 2), times)


def step(name: str) -> Run:
    return Run(Act(name, Role.STEP))


def group(times: int, *body: Node) -> Repeat:
    return Repeat(tuple(body), times)


def round_of(*body: Node) -> Plan:
    return Plan(tuple(body))


_KINDS = st.sampled_from(["sc", "hdc", "dc", "tr"])
_LOOPS = st.sampled_from([Loop.BOTH, Loop.BOTH, Loop.BACK, Loop.FRONT])


@st.composite
def runs(draw: st.DrawFn) -> Run:
    """A run of one act: any of those that a line can hold in its middle."""
    kind, loop, times = draw(_KINDS), draw(_LOOPS), draw(st.integers(1, 9))
    acts = [
        Act(kind, Role.WORK, (Made(kind),), 1, loop=loop),
        Act("inc", Role.WORK, (Made(kind, 2),), 1, loop=loop),
        Act("inc", Role.WORK, (Made(kind, 3),), 1),
        Act("in one", Role.WORK, (Made(kind, draw(st.integers(4, 6))),), 1),
        Act("dec", Role.WORK, (Made(kind),), 2),
        Act(f"{kind}3tog", Role.WORK, (Made(kind),), 3),
        Act("in one", Role.WORK, (Made(kind, 2), Made("ch", 2), Made(kind, 2)), 1),
        Act("sk", Role.SKIP, (), 1),
        Act("ch", Role.CHAIN, (Made("ch", draw(st.integers(2, 6))),), 0),
        Act(kind, Role.WORK, (Made(kind),), 1, loop=draw(st.sampled_from([Loop.FRONT_POST, Loop.BACK_POST]))),
    ]
    act = draw(st.sampled_from(acts))
    return Run(act, 1 if act.role is Role.CHAIN else times)


def bodies(depth: int = 2) -> st.SearchStrategy[tuple[Node, ...]]:
    """A few nodes, with groups in them."""
    node: st.SearchStrategy[Node] = runs()
    if depth:
        node = st.one_of(runs(), st.builds(Repeat, bodies(depth - 1), st.integers(2, 7)))
    return st.lists(node, min_size=1, max_size=4).map(tuple)


@st.composite
def toy_rounds(draw: st.DrawFn) -> Plan:
    """A round of one kind of stitch that uses and leaves something, as toys have them."""
    kind = draw(st.sampled_from(["sc", "sc", "hdc", "dc"]))
    k, times = draw(st.integers(1, 8)), draw(st.integers(3, 9))
    body: tuple[Node, ...] = draw(
        st.sampled_from(
            [
                (group(times, plain(k, kind), inc(1, kind)),),
                (group(times, plain(k, kind), dec(1, kind)),),
                (plain(k * times, kind),),
                (plain(k, kind), inc(1, kind), group(times, plain(2 * k, kind), inc(1, kind)), plain(k, kind)),
                (plain(k, kind), inc(2, kind), plain(k, kind)),
            ]
        )
    )
    if draw(st.booleans()):
        body = (step("ch 1"), *body, step("join"))
    return Plan(body)
