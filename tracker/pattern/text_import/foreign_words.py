"""What makers of other languages write for the stitches, on pages that keep their abbreviations: "6 pb" (Spanish
"punto bajo"), "3 fM" (German "feste Maschen").

Which stitch of ours each one is: common practice of the languages, from memory, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from tracker.notation.glossary import BY_ID, full_name

_LANGUAGES = {
    "Spanish": "pb sc|mp mpa hdc|pa vareta dc|pad tr|pr pe slip|cad c chain|"
    "aum increase|dism dis decrease|am ring|pt pto pts ptos st|y and",
    "Portuguese": "pb sc|mpa pma hdc|pa dc|pad tr|pbx slip|corr cor chain|"
    "aum increase|dim decrease|am ring|pt pto pts st|e and",
    "French": "ms sc|db hdc|br dc|dbr tr|mc slip|ml maille chain|aug increase|dim decrease|cm ring|mailles st|et and",
    "German": "fm sc|hstb hstäb hdc|stb stäb dc|dstb tr|km kettm slip|lm luftm chain|"
    "zun increase|abn abm decrease|fr ring|maschen masche st|und and",
    "Dutch": "vaste vasten v sc|hst hstk hdc|stk dc|dst dstk tr|hv slip|losse lossen l chain|"
    "meerd increase|mind decrease|ring ring|steek steken st|en and",
    "Italian": "mb sc|mma hdc|ma dc|mad tr|mbss bss slip|cat chain|"
    "aum increase|dim decrease|cm am ring|maglie maglia st|e and",
    "Danish": "fm sc|hstm hdc|stm dc|dst dstm tr|km slip|lm chain|"
    "udt ud increase|indt ind decrease|mr ring|masker maske st|og and",
    "Norwegian": "fm sc|hst hdc|stv dc|dst tr|kjm km slip|lm chain|øk increase|fell decrease|"
    "mr ring|masker maske st|og and",
    "Swedish": "fm sc|hst hdc|stp dc|dst tr|sm slip|lm chain|"
    "ökn öka increase|minskn minsk decrease|mr ring|maskor maska st|och and",
    "Polish": "ps psł sc|psn hdc|sł dc|sn tr|oś slip|oł chain|dod increase|uj decrease|mk ring|oczka oczko st|i and",
    "Russian": "sbn сбн sc|pssn pst псн hdc|ssn ссн dc|s2n с2н tr|cc slip|vp вп chain|"
    "pr pb пр increase|ub уб decrease|ka ка ring|petel п st|и and",
    "Turkish": "sik sc|hdc hdc|trb dc|cc slip|zn zin chain|art increase|eks decrease|sh ring|ilmek st|ve and",
}
"""By language, the abbreviations and what each is: a stitch by its id, or a word for what is no stitch."""

_OTHERS = {
    "slip": "slip stitch",
    "chain": "chain",
    "increase": "increase",
    "decrease": "decrease",
    "ring": "ring",
    "st": "st",
    "and": "and",
}

WORDS_FOR_AND = frozenset(
    short for entries in _LANGUAGES.values() for short in re.findall(r"(?:^|\|)([^|]+) and\b", entries)
)
""" "1 pb e 1 aum": what joins two things that are made in other languages."""


def words_of(language: str, terms: str) -> dict[str, str]:
    """The abbreviations of a language with what they mean, in words of these terms."""
    words: dict[str, str] = {}
    for entry in _LANGUAGES[language].split("|"):
        *shorts, meaning = entry.split()
        words.update(dict.fromkeys(shorts, full_name(meaning, terms) if meaning in BY_ID else _OTHERS[meaning]))
    return words


_FEWEST = 2
"""Words that have to be of one language: one may be short for anything."""


def foreign_words(vouched: Mapping[str, str], unknown: Iterable[str], terms: str) -> dict[str, tuple[str, str]]:
    """What the `unknown` words of a page, and those vouched for, are in the one language that agrees with all that
    the page or its sums vouch for ("increase", "decrease", a stitch by its full name, "" for one that is not known),
    with the name of the language; empty if no language does, or two do that do not agree with each other."""
    unknown = set(unknown) | set(vouched)
    fitting: dict[str, dict[str, str]] = {}
    for language in _LANGUAGES:
        words = words_of(language, terms)
        shared = [word for word in vouched if word in words]
        if shared and all(_is_of_sort(words[word], vouched[word]) for word in shared):
            fitting[language] = {word: words[word] for word in unknown if word in words}
    most = max(map(len, fitting.values()), default=0)
    likely = {language: words for language, words in fitting.items() if len(words) == most >= _FEWEST}
    language = next(iter(likely), "")
    agreed = [set(words.items()) for words in likely.values()]
    common = dict(set.intersection(*agreed)) if agreed else {}
    return {word: (common[word], language) for word in sorted(common)}


def meaning_abroad(word: str, terms: str) -> tuple[str, str]:
    """What a word is in every language that has it, and those languages, "Spanish, Italian"; "" where they differ
    or none has it."""
    having = {language: words[word] for language in _LANGUAGES if word in (words := words_of(language, terms))}
    meanings = set(having.values())
    return (meanings.pop(), ", ".join(having)) if len(meanings) == 1 else ("", "")


def is_stitch_abroad(meaning: str) -> bool:
    """Whether what a word means there is a stitch, and neither a way to make it nor a place."""
    return meaning not in _OTHERS.values()


def _is_of_sort(meaning: str, sort: str) -> bool:
    return meaning == sort if sort else is_stitch_abroad(meaning)
