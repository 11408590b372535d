"""What one unit of a page has in itself that tells what it is, before its neighbours are asked."""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from functools import cached_property

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import Heading, Line, Role, Technique, acts
from tracker.notation.by_eye import is_by_eye
from tracker.notation.context import Context
from tracker.notation.lexer import scan
from tracker.notation.own_words import with_own_words
from tracker.notation.parser.heading import heading, heading_and_rest
from tracker.notation.parser.remark import begins_sentence
from tracker.notation.reader import read_once
from tracker.notation.token_kinds import MADE, T
from tracker.notation.yarn_sentence import yarn_plan
from tracker.pattern.model import Yarn
from tracker.pattern.round_splitter import (
    begins,
    colour_of_line,
    goes_on,
    is_closed_chain,
    is_cut_in_a_phrase,
    is_named_only,
    is_round_alone,
)
from tracker.pattern.text_import.borrowed_rounds import may_borrow
from tracker.pattern.text_import.materials import gauge_in, hook_in, yarns_in
from tracker.pattern.text_import.page_sizes import is_size_heading
from tracker.pattern.text_import.page_units import PageUnit
from tracker.pattern.text_import.page_words import names_in, words_in
from tracker.pattern.text_import.piece_names import (
    are_names_of_stitches,
    is_bulleted,
    is_plain_name,
    named_round,
    numbered_name,
    piece_name,
    stands_out,
    without_plan,
    without_yarn,
)
from tracker.pattern.text_import.sections import (
    is_item,
    is_label,
    is_numbered_section,
    is_page_number,
    is_ruler,
    section_in,
)

_LONGEST_ROUND = 2_000
"""Characters of a round that the next line may go on with; a long lace round has about a thousand."""

_GROUND = (Technique.JOIN_RING, Technique.RING, Technique.CHAIN, Technique.FOUNDATION)

_FEW_WORDS = 10
"""Words of a line on a list; what is longer and ends in a full stop is a sentence."""

_TOTAL_BEHIND = compile_later(r"[(\[{=]\s*\d{1,4}\s*(?:[a-z ]{1,14})?[)\]}]?[\s.;]*$")
_AMOUNT = compile_later(
    r"\b\d+(?:[.,/]\d+)?\s*(?:g|gr|grams?|oz|m|yds?|yards?|mm|skeins?|balls?|metres?|meters?)\b|\b\d\s*ply\b"
    r"|\b(?:yarn|cotton|wool|acrylic|skeins?|needles?|scissors|hook|fibrefill|fiberfill|fiber|stuffing|markers?|scraps?|oddments?|left-?overs?)\b"
)
_TO_READERS = compile_later(
    r"©|\(c\) ?\d{4}|\bcopyright|\ball rights\b"
    r"|\b(?:do not|don't|may not|please) (?:sell|copy|share|distribute|repost)\b"
    r"|\b(?:tag|follow|email|thank|message) (?:me|us|you)\b|\bthanks for\b|\bhashtag|\bhappy (?:crochet|hook|making)"
    r"|\b(?:hope you|let me know|i would love|i'd love|if you (?:make|have any)|for personal use|next pattern)\b"
)
_BETWEEN_NUMBERS = frozenset(("to", "through", "thru", "and", "until", "till", "a"))
"""What stands between the numbers of a list, "8 to 11.", which has no word for a round."""

_BEGINS_WITH_KEY = compile_later(r"\W*(?:[A-H]|MC|CC|(?i:yarns?|colou?rs?))\b")
_DEFINES = compile_later(r"\W*(?P<short>[a-z][a-z /()'-]{1,24}?)\s*[:=]\s*\S")
_CRAFT = compile_later(r"\b(?:amigurumi|pattern|tutorial|recipe|to crochet)\b|^\W*crochet(?:ed)?\b")
_CRAFT_ALONE = compile_later(
    r"\W*(?:(?:a|an|the|my|our|free|easy|simple|written|crochet|crocheted|amigurumi|pattern|tutorial|recipe)\W*)+"
)
_TERMS = compile_later(r"\b(?:us|u\.s\.|usa|uk|u\.k\.|american|british)\b.{0,12}\b(?:terms|terminology|format)\b")
_IN_BRACKETS = compile_later(r"\([^()]*\)\s*$")
_MEASURE = compile_later(
    r"\b\d+\s*(?:sc|hdc|dc|tr|htr|sts?|stitches|rows?|rounds?|rnds?)\b.{0,40}?(?:=|measures?)\D{0,20}\d+(?:\.\d+)?\s*"
    r"(?:cm|mm|\"|in\b|inch)"
)


class Evidence:
    """One unit and what is read in it, each thing once and only if it is asked for."""

    def __init__(
        self, unit: PageUnit, above: str, below: str, context: Context, *, is_for_other_size: bool = False
    ) -> None:
        self.unit = unit
        self.text = unit.text
        self.is_for_other_size = is_for_other_size
        self._above = above
        self._below = below
        self._context = context
        self.is_plain_name = is_plain_name(self.text)
        ends_sentence = self.continues and self.text.endswith(
            "."
        )  # "leaving an end for" over "sewing." opens nothing
        self.section = None if ends_sentence else section_in(self.text)
        self.is_label = is_label(self.text) or is_numbered_section(self.text)
        self.is_item = is_item(self.text)
        self.is_layout = is_ruler(self.text) or is_page_number(self.text)
        self.is_bulleted = is_bulleted(self.text)
        self.word_count = len(self.text.split())

    @cached_property
    def folded(self) -> str:
        return fold(self.text)

    @cached_property
    def heading(self) -> Heading:
        named = not self.unit.is_apart and is_named_only(self._above, self.text)
        return Heading(0) if named or self.plans_yarns else heading_and_rest(self.folded)[1]

    @cached_property
    def read(self) -> Line:
        return read_once(self.text, self._context)

    @cached_property
    def whole(self) -> Line:
        """What is read in it, with the line below where a number stands before it and its end cuts a phrase."""
        if self.read.is_readable or not self.is_headed or not self._below or heading(fold(self._below)).end:
            return self.read
        both = read_once(f"{self.text}\n{self._below}", self._context)
        return both if both.is_readable and goes_on(self.text, self._below, self._context) else self.read

    @cached_property
    def is_headed(self) -> bool:
        return self.heading.begins_round

    @cached_property
    def is_worded(self) -> bool:
        """Whether the heading has a word, "Rnd 4:", and is not a number alone, which may stand on any list."""
        unnumbered = self.heading.is_next or bool(self.heading.fills)
        words = re.findall("[a-z]+", self.folded[slice(*self.heading.span)])
        return unnumbered or not _BETWEEN_NUMBERS.issuperset(words)

    @cached_property
    def is_labelled(self) -> bool:
        """Whether a colon stands behind the heading, "Rnd 4:", which no sentence has."""
        return ":" in self.folded[self.heading.span[0] : self.heading.end + 1]

    @cached_property
    def continues(self) -> bool:
        """Whether it goes on with a sentence that the line above has begun and not ended."""
        begun = bool(self._above) and self._above.rstrip()[-1:] not in ".!?:;)]" and not self.unit.is_apart
        return begun and self.text[:1].islower()

    @cached_property
    def number(self) -> int:
        """The first round that the heading names; 0 for "Next rnd" and no heading."""
        return self.heading.numbers[0] if self.heading.numbers else 0

    @cached_property
    def last_number(self) -> int:
        return self.heading.numbers[-1] if self.heading.numbers else 0

    @cached_property
    def is_readable(self) -> bool:
        return self.whole.is_readable or self.is_free

    @cached_property
    def is_free(self) -> bool:
        """Whether it is a round that says "as you like": its heading is all that can be read, and its total."""
        has_total = bool(self.whole.stated)
        return self.heading.end > 0 and is_by_eye(self.text, self._context.terms, has_total=has_total)

    @cached_property
    def works(self) -> bool:
        """Whether it reads as stitches to work, and not as a step alone, nor as their names in capitals."""
        return self.is_free or (
            self.is_readable
            and not (self.text.isupper() and are_names_of_stitches(self.text, self._context))
            and any(act.role is not Role.STEP and not act.is_slip_stitch for act in acts(self.whole.body))
        )

    @cached_property
    def counts(self) -> bool:
        """Whether it says how many or where, as no title does that names a stitch, "Bobble Stitch Cosy"."""
        return not {T.NUMBER, T.EACH, T.AROUND, T.REPEAT, T.TIMES}.isdisjoint(self._kinds)

    @cached_property
    def does(self) -> bool:
        """Whether it reads as something to do, a repeat of other rounds included, or states a total."""
        line = self.whole
        return self.is_free or (line.is_readable and bool(acts(line.body) or line.stated or line.reference))

    @cached_property
    def repeats(self) -> bool:
        return self.whole.is_readable and self.whole.reference is not None

    @cached_property
    def does_with_below(self) -> bool:
        """Whether it says what to do together with the line below: "Rnd 9: With right side facing," """
        if not self._below or self.text.endswith((".", "!", ")", "]")) or heading(fold(self._below)).end:
            return False
        whole = read_once(f"{self.text}\n{self._below}", self._context)
        return whole.is_readable and bool(acts(whole.body))

    @cached_property
    def names_stitches(self) -> int:
        """How many words of it are stitches, chains, increases."""
        return sum(kind in MADE for kind in self._kinds_of(self.folded[self.heading.end :]))

    @cached_property
    def names_stitches_below(self) -> bool:
        """Whether it breaks off, and the line below names stitches."""
        if self.text.endswith((".", "!")) or heading(fold(self._below)).end:
            return False
        return not MADE.isdisjoint(self._kinds_of(fold(self._below)))

    @cached_property
    def _kinds(self) -> list[T]:
        return self._kinds_of(self.folded)

    def _kinds_of(self, folded: str) -> list[T]:
        """The sorts of the words of a text."""
        words = scan(folded[:_LONGEST_ROUND], self._context.terms, self._context.colours)
        return [word.kind for word in with_own_words(words, self._context.words, self._context.terms)]

    @cached_property
    def has_total(self) -> bool:
        return bool(self.whole.stated) or _TOTAL_BEHIND.search(self.folded) is not None

    @cached_property
    def begins(self) -> bool:
        """Whether it is a chain to work into, or stitches on a chain or in a ring that it makes for itself."""
        if self.tells_words or self.words:
            return False
        return begins(self.text, self._context, self._below) or self._begins_with_below

    @cached_property
    def _begins_with_below(self) -> bool:
        if not self.names_stitches or not goes_on(self.text, self._below, self._context):
            return False
        return not heading(fold(self._below)).end and begins(f"{self.text}\n{self._below}", self._context)

    @cached_property
    def may_begin(self) -> bool:
        """Whether it may be a first round that cannot be read: a ring or chain, stitches and their total."""
        grounded = not {T.RING, T.CHAIN}.isdisjoint(self._kinds)
        return grounded and self.names_stitches > 1 and self.has_total and not self.tells_words

    @cached_property
    def lays_ground(self) -> bool:
        """Whether it makes a chain or ring and nothing on it, what a first round is worked into; or only tells its
        yarn, "With A", right over it."""
        if self.takes_yarn and not self.plans_yarns:
            return heading(fold(self._below)).numbers[:1] == (1,)
        if not self.is_readable or self.begins:
            return False
        grounded = any(act.technique in _GROUND for act in acts(self.read.body))
        return grounded and (is_closed_chain(self.read) or not self.works)

    @cached_property
    def is_alone(self) -> bool:
        """Whether it is a whole round without a heading: stitches and their total."""
        return is_round_alone(self.text, self._context, self._below)

    def goes_on(self, above: str) -> bool:
        """Whether it is the rest of the round `above` it."""
        return 0 < len(above) <= _LONGEST_ROUND and goes_on(above, self.text, self._context)

    def ends_phrase(self, above: str) -> bool:
        """Whether the round `above` it breaks off in the middle of a phrase that goes on here."""
        if not 0 < len(above) <= _LONGEST_ROUND or may_borrow(f"{above} {self.text}"):
            return False
        return is_cut_in_a_phrase(above, self.text, self._context)

    @cached_property
    def named_round(self) -> tuple[str, int, str] | None:
        """A name and how the first round of the piece begins, read or with a chain, stitches and their total."""
        named = None if self.plans_yarns else named_round(self.text, self._context)
        if (
            named is not None
            and not begins(named[2], self._context)
            and not (self.has_total and self.names_stitches > 2)
        ):
            return None
        return named

    @cached_property
    def name(self) -> str:
        """The name of a piece in it, that of "2. MUZZLE (cream)" included; "" if it can be none."""
        if self.plans_yarns or self.takes_letters or is_size_heading(self.text):
            return ""
        number, named = self._numbered_name
        return piece_name(named if number else self._name_and_plan[0], self._context)

    @cached_property
    def yarns_of_name(self) -> str:
        """What stands behind the name of a piece of the yarns of its rounds; "" if nothing does."""
        return self._name_and_plan[1]

    @cached_property
    def _name_and_plan(self) -> tuple[str, str]:
        return without_plan(self.text, self._context)

    @cached_property
    def is_numbered_name(self) -> bool:
        return bool(self._numbered_name[0])

    @cached_property
    def _numbered_name(self) -> tuple[int, str]:
        below = heading(fold(self._below))
        first = below.numbers[:1] == (1,) and fold(self._below)[:1].isalpha()
        number, named = numbered_name(self.text, self._context, over_first=first)
        return (0, "") if below.numbers[:1] == (number + 1,) else (number, named)

    @cached_property
    def stands_out(self) -> bool:
        """Whether it is set as a name, or has the yarn of a piece behind it."""
        behind = bool(self.yarns_of_name) and bool(self.name) and not self.names_goods
        return (
            behind
            or stands_out(self.text)
            or bool(self.name and not self.is_bulleted and without_yarn(self.name, self._context)[1])
        )

    @cached_property
    def setting(self) -> str:
        """How a name is set: in capitals, with a colon, in signs of bold type, where it stands."""
        signs = re.sub(r"[\w\s()',-]", "", self.text)
        return f"{self.text.isupper()} {signs} {self.unit.is_apart}"

    @cached_property
    def is_in_capitals(self) -> bool:
        """Whether each of its words begins with a capital, as titles are set: "Six-Point Star"."""
        words = re.findall(r"[A-Za-z][\w'-]*", self.text)
        return 1 < len(words) == sum(word[0].isupper() for word in words) and not self.has_total

    @cached_property
    def is_sentence(self) -> bool:
        # A sentence has more than six words, or ends like one.
        return self.word_count > _FEW_WORDS or (self.text.endswith((".", "!")) and self.word_count > 6)

    @cached_property
    def begins_sentence(self) -> bool:
        """Whether it begins like a sentence for the maker, "Insert the eyes ...", and is more than a name."""
        # Three words and fewer are a name.
        return begins_sentence(self.text) and (self.word_count > 3 or self.text.endswith((".", "!")))

    @cached_property
    def tells_words(self) -> bool:
        """Whether it is a list of abbreviations on one line: "MR = magic ring, sc = single crochet"."""
        several = len(re.findall(r"\w\s*=\s*[a-z]", self.folded)) > 1 and not self.yarns
        return several or len(re.findall(r"[a-z)]:\s*[a-z]", self.folded)) > 2

    @cached_property
    def names_craft(self) -> bool:
        """Whether it says that it is about a thing to crochet, as titles do: "Fox - free pattern"."""
        named = _CRAFT.search(self.folded) is not None and not self.tells_terms
        if _CRAFT_ALONE.fullmatch(self.folded):
            return False  # "A free pattern" under the name of the thing is no name
        return named and not re.search(r"[©:]|\bpatterns\b|\bby\b", self.text, re.I)

    @cached_property
    def tells_terms(self) -> bool:
        """Whether it says in which terms the page is written, and not in brackets behind a name."""
        return _TERMS.search(_IN_BRACKETS.sub("", self.folded) or self.folded) is not None

    @cached_property
    def is_to_readers(self) -> bool:
        """Whether it is a word of the designer to the readers, a thank-you or what they may do with the page."""
        return not self.names_stitches and _TO_READERS.search(self.folded) is not None

    @cached_property
    def words(self) -> bool:
        """Whether it tells what one of the page's words stands for."""
        return bool(words_in(self.text))

    @cached_property
    def names_words(self) -> bool:
        """Whether it explains a word by others that are not known either."""
        return not self.is_headed and bool(names_in(self.text)) and len(self.yarns) < 2

    @cached_property
    def defines(self) -> bool:
        """Whether a stitch of the trade, or a corner, is told by others: "picot: ch 3, sl st in first ch"."""
        match = None if self.is_headed else _DEFINES.match(self.folded)
        first = scan(match["short"], self._context.terms) if match is not None else []
        return bool(first) and (first[0].kind in MADE or first[0].text == "corner")

    @cached_property
    def names_hook(self) -> bool:
        """Whether it says which hook is needed."""
        return bool(hook_in(self.text))

    @cached_property
    def tells_materials(self) -> bool:
        """Whether it names a hook or yarns with their keys."""
        return self.names_hook or bool(self.yarns)

    @cached_property
    def yarns(self) -> list[Yarn]:
        """The yarns that it names with their keys."""
        return yarns_in(self.text)

    @cached_property
    def names_goods(self) -> bool:
        """Whether it says how much of something there is, or names what is bought."""
        return _AMOUNT.search(self.folded) is not None

    @cached_property
    def takes_letters(self) -> bool:
        """Whether it gives several yarns their letters and says no more: "A = red, B = white"."""
        return len(self.yarns) > 1 and _BEGINS_WITH_KEY.match(self.text) is not None and not self.is_sentence

    @cached_property
    def tells_gauge(self) -> bool:
        return gauge_in(self.text) is not None or _MEASURE.search(self.folded) is not None

    @cached_property
    def borrows(self) -> bool:
        """Whether it asks for rounds of another piece, alone or with the line below."""
        if self.is_free:
            return False
        return may_borrow(self.text) or may_borrow(f"{self.text} {self._below}")

    @cached_property
    def plans_yarns(self) -> bool:
        """Whether it says which rounds are made with which yarn."""
        return yarn_plan(self.text, self._context) is not None

    @cached_property
    def takes_yarn(self) -> bool:
        """Whether it says which yarn to go on with, and little else: "With A", "Change to red"."""
        if self.plans_yarns:
            return True
        kinds = self._kinds
        if not kinds or kinds[0] is T.WORD or MADE & set(kinds) or self.is_headed:
            return False
        leads = kinds[0] in (T.WITH, T.CHANGE, T.WORK, T.COLOURED) and T.COLOURED in kinds
        return leads or (self.word_count <= _FEW_WORDS and bool(colour_of_line(self.text, self._context)))


def evidence_of(units: Sequence[PageUnit], others: Container[int], context: Context) -> list[Evidence]:
    """What each unit has in itself; those of `others` are for another size, and like what is set into a round no
    neighbours of the rest."""
    own = [number for number, unit in enumerate(units) if number not in others and not unit.is_set_in]
    texts = ["", *(units[number].text for number in own), ""]
    around = dict(zip(own, zip(texts, texts[2:], strict=False), strict=True))
    return [
        Evidence(unit, *around.get(number, ("", "")), context, is_for_other_size=number in others)
        for number, unit in enumerate(units)
    ]
