"""What happens at the working screen, without a screen: commands become events, events become a scene.

An event is committed by the project before the next scene is made, so that what is shown is always kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from tracker.lazy_dataclass import dataclass, field, replace
from tracker.pattern.model import Pattern, Round, Start
from tracker.project.project import Project
from tracker.session.events import (
    BegunAnew,
    CarryOn,
    Event,
    Frog,
    Note,
    NoteTicked,
    PieceChosen,
    RoundDone,
    StepDone,
    Undo,
)
from tracker.session.state import Copy, Refused, State, copy_name, next_copy
from tracker.session.steps import step_now
from tracker.session.view import StepSize, View
from tracker.session.view_builder import look
from tracker.session.view_words import counted_words, spell
from tracker.session.worked_rounds import round_at
from tracker.tui.commands import Command
from tracker.tui.footer import TYPING, commands_now, foot, main_word
from tracker.tui.main_key_preview import cue, present_round, progress
from tracker.tui.palette import LAMP, PALETTES, Palette
from tracker.tui.render.round_shape import Sketch, sketch
from tracker.tui.render.scene import Choice, Scene, Tone
from tracker.tui.render.text_field import TextEntry, fresh_entry, inserted, typed
from tracker.tui.render.yarn_colours import swatches, yarn_colours
from tracker.tui.rest_reminder import RestReminder
from tracker.tui.settings import LETTERS, Settings
from tracker.tui.sounds import Sound

if TYPE_CHECKING:
    from tracker.session.miscount.offers import Offer
    from tracker.tui.count_dialog import CountQuestion


@dataclass(frozen=True, slots=True)
class Talk:
    """What was last said, and how it is meant."""

    words: str = ""
    tone: Tone = Tone.QUIET


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The sketch of a round, kept while the round is worked."""

    round: Round
    sketch: Sketch


@dataclass(frozen=True, slots=True)
class Typing:
    """A line being typed, and what is done with it."""

    entry: TextEntry
    then: Callable[[str], None]


@dataclass
class Desk:
    """The working screen's own state: what the main key does, what was said, which round is looked at."""

    project: Project
    settings: Settings = field(default_factory=Settings)
    palette: Palette = LAMP
    talk: Talk = Talk()
    looking: int = 0
    """Rounds ahead of the place (or behind it) that are looked at; 0 is the place itself."""
    before: View | None = None
    """What was shown before the last event."""
    _sounds: list[Sound] = field(default_factory=list)
    """What should be heard and was not yet."""
    typing: Typing | None = None
    """The line that is being typed into, if one is."""
    _drawn: _Drawn | None = None
    _ended: tuple[Copy | State, tuple[str, ...]] | None = None
    _cached_view: tuple[State, StepSize, View] | None = None

    def __post_init__(self) -> None:
        self.main_step = self.settings.main_step
        self.keys = self.settings.keys
        self._rest_reminder = RestReminder(self.settings.rest_after)
        self._noticed = 0
        sentences = (*self._news(), *self.settings.problems)
        if sentences:
            self.talk = Talk("; ".join(sentences), Tone.REFUSED)

    @property
    def pattern(self) -> Pattern:
        return self.project.pattern

    @property
    def view(self) -> View:
        """What is to be shown, with what the main key takes as the step."""
        usual, size = self.project.view(), self.main_step
        if size is StepSize.REPEAT:
            return usual
        state = self.project.state
        if self._cached_view is None or self._cached_view[0] is not state or self._cached_view[1] is not size:
            self._cached_view = state, size, look(self.pattern, state, size=size)
        return self._cached_view[2]

    def _step(self, size: StepSize) -> None:
        """On by one step of this size; where the pattern asks for something first, that is ticked."""
        view = self.view
        if view.stop is not None:
            self.do(NoteTicked(view.stop.number), "done")
            return
        step = view.tap if size is self.main_step else step_now(self.pattern, self.project.state, size)
        self.do(step.event if step else RoundDone())

    def do(self, event: Event, answer: str = "", tone: Tone = Tone.QUIET) -> bool:
        """Commit an event; whether it was taken. A refusal is said and changes nothing."""
        self.before = before = self.view
        self.looking = 0
        try:
            after = self.project.do(event)
        except Refused as refused:
            self.talk = Talk(refused.reason, Tone.REFUSED)
            return False
        self.talk = Talk(answer, tone)
        self._notice(before, after)
        self.hear_news()
        return True

    def hear_news(self) -> None:
        """Say what happened to the journal, if anything did since the last time."""
        news = self._news()
        if news:
            self.talk = Talk("; ".join(news), Tone.REFUSED)

    def _news(self) -> tuple[str, ...]:
        fresh = self.project.notices[self._noticed :]
        self._noticed += len(fresh)
        return fresh

    def main(self) -> None:
        """The main key: on by one step; from a piece that is made to the next, at the end a making-up step."""
        view = self.view
        if self.looking:
            self.looking = 0
            self.talk = Talk("back at your place")
            return
        if view.stop is not None or present_round(self.pattern, self.project.state) is not None:
            self._step(self.main_step)
        elif (following := next_copy(self.pattern, self.project.state.work)) is not None:
            self.go_on_with(following)
        else:
            self._next_making_up(view)

    @property
    def can_write(self) -> bool:
        """Whether the pattern is the maker's own to write on."""
        return self.project.is_own and not self.project.looking_on

    @property
    def writes_on(self) -> bool:
        """Whether the main key writes the next round: all that is written of a pattern of one's own is made."""
        if self.looking or not self.can_write:
            return False
        return next_copy(self.pattern, self.project.state.work) is None

    def _next_making_up(self, view: View) -> None:
        open_steps = [index for index, (_, done) in enumerate(view.making_up) if not done]
        if open_steps:
            self.do(StepDone(open_steps[0]), f"step {open_steps[0] + 1} done", Tone.GOOD)
        else:
            self.talk = Talk("everything is made", Tone.GOOD)

    def stitch(self) -> None:
        self._step(StepSize.STITCH)

    def round(self) -> None:
        self._step(StepSize.ROUND)

    def undo(self) -> None:
        self.do(Undo(), "taken back")

    def count(self, typed: str) -> None:
        """The maker typed a count: a quiet yes, or the warning appears."""
        from tracker.session.typed_input import number_in  # a start does not wait for what reads words

        before = self.view
        try:
            counted = number_in(typed)
        except Refused as refused:
            self.talk = Talk(refused.reason, Tone.REFUSED)
            return
        from tracker.session.miscount.diagnosis import count_of

        state = self.project.state
        if self.do(count_of(self.pattern, state, counted)) and self.view.unanswered is None:
            from tracker.tui.count_dialog import in_doubt_words, written_down

            words = in_doubt_words(self.project, state, self.keys)
            words = words or (written_down(self.project, counted) if self.can_write else "")
            self.talk = Talk(words or counted_words(before, counted), Tone.GOOD)

    @property
    def count_question(self) -> CountQuestion | None:
        """What is told of a count that waits for an answer, and the keys that answer it."""
        if self.view.unanswered is None:
            return None
        from tracker.tui.count_dialog import question_of

        return question_of(self.project, self.keys)

    def choose(self, offer: Offer) -> None:
        """The maker took one of the choices after a count that differs."""
        from tracker.tui.count_dialog import answer_words, event_of, round_to_be_counted

        event = event_of(self.project, offer)
        if event is not None:
            self.do(event, answer_words(self.project, offer.answer), Tone.GOOD)
        elif (index := round_to_be_counted(self.project, offer)) is not None:
            self._ask_for_part(index, by_parts=offer.to is None)

    def confirm(self, key: str) -> bool:
        """A key that says that the mistake was where the maker was sent; whether it was one."""
        if not self.project.state.work.supposed:
            return False
        from tracker.tui.count_dialog import confirmation

        event = confirmation(self.project, key, self.keys)
        return event is not None and self.do(event, "noted: it will be thought of sooner", Tone.GOOD)

    def _ask_for_part(self, index: int, by_parts: bool = True) -> None:
        """Ask for a count of a round that may be an older one: part by part where it is divided, or as a whole."""
        from tracker.tui.count_dialog import part_to_be_counted

        work = self.project.state.work
        label = round_at(self.pattern, self.project.state.work, work.in_hand.piece, work.in_hand.number, index).label
        part = part_to_be_counted(self.project, index) if by_parts else ""
        about = f"{label}, {part}" if part else label
        self._ask(f"stitches counted in {about}:", partial(self._count_part, index, bool(part)))

    def _count_part(self, index: int, by_parts: bool, typed: str) -> None:
        """The maker typed the number of a part, or of a whole round; while parts are left, the next is asked for."""
        from tracker.session.miscount.diagnosis import count_in_parts, count_of
        from tracker.session.typed_input import number_in
        from tracker.tui.count_dialog import parts_so_far

        before = self.view
        try:
            counted = number_in(typed)
        except Refused as refused:
            self.talk = Talk(refused.reason, Tone.REFUSED)
            return
        state = self.project.state
        by_part = count_in_parts(self.pattern, state, (counted,), index) if by_parts else None
        event = by_part or count_of(self.pattern, state, counted, index)
        if not self.do(event):
            return
        if self.project.state.work.part_counts:
            self.talk = Talk(parts_so_far(self.project, index), Tone.GOOD)
            self._ask_for_part(index)
        elif self.view.unanswered is None:
            whole = sum((*state.work.part_counts, counted))
            self.talk = Talk(counted_words(before, whole), Tone.GOOD)

    def set_place(self) -> None:
        """The place is where the maker looks: for work that was done without a tap, or ripped."""
        index = self.view.round_index + self.looking
        self.do(Frog(index), "your place is set; undo brings the other back")

    def settle(self, place: Frog | None) -> None:
        """The place that was found for a maker who had lost it; None where it is the one that was kept."""
        if place is None:
            self.talk = Talk("your place was right", Tone.GOOD)
        else:
            self.do(place, "your place is set; undo brings the other back", Tone.GOOD)

    def carry_on(self) -> None:
        if self.view.unanswered is None:
            self.do(CarryOn())
            return
        from tracker.session.miscount.offers import Answer
        from tracker.tui.count_dialog import answer_words

        self.do(CarryOn(), answer_words(self.project, Answer.CARRY_ON), Tone.GOOD)

    def note(self, typed: str) -> None:
        self.do(Note(typed), "noted", Tone.GOOD)

    def ask_for_count(self, typed: str = "") -> None:
        self._ask(f"stitches counted in {self.view.count_of}:", self.count, typed)

    def ask_for_note(self) -> None:
        self._ask("note:", self.note)

    def _ask(self, question: str, then: Callable[[str], None], typed: str = "") -> None:
        self.typing = Typing(fresh_entry(question, typed), then)

    def type(self, key: str, character: str | None) -> None:
        """A key while a line is typed."""
        if self.typing is None:
            return
        after, then = typed(self.typing.entry, key, character), self.typing.then
        self.typing = Typing(after, then) if isinstance(after, TextEntry) else None
        if isinstance(after, str) and after:
            then(after)

    def paste(self, text: str) -> None:
        """Text that was pasted goes into the line being typed."""
        if self.typing is not None:
            self.typing = Typing(inserted(self.typing.entry, text.strip()), self.typing.then)

    def go_on_with(self, copy: Copy) -> None:
        self.do(PieceChosen(copy.piece, copy.number))

    def change_settings(self, settings: Settings) -> None:
        """What was chosen holds from the next key on."""
        if settings.rest_after != self.settings.rest_after:
            self._rest_reminder = RestReminder(settings.rest_after)
        self.settings, self.main_step, self.keys = settings, settings.main_step, settings.keys

    def ask_as_set(self) -> None:
        """Work that is begun asks for counts as the settings say, until it is told otherwise."""
        if self.settings.asks != self.project.state.work.asks:
            self.do(self.settings.asks)

    def take_step(self, size: StepSize) -> None:
        """The main key goes this far from now on."""
        self.change_settings(replace(self.settings, main_step=size))
        self.talk = Talk(f"{self.keys.named(Command.MAIN)} now goes on by one {size.value}")
        self._keep("main_step", size.value)

    def begin_another(self) -> None:
        """Everything once more from the beginning, when all of it is made."""
        if not self.view.finished:
            self.talk = Talk("this one is not finished yet", Tone.REFUSED)
            return
        self.do(BegunAnew(), "another one; undo brings the finished one back", Tone.GOOD)

    def write_sheet(self) -> None:
        """What was made so far as a page for print, in the folder that the program was begun in."""
        from tracker.tui.ending import written_sheet

        self.talk = Talk(*written_sheet(self.project))

    def next_palette(self) -> None:
        names = list(PALETTES)
        self.palette = PALETTES[names[(names.index(self.palette.name) + 1) % len(names)]]
        self.change_settings(replace(self.settings, palette=self.palette.name))
        self.talk = Talk(f"colours: {self.palette.name}, {self.palette.description}")
        self._keep("colours", self.palette.name)

    def _keep(self, name: str, value: str) -> None:
        """What was chosen with a key is chosen for the next time as well."""
        from tracker.tui.settings_writer import keep

        try:
            keep(self.project.folder, name, value)
        except OSError as wrong:
            self.talk = Talk(f"{self.talk.words}, for now: {wrong.strerror or wrong}", Tone.REFUSED)

    def look(self, by: int) -> None:
        """Look at a round ahead or behind; the place does not move."""
        if self._looked_at(self.looking + by) is None:
            self.talk = Talk("there is no round further on" if by > 0 else "there is no round before")
            return
        self.looking += by
        self.talk = Talk()

    def _looked_at(self, offset: int) -> Round | None:
        copy = self.project.state.work.copy
        index = self.view.round_index + offset
        if not 0 <= index < self.view.rounds:
            return None
        return round_at(self.pattern, self.project.state.work, copy.piece, copy.number, index)

    def _is_changed(self, offset: int) -> bool:
        """Whether the maker works that round otherwise than it is written."""
        work, item = self.project.state.work, self._looked_at(offset)
        is_own = work.own_round(work.copy, self.view.round_index + offset) is not None
        return is_own or (item is not None and bool(item.printed))

    def _notice(self, before: View, after: View) -> None:
        """What the maker should hear and be told of after an event."""
        if after.unanswered is not None and after.unanswered != before.unanswered:
            self._sounds.append(Sound.WARNING)
        if self.cue and (before.stitch, before.round_index) != (after.stitch, after.round_index):
            self._sounds.append(Sound.COLOUR)
        if after.stitches_left == 1:
            self._sounds.append(Sound.ROUND)

    @property
    def cue(self) -> str:
        """The cue for a change of colour within the main key's next step, or ""."""
        return cue(self.view)

    def take_sounds(self) -> list[Sound]:
        """The sounds since the last time that this was asked: each is heard once."""
        sounds, self._sounds = self._sounds, []
        return sounds

    def scene(self) -> Scene:
        """Everything to be painted now."""
        view, question = self.view, self.count_question
        present = present_round(self.pattern, self.project.state)
        return Scene(
            view=view,
            pattern=self.pattern,
            sketch=self._sketch(present) if present is not None else None,
            progress=progress(view),
            yarns=yarn_colours(self.pattern),
            ink=swatches(self.pattern, self.palette.paper or "#000000"),
            most_letters=LETTERS[self.settings.letters],
            just_made=self._just_made(view),
            today=self._today(),
            cue=self.cue,
            message=self.talk.words or self._made_word(view) or self._rest_word(),
            tone=self.talk.tone,
            entry=self.typing.entry if self.typing else None,
            question=question.words if question else "",
            choices=question.choices if question else (),
            keys=self._foot(view, question),
            reads_on=self.keys.named(Command.EXPLAIN),
            looked_at=self._looked_at(self.looking) if self.looking else None,
            looked_at_is_changed=self._is_changed(self.looking),
            trouble=self.project.trouble,
            looking_on=self.project.looking_on,
            backwards=self._is_backwards(view),
            left_handed=self.settings.left_handed,
            paper=self.palette.paper or "#000000",
            is_in_colour=bool(self.palette.paper),
        )

    def _foot(self, view: View, question: CountQuestion | None) -> tuple[Choice, ...]:
        """The keys that are named, without those that answer at the moment."""
        if self.typing:
            return TYPING
        looks, looking_on = bool(self.looking), self.project.looking_on
        main = main_word(view, self.main_step, looks, looking_on, self._coming_piece)
        main = "write the next round" if self.writes_on else main
        offers = tuple(question.offers) if question else ()
        return foot(self.keys, main, commands_now(view, looks, looking_on), offers)

    @property
    def _coming_piece(self) -> str:
        """The copy to make next once the one in hand is made, "" if none is left."""
        following = next_copy(self.pattern, self.project.state.work)
        return copy_name(self.pattern, following) if following else ""

    def _just_made(self, view: View) -> tuple[str, ...]:
        """Worked out once for each copy: a tap must not wait for it again."""
        copy, state = self.project.state.work.ended, self.project.state
        if not view.finished and (not view.just_made or copy is None):
            return ()
        key = state if view.finished or copy is None else copy
        if self._ended is None or self._ended[0] is not key:
            from tracker.tui.ending import sentences_on_all, sentences_on_piece

            if isinstance(key, Copy):
                self._ended = key, sentences_on_piece(self.project, key)
            else:
                self._ended = key, sentences_on_all(self.project, self.keys.named(Command.SHEET))
        return self._ended[1]

    def _today(self) -> str:
        """Time at work today; whether it stands still, because nothing was done for a while."""
        words = f"today {spell(self.project.seconds_today())}"
        return f"{words}, paused" if self.project.is_paused() and self.project.state.past else words

    def _made_word(self, view: View) -> str:
        """Whoever comes back to a piece that is made is told so, and how to get on."""
        if not view.piece_finished or not (coming := self._coming_piece):
            return ""
        return f"nothing is left to make here: {self.keys.named(Command.MAIN)} goes on to {coming}"

    def _rest_word(self) -> str:
        if not self._rest_reminder.after:
            return ""
        return self._rest_reminder.word(self.project.seconds_today(), self.project.is_paused())

    def _sketch(self, present: Round) -> Sketch:
        if self._drawn is None or self._drawn.round is not present:
            self._drawn = _Drawn(present, sketch(present))
        return self._drawn.sketch

    def _is_backwards(self, view: View) -> bool:
        """Rows go to and fro; a right-handed maker works the first one from right to left."""
        if self.pattern.pieces[view.piece_index].start is not Start.ROWS:
            return False
        return (view.round_index % 2 == 0) is not self.settings.left_handed
