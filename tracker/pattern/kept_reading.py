"""What was read of a pattern file, kept by its content: to take it out takes a twentieth of the time of reading.

A kept reading is named by the bytes that it was read of and by the program that read them: another pattern, another
version, a source file that was touched, and it is not found. It is a copy that anybody may delete. It is only taken
out of a folder that nobody else can write to; it is data, and nothing in it is run; one that is damaged is passed
over and written anew. Where nothing can be kept, nothing is.
"""

from __future__ import annotations

import json
import os
import stat
import sys
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import tracker
from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import clean
from tracker.pattern.model import Pattern
from tracker.pattern.pattern_file import bytes_in, text_in
from tracker.pattern.plain_values import as_rows, from_rows

MOST_KEPT = 32
"""Readings that are kept; of more, those go that were written longest ago."""

LARGEST = 1_000_000
"""Bytes of the largest reading that is kept: that of some thousand rounds."""

_OWN_NAME = compile_later(r"[0-9a-f]{64}(?:\.reading|\.\d{1,10}\.part)")

_SOURCE = compile_later(r".+\.py")

_PROGRAM = Path(tracker.__file__).parent
_READS = (".", "notation", "notation/parser", "notation/lowering", "rounds", "pattern")
"""The folders of the program on which it depends how a pattern is read."""


def load_kept(path: Path, folder: Path, *, keeps: bool = True) -> Pattern:
    """The pattern in a file, as it is kept in `folder`, or else read and, unless `keeps` is false, kept there.

    Raises `UnreadableFile` where there is no pattern in the file.
    """
    data = bytes_in(path)
    try:
        place = folder / f"{_content(data, path)}.reading"
        pattern = _taken(place, data)
    except OSError:
        place, pattern = None, None
    if pattern is not None:
        return pattern
    from tracker.pattern.loader import loads  # what is kept needs nothing of all that reads

    pattern = loads(text_in(data), path.name)
    if keeps and place is not None:
        with suppress(OSError, ValueError, TypeError):
            _keep(place, pattern)
    return pattern


def _content(data: bytes, path: Path) -> str:
    """A name for these bytes, read by this program. Raises `OSError` where its own files cannot be looked at."""
    digest = sha256(sys.version.encode())
    for folder in _READS:
        with os.scandir(_PROGRAM / folder) as entries:
            for entry in sorted(entries, key=lambda entry: entry.name):
                if _SOURCE.fullmatch(entry.name):
                    status = entry.stat()
                    digest.update(f"{folder}/{entry.name} {status.st_size} {status.st_mtime_ns}\n".encode())
    digest.update(os.fsencode(path.name) + b"\n" + data)
    return digest.hexdigest()


def _taken(place: Path, data: bytes) -> Pattern | None:
    """The reading that is kept at a place; None if there is none, or none that is as it was written."""
    if not _is_private(place.parent):
        return None
    try:
        with place.open("rb") as file:
            seal, body = file.readline(LARGEST).strip(), file.read(LARGEST + 1)
    except OSError:
        return None
    if len(body) > LARGEST or sha256(body).hexdigest().encode() != seal:
        return None
    try:
        return _with_source(from_rows(json.loads(body)), clean(text_in(data)))
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return None


def _with_source(pattern: Pattern, source: str) -> Pattern:
    return replace(pattern, source=source)


def _is_private(folder: Path) -> bool:
    """Whether a folder is there and only its owner, who is this maker, can get at what is in it."""
    try:
        status = os.lstat(folder)
    except OSError:
        return False
    if not stat.S_ISDIR(status.st_mode):
        return False
    # Windows has neither: there it lies in the maker's own folder.
    return not hasattr(os, "geteuid") or (status.st_uid == os.geteuid() and not status.st_mode & 0o077)


def _keep(place: Path, pattern: Pattern) -> None:
    """Keep a reading: under another name first, as another program may do the same, or the disk may be full."""
    body = json.dumps(as_rows(_with_source(pattern, "")), separators=(",", ":"), allow_nan=False).encode()
    if len(body) > LARGEST:
        return
    place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    if not _is_private(place.parent):
        return
    draft = place.with_suffix(f".{os.getpid()}.part")
    try:
        with open(draft, "xb", opener=lambda name, flags: os.open(name, flags, 0o600)) as file:
            file.write(sha256(body).hexdigest().encode() + b"\n" + body)
        os.replace(draft, place)
    finally:
        draft.unlink(missing_ok=True)
        _clear(place.parent)


def _clear(folder: Path) -> None:
    """Delete the oldest readings beyond those that are kept, and nothing that is not called like one."""
    with os.scandir(folder) as entries:
        readings = [(entry.stat().st_mtime_ns, entry.path) for entry in entries if _OWN_NAME.fullmatch(entry.name)]
    for _, name in sorted(readings)[:-MOST_KEPT]:
        Path(name).unlink(missing_ok=True)
