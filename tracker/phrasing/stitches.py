"""What the hands do next, in words of several styles: "2 single crochet, then an increase", or "2 sc, inc".

Stitches are called by a mapping from their US abbreviation to a name, so that the same words come in US or UK terms.
Lower case, no full stop, so that a screen, a sentence and a voice can all use them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import Enum
from functools import cache

from tracker.lazy_dataclass import replace
from tracker.notation.ast import LAYERS, SLIP_STITCH
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import STITCHES
from tracker.plural import number_of, plural
from tracker.rounds.bases import ALONE
from tracker.rounds.next_step import MOST_PHRASES, Stretch, merged
from tracker.rounds.plan import Act, Into, Loop, Made, Node, Plan, Role, Run, Technique


class WordStyle(Enum):
    """What words are for. Numbers are figures in all of them; a voice spells them out (`numbers.digits_in_words`)."""

    FULL = "to be read on a screen, with what belongs together in brackets"
    SPOKEN = "to be said, without brackets"
    SHORT = "to be written big, in abbreviations"
    HINT = "to stand beside a round, of all its stitches"
    KEY = "to explain a symbol"


SKIP = "sk"
"""The word for passing a stitch over stands among the names: it differs as they do."""

RING = "ring"
"""So does the one for what a first round is worked into: a ring of chains is no magic one."""

_MAGIC = {RING: "magic ring"}
US_NAMES: Mapping[str, str] = {**{stitch.id: stitch.us_name for stitch in STITCHES}, SKIP: "skip", **_MAGIC}
UK_NAMES: Mapping[str, str] = {**{stitch.id: stitch.uk_name for stitch in STITCHES}, SKIP: "miss", **_MAGIC}

_SHORT_US: Mapping[str, str] = {SKIP: "sk"}
_SHORT_UK: Mapping[str, str] = {**{stitch.id: stitch.uk for stitch in STITCHES}, SKIP: "miss"}

HALVES = (Loop.BACK, Loop.FRONT)
"""The two halves of the top of a stitch; the other loops are posts, or no choice."""

_LOOPS: Mapping[Loop, Mapping[WordStyle, str]] = {
    Loop.BACK: {
        WordStyle.FULL: "in the back loop only",
        WordStyle.SPOKEN: "in the back loops only",
        WordStyle.HINT: "back loops only",
        WordStyle.KEY: "in the back loop only (BLO)",
    },
    Loop.FRONT: {
        WordStyle.FULL: "in the front loop only",
        WordStyle.SPOKEN: "in the front loops only",
        WordStyle.HINT: "front loops only",
        WordStyle.KEY: "in the front loop only (FLO)",
    },
    Loop.BACK_POST: {
        WordStyle.FULL: "around the back post",
        WordStyle.HINT: "around the post from behind",
        WordStyle.KEY: "around the post, from the back (BP)",
    },
    Loop.FRONT_POST: {
        WordStyle.FULL: "around the front post",
        WordStyle.HINT: "around the post from the front",
        WordStyle.KEY: "around the post, from the front (FP)",
    },
}


LOOPS_IN_WORDS = tuple(_LOOPS)
"""All that must be told; both loops go without saying."""


def names_for(terms: str, style: WordStyle = WordStyle.FULL) -> Mapping[str, str]:
    """The names of the stitches in "US" or "UK" terms."""
    if style is WordStyle.SHORT:
        return _SHORT_UK if terms == "UK" else _SHORT_US
    return UK_NAMES if terms == "UK" else US_NAMES


def loop_words(loop: Loop, style: WordStyle) -> str:
    """Where stitches go that are worked into this loop or post; "" for both loops. Raises KeyError for a style that
    has no words for it."""
    return _LOOPS[loop][style] if loop is not Loop.BOTH else ""


def stretch_words(stretch: Stretch, names: Mapping[str, str] = US_NAMES) -> str:
    """All that is made in a part of a round, in full words."""
    begun, nodes = _begun_and_left(stretch)
    begun_words = [_rest_of_act(begun, stretch.inside, names)] if begun else []
    loop = None if stretch.inside else common_loop(nodes)
    if loop is not None and len(nodes) > 1:
        plain = [_node_words(node, names) for node in in_both_loops(nodes)]
        return f"{_listed(plain)}, all {loop_words(loop, WordStyle.FULL)}"
    return _listed([*begun_words, *(_node_words(node, names) for node in nodes)])


def _begun_and_left(stretch: Stretch) -> tuple[Act | None, tuple[Node, ...]]:
    """The act that is half made, if one is, and what comes after it."""
    first, *others = stretch.nodes or (None,)
    if not stretch.inside or not isinstance(first, Run):
        return None, merged(stretch.nodes)
    again = (Run(first.act, first.times - 1),) if first.times > 1 else ()
    return first.act, merged((*again, *(node for node in others if node is not None)))


def common_loop(body: Iterable[Node]) -> Loop | None:
    """The loop that all the stitches go into, if it is one that must be told; to be told once, not with each."""
    loops = {act.loop for act in Plan(tuple(body)).acts() if act.role is Role.WORK}
    return loops.pop() if len(loops) == 1 and Loop.BOTH not in loops else None


def in_both_loops(body: Iterable[Node]) -> tuple[Node, ...]:
    """The same without its loops, which are told of all of it."""
    return tuple(
        replace(node, act=replace(node.act, loop=Loop.BOTH))
        if isinstance(node, Run)
        else replace(node, body=in_both_loops(node.body))
        for node in body
    )


def listed(phrases: Sequence[str]) -> str:
    """One after the other: "a, b, then c"."""
    return f"{', '.join(phrases[:-1])}, then {phrases[-1]}" if len(phrases) > 1 else "".join(phrases)


def _listed(phrases: list[str]) -> str:
    if len(phrases) > MOST_PHRASES:
        phrases = [*phrases[: MOST_PHRASES - 1], "the rest of the repeat"]
    return listed(phrases)


def _node_words(node: Node, names: Mapping[str, str]) -> str:
    if isinstance(node, Run):
        return act_words(node.act, node.times, names)
    inner = _listed([_node_words(inner, names) for inner in merged(node.body)])
    return inner if node.times == 1 else f"{node.times} times ({inner})"


def act_words(
    act: Act, times: int = 1, names: Mapping[str, str] = US_NAMES, style: WordStyle = WordStyle.FULL
) -> str:
    """One act, `times` over: "5 single crochet in the back loop only", "an increase", "chain 3". In full words, or as
    they are spoken."""
    if act.role is Role.STEP:
        return f"chain {act.length}" if act.length else _STEPS.get(act.name, act.name)
    if act.role is Role.SKIP:
        return skip_words(act, times, names)
    if act.role is Role.CHAIN:
        return chain_words(act, times, names, style)
    return f"{_work_words(act, times, names, style)} {loop_words(act.loop, WordStyle.FULL)}".rstrip()


def _work_words(act: Act, times: int, names: Mapping[str, str], style: WordStyle) -> str:
    if act.name in BUNCH_BY_ID:
        return _bunch_words(act, times, names, style)
    if len(act.makes) != 1:
        return _group_in_one(act, times, names, style)
    made = act.makes[0]
    if act.is_decrease:
        over = f" over {act.takes} stitches" if act.takes > 2 else ""
        return f"{_some('decrease', times)}{over}{_of_kind(made.kind, names)}{_place(act, times, names, style)}"
    if act.is_increase and made.count == 2 and act.into is Into.STITCH:
        return f"{_some('increase', times)}{_of_kind(made.kind, names)}"
    if style is WordStyle.SPOKEN and made.count == 1 and times > 1 and _is_in_chains(act):
        return f"{_count(times, made.kind, names)}, one in each chain"
    if act.into is Into.RING or (made.count == 1 and not (times > 1 and act.into in _ONE_BY_ONE)):
        return f"{_count(made.count * times, made.kind, names)}{_place(act, times, names, style)}"
    return f"{_count(made.count, made.kind, names)}{_in_each(act, times, names, style)}"


def _bunch_words(act: Act, times: int, names: Mapping[str, str], style: WordStyle) -> str:
    words = _some(act.name, times)
    if any(made.kind != act.name for made in act.makes):
        parts = ", ".join(_made_words(act.makes, names))
        words += f" of {parts}" if style is WordStyle.SPOKEN else f" ({parts})"
    return words + _place(act, times, names, style)


def _group_in_one(act: Act, times: int, names: Mapping[str, str], style: WordStyle) -> str:
    if not act.makes:
        return act.name
    parts = _made_words(act.makes, names)
    together = " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))
    words = together if style is WordStyle.SPOKEN else f"({', '.join(parts)})"
    return f"{words}{_in_each(act, times, names, style)}"


def _made_words(makes: tuple[Made, ...], names: Mapping[str, str]) -> list[str]:
    return [f"chain {made.count}" if made.is_chain else _count(made.count, made.kind, names) for made in makes]


def _in_each(act: Act, times: int, names: Mapping[str, str], style: WordStyle) -> str:
    """Where several stitches of one place go."""
    if act.into is not Into.STITCH:
        return _place(act, times, names, style)
    if act.takes > 1:
        return f" over {act.takes} stitches" + (f", {times} times" if times > 1 else "")
    if act.onto.startswith(ALONE):
        return _place(act, times, names, style)
    return " in one stitch" if times == 1 else f" in each of the next {times} stitches"


@cache
def _nth() -> Mapping[int, str]:
    """Places by their number in words; few rounds have one."""
    from tracker.notation.token_kinds import ORDINALS

    return {number: word for word, number in ORDINALS.items()}


_ONE_BY_ONE = {Into.SPACE: "chain space", Into.CHAIN: "chain"}
"""Places that are named with every stitch that goes into them."""


def _is_in_chains(act: Act) -> bool:
    return act.into is Into.CHAIN and len(act.makes) == 1 and act.takes == 1 and not act.from_hook


def _place(act: Act, times: int, names: Mapping[str, str], style: WordStyle) -> str:
    if act.into is Into.CHAIN and act.from_hook:
        if style is WordStyle.SPOKEN:
            return f" in the {_nth().get(act.from_hook, f'number {act.from_hook}')} chain from the hook"
        return f" in chain {act.from_hook} from the hook"
    if style is WordStyle.SPOKEN and _is_in_chains(act):
        return " in one chain" if times == 1 else f" in each of {times} chains"
    if act.into in _ONE_BY_ONE:
        place = _ONE_BY_ONE[act.into]
        return f" in the {place}" if times == 1 else f" in each of the next {times} {place}s"
    if act.into is Into.SAME and act.same_space:
        return " in the same chain space"
    if act.onto == LAYERS:
        return " through both layers"
    if act.onto.startswith(ALONE):
        kind = act.onto.removeprefix(ALONE)
        name = names.get(kind, kind)
        return f" in the next {name}" if times == 1 else f" in each of the next {times} {name}"
    return {
        Into.RING: f" in the {names.get(RING, _MAGIC[RING])}",
        Into.SAME: " in the same stitch",
        Into.BETWEEN: " between the stitches",
    }.get(act.into, "")


def _rest_of_act(act: Act, inside: int, names: Mapping[str, str]) -> str:
    """What is left of an act of which some moves are made: "1 more single crochet in the same stitch"."""
    makes: list[Made] = []
    for made in act.makes:
        done = min(inside, made.moves)
        inside -= done
        if made.is_chain and not done:
            makes.append(made)
        elif not made.is_chain and made.count > done:
            makes.append(Made(made.kind, made.count - done, made.counts_as))
    where = " in the same stitch"
    if act.into in (Into.RING, Into.SPACE):
        where = _place(act, 1, names, WordStyle.FULL)
    loop = loop_words(act.loop, WordStyle.FULL)
    if len(makes) == 1 and not makes[0].is_chain:
        return f"{makes[0].count} more {_named(makes[0].count, makes[0].kind, names)}{where} {loop}".rstrip()
    return f"{', '.join(_made_words(tuple(makes), names))}{where} {loop}".rstrip()


def _some(noun: str, count: int) -> str:
    if count == 1:
        return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"
    return number_of(count, noun)


def _count(count: int, kind: str, names: Mapping[str, str]) -> str:
    return f"{count:,} {_named(count, kind, names)}"


def _named(count: int, kind: str, names: Mapping[str, str]) -> str:
    """The name of a stitch for so many of it: "3 single crochet", "2 slip stitches", "4 trebles"."""
    name = names.get(kind, kind)
    return name if count == 1 else plural(name)


def _of_kind(kind: str, names: Mapping[str, str]) -> str:
    """What an increase or decrease is made of; single crochet goes without saying."""
    return "" if kind == "sc" else f" of {names.get(kind, kind)}"


# Words for what is done between stitches: chains, skips, joins and turns.

_STEPS = {
    "join": "join with a slip stitch",
    "join ring": "join into a ring with a slip stitch",
    "sl st across": "slip stitch across to where it begins",
    "other side": "go on along the other side",
    "fo": "fasten off",
    "f/o": "fasten off",
    "pm": "place the marker",
    "place marker": "place the marker",
}
"""Steps by their names; one that has no other name is told as the pattern calls it."""


def skip_words(act: Act, times: int, names: Mapping[str, str] = US_NAMES) -> str:
    """ "skip 1 stitch", "leave 2 stitches unworked"."""
    count = max(act.takes, 1) * times
    noun = {Into.SPACE: "chain space", Into.CHAIN: "chain"}.get(act.into, "stitch")
    bases = number_of(count, noun)
    if act.technique is Technique.SLIP_ACROSS:
        return f"{names.get(SLIP_STITCH, 'slip stitch')} over {bases}"
    return f"leave {bases} unworked" if act.technique is Technique.LEAVE else f"{names.get(SKIP, 'skip')} {bases}"


def chain_words(act: Act, times: int, names: Mapping[str, str], style: WordStyle = WordStyle.FULL) -> str:
    """ "chain 3", and what it counts as if it counts."""
    parts = [f"chain {made.count:,}" for made in act.makes] or ["chain"]
    # It was made before the turn, and is not to be made again.
    words = "the turning chain" if act.technique is Technique.CHAIN_BELOW else ", ".join(parts)
    stands_for = next((made.counts_as for made in act.makes if made.counts_as), "")
    if stands_for:
        name = names.get(stands_for, stands_for)
        counts = f"counts as {'an' if name[0] in 'aeiou' else 'a'} {name}"
        words += f" which {counts}" if style is WordStyle.SPOKEN else f" ({counts})"
    return words if times == 1 else f"{words}, {times:,} times"


# The same in the trade's abbreviations, few enough to be written big.

_SHORT_STEPS = {
    Technique.JOIN: "join",
    Technique.JOIN_RING: "join",
    Technique.FASTEN_OFF: "fasten off",
    Technique.OTHER_SIDE: "other side",
}
_SHORT_PLACES = {Into.SPACE: " in sp", Into.SAME: " same st", Into.BETWEEN: " between"}


def short_words(stretch: Stretch, terms: str) -> str:
    """All that is made in a part of a round, in "US" or "UK" abbreviations; "" if nothing is."""
    names = names_for(terms, WordStyle.SHORT)
    begun, nodes = _begun_and_left(stretch)
    begun_words = [_short_rest(begun, stretch.inside, names)] if begun else []
    return ", ".join([*begun_words, *(_short_node(node, names) for node in nodes)])


def _short_rest(act: Act, inside: int, names: Mapping[str, str]) -> str:
    """What is left of an act that is half made: "1 more sc"."""
    stitches = act.stitches - Plan((Run(act),)).stitches_before(inside)
    kinds = {made.kind for made in act.makes if not made.is_chain}
    return f"{stitches} more {_short_name(kinds.pop(), names) if len(kinds) == 1 else 'st'}"


def _short_node(node: Node, names: Mapping[str, str]) -> str:
    if not isinstance(node, Run):
        return f"({', '.join(_short_node(inner, names) for inner in merged(node.body))}) x {node.times}"
    act = node.act
    if act.role is Role.STEP:
        return _SHORT_STEPS.get(act.technique, act.name)
    if act.role is Role.CHAIN:
        if act.technique is Technique.CHAIN_BELOW:
            return "turning ch"
        length = sum(made.count for made in act.makes) or 1
        return f"ch {length}" if node.times == 1 else f"ch {length} x {node.times}"
    if act.role is Role.SKIP:
        return f"{'leave' if act.technique is Technique.LEAVE else names[SKIP]} {max(act.takes, 1) * node.times}"
    return f"{act.loop.value} {_short_work(act, node.times, names)}{_SHORT_PLACES.get(act.into, '')}".lstrip()


def _short_work(act: Act, times: int, names: Mapping[str, str]) -> str:
    if act.technique is Technique.FOUNDATION:
        return f"ch {sum(made.count for made in act.makes) * times}"
    if act.technique is Technique.IN_ONE:
        inside = ", ".join(_short_made(made, names) for made in act.makes)
        return f"({inside})" if times == 1 else f"({inside}) x {times}"
    if act.technique is Technique.INCREASE and (
        act.makes[0].kind != "sc" or act.into is not Into.STITCH or act.stitches != 2
    ):
        several = f"{act.stitches} {_short_name(act.makes[0].kind, names)}"
        return several if times == 1 else f"{times} x {several}"
    is_plain = act.technique is Technique.STITCH and len(act.makes) == 1 and act.stitches == 1
    count = f"{times} " if times > 1 or is_plain else ""
    return f"{count}{_short_name(act.name, names)}"


def _short_made(made: Made, names: Mapping[str, str]) -> str:
    return f"ch {made.count}" if made.is_chain else f"{made.count} {_short_name(made.kind, names)}"


def _short_name(kind: str, names: Mapping[str, str]) -> str:
    """An abbreviation; of a decrease that names its stitch, "sc2tog", the stitch in it."""
    stem, tog, suffix = kind.partition("2tog")
    return f"{names.get(stem, stem)}{tog}{suffix}"
