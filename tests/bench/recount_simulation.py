"""How often the true place of a miscount is among the first that are told: simulated makers, three ways of ranking.

    python tests/bench/recount_simulation.py [--makers 3000] [--split report|tuning] [--json FILE]

Weights may be tried out on the split "tuning" only; the figures to report are those of "report", whose makers were
never looked at while tuning. Compared are: the whole search; the same without tap times; and a baseline that ranks
the places by the prior of their cause alone (knowing only whether the count is over or under).
"""

from __future__ import annotations

import argparse
import json
import random
import sys
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from recount_makers import (
    Hands,
    Made_,
    Truth,
    acts_of,
    as_taps,
    choose_slip,
    dec,
    group,
    hat_round,
    inc,
    plain,
    row,
    step,
    tap_moves,
    taps_for,
    toy_round,
    work,
)

from tracker.pattern.model import Round
from tracker.rounds.formatter import notate
from tracker.rounds.line_report import read_line
from tracker.rounds.plan import Node, Plan
from tracker.rounds.slicing import stretch_at
from tracker.session.miscount.causes import causes_of
from tracker.session.miscount.confirmed_causes import Learned, learned_from
from tracker.session.miscount.repairs import Situation, Way, mends
from tracker.session.miscount.sections import closing
from tracker.session.miscount.suspects import Mistake, Question, Suspect, Worked, locate

FIRST_SEED = {"tuning": 0, "report": 1_000_000}
SMALL = 8
"""A place is told when it is one time through a group or at most this many stitches."""
A_LONG_PAUSE = 12.0
"""Seconds after which these makers are likelier to slip."""


@dataclass
class Case:
    """One miscount: what the tracker is asked, and what is true."""

    question: Question
    truths: list[Truth]
    style: str
    sort: str
    half_way: bool
    spread: float
    learned: Learned


def simulate(seed: int) -> Case | None:
    """One maker, one count. None when the count happens to agree, or nothing could go wrong."""
    rng = random.Random(seed)
    hands = Hands(rng)
    sort = rng.choices(("toy", "hat", "row"), (60, 20, 20))[0]
    plan = Plan({"toy": toy_round, "hat": hat_round, "row": row}[sort](rng))
    before = _round_before(plan, rng)
    counted_before = rng.random() < 0.75
    pauses, pauses_before = _pauses(plan, hands), _pauses(before, hands)
    paused = {move for move, seconds in pauses.items() if seconds > A_LONG_PAUSE}
    slips, before_slips, tap_slip, count_slip = _mistakes(plan, before, counted_before, hands, paused)
    if not (slips or before_slips or tap_slip or count_slip):
        return None
    made_before = work(before, before.uses, before_slips, hands, pauses_before)
    begun = rng.uniform(0, 1000)
    taps_before = taps_for(made_before, tap_moves(before, hands.style), hands, begun)
    bases = sum(m.stitches for m in made_before) if before_slips else plan.uses
    start = taps_before[-1][0] + rng.uniform(0.2, 3)
    made = work(plan, bases, slips, hands, pauses)
    times = taps_for(made, tap_moves(plan, hands.style), hands, start)
    half_way = hands.style != "round" and len(times) > 3 and not before_slips and rng.random() < 0.3
    return _counted(
        _Scene(plan, made, times, hands, sort, half_way, tap_slip, count_slip, slips + before_slips),
        Worked(before, as_taps(taps_before), begun, counted_before),
        taps_before[-1][0] if rng.random() < 0.9 else None,
    )


@dataclass
class _Scene:
    plan: Plan
    made: list[Made_]
    times: list[tuple[float, int]]
    hands: Hands
    sort: str
    half_way: bool
    tap_slip: bool
    count_slip: bool
    truths: list[Truth]


def _round_before(plan: Plan, rng: random.Random) -> Plan:
    n = plan.uses
    if n % 6 == 0 and n >= 18 and rng.random() < 0.5:
        return Plan((group(6, plain(n // 6 - 2), inc()),))
    return Plan((plain(n),))


def _pauses(plan: Plan, hands: Hands) -> dict[int, float]:
    return {move: hands.pause() for move, _ in acts_of(plan)}


def _mistakes(
    plan: Plan, before: Plan, counted_before: bool, hands: Hands, paused: set[int]
) -> tuple[list[Truth], list[Truth], bool, bool]:
    rng = hands.rng
    slips: list[Truth] = []
    before_slips: list[Truth] = []
    tap_slip = count_slip = False
    for _ in range(2 if rng.random() < 0.15 else 1):
        mistake = rng.choices(list(hands.causes), list(hands.causes.values()))[0]
        if mistake is Mistake.PLACE:
            tap_slip = tap_slip or hands.style != "round"
        elif mistake is Mistake.MISCOUNT:
            count_slip = True
        elif not counted_before and rng.random() < 0.4:
            slip = choose_slip(before, mistake, hands, set(), before.moves)
            if slip is not None and mistake not in _WHOLE:
                before_slips.append(replace(slip, rounds_back=1))
        else:
            slip = choose_slip(plan, mistake, hands, paused, plan.moves)
            if slip is not None and all(slip.move != other.move for other in slips):
                slips.append(slip)
    return slips, before_slips, tap_slip, count_slip


_WHOLE = (Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT)


def _counted(scene: _Scene, before: Worked, begun: float | None) -> Case | None:
    """The taps as the tracker got them, and the count at that moment."""
    rng, ends = scene.hands.rng, [end for _, end in scene.times]
    stop = rng.randint(2, len(ends) - 1) if scene.half_way else len(ends)
    times = [at for at, _ in scene.times[:stop]]
    truths = [t for t in scene.truths if t.rounds_back or t.move < ends[stop - 1] or t.mistake in _WHOLE]
    worked = stop
    between = scene.half_way and rng.random() < (0.45 if scene.tap_slip else 0.2)
    if scene.tap_slip and len(ends) > 1 and not between:
        times, worked = _slip_of_taps(times, worked, rng, scene.half_way, len(ends))
        truths.append(Truth(Mistake.PLACE))
    taps = [(at, ends[i]) for i, at in enumerate(times)]
    actual = sum(m.stitches for m in scene.made if m.move <= ends[worked - 1])
    if worked < len(ends) and between:
        ahead = sum(m.stitches for m in scene.made if ends[worked - 1] < m.move <= ends[worked])
        further = rng.randint(1, ahead) if ahead > 0 else 0
        if further:
            actual += further
            truths.append(Truth(Mistake.PLACE))
    if scene.count_slip:
        actual = max(0, actual + _wrong_by(rng))
        truths.append(Truth(Mistake.MISCOUNT))
    done = taps[-1][1] if taps else 0
    expected = scene.plan.stitches_before(done)
    if actual == expected or not truths:
        return None
    question = Question(scene.plan, expected, actual, done, as_taps(taps), begun, (before,))
    return Case(
        question,
        truths,
        scene.hands.style,
        scene.sort,
        done < scene.plan.moves,
        scene.hands.spread,
        _confirmed(scene.hands),
    )


def _confirmed(hands: Hands) -> Learned:
    """Twenty causes that this maker confirmed before, drawn from their own shares."""
    rng = random.Random(hands.seconds)
    names = rng.choices(list(hands.causes), list(hands.causes.values()), k=20)
    return learned_from(mistake.value for mistake in names)


def _slip_of_taps(
    times: list[float], worked: int, rng: random.Random, half_way: bool, all_ends: int
) -> tuple[list[float], int]:
    """A tap missed or one too many. At the end of a round the tracker asks as soon as it thinks it is there."""
    index = rng.randrange(len(times))
    if rng.random() < 0.5 and len(times) > 1:
        return times[:index] + times[index + 1 :], worked
    late = rng.uniform(1, 3) if rng.random() < 0.2 else rng.uniform(0.1, 0.8)
    doubled = sorted([*times, times[index] + late])
    if half_way and len(doubled) <= all_ends:
        return doubled, worked
    return doubled[: len(times)], worked - 1


def _wrong_by(rng: random.Random) -> int:
    size = rng.choices((1, 2, 3, 4, 10), (62, 20, 6, 4, 8))[0]
    return rng.choice((-1, 1)) * size


def matches(place: Suspect, truth: Truth, in_rows: bool) -> bool:
    """Whether the maker who looks at this place comes upon this mistake.

    In a round the first and last stitch, the chain and the join are one place to look at; in rows they are two.
    """
    if not truth.mistake.is_in_fabric or truth.mistake in _WHOLE:
        return place.mistake is truth.mistake
    if not place.mistake.is_in_fabric or place.mistake in _WHOLE or place.rounds_back != truth.rounds_back:
        return False
    if truth.edge and place.edge:
        return place.edge == truth.edge or not in_rows
    if truth.mistake is Mistake.CHAIN_OR_JOIN or place.edge:
        return place.stretch[0] <= truth.move < place.stretch[1] and bool(place.edge)
    start, until = place.stretch
    return start <= truth.move < until and (_in_one_turn(place) or until - start <= SMALL)


def _in_one_turn(place: Suspect) -> bool:
    return place.words.split(":")[0].split(", ")[-1].startswith("repeat ")


def by_prior_alone(question: Question) -> list[Suspect]:
    """The baseline: every place that can give more (or fewer) stitches, by the prior of its cause, in round order."""
    bare = replace(question, taps=(), begun=None)
    weight_of: dict[tuple[object, ...], float] = defaultdict(float)
    places: dict[tuple[object, ...], Suspect] = {}
    for cause in causes_of(bare, Learned()):
        if cause.effect * question.by <= 0:
            continue
        edge = cause.edge and (cause.edge if closing(question.plan) == "turn" else "edge")
        key = (cause.mistake.is_in_fabric or cause.mistake, cause.rounds_back, edge or cause.stretch)
        if cause.mistake in _WHOLE:
            key = (cause.mistake,)
        weight_of[key] += cause.weight
        if key not in places:
            stretch = (cause.start, cause.until)
            words = "repeat " if _grouped(bare, cause.rounds_back, cause.start) else ""
            places[key] = Suspect(
                mistake=cause.mistake,
                effect=cause.effect,
                words=words,
                look_for="",
                move=cause.start,
                until=cause.until,
                stretch=stretch,
                stitch=0,
                back=0,
                probability=0.0,
                rounds_back=cause.rounds_back,
                edge=cause.edge,
            )
    return [places[key] for key in sorted(weight_of, key=lambda k: -weight_of[k])]


def _grouped(question: Question, rounds_back: int, move: int) -> bool:
    plan = question.earlier[rounds_back - 1].plan if rounds_back else question.plan
    spot = plan.spot(move)
    return spot is not None and bool(spot.turns)


def _without_taps(question: Question) -> Question:
    return replace(question, taps=(), begun=None, earlier=tuple(replace(w, taps=()) for w in question.earlier))


RANKINGS: dict[str, Callable[[Case], Sequence[Suspect]]] = {
    "with taps": lambda case: locate(case.question),
    "and 20 causes learned": lambda case: locate(case.question, case.learned),
    "without taps": lambda case: locate(_without_taps(case.question)),
    "prior alone": lambda case: by_prior_alone(case.question),
}


def hits(case: Case) -> dict[str, tuple[bool, bool, bool]]:
    """For each ranking: the first place is right; one of the first three is; and names the very cause."""
    found = {}
    in_rows = case.sort == "row"
    for name, rank in RANKINGS.items():
        places = list(rank(case))[:3]
        right = [any(matches(place, truth, in_rows) for truth in case.truths) for place in places]
        named = any(
            matches(place, truth, in_rows) and (place.mistake is truth.mistake)
            for place in places
            for truth in case.truths
        )
        found[name] = (bool(right and right[0]), any(right), named)
    return found


def run(makers: int, split: str) -> dict[str, dict[str, object]]:
    """The table: for each sort of case, how many and the hit rates in percent."""
    rows: dict[str, list[dict[str, tuple[bool, bool, bool]]]] = defaultdict(list)
    for seed in range(FIRST_SEED[split], FIRST_SEED[split] + makers):
        case = simulate(seed)
        if case is None:
            continue
        found = hits(case)
        for label in _labels(case):
            rows[label].append(found)
    return {label: _rates(rows[label]) for label in sorted(rows)}


def _labels(case: Case) -> list[str]:
    fabric = any(t.mistake.is_in_fabric for t in case.truths)
    labels = ["0 all", f"1 {'one mistake' if len(case.truths) == 1 else 'two mistakes'}"]
    labels.append(f"2 {'half-way' if case.half_way else 'finished round'}")
    labels.append(f"3 {'in the fabric' if fabric else 'tracker or count'}")
    if fabric:
        labels.append(f"3 in the fabric, tapped by {case.style}")
        labels.append(f"3 in the fabric, {'can be told' if _can_be_told(case) else 'inside one long tap'}")
    if fabric:
        labels.append(f"3 in the fabric, {_hands(case.spread)} hands")
    labels.append(f"4 tapped by {case.style}")
    labels.append(f"5 {case.sort}")
    if len(case.truths) == 1:
        truth = case.truths[0]
        labels.append(f"6 {truth.mistake.value}")
        if truth.rounds_back:
            labels.append("7 in the round before")
    return labels


def _hands(spread: float) -> str:
    return "even" if spread < 0.22 else "usual" if spread < 0.32 else "uneven"


def _can_be_told(case: Case) -> bool:
    """Whether a group of the line or the taps set the place of some mistake apart from its neighbours."""
    return any(_set_apart(case.question, truth) for truth in case.truths if truth.mistake.is_in_fabric)


def _set_apart(question: Question, truth: Truth) -> bool:
    if truth.edge or truth.mistake in _WHOLE:
        return True
    plan = question.earlier[truth.rounds_back - 1].plan if truth.rounds_back else question.plan
    taps = question.earlier[truth.rounds_back - 1].taps if truth.rounds_back else question.taps
    part = stretch_at(plan, truth.move)
    edges = [(part.start, part.until), *((tap.before, tap.after) for tap in taps)]
    return part.in_group or any(a <= truth.move < b and b - a <= SMALL for a, b in edges)


def _rates(found: list[dict[str, tuple[bool, bool, bool]]]) -> dict[str, object]:
    rates: dict[str, object] = {"cases": len(found)}
    for name in RANKINGS:
        for i, what in enumerate(("first", "first three", "named")):
            rates[f"{name}: {what}"] = round(100 * sum(f[name][i] for f in found) / len(found), 1)
    return rates


def mending(makers: int, split: str) -> dict[str, float]:
    """For mistakes in the fabric: how often a mend within two rounds exists, and how much it changes."""
    tried, found, over_two, changes = 0, 0, 0, []
    for seed in range(FIRST_SEED[split], FIRST_SEED[split] + makers):
        case = simulate(seed)
        if case is None or not all(truth.mistake.is_in_fabric for truth in case.truths):
            continue
        situation = _situation(case, random.Random(seed))
        ways = [way for way in mends(situation, locate(case.question)) if way.way in (Way.HERE, Way.NEXT)]
        tried += bool(situation.by)
        if situation.by and ways:
            found += 1
            over_two += len(ways[-1].rounds) > 1
            changes.append(abs(situation.by))
    return {
        "cases": tried,
        "a mend within two rounds, percent": round(100 * found / tried, 1),
        "of these over two rounds, percent": round(100 * over_two / max(found, 1), 1),
        "changes to the pattern, mean": round(sum(changes) / max(len(changes), 1), 2),
        "changes to the pattern, most": max(changes, default=0),
    }


def _situation(case: Case, rng: random.Random) -> Situation:
    """The round of a case with two rounds after it, as the same sort of work would go on."""
    plan = case.question.plan
    rounds = [_written(5, plan)]
    for number in (6, 7):
        rounds.append(_written(number, Plan(_going_on(rounds[-1].plan, case.sort, rng))))
    return Situation(case.question, rounds[0], tuple(rounds[1:]), read_line, plan.uses)


def _written(number: int, plan: Plan) -> Round:
    text = f"Rnd {number}: {notate(plan)} ({plan.leaves})"
    return Round(number, f"Rnd {number}", text, plan, plan.uses)


def _going_on(plan: Plan, sort: str, rng: random.Random) -> tuple[Node, ...]:
    stitches = plan.leaves
    kind = max(plan.tally.kinds, key=lambda item: item[1])[0]
    opening = () if sort == "toy" else (step("ch 1"),)
    closing_step = () if sort == "toy" else (step("join" if sort == "hat" else "turn"),)
    middle: tuple[Node, ...] = (plain(stitches, kind),)
    if sort != "row" and stitches % 6 == 0 and stitches >= 12:
        each = stitches // 6
        more, fewer = (plain(each - 1, kind), inc(1, kind)), (plain(each - 2, kind), dec(1, kind))
        middle = rng.choice((middle, (group(6, *more),), (group(6, *fewer),) if each > 2 else middle))
    if rng.random() < 0.15 and stitches % 2 == 0:
        middle = (group(stitches // 2, plain(1, "sc"), plain(1, "dc")),)  # a texture, which leaves no room
    elif rng.random() < 0.2 and stitches >= 18:
        side = (stitches - 6) // 4  # increases that shape two sides and must stay there
        rest = stitches - 6 - 3 * side
        middle = (plain(side, kind), inc(3, kind), plain(2 * side, kind), inc(3, kind), plain(rest, kind))
    return (*opening, *middle, *closing_step)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--makers", type=int, default=3000)
    parser.add_argument("--split", choices=FIRST_SEED, default="report")
    parser.add_argument("--json", type=Path)
    options = parser.parse_args()
    table = run(options.makers, options.split)
    print(f"{'':40} cases" + "".join(f" | {name:20}" for name in RANKINGS))
    print(f"{'':40}      " + " |  first  three  named" * len(RANKINGS))
    for label, rates in table.items():
        cells = [
            " ".join(f"{rates[f'{name}: {what}']:6}" for what in ("first", "first three", "named"))
            for name in RANKINGS
        ]
        print(f"{label[2:]:40} {rates['cases']:5} | " + " | ".join(cells))
    mended = mending(options.makers, options.split)
    print("\nmends: " + "; ".join(f"{name} {value}" for name, value in mended.items()))
    if options.json:
        options.json.write_text(json.dumps({"places": table, "mends": mended}, indent=1))


if __name__ == "__main__":
    main()
