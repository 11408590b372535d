"""The shipped patterns are found by name, in a checkout and when installed."""

from __future__ import annotations

import tomllib
from pathlib import Path

from tracker.cli.shipped_patterns import folder, nearest, path_of, shipped

ROOT = Path(__file__).parents[2]
BUILD = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]


def test_every_package_of_the_checkout_is_installed() -> None:
    found = {".".join(path.parent.relative_to(ROOT).parts) for path in (ROOT / "tracker").rglob("__init__.py")}
    assert set(BUILD["packages"]) == {*found, "tracker.patterns"}


def test_the_pattern_folder_is_installed_into_the_package() -> None:
    assert BUILD["package-dir"] == {"tracker.patterns": "patterns"}
    assert BUILD["package-data"]["tracker.patterns"] == ["*.toml"]


def test_all_patterns_of_the_folder_are_shipped() -> None:
    assert {path.name for path in shipped()} == {path.name for path in (ROOT / "patterns").glob("*.toml")}
    assert folder().samefile(ROOT / "patterns")


def test_a_name_that_is_no_file_is_looked_up_among_the_shipped() -> None:
    assert path_of("toadstool") == folder() / "toadstool.toml"
    assert path_of("toadstool.toml") == folder() / "toadstool.toml"


def test_a_file_comes_before_a_shipped_pattern(tmp_path: Path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "toadstool.toml").write_text("", "utf-8")
    monkeypatch.chdir(tmp_path)
    assert path_of("toadstool.toml") == Path("toadstool.toml")


def test_an_unknown_name_stays_as_it_is_and_gets_the_nearest() -> None:
    assert path_of("toadstol") == Path("toadstol")
    assert path_of("somewhere/toadstool") == Path("somewhere/toadstool")
    assert nearest("toadstol.toml") == "toadstool"
    assert nearest("zzzz") == ""
