"""Painting washes: processor seconds at the sizes that pages have.

The floor is laying as many even layers of the same size over each other, with the same library.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from benchmarks.rows import Effort, Part, Row, fit_power
from wayfold.base.geometry import Size
from wayfold.drawing.colour import Colour
from wayfold.washes.model import PPI, Edges, Wash
from wayfold.washes.paint import paint_wash

LAYERS, PAGE_GOAL_S = 40, 1.0
RUNS = {Effort.QUICK: 1, Effort.USUAL: 3, Effort.LONG: 9}
SIZES = (
    ("beside a text", Size(150.0, 85.0), Edges(left=True)),
    ("under a title", Size(195.0, 95.0), Edges(top=True, right=True)),
    ("a whole A4 page with its bleed", Size(216.0, 303.0), Edges(top=True, right=True)),
)


@dataclass(frozen=True, slots=True)
class Painted:
    """A wash of one size: processor seconds of each run, and of its floor."""

    name: str
    size: Size
    megapixels: float
    taken: list[float]
    floor: list[float]


def report(effort: Effort) -> Part:
    """Paint washes of all sizes."""
    painted = [paint(name, size, edges, RUNS[effort]) for name, size, edges in SIZES]
    page = painted[-1]
    row = Row(
        f"Wash of {page.name}",
        statistics.median(page.taken), statistics.median(page.floor),
        f"{LAYERS} even layers of the same pixels", "processor s", most=PAGE_GOAL_S,
    )  # fmt: skip
    return Part((row,), tuple(tell(painted)))


def paint(name: str, size: Size, edges: Edges, runs: int) -> Painted:
    """Paint washes of one size by turns with the floor, after one that is not counted."""
    wash = Wash(size, edges, Colour(0xE2, 0xEC, 0xF9), "warm up")
    raster = paint_wash(wash)
    taken, floor = [], []
    for run in range(runs):
        start = time.process_time()
        lay_even(raster.width_px, raster.height_px)
        floor.append(time.process_time() - start)
        start = time.process_time()
        paint_wash(replace(wash, seed=str(run)))
        taken.append(time.process_time() - start)
    return Painted(name, size, raster.width_px * raster.height_px / 1e6, taken, floor)


def lay_even(width: int, height: int) -> float:
    """Lay even layers over each other, as light passes through paint."""
    light = np.ones((height, width), np.float32)
    layer = np.full((height, width), 0.99, np.float32)
    for _ in range(LAYERS):
        light *= layer
    return float(light[0, 0])


def tell(painted: list[Painted]) -> Iterator[str]:
    yield "## Washes"
    yield ""
    yield (
        "A wash is painted once and kept; a book of nine chapters has about fifteen, painted in "
        f"two processes. At {PPI:g} ppi, {LAYERS} layers each, one process; medians of "
        f"{len(painted[0].taken)}."
    )
    yield ""
    yield "| wash | mm | megapixels | processor s, median (max) | floor s |"
    yield "|---|--:|--:|--:|--:|"
    for one in painted:
        yield (
            f"| {one.name} | {one.size.width:g} × {one.size.height:g} | {one.megapixels:.2f} "
            f"| {statistics.median(one.taken):.2f} ({max(one.taken):.2f}) "
            f"| {statistics.median(one.floor):.3f} |"
        )
    grown = fit_power([(one.megapixels, statistics.median(one.taken)) for one in painted])
    yield ""
    yield f"Growth: seconds go with pixels to the power of {grown:.2f}."
