"""What is said, and speech through a command: without a shell, without waiting, and told when it cannot be had."""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from support.building import inc, pattern, piece, ring, rnd, sc
from support.screens import desk_of

from tracker.tui.sounds import LONGEST_SPEECH, Voice
from tracker.tui.speech import words_to_say

STAND_IN = """
import sys, time
with open(sys.argv[1], "a", encoding="utf-8") as heard:
    heard.write(sys.argv[-1] + "\\n")
time.sleep(float(sys.argv[2]))
"""


@pytest.fixture
def heard(tmp_path: Path) -> Path:
    path = tmp_path / "heard.txt"
    path.write_text("", "utf-8")
    return path


def voice(tmp_path: Path, heard: Path, speaking: float = 0.0) -> Voice:
    script = tmp_path / "speak.py"
    script.write_text(STAND_IN, "utf-8")
    return Voice((sys.executable, str(script), str(heard), str(speaking)))


def wait_until(holds: Callable[[], bool]) -> None:
    end = time.monotonic() + 20
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.01)


def test_words_are_said_as_they_are_and_not_through_a_shell(tmp_path: Path, heard: Path) -> None:
    speaker = voice(tmp_path, heard)
    speaker.say("$(touch x) `id` ; 2 sc")
    wait_until(lambda: speaker.is_silent)
    assert heard.read_text("utf-8") == "$(touch x) `id` ; 2 sc\n"
    assert not Path("x").exists()


def test_saying_does_not_wait_and_new_words_cut_off_old_ones(tmp_path: Path, heard: Path) -> None:
    speaker = voice(tmp_path, heard, speaking=60)
    speaker.say("first")
    wait_until(lambda: "first" in heard.read_text("utf-8"))
    speaker.say("second")
    wait_until(lambda: "second" in heard.read_text("utf-8"))
    speaker.hush()
    wait_until(lambda: speaker.is_silent)


def test_words_are_never_taken_for_options(tmp_path: Path, heard: Path) -> None:
    speaker = voice(tmp_path, heard)
    speaker.say("--file /etc/passwd")
    wait_until(lambda: speaker.is_silent)
    assert heard.read_text("utf-8") == "file /etc/passwd\n"


def test_long_words_are_cut(tmp_path: Path, heard: Path) -> None:
    speaker = voice(tmp_path, heard)
    speaker.say("x" * 10_000)
    wait_until(lambda: speaker.is_silent)
    assert len(heard.read_text("utf-8")) == LONGEST_SPEECH + 1


def test_a_command_that_cannot_be_run_is_told_and_not_tried_again(tmp_path: Path) -> None:
    speaker = Voice((str(tmp_path / "nothing"),))
    speaker.say("hello")
    assert speaker.trouble.endswith("nothing cannot speak: no such file or directory")
    speaker.trouble = ""
    speaker.say("hello")
    assert speaker.trouble == ""


def test_a_speech_program_speaks(tmp_path: Path, heard: Path) -> None:
    """espeak-ng of Debian's packages where it is, writing what it says to a sound file; else a stand-in."""
    sound = tmp_path / "said.wav"
    if shutil.which("espeak-ng"):
        speaker = Voice(("espeak-ng", "-w", str(sound)))
    else:
        speaker, sound = voice(tmp_path, heard), heard
    speaker.say("change to moss after this stitch")
    wait_until(lambda: speaker.is_silent)
    assert sound.stat().st_size > (10_000 if sound.suffix == ".wav" else 20)


def test_a_voice_says_what_went_wrong_or_what_comes_next(tmp_path: Path) -> None:
    desk = desk_of(pattern(piece("Cap", rnd(1, ring(6)), rnd(2, inc(6)), rnd(3, sc(12)))), tmp_path)
    desk.round()
    assert words_to_say(desk) == "6 increases"
    desk.round()
    assert words_to_say(desk) == "count Rnd 2. 12 single crochet"
    desk.count("11")
    assert words_to_say(desk).startswith("Rnd 2: 1 fewer than 12; ") and ". c: count again" in words_to_say(desk)
    desk.look(-1)
    desk.main()  # back from a look at another round
    assert words_to_say(desk).startswith("Rnd 2: ")
    desk.stitch()
    assert words_to_say(desk) == ""  # the difference is not said at each tap
    desk.count("x")
    assert words_to_say(desk).startswith("type how many stitches")


def test_in_a_long_run_only_the_tens_are_said(tmp_path: Path) -> None:
    rounds = (rnd(1, ring(6)), rnd(2, sc(4), inc(2)), rnd(3, sc(26)))
    desk = desk_of(pattern(piece("Cap", *rounds)), tmp_path)
    said = []
    for _ in range(6 + 8 + 26):
        desk.stitch()
        said.append(words_to_say(desk))
    assert [words[:16] for words in said[:3]] == ["5 single crochet", "4 single crochet", "3 single crochet"]
    assert said[13] == "count Rnd 2. 26 single crochet"
    assert said[14:39] == [*[""] * 9, "10", *[""] * 9, "20", *[""] * 5]
