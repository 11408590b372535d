"""Mending printed lines by typed words: what is in doubt, what could be meant, a line or a number of one's own."""

from __future__ import annotations

import re

from tracker.diagnostics import Severity
from tracker.notation.parser.heading import heading_of
from tracker.pattern.live_reading import around, read_live, with_heading
from tracker.pattern.mending import as_printed, rounds_of_line
from tracker.pattern.misprints.remedies import Remedy, remedies
from tracker.pattern.model import Round
from tracker.phrasing.printable_text import sentence
from tracker.project.project import Project
from tracker.reports.mending import event_of, words_of
from tracker.session.correcting import round_to_mend
from tracker.session.events import Event, RoundCorrected, RoundLeaves
from tracker.session.state import Refused
from tracker.session.typed_input import number_in

Spot = tuple[int, int]
"""A piece and one of its rounds, both from 0."""

_ROUND = re.compile(r"(?:round|rnd|row)\s+(\d{1,6})\s*((?:\d+|as printed|(?:it\s+)?leaves\s.*)?)", re.IGNORECASE)
"""A round that is named, and what is to be done with it if it is not to be replaced by a line."""
_LEAVES = re.compile(r"(?:it\s+)?leaves\s+(.+)", re.IGNORECASE)


class Mender:
    """The line that is being mended, from one thing said to the next."""

    def __init__(self, project: Project) -> None:
        self._project = project
        self._spot: Spot | None = None

    def mend(self, words: str) -> list[str]:
        """Said alone: what is the matter with this round. With "2" the second thing that could be meant is taken;
        "as printed" and "leaves 24" are what they say; "round 5" before any of these means another round. Anything
        else is the line as it should read.
        """
        chosen = _ROUND.fullmatch(words)
        if chosen:
            self._spot = self._round_called(int(chosen[1]))
            words = chosen[2]
        elif heading_of(words).numbers:
            self._spot = self._round_called(heading_of(words).numbers[0])
        elif not words or self._spot is None:
            project = self._project
            self._spot = round_to_mend(project.pattern, project.state)
        if not words:
            return self._matter(self._spot)
        event = self._event(self._spot, words)
        self._project.do(event)
        return self._after(self._spot)

    def _round_called(self, number: int) -> Spot:
        piece = self._project.state.work.copy.piece
        rounds = self._project.pattern.pieces[piece].rounds
        index = next((index for index, item in enumerate(rounds) if item.number == number), None)
        if index is None:
            raise Refused(f"there is no round {number} in {self._project.pattern.pieces[piece].name}")
        return piece, index

    def _round(self, spot: Spot) -> Round:
        return self._project.pattern.pieces[spot[0]].rounds[spot[1]]

    def _event(self, spot: Spot, words: str) -> Event:
        # A choice is offered by a short number; a longer one is a count.
        if words.isdecimal() and len(words) < 4:
            offered = self._remedies(spot)
            if not 1 <= int(words) <= len(offered):
                raise Refused("say mend alone to hear what could be meant" if offered else "nothing is offered here")
            return event_of(spot[0], offered[int(words) - 1])
        printed = as_printed(self._project.pattern).pieces[spot[0]].rounds[spot[1]].text
        if words.casefold() == "as printed":
            return RoundCorrected(*spot, printed)
        leaves = _LEAVES.fullmatch(words)
        if leaves:
            return RoundLeaves(*spot, number_in(leaves[1]))
        return RoundCorrected(*spot, with_heading(words, self._round(spot).text))

    def _remedies(self, spot: Spot) -> tuple[Remedy, ...]:
        return remedies(self._project.pattern, *spot, self._counted(spot))

    def _counted(self, spot: Spot) -> int | None:
        numbers = rounds_of_line(self._project.pattern.pieces[spot[0]], spot[1])
        witnesses = reversed(self._project.state.work.witnesses)
        of_line = (each for each in witnesses if each.copy.piece == spot[0] and each.round_index in numbers)
        return next((witness.counted for witness in of_line), None)

    def _matter(self, spot: Spot) -> list[str]:
        item, counted = self._round(spot), self._counted(spot)
        doubts = [problem for problem in item.problems if problem.severity is not Severity.NOTE]
        lines = [sentence(f"as printed: {' '.join((item.printed or item.text).split())}")]
        lines += [sentence(f"as you mended it: {' '.join(item.text.split())}")] if item.printed else []
        lines += [sentence(f"you counted {counted:,}")] if counted is not None else []
        lines += [sentence(f"{doubt.message}; {doubt.help}" if doubt.help else doubt.message) for doubt in doubts[:2]]
        for number, remedy in enumerate(self._remedies(spot), 1):
            agrees = f": {counted:,} agrees with it" if counted is not None and remedy.leaves == counted else ""
            lines.append(sentence(f"mend {number}: {words_of(remedy)}{agrees}"))
        ways = "say mend and the line as it should read, mend leaves and a number to work it by eye"
        return [*lines, sentence(f"{ways}, or mend as printed" if item.plan is not None else ways)]

    def _after(self, spot: Spot) -> list[str]:
        """The line as it is worked now, and what it does to the next one."""
        self._spot = None
        item = self._round(spot)
        if item.is_by_eye:
            return [sentence(f"{item.label} is worked by eye and leaves {item.leaves:,}")]
        reading = read_live(item.text, around(self._project.pattern, *spot))
        leaves = f"; it leaves {reading.leaves:,}" if reading.leaves is not None else ""
        lines = [sentence(f"mended: {' '.join(item.text.split())}{leaves}")]
        if reading.need is not None and reading.next_works is False:
            lines.append(sentence(f"{reading.need.label} does not come out over that"))
        return lines
