"""How the page looks: black on white, one column, for A4 and Letter; nothing is told by colour alone."""

from __future__ import annotations

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
