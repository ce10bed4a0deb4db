from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.desk_book import copy_book, open_book
from wayfold.app.session import Session


@pytest.fixture
def session(atlantic: Path, tmp_path: Path) -> Iterator[Session]:
    """A copy of that book, open."""
    session = open_book(copy_book(atlantic, tmp_path / "atlantic")).session
    yield session
    session.close()
