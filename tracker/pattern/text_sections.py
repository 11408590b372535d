"""The parts of a pasted text that have a heading: materials, gauge, notes, making up."""

from __future__ import annotations

import re

from tracker.notation.fold import fold

_SECTIONS = {
    "materials": r"materials?|you will need|you'll need|supplies|what you need|requirements|tools",
    "abbreviations": r"abbreviations?(?: used)?|stitch(?:es)?(?: key| guide| used)|key|terms",
    "gauge": r"gauge|tension",
    "notes": r"notes?|pattern notes?|before you (?:start|begin)|tips?|special stitch(?:es)?|instructions|pattern",
    "making up": r"making[ -]up|assembly|assembling|finishing|to (?:finish|make up|assemble)|"
    r"putting (?:it )?together|sewing(?: up| together)?",
}
_SECTION = re.compile(
    r"^\W*(?:"
    + "|".join(f"(?P<{name.replace(' ', '_')}>{words})" for name, words in _SECTIONS.items())
    + r")\s*(?::(?P<rest>.*))?\W*$"
)


def section_in(line: str) -> tuple[str, str] | None:
    """The section that the line opens, and what it says behind its heading; None if it opens none."""
    match = _SECTION.match(fold(line))
    if match is None:
        return None
    name = next(key for key in _SECTIONS if match[key.replace(" ", "_")])
    return name, line[match.start("rest") :].strip() if match["rest"] else ""
