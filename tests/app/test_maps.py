"""A map is drawn once, and again only when something that shows in it changes."""

import json
import tomllib
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.desk_book import copy_book
from wayfold.app.fonts import open_typesetter
from wayfold.app.make import make_book
from wayfold.app.maps import KeptMaps
from wayfold.app.stages import Results, run_stages
from wayfold.base.geometry import Size
from wayfold.base.memory import Memory
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption, SetDayNote, SetLodging, SetStop
from wayfold.book.trip_choices import LodgingChoice, StopChoice
from wayfold.drawing.colour import WHITE
from wayfold.drawing.items import Drawing
from wayfold.maps import compose, outlines
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit


class NeededError(Exception):
    """The outlines were asked for."""


def refuse(*_: object) -> None:
    raise NeededError


def test_a_map_is_kept_until_it_changes(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = BookFolder(book)
    said = folder.trip_file.read_text("utf-8") if folder.trip_file.is_file() else ""
    folder.trip_file.write_text(f"overview = true\n{said}", "utf-8")
    make_book(book, NoProgress())
    plan = json.loads((book / "out" / "plan.json").read_text("utf-8"))
    pages = [page["number"] for page in plan["pages"] if page["block"] == "overview"]
    assert pages

    monkeypatch.setattr(outlines, "load_outlines", refuse)
    photo = next(iter(tomllib.loads(folder.photos_file.read_text("utf-8"))["photo"]))
    write_edit(folder, SetCaption(photo, "One."))
    report = make_book(book, NoProgress())
    assert report.pages
    assert not set(report.pages) & set(pages)

    for kept in (folder.cache / "maps").rglob("*"):
        if kept.is_file():
            kept.write_bytes(b"[1, 2")
    write_edit(folder, SetCaption(photo, "Two."))
    with pytest.raises(NeededError):
        make_book(book, NoProgress())


def test_only_a_map_that_shows_what_changed_is_drawn_again(
    atlantic: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, memory = BookFolder(copy_book(atlantic, tmp_path / "book")), Memory()
    said = folder.trip_file.read_text("utf-8") if folder.trip_file.is_file() else ""
    folder.trip_file.write_text(f"overview = true\n{said}", "utf-8")

    def derive() -> Results:
        return run_stages(folder, open_typesetter(folder, memory), NoProgress(), memory)

    def draw_line(results: Results) -> Drawing:
        typesetter = open_typesetter(folder, memory)
        maps = KeptMaps(folder, results.book, results.journey, typesetter, memory)
        return maps.draw_cover(Size(100.0, 80.0), WHITE)

    slept = LodgingChoice("Porto", "The Granite House", date(2025, 5, 13))
    write_edit(folder, SetLodging(slept))
    before = derive()
    line = draw_line(before)
    assert before.placed

    monkeypatch.setattr(outlines, "load_outlines", refuse)
    write_edit(folder, SetDayNote(date(2025, 5, 12), "By the river"))
    write_edit(folder, SetLodging(replace(slept, name="The House on the Hill")))
    after = derive()
    assert after.journey.lodgings != before.journey.lodgings
    assert all(after.placed[key] is drawing for key, drawing in before.placed.items())

    # Another name is written over the same ground.
    monkeypatch.undo()
    monkeypatch.setattr(compose, "project_outlines", refuse)
    write_edit(folder, SetStop(StopChoice("Porto", name="The Rock")))
    named = derive()
    assert named.placed != before.placed
    assert draw_line(named) is line
