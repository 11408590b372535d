"""Whether the total that a round states agrees with what its instruction makes, in the ways in which totals count."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import CHAIN_BASE, Stated
from tracker.notation.bunches import BUNCH_BY_ID, ONE_STITCH
from tracker.notation.instructions import CORNER, IN_EACH_PART
from tracker.rounds.bases import left_by, off_the_row, standing_together
from tracker.rounds.plan import Act, Into, Node, Plan, Repeat, Role, Technique


@dataclass(frozen=True, slots=True)
class Agreement:
    """`agrees`; `plainly` if stitches were counted as stitches. `how` tells it where the total counts otherwise.

    `leaves` is the number that stands for the round's stitches: the stated one where it counts chains or groups too.
    """

    agrees: bool
    leaves: int
    plainly: bool = True
    how: str = ""
    without_slips: bool = False
    """The total leaves out the slip stitches."""
    is_checked: bool = True
    """Whether what the total names was found among what is made; it names petals that nobody knows, if not."""
    is_as_many: bool = True
    """Whether anything that is made is as many as the total has of what nobody knows, or may be parted into so many
    where that is groups: 8 petals of two groups each."""

    @property
    def vouches(self) -> bool:
        """Whether it speaks for words that are read in an unlikely way: not if it is itself counted in an unlikely
        way."""
        return self.agrees and self.is_checked and (self.plainly or not self.how)


def _changes_so(change: int, plan: Plan) -> bool:
    """Whether a round leaves so many more stitches than it uses, as far as no chains may count among them; "(-18)"
    may also be a total between dashes."""
    tally = plan.tally
    if tally.spaces or sum(off_the_row(plan.body)) or abs(change) == tally.stitches:
        return True
    return change == tally.stitches - tally.takes


def _changes_otherwise(stated: Stated, plan: Plan) -> str:
    """In what other numbers a round increases or decreases than is told, "" if it does as told: an increase of two
    stitches counts as one or two."""
    for name, number in stated.changes:
        sign = 1 if name.startswith("increase") else -1
        changes = [(run.act, times) for run, times in plan.runs() if sign * _widening(run.act) > 0]
        made = sum(times for _, times in changes)
        by = sum(sign * _widening(act) * times for act, times in changes)
        net = sign * (plan.tally.stitches - plan.tally.takes)
        if name.endswith(IN_EACH_PART):
            if number and made and not (made % number and by % number):
                continue
            return f"makes {made} {name.removesuffix(IN_EACH_PART)}s, not {number} on each side"
        if number not in (made, by) and (number != net or len(stated.changes) > 1):
            return f"makes {made} {name}{'s' * (made != 1)}, not {number}"
    return ""


def _widening(act: Act) -> int:
    """How many more stitches an act makes than it takes, where it is worked into the round below."""
    return act.stitches - act.takes if act.role is Role.WORK and act.takes and act.into is not Into.PART else 0


_CHAIN_APART = "the total names the starting chain apart"


def agreement(stated: Stated, plan: Plan) -> Agreement:
    """Compare a stated total with a plan, in the ways in which totals are counted."""
    tally = plan.tally
    made = tally.stitches
    if stated.change and stated.stitches in (None, made) and not _changes_so(stated.change, plan):
        change = made - tally.takes
        return Agreement(False, made, how=f"changes the number of stitches by {change:+}, not by {stated.change:+}")
    if stated.stitches in (None, made) and (how := _changes_otherwise(stated, plan)):
        return Agreement(False, made, how=how)
    if stated.chains is not None and stated.stitches is not None and not tally.spaces:
        if made == stated.stitches and stated.chains in _chains_worked_along(plan):
            return _kinds(stated, plan) or Agreement(True, made)
        apart = made == stated.stitches + 1
        return Agreement(apart, made, how=_CHAIN_APART if apart else "")
    if stated.stitches is None or (stated.kinds and stated.groups and _kinds_apart(stated, plan)):
        if stated.spaces and not tally.spaces and not stated.space_length and not stated.groups:
            return Agreement(made == stated.spaces, made)  # "(12 loops)": the loops are stitches
        return _by_name(stated, plan)
    if made == stated.stitches:
        differs = _spaces(stated, plan) or _chains(stated, plan) or _kinds(stated, plan)
        return differs or _groups_besides(stated, plan) or Agreement(True, made)
    slips = tally.kind("sl st")
    leaves_out = stated.without_slips or (stated.kinds and all(kind != "sl st" for kind, _ in stated.kinds))
    if (leaves_out or slips >= MOST_SLIPS_COUNTED) and slips and made - slips == stated.stitches:
        how = f"the total leaves out the {slips} slip stitches"
        return Agreement(True, stated.stitches, False, how, without_slips=True)
    if stated.chains is not None and made in (stated.stitches + stated.chains, stated.stitches + 1):
        return Agreement(True, made, how=_CHAIN_APART)
    if stated.spaces is not None or stated.groups:
        return Agreement(False, made)
    if tally.spaces and not stated.kinds:
        return _with_chains(stated.stitches, plan)
    return Agreement(False, made)


MOST_SLIPS_COUNTED = 3
"""From so many slip stitches on a total may leave them out unsaid: they lie between the petals of a round (common
practice, no source). One or two would make good for a misprint."""


def _chains_worked_along(plan: Plan) -> tuple[int, ...]:
    """How many chains are made that stitches are worked along, as those of a star's points: with the chain that
    reaches up to the round, and without it."""
    lengths = [run.act.length * times for run, times in plan.runs() if run.act.length]
    return (sum(lengths), sum(lengths[1:])) if lengths else ()


def _kinds(stated: Stated, plan: Plan) -> Agreement | None:
    """The sum agrees; do the kinds, where the total names every kind that is made?"""
    made = dict(plan.tally.kinds)
    named: dict[str, int] = {}
    for kind, number in stated.kinds:
        named[kind] = named.get(kind, 0) + number
    if len(named) < 2 or set(named) != set(made) or named == made:
        return None
    kinds_made = " and ".join(f"{number} {kind}" for kind, number in made.items())
    return Agreement(False, plan.leaves, how=f"makes {kinds_made}, and the total names other numbers of them")


def _groups_besides(stated: Stated, plan: Plan) -> Agreement | None:
    """The stitches agree; do the groups that the total names besides, where the round makes any of that name?"""
    for name, number in stated.groups:
        made = _number_of(name, plan) or (groups_in(plan) if name in _TALL_GROUPS else 0)
        if made and made != number and number not in _counts_of(name, plan):
            return Agreement(False, plan.leaves, how=f"makes {made} {name}s, and the total says {number}")
    return None


_TALL_GROUPS = ("shell", "fan")
"""What several stitches in one place are called, written out or not."""


def _number_of(name: str, plan: Plan) -> int:
    """How many of a group are made: by its kind if one is a stitch, where two may be worked as an increase; clusters
    that are not called so by what is closed together."""
    if name == CORNER:
        return left_by(plan).corners or 0
    made = plan.tally.kind(name) or dict(plan.tally.names).get(name, 0)
    if made or name != "cluster":
        return made
    return sum(times for run, times in plan.runs() if run.act.technique is Technique.TOGETHER)


def _kinds_apart(stated: Stated, plan: Plan) -> bool:
    """Whether "8 sc, 8 shells" names the stitches that stand outside the groups."""
    apart: dict[str, int] = {}
    for run, times in plan.runs():
        for made in () if _is_group(run.act) else run.act.makes:
            kind = made.counts_as or made.kind
            apart[kind] = apart.get(kind, 0) + made.stitches * times
    if all(name in ONE_STITCH for name, _ in stated.groups):  # "56 dc, 4 popcorns", wherever the dc stand
        return all(plan.tally.kind(kind) == number for kind, number in stated.kinds)
    return all(apart.get(kind, 0) == number for kind, number in stated.kinds)


SMALLEST_GROUP = 3
"""Stitches in one place that a total may count as a group; two are an increase, unless a chain parts them."""


def _is_group(act: Act) -> bool:
    return act.stitches >= SMALLEST_GROUP or (len(act.makes) > 1 and act.stitches > 1)


def _spaces(stated: Stated, plan: Plan) -> Agreement | None:
    """The stitches agree; do the chain spaces, where the total names them?"""
    spaces = _space_count(stated, plan)
    if stated.spaces is None or stated.spaces in (spaces, spaces - _picots(plan)):
        return None
    return Agreement(False, plan.leaves, how=f"makes {spaces} chain spaces, and the total says {stated.spaces}")


def _picots(plan: Plan) -> int:
    """Knots of chains, which most totals count as no spaces."""
    return sum(times for run, times in plan.runs() if run.act.technique is Technique.PICOT)


def _chains(stated: Stated, plan: Plan) -> Agreement | None:
    """The stitches agree; do the chains, or the spaces under them, where the total names them?"""
    tally = plan.tally
    if stated.chains is None or stated.chains in (tally.chains, tally.spaces, tally.kind(CHAIN_BASE)):
        return None
    return Agreement(False, plan.leaves, how=f"makes {tally.chains} chains, and the total says {stated.chains}")


def _space_count(stated: Stated, plan: Plan) -> int:
    """Chain spaces of the length that the total names; all of them where it names none."""
    if not stated.space_length:
        return plan.tally.spaces
    return sum(times * _spaces_of(run.act, stated.space_length) for run, times in plan.runs())


def _spaces_of(act: Act, length: int) -> int:
    """Chain spaces of this length that an act makes."""
    return sum(made.is_chain and not made.counts_as and made.count == length for made in act.makes)


def _with_chains(total: int, plan: Plan) -> Agreement:
    tally = plan.tally
    made = tally.stitches
    if total == made + tally.chains:
        return Agreement(True, total, False, f"the total counts {made} stitches and {tally.chains} chains")
    if total == made + tally.spaces:
        return Agreement(True, total, False, f"the total counts {made} stitches and {tally.spaces} chain spaces")
    if total == tally.spaces:
        return Agreement(True, total, False, f"the total counts the {total} chain spaces")
    if total == groups_in(plan):
        return Agreement(True, total, False, f"the total counts the {total} groups")
    return Agreement(False, made)


def _by_name(stated: Stated, plan: Plan) -> Agreement:
    """A total of named things only: "(7 shells)", "(8 ch-3 sps)", "(6 petals)"."""
    spaces = _spaces(stated, plan)
    if spaces is not None:
        return spaces
    chains = _chains(stated, plan)
    if chains is not None:
        return chains
    for name, number in stated.groups:
        counts = _counts_of(name, plan)
        if number not in counts and name not in BUNCH_BY_ID and not _number_of(name, plan):
            how = f"the total counts {name}, which were not checked"
            is_as_many = number in _all_counts(plan) or bool(stated.kinds) or _is_parted(plan, number)
            return Agreement(True, plan.leaves, plainly=False, how=how, is_checked=False, is_as_many=is_as_many)
        if number not in counts:
            shown = min(counts, key=lambda n: abs(n - number)) if counts else 0
            return Agreement(False, plan.leaves, how=f"makes {shown} {name}s, and the total says {number}")
    return Agreement(True, plan.leaves, plainly=not stated.groups)


def _all_counts(plan: Plan) -> set[int]:
    """The numbers of what is made, stitches of each kind, chains and spaces: a word that nobody knows may be any."""
    tally = plan.tally
    return {plan.leaves, tally.stitches, tally.chains, tally.spaces, *(number for _, number in tally.kinds)}


def _is_parted(plan: Plan, number: int) -> bool:
    """Whether the groups may be so many things of several each, "8 petals" of two."""
    return 0 < number < groups_in(plan) and not groups_in(plan) % number


def _counts_of(name: str, plan: Plan) -> set[int]:
    """The numbers that a total of `name` may mean: acts of that name, groups in one place, repeats."""
    named = _number_of(name, plan)
    is_one_stitch = name in BUNCH_BY_ID and BUNCH_BY_ID[name].stitches == 1
    begun = None if is_one_stitch else _begun_group(plan)  # a chain and a stitch are two stitches, a cluster one
    if named:
        return {named, named + (begun is not None and _is_whole(name, begun, plan))}
    if name == "half shell":
        return {_smaller_groups(plan)}
    groups = groups_in(plan)
    besides = begun is not None and not _is_group(begun)
    return {groups, groups + besides, *_repeat_counts(plan.body)} - {0}


def _smaller_groups(plan: Plan) -> int:
    """How many groups in one place have fewer stitches than the largest: the halves at the edges of a row."""
    sizes = list(standing_together(plan))
    largest = max((size for size, _ in sizes), default=0)
    return sum(times for size, times in sizes if size < largest)


def _begun_group(plan: Plan) -> Act | None:
    """What is made beside the chain that a round begins with, "ch 4, dc in same st": a group that the chain stands in
    for a stitch of is not called by its name (common practice, no source)."""
    made = (run.act for run, _ in plan.runs() if run.act.role is not Role.STEP and not run.act.is_slip_stitch)
    first, second = next(made, None), next(made, None)
    if first is None or second is None or second.into is not Into.SAME:
        return None
    return second if any(one.counts_as for one in first.makes) and second.stitches else None


def _is_whole(name: str, begun: Act, plan: Plan) -> bool:
    """Whether what was begun has as many stitches as the groups of that name, with what is worked into the same place
    when the round comes back to it."""
    made = [run.act for run, _ in plan.runs() if run.act.role is Role.WORK and not run.act.is_slip_stitch]
    returns = made[-1] is not begun and (made[-1].over_first or made[-1].into is Into.SAME)
    together = begun.stitches + 1 + (made[-1].stitches if returns else 0)
    return together in {act.stitches for act in made if act.name == name}


def groups_in(plan: Plan) -> int:
    """How many places hold three stitches or more, or stitches with chains between."""
    return sum(times for run, times in plan.runs() if _is_group(run.act))


def _repeat_counts(body: tuple[Node, ...]) -> set[int]:
    """How often groups are made; one whose first or last time is made otherwise is several nodes of one place."""
    counts: set[int] = set()
    times: dict[Span, int] = {}
    for node in body:
        if isinstance(node, Repeat):
            times[node.span] = times.get(node.span, 0) + node.times
            counts |= {node.times} | {node.times * inner for inner in _repeat_counts(node.body)}
    return counts | set(times.values())
