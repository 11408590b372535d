"""Notice that the terminal is gone: its window was closed, or the line to it broke.

The system tells it by a signal, but not to a program that is no child of that terminal any more. Without this such a
program would go on reading the end of its input for ever.
"""

from __future__ import annotations

import os
import select
from collections.abc import Callable
from threading import Thread

STANDARD = (0, 1, 2)
"""Input, output, errors."""


def when_gone(then: Callable[[], None]) -> None:
    """Call `then`, once and from another thread, when the terminal is gone. What is written to it then is dropped."""
    terminal = [number for number in STANDARD if _is_terminal(number)]
    if terminal and hasattr(select, "poll"):
        Thread(target=_wait, args=(terminal, then), name="hanging-up", daemon=True).start()


def _is_terminal(number: int) -> bool:
    try:
        return os.isatty(number)
    except OSError:
        return False


def _wait(terminal: list[int], then: Callable[[], None]) -> None:
    waiting = select.poll()
    waiting.register(terminal[0], 0)  # that it is gone is told without being asked for
    while not waiting.poll():
        pass
    nowhere = os.open(os.devnull, os.O_RDWR)
    for number in terminal:
        os.dup2(nowhere, number)
    os.close(nowhere)
    then()
