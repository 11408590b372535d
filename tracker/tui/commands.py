"""What the maker can do at the working screen, and the key for each; foot, help and settings read this table."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from functools import cached_property

from tracker.lazy_dataclass import dataclass, field


class Command(Enum):
    """One thing that a key can do; the value is its name in the settings file."""

    MAIN = "main"
    STITCH = "stitch"
    ROUND = "round"
    UNDO = "undo"
    COUNT = "count"
    FROG = "frog"
    CARRY_ON = "carry-on"
    LOOK_INTO = "look-into"
    WHEREABOUTS = "where-am-i"
    NOTE = "note"
    PIECES = "pieces"
    MEND = "mend"
    ROUNDS = "rounds"
    WRITE = "write"
    MAKING_UP = "making-up"
    BACK = "look-back"
    AHEAD = "look-ahead"
    EXPLAIN = "explain"
    MAIN_STEP = "main-step"
    ASK = "ask"
    MATERIALS = "materials"
    HISTORY = "history"
    MEASURE = "measure"
    PALETTE = "colours"
    SETTINGS = "settings"
    HELP = "help"
    ANOTHER = "another"
    SHEET = "sheet"
    SUSPEND = "suspend"
    LEAVE = "leave"

    __hash__ = object.__hash__
    """The usual hash of an enum is that of its name, made anew each time; commands are looked up at every tap."""


@dataclass(frozen=True, slots=True)
class CommandHelp:
    """A command's keys, its word at the foot and its line in the help. The first key is the one that is named."""

    keys: tuple[str, ...]
    word: str
    help: str


_DIFFERS = "when a count differs: see where and what to do, or carry on"
_END = "the checklist for the end / once all is made, begin another"
_SHEET = "a sheet of what you made, to print or share"
_LEAVE = "wait in the shell / leave; everything is kept"
_WORK = "one stitch / to the end of the round"
_MEND = "put a printed line right / all rounds / write the next one"
_SETTINGS = "the colours of the screen / all settings, to be tried out"
_MATERIALS_AND_DAYS = "yarns, hook and what else you need / what you made by day"
_LOOK = "read the rounds ahead / those before; your place stays"

COMMANDS: Mapping[Command, CommandHelp] = {
    Command.MAIN: CommandHelp(("space", "enter", "pagedown"), "", "on by one step; also a click on NOW or the ring"),
    Command.STITCH: CommandHelp(("s",), "stitch", _WORK),
    Command.ROUND: CommandHelp(("r",), "round", _WORK),
    Command.UNDO: CommandHelp(("u", "backspace"), "undo", "take the last thing back"),
    Command.HELP: CommandHelp(("question_mark",), "help", "this page"),
    Command.COUNT: CommandHelp(("c",), "count", "tell how many stitches you counted; or just type the number"),
    Command.FROG: CommandHelp(("f",), "frog", "rip back, from a list; looking ahead: set your place there"),
    Command.WHEREABOUTS: CommandHelp(("W",), "where am I?", "lost your place? a few questions, then a place or two"),
    Command.PIECES: CommandHelp(("p",), "pieces", "all pieces and copies, and go on with another"),
    Command.NOTE: CommandHelp(("n",), "note", "write a note at this place"),
    Command.AHEAD: CommandHelp(("right", "l"), "look ahead", _LOOK),
    Command.BACK: CommandHelp(("left", "b"), "look back", _LOOK),
    Command.EXPLAIN: CommandHelp(("e",), "explain", "this round in full, its stitches, all notes of the piece"),
    Command.MAIN_STEP: CommandHelp(("o",), "step", "what the main key does: repeat, run, round or stitch"),
    Command.ASK: CommandHelp(("a",), "ask", "after which rounds you are asked for a count"),
    Command.MEND: CommandHelp(("m",), "mend", _MEND),
    Command.ROUNDS: CommandHelp(("i",), "rounds", _MEND),
    Command.WRITE: CommandHelp(("j",), "write on", _MEND),
    Command.MAKING_UP: CommandHelp(("x",), "making up", _END),
    Command.ANOTHER: CommandHelp(("A",), "make another", _END),
    Command.SHEET: CommandHelp(("P",), "print", _SHEET),
    Command.MATERIALS: CommandHelp(("t",), "things", _MATERIALS_AND_DAYS),
    Command.HISTORY: CommandHelp(("h",), "history", _MATERIALS_AND_DAYS),
    Command.MEASURE: CommandHelp(("y",), "size, yarn", "size, yarn and time; will this ball last; pictures"),
    Command.PALETTE: CommandHelp(("v",), "colours", _SETTINGS),
    Command.SETTINGS: CommandHelp(("comma",), "settings", _SETTINGS),
    Command.LOOK_INTO: CommandHelp(("w",), "where", _DIFFERS),
    Command.CARRY_ON: CommandHelp(("k",), "carry on", _DIFFERS),
    Command.SUSPEND: CommandHelp(("ctrl+z",), "wait", _LEAVE),
    Command.LEAVE: CommandHelp(("q", "ctrl+q", "ctrl+c"), "leave", _LEAVE),
}
"""In the order in which the help names them."""

SHOWN_AS = {
    "question_mark": "?",
    "comma": ",",
    "right": "→",
    "left": "←",
    "pagedown": "page down",
    "ctrl+q": "ctrl-q",
    "ctrl+c": "ctrl-c",
    "ctrl+z": "ctrl-z",
}


def name_of(key: str) -> str:
    """How a key is called on the screen."""
    return SHOWN_AS.get(key, key)


@dataclass(frozen=True)
class Keys:
    """Which key does what. Keys of the settings file come in place of the usual ones."""

    changed: Mapping[Command, tuple[str, ...]] = field(default_factory=dict)

    def of(self, command: Command) -> tuple[str, ...]:
        return self.changed.get(command, COMMANDS[command].keys)

    def command(self, key: str) -> Command | None:
        """What a key does; None if nothing."""
        return self._table.get(key)

    @cached_property
    def _table(self) -> dict[str, Command]:
        return {key: command for command in COMMANDS for key in self.of(command)}

    def named(self, command: Command) -> str:
        """How the key of a command is called on the screen; "" if all of its keys were given to others."""
        return next(map(name_of, self.of(command)), "")
