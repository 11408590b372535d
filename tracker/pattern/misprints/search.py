"""The search for a misprint: every small change near a complaint is tried, and judged by the checker itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property, lru_cache

from tracker.diagnostics import Problem, Severity, Span
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Line, Stated
from tracker.notation.context import Context
from tracker.notation.reader import read_line
from tracker.pattern.misprints.edits import (
    Edit,
    Slip,
    StitchNeed,
    goes_to_end,
    instruction_edits,
    needs,
    reference_edits,
    swapped,
    total_edits,
)
from tracker.pattern.misprints.house_style import HouseWording, wording
from tracker.pattern.misprints.recheck import COUNTING, Checked, CheckedSheet
from tracker.pattern.misprints.source_map import Phrase, Written, keeps_its_word, written
from tracker.pattern.round_below import base_left_by
from tracker.rounds.agreement import groups_in
from tracker.rounds.bases import Base, left_by
from tracker.rounds.checks import Weighed, weigh, weigh_range
from tracker.rounds.plan import Act, Node, Plan, Repeat, Technique

AHEAD = 12
"""Lines after a complaint that are checked with a change; a misprint's trace is lost in fewer."""

BACK = 6
"""Lines before a complaint that are looked at, in patterns that state few totals."""

MAX_TRIED = 30
"""Changes that are put through the whole checker for one complaint."""

MOST_READ = 36_000
"""Characters of changed lines that are read for one pattern, less than a second of work. The searches
of planted misprints that find one read 200 to 22,000; a line of thirty stitches over unknown bases asks for more
than 200,000, of which the likeliest changes come first."""

# Costs beside that of the change itself; smaller is likelier.
AWAY = 0.15
"""For each line between the change and the complaint."""
VOUCHED = 0.5
"""For a line whose total and instruction vouch for each other."""
LEFT_OVER = 1.0
"""For each line nearby that still complains."""
OTHERWISE = 1.5
"""For a line that with the change is read in an unlikely way."""
HABIT = 0.2
"""For the same in a piece that asks for it elsewhere."""
CLEARLY = 0.75
"""A change dearer by this than another is no longer worth a mention."""


@dataclass(frozen=True)
class Repair:
    """A change that the checker accepts: the new text of each line that it touches, and the piece with it."""

    edit: Edit
    lines: Mapping[int, str]
    after: Checked
    cost: float


@dataclass(frozen=True)
class _Try:
    """A change worth a look.

    `cost` is that of the change and its place; `least` is what it will come to at least once the checker has spoken.
    """

    edit: Edit
    lines: Mapping[int, str]
    cost: float
    least: float


@dataclass
class Budget:
    """What the search through one pattern may still read, in characters: no slip of the printer is worth minutes."""

    left: int = MOST_READ

    @property
    def is_spent(self) -> bool:
        return self.left <= 0

    def spend(self, text: str, rounds: int = 1) -> bool:
        """Pay for reading a line and working so many rounds of it; whether there was enough left for it."""
        self.left -= len(text) * rounds
        return self.left > 0


def repairs(sheet: CheckedSheet, checked: Checked, fault: int, most: int, budget: Budget) -> list[Repair]:
    """What could have been meant, likeliest first; `fault` is the line whose numbers do not agree."""
    search = _Search(sheet, checked, fault, budget)
    return search.accepted(search.singles(), most) or search.accepted(search.doubles(), most)


@lru_cache(maxsize=4096)
def _read(text: str, context: Context, main: str) -> Line:
    return read_line(text, context, main)


@dataclass(frozen=True)
class _Search:
    """One complaint under search."""

    sheet: CheckedSheet
    checked: Checked
    fault: int
    budget: Budget

    @cached_property
    def words(self) -> HouseWording:
        return wording(self.written(line) for line in range(len(self.sheet.entries)))

    @cached_property
    def suspects(self) -> list[int]:
        """The lines where the misprint can be: back to the last whose total and instruction vouch for each other."""
        line = self.fault
        lines = [line]
        while line > 0 and self.fault - line < BACK:
            line -= 1
            lines.append(line)
            if self.is_vouched(line):
                break
        return lines

    def is_vouched(self, line: int) -> bool:
        rounds = [self.checked.rounds[number] for number in self.checked.of_line[line]]
        return bool(rounds) and all(round_.stated and round_.verdict == "ok" for round_ in rounds)

    def read(self, line: int, text: str = "") -> Line:
        """A line as it is written, or with another text."""
        text = text or self.sheet.entries[line].text
        return _read(text, self.sheet.context, self.checked.main_before(line) or self.sheet.main)

    def written(self, line: int) -> Written:
        return written(self.read(line), self.sheet.context.terms)

    def base(self, line: int, read: Line) -> Base | None:
        """What a line is worked into as the piece stands."""
        before = line - 1
        if read.worked_into is not None:
            numbers = {self.checked.last(n).number: n for n in range(line)}
            if read.worked_into not in numbers:
                return None
            before = numbers[read.worked_into]
        if before < 0 or read.foundation is not None:
            return None
        return base_left_by(self.checked.last(before))

    # Changes worth trying

    def singles(self) -> Iterator[_Try]:
        """Every single change that fits its own line and the next one."""
        yield from self.swaps()
        worth = [
            (edit.cost + self.doubt(line, edit.slip), line, edit)
            for line in self.suspects
            for edit in self.edits(line)
            if self.is_worth_reading(line, edit)
        ]
        for cost, line, edit in sorted(worth, key=lambda change: change[0]):
            if not self.budget.spend(edit.text, self.rounds_worked(line)):
                return
            left_over = self.left_over(line, self.read(line, edit.text))
            if left_over is not None:
                yield _Try(edit, {line: edit.text}, cost, cost + left_over)

    def rounds_worked(self, line: int) -> int:
        """How many rounds have to be worked to judge a line: all of those that change the count, else the first."""
        return len(self.checked.of_line[line]) if self.checked.growths[line] else 1

    def is_worth_reading(self, line: int, edit: Edit) -> bool:
        """Whether by what it adds the change can give the line what it lacks."""
        lacking = self.needs[line]
        return edit.adds is None or lacking is None or any(need.met_by(edit.adds) for need in lacking)

    @cached_property
    def needs(self) -> dict[int, list[StitchNeed] | None]:
        return {line: needs(self.read(line), self.base(line, self.read(line))) for line in self.suspects}

    def edits(self, line: int) -> Iterator[Edit]:
        read = self.read(line)
        page = self.written(line)
        if read.reference is not None:
            yield from total_edits(page, _counts(self.checked.last(line).plan))
            yield from reference_edits(page)
            return
        base = self.base(line, read)
        alone = weigh(replace(read, stated=()), base)
        yield from total_edits(page, (*_counts(alone.plan), *_counts(self.checked.last(line).plan)))
        unworked = base.stitches - alone.uses if base and alone.uses is not None else 0
        yield from instruction_edits(page, self.words, unworked)

    def doubt(self, line: int, slip: Slip) -> float:
        vouched = slip is not Slip.TOTAL and line != self.fault and self.is_vouched(line)
        return AWAY * (self.fault - line) + (VOUCHED if vouched else 0.0)

    def swaps(self) -> Iterator[_Try]:
        """Two neighbouring lines in the wrong order."""
        for first in (self.fault, self.fault - 1):
            if not 0 <= first < len(self.sheet.entries) - 1:
                continue
            if self.read(first).reference or self.read(first + 1).reference:
                continue
            one, other = swapped(self.written(first), self.written(first + 1))
            if one != self.sheet.entries[first].text:
                edit = Edit(Slip.SWAP, one, "", "", Slip.SWAP.value)
                yield _Try(edit, {first: one, first + 1: other}, edit.cost, edit.cost)

    def doubles(self) -> Iterator[_Try]:
        """One change of the instruction, with the stated total set to what it then makes."""
        for line in self.suspects[:2]:
            read = self.read(line)
            if read.reference is not None or not read.stated:
                continue
            used = self.used_by_next(line + 1)
            lacking = needs(replace(read, stated=(Stated(used),) if used else ()), self.base(line, read))
            edits = sorted(instruction_edits(self.written(line), self.words), key=lambda edit: edit.cost)
            for edit in edits:
                if edit.adds and lacking and not any(need.met_by(edit.adds) for need in lacking):
                    continue
                if not self.budget.spend(edit.text):
                    return
                edited = self.read(line, edit.text)
                alone = weigh(replace(edited, stated=()), self.base(line, edited))
                page = written(edited, self.sheet.context.terms)
                for total in total_edits(page, [alone.leaves] if alone.leaves else []):
                    if not self.budget.spend(total.text, self.rounds_worked(line)):
                        return
                    left_over = self.left_over(line, self.with_total(line, edited, total))
                    if left_over is not None:
                        cost = Slip.BOTH.value + edit.cost - edit.slip.value + self.doubt(line, Slip.BOTH)
                        both = Edit(Slip.BOTH, total.text, edit.was, edit.now, cost)
                        yield _Try(both, {line: total.text}, cost, cost + left_over)

    def used_by_next(self, line: int) -> int | None:
        """The stitches that a line needs below it; None where it takes what there is, or complains itself."""
        if line >= len(self.sheet.entries) or not self.is_vouched(line):
            return None
        read, made = self.read(line), self.checked.first(line)
        if made.plan is None or read.worked_into is not None or goes_to_end(read.body):
            return None
        return made.before if made.plan.uses == made.before else None

    def with_total(self, line: int, read: Line, total: Edit) -> Line:
        """A line that was read, with this change of its total: read again only where more than a sum is stated."""
        if len(read.stated) == 1 and total.was.isdecimal():
            stated = read.stated[0]
            if stated == Stated(int(total.was), span=stated.span):
                return replace(read, text=total.text, stated=(replace(stated, stitches=int(total.now)),))
        return self.read(line, total.text)

    # A quick look, that spares most changes the whole checker

    def left_over(self, line: int, edited: Line) -> float | None:
        """None if the line does not agree with what is there, its total and the next line; else what still jars."""
        if edited.reference is not None:
            return 0.0
        if not edited.is_readable or not edited.body:
            return None
        weighed = weigh_range(edited, self.base(line, edited))
        if weighed.plan is None or self.is_worse(line, weighed):
            return None
        if not keeps_its_word(edited) and keeps_its_word(self.read(line)):
            return None
        return self.left_in_next(line + 1, left_by(weighed.plan))

    def left_in_next(self, line: int, base: Base) -> float | None:
        if line >= len(self.sheet.entries) or not self.checked.of_line[line]:
            return 0.0
        read = self.read(line)
        if read.reference or read.worked_into is not None or read.foundation or len(read.heading.numbers) > 1:
            return 0.0
        weighed = weigh(read, base)
        if self.is_worse(line, weighed):
            return None
        return LEFT_OVER if any(problem.code in COUNTING for problem in _complaints(weighed)) else 0.0

    def is_worse(self, line: int, weighed: Weighed) -> bool:
        """Whether the line would complain of something that it does not complain of now, or still of numbers."""
        codes = {code for number, code in self.checked.complaints if number == line}
        if line == self.fault:
            codes -= COUNTING
        return any(problem.code not in codes for problem in _complaints(weighed))

    # The judge

    def accepted(self, tries: Iterable[_Try], most: int) -> list[Repair]:
        """The changes that the whole checker accepts, likeliest first."""
        by_text: dict[tuple[str, ...], Repair] = {}
        for tried in sorted(tries, key=lambda tried: tried.least)[:MAX_TRIED]:
            costs = sorted(repair.cost for repair in by_text.values())
            if costs and tried.least > min([costs[0] + CLEARLY, *costs[most - 1 :]]):
                break
            key = tuple(tried.lines.values())
            if key not in by_text and (repair := self.judged(tried)) is not None:
                by_text[key] = repair
        ranked = sorted(by_text.values(), key=lambda repair: repair.cost)
        return [repair for repair in ranked[:most] if repair.cost <= ranked[0].cost + CLEARLY]

    def judged(self, tried: _Try) -> Repair | None:
        end = min(self.fault + 1 + AHEAD, len(self.sheet.entries))
        after = self.sheet.with_lines(tried.lines).checked(end)
        if after.complaints - self.checked.complaints or self.fault in after.counting:
            return None
        if any(after.first(line).plan is None for line in tried.lines):
            return None  # a line that still comes to no number agrees with nothing
        if after.run_of_complaints(max(tried.lines) + 1) > 1:
            return None  # what it leaves is carried on from line to line, so it is not what was meant
        return Repair(tried.edit, tried.lines, after, tried.cost + self.unlikeliness(tried, after))

    def unlikeliness(self, tried: _Try, after: Checked) -> float:
        line = min(tried.lines)
        plan = after.first(line).plan
        pages = [written(self.read(number, text), self.sheet.context.terms) for number, text in tried.lines.items()]
        cost = LEFT_OVER * len(after.counting)
        habits = {
            code for number, code in self.checked.otherwise if number < self.fault and number not in tried.lines
        }
        cost += sum(HABIT if code in habits else OTHERWISE for number, code in after.otherwise if number >= line)
        cost += BARE_GROUP * sum(has_bare_group(page) for page in pages)
        if plan is not None and tried.edit.slip is not Slip.SWAP:
            cost += unevenness(plan) + sum(odd_growth(after.growths, n) for n in range(line, self.fault + 1))
            cost += ONCE_MORE if is_made_once_more(pages[0], plan) and not self.repeats_once_more else 0.0
        return cost

    @cached_property
    def repeats_once_more(self) -> bool:
        """Whether "repeat 3 times" means 3 more times elsewhere in the piece."""
        lines = (line for line in range(len(self.checked.of_line)) if line not in self.checked.counting)
        plans = ((line, self.checked.first(line).plan) for line in lines if self.checked.of_line[line])
        return any(is_made_once_more(self.written(line), plan) for line, plan in plans if plan is not None)


def _complaints(weighed: Weighed) -> list[Problem]:
    return [problem for problem in weighed.problems if problem.severity is not Severity.NOTE]


def _counts(plan: Plan | None) -> tuple[int, ...]:
    """The numbers of a round that a total can state."""
    if plan is None:
        return ()
    tally = plan.tally
    return (tally.stitches, tally.spaces, groups_in(plan), *(number for _, number in tally.kinds))


# What makes one way to mend a round likelier than another: shapes are regular (common practice, no source).

UNEVEN = 0.16
"""For each further distance between increases, where others are equal all around."""

ODD_GROWTH = 0.08
"""For a round that grows or shrinks by another number than its neighbours."""

BARE_GROUP = 0.3
"""For "(3 sc) x 6": a group is written because something changes in it."""

ONCE_MORE = 0.4
"""For "repeat 3 times" read as 4 in all, in a piece that does not mean it so elsewhere."""

_TURNS = 3
"""Times through a group that show its distances; more repeat the same."""


def unevenness(plan: Plan) -> float:
    """How unevenly increases and decreases stand: 0 if all are equally far apart, or a row ends as it began."""
    before, *between, after = _gaps(plan) or [0, 0]
    if any(act.technique is Technique.TURN for act in plan.acts()):
        gaps = [before, *between, after]
        return 0.0 if gaps == gaps[::-1] else UNEVEN
    return min(UNEVEN * len({before + after, *between} - {before + after}), 3 * UNEVEN)


def _gaps(plan: Plan) -> list[int]:
    """The plain stitches before, between and behind the stitches that shape; empty if there are none of these."""
    gaps: list[int] = []
    since = 0
    for act, times in _acts(plan.body):
        if act.is_increase or act.is_decrease:
            gaps += [since, *[0] * (times - 1)]
            since = 0
        else:
            since += act.stitches * times
    return [*gaps, since] if gaps else []


def _acts(body: tuple[Node, ...]) -> Iterator[tuple[Act, int]]:
    for node in body:
        if isinstance(node, Repeat):
            for _ in range(min(node.times, _TURNS)):
                yield from _acts(node.body)
        else:
            yield node.act, node.times


def has_bare_group(line: Written) -> bool:
    """Whether a group holds nothing but a run of plain stitches."""
    return any(
        len(bracket.inner) == 1
        and isinstance(part := bracket.inner[0], Phrase)
        and part.act.takes == part.act.stitches
        for bracket in line.brackets()
    )


def is_made_once_more(line: Written, plan: Plan) -> bool:
    """Whether "repeat 3 times" was read as 3 more times, which goes by the bases and can hide a misprint."""
    times_by_span: Counter[Span] = Counter()
    _count_times(plan.body, times_by_span)
    return any(
        bracket.times is not None and times_by_span[bracket.span] == bracket.times + 1 for bracket in line.brackets()
    )


def _count_times(body: tuple[Node, ...], times_by_span: Counter[Span]) -> None:
    for node in body:
        if isinstance(node, Repeat):
            times_by_span[node.span] += node.times
            _count_times(node.body, times_by_span)


def odd_growth(growths: list[int | None], line: int) -> float:
    """Whether the line grows like the nearest lines that change the count, before and after it."""
    growth = growths[line]
    if not growth:
        return 0.0
    near = [_nearest(growths[line + 1 :]), _nearest(growths[:line][::-1])]
    neighbours = [other for other in near if other is not None]
    return ODD_GROWTH if neighbours and growth not in neighbours else 0.0


def _nearest(growths: list[int | None]) -> int | None:
    return next((growth for growth in growths if growth), None)
