"""A change of colour as the maker is told of it: what to do at which loop, and what becomes of the old yarn.

That the new yarn is drawn through with the last loop of the old one's last stitch is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from tracker.lazy_pattern import compile_later
from tracker.notation.ast import Role
from tracker.pattern.model import Pattern, Piece, Round
from tracker.plural import number_of
from tracker.rounds.next_step import between, is_making
from tracker.rounds.plan import Plan
from tracker.session.colour_changes import begins_fresh, colour_in_use, colours_named, cuts_yarn, next_colour
from tracker.session.due_notes import notes_due
from tracker.session.state import Copy, Place, State, rounds_of
from tracker.session.view import ColourEvent, Step
from tracker.session.worked_rounds import round_at


def colour_event(pattern: Pattern, state: State, step: Step | None) -> ColourEvent | None:
    """The event of this very step; None if it is an ordinary one."""
    if step is None:
        return None
    if step.change is not None:
        return _drawn_through(pattern, state, step)
    return _joined(pattern, state, step)


def _drawn_through(pattern: Pattern, state: State, step: Step) -> ColourEvent:
    assert step.change is not None
    copy, place, key, name = state.work.copy, state.work.place, step.change.key, step.change.name
    if step.change.in_chain:
        how = f"make the chain up to its last loop and draw {name} through that"
    else:
        stitches = "this stitch" if step.stitches == 1 else "these stitches"
        how = f"make {stitches} up to the last loop on the hook, then draw {name} through"
    in_use = colour_in_use(pattern, state, copy, place)
    return ColourEvent(key, f"change to {name}", how, _old_yarn(pattern, state, copy, in_use, key, step))


def _old_yarn(pattern: Pattern, state: State, copy: Copy, old: str, new: str, step: Step) -> str:
    if not old:
        return ""
    index = state.work.place.round_index
    sentence = _sentence_on_yarn(
        pattern, pattern.pieces[copy.piece], index, (pattern.yarn_name(old), pattern.yarn_name(new))
    )
    return sentence or f"{pattern.yarn_name(old)} {_what_follows(pattern, state, copy, old, new, step)}"


_WAYS = compile_later(r"\b(?:cut|carry|carried|drop|leave|let|hang|hanging|float|strand|break)\b", re.IGNORECASE)
_OF_YARN = compile_later(r"\b(?:yarns?|colou?rs?)\b", re.IGNORECASE)

LONGEST_QUOTED = 140
"""Characters of a sentence of the pattern that is told with a change; a longer one is a paragraph about more."""


def _sentence_on_yarn(pattern: Pattern, piece: Piece, index: int, names: tuple[str, str]) -> str:
    """What the pattern says is done with yarns where they change, in its own words."""
    texts = (piece.rounds[index].remark, *notes_due(piece, index), *piece.notes, *pattern.notes)
    for sentence in (part for text in texts for part in _sentences(text)):
        is_of_yarn = _OF_YARN.search(sentence) or any(name.lower() in sentence.lower() for name in names)
        if (
            _WAYS.search(sentence)
            and is_of_yarn
            and len(sentence) <= LONGEST_QUOTED
            and _is_of(sentence, piece, index)
        ):
            return f"the pattern says: {sentence}"
    return ""


def _is_of(sentence: str, piece: Piece, index: int) -> bool:
    """Whether a sentence names this round or none."""
    numbers = {
        int(number) for number in re.findall(r"\b(?:rnds?|rounds?|rows?|r)\.? ?(\d{1,4})", sentence, re.IGNORECASE)
    }
    return not numbers or piece.rounds[index].number in numbers


def _sentences(text: str) -> Iterator[str]:
    yield from (part.strip().rstrip(".;") for part in re.split(r"(?<=[.;])\s+", text) if part.strip())


def _what_follows(pattern: Pattern, state: State, copy: Copy, old: str, new: str, step: Step) -> str:
    """From where the old yarn is used again: no pattern has to say that a yarn that is never used again is cut."""
    place = state.work.place
    item = round_at(pattern, state.work, copy.piece, copy.number, place.round_index)
    after = Place(place.round_index + 1)
    if item.plan is not None and step.until < item.plan.moves:
        after = Place(place.round_index, step.until, item.plan.stitches_before(step.until))
    change = next_colour(pattern, state, copy, after, new)
    if change is not None and change.key == old and not change.cut_first:
        stitches = change.in_stitches + 1
        return f"comes again after {number_of(stitches, 'stitch')}: let it hang, do not cut it"
    nodes = between(item.plan, step.until, item.plan.moves).nodes if item.plan is not None else ()
    later = (
        round_at(pattern, state.work, copy.piece, copy.number, n)
        for n in range(place.round_index + 1, rounds_of(pattern, copy))
    )
    is_in_round = any(act.colour == old for act in Plan(nodes).acts() if is_making(act))
    if is_in_round or any(old in colours_named(each) for each in later):
        return "comes again later in this piece: let it hang, or cut it and join it again"
    return "is not used again in this piece: cut it, with a tail to weave in"


# A round that begins with a fresh yarn: there is nothing to draw through.

_PLACE = compile_later(r"\b(?:in|into|to|with) any [^.,;:()]{2,60}", re.IGNORECASE)


def _joined(pattern: Pattern, state: State, step: Step) -> ColourEvent | None:
    copy, place = state.work.copy, state.work.place
    if place.moves or not place.round_index or not step.stretch.nodes:
        return None
    before, item = (
        round_at(pattern, state.work, copy.piece, copy.number, place.round_index - back) for back in (1, 0)
    )
    if before.plan is None or item.plan is None:
        return None
    key = colour_in_use(pattern, state, copy, place)
    last = Place(place.round_index - 1, max(0, before.plan.move_after_stitches(before.plan.leaves) - 1))
    changes = key != colour_in_use(pattern, state, copy, last)
    if not (_ends_cut(before) or (changes and begins_fresh(pattern, copy.piece, place.round_index))):
        return None
    name = pattern.yarn_name(key) or "the yarn"
    where = _where_to_join(pattern.pieces[copy.piece], item, place.round_index)
    return ColourEvent(
        key,
        f"join {name}",
        f"a fresh yarn, nothing to draw through: fasten {name} on {where or 'where this round begins'}",
    )


def _ends_cut(item: Round) -> bool:
    acts = list(item.plan.acts()) if item.plan else []
    steps = (act for act in reversed(acts) if act.role in (Role.STEP, Role.WORK, Role.CHAIN))
    for act in steps:
        if act.role is not Role.STEP:
            return False
        if cuts_yarn(act):
            return True
    return False


def _where_to_join(piece: Piece, item: Round, index: int) -> str:
    texts = (item.text, item.remark, *notes_due(piece, index))
    match = next(filter(None, map(_PLACE.search, texts)), None)
    return " ".join(match[0].split()) if match else ""
