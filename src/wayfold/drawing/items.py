"""The waist of Wayfold: a ``Drawing`` in millimetres and the five kinds of item it holds.

Page space: origin at the top left corner of the trim, y down. Items may reach over the trim by
``bleed`` on every side. What lies later in ``items`` lies on top.
"""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.drawing.colour import Colour
from wayfold.drawing.text import Paragraph, VerticalAlign


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line's colour and width (mm); ``dash`` are lengths on and off in mm."""

    colour: Colour
    width: float
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Contour:
    """A run of straight lines through ``points``, closed back to the first or open."""

    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """Contours filled (even-odd, so inner contours are holes) and stroked alike.

    Curves come as enough short straight lines; at print size nobody sees the difference.
    """

    contours: tuple[Contour, ...]
    fill: Colour | None = None
    stroke: Stroke | None = None


@dataclass(frozen=True, slots=True)
class Text:
    """Paragraphs set in a box. The typesetter breaks the lines; ``box`` is the measure.

    ``key`` names the text for findings ("caption 3f…"); ``turn_deg`` turns the box about its
    middle, clockwise. Text that is taller than its box is a finding, never cut.
    """

    box: Rect
    paragraphs: tuple[Paragraph, ...]
    key: str
    vertical: VerticalAlign = VerticalAlign.TOP
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph (or another raster asset) shown in ``box``.

    ``asset`` is the identity of the picture; ``crop`` is the part shown, in fractions of the
    upright picture (0-1, y down). ``box`` may reach over the page (a picture across the fold);
    only what lies inside ``clip`` (default: the whole box) is shown.
    """

    box: Rect
    asset: str
    crop: Rect = Rect(0.0, 0.0, 1.0, 1.0)
    clip: Rect | None = None
    alt: str = ""


@dataclass(frozen=True, slots=True)
class Emblem:
    """A small drawing made elsewhere, such as a flag: the text of an SVG, stretched to ``box``."""

    box: Rect
    svg: str


@dataclass(frozen=True, slots=True)
class Placed:
    """A whole drawing put on another: moved, turned or scaled, and clipped to ``clip``.

    ``clip`` is in the outer drawing's space.
    """

    drawing: Drawing
    transform: Affine = Affine()
    clip: Rect | None = None


Item = Text | Shape | Picture | Emblem | Placed


@dataclass(frozen=True, slots=True)
class Drawing:
    """A page, a sheet side, a map: anything that ends on paper or screen."""

    label: str
    size: Size
    bleed: float
    items: tuple[Item, ...]

    @property
    def trim_box(self) -> Rect:
        """The page after trimming."""
        return Rect(0.0, 0.0, self.size.width, self.size.height)

    @property
    def media_box(self) -> Rect:
        """The page with its bleed."""
        return self.trim_box.grown(self.bleed)
