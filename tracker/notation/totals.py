"""The total that a line states: "(18)", "[18 sts]", "= 18", "- 18 sts", "join. 26 dc", "(9 sc, 9 ch-2 sps)"."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.notation.lexicon import T
from tracker.notation.scanner import Lines, Token
from tracker.notation.tree import Stated

_SEPARATORS = (T.COMMA, T.AND, T.PLUS, T.SLASH, T.SEMI, T.EQUALS, T.DASH, T.COLON)
_KIND_WORDS = (
    T.NOUN,
    T.STITCH,
    T.BUNCH,
    T.CHAIN,
    T.SPACE,
    T.POSTED,
    T.WORD,
    T.TOTAL,
    T.CORNER,
    T.FILLER,
    T.MARKER,
)
_TRAILING = (T.DOT, T.COMMA, T.SEMI, T.NEWLINE, T.DASH, T.MARK, T.COLON, T.OTHER_SIGN, T.FILLER)
_MADE = (T.STITCH, T.INC, T.DEC, T.BUNCH, T.CHAIN, T.POSTED, T.SKIP)
_SIZES = (T.OPEN, T.CLOSE, T.COMMA, T.SLASH)
_COUNT_BEFORE_TOTAL = (T.TIMES, T.STITCH, T.INC, T.DEC, T.MARK)
_ENDS_A_ROUND = (T.AROUND, T.EACH, T.JOIN, T.TIMES, T.MARK, T.CLOSE, T.TURN, T.REPEAT, T.OFTEN, T.LAST)


@dataclass(frozen=True, slots=True)
class Totals:
    """`body` are the words without the totals; `stated` the totals in the order written; `rounds` is n of "(n rnds)"."""

    body: list[Token]
    stated: tuple[Stated, ...]
    rounds: int | None = None


def take_totals(tokens: list[Token], lines: Lines, size: int = 0) -> Totals:
    """Split the stated totals off the words of an instruction."""
    stated: list[Stated] = []
    rounds: int | None = None
    body = list(tokens)
    while True:
        end = _trimmed(body)
        opening: int | None = None
        if end and body[end - 1].kind is T.CLOSE:
            opening = _opening(body, end - 1)
            inner = body[opening + 1 : end - 1] if opening is not None else []
            if opening is not None and _is_rounds(inner):
                rounds = next((t.number for t in inner if t.kind is T.NUMBER), rounds)
                body = body[: _trimmed(body[:opening])]
                continue
            if opening is not None and len(inner) > 2 and _is_total_at(body, opening):
                body = body[: _trimmed(body[:opening])]
                continue
            if opening is not None and _is_bracket_total(body, opening, inner):
                stated.insert(0, _stated(inner, lines, size))
                body = _without_lead(body[:opening])
                continue
        if not stated and end and body[end - 1].kind is T.CLOSE and opening:
            plain = _plain_total(body[: _trimmed(body[:opening])])
            before = body[_trimmed(body[:opening]) - 1]
            if (plain is not None and _surely_total(body, plain)) or (
                before.kind is T.CLOSE and _is_total_at(body, opening)
            ):
                body = body[: _trimmed(body[:opening])]
                continue
        if not stated:
            sentence = _remark_behind_total(body[:end])
            if sentence is not None:
                body = body[:sentence]
                continue
        if not stated:
            plain = _plain_total(body[:end])
            if plain is not None:
                stated.insert(0, _stated(body[plain:end], lines, size))
                body = _without_lead(body[:plain])
                continue
        break
    if not stated:
        body, stated = _total_before_steps(body, lines, size)
    return Totals(body, tuple(stated), rounds)


def _remark_behind_total(body: list[Token]) -> int | None:
    """Where a sentence for the maker begins that stands behind a total: "(18). Start to stuff"."""
    for index in range(len(body) - 1, 0, -1):
        token = body[index]
        if token.kind in (T.COMMA, T.DOT, T.SEMI, T.NEWLINE):
            clause = body[index + 1 :]
            words = [t for t in clause if t.kind in (T.WORD, T.STEP, T.WORK)]
            if not words or any(t.kind in _SAYS_HOW for t in clause):
                return None
            before = _trimmed(body[:index])
            sure = bool(before) and body[before - 1].kind is T.CLOSE and _is_total_at(body, before)
            plain = _plain_total(body[:before])
            return index if sure or (plain is not None and _surely_total(body, plain)) else None
        if token.kind in (T.CLOSE, T.OPEN, T.MARK):
            return None
    return None


_SAYS_HOW = (*_MADE, T.REPEAT, T.AROUND, T.TIMES, T.EACH, T.NOUN, T.JOIN, T.TURN, T.NUMBER, T.ONGOING)


def _surely_total(body: list[Token], start: int) -> bool:
    return body[start - 1].kind in (T.EQUALS, T.TOTAL) or (start > 1 and body[start - 1].kind in (T.DASH, T.DOT))


def _is_total_at(body: list[Token], end: int) -> bool:
    """Whether the bracket that ends before word `end` is a total, so that a bracket behind it is a remark."""
    close = _trimmed(body[:end]) - 1
    opening = _opening(body, close)
    return opening is not None and opening > 0 and _is_bracket_total(body, opening, body[opening + 1 : close])


def _trimmed(body: list[Token]) -> int:
    end = len(body)
    while end and body[end - 1].kind in _TRAILING and not (body[end - 1].kind is T.MARK and _closes(body, end - 1)):
        end -= 1
    return end


def _closes(body: list[Token], index: int) -> bool:
    """Whether the star at `index` has a twin before it; one that has none is a footnote."""
    return sum(1 for token in body[:index] if token.kind is T.MARK) % 2 == 1


def _opening(body: list[Token], close: int) -> int | None:
    depth = 0
    for index in range(close, -1, -1):
        if body[index].kind is T.CLOSE:
            depth += 1
        elif body[index].kind is T.OPEN:
            depth -= 1
            if depth == 0:
                return index if body[index].value == body[close].value else None
    return None


def _is_rounds(inner: list[Token]) -> bool:
    kinds = [token.kind for token in inner]
    return T.ROUND in kinds and T.NUMBER in kinds and not any(kind in _MADE for kind in kinds)


def _is_bracket_total(body: list[Token], opening: int, inner: list[Token]) -> bool:
    if not _is_total(inner) or not any(
        t.kind in (*_MADE, T.NOUN, T.REPEAT, T.AS, T.EVEN, T.TIMES) for t in body[:opening]
    ):
        return _is_total(inner) and _letters_before(body[:opening])
    before = body[opening - 1].kind
    small = max((t.number for t in inner if t.kind is T.NUMBER), default=0) <= 5
    names_stitch = any(token.kind in (T.STITCH, T.POSTED) for token in inner)
    if before in (T.COMMA, T.AND, T.THEN) and small and names_stitch:
        return False
    bare = all(token.kind in (T.NUMBER, T.COMMA, T.SLASH, T.DASH) for token in inner)
    if before is T.NUMBER and bare and (opening < 2 or body[opening - 2].kind not in _COUNT_BEFORE_TOTAL):
        return T.COMMA not in [token.kind for token in inner]
    return True


def _letters_before(body: list[Token]) -> bool:
    return any(token.text in ("x", "v", "a", "w") for token in body)


def _is_total(inner: list[Token]) -> bool:
    """TOTAL := [=] NUMBER [kind] { , NUMBER [kind] }"""
    content = [t for t in inner if t.kind not in (T.TOTAL, T.FILLER, T.NOT, T.DOT, T.AND)]
    while content and content[0].kind in (T.EQUALS, T.DASH, T.COLON, T.COUNTS):
        content = content[1:]
    if not content or content[0].kind not in (T.NUMBER, T.NOUN):
        return False
    if content[0].kind is T.NOUN and not (len(content) > 1 and any(t.kind is T.NUMBER for t in content)):
        return False
    allowed = (
        T.NUMBER,
        *_KIND_WORDS,
        *_SEPARATORS,
        T.OPEN,
        T.CLOSE,
        T.EACH,
        T.SIDE,
        T.AROUND,
        T.REMAINING,
        T.LEFT,
        T.INC,
        T.OF,
    )
    if any(token.kind not in allowed for token in content):
        return False
    kinds = {token.kind for token in content}
    if T.INC in kinds or (T.EACH in kinds and T.SIDE not in kinds and T.WORD not in kinds):
        return False
    return _entries_are_counts(content)


def _entries_are_counts(content: list[Token]) -> bool:
    """Every named thing has a number before it: "9 sc, 9 ch-2 sps" is a total, "9 sc, ch" is not."""
    start = True
    for index, token in enumerate(content):
        if token.kind in _SEPARATORS:
            start = True
            continue
        if start and token.kind not in (T.NUMBER, T.NOUN, T.WORD, T.OPEN, T.CLOSE):
            return False
        if start and token.kind is T.WORD and index == 0:
            return False
        start = False
    return True


def _plain_total(body: list[Token]) -> int | None:
    """Where a total without brackets begins at the end of these words; None if there is none."""
    if not body:
        return None
    for start in range(len(body) - 1, max(-1, len(body) - 14), -1):
        if start == 0 or body[start].kind is not T.NUMBER:
            continue
        content = body[start:]
        if not _is_total(content):
            continue
        if not any(t.kind in (*_MADE, T.NOUN, T.REPEAT, T.AS, T.EVEN) for t in body[:start]) and not _letters_before(
            body[:start]
        ):
            continue
        if _leads_total(body, start, content):
            return start
    return None


def _leads_total(body: list[Token], start: int, content: list[Token]) -> bool:
    lead = body[start - 1]
    kinds = [token.kind for token in content]
    names = any(kind in (T.NOUN, T.STITCH, T.BUNCH, T.SPACE, T.POSTED) for kind in kinds)
    if lead.kind is T.EQUALS or T.TOTAL in kinds[1:]:
        return True
    if len(content) == 1 and content[0].number > 3 and lead.kind in (T.DOT, T.SEMI, T.NEWLINE, T.COLON, T.COMMA):
        return True
    if lead.kind is T.COMMA and names and content[0].number > 5 and _closes_before(body, start - 1):
        return True
    if lead.kind is T.TOTAL or (lead.kind is T.COLON and start > 1 and body[start - 2].kind in (T.TOTAL, T.COUNTS)):
        return True
    before = [token.kind for token in body[:start]]
    ended = any(kind in _ENDS_A_ROUND for kind in before) or before.count(T.NUMBER) > 0
    if lead.kind is T.DASH:
        dashes = before.count(T.DASH)
        names = names or (T.WORD in kinds and content[-1].text.endswith("s"))
        return T.NOUN in kinds or (names and dashes == 1) or (len(content) == 1 and dashes == 1)
    if lead.kind in (T.DOT, T.NEWLINE, T.SEMI):
        strong = any(kind in _ENDS_A_ROUND for kind in before) or any(t.value == "sl st" for t in body[:start])
        names = names or (T.WORD in kinds and content[-1].text.endswith("s"))
        return (T.NOUN in kinds and ended and content[0].number > 3) or (
            strong and (names or all(k in (T.NUMBER, T.TOTAL, *_SIZES) for k in kinds))
        )
    if lead.kind in (T.AROUND, T.TURN, T.JOIN, T.EVENLY):
        return T.CHAIN not in kinds or T.SPACE in kinds
    if lead.kind is T.CLOSE and len(content) == 1:
        return content[0].number > 12
    if lead.kind in (T.COMMA, T.AND, T.CLOSE, T.TIMES, T.MARK, T.NOUN, T.OFTEN):
        total = content[0].number
        return (
            [k for k in kinds if k not in (T.LEFT, T.REMAINING)] == [T.NUMBER, T.NOUN]
            and total > 5
            and any(kind in _ENDS_A_ROUND for kind in before)
        )
    if lead.kind is T.NUMBER and len(content) == 1:
        return start > 2 and body[start - 2].kind is T.TIMES
    return lead.kind is T.NUMBER and T.NOUN in kinds and any(k in (T.TIMES, T.MARK) for k in before)


def _closes_before(body: list[Token], comma: int) -> bool:
    """Whether the clause before the comma closes the round: "..., ss to 1st htr, 48 htr"."""
    start = comma
    while start and body[start - 1].kind not in (T.COMMA, T.DOT, T.SEMI, T.CLOSE, T.NEWLINE):
        start -= 1
    return any(token.kind is T.JOIN or token.value == "sl st" for token in body[start:comma])


def _without_lead(body: list[Token]) -> list[Token]:
    end = len(body)
    while end and body[end - 1].kind in (
        T.COUNTS,
        T.TOTAL,
        T.EQUALS,
        T.DASH,
        T.COLON,
        T.COMMA,
        T.DOT,
        T.SEMI,
        T.NEWLINE,
        T.NOT,
    ):
        end -= 1
    return body[:end]


def _total_before_steps(body: list[Token], lines: Lines, size: int) -> tuple[list[Token], list[Stated]]:
    """A total in the middle with nothing but joining, turning and chaining behind it: "(26 dc), join"."""
    for close in range(len(body) - 1, 0, -1):
        if body[close].kind is not T.CLOSE:
            continue
        opening = _opening(body, close)
        if opening is None or opening == 0:
            continue
        inner = body[opening + 1 : close]
        if _is_bracket_total(body, opening, inner) and _only_steps(body[close + 1 :]):
            return body[:opening] + body[close + 1 :], [_stated(inner, lines, size)]
        if not _only_steps(body[close:]):
            break
    for start in range(len(body) - 1, 1, -1):
        if body[start].kind is T.NUMBER and body[start - 1].kind in (T.EQUALS, T.DASH, T.TOTAL, T.DOT, T.SEMI):
            end = start + 1
            while end < len(body) and body[end].kind in (T.NOUN, T.STITCH, T.BUNCH, T.WORD):
                end += 1
            if _only_steps(body[end:]) and (
                body[start - 1].kind in (T.EQUALS, T.TOTAL)
                or (end > start + 1 and _leads_total(body, start, body[start:end]))
            ):
                return body[: start - 1] + body[end:], [_stated(body[start:end], lines, size)]
    return body, []


def _only_steps(rest: list[Token]) -> bool:
    if any(
        token.kind in (T.INC, T.DEC, T.BUNCH, T.POSTED, T.SKIP, T.REPEAT, T.MARK, T.TIMES, T.OPEN) for token in rest
    ):
        return False
    joins = any(
        token.kind in (T.JOIN, T.TURN, T.CHAIN, T.STEP, T.CHANGE, T.WORD) or token.value == "sl st" for token in rest
    )
    stitches = [token for token in rest if token.kind is T.STITCH and token.value != "sl st"]
    return joins and (not stitches or any(t.kind in (T.JOIN, T.TO) or t.value == "sl st" for t in rest))


def _stated(inner: list[Token], lines: Lines, size: int) -> Stated:
    span = lines.span(inner[0].start, inner[-1].end)
    equals = [index for index, token in enumerate(inner) if token.kind is T.EQUALS and index]
    if equals and any(t.kind is T.NUMBER for t in inner[equals[-1] :]):
        inner = inner[equals[-1] + 1 :]
    entries = _entries(inner)
    if (
        len(entries) > 1
        and all(kind == "plain" for kind, _, _ in entries[:-1])
        and entries[-1][0] in ("plain", "stitch")
    ):
        sizes = tuple(number for _, _, number in entries)
        return Stated(sizes[min(size, len(sizes) - 1)], span=span, sizes=sizes)
    plain = [number for kind, _, number in entries if kind == "plain"]
    kinds = tuple((name, number) for kind, name, number in entries if kind == "stitch")
    spaces = [number for kind, _, number in entries if kind == "space"]
    lengths = {int(name) for kind, name, _ in entries if kind == "space" and name}
    chains = [number for kind, _, number in entries if kind == "chain"]
    groups = tuple((name, number) for kind, name, number in entries if kind == "group")
    stitches = plain[0] if plain else sum(number for _, number in kinds) if kinds else None
    chain_total = sum(chains) if chains else None
    return Stated(
        stitches,
        sum(spaces) if spaces else None,
        groups,
        span,
        chain_total,
        kinds=kinds if not plain else (),
        space_length=lengths.pop() if len(lengths) == 1 else 0,
    )


def _entries(inner: list[Token]) -> list[tuple[str, str, int]]:
    """Each number with the sort of thing it counts."""
    entries: list[tuple[str, str, int]] = []
    index = 0
    while index < len(inner):
        token = inner[index]
        index += 1
        if token.kind is not T.NUMBER:
            continue
        words: list[Token] = []
        while index < len(inner) and inner[index].kind not in (*_SEPARATORS, T.OPEN, T.CLOSE):
            if inner[index].kind is T.OF:
                while index < len(inner) and inner[index].kind not in _SEPARATORS:
                    index += 1
                break
            chain_length = index + 1 < len(inner) and inner[index + 1].kind is T.CHAIN and not words
            if chain_length and inner[index].kind is not T.NUMBER:
                chain_length = False
            if inner[index].kind is T.NUMBER and not chain_length and not (words and words[-1].kind is T.CHAIN):
                break
            words.append(inner[index])
            index += 1
        entries.append((*_sort(words), token.number))
    return entries


def _sort(words: list[Token]) -> tuple[str, str]:
    kinds = [token.kind for token in words]
    if T.SPACE in kinds or T.CORNER in kinds:
        return "space", next((str(token.number) for token in words if token.kind is T.NUMBER), "")
    if T.BUNCH in kinds:
        return "group", words[kinds.index(T.BUNCH)].name
    if T.CHAIN in kinds and T.NUMBER in kinds:
        return "space", str(next(t.number for t in words if t.kind is T.NUMBER))
    if T.CHAIN in kinds:
        return "chain", "ch"
    if T.STITCH in kinds:
        return "stitch", words[kinds.index(T.STITCH)].name
    if T.POSTED in kinds:
        return "stitch", str(words[kinds.index(T.POSTED)].value)
    named = [token.text for token in words if token.kind is T.WORD and token.text not in ("each", "side")]
    if named and T.NOUN not in kinds:
        return "group", named[0]
    return "plain", ""
