"""A pattern, and what was made of it, put together as the contents of a sheet."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import accumulate

from tracker.document.as_made import (
    Alike,
    WorkDone,
    WorkHistory,
    alike,
    beside,
    copies_name,
    how_far,
    how_it_went,
    made_of,
)
from tracker.document.hints import watch
from tracker.document.materials import (
    caution_words,
    cautions_at_materials,
    cautions_at_step,
    gauge_word,
    gauge_words,
    how_worked,
    yarns_on_sheet,
)
from tracker.document.model import (
    NO_PICTURES,
    Document,
    DocumentLine,
    Pictures,
    PieceOnSheet,
    StepOnSheet,
)
from tracker.document.round_lines import LineDraft, WrittenLine, codes, drafts_of
from tracker.document.spoken import spoken
from tracker.lazy_dataclass import dataclass, field, replace
from tracker.measure.safety import Cautions, cautions_for
from tracker.notation.context import Context
from tracker.notation.glossary import abbreviation
from tracker.pattern.checker import check_rounds
from tracker.pattern.model import Entry, Pattern, Piece, Round
from tracker.pattern.round_splitter import cut
from tracker.phrasing.abbreviations import Texts, abbreviations
from tracker.phrasing.hooks import hook_words
from tracker.phrasing.terms import prose_in_terms, round_in_terms
from tracker.rounds.plan import Plan
from tracker.session.audience import answered

Beside = Callable[[WrittenLine, int], tuple[str, ...]]
"""What was made at a line, of which the first round has this number from 0."""


@dataclass(frozen=True, slots=True)
class Wish:
    """How a sheet is wanted. `pictures` are those of each piece, in the order of the pattern."""

    terms: str
    is_spoken: bool = False
    history: WorkHistory | None = None
    pictures: Mapping[int, Pictures] = field(default_factory=dict)


def compose(pattern: Pattern, wish: Wish) -> Document:
    """The sheet of a pattern."""
    return _Composer(pattern, wish).sheet()


class _Composer:
    """Writes one sheet; keeps the written lines, since the abbreviations are gathered from them."""

    def __init__(self, pattern: Pattern, wish: Wish) -> None:
        pattern = answered(pattern, wish.history.state.work) if wish.history else pattern
        self._pattern = pattern
        self._wish = wish
        self._made = made_of(pattern, wish.history) if wish.history else None
        self._cautions: Cautions = cautions_for(pattern)
        self._texts: list[str] = []

    def sheet(self) -> Document:
        pattern, terms = self._pattern, self._wish.terms
        pieces = tuple(part for index in range(len(pattern.pieces)) for part in self._piece(index))
        notes = tuple(self._prose(note) for note in pattern.notes)
        steps = tuple(self._step(index) for index in range(len(pattern.making_up)))
        gauge = gauge_words(pattern.gauge, pattern.terms, terms)
        return Document(
            title=pattern.title,
            terms=terms,
            preface=tuple(self._preface()),
            made=how_it_went(self._made) if self._made else (),
            hook=hook_words(pattern.hook),
            yarns=yarns_on_sheet(pattern),
            notions=tuple(self._prose(notion) for notion in pattern.notions),
            cautions=cautions_at_materials(self._cautions),
            while_working=caution_words(self._cautions.working),
            gauge_word=gauge_word(terms),
            gauge=gauge,
            abbreviations=self._abbreviations([*notes, gauge, *(step.text for step in steps)], pieces),
            notes=notes,
            pieces=pieces,
            steps=steps,
        )

    def _prose(self, text: str) -> str:
        return prose_in_terms(text, self._pattern.terms, self._wish.terms)

    def _preface(self) -> list[str]:
        pattern, terms = self._pattern, self._wish.terms
        sentences = [f"{terms} terms"]
        if terms != pattern.terms:
            sentences = [f"{terms} terms; the pattern itself is written in {pattern.terms} terms"]
        if pattern.intended_for:
            sentences.append(f"for: {pattern.intended_for}")
        if self._made is not None:
            sentences.append("as it was made: counts, notes and times stand with the rounds")
        doubtful_rounds = _findings(pattern)
        if doubtful_rounds:
            subject = "1 of its rounds needs" if doubtful_rounds == 1 else f"{doubtful_rounds} of its rounds need"
            sentences.append(f"{subject} a look: what was found stands with it")
        return sentences

    def _piece(self, index: int) -> list[PieceOnSheet]:
        piece = self._pattern.pieces[index]
        pictures = self._wish.pictures.get(index, NO_PICTURES)
        if self._made is None:
            lines = self._lines(piece, piece.rounds, lambda line, first: ())
            return [self._on_sheet(piece, piece.name, piece.make, lines, pictures)]
        groups = alike(self._pattern, self._made, index)
        return [self._as_made(piece, group, self._made, pictures) for group in groups]

    def _as_made(self, piece: Piece, group: Alike, made: WorkDone, pictures: Pictures) -> PieceOnSheet:
        def in_terms(text: str) -> str:
            return round_in_terms(text, self._pattern.terms, self._wish.terms, piece.context.colours)

        def tell(line: WrittenLine, first: int) -> tuple[str, ...]:
            return beside(line, first, group, made, piece, in_terms)

        lines = self._lines(piece, group.rounds, tell)
        name = copies_name(self._pattern, group)
        on_sheet = self._on_sheet(piece, name, group.count, lines, pictures)
        return replace(on_sheet, made=how_far(self._pattern, made, group))

    def _on_sheet(
        self, piece: Piece, name: str, make: int, lines: tuple[DocumentLine, ...], pictures: Pictures
    ) -> PieceOnSheet:
        notes = tuple(self._prose(note) for note in piece.notes)
        behind = len(notes) - piece.closing
        facts = (how_worked(piece.start), *pictures.size)
        return PieceOnSheet(name, make, facts, notes[:behind], lines, pictures, closing=notes[behind:])

    def _lines(self, piece: Piece, rounds: Sequence[Round], tell: Beside) -> tuple[DocumentLine, ...]:
        lines = written_lines(self._pattern, piece, rounds, self._wish.terms)
        self._texts += [line.text for line in lines]
        watched = watch(self._pattern, piece, lines, self._wish.terms)
        starts = accumulate((len(line.rounds) for line in lines), initial=0)
        both = zip(lines, watched, starts, strict=False)
        return tuple(self._line(piece, line, hints, tell(line, first)) for line, hints, first in both)

    def _line(self, piece: Piece, line: WrittenLine, watched: tuple[str, ...], made: tuple[str, ...]) -> DocumentLine:
        written_line = DocumentLine(
            heading=line.heading,
            words=line.words.body,
            total=line.words.total,
            yarn=self._pattern.yarn_name(line.colour) if line.colour else "",
            colour=self._pattern.yarn_colour(line.colour),
            before=line.before,
            watch=watched,
            made=made,
            numbers=tuple(each.number for each in line.rounds),
        )
        if not self._wish.is_spoken:
            return written_line
        heading, _, words = spoken(self._pattern, piece, line, self._wish.terms).partition(": ")
        return replace(written_line, heading=f"{heading[0].upper()}{heading[1:]}:", words=f"{words}.", total="")

    def _step(self, index: int) -> StepOnSheet:
        done = None if self._made is None else index in self._made.history.state.work.steps_done
        text = self._prose(self._pattern.making_up[index].step)
        return StepOnSheet(text, cautions_at_step(self._cautions, index), done)

    def _abbreviations(self, sentences: Sequence[str], pieces: Sequence[PieceOnSheet]) -> tuple[tuple[str, str], ...]:
        """Those in the rounds, and the stitches named in sentences. A spoken sheet has none in its rounds."""
        beside = [note for piece in pieces for note in (*piece.notes, *piece.closing, *_beside_rounds(piece))]
        rounds = () if self._wish.is_spoken else tuple(self._texts)
        texts = Texts(rounds, (*sentences, *beside))
        contexts = [piece.context for piece in self._pattern.pieces]
        whole = contexts[0] if contexts else Context()
        return abbreviations(texts, replace(whole, bunches=_bunches(contexts)), self._wish.terms)


def _beside_rounds(piece: PieceOnSheet) -> list[str]:
    return [remark for line in piece.lines for remark in (*line.before, *line.watch)]


def _bunches(contexts: Sequence[Context]) -> tuple[tuple[str, tuple[tuple[str, int], ...]], ...]:
    """The groups that any piece defines; the first definition of a name is the one listed."""
    bunches: dict[str, tuple[tuple[str, int], ...]] = {}
    for context in contexts:
        for name, makes in context.bunches:
            bunches.setdefault(name, makes)
    return tuple(bunches.items())


def _findings(pattern: Pattern) -> int:
    """How many rounds have something wrong with them."""
    return sum(round_.verdict != "ok" for piece in pattern.pieces for round_ in piece.rounds)


# The rounds of a piece as lines of the sheet: every line is read back before it is used.

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


def _read_back(pattern: Pattern, piece: Piece, drafts: Sequence[LineDraft], terms: str) -> list[Round]:
    """What our reader makes of the lines. Where a round is over another number of stitches than the one before left,
    as a maker may have them in hand, a round that leaves so many stands between."""
    entries: list[Entry] = []
    between = -1
    before: Round | None = None
    for draft in drafts:
        if before is not None and _is_over_others(draft, before):
            entries.append(Entry(_so_many(draft.rounds[0], before, terms), between))
            between -= 1
        entries.append(Entry(draft.candidate().text, len(entries)))
        before = draft.rounds[-1]
    context = replace(piece.context, terms=terms)
    rounds, _ = check_rounds(tuple(entries), context, pattern.yarns, piece.main, below=piece.below)
    return [round_ for round_ in rounds if round_.line >= 0]


def _is_over_others(draft: LineDraft, before: Round) -> bool:
    first = draft.rounds[0]
    are_counts_known = None not in (first.before, before.leaves)
    return (
        are_counts_known
        and first.before != before.leaves
        and draft.own.worked_into is None
        and not draft.own.foundation
    )


def _so_many(round_: Round, before: Round, terms: str) -> str:
    kinds = before.plan.tally.kinds if before.plan else ()
    stitch = abbreviation(max(kinds, key=lambda kind: kind[1])[0] if kinds else "sc", terms)
    colour = (before.plan.ends_with if before.plan else "") or before.colour
    return f"{before.label}{f' ({colour})' if colour else ''}: {round_.before} {stitch} in magic ring"


def _first_wrong(drafts: Sequence[LineDraft], back: Sequence[Round], context: Context) -> list[LineDraft]:
    """The lines that were read to something else though what is below them was right; and those that are two."""
    wrong: list[LineDraft] = []
    place = 0
    for draft in drafts:
        read = back[place : place + len(draft.rounds)]
        place += len(draft.rounds)
        whole = len(cut(draft.candidate().text, context).entries) == 1
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
    colour, yarns = round_.colour, [round_.colour]
    for act in round_.plan.acts():
        if act.colour and act.colour != colour:
            colour = act.colour
            yarns.append(colour)
    return tuple(yarns), round_.plan.ends_with or yarns[-1]
