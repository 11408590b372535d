"""A piece's written rounds to rounds with plans, each checked against what it is worked into."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, pairwise

from tracker.diagnostics import NOWHERE, Problem, Severity, error, note, verdict_of, warning
from tracker.lazy_dataclass import dataclass, field, replace
from tracker.notation.ast import Line, Role, Stated
from tracker.notation.by_eye import is_by_eye, is_free, left_open
from tracker.notation.context import Context
from tracker.notation.glossary import BY_ID
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_round
from tracker.pattern.chain_custom import settled_by_custom
from tracker.pattern.model import Entry, PieceBelow, Round, Yarn
from tracker.pattern.round_below import (
    LineWithTotal,
    assumed_base,
    assumed_spaces,
    base_left_by,
    base_of_piece,
    growth_of,
    is_loops_alone,
    need_of,
    over_chain_and_row,
    problems_behind,
    read_anyway,
    settled_by_next,
    stated_for,
    with_chain_ahead,
    with_total,
)
from tracker.pattern.round_loops import loops_of_round
from tracker.pattern.round_numbers import doubts_of_numbers, jump_to, number_of_start
from tracker.pattern.round_yarns import RoundYarns, before_the_last, with_sums
from tracker.rounds.bases import Base
from tracker.rounds.checks import Weighed, is_plain, weigh
from tracker.rounds.count_at_end import ends_with_count, with_count_as_total
from tracker.rounds.plan import Plan

MAX_ROUNDS = 20_000
"""The most rounds that one piece may have once its ranges are unrolled."""

MAX_HELD = 1_000
"""The most rounds that wait for others to fill the gaps between them."""


@dataclass
class _Piece:
    """What is known while the rounds of a piece are gone through."""

    context: Context
    hand: RoundYarns
    rounds: list[Round] = field(default_factory=list)
    lines: list[tuple[Line, Entry]] = field(default_factory=list)
    """For each round the line it was read from, so that "rep Rnd 4" can be read again over other bases."""
    last_of: dict[int, Round] = field(default_factory=dict)
    """The last round of each number."""
    weighed: dict[tuple[object, ...], Weighed] = field(default_factory=dict)
    """What rounds came to; the key holds the identity of a body that `lines` keeps alive."""
    shares_ahead: dict[int, tuple[_LineShare, int]] = field(default_factory=dict)
    """By number, the rounds of "Rnds 6, 8, 10: ..." that wait for the ones between them, and which of the line's."""
    fills: dict[str, tuple[Entry, Line]] = field(default_factory=dict)
    """The lines of "All odd rounds: ..." and "Even rounds: ...", for numbers that no other line has."""
    filled: set[str] = field(default_factory=set)
    """Which of these have been used."""
    numbered: bool = False
    """Whether any line has a number; a line without one that stands before them all is number 0."""
    main: str = "sc"
    at: tuple[int, int] = (0, 0)
    below: PieceBelow | None = None
    entries: tuple[Entry, ...] = ()
    looked_at: int = 0
    """Which of the entries is being added."""

    @property
    def last_number(self) -> int:
        return self.rounds[-1].number if self.rounds else 0

    @property
    def following(self) -> Entry | None:
        """The written line behind the one that is looked at."""
        return next(iter(self.entries[self.looked_at + 1 : self.looked_at + 2]), None)

    @property
    def in_rows(self) -> bool:
        return bool(self.rounds) and self.rounds[-1].label.startswith("Row")


@dataclass
class _LineShare:
    """A line and the numbers that it is for. `plainly`: words read plainly in one round are read so in all."""

    entry: Entry
    line: Line
    numbers: tuple[int, ...]
    problems: list[Problem]
    plainly: bool = False
    states_the_last: bool = False


def check_rounds(
    entries: tuple[Entry, ...],
    context: Context,
    yarns: tuple[Yarn, ...] = (),
    main: str = "sc",
    at: tuple[int, int] = (0, 0),
    below: PieceBelow | None = None,
) -> tuple[list[Round], list[Line]]:
    """Every round of a piece in order, ranges and repeats of rounds unrolled, and the line that each was read from.

    `main` is the stitch that "inc" means where no round has named one yet; `at` is the line and column of the file
    where the entries' text begins; `below` is the piece that stands before it in the pattern, which it may go on.
    """
    numbered = any(heading_of(entry.text).numbers for entry in entries)
    piece = _Piece(context, RoundYarns(yarns), main=main, at=at, numbered=numbered, below=below, entries=entries)
    for piece.looked_at, entry in enumerate(entries):
        if len(piece.rounds) >= MAX_ROUNDS:
            break
        _add(piece, entry)
    _add_held(piece)
    _tell_unfilled(piece)
    piece.hand.ask_left_open(piece.rounds)
    return _with_yarn_of_chain(piece.rounds), [line for line, _ in piece.lines]


def _with_yarn_of_chain(rounds: list[Round]) -> list[Round]:
    """A chain on a line of its own above the first round is made with the yarn that the first round names."""
    first = next((index for index, item in enumerate(rounds) if not _is_chain(item)), 0)
    above = rounds[:first]
    if not rounds or not rounds[first].colour or any(item.colour for item in above):
        return rounds
    return [*(replace(item, colour=rounds[first].colour) for item in above), *rounds[first:]]


def _is_chain(item: Round) -> bool:
    """Whether a line makes chains and nothing else."""
    made = {made.kind for act in item.plan.acts() for made in act.makes} if item.plan else set()
    return bool(made) and made <= {"ch", "chain"}


def _add(piece: _Piece, entry: Entry) -> None:
    line = read_round(entry.text, piece.context, piece.main)
    if is_by_eye(entry.text, piece.context.terms, has_total=bool(line.stated)):
        line = replace(line, body=(), reference=None, foundation=None, problems=())
    elif not line.is_readable and line.reference is None:
        line = _read_anyway(piece, line)
    if ends_with_count(line):
        line = with_count_as_total(line, _base(piece, line)[0]) or line
    first = line.heading.numbers[0] if line.heading.numbers else None
    _add_held(piece, below=first)
    _fill_gap(piece, first or 0)
    piece.hand.take(entry.colour, (*entry.remarks, *line.remarks), piece.context, len(piece.rounds))
    if line.heading.fills:
        piece.fills[line.heading.fills] = entry, line
        if not line.heading.numbers:
            return
        piece.filled.add(line.heading.fills)
    numbers, problems = _numbers(piece, line, entry)
    if line.reference is not None and line.is_readable:
        _add_reference(piece, entry, line, numbers, problems)
    else:
        line = piece.hand.settled(line, problems)
        _add_share(piece, _LineShare(entry, line, numbers, problems))
    _add_filled(piece)


def _read_anyway(piece: _Piece, line: Line) -> Line:
    """A line without the words that nobody understands, where the rounds around it vouch for the rest."""
    base, _ = _base(piece, line)
    below = piece.following.text if piece.following is not None else ""
    return read_anyway(line.text, piece.context, piece.main, base, below) or line


def _ahead(piece: _Piece, line: Line, stated: Stated | None) -> Iterator[LineWithTotal]:
    """The round that is looked at, and the written lines behind it."""
    yield line, stated
    yield from _behind(piece)


def _behind(piece: _Piece) -> Iterator[LineWithTotal]:
    """The written lines behind the one that is looked at, each with the total of its first round."""
    for entry in islice(piece.entries, piece.looked_at + 1, None):
        yield with_total(entry.text, piece.context, piece.main)


def _add_share(piece: _Piece, share: _LineShare) -> None:
    """The rounds of a line; those behind a gap in its numbers wait for what fills it."""
    for index, number in enumerate(share.numbers):
        gap = index > 0 and number > piece.last_number + 1
        if gap and number not in piece.shares_ahead and len(piece.shares_ahead) < MAX_HELD:
            piece.shares_ahead[number] = share, index
        else:
            _add_one(piece, share, index, share.problems if index == 0 else [])


def _add_one(piece: _Piece, share: _LineShare, index: int, problems: list[Problem]) -> None:
    stated = stated_for(share.line, index, len(share.numbers))
    if index == 0:
        share.states_the_last = _states_the_last(piece, share, stated)
    if share.states_the_last and index + 1 < len(share.numbers):
        stated = None
    line = share.line if index == len(share.numbers) - 1 else before_the_last(share.line)
    _add_round(piece, share.entry, line, share.numbers[index], stated, problems, plainly=share.plainly)
    share.plainly = share.plainly or is_plain(piece.rounds[-1].problems)


def _states_the_last(piece: _Piece, share: _LineShare, stated: Stated | None) -> bool:
    """Whether the one total of a range that changes the count every time is that of its last round."""
    line = share.line
    if stated is None or len(share.numbers) < 2 or len(line.stated) != 1:
        return False
    base, _ = _base(piece, line, share.entry.remarks)
    if base is None or verdict_of(_weigh_once(piece, line, base, stated, share.plainly).problems) == "ok":
        return False
    first = _weigh_once(piece, line, base, None, share.plainly)
    return first.plan is not None and first.leaves != base.stitches and verdict_of(first.problems) == "ok"


def _add_filled(piece: _Piece) -> None:
    """What waited for the round that was just added."""
    while piece.last_number + 1 in piece.shares_ahead:
        _add_one(piece, *piece.shares_ahead.pop(piece.last_number + 1), [])


def _add_held(piece: _Piece, below: int | None = None) -> None:
    """What waits although nothing filled the gap before it: added where it stands, and told."""
    for number in [number for number in piece.shares_ahead if below is None or number < below]:
        share, index = piece.shares_ahead.pop(number)
        _add_one(piece, share, index, [jump_to(number, piece.last_number, share.line)])


def _fill_gap(piece: _Piece, below: int) -> None:
    """The rounds up to one of this number that no line is for, where "All odd rounds: ..." tells of each of them."""
    gap = range(piece.last_number + 1, below)
    if not gap or not piece.rounds or len(gap) > MAX_HELD:
        return
    fills = [piece.fills.get("odd" if number % 2 else "even") for number in gap]
    if not all(fills):
        return
    piece.filled.update("odd" if number % 2 else "even" for number in gap)
    for number, (entry, line) in zip(gap, filter(None, fills), strict=True):
        if line.reference is not None:
            _add_reference(piece, entry, line, (number,), [])
        else:
            _add_share(piece, _LineShare(entry, line, (number,), []))


def _tell_unfilled(piece: _Piece) -> None:
    """A line for all odd or even rounds, where every one of them has a line of its own."""
    for sort in piece.fills.keys() - piece.filled if piece.rounds else ():
        message = f"no {sort} round is left for the line on all of them"
        problem = warning("round-number", message, NOWHERE, "number its rounds")
        piece.rounds[-1] = replace(piece.rounds[-1], problems=(*piece.rounds[-1].problems, problem))


def _numbers(piece: _Piece, line: Line, entry: Entry) -> tuple[tuple[int, ...], list[Problem]]:
    """The numbers of the rounds that a line is for, and whether they follow on."""
    numbers = line.heading.numbers
    if numbers:
        last = piece.last_number if piece.rounds else None
        has_room = piece.following is None or _goes_on_behind(piece, numbers, line.rounds or 0)
        if line.rounds and len(numbers) == 1 and has_room:
            numbers = tuple(range(numbers[0], numbers[0] + min(line.rounds, MAX_ROUNDS)))
        return numbers, doubts_of_numbers(line, numbers, last, entry.remarks)
    if piece.rounds or not piece.numbered:
        first = piece.last_number + 1
    else:
        first = number_of_start(line, piece.following.text if piece.following is not None else "")
    return tuple(range(first, first + max(line.heading.rounds_ahead, 1))), []


def _goes_on_behind(piece: _Piece, numbers: tuple[int, ...], count: int) -> bool:
    """Whether a line with the number of one round that says it is for so many is so: the number of the next line goes
    on behind them, "Rnd 3: sc around for 5 rounds", "Rnd 8: ..." """
    following = heading_of(piece.following.text).numbers if piece.following is not None else ()
    return len(numbers) == 1 and following[:1] == (numbers[0] + count,)


def _add_round(
    piece: _Piece,
    entry: Entry,
    line: Line,
    number: int,
    stated: Stated | None,
    problems: list[Problem],
    *,
    plainly: bool = False,
) -> None:
    base, base_problems = _base(piece, line, entry.remarks)
    unread = _unread_below(piece, line, entry)
    if unread is not None:
        in_doubt = any(
            problem.severity is Severity.ERROR for round_ in piece.rounds[-2:-1] for problem in round_.problems
        )
        base = assumed_base(unread, base, need_of(line, stated), _ahead(piece, line, stated), in_doubt=in_doubt)
        base = assumed_spaces(unread, line, stated) or base
    by_eye = is_by_eye(entry.text, piece.context.terms, has_total=stated is not None)
    if by_eye:
        weighed, own = Weighed(None, None, None, stated, ()), tuple(problems)
        own = own if is_free(entry.text) else (*own, left_open(line.instruction))
    else:
        weighed = _weigh_once(piece, line, base, stated, plainly)
        if line.foundation is not None and piece.rounds:
            base, weighed = over_chain_and_row(line, piece.rounds[-1], weighed) or (base, weighed)
        if verdict_of(weighed.problems) != "ok":
            base, weighed = _over_another(piece, line, number, base, weighed)
        if stated is None and line.heading.numbers[-1:] in ((number,), ()):
            weighed = settled_by_next(line, base, weighed, lambda: next(_behind(piece), None))
        if stated is None:
            weighed = settled_by_custom(line, base, weighed, piece.rounds)
        own = (*problems, *base_problems, *weighed.problems, *_nothing_to_make(line, base, weighed))
        own = own if unread is None else problems_behind(unread, line, base, own)
    questions = piece.hand.begin(number, len(piece.rounds), _first_yarn(weighed.plan), entry.text)
    own = tuple(with_sums(problem, weighed.plan) for problem in (*own, *questions))
    if entry.is_settled:
        own = tuple(problem for problem in own if problem.severity in _STAYS)
    colour = piece.hand.in_hand
    # "Fasten off A" of the round's own yarn says no more than that it is fastened off.
    in_hand = {colour.casefold(), weighed.plan.ends_with.casefold() if weighed.plan else ""}
    remarks = (remark for remark in line.remarks if remark.casefold() not in in_hand)
    before = base.stitches if base else (line.foundation.bases or None if line.foundation else None)
    piece.rounds.append(
        Round(
            number=number,
            label=_label(piece, line, number),
            text=entry.text,
            plan=weighed.plan if weighed.leaves is not None else None,
            before=before,
            stated=stated,
            colour=colour,
            line=entry.line + piece.at[0],
            column=entry.column + (0 if entry.line else piece.at[1]),
            remark="; ".join((*entry.remarks, *remarks)),
            worked_into=line.worked_into,
            passing=line.passing,
            problems=own,
            printed=entry.printed,
            is_by_eye=by_eye,
        )
    )
    piece.last_of[number] = piece.rounds[-1]
    piece.lines.append((line, entry))
    piece.hand.end((weighed.plan.ends_with if weighed.plan else "") or colour)
    if weighed.plan is not None:
        piece.main = _main(weighed.plan) or piece.main


def _label(piece: _Piece, line: Line, number: int) -> str:
    word = "Row" if line.heading.is_row or (not line.heading.end and piece.in_rows) else "Rnd"
    return f"{word} {number}" if number else "Start"


_STAYS = (Severity.NOTE, Severity.ERROR)
"""What is told also of a round that the maker works as printed: how it was read, and what could not be."""


def _nothing_to_make(line: Line, base: Base | None, weighed: Weighed) -> list[Problem]:
    """A round with a number and stitches to work into that says nothing to do: its words were not understood."""
    if not line.heading.numbers or base is None or not base.stitches or not line.is_readable or weighed.problems:
        return []
    if weighed.plan is not None and weighed.plan.moves:
        return []
    return [
        warning("nothing-to-make", "there is nothing to make in this round", line.instruction, "name its stitches")
    ]


def _over_another(
    piece: _Piece, line: Line, number: int, base: Base | None, weighed: Weighed
) -> tuple[Base | None, Weighed]:
    """A round that does not come out over the last one, but over an earlier: over the one whose loops it names in
    passing, over the round before its number, where that comes again for a second way to go on, or over the round
    behind loops that hang in front of it, where its total says so."""
    below = loops_of_round(line.text) or (number - 1 if 1 < number <= piece.last_number else 0)
    if not below and weighed.stated is not None and piece.rounds and is_loops_alone(piece.rounds[-1]):
        below = piece.rounds[-1].number - 1
    earlier = piece.last_of.get(below) if below else None
    other = base_left_by(earlier) if earlier is not None and line.worked_into is None else None
    if earlier is None or other is None or line.foundation is not None:
        return base, weighed
    again = weigh(replace(line, stated=()), other, weighed.stated)
    if verdict_of(again.problems) != "ok" or not again.uses:
        return base, weighed
    assumption = note("base-assumed", f"worked over {earlier.label}, where it comes out", line.instruction)
    return other, replace(again, problems=(*again.problems, assumption))


def _weigh_once(piece: _Piece, line: Line, base: Base | None, stated: Stated | None, plainly: bool) -> Weighed:
    """Rounds that say the same over the same bases come to the same, spans included."""
    head = line.heading
    key = (id(line.body), line.problems, head.end, len(line.text), len(head.numbers), base, stated, plainly)
    weighed = piece.weighed.get(key)
    if weighed is None:
        weighed = weigh(line if stated is not None else replace(line, stated=()), base, stated, plainly=plainly)
        piece.weighed[key] = weighed
    return weighed


def _main(plan: Plan) -> str:
    counts = {kind: number for kind, number in plan.tally.kinds if kind in BY_ID}
    return max(counts, key=lambda kind: counts[kind]) if counts else ""


def _first_yarn(plan: Plan | None) -> str:
    """The yarn that a round names for its first stitch or chain; "" if it names none."""
    first = next((act for act in plan.acts() if act.role is not Role.STEP), None) if plan else None
    return first.colour if first else ""


def _base(piece: _Piece, line: Line, remarks: tuple[str, ...] = ()) -> tuple[Base | None, list[Problem]]:
    """What the round is worked into: the round before, or the earlier one that it names."""
    if line.foundation is not None:
        return None, []
    if not piece.rounds:
        return base_of_piece(piece.below, line, remarks)
    if line.worked_into is not None:
        earlier = [r for r in piece.rounds if r.number == line.worked_into]
        if not earlier:
            message = f"there is no round {line.worked_into} before this one to work into"
            return None, [error("no-such-round", message, NOWHERE, "check the number")]
        return base_left_by(earlier[-1]), []
    return with_chain_ahead(base_left_by(piece.rounds[-1]), piece.rounds[-1], line), []


def _unread_below(piece: _Piece, line: Line, entry: Entry) -> Round | None:
    """The round that this one is worked into, if it came to no number of its own, or to two.

    Rounds of one written line have one total, which cannot be a witness to itself.
    """
    if not piece.rounds or line.foundation is not None or line.worked_into is not None:
        return None
    below = piece.rounds[-1]
    if below.is_by_eye and below.leaves is not None:
        return None  # the maker says what it leaves
    if below.plan is None or below.verdict == "error":
        return below
    is_same_line = (piece.lines[-1][1].line, piece.lines[-1][1].column) == (entry.line, entry.column)
    return below if not is_same_line and any(p.code == "total-differs" for p in below.problems) else None


def _add_reference(
    piece: _Piece, entry: Entry, line: Line, numbers: tuple[int, ...], problems: list[Problem]
) -> None:
    """ "Rnds 9-12: as Rnd 8", "Rep Rnds 5-6 three more times": the named rounds again, over the bases now there."""
    from tracker.pattern.rounds_again import lines_again  # a plain piece has no such line

    def read(text: str) -> Line:
        return read_round(text, piece.context, piece.main)

    reference = line.reference
    assert reference is not None
    named = lines_again(piece.rounds, piece.lines, line, len(numbers), piece.context, read)
    named_lines = named.lines
    if named.problem is not None:
        for index, number in enumerate(numbers):
            stated = Stated(reference.stitches) if reference.stitches else stated_for(line, index, len(numbers))
            _add_round(piece, entry, replace(line, problems=(named.problem,)), number, stated, problems)
        return
    if len(named_lines) == 1 and any(b - a > 1 for a, b in pairwise(numbers)):
        _add_share(piece, _share_again(named_lines[0], entry, line, numbers, problems))
        return
    is_unnumbered = (not line.heading.numbers or line.heading.is_open) and line.heading.rounds_ahead < 2
    if is_unnumbered or _goes_on_behind(piece, numbers, named.count):
        count = min(named.count, MAX_ROUNDS)
        numbers = tuple(range(piece.last_number + 1, piece.last_number + 1 + count))
    count = min(len(numbers), MAX_ROUNDS)
    sources = [source for source, _ in named_lines]
    named_rounds = [r for r, (read, _) in zip(piece.rounds, piece.lines, strict=True) if read in sources]
    plainly = all(is_plain(r.problems) for r in named_rounds)
    # One total behind rounds that change the count is that of the last of them.
    changes = reference.onward or not named_rounds or any(r.leaves not in (None, r.before) for r in named_rounds)
    at_the_end = len(line.stated) == 1 and changes
    first = len(piece.rounds)
    lead = piece.hand.settled(replace(line, body=reference.lead), problems).body
    for index, number in enumerate(numbers[: MAX_ROUNDS - len(piece.rounds)]):
        source, source_entry = named_lines[index % len(named_lines)]
        body = source.body if index else (*lead, *source.body)
        again = replace(source, text=source.text, body=body, stated=(), heading=line.heading)
        stated = stated_for(line, index, count) if index + 1 == count or not at_the_end else None
        by_eye = (reference.by_eye,) if reference.by_eye and index + 1 == count else ()
        entry_again = replace(entry, text=source_entry.text, remarks=(*entry.remarks, *by_eye))
        if stated is None and is_free(source_entry.text):
            stated = stated_for(source, 0, 1)
        _add_round(piece, entry_again, again, number, stated, problems if index == 0 else [], plainly=plainly)
    growth = growth_of(piece.rounds[first:], line)
    if growth is not None:
        piece.rounds[-1] = replace(piece.rounds[-1], problems=(*piece.rounds[-1].problems, growth))


def _share_again(
    written: tuple[Line, Entry], entry: Entry, line: Line, numbers: tuple[int, ...], problems: list[Problem]
) -> _LineShare:
    """The line that is named again, for rounds with others between them."""
    source, source_entry = written
    again = replace(source, stated=line.stated, heading=line.heading)
    return _LineShare(replace(entry, text=source_entry.text), again, numbers, problems)
