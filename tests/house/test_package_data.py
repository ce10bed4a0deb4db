"""What the build hook takes from packages is there, is what it should be, and has its licence."""

from pathlib import Path
from xml.etree import ElementTree

import pycountry
import pytest
from fontTools.ttLib import TTFont

from building.assets import FONT_FAMILIES
from building.stamp import hash_inputs, is_fresh, write_stamp

OS2_WEIGHT = {"400": 400, "500": 500, "600": 600}
# OpenType name ids: 16 is the typographic family, 1 the family where 16 is absent (ISO/IEC
# 14496-22, table "name").
TYPOGRAPHIC_FAMILY, FAMILY = 16, 1
NAMES = {
    "Alegreya": "Alegreya",
    "AlegreyaSans": "Alegreya Sans",
    "EBGaramond": "EB Garamond",
    "SourceSans3": "Source Sans 3",
    "Spectral": "Spectral",
}
BUNDLED = ("eb-garamond", "source-sans-3")
"""Those that the desk shows its own words in."""


@pytest.fixture(scope="module")
def package(root: Path) -> Path:
    return root / "src" / "wayfold"


@pytest.mark.parametrize(
    ("folder", "family", "face"),
    [(name, *face) for name, faces in FONT_FAMILIES.items() for face in faces],
)
def test_fonts_are_the_faces_they_are_named_after(
    package: Path, folder: str, family: str, face: str
) -> None:
    font = TTFont(package / "typeset" / "fonts" / folder / f"{family}-{face}.ttf")
    names = font["name"]
    own = names.getDebugName(TYPOGRAPHIC_FAMILY) or names.getDebugName(FAMILY)
    assert own == NAMES[family]
    assert font["OS/2"].usWeightClass == OS2_WEIGHT[face[:3]]
    # OS/2 fsSelection, bit 0: italic (the same standard, table "OS/2").
    assert bool(font["OS/2"].fsSelection & 1) == face.endswith("Italic")
    assert "Open Font License" in names.getDebugName(13)


def test_font_licences_go_along(package: Path) -> None:
    folders = [package / "typeset" / "fonts" / name for name in FONT_FAMILIES]
    licences = [folder / f"LICENSE-{folder.name}.txt" for folder in folders]
    licences += [package / "desk" / "static" / f"LICENSE-{name}.txt" for name in BUNDLED]
    for licence in licences:
        text = licence.read_text()
        assert "SIL OPEN FONT LICENSE Version 1.1" in text
        assert text.startswith("Copyright")


def test_every_country_has_a_flag(package: Path) -> None:
    """ISO 3166-1 as pycountry lists it."""
    folder = package / "maps" / "flags"
    codes = {country.alpha_2.lower() for country in pycountry.countries}
    assert len(codes) > 240
    assert {code for code in codes if not (folder / f"{code}.svg").is_file()} == set()
    for code in ("fr", "no", "jp"):
        box = ElementTree.parse(folder / f"{code}.svg").getroot().get("viewBox")
        assert box == "0 0 640 480"
    assert "MIT" in (folder / "LICENSE-flag-icons.txt").read_text()


def test_places_name_their_source(package: Path) -> None:
    folder = package / "trip" / "gazetteer"
    assert (folder / "geocode.gz").read_bytes().startswith(b"\x1f\x8b")
    assert "CC BY 4.0" in (folder / "NOTICE.txt").read_text()


def test_a_folder_is_fresh_only_for_the_very_same_inputs(tmp_path: Path) -> None:
    source = tmp_path / "a.txt"
    source.write_text("one")
    first = hash_inputs([source], "note")
    made = tmp_path / "made"
    made.mkdir()
    assert not is_fresh(made, first)
    write_stamp(made, first)
    assert is_fresh(made, first)
    assert hash_inputs([source], "other note") != first
    source.write_text("two")
    assert not is_fresh(made, hash_inputs([source], "note"))
    source.write_text("one")
    assert is_fresh(made, hash_inputs([source], "note"))
    source.rename(tmp_path / "b.txt")
    assert not is_fresh(made, hash_inputs([tmp_path / "b.txt"], "note"))
