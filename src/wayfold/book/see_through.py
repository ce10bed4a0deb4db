"""What is seen through a translucent sheet: two-flux theory, and what its gap blurs.

All values are in linear light: 0 gives none back, 1 gives all back. P. Kubelka and F. Munk (1931),
Kubelka (1948): over a ground Rg, a sheet of reflectance R0 and transmittance T shows
R = R0 + T² Rg / (1 - R0 Rg), for light goes through, back, and to and fro between the two. What
lies off the sheet is blurred as well: light that is scattered many times by small angles spreads
as a Gaussian does (Rossi and Greisen, 1941, after Fermi), wider with the gap it crosses.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from wayfold.book.materials import Translucent
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import encode_light, linearise

PAPER = 0.9
"""What white matte paper gives back (common practice: 0.85 to 0.92)."""
DARKEST = 0.04
"""What the blackest ink of a home printer gives back on such paper."""
WIDEST_DEG = 45.0
"""The haze of an ideal diffuser, the worst there is."""
VEIL_STEPS = 50
HALF = math.sqrt(2.0 * math.log(2.0))
"""Half of a round Gaussian lies within so many times its standard deviation."""
EDGE = 2.0 * NormalDist().inv_cdf(0.9)
"""From 10 to 90 % an edge blurred by a Gaussian takes so many times its standard deviation."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a sheet gives back over black, and what it lets through, each 0-1."""

    reflectance: float
    transmittance: float
    spread: float = 0.0
    """Standard deviation (mm) of what its gap makes of a point of the page beneath."""

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
    return Sheet(paper.reflectance, paper.transmittance, spread_of(paper.gap, paper.haze_deg))


def spread_of(gap: float, haze_deg: float) -> float:
    """Give the standard deviation (mm) of the blur of a sheet that lies ``gap`` mm off.

    Half of the light that the sheet scatters stays within ``haze_deg`` of straight on; of an ideal
    diffuser, whose point spread is z² / (pi (rho² + z²)²), that is 45 degrees.
    """
    return gap * math.tan(math.radians(haze_deg)) / HALF


def measure_haze(edge: float, gap: float) -> float:
    """Give the haze (degrees) of a sheet through which an edge takes ``edge`` mm, 10 to 90 %.

    The sheet lies ``gap`` mm over the edge. Raises ValueError where no sheet shows that.
    """
    haze = math.degrees(math.atan2(HALF * edge / EDGE, gap))
    if not 0.0 < haze <= WIDEST_DEG:
        raise ValueError("no sheet blurs an edge like that")
    return haze


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


def show_through(sheet: Sheet, signal: float) -> float:
    """Give the sRGB signal (0-1) that shows what a sheet leaves of a page's ``signal``."""
    seen = sheet.over(light_of(linearise(signal)))
    return encode_light((seen - DARKEST) / (PAPER - DARKEST))


def veil_of(sheet: Sheet) -> Colour:
    """Give the translucent grey that makes a screen show a page as the sheet does.

    It stands for the leaf in small drawings. Colours are laid over each other in sRGB signals,
    where the theory's curve is bent; a grey over all can only follow it straight. So white paper
    is met exactly, and of the greys down to black the one taken whose squared error is least.
    """
    white = show_through(sheet, 1.0)
    away = [1.0 - i / VEIL_STEPS for i in range(VEIL_STEPS + 1)]
    slope = sum(a * (white - show_through(sheet, 1.0 - a)) for a in away) / sum(a * a for a in away)
    opacity = 1.0 - slope
    grey = min(255, round(255 * (white - slope) / opacity))
    return Colour(grey, grey, grey, round(opacity, 3))


def sharpness_through(per_mm: float, spread: float) -> float:
    """Give how much contrast is left of a pattern of so many pairs of lines a millimetre, 0-1.

    It is seen through a sheet whose gap spreads a point by ``spread`` (mm): exp(-2 (pi f s)²), the
    modulation transfer of a Gaussian.
    """
    return math.exp(-2.0 * (math.pi * per_mm * spread) ** 2)
