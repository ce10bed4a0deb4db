"""A style: the values that make every page of a book look like one hand made it."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.book.families import Family
from wayfold.drawing.colour import Colour


@dataclass(frozen=True, slots=True)
class Margins:
    """Distances (mm) from the trim; ``inner`` is at the fold, ``outer`` at the fore-edge."""

    inner: float
    outer: float
    head: float
    foot: float


class Canon(enum.StrEnum):
    """An old rule that gives the margins of text pages from the page itself.

    Both are told by J. Tschichold, The Form of the Book.
    """

    NINTHS = "ninths"
    """A ninth of the width inside and of the height above, twice that outside and below."""
    TWO_THREE_FOUR_SIX = "2:3:4:6"
    """Inner, head, outer and foot as 2:3:4:6, the inner a ninth of the width."""

    def margins(self, trim: Size) -> Margins:
        """Give the margins (mm) on a page; on one of 2:3 both canons are the same."""
        inner = trim.width / 9
        if self is Canon.NINTHS:
            return Margins(inner, 2 * inner, trim.height / 9, 2 * trim.height / 9)
        return Margins(inner, 2 * inner, 1.5 * inner, 3 * inner)


class Letters(enum.StrEnum):
    """The form of letters."""

    ROMAN = "roman"
    ITALIC = "italic"
    SMALL_CAPS = "small-caps"


class TitleAlign(enum.StrEnum):
    """How titles stand over the text."""

    LEFT = "left"
    CENTER = "center"


@dataclass(frozen=True, slots=True)
class TypeSize:
    """Letter size and distance of baselines, in points."""

    size_pt: float
    leading_pt: float


class Washes(enum.StrEnum):
    """Whether pages have watercolour washes."""

    NONE = "none"
    FEW = "few"


@dataclass(frozen=True, slots=True)
class Style:
    """One style; the values here are those of "garden", from which other styles differ.

    Margins that are no canon are for an A4 portrait page and scale with the trim (see layout).
    ``scale_pt`` are the sizes a book in this style may use, rising: every ``TypeSize`` has one of
    them. The baselines of running text are the grid of a page.
    """

    name: str = "garden"
    serif: str = "EB Garamond"
    sans: str = "Source Sans 3"
    picture_margins: Margins = Margins(20.0, 22.0, 22.0, 28.0)
    text_margins: Margins | Canon = Canon.NINTHS
    gap: float = 4.0
    text_measure: float = 112.0
    caption_measure: float = 62.0
    title_align: TitleAlign = TitleAlign.LEFT
    title_letters: Letters = Letters.ROMAN
    caption_letters: Letters = Letters.ITALIC
    scale_pt: tuple[float, ...] = (7.6, 8.2, 8.6, 9.0, 10.5, 15.0, 34.0)
    body: TypeSize = TypeSize(10.5, 15.0)
    caption: TypeSize = TypeSize(8.6, 11.5)
    title: TypeSize = TypeSize(34.0, 40.0)
    subtitle: TypeSize = TypeSize(15.0, 20.0)
    small: TypeSize = TypeSize(9.0, 13.0)
    running_head: TypeSize = TypeSize(8.2, 11.5)
    day_line: TypeSize = TypeSize(7.6, 11.5)
    ink: Colour = Colour(0x26, 0x23, 0x20)
    quiet_ink: Colour = Colour(0x6B, 0x66, 0x60)
    accent: Colour = Colour(0x7A, 0x4A, 0x32)
    washes: Washes = Washes.FEW
    wash_seed: int = 0
    """Another number gives other washes."""
    land: Colour = Colour(0xE6, 0xDE, 0xCF)
    """The tint of the journey's countries on maps."""
    land_beyond: Colour = Colour(0xF3, 0xEE, 0xE5)
    """That of the countries round them."""
    families: tuple[Family, ...] = ()
    """Layout families that it brings; the person's own of one of these names replace them."""
