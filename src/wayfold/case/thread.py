"""Thread: how thick it is by its number, how much of it a book takes."""

from __future__ import annotations

import math

from wayfold.base.units import UM_PER_MM
from wayfold.book.casing import Sewing

TEX_PER_LEA = 1653.5
"""Grams a kilometre of one-lea linen: 300-yard skeins to the pound, as English lea counts them."""
FLAX_G_CM3 = 0.9
"""Density of unwaxed flax thread as it is twisted (derived; measure a thread where it matters)."""
SPARE = 0.15
"""Added to the length of the spine for every gathering: knots, links and ends, 10 to 20 %."""
NEEDLEFUL = 760.0
"""About an arm's length (30 in): more tangles (common bench advice)."""


def tex_of(lea: float, ply: int) -> float:
    """Give the mass of a thread in tex (g/km): 1653.5 ply / lea."""
    return TEX_PER_LEA * ply / lea


def estimate_diameter(lea: float, ply: int) -> float:
    """Give about the diameter (mm) of a linen thread: that of a round rod of its mass."""
    grams_per_m = tex_of(lea, ply) / 1000
    area_mm2 = grams_per_m / FLAX_G_CM3
    return math.sqrt(4 * area_mm2 / math.pi)


def thread_diameter(sewing: Sewing) -> float:
    """Give the diameter (mm) of the thread: the measured one where there is one."""
    if sewing.thread is not None:
        return sewing.thread
    return estimate_diameter(sewing.thread_lea, sewing.thread_ply)


def measure_swell(sewing: Sewing, gatherings: int) -> float:
    """Give what the threads add (mm) to the spine: one lies in the fold of every gathering."""
    return sewing.swell_factor * thread_diameter(sewing) * gatherings


def thread_length(height: float, gatherings: int) -> float:
    """Give the thread (mm) that sewing all along takes: the height for each gathering, and 15 %.

    A single gathering takes three heights and one for the knots (a book-repair rule).
    """
    if gatherings == 1:
        return 4 * height
    return gatherings * height * (1 + SPARE)


def paper_thickness(grammage_gsm: float, bulk_cm3_g: float) -> float:
    """Give a paper's thickness (mm): grammage times bulk (ISO 534: bulk is thickness/grammage)."""
    return grammage_gsm * bulk_cm3_g / UM_PER_MM
