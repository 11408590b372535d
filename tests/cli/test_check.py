"""`rounds check`: the table, the JSON, the exit codes, and the filter that answers whatever a line holds."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.cli.check import MAX_LINE, filter_lines
from tracker.cli.exit_codes import ExitCode
from tracker.cli.main import main

ROOT = Path(__file__).parents[2]

CLEAN_PATTERN = '''title = "Button"
[[piece]]
name = "Face [front]"
make = 2
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnds 2-4: sc around (6)
Rnd 5: (sc, ch 2) around, join (6 sc, 6 ch-2 sps)
"""
'''
MISPRINTED = CLEAN_PATTERN.replace("sc around (6)", "sc around (7)")
UNREADABLE_ROUND = CLEAN_PATTERN.replace("(sc, ch 2) around", "(sc, icn 2) around")


@pytest.fixture
def written(tmp_path: Path) -> Any:
    """Writes pattern files and gives their paths as texts."""

    def write(text: str, name: str = "button.toml") -> str:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def rows(printed: str) -> list[list[str]]:
    """The cells of the table's rows."""
    return [line.split() for line in printed.splitlines() if line.startswith(("Rnd", "Row"))]


def test_the_table_gives_bases_used_left_stated_and_verdict_of_each_round(
    written: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    """Rounds of a range that are the same stand in one row; rounds 2 to 4 here."""
    assert main(["check", written(CLEAN_PATTERN)]) == ExitCode.DONE
    printed = capsys.readouterr().out
    assert "Button: Face [front], made 2 times" in printed
    assert rows(printed) == [
        ["Rnd", "1", "-", "0", "6", "6", "ok"],
        ["Rnds", "2-4", "6", "6", "6", "6", "ok"],
        ["Rnd", "5", "6", "6", "6", "6", "+", "6", "sp", "ok"],
    ]
    assert printed.rstrip().endswith("all clean")


def test_a_finding_is_told_in_its_row_and_with_its_place(written: Any, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(MISPRINTED)
    assert main(["check", path]) == ExitCode.FINDINGS
    printed = capsys.readouterr().out
    assert [row[-1] for row in rows(printed)] == ["ok", "disagrees", "ok"]
    assert f"{path}:7:22: disagrees: the instruction makes 6, and the total says 7\n" in printed
    assert printed.count("the instruction makes 6") == 1, "once for the whole range"
    assert printed.rstrip().endswith("1 finding")


def test_a_round_that_cannot_be_read_has_dashes_and_an_error(
    written: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", written(UNREADABLE_ROUND)]) == ExitCode.FINDINGS
    assert rows(capsys.readouterr().out)[-1] == ["Rnd", "5", "6", "-", "-", "6", "+", "6", "sp", "x", "error"]


def test_no_verdict_is_told_by_colour(written: Any, capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", written(MISPRINTED)])
    assert "\x1b" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("texts", "code"),
    [
        pytest.param([CLEAN_PATTERN], ExitCode.DONE, id="clean"),
        pytest.param([CLEAN_PATTERN, CLEAN_PATTERN], ExitCode.DONE, id="two clean ones"),
        pytest.param([MISPRINTED], ExitCode.FINDINGS, id="findings"),
        pytest.param([CLEAN_PATTERN, MISPRINTED, CLEAN_PATTERN], ExitCode.FINDINGS, id="findings in one of three"),
        pytest.param(['title = "'], ExitCode.REFUSED, id="not a pattern file"),
        pytest.param([MISPRINTED, "= 3", CLEAN_PATTERN], ExitCode.REFUSED, id="one of three is no pattern file"),
    ],
)
@pytest.mark.parametrize("json_wanted", [False, True], ids=["table", "json"])
def test_the_exit_code_is_that_of_the_worst_file(
    texts: list[str], code: int, json_wanted: bool, written: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    paths = [written(text, f"{number}.toml") for number, text in enumerate(texts)]
    assert main(["check", *paths, *(["--json"] if json_wanted else [])]) == code
    printed = capsys.readouterr().out
    if json_wanted:
        assert [report["file"] for report in json.loads(printed)] == paths


def test_the_exit_codes_are_those_of_the_manual() -> None:
    assert (ExitCode.DONE, ExitCode.FINDINGS, ExitCode.REFUSED) == (0, 1, 2)


def test_a_file_that_is_not_there_is_told_on_standard_error_and_the_others_are_checked(
    written: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "nowhere.toml", written(CLEAN_PATTERN)]) == ExitCode.REFUSED
    told = capsys.readouterr()
    assert "nowhere.toml" in told.err and "no such file" in told.err
    assert "all clean" in told.out


def test_without_a_file_it_says_what_it_needs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check"]) == ExitCode.REFUSED
    assert "needs a pattern file, or --lines" in capsys.readouterr().err


def test_a_shipped_pattern_is_checked_by_its_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "toadstool"]) == ExitCode.DONE
    assert "Toadstool pincushion: Cap" in capsys.readouterr().out


def report_of(path: str, capsys: pytest.CaptureFixture[str]) -> Any:
    main(["check", "--json", path])
    (report,) = json.loads(capsys.readouterr().out)
    return report


def test_the_json_gives_every_round_with_its_numbers(written: Any, capsys: pytest.CaptureFixture[str]) -> None:
    report = report_of(written(CLEAN_PATTERN), capsys)
    assert (report["title"], report["readable"], report["clean"], report["problems"]) == ("Button", True, True, [])
    (piece,) = report["pieces"]
    assert (piece["name"], piece["make"]) == ("Face [front]", 2)
    assert [round_["round"] for round_ in piece["rounds"]] == [1, 2, 3, 4, 5]
    assert piece["rounds"][4] == {
        "round": 5,
        "label": "Rnd 5",
        "line": 8,
        "before": 6,
        "uses": 6,
        "leaves": 6,
        "spaces": 6,
        "by_kind": {"sc": 6},
        "stated": 6,
        "verdict": "ok",
        "messages": [],
    }


def test_the_json_gives_every_problem_with_its_place(written: Any, capsys: pytest.CaptureFixture[str]) -> None:
    report = report_of(written(MISPRINTED.replace("title", "titel")), capsys)
    found = [(p["severity"], p["code"], p["line"], p["column"]) for p in report["problems"]]
    assert found == [("warning", "unknown-key", 1, 1), ("disagrees", "total-differs", 7, 22)]
    assert report["problems"][0]["help"] == "did you mean 'title'?"
    assert not report["clean"]


def test_the_json_of_a_file_that_is_no_pattern_says_why(written: Any, capsys: pytest.CaptureFixture[str]) -> None:
    report = report_of(written('title = "Button'), capsys)
    assert report["readable"] is False
    assert [problem["code"] for problem in report["problems"]] == ["not-toml"]


FIELDS = {"leaves", "uses", "by_kind", "stated", "verdict", "messages"}


def answers(*lines: str) -> list[dict[str, Any]]:
    target = io.StringIO()
    assert filter_lines(lines, target) == ExitCode.DONE
    return [json.loads(line) for line in target.getvalue().splitlines()]


def answer(line: str) -> dict[str, Any]:
    (found,) = answers(line)
    assert set(found) == FIELDS
    return found


def asked(**fields: object) -> str:
    return json.dumps(fields)


ROUND = "Rnd 3: (1 sc, inc) x 6 (18)"


@pytest.mark.parametrize(
    ("line", "answered"),
    [
        pytest.param(
            asked(text=ROUND, before=12, terms="US"),
            {"leaves": 18, "uses": 12, "by_kind": {"sc": 18}, "stated": 18, "verdict": "ok", "messages": []},
            id="a round that is right",
        ),
        pytest.param(
            asked(text=ROUND.replace("18", "20"), before=12),
            {
                "leaves": 18,
                "uses": 12,
                "by_kind": {"sc": 18},
                "stated": 20,
                "verdict": "disagrees",
                "messages": ["the instruction makes 18, and the total says 20"],
            },
            id="leaves comes from the instruction and not from the total",
        ),
        pytest.param(
            asked(text="Rnd 3: (1 dc, 2 dc in next st) x 6 (18)", before=12, terms="UK"),
            {"leaves": 18, "uses": 12, "by_kind": {"dc": 18}, "stated": 18, "verdict": "ok", "messages": []},
            id="kinds are told in the terms that were asked in",
        ),
        pytest.param(
            asked(text="Rnd 3: sc around", before=None),
            {
                "leaves": None,
                "uses": None,
                "by_kind": {},
                "stated": None,
                "verdict": "warning",
                "messages": [
                    "it is not known how many stitches there are to work into; "
                    "give the number of stitches of the round before"
                ],
            },
            id="what is not known is null",
        ),
        pytest.param(
            asked(text="Rnd 3: (1 sc, inc) x 500000000", before=10**9),
            {
                "leaves": 1_500_000_000,
                "uses": 10**9,
                "by_kind": {"sc": 1_500_000_000},
                "stated": None,
                "verdict": "ok",
                "messages": [],
            },
            id="a thousand million stitches",
        ),
    ],
)
def test_a_line_is_answered_in_the_agreed_form(line: str, answered: dict[str, object]) -> None:
    assert answer(line) == answered


@pytest.mark.parametrize("fields", [{}, {"before": None}, {"terms": None}, {"colour": "red"}], ids=str)
def test_what_is_left_out_or_not_known_is_no_mistake(fields: dict[str, object]) -> None:
    assert answer(asked(text=ROUND, **fields))["leaves"] == 18


BAD = {
    "no JSON": "Rnd 3: sc around",
    "half an object": '{"text": "Rnd 3',
    "a list": "[]",
    "null": "null",
    "a number": "12",
    "a text": '"Rnd 3: sc around"',
    "nothing in it": "{}",
    "no text": asked(before=12),
    "text is a number": asked(text=12),
    "text is null": asked(text=None),
    "text is a list": asked(text=[ROUND]),
    "before is a text": asked(text=ROUND, before="12"),
    "before is a fraction": asked(text=ROUND, before=12.5),
    "before is true": asked(text=ROUND, before=True),
    "before is a list": asked(text=ROUND, before=[12]),
    "before is below nothing": asked(text=ROUND, before=-1),
    "before is larger than any round": asked(text=ROUND, before=10**10 + 1),
    "before has five thousand digits": '{"text": "Rnd 3: sc around", "before": ' + "9" * 5000 + "}",
    "before is no number": '{"text": "Rnd 3: sc around", "before": NaN}',
    "before is infinite": '{"text": "Rnd 3: sc around", "before": 1e999}',
    "terms of nowhere": asked(text=ROUND, terms="DE"),
    "terms is a list": asked(text=ROUND, terms=["US"]),
    "terms is an object": asked(text=ROUND, terms={}),
    "lists in lists": "[" * 100_000,
    "objects in objects": '{"text":' * 100_000,
    "a count of five thousand digits": asked(text="Rnd 3: " + "9" * 5000 + " sc", before=12),
    "a round number of five thousand digits": asked(text="Rnd " + "9" * 5000 + ": icn", before=12),
    "an empty text": asked(text="", before=12),
    "control characters": asked(text="\x00\x1b[31m\x07", before=12),
    "half a character": '{"text": "\\ud800", "before": 12}',
    "a text of a megabyte": asked(text="sc, " * 260_000, before=12),
    "a text of nine hundred kilobytes": asked(text="(" * 900_000, before=12),
    "a number of a megabyte": "1" * 1_100_000,
}


@pytest.mark.parametrize("line", [pytest.param(line, id=name) for name, line in BAD.items()])
def test_whatever_a_line_holds_it_is_answered_with_an_error(line: str) -> None:
    found = answer(line)
    assert (found["verdict"], found["leaves"], found["by_kind"]) == ("error", None, {})
    assert found["messages"] and all(found["messages"])


def test_a_line_that_is_too_long_names_the_limit() -> None:
    assert answer(" " * MAX_LINE + "{}")["messages"] == ["the line has more than 1,000,000 characters"]


def test_every_line_has_its_answer_in_its_place_and_blank_lines_have_none() -> None:
    found = answers(asked(text=ROUND, before=12), "", "  \n", "nonsense", asked(text="Rnd 2: inc x 6", before=6))
    assert [each["leaves"] for each in found] == [18, None, 12]


def test_no_line_spoils_the_next() -> None:
    good = asked(text=ROUND, before=12)
    found = answers(*(each for bad in BAD.values() for each in (bad, good)))
    assert len(found) == 2 * len(BAD)
    assert {json.dumps(each) for each in found[1::2]} == {json.dumps(answer(good))}


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)
objects = st.fixed_dictionaries({"text": values | st.just(ROUND)}, optional={"before": values, "terms": values})


@settings(max_examples=200, deadline=None)
@given(objects | values, st.integers(0, 60))
def test_no_value_of_any_sort_is_raised_on(value: object, cut: int) -> None:
    line = json.dumps(value)
    for text in (line, line[:cut]):
        if text.strip():
            answer(text)


RUN = """
import runpy, sys
try:
    runpy.run_module("tracker", run_name="__main__", alter_sys=True)
finally:
    print("textual" in sys.modules, file=sys.stderr)
"""


def command(*arguments: str, stdin: bytes = b"", home: Path) -> subprocess.CompletedProcess[bytes]:
    """The real command in a fresh interpreter; its last line of standard error says whether textual was loaded."""
    return subprocess.run(
        [sys.executable, "-c", RUN, *arguments],
        input=stdin,
        capture_output=True,
        timeout=60,
        cwd=ROOT,
        env={**os.environ, "HOME": str(home), "XDG_DATA_HOME": str(home), "PYTHONPATH": str(ROOT)},
    )


def test_the_real_command_filters_lines_and_never_loads_the_screen(tmp_path: Path) -> None:
    lines = [asked(text=ROUND, before=12), "", "nonsense", asked(text="sc, " * 260_000), asked(text="Rnd 2: é🧶 icn")]
    done = command("check", "--lines", stdin="\n".join(lines).encode(), home=tmp_path)
    found = [json.loads(line) for line in done.stdout.decode().splitlines()]
    assert [each["verdict"] for each in found] == ["ok", "error", "error", "error"]
    assert (done.returncode, done.stderr.split()) == (ExitCode.DONE, [b"False"])


def test_the_real_command_survives_bytes_that_are_no_text(tmp_path: Path) -> None:
    done = command("check", "--lines", stdin=b'{"text": "sc \xff\xfe"}\n\xff\n{"text": "sc"}\n', home=tmp_path)
    found = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(found) == 3
    assert found[2]["leaves"] == 1


def test_the_real_command_checks_a_file_and_never_loads_the_screen(written: Any, tmp_path: Path) -> None:
    done = command("check", written(MISPRINTED), home=tmp_path)
    assert (done.returncode, done.stderr.split()) == (ExitCode.FINDINGS, [b"False"])
    assert b"disagrees" in done.stdout
