"""The measures of a pattern as plain values for other programs. A range is [low, high]; null is an open end."""

from __future__ import annotations

from typing import Any

from tracker.measure.ranges import Range
from tracker.measure.resize import PatternFit
from tracker.measure.size import Growth, PieceSize
from tracker.measure.yarn import YarnNeed
from tracker.reports.measures import Measured


def as_json(measured: Measured) -> dict[str, Any]:
    """Everything that `rounds measure` tells."""
    size = measured.size
    return {
        "title": measured.pattern.title,
        "unit": size.unit.value,
        "measured": size.stitch.is_measured,
        "source": size.stitch.source,
        "pieces": [_piece(piece) for piece in size.pieces],
        "yarn_source": measured.rate.source if measured.rate else None,
        "yarn": [_yarn(need) for need in measured.needs],
        "balls": [
            {"yarn": name, "lasts": lasting.verdict.value, "left": _range(lasting.left), "need": _range(lasting.need)}
            for name, lasting in measured.lasting
        ],
        "time": {"seconds": _range(measured.time.seconds, 0), "without": list(measured.time.without)},
        "fit": _fit(measured.fit) if measured.fit else None,
    }


def _range(value: Range | None, digits: int = 2) -> list[float | None] | None:
    if value is None:
        return None
    return [round(value.low, digits), None if value.is_open else round(value.high, digits)]


def _piece(piece: PieceSize) -> dict[str, Any]:
    return {
        "name": piece.name,
        "make": piece.make,
        "shape": piece.shape.value,
        "across": _range(piece.across),
        "along": _range(piece.along),
        "tall": _range(piece.tall),
        "stuffed": _range(piece.stuffed),
        "surface": _range(piece.fabric) if piece.rounds else None,
        "rounds": [
            {
                "round": round_.number,
                "label": round_.label,
                "stitches": round_.stitches,
                "around": _range(round_.around),
                "across": _range(round_.across),
                "height": _range(round_.level),
                "growth": round_.growth.stitches if round_.growth else None,
                "flat_growth": round(round_.growth.flat, 2) if round_.growth else None,
                "half_angle": _angle(round_.growth),
                "lies": round_.growth.lie.value if round_.growth else None,
            }
            for round_ in piece.rounds
        ],
        "corners": piece.corners or None,
        "edge": _range(piece.edge) if piece.outline else None,
        "remarks": list(piece.remarks),
    }


def _angle(growth: Growth | None) -> float | None:
    angle = growth.half_angle if growth else None
    return None if angle is None else round(angle, 1)


def _yarn(need: YarnNeed) -> dict[str, Any]:
    return {
        "key": need.key,
        "name": need.name,
        "kinds": dict(need.work.kinds),
        "share": round(need.share, 4),
        "grams": _range(need.grams),
        "metres": _range(need.metres),
        "buy_grams": None if need.buy_grams is None else round(need.buy_grams, 1),
        "balls": need.balls,
        "tails": need.tails,
    }


def _fit(fit: PatternFit) -> dict[str, Any]:
    return {
        "factor": round(fit.factor, 4),
        "refused": fit.refused or None,
        "source": fit.stitch.source if fit.stitch else None,
        "pieces": [
            {
                "name": piece.name,
                "make": piece.make,
                "rounds": list(piece.lines),
                "counts": list(piece.counts),
                "wanted": {
                    "across": round(piece.wanted_dimensions[0], 2),
                    "tall": round(piece.wanted_dimensions[1], 2),
                },
                "found": {"across": round(piece.dimensions[0], 2), "tall": round(piece.dimensions[1], 2)},
                "off": round(piece.off, 4),
                "kept": piece.is_kept,
                "remarks": list(piece.remarks),
                "refused": piece.refused or None,
            }
            for piece in fit.pieces
        ],
    }
