"""The maker's settings: a small TOML file in the data folder. Everything in it may be left out.

What cannot be used is told in plain words and the usual value is taken: a wrong line never keeps anybody from
working.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tracker.lazy_dataclass import dataclass, field
from tracker.lazy_pattern import compile_later
from tracker.session.events import AskChosen
from tracker.session.state import ASKS_AT_FIRST, Refused
from tracker.session.view import StepSize
from tracker.suggestion import suggestion
from tracker.tui.commands import COMMANDS, Command, Keys, name_of
from tracker.tui.palette import PALETTES
from tracker.tui.sounds import Sound

FILE = "settings.toml"
LARGEST = 100_000
"""Bytes of the settings file; all that can be set takes some hundreds."""

MOST_QUOTED = 120
"""Characters of what is wrong that are told."""

LONGEST_DOUBLE_TAP = 5.0
"""Seconds; more would swallow taps that are meant."""

NAMES = ("main_step", "ask", "colours", "letters", "hand", "double_tap", "bell", "rest_after", "speak", "keys")
"""Everything that the file may hold."""

LETTERS = {"largest": 6, "large": 4, "middle": 2, "small": 1, "text": 0}
"""How tall the letters of NOW may be, as sizes of `render/now.py`; 0 leaves them as ordinary text."""

SHORTEST_REST, LONGEST_REST = 5, 240
"""Minutes at work before a rest: more often would nag, later would not help."""

_MINUTES = compile_later(r"(\d{1,4}) ?(?:m|min|minutes?)")


@dataclass(frozen=True)
class Settings:
    """Everything that can be set. `problems` are sentences on what was not understood."""

    main_step: StepSize = StepSize.REPEAT
    asks: AskChosen = ASKS_AT_FIRST
    """After which rounds a count is asked for, in what is begun from now on."""
    palette: str = "lamp"
    letters: str = "largest"
    left_handed: bool = False
    double_tap: float = 0.0
    """Seconds within which a second tap of the main key counts as the same; 0: every tap counts."""
    bell: frozenset[Sound] = frozenset({Sound.COLOUR, Sound.WARNING})
    rest_after: float = 0.0
    """Seconds at work after which a word reminds to rest the hands; 0: never."""
    speak: tuple[str, ...] = ()
    """A command and its arguments; what is to be said is added as the last one."""
    keys: Keys = field(default_factory=Keys)
    problems: tuple[str, ...] = ()


def load_settings(folder: Path) -> Settings:
    """The settings of a data folder; the usual ones where there is no file."""
    path = folder / FILE
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
        if len(data) > LARGEST:
            return Settings(problems=(f"{FILE} has more than {LARGEST:,} bytes and is not read",))
        import tomllib  # most makers have no settings

        table = tomllib.loads(data.decode("utf-8-sig").replace("\r\n", "\n"))
    except FileNotFoundError:
        return Settings()
    except UnicodeDecodeError:
        return Settings(problems=(f"{FILE} cannot be read: it is not UTF-8 text, save it as UTF-8",))
    except OSError as wrong:
        return Settings(problems=(f"{FILE} cannot be read: {(wrong.strerror or 'no reason is given').lower()}",))
    except RecursionError:
        return Settings(problems=(f"{FILE} is not TOML: lists stand too deep inside each other",))
    except ValueError as wrong:  # no TOML, or a number of thousands of digits
        return Settings(problems=(f"{FILE} is not TOML: {str(wrong)[:MOST_QUOTED]}",))
    return _Reader(table).settings()


class _Reader:
    """Takes one value after another and keeps what was wrong with them."""

    def __init__(self, table: Mapping[str, Any]) -> None:
        self._table = table
        self._problems: list[str] = []

    def settings(self) -> Settings:
        usual = Settings()
        self._names(self._table, NAMES, "setting")
        steps = {step.value: step for step in StepSize}
        return Settings(
            main_step=steps[self._one_of("main_step", tuple(steps), usual.main_step.value)],
            asks=self._asks(),
            letters=self._one_of("letters", tuple(LETTERS), usual.letters),
            palette=self._one_of("colours", tuple(PALETTES), usual.palette),
            left_handed=self._one_of("hand", ("right", "left"), "right") == "left",
            double_tap=self._seconds("double_tap"),
            bell=self._sounds(usual.bell),
            rest_after=self._rest_after(),
            speak=self._command(),
            keys=self._keys(),
            problems=tuple(self._problems),
        )

    def _wrong(self, name: str, expectation: str) -> None:
        self._problems.append(f"{name[:MOST_QUOTED]} in {FILE}: {expectation}")

    def _names(self, table: Mapping[str, Any], names: tuple[str, ...], kind: str) -> None:
        for name in table:
            if name not in names:
                near = suggestion(name, names)
                self._wrong(name, f"there is no such {kind}" + (f", do you mean {near}?" if near else ""))

    def _one_of(self, name: str, names: tuple[str, ...], usual: str) -> str:
        value = self._table.get(name, usual)
        if isinstance(value, str) and value in names:
            return str(value)
        self._wrong(name, f"one of {', '.join(names)} is expected")
        return usual

    def _asks(self) -> AskChosen:
        from tracker.session.typed_input import ask_in

        value = self._table.get("ask", ASKS_AT_FIRST.when)
        try:
            return ask_in(value if isinstance(value, str) else "")
        except Refused:
            self._wrong("ask", '"each", "change", "every 3" or "never" is expected')
            return ASKS_AT_FIRST

    def _seconds(self, name: str) -> float:
        value = self._table.get(name, 0.0)
        if isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= LONGEST_DOUBLE_TAP:
            return float(value)
        self._wrong(name, f"seconds from 0 to {LONGEST_DOUBLE_TAP:g} are expected")
        return 0.0

    def _rest_after(self) -> float:
        value = self._table.get("rest_after", "off")
        match = _MINUTES.fullmatch(value.strip()) if isinstance(value, str) else None
        minutes = int(match[1]) if match else 0
        if value == "off" or SHORTEST_REST <= minutes <= LONGEST_REST:
            return minutes * 60.0
        self._wrong("rest_after", f'"off" or minutes from {SHORTEST_REST} to {LONGEST_REST} are expected: "45 min"')
        return 0.0

    def _sounds(self, usual: frozenset[Sound]) -> frozenset[Sound]:
        value = self._table.get("bell")
        if value is None:
            return usual
        sounds = {sound.value: sound for sound in Sound}
        if isinstance(value, list) and all(isinstance(name, str) and name in sounds for name in value):
            return frozenset(sounds[name] for name in value)
        self._wrong("bell", f"a list of {', '.join(sounds)} is expected")
        return usual

    def _command(self) -> tuple[str, ...]:
        value = self._table.get("speak", "")
        if value == "":
            return ()
        import shlex  # few have a command that speaks

        try:
            if isinstance(value, str) and "\0" not in value:
                return tuple(shlex.split(value))
        except ValueError:
            pass
        self._wrong("speak", 'a command in quotes is expected: "espeak-ng"')
        return ()

    def _keys(self) -> Keys:
        table = self._table.get("keys", {})
        if not isinstance(table, dict):
            self._wrong("keys", "a table of commands and keys is expected")
            return Keys()
        commands = {command.value: command for command in Command}
        self._names(table, tuple(commands), "command")
        changed: dict[Command, tuple[str, ...]] = {}
        for name, value in table.items():
            keys = (value,) if isinstance(value, str) else tuple(value) if isinstance(value, list) else ()
            if name in commands and self._usable(name, keys):
                changed[commands[name]] = tuple(_TYPED.get(key, key) for key in keys)
        return self._without_conflicts(changed)

    def _usable(self, name: str, keys: tuple[Any, ...]) -> bool:
        for key in keys:
            if not isinstance(key, str) or not is_key(key):
                self._wrong(
                    name, f"{repr(key)[:20]} is not a key; a letter, space, enter, f1 or the like is expected"
                )
                return False
        if not keys:
            self._wrong(name, "a key, or a list of keys, is expected")
        return bool(keys)

    def _without_conflicts(self, changed: dict[Command, tuple[str, ...]]) -> Keys:
        """Keys that were set come before usual ones; two that were set for one key are both told and left out."""
        owners: dict[str, list[Command]] = {}
        for command, keys in changed.items():
            for key in keys:
                owners.setdefault(key, []).append(command)
        for key, claimed in owners.items():
            if len(claimed) > 1:
                names = " and ".join(command.value for command in claimed)
                self._wrong("keys", f"{name_of(key)} is given to {names}; both keep their usual keys")
                for command in claimed:
                    changed.pop(command, None)
        return Keys(freed(changed))


def freed(changed: dict[Command, tuple[str, ...]]) -> dict[Command, tuple[str, ...]]:
    """The usual keys of the other commands, without those that were given away."""
    taken_keys = {key for keys in changed.values() for key in keys}
    keys_left = {
        command: tuple(key for key in command_help.keys if key not in taken_keys)
        for command, command_help in COMMANDS.items()
        if command not in changed and taken_keys.intersection(command_help.keys)
    }
    return {**changed, **keys_left}


_TYPED = {"?": "question_mark", " ": "space", "page-down": "pagedown", "page-up": "pageup", "ctrl-q": "ctrl+q"}
_NAMED = {"space", "enter", "tab", "backspace", "delete", "insert", "home", "end", "left", "right", "up", "down"}


def is_key(key: str) -> bool:
    """Whether this is the name of a key that can be set."""
    if not key:
        return False
    if key in _TYPED or key in _NAMED or key in ("pagedown", "pageup"):
        return True
    if len(key) == 1:
        return key.isalpha()
    # Keyboards have up to 24 function keys.
    return key[0] == "f" and key[1:].isdecimal() and len(key) < 4 and 1 <= int(key[1:]) <= 24
