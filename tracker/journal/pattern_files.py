"""Pattern files that the program keeps for the maker: pasted pages and patterns of their own, beside the journal.

A file is written whole or not at all, and is on the disk when the function returns.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from tracker.journal.errors import DiskRefuses
from tracker.journal.paths import free_name
from tracker.journal.records import seal

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
    try:
        place.mkdir(parents=True, exist_ok=True)
        return _put_anew(place, _stem(title), ".toml", text)
    except OSError as wrong:
        raise _refusal(wrong) from wrong


def keep_sheet(places: Iterable[Path], title: str, text: str) -> Path:
    """Write a sheet as a new file in the first of the folders that takes it; its path. Raises `DiskRefuses`."""
    refusal = DiskRefuses("there is no folder for the sheet")
    for place in places:
        try:
            return _put_anew(place, f"{_stem(title)}-as-made", ".html", text)
        except OSError as wrong:
            refusal = DiskRefuses(f"the sheet cannot be written: {(wrong.strerror or 'the disk refuses').lower()}")
    raise refusal


def _stem(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:LONGEST_NAME] or "pattern"


def _put_anew(place: Path, stem: str, ending: str, text: str) -> Path:
    for number in range(1, MOST_ALIKE):
        path = place / (f"{stem}{ending}" if number == 1 else f"{stem}-{number}{ending}")
        if not path.exists():
            _put(path, text)
            return path
    raise DiskRefuses(f"there are too many files called {stem}")


def keep_over(path: Path, text: str) -> None:
    """Put another text in the place of a pattern file. Raises `DiskRefuses`, with the file as it was."""
    try:
        _put(path, text)
    except OSError as wrong:
        raise _refusal(wrong) from wrong


def _put(path: Path, text: str) -> None:
    import secrets  # a start writes no pattern

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


# Two small files that are damaged like any other: each holds the seal of what is in it, and one that is not as it was
# written is set aside and told.


def _sealed(content: Mapping[str, Any]) -> str:
    plain = json.dumps(content)
    return f'{{"seal": "{seal(plain)}", "content":\n{plain}}}'


def _kept(path: Path) -> tuple[dict[str, Any], str]:
    """What a file holds, and what is to be told of one that is damaged. Earlier programs wrote it without a seal."""
    try:
        plain = json.loads(path.read_bytes())
    except FileNotFoundError:
        return {}, ""
    except OSError as wrong:
        return {}, f"{path.name} cannot be read ({(wrong.strerror or 'the disk refuses').lower()})"
    except (ValueError, RecursionError):
        return {}, _put_aside(path)
    if isinstance(plain, dict) and not plain.keys() & {"seal", "content"}:
        return plain, ""
    content = plain.get("content") if isinstance(plain, dict) and len(plain) == 2 else None
    if not isinstance(content, dict) or seal(json.dumps(content)) != plain.get("seal"):
        return {}, _put_aside(path)
    return content, ""


def _put_aside(path: Path) -> str:
    """Keep a damaged file under another name; what is told of it."""
    aside = free_name(path, "damaged")
    try:
        os.rename(path, aside)
    except OSError as wrong:
        return f"{path.name} is damaged and cannot be put aside ({(wrong.strerror or 'the disk refuses').lower()})"
    return f"{path.name} was damaged; what is left of it is kept as {aside.name}"


# What the maker put away from the first screen, or lets rest. Nothing of the work is in here.

SHELF = "shelf.json"
STANDINGS = ("resting", "off")


def shelf(folder: Path) -> tuple[dict[str, str], str]:
    """How projects stand, by path and title: "resting" or "off"; those that are simply under way are not in it.

    Also what is to be told: that the file was damaged, and how it is called now.
    """
    content, notice = _kept(folder / SHELF)
    if any(value not in STANDINGS for value in content.values()):
        return {}, _put_aside(folder / SHELF)
    return content, notice


def stand(folder: Path, key: str, standing: str) -> None:
    """Keep how a project stands; "" for under way. Raises `DiskRefuses`."""
    standings, notice = shelf(folder)
    if notice and (folder / SHELF).exists():
        raise DiskRefuses(notice)
    new_standings = {**standings, key: standing}
    keep_over(folder / SHELF, _sealed({name: value for name, value in new_standings.items() if value}))


# A page that is looked through and not kept yet.

PAGE = "page.json"


def page_kept(folder: Path) -> tuple[dict[str, Any], str]:
    """The page that the maker was looking through when the program ended, as it was given to `keep_page`.

    Empty if there was none; then there may be something to be told.
    """
    return _kept(folder / PAGE)


def put_page_aside(folder: Path) -> str:
    """Keep a page that cannot be gone on with under another name; what is told of it."""
    return _put_aside(folder / PAGE)


def keep_page(folder: Path, page: dict[str, Any] | None) -> None:
    """Keep a page with all that is decided of it, or forget it where there is none. Raises `DiskRefuses`."""
    try:
        if page is None:
            (folder / PAGE).unlink(missing_ok=True)
            return
        folder.mkdir(parents=True, exist_ok=True)
        _put(folder / PAGE, _sealed(page))
    except OSError as wrong:
        raise _refusal(wrong) from wrong
