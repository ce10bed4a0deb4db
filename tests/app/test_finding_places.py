"""A reader finds a place by contents, table and map: the same spelling and date everywhere.

The towns' names are those of GeoNames, accents and all; positions from memory.
"""

from __future__ import annotations

import json
from datetime import datetime, timedelta

import pypdf
import pytest

from tests.app.conftest import paint
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.base.progress import NoProgress

TOWNS = {
    "Oñati": (43.0326, -2.4110),
    "Vyšší Brod": (48.6165, 14.3118),
    "Besançon": (47.2488, 6.0182),
}
FIRST = datetime(2025, 5, 12, 10, 0)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Text of each block's pages in the reading file."""
    root = tmp_path_factory.mktemp("book") / "three towns"
    for day, place in enumerate(TOWNS.values()):
        for n in range(5):
            taken = FIRST + timedelta(days=day, minutes=40 * n)
            paint(root / "photographs" / f"{day}-{n}.jpg", (1200, 800), 40 * n, taken, place)
    begin_book(root, "Three Towns", [root / "photographs"])
    said = (root / "book.toml").read_text("utf-8")
    chapters = "\n".join(
        f'[[chapter]]\nplace = "{name}"\ntitle = "Part {n}"\n'
        for n, name in enumerate(TOWNS, start=1)
    )
    (root / "book.toml").write_text(f"{said}\n{chapters}", "utf-8")
    trip = root / "trip.toml"
    trip_said = trip.read_text("utf-8") if trip.is_file() else "version = 1\n"
    trip.write_text(f"itinerary = true\noverview = true\n{trip_said}", "utf-8")
    report = make_book(root, NoProgress())
    assert not [f for f in report.findings if f.rule == "story.chapter"], report.findings
    reader = pypdf.PdfReader(root / "out" / "reading.pdf")
    texts: dict[str, str] = {}
    for page in json.loads((root / "out" / "plan.json").read_text("utf-8"))["pages"]:
        text = reader.pages[page["number"] - 1].extract_text()
        plain = " ".join(text.replace("\u2011", "-").split())
        texts[page["block"]] = texts.get(page["block"], "") + " " + plain
    return texts


@pytest.mark.parametrize("name", TOWNS)
@pytest.mark.parametrize("block", ["contents", "itinerary", "overview"])
def test_a_place_is_spelt_alike_in_contents_table_and_map(
    pages: dict[str, str], block: str, name: str
) -> None:
    assert name in pages[block]


@pytest.mark.parametrize(("day", "name"), [*enumerate(TOWNS)])
def test_its_date_is_the_same_in_table_map_and_chapter(
    pages: dict[str, str], day: int, name: str
) -> None:
    date = f"{FIRST.day + day} May"
    assert f"{name} {date}" in pages["overview"]
    assert f"{date} {name}" in pages["itinerary"]
    assert f"{date} 2025" in pages[f"opener:{day}"] or date.upper() in pages[f"opener:{day}"]


def test_the_contents_send_the_reader_to_the_chapter(pages: dict[str, str]) -> None:
    for number, name in enumerate(TOWNS, start=1):
        assert f"Part {number} {name}" in pages["contents"]
