"""The room without a book: what works on this machine, and a book that cannot be opened."""

import time
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from wayfold.app.doctor.tried import Report, Standing, Tried
from wayfold.app.places import Places
from wayfold.app.shelf import Shelf
from wayfold.desk.door import Door
from wayfold.desk.rooms import start
from wayfold.desk.server import create_desk


def test_what_works_here_names_no_path(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    ill = Tried(
        "Pages", "Fonts", Standing.FAILS, "/home/ada/env/fonts/a.ttf: cannot be read", "Do it."
    )
    monkeypatch.setattr(start, "examine", lambda: Report((ill,)))
    told = client.get("/api/start/works-here").json()
    assert told == [
        {
            "group": "Pages",
            "name": "Fonts",
            "standing": "does not work",
            "what": "a.ttf: cannot be read",
            "remedy": "Do it.",
        }
    ]


WHOLE = 'version = 1\n[book]\ntitle = "South"\nphotographs = ["photographs"]\n'


def test_of_a_book_that_cannot_be_opened_the_version_that_reads_is_offered(tmp_path: Path) -> None:
    root = tmp_path / "south"
    (root / "photographs").mkdir(parents=True)
    (root / "book.toml").write_text(WHOLE[:-12], "utf-8")
    (root / "book-STUDIO.toml").write_text(WHOLE, "utf-8")
    shelf, door = Shelf(Places(tmp_path)), Door(8732)
    client = TestClient(
        create_desk(shelf, door), base_url="http://127.0.0.1:8732",
        headers={"Origin": "http://127.0.0.1:8732"},
    )  # fmt: skip
    client.get(door.opening_address)
    assert client.get("/api/copies").status_code == 404

    def open_again(way: str, body: object = None) -> str:
        assert client.post(way, json=body).is_success
        until = time.monotonic() + 60
        while client.get("/api/desk").json()["works"][-1]["state"] in ("waiting", "going on"):
            assert time.monotonic() < until
            time.sleep(0.02)
        return str(client.get("/api/desk").json()["works"][-1]["problem"])

    assert "book.toml" in open_again(f"/api/start/open/{shelf.places.name(root)}")
    assert client.get("/api/desk").json()["copies"] == 1
    (copy,) = client.get("/api/copies").json()
    assert copy["trouble"].startswith("book.toml: ")
    # It is opened anew at once: it reads now, and what is wrong is that it has no pictures.
    told = open_again(f"/api/copies/{copy['handle']}", {"take": True})
    assert "photographs" in told
    assert (root / "book.toml").read_text("utf-8") == WHOLE
    assert client.get("/api/desk").json()["copies"] == 0
