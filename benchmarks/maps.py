"""Maps: how long names, countries and a journey take. Writes its part of docs/performance.md.

Run it with ``python -m benchmarks.maps``. Every figure is the median of several runs in one
process, after one that is not counted (outlines, fonts and libraries are then in memory).
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable

from benchmarks.report import describe_machine, write_part
from wayfold.base.geometry import Size
from wayfold.base.world import LonLat
from wayfold.drawing.colour import Colour
from wayfold.maps.labelling import Label, offer_places, place_labels
from wayfold.maps.model import DrawnMap, MapFrame, MapLeg, MapPlace
from wayfold.maps.outlines import load_outlines
from wayfold.maps.overview import draw_overview
from wayfold.maps.region import draw_region
from wayfold.maps.style import MapStyle, style_interleaf
from wayfold.typeset.engine import Typesetter

RUNS = 3
SEEDS = 12
NAMES_GOAL_S, COUNTRY_GOAL_S = 0.1, 1.0
PAGE = MapFrame(Size(210.0, 297.0), bleed=3.0, margin=14.0)
COUNTRIES = ("NO", "CL", "ID", "NZ", "FJ", "EE", "IT", "ES", "CA", "RU", "US")


def scatter_labels(count: int, width: float, height: float, seed: int) -> list[Label]:
    """Give labels of mixed widths (6-22 mm) at places drawn by lot, twelve candidates each."""
    chance = random.Random(seed)
    return [
        Label(
            offer_places(
                chance.uniform(0, width), chance.uniform(0, height), chance.uniform(6, 22), 3.4, 1.7
            ),
            chance.choice([1.0, 1.5, 2.0]),
        )
        for _ in range(count)
    ]


def clock(work: Callable[[], object], runs: int = RUNS) -> float:
    """Give the median seconds of processor time of some runs, after one that is not counted."""
    work()
    taken = []
    for _ in range(runs):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def tell_names() -> list[str]:
    """Measure the placing of names, each proven best, on pages of several densities."""
    lines = ["| names | on mm | median s | worst s | goal |", "|--:|---|--:|--:|---|"]
    for count, width, height, goal in (
        (30, 180, 240, ""),
        (60, 180, 240, f"{NAMES_GOAL_S} s"),
        (60, 120, 170, f"{NAMES_GOAL_S} s"),
        (120, 180, 240, ""),
    ):
        taken = []
        for seed in range(SEEDS):
            labels = scatter_labels(count, width, height, seed)
            taken.append(clock(lambda labels=labels: place_labels(labels), 3))  # type: ignore[misc]
        middle = statistics.median(taken)
        lines.append(f"| {count} | {width} × {height} | {middle:.3f} | {max(taken):.3f} | {goal} |")
    return lines


def tell_maps() -> list[str]:
    """Measure whole maps, warm."""
    outlines, setter = load_outlines(), Typesetter()
    widths = setter.measure_widths
    leaf = style_interleaf(Colour.of("#2f3a45"))
    lines = ["| map, A4 | median s | goal |", "|---|--:|---|"]

    def draw(code: str, style: MapStyle) -> DrawnMap:
        outline = next(o for o in outlines if o.code == code)
        spot = max(outline.land.geoms, key=lambda part: part.area).representative_point()
        places = [MapPlace("Somewhere", LonLat(float(spot.x), float(spot.y)))]
        return draw_region(code, outlines, code, places, PAGE, style, widths)

    for code in COUNTRIES:
        page = clock(lambda code=code: draw(code, MapStyle()))  # type: ignore[misc]
        inked = clock(lambda code=code: draw(code, leaf))  # type: ignore[misc]
        name = next(o.name for o in outlines if o.code == code)
        lines.append(f"| {name}, tinted | {page:.2f} | {COUNTRY_GOAL_S:.0f} s |")
        lines.append(f"| {name}, one ink | {inked:.2f} | {COUNTRY_GOAL_S:.0f} s |")
    cities = ((48.85, 2.35), (45.76, 4.84), (45.07, 7.69), (45.46, 9.19), (43.77, 11.26))
    stops = [MapPlace(f"Stop {n}", LonLat(lon, lat)) for n, (lat, lon) in enumerate(cities)]
    legs = [MapLeg(n, (n + 1) % len(stops)) for n in range(len(stops))]
    tour = clock(
        lambda: draw_overview(
            "tour", outlines, stops, legs, PAGE, MapStyle(), widths, visited=["FR", "IT"]
        )
    )
    lines.append(f"| a tour of five places in two countries | {tour:.2f} | |")
    return lines


def main() -> None:
    """Measure and write."""
    write_part(
        "maps",
        [
            "## Maps",
            "",
            f"{describe_machine()} Seconds of the processor, warm, by `python -m benchmarks.maps`. "
            "Names are placed by an integer programme, solved to proven optimality each time.",
            "",
            *tell_names(),
            "",
            *tell_maps(),
        ],
    )


if __name__ == "__main__":
    main()
