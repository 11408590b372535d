"""A pattern file to a `Pattern`: the only place below making where text is cleaned.

Everything that is wrong is told in one go, each with its place in the file and the nearest known word.
"""

from __future__ import annotations

import gc
import re
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tracker.diagnostics import Problem, Severity, Span, error
from tracker.lazy_dataclass import replace
from tracker.normalize import clean, fold
from tracker.notation.context import Context, OwnWord
from tracker.notation.glossary import abbreviation, stitch_words
from tracker.notation.lexer import scan
from tracker.notation.own_words import MOST_WORDS, own_word, with_round_words
from tracker.notation.token_kinds import T
from tracker.notation.vocabulary import phrase_words
from tracker.notation.yarn_plan import YarnPlan
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.chain_notes import chain_counts, chain_counts_as_said_once, chains_by_length
from tracker.pattern.checker import check_rounds
from tracker.pattern.group_definitions import with_definitions
from tracker.pattern.model import (
    Entry,
    Gauge,
    MakingUp,
    Pattern,
    Piece,
    PieceBelow,
    Seat,
    Side,
    Stands,
    Start,
    Yarn,
)
from tracker.pattern.pattern_file import MAX_FILE, UnreadableFile, bytes_in, of_whole, text_in
from tracker.pattern.round_below import piece_below
from tracker.pattern.round_splitter import cut
from tracker.pattern.round_yarns import yarn_key
from tracker.pattern.toml_reader import Places, Table

MOST_PARTS = 8
"""Parts of a dotted key; ours have three, and each part costs the TOML reader a table inside a table."""

# A large blanket has some hundred blocks.
MAX_PIECES = 500
# Of one piece; more is a slip of the keyboard.
MAX_COPIES = 10_000

# A garment comes in ten sizes.
MAX_SIZES = 20

_TOP = (
    *("title", "terms", "size", "sizes", "stage", "hook", "notions", "notes", "for"),
    *("words", "gauge", "yarn", "piece", "making-up"),
)
_GAUGE = ("stitch", "stitches", "rounds", "over")
_YARN = ("name", "colour", "weight", "ball_grams", "ball_metres")
_PIECE = ("name", "make", "start", "yarn", "rounds", "notes", "stands", "on", "at")
_STEP = ("step",)


def load(path: Path) -> Pattern:
    """Read a pattern file. Raises `UnreadableFile` if it cannot be read as a pattern at all."""
    return loads(text_in(bytes_in(path)), path.name)


def loads(text: str, name: str = "") -> Pattern:
    """Read pattern text. `name` stands in for a missing title."""
    if len(text) > MAX_FILE:
        raise UnreadableFile(
            (of_whole("too-long", f"the text has more than {MAX_FILE:,} characters", "is this a pattern?"),)
        )
    source = clean(text)
    long_key = _LONG_KEY.search(source)
    if long_key:
        line = source.count("\n", 0, long_key.start())
        problem = error(
            "too-deep", f"a key of more than {MOST_PARTS} parts", Span(line, 0, 1), "keys are single words"
        )
        raise UnreadableFile((problem,), source)
    try:
        data = tomllib.loads(source)
    except tomllib.TOMLDecodeError as wrong:
        raise UnreadableFile((_toml_problem(str(wrong), source),), source) from None
    except ValueError as wrong:  # Python does not read a number of thousands of digits
        problem = of_whole(
            "too-many", "there is a number of thousands of digits", "write a number that can be counted"
        )
        raise UnreadableFile((problem,), source) from wrong
    except RecursionError:
        raise UnreadableFile(
            (of_whole("too-deep", "lists stand too deep inside each other", "flatten them"),), source
        ) from None
    with _unwatched():
        return _pattern(data, source, name)


@contextmanager
def _unwatched() -> Iterator[None]:
    """Without Python's search for values that hold each other in a circle: what is read of a pattern is kept and does
    nothing of the sort, and to go through all of it again and again would take a third of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


_PART = r"""(?:"[^"\n]*+"|'[^'\n]*+'|[\w-]++)"""
_LONG_KEY = re.compile(
    rf"(?m)(?:^|[{{,])[ \t]*+\[{{0,2}}+[ \t]*+(?:{_PART}[ \t]*+\.[ \t]*+){{{MOST_PARTS},}}+{_PART}[ \t]*+[=\]]"
)


def _toml_problem(message: str, source: str) -> Problem:
    """The TOML reader's complaint in plain words, at its place."""
    match = re.search(r"\(at line (\d+), column (\d+)\)", message)
    lines = source.split("\n")
    line = int(match[1]) - 1 if match else max(len(lines) - 1, 0)
    column = int(match[2]) - 1 if match else 0
    complaint = re.sub(r"\s*\(at .*?\)$", "", message).strip()
    plain = complaint[:1].lower() + complaint[1:]
    help = 'text stands in "quotes", rounds in """three quotes"""'
    return error("not-toml", f"not a pattern file: {plain}", Span(line, column, column + 1), help)


def _pattern(data: Mapping[str, Any], source: str, name: str) -> Pattern:
    places = Places(source)
    top = Table(data, places, "the pattern", 0)
    top.only(_TOP)
    terms = top.choice("terms", ("US", "UK"), "US")
    yarns = _yarns(top)
    notes = top.texts("notes")
    main = _main_stitch(top, terms)
    size = top.whole("size", 1, MAX_SIZES) or 1
    sizes = top.whole("sizes", 1, MAX_SIZES) or 0
    context = replace(_context(terms, yarns, notes), size=size - 1, sizes=sizes, words=_own_words(top, terms))
    pieces = _pieces(top, context, yarns, main, _yarn_plans(notes, context))
    steps = tuple(MakingUp(step.text("step")) for step in top.tables("making-up", _STEP))
    if not pieces:
        top.problem("no-pieces", "no piece to make", "add [[piece]] with a name and rounds")
    return Pattern(
        title=top.text("title") or clean(name).replace("\n", " ").removesuffix(".toml") or "Untitled",
        pieces=pieces,
        terms=terms,
        hook=top.text("hook"),
        notions=top.texts("notions"),
        notes=notes,
        gauge=_gauge(top),
        yarns=yarns,
        making_up=steps,
        intended_for=top.text("for"),
        is_draft=top.choice("stage", ("draft", "done"), "done") == "draft",
        problems=tuple(top.problems),
        source=source,
    )


def _main_stitch(top: Table, terms: str) -> str:
    gauge = top.value("gauge")
    stitch_name = gauge.get("stitch") if isinstance(gauge, Mapping) else None
    return stitch_words(terms).get(str(stitch_name).lower(), "sc")


def _context(terms: str, yarns: tuple[Yarn, ...], notes: tuple[str, ...]) -> Context:
    """What the pattern's notes say about its words: definitions, and whether turning chains count."""
    keys = {yarn.key.lower() for yarn in yarns}
    names = {yarn.name.lower() for yarn in yarns if _is_name(yarn.name, terms)}
    colours = frozenset(keys | names)
    context = Context(terms, chain_counts(notes), colours=colours, chains_by_length=chains_by_length(notes))
    return with_definitions(context, notes)


def _is_name(name: str, terms: str) -> bool:
    """Whether no word of a yarn's name means anything else in a round."""
    return {token.kind for token in scan(fold(name), terms)} <= {T.WORD, T.COLOURED}


def _own_words(top: Table, terms: str) -> tuple[OwnWord, ...]:
    """The words that the pattern explains: by known ones, or by the places that a stitch takes and what it leaves."""
    words: list[OwnWord] = []
    for name, text, line in top.named_texts("words"):
        phrase = " ".join(phrase_words(fold(name)))
        word = own_word(phrase, text, terms)
        if not phrase or len(phrase.split()) > MOST_WORDS:
            top.problem("bad-word", f"'{name}' is no word to explain", f"up to {MOST_WORDS} words of letters", line)
        elif word is not None:
            words.append(word)
        else:
            help = 'write a known word such as "dc", or "takes 1, leaves 1"'
            top.problem("bad-word", f"what '{name}' stands for is not known: '{text}'", help, line)
    return tuple(words)


def _gauge(top: Table) -> Gauge | None:
    table = top.table("gauge", _GAUGE)
    if table is None:
        return None
    stitches, rounds = table.number("stitches"), table.number("rounds")
    if stitches is None or rounds is None:
        table.problem(
            "gauge", "a gauge needs stitches and rounds", "for example: stitches = 22, rounds = 24", table.line
        )
        return None
    return Gauge(table.text("stitch") or "sc", stitches, rounds, table.centimetres("over", 10.0))


def _yarns(top: Table) -> tuple[Yarn, ...]:
    yarns: list[Yarn] = []
    for key, table in top.named_tables("yarn", _YARN):
        weight = table.whole("weight", 0, 7)
        yarns.append(
            Yarn(
                key=key,
                name=table.text("name") or key,
                colour=table.hex_colour("colour"),
                weight=weight,
                ball_grams=table.number("ball_grams"),
                ball_metres=table.number("ball_metres"),
            )
        )
    return tuple(yarns)


def _yarn_plans(notes: tuple[str, ...], context: Context) -> tuple[YarnPlan, ...]:
    """What sentences of the notes say of the yarns of rounds in every piece."""
    sentences = (part for note in notes for part in re.split(r"(?<=[.;])\s+|\n", note))
    plans = (yarn_plan(sentence, context) for sentence in sentences)
    return tuple(plan for plan in plans if plan is not None and (plan.is_whole or plan.each or plan.usual))


def _pieces(
    top: Table, context: Context, yarns: tuple[Yarn, ...], main: str, of_yarns: tuple[YarnPlan, ...]
) -> tuple[Piece, ...]:
    tables = top.tables("piece", _PIECE)
    if len(tables) > MAX_PIECES:
        top.problem("too-many", f"more than {MAX_PIECES} pieces", "make fewer pieces with make = n")
    piece_tables = tables[:MAX_PIECES]
    pieces: list[Piece] = []
    for number, table in enumerate(piece_tables, 1):
        below = piece_below(pieces[-1]) if pieces else None
        yarn_sentences = tuple(plan.words for plan in of_yarns if plan.usual or len(piece_tables) == 1)
        pieces.append(_piece(table, number, context, yarns, main, below, yarn_sentences))
    names = {piece.name.casefold() for piece in pieces}
    for table, piece in zip(piece_tables, pieces, strict=True):
        on = piece.seat.on if piece.seat else ""
        if on and (on.casefold() not in names or on.casefold() == piece.name.casefold()):
            table.problem("bad-place", f"there is no piece '{on}' to sew it on", "name another piece", table.line)
    return tuple(pieces)


def _piece(
    table: Table,
    number: int,
    context: Context,
    yarns: tuple[Yarn, ...],
    main: str,
    below: PieceBelow | None,
    yarn_sentences: tuple[str, ...],
) -> Piece:
    name = table.text("name") or f"Piece {number}"
    text = table.text("rounds")
    if not text.strip():
        table.problem("no-rounds", f"'{name}' has no rounds", 'add rounds = """..."""', table.line)
    start = Start(table.choice("start", tuple(s.value for s in Start), "spiral"))
    notes = table.texts("notes")
    counts = _own_or_general(
        _own_or_general(chain_counts(notes), chain_counts_as_said_once(text)), context.chain_counts
    )
    lengths = (*chains_by_length(notes), *context.chains_by_length)
    read = with_round_words(text, context.words, context.terms)
    cut_up = cut(read, replace(context, chain_counts=counts, chains_by_length=lengths))
    at = table.text_place("rounds")
    yarn = table.text("yarn")
    if yarn and yarns and yarn_key(yarn, yarns) not in {each.key for each in yarns}:
        help = f'add [yarn."{yarn}"], or name one of: {", ".join(each.key for each in yarns)}'
        table.problem("new-colour", f"colour '{yarn}' is not among the yarns", help, table.line)
    entries = _begun_with(yarn, cut_up.entries, yarn_sentences)
    rounds, lines = check_rounds(entries, cut_up.context, yarns, main, at, below)
    if text.strip() and not rounds:
        message = f"'{name}' has no round that can be told from a remark"
        help = f"begin each round with its number: Rnd 1: 6 {abbreviation('sc', context.terms)} in magic ring"
        table.problem("no-rounds", message, help, at[0])
    return Piece(
        name=name,
        rounds=tuple(rounds),
        make=table.whole("make", 1, MAX_COPIES) or 1,
        start=start,
        notes=(*notes, *cut_up.remarks),
        lines=tuple(lines),
        context=cut_up.context,
        entries=entries,
        main=main,
        at=at,
        below=below,
        stands=_stands(table),
        yarn=yarn,
        seat=_seat(table),
        closing=len(cut_up.remarks) if entries else 0,
    )


def _begun_with(yarn: str, entries: tuple[Entry, ...], yarn_sentences: tuple[str, ...]) -> tuple[Entry, ...]:
    """The written rounds, the first in the yarn that the piece begins with unless a line over it names one, and with
    the `yarn_sentences` that hold for all pieces."""
    if not entries or not (yarn or yarn_sentences):
        return entries
    first = entries[0]
    return replace(first, colour=first.colour or yarn, remarks=(*yarn_sentences, *first.remarks)), *entries[1:]


def _stands(table: Table) -> Stands | None:
    stands = table.choice("stands", tuple(each.value for each in Stands), "")
    return Stands(stands) if stands else None


_AT = re.compile(
    rf"(?:(?:rnds?|rounds?|rows?|r)?\.? ?(\d{{1,6}})(?: ?(?:-|to) ?(\d{{1,6}}))?)?"
    rf"(?:,? ?({'|'.join(side.value for side in Side)}))?",
    re.IGNORECASE,
)
"""Where a piece is sewn: "Rnds 3-9, all round", "Rnd 7, sides", "front"."""


def _seat(table: Table) -> Seat | None:
    """Where the piece is sewn on another; None where the file does not say."""
    on, words = table.text("on"), " ".join(table.text("at").split())
    read = _AT.fullmatch(words)
    if read is None or (words and not on):
        help = 'write on = "Body" and at = "Rnds 3-9, all round", or front, back, sides'
        table.problem("bad-place", f"where it is sewn on is not clear: '{words}'", help, table.line)
        return None
    if not on:
        return None
    numbers = sorted(int(number) for number in (read[1], read[2]) if number)
    return Seat(on, (numbers[0], numbers[-1]) if numbers else None, Side(read[3].lower()) if read[3] else None)


def _own_or_general(of_piece: bool | None, general: bool | None) -> bool | None:
    return general if of_piece is None else of_piece


def all_problems(pattern: Pattern) -> list[Problem]:
    """Every problem of a pattern with its place in the file, in the order of the file; notes are left out."""
    problems = [problem for problem in pattern.problems if problem.severity is not Severity.NOTE]
    keys: set[tuple[int, int, str]] = set()
    for piece in pattern.pieces:
        for round_ in piece.rounds:
            for problem in round_.problems:
                if problem.severity is Severity.NOTE:
                    continue
                placed = problem.moved(round_.line, round_.column if problem.span.line == 0 else 0)
                key = (placed.span.line, placed.span.start, placed.message)
                if key not in keys:
                    keys.add(key)
                    problems.append(placed)
    return sorted(problems, key=lambda problem: problem.span)
