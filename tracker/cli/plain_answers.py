"""Working a pattern by words alone: a typed line is answered by sentences.

The same events and the same place as on the screen. Everything that a screen would show can be asked for, so that a
maker who cannot see finishes a pattern with it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from tracker.cli import plain_sentences as sentences
from tracker.measure.safety import cautions_for
from tracker.measure.stitch_counts import work_of_pattern
from tracker.measure.yarn import will_it_last
from tracker.pattern.model import Pattern
from tracker.phrasing.printable_text import sentence
from tracker.plural import number_of
from tracker.project.project import Project
from tracker.reports.ball_weights import rate_of, readings, weighings, weight_in
from tracker.reports.measure_words import ball_words
from tracker.reports.quantities import UnclearFigure
from tracker.session.audience import ANSWERS, QUESTION, answer_in, answered
from tracker.session.events import (
    BallWeighed,
    BegunAnew,
    Event,
    Note,
    NoteTicked,
    PieceChosen,
    RoundDone,
    StepDone,
    Stitch,
    Undo,
)
from tracker.session.state import Copy, Refused, copy_name, next_copy
from tracker.session.steps import YARN_AT_THE_END, says_nothing_of_the_yarn, step_now
from tracker.session.typed_input import ask_in, frog_in, piece_in
from tracker.session.view import Difference, StepSize, View
from tracker.session.view_words import asked_words, named_copies, spell
from tracker.session.worked_rounds import round_at

if TYPE_CHECKING:
    from tracker.cli.plain_mending import Mender
    from tracker.cli.plain_whereabouts import Finder

_WHOM = f"say {', '.join(f'for {answer.key} ({answer.offered})' for answer in ANSWERS)}"


class Teller:
    """One maker at one project. Each method is one thing to say; it gives the sentences of the answer."""

    def __init__(self, project: Project) -> None:
        self.project = project
        self.is_searching = False
        """Whether a number answers the question of a maker who lost the place."""
        self._noticed = 0
        self._reminded_of: Difference | None = None
        """The open count that the maker was reminded of: once is enough."""
        self._remarks_told: set[tuple[int, int, str]] = set()
        """By piece and copy: once is enough, and read tells them again."""
        self._mender: Mender | None = None
        self._finder: Finder | None = None

    @property
    def pattern(self) -> Pattern:
        """As it is by now: a line that is put right makes another one."""
        return self.project.pattern

    def news(self) -> list[str]:
        """What happened to the journal since the last time that this was asked."""
        fresh = self.project.notices[self._noticed :]
        self._noticed += len(fresh)
        return [sentence(notice) for notice in fresh]

    def trouble(self) -> list[str]:
        """Why what is done is only in memory, after each answer while it is so."""
        return [sentence(self.project.trouble)] if self.project.trouble else []

    @property
    def view(self) -> View:
        return self.project.view()

    def greeting(self) -> list[str]:
        """Said at the start: what is open, what needs an answer, where the maker is."""
        lines = [sentence(self.pattern.title), *self.news()]
        if self.project.looking_on:
            lines.append(
                "It is open in another window: you can only look on here; say work here when that one is closed."
            )
        elif self.project.moved_from is not None:
            lines.append(
                f"It was worked before as {self.project.moved_from}, and that file is gone; "
                "say take up to go on from there, or simply begin anew."
            )
        elif self.project.changed is not None:
            return [*lines, *self.changes()]
        if not self.project.state.past:
            lines.append("Say materials to hear what you need, and help for all commands.")
            lines += self._whom()
        due = sentence(self._fresh_remarks(self.view))
        return [*lines, *([due] if due else []), *self.tell_place()]

    def _whom(self) -> list[str]:
        """The question who it is for, where the pattern does not say and it matters."""
        if not cautions_for(self._answered).ask:
            return []
        return [sentence(QUESTION), sentence(f"{_WHOM}; or simply begin")]

    @property
    def _answered(self) -> Pattern:
        """The pattern with what the maker said of who it is for."""
        return answered(self.pattern, self.project.state.work)

    def whom(self, text: str) -> list[str]:
        """Who it is for, said by the maker; what follows from it is told."""
        answer = answer_in(text)
        if answer is None:
            raise Refused(_WHOM)
        if self.pattern.intended_for and not cautions_for(self.pattern).ask:
            raise Refused(f"the pattern says who it is for: {self.pattern.intended_for}")
        self.project.do(answer.event)
        cautions = cautions_for(self._answered).materials
        lines = [sentence(f"mind: {caution.text}") for caution in cautions]
        return [sentence(f"noted: this is for {answer.intended_for}"), *lines]

    def weigh(self, text: str) -> list[str]:
        """Keep what a ball weighs now, and tell whether it lasts as soon as two weights show it.

        Without a weight it tells those that were kept.
        """
        weights = self.project.state.work.weights
        if not text and weights:
            balls = [(f"the ball of {each.yarn}" if each.yarn else "the ball", each.grams) for each in weights]
            return [sentence(f"{ball}: {grams:g} g") for ball, grams in balls]
        try:
            key, grams = weight_in(text, self.view.colour_key, work_of_pattern(self.pattern))
        except UnclearFigure as wrong:
            raise Refused(str(wrong)) from None
        self.project.do(BallWeighed(key, grams))
        ball_readings = readings(self.pattern, self.project.history(), self.project.state)
        rate = rate_of(key, weighings(ball_readings))
        if rate is None or not ball_readings:
            return ["Noted. Work on, then weigh the same ball again: the difference tells how long it lasts."]
        last = will_it_last(ball_readings[-1].work_left, grams, rate)
        return ["Noted.", sentence(ball_words(self.pattern.yarn_name(key) or "the yarn", last))]

    def work_here(self, _: str) -> list[str]:
        """Take over from another window that was closed."""
        if not self.project.looking_on:
            return ["You work here already."]
        if not self.project.work_here():
            return ["The other window is still open: close it first."]
        return ["You work here now.", *self.tell_place()]

    def take_up(self, _: str) -> list[str]:
        """Go on with the project that the pattern had in another place."""
        self.project.take_up_moved()
        return self.changes() if self.project.changed is not None else self.tell_place()

    def changes(self) -> list[str]:
        """What differs in the pattern since the last time, and what to do about it."""
        if self.project.changed is None:
            return ["The pattern is as it was."]
        return [
            "The pattern file has changed since you last worked.",
            *(sentence(str(difference)) for difference in self.project.changed),
            "Say agree to go on with the changed pattern, or quit and put the old file back.",
        ]

    def agree(self) -> list[str]:
        if self.project.changed is None:
            return ["There is nothing to agree to: the pattern is as it was."]
        self.project.agree_to_change()
        return ["You go on with the changed pattern.", *self.tell_place()]

    def tell_place(self) -> list[str]:
        """The place, what comes now, and what waits for an answer."""
        view = self.view
        lines = [
            sentences.place_sentence(view),
            sentences.changed(view),
            *self._waiting(view),
            sentences.change(view),
        ]
        return [part for part in lines if part]

    def stitch(self, count: str) -> list[str]:
        return self._work(Stitch(_count_of(count, "say how many stitches, as a number: stitch 3")))

    def repeat(self, times: str) -> list[str]:
        if not times:
            return self._step(StepSize.REPEAT)
        if times.casefold() in _NEXT:
            return _NEXT[times.casefold()](self)
        lines: list[str] = []
        for _ in range(min(_count_of(times, "say how many repeats, as a number: repeat 2"), 1000)):
            lines = self._step(StepSize.REPEAT)
        return lines

    def go_on(self) -> list[str]:
        """On with the next copy that is not made."""
        following = next_copy(self.pattern, self.project.state.work)
        if following is None:
            raise Refused("every piece is made")
        if following == self.project.state.work.copy:
            name = copy_name(self.pattern, following)
            raise Refused(f"{name} is not made yet: say piece and a name to go on with another")
        self.project.do(PieceChosen(following.piece, following.number))
        return self.tell_place()

    def another(self, _: str) -> list[str]:
        """Everything once more, when all of it is made."""
        if not self.view.finished:
            raise Refused("this one is not finished yet")
        self.project.do(BegunAnew())
        return ["Another one; undo brings the finished one back.", *self.tell_place()]

    def round(self, _: str) -> list[str]:
        return self._step(StepSize.ROUND)

    def undo(self, _: str) -> list[str]:
        self.project.do(Undo())
        return ["Taken back.", *self.tell_place()]

    def frog(self, text: str) -> list[str]:
        place = frog_in(self.pattern, self.project.state, text)
        work = self.project.state.work
        made = work.place_in(work.in_hand)
        if (place.round_index, place.stitch) > (made.round_index, made.stitches):
            raise Refused(
                "that is not made yet, so it cannot be ripped; say set and the same to put your place there"
            )
        self.project.do(place)
        return ["Frogged.", *self.tell_place()]

    def set_place(self, text: str) -> list[str]:
        """The place is somewhere else than was thought: no yarn is ripped."""
        self.project.do(frog_in(self.pattern, self.project.state, text))
        return ["Your place is set.", *self.tell_place()]

    def count(self, text: str) -> list[str]:
        return sentences.count(self.project, text)

    def lost(self, _: str) -> list[str]:
        """The first question to a maker who lost the place."""
        from tracker.cli.plain_whereabouts import Finder

        self._finder = Finder(self.project)
        self.is_searching = True
        return self._finder.ask()

    def search(self, words: str) -> list[str]:
        """An answer to the question that was asked last."""
        assert self._finder is not None
        lines = self._finder.answer(words)
        if lines is None:
            self.is_searching = False
            return self.tell_place()
        return lines

    def mend(self, text: str) -> list[str]:
        """A printed line put right: what could be meant, or the maker's own line."""
        from tracker.cli.plain_mending import Mender

        if self._mender is None:
            self._mender = Mender(self.project)
        return self._mender.mend(text)

    def look(self, _: str) -> list[str]:
        return sentences.looked_into(self.project)

    def choose(self, key: str) -> list[str]:
        """One of the choices that were told after a count that differs."""
        lines = sentences.chosen(self.project, key)
        return lines if self.view.unanswered is not None else [*lines, *self.tell_place()]

    def confirm(self, _: str) -> list[str]:
        """The mistake was where the maker was sent."""
        return sentences.confirmed(self.project)

    def carry_on(self, _: str) -> list[str]:
        return [*sentences.carried_on(self.project), *self.tell_place()]

    def note(self, text: str) -> list[str]:
        self.project.do(Note(text))
        return ["Noted."]

    def notes(self, _: str) -> list[str]:
        """The notes of every place, oldest first."""
        lines = [
            sentence(f"{self._at(note.copy, note.round_index)}, stitch {note.stitches}: {note.text}")
            for note in self.project.state.work.notes
        ]
        return lines or ["There are no notes yet."]

    def piece(self, text: str) -> list[str]:
        self.project.do(piece_in(self.pattern, text))
        return self.tell_place()

    def pieces(self, _: str) -> list[str]:
        """Each copy of each piece, with how far it is."""
        work = self.project.state.work
        lines: list[str] = []
        for copy in named_copies(self.pattern, self.project.state):
            done, rounds = work.place_in(copy).round_index, len(self.pattern.pieces[copy.piece].rounds)
            far = "made" if done >= rounds else f"{done:,} of {number_of(rounds, 'round')} done"
            in_hand = ", in hand" if copy == work.copy else ""
            lines.append(sentence(f"{copy_name(self.pattern, copy)}: {far}{in_hand}"))
        return lines or ["There are no pieces in this pattern."]

    def ask(self, text: str) -> list[str]:
        event = ask_in(text)
        self.project.do(event)
        return [sentence(asked_words(event))]

    def step(self, text: str) -> list[str]:
        """ "2 done", "2", "2 not done"."""
        typed_number, _, state = text.partition(" ")
        hint = "say the number of the step: step 2 done"
        if not typed_number:
            raise Refused(hint)
        number = _count_of(typed_number, hint)
        done = state.strip().casefold() not in ("not done", "undone", "open")
        view = self.project.do(StepDone(number - 1, done))
        steps = sentences.making_up(view, cautions_for(self._answered))
        open_steps = [step for step in steps if ", not done: " in step]
        return [
            sentence(f"step {number} is {'done' if done else 'not done'}"),
            *(open_steps[:1] or [sentences.place_sentence(view)]),
        ]

    def steps(self, _: str) -> list[str]:
        return sentences.making_up(self.view, cautions_for(self._answered))

    def ahead(self, _: str) -> list[str]:
        return sentences.ahead(self.view)

    def read(self, _: str) -> list[str]:
        """The round as it is worked, with the pattern's remark about it."""
        view = self.view
        text = sentences.changed(view) or sentence(view.text)
        return [part for part in (text, sentences.doubt(view), sentence(view.remark)) if part]

    def yarn(self, _: str) -> list[str]:
        view = self.view
        lines = [sentence(f"the yarn in use is {view.colour}") if view.colour else "The pattern names no yarn here."]
        return [*lines, sentences.change(view) or "No other colour comes in this piece."]

    def far(self, _: str) -> list[str]:
        return [sentences.share(self.view)]

    def today(self, _: str) -> list[str]:
        paused = self.project.is_paused() and self.project.state.past
        pause = "; the time stands still until you go on" if paused else ""
        return [sentence(f"you worked {spell(self.project.seconds_today())} today{pause}")]

    def differences(self, _: str) -> list[str]:
        view = self.view
        lines = [sentences.differs(view.unanswered)] if view.unanswered else []
        lines += [sentences.carried(difference) for difference in view.differences]
        return lines or ["No count differs."]

    def materials(self, _: str) -> list[str]:
        lines = sentences.materials(self._answered)
        return lines + [sentence(f"{piece.name}: {note}") for piece in self.pattern.pieces for note in piece.notes]

    def history(self, _: str) -> list[str]:
        """The days, oldest first."""
        lines = [
            sentence(f"{day.date}: {number_of(day.rounds, 'round')}, {spell(day.seconds)}")
            for day in self.project.days()
        ]
        return lines or ["Nothing is made yet."]

    def explain(self, text: str) -> list[str]:
        """What a word of the trade means; said alone, those of what comes now."""
        from tracker.phrasing.explanations import explanation_of, words_explained_in

        terms = self.pattern.terms
        words = (text,) if explanation_of(text, terms) else words_explained_in(text or self.view.now, terms)
        explanations = [explanation for word in words if (explanation := explanation_of(word, terms)) is not None]
        if not explanations:
            examples = ", ".join(words_explained_in(self.view.now, terms)) or "single crochet"
            raise Refused(f"say explain and a word that you read or heard here, like {examples}")
        return [sentence(f"{name}: {how}") for name, how in explanations]

    def _step(self, size: StepSize) -> list[str]:
        """On by one step; what the pattern asks for first is ticked instead."""
        stop = self.view.stop
        if stop is not None:
            self.project.do(NoteTicked(stop.number))
            return ["Done.", *self.tell_place()]
        view = self.view
        if view.piece_finished:
            return self._next_making_up(view) if view.all_made else self.go_on()
        step = step_now(self.pattern, self.project.state, size)
        return self._work(step.event if step else RoundDone())

    def _next_making_up(self, view: View) -> list[str]:
        open_steps = [number for number, (_, done) in enumerate(view.making_up, 1) if not done]
        if not open_steps:
            return ["Everything is made: say another to begin it once more."]
        return self.step(f"{open_steps[0]} done")

    def _work(self, event: Event) -> list[str]:
        before = self.view
        after = self.project.do(event)
        is_news = after.unanswered != self._reminded_of
        self._reminded_of = after.unanswered
        waiting = self._waiting(after) if is_news or after.unanswered is None else []
        return [*self._passed(before, after), *waiting, *self._coming(before, after)]

    def _of_the_yarn(self, before: View) -> list[str]:
        piece = self.project.pattern.pieces[before.piece_index]
        return [sentence(YARN_AT_THE_END)] if says_nothing_of_the_yarn(self.project.pattern, piece) else []

    def _passed(self, before: View, after: View) -> list[str]:
        """What was completed by the last thing done."""
        if after.piece_finished and not after.just_made:
            return [sentence(f"{sentences.piece_name(before)} is made"), *self._of_the_yarn(before)]
        if after.just_made:
            made = sentence(f"{after.just_made} is made; next is {sentences.piece_name(after)}")
            return [made, *self._of_the_yarn(before)]
        if (before.round_index, before.copy, before.piece_index) != (
            after.round_index,
            after.copy,
            after.piece_index,
        ):
            has = f" with {before.expected} stitches" if before.expected is not None else ""
            return [sentence(f"{before.round_label} is done{has}")]
        return []

    def _waiting(self, view: View) -> list[str]:
        if view.unanswered is not None:
            return sentences.reminder(view)
        if view.asks_count:
            return [sentence(f"count {view.count_of}: say count and the number; or go on")]
        return []

    def _coming(self, before: View, after: View) -> list[str]:
        lines = [sentence(after.now) if after.piece_finished else sentences.now(after)]
        lines += [sentence(after.colour_event.words)] if after.colour_event else []
        if after.round_label != before.round_label:
            lines += [sentences.changed(after), sentences.doubt(after), sentence(self._fresh_remarks(after))]
        return [part for part in lines if part]

    def _fresh_remarks(self, view: View) -> str:
        """What the pattern says here, without the sentences that were said in this copy before."""
        fresh = [part for part in view.remarks if (view.piece_index, view.copy, part) not in self._remarks_told]
        self._remarks_told |= {(view.piece_index, view.copy, part) for part in view.remarks}
        return ". ".join(fresh)

    def _at(self, copy: Copy, index: int) -> str:
        name = copy_name(self.pattern, copy)
        if index >= len(self.pattern.pieces[copy.piece].rounds):
            return f"{name}, at its end"
        return f"{name}, {round_at(self.pattern, self.project.state.work, copy.piece, copy.number, index).label}"


_NEXT: Mapping[str, Callable[[Teller], list[str]]] = {
    **dict.fromkeys(("round", "row"), lambda teller: teller.round("")),
    **dict.fromkeys(("stitch", "st"), lambda teller: teller.stitch("")),
    **dict.fromkeys(("piece", "copy"), Teller.go_on),
    **dict.fromkeys(("colour", "color", "yarn"), lambda teller: teller.yarn("")),
    **dict.fromkeys(("step", "one"), lambda teller: teller.repeat("")),
    **dict.fromkeys(("rounds", "rows"), lambda teller: teller.ahead("")),
}
"""What may follow "next" and "on" besides a number."""


def _count_of(text: str, hint: str) -> int:
    digits = text.strip()
    if not digits:
        return 1
    # Longer numbers are no counts: a million million stitches take thousands of years.
    if not digits.isdecimal() or len(digits) > 12:
        raise Refused(hint)
    return int(digits)
