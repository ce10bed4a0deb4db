"""A walk through the demo's town: along its streets from place to place, as a receiver notes it."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.base.world import LonLat
from wayfold.maps.extract import read_extract
from wayfold.maps.projection import Extent
from wayfold.maps.streets import StreetPlan
from wayfold.trip.earth import distance_m
from wayfold.trip.tracks import Fix

EVERY_S = 15.0
"""How often the receiver notes where it is."""
_AROUND = 0.006
_FAST_ROAD = 1
"""Nobody walks on a road of this rank, which may be a motorway in a tunnel."""
_FAST_ROAD_COST = 4.0

Point = tuple[float, float]
Graph = dict[Point, list[tuple[Point, float]]]


@dataclass(frozen=True, slots=True)
class Stop:
    """Where the walkers were at a time; they left at ``until``."""

    place: LonLat
    at: datetime
    until: datetime


def walk_streets(extract: Path, stops: Sequence[Stop]) -> tuple[Fix, ...]:
    """Give the fixes of a walk past ``stops`` along the streets of an extract.

    Raises UserError where the extract cannot be read or has no way from one stop to the next.
    """
    lons = [stop.place.longitude for stop in stops]
    lats = [stop.place.latitude for stop in stops]
    extent = Extent(
        min(lons) - _AROUND, min(lats) - _AROUND, max(lons) + _AROUND, max(lats) + _AROUND
    )
    plan = read_extract(str(extract), extent, progress=NoProgress())
    graph = _keep_largest(_join_streets(plan))
    if not graph:
        raise UserError("There are no streets where the walk goes.", where=extract.name)
    nodes = [_find_nearest(graph, stop.place) for stop in stops]
    fixes: list[Fix] = []
    for (here, start), (there, goal) in pairwise(zip(stops, nodes, strict=True)):
        way = _find_way(graph, start, goal)
        if not way:
            raise UserError("The streets do not join where the walk goes.", where=extract.name)
        fixes += follow_way(way, here.until, there.at)
    return tuple(fixes)


def _join_streets(plan: StreetPlan) -> Graph:
    graph: Graph = {}
    for street in plan.streets:
        dear = _FAST_ROAD_COST if street.rank <= _FAST_ROAD else 1.0
        for a, b in pairwise((float(x), float(y)) for x, y in street.line.coords):
            cost = dear * distance_m(LonLat(*a), LonLat(*b))
            graph.setdefault(a, []).append((b, cost))
            graph.setdefault(b, []).append((a, cost))
    return graph


def _keep_largest(graph: Graph) -> Graph:
    """Keep the streets that hang together: footways on roofs and in yards often join nothing."""
    largest: set[Point] = set()
    seen: set[Point] = set()
    for start in graph:
        if start in seen:
            continue
        part, due = {start}, [start]
        while due:
            fresh = {there for there, _ in graph[due.pop()]} - part
            part |= fresh
            due += fresh
        seen |= part
        largest = max(largest, part, key=len)
    return {point: ways for point, ways in graph.items() if point in largest}


def _find_nearest(graph: Iterable[Point], place: LonLat) -> Point:
    return min(graph, key=lambda point: distance_m(LonLat(*point), place))


def _find_way(graph: Graph, start: Point, goal: Point) -> list[Point]:
    """Give the shortest way (Dijkstra 1959), or nothing where there is none."""
    came: dict[Point, Point] = {}
    cost = {start: 0.0}
    queue = [(0.0, start)]
    while queue:
        so_far, here = heapq.heappop(queue)
        if here == goal:
            way = [goal]
            while way[-1] != start:
                way.append(came[way[-1]])
            return way[::-1]
        for there, more in graph[here] if so_far <= cost[here] else ():
            if so_far + more < cost.get(there, float("inf")):
                cost[there] = so_far + more
                came[there] = here
                heapq.heappush(queue, (so_far + more, there))
    return []


def follow_way(way: Sequence[Point], start: datetime, end: datetime) -> list[Fix]:
    """Give the fixes of going a way (longitude, latitude) at an even pace between two times."""
    places = [LonLat(*point) for point in way]
    lengths = [distance_m(a, b) for a, b in pairwise(places)]
    whole = sum(lengths)
    seconds = (end - start).total_seconds()
    fixes = [Fix(start, places[0])]
    gone = 0.0
    for (a, b), length in zip(pairwise(places), lengths, strict=True):
        # A long stretch is noted several times on the way, a short one at its end.
        steps = max(1, round(length / whole * seconds / EVERY_S))
        for step in range(1, steps + 1):
            share = step / steps
            at = LonLat(
                a.longitude + share * (b.longitude - a.longitude),
                a.latitude + share * (b.latitude - a.latitude),
            )
            when = start + timedelta(seconds=seconds * (gone + share * length) / whole)
            fixes.append(Fix(when, at))
        gone += length
    return fixes
