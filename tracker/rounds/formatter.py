"""A plan written in the trade's shorthand: the canonical text of a round.

What is written is read back by the reader to the same numbers: moves, bases used, stitches by kind, chain spaces.
Names of groups ("shell") are written out as what they make, since their definition stands elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

from tracker.lazy_dataclass import replace
from tracker.notation.ast import LAYERS
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import abbreviation
from tracker.notation.instructions import SKIPPED
from tracker.rounds.plan import Act, Into, Loop, Made, Node, Plan, Repeat, Role, Run, Technique


def notate(plan: Plan, terms: str = "US") -> str:
    """The instructions of the round, without heading and total: "(2 sc, inc) x 6"."""
    return notate_body(plan.body, terms, plan.ends_with)


def notate_body(body: tuple[Node, ...], terms: str = "US", ends_with: str = "") -> str:
    """The same for a part of a round. `ends_with` is the colour that the yarn has when it is done."""
    writer = _PlanWriter(terms, _kinds(body) <= {"sc"})
    parts = list(writer.nodes(_with_ends_held(body)))
    if ends_with and ends_with != writer.colour:
        parts.append(f"change to {ends_with}")
    return ", ".join(parts)


def _with_ends_held(body: tuple[Node, ...]) -> tuple[Node, ...]:
    """A chain space at either end of a line goes into a bracket, or it would be read as a turning chain."""
    if len(body) > 1 and _is_space(body[-1]):
        body = (*body[:-2], Repeat(body[-2:], 1))
    if len(body) > 1 and _is_space(body[0]):
        body = (Repeat(body[:2], 1), *body[2:])
    return body


def _is_space(node: Node) -> bool:
    return isinstance(node, Run) and node.act.role is Role.CHAIN and not node.act.stitches


class _PlanWriter:
    """Writes node after node; remembers the colour in use, which is written only where it changes."""

    def __init__(self, terms: str, only_sc: bool) -> None:
        self._terms = terms
        self._only_sc = only_sc
        self.colour = ""

    def nodes(self, body: tuple[Node, ...]) -> Iterator[str]:
        if opening := _foundation(body, self._terms):
            yield opening
            body = body[3:]
        for node in body:
            yield self._run(node) if isinstance(node, Run) else self._repeat(node)

    def _repeat(self, repeat: Repeat) -> str:
        if len(_colours(repeat.body)) > 1:
            self.colour = ""
        inside = ", ".join(self.nodes(repeat.body))
        brackets = "[]" if inside.startswith("(") or inside.endswith(")") else "()"
        return f"{brackets[0]}{inside}{brackets[1]} x {repeat.times}"

    def _run(self, run: Run) -> str:
        colour = ""
        if run.act.colour and run.act.colour != self.colour:
            self.colour = run.act.colour
            colour = f"({self.colour}) "
        if run.act.role is Role.WORK:
            return colour + _work(run.act, run.times, self._terms, self._only_sc)
        return colour + _WRITERS[run.act.role](run.act, run.times, self._terms)


def _foundation(body: tuple[Node, ...], terms: str) -> str:
    """A row begun on a chain whose last chains count as its first stitch; "" for any other beginning."""
    acts = [node.act for node in body[:3] if isinstance(node, Run) and node.times == 1]
    # A chain, its continuation and at least one stitch.
    if len(acts) < 3 or acts[0].technique is not Technique.CHAIN or acts[1].role is not Role.CHAIN:
        return ""
    skipped, first = acts[1].makes[0], acts[2]
    if not skipped.counts_as or first.into is not Into.CHAIN:
        return ""
    counts = f"(skipped chs count as {abbreviation(skipped.counts_as, terms)})"
    nth = {2: "3rd", 3: "4th", 4: "5th", 5: "6th"}.get(skipped.count, f"{skipped.count + 1}th")
    return f"{acts[0].name}, {_made(first.makes[0], terms)} in {nth} ch from hook {counts}"


def _colours(body: tuple[Node, ...]) -> set[str]:
    return {act.colour for act in Plan(body).acts() if act.colour}


def _kinds(body: tuple[Node, ...]) -> set[str]:
    return {made.kind for act in Plan(body).acts() if act.role is Role.WORK for made in act.makes}


def _work(act: Act, times: int, terms: str, only_sc: bool) -> str:
    """Stitches. "inc" and "dec" alone are two single crochets only where the round holds nothing else."""
    if act.name in BUNCH_BY_ID and len(act.makes) == 1 and act.makes[0].kind == act.name:
        return _looped(act.loop, f"{times} {act.name}")
    if len(act.makes) != 1:
        return _in_one_place(act, times, terms)
    made = act.makes[0]
    stitch = _POSTS.get(act.loop, "") + abbreviation(made.kind, terms)
    if act.onto == LAYERS:
        return f"{times} {stitch} through both layers to close"
    if act.takes > 1 and made.count == 1:
        return _looped(act.loop, _times(_together(act, stitch, only_sc), times))
    if act.into is Into.STITCH and act.takes == 1 and made.count == 1:
        # The reader takes "sl st in" for the way to a place, so that here the loop stands in front.
        if made.kind == "sl st" and act.loop in _LOOPS:
            return f"{times} {act.loop.value} {stitch}"
        return _looped(act.loop, f"{times} {stitch}")
    if act.into is Into.STITCH and act.takes == 1 and made.count == 2 and only_sc:
        return _looped(act.loop, _times("inc", times))
    return _several(act, made.count, stitch, times)


def _together(act: Act, stitch: str, only_sc: bool) -> str:
    """ "dec" where the pattern says so and it can only be two single crochets; else how many of which stitch."""
    plain = act.takes == 2 and only_sc and act.technique is not Technique.TOGETHER
    return "dec" if plain else f"{stitch}{act.takes}tog"


def _times(word: str, times: int) -> str:
    """The count stands before the word: behind it, "x 3" might be taken for the whole line."""
    return word if times == 1 else f"{times} {word}"


def _several(act: Act, count: int, stitch: str, times: int) -> str:
    """Stitches into a named place: "3 sc in next st", "2 sc in each of next 4 ch-sps", "6 sc in magic ring"."""
    if act.onto == SKIPPED:
        return f"{count} {stitch} in {'skipped st' if times == 1 else f'each of {times} skipped sts'}"
    if not act.takes:
        return f"{count * times} {stitch} {_NOWHERE_ELSE.get(act.into, 'in same st')}"
    if act.into is Into.BETWEEN:
        return f"{count} {stitch} between next {times} sts"
    one, many = _PLACES.get(act.into, _PLACES[Into.STITCH])
    place = f"next {one}" if times == 1 else f"each of next {times} {many}"
    return f"{count} {stitch} in {_loop_of(act.loop)}{place}"


_PLACES = {
    Into.STITCH: ("st", "sts"),
    Into.SPACE: ("ch-sp", "ch-sps"),
    Into.CHAIN: ("ch", "ch"),
}
_NOWHERE_ELSE = {Into.RING: "in magic ring", Into.SAME: "in same st"}


def _in_one_place(act: Act, times: int, terms: str) -> str:
    inside = ", ".join(_made(made, terms) for made in act.makes)
    base = _PLACES.get(act.into, _PLACES[Into.STITCH])[0]
    place = _NOWHERE_ELSE.get(act.into, f"in {_loop_of(act.loop)}next {base}")
    if act.takes > 1:
        place = f"over next {act.takes} sts"
    text = f"({inside}) {place}"
    return text if times == 1 else f"[{text}] x {times}"


def _made(made: Made, terms: str) -> str:
    if made.is_chain:
        return f"ch {made.count}"
    return f"{made.count} {abbreviation(made.kind, terms)}"


_POSTS = {Loop.FRONT_POST: "FP", Loop.BACK_POST: "BP"}


_LOOPS = (Loop.BACK, Loop.FRONT)


def _looped(loop: Loop, text: str) -> str:
    """The loop stands behind what is worked in it: "10 sc in BLO"."""
    return f"{text} in {loop.value}" if loop in _LOOPS else text


def _loop_of(loop: Loop) -> str:
    return f"{loop.value} of " if loop in _LOOPS else ""


def _chain(act: Act, times: int, terms: str) -> str:
    """Chains; those that stand for a stitch say so, and what is left over for a space: "counts as dc and ch 1"."""
    text = f"ch {sum(made.count for made in act.makes)}"
    counts = [abbreviation(made.counts_as, terms) if made.counts_as else f"ch {made.count}" for made in act.makes]
    if any(made.counts_as for made in act.makes):
        text += f" (counts as {' and '.join(counts)})"
    return text if times == 1 else f"({text}) x {times}"


def _skip(act: Act, times: int, terms: str) -> str:
    word = "miss" if terms == "UK" else "sk"
    if act.over_first:
        return f"{word} first st" if times == 1 else f"{word} first {times} sts"
    return f"{word} {act.takes * times}{' ch-sps' if act.into is Into.SPACE else ''}"


def _step(act: Act, times: int, terms: str) -> str:
    name = act.name
    if act.length > 1:
        name += " (does not count)"
    return ", ".join([name] * min(times, 3))


_WRITERS: dict[Role, Callable[[Act, int, str], str]] = {
    Role.CHAIN: _chain,
    Role.SKIP: _skip,
    Role.STEP: _step,
}


# A row of stitches written short: what repeats is put in a bracket.

LONGEST_GROUP = 24
"""Nodes in one bracket; a longer group is written out, as nobody would see that it repeats."""


def folded(nodes: Iterable[Node]) -> tuple[Node, ...]:
    """The same stitches in fewer words: equal neighbours counted together, groups that repeat in brackets."""
    body = joined(nodes)
    while (best := _best_group(body)) is not None:
        start, length, times = best
        group = Repeat(folded(body[start : start + length]), times)
        body = (*body[:start], group, *body[start + length * times :])
    return body


def joined(nodes: Iterable[Node]) -> tuple[Node, ...]:
    """Runs of the same act side by side become one run."""
    body: list[Node] = []
    for act, same in groupby(nodes, key=lambda node: node.act if isinstance(node, Run) else node):
        if isinstance(act, Act):
            body.append(Run(act, sum(node.times for node in same)))
        else:
            body.extend(replace(node, body=joined(node.body)) for node in same if isinstance(node, Repeat))
    return tuple(body)


def _best_group(body: tuple[Node, ...]) -> tuple[int, int, int] | None:
    """The group whose bracket saves most: first node, length, times. None when none saves anything."""
    best: tuple[int, tuple[int, int, int]] | None = None
    for length in range(2, min(LONGEST_GROUP, len(body) // 2) + 1):
        for start in range(len(body) - 2 * length + 1):
            times = _times_too(body, start, length)
            saved = (times - 1) * length
            if times > 1 and (best is None or saved > best[0]):
                best = saved, (start, length, times)
    return best[1] if best else None


def _times_too(body: tuple[Node, ...], start: int, length: int) -> int:
    """How often the group that begins here stands there in a row."""
    group, times = body[start : start + length], 1
    while body[start + length * times : start + length * (times + 1)] == group:
        times += 1
    return times


# Changes spread evenly over a round: where increases and decreases go.


def spread(changes: int, stitches: int, shift: int = 0) -> tuple[int, ...]:
    """The places, counted from 0 and ascending, of `changes` changes among `stitches` stitches.

    Change number i (from 0) ends at stitch floor((i + 1) * stitches / changes), so that the gaps between
    changes differ by at most one: J. E. Bresenham, "Algorithm for computer control of a digital plotter",
    IBM Systems Journal 4(1), 1965. `shift` turns the whole round on by that many stitches.

    >>> spread(3, 8)
    (1, 4, 7)

    Raises ValueError where there are fewer stitches than changes, or a negative number of either.
    """
    if changes < 0 or stitches < changes:
        raise ValueError(f"{changes} changes do not fit over {stitches} stitches")
    places = ((number * stitches // changes - 1 + shift) % stitches for number in range(1, changes + 1))
    return tuple(sorted(places))


def gaps_before(places: Sequence[int], stitches: int) -> tuple[list[int], int]:
    """How many plain stitches stand before each of these places, and how many behind the last.

    >>> gaps_before((1, 4), 8)
    ([1, 2], 3)
    """
    before = [place - last - 1 for last, place in zip((-1, *places), places, strict=False)]
    return before, stitches - 1 - places[-1] if places else stitches
