"""What a round is worked into: what the one below it leaves, states or is needed to leave, and the piece before.

The round below need not have been read: then its stated total, or what this round needs, stands for its number.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from itertools import islice, takewhile

from tracker.diagnostics import Problem, Severity, note, verdict_of, warning
from tracker.lazy_dataclass import replace
from tracker.notation.ast import SLIP_STITCH, Into, Line, Role, Stated, Technique, acts
from tracker.notation.context import Context, OwnWord
from tracker.notation.reader import read_round
from tracker.pattern.model import Piece, PieceBelow, Round
from tracker.pattern.round_loops import loops_of_round
from tracker.plural import number_of
from tracker.rounds.bases import Base, left_by, takes_beside
from tracker.rounds.checks import Weighed, comes_out, needs_these, weigh
from tracker.rounds.plan import Plan

LineWithTotal = tuple[Line, Stated | None]
"""A written line, with the total of its first round."""

MOST_GROWTH = 3
"""Times the stitches below that a round makes at the most, three in each, unless its total says so: where it comes to
more than that and the total to less, it was misread and not misprinted (common practice, no source)."""


def with_total(text: str, context: Context, main: str) -> LineWithTotal:
    """A written line in the words of its piece, `main` being its stitch."""
    line = read_round(text, context, main)
    return line, stated_for(line, 0, max(len(line.heading.numbers), 1))


def stated_for(line: Line, index: int, count: int) -> Stated | None:
    """The total for one round of a range: its own where each is stated, else the one for all."""
    if len(line.stated) == count:
        return line.stated[index]
    return line.stated[-1] if line.stated else None


def base_left_by(round_: Round) -> Base | None:
    """What a round leaves to be worked into: by its plan, or by its stated total where it could not be read, or uses
    more than is there."""
    if round_.plan is not None and round_.verdict != "error" and not _is_misread(round_.plan, round_):
        return left_by(round_.plan)
    if round_.stated is not None and round_.stated.stitches is not None:
        return Base(round_.stated.stitches, round_.stated.spaces)
    return None


def _is_misread(plan: Plan, round_: Round) -> bool:
    stated = round_.stated.stitches if round_.stated is not None else None
    if not stated or not round_.before or round_.verdict != "disagrees":
        return False
    return plan.leaves > MOST_GROWTH * max(stated, round_.before)


def with_chain_ahead(base: Base | None, below: Round, line: Line) -> Base | None:
    """What is there for a row that begins "in 2nd ch from hook", of a chain that the row below ended with: its
    chains, and what else that row leaves."""
    first = next((act for act in acts(line.body) if act.role is Role.WORK), None)
    if base is None or below.plan is None or first is None or not first.from_hook:
        return base
    ended = takewhile(lambda act: act.role is Role.STEP, reversed(list(below.plan.acts())))
    length = next((act.length for act in ended if act.technique is Technique.CHAIN), 0)
    return Base(base.stitches + length) if length >= first.from_hook else base


def over_chain_and_row(line: Line, below: Round, weighed: Weighed) -> tuple[Base, Weighed] | None:
    """A row that begins with a chain of its own and goes on over the row below, "ch 4, sc in 2nd ch from hook and
    next 2 ch, sc in each sc across": what is there, and what comes of it; None if it comes out over that chain
    alone."""
    row = base_left_by(below)
    if line.foundation is None or not line.foundation.bases or row is None:
        return None
    if line.heading.numbers[:1] != (below.number + 1,) or (weighed_well(weighed) and not line.heading.is_row):
        return None
    both = Base(row.stitches + line.foundation.chains)
    over_both = weigh(replace(line, foundation=None, stated=()), both, weighed.stated)
    return (
        (both, over_both)
        if weighed_well(over_both) and over_both.uses == row.stitches + line.foundation.bases
        else None
    )


def weighed_well(weighed: Weighed) -> bool:
    """Whether nothing of a round is in doubt."""
    return verdict_of(weighed.problems) == "ok"


def is_loops_alone(round_: Round) -> bool:
    """Whether a round is nothing but loops of chains held by slip stitches: the stitches that it passes over stay
    free behind them."""
    plan = round_.plan
    made = {made.kind for act in plan.acts() for made in act.makes if not made.is_chain} if plan else set()
    return plan is not None and plan.tally.spaces > 0 and made <= {SLIP_STITCH}


def piece_below(piece: Piece) -> PieceBelow | None:
    """What a piece leaves to the next one in the pattern; None if it is made several times, or came to no number."""
    base = base_left_by(piece.rounds[-1]) if piece.rounds and piece.make == 1 else None
    counts = tuple((each.number, each.leaves) for each in piece.rounds if each.leaves)
    return PieceBelow(piece.name, piece.rounds[-1].number, base, counts) if base is not None else None


def base_of_piece(below: PieceBelow | None, line: Line, remarks: Sequence[str]) -> tuple[Base | None, list[Problem]]:
    """What the first round of a piece goes on from: the round of the piece before whose loops it or a remark over it
    names, or the last one, where its words say so, and for asking where nothing else is there and it comes out over
    that."""
    if below is None:
        return None, []
    into = line.worked_into or next(filter(None, map(loops_of_round, (line.text, *remarks))), 0)
    if into in dict(below.counts):
        base = Base(dict(below.counts)[into])
        message = f"goes on from round {into} of '{below.name}', which has {base.stitches}"
        comes = weighed_well(weigh(line, base))
        return (base, [note("base-assumed", message, line.instruction)]) if comes else (None, [])
    if line.worked_into is not None:
        return None, []
    leaves = f"'{below.name}', which leaves {below.base.stitches}"
    if _goes_on(line, below):
        return below.base, [note("base-assumed", f"goes on from {leaves}", line.instruction)]
    left_open = line.is_readable and any(problem.code == "base-unknown" for problem in weigh(line, None).problems)
    if left_open and verdict_of(weigh(line, below.base).problems) == "ok":
        message = f"nothing tells what it is worked into: taken to go on from {leaves}: right?"
        return below.base, [warning("base-assumed", message, line.instruction, "begin with a ring, or with a chain")]
    return None, []


def _goes_on(line: Line, below: PieceBelow) -> bool:
    """Whether the first line of a piece is worked into the one before: its number goes on and it comes out there, or
    it begins in the same stitch as a joining that nothing in it tells of."""
    if line.heading.numbers and line.heading.numbers[0] == below.last_number + 1 > 1:
        ringed = any(act.into is Into.RING or act.technique is Technique.JOIN_RING for act in acts(line.body))
        return not ringed and verdict_of(weigh(line, below.base).problems) == "ok"
    first = next((act for act in acts(line.body) if act.role is Role.WORK or act.technique in _BEGUN_ANEW), None)
    runs_out = verdict_of(weigh(line, below.base).problems) == "error"  # a second flap is not on the tip of the first
    return first is not None and first.role is Role.WORK and first.into is Into.SAME and not runs_out


_BEGUN_ANEW = (Technique.JOIN, Technique.JOIN_RING, Technique.RING, Technique.SLIP_ACROSS)
"""Steps that tell where a piece begins: behind them "in same st" names what they led to."""


def need_of(line: Line, stated: Stated | None) -> int | None:
    """How many stitches a round needs below it, by its own words and total; None where these do not tell it."""
    if not line.is_readable or not line.body or line.foundation is not None or line.worked_into is not None:
        return None
    weighed = weigh(replace(line, stated=()), None, stated)
    if weighed.plan is None or verdict_of(weighed.problems) != "ok" or takes_beside(weighed.plan.body):
        return None
    return weighed.plan.uses or None


def settled_by_next(
    line: Line, base: Base | None, weighed: Weighed, following: Callable[[], LineWithTotal | None]
) -> Weighed:
    """A round without a total that can be read in several ways: as the next one needs it, by its own numbers or
    because it comes out over one of them only."""
    if base is None or not any(problem.code in _LEFT_OPEN for problem in weighed.problems):
        return weighed
    after = following()
    if after is None:
        return weighed
    needed = need_of(*after)
    numbers = weighed.may_leave if needed is None else (needed,)
    ways = [weigh(replace(line, stated=()), base, Stated(number)) for number in numbers]
    sound = [
        way
        for way, number in zip(ways, numbers, strict=True)
        if way.leaves == number and way.uses == base.stitches and verdict_of(way.problems) == "ok"
    ]
    fitting = (
        sound
        if needed is not None
        else [way for way in sound if way.plan is not None and comes_out(after[0], left_by(way.plan), after[1])]
    )
    if len(fitting) != 1 or (needed is None and len(sound) < len(ways)):
        return weighed
    (settled,) = fitting
    notice = note(
        "settled-by-next", f"read so that it leaves the {settled.leaves} that the next round needs", line.instruction
    )
    return replace(settled, stated=None, problems=(*settled.problems, notice))


_LEFT_OPEN = ("two-readings", "chain-by-convention", "by-convention")
"""What is told of a round whose words and bases leave open how many stitches it makes."""


def assumed_base(
    unread: Round, base: Base | None, need: int | None, ahead: Iterable[LineWithTotal], *, in_doubt: bool
) -> Base | None:
    """What a round that was not rightly read is taken to leave: what it states, or what the next one needs.

    Where the instruction makes one number and the total says another, the next round's need decides between them, or
    those `ahead` where it fits any number; and the total where it is `in_doubt` what the instruction was worked into.
    """
    if unread.plan is None or base is None:
        return Base(need) if base is None and need is not None else base
    states = unread.stated.stitches if unread.stated is not None else None
    if states is None or in_doubt:
        return Base(states) if in_doubt and states is not None else base
    if need is not None:
        return Base(need) if need == states else base
    return Base(states) if _is_borne_out(Base(states), base, ahead) else base


def _is_borne_out(states: Base, made: Base, ahead: Iterable[LineWithTotal]) -> bool:
    """Whether the first round ahead that comes out over one of the two numbers alone does so over the stated one."""
    for line, stated in islice(ahead, _FAR_AHEAD):
        if not line.is_readable or not line.body or line.foundation is not None or line.worked_into is not None:
            return False
        over_states, over_made = (weigh(replace(line, stated=()), base, stated) for base in (states, made))
        if weighed_well(over_states) != weighed_well(over_made):
            return weighed_well(over_states)
        if not weighed_well(over_states) or over_states.plan is None or over_made.plan is None:
            return False
        states, made = left_by(over_states.plan), left_by(over_made.plan)
    return False


_FAR_AHEAD = 5
"""Rounds that are asked for the count of one below: behind more even ones the piece is often shaped in a new way."""


def assumed_spaces(unread: Round, line: Line, stated: Stated | None) -> Base | None:
    """The spaces that such a round states, where this one goes into them and makes just what it states itself: two
    totals outweigh one instruction."""
    spaces = unread.stated.spaces if unread.stated is not None else None
    if not spaces or stated is None or stated.stitches is None or not line.is_readable:
        return None
    base = Base(spaces, spaces)
    into_spaces = {act.into for act in acts(line.body) if act.role is Role.WORK} >= {Into.SPACE}
    return base if into_spaces and comes_out(line, base, stated) else None


def problems_behind(
    unread: Round, line: Line, base: Base | None, problems: tuple[Problem, ...]
) -> tuple[Problem, ...]:
    """What is told over a round that came to no number: what is assumed of that. One failure is one finding."""
    if base is None:
        return tuple(replace(p, severity=Severity.NOTE) if p.code == "base-unknown" else p for p in problems)
    if not line.is_readable or not line.body or (unread.plan is not None and unread.plan.leaves == base.stitches):
        return problems
    states = unread.stated is not None and unread.stated.stitches == base.stitches
    why = "as it states" if states else "as this round needs"
    came = "no number" if unread.plan is None or unread.verdict == "error" else f"{unread.plan.leaves}"
    message = f"{unread.label} came to {came}: it is taken to leave {base.stitches}, {why}"
    others = (problem for problem in problems if problem.code != "base-from-total")
    return (*others, note("base-assumed", message, line.instruction))


def growth_of(again: Sequence[Round], line: Line) -> Problem | None:
    """How big it gets where rounds that change the count come again and again, as `line` says without a number; or
    that it leaves it to the maker how often they come."""
    if line.reference is not None and line.reference.by_eye:
        often = number_of(len(again), "round")
        return note("often-by-eye", f"how often is told by a measure: taken for {often} here", line.instruction)
    gains = line.reference.gains if line.reference is not None else 0
    steps = {each.leaves - each.before for each in again if each.leaves is not None and each.before is not None}
    if gains and steps - {gains, -gains}:
        message = f"it says {gains} a time, and what comes again changes by {min(steps):+d}"
        return warning("read-otherwise", message, line.instruction, "check the number")
    if len(again) < MANY_AGAIN or any(round_.stated for round_ in again):
        return None
    first, last = again[0].before, again[-1].leaves
    if first is None or last is None or any(round_.leaves == round_.before for round_ in again):
        return None
    return note("grows", f"{len(again)} times over: {first} stitches become {last}", line.instruction)


MANY_AGAIN = 3
"""Rounds that are worked again without their numbers, from which on nobody sees what they come to."""


# A line that cannot be read, and what the lines around it say of what is meant.


@lru_cache(maxsize=512)
def read_anyway(text: str, context: Context, main: str, base: Base | None, following: str) -> Line | None:
    """A line without the words that nobody understands, over its bases and with the line behind it as witnesses; None
    where they do not vouch for it. Kept, because the search for misprints checks a piece again and again."""
    from tracker.rounds.tolerance import read_leniently  # only what is wrong needs it

    def read(changed: str, words: tuple[OwnWord, ...]) -> Line:
        return read_round(changed, replace(context, words=(*context.words, *words)), main)

    after, stated = with_total(following, context, main) if following else (None, None)
    need = need_of(after, stated) if after is not None else None

    def bears_out(weighed: Weighed) -> bool:
        if after is None or need is not None or weighed.plan is None:
            return False
        left = left_by(weighed.plan)
        line = after if after.is_readable else read_anyway(following, context, main, left, "")
        return line is not None and needs_these(line, left, stated)

    return read_leniently(read(text, ()), base, need, context, read, bears_out)
