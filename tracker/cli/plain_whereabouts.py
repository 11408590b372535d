"""For a maker who lost the place: questions that are answered with numbers, and a place or two at the end."""

from __future__ import annotations

from tracker.phrasing.printable_text import sentence
from tracker.project.project import Project
from tracker.session.state import Refused
from tracker.session.whereabouts import (
    PlaceQuestion,
    Search,
    Whereabouts,
    begin_search,
    narrowed,
    places_left,
    question_of,
)

SKIP = "skip"


class Finder:
    """One search, from one answer to the next."""

    def __init__(self, project: Project) -> None:
        self._project = project
        self._search: Search = begin_search(project.pattern, project.state)
        self._question: PlaceQuestion | None = question_of(project.pattern, self._search)
        self._places: tuple[Whereabouts, ...] = ()

    def ask(self) -> list[str]:
        """The next question with its answers, or the places that are left."""
        question = self._question
        if question is None:
            return self._offered()
        lines = [sentence(self._search.nearest)] if self._search.nearest else []
        lines.append(sentence(question.words))
        lines += [sentence(f"{number}: {answer}") for number, answer in enumerate(question.answers, 1)]
        return [*lines, f"Say the number, or {SKIP} if you cannot tell."]

    def _offered(self) -> list[str]:
        self._places = places_left(self._project.pattern, self._project.state, self._search)
        if not self._places:
            return ["This piece has no rounds."]
        lines = [sentence(f"{number}: {place.words}") for number, place in enumerate(self._places, 1)]
        more = len(self._search.rounds) - len(self._places)
        lines += [sentence(f"{more} more would fit; these are nearest to your kept place")] if more > 0 else []
        return [*lines, "Say the number to set your place there."]

    def answer(self, words: str) -> list[str] | None:
        """What follows on an answer; None once the place is set, or found to have been right."""
        if self._question is None:
            self._settle(words)
            return None
        question, answer = self._question, "" if words == SKIP else words
        if answer and question.answers:
            if not 1 <= int(answer) <= len(question.answers):
                raise Refused(f"say a number from 1 to {len(question.answers)}, or {SKIP}")
            answer = question.answers[int(answer) - 1]
        self._search = narrowed(self._search, question, answer)
        self._question = question_of(self._project.pattern, self._search)
        return self.ask()

    def _settle(self, words: str) -> None:
        if words == SKIP or not 1 <= int(words) <= len(self._places):
            raise Refused(f"say a number from 1 to {len(self._places)}")
        event = self._places[int(words) - 1].event
        if event is not None:
            self._project.do(event)
