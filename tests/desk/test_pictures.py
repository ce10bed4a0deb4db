"""The routes of the room for the pictures, over a real book."""

import shutil
import struct
from collections.abc import Iterator
from io import BytesIO
from itertools import accumulate, pairwise
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from tests.desk_book import copy_book, open_book
from wayfold.app.rooms.pictures_small import PACKED
from wayfold.app.session import Session
from wayfold.app.shelf import Shelf
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8733


@pytest.fixture
def shelf(atlantic: Path, tmp_path: Path) -> Iterator[Shelf]:
    shelf = open_book(copy_book(atlantic, tmp_path / "atlantic"))
    yield shelf
    shelf.close()


@pytest.fixture
def book(shelf: Shelf) -> Session:
    return shelf.session


@pytest.fixture
def visitor(shelf: Shelf) -> Iterator[TestClient]:
    """A client that opened the desk by its address, over that book."""
    door = Door(PORT)
    base = f"http://127.0.0.1:{PORT}"
    with TestClient(create_desk(shelf, door), base_url=base, headers={"Origin": base}) as client:
        client.get(door.opening_address)
        yield client


def test_a_small_copy_is_kept_for_good_where_its_content_is_named(
    visitor: TestClient, book: Session
) -> None:
    photo = book.results.catalogue.photos[0]
    address = f"/api/pictures/{photo.id}/small.jpg"
    named = visitor.get(address, params={"of": photo.content[:12]})
    assert named.headers["content-type"] == "image/jpeg"
    assert "immutable" in named.headers["cache-control"]
    assert max(Image.open(BytesIO(named.content)).size) == 320
    for params in ({}, {"of": "0000"}):
        answer = visitor.get(address, params=params)
        assert answer.content == named.content
        assert answer.headers["cache-control"] == "private, no-cache"


@pytest.mark.parametrize(
    ("path", "status"),
    [("none/small.jpg", 404), ("../x/small.jpg", 404), ("a.b/small.jpg", 422), ("a/tiny.jpg", 422)],
)
def test_what_is_no_photograph_is_refused_in_words(
    visitor: TestClient, path: str, status: int
) -> None:
    answer = visitor.get(f"/api/pictures/{path}")
    assert answer.status_code == status
    assert answer.json()["what"]


def forget_copies(book: Session) -> Path:
    """Take away what looking at the photographs made; give where copies are kept."""
    made = book.folder.cache / "copies"
    shutil.rmtree(made)
    return made


def test_copies_are_made_before_they_are_asked_for(visitor: TestClient, book: Session) -> None:
    photo = book.results.catalogue.photos[1]
    made = forget_copies(book)
    assert visitor.post("/api/pictures/ahead", json={"photos": [photo.id, "x"]}).status_code == 200
    for _ in range(1000):
        if list(made.rglob("*.jpg")):
            break
        visitor.get("/api/desk")
    assert list(made.rglob("*.jpg"))


def test_what_is_decided_is_in_the_verdicts(visitor: TestClient, book: Session) -> None:
    facts = visitor.get("/api/pictures").json()
    first, second = facts["id"][:2]
    said = [{"photo": first, "pick": "hero"}, {"photo": second, "pick": "leave"}]
    answer = visitor.put("/api/pictures/picks", json={"picks": said})
    verdicts = visitor.get("/api/pictures/verdicts").json()
    assert answer.json() == verdicts
    assert verdicts["facts"] == facts["key"]
    assert verdicts["picks"].startswith("hlo")
    assert verdicts["reasons"][verdicts["reason"][1]] == "You leave it."
    assert visitor.get("/api/desk").json()["book"]["undo"] == "what is taken and left"


def test_no_path_of_the_disk_is_told(visitor: TestClient, book: Session) -> None:
    told = visitor.get("/api/pictures").text
    assert book.folder.root.as_posix() not in told
    assert "telephone/" not in told
    assert book.results.catalogue.photos[0].path.rsplit("/", 1)[-1] in told


@pytest.mark.parametrize(
    ("said", "status"),
    [({"photo": "gone", "pick": "take"}, 404), ({"photo": "a", "pick": "perhaps"}, 422)],
)
def test_a_decision_that_cannot_be_is_refused(
    visitor: TestClient, said: dict[str, str], status: int
) -> None:
    assert visitor.put("/api/pictures/picks", json={"picks": [said]}).status_code == status
    assert visitor.get("/api/desk").json()["book"]["undo"] is None


def cut(pack: bytes) -> list[bytes]:
    """Cut a pack as its description says."""
    lengths = struct.unpack_from(f"<{PACKED}I", pack)
    ends = list(accumulate(lengths, initial=4 * PACKED))
    assert ends[-1] == len(pack)
    return [pack[start:end] for start, end in pairwise(ends)]


def test_small_copies_come_in_packs_as_far_as_they_are_made(
    visitor: TestClient, book: Session
) -> None:
    forget_copies(book)
    facts = visitor.get("/api/pictures").json()
    of = {"facts": facts["key"]}
    for photo in facts["id"][PACKED - 1 :]:
        visitor.get(f"/api/pictures/{photo}/small.jpg")
    first = visitor.get("/api/pictures/packs/0", params=of)
    found = cut(first.content)
    assert [bool(one) for one in found] == [False] * (PACKED - 1) + [True]
    assert "immutable" not in first.headers["cache-control"]
    second = cut(visitor.get("/api/pictures/packs/1", params=of).content)
    rest = len(facts["id"]) - PACKED
    assert [bool(one) for one in second] == [True] * rest + [False] * (PACKED - rest)
    address = f"/api/pictures/{facts['id'][PACKED]}/small.jpg"
    assert second[0] == visitor.get(address).content

    for photo in facts["id"][: PACKED - 1]:
        visitor.get(f"/api/pictures/{photo}/small.jpg")
    whole = visitor.get("/api/pictures/packs/0", params=of)
    assert all(cut(whole.content))
    assert "immutable" in whole.headers["cache-control"]
    for number, key in ((0, "other"), (99, facts["key"])):
        other = visitor.get(f"/api/pictures/packs/{number}", params={"facts": key})
        assert not any(cut(other.content))
        assert "immutable" not in other.headers["cache-control"]
    assert len(book.results.catalogue.photos) == len(facts["id"])
