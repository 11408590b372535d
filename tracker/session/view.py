"""The one object that a screen, a sentence or a program is told: where the maker is and what comes next."""

from __future__ import annotations

from enum import Enum

from tracker.diagnostics import Span
from tracker.lazy_dataclass import dataclass
from tracker.rounds.next_step import Stretch
from tracker.session.due_notes import DueNote
from tracker.session.events import Counted, Event


@dataclass(frozen=True, slots=True)
class Difference:
    """A count that differed and was not mended: how many stitches more (+) or fewer (-) than expected."""

    piece: str
    copy: int
    round_label: str
    expected: int
    counted: int

    @property
    def by(self) -> int:
        return self.counted - self.expected


@dataclass(frozen=True, slots=True)
class RoundAhead:
    """A round to come: heading and text as written."""

    label: str
    text: str
    leaves: int | None
    changed: bool = False
    """Worked otherwise than the pattern has it; `text` is what is worked."""


@dataclass(frozen=True, slots=True)
class InHand:
    """What a count or a frog given now is about: the round just ended, or else the one being made.

    After the last round of a copy that is still this copy, although the place is in the next one already, until
    something of the next is made or a piece is chosen. `expected` is how many stitches there should be by now.
    """

    piece_index: int
    copy: int
    name: str
    """ "Cap", "Spot 2 of 5"."""
    round_index: int
    round_label: str
    expected: int | None
    is_being_made: bool = False
    """The round is not ended: a count tells how far the maker is in it."""


@dataclass(frozen=True, slots=True)
class View:
    """Everything shown at one moment. Numbers are for people: rounds, copies and repeats count from 1."""

    title: str
    piece: str
    piece_index: int
    pieces: int
    copy: int
    copies: int
    round_index: int
    """Which of the piece's rounds, from 0 (ranges unrolled)."""
    rounds: int
    round_number: int
    """The number in the heading of the round."""
    round_label: str
    text: str
    """The round as it is worked, may hold line breaks."""
    tap: Step | None
    """What one tap takes: its moves, and the words of `text` that they are; None where no round is being worked."""
    letters: str
    """The same in the trade's short words: "2 sc, inc"."""
    now: str
    """The same in full words: "2 single crochet, then an increase"; or what is left when a piece is made."""
    stitch: int
    """Stitches of this round that are done, never more than `expected`."""
    expected: int | None
    """What the round comes to: with a difference that was carried on with, the maker's own number."""
    stitches_left: int
    """Stitches of the round as it is worked that are still to be tapped; 0 where that is not known."""
    repeat: int | None
    """Which time through the innermost group; None outside a group."""
    repeats: int | None
    moves_done: int
    moves: int
    step: str
    """A step that comes now and makes no stitch ("join with a slip stitch"), or ""."""
    colour: str
    """Name of the yarn in use, "" if the pattern names none."""
    colour_key: str
    next_colour: ColourChange | None
    ahead: tuple[RoundAhead, ...]
    piece_share: float
    """How much of this copy is done, 0 to 1, by moves."""
    whole_share: float
    """How much of all pieces and copies is done, 0 to 1, by moves."""
    all_made: bool
    """Every copy of every piece is made; making up may be left."""
    piece_finished: bool
    finished: bool
    """All copies of all pieces and all making-up steps are done."""
    making_up: tuple[tuple[str, bool], ...]
    colour_event: ColourEvent | None
    """The change of colour that happens with this very tap."""
    stop: DueNote | None
    """What the pattern asks for before work goes on; a tap ticks it."""
    asks_count: bool
    """The round just ended should be counted now."""
    count_of: str
    """Which round a count typed now is about: its label."""
    unanswered: Difference | None
    """A differing count that waits for the maker's answer."""
    differences: tuple[Difference, ...]
    """Differences carried on with, knowingly."""
    notes_here: tuple[str, ...]
    remarks: tuple[str, ...]
    """What the pattern says that is due now, of round or piece: its sentences, without their full stops."""
    in_hand: InHand | None = None
    """None only for a pattern without rounds."""
    just_made: str = ""
    """The copy whose last round was just made ("Cap", "Spot 2 of 5"), while nothing of the next is."""
    changed: bool = False
    """The round is worked otherwise than the pattern has it."""
    doubt: str = ""
    """What does not come out in this round as it is written, or ""."""
    moves_marker: bool = False
    """The stitch that comes is the first of a round of a spiral: the marker is moved up to it."""
    side: str = ""
    """What faces the maker now that the work was turned ("the wrong side", "the other side"), or ""."""
    pattern_text: str = ""
    """The round as the pattern has it; the same as `text` unless `changed`."""

    @property
    def remark(self) -> str:
        """What the pattern says that is due now, as one text, or ""."""
        return ". ".join(self.remarks)

    def counted(self, stitches: int) -> Counted:
        """The event for a count typed now."""
        return Counted(stitches, self.in_hand.round_index if self.in_hand else 0)


@dataclass(frozen=True, slots=True)
class ColourChange:
    """The next change of colour on the way.

    `in_stitches` is how many stitches are still made wholly in the present colour before the one at whose last
    pull-through the new yarn is drawn in: 0 means "the stitch that you make now".
    """

    key: str
    name: str
    in_stitches: int
    in_chain: bool = False
    """The last that is made in the old colour is a chain: the new yarn is drawn in there, after those stitches."""
    cut_first: bool = False
    """The old yarn is fastened off before, so that there is nothing to draw through: the new one is joined in when
    all of `in_stitches` are made."""


class StepSize(Enum):
    """How far one tap goes."""

    REPEAT = "repeat"
    RUN = "run"
    ROUND = "round"
    STITCH = "stitch"

    @property
    def next(self) -> StepSize:
        sizes = list(StepSize)
        return sizes[(sizes.index(self) + 1) % len(sizes)]


@dataclass(frozen=True, slots=True)
class Step:
    """The moves `start` to `until` (excluded) of the round being worked, and what they are.

    `stretch` has no nodes and `spans` marks all the text in a round that could not be read. `change` is the colour
    that is drawn in with the last stitch of this step, which stands alone then.
    """

    start: int
    until: int
    stretch: Stretch
    spans: tuple[Span, ...]
    event: Event
    change: ColourChange | None = None

    @property
    def stitches(self) -> int:
        return self.stretch.stitches


@dataclass(frozen=True, slots=True)
class ColourEvent:
    """`key` is the letter of the new yarn, `title` what happens, `how` what the hands do, `old` what becomes of the
    yarn in use ("" where none is)."""

    key: str
    title: str
    how: str
    old: str = ""

    @property
    def words(self) -> str:
        """All of it for a voice or a line of text."""
        return "; ".join(part for part in (self.title, self.how, self.old) if part)
