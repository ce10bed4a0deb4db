"""The HTTP face of the desk. Statuses are those of RFC 9110 (304 in 15.4.5, 404, 409, 422)."""

import pytest
from starlette.testclient import TestClient

from tests.desk.fake_book import PAGE_COUNT, FakeShown
from wayfold.base.errors import CancelledError, ConflictError, NotFoundError, UserError


def test_view_tells_the_book_and_its_spreads(client: TestClient) -> None:
    view = client.get("/api/view").json()
    assert view["title"] == "The Long Way Down to the Sea"
    assert (view["trim_width_mm"], view["trim_height_mm"]) == (210.0, 297.0)
    assert len(view["pages"]) == PAGE_COUNT
    assert view["pages"][0] == {"number": 1, "side": "recto", "chapter": "", "label": ""}
    bare = {"left_veiled": None, "right_veiled": None}
    assert view["spreads"][:2] == [
        {"left": None, "right": 1, **bare},
        {"left": 2, "right": 3, **bare},
    ]
    assert view["spreads"][-1] == {"left": PAGE_COUNT, "right": None, **bare}


def test_pages_are_shown_through_their_leaves(client: TestClient, session: FakeShown) -> None:
    session.leaves = (14,)
    spreads = client.get("/api/view").json()["spreads"]
    assert spreads[7] == {"left": 14, "right": 15, "left_veiled": None, "right_veiled": 1}
    assert spreads[8] == {"left": 14, "right": 15, "left_veiled": 2, "right_veiled": None}
    page = client.get("/veiled/1.svg")
    assert page.headers["content-type"] == "image/svg+xml"
    assert "On the leaf" in page.text
    tag = page.headers["etag"]
    again = client.get("/veiled/1.svg", headers={"If-None-Match": tag})
    assert again.status_code == 304
    # A page and a veiled page of one number are not the same.
    assert client.get("/pages/1.svg", headers={"If-None-Match": tag}).status_code == 200


def test_page_comes_as_svg_whose_pictures_can_be_fetched(client: TestClient) -> None:
    page = client.get("/pages/6.svg")
    assert page.headers["content-type"] == "image/svg+xml"
    assert 'href="/assets/photo-6"' in page.text
    for address in ("/assets/photo-6", "/assets/photo-6.jpg"):
        picture = client.get(address)
        assert picture.headers["content-type"] == "image/jpeg"
        assert picture.content.startswith(b"\xff\xd8\xff")


def test_unchanged_page_is_not_set_again(client: TestClient, session: FakeShown) -> None:
    tag = client.get("/pages/6.svg").headers["etag"]
    again = client.get("/pages/6.svg", headers={"If-None-Match": tag})
    assert (again.status_code, again.content) == (304, b"")
    assert session.asked == ["page 6"]
    session.revision = "two"
    assert client.get("/pages/6.svg", headers={"If-None-Match": tag}).status_code == 200


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (NotFoundError("gone", where="page 6", remedy="look"), 404),
        (ConflictError("changed", where="page 6", remedy="reload"), 409),
        (CancelledError(), 409),
        (UserError("bad font", where="page 6", remedy="install it"), 422),
    ],
)
def test_user_errors_keep_their_three_parts(
    client: TestClient, session: FakeShown, error: UserError, status: int
) -> None:
    session.refusal = error
    answer = client.get("/pages/6.svg")
    assert answer.status_code == status
    assert answer.json() == {"what": error.what, "where": error.where, "remedy": error.remedy}


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/pages/99.svg", 404),
        ("/pages/0.svg", 422),
        ("/pages/six.svg", 422),
        ("/veiled/1.svg", 404),
        ("/veiled/0.svg", 422),
        ("/assets/nothing", 404),
        ("/assets/moved", 409),
        ("/assets/..%2F..%2Fetc%2Fpasswd", 404),
        ("/assets/a%20b", 422),
        ("/api/nothing", 404),
        ("/../pyproject.toml", 404),
    ],
)
def test_wrong_addresses_are_refused_in_the_same_form(
    client: TestClient, address: str, status: int
) -> None:
    answer = client.get(address)
    assert answer.status_code == status
    assert set(answer.json()) == {"what", "where", "remedy"}
    assert answer.json()["what"]


def test_a_bug_is_not_dressed_up_as_an_error_of_the_person(
    client: TestClient, session: FakeShown, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_self: FakeShown, _number: int) -> str:
        raise ZeroDivisionError

    monkeypatch.setattr(FakeShown, "page_svg", fail)
    with pytest.raises(ZeroDivisionError):
        client.get("/pages/6.svg")


def test_the_built_front_end_is_served(client: TestClient) -> None:
    page = client.get("/")
    assert page.status_code == 200
    assert 'id="desk"' in page.text
