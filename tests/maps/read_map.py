"""What a drawn map holds, read back from its drawing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.base.world import LonLat
from wayfold.drawing.items import Drawing, Item, Placed, Text
from wayfold.drawing.text import Paragraph
from wayfold.maps.model import MapPlace


def place(name: str, lat: float, lon: float, note: str = "", flag: str = "") -> MapPlace:
    return MapPlace(name, LonLat(lon, lat), note, flag)


def list_items(drawing: Drawing) -> list[Item]:
    found: list[Item] = []
    for item in drawing.items:
        found += list_items(item.drawing) if isinstance(item, Placed) else [item]
    return found


def letter_boxes(
    drawing: Drawing, widths: Callable[[Sequence[Paragraph]], tuple[float, ...]]
) -> dict[tuple[str, int], Rect]:
    """Give the room that the letters of each text really take, by its key and number."""
    texts = [item for item in list_items(drawing) if isinstance(item, Text)]
    measured = widths([text.paragraphs[0] for text in texts])
    boxes = {}
    for n, (text, width) in enumerate(zip(texts, measured, strict=True)):
        style = text.paragraphs[0].style
        left = {
            "left": text.box.x,
            "right": text.box.right - width,
            "center": text.box.center.x - width / 2,
        }[style.align.value]
        # The x-height and more: from the baseline up by 0.7 em, down by 0.2 em.
        baseline = text.box.y + mm_from_pt(style.first_baseline_pt)
        size = mm_from_pt(style.size_pt)
        boxes[text.key, n] = Rect(left, baseline - 0.7 * size, width, 0.9 * size)
    return boxes
