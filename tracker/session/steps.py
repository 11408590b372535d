"""What one tap takes: its moves, its words in the pattern, its letters and its event, all from one reckoning.

A step never goes over a change of colour: the stitch on which the new yarn is drawn in stands alone. Finishing (a
last join, fastening off) is a step of its own whatever the size.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from tracker.diagnostics import NOWHERE, Span
from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.pattern.model import Pattern, Piece, Round
from tracker.rounds.next_step import Stretch, between, breath_end
from tracker.rounds.plan import Node, Plan, Role, Run
from tracker.rounds.slicing import act_bounds
from tracker.session.colour_changes import colour_in_use, cuts_yarn, next_colour
from tracker.session.due_notes import notes_due_after
from tracker.session.events import Event, MovesDone, RoundDone, Stitch
from tracker.session.state import Copy, Place, State, is_made, rounds_of
from tracker.session.view import ColourChange, Step, StepSize
from tracker.session.worked_rounds import round_at


def step_now(pattern: Pattern, state: State, size: StepSize) -> Step | None:
    """What a tap of this size takes now; None where no round is being worked."""
    copy, place = state.work.copy, state.work.place
    if place.round_index >= rounds_of(pattern, copy):
        return None
    item = round_at(pattern, state.work, copy.piece, copy.number, place.round_index)
    plan = item.plan
    if plan is None or not plan.moves:
        whole = _all_lines(item) if plan is None else ()
        return Step(place.moves, item.moves, Stretch(()), whole, RoundDone())
    stop = _change_ahead(pattern, state, copy, place, plan, size)
    until = _end(plan, place, size)
    finish = () if size is StepSize.ROUND and _finishes_as_before(pattern, state, copy) else (finishing(plan),)
    until = next((edge for edge in (*finish, *(stop.edges if stop else ())) if place.moves < edge < until), until)
    change = stop.change if stop is not None and until == stop.edges[1] and place.moves >= stop.edges[0] else None
    stretch = between(plan, place.moves, until)
    return Step(place.moves, until, stretch, marked(plan, place.moves, until), _event(plan, place, until), change)


def _finishes_as_before(pattern: Pattern, state: State, copy: Copy) -> bool:
    """Whether the end of this copy needs no step of its own for a maker who taps by rounds: an earlier copy was
    finished in the same way, and the pattern has nothing to say there."""
    work, index = state.work, state.work.place.round_index
    others = [each.copy for each in work.parked if each.copy.piece == copy.piece and each.copy != copy]
    return any(is_made(pattern, work, each) for each in others) and not notes_due_after(
        pattern.pieces[copy.piece], index
    )


def _all_lines(item: Round) -> tuple[Span, ...]:
    return tuple(Span(number, 0, len(part)) for number, part in enumerate(item.text.split("\n")))


def _end(plan: Plan, place: Place, size: StepSize) -> int:
    if size is StepSize.ROUND:
        return plan.moves
    if size is StepSize.REPEAT:
        return breath_end(plan, place.moves)
    if place.stitches >= plan.leaves:
        return plan.moves
    return plan.move_after_stitches(
        place.stitches + (1 if size is StepSize.STITCH else _left_of_run(plan, place.moves))
    )


def _left_of_run(plan: Plan, move: int) -> int:
    """Stitches to the end of the run of equal stitches; what makes no stitch goes with the next that does."""
    spot = plan.spot(move)
    if spot is None:
        return 1
    end = move - spot.in_act + spot.act.moves * (spot.run_times - spot.in_run)
    if plan.stitches_before(end) == spot.stitches_done:
        return _left_of_run(plan, end) if end < plan.moves else 1
    return plan.stitches_before(end) - spot.stitches_done


def _event(plan: Plan, place: Place, until: int) -> Event:
    """What says exactly this: at the end of a round its event, for a single stitch that of a stitch."""
    if until >= plan.moves:
        return RoundDone()
    if plan.move_after_stitches(place.stitches + 1) == until:
        return Stitch()
    return MovesDone(until - place.moves)


def ends_with_finishing(item: Round) -> bool:
    """Whether the yarn is cut after the last stitch of a round."""
    return item.plan is not None and finishing(item.plan) < item.plan.moves


_OF_THE_END = compile_later(
    r"\b(?:fasten|finish|cut|break|tails?|ends?|close|closing|continue|go on|leave|do not|don't|next piece)\b",
    re.IGNORECASE,
)


def says_nothing_of_the_yarn(pattern: Pattern, piece: Piece) -> bool:
    """Whether a pattern does not say what becomes of the yarn when the last round of a piece is made."""
    if not piece.rounds or ends_with_finishing(piece.rounds[-1]):
        return False
    texts = (piece.rounds[-1].text, piece.rounds[-1].remark, *piece.notes, *pattern.notes)
    return not any(_OF_THE_END.search(text) for text in texts)


YARN_AT_THE_END = "the pattern says nothing of the yarn: fasten off, unless it goes on from here"
"""What is told then."""


@remembered
def finishing(plan: Plan) -> int:
    """The move at which finishing begins: the end of the round after its last stitch, if the yarn is cut there."""
    start, cut = plan.moves, False
    for node in reversed(plan.body):
        if node.stitches or any(act.role is Role.CHAIN for act in Plan((node,)).acts()):
            break
        cut = cut or any(cuts_yarn(act) for act in Plan((node,)).acts())
        start -= node.moves
    return start if cut else plan.moves


# Where the next colour is drawn in.


@dataclass(frozen=True, slots=True)
class _Stop:
    """A change of colour, and the moves between which it happens: a tap ends at both."""

    change: ColourChange
    edges: tuple[int, int]


def _change_ahead(
    pattern: Pattern, state: State, copy: Copy, place: Place, plan: Plan, size: StepSize
) -> _Stop | None:
    """The next change of colour in this round. A maker who taps by rounds is only stopped by one at its end."""
    at = place
    if size is StepSize.ROUND and plan.leaves:
        before = act_bounds(plan, plan.move_after_stitches(plan.leaves) - 1)[0]
        if before > place.moves:
            at = Place(place.round_index, before, plan.stitches_before(before))
    change = next_colour(pattern, state, copy, at, colour_in_use(pattern, state, copy, at))
    if change is None or change.cut_first:
        return None
    stitches = at.stitches + change.in_stitches
    if change.in_chain:
        begins = max(plan.move_after_stitches(stitches), at.moves)
        ends = _end_of_chain(plan, begins)
        return _Stop(change, (begins, ends)) if ends > begins else None
    if stitches >= plan.leaves:
        return None
    ends = plan.move_after_stitches(stitches + 1)
    begins = act_bounds(plan, ends - 1)[0]
    return _Stop(change, (max(_with_lead(plan, begins), at.moves), ends))


def _with_lead(plan: Plan, move: int) -> int:
    """The move at which what leads to a stitch begins: a chain or a skip before it goes with it."""
    return min(move, plan.move_after_stitches(plan.stitches_before(move)))


def _end_of_chain(plan: Plan, move: int) -> int:
    """The move after the last chain before the next stitch or the next colour."""
    first, end = plan.spot(move), move
    for spot in plan.walk(move):
        if spot.act.role is Role.WORK or (first and spot.act.colour not in ("", first.act.colour)):
            break
        if spot.act.role is Role.CHAIN:
            end = move + 1
        move += 1
    return end


# The words of the pattern that a step takes.


def marked(plan: Plan, start: int, until: int) -> tuple[Span, ...]:
    """The words of the runs that the moves belong to, as few stretches of text as they make, line by line."""
    step_spans = {run.span for run in runs_of(between(plan, start, until).nodes)} - {NOWHERE}
    spans: list[Span] = []
    going_on = False
    for span in _spans(plan):
        if span not in step_spans:
            going_on = False
        elif going_on and spans[-1].line == span.line:
            spans[-1] = spans[-1].to(span)
        else:
            spans.append(span)
            going_on = True
    return tuple(spans)


@remembered
def _spans(plan: Plan) -> tuple[Span, ...]:
    """The words of every run of a plan, in the order of the text."""
    return tuple(sorted({run.span for run in runs_of(plan.body)} - {NOWHERE}))


def runs_of(nodes: tuple[Node, ...]) -> Iterator[Run]:
    """Every run of the text once, in order."""
    for node in nodes:
        if isinstance(node, Run):
            yield node
        else:
            yield from runs_of(node.body)
