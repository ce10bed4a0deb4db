"""The room without a book: what works on this machine, told without a path of its disk."""

import pytest
from starlette.testclient import TestClient

from wayfold.app.doctor.tried import Report, Standing, Tried
from wayfold.desk.rooms import start


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
