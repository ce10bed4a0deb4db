"""What a hostile page, program or folder may try. The attacks are those of OWASP's cheat sheets
(cross-site request forgery, path traversal, resource exhaustion) and of the Fetch standard."""

import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from tests.desk.conftest import PORT
from tests.desk.fake_book import FakeShown
from wayfold.app.places import Places
from wayfold.app.shelf import Shelf
from wayfold.desk import limits
from wayfold.desk.door import Door
from wayfold.desk.server import create_desk

OURS = f"http://127.0.0.1:{PORT}"
FOREIGN = (
    "http://evil.example",
    "null",
    f"https://127.0.0.1:{PORT}",
    "http://127.0.0.1:9999",  # another program of this machine: cookies do not tell ports apart
    f"http://127.0.0.1.evil.example:{PORT}",
    f"http://localhost:{PORT}.evil.example",
)


@pytest.mark.parametrize("origin", FOREIGN)
@pytest.mark.parametrize("address", ["/api/undo", "/api/redo", "/api/works/1/stop"])
def test_another_origin_changes_nothing(client: TestClient, address: str, origin: str) -> None:
    assert client.post(address, headers={"Origin": origin}).status_code == 403


@pytest.mark.parametrize("origin", FOREIGN)
def test_another_origin_reads_nothing(client: TestClient, session: FakeShown, origin: str) -> None:
    answer = client.get("/api/view", headers={"Origin": origin})
    assert (answer.status_code, "Long Way" in answer.text) == (403, False)


@pytest.mark.parametrize("site", ["cross-site", "same-site", "none"])
def test_a_request_that_may_change_something_comes_from_our_page(
    client: TestClient, site: str
) -> None:
    headers = {"Origin": OURS, "Sec-Fetch-Site": site}
    assert client.post("/api/works/1/stop", headers=headers).status_code == 403


def test_without_an_origin_nothing_is_changed(client: TestClient) -> None:
    del client.headers["Origin"]
    assert client.get("/api/view").status_code == 200
    assert client.post("/api/undo").status_code == 403


@pytest.mark.parametrize(
    "address",
    [
        "/../../../../etc/passwd",
        "/%2e%2e/%2e%2e/%2e%2e/etc/passwd",
        "/..%2f..%2f..%2fetc%2fpasswd",
        "/front/..%5c..%5cserver.py",
        "/assets/..%2f..%2fbook.toml",
        "/assets/%2e%2e%2fbook.toml",
        "/assets/..%00.jpg",
        "/pages/..%2f1.svg",
        "/pages/1e3.svg",
        "//etc/passwd",
        "/front//etc/passwd",
    ],
)
def test_no_address_climbs_out(client: TestClient, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code in (400, 404, 422)
    assert "root:" not in answer.text
    assert "version" not in answer.text


class TestBodies:
    """Against a small application of the same make; the limits are this desk's own."""

    @pytest.fixture
    def sink(self, monkeypatch: pytest.MonkeyPatch) -> Iterator[TestClient]:
        monkeypatch.setitem(limits.FILES, "/files", 4 * limits.MEGABYTE)
        app = FastAPI()
        app.add_middleware(limits.BodyLimit)

        @app.post("/{kind}")
        def take(kind: str, body: dict[str, str]) -> int:
            return len(str(body))

        with TestClient(app) as client:
            yield client

    def test_the_usual_is_taken(self, sink: TestClient) -> None:
        assert sink.post("/words", json={"a": "x" * 900_000}).status_code == 200

    def test_too_much_is_refused_unread(self, sink: TestClient) -> None:
        answer = sink.post("/words", json={"a": "x" * 1_000_001})
        assert answer.status_code == 413
        assert "1 MB" in answer.json()["what"]

    def test_too_much_that_does_not_say_so_is_cut_off(self, sink: TestClient) -> None:
        def pour() -> Iterator[bytes]:
            yield b'{"a": "'
            for _ in range(64):
                yield b"x" * 65_536

        assert sink.post("/words", content=pour()).status_code == 413

    @pytest.mark.parametrize("told", ["-5", "9" * 5000])
    def test_a_length_that_is_no_number_is_refused(self, sink: TestClient, told: str) -> None:
        answer = sink.post("/words", content=b"{}", headers={"Content-Length": told})
        assert answer.status_code == 413

    def test_where_files_are_handed_in_more_is_taken(self, sink: TestClient) -> None:
        assert sink.post("/files", json={"a": "x" * 3_000_000}).status_code == 200
        assert sink.post("/files", json={"a": "x" * 4_000_001}).status_code == 413


class TestBookFromElsewhere:
    """A folder that came by a stick or a mail, opened at the desk."""

    @pytest.fixture
    def folder(self, tmp_path: Path) -> Path:
        root = tmp_path / "home" / "far"
        (root / "texts").mkdir(parents=True)
        (root / "book.toml").write_text(
            'version = 1\n[book]\ntitle = "F"\nphotographs = ["gone"]\n'
        )
        return root

    @pytest.fixture
    def told(self, folder: Path) -> Callable[[], dict[str, str]]:
        """What the desk says when the folder is opened."""

        def open_book() -> dict[str, str]:
            shelf = Shelf(Places(folder.parent))
            door = Door(PORT)
            with TestClient(
                create_desk(shelf, door), base_url=OURS, headers={"Origin": OURS}
            ) as desk:
                desk.get(door.opening_address)
                home = desk.get("/api/start").json()["places"][0]["handle"]
                inside = desk.get(f"/api/start/folders/{home}").json()["folders"]
                desk.post(f"/api/start/open/{inside[0]['handle']}")
                for _ in range(600):
                    work = desk.get("/api/desk").json()["works"][0]
                    if work["state"] == "failed":
                        return work["problem"]
                    time.sleep(0.05)
            raise AssertionError("the book was opened")

        return open_book

    def test_a_text_that_is_a_link_to_the_passwords_is_not_read(
        self, folder: Path, told: Callable[[], dict[str, str]]
    ) -> None:
        (folder / "texts" / "porto.md").symlink_to("/etc/passwd")
        problem = told()
        assert problem["where"] == "texts/porto.md"
        assert "leads out" in problem["what"]
        assert "root:" not in str(problem)

    def test_what_is_wrong_is_told_without_the_disks_paths(
        self, told: Callable[[], dict[str, str]], tmp_path: Path
    ) -> None:
        problem = told()
        assert "gone" in problem["where"]
        assert str(tmp_path) not in str(problem)
        assert "/" not in problem["where"]
