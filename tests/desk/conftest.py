from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from tests.desk.fake_session import FakeSession
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8732


@pytest.fixture
def session() -> FakeSession:
    return FakeSession()


@pytest.fixture
def door() -> Door:
    return Door(PORT)


@pytest.fixture
def stranger(session: FakeSession, door: Door) -> Iterator[TestClient]:
    """A client at the right address that has not been let in."""
    app = create_desk(session, door)
    with TestClient(app, base_url=f"http://127.0.0.1:{PORT}", follow_redirects=False) as client:
        yield client


@pytest.fixture
def client(stranger: TestClient, door: Door) -> TestClient:
    """A client that opened the desk by its address."""
    assert stranger.get(door.opening_address).status_code == 303
    return stranger
