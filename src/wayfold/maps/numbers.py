"""Numbers on a map: each at its place, or beside it with a fine line where places crowd."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Point, Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.colour import WHITE
from wayfold.drawing.items import Contour, Item, Shape, Stroke, Text
from wayfold.drawing.text import Align, Figures, Paragraph, Run, TextStyle
from wayfold.maps.labelling import CLEARANCE, Candidate, Label, keep_clear, place_labels
from wayfold.maps.marks import draw_circle
from wayfold.maps.model import MapPlace
from wayfold.maps.shapes import box_of
from wayfold.maps.style import MapStyle

_DISC_EM = 1.62
_WAYS_ROUND = 8
_STEPS = (0.85, 1.4, 2.1, 3.0)
"""How far a number may stand from its place, in widths of its disc."""
_AWAY, _PER_STEP, _PER_WAY = 0.5, 0.3, 0.02
_OVER_WALK = 0.15
_DOT = 1.0
_IMPORTANCE = 10.0


@dataclass(frozen=True, slots=True)
class NumberMark:
    """A number's disc, and the place it stands for."""

    number: int
    spot: Point
    middle: Point
    diameter: float

    @property
    def is_aside(self) -> bool:
        """Whether the disc stands beside its place."""
        return math.hypot(self.middle.x - self.spot.x, self.middle.y - self.spot.y) > 0.01

    @property
    def box(self) -> Rect:
        """The square round the disc."""
        half = self.diameter / 2
        return Rect(self.middle.x - half, self.middle.y - half, self.diameter, self.diameter)

    @property
    def cover(self) -> BaseGeometry:
        """What of the map it covers: disc, dot and line."""
        disc = shapely.Point(self.middle.x, self.middle.y).buffer(self.diameter / 2 + 0.2)
        if not self.is_aside:
            return disc
        return disc.union(shapely.Point(self.spot.x, self.spot.y).buffer(_DOT / 2 + 0.2))


def place_numbers(
    spots: Sequence[Point],
    places: Sequence[MapPlace],
    room: Rect,
    style: MapStyle,
    walks: BaseGeometry,
    fold: Rect | None = None,
) -> tuple[tuple[NumberMark, ...], tuple[Finding, ...]]:
    """Find where the numbers 1, 2, … stand: no two touch, none on the fold or out of ``room``.

    Chosen for all at once and proven best. A place off the map, or whose number finds no room,
    is a finding.
    """
    diameter = mm_from_pt(_number_style(style).size_pt) * _DISC_EM
    blocked = [box_of(fold)] if fold is not None else []
    frame = box_of(room)
    crossed = [(walks, _OVER_WALK)]
    offered = [
        keep_clear(_offer(s, diameter), room, blocked, crossed)
        if frame.covers(shapely.Point(s.x, s.y))
        else ()
        for s in spots
    ]
    # Those that crowd nobody stay upon their places, unless that leaves another without room.
    quick = [
        _only_upon(own, spot) if _is_alone(spot, spots, diameter) else own
        for own, spot in zip(offered, spots, strict=True)
    ]
    labels = [Label(candidates, _IMPORTANCE) for candidates in quick]
    chosen = place_labels(labels)
    if any(k is None and label.candidates for k, label in zip(chosen, labels, strict=True)):
        labels = [Label(candidates, _IMPORTANCE) for candidates in offered]
        chosen = place_labels(labels)
    marks: list[NumberMark] = []
    findings: list[Finding] = []
    for n, (label, k) in enumerate(zip(labels, chosen, strict=True)):
        if k is None:
            findings.append(_say_lost(places[n], n + 1, off=not label.candidates))
            continue
        middle = label.candidates[k].box.center
        marks.append(NumberMark(n + 1, spots[n], middle, diameter))
    return tuple(marks), tuple(findings)


def draw_numbers(marks: Sequence[NumberMark], style: MapStyle) -> list[Item]:
    """Give discs, figures, and the lines of those that stand aside."""
    items: list[Item] = []
    fill = WHITE if style.land is not None else None
    for mark in (m for m in marks if m.is_aside):
        way = math.hypot(mark.middle.x - mark.spot.x, mark.middle.y - mark.spot.y)
        share = (way - mark.diameter / 2) / way
        rim = Point(
            mark.spot.x + (mark.middle.x - mark.spot.x) * share,
            mark.spot.y + (mark.middle.y - mark.spot.y) * share,
        )
        items.append(Shape((Contour((mark.spot, rim)),), stroke=Stroke(style.accent, 0.25)))
        items.append(draw_circle(mark.spot, _DOT, style.accent, None))
    for mark in marks:
        ring = Stroke(style.accent, style.ring_width)
        items.append(draw_circle(mark.middle, mark.diameter - style.ring_width, fill, ring))
        items.append(set_figure(mark.number, mark.middle, style))
    return items


def set_figure(number: int, middle: Point, style: MapStyle) -> Text:
    """Give a number with its figures' middle at a point."""
    look = _number_style(style)
    size = mm_from_pt(look.size_pt)
    # Lining figures of book faces are about two thirds of their size high.
    baseline = middle.y + size * 0.325
    top = baseline - mm_from_pt(look.first_baseline_pt)
    width = size * 3.0
    box = Rect(middle.x - width / 2, top, width, mm_from_pt(look.leading_pt))
    return Text(box, (Paragraph((Run(str(number)),), look),), f"map: number {number}")


def _number_style(style: MapStyle) -> TextStyle:
    size = max(style.note_pt, 7.0)
    look = style.set_text(size, style.accent, sans=True, align=Align.CENTER, weight=600)
    return replace(look, figures=Figures.LINING)


def _is_alone(spot: Point, spots: Sequence[Point], diameter: float) -> bool:
    reach = diameter + CLEARANCE
    return sum(abs(s.x - spot.x) < reach and abs(s.y - spot.y) < reach for s in spots) == 1


def _only_upon(candidates: tuple[Candidate, ...], spot: Point) -> tuple[Candidate, ...]:
    upon = tuple(
        c for c in candidates if math.hypot(c.box.center.x - spot.x, c.box.center.y - spot.y) < 0.01
    )
    return upon or candidates


def _offer(spot: Point, diameter: float) -> tuple[Candidate, ...]:
    half = diameter / 2
    offered = [Candidate(Rect(spot.x - half, spot.y - half, diameter, diameter), 0.0)]
    for step, times in enumerate(_STEPS):
        for turn in range(_WAYS_ROUND):
            angle = 2 * math.pi * (turn + 0.5 * (step % 2)) / _WAYS_ROUND
            x = spot.x + times * diameter * math.cos(angle)
            y = spot.y + times * diameter * math.sin(angle)
            box = Rect(x - half, y - half, diameter, diameter)
            # No two ways cost the same, or the proof of the best would take long.
            offered.append(Candidate(box, _AWAY + _PER_STEP * step + _PER_WAY * turn))
    return tuple(offered)


def _say_lost(place: MapPlace, number: int, *, off: bool) -> Finding:
    why = "lies off the map" if off else "finds no room on the map"
    return Finding(
        "map-numbers",
        Severity.WARN,
        place.name,
        f"Number {number}, “{place.name}”, {why}; it stands in the key only.",
        "Give the map a larger frame, or show fewer places on it.",
    )
