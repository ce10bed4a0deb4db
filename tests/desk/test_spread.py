"""The room Spread over the wire, with a real book behind it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.desk_book import open_book, write_book
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8733


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A desk with the book of ``tests/desk_book.py``, its browser let in."""
    root: Path = write_book(tmp_path_factory.mktemp("book") / "atlantic")
    shelf, door = open_book(root), Door(PORT)
    base = f"http://127.0.0.1:{PORT}"
    app = create_desk(shelf, door)
    with TestClient(app, base_url=base, follow_redirects=False, headers={"Origin": base}) as client:
        client.get(door.opening_address)
        yield client
    shelf.session.close()


def test_a_spread_comes_whole(desk: TestClient) -> None:
    answer = desk.get("/api/spread/6")
    assert answer.status_code == 200
    spread = answer.json()
    assert [page["number"] for page in spread["pages"]] == [6, 7]
    assert spread["trim_width_mm"] == 210.0
    assert all(frame["page"] in (6, 7) for frame in spread["frames"])
    assert spread["revision"] == desk.get("/api/desk").json()["book"]["revision"]
    assert str(Path.home()) not in answer.text


def test_no_such_page(desk: TestClient) -> None:
    answer = desk.get("/api/spread/999")
    assert answer.status_code == 404
    assert answer.json()["what"] == "The book has no page 999."
