"""A folded line to a row of words with columns.

Nothing is refused here: a word that is not known becomes `T.WORD` and the grammar decides what to make of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from tracker.normalize import LONGEST_KEPT
from tracker.notation.glued_words import Atom, parted
from tracker.notation.mistyping import forgive, forgive_phrase
from tracker.notation.token_kinds import BASES, NUMBERS, ORDINALS, T
from tracker.notation.token_stream import PhrasePattern, Token, shape_of
from tracker.notation.vocabulary import COLOUR_WORDS, beginning_with, meaning

_ATOM = re.compile(r"([^\S\n]*)(-{1,3}>|=>|<-{1,3}|-{2,3}|\d+|[^\W\d_в]+(?:'[^\W\d_в]+)*|\*+|\n|\S)")
"""A word or a sign behind the blanks before it; the Cyrillic letter is a word of its own, "7 scв ring"."""
_ORDINAL_ENDING = frozenset({"st", "nd", "rd", "th"})
_BRACKETS = {"(": ")", "[": "]", "{": "}", "<": ">"}

_SIGNS = {
    ",": T.COMMA,
    ";": T.SEMI,
    ".": T.DOT,
    ":": T.COLON,
    "-": T.DASH,
    "~": T.DASH,
    "--": T.DASH,
    "---": T.DASH,
    "<-": T.DASH,
    "<--": T.DASH,
    "<---": T.DASH,
    "\u2190": T.DASH,
    "=": T.EQUALS,
    "+": T.PLUS,
    "&": T.AND,
    "/": T.SLASH,
    "|": T.SLASH,
    "\n": T.NEWLINE,
    "!": T.DOT,
    "?": T.DOT,
}


def scan(text: str, terms: str, colours: frozenset[str] = frozenset()) -> list[Token]:
    """The words of `text`, which must be folded. `colours` are the pattern's own yarn keys, in lower case."""
    return list(_kept_scan(text, terms, colours) if len(text) <= LONGEST_KEPT else _scanned(text, terms, colours))


def scan_behind(text: str, start: int, terms: str, colours: frozenset[str] = frozenset()) -> list[Token]:
    """The words of folded `text` behind the heading that ends at `start`, in the columns where they stand."""
    return scan(" " * start + text[start:], terms, colours)


@lru_cache(maxsize=1_024)  # a line of a page is looked at by each of its neighbours
def _kept_scan(text: str, terms: str, colours: frozenset[str]) -> tuple[Token, ...]:
    return tuple(_scanned(text, terms, colours))


def _scanned(text: str, terms: str, colours: frozenset[str]) -> Iterator[Token]:
    atoms = list(_atoms(text))
    return _tokens(
        parted(_joined(atoms, terms) if "-" in text and "\n" in text else atoms, terms, colours), terms, colours
    )


def _atoms(text: str) -> Iterator[Atom]:
    start, above = 0, "\n"
    for blanks, word in _ATOM.findall(text.rstrip(" ")):
        start += len(blanks)
        end = start + len(word)
        yield Atom(word, start, end, not blanks and above != "\n")
        start, above = end, word


def _joined(atoms: list[Atom], terms: str) -> list[Atom]:
    """The atoms with what a hyphen cuts at the end of a line as one: "re-" over "peat", "sc2-" over "tog"."""
    joined: list[Atom] = []
    place = 0
    while place < len(atoms):
        atom = atoms[place]
        place += 1
        cut = atom.glued and [after.text for after in (atom, *atoms[place : place + 1])] == ["-", "\n"]
        before, after = joined[-1:], atoms[place + 1 : place + 2]
        if not (cut and before and after and before[0].text[0].isalnum() and after[0].text[0].isalpha()):
            joined.append(atom)
            continue
        word = before[0].text + after[0].text
        place += 2
        if beginning_with(word, terms).meanings or not _are_words(before[0].text, after[0].text, terms):
            joined[-1] = before[0]._replace(text=word, end=after[0].end)
        else:
            joined.append(after[0]._replace(glued=True))
    return joined


def _are_words(first: str, second: str, terms: str) -> bool:
    """Whether one of two parts is a word of the trade by itself: "half-" over "double", "2-" over "tog"."""
    return any(part.isdecimal() or beginning_with(part, terms).meanings for part in (first, second))


def _tokens(atoms: list[Atom], terms: str, colours: frozenset[str]) -> Iterator[Token]:
    place = 0
    token: Token | None
    while place < len(atoms):
        first = atoms[place].text[0]
        if first.isdecimal():
            token, place = _number(atoms, place, terms)
        elif first.isalpha():
            token, place = _word(atoms, place, terms, colours)
        else:
            token, place = _sign(atoms, place)
        if token is not None:
            yield token


def _number(atoms: list[Atom], place: int, terms: str) -> tuple[Token, int]:
    atom = atoms[place]
    after = atoms[place + 1] if place + 1 < len(atoms) else None
    value = int(atom.text[:20])
    if after and after.glued and _ends_ordinal(atoms, place) and not _is_count_of_stitches(atoms, place):
        named = _phrase_with_ordinal(atoms, place, value, terms)
        if named is not None:
            return named
        return Token(T.ORDINAL, value, atom.text + after.text, atom.start, after.end, atom.glued), place + 2
    if _is_ordinal_by_stop(atoms, place, terms):
        return Token(T.ORDINAL, value, f"{atom.text}.", atom.start, atoms[place + 1].end, atom.glued), place + 2
    return Token(T.NUMBER, value, atom.text, atom.start, atom.end, atom.glued), place + 1


def _is_ordinal_by_stop(atoms: list[Atom], place: int, terms: str) -> bool:
    """ "in the 4. ch from hook", "every 3. st": a number with the stop that makes it an ordinal in other languages"""
    after = atoms[place + 1 : place + 4]
    if place == 0 or atoms[place - 1].text not in _BEFORE_ORDINAL or len(after) < 2 or after[0].text != ".":
        return False
    if not after[0].glued or after[1].glued or not after[1].text.isalpha():
        return False
    word = meaning((after[1].text,), terms)
    return (word is None or word[0] in BASES or word[0] is T.ROUND) and not any(
        atom.text.isdecimal() for atom in after[2:]
    )


_BEFORE_ORDINAL = ("the", "in", "into", "every", "each", "as", "like")


def _ends_ordinal(atoms: list[Atom], place: int) -> bool:
    """Whether the letters behind a number make it one: "2nd round", and "2d round" as it was set once, but "2d c" are
    two of a stitch in letters."""
    ending = atoms[place + 1].text
    if ending != "d":
        return ending in _ORDINAL_ENDING
    behind = atoms[place + 2].text if place + 2 < len(atoms) else ""
    return atoms[place].text[-1] in "23" and len(behind) > 1 and behind.isalpha()


def _phrase_with_ordinal(atoms: list[Atom], place: int, value: int, terms: str) -> tuple[Token, int] | None:
    """ "3rd loop" as "third loop": a phrase of several words that begins with an ordinal, spelt in figures"""
    spelt = _SPELT_ORDINALS.get(value)
    if spelt is None:
        return None
    phrases = beginning_with(spelt, terms)
    first = atoms[place]._replace(text=spelt)
    words, ends = _words_from([first, *atoms[place + 2 : place + 8]], 0, phrases.longest)
    for length in range(len(words), 1, -1):
        sense = phrases.meanings.get(tuple(words[:length]))
        if sense is not None:
            end = place + 1 + ends[length - 1]
            text = " ".join(words[:length])
            return Token(*sense, text, first.start, atoms[end - 1].end, first.glued), end
    return None


_SPELT_ORDINALS = {number: word for word, number in ORDINALS.items()}


def _is_count_of_stitches(atoms: list[Atom], place: int) -> bool:
    """ "12st" is twelve stitches; "1st", "21st" are ordinals."""
    return atoms[place + 1].text == "st" and (atoms[place].text[-1] != "1" or atoms[place].text.endswith("11"))


def _word(atoms: list[Atom], place: int, terms: str, colours: frozenset[str]) -> tuple[Token, int]:
    first = atoms[place]
    after = atoms[place + 1] if place + 1 < len(atoms) else None
    if after is not None and after.glued and _is_numbered_key(first.text, after.text, colours):
        text = first.text + after.text
        return Token(T.COLOURED, text, text, first.start, after.end, first.glued), place + 2
    if first.text in ("r", "t", "v") and first.text not in colours and _names_round(atoms, place):
        return Token(T.ROUND, None, first.text, first.start, first.end, first.glued), place + 1
    token_and_end = _spelt_number(atoms, place) or _phrase(atoms, place, terms, colours)
    token_and_end = token_and_end or _plural(atoms, place, terms, colours)
    if token_and_end is not None:
        return (token_and_end[0]._replace(typed=first.typed), token_and_end[1]) if first.typed else token_and_end
    if first.text in COLOUR_WORDS or first.text in colours:
        return Token(T.COLOURED, first.text, first.text, first.start, first.end, first.glued), place + 1
    forgiven = forgive(first.text)
    forgiven_as = meaning((forgiven,), terms) if forgiven else None
    if forgiven_as is not None:
        kind, value = forgiven_as
        return Token(kind, value, forgiven, first.start, first.end, first.glued, first.text), place + 1
    after = atoms[place + 1] if place + 1 < len(atoms) else None
    phrase = forgive_phrase(first.text, after.text) if after is not None else ""
    phrase_as = meaning(tuple(phrase.split()), terms) if phrase else None
    if after is not None and phrase_as is not None:
        kind, value = phrase_as
        typed = f"{first.text} {after.text}"
        return Token(kind, value, phrase, first.start, after.end, first.glued, typed), place + 2
    return Token(T.WORD, first.text, first.text, first.start, first.end, first.glued), place + 1


def _is_numbered_key(letters: str, figures: str, colours: frozenset[str]) -> bool:
    """ "CC2", and what the pattern calls its yarns: "C1", also where it lists them as "colour 1"."""
    listed = letters + figures in colours or (letters == "c" and figures in colours)
    return figures.isdecimal() and (letters in ("cc", "mc") or listed)


def _names_round(atoms: list[Atom], place: int) -> bool:
    """ "repeat R2", "as T4": the letter of a round, in other languages behind "as", and its number right behind it;
    "like 2. R" """
    if [atom.text for atom in atoms[max(place - 3, 0) : place]][::2] in (["as", "."], ["like", "."]):
        return atoms[place - 2].text.isdecimal()
    is_letter = atoms[place].text == "r" or (place > 0 and atoms[place - 1].text in ("as", "like"))
    return is_letter and place + 1 < len(atoms) and atoms[place + 1].glued and atoms[place + 1].text[0].isdecimal()


def _plural(atoms: list[Atom], place: int, terms: str, colours: frozenset[str]) -> tuple[Token, int] | None:
    """ "2 hdc's", "in each of the sc's": more than one of a stitch, written as if it owned something"""
    first = atoms[place]
    if not first.text.endswith("'s"):
        return None
    read = _phrase([first._replace(text=first.text.removesuffix("'s"))], 0, terms, colours)
    if read is None or read[0].kind not in _NAMED_IN_PLURAL:
        return None
    return read[0]._replace(text=first.text, end=first.end), place + 1


_NAMED_IN_PLURAL = frozenset((T.STITCH, T.POSTED, T.INC, T.DEC, T.BUNCH, T.CHAIN, T.SPACE))


def _phrase(atoms: list[Atom], place: int, terms: str, colours: frozenset[str]) -> tuple[Token, int] | None:
    """The longest phrase that begins here; a yarn key of the pattern is no phrase of one word."""
    first = atoms[place]
    phrases = beginning_with(first.text, terms)
    if not phrases.meanings:
        return None
    after = atoms[place + 1].text if place + 1 < len(atoms) else ""
    goes_on = after in phrases.seconds or after in _PASSED_OVER
    words, ends = _words_from(atoms, place, phrases.longest if goes_on else 1)
    is_key = first.text in colours and first.text != "a"  # whether "a" is the yarn A is told by what stands beside it
    for length in range(len(words), 1 if is_key else 0, -1):
        sense = phrases.meanings.get(tuple(words[:length]))
        if sense is not None and not (sense[0] is T.STITCH and length > 1 and _names_centre(atoms, place)):
            text = " ".join(words[:length])
            return Token(*sense, text, first.start, atoms[ends[length - 1] - 1].end, first.glued), ends[length - 1]
    return None


def _names_centre(atoms: list[Atom], place: int) -> bool:
    """ "3 dc in the centre dc": which one it goes into, and not the stitch that is called so"""
    before = [atom.text for atom in atoms[max(place - 2, 0) : place] if atom.text != "the"]
    return atoms[place].text in ("centre", "center") and before[-1:] in (["in"], ["into"], ["to"], ["until"])


def _words_from(atoms: list[Atom], place: int, most: int) -> tuple[list[str], list[int]]:
    """Up to so many words, and where each ends; a hyphen or a line end between them is passed over."""
    words: list[str] = []
    ends: list[int] = []
    while len(words) < most and place < len(atoms):
        if words and atoms[place].text in _PASSED_OVER and _joins_words(atoms, place):
            place += 1
            if place == len(atoms):
                break
        words.append(atoms[place].text)
        place += 1
        ends.append(place)
    return words, ends


def _spelt_number(atoms: list[Atom], place: int) -> tuple[Token, int] | None:
    """ "twenty-one", "thirty six" as one number."""
    tens = NUMBERS.get(atoms[place].text, 0)
    # Numbers up to twenty are words of their own.
    if tens < 20:
        return None
    after = place + 2 if place + 2 < len(atoms) and atoms[place + 1].text == "-" else place + 1
    units = NUMBERS.get(atoms[after].text, 0) if after < len(atoms) else 0
    # "twenty-one" to "twenty-nine".
    if not 1 <= units <= 9:
        return None
    text = f"{atoms[place].text} {atoms[after].text}"
    return Token(T.NUMBER, tens + units, text, atoms[place].start, atoms[after].end, atoms[place].glued), after + 1


_PASSED_OVER = ("-", "\n")
"""What may stand between the words of a phrase."""


def _joins_words(atoms: list[Atom], place: int) -> bool:
    if atoms[place].text == "-":
        return place + 1 < len(atoms) and atoms[place].glued and atoms[place + 1].glued
    return atoms[place].text == "\n"


def _sign(atoms: list[Atom], place: int) -> tuple[Token | None, int]:
    text, start, end, glued, _ = atoms[place]
    kind, value = _meaning_of_sign(text)
    if kind is T.OTHER_SIGN and text in "'\"_`#":
        return None, place + 1
    if kind is T.DASH and text != "~" and _is_hyphen(atoms, place):
        return None, place + 1
    return Token(kind, value, text, start, end, glued), place + 1


@lru_cache(maxsize=256)
def _meaning_of_sign(text: str) -> tuple[T, str]:
    if text[0] == "*":
        return T.MARK, text
    if text in _BRACKETS:
        return T.OPEN, _BRACKETS[text]
    if text in _BRACKETS.values():
        return T.CLOSE, text
    return T.EQUALS if len(text) > 1 and text.endswith(">") else _SIGNS.get(text, T.OTHER_SIGN), text


_OF_SPACES = ("sp", "sps", "space", "spaces")


def _is_hyphen(atoms: list[Atom], place: int) -> bool:
    """A dash with no space on either side, with a letter on one of them: "ch-3", "3-ch"; a space that slipped in
    parts no name of a space, as in "ch- 3 sp" and "ch -sp"."""
    if 0 < place < len(atoms) - 1 and atoms[place].glued != atoms[place + 1].glued:
        before, after = atoms[place - 1].text, atoms[place + 1].text
        return (after in _OF_SPACES and before[-1].isalnum()) or (before == "ch" and after.isdigit())
    if not (atoms[place].glued and 0 < place < len(atoms) - 1 and atoms[place + 1].glued):
        return False
    return atoms[place - 1].text[-1].isalpha() or atoms[place + 1].text[0].isalpha()


# Words that change nothing, and words that say something else by those beside them.


def without_fillers(tokens: list[Token]) -> list[Token]:
    """Words that change nothing are left out, and those that say something else by the words beside them are of that
    sort; an "a" that is glued to a number is a letter."""
    spoken = [
        token
        for index, token in enumerate(tokens)
        if (token.kind is not T.FILLER or token.text in ("a", "or", "complete") or _begins_bracket(tokens, index))
        and not _is_typed_twice(tokens, index)
    ]
    line = shape_of(spoken)
    kept: list[Token] = []
    for index, token in enumerate(spoken):
        if token.kind in (T.INC, T.DEC, T.WORD) and (even := _denied_with(kept, spoken[index - 1], token)):
            del kept[even:]
            continue
        senses = _OTHER_SENSES.get(token.kind, ())
        sense = next((kind for kind, phrase in senses if phrase.length(line, index)), token.kind)
        if sense is T.FILLER and token.text == "a" and token.glued:
            sense = T.WORD
        if sense is not T.FILLER:
            kept.append(token if sense is token.kind else token._replace(kind=sense))
    return kept


def _is_typed_twice(tokens: list[Token], index: int) -> bool:
    """ "2 sc in in next sc": a little word that stands there once too often"""
    before, token = tokens[index - 1] if index else None, tokens[index]
    return before is not None and token.kind in _LITTLE and token.text == before.text


_LITTLE = (T.IN, T.OF, T.AND, T.WITH, T.EACH, T.NEXT)


def _begins_bracket(tokens: list[Token], index: int) -> bool:
    """Whether a bracket begins with "is" or "this is"."""
    before = [token.kind for token in tokens[max(index - 2, 0) : index]]
    return tokens[index].text == "is" and (before[-1:] == [T.OPEN] or before == [T.OPEN, T.SAME])


_PASSED = "[NEWLINE ORDINAL]*"
_SO_OFTEN = f"{_PASSED} (OFTEN | NUMBER {_PASSED} [TIMES MORE] | TIMES {_PASSED} NUMBER)"
_BETWEEN_STARS = f"{_PASSED} ([FROM BETWEEN] {_PASSED} MARK | MARK {_PASSED} TO)"
_BEGINS = "[COMMA SEMI DOT MARK AND THEN AGAIN]"
_REPEATS = PhrasePattern(
    f"""
      ONGOING {_SO_OFTEN}
    | (^ | (?<= [PAUSES MARK AND THEN AGAIN DASH COLON])) WORK? {_PASSED} SAME {_SO_OFTEN}
    | (ONGOING | WORK ({_PASSED} SAME)? | SAME) {_BETWEEN_STARS}
    | (^ | (?<= {_BEGINS}) | (?<= {_BEGINS} NEWLINE)) FROM {_PASSED} MARK {_PASSED} TO
    | WORK SAME? (FROM MARK | (?= WORD) REPEATED_WORDS (?! IN [NEXT EACH])) ((?! STOPS) ..)* [TIMES OFTEN]
    """
)
""" "and so 6x", "the same 6 times", "continue from * to * around", "do * to * 6 times", "from * to * 6 times" where
no repeat stands before it, "work these instructions twice" """

_OTHER_SENSES: dict[T, tuple[tuple[T, PhrasePattern], ...]] = {
    T.IN: (
        # "4 ch (for 1 tr and 1 ch)"
        (T.COUNTS, PhrasePattern("((?<= CHAIN OPEN) | (?<= CHAIN .. OPEN)) FOR (?= STITCH | .. STITCH)")),
        # "(sc, inc) for 6 times", "*sc, inc* for 6 repeats"
        (T.FILLER, PhrasePattern("(?<= [CLOSE MARK]) FOR (?= NUMBER (TIMES | SO_MANY_REPEATS))")),
        # "magic ring, 12 sc inside"
        (T.RING, PhrasePattern("INSIDE (?= STOPS | $)")),
    ),
    T.TO: (
        # "inc to every stitch", "6 sc to magic ring" say in what it is made, "sc to next corner" how far
        (
            T.IN,
            PhrasePattern(
                "(?<= [HEADS CLOSE NUMBER]) (?<! JOIN ..) TO_WORD"
                " (?= [NEWLINE NUMBER]* (RING | [EACH ALL NEXT SAME] [NEWLINE NUMBER]* [NOUN STITCH]))"
            ),
        ),
    ),
    # "and finish with 2 sc"
    T.WORD: ((T.END, PhrasePattern("FINISHES (?= WITH FILLER? NUMBER? [STITCH INC DEC POSTED])")),),
    T.BEGINNING: ((T.WORD, PhrasePattern("(?<= NUMBER) LETTER_T (?= STOPS | $)")),),
    # "12 x 2ch-sp" counts them
    T.TIMES: ((T.FILLER, PhrasePattern("(?<= NUMBER) TIMES (?= NUMBER CHAIN SPACE | CHAIN NUMBER SPACE)")),),
    # "(2 sc, inc) six repeats"
    T.REPEAT: ((T.TIMES, PhrasePattern("(?<= NUMBER) SO_MANY_REPEATS")),),
    # "from every st we knit 2 dc"
    T.FROM: ((T.IN, PhrasePattern("FROM (?= EACH)")), (T.REPEAT, _REPEATS)),
    T.ONGOING: ((T.REPEAT, _REPEATS),),
    T.WORK: ((T.REPEAT, _REPEATS),),
    T.SAME: (
        (T.REPEAT, _REPEATS),
        # "same thing, 2 dc in first st, ...": all of it is told once more, and none of it goes into the same stitch
        (
            T.FILLER,
            PhrasePattern("(?<! ..) THE_SAME (?= AGAIN? [COMMA COLON DASH] WORK? NUMBER? STITCH [IN NEXT EACH])"),
        ),
    ),
    # "change to A in last st", "With A sc around"; "join with a sl st", "with a long tail" name no yarn
    T.FILLER: (
        # "ch 3, complete a shell in same sp"
        (T.BEGINNING, PhrasePattern("FINISHES (?= FILLER? [NUMBER ORDINAL BEGINNING]* BUNCH)")),
        # "5 ch (is 1 tr and 2 ch)", "ch 3 (this is a dc)"
        (
            T.COUNTS,
            PhrasePattern(
                "((?<= CHAIN OPEN) | (?<= CHAIN .. OPEN) | (?<= CHAIN OPEN SAME) | (?<= CHAIN .. OPEN SAME))"
                " IS_WORD [FILLER NUMBER ORDINAL]* (?= STITCH)"
            ),
        ),
        (
            T.WORD,
            PhrasePattern(
                "ARTICLE (?= STOPS | $ | [COLON EQUALS OPEN AND]) | (?<= [CHANGE WITH COLOURED JOIN]) ARTICLE (?= IN)"
                " | ((?<= ^ WITH) | (?<= [STOPS MARK OPEN] WITH)) ARTICLE (?! [WORD COLOURED])"
            ),
        ),
    ),
}
"""What a word of each sort says where the phrase stands; a filler says nothing."""


def _denied_with(kept: list[Token], before: Token, token: Token) -> int:
    """How many words stay of those kept where this one is denied together with the last of them, "without increasing
    or decreasing", "no increase and decrease"; 0 if it is not."""
    if before.text not in _DENIED_TOGETHER or (token.kind is T.WORD and token.text not in _LESS):
        return 0
    place = len(kept)
    while place and kept[place - 1].text in _DENIED_TOGETHER:
        place -= 1
    denies = place and kept[place - 1].kind is T.EVEN and kept[place - 1].text.startswith(("no ", "without "))
    return place if denies else 0


_DENIED_TOGETHER = ("and", "or", "nor", "neither", "any", "no")
_LESS = ("reducing", "reductions", "subtracting", "adding", "additions")
"""Words for fewer or more stitches that are none for a decrease or an increase."""
