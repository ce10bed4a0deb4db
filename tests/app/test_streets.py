"""Streets from the extracts in a book's folder (Monaco's: see tests/maps/osm_files.py)."""

from __future__ import annotations

import os
import shutil
from collections import namedtuple
from pathlib import Path

import pytest

from tests.maps.osm_files import fetch_monaco, write_osm
from wayfold.app import streets
from wayfold.app.made import inputs_key
from wayfold.app.streets import read_streets
from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.maps.projection import Extent
from wayfold.project.files import BookFolder

MONACO = Extent(7.41, 43.72, 7.43, 43.74)
QUIET = NoProgress()


@pytest.fixture
def folder(tmp_path: Path) -> BookFolder:
    (tmp_path / "streets").mkdir()
    return BookFolder(tmp_path)


def add_monaco(folder: BookFolder, name: str = "monaco.osm.pbf") -> Path:
    return Path(shutil.copy(fetch_monaco(), folder.root / "streets" / name))


def write_elsewhere(folder: BookFolder, name: str) -> Path:
    nodes = {1: (20.0, 50.0), 2: (20.1, 50.0)}
    return write_osm(folder.root / "streets" / name, nodes, [(1, [1, 2], {"highway": "road"})])


def test_without_an_extract_the_finding_says_where_to_put_one(folder: BookFolder) -> None:
    plan = read_streets(folder, MONACO, QUIET)
    assert plan.is_empty
    assert "“streets”" in plan.findings[0].remedy


def test_of_several_extracts_the_one_of_the_town_is_used(folder: BookFolder) -> None:
    write_elsewhere(folder, "a.osm")
    add_monaco(folder)
    plan = read_streets(folder, MONACO, QUIET)
    assert len(plan.streets) > 1000
    assert plan.findings == ()


def test_when_all_lie_elsewhere_each_says_where(folder: BookFolder) -> None:
    write_elsewhere(folder, "a.osm")
    write_elsewhere(folder, "b.osm")
    plan = read_streets(folder, MONACO, QUIET)
    assert plan.is_empty
    assert [f.where for f in plan.findings] == ["streets/a.osm", "streets/b.osm"]


def test_an_extract_is_read_once_even_when_moved(
    folder: BookFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = add_monaco(folder)
    first = read_streets(folder, MONACO, QUIET)

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("read again")

    monkeypatch.setattr(streets, "read_extract", refuse)
    again = read_streets(folder, MONACO, QUIET)
    assert [s.line.wkb for s in again.streets] == [s.line.wkb for s in first.streets]
    assert [s.name for s in again.streets] == [s.name for s in first.streets]
    assert [p.wkb for p in again.parks] == [p.wkb for p in first.parks]
    assert again.credit == first.credit
    os.utime(path, (1, 1))
    assert len(read_streets(folder, MONACO, QUIET).streets) == len(first.streets)


def test_a_meddled_cache_is_worked_out_again(folder: BookFolder) -> None:
    add_monaco(folder)
    first = read_streets(folder, MONACO, QUIET)
    for kept in (folder.cache / "streets").rglob("*"):
        if kept.is_file() and kept.stat().st_size > 100:
            kept.write_bytes(b'{"lines": ["zz"]}')
    assert len(read_streets(folder, MONACO, QUIET).streets) == len(first.streets)


def test_a_broken_extract_beside_a_good_one_is_a_finding(folder: BookFolder) -> None:
    (folder.root / "streets" / "broken.osm.pbf").write_bytes(b"no map" * 100)
    add_monaco(folder)
    plan = read_streets(folder, MONACO, QUIET)
    assert not plan.is_empty
    assert [(f.rule, f.where) for f in plan.findings] == [
        ("map-streets-unread", "streets/broken.osm.pbf")
    ]


def test_a_broken_extract_alone_is_refused_by_its_name_in_the_book(folder: BookFolder) -> None:
    (folder.root / "streets" / "broken.osm.pbf").write_bytes(b"no map" * 100)
    with pytest.raises(UserError) as caught:
        read_streets(folder, MONACO, QUIET)
    assert caught.value.where == "streets/broken.osm.pbf"


def test_a_large_extract_uses_a_scratch_file_and_leaves_none(
    folder: BookFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_monaco(folder)
    monkeypatch.setattr(streets, "IN_MEMORY_BYTES", 1000)
    assert len(read_streets(folder, MONACO, QUIET).streets) > 1000
    assert not list(folder.cache.glob("streets-*"))


def test_too_little_disk_is_said_before_anything_is_read(
    folder: BookFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    add_monaco(folder)
    monkeypatch.setattr(streets, "IN_MEMORY_BYTES", 1000)
    usage = namedtuple("usage", "total used free")
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage(10, 10, 0))
    with pytest.raises(UserError, match="disk"):
        read_streets(folder, MONACO, QUIET)


def test_a_new_extract_is_a_new_input_of_the_make(folder: BookFolder) -> None:
    before = inputs_key(folder, ())
    add_monaco(folder)
    assert inputs_key(folder, ()) != before
