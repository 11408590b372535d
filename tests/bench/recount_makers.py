"""Eight invented patterns, the hands that work them literally, and some 55 ways to come to another number.

Nothing here comes from the program's own arithmetic: a round is a list of acts over the bases that are really there,
a mistake is made in that list, and the number that is counted is what the list leaves. `works` says whether a line
can be worked as it is written over another number of bases; it is the judge of "carry on".

Times: every maker has a pace, its own spread (0.12 to 0.42; cycle times of unpaced hand work vary by about a quarter:
Knott and Sury, IIE Transactions 19, 1987, from memory), pauses now and then, and one of three habits of tapping.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

TAKES = {"s": 1, "i": 1, "d": 2, "t": 1, "-": 1, "+": 0, "h": 1}
LEAVES = {"s": 1, "i": 2, "d": 1, "t": 3, "-": 0, "+": 1, "h": 1}
"""A plain stitch, an increase, a decrease, three in one; a base with nothing in it, a stitch with no base of its own;
"h" is a taller plain stitch beside the plain ones."""

Part = tuple[object, ...]


@dataclass(frozen=True)
class Line:
    """One round as a list of parts: ("s", 4), ("rep", 6, [parts]), ("around", [parts]), ("all", "s"), ("to last",
    2)."""

    parts: tuple[Part, ...]

    @property
    def is_elastic(self) -> bool:
        return any(part[0] in ("around", "all", "to last") for part in self.parts)


def fixed(parts: object) -> list[str]:
    """The acts of parts that say how often."""
    acts: list[str] = []
    for part in parts:  # type: ignore[attr-defined]
        if part[0] == "rep":
            acts += fixed(part[2]) * part[1]
        elif part[0] in TAKES:
            acts += [part[0]] * part[1]
    return acts


def taken(acts: list[str]) -> int:
    return sum(TAKES[act] for act in acts)


def left(acts: list[str]) -> int:
    return sum(LEAVES[act] for act in acts)


def works(line: Line, bases: int) -> list[str] | None:
    """The acts of the line over so many bases, if it can be worked just as it says; else None."""
    acts: list[str] = []
    rest = bases - taken(fixed(line.parts))
    for part in line.parts:
        if part[0] == "all":
            acts += [str(part[1])] * rest
        elif part[0] == "to last":
            acts += ["s"] * rest
        elif part[0] == "around":
            once = fixed(part[1])
            if rest <= 0 or rest % taken(once):
                return None
            acts += once * (rest // taken(once))
        else:
            acts += fixed([part])
    return acts if rest >= 0 and taken(acts) == bases else None


def by_hand(line: Line, bases: int, rng: random.Random) -> list[str]:
    """What hands do that follow the line over a wrong number of bases: on as long as there are bases, and what is
    left over is worked plain or left."""
    exact = works(line, bases)
    if exact is not None:
        return exact
    acts: list[str] = []
    elastic = next((part for part in line.parts if part[0] in ("around", "all", "to last")), None)
    wanted = fixed(line.parts)
    if elastic is not None and elastic[0] == "around":
        once = fixed(elastic[1])
        wanted = [act for part in line.parts for act in (once * (bases + 1) if part is elastic else fixed([part]))]
    for act in wanted:
        there = bases - taken(acts)
        if there >= TAKES[act]:
            acts.append(act)
        elif there:
            acts.append("s")
    over = bases - taken(acts)
    return acts + ["s" if rng.random() < 0.75 else "-"] * over


def text_of(line: Line, style: Style, after: int) -> str:
    """The line in the trade's shorthand."""
    words = [_part(part, style) for part in line.parts]
    head, tail = {"joined": ("ch 2, ", ", join"), "rows": ("ch 1, ", ", turn"), "spiral": ("", "")}[style.form]
    return f"{head}{', '.join(words)}{tail} ({after})"


def _part(part: Part, style: Style) -> str:
    kind = style.kind
    if part[0] == "rep":
        return f"({', '.join(_part(each, style) for each in part[2])}) x {part[1]}"  # type: ignore[attr-defined]
    if part[0] == "around":
        return f"*{', '.join(_part(each, style) for each in part[1])}; rep from * around"  # type: ignore[attr-defined]
    if part[0] == "all":
        across = "across" if style.form == "rows" else "around"
        return (
            f"{kind} {across}"
            if part[1] == "s"
            else f"{'inc' if part[1] == 'i' else '3 ' + kind} in each st {across}"
        )
    if part[0] == "to last":
        number = part[1]
        return f"{kind} to last {f'{number} sts' if number != 1 else 'st'}"
    number = part[1]
    if part[0] == "h":
        return f"{number} dc"
    return (
        f"{number} {kind}"
        if part[0] == "s"
        else {"i": "inc", "d": "dec"}[str(part[0])] + f" x {number}" * (number != 1)
    )


@dataclass(frozen=True)
class Style:
    form: str
    kind: str = "sc"


@dataclass(frozen=True)
class Made:
    """A pattern: its name, how it goes round, its first round's stitches and the lines after."""

    name: str
    style: Style
    first: int
    lines: tuple[Line, ...]

    def counts(self) -> list[int]:
        counts = [self.first]
        for line in self.lines:
            acts = works(line, counts[-1])
            assert acts is not None, (self.name, line, counts)
            counts.append(left(acts))
        return counts

    def source(self) -> str:
        counts, name = self.counts(), "Row" if self.style.form == "rows" else "Rnd"
        kind = self.style.kind
        first = {
            "spiral": f"{self.first} {kind} in magic ring ({self.first})",
            "joined": f"ch 2, {self.first} {kind} in magic ring, join ({self.first})",
            "rows": f"ch {self.first + 1}, sc in 2nd ch from hook, sc in each ch across, turn ({self.first})",
        }[self.style.form]
        texts = [first] + [
            text_of(line, self.style, after) for line, after in zip(self.lines, counts[1:], strict=True)
        ]
        rounds = "\n".join(f"{name} {number}: {text}" for number, text in enumerate(texts, 1))
        piece = f'[[piece]]\nname = "{self.name}"\nstart = "{self.style.form}"\nrounds = """\n{rounds}\n"""\n'
        return f'title = "{self.name}"\n{piece}'


def L(*parts: Part) -> Line:
    return Line(parts)


def _grow(k: int, times: int) -> Line:
    return L(("rep", times, [("s", k), ("i", 1)])) if k else L(("i", times))


def _shrink(k: int, times: int) -> Line:
    return L(("rep", times, [("s", k), ("d", 1)])) if k else L(("d", times))


PLAIN = L(("all", "s"))
PATTERNS = (
    Made(
        "Ball",
        Style("spiral"),
        6,
        (
            L(("all", "i")),
            _grow(1, 6),
            _grow(2, 6),
            _grow(3, 6),
            _grow(4, 6),
            PLAIN,
            PLAIN,
            PLAIN,
            PLAIN,
            _shrink(4, 6),
            _shrink(3, 6),
            PLAIN,
            _shrink(2, 6),
            _shrink(1, 6),
        ),
    ),
    Made(
        "Egg",
        Style("spiral"),
        7,
        (
            L(("all", "i")),
            L(("s", 1), ("i", 1), ("rep", 6, [("s", 1), ("i", 1)])),
            _grow(2, 7),
            PLAIN,
            L(("s", 1), ("i", 1), ("rep", 6, [("s", 3), ("i", 1)]), ("s", 2)),
            PLAIN,
            PLAIN,
            PLAIN,
            L(("s", 35)),
            _shrink(3, 7),
            PLAIN,
            _shrink(2, 7),
            _shrink(1, 7),
        ),
    ),
    Made(
        "Cup",
        Style("spiral"),
        6,
        (
            L(("all", "i")),
            L(("around", [("s", 1), ("i", 1)])),
            L(("around", [("s", 2), ("i", 1)])),
            L(("around", [("s", 3), ("i", 1)])),
            L(("around", [("s", 4), ("i", 1)])),
            L(("around", [("s", 5), ("i", 1)])),
            PLAIN,
            PLAIN,
            PLAIN,
            PLAIN,
            PLAIN,
            PLAIN,
            L(("around", [("s", 5), ("d", 1)])),
            PLAIN,
            PLAIN,
            PLAIN,
        ),
    ),
    Made(
        "Arm",
        Style("spiral"),
        8,
        (
            PLAIN,
            L(("s", 2), ("i", 2), ("s", 4)),
            PLAIN,
            L(("s", 3), ("i", 2), ("s", 5)),
            PLAIN,
            PLAIN,
            L(("s", 4), ("d", 2), ("s", 4)),
            PLAIN,
            L(("s", 3), ("d", 2), ("s", 3)),
            PLAIN,
            PLAIN,
        ),
    ),
    Made(
        "Cap",
        Style("joined", "hdc"),
        8,
        (
            L(("all", "i")),
            _grow(1, 8),
            _grow(2, 8),
            _grow(3, 8),
            _grow(4, 8),
            PLAIN,
            PLAIN,
            PLAIN,
            L(("around", [("s", 4), ("d", 1)])),
            PLAIN,
            PLAIN,
        ),
    ),
    Made(
        "Mat",
        Style("joined"),
        12,
        (
            L(("all", "i")),
            L(("around", [("s", 1), ("i", 1)])),
            L(("around", [("s", 1), ("h", 2)])),
            PLAIN,
            L(("around", [("s", 2), ("i", 1)])),
            PLAIN,
            L(("around", [("s", 1), ("h", 2)])),
            PLAIN,
        ),
    ),
    Made(
        "Kerchief",
        Style("rows"),
        9,
        (
            PLAIN,
            L(("i", 1), ("to last", 1), ("i", 1)),
            PLAIN,
            L(("i", 1), ("to last", 1), ("i", 1)),
            PLAIN,
            L(("i", 1), ("s", 11), ("i", 1)),
            L(("i", 1), ("to last", 1), ("i", 1)),
            PLAIN,
            PLAIN,
            PLAIN,
        ),
    ),
    Made(
        "Strap",
        Style("rows"),
        24,
        (
            PLAIN,
            PLAIN,
            L(("d", 1), ("to last", 2), ("d", 1)),
            PLAIN,
            L(("d", 1), ("s", 18), ("d", 1)),
            PLAIN,
            PLAIN,
            L(("rep", 5, [("s", 3), ("i", 1)])),
            PLAIN,
            PLAIN,
            L(("s", 25)),
            PLAIN,
        ),
    ),
)


@dataclass
class Case:
    """A count at the end of round `at` (from 0), or inside it after `moves` of its acts, and what is really wrong.

    `fabric` are the acts of each round as they were made. `causes` are the names that would be right, `back` how many
    rounds before, `act` where in that round's line (None where there is no one place in the fabric).
    """

    made: Made
    kind: str
    at: int
    fabric: list[list[str]]
    counted: int
    causes: tuple[str, ...]
    back: int = 0
    act: int | None = None
    place: tuple[int, int] | None = None
    """For a place of the tracker that is wrong: the round (from 0) and the stitch where the maker is."""
    tapped: int | None = None
    """Acts of the round tapped so far; None for all of them."""
    miscounted: bool = False
    edge: str = ""
    base: int | None = None
    second: int | None = None
    """Where the second of two mistakes is."""


Kind = Callable[[Made, random.Random], "Case | None"]
KINDS: dict[str, Kind] = {}
GROUPS: dict[str, list[str]] = {}


def _kind(name: str, group: str) -> Callable[[Kind], Kind]:
    def keep(kind: Kind) -> Kind:
        KINDS[name] = kind
        GROUPS.setdefault(group, []).append(name)
        return kind

    return keep


def _right(made: Made, until: int) -> list[list[str]]:
    """The rounds up to this one, made as they should be."""
    counts = made.counts()
    fabric = [["s"] * made.first]
    for index in range(1, until + 1):
        acts = works(made.lines[index - 1], counts[index - 1])
        assert acts is not None
        fabric.append(acts)
    return fabric


def _changing(made: Made) -> list[int]:
    counts = made.counts()
    return [i for i in range(1, len(counts)) if counts[i] != counts[i - 1]]


def _worked_on(made: Made, fabric: list[list[str]], until: int, rng: random.Random) -> list[list[str]]:
    """The rounds after those of the fabric, worked over what is really there."""
    fabric = [*fabric]
    while len(fabric) <= until:
        fabric.append(by_hand(made.lines[len(fabric) - 1], left(fabric[-1]), rng))
    return fabric


# The whole round out of step.


@_kind("round not made yet", "out of step")
def _(made: Made, rng: random.Random) -> Case | None:
    at = rng.choice(_changing(made))
    fabric = _right(made, at - 1)
    return Case(made, "", at, fabric, left(fabric[-1]), ("round not made",), place=(at, 0))


@_kind("two rounds not made yet", "out of step")
def _(made: Made, rng: random.Random) -> Case | None:
    counts = made.counts()
    fit = [i for i in range(2, len(counts)) if counts[i] != counts[i - 2] and counts[i - 1] != counts[i - 2]]
    if not fit:
        return None
    at = rng.choice(fit)
    fabric = _right(made, at - 2)
    return Case(made, "", at, fabric, left(fabric[-1]), ("round not made",), place=(at - 1, 0))


@_kind("round not tapped", "out of step")
def _(made: Made, rng: random.Random) -> Case | None:
    at = rng.choice(_changing(made)) - 1
    if at < 1:
        return None
    fabric = _right(made, at + 1)
    return Case(made, "", at, fabric, left(fabric[-1]), ("round not tapped",), place=(at + 2, 0))


@_kind("round made twice", "out of step")
def _(made: Made, rng: random.Random) -> Case | None:
    at = rng.choice(_changing(made))
    fabric = _right(made, at)
    again = by_hand(made.lines[at - 1], left(fabric[-1]), rng)
    return Case(made, "", at, [*fabric, again], left(again), ("round made twice",), place=(at + 1, 0))


# A mistake of a stitch, in the round that is counted or before it.


def _slip(made: Made, rng: random.Random, at: int, what: str, where: str = "") -> tuple[list[list[str]], int] | None:
    """The fabric up to round `at` with one slip in that round, and the index of the act."""
    fabric = _right(made, at)
    acts = fabric[at]
    wanted = {"missed increase": "i", "missed decrease": "d", "two in one": "s", "stitch skipped": "s"}
    wanted |= {"extra increase": "s", "extra decrease": "s", "increase of three": "i"}
    sites = [i for i, act in enumerate(acts) if act == wanted[what]]
    if what == "extra decrease":
        sites = [i for i in sites if i + 1 < len(acts) and acts[i + 1] == "s"]
    if where:
        sites = [i for i in sites if i == (0 if where == "first" else len(acts) - 1)]
    elif what in ("two in one", "stitch skipped"):
        sites = [i for i in sites if 0 < i < len(acts) - 1]
    if not sites:
        return None
    i = rng.choice(sites)
    changed = list(acts)
    if what == "extra decrease":
        changed[i : i + 2] = ["d"]
    elif what == "missed decrease":
        changed[i : i + 1] = ["s", "s"]
    else:
        to = {"missed increase": "s", "two in one": "i", "stitch skipped": "-", "extra increase": "i"}
        changed[i] = to.get(what, "t")
    fabric[at] = changed
    return fabric, i


_NAMES = {
    "missed increase": ("missed increase",),
    "missed decrease": ("missed decrease",),
    "two in one": ("two in one",),
    "stitch skipped": ("stitch skipped",),
    "extra increase": ("two in one",),
    "extra decrease": ("stitch skipped",),
    "increase of three": ("two in one",),
}


def _one_slip(what: str, where: str = "", back: int = 0) -> Kind:
    def kind(made: Made, rng: random.Random) -> Case | None:
        rounds = len(made.lines) + 1
        for _ in range(30):
            at = rng.randrange(1, rounds - back)
            found = _slip(made, rng, at, what, where)
            if found is None:
                continue
            fabric, act = found
            base = taken(fabric[at][:act])
            fabric = _worked_on(made, fabric, at + back, rng)
            counted = left(fabric[-1])
            if counted != made.counts()[at + back]:
                return Case(made, "", at + back, fabric, counted, _NAMES[what], back, act, edge=where, base=base)
        return None

    return kind


for _what in ("missed increase", "missed decrease", "extra increase", "extra decrease", "increase of three"):
    _kind(_what, "one slip")(_one_slip(_what))
for _what in ("stitch skipped", "two in one"):
    _kind(f"{_what} on the way", "one slip")(_one_slip(_what))
    for _where in ("first", "last"):
        _kind(f"{_where}: {_what}", "edges")(_one_slip(_what, _where))
for _what, _back in (
    ("missed increase", 1),
    ("missed increase", 2),
    ("missed increase", 4),
    ("missed decrease", 1),
    ("stitch skipped", 1),
    ("stitch skipped", 2),
    ("stitch skipped", 3),
    ("two in one", 1),
    ("two in one", 4),
):
    _kind(f"{_what}, {_back} back", "earlier round")(_one_slip(_what, back=_back))


def _two_slips(first: str, second: str) -> Kind:
    def kind(made: Made, rng: random.Random) -> Case | None:
        for _ in range(30):
            at = rng.randrange(1, len(made.lines) + 1)
            found = _slip(made, rng, at, first)
            if found is None:
                continue
            fabric, act = found
            acts = fabric[at]
            wanted = {"missed increase": "i", "missed decrease": "d", "two in one": "s", "stitch skipped": "s"}[
                second
            ]
            sites = [
                i for i, each in enumerate(acts) if each == wanted and abs(i - act) > 2 and 0 < i < len(acts) - 1
            ]
            if not sites:
                continue
            i = rng.choice(sites)
            to = {
                "missed increase": ["s"],
                "missed decrease": ["s", "s"],
                "two in one": ["i"],
                "stitch skipped": ["-"],
            }
            fabric[at] = [*acts[:i], *to[second], *acts[i + 1 :]]
            counted = left(fabric[at])
            if counted != made.counts()[at]:
                return Case(
                    made,
                    "",
                    at,
                    fabric,
                    counted,
                    (*_NAMES[first], *_NAMES[second]),
                    0,
                    min(act, i),
                    base=taken(acts[: min(act, i)]),
                    second=taken(acts[: max(act, i)]),
                )
        return None

    return kind


for _one, _two in (
    ("missed increase", "missed increase"),
    ("missed decrease", "missed decrease"),
    ("missed increase", "stitch skipped"),
    ("stitch skipped", "stitch skipped"),
    ("two in one", "two in one"),
):
    _kind(f"{_one} and {_two}", "two together")(_two_slips(_one, _two))


# The spiral drifts; the line is misread all round; whole repeats.


def _drift(by: int) -> Kind:
    def kind(made: Made, rng: random.Random) -> Case | None:
        if made.style.form != "spiral":
            return None
        at = rng.randrange(1, len(made.lines) + 1)
        fabric = _right(made, at)
        fabric[at] = fabric[at] + ["+"] * by if by > 0 else fabric[at][:by]
        counted = left(fabric[at])
        if counted == made.counts()[at]:
            return None
        return Case(made, "", at, fabric, counted, ("drift",), act=len(fabric[at]) - 1, edge="last")

    return kind


for _by in (1, 2, 3, -1, -2, -3):
    _kind(f"marker {abs(_by)} {'passed' if _by > 0 else 'not reached'}", "drift")(_drift(_by))


def _spacing(act: str, by: int) -> Kind:
    def kind(made: Made, rng: random.Random) -> Case | None:
        counts, fit = made.counts(), []
        for at in range(1, len(counts)):
            for part in made.lines[at - 1].parts:
                group = part[2] if part[0] == "rep" else part[1] if part[0] == "around" else ()
                if [each[0] for each in group] == ["s", act]:  # type: ignore[attr-defined]
                    fit.append((at, group[0][1]))  # type: ignore[index]
        if not fit:
            return None
        at, gap = rng.choice(fit)
        if gap + by < 0:
            return None
        fabric = _right(made, at - 1)
        once = ["s"] * (gap + by) + [act]
        acts: list[str] = []
        while counts[at - 1] - taken(acts) >= taken(once):
            acts += once
        acts += ["s"] * (counts[at - 1] - taken(acts))
        if left(acts) == counts[at]:
            return None
        return Case(made, "", at, [*fabric, acts], left(acts), ("spacing", "every repeat"))

    return kind


for _act, _name in (("i", "increases"), ("d", "decreases")):
    for _by in (1, -1):
        _kind(f"{_name} {'wider' if _by > 0 else 'closer'} all round", "misread")(_spacing(_act, _by))


@_kind("no increase in any repeat", "misread")
def _(made: Made, rng: random.Random) -> Case | None:
    fabric, at = _all_of(made, rng, "i", ["s"])
    return at and Case(made, "", at, fabric, left(fabric[at]), ("every repeat", "round not made"))


@_kind("no decrease in any repeat", "misread")
def _(made: Made, rng: random.Random) -> Case | None:
    fabric, at = _all_of(made, rng, "d", ["s", "s"])
    return at and Case(made, "", at, fabric, left(fabric[at]), ("every repeat", "round not made"))


@_kind("three in each increase", "misread")
def _(made: Made, rng: random.Random) -> Case | None:
    fabric, at = _all_of(made, rng, "i", ["t"])
    return at and Case(made, "", at, fabric, left(fabric[at]), ("every repeat",))


def _all_of(made: Made, rng: random.Random, act: str, to: list[str]) -> tuple[list[list[str]], int]:
    fit = [i for i in range(1, len(made.lines) + 1) if _right(made, i)[i].count(act) >= 3]
    if not fit:
        return [], 0
    at = rng.choice(fit)
    fabric = _right(made, at)
    fabric[at] = [each for one in fabric[at] for each in (to if one == act else [one])]
    return fabric, at


@_kind("a repeat left out", "repeats")
def _(made: Made, rng: random.Random) -> Case | None:
    return _repeats(made, rng, -1)


@_kind("a repeat too many", "repeats")
def _(made: Made, rng: random.Random) -> Case | None:
    return _repeats(made, rng, 1)


def _repeats(made: Made, rng: random.Random, by: int) -> Case | None:
    fit = [i for i in range(1, len(made.lines) + 1) if made.lines[i - 1].parts[0][0] in ("rep", "around")]
    if not fit:
        return None
    at = rng.choice(fit)
    part = made.lines[at - 1].parts[0]
    once = fixed(part[2] if part[0] == "rep" else part[1])
    fabric = _right(made, at)
    fabric[at] = (
        fabric[at][: -len(once)] if by < 0 else fabric[at] + [each for act in once for each in (["+"] * LEAVES[act])]
    )
    causes = ("repeat missed", "place") if by < 0 else ("repeat too many",)
    wrong_from = None if by < 0 else len(fabric[at]) - left(once)
    return Case(made, "", at, fabric, left(fabric[at]), causes, act=wrong_from)


# Chains and joins.


@_kind("the chain counted as a stitch", "edges")
def _(made: Made, rng: random.Random) -> Case | None:
    return _at_chain(made, rng)


@_kind("a stitch worked into the join", "edges")
def _(made: Made, rng: random.Random) -> Case | None:
    return _at_chain(made, rng)


def _at_chain(made: Made, rng: random.Random) -> Case | None:
    if made.style.form == "spiral":
        return None
    at = rng.randrange(1, len(made.lines) + 1)
    fabric = _right(made, at)
    return Case(made, "", at, fabric, left(fabric[at]) + 1, ("chain or join",), edge="first")


# The number itself, and counts in the middle of a round.


def _wrong_number(by: int) -> Kind:
    def kind(made: Made, rng: random.Random) -> Case | None:
        counts = made.counts()
        fit = [i for i in range(2, len(counts)) if 0 < counts[i] + by not in counts[max(0, i - 2) : i + 3]]
        if not fit:
            return None
        at = rng.choice(fit)
        fabric = _right(made, at)
        return Case(made, "", at, fabric, left(fabric[at]) + by, ("miscount",), miscounted=True)

    return kind


for _by in (-1, 1, -2, 2, 10, -10):
    _kind(f"counted {abs(_by)} too {'many' if _by > 0 else 'few'}", "pure miscounts")(_wrong_number(_by))


def _half_way(what: str) -> Kind:
    def kind(made: Made, rng: random.Random) -> Case | None:
        at = rng.randrange(2, len(made.lines) + 1)
        fabric = _right(made, at)
        acts = fabric[at]
        if len(acts) < 8:
            return None
        tapped = rng.randrange(4, len(acts) - 3)
        there = left(acts[:tapped])
        if what == "place":
            worked = tapped + rng.choice((-2, -1, 1, 2, 3))
            counted = left(acts[:worked])
            fabric[at] = acts[:worked]
            return Case(made, "", at, fabric, counted, ("place",), place=(at, counted), tapped=tapped)
        if what == "miscount":
            fabric[at] = acts[:tapped]
            by = rng.choice((-1, 1))
            return Case(made, "", at, fabric, there + by, ("miscount",), tapped=tapped, miscounted=True)
        sites = [i for i in range(1, tapped) if acts[i] == "i"]
        if not sites:
            return None
        i = rng.choice(sites)
        fabric[at] = [*acts[:i], "s", *acts[i + 1 : tapped]]
        return Case(made, "", at, fabric, there - 1, ("missed increase",), act=i, tapped=tapped, base=taken(acts[:i]))

    return kind


for _what in ("place", "miscount", "missed increase"):
    _kind(f"half-way: {_what}", "half-way")(_half_way(_what))


@dataclass
class Hands:
    """One maker's pace and habit of tapping."""

    rng: random.Random
    style: str = field(init=False)

    def __post_init__(self) -> None:
        self.style = self.rng.choices(("repeat", "stitch", "round"), (65, 15, 20))[0]
        self.seconds = self.rng.uniform(1.2, 4.5)
        self.spread = self.rng.uniform(0.12, 0.42)

    def time_of(self, act: str) -> float:
        units = {"s": 1.0, "i": 2.0, "d": 1.6, "t": 3.0, "-": 0.2, "+": 1.0, "h": 1.7}[act]
        pause = self.rng.weibullvariate(60, 0.7) if self.rng.random() < 0.01 else 0.0
        return self.seconds * units * self.rng.lognormvariate(0, self.spread) + pause


def case_of(kind: str, seed: int, patterns: tuple[Made, ...] = PATTERNS) -> Case | None:
    """One case of this kind; None if it does not come about in the patterns that were drawn."""
    rng = random.Random(f"{kind} {seed}")
    for _ in range(30):
        made = patterns[rng.randrange(len(patterns))]
        case = KINDS[kind](made, rng)
        if case and (case.tapped is not None or case.counted != made.counts()[case.at]):
            return replace(case, kind=kind)
    return None


def cases(each: int, first: int = 0, patterns: tuple[Made, ...] = PATTERNS) -> Iterator[tuple[int, Case]]:
    """So many of every kind, with the seed."""
    for kind in KINDS:
        for seed in range(first, first + each):
            case = case_of(kind, seed, patterns)
            if case is not None:
                yield seed, case
