"""Turned words stay about the middle of their box, on a page and in a drawing placed on it.

Where ink lies is read back with PDFium.
"""

import io

import pypdfium2
import pytest

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Drawing, Placed, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle, VerticalAlign
from wayfold.typeset.engine import Typesetter

STYLE = TextStyle("Source Sans 3", 9.0, 11.0, BLACK, Align.CENTER)


def ink_middle(drawing: Drawing, typesetter: Typesetter) -> tuple[float, float]:
    page = pypdfium2.PdfDocument(io.BytesIO(typesetter.page_pdf(drawing).pdf))[0]
    image = page.render(scale=4).to_pil().convert("L").point(lambda v: 255 - v)
    left, top, right, bottom = image.getbbox() or (0, 0, 0, 0)
    per_mm = image.width / drawing.size.width
    return (left + right) / 2 / per_mm, (top + bottom) / 2 / per_mm


@pytest.mark.parametrize("turn", [0.0, 90.0, -90.0, 180.0])
@pytest.mark.parametrize("placed", [False, True])
def test_words_turn_about_the_middle_of_their_box(turn: float, placed: bool) -> None:
    paragraph = Paragraph((Run("nnnnnn"),), STYLE)
    words = Text(Rect(20, 45, 60, 10), (paragraph,), "words", VerticalAlign.MIDDLE, turn)
    drawing = Drawing("turned", Size(100, 100), 0.0, (words,))
    if placed:
        drawing = Drawing("page", Size(100, 100), 0.0, (Placed(drawing, Affine.shift(0, 0)),))
    x, y = ink_middle(drawing, Typesetter())
    # The line's own baseline lies a little under its middle, to whichever side it is turned.
    assert x == pytest.approx(50, abs=1.5)
    assert y == pytest.approx(50, abs=1.5)
