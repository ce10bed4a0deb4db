"""The pictures of what shows through leaves: made of the pages as they are set, once.

White paper and black ink under the usual sheet are reckoned by hand from two-flux theory (Kubelka
and Munk 1931): 0.787 and 0.269 of the light, signals 239 and 141.
"""

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from wayfold.app.seen import SEEN_PPI, show_through
from wayfold.base.geometry import Point, Rect, Size
from wayfold.base.progress import NoProgress
from wayfold.book.see_through import Sheet
from wayfold.drawing.colour import BLACK
from wayfold.drawing.items import Contour, Drawing, Item, Picture, Shape
from wayfold.drawing.pictures import picture_key
from wayfold.pages.laid_over import Face, Veiled
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter

SIZE = Size(40.0, 30.0)
SHEET = Sheet(0.25, 0.68, 0.1)


def block(x: float, y: float, width: float, height: float) -> Shape:
    corners = (Point(x, y), Point(x + width, y), Point(x + width, y + height), Point(x, y + height))
    return Shape((Contour(corners, closed=True),), fill=BLACK)


def draw(label: str, *items: Item) -> Drawing:
    return Drawing(label, SIZE, 3.0, items)


BARE = draw("bare")


def veil(under: Drawing | None, *faces: Face, asset: str = "seen") -> Veiled:
    return Veiled("under a leaf", under, faces or (Face(BARE, BARE),), SHEET, asset)


class NoTypesetter(Typesetter):
    """One that may not be asked."""

    def __init__(self) -> None:
        pass


def look(folder: Path, veiled: Veiled, pictures: dict[str, Path] | None = None) -> np.ndarray:
    setter = Typesetter()
    made = show_through(BookFolder(folder), [veiled], pictures or {}, setter, NoProgress())
    path = made[picture_key(veiled.picture)]
    again = show_through(BookFolder(folder), [veiled], pictures or {}, NoTypesetter(), NoProgress())
    assert again == made
    return np.asarray(Image.open(io.BytesIO(path.read_bytes())).convert("RGB"), float)


def at(seen: np.ndarray, x: float, y: float) -> float:
    """The grey (0-255) at a place of the page, in mm from its trim."""
    px = SEEN_PPI / 25.4
    row, column = round((y + 3.0) * px), round((x + 3.0) * px)
    return float(seen[row - 2 : row + 3, column - 2 : column + 3].mean())


def test_a_page_is_seen_where_it_lies_bleed_included(tmp_path: Path) -> None:
    seen = look(tmp_path, veil(draw("page", block(-3, -3, 13, 13))))
    assert seen.shape[0] == pytest.approx(36 / 25.4 * SEEN_PPI, abs=1)
    assert seen.shape[1] == pytest.approx(46 / 25.4 * SEEN_PPI, abs=1)
    assert at(seen, -1, -1) == at(seen, 5, 5) == pytest.approx(141, abs=2)
    assert at(seen, 20, 20) == pytest.approx(239, abs=2)


def test_ink_of_the_face_below_is_seen_mirrored_and_that_above_is_left_to_be_drawn(
    tmp_path: Path,
) -> None:
    faces = Face(draw("above", block(15, 5, 5, 5)), draw("below", block(2, 5, 6, 6)))
    seen = look(tmp_path, veil(None, faces))
    assert at(seen, 40 - 5, 8) == pytest.approx(141, abs=2)
    assert at(seen, 5, 8) == at(seen, 17, 7) == pytest.approx(239, abs=2)


def test_a_lower_leaf_is_seen_with_both_its_faces(tmp_path: Path) -> None:
    lower = Face(draw("above", block(15, 5, 6, 6)), BARE)
    seen = look(tmp_path, veil(None, lower, Face(BARE, BARE)))
    assert at(seen, 18, 8) == pytest.approx(141, abs=2)  # its ink touches the leaf above
    assert 141 < at(seen, 30, 20) < 239  # two sheets give back less than one


def test_a_photograph_is_seen_and_another_file_of_it_is_looked_at_anew(tmp_path: Path) -> None:
    page = draw("page", Picture(Rect(-3, -3, 46, 36), "photo"))
    (key,) = [picture_key(item) for item in page.items if isinstance(item, Picture)]
    greys = []
    for name, grey in (("a", 255), ("b", 0)):
        file = tmp_path / f"{name}.jpg"
        Image.new("RGB", (46, 36), (grey,) * 3).save(file)
        greys.append(at(look(tmp_path, veil(page), {key: file}), 20, 15))
    assert greys == pytest.approx([239, 141], abs=2)
