"""The hands that pieces in numbers are written in: each a set of habits met in written patterns.

A hand says the same round as every other hand; only words, order, brackets and marks differ.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from piece_arithmetic import Group, Oval, Part, Piece, Round, Run

UK = {"sc": "dc", "hdc": "htr", "dc": "tr"}
"""UK names of the stitches used here (source: the two-column table of US and UK terms)."""
HEIGHT = {"hdc": 2, "dc": 3}
"""Chains of a turning chain as tall as the stitch (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Hand:
    """Templates: {st} is the stitch, {n} a count, {k} a count less one, {g} the words of a group."""

    name: str
    single: str = "{word} {a}:"
    several: str = "{word}s {a}-{b}:"
    word: str = "Rnd"
    one: str = "1 {st}"
    some: str = "{n} {st}"
    inc: str = "inc"
    incs: str = "inc x {n}"
    dec: str = "dec"
    decs: str = "dec x {n}"
    each: str = "{st} in each st"
    each_inc: str = "inc in each st {round}"
    each_dec: str = "dec {round}"
    group: str = "({g}) x {n}"
    around: str = "({g}) {round}"
    alone: str = ""
    """How a group is written that is the whole of its round; "" means as any other."""
    ring: str = "{n} {st} in magic ring"
    skip: str = "sk {n}"
    join: str = "sl st to first {st}"
    total: str = " ({n})"


HANDS = (
    Hand("toy sheet"),
    Hand(
        "long blog",
        word="Round",
        one="{st} in next st",
        some="{st} in next {n} sts",
        inc="2 {st} in next st",
        incs="2 {st} in each of next {n} sts",
        dec="{st}2tog",
        decs="{st}2tog {n} times",
        each_inc="2 {st} in each st {round}",
        each_dec="{st}2tog {round}",
        group="*{g}; rep from * {k} more {times}",
        around="*{g}; rep from * {round}",
        ring="work {n} {st} into a magic ring",
        total=" ({n} sts)",
    ),
    Hand(
        "short notes",
        single="R{a}:",
        several="R{a}-R{b}:",
        one="{st}",
        some="{n}{st}",
        incs="{n} inc",
        decs="{n} dec",
        each="{st} each st",
        each_inc="inc {round}",
        group="({g})*{n}",
        around="*{g}* {round}",
        ring="MR, {n} {st}",
        join="join",
        total=" = {n}",
    ),
    Hand(
        "count behind",
        several="{word}s {a} to {b}:",
        one="{st} 1",
        some="{st} {n}",
        inc="{st} inc",
        incs="{st} inc {n}",
        dec="{st} dec",
        decs="{st} dec {n}",
        each="{st}",
        each_inc="{st} inc {round}",
        each_dec="{st} dec {round}",
        group="[{g}] {n} times",
        around="[{g}] {round}",
        ring="ch 2, {n} {st} in 2nd ch from hook",
        join="join",
        total=" [{n}]",
    ),
    Hand(
        "booklet",
        single="{word} {a} -",
        several="{word}s {a}–{b} ({count} rounds):",
        word="Round",
        one="1 {st} in next st",
        some="1 {st} in each of next {n} sts",
        inc="2 {st} in next st",
        incs="2 {st} in each of next {n} sts",
        dec="dec",
        decs="dec {n} times",
        each="1 {st} in each st",
        each_inc="2 {st} in each st {round}",
        group="*{g}* repeat {n} times",
        around="*{g}; repeat from * {round}",
        ring="make a magic ring and work {n} {st} in it",
        skip="skip {n} sts",
        total=". {n} sts",
    ),
    Hand(
        "bare numbers",
        single="{a})",
        several="{a})-{b})",
        inc="1 inc",
        incs="{n} inc",
        dec="1 dec",
        decs="{n} dec",
        alone="{g}, repeat {n} times",
        group="{{{g}}} x{n}",
        each_inc="2 {st} in every st",
        ring="{n} {st} in mr",
        total=" - {n} sts",
    ),
    Hand(
        "no brackets",
        single="{word} {a}.",
        several="{word}s {a} through {b}:",
        word="Rnd",
        one="{st}",
        dec="inv dec",
        decs="inv dec x {n}",
        each_dec="inv dec {round}",
        group="*{g}, rep from * {k} more {times}",
        around="*{g}, rep from * {round}",
        ring="ch 4, sl st to form a ring, ch 1, {n} {st} in ring",
        total=" <{n}>",
    ),
)


def hand_for(piece: Piece, chance: Random) -> Hand:
    """One of the hands; in UK terms none that writes `2dc` in one word, which could be an increase."""
    return chance.choice([hand for hand in HANDS if piece.terms == "US" or "{n}{st}" not in hand.some])


def name_of(stitch: str, piece: Piece) -> str:
    return UK[stitch] if piece.terms == "UK" else stitch


@dataclass(frozen=True, slots=True)
class Writer:
    """One piece in one hand."""

    piece: Piece
    hand: Hand

    def line(self, item: Round) -> str:
        """The round as a person reads it: heading, instruction, join or turn, total."""
        return f"{self.heading(item)} {self.body(item)}{self.total(item)}"

    def heading(self, item: Round) -> str:
        word = "Row" if self.piece.start == "rows" else self.hand.word
        form = self.hand.single if item.first == item.last else self.hand.several
        if word == "Row":
            form = form.replace("rounds)", "rows)")
        text = form.format(word=word, a=item.first, b=item.last, count=item.last - item.first + 1)
        if item.colour and text.endswith(":"):
            return f"{text[:-1]} ({item.colour}):"
        return f"{text} with {item.colour}," if item.colour else text

    def body(self, item: Round) -> str:
        alone = len(item.parts) == 1 and self.piece.start == "spiral"  # else the chain would be repeated with it
        words = [self.part(part, alone) for part in item.parts]
        if item.back_loops:
            words[0] = f"BLO {words[0]}"
        return ", ".join((*self.before(item), *words, *self.behind(item)))

    def before(self, item: Round) -> tuple[str, ...]:
        """A turning chain of one, which never counts, where the round has no taller one."""
        parts = item.parts
        tall = isinstance(parts[0], Run) and parts[0].act.endswith("chain")
        opens = item.first == 1
        return () if self.piece.start == "spiral" or tall or opens else ("ch 1" if not self.uk else "1 ch",)

    def behind(self, item: Round) -> tuple[str, ...]:
        if self.piece.start == "rows":
            return ("turn",)
        if self.piece.start == "spiral":
            return ()
        first = item.parts[0]
        if isinstance(first, Run) and first.act in ("counted chain", "ring chain"):
            return ("ss to top of first ch" if self.uk else f"sl st to top of ch-{HEIGHT[self.piece.stitch]}",)
        join = self.hand.join.format(st=self.stitch)
        return (join.replace("sl st", "ss") if self.uk else join,)

    @property
    def uk(self) -> bool:
        return self.piece.terms == "UK"

    @property
    def stitch(self) -> str:
        return name_of(self.piece.stitch, self.piece)

    def part(self, part: Part, alone: bool = False) -> str:
        if isinstance(part, Oval):
            return self.oval(part)
        if isinstance(part, Run):
            return self.run(part)
        words = ", ".join(self.run(run) for run in part.runs)
        if part.times is None:
            return self.say(self.hand.around, g=words)
        if part.times == 1:
            return words
        form = self.hand.alone if alone and self.hand.alone else self.hand.group
        again = "time" if part.times == 2 else "times"
        return self.say(form, g=words, n=part.times, k=part.times - 1, times=again)

    def once_more(self, part: Part) -> Group | None:
        """The group made once more, if "repeat 3 times" is how it is written: that can be 3 or 4 in all."""
        if (
            not isinstance(part, Group)
            or part.times is None
            or f"repeat {part.times} times" not in self.part(part, True)
        ):
            return None
        return replace(part, times=part.times + 1)

    def run(self, run: Run) -> str:
        if run.act in ("plain", "inc", "dec"):
            return self.common(run)
        chain = HEIGHT.get(self.piece.stitch, 1)
        tall = f"{chain} ch" if self.uk else f"ch {chain}"
        counted = f"{tall} (counts as {self.stitch})"
        forms = {
            "skip": self.hand.skip.replace("skip", "miss").replace("sk", "miss") if self.uk else self.hand.skip,
            "space": "3 ch" if self.uk else "ch 3",
            "shell": f"5 {name_of('dc', self.piece)} in next st",
            "fill": "3 {st} in each ch-3 sp around",
            "same": "{st} in same st",
            "counted chain": counted,
            "uncounted chain": f"{tall} (does not count)",
            "ring chain": counted,
            "ring": "{n} {st} in magic ring" if self.piece.stitch in HEIGHT else self.hand.ring,
            "foundation": f"ch {(run.count or 0) + 1}, {{st}} in 2nd ch from hook and in each ch across",
        }
        return self.say(forms[run.act], n=run.count)

    def common(self, run: Run) -> str:
        hand = self.hand
        if run.count is None and run.keep:
            return self.say("{st} to last st" if run.keep == 1 else "{st} to last {n} sts", n=run.keep)
        if run.count is None:
            open_forms = {"plain": hand.each + " {round}", "inc": hand.each_inc, "dec": hand.each_dec}
            return self.say(open_forms[run.act])
        forms = {"plain": (hand.one, hand.some), "inc": (hand.inc, hand.incs), "dec": (hand.dec, hand.decs)}
        return self.say(forms[run.act][run.count != 1], n=run.count)

    def oval(self, oval: Oval) -> str:
        st, side = self.stitch, oval.side
        last = f", {oval.last} {st} in last ch" if oval.last else ""
        chain = f"{oval.chain} ch" if self.uk else f"ch {oval.chain}"
        return (
            f"{chain}, starting in 2nd ch from hook, {st} in next {side} ch, {oval.end} {st} in last ch; "
            f"along the other side, {st} in next {oval.back} ch{last}"
        )

    def say(self, form: str, **words: object) -> str:
        around = "across" if self.piece.start == "rows" else "around"
        return form.format(st=self.stitch, round=around, **words)

    def total(self, item: Round) -> str:
        if not item.states:
            return ""
        if item.states == ("stitches",):
            return self.hand.total.format(n=item.total.stitches)
        if item.states == ("shells",):
            return f" ({item.total.shells} shells)"
        return f" ({item.total.stitches} {self.stitch}, {item.total.spaces} ch-3 sps)"


def as_file(piece: Piece, hand: Hand) -> str:
    """The piece as a pattern file."""
    writer = Writer(piece, hand)
    yarns = "".join(f'[yarn.{key}]\nname = "yarn {key}"\n\n' for key in "AB")
    lines = "\n".join(writer.line(item) for item in piece.rounds)
    return (
        f'title = "{piece.shape}, {hand.name}"\nterms = "{piece.terms}"\nhook = "4 mm"\n\n'
        f'{yarns}[[piece]]\nname = "{piece.shape}"\nmake = 1\nstart = "{piece.start}"\nrounds = """\n{lines}\n"""\n'
    )
