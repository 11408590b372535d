"""Pattern files that the program keeps for the maker: pasted pages and patterns of their own, beside the journal.

A file is written whole or not at all, and is on the disk when the function returns.
"""

from __future__ import annotations

import json
import os
import re
import secrets
from pathlib import Path
from typing import Any

from tracker.journal.errors import DiskRefuses

FOLDER = "patterns"

LONGEST_NAME = 60
"""Characters of a file's name that are taken from a title."""

MOST_ALIKE = 10_000
"""Files of one title; whoever has more is no person."""


def own_folder(folder: Path) -> Path:
    """Where a data folder keeps the maker's own pattern files."""
    return folder / FOLDER


def keep_new(folder: Path, title: str, text: str) -> Path:
    """Keep a pattern text as a new file of the data folder; its path. Raises `DiskRefuses`."""
    place = own_folder(folder)
    stem = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:LONGEST_NAME] or "pattern"
    try:
        place.mkdir(parents=True, exist_ok=True)
        for number in range(1, MOST_ALIKE):
            path = place / (f"{stem}.toml" if number == 1 else f"{stem}-{number}.toml")
            if not path.exists():
                _put(path, text)
                return path
    except OSError as wrong:
        raise _refusal(wrong) from wrong
    raise DiskRefuses(f"there are too many patterns called {stem}")


def keep_over(path: Path, text: str) -> None:
    """Put another text in the place of a pattern file. Raises `DiskRefuses`, with the file as it was."""
    try:
        _put(path, text)
    except OSError as wrong:
        raise _refusal(wrong) from wrong


def _put(path: Path, text: str) -> None:
    draft = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        with draft.open("xb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        os.replace(draft, path)
    finally:
        draft.unlink(missing_ok=True)


def _refusal(wrong: OSError) -> DiskRefuses:
    return DiskRefuses(f"the pattern cannot be kept: {(wrong.strerror or 'the disk refuses').lower()}")


# What the maker put away from the first screen, or lets rest. Nothing of the work is in here.

SHELF = "shelf.json"
STANDINGS = ("resting", "off")


def shelf(folder: Path) -> dict[str, str]:
    """How projects stand, by path and title: "resting" or "off"; those that are simply under way are not in it."""
    try:
        plain = json.loads((folder / SHELF).read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return {str(key): value for key, value in plain.items() if value in STANDINGS} if isinstance(plain, dict) else {}


def stand(folder: Path, key: str, standing: str) -> None:
    """Keep how a project stands; "" for under way. Raises `DiskRefuses`."""
    kept = {**shelf(folder), key: standing}
    text = json.dumps({name: value for name, value in kept.items() if value}, indent=1, sort_keys=True)
    keep_over(folder / SHELF, text)


# A page that is looked through and not kept yet.

PAGE = "page.json"


def page_kept(folder: Path) -> dict[str, Any] | None:
    """The page that the maker was looking through when the program ended, as it was given to `keep_page`."""
    try:
        plain = json.loads((folder / PAGE).read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    return plain if isinstance(plain, dict) else None


def keep_page(folder: Path, page: dict[str, Any] | None) -> None:
    """Keep a page with all that is decided of it, or forget it where there is none. Raises `DiskRefuses`."""
    try:
        if page is None:
            (folder / PAGE).unlink(missing_ok=True)
            return
        folder.mkdir(parents=True, exist_ok=True)
        _put(folder / PAGE, json.dumps(page))
    except OSError as wrong:
        raise _refusal(wrong) from wrong
