"""A folded line to a row of words with columns.

Nothing is refused here: a word that is not known becomes `T.WORD` and the grammar decides what to make of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache

from tracker.notation.lexicon import COLOUR_WORDS, NUMBERS, T, lexicon
from tracker.notation.problems import Span

_ATOM = re.compile(r"-{1,3}>|=>|\d+|[a-z]+(?:'[a-z]+)*|\*+|\n|[^\s\w]|\S")
_ORDINAL_ENDING = frozenset({"st", "nd", "rd", "th"})
_BRACKETS = {"(": ")", "[": "]", "{": "}", "<": ">"}
_CUT_SHORT = frozenset({"sl", "inv", "adj", "invis", "s", "f", "no", "rev"})
"""Words that are written with a full stop inside a phrase: "sl. st", "inv. dec"."""

_SIGNS = {
    ",": T.COMMA,
    ";": T.SEMI,
    ".": T.DOT,
    ":": T.COLON,
    "-": T.DASH,
    "~": T.DASH,
    "=": T.EQUALS,
    "+": T.PLUS,
    "&": T.AND,
    "/": T.SLASH,
    "|": T.SLASH,
    "\n": T.NEWLINE,
    "!": T.DOT,
    "?": T.DOT,
}


@dataclass(frozen=True, slots=True)
class Token:
    """One word or sign. `glued` says that no space stands before it; `start` and `end` are offsets in the text."""

    kind: T
    value: object
    text: str
    start: int
    end: int
    glued: bool = False
    typed: str = ""
    """What was typed, where a slip of the keyboard was forgiven."""

    @property
    def number(self) -> int:
        assert isinstance(self.value, int)
        return self.value

    @property
    def name(self) -> str:
        assert isinstance(self.value, str)
        return self.value


@dataclass(frozen=True, slots=True)
class Atom:
    text: str
    start: int
    glued: bool

    @property
    def end(self) -> int:
        return self.start + len(self.text)


class Lines:
    """Turns offsets in a text of one or more lines into line and column."""

    def __init__(self, text: str) -> None:
        self._starts = [0]
        for match in re.finditer("\n", text):
            self._starts.append(match.end())

    def span(self, start: int, end: int) -> Span:
        line = 0
        while line + 1 < len(self._starts) and self._starts[line + 1] <= start:
            line += 1
        base = self._starts[line]
        return Span(line, start - base, max(start + 1, end) - base)


def scan(text: str, terms: str, colours: frozenset[str] = frozenset()) -> list[Token]:
    """The words of `text`, which must be folded. `colours` are the pattern's own yarn keys, in lower case."""
    atoms = [
        Atom(m.group(), m.start(), m.start() > 0 and not text[m.start() - 1].isspace()) for m in _ATOM.finditer(text)
    ]
    return list(_tokens(atoms, terms, colours))


def _tokens(atoms: list[Atom], terms: str, colours: frozenset[str]) -> Iterator[Token]:
    place = 0
    token: Token | None
    while place < len(atoms):
        atom = atoms[place]
        if atom.text[0].isdigit():
            token, place = _number(atoms, place)
        elif atom.text[0].isalpha():
            token, place = _word(atoms, place, terms, colours)
        else:
            token, place = _sign(atoms, place)
        if token is not None:
            yield token


def _number(atoms: list[Atom], place: int) -> tuple[Token, int]:
    atom = atoms[place]
    after = atoms[place + 1] if place + 1 < len(atoms) else None
    value = int(atom.text[:20])
    if after and after.glued and after.text in _ORDINAL_ENDING and not _is_count_of_stitches(atoms, place):
        return Token(T.ORDINAL, value, atom.text + after.text, atom.start, after.end, atom.glued), place + 2
    return Token(T.NUMBER, value, atom.text, atom.start, atom.end, atom.glued), place + 1


def _is_count_of_stitches(atoms: list[Atom], place: int) -> bool:
    """ "12st" is twelve stitches; "1st", "21st" are ordinals."""
    return atoms[place + 1].text == "st" and (atoms[place].text[-1] != "1" or atoms[place].text.endswith("11"))


@cache
def _by_first_word(terms: str) -> dict[str, list[tuple[tuple[str, ...], tuple[T, object]]]]:
    table: dict[str, list[tuple[tuple[str, ...], tuple[T, object]]]] = {}
    for phrase, meaning in lexicon(terms).items():
        table.setdefault(phrase[0], []).append((phrase, meaning))
    for entries in table.values():
        entries.sort(key=lambda entry: -len(entry[0]))
    return table


def _word(atoms: list[Atom], place: int, terms: str, colours: frozenset[str]) -> tuple[Token | None, int]:
    first = atoms[place]
    spelt = _spelt_number(atoms, place)
    if spelt is not None:
        return spelt
    for phrase, (kind, value) in _by_first_word(terms).get(first.text, ()):
        end = _matches(atoms, place, phrase)
        if end is not None and not (len(phrase) == 1 and first.text in colours):
            text = " ".join(phrase)
            return Token(kind, value, text, first.start, atoms[end - 1].end, first.glued), end
    kind = T.COLOURED if first.text in COLOUR_WORDS or first.text in colours else T.WORD
    forgiven = _forgiven(first.text) if kind is T.WORD else ""
    if forgiven:
        kind, value = lexicon(terms)[(forgiven,)]
        return Token(kind, value, forgiven, first.start, first.end, first.glued, first.text), place + 1
    return Token(kind, first.text, first.text, first.start, first.end, first.glued), place + 1


def _spelt_number(atoms: list[Atom], place: int) -> tuple[Token, int] | None:
    """ "twenty-one", "thirty six" as one number."""
    tens = NUMBERS.get(atoms[place].text, 0)
    if tens < 20:
        return None
    after = place + 2 if place + 2 < len(atoms) and atoms[place + 1].text == "-" else place + 1
    units = NUMBERS.get(atoms[after].text, 0) if after < len(atoms) else 0
    if not 1 <= units <= 9:
        return None
    text = f"{atoms[place].text} {atoms[after].text}"
    return Token(T.NUMBER, tens + units, text, atoms[place].start, atoms[after].end, atoms[place].glued), after + 1


_OFTEN_MISTYPED = ("repeat", "around", "stitch", "stitches", "increase", "decrease", "each", "remaining", "times")


@cache
def _forgiven(word: str) -> str:
    """The everyday word that a mistyped one must be; stitch names are never guessed."""
    if len(word) < 4:
        return ""
    near = [known for known in _OFTEN_MISTYPED if _is_slip(word, known)]
    return near[0] if len(near) == 1 else ""


def _is_slip(word: str, known: str) -> bool:
    """Two neighbouring letters swapped, one lost, one doubled or one changed in a longer word."""
    if sorted(word) == sorted(known):
        return word[0] == known[0]
    if len(known) < 6 or word[0] != known[0]:
        return False
    if abs(len(word) - len(known)) > 1:
        return False
    return SequenceMatcher(None, word, known).ratio() >= 0.85


def _matches(atoms: list[Atom], place: int, phrase: tuple[str, ...]) -> int | None:
    """Where the phrase ends, if it stands at `place`; a hyphen or full stop between its words is passed over."""
    for index, word in enumerate(phrase):
        if index and place < len(atoms) and _joins_words(atoms, place):
            place += 1
        if place >= len(atoms) or atoms[place].text != word:
            return None
        place += 1
    return place


def _joins_words(atoms: list[Atom], place: int) -> bool:
    if atoms[place].text == "-":
        return place + 1 < len(atoms) and atoms[place].glued and atoms[place + 1].glued
    return atoms[place].text == "." and atoms[place].glued and atoms[place - 1].text in _CUT_SHORT


def _sign(atoms: list[Atom], place: int) -> tuple[Token | None, int]:
    atom = atoms[place]
    if atom.text[0] == "*":
        return Token(T.MARK, atom.text, atom.text, atom.start, atom.end, atom.glued), place + 1
    if atom.text in _BRACKETS:
        return Token(T.OPEN, _BRACKETS[atom.text], atom.text, atom.start, atom.end, atom.glued), place + 1
    if atom.text in _BRACKETS.values():
        return Token(T.CLOSE, atom.text, atom.text, atom.start, atom.end, atom.glued), place + 1
    kind = T.EQUALS if len(atom.text) > 1 and atom.text.endswith(">") else _SIGNS.get(atom.text, T.OTHER_SIGN)
    if kind is T.OTHER_SIGN and atom.text in "'\"_`#":
        return None, place + 1
    if kind is T.DASH and _is_hyphen(atoms, place):
        return None, place + 1
    return Token(kind, atom.text, atom.text, atom.start, atom.end, atom.glued), place + 1


def _is_hyphen(atoms: list[Atom], place: int) -> bool:
    """A dash with no space on either side, with a letter on one of them: "ch-3", "3-ch"."""
    if not (atoms[place].glued and 0 < place < len(atoms) - 1 and atoms[place + 1].glued):
        return False
    return atoms[place - 1].text[-1].isalpha() or atoms[place + 1].text[0].isalpha()
