"""A translucent paper measured from a scan of it over white and over black."""

from __future__ import annotations

from wayfold.base.errors import UserError
from wayfold.drawing.contrast import linearise
from wayfold.pages.see_through import PAPER, Sheet, measure_sheet, sharpness_through

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


def see_detail(gap: float) -> dict[str, float]:
    """Give how much contrast (0-1) is left of text and of shapes under a sheet ``gap`` mm off."""
    return {
        "letters": round(sharpness_through(LETTERS, gap), 3),
        "shapes": round(sharpness_through(SHAPES, gap), 3),
    }


_ASK = (
    "Switch off all corrections of the scanner, lay the sheet half over a white and half over a "
    "black patch, and read the four greys: white, black, white covered, black covered."
)
