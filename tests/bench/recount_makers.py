"""People who crochet, simulated: rounds of real shapes, hands with a rhythm, taps, pauses and mistakes.

Nothing here comes from the model under test. A round is worked act by act over the bases that are really there,
so that a mistake does to the count what it does in yarn: a skipped base is missed at once or leaves the last act
without one; a decrease forgotten leaves a base over, which is worked or not. Where the hands differ from what the
model assumes:

- causes: shares are drawn anew for every maker around shares that are not the model's
- time of a stitch: every maker has their own spread (0.12 to 0.42; cycle times of unpaced hand work vary by about a
  quarter: Knott and Sury, IIE Transactions 19, 1987, from memory) and own times for kinds; the pace drifts (a slow
  wave and tiredness); the model has one spread and a fixed table
- pauses: two sorts, short ones (yarn tugged, 2 to 10 s) and long ones (Weibull, heavy); the model has one log-normal
- a mistake follows a pause for half of the makers only; one time in four the maker hesitates at a mistake, so that
  the repeat is slow instead of fast
- taps: a reaction time is moved from one interval to the next; a doubled tap may come late (1 to 3 s)
- edges, skipping, carrying on and leaving bases unworked have other shares than in the model
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import sin

from support.building import step_act
from support.round_shapes import in_one

from tracker.rounds.plan import Act, Made, Node, Plan, Repeat, Role, Run, Technique
from tracker.session.miscount.question import Tap
from tracker.session.mistakes import Mistake


def plain(times: int = 1, kind: str = "sc") -> Run:
    return Run(Act(kind, Role.WORK, (Made(kind),), 1), times)


def inc(times: int = 1, kind: str = "sc", into_one: int = 2) -> Run:
    return Run(in_one(kind, into_one), times)


def dec(times: int = 1, kind: str = "sc") -> Run:
    return Run(Act("dec", Role.WORK, (Made(kind),), 2, technique=Technique.DECREASE), times)


def chain(length: int, counts_as: str = "") -> Run:
    """A chain at the start of a round; one that does not count is a step, as the reader has it."""
    if not counts_as:
        return Run(step_act(f"ch {length}"))
    made = (Made("ch", length, counts_as),)
    return Run(Act(f"ch {length}", Role.CHAIN, made, 0, technique=Technique.CHAIN))


def step(name: str) -> Run:
    return Run(step_act(name))


def group(times: int, *body: Node) -> Repeat:
    return Repeat(tuple(body), times)


def toy_round(rng: random.Random) -> tuple[Node, ...]:
    """One round of a toy in a spiral."""
    k, times = rng.randint(1, 8), rng.choice((6, 6, 6, 6, 7, 8))
    shapes = (
        (30, lambda: (group(times, plain(k), inc()),)),
        (8, lambda: (plain(k), inc(), group(times - 1, plain(2 * k), inc()), plain(k))),
        (18, lambda: (group(times, plain(k), dec()),)),
        (6, lambda: (plain(k), dec(), group(times - 1, plain(2 * k), dec()), plain(k))),
        (4, lambda: (inc(times),)),
        (4, lambda: (dec(times),)),
        (12, lambda: (plain(rng.choice((12, 18, 24, 30, 36, 42, 48))),)),
        (10, lambda: (plain(k), inc(3), plain(2 * k), inc(3), plain(k))),
        (8, lambda: (group(3, plain(k), inc(), plain(1), inc()), plain(2 * k))),
    )
    weights, makers = zip(*shapes, strict=True)
    return rng.choices(makers, weights)[0]()


def hat_round(rng: random.Random) -> tuple[Node, ...]:
    """One joined round of a hat, in dc or hdc."""
    kind = rng.choice(("dc", "dc", "hdc"))
    opening = chain(3, kind) if rng.random() < 0.4 else chain(2)
    k, times = rng.randint(1, 6), rng.choice((8, 10, 12))
    if rng.random() < 0.6:
        return opening, group(times, plain(k, kind), inc(1, kind)), step("join")
    if rng.random() < 0.4:
        return opening, group(times // 2, plain(k + 1, kind), dec(1, kind)), step("join")
    return opening, plain(rng.choice((48, 54, 60, 72)), kind), step("join")


def row(rng: random.Random) -> tuple[Node, ...]:
    """One row of something flat."""
    n = rng.randint(10, 34)
    return rng.choice(
        (
            (chain(1), plain(n), step("turn")),
            (chain(1), dec(), plain(n), dec(), step("turn")),
            (chain(1), inc(), plain(n), inc(), step("turn")),
            (chain(3, "dc"), plain(n, "dc"), step("turn")),
            (chain(1), group(n // 5 + 2, plain(4), inc()), step("turn")),
        )
    )


@dataclass
class Hands:
    """One maker."""

    rng: random.Random
    causes: dict[Mistake, float] = field(init=False)
    style: str = field(init=False)

    def __post_init__(self) -> None:
        rng = self.rng
        shares = {
            Mistake.PLACE: 3.5,
            Mistake.MISCOUNT: 1.5,
            Mistake.MISSED_INCREASE: 1.5,
            Mistake.MISSED_DECREASE: 1.0,
            Mistake.SKIPPED: 0.9,
            Mistake.DOUBLED: 0.6,
            Mistake.CHAIN_OR_JOIN: 0.8,
            Mistake.REPEAT_MISSED: 0.2,
            Mistake.REPEAT_EXTRA: 0.1,
            Mistake.EVERY_REPEAT: 0.2,
        }
        self.causes = {mistake: rng.gammavariate(share, 1.0) for mistake, share in shares.items()}
        self.style = rng.choices(("repeat", "stitch", "round"), (65, 22, 13))[0]
        self.seconds = rng.uniform(1.2, 4.5)
        self.spread = rng.uniform(0.12, 0.42)
        self.tall = rng.uniform(1.3, 2.1)
        self.together = rng.uniform(1.2, 2.2)
        self.pause_share = rng.uniform(0.01, 0.08)
        self.tug_share = rng.uniform(0.02, 0.12)
        self.slips_after_pause = rng.random() < 0.5
        self.edge_share = {"turn": rng.uniform(0.4, 0.9), "join": rng.uniform(0.3, 0.8), "": rng.uniform(0.0, 0.5)}
        self.drift = rng.uniform(0.0, 0.15)
        self.phase = rng.uniform(0, 6.28)

    def time_of(self, act: Act, share_of_round: float) -> float:
        """How long an act takes these hands now, seconds."""
        kind = act.makes[0].kind if act.makes else act.name
        base = {"sc": 1.0, "hdc": 1 + (self.tall - 1) / 2, "dc": self.tall, "ch": 0.35, "join": 1.4, "turn": 0.8}
        units = base.get(kind, 1.0) * sum(made.count for made in act.makes or (Made("sc"),))
        if act.is_decrease:
            units *= self.together
        wave = 1 + self.drift * (0.7 * share_of_round + 0.6 * sin(self.phase + 5 * share_of_round))
        noise = sum(self.rng.lognormvariate(0, self.spread) for _ in range(max(1, act.stitches)))
        return self.seconds * units * wave * noise / max(1, act.stitches)

    def pause(self) -> float:
        """What comes between two acts now and then, seconds."""
        if self.rng.random() < self.pause_share / 4:
            return self.rng.weibullvariate(60, 0.7)
        if self.rng.random() < self.tug_share / 4:
            return self.rng.uniform(2, 10)
        return 0.0


@dataclass
class Truth:
    """A mistake that was made, and where: a move of the round `rounds_back` rounds before the counted one."""

    mistake: Mistake
    move: int = 0
    edge: str = ""
    rounds_back: int = 0


@dataclass
class Made_:
    """What one act really gave: moves of the line up to its end, stitches made, seconds taken."""

    move: int
    stitches: int
    seconds: float


def acts_of(plan: Plan) -> Iterator[tuple[int, Act]]:
    """Each act with its first move; for rounds of ordinary length."""
    move = 0
    while move < plan.moves:
        spot = plan.spot(move)
        assert spot is not None
        yield move, spot.act
        move += spot.act.moves


def choose_slip(plan: Plan, mistake: Mistake, hands: Hands, paused: set[int], until: int) -> Truth | None:
    """Where in the part up to move `until` this mistake happens; None if it cannot in this round."""
    rng = hands.rng
    acts = [(move, act) for move, act in acts_of(plan) if move + act.moves <= until]
    stitches = [(m, a) for m, a in acts if a.role is Role.WORK]
    if mistake is Mistake.CHAIN_OR_JOIN:
        return _slip_at_chain(plan, acts, until, rng)
    if mistake in (Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT):
        groups = [node for node in plan.body if isinstance(node, Repeat) and node.times >= 3]
        return Truth(mistake) if groups and until == plan.moves else None
    wanted = {
        Mistake.MISSED_INCREASE: [(m, a) for m, a in stitches if a.is_increase],
        Mistake.MISSED_DECREASE: [(m, a) for m, a in stitches if a.is_decrease],
        Mistake.SKIPPED: [(m, a) for m, a in stitches if a.stitches == a.takes == 1],
        Mistake.DOUBLED: [(m, a) for m, a in stitches if a.stitches == a.takes == 1],
    }.get(mistake, [])
    if not wanted:
        return None
    if mistake in (Mistake.SKIPPED, Mistake.DOUBLED) and rng.random() < hands.edge_share[_end(plan)]:
        edge = rng.choice(("first", "last")) if until == plan.moves else "first"
        move, act = stitches[0] if edge == "first" else stitches[-1]
        if (move, act) in wanted:
            return Truth(mistake, move, edge)
    if hands.slips_after_pause:
        odds = [4.0 if any(move - 6 <= p <= move for p in paused) else 1.0 for move, _ in wanted]
    else:
        odds = [1.0] * len(wanted)
    return Truth(mistake, rng.choices(wanted, odds)[0][0])


def _end(plan: Plan) -> str:
    last = plan.spot(plan.moves - 1)
    return last.act.name if last and last.act.role is Role.STEP else ""


def _slip_at_chain(plan: Plan, acts: list[tuple[int, Act]], until: int, rng: random.Random) -> Truth | None:
    first = acts[0][1] if acts else None
    ends = [m for m, a in acts if a.role is Role.WORK]
    closed = until == plan.moves and acts and acts[-1][1].role is Role.STEP
    if first is not None and first.technique is Technique.CHAIN and (rng.random() < 0.5 or not closed):
        return Truth(Mistake.CHAIN_OR_JOIN, 0, "first")
    return Truth(Mistake.CHAIN_OR_JOIN, ends[-1], "last") if closed and ends else None


def work(plan: Plan, bases: int, slips: list[Truth], hands: Hands, pauses: dict[int, float]) -> list[Made_]:
    """Work the round over the bases that are there. The result has one entry for each act of the line, and a last
    one for what was worked into bases left over."""
    rng = hands.rng
    at = {slip.move: slip for slip in slips}
    whole = {slip.mistake for slip in slips}
    left, made = bases, []
    owed = 0
    same_slip = rng.choice((-1, -1, 1)) if Mistake.EVERY_REPEAT in whole else 0
    turn_dropped = _dropped_turn(plan, whole, rng)
    for move, act in acts_of(plan):
        slip = at.get(move)
        mistake = slip.mistake if slip else None
        takes, leaves = act.takes, act.stitches
        seconds = pauses.get(move, 0.0) + hands.time_of(act, move / plan.moves)
        if turn_dropped and turn_dropped[0] <= move < turn_dropped[1]:
            made.append(Made_(move + act.moves, 0, 0.02))
            continue
        if owed and leaves == takes == 1:
            owed -= 1
            made.append(Made_(move + act.moves, 0, 0.0))
            continue
        if mistake is Mistake.MISSED_INCREASE:
            leaves, seconds = leaves - 1, seconds * (leaves - 1) / leaves
        elif mistake is Mistake.MISSED_DECREASE:
            both = rng.random() < 0.6
            takes, leaves = (2, 2) if both else (1, 1)
            seconds *= (2.0 if both else 1.0) / hands.together
        elif mistake is Mistake.SKIPPED:
            if (slip and slip.edge == "last") or rng.random() < 0.5:
                leaves, seconds = 0, 0.2 * hands.seconds
            else:
                takes += 1
        elif mistake is Mistake.DOUBLED:
            leaves, seconds = 2, seconds * 2
            if rng.random() < 0.3:
                owed = 1
        elif mistake is Mistake.CHAIN_OR_JOIN:
            leaves += -1 if act.role is Role.CHAIN and act.stitches else 1
        spot = plan.spot(move)
        if same_slip and spot is not None and spot.turns and act.role is Role.WORK:
            wants_inc = same_slip < 0 and act.is_increase
            first_plain = same_slip > 0 and spot.in_run == 0 and leaves == takes == 1
            if wants_inc or first_plain:
                leaves += same_slip
        if mistake is not None and rng.random() < 0.25:
            seconds += rng.uniform(0.5, 2.5) * hands.seconds
        if act.role is Role.WORK and takes > left:
            leaves = 1 if 0 < left < takes else 0
            seconds *= 0.3 if leaves == 0 else 0.8
            takes = left
        left -= takes
        made.append(Made_(move + act.moves, leaves, max(seconds, 0.02)))
    if left and rng.random() < 0.75 and not turn_dropped:
        made.append(Made_(plan.moves, left, left * hands.seconds))
    if Mistake.REPEAT_EXTRA in whole:
        once = next(n.once for n in plan.body if isinstance(n, Repeat) and n.times >= 3)
        made.append(Made_(plan.moves, once.stitches, once.stitches * hands.seconds))
    return made


def _dropped_turn(plan: Plan, whole: set[Mistake], rng: random.Random) -> tuple[int, int] | None:
    if Mistake.REPEAT_MISSED not in whole:
        return None
    start = 0
    for node in plan.body:
        if isinstance(node, Repeat) and node.times >= 3:
            turn = rng.randint(1, node.times - 1)
            return start + turn * node.once.moves, start + (turn + 1) * node.once.moves
        start += node.tally.moves
    return None


def tap_moves(plan: Plan, style: str) -> list[int]:
    """The moves at which this maker taps."""
    if style == "round":
        return [plan.moves]
    ends, move = [], 0
    while move < plan.moves:
        spot = plan.spot(move)
        assert spot is not None
        move = plan.boundary_after(move) if style == "repeat" else move + spot.act.moves
        ends.append(move)
    return ends


def taps_for(made: list[Made_], ends: list[int], hands: Hands, begun: float) -> list[tuple[float, int]]:
    """When the maker taps for each of these ends, as (time, moves)."""
    rng, clock = hands.rng, begun
    by_move: dict[int, float] = {}
    for act in made:
        clock += act.seconds
        by_move[act.move] = clock
    return [(by_move[end] + rng.gammavariate(2, 0.15), end) for end in ends]


def as_taps(times: list[tuple[float, int]]) -> tuple[Tap, ...]:
    before, taps = 0, []
    for at, after in times:
        taps.append(Tap(at, before, after))
        before = after
    return tuple(taps)
