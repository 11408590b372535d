"""Pattern files as people write them: what is wrong is told in plain words, all of it in one run, with its place."""

from __future__ import annotations

import gc
from dataclasses import replace
from pathlib import Path

import pytest

from tracker.diagnostics import Severity, show
from tracker.pattern.loader import (
    MAX_COPIES,
    MAX_PIECES,
    all_problems,
    load,
    loads,
)
from tracker.pattern.model import Gauge, Pattern, Start, Yarn
from tracker.pattern.pattern_file import MAX_FILE, UnreadableFile

ROUNDS = 'rounds = """\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)\n"""\n'
PIECE = f'[[piece]]\nname = "Cap"\n{ROUNDS}'

WHOLE = '''title = "Acorn cup"
terms = "UK"
hook = "3 mm"
for = "adult"
notions = ["a needle", "a marker"]
notes = "Work tightly."

[gauge]
stitch = "dc"
stitches = 24
rounds = 26.5
over = "4 in"

[yarn.B]
name = "bark"
colour = "#6B4A2f"
weight = 3
ball_grams = 50
ball_metres = 120.5

[yarn.A]

[[piece]]
name = "Cup"
make = 3
start = "joined"
notes = ["Leave a tail.", "Do not stuff."]
rounds = """
Rnd 1: 6 dc in magic ring (6)
"""

[[making-up]]
step = "Weave in the tail."
'''


def problems_of(source: str) -> list[tuple[str, int, str, str]]:
    """Severity, line from 1, message and help of each problem, in the order of the file."""
    found = all_problems(loads(source))
    return [(p.severity.value, p.span.line + 1, p.message, p.help) for p in found]


def messages_of(source: str) -> list[str]:
    return [message for _, _, message, _ in problems_of(source)]


def refusal_of(source: str) -> UnreadableFile:
    with pytest.raises(UnreadableFile) as stop:
        loads(source)
    return stop.value


def test_a_whole_file_is_read_as_it_stands() -> None:
    pattern = loads(WHOLE)
    assert (pattern.title, pattern.terms, pattern.hook, pattern.intended_for) == ("Acorn cup", "UK", "3 mm", "adult")
    assert pattern.notions == ("a needle", "a marker")
    assert pattern.notes == ("Work tightly.",)
    assert pattern.gauge == Gauge("dc", 24.0, 26.5, 4 * 2.54)
    assert pattern.yarns == (Yarn("B", "bark", "#6b4a2f", 3, 50.0, 120.5), Yarn("A", "A"))
    (piece,) = pattern.pieces
    assert (piece.name, piece.make, piece.start) == ("Cup", 3, Start.JOINED)
    assert piece.notes == ("Leave a tail.", "Do not stuff.")
    assert [step.step for step in pattern.making_up] == ["Weave in the tail."]
    assert all_problems(pattern) == []


def test_what_is_left_out_has_a_sensible_value() -> None:
    pattern = loads(f"[[piece]]\n{ROUNDS}", "acorn.toml")
    assert (pattern.title, pattern.terms, pattern.gauge, pattern.yarns) == ("acorn", "US", None, ())
    (piece,) = pattern.pieces
    assert (piece.name, piece.make, piece.start) == ("Piece 1", 1, Start.SPIRAL)
    assert all_problems(pattern) == []


def test_the_digest_names_this_very_text() -> None:
    assert loads(WHOLE).digest == loads(WHOLE).digest != loads(WHOLE + "\n").digest


MISSPELLED = f"""titel = "Acorn"
hok = "3 mm"
zzz = 1
[guage]
stitches = 22
[yarn.A]
nmae = "bark"
[[piece]]
name = "Cap"
mak = 2
{ROUNDS}[[making-up]]
stp = "sew"
"""


def test_every_unknown_key_is_named_with_the_nearest_known_one_in_one_run() -> None:
    known = "title, terms, size, sizes, stage, hook, notions, notes, for, words, gauge, yarn, piece, making-up"
    unknown = [(line, message, fix) for _, line, message, fix in problems_of(MISSPELLED) if "unknown" in message]
    assert unknown == [
        (1, "unknown key 'titel' in the pattern", "did you mean 'title'?"),
        (2, "unknown key 'hok' in the pattern", "did you mean 'hook'?"),
        (3, "unknown key 'zzz' in the pattern", f"known are: {known}"),
        (4, "unknown key 'guage' in the pattern", "did you mean 'gauge'?"),
        (7, "unknown key 'nmae' in [yarn.A]", "did you mean 'name'?"),
        (10, "unknown key 'mak' in [[piece]] number 1", "did you mean 'make'?"),
        (16, "unknown key 'stp' in [[making-up]] number 1", "did you mean 'step'?"),
    ]


def test_an_unknown_key_is_a_warning_under_its_own_letters() -> None:
    problem = all_problems(loads(f"  titel = 1\n{PIECE}"))[0]
    assert problem.severity is Severity.WARNING
    assert (problem.span.start, problem.span.end) == (2, 7)


WRONG_TYPES = {
    "title = 5": "'title' of the pattern should be text in \"quotes\"",
    "title = true": "'title' of the pattern should be text in \"quotes\"",
    "title = 2020-01-01": "'title' of the pattern should be text in \"quotes\"",
    'terms = "FR"': '\'terms\' of the pattern should be "US" or "UK"',
    "terms = 1": '\'terms\' of the pattern should be "US" or "UK"',
    'hook = ["3"]': "'hook' of the pattern should be text in \"quotes\"",
    "for = {}": "'for' of the pattern should be text in \"quotes\"",
    "notions = 7": '\'notions\' of the pattern should be a list of texts, ["like", "this"]',
    "notes = [1, 2]": '\'notes\' of the pattern should be a list of texts, ["like", "this"]',
    'gauge = "tight"': "'gauge' of the pattern should be a table: [gauge]",
    "gauge = [1]": "'gauge' of the pattern should be a table: [gauge]",
    'yarn = "red"': "'yarn' of the pattern should be tables: [yarn.A]",
    "making-up = 3": "'making-up' of the pattern should be a list of tables: [[making-up]]",
    'gauge.stitches = "22"': "'stitches' of [gauge] should be a number above 0",
    "gauge.stitches = 0": "'stitches' of [gauge] should be a number above 0",
    "gauge.rounds = -1.5": "'rounds' of [gauge] should be a number above 0",
    "gauge.rounds = inf": "'rounds' of [gauge] should be a number above 0",
    "gauge.rounds = nan": "'rounds' of [gauge] should be a number above 0",
    'gauge = {stitches=9, rounds=9, over = "x"}': '\'over\' of [gauge] should be a length such as "10 cm" or "4 in"',
    "gauge = {stitches=9, rounds=9, over = {}}": '\'over\' of [gauge] should be a length such as "10 cm" or "4 in"',
    "yarn.A.name = 3": "'name' of [yarn.A] should be text in \"quotes\"",
    'yarn.A.colour = "red"': "'colour' of [yarn.A] should be a colour such as \"#b23a2e\"",
    "yarn.A.colour = 123456": "'colour' of [yarn.A] should be a colour such as \"#b23a2e\"",
    "yarn.A.weight = 9": "'weight' of [yarn.A] should be a whole number from 0 to 7",
    "yarn.A.weight = 2.5": "'weight' of [yarn.A] should be a whole number from 0 to 7",
    "yarn.A.weight = false": "'weight' of [yarn.A] should be a whole number from 0 to 7",
    'yarn.A.ball_grams = "50 g"': "'ball_grams' of [yarn.A] should be a number above 0",
    "yarn.A.ball_metres = 0": "'ball_metres' of [yarn.A] should be a number above 0",
    'yarn.A = "bark"': "'A' of [yarn] should be a table: [yarn.A]",
}


@pytest.mark.parametrize(("line", "message"), WRONG_TYPES.items())
def test_a_value_of_a_wrong_type_says_what_it_should_be(line: str, message: str) -> None:
    assert message in messages_of(f"{line}\n{PIECE}")


IN_A_PIECE = {
    "name = 3": "'name' of [[piece]] number 1 should be text in \"quotes\"",
    'make = "two"': f"'make' of [[piece]] number 1 should be a whole number from 1 to {MAX_COPIES:,}",
    "make = 0": f"'make' of [[piece]] number 1 should be a whole number from 1 to {MAX_COPIES:,}",
    "make = true": f"'make' of [[piece]] number 1 should be a whole number from 1 to {MAX_COPIES:,}",
    "make = 999999999": f"'make' of [[piece]] number 1 should be a whole number from 1 to {MAX_COPIES:,}",
    'start = "flat"': '\'start\' of [[piece]] number 1 should be "spiral" or "joined" or "rows"',
    "notes = 2": '\'notes\' of [[piece]] number 1 should be a list of texts, ["like", "this"]',
}


@pytest.mark.parametrize(("line", "message"), IN_A_PIECE.items())
def test_and_so_does_one_in_a_piece_at_its_line(line: str, message: str) -> None:
    assert problems_of(f"[[piece]]\n{ROUNDS}{line}\n") == [("error", 6, message, "")]


@pytest.mark.parametrize("rounds", ["5", "[]", '["Rnd 1: 6 sc in MR"]', "true", "{}"])
def test_rounds_that_are_no_text_are_told_and_the_piece_stays(rounds: str) -> None:
    pattern = loads(f'[[piece]]\nname = "Cap"\nrounds = {rounds}\n')
    told = [problem.message for problem in all_problems(pattern)]
    assert told == ["'Cap' has no rounds", "'rounds' of [[piece]] number 1 should be text in \"quotes\""]
    assert [piece.name for piece in pattern.pieces] == ["Cap"]


@pytest.mark.parametrize("value", ["3", '"Cap"', "true", "{}"])
def test_pieces_that_are_no_list_are_told(value: str) -> None:
    assert messages_of(f"piece = {value}\n") == [
        "'piece' of the pattern should be a list of tables: [[piece]]",
        "no piece to make",
    ]


@pytest.mark.parametrize("value", ["[1]", '["Cap"]', "[[]]"])
def test_a_piece_that_is_no_table_is_told(value: str) -> None:
    assert messages_of(f"piece = {value}\n") == ["each piece should be a table: [[piece]]", "no piece to make"]


def test_all_that_is_wrong_is_told_at_its_line_in_one_run() -> None:
    source = (
        'title = 5\nterms = "FR"\n[gauge]\nstitches = "22"\nrounds = 24\n[yarn.A]\nweight = 9\n'
        '[[piece]]\nname = "Cap"\nmake = 0\n'
        'rounds = """\nRnd 1: 6 sc in MR (7)\nRnd 1: icn\n"""\n[[piece]]\nnme = "Stem"\n'
    )
    assert [(line, message) for _, line, message, _ in problems_of(source)] == [
        (1, "'title' of the pattern should be text in \"quotes\""),
        (2, '\'terms\' of the pattern should be "US" or "UK"'),
        (3, "a gauge needs stitches and rounds"),
        (4, "'stitches' of [gauge] should be a number above 0"),
        (7, "'weight' of [yarn.A] should be a whole number from 0 to 7"),
        (10, f"'make' of [[piece]] number 1 should be a whole number from 1 to {MAX_COPIES:,}"),
        (12, "the instruction makes 6, and the total says 7"),
        (13, "round number 1 comes again"),
        (13, "unknown word 'icn': did you mean inc?"),
        (15, "'Piece 2' has no rounds"),
        (16, "unknown key 'nme' in [[piece]] number 2"),
    ]


@pytest.mark.parametrize("source", ["", "\n\n", "# a remark\n", 'title = "Acorn"\n'])
def test_a_file_without_a_piece_says_how_to_add_one(source: str) -> None:
    assert problems_of(source)[0][2:] == ("no piece to make", "add [[piece]] with a name and rounds")


@pytest.mark.parametrize("rounds", ["", 'rounds = ""\n', 'rounds = """\n\n   \n"""\n'])
def test_a_piece_without_rounds_says_how_to_add_them(rounds: str) -> None:
    source = f'title = "Acorn"\n[[piece]]\nname = "Cup"\n{rounds}'
    assert problems_of(source) == [("error", 2, "'Cup' has no rounds", 'add rounds = """..."""')]


@pytest.mark.parametrize("half", ["stitches = 22", "rounds = 22", 'over = "10 cm"'])
def test_half_a_gauge_is_no_gauge(half: str) -> None:
    pattern = loads(f"{PIECE}[gauge]\n{half}\n")
    assert pattern.gauge is None
    assert [problem.message for problem in all_problems(pattern)] == ["a gauge needs stitches and rounds"]


def test_too_many_pieces_are_told_with_the_limit() -> None:
    assert messages_of('[[piece]]\nrounds = "6 sc in MR"\n' * (MAX_PIECES + 1)) == [f"more than {MAX_PIECES} pieces"]


BROKEN = {
    "an open string": ('title = "Acorn\n', 1),
    "an open text of three quotes": ('[[piece]]\nrounds = """\nRnd 1: 6 sc in MR\n', 4),
    "a bare word": ("title = Acorn\n", 1),
    "no equals sign": ('hook = "3 mm"\ntitle "Acorn"\n', 2),
    "no key": ("= 3\n", 1),
    "a line end inside quotes": ('[[piece]]\nrounds = "Rnd 1: 6 sc in MR\nRnd 2: inc"\n', 2),
    "a table bracket left open": ('[[piece]\nname = "Cap"\n', 1),
    "a list left open": ("notes = [1, 2\n", 2),
    "a key twice": ('title = "A"\n\ntitle = "B"\n', 3),
    "a table twice": ("[gauge]\nstitches = 2\n[gauge]\n", 3),
    "a backslash": ('title = "C:\\acorn"\n', 1),
    "a pattern that was pasted as it is": ("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)\n", 1),
}


@pytest.mark.parametrize(("source", "line"), [pytest.param(*case, id=name) for name, case in BROKEN.items()])
def test_what_is_not_toml_is_refused_at_its_line_with_what_to_do(source: str, line: int) -> None:
    (problem,) = refusal_of(source).problems
    assert problem.code == "not-toml"
    assert problem.message.startswith("not a pattern file: ")
    assert problem.span.line + 1 == line
    assert problem.help == 'text stands in "quotes", rounds in """three quotes"""'


def test_the_refusal_keeps_the_source_so_that_the_line_can_be_shown() -> None:
    stop = refusal_of('hook = "3 mm"\ntitle = Acorn\n')
    shown = show(stop.problems[0], stop.source.split("\n"), "acorn.toml").split("\n")
    assert shown[0].startswith("acorn.toml:2:9: error: not a pattern file: ")
    assert shown[1:3] == ["    title = Acorn", "            ^"]


def test_lists_in_lists_without_end_are_refused() -> None:
    (problem,) = refusal_of("notes = " + "[" * 100_000).problems
    assert problem.code == "too-deep"


def written(folder: Path, content: bytes) -> Path:
    path = folder / "acorn.toml"
    path.write_bytes(content)
    return path


@pytest.mark.parametrize(
    ("content", "byte"),
    [(b'title = "\xff"', 10), (b'title = "caf\xe9"', 13), (b"\x80", 1)],
    ids=["a stray byte", "Latin-1", "a byte that cannot come first"],
)
def test_a_file_that_is_not_utf8_says_at_which_byte(content: bytes, byte: int, tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile) as stop:
        load(written(tmp_path, content))
    (problem,) = stop.value.problems
    assert (problem.message, problem.help) == (f"byte {byte} is not UTF-8 text", "save the file as UTF-8")


def test_a_file_with_a_byte_order_mark_and_windows_line_ends_reads_like_any_other(tmp_path: Path) -> None:
    there = load(written(tmp_path, b"\xef\xbb\xbf" + WHOLE.replace("\n", "\r\n").encode()))
    assert there.digest == loads(WHOLE).digest
    assert replace(there, source="") == replace(loads(WHOLE), source="")


def test_a_file_that_is_too_large_is_refused_with_the_limit(tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile) as stop:
        load(written(tmp_path, b"#" * (MAX_FILE + 1)))
    assert stop.value.problems[0].message == "the file has more than 2,000,000 bytes"


def test_text_that_is_too_large_is_refused_with_the_limit() -> None:
    assert refusal_of("#" * (MAX_FILE + 1)).problems[0].message == "the text has more than 2,000,000 characters"


def test_a_large_file_of_remarks_is_read(tmp_path: Path) -> None:
    assert all_problems(load(written(tmp_path, b"# x\n" * 100_000 + PIECE.encode()))) == []


@pytest.mark.parametrize(
    ("name", "code", "help"),
    [
        ("nowhere.toml", "no-file", "check the name and the folder"),
        (".", "folder", "name a pattern file in it"),
    ],
)
def test_a_file_that_cannot_be_read_says_what_to_check(name: str, code: str, help: str, tmp_path: Path) -> None:
    with pytest.raises(UnreadableFile) as stop:
        load(tmp_path / name)
    (problem,) = stop.value.problems
    assert (problem.code, problem.help) == (code, help)


HOSTILE = "[bold]loud[/bold] [/] [red {0} %s <b> ${HOME}"


def hostile() -> Pattern:
    return loads(
        f'title = "{HOSTILE}"\nhook = "{HOSTILE}"\nnotions = ["{HOSTILE}"]\nnotes = ["{HOSTILE}"]\n'
        f'for = "{HOSTILE}"\n'
        f'[yarn."{HOSTILE}"]\nname = "{HOSTILE}"\n[[piece]]\nname = "{HOSTILE}"\nnotes = ["{HOSTILE}"]\n{ROUNDS}'
        f'[[making-up]]\nstep = "{HOSTILE}"\n'
    )


def test_hostile_text_is_kept_to_the_letter() -> None:
    pattern = hostile()
    (piece,), (yarn,) = pattern.pieces, pattern.yarns
    texts = {pattern.title, pattern.hook, pattern.intended_for, yarn.key, yarn.name, piece.name}
    assert texts | {*pattern.notions, *pattern.notes, *piece.notes} == {HOSTILE}
    assert pattern.making_up[0].step == HOSTILE


def test_rounds_are_kept_to_the_letter_too() -> None:
    text = "Rnd 1: [6 sc] in magic ring [/] <6>"
    (piece,) = loads(f'[[piece]]\nrounds = """\n{text}\n"""\n').pieces
    assert [round_.text for round_ in piece.rounds] == [text]


INVISIBLE = "\x00\x07\x08\x1b\x7f\x85\x9b\u200b\u200e\u202e\u2066\ufeff\ue000\U000e0001"


def test_control_direction_and_private_characters_are_taken_out() -> None:
    between = f"ac{INVISIBLE}orn"
    pattern = loads(
        f"title = '{between}'\n[[piece]]\nname = '{between}'\nrounds = '''\nRnd 1: 6{INVISIBLE} sc in MR'''\n"
    )
    assert (pattern.title, pattern.pieces[0].name) == ("acorn", "acorn")
    assert pattern.pieces[0].rounds[0].text == "Rnd 1: 6 sc in MR"
    assert not set(INVISIBLE) & set(pattern.source)


def test_letters_of_every_script_are_kept() -> None:
    title = "Žaludek żołądź желудь どんぐり 橡子 🌰 œuf"
    assert loads(f'title = "{title}"\n{PIECE}').title == title


def test_spaces_at_the_ends_and_twice_between_are_made_one() -> None:
    assert loads(f'title = "  Acorn \t cup "\n{PIECE}').title == "Acorn cup"


@pytest.mark.parametrize(
    ("over", "centimetres"),
    [("10 cm", 10.0), ("100mm", 10.0), ("4 in", 10.16), ("4 inches", 10.16), ('4\\"', 10.16), ("10", 10.0)],
)
def test_a_gauge_may_be_given_in_the_units_of_the_trade(over: str, centimetres: float) -> None:
    """One inch is 2.54 cm exactly (International Yard and Pound Agreement, 1959)."""
    gauge = loads(f'{PIECE}[gauge]\nstitches = 20\nrounds = 20\nover = "{over}"\n').gauge
    assert gauge is not None
    assert gauge.over_cm == pytest.approx(centimetres)


def test_what_is_read_holds_itself_in_no_circle() -> None:
    """Python's search for circles rests while a pattern is read: there must be none for it to find."""
    told = "\n".join(f"Rnd {n}: {n} sc, wombat, (inc, sc x {n}, rep from * (6 or 7 {{{n}" for n in range(2, 20))
    text = f'{PIECE}[[piece]]\nname = "Odd"\nrounds = """\nRnd 1: (sc, inc) x 6 (12)\n{told}\n"""\n'
    loads(text.replace("wombat", "wombats"))  # what is loaded and kept at first is no matter
    gc.collect()
    gc.disable()
    try:
        pattern = loads(text)
        assert not gc.isenabled()
        assert gc.collect() == 0
    finally:
        gc.enable()
    assert all_problems(pattern)
    loads(text)
    assert gc.isenabled()
