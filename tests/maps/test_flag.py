"""Flags as they come out of the PDF, against what the countries' laws say of them."""

from __future__ import annotations

import pypdfium2
import pytest

from wayfold.base.geometry import Rect, Size
from wayfold.drawing.items import Drawing, Emblem
from wayfold.maps.flag import ASPECT, leave_out_fine, load_flag
from wayfold.typeset.engine import Typesetter

RED, WHITE, BLUE, GREEN, YELLOW, BLACK = "red", "white", "blue", "green", "yellow", "black"
# Bands from the hoist or from the head, by the constitutions (from memory): France art. 2, Italy
# art. 12, Belgium art. 193, Germany art. 22 (Basic Law), Austria art. 8a, Spain art. 4.1 (the
# yellow band is twice as wide), Monaco art. 7 (red over white), Poland art. 28 (white over red).
UPRIGHT = {"FR": (BLUE, WHITE, RED), "IT": (GREEN, WHITE, RED), "BE": (BLACK, YELLOW, RED)}
LEVEL = {
    "DE": (BLACK, RED, YELLOW),
    "AT": (RED, WHITE, RED),
    "MC": (RED, WHITE),
    "PL": (WHITE, RED),
    "NL": (RED, WHITE, BLUE),
}


def name_colour(rgb: tuple[int, int, int]) -> str:
    red, green, blue = rgb
    if min(rgb) > 200:
        return WHITE
    if max(rgb) < 60:
        return BLACK
    if red > 150 and green > 150:
        return YELLOW
    return (RED, GREEN, BLUE)[rgb.index(max(red, green, blue))]


def draw(country: str):
    svg = load_flag(country)
    assert svg is not None
    drawing = Drawing("flag", Size(40.0, 30.0), 0.0, (Emblem(Rect(0.0, 0.0, 40.0, 30.0), svg),))
    pdf = Typesetter().page_pdf(drawing).pdf
    return pypdfium2.PdfDocument(pdf)[0].render(scale=2).to_pil().convert("RGB")


@pytest.mark.parametrize(("country", "bands"), UPRIGHT.items())
def test_upright_bands(country: str, bands: tuple[str, ...]) -> None:
    picture = draw(country)
    width, height = picture.size
    seen = [picture.getpixel((round((n + 0.5) / 3 * width), height // 2)) for n in range(3)]
    assert tuple(map(name_colour, seen)) == bands


@pytest.mark.parametrize(("country", "bands"), LEVEL.items())
def test_level_bands(country: str, bands: tuple[str, ...]) -> None:
    picture = draw(country)
    width, height = picture.size
    count = len(bands)
    seen = [picture.getpixel((width // 2, round((n + 0.5) / count * height))) for n in range(count)]
    assert tuple(map(name_colour, seen)) == bands


def test_flags_are_vectors_in_the_print_file() -> None:
    svg = load_flag("ES")
    assert svg is not None
    drawing = Drawing("flag", Size(40.0, 30.0), 0.0, (Emblem(Rect(0.0, 0.0, 4.0, 3.0), svg),))
    assert b"/Subtype /Image" not in Typesetter().page_pdf(drawing).pdf.replace(
        b"/Subtype/", b"/Subtype /"
    )


@pytest.mark.parametrize("code", ["", "X", "ESP", "../es", "ZZ", "é1"])
def test_what_is_no_country_has_no_flag(code: str) -> None:
    assert load_flag(code) is None


def test_every_country_of_the_standard_has_one() -> None:
    # ISO 3166-1, as pycountry has it.
    import pycountry

    assert [c.alpha_2 for c in pycountry.countries if load_flag(c.alpha_2) is None] == []


def test_strokes_too_fine_to_print_are_left_out() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 480">'
        '<path d="M0 0h9" stroke="#000" stroke-width=".3"/>'
        '<path d="M0 9h9" stroke="#000" stroke-width="9"/></svg>'
    )
    plain = leave_out_fine(svg)
    assert plain.count('stroke="none"') == 1
    assert plain.count('stroke="#000"') == 1
    assert ASPECT == 640 / 480
