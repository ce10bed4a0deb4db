"""The routes of the room for the sheets, over a real book whose print files are made."""

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pypdf
import pytest
from starlette.testclient import TestClient

from tests.desk_book import copy_book, open_book
from wayfold.app.make import make_book
from wayfold.app.shelf import Shelf
from wayfold.base.progress import NoProgress
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

PORT = 8734


@pytest.fixture
def shelf(atlantic: Path, tmp_path: Path) -> Iterator[Shelf]:
    shelf = open_book(copy_book(atlantic, tmp_path / "atlantic"))
    yield shelf
    shelf.close()


@pytest.fixture
def visitor(shelf: Shelf) -> Iterator[TestClient]:
    """A client that opened the desk by its address, over that book."""
    door = Door(PORT)
    base = f"http://127.0.0.1:{PORT}"
    with TestClient(create_desk(shelf, door), base_url=base, headers={"Origin": base}) as client:
        client.get(door.opening_address)
        yield client


def test_print_files_open_in_a_window_of_their_own(visitor: TestClient, shelf: Shelf) -> None:
    assert visitor.get("/api/sheets/files").json() == []
    make_book(shelf.session.folder.root, NoProgress())
    files = {file["name"]: file for file in visitor.get("/api/sheets/files").json()}
    assert {"sheets", "turning", "trial", "case", "reading"} <= set(files)
    answer = visitor.get("/api/sheets/files/sheets.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == 'inline; filename="sheets.pdf"'
    # One policy, and one that lets a viewer in but no script (CSP Level 3, 4.2: two would both
    # hold).
    policies = answer.headers.get_list("content-security-policy")
    assert len(policies) == 1
    assert "default-src 'none'" in policies[0] and "object-src 'self'" in policies[0]
    assert "script-src" not in policies[0]
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert len(pypdf.PdfReader(BytesIO(answer.content)).pages) == 2 * len(
        shelf.session.results.sheets
    )
    assert files["sheets"]["bytes"] == len(answer.content)
    part = visitor.get("/api/sheets/files/sheets.pdf", headers={"Range": "bytes=0-4"})
    assert (part.status_code, part.content) == (206, b"%PDF-")


@pytest.mark.parametrize(
    ("name", "status"),
    [
        ("book.pdf", 404),
        ("reprint.pdf", 404),
        ("..%2fbook.pdf", 404),
        ("%2e%2e/%2e%2e/etc/passwd.pdf", 404),
        ("Sheets.pdf", 422),
        ("sheets.pdf.pdf", 422),
    ],
)
def test_only_print_files_are_given(visitor: TestClient, name: str, status: int) -> None:
    answer = visitor.get(f"/api/sheets/files/{name}")
    assert answer.status_code == status
    assert answer.json()["what"]
    assert "/tmp" not in answer.text


def test_a_side_is_asked_for_again_only_where_it_changed(visitor: TestClient) -> None:
    view = visitor.get("/api/sheets").json()
    assert view["freshness"] == "never" and not view["proven"]
    side = view["sheets"][0]["front"]
    address = f"/api/sheets/sides/{view['sheets'][0]['name']}/front.svg"
    answer = visitor.get(address)
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.headers["etag"] == f'"{side["key"]}"'
    known = visitor.get(address, headers={"If-None-Match": answer.headers["etag"]})
    assert known.status_code == 304
    assert visitor.get("/api/sheets/sides/9.9/front.svg").status_code == 404
    assert visitor.get("/api/sheets/sides/1.1/inside.svg").status_code == 422


@pytest.mark.parametrize(
    "body",
    [
        {"sheets": [], "printed": True},
        {"sheets": ["../1"], "printed": True},
        {"sheets": ["1.1"], "printed": True, "more": 1},
        {"sheets": ["1.1"]},
    ],
)
def test_marks_that_make_no_sense_are_refused(visitor: TestClient, body: dict[str, object]) -> None:
    assert visitor.post("/api/sheets/marks", json=body).status_code == 422


def test_nothing_is_marked_before_the_files_are_made(visitor: TestClient) -> None:
    answer = visitor.post("/api/sheets/marks", json={"sheets": ["1.1"], "printed": True})
    assert answer.status_code == 409
    assert "Make them first" in answer.json()["remedy"]
    passed = visitor.put("/api/sheets/passed-over", json={"shift_mm": -1, "marks": False})
    assert passed.status_code == 422


def test_a_file_that_is_handed_in_is_bounded_and_looked_at_for_what_it_is(
    visitor: TestClient, shelf: Shelf
) -> None:
    address = "/api/sheets/registration/picture"
    for kind in ({"Content-Type": "image/jpeg"}, {"Content-Type": "application/json"}, {}):
        answer = visitor.post(address, content=b"no picture at all", headers=kind)
        assert answer.status_code == 422
        assert str(shelf.session.folder.root) not in answer.text
        assert "JPEG" in answer.json()["remedy"]
    large = visitor.post(address, content=b"x", headers={"Content-Length": str(61_000_000)})
    assert large.status_code == 413


@pytest.mark.parametrize(
    "body",
    [
        {"marks": [{"name": "E", "right": 0, "down": 0}], "across": None, "along": None},
        {"marks": [{"name": "A", "right": "wide", "down": 0}], "across": None, "along": None},
        {"marks": [{"name": "A", "right": 40, "down": 0}], "across": None, "along": None},
        {"marks": [], "across": 16.65, "along": None},
    ],
)
def test_readings_that_no_printer_gives_are_refused(
    visitor: TestClient, shelf: Shelf, body: dict[str, object]
) -> None:
    before = shelf.session.folder.book_file.read_bytes()
    assert visitor.put("/api/sheets/registration", json=body).status_code == 422
    assert shelf.session.folder.book_file.read_bytes() == before


def test_the_printers_questions_and_pictures_come_over_the_wire(visitor: TestClient) -> None:
    questions = visitor.get("/api/sheets/printer").json()
    assert questions[0]["key"] == "paper.use" and questions[0]["entries"]
    steps = visitor.get("/api/sheets/turning", params={"duplex": "manual"}).json()
    assert len(steps) == 4
    picture = visitor.get("/api/sheets/turning/4.svg", params={"duplex": "manual"})
    assert picture.headers["content-type"].startswith("image/svg+xml")
    assert visitor.get("/api/sheets/turning/4.svg").status_code == 404
    answer = visitor.put("/api/sheets/printer", json={"answers": {"paper.grammage_gsm": "20"}})
    assert answer.json()["kept"] is False
    assert answer.json()["doubts"][0]["blocks"] is True
