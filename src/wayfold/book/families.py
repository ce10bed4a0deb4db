"""The layout families of pictures, as plain data: a person may add their own."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.base.geometry import Rect


class Arrange(enum.StrEnum):
    """How a family lays its pictures."""

    ALONE = "alone"
    """One picture with white all round."""
    BLED = "bled"
    """One picture over the whole page and its bleed."""
    BAND = "band"
    """One wide picture from edge to edge of its page, white above and below."""
    ACROSS = "across"
    """One picture over two facing pages, bled off at the sides."""
    REACHING = "reaching"
    """One picture bled off at one fore-edge, that reaches over the fold into the facing page."""
    SLICED = "sliced"
    """Pictures side by side and stacked, all but whole, a gap apart."""
    SCATTERED = "scattered"
    """Pictures with much white between them, on lines of their own."""
    STRIP = "strip"
    """Pictures of one scene in a row, a hairline apart."""
    STACK = "stack"
    """Panoramas of one width, one above the other."""
    ONE_AND_REST = "one-and-rest"
    """One picture large on its page, the others together on the page that faces it."""
    PLACES = "places"
    """Each picture in a place that the family names."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a picture lies: fractions of the picture area of page 1 or 2 of the block.

    The picture stands whole in ``box``, as large as that allows, in its middle; ``fills`` crops
    it to the box where that costs nothing that matters.
    """

    box: Rect
    page: int = 1
    fills: bool = False


@dataclass(frozen=True, slots=True)
class Family:
    """One way to lay ``least`` to ``most`` pictures on ``pages`` pages (two: facing ones).

    ``worth`` says how well it suits as a rule (1 = best); the pictures at hand add or take from
    it. ``size`` is a part of the usual size; every picture's shape (width over height) lies between
    ``narrowest`` and ``widest``. ``scene`` families take pictures of one scene only.
    """

    name: str
    arrange: Arrange
    least: int = 1
    most: int = 1
    pages: int = 1
    worth: float = 0.9
    size: float = 1.0
    narrowest: float = 0.0
    widest: float = 100.0
    scene: bool = False
    places: tuple[Place, ...] = ()


SHIPPED: tuple[Family, ...] = (
    Family("across", Arrange.ACROSS, pages=2, worth=1.0),
    Family("reaching", Arrange.REACHING, pages=2, worth=0.93, narrowest=1.2, widest=1.9),
    Family("bled", Arrange.BLED, worth=0.98),
    Family("band", Arrange.BAND, worth=1.0, narrowest=2.0),
    Family("framed", Arrange.ALONE, worth=0.97),
    Family("small", Arrange.ALONE, worth=0.8, size=0.66, widest=1.9),
    Family("quiet", Arrange.ALONE, worth=0.66, size=0.45, widest=1.9),
    Family("group", Arrange.SLICED, 2, 9, worth=0.9),
    Family("facing", Arrange.SLICED, 2, 18, pages=2, worth=0.9),
    Family("one-and-rest", Arrange.ONE_AND_REST, 2, 6, pages=2, worth=0.86),
    Family("scattered", Arrange.SCATTERED, 2, 5, worth=0.82),
    Family("scattered-facing", Arrange.SCATTERED, 4, 8, pages=2, worth=0.84),
    Family("strip", Arrange.STRIP, 3, 7, worth=1.0, scene=True),
    Family("panoramas", Arrange.STACK, 2, 3, worth=1.0, narrowest=2.0),
)
"""The families that come with the program; others of one of these names replace them."""


def list_families(*others: tuple[Family, ...]) -> tuple[Family, ...]:
    """Give the families at hand: the shipped ones, changed and added to by each of ``others``.

    Of two of one name that of the later is taken.
    """
    named = {family.name: family for families in (SHIPPED, *others) for family in families}
    return tuple(named.values())
