"""The rounds of a piece as lines of the sheet: every line is read back before it is used.

A line is written in the pattern's own words; where our own reader would not read those to the same round in the
terms that are wanted, in the shorthand of its plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tracker.notation.glossary import abbreviation
from tracker.notation.token_stream import Context
from tracker.pattern.checker import check_rounds
from tracker.pattern.model import Pattern, Piece, Round
from tracker.pattern.round_splitter import Entry, cut
from tracker.rounds.plan import Plan
from tracker.sheet.drafts import Draft, WrittenLine, codes, drafts_of

_TRIES = 8
"""Times that a piece is read back while other words are looked for; each round has at most five wordings."""


def written_lines(pattern: Pattern, piece: Piece, rounds: Sequence[Round], terms: str) -> tuple[WrittenLine, ...]:
    """These rounds of a piece, written in "US" or "UK" terms."""
    drafts = drafts_of(pattern, piece, rounds, terms)
    for _ in range(_TRIES):
        wrong = _first_wrong(drafts, _read_back(pattern, piece, drafts, terms), replace(piece.context, terms=terms))
        if not wrong:
            break
        for draft in wrong:
            if draft.way + 1 < len(draft.ways):
                draft.way += 1
            else:
                draft.failed = True
    return tuple(draft.finished() for draft in drafts)


def _read_back(pattern: Pattern, piece: Piece, drafts: Sequence[Draft], terms: str) -> list[Round]:
    """What our reader makes of the lines. Where a round is over another number of stitches than the one before left,
    as a maker may have them in hand, a round that leaves so many stands between."""
    entries: list[Entry] = []
    between = -1
    before: Round | None = None
    for draft in drafts:
        if before is not None and _is_over_others(draft, before):
            entries.append(Entry(_so_many(draft.rounds[0], before, terms), between))
            between -= 1
        entries.append(Entry(draft.tried().text, len(entries)))
        before = draft.rounds[-1]
    context = replace(piece.context, terms=terms)
    rounds, _ = check_rounds(tuple(entries), context, pattern.yarns, piece.main)
    return [round_ for round_ in rounds if round_.line >= 0]


def _is_over_others(draft: Draft, before: Round) -> bool:
    first = draft.rounds[0]
    known = None not in (first.before, before.leaves)
    return known and first.before != before.leaves and draft.own.worked_into is None and not draft.own.foundation


def _so_many(round_: Round, before: Round, terms: str) -> str:
    kinds = before.plan.tally.kinds if before.plan else ()
    stitch = abbreviation(max(kinds, key=lambda kind: kind[1])[0] if kinds else "sc", terms)
    colour = (before.plan.ends_with if before.plan else "") or before.colour
    return f"{before.label}{f' ({colour})' if colour else ''}: {round_.before} {stitch} in magic ring"


def _first_wrong(drafts: Sequence[Draft], back: Sequence[Round], context: Context) -> list[Draft]:
    """The lines that were read to something else though what is below them was right; and those that are two."""
    wrong: list[Draft] = []
    place = 0
    for draft in drafts:
        read = back[place : place + len(draft.rounds)]
        place += len(draft.rounds)
        whole = len(cut(draft.tried().text, context).entries) == 1
        if draft.failed or (whole and len(read) == len(draft.rounds) and all(map(same_round, draft.rounds, read))):
            continue
        if not wrong or not read or read[0].before == draft.rounds[0].before:
            wrong.append(draft)
    return wrong


def same_round(one: Round, other: Round) -> bool:
    """Whether two rounds are worked alike and come to the same counts, yarns and findings."""
    if one.plan is None or other.plan is None:
        return one.plan is other.plan
    same_counts = _numbers(one.plan) == _numbers(other.plan) and one.before == other.before
    return same_counts and _yarns(one) == _yarns(other) and codes(other) <= codes(one)


def _numbers(plan: Plan) -> tuple[object, ...]:
    """What is counted; a step more or less changes none of it."""
    tally = plan.tally
    return tally.takes, tally.stitches, tally.spaces, tally.chains, sorted(tally.kinds)


def _yarns(round_: Round) -> tuple[object, ...]:
    """The yarns of a round in their order, and the one that it ends with."""
    assert round_.plan is not None
    colour, found = round_.colour, [round_.colour]
    for act in round_.plan.acts():
        if act.colour and act.colour != colour:
            colour = act.colour
            found.append(colour)
    return tuple(found), round_.plan.ends_with or found[-1]
