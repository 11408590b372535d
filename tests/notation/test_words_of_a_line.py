"""The words of a line: of which sort each is, where it stands, and which line ends are in the middle of a phrase.

Read over word by word. "c1" and "a" are yarns of the pattern.
"""

from __future__ import annotations

import pytest

from tracker.normalize import fold
from tracker.notation.both_terms import in_one
from tracker.notation.lexer import scan, scan_behind, without_fillers
from tracker.notation.line_ends import unwrapped
from tracker.notation.token_kinds import T

YARNS = frozenset(("a", "c1"))

WORDS = {
    "12st": ["NUMBER 12", "NOUN st"],
    "1st and 21st, 11st": ["ORDINAL 1st", "AND and", "ORDINAL 21st", "COMMA ,", "NUMBER 11", "NOUN st"],
    "3rd loop of st": ["LOOP third loop of", "NOUN st"],
    "twenty-one sc": ["NUMBER twenty one", "STITCH sc"],
    "thirty six sc": ["NUMBER thirty six", "STITCH sc"],
    "twenty ten sc": ["NUMBER twenty", "NUMBER ten", "STITCH sc"],
    "sl. st in st.": ["STITCH sl st", "IN in", "NOUN st", "DOT ."],
    "inv. dec": ["DEC inv dec"],
    "ch-3 sp": ["CHAIN ch", "NUMBER 3", "SPACE sp"],
    "3-ch sp": ["NUMBER 3", "CHAIN ch", "SPACE sp"],
    "ch- 3 sp": ["CHAIN ch", "NUMBER 3", "SPACE sp"],
    "ch -sp": ["CHAIN ch", "SPACE sp"],
    "ch - 3": ["CHAIN ch", "DASH -", "NUMBER 3"],
    "2 - 3 sc": ["NUMBER 2", "DASH -", "NUMBER 3", "STITCH sc"],
    "incx6": ["INC inc", "TIMES x", "NUMBER 6"],
    "3x, scx2": ["NUMBER 3", "TIMES x", "COMMA ,", "STITCH sc", "TIMES x", "NUMBER 2"],
    "dcin next st": ["STITCH dc", "IN in", "NEXT next", "NOUN st"],
    "scin": ["STITCH sc", "IN in"],
    "scaround": ["STITCH sc", "AROUND around"],
    "hdcs in eachst": ["STITCH hdcs", "IN in", "EACH each", "NOUN st"],
    "east": ["WORD east"],
    "as R4": ["AS as", "ROUND r", "NUMBER 4"],
    "r sc": ["WORD r", "STITCH sc"],
    "R 4": ["WORD r", "NUMBER 4"],
    "2 hdc's": ["NUMBER 2", "STITCH hdc's"],
    "rows'": ["ROUND rows"],
    "CC2 and MC": ["COLOURED cc2", "AND and", "WORD mc"],
    "C1 sc": ["COLOURED c1", "STITCH sc"],
    "4 sc a": ["NUMBER 4", "STITCH sc", "WORD a"],
    "with a sc": ["WITH with", "WORD a", "STITCH sc"],
    "with a red yarn": ["WITH with", "COLOURED red", "COLOURED yarn"],
    "change to a in last st": ["CHANGE change to", "WORD a", "IN in", "LAST last", "NOUN st"],
    "join with a sl st": ["JOIN join", "WITH with", "STITCH sl st"],
    "t 3 t": ["BEGINNING t", "NUMBER 3", "WORD t"],
    "12 x 2ch-sp": ["NUMBER 12", "NUMBER 2", "CHAIN ch", "SPACE sp"],
    "12 x 2 sc": ["NUMBER 12", "TIMES x", "NUMBER 2", "STITCH sc"],
    "rep. 6 times": ["REPEAT rep", "NUMBER 6", "TIMES times"],
    "six repeats": ["NUMBER six", "TIMES repeats"],
    "2 reps of 3": ["NUMBER 2", "TIMES reps", "OF of", "NUMBER 3"],
    "continue from * to *": ["REPEAT continue", "FROM from", "MARK *", "TO to", "MARK *"],
    "continue in sc": ["ONGOING continue", "IN in", "STITCH sc"],
    "-> 6": ["EQUALS ->", "NUMBER 6"],
    "=> 6": ["EQUALS =>", "NUMBER 6"],
    "** 6 ***": ["MARK **", "NUMBER 6", "MARK ***"],
    "(sc) [sc] {sc} <sc>": [
        "OPEN (",
        "STITCH sc",
        "CLOSE )",
        "OPEN [",
        "STITCH sc",
        "CLOSE ]",
        "OPEN {",
        "STITCH sc",
        "CLOSE }",
        "OPEN <",
        "STITCH sc",
        "CLOSE >",
    ],
    "\" sc ' sc # 2": ["STITCH sc", "STITCH sc", "NUMBER 2"],
    "sc ; sc : sc . sc , sc": [
        "STITCH sc",
        "SEMI ;",
        "STITCH sc",
        "COLON :",
        "STITCH sc",
        "DOT .",
        "STITCH sc",
        "COMMA ,",
        "STITCH sc",
    ],
    "3 sc in\nthe last ch": ["NUMBER 3", "STITCH sc", "IN in", "LAST last", "CHAIN ch"],
    "3 sc\n4 sc": ["NUMBER 3", "STITCH sc", "NEWLINE \n", "NUMBER 4", "STITCH sc"],
    "24\n(27, 30) sc": ["NUMBER 24", "OPEN (", "NUMBER 27", "COMMA ,", "NUMBER 30", "CLOSE )", "STITCH sc"],
    "24\nsts": ["NUMBER 24", "NOUN sts"],
    "(6)\n4 sc": ["OPEN (", "NUMBER 6", "CLOSE )", "NEWLINE \n", "NUMBER 4", "STITCH sc"],
    "6\nsc": ["NUMBER 6", "STITCH sc"],
    "= 6\nsc": ["EQUALS =", "NUMBER 6", "NEWLINE \n", "STITCH sc"],
    "24 (27, 30)\nsc": ["NUMBER 24", "OPEN (", "NUMBER 27", "COMMA ,", "NUMBER 30", "CLOSE )", "STITCH sc"],
    "24 (sc)\nsc": ["NUMBER 24", "OPEN (", "STITCH sc", "CLOSE )", "NEWLINE \n", "STITCH sc"],
    "sc\nin next": ["STITCH sc", "IN in", "NEXT next"],
    "sc,\nsc": ["STITCH sc", "COMMA ,", "STITCH sc"],
    "*\n(sc)": ["MARK *", "NEWLINE \n", "OPEN (", "STITCH sc", "CLOSE )"],
    "sc\n": ["STITCH sc", "NEWLINE \n"],
    "\nsc": ["NEWLINE \n", "STITCH sc"],
    "sc\n, sc": ["STITCH sc", "COMMA ,", "STITCH sc"],
    "3 sc!? & | /": ["NUMBER 3", "STITCH sc", "DOT !", "DOT ?", "AND &", "SLASH |", "SLASH /"],
}


@pytest.mark.parametrize(("text", "words"), WORDS.items())
def test_each_word_is_of_its_sort(text: str, words: list[str]) -> None:
    read = unwrapped(without_fillers(scan(fold(text), "US", YARNS)))
    assert [f"{word.kind.name} {word.text}" for word in read] == words


@pytest.mark.parametrize("text", WORDS)
def test_each_word_stands_where_it_was_written(text: str) -> None:
    folded = fold(text)
    end = 0
    for word in scan(folded, "US", YARNS):
        assert end <= word.start < word.end <= len(folded)
        written = folded[word.start : word.end]
        assert written == written.strip() or word.kind is T.NEWLINE
        assert written[0] == word.text[0] or word.kind in (T.ORDINAL, T.LOOP)
        assert not word.glued or folded[word.start - 1] not in " \n"
        end = word.end
    behind = scan_behind(f"r4 {folded}", 3, "US", YARNS)
    assert [(word.kind, word.start - 3) for word in behind] == [
        (word.kind, word.start) for word in scan(folded, "US", YARNS)
    ]


@pytest.mark.parametrize(
    ("text", "uk", "us"),
    [
        ("2 dc (uk) / 2 sc (us) in st", "2 dc                  in st", "            2 sc      in st"),
        ("2 sc (us)/2 dc (uk) in st", "          2 dc      in st", "2 sc                in st"),
        ("2 dc (uk) / 2 sc (uk)", "2 dc (uk) / 2 sc (uk)", "2 dc (uk) / 2 sc (uk)"),
        ("2 htr (uk) / 2 hdc (usa), 3", "2 htr                   , 3", "             2 hdc      , 3"),
        ("2 dc (uk) in st", "2 dc (uk) in st", "2 dc (uk) in st"),
        ("2 dc / 2 sc", "2 dc / 2 sc", "2 dc / 2 sc"),
        ("sc [dc] in st", "    dc  in st", "sc      in st"),
        ("5 tr (dc), ch 2", "5 tr     , ch 2", "5     dc , ch 2"),
        ("1 dc (uk: tr) to end", "1         tr  to end", "1 dc          to end"),
        (
            "half treble [half double crochet] 3",
            "half treble [half double crochet] 3",
            "half treble [half double crochet] 3",
        ),
        ("htr [hdc]", "htr      ", "     hdc "),
        ("sc3tog [dc3tog], fpdc (fptr)", "        dc3tog ,       fptr ", "sc3tog         , fpdc       "),
        ("miss [skip] next st", "miss        next st", "miss        next st"),
        ("sc (single crochet) in ch", "sc (single crochet) in ch", "sc (single crochet) in ch"),
        ("dc (us sc)", "dc        ", "       sc "),
        ("sc (dc) x 6", "sc (dc) x 6", "sc (dc) x 6"),
        ("7 dc/sc in ring", "7 dc    in ring", "7    sc in ring"),
        ("2 sc/dc in each sc/dc", "2    dc in each    dc", "2 sc    in each sc   "),
        ("1 hdc in each dc/sc", "1 hdc in each dc/sc", "1 hdc in each dc/sc"),
        ("inc/dec, sc/hdc", "inc/dec, sc/hdc", "inc/dec, sc/hdc"),
        ("sc (dc) 6 times", "sc (dc) 6 times", "sc (dc) 6 times"),
        ("inc (2 sc), dc (sc uk)", "inc (2 sc), dc (sc uk)", "inc (2 sc), dc (sc uk)"),
        ("hdc (tr), dc, (tr)", "hdc (tr), dc, (tr)", "hdc (tr), dc, (tr)"),
    ],
)
def test_of_stitches_told_in_both_terms_those_of_one_are_read(text: str, uk: str, us: str) -> None:
    assert (in_one(text, "UK"), in_one(text, "US")) == (uk, us)


@pytest.mark.parametrize(
    ("text", "glued"),
    [("4 sc", [False, False]), ("4sc", [False, True]), ("4sc\nin", [False, True, True, False]), (" sc", [False])],
)
def test_a_word_is_glued_where_no_blank_parts_it_from_the_one_before(text: str, glued: list[bool]) -> None:
    assert [word.glued for word in scan(text, "US")] == glued
