"""The settings file: what can be set, and plain errors for what cannot."""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.session.view import StepSize
from tracker.tui.commands import Command
from tracker.tui.settings import FILE, Settings, load_settings
from tracker.tui.settings_writer import keep
from tracker.tui.sounds import Sound


def loaded(folder: Path, text: str) -> Settings:
    (folder / FILE).write_text(text, "utf-8")
    return load_settings(folder)


def test_without_a_file_everything_is_usual(tmp_path: Path) -> None:
    assert load_settings(tmp_path) == Settings()


def test_everything_can_be_set(tmp_path: Path) -> None:
    found = loaded(
        tmp_path,
        """
        main_step = "stitch"
        colours = "daylight"
        hand = "left"
        double_tap = 0.3
        bell = ["round"]
        speak = "espeak-ng -v 'en gb'"

        [keys]
        stitch = "x"
        undo = ["z", "f2"]
        """,
    )
    assert found.problems == ()
    assert (found.main_step, found.palette, found.left_handed, found.double_tap) == (
        StepSize.STITCH,
        "daylight",
        True,
        0.3,
    )
    assert found.bell == {Sound.ROUND}
    assert found.speak == ("espeak-ng", "-v", "en gb")
    assert found.keys.command("x") is Command.STITCH
    assert found.keys.command("s") is None
    assert found.keys.of(Command.UNDO) == ("z", "f2")


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ('colour = "lamp"', "colour in settings.toml: there is no such setting, do you mean colours?"),
        ('main_step = "row"', "main_step in settings.toml: one of repeat, run, round, stitch is expected"),
        ('colours = "pink"', "colours in settings.toml: one of lamp, daylight, contrast, terminal is expected"),
        ("hand = 1", "hand in settings.toml: one of right, left is expected"),
        ("double_tap = 60", "double_tap in settings.toml: seconds from 0 to 5 are expected"),
        ("double_tap = true", "double_tap in settings.toml: seconds from 0 to 5 are expected"),
        ('bell = ["loud"]', "bell in settings.toml: a list of colour, round, warning is expected"),
        ("speak = 3", 'speak in settings.toml: a command in quotes is expected: "espeak-ng"'),
        ('speak = "a \'b"', 'speak in settings.toml: a command in quotes is expected: "espeak-ng"'),
        ("keys = 3", "keys in settings.toml: a table of commands and keys is expected"),
        (
            '[keys]\nstich = "x"',
            "stich in settings.toml: there is no such command, do you mean stitch?",
        ),
        (
            '[keys]\nstitch = "xx"',
            "stitch in settings.toml: 'xx' is not a key; a letter, space, enter, f1 or the like is expected",
        ),
        ("[keys]\nstitch = []", "stitch in settings.toml: a key, or a list of keys, is expected"),
        (
            '[keys]\nstitch = "5"',
            "stitch in settings.toml: '5' is not a key; a letter, space, enter, f1 or the like is expected",
        ),
        (
            '[keys]\nstitch = "x"\nround = "x"',
            "keys in settings.toml: x is given to stitch and round; both keep their usual keys",
        ),
    ],
)
def test_what_cannot_be_used_is_told_and_the_usual_value_taken(text: str, problem: str, tmp_path: Path) -> None:
    found = loaded(tmp_path, text)
    assert found.problems == (problem,)
    assert found.keys.command("s") is Command.STITCH


def test_a_file_that_is_not_toml_is_told(tmp_path: Path) -> None:
    (problem,) = loaded(tmp_path, "main_step = ").problems
    assert problem.startswith("settings.toml is not TOML: ")


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"\xff\xfe")
    (problem,) = load_settings(tmp_path).problems
    assert problem.startswith("settings.toml cannot be read: ")


def test_a_key_that_is_given_away_no_longer_does_what_it_did(tmp_path: Path) -> None:
    found = loaded(tmp_path, '[keys]\nstitch = "u"')
    assert found.keys.command("u") is Command.STITCH
    assert found.keys.of(Command.UNDO) == ("backspace",)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", 'main_step = "run"\n'),
        ('# mine\nmain_step = "stitch" # slow\nhand = "left"\n', '# mine\nmain_step = "run"\nhand = "left"\n'),
        ('hand = "left"', 'hand = "left"\nmain_step = "run"\n'),
        ('[keys]\nmain-step = "y"\n', 'main_step = "run"\n[keys]\nmain-step = "y"\n'),
        ("main_step = \n", "main_step = \n"),
    ],
    ids=["no file", "put in place of another", "added", "before the tables", "a broken file is left alone"],
)
def test_what_is_chosen_with_a_key_is_kept(before: str, after: str, tmp_path: Path) -> None:
    if before:
        (tmp_path / FILE).write_text(before, "utf-8")
    keep(tmp_path, "main_step", "run")
    assert (tmp_path / FILE).read_text("utf-8") == after


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", '\n[keys]\nmain = ["f5", "space"]\n'),
        (
            '[keys]\nmain = [\n  "f6", # foot\n  "space",\n]\nundo = "z"\n',
            '[keys]\nmain = ["f5", "space"]\nundo = "z"\n',
        ),
        (
            'speak = """\nmain = 1\n"""\n[keys]\nundo = "z"\n',
            'speak = """\nmain = 1\n"""\n[keys]\nundo = "z"\nmain = ["f5", "space"]\n',
        ),
        ('keys = {undo = "z"}\n', 'keys = {undo = "z"}\n'),
    ],
    ids=["no file", "over several lines", "the same word in a text", "a form that cannot be changed alone"],
)
def test_a_list_in_a_table_is_kept(before: str, after: str, tmp_path: Path) -> None:
    if before:
        (tmp_path / FILE).write_text(before, "utf-8")
    assert keep(tmp_path, "main", ("f5", "space"), "keys") is (before != after)
    assert (tmp_path / FILE).read_text("utf-8") == after


@pytest.mark.parametrize(
    "content",
    [
        b'bell = [["colour"]]',
        b"bell = [{a = 1}]",
        b'[keys]\nmain = ""',
        b'[keys]\nmain = ["f' + b"1" * 5_000 + b'"]',
        b"double_tap = " + b"9" * 5_000,
        b"bell = " + b"[" * 5_000,
        b'speak = "say\\u0000it"',
        b"colours = [1]",
        b"main_step = {a = 1}",
        'hand = "\xe9"'.encode("latin-1"),
        'hand = "left"'.encode("utf-16"),
        b"#" * 200_000,
    ],
    ids=str.split("a-list a-table no-key a-long-key digits brackets nul list table latin-1 utf-16 large"),
)
def test_settings_that_cannot_be_are_told_and_kept_as_they_are(content: bytes, tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(content)
    settings = load_settings(tmp_path)
    (problem,) = settings.problems
    assert len(problem) < 200
    assert settings == Settings(problems=settings.problems)
    keep(tmp_path, "colours", "daylight")
    again = load_settings(tmp_path)
    assert again.problems == settings.problems or again.palette == "daylight"


def test_a_mark_at_the_start_of_the_file_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b'\xef\xbb\xbfhand = "left"\r\n')
    assert (load_settings(tmp_path).left_handed, load_settings(tmp_path).problems) == (True, ())
    keep(tmp_path, "colours", "daylight")
    assert (load_settings(tmp_path).palette, load_settings(tmp_path).left_handed) == ("daylight", True)


def test_a_link_to_the_settings_stays_one(tmp_path: Path) -> None:
    (tmp_path / "dotfiles.toml").write_text('hand = "left"\n', "utf-8")
    (tmp_path / FILE).symlink_to(tmp_path / "dotfiles.toml")
    keep(tmp_path, "colours", "daylight")
    assert (tmp_path / FILE).is_symlink() and load_settings(tmp_path).palette == "daylight"
