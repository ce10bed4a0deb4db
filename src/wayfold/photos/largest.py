"""How large a picture may be printed before its pixels, its softness or its grain are seen.

Three limits, and the narrowest counts. Reckoned only, from what is known of the picture: cheap
enough to be asked for every way a page can be laid.

- Pixels: an eye of one minute of arc resolves 8732 / distance in cm pixels an inch (geometry).
- Sharpness: an edge wider than a sharp one (1.4 px) stands for so many times fewer pixels.
- Grain: what of it passes an eye whose sensitivity is even up to 8 cycles a degree and falls by e
  every 16.6 beyond (a proposal fitted to filtered white noise; no single source). Noise of many
  pixels to the degree averages out, so grain shows the more the larger the print.
"""

from __future__ import annotations

import enum
import math
from dataclasses import dataclass

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_px, ppi_of
from wayfold.book.materials import Surface
from wayfold.photos.look import Look
from wayfold.photos.model import Photo
from wayfold.photos.sharpness import SHARP_PX

WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
USUAL_DISTANCE = 350.0
"""mm from the eye to a book that is read."""
UNCOATED_PPI = 200.0 / 240.0
"""Ink spreads on uncoated paper and hides fine detail: fewer pixels do (common practice)."""
EVEN_CYCLES, FALL_CYCLES = 8.0, 16.6
"""Cycles a degree."""
STEPS = 40


class Limit(enum.StrEnum):
    """What keeps a print from being larger."""

    PIXELS = "pixels"
    SHARPNESS = "sharpness"
    GRAIN = "grain"


class Demand(enum.Enum):
    """How good a print must look: pixels an inch at the usual distance, and visible grain in L*."""

    GOOD = (240.0, 0.8)
    FAIR = (180.0, 1.5)
    LEAST = (150.0, 2.5)
    SOFT = (100.0, 2.5)
    """Detail of 12 cycles a degree, the finest that sharpness is judged by (E. Granger and K.
    Cupery, Photographic Science and Engineering 16, 1972): what has less looks soft at a glance."""

    @property
    def ppi(self) -> float:
        """Pixels an inch wanted at ``USUAL_DISTANCE``."""
        return self.value[0]

    @property
    def grain(self) -> float:
        """The grain (L*, standard deviation as seen) that passes."""
        return self.value[1]


@dataclass(frozen=True, slots=True)
class LargestPrint:
    """The largest width (mm) of a part of a picture, and what keeps it from being larger."""

    width: float
    limit: Limit


def largest_print(
    photo: Photo,
    crop: Rect = WHOLE,
    *,
    distance: float = USUAL_DISTANCE,
    surface: Surface = Surface.COATED,
    demand: Demand = Demand.GOOD,
) -> LargestPrint:
    """Give how wide ``crop`` (fractions of the upright picture) may be printed.

    ``distance`` (mm) is that of the eye. What nobody has looked at is limited by its pixels.
    """
    limits = list_limits(photo, crop, distance=distance, surface=surface, demand=demand)
    limit = min(limits, key=lambda one: limits[one])
    return LargestPrint(limits[limit], limit)


def list_limits(
    photo: Photo, crop: Rect, *, distance: float, surface: Surface, demand: Demand
) -> dict[Limit, float]:
    """Give the widths (mm) that each limit allows; for the rest as ``largest_print``."""
    width_px = crop.width * photo.size.width_px
    ppi = demand.ppi * USUAL_DISTANCE / distance
    if surface is Surface.UNCOATED:
        ppi *= UNCOATED_PPI
    limits = {Limit.PIXELS: mm_from_px(width_px, ppi)}
    if photo.look is not None:
        share = count_sharp(photo.look)
        if share < 1:
            limits[Limit.SHARPNESS] = limits[Limit.PIXELS] * share
        longest_px = max(photo.size.width_px, photo.size.height_px)
        noise_px = width_px * photo.look.noise_px / longest_px
        limits[Limit.GRAIN] = _limit_by_grain(photo.look.noise, noise_px, distance, demand.grain)
    return limits


def count_sharp(look: Look) -> float:
    """Give the share of a picture's pixels, along a line, that its sharpness is worth (0-1)."""
    return min(1.0, SHARP_PX / max(look.edge_px, 1e-6))


def see_grain(noise: float, ppi: float, distance: float) -> float:
    """Give how strong (L*) white noise of a pixel looks at ``ppi`` from ``distance`` (mm).

    The square of frequencies that pixels carry is taken as the disk of its area, over which the
    eye's sensitivity, squared, is averaged.
    """
    degree = 2.0 * distance * math.tan(math.radians(0.5))
    nyquist = degree * px_per_mm(ppi) / 2.0
    disk = 2.0 * nyquist / math.sqrt(math.pi)
    if disk <= EVEN_CYCLES:
        return noise
    fall = 2.0 / FALL_CYCLES
    ring = (EVEN_CYCLES / fall + 1 / fall**2) - (disk / fall + 1 / fall**2) * math.exp(
        -fall * (disk - EVEN_CYCLES)
    )
    return noise * math.sqrt((EVEN_CYCLES**2 + 2.0 * ring) / disk**2)


def px_per_mm(ppi: float) -> float:
    """Give pixels a mm."""
    return 1.0 / mm_from_px(1.0, ppi)


def _limit_by_grain(noise: float, noise_px: float, distance: float, most: float) -> float:
    """Give the width (mm) at which ``noise_px`` pixels of noise look as strong as ``most``."""
    if noise <= most:
        return math.inf
    small, large = 1.0, 1.0
    while see_grain(noise, ppi_of(noise_px, large), distance) < most:
        small, large = large, 2.0 * large
    for _ in range(STEPS):
        middle = (small + large) / 2.0
        if see_grain(noise, ppi_of(noise_px, middle), distance) < most:
            small = middle
        else:
            large = middle
    return small
