"""How thick the text block is: reckoned from its leaves and threads, or measured, which wins."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.base.units import mm_from_um
from wayfold.book.casing import BenchChoices
from wayfold.book.materials import Source
from wayfold.book.state import Book
from wayfold.case.pocket import count_strips, pile_thickness
from wayfold.case.thread import measure_swell, thread_diameter
from wayfold.plan.model import Plan

ENDPAPER_LEAVES = 4
"""A folded pair at each end."""
GLUE_AND_MULL = 0.6
"""Spine glue, mull and a paper lining together (mm); from memory, and one reason to measure."""
CALIPER_DOUBT = {Source.MEASURED: 0.02, Source.MAKER: 0.05, Source.ESTIMATED: 0.10}
"""How far a caliper may be off: makers allow about 5 % within a lot, and one grammage differs by
some 10 % between makers."""
SWELL_LOW, SWELL_HIGH = 0.3, 1.0


@dataclass(frozen=True, slots=True)
class Layer:
    """Leaves of one paper: how many, how thick each (µm), and how well that is known."""

    name: str
    leaves: int
    caliper_um: float
    source: Source

    @property
    def thickness(self) -> float:
        """All of them together (mm)."""
        return self.leaves * mm_from_um(self.caliper_um)


@dataclass(frozen=True, slots=True)
class SewnBlock:
    """The sewn block before it is cased in: the page's size and all that makes its thickness.

    ``thread`` is the thread's diameter, ``swell`` what the threads add at the spine, between
    ``swell_low`` and ``swell_high``; ``strips`` what makes up for the pocket; ``measured`` the
    maker's own measure of the spine.
    """

    page: Size
    gatherings: int
    layers: tuple[Layer, ...]
    pressed_factor: float
    thread: float
    swell: float
    swell_low: float
    swell_high: float
    strips: float
    measured: float | None

    @property
    def leaves(self) -> float:
        """The pressed leaves (mm), without threads: the block at its fore-edge."""
        return sum(layer.thickness for layer in self.layers) * self.pressed_factor

    @property
    def estimate(self) -> float:
        """The reckoned thickness at the spine (mm)."""
        return self.leaves + self.swell + self.strips + GLUE_AND_MULL

    @property
    def range(self) -> tuple[float, float]:
        """Between what the spine may well turn out (mm)."""
        doubt = sum(layer.thickness * CALIPER_DOUBT[layer.source] for layer in self.layers)
        firm = self.leaves + self.strips + GLUE_AND_MULL
        return firm + self.swell_low - doubt, firm + self.swell_high + doubt

    @property
    def spine(self) -> float:
        """The thickness (mm) that the case is made for: the measured one where there is one."""
        return self.estimate if self.measured is None else self.measured


def reckon_block(book: Book, plan: Plan) -> SewnBlock:
    """Give the block that a book's sheets will make."""
    choices: BenchChoices = book.bench
    casing, sewing = choices.casing, choices.sewing
    count = len(plan.gatherings)
    diameter = thread_diameter(sewing)
    layers = [
        Layer(
            book.paper.name,
            2 * sum(g.sheets for g in plan.gatherings),
            book.paper.caliper_um,
            book.paper.caliper_source,
        ),
        Layer("endpapers", ENDPAPER_LEAVES, casing.endpaper_um, Source.ESTIMATED),
    ]
    if veils := sum(len(interleaf.ends) for interleaf in plan.interleaves):
        sheet = book.translucent
        layers.insert(1, Layer(sheet.name, veils, sheet.caliper_um, sheet.caliper_source))
    swell = measure_swell(sewing, count)
    return SewnBlock(
        page=book.trim,
        gatherings=count,
        layers=tuple(layers),
        pressed_factor=casing.pressed_factor,
        thread=diameter,
        swell=swell,
        swell_low=min(swell, SWELL_LOW * diameter * count),
        swell_high=max(swell, SWELL_HIGH * diameter * count),
        strips=count_strips(pile_thickness(choices.pocket), choices.pocket.strip_um)
        * mm_from_um(choices.pocket.strip_um),
        measured=casing.block,
    )
