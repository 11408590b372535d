"""What is installed for real: a wheel, away from this folder, has all its rooms and the shipped patterns."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_a_wheel_outside_the_tree_finds_the_shipped_patterns(tmp_path: Path) -> None:
    source = tmp_path / "source"
    source.mkdir()
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, source)
    for name in ("tracker", "patterns"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    build = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation", "--no-index"]
    subprocess.run([*build, "-w", tmp_path, source], check=True, timeout=120, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    environment = {**os.environ, "PYTHONPATH": str(site), "ROUNDS_DATA": str(tmp_path / "data")}
    run = [sys.executable, "-c", "import tracker.cli.main as m; print(m.__file__); raise SystemExit(m.main())"]
    listed = subprocess.run(run, capture_output=True, text=True, timeout=60, cwd=tmp_path, env=environment)
    assert (listed.returncode, listed.stderr) == (0, "")
    assert listed.stdout.startswith(str(site))
    assert [path.stem for path in sorted((ROOT / "patterns").glob("*.toml"))] == [
        line.split(":")[0].strip()
        for line in listed.stdout.split("shipped patterns:")[1].splitlines()
        if line.strip()
    ]
    checked = subprocess.run(
        [*run, "check", "toadstool"], timeout=60, cwd=tmp_path, env=environment, capture_output=True
    )
    assert checked.returncode == 0
