"""All the ways a line can be read, likeliest first: one option picked for every choice in it."""

from __future__ import annotations

from itertools import combinations
from math import comb

from tracker.diagnostics import NOWHERE
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Choice, ChoiceKey, ChoiceKind, Colour, Group, Into, Item, Role, Some, ToEnd

MAX_READINGS = 120
"""Readings looked at for one line; a line with more choices than this allows is judged by its likeliest ones."""


LAST_RESORT = 9
"""Departures that a line without any sign of a repeat stands behind when it is read as repeated: more than three
choices with three options each can make, so that every reading of the words as they stand comes before it."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Items without choices. `whys` tell in sentences where this departs from the first reading."""

    body: tuple[Item, ...]
    whys: tuple[str, ...] = ()
    rescues: int = 0
    departures: int = 0
    opening: str = ""
    """How the chain at the start was read, where there was a choice."""
    convention: str = ""
    """What the first reading does by convention, where no total is stated; "" where it does nothing of the sort."""
    goes_around_unsaid: bool = False
    """Whether it goes around although the line has no sign of repetition."""
    goes_by_kind: bool = False
    """Whether it goes into the stitches of a kind alone, past the others."""

    @property
    def is_primary(self) -> bool:
        return self.rescues == 0


OPENING: ChoiceKey = (ChoiceKind.OPENING, NOWHERE)


_BY_CONVENTION = {
    ChoiceKind.BRIDGE: "counts the chains over the opening",
    ChoiceKind.TRAVEL: "leaves out the slip stitches at the start",
}
"""By the kind of a choice: what its first option does."""


def readings(body: tuple[Item, ...]) -> list[Reading]:
    """Every reading of the items that is worth a look, fewest departures from the first one first."""
    choices = _choices(body)
    done = [_reading(body, choices, changes) for changes in _changes(choices)]
    done += [silent for reading in done[:8] if reading.is_primary and (silent := silently_around(reading))]
    done.sort(key=_rank)
    return done


def _choices(body: tuple[Item, ...]) -> dict[ChoiceKey, Choice]:
    """The choices by key, those inside groups and options of others included."""
    by_key: dict[ChoiceKey, Choice] = {}
    for item in body:
        if isinstance(item, Group):
            by_key.update({key: c for key, c in _choices(item.body).items() if key not in by_key})
        elif isinstance(item, Choice) and item.key not in by_key:
            by_key[item.key] = item
            for option in item.options:
                by_key.update({key: c for key, c in _choices(option.body).items() if key not in by_key})
    return by_key


Changes = tuple[tuple[ChoiceKey, int], ...]


def _changes(choices: dict[ChoiceKey, Choice]) -> list[Changes]:
    """Which choices depart from their first option, and to which: none, one, two, three at once, likeliest first.

    Words are rescued once at the most: with two unlikely readings together almost any number can be reached.
    """
    single: list[tuple[ChoiceKey, int]] = [(key, i) for key, c in choices.items() for i in range(1, len(c.options))]
    together: list[Changes] = [()]
    for size in range(1, 4):
        if comb(len(single), size) > MAX_READINGS:
            break
        together += [some for some in combinations(single, size) if len({key for key, _ in some}) == size]
    together = [changes for changes in together if _cost(choices, changes)[0] <= 1]
    together.sort(key=lambda changes: _cost(choices, changes))
    return together[:MAX_READINGS]


def _cost(choices: dict[ChoiceKey, Choice], changes: Changes) -> tuple[int, int]:
    rescues = sum(choices[key].options[index].rescue for key, index in changes)
    return rescues, sum(index for _, index in changes)


def _reading(body: tuple[Item, ...], choices: dict[ChoiceKey, Choice], changes: Changes) -> Reading:
    picked = dict(changes)
    whys = tuple(choices[key].options[index].why for key, index in changes if choices[key].options[index].why)
    opening = choices.get(OPENING)
    rescues, departures = _cost(choices, changes)
    return Reading(
        _pick(body, picked),
        whys,
        rescues,
        departures,
        opening.options[picked.get(OPENING, 0)].why if opening is not None else "",
        next((why for kind, why in _BY_CONVENTION.items() if any(kind is key[0] for key in choices)), ""),
    )


def silently_around(reading: Reading) -> Reading | None:
    """ "Rnd 9: dec, 5 sc" has no sign of repetition and may be meant to go around; None where that cannot be."""
    body = reading.body
    if any(isinstance(i, Group) or (isinstance(i, Some) and isinstance(i.times, ToEnd)) for i in body):
        return None
    start = next((index for index, item in enumerate(body) if not _is_lead(item)), len(body))
    end = len(body)
    while end > start and _is_lead(body[end - 1]):
        end -= 1
    unit = body[start:end]
    acts = [item.act for item in unit if isinstance(item, Some)]
    grounded = any(act.into is Into.RING or act.from_hook for act in acts)
    if grounded or not any(act.takes for act in acts):
        return None
    around = (*body[:start], Group(unit, ToEnd()), *body[end:])
    return replace(
        reading,
        body=around,
        whys=(*reading.whys, "read the line as repeated around"),
        rescues=reading.rescues + 1,
        departures=reading.departures + LAST_RESORT,
        goes_around_unsaid=True,
    )


def _is_lead(item: Item) -> bool:
    return isinstance(item, Colour) or (isinstance(item, Some) and item.act.role in (Role.STEP, Role.CHAIN))


def _rank(reading: Reading) -> tuple[int, int]:
    return (reading.rescues, reading.departures)


def _pick(body: tuple[Item, ...], picked: dict[ChoiceKey, int]) -> tuple[Item, ...]:
    """The items without choices: of each the option that is picked, the first one where none is."""
    settled: list[Item] = []
    for item in body:
        if isinstance(item, Choice):
            index = min(picked.get(item.key, 0), len(item.options) - 1)
            settled.extend(_pick(item.options[index].body, picked))
        elif isinstance(item, Group):
            settled.append(replace(item, body=_pick(item.body, picked)))
        else:
            settled.append(item)
    return tuple(settled)
