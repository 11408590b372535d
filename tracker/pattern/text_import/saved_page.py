"""What the bytes of a saved page are, told by what they hold and not by the name of a file, and their letters.

Pictures of text and the files of word processors are refused with that reason.
"""

from __future__ import annotations

import codecs
import re

from tracker.lazy_pattern import compile_later

MISSING = "to read {what} one more package is needed: pip install 'round-tracker[pages]'"
"""What a maker is told where the library for a kind of page is not installed."""


class UnreadablePage(Exception):
    """There is no text to be had from these bytes; the words of the error say why and what to do."""


_PICTURES = {
    b"\x89PNG": "PNG",
    b"\xff\xd8\xff": "JPEG",
    b"GIF8": "GIF",
    b"II*\x00": "TIFF",
    b"MM\x00*": "TIFF",
    b"BM": "bitmap",
}
_MARKUP = compile_later(
    r"<(?:!doctype\s+html|html|head|body|article|main|div|p|table|ul|ol|h[1-6]|br)\b[^<>]{0,2000}>", re.I
)
_CHARSET = compile_later(rb"<meta[^>]{0,200}charset\s*=\s*[\"']?\s*([\w-]{2,20})", re.I)
_FEWEST_TAGS = 3
"""Tags that make a text HTML if it does not begin like a document."""
# Bytes in which a file shows what it is: the tags of a page begin within them.
_LOOKED_AT = 4_096


def is_pdf(data: bytes) -> bool:
    """Whether the bytes are a PDF; a few may stand before its sign."""
    return b"%PDF-" in data[:1024]


def refuse_other(start: bytes) -> None:
    """Refuse what is known by its first bytes to be no text. Raises `UnreadablePage`."""
    picture = next((name for sign, name in _PICTURES.items() if start.startswith(sign)), None)
    if start[:4] == b"RIFF" and start[8:12] == b"WEBP":
        picture = "WebP"
    if start[4:8] == b"ftyp":
        picture = "HEIC or film"
    if picture is not None:
        raise UnreadablePage(
            f"this is a picture ({picture}): a picture of text cannot be read, copy or type the text itself"
        )
    if start.startswith(b"PK\x03\x04"):
        raise UnreadablePage(
            "this is a packed document (word processor or e-book): save it as PDF, HTML or plain text"
        )
    if start.startswith((b"{\\rtf", b"\xd0\xcf\x11\xe0")):
        raise UnreadablePage("this is a word processor's file: save it as PDF, HTML or plain text")


def is_markup(text: str) -> bool:
    """Whether the text is HTML: it begins like it, or has several of its tags and closes some."""
    start = text[:_LOOKED_AT].lstrip("\ufeff \r\n\t")
    if re.match(r"<!doctype\s+html|<html\b", start, re.I):
        return True
    return len(_MARKUP.findall(text[: 16 * _LOOKED_AT])) >= _FEWEST_TAGS and "</" in text


def decoded(data: bytes) -> tuple[str, str]:
    """The text, and a word on the encoding where it is not sure. Raises `UnreadablePage` for what is no text."""
    for sign, encoding in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16"),
        (codecs.BOM_UTF16_BE, "utf-16"),
    ):
        if data.startswith(sign):
            return data.decode(encoding, "replace"), ""
    if data[:200].count(0) * 3 > len(data[:200]):
        encoding = "utf-16-le" if data[1:200:2].count(0) > data[0:200:2].count(0) else "utf-16-be"
        text = data.decode(encoding, "replace")
        if sum(map(str.isprintable, text[:200])) * 2 > len(text[:200]):
            return text, ""
    if b"\x00" in data:
        raise UnreadablePage(
            "this is no text: it holds bytes that no text has; save the pattern as text, HTML or PDF"
        )
    try:
        return data.decode("utf-8"), ""
    except UnicodeDecodeError:
        return data.decode(_encoding_named(data), "replace"), (
            "the letters are not UTF-8 and were read as those of Windows: look at accents and signs"
        )


def _encoding_named(data: bytes) -> str:
    """The encoding that an HTML page names, if it is known; else that of Windows in Western Europe."""
    match = _CHARSET.search(data[:_LOOKED_AT])
    try:
        named = codecs.lookup(match[1].decode("ascii")).name if match else "cp1252"
    except LookupError:
        return "cp1252"
    return named if named in _SINGLE_BYTE else "cp1252"


_SINGLE_BYTE = frozenset(
    ("cp1252", "iso8859-1", "iso8859-2", "iso8859-15", "cp1250", "cp1251", "koi8-r", "mac-roman")
)
