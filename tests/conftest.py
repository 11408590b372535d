"""A bench for each test that keeps a project on disk."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings
from support.project_bench import Bench

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")  # a law holds on a loaded machine too: what takes long is measured in tests/bench


def pytest_configure(config: pytest.Config) -> None:
    """Some tests start the program in a process of its own. Where Python may leave no compiled files beside the
    source each of them would compile all of it, longer than a start takes; so they are left in a folder apart."""
    if os.environ.pop("PYTHONDONTWRITEBYTECODE", "") and "PYTHONPYCACHEPREFIX" not in os.environ:
        folder = TemporaryDirectory(prefix="compiled-", ignore_cleanup_errors=True)
        os.environ["PYTHONPYCACHEPREFIX"] = folder.name
        config.add_cleanup(folder.cleanup)


MANY = 1_000
"""Tests in one run from which on it takes minutes."""


def pytest_report_collectionfinish(items: list[pytest.Item]) -> str:
    """Said before the first test, so that nobody thinks that it hangs."""
    return f"{len(items):,} tests: this takes minutes; -n auto uses every processor" if len(items) > MANY else ""


def pytest_sessionstart(session: pytest.Session) -> None:
    """Collecting so many takes a while by itself."""
    whole = [Path(str(each)) for each in session.config.args] == [session.config.rootpath / "tests"]
    if whole and not hasattr(session.config, "workerinput"):
        print(
            "the whole suite takes minutes; -n auto uses every processor, tests/house is one room of it", flush=True
        )


def pytest_xdist_auto_num_workers() -> int:
    """For `-n auto`: one more than there are processors, as tests in a terminal wait for it most of their time."""
    return (os.cpu_count() or 1) + 1


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    table = Bench(tmp_path)
    yield table
    table.clear()
