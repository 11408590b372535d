"""A file that a maker asks for: written whole or not at all, and never over another unless that was asked for."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path


class Unwritable(Exception):
    """A file cannot be written; the message names it and says why and what to do."""


def write_new(text: str, target: Path, *, replace: bool = False) -> None:
    """Write `text` as UTF-8 into the file `target`, or leave the folder as it was. Raises `Unwritable`.

    A file that is there already is left alone unless it is to be replaced.
    """
    from secrets import token_hex  # what writes to standard output waits neither for this nor for what copies modes

    data = text.encode("utf-8")
    refuse_present((target,), replace=replace)
    place = target.resolve() if replace else target  # of a link the file behind it is replaced
    draft = place.with_name(f".rounds-{token_hex(8)}.part")
    try:
        try:
            _write_down(data, draft)
            if replace:
                from shutil import copymode

                with suppress(FileNotFoundError):
                    copymode(place, draft)
                os.replace(draft, place)
            else:
                _name_anew(draft, place)
        finally:
            draft.unlink(missing_ok=True)
    except FileExistsError:
        raise _present(target) from None
    except OSError as trouble:
        reason = (trouble.strerror or "it cannot be written").lower()
        raise Unwritable(f"{target}: {reason}; choose another file with -o") from None


def refuse_present(targets: Sequence[Path], *, replace: bool) -> None:
    """Raise `Unwritable` for the first of the targets that is there and may not be written over.

    What is no plain file (a folder, a device) is never replaced.
    """
    for target in targets:
        if replace and target.exists() and not target.is_file():
            raise Unwritable(f"{target} is no plain file, and was left alone: choose another name")
        if not replace and os.path.lexists(target):
            raise _present(target)


def _present(target: Path) -> Unwritable:
    return Unwritable(f"{target} is there already, and was left alone: choose another name, or say --replace")


def _write_down(data: bytes, draft: Path) -> None:
    """Write a file that is on the disk when this returns, so that no name is ever given to half of one."""
    with draft.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _name_anew(draft: Path, target: Path) -> None:
    """Give the draft its name. Raises `FileExistsError` if that is taken, also if it was taken only just now."""
    try:
        os.link(draft, target)
    except FileExistsError:
        raise
    except OSError:  # a disk without links, such as a memory card: only a file made this very moment is not seen
        if os.path.lexists(target):
            raise FileExistsError from None
        os.rename(draft, target)
