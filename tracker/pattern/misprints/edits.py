"""Small changes to a written round, such as a printer's slip would undo: another digit, a lost increase, a swap.

Each edit keeps the rest of the line as it was typed, and words the change as the piece words such things.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from enum import Enum
from itertools import islice

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Choice, Group, Instruction, Into, Item, Line, Role, Timed, ToEnd
from tracker.notation.token_kinds import NUMBERS, T
from tracker.notation.token_stream import Token
from tracker.pattern.misprints.house_style import (
    DECREASE,
    INCREASE,
    PLAIN,
    HouseWording,
    agreeing,
    count_place,
    sort_of,
)
from tracker.pattern.misprints.source_map import Bracket, Part, Phrase, Written
from tracker.rounds.bases import Base
from tracker.rounds.plan import Plan
from tracker.rounds.possible_readings import readings
from tracker.rounds.resolver import solve


class Slip(Enum):
    """What sort of slip an edit undoes, with how likely it is against the others (smaller is likelier).

    The order follows a survey of published mistakes: totals, then multipliers, then counts (common practice,
    no source); a change that moves words about is less likely than one of a digit.
    """

    TOTAL = 1.0
    MULTIPLIER = 1.2
    COUNT = 1.3
    SWAP = 1.4
    LOST = 1.55
    EXTRA = 1.75
    KIND = 1.9
    BOTH = 2.4


@dataclass(frozen=True, slots=True)
class Edit:
    """The line with one change.

    `was` and `now` are the changed words; `cost` grows with the size of the change. `adds` is what the change adds
    to the line, where that can be told from the words.
    """

    slip: Slip
    text: str
    was: str
    now: str
    cost: float
    adds: Adds | None = None


MAX_PARTS = 60
"""Phrases of a line beyond which none is changed; a lace round has about thirty."""

# Distance of two numbers up to which the one is a slip for the other: of a finger, or of one digit.
IN_REACH = 0.1
ANOTHER = 0.45
"""For a total of which more than a digit is wrong: it would have to be copied from another round."""
IN_ONE = 0.2
"""For another number of stitches in one place, which is a part of how the stitch is made."""
ONCE = 0.2
"""For a group made once, which nobody would bracket."""

# Numbers up to twenty are written as words.
_SPELT = {number: word for word, number in NUMBERS.items() if number <= 20}


def total_edits(line: Written, numbers: Iterable[int]) -> Iterator[Edit]:
    """The stated total with one of its numbers changed to one of `numbers`, which the instruction makes."""
    other_numbers = dict.fromkeys(numbers)
    for token in line.totals:
        for number in other_numbers:
            if number not in (0, token.number):
                text = _replaced(line.text, token.start, token.end, _digits(token, number))
                apart = distance(token.number, number)
                cost = Slip.TOTAL.value + (ANOTHER if apart > IN_REACH else apart)
                yield Edit(Slip.TOTAL, text, token.text, str(number), cost)


def instruction_edits(line: Written, words: HouseWording, unworked: int = 0) -> Iterator[Edit]:
    """Every small change of the instruction: numbers, and a stitch put in, taken out or taken for another.

    `words` is how the piece words its stitches; `unworked` is how many bases the line leaves (below 0: lacks).
    """
    phrases = list(line.phrases())
    if not phrases or len(phrases) > MAX_PARTS:
        return
    ends = [phrase for phrase in phrases if phrase not in _between_twins(line, phrases)]
    yield from _count_edits(line, ends, words)
    yield from _number_edits(line, phrases)
    yield from _insertions(line, words, unworked)
    yield from _removals(line, line.parts)
    yield from _kind_edits(line, ends, words)


def _between_twins(line: Written, parts: Sequence[Part]) -> set[Part]:
    """Those of a run of the same words, "sc sc sc sc", that are neither its first nor its last: a change there comes
    to the same stitches as one of these, so that it need not be read as well."""
    between = set[Part]()
    for before, part, behind in zip(parts, parts[1:], parts[2:], strict=False):
        gaps = line.text[before.end : part.start], line.text[part.end : behind.start]
        if all(map(_is_separator, gaps)) and len({line.text[p.start : p.end] for p in (before, part, behind)}) == 1:
            between.add(part)
    return between


def reference_edits(line: Written) -> Iterator[Edit]:
    """ "as Row 5" for "as Row 4": another number in a line that names other rounds."""
    for token in line.numbers:
        if token.kind is T.NUMBER:
            for number in _near(token.number):
                text = _replaced(line.text, token.start, token.end, str(number))
                cost = Slip.COUNT.value + distance(token.number, number)
                lead_word = line.text[: token.start].rsplit(maxsplit=1)[-1]
                yield Edit(Slip.COUNT, text, f"{lead_word} {token.text}", f"{lead_word} {number}", cost)


def _count_edits(line: Written, phrases: list[Phrase], words: HouseWording) -> Iterator[Edit]:
    """Another number of the same stitch: "sc in next 3 sts" for "sc in next st"."""
    for phrase in phrases:
        if phrase.times is None or phrase.act.role not in (Role.WORK, Role.SKIP):
            continue
        old_words = line.words_of(phrase)
        if any(token.kind is T.OFTEN or token.text.isalpha() for token in _inside(line, phrase)):
            continue
        for number in like(phrase.times):
            now = words.counted(phrase, old_words, number)
            if now != old_words:
                apart = reworded if 1 in (phrase.times, number) else distance
                cost = Slip.COUNT.value + apart(phrase.times, number)
                adds = _adds(phrase.act, number - phrase.times)
                yield _edit(Slip.COUNT, line, phrase.start, phrase.end, now, cost, adds)


def _number_edits(line: Written, phrases: list[Phrase]) -> Iterator[Edit]:
    """Every other number: the times of a group, the stitches in one place, the chains begun on."""
    for token in line.numbers:
        phrase = next((p for p in phrases if p.start <= token.start < p.end), None)
        if phrase is not None and _is_count(line, phrase, token):
            continue
        bracket = None if phrase else _bracket_of(line, token)
        slip = Slip.COUNT if bracket is None else Slip.MULTIPLIER
        start, end = _words_around(line, token, phrase, bracket)
        for number in like(token.number):
            if number == 1 and token.kind is T.OFTEN:
                continue
            new_words = _replaced(
                line.text[start:end], token.start - start, token.end - start, _digits(token, number)
            )
            cost = slip.value + distance(token.number, number) + (IN_ONE if phrase else 0.0)
            cost += ONCE if bracket and number == 1 else 0.0
            once = _adds_of(bracket.inner) if bracket else None
            more = number - token.number
            adds = Adds(once.takes * more, once.makes * more) if once else None
            yield _edit(slip, line, start, end, agreeing(new_words), cost, adds)


def _inside(line: Written, phrase: Phrase) -> list[Token]:
    return [token for token in line.numbers if phrase.start <= token.start < phrase.end]


def _is_count(line: Written, phrase: Phrase, token: Token) -> bool:
    """Whether this number is the count of its phrase, which is changed with its words."""
    if phrase.times is None or token.text.isalpha() or phrase.act.role not in (Role.WORK, Role.SKIP):
        return False
    place = count_place(line.words_of(phrase), phrase.times)
    return place is not None and place[0] == token.start - phrase.start


def _bracket_of(line: Written, token: Token) -> Bracket | None:
    """The innermost group whose number of times this is."""
    around = [b for b in line.brackets() if b.start <= token.start < b.end]
    return min(around, key=lambda b: b.end - b.start, default=None)


def _words_around(line: Written, token: Token, phrase: Phrase | None, bracket: Bracket | None) -> tuple[int, int]:
    """The words that a changed number is shown with: its phrase, or "x 6", "rep from * 5 more times"."""
    if phrase is not None:
        return phrase.start, phrase.end
    if bracket is None:
        return token.start, token.end
    inner = bracket.inner[-1].end
    start = inner if inner <= token.start else bracket.start
    while start < token.start and line.text[start] in ")]}*,;. ":
        start += 1
    end = bracket.end if inner <= token.start else bracket.inner[0].start
    return start, max(end, token.end)


def _insertions(line: Written, words: HouseWording, unworked: int) -> Iterator[Edit]:
    """A stitch that was lost: an increase, a decrease, or as many plain ones as the bases ask for."""
    for parts, times, in_group in _rows(line):
        for place, joins in _gaps(line, parts):
            extra = (0.0 if in_group else 0.05) + (0.01 if joins == "before" else 0.0)
            yield _inserted(line, place, joins, words.one_of(INCREASE), extra, Adds(1, 2))
            yield _inserted(line, place, joins, words.one_of(DECREASE), extra + 0.02, Adds(2, 1))
            if unworked > 0 and unworked % times == 0:
                number = unworked // times
                yield _inserted(line, place, joins, words.plain(number), extra + 0.15, Adds(number, number))


def _rows(line: Written) -> Iterator[tuple[tuple[Part, ...], int, bool]]:
    """The parts that stand side by side, in the line and in each of its groups, and how often they are made."""
    yield line.parts, 1, False
    for bracket in line.brackets():
        if bracket.times != 0:
            yield bracket.inner, bracket.times or 1, True


def _gaps(line: Written, parts: tuple[Part, ...]) -> Iterator[tuple[int, str]]:
    """Where a stitch can be put in: before each part that shapes, and after the last of them."""
    shaping = [part for part in parts if part.shapes]
    between = _between_twins(line, parts)
    for part in shaping:
        if part not in between:
            yield part.start, "before"
    if shaping and (shaping[-1].times is not None or shaping[-1].leaving):
        yield shaping[-1].end, "after"


def _inserted(line: Written, place: int, joins: str, word: str, extra: float, adds: Adds) -> Edit:
    put = f"{word}, " if joins == "before" else f", {word}"
    text = line.text[:place] + put + line.text[place:]
    return Edit(Slip.LOST, text, "", word, Slip.LOST.value + extra, adds)


def _removals(line: Written, parts: tuple[Part, ...]) -> Iterator[Edit]:
    """A stitch that was printed twice, or that belongs to another round."""
    for index, part in enumerate(parts):
        if isinstance(part, Bracket):
            yield from _removals(line, part.inner)
        if not isinstance(part, Phrase) or not part.shapes or part.times is None or len(parts) < 2:
            continue
        start, end = part.start, part.end
        if index + 1 < len(parts):
            end = parts[index + 1].start
            if not _is_separator(line.text[part.end : end]):
                continue
        else:
            start = parts[index - 1].end
            if not _is_separator(line.text[start : part.start]):
                continue
        text, adds = _replaced(line.text, start, end, ""), _adds(part.act, -part.times)
        yield Edit(Slip.EXTRA, text, line.words_of(part), "", Slip.EXTRA.value, adds)


def _is_separator(words: str) -> bool:
    return words.strip(" ,;.") in ("", "and", "then")


def _kind_edits(line: Written, phrases: list[Phrase], words: HouseWording) -> Iterator[Edit]:
    """An increase printed as a decrease or a plain stitch, and each of these as another."""
    for phrase in phrases:
        if phrase.times is None or sort_of(phrase.act) not in _OTHERS:
            continue
        for sort in _OTHERS[sort_of(phrase.act)]:
            word = words.one_of(sort)
            now = word if phrase.times == 1 else words.say(sort, phrase.times) or f"{phrase.times} {word}"
            adds = Adds((sort[1] - phrase.act.takes) * phrase.times, (sort[2] - phrase.act.stitches) * phrase.times)
            yield _edit(Slip.KIND, line, phrase.start, phrase.end, now, Slip.KIND.value, adds)


_OTHERS = {INCREASE: (DECREASE, PLAIN), DECREASE: (INCREASE, PLAIN), PLAIN: (INCREASE, DECREASE)}


def swapped(one: Written, other: Written) -> tuple[str, str]:
    """Two lines with all that stands behind their headings and the colours there exchanged."""
    first, second = one.instructions, other.instructions
    return one.text[:first] + other.text[second:], other.text[:second] + one.text[first:]


def like(number: int) -> list[int]:
    """Numbers that a slip could have turned into this one: near ones, another digit, a lost or doubled one."""
    numbers = dict.fromkeys(_near(number))
    digits = str(number)
    for place in range(len(digits)):
        for digit in "0123456789":
            numbers[int(digits[:place] + digit + digits[place + 1 :])] = None
    for place in range(len(digits) + 1):
        for digit in "123456789":
            numbers[int(digits[:place] + digit + digits[place:])] = None
    if len(digits) > 1:
        numbers.update(dict.fromkeys(int(digits[:p] + digits[p + 1 :]) for p in range(len(digits))))
        numbers[int(digits[::-1])] = None
    return [n for n in numbers if n > 0 and n != number]


def _near(number: int) -> list[int]:
    return [n for d in (1, 2, 3) for n in (number - d, number + d) if n > 0]


def distance(was: int, now: int) -> float:
    """How far a slip of the keyboard or eye is: one off, one digit changed, then the rest."""
    if abs(was - now) == 1:
        return 0.0
    one, other = str(was), str(now)
    if len(one) == len(other) and sum(a != b for a, b in zip(one, other, strict=True)) == 1:
        return 0.03
    if sorted(one) == sorted(other):
        return 0.04
    # A slip of counting is small.
    return 0.1 if abs(was - now) <= 3 else 0.2


def reworded(was: int, now: int) -> float:
    """The same where one is written without a number, so that more than a digit is wrong."""
    return 0.2 + min(0.05 * (abs(was - now) - 1), 0.25)


def _adds(act: Instruction, times: int) -> Adds:
    return Adds(act.takes * times, act.stitches * times)


def _adds_of(parts: tuple[Part, ...]) -> Adds | None:
    """What these parts take and make together; None if the bases tell how often one of them is made."""
    takes = makes = 0
    for part in parts:
        once = _adds(part.act, part.times or 0) if isinstance(part, Phrase) else _adds_of(part.inner)
        if part.times is None or once is None:
            return None
        times = 1 if isinstance(part, Phrase) else part.times
        takes, makes = takes + times * once.takes, makes + times * once.makes
    return Adds(takes, makes)


def _edit(slip: Slip, line: Written, start: int, end: int, now: str, cost: float, adds: Adds | None = None) -> Edit:
    return Edit(slip, _replaced(line.text, start, end, now), line.text[start:end], now, cost, adds)


def _replaced(text: str, start: int, end: int, now: str) -> str:
    return text[:start] + now + text[end:]


def _digits(token: Token, number: int) -> str:
    """The number as this one is written: in figures, as a word, or "3 times" for "twice"."""
    if token.kind is T.OFTEN:
        return {1: "once", 2: "twice"}.get(number, f"{number} times")
    return _SPELT.get(number, str(number)) if token.text.isalpha() else str(number)


# What a line lacks by arithmetic, so that most changes need not be read to be known as useless.

# Of a line, tried for one misprint: the likeliest come first.
MAX_READINGS = 32


@dataclass(frozen=True, slots=True)
class Adds:
    """What a change adds to one time through the group that it stands in: bases taken and stitches made."""

    takes: int
    makes: int


@dataclass(frozen=True, slots=True)
class StitchNeed:
    """What one reading of a line lacks: bases still to take, stitches still to make (None: nothing tells)."""

    takes: int | None
    makes: int | None

    def met_by(self, adds: Adds) -> bool:
        """Whether this change, made a whole number of times, brings what is lacking."""
        times: int | None = None
        for lacking, added in ((self.takes, adds.takes), (self.makes, adds.makes)):
            if lacking is None:
                continue
            if added == 0 and lacking == 0:
                continue
            if added == 0 or lacking % added or lacking // added < 1 or times not in (None, lacking // added):
                return False
            times = lacking // added
        return True


def needs(line: Line, base: Base | None) -> list[StitchNeed] | None:
    """What each likely reading of the line lacks; None where that is no matter of simple sums."""
    if line.foundation is not None or len(line.stated) > 1:
        return None
    stitch_needs: list[StitchNeed] = []
    for reading in islice((r for r in readings(line.body) if r.is_primary), MAX_READINGS):
        plan = solve(reading.body, None).plan
        if plan is None or any(act.into in (Into.SPACE, Into.PART, Into.BETWEEN) for act in plan.acts()):
            return None
        takes = base.stitches - plan.uses if base is not None else None
        stitch_needs.append(StitchNeed(takes, _lacking(line, plan)))
    return stitch_needs


def goes_to_end(body: tuple[Item, ...]) -> bool:
    """Whether the bases that are there tell how often something is made, in the likeliest reading."""
    for item in body:
        inner = item.options[0].body if isinstance(item, Choice) else item.body if isinstance(item, Group) else ()
        if goes_to_end(inner) or (isinstance(item, Timed) and isinstance(item.times, ToEnd)):
            return True
    return False


def _lacking(line: Line, plan: Plan) -> int | None:
    """The stitches that the stated total has above the plan; None where totals may count otherwise."""
    stated = line.stated[0] if line.stated else None
    several = len(line.heading.numbers) > 1
    if stated is None or stated.stitches is None or stated.sizes or several or plan.tally.spaces:
        return None
    return stated.stitches - plan.leaves
