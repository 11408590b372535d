"""The parts of a pasted text that have a heading (materials, notes, making up), and lines that only lay it out."""

from __future__ import annotations

import re

from tracker.normalize import fold

_SECTIONS = {
    "materials": r"(?:materials?|suppl(?:y|ies)|tools|shopping)(?: list| needed)?|materials? (?:and|&|\+) tools|"
    r"(?:(?:stuff|things?|what) )?(?:you|we)(?: will|'ll)? need|requirements|yarns?|hooks?",
    "abbreviations": r"(?:stitch(?:es)? |list of )?abbreviations?(?: used| key| list)?|abbr|glossary|short forms|"
    r"stitch(?:es)?(?: key| guide| used)|key|terms",
    "gauge": r"(?:gauge|tension)(?:\s*[/&]\s*(?:gauge|tension))?",
    "notes": r"notes?|pattern notes?|before you (?:start|begin)|tips?|special stitch(?:es)?|instructions|directions|"
    r"method|pattern|to make|let's (?:get )?(?:start|started|begin|make it|crochet)",
    "about": r"(?:skill )?level|difficulty|(?:finished )?(?:sizes?|measurements|dimensions)|contents",
    "making up": r"making[ -]up|assembly|assembling|finishing|to (?:finish|make up|assemble)|"
    r"put(?:ting)? (?:[a-z]+ ){0,3}together|joining the (?:pieces|parts)|sewing(?: up| together)?",
}
_BEHIND = (
    r"(?: (?:i|we)(?: have)?)?(?: used)?(?: (?:in|for) (?:this|the) (?:pattern|project))?(?:\s*\([^()]{1,40}\))?"
    r"\s*(?:(?::|[\]})]|\s-\s|\s{3,})\s*(?P<rest>\S.*)|:\s*)?\W*$"
)
_SECTION = re.compile(
    r"^\W*(?:\d{1,2}\s*[.)]\s*)?(?:"
    + "|".join(f"(?P<{name.replace(' ', '_')}>{words})" for name, words in _SECTIONS.items())
    + r")\b\.?"
    + _BEHIND
)
_ITEM = re.compile(r"^\W*(?:yarns?|hooks?|notions|extras?|also|needles?|eyes|colou?rs)\b" + _BEHIND)
_PAGE = re.compile(
    r"^\W*(?:(?:www\.|https?:)\S+\s*)?(?:pages?\s*\d{1,3}(?:\s*(?:of|/)\s*\d{1,3})?|\d{1,3}\s*(?:of|/)\s*\d{1,3})\W*$"
    r"|^\s*(?:[-~|]+\s*)?\d{1,3}\s*(?:[-~|]+)?\s*$|^\s*(?:www\.|https?:)\S+\s*$"
)


def section_in(line: str) -> tuple[str, str] | None:
    """The section that the line opens, and what it says behind its heading; None if it opens none."""
    match = _SECTION.match(fold(line))
    if match is None:
        return None
    name = next(key for key in _SECTIONS if match[key.replace(" ", "_")])
    return name, line[match.start("rest") :].strip() if match["rest"] else ""


def is_numbered_section(line: str) -> bool:
    """Whether the line is the heading of a part and has a number, so that it looks like a round: "4. FINISHING"."""
    found = section_in(line)
    return found is not None and not found[1] and re.match(r"\W*\d", line) is not None


def is_label(line: str) -> bool:
    """Whether the line tells the gauge or the like behind a label, and rounds in it are no rounds to make."""
    found = section_in(line)
    return found is not None and bool(found[1]) and found[0] in ("gauge", "about", "materials", "abbreviations")


def is_item(line: str) -> bool:
    """Whether the line says what one of the materials is: "Yarn: cotton, 40 g", "{Hook} 3 mm"."""
    match = _ITEM.match(fold(line))
    return match is not None and bool(match["rest"])


def is_ruler(line: str) -> bool:
    """Whether the line has no letter and no figure in it: "-----", "* * *"."""
    return not any(character.isalnum() for character in line)


def is_page_number(line: str) -> bool:
    """Whether the line is the head or foot of a page: "Page 1 of 3", "- 3 -", the address of a site."""
    return _PAGE.match(fold(line)) is not None
