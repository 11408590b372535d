"""Printed lines mended by typed words."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

from support.project_bench import Bench

from tracker.cli.work_plain import work_plainly
from tracker.pattern.loader import loads

BALL = '''title = "Ball"
for = "adult"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnd 5: work the fancy edge
Rnds 6-7: sc around (24)
"""
'''


def answers(folder: Path, *lines: str) -> str:
    out = StringIO()
    bench = Bench(folder, loads(BALL))
    work_plainly(bench.open(), lines, out)
    return out.getvalue()


def test_what_could_be_meant_is_heard_and_taken_by_its_number(tmp_path: Path) -> None:
    heard = answers(tmp_path, "round", "round", "mend", "mend 1")
    assert "As printed: Rnd 3: (1 sc, inc) x 5 (18)." in heard
    assert "Mend 1: Rnd 3: (1 sc, inc) x 6 (18)." in heard
    assert "Mended: Rnd 3: (1 sc, inc) x 6 (18); it leaves 18." in heard
    assert "as written" not in answers(tmp_path, "round").casefold()


def test_what_the_reader_asks_about_is_agreed_to_by_its_number(tmp_path: Path) -> None:
    """12 stitches less six are 6: by hand."""
    doubtful = "Rnd 3: 6 dec (6) * With thin yarn you may want fewer decreases, 4 or 5 will do."
    rounds = f"Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\n{doubtful}\n"
    out = StringIO()
    project = Bench(tmp_path, loads(f'[[piece]]\nname = "Bud"\nrounds = """\n{rounds}"""\n')).open()
    work_plainly(project, ("round", "round", "mend", "mend 1"), out)
    assert "leaves 6: right?" in out.getvalue() and "Mend 1: Rnd 3: 6 dec (6)." in out.getvalue()
    assert "Mended: Rnd 3: 6 dec (6); it leaves 6." in out.getvalue()
    assert project.pattern.pieces[0].rounds[2].verdict == "ok"


def test_a_line_of_ones_own_names_its_round(tmp_path: Path) -> None:
    heard = answers(tmp_path, "mend Rnd 3: inc, 11 sc", "mend round 3", "undo", "mend round 3")
    assert "it leaves 13" in heard and "Rnd 4 does not come out over that." in heard
    assert "As you mended it: Rnd 3: inc, 11 sc." in heard
    assert heard.count("As you mended it") == 1


def test_a_round_that_is_not_read_goes_on_from_one_number(tmp_path: Path) -> None:
    heard = answers(tmp_path, "mend round 5 leaves 24", "mend round 9", "mend 4")
    assert "Rnd 5 is worked by eye and leaves 24." in heard
    assert "There is no round 9 in Ball." in heard


def test_the_count_decides_between_readings(tmp_path: Path) -> None:
    heard = answers(tmp_path, "round", "round", "round", "18", "mend", "mend 1", "15")
    assert "18 agrees with: Rnd 3: (1 sc, inc) x 6 (18); say mend to keep that." in heard
    assert "Mend 1: Rnd 3: (1 sc, inc) x 6 (18): 18 agrees with it." in heard
    assert "3 stitches fewer than 18" in heard or "fewer than 18" in heard
