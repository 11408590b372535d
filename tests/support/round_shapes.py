"""Rounds by hand and rounds at random, for the tests of this room."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st
from support.building import step_act

from tracker.rounds.plan import Act, Loop, Made, Node, Plan, Repeat, Role, Run, Technique


def plain(times: int = 1, kind: str = "sc") -> Run:
    return Run(Act(kind, Role.WORK, (Made(kind),), 1), times)


def in_one(kind: str, count: int) -> Act:
    """Several stitches in one place, by the name that the reader gives them."""
    name, technique = ("inc", Technique.INCREASE) if count < 4 else ("in one", Technique.IN_ONE)
    return Act(name, Role.WORK, (Made(kind, count),), 1, technique=technique)


def inc(times: int = 1, kind: str = "sc", into_one: int = 2) -> Run:
    return Run(in_one(kind, into_one), times)


def dec(times: int = 1, kind: str = "sc") -> Run:
    name, technique = ("dec", Technique.DECREASE) if kind == "sc" else (f"{kind}2tog", Technique.TOGETHER)
    return Run(Act(name, Role.WORK, (Made(kind),), 2, technique=technique), times)


def step(name: str) -> Run:
    return Run(step_act(name))


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
        replace(in_one(kind, 2), loop=loop),
        in_one(kind, 3),
        in_one(kind, draw(st.integers(4, 6))),
        Act("dec", Role.WORK, (Made(kind),), 2, technique=Technique.DECREASE),
        Act(f"{kind}3tog", Role.WORK, (Made(kind),), 3, technique=Technique.TOGETHER),
        Act("in one", Role.WORK, (Made(kind, 2), Made("ch", 2), Made(kind, 2)), 1, technique=Technique.IN_ONE),
        Act("sk", Role.SKIP, (), 1, technique=Technique.SKIP),
        Act("ch", Role.CHAIN, (Made("ch", draw(st.integers(2, 6))),), 0, technique=Technique.CHAIN),
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
