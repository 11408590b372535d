"""Every command given every kind of bad input: a sentence and an exit code, never a page of code, never a hang.

What a kind of file looks like is from the documents that describe it: PNG (W3C, PNG specification, 5.2), PDF (ISO
32000), UTF-16 (Unicode Standard, 23.8).
"""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tracker.cli.main import main

ROOT = Path(__file__).parents[2]
HAT = '[[piece]]\nname = "Cap"\nrounds = "Rnd 1: 7 sc in magic ring (7)"\n'
TITLED = f'title = "Hat"\n{HAT}'

FILES: dict[str, bytes | None] = {
    "missing": None,
    "empty": b"",
    "blank": b" \n\n\t",
    "png": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\1\0\0\0\1\x08\6\0\0\0",
    "pdf": b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Length 5 >>\nstream\n\0\1\2\3\4\nendstream",
    "utf-16": TITLED.encode("utf-16"),
    "latin-1": 'title = "Mütze"\n'.encode("latin-1"),
    "written": b"Hat\nRound 1: 7 sc in magic ring (7)\n",
    "half": b'title = "Hat\n',
    "types": b'title = 3\nyarn = [1]\npiece = {a = 1}\ngauge = "20"\nmaking-up = 7\nnotes = {}\n',
    "pieces of types": b'[[piece]]\nname = []\nrounds = 3\nmake = "two"\nstart = 1\n[[piece]]\n',
    "no pieces": b'title = "Nothing"\n',
    "no rounds": b'title = "Nothing"\n[[piece]]\nname = "Cap"\n',
    "other digits": '[[piece]]\nname = "A"\nrounds = "Rnd 1: ❻ sc in ring (❻)\\nRnd ⑵: ❻ inc"\n'.encode(),
    "emoji": f'title = "🧶 \U0001f9f6\u200d✨ 夜"\n{HAT}'.encode(),
    "controls": f'title = "\\u001b]0;x\\u0007\\u001b[31mred"\n{HAT}'.encode(),
    "long keys": b"a" + b".b" * 100_000 + b" = 1\n",
    "long inline keys": b"x = {a" + b".b" * 100_000 + b" = 1}\n",
    "deep": b"x = " + b"[" * 100_000,
    "many digits": b"x = " + b"9" * 5_000,
    "brackets": b'[[piece]]\nname = "A"\nrounds = "Rnd 1: ' + b"(" * 5_000 + b"sc" + b")" * 5_000 + b'"\n',
    "large": b"#" * 2_500_000,
    "bom": b"\xef\xbb\xbf" + TITLED.encode(),
    "history": b'{"form":"round-tracker history","version":3,"entries":1,"project":{}}\n{}\n',
}
ELSEWHERE = ("folder", "endless", "not a name", "controls in its name", "no utf-8 in its name", "loop")

COMMANDS: dict[str, list[str]] = {
    "work": ["work", "FILE", "--plain"],
    "work by name": ["FILE", "--plain"],
    "place": ["place", "FILE"],
    "place --json": ["place", "FILE", "--json"],
    "check": ["check", "FILE"],
    "check --json": ["check", "FILE", "--json"],
    "read": ["read", "FILE"],
    "read -o": ["read", "FILE", "-o", "OUT"],
    "measure": ["measure", "FILE", "--json"],
    "measure --fit": ["measure", "FILE", "--fit", "99999cm"],
    "measure --fit-gauge": ["measure", "FILE", "--fit-gauge", "22x22", "-o", "OUT"],
    "measure --swatch": ["measure", "FILE", "--swatch-grams", "1e308", "--swatch-stitches", "1"],
    "draw": ["draw", "FILE"],
    "draw --round": ["draw", "FILE", "--piece", "Cap", "--round", "99999999999999999999", "-o", "OUT"],
    "write": ["write", "FILE"],
    "write --html": ["write", "FILE", "--html", "-o", "OUT"],
    "write --as-made": ["write", "FILE", "--as-made"],
    "write --history": ["write", "FILE", "--history", "OUT"],
    "write --history-from": ["write", "toadstool", "--history-from", "FILE"],
}


def laid_out(kind: str, folder: Path) -> str:
    """The name of a file of this kind."""
    content = FILES.get(kind, TITLED.encode())
    name = folder / "in.toml"
    match kind:
        case "folder":
            name.mkdir()
            return str(name)
        case "endless":
            return "/dev/zero"
        case "not a name":
            return str(folder / "a\0b")
        case "loop":
            name.symlink_to(name)
            return str(name)
        case "controls in its name":
            name = folder / "a\x1b]0;x\x07\x1b[31mred.toml"
            content = HAT.encode()
        case "no utf-8 in its name":
            name = folder / os.fsdecode(b"h\xfct.toml")
            content = HAT.encode()
    if content is not None:
        name.write_bytes(content)
    return str(name)


@pytest.mark.parametrize("command", COMMANDS.values(), ids=COMMANDS)
@pytest.mark.parametrize("kind", [*FILES, *ELSEWHERE])
def test_bad_input_gets_a_sentence(
    kind: str, command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    named = {"FILE": laid_out(kind, tmp_path), "OUT": str(tmp_path / "out.toml")}
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO()))
    try:
        code = main([*(named.get(word, word) for word in command), "--data", str(tmp_path / "data")])
    except SystemExit as end:
        code = int(str(end.code))
    out, err = capsys.readouterr()
    assert code in (0, 1, 2), err
    assert code != 2 or err or "readable" in out
    assert "Traceback" not in out + err and not list(tmp_path.rglob("fault-*"))
    assert re.findall(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", out + err) == []


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("missing", "no such file or directory"),
        ("folder", "this is a folder and no pattern"),
        ("empty", "the file is empty"),
        ("png", "this is no text: a picture, a printed page or a program"),
        ("utf-16", "the file is saved as UTF-16"),
        ("latin-1", "is not UTF-8 text"),
        ("written", "if it is a written pattern: rounds read "),
        ("endless", "more than 2,000,000 bytes"),
        ("long keys", "a key of more than 8 parts"),
    ],
)
@pytest.mark.parametrize("command", ["work", "check"])
def test_each_kind_of_file_has_a_sentence_of_its_own(
    kind: str, words: str, command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = ["--plain"] if command == "work" else []
    assert main([command, laid_out(kind, tmp_path), *more, "--data", str(tmp_path / "data")]) == 2
    assert words in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["chek", "toadstool"], "there is no command and no pattern called chek; do you mean check?"),
        (["toadstol"], "there is no command and no pattern called toadstol; do you mean toadstool?"),
        (["qqqq"], "there is no command and no pattern called qqqq; commands are work, place, check"),
        (["check", "toadstool", "--jsn"], "rounds check: there is no option --jsn; do you mean --json?"),
        (["place", "toadstool", "lighthouse"], "rounds place: there is one word too many: lighthouse"),
        (["--data", "", "place", "toadstool"], "the name of a folder is empty"),
    ],
)
def test_misspelt_words_get_the_nearest(words: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(words)
    assert end.value.code == 2
    assert told in capsys.readouterr().err


def file_for_a_folder(data: Path) -> None:
    data.write_text("")


def folder_for_the_journal(data: Path) -> None:
    (data / "journal.sqlite3").mkdir(parents=True)


def damaged(data: Path) -> None:
    data.mkdir()
    (data / "journal.sqlite3").write_bytes(b"no journal at all\n" * 300)


@pytest.mark.parametrize("words", [[], ["place", "toadstool"], ["write", "toadstool", "--as-made"]], ids=str)
@pytest.mark.parametrize(
    ("lay_out", "told"),
    [
        (file_for_a_folder, "what was named as the data folder is a file; name a folder with --data"),
        (folder_for_the_journal, "journal.sqlite3 in the data folder is a folder; move it away"),
        (damaged, "the journal is damaged; 'rounds work PATTERN' saves what can be read"),
    ],
)
def test_a_data_folder_that_cannot_be_read_is_told_with_what_to_do(
    words: list[str], lay_out: Callable[[Path], None], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lay_out(tmp_path / "data")
    assert main([*words, "--data", str(tmp_path / "data")]) == 2
    out, err = capsys.readouterr()
    assert (out, told in err) == ("", True)


@pytest.mark.parametrize("step", ["-1", "0", "nan", "inf"])
def test_a_scale_that_tells_nothing_apart_is_refused(step: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["measure", "toadstool", "--scale-step", step, "--swatch-grams", "5", "--swatch-stitches", "200"]
    assert main(words) == 2
    assert "--scale-step is what the scale tells apart, in grams above 0" in capsys.readouterr().err


def run(
    *words: str, into: str | None = None, stdin: bytes | None = b"", **environment: str
) -> tuple[int, bytes, bytes]:
    """The program in a process of its own."""
    redirected = ["sh", "-c", f'"$@" {into}', "sh"] if into else []
    done = subprocess.run(
        [*redirected, sys.executable, "-m", "tracker", *words],
        input=stdin,
        capture_output=True,
        timeout=60,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
    )
    return done.returncode, done.stdout, done.stderr


def run_here(
    monkeypatch: pytest.MonkeyPatch, *words: str, encoding: str, stdin: bytes = b""
) -> tuple[int, bytes, bytes]:
    """The command in this process, its streams in an encoding; a process for each is a second for each."""
    streams = {name: io.TextIOWrapper(io.BytesIO(data), encoding) for name, data in STREAMS.items()}
    streams["stdin"].buffer.write(stdin)
    streams["stdin"].buffer.seek(0)
    with monkeypatch.context() as patch:
        for name, stream in streams.items():
            patch.setattr(sys, name, stream)
        code = main(words)
        for name in ("stdout", "stderr"):
            streams[name].flush()
    out, err = (streams[name].detach().getvalue() for name in ("stdout", "stderr"))  # type: ignore[attr-defined]
    return code, out, err


STREAMS = {"stdin": b"", "stdout": b"", "stderr": b""}


NIGHT = """
title = "Blanket “夜” ★"
[yarn.N]
name = "夜 é…"
[[piece]]
name = "夜"
rounds = "Rnd 1: with N, 6 sc in ring (6)"
"""


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "euc-jp"])
def test_whatever_an_encoding_lacks_is_written_in_plain_characters(
    encoding: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "night.toml"
    file.write_text(NIGHT, "utf-8")
    data = ["--data", str(tmp_path / "data")]
    typed = b"round\nyarn\n"
    assert run_here(monkeypatch, "work", str(file), "--plain", *data, encoding=encoding, stdin=typed)[0] == 0
    for words in (
        ["check", str(file)],
        ["place", str(file)],
        ["place", str(file), "--json"],
        ["measure", str(file)],
        [],
    ):
        code, out, err = run_here(monkeypatch, *words, *data, encoding=encoding)
        assert (code, err) == (0, b""), words
        assert "Blanket" in out.decode(encoding)
    if encoding == "ascii":
        assert b'Blanket "?" *' in run("write", str(file), *data, PYTHONIOENCODING=encoding)[1]


def test_bytes_that_are_no_text_do_not_end_a_session(tmp_path: Path) -> None:
    words = ["work", "toadstool", "--plain", "--data", str(tmp_path)]
    code, out, err = run(*words, stdin=b"round\nnote \xff\xfe\nround\nplace\n", LC_ALL="C.UTF-8", PYTHONUTF8="0")
    assert (code, err) == (0, b"")
    assert b"Noted." in out and b"Rnd 3" in out
    code, out, err = run("check", "--lines", stdin=b'\xff{"text"\n{"text": "Rnd 1: 6 sc in ring (6)"}\n')
    assert (code, err, len(out.splitlines())) == (0, b"", 2)


@pytest.mark.parametrize(
    "words",
    [
        ["check", "toadstool"],
        ["read", "README.md", "--terms", "US"],
        ["place", "toadstool", "--json"],
        [],
        ["--help"],
    ],
)
def test_a_full_device_is_told(words: list[str], tmp_path: Path) -> None:
    code, _, err = run(*words, "--data", str(tmp_path), into=">/dev/full")
    assert (code, err) == (2, b"rounds: standard output: no space left on device\n")


def test_a_closed_input_and_a_closed_output_are_borne(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a stream that is closed Python has None (its documentation, sys.stdin); the last two are closed for real."""
    data = ["--data", str(tmp_path)]
    for words in (["work", "toadstool", "--plain"], ["place", "toadstool"], ["check", "--lines"], []):
        for closed in (["stdin"], ["stdout"], ["stdin", "stdout", "stderr"]):
            with monkeypatch.context() as patch:
                patch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO()))
                for name in closed:
                    patch.setattr(sys, name, None)
                assert main([*words, *data]) == 0, (words, closed)
                for name in closed:
                    getattr(sys, name).close()
            assert capsys.readouterr().err == "", (words, closed)
    for words, into in ((["work", "toadstool", "--plain"], "<&- >&- 2>&-"), (["place", "toadstool"], ">&-")):
        code, _, err = run(*words, *data, into=into, stdin=None)
        assert (code, err) == (0, b""), (words, into)


@pytest.mark.parametrize("words", [["write", "lighthouse"], ["check", "toadstool"]])
def test_a_reader_that_went_away_is_no_fault(words: list[str], tmp_path: Path) -> None:
    """128 and the number of SIGPIPE (13, in POSIX): neither well nor a finding."""
    reading, writing = os.pipe()
    os.close(reading)
    with open(writing, "wb") as nobody:
        command = [sys.executable, "-m", "tracker", *words, "--data", str(tmp_path)]
        done = subprocess.run(command, stdout=nobody, stderr=subprocess.PIPE, cwd=ROOT, check=False)
    assert (done.returncode, done.stderr) == (141, b"")


def test_a_file_without_any_text_has_no_line_to_point_at(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "empty.toml").touch()
    for words, told in (
        (["check"], "empty.toml: error: the file is empty\n  help: a pattern has a title and [[piece]]\n"),
        (["read"], "empty.toml: there is no text in it\n"),
    ):
        assert main([*words, str(tmp_path / "empty.toml")]) == 2
        err = capsys.readouterr().err
        assert err.endswith(told) and "^" not in err


def test_a_fault_of_the_program_is_a_sentence_and_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every fault that we know of is mended, so one is made here."""
    from tracker.cli import place

    secret = "words of the pattern"

    def broken(*_: object) -> int:
        raise RuntimeError(secret)

    monkeypatch.setattr(place, "tell_place", broken)
    data = tmp_path / "data"
    data.mkdir()
    assert main(["place", "toadstool", "--data", str(data)]) == 70
    err = capsys.readouterr().err
    report = (data / "fault-1.txt").read_text("utf-8")
    assert f"please send {data / 'fault-1.txt'}" in err and "RuntimeError" in err
    assert "Traceback" not in err and secret not in err + report
    assert "command: rounds place toadstool" in report and "in broken" in report
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    (tmp_path / "file").touch()
    assert main(["place", "toadstool", "--data", str(tmp_path / "file")]) == 70
    assert f"please send {tmp_path / 'rounds-fault-'}" in capsys.readouterr().err
