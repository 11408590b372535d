"""A round as it is typed: what it takes and leaves so far, what is not known in it, and how its words could go on.

Pure functions from a text and what stands around it; cheap enough to be asked at every key.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from tracker.diagnostics import Problem, Severity, Span
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import clean
from tracker.notation.ast import Line
from tracker.notation.bunches import BUNCHES
from tracker.notation.context import Context
from tracker.notation.glossary import STITCHES
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_round
from tracker.notation.vocabulary import vocabulary
from tracker.pattern.mending import rounds_of_line
from tracker.pattern.model import Pattern, Piece, Round
from tracker.pattern.round_below import base_left_by
from tracker.rounds.bases import Base, left_by
from tracker.rounds.checks import weigh, weigh_range
from tracker.rounds.plan import Plan

LONGEST_TYPED = 2_000
"""Characters of a line that are read while it is typed; a longer one is read when it is taken."""

MOST_LATER = 200
"""Rounds behind a line that are followed while it is typed; what is told of more is told once it is taken."""

# They stand in one line under what is typed.
MOST_COMPLETIONS = 5


@dataclass(frozen=True, slots=True)
class Need:
    """What the next written line asks of the one before it: its `label`, and how many stitches it `uses`.

    `uses` is None where it takes whatever there is; `codes` are those of what is told of it as things stand.
    """

    label: str
    uses: int | None
    text: str
    codes: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Around:
    """What stands around a line: what it is worked into, what the pattern says of its words, and what comes next.

    `base` is None where what it is worked into is not known, or where it begins the work. `of_round` are what the
    earlier rounds leave, by their numbers, for a line that says into which it is worked; `later` are the rounds
    behind it with the lines that they were read from, and `leaves` is what the line leaves as it stands there.
    """

    base: Base | None
    context: Context
    main: str = "sc"
    need: Need | None = None
    of_round: tuple[tuple[int, Base], ...] = ()
    later: tuple[tuple[Round, Line], ...] = ()
    leaves: int | None = None


@dataclass(frozen=True, slots=True)
class Behind:
    """What a changed line does to the rounds behind it: the labels of those that then leave another number, as far
    as they come out, and the first one that does not come out any more ("" if all do)."""

    others: tuple[str, ...] = ()
    stuck: str = ""


@dataclass(frozen=True, slots=True)
class LiveReading:
    """What a line comes to as it stands. Numbers are None where they are not known.

    `bases` is how many stitches there are to work into, `caret` what is not known or does not come out, as columns of
    the text. `next_works` tells whether the next line works out behind it, None where nobody can know; `behind` what
    becomes of all the rounds behind it, None where there are none or the line leaves what it left before.
    """

    text: str
    bases: int | None
    takes: int | None
    leaves: int | None
    stated: int | None
    problems: tuple[Problem, ...]
    plan: Plan | None
    need: Need | None = None
    next_works: bool | None = None
    behind: Behind | None = None

    @property
    def is_clean(self) -> bool:
        """Whether it reads to its end and nothing in it disagrees."""
        return self.plan is not None and self.plan.moves > 0 and not self.problems

    @property
    def caret(self) -> Span | None:
        """Where the first thing is that is not known or does not come out."""
        return next((problem.span for problem in self.problems if problem.span.end > problem.span.start), None)


def around(pattern: Pattern, piece_index: int, round_index: int, *, alone: bool = False) -> Around:
    """What stands around the written line of a round; `round_index` may be one behind the last for a new round.

    A round `alone` is to have a line of its own, and nothing is asked of it by what stands behind.
    """
    piece = pattern.pieces[piece_index]
    rounds = rounds_of_line(piece, round_index) if round_index < len(piece.rounds) and not alone else (round_index,)
    first, last = rounds[0], rounds[-1]
    base = base_left_by(piece.rounds[first - 1]) if first else None
    bases = ((item.number, base_left_by(item)) for item in piece.rounds[:first])
    return Around(
        base=base,
        context=piece.context,
        main=_main(piece, first),
        need=None if alone else need_behind(piece, round_index),
        of_round=tuple((number, base_left) for number, base_left in bases if base_left is not None),
        later=()
        if alone
        else tuple(zip(piece.rounds[last + 1 :], piece.lines[last + 1 :], strict=False))[:MOST_LATER],
        leaves=piece.rounds[last].leaves if last < len(piece.rounds) else None,
    )


def _main(piece: Piece, first: int) -> str:
    """The stitch that "inc" means there: what most of the last round that was read is made of."""
    plans = (item.plan for item in reversed(piece.rounds[:first]) if item.plan is not None)
    kinds = next((dict(plan.tally.kinds) for plan in plans if plan.tally.kinds), {})
    return max(kinds, key=lambda kind: kinds[kind], default=piece.main)


def need_behind(piece: Piece, round_index: int) -> Need | None:
    """What the line behind the one of this round needs; None at the end of the piece."""
    last = rounds_of_line(piece, round_index)[-1] if round_index < len(piece.rounds) else len(piece.rounds)
    if last + 1 >= len(piece.lines):
        return None
    item, line = piece.rounds[last + 1], piece.lines[last + 1]
    if line.worked_into is not None or line.foundation is not None:
        return None
    alone = weigh(line, None)
    uses = alone.plan.uses if alone.plan is not None and alone.uses is not None else None
    return Need(item.label, uses, item.text, _codes(item.problems))


def read_live(text: str, surroundings: Around) -> LiveReading:
    """What a line comes to over what there is. Never raises on what is typed."""
    line = read_round(clean(text)[:LONGEST_TYPED], surroundings.context, surroundings.main)
    base = surroundings.base
    if line.worked_into is not None:
        base = dict(surroundings.of_round).get(line.worked_into, base)
    if line.foundation is not None:
        base = None
    weighed = weigh_range(line, base)
    problems = tuple(problem for problem in weighed.problems if problem.severity is not Severity.NOTE)
    plan = weighed.plan if line.is_readable else None
    return LiveReading(
        text=text,
        bases=base.stitches if base else None,
        takes=weighed.uses if plan else None,
        leaves=plan.leaves if plan and plan.moves else None,
        stated=weighed.stated.stitches if weighed.stated else None,
        problems=problems,
        plan=plan,
        need=surroundings.need,
        next_works=_works_behind(surroundings, plan) if plan and plan.moves else None,
        behind=_behind(surroundings, plan, len(line.heading.numbers)) if plan and plan.moves else None,
    )


def _works_behind(surroundings: Around, plan: Plan) -> bool | None:
    if surroundings.need is None:
        return None
    following = weigh(read_round(surroundings.need.text, surroundings.context, surroundings.main), left_by(plan))
    is_doubtful = any(problem.severity in _DOUBTS for problem in following.problems)
    return not is_doubtful and _codes(following.problems) <= surroundings.need.codes


_DOUBTS = (Severity.ERROR, Severity.DISAGREES)


def _codes(problems: tuple[Problem, ...]) -> frozenset[str]:
    """What is told of a round, but for what is no doubt at all."""
    return frozenset(problem.code for problem in problems if problem.severity is not Severity.NOTE)


def _behind(surroundings: Around, plan: Plan, rounds: int) -> Behind | None:
    """What becomes of the rounds behind a line that leaves what `plan` does, up to the first that is what it was.

    A line for several rounds that change the count is followed no further than it is read.
    """
    if plan.leaves == surroundings.leaves or not surroundings.later or (rounds > 1 and plan.leaves != plan.uses):
        return None
    base = left_by(plan)
    others: list[str] = []
    for item, line in surroundings.later:
        if line.worked_into is not None or line.foundation is not None or line.reference is not None:
            break
        weighed = weigh(replace(line, stated=()), base, item.stated)
        if not _codes(weighed.problems) <= _codes(item.problems):
            return Behind(tuple(others), item.label)
        if weighed.plan is None or weighed.leaves == item.leaves:
            break
        others.append(item.label)
        base = left_by(weighed.plan)
    return Behind(tuple(others))


def with_heading(typed: str, printed: str) -> str:
    """A line that was typed without its heading, with the one that the printed line has."""
    typed = " ".join(clean(typed).split())
    end = heading_of(printed).end
    return f"{printed[:end].strip()} {typed}" if typed and end and not heading_of(typed).end else typed


# How a word that was begun could go on.

_WORD = re.compile(r"[A-Za-z][A-Za-z'-]*$")


def completions(text: str, cursor: int, context: Context) -> tuple[str, ...]:
    """The known words that begin with what stands before the cursor, the shortest names of stitches first.

    The short name of a stitch has none: it is what was meant.
    """
    begun = _WORD.search(text[:cursor])
    if begun is None or (cursor < len(text) and text[cursor].isalpha()):
        return ()
    word = begun[0].lower()
    if word in usual_words(context.terms):
        return ()
    names = [colour for colour in sorted(context.colours) if colour.startswith(word) and colour != word]
    return tuple([*names, *_longer(word, context.terms)][:MOST_COMPLETIONS])


def _longer(word: str, terms: str) -> Iterator[str]:
    return (longer for longer in known_words(terms) if longer.startswith(word) and longer != word)


def completed(text: str, cursor: int, word: str) -> tuple[str, int]:
    """The text with the begun word before the cursor made into this one, and where the cursor is then."""
    begun = _WORD.search(text[:cursor])
    start = begun.start() if begun else cursor
    return text[:start] + word + text[cursor:], start + len(word)


@lru_cache(maxsize=4)
def known_words(terms: str) -> dict[str, None]:
    """Every single word that the reader knows, likeliest to be typed first."""
    others = sorted((words[0] for words in vocabulary(terms) if len(words) == 1), key=lambda word: (len(word), word))
    return dict.fromkeys(word for word in (*usual_words(terms), *others) if word.isascii())


@lru_cache(maxsize=4)
def usual_words(terms: str) -> tuple[str, ...]:
    """The short names of stitches and groups, and the words that stand between them most."""
    stitches = [stitch.uk if terms == "UK" else stitch.us for stitch in STITCHES]
    return (*stitches, *_USUAL, *(bunch.id for bunch in BUNCHES))


_USUAL = "inc dec around each next magic ring repeat from times rounds skip chain turn join fasten off".split()
