"""Whole rounds that could come next in a piece that is written as it is made.

"same again", "as round 3", "to 40 stitches, evenly", "around": each is written out as a round of the notation, with
the changes spread evenly (see `resize_writer`). For the open end of a piece that is only counted there are also words
for many rounds: "24 stitches in 6 repeats", "every 4th round increase by 6".
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from tracker.lazy_dataclass import dataclass
from tracker.measure.resize_writer import EvenRound, write_rounds
from tracker.measure.size import Lie, measure_piece
from tracker.measure.stitch_sizes import StitchSize
from tracker.notation.glossary import abbreviation
from tracker.notation.parser.heading import heading_of
from tracker.pattern.growing import RHYTHM
from tracker.pattern.model import Piece, Round

_SAME = re.compile(r"same(?: again)?", re.IGNORECASE)
_AS = re.compile(r"(?:same )?as (?:round|rnd|row)? ?(\d{1,6})", re.IGNORECASE)
_TO = re.compile(r"to (\d{1,6})(?: (?:sts?|stitches))?(?:,? evenly)?", re.IGNORECASE)
_EACH = re.compile(
    r"(\d{1,6}) (?:sts?|stitches)(?: (?:a|each|every) (?:round|row))?(?:,? in (\d{1,5}) repeats)?", re.I
)
_EVERY = re.compile(
    r"every (?:(?P<nth>\d{1,3})(?:st|nd|rd|th)? |(?P<other>other ))?(?:round|rnd|row)[:,]? +"
    r"(?P<what>(?P<way>inc|dec)(?:rease)?(?:,?(?: by)? (?P<by>\d{1,4}))?|.+)",
    re.IGNORECASE,
)

SHOWN_OF_RHYTHM = 3
"""Rounds that a rhythm names in its note: with two it is told, the third shows that it goes on."""

MOST_CHANGES = 24
"""Changes that a rhythm is written out for; what is still in work behind them can be told again."""


def next_number(piece: Piece | None) -> int:
    return piece.rounds[-1].number + 1 if piece and piece.rounds else 1


def whole_rounds(typed: str, piece: Piece | None, terms: str = "US", at: int | None = None) -> tuple[str, ...]:
    """The rounds that a shorthand may stand for, likeliest first, each without its heading and total; whether one
    comes out over what is there is for the reader to prove.

    With nothing typed: as many more as before, a plain one around, the last round again. Empty for anything that is
    no shorthand. `at` is the round to write, from 0, where that is not the one behind the last.
    """
    typed = typed.strip()
    rounds = piece.rounds[:at] if piece else ()
    if not rounds:
        return ("6 sc in magic ring" if terms == "US" else "6 dc in magic ring",) if not typed else ()
    last = rounds[-1]
    if not typed:
        plain = f"{abbreviation(_kind(last), terms)} around"
        return tuple(dict.fromkeys((*_steadily(rounds, len(rounds) - 1, terms), plain, _body(last))))
    if _SAME.fullmatch(typed):
        return tuple(dict.fromkeys((_body(last), *_steadily(rounds, len(rounds) - 1, terms))))
    if match := _AS.fullmatch(typed):
        named = [index for index, item in enumerate(rounds) if item.number == int(match[1])]
        bodies = (_body(rounds[index]) for index in named)
        return tuple(dict.fromkeys((*bodies, *(text for index in named for text in _steadily(rounds, index, terms)))))
    if match := _TO.fullmatch(typed):
        return _changed(rounds, int(match[1]), terms)
    return ()


def _steadily(rounds: tuple[Round, ...], like: int, terms: str) -> tuple[str, ...]:
    """As many more (or fewer) stitches as round `like` had over the one before it."""
    stitches, after = rounds[-1].leaves, rounds[like].leaves
    before = rounds[like - 1].leaves if like else 0
    if before is None or after is None or stitches is None or before == after or stitches + after - before <= 0:
        return ()
    return _changed(rounds, stitches + after - before, terms)


def _changed(rounds: tuple[Round, ...], after: int, terms: str) -> tuple[str, ...]:
    last = rounds[-1]
    if not last.leaves or not after:
        return ()
    try:
        one = EvenRound(1, last.leaves, after, _kind(last), staggered=len(rounds) % 2 == 1)
        (line,) = write_rounds([one], terms=terms)
    except ValueError:
        return ()
    return (_without_total(line[heading_of(line).end :].strip()),)


def _kind(item: Round) -> str:
    kinds = dict(item.plan.tally.kinds) if item.plan else {}
    return max(kinds, key=lambda kind: kinds[kind], default="sc")


def _body(item: Round) -> str:
    text = " ".join(item.text.split())
    return _without_total(text[heading_of(text).end :].strip())


def _without_total(text: str) -> str:
    return re.sub(r"\s*[(\[]\d[\d,]*(?: sts)?[)\]]\s*$", "", text)


def written_line(number: int, typed: str, leaves: int | None, is_row: bool = False) -> str:
    """The line as it stands in the file: with its heading, and with its total if none was typed."""
    text = " ".join(typed.split())
    word = "Row" if is_row else "Rnd"
    headed = text if heading_of(text).numbers else f"{word} {number}: {text}"
    has_total = re.search(r"[(\[]\d[\d,]*[^()\[\]]*[)\]]$", headed) or re.search(r"=\s*\d+( sts)?$", headed)
    return headed if leaves is None or has_total else f"{headed} ({leaves})"


# Many rounds at once, for a piece whose end is open.


@dataclass(frozen=True, slots=True)
class Going:
    """What an open end becomes from a round on: the lines in its place, and a note on what recurs in it."""

    lines: tuple[str, ...] = ()
    rhythm: str = ""


def going_on(typed: str, piece: Piece, at: int, terms: str = "US") -> Going | None:
    """What words for many rounds stand for, from round `at` (from 0) of an open end on; None if they are no such.

    A rhythm of increases over a known number of stitches is written out; any other is a note that comes with its
    rounds.
    """
    typed, number, last = typed.strip(), piece.rounds[at].number, piece.rounds[-1].number
    if match := _EACH.fullmatch(typed):
        stitches, repeats = int(match[1]), int(match[2] or 1)
        if not stitches or not repeats or stitches % repeats:
            return None
        kind = abbreviation(_kind(piece.rounds[at - 1]) if at else "sc", terms)
        body = f"{stitches} {kind}" if repeats == 1 else f"({stitches // repeats} {kind}) x {repeats}"
        return Going((f"{_heading(number, last)}: {body} ({stitches})",))
    if (match := _EVERY.fullmatch(typed)) is None:
        return None
    every = 2 if match["other"] else int(match["nth"] or 1)
    if not every:
        return None
    before = piece.rounds[at - 1].leaves if at else None
    if match["by"] and before:
        by = int(match["by"]) * (1 if match["way"].lower() == "inc" else -1)
        try:
            even_rounds = _in_rhythm(number, last, every, before, by, _kind(piece.rounds[at - 1]))
            return Going(write_rounds(list(even_rounds), terms=terms))
        except ValueError:
            return None
    first = -(-number // every) * every
    numbers = ", ".join(str(first + step * every) for step in range(SHOWN_OF_RHYTHM))
    return Going(rhythm=f"{RHYTHM}{_nth(every)}round ({numbers} and so on): {match['what'].strip()}")


def _in_rhythm(number: int, last: int, every: int, before: int, by: int, kind: str) -> Iterator[EvenRound]:
    """Rounds from `number` on, each one whose number `every` divides with `by` stitches more than the one before."""
    changes = 0
    while number <= last and changes < MOST_CHANGES:
        grows = number % every == 0
        after = before + by if grows else before
        if after < 1 or after * 2 < before:
            return
        changes += grows
        yield EvenRound(number, before, after, kind, staggered=changes % 2 == 0)
        number, before = number + 1, after


def _heading(first: int, last: int) -> str:
    return f"Rnd {first}" if first == last else f"Rnds {first}-{last}"


def _nth(number: int) -> str:
    if number == 1:
        return ""
    ending = "th" if number % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending} "


def size_words(piece: Piece, stitch: StitchSize) -> str:
    """How the last round of a piece lies and how big the piece is by then, in words; "" where that is not known."""
    size = measure_piece(piece, stitch)
    if not size.rounds:
        return ""
    last = size.rounds[-1]
    lies = f"{last.growth.lie.value}, " if last.growth else ""
    across = last.across or last.around
    is_flat = last.growth is not None and last.growth.lie in (Lie.FLAT, Lie.RUFFLES)
    tall = "" if is_flat else f", {last.level.middle:.1f} from its start"
    return f"{lies}about {across.middle:.1f} {stitch.unit.value} across{tall}"
