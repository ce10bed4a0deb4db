"""A page of a PDF in colour, as a screen shows it."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from wayfold.base.units import mm_from_pt
from wayfold.checks.refold.rendering import Pages
from wayfold.typeset.look import VIEWING


def count_pages(path: Path) -> int:
    """Give how many pages a PDF has. Raises UserError where it cannot be read."""
    with VIEWING:
        pages = Pages(path)
        pages.close()
    return pages.count


def view_page(
    path: Path, number: int, px_per_mm: float, *, with_bleed: bool = False
) -> Image.Image:
    """Give page ``number`` (from 1) of a PDF, in sRGB, cut at its trim or with its bleed."""
    import pypdfium2 as pdfium

    with VIEWING:
        document = pdfium.PdfDocument(path)
        try:
            page = document[number - 1]
            page.set_cropbox(*(page.get_mediabox() if with_bleed else page.get_trimbox()))
            picture: Image.Image = page.render(scale=px_per_mm * mm_from_pt(1.0)).to_pil()
            return picture.convert("RGB")
        finally:
            document.close()
