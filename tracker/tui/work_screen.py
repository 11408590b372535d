"""The working screen: keys go to the desk, the desk's scene goes to the panels."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterable
from time import monotonic
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.containers import Container
from textual.geometry import Region, Size
from textual.screen import Screen
from textual.widget import Widget

from tracker.pattern.model import Start
from tracker.session.events import AskChosen, Frog
from tracker.session.state import Copy
from tracker.session.view import StepSize
from tracker.session.view_words import asked_words
from tracker.tui.commands import Command, name_of
from tracker.tui.controller import Desk, Talk
from tracker.tui.palette import drawn
from tracker.tui.panel import Panel, still_size
from tracker.tui.pen import CellPatch
from tracker.tui.render.instructions import size_of_now, words
from tracker.tui.render.progress import drawing
from tracker.tui.render.scene import Scene, Tone
from tracker.tui.render.status_lines import heading, keyline, shares, talk
from tracker.tui.render.strip import strip
from tracker.tui.render.styled_text import Bit, Line, fit, wrap
from tracker.tui.sounds import Voice

if TYPE_CHECKING:
    from tracker.session.miscount.offers import Offer
from tracker.lazy_dataclass import dataclass, replace

WHEEL_REST = 0.25
"""Seconds in which further ticks of a wheel belong to the same turn of it."""

CHECK_EVERY = 15.0
"""Seconds between two looks at the clock and at a disk that refused to write."""

FOLLOW_EVERY = 1.0
"""Seconds between two looks at what another window does."""


STYLES = """
WorkScreen #body { layout: horizontal; height: 1fr; }
WorkScreen #drawing { height: 1fr; width: 36; margin: 0 2 0 0; }
WorkScreen #words { height: 1fr; }
WorkScreen #keys { height: 2; }
WorkScreen #small { display: none; }
WorkScreen.ledger #body { layout: vertical; }
WorkScreen.ledger #drawing { width: 1fr; margin: 0; }
WorkScreen.small * { display: none; }
WorkScreen.small #small { display: block; height: 1fr; }
"""
"""The app's own: what a screen brings of its own is read when it comes, and everything else once more with it."""


class Body(Container):
    """What holds the drawing and the words; blank behind them, so that nothing has to be styled at a tap."""

    BLANK = True
    virtual_size = still_size()


class WorkScreen(Screen[None]):
    """Everything for working a round. `put` puts patches on the terminal at once and tells whether it did."""

    BLANK = True
    virtual_size = still_size()

    def __init__(self, desk: Desk, put: Callable[[Iterable[CellPatch]], bool]) -> None:
        super().__init__()
        self.desk = desk
        self._put = put
        self._panels = (
            Panel(heading, id="heading"),
            Panel(drawing, id="drawing", stylist=drawn),
            Panel(words, id="words"),
            Panel(shares, id="shares"),
            Panel(talk, id="talk"),
            Panel(keyline, id="keys"),
            Panel(_in_little_room, id="small"),
        )
        self._voice = Voice(desk.settings.speak)
        self._arranged: Arrangement | None = None
        self._shown_in = Size(0, 0)
        self._is_laid_out = False
        self._last_tick = float("-inf")  # a clock that starts with the machine may be younger than the rest
        self._last_main = 0.0
        self._does: dict[Command, Callable[[], object]] = {
            Command.MAIN: desk.main,
            Command.STITCH: desk.stitch,
            Command.ROUND: desk.round,
            Command.UNDO: desk.undo,
            Command.CARRY_ON: desk.carry_on,
            Command.AHEAD: lambda: desk.look(1),
            Command.BACK: lambda: desk.look(-1),
            Command.COUNT: desk.ask_for_count,
            Command.SUSPEND: self.app.action_suspend_process if hasattr(signal, "SIGTSTP") else self._cannot_wait,
            Command.ANOTHER: desk.begin_another,
            Command.SHEET: desk.write_sheet,
            Command.NOTE: desk.ask_for_note,
            Command.LEAVE: self._leave,
            Command.PALETTE: self._next_palette,
        }

    def compose(self) -> ComposeResult:
        self._arrange()  # what is changed before the first layout costs none of its own
        heading_line, drawn_round, instruction_panel, share_line, talk_line, key_lines, too_small = self._panels
        yield heading_line
        with Body(id="body"):
            yield drawn_round
            yield instruction_panel
        yield from (share_line, talk_line, key_lines, too_small)

    def on_mount(self) -> None:
        self.set_interval(FOLLOW_EVERY if self.desk.project.looking_on else CHECK_EVERY, self.check)

    def on_unmount(self) -> None:
        self._voice.hush()

    def check(self) -> None:
        """What changes without a key: the time of today, a disk that writes again, another window's work."""
        self.desk.project.retry()
        self.desk.hear_news()
        self._show_at_once()

    def on_resize(self) -> None:
        self._is_laid_out = True
        if self.size != self._shown_in:
            self.show_scene()

    def on_screen_resume(self) -> None:
        if self._voice.command != self.desk.settings.speak:
            self._voice = Voice(self.desk.settings.speak)
        self.show_scene()

    def show_scene(self) -> None:
        """Paint what is; each panel writes only what differs."""
        for panel, changed in self._changes():
            panel.send(changed)

    def _changes(self) -> list[tuple[Panel, list[Region]]]:
        """Each panel with the parts of it that differ from what it showed, now that it shows what is."""
        scene, arranged = self.desk.scene(), self._arrange()
        scene = replace(scene, now_size=size_of_now(scene, *arranged.words))
        palette = self.desk.palette
        return [(panel, panel.take_on(scene, palette)) for panel in self._panels]

    def _show_at_once(self) -> None:
        """Paint what is without waiting for a frame, where nothing else is being painted."""
        arranged = self._arranged
        changes = self._changes()
        is_alone = self.app.screen is self and self._arranged is arranged and bool(self.desk.palette.paper)
        if not is_alone or not self._put(patch for panel, changed in changes for patch in panel.patches(changed)):
            for panel, changed in changes:
                panel.send(changed)

    def refresh(
        self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False
    ) -> WorkScreen:
        """As Textual has it, but for all of a screen before it is told of its first layout, which paints it: it would
        be painted once more with the next frame."""
        if self._is_laid_out or regions or layout or recompose:
            super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)
        return self

    def _extend_compose(self, widgets: list[Widget]) -> None:
        """Without what Textual adds to each screen, to show what nobody here tells: notices, and hints at the mouse.

        One of the two names of Textual's own that are overridden; without it a start is a frame longer.
        """

    def _arrange(self) -> Arrangement:
        self._shown_in = self.size
        flat = self.desk.pattern.pieces[self.desk.view.piece_index].start is Start.ROWS
        arranged = arrangement(*self._shown_in, flat)
        if arranged == self._arranged:
            return arranged
        self._arranged = arranged
        self.set_class(not arranged.clock, "ledger")
        self.set_class(arranged.strip, "small")
        drawn_in = self._panels[1]
        drawn_in.styles.width = arranged.drawing if arranged.clock else "1fr"
        drawn_in.styles.height = "1fr" if arranged.clock else arranged.drawing
        return arranged

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if self.app.screen is not self:
            # Typed on before the page that the last key opened was there.
            self.app.screen.post_message(events.Key(event.key, event.character))
        elif self.desk.typing is not None:
            self.desk.type(event.key, event.character)
            self._shown_and_heard()
        elif (offer := self._offer(event.key)) is not None:
            self._choose(offer)
        elif (command := self.desk.keys.command(event.key)) is not None:
            self.perform(command)
        elif self.desk.confirm(event.key):
            self._shown_and_heard()
        elif event.character is not None and event.character.isdecimal():
            self.desk.ask_for_count(event.character)
            self._show_at_once()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self.desk.typing is None and event.text.strip().isdecimal():
            self.desk.ask_for_count()
        self.desk.paste(event.text)
        self._show_at_once()

    def _offer(self, key: str) -> Offer | None:
        """The choice after a differing count that this key takes; None while nothing is asked."""
        question = self.desk.count_question
        return question.offers.get(key) if question else None

    def _choose(self, offer: Offer) -> None:
        self.desk.choose(offer)
        self._shown_and_heard()

    def perform(self, command: Command) -> None:
        """Do what a key asks for; it is committed before anything is painted."""
        if self._is_double(command):
            return
        if command is Command.MAIN and self.desk.writes_on:
            command = Command.WRITE
        if command is Command.FROG and self.desk.looking:
            self.desk.set_place()
        elif command is Command.WRITE and not self.desk.can_write:
            self.desk.talk = Talk("this pattern is a file of its own: write rounds into that", Tone.REFUSED)
        elif command in self._does:
            self._does[command]()
        else:
            self._open(command)
        self._shown_and_heard()

    def _shown_and_heard(self) -> None:
        self._show_at_once()
        if self.desk.settings.speak:
            self._speak()
        if self.desk.settings.bell.intersection(self.desk.take_sounds()):
            self.app.bell()

    def _speak(self) -> None:
        from tracker.tui.speech import words_to_say  # only those who hear need it

        self._voice.say(words_to_say(self.desk))
        if self._voice.trouble:
            self.desk.talk, self._voice.trouble = Talk(self._voice.trouble, Tone.REFUSED), ""
            self.show_scene()

    def on_click(self, event: events.Click) -> None:
        """The ring and NOW go on; a key that is named does what it says; anything else does nothing."""
        panel, region = self.get_widget_at(event.screen_x, event.screen_y)
        if not isinstance(panel, Panel):
            return
        x, y = event.screen_x - region.x, event.screen_y - region.y
        key = panel.key_at(x, y)
        if key:
            self._press(key)
        elif panel.id == "drawing" or (panel.id in ("words", "small") and panel.is_big_at(y)):
            self._advance()

    def _press(self, key_name: str) -> None:
        """The key of this name, as if it were pressed."""
        command = next((each for each in Command if key_name in map(name_of, self.desk.keys.of(each))), None)
        offer = self._offer(key_name)
        if self.desk.typing is not None:
            self.desk.type({"esc": "escape"}.get(key_name, key_name), None)
            self._shown_and_heard()
        elif offer is not None:
            self._choose(offer)
        elif command is not None:
            self.perform(command)

    def _cannot_wait(self) -> None:
        self.desk.talk = Talk("this terminal cannot put a program to sleep: leave, everything is kept", Tone.REFUSED)

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        event.stop()
        now = monotonic()
        if now - self._last_tick > WHEEL_REST:
            self._advance()
        self._last_tick = now

    def _advance(self) -> None:
        if self.desk.typing is None:
            self.perform(Command.MAIN)

    def _is_double(self, command: Command) -> bool:
        """Whether this is a second tap of the main key that the maker wants counted as the first."""
        if command is not Command.MAIN or not self.desk.settings.double_tap:
            return False
        before, self._last_main = self._last_main, monotonic()
        return self._last_main - before < self.desk.settings.double_tap

    def _open(self, command: Command) -> None:
        # Imported when the first page is opened, which nobody waits for, and not at the start, which everybody does.
        from tracker.tui.pages.registry import page_for

        self.app.push_screen(page_for(command, self.desk), self._go_on_with)

    def _go_on_with(self, chosen: object | None) -> None:
        if isinstance(chosen, Frog):
            self.desk.do(chosen, "frogged; undo brings it back")
            self._shown_and_heard()
        elif isinstance(chosen, AskChosen):
            self.desk.do(chosen, asked_words(chosen), Tone.GOOD)
            self.show_scene()
        elif isinstance(chosen, StepSize):
            self.desk.take_step(chosen)
            self.show_scene()
        elif isinstance(chosen, Copy) and chosen != self.desk.project.state.work.copy:
            self.desk.go_on_with(chosen)
            self.show_scene()
        elif chosen is not None:
            from tracker.session.miscount.offers import Offer
            from tracker.session.whereabouts import Whereabouts

            if isinstance(chosen, Offer):
                self._choose(chosen)
            elif isinstance(chosen, Whereabouts):
                self.desk.settle(chosen.event)
                self._shown_and_heard()

    def _leave(self) -> None:
        """Leave; while the disk refuses only after the maker heard what is lost and said yes."""
        project = self.desk.project
        if project.retry() or not project.loss:
            self.app.exit()
            return
        from tracker.tui.pages.page import BACK, AskingPage
        from tracker.tui.render.scene import Choice

        sentences = (project.loss, "make room for it and try again, or leave and lose that")
        page = AskingPage(
            "not everything is kept", sentences, (Choice("y", "leave and lose it"),), self.desk.palette, BACK
        )
        self.app.push_screen(page, lambda answer: self.app.exit() if answer == "y" else None)

    def _next_palette(self) -> None:
        self.desk.next_palette()
        self.app.theme = self.desk.palette.name


# Where things stand on the working screen, by its size.

LEAST_WIDTH, LEAST_HEIGHT = 30, 8
"""Below this not even NOW fits."""

TOO_SMALL = f"too small: {LEAST_WIDTH} by {LEAST_HEIGHT} needed"

LEAST_FOR_ALL = 40, 20
"""Columns and lines that more than a strip needs."""

# Cells: a ring and the words of a round side by side.
_LEAST_RING_WIDTH = 72
# Cells across, in which a ring is still round.
_LEAST_RING = 14
# Cells across; a larger one takes the room of the words.
_MOST_RING = 40
# A little under half, so that the words come first.
_RING_SHARE = 0.46
_FRAME = 5
"""Lines around the body: heading, shares, talk, two lines of keys."""
_GAP = 2
"""Columns between drawing and words."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """`drawing` is the width of the drawing beside the words in the clock, its height above them in the ledger.

    `words` is the room for the words, in columns and lines; in a strip all of it.
    """

    clock: bool
    drawing: int
    words: tuple[int, int]
    strip: bool = False


def arrangement(width: int, height: int, flat: bool) -> Arrangement:
    """The layout for a terminal of this size; `flat` work goes to and fro and is never a ring."""
    if width < LEAST_FOR_ALL[0] or height < LEAST_FOR_ALL[1]:
        return Arrangement(False, 0, (width, height), True)
    body = height - _FRAME
    lines = min(body, int(width * _RING_SHARE / 2), _MOST_RING)
    if not flat and width >= _LEAST_RING_WIDTH and lines >= _LEAST_RING:
        return Arrangement(True, 2 * lines, (width - 2 * lines - _GAP, body))
    # Lines of the drawing by lines of the screen, so that NOW stays the largest.
    drawing = 7 if body >= 30 else 5 if body >= 19 else 3
    return Arrangement(False, drawing, (width, body - drawing))


def _in_little_room(scene: Scene, width: int, height: int) -> list[Line]:
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return [fit(part, width) for part in wrap([Bit(TOO_SMALL)], width)]
    return strip(scene, width, height)
