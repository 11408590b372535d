"""A round with words in it that nobody understands: read otherwise where the arithmetic vouches for it.

Every departure from the printed words has a cost (`departures`); the cheapest readings are looked at first. The
witnesses are the bases that are there, the stated total and the need of the next round. Two agree and the cost is
small: the round is read so, and the maker is told what was taken as a remark. One agrees, or the cost is high: the
maker is asked. Where only signs changed, the bases alone are enough if no other number of them would do. A witness
that contradicts ends it, and so do two readings that cost the same and make different numbers: the round stays as
unreadable as it was.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from heapq import heappop, heappush

from tracker.diagnostics import Problem, Proposal, Span, note, verdict_of, warning
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Line
from tracker.notation.context import Context, OwnWord
from tracker.rounds.bases import Base, goes_into_every_space
from tracker.rounds.checks import Weighed, is_plain, needs_these, weigh
from tracker.rounds.departures import SMALL, bounds_of, departures

Read = Callable[[str, tuple[OwnWord, ...]], Line]
"""Reads the text of a round as its piece reads all of them, with words that are explained for this once."""

BearsOut = Callable[[Weighed], bool]
"""Whether the next round comes out over what this one leaves, and over nothing else."""

LONGEST = 1_500
"""Characters of a round that is tried: a page of lace has about a thousand in its longest."""

MOST_TRIED = 10
"""Readings of one round that are tried: three remarks in a round are many, and each can be cut in three ways."""

MOST_READ = 3_000
"""Characters that are read again for one round, so that a long one takes no longer than eight of the usual length."""

MOST_TIMES = 40
"""Numbers of times that are tried where one was lost: a round seldom has more repeats."""

WITNESSES = 2
"""How many must agree before a round is read without asking: one alone can be made to fit."""


@dataclass(frozen=True, slots=True)
class Lenient:
    """A round read with changes. The blanks that stand for what was left out keep every column where it was."""

    line: Line
    cost: int
    left_out: tuple[str, ...] = ()
    stitches: tuple[OwnWord, ...] = ()
    corrections: tuple[OwnWord, ...] = ()
    places: tuple[Span, ...] = ()
    """Where the words stand that were taken for others."""
    whys: tuple[str, ...] = ()
    """What else was read otherwise: brackets, a word between others that carries nothing."""

    is_asked: bool = False
    """Whether the maker has to agree, whatever the witnesses say."""

    @property
    def changes_signs_alone(self) -> bool:
        """Whether every word stands as it was printed."""
        return not self.left_out and not self.stitches and not self.corrections


def read_leniently(
    line: Line,
    base: Base | None,
    need: int | None,
    context: Context,
    read: Read,
    bears_out: BearsOut = lambda weighed: False,
) -> Line | None:
    """A line that cannot be read, without the words that stand in the way; None if no witness vouches for that.

    `base` is what is there (None: not known), `need` how many stitches the next round uses (None: not known);
    `bears_out` says whether a next round that does not tell it comes out over what is left. The last problem of the
    line tells what was left out, with a proposal where the maker has to agree.
    """
    lost = next((problem for problem in line.problems if problem.code == "times-lost"), None)
    if lost is not None:
        return _with_number(line, lost.span, base, need, read)
    best: tuple[Lenient, Weighed, bool] | None = None
    for lenient in lenient_readings(line, context, read):
        weighed = weigh(lenient.line, base)
        agreeing = _witnesses(lenient.line, weighed, base, need)
        if not agreeing or not _is_vouched(lenient, weighed, need) or _is_lost(lenient, weighed):
            continue
        is_plainer = best is not None and is_plain(weighed.problems) and not is_plain(best[1].problems)
        if best is None or (lenient.cost == best[0].cost and weighed.leaves == best[1].leaves and is_plainer):
            best = lenient, weighed, _is_sure(lenient, weighed, agreeing, base, bears_out)
        elif lenient.cost == best[0].cost and weighed.leaves != best[1].leaves:
            is_whole, was_whole = (goes_into_every_space(each.plan, base) for each in (weighed, best[1]))
            if is_whole == was_whole:
                return None  # two that are as likely make different numbers
            if is_whole:
                best = lenient, weighed, _is_sure(lenient, weighed, agreeing, base, bears_out)
        elif lenient.cost > best[0].cost:
            break
    return None if best is None else _line_as_typed(line, *best)


def _with_number(line: Line, sign: Span, base: Base | None, need: int | None, read: Read) -> Line | None:
    """A line in which the number of times was lost, with the only one that fits; None if none or several do."""
    start, end = bounds_of(line.text, sign)
    fits: list[tuple[Line, Weighed, int]] = []
    for number in range(2, min(MOST_TIMES, MOST_READ // max(len(line.text), 1)) + 1):
        fitting = read(line.text[:start] + str(number).ljust(end - start) + line.text[end:], ())
        if not fitting.is_readable:
            return None
        weighed = weigh(fitting, base)
        is_total = len(fitting.stated) > len(line.stated)  # what is tried as a number of times must not be read so
        if not is_total and _witnesses(fitting, weighed, base, need) >= WITNESSES:
            fits.append((fitting, weighed, number))
    if len(fits) != 1:
        return None
    fitting, weighed, number = fits[0]
    assert weighed.leaves is not None and weighed.uses is not None
    reason = f"read the lost number of times as {number}"
    message = f"{reason}; then it uses {weighed.uses} and leaves {weighed.leaves}: right?"
    problem = warning("proposal", message, sign, "agree, or write the round anew")
    text = f"{line.text[:start]}x {number}{line.text[end:]}"
    problem = replace(problem, proposal=Proposal(text, weighed.uses, weighed.leaves, reason))
    return replace(fitting, text=line.text, problems=(*fitting.problems, problem))


def _is_sure(lenient: Lenient, weighed: Weighed, agreeing: int, base: Base | None, bears_out: BearsOut) -> bool:
    """Whether the maker need not be asked; the words that remain without a sign have to be read plainly."""
    if lenient.is_asked or lenient.cost > SMALL or (lenient.whys and not is_plain(weighed.problems)):
        return False
    if agreeing >= WITNESSES or (lenient.changes_signs_alone and _fits_these_alone(lenient.line, base)):
        return True
    return agreeing + bears_out(weighed) >= WITNESSES


def _fits_these_alone(line: Line, base: Base | None) -> bool:
    """Whether a line comes out over its bases, or over a chain of its own, and not over any other number."""
    if line.foundation is not None:
        return line.foundation.bases > 0
    return base is not None and needs_these(line, base)


def _line_as_typed(line: Line, lenient: Lenient, weighed: Weighed, is_sure: bool) -> Line:
    """The line as it was typed, with what the changed one says and what was changed."""
    if lenient.stitches:
        reported = [_stitch_problem(line, lenient, weighed)]
    elif is_sure:
        reported = list(_notes(line, lenient))
    else:
        reported = [_proposal_problem(line, lenient, weighed)]
    problems = (*lenient.line.problems, *reported)
    remarks = (*lenient.line.remarks, *lenient.left_out)
    return replace(lenient.line, text=line.text, remarks=remarks, problems=problems)


def _notes(line: Line, lenient: Lenient) -> Iterator[Problem]:
    for word, place in zip(lenient.corrections, lenient.places, strict=True):
        yield note("slip-forgiven", f"read '{word.phrase}' as '{word.meaning}'", place)
    yield from (note("slip-forgiven", why, line.instruction) for why in lenient.whys)
    if lenient.left_out:
        yield note("taken-as-remark", f"took {_quoted(lenient.left_out)} as a remark", line.instruction)


def _proposal_problem(line: Line, lenient: Lenient, weighed: Weighed) -> Problem:
    assert weighed.leaves is not None and weighed.uses is not None
    reasons = [*(f"read '{word.phrase}' as '{word.meaning}'" for word in lenient.corrections), *lenient.whys]
    if lenient.left_out:
        reasons.append(f"left out {_quoted(lenient.left_out)}")
    reason = " and ".join(reasons) or "took full stops as part of short words"
    uses, leaves = weighed.uses, weighed.leaves
    text = _tidy(lenient.line.text)
    for word in lenient.corrections:
        text = re.sub(rf"\b{re.escape(word.phrase)}\b", word.meaning, text, flags=re.IGNORECASE)
    message = f"{reason}; then it uses {uses} and leaves {leaves}: right?"
    problem = warning("proposal", message, line.instruction, "agree, or write the round anew")
    return replace(problem, proposal=Proposal(text, uses, leaves, reason))


def _stitch_problem(line: Line, lenient: Lenient, weighed: Weighed) -> Problem:
    assert weighed.leaves is not None and weighed.uses is not None
    names = _quoted(tuple(word.phrase for word in lenient.stitches))
    besides = f", left out {_quoted(lenient.left_out)}" if lenient.left_out else ""
    uses, leaves = weighed.uses, weighed.leaves
    message = f"took {names} for a stitch over one place{besides}; then it uses {uses} and leaves {leaves}: right?"
    return warning("stitch-supposed", message, line.instruction, "say in the file under [words] what it is")


_MOST_QUOTED = 60
"""Characters of left-out words that are shown; a question is to be read at a glance."""


def _quoted(words: tuple[str, ...]) -> str:
    short = [each if len(each) <= _MOST_QUOTED else each[: _MOST_QUOTED - 1].rstrip() + "…" for each in words]
    return " and ".join(f"'{each}'" for each in short)


def _tidy(text: str) -> str:
    """The text without the blanks of what was left out, and with one beside a bracket that took its place."""
    text = re.sub(r"(?<=[\w:,;])(?=[(\[{])|(?<=[)\]}])(?=\w)", " ", text)
    rows = (" ".join(row.split()) for row in text.split("\n"))
    return "\n".join(row.replace(" ,", ",").replace(" .", ".") for row in rows if row)


def _witnesses(line: Line, weighed: Weighed, base: Base | None, need: int | None) -> int:
    """How many of the witnesses agree; none if one contradicts."""
    if weighed.leaves is None or not weighed.leaves or verdict_of(weighed.problems) != "ok":
        return 0
    if need is not None and need != weighed.leaves:
        return 0
    own_chain = line.foundation is not None and line.foundation.bases > 0
    by_bases = bool(weighed.uses) and (base is not None or own_chain)
    return by_bases + (weighed.stated is not None) + (need is not None)


def _is_vouched(lenient: Lenient, weighed: Weighed, need: int | None) -> bool:
    """Whether every supposed stitch is made, and more than the bases speaks for it, which "in each st around" fits in
    any case."""
    if not lenient.stitches:
        return True
    made = dict(weighed.plan.tally.kinds) if weighed.plan is not None else {}
    is_made = all(made.get(word.phrase) for word in lenient.stitches)
    return is_made and (weighed.stated is not None or need is not None)


def _is_lost(lenient: Lenient, weighed: Weighed) -> bool:
    """Whether a word that was taken for another became part of nothing that is made: that would leave out what may
    have been a stitch."""
    text = lenient.line.text
    made = [bounds_of(text, run.span) for run, times in weighed.plan.runs() if times] if weighed.plan else []
    corrected = zip(lenient.corrections, lenient.places, strict=True)
    places = [bounds_of(text, place)[0] for word, place in corrected if word.meaning not in _JOINTS]
    return any(not any(start <= place < end for start, end in made) for place in places)


_JOINTS = ("then", "and")
"""Words that stand between what is made and are part of nothing."""


# The search: cheapest changes first.


def lenient_readings(line: Line, context: Context, read: Read) -> Iterator[Lenient]:
    """Readings of a line that cannot be read, cheapest first; bounded in length and number."""
    if len(line.text) > LONGEST:
        return
    heap: list[tuple[int, int, Lenient]] = [(0, 0, Lenient(line, 0))]
    variants: set[tuple[str, tuple[OwnWord, ...]]] = {(line.text, ())}
    tried = 0
    most = min(MOST_TRIED, MOST_READ // max(len(line.text), 1))
    while heap:
        cost, _, lenient = heappop(heap)
        if lenient.line.is_readable and lenient.line.body:
            yield lenient
            continue
        for departure in departures(lenient.line, line, context):
            text = departure.applied(lenient.line.text)
            stitches = (*lenient.stitches, *((OwnWord(departure.stitch),) if departure.stitch else ()))
            corrections = (*lenient.corrections, *departure.corrections)
            if (text, (*stitches, *corrections)) in variants or tried >= most:
                continue
            variants.add((text, (*stitches, *corrections)))
            tried += 1
            changed = Lenient(
                read(text, (*stitches, *corrections)),
                cost + departure.cost,
                (*lenient.left_out, *filter(None, (departure.words,))),
                stitches,
                corrections,
                (*lenient.places, *departure.places),
                (*lenient.whys, *filter(None, (departure.why,))),
                lenient.is_asked or departure.is_asked,
            )
            heappush(heap, (changed.cost, tried, changed))
