"""A photograph is printed larger than its pixels or its sharpness bear.

One truth with the layout, which asks ``photos.largest`` as well. Under the pixels of a good print
is worth a look, under the least they show. What is soft only looks soft: it is named where that
is seen at a glance, on a picture that has its page to itself, and never blocks.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.units import mm_from_px, ppi_of
from wayfold.checks.subject import Placement, Subject, list_placements
from wayfold.layout.matter import SOFT_WIDTH
from wayfold.photos.largest import Demand, Limit, count_sharp, list_limits
from wayfold.photos.model import Photo

RULE = "resolution"


def find_coarse_pictures(subject: Subject) -> Iterator[Finding]:
    """Name the photographs that are printed at fewer pixels an inch than the eye wants."""
    placements = list_placements(subject)
    shown = Counter(page for placed in placements for page in placed.pages)
    for placed in placements:
        photo = subject.photos.get(placed.photo)
        if photo is not None:
            alone = all(shown[page] == 1 for page in placed.pages)
            yield from _judge(subject, placed, photo, alone=alone)


def _judge(subject: Subject, placed: Placement, photo: Photo, *, alone: bool) -> Iterator[Finding]:
    ppi = measure_ppi(placed, photo)
    # As if the whole were printed as coarsely as its coarser direction.
    width = mm_from_px(placed.crop.width * photo.size.width_px, ppi)
    longest = max(placed.box.width, placed.box.height)
    name = subject.name_photo(photo.id)
    good = limit_by(subject, placed, photo, Demand.GOOD)
    if width > good[Limit.PIXELS]:
        blocks = width > limit_by(subject, placed, photo, Demand.LEAST)[Limit.PIXELS]
        yield Finding(
            RULE,
            Severity.BLOCK if blocks else Severity.WARN,
            placed.where,
            f"{name} prints at {ppi:.0f} pixels an inch"
            + ("; its pixels will show." if blocks else ", a little soft."),
            f"Show it no longer than {longest * good[Limit.PIXELS] / width:.0f} mm (now "
            f"{longest:.0f}), crop it less, or find the original file.",
            about=photo.id,
        )
        return
    if not alone or placed.box.width <= SOFT_WIDTH:
        return
    sharp = limit_by(subject, placed, photo, Demand.SOFT).get(Limit.SHARPNESS)
    if sharp is not None and photo.look is not None and width > sharp:
        yield Finding(
            RULE,
            Severity.WARN,
            placed.where,
            f"{name} is not sharp: its edges are {photo.look.edge_px:.1f} pixels wide, so it shows "
            f"no more than {ppi * count_sharp(photo.look):.0f} pixels an inch would.",
            f"Show it no longer than {longest * sharp / width:.0f} mm (now {longest:.0f}), take a "
            "sharper picture of the scene, or leave it: only you know whether it is meant.",
            about=photo.id,
        )


def limit_by(
    subject: Subject, placed: Placement, photo: Photo, demand: Demand
) -> dict[Limit, float]:
    """Give the widths that each limit allows the part shown, on this book's paper."""
    return list_limits(
        photo,
        placed.crop,
        distance=subject.book.arranging.reading_distance,
        surface=subject.book.paper.surface,
        demand=demand,
    )


def measure_ppi(placed: Placement, photo: Photo) -> float:
    """Give the pixels an inch of the part shown at the size it is printed, the worse direction."""
    return min(
        ppi_of(placed.crop.width * photo.size.width_px, placed.box.width),
        ppi_of(placed.crop.height * photo.size.height_px, placed.box.height),
    )
