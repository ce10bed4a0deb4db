"""Test pages and marks as PDF, written straight from their numbers."""

from collections.abc import Callable, Sequence
from pathlib import Path

import pikepdf
import pytest

from wayfold.base.geometry import Size
from wayfold.drawing.items import Drawing, Shape
from wayfold.press.model import PressSheet

PT = 72 / 25.4


def page_colour(page: int) -> tuple[int, int, int]:
    """A colour of its own for each page, far from white, black and the bleed's magenta."""
    return (20 + (page * 37) % 200, 120 + (page * 53) % 100, 30 + (page * 11) % 100)


def write_pages(path: Path, count: int, trim: Size, bleed: float) -> Path:
    """Pages in their colour, magenta bleed, a black 5 mm square in the head left corner."""
    pdf = pikepdf.new()
    w, h, b = trim.width * PT, trim.height * PT, bleed * PT
    for number in range(1, count + 1):
        page = pdf.add_blank_page(page_size=(w + 2 * b, h + 2 * b))
        red, green, blue = (c / 255 for c in page_colour(number))
        square = 5 * PT
        content = (
            f"1 0 1 rg 0 0 {w + 2 * b} {h + 2 * b} re f "
            f"{red} {green} {blue} rg {b} {b} {w} {h} re f "
            f"0 g {b} {b + h - square} {square} {square} re f"
        )
        page.Contents = pdf.make_stream(content.encode())
        page.TrimBox = [b, b, b + w, b + h]
        page.CropBox = page.TrimBox
    pdf.save(path)
    return path


def write_drawings(path: Path, drawings: Sequence[Drawing]) -> Path:
    """The shapes of drawings; texts are left out."""
    pdf = pikepdf.new()
    for drawing in drawings:
        size = drawing.size
        page = pdf.add_blank_page(page_size=(size.width * PT, size.height * PT))
        content = [f"{PT} 0 0 {-PT} 0 {size.height * PT} cm"]
        for item in drawing.items:
            if not isinstance(item, Shape):
                continue
            dash = " ".join(f"{d:g}" for d in item.stroke.dash) if item.stroke else ""
            width = item.stroke.width if item.stroke else 0
            content.append(f"0 G 0 g {width} w [{dash}] 0 d")
            for contour in item.contours:
                content += [
                    f"{p.x} {p.y} {'l' if i else 'm'}" for i, p in enumerate(contour.points)
                ]
            content.append("f" if item.fill else "S")
        page.Contents = pdf.make_stream("\n".join(content).encode())
    pdf.save(path)
    return path


def list_marks(sheets: Sequence[PressSheet]) -> list[Drawing]:
    return [side.marks for sheet in sheets for side in (sheet.front, sheet.back)]


@pytest.fixture
def pages_writer() -> Callable[[Path, int, Size, float], Path]:
    return write_pages


@pytest.fixture
def marks_writer() -> Callable[[Path, Sequence[PressSheet]], Path]:
    return lambda path, sheets: write_drawings(path, list_marks(sheets))


@pytest.fixture
def colour_of() -> Callable[[int], tuple[int, int, int]]:
    return page_colour
