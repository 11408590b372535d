"""Seeded pieces of many shapes, written in many hands, with the totals that their own arithmetic gives.

python tests/bench/clean_pieces.py --count 3 --seed 1      prints three of them as pattern files
python tests/bench/clean_pieces.py --count 2000 --quiet    only checks their arithmetic
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from random import Random

from hands import as_file, hand_for
from piece_arithmetic import ACTS, Group, Oval, Part, Piece, Round, Run, Tally, faults, worked


def opened(chain: str, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """The parts behind a turning chain; a counted one is the first stitch, so one comes off what follows it."""
    first, rest = parts[0], parts[1:]
    if chain == "uncounted chain" or first == Run("plain", None):
        return (Run(chain), *parts)
    if isinstance(first, Run) and first.act == "ring":
        return (Run("ring chain"), replace(first, count=(first.count or 0) - 1), *rest)
    if isinstance(first, Run) and first.act == "inc" and first.count is None:
        return (Run(chain), Run("same"), first, *rest)
    assert isinstance(first, Group) and first.runs[0].act == "plain"
    lead, others = first.runs[0], first.runs[1:]
    fewer = (replace(lead, count=lead.count - 1),) if lead.count and lead.count > 1 else ()
    again = replace(first, times=first.times and first.times - 1)
    return (Run(chain), *fewer, *others, again, *rest)


@dataclass
class Maker:
    """Adds rounds one after the other and states the total that comes of each."""

    chance: Random
    chain: str = ""
    """The act that opens each round of tall stitches, if any."""
    rounds: list[Round] = field(default_factory=list)
    there: Tally = field(default_factory=Tally)

    def add(self, *parts: Part, times: int = 1, states: tuple[str, ...] = ("stitches",), back: bool = False) -> None:
        number = self.rounds[-1].last + 1 if self.rounds else 1
        line = opened(self.chain, parts) if self.chain else parts
        made = worked(line, self.there)
        assert made.whole, (line, self.there)
        self.rounds.append(Round(number, number + times - 1, line, made.tally, states, back_loops=back))
        self.there = made.tally

    def even(self, times: int, back: bool = False) -> None:
        self.add(Run("plain", None), times=times, back=back)

    def change(self, act: str, times: int) -> None:
        """`times` increases or decreases, evenly; now and then staggered by half a gap, or without brackets."""
        takes = ACTS[act][0]
        gap, rest = divmod(self.there.stitches, times)
        gap -= takes
        assert rest == 0 and gap >= 0, (act, times, self.there)
        unit = (Run("plain", gap), Run(act))
        style = self.chance.random()
        if gap == 0:
            self.add(Run(act, None if style < 0.6 or self.chain else times))
        elif gap > 1 and style < 0.25 and not self.chain:
            half = gap // 2
            self.add(Run("plain", half), Run(act), Group(unit, times - 1), Run("plain", gap - half))
        elif times <= 4 and style < 0.5 and not self.chain:
            self.add(*(unit * times))
        else:
            self.add(Group(unit, None if style > 0.8 else times))

    def disk(self, start: int, rounds: int) -> None:
        self.add(Run("ring", start))
        for _ in range(rounds - 1):
            self.change("inc", start)


def flat_disk(make: Maker) -> None:
    make.disk(make.chance.randint(5, 8), make.chance.randint(4, 9))


def ball(make: Maker) -> None:
    start, rounds = make.chance.randint(5, 7), make.chance.randint(3, 6)
    make.disk(start, rounds)
    make.even(make.chance.randint(2, 6))
    for _ in range(rounds - 1):
        make.change("dec", start)


def cone(make: Maker) -> None:
    start = make.chance.choice((4, 6))
    make.add(Run("ring", start))
    for _ in range(make.chance.randint(3, 7)):
        if make.chance.random() < 0.6:
            make.even(make.chance.randint(1, 2))
        make.change("inc", start // 2)


def cylinder(make: Maker) -> None:
    make.disk(make.chance.randint(5, 8), make.chance.randint(3, 6))
    make.even(1, back=True)
    make.even(make.chance.randint(4, 14))


def egg(make: Maker) -> None:
    make.disk(6, make.chance.randint(4, 6))
    make.even(make.chance.randint(2, 4))
    while make.there.stitches > 12:
        make.change("dec", make.chance.choice([n for n in (3, 6) if make.there.stitches % n == 0]))
        if make.chance.random() < 0.5:
            make.even(make.chance.randint(1, 2))


def limb(make: Maker) -> None:
    """A foot: increases in a row on one side, taken back later in the same place."""
    make.disk(make.chance.randint(5, 7), 2)
    lead, grown = make.chance.randint(2, 4), make.chance.randint(2, 4)
    make.add(Run("plain", lead), Run("inc", grown), Run("plain", make.there.stitches - lead - grown))
    make.even(make.chance.randint(1, 3))
    make.add(Run("plain", lead), Run("dec", grown), Run("plain", make.there.stitches - lead - 2 * grown))
    make.even(make.chance.randint(3, 12))


def hat(make: Maker) -> None:
    make.chain = make.chance.choice(("counted chain", "uncounted chain"))
    start = make.chance.randint(8, 12)
    make.disk(start, make.chance.randint(3, 6))
    make.even(make.chance.randint(4, 10))


def oval(make: Maker) -> None:
    chain = make.chance.randint(7, 16)
    side = chain - 3
    make.add(Oval(chain, chain - 2, 3, side, 2))
    make.add(Run("inc"), Run("plain", side), Run("inc", 3), Run("plain", side), Run("inc", 2))
    unit = (Run("plain"), Run("inc"))
    make.add(*unit, Run("plain", side), Group(unit, 3), Run("plain", side), Group(unit, 2))
    make.even(make.chance.randint(1, 6))


def rows(make: Maker) -> None:
    make.add(Run("foundation", make.chance.randint(12, 30)))
    for _ in range(make.chance.randint(2, 5)):
        make.even(make.chance.randint(1, 5))
        act = make.chance.choice(("inc", "dec"))
        make.add(Run(act), Run("plain", None, ACTS[act][0]), Run(act))
    make.even(make.chance.randint(1, 4))


def lace(make: Maker) -> None:
    make.disk(6, make.chance.randint(3, 6))
    mesh = Group((Run("plain"), Run("space"), Run("skip", 2)), None)
    for _ in range(make.chance.randint(1, 2)):
        make.add(mesh, states=("stitches", "spaces"))
        make.add(Run("fill", None))
    if make.chance.random() < 0.7:
        make.even(make.chance.randint(1, 2))
        states = ("shells",) if make.chance.random() < 0.5 else ("stitches",)
        make.add(Group((Run("plain"), Run("skip", 2), Run("shell"), Run("skip", 2)), None), states=states)


SHAPES: dict[str, tuple[Callable[[Maker], None], tuple[str, ...], tuple[str, ...]]] = {
    "disk": (flat_disk, ("sc", "hdc"), ("spiral", "joined")),
    "ball": (ball, ("sc",), ("spiral", "joined")),
    "cone": (cone, ("sc",), ("spiral",)),
    "cylinder": (cylinder, ("sc", "hdc"), ("spiral", "joined")),
    "egg": (egg, ("sc",), ("spiral",)),
    "limb": (limb, ("sc",), ("spiral",)),
    "hat": (hat, ("dc", "hdc"), ("joined",)),
    "oval": (oval, ("sc",), ("spiral", "joined")),
    "rows": (rows, ("sc",), ("rows",)),
    "lace": (lace, ("sc",), ("spiral", "joined")),
}


def striped(rounds: list[Round]) -> list[Round]:
    """Every line but the first in the other yarn."""
    return [replace(item, colour="AB"[place % 2]) for place, item in enumerate(rounds)]


def sparing(rounds: list[Round], chance: Random) -> list[Round]:
    """About half of the totals left out, as many patterns do; those of other things than stitches stay."""
    return [
        replace(item, states=()) if item.states == ("stitches",) and chance.random() < 0.5 else item
        for item in rounds
    ]


def pieces(seed: int) -> Iterator[Piece]:
    """Clean pieces without end, every shape in its turn."""
    chance = Random(seed)
    while True:
        for shape, (build, stitches, starts) in SHAPES.items():
            make = Maker(chance)
            build(make)
            rounds = striped(make.rounds) if chance.random() < 0.2 else make.rounds
            rounds = sparing(rounds, chance) if chance.random() < 0.2 else rounds
            terms = "UK" if chance.random() < 0.2 else "US"
            yield Piece(shape, chance.choice(stitches), chance.choice(starts), tuple(rounds), terms)


def main() -> None:
    parse = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parse.add_argument("--count", type=int, default=len(SHAPES))
    parse.add_argument("--seed", type=int, default=1)
    parse.add_argument("--quiet", action="store_true", help="check the arithmetic, print no pieces")
    asked = parse.parse_args()
    chance = Random(asked.seed)
    lines = 0
    for _, piece in zip(range(asked.count), pieces(asked.seed), strict=False):
        assert faults(piece) == [], piece
        lines += len(piece.rounds)
        text = as_file(piece, hand_for(piece, chance))
        if not asked.quiet:
            print(text)
    print(f"{asked.count} pieces, {lines} lines, every total as the arithmetic gives it")


if __name__ == "__main__":
    main()
