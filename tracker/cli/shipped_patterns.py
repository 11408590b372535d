"""The patterns that come with the program, in a checkout and when installed."""

from __future__ import annotations

import os
from pathlib import Path

import tracker
from tracker.suggestion import suggestion


def folder() -> Path:
    """Where they are: inside the package when installed, beside it in a checkout."""
    package = Path(tracker.__file__).parent
    inside = package / "patterns"
    return inside if inside.is_dir() else package.parent / "patterns"


def shipped() -> list[Path]:
    """All of them, by name."""
    return sorted(folder().glob("*.toml"))


def path_of(name: str) -> Path:
    """The file that is meant: a file of this name, or else a shipped pattern of this name."""
    path = _expanded(name)
    if os.path.exists(path):  # unlike the method, it takes a name that no system allows
        return path
    stem = path.stem if path.suffix in ("", ".toml") and len(path.parts) == 1 else ""
    return next((shipped_path for shipped_path in shipped() if shipped_path.stem == stem), path)


def _expanded(name: str) -> Path:
    """With the home folder for "~"; a name of nobody's home is left as it is."""
    try:
        return Path(name).expanduser()
    except RuntimeError:
        return Path(name)


def nearest(name: str) -> str:
    """The shipped pattern whose name is like this one, or ""."""
    return suggestion(Path(name).stem, [path.stem for path in shipped()])
