"""Which keys the foot of the screen names: those that do something at this moment, the most needed first."""

from __future__ import annotations

from tracker.identity_cache import remembered
from tracker.session.view import StepSize, View
from tracker.tui.commands import COMMANDS, Command, Keys
from tracker.tui.render.scene import Choice

TYPING = (Choice("enter", "take it"), Choice("esc", "put it away"))
"""While a line is typed every other key goes into it."""

WORKING = (
    Command.STITCH,
    Command.ROUND,
    Command.UNDO,
    Command.HELP,
    Command.COUNT,
    Command.LEAVE,
    Command.FROG,
    Command.PIECES,
    Command.NOTE,
    Command.AHEAD,
    Command.EXPLAIN,
    Command.MAIN_STEP,
)

DIFFERING = (Command.LOOK_INTO, Command.CARRY_ON)
"""Named first when a count waits for an answer."""

LOOKING = (Command.FROG, Command.AHEAD, Command.BACK, Command.HELP, Command.LEAVE)
"""While a round ahead or behind is looked at."""

MADE = (Command.PIECES, Command.UNDO, Command.HELP, Command.COUNT, Command.LEAVE, Command.FROG, Command.NOTE)
"""At a piece that is made, others being left to make."""

MAKING_UP = (
    Command.MAKING_UP,
    Command.UNDO,
    Command.HELP,
    Command.LEAVE,
    Command.COUNT,
    Command.PIECES,
    Command.NOTE,
    Command.FROG,
)

FINISHED = (
    Command.ANOTHER,
    Command.SHEET,
    Command.UNDO,
    Command.LEAVE,
    Command.HELP,
    Command.HISTORY,
    Command.MEASURE,
    Command.PIECES,
    Command.NOTE,
)

ONLOOKING = (
    Command.AHEAD,
    Command.BACK,
    Command.LEAVE,
    Command.HELP,
    Command.PIECES,
    Command.EXPLAIN,
    Command.MEASURE,
    Command.HISTORY,
)
"""In a second window, where nothing can be kept."""


@remembered
def foot(keys: Keys, main: str, commands: tuple[Command, ...], answer_keys: tuple[str, ...]) -> tuple[Choice, ...]:
    """The main key with what it does now, "" if nothing, then the commands; without `answer_keys`.

    A command that has lost its keys to others is not named.
    """
    choices = [Choice(keys.named(Command.MAIN), main)] if main else []
    choices += [Choice(keys.named(command), COMMANDS[command].word) for command in commands if keys.of(command)]
    return tuple(choice for choice in choices if choice.key not in answer_keys)


def commands_now(view: View, looks_around: bool, looking_on: bool) -> tuple[Command, ...]:
    """What can be done besides the main key; `looks_around` at another round than the one being worked."""
    if looking_on:
        return ONLOOKING
    if looks_around:
        return LOOKING
    if view.finished:
        return FINISHED
    usual = WORKING if not view.piece_finished else MAKING_UP if view.all_made else MADE
    if view.unanswered is not None:
        return (*DIFFERING, *usual)
    return (Command.MEND, *usual) if view.doubt and not view.piece_finished else usual


def main_word(view: View, step: StepSize, looks_around: bool, looking_on: bool, coming: str) -> str:
    """What the main key does at this place, "" if nothing; `coming` is the copy to make once this one is made."""
    if looks_around:
        return "back to your place"
    if looking_on or view.finished:
        return ""
    if not view.piece_finished:
        return step.value
    return f"on to {coming}" if coming else "step done"
