"""What is made in the words of an explanation: the places that it takes, the stitches that it leaves, and whether
that is an increase or a decrease, "aum: augment, 2 pb in one point"."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.notation.ast import Technique, acts
from tracker.notation.context import Context, OwnWord
from tracker.notation.glossary import full_name
from tracker.notation.lexer import scan
from tracker.notation.own_words import meaning_of, with_own_words
from tracker.notation.reader import read_line
from tracker.notation.token_kinds import MADE, T
from tracker.pattern.text_import.explanation import parts_of
from tracker.rounds.checks import weigh


def change_made(meaning: str, terms: str, words: tuple[OwnWord, ...]) -> str:
    """The increase or decrease that the end of an explanation makes: "lessen: 2 v together"; "" if it makes none."""
    making = next((part.text for part in reversed(list(parts_of(meaning)))), "")
    becoming = _BECOMES.fullmatch(making) or _OUT_OF.fullmatch(making)
    if becoming is not None and _are_stitches(f"{becoming['those']} {becoming['these']}", terms, words):
        return _CHANGES.get((_FEW[becoming["before"]], _FEW[becoming["after"]]), "")
    made = made_of(making, terms, words) if _OF_ONE_PLACE.search(making) else None
    change = _CHANGES.get((made.takes, made.leaves), "") if made is not None else ""
    kind = next(iter(made.kinds)) if made is not None and len(made.kinds) == 1 else ""
    if not change or not kind or kind == "sc":
        return change if kind else ""
    changed = f"{full_name(kind, terms)} {change}"
    return changed if meaning_of(changed, terms) is not None else ""


_OF_ONE_PLACE = compile_later(r"^\D*\b(?:2|two)(?!\d).*(?:\b(?:same|one|1|next|single)\b|tog)")
_FEW = {"1": 1, "one": 1, "2": 2, "two": 2}
_PLACES = rf"(?P<before>{'|'.join(_FEW)})(?P<those>(?: [^\W\d]+){{0,2}})"
_LEFT = rf"(?P<after>{'|'.join(_FEW)})(?P<these>(?: [^\W\d]+){{0,2}})"
_BECOMES = compile_later(
    rf"(?:(?P<turned>turn) |make |when )?{_PLACES} (?:becomes?|turns? into|made into|(?(turned)into|(?!)))"
    rf" (?:only )?{_LEFT}"
)
""" "2 stitches become 1", "turn one st into two": what was there, and what is then; "2 sts into 1" alone is an
increase."""
_OUT_OF = compile_later(rf"(?:(?:make|work|get) )?{_LEFT} (?:out of|from) {_PLACES}")
_CHANGES = {(1, 2): "increase", (2, 1): "decrease"}
"""By the places that are taken and the stitches that are left; of sc it is the one that the trade means."""


def _are_stitches(counted: str, terms: str, words: tuple[OwnWord, ...]) -> bool:
    """Whether what is counted are stitches, by the words of the trade or of the page."""
    kinds = {token.kind for token in with_own_words(scan(counted, terms), words, terms)}
    return kinds <= MADE | {T.NOUN, T.SPACE, T.FILLER}


def takes_and_leaves(making: str, terms: str, stitches: tuple[OwnWord, ...] = (), *, closes: bool = False) -> str:
    """What is made in these words as the pattern file has it; "" if they do not say it to the last word. What
    `closes` several stitches together is known to do so over several places."""
    made = made_of(making, terms, stitches, closes=closes)
    return f"takes {made.takes}, leaves {made.leaves}" if made is not None else ""


@dataclass(frozen=True, slots=True)
class Making:
    """What is made in some words: the places that it takes, the stitches that it leaves, and of which sorts."""

    takes: int
    leaves: int
    kinds: frozenset[str]


def made_of(making: str, terms: str, stitches: tuple[OwnWord, ...], *, closes: bool = False) -> Making | None:
    """What is made in one place, or over a few, if the words say nothing else.

    What is all chains and slip stitches hangs on the round and takes no place of it.
    """
    line = read_line(making, Context(terms=terms, words=stitches))
    if not line.is_readable or line.remarks or line.stated or line.heading.end:
        return None
    techniques = {act.technique for act in acts(line.body)}
    plan = weigh(line, None).plan
    kinds = frozenset(kind for kind, _ in plan.tally.kinds) if plan is not None else frozenset()
    if plan is None or not kinds:
        return None
    if kinds <= {"chain", "sl st"}:
        return Making(0, 0, kinds)
    if techniques & (_OF_A_ROUND - {Technique.TOGETHER} if closes or kinds == {"sc"} else _OF_A_ROUND):
        return None
    in_one_place = plan.uses > 0 and not plan.tally.spaces and _MOST_MADE >= plan.leaves > 0
    return Making(plan.uses, plan.leaves, kinds) if in_one_place else None


_OF_A_ROUND = frozenset((Technique.TOGETHER, Technique.RING, Technique.JOIN, Technique.TURN))
"""What a round has and a stitch has not; what is closed together may be so in one place or over several,
but for sc, of which no clusters are made (common practice, no source)."""

_MOST_MADE = 20
"""Stitches of one stitch that a page explains; more are a round."""
