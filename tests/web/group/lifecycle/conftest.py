"""A store whose clock is set by hand."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest

from companion.store import Store

from ....conftest import NOON


class Clock:
    """A clock that is set by hand."""

    now = NOON

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(database: Path | str, clock: Clock) -> Iterator[Store]:
    with closing(Store(database, clock)) as opened:
        yield opened
