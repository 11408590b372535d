"""The forms of headings, as patterns over the sorts of their words: "Rnds 5-8:", "2nd Round -", "R9.", "5)"."""

from __future__ import annotations

import re
from functools import cached_property

from tracker.notation.token_kinds import AND_IN_HEADS, ORDINALS

# A heading is a pattern over the sorts of its words. Each word, sign and blank is one character here, so that the
# place of a match tells which words it is made of.

SORTS = {
    "R": "rnd rnds round rounds row rows rd rds r rs rwo rwos rw vuelta vueltas lap laps "
    "career careers carreira carreiras carr tour tours toer ronda rondas",
    "l": "then now the for in",
    "f": "from",
    "A": " ".join(AND_IN_HEADS),
    "J": "to through thru until till bis",
    "a": "a",
    "b": "at au al til tot do hasta ate",
    "U": "up",
    "I": "including",
    "M": "no number",
    "w": "onwards onward on upwards",
    "X": "next",
    "F": "final",
    "E": "border edging trim",
    "K": "last following foundation setup base joining edge closing picot",
    "s": "set",
    "h": "increase increases inc decrease decreases dec",
    "q": "all every each",
    "y": "odd even",
    "N": "numbered",
    "O": "outer",
    "u": "mm cm g m oz",
    "C": " ".join(ORDINALS),
    "t": "x",
    "p": "p",
    "v": "v vta vlta c t turn turns",
    "W": "",
}
"""The words that headings are made of, by the letter of their sort; W is any other word, o the ending of "5th", n a
number. "a", "bis" and the words for "and" join two numbers in patterns that were translated, and so do the words of
sort b where no more than the end of the heading is behind the second one: "at" is also where something is done."""


class HeadingForm:
    """A pattern over the sorts of words. Of each group of sorts that it `needs` a line has to have one.

    It is compiled for the first line that does, as most pages need few of the forms that there are.
    """

    def __init__(self, source: str, needs: str) -> None:
        self._source = source
        self._needs = [frozenset(sorts) for sorts in needs.split()]

    @cached_property
    def whole(self) -> re.Pattern[str]:
        """The pattern itself, which looks at every line."""
        return re.compile(self._source)

    def match(self, sorts: str) -> re.Match[str] | None:
        """What matches at the beginning of a line's sorts."""
        return None if any(need.isdisjoint(sorts) for need in self._needs) else self.whole.match(sorts)


_GAP = r"[ \n]*"
LETTERS = "wRlfAJabUIMXFEKsOuCtvpWohqyN"
_LEAD = rf"[-#>+. \n]*(?:[lXAf][ \n]+)*(?P<bold>B|\*|__|_)?{_GAP}\(?"
_TO_THE_END = rf"b{_GAP}(?=(?:[Rv]\.?{_GAP})?n{_GAP}[:.)=-])"
JOINER = (
    rf"(?:{_GAP}{_TO_THE_END}|{_GAP}(?:[-JA&+,/~]|U J A I|U J|v/u){_GAP}| a (?!\()|{_GAP}J[ \n]+l[ \n]+"
    rf"|\.{_GAP}[-J]{_GAP}(?=R|n\.{_GAP}:))"
)
_LIST = rf"no?\)?(?:{JOINER}(?:R[.-]?{_GAP})?\(?no?(?![{LETTERS}]))*"
_OPEN = rf"(?P<open>\+|{_GAP}-{_GAP}\?|{_GAP}(?:A{_GAP})?w(?={_GAP}[:.,)-]))?"
"""What says that a line is for its round and those behind it, "Rnd 5+:", "Rnd 5 onwards:", "Rnds 5 - ?:"."""
_DELIMITER = (
    rf"(?(bold)(?P=bold)?)(?:{_GAP}[(\[](?P<ranges>[n,/ -]+)[)\]](?={_GAP}(?:[:.*([]|[{LETTERS}n])))?"
    rf"(?:{_GAP}[:.)=\-|/\]]+)*"
    rf"(?(bold)(?P=bold)?){_GAP}"
)

WORD_FIRST = HeadingForm(
    rf"{_LEAD}(?P<word>R){_GAP}(?:\.|#|-(?=n)|M\.?|f(?:[ \n]+l)?)?{_GAP}"
    rf"\(?(?P<list>{_LIST}){_OPEN}(?P<rest>{_DELIMITER})",
    needs="R n",
)
NUMBER_FIRST = HeadingForm(
    rf"{_LEAD}(?P<list>no?\.?\)?(?:(?:{_GAP}[Rp]\.?)?{JOINER}no?\.?)*)"
    rf"{_GAP}\.?{_GAP}(?P<word>R|p(?=\.))(?P<rest>{_DELIMITER})",
    needs="n Rp",
)
LETTERED = HeadingForm(
    rf"{_LEAD}(?P<word>v)\.?{_GAP}(?P<list>n(?:{_GAP}(?:[-JAa&,]|{_TO_THE_END}){_GAP}(?:v\.?)?{_GAP}n)*)"
    rf"(?P<rest>{_GAP}[:.)]+{_GAP})",
    needs="v n",
)
"""The letter of a round in other languages, "V5-V8:", "C4:", which is also that of an increase, a chain or a yarn and
so needs its colon."""

LISTED_ROUNDS = HeadingForm(
    rf"{_LEAD}(?P<list>n(?:\){_GAP}n)+)(?P<rest>\){_GAP})(?=[{LETTERS}*B(\[n])",
    needs="n )",
)
"""Rounds that stand in front of one line as they would of their own, "4)5)6) 18 sc"."""

RANGE_OF_LISTED = HeadingForm(
    rf"{_LEAD}(?P<list>n\.{_GAP}-{_GAP}n)(?P<rest>[.:)]+{_GAP})",
    needs="n -",
)
"""Both ends of a range as they stand in front of their rounds, "8. - 13." """
BARE = HeadingForm(
    rf"{_LEAD}(?P<list>{_LIST})(?!\.n ?(?:u|l))"
    rf"(?P<rest>{_GAP}[:.)=|]+[:.)=|\- \n]*|[ \n]+[-/]+[ \n]+|{_GAP}-[ \n]+(?=n?{_GAP}\(|n|[*B]|\[)"
    rf"|-[ \n]+(?=[{LETTERS}])| *\n{_GAP})",
    needs="n",
)
NEXT = HeadingForm(
    rf"{_LEAD}(?:[XFKE]|s-?U)[ \n]+"
    rf"(?:(?P<n>n)(?:{_GAP}[(\[](?P<sizes>n[n,/; -]*)[)\]])?[ \n]+)?(?:[Why][ \n]+(?=R{_GAP}:))?"
    rf"(?P<word>R)(?P<rest>{_DELIMITER})",
    needs="XFKEs R",
)
SHAPING = HeadingForm(
    rf"{_LEAD}no?[ \n]+h{_GAP}\.?{_GAP}(?P<word>R)(?P<rest>{_DELIMITER})",
    needs="n h R",
)
"""A row that is counted among those that shape, "2nd dec. row": it is the next one, whatever its number."""

NAMED = HeadingForm(
    rf"{_LEAD}(?P<word>(?:[OFW] )?E|h{_GAP}n(?={_GAP}:)|[Wh] (?:W )?(?=R{_GAP}:)){_GAP}R?(?:{_GAP}:{_GAP}| - )"
    rf"(?=[{LETTERS}*B(\[n])",
    needs="EhR :-",
)
"""A round that is called by what it is for, "Border: ch 1, sc evenly around", "Handle round: 8 sc, ch 6, ...",
"Increase 2: ..."."""
NUMBER_OF_A_PART = HeadingForm(
    rf"{_LEAD}(?P<list>no(?:{JOINER}no)*)(?P<part>(?:[ \n]+[WEs]){{1,2}})[ \n]+(?P<word>R)"
    rf"(?P<rest>{_GAP}:{_GAP}|{_GAP}-[ \n]+)(?=[{LETTERS}*B(\[n])",
    needs="o R :-",
)
"""The number of a round among those of a part that is named between it and the word, "2nd and 3rd rib rounds:"."""
FILLING = HeadingForm(
    rf"{_LEAD}(?:R{_GAP}(?P<own>n)[ \n]+[A&][ \n]+)?(?:q[ \n]+)?(?P<sort>y)(?:{_GAP}-?{_GAP}N)?[ \n]+(?P<word>R)"
    rf"(?:[ \n]+(?:W[ \n]+)?(?P<list>n{_GAP}(?:-|J|A){_GAP}n))?(?P<rest>{_GAP}:{_GAP}|{_GAP}-[ \n]+)"
    rf"(?=[{LETTERS}*B(\[n])",
    needs="y R",
)
"""The rounds between those that are told one by one, "All odd rounds: ...", "Row 2 and all even rows: ...", or every
other one of a stretch, "Even rnds 4-10: ..."."""
UNNUMBERED = HeadingForm(
    rf"{_LEAD}(?P<word>R){_GAP}:{_GAP}(?=[{LETTERS}*B(\[n])",
    needs="R :",
)
"""A round whose number was lost, "Row: 7 inc"."""
TITLE = HeadingForm(
    rf"(?P<title>[{LETTERS}'](?:[{LETTERS}' ])*)(?:\([{LETTERS}n ]+\))?(?P<sign>[,:.\-\n ]){_GAP}(?=R{_GAP}n)",
    needs="R n",
)
