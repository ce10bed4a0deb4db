"""Maps: how long names, countries and a journey take. Every figure is of one process, after a run
that is not counted (outlines, fonts and libraries are then in memory).
"""

from __future__ import annotations

import itertools
import random
import statistics
import time
from collections.abc import Callable, Sequence

from benchmarks.rows import Effort, Part, Row, fit_power
from wayfold.base.geometry import Rect, Size
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
SEEDS = {Effort.QUICK: 2, Effort.USUAL: 4, Effort.LONG: 12}
FLOOR = "each name at its first free place"
NAMES_GOAL_S, COUNTRY_GOAL_S = 0.1, 1.0
PAGE = MapFrame(Size(210.0, 297.0), bleed=3.0, margin=14.0)
LARGE = (180, 240)
NamesOn = tuple[int, int, int, float | None]
NAMES: tuple[NamesOn, ...] = (
    (30, *LARGE, None),
    (60, *LARGE, NAMES_GOAL_S),
    (60, 120, 170, NAMES_GOAL_S),
    (120, *LARGE, None),
)
"""Names, the page in mm, and the goal for it."""
COUNTRIES = ("IT", "RU", "NO", "ID", "CA", "CL", "NZ", "FJ", "EE", "ES", "US")
FEW = 4


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


def measure_names(sizes: Sequence[NamesOn], seeds: int) -> tuple[list[Row], list[str]]:
    """Measure the placing of names, each proven best, on pages of several densities."""
    lines = [
        "| names | on mm | median s | worst s | floor, median s | goal |",
        "|--:|---|--:|--:|--:|---|",
    ]
    rows, points = [], []
    for count, width, height, goal in sizes:
        taken, floor = [], []
        for seed in range(seeds):
            labels = scatter_labels(count, width, height, seed)
            floor.append(clock(lambda labels=labels: place_first(labels), 1))  # type: ignore[misc]
            taken.append(clock(lambda labels=labels: place_labels(labels), 1))  # type: ignore[misc]
        middle, least = statistics.median(taken), statistics.median(floor)
        told = f"≤ {goal}" if goal else ""
        lines.append(
            f"| {count} | {width} × {height} | {middle:.3f} | {max(taken):.3f} | {least:.4f} "
            f"| {told} |"
        )
        if (width, height) == LARGE:
            points.append((count, middle))
        if goal:
            about = f"{count} names placed best, {width} × {height} mm"
            rows.append(Row(about, middle, least, FLOOR, "processor s", most=goal))
    grown = fit_power(points)
    return rows, [*lines, "", f"Growth: seconds go with names to the power of {grown:.2f}."]


def place_first(labels: Sequence[Label]) -> int:
    """Give each name the first of its places that is free; gives how many found one."""
    laid: list[Rect] = []
    for label in labels:
        free = (p.box for p in label.candidates if not any(p.box.overlap(box) for box in laid))
        laid += itertools.islice(free, 1)
    return len(laid)


def tell_maps(countries: Sequence[str], runs: int) -> list[str]:
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

    for code in countries:
        name = next(o.name for o in outlines if o.code == code)
        for ink, style in (("tinted", MapStyle()), ("one ink", leaf)):
            taken = clock(lambda code=code, style=style: draw(code, style), runs)  # type: ignore[misc]
            lines.append(f"| {name}, {ink} | {taken:.2f} | ≤ {COUNTRY_GOAL_S:.0f} |")
    cities = ((48.85, 2.35), (45.76, 4.84), (45.07, 7.69), (45.46, 9.19), (43.77, 11.26))
    stops = [MapPlace(f"Stop {n}", LonLat(lon, lat)) for n, (lat, lon) in enumerate(cities)]
    legs = [MapLeg(n, (n + 1) % len(stops)) for n in range(len(stops))]
    tour = clock(
        lambda: draw_overview(
            "tour", outlines, stops, legs, PAGE, MapStyle(), widths, visited=["FR", "IT"]
        ),
        runs,
    )
    lines.append(f"| a tour of five places in two countries | {tour:.2f} | |")
    return lines


def report(effort: Effort) -> Part:
    """Measure names and maps."""
    quick = effort is Effort.QUICK
    rows, names = measure_names(NAMES[:2] if quick else NAMES, SEEDS[effort])
    countries = COUNTRIES if effort is Effort.LONG else COUNTRIES[: 1 if quick else FEW]
    lines = [
        "## Maps",
        "",
        "Seconds of the processor, warm. Names are placed by an integer programme, solved to "
        "proven optimality each time.",
        "",
        *names,
        "",
        *tell_maps(countries, RUNS if effort is Effort.LONG else 1),
    ]
    return Part(tuple(rows), tuple(lines))
