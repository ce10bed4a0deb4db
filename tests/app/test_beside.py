"""Print files written in a second process are those that one process writes."""

import os
from pathlib import Path
from typing import Any

import pytest

from wayfold.app import beside as second
from wayfold.app import build
from wayfold.app.beside import Beside
from wayfold.app.make import make_book
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress


def complain() -> None:
    raise UserError("no", where="there", remedy="this")


def test_work_is_done_in_another_process_only_where_that_is_worth_it() -> None:
    with Beside() as beside:
        beside.start(worth=True)
        assert beside.begin(os.getpid).result() != os.getpid()
    with Beside() as beside:
        beside.start(worth=False)
        assert beside.begin(os.getpid).result() == os.getpid()


def test_the_second_process_loads_what_writes_files_and_no_imaging_library() -> None:
    with Beside() as beside:
        beside.start(worth=True)
        loaded = set(beside.begin(eval, "list(__import__('sys').modules)").result())
    assert "pikepdf" in loaded
    assert not loaded & {"pyvips", "numpy"}


def test_nobody_waits_for_a_process_that_is_not_needed_after_all() -> None:
    with pytest.raises(UserError, match="no"), Beside() as beside:
        beside.start(worth=True)
        complain()


def test_what_the_person_can_mend_comes_back() -> None:
    with Beside() as beside, pytest.raises(UserError, match="no") as raised:
        beside.start(worth=True)
        beside.begin(complain).result()
    assert (raised.value.where, raised.value.remedy) == ("there", "this")


def test_the_same_bytes_from_two_processes(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = {path.name: path.read_bytes() for path in (book / "out").glob("*.pdf")}
    for name in before:
        (book / "out" / name).unlink()
    for module in (second, build):
        monkeypatch.setattr(module, "WORTH_TWO_PROCESSES", 1)
    begun: list[bool] = []
    begin = Beside.begin

    def watch(beside: Beside, *work: Any) -> Any:
        begun.append(beside._pool is not None)
        return begin(beside, *work)

    monkeypatch.setattr(Beside, "begin", watch)
    make_book(book, NoProgress())
    assert begun
    assert all(begun)
    assert {path.name: path.read_bytes() for path in (book / "out").glob("*.pdf")} == before
