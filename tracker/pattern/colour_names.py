"""The colour of a yarn, by its code or as its name tells. Data, and how it is looked up.

Values: CSS Color Module Level 4 (W3C), named colours, from memory, where the word is one of them; shades that yarn is
sold in and the standard lacks are common practice, no source.
"""

from __future__ import annotations

import re

STANDARD = {
    "aqua": "#00ffff",
    "azure": "#f0ffff",
    "beige": "#f5f5dc",
    "black": "#000000",
    "blue": "#0000ff",
    "brown": "#a52a2a",
    "chocolate": "#d2691e",
    "coral": "#ff7f50",
    "crimson": "#dc143c",
    "fuchsia": "#ff00ff",
    "gold": "#ffd700",
    "green": "#008000",
    "grey": "#808080",
    "indigo": "#4b0082",
    "ivory": "#fffff0",
    "khaki": "#f0e68c",
    "lavender": "#e6e6fa",
    "lime": "#00ff00",
    "linen": "#faf0e6",
    "magenta": "#ff00ff",
    "maroon": "#800000",
    "navy": "#000080",
    "olive": "#808000",
    "orange": "#ffa500",
    "orchid": "#da70d6",
    "pink": "#ffc0cb",
    "plum": "#dda0dd",
    "purple": "#800080",
    "red": "#ff0000",
    "salmon": "#fa8072",
    "sienna": "#a0522d",
    "silver": "#c0c0c0",
    "tan": "#d2b48c",
    "teal": "#008080",
    "tomato": "#ff6347",
    "turquoise": "#40e0d0",
    "violet": "#ee82ee",
    "wheat": "#f5deb3",
    "white": "#ffffff",
    "yellow": "#ffff00",
}
SHADES = {
    "burgundy": "#701c2c",
    "camel": "#c19a6b",
    "charcoal": "#3b3f44",
    "cream": "#fbf3d9",
    "denim": "#3f5f8a",
    "ecru": "#e6dcc3",
    "gray": "#808080",
    "lilac": "#c8a2c8",
    "mauve": "#b784a7",
    "mint": "#b5e5cf",
    "mustard": "#d6a419",
    "natural": "#eee3cc",
    "ochre": "#cc8a2b",
    "peach": "#ffcba4",
    "petrol": "#1f5a66",
    "rose": "#d9707f",
    "rust": "#a9471f",
    "sage": "#a3b18a",
    "sand": "#d8c3a0",
    "scarlet": "#d5231e",
    "taupe": "#8b7d6f",
    "terracotta": "#c66b4a",
}
LIGHTER = frozenset({"light", "pale", "baby", "soft", "pastel"})
DARKER = frozenset({"dark", "deep", "forest", "bottle", "midnight"})
_WORD = re.compile(r"[a-z]+")
_MOST = 200
"""A name is read up to so many characters."""
_CODE = re.compile(r"#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6})")


def plain_colour(text: str) -> str:
    """The colour as "#rrggbb"; "" for anything else, so that nothing from outside gets into a drawing."""
    text = text.strip()
    if not _CODE.fullmatch(text):
        return ""
    digits = text[1:]
    # "#abc" is short for "#aabbcc" (CSS).
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    return f"#{digits.lower()}"


def colour_of_name(name: str) -> str:
    """The colour as "#rrggbb" that a name tells; "" if it has no word for one.

    The last word for a colour is the noun ("rose pink" is a pink); one before it that lightens or darkens does so.
    """
    words = _WORD.findall(name[:_MOST].casefold())
    colours = [STANDARD.get(word, SHADES.get(word, "")) for word in words]
    colour = next((each for each in reversed(colours) if each), "")
    if colour and not LIGHTER.isdisjoint(words):
        return _toward(colour, 255)
    if colour and not DARKER.isdisjoint(words):
        return _toward(colour, 0)
    return colour


def _toward(colour: str, end: int) -> str:
    """Half way to white (255) or a third to black (0): enough to be seen beside the plain one."""
    share = 0.5 if end else 1 / 3
    parts = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return "#" + "".join(f"{round(part + (end - part) * share):02x}" for part in parts)
