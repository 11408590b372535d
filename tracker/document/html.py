"""The sheet as one HTML page for print: self-contained, without scripts, everything from outside escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from html import escape

from tracker.document.model import (
    Document,
    DocumentLine,
    Drawing,
    PieceOnSheet,
    StepOnSheet,
    YarnOnSheet,
)
from tracker.document.text import piece_heading, sentence
from tracker.pattern.colour_names import plain_colour

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
"""What a browser may load for the page: nothing. The style stands in the page itself."""

_TICK = '<span class="tick"></span>'
MOST_TICKS = 400
"""Boxes of one line of the sheet; more than a page of them helps nobody."""


def as_page(sheet: Document) -> str:
    """The whole page."""
    title = escaped(sheet.title)
    return "\n".join(
        [
            "<!DOCTYPE html>",
            '<html lang="en">',
            "<head>",
            '<meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{title}</title>",
            f"<style>{STYLE}</style>",
            "</head>",
            "<body>",
            f"<h1>{title}</h1>",
            f'<p class="first">{" ".join(_escaped_sentence(words) for words in sheet.preface)}</p>',
            _top(sheet),
            _care(sheet),
            _list("Notes", map(escaped, sheet.notes)),
            _list("How it went", map(_escaped_sentence, sheet.made)),
            *(_piece(piece) for piece in sheet.pieces),
            _making_up(sheet.steps),
            "</body>",
            "</html>\n",
        ]
    )


def escaped(text: str) -> str:
    """Text from outside, as text."""
    return escape(" ".join(text.split()), quote=True)


def _escaped_sentence(words: str) -> str:
    return escaped(sentence(words))


def _top(sheet: Document) -> str:
    hook = [f"<li>hook: {escaped(sheet.hook)}</li>"] if sheet.hook else []
    items = [*hook, *map(_yarn, sheet.yarns), *(f"<li>{escaped(notion)}</li>" for notion in sheet.notions)]
    materials = f"<section><h2>Materials</h2><ul>{''.join(items)}</ul></section>" if items else ""
    gauge = f"<h2>{sheet.gauge_word}</h2><p>{escaped(sheet.gauge)}</p>" if sheet.gauge else ""
    rows = "".join(f"<tr><td>{escaped(a)}</td><td>{escaped(b)}</td></tr>" for a, b in sheet.abbreviations)
    short = f'<h2>Abbreviations</h2><table class="short">{rows}</table>' if rows else ""
    return f'<div class="beside">{materials}<section>{gauge}{short}</section></div>'


def _yarn(yarn: YarnOnSheet) -> str:
    facts = f" ({escaped(yarn.facts)})" if yarn.facts else ""
    return f"<li>{_swatch(yarn.colour)}<b>{escaped(yarn.key)}</b>: {escaped(yarn.name)}{facts}</li>"


def _swatch(colour: str) -> str:
    plain = plain_colour(colour)
    return f'<span class="swatch" style="background:{plain}"></span>' if plain else ""


def _care(sheet: Document) -> str:
    care = _list("Take care", map(_escaped_sentence, sheet.cautions))
    hands = _list("While you work", map(_escaped_sentence, sheet.while_working))
    return f'<div class="care">{care}{hands}</div>' if care or hands else ""


def _list(heading: str, items: Iterable[str]) -> str:
    inside = "".join(f"<li>{item}</li>" for item in items)
    return f"<h2>{heading}</h2><ul>{inside}</ul>" if inside else ""


def _piece(piece: PieceOnSheet) -> str:
    name, _, copies = piece_heading(piece).rpartition(" (make ") if piece.make > 1 else (piece_heading(piece), "", "")
    more = f' <span class="copies">(make {escaped(copies)}</span>' if copies else ""
    facts = "".join(f"<p>{_escaped_sentence(words)}</p>" for words in (*piece.facts, *piece.made))
    return "\n".join(
        [
            f"<h3>{escaped(name)}{more}</h3>",
            facts + _notes(piece.notes),
            _picture(piece.pictures.outline, "outline"),
            _rounds(piece),
            _notes(piece.closing),
            "".join(f"<p>{_escaped_sentence(words)}</p>" for words in piece.pictures.left_out),
            _picture(piece.pictures.chart, "chart"),
        ]
    )


def _notes(notes: tuple[str, ...]) -> str:
    return f"<ul>{''.join(f'<li>{_escaped_sentence(note)}</li>' for note in notes)}</ul>" if notes else ""


def _picture(drawing: Drawing | None, sort: str) -> str:
    """A picture as it may stand inside a page: without the first line of an XML file."""
    if drawing is None:
        return ""
    inside = re.sub(r"^<\?xml.*?\?>\s*", "", drawing.svg())
    return f'<div class="picture {sort}">{inside}</div>'


def _rounds(piece: PieceOnSheet) -> str:
    if not piece.lines:
        return ""
    has_totals = any(line.total for line in piece.lines)
    spoken, leaves = ("", "leaves") if has_totals else (" spoken", "")
    head = f'<tr><th></th><th></th><th>work</th><th class="left">{leaves}</th></tr>'
    rows = "".join(_row(line, piece.make) for line in piece.lines)
    return f'<table class="rounds{spoken}"><thead>{head}</thead><tbody>{rows}</tbody></table>'


def _row(line: DocumentLine, copies: int) -> str:
    before = "".join(f'<tr><td colspan="4">{_escaped_sentence(words)}</td></tr>' for words in line.before)
    label = line.heading.removesuffix(":").partition(" (")[0]
    total = line.total.removeprefix("(").removesuffix(")")
    is_one = copies == 1 and len(line.numbers) <= 1
    box, boxes = (_TICK, "") if is_one else ("", _ticks(line.numbers, copies))
    return (
        f'{before}<tr><td class="box">{box}</td><th scope="row">{escaped(label)}</th>'
        f"<td>{_with_yarn(line)}{escaped(line.words)}{boxes}{_watch(line)}</td>"
        f'<td class="left">{escaped(total).replace(", ", ",<br>")}</td></tr>'
    )


def _ticks(numbers: Sequence[int], copies: int) -> str:
    """A box for each round of a line, those of each copy on a line of their own; in a range with their numbers."""
    drawn = min(copies, max(1, MOST_TICKS // max(1, len(numbers))))
    lines = []
    for copy in range(1, drawn + 1):
        copy_number = f"<b>{copy}</b> " if copies > 1 else ""
        boxes = (f"{_TICK}{f' {number}' if len(numbers) > 1 else ''}" for number in numbers[:MOST_TICKS])
        lines.append(f'<div class="ticks">{copy_number}{" ".join(f"<span>{box}</span>" for box in boxes)}</div>')
    rounds_without_box = len(numbers) * copies - min(len(numbers), MOST_TICKS) * drawn
    if rounds_without_box:
        lines.append(f'<div class="ticks">{rounds_without_box:,} more have no box here</div>')
    return "".join(lines)


def _with_yarn(line: DocumentLine) -> str:
    if not line.yarn or " (" not in line.heading:
        return _swatch(line.colour)
    key = line.heading.removesuffix("):").partition(" (")[2]
    name = "" if key == line.yarn else f" {escaped(line.yarn)}"
    return f'<span class="yarn">{_swatch(line.colour)}<b>{escaped(key)}</b>{name}</span>'


def _watch(line: DocumentLine) -> str:
    watch = "".join(f"<li>{_escaped_sentence(words)}</li>" for words in line.watch)
    made = "".join(f"<li>{_escaped_sentence(words)}</li>" for words in line.made)
    return (f'<ul class="watch">{watch}</ul>' if watch else "") + (f'<ul class="made">{made}</ul>' if made else "")


def _making_up(steps: Iterable[StepOnSheet]) -> str:
    items = "".join(map(_step, steps))
    return f"<h2>Making up</h2><ol>{items}</ol>" if items else ""


def _step(step: StepOnSheet) -> str:
    done = {None: "", True: " (done)", False: " (not done)"}[step.done]
    cautions = "".join(f"<li>{_escaped_sentence(words)}</li>" for words in step.cautions)
    care = f"<ul>{cautions}</ul>" if cautions else ""
    return f'<li class="step">{_escaped_sentence(step.text)}{done}{care}</li>'


# How the page looks: black on white, one column, for A4 and Letter; nothing is told by colour alone.

STYLE = """
@page { margin: 16mm 15mm 18mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 46rem; padding: 1rem; background: #fff; color: #111;
  font: 11pt/1.4 Georgia, "Times New Roman", "DejaVu Serif", serif; overflow-wrap: anywhere; }
h1 { font-size: 20pt; line-height: 1.15; margin: 0 0 .2em; }
h2 { font-size: 13pt; margin: 1.2em 0 .3em; border-bottom: .6pt solid #111; break-after: avoid; }
h3 { font-size: 13pt; margin: 1.4em 0 .2em; break-after: avoid; }
h3 .copies { font-weight: normal; }
p { margin: .2em 0; }
ul, ol { margin: .2em 0; padding-left: 1.3em; }
li { margin: .1em 0; }
.first { color: #333; }
.beside { display: flex; flex-wrap: wrap; column-gap: 2.5em; }
.beside > section { flex: 1 1 15rem; }
.care { border: .8pt solid #111; padding: .1em .9em .5em; margin: 1em 0; break-inside: avoid; }
.care h2 { border: 0; margin: .4em 0 .1em; }
.swatch { display: inline-block; width: .85em; height: .85em; border: .6pt solid #111; vertical-align: -.08em;
  margin-right: .35em; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
table { border-collapse: collapse; width: 100%; }
.short td { padding: 0 1em .05em 0; vertical-align: top; }
.short td:first-child { font-weight: bold; white-space: nowrap; width: 1%; }
.rounds { margin: .5em 0; }
.rounds th, .rounds td { text-align: left; vertical-align: top; padding: .28em .5em .28em 0;
  border-bottom: .4pt solid #999; font-weight: normal; }
.rounds thead th { font-size: 9pt; border-bottom: .8pt solid #111; }
.rounds tr { break-inside: avoid; }
.rounds tbody th { font-weight: bold; white-space: nowrap; width: 1%; padding-right: .9em; }
.spoken tbody th { white-space: normal; width: 9em; }
.rounds .left { text-align: right; font-weight: bold; white-space: nowrap; width: 1%; padding-right: 0; }
.rounds .box { width: 1.6em; padding-right: .2em; }
.tick { display: inline-block; width: .8em; height: .8em; border: .6pt solid #111; }
.ticks { font-size: 9pt; }
.ticks span { margin-right: .5em; white-space: nowrap; }
.ticks .tick { margin-right: 0; }
.yarn { font-size: 9.5pt; margin-right: .7em; white-space: nowrap; }
.watch { margin: .15em 0 0; padding-left: 1.1em; font-size: 9.5pt; line-height: 1.3; font-style: italic; }
.made { margin: .15em 0 0; padding-left: 1.1em; font-size: 9.5pt; list-style: square; }
.picture { margin: .8em 0; break-inside: avoid; }
.picture svg { display: block; max-width: 100%; height: auto; max-height: 225mm; }
.outline svg { width: auto; max-height: 92mm; }
.step { margin: .35em 0; break-inside: avoid; }
.step ul { font-size: 9.5pt; font-style: italic; }
@media print { body { max-width: none; padding: 0; font-size: 10.5pt; } }
"""
