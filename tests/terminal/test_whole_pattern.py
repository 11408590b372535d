"""A small pattern from the first round to the making-up at a real terminal, pressing only what the screen names.

With keys typed faster than anything is painted, a wrong count, a frog, a pause with a kill, and a resume.
"""

from __future__ import annotations

import re
from pathlib import Path

from support.terminal_driver import Terminal

PATTERN = '''
title = "Button"
hook = "3 mm"

[yarn.N]
name = "navy"
colour = "#23305c"

[yarn.C]
name = "cream"

[[piece]]
name = "Disc"
make = 2
start = "spiral"
rounds = """
Rnd 1 (N): 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3 (C): (1 sc, inc) x 6, fasten off (18)
"""

[[making-up]]
step = "Lay one disc on the other and sew around."

[[making-up]]
step = "Weave in the ends."
'''


def key_for(terminal: Terminal, words: str) -> str:
    """The key that the screen names for something, once it does. The keys stand at the foot, so the last counts."""
    named = re.compile(rf"(?:^| )(\S+) +{re.escape(words)}(?:  |$)", re.M)
    terminal.wait_until(lambda: named.search(terminal.text) is not None, f"a key for {words!r}")
    found = named.findall(terminal.text)[-1]
    return {"→": "right", "←": "left"}.get(found, found)


def test_a_small_pattern_from_the_first_round_to_the_making_up(tmp_path: Path) -> None:
    path = tmp_path / "button.toml"
    path.write_text(PATTERN, "utf-8")
    with Terminal("work", str(path), data=tmp_path / "data") as terminal:
        terminal.wait_for("navy (N)", "begin")
        terminal.press(key_for(terminal, "begin"))
        terminal.wait_for("Disc 1 of 2", "stitch 0 of 6", "help")
        terminal.press(key_for(terminal, "help"))
        terminal.wait_until(lambda: " back" in terminal.text.rsplit("\n", 1)[-1], "the foot of the help")
        terminal.press(key_for(terminal, "back"))
        terminal.wait_for("stitch 0 of 6", "leave")
        bells = terminal.bells
        terminal.press(*[key_for(terminal, "round")] * 2)
        terminal.wait_for("change to cream")
        terminal.press(key_for(terminal, "round"))
        terminal.wait_for("count Rnd 2: type the number", "Rnd 3 (C): (1 sc, inc) x 6")
        terminal.type("11\r")
        terminal.wait_for("1 stitch too few", "Disc 1 of 2, Rnd 2: 1 fewer than 12", " c  count again")
        assert terminal.bells > bells
        terminal.press("f")
        terminal.wait_for("ripped back; was it there? z: yes", "stitch 0 of 12")
        terminal.wait_until(lambda: "too few" not in terminal.text, "the warning goes with the frogged round")
        terminal.kill()
    with Terminal("work", str(path), data=tmp_path / "data") as terminal:
        terminal.wait_for("Disc 1 of 2", "stitch 0 of 12", "undo")
        terminal.press(key_for(terminal, "undo"))
        terminal.wait_for("1 stitch too few")
        terminal.press("k")
        terminal.wait_for("! Disc, Rnd 2: 1 stitch too few")
        terminal.press(*[key_for(terminal, "repeat")] * 6)
        terminal.wait_for("fasten off")
        terminal.press(key_for(terminal, "repeat"))
        terminal.wait_for("Disc 2 of 2", "Disc 1 of 2 is made")
        terminal.press(*[key_for(terminal, "round")] * 5)
        terminal.wait_for("making up: Lay one disc on the other", "step done")
        terminal.press(key_for(terminal, "step done"))
        terminal.wait_for("making up: Weave in the ends.")
        terminal.press(key_for(terminal, "step done"))
        terminal.wait_for("everything is made")
        terminal.press(key_for(terminal, "leave"))
        assert terminal.wait_for_end() == 0


def test_keys_typed_faster_than_anything_is_painted_are_all_taken(tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("begin")
        terminal.type(" rrsss4\rk?qncold\r")
        terminal.wait_for("stitch 4 of 19", "! Cap, Rnd 3: 1 stitch too many", "note: cold")


def test_the_list_alone_leads_to_the_first_round(tmp_path: Path) -> None:
    with Terminal(data=tmp_path) as terminal:
        terminal.wait_for("what shall we make?", "Toadstool pincushion", "space go on")
        terminal.press("down", "down", "down", "down", "space")
        terminal.wait_for("brick red", "begin")
        terminal.press("space")
        terminal.wait_for("stitch 0 of 6")
        terminal.press("s", "q")
        assert terminal.wait_for_end() == 0
    with Terminal(data=tmp_path) as terminal:
        terminal.wait_for("under way", "Toadstool pincushion  1%, next: Cap, Rnd 1")
        terminal.press("space")
        terminal.wait_for("stitch 1 of 6")


def test_a_pasted_count_is_taken(tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("begin")
        terminal.press("space", "r")
        terminal.wait_for("Rnd 2:")
        terminal.paste(" 6\n")
        terminal.wait_for("stitches counted in Rnd 1: 6")
        terminal.press("enter")
        terminal.wait_for("Rnd 1: 6, as it should be")
