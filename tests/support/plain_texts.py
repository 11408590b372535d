"""Plain lines and nearly plain ones, at random."""

from __future__ import annotations

from hypothesis import strategies as st

NUMBERS = st.sampled_from(["1", "2", "3", "4", "5", "6", "7", "12", "13", "20", "100", "999999"])
STITCHES = st.sampled_from(["sc", "hdc", "dc", "tr", "dtr", "htr"])
HEADINGS = ["", "Rnd 4: ", "R4: ", "Round 10: ", "row 3: ", "Rnds 5-8: ", "Rnd 5-8: ", "Rnds 8-5: ", "Next rnd: "]
HEADINGS += ["4) ", "Rnd 4 (30): ", "Rnd 5+: ", "Rnds 4, 6: ", "Even rnds: ", "Cap, rnd 4: ", "Rnd 4 - ", "Inc rnd: "]
PLACES = ["around", "in each st", "in each st around", "in each stitch around", "in next st", "in next stitch"]


@st.composite
def items(draw: st.DrawFn) -> str:
    """One item: plain, or as it is written by those who mean something besides."""
    number, other = draw(NUMBERS), draw(NUMBERS)
    word = draw(st.one_of(STITCHES, st.sampled_from(["inc", "dec"])))
    place = draw(
        st.sampled_from([*PLACES, f"in next {other} sts", f"in next {other} stitches", "in ring", "together"])
    )
    return draw(
        st.sampled_from(
            [
                *(f"{number} {word}", f"{number} {word}", word, word, f"{word} {number}", f"{word} x {number}"),
                *(f"{word} x{number}", f"{word} {place}", f"{number} {word} {place}", f"{word}{number}"),
                *(f"{word} {number} {place}", f"{number} {word} x {other}", f"{number}{word}", f"{word} {word}"),
                *(f"{number} sts", "ch 1", "sl st", f"{number}", "sk 1", "turn", "BLO", f"{number} {word} evenly"),
            ]
        )
    )


@st.composite
def groups(draw: st.DrawFn) -> str:
    opens, closes = draw(st.sampled_from([("(", ")"), ("(", ")"), ("[", "]"), ("*", "*"), ("(", "]"), ("(", "")]))
    inside = draw(
        st.lists(st.one_of(items(), items(), items().map(lambda one: f"({one}) x 2")), min_size=1, max_size=3)
    )
    number = draw(NUMBERS)
    often = [f" x {number}", f" x{number}", f" {number} times", f" *{number}", f" {number}", "", " around", " twice"]
    return f"{opens}{', '.join(inside)}{closes}{draw(st.sampled_from(often))}"


@st.composite
def lines(draw: st.DrawFn) -> str:
    """Plain lines and nearly plain ones: a small part of them has something that the grammar alone reads."""
    parts = draw(st.lists(st.one_of(items(), items(), groups()), min_size=1, max_size=5))
    number = draw(NUMBERS)
    totals = ["", f" ({number})", f" [{number}]", f" ({number} sts)", f", ({number})", f" = {number}", f" ({number}]"]
    signs = draw(st.lists(st.sampled_from([", ", ", ", ", ", "; ", " ", ",", ". "]), min_size=5, max_size=5))
    text = "".join(part + sign for part, sign in zip(parts, signs, strict=False))
    for sign in (", ", "; ", " ", ",", ". "):
        text = text.removesuffix(sign)
    line = draw(st.sampled_from(HEADINGS)) + text + draw(st.sampled_from(totals))
    return draw(st.sampled_from([line, line, line.upper(), f"{line}.", f"{line} ", line.replace(", ", ",  ")]))


PLAIN_PARTS = st.one_of(
    st.builds("{} {}".format, NUMBERS, st.sampled_from(["sc", "dc", "tr", "inc", "dec"])),
    st.builds("{} {}".format, st.sampled_from(["sc", "dc", "tr", "inc"]), NUMBERS),
    st.builds("{} {}".format, st.sampled_from(["sc", "dc", "tr", "inc"]), st.sampled_from(PLACES[1:])),
    st.builds("{} dc {}".format, NUMBERS, st.sampled_from(PLACES[1:])),
    st.builds("dc in next {} sts".format, NUMBERS),
    st.sampled_from(["inc", "dec", "sc", "dc", "tr"]),
)


@st.composite
def plain_lines(draw: st.DrawFn) -> str:
    """Lines of nothing but what may stand in a plain one; still not each of them is."""
    parts = draw(st.lists(PLAIN_PARTS, min_size=1, max_size=5))
    group = f"({', '.join(draw(st.lists(PLAIN_PARTS, min_size=1, max_size=3)))}) x {draw(NUMBERS)}"
    parts.insert(draw(st.integers(0, len(parts))), draw(st.sampled_from([group, "inc x 6", "sc x 5", "inc"])))
    total = draw(st.sampled_from(["", f" ({draw(NUMBERS)})", f" [{draw(NUMBERS)} sts]"]))
    return f"{draw(st.sampled_from(HEADINGS[:6]))}{', '.join(parts)}{total}"
