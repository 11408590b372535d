"""Saved pages: what a web page and a PDF hold is read like the same text, and what holds none is refused with words.

The PDF pages are written by a general library (fpdf2) and read by another (pdfminer.six).
"""

from __future__ import annotations

import sys

import pytest
from fpdf import FPDF
from hypothesis import given, settings
from hypothesis import strategies as st
from text_import.whole_pages import PAGES, Page, as_pdf, as_text, as_web_page

from tracker.cli.page_source import MAX_PAGE, page_text
from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.saved_page import UnreadablePage
from tracker.pattern.toml_writer import as_toml

Pieces = tuple[tuple[str, int, tuple[int | None, ...]], ...]


def pieces_in(text: str) -> Pieces:
    pattern = loads(as_toml(from_text(text, "US").draft))
    return tuple((piece.name, piece.make, tuple(r.leaves for r in piece.rounds)) for piece in pattern.pieces)


every_page = pytest.mark.parametrize("page", [pytest.param(page, id=name) for name, page in PAGES.items()])


@every_page
def test_the_text_of_a_page_is_read(page: Page) -> None:
    assert pieces_in(as_text(page)) == page.pieces


@every_page
def test_a_web_page_is_read_like_its_text(page: Page) -> None:
    saved = page_text(as_web_page(page).encode())
    assert saved.kind == "HTML"
    assert pieces_in(saved.text) == page.pieces
    assert not any(word in saved.text for word in ("Toys", "99 sc", "Related", "Lovely", "Pin it", "clock"))


@every_page
@pytest.mark.parametrize("columns", [1, 2])
def test_a_pdf_is_read_like_its_text(page: Page, columns: int) -> None:
    saved = page_text(as_pdf(page, columns=columns))
    assert saved.kind == "PDF"
    assert pieces_in(saved.text) == page.pieces


@every_page
def test_materials_come_out_of_every_kind_of_page(page: Page) -> None:
    kinds = (as_text(page).encode(), as_web_page(page).encode(), as_pdf(page))
    assert {from_text(page_text(data).text, "US").draft.hook for data in kinds} == {"3 mm"}


def picture_pdf() -> bytes:
    pdf = FPDF()
    pdf.add_page()
    pdf.rect(20, 20, 100, 100)
    return bytes(pdf.output())


def locked_pdf() -> bytes:
    pdf = FPDF()
    pdf.set_encryption(owner_password="owner", user_password="user")
    pdf.add_page()
    pdf.set_font("Helvetica", size=12)
    pdf.cell(text="Rnd 1: 6 sc in magic ring (6)")
    return bytes(pdf.output())


REFUSED = {
    "a photograph": (b"\xff\xd8\xff\xe0" + bytes(100), "this is a picture (JPEG)"),
    "a drawing": (b"\x89PNG\r\n\x1a\n" + bytes(100), "this is a picture (PNG)"),
    "a packed document": (b"PK\x03\x04" + bytes(100), "save it as PDF, HTML or plain text"),
    "a word processor's file": (b"{\\rtf1 hello}", "save it as PDF, HTML or plain text"),
    "bytes": (b"Rnd 1: 6 sc\x00\x01\x02", "this is no text"),
    "a pdf of pictures": (picture_pdf(), "this PDF holds pictures and no text"),
    "a locked pdf": (locked_pdf(), "this PDF is locked"),
    "half a pdf": (b"%PDF-1.7\n1 0 obj <<", "this PDF"),
    "a web page of pictures": (b"<html><body><img src='x.png'></body></html>", "the page holds no text"),
    "more than a page": (b" " * (MAX_PAGE + 1), "the page has more than"),
}


@pytest.mark.parametrize(("data", "why"), [pytest.param(*case, id=name) for name, case in REFUSED.items()])
def test_what_holds_no_text_is_refused_with_words(data: bytes, why: str) -> None:
    with pytest.raises(UnreadablePage) as refused:
        page_text(data)
    assert why in str(refused.value)


LINE = "Rnd 1: 6 sc – piqué (6)"
ENCODED = {
    "UTF-8": LINE.encode(),
    "UTF-8 with a mark": LINE.encode("utf-8-sig"),
    "UTF-16": LINE.encode("utf-16"),
    "UTF-16 without a mark": LINE.encode("utf-16-le"),
    "big-endian UTF-16": LINE.encode("utf-16-be"),
    "Windows": LINE.encode("cp1252"),
}


@pytest.mark.parametrize("data", ENCODED.values(), ids=ENCODED)
def test_text_is_read_in_the_encodings_that_pages_come_in(data: bytes) -> None:
    saved = page_text(data)
    assert saved.text == LINE
    assert bool(saved.note) == (data == LINE.encode("cp1252"))


def test_the_encoding_that_a_web_page_names_is_used() -> None:
    markup = '<html><head><meta charset="iso-8859-2"></head><body><p>Kordonek żółty</p></body></html>'
    assert "Kordonek żółty" in page_text(markup.encode("iso-8859-2")).text


def test_what_is_missing_is_named_with_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    for module in ("bs4", "pdfminer.high_level"):
        monkeypatch.setitem(sys.modules, module, None)
    for data in (b"<html><body><p>Rnd 1: 6 sc</p></body></html>", b"%PDF-1.7"):
        with pytest.raises(UnreadablePage, match=r"pip install 'round-tracker\[pages\]'"):
            page_text(data)


def test_tags_nested_ten_thousand_deep_are_read() -> None:
    assert "6 sc" in page_text(b"<html><body>" + b"<div>" * 10_000 + b"Rnd 1: 6 sc").text


tags = st.sampled_from(
    ["<p>", "</p>", "<table>", "<tr>", "<td>", "</table>", "<li>", "<ol start=3>", "<br>", "<", ">", "&amp;"]
)


@settings(max_examples=60, deadline=None)
@given(st.lists(tags | st.text(max_size=8), max_size=30))
def test_no_markup_breaks_the_reader(parts: list[str]) -> None:
    markup = "<html><body>Rnd 1: 6 sc" + "".join(parts)
    try:
        assert isinstance(page_text(markup.encode()).text, str)
    except UnreadablePage as refused:
        assert str(refused)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300), st.sampled_from([b"", b"%PDF-1.4\n", b"<html>", b"\xff\xfe"]))
def test_no_bytes_break_the_reader(data: bytes, start: bytes) -> None:
    try:
        assert isinstance(page_text(start + data).text, str)
    except UnreadablePage as refused:
        assert str(refused)
