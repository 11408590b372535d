"""`rounds read`: a pasted pattern becomes a pattern file, nothing is dropped, and the maker hears what went where."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from text_import.pasted_pages import CLOTH, HAT, TOY

from tracker.cli.main import main
from tracker.pattern.loader import all_problems, load, loads
from tracker.pattern.model import Gauge, Pattern, Start, Yarn
from tracker.pattern.text_import.draft_assembly import FromText, from_text
from tracker.pattern.text_import.draft_parts import Fate
from tracker.pattern.text_import.materials import hook_in, yarns_in
from tracker.pattern.text_import.page_terms import TermsUnclear
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml

PATTERNS = {"toy": TOY, "cloth": CLOTH, "hat": HAT}
SECTION = re.compile(
    r"\W*(materials|you'?(?:'ll| will) need|abbreviations|gauge|tension|notes|instructions|making up|to finish)\b.*"
)


def file_of(found: FromText) -> Pattern:
    return loads(as_toml(found.draft))


def kept_words(draft: Draft) -> set[str]:
    """Every word that stands anywhere in the draft."""
    texts: list[str] = [draft.title, draft.hook, *draft.notions, *draft.notes, *draft.making_up]
    texts += [text for piece in draft.pieces for text in (piece.name, piece.text)]
    texts += [yarn.name for yarn in draft.yarns]
    return set(words(" ".join(texts)))


def words(text: str) -> list[str]:
    return re.findall(r"[a-z]{2,}", text.lower().replace("’", "'"))


def filled_lines(text: str) -> dict[int, str]:
    return {number: line for number, line in enumerate(text.split("\n"), 1) if line.strip()}


def told_of(found: FromText, fate: Fate) -> list[str]:
    return [told.text for told in found.outcomes if told.fate is fate]


@pytest.mark.parametrize("name", PATTERNS)
def test_every_line_is_told_once_with_its_number_and_its_words(name: str) -> None:
    found = from_text(PATTERNS[name])
    lines = filled_lines(PATTERNS[name])
    assert [told.line for told in found.outcomes] == sorted(lines)
    assert all(told.text in lines[told.line] for told in found.outcomes)


@pytest.mark.parametrize("name", PATTERNS)
def test_every_word_is_kept_in_the_pattern_file(name: str) -> None:
    """But for the words that only say what comes next: "Materials", "(make 2)"."""
    found = from_text(PATTERNS[name])
    kept = kept_words(found.draft) | {"make", "hook", "mm"}
    for line in filled_lines(PATTERNS[name]).values():
        rest = line.partition(":")[2] if SECTION.match(line.lower()) else line
        assert set(words(rest)) <= kept, line


def test_a_toy_gets_its_pieces_with_their_copies_and_rounds() -> None:
    pattern = file_of(from_text(TOY))
    assert (pattern.title, pattern.terms, pattern.hook) == ("PEBBLE THE OTTER", "US", "3.5 mm")
    assert [(piece.name, piece.make, piece.start) for piece in pattern.pieces] == [
        ("HEAD", 1, Start.SPIRAL),
        ("EARS", 2, Start.JOINED),
        ("Body", 1, Start.SPIRAL),
    ]
    assert [[r.leaves for r in piece.rounds] for piece in pattern.pieces] == [
        [6, 12, 18, 18, 18, 18, 12, 6],
        [6],
        [6, 12, 12, 12],
    ]
    assert all_problems(pattern) == []


def test_a_toy_gets_its_yarns_gauge_and_making_up() -> None:
    pattern = file_of(from_text(TOY))
    assert [(yarn.key, yarn.name) for yarn in pattern.yarns] == [("A", "river brown"), ("B", "cream")]
    assert pattern.gauge == Gauge("sc", 22, 24, 10)
    assert [step.step for step in pattern.making_up] == [
        "Sew the ears to the head.",
        "Sew the head to the body.",
        "Weave in all ends.",
    ]
    assert [piece.rounds[-1].colour for piece in pattern.pieces] == ["A", "B", "B"]


def test_what_is_said_between_rounds_stays_where_it_stood() -> None:
    head = file_of(from_text(TOY)).pieces[0]
    assert {r.number: r.remark for r in head.rounds if r.remark} == {
        7: "Embroider the nose now.",
        8: "Stuff the head.",
    }
    assert head.notes == ("Fasten off.",)


def test_a_cloth_in_rows_is_read_in_uk_terms() -> None:
    found = from_text(CLOTH)
    pattern = file_of(found)
    assert (pattern.terms, pattern.hook) == ("UK", "4 mm")
    (piece,) = pattern.pieces
    assert piece.start is Start.ROWS
    rows = [(f"Row {number}", 30) for number in range(1, 6)]
    assert [(r.label, r.leaves) for r in piece.rounds] == [("Start", 31), *rows]
    assert piece.rounds[3].plan is not None
    assert dict(piece.rounds[3].plan.tally.kinds) == {"dc": 30}
    assert pattern.gauge == Gauge("tr", 18, 9, 10)
    assert all_problems(pattern) == []


def test_an_untidy_hat_is_read_as_well() -> None:
    pattern = file_of(from_text(HAT))
    assert (pattern.title, pattern.hook) == ("Plain warm hat", "5 mm")
    (piece,) = pattern.pieces
    assert [r.leaves for r in piece.rounds] == [12, 24, 36, 48, 48, 48, 48, 48, 48]
    assert all_problems(pattern) == []
    assert "keep going until it is long enough!!" in f"{piece.rounds[7].text}\n{piece.rounds[8].remark}"
    assert piece.notes == ("weave in ends", "enjoy!!!")


def test_lines_that_need_an_eye_say_why() -> None:
    text = "Ball\n\nRnd 1: 6 sc in MR (6)\nRnd 2: (sc, blorp) x 3 (9)\n5 sc in next st\n"
    found = from_text(text)
    assert [(told.line, told.why) for told in found.outcomes if told.fate is Fate.EYE] == [
        (4, "unknown word 'blorp'"),
        (5, "has stitches and no round number: is it part of the round before?"),
    ]
    assert "blorp" in found.draft.pieces[0].text


def test_a_heading_without_rounds_is_kept_as_a_note_and_told() -> None:
    found = from_text("Otter\n\nTail\n\nHead\nRnd 1: 6 sc in MR\n")
    assert found.draft.notes == ("Tail",)
    assert ("Tail", "looked like the name of a piece, and no round follows") in [
        (t.text, t.why) for t in found.outcomes
    ]


def test_rounds_that_begin_again_begin_another_piece() -> None:
    found = from_text("Two\nRnd 1: 6 sc in MR\nRnd 2: inc around\nRnd 1: 8 sc in MR\n")
    assert [piece.name for piece in found.draft.pieces] == ["Piece 1", "Piece 2"]


TERMS = {
    "sc": ("Rnd 1: 6 sc in MR\n", "US"),
    "hdc": ("Rnd 1: 8 hdc in ring\n", "US"),
    "single crochet in full": ("Round 1: six single crochet in a magic ring\n", "US"),
    "sc beside tr": ("Rnd 1: 6 sc in MR\nRnd 2: tr in each st\n", "US"),
    "htr": ("Rnd 1: 8 htr in ring\n", "UK"),
    "half treble in full": ("Round 1: eight half treble in ring\n", "UK"),
    "tension": ("Tension: 18 tr x 9 rows = 10 cm\nRow 1: 20 tr\n", "UK"),
    "miss": ("Rnd 2: miss 1, 1 dc in next st\n", "UK"),
    "a turning chain of three before a dc": ("Rnd 1: ch 3 (counts as 1 dc), 11 dc in ring\n", "US"),
    "a turning chain of three before a tr": ("Rnd 1: 3 ch (counts as 1 tr), 11 tr in ring\n", "UK"),
    "a turning chain of one before a dc": ("Row 1: 20 dc\nRow 2: 1 ch, 1 dc in each st\n", "UK"),
    "a hook with a letter and a yarn": ("A size H/8 hook and worsted yarn\nRow 1: 20 dc\n", "US"),
    "letters with blanks": ("Ch 8, join, 12 s c in ring\n", "US"),
    "names outweigh a hint": ("Colours: red\nRnd 1: 6 sc in MR\n", "US"),
    "the text says UK": ("UK terms\nRnd 1: 12 tr in ring\n", "UK"),
    "the text says US": ("Written in US terminology.\nRnd 1: 12 tr in ring\n", "US"),
    "the text says American": ("American crochet terms are used.\nRnd 1: 12 dc in ring\n", "US"),
}


@pytest.mark.parametrize(("text", "terms"), [pytest.param(*case, id=name) for name, case in TERMS.items()])
def test_the_words_tell_the_terms_and_the_reader_says_which(text: str, terms: str) -> None:
    found = from_text(text)
    assert found.draft.terms == terms
    assert found.terms_why
    assert file_of(found).terms == terms


@pytest.mark.parametrize("text", ["", "Row 1: 20 dc\n", "Rnd 1: 11 dc in ring\nRnd 2: 2 dc in each st\n"])
def test_where_the_words_do_not_tell_it_asks(text: str) -> None:
    with pytest.raises(TermsUnclear):
        from_text(text)
    assert from_text(text, "UK").draft.terms == "UK"
    assert from_text(text, "US").terms_why == "as you said"


def test_what_the_maker_says_goes_before_the_words() -> None:
    assert from_text("Rnd 1: 12 tr in ring\nmiss 1\n", "US").draft.terms == "US"


LINES = st.sampled_from(
    [line for text in PATTERNS.values() for line in text.split("\n")]
    + ["[bold]x[/]", "???", "(18)", "* * *", "5", "Rnd", "Rnd 2", "HEAD (make three)", "yarn needle", "sc", "- - -"]
)


@settings(max_examples=60, deadline=None)
@given(st.lists(LINES, max_size=14).map("\n".join), st.sampled_from(["US", "UK"]))
def test_no_line_of_any_text_goes_untold(text: str, terms: str) -> None:
    found = from_text(text, terms)
    assert {told.line for told in found.outcomes} == set(filled_lines(text))


@settings(max_examples=60, deadline=None)
@given(st.lists(LINES, max_size=14).map("\n".join), st.sampled_from(["US", "UK"]))
def test_what_is_told_as_a_round_or_a_note_stands_in_the_file_word_for_word(text: str, terms: str) -> None:
    found = from_text(text, terms)
    rows = {row for piece in found.draft.pieces for row in piece.text.split("\n")} | set(found.draft.notes)
    for fate in (Fate.ROUND, Fate.EYE, Fate.NOTE):
        assert {line.strip() for line in told_of(found, fate)} <= {row.strip() for row in rows}


plain_text = (
    st.text(st.characters(exclude_categories=("C", "Z"), include_characters=" "), min_size=1, max_size=30)
    .map(lambda text: " ".join(text.split()))
    .filter(bool)
)
awkward = st.sampled_from(
    ['"""', "'''", "\\", '"', "\\n", "[piece]", "# no remark", 'a "b" c', "ends with \\", "{}", "=", "é 🌰"]
)
texts = plain_text | awkward
ROUND_LINES = ("6 sc in magic ring (6)", "inc around (12)", "(1 sc, inc) x 6 [18]", 'sc around "evenly"', "sc \\ inc")


@st.composite
def rounds(draw: st.DrawFn) -> str:
    """Numbered rounds, all of them with a heading, so that each line is one round."""
    lines = draw(st.lists(st.sampled_from(ROUND_LINES), min_size=1, max_size=6))
    return "\n".join(f"Rnd {number}: {line}" for number, line in enumerate(lines, 1))


amounts = st.none() | st.integers(1, 2000).map(float) | st.floats(0.25, 900, width=16)
yarns = st.builds(
    Yarn,
    st.from_regex(r"[A-Z]( ?[A-Za-z0-9._-]){0,6}", fullmatch=True),
    texts,
    st.from_regex(r"(#[0-9a-f]{6})?", fullmatch=True),
    st.none() | st.integers(0, 7),
    amounts,
    amounts,
)
pieces = st.builds(DraftPiece, texts, rounds(), st.integers(1, 10_000), st.sampled_from(Start))
gauges = st.builds(
    Gauge, st.sampled_from(["sc", "hdc", "dc"]), st.integers(1, 90), st.integers(1, 90), st.sampled_from([5.0, 10.0])
)
drafts = st.builds(
    Draft,
    title=texts,
    terms=st.sampled_from(["US", "UK"]),
    hook=texts | st.just(""),
    intended_for=texts | st.just(""),
    notions=st.lists(texts, max_size=3).map(tuple),
    notes=st.lists(texts, max_size=3).map(tuple),
    gauge=st.none() | gauges,
    yarns=st.lists(yarns, max_size=3, unique_by=lambda yarn: yarn.key).map(tuple),
    pieces=st.lists(pieces, min_size=1, max_size=3).map(tuple),
    making_up=st.lists(texts, max_size=3).map(tuple),
)


@settings(max_examples=80, deadline=None)
@given(drafts)
def test_writing_a_pattern_and_loading_it_gives_the_same_pattern(draft: Draft) -> None:
    pattern = loads(as_toml(draft))
    assert (pattern.title, pattern.terms, pattern.hook) == (draft.title, draft.terms, draft.hook)
    assert pattern.intended_for == draft.intended_for
    assert (pattern.notions, pattern.notes) == (draft.notions, draft.notes)
    assert (pattern.gauge, pattern.yarns) == (draft.gauge, draft.yarns)
    assert tuple(step.step for step in pattern.making_up) == draft.making_up
    assert [(p.name, p.make, p.start) for p in pattern.pieces] == [(p.name, p.make, p.start) for p in draft.pieces]
    for piece, drafted in zip(pattern.pieces, draft.pieces, strict=True):
        assert [r.text for r in piece.rounds] == drafted.text.split("\n")


@pytest.mark.parametrize("name", PATTERNS)
def test_the_file_that_is_written_reads_as_what_was_told(name: str) -> None:
    found = from_text(PATTERNS[name])
    rounds_told = told_of(found, Fate.ROUND)
    written = [line for piece in found.draft.pieces for line in piece.text.split("\n")]
    assert [line for line in written if line in rounds_told] == rounds_told


def run(folder: Path, text: str, *arguments: str) -> int:
    path = folder / "pasted.txt"
    path.write_text(text, encoding="utf-8")
    return main(["read", str(path), *arguments])


def lines_with(printed: str, *starts: str) -> Iterable[str]:
    return [line for line in printed.splitlines() if line.startswith(starts)]


def test_the_command_writes_the_file_out_and_tells_the_story_beside_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, TOY) == 0
    told = capsys.readouterr()
    assert file_of(from_text(TOY)) == loads(told.out)
    assert lines_with(told.err, "terms", "placed", "kept", "check") == [
        "terms: US (it uses 'sc')",
        "placed: 11 lines of rounds in 3 pieces, 16 other lines",
        "kept as notes, in their place: 9",
        "check: all clean",
    ]
    assert "  line 27: Stuff the head." in told.err.splitlines()


def test_the_command_lists_the_lines_that_need_an_eye_and_what_the_check_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert (
        run(tmp_path, TOY.replace("Rnd 3: sc around (12)", "Rnd 3: sc, blorp (12)").replace("(18)", "(17)", 1)) == 1
    )
    told = capsys.readouterr().err.splitlines()
    assert "need your eye: 1" in told
    assert "  line 38: Rnd 3: sc, blorp (12)  (unknown word 'blorp')" in told
    assert "check: 2 to look at" in told


def test_the_command_writes_a_new_file_and_never_over_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "otter.toml"
    assert run(tmp_path, TOY, "-o", str(target)) == 0
    assert capsys.readouterr().out == ""
    assert load(target).title == "PEBBLE THE OTTER"
    assert run(tmp_path, HAT, "-o", str(target)) == 2
    assert "is there already, and was left alone" in capsys.readouterr().err
    assert load(target).title == "PEBBLE THE OTTER"


def test_the_command_asks_for_the_terms_and_takes_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = "Cloth\nRow 1: 20 dc (20)\n"
    assert run(tmp_path, text) == 2
    told = capsys.readouterr()
    assert (told.out, told.err) == (
        "",
        "rounds read: the words do not tell US from UK terms: say --terms US or --terms UK\n",
    )
    assert run(tmp_path, text, "--terms", "UK") == 0
    told = capsys.readouterr()
    assert loads(told.out).terms == "UK"
    assert told.err.startswith("terms: UK (as you said)\n")


def test_the_command_says_when_a_text_cannot_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["read", str(tmp_path / "nowhere.txt")]) == 2
    assert capsys.readouterr().err.startswith("rounds read: ")


SNAIL = """Pebble the snail

Materials: worsted yarn in moss (A) and brick red (B), 4 mm hook, stuffing
Abbreviations: inc = 2 sc in one st.

SHELL (make 2)
Using A.
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc around (12)
Rep Rnd 2 once.
Stuff firmly.

FOOT
Row 1: ch 11, sc in 2nd ch from hook and each ch across, turn (10)
Row 2: ch 1, sc in each st across, turn (10)
Rows 3-6: rep row 2

FEELERS - make 2
With B, ch 6, sl st in 2nd ch from hook and in each ch across (5)
"""


def test_a_piece_may_be_called_like_a_stitch_and_have_words_before_its_first_round() -> None:
    pieces = file_of(from_text(SNAIL)).pieces
    assert [(piece.name, piece.make, piece.start) for piece in pieces] == [
        ("SHELL", 2, Start.SPIRAL),
        ("FOOT", 1, Start.ROWS),
        ("FEELERS", 2, Start.SPIRAL),
    ]
    assert [round_.colour for round_ in pieces[0].rounds] == ["A", "A", "A"]


def test_one_line_of_stitches_under_a_name_is_a_piece_without_numbers() -> None:
    feelers = file_of(from_text(SNAIL)).pieces[2]
    assert [(round_.number, round_.leaves, round_.colour) for round_ in feelers.rounds] == [(1, 5, "B")]


def test_a_repeat_of_rounds_is_told_as_a_round() -> None:
    found = from_text(SNAIL)
    assert "Rep Rnd 2 once." in told_of(found, Fate.ROUND)
    assert told_of(found, Fate.NOTE) == ["Using A.", "Stuff firmly."]
    assert told_of(found, Fate.EYE) == []


def test_yarns_are_found_with_their_key_behind_them() -> None:
    yarns = file_of(from_text(SNAIL)).yarns
    assert [(yarn.key, yarn.name) for yarn in yarns] == [("A", "moss"), ("B", "brick red")]


BASKET = """Quay basket
UK terms

You'll need:
* 5.5mm hook
* stitch marker

Base
1. 2ch, 10 htr into ring, ss to first htr [10]
2. 2ch, 2 htr in each st, ss to join [20]

Sides
3. 1ch, dc in back loop of each st round, ss [20]
4-6. 2ch, htr in each st, ss [20]

Handles (make two)
Row 1: ch 21, dc in 2nd ch from hook, dc to end [20]
"""


def test_a_name_over_rounds_whose_numbers_go_on_is_a_part_of_the_piece() -> None:
    pattern = file_of(from_text(BASKET))
    assert [(piece.name, [r.number for r in piece.rounds]) for piece in pattern.pieces] == [
        ("Base", [1, 2, 3, 4, 5, 6]),
        ("Handles", [1]),
    ]
    assert all_problems(pattern) == []


def test_the_size_of_a_hook_is_no_round() -> None:
    found = from_text(BASKET)
    assert found.draft.hook == "5.5mm"
    assert told_of(found, Fate.EYE) == []


PEAR = """THE ORCHARD PEAR

MATERIALS: leaf green (LG), brown (BR); 4 mm crochet hook

PEAR: Starting at bottom, with LG, ch 2; 6 sc in 2nd ch from hook. (6 sc)
RND 1: 2 sc in each sc around. (12 sc)
RND 2: (Sc in next sc, dec 1 sc over next 2 sc) around - 8 sc.

STEM: With BR, ch 7, sl st in 2nd ch from hook and in each ch across. Fasten off.
LEAF (make 2): With LG, ch 8; sc in 2nd ch from hook, hdc in each ch across. Fasten off.
"""


def test_a_name_and_a_first_line_behind_it_begin_a_piece() -> None:
    pattern = file_of(from_text(PEAR))
    assert [(piece.name, piece.make) for piece in pattern.pieces] == [("PEAR", 1), ("STEM", 1), ("LEAF", 2)]
    assert [(r.label, r.leaves, r.colour) for r in pattern.pieces[0].rounds] == [
        ("Start", 6, "LG"),
        ("Rnd 1", 12, "LG"),
        ("Rnd 2", 8, "LG"),
    ]
    assert all_problems(pattern) == []


OTTER = """Little Otter

1. HEAD (chestnut)
R1. MR 6sc (6)
R2. 6inc (12)
R3-R4. 12sc
Insert safety eyes between R3 and R4 with 4 sc in between.
R5. 6dec (6)

2. EARS x2
R1. MR 6sc (6)
"""


def test_names_of_pieces_may_be_numbered() -> None:
    pattern = file_of(from_text(OTTER))
    assert [(piece.name, piece.make, len(piece.rounds)) for piece in pattern.pieces] == [
        ("HEAD (chestnut)", 1, 5),
        ("EARS", 2, 1),
    ]
    assert all_problems(pattern) == []


def test_a_sentence_behind_a_round_without_a_total_is_no_part_of_it() -> None:
    head = file_of(from_text(OTTER)).pieces[0]
    assert head.rounds[4].remark == "Insert safety eyes between R3 and R4 with 4 sc in between."


HOOKS = {
    "Crochet hook: E": "3.5 mm",
    "size H - or whichever is right hook": "5 mm",
    "G hook": "4 mm",
    "Hook size: F (larger for a bigger one)": "3.75 mm",
    "Crochet hook size I/9": "5.5 mm",
    "U.S. J/10 (6 mm) crochet hook": "6 mm",
    "K-10.5 hook": "6.5 mm",
    "hook 2.75mm": "2.75 mm",
    "4.50mm & 4.00mm crochet hooks": "4.50mm",
    "Steel hook No. 10": "",
    "eyes, 12 mm": "",
    "cotton, hook 2.5, safety eyes 6mm, keyring": "2.5 mm",
    "safety eyes 8 mm, hook 3.25": "3.25 mm",
    "crochet hook, 3 mm, and a yarn needle": "3 mm",
    "a hook": "",
    "Use a hook that suits you": "",
}


@pytest.mark.parametrize(("line", "size"), HOOKS.items())
def test_the_size_of_a_hook_is_told_in_millimetres(line: str, size: str) -> None:
    """Letters after the Craft Yarn Council's table of hooks."""
    assert hook_in(line).replace(" ", "") == size.replace(" ", "")


def test_the_hook_of_the_list_is_taken_and_not_that_of_a_remark() -> None:
    text = (
        "Bag\n\nA friend made it with a 9 mm hook.\n\nMaterials\n- 4 mm hook\n- yarn\n\nBag\nRnd 1: 6 sc in MR (6)\n"
    )
    assert from_text(text).draft.hook == "4 mm"


YARNS_OF_A_LIST = {
    "A: moss": {"A": "moss"},
    "* Scraps of DK in oat (A), brick (B) and night blue (C)": {"A": "oat", "B": "brick", "C": "night blue"},
    "Yarn: Color 1 - plum, Color 2 - straw": {"1": "plum", "2": "straw"},
    "Cotton 8/4, Colour A (clay) 40 g, Colour B (mint) 20 g": {"A": "clay", "B": "mint"},
    "Aran wool - Colors MC-“Slate” (1 ball) and CC- “Oat” (half)": {"MC": "Slate", "CC": "Oat"},
    "- Main Color (MC) teal (0412) 2 balls": {"MC": "teal"},
    "one ball of shade 30112 (rust)": {"rust": "rust"},
    "60 g of aran in main (slate 77)": {"main": "slate"},
    "Yarn (A) brown 50 g, (B) white 10 g": {"A": "brown", "B": "white"},
    "Brown - A, white - B": {"A": "Brown", "B": "white"},
    "Colour A = straw, colour B = oat": {"A": "straw", "B": "oat"},
    "Yarn: A (straw), B (oat)": {"A": "straw", "B": "oat"},
    "2.75 mm (C) hook": {},
    "You will need A = moss, B = white": {"A": "moss", "B": "white"},
    "Cotton: A - moss, B - off white": {"A": "moss", "B": "off white"},
    "I used dusty pink (A) and white (B)": {"A": "dusty pink", "B": "white"},
    "Colours: moss (A) and white (B)": {"A": "moss", "B": "white"},
    "cotton (A moss, B white)": {"A": "moss", "B": "white"},
    "Materials: cotton in A = moss and B = white": {"A": "moss", "B": "white"},
    "WS: wrong side": {},
    "UK terms (US in brackets)": {},
    "A: sc in each st": {},
    "wool in a Main Colour (MC) and two Contrast Colours (CC1 and CC2)": {},
}


@pytest.mark.parametrize(("line", "yarns"), YARNS_OF_A_LIST.items(), ids=list(YARNS_OF_A_LIST))
def test_yarns_and_their_keys_in_a_list(line: str, yarns: dict[str, str]) -> None:
    assert {yarn.key: yarn.name for yarn in yarns_in(line)} == yarns


BEETLE = """Dot the Beetle

You'll need:
* Cotton in red and black, and a bit of white
* 3 mm hook

BODY (red)
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Change to black yarn
Rnd 3: sc around (12)

Abbrev.
sc = single crochet

Feeler - make two, in black
Rnd 1: 4 sc in magic ring (4)
Rnd 2: sc around (4) (white)

Ear (R)
Rnd 1: 5 sc in magic ring (5)
"""


def test_yarns_that_no_list_names_come_from_the_pieces_and_rounds() -> None:
    pattern = file_of(from_text(BEETLE))
    assert [(piece.name, piece.yarn) for piece in pattern.pieces] == [
        ("BODY", "red"),
        ("Feeler", "black"),
        ("Ear (R)", ""),
    ]
    assert [item.colour for piece in pattern.pieces for item in piece.rounds] == [
        "red",
        "red",
        "black",
        "black",
        "white",
        "",
    ]
    assert {yarn.key for yarn in pattern.yarns} == {"red", "black", "white"}
    assert not pattern.problems


@pytest.mark.parametrize("lists", ["Colour A = straw, colour B = oat", "Yarn A: straw\nYarn B: oat"])
def test_the_yarns_of_a_list_are_listed(lists: str) -> None:
    page = f"Bun\n\nYou will need:\n{lists}\n3 mm hook\n\nWith A\nRnd 1: 6 sc in magic ring (6)\n"
    pattern = file_of(from_text(page))
    assert [(yarn.key, yarn.name) for yarn in pattern.yarns] == [("A", "straw"), ("B", "oat")]
    assert [item.colour for item in pattern.pieces[0].rounds] == ["A"]


def test_no_round_and_no_yarn_is_taken_for_a_word_of_the_page() -> None:
    page = "Bun\n\nYarn B - oat\n\nRd 1: 6 sc in magic ring (6)\nRd 2: inc (12)\nRd 3: sc all the way (12)\n"
    found = from_text(page)
    assert found.draft.words == () and found.unexplained_words == ()


NAMED_WITH_YARN = {
    "Cap - mustard yarn": ("Cap", "mustard"),
    "Saucer: terracotta": ("Saucer", "terracotta"),
    "Stalk: With A": ("Stalk", "A"),
    "Collar in light green": ("Collar", "light green"),
    "Snout (with pink yarn)": ("Snout", "pink"),
    "Paw (cream, worked flat)": ("Paw (cream, worked flat)", "cream"),
    "Tail - cream, then grey": ("Tail", ""),
    "Ear (white → grey)": ("Ear (white → grey)", ""),
}


@pytest.mark.parametrize(("line", "piece"), NAMED_WITH_YARN.items(), ids=list(NAMED_WITH_YARN))
def test_a_piece_is_named_together_with_its_yarn(line: str, piece: tuple[str, str]) -> None:
    page = f"Bobble Mouse\n\nMaterials\nwool: A: oat\n\n{line}\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc around (6)\n"
    pattern = file_of(from_text(page))
    assert [(each.name, each.yarn) for each in pattern.pieces] == [piece]
    assert pattern.title == "Bobble Mouse"


def test_a_page_begins_with_its_piece_and_ends_with_a_word_to_its_readers() -> None:
    page = """Lily Pad Pin
    With green: ch 4, sl st to form ring
    Rnd 1: ch 1, 9 sc in ring, sl st to finish (9)
    F/O and hide the tail.
    Bud (make 3 in cream): Ch 6. Sc in 2nd ch from hook, hdc in next 2 ch, dc in next 2 ch. F/O.
    To finish
    Sew the buds to the pad.
    Do not sell this pattern, thank you.
    """
    draft = from_text("\n".join(line.strip() for line in page.splitlines()), "US").draft
    assert draft.title == "Lily Pad Pin"
    assert [(piece.name, piece.make, piece.yarn) for piece in draft.pieces] == [
        ("Lily Pad Pin", 1, ""),
        ("Bud", 3, "cream"),
    ]
    assert draft.making_up == ("Sew the buds to the pad.",)
    assert [yarn.key for yarn in draft.yarns] == ["cream", "green"]
    assert draft.notes == ("Do not sell this pattern, thank you.",)


AROUND = """Skip to content
Our shop  Basket
Plum the Shrew - free crochet pattern
You need any DK yarn and a 3.5mm hook.
Conditional abbreviations:
KA - ring amigurumi
Abbreviations: ch - chain, ss - slip stitch
Gauge: 12 sts x 9 rows = 4" in hdc

HEAD
Make 3.
Rnd 1: 6 sc in magic ring, join. (6)
Rnds 2-5: sc around, join. (6)
Attach the keyring at the top.

Feet (both alike)
Rnd 1: 5 sc in magic ring (5)
Rnd 2: sc around (5)
"""


def test_what_stands_around_the_rounds_goes_to_its_place() -> None:
    draft = from_text(AROUND, "US").draft
    assert (draft.title, draft.hook, draft.yarns) == ("Plum the Shrew - free crochet pattern", "3.5mm", ())
    assert draft.gauge is not None and draft.gauge.stitch == "hdc"
    assert "abbreviations" not in dict(draft.words) and not draft.notions
    made = [(piece.name, piece.make, piece.start) for piece in draft.pieces]
    assert made == [("HEAD", 3, Start.JOINED), ("Feet", 2, Start.SPIRAL)]


def test_a_number_of_a_hook_that_is_no_letter_tells_no_size() -> None:
    assert hook_in("Hook \u2116 2") == ""
    assert hook_in("Hook N-13") == "9 mm"


def test_small_pictures_around_a_line_are_no_part_of_it() -> None:
    page = """🦊 POCKET FOX 🦊
    🧵 Materials: cotton in rust, hook 2.5, safety eyes 6mm

    ✨Head✨
    Rnd1: 6sc in MR
    👀 insert the eyes
    Rnd2: (1sc,inc)*3 (9) stuff
    ✨Tail✨ rust
    Rnd1: 5sc in MR ☆ Rnd2: 5sc
    """
    draft = from_text("\n".join(line.strip() for line in page.splitlines()), "US").draft
    assert (draft.title, draft.hook) == ("POCKET FOX", "2.5 mm")
    assert draft.notions == ("cotton in rust, hook 2.5, safety eyes 6mm",)
    assert [(piece.name, piece.yarn) for piece in draft.pieces] == [("Head", ""), ("Tail", "rust")]
    assert "insert the eyes" in draft.pieces[0].text.splitlines()
    assert not [problem for problem in all_problems(loads(as_toml(draft))) if problem.severity.value == "error"]


def test_a_cutting_from_a_magazine_of_the_seventies_is_read() -> None:
    page = """JUG COVER
    Materials.—1 oz. of cotton in main shade (M), oddments in blue (B); a No. 3.50 hook.
    THE CAP
    With M make 22 ch.
    1st row.—1 tr. into 4th ch. from hook, 1 tr. into each ch. to end: 20 sts.
    Shape top.—
    1st dec. row.—3 ch., miss 1st st., 1 tr. into each st. to last 2 sts., work next 2 tr. together: 19 sts.
    2nd dec. row.—3 ch., miss 1st st., 1 tr. into each st. to last 2 sts., work next 2 tr. together: 18 sts.
    TO MAKE UP.—Press lightly.
    """
    draft = from_text("\n".join(line.strip() for line in page.splitlines()), "UK").draft
    assert draft.hook == "3.50 mm"
    assert [(yarn.key, yarn.name) for yarn in draft.yarns] == [("M", "main shade"), ("B", "blue")]
    assert draft.making_up == ("Press lightly.",)
    assert [(piece.name, piece.start) for piece in draft.pieces] == [("THE CAP", Start.ROWS)]
    assert [r.leaves for r in loads(as_toml(draft)).pieces[0].rounds] == [22, 20, 19, 18]


def test_a_page_that_was_translated_calls_its_stitches_otherwise() -> None:
    page = """Six-Leaf Mouse
    (pattern in US terms)
    Yarn: cotton, 1 ball. Hook: E (3.5 mm).
    sc = tight mesh
    inc = double the mesh
    Felt for the eyes. Clear thread for hanging

    Ch 4, join with sl st to form a ring.
    Rnd 1: 6 sc in ring = 6 M
    Rnd 2: double every 2nd mesh = 9 M
    Rnd 3: every 2nd and 3rd mesh together = 6 M
    """
    draft = from_text("\n".join(line.strip() for line in page.splitlines()), "US").draft
    assert (draft.title, draft.hook) == ("Six-Leaf Mouse", "3.5 mm")
    assert dict(draft.words) == {"mesh": "stitch"}
    assert draft.notions == ("Yarn: cotton, 1 ball.", "Hook: E (3.5 mm).")
    (piece,) = loads(as_toml(draft)).pieces
    assert piece.name == "Six-Leaf Mouse" and "to form a ring" in draft.pieces[0].text
    assert [r.leaves for r in piece.rounds] == [6, 9, 6]


def test_goods_without_a_heading_are_no_pieces_and_a_shell_may_be_one() -> None:
    page = """Tilly the Snail
    Here's what I used
    Yarn A rust, 50 g; yarn B sand
    Crochet needle 2,5 mm
    Stuffing

    Shell
    Start with A and make a magic ring.
    Rnd 1: 6 sc into the ring (6)

    Feet (4 piece)
    Rnd 1: 4 sc in magic ring (4)
    """
    draft = from_text("\n".join(line.strip() for line in page.splitlines()), "US").draft
    assert draft.hook == "2.5 mm" and draft.notions[-1] == "Stuffing"
    assert [(yarn.key, yarn.name) for yarn in draft.yarns] == [("A", "rust"), ("B", "sand")]
    assert [(piece.name, piece.make) for piece in draft.pieces] == [("Shell", 1), ("Feet", 4)]


def test_a_heading_over_the_pattern_names_no_piece_and_the_hook_may_stand_under_a_name() -> None:
    page = """M O U S E   C L O T H
    A present for the neighbours.
    pd = slipped point

    INSTRUCTIONS
    Rnd 1: 6 sc in magic ring (6)
    Rnd 2: pd in each st (6)
    Join with sc through back loops or whip stitch if you prefer.
    """
    draft = from_text("\n".join(line.strip() for line in page.splitlines()), "US").draft
    assert (draft.title, draft.yarns) == ("MOUSE CLOTH", ())
    assert [piece.name for piece in draft.pieces] == ["MOUSE CLOTH"]
    assert [r.leaves for r in loads(as_toml(draft)).pieces[0].rounds][:2] == [6, 6]
    draft = from_text("Set\n\nCLOTH\ncotton ww / hook I (5.5 mm)\nRnd 1: 6 sc in magic ring (6)\n", "US").draft
    assert draft.hook == "5.5 mm" and [piece.name for piece in draft.pieces] == ["CLOTH"]


def test_stitches_told_on_a_list_of_words_are_no_piece() -> None:
    page = """Tile
Stitches
sc - single crochet, dc - double crochet, sp - space
picot: ch 4, sl st in first ch
Corner: (2 dc, ch 3, 2 dc) all in the same sp

How to do it

Rnd 1: 8 sc in magic ring (8)
"""
    draft = from_text(page, "US").draft
    assert [piece.text for piece in draft.pieces] == ["Rnd 1: 8 sc in magic ring (8)"]
    assert "picot: ch 4, sl st in first ch" in draft.notes


MITTEN = """Mitts

MITT (make two)

Cuff
Rnd 1: ch 24, join, sc in each ch (24)
Rnd 2: sc around (24)

Palm
Rnd 3: sc around (24)

Thumb
Rnd 1: 9 sc in magic ring (9)
Rnd 2: sc around (9)

FLOWER
Rnd 1: 7 sc in magic ring (7)
"""


def test_parts_of_what_is_made_several_times_are_made_as_often_and_that_is_asked() -> None:
    found = from_text(MITTEN, "US")
    assert [(piece.name, piece.make) for piece in found.draft.pieces] == [("MITT", 2), ("Thumb", 2), ("FLOWER", 1)]
    (asked,) = [told for told in found.outcomes if told.fate is Fate.EYE]
    assert (asked.text, "a part of 'MITT' and so made 2 times: right?" in asked.why) == ("Thumb", True)


def test_a_pattern_in_one_piece_is_called_what_the_page_is() -> None:
    rounds = "Rnd 1: 7 sc in magic ring (7)\nRnd 2: inc around (14)\n"
    names = [piece.name for piece in from_text(f"Plump Pear\n\nInstructions\n{rounds}", "US").draft.pieces]
    assert names == ["Plump Pear"]
    names = [piece.name for piece in from_text(f"Plump Pear\n\n{rounds}\nLeaf\n{rounds}", "US").draft.pieces]
    assert names == ["Piece 1", "Leaf"]


@pytest.mark.parametrize(
    ("back", "start"),
    [("working along other side of ch, sc in next 7 ch, 2 sc in last ch (20)", "spiral"), ("turn (11)", "rows")],
)
def test_rows_along_both_sides_of_a_chain_go_around(back: str, start: str) -> None:
    page = f"Slipper\n\nSOLE\nCh 10.\nRow 1: sc in 2nd ch from hook, sc in next 7 ch, 3 sc in last ch, {back}\n"
    (piece,) = from_text(page, "US").draft.pieces
    assert piece.start.value == start


def test_the_end_of_a_sentence_opens_no_part_of_the_page() -> None:
    page = (
        "THE GATE\nCommence with 2 ch. 1st rnd: 6 d.c. into 2nd ch. from hook. Fasten off, leaving an end for\n"
        "sewing.\n\nTHE POSTS (two alike)\nCommence with 2 ch. 1st rnd: 5 d.c. into 2nd ch. from hook.\n"
    )
    draft = from_text(page, "UK").draft
    assert [(piece.name, piece.make) for piece in draft.pieces] == [("THE GATE", 1), ("THE POSTS", 2)]
    assert draft.making_up == ()


@pytest.mark.parametrize("name", ["~ Roots ~", "*** Roots ***", "[Roots]", "— Roots —"])
def test_a_name_between_the_same_signs_stands_out(name: str) -> None:
    page = f"""Radish charm (US terms)
3 mm hook and some DK yarn

~ Radish ~
Rnd 1: 5 sc in magic ring (5)
Rnd 2: inc in each st (10)
Stuff.

{name}
Join white at the tip, *ch 7, sl st in 2nd ch from hook and in next 5 ch, sl st in next st; rep from * once more.
"""
    draft = from_text(page, "US").draft
    assert (draft.title, draft.hook) == ("Radish charm (US terms)", "3 mm")
    assert [piece.name for piece in draft.pieces] == ["Radish", "Roots"]
