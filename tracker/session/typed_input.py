"""What a maker types becomes an event: a count, a place to frog to, a piece, when to be asked.

Raises `Refused` with what was expected. A screen and a line of plain text ask the same functions.
"""

from __future__ import annotations

import re

from tracker.lazy_pattern import compile_later
from tracker.pattern.model import Pattern
from tracker.session.events import AskChosen, Frog, PieceChosen
from tracker.session.state import Refused, State, copy_name, rounds_of
from tracker.session.worked_rounds import round_at
from tracker.suggestion import suggestion

_FILLING = compile_later(r"\b(?:to|the|at|rnds?|rounds?|rows?|r|stitch(?:es)?|sts?|and)\b|[,.:#]", re.IGNORECASE)
_NUMBER = compile_later(r"\d{1,9}")
"""A number that somebody may mean; Python refuses to read one of thousands of digits."""
_MOST_SHOWN = 60
"""Characters of a name that nobody knows that are told."""


def number_in(text: str) -> int:
    """The one whole number of a text: "24", "24 sts", "1,024", "17 so far"."""
    digits = text.replace(",", "").replace("_", "")
    match = re.fullmatch(
        r"\s*(\d{1,12})\s*(?:sts?|stitch(?:es)?|sc)?\s*(?:so\s+far)?\s*\.?\s*", digits, re.IGNORECASE
    )
    if match is None:
        raise Refused("type how many stitches you counted, as a number: 24")
    return int(match[1])


_OLDER = compile_later(r"(.+?)\s+in\s+(?:rnds?|rounds?|rows?|r)?\s*(\d{1,9})\s*", re.IGNORECASE)


def counts_in(text: str) -> tuple[tuple[int, ...], int | None]:
    """The numbers of a count, and the number of the round if one is named: "24", "24 in rnd 4", or one number for
    each part, "6 6 5 6"."""
    match = _OLDER.fullmatch(text.strip())
    numbers, number = (match[1], int(match[2])) if match else (text, None)
    parts = numbers.replace("+", " ").split()
    if parts and all(re.fullmatch(r"\d{1,12}", part) for part in parts):
        return tuple(map(int, parts)), number
    return (number_in(numbers),), number


def frog_in(pattern: Pattern, state: State, text: str) -> Frog:
    """A place to rip back to: the number of a round, and how many of its stitches stay ("7", "rnd 7 stitch 12")."""
    numbers = _FILLING.sub(" ", text).split()
    if not 1 <= len(numbers) <= 2 or not all(re.fullmatch(r"\d{1,12}", part) for part in numbers):
        raise Refused("type the round to go back to, and the stitches of it that stay: 7 or 7 12")
    number, stitch = int(numbers[0]), int(numbers[1]) if len(numbers) == 2 else 0
    return Frog(round_numbered(pattern, state, number), stitch)


def round_numbered(pattern: Pattern, state: State, number: int) -> int:
    """Which round of the copy in hand, from 0, has this number in its heading."""
    copy = state.work.in_hand
    numbered = [
        round_at(pattern, state.work, copy.piece, copy.number, index).number
        for index in range(rounds_of(pattern, copy))
    ]
    if number not in numbered:
        raise Refused(f"{copy_name(pattern, copy)} has no round {number}{_numbers_to_choose(numbered)}")
    return numbered.index(number)


def _numbers_to_choose(numbered: list[int]) -> str:
    return f": it has {min(numbered)} to {max(numbered)}" if numbered else ""


def piece_in(pattern: Pattern, text: str) -> PieceChosen:
    """A piece and a copy of it: "Stem", "Spot 2", "3" (the third piece)."""
    typed = text.strip()
    index = _piece_called(pattern, typed)
    if index is not None:
        return PieceChosen(index, 1)
    name, _, last = typed.rpartition(" ")
    if name and _NUMBER.fullmatch(last):
        index = _piece_called(pattern, name.removesuffix(" copy").strip())
        if index is not None:
            return PieceChosen(index, int(last))
    if not typed:
        raise Refused("type the name of a piece")
    raise Refused(f"there is no piece called {typed[:_MOST_SHOWN]}{_nearest(pattern, typed[:_MOST_SHOWN])}")


def _piece_called(pattern: Pattern, name: str) -> int | None:
    names = [piece.name.casefold() for piece in pattern.pieces]
    if name.casefold() in names:
        return names.index(name.casefold())
    if _NUMBER.fullmatch(name) and 1 <= int(name) <= len(names):
        return int(name) - 1
    begin = [index for index, piece_name in enumerate(names) if name and piece_name.startswith(name.casefold())]
    return begin[0] if len(begin) == 1 else None


def _nearest(pattern: Pattern, typed: str) -> str:
    names = [piece.name for piece in pattern.pieces]
    near = suggestion(typed.rstrip(" 0123456789"), names)
    return f": do you mean {near}?" if near else f": there are {', '.join(names)}"


def ask_in(text: str) -> AskChosen:
    """When to ask for a count: "each", "change", "never", "every 3"."""
    words = text.casefold().split()
    match words:
        case ["each"] | ["always"] | ["every", "round"]:
            return AskChosen("each")
        case ["change"] | ["changes"]:
            return AskChosen("change")
        case ["never"]:
            return AskChosen("never")
        # A round beyond the ten thousandth is a slip of the keyboard.
        case ["every", count] if _NUMBER.fullmatch(count) and 1 <= int(count) <= 10_000:
            return AskChosen("every", int(count))
    raise Refused("say when to ask for a count: each, change, every 3, or never")
