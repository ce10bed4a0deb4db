from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from tests.desk.fake_book import FakeShown, put_on_shelf
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8732


@pytest.fixture
def session() -> FakeShown:
    return FakeShown()


@pytest.fixture
def door() -> Door:
    return Door(PORT)


@pytest.fixture
def stranger(session: FakeShown, door: Door) -> Iterator[TestClient]:
    """A client at the right address that has not been let in."""
    app = create_desk(put_on_shelf(session), door)
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
