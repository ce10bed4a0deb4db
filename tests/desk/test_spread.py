"""The room Spread over the wire, with a real book behind it."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.desk_book import copy_book, open_book
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8733


@pytest.fixture(scope="module")
def desk(atlantic: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A desk with the book of ``tests/desk_book.py``, its browser let in."""
    root = copy_book(atlantic, tmp_path_factory.mktemp("book") / "atlantic")
    shelf, door = open_book(root), Door(PORT)
    base = f"http://127.0.0.1:{PORT}"
    app = create_desk(shelf, door)
    with TestClient(app, base_url=base, follow_redirects=False, headers={"Origin": base}) as client:
        client.get(door.opening_address)
        yield client
    shelf.close()


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


def find_group(desk: TestClient) -> tuple[int, dict, list[dict]]:
    """Give a spread, one of its blocks with several pictures, and the frames of these."""
    count = desk.get("/api/spread/1").json()["page_count"]
    for page in range(2, count, 2):
        spread = desk.get(f"/api/spread/{page}").json()
        for block in spread["blocks"]:
            frames = [f for f in spread["frames"] if f["block"] == block["id"] and f["picture"]]
            if len(frames) > 1 and frames[0]["movable"]:
                return page, block, frames
    raise AssertionError("the book has no group of pictures")


def test_a_picture_is_placed_and_the_spread_comes_back(desk: TestClient) -> None:
    page, block, (frame, *_) = find_group(desk)
    before = desk.get(f"/api/spread/{page}").json()
    whole = frame["picture"]["whole_box"]
    box = {**whole, "x": whole["x"] + 2, "y": whole["y"] + 2}
    wanted = {"photo": frame["picture"]["photo"], "page": frame["page"], "box": box}
    answer = desk.post(
        "/api/spread/place", json={"page": page, "block": block["id"], "frames": [wanted]}
    )
    assert answer.status_code == 200, answer.text
    spread = answer.json()
    assert spread == desk.get(f"/api/spread/{page}").json()
    assert spread["revision"] != before["revision"]
    moved = next(f for f in spread["frames"] if f["id"] == frame["id"])
    assert moved["box"]["x"] == pytest.approx(frame["box"]["x"] + 2, abs=0.001)
    assert [b["by_hand"] for b in spread["blocks"] if b["id"] == block["id"]] == [True]
    given = desk.post("/api/spread/release", json={"page": page, "block": block["id"]})
    assert given.json()["frames"] == before["frames"]


@pytest.mark.parametrize(
    ("path", "body", "status"),
    [
        ("place", {"block": "group:gone", "frames": []}, 422),
        ("place", {"block": "group:gone", "frames": [{"photo": "a", "page": 2, "box": {}}]}, 422),
        ("release", {"block": "group:gone"}, 404),
        ("crop", {"photo": "nobody", "crop": None}, 404),
        ("swap", {"photo": "nobody", "with": "neither"}, 404),
        ("ways", {"choice": [{"block": "title", "way": None}]}, 404),
        ("text", {"key": "nothing", "text": "x", "was": ""}, 404),
        ("text", {"key": "foreword", "text": "x", "was": "not so"}, 409),
        ("interleaf", {"on": True}, 422),
        ("interleaf", {"on": True, "photo": "nobody"}, 404),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    desk: TestClient, path: str, body: dict, status: int
) -> None:
    answer = desk.post(f"/api/spread/{path}", json={"page": 2, **body})
    assert answer.status_code == status, answer.text
    assert answer.json()["what"]


def test_numbers_that_are_none_are_refused(desk: TestClient) -> None:
    page, block, (frame, *_) = find_group(desk)
    for side in ("NaN", "Infinity", "1e9"):
        body = (
            f'{{"page": {page}, "block": "{block["id"]}", "frames": [{{"photo": '
            f'"{frame["picture"]["photo"]}", "page": {frame["page"]}, '
            f'"box": {{"x": {side}, "y": 10, "width": 50, "height": 50}}}}]}}'
        )
        headers = {"Content-Type": "application/json"}
        assert desk.post("/api/spread/place", content=body, headers=headers).status_code == 422


def test_ways_are_drawn_with_pictures_that_are_there(desk: TestClient) -> None:
    page, block, _ = find_group(desk)
    ways = desk.get(f"/api/spread/{page}/ways").json()
    assert [chosen["block"] for chosen in ways["now"]["choice"]].count(block["id"]) == 1
    for way in ways["ways"]:
        for drawn in way["pages"]:
            addresses = re.findall(r"/api/spread/part/[^\"]+\.jpg", drawn["svg"])
            for address in addresses:
                picture = desk.get(address)
                assert picture.status_code == 200
                assert picture.content.startswith(b"\xff\xd8")
                assert "immutable" in picture.headers["Cache-Control"]
    assert desk.get("/api/spread/part/nobody/abc/0.00000_0.00000_1.00000_1.00000.jpg").is_error
    assert desk.get("/api/spread/part/a/b/..%2F..%2Fbook.toml.jpg").is_error


def test_both_versions_are_told_where_words_were_written_anew(desk: TestClient) -> None:
    body = {"page": 4, "key": "foreword", "text": "Mine.", "was": "not so"}
    told = desk.post("/api/spread/text", json=body).json()
    assert (told["kept"], told["kept_subtitle"]) == ("We went *west*.\n", None)
    assert told["what"]
    assert told["remedy"]
