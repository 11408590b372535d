"""What the maker can set, each tried out on the spot and kept in the settings file."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from dataclasses import replace
from time import monotonic

from textual import events

from tracker.phrasing.stitches import short_words
from tracker.session.events import AskChosen
from tracker.session.steps import step_now
from tracker.session.view import StepSize
from tracker.session.view_words import asked_words
from tracker.tui.commands import COMMANDS, Command, Keys, name_of
from tracker.tui.controller import Desk
from tracker.tui.pages.choices import ASKING
from tracker.tui.pages.page import BACK, Page
from tracker.tui.palette import PALETTES
from tracker.tui.render.list_view import Row
from tracker.tui.render.now import now_letters
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, fresh_entry, paint_entry, typed
from tracker.tui.rest_reminder import TIME_TO_REST
from tracker.tui.settings import FILE, LETTERS, Settings, freed, is_key
from tracker.tui.settings_writer import Value, keep
from tracker.tui.sounds import Sound, Voice
from tracker.tui.speech import words_to_say

CHOOSING = (Choice("↑↓", "choose"), Choice("←→", "change"), Choice("space", "try it"), BACK)
TYPING = (Choice("enter", "take it"), Choice("esc", "put it away"))

MAIN_KEY, VOICE = "main", "speak"

VALUES: Mapping[str, tuple[object, ...]] = {
    "main_step": tuple(StepSize),
    "ask": ASKING,
    MAIN_KEY: (),
    "double_tap": (0.0, 0.2, 0.3, 0.5),
    "colours": tuple(PALETTES),
    "hand": (False, True),
    "rest_after": (0.0, *(minutes * 60.0 for minutes in (20, 30, 45, 60, 90))),
    "bell": (
        frozenset(),
        frozenset({Sound.COLOUR}),
        frozenset({Sound.WARNING}),
        frozenset({Sound.COLOUR, Sound.WARNING}),
        frozenset(Sound),
    ),
    "letters": tuple(LETTERS),
    VOICE: (),
}
"""By their names in the file, in the order of the page, what can be chosen; a key is pressed and a voice typed."""

FIELDS = {"ask": "asks", "colours": "palette", "hand": "left_handed"}
"""Where a setting is called otherwise than in the file."""


class PreferencesPage(Page):
    """Ends with None: what is changed holds at once."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("settings", desk.palette, CHOOSING)
        self._desk = desk
        self._tried = ""
        """What came of trying the chosen row."""
        self._takes_key = False
        self._entry: TextEntry | None = None
        self._taps: tuple[int, int, float] = (0, 0, 0.0)
        """Taps of the row of double taps: all, those that counted, and when the last one was."""

    @property
    def _setting(self) -> str:
        return str(self.leaf.value)

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._setting_rows())

    def _setting_rows(self) -> Iterator[Row]:
        chosen = self.leaf.value or next(iter(VALUES))
        for name in VALUES:
            below = (self._tried or hint_of(name, self._desk)) if name == chosen else ""
            yield Row(words_of(name, self._desk), name, below)
        if self._entry is not None:
            yield Row("", drawn=paint_entry(self._entry, self.size.width))
        elif chosen == "letters":
            scene, (width, height) = self._desk.scene(), self.size
            yield from (Row("", drawn=part) for part in now_letters(scene, width, max(5, height // 2)))
        yield Row(f"kept in {self._desk.project.folder / FILE}, where other keys can be set too", look=Look.FAINT)

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self or (self._entry is None and not self._takes_key):
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        if self._takes_key:
            self._take_key(event.key)
        else:
            self._type(event.key, event.character)
        self.repaint()

    def pressed(self, key: str) -> bool:
        if key in ("down", "up", "j", "k"):
            self._tried, self._taps = "", (0, 0, 0.0)
            return False
        if key in ("left", "right"):
            self._change(1 if key == "right" else -1)
        elif key in ("space", "enter"):
            self._try()
        elif self._setting == MAIN_KEY and self._desk.keys.command(key) is Command.MAIN:
            self._tried = f"{name_of(key)} is a main key: it works"
        else:
            return False
        self.repaint()
        return True

    def _change(self, by: int) -> None:
        name, values = self._setting, VALUES[self._setting]
        if not values:
            self._try()
            return
        present = value_of(name, self._desk)
        index = values.index(present) if present in values else 0
        value = values[(index + by) % len(values)]
        if isinstance(value, AskChosen):
            self._desk.do(value)
        self._set(name, replace(self._desk.settings, **{FIELDS.get(name, name): value}))  # type: ignore[arg-type]
        self._tried = ""

    def _set(self, name: str, settings: Settings) -> None:
        """Holds from now on, and is written down."""
        self._desk.change_settings(settings)
        if name == "colours":
            self._desk.palette = self._palette = PALETTES[settings.palette]
            self.app.theme = settings.palette
        table = "keys" if name == MAIN_KEY else ""
        try:
            is_kept = keep(self._desk.project.folder, name, written(name, settings), table)
        except OSError as wrong:
            self._tried = f"for now only: {wrong.strerror or wrong}"
            return
        if not is_kept:
            self._tried = f"for now only: {FILE} is written so that this line cannot be changed alone"

    def _try(self) -> None:
        name, desk = self._setting, self._desk
        if name == MAIN_KEY:
            self._takes_key = True
            self._tried = "press the key that you want, or the pedal"
        elif name == VOICE:
            self._entry = fresh_entry("a command that speaks:", shlex.join(desk.settings.speak))
            self._foot(TYPING)
        elif name == "double_tap":
            self._tap()
        elif name == "rest_after":
            self._tried = f"it will say: {TIME_TO_REST}"
        elif name == "bell":
            self.app.bell()
            self._tried = "that was the bell, if your terminal has one"

    def _tap(self) -> None:
        taps, counted, last = self._taps
        now = monotonic()
        counts = not taps or now - last >= self._desk.settings.double_tap
        self._taps = taps + 1, counted + counts, now
        self._tried = f"{taps + 1} tapped, {self._taps[1]} counted"

    def _take_key(self, key: str) -> None:
        self._takes_key = False
        if key == "escape":
            self._tried = ""
            return
        if not is_key(key):
            self._tried = f"{name_of(key)[:20]} cannot be set: a letter, space, enter, f1 or the like can"
            return
        keys = self._desk.keys
        others = [each for each in keys.of(Command.MAIN) if each != key]
        owner = keys.command(key)
        changed = {**keys.changed, Command.MAIN: (key, *others)}
        if owner not in (None, Command.MAIN):
            changed[owner] = tuple(each for each in keys.of(owner) if each != key)
        self._set(MAIN_KEY, replace(self._desk.settings, keys=Keys(freed(changed))))
        owner_words = ""
        if owner in changed and owner is not Command.MAIN:
            owner_words = f"; {COMMANDS[owner].word} has {_listed(changed[owner])} now"
        if not self._tried.startswith("for now"):
            self._tried = f"{name_of(key)} is the main key{owner_words}: press it"

    def _type(self, key: str, character: str | None) -> None:
        assert self._entry is not None
        after = typed(self._entry, key, character)
        if isinstance(after, TextEntry):
            self._entry = after
            return
        self._entry = None
        self._foot(CHOOSING)
        if after is None:
            return
        try:
            command = tuple(shlex.split(after))
        except ValueError:
            self._tried = "a quotation mark is open: say the command again"
            return
        self._set(VOICE, replace(self._desk.settings, speak=command))
        voice = Voice(command)
        voice.say(words_to_say(self._desk))
        self._tried = voice.trouble or ("listen: it says what comes now" if command else "")

    def _foot(self, keys: tuple[Choice, ...]) -> None:
        self.leaf = replace(self.leaf, keys=keys)


def value_of(name: str, desk: Desk) -> object:
    """What is set now; of asking what holds in this work."""
    if name == "ask":
        return desk.project.state.work.asks
    if name == "colours":
        return desk.palette.name
    if name == MAIN_KEY:
        return desk.keys.of(Command.MAIN)
    return getattr(desk.settings, FIELDS.get(name, name))


def words_of(name: str, desk: Desk) -> str:
    """The setting and its value, in words."""
    value = value_of(name, desk)
    match name, value:
        case "main_step", StepSize():
            return f"one tap: {value.value}"
        case "ask", AskChosen():
            return asked_words(value)
        case "main", tuple():
            return f"main key: {_listed(value)}"
        case "double_tap", float():
            return f"two taps within {value:g} s count as one" if value else "double taps: every tap counts"
        case "colours", str():
            return f"colours: {value}, {PALETTES[value].description}"
        case "letters", _:
            return f"letters of what to do now: {value}"
        case "hand", _:
            return f"working hand: {'left' if value else 'right'}"
        case "rest_after", float():
            return f"rest your hands: {f'a word after {value / 60:g} min at work' if value else 'no word'}"
        case "bell", frozenset():
            occasions = [_OCCASIONS[sound] for sound in Sound if sound in value]
            return f"bell: {', '.join(occasions) or 'never'}"
    return f"voice: {shlex.join(desk.settings.speak) or 'none'}"


_OCCASIONS = {
    Sound.COLOUR: "before a colour",
    Sound.ROUND: "before the end of a round",
    Sound.WARNING: "at a warning",
}


def hint_of(name: str, desk: Desk) -> str:
    """What the setting does, where its words do not say it all."""
    match name:
        case "main_step":
            step = step_now(desk.pattern, desk.project.state, desk.main_step)
            letters = short_words(step.stretch, desk.pattern.terms).upper() if step else ""
            return f"it would take {letters} now" if letters else "how far the main key goes"
        case "ask":
            return "in this work from now on, and in what you begin later"
        case "main":
            return "space, then the key or pedal that you want"
        case "double_tap":
            return "tap space twice to try it"
        case "speak":
            return "space, then a command that reads its last word aloud: espeak-ng"
        case "rest_after" | "bell":
            return "space tries it"
    return "as you see it now"


def written(name: str, settings: Settings) -> Value:
    """As it stands in the file."""
    match name:
        case "main_step":
            return settings.main_step.value
        case "ask":
            return f"every {settings.asks.every}" if settings.asks.when == "every" else settings.asks.when
        case "main":
            return settings.keys.of(Command.MAIN)
        case "double_tap":
            return settings.double_tap
        case "colours":
            return settings.palette
        case "letters":
            return settings.letters
        case "hand":
            return "left" if settings.left_handed else "right"
        case "rest_after":
            return f"{settings.rest_after / 60:g} min" if settings.rest_after else "off"
        case "bell":
            return [sound.value for sound in Sound if sound in settings.bell]
    return shlex.join(settings.speak)


def _listed(keys: tuple[str, ...]) -> str:
    return ", ".join(map(name_of, keys)) or "no key"
