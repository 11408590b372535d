"""The maker's own files beside the journal: what they hold is what was kept, or it is told and kept aside."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tracker.journal.errors import DiskRefuses
from tracker.journal.pattern_files import (
    PAGE,
    SHELF,
    keep_new,
    keep_over,
    keep_page,
    keep_sheet,
    page_kept,
    put_page_aside,
    shelf,
    stand,
)

PAGE_HELD = {"text": "Hat\nRnd 1: 6 sc in magic ring (6)", "mends": {3: "Rnd 2: 6 sc"}, "size": 1}
STANDING = {"/knits/mütze.toml|Mütze": "resting", "b.toml|B": "off"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for key, standing in STANDING.items():
        stand(tmp_path, key, standing)
    keep_page(tmp_path, PAGE_HELD)
    return tmp_path


def test_what_was_kept_is_there(folder: Path) -> None:
    assert shelf(folder) == (STANDING, "")
    assert page_kept(folder) == ({**PAGE_HELD, "mends": {"3": "Rnd 2: 6 sc"}}, "")


def test_what_earlier_programs_wrote_is_read(folder: Path) -> None:
    """They wrote it without a seal."""
    (folder / SHELF).write_text('{\n "a.toml|A": "off"\n}')
    (folder / PAGE).write_text('{"text": "Hat"}')
    assert (shelf(folder), page_kept(folder)) == (({"a.toml|A": "off"}, ""), ({"text": "Hat"}, ""))


@pytest.mark.parametrize("name", [SHELF, PAGE])
def test_no_damage_is_silent_and_what_is_left_is_kept(name: str, folder: Path) -> None:
    """A bit of each byte, each length, and other contents. Nothing at all is as if there never was anything."""
    read = {SHELF: shelf, PAGE: page_kept}[name]
    file, aside = folder / name, folder / f"{Path(name).stem}-damaged-1.json"
    sound, held = file.read_bytes(), read(folder)
    flips = [sound[:at] + bytes([sound[at] ^ 1 << at % 8]) + sound[at + 1 :] for at in range(len(sound))]
    cuts = [sound[:at] for at in range(len(sound))]
    for content in (*flips, *cuts, b"[" * 50_000, b"[]", b"7", b'"seal"', b'{"seal": 1, "content": {}}'):
        file.write_bytes(content)
        found = read(folder)
        if found == held:  # a blank more or less between the values
            continue
        assert found == ({}, f"{name} was damaged; what is left of it is kept as {aside.name}"), content
        assert aside.read_bytes() == content and not file.exists()
        assert read(folder) == ({}, "")
        aside.unlink()


def test_what_cannot_be_put_aside_is_not_written_over(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    (folder / SHELF).write_bytes(b"{")
    monkeypatch.setattr(os, "rename", refuse)
    assert shelf(folder) == ({}, "shelf.json is damaged and cannot be put aside (permission denied)")
    with pytest.raises(DiskRefuses, match=r"shelf\.json is damaged and cannot be put aside"):
        stand(folder, "c.toml|C", "off")
    assert (folder / SHELF).read_bytes() == b"{"


def test_a_folder_in_its_place_is_told(tmp_path: Path) -> None:
    (tmp_path / PAGE).mkdir()
    assert page_kept(tmp_path) == ({}, "page.json cannot be read (is a directory)")


@pytest.mark.parametrize(
    ("title", "names"),
    [
        ("Tide-pool  Coaster!", ["tide-pool-coaster.toml", "tide-pool-coaster-2.toml", "tide-pool-coaster-3.toml"]),
        ("★", ["pattern.toml", "pattern-2.toml", "pattern-3.toml"]),
        ("x" * 80, ["x" * 60 + ".toml", "x" * 60 + "-2.toml", "x" * 60 + "-3.toml"]),
    ],
)
def test_each_new_pattern_has_a_file_of_its_own(title: str, names: list[str], tmp_path: Path) -> None:
    made = [keep_new(tmp_path / "data", title, text) for text in ("one", "two", "ü")]
    assert [path.name for path in made] == names
    assert [path.read_text("utf-8") for path in made] == ["one", "two", "ü"]
    assert sorted(path.name for path in (tmp_path / "data" / "patterns").iterdir()) == sorted(names)


def test_a_sheet_goes_into_the_first_folder_that_takes_it(tmp_path: Path) -> None:
    sheet = keep_sheet([tmp_path / "gone", tmp_path], "Soap Dish", "<p>")
    assert (sheet, sheet.read_text("utf-8")) == (tmp_path / "soap-dish-as-made.html", "<p>")
    assert keep_sheet([tmp_path], "Soap Dish", "<p>").name == "soap-dish-as-made-2.html"
    with pytest.raises(DiskRefuses, match=r"the sheet cannot be written: no such file or directory"):
        keep_sheet([tmp_path / "gone"], "Soap Dish", "<p>")
    with pytest.raises(DiskRefuses, match=r"there is no folder for the sheet"):
        keep_sheet([], "Soap Dish", "<p>")


def test_a_text_put_over_another_is_all_there_or_the_other_is(tmp_path: Path) -> None:
    path = keep_new(tmp_path, "Cloth", "one")
    keep_over(path, "two")
    assert path.read_text("utf-8") == "two"
    (tmp_path / "patterns" / "folder.toml").mkdir()
    for refused in (tmp_path / "gone" / "a.toml", tmp_path / "patterns" / "folder.toml"):
        with pytest.raises(DiskRefuses, match=r"the pattern cannot be kept: "):
            keep_over(refused, "three")
    assert sorted(each.name for each in path.parent.iterdir()) == ["cloth.toml", "folder.toml"]
    with pytest.raises(DiskRefuses, match=r"the pattern cannot be kept: not a directory"):
        keep_new(path, "Cloth", "one")


def test_what_stands_as_usual_is_not_on_the_shelf_and_a_page_that_is_kept_is_forgotten(folder: Path) -> None:
    stand(folder, "b.toml|B", "")
    assert shelf(folder) == ({"/knits/mütze.toml|Mütze": "resting"}, "")
    keep_page(folder, None)
    keep_page(folder, None)
    assert page_kept(folder) == ({}, "")
    keep_page(folder / "new", PAGE_HELD)
    assert page_kept(folder / "new")[0]["size"] == 1
    assert (
        put_page_aside(folder / "new") == "page.json was damaged; what is left of it is kept as page-damaged-1.json"
    )
    (folder / SHELF).write_text('{"a": "elsewhere"}')
    assert shelf(folder) == ({}, "shelf.json was damaged; what is left of it is kept as shelf-damaged-1.json")
