"""Patterns that mean harm: text stays text, limits have names, and nothing in a pattern is ever run."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any
from unicodedata import category
from xml.etree import ElementTree

import pytest
import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as some

from tracker.cli.main import main
from tracker.cli.plain_answers import Teller
from tracker.cli.work_plain import VERBS, answer
from tracker.diagnostics import show
from tracker.pattern.loader import all_problems, load, loads
from tracker.pattern.model import Pattern
from tracker.pattern.pattern_file import MAX_FILE, UnreadableFile
from tracker.project.project import open_project

SEEN = {
    "markup": "[bold red]loud[/bold red]",
    "closing": "[/] [/bold] [red",
    "action": "[@click=app.quit]press[/]",
    "link": "[link=file:///etc/passwd]look[/link]",
    "emoji": ":smile: :warning:",
    "format": "{0} {title!r} %s %(x)d ${HOME}",
    "shell": "$(touch pwned) `touch pwned` ; touch pwned",
    "page": "<script>alert(1)</script> &lt; ]]> <!-- x -->",
    "path": "../../pwned",
    "device": "C:\\CON\\pwned",
}
"""Texts of plain characters that some program would take for more than text."""

UNSEEN = {
    "title": "\x1b]0;pwned\x07",
    "clear": "\x1b[2J\x1b[8m",
    "eight bits": "\x9b2J\x9d0;pwned\x9c",
    "report": "\x1b[6n\x1bP$q\x1b\\",
    "direction": "\u202egnp\u202c \u2066x\u2069 \u200f",
    "width": "a\u200b\u2060\ufeffb",
    "other": "\x00\x07\x08\x7f\x85\u2028\ue000\U000e0041",
}
"""Texts that would steer a terminal or hide what stands there."""

HARMFUL = SEEN | UNSEEN


def everywhere(word: str) -> dict[str, Any]:
    """A pattern that can be worked, with a text in each place where a text can be."""
    rounds = f"Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st around (12)\n{word}\nRnd 3: {word} (18)\n"
    return {
        "title": f"T {word}",
        "hook": f"4 mm {word}",
        "notions": [f"pins {word}"],
        "notes": [f"note {word}"],
        "gauge": {"stitch": "sc", "stitches": 22, "rounds": 24},
        "yarn": {"R": {"name": f"red {word}"}},
        "piece": [{"name": f"Cap {word}", "rounds": rounds, "notes": [f"so {word}"]}],
        "making-up": [{"step": f"Sew {word}"}],
    }


def texts_in(value: object) -> Iterator[str]:
    """Every text in a pattern."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from texts_in(tuple(value.items()))
    elif isinstance(value, list | tuple | set | frozenset):
        for each in value:
            yield from texts_in(each)
    elif is_dataclass(value):
        for each in fields(value):
            yield from texts_in(getattr(value, each.name))


STEERING = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
"""Categories of Unicode (unicode.org/reports/tr44, table 12) whose characters steer, hide or have no meaning."""


def can_be_shown(text: str) -> bool:
    return STEERING.isdisjoint(category(character) for character in text.replace("\n", ""))


def rounds(text: str) -> Pattern:
    return loads(tomli_w.dumps({"title": "T", "piece": [{"name": "P", "rounds": text}]}, multiline_strings=False))


def codes(pattern: Pattern) -> set[str]:
    return {problem.code for problem in all_problems(pattern)}


@pytest.mark.parametrize("word", HARMFUL.values(), ids=HARMFUL)
@pytest.mark.parametrize("escaped", [True, False], ids=["escaped", "raw"])
def test_nothing_that_steers_a_terminal_is_left_in_a_pattern(word: str, escaped: bool) -> None:
    """Neither where it stands in the file as it is, nor where TOML's own escapes spell it."""
    if escaped:
        text = tomli_w.dumps(everywhere(word))
    else:
        text = tomli_w.dumps(everywhere("HERE")).replace("HERE", word.replace("\\", "\\\\"))
    pattern = loads(text)
    assert [piece.name[:3] for piece in pattern.pieces] == ["Cap"]
    assert [found for found in texts_in(pattern) if not can_be_shown(found)] == []
    told = "\n".join(show(problem, pattern.source.split("\n")) for problem in all_problems(pattern))
    assert can_be_shown(told)


@pytest.mark.parametrize("word", SEEN.values(), ids=SEEN)
def test_what_looks_like_a_command_is_kept_as_it_is(word: str) -> None:
    pattern = loads(tomli_w.dumps(everywhere(word)))
    piece = pattern.pieces[0]
    told = [pattern.title, pattern.hook, *pattern.notions, *pattern.notes, pattern.yarns[0].name, piece.name]
    told += [*piece.notes, pattern.making_up[0].step, "\n".join(each.text for each in piece.rounds)]
    assert [text for text in told if word not in text] == []


@pytest.fixture
def table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, in which nothing but the pattern and the data may come to be."""
    home = tmp_path / "home" / "here"
    home.mkdir(parents=True)
    monkeypatch.chdir(home)
    monkeypatch.setenv("ROUNDS_DATA", str(home / "data"))
    return home


COMMANDS = {
    "check": ["check", "p.toml"],
    "check as JSON": ["check", "p.toml", "--json"],
    "place": ["place", "p.toml"],
    "place as JSON": ["place", "p.toml", "--json"],
    "draw": ["draw", "p.toml"],
    "draw an outline": ["draw", "p.toml", "--outline"],
    "measure": ["measure", "p.toml"],
    "write": ["write", "p.toml", "--text"],
    "list": [],
}


@pytest.mark.parametrize("word", HARMFUL.values(), ids=HARMFUL)
def test_no_command_prints_more_than_text(word: str, table: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (table / "p.toml").write_text(tomli_w.dumps(everywhere(word)), "utf-8")
    project = open_project(load(table / "p.toml"), table / "p.toml", table / "data", lambda: 1e9)
    teller = Teller(project)
    said = [
        line for verb in ("round", "materials", "steps", "pieces", "read", "notes") for line in answer(teller, verb)
    ]
    project.close()
    for arguments in COMMANDS.values():
        assert main(arguments) in (0, 1, 2)
    printed = capsys.readouterr()
    assert can_be_shown(printed.out) and can_be_shown(printed.err)
    if word in SEEN.values():
        assert any(word in line for line in said)
        assert " ".join(word.split()) in " ".join(printed.out.split())
    assert sorted(path.name for path in table.iterdir()) == ["data", "p.toml"]


@pytest.mark.parametrize("word", HARMFUL.values(), ids=HARMFUL)
def test_pictures_and_pages_hold_text_and_nothing_that_runs(word: str, table: Path) -> None:
    """Read by the standard library's own readers of XML and HTML."""
    (table / "p.toml").write_text(tomli_w.dumps(everywhere(word)), "utf-8")
    assert main(["draw", "p.toml", "-o", "drawn.svg"]) == 0
    tags = {element.tag.rpartition("}")[2] for element in ElementTree.parse(table / "drawn.svg").iter()}
    assert tags.isdisjoint({"script", "foreignObject", "image", "a", "use", "iframe"})
    assert main(["write", "p.toml", "--html", "-o", "page.html"]) in (0, 1)
    page = (table / "page.html").read_text("utf-8")
    assert "<script" not in page and "passwd]" not in page.replace("passwd]look", "")
    assert {path.name for path in table.iterdir()} == {"drawn.svg", "p.toml", "page.html"}


def test_a_name_never_becomes_a_path(table: Path) -> None:
    pieces = [
        {"name": name, "rounds": "Rnd 1: 6 sc in magic ring"} for name in ("../../pwned", "/pwned", "CON", "..")
    ]
    (table / "p.toml").write_text(tomli_w.dumps({"title": "../../pwned", "piece": pieces}), "utf-8")
    (table / "drawn").mkdir()
    assert main(["draw", "p.toml", "-o", "drawn/x.svg"]) == 0
    assert main(["place", "p.toml"]) == 0
    project = open_project(load(table / "p.toml"), table / "p.toml", table / "data", lambda: 1e9)
    project.close()
    assert len(list((table / "drawn").iterdir())) == len(pieces)
    outside = {path.name for path in (*table.iterdir(), *table.parent.iterdir(), *table.parents[1].iterdir())}
    assert outside == {"p.toml", "drawn", "data", "here", "home"}
    kept = {path.name for path in (table / "data").rglob("*")}
    of_turns = r"turns|[0-9a-f]{24}\.(turn|last|again)"
    of_readings = r"readings|[0-9a-f]{64}\.reading"
    assert all(re.fullmatch(rf"journal\.(sqlite3|use)|{of_turns}|{of_readings}", name) for name in kept)


@pytest.mark.parametrize("word", [*HARMFUL.values(), "9" * 5000, "-1", "1e9", "٣", "²", "x" * 30_000])
@pytest.mark.parametrize("verb", [verb.names[0] for verb in VERBS])
def test_nothing_typed_to_a_command_does_harm(verb: str, word: str, teller: Teller) -> None:
    told = answer(teller, f"{verb} {word}"[:20_000])
    assert all(isinstance(line, str) for line in told)


@pytest.fixture(scope="module")
def teller(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Teller]:
    folder = tmp_path_factory.mktemp("typed")
    project = open_project(loads(tomli_w.dumps(everywhere("x"))), folder / "p.toml", folder / "data", lambda: 1e9)
    yield Teller(project)
    project.close()


def test_a_file_of_50_mb_is_refused_by_its_size(tmp_path: Path) -> None:
    with (tmp_path / "p.toml").open("wb") as file:
        file.truncate(50_000_000)
    with pytest.raises(UnreadableFile, match=rf"more than {MAX_FILE:,} bytes"):
        load(tmp_path / "p.toml")


@pytest.mark.parametrize("verb", ["check", "place"])
def test_a_file_without_end_is_refused(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    """What is no plain file has no size to look at beforehand."""
    assert main([verb, "/dev/zero"]) == 2
    assert f"more than {MAX_FILE:,} bytes" in capsys.readouterr().err


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"title = '\x80'", "title = 'é'".encode("utf-16")])
def test_a_file_that_is_no_text_is_told(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_bytes(content)
    with pytest.raises(UnreadableFile, match=r"is not UTF-8 text|saved as UTF-16|is no text"):
        load(tmp_path / "p.toml")


@pytest.mark.parametrize(
    "text",
    [
        "a" * 100_000,
        "sc " * 30_000,
        "(" * 5_000 + "sc" + ")" * 5_000,
        "[" * 900 + "sc" + "] x 2" * 900,
        "*sc, " * 3_000,
        "{" * 2_000,
        "-" * 50_000,
        "s" + "\u0301" * 5_000 + "c",
        " " * 300_000 + "x",
        "2 " * 30_000,
        "(sc) x 2, " * 20_000,
        "around, ch 2. " * 600,
    ],
    ids=lambda text: f"{text[:6]!r}... {len(text)}",
)
def test_a_line_without_end_has_a_named_limit(text: str) -> None:
    found = all_problems(rounds(f"Rnd 1: {text}"))
    assert {problem.code for problem in found} & {"too-long", "too-deep", "unknown-word", "open-bracket"}
    assert all(len(show(problem, ["x"])) < 1_000 for problem in found)
    assert all(re.search(r"\d", problem.message) for problem in found if problem.code.startswith("too-"))


def test_what_stands_too_deep_in_toml_is_told() -> None:
    for text in ("a = " + "[" * 3_000 + "]" * 3_000, "a = " + "{a=" * 3_000 + "1" + "}" * 3_000):
        with pytest.raises(UnreadableFile, match="too deep inside each other"):
            loads(text)


@pytest.mark.parametrize("size", [2**63, 2**64 + 1, 10**30, 10**400])
@pytest.mark.parametrize(
    "text",
    [
        "Rnd 1: {} sc in magic ring",
        "Rnd 1: 6 sc in magic ring ({})",
        "Rnd 1: 6 sc in magic ring\nRnd 2: (sc, inc) x {}",
        "Rnd 1: ch {}, 6 sc",
        "Rnd 1: 6 sc in magic ring\nRnd 2: sc{}tog x 3",
        "Rnd {}: 6 sc in magic ring",
        "Rnds 1-{}: 6 sc in magic ring",
        "Rnd 1: 6 sc in magic ring\nRnd 2: sk {}, sc",
        "Rnd 1: 6 sc in magic ring\nRnd 2: {} sc in next st",
    ],
)
def test_numbers_beyond_64_bits_are_told(text: str, size: int) -> None:
    """None is cut to a number that fits: either it is refused, or it is told as it is written."""
    assert all_problems(rounds(text.format(size)))


def test_a_number_of_thousands_of_digits_is_told() -> None:
    """Python itself refuses to read more than 4,300 digits (docs.python.org, integer string conversion limit)."""
    with pytest.raises(UnreadableFile, match="a number of thousands of digits"):
        loads(f"title = {'9' * 5_000}")


def test_a_stated_total_beyond_64_bits_is_compared_as_it_is() -> None:
    (found,) = all_problems(rounds(f"Rnd 1: 6 sc in magic ring ({2**64 + 6})"))
    assert str(2**64 + 6) in found.message


def test_very_many_unknown_keys_are_told_in_few_words() -> None:
    for many in ("\n".join(f"[t{n}]" for n in range(30_000)), "\n".join(f"t{n} = 1" for n in range(30_000))):
        told = [problem.message for problem in all_problems(loads(many)) if problem.code == "unknown-key"]
        assert len(told) == 21 and "29,980 more unknown keys in the pattern" in told


TEXT, LIST, NUMBER, TABLE, TABLES = "text", "list", "number", "table", "tables"
KEYS = {
    "title": TEXT,
    "terms": TEXT,
    "hook": TEXT,
    "for": TEXT,
    "notions": LIST,
    "notes": LIST,
    "gauge": TABLE,
    "yarn": TABLE,
    "piece": TABLES,
    "making-up": TABLES,
}
INNER = {
    ("piece", "name"): TEXT,
    ("piece", "rounds"): TEXT,
    ("piece", "start"): TEXT,
    ("piece", "make"): NUMBER,
    ("piece", "notes"): LIST,
    ("making-up", "step"): TEXT,
}
SHAPES: dict[str, tuple[Any, ...]] = {
    TEXT: (1, -1.5, True, [], ["x"], {}, {"a": "x"}, float("nan"), 10**40),
    LIST: (1, True, [1], [["x"]], {}, {"a": ["x"]}, float("inf")),
    NUMBER: ("x", "3", True, 2.5, -1, 0, [], {}, float("inf"), float("nan"), 10**40),
    TABLE: (1, "x", True, [], [{}]),
    TABLES: (1, "x", True, {}, {"a": "x"}, ["x"], [1]),
}


@pytest.mark.parametrize("key", KEYS)
def test_each_key_of_a_wrong_shape_is_told_by_its_name(key: str) -> None:
    for value in SHAPES[KEYS[key]]:
        found = loads(tomli_w.dumps(everywhere("x") | {key: value}))
        told = [p.message for p in all_problems(found) if key in p.message and p.code in ("wrong-type", "gauge")]
        empty = value in ([], {})
        assert told or empty, f"{key} = {value!r}"


@pytest.mark.parametrize(("table_key", "key"), INNER)
def test_each_key_inside_of_a_wrong_shape_is_told_by_its_name(table_key: str, key: str) -> None:
    for value in SHAPES[INNER[table_key, key]]:
        pattern = everywhere("x")
        pattern[table_key][0][key] = value
        told = [p.message for p in all_problems(loads(tomli_w.dumps(pattern))) if p.code == "wrong-type"]
        assert any(f"'{key}'" in message for message in told), f"{key} = {value!r}"


names = some.sampled_from([*KEYS, "name", "rounds", "make", "start", "step", "stitch", "stitches", "over", "R", ""])
plain = some.one_of(
    some.text(max_size=12),
    some.integers(),
    some.booleans(),
    some.floats(),
    some.sampled_from(["10 cm", "sc", "Rnd 1: 6 sc in magic ring", "UK", "rows", "#b23a2e"]),
    some.datetimes(),
)
anything = some.recursive(
    plain, lambda inner: some.lists(inner, max_size=3) | some.dictionaries(names, inner, max_size=4), max_leaves=12
)


@settings(max_examples=100, deadline=None)
@given(some.dictionaries(names, anything, max_size=6))
def test_whatever_the_file_holds_it_is_a_pattern_or_told(data: dict[str, Any]) -> None:
    with suppress(UnicodeEncodeError):
        pattern = loads(tomli_w.dumps(data), "x.toml")
        assert all(can_be_shown(text) for text in texts_in(pattern))
        assert pattern.pieces or all_problems(pattern)


@settings(max_examples=100, deadline=None)
@given(some.text(max_size=60))
def test_whatever_the_text_is_it_is_a_pattern_or_told(text: str) -> None:
    with suppress(UnreadableFile):
        loads(text)


@pytest.mark.parametrize("name", ["", ".", "..", "x" * 5_000, os.sep, "~nobody-at-all/x", "\x1b]0;pwned\x07"])
def test_a_name_that_names_no_file_is_told(name: str, table: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", name]) == 2
    printed = capsys.readouterr()
    assert can_be_shown(printed.out) and can_be_shown(printed.err) and printed.err
