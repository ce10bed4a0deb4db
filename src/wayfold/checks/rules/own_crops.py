"""What the person's own crops take away: theirs to decide, and told."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.book.arranging import BY_HAND
from wayfold.checks.rules.faces_kept import LEAST_SEEN
from wayfold.checks.subject import Placement, Subject, list_placements
from wayfold.photos.model import Photo

RULE = "own-crop"


def find_own_crops(subject: Subject) -> Iterator[Finding]:
    """Name crops of the person's own that leave out a face, or more than a layout would."""
    by_hand = {page.number for page in subject.pages if page.family == BY_HAND}
    for placed in list_placements(subject):
        photo = subject.photos.get(placed.photo)
        own = subject.book.choice(placed.photo).crop is not None or by_hand & set(placed.pages)
        if photo is None or not own:
            continue
        lost = _count_lost_faces(placed, photo)
        if lost:
            faces = "a face" if lost == 1 else f"{lost} faces"
            yield _tell(subject, placed, f"Your crop of {{}} leaves out {faces}.")
        taken = 1.0 - placed.crop.area
        most = subject.book.arranging.most_crop
        if taken > most + 0.005:
            yield _tell(
                subject,
                placed,
                f"Your crop takes {taken:.0%} of {{}}; a layout would take {most:.0%} at most.",
            )


def _count_lost_faces(placed: Placement, photo: Photo) -> int:
    """Count the faces of which nobody sees anything any more."""
    lost = 0
    for face in photo.look.faces if photo.look else ():
        seen = face.box.overlap(placed.crop)
        lost += seen is None or seen.area < LEAST_SEEN * face.box.area
    return lost


def _tell(subject: Subject, placed: Placement, said: str) -> Finding:
    return Finding(
        RULE,
        Severity.NOTE,
        placed.where,
        said.format(subject.name_photo(placed.photo)),
        "Keep it if you mean it so.",
        placed.photo,
    )
