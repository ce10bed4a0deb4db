"""A translucent paper measured from a scan of it over white and over black."""

from __future__ import annotations

from wayfold.base.errors import UserError
from wayfold.book.materials import Translucent
from wayfold.book.see_through import (
    PAPER,
    Sheet,
    measure_haze,
    measure_sheet,
    sharpness_through,
    spread_of,
)
from wayfold.drawing.contrast import linearise

LETTERS = 2.0
"""Pairs of lines a millimetre that text of 10 pt needs (x-height 1.4 mm; common practice)."""
SHAPES = 0.1
"""The same of shapes 5 mm wide."""


def measure_paper(white: float, black: float, over_white: float, over_black: float) -> Sheet:
    """Give the sheet of four greys (0-255, sRGB) read off one scan: bare, then covered.

    A scanner sets its own white, so the bare white paper is taken to give ``PAPER`` back and the
    rest is measured against it. Raises UserError where no sheet shows such greys.
    """
    greys = (white, black, over_white, over_black)
    if not all(0 <= v <= 255 for v in greys) or white <= 0:
        raise UserError("The four greys are numbers from 0 to 255.", remedy=_ASK)
    by = PAPER / linearise(white / 255)
    bare, ink, light, dark = (linearise(v / 255) * by for v in greys)
    try:
        sheet = measure_sheet(light, dark, bare, ink)
    except ValueError as error:
        raise UserError(f"These greys cannot be: {error}.", remedy=_ASK) from error
    if sheet.reflectance + sheet.transmittance > 1.0:
        raise UserError(
            f"A sheet that gives back {sheet.reflectance:.2f} and lets through "
            f"{sheet.transmittance:.2f} would make light.",
            remedy=_ASK,
        )
    return sheet


def find_haze(edge: float, over: float) -> float:
    """Give the haze (degrees) of a sheet ``over`` mm above an edge that looks ``edge`` mm wide.

    Raises UserError where no sheet blurs like that.
    """
    try:
        return measure_haze(edge, over)
    except ValueError as error:
        raise UserError(
            f"An edge {edge:g} mm wide cannot be: {error}.",
            remedy="Lay the sheet on two boards some millimetres thick over a black patch, scan or "
            "photograph it, and measure how wide the grey between black and white is.",
        ) from error


def see_detail(gap: float, haze_deg: float = Translucent().haze_deg) -> dict[str, float]:
    """Give how much contrast (0-1) is left of text and of shapes under a sheet ``gap`` mm off."""
    spread = spread_of(gap, haze_deg)
    return {
        "letters": round(sharpness_through(LETTERS, spread), 3),
        "shapes": round(sharpness_through(SHAPES, spread), 3),
    }


_ASK = (
    "Switch off all corrections of the scanner, lay the sheet half over a white and half over a "
    "black patch, and read the four greys: white, black, white covered, black covered."
)
