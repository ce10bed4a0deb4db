"""The screen is what prints: the desk's pages against those of the print file.

Chromium draws the one, PDFium the other; see ``benchmarks/screen_print.py``.
"""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw
from playwright.sync_api import Browser

from benchmarks.screen_print import PX_PER_MM, Pixels, compare, compare_book
from tests.desk_book import copy_book
from wayfold.app.make import make_book
from wayfold.app.session import Session
from wayfold.base.progress import NoProgress


def draw(left: int = 80, text: str = "We went west.", crop: int = 0, ink: int = 40) -> Pixels:
    """A page with a picture and a line of text; ``left`` in pixels."""
    page = Image.new("RGB", (400, 560), "white")
    ramp = Image.linear_gradient("L").resize((240, 160)).convert("RGB")
    page.paste(ramp.crop((0, crop, 240, 160)).resize((240, 160)), (left, 60))
    ImageDraw.Draw(page).text((80, 260), text, fill=(ink, ink, ink), font_size=20)
    return np.asarray(page).astype(np.float64)


def test_a_page_is_the_same_as_itself_to_a_pixel() -> None:
    assert compare("page 1", draw(), draw()).worst == 0.0
    assert compare("page 1", draw(), np.roll(draw(), (1, -1), axis=(0, 1))).same


@pytest.mark.parametrize(
    "other",
    [
        draw(left=80 + PX_PER_MM),  # a picture a millimetre off
        draw(text="Quite another."),
        draw(text=""),
        draw(crop=40),  # a picture cropped otherwise
        draw(ink=200),  # text in another colour
    ],
)
def test_what_a_person_would_see_is_seen(other: Pixels) -> None:
    assert not compare("page 1", draw(), other).same


def test_every_page_of_a_book_is_on_the_screen_as_it_prints(
    browser: Browser, atlantic: Path, tmp_path: Path
) -> None:
    root = copy_book(atlantic, tmp_path / "atlantic")
    make_book(root, NoProgress())
    session = Session.open(root, NoProgress())
    pages = list(compare_book(browser, session.shown, session.folder.out / "reading.pdf"))
    session.close()
    assert len(pages) == len(session.shown.view().reading)
    assert [page for page in pages if not page.same] == []
