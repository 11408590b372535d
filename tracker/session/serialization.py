"""Events and states written down as plain JSON values, and read back.

An event is an object with what was done ("did") and its numbers or words. A state is written short: of what was
before each event only the parts that the event changed, and of lists only what differs at their end, so that a
thousand earlier moments cost some tens of kilobytes.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Correction
from tracker.session import events
from tracker.session.events import AskChosen, Closed, Event, Opened, Part, Together, Undo
from tracker.session.state import (
    REMEMBERED,
    BallWeight,
    Copy,
    Miscount,
    OwnRound,
    Parked,
    Place,
    Remark,
    State,
    Ticked,
    Witness,
    Work,
)

DID: dict[str, type[Event]] = {
    "stitch": events.Stitch,
    "repeat": events.RepeatDone,
    "round": events.RoundDone,
    "moves": events.MovesDone,
    "undo": events.Undo,
    "frog": events.Frog,
    "counted": events.Counted,
    "part counted": events.PartCounted,
    "carry on": events.CarryOn,
    "remark": events.Note,
    "audience": events.AudienceChosen,
    "weighed": events.BallWeighed,
    "step": events.StepDone,
    "ticked": events.NoteTicked,
    "anew": events.BegunAnew,
    "piece": events.PieceChosen,
    "ask": events.AskChosen,
    "rewritten": events.RoundRewritten,
    "cause": events.CauseConfirmed,
    "corrected": events.RoundCorrected,
    "leaves": events.RoundLeaves,
    "supposed": events.CauseSupposed,
    "together": events.Together,
    "opened": events.Opened,
    "closed": events.Closed,
}
"""What each event is called in the journal. A name here is never changed: old journals use it."""

_OLD_NOTE = "note"
"""What versions 1 and 2 called a note, also one that told who it is for or what a ball weighs."""

_NAMES = {kind: name for name, kind in DID.items()}
_TYPES: dict[str, tuple[type, ...]] = {"int": (int,), "str": (str,), "bool": (bool,), "float": (float, int)}
"""What JSON may have for a field; a whole number of grams is written by hand as one."""

MOST = 2**63 - 1
"""The largest whole number that the journal can keep in a column of its own, and so the largest that is read."""


MOST_OF_A_LIST = 10_000
"""Notes, differing counts and the like in one saved place; a maker has some dozens. A thousand earlier moments may
each have so many."""


class Unreadable(ValueError):
    """Something written down is not what this version writes."""


def event_out(event: Event) -> dict[str, Any]:
    """The event as a plain object."""
    if isinstance(event, Together):
        return {"did": "together", "parts": [event_out(part) for part in event.parts]}
    values = {name: getattr(event, name) for name in _field_types(type(event))}
    return {"did": _NAMES[type(event)], **values}


def event_in(plain: object) -> Event:
    """The event that a plain object tells of. Raises `Unreadable`."""
    if isinstance(plain, dict) and plain.get("did") == _OLD_NOTE:
        from tracker.session.old_notes import event_in_note  # today's journals have none

        note = event_in({**plain, "did": _NAMES[events.Note]})
        return event_in_note(note.text) if isinstance(note, events.Note) else note
    if not isinstance(plain, dict) or not isinstance(plain.get("did"), str) or plain["did"] not in DID:
        raise Unreadable("an event that is not known here")
    kind = DID[plain["did"]]
    values = {name: value for name, value in plain.items() if name != "did"}
    if kind is Together:
        return _together_in(values)
    field_types = _field_types(kind)
    if kind is events.CarryOn and not values:  # as versions before 5 wrote it
        return events.CarryOn(False)
    if set(values) != set(field_types) or not all(_is_sound(values[name], field_types[name]) for name in field_types):
        raise Unreadable(f'the event "{plain["did"]}" with other values than it has')
    event: Event = kind(**values)
    return event


_FIELD_TYPES: dict[object, dict[str, tuple[type, ...]]] = {}


def _field_types(kind: type[Event]) -> dict[str, tuple[type, ...]]:
    """What an event has, by name; asked for with each entry of a history, and worked out once."""
    if kind not in _FIELD_TYPES:
        _FIELD_TYPES[kind] = {name: _TYPES[type_name] for name, type_name in kind.__annotations__.items()}
    return _FIELD_TYPES[kind]


def _is_sound(value: object, types: tuple[type, ...]) -> bool:
    """Whether a value is of one of the types, and if it is a number one that can be reckoned with."""
    return type(value) in types and (not isinstance(value, int | float) or -MOST <= value <= MOST)


def _real(value: Any) -> float:
    if not _is_sound(value, (float, int)):
        raise TypeError("a number is needed")
    return float(value)


def _text(value: Any) -> str:
    if type(value) is not str:
        raise TypeError("text is needed")
    return value


def _truth(value: Any) -> bool:
    if type(value) is not bool:
        raise TypeError("true or false is needed")
    return value


def _whole(value: Any) -> int:
    return _numbers([value])[0]


def _together_in(values: dict[str, object]) -> Together:
    plain = values.get("parts")
    if set(values) != {"parts"} or not isinstance(plain, list):
        raise Unreadable("several events together with other values than they have")
    return Together(tuple(_part_in(part) for part in plain))


def _part_in(plain: object) -> Part:
    event = None if isinstance(plain, dict) and plain.get("did") == _NAMES[Together] else event_in(plain)
    if event is None or isinstance(event, Together | Undo | Opened | Closed):
        raise Unreadable("an event that cannot happen together with others")
    return event


def state_out(state: State) -> dict[str, Any]:
    """The state as a plain object; earlier moments stand newest first, each as what differs from the one after it."""
    moments = [state.work, *reversed(state.past)]
    return {
        "at": state.at,
        "work": {part.name: part.out(getattr(state.work, part.name)) for part in _PARTS},
        "past": [_difference(newer, older) for newer, older in pairwise(moments)],
    }


def state_written(state: State) -> str:
    """The state as JSON text."""
    return json.dumps(state_out(state), separators=(",", ":"))


def state_read(text: str) -> State:
    """The state that was written as JSON text. Raises `Unreadable`."""
    try:
        return state_in(json.loads(text))
    except (RecursionError, ValueError) as problem:
        raise Unreadable("a saved place that is not known here") from problem


def state_in(plain: object) -> State:
    """The state that a plain object tells of. Raises `Unreadable`."""
    try:
        return _state(plain)
    except (AttributeError, IndexError, KeyError, RecursionError, TypeError, ValueError) as problem:
        raise Unreadable("a saved place that is not known here") from problem


def causes_in(text: str) -> tuple[str, ...]:
    """The confirmed causes in a state that was written down as JSON; what was before them is not read."""
    try:
        begins = text.index(_WORK) + len(_WORK)
        work, _ = json.JSONDecoder().raw_decode(text, begins)
        return tuple(_text(cause) for cause in work.get("causes", []))
    except (AttributeError, RecursionError, TypeError, ValueError):
        return ()


_WORK = '"work":'


def _state(plain: Any) -> State:
    if len(plain["past"]) > REMEMBERED:
        raise ValueError("more to take back than is ever kept")
    moments = [Work(**{part.name: part.taken(plain["work"]) for part in _PARTS})]
    for difference in plain["past"]:
        moments.append(_older(moments[-1], difference))
    if "weights" not in plain["work"]:  # written by version 1 or 2
        from tracker.session.old_notes import without_old_notes

        moments = [without_old_notes(work) for work in moments]
    return State(moments[0], tuple(reversed(moments[1:])), _real(plain["at"]))


@dataclass(frozen=True, slots=True)
class _Part:
    """One field of the work: how one value of it, or of the list that it is, is written and read.

    One that is `later` was not written by older versions; there was nothing in it then.
    """

    name: str
    write: Callable[[Any], Any]
    read: Callable[[Any], Any]
    is_list: bool = False
    later: bool = False

    def out(self, value: Any) -> Any:
        return [self.write(item) for item in value] if self.is_list else self.write(value)

    def taken(self, work: Any) -> Any:
        if self.later and self.name not in work:
            return getattr(_NOTHING, self.name)
        plain = work[self.name]
        if self.is_list and len(plain) > MOST_OF_A_LIST:
            raise ValueError("a list that is too long")
        return tuple(self.read(item) for item in plain) if self.is_list else self.read(plain)

    def change(self, newer: Any, older: Any) -> Any:
        """The older value; for a list, how many items at its start are those of the newer, and the rest."""
        if not self.is_list:
            return self.write(older)
        same = _same_at_start(newer, older)
        return [same, *(self.write(item) for item in older[same:])]

    def changed(self, newer: Any, plain: Any) -> Any:
        if not self.is_list:
            return self.read(plain)
        same = _whole(plain[0])
        if not 0 <= same <= len(newer) or same + len(plain) > MOST_OF_A_LIST:
            raise ValueError("a list that is too long")
        return (*newer[:same], *(self.read(item) for item in plain[1:]))


def _same_at_start(one: tuple[Any, ...], other: tuple[Any, ...]) -> int:
    pairs = enumerate(zip(one, other, strict=False))
    return next((index for index, (left, right) in pairs if left != right), min(len(one), len(other)))


def _difference(newer: Work, older: Work) -> dict[str, Any]:
    pairs = ((part, getattr(newer, part.name), getattr(older, part.name)) for part in _PARTS)
    return {part.name: part.change(new, old) for part, new, old in pairs if new != old}


def _older(newer: Work, difference: dict[str, Any]) -> Work:
    return Work(
        **{
            part.name: part.changed(getattr(newer, part.name), difference[part.name])
            if part.name in difference
            else getattr(newer, part.name)
            for part in _PARTS
        }
    )


def _as_it_is(value: Any) -> Any:
    return value


def _copy_out(copy: Copy | None) -> list[int] | None:
    return None if copy is None else [copy.piece, copy.number]


def _copy_in(plain: Any) -> Copy | None:
    return None if plain is None else Copy(*_numbers(plain))


def _place_out(place: Place) -> list[int]:
    return [place.round_index, place.moves, place.stitches]


def _place_in(plain: Any) -> Place:
    return Place(*_numbers(plain))


def _parked_out(parked: Parked) -> list[int]:
    return [parked.copy.piece, parked.copy.number, *_place_out(parked.place)]


def _parked_in(plain: Any) -> Parked:
    return Parked(Copy(*_numbers(plain[:2])), _place_in(plain[2:]))


def _miscount_out(miscount: Miscount | None) -> list[Any] | None:
    if miscount is None:
        return None
    copy = miscount.copy
    row: list[Any] = [
        copy.piece,
        copy.number,
        miscount.round_index,
        miscount.moves,
        miscount.expected,
        miscount.counted,
    ]
    row += [miscount.times, *miscount.parts] if miscount.times > 1 or miscount.parts else []
    return [_FITTED, *row] if miscount.fitted else row


def _miscount_in(plain: Any) -> Miscount | None:
    if plain is None:
        return None
    fitted = bool(plain) and plain[0] == _FITTED
    piece, number, index, moves, expected, counted, *times_and_parts = _numbers(plain[1:] if fitted else plain)
    times, *parts = times_and_parts or [1]
    return Miscount(Copy(piece, number), index, moves, expected, counted, times, tuple(parts), fitted)


_FITTED = "fitted"
"""Before the numbers of a difference that later rounds follow."""


def _remark_out(note: Remark) -> list[Any]:
    return [note.copy.piece, note.copy.number, note.round_index, note.stitches, note.text, note.at]


def _remark_in(plain: Any) -> Remark:
    piece, number, index, stitches = _numbers(plain[:4])
    return Remark(Copy(piece, number), index, stitches, _text(plain[4]), _real(plain[5]))


def _asks_out(asks: AskChosen) -> list[Any]:
    return [asks.when, asks.every]


def _asks_in(plain: Any) -> AskChosen:
    return AskChosen(_text(plain[0]), *_numbers(plain[1:]))


def _own_round_out(own_round: OwnRound) -> list[Any]:
    return [
        own_round.copy.piece,
        own_round.copy.number,
        own_round.round_index,
        own_round.text,
        own_round.before,
        *own_round.since,
    ]


def _own_round_in(plain: Any) -> OwnRound:
    piece, number, index, before, rounds, moves = _numbers([*plain[:3], *plain[4:]])
    return OwnRound(Copy(piece, number), index, _text(plain[3]), before, (rounds, moves))


def _weight_out(weight: BallWeight) -> list[Any]:
    return [weight.yarn, weight.grams, weight.at]


def _weight_in(plain: Any) -> BallWeight:
    yarn, grams, at = plain
    return BallWeight(_text(yarn), _real(grams), _real(at))


def _witness_out(witness: Witness) -> list[int]:
    return [witness.copy.piece, witness.copy.number, witness.round_index, witness.counted]


def _witness_in(plain: Any) -> Witness:
    piece, number, *index_and_count = _numbers(plain)
    return Witness(Copy(piece, number), *index_and_count)


def _correction_out(correction: Correction) -> list[Any]:
    return [correction.piece, correction.round_index, correction.text, correction.leaves]


def _correction_in(plain: Any) -> Correction:
    piece, index = _numbers(plain[:2])
    leaves = None if plain[3] is None else _numbers(plain[3:])[0]
    return Correction(piece, index, _text(plain[2]), leaves)


def _ticked_out(ticked: Ticked) -> list[int]:
    return [ticked.copy.piece, ticked.copy.number, ticked.note]


def _ticked_in(plain: Any) -> Ticked:
    piece, number, note = _numbers(plain)
    return Ticked(Copy(piece, number), note)


def _numbers(plain: Any) -> list[int]:
    if not all(type(value) is int and -MOST <= value <= MOST for value in plain):
        raise TypeError("a whole number is needed")
    return list(plain)


_NOTHING = Work()

_PARTS = (
    _Part("copy", _copy_out, _copy_in),
    _Part("place", _place_out, _place_in),
    _Part("parked", _parked_out, _parked_in, is_list=True),
    _Part("ended", _copy_out, _copy_in),
    _Part("count_due", _as_it_is, _truth),
    _Part("unanswered", _miscount_out, _miscount_in),
    _Part("miscounts", _miscount_out, _miscount_in, is_list=True),
    _Part("notes", _remark_out, _remark_in, is_list=True),
    _Part("steps_done", _as_it_is, _whole, is_list=True),
    _Part("asks", _asks_out, _asks_in),
    _Part("own_rounds", _own_round_out, _own_round_in, is_list=True, later=True),
    _Part("causes", _as_it_is, _text, is_list=True, later=True),
    _Part("audience", _as_it_is, _text, later=True),
    _Part("weights", _weight_out, _weight_in, is_list=True, later=True),
    _Part("corrections", _correction_out, _correction_in, is_list=True, later=True),
    _Part("witnesses", _witness_out, _witness_in, is_list=True, later=True),
    _Part("ticked", _ticked_out, _ticked_in, is_list=True, later=True),
    _Part("supposed", _as_it_is, _text, is_list=True, later=True),
    _Part("part_counts", _as_it_is, _whole, is_list=True, later=True),
)
