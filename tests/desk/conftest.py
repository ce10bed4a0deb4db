from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from tests.desk.fake_book import FakeShown, put_on_shelf
from wayfold.app.shelf import Shelf
from wayfold.desk.door import Door, DoorKeeper
from wayfold.desk.server import create_rooms

PORT = 8732


@pytest.fixture
def session() -> FakeShown:
    return FakeShown()


@pytest.fixture
def door() -> Door:
    return Door(PORT)


@pytest.fixture(scope="session")
def shelf_and_rooms() -> tuple[Shelf, FastAPI]:
    """Made once: a hundred routes take longer than most that is asked of them."""
    shelf = Shelf()
    return shelf, create_rooms(shelf)


@pytest.fixture
def stranger(
    session: FakeShown, door: Door, shelf_and_rooms: tuple[Shelf, FastAPI]
) -> Iterator[TestClient]:
    """A client at the right address that has not been let in."""
    shelf, rooms = shelf_and_rooms
    shelf.close()
    put_on_shelf(session, shelf)
    app = DoorKeeper(rooms, door)
    # As the desk's own page: browsers send Origin with all that may change something.
    own = {"Origin": f"http://127.0.0.1:{PORT}"}
    address = own["Origin"]
    with TestClient(app, base_url=address, follow_redirects=False, headers=own) as client:
        yield client


@pytest.fixture
def client(stranger: TestClient, door: Door) -> TestClient:
    """A client that opened the desk by its address."""
    assert stranger.get(door.opening_address).status_code == 303
    return stranger
