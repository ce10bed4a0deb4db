"""A photograph's grain shows at the size it is printed at."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.rules.resolution import limit_by
from wayfold.checks.subject import Subject, list_placements
from wayfold.photos.largest import Demand, Limit

RULE = "graininess"


def find_grainy_pictures(subject: Subject) -> Iterator[Finding]:
    """Name the photographs whose grain is more than fair, and say where it is coarse."""
    for placed in list_placements(subject):
        photo = subject.photos.get(placed.photo)
        if photo is None or photo.look is None:
            continue
        width = placed.box.width
        fair = limit_by(subject, placed, photo, Demand.FAIR)[Limit.GRAIN]
        if width <= fair:
            continue
        coarse = width > limit_by(subject, placed, photo, Demand.LEAST)[Limit.GRAIN]
        longest = max(placed.box.width, placed.box.height)
        yield Finding(
            RULE,
            Severity.WARN if coarse else Severity.NOTE,
            placed.where,
            f"The grain of {subject.name_photo(photo.id)} "
            + ("will be seen all over it." if coarse else "will be seen in its even parts."),
            f"Show it no longer than {longest * fair / width:.0f} mm (now {longest:.0f}), smooth "
            "its noise, or keep it as it is: grain may be meant.",
            about=photo.id,
        )
