"""Invented pages whose counts arithmetic gives, each set and worded in a manner of its own, drawn by lot.

A page tells one to three balls: a ring, rounds that widen by as many stitches as the ring has, even rounds, rounds
that narrow again. How its numbers stand, how totals, stitches, repeats, rings and plain rounds are worded, what parts
the stitches, how wide the lines are and what stands between them is its `Manner`. That all of these are met is common
practice, no source. The options are templates, and are called by their text in what is told of them.

Left out is what honestly has two meanings: groups without a bracket are only drawn with a total ("2 sc, inc x 6"
alone may be two stitches and six increases), and two blanks are a slip of the thumb, no sign between stitches.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from textwrap import wrap
from typing import Any

CARDINALS = """One Two Three Four Five Six Seven Eight Nine Ten Eleven Twelve Thirteen Fourteen Fifteen Sixteen
 Seventeen Eighteen Nineteen Twenty""".split()
ORDINALS = """First Second Third Fourth Fifth Sixth Seventh Eighth Ninth Tenth Eleventh Twelfth Thirteenth Fourteenth
 Fifteenth Sixteenth Seventeenth Eighteenth Nineteenth Twentieth""".split()


class Number(int):
    """A number that templates may ask for as "nth", 3rd; "word", three; or "place", third."""

    def __format__(self, form: str) -> str:
        if form == "nth":
            ending = {1: "st", 2: "nd", 3: "rd"}.get(self % 10, "th")
            return f"{int(self)}{'th' if 10 <= self % 100 <= 20 else ending}"  # 11th to 13th
        if form in ("word", "place"):
            return (CARDINALS if form == "word" else ORDINALS)[self - 1].lower()
        return format(int(self), form)


HEADINGS = {
    "Rnd {a}: ": "Rnds {a}-{b}: ",
    "Round {a}: ": "Rounds {a}-{b}: ",
    "Round {a}. ": "Rounds {a} - {b}. ",
    "R{a}: ": "R{a}-{b}: ",
    "R{a}. ": "R{a}-R{b}. ",
    "R{a} - ": "R{a}-{b} - ",
    "R{a} ": "R{a}-{b} ",
    "R.{a} ": "R.{a}-{b} ",
    "R{a}) ": "R{a}-R{b}) ",
    "R{a:02}: ": "R{a:02}-{b:02}: ",
    "R{a}.. ": "R{a}-{b}.. ",
    "{a}: ": "{a}-{b}: ",
    "{a}. ": "{a}-{b}. ",
    "{a}) ": "{a}-{b}) ",
    "({a}) ": "({a}-{b}) ",
    "{a} - ": "{a}-{b} - ",
    "#{a} ": "#{a}-{b} ",
    "#{a}: ": "#{a}-#{b}: ",
    "Round #{a}: ": "Rounds #{a}-{b}: ",
    "{a:nth} round: ": "{a:nth}-{b:nth} rounds: ",
    "{a:nth} rnd - ": "{a:nth} to {b:nth} rnds - ",
    "{a:nth} Rnd. ": "{a:nth} to {b:nth} Rnds. ",
    "{a:nth} R: ": "{a:nth} - {b:nth} R: ",
    "{a:place} round: ": "{a:place} to {b:place} rounds: ",
    "{a:place} time round. ": "{a:place} to {b:place} time round. ",
    "Round {a:word}: ": "Rounds {a} to {b}: ",
    "Round {a}.- ": "Rounds {a} to {b}.- ",
    "R{a}.: ": "R{a}.-R{b}.: ",
    "ROUND {a}: ": "ROUNDS {a}-{b}: ",
    "RND {a} - ": "RNDS {a}-{b} - ",
    "RND. {a} ": "RNDS. {a}-{b} ",
    "Rnd{a} ": "Rnd{a}-{b} ",
    "Rd {a} = ": "Rd {a}-{b} = ",
    "Rd. {a}: ": "Rds. {a}-{b}: ",
    "Row {a}: ": "Rows {a}-{b}: ",
    "row {a} - ": "row {a}-{b} - ",
    "{a} row: ": "{a}-{b} row: ",
    "{a} rnd. ": "{a}-{b} rnds. ",
    "{a} round - ": "{a}-{b} round - ",
    "**Rnd {a}:** ": "**Rnds {a}-{b}:** ",
    "**Round {a}** ": "**Rounds {a}-{b}** ",
    "__R{a}__ - ": "__R{a}-{b}__ - ",
    "[Rnd {a}] ": "[Rnds {a}-{b}] ",
    "[{a}] ": "[{a}-{b}] ",
    "<{a}> ": "<{a}-{b}> ",
    "(Rnd {a}) ": "(Rnds {a}-{b}) ",
    "Round {a} -> ": "Rounds {a}-{b} -> ",
    "Round {a} → ": "Rounds {a}-{b} → ",
    "R{a} > ": "R{a}-R{b} > ",
    "R{a} | ": "R{a}-{b} | ",
    "Rnd {a}\t": "Rnds {a}-{b}\t",
    "{a}\t": "{a}-{b}\t",
    "Round {a}\n": "Rounds {a}-{b}\n",
    "Round {a}:\n": "Rounds {a}-{b}:\n",
    "Round {a} – ": "Rounds {a}–{b} – ",
    "Round {a}—": "Rounds {a}–{b}—",
    "Rnd {a}, ": "Rnds {a}-{b}, ",
    "Rnd {a}; ": "Rnds {a}-{b}; ",
    "Rnd {a}= ": "Rnd {a}-{b}= ",
    "Rnd {a} ": "Rnds {a} to {b} ",
    "• Rnd {a}: ": "• Rnds {a}-{b}: ",
    "- R{a}: ": "- R{a}-{b}: ",
    "* Rnd {a}: ": "* Rnds {a}-{b}: ",
    "☐ R{a}: ": "☐ R{a}-{b}: ",
    "▢ {a}. ": "▢ {a}-{b}. ",
    "[ ] Rnd {a}: ": "[ ] Rnds {a}-{b}: ",
    "V{a}: ": "V{a}-{b}: ",
    "Vuelta {a}: ": "Vueltas {a}-{b}: ",
    "Lap {a}: ": "Laps {a}-{b}: ",
    "Circle {a}: ": "Circles {a}-{b}: ",
    "Tour {a} : ": "Tours {a} à {b} : ",
    "Runde {a}: ": "Runde {a}-{b}: ",
    "Giro {a}: ": "Giri {a}-{b}: ",
    "Line {a}: ": "Lines {a}-{b}: ",
    "Round {a} ({n}): ": "Rounds {a}-{b} ({n}): ",
    "R{a} ({n} sts) ": "R{a}-{b} ({n} sts) ",
    "R{a} [{n}]: ": "R{a}-{b} [{n}]: ",
    "| {a} | ": "| {a}-{b} | ",
}
"""The heading of one round and of several alike; `n` is the total, where it stands there already."""

TOTALS = (
    " ({n})", " [{n}]", " {{{n}}}", " <{n}>", " ({n} sts)", " [{n} sts]", " <{n} sts>", " ({n} sc)",
    " ({n} stitches)", " ({n} st)", " ({n} sts.).", ". ({n})", " - ({n})", ", ({n})", "({n}sts)", " ({n}sc)",
    " ({n} s)", " ({n} loops)", " = {n}", " ={n} sts", "={n}", " (={n})", " (= {n} sts)", " - {n} sts", " – {n}",
    ". {n} sts.", ", {n} sts", ": {n} sts", " /{n}/", " // {n}", " | {n}", " → {n}", " -> {n} sts", " ...{n}",
    " ........ {n} sts", " ___ ({n})", " *{n}*", " _{n}_", " ~ {n} ~", " «{n}»", " **({n})**", " *({n} sts)*",
    " ✔ {n}", "\t{n}", "\t({n})", " (total {n})", " ({n} total)", " [total: {n} sts]", ". Total: {n}",
    " total {n} sts", " ({n} sc in total)", " for a total of {n} sts", ", making {n} sts", ". You have {n} sts.",
    ". Count {n}.", ", so that's {n} altogether", ", {n} again", " = {n} points", " ({n} maschen)", " [{n} w]",
    ". You will have {n} stitches.", " (you now have {n} sc)", " ({n} stitches around)", " ({n} sts on the round)",
    " (stitch count: {n})", " st count {n}", " Count: {n}", "\n({n})", "\n[{n} sts]", "\n{n} sts", "",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Words:
    """How a page writes one plain stitch, `k` of them, an increase and a decrease."""

    one: str
    several: str
    inc: str
    dec: str

    @property
    def is_coded(self) -> bool:
        """Whether letters stand for the stitches, which a page explains and keeps to."""
        return self.one.lower() in ("x", "1 x")

    @property
    def is_phrase(self) -> bool:
        """Whether a stitch is several words, which only a comma parts clearly from the next."""
        return " in " in self.one


STITCHES = (
    Words("sc", "{k} sc", "inc", "dec"),
    Words("sc", "{k}sc", "inc", "dec"),
    Words("1 sc", "{k} sc", "1 inc", "1 dec"),
    Words("1sc", "{k}sc", "1inc", "1dec"),
    Words("sc", "sc {k}", "inc", "dec"),
    Words("sc1", "sc{k}", "inc1", "dec1"),
    Words("single crochet", "{k} single crochet", "increase", "decrease"),
    Words("single crochet", "{k} single crochet", "increase", "invisible decrease"),
    Words("1 sc", "{k} sc", "1 sc inc", "1 sc dec"),
    Words("sc in next st", "sc in each of next {k} sts", "2 sc in next st", "sc2tog"),
    Words("1 sc in the next stitch", "1 sc in each of the next {k} stitches", "2 sc in the next stitch", "sc2tog"),
    Words("sc in next st", "sc in each of next {k} sts", "2 sc in next st", "sc next 2 sts together"),
    Words("sc", "{k} sc", "2 sc in next st", "sc 2 tog"),
    Words("sc", "{k} sc", "2 sc in same st", "sc2tog"),
    Words("SC", "{k} SC", "INC", "DEC"),
    Words("Sc", "{k} Sc", "Inc", "Dec"),
    Words("s.c.", "{k} s.c.", "inc.", "dec."),
    Words("sc", "{k} sc", "inc", "sc2tog"),
    Words("sc", "{k} sc", "inc", "invdec"),
    Words("1 sc", "{k} sc", "1 inc", "1 inv dec"),
    Words("1 sc", "{k} sc", "1 incr", "1 decr"),
    Words("1 sc", "{k} sc", "1 increase", "1 decrease"),
    Words("sc", "{k} sc", "sc-inc", "sc-dec"),
    Words("X", "{k}X", "V", "A"),
    Words("1 x", "{k} x", "1 v", "1 a"),
)

SEPARATORS = (", ", ", ", ", ", "; ", " + ", " - ", ",", " , ", " and ", ". ", " / ")

REPEATS = (
    "({b}) x {t}", "({b})x{t}", "({b}) x{t}", "({b}) {t}x", "({b})*{t}", "({b}) * {t}", "({b}) × {t}", "[{b}] x {t}",
    "{{{b}}} x{t}", "<{b}> x{t}", "/{b}/ x {t}", '"{b}" x{t}', "*{b}* x {t}", "**{b}** x{t}", "({b}) (x{t})",
    "({b}) {t} times", "[{b}] {t} times", "*{b}* {t} times", "({b}) {t:word} times", "({b}) ({t} times)",
    "({b}) repeat {t} times", "({b}), repeat {t} times", "({b}) rep {t}x", "*{b}*, repeat {t} times",
    "({b}) for {t} repeats", "repeat ({b}) {t} times", "Repeat *{b}* {t}x", "{t} x ({b})", "{t}x({b})", "{t}*({b})",
    "*{b}; rep from * around", "*{b}, repeat from * {more} more times", "*{b}* repeat from * to * around",
    "*{b}*, repeat {t} times from * to *", "*{b}*, {t} times in all from * to *", "*{b}; do from * {more} times more",
    "*{b}*, repeat from * to * until the end", "*{b}*, repeat another {more} times from * to *",
    "*{b}* around", "({b}) around", "({b}) all around", "({b}) to end", "({b}) until end of rnd",
    "[{b}] rep to end of round", "*{b}* repeat to the end of the round",
    "{b}, repeat around", "{b}, continue around", "{b}, repeat {t} times", "{b} around", "{b} x {t}", "{b} ({t}x)",
)  # fmt: skip

RINGS = (
    "{n} sc in magic ring", "{n} sc in a magic ring", "{n} single crochet in the magic ring", "sc {n} in magic ring",
    "{n} sc in MR", "{n}sc in MR", "{n} sc into MR", "{n} sc in magic circle", "{n} sc into magic loop",
    "{n} sc in adjustable ring", "MR, {n} sc", "MC {n} sc", "AMR {n} sc", "Magic ring, {n} sc",
    "Magic ring with {n} sc", "Start with a magic ring: {n} sc", "Into a magic ring: {n} sc",
    "In a magic ring, make {n} sc", "Make a magic ring and work {n} sc into it", "Make a magic ring, {n} sc in ring",
    "Magic ring. Ch 1, {n} sc in ring, join with sl st to first sc", "Form a ring, {n} sc into the ring",
    "Make a magic ring, {n} sc inside of the circle", "Magic ring. {n} sc within the ring",
    "Wrap the yarn for a magic ring, {n} sc inside it", "ch 2, {n} sc in 2nd ch from hook",
    "Ch 2. Work {n} sc in second ch from hook",
)  # fmt: skip

EVENS = (
    "{n} sc", "sc {n}", "{n} sc around", "sc around", "sc all around", "sc evenly around", "work even in sc",
    "sc in each st", "sc in each st around", "1 sc in each st", "1 sc in each stitch around", "sc in each sc around",
    "1 sc in each sc", "sc in ea st", "sc in ea sc around", "sc each st around", "sc in every st",
    "sc into every stitch", "single crochet in each stitch", "sc in all sts", "sc in all {n} sts",
    "sc in next {n} sts", "sc in each of the {n} sts", "1 sc in each of the {n} stitches around",
    "{n} sc (1 in each stitch)",
)  # fmt: skip

DOUBLINGS = (
    "inc x {n}", "{n} inc", "inc {n} times", "(inc) x {n}", "[inc] {n} times", "inc*{n}", "inc around",
    "inc all around", "inc in each st", "inc in each st around", "inc in every st", "inc in all {n} sts",
    "increase in every stitch around", "2 sc in each st", "2 sc in each st around", "2sc in each st around",
    "2 sc in every stitch", "2 sc in ea st", "2 sc into each sc", "2 sc in each of the {n} sts", "2 sc per st",
    "work 2 sc in each st around",
)  # fmt: skip

HALVINGS = (
    "dec x {n}", "{n} dec", "{n} x dec", "dec {n} times", "(dec) x {n}", "dec around", "dec all around",
    "sc2tog around", "sc2tog x {n}", "sc2tog {n} times",
)  # fmt: skip

STRAY_LINES = (
    "Share this", "Pin it", "Advertisement", "Page 2 of 5", "3", "Photo: the cap from the side", "Save",
    "Like this? Leave a comment below!", "© All rights reserved", "www.example.com", "Scroll down for more.",
    "Tip: use a stitch marker and move it up every round.", "Stuff as you go.", "[image]", "IMG_2041.jpg",
    "Your work should look like a little cup now.",
)  # fmt: skip

FRONTS = (
    (),
    ("Materials", "cotton yarn in cream", "3 mm hook", "stuffing, needle"),
    ("You will need:", "- 50 g of DK yarn", "- hook 2.5 mm", "- toy filling"),
    ("MATERIALS: worsted yarn (green), hook 4 mm, scissors, fibrefill",),
    ("Supplies", "• Yarn", "• 3.5mm crochet hook", "• stitch marker", "", "Abbreviations", "sc = single crochet",
     "inc = increase", "dec = decrease", "st(s) = stitch(es)"),
    ("Materials:", "Yarn: sport weight, grey", "Hook: E/3.5mm", "", "Abbreviations (US terms)", "MR - magic ring",
     "sc - single crochet", "inc - increase (2 sc in one st)", "dec - decrease",
     "(...) x - repeat as many times as it says"),
    ("Difficulty: easy", "Size: about 8 cm", "", "Notes", "Worked in a continuous spiral. Do not join.",
     "Use a marker."),
)  # fmt: skip
"""What stands above the pieces."""

CODE = ("Abbreviations", "X: single crochet", "V: increase", "A: decrease", "")
TITLES = ("Pip the Pebble", "Fennel the Mouse", "Little Drum", "Marsh Hedgehog", "Plum Bauble")
NAMES = {
    "Body": 1, "Head": 1, "Ear (make 2)": 2, "LEGS (x2)": 2, "Arms - make 2": 2, "Tail": 1, "Hat": 1, "Cup": 1,
    "Base": 1, "Foot (make 2)": 2,
}  # fmt: skip
ENDINGS = ("Finishing", "To make up", "Assembly")


@dataclass(frozen=True, slots=True)
class Manner:
    """How a page sets and words its rounds; every field but the last four is one of the tables above."""

    heading: str = "Rnd {a}: "
    total: str = " ({n})"
    stitches: Words = STITCHES[0]
    repeat: str = "({b}) x {t}"
    separator: str = ", "
    ring: str = RINGS[0]
    even: str = "sc in each st around"
    doubling: str = "inc x {n}"
    halving: str = "dec x {n}"
    width: int = 0
    """Characters at which lines break; 0 for no end."""
    letters: str = "as written"
    has_capitals: bool = False
    """Whether the instructions of a round begin with a capital letter."""
    has_gaps: bool = False
    """Whether a blank line stands behind each round."""
    has_strays: bool = False
    """Whether lines that have nothing to do with the rounds stand between them."""


OPTIONS: dict[str, tuple[Any, ...]] = {
    "heading": tuple(HEADINGS),
    "total": TOTALS,
    "stitches": STITCHES,
    "repeat": REPEATS,
    "separator": SEPARATORS,
    "ring": RINGS,
    "even": EVENS,
    "doubling": DOUBLINGS,
    "halving": HALVINGS,
    "width": (0, 0, 0, 60, 34),
    "letters": ("as written", "as written", "as written", "lower", "upper"),
    "has_capitals": (False, True),
    "has_gaps": (False, False, True),
    "has_strays": (False, False, True),
}


def draw_manner(chance: Random, **fixed: Any) -> Manner:
    """A manner by lot, but for what is `fixed`; what would honestly have two meanings is mended."""
    drawn = {name: fixed.get(name, chance.choice(options)) for name, options in OPTIONS.items()}
    manner = Manner(**drawn)
    if manner.stitches.is_phrase and "," not in manner.separator and ";" not in manner.separator:
        drawn["separator"] = ", "
    if not has_total(manner) and manner.repeat.startswith("{b}"):
        drawn["total"] = fixed.get("total", " ({n})")
    return Manner(**drawn)


def has_total(manner: Manner) -> bool:
    return bool(manner.total) or "{n}" in manner.heading or manner.heading.startswith("|")


@dataclass(frozen=True, slots=True)
class Round:
    """A round of a ball: what it is, how many like it follow each other, and what each of them leaves."""

    kind: str
    leaves: int
    alike: int = 1
    gap: int = 0
    """Plain stitches before each increase or decrease."""


@dataclass(frozen=True, slots=True)
class Page:
    """A page as text, and of each piece how often it is made and what its rounds leave, by arithmetic."""

    manner: Manner
    text: str
    pieces: tuple[tuple[int, tuple[int, ...]], ...]


def ball(chance: Random, start: int) -> tuple[Round, ...]:
    """A ball from a ring of so many stitches, open at the end."""
    widest = chance.choice((2, 3, 4))
    rounds = [Round("ring", start), Round("doubling", 2 * start)]
    rounds += [Round("inc", start * (step + 1), gap=step - 1) for step in range(2, widest + 1)]
    rounds.append(Round("even", rounds[-1].leaves, alike=chance.choice((1, 1, 2, 3, 5))))
    rounds += [Round("dec", start * step, gap=step - 1) for step in range(widest, 1, -1)]
    if chance.random() < 1 / 2:
        rounds.append(Round("halving", start))
    return tuple(rounds)


def instructions(manner: Manner, round: Round, start: int) -> str:
    """What is made in the round, as the page words it."""
    words, count = manner.stitches, round.leaves
    if round.kind in ("inc", "dec"):
        plain = words.one if round.gap == 1 else words.several.format(k=round.gap)
        group = manner.separator.join((plain, words.inc if round.kind == "inc" else words.dec))
        made = manner.repeat.format(b=group, t=Number(start), more=start - 1)
    elif words.is_coded:
        sc, inc, dec = (word.removeprefix("1 ") for word in (words.one, words.inc, words.dec))
        gap = words.several.removeprefix("{k}").removesuffix(sc)
        made = {
            "ring": f"{count}{gap}{sc} in MR",
            "doubling": f"{start}{gap}{inc}",
            "halving": f"{start}{gap}{dec}",
            "even": f"{count}{gap}{sc}",
        }[round.kind]
    else:
        times = count if round.kind in ("ring", "even") else start
        made = getattr(manner, round.kind).format(n=times)
    return made[:1].upper() + made[1:] if manner.has_capitals and not words.is_coded else made


def lines_of(manner: Manner, rounds: tuple[Round, ...]) -> list[str]:
    """The rounds with their numbers and totals, each a line or two."""
    lines, number = [], 1
    for round in rounds:
        last = number + round.alike - 1
        template = manner.heading if round.alike == 1 else HEADINGS[manner.heading]
        head = template.format(a=Number(number), b=Number(last), n=round.leaves)
        total = (" | {n} |" if head.startswith("|") else manner.total).format(n=round.leaves)
        if "{n}" in manner.heading:
            total = ""
        head = head[:1].upper() + head[1:] if ":place" in manner.heading else head
        lines.append(f"{head}{instructions(manner, round, rounds[0].leaves)}{total}")
        number = last + 1
    return lines


def draw_page(chance: Random, **fixed: Any) -> Page:
    """A page by lot, in a manner by lot but for what is `fixed`."""
    manner = draw_manner(chance, **fixed)
    names = chance.sample(list(NAMES), chance.choice((1, 2, 3)))
    is_unnamed = len(names) == 1 and chance.random() < 1 / 2
    page = [chance.choice(TITLES), "", *chance.choice(FRONTS), ""]
    page += CODE if manner.stitches.is_coded else ()
    pieces = []
    for name in names:
        if not is_unnamed:
            page += ["", name] + ([""] if manner.has_gaps else [])
        rounds = ball(chance, chance.choice((5, 6, 6, 7, 8)))
        pieces.append((1 if is_unnamed else NAMES[name], tuple(r.leaves for r in rounds for _ in range(r.alike))))
        for line in lines_of(manner, rounds):
            for part in line.split("\n"):
                is_cut = manner.width and "\t" not in part and "|" not in part
                page += wrap(part, manner.width) if is_cut else [part]
            page += [""] if manner.has_gaps else []
            if manner.has_strays and chance.random() < 1 / 8:
                page += [chance.choice(STRAY_LINES)] + [""] * chance.choice((0, 1))
    page += ["", chance.choice(ENDINGS), "Sew the opening and weave in the ends."]
    text = "\n".join(page)
    text = {"lower": text.lower(), "upper": text.upper()}.get(manner.letters, text)
    return Page(manner, text, tuple(pieces))
