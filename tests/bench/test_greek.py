"""A page too small to be read keeps its look and is the same page when only a word changes.

Our own rule; that lines of type are sketched as strokes is common practice in layout.
"""

from dataclasses import replace
from itertools import pairwise

from wayfold.base.geometry import Rect, Size
from wayfold.bench.greek import sketch_page
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Drawing, Picture, Shape, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle

BODY = TextStyle("EB Garamond", 10.5, 15.0, BLACK)


def page(words: str, style: TextStyle = BODY, alt: str = "") -> Drawing:
    text = Text(Rect(20, 30, 110, 60), (Paragraph((Run(words),), style),), "text")
    return Drawing("page 3", Size(210, 297), 3.0, (text, Picture(Rect(0, 0, 9, 9), "a", alt=alt)))


def test_another_word_of_the_same_length_changes_nothing() -> None:
    assert sketch_page(page("one caption")) == sketch_page(page("two caption", alt="two caption"))
    assert sketch_page(page("one")) != sketch_page(page("one " * 60))


def test_strokes_stand_where_the_lines_were() -> None:
    (shape, _) = sketch_page(page("word " * 60)).items
    assert isinstance(shape, Shape)
    ys = [contour.points[0].y for contour in shape.contours]
    assert len(ys) >= 3
    # Baselines 15 pt apart are 5.29 mm.
    assert all(abs(b - a - 15 * 25.4 / 72) < 1e-6 for a, b in pairwise(ys))
    assert all(30 < y < 90 for y in ys)
    assert all(20 <= p.x <= 130 for contour in shape.contours for p in contour.points)


def test_titles_stay_words_and_the_rest_stays_as_it_is() -> None:
    title = page("The Slow Way", replace(BODY, size_pt=34.0, leading_pt=40.0))
    assert sketch_page(title).items[0] == title.items[0]
    right = sketch_page(page("short", replace(BODY, align=Align.RIGHT))).items[0]
    assert isinstance(right, Shape)
    assert max(p.x for p in right.contours[0].points) == 130
