"""Who is let in. The attacks are those of OWASP's cheat sheets: cross-site request forgery, DNS
rebinding (a foreign name that resolves to this machine), framing; cookie rules from RFC 6265bis."""

from http.cookies import SimpleCookie

import pytest
from starlette.testclient import TestClient

from tests.desk.fake_book import FakeShown
from wayfold.desk.door import Door

ADDRESSES = ("/", "/api/view", "/pages/6.svg", "/assets/photo-6", "/assets/index.js", "/nothing")


@pytest.mark.parametrize("address", ADDRESSES)
def test_nobody_comes_in_without_the_key(
    stranger: TestClient, session: FakeShown, address: str
) -> None:
    answer = stranger.get(address)
    assert answer.status_code == 403
    assert "Long Way" not in answer.text
    assert session.asked == []


def test_key_works_once_and_becomes_a_strict_cookie(stranger: TestClient, door: Door) -> None:
    address = door.opening_address
    answer = stranger.get(address)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = SimpleCookie(answer.headers["set-cookie"])[door.cookie_name]
    assert cookie["httponly"] is True
    assert cookie["samesite"].lower() == "strict"
    assert cookie["path"] == "/"
    assert not cookie["domain"]
    assert not cookie["max-age"], "it ends with the browser's session"
    assert stranger.get("/api/view").status_code == 200

    stranger.cookies.clear()
    assert stranger.get(address).status_code == 403
    assert stranger.get("/?key=").status_code == 403
    assert stranger.get("/?key=None").status_code == 403


def test_opening_address_loaded_again_leads_to_the_desk(client: TestClient, door: Door) -> None:
    answer = client.get(f"/?key={'x' * 43}")
    assert (answer.status_code, answer.headers["location"]) == (303, "/")


def test_wrong_key_does_not_use_up_the_right_one(stranger: TestClient, door: Door) -> None:
    assert stranger.get("/?key=guess").status_code == 403
    assert stranger.get("/?key=sch%C3%B6n").status_code == 403
    assert stranger.get(door.opening_address).status_code == 303


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:8732", "127.0.0.1", "127.0.0.1:80", "127.0.0.1.evil:8732"],
)
def test_foreign_host_names_are_refused_even_with_the_cookie(client: TestClient, host: str) -> None:
    assert client.get("/api/view", headers={"Host": host}).status_code == 421


def test_this_machine_may_be_called_by_its_name(client: TestClient, door: Door) -> None:
    cookie = f'odd={{"a": 1}}; {door.cookie_name}={client.cookies[door.cookie_name]}'
    headers = {"Host": f"LOCALHOST:{door.port}", "Cookie": cookie}
    assert client.get("/api/view", headers=headers).status_code == 200


def test_no_answer_lets_another_origin_read_it(client: TestClient, stranger: TestClient) -> None:
    headers = {"Origin": "http://evil.example"}
    preflight = headers | {"Access-Control-Request-Method": "GET"}
    for answer in (
        client.get("/api/view", headers=headers),
        client.options("/api/view", headers=preflight),
        client.get("/pages/99.svg", headers=headers),
    ):
        assert not [name for name in answer.headers if name.startswith("access-control-")]
        assert "default-src 'none'" in answer.headers["content-security-policy"]
        assert "frame-ancestors 'none'" in answer.headers["content-security-policy"]
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"


def test_secrets_are_long_and_new_each_time_and_not_shown() -> None:
    first, second = Door(1), Door(1)
    assert first.opening_address != second.opening_address
    assert len(first.opening_address.split("key=")[1]) >= 40
    assert first.opening_address.split("key=")[1] not in repr(first)


def test_no_style_sheet_but_our_own_is_allowed(client: TestClient) -> None:
    """CSP level 3: the attributes of a drawing may style, no sheet within it."""
    policy = client.get("/api/view").headers["Content-Security-Policy"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    inline = [name for name, sources in rules.items() if "'unsafe-inline'" in sources]
    assert inline == ["style-src-attr"]
    assert rules["style-src-elem"] == rules["script-src"] == "'self'"
