"""All the ways a line can be read, likeliest first: one option picked for every choice in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.tree import Choice, Colour, Group, Into, Item, Rest, Role, Some

MAX_READINGS = 600
"""Readings looked at for one line; a line with more choices than this allows is judged by its likeliest ones."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Items without choices. `whys` tell in sentences where this departs from the first reading."""

    body: tuple[Item, ...]
    whys: tuple[str, ...] = ()
    rescues: int = 0
    departures: int = 0
    opening: str = ""
    """How the chain at the start was read, where there was a choice."""

    @property
    def is_primary(self) -> bool:
        return self.rescues == 0


def readings(body: tuple[Item, ...]) -> list[Reading]:
    """Every reading of the items, fewest departures from the first one first."""
    found = [Reading(body)]
    done: list[Reading] = []
    while found:
        reading = found.pop(0)
        choice = _first_choice(reading.body)
        if choice is None:
            done.append(reading)
            continue
        for index, option in enumerate(choice.options):
            picked = Reading(
                _pick(reading.body, choice.key, index),
                (*reading.whys, option.why) if index and option.why else reading.whys,
                reading.rescues + option.rescue,
                reading.departures + index,
                option.why if choice.key == "opening" else reading.opening,
            )
            found.append(picked)
        if len(found) + len(done) > MAX_READINGS:
            found.sort(key=_rank)
            del found[MAX_READINGS:]
    done += [silent for reading in done[:8] if (silent := silently_around(reading)) is not None]
    done.sort(key=_rank)
    return done


def silently_around(reading: Reading) -> Reading | None:
    """ "Rnd 9: dec, 5 sc" has no sign of repetition and may be meant to go around; None where that cannot be."""
    body = reading.body
    if any(isinstance(i, Group) or (isinstance(i, Some) and isinstance(i.times, Rest)) for i in body):
        return None
    start = next((index for index, item in enumerate(body) if not _is_lead(item)), len(body))
    end = len(body)
    while end > start and _is_lead(body[end - 1]):
        end -= 1
    unit = body[start:end]
    acts = [item.act for item in unit if isinstance(item, Some)]
    grounded = any(act.into is Into.RING or act.remark.startswith("hook") for act in acts)
    if grounded or not any(act.takes for act in acts):
        return None
    around = (*body[:start], Group(unit, Rest()), *body[end:])
    return replace(
        reading,
        body=around,
        whys=(*reading.whys, "read the line as repeated around"),
        rescues=reading.rescues + 1,
        departures=reading.departures + 9,
    )


def _is_lead(item: Item) -> bool:
    return isinstance(item, Colour) or (isinstance(item, Some) and item.act.role in (Role.STEP, Role.CHAIN))


def _rank(reading: Reading) -> tuple[int, int]:
    return (reading.rescues, reading.departures)


def _first_choice(body: tuple[Item, ...]) -> Choice | None:
    for item in body:
        if isinstance(item, Choice):
            return item
        if isinstance(item, Group):
            inner = _first_choice(item.body)
            if inner is not None:
                return inner
    return None


def _pick(body: tuple[Item, ...], key: str, index: int) -> tuple[Item, ...]:
    """The items with option `index` taken wherever a choice has this key."""
    picked: list[Item] = []
    for item in body:
        if isinstance(item, Choice) and item.key == key:
            picked.extend(_pick(item.options[min(index, len(item.options) - 1)].body, key, index))
        elif isinstance(item, Choice):
            options = tuple(replace(option, body=_pick(option.body, key, index)) for option in item.options)
            picked.append(replace(item, options=options))
        elif isinstance(item, Group):
            picked.append(replace(item, body=_pick(item.body, key, index)))
        else:
            picked.append(item)
    return tuple(picked)
