"""The rooms of the house: who may import whom, and who may know a screen, a disk or a clock.

The first half reads the sources; the second half runs them, because an import can also come by a back door.
"""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "tracker"
PATTERN = ROOT / "patterns" / "toadstool.toml"

MAY_IMPORT = {
    "notation": set(),
    "rounds": {"notation"},
    "pattern": {"notation", "rounds"},
    "phrasing": {"notation", "rounds"},
    "session": {"notation", "rounds", "pattern", "phrasing"},
    "journal": {"session"},
    "project": {"notation", "rounds", "pattern", "session", "journal"},
    "measure": {"notation", "rounds", "pattern"},
    "drawing": {"notation", "rounds", "pattern", "phrasing"},
    "document": {
        *("notation", "rounds", "pattern", "phrasing", "session", "journal", "project"),
        *("measure", "drawing"),
    },
    "reports": {"pattern", "phrasing", "session", "journal", "project", "measure", "drawing", "document"},
    "cli": {
        *("notation", "rounds", "pattern", "phrasing", "session", "journal", "project"),
        *("measure", "drawing", "document", "reports", "tui"),
    },
    "tui": {
        *("notation", "rounds", "pattern", "phrasing", "session", "journal", "project"),
        *("measure", "drawing", "reports"),
    },
}
"""Each room, and the rooms that it may look into. Ground that all may stand on lies beside them."""

GROUND = (
    "diagnostics",
    "identity_cache",
    "lazy_dataclass",
    "lazy_pattern",
    "line_frame",
    "normalize",
    "plural",
    "suggestion",
)

DOMAIN = tuple(room for room in MAY_IMPORT if room not in ("reports", "cli", "tui"))
OUTER_WORLD = {
    *("curses", "rich", "textual"),
    *("io", "os", "pathlib", "platformdirs", "shutil", "sqlite3", "tempfile"),
    *("datetime", "random", "time"),
    *("asyncio", "socket", "subprocess", "threading"),
}
"""What knows a screen, a disk, a clock, chance or another program."""

DOORS = {
    "pattern/loader.py": {"pathlib"},
    "pattern/pattern_file.py": {"pathlib"},
    "pattern/kept_reading.py": {"os", "pathlib"},
    "journal": {"datetime", "os", "pathlib", "platformdirs", "sqlite3", "time"},
    "project/project.py": {"pathlib"},
    "project/history_import.py": {"pathlib"},
}
"""The only files of the domain (by the start of their path) that may touch it, and what of it."""


@cache
def parsed(path: Path) -> ast.Module:
    """A source file as a tree; most of these tests look at every file."""
    return ast.parse(path.read_text("utf-8"))


def sources(room: str) -> list[Path]:
    return sorted((PACKAGE / room).rglob("*.py"))


def imported(path: Path) -> Iterator[str]:
    """Every module that a source file imports, in whole names; those for type checking only count as well."""
    package = path.relative_to(ROOT).with_suffix("").parts[:-1]
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = ".".join(package[: len(package) - node.level + 1]) if node.level else ""
            stem = ".".join(part for part in (above, node.module) if part)
            yield stem
            yield from (f"{stem}.{alias.name}" for alias in node.names if stem == "tracker")


def rooms_used(path: Path) -> set[str]:
    parts = (name.split(".") for name in imported(path))
    return {part[1] for part in parts if part[0] == "tracker" and len(part) > 1}


def outer_world_used(path: Path) -> set[str]:
    return {name.split(".")[0] for name in imported(path)} & OUTER_WORLD


def door_for(path: Path) -> set[str]:
    inside = path.relative_to(PACKAGE).as_posix()
    return set().union(*(use for start, use in DOORS.items() if inside.startswith(start)))


def test_the_picture_of_the_rooms_is_what_may_be_imported() -> None:
    developers = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    rooms, picture = re.findall(r"^```\n(.*?)^```", developers, flags=re.M | re.S)
    assert re.findall(r"^  (\w+)/", rooms, flags=re.M) == list(MAY_IMPORT)
    chains = [re.split(r" <- ", chain) for line in picture.splitlines() for chain in re.split(r" {3,}", line.strip())]
    for below, above in (pair for chain in chains for pair in pairwise(chain)):
        for room in above.split(", "):
            assert set(below.split(", ")) <= MAY_IMPORT[room], room


def test_every_room_has_its_rule() -> None:
    rooms = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}
    assert rooms == set(MAY_IMPORT)


def test_every_package_is_installed() -> None:
    """They are named one by one in pyproject.toml; one that is forgotten is missed only outside a checkout."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    folders = {path.parent.relative_to(ROOT) for path in PACKAGE.rglob("__init__.py")}
    assert {".".join(folder.parts) for folder in folders} <= set(project["tool"]["setuptools"]["packages"])


@pytest.mark.parametrize("room", MAY_IMPORT)
def test_a_room_imports_only_what_lies_below_it(room: str) -> None:
    allowed = MAY_IMPORT[room] | {room, *GROUND}
    wrong = {str(path.relative_to(ROOT)): rooms_used(path) - allowed for path in sources(room)}
    assert {path: rooms for path, rooms in wrong.items() if rooms} == {}


@pytest.mark.parametrize("room", DOMAIN)
def test_the_domain_knows_no_screen_no_disk_and_no_clock(room: str) -> None:
    wrong = {str(path.relative_to(ROOT)): outer_world_used(path) - door_for(path) for path in sources(room)}
    assert {path: names for path, names in wrong.items() if names} == {}


def module_of(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


MODULES = {module_of(path): path for path in sorted(PACKAGE.rglob("*.py"))}


def folder_of(module: str) -> str:
    return module if MODULES[module].name == "__init__.py" else module.rpartition(".")[0]


@cache
def imported_modules(path: Path) -> set[str]:
    """The modules of the package that a source file imports; a folder's face is not one of them."""
    names: set[str] = set()
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: say the whole name"
            names |= {str(node.module), *(f"{node.module}.{alias.name}" for alias in node.names)}
    return {name for name in names if name in MODULES and MODULES[name].name != "__init__.py"}


def doors_of(folder: str) -> set[str]:
    face = parsed(MODULES[folder])
    (doors,) = (node.value for node in face.body if isinstance(node, ast.Assign) and node.targets[0].id == "DOORS")  # type: ignore[attr-defined]
    return {f"{folder}.{name}" for name in ast.literal_eval(doors)}


FOLDERS = sorted({folder_of(module) for module in MODULES})


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_folder_is_entered_by_the_doors_that_its_face_names(folder: str) -> None:
    users = {(user, used) for user, path in MODULES.items() for used in imported_modules(path)}
    entered = {used for user, used in users if folder_of(used) == folder and folder_of(user) != folder}
    assert entered == doors_of(folder)


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_face_says_in_three_sentences_what_the_room_is_for(folder: str) -> None:
    text = ast.get_docstring(parsed(MODULES[folder]))
    assert text is not None
    title, _, rest = text.partition("\n\n")
    assert title and rest.count(".") >= 2


def test_no_file_imports_one_that_imports_it() -> None:
    """Type checking only and inside functions counted too: a circle of names is a circle of thought."""
    below = {module: imported_modules(path) for module, path in MODULES.items()}
    order: list[str] = []
    while len(order) < len(below):
        free = [module for module in below if module not in order and below[module] <= {*order, module}]
        assert free, sorted(set(below) - set(order))
        order += free


def test_only_the_screen_names_textual() -> None:
    named = {path for path in PACKAGE.rglob("*.py") if "textual" in {name.split(".")[0] for name in imported(path)}}
    assert {path for path in named if "tui" not in path.parts} == set()


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("import textual.app", {"textual.app"}),
        ("from tracker import tui", {"tracker", "tracker.tui"}),
        ("from ..session.events import Undo", {"tracker.session.events"}),
        ("from . import plan", {"tracker.pattern"}),
        ("def f():\n    import sqlite3", {"sqlite3"}),
    ],
)
def test_no_spelling_of_an_import_is_missed(line: str, names: set[str], tmp_path: Path) -> None:
    """The test above is only as good as its eyes."""
    path = PACKAGE / "pattern" / "imagined.py"
    assert set(imported(_Imagined(path, line))) == names  # type: ignore[arg-type]


class _Imagined:
    """A source file that is not on disk."""

    def __init__(self, path: Path, text: str) -> None:
        self.relative_to, self._text = path.relative_to, text

    def read_text(self, _encoding: str) -> str:
        return self._text


IMPORT_ONE_BY_ONE = """
import importlib, json, sys
guilty = []
for name in json.load(sys.stdin):
    importlib.import_module(name)
    if "textual" in sys.modules:
        guilty.append(name)
        break
print(json.dumps(guilty))
"""

RUN_THEN_LOOK = """
import runpy, sys
code = 0
try:
    runpy.run_module("tracker", run_name="__main__", alter_sys=True)
except SystemExit as end:
    code = end.code or 0
print("code", code, "textual", "textual" in sys.modules, file=sys.stderr)
"""


def run(program: str, *arguments: str, stdin: str = "", home: Path) -> subprocess.CompletedProcess[str]:
    """The program in a fresh interpreter that keeps its data under `home`."""
    return subprocess.run(
        [sys.executable, "-c", program, *arguments],
        input=stdin,
        capture_output=True,
        text=True,
        timeout=60,
        cwd=ROOT,
        env={**os.environ, "HOME": str(home), "XDG_DATA_HOME": str(home), "PYTHONPATH": str(ROOT)},
    )


def test_importing_anything_but_the_screen_leaves_textual_alone(tmp_path: Path) -> None:
    modules = [
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        for path in sorted(PACKAGE.rglob("*.py"))
        if "tui" not in path.parts and path.name != "__main__.py"
    ]
    done = run(IMPORT_ONE_BY_ONE, stdin=json.dumps(modules), home=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == []


@pytest.mark.parametrize(
    ("arguments", "stdin"),
    [
        (["check", str(PATTERN)], ""),
        (["check", "--lines"], '{"text": "Rnd 2: inc in each st around (12)", "before": 6, "terms": "US"}\n'),
        (["place", str(PATTERN), "--json"], ""),
        (["read"], "Rnd 1: 6 sc in magic ring (6)\n"),
        (["measure", str(PATTERN)], ""),
        (["draw", str(PATTERN), "--piece", "Cap"], ""),
        (["write", str(PATTERN)], ""),
        (["--help"], ""),
    ],
    ids=["check", "check --lines", "place", "read", "measure", "draw", "write", "--help"],
)
def test_a_command_without_a_screen_never_loads_textual(arguments: list[str], stdin: str, tmp_path: Path) -> None:
    done = run(RUN_THEN_LOOK, *arguments, stdin=stdin, home=tmp_path)
    assert done.stderr.splitlines()[-1] == "code 0 textual False", done.stderr
    assert done.stdout
