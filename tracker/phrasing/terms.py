"""Words in US terms to words in UK terms and back: of a round word by word, of a note where the words are sure.

The table of terms is the glossary's; skip and miss, gauge and tension come from the Craft Yarn Council's table of US
and UK terms (from memory).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.glossary import STITCHES, Stitch, abbreviation, full_name, spellings_of, stitch_words
from tracker.notation.lexer import scan
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Token
from tracker.plural import plural

NO_COLOURS: frozenset[str] = frozenset()


def round_in_terms(text: str, source: str, target: str, colours: frozenset[str] = NO_COLOURS) -> str:
    """The instructions of a round with every stitch called by its name in the other terms.

    `source` and `target` are "US" or "UK"; `colours` are the pattern's yarn keys in lower case, which
    stay as they are.
    """
    if source == target:
        return text
    parts: list[str] = []
    done = 0
    for token in scan(fold(text), source, colours):
        words = _translated(token, text[token.start : token.end], source, target)
        parts += [text[done : token.start], _apart(token, words, text)]
        done = token.end
    return "".join(parts) + text[done:]


def _apart(token: Token, words: str, text: str) -> str:
    """A count stands apart from its stitch: in UK lines "2dc" in one word may be an increase."""
    glued = token.kind is T.STITCH and token.start > 0 and text[token.start - 1].isdigit()
    return f" {words}" if glued else words


def _translated(token: Token, word: str, source: str, target: str) -> str:
    if token.kind is T.STITCH:
        return _stitch(word, token.name, target)
    if token.kind is T.SKIP:
        return _skip(word, target)
    if token.kind is T.POSTED or (token.kind in (T.INC, T.DEC) and token.value):
        return _stitch_inside(source).sub(lambda match: _inside(match, source, target), word)
    return word


def _stitch(word: str, kind: str, target: str) -> str:
    """A stitch as it was called, by its abbreviation or by its name."""
    short = {abbreviation(kind, "US"), abbreviation(kind, "UK")}
    if word.lower() in short or (word.isalpha() and not _is_name(word.lower())):
        return _cased(word, abbreviation(kind, target))
    if re.search(r"[a-z]{4}", word.lower()):
        return _cased(
            word, plural(full_name(kind, target)) if word.lower().endswith("s") else full_name(kind, target)
        )
    return _cased(word, abbreviation(kind, target))


_IN_NAMES = frozenset(word for stitch in STITCHES for word in f"{stitch.us_name} {stitch.uk_name}".split())
"""The words of the full names."""


def _is_name(word: str) -> bool:
    """Whether one word is a name, "treble", "quad", "slipstitch"; any other is an abbreviation."""
    # Shorter words are alike to too many others.
    return len(word) > 3 and any(name.startswith(word) or word.startswith(name) for name in _IN_NAMES)


def _cased(model: str, words: str) -> str:
    """In capitals, or with a capital at the start, as it was."""
    if len(model) > 1 and model.isupper():
        return words.upper()
    return words[0].upper() + words[1:] if model[:1].isupper() else words


_SKIPS_UK = {"skipping": "missing", "skipped": "missed"}
_SKIPS_US = {"missing": "skipping", "missed": "skipped"}


def _skip(wording: str, target: str) -> str:
    word = wording.lower()
    if target == "UK":
        return _cased(wording, _SKIPS_UK.get(word, "miss")) if word.startswith("sk") else wording
    return _cased(wording, _SKIPS_US.get(word, "skip")) if word.startswith("miss") else wording


def _inside(match: re.Match[str], source: str, target: str) -> str:
    """The stitch inside "FPdc", "dc inc", "front post treble"."""
    kind = stitch_words(source)[match[0].lower()]
    return _stitch(match[0], kind, target)


def _either(words: list[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


@cache
def _stitch_inside(terms: str) -> re.Pattern[str]:
    words = _either(list(stitch_words(terms)))
    return re.compile(rf"(?:(?<=[fb]p)|(?<=[fb]p )|(?<=post )|(?<=^r)|^)(?:{words})", re.I)


def prose_in_terms(text: str, source: str, target: str) -> str:
    """A note or a making-up step with its stitches named in the other terms.

    Only words that can be nothing but a stitch, a skip or the gauge are taken: "double" alone stays as it is.
    """
    if source == target:
        return text
    text = _stitches_in(source).sub(lambda match: _prose_stitch(match, source, target), text)
    for pattern, words in _PHRASES[target]:
        text = pattern.sub(words, text)
    return text


def _prose_stitch(match: re.Match[str], source: str, target: str) -> str:
    kind = _sure_words(source)[match["word"].lower()]
    return f"{match['before']}{_stitch(match['word'], kind, target)}{match['after']}"


_KINDS_OF_STITCH = frozenset(
    name.split()[-1] for stitch in STITCHES for name in (stitch.us_name, stitch.uk_name) if stitch.turning_chain
)
"""What the names of tall stitches end in: crochet, treble."""


@cache
def _sure_words(terms: str) -> dict[str, str]:
    """The spellings of stitches that mean nothing else in a sentence, with the stitch that each is."""
    return {word: stitch.id for stitch in STITCHES for word in _sure_words_of(stitch, terms)}


def _sure_words_of(stitch: Stitch, terms: str) -> set[str]:
    own, name, *more = spellings_of(stitch, terms)
    named = {word for word in more if _KINDS_OF_STITCH.intersection(word.removesuffix("s").split())}
    return {own, name, plural(name), *named}


@cache
def _stitches_in(terms: str) -> re.Pattern[str]:
    words = _either(list(_sure_words(terms)))
    return re.compile(rf"(?<![a-z])(?P<before>(?:[fb]p ?)?)(?P<word>{words})(?P<after>\d+tog|)(?![a-z])", re.I)


def stitches_named(text: str, terms: str) -> list[tuple[str, str]]:
    """Each stitch that a sentence names, as (what it says, US name), in order."""
    kinds = _sure_words(terms)
    return [(match["word"], kinds[match["word"].lower()]) for match in _stitches_in(terms).finditer(text)]


_COUNTED = r"(?:(?:the|a|an|each|every|next|first|last|any|\d+|one|two|three|four|five|six|seven|eight) )*"
_BASES = r"(?:sts?|stitch(?:es)?|chs?|chains?|sps?|spaces?|loops?)\b"


def _keeping_case(words: str) -> Callable[[re.Match[str]], str]:
    return lambda match: _cased(match[0], words)


_PHRASES: dict[str, tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str]], ...]] = {
    "UK": (
        (compile_later(rf"\bsk(?:ip)?(?= {_COUNTED}{_BASES})", re.I), _keeping_case("miss")),
        (compile_later(r"\bgauge\b", re.I), _keeping_case("tension")),
        (compile_later(r"\byo\b"), _keeping_case("yoh")),
        (compile_later(r"\b(?:US|American)(?= (?:crochet )?term)"), _keeping_case("UK")),
    ),
    "US": (
        (compile_later(rf"\bmiss(?= {_COUNTED}{_BASES})", re.I), _keeping_case("skip")),
        (
            compile_later(r"(?<!even )(?<!loose )(?<!firm )(?<!tight )(?<!your )(?<!under )\btension\b", re.I),
            _keeping_case("gauge"),
        ),
        (compile_later(r"\b(?:yoh|yrh)\b"), _keeping_case("yo")),
        (compile_later(r"\b(?:UK|British)(?= (?:crochet )?term)"), _keeping_case("US")),
    ),
}
"""Phrases besides stitches. Tension is also what the yarn is under: it is the gauge only where nothing says that."""
