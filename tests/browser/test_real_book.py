"""The desk over a real book: photographs from a folder to pixels on the screen.

The colours are chosen here and looked for in the browser's own picture of the page, so the whole
path (import, plan, layout, typesetting, preview, server, browser) is measured from its ends.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, expect

from tests.browser.conftest import SIZE, serve_desk
from wayfold.app.new import begin_book
from wayfold.app.shelf import Shelf
from wayfold.base.progress import NoProgress

pytestmark = pytest.mark.browser

COLOURS = ((176, 64, 48), (60, 120, 88), (64, 84, 160), (204, 160, 60), (120, 60, 120))
EXIF_TIME, EXIF_SUB = 0x9003, 0x8769
TOLERANCE = 12
FIRST_DAY = datetime(2024, 5, 4, 9, 0)


def write_photograph(path: Path, colour: tuple[int, int, int], taken: datetime) -> None:
    # A plain colour with a frame of noise, so that no two pictures are alike.
    noise = np.random.default_rng(int(taken.timestamp())).integers(0, 255, (1200, 1600, 3))
    pixels = noise.astype(np.uint8)
    pixels[60:-60, 60:-60] = colour
    picture = Image.fromarray(pixels)
    exif = picture.getexif()
    exif.get_ifd(EXIF_SUB)[EXIF_TIME] = taken.strftime("%Y:%m:%d %H:%M:%S")
    picture.save(path, quality=92, exif=exif)


@pytest.fixture(scope="module")
def opening_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    root = tmp_path_factory.mktemp("book")
    folder = root / "photographs"
    folder.mkdir()
    for number, colour in enumerate(COLOURS * 3):
        taken = FIRST_DAY + timedelta(hours=7 * number)
        write_photograph(folder / f"{number:02d}.jpg", colour, taken)
    begin_book(root, "Five Colours", [folder])
    shelf = Shelf()
    shelf.open(root, NoProgress())
    with serve_desk(shelf) as opening:
        yield opening


def test_photographs_reach_the_screen_in_their_colours(
    browser: Browser, opening_address: str
) -> None:
    context = browser.new_context(viewport=SIZE)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(opening_address)
    page.get_by_role("link", name="Read", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Five Colours")
    slider = page.get_by_role("slider")
    last = int(slider.get_attribute("max") or 0)
    assert last >= 4
    found: set[tuple[int, int, int]] = set()
    for index in range(last + 1):
        slider.fill(str(index))
        book = page.locator(f"[data-spread='{index}']")
        book.locator(".spread:not(.away) .ready").first.wait_for()
        page.wait_for_load_state("networkidle")
        assert book.get_by_role("alert").all_inner_texts() == []
        pixels = np.asarray(Image.open(BytesIO(book.screenshot())).convert("RGB"), dtype=int)
        for colour in COLOURS:
            near = (abs(pixels - colour) <= TOLERANCE).all(axis=2).mean()
            if near > 0.01:
                found.add(colour)
    context.close()
    assert found == set(COLOURS)
