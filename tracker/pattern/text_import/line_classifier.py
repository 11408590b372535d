"""What a line of a pasted text may be, by the lines around it: a round, a name over rounds, the end of a list."""

from __future__ import annotations

import re

from tracker.normalize import fold
from tracker.notation.ast import Role, Technique
from tracker.notation.lexer import scan
from tracker.notation.parser.heading import Heading, heading
from tracker.notation.parser.remark import begins_sentence
from tracker.notation.token_kinds import HEADS
from tracker.notation.traversal import acts
from tracker.pattern.round_splitter import begins, goes_on, read_once
from tracker.pattern.text_import.import_state import Part, Sorting
from tracker.pattern.text_import.piece_names import piece_name

LINES_AHEAD = 10
_MOST_BETWEEN = 3
"""How many lines that say something may stand between the name of a piece and its first round."""


def ahead(sorting: Sorting) -> list[str]:
    """The lines below that say something."""
    return [line.strip() for line in sorting.following if not is_ruler(line)]


def is_before_round(sorting: Sorting) -> bool:
    """Whether the next line that says anything is a round."""
    after = ahead(sorting)[:1]
    return bool(after) and is_round(sorting, after[0])


_LONGEST_ROUND = 2_000
"""Characters of a round that the next line may go on with; a long lace round has about a thousand."""


def is_next_line(sorting: Sorting, line: str) -> bool:
    """Whether the line is the rest of the round above it."""
    above = sorting.pieces[-1].open_round if sorting.pieces else ""
    return 0 < len(above) <= _LONGEST_ROUND and goes_on(above, line, sorting.context)


def is_over_rounds(sorting: Sorting) -> bool:
    """Whether rounds begin a few lines below, and nothing between that may be a name or a heading itself."""
    for line in ahead(sorting)[: _MOST_BETWEEN + 1]:
        if is_round(sorting, line) or (begins(line, sorting.context) and not tells_words(line)):
            return True
        if section_in(line) is not None or piece_name(line, sorting.context):
            return False
    return False


_FEW = 2


def tells_words(line: str) -> bool:
    """Whether the line is a list of abbreviations: "MR = magic ring, sc = single crochet"."""
    folded = fold(line)
    return len(re.findall(r"\w\s*=\s*[a-z]", folded)) > 1 or len(re.findall(r"[a-z)]:\s*[a-z]", folded)) > _FEW


def is_round(sorting: Sorting, line: str) -> bool:
    folded = fold(line)
    head = heading(folded)
    if head.end == 0 or not (head.numbers or head.is_next):
        return False
    bare = re.search("[a-z]", folded[: head.end]) is None
    if sorting.section == "making up" and bare:
        return False
    read = read_once(line, sorting.context)
    if not (bare or head.is_next) or _numbers_fit(sorting, head):
        makes = bool(read.reference or not read.is_readable or read.stated or acts(read.body))
        return makes or _makes_with_next(sorting, line)
    return read.is_readable and bool(read.stated or begins(line, sorting.context))


def _makes_with_next(sorting: Sorting, line: str) -> bool:
    """Whether it begins a round that says what to make on its next line: "Rnd 9: With right side facing," """
    lines = ahead(sorting)
    below = lines[lines.index(line) + 1 :] if line in lines else lines
    if not below or line.endswith((".", "!", ")", "]")) or heading(fold(below[0])).end:
        return False
    whole = read_once(f"{line}\n{below[0]}", sorting.context)
    return whole.is_readable and bool(acts(whole.body))


def _numbers_fit(sorting: Sorting, head: Heading) -> bool:
    """Whether a number alone, "4.", is the number of a round: among rounds it is, on a list only if it goes on."""
    last = sorting.pieces[-1] if sorting.pieces else None
    if sorting.section not in ("rounds", "name"):
        return False
    if last is not None and (head.is_next or head.numbers[0] == last.last_number + 1):
        return True
    if sorting.waiting is not None:
        return head.is_next or head.numbers[0] == 1
    return last is not None and not last.is_worded


def numbers_go_on(before: Part, named: Part, head: Heading, line: str) -> bool:
    """ "Sides" over "Rnd 6" behind a base of five rounds names a part of the piece, and no other one.

    A round that joins the copies made so far ("12 sc on the first leg") begins a piece, whatever its number.
    """
    if named.make != 1 or head.numbers[:1] != (before.last_number + 1,) or before.last_number == 0:
        return False
    return before.make == 1 or not _joins_copies(before.name, line)


def _joins_copies(name: str, line: str) -> bool:
    """Whether the line speaks of one copy or several of a piece of this name: "first leg", "both legs"."""
    words = {word.removesuffix("s") for word in re.findall(r"[a-z]{3,}", fold(name))}
    named = re.findall(r"\b(?:first|1st|second|2nd|other|both|each|two)\s+([a-z]{3,})", fold(line))
    return any(word.removesuffix("s") in words for word in named)


def starts_rounds(sorting: Sorting, line: str) -> bool:
    """Whether a line that no name stands over is the chain or ring that the first round, next below, is worked on."""
    after = ahead(sorting)[:1]
    if not after or heading(fold(after[0])).numbers[:1] != (1,) or not is_round(sorting, after[0]):
        return False
    if begins(line, sorting.context):
        return not tells_words(line)
    read = read_once(line, sorting.context)
    return read.is_readable and any(act.technique in _ON_WHICH_ROUNDS_STAND for act in acts(read.body))


_ON_WHICH_ROUNDS_STAND = (Technique.JOIN_RING, Technique.RING, Technique.FOUNDATION)


def ends_list(sorting: Sorting, line: str) -> bool:
    """Whether the materials are over, without a heading: at a list of abbreviations, or a sentence set apart."""
    if sorting.section != "materials":
        return False
    sentence = sorting.set_apart and line.endswith((".", "!")) and len(line.split()) > _LONGEST_ITEM
    if not (sentence or tells_words(line) or _TERMS.search(fold(line))):
        return False
    sorting.section = "notes"
    return True


_LONGEST_ITEM = 6
"""Words of one of the materials; what is longer, set apart and ends in a full stop is a sentence."""
_TERMS = re.compile(r"\b(?:us|u\.s\.|uk|u\.k\.|american|british)\b.{0,12}\b(?:terms|terminology)\b")


def why_to_look(sorting: Sorting, line: str) -> str:
    """Why a line without a number may be a round all the same; "" if it is a remark."""
    read = read_once(line, sorting.context)
    if read.is_readable:
        makes = any(act.role is not Role.STEP and not act.is_slip_stitch for act in acts(read.body))
        return "has stitches and no round number: is it part of the round before?" if makes else ""
    named = [token for token in scan(fold(line), sorting.context.terms) if token.kind in HEADS]
    several = len(named) > 1 and not begins_sentence(line) and not tells_words(line)
    return "has stitches and no round number, and could not be read" if several else ""


# The parts of a pasted text that have a heading (materials, notes, making up), and lines that only lay it out.

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
