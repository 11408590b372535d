"""A stitch is one entry of the glossary: an invented one is understood wherever the program names stitches.

The entry is made in a fresh interpreter before anything else is read, as it would be by writing it into the glossary.
"""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

INVENT = """
import json
from tracker.notation import glossary

kumi = glossary.Stitch(
    "kmc", "kmc", "kmr", "kumi crochet", "kumi treble", 3, True, "invented", "T with two bars", "kumi"
)
glossary.STITCHES += (kumi,)
glossary.BY_ID[kumi.id] = kumi

from tracker.notation.parser.heading import heading
from tracker.pattern.misprints.house_style import to_one, to_several
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.materials import gauge_in
from tracker.pattern.text_import.page_terms import terms_of
from tracker.phrasing.stitches import stretch_words
from tracker.rounds.next_step import coming_now
from tracker.phrasing.terms import prose_in_terms, round_in_terms
from tracker.rounds.line_report import read_line
from tracker.measure.stitch_sizes import height_of

def sums(text, before, terms="US"):
    report = read_line(text, before, terms)
    return [report.leaves, report.uses, dict(report.by_kind), report.verdict]

def kept(line):
    page = "Bowl\\nRnd 1: 6 sc in MR (6)\\nRnd 2: inc x 6 (12)\\n\\n" + line
    return from_text(page, "US").outcomes[-1].fate.value

print(json.dumps({
    "heading": heading("rnd 2 - 3 kmc in each st").numbers,
    "heading by its name": heading("rnd 2 - 3 kumi crochet in each st").numbers,
    "plain": sums("kmc in each st around", 12),
    "UK": sums("3 kmr, 2 kmr in next st", 4, "UK"),
    "name": sums("kumi crochet in each st around", 12),
    "increase": sums("kmc inc, 5 kmc", 6),
    "decrease": sums("kmcdec, invisible kmc dec, 2 kmc", 6),
    "together": sums("kmc3tog, 3 kmc", 6),
    "post": sums("fpkmc, back post kumi crochet, 4 kmc", 6),
    "foundation": sums("14 foundation kmc", None),
    "counted chain": sums("ch 3, kmc in next 5 sts, join to top of ch-3", 6),
    "eight and a decrease": sums("8 kmc dec", 10),
    "one of two": to_several("kmc in next kmc", 3, is_plain=True),
    "two of one": to_one("kmc in next 3 kmc", 3),
    "terms": round_in_terms("Kmc in next 2 kmc, fpkmc", "US", "UK"),
    "prose": prose_in_terms("work kumi crochets and kmc2tog", "US", "UK"),
    "guessed": [terms_of("12 kmc in ring")[0], terms_of("12 kmr in ring")[0]],
    "gauge": gauge_in("18 kmc and 9 rows = 10 cm").stitch,
    "what has stitches": kept("work kmc into the kmc that wibbles"),
    "words": stretch_words(coming_now(read_line("kmc in next 4 sts", 4).plan, 0)),
    "height": height_of("kmc"),
}))
"""

EXPECTED = {
    "heading": [2],
    "heading by its name": [2],
    "plain": [12, 12, {"kmc": 12}, "ok"],
    "UK": [5, 4, {"kmr": 5}, "ok"],
    "name": [12, 12, {"kmc": 12}, "ok"],
    "increase": [7, 6, {"kmc": 7}, "ok"],
    "decrease": [4, 6, {"kmc": 4}, "ok"],
    "together": [4, 6, {"kmc": 4}, "ok"],
    "post": [6, 6, {"kmc": 6}, "ok"],
    "foundation": [14, 0, {"kmc": 14}, "ok"],
    "counted chain": [6, 6, {"kmc": 6}, "ok"],
    "eight and a decrease": [9, 10, {"kmc": 9}, "ok"],
    "one of two": "kmc in next 3 kmc",
    "two of one": "kmc in next kmc",
    "terms": "Kmr in next 2 kmr, fpkmr",
    "prose": "work kumi trebles and kmr2tog",
    "guessed": ["US", "UK"],
    "gauge": "kmc",
    "what has stitches": "needs your eye",
    "words": "4 kumi crochet",
    "height": 1.825,  # as tall as the dc with the same turning chain: 1.75 to 1.9 measured
}


@pytest.fixture(scope="module")
def understood() -> dict[str, object]:
    """What is made of the invented stitch in each place."""
    done = subprocess.run([sys.executable, "-c", INVENT], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    answers: dict[str, object] = json.loads(done.stdout)
    return answers


@pytest.mark.parametrize("where", EXPECTED)
def test_an_invented_stitch_is_understood_everywhere(understood: dict[str, object], where: str) -> None:
    assert understood[where] == EXPECTED[where]


def test_nothing_is_left_out_of_the_table(understood: dict[str, object]) -> None:
    assert set(understood) == set(EXPECTED)
