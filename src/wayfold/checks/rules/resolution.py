"""A photograph has too few pixels for the size it is printed at.

At the 30 to 40 cm a book is read from, an eye of one minute of arc resolves 218 to 291 pixels an
inch (8732 / distance in cm, geometry); 240 passes as good, under 150 single pixels show.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.units import ppi_of
from wayfold.checks.subject import Placement, Subject, list_placements
from wayfold.photos.model import Photo

RULE = "resolution"
WARN_BELOW_PPI = 240.0
BLOCK_BELOW_PPI = 150.0


def find_coarse_pictures(subject: Subject) -> Iterator[Finding]:
    """Name the photographs that are printed at fewer pixels an inch than the eye wants."""
    for placed in list_placements(subject):
        photo = subject.photos.get(placed.photo)
        if photo is None:
            continue
        ppi = measure_ppi(placed, photo)
        if ppi >= WARN_BELOW_PPI:
            continue
        longest = max(placed.box.width, placed.box.height)
        blocks = ppi < BLOCK_BELOW_PPI
        yield Finding(
            RULE,
            Severity.BLOCK if blocks else Severity.WARN,
            placed.where,
            f"{subject.name_photo(photo.id)} prints at {ppi:.0f} pixels an inch"
            + ("; its pixels will show." if blocks else ", a little soft."),
            f"Show it no longer than {longest * ppi / WARN_BELOW_PPI:.0f} mm (now {longest:.0f}), "
            "crop it less, or find the original file.",
        )


def measure_ppi(placed: Placement, photo: Photo) -> float:
    """Give the pixels an inch of the part shown at the size it is printed, the worse direction."""
    return min(
        ppi_of(placed.crop.width * photo.size.width_px, placed.box.width),
        ppi_of(placed.crop.height * photo.size.height_px, placed.box.height),
    )
