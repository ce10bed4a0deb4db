"""A face is cut by a crop, comes near the knife, or near the fold.

Reckoned from the frames alone, and not as the layout chooses crops: so it also sees what the person
cropped, and what was moved afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.mends import Mend
from wayfold.book.arranging import BY_HAND
from wayfold.checks.subject import Placement, Subject, list_placements

RULE = "faces-kept"
LEAST_SEEN, WHOLE = 0.05, 0.98
"""A face that is seen to a part between these is cut: less nobody sees, more nobody misses."""
EXACT = 0.1
"""Nearer by less than this (mm) is a rounding."""


def find_lost_faces(subject: Subject) -> Iterator[Finding]:
    """Name the pictures that cut a face, or bring one nearer to knife or fold than is asked for."""
    for placed in list_placements(subject):
        photo = subject.photos.get(placed.photo)
        if photo is None or photo.look is None:
            continue
        faces = [_place(placed, face.box) for face in photo.look.faces]
        seen = [(face, _share_seen(face, placed.box)) for face in faces]
        cut = sum(LEAST_SEEN < share < WHOLE for _, share in seen)
        whole = [face for face, share in seen if share >= WHOLE]
        if cut:
            faces_are = "A face is" if cut == 1 else f"{cut} faces are"
            yield _tell(subject, placed, f"{faces_are} cut by the edge of {{}}.")
        choices = subject.book.arranging
        # A picture with white round it keeps its faces from the knife by its border.
        trim = min((_from_trim(subject, placed, face) for face in whole), default=1e9)
        if trim < choices.face_from_trim - EXACT:
            how = f"is {trim:.0f} mm from" if trim > 0 else "lies under"
            said = f"A face in {{}} {how} the knife; {choices.face_from_trim:g} mm are asked for."
            yield _tell(subject, placed, said)
        fold = min((_from_fold(subject, placed, face) for face in whole), default=1e9)
        if fold < choices.face_from_fold - EXACT:
            how = f"is {fold:.0f} mm from" if fold > 0 else "lies in"
            said = f"A face in {{}} {how} the fold; {choices.face_from_fold:g} mm are asked for."
            yield _tell(subject, placed, said)


def _tell(subject: Subject, placed: Placement, said: str) -> Finding:
    name = subject.name_photo(placed.photo)
    laid = next((p.family for p in subject.pages if p.number == placed.pages[0]), "")
    if laid == BY_HAND:
        remedy = "You placed it yourself: move or crop it, or keep it if you mean it so."
    elif subject.book.choice(placed.photo).crop:
        remedy = f"The crop is your own: move it ({Mend.CROP}), or keep it if you mean it so."
    else:
        remedy = f"Lay page {placed.pages[0]} another way ({Mend.ARRANGE}), or crop it yourself "
        remedy += f"({Mend.CROP})."
    return Finding(RULE, Severity.WARN, placed.where, said.format(name), remedy, placed.photo)


def _place(placed: Placement, face: Rect) -> Rect:
    """Give where a face lies, in mm in the space of the placement's first page."""
    box, crop = placed.box, placed.crop
    across, down = box.width / crop.width, box.height / crop.height
    return Rect(
        box.x + (face.x - crop.x) * across,
        box.y + (face.y - crop.y) * down,
        face.width * across,
        face.height * down,
    )


def _share_seen(face: Rect, box: Rect) -> float:
    seen = face.overlap(box)
    return seen.area / face.area if seen else 0.0


def _from_trim(subject: Subject, placed: Placement, face: Rect) -> float:
    """Give how far a face is from the nearest knife that its picture reaches, else a long way."""
    box, page, recto = placed.box, subject.page, placed.pages[0] % 2 == 1
    right = page.width * len(placed.pages)
    sides = [
        (box.y <= EXACT, face.y),
        (box.bottom >= page.height - EXACT, page.height - face.bottom),
        (box.x <= EXACT and not recto, face.x),
        (box.right >= right - EXACT and (recto or len(placed.pages) > 1), right - face.right),
    ]
    return min((apart for reached, apart in sides if reached), default=1e9)


def _from_fold(subject: Subject, placed: Placement, face: Rect) -> float:
    """Give how far a face is from the fold that its picture reaches or crosses, else a long way."""
    recto = placed.pages[0] % 2 == 1
    fold = 0.0 if recto else subject.page.width
    reached = placed.box.x <= EXACT if recto else placed.box.right >= fold - EXACT
    return max(face.x - fold, fold - face.right) if reached else 1e9
