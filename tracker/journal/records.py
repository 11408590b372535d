"""What the journal keeps, as values."""

from __future__ import annotations

from hashlib import blake2b
from typing import Any

from tracker.lazy_dataclass import dataclass
from tracker.session.events import Event

MOST = 2**63 - 1
"""The largest whole number that a column holds (sqlite.org/datatype3.html)."""

EARLIEST, LATEST = -60_000_000_000.0, 250_000_000_000.0
"""Seconds since the epoch that the calendar has a date for anywhere on earth: from the year 68 to the year 9892."""


def is_whole(value: object, least: int = 0) -> bool:
    """Whether a value is a whole number, `least` or more, that a column holds."""
    return type(value) is int and least <= value <= MOST


def is_moment(value: object) -> bool:
    """Whether a value is a time in seconds since the epoch that the calendar has a date for."""
    return isinstance(value, (float, int)) and type(value) is not bool and EARLIEST <= value <= LATEST


def _are_texts(*values: object) -> bool:
    return all(type(value) is str for value in values)


@dataclass(frozen=True, slots=True)
class Happened:
    """One entry: the `number`-th event of a project, when it happened (seconds since the epoch), and how many rounds
    of the whole were made after it.

    `written` is how it stands in the journal, where an older version wrote it otherwise than this one would.
    """

    number: int
    at: float
    event: Event
    rounds: int
    written: str = ""


@dataclass(frozen=True, slots=True)
class Summary:
    """How a project stands, for a list: how much is done, what is next, when it was last touched."""

    share: float
    next: str
    finished: bool
    touched_at: float

    @property
    def is_sound(self) -> bool:
        """Whether the values are of the sorts and in the ranges that can be told."""
        share = type(self.share) in (int, float) and 0 <= self.share <= 1
        return share and _are_texts(self.next) and type(self.finished) is bool and is_moment(self.touched_at)


@dataclass(frozen=True, slots=True)
class ProjectRecord:
    """A project as the journal knows it. `number` and `link` are those of its last entry (0 and "" before any)."""

    id: int
    path: str
    title: str
    digest: str
    begun_at: float
    summary: Summary
    number: int = 0
    link: str = ""

    def values(self) -> tuple[Any, ...]:
        """The columns of its row, in their order, without the seal."""
        s = self.summary
        summary = (s.share, s.next, int(s.finished), s.touched_at)
        return (self.id, self.path, self.title, self.digest, self.begun_at, *summary, self.number, self.link)

    def sealed(self) -> tuple[Any, ...]:
        """The columns of its row with the seal over them."""
        return (*self.values(), seal(*self.values()))

    @staticmethod
    def from_row(row: tuple[Any, ...]) -> ProjectRecord | None:
        """The project of a row; None if the row is not what was written."""
        *values, check = row
        if seal(*values) != check:
            return None
        project, path, title, digest, begun, share, upcoming, finished, touched, number, last = values
        summary = Summary(share, upcoming, bool(finished), touched)
        record = ProjectRecord(project, path, title, digest, begun, summary, number, last)
        return record if record.is_sound else None

    @property
    def is_sound(self) -> bool:
        """Whether the values are of the sorts and in the ranges that can be worked with."""
        texts = _are_texts(self.path, self.title, self.digest, self.link)
        numbers = is_whole(self.id) and is_whole(self.number) and is_moment(self.begun_at)
        return texts and numbers and self.summary.is_sound


@dataclass(frozen=True, slots=True)
class Saved:
    """The place after entry `number` (whose link is `link`), so that going on needs no older entries.

    It repeats which project it belongs to, so that it is of use when the project's own row cannot be read.
    """

    number: int
    link: str
    path: str
    title: str
    digest: str
    state: str

    def sealed(self, project: int) -> tuple[Any, ...]:
        """The columns of its row with the seal over them."""
        values = (project, self.number, self.link, self.path, self.title, self.digest, self.state)
        return (*values, seal(*values))

    @staticmethod
    def from_row(row: tuple[Any, ...]) -> Saved | None:
        """The saved place of a row; None if the row is not what was written."""
        *values, check = row
        saved = Saved(*values[1:])
        return saved if seal(*values) == check and saved.is_sound else None

    @property
    def is_sound(self) -> bool:
        """Whether the values are of the sorts that they should be; the state is looked at when it is needed."""
        texts = (self.link, self.path, self.title, self.digest, self.state)
        return is_whole(self.number) and _are_texts(*texts)


@dataclass(frozen=True, slots=True)
class Wording:
    """A pattern text that a project was worked from, and its outline (names and labels) as JSON."""

    digest: str
    source: str
    outline: str

    def sealed(self, project: int) -> tuple[Any, ...]:
        """The columns of its row with the seal over them."""
        values = (project, self.digest, self.source, self.outline)
        return (*values, seal(*values))

    @staticmethod
    def from_row(row: tuple[Any, ...]) -> Wording | None:
        """The wording of a row; None if the row is not what was written."""
        *values, check = row
        wording = Wording(*values[1:])
        return wording if seal(*values) == check and wording.is_sound else None

    @property
    def is_sound(self) -> bool:
        """Whether all of it is text."""
        return _are_texts(self.digest, self.source, self.outline)


@dataclass(frozen=True, slots=True)
class Kept:
    """What going on with a project needs: the last saved place that can be read, and the entries after it."""

    saved: Saved | None
    entries: tuple[Happened, ...]


# Checks on what was written, so that a flipped bit is noticed and two histories can be told apart.

# 96 bits: no two seals are alike by chance in a lifetime of taps.
_BYTES = 12


def seal(*parts: object) -> str:
    """A short check over values; text, numbers and None are told apart."""
    return _check("".join([f"{part!r}\0" for part in parts]))


def _check(text: str) -> str:
    return blake2b(text.encode("utf-8", "surrogatepass"), digest_size=_BYTES).hexdigest()


def link(before: str, number: int, at: float, body: str, rounds: int) -> str:
    """The link of an entry, made from the link of the one before it ("" for the first)."""
    return _check(f"{before!r}\0{number!r}\0{at!r}\0{body!r}\0{rounds!r}\0")
