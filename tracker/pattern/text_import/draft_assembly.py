"""A page with a pattern to a draft of a pattern file.

What each line is has been decided for the page as a whole (`line_labelling`); here the rounds go to the pieces
whose names stand over them, and what is said between them stays where it stood. Nothing is dropped: a line that has
no place of its own is kept as a note, and is told.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from tracker.lazy_dataclass import dataclass, field, replace
from tracker.notation.ast import Role, acts
from tracker.notation.context import Context, OwnWord
from tracker.notation.own_words import own_words, with_round_words
from tracker.notation.reader import read_once
from tracker.pattern.group_definitions import with_definitions
from tracker.pattern.model import Gauge, Yarn
from tracker.pattern.round_splitter import begins, goes_on
from tracker.pattern.round_yarns import yarn_key
from tracker.pattern.text_import.borrowed_rounds import borrowed, names_rounds
from tracker.pattern.text_import.draft_parts import FIRST_PIECE, DraftPart, Fate, Outcome, numbers_go_on
from tracker.pattern.text_import.evidence import Evidence, evidence_of
from tracker.pattern.text_import.line_labelling import Label, label_units
from tracker.pattern.text_import.materials import gauge_in, hook_in, yarns_in
from tracker.pattern.text_import.numbered_rows import with_counts_alone, with_numbered_rows
from tracker.pattern.text_import.page_columns import page_lines
from tracker.pattern.text_import.page_headings import round_words, with_printed_heads
from tracker.pattern.text_import.page_sizes import FOR_OTHER_SIZES, for_size, of_other_sizes
from tracker.pattern.text_import.page_terms import terms_of
from tracker.pattern.text_import.page_units import page_units
from tracker.pattern.text_import.page_words import PageWord, contrary_words, lexicon_of, words_unexplained
from tracker.pattern.text_import.page_yarns import colours_in, unlisted_yarns, yarns_beside, yarns_called
from tracker.pattern.text_import.piece_names import LONGEST_NAME, named_round, tells_times, times_made, without_yarn
from tracker.pattern.text_import.sections import is_item, is_ruler, strip_bullet
from tracker.pattern.text_import.words_by_sums import WordBySums, nouns_by_sums, words_by_sums
from tracker.pattern.toml_writer import Draft, DraftPiece


@dataclass(frozen=True, slots=True)
class FromText:
    """The draft and what became of every line. `terms_why` says how the terms were told apart; `unexplained_words`
    are those of its rounds that the page names and does not explain, `sizes` how many sizes its numbers are for,
    `contrary` the words it explains against the terms, `by_sums` those that it does not explain and its rounds do."""

    draft: Draft
    outcomes: tuple[Outcome, ...]
    terms_why: str
    unexplained_words: tuple[PageWord, ...] = ()
    sizes: int = 1
    contrary: tuple[PageWord, ...] = ()
    by_sums: tuple[WordBySums, ...] = ()


def from_text(
    text: str,
    terms: str | None = None,
    size: int | None = None,
    makers_words: Sequence[tuple[str, str]] = (),
    moved: Mapping[int, Label] = {},
) -> FromText:
    """Sort a page, of several sizes for the one of that number, from 1; `makers_words` are those that the maker
    explains, who also says what the units are that were `moved`, by their numbers.

    Raises `TermsUnclear` if `terms` is None and the words do not tell.
    """
    lines, places = page_lines(text)
    terms, why = (terms, "as you said") if terms else terms_of("\n".join(lines))
    units = list(page_units(lines, places))
    texts = [unit.text for unit in units]
    explained = dict(lexicon_of(texts, terms))
    heads = round_words(lines, texts, terms, explained)
    headed = [with_round_words(line, own_words(heads.items(), terms), terms) for line in lines]
    plain = Context(terms=terms, words=own_words(explained.items(), terms))
    nouns = nouns_by_sums(headed, plain, texts)
    explained = dict(lexicon_of(texts, terms, nouns)) if nouns else explained
    lexicon = tuple((explained | heads | dict(makers_words)).items())
    words = own_words(lexicon, terms)
    tabled = with_counts_alone(with_numbered_rows(lines))
    read = [with_round_words(line, words, terms) for line in tabled]
    units = list(page_units(read, places)) if read != lines else units
    by_sums = words_by_sums([unit.text for unit in units], Context(terms=terms, words=words))
    lexicon = (*lexicon, *((word.phrase, word.meaning) for word in by_sums))
    words = (*words, *(OwnWord(word.phrase, word.meaning) for word in by_sums))
    sizes, others = of_other_sizes(units, (size or 1) - 1)
    context = Context(terms=terms, size=(size or 1) - 1, sizes=sizes, words=words)
    evidence = evidence_of(units, others - moved.keys(), context)
    assembly = Assembly(context, evidence, frozenset(moved))
    labels = [moved.get(unit, label) for unit, label in enumerate(label_units(evidence))]
    assembly.assemble(labels)
    draft = with_printed_heads(replace(assembly.draft(), words=lexicon), tabled, read)
    explaining = [one.text for one, label in zip(evidence, labels, strict=True) if label in _EXPLAINS]
    return FromText(
        for_size(draft, size) if size else draft,
        assembly.story(),
        why,
        words_unexplained(explaining, " ".join(piece.text for piece in draft.pieces), dict(lexicon)),
        sizes,
        contrary_words(explaining, terms),
        by_sums,
    )


_EXPLAINS = (Label.WORD, Label.SECTION)


@dataclass
class Assembly:
    """The draft as it is put together, unit by unit."""

    context: Context
    evidence: Sequence[Evidence]
    moved: frozenset[int] = frozenset()
    """The units of which the maker says what they are."""
    title: str = ""
    titled: int = -1
    """The unit that is the title."""
    hook: str = ""
    hook_is_listed: bool = False
    gauge: Gauge | None = None
    yarns: list[Yarn] = field(default_factory=list)
    notions: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    pieces: list[DraftPart] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    waiting: DraftPart | None = None
    """A piece whose rounds have not come yet, with the lines under its name."""
    in_rounds: bool = False
    made_of: tuple[DraftPart, str] | None = None
    """A piece made several times with the name of a part right under its own, and how that name is set."""
    passed_over: list[str] = field(default_factory=list)
    """The numbers of rounds that the size does without, while none has come behind them."""
    taken: int = -1
    """The unit that was read together with the one above it."""
    outcomes: dict[int, Outcome] = field(default_factory=dict)
    stood: dict[int, tuple[DraftPart, int]] = field(default_factory=dict)
    """The piece that a unit is of, and which of its lines it is; -1 for the name."""

    def assemble(self, labels: Sequence[Label]) -> None:
        """Put every unit where its label says."""
        place: dict[Label, Callable[[int, str], None]] = {
            Label.LAYOUT: self._lay_out,
            Label.TITLE: self._entitle,
            Label.SECTION: self._open_section,
            Label.NAME: self._name,
            Label.NAMED_ROUND: self._name_round,
            Label.FIRST: partial(self._round, is_first=True),
            Label.ROUND: self._go_round,
            Label.ROUND_CONTINUED: self._go_on,
            Label.GROUND: self._lay_ground,
            Label.AGAIN: self._go_again,
            Label.BORROWED: self._borrow,
            Label.MATERIAL: self._list_material,
            Label.GAUGE: self._take_gauge,
            Label.WORD: self._explain,
            Label.STEP: self._add_step,
            Label.REMARK: self._remark,
            Label.OTHER_SIZE: self._set_aside,
        }
        for unit, label in enumerate(labels):
            if unit != self.taken:
                place[label](unit, self.evidence[unit].text)
        self._give_up_waiting()

    def story(self) -> tuple[Outcome, ...]:
        """What became of every unit, in the order of the page."""
        starts = {id(part): (index, part.starts_of_lines()) for index, part in enumerate(self.pieces)}
        story = []
        for unit in sorted(self.outcomes):
            part, number = self.stood.get(unit, (None, -1))
            piece, lines = starts.get(id(part), (-1, []))
            at = lines[number] if lines and number >= 0 else -1
            story.append(replace(self.outcomes[unit], unit=unit, piece=piece, at=at))
        return tuple(story)

    def _tell(self, unit: int, fate: Fate, why: str = "") -> None:
        one = self.evidence[unit].unit
        self.outcomes[unit] = Outcome(one.line, one.text, fate, why)

    def _keep(self, unit: int, text: str, why: str = "") -> None:
        self.notes.append(text)
        self._tell(unit, Fate.NOTE, why)

    # What stands around the rounds

    def _lay_out(self, unit: int, text: str) -> None:
        if is_ruler(text):
            self._tell(unit, Fate.PLACED, "a line across the page")
        else:
            self._keep(unit, text, "layout of the page")

    def _entitle(self, unit: int, text: str) -> None:
        self.title, self.titled = " ".join(text.strip("*#=- ").split()), unit
        self._tell(unit, Fate.PLACED, "title")

    def _open_section(self, unit: int, text: str) -> None:
        self._give_up_waiting()
        self.in_rounds = False
        name, behind = self.evidence[unit].section or ("", "")
        if name == "about":
            if not self._take_material(text, listed=False):
                self.notes.append(text)
            self._tell(unit, Fate.NOTE)
            return
        self._tell(unit, Fate.PLACED, name)
        if not behind:
            return
        if name == "making up":
            self.steps.append(strip_bullet(behind))
        elif name == "abbreviations" or not self._take_material(behind, listed=name == "materials"):
            self.notes.append(behind)

    def _list_material(self, unit: int, text: str) -> None:
        one = self.evidence[unit]
        listed = is_item(text) or one.names_goods or one.is_bulleted or one.tells_materials or not one.is_sentence
        self._place_or_keep(unit, text, self._take_material(text, listed=listed))

    def _take_gauge(self, unit: int, text: str) -> None:
        self._place_or_keep(unit, text, self._take_material(text, listed=False))

    def _place_or_keep(self, unit: int, text: str, taken_as: str) -> None:
        """Tell as what a unit was taken, or keep it as a note."""
        if taken_as:
            self._tell(unit, Fate.PLACED, taken_as)
        else:
            self._keep(unit, text)

    def _take_material(self, line: str, *, listed: bool) -> str:
        """What a line tells: a hook, a gauge, yarns, one of the materials if it is `listed`; "" if none of that."""
        materials: list[str] = []
        hook, gauge = hook_in(line), gauge_in(line)
        if hook and (not self.hook or (listed and not self.hook_is_listed)):
            self.hook, self.hook_is_listed = hook, listed  # one in a list outweighs one in a remark
            materials.append("hook")
        if gauge is not None and self.gauge is None:
            self.gauge = gauge
            materials.append("gauge")
        listed_before = {yarn.key for yarn in self.yarns}
        new = [yarn for yarn in yarns_in(line) if yarn.key not in listed_before] if listed else []
        self.yarns += new
        materials += [f"yarn {yarn.key}" for yarn in new]
        if listed and (not materials or line.strip() != self.hook):
            self.notions.append(re.sub(r"^(?!#\d)[^\w(\"'“‘{\[]+|[*_]+$", "", line))
            materials.append("materials")
        elif materials:
            self.notes.append(line)
        return ", ".join(materials)

    def _explain(self, unit: int, text: str) -> None:
        if self.waiting is not None or self.in_rounds:
            self._remark(unit, text)
        else:
            self._keep(unit, text)

    def _set_aside(self, unit: int, text: str) -> None:
        self.passed_over += [str(number) for number in self.evidence[unit].heading.numbers]
        self._keep(unit, text, "for another size")

    def _add_step(self, unit: int, text: str) -> None:
        step = strip_bullet(text)
        self.steps += [step] if step else []
        self._place_or_keep(unit, text, "making up" if step else "")

    # Pieces

    def _name(self, unit: int, text: str) -> None:
        self._give_up_waiting()
        one = self.evidence[unit]
        lines = [one.yarns_of_name] if one.yarns_of_name else []
        whole, setting = self.made_of or (None, "")
        is_part = whole is not None and times_made(text) == 1 and setting == one.setting
        make = whole.make if whole is not None and is_part else times_made(text)
        self.made_of = self.made_of if is_part else None
        self.waiting = DraftPart(one.name or text.strip(" :*#=-"), make, unit, text, lines=lines)
        self.waiting.part_of = whole.name if whole is not None and is_part else ""

    def _give_up_waiting(self) -> None:
        """No round came under what looked like the name of a piece."""
        part, self.waiting = self.waiting, None
        if part is None:
            return
        if part.unit >= 0:
            self._keep(part.unit, part.text, "looked like the name of a piece, and no round follows")
        self.notes += part.lines

    def _unnamed(self) -> DraftPart:
        name = f"Piece {len(self.pieces) + 1}" if self.pieces else FIRST_PIECE
        return DraftPart(name, title="" if self.pieces else self.title)

    def _part_for(self, numbers: tuple[int, ...], line: str, *, is_first: bool) -> DraftPart:
        """The piece that a round belongs to: the one whose name stands over it, the one before, or a new one."""
        before, named = self.pieces[-1] if self.pieces else None, self.waiting
        self.waiting = None
        is_said = named is not None and named.unit in self.moved
        if before is not None and named and not is_said and numbers_go_on(before, named, numbers, line):
            before.lines += [named.text, *named.lines]
            self._tell(named.unit, Fate.NOTE, f"part of '{before.name}': the numbers go on")
            return before
        if named is not None and named.unit >= 0:
            doubt = f", a part of '{named.part_of}' and so made {named.make} times: right?" if named.part_of else ""
            self._tell(named.unit, Fate.EYE if doubt else Fate.PLACED, f"piece '{named.name}'{doubt}")
            self.stood[named.unit] = named, -1
        elif named is None and before is not None and not is_first:
            begins_again = numbers[:1] == (1,) and before.last_number
            if not begins_again:
                return before
        part = named or self._unnamed()
        self.pieces.append(part)
        return part

    # Rounds

    def _go_round(self, unit: int, text: str) -> None:
        if unit in self.moved and not self.evidence[unit].is_headed:
            before = self.pieces[-1].last_number if self.pieces and self.waiting is None else 0
            text = f"Rnd {before + 1}: {text}"
        self._round(unit, text)

    def _name_round(self, unit: int, text: str) -> None:
        named = named_round(text, self.context)
        assert named is not None  # the label is given to no other line
        self._give_up_waiting()
        name, make, beginning = named
        self.waiting = DraftPart(name, make)
        self._round(unit, beginning, is_first=True)

    def _round(self, unit: int, line: str, *, is_first: bool = False) -> None:
        one = self.evidence[unit]
        read = one.read if line == one.text else read_once(line, self.context)
        head = read.heading
        part = self._part_for(head.numbers, line, is_first=is_first)
        self.in_rounds = True
        if self.passed_over and part.placed:
            part.lines.append(f"{FOR_OTHER_SIZES} {', '.join(self.passed_over)}")
        self.passed_over = []
        part.placed.append((len(part.lines), head.numbers))
        self.stood[unit] = part, len(part.lines)
        part.lines.append(line)
        part.open_round, part.open_units = line, [unit]
        part.count(read)
        trouble = [p.message for p in read.problems] if not read.is_readable else []
        self._tell(unit, Fate.EYE if trouble else Fate.ROUND, "; ".join(trouble))

    def _go_on(self, unit: int, text: str) -> None:
        """The rest of the round above: together they may need no eye."""
        part = self.pieces[-1]
        self.stood[unit] = part, len(part.lines)
        part.lines.append(text)
        part.rests.add(len(part.lines) - 1)
        part.open_round = f"{part.open_round}\n{text}"
        part.open_units.append(unit)
        self._tell(unit, Fate.ROUND)
        if read_once(part.open_round, self.context).is_readable:
            for one in part.open_units:
                self._tell(one, Fate.ROUND)
        else:
            why = self._why_to_look(unit)
            self._tell(unit, Fate.EYE if why else Fate.NOTE, why)

    def _lay_ground(self, unit: int, text: str) -> None:
        """A chain or ring over the first round stands under the name of its piece."""
        if self.waiting is None:
            entitled = self.title and self.titled == unit - 1 and not self.pieces
            self.waiting = DraftPart(self.title) if entitled else self._unnamed()
        self.waiting.lines.append(text)
        why = self._other_yarns(unit, self.waiting)
        self._tell(unit, Fate.EYE if why else Fate.NOTE, why)

    def _go_again(self, unit: int, text: str) -> None:
        part = self.pieces[-1]
        self.stood[unit] = part, len(part.lines)
        part.lines.append(text)
        part.open_round, part.open_units = "", []
        self._tell(unit, Fate.ROUND)

    def _borrow(self, unit: int, text: str) -> None:
        """Write out the rounds that the line takes from another piece, and keep it as a note; a line that names no
        piece with such rounds is a remark."""
        sources = self.pieces if self.waiting is not None else self.pieces[:-1]
        below = self.evidence[unit + 1].text if unit + 1 < len(self.evidence) else ""
        loan = borrowed(text, sources)
        if loan is None and below and not self.evidence[unit + 1].is_headed:
            loan = borrowed(f"{text} {below}", sources)
            self.taken = unit + 1 if loan is not None else -1
        if loan is None:
            self._remark(unit, text)
            if names_rounds(text):
                self._tell(unit, Fate.EYE, "asks for rounds of a piece that is not found")
            return
        for written in loan.lines:
            headed = read_once(written, self.context).heading
            if headed.begins_round or begins(written, self.context):
                self._round(unit, written)
            elif self.waiting is not None:
                self.waiting.lines.append(written)
            else:
                self.pieces[-1].lines.append(written)
        self._keep(unit, text, f"the rounds of '{loan.name}' are written out in its place")
        if loan.doubt:
            self._tell(unit, Fate.EYE, loan.doubt)
        if self.taken == unit + 1:
            self._keep(self.taken, below, "the rest of the line above")

    # Everything else

    def _remark(self, unit: int, text: str) -> None:
        """A remark stays under the name or between the rounds where it stood, or is a note of the whole pattern.
        One that the maker calls a note needs no eye."""
        why = "" if unit in self.moved else self._why_to_look(unit)
        one = self.evidence[unit]
        part = self.waiting or (self.pieces[-1] if self.pieces and self.in_rounds else None)
        if part is not None and part.make == 1 and tells_times(text):
            part.make = times_made(text)
            self._tell(unit, Fate.PLACED, f"made {part.make} times")
            return
        self.hook = self.hook or ("" if self.pieces else hook_in(text))
        why = self._other_yarns(unit, part) or why
        if self.waiting is not None:
            if self.waiting.make > 1 and one.name and not self.waiting.lines:
                self.made_of = self.waiting, one.setting
            self.waiting.lines.append(text)
        elif self.in_rounds and not one.is_headed and not one.is_to_readers:
            # A file would take "3. Press it" for a round, and among rounds without numbers "(c) 2019" too.
            part = self.pieces[-1]
            if part.open_round and goes_on(part.open_round, text, self.context):
                part.lines.append("")  # read as lines of a file they would be one round
            part.lines.append(text)
            part.open_round, part.open_units = "", []
        else:
            self.notes.append(text)
            why = why if self.pieces else ""
            if not why and one.is_plain_name and one.name:
                self._tell(unit, Fate.NOTE, "looked like the name of a piece, and no round follows")
                return
        if one.plans_yarns:
            self._tell(unit, Fate.PLACED, "yarns of the rounds")
            return
        self._tell(unit, Fate.EYE if why else Fate.NOTE, why)

    def _other_yarns(self, unit: int, part: DraftPart | None) -> str:
        """Take the yarns to which a line over the rounds of a piece gives letters; why to look at it where a letter
        stands for another yarn in a piece before."""
        one = self.evidence[unit]
        if part is None or one.names_stitches or not one.takes_letters:
            return ""
        names = {yarn.key: yarn.name for yarn in self.yarns}
        self.yarns += [yarn for yarn in one.yarns if yarn.key not in names]
        others = [yarn for yarn in one.yarns if names.get(yarn.key, yarn.name).lower() != yarn.name.lower()]
        contradictions = (f"{yarn.key} is {yarn.name} here and {names[yarn.key]} in the rest" for yarn in others)
        return "; ".join(contradictions) + ": give it another letter" if others else ""

    def _why_to_look(self, unit: int) -> str:
        """Why a line without a number may be a round all the same; "" if it is a remark."""
        one = self.evidence[unit]
        if one.is_readable:
            makes = any(act.role is not Role.STEP and not act.is_slip_stitch for act in acts(one.read.body))
            return "has stitches and no round number: is it part of the round before?" if makes else ""
        several = one.names_stitches > 1 and not one.begins_sentence and not one.tells_words
        return "has stitches and no round number, and could not be read" if several else ""

    def draft(self) -> Draft:
        """The draft as it is by now."""
        keys = frozenset(yarn.key.lower() for yarn in self.yarns)
        beside = yarns_beside(self.pieces, self.context)
        listed = colours_in(self.notions) | beside
        context = replace(self.context, colours=self.context.colours | keys | listed)
        begun = [without_yarn(part.name, context) for part in self.pieces]
        if self.title and len(self.title) <= LONGEST_NAME and [name for name, _ in begun] == [FIRST_PIECE]:
            begun = [(self.title, begun[0][1])]  # what is made in one piece is called what the page is
        bare = Counter(name for name, _ in begun)
        begun = [
            (name if bare[name] == 1 else part.name, yarn)  # "Ear (pink)" and "Ear (white)" are told apart by it
            for part, (name, yarn) in zip(self.pieces, begun, strict=True)
        ]
        defined = with_definitions(replace(self.context, colours=self.context.colours | beside), self.notes)
        called = [*(yarn for _, yarn in begun), *yarns_called(self.pieces, defined)]
        unlisted = unlisted_yarns(called, tuple(self.yarns), listed)
        return Draft(
            title=self.title or next((part.name for part in self.pieces[:1] if part.unit == 0), ""),
            terms=self.context.terms,
            hook=self.hook,
            notions=tuple(self.notions),
            notes=tuple(self.notes),
            gauge=self.gauge,
            yarns=(*self.yarns, *unlisted),
            pieces=tuple(
                DraftPiece(
                    name, "\n".join(part.lines), part.make, part.start(), yarn=yarn_key(yarn, tuple(self.yarns))
                )
                for part, (name, yarn) in zip(self.pieces, begun, strict=True)
            ),
            making_up=tuple(self.steps),
            size=self.context.size + 1,
            sizes=self.context.sizes,
        )
