"""Is the screen what prints? Every page of a book as the desk shows it, against its page of
``out/reading.pdf``: two renderers that know nothing of each other, Chromium and PDFium.

    python -m benchmarks.screen_print BOOK [--keep FOLDER]

Both are taken to the same pixels of the cut page. Each smooths the edges of letters in its own way,
PDFium takes pictures to whole pixels, and pictures come in other sizes. So what is compared is the
mean over cells of ``CELL_MM``, each at the better of all shifts by one pixel (a quarter of a mm): a
letter that stands a millimetre off, a picture cropped otherwise, a colour or line that lacks shows
there.
"""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, Page, Route, sync_playwright

from tools.ensure_browser import find_browser
from wayfold.app.make import make_book
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.base.geometry import Size
from wayfold.base.progress import NoProgress
from wayfold.base.units import mm_from_pt

PX_PER_MM = 4
CELL_MM = 1
MOST = 36.0
"""How far (of 255) a cell may be off. Running text that is half a mm off comes to 38 and more."""
MOST_MEAN = 3.0
"""How far all of a page may be off in the mean: each thins the detail of large pictures its way."""
HOST = "http://desk.invalid"

Pixels = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Compared:
    """One page: how far its worst cell is off and where (mm), and the mean of all (0-255)."""

    name: str
    worst: float
    at: tuple[float, float]
    mean: float

    @property
    def same(self) -> bool:
        """Whether nobody would see a difference."""
        return self.worst <= MOST and self.mean <= MOST_MEAN


def compare_book(
    browser: Browser, shown: Shown, reading: Path, keep: Path | None = None
) -> Iterator[Compared]:
    """Compare every page, bare and under leaves, with its page of ``reading`` (a PDF)."""
    trim = shown.results.book.trim
    with pypdfium2.PdfDocument(reading) as pdf, open_window(browser, shown, trim) as window:
        order = shown.view().reading
        assert len(pdf) == len(order), "the print file has other pages than the desk"
        for index, page in enumerate(order):
            if page.veiled is None:
                name, svg = f"page {page.number}", shown.page_svg(page.number)
            else:
                name, svg = f"page {page.number} under a leaf", shown.veiled_svg(page.veiled)
            screen = render_screen(window, svg, trim)
            printed = render_print(pdf[index], trim)
            if keep is not None:
                keep_both(keep / f"{index + 1:03} {name}.png", screen, printed)
            yield compare(name, screen, printed)


def compare(name: str, screen: Pixels, printed: Pixels) -> Compared:
    """Compare two pictures of a page cell by cell."""
    wanted = _average(screen)
    shifts = [(down, across) for down in (-1, 0, 1) for across in (-1, 0, 1)]
    shifted = (_average(np.roll(printed, shift, axis=(0, 1))) for shift in shifts)
    off: Pixels = np.minimum.reduce([np.abs(wanted - one).max(axis=2) for one in shifted])
    row, column = np.unravel_index(int(np.argmax(off)), off.shape)
    at = (float(column) * CELL_MM, float(row) * CELL_MM)
    return Compared(name, float(off.max()), at, float(off.mean()))


def render_print(page: pypdfium2.PdfPage, trim: Size) -> Pixels:
    """Draw the cut part of a PDF's page."""
    left, bottom, right, top = page.get_trimbox()
    # What PDFium takes for the page is its crop box.
    media = page.get_cropbox()
    crop = (left - media[0], bottom - media[1], media[2] - right, media[3] - top)
    drawn = page.render(scale=PX_PER_MM * mm_from_pt(1.0), crop=crop).to_pil().convert("RGB")
    return _read(drawn, trim)


def render_screen(window: Page, svg: str, trim: Size) -> Pixels:
    """Draw a page's SVG as the browser does."""
    window.evaluate(
        """async (svg) => {
            document.body.innerHTML = svg
            const drawn = document.querySelector('svg')
            drawn.setAttribute('width', '100vw')
            drawn.setAttribute('height', '100vh')
            const pictures = [...document.querySelectorAll('image')]
            await Promise.all(pictures.map((image) => image.decode()))
        }""",
        svg,
    )
    return _read(Image.open(io.BytesIO(window.screenshot())).convert("RGB"), trim)


@contextmanager
def open_window(browser: Browser, shown: Shown, trim: Size) -> Iterator[Page]:
    """Open a window as large as a page, which gets its pictures from ``shown``."""
    width, height = _count_px(trim)
    window = browser.new_page(viewport={"width": width, "height": height})

    def answer(route: Route) -> None:
        name = route.request.url.removeprefix(f"{HOST}/")
        if name.startswith("assets/"):
            picture = shown.asset_jpeg(name.removeprefix("assets/").removesuffix(".jpg"))
            route.fulfill(body=picture, content_type="image/jpeg")
        else:
            route.fulfill(
                body="<!doctype html><style>body{margin:0}svg{display:block}</style><body>",
                content_type="text/html",
            )

    window.route("**/*", answer)
    window.goto(f"{HOST}/page")
    yield window
    window.close()


def keep_both(path: Path, screen: Pixels, printed: Pixels) -> None:
    """Keep both pictures and what parts them, side by side."""
    path.parent.mkdir(parents=True, exist_ok=True)
    apart = 255.0 - np.clip(np.abs(screen - printed) * 2.0, 0.0, 255.0)
    Image.fromarray(np.hstack([screen, printed, apart]).astype(np.uint8)).save(path)


def _count_px(trim: Size) -> tuple[int, int]:
    return round(trim.width * PX_PER_MM), round(trim.height * PX_PER_MM)


def _read(picture: Image.Image, trim: Size) -> Pixels:
    """Give pixels (rows, columns, 3); a renderer may round a page's size up by one."""
    width, height = _count_px(trim)
    assert abs(picture.width - width) <= 1 and abs(picture.height - height) <= 1, picture.size
    pixels = np.asarray(
        picture.resize((width, height)) if picture.size != (width, height) else picture
    )
    return pixels.astype(np.float64)


def _average(pixels: Pixels) -> Pixels:
    """Give the means of cells; what is less than a cell at the edges is left out."""
    side = CELL_MM * PX_PER_MM
    rows, columns = pixels.shape[0] // side, pixels.shape[1] // side
    cut = pixels[: rows * side, : columns * side]
    means: Pixels = cut.reshape(rows, side, columns, side, 3).mean(axis=(1, 3))
    return means


def main(arguments: Sequence[str]) -> int:
    """Compare a whole book, and say how many pages are the same and which is the worst."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("book", type=Path)
    parser.add_argument("--keep", type=Path, help="a folder for pictures of every page")
    asked = parser.parse_args(arguments)
    make_book(asked.book, NoProgress())
    session = Session.open(asked.book, NoProgress())
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find_browser(), args=["--no-sandbox"])
        reading = session.folder.out / "reading.pdf"
        pages = list(compare_book(browser, session.shown, reading, asked.keep))
        browser.close()
    session.close()
    for page in sorted(pages, key=lambda p: -p.worst)[:10]:
        place = f"at {page.at[0]:.0f}, {page.at[1]:.0f} mm"
        print(f"{page.name:24} worst cell {page.worst:5.1f} {place}; mean {page.mean:.2f}")
    same = sum(page.same for page in pages)
    print(f"{same} of {len(pages)} pages are the same on the screen as in print.")
    return 0 if same == len(pages) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
