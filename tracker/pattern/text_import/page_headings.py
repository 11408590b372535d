"""What a page calls its rounds, where that is no word of the trade: "Runde 3:", "Omg 3 ~", "3rd circle:"."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from itertools import pairwise

from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.lexer import scan
from tracker.notation.own_words import ROUND_NUMBERS, meaning_of
from tracker.notation.parser.heading import heading
from tracker.notation.token_kinds import AND_IN_HEADS, MADE, WORD_GROUPS, T
from tracker.notation.vocabulary import meaning
from tracker.pattern.text_import.explanation import parts_of
from tracker.pattern.text_import.page_words import explanations_in, names_of_stitches
from tracker.pattern.text_import.sections import section_in
from tracker.pattern.toml_writer import Draft

_ORDINAL = r"(?:-?(?:st|nd|rd|th)|[.o])?"
_NUMBER = (
    rf"(?P<{{0}}>\d{{{{1,3}}}}){_ORDINAL}"
    rf"(?: ?(?:[-~/,&+]|to|a|bis|t/m|{'|'.join(AND_IN_HEADS)}) ?(?:{{2}} ?)?(?P<{{1}}>\d{{{{1,3}}}}){_ORDINAL})?"
)
_HEAD = compile_later(
    rf"[^\w\n]*(?:(?P<word>[^\W\d_]{{1,14}})\.?[ ]*#?[ ]*{_NUMBER.format('first', 'last', '(?P=word)')}(?!\d)"
    rf"|{_NUMBER.format('begin', 'end', '(?!)')}[ ]*(?P<after>[^\W\d_]{{1,14}})"
    r"(?:[ ]*(?=[:=.)-])|(?<=\w\w)(?=[ ]{2,})))"
)
"""A word and a number at the head of a line, in either order."""

_FEWEST = 3
"""Lines that a word has to head before it is taken for that of a round: two may be two petals or two steps."""

_GOING_ON = 0.7
"""How many of the numbers go on by one or begin anew, as those of rounds do; what is listed in another order is not
worked one behind the other."""

_WORKING = 0.6
"""How many of the lines name stitches behind their head, or state a total; others may fasten off, or stuff."""

_TOTAL = compile_later(
    r"(?:[(\[] ?\d{1,4}[^()\[\]]{0,20}[)\]]|(?:[=:]|\s-) ?\d{1,4}(?: ?[^\W\d]{1,12})?)(?: ?\.[^.]{0,40})?[ .!]*$"
)


def round_words(
    lines: Sequence[str], texts: Sequence[str], terms: str, explained: Mapping[str, str]
) -> dict[str, str]:
    """The page's own words for a round or a row, as its `lines` use them or its units, the `texts`, explain them,
    with which of both they are; `explained` are its other words."""
    heads = (*round_words_of(lines, terms, explained), *round_words_counted(lines, terms))
    return {**round_words_explained(texts, terms), **dict.fromkeys(heads, "rnd")}


def round_words_of(lines: Sequence[str], terms: str, explained: Mapping[str, str] = {}) -> tuple[str, ...]:
    """The word that heads the rounds of a page that has hardly any others, folded, and its other forms, "runde",
    "runden"; empty if they are headed as the trade does, or by no word. `explained` are the page's words."""
    own = names_of_stitches(explained, terms)
    numbers: dict[str, list[tuple[int, tuple[int, int]]]] = defaultdict(list)
    working: dict[str, int] = defaultdict(int)
    totals: dict[str, int] = defaultdict(int)
    headed = 0
    is_begun = False
    parts = WORD_GROUPS["PARTS"].split("|")
    for place, line in enumerate(lines):
        folded = fold(line)
        head = heading(folded)
        called = re.search("[a-z]+", folded[slice(*head.span)]) if head.numbers else None
        if called is not None and (len(called[0]) > 1 or called[0] == "r"):  # another letter is one of the page
            is_begun = is_begun or 1 in head.numbers
            headed += 1
            continue
        match = _HEAD.match(folded)
        word = (match["word"] or match["after"]) if match is not None else None
        if match is None or word is None or word in parts or word in own or not _may_head(word, terms):
            continue
        first, last = (match["first"], match["last"]) if match["word"] else (match["begin"], match["end"])
        numbers[word].append((place, (int(first), int(last or first))))
        states = _TOTAL.search(folded, match.end()) is not None
        totals[word] += states
        working[word] += states or _names_stitches(folded[match.end() :], terms, own)
    for word in sorted(numbers, key=lambda word: -len(numbers[word])):
        forms = [other for other in numbers if other[:_STEM] == word[:_STEM]]
        listed = [number for _, number in sorted(place for form in forms for place in numbers[form])]
        if len(listed) < max(_FEWEST, 2 * headed) or sum(working[form] for form in forms) < _WORKING * len(listed):
            continue
        if is_begun and sum(totals[form] for form in forms) < _WORKING * len(listed):
            continue  # its rounds have a word: "Step 1: ch 12" behind them is none
        # "3 - 2 sc" has the look of a range, and is none.
        goes_on = sum(after[0] in (1, before[0] + 1, before[1] + 1) for before, after in pairwise(listed))
        if listed[0][0] == 1 and goes_on >= _GOING_ON * (len(listed) - 1):
            return tuple(forms)
    return ()


def round_words_explained(lines: Sequence[str], terms: str) -> dict[str, str]:
    """The words of one part that the page says are short for a round or a row, "H = hilera (row)", and that head a
    line with a number, with which of both they are."""
    explained: dict[str, str] = {}
    for line in lines:
        for word in explanations_in(line):
            named = [part.text for part in parts_of(word.meaning) if _is_round(part.text, terms)]
            if named and all(name.isalpha() and meaning((name,), terms) is None for name in word.names):
                explained |= dict.fromkeys(word.names, named[0])
    heads = {match["word"] or match["after"] for line in lines if (match := _HEAD.match(fold(line)))}
    return {word: meaning for word, meaning in explained.items() if word in heads}


_COUNTING = compile_later(r"\d.*?(?<!\w)(?P<count>\d{1,3}) (?P<word>[^\W\d_]{2,14})\s*[)\]]?[\s.]*$")
""" "32 sc  5 laps", "36 sc (7 laps)": what a line ends in that says how many rounds it is for."""

_FEWEST_COUNTING = 2
"""Ranges of rounds whose numbers it has to count: five rounds over "5 pb" may be five of anything once."""


def round_words_counted(lines: Sequence[str], terms: str) -> tuple[str, ...]:
    """The words with which the ranges of a page say how many rounds they are, "7-13) 36 sc (7 giri)", and that no
    range has for anything else."""
    counted: dict[str, set[tuple[int, bool]]] = defaultdict(set)
    for line in lines:
        folded = fold(line)
        head = heading(folded)
        match = _COUNTING.search(folded, head.end) if len(head.numbers) > 1 else None
        if match is not None and meaning((match["word"],), terms) is None:
            count = int(match["count"])
            counted[match["word"]].add((count, count == len(head.numbers)))
    return tuple(
        word
        for word, counts in counted.items()
        if len(counts) >= _FEWEST_COUNTING and all(agrees for _, agrees in counts)
    )


def _is_round(phrase: str, terms: str) -> bool:
    sense = meaning_of(phrase, terms)
    return sense is not None and sense.kind is T.ROUND


_STEM = 3
"""Letters that the forms of a word share, "giro" and "giri"."""


def _may_head(word: str, terms: str) -> bool:
    """Whether it is no word that says something else with a number behind it, "sc 3", "note 2"."""
    sense = meaning((word,), terms)
    return (sense is None or sense[0] in (T.WORD, T.RING, T.ROUND, T.BEGINNING)) and section_in(f"{word}:") is None


def _names_stitches(text: str, terms: str, own: Collection[str]) -> bool:
    return any(token.kind in MADE or token.text in own for token in scan(text, terms))


def with_printed_heads(draft: Draft, printed: Sequence[str], read: Sequence[str]) -> Draft:
    """The draft with the heads of its rounds, notes and steps as the page has them, where others were read in their
    place; one that also stands on the page as it was read stays."""
    if printed == read:
        return draft  # hardly any page has a word of its own
    heads: dict[tuple[str, bool], str] = {}
    for typed, line in zip(printed, read, strict=True):
        for match in _READ.finditer(line):
            head, as_typed = match[0].strip(), typed[match.start() : match.end()].strip()
            place = head, _leads(match)
            heads[place] = heads.get(place, as_typed) if as_typed != head else head

    def restored(text: str) -> str:
        return "\n".join(_restored(line, heads) for line in text.split("\n"))

    pieces = tuple(replace(piece, text=restored(piece.text)) for piece in draft.pieces)
    notes, making_up = tuple(map(restored, draft.notes)), tuple(map(restored, draft.making_up))
    return replace(draft, pieces=pieces, notes=notes, making_up=making_up)


def _restored(line: str, heads: Mapping[tuple[str, bool], str]) -> str:
    def as_typed(match: re.Match[str]) -> str:
        head = match[0].strip()
        blanks = match[0][: -len(head)]
        typed = heads.get((head, _leads(match)), heads.get((head, False), head))
        return (blanks[:1] if match.start() else blanks) + typed

    return _READ.sub(as_typed, line)


def _leads(match: re.Match[str]) -> bool:
    """Whether it stands at the head of its line, and does not name another round in it."""
    return not any(map(str.isalnum, match.string[: match.start()]))


_READ = compile_later(rf" *\b(?:(?:Rnd\b|R(?=\b|\d)) *[.#]? *{ROUND_NUMBERS}|{ROUND_NUMBERS} *(?:Rnd|R)\b)")
