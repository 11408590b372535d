"""Whether a text speaks US or UK terms, by the words in it."""

from __future__ import annotations

import re

from tracker.normalize import fold


class TermsUnclear(Exception):
    """The words do not tell whether the text is in US or UK terms."""


def guess_terms(text: str) -> tuple[str, str]:
    """US or UK, and the words that tell. Raises `TermsUnclear`."""
    folded = fold(text)
    said = re.search(r"\b(us|usa|american|uk|british)\b(?: crochet)? (?:terms|terminology|abbreviations)", folded)
    if said:
        terms = "UK" if said[1] in ("uk", "british") else "US"
        return terms, f"the text says '{said[0]}'"
    us = _found(r"\b(?:\d*\s?sc|hdc|single crochet|half double|sc2tog|skip|sk)\b", folded)
    uk = _found(r"\b(?:\d*\s?htr|half treble|miss|tension|dc2tog|double crochet|\d*\s?dc)\b", folded)
    strong_us = [word for word in us if re.search(r"sc|hdc|single|half double", word)]
    if strong_us:
        return "US", f"it uses '{strong_us[0].strip()}'"
    strong_uk = [word for word in uk if re.search(r"htr|half treble|miss|tension", word)]
    if strong_uk:
        return "UK", f"it uses '{strong_uk[0].strip()}' and no sc"
    if (
        "dc" in " ".join(uk)
        and re.search(r"magic|ring|ball|toy|stuff", folded)
        and "ch 3" not in folded
        and "3ch" not in folded
    ):
        return "UK", "it works small rounds in dc, and uses no sc"
    raise TermsUnclear


def _found(pattern: str, text: str) -> list[str]:
    return re.findall(pattern, text)
