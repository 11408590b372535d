"""What a voice says after a key: what went wrong, what comes next, and in a long run only the tens."""

from __future__ import annotations

from tracker.session.view import View
from tracker.session.view_words import off_by
from tracker.tui.controller import Desk
from tracker.tui.main_key_preview import present_round
from tracker.tui.render.scene import Tone

LONG_RUN = 10
"""Equal stitches of which only the tens are said: more is not kept in the head."""


def words_to_say(desk: Desk) -> str:
    """ "" where nothing needs to be said."""
    view = desk.view
    if desk.talk.tone is Tone.REFUSED:
        return desk.talk.words
    question = desk.count_question
    if question is not None and question.offers:
        return ". ".join((question.words, *(f"{choice.key}: {choice.words}" for choice in question.choices)))
    if view.unanswered is not None and (desk.before is None or desk.before.unanswered != view.unanswered):
        return f"{view.unanswered.round_label}: {off_by(view.unanswered)}. {view.now}"
    if _goes_on_in_long_run(desk, view):
        return f"{view.stitch:,}" if view.stitch % 10 == 0 else ""
    count = f"count {view.count_of}. " if view.asks_count else ""
    turned = f"turned: {view.side} faces you. " if view.side else ""
    event = f"{view.colour_event.words}. " if view.colour_event else ""
    return f"{count}{turned}{event}{view.now}"


def _goes_on_in_long_run(desk: Desk, view: View) -> bool:
    """Whether the tap was one stitch of a run, with more of the same to come, and nothing else to be told."""
    before, item = desk.before, present_round(desk.pattern, desk.project.state)
    if before is None or item is None or item.plan is None or view.asks_count or view.colour_event:
        return False
    spot = item.plan.spot(desk.project.state.work.place.moves)
    one_more = (before.round_index, before.copy, before.stitch + 1) == (view.round_index, view.copy, view.stitch)
    return one_more and spot is not None and spot.run_times > LONG_RUN and spot.in_run > 0
