"""The text of a PDF in the order in which it is read: columns one after the other, the cells of a row together.

The library gives lines of text with their places on the page; the order is told here. A page is cut at a gutter that
(nearly) no line crosses; lines that do cross it, such as a heading, part what is above them from what is below.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from itertools import pairwise
from statistics import median
from typing import Any

from tracker.lazy_dataclass import dataclass
from tracker.pattern.text_import.saved_page import MISSING, UnreadablePage
from tracker.pattern.text_import.table_rows import joined_cells

MAX_PAGES = 100
"""Pages that are read of a PDF; a pattern has about ten."""

# A book of patterns has some thousand.
MAX_LINES = 30_000


@dataclass(frozen=True, slots=True)
class PlacedLine:
    """One line of text and its box in points, from the lower left corner of the page."""

    text: str
    left: float
    bottom: float
    right: float
    top: float

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def middle(self) -> float:
        return (self.top + self.bottom) / 2


_NARROWEST_GUTTER = 10.0
"""Points between two columns; words stand about 3 apart."""

_FEWEST_LINES = 3
"""Lines on either side of a gutter; fewer are the cells of a table or a heading."""

_SHARE_OF_COLUMN = 0.28
"""How much of the width of the text a usual line of a column has at least; the cells of a table are narrower."""

_ROUND = re.compile(r"\b(?:rnd|round|row|r)s?\.?\s*\d|\d(?:st|nd|rd|th)\s+(?:rnd|round|row)", re.I)

_SHARE_BESIDE = 0.6
"""Of the lines of a column as many may stand on one height with a line of the next by chance."""

_APART = 1.75
"""How many heights of a line lie between lines of which the lower begins a paragraph."""


def pdf_text(file: Any) -> str:
    """The text of the pages in a file of bytes that is open.

    Raises `UnreadablePage` for a locked or broken file, and for one of pictures alone.
    """
    try:
        from pdfminer.high_level import extract_pages
        from pdfminer.layout import LAParams
        from pdfminer.pdfdocument import PDFPasswordIncorrect, PDFTextExtractionNotAllowed
    except ImportError:
        raise UnreadablePage(MISSING.format(what="a PDF")) from None
    try:
        layout = LAParams(boxes_flow=None, line_margin=0.1, char_margin=1.6)
        pages = [_lines_of(page) for page in extract_pages(file, maxpages=MAX_PAGES, laparams=layout)]
    except (PDFPasswordIncorrect, PDFTextExtractionNotAllowed):
        raise UnreadablePage("this PDF is locked: save it without its password first") from None
    except RecursionError:
        raise UnreadablePage("this PDF is folded too deep to be read: print it to a new PDF") from None
    except Exception as wrong:  # whatever the library meets in a broken file, the maker hears one sentence
        raise UnreadablePage(f"this PDF is broken and cannot be read ({type(wrong).__name__})") from wrong
    if not any(pages):
        raise UnreadablePage("this PDF holds pictures and no text: a picture of text cannot be read, type it instead")
    heads = _repeated(pages)
    texts: list[str] = []
    for number, page in enumerate(pages):
        kept = [line for line in page if number == 0 or _alike(line.text) not in heads]
        texts.append("\n".join(in_reading_order(kept)))
    return _mended("\n".join(texts)) + "\n"


def _lines_of(page: Iterable[Any]) -> list[PlacedLine]:
    lines: list[PlacedLine] = []
    stack = list(page)
    while stack and len(lines) < MAX_LINES:
        item = stack.pop()
        if hasattr(item, "get_text") and type(item).__name__ == "LTTextLineHorizontal":
            text = " ".join(item.get_text().split())
            if text:
                lines.append(PlacedLine(text, *item.bbox))
        elif type(item).__name__ in ("LTTextBoxHorizontal", "LTFigure"):
            stack.extend(item)
    return lines


def _repeated(pages: list[list[PlacedLine]]) -> frozenset[str]:
    """What stands at the head or foot of most pages, its numbers left out."""
    counts: Counter[str] = Counter()
    for page in pages:
        ordered = sorted(page, key=lambda line: line.top)
        counts.update({_alike(line.text) for line in (*ordered[:2], *ordered[-2:])})
    return frozenset(text for text, count in counts.items() if count > 2 and count * 2 > len(pages) and text != "#")


def _alike(text: str) -> str:
    return re.sub(r"\d+", "#", text)


def in_reading_order(lines: list[PlacedLine]) -> list[str]:
    """The lines of one page as they are read, with a blank line where a paragraph begins."""
    gutter = _gutter(lines)
    if gutter is None:
        return _rows(lines)
    ordered: list[str] = []
    for band in _bands(lines, gutter):
        if any(_crosses(line, gutter) for line in band):
            ordered += _rows(band)
        else:
            ordered += _rows([line for line in band if line.right <= gutter])
            ordered.append("")
            ordered += _rows([line for line in band if line.right > gutter])
        ordered.append("")
    return ordered


def _crosses(line: PlacedLine, gutter: float) -> bool:
    return line.left < gutter < line.right


def _gutter(lines: list[PlacedLine]) -> float | None:
    """The place between two columns; None if the page has one, or a table."""
    if len(lines) < 2 * _FEWEST_LINES:
        return None
    width = max(line.right for line in lines) - min(line.left for line in lines)
    starts = Counter(round(line.left) for line in lines)
    for place, count in starts.most_common(8):
        gutter = place - _NARROWEST_GUTTER / 2
        left = [line for line in lines if line.right <= gutter - _NARROWEST_GUTTER / 2]
        right = [line for line in lines if line.left >= gutter]
        crossing = len(lines) - len(left) - len(right)
        if count < _FEWEST_LINES or min(len(left), len(right)) < _FEWEST_LINES or crossing * 3 > len(lines):
            continue
        narrow = min(median(line.right - line.left for line in side) for side in (left, right))
        wide = narrow >= _SHARE_OF_COLUMN * width
        headed = _names_rounds(right) > max(_names_rounds(left), 1)  # in a table the headings stand at the left
        if wide or headed or not _are_beside(left, right):
            return gutter
    return None


def _names_rounds(side: list[PlacedLine]) -> int:
    return sum(len(_ROUND.findall(line.text)) for line in side)


def _are_beside(left: list[PlacedLine], right: list[PlacedLine]) -> bool:
    """Whether the lines of the shorter side stand on one height with lines of the other, as the cells of a table."""
    few, many = sorted((left, right), key=len)
    beside = sum(any(abs(line.middle - other.middle) < 0.3 * line.height for other in many) for line in few)
    return beside >= _SHARE_BESIDE * len(few)


def _bands(lines: list[PlacedLine], gutter: float) -> list[list[PlacedLine]]:
    """The lines from the top down, cut above and below every line that crosses the gutter."""
    bands: list[list[PlacedLine]] = [[]]
    for line in sorted(lines, key=lambda line: -line.middle):
        crosses = _crosses(line, gutter)
        if bands[-1] and crosses != _crosses(bands[-1][-1], gutter):
            bands.append([])
        bands[-1].append(line)
    return bands


def _rows(lines: list[PlacedLine]) -> list[str]:
    """The lines from the top down; what stands beside each other is one row."""
    rows: list[list[PlacedLine]] = []
    for line in sorted(lines, key=lambda line: -line.middle):
        if rows and abs(rows[-1][0].middle - line.middle) < 0.4 * min(rows[-1][0].height, line.height):
            rows[-1].append(line)
        else:
            rows.append([line])
    texts: list[str] = []
    for number, row in enumerate(rows):
        if number and rows[number - 1][0].middle - row[0].middle > _APART * max(row[0].height, 1.0):
            texts.append("")
        texts.append(_one_line(sorted(row, key=lambda line: line.left)))
    return texts


def _one_line(row: list[PlacedLine]) -> str:
    """The parts of a row: words that stand near each other, or the cells of a table."""
    cells = [row[0].text]
    for before, line in pairwise(row):
        if line.left - before.right < 0.6 * line.height:
            cells[-1] = f"{cells[-1]} {line.text}"
        else:
            cells.append(line.text)
    return joined_cells(cells)


def _mended(text: str) -> str:
    """Words parted at the end of a line are joined again; "ch-" over "3" is left as it is."""
    return re.sub(r"(?<=[a-z]{2})[-\u00ad]\n(?=[a-z]{2})", "", text)
