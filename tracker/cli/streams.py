"""Standard input and output as they come: closed, in any encoding, full, or with nobody at the other end."""

from __future__ import annotations

import codecs
import io
import os
import sys
import unicodedata
from contextlib import suppress

PLAIN = "rounds-plain"
"""The name of the rule that follows, for codecs."""

_IN_ASCII = {
    **dict.fromkeys("\u2018\u2019\u201a\u2032", "'"),
    **dict.fromkeys("\u201c\u201d\u201e\u2033\u00ab\u00bb", '"'),
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212", "-"),
    **dict.fromkeys("\u2022\u25cf\u25aa\u00b7\u2605\u2606", "*"),
    "\u2026": "...",
    "\u00d7": "x",
    "\u2192": "->",
    "\u2190": "<-",
}


def in_plain_characters(problem: UnicodeError) -> tuple[str, int]:
    """What is written for characters that an encoding lacks: what they look like in ASCII, or a question mark."""
    if not isinstance(problem, UnicodeEncodeError):
        raise problem
    return "".join(map(_in_ascii, problem.object[problem.start : problem.end])), problem.end


def _in_ascii(character: str) -> str:
    if character in _IN_ASCII:
        return _IN_ASCII[character]
    return unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode() or "?"


def prepare_streams() -> None:
    """Let no character that comes or goes end the program, and have something to read and write in any case."""
    codecs.register_error(PLAIN, in_plain_characters)
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:  # closed by whoever started the program
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115
    for stream, errors in ((sys.stdin, "replace"), (sys.stdout, PLAIN), (sys.stderr, PLAIN)):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=errors)


def let_go_of_output() -> None:
    """Write to nowhere from here on, so that what still waits to be written does not fail once more at the end."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
