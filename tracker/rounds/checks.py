"""What is told of a round once its reading is decided: a list of small checks, each one sentence or nothing.

Instruction, stated total and the round before are the witnesses here. The round after is asked where a piece is
checked (`pattern.checker`), because only there it is known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tracker.diagnostics import Problem, Severity, disagreement, error, note, verdict_of, warning
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Into, Line, Stated, Technique
from tracker.notation.bunches import PICOT
from tracker.notation.lowering.chain_below import CHAINS_BELOW, on_chain_below
from tracker.rounds.bases import Base, chain_at_end, left_by, off_the_row
from tracker.rounds.disambiguation import Decision, ReadingStanding, Refusal, decide
from tracker.rounds.plain_round import plain_plan
from tracker.rounds.plan import Node, Plan, Repeat, Role, Run, Spot

Check = Callable[[Decision, Base | None, Stated | None], Problem | None]
"""Says one thing of a decided round over its bases (None: not known) and its total (None: not stated), or nothing."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """A round decided. `leaves` is None where it is not known; `plan` then is None too, or cannot be trusted."""

    plan: Plan | None
    leaves: int | None
    uses: int | None
    stated: Stated | None
    problems: tuple[Problem, ...]
    may_leave: tuple[int, ...] = ()
    """The numbers between which nothing in the round decides."""


def weigh(line: Line, base: Base | None, stated: Stated | None = None, *, plainly: bool = False) -> Weighed:
    """Decide how `line` is to be read over `base` (None: not known), and say all that the maker should hear.

    `plainly` allows no unlikely reading: words read plainly in one round of a range are read so in all of them.
    """
    stated = stated or (line.stated[-1] if line.stated else None)
    if not line.is_readable or not line.body:
        return Weighed(None, None, None, stated, line.problems)
    if base is not None and base.plan is not None and (length := chain_at_end(base.plan)) in CHAINS_BELOW:
        line = on_chain_below(line, length)
    plain = plain_plan(line, base, stated)
    if plain is not None:
        return Weighed(plain, plain.leaves, plain.uses, stated, ())
    decision = decide(line, base, stated, plainly=plainly)
    if isinstance(decision, Refusal):
        return Weighed(None, None, None, stated, (*line.problems, no_numbers(decision, line, stated)))
    problems = _problems_of(decision, base, stated)
    may_leave = (decision.candidate.leaves, *decision.others) if stated is None and decision.others else ()
    if decision.is_undecided:
        return Weighed(None, None, None, stated, problems, may_leave)
    leaves = None if decision.runs_out and stated is not None else decision.candidate.leaves
    agrees = decision.candidate.agrees
    left_out = agrees is not None and agrees.agrees and agrees.without_slips
    plan = decision.plan.without_slips() if left_out else decision.plan
    return Weighed(plan, leaves, plan.uses, stated, problems, may_leave)


def needs_these(line: Line, base: Base, stated: Stated | None = None) -> bool:
    """Whether a round comes out over these bases, and would not over one more of each sort."""
    if not comes_out(line, base, stated):
        return False
    spaces = base.spaces + 1 if base.spaces else base.spaces
    return not comes_out(line, replace(base, stitches=base.stitches + 1, spaces=spaces, plan=None), stated)


def comes_out(line: Line, base: Base, stated: Stated | None) -> bool:
    """Whether a round uses up these bases, and none of its own."""
    if line.foundation is not None or line.worked_into is not None:
        return False
    weighed = weigh(replace(line, stated=()), base, stated)
    return weighed.plan is not None and verdict_of(weighed.problems) == "ok"


def _problems_of(decision: Decision, base: Base | None, stated: Stated | None) -> tuple[Problem, ...]:
    """What the parser and the checks say, in their order; the doubts only where these find nothing."""
    problems = (*_of_the_words(decision, stated), *_run(CHECKS, decision, base, stated))
    return problems if verdict_of(problems) != "ok" else (*problems, *_run(DOUBTS, decision, base, stated))


def _run(
    checks: tuple[Check, ...], decision: Decision, base: Base | None, stated: Stated | None
) -> Iterator[Problem]:
    for check in checks:
        problem = check(decision, base, stated)
        if problem is not None:
            yield problem


def _of_the_words(decision: Decision, stated: Stated | None) -> tuple[Problem, ...]:
    """What the parser says of the line; a group that nobody defines is no matter if the total counts its stitches."""
    problems, agrees = decision.line.problems, decision.candidate.agrees
    if decision.standing is not ReadingStanding.AGREES or agrees is None or not agrees.plainly:
        return problems
    if stated is None or stated.stitches is None:
        return problems
    return tuple(replace(p, severity=Severity.NOTE) if p.code == "undefined-group" else p for p in problems)


# Where no number can be given.

_HELP = {
    "base-unknown": "give the number of stitches of the round before",
    "total-does-not-divide": "check the total and the group",
    "too-many": "the limit is 10,000,000,000 stitches",
    "repeat-of-nothing": "put a stitch into the group, or say how many times",
    "no-such-base": "check the round before, or what this one is worked into",
    "open-inside": "write how many stitches it is",
}
"""What to do where a reading has no numbers, by the code of its refusal."""


def no_numbers(refusal: Refusal, line: Line, stated: Stated | None) -> Problem:
    """The bases are not known, or a repeat has no end: nothing else is to be said of such a line."""
    code, span, help = refusal.code, line.instruction, _HELP.get(refusal.code, "")
    if code == "base-unknown":
        return warning(code, refusal.reason, span, help)
    if code == "total-does-not-divide":
        return disagreement(code, refusal.reason, stated.span if stated else span, help)
    return error(code, refusal.reason, span, help)


# How words were read, where they could be read otherwise.


def read_otherwise(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Words taken in an unlikely meaning: a note where another witness agrees, else the maker has to look."""
    line = decision.line
    if decision.standing is ReadingStanding.BY_UNLIKELY_WORDS:
        message = f"{'; '.join(decision.whys)}; then it makes the total: right?"
        return warning("read-by-total", message, line.instruction, "write it so, or mend the total")
    if decision.standing is not ReadingStanding.BY_BASES_ALONE:
        return note("read-otherwise", "; ".join(decision.whys), line.instruction) if decision.whys else None
    others = " or ".join(str(number) for number in decision.others)
    more = f"; it could also make {others}" if others else ""
    reason = decision.whys[0] if decision.whys else "read so that it uses the stitches that are there"
    return warning("read-otherwise", f"{reason}{more}", line.instruction, "a stated total would settle it")


def repeat_assumed(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """A line without a sign of repetition that only its total says to go around: nothing else vouches for it."""
    candidate = decision.candidate
    if decision.base_known or not candidate.reading.goes_around_unsaid:
        return None
    uses = candidate.plan.uses
    message = f"nothing says how often this is made: assumed around {uses} stitches, to make the total"
    return warning("repeat-assumed", message, decision.line.instruction, "write how often, or 'around'")


def total_counts_otherwise(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """The total agrees if it counts chains too, or leaves the slip stitches out; one of what nobody knows agrees with
    anything, so the maker has to look where nothing is as many."""
    agrees = decision.candidate.agrees
    if decision.standing is not ReadingStanding.AGREES or agrees is None or stated is None or not agrees.how:
        return None
    if not agrees.is_as_many:
        name, number = stated.groups[-1]
        message = f"the total says {number} {name}, and this makes {agrees.leaves}: what is '{name}'?"
        return warning(
            "total-unknown", message, stated.span, f"if it is a stitch, say [words] {name} = 'st' in the file"
        )
    return note("total-counts-otherwise", agrees.how, stated.span)


# What was taken from the total because nothing else tells it.


def spaces_from_total(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Nobody knows how many chain spaces there are, and the total was made to fit by them."""
    if decision.standing is not ReadingStanding.AGREES or stated is None or not decision.solved.spaces_from_total:
        return None
    message = "the number of spaces to work into is not known, and was taken from the total"
    return warning("spaces-from-total", message, stated.span)


def base_from_total(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """How many bases there are, as the total gives it."""
    if decision.standing is not ReadingStanding.AGREES or stated is None or not decision.solved.from_total:
        return None
    spaces = sum(off_the_row(decision.plan.body))
    in_spaces = spaces > 0 and (decision.base_known or spaces == decision.plan.uses)
    places = f"{spaces} spaces" if in_spaces else f"{decision.plan.uses} stitches"
    if base is not None and spaces > base.stitches > 0:  # no round has more spaces than stitches that part them
        message = f"uses {places} if the total is right, and {base.stitches} stitches are there to part them: assumed"
        return warning("base-from-total", message, stated.span, "count the spaces of the round before")
    groups = next((number for _, number in stated.groups), 0) if stated.stitches is None else 0
    if in_spaces and groups and spaces % groups:  # is the one that stands before the repeat among them?
        message = f"uses {places}, if the total is right and leaves out what stands before the repeat: assumed"
        return warning("base-from-total", message, stated.span, "count the spaces of the round before")
    if decision.whys and not decision.base_known:
        message = f"uses {places}, if the total is right and the words were meant so"
        return warning("base-from-total", message, stated.span, "give the number of stitches of the round before")
    return note("base-from-total", f"uses {places}, if the total is right", stated.span)


# Where a round does not come out with the stitches that are there. At most one of these speaks, the surest first.


def cut_short(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """What goes around does not go into the bases a whole number of times."""
    if not _is_misfit(decision) or not decision.solved.cut:
        return None
    plan, bases = decision.plan, _bases(decision, base)
    group = next((node for node in plan.body if isinstance(node, Repeat)), None)
    if group is not None:
        message = f"{bases} stitches do not divide by {group.once.takes}: the last group is cut short"
        if _breaks_off_on_purpose(plan, group) and plan.uses == bases and stated and plan.leaves == stated.stitches:
            return note("cut-short", message, group.span)
        return warning("cut-short", message, group.span, "check the count of the round before")
    left = bases - plan.uses
    are = "stitch is" if left == 1 else "stitches are"
    message = f"{bases} stitches do not come out: {left} {are} left over"
    return warning("cut-short", message, decision.line.instruction, "check the count of the round before")


def nothing_left(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Two things go to the end, one after the other."""
    solved = decision.solved
    if not _is_misfit(decision) or solved.cut or not solved.idle or solved.unworked < 0:
        return None
    message = "something goes to the end of the round, and nothing is left for what is to go there after it"
    return warning("nothing-left", message, decision.line.instruction, "say how far the first part goes")


def _breaks_off_on_purpose(plan: Plan, group: Repeat) -> bool:
    """Whether what is left of the last group changes the count, so that a total which is met speaks for it, and more
    comes behind it: "rep from * to last 4 sts, sc in last 4 sts"."""
    made = _without_steps(plan)
    part = made[made.index(group) + 1 : -1]
    return len(part) > 0 and isinstance(part[0], Repeat) and part[0].once.stitches != part[0].once.takes


def _without_steps(plan: Plan) -> list[Node]:
    """What is worked or passed over, without the joining and turning between."""
    return [node for node in plan.body if not (isinstance(node, Run) and node.act.role is Role.STEP)]


def closed_by_first(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """The last repeat ends where the first stitch of the round stands."""
    left_out = decision.solved.closed
    if not left_out or _is_misfit(decision):
        return None
    message = f"the last {left_out} would fall on the first stitch of the round: it is left out"
    return note("closed-by-first", message, decision.line.instruction)


def unworked(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Bases are left over."""
    solved = decision.solved
    if not _is_misfit(decision) or solved.cut or solved.idle or solved.unworked <= 0:
        return None
    plan, bases = decision.plan, _bases(decision, base)
    left = f"{solved.unworked} {'is' if solved.unworked == 1 else 'are'} left unworked"
    message = f"uses {(bases or 0) - solved.unworked} of the {bases} stitches that are there: {left}"
    return warning("unworked", message, decision.line.instruction, _other_number(plan, bases))


def runs_out(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """More bases are used than there are."""
    if not decision.runs_out or decision.solved.cut:
        return None
    plan, bases = decision.plan, _bases(decision, base)
    spot = _last_spot(plan, bases)
    span = spot.span if spot else decision.line.instruction
    where = f" in repeat {spot.turns[0].number}" if spot and spot.turns else ""
    message = f"this round uses {plan.uses} stitches, and only {bases} are there: they run out{where}"
    if bases is not None and plan.uses <= bases:  # the last of them is worked into before the words come to their end
        message = f"there is nothing left to work into{where or ' behind this'}: {bases} stitches are there"
    return error("runs-out", message, span, _other_number(plan, bases))


def _is_misfit(decision: Decision) -> bool:
    return decision.standing is ReadingStanding.MISFIT


def _bases(decision: Decision, base: Base | None) -> int:
    """How many there are to be worked into, a foundation chain of the line's own among them."""
    return base.stitches if base else decision.plan.uses + decision.solved.unworked


def _other_number(plan: Plan, bases: int) -> str:
    """The number of repeats that would use up what is there, if a whole one does."""
    groups = [node for node in plan.body if isinstance(node, Repeat) and node.times > 1 and node.once.takes]
    if len(groups) != 1:
        return ""
    group = groups[0]
    times, over = divmod(bases - (plan.uses - group.tally.takes), group.once.takes)
    if over or times < 1:
        return ""
    makes = plan.leaves + (times - group.times) * group.once.stitches
    return f"x {times} would use {bases} and make {makes}"


def _last_spot(plan: Plan, bases: int) -> Spot | None:
    """The first move that finds no base left, by halving."""
    low, high = 0, plan.moves - 1
    while low < high:
        middle = (low + high) // 2
        spot = plan.spot(middle)
        assert spot is not None
        if spot.takes_done + (spot.act.takes if spot.in_act == 0 else 0) > bases:
            high = middle
        else:
            low = middle + 1
    return plan.spot(low)


# The stated total.


def total_differs(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """The instruction makes another number than is stated. What runs out has said enough."""
    candidate = decision.candidate
    if stated is None or candidate.says_total or decision.runs_out:
        return None
    if candidate.agrees is not None and candidate.agrees.how:
        return disagreement("total-differs", f"this round {candidate.agrees.how}", stated.span)
    total = stated.spaces if stated.stitches is None else stated.stitches  # "16 loops" may be stitches or spaces
    message = f"the instruction makes {candidate.plan.leaves}, and the total says {total}"
    return disagreement("total-differs", message, stated.span)


# Where no total is stated: what the words leave open.


def spaces_assumed(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Nobody knows how many chain spaces there are, and no total tells it."""
    if not _is_unstated(decision, stated) or not decision.solved.assumed:
        return None
    message = "the number of spaces to work into is not known, so it was assumed"
    return warning("spaces-assumed", message, decision.line.instruction)


def spaces_besides(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """How many chain spaces are made besides the stitches; a doubt where the chains stand in for stitches."""
    if not _is_unstated(decision, stated) or decision.solved.assumed or decision.line.stated:
        return None
    tally = decision.plan.tally
    names = dict(tally.names)
    if tally.spaces <= names.get(PICOT, 0):
        return None
    message = f"makes {tally.stitches} stitches, and {tally.spaces} chain spaces besides"
    skipped = sum(
        run.act.takes * times
        for run, times in decision.plan.runs()
        if run.act.role is Role.SKIP and run.act.into is Into.STITCH
    )
    if skipped == tally.chains and names.get("ch") == tally.spaces:
        with_chains = f"{message}; it leaves {tally.stitches + tally.chains} if its chains count"
        return warning("chains-for-stitches", with_chains, decision.line.instruction, "state the total")
    return note("spaces-besides", message, decision.line.instruction)


def share_differs(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """What each side has does not come to the total, not even with a stitch at each corner besides."""
    if stated is None or stated.share is None:
        return None
    each, sides = stated.share
    corners = [(run.act, times) for run, times in decision.plan.runs() if run.act.is_corner]
    if stated.stitches is None:  # "having 8 dc on each side", and nothing of how many there are in all
        whole, sides = decision.plan.leaves, sides or sum(times for _, times in corners)
        message = f"{each} on each side do not come to the {whole} made here"
        if sides:
            message = f"{each} on each of {sides} sides are {each * sides}, and this makes {whole}"
        help = "check what each side has"
    elif not decision.candidate.says_total:
        return None
    else:
        whole, message = stated.stitches, f"{each} on each side do not come to {stated.stitches}"
        help = "check the total, and what each side has of it"
    in_corners = sum(act.stitches * times for act, times in corners)
    turning = sum(times for act, times in corners if len(act.makes) == 1)  # the middle one of several in one stitch
    totals = (whole, whole - turning, whole - in_corners)
    if any(total == each * sides if sides else each and total % each == 0 for total in totals):
        return None
    return warning("share-differs", message, stated.span, help)


_CHAIN_HELP = "write (counts as a stitch) or (does not count) after the chain, or state the total"


def two_readings(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Readings that are equally good by the bases and make different numbers; some are settled by custom."""
    if not _is_unstated(decision, stated) or not decision.others:
        return None
    reading, span = decision.candidate.reading, decision.line.instruction
    listed = " or ".join(str(number) for number in sorted({decision.candidate.leaves, *decision.others}))
    if decision.turns_on_chain:
        why = reading.opening or "read the starting chain by its height"
        help = "state the total" if why.startswith("read the standing") else _CHAIN_HELP
        return warning("chain-by-convention", f"{why}; with the other reading it makes {listed}", span, help)
    if reading.convention:
        return warning("by-convention", f"{reading.convention}; it could make {listed}", span, "state the total")
    return error("two-readings", f"this can be read in two ways, making {listed}", span, "state the total")


def _is_unstated(decision: Decision, stated: Stated | None) -> bool:
    return stated is None and decision.standing is ReadingStanding.AGREES


# Doubts about a round that agrees with all its witnesses.


def spaces_left(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """Spaces that are passed over with no word, by a round that goes into others of that sort."""
    line, plan, solved = decision.line, decision.plan, decision.solved
    if base is None or base.spaces is None or line.worked_into is not None:
        return None
    spaces, groups = off_the_row(plan.body)
    leaves_out = not groups and 0 < spaces < base.spaces
    if not (leaves_out and plan.uses <= spaces if solved.passed is None else solved.passed):
        return None
    message = f"works into {spaces} of the {base.spaces} chain spaces that are there"
    if not leaves_out:
        message = f"passes over {solved.passed} of the places that it goes into, with no word"
    return warning("spaces-left", message, line.instruction, "write which ones are skipped")


CHECKS: tuple[Check, ...] = (
    # How it was read comes before what came of it, or the numbers make no sense to whoever read it otherwise.
    read_otherwise,
    repeat_assumed,
    total_counts_otherwise,
    spaces_from_total,
    base_from_total,
    closed_by_first,
    # The round before is a surer witness than the total: most misprints that were published are in totals.
    cut_short,
    nothing_left,
    unworked,
    runs_out,
    total_differs,
    share_differs,
    # With no total there is one witness less, and what the words leave open stays open.
    spaces_assumed,
    spaces_besides,
    two_readings,
)


def nothing_worked(decision: Decision, base: Base | None, stated: Stated | None) -> Problem | None:
    """A round that only leads to where it begins, takes another yarn or turns: the rest of it stands somewhere else,
    or was not understood, "Rnd 2: V6"."""
    ends = any(act.technique in (Technique.FASTEN_OFF, Technique.OTHER) for act in decision.plan.acts())
    tally = decision.plan.tally
    if base is None or not base.stitches or ends or tally.takes or tally.stitches:
        return None
    message = f"nothing is worked into the {base.stitches} stitches that are there"
    return warning("unworked", message, decision.line.instruction, "the rest of the round stands elsewhere")


DOUBTS: tuple[Check, ...] = (spaces_left, nothing_worked)
"""Asked only of a round of which nothing else was said: what they tell follows from any other finding."""


# A line that is for several rounds: each is worked into the one before it.

MOST_ROUNDS = 1000
"""Rounds of one line that are gone through one by one; nobody makes as many, and a slip must not cost minutes."""


def weigh_range(line: Line, base: Base | None) -> Weighed:
    """A line for one round or for a range; in a range each round is worked into the one before it."""
    count = max(len(line.heading.numbers), line.heading.rounds_ahead, 1)
    first = weigh(line, base)
    if count == 1 or base is None or first.plan is None or first.plan.leaves == base.stitches or count > MOST_ROUNDS:
        return first
    if len(line.stated) == 1 and verdict_of(first.problems) == "ok":
        second = weigh(line, left_by(first.plan), plainly=is_plain(first.problems))
        return first if verdict_of(second.problems) == "ok" else second
    return _through_range(line, base, count, first)


def is_plain(problems: tuple[Problem, ...]) -> bool:
    """Whether no words had to be read in an unlikely way."""
    return not any(problem.code in ("read-otherwise", "read-by-total") for problem in problems)


def _through_range(line: Line, base: Base, count: int, first: Weighed) -> Weighed:
    """Rounds of a range that changes the count: the last total, or each one, is stated."""
    each = line.stated if len(line.stated) == count else ()
    weighed, uses, bases = first, first.uses, base
    for index in range(count):
        stated: Stated | None = (
            each[index] if each else (line.stated[-1] if line.stated and index == count - 1 else None)
        )
        plain = replace(line, stated=(stated,) if stated else ())
        weighed = weigh(plain, bases)
        if weighed.plan is None or (index < count - 1 and verdict_of(weighed.problems) != "ok"):
            return first if line.stated else weighed  # what is wrong with one is not made good by the next
        bases = left_by(weighed.plan)
        uses = uses if index else weighed.uses
    good = verdict_of(weighed.problems) == "ok"
    return replace(weighed, uses=uses) if good or not line.stated else first
