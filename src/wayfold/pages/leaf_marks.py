"""What is printed on a leaf, mark by mark, and how it stands out over the page beneath."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.base.units import mm_from_pt
from wayfold.book.see_through import DARKEST, Sheet, light_of
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import (
    READABLE_LARGE,
    contrast,
    least_contrast,
    luminance,
)
from wayfold.drawing.items import Item, Placed, Shape, Text
from wayfold.drawing.text import Align, Paragraph
from wayfold.pages.ground import Ground

STEP = 3.0
"""Every so far (mm) along a line its ground is looked at."""
BESIDE = 1.0
"""So far (mm) beside a line the ground counts."""
LETTER_EM = 0.44
"""Mean width of a letter, in its size; a little more than a Garamond's."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Something printed on a leaf: its name, its ink's luminance, where it lies, what it needs."""

    name: str
    ink: float
    places: tuple[Rect, ...]
    needs: float

    def measure_dark(self, sheet: Sheet) -> float:
        """Give the contrast it has over the darkest page there is."""
        return contrast(sheet.over(DARKEST), sheet.ink_over(DARKEST, self.ink))

    def measure(self, ground: Ground, sheet: Sheet, dx: float = 0.0, dy: float = 0.0) -> float:
        """Give its contrast over the worst of its ground, the leaf lying on the page.

        The mark is moved by ``dx`` and ``dy`` mm for it.
        """
        beneath = light_of(ground.find_worst(self.places, self.ink, dx, dy))
        return contrast(sheet.over(beneath), sheet.ink_over(beneath, self.ink))


@dataclass(frozen=True, slots=True)
class Verdict:
    """A mark and the contrast that it was found to have."""

    mark: Mark
    contrast: float

    @property
    def margin(self) -> float:
        """The contrast against what is needed: 1 is just enough."""
        return self.contrast / self.mark.needs


def judge_items(items: Iterable[Item], ground: Ground, sheet: Sheet) -> tuple[Verdict, ...]:
    """Measure every text and line among ``items`` over a page."""
    return tuple(Verdict(m, m.measure(ground, sheet)) for m in list_marks(items))


def list_marks(items: Iterable[Item], place: Affine | None = None) -> Iterator[Mark]:
    """Give the texts and lines among ``items``, those of drawings placed on others included."""
    place = place or Affine()
    for item in items:
        if isinstance(item, Placed):
            yield from list_marks(item.drawing.items, item.transform.then(place))
        elif isinstance(item, Text):
            yield from _list_texts(item, place)
        elif isinstance(item, Shape) and item.stroke is not None:
            near = tuple(_follow(item, place))
            if near:
                yield Mark("line", luminance(item.stroke.colour), near, READABLE_LARGE)


def guess_width(paragraphs: Sequence[Paragraph]) -> float:
    """Give about how wide (mm) the longest paragraph runs on one line."""
    return max(
        mm_from_pt(len(p.plain) * p.style.size_pt * (LETTER_EM + p.style.tracking / 1000))
        for p in paragraphs
    )


def _list_texts(text: Text, place: Affine) -> Iterator[Mark]:
    """Marks of a text: what is set alike is one, its words on the ground of each paragraph."""
    looks: dict[tuple[Colour, float], list[tuple[str, Rect]]] = {}
    for paragraph, box in _share_box(text):
        said = " ".join(paragraph.plain.split())
        if said:
            moved = _move(box, text.box.center, place, text.turn_deg)
            look = paragraph.style.colour, paragraph.style.size_pt
            looks.setdefault(look, []).append((said, moved))
    for (colour, size_pt), parts in looks.items():
        name = " ".join(said for said, _ in parts)
        boxes = tuple(box for _, box in parts)
        yield Mark(f"“{name}”", luminance(colour), boxes, least_contrast(size_pt))


def _share_box(text: Text) -> Iterator[tuple[Paragraph, Rect]]:
    """The paragraphs of a text, each with the part of the box that its letters are likely to take.

    Boxes are as tall as their texts, so each paragraph has a share of the height.
    """
    box = text.box
    widths = [min(guess_width((p,)), box.width) for p in text.paragraphs]
    lines = [math.ceil(guess_width((p,)) / box.width) for p in text.paragraphs]
    styles = [p.style for p in text.paragraphs]
    gaps = [0.0, *(style.space_before_pt for style in styles[1:])]
    heights = [max(n, 1) * style.leading_pt for n, style in zip(lines, styles, strict=True)]
    scale = box.height / (sum(heights) + sum(gaps))
    y = box.y
    for paragraph, width, height, gap in zip(text.paragraphs, widths, heights, gaps, strict=True):
        y += gap * scale
        align = paragraph.style.align
        shift = {Align.RIGHT: 1.0, Align.CENTER: 0.5}.get(align, 0.0) * (box.width - width)
        yield paragraph, Rect(box.x + shift, y, width, height * scale)
        y += height * scale


def _move(box: Rect, pivot: Point, place: Affine, turn_deg: float) -> Rect:
    """The upright box about a box that was turned about a point and put in its place."""
    cos, sin = (f(math.radians(turn_deg)) for f in (math.cos, math.sin))
    corners = [
        place.apply(Point(pivot.x + cos * dx - sin * dy, pivot.y + sin * dx + cos * dy))
        for dx in (box.x - pivot.x, box.right - pivot.x)
        for dy in (box.y - pivot.y, box.bottom - pivot.y)
    ]
    left, top = min(p.x for p in corners), min(p.y for p in corners)
    width, height = max(p.x for p in corners) - left, max(p.y for p in corners) - top
    return Rect(left, top, width, height)


def _follow(shape: Shape, place: Affine) -> Iterator[Rect]:
    """Small boxes along a shape's outline, ``STEP`` mm apart."""
    for contour in shape.contours:
        points = [place.apply(p) for p in contour.points]
        if contour.closed and points:
            points.append(points[0])
        travelled = STEP
        for start, end in itertools.pairwise(points):
            travelled += math.hypot(end.x - start.x, end.y - start.y)
            if travelled >= STEP:
                travelled = 0.0
                yield Rect(start.x - BESIDE, start.y - BESIDE, 2 * BESIDE, 2 * BESIDE)
