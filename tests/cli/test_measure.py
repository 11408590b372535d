"""`rounds measure`: what is printed for a person and for a program, and what is said to senseless figures."""

from __future__ import annotations

import json
import time
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.cli.measure import MeasureRequest, measure, measure_file, underway
from tracker.cli.measure_json import as_json
from tracker.measure.ranges import Range, exactly
from tracker.pattern.loader import load, loads
from tracker.project.project import open_project
from tracker.reports.measure_words import print_measured
from tracker.reports.quantities import (
    UnclearFigure,
    amount,
    gauge_of,
    length_cm,
    round_numbers,
    span_of_time,
)
from tracker.session.events import BallWeighed, RepeatDone, RoundDone, Stitch, Undo

TEXT = """
title = "[bold]Ball[/]"
[gauge]
stitch = "sc"
stitches = 20
rounds = 21
[yarn.R]
name = "[red] wool"
ball_grams = 50
ball_metres = 120
[[piece]]
name = "Ball [x]"
make = 2
rounds = \"\"\"
Rnd 1 (R): 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnds 4-6: sc around (18)
Rnd 7: (1 sc, dec) x 6 (12)
Rnd 8: dec x 6, fasten off (6)
\"\"\"
"""


@pytest.fixture
def ball(tmp_path: Path) -> Path:
    path = tmp_path / "ball.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def told(path: Path, capsys: pytest.CaptureFixture[str], code: int = 0, **asked: Any) -> str:
    assert measure_file(str(path), MeasureRequest(**asked), path.parent / "data") == code
    return capsys.readouterr().out


def json_of(path: Path, capsys: pytest.CaptureFixture[str], code: int = 0, **asked: Any) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(told(path, capsys, code, as_json=True, **asked))
    return found


def test_sizes_are_told_round_by_round(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(ball, capsys).splitlines()
    assert lines[0] == "[bold]Ball[/]"
    assert lines[1] == "Sizes from the gauge: 20 sc and 21 rounds over 10 cm."
    assert lines[3] == "Ball [x], made 2 times: 2.9 cm across, 1.4 cm tall; stuffed it can bow out to 2.4 cm"
    assert lines[4].split() == ["round", "stitches", "around", "cm", "across", "cm", "height", "cm", "lies"]
    assert lines[5].split() == ["Rnd", "1", "6", "3.0", "1.0", "0.0", "flat"]
    assert lines[8].split() == ["Rnd", "4-6", "18", "9.0", "2.9", "1.4", "straight"]


def test_markup_in_a_pattern_is_shown_as_text(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = told(ball, capsys, swatch_grams=6.0, swatch_stitches=400)
    assert "[red] wool" in text and "Ball [x]" in text


def test_nothing_measured_is_said_to_be_so(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = told(ball, capsys)
    assert "roughly (nothing was weighed" in text
    assert "Time: not known yet; it is learned from your own taps while you work." in text


def test_a_swatch_tells_grams_with_its_margin_named(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = told(ball, capsys, swatch_grams=6.0, swatch_stitches=400)
    assert "Yarn from a swatch: 6 g for 400 sc; 'buy' has a margin of 10% on top:" in text
    found = json_of(ball, capsys, swatch_grams=6.0, swatch_stitches=400)
    stitches = 2 * (6 + 12 + 18 * 4 + 12 + 6)
    assert found["yarn"][0]["kinds"] == {"sc": stitches}
    assert found["yarn"][0]["grams"] == [round(stitches * 5.5 / 400, 2), round(stitches * 6.5 / 400, 2)]


def test_a_ball_is_judged(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = {"swatch_grams": 6.0, "swatch_stitches": 400}
    assert "[red] wool: yes, it lasts: the rest takes" in told(ball, capsys, balls_left=["r=9"], **asked)
    assert "[red] wool: no, it does not last" in told(ball, capsys, balls_left=["R=1g"], **asked)
    assert "nobody can tell whether it lasts" in told(ball, capsys, balls_left=["R=9"])


def test_weighing_before_and_after_rounds(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = json_of(ball, capsys, weighed=[("50", "47", "ball [x]", "1-3")])
    assert found["yarn_source"] == "from weighing the ball 1 time: 3 g for 36 stitches"


def test_another_diameter_is_written_anew(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = told(ball, capsys, fit_diameter="57mm")
    assert "Written anew, 1.99 times the size" in text
    assert "  Rnd 6: 2 sc, inc, (4 sc, inc) x 5, 2 sc (36)" in text
    found = json_of(ball, capsys, fit_diameter="57mm")["fit"]["pieces"][0]
    assert found["kept"] and found["counts"][:6] == [6, 12, 18, 24, 30, 36]


def test_a_shape_that_is_not_kept_is_a_finding(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = told(ball, capsys, code=1, fit_gauge="9x9")
    assert "outline not kept" in text and "whole stitches and rounds come no closer" in text


def test_a_gauge_given_replaces_the_pattern_s(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "Sizes from the gauge: 10 sc and 10 rounds over 10 cm." in told(ball, capsys, gauge="10x10")


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"gauge": "loose"}, "'loose' is no gauge: write stitches by rounds over 10 cm, for example 20x22"),
        ({"fit_diameter": "big"}, "'big' is no length: write for example 8cm, 80mm or 3in"),
        ({"swatch_grams": 6.0}, "above 0: give both --swatch-grams and --swatch-stitches"),
        ({"swatch_grams": 1e308, "swatch_stitches": 1}, "a swatch weighs 10,000 g and has 10,000,000,000 stitches"),
        ({"swatch_grams": 1.0, "swatch_stitches": 10**11}, "10,000,000,000 stitches at most"),
        ({"balls_left": ["Q=3"]}, "'Q=3' tells no ball: write a yarn and grams, R=23; yarns are: R"),
        ({"balls_left": ["R=lots"]}, "'lots' is no weight in grams"),
        ({"weighed": [("50", "47", "Cube", "1")]}, "there is no piece 'Cube'; there are: Ball [x]"),
        ({"weighed": [("50", "47", "Ball [x]", "40")]}, "'Ball [x]' has no rounds 40"),
        ({"weighed": [("47", "50", "Ball [x]", "1")]}, "the ball did not get lighter between the weighings"),
    ],
)
def test_what_makes_no_sense_is_told(
    ball: Path, capsys: pytest.CaptureFixture[str], asked: dict[str, Any], words: str
) -> None:
    assert measure_file(str(ball), MeasureRequest(**asked), ball.parent / "data") == 2
    captured = capsys.readouterr()
    assert words in captured.err and not captured.out


@pytest.mark.parametrize(
    "asked", [{"fit_diameter": "99999cm"}, {"fit_diameter": "0.01cm"}, {"fit_gauge": "9999x9999"}]
)
def test_what_nobody_would_make_is_not_worked_out(
    ball: Path, capsys: pytest.CaptureFixture[str], asked: dict[str, Any]
) -> None:
    assert measure_file(str(ball), MeasureRequest(**asked), ball.parent / "data") == 1
    assert "that is over 50 times as large or as small: write a pattern for it anew" in capsys.readouterr().out


def test_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert measure_file(str(tmp_path / "none.toml"), MeasureRequest()) == 2
    assert "none.toml" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["toadstool", "lighthouse", "soap-dish", "face-cloth", "tide-pool-coaster"])
def test_every_shipped_pattern_can_be_measured(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert measure_file(name, MeasureRequest(as_json=True), tmp_path) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["measured"] and all(piece["across"][0] > 0 for piece in found["pieces"])


LINES = (
    "6 sc in magic ring",
    "ch 20, join",
    "ch 8, sc in 2nd ch from hook, sc in next 5 ch, 3 sc in last ch; along the other side, sc in 5 ch, inc",
    "ch 3 (counts as dc), 11 dc in magic ring, sl st to top of ch-3",
    "ch 60, fasten off",
    "inc around",
    "sc around",
    "BLO sc around",
    "(1 sc, inc) x 6",
    "(1 sc, dec) x 6",
    "dec around",
    "*sc 1, ch 2, sk 1; rep from * around",
    "3 dc in each ch-2 sp around",
    "5 dc in each st around",
    "(A) 3 sc, (B) 3 sc",
    "bobble in each st around",
    "in front loops of Rnd 1: sc around",
    "sl st around",
    "nonsense and more of it",
    "(1 sc, inc) x 400000000",
)


@given(
    st.lists(st.sampled_from(LINES), max_size=7),
    st.sampled_from(["spiral", "joined", "rows"]),
    st.sampled_from(["", "[gauge]\nstitches = 20\nrounds = 21\n", "[yarn.A]\nweight = 7\n"]),
)
@settings(max_examples=150, deadline=None)
def test_whatever_a_pattern_holds_it_is_measured_or_refused(lines: list[str], start: str, head: str) -> None:
    rounds = "\n".join(f"Rnd {number}: {line}" for number, line in enumerate(lines, 1))
    pattern = loads(f'{head}[[piece]]\nname = "P"\nstart = "{start}"\nrounds = """\n{rounds}\n"""\n')
    measured = measure(
        pattern, MeasureRequest(swatch_grams=5, swatch_stitches=100, fit_diameter="9cm", fit_gauge="17x16")
    )
    json.dumps(as_json(measured))
    print_measured(measured)


class Clock:
    """Seconds that go on when told to."""

    def __init__(self) -> None:
        self.now = 1_700_000_000.0

    def __call__(self) -> float:
        return self.now


def test_time_and_yarn_left_come_from_what_was_worked(ball: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Taps of 5 seconds a stitch, with a pause of ten minutes: 18 and 6 stitches made of twice 108."""
    clock = Clock()
    pattern, data = load(ball), ball.parent / "data"
    project = open_project(pattern, ball, data, clock)
    for number in range(24):
        clock.now += 600 if number == 10 else 5
        project.do(Stitch())
    project.close()
    found = json_of(ball, capsys, swatch_grams=6.0, swatch_stitches=400, balls_left=["R=50"])
    low, high = found["time"]["seconds"]
    assert low == pytest.approx(192 * 5 * 0.9, rel=0.01) and high == pytest.approx(192 * 5 * 1.1, rel=0.01)
    assert found["balls"][0]["need"] == [round(192 * 5.5 / 400, 2), round(192 * 6.5 / 400, 2)]


def test_samples_hold_what_was_made_between_taps(ball: Path) -> None:
    clock = Clock()
    pattern, data = load(ball), ball.parent / "data"
    project = open_project(pattern, ball, data, clock)
    for event in (Stitch(), RoundDone(), RoundDone(), RepeatDone()):
        clock.now += 10
        project.do(event)
    project.close()
    found = underway(pattern, ball, data)
    assert found is not None
    assert [sample.kinds for sample in found.samples] == [(("sc", 5),), (("sc", 12),), (("sc", 3),)]
    assert [sample.seconds for sample in found.samples] == [10, 10, 10]
    assert sum(work.stitches for work in found.work_left.values()) == 2 * 108 - 21


def test_looking_changes_nothing(ball: Path) -> None:
    data = ball.parent / "data"
    assert underway(load(ball), ball, data) is None
    assert not data.exists() or not any(data.iterdir())
    project = open_project(load(ball), ball, data, time.time)
    project.do(Stitch())
    assert underway(load(ball), ball, data) is not None
    project.do(Stitch())
    project.close()


LENGTHS = {"8cm": 8, "80 mm": 8, "8": 8, "3in": 7.62, "7,5 cm": 7.5, "0.1m": 10}


@pytest.mark.parametrize("text", LENGTHS)
def test_lengths(text: str) -> None:
    assert length_cm(text) == pytest.approx(LENGTHS[text])


@pytest.mark.parametrize("text", ["", "cm", "-3cm", "0", "8 furlongs", "8cm8"])
def test_what_is_no_length(text: str) -> None:
    with pytest.raises(UnclearFigure, match="no length"):
        length_cm(text)


def test_gauges_and_round_numbers() -> None:
    assert (gauge_of("20x22").stitches, gauge_of("20 × 22,5").rounds) == (20, 22.5)
    assert round_numbers("3") == (3, 3) and round_numbers("1-6") == (1, 6)
    for wrong in ("0x3", "20", "x"):
        with pytest.raises(UnclearFigure):
            gauge_of(wrong)
    with pytest.raises(UnclearFigure):
        round_numbers("all")


def test_figures_in_words() -> None:
    assert amount(exactly(6.08), "cm") == "6.1 cm"
    assert amount(Range(5.2, 6.8), "cm") == "5.2-6.8 cm"
    assert amount(Range(2, float("inf")), "cm") == "at least 2.0 cm"
    assert span_of_time(Range(600, 1800)) == "10 to 30 minutes"
    assert span_of_time(exactly(20)) == "about 1 minute"
    assert span_of_time(Range(2 * 3600, 3.2 * 3600)) == "2 to 3 hours"
    assert span_of_time(Range(9.9 * 3600, 14.2 * 3600)) == "10 to 14 hours"


def test_the_fitted_pattern_is_a_pattern_file(ball: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A round pattern fitted is read back and its counts are those told; an existing file stays."""
    target = tmp_path / "small.toml"
    counts = json_of(ball, capsys, fit_diameter="57mm", output=target)["fit"]["pieces"][0]["counts"]
    pattern = load(target)
    assert [round_.leaves for round_ in pattern.pieces[0].rounds] == counts
    assert all(round_.verdict == "ok" for round_ in pattern.pieces[0].rounds) and not pattern.problems
    assert pattern.pieces[0].make == 2 and pattern.gauge is not None and pattern.gauge.stitches == 20
    before = target.read_bytes()
    told(ball, capsys, code=2, fit_diameter="9cm", output=target)
    assert target.read_bytes() == before


@pytest.mark.parametrize("name", ["lighthouse", "soap-dish"])
def test_pieces_of_two_sizes_are_never_written_into_one_file(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = Path(__file__).parents[2] / "patterns" / f"{name}.toml"
    target = tmp_path / "new.toml"
    assert measure_file(str(source), MeasureRequest(fit_gauge="15x17", output=target), tmp_path) == 2
    assert not target.exists()
    assert "nothing was written, since not every piece can be: " in capsys.readouterr().err


def test_all_pieces_of_a_pattern_are_written_to_one_size(tmp_path: Path) -> None:
    source = Path(__file__).parents[2] / "patterns" / "toadstool.toml"
    target = tmp_path / "new.toml"
    assert measure_file(str(source), MeasureRequest(fit_gauge="15x17", output=target), tmp_path) in (0, 1)
    old, new = load(source), load(target)
    assert all(round_.verdict == "ok" for piece in new.pieces for round_ in piece.rounds)
    assert [(piece.name, piece.make) for piece in new.pieces] == [(piece.name, piece.make) for piece in old.pieces]
    assert new.intended_for == old.intended_for and len(new.making_up) == len(old.making_up)


def test_nothing_is_written_where_nothing_is_fitted(ball: Path, tmp_path: Path) -> None:
    assert measure_file(str(ball), MeasureRequest(output=tmp_path / "x.toml"), tmp_path) == 2
    assert not (tmp_path / "x.toml").exists()


def test_the_weights_noted_on_the_way_tell_whether_the_ball_lasts(
    ball: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with closing(open_project(load(ball), ball, ball.parent / "data", time.time)) as project:
        for event in (RoundDone(), BallWeighed("R", 50), RoundDone(), RoundDone(), RoundDone(), RoundDone()):
            project.do(event)
        assert not json_of(ball, capsys)["balls"], "one weight says nothing"
        project.do(BallWeighed("R", 44))
        assert "[red] wool, when last weighed: " in told(ball, capsys)
        # By hand: rounds 2 to 5 are 12 + 18 + 18 + 18 = 66 stitches for 6 g. Left are 36 stitches of this ball and
        # 108 of the next: 144 / 66 x 6 g = 13.1 g, and 44 g are there.
        answer = json_of(ball, capsys)["balls"][0]
        assert answer["lasts"] == "yes"
        low, high = answer["need"]
        assert low < 13.1 < high < 20
        project.do(Undo())
        assert not json_of(ball, capsys)["balls"]


def test_without_a_gauge_the_first_sentence_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plain = tmp_path / "plain.toml"
    plain.write_text('title = "Ball"\n[[piece]]\nname = "Ball"\nrounds = "Rnd 1: 6 sc in magic ring (6)"\n')
    assert told(plain, capsys).split("\n")[1] == (
        "No gauge and no yarn weight: lengths are in stitch widths; give a gauge for centimetres."
    )


@pytest.mark.parametrize(("terms", "stitch", "word"), [("US", "sc", "gauge"), ("UK", "dc", "tension")])
def test_a_pattern_in_uk_terms_has_a_tension(
    terms: str, stitch: str, word: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = f'terms = "{terms}"\n[gauge]\nstitch = "{stitch}"\nstitches = 20\nrounds = 21\n'
    text += f'[[piece]]\nname = "Disc"\nrounds = "Rnd 1: 6 {stitch} in magic ring (6)"\n'
    print_measured(measure(loads(text), MeasureRequest()))
    assert f"Sizes from the {word}" in capsys.readouterr().out
