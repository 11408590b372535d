"""The whole sheet: as text and Markdown `rounds read` takes it for the same pattern; Markdown and the page show every
text from outside as text.

Markdown is checked against a reference implementation of CommonMark (markdown-it-py), the page against the HTML
parser of the standard library.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from html.parser import HTMLParser

import pytest
from markdown_it import MarkdownIt
from support.document_patterns import SHIPPED, all_counts, generated, shipped

from tracker.document.builder import Wish, compose
from tracker.document.html import as_page
from tracker.document.markdown import as_markdown
from tracker.document.model import Document
from tracker.document.text import as_text
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Pattern
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml
from tracker.reports.sheet import pictures_of

Writer = Callable[[Document], str]


def sheet_of(pattern: Pattern, terms: str = "", *, pictures: bool = False, spoken: bool = False) -> Document:
    terms = terms or pattern.terms
    return compose(pattern, Wish(terms, spoken, None, pictures_of(pattern, terms, False) if pictures else {}))


def reread(text: str) -> Pattern:
    """What `rounds read` makes of a text: it is told nothing but the text."""
    return loads(as_toml(from_text(text).draft))


def test_picots_are_counted_as_picots_and_not_as_spaces() -> None:
    rounds = "Rnd 1: 12 sc in ring\nRnd 2: *2 sc, picot; rep from * around\nRnd 3: (sc, picot, sc, ch 3) x 6"
    sheet = as_text(sheet_of(loads(f'[[piece]]\nname = "Edge"\nrounds = """\n{rounds}\n"""\n')))
    assert "(12 sc, 6 picots)" in sheet
    assert "(12 sc, 6 ch-3 sps, 6 picots)" in sheet


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("write", [as_text, as_markdown])
@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_sheet_is_read_as_the_same_pattern(path, write: Writer, terms: str) -> None:
    """Pieces, copies, rounds, counts and yarns; pictures, notes and what to watch disturb none of them."""
    pattern = load(path)
    again = reread(write(sheet_of(pattern, terms, pictures=True)))
    assert (again.title, again.terms, again.hook) == (pattern.title, terms, pattern.hook)
    assert [(piece.name, piece.make) for piece in again.pieces] == [(p.name, p.make) for p in pattern.pieces]
    assert all_counts(again) == all_counts(pattern)
    assert [(yarn.key, yarn.name) for yarn in again.yarns] == [(yarn.key, yarn.name) for yarn in pattern.yarns]
    assert again.gauge is not None and pattern.gauge is not None
    assert (again.gauge.stitches, again.gauge.rounds) == (pattern.gauge.stitches, pattern.gauge.rounds)


@pytest.mark.parametrize("write", [as_text, as_markdown])
def test_sheets_of_generated_pieces_are_read_as_the_same_pieces(write: Writer) -> None:
    for pattern in generated(20, 8):
        assert all_counts(reread(write(sheet_of(pattern)))) == all_counts(pattern), pattern.source


HOSTILE = (
    "<script>alert(1)</script>",
    "</title><img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "[bold]x[/bold] [@click=app.quit]y[/]",
    "[x](javascript:alert(1)) ![y](http://example.org/z.png)",
    "**bold** _under_ `code` ~~gone~~ | cell | # head",
    "&lt; &#60; &copy; <!-- not shown -->",
    "1. one - two + three\n# four\n> five\n```\nsix",
    "<http://example.org> http://example.org",
)


def hostile_pattern(words: str) -> Pattern:
    """A pattern that says this wherever it can say anything."""
    said = words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    head = f'title = "{said}"\nhook = "{said}"\nnotions = ["{said}"]\nnotes = ["{said}"]\nfor = "baby {said}"\n'
    yarn = f'[yarn.R]\nname = "{said}"\ncolour = "#ff0000"\n'
    piece = (
        f'[[piece]]\nname = "{said}"\nnotes = ["{said}"]\nrounds = """\nRnd 1 (R): 6 sc in magic ring\n'
        f'Rnd 2: inc x 6\nRnd 3: {said}\nRnd 4: sc around\n"""\n'
    )
    return loads(f'{head}{yarn}{piece}[[making-up]]\nstep = "{said}"\n')


class _Page(HTMLParser):
    """Which elements and attributes a page really has, and its text."""

    VOID = ("meta", "br", "path", "ellipse", "rect", "circle", "line")

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[tuple[str, str]] = set()
        self.open: list[str] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {(name, value or "") for name, value in attrs}
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {(name, value or "") for name, value in attrs}

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open.pop() == tag, tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


OURS = set(
    "html head meta title style body h1 h2 h3 p ul ol li b span div section table thead tbody tr th td br "
    "svg desc g path ellipse circle text rect lineargradient stop".split()
)


def is_harmless(page: _Page) -> bool:
    loads_something = {name for name, _ in page.attributes} & {"src", "href", "srcset", "action", "data", "poster"}
    runs_something = {name for name, _ in page.attributes if name.startswith("on")}
    return page.tags <= OURS and not loads_something and not runs_something and not page.open


@pytest.mark.parametrize("words", HOSTILE)
def test_a_page_shows_hostile_words_as_words(words: str) -> None:
    pattern = hostile_pattern(words)
    text = as_page(compose(pattern, Wish("US", False, None, pictures_of(pattern, "US", True))))
    page = _Page(text)
    assert is_harmless(page), page.tags - OURS
    shown = " ".join(" ".join(page.words).split())
    assert shown.count(" ".join(words.split())) >= 5


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_page_is_whole_loads_nothing_and_runs_nothing(path) -> None:
    pattern = load(path)
    text = as_page(compose(pattern, Wish(pattern.terms, False, None, pictures_of(pattern, pattern.terms, True))))
    assert is_harmless(_Page(text))
    assert not re.search(r"@import|url\((?!#light-)|<\?xml", text)
    assert set(re.findall(r"https?://[^\s\"'<]+", text)) <= {"http://www.w3.org/2000/svg"}


def test_the_page_refuses_to_load_or_run_anything_even_if_it_were_asked_to() -> None:
    text = as_page(sheet_of(shipped("toadstool")))
    assert "default-src 'none'; style-src 'unsafe-inline'" in text.split("<title>")[0]


@pytest.mark.parametrize("words", HOSTILE)
def test_markdown_shows_hostile_words_as_words(words: str) -> None:
    html = MarkdownIt("commonmark").render(as_markdown(sheet_of(hostile_pattern(words))))
    page = _Page(html)
    assert page.tags <= {"h1", "h2", "h3", "p", "ul", "ol", "li", "strong", "em", "br", "pre", "code"}
    said = " ".join(words.split())
    assert " ".join(page.words).count(said[:1].upper() + said[1:]) + " ".join(page.words).count(said) >= 5


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_markdown_shows_each_round_as_it_is_written(path) -> None:
    sheet = sheet_of(load(path))
    shown = " ".join(_Page(MarkdownIt("commonmark").render(as_markdown(sheet))).words).replace("\u2217", "*")
    for piece in sheet.pieces:
        for line in piece.lines:
            assert line.words in shown and line.total in shown, line.text


def test_text_and_markdown_have_a_line_for_each_round_and_nothing_that_steers_a_terminal() -> None:
    pattern = hostile_pattern("a\\u001b[31mb\\u202ec\\u0007d")
    for write in (as_text, as_markdown, as_page):
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f\u202a-\u202e]", write(sheet_of(pattern)))


def test_cautions_stand_at_the_materials_and_at_the_step_that_they_concern() -> None:
    sheet = sheet_of(shipped("face-cloth"))
    assert any("a cord, tie or loop can catch" in words for words in sheet.cautions)
    assert sheet.cautions[-1] == "local rules decide, in their present wording"
    assert sheet.cautions[0].startswith("who is it for?")
    loop = next(step for step in sheet.steps if "hanging loop" in step.text)
    assert loop.cautions[-1].endswith("; local rules decide, in their present wording")
    assert [step.cautions for step in sheet.steps if "damp" in step.text] == [()]
    assert any("stop and stretch" in words for words in sheet.while_working)
    for write in (as_text, as_markdown, as_page):
        assert write(sheet).count("ocal rules decide") >= 3


def test_a_spoken_sheet_says_its_rounds_and_needs_no_abbreviations_for_them() -> None:
    sheet = sheet_of(shipped("soap-dish"), spoken=True)
    assert sheet.pieces[1].lines[1].text == "Round two: an increase in every stitch around; you have twelve."
    assert dict(sheet.abbreviations).keys() <= {"sc", "ch", "rnd"}


def test_a_sheet_in_other_terms_says_what_the_pattern_is_written_in() -> None:
    assert sheet_of(shipped("face-cloth"), "US").preface[0] == ("US terms; the pattern itself is written in UK terms")


def test_a_pattern_with_nothing_but_rounds_has_a_sheet() -> None:
    pattern = loads('title = "Bare"\n[[piece]]\nname = "Bare"\nrounds = "Rnd 1: 6 sc in magic ring"\n')
    assert as_text(sheet_of(pattern)).startswith("Bare\nUS terms.\n\nWhile you work\n")
    assert "Materials" not in as_text(sheet_of(pattern))


CLOSED = """
title = "Fin"
[[piece]]
name = "Fin"
make = 2
notes = ["Worked from the tip."]
rounds = '''
Rnd 1: 5 sc in MR (5)
Rnd 2: inc x 5 (10)
Leave it empty. Fold flat and 4 sc across both edges to close.
FO, with a tail for sewing.
'''
"""


@pytest.mark.parametrize("write", [as_text, as_markdown, as_page])
def test_a_note_behind_the_last_round_is_written_behind_it(write: Writer) -> None:
    pattern = loads(CLOSED)
    sheet = write(sheet_of(pattern))
    marks = ("Worked from the tip", "inc", "Fold flat", "with a tail")
    assert sorted(marks, key=sheet.rindex) == list(marks)
    assert [sheet.count(mark) for mark in marks if mark != "inc"] == [1, 1, 1]
    if write is not as_page:
        again = reread(sheet)
        assert all_counts(again) == all_counts(pattern) and again.pieces[0].closing == 2


def boxes(text: str, start: str = "spiral", make: int = 1) -> str:
    """The page of a piece of these rounds."""
    source = f'title = "A"\n[[piece]]\nname = "A"\nmake = {make}\nstart = "{start}"\nrounds = """\n{text}\n"""\n'
    return as_page(sheet_of(loads(source)))


@pytest.mark.parametrize("make", [1, 2, 4])
@pytest.mark.parametrize(
    ("text", "rounds"),
    [
        ("Rnd 1: 6 sc in magic ring (6)", 1),
        ("Rnd 1: 6 sc in magic ring (6)\nRnd 2: 2 sc in each st (12)\nRnds 3-9: sc in each st (12)", 9),
    ],
)
def test_there_is_one_box_to_tick_a_round_in_ranges_and_copies_too(text: str, rounds: int, make: int) -> None:
    """Common practice on paper, no source: what is done is ticked off."""
    assert boxes(text, make=make).count('class="tick"') == rounds * make


def test_the_boxes_of_a_range_have_their_numbers() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nRnds 2-5: sc in each st (6)"
    cells = re.findall(r'<span class="tick"></span> (\d+)', boxes(text))
    assert cells == ["2", "3", "4", "5"]


def test_what_has_no_box_is_told() -> None:
    text = "Rnd 1: 6 sc in magic ring (6)\nRnds 2-301: sc in each st (6)"
    page = boxes(text, make=3)
    assert page.count('class="tick"') == 3 + 300
    assert "600 more have no box here" in page
