"""A row of a table as one line that can be read as a round."""

from __future__ import annotations

import re

_TOTAL = re.compile(r"\d{1,4}(?:\s+[A-Za-z]{1,10})?")
_SIGN_OF_A_LIST = re.compile(r"[-–•▪◦●■·*+~]|\d{1,3}[.)]")


def joined_cells(cells: list[str]) -> str:
    """The cells between bars: "Rnd 3 | (2 sc, inc) x 7 | (28)".

    A number alone in the last cell is a total; a bullet in the first one is no cell.
    """
    filled = [cell for cell in cells if cell]
    lead = ""
    if len(filled) > 1 and _SIGN_OF_A_LIST.fullmatch(filled[0]):
        lead, filled = f"{filled[0]} ", filled[1:]
    if len(filled) > 1 and _TOTAL.fullmatch(filled[-1]):
        filled[-1] = f"({filled[-1]})"
    return lead + " | ".join(filled)
