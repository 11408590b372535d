"""What nobody expected, as a sentence and a file to send; by then everything that was done is written down."""

from __future__ import annotations

import platform
import sys
import tempfile
import traceback
from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

MOST_REPORTS = 20
"""Reports that are kept beside a journal."""


def version_words() -> str:
    """The version of the program; of a checkout that was never installed none is known."""
    try:
        return version("round-tracker")
    except PackageNotFoundError:
        return "of a checkout"


def tell_fault(fault: BaseException, arguments: Sequence[str], folder: Path) -> None:
    """Say on standard error that the program failed; a report lies beside the journal, or where there is room."""
    report = _report(fault, arguments)
    path = _beside_journal(report, folder) or _elsewhere(report)
    print(f"rounds: this should not have happened ({_name(fault)}). Your places are kept.", file=sys.stderr)
    if path:
        print(f"  please send {path} to whoever makes this program:", file=sys.stderr)
        print("  it tells where the program failed, and no word of your pattern", file=sys.stderr)
    else:
        print(report, file=sys.stderr)


def _beside_journal(report: str, folder: Path) -> str:
    """The file of the report; "" if there can be none, or if so many lie there already that nobody sends them."""
    for number in range(1, MOST_REPORTS + 1):
        path = folder / f"fault-{number}.txt"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            with path.open("x", encoding="utf-8", errors="backslashreplace") as file:
                file.write(report)
        except FileExistsError:
            continue
        except (OSError, ValueError):
            return ""
        return str(path)
    return ""


def _elsewhere(report: str) -> str:
    """The same where the system keeps what does not last, under a name that nobody can have prepared."""
    try:
        number, name = tempfile.mkstemp(prefix="rounds-fault-", suffix=".txt", text=True)
        with open(number, "w", encoding="utf-8", errors="backslashreplace") as file:
            file.write(report)
    except OSError:
        return ""
    return name


def _report(fault: BaseException, arguments: Sequence[str]) -> str:
    """Where in the program it happened, without any value of the maker's but the words of the command."""
    frames = traceback.format_list(traceback.extract_tb(fault.__traceback__))
    head = [
        f"rounds {version_words()}, Python {platform.python_version()}, {platform.platform()}",
        f"command: rounds {' '.join(arguments)}",
        f"fault: {_name(fault)}",
    ]
    return "\n".join([*head, "", "".join(frames)])


def _name(fault: BaseException) -> str:
    return type(fault).__name__
