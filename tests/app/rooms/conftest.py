from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.desk_book import copy_book, open_book, write_book
from wayfold.app.session import Session


@pytest.fixture(scope="session")
def book_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The journey of ``tests/desk_book.py``; tests take a copy."""
    return write_book(tmp_path_factory.mktemp("book") / "atlantic")


@pytest.fixture
def session(book_once: Path, tmp_path: Path) -> Iterator[Session]:
    """A copy of that book, open."""
    session = open_book(copy_book(book_once, tmp_path / "atlantic")).session
    yield session
    session.close()
