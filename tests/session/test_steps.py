"""What one tap takes: letters, marked words and event are one and the same, whatever the size of the step."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest
from support.screens import SHIPPED, shipped

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.phrasing.stitches import short_words
from tracker.rounds.line_report import read_line
from tracker.rounds.plan import Plan
from tracker.session.events import RoundDone
from tracker.session.reducer import advance, begin
from tracker.session.state import Copy, Place, State, next_copy
from tracker.session.steps import runs_of, says_nothing_of_the_yarn, step_now
from tracker.session.view import Step, StepSize
from tracker.session.worked_rounds import round_at

NAMES = sorted(path.stem for path in SHIPPED.glob("*.toml"))

NOT_READ_ALONE = ("more", "in sp", "same st", "between", "other side", "join", "turn", "fasten", "bobble", "picot")
"""Letters that mean something only where they stand: half of an increase, a space of the round below, a join."""


def every_step(pattern: Pattern, size: StepSize) -> list[tuple[State, Step, State]]:
    """One copy of each piece from beginning to end, tap by tap."""
    found = []
    for index, piece in enumerate(pattern.pieces):
        state = begin(pattern)
        state = State(state.work.going_on_with(Copy(index, 1)))
        while state.work.copy == Copy(index, 1) and state.work.place.round_index < len(piece.rounds):
            step = step_now(pattern, state, size)
            assert step is not None
            after = advance(pattern, state, step.event, 0.0)
            found.append((state, step, after))
            state = State(after.work)
    return found


def check(pattern: Pattern, size: StepSize) -> int:
    """Letters, marks and tap of every step, each worked out from the moves themselves; how many letters were read."""
    read = 0
    for before, step, after in every_step(pattern, size):
        copy, place = before.work.copy, before.work.place
        item = round_at(pattern, before.work, copy.piece, copy.number, place.round_index)
        if item.plan is None or not item.plan.moves:
            assert isinstance(step.event, RoundDone)
            continue
        plan = item.plan
        assert step.start == place.moves < step.until <= plan.moves
        _is_what_the_tap_takes(plan, step, place, after.work.place_in(copy))
        _is_what_is_marked(plan, step)
        read += _is_what_the_letters_say(plan, step, short_words(step.stretch, "US"))
    return read


def _is_what_the_tap_takes(plan: Plan, step: Step, before: Place, after: Place) -> None:
    if step.until < plan.moves:
        assert after == Place(before.round_index, step.until, plan.stitches_before(step.until))
    else:
        assert after == Place(before.round_index + 1)


def _is_what_is_marked(plan: Plan, step: Step) -> None:
    """Every act that is made is marked, and no act that is not."""
    taken = {spot.span for spot, _ in zip(plan.walk(step.start), range(step.until - step.start), strict=False)}
    marked = {
        run.span
        for run in runs_of(plan.body)
        if any(
            mark.line == run.span.line and mark.start <= run.span.start < run.span.end <= mark.end
            for mark in step.spans
        )
    }
    assert marked == {span for span in taken if span.end > span.start}


def _is_what_the_letters_say(plan: Plan, step: Step, letters: str) -> bool:
    assert letters and "in one" not in letters
    chains = [made for act in Plan(step.stretch.nodes).acts() for made in act.makes if made.is_chain]
    if any(word in letters for word in NOT_READ_ALONE) or any(made.counts_as for made in chains) or not step.stitches:
        return False
    ends = [plan.spot(move) for move in (step.start, step.until)]
    first, last = (spot.takes_done if spot else plan.uses for spot in ends)
    made = plan.stitches_before(step.until) - plan.stitches_before(step.start)
    assert _leaves(letters, last - first if last > first else made) == made, letters
    return True


@cache
def _leaves(letters: str, before: int) -> int | None:
    """What our reader makes of the letters as a line of its own."""
    plan = read_line(f"Rnd 2: {letters}", before).plan
    return plan.leaves if plan else None


@pytest.mark.parametrize("size", StepSize)
@pytest.mark.parametrize("name", NAMES)
def test_letters_and_marks_and_tap_are_one_in_every_shipped_pattern(name: str, size: StepSize) -> None:
    assert check(shipped(name), size) > 0


GENERATED = 200


def a_pattern(seed: int) -> Pattern:
    """Rounds of the usual forms with changes of colour, chains, skips, groups in groups and joins."""
    random = Random(seed)
    rounds, stitches = ["Rnd 1 (A): 6 sc in magic ring (6)"], 6
    rounds.append(f"Rnd 2: inc in each st around ({2 * stitches})")
    stitches *= 2
    for number in range(3, 5):
        head = f"Rnd {number} (B): " if random.random() < 0.3 else f"Rnd {number}: "
        text, stitches = _a_round(random, stitches)
        end = random.choice(["", "", ", sl st to first sc", ", sl st to first sc, fasten off"])
        rounds.append(f"{head}{text}{end}")
    body = "\n".join(rounds)
    yarns = "".join(f'[yarn.{key}]\nname = "{name}"\n' for key, name in (("A", "ash"), ("B", "berry")))
    return loads(f'title = "Made up"\n{yarns}[[piece]]\nname = "Part"\nrounds = """\n{body}\n"""\n')


def _a_round(random: Random, stitches: int) -> tuple[str, int]:
    """Over a multiple of 6 stitches; the text, and what it leaves, again a multiple of 6."""
    each = stitches // 6
    plain = each - 1
    forms = [
        ("sc around", stitches),
        (f"({plain} sc, inc) x 6", stitches + 6),
        (f"{plain} sc, inc, ({plain} sc, inc) x 5", stitches + 6),
        (f"{stitches // 2} sc, (B) {stitches // 3} sc, (A) {stitches // 6} sc", stitches),
        ("ch 1, BLO sc in each st around", stitches),
        ("*ch 2, sk 1, sc in next st; rep from * around", stitches // 2)
        if stitches % 12 == 0
        else ("sc around", stitches),
        (
            f"(1 sc, inc, (1 hdc, 1 dc) in next st, inc) x {stitches // 4}" if stitches % 24 == 0 else "sc around",
            stitches // 4 * 7 if stitches % 24 == 0 else stitches,
        ),
        (f"({max(each - 2, 0)} sc, dec) x 6" if each > 2 else "sc around", stitches - 6 if each > 2 else stitches),
    ]
    return random.choice(forms)


def test_letters_and_marks_and_tap_are_one_in_patterns_that_nobody_wrote() -> None:
    patterns = map(a_pattern, range(GENERATED))
    read = sum(check(pattern, size) for pattern in patterns for size in StepSize)
    assert read > 20 * GENERATED


def taps(pattern: Pattern, size: StepSize) -> list[tuple[Copy, str]]:
    """All taps until every copy of every piece is made: the copy and the letters."""
    state, found = begin(pattern), []
    while step := step_now(pattern, state, size):
        found.append((state.work.copy, short_words(step.stretch, pattern.terms)))
        state = State(advance(pattern, state, step.event, 0.0).work)
        following = next_copy(pattern, state.work)
        state = State(state.work.going_on_with(following)) if following else state
    return found


def test_a_whole_toadstool_takes_few_taps() -> None:
    """By rounds 45 rounds, two stitches that draw in a colour, and the end of the first copy of each piece and of the
    stem before its skirt, counted by hand on the pattern."""
    toadstool = shipped("toadstool")
    assert len(taps(toadstool, StepSize.ROUND)) == 45 + 2 + 5
    assert len(taps(toadstool, StepSize.REPEAT)) <= 143 - 6


def test_later_copies_are_finished_with_their_last_round_by_a_maker_who_taps_rounds() -> None:
    spots = [letters for copy, letters in taps(shipped("toadstool"), StepSize.ROUND) if copy.piece == 3]
    assert spots == ["6 sc", "join, fasten off", *["6 sc, join, fasten off"] * 4]
    noted = loads(
        'title = "T"\n[[piece]]\nname = "T"\nmake = 2\nnotes = ["After Rnd 1 cut the yarn long."]\n'
        'rounds = "Rnd 1: 6 sc in magic ring, fasten off (6)"\n'
    )
    assert [letters for _, letters in taps(noted, StepSize.ROUND)] == ["6 sc", "fasten off"] * 2


def test_a_chain_before_a_long_group_does_not_make_it_one_breath() -> None:
    """Of "ch 1, (1 sc, sk 2, shell, sk 2)" nobody remembers the last while the first is made."""
    rounds = "Rnd 1: 24 sc in magic ring (24)\nRnd 2: ch 1, *sc in next st, sk 2, 5 dc in next st, sk 2; rep from *"
    made = loads(f'[[piece]]\nname = "A"\nstart = "joined"\nrounds = """\n{rounds} around, join (24)\n"""\n')
    second = [words for _, words in taps(made, StepSize.REPEAT)][1:]
    assert second[:3] == ["ch 1, 1 sc", "sk 2, (5 dc), sk 2", "1 sc"]


@pytest.mark.parametrize(
    ("last", "note", "is_silent"),
    [
        ("Rnd 2: sc around (6)", "", True),
        ("Rnd 2: sc around, fasten off (6)", "", False),
        ("Rnd 2: sc around (6)", "Leave a long tail for sewing.", False),
        ("Rnd 2: sc around (6)", "Do not fasten off the second leg.", False),
        ("Rnd 2: sc around (6)", "Stuff it firmly.", True),
        ("Rnd 2: sc around, leave the tail (6)", "", False),
        ("Rnd 2: sc around, leave the tail (6)\nRnd 3: sc around (6)", "", True),
    ],
)
def test_what_becomes_of_the_yarn_is_only_told_where_the_pattern_does_not(
    last: str, note: str, is_silent: bool
) -> None:
    notes = f'notes = ["{note}"]\n' if note else ""
    made = loads(f'[[piece]]\nname = "A"\n{notes}rounds = """\nRnd 1: 6 sc in magic ring (6)\n{last}\n"""\n')
    assert says_nothing_of_the_yarn(made, made.pieces[0]) is is_silent
