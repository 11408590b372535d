"""The page's own words: what its list of abbreviations says that they stand for."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import acts
from tracker.notation.both_terms import in_one
from tracker.notation.bunches import ONE_STITCH
from tracker.notation.context import Context, OwnWord
from tracker.notation.glossary import full_name
from tracker.notation.lexer import scan
from tracker.notation.own_words import MOST_WORDS, Meaning, meaning_of, own_words
from tracker.notation.parser.heading import heading
from tracker.notation.reader import read_line
from tracker.notation.token_kinds import HEADS, MADE, T
from tracker.notation.vocabulary import meaning, phrase_words
from tracker.pattern.text_import.explained_making import change_made, takes_and_leaves
from tracker.pattern.text_import.explanation import FILET_MESH, parts_of, term_in
from tracker.pattern.text_import.sections import is_label, section_in
from tracker.pattern.text_import.word_list import A_SIGN, parts_of_list

_SIGNED = compile_later(
    rf"^[^\w(]*(?P<short>\(?[^\W\d_][\w()/' -]{{0,24}}?\.?|{A_SIGN})\s*"
    r"(?:=|:|\||\s[-–—]+\s|[-–—]\s|\s[-–—](?=\w)|(?<=\w)[-–—](?=[A-Z][a-z])|\.\s+(?=[A-Z]))\s*"
    r"(?P<meaning>[A-Za-z(\d].*)$"
)
_UNSIGNED = compile_later(r"^[^\w(]*(?P<short>[A-Za-z][\w()-]{0,7})\s+(?P<meaning>[A-Za-z][A-Za-z -]+\S?)$")
_NAMED = compile_later(r"^[^\w(]*(?P<meaning>[A-Za-z][A-Za-z -]{2,30}?)\s*\((?P<short>[A-Za-z][\w -]{0,7})\)\W*$")
_GLOSSED = compile_later(r"^[^\w(]*(?P<short>[^\W\d_][\w-]{0,13}\.?)\s*\((?P<meaning>[^()]{2,60})\)\W*$")
"""A word with what it means in brackets, "mp (medium point: sc)", where that is known and the word is not."""
_TRANSLATED = compile_later(
    r"^[^\w(]*(?P<short>[^\W\d_][\w-]{0,7})\s+(?P<full>(?:[^\W\d_]|[' -]){3,30}?)\s*"
    r"(?:/|\(|=|:|[-–—]\s)\s*(?P<meaning>[A-Za-z][^()/=:]{1,30}?)\)?\W*$"
)
"""A word, what it is short for in another language, and in this one: "rb rund botten / single crochet"."""
_BRACKETED = compile_later(r"\s*[(\[].*?(?:[)\]]|$)")
_EXPLAINS = compile_later(r"\s*(?::|\s[-–]\s|,|;|\.).*$")
# Characters of a line in which a word is explained.
_LONGEST_LINE = 2_000
_LONGEST_SHORT = 3
"""Words of what is explained."""


@dataclass(frozen=True, slots=True)
class PageWord:
    """One word of the page as it is typed, and what the page says that it is."""

    short: str
    meaning: str

    @property
    def core(self) -> str:
        """The meaning without what explains it: "puff stitch (see note)" is a puff stitch."""
        return _EXPLAINS.sub("", _BRACKETED.sub(" ", fold(self.meaning))).strip(" -.*")

    def term(self, terms: str) -> str:
        """The name of the trade that the meaning gives, in these terms: what it begins with, or one behind that;
        "" if it gives none."""
        if min(map(len, self.names), default=0) <= _LONGEST_FOR_STITCH and _names_any_stitch(self):
            return "stitch"
        first = meaning_of(self.core, terms)
        if first is not None and first.kind in MADE and first.value != FILET_MESH and not _is_literal(self.core):
            return self.core
        inside = term_in(self.meaning, terms) if len(self.names[0].split()) == 1 else ""
        term = inside or (self.core if first is not None and first.value != FILET_MESH else "")
        named = meaning_of(term, terms) if _is_literal(term) else None
        return full_name(str(named.value), terms) if named is not None and named.kind is T.STITCH else term

    @property
    def names(self) -> tuple[str, ...]:
        """The word, folded, and what stands in brackets beside it: "very low point (vlp)"."""
        beside = re.findall(r"\(([^\W\d_]{1,8})\)", fold(self.short))
        forms = (" ".join(phrase_words(name)) for name in (re.sub(r"\(.*?\)", "", fold(self.short)), *beside))
        return tuple(dict.fromkeys(filter(None, forms)))


_OF_ANY_STITCH = (T.NOUN, T.SPACE)
"""Words that translated pages have in the names of stitches: "post (double crochet)", "air loop"."""

_LONGEST_FOR_STITCH = 2
"""Letters that are short for "stitch" in other languages, "M = stitch"; what is longer titles a list of stitches."""

_CALLED_STITCH = frozenset(("mesh", "meshes", "point", "points", "loop", "loops", "eye", "eyes"))
"""German "Masche", French "maille", Spanish "punto", Russian "petlya", Polish "oczko" as they are translated by hand:
stitches (common practice, no source)."""


def _is_literal(term: str) -> bool:
    """Whether it has the word for a stitch of another language, "low point" or "firm mesh" for a single crochet."""
    return not _CALLED_STITCH.isdisjoint(term.split())


def _names_any_stitch(word: PageWord) -> bool:
    """Whether one or two letters are short for a stitch of any sort: "o. - eye (loop)", "m = mask (stitch)"."""
    parts = [part.text for part in parts_of(word.meaning)]
    nouns = [meaning_of(text, "US") for text in parts]
    named = all(noun is None or noun.kind in _OF_ANY_STITCH or noun.value == FILET_MESH for noun in nouns)
    called = parts[:1] != [] and parts[0] in _CALLED_STITCH
    return named and (called or any(noun is not None and noun.kind is T.NOUN for noun in nouns))


def words_in(line: str) -> tuple[PageWord, ...]:
    """What the line says about words of the trade; empty if it explains none."""
    return _words_in(line) if len(line) <= _LONGEST_LINE else ()


@lru_cache(maxsize=4_096)
def _words_in(line: str) -> tuple[PageWord, ...]:
    words = (_item(part) for part in parts_of_list(line))
    return tuple(word for word in words if word is not None)


def _item(part: str) -> PageWord | None:
    translated = _TRANSLATED.match(part.strip())
    if translated is not None and _is_translated(translated["short"], translated["full"], translated["meaning"]):
        return PageWord(translated["short"], translated["meaning"].strip())
    for pattern, match in _matches(_in_us_terms(part)):
        if pattern is _UNSIGNED and not _may_be_short_for(match["short"], match["meaning"]):
            continue  # "Hanging loop" is no abbreviation
        if pattern is _NAMED and re.search(r"\d|^(?:make|x)\b", match["short"]):
            continue  # "Shell (make 2)"
        word = PageWord(match["short"].strip(), match["meaning"].strip())
        if not _is_word(word.short):
            continue
        if is_term(word.core) and pattern is not _GLOSSED:
            return word
        if pattern in (_SIGNED, _GLOSSED) and not is_term(word.names[0]) and word.term("US"):
            return word
        if pattern is _SIGNED and is_term(fold(word.short)) and not any(c.isdigit() for c in word.meaning):
            return word
    return None


def _in_us_terms(part: str) -> str:
    """The part of a list without its names in UK terms, "sc [dc] = single crochet [double crochet]"."""
    short, sign, explanation = part.partition("=")
    folded = fold(short)
    kept = in_one(folded, "US")
    return part if kept == folded else f"{kept}{sign}{in_one(fold(explanation), 'US')}"


def _matches(part: str) -> Iterator[tuple[re.Pattern[str], re.Match[str]]]:
    """The ways in which a part of a line may explain a word."""
    for pattern in (_SIGNED, _NAMED, _GLOSSED, _UNSIGNED):
        match = pattern.match(part.strip())
        if match is not None and len(_BRACKETED.sub("", match["short"]).split()) <= _LONGEST_SHORT:
            yield pattern, match


def _may_be_short_for(short: str, full: str) -> bool:
    """Whether a word without a sign behind it may be short for the others: "inc increase", and the letters that
    stand for what is made, "X single crochet"."""
    if fold(short)[0] == fold(full)[0]:
        return True
    named = meaning_of(fold(full).strip(" ."), "US")
    return len(short) == 1 and short.isupper() and named is not None and named.kind in HEADS


def _is_translated(short: str, full: str, translation: str) -> bool:
    """Whether a word has letters of what nobody knows, in their order, and behind that stands one of the trade."""
    letters = iter(fold(full))
    is_short = fold(short)[0] == fold(full)[0] and all(letter in letters for letter in fold(short))
    named = meaning_of(fold(translation).strip(" ."), "US")
    return is_short and named is not None and named.kind in _TRANSLATED_KINDS and not is_term(fold(full))


_TRANSLATED_KINDS = HEADS | {T.CHAIN, T.RING, T.LOOP}


def _is_word(short: str) -> bool:
    """Whether it may be a word of the page, and is no round, "Rd 2: inc", no yarn, "Yarn A: moss", no number,
    "Six-Point Star", no beginning, "Start: magic loop", and no heading, "Stitches: ch, sl st"."""
    folded = fold(short)
    if section_in(f"{folded}:") is not None:
        return False
    if folded.count("(") != folded.count(")") or not PageWord(short, "").names:
        return False
    if folded[:1].isalpha() and heading(f"{folded}:").numbers:
        return False
    kinds = {token.kind for token in scan(folded, "US")}
    if not any(map(str.isalnum, folded)):
        return kinds == {T.OTHER_SIGN}
    return not kinds & {T.COLOURED, T.ROUND} and kinds not in ({T.NUMBER}, {T.WORK})


Lexicon = tuple[tuple[str, str], ...]
"""What the page says of its own words, as a pattern file has it: "pf", "puff stitch"."""


def lexicon_of(lines: Iterable[str], terms: str, nouns: Iterable[str] = ()) -> Lexicon:
    """The words that the lines explain and that are not known already as what they say, each as first explained, and
    the `nouns` that the page has for a stitch.

    A stitch that is known as another one keeps its meaning: what a page says against the trade is more likely in the
    other terms, or a slip (`contrary_words` tells of it); but one or two letters are what the page says. An increase
    is what the page makes of it, "inc = 3 sc in one stitch", as it says so in numbers.
    """
    lines = tuple(lines)
    page = fold(" ".join(lines))
    lexicon: dict[str, str] = {}
    for line in lines:
        for word in words_in(line):
            for name, term in _explained(word, terms):
                lexicon.setdefault(name, term)
    called = dict.fromkeys(nouns, "st")
    called |= {
        noun: "stitch"
        for line in lines
        for noun in _called_so(line, page, terms)
        if noun not in {**lexicon, **called}
    }
    for line in lines:
        for name, explanation in (
            *_made_so(line, terms, own_words(called.items(), terms)),
            *_changed_so(line, terms),
        ):
            lexicon.setdefault(name, explanation)
    for _ in range(_PASSES):
        words = own_words(_with_plurals({**called, **lexicon}, page, terms).items(), terms)
        changes = dict(change for line in lines for change in _made_into(line, terms, words))
        if changes.items() <= lexicon.items():
            break
        lexicon.update(changes)
    return tuple(_with_plurals({**called, **lexicon}, page, terms).items())


def names_of_stitches(lexicon: Mapping[str, str], terms: str) -> tuple[str, ...]:
    """The words that are made, or are what the page calls a stitch."""
    meanings = {name: meaning_of(explanation, terms) for name, explanation in lexicon.items()}
    made = MADE | {T.NOUN}
    return tuple(name for name, meaning in meanings.items() if meaning is not None and meaning.kind in made)


def _with_plurals(lexicon: Mapping[str, str], page: str, terms: str) -> dict[str, str]:
    """The words, each followed by its forms for several, "meshes", "varetas", that the folded page has."""
    forms: dict[str, str] = {}
    for name, explanation in lexicon.items():
        forms[name] = explanation
        for form in (f"{name}s", f"{name}es"):
            is_free = form not in lexicon and meaning_of(form, terms) is None
            if len(name) >= _SHORTEST_WITH_PLURAL and is_free and re.search(rf"\b{re.escape(form)}\b", page):
                forms[form] = explanation
    return forms


_SHORTEST_WITH_PLURAL = 2
"""Letters of a word that has another form for several."""

_PASSES = 2
"""How often words are read by those explained before them: "aum: 2 pb in one point" by "pb: sc" (and once more)."""


def _explained(word: PageWord, terms: str) -> Iterator[tuple[str, str]]:
    """The names of the word with what they mean, as far as a page may say so."""
    term = word.term(terms)
    meaning = meaning_of(term, terms) if term else None
    if meaning is None:
        return
    most = MOST_WORDS if meaning.kind in HEADS else int(meaning.kind in _SHORT_ALONE)
    if meaning.kind is T.NOUN:
        most = int(max(map(len, word.names)) <= _LONGEST_FOR_STITCH)
    for name in word.names:
        usual = meaning_of(name, terms)
        is_kept = usual is not None and usual.kind in HEADS and not _is_of_the_page(name, usual)
        if meaning != usual and not is_kept and len(name.split()) <= most and not any(map(str.isdigit, name)):
            yield name, term


_SHORT_ALONE = (T.CHAIN, T.RING, T.LOOP, T.CORNER)
"""What one word may be short for, but no phrase."""


def _is_of_the_page(name: str, usual: Meaning | None) -> bool:
    """Whether a page may call another thing so: one or two letters that no plain stitch of the trade has, or "tog",
    which is nothing alone."""
    if usual is None or usual.kind is T.TOG:
        return True
    return len(name) <= _OF_THE_PAGE and usual.kind is not T.STITCH


_OF_THE_PAGE = 2
"""Letters of a word that pages use for what they like, "v = double crochet", "ms = single crochet"."""


def _made_into(line: str, terms: str, words: tuple[OwnWord, ...]) -> Iterator[tuple[str, str]]:
    """The increases and decreases that the line explains by how they are made: "aum: augment, 2 pb in one point"."""
    for word in explanations_in(line):
        if not all(_is_of_the_page(name, meaning_of(name, terms)) for name in word.names):
            continue
        changed = change_made(word.meaning, terms, words)
        if changed:
            names = (*word.names, *_named_in_full(word, terms))
            yield from ((name, changed) for name in names if not any(map(str.isdigit, name)))


def _named_in_full(word: PageWord, terms: str) -> list[str]:
    """What it is called besides, "U - narrowing (2 sts together)", where nobody knows that either."""
    named = [part.text for part in parts_of(word.meaning)][:-1][:1]
    kinds = {token.kind for token in scan(named[0], terms)} if named else set()
    return named if T.WORD in kinds <= {T.WORD, T.WORK} and len(named[0].split()) <= MOST_WORDS else []


def _changed_so(line: str, terms: str) -> Iterator[tuple[str, str]]:
    """The increase or decrease that the line explains by its stitches, if it makes more or fewer than one stitch; and
    the cluster that it closes over several places, "cl = cluster: dc 3 together over the next 3 sts"."""
    match = _SIGNED.match(line.strip()[:_LONGEST_LINE])
    short = _BRACKETED.sub("", match["short"]).strip() if match is not None else ""
    usual = meaning_of(fold(short), terms) if short else None
    if match is None or usual is None or usual.kind not in _CHANGED:
        return
    making = match["meaning"] if usual.kind is not T.BUNCH else _BUNCH_NAMED.sub("", match["meaning"])
    kinds = {token.kind for token in scan(fold(making), terms)}
    if usual.kind is not T.BUNCH and (kinds & {T.INC, T.DEC} or T.NUMBER not in kinds):
        return  # "an increase, 2 sc in one stitch" says it twice, "double the mesh" not in numbers
    if usual.value in _IN_ONE and kinds.isdisjoint((T.OVER, T.NEXT)):
        return  # "bobble = 4 dc together" says nothing of other places than its own
    numbers = takes_and_leaves(making, terms, closes=usual.kind is not T.INC)
    if not re.fullmatch(_CHANGED[usual.kind], numbers):
        return
    yield from ((name, numbers) for name in PageWord(match["short"], making).names)


_CHANGED = {T.INC: "takes 1, leaves [3-9]", T.DEC: "takes [3-9], leaves 1", T.BUNCH: "takes [2-9], leaves 1"}
"""What a page may make of a word of the trade, and how far that is from what it usually is."""

_IN_ONE = frozenset(ONE_STITCH - {"cluster"})
"""What goes into one place unless a page says other (common practice, no source); of a cluster some do, and some are
worked over several."""

_BUNCH_NAMED = compile_later(r"^\s*[A-Za-z -]{2,20}?(?::|\s[-–]\s)\s*")
"""The name in full in front of how it is made, "cluster: dc 3 together"."""


def _called_so(line: str, page: str, terms: str) -> Iterator[str]:
    """What a translated page calls a stitch, by its word for one of them, "sc = tight mesh", or by what is worked
    into it, "aum: 2 sc in the same point"; by "kx = tight mesh" where the rest of the folded page has that word."""
    for word in explanations_in(line):
        explanation = fold(word.meaning)
        usual = meaning_of(word.names[0], terms)
        called, worked = _CALLED_ABROAD.search(explanation), _WORKED_INTO.search(explanation)
        of_stitch = worked is not None or (usual is not None and usual.kind in (T.STITCH, T.INC, T.DEC))
        if called is not None and not of_stitch and _is_literal(word.core):
            named = meaning_of(word.core, terms)
            of_stitch = named is not None and named.kind is T.STITCH and _is_beside(called["noun"], line, page)
        noun = called["noun"] if called is not None and of_stitch else ""
        if not noun and worked is not None and meaning_of(worked["noun"] or worked["several"], terms) is None:
            noun = worked["noun"] or worked["several"]
        if noun and noun not in word.names[0].split():
            yield noun
        elif _names_any_stitch(word) and meaning_of(word.names[0], terms) is None:
            yield from (name for name in word.names if _is_counted(name, page))


def _is_counted(noun: str, page: str) -> bool:
    """Whether the folded page counts something by that word, "= 18 pts", as by no title of a list."""
    return re.search(rf"(?:=|[(\[]) ?\d{{1,3}} ?{re.escape(noun)}\b", page) is not None


def _is_beside(noun: str, line: str, page: str) -> bool:
    """Whether the folded page has a word elsewhere than in this line."""
    return page.count(noun) > fold(line).count(noun)


_CALLED_ABROAD = compile_later(r"\b(?P<noun>mesh|point)(?:e?s)?\b")
"""German "Masche" and Romance "point", "punto", "ponto" as they are translated by hand: stitches (common practice, no
source)."""


def places_named(lines: Iterable[str], terms: str) -> frozenset[str]:
    """The words for a space that the lines have for what an increase or a decrease of theirs is worked into, in all
    their forms, "inc: 2 sc in one loop": where no loops are made those are stitches."""
    lines = tuple(lines)
    named: set[str] = set()
    for word in (word for line in lines for word in explanations_in(line)):
        worked, usual = _WORKED_INTO.search(fold(word.meaning)), meaning_of(word.names[0], terms)
        if worked is not None and usual is not None and usual.kind in (T.INC, T.DEC):
            noun = worked["noun"] or worked["several"]
            place = meaning_of(noun, terms)
            named |= {noun, f"{noun}s"} if place is not None and place.kind is T.SPACE else set()
    return frozenset(named)


_WORKED_INTO = compile_later(
    r"\b\d+ ?(?:\w+ )?in(?:to)? (?:the )?(?:same|one) (?:base )?(?P<noun>[^\W\d_]{1,10})\b(?: of base)?(?!\W*\w)"
    r"|\b\d+ (?P<several>[^\W\d_]{1,10}?)(?:e?s)? (?:\w+ )?together"
)
"""What only stitches are, "2 sc in the same point", where the word before it is not known."""


def explanations_in(line: str) -> Iterator[PageWord]:
    """The words and their meanings in a line that is no round, by their signs alone."""
    if heading(fold(line)).end:
        return
    for part in parts_of_list(line[:_LONGEST_LINE]):
        match = _SIGNED.match(part.strip()) or _GLOSSED.match(part.strip())
        if match is not None and _is_word(match["short"]):
            yield PageWord(match["short"].strip(), match["meaning"].strip())


def contrary_words(lines: Iterable[str], terms: str) -> tuple[PageWord, ...]:
    """The stitches that the page explains as another one than they are in these terms, "tr = double crochet"."""
    contrary: dict[str, PageWord] = {}
    for line in lines:
        for word in words_in(line):
            meaning, usual = meaning_of(word.core, terms), meaning_of(fold(word.short), terms)
            stitches = meaning is not None and usual is not None and meaning.kind is usual.kind is T.STITCH
            if stitches and meaning != usual:
                contrary.setdefault(fold(word.short), word)
    return tuple(contrary.values())


def _made_so(line: str, terms: str, stitches: tuple[OwnWord, ...]) -> Iterator[tuple[str, str]]:
    """The words that the line explains by how they are made, "TP = triple picot (ch 3, sl st in first ch)", and what
    they take and leave by that. "Star: ch 6, join" may be a piece: without a bracket another sign has to say so."""
    if heading(fold(line)).end:
        return
    for word in names_in(line):
        making = _MAKING.fullmatch(word.meaning)
        if making is None and not _EQUALS.search(line) and not _IN_ONE_PLACE.search(word.meaning):
            continue
        numbers = takes_and_leaves(making["making"] if making else word.meaning, terms, stitches)
        for name in (word.short, making["name"] if making else "") if numbers else ():
            phrase = " ".join(phrase_words(fold(name)))
            if _ALL_LETTERS.fullmatch(phrase) and len(phrase.split()) <= MOST_WORDS and not is_term(phrase):
                yield phrase, numbers


_MAKING = compile_later(r"(?P<name>[A-Za-z -]*)[(\[](?P<making>[^()\[\]]{8,})[)\]]\W*")
"""How a stitch is made, in brackets behind its name."""

_EQUALS = compile_later(r"^[^=]{1,12}=")
_IN_ONE_PLACE = compile_later(r"\bin(?:to)? (?:the )?(?:one|same) (?:st|stitch)\b", re.I)
_ALL_LETTERS = compile_later(r"[a-z ]{2,}")


def is_term(phrase: str) -> bool:
    """Whether a phrase is one of the trade's words, or an increase or decrease of one, in US or in UK terms."""
    words = phrase_words(re.sub(r"\((s|es)\)", "", phrase))
    return any(map(str.isalnum, phrase)) and any(
        (meaning(words, terms) or (T.FILLER,))[0] is not T.FILLER or meaning_of(phrase, terms) is not None
        for terms in ("US", "UK")
    )


def names_in(line: str) -> tuple[PageWord, ...]:
    """The words that the line explains by others that are not known either: "TP = triple picot (ch 3, ...)"."""
    words: list[PageWord] = []
    for part in parts_of_list(line[:_LONGEST_LINE]):
        match = _SIGNED.match(part.strip())
        if match is None or len(match["short"]) > _LONGEST_NAME:
            continue
        word = PageWord(match["short"].strip(), match["meaning"].strip())
        if _is_known(word.short) or not _is_word(word.short):
            continue
        if word.core and not is_term(word.core) and not word.term("US"):
            words.append(word)
    return tuple(words)


def _is_known(short: str) -> bool:
    """Whether a word of the page is one of the trade's, or says what to make as it stands: "hdc2tog"."""
    return is_term(fold(short)) or (any(map(str.isdigit, short)) and bool(acts(read_line(short, Context()).body)))


_LONGEST_NAME = 8
"""Characters of a word that a page only names."""


def words_unexplained(texts: Sequence[str], rounds: str, explained: Container[str]) -> tuple[PageWord, ...]:
    """The words that these lines explain by others that are not known, and that the rounds have."""
    by_short = {word.short.lower(): word for text in texts if not is_label(text) for word in names_in(text)}
    return tuple(
        word
        for short, word in by_short.items()
        if short not in explained and re.search(rf"(?<![\w-]){re.escape(short)}(?![\w-])", rounds, re.I)
    )
