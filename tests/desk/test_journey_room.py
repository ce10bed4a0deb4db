"""The routes of the room Journey over a real book: what they give, take, and refuse."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.app.rooms.test_journey_room_files import LAUGHS, record_track
from tests.desk_book import copy_book, open_book
from wayfold.app.shelf import Shelf
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8735
CAMERA = "Halden H7 70421985"


@pytest.fixture
def shelf(atlantic: Path, tmp_path: Path) -> Iterator[Shelf]:
    shelf = open_book(copy_book(atlantic, tmp_path / "atlantic"))
    yield shelf
    shelf.close()


@pytest.fixture
def client(shelf: Shelf) -> Iterator[TestClient]:
    door = Door(PORT)
    own = f"http://127.0.0.1:{PORT}"
    app = create_desk(shelf, door)
    with TestClient(app, base_url=own, follow_redirects=False, headers={"Origin": own}) as client:
        client.get(door.opening_address)
        yield client


def test_nothing_it_gives_names_a_place_of_the_disk(client: TestClient, tmp_path: Path) -> None:
    put = client.put("/api/journey/files/track?name=walk.gpx", content=record_track())
    assert put.json()["fresh"] is True
    for address in ("", "/clocks", "/map", "/map?day=2025-05-12", "/files"):
        answer = client.get(f"/api/journey{address}")
        assert answer.status_code == 200
        assert str(tmp_path) not in answer.text
        assert "photographs/" not in answer.text


def test_the_map_tells_where_stays_and_pictures_lie(client: TestClient) -> None:
    whole = client.get("/api/journey/map").json()
    lisbon, porto = whole["spots"]
    # Porto lies to the north of Lisbon and a little east of it: y goes down on a page.
    assert porto["y"] < lisbon["y"]
    assert porto["x"] > lisbon["x"]
    day = client.get("/api/journey/map?day=2025-05-12").json()
    assert sum(spot["photo"] is not None for spot in day["spots"]) == 4  # the telephone's
    for spot in (*whole["spots"], *day["spots"]):
        assert 0 <= spot["x"] <= whole["width_mm"]
        assert 0 <= spot["y"] <= whole["height_mm"]
    assert client.get("/api/journey/map?day=2031-01-01").status_code == 404


def test_a_clock_is_moved_and_the_change_named(client: TestClient) -> None:
    line = client.post(
        "/api/journey/clocks/move", json={"body": CAMERA, "by_s": 3840, "keeping": "one"}
    )
    assert line.json() == "+01:00, 1h4m slow"
    assert client.get("/api/desk").json()["book"]["undo"] == "a camera's clock"


@pytest.mark.parametrize(
    ("address", "body"),
    [
        ("stop", {"place": "Porto", "visit": 0, "name": "x"}),
        ("stop", {"place": "Porto", "visit": 1, "name": "x" * 201}),
        ("leg", {"start": "Lisbon", "end": "Porto", "day": "yesterday"}),
        ("leg", {"start": "Lisbon", "end": "Porto", "day": "2025-05-14", "mode": "carpet"}),
        ("clocks/line", {"body": CAMERA, "line": "whenever"}),
        ("clocks/shown", {"photo": "x", "shows": "25:00"}),
        ("unit", {"unit": "leagues"}),
        ("note", {"date": "2025-05-12", "words": "x", "more": 1}),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    client: TestClient, shelf: Shelf, address: str, body: dict[str, object]
) -> None:
    before = (shelf.session.folder.root / "trip.toml").read_bytes()
    answer = client.put(f"/api/journey/{address}", json=body)
    assert answer.status_code == 422
    assert answer.json()["what"]
    assert (shelf.session.folder.root / "trip.toml").read_bytes() == before


@pytest.mark.parametrize("address", ["files/track", "files/calendar"])
def test_hostile_files_are_refused(client: TestClient, shelf: Shelf, address: str) -> None:
    for content in (LAUGHS, b"\x00" * 2_000_000, b""):
        answer = client.put(f"/api/journey/{address}?name=../../x", content=content)
        assert (answer.status_code, bool(answer.json()["remedy"])) == (422, True)
    huge = {"Content-Length": str(60_000_000)}
    answer = client.put(f"/api/journey/{address}", content=b"x", headers=huge)
    assert answer.status_code == 413
    assert client.put("/api/journey/files/photograph", content=b"x").status_code == 422
    assert client.post("/api/journey/files/..%2f..%2fbook.toml/take-away").status_code in (
        404,
        405,
        422,
    )
    assert client.post("/api/journey/files/0123456789abcdef/take-away").status_code == 404
    assert not list((shelf.session.folder.root).rglob("*.gpx"))
