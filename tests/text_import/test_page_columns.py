"""Columns that stand side by side on a page of plain text are read one behind the other; tables stay as they are.

The pages are invented, their figures worked out by hand; that pages are set so is common practice, no source.
"""

from __future__ import annotations

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.page_columns import page_lines
from tracker.pattern.toml_writer import as_toml

LEFT = """\
THE BUCKET
Begin at the base with 2 ch. 1st
rnd: 7 d.c. into 2nd ch. from hook.
2nd rnd: 2 d.c. into each d.c. 3rd
rnd: * 1 d.c. into next d.c., 2 d.c.
into next d.c.; rep. from * to end
(21 d.c.). 4th to 9th rnds: 1 d.c.
into each d.c. 10th rnd: * 1 d.c.
into each of next 5 d.c., take next
"""
RIGHT = """\
2 d.c. together; rep. from * to end
(18 d.c.). Fasten off.

        THE HANDLE
Make 2 ch. 1st rnd: 4 d.c. into
2nd ch. from hook. 2nd to 30th rnds:
1 d.c. into each d.c. Fasten off and
sew to the bucket.
"""
LEAVES = [[7, 14, 21, 21, 21, 21, 21, 21, 18], [4, 4, 4]]


def _beside(*columns: str, width: int) -> str:
    """Columns of text side by side, each of them so wide."""
    split = [column.split("\n") for column in columns]
    height = max(map(len, split))
    filled = [[*column, *[""] * (height - len(column))] for column in split]
    return "\n".join("".join(cell.ljust(width) for cell in row).rstrip() for row in zip(*filled, strict=True))


def _read(page: str) -> list[list[int | None]]:
    pattern = loads(as_toml(from_text(page, "UK").draft))
    return [[one.plan.leaves if one.plan else None for one in piece.rounds] for piece in pattern.pieces]


def _first_and_last(leaves: list[list[int | None]]) -> list[tuple[int | None, int | None]]:
    return [(piece[0], piece[-1]) for piece in leaves]


def test_a_round_goes_on_at_the_top_of_the_next_column() -> None:
    page = _beside(LEFT, RIGHT, width=40)
    assert [[*map(str.rstrip, page_lines(page)[0])]] == [[*LEFT.strip().split("\n"), *RIGHT.rstrip().split("\n"), ""]]
    assert _first_and_last(_read(page)) == [(7, 18), (4, 4)]


def test_a_heading_over_both_columns_parts_what_stands_above_from_what_is_below() -> None:
    heading = "\n    A SET FOR THE WASHING DAY IN FOUR EASY PARTS\n\n"
    lower = _beside("\n".join(f"left {row} of all the words" for row in range(6)), RIGHT, width=40)
    lines, numbers = page_lines(_beside(LEFT, RIGHT, width=40) + heading + lower)
    above = next(at for at, line in enumerate(lines) if "WASHING" in line)
    assert [line for line in lines[:above] if "HANDLE" in line] == ["        THE HANDLE"]
    assert [at for at, line in enumerate(lines[above:]) if line.startswith("left")] == [2, 3, 4, 5, 6, 7]
    assert numbers[above] == 11  # where it stands on the page


def test_a_line_keeps_the_number_that_it_has_on_the_page() -> None:
    lines, numbers = page_lines(_beside(LEFT, RIGHT, width=40))
    assert numbers[lines.index("THE BUCKET")] == 1
    assert numbers[lines.index("(18 d.c.). Fasten off.")] == 2


def test_three_columns_are_read_from_the_left() -> None:
    columns = ["\n".join(f"{10 * side + row}th rnd: 1 d.c. in each" for row in range(4, 10)) for side in range(3)]
    lines, _ = page_lines(_beside(*columns, width=28))
    assert [line for line in lines if line] == "\n".join(columns).split("\n")


def test_a_column_under_a_shorter_one_comes_before_it() -> None:
    page = _beside(LEFT + "last of the left\n", "\n".join(RIGHT.split("\n")[:7]), width=38)
    lines, _ = page_lines(page)
    assert lines.index("last of the left") < lines.index("(18 d.c.). Fasten off.")


def test_rows_of_a_table_stay_rows() -> None:
    rounds = "\n".join(
        f"Rnd {row}:  (4 sc, inc) x {row}, sc to the end     stitches there now: {40 + row}" for row in range(1, 9)
    )
    terms = "\n".join(
        f"{us:28}{uk}"
        for us, uk in (
            ("single crochet (sc)", "double crochet (dc)"),
            ("half double crochet (hdc)", "half treble (htr)"),
            ("double crochet (dc)", "treble crochet (tr)"),
            ("treble crochet (tr)", "double treble (dtr)"),
            ("slip stitch (sl st)", "slip stitch (ss)"),
            ("skip a stitch", "miss a stitch"),
        )
    )
    for table in (rounds, terms):
        assert page_lines(table)[0] == table.split("\n")


def test_two_blanks_behind_full_stops_are_no_gutter() -> None:
    page = "\n".join(f"Join {'here ' * (row % 3)}now.  Then rnd {row} goes on  around it" for row in range(15))
    assert page_lines(page)[0] == page.split("\n")
