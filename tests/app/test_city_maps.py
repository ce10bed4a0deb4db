"""A town's map in a book: from places in trip.toml and an extract to the page that is printed.

Monaco's extract comes from a package (see tests/maps/osm_files.py); its places are public
geography.
"""

from __future__ import annotations

import json
import shutil
from datetime import datetime, timedelta
from pathlib import Path

import pypdf
import pytest

from tests.app.conftest import paint
from tests.maps.osm_files import fetch_monaco
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.app.refold import refold_folder
from wayfold.base.progress import NoProgress

MONACO = (43.7311, 7.4197)
PLACES = """
[[place]]
town = "Monaco"
name = "Palais Princier"
at = [43.7314, 7.4202]
note = "2 May"

[[place]]
town = "Monaco"
name = "Église Sainte-Dévote"
at = [43.7371, 7.4212]

[[place]]
town = "Monaco"
name = "Musée océanographique"
at = [43.7308, 7.4254]
"""
TRACK = """<gpx version="1.1" creator="tests" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="43.7314" lon="7.4202"><time>2025-05-12T08:00:00Z</time></trkpt>
<trkpt lat="43.7302" lon="7.4226"><time>2025-05-12T08:06:00Z</time></trkpt>
<trkpt lat="43.7308" lon="7.4254"><time>2025-05-12T08:12:00Z</time></trkpt>
</trkseg></trk></gpx>"""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("book") / "rock"
    start = datetime(2025, 5, 12, 10, 0)
    for n in range(6):
        taken = start + timedelta(minutes=9 * n)
        paint(root / "photographs" / f"{n}.jpg", (1200, 800), 40 * n, taken, MONACO)
    begin_book(root, "The Rock", [root / "photographs"])
    trip = root / "trip.toml"
    said = trip.read_text("utf-8") if trip.is_file() else "version = 1\n"
    trip.write_text(said + PLACES, "utf-8")
    (root / "streets").mkdir()
    shutil.copy(fetch_monaco(), root / "streets")
    (root / "tracks").mkdir()
    (root / "tracks" / "walk.gpx").write_text(TRACK)
    make_book(root, NoProgress())
    return root


def map_pages(root: Path) -> list[int]:
    plan = json.loads((root / "out" / "plan.json").read_text("utf-8"))
    return [n for n, page in enumerate(plan["pages"], start=1) if "map:Monaco" in str(page)]


def test_the_map_has_a_page_of_its_own_in_its_chapter(book: Path) -> None:
    (number,) = map_pages(book)
    text = pypdf.PdfReader(book / "out" / "reading.pdf").pages[number - 1].extract_text()
    text = text.replace("\u00a0", " ").replace("\u2011", "-")
    for name in ("Palais Princier", "Église Sainte-Dévote", "Musée océanographique"):
        assert name in text
    assert "OpenStreetMap contributors" in text
    assert "openstreetmap.org/copyright" in text


def test_the_map_is_judged_and_gives_no_blocking_finding(book: Path) -> None:
    checks = json.loads((book / "out" / "checks.json").read_text("utf-8"))
    about_maps = [f for f in checks["findings"] if f["rule"].startswith(("map", "layout"))]
    assert all(f["severity"] == "note" for f in about_maps), about_maps


def test_the_sheets_still_fold_into_the_book(book: Path) -> None:
    assert not refold_folder(book, NoProgress()).findings


def test_making_it_again_does_nothing(book: Path) -> None:
    assert make_book(book, NoProgress()).nothing_to_do


def test_a_town_that_no_chapter_tells_of_is_a_finding(book: Path, tmp_path: Path) -> None:
    root = tmp_path / "rock"
    shutil.copytree(book, root)
    trip = root / "trip.toml"
    trip.write_text(trip.read_text("utf-8").replace('"Monaco"', '"Menton"'), "utf-8")
    report = make_book(root, NoProgress())
    (finding,) = [f for f in report.findings if f.rule == "story.map"]
    assert "Menton" in finding.message and "Monaco" in finding.remedy
    assert not map_pages(root)


def test_without_street_data_the_map_says_where_to_put_it(book: Path, tmp_path: Path) -> None:
    root = tmp_path / "rock"
    shutil.copytree(book, root)
    shutil.rmtree(root / "streets")
    report = make_book(root, NoProgress())
    assert any("“streets”" in f.remedy for f in report.findings if f.rule == "map-streets")
    assert len(map_pages(root)) == 1
