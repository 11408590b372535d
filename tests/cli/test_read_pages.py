"""`rounds read` on files of every kind: told by what they hold, bounded, and never run."""

from __future__ import annotations

import io
import sys
import zlib
from pathlib import Path

import pytest
from text_import.whole_pages import PAGES, as_pdf, as_text, as_web_page

from tracker.cli import page_source
from tracker.cli.main import main
from tracker.cli.page_source import MAX_PAGE
from tracker.pattern.loader import loads

PAGE = PAGES["several pieces"]
KINDS = {"text": as_text(PAGE).encode(), "web page": as_web_page(PAGE).encode(), "PDF": as_pdf(PAGE)}


@pytest.mark.parametrize("data", KINDS.values(), ids=KINDS)
def test_a_file_is_told_by_what_it_holds_and_not_by_its_name(
    data: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "pattern.jpg"
    path.write_bytes(data)
    assert main(["read", str(path), "--terms", "US"]) == 0
    pieces = loads(capsys.readouterr().out).pieces
    assert [(p.name, p.make, tuple(r.leaves for r in p.rounds)) for p in pieces] == list(PAGE.pieces)


class Endless(io.RawIOBase):
    """Standard input that never ends, and how much of it was asked for."""

    def __init__(self) -> None:
        self.given = 0

    @property
    def buffer(self) -> Endless:
        return self

    def read(self, size: int = -1, /) -> bytes:
        assert 0 <= size <= MAX_PAGE + 1, "all of it was asked for"
        self.given += size
        return bytes(size)


def test_standard_input_that_never_ends_is_left_off(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    endless = Endless()
    monkeypatch.setattr(sys, "stdin", endless)
    assert main(["read"]) == 2
    assert "the page has more than 20,000,000 bytes" in capsys.readouterr().err
    assert endless.given == MAX_PAGE + 1


def test_a_file_that_never_ends_is_left_off(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["read", "/dev/zero"]) == 2
    assert "the page has more than 20,000,000 bytes" in capsys.readouterr().err


def test_a_page_that_takes_too_long_is_left_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(page_source, "SECONDS", 0.001)
    path = tmp_path / "page.pdf"
    path.write_bytes(KINDS["PDF"])
    assert main(["read", str(path)]) == 2
    assert "seconds to read: save the pattern alone" in capsys.readouterr().err


def test_a_page_that_takes_too_much_memory_is_left_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A stream of a PDF that unpacks to more blanks than the process may hold."""
    monkeypatch.setattr(page_source, "MEMORY", 300_000_000)
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(b" " * 10_000_000) for _ in range(40)) + packer.flush()
    head = b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Count 1/Kids[3 0 R]>>endobj\n"
    page = b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 99 99]/Contents 4 0 R>>endobj\n"
    stream = b"4 0 obj<</Filter/FlateDecode/Length %d>>stream\n" % len(packed) + packed + b"\nendstream endobj\n"
    path = tmp_path / "page.pdf"
    path.write_bytes(head + page + stream + b"trailer<</Root 1 0 R>>\n%%EOF")
    assert main(["read", str(path)]) == 2
    assert "rounds read:" in capsys.readouterr().err


def test_what_lies_in_the_folder_is_not_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "json.py").write_text("raise SystemExit('run')\n", encoding="utf-8")
    (tmp_path / "page.html").write_bytes(KINDS["web page"])
    monkeypatch.chdir(tmp_path)
    assert main(["read", "page.html", "--terms", "US"]) == 0
    assert loads(capsys.readouterr().out).pieces


def test_letters_of_windows_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "page.txt"
    path.write_bytes("Perlé\n\nRnd 1: 6 sc in magic ring (6)\n".encode("cp1252"))
    assert main(["read", str(path)]) == 0
    told = capsys.readouterr()
    assert loads(told.out).title == "Perlé"
    assert "read as those of Windows" in told.err
