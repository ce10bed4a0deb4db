"""A picture is so narrow on its page that nothing in it can be made out.

Common practice, no single source: under 25 mm (about a thumb's width) a photograph reads as a
stripe. A picture that is itself long and narrow, a panorama or a strip, is meant to be so.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.book.families import Arrange
from wayfold.checks.subject import Subject, show_box
from wayfold.layout.model import PictureFrame

RULE = "sliver"
SHORT_SIDE_LEAST = 25.0
STRIP_ASPECT = 2.5
"""From this ratio of sides on, a picture whose file is as long is a panorama."""


def find_slivers(subject: Subject) -> Iterator[Finding]:
    """Name pictures that show less than ``SHORT_SIDE_LEAST`` mm on a page."""
    for page in subject.pages:
        for frame in page.frames:
            if not isinstance(frame, PictureFrame) or page.arranged is Arrange.STRIP:
                continue
            box = show_box(frame, subject.page)
            if box is None or _is_panorama(subject, frame):
                continue
            short = min(box.width, box.height)
            if short < SHORT_SIDE_LEAST - 0.01:
                yield Finding(
                    RULE,
                    Severity.WARN,
                    f"page {page.number}",
                    f"Of {subject.name_photo(frame.photo)} only a sliver of {short:.0f} x "
                    f"{max(box.width, box.height):.0f} mm is seen.",
                    "Give the picture more room, or leave it out.",
                    about=frame.photo,
                )


def _is_panorama(subject: Subject, frame: PictureFrame) -> bool:
    photo = subject.photos.get(frame.photo)
    if photo is None:
        return False
    aspect = photo.size.aspect
    return max(aspect, 1 / aspect) >= STRIP_ASPECT
