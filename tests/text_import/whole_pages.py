"""Ten invented pages as blocks, and the same pages as text, as a saved web page and as a PDF."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

from fpdf import FPDF

Rows = list[list[str]]


@dataclass(frozen=True)
class Block:
    """A heading, a paragraph, a list or a table."""

    tag: str
    lines: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


def head(text: str) -> Block:
    return Block("h2", (text,))


def para(*lines: str) -> Block:
    return Block("p", lines)


def items(*lines: str) -> Block:
    return Block("ul", lines)


def table(*rows: tuple[str, ...]) -> Block:
    return Block("table", rows=rows)


@dataclass(frozen=True)
class Page:
    """A page, and of each piece its name, how often it is made, and what its rounds leave, worked out by hand."""

    title: str
    blocks: tuple[Block, ...]
    pieces: tuple[tuple[str, int, tuple[int, ...]], ...]


def ball(*numbers: int) -> tuple[str, ...]:
    """The first rounds of a ball of 6, 12, 18 ... stitches up to the number of rounds that is given."""
    lines = ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc around (12)"]
    lines += [f"Rnd {n}: ({n - 2} sc, inc) x 6 ({6 * n})" for n in range(3, numbers[0] + 1)]
    return tuple(lines)


SUPPLIES = (head("Materials"), items("cotton yarn, 50 g", "3 mm hook", "yarn needle"))

PAGES: dict[str, Page] = {
    "rounds in paragraphs of their own": Page(
        "Pebble paperweight",
        (*SUPPLIES, head("Body"), *(para(line) for line in ball(4)), para("Fasten off.")),
        (("Body", 1, (6, 12, 18, 24)),),
    ),
    "rounds as lines of one paragraph": Page(
        "Moss ball",
        (*SUPPLIES, head("Ball (make 2)"), para(*ball(5), "Rnd 6: sc around (30)")),
        (("Ball", 2, (6, 12, 18, 24, 30, 30)),),
    ),
    "rounds in a table": Page(
        "Plum",
        (
            *SUPPLIES,
            head("Fruit"),
            table(
                ("Rnd 1", "6 sc in magic ring", "6"),
                ("Rnd 2", "inc around", "12"),
                ("Rnd 3", "(1 sc, inc) x 6", "18"),
                ("Rnds 4-5", "sc around", "18"),
                ("Rnd 6", "(1 sc, dec) x 6", "12"),
            ),
        ),
        (("Fruit", 1, (6, 12, 18, 18, 18, 12)),),
    ),
    "rounds as items": Page(
        "Cherry",
        (*SUPPLIES, head("Cherry (make 3)"), items(*ball(3), "Rnd 4: (1 sc, dec) x 6 (12)")),
        (("Cherry", 3, (6, 12, 18, 12)),),
    ),
    "several pieces": Page(
        "Little mole",
        (
            *SUPPLIES,
            head("Head"),
            para(*ball(3)),
            head("Paws (make 4)"),
            para("Rnd 1: 5 sc in magic ring (5)", "Rnd 2: sc around (5)"),
            head("Making up"),
            para("Sew the paws to the head."),
        ),
        (("Head", 1, (6, 12, 18)), ("Paws", 4, (5, 5))),
    ),
    "rounds inside one paragraph": Page(
        "Running coaster",
        (
            *SUPPLIES,
            head("Coaster"),
            para(
                "Round 1: 8 sc in magic ring. (8) Round 2: 2 sc in each st around. (16) "
                "Round 3: (sc in next st, inc) x 8. (24)"
            ),
        ),
        (("Coaster", 1, (8, 16, 24)),),
    ),
    "long rounds that break": Page(
        "Band",
        (
            *SUPPLIES,
            head("Band"),
            para(
                "Rnd 1: work ten single crochet stitches into a magic ring and pull the ring closed (10)",
                "Rnd 2: 2 sc in next st, 1 sc in each of the next 4 sts, 2 sc in next st, 1 sc in each of the next "
                "4 sts (12)",
                "Rnd 3: 1 sc in each st around (12)",
            ),
        ),
        (("Band", 1, (10, 12, 12)),),
    ),
    "rows of a cloth": Page(
        "Plain cloth",
        (
            *SUPPLIES,
            head("Cloth"),
            para("Ch 21.", "Row 1: sc in 2nd ch from hook and in each ch across, turn (20)"),
            para("Row 2: ch 1, sc in each st across, turn (20)"),
        ),
        (("Cloth", 1, (21, 20, 20)),),
    ),
    "a word of the page": Page(
        "Bobbly pot",
        (
            *SUPPLIES,
            head("Abbreviations"),
            items("sc = single crochet", "inc = 2 sc in one st", "sl st = slip stitch"),
            head("Pot"),
            para(*ball(3), "Rnds 4-6: sc around (18)"),
        ),
        (("Pot", 1, (6, 12, 18, 18, 18, 18)),),
    ),
    "sentences between rounds": Page(
        "Snow cat",
        (
            para("My cat watched me make this one, and it is as white as she is."),
            *SUPPLIES,
            head("Cat"),
            para(*ball(3)),
            para("Place the eyes between Rnds 2 and 3."),
            para("Rnd 4: (1 sc, dec) x 6 (12)", "Rnd 5: dec x 6 (6)"),
        ),
        (("Cat", 1, (6, 12, 18, 12, 6)),),
    ),
}


def as_text(page: Page) -> str:
    """The page as it is pasted: a blank line between blocks."""
    parts = [page.title]
    for block in page.blocks:
        if block.tag == "table":
            parts.append("\n".join(f"| {' | '.join(row)} |" for row in block.rows))
        else:
            parts.append("\n".join(f"- {line}" if block.tag == "ul" else line for line in block.lines))
    return "\n\n".join(parts) + "\n"


def as_web_page(page: Page) -> str:
    """The page as a browser saves it: the article among menus, scripts, links and comments, some tags left open."""
    body = "".join(_block_in_html(block) for block in page.blocks)
    return f"""<!DOCTYPE html>
<html lang="en"><head><title>{escape(page.title)} - a site</title><style>p {{ color: red }}</style>
<script>document.write("Rnd 1: 99 sc");</script></head>
<body class="single">
<header class="site-header"><a href="/">A site</a></header>
<nav><ul><li><a href="/hats">Hats</a><li><a href="/toys">Toys</a></ul></nav>
<div class="content-area"><article class="post"><h1>{escape(page.title)}</h1>
<div class="share-buttons"><a href="#">Pin it</a></div>
{body}
</article>
<div id="comments"><h3>2 comments</h3><ol class="commentlist"><li>Rnd 4 did not work for me, 7 sc in it?
<li><p>Lovely!</p></ol><form><textarea>Leave a reply</textarea></form></div></div>
<aside class="sidebar"><h3>Related</h3><p>Round 1: 12 dc in ring</aside>
<footer>Round the clock <p>page 1</footer></body></html>"""


def _block_in_html(block: Block) -> str:
    if block.tag == "ul":
        return "<ul>" + "".join(f"<li>{escape(line)}" for line in block.lines) + "</ul>\n"
    if block.tag == "table":
        rows = ("".join(f"<td>{escape(cell)}</td>" for cell in row) for row in block.rows)
        return "<table>" + "".join(f"<tr>{row}</tr>\n" for row in rows) + "</table>\n"
    inside = "<br>\n".join(escape(line) for line in block.lines)
    return f"<{block.tag}>{inside}</{block.tag}>\n"


def as_pdf(page: Page, *, columns: int = 1) -> bytes:
    """The page set in one column or in two, with a heading across and a number at the foot."""
    pdf = FPDF(format="A4")
    pdf.set_auto_page_break(True, margin=18)
    pdf.add_page()
    pdf.set_font("Helvetica", size=18)
    pdf.cell(0, 12, page.title, new_x="LMARGIN", new_y="NEXT")
    pdf.set_font("Helvetica", size=10)
    if columns == 1:
        for block in page.blocks:
            _set(pdf, block, pdf.epw)
        return bytes(pdf.output())
    top, width = pdf.get_y(), (pdf.epw - 12) / 2
    left = pdf.l_margin
    half = len(SUPPLIES) if page.blocks[0].tag == "h2" else len(SUPPLIES) + 1
    for number, blocks in enumerate((page.blocks[:half], page.blocks[half:])):
        pdf.set_left_margin(left + number * (width + 12))
        pdf.set_xy(left + number * (width + 12), top)
        for block in blocks:
            _set(pdf, block, width)
    return bytes(pdf.output())


def _set(pdf: FPDF, block: Block, width: float) -> None:
    if block.tag == "table":
        for row in block.rows:
            for cell, share in zip(row, (0.25, 0.6, 0.15), strict=True):
                pdf.cell(width * share, 6, cell, border=1)
            pdf.ln()
    for line in block.lines:
        pdf.multi_cell(width, 5, f"- {line}" if block.tag == "ul" else line, align="L", new_x="LMARGIN", new_y="NEXT")
    pdf.ln(4)
