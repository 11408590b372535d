"""Which rounds a sentence gives to which yarn: "Rounds 1-5 in cream, the rest in rust", "2 rnds A, 1 rnd B, repeat".

It tells a plan as a whole or not at all: it is a pattern over the sorts of its words, one letter each.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from tracker.normalize import fold
from tracker.notation.context import Context
from tracker.notation.lexer import scan
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Token
from tracker.notation.vocabulary import COLOUR_WORDS
from tracker.notation.yarn_names import YARN_NOUNS, key_of, with_yarn_names
from tracker.notation.yarn_plan import ONWARD, YarnPlan

_SORTS: dict[T, str] = {
    T.ROUND: "R", T.IN: "i", T.WITH: "i", T.OF: "i", T.EACH: "E", T.REMAINING: "L", T.OTHER: "L",
    T.LEFT: "L", T.AROUND: "T", T.END: "T", T.REPEAT: "P", T.ONGOING: "P", T.AGAIN: "P", T.CHANGE: "C", T.WORK: "w",
    T.COMMA: "c", T.SEMI: "c", T.DOT: "c", T.NEWLINE: "c", T.AND: "c", T.SLASH: "c", T.PLUS: "c", T.THEN: "h",
    T.DASH: "=", T.COLON: "=", T.EQUALS: "=", T.TO: "t", T.UNTIL: "t", T.MARK: "*", T.OPEN: "(", T.CLOSE: ")",
    T.TIMES: "x", T.FROM: "F", T.TURN: "v", T.WORD: "W", T.OMIT: "U",
}  # fmt: skip

_YARN = r"(?P<yarn>[Ya]|(?<=i)W{1,2}(?!W))"
_NUMBERS = r"n(?:[=t]n)?(?:c+R?n(?:[=t]n)?)*"
_BEFORE_YARN = "[=i]*"
_AFTER_ABSOLUTE, _AFTER_COUNTED = "absolute", "counted"
_STRETCHES = (
    (rf"R?(?P<onward>n)(?:[=t]*T|iT){_BEFORE_YARN}{_YARN}", ""),  # "Rnds 13 to end in A"
    (rf"FR?(?P<onward>n)i?{_BEFORE_YARN}{_YARN}", ""),  # "from round 4 on in cream"
    (rf"{_YARN}[=i]*FR?(?P<onward>n)i?", ""),
    (rf"R(?P<numbers>{_NUMBERS}){_BEFORE_YARN}{_YARN}", ""),  # "Rounds 1-5 in cream"
    (rf"{_YARN}[=i(]*R(?P<numbers>{_NUMBERS})\)?", ""),  # "cream for rounds 1-5"
    (rf"(?:LR?|RL){_BEFORE_YARN}{_YARN}", ""),  # "the remaining rounds in rust"
    (rf"{_YARN}[=i(]*(?P<rest>LR?|t?T)\)?", ""),  # "then A to the end"
    (rf"(?P<count>n)R{_BEFORE_YARN}{_YARN}", ""),  # "2 rounds of white"
    (rf"{_YARN}[=i(]*(?:(?P<count>n)R|x(?P<times>n))\)?", ""),  # "A for 2 rounds"
    (rf"(?P<numbers>{_NUMBERS})[=i]+{_YARN}", _AFTER_ABSOLUTE),  # "..., 6-12 in rust"
    (rf"{_YARN}[=i]+(?P<numbers>{_NUMBERS})", _AFTER_ABSOLUTE),
    (rf"(?P<count>n){_BEFORE_YARN}{_YARN}", _AFTER_COUNTED),  # "... and two of blue"
)
"""How a sentence gives rounds to a yarn, and behind which kind alone the word for a round may be left out."""

_TITLE = r"c*(?:[sNRAwi]{1,5}=+)?[(*]*"
"""What leads up to the yarns: "Stripe pattern:", "Colours:"."""

_LEAD = rf"{_TITLE}(?:w?iRi|[wiA])*[(*]*(?=[RnYaLWEF])"
_BETWEEN = r"[ch]+(?:w|i(?=R|L|n))?"
_AGAIN = r"[ch*)]*[wi]*(?:P|T|tT)(?:[PFTtiWsR*cL]|nR)*[c)]*$"
_FIRST = rf"c+i{_YARN}[c)]*$"
"""Which yarn comes first: "..., beginning with blue"."""
_ENDED = r"[c)*]*$"
_HEADING_ALONE = r"Rn(?:[=t]n)?=(?!n)"
"""What a round begins with that is worked in the lines below: "Rnd 3: With red."."""

_EVERY = r"(?:E(?P<each>n)?R|(?P<each_of_one>r)|(?P<each_behind>n)R(?:E|iEN?)|i?v)"
_LISTED = r"(?P<list>[Ya](?:[ch]+[Ya])*)"
_ORDERS = (
    # "alternate A and B every 2 rounds"
    rf"{_TITLE}[wiA]*N?{_LISTED}(?:c*(?:A|P|iv))?c*{_EVERY}(?:c*[PT])?(?:c+i(?P<first>[Ya]))?[c)]*",
    # "change colour every 3 rounds, in the order A, B, C"
    rf"{_TITLE}[wA]*[CP]N*{_EVERY}(?:c*[isWwR=(]*{_LISTED})?(?:c*[PT])?[c)]*",
    # "start with A and change colour every round"
    rf"{_TITLE}[wi]*{_LISTED}[ch]+[wA]*[CP]N*{_EVERY}(?:c*[PT])?[c)]*",
    # "2-round stripes of A and B"
    rf"{_TITLE}[wiA]*(?P<each>n)=?R(?:R?i|c*iE|iE|E)(?:N|{_LISTED})[c)]*",
)
"""How a sentence tells how often the yarn changes, and perhaps to which."""

_TURNS_UNTOLD = rf"c*A{_LISTED}(?:c*[PT])?[c)]*"  # "alternate white and blue"
_USUAL = rf"c*[wiP]*{_YARN}i?W?U.*"  # "MC is used unless noted"
_THEN = rf"{_TITLE}(?P<list>[Ya](?:[ch]+[Ya])+)[c)]*"  # "white, then grey"


_TITLES = ("pattern", "sequence", "order", "scheme", "plan", "striped", "striping", "repeat", "guide", "key")


_NAMES = frozenset("Ya")
_YARN_SORTS = frozenset("YaWNAC")
"""Sorts of which each sentence on yarns has one."""


_LONGEST = 300
"""Characters of a sentence on yarns; one with twelve spans has some 250."""

_TELLING = frozenset(
    "rnd rnds rd rds round rounds row rows stripe stripes every each alternate alternating alternately unless then "
    "rest throughout end".split()
)
"""Words of which each sentence on yarns has one, if no comma parts its yarns."""

_OF_A_ROUND = frozenset("sl sk sc hdc dc tr htr ss st sts stitch stitches inc dec ch chs join turn fasten".split())
"""What no sentence on yarns has and almost every round, so that rounds are not gone through twice."""

_BEHIND_A_KEY = frozenset(("and", "for", "to", "is", "in"))
"""What stands behind the yarn A where it begins a sentence, and behind no article."""

_WORD = re.compile("[a-z]+")

# Letters and figure of a key, "CC2".
_LONGEST_KEY = 3


def yarn_plan(text: str, context: Context) -> YarnPlan | None:
    """The plan that a sentence tells; None for any other sentence."""
    text = text.strip()
    words = frozenset(_WORD.findall(text[:_LONGEST].lower()))
    if len(text) > _LONGEST or words & _OF_A_ROUND or not (words & _TELLING or "," in text):
        return None
    if not (words & YARN_NOUNS or words & COLOUR_WORDS or words & context.colours - {"a"} or _has_key(text)):
        return None
    return _plan_in(text, context)


def _has_key(text: str) -> bool:
    """Whether a key of a yarn is among the words, as it is printed: "A", "CC2"."""
    words = [word.strip(".,;:()[]*") for word in text.split()]
    behind = words if words[:1] != ["A"] or (words[1:2] and words[1] in _BEHIND_A_KEY) else words[1:]
    return any(word.isupper() and len(word) <= _LONGEST_KEY for word in behind)


@lru_cache(maxsize=1_024)
def _plan_in(text: str, context: Context) -> YarnPlan | None:
    words = _words(text, context)
    return _Sentence(words, text).plan() if any(word.sort in _YARN_SORTS for word in words) else None


class _Word:
    """A word and its sort, one letter."""

    def __init__(self, token: Token, sort: str) -> None:
        self.token, self.sort = token, sort


def _words(text: str, context: Context) -> list[_Word]:
    named = with_yarn_names(scan(fold(text), context.terms, context.colours), context.colours)
    sorted_ = ((token, _sort(token, context)) for token in named)
    return [_Word(token, sort) for token, sort in sorted_ if sort]


def _sort(token: Token, context: Context) -> str:
    text = token.text
    if text.startswith(("alternat",)):
        return "A"
    if text in ("unless", "except", "otherwise"):
        return "U"
    if token.kind is T.WORD and text in _TITLES:
        return "s"
    if token.kind is T.COLOURED:
        return "N" if text in YARN_NOUNS else "Y"
    if text == "a" or token.kind is T.NUMBER:
        return "a" if text == "a" else "n"
    if text in context.colours or text in ("mc", "cc") or (len(text) == 1 and text.isalpha() and text != "x"):
        return "Y"
    if token.kind is T.FILLER:
        return "r" if text.startswith(("each", "every")) else ""
    if token.kind is T.ALL:
        return ""
    if token.kind is T.WORK and text.endswith((" with", " in", " from", " at")):
        return "i"
    return _SORTS.get(token.kind, "?")


def _key(words: list[_Word]) -> str:
    return key_of([word.token for word in words]) or words[0].token.text


class _Sentence:
    """A sentence on yarns as it is gone through."""

    def __init__(self, words: list[_Word], text: str) -> None:
        self.words, self.text = words, text
        self.sorts = "".join(word.sort for word in words)

    def plan(self) -> YarnPlan | None:
        return self._stretches() or self._order() or self._usual()

    def _at(self, form: str, place: int) -> re.Match[str] | None:
        """What begins at a word; a form is compiled when the first sentence asks for it."""
        return re.compile(form).match(self.sorts, place)

    def _yarn(self, match: re.Match[str]) -> str:
        return _key(self.words[slice(*match.span("yarn"))])

    def _stretches(self) -> YarnPlan | None:
        lead = self._at(_LEAD, 0)
        if lead is None:
            return None
        spans: list[tuple[int, int, str]] = []
        turns: list[tuple[str, int]] = []
        others, place, behind = "", lead.end(), ""
        while True:
            forms = (self._at(form, place) for form, after in _STRETCHES if after in ("", behind))
            match = next(filter(None, forms), None)
            if match is None:
                return None
            yarn, named = self._yarn(match), match.groupdict()
            count = next((group for group in ("count", "times") if named.get(group)), "")
            if named.get("numbers"):
                if any(word.token.kind is T.COLON for word in self.words[slice(*match.span("numbers"))]):
                    return None  # "Rnd 2: 6V" is a round, in letters for its stitches
                spans += [(first, last, yarn) for first, last in self._numbers(match)]
                behind = _AFTER_ABSOLUTE
            elif named.get("onward"):
                spans.append((self._number(match.start("onward")), ONWARD, yarn))
            elif count:
                turns.append((yarn, self._number(match.start(count))))
                behind = _AFTER_COUNTED
            else:
                others = yarn
            place = match.end()
            between = self._at(_BETWEEN, place)
            if between is None or any(self._at(form, place) for form in (_ENDED, _AGAIN, _FIRST)):
                break
            place = between.end()
        again = "A" in lead[0] or "iR" in lead[0] or self._at(_AGAIN, place) is not None
        first = self._at(_FIRST, place)
        if first is not None:
            named_first = [index for index, (yarn, _) in enumerate(turns) if yarn == self._yarn(first)]
            turns = [*turns[named_first[0] :], *turns[: named_first[0]]] if named_first else []
        elif not (self._at(_AGAIN, place) or self._at(_ENDED, place)):
            return None
        if not others and len(spans) == 1 and self._at(_HEADING_ALONE, 0):
            return None
        if (spans and (turns or again)) or (others and again) or (len(turns) < 2 and (again or first)):
            return None
        return YarnPlan(tuple(spans), others, tuple(turns), again, words=self.text)

    def _number(self, place: int) -> int:
        return self.words[place].token.number

    def _numbers(self, match: re.Match[str]) -> Iterator[tuple[int, int]]:
        """The rounds that are named, as spans."""
        start, end = match.span("numbers")
        for span in re.finditer(r"n(?:[=t]n)?", self.sorts[start:end]):
            yield self._number(start + span.start()), self._number(start + span.end() - 1)

    def _order(self) -> YarnPlan | None:
        for form in _ORDERS:
            match = re.fullmatch(form, self.sorts)
            if match is not None:
                named = match.groupdict()
                counted = next((match.start(g) for g in ("each", "each_behind") if named.get(g)), None)
                each = 1 if counted is None else self._number(counted)
                order = self._listed(match) if named.get("list") else ()
                if named.get("list") and counted is None and "v" in self.sorts and "r" not in self.sorts:
                    return YarnPlan(order=order, begins=True, alternates=True, words=self.text)
                if named.get("first"):
                    first = max(
                        0, *(index for index, yarn in enumerate(order) if yarn == self._listed(match, "first")[0])
                    )
                    order = (*order[first:], *order[:first])
                if len(order) > 1:
                    return YarnPlan(turns=tuple((yarn, each) for yarn in order), again=True, words=self.text)
                return YarnPlan(order=order, each=each, begins=bool(order), words=self.text)
        match = re.fullmatch(_TURNS_UNTOLD, self.sorts) or re.fullmatch(_THEN, self.sorts)
        if match is None:
            return None
        alternates = "A" in self.sorts
        order = self._listed(match)
        return YarnPlan(order=order, begins=alternates or "h" in self.sorts, alternates=alternates, words=self.text)

    def _listed(self, match: re.Match[str], group: str = "list") -> tuple[str, ...]:
        start, end = match.span(group)
        return tuple(_key([word]) for word in self.words[start:end] if word.sort in _NAMES)

    def _usual(self) -> YarnPlan | None:
        match = re.fullmatch(_USUAL, self.sorts)
        return YarnPlan(usual=self._yarn(match), words=self.text) if match else None
