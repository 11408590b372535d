"""What the units of a page are, decided for the page as a whole.

Every unit can be a round, the name of a piece, a material and so on, each at a cost: what speaks against it in the
unit itself, and what speaks against it behind the units before. The cheapest row of labels over the whole page is
taken (Viterbi's dynamic programming over the states below, of which the best few are kept). A cost of 1 is about a
doubt that one more sign of the other kind outweighs; the figures are set so that the pages of the tests come out
right and have no source but that.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from typing import Any

from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.round_splitter import is_bare_heading
from tracker.pattern.text_import.evidence import Evidence
from tracker.pattern.text_import.piece_names import times_made

BEAM = 14
"""How many states are kept from one unit to the next; more change nothing on the pages of the tests."""


HOPELESS = 4.0
"""How much dearer than the best a row of labels may be and still be gone on with; the dearest doubt that a later
line has taken back on the pages of the tests is 2.5."""


class Label(Enum):
    """What a unit is."""

    TITLE = "title"
    SECTION = "the heading of a part of the page"
    NAME = "the name of a piece"
    NAMED_ROUND = "the name of a piece and its first round"
    FIRST = "the first round of a piece, without a number"
    ROUND = "a round"
    ROUND_CONTINUED = "the rest of a round"
    GROUND = "the chain or ring that a piece is worked on"
    AGAIN = "rounds that are made again"
    BORROWED = "rounds of another piece"
    MATERIAL = "a material"
    GAUGE = "a gauge"
    WORD = "an abbreviation"
    STEP = "a step of making up"
    REMARK = "a remark"
    OTHER_SIZE = "for another size"
    LAYOUT = "layout"


class PagePart(Enum):
    """The part of the page that a unit stands in."""

    FRONT = "front"
    MATERIALS = "materials"
    WORDS = "abbreviations"
    GAUGE = "gauge"
    NOTES = "notes"
    NAMED = "name"
    ROUNDS = "rounds"
    STEPS = "making up"
    COMMENTS = "comments"


_LISTS = (PagePart.MATERIALS, PagePart.WORDS, PagePart.GAUGE)
_OPENS = {
    "materials": PagePart.MATERIALS,
    "abbreviations": PagePart.WORDS,
    "gauge": PagePart.GAUGE,
    "notes": PagePart.NOTES,
    "about": PagePart.NOTES,
    "making up": PagePart.STEPS,
    "comments": PagePart.COMMENTS,
}

_IN_COMMENTS = 4.0
"""How unlikely a round is among what readers have said of the page."""

_UNDER_ITS_NAME = 0.8
"""How much is for a name when the very next unit is a round or its chain."""


@dataclass(frozen=True, slots=True)
class LabelState:
    """Where a row of labels stands: the part of the page, the last round number of the piece (0: none), whether its
    rounds are called "Rnd 4" and not "4.", and which unit the last round began with (-1: none is open)."""

    part: PagePart = PagePart.FRONT
    number: int = 0
    is_worded: bool = False
    open: int = -1
    has_title: bool = False
    has_piece: bool = False
    is_unnamed: bool = False
    """In `Part.NAMED`: no name stands over the rounds to come, a chain alone began them."""
    waited: int = 0
    """In `Part.NAMED`: how many units stand between the name and here."""
    wants_more: bool = False
    """In `Part.NAMED`: the name says how often the piece is made, and may have a part's name under it."""


@dataclass(frozen=True, slots=True)
class _Path:
    cost: float
    state: LabelState
    labels: _Link | None


@dataclass(frozen=True, slots=True)
class _Link:
    label: Label
    before: _Link | None


def label_units(evidence: Sequence[Evidence]) -> list[Label]:
    """The cheapest row of labels, one for each unit."""
    paths = [_Path(0.0, LabelState(), None)]
    for index, one in enumerate(evidence):
        best: dict[LabelState, _Path] = {}
        for path in paths:
            opened = evidence[path.state.open : index] if path.state.open >= 0 else ()
            above = "\n".join(each.text for each in opened if not each.unit.is_set_in)
            for label, cost, state in _moves(one, path.state, index, above):
                total = path.cost + cost
                cheapest = best.get(state)
                if cheapest is None or total < cheapest.cost:
                    best[state] = _Path(total, state, _Link(label, path.labels))
        paths = sorted(best.values(), key=lambda path: path.cost)[:BEAM]
        paths = [path for path in paths if path.cost <= paths[0].cost + HOPELESS]
    last = min(paths, key=lambda path: path.cost + _cost_of_waiting(path.state))
    return list(_unlinked(last.labels))[::-1]


def _unlinked(link: _Link | None) -> Iterator[Label]:
    while link is not None:
        yield link.label
        link = link.before


def _cost_of_waiting(state: LabelState) -> float:
    """A name with no rounds under it is most likely no name of a piece."""
    return 2.5 if state.part is PagePart.NAMED and not state.is_unnamed else 0.0


Move = tuple[Label, float, LabelState]


def _begun(state: LabelState, part: PagePart, open: int = -1, **rounds: Any) -> LabelState:
    """The state where rounds, a piece or a part of the page begin; `rounds` is what changes of their numbers."""
    return replace(state, part=part, open=open, waited=0, is_unnamed=False, **rounds)


def _moves(one: Evidence, state: LabelState, index: int, above: str) -> Iterator[Move]:
    """Every label that the unit may have behind this state, what it costs, and the state after it."""
    if one.is_for_other_size:
        yield Label.OTHER_SIZE, 0.0, state
        return
    if one.unit.is_set_in:
        yield Label.LAYOUT, 0.0, state
        return
    if one.unit.is_picture:
        yield Label.REMARK, 0.5, replace(state, open=-1)
        return
    if above and not one.is_headed and not one.unit.is_apart and one.ends_phrase(above):
        yield Label.ROUND_CONTINUED, 0.0, state
        return
    if one.is_layout:
        numbered = one.text.strip("|-~ ").isdigit()  # of a page, or of a round whose text is below
        yield Label.LAYOUT, 0.8 * numbered, state
        if not numbered:
            return
    if state.part is PagePart.COMMENTS:
        yield Label.REMARK, 0.0, state
    under_name = _UNDER_ITS_NAME * (state.part is PagePart.NAMED and state.waited == 0 and not state.is_unnamed)
    under_name -= _IN_COMMENTS * (state.part is PagePart.COMMENTS)
    yield from ((label, cost - under_name, after) for label, cost, after in _rounds(one, state, index, above))
    yield from _names(one, state, index)
    yield from _parts(one, state)
    yield from _lists(one, state)
    yield from _remarks(one, state)


# Rounds


def _rounds(one: Evidence, state: LabelState, index: int, above: str) -> Iterator[Move]:
    if one.is_headed:
        cost = _cost_of_heading(one, state)
        yield Label.ROUND, cost + _cost_of_number(one, state), _after_round(one, state, index)
    else:
        in_steps = bool(above) and is_bare_heading(above.partition("\n")[0])
        yield from ((label, cost + 2.5 * in_steps, after) for label, cost, after in _unnumbered(one, state, index))
    if above and not (one.is_headed and one.is_worded) and one.goes_on(above):
        cost = 0.3 + 0.6 * one.stands_out + 1.0 * (one.unit.is_apart and not one.does) + 1.5 * one.is_headed
        cost += 0.8 * (one.name != "" and one.unit.is_apart)
        cost += 1.5 * (one.named_round is not None)
        cost += 1.5 * (state.number == 0 and one.does)  # without any number each line is a round
        yield Label.ROUND_CONTINUED, cost, state
    if one.repeats and state.part is PagePart.ROUNDS:
        yield Label.AGAIN, 0.2 + 3 * one.is_headed, replace(state, open=index)
    if one.borrows and (state.has_piece or state.part is PagePart.NAMED):
        waits = state.part is PagePart.NAMED or one.number == state.number + 1
        last = max(one.last_number, state.number if state.part is not PagePart.NAMED else 0)
        yield Label.BORROWED, -0.3 if waits else 2.5, _begun(state, PagePart.ROUNDS, number=last, is_worded=True)


def _cost_of_heading(one: Evidence, state: LabelState) -> float:
    """How little a unit with the heading of a round is a round by what it says."""
    if one.is_label or (one.section is not None and not one.is_worded):
        return 6.0
    if one.is_worded:
        if one.is_readable:
            steps = one.does_with_below or (one.names_stitches_below and is_bare_heading(one.text))
            if one.does or steps:
                return 0.0 if one.does else 0.2
            return 1.2 if one.is_labelled else 2.0 + 1.5 * one.is_sentence
        if one.names_stitches or one.has_total:
            return 0.3
        return 1.2 if one.is_labelled else 0.8 if one.names_stitches_below else 2.8
    if one.is_readable:
        return 0.8 if one.works or one.has_total else 1.2 if one.does or one.does_with_below else 7.0
    if one.begins_sentence or not one.names_stitches:
        return 6.0 - 2.0 * one.has_total
    return 1.6 if one.names_stitches > 1 or one.has_total else 3.0


def _cost_of_number(one: Evidence, state: LabelState) -> float:
    """How little the number goes on with those before it."""
    if not one.heading.numbers:
        return 0.0 if state.part in (PagePart.ROUNDS, PagePart.NAMED) else 1.0 if state.has_piece else 2.5
    if one.number == 0:
        return 4.0  # "Rnd 0: 00 sc" shows how a round is written
    number, expected = one.number, state.number + 1
    if one.is_worded:
        return _cost_of_worded(number, expected, state)
    if state.part is PagePart.NAMED:
        return 0.0 if number in (1, expected) else 2.0
    if state.part is PagePart.ROUNDS:
        goes_on = number == expected and state.number > 0
        if state.is_worded:
            # Behind "Rnd 2" the next is "Rnd 3", and "3." a step or a comment, if it does not go on with stitches.
            return 0.8 if goes_on and (one.works or one.names_stitches > 1) and not one.begins_sentence else 5.0
        return 0.0 if goes_on else 1.0 if number == 1 or number > expected else 2.5
    if number == 1 and one.begins:
        return 1.5  # no list of things or steps has a ring or a chain to work into
    lists = state.part in (*_LISTS, PagePart.STEPS) or state.part is PagePart.NOTES
    return (1.0 if number == expected and state.number > 0 else 5.0) if lists else 3.5


def _cost_of_worded(number: int, expected: int, state: LabelState) -> float:
    steps = 0.8 if state.part is PagePart.STEPS else 0.0
    if number == expected and (state.number > 0 or state.part is PagePart.ROUNDS):
        return steps
    if number == 1:
        return steps + (0.0 if state.part is PagePart.NAMED else 1.4)
    if state.part is PagePart.NAMED:
        return 0.7
    return steps + (0.6 if number > expected else 1.2)


def _after_round(one: Evidence, state: LabelState, index: int) -> LabelState:
    number = one.last_number or (state.number + 1 if state.part is not PagePart.NAMED else 1)
    if one.heading.fills and not one.heading.numbers:
        number = 0 if state.part is PagePart.NAMED else state.number
    worded = one.is_worded if state.part is PagePart.NAMED or one.number == 1 else state.is_worded or one.is_worded
    after = _begun(state, PagePart.ROUNDS, open=index, number=number, is_worded=worded)
    return replace(after, has_piece=True, wants_more=False)


def _unnumbered(one: Evidence, state: LabelState, index: int) -> Iterator[Move]:
    """Rounds without a number, and the chains and rings that the first round is worked on."""
    if (one.section is not None and not one.works) or (one.defines and not state.has_piece):
        return
    after = replace(_begun(state, PagePart.ROUNDS, open=index, is_worded=False), has_piece=True)
    plain = one.is_readable and one.works
    begun = 1.5 * one.continues
    if one.begins:
        begun += 0.2 if state.part is PagePart.NAMED else 1.6 if state.part is PagePart.ROUNDS else 1.1
        begun += (0.4 if one.unit.is_apart else 1.5) * (state.part in (*_LISTS, PagePart.STEPS))
        yield Label.FIRST, begun, replace(after, number=0)
        if one.works:
            yield Label.FIRST, begun, replace(after, number=1)
    elif state.part not in (PagePart.NAMED, PagePart.ROUNDS, PagePart.STEPS) and not plain and one.may_begin:
        yield Label.FIRST, 1.2 + 0.8 * (state.part in _LISTS), replace(after, number=1)
    elif state.part is PagePart.NAMED and (plain or one.names_stitches) and not one.tells_words and not one.words:
        cost = 0.6 if plain and one.has_total else 1.3 if plain else 1.6 if one.has_total else 2.6
        yield Label.FIRST, cost + 1.0 * one.begins_sentence, replace(after, number=0)
        yield Label.FIRST, cost + 1.0 * one.begins_sentence, replace(after, number=1)
    elif state.part is PagePart.ROUNDS and (plain or one.names_stitches) and not one.words:
        unnumbered = state.number == 0
        if one.is_alone:
            yield (
                Label.ROUND,
                0.5 if unnumbered else 0.9,
                replace(after, number=state.number, is_worded=state.is_worded),
            )
        elif unnumbered:
            cost = 0.9 if plain else 1.2 if one.has_total else 1.9
            cost -= 0.4 * one.is_bulleted
            yield Label.ROUND, cost + 1.0 * one.begins_sentence, replace(after, number=0)
    if one.lays_ground:
        cost = 0.3 if state.part is PagePart.NAMED else 2.3 if state.part is PagePart.ROUNDS else 0.9
        unnamed = state.part is not PagePart.NAMED or state.is_unnamed
        number = 0 if unnamed else state.number
        yield (
            Label.GROUND,
            cost + 1.5 * (state.part in _LISTS) * (not one.unit.is_apart),
            replace(state, part=PagePart.NAMED, number=number, open=-1, is_unnamed=unnamed, waited=0),
        )


# Names of pieces


def _names(one: Evidence, state: LabelState, index: int) -> Iterator[Move]:
    named = one.named_round if state.part is not PagePart.WORDS else None
    if named is not None:
        after = replace(state, part=PagePart.ROUNDS, number=0, is_worded=False, open=index, has_piece=True, waited=0)
        cost = 0.4 + _cost_of_waiting(state) + 0.6 * (not one.is_readable)
        cost += (0.3 if one.unit.is_apart else 1.0) * (state.part in _LISTS)
        yield Label.NAMED_ROUND, cost, replace(after, number=1)
        yield Label.NAMED_ROUND, cost, after
    if not one.name or (one.section is not None and not one.stands_out):
        return
    cost = 0.3 if one.stands_out or one.is_numbered_name else 0.9 if one.is_plain_name and one.unit.is_apart else 1.3
    if one.section is not None:
        cost += 3.0 if one.section == ("notes", "") else 1.5  # no piece is called "INSTRUCTIONS"
    if state.part in _LISTS:
        cost += (1.6 if one.is_bulleted else 0.8) * (not one.stands_out) + 0.5 * one.names_goods
    elif one.names_goods and not one.stands_out:
        cost += 1.0
    if one.words and not one.stands_out:
        cost += 1.5
    cost += 1.5 * one.takes_yarn + 2.0 * one.names_hook
    if state.part is PagePart.FRONT and not state.has_title:
        cost += 1.8
    if state.part is PagePart.ROUNDS and not one.stands_out:
        cost += 0.5 * (not one.unit.is_apart) + 0.7 * one.begins_sentence
    cost += 1.5 * (one.continues and times_made(one.text) == 1)
    if state.part is PagePart.NAMED and state.wants_more and times_made(one.text) == 1:
        yield Label.REMARK, cost, replace(state, waited=0)
        return
    number = state.number if state.part in (PagePart.ROUNDS, PagePart.NAMED, PagePart.STEPS, PagePart.NOTES) else 0
    after = replace(_begun(state, PagePart.NAMED, number=number), wants_more=times_made(one.text) > 1)
    yield Label.NAME, cost + 0.6 * (_cost_of_waiting(state) > 0), after


# Headings of parts, the title


def _parts(one: Evidence, state: LabelState) -> Iterator[Move]:
    if one.section is not None and not one.is_item:
        name, behind = one.section
        aside = state.part is PagePart.ROUNDS and name in ("notes", "about") and behind
        if not aside:
            after = _begun(state, _OPENS[name])
            cost = 0.1 + 0.5 * _cost_of_waiting(state)
            yield Label.SECTION, cost, after
            if behind and after.part in _LISTS:  # "Materials: cotton, 3 mm hook" may be all of the list
                yield Label.SECTION, cost + 0.2, replace(after, part=PagePart.NOTES)
    if state.part is PagePart.FRONT and not state.has_title and one.section is None:
        # Up to eight words a line can be a name; longer ones are prose, unless they say that they head a pattern.
        short = 12 if one.names_craft else 8
        cost = 0.4 if one.word_count <= short and not one.text.endswith((".", ",")) else 1.0
        cost -= 0.5 * (one.names_craft and cost < 1)
        yield (
            Label.TITLE,
            cost
            + 3.0 * one.is_headed
            + 1.0 * bool(one.yarns)
            + 2.0 * (bool(one.words) or one.defines or (one.works and one.counts and not one.is_in_capitals)),
            replace(state, has_title=True),
        )


# Materials, gauge, words, steps


_UNHEADED = 1.5
"""What it costs to take the heading of a part of the page for one of its lines."""


def _lists(one: Evidence, state: LabelState) -> Iterator[Move]:
    heads = _UNHEADED * (one.section is not None and not one.section[1])
    yield from ((label, cost + heads, after) for label, cost, after in _listed(one, state))


def _listed(one: Evidence, state: LabelState) -> Iterator[Move]:
    headed = one.is_headed and one.is_worded and not one.is_label
    headed = headed and (one.is_labelled or (one.does if one.is_readable else one.names_stitches > 0))
    works = headed or (one.works and one.has_total)
    stitches = 4.0 if works else 0.7 * min(one.names_stitches, 3) * (not one.is_item) + 1.0 * one.begins
    in_front = not state.has_piece and state.part is not PagePart.NAMED
    if state.part is PagePart.MATERIALS:
        sentence = one.is_sentence and not one.is_bulleted and not one.is_item
        cost = 0.2 + 1.0 * (sentence and one.unit.is_apart) + 0.5 * sentence - 0.2 * one.names_goods
        yield Label.MATERIAL, cost + stitches + 1.0 * one.tells_words + 0.6 * one.words, state
    elif one.is_item or (in_front and (one.tells_materials or one.names_goods)):
        cost = 0.2 if one.is_item and in_front else 0.5 if one.tells_materials else 0.9
        after = replace(state, part=state.part if state.part in _LISTS else PagePart.NOTES)
        if not in_front and state.part is not PagePart.NOTES:
            cost, after = cost + 2.0, state
        yield Label.MATERIAL, cost + stitches + 0.6 * one.is_sentence, after
    if one.tells_gauge or state.part is PagePart.GAUGE:
        cost = 0.1 if one.tells_gauge else 0.5 + 0.4 * one.is_sentence
        after = state if state.part is not PagePart.FRONT else replace(state, part=PagePart.NOTES)
        yield (
            Label.GAUGE,
            cost + (0.0 if one.tells_gauge else stitches) + 1.5 * (state.part is PagePart.ROUNDS),
            after,
        )
    if state.part is PagePart.WORDS:
        on_list = one.defines and not one.unit.is_apart
        cost = (
            0.1
            if one.words or one.tells_words
            else 0.3
            if one.names_words or on_list
            else 0.5 + 0.5 * one.is_sentence + 0.4 * one.unit.is_apart
        )
        yield Label.WORD, cost + (0.0 if one.words or one.names_words or on_list else stitches), state
    elif one.words or one.tells_words:
        cost = (
            0.5 + 1.5 * (state.part in (PagePart.ROUNDS, PagePart.NAMED)) + 1.0 * (one.works and not one.tells_words)
        )
        after = (
            state
            if state.part in (PagePart.ROUNDS, PagePart.NAMED, PagePart.STEPS)
            else replace(state, part=PagePart.WORDS)
        )
        yield Label.WORD, cost, after
    if state.part is PagePart.STEPS:
        yield Label.STEP, 0.2 + 2.5 * (one.is_headed and one.is_worded and one.does) + 2.0 * one.is_to_readers, state


# Remarks


def _remarks(one: Evidence, state: LabelState) -> Iterator[Move]:
    cost = 1.0 + _UNHEADED * (one.section is not None and not one.section[1])
    if one.is_headed and one.is_worded and one.heading.numbers:
        cost += 2.0
    if one.works:
        cost += 1.0 + 1.2 * one.has_total
    elif one.names_stitches > 2 and not one.begins_sentence:
        cost += 0.6
    bare = one.is_headed and not one.is_worded and not state.is_worded
    if bare and state.part is PagePart.ROUNDS and one.number == state.number + 1:
        cost += 0.8
    cost -= (
        1.0 * one.tells_terms
        + 1.0 * one.plans_yarns
        + 0.3 * one.begins_sentence
        + 0.3 * (one.is_sentence and not one.names_stitches)
    )
    if state.part is PagePart.NAMED:
        waited = state.waited + 1
        cost += (
            1.5 * (one.section is not None and bool(one.section[1]))
            + 0.8 * one.is_item
            # A heading is followed by its rounds within three lines.
            + 0.5 * (waited > 3)
            - 0.4 * one.takes_yarn
        )
        yield Label.REMARK, cost, replace(state, waited=min(waited, 6), open=-1)
        return
    if state.part in _LISTS:
        cost += 0.2
        yield Label.REMARK, cost, state
        yield Label.REMARK, cost + 0.3 * (not one.unit.is_apart), replace(state, part=PagePart.NOTES)
        return
    if state.part is PagePart.STEPS:
        cost += 0.5
    closes = state.part is PagePart.STEPS and one.is_to_readers
    part = PagePart.NOTES if closes or (state.part is PagePart.FRONT and state.has_title) else state.part
    yield Label.REMARK, cost, replace(state, part=part, open=-1)
