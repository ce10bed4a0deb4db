"""The translucent paper measured: a route below the room for the sheets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter
from pydantic import Field

from wayfold.app.rooms.sheets_leaf import Edge, Greys, keep_leaf, measure_leaf
from wayfold.app.session import Session
from wayfold.desk.wire import Wire

Grey = Annotated[float, Field(ge=0.0, le=255.0, allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0.0, le=100.0, allow_inf_nan=False)]


class LeafReadings(Wire):
    """Greys of one scan, and how wide an edge looks through the sheet (null: not measured).

    With ``keep`` the book's translucent paper becomes what is found.
    """

    white: Grey
    black: Grey
    over_white: Grey
    over_black: Grey
    edge_mm: Positive | None
    over_mm: Positive
    keep: bool


class LeafFound(Wire):
    """What the sheet gives back and lets through (0-1), its haze, and what stays to be read."""

    reflectance: float
    transmittance: float
    haze_deg: float
    letters: float
    shapes: float


def add_routes(router: APIRouter, find_session: Callable[[], Session]) -> None:
    """Add the route over the book that ``find_session`` gives, at each request anew."""

    @router.post("/translucent")
    def measure(readings: LeafReadings) -> LeafFound:
        """Measure the translucent paper."""
        greys = Greys(readings.white, readings.black, readings.over_white, readings.over_black)
        edge = None if readings.edge_mm is None else Edge(readings.edge_mm, readings.over_mm)
        do = keep_leaf if readings.keep else measure_leaf
        return LeafFound.mirror(do(find_session(), greys, edge))
