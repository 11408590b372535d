"""Totals in another dress, "*(18 sc)*", "60 hdc for toddler, 70 hdc for child", as brackets that all may read."""

from __future__ import annotations

from itertools import pairwise

from tracker.notation.parser.plain_total import INSTRUCTS
from tracker.notation.parser.total_value import is_total
from tracker.notation.token_kinds import MADE, PAUSES, T
from tracker.notation.token_stream import PhrasePattern, Token

_TRAILING = PAUSES | {T.DASH, T.MARK, T.COLON, T.OTHER_SIGN, T.FILLER}


def with_plain_brackets(tokens: list[Token]) -> list[Token]:
    """The words with brackets around what stands for a total at their end."""
    return _with_sizes_in_brackets(_with_yarn_in_brackets(_upright(_without_as_before(_out_of_slashes(tokens)))))


def _out_of_slashes(tokens: list[Token]) -> list[Token]:
    """ "/12/" and "/36 together with chains/" at the end, as "(12)" """
    end = len(tokens) - (tokens[-1:] != [] and tokens[-1].kind is T.DOT)
    signs = [index for index, word in enumerate(tokens[:end]) if word.text == "/"]
    if signs[-1:] != [end - 1] or len(signs) == 1 or tokens[signs[-2] + 1].kind is not T.NUMBER:
        return tokens
    first, last = signs[-2:]
    opens = tokens[first]._replace(kind=T.OPEN, value=")", text="(")
    closes = tokens[last]._replace(kind=T.CLOSE, value=")", text=")")
    return [*tokens[:first], opens, *tokens[first + 1 : last], closes, *tokens[end:]]


def _without_as_before(tokens: list[Token]) -> list[Token]:
    """ "72 again", "(18 as before)", "18 sts like before": the total without what says that it was the same before"""
    end = trimmed(tokens)
    end -= bool(end) and tokens[end - 1].kind is T.CLOSE
    as_before = end > 1 and tokens[end - 2].kind is T.AS and tokens[end - 1].text == "before"
    cut = 2 if as_before else int(end > 0 and tokens[end - 1].kind is T.AGAIN)
    number = end - cut - 1
    number -= number > 0 and tokens[number].kind in (T.NOUN, T.STITCH)
    if not cut or number < 1 or tokens[number].kind is not T.NUMBER or tokens[number - 1].kind not in _BEFORE_TOTAL:
        return tokens
    return [*tokens[: end - cut], *tokens[end:]]


_BEFORE_TOTAL = PAUSES | {T.OPEN, T.EQUALS, T.DASH, T.TOTAL, T.COLON}


def trimmed(body: list[Token]) -> int:
    """Where the words end without the signs at their end."""
    end = len(body)
    while end and body[end - 1].kind in _TRAILING and not closes_star(body, end - 1):
        end -= 1
    return end


def closes_star(body: list[Token], index: int) -> bool:
    """Whether this is a star with a twin before it; one that has none is a footnote."""
    if body[index].kind is not T.MARK:
        return False
    return sum(token.kind is T.MARK for token in body[:index]) % 2 == 1


def _upright(tokens: list[Token]) -> list[Token]:
    """The words without the stars of slanted type around a total or a remark, "*(18 sc)*", "*18 sc*", "*stuff*",
    which then stands in brackets: a group to be worked has more than that in it, and nobody marks one twice."""
    stars = [index for index, word in enumerate(tokens) if word.kind is T.MARK]
    for first, last in zip(stars[-2::-1], stars[:0:-1], strict=True):
        if not _is_slanted(tokens, first, last):
            continue
        is_bracketed = T.OPEN in (tokens[first - 1].kind, tokens[first + 1].kind)
        opens = [] if is_bracketed else [tokens[first]._replace(kind=T.OPEN, value=")", text="(")]
        closes = [] if is_bracketed else [tokens[last]._replace(kind=T.CLOSE, value=")", text=")")]
        tokens = [*tokens[:first], *opens, *tokens[first + 1 : last], *closes, *tokens[last + 1 :]]
    return tokens


def _is_slanted(tokens: list[Token], first: int, last: int) -> bool:
    """Whether the stars with these numbers stand close around a total, or words that make nothing, behind what is to
    be made."""
    inner = tokens[first + 1 : last]
    if not inner or tokens[first].end != inner[0].start or inner[-1].end != tokens[last].start:
        return False
    if inner[0].kind is T.OPEN and inner[-1].kind is T.CLOSE:
        inner = inner[1:-1]
    if not any(word.kind in INSTRUCTS for word in tokens[:first]):
        return False
    kinds = {word.kind for word in inner}
    if kinds & {T.WORD, T.STEP} and not kinds & (MADE | {T.NUMBER}):
        return True
    return tokens[first - 1].kind not in (T.COMMA, T.AND, T.THEN, T.COLON) and is_total(inner)


def _with_yarn_in_brackets(tokens: list[Token]) -> list[Token]:
    """ "(18) - red" as "(18) (red)": the yarn of the round behind its total"""
    if [token.kind for token in tokens[-3:]] != [T.CLOSE, T.DASH, T.COLOURED]:
        return tokens
    dash, yarn = tokens[-2:]
    opens = dash._replace(kind=T.OPEN, value=")", text="(")
    return [*tokens[:-2], opens, yarn, yarn._replace(kind=T.CLOSE, value=")", text=")", start=yarn.end)]


def _with_sizes_in_brackets(tokens: list[Token]) -> list[Token]:
    """ "60 hdc for toddler, 70 hdc for child" at the end, as "(60, 70 hdc)": one total for each size"""
    if all(word.text != "for" for word in tokens[-_LONGEST_BY_SIZE:]):
        return tokens
    end = trimmed(tokens)
    end -= bool(end) and tokens[end - 1].kind is T.CLOSE
    start = _BY_SIZE.first_in(tokens[:end], max(end - _LONGEST_BY_SIZE, 1)) + 1
    if start > end:
        return tokens
    counts = [word for word in tokens[start:end] if word.kind is T.NUMBER]
    kind = [word for word in tokens[start + 1 : start + 2] if word.kind in (T.STITCH, T.NOUN)]
    listed = [each for word in counts for each in (word, word._replace(kind=T.COMMA, value=None, text=","))][:-1]
    sign = tokens[start]._replace(kind=T.OPEN, value=")", text="(")
    closing = tokens[end - 1]._replace(kind=T.CLOSE, value=")", text=")")
    if tokens[start - 1].kind is T.OPEN:
        return [*tokens[:start], *listed, *kind, *tokens[end:]]
    return [*tokens[:start], sign, *listed, *kind, closing, *tokens[end:]]


_BY_SIZE = PhrasePattern(
    "[DOT OPEN EQUALS DASH COLON NEWLINE SEMI] NUMBER [STITCH NOUN]? (?= IN) FOR WORD+"
    " ([COMMA SEMI AND]+ NUMBER [STITCH NOUN]? (?= IN) FOR WORD+)+ $"
)
_LONGEST_BY_SIZE = 24
"""Words of totals for five sizes by name."""
_BEFORE_SIZES = (T.DOT, T.OPEN, T.EQUALS, T.DASH, T.COLON, T.NEWLINE, T.SEMI)


def with_bare_counts(body: list[Token]) -> list[Token]:
    """The words without the brackets around a count alone: "(6) sc, (1) inc"."""
    bare = {
        index
        for index, sign in enumerate(body[:-3])
        if [word.kind for word in body[index : index + 3]] == [T.OPEN, T.NUMBER, T.CLOSE]
        and body[index + 3].kind in MADE
        and (not index or body[index - 1].kind in PAUSES | {T.THEN, T.AND, T.OPEN, T.MARK, T.COLON})
    }
    signs = bare | {index + 2 for index in bare}
    return [word for index, word in enumerate(body) if index not in signs] if bare else body


def is_count_of_rounds(inner: list[Token]) -> bool:
    """ "(4 rnds)": how many rounds the line is for; "(24 sts in rnd)" is a total."""
    kinds = [word.kind for word in inner]
    if T.ROUND not in kinds or T.NUMBER not in kinds or MADE.intersection(kinds):
        return False
    return T.NOUN not in kinds or (T.NUMBER, T.ROUND) in pairwise(kinds)


_CLOSES = (T.JOIN, T.TO)
"""What a stitch behind it is only the place of: "join to first dc", "ss to top of tr"."""


BINDS = (T.AROUND, T.IN, T.EACH, T.NEXT, T.OVER, T.TIMES, T.ALL, T.OFTEN)
"""What belongs to the bracket before it, which is no total then: "(12 sc, 12 hdc) around"."""


def tells_steps_alone(words: list[Token]) -> bool:
    """Whether nothing but joining, turning and chaining is said here, and that is said."""
    kinds = {word.kind for word in words}
    if kinds & {T.INC, T.DEC, T.BUNCH, T.POSTED, T.SKIP, T.REPEAT, T.MARK, T.TIMES, T.OPEN}:
        return False
    slips = any(word.value == "sl st" for word in words)
    if words and words[0].kind in BINDS and [w.kind for w in words[:2]] != [T.IN, T.CENTRE]:
        return False
    if not slips and not kinds & {T.JOIN, T.TURN, T.CHAIN, T.STEP, T.CHANGE, T.WORD, T.EVEN}:
        return False
    named = [index for index, word in enumerate(words) if word.kind is T.STITCH and word.value != "sl st"]
    closes = [index for index, word in enumerate(words) if word.kind in _CLOSES or word.value == "sl st"]
    return not named or (bool(closes) and closes[0] < named[0])
