"""Print files written in a second process are those that one process writes."""

import os
from pathlib import Path

import pytest

from wayfold.app import build
from wayfold.app.beside import Beside
from wayfold.app.make import make_book
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress


def complain() -> None:
    raise UserError("no", where="there", remedy="this")


def test_work_is_done_in_another_process_only_where_that_is_worth_it() -> None:
    with Beside(worth=True) as beside:
        assert beside.begin(os.getpid).result() != os.getpid()
    with Beside(worth=False) as beside:
        assert beside.begin(os.getpid).result() == os.getpid()


def test_what_the_person_can_mend_comes_back() -> None:
    with Beside(worth=True) as beside, pytest.raises(UserError, match="no") as raised:
        beside.begin(complain).result()
    assert (raised.value.where, raised.value.remedy) == ("there", "this")


def test_the_same_bytes_from_two_processes(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = {path.name: path.read_bytes() for path in (book / "out").glob("*.pdf")}
    for name in before:
        (book / "out" / name).unlink()
    monkeypatch.setattr(build, "WORTH_TWO_PROCESSES", 1)
    worth = []
    monkeypatch.setattr(build, "Beside", lambda **said: worth.append(said) or Beside(**said))
    make_book(book, NoProgress())
    assert worth == [{"worth": True}]
    assert {path.name: path.read_bytes() for path in (book / "out").glob("*.pdf")} == before
