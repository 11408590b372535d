"""Which yarn is in use, and when the next one comes, by arithmetic on the rounds.

A new colour is drawn through at the last pull-through of the last stitch of the old one (common practice, no source),
so what counts is how many stitches lie before that stitch; all of them where the new one is joined fresh. An act that
names no colour goes on with the one before.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import accumulate

from tracker.identity_cache import ByIdentity, remembered
from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.pattern.model import Pattern, Piece, Round
from tracker.rounds.next_step import blocks, is_making
from tracker.rounds.plan import Act, Node, Plan, Repeat, Run, Technique
from tracker.session.due_notes import notes_due
from tracker.session.state import Copy, Place, State, Work, rounds_of
from tracker.session.view import ColourChange
from tracker.session.worked_rounds import round_at


def colour_in_use(pattern: Pattern, state: State, copy: Copy, place: Place) -> str:
    """The key of the yarn that the next stitch or chain is made with; "" if the pattern names none.

    Where only steps are left of a round (a join, fastening off) before a yarn that is not drawn through with it, the
    yarn that the round is made with.
    """
    for index in range(place.round_index, rounds_of(pattern, copy)):
        item = round_at(pattern, state.work, copy.piece, copy.number, index)
        move = place.moves if index == place.round_index else 0
        if item.plan is None:  # what it is made with is what was in use, and not what the round behind it begins with
            return item.colour or _before(pattern, state, copy, index, 0)
        making = _next_making(item.plan, move)
        if making is not None:
            return making.colour or _before(pattern, state, copy, index, move)
        if 0 < move < item.moves and _ends_apart(pattern, copy, index, item.plan, move):
            return _before(pattern, state, copy, index, move)
    return _before(pattern, state, copy, rounds_of(pattern, copy), 0)


def _ends_apart(pattern: Pattern, copy: Copy, index: int, plan: Plan, move: int) -> bool:
    """Whether the steps left of a round cut its yarn, or the round above it begins with a fresh one."""
    acts_ahead = (act for block in blocks(plan, move, lambda node: True) for act in Plan(block.nodes).acts())
    if any(cuts_yarn(act) for act in acts_ahead):
        return True
    return index + 1 < len(pattern.pieces[copy.piece].rounds) and begins_fresh(pattern, copy.piece, index + 1)


def _next_making(plan: Plan, move: int) -> Act | None:
    to_come = (act for block in blocks(plan, move, lambda node: True) for act in Plan(block.nodes).acts())
    return next((act for act in to_come if is_making(act)), None)


def _before(pattern: Pattern, state: State, copy: Copy, index: int, move: int) -> str:
    """The colour last named before a move."""
    rounds = rounds_of(pattern, copy)
    own_colour = (
        _named_in(round_at(pattern, state.work, copy.piece, copy.number, index), move) if index < rounds else ""
    )
    if own_colour or index == 0:
        return own_colour
    if not state.work.own_rounds:
        return _carried(pattern.pieces[copy.piece])[min(index, rounds)]
    rounds_below = (
        round_at(pattern, state.work, copy.piece, copy.number, before) for before in range(index - 1, -1, -1)
    )
    return next((colour for item in rounds_below if (colour := _named_last(item))), "")


def _named_in(item: Round, move: int) -> str:
    return (_last_named(item.plan.body, move) if item.plan else "") or item.colour


def _named_last(item: Round) -> str:
    """The colour that a round ends in; "" if it names none."""
    return (item.plan.ends_with if item.plan else "") or _named_in(item, item.moves)


@remembered
def _carried(piece: Piece) -> tuple[str, ...]:
    """The colour last named before each round of a piece, and after its last."""
    carried = [""]
    for item in piece.rounds:
        carried.append(_named_last(item) or carried[-1])
    return tuple(carried)


def _last_named(body: tuple[Node, ...], move: int) -> str:
    """The colour of the last coloured act that begins before a move of this body; "" if there is none."""
    colour = ""
    for node in body:
        if move <= 0:
            break
        if isinstance(node, Run):
            colour = node.act.colour or colour
        else:
            done, inside = divmod(min(move, node.tally.moves), max(node.once.moves, 1))
            whole = _last_named(node.body, node.once.moves) if done else ""
            colour = _last_named(node.body, inside) or whole or colour
        move -= node.tally.moves
    return colour


@dataclass(frozen=True, slots=True)
class _Yarns:
    """What acts tell of yarn: the first that is made, the colours named, and how they end."""

    first: Act | None
    colours: frozenset[str]
    ends_in_chain: bool
    cut: bool

    def are_steady(self, colour: str) -> bool:
        return self.colours <= {colour, ""}


def _yarns_of(nodes: tuple[Node, ...]) -> _Yarns:
    first: Act | None = None
    colours = set()
    chain = cut = False
    for act in Plan(nodes).acts():
        if is_making(act):
            first = first or act
            colours.add(act.colour)
            chain, cut = act.stitches == 0, False
        elif cuts_yarn(act):
            cut = True
    return _Yarns(first, frozenset(colours), chain, cut)


def cuts_yarn(act: Act) -> bool:
    """Whether the yarn is fastened off or cut with this act."""
    return act.technique is Technique.FASTEN_OFF


@remembered
def _yarns_in(part: Plan | Repeat) -> _Yarns:
    return _yarns_of(part.body)


def colours_named(item: Round) -> frozenset[str]:
    """The keys of all yarns that a round names."""
    colours = _yarns_in(item.plan).colours if item.plan else frozenset()
    return (colours | {item.colour}) - {""}


@dataclass(slots=True)
class _Walk:
    """What was gone through: stitches made, whether a chain was made last, whether the yarn was cut since."""

    colour: str
    stitches: int = 0
    ends_in_chain: bool = False
    cut: bool = False

    def past(self, stitches: int, yarns: _Yarns) -> None:
        self.stitches += stitches
        if yarns.first is not None:
            self.ends_in_chain, self.cut = yarns.ends_in_chain, False
        self.cut = self.cut or yarns.cut


def next_colour(pattern: Pattern, state: State, copy: Copy, place: Place, in_use: str) -> ColourChange | None:
    """The next change from the yarn in use, in this and the coming rounds of the piece; None if there is none, or if
    a round that could not be read lies before it."""
    return _next_colour(ByIdentity(pattern), ByIdentity(state.work), copy, place, in_use)


@lru_cache(maxsize=32)
def _next_colour(
    in_pattern: ByIdentity[Pattern], of_work: ByIdentity[Work], copy: Copy, place: Place, in_use: str
) -> ColourChange | None:
    """Kept for the few places that one tap asks about several times."""
    pattern, state, walk = in_pattern.part, State(of_work.part), _Walk(in_use)
    move, index = place.moves, place.round_index
    while index < rounds_of(pattern, copy):
        item = round_at(pattern, state.work, copy.piece, copy.number, index)
        key = _change_in(item, move, walk)
        if key is not None:
            at_start = move == 0 and key == _begins_with(item)
            walk.cut = walk.cut or (at_start and begins_fresh(pattern, copy.piece, index))
            return _colour_change(pattern, key, walk)
        if item.plan is None and item.leaves is None:
            return None
        move, index = 0, index + 1
        if not state.work.own_rounds:
            index = _steady_past(pattern.pieces[copy.piece], index, walk)
    return None


_JOINS = compile_later(
    r"^[^:]*:\s*(?:\(\w+\)\s*)?(?:with [\w ]{1,30},\s*)?(?:join|attach|begin|start)\b(?! with a? ?s[lt])",
    re.IGNORECASE,
)
"""A round whose first words are of a yarn to be joined, or of where it begins."""
_FRESH = compile_later(
    r"\b(?:fasten|finish|end|cut|break)\b[^.;]*\b(?:old|each|every)\b[^.;]*\bjoin|\beach colou?r is new\b"
    r"|\bjoin(?:ed|ing)?\b[^.;]*\b(?:new|next) (?:yarn|colou?r|one)\b",
    re.IGNORECASE,
)
_ELSEWHERE = compile_later(r"\b(?:begins?|starts?|join(?:ed)?)\b[^.;]*\bin any\b", re.IGNORECASE)
_DRAWN = compile_later(r"\bdraw\b[^.;]*\bthrough\b", re.IGNORECASE)


@remembered
def begins_fresh(pattern: Pattern, piece: int, index: int) -> bool:
    """Whether the pattern says that the yarn of this round is joined, and so not drawn through with the round before:
    in the round itself, in a note that is due there, or in one about all colours."""
    the_piece = pattern.pieces[piece]
    item = the_piece.rounds[index]
    if not index:
        return False
    if _JOINS.search(item.text) or any(
        _ELSEWHERE.search(text) for text in (item.remark, *notes_due(the_piece, index))
    ):
        return True
    general = (*the_piece.notes, *pattern.notes)
    return any(_FRESH.search(text) for text in general) and not any(_DRAWN.search(text) for text in general)


def _steady_past(piece: Piece, index: int, walk: _Walk) -> int:
    """The round to look at next: the last of a stretch that does not change the colour, with the walk gone past the
    rounds before it."""
    steady = _steady_in(piece)
    if index >= len(steady.last) or steady.colour[index] not in ("", walk.colour):
        return index
    last = steady.last[index]
    walk.stitches += steady.before[last] - steady.before[index]
    return last


@dataclass(frozen=True, slots=True)
class _Steady:
    """By round: the one colour that it names ("" for none), the last round of the stretch of such rounds that it
    is in, and the stitches of all rounds before it. A round of several colours, or in which nothing is made, is a
    stretch by itself."""

    colour: tuple[str, ...]
    last: tuple[int, ...]
    before: tuple[int, ...]


@remembered
def _steady_in(piece: Piece) -> _Steady:
    colours = [_one_colour(item) for item in piece.rounds]
    last = list(range(len(colours)))
    for index in range(len(colours) - 2, -1, -1):
        if colours[index] is not None and colours[index] == colours[index + 1]:
            last[index] = last[index + 1]
    before = (0, *accumulate(item.leaves or 0 for item in piece.rounds))
    return _Steady(tuple(colour or "" for colour in colours), tuple(last), before)


def _one_colour(item: Round) -> str | None:
    """The only colour that a round names, "" if it names none; None if there are several or nothing is made."""
    if item.plan is None or _yarns_in(item.plan).first is None:
        return None
    colours = (_yarns_in(item.plan).colours | {_begins_with(item)}) - {""}
    return None if len(colours) > 1 else "".join(colours)


def _change_in(item: Round, move: int, walk: _Walk) -> str | None:
    """The colour that this round changes to after `move`; None, with the walk gone past it, if it does not."""
    begins = _begins_with(item) if move == 0 else ""
    if begins not in ("", walk.colour):
        return begins
    if item.plan is None:
        walk.stitches += item.leaves or 0
        return None
    whole = _yarns_in(item.plan)
    if move == 0 and whole.are_steady(walk.colour):
        walk.past(item.plan.leaves, whole)
        return None
    for block in blocks(item.plan, move, lambda node: _yarns_in(node).are_steady(walk.colour)):
        yarns = _yarns_of(block.nodes)
        if yarns.first is not None and yarns.first.colour not in ("", walk.colour):
            return yarns.first.colour
        walk.past(block.stitches, yarns)
    return None


def _begins_with(item: Round) -> str:
    """The colour of the round's first stitch, if it names one."""
    if item.plan is None:
        return item.colour
    making = _yarns_in(item.plan).first
    return "" if making is None else making.colour or item.colour


def _colour_change(pattern: Pattern, key: str, walk: _Walk) -> ColourChange:
    last = 0 if walk.ends_in_chain or walk.cut else 1
    return ColourChange(key, pattern.yarn_name(key), max(0, walk.stitches - last), walk.ends_in_chain, walk.cut)


def cue_words(change: ColourChange | None, stitches: int) -> str:
    """The cue for a change of colour that falls within the next `stitches` stitches; "" if none does."""
    if change is None or change.cut_first:
        return ""
    if change.in_stitches > (stitches if change.in_chain else max(stitches - 1, 0)):
        return ""
    if change.in_chain:
        stitch = f"the chain after stitch {change.in_stitches}" if change.in_stitches else "this chain"
    elif change.in_stitches == 0:
        stitch = "this stitch"
    elif change.in_stitches == stitches - 1:
        stitch = "the last of these"
    else:
        stitch = f"stitch {change.in_stitches + 1} of these"
    return f"on the last pull-through of {stitch} change to {change.name}"
