"""A differing count at a real terminal: told, made up for in the next round, taken back, resumed after a kill."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

from support.terminal_driver import ROOT, Terminal

PATTERN = '''
title = "Ball"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnds 5-6: sc around (24)
Rnd 7: (2 sc, dec) x 6 (18)
"""
'''
CHANGED = "changed; the pattern has Rnds 5-6: sc"


def place_of(path: Path, data: Path) -> dict[str, object]:
    """What `rounds place --json` tells."""
    command = [sys.executable, "-m", "tracker", "place", str(path), "--json", "--data", str(data)]
    told: dict[str, object] = json.loads(subprocess.run(command, cwd=ROOT, capture_output=True, check=True).stdout)
    return told


def test_a_differing_count_is_made_up_for_and_the_changed_round_outlives_a_kill(tmp_path: Path) -> None:
    path, data = tmp_path / "ball.toml", tmp_path / "data"
    path.write_text(PATTERN, "utf-8")
    with Terminal("work", str(path), data=data) as terminal:
        terminal.wait_for("begin")
        terminal.press("space", *"rrrr")
        terminal.wait_for("count Rnd 4: type the number")
        terminal.type("23\r")
        terminal.wait_for("1 stitch too few", "Rnd 4: 1 fewer than 24", " J  make it up in Rnd 5: ")
        terminal.press("J")
        terminal.wait_for(CHANGED, "what comes next is changed; undo brings everything back")
        terminal.press("u")
        terminal.wait_for("1 stitch too few", "taken back")
        terminal.press("J")
        terminal.wait_for(CHANGED)
        terminal.kill()
    told = place_of(path, data)
    assert (told["round"], told["round_changed"], told["counted_differently"]) == (5, True, None)
    assert re.match(r"Rnd 5: .*\(24\)$", str(told["text"]))
    with Terminal("work", str(path), data=data) as terminal:
        terminal.wait_for(CHANGED, "stitch 0 of 24")
        terminal.press("r")
        terminal.wait_for("stitch 0 of 24", "Rnds 5-6: sc around (24)")
        terminal.type("24\r")
        terminal.wait_for("Rnd 5: 24, as it should be")
        terminal.press("q")
        assert terminal.wait_for_end() == 0


def test_half_way_the_place_is_moved_with_one_key(tmp_path: Path) -> None:
    path = tmp_path / "ball.toml"
    path.write_text(PATTERN, "utf-8")
    with Terminal("work", str(path), data=tmp_path / "data") as terminal:
        terminal.wait_for("begin")
        terminal.press("space", *"rrr", *["space"] * 4)
        terminal.wait_for("stitch 16 of 24")
        terminal.type("17\r")
        terminal.wait_for("1 stitch too many", " g  the work is right: set the place to")
        terminal.press("g")
        terminal.wait_for("stitch 17 of 24", "your place is set; undo brings everything back")
        terminal.press("q")
        assert terminal.wait_for_end() == 0
    told = place_of(path, tmp_path / "data")
    assert (told["stitch"], told["learned"]) == (17, {})
