"""Rounds written in the same notation: from one count to another, with the changes spread evenly.

Increases straight over those of the round before make corners, so every other change is shifted by half a gap (common
practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Loop
from tracker.notation.glossary import BY_ID, abbreviation
from tracker.pattern.model import Start
from tracker.rounds.formatter import gaps_before, spread

LONGEST_GROUP = 4
"""The most changes that one bracket may hold; longer groups are hard to keep in mind."""


@dataclass(frozen=True, slots=True)
class EvenRound:
    """One round to write: it goes from `before` stitches to `after`, all of one `kind` (US name).

    `before` is 0 at a closed centre. With `chain` the round begins with a foundation chain that is joined to a ring.
    `colour` is named in the heading; "" where it stays the same. `staggered` shifts the changes by half a gap.
    `counted` says that the starting chain of a joined round is its first stitch.
    """

    number: int
    before: int
    after: int
    kind: str = "sc"
    loop: Loop = Loop.BOTH
    colour: str = ""
    chain: bool = False
    staggered: bool = False
    last: bool = False
    counted: bool = False


def write_rounds(rounds: Sequence[EvenRound], start: Start = Start.SPIRAL, terms: str = "US") -> tuple[str, ...]:
    """The lines of these rounds, one after the other; equal plain ones are put together as a range.

    Raises ValueError for a change that no plain increases or decreases can make (more than threefold).
    """
    lines: list[str] = []
    alike: list[EvenRound] = []
    for round_ in rounds:
        if alike and not _same_line(alike[-1], round_):
            lines.append(_line(alike, start, terms))
            alike = []
        alike.append(round_)
    return (*lines, _line(alike, start, terms)) if alike else ()


def _same_line(first: EvenRound, second: EvenRound) -> bool:
    """Whether two rounds can share a line: plain ones, the second without a colour or an end of its own."""
    plain = first.before == first.after == second.before == second.after
    alike = first.kind == second.kind and first.loop is second.loop and not first.last
    return plain and alike and not (second.colour or second.chain or second.last or first.chain)


def _line(rounds: Sequence[EvenRound], start: Start, terms: str) -> str:
    first, last = rounds[0], rounds[-1]
    heading = f"Rnd {first.number}" if first is last else f"Rnds {first.number}-{last.number}"
    colour = f" ({first.colour})" if first.colour else ""
    return f"{heading}{colour}: {_body(first, start, terms)} ({first.after})"


def _body(round_: EvenRound, start: Start, terms: str) -> str:
    stitch = abbreviation(round_.kind, terms)
    parts = []
    if round_.chain:
        parts.append(f"ch {round_.before}, {abbreviation('sl st', terms)} to form a ring")
    counted = start is Start.JOINED and round_.counted and BY_ID[round_.kind].turning_chain > 1
    if counted:
        parts.append(_counted_work(round_, stitch))
    elif start is Start.JOINED:
        parts += [_turning_chain(round_.kind), _work(round_, stitch)]
    else:
        parts.append(_work(round_, stitch))
    if start is Start.JOINED:
        top = f"top of ch-{BY_ID[round_.kind].turning_chain}" if counted else f"first {stitch}"
        parts.append(f"{abbreviation('sl st', terms)} to {top}")
    if round_.last:
        parts.append("fasten off")
    return ", ".join(parts)


def _turning_chain(kind: str) -> str:
    height = max(1, BY_ID[kind].turning_chain)
    return "ch 1" if height == 1 else f"ch {height} (does not count)"


def _counted_work(round_: EvenRound, stitch: str) -> str:
    """The round with its starting chain in the place of the first stitch."""
    chain = f"ch {BY_ID[round_.kind].turning_chain} (counts as {stitch})"
    before, after = round_.before, round_.after
    if before == 0:
        return f"{chain}, {after - 1} {stitch} in magic ring"
    if before == after:
        return f"{chain}, {stitch} in each {'ch' if round_.chain else 'st'} around"
    level, remainder = divmod(max(before, after), min(before, after))
    if after < before or level > 1:
        if remainder or after < before or level != 2:
            raise ValueError(f"{before} to {after} stitches from a chain that counts is not written anew")
        return f"{chain}, {stitch} in same st, 2 {stitch} in each st around"
    gaps, after_last = _even_gaps(remainder, before, round_.staggered)
    few, many = _widening(stitch)[1], _widening(stitch)[0]
    first = f"{stitch} in same st" if gaps[0] == 0 else _unit(gaps[0] - 1, few, many)
    tail = [many(after_last)] if after_last else []
    return ", ".join([chain, first, *_groups(gaps[1:], few, many), *tail])


def _work(round_: EvenRound, stitch: str) -> str:
    before, after = round_.before, round_.after
    if before == 0:
        return f"{after} {stitch} in magic ring"
    if before == after and round_.chain:
        return f"{stitch} in each ch around"
    if after > 3 * before or before > 3 * after:
        raise ValueError(f"{before} to {after} stitches in one round is more than plain changes can do")
    loop = round_.loop.value
    if before == after:
        return f"{loop} {stitch} around".lstrip()
    return f"{f'in {loop}: ' if loop else ''}{_changed(before, after, stitch, round_.staggered)}"


def _changed(before: int, after: int, stitch: str, staggered: bool) -> str:
    """A round that widens or narrows, as the changes that do it and what stands between them."""
    if after % before == 0:
        return f"{after // before} {stitch} in each st around"
    if before % after == 0:
        return f"{stitch}{before // after}tog x {after}"
    level, remainder = divmod(max(before, after), min(before, after))
    words = (_widening if after > before else _narrowing)(stitch)
    few, many = (words[level], words[level - 1])
    places = min(before, after)
    if 2 * remainder > places:
        few, many, remainder = many, few, places - remainder
    return _spread_out(remainder, places, few, many, staggered)


MOST_CHANGES = 10_000
"""Increases or decreases that one round is written with; each has a place of its own."""

Words = Callable[[int], str]
"""How a number of the same thing, side by side, is written."""


def _widening(stitch: str) -> tuple[Words, Words, Words]:
    """One, two and three stitches in one."""
    return (
        lambda number: f"{number} {stitch}",
        lambda number: f"{number} inc" if number > 1 else "inc",
        lambda number: f"3 {stitch} in each of next {number} sts" if number > 1 else f"3 {stitch} in next st",
    )


def _narrowing(stitch: str) -> tuple[Words, Words, Words]:
    """One, two and three stitches taken together."""
    return (
        lambda number: f"{number} {stitch}",
        lambda number: f"{number} dec" if number > 1 else "dec",
        lambda number: f"{stitch}3tog x {number}" if number > 1 else f"{stitch}3tog",
    )


def _spread_out(changes: int, places: int, few: Words, many: Words, staggered: bool) -> str:
    """So many of the few spread over all places, the many between them; the few are half of the places at most."""
    if changes > MOST_CHANGES:
        raise ValueError(f"{changes:,} increases or decreases in one round are more than can be written out")
    gaps, after_last = _even_gaps(changes, places, staggered)
    if after_last == 0:
        return ", ".join(_groups(gaps, few, many))
    return ", ".join([_unit(gaps[0], few, many), *_groups(gaps[1:], few, many), many(after_last)])


def _even_gaps(changes: int, places: int, staggered: bool) -> tuple[list[int], int]:
    """What stands before each change, and behind the last one."""
    shift = (places // changes + 1) // 2 if staggered else 0
    return gaps_before(spread(changes, places, shift), places)


def _unit(gap: int, few: Words, many: Words) -> str:
    return f"{many(gap)}, {few(1)}" if gap else few(1)


def _groups(gaps: Sequence[int], few: Words, many: Words) -> list[str]:
    """Gaps, each with what ends it, bracketed into the repeats that save the most."""
    groups: list[str] = []
    start = 0
    while start < len(gaps):
        size, times = _best_repeat(gaps, start)
        unit = gaps[start : start + size]
        words = _unit(unit[0], few, many) if size == 1 else ", ".join(_groups(unit, few, many))
        groups.append(f"({words}) x {times}" if times > 1 else words)
        start += size * times
    return groups


def _best_repeat(gaps: Sequence[int], start: int) -> tuple[int, int]:
    """Size and times of the repeat from here that covers the most changes, the smaller one of equals."""
    best = (1, 1)
    for size in range(1, LONGEST_GROUP + 1):
        times = 1
        unit = list(gaps[start : start + size])
        while len(unit) == size and list(gaps[start + times * size : start + (times + 1) * size]) == unit:
            times += 1
        if times > 1 and size * times > best[0] * best[1]:
            best = (size, times)
    return best
