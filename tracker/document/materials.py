"""The top of the sheet in words: yarns, gauge, and what to mind before beginning."""

from __future__ import annotations

from tracker.document.model import YarnOnSheet
from tracker.measure.safety import LOCAL_RULES, Caution, Cautions
from tracker.measure.stitch_sizes import BY_NUMBER
from tracker.notation.glossary import abbreviation, stitch_words
from tracker.pattern.model import Gauge, Pattern, Start, Yarn


def yarns_on_sheet(pattern: Pattern) -> tuple[YarnOnSheet, ...]:
    """The yarns in the order of the pattern; those that only the rounds name come after them."""
    declared_keys = [yarn.key for yarn in pattern.yarns]
    named_keys = {round_.colour: None for piece in pattern.pieces for round_ in piece.rounds if round_.colour}
    undeclared_keys = [key for key in named_keys if key not in declared_keys]
    colours = {key: pattern.yarn_colour(key) for key in (*declared_keys, *undeclared_keys)}
    declared = [YarnOnSheet(y.key, y.name, _facts(y), colours[y.key]) for y in pattern.yarns]
    return (*declared, *(YarnOnSheet(key, key, "", colours[key]) for key in undeclared_keys))


def _facts(yarn: Yarn) -> str:
    """ "weight 3, light; a ball has 50 g and 120 m"."""
    parts = []
    if yarn.weight is not None:
        weight = BY_NUMBER.get(yarn.weight)
        parts.append(f"weight {yarn.weight}" + (f", {weight.name}" if weight else ""))
    ball = [f"{yarn.ball_grams:g} g"] if yarn.ball_grams else []
    ball += [f"{yarn.ball_metres:g} m"] if yarn.ball_metres else []
    if ball:
        parts.append(f"a ball has {' and '.join(ball)}")
    return "; ".join(parts)


def gauge_word(terms: str) -> str:
    """Gauge is called tension in the UK (Craft Yarn Council, table of terms)."""
    return "Tension" if terms == "UK" else "Gauge"


def gauge_words(gauge: Gauge | None, source: str, target: str) -> str:
    """ "22 sc and 24 rnds over 10 cm"; "" without one."""
    if gauge is None:
        return ""
    kind = stitch_words(source).get(gauge.stitch.lower(), "")
    stitch = abbreviation(kind, target) if kind else gauge.stitch
    return f"{gauge.stitches:g} {stitch} and {gauge.rounds:g} rnds over {gauge.over_cm:g} cm"


def how_worked(start: Start) -> str:
    return {
        Start.SPIRAL: "worked in a spiral, without joining",
        Start.JOINED: "worked in joined rounds",
        Start.ROWS: "worked in rows",
    }[start]


def caution_words(cautions: tuple[Caution, ...]) -> tuple[str, ...]:
    """Cautions in words, each with the standard behind it."""
    return tuple(f"{caution.text} [{caution.source}]" for caution in cautions)


def cautions_at_materials(cautions: Cautions) -> tuple[str, ...]:
    """What to mind before beginning, that local rules decide, and the question who it is for."""
    if not cautions.materials:
        return (cautions.ask,) if cautions.ask else ()
    ask = (cautions.ask,) if cautions.ask else ()
    return (*ask, *caution_words(cautions.materials), LOCAL_RULES)


def cautions_at_step(cautions: Cautions, index: int) -> tuple[str, ...]:
    """What to mind at a making-up step; the standards stand at the materials."""
    texts = [caution.text for caution in cautions.at_step(index)]
    return (*texts[:-1], f"{texts[-1]}; {LOCAL_RULES}") if texts else ()
