"""A pattern whose text changed since it was last worked: what differs, and the place found again in the new text.

Pieces are found by their names and rounds by their labels. What cannot be found is told, never guessed silently.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import unified_diff

from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.mending import mended, rounds_of_line
from tracker.pattern.model import Correction, Pattern, Piece
from tracker.project.pattern_outline import OutlinedPiece, OutlinedRound, PatternOutline, outline_of
from tracker.session.state import (
    BEGINNING,
    Copy,
    Miscount,
    OwnRound,
    Parked,
    Place,
    Remark,
    State,
    Witness,
    Work,
    copy_name,
    next_copy,
)
from tracker.session.worked_rounds import worked_instead

LONGEST_DIFFERENCE = 200
"""Lines of a difference that are told; whoever wants more compares the files."""


@dataclass(frozen=True, slots=True)
class Changed:
    """How the pattern differs from the one that was worked.

    `lines` are the changed lines, with "-" or "+" before them; none if the words are the same and only read otherwise
    by this version of the program. `not_kept` are sentences on what cannot be found again.
    """

    lines: tuple[str, ...]
    not_kept: tuple[str, ...]

    @property
    def only_adds(self) -> bool:
        """Whether lines were only put in, and everything is found again."""
        return bool(self.lines) and not self.not_kept and all(line.startswith("+ ") for line in self.lines)

    def __iter__(self) -> Iterator[str]:
        """Everything there is to tell, a line each."""
        yield from self.lines or ("the words are the same, but this version of the program reads them otherwise",)
        yield from self.not_kept


def line_difference(before: str, after: str) -> tuple[str, ...]:
    """The lines that were taken out ("- ...") and put in ("+ ...")."""
    lines: list[str] = []
    for line in unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm=""):
        if line.startswith(("---", "+++", "@@")):
            continue
        if len(lines) == LONGEST_DIFFERENCE:
            return (*lines, "and more")
        lines.append(f"{line[0]} {line[1:]}")
    return tuple(lines)


def carried_over(state: State, before: PatternOutline, pattern: Pattern) -> tuple[State, tuple[str, ...]]:
    """The state in the new pattern, and what of it could not be kept. What can be taken back is carried as well."""
    finder = _Finder(before, pattern)
    remarks: dict[str, None] = {}
    work = finder.work(state.work, remarks)
    ignored: dict[str, None] = {}
    past = tuple(finder.work(earlier, ignored) for earlier in state.past)
    return State(work, past, state.at), tuple(remarks)


class _Finder:
    """Finds what was in the old pattern in the new one. What it cannot find it puts into the `remarks`."""

    def __init__(self, before: PatternOutline, pattern: Pattern) -> None:
        self._before = before
        self._printed = pattern
        self._pattern = pattern
        self._after = outline_of(pattern)
        self._pieces = [self._piece(index) for index in range(len(before.pieces))]

    def _piece(self, index: int) -> int | None:
        """The piece of the same name; of several, the one that stands at the same turn."""
        names = [piece.name for piece in self._before.pieces]
        turn = names[:index].count(names[index])
        same = [i for i, piece in enumerate(self._after.pieces) if piece.name == names[index]]
        return same[turn] if turn < len(same) else None

    def copy(self, copy: Copy) -> Copy | None:
        piece = self._pieces[copy.piece] if copy.piece < len(self._pieces) else None
        if piece is None or copy.number > self._after.pieces[piece].make:
            return None
        return Copy(piece, copy.number)

    def work(self, work: Work, remarks: dict[str, None]) -> Work:
        corrections, in_words = self._corrections(work.corrections, remarks)
        self._pattern = mended(self._printed, corrections)
        self._own_lines = {(own.piece, own.text) for own in work.corrections if own.text}
        begun = [Parked(work.copy, work.place), *work.parked]
        own = [(old, self._own_round(old, remarks)) for old in work.own_rounds]
        own_rounds = tuple(new for _, new in own if new is not None)
        lost = [old for old, new in own if new is None]
        new_work = Work(
            copy=Copy(0, 1),
            asks=work.asks,
            own_rounds=own_rounds,
            causes=work.causes,
            audience=work.audience,
            weights=work.weights,
            corrections=corrections,
        )
        places = {}
        for each in begun:
            copy, place = self._place_of(each, new_work, any(_lies_in(each, old) for old in lost), remarks)
            if copy is not None:
                places[copy] = place
        present = self.copy(work.copy)
        for copy, place in places.items():
            new_work = replace(new_work.going_on_with(copy), place=place)
        new_work = replace(
            new_work,
            miscounts=tuple(m for m in (self._miscount(old, remarks) for old in work.miscounts) if m is not None),
            unanswered=self._miscount(work.unanswered, remarks) if work.unanswered else None,
            notes=(*(n for n in (self._note(old, remarks) for old in work.notes) if n is not None), *in_words),
            witnesses=tuple(w for w in (self._witness(old) for old in work.witnesses) if w is not None),
            steps_done=self._steps(work.steps_done, remarks),
            ended=self.copy(work.ended) if work.ended else None,
            count_due=work.count_due and present is not None,
        )
        present = present or next_copy(self._pattern, new_work)
        return new_work.going_on_with(present) if present else new_work

    def _place_of(
        self, parked: Parked, new_work: Work, own_is_lost: bool, remarks: dict[str, None]
    ) -> tuple[Copy | None, Place]:
        """The copy and the place in it. In a round that is still the maker's own, the place stays."""
        copy = self.copy(parked.copy)
        if copy is None:
            if parked.place != BEGINNING:
                remarks[f"{self._old_name(parked.copy)} is not in the pattern any more: its place is dropped"] = None
            return None, BEGINNING
        index = self._index(parked.copy, copy, parked.place.round_index)
        if index is not None and (new_work.own_round(copy, index) or self._is_as_mended(parked.copy, copy, index)):
            return copy, replace(parked.place, round_index=index)
        old, new = self._before.pieces[parked.copy.piece], self._pattern.pieces[copy.piece]
        if own_is_lost and index is not None:
            return copy, _after_stitches(new, index, parked.place.stitches)
        place, words = _place_in(old, new, self._after.pieces[copy.piece], parked.place)
        if words:
            remarks[f"{copy_name(self._pattern, copy)}: {words}"] = None
        return copy, place

    def _is_as_mended(self, old: Copy, new: Copy, index: int) -> bool:
        """Whether the round reads now as the maker mended it, be it that the file was put right in the same way."""
        return (old.piece, self._pattern.pieces[new.piece].rounds[index].text.strip()) in self._own_lines

    def _old_name(self, copy: Copy) -> str:
        if copy.piece >= len(self._before.pieces):
            return "a piece"
        piece = self._before.pieces[copy.piece]
        return piece.name if piece.make == 1 else f"{piece.name} {copy.number} of {piece.make}"

    def _index(self, old: Copy, new: Copy, index: int) -> int | None:
        keys = self._before.pieces[old.piece].keys
        return self._after.pieces[new.piece].index_of.get(keys[index]) if index < len(keys) else None

    def _miscount(self, miscount: Miscount, remarks: dict[str, None]) -> Miscount | None:
        copy = self.copy(miscount.copy)
        index = None if copy is None else self._index(miscount.copy, copy, miscount.round_index)
        if copy is None or index is None:
            remarks[f"a differing count in {self._old_name(miscount.copy)} has no round any more"] = None
            return None
        moves = min(miscount.moves, self._after.pieces[copy.piece].rounds[index].moves)
        return replace(miscount, copy=copy, round_index=index, moves=moves)

    def _witness(self, witness: Witness) -> Witness | None:
        copy = self.copy(witness.copy)
        index = None if copy is None else self._index(witness.copy, copy, witness.round_index)
        return None if copy is None or index is None else replace(witness, copy=copy, round_index=index)

    def _corrections(
        self, corrections: tuple[Correction, ...], remarks: dict[str, None]
    ) -> tuple[tuple[Correction, ...], tuple[Remark, ...]]:
        """The corrections in the new text. One whose round is gone is kept as a note, word for word."""
        new_corrections: list[Correction] = []
        in_words: list[Remark] = []
        for own in corrections:
            label, name = self._named(own)
            new, words = self._correction(own, f"{label} of {name}")
            if words:
                remarks[words] = None
            if new is not None:
                new_corrections.append(new)
            elif own.text and words:
                in_words.append(Remark(Copy(0, 1), 0, 0, f"{name}, mended by you: {own.text}", 0.0))
        return tuple(sorted(new_corrections, key=lambda own: own.is_for)), tuple(in_words)

    def _named(self, correction: Correction) -> tuple[str, str]:
        """The label of the round and the name of its piece, as they were."""
        piece = self._before.pieces[correction.piece]
        return piece.rounds[correction.round_index].label, piece.name

    def _correction(self, correction: Correction, name: str) -> tuple[Correction | None, str]:
        """The correction of the same line now, and what is to be said of it."""
        copy = self.copy(Copy(correction.piece, 1))
        index = None if copy is None else self._index(Copy(correction.piece, 1), copy, correction.round_index)
        if copy is None or index is None:
            return None, f"{name}, which you mended, is not there any more: your line is kept as a note"
        piece = self._printed.pieces[copy.piece]
        if correction.text and piece.rounds[index].text.strip() == correction.text:
            return None, ""
        new = replace(correction, piece=copy.piece, round_index=rounds_of_line(piece, index)[0])
        if self._after.pieces[copy.piece].rounds[index].mark == self._mark(correction):
            return new, ""
        yours = f'yours stays: "{correction.text}"' if correction.text else "it stays as you settled it"
        return (
            new,
            f"{name} was changed in the file, and you had mended it: {yours}; mend it again to take the new line",
        )

    def _mark(self, correction: Correction) -> str:
        return self._before.pieces[correction.piece].rounds[correction.round_index].mark

    def _own_round(self, own_round: OwnRound, remarks: dict[str, None]) -> OwnRound | None:
        """A round that the maker changed stays changed, if it is still there and still reads."""
        copy = self.copy(own_round.copy)
        index = None if copy is None else self._index(own_round.copy, copy, own_round.round_index)
        label = self._before.pieces[own_round.copy.piece].rounds[own_round.round_index].label
        name = f"{label} of {self._old_name(own_round.copy)}"
        if copy is None or index is None:
            remarks[f"{name}, which you changed, is not there any more"] = None
            return None
        if not worked_instead(self._pattern, copy.piece, index, own_round.text, own_round.before).reads:
            remarks[f"{name}, as you changed it, does not work out any more: it is the pattern's again"] = None
            return None
        outlined = self._after.pieces[copy.piece].rounds[index]
        if outlined.mark != self._before.pieces[own_round.copy.piece].rounds[own_round.round_index].mark:
            remarks[f"{name} is still worked as you changed it, not as it is written now"] = None
        since = self._index(own_round.copy, copy, own_round.since[0])
        return replace(
            own_round, copy=copy, round_index=index, since=(index if since is None else since, own_round.since[1])
        )

    def _note(self, note: Remark, remarks: dict[str, None]) -> Remark | None:
        copy = self.copy(note.copy)
        if copy is None:
            remarks[f'the note "{note.text}" is in the history only: {self._old_name(note.copy)} is gone'] = None
            return None
        index = self._index(note.copy, copy, note.round_index)
        last = len(self._after.pieces[copy.piece].rounds)
        return replace(note, copy=copy, round_index=min(note.round_index, last) if index is None else index)

    def _steps(self, done: tuple[int, ...], remarks: dict[str, None]) -> tuple[int, ...]:
        indexes = set()
        for step in done:
            words = self._before.steps[step] if step < len(self._before.steps) else ""
            if words in self._after.steps:
                indexes.add(self._after.steps.index(words))
            else:
                remarks[f'the step "{words}" that was ticked is not there any more'] = None
        return tuple(sorted(indexes))


def _place_in(old: OutlinedPiece, new: Piece, outlined: OutlinedPiece, place: Place) -> tuple[Place, str]:
    """The same place in the new rounds, and words if it is not quite the same."""
    indexes = [outlined.index_of.get(key) for key in old.keys[: place.round_index + 1]]
    new_index = indexes.pop() if place.round_index < len(old.rounds) else None
    if new_index is not None:
        return _within(old.rounds[place.round_index], new, outlined.rounds[new_index], new_index, place)
    last = next((index for index in reversed(indexes) if index is not None), -1)
    return Place(last + 1), _moved(old, new, place, last + 1) if place != BEGINNING else ""


def _moved(old: OutlinedPiece, new: Piece, place: Place, index: int) -> str:
    """Words for a place that is now at the start of another round than it was."""
    if place.round_index >= len(old.rounds):
        return f"there is more to make now, from {new.rounds[index].label} on" if index < len(new.rounds) else ""
    old_label = old.rounds[place.round_index].label
    where = f"the start of {new.rounds[index].label}" if index < len(new.rounds) else "its end"
    return f"{old_label} is not there any more, the place is {where}"


def _within(old: OutlinedRound, new: Piece, outlined: OutlinedRound, index: int, place: Place) -> tuple[Place, str]:
    """The place inside a round that is still there: by moves if it is the same, else by stitches."""
    if place.moves == 0 or (outlined.mark, outlined.moves) == (old.mark, old.moves):
        return Place(index, place.moves, place.stitches), ""
    new_place = _after_stitches(new, index, place.stitches)
    plan = new.rounds[index].plan
    stitches = min(place.stitches, plan.leaves) if plan else 0
    return new_place, f"{old.label} reads otherwise now, the place is after {stitches} of its stitches"


def _after_stitches(piece: Piece, index: int, stitches: int) -> Place:
    plan = piece.rounds[index].plan
    stitches = min(stitches, plan.leaves) if plan else 0
    moves = plan.move_after_stitches(stitches) if plan else 0
    return Place(index + 1) if plan and moves >= plan.moves else Place(index, moves, stitches)


def _lies_in(parked: Parked, own_round: OwnRound) -> bool:
    return (parked.copy, parked.place.round_index) == (own_round.copy, own_round.round_index)
