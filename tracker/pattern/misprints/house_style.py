"""How a piece words its stitches, so that a corrected line looks like the others: "inc x 3", "2 sc in next st".

What the piece itself shows goes first; where it shows nothing, the same words are turned from one to several.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

from tracker.lazy_dataclass import dataclass, field
from tracker.notation.ast import Instruction, Into, Role
from tracker.notation.glossary import any_stitch
from tracker.pattern.misprints.source_map import Phrase, Written
from tracker.plural import plural

Sort = tuple[str, int, int, Into]
"""What sort of act it is: role, bases taken, stitches made, and into what."""

INCREASE: Sort = (Role.WORK.value, 1, 2, Into.STITCH)
DECREASE: Sort = (Role.WORK.value, 2, 1, Into.STITCH)
PLAIN: Sort = (Role.WORK.value, 1, 1, Into.STITCH)

_NUMBER = re.compile(r"\d+")
_PLACE = rf"sts?|stitch(?:es)?|chs?|chains?|{any_stitch()}"


def sort_of(act: Instruction) -> Sort:
    return (act.role.value, act.takes, act.stitches, act.into)


@dataclass
class HouseWording:
    """The piece's ways to write one and several of each sort, with how often each is met."""

    one: dict[Sort, Counter[str]] = field(default_factory=dict)
    several: dict[Sort, Counter[str]] = field(default_factory=dict)
    """Several of a sort, with {n} for the number."""
    open: dict[Sort, Counter[str]] = field(default_factory=dict)

    def say(self, sort: Sort, times: int) -> str:
        """So many of this sort in the piece's own words; "" if it has none for it."""
        wordings = (self.one if times == 1 else self.several).get(sort)
        return _likeliest(wordings).replace("{n}", str(times)) if wordings else ""

    def one_of(self, sort: Sort) -> str:
        """One increase, decrease or plain stitch, in the words that fit the piece best."""
        return self._own_words(sort) or self._from_other(sort) or self._from_plain(sort)

    def _own_words(self, sort: Sort) -> str:
        return self.say(sort, 1) or self._from_several(sort) or self._from_open(sort)

    def _from_other(self, sort: Sort) -> str:
        """A decrease worded like the increases, or the other way round."""
        if sort == INCREASE and (words := self._own_words(DECREASE)):
            match = re.match(r"(\w+?)2tog$", words)
            return f"2 {match[1]} in next st" if match else words.replace("inv ", "").replace("dec", "inc")
        if sort == DECREASE and (words := self._own_words(INCREASE)):
            match = re.match(r"2 (\w+) in next", words)
            return f"{match[1]}2tog" if match else words.replace("inc", "dec")
        return ""

    def plain(self, times: int) -> str:
        """So many plain stitches."""
        return self.say(PLAIN, times) or to_several(self.one_of(PLAIN), times, is_plain=True)

    def _from_several(self, sort: Sort) -> str:
        wordings = self.several.get(sort)
        return to_one(_likeliest(wordings).replace("{n}", "7"), 7) if wordings else ""

    def _from_open(self, sort: Sort) -> str:
        """ "2 sc in each st around" has "2 sc in next st" as its one."""
        wordings = self.open.get(sort)
        if not wordings:
            return ""
        words = re.sub(r"\s*\b(?:around|across|to end|in every st|in each st)\b.*$", "", _likeliest(wordings))
        return f"{words} in next st" if words[:1].isdigit() else words

    def _from_plain(self, sort: Sort) -> str:
        plain = _likeliest(self.one.get(PLAIN) or Counter({"": 1}))
        match = re.match(r"(?:1 )?(\w+) in next (st|stitch)$", plain)
        if match and sort == INCREASE:
            return f"2 {match[1]} in next {match[2]}"
        if sort == PLAIN:
            return "1 sc"
        return "inc" if sort == INCREASE else "dec"

    def counted(self, phrase: Phrase, words: str, times: int) -> str:
        """The words of a phrase with another count, as the piece would write it."""
        assert phrase.times is not None
        if phrase.times > 1 and times > 1:
            return with_count(words, phrase.times, times)
        is_plain = sort_of(phrase.act) == PLAIN
        own_words = self.say(sort_of(phrase.act), times)
        if own_words and _about_the_same(words, own_words):
            return own_words
        return to_one(words, phrase.times) if times == 1 else to_several(words, times, is_plain=is_plain)


def wording(lines: Iterable[Written]) -> HouseWording:
    """Learn the words of these lines."""
    house = HouseWording()
    for line in lines:
        for phrase in line.phrases():
            if phrase.act.role is Role.WORK:
                _learn(house, phrase, line.words_of(phrase).lower())
    return house


def _learn(wording: HouseWording, phrase: Phrase, words: str) -> None:
    sort = sort_of(phrase.act)
    if phrase.times is None:
        wording.open.setdefault(sort, Counter())[words] += 1
    elif phrase.times == 1:
        wording.one.setdefault(sort, Counter())[words] += 1
    else:
        template = with_count(words, phrase.times, None)
        if "{n}" in template:
            wording.several.setdefault(sort, Counter())[template] += 1


def _likeliest(habits: Counter[str]) -> str:
    return habits.most_common(1)[0][0]


def _about_the_same(one: str, other: str) -> bool:
    """Whether two phrases name the same stitch and loop; a "sc" is not to become a "dc"."""
    names = re.compile(r"\b(?:x|in|of|next|each|the|st|sts|stitch|stitches|times|time|\d+)\b|\d+")
    bare = [set(re.findall(r"[a-z]+", names.sub(" ", text))) for text in (one, other)]
    return bare[0] == bare[1]


def count_place(words: str, times: int) -> tuple[int, int] | None:
    """Where the count stands in the words; the last of equal numbers: "2 sc in each of next 2 sts"."""
    spans = [
        m.span() for m in _NUMBER.finditer(words) if int(m[0]) == times and not words[m.end() :].startswith("tog")
    ]
    return spans[-1] if spans else None


def with_count(words: str, was: int, now: int | None) -> str:
    """The words with another count; None puts {n} there."""
    place = count_place(words, was)
    if place is None:
        return words
    return words[: place[0]] + ("{n}" if now is None else str(now)) + words[place[1] :]


def to_one(words: str, was: int) -> str:
    """ "2 sc in each of next 3 sts" to "2 sc in next st", "inc x 3" to "inc", "3 sc" to "1 sc"."""
    place = count_place(words, was)
    if place is None:
        return words
    before, after = words[: place[0]], words[place[1] :]
    if re.match(rf"\s*(?:{_PLACE})\b", after) and before.rstrip().endswith(("next", "last", "first")):
        before = re.sub(r"each of (the )?next\s*$", r"\1next ", before)
        return before + singular(after.lstrip())
    if re.search(r"(?:\bx|\*)\s*$", before) or re.match(r"\s*times?\b", after):
        return re.sub(r"\s*(?:\bx|\*)?\s*$", "", before) + re.sub(r"^\s*times?\b", "", after)
    if re.search(r"\b(?:inc|dec|increase|decrease)s?\b", words):
        return (before.rstrip() + after).strip()
    return f"{before}1{after}"


def to_several(words: str, now: int, *, is_plain: bool) -> str:
    """ "2 sc in next st" to "2 sc in each of next 3 sts", "inc" to "inc x 3", "sc" to "3 sc"."""
    if now == 1:
        return words
    match = re.search(rf"\b(next|last|first) ({_PLACE})\b", words) if " " in words else None
    if match:
        each = "each of " if words[:1].isdigit() else ""
        return f"{words[: match.start()]}{each}{match[1]} {now} {_places(match[2])}{words[match.end() :]}"
    figure = count_place(words, 1)
    if figure is not None:
        return words[: figure[0]] + str(now) + words[figure[1] :]
    return f"{now} {words}" if is_plain else f"{words} x {now}"


def singular(words: str) -> str:
    return re.sub(r"^(st|stitch|ch|chain)(?:e?s)\b", r"\1", words)


def _places(word: str) -> str:
    """Several of a place; "ch" and "ch-sp" are written alike for one and for many."""
    return plural(word) if word in ("st", "stitch", "chain") else word


def agreeing(words: str) -> str:
    """Times that agree with their number: "1 more time", "2 more times"."""
    words = re.sub(r"\b1 (more )?times\b", r"1 \1time", words)
    return re.sub(r"\b((?!1\b)\d+) (more )?time\b", r"\1 \2times", words)
