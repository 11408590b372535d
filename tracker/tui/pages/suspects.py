"""Where a count may have gone wrong, how that looks in the fabric, and what can be done about it."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.plural import number_of
from tracker.session.miscount.diagnosis import Diagnosis
from tracker.session.miscount.offers import Offer
from tracker.session.miscount.suspects import Suspect
from tracker.session.mistakes import LOOK_FOR
from tracker.session.view_words import percent
from tracker.tui.controller import Desk
from tracker.tui.count_dialog import keyed
from tracker.tui.pages.page import BACK, CHOOSE, Page
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Look


class WherePage(Page):
    """Ends with the choice that was taken, by its key or from its row."""

    def __init__(self, desk: Desk) -> None:
        diagnosis = desk.project.diagnosis()
        self._offers: dict[str, Offer] = keyed(diagnosis, desk.keys) if diagnosis else {}
        self._rows = tuple(places(diagnosis, self._offers))
        super().__init__("a count that differs", desk.palette, (*CHOOSE, BACK) if diagnosis else (BACK,))

    def rows(self) -> tuple[Row, ...]:
        return self._rows

    def pressed(self, key: str) -> bool:
        if key not in self._offers:
            return False
        self.dismiss(self._offers[key])
        return True


def places(diagnosis: Diagnosis | None, offers: dict[str, Offer]) -> Iterator[Row]:
    """The choices first, then the places to look at, likeliest first."""
    if diagnosis is None:
        yield Row("no count of the piece in hand waits for an answer")
        return
    yield Row(f"{diagnosis.label}: {diagnosis.sentence}", look=Look.STRONG)
    key_of = {offer.answer: key for key, offer in offers.items()}
    for offer in diagnosis.offers:
        yield Row(f"{key_of.get(offer.answer, ' ')}  {offer.words}", offer, offer.whole)
    if diagnosis.stuck:
        yield Row(f"with the difference {', '.join(diagnosis.stuck)} will not work out as written", look=Look.STRONG)
    if diagnosis.suspects:
        yield Row("")
        yield Row("where it may have gone wrong, likeliest first", look=Look.FAINT)
    for suspect in diagnosis.suspects:
        yield _place(suspect)


def _place(suspect: Suspect) -> Row:
    is_told = suspect.back and suspect.is_one_place
    back = f", {number_of(suspect.back, 'stitch')} back" if is_told else ""
    likely = f"{percent(suspect.probability)} likely"
    return Row(f"{suspect.words}{back} ({likely})", None, LOOK_FOR[suspect.mistake], Look.STRONG)
