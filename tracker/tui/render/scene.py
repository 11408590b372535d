"""Everything that a painter is told: the view, the pattern, and what only the screen knows.

A scene is a value; painters are functions from a scene and a size to lines. They do no sums about stitches.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum

from tracker.lazy_dataclass import dataclass, field
from tracker.pattern.model import Pattern, Round
from tracker.session.view import View
from tracker.tui.render.progress_ring import Progress
from tracker.tui.render.round_shape import Sketch
from tracker.tui.render.text_field import TextEntry


class Tone(Enum):
    """How the line of talk at the bottom is meant."""

    QUIET = "quiet"
    GOOD = "good"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to a warning: a key and what it does."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Scene:
    """One moment of the maker's screen."""

    view: View
    pattern: Pattern
    sketch: Sketch | None
    """The drawing of the round being worked; None when no round is."""
    progress: Progress
    today: str
    """Time worked today, in words."""
    yarns: Mapping[str, str] = field(default_factory=dict)
    """The yarns' own colours by key, "#rrggbb"."""
    ink: Mapping[str, str] = field(default_factory=dict)
    """The same as they are seen on this paper."""
    now_size: int = 0
    """The size of the letters of NOW: nothing else is as large."""
    most_letters: int = 6
    """The largest size of the letters of NOW that the maker wants."""
    just_made: tuple[str, ...] = ()
    """Of the copy whose last round was just made: what it is, how big, how long it took, what comes next."""
    cue: str = ""
    """What to do about the next colour within this step, or ""."""
    message: str = ""
    tone: Tone = Tone.QUIET
    entry: TextEntry | None = None
    """What is being typed, in place of what was said."""
    question: str = ""
    """What is told of the count that differs, "" if none does."""
    choices: tuple[Choice, ...] = ()
    """Answers to the count that differs."""
    keys: tuple[Choice, ...] = ()
    """What the foot names, the most needed first."""
    reads_on: str = ""
    """The key that shows the round with all that is said of it, "" if there is none."""
    looked_at: Round | None = None
    """A round that the maker looks at without moving the place."""
    looked_at_is_changed: bool = False
    trouble: str = ""
    looking_on: bool = False
    backwards: bool = False
    """A row that is worked from right to left in the drawing."""
    left_handed: bool = False
    paper: str = "#000000"
    """What the drawing stands on, for the contrast of the yarns."""
    is_in_colour: bool = True
    """Whether the screen has colours at all."""
