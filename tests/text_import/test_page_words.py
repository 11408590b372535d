"""The page's own words: what it explains is read, carried in the file, and never set above what the trade knows.

That a page explains its abbreviations in these forms is common practice, no source.
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from tracker.cli.main import main
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.foreign_words import foreign_words
from tracker.pattern.text_import.page_words import contrary_words, lexicon_of, names_in, words_in
from tracker.pattern.toml_writer import as_toml

EXPLAINED = {
    "pp = popcorn": [("pp", "popcorn")],
    "- clu – cluster (see below)": [("clu", "cluster")],
    "* BBS: bobble stitch": [("BBS", "bobble stitch")],
    "RS Right Side": [],
    "Bobble stitch (bbs)": [("bbs", "bobble stitch")],
    "ppi = popcorn increase (2 in one st)": [("ppi", "popcorn increase")],
    "sc: single crochet // hdc: half double crochet": [("sc", "single crochet"), ("hdc", "half double crochet")],
    "Stitches (US): dc - double crochet": [("dc", "double crochet")],
    "bob = bobble / cor: the 3ch corner space": [("bob", "bobble"), ("cor", "the 3ch corner space")],
    "Fern (make 2)": [],
    "Body: sc around": [],
    "Hanging loop": [],
    "hdc [htr] = half double crochet [half treble]": [("hdc", "half double crochet")],
}


@pytest.mark.parametrize(("line", "words"), EXPLAINED.items())
def test_what_a_line_explains(line: str, words: list[tuple[str, str]]) -> None:
    assert [(word.short, word.core) for word in words_in(line)] == words


@pytest.mark.parametrize(
    ("line", "terms", "lexicon"),
    [
        ("sc = single crochet", "US", ()),
        ("pp = popcorn", "US", (("pp", "popcorn"),)),
        ("T = treble", "US", (("t", "treble"),)),
        ("dc = single crochet", "US", ()),
        ("rep = repeat", "US", ()),
        ("nx = next", "US", ()),
        ("nearside = front loop", "US", (("nearside", "front loop"),)),
        ("ppi = popcorn increase", "US", (("ppi", "popcorn increase"),)),
        ("KN = knot (ch 2, sl st in first ch)", "US", (("kn", "takes 0, leaves 0"), ("knot", "takes 0, leaves 0"))),
        ("zag = skip 1, hdc in next st, hdc in the skipped st", "US", (("zag", "takes 2, leaves 2"),)),
        ("Spool: ch 4, join with a sl st", "US", ()),
        ("Rnd 2 = 2 sc in the same st", "US", ()),
        ("lz = air loop", "US", (("lz", "air loop"),)),
        ("inc = 2 sc in one st", "US", ()),
        ("inc = 4 sc in the same stitch", "US", (("inc", "takes 1, leaves 4"),)),
        ("dec: sc 3 sts together", "US", (("dec", "takes 3, leaves 1"),)),
        ("cl = cluster: hdc 4 together over the next 4 sts", "US", (("cl", "takes 4, leaves 1"),)),
        ("Cluster (cl): dc2tog", "US", (("cluster", "takes 2, leaves 1"), ("cl", "takes 2, leaves 1"))),
        ("cl: dc3tog in the same st", "US", ()),
        ("bobble = 5 dc together", "US", ()),
        ("bobble = 3 dc together over the next 3 sts", "US", (("bobble", "takes 3, leaves 1"),)),
        ("Strap = 2 sc in the same st, then ask a friend", "US", ()),
    ],
)
def test_the_lexicon_holds_stitches_that_are_not_known_as_what_the_page_says(
    line: str, terms: str, lexicon: tuple[tuple[str, str], ...]
) -> None:
    assert lexicon_of([line], terms) == lexicon


PAGE = """Pip pot
US terms

Abbreviations
pp = popcorn
ppi = popcorn increase (2 popcorns in one st)
tk = triple knot (chain 3, turn it about itself twice)

Pot
Rnd 1: 7 pp in magic ring (7 pp)
Rnd 2: ppi around (14 pp)
Rnd 3: pp around (14 pp)
"""


def test_rounds_in_the_words_of_the_page_are_read() -> None:
    toml = as_toml(from_text(PAGE).draft)
    assert '[words]\npp = "popcorn"\nppi = "popcorn increase"' in toml
    pattern = loads(toml)
    assert [r.leaves for r in pattern.pieces[0].rounds] == [7, 14, 14]
    assert all_problems(pattern) == []


def test_a_word_that_is_only_named_is_found_where_the_rounds_use_it() -> None:
    assert [word.short for word in names_in("tk = triple knot (chain 3)")] == ["tk"]
    assert from_text(PAGE).unexplained_words == ()
    assert [word.short for word in from_text(PAGE + "Rnd 4: (sc, tk) x 7\n").unexplained_words] == ["tk"]


FILE = """
title = "Pot"
[words]
{words}
[[piece]]
name = "Pot"
rounds = \"\"\"
Rnd 1: 8 sc in magic ring (8)
Rnd 2: {line}
\"\"\"
"""


@pytest.mark.parametrize(
    ("words", "line", "leaves"),
    [
        ('tk = "takes 1, leaves 1"', "(sc, tk) x 4 (8)", 8),
        ('tk = "takes 1, leaves 3"', "(sc, tk) x 4 (16)", 16),
        ('tk = "takes 2, leaves 1"', "tk around (4)", 4),
        ('tk = "takes 0, leaves 0"', "(sc, tk) x 8 (8)", 8),
        ('"twin knot" = "takes 1, leaves 2"', "twin knot around (16)", 16),
        ('t = "treble"', "8 t (8)", 8),
        ('tk = "dc"', "2 tk in each st around (16)", 16),
    ],
)
def test_a_file_says_what_its_words_take_and_leave(words: str, line: str, leaves: int) -> None:
    pattern = loads(FILE.format(words=words, line=line))
    assert all_problems(pattern) == []
    assert pattern.pieces[0].rounds[1].leaves == leaves


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ('tk = "blorp"', "what 'tk' stands for is not known: 'blorp'"),
        ('tk = "takes 0, leaves 2"', "what 'tk' stands for is not known: 'takes 0, leaves 2'"),
        ('"one two three four" = "dc"', "'one two three four' is no word to explain"),
        ("tk = 3", "'tk' of [words] should be text"),
    ],
)
def test_words_that_say_nothing_are_told(words: str, message: str) -> None:
    assert message in [problem.message for problem in all_problems(loads(FILE.format(words=words, line="8 sc (8)")))]


ASKING = PAGE + "Rnd 4: (sc, tk) x 7 (14)\n"


class Terminal(io.StringIO):
    """What a maker types at a terminal."""

    def isatty(self) -> bool:
        return True


def test_a_stitch_that_is_only_named_is_asked_for_once_at_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pot.txt").write_text(ASKING, encoding="utf-8")
    told = Terminal()
    monkeypatch.setattr("sys.stdin", Terminal("1 1\n"))
    monkeypatch.setattr("sys.stderr", told)
    assert main(["read", str(tmp_path / "pot.txt"), "-o", str(tmp_path / "pot.toml")]) == 0
    assert told.getvalue().count("tk: how many places does it take") == 1
    assert 'tk = "takes 1, leaves 1"' in (tmp_path / "pot.toml").read_text(encoding="utf-8")


def test_without_a_terminal_it_is_said_how_to_tell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "pot.txt").write_text(ASKING, encoding="utf-8")
    assert main(["read", str(tmp_path / "pot.txt")]) == 1
    told = capsys.readouterr().err
    assert '"tk" = "takes 1, leaves 1"' in told
    assert "word: 'pp' is popcorn" in told


SIZED = """Cosy cap
US terms

Notes
To fit a head of 40 (44, 48) cm.

Crown
Round 1: 8 (9, 10) hdc in a magic ring; join. (8 (9, 10) hdc)
Round 2: 2 hdc in each st around; join. (16 (18, 20) hdc)
Round 3: *hdc in next st, 2 hdc in next st; rep from * 8 (9, 10) times; join. (24 (27, 30) hdc)
"""


@pytest.mark.parametrize(
    ("size", "leaves", "fits"), [(None, [8, 16, 24], "40 (44, 48)"), (2, [9, 18, 27], "44"), (3, [10, 20, 30], "48")]
)
def test_the_numbers_of_one_size_are_followed_through_rounds_totals_and_prose(
    size: int | None, leaves: list[int], fits: str
) -> None:
    found = from_text(SIZED, size=size)
    pattern = loads(as_toml(found.draft))
    assert [r.leaves for r in pattern.pieces[0].rounds] == leaves
    assert all_problems(pattern) == []
    assert found.draft.notes[-1] == f"To fit a head of {fits} cm."
    assert found.sizes == 3


def test_the_command_tells_of_sizes_and_takes_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "cap.txt").write_text(SIZED, encoding="utf-8")
    assert main(["read", str(tmp_path / "cap.txt")]) == 0
    assert "sizes: the page is for 3, and the first was read" in capsys.readouterr().err
    assert main(["read", str(tmp_path / "cap.txt"), "--size", "2"]) == 0
    assert "\nsize = 2\n" in capsys.readouterr().out
    assert main(["read", str(tmp_path / "cap.txt"), "--size", "0"]) == 2


def test_a_stitch_that_the_page_explains_as_another_one_is_told() -> None:
    lines = ["dtr = half double crochet", "sc = single crochet", "dc2tog = decrease"]
    assert [(word.short, word.core) for word in contrary_words(lines, "US")] == [("dtr", "half double crochet")]


UNTOLD = """Little pear
R1. 7 sc in a magic ring (7)
R2. 7 wup (14)
R3. (1 sc, 1 wup) x 7 (21)
R4. (2 sc, 1 wup) x 7 (28)
R5-R8. 28 sc (28)
R9. (2 sc, 1 nar) x 7 (21)
R10. (1 sc, 1 nar) x 7 (14)
R11. 7 nar (7)
"""


def test_a_word_that_no_line_explains_is_what_the_sums_of_its_rounds_say(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = from_text(UNTOLD, "US")
    assert [(word.phrase, word.meaning, word.rounds) for word in found.by_sums] == [
        ("wup", "increase", 3),
        ("nar", "decrease", 3),
    ]
    pattern = loads(as_toml(found.draft))
    assert [round_.leaves for round_ in pattern.pieces[0].rounds][-4:] == [28, 21, 14, 7]
    assert all_problems(pattern) == []
    (tmp_path / "pear.txt").write_text(UNTOLD, encoding="utf-8")
    main(["read", str(tmp_path / "pear.txt"), "--terms", "US"])
    assert "'wup' is increase, as the sums of 3 rounds say" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("typed", "instead"),
    [("R4. (2 sc, 1 wup) x 7 (28)\n", ""), ("(28)", "(35)"), ("1 wup", "1 wup, 1 wup"), ("wup (14)", "wup (7)")],
)
def test_fewer_than_three_rounds_that_come_out_say_nothing(typed: str, instead: str) -> None:
    assert "wup" not in [word.phrase for word in from_text(UNTOLD.replace(typed, instead), "US").by_sums]


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("aum: aumento (2 sc in the same point)", ("aum", "increase")),
        ("dim = 2 points closed together", ("dim", "decrease")),
        ("dim = 2 sc crocheted together", ("dim", "decrease")),
        ("aug: augmentation", ("aug", "augmentation")),
        ("zun = 2 hdc in one mesh", ("mesh", "stitch")),
    ],
)
def test_translated_words_are_what_they_are_made_of(line: str, word: tuple[str, str]) -> None:
    assert word in lexicon_of([line], "US")


def test_a_point_of_a_star_is_no_stitch() -> None:
    assert dict(lexicon_of(["star point: 3 sc in the same point"], "US")).get("point") is None


ABROAD = {
    "bv = firm mesh (US: single crochet)": {"bv": "single crochet"},
    "bv: low stitch, in US double crochet; lv: air loop": {"lv": "air loop"},
    "hgt (half staff: hdc)": {"hgt": "hdc"},
    "very flat loop (vfl) = slip stitch": {"very flat loop": "slip stitch", "vfl": "slip stitch"},
    "q. - eye (loop)      bh = bar (double crochet)": {"q": "stitch", "bh": "double crochet"},
    "VOR = front strand only": {"vor": "front strand only"},
    "rb: low point - rp: high point - xl: point very low": {
        "rb": "single crochet",
        "rp": "double crochet",
        "xl": "slip stitch",
    },
    "bx = tight mesh (sc) / aug = more, 2 bx in the same mesh / rk = row knot (hdc)": {
        "mesh": "stitch",
        "bx": "single crochet",
        "aug": "increase",
        "rk": "hdc",
    },
    "meh = more (inc)": {"meh": "inc"},
    "kłu - thorn (sl st)": {"kłu": "slip stitch"},
}


@pytest.mark.parametrize(("line", "words"), ABROAD.items())
def test_the_name_of_the_trade_counts_wherever_it_stands(line: str, words: dict[str, str]) -> None:
    assert {name: full_name(told) for name, told in lexicon_of([line], "US")} == words


def full_name(term: str) -> str:
    return "slip stitch" if term == "sl st" else term


def test_a_name_in_the_other_terms_is_told_in_those_of_the_page() -> None:
    assert lexicon_of(["bv = fixed mesh (UK: double crochet)"], "US") == (("bv", "single crochet"),)
    assert lexicon_of(["bv = fixed mesh (US sc / UK dc)"], "UK") == (("bv", "dc"),)


@pytest.mark.parametrize("line", ["Bag: red (yarn)", "sc = mesh (hdc)", "inc / bx = increase / change"])
def test_what_names_several_or_nothing_says_nothing(line: str) -> None:
    assert [name for name, _ in lexicon_of([line], "US") if name in ("bx", "bag", "sc")] == []


CHAINED = ["kz = flat mesh (single crochet)", "verd = widen: 2 kz in the same mesh", "afn: lessen, 2 kz together"]


def test_words_are_read_by_those_that_the_page_explains_before_or_behind() -> None:
    told = {"mesh": "stitch", "kz": "single crochet", "verd": "increase", "afn": "decrease", "lessen": "decrease"}
    assert dict(lexicon_of(CHAINED, "US")) == told
    assert dict(lexicon_of(CHAINED[::-1], "US")) == told


def test_the_word_of_a_name_is_a_stitch_where_the_page_has_it_elsewhere() -> None:
    line = "rb: low point - rp: high point"
    assert "point" not in dict(lexicon_of([line], "US"))
    assert dict(lexicon_of([line, "Rnd 2: 2 rb in each point = 12"], "US"))["point"] == "stitch"


def test_an_increase_of_another_stitch_keeps_that() -> None:
    assert dict(lexicon_of(["hk = hook (half double crochet)", "vm = more: 2 hk in one stitch"], "US")) == {
        "hk": "half double crochet",
        "vm": "half double crochet increase",
    }


FOREIGN = """Kleine Birne
R1. 6 fM in fr (6)
R2. 6 zun (12)
R3. (1 fM, 1 zun) x 6 (18)
R4. 18 fM (18)
R5. (2 fM, 1 zun) x 6 (24)
R6. 24 fM (24)
R7. (2 fM, 1 abn) x 6 (18)
R8. (1 fM, 1 abn) x 6 (12)
R9. 6 abn (6)
R10. 6 fM, 1 km
"""


def test_the_language_tells_which_stitch_the_sums_cannot(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = from_text(FOREIGN, "UK")
    assert dict(page.draft.words) == {
        "fm": "double crochet",
        "zun": "increase",
        "abn": "decrease",
        "fr": "ring",
        "km": "slip stitch",
    }
    pattern = loads(as_toml(page.draft))
    assert [round_.leaves for round_ in pattern.pieces[0].rounds][:9] == [6, 12, 18, 18, 24, 24, 18, 12, 6]
    (tmp_path / "birne.txt").write_text(FOREIGN, encoding="utf-8")
    main(["read", str(tmp_path / "birne.txt"), "--terms", "US"])
    assert "'fm' is single crochet, as German pages have it and as the sums of" in capsys.readouterr().err


def test_a_stitch_of_no_language_is_one_in_each_and_asked_for() -> None:
    page = from_text(FOREIGN.replace("fM", "wup").replace("zun", "sip").replace("abn", "tuk"), "US")
    assert {word.phrase: word.meaning for word in page.by_sums} == {
        "wup": "takes 1, leaves 1",
        "sip": "increase",
        "tuk": "decrease",
    }
    assert next(word.sentence for word in page.by_sums if word.phrase == "wup").endswith("say: which one?")


def test_languages_that_do_not_agree_name_no_stitch() -> None:
    """Danish "st" words apart, two languages have "km" and "lm"; of "hst" and "xx" no two are of one language."""
    assert foreign_words({"xx": ""}, ["xx", "hst"], "US") == {}
    assert foreign_words({"fm": "increase"}, ["fm", "lm"], "US") == {}
    assert foreign_words({"fm": ""}, ["fm", "lm"], "US")["lm"][0] == "chain"


HALF_EXPLAINED = """Bolita
pb = punto bajo (single crochet)
aum: 2 pb in one stitch
V1: 6 pb in a magic ring (6)
V2: 6 aum (12)
V3: 12 cad, 1 pr
"""


def test_what_the_page_explains_tells_its_language_too() -> None:
    page = from_text(HALF_EXPLAINED, "US")
    assert {word.phrase: (word.meaning, word.language) for word in page.by_sums} == {
        "cad": ("chain", "Spanish"),
        "pr": ("slip stitch", "Spanish"),
    }
    against = HALF_EXPLAINED.replace("single crochet", "double crochet")
    assert from_text(against, "US").by_sums == ()


@pytest.mark.parametrize("head", ["Symbol", "Shortcuts", "Shorthand:"])
def test_what_heads_a_list_of_abbreviations_names_no_piece(head: str) -> None:
    page = (
        f"Otter\n\n{head}\nsc - single crochet\ninc - 2 sc in one stitch\n\nFIN\n1. 6 sc in MR [6]\n2. inc x 6 [12]\n"
    )
    assert [piece.name for piece in from_text(page, "US").draft.pieces] == ["FIN"]
