"""What is seen through a translucent sheet: two-flux theory, and two patches that measure a sheet.

All values are in linear light: 0 gives none back, 1 gives all back. P. Kubelka and F. Munk (1931),
Kubelka (1948): over a ground Rg, a sheet of reflectance R0 and transmittance T shows
R = R0 + T² Rg / (1 - R0 Rg), for light goes through, back, and to and fro between the two.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wayfold.book.materials import Translucent
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import encode_light, linearise

PAPER = 0.9
"""What white matte paper gives back (common practice: 0.85 to 0.92)."""
DARKEST = 0.04
"""What the blackest ink of a home printer gives back on such paper."""
K1_STEPS = 400
VEIL_STEPS = 50


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a sheet gives back over black, and what it lets through, each 0-1."""

    reflectance: float
    transmittance: float

    def over(self, ground: float) -> float:
        """Give what is seen of a ground that gives ``ground`` of the light back."""
        back = self.transmittance**2 * ground
        return self.reflectance + back / (1.0 - self.reflectance * ground)

    def ink_over(self, ground: float, ink: float) -> float:
        """Give what ink on the sheet gives back; ``ink`` is its luminance on white.

        The light goes through the ink twice; no ink is darker than ``DARKEST``.
        """
        return max(DARKEST, ink * self.over(ground))


def sheet_of(paper: Translucent) -> Sheet:
    """Give a book's translucent paper as a sheet."""
    return Sheet(paper.reflectance, paper.transmittance)


def measure_sheet(
    over_white: float, over_black: float, white: float = PAPER, black: float = DARKEST
) -> Sheet:
    """Give the sheet of two patches scanned through it, ``white`` and ``black`` being bare.

    All four are in linear light, 0-1. With ``black`` 0 it is the formula of ISO 22891. Raises
    ValueError where no sheet shows such values.
    """
    if not (0.0 <= black < white <= 1.0 and 0.0 <= over_black < over_white <= 1.0):
        raise ValueError("the white patch must be lighter than the black one, bare and covered")
    if black == 0.0:
        reflectance = over_black
    else:
        above = over_black / black - over_white / white
        below = (over_black + 1.0 / black) - (over_white + 1.0 / white)
        reflectance = above / below
    through = (over_white - reflectance) * (1.0 / white - reflectance)
    if not 0.0 <= reflectance < 1.0 or through < 0.0:
        raise ValueError("no sheet shows a white and a black patch like that; scan them again")
    return Sheet(reflectance, math.sqrt(through))


def light_of(shown: float) -> float:
    """Give what a page gives back where a screen shows ``shown`` (0 black, 1 its white paper)."""
    return DARKEST + (PAPER - DARKEST) * shown


def veil_of(sheet: Sheet) -> Colour:
    """Give the translucent grey that makes a screen show a page as the sheet does.

    Screens and printers lay colours over each other in sRGB signals, where the theory's curve is
    bent; a grey over all can only follow it straight. So white paper is met exactly, and of the
    greys down to black the one taken whose squared error is least.
    """

    def show(signal: float) -> float:
        seen = sheet.over(light_of(linearise(signal)))
        return encode_light((seen - DARKEST) / (PAPER - DARKEST))

    white = show(1.0)
    away = [1.0 - i / VEIL_STEPS for i in range(VEIL_STEPS + 1)]
    slope = sum(a * (white - show(1.0 - a)) for a in away) / sum(a * a for a in away)
    opacity = 1.0 - slope
    grey = min(255, round(255 * (white - slope) / opacity))
    return Colour(grey, grey, grey, round(opacity, 3))


def sharpness_through(per_mm: float, gap: float) -> float:
    """Give how much contrast of a pattern is left through a diffuser ``gap`` mm above it, 0-1.

    ``per_mm`` is the pattern in pairs of lines a millimetre. The modulation transfer of an ideal
    diffuser is x K1(x), x = 2 pi f z: its point spread is z² / (pi (rho² + z²)²).
    """
    x = 2.0 * math.pi * per_mm * gap
    return 1.0 if x < 1e-9 else x * bessel_k1(x)


def bessel_k1(x: float) -> float:
    """Give the modified Bessel function K1 of x > 0.

    Integral of exp(-x cosh t) cosh t over t from 0 on (Abramowitz and Stegun 9.6.24), by the
    trapezium rule, which is exact to rounding for a function that falls off like this.
    """
    if x <= 0.0:
        raise ValueError("K1 is for numbers above 0")
    end = math.acosh(1.0 + 745.0 / x)
    step = end / K1_STEPS
    total = 0.5 * math.exp(-x)
    for i in range(1, K1_STEPS + 1):
        cosh = math.cosh(i * step)
        total += math.exp(-x * cosh) * cosh
    return total * step
