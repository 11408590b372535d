"""Rounds that stand for others: the same again up to a count, with a change, or on in the same way.

"Rep last 2 rnds until there are 48 sts" and "continue increasing in this way until 60 sts" say no number of rounds:
it is worked out, and where the sums do not come out, or in several ways, that is told and nothing assumed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, pairwise, repeat

from tracker.diagnostics import NOWHERE, Problem, error, note, verdict_of, warning
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context
from tracker.notation.lexer import scan_behind
from tracker.notation.token_kinds import BASES, MADE, T
from tracker.notation.token_stream import Token
from tracker.pattern.growing_sides import grown_texts
from tracker.pattern.line_variants import (
    Reads,
    Written,
    on_one_line,
    with_number_stepped,
    with_numbers,
    without_total,
    words_of,
)
from tracker.pattern.model import Entry, Round
from tracker.pattern.round_below import base_left_by
from tracker.pattern.widening_gap import Spacing, spacing_of, written_with
from tracker.rounds.bases import Base, goes_into_every_space, left_by
from tracker.rounds.checks import Weighed, is_plain, weigh

MOST = 1_000
"""Rounds up to a count; no piece has as many that are told in one line (no source)."""


@dataclass(frozen=True, slots=True)
class Again:
    """The lines that stand behind one that names them, in order, and how many rounds it makes of them where it has no
    numbers of its own; or why that cannot be told."""

    lines: Sequence[Written] = ()
    count: int = 0
    problem: Problem | None = None


def lines_again(
    rounds: Sequence[Round], lines: Sequence[Written], line: Line, count: int, context: Context, read: Reads
) -> Again:
    """What a line stands for that names others behind these `rounds`, each read from the line in `lines`; `count` is
    how many numbers it is for."""
    reference = line.reference
    assert reference is not None
    if reference.onward:
        has_numbers = (line.heading.numbers and not line.heading.is_open) or line.heading.rounds_ahead > 1
        if line.heading.is_open and not (reference.stitches or reference.rounds):
            return Again(problem=_unclear(line, "for how many rounds it goes on is not told"))
        most = count if has_numbers else reference.rounds
        return _counted(_onward(rounds, lines, line, reference.stitches, most, context, read))
    last_lines = lines[-reference.last :] if reference.last else ()
    by_number = {round_.number: line for round_, line in zip(rounds, lines, strict=True)}
    sources = [*last_lines, *(by_number[number] for number in reference.numbers if number in by_number)]
    if not sources and reference.worked:
        sources = [(line, Entry(reference.worked, 0))]
    if not sources:
        named_as = ", ".join(str(n) for n in reference.numbers) or "the rounds before"
        message = f"there is no round {named_as} before this one to repeat"
        return Again(problem=error("no-such-round", message, NOWHERE, "check the number"))
    if reference.worked:
        sources = [(read(reference.worked), replace(entry, text=reference.worked)) for _, entry in sources]
    if reference.gap is not None:
        named = [pair for pair in zip(rounds, lines, strict=True) if pair[0].number in reference.numbers]
        named = named or list(zip(rounds, lines, strict=True))
        spaced = _spaced_anew(named, reference.gap, _base(rounds), line, context, read)
        words = reversed(words_of(line, context))
        gap = next((word for word in words if word.kind is T.NUMBER and word.number == reference.gap), None)
        if spaced.problem is None or gap is None:
            return spaced
        renumbered = _renumbered(sources, gap, _base(rounds), line, context, read)
        return spaced if renumbered.problem is not None else renumbered
    if number := _number_changed(reference.change, context):
        return _renumbered(sources, number, _base(rounds), line, context, read)
    if reference.change:
        sources = _changed(sources, reference.change, context, read)
    if (grown := _grown_anew(rounds, lines, sources, line, count, context, read)) is not None:
        return grown
    if reference.stitches:
        return _counted(_up_to(sources, _base(rounds), reference.stitches, line))
    if rounds and reference.until > rounds[-1].number:
        return Again(sources, reference.until - rounds[-1].number)
    return Again(
        _doubted(sources, _base(rounds), line, context), reference.rounds or len(sources) * max(reference.times, 1)
    )


def _counted(lines: list[Written] | Problem) -> Again:
    return Again(problem=lines) if isinstance(lines, Problem) else Again(lines, len(lines))


def _base(rounds: Sequence[Round]) -> Base | None:
    return base_left_by(rounds[-1]) if rounds else None


def _changed(sources: Sequence[Written], change: str, context: Context, read: Reads) -> list[Written]:
    """The lines with the words of a change before what they say to make, "in back loops only, sc in each st"; the
    loops that it is about in place of those that a line names."""
    loops = [word.text for word in scan_behind(fold(change), 0, context.terms) if word.kind is T.LOOP]
    lines: list[Written] = []
    for line, entry in (without_total(each, read) for each in sources):
        named = [word for word in words_of(line, context) if word.kind is T.LOOP] if loops else []
        text = f"{line.text[: line.heading.end]}{'' if named else change + ', '}{line.text[line.heading.end :]}"
        for word in reversed(named):
            text = f"{text[: word.start]}{loops[0]}{text[word.end :]}"
        other = read(text)
        if other.is_readable and other.body:
            lines.append((other, replace(entry, text=text)))
        else:
            lines.append((replace(line, remarks=(*line.remarks, change)), entry))
    return lines


def _doubted(sources: Sequence[Written], base: Base | None, line: Line, context: Context) -> Sequence[Written]:
    """The lines as they stand; with a question where one that names them says besides how many of a kind there are,
    "but with two ch-1 sps on each side now", and neither its total nor the places that are there vouch for them."""
    pairs = pairwise(words_of(line, context))
    tells = any(
        number.kind is T.NUMBER and (counted.kind in MADE or counted.kind in BASES) for number, counted in pairs
    )
    if not tells or line.stated or (base is not None and _uses_all(_weighed(sources[0][0], base), base)):
        return sources
    (first, entry), *others = sources
    message = "read as it stands there, and nothing taken of what this line says besides"
    question = warning("read-otherwise", message, line.instruction, "state the total")
    return [(replace(first, problems=(*first.problems, question)), entry), *others]


def _number_changed(change: str, context: Context) -> Token | None:
    """The number of "with 9 dc between the corners", or of "every 5th st"; None where something else changes."""
    words = scan_behind(fold(change), 0, context.terms)
    return next((word for word in words if word.kind in (T.NUMBER, T.ORDINAL)), None)


def _renumbered(
    sources: Sequence[Written], changed: Token, base: Base | None, line: Line, context: Context, read: Reads
) -> Again:
    """The line with this number in place of one of its sort that it has: the one with which the round uses all that
    is there, and leaves what is stated."""
    came_out: dict[int, Written] = {}
    filling: set[int] = set()
    number = changed.number
    for nth, (source, entry) in with_numbers(sources[0], context, read) if base is not None else ():
        words = words_of(source, context)
        old = words[nth].number
        if words[nth].kind is not changed.kind or old in (0, number) or old in came_out or _is_factor(words, nth):
            continue
        text = source.text
        for index, word in reversed([*enumerate(words)]):
            if word.kind is changed.kind and word.number == old and not _is_factor(words, index):
                text = f"{text[: word.start]}{changed.text}{text[word.end :]}"
        other = read(text)
        weighed = weigh(replace(other, stated=line.stated), base)
        if verdict_of(weighed.problems) == "ok" and is_plain(weighed.problems) and weighed.plan is not None:
            came_out[old] = (other, replace(entry, text=text))
            if base is not None and weighed.uses == base.stitches + (base.spaces or 0):
                filling.add(old)
    # Along an edge of lace stitches may be passed over; a round that leaves out none is likelier.
    came_out = {old: came_out[old] for old in filling or came_out}
    if len(sources) != 1 or len(came_out) != 1:
        return Again(problem=_unclear(line, f"which number of that round is {number} this time is not to be told"))
    old, (other, entry) = next(iter(came_out.items()))
    message = f"read as that round with {number} in place of {old}"
    question = _otherwise(message, line, is_sure=bool(line.stated))
    return Again([(replace(other, problems=(*other.problems, question)), entry)], 1)


def _is_factor(words: Sequence[Token], index: int) -> bool:
    """Whether this number tells how often something is worked: "x 3", "3 more times"."""
    return any(
        word.kind in (T.TIMES, T.MORE) for word in (*words[max(index - 1, 0) : index], *words[index + 1 : index + 2])
    )


def _spaced_anew(
    named: Sequence[tuple[Round, Written]], gap: int, base: Base | None, line: Line, context: Context, read: Reads
) -> Again:
    """The changes of the last of the named rounds that has any, with another number of plain stitches between."""
    as_in, (_, entry) = next((pair for pair in reversed(named) if pair[0].leaves != pair[0].before), named[-1])
    spacing = spacing_of(as_in.plan) if as_in.plan is not None else None
    text = None
    if spacing is not None and base is not None and base.stitches % (gap + spacing.change.act.takes) == 0:
        text = written_with(spacing, gap, base.stitches // (gap + spacing.change.act.takes), context.terms)
    if base is None or text is None:
        return Again(problem=_unclear(line, f"what {as_in.label} does with {gap} between does not come out here"))
    text = f"{line.text[: line.heading.end]}{text}"
    other = read(text)
    leaves = _weighed(other, base).leaves or 0
    message = f"read as what {as_in.label} does, with {gap} between"
    is_sure = bool(line.stated) or leaves - base.stitches == _grown(as_in)
    question = _otherwise(message, line, is_sure=is_sure)
    return Again([(replace(other, problems=(*other.problems, question)), replace(entry, text=text))], 1)


def _grown_anew(
    rounds: Sequence[Round],
    lines: Sequence[Written],
    sources: Sequence[Written],
    line: Line,
    count: int,
    context: Context,
    read: Reads,
) -> Again | None:
    """The round before once more with one group more on each side, where it does not come out as it stands, as in
    "Rnd 5: as Rnd 4, but there are 3 spaces on each side now"; None where it does, or that does not either."""
    base = _base(rounds)
    if base is None or not base.spaces or len(rounds) < 2 or list(sources) != [lines[-1]]:
        return None
    as_it_stands = weigh(replace(sources[0][0], stated=line.stated), base)
    if _uses_all(as_it_stands, base) and verdict_of(as_it_stands.problems) == "ok":
        return None
    grown: list[Written] = []
    for source, entry in islice(_grown_sides(lines[-2], lines[-1], context, read), max(count, 1)):
        weighed = _weighed(source, base)
        if weighed.plan is None or not is_plain(weighed.problems) or not _uses_all(weighed, base):
            return None
        if weighed.plan.leaves - base.stitches != _grown(rounds[-1]):
            return None
        grown.append((source, entry))
        base = left_by(weighed.plan)
    if not grown:
        return None
    total = line.stated[-1].stitches if line.stated else None
    if total not in (None, base.stitches):
        return None
    message = f"read as {rounds[-1].label} with one group more on each side"
    question = _otherwise(message, line, is_sure=total is not None)
    first, entry = grown[0]
    return Again([(replace(first, problems=(*first.problems, question)), entry), *grown[1:]], len(grown))


def _up_to(sources: Sequence[Written], base: Base | None, goal: int, line: Line) -> list[Written] | Problem:
    """The lines again and again over `base`, until `goal` stitches are there; whole repeats, where the rest of the
    last one leaves the count as it is."""
    if base is None or base.stitches == goal:
        return _unclear(line, f"how often to reach {goal} stitches is not to be told here")
    new_lines: list[Written] = []
    reached = 0
    passed = base.stitches
    while len(new_lines) < MOST:
        for source, entry in sources:
            weighed = _weighed(source, base)
            if weighed.plan is None or weighed.leaves is None:
                why = f"a repeat over {base.stitches} stitches does not come out"
                return new_lines[:reached] if reached else _unclear(line, why)
            new_lines.append((source, entry))
            base = left_by(weighed.plan)
            if base.stitches != goal and reached:
                return new_lines[:reached]
            reached = len(new_lines) if base.stitches == goal else 0
        if reached:
            return new_lines
        if abs(goal - base.stitches) >= abs(goal - passed) or (goal > passed) != (goal > base.stitches):
            break
        passed = base.stitches
    return _unclear(line, f"repeats go from {passed} stitches to {base.stitches}, and never leave {goal}")


def _onward(
    rounds: Sequence[Round],
    lines: Sequence[Written],
    line: Line,
    goal: int,
    count: int,
    context: Context,
    read: Reads,
) -> list[Written] | Problem:
    """The rounds that go on as the last ones do, up to `goal` stitches, or `count` of them where it is 0.

    Between two rounds that change the count by as much stand as many plain ones as before.
    """
    changing = [i for i in range(1, len(rounds)) if rounds[i].leaves not in (None, rounds[i - 1].leaves)]
    # What is worked on a chain of a line of its own, number 0, is no change.
    changing = [i for i in changing if rounds[i].before == rounds[i - 1].leaves and rounds[i - 1].number]
    base = _base(rounds)
    if base is None:
        return _unclear(line, "the round before came to no number")
    if not changing and not goal and _is_steady(rounds[-2:]):
        return [lines[-1]] * count
    if len(changing) < 2 or (step := _grown(rounds[changing[-1]])) != _grown(rounds[changing[-2]]):
        return _unclear(line, "the rounds before do not tell how: they do not change by the same number of stitches")
    stated_step = _stated_step(line, context)
    if stated_step not in (0, abs(step)):
        return _unclear(line, f"it says {stated_step} a time, and the rounds before change by {step:+d}")
    before, last = changing[-2:]
    between = list(lines[before + 1 : last])
    if _stated_rest(line, context) not in (None, len(between)):
        return _unclear(
            line, f"it changes in other rounds than those before, which have {len(between)} plain between"
        )
    tail = between[len(rounds) - 1 - last :]
    one, two = (spacing_of(plan) if (plan := rounds[index].plan) is not None else None for index in (before, last))
    if one is not None and two is not None and one.count == two.count:
        wider = two.gap - one.gap
        if _stated_widening(line, context) not in (None, abs(wider)):
            return _unclear(line, f"the rounds before have {wider} more between, and it says another number")
        following: Iterator[Written] | None = _wider(two, wider, lines[last][1], context, read)
    else:
        bases = (rounds[before].before, base)
        following = _progress(lines[before], lines[last], bases, step, context, read)
    if following is None:
        return _unclear(line, "what is more or less in each round is not plain in those before")
    new_lines: list[Written] = list(tail)
    while len(new_lines) < (count or MOST):
        first = next(following, None)
        weighed = _weighed(first[0], base) if first is not None else None
        if first is None or weighed is None or weighed.plan is None or not _comes_out(weighed, base, step):
            break
        new_lines.append(first)
        base = left_by(weighed.plan)
        if goal and base.stitches == goal:
            return new_lines
        if goal and (goal - base.stitches) * step < 0:
            break
        new_lines.extend(between)
    if not goal and len(new_lines) >= count:
        return new_lines[:count]
    return _unclear(line, f"{step:+d} a time it comes to {base.stitches} stitches, and not to {goal or 'an end'}")


def _stated_step(line: Line, context: Context) -> int:
    """n of "keep increasing by n"; 0 where that is not said."""
    pairs = pairwise(word for word in words_of(line, context) if word.kind is not T.FILLER)
    return next((n.number for lead, n in pairs if lead.kind in (T.INC, T.DEC) and n.kind is T.NUMBER), 0)


def _stated_rest(line: Line, context: Context) -> int | None:
    """How many rounds lie between two that change the count: "on every other round", "in each round"; None where
    that is not said."""
    words = words_of(line, context)
    if any(word.kind is T.FILLER and {"each", "every"} & {*word.text.split()} for word in words):
        return 0
    for lead, word, round_ in zip(words, words[1:], words[2:], strict=False):
        if round_.kind is T.ROUND and (word.kind is T.OTHER or (lead.kind is T.EACH and word.kind is T.ORDINAL)):
            return word.number - 1 if word.kind is T.ORDINAL else 1
        if word.kind is T.EACH and round_.kind is T.ROUND:
            return 0
    return None


def _stated_widening(line: Line, context: Context) -> int | None:
    """n of "having n more between the increases"; None where that is not said."""
    words = [word for word in words_of(line, context) if word.kind in (T.NUMBER, T.MORE, T.BETWEEN)]
    triples = zip(words, words[1:], words[2:], strict=False)
    order = (T.NUMBER, T.MORE, T.BETWEEN)
    return next((triple[0].number for triple in triples if tuple(word.kind for word in triple) == order), None)


def _wider(spacing: Spacing, by: int, entry: Entry, context: Context, read: Reads) -> Iterator[Written]:
    """The rounds that go on from one of even gaps, each gap by as much wider than the one before."""
    gap = spacing.gap + by
    while (text := written_with(spacing, gap, spacing.count, context.terms)) is not None:
        yield read(text), replace(entry, text=text)
        gap += by


def _unclear(line: Line, why: str) -> Problem:
    return error("goes-on-unclear", why, line.instruction, "write its rounds one by one, or how many it leaves")


def _otherwise(message: str, line: Line, *, is_sure: bool) -> Problem:
    """What the maker is told of a round that is read as another one than it names, or asked where nothing vouches."""
    if is_sure:
        return note("read-otherwise", message, line.instruction)
    return warning("read-otherwise", f"{message}: right?", line.instruction, "state the total")


def _is_steady(last: Sequence[Round]) -> bool:
    """Whether the last rounds are all alike, so that no pattern of several is gone on with."""
    tallies = (each.plan.tally for each in last if each.plan is not None)
    return len({(tally.takes, tally.stitches, tally.kinds) for tally in tallies}) == 1


def _grown(round_: Round) -> int:
    return (round_.leaves or 0) - (round_.before or 0)


def _weighed(line: Line, base: Base) -> Weighed:
    return weigh(replace(line, stated=()), base)


def _comes_out(weighed: Weighed, base: Base, step: int) -> bool:
    """Whether a round is plainly read, uses all that is there and changes the count by `step`."""
    plain = verdict_of(weighed.problems) == "ok" and is_plain(weighed.problems)
    return plain and _uses_all(weighed, base) and weighed.leaves == base.stitches + step


def _uses_all(weighed: Weighed, base: Base) -> bool:
    """Whether it goes into every stitch that is there, or into every space."""
    return weighed.uses == base.stitches or goes_into_every_space(weighed.plan, base)


# What is more or less in each of the rounds: the same words, or one number in them that goes up or down by one.


def _progress(
    before: Written, last: Written, bases: tuple[int | None, Base], step: int, context: Context, read: Reads
) -> Iterator[Written] | None:
    """The rounds that go on behind two that change the count, the first of them over the second of the `bases`; None
    where these may go on in no way, or in several."""
    earlier, now = (Base(bases[0]) if bases[0] else None, bases[1])
    if _comes_out(_weighed(last[0], now), now, step):
        return repeat(last)
    wider = next(_grown_sides(before, last, context, read), None)
    if wider is not None and _comes_out(_weighed(wider[0], now), now, step):
        return _grown_sides(before, last, context, read)
    ways: list[tuple[Written, int, int]] = []
    for nth, written in with_numbers(last, context, read):
        for by in (1, -1):
            following = with_number_stepped(written, nth, by, context, read)
            if following is None or not _comes_out(_weighed(following[0], now), now, step):
                continue
            back = with_number_stepped(written, nth, -by, context, read)
            if back is None or earlier is None or _is_alike(back[0], before[0], earlier):
                ways.append((written, nth, by))
    return _steps_of(*ways[0], context, read) if len(ways) == 1 else None


def _grown_sides(before: Written, last: Written, context: Context, read: Reads) -> Iterator[Written]:
    """The rounds that have what the last of these has more than the one before it once more, and once more."""
    (one, _), (two, entry) = (without_total(on_one_line(each, read), read) for each in (before, last))
    for text in grown_texts(words_of(one, context), words_of(two, context), two.text):
        yield read(text), replace(entry, text=text)


def _steps_of(written: Written, nth: int, by: int, context: Context, read: Reads) -> Iterator[Written]:
    following = with_number_stepped(written, nth, by, context, read)
    while following is not None:
        yield following
        following = with_number_stepped(following, nth, by, context, read)


def _is_alike(line: Line, other: Line, base: Base) -> bool:
    one, two = _weighed(line, base).plan, _weighed(other, base).plan
    return one is not None and two is not None and one.tally == two.tally and one.uses == two.uses
