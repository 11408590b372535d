"""How long a key takes while a long round is typed, read anew at each: beside a bare Textual app in the same run.

    python tests/bench/live_line.py [--rounds 60] [--json]

A round of 200 characters is typed as the next one of a pattern of one's own, and over an early line of it, where
the rounds behind are worked out anew. Keys go to the bare app and to ours in turn, so that a busy machine slows all
alike; a key lasts from its sending to the last byte that it causes. The goal is less than 30 ms more than the bare
app takes, in the median; the nine tenths tell whether a longer line is slower.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median, quantiles

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from bench.paint import BARE, Painted, _environment  # noqa: E402

GOAL = 30.0
"""Milliseconds a key beside the bare app, in the median."""

PART = "2 sc, inc, (3 sc, hdc in next 2 sts, dec) x 3, ch 2, sk 2, 5 sc, (sc, ch 2, sc) in next st, bobble, "
TYPED = (PART * 2)[:200]


def pattern_of(rounds: int) -> str:
    """A disk of so many rounds that grows by six each, with a gauge."""
    grown = (f"Rnd {number}: ({number - 2} sc, inc) x 6 ({6 * number})" for number in range(3, rounds + 1))
    lines = "\n".join(("Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc x 6 (12)", *grown))
    head = 'title = "Disk"\nfor = "adult"\nstage = "draft"\n'
    gauge = '[gauge]\nstitch = "sc"\nstitches = 22\nrounds = 24\nover = "10 cm"\n'
    return f'{head}{gauge}[[piece]]\nname = "Disk"\nrounds = """\n{lines}\n"""\n'


def opened(data: Path, path: Path, keys: tuple[bytes, ...]) -> Painted:
    """Our program at the line where a round is typed, after these keys."""
    program = Painted((sys.executable, "-m", "tracker", "work", str(path)), data)
    program.until_quiet(program.began)
    for key in keys:
        program.press(key)
    return program


def measure(rounds: int) -> dict[str, list[float]]:
    """Seconds of each key, for the bare app and for both lines of ours."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        programs = {"bare": Painted((sys.executable, "-c", BARE), data)}
        programs["bare"].until_quiet(programs["bare"].began)
        for name, keys in (("next round", (b"j",)), ("mended line", (b"m", b"e", b"\x15"))):
            own = data / name / "patterns" / "disk.toml"
            own.parent.mkdir(parents=True)
            own.write_text(pattern_of(rounds), "utf-8")
            begin = (sys.executable, "-m", "tracker", "work", str(own), "--plain")
            env = {**_environment(data), "ROUNDS_DATA": str(data / name)}
            said = "ask never\nround\nround\n"
            subprocess.run(begin, input=said, text=True, env=env, cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
            programs[name] = opened(data / name, own, keys)
        taken: dict[str, list[float]] = {name: [] for name in programs}
        try:
            for character in TYPED:
                for name, program in programs.items():
                    seconds, _ = program.press(character.encode())
                    taken[name].append(seconds)
                    if time.perf_counter() - program.began > 900:
                        raise TimeoutError("the machine is too busy to measure")
        finally:
            for program in programs.values():
                program.end()
    return taken


def figures_of(taken: dict[str, list[float]]) -> dict[str, dict[str, float]]:
    """Milliseconds: the median key, nine tenths of them, and what the median takes beside the bare app's."""
    bare = median(taken["bare"])
    return {
        name: {
            "median": median(seconds) * 1000,
            "p90": quantiles(seconds, n=10)[8] * 1000,
            "beside bare": median(each - other for each, other in zip(seconds, taken["bare"], strict=True)) * 1000,
            "/ bare": median(seconds) / bare,
        }
        for name, seconds in taken.items()
    }


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rounds", type=int, default=60, help="rounds of the pattern that is written on")
    parser.add_argument("--json", action="store_true")
    told = parser.parse_args()
    found = figures_of(measure(told.rounds))
    if told.json:
        print(json.dumps(found, indent=2))
    else:
        print(f"{'ms a key':14}{'median':>10}{'p90':>10}{'beside bare':>13}{'/ bare':>9}")
        for name, row in found.items():
            numbers = f"{row['median']:10.1f}{row['p90']:10.1f}{row['beside bare']:13.1f}{row['/ bare']:9.2f}"
            print(f"{name:14}{numbers}")
    return int(any(row["beside bare"] >= GOAL for row in found.values()))


if __name__ == "__main__":
    sys.exit(main())
