"""The rounds of a piece gathered into lines: equal ones together, each line with all the ways to write it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import groupby

from tracker.diagnostics import Severity, Span
from tracker.lazy_dataclass import dataclass, field, replace
from tracker.normalize import fold
from tracker.notation.ast import Colour, Line, Stated, Technique
from tracker.notation.bunches import PICOT
from tracker.notation.glossary import abbreviation
from tracker.notation.reader import read_line
from tracker.pattern.model import Pattern, Piece, Round
from tracker.phrasing.terms import prose_in_terms, round_in_terms
from tracker.rounds.formatter import notate
from tracker.rounds.plan import Plan


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """One line of the sheet: a round, or several that are worked alike.

    `colour` is the yarn key that stands in the heading, "" where the yarn goes on. `before` are the pattern's own
    remarks over it. `reads_back` says that our reader reads the line to the very rounds that it was written from.
    """

    rounds: tuple[Round, ...]
    own: Own
    words: Words
    colour: str = ""
    before: tuple[str, ...] = ()
    reads_back: bool = True
    original_words: str = ""
    """The pattern's own words, where the line is in other ones."""

    @property
    def label(self) -> str:
        """ "Rnd 5", "Rnds 5-17"."""
        first, last = self.rounds[0], self.rounds[-1]
        word, _, number = first.label.partition(" ")
        return first.label if first is last else f"{word}s {number}-{last.number}"

    @property
    def heading(self) -> str:
        return f"{self.label} ({self.colour}):" if self.colour else f"{self.label}:"

    @property
    def text(self) -> str:
        """The whole line, as a reader takes it."""
        return " ".join(part for part in (self.heading, self.words.body, self.words.total) if part)


@dataclass(slots=True)
class LineDraft:
    """A line on its way: the wordings that it can have, and which of them is tried."""

    rounds: list[Round]
    own: Own
    ways: tuple[Words, ...]
    colour: str
    before: tuple[str, ...]
    way: int = 0
    failed: bool = False

    def candidate(self) -> WrittenLine:
        """The line with the words that are tried now."""
        return WrittenLine(tuple(self.rounds), self.own, self.ways[self.way], self.colour)

    def finished(self) -> WrittenLine:
        first, words = self.ways[0], self.ways[0 if self.failed else self.way]
        otherwise = first.body if words.body != first.body else ""
        rounds = tuple(self.rounds)
        return WrittenLine(rounds, self.own, words, self.colour, self.before, not self.failed, otherwise)


def drafts_of(pattern: Pattern, piece: Piece, rounds: Sequence[Round], terms: str) -> list[LineDraft]:
    """The lines for these rounds, to be written in "US" or "UK" terms."""
    gathering = _Gathering(pattern, piece, terms, _remarks(piece))
    for round_ in rounds:
        gathering.add(round_)
    return gathering.drafts


Same = tuple[str, int, Stated | None, str]
"""What two rounds have in common that are written in the same ways: text, plan, stated total, verdict."""


@dataclass(slots=True)
class _Gathering:
    """Goes through the rounds; knows the yarn in hand, and what was found out about equal rounds before."""

    pattern: Pattern
    piece: Piece
    terms: str
    remarks: dict[tuple[int, int], tuple[str, ...]]
    drafts: list[LineDraft] = field(default_factory=list)
    in_hand: str = ""
    place: tuple[int, int] | None = None
    words_by_round: dict[Same, tuple[Own, tuple[Words, ...]]] = field(default_factory=dict)

    def add(self, round_: Round) -> None:
        own, ways = self._words(round_)
        remarks = self._remarks_before(round_)
        if self.drafts and not remarks and self._goes_on(self.drafts[-1], round_, own, ways):
            self.drafts[-1].rounds.append(round_)
        else:
            colour = round_.colour if own.names_colour or round_.colour != self.in_hand else ""
            self.drafts.append(LineDraft([round_], own, ways, colour, remarks))
        self.in_hand = (round_.plan.ends_with if round_.plan else "") or round_.colour or self.in_hand

    def _words(self, round_: Round) -> tuple[Own, tuple[Words, ...]]:
        key = (round_.text, id(round_.plan), round_.stated, round_.verdict)
        if key not in self.words_by_round:
            own = own_words(round_, self.piece)
            colours = self.piece.context.colours
            self.words_by_round[key] = own, tuple(wordings(round_, own, self.pattern.terms, self.terms, colours))
        return self.words_by_round[key]

    def _remarks_before(self, round_: Round) -> tuple[str, ...]:
        """What the pattern says over a round, at the first one of its line."""
        place = (round_.line, round_.column)
        remarks = self.remarks.get(place, ()) if place != self.place else ()
        self.place = place
        return tuple(prose_in_terms(words, self.pattern.terms, self.terms) for words in remarks)

    def _goes_on(self, draft: LineDraft, round_: Round, printed: Own, ways: tuple[Words, ...]) -> bool:
        """Whether a round is the one before it once more, in the same yarn."""
        last = draft.rounds[-1]
        alike = draft.ways == ways and replace(printed, names_colour=draft.own.names_colour) == draft.own
        counts = last.before == round_.before and last.leaves == round_.leaves
        counted = round_.plan is not None and round_.label.partition(" ")[0] == last.label.partition(" ")[0]
        steady = round_.colour == last.colour and (printed.names_colour or round_.colour == self.in_hand)
        follows = round_.number == last.number + 1 and codes(last) == codes(round_)
        return alike and counts and counted and steady and follows


def _remarks(piece: Piece) -> dict[tuple[int, int], tuple[str, ...]]:
    """What the pattern says over each written round, by where that round stands in the file."""
    places = [place for place, _ in groupby(piece.rounds, lambda each: (each.line, each.column))]
    return {place: entry.remarks for place, entry in zip(places, piece.entries, strict=False) if entry.remarks}


def codes(round_: Round) -> set[str]:
    """What was found wrong with a round; a number that does not follow on is no matter of its words."""
    problem_codes = {problem.code for problem in round_.problems if problem.severity is not Severity.NOTE}
    return problem_codes - {"round-number"}


# The ways in which one round can be written: in the pattern's own words, and in the shorthand of its plan.

_LEADS_TO_TOTAL = re.compile(
    r"[\s.,;:=–—([{<-]*(?:\b(?:(?:for )?a )?(?:total(?: of)?|you (?:will |should )?have|that makes|still)\s*)?$", re.I
)
_BESIDE_HEADING = re.compile(r"[\s\])},:.-]*(?:\(\s*\d+\s+(?:rounds?|rnds?|rows?)\s*\)[\s:.,-]*)?", re.I)
_HEADING_INSIDE = re.compile(r"(?<=[\w)\]])[\s.,;-]*\s(?:rnd|round|row)\s*\d+\s*[:.)-]+\s*", re.I)
_EDGES = " \n.,;:)]}>–—-"


@dataclass(frozen=True, slots=True)
class Words:
    """A round without its heading: its instructions, and its total with its brackets ("" for none)."""

    body: str
    total: str


@dataclass(frozen=True, slots=True)
class Own:
    """What the pattern itself says in a round: instructions, words of the total, whether it names a colour first,
    the earlier round that it goes into, and how many chains it begins on."""

    body: str
    total: str
    names_colour: bool
    worked_into: int | None
    foundation: int


def own_words(round_: Round, piece: Piece) -> Own:
    """The round as the pattern has it, its heading and the colour in it taken off. Nothing else is lost."""
    line = read_line(round_.text, piece.context)
    text = line.text
    first_item = line.body[0] if line.body else None
    colour = first_item if isinstance(first_item, Colour) and first_item.span.end else None
    names_colour, into = colour is not None, line.worked_into
    foundation = line.foundation.bases if line.foundation else 0
    start = _instructions(text, _offset(text, colour.span, end=True) if colour else line.heading.end)
    if not line.stated:
        return Own(_flat(text[start:]), "", names_colour, into, foundation)
    first, last = _offset(text, line.stated[0].span), _offset(text, line.stated[-1].span, end=True)
    before = _LEADS_TO_TOTAL.sub("", text[start:first])
    after = text[last:].strip(_EDGES)
    if re.search("[a-z]", fold(after)):
        return Own(_flat(f"{before}, {after}"), _own_total(line, text[first:last]), names_colour, into, foundation)
    total = text[first:] if re.search(r"\d", after) else text[first:last]
    return Own(_flat(before), _own_total(line, total), names_colour, into, foundation)


def _own_total(line: Line, body: str) -> str:
    """The words of a total that tells more than one number; "" for a plain one, and where there are several."""
    plain = re.fullmatch(r"\W*(?:\d+|[a-z]+(?:-[a-z]+)?)\s*(?:sts?|stitch(?:es)?)?\W*", body, re.I)
    if len(line.stated) != 1 or line.stated[0].sizes or plain:
        return ""
    return _flat(body)


def _flat(text: str) -> str:
    """In one line, without what joins it to its surroundings, and without a heading in its middle ("Base: ch 4, join.
    Rnd 1: ...")."""
    text = _HEADING_INSIDE.sub(", ", text, count=1)
    return " ".join(text.strip(" \n.,;:-–—").split())


def _instructions(text: str, start: int) -> int:
    """Behind what ends the heading: the rest of a bracket, a number of rounds, signs."""
    match = _BESIDE_HEADING.match(text, start)
    return match.end() if match else start


def _offset(text: str, span: Span, *, end: bool = False) -> int:
    rows = text.split("\n")
    start = sum(len(row) + 1 for row in rows[: span.line])
    return start + (span.end if end else span.start)


def wordings(round_: Round, printed: Own, source: str, target: str, colours: frozenset[str]) -> Iterator[Words]:
    """The ways to write a round in the terms `target`, best first."""
    body = round_in_terms(printed.body, source, target, colours)
    total = round_in_terms(printed.total, source, target, colours)
    counted = total_words(round_, target)
    if round_.plan is None:
        yield Words(body, f"({total})" if total else counted)
        return
    if total:
        yield Words(body, f"({total})")
    yield Words(body, counted)
    shorthand = _shorthand(round_, round_.plan, printed, target)
    yield Words(shorthand, counted)
    yield Words(body, "")
    yield Words(shorthand, "")


def _shorthand(round_: Round, plan: Plan, printed: Own, terms: str) -> str:
    text = notate(plan, terms).removeprefix(f"({round_.colour}) ")
    return f"into Rnd {printed.worked_into}, {text}" if printed.worked_into is not None else text


def total_words(round_: Round, terms: str) -> str:
    """The total as a maker counts it: "(18)", "(12 sc, 12 ch-2 sps)"; the stated one where the two differ."""
    stated = round_.stated.stitches if round_.stated else None
    if round_.plan is None or (stated is not None and round_.verdict not in ("ok", "warning")):
        return f"({stated})" if stated is not None else ""
    plan = round_.plan
    spaces = _spaces(plan)
    if not spaces:
        return f"({plan.leaves})"
    kinds = [kind for kind, count in plan.tally.kinds if count]
    name = abbreviation(kinds[0], terms) if len(kinds) == 1 else "sts"
    return f"({plan.leaves} {name}, {spaces})"


def _spaces(plan: Plan) -> str:
    """The chain spaces of a round, and its picots, which nobody counts as spaces."""
    runs = [(run.act, times) for run, times in plan.runs()]
    picots = sum(times for act, times in runs if act.technique is Technique.PICOT)
    holes = [made for act, _ in runs if act.technique is not Technique.PICOT for made in act.makes]
    lengths = {made.count for made in holes if made.is_chain and not made.counts_as}
    spaces = plan.tally.spaces - picots
    of = f"ch-{lengths.pop()} " if len(lengths) == 1 else "ch-"
    counted = ((spaces, f"{of}sp"), (picots, PICOT))
    return ", ".join(f"{number} {name}{'' if number == 1 else 's'}" for number, name in counted if number)
