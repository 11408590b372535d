"""Text that is laid down and read over: blocks of lines, each under its title, with an empty line behind it."""

from __future__ import annotations

from pathlib import Path


def blocks_of(path: Path) -> dict[str, list[str]]:
    """The lines of each block by its title, in the order of the file; none where there is no file yet."""
    text = path.read_text("utf-8") if path.exists() else ""
    blocks = (block.split("\n") for block in text.split("\n\n") if block.strip())
    return {title.strip(): [line.rstrip() for line in lines] for title, *lines in blocks}


def write_blocks(path: Path, blocks: dict[str, list[str]]) -> None:
    """Write them anew."""
    path.write_text("\n\n".join("\n".join([title, *lines]) for title, lines in blocks.items()) + "\n\n", "utf-8")
