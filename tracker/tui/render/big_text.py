"""Big figures and letters, to be read from across the room.

The shapes are our own, drawn on a grid of three by five (a few letters are five wide). At size 1 two pixels share a
character, one above the other; from size 2 on a pixel is `size` characters wide and half as many lines high, so that
it looks square.
"""

from __future__ import annotations

HEIGHT = 5
"""Pixels from top to bottom of every shape."""

SHAPES: dict[str, tuple[str, ...]] = {
    "0": ("###", "#.#", "#.#", "#.#", "###"),
    "1": ("##.", ".#.", ".#.", ".#.", "###"),
    "2": ("###", "..#", "###", "#..", "###"),
    "3": ("###", "..#", ".##", "..#", "###"),
    "4": ("#.#", "#.#", "###", "..#", "..#"),
    "5": ("###", "#..", "###", "..#", "###"),
    "6": ("###", "#..", "###", "#.#", "###"),
    "7": ("###", "..#", "..#", ".#.", ".#."),
    "8": ("###", "#.#", "###", "#.#", "###"),
    "9": ("###", "#.#", "###", "..#", "###"),
    "A": (".#.", "#.#", "###", "#.#", "#.#"),
    "B": ("##.", "#.#", "##.", "#.#", "##."),
    "C": (".##", "#..", "#..", "#..", ".##"),
    "D": ("##.", "#.#", "#.#", "#.#", "##."),
    "E": ("###", "#..", "##.", "#..", "###"),
    "F": ("###", "#..", "##.", "#..", "#.."),
    "G": (".##", "#..", "#.#", "#.#", ".##"),
    "H": ("#.#", "#.#", "###", "#.#", "#.#"),
    "I": ("###", ".#.", ".#.", ".#.", "###"),
    "J": ("..#", "..#", "..#", "#.#", ".#."),
    "K": ("#.#", "#.#", "##.", "#.#", "#.#"),
    "L": ("#..", "#..", "#..", "#..", "###"),
    "M": ("#...#", "##.##", "#.#.#", "#...#", "#...#"),
    "N": ("#..#", "##.#", "#.##", "#..#", "#..#"),
    "O": (".#.", "#.#", "#.#", "#.#", ".#."),
    "P": ("##.", "#.#", "##.", "#..", "#.."),
    "Q": (".#.", "#.#", "#.#", ".##", "..#"),
    "R": ("##.", "#.#", "##.", "#.#", "#.#"),
    "S": (".##", "#..", ".#.", "..#", "##."),
    "T": ("###", ".#.", ".#.", ".#.", ".#."),
    "U": ("#.#", "#.#", "#.#", "#.#", "###"),
    "V": ("#.#", "#.#", "#.#", "#.#", ".#."),
    "W": ("#...#", "#...#", "#.#.#", "##.##", "#...#"),
    "X": ("#.#", "#.#", ".#.", "#.#", "#.#"),
    "Y": ("#.#", "#.#", ".#.", ".#.", ".#."),
    "Z": ("###", "..#", ".#.", "#..", "###"),
    ",": ("..", "..", "..", ".#", "#."),
    ".": (".", ".", ".", ".", "#"),
    ";": (".#", "..", ".#", ".#", "#."),
    ":": (".", "#", ".", "#", "."),
    "-": ("...", "...", "###", "...", "..."),
    "'": ("#", "#", ".", ".", "."),
    "(": (".#", "#.", "#.", "#.", ".#"),
    ")": ("#.", ".#", ".#", ".#", "#."),
    "/": ("..#", "..#", ".#.", "#..", "#.."),
    "+": ("...", ".#.", "###", ".#.", "..."),
    "*": ("...", "#.#", ".#.", "#.#", "..."),
    "?": ("##.", "..#", ".#.", "...", ".#."),
    "!": ("#", "#", "#", ".", "#"),
    " ": ("..", "..", "..", "..", ".."),
}
"""Every character that can be shown big. Small letters take the shape of the capital."""


def can_show(text: str) -> bool:
    """Whether every character of the text has a shape."""
    return all(character in SHAPES for character in text.upper())


def height(size: int) -> int:
    """Lines that big text of this size takes."""
    return -(-HEIGHT // 2) if size == 1 else HEIGHT * size // 2


def width(text: str, size: int) -> int:
    """Cells that the text takes in one line."""
    return max(0, sum(len(SHAPES[c][0]) + 1 for c in text.upper()) - 1) * size


def largest(text: str, columns: int, lines: int, sizes: tuple[int, ...] = (6, 4, 2, 1)) -> int:
    """The largest of the sizes in which the text fits; 0 if none does."""
    if not can_show(text):
        return 0
    return next((size for size in sizes if width(text, size) <= columns and height(size) <= lines), 0)


def big(text: str, size: int) -> list[str]:
    """The text as lines of blocks, all equally long."""
    rows = [".".join(SHAPES[c][row] for c in text.upper()) for row in range(HEIGHT)]
    if size == 1:
        return _halves(rows)
    if size % 2:
        raise ValueError("a size is 1 or even")
    wide = ["".join(("█" if pixel == "#" else " ") * size for pixel in row) for row in rows]
    return [row for row in wide for _ in range(size // 2)]


def _halves(rows: list[str]) -> list[str]:
    padded = rows if len(rows) % 2 == 0 else [*rows, "." * len(rows[0])]
    pairs = zip(padded[::2], padded[1::2], strict=True)
    return ["".join(_HALF[upper + lower] for upper, lower in zip(*pair, strict=True)) for pair in pairs]


_HALF = {"##": "█", "#.": "▀", ".#": "▄", "..": " "}
