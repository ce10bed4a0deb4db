"""How maps look: few means, and nothing finer than a home printer can hold."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.drawing.colour import Colour
from wayfold.drawing.text import Align, TextStyle

FINEST_LINE = 0.15
"""No line is drawn thinner (mm): home inkjets hold 0.15-0.25 mm (common practice)."""
SMALLEST_TYPE_PT = 6.0
"""No type is set smaller (Lexikon der Geoinformatik, Universität Rostock: smallest map type)."""


@dataclass(frozen=True, slots=True)
class MapStyle:
    """Colours, line widths (mm) and type of all maps of one book.

    None for a tint leaves the paper white. Lines thinner than ``FINEST_LINE`` and type smaller
    than ``SMALLEST_TYPE_PT`` are refused with a ValueError.
    """

    serif: str = "EB Garamond"
    sans: str = "Source Sans 3"
    ink: Colour = Colour(0x26, 0x23, 0x20)
    quiet_ink: Colour = Colour(0x6B, 0x66, 0x60)
    accent: Colour = Colour(0x7A, 0x4A, 0x32)
    land: Colour | None = Colour(0xE6, 0xDE, 0xCF)
    land_beyond: Colour | None = Colour(0xF3, 0xEE, 0xE5)
    water: Colour | None = None
    park: Colour | None = Colour(0xDD, 0xDE, 0xC4)
    water_ink: Colour = Colour(0x6F, 0x82, 0x8C)
    inland_water: Colour = Colour(0xC9, 0xD6, 0xD8)
    border: Colour = Colour(0xA0, 0x99, 0x8D)
    border_width: float = 0.2
    coast_width: float = 0.0
    """The coastline; 0 draws none, for the tint alone shows it."""
    route_width: float = 0.45
    hairline: float = 0.2
    """The scale bar and the edge of an inset."""
    ring: float = 1.4
    ring_width: float = 0.3
    name_pt: float = 9.5
    note_pt: float = 7.4
    country_pt: float = 8.6
    water_pt: float = 8.6
    scale_pt: float = 7.0
    scale_bar: bool = True
    language: str = "en"

    def __post_init__(self) -> None:
        widths = (self.border_width, self.coast_width or FINEST_LINE, self.route_width)
        if min(*widths, self.ring_width, self.hairline) < FINEST_LINE:
            raise ValueError(f"a line thinner than {FINEST_LINE} mm does not print")
        sizes = (self.name_pt, self.note_pt, self.country_pt, self.water_pt, self.scale_pt)
        if min(sizes) < SMALLEST_TYPE_PT:
            raise ValueError(f"type smaller than {SMALLEST_TYPE_PT} pt cannot be read")

    def set_text(
        self,
        size_pt: float,
        colour: Colour,
        *,
        sans: bool = False,
        italic: bool = False,
        tracking: float = 0.0,
        small_caps: bool = False,
        align: Align = Align.LEFT,
        weight: int = 400,
    ) -> TextStyle:
        """Give a style for one-line texts."""
        return TextStyle(
            family=self.sans if sans else self.serif,
            size_pt=size_pt,
            leading_pt=size_pt * 1.2,
            colour=colour,
            align=align,
            italic=italic,
            tracking=tracking,
            small_caps=small_caps,
            language=self.language,
            weight=weight,
        )


def style_interleaf(ink: Colour, *, serif: str = "EB Garamond") -> MapStyle:
    """Give the style for a translucent leaf: one ink, outlines only, larger type, no fine line."""
    return MapStyle(
        serif=serif,
        sans=serif,
        ink=ink,
        quiet_ink=ink,
        accent=ink,
        land=None,
        land_beyond=None,
        park=None,
        inland_water=ink,
        water_ink=ink,
        border=ink,
        border_width=0.25,
        coast_width=0.25,
        route_width=0.35,
        ring=1.6,
        ring_width=0.35,
        name_pt=11.0,
        note_pt=9.5,
        country_pt=11.0,
        water_pt=9.5,
        hairline=0.25,
        scale_pt=9.5,
        # Over a picture it is one mark more to be read, and nobody measures on a title.
        scale_bar=False,
    )
