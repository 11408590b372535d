"""What to do about a file that is no pattern."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from tracker.cli.shipped_patterns import nearest
from tracker.normalize import clean
from tracker.pattern.pattern_file import UnreadableFile


def tell_what_to_do(path: Path, name: str, wrong: UnreadableFile) -> None:
    """On standard error, where something can be done about a file that is no pattern."""
    codes = {problem.code for problem in wrong.problems}
    if "not-toml" in codes:
        import shlex  # only what is wrong needs it

        print(f"  if it is a written pattern: rounds read {shlex.quote(clean(name))} -o NEW.toml", file=sys.stderr)
    near = nearest(name) if "no-file" in codes and not os.path.exists(path) else ""
    if near:
        print(f"  there is a shipped pattern called {near}", file=sys.stderr)
