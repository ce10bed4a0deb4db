from __future__ import annotations

import ctypes
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest

from wayfold.base.geometry import Rect, Size
from wayfold.base.units import mm_from_pt
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Item, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle
from wayfold.typeset.engine import Typesetter

INK = Colour(0x26, 0x23, 0x20)
A4 = Size(210.0, 297.0)
COLUMN = Rect(20.0, 20.0, 112.0, 240.0)
BODY = TextStyle("EB Garamond", 10.5, 15.0, INK, align=Align.JUSTIFY, hyphenate=True)


@dataclass(frozen=True)
class Letter:
    """A character of a PDF page: its origin and box in mm, y down, from the trim's corner."""

    sign: str
    x: float
    baseline: float
    left: float
    right: float


@pytest.fixture(scope="session")
def setter() -> Typesetter:
    return Typesetter()


@pytest.fixture(scope="session")
def ink() -> Colour:
    return INK


@pytest.fixture(scope="session")
def body() -> TextStyle:
    return BODY


@pytest.fixture(scope="session")
def make_page() -> Callable[..., Drawing]:
    def make(*items: Item, size: Size = A4, bleed: float = 3.0) -> Drawing:
        return Drawing("page 1", size, bleed, items)

    return make


@pytest.fixture(scope="session")
def make_text() -> Callable[..., Text]:
    def make(
        *paragraphs: Paragraph | str,
        box: Rect = COLUMN,
        style: TextStyle = BODY,
        key: str = "story",
    ) -> Text:
        whole = [Paragraph((Run(p),), style) if isinstance(p, str) else p for p in paragraphs]
        return Text(box, tuple(whole), key)

    return make


@pytest.fixture(scope="session")
def read_letters() -> Callable[..., list[Letter]]:
    return _read_letters


def _read_letters(pdf: bytes, bleed: float = 3.0) -> list[Letter]:
    document = pdfium.PdfDocument(pdf)
    page = document[0]
    height = page.get_mediabox()[3]
    text = page.get_textpage()
    letters = []
    for index in range(text.count_chars()):
        x, y = ctypes.c_double(), ctypes.c_double()
        raw.FPDFText_GetCharOrigin(text, index, x, y)
        left, _, right, _ = text.get_charbox(index)
        letters.append(
            Letter(
                chr(raw.FPDFText_GetUnicode(text, index)),
                mm_from_pt(x.value) - bleed,
                mm_from_pt(height - y.value) - bleed,
                mm_from_pt(left) - bleed,
                mm_from_pt(right) - bleed,
            )
        )
    return [letter for letter in letters if letter.sign not in "\r\n"]


@pytest.fixture(scope="session")
def group_lines() -> Callable[[Sequence[Letter]], list[list[Letter]]]:
    def group(letters: Sequence[Letter]) -> list[list[Letter]]:
        lines: dict[float, list[Letter]] = {}
        for letter in letters:
            lines.setdefault(round(letter.baseline, 2), []).append(letter)
        return [sorted(lines[y], key=lambda one: one.x) for y in sorted(lines)]

    return group
