"""Trying the crafts: a page is set and read back, a picture of each kind opened, a place found."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from importlib import metadata
from pathlib import Path

from wayfold.app.doctor.extras import (
    FACES,
    ISLANDS,
    PICTURES,
    PLACES,
    RAWS,
    try_coasts,
    try_faces,
    try_raws,
)
from wayfold.app.doctor.tried import REINSTALL, Tried, try_all, try_one
from wayfold.base.counts import count_of
from wayfold.base.geometry import Rect, Size
from wayfold.base.world import LonLat
from wayfold.checks.view_page import view_page
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Drawing, Text
from wayfold.drawing.text import Paragraph, Run, TextStyle
from wayfold.maps.flag import load_flag
from wayfold.maps.outlines import load_outlines
from wayfold.photos.trying import TRIED_KINDS, try_heic, try_kind
from wayfold.trip.gazetteer import load_gazetteer
from wayfold.trip.zones import find_zone, load_zone
from wayfold.typeset.album import open_album
from wayfold.typeset.engine import Typesetter
from wayfold.typeset.fonts import HOUSE, FontLibrary

PAGES = "Pages"
LISBON = LonLat(-9.1393, 38.7223)
"""A place to try with (from memory)."""
_TRIM = Size(148.0, 210.0)


def try_crafts() -> Iterator[Tried]:
    """Try fonts, typesetter, PDFs, kinds of picture, and the data that maps are drawn from."""
    with tempfile.TemporaryDirectory(prefix="wayfold-tried-") as name:
        scratch = Path(name)
        page = scratch / "page.pdf"
        yield from try_all(
            PAGES,
            [
                ("Fonts", _try_fonts, REINSTALL),
                ("Typesetter", partial(_set_page, page), REINSTALL),
                ("Pages on screen", partial(_read_page, page), REINSTALL),
                ("Print files", _try_print_files, REINSTALL),
            ],
        )
        for kind in TRIED_KINDS:
            yield try_one(PICTURES, kind.value, partial(try_kind, kind, scratch))
    yield try_one(PICTURES, "HEIC", try_heic)
    yield try_one(PICTURES, RAWS, try_raws)
    yield try_one(PICTURES, FACES, try_faces)
    yield from try_all(
        PLACES,
        [
            ("Outlines of countries", _try_outlines, REINSTALL),
            ("Towns", _try_towns, REINSTALL),
            ("Time zones", _try_zones, REINSTALL),
            ("Flags", _try_flags, REINSTALL),
            (ISLANDS, try_coasts, REINSTALL),
        ],
    )


def _try_fonts() -> str:
    return f"{', '.join(FontLibrary().known)}."


def _set_page(page: Path) -> str:
    style = TextStyle(HOUSE[0], 24.0, 30.0, BLACK)
    words = Text(
        Rect(20.0, 30.0, 108.0, 60.0), (Paragraph((Run("What works here"),), style),), "tried"
    )
    proof = Typesetter().page_pdf(Drawing("tried", _TRIM, 0.0, (words,)))
    if proof.findings:
        raise RuntimeError(proof.findings[0].message)
    page.write_bytes(proof.pdf)
    return f"A page was set (Typst {metadata.version('typst')})."


def _read_page(page: Path) -> str:
    picture = view_page(page, 1, 2.0)
    if abs(picture.width - 2 * _TRIM.width) > 2 or abs(picture.height - 2 * _TRIM.height) > 2:
        raise RuntimeError("the page that was set comes back in another size")
    greys = picture.convert("L").histogram()
    if not any(greys[:128]) or not any(greys[128:]):
        raise RuntimeError("the page that was set comes back empty")
    return f"The page was read back (PDFium, pypdfium2 {metadata.version('pypdfium2')})."


def _try_print_files() -> str:
    open_album({})[0].close()
    return f"Print files can be put together (pikepdf {metadata.version('pikepdf')})."


def _try_outlines() -> str:
    return f"{count_of(len(load_outlines()), 'country', 'countries')}."


def _try_towns() -> str:
    town = load_gazetteer().find(LISBON)
    if town is None or town.country.upper() != "PT":
        raise RuntimeError("the list of towns does not know Lisbon")
    return "The towns of the world are there."


def _try_zones() -> str:
    zone = find_zone(LISBON)
    if zone != "Europe/Lisbon":
        raise RuntimeError(f"Lisbon's time zone comes out as {zone}")
    load_zone(zone)
    return f"Their rules are those of tzdata {metadata.version('tzdata')}."


def _try_flags() -> str:
    if load_flag("pt") is None:
        raise RuntimeError("the flags are missing")
    return "The flags are there."
