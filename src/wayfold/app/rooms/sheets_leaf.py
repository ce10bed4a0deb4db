"""The translucent paper measured at the desk: four greys of one scan, and how an edge blurs."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.app.leaf_paper import find_haze, measure_paper, see_detail
from wayfold.app.session import Session


@dataclass(frozen=True, slots=True)
class Greys:
    """Greys (0-255) read off a scan: white and black patches bare, and under the sheet."""

    white: float
    black: float
    over_white: float
    over_black: float


@dataclass(frozen=True, slots=True)
class Edge:
    """How wide (mm) a sharp edge looks through the sheet held ``over`` mm above it."""

    width: float
    over: float


@dataclass(frozen=True, slots=True)
class MeasuredLeaf:
    """What the sheet gives back over black and lets through (0-1), and its haze (degrees).

    ``letters`` and ``shapes`` are the contrast (0-1) left of text and of shapes 5 mm wide under it,
    lying as far over the page as the book says.
    """

    reflectance: float
    transmittance: float
    haze_deg: float
    letters: float
    shapes: float


def measure_leaf(session: Session, greys: Greys, edge: Edge | None) -> MeasuredLeaf:
    """Give what a sheet is by its greys; the haze stays as the book has it without an ``edge``.

    Raises UserError where no sheet shows such greys or such an edge.
    """
    paper = session.results.book.translucent
    sheet = measure_paper(greys.white, greys.black, greys.over_white, greys.over_black)
    haze = paper.haze_deg if edge is None else round(find_haze(edge.width, edge.over), 1)
    left = see_detail(paper.gap, haze)
    return MeasuredLeaf(
        round(sheet.reflectance, 3),
        round(sheet.transmittance, 3),
        haze,
        left["letters"],
        left["shapes"],
    )


def keep_leaf(session: Session, greys: Greys, edge: Edge | None) -> MeasuredLeaf:
    """Measure, and keep it for the book's translucent paper; it can be undone."""
    found = measure_leaf(session, greys, edge)
    values: dict[str, object] = {
        "reflectance": found.reflectance,
        "transmittance": found.transmittance,
    }
    if edge is not None:
        values["haze_deg"] = found.haze_deg
    session.settle({"translucent": values})
    return found
