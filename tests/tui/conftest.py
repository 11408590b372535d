"""Every project that a test opened is closed after it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from support import screens as desks


@pytest.fixture(autouse=True)
def closed_afterwards() -> Iterator[None]:
    yield
    while desks.OPENED:
        desks.OPENED.pop().close()
