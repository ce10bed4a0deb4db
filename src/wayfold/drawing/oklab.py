"""OKLab, where equal steps look about equal, and its cylinder OKLCH: lightness, chroma, hue.

Formulas and numbers: B. Ottosson, "A perceptual color space for image processing" (2020), as CSS
Color 4, 9.2, takes them up. Lightness runs from 0 (black) to 1 (white).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import encode_light, linearise

_Rows = tuple[tuple[float, float, float], ...]
_TO_CONES: _Rows = (
    (0.4122214708, 0.5363325363, 0.0514459929),
    (0.2119034982, 0.6806995451, 0.1073969566),
    (0.0883024619, 0.2817188376, 0.6299787005),
)
_TO_LAB: _Rows = (
    (0.2104542553, 0.7936177850, -0.0040720468),
    (1.9779984951, -2.4285922050, 0.4505937099),
    (0.0259040371, 0.7827717662, -0.8086757660),
)
_FROM_LAB: _Rows = (
    (1.0, 0.3963377774, 0.2158037573),
    (1.0, -0.1055613458, -0.0638541728),
    (1.0, -0.0894841775, -1.2914855480),
)
_FROM_CONES: _Rows = (
    (4.0767416621, -3.3077115913, 0.2309699292),
    (-1.2684380046, 2.6097574011, -0.3413193965),
    (-0.0041960863, -0.7034186147, 1.7076147010),
)
_IN_GAMUT = 1e-4
"""So far a light may lie outside 0 to 1: rounding to 8 bits takes it back."""


@dataclass(frozen=True, slots=True)
class Oklab:
    """A colour by its lightness and its two opponents: ``a`` green to red, ``b`` blue to yellow."""

    lightness: float
    a: float
    b: float

    @property
    def chroma(self) -> float:
        """Distance from grey."""
        return math.hypot(self.a, self.b)

    @property
    def hue_deg(self) -> float:
        """Hue as an angle, 0 to 360; of a grey it means nothing."""
        return math.degrees(math.atan2(self.b, self.a)) % 360.0

    def distance(self, other: Oklab) -> float:
        """Give ΔE_OK, the plain distance; about 0.02 can just be seen."""
        return math.dist((self.lightness, self.a, self.b), (other.lightness, other.a, other.b))


def read_oklab(colour: Colour) -> Oklab:
    """Give a colour of ink in OKLab, its opacity left out."""
    light = tuple(linearise(v / 255) for v in (colour.red, colour.green, colour.blue))
    cones = tuple(math.cbrt(v) for v in _apply(_TO_CONES, light))
    return Oklab(*_apply(_TO_LAB, cones))


def make_oklch(lightness: float, chroma: float, hue_deg: float) -> Oklab:
    """Give a colour by lightness, chroma and hue."""
    hue = math.radians(hue_deg)
    return Oklab(lightness, chroma * math.cos(hue), chroma * math.sin(hue))


def make_colour(wanted: Oklab) -> Colour:
    """Give the sRGB colour next to ``wanted``: of its lightness and hue, of less chroma if need be.

    What sRGB has not is reached by lowering the chroma alone. Lightness is cut to 0 to 1.
    """
    lightness = min(max(wanted.lightness, 0.0), 1.0)
    low, high = 0.0, 1.0
    light = _light_of(Oklab(lightness, wanted.a, wanted.b))
    if not _is_in_gamut(light):
        for _ in range(24):
            middle = (low + high) / 2
            tried = _light_of(Oklab(lightness, wanted.a * middle, wanted.b * middle))
            low, high = (middle, high) if _is_in_gamut(tried) else (low, middle)
        light = _light_of(Oklab(lightness, wanted.a * low, wanted.b * low))
    red, green, blue = (round(255 * encode_light(min(max(v, 0.0), 1.0))) for v in light)
    return Colour(red, green, blue)


def turn_between(from_deg: float, to_deg: float) -> float:
    """Give the shorter way from one hue to another: -180 up to 180 degrees."""
    return (to_deg - from_deg + 180.0) % 360.0 - 180.0


def _light_of(colour: Oklab) -> tuple[float, float, float]:
    roots = _apply(_FROM_LAB, (colour.lightness, colour.a, colour.b))
    return _apply(_FROM_CONES, tuple(v**3 for v in roots))


def _is_in_gamut(light: tuple[float, float, float]) -> bool:
    return all(-_IN_GAMUT <= v <= 1.0 + _IN_GAMUT for v in light)


def _apply(rows: _Rows, of: tuple[float, ...]) -> tuple[float, float, float]:
    one, two, three = (sum(f * v for f, v in zip(row, of, strict=True)) for row in rows)
    return one, two, three
