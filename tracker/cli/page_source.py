"""The saved page that `rounds read` is given: a file or standard input, read within bounds.

A PDF or a web page may be made to take all time and memory there is. It is taken apart in a process of its own, which
may use so much of both and no more, and which gives back nothing but text.
"""

from __future__ import annotations

import sys
from pathlib import Path

from tracker.lazy_dataclass import dataclass
from tracker.pattern.text_import.saved_page import UnreadablePage, decoded, is_markup, is_pdf, refuse_other

MAX_PAGE = 20_000_000
"""The largest saved page in bytes; a PDF with photographs has about 5,000,000."""

MAX_TEXT = 2_000_000
"""The longest text of a page in characters; a long pattern has about 50,000."""

SECONDS = 60
"""How long a page may take; one of a hundred pages takes about ten seconds."""

MEMORY = 1_500_000_000
"""Bytes that the process may take, where the system can be asked for such a bound."""


@dataclass(frozen=True, slots=True)
class PageText:
    """The text of a page, what it was ("text", "HTML", "PDF"), and what the maker should know of how it was read."""

    text: str
    kind: str
    note: str = ""


def page_text(data: bytes) -> PageText:
    """The text in the bytes of a page. Raises `UnreadablePage`.

    What reads PDF and HTML is loaded for these alone: most pages that are pasted are text.
    """
    if len(data) > MAX_PAGE:
        raise UnreadablePage(f"the page has more than {MAX_PAGE:,} bytes: save the pattern alone")
    if is_pdf(data):
        from io import BytesIO

        from tracker.pattern.text_import.pdf_page import pdf_text

        return _bounded(PageText(pdf_text(BytesIO(data)), "PDF"))
    refuse_other(data)
    text, note = decoded(data)
    if is_markup(text):
        from tracker.pattern.text_import.html_page import html_text

        return _bounded(PageText(html_text(text), "HTML", note))
    return _bounded(PageText(text, "text", note))


def _bounded(page: PageText) -> PageText:
    if len(page.text) > MAX_TEXT:
        raise UnreadablePage(f"the text has more than {MAX_TEXT:,} characters: save the pattern alone")
    return page


def read_page(source: Path | None) -> PageText:
    """The text of the page in a file, or of standard input. Raises `UnreadablePage` and `OSError`."""
    if source is None:
        data = sys.stdin.buffer.read(MAX_PAGE + 1)
    else:
        with source.open("rb") as file:  # no more is read, because what is no plain file may never end
            data = file.read(MAX_PAGE + 1)
    if len(data) > MAX_PAGE or not (is_pdf(data) or is_markup(data[:100_000].decode("utf-8", "replace"))):
        return page_text(data)
    return _apart(data)


def _apart(data: bytes) -> PageText:
    """The text of the page, told by a process of its own; -P keeps it from running what lies in the folder."""
    import json
    import subprocess

    command = [sys.executable, "-P", "-m", "tracker.cli.page_source", str(MEMORY)]
    try:
        done = subprocess.run(command, input=data, capture_output=True, timeout=SECONDS, check=False)
        answer = json.loads(done.stdout)
    except subprocess.TimeoutExpired:
        raise UnreadablePage(f"the page took more than {SECONDS} seconds to read: save the pattern alone") from None
    except ValueError:
        raise UnreadablePage("the page needs more memory than there is for one: save the pattern alone") from None
    if "refused" in answer:
        raise UnreadablePage(answer["refused"])
    return PageText(**answer)


def _bound_memory(most: int) -> None:
    try:
        import resource
    except ImportError:  # Windows has no such bound; the time is bounded all the same
        return
    resource.setrlimit(resource.RLIMIT_AS, (most, most))


def _tell_page() -> None:
    """Read a page from standard input and write what it says as JSON to standard output."""
    import json
    from dataclasses import asdict

    _bound_memory(int(sys.argv[1]))
    try:
        answer = asdict(page_text(sys.stdin.buffer.read(MAX_PAGE + 1)))
    except UnreadablePage as wrong:
        answer = {"refused": str(wrong)}
    sys.stdout.write(json.dumps(answer))


if __name__ == "__main__":
    _tell_page()
