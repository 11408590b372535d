"""A bench for each test that keeps a project on disk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from support.project_bench import Bench


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    table = Bench(tmp_path)
    yield table
    table.clear()
