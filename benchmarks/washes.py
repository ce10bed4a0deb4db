"""Painting washes: processor seconds at the sizes that pages have.

Run: python -m benchmarks.washes
"""

from __future__ import annotations

import statistics
import time
from dataclasses import replace

from benchmarks.report import describe_machine, write_part
from wayfold.base.geometry import Size
from wayfold.drawing.colour import Colour
from wayfold.washes.model import PPI, Edges, Wash
from wayfold.washes.paint import paint_wash

RUNS = 5
SIZES = (
    ("beside a text", Size(150.0, 85.0), Edges(left=True)),
    ("under a title", Size(195.0, 95.0), Edges(top=True, right=True)),
    ("a whole A4 page with its bleed", Size(216.0, 303.0), Edges(top=True, right=True)),
)


def main() -> None:
    """Measure, print and write down."""
    lines = [
        f"At {PPI:g} ppi, 40 layers each, one process; medians of {RUNS}. Goal: 1 s for a page. "
        f"{describe_machine()}",
        "",
        "| wash | mm | megapixels | processor s, median (max) |",
        "|---|--:|--:|--:|",
    ]
    for name, size, edges in SIZES:
        wash = Wash(size, edges, Colour(0xE2, 0xEC, 0xF9), "warm up")
        paint_wash(wash)
        taken = []
        for run in range(RUNS):
            start = time.process_time()
            raster = paint_wash(replace(wash, seed=str(run)))
            taken.append(time.process_time() - start)
        pixels = raster.width_px * raster.height_px / 1e6
        lines.append(
            f"| {name} | {size.width:g} × {size.height:g} | {pixels:.2f} "
            f"| {statistics.median(taken):.2f} ({max(taken):.2f}) |"
        )
    print("\n".join(lines))
    write_part("washes", lines)


if __name__ == "__main__":
    main()
