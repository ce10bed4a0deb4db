"""The doctor finds that all works here, and what is broken on purpose is told, with what to do."""

import contextlib
from importlib import metadata
from pathlib import Path

import pytest

from tests.desk_book import LISBON, START, paint
from wayfold.app.doctor import crafts, disk
from wayfold.app.doctor.book import try_book
from wayfold.app.doctor.disk import judge_room, try_folder
from wayfold.app.doctor.examine import examine
from wayfold.app.doctor.program import judge_packages
from wayfold.app.doctor.tried import Report, Standing, Tried, try_one
from wayfold.app.new import begin_book
from wayfold.base.errors import NotFoundError, UserError
from wayfold.drawing.items import Drawing
from wayfold.photos import trying
from wayfold.photos.kinds import Kind
from wayfold.typeset.engine import Typesetter


@pytest.fixture(scope="module")
def report() -> Report:
    return examine()


def by_name(tried: object) -> dict[str, Tried]:
    return {one.name: one for one in tried}  # type: ignore[attr-defined]


def test_everything_works_where_the_tests_run(report: Report) -> None:
    assert [one for one in report.failing if one.name != "Room"] == []
    names = set(by_name(report.tried))
    assert {"Python", "Packages", "Worker processes", "Fonts", "Typesetter"} <= names
    assert {"JPEG", "HEIC", "PNG", "TIFF", "WebP", "Camera raws", "Time zones", "Locks"} <= names
    versions = by_name(report.tried)["Packages"].detail
    assert f"typst {metadata.version('typst')}" in versions
    assert f"pikepdf {metadata.version('pikepdf')}" in versions


def test_whatever_is_not_here_says_what_to_do(report: Report) -> None:
    assert [one.name for one in report.tried if one.standing != "works" and not one.remedy] == []


def test_packages_are_compared_with_what_is_asked_for() -> None:
    installed = {"typst": "0.15.9", "numpy": "1.26.0"}

    def find(name: str) -> str:
        if name in installed:
            return installed[name]
        raise metadata.PackageNotFoundError(name)

    asked = ["typst>=0.15.2,<0.16", "rawpy>=0.28; extra == 'raw'", "winonly; sys_platform == 'x'"]
    well = judge_packages(asked, find)
    assert (well.standing, well.detail) == (Standing.WORKS, "typst 0.15.9")
    assert well.what.startswith("1 package,")
    ill = judge_packages([*asked, "numpy>=2.4,<3", "pikepdf>=10"], find)
    assert ill.standing is Standing.FAILS
    assert "numpy is 1.26.0, and Wayfold asks for <3,>=2.4" in ill.what
    assert "pikepdf is missing" in ill.what
    assert "pip install" in ill.remedy


def test_a_page_that_comes_back_empty_is_told(tmp_path: Path) -> None:
    page = tmp_path / "page.pdf"
    page.write_bytes(Typesetter().page_pdf(Drawing("x", crafts._TRIM, 0.0, ())).pdf)
    empty = try_one("Pages", "Pages on screen", lambda: crafts._read_page(page))
    assert empty.standing is Standing.FAILS
    assert "empty" in empty.what
    page.write_bytes(b"%PDF-1.7 and then nothing")
    assert try_one("x", "x", lambda: crafts._read_page(page)).standing is Standing.FAILS


def test_colours_that_come_back_as_others_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trying, "_COLOUR", (60, 120, 200))
    loaded = trying.load_stored
    monkeypatch.setattr(trying, "load_stored", lambda path, kind: loaded(path, kind).invert())
    wrong = try_one("Pictures", "PNG", lambda: trying.try_kind(Kind.PNG, tmp_path))
    assert (wrong.standing, "colours" in wrong.what) == (Standing.FAILS, True)


def test_a_remedy_that_is_known_better_is_told() -> None:
    def refuse() -> str:
        raise UserError("The towns are gone.", where="a file", remedy="Put them back.")

    told = try_one("x", "y", refuse, "Something else.")
    assert (told.what, told.remedy) == ("a file: The towns are gone.", "Put them back.")


def test_room_is_judged() -> None:
    assert judge_room(299_000_000, "x").standing is Standing.FAILS
    assert judge_room(2_500_000_000, "x").what == "2.5 GB are free."


def test_a_folder_is_left_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("x", "utf-8")
    tried = by_name(try_folder(tmp_path, "x"))
    assert set(tried) == {"Room", "Writing", "Locks", "Names", "Long paths"}
    assert tried["Writing"].standing is tried["Locks"].standing is Standing.WORKS
    assert [path.name for path in tmp_path.iterdir()] == ["mine"]


def test_a_folder_that_is_gone_is_told(tmp_path: Path) -> None:
    tried = by_name(try_folder(tmp_path / "nowhere", "x"))
    assert tried["Writing"].standing is Standing.FAILS
    assert tried["Writing"].remedy


def test_a_place_without_locks_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(disk, "hold_lock", lambda _file: contextlib.nullcontext())
    told = by_name(try_folder(tmp_path, "x"))["Locks"]
    assert told.standing is Standing.WITHOUT
    assert "at a time" in told.remedy


def test_a_book_is_examined_and_its_lacks_told(tmp_path: Path) -> None:
    paint(tmp_path / "photographs" / "a.jpg", 1, START, LISBON)
    begin_book(tmp_path / "book", "Ways", [tmp_path / "photographs"])
    tried = by_name(try_book(tmp_path / "book"))
    assert tried["Its files"].what == "“Ways” can be read."
    assert tried["Photographs"].what == "1 picture in 1 folder."
    assert tried["Printer's profile"].standing is Standing.WITHOUT
    assert not [one for one in tried.values() if one.standing is Standing.FAILS]

    (tmp_path / "photographs").rename(tmp_path / "elsewhere")
    about = tmp_path / "book" / "book.toml"
    about.write_text(about.read_text("utf-8") + '\n[printer]\nprofile = "gone.icc"\n', "utf-8")
    tried = by_name(try_book(tmp_path / "book"))
    failing = {one.name for one in tried.values() if one.standing is Standing.FAILS}
    assert failing == {"Photographs", "Printer's profile"}

    about.write_text("title = ", "utf-8")
    tried = by_name(try_book(tmp_path / "book"))
    assert tried["Its files"].standing is Standing.FAILS
    assert "Photographs" not in tried
    with pytest.raises(NotFoundError):
        list(try_book(tmp_path / "elsewhere"))
