"""What a map is drawn from, and what comes of it. Maps know nothing of trips and books."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect, Size
from wayfold.base.world import LonLat
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Paragraph

if TYPE_CHECKING:
    from shapely import MultiPolygon


class WidthMeasurer(Protocol):
    """Says how wide each paragraph is on one line, in mm. The typesetter gives it."""

    def __call__(self, lines: tuple[Paragraph, ...], /) -> tuple[float, ...]:
        """Give one width in mm for each line."""
        ...


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """A country's land in longitude and latitude (degrees, WGS84), cut at the date line.

    ``code`` is its ISO 3166-1 alpha-2 code, or "" for land without one.
    """

    code: str
    name: str
    land: MultiPolygon


@dataclass(frozen=True, slots=True)
class MapPlace:
    """A place to mark and name; ``note`` (a date, say) stands small beneath its name.

    ``flag`` is the flag (``flag.load_flag``) that stands before the name. Places of a higher
    ``weight`` keep their names where room is short.
    """

    name: str
    place: LonLat
    note: str = ""
    flag: str = ""
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class MapLeg:
    """A way between two places (indices into the map's places).

    Drawn along ``track`` where that is given, else as an arc. ``dashed`` tells ways of another
    kind (over water, say) apart.
    """

    start: int
    end: int
    track: tuple[LonLat, ...] = ()
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class MapFrame:
    """The room a map has: its size in mm, and what names and marks keep clear of.

    Land and water run to the edge and over it by ``bleed``; names and marks stay ``margin`` away
    from it, and ``fold_clear`` away from a fold at the upright x = ``fold``. ``quiet`` are parts
    of the frame (mm) that names should leave free, for they lie on something dark or busy.
    """

    size: Size
    bleed: float = 0.0
    margin: float = 8.0
    fold: float | None = None
    fold_clear: float = 5.0
    quiet: tuple[Rect, ...] = ()

    @property
    def room(self) -> Rect:
        """Where names and marks may stand."""
        return Rect(0.0, 0.0, self.size.width, self.size.height).grown(-self.margin)

    @property
    def media(self) -> Rect:
        """The frame with its bleed."""
        return Rect(0.0, 0.0, self.size.width, self.size.height).grown(self.bleed)


@dataclass(frozen=True, slots=True)
class DrawnMap:
    """A map, its scale (1 : ``scale``), its projection, and what is to be said about it."""

    drawing: Drawing
    scale: float
    projection: str
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """One numbered place of a city map."""

    number: int
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class CityMap:
    """A city map, its key in the order of the numbers, and the line its data's licence asks for."""

    drawn: DrawnMap
    key: tuple[KeyEntry, ...]
    credit: str
