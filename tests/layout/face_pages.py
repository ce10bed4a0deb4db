"""Lays pictures with faces out by every family, and looks for faces cut or too near an edge.

Everything is judged by boxes drawn by hand, on the page in millimetres, from the frames alone;
nothing of how the layout chose them is asked.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from PIL import Image

from tests.labelled_faces import Labelled
from tests.layout.conftest import build_matter
from wayfold.base.geometry import Rect, Size
from wayfold.book.families import Arrange, Family, Place
from wayfold.layout.fixed import FIXED
from wayfold.layout.model import PageLayout, PictureFrame
from wayfold.layout.ways import list_ways
from wayfold.photos.faces import FACES_PX
from wayfold.photos.look import Face, Look, Salience
from wayfold.photos.looking import measure_look
from wayfold.photos.model import Photo
from wayfold.story.model import BlockKind
from wayfold.words.model import Words

FROM_TRIM, FROM_FOLD = 8.0, 12.0
"""How far (mm) a face keeps from the knife and the fold: what we ask, no outside source."""
AIR = 0.35
"""What is taken for the face grows by this part of its height on all sides."""
NEARLY = 0.05
TRIMS = (
    Size(210.0, 297.0),
    Size(148.0, 210.0),
    Size(215.9, 279.4),
    Size(210.0, 210.0),
    Size(297.0, 210.0),
    Size(170.0, 240.0),
    Size(240.0, 170.0),
    Size(120.0, 190.0),
)
PAGES = ((2,), (3,), (2, 3), (3, 4))
"""A verso, a recto, two that face each other, two that do not."""
GRID = 24
NOTHING = Rect(0.0, 0.0, 0.0, 0.0)


FILLING = (
    Family("window", Arrange.PLACES, places=(Place(Rect(0.1, 0.0, 0.8, 0.7), fills=True),)),
    Family(
        "two windows",
        Arrange.PLACES,
        least=2,
        most=2,
        places=(
            Place(Rect(0.0, 0.0, 0.62, 0.5), fills=True),
            Place(Rect(0.3, 0.55, 0.7, 0.4), fills=True),
        ),
    ),
)
"""Families as a person may add them, whose places crop."""


@dataclass(frozen=True, slots=True)
class Spread:
    """What was laid: by which family, and its pages."""

    family: str
    pages: tuple[PageLayout, ...]


def look_by_labels(labelled: Labelled, to_faces: float) -> Look:
    """Make a look with the labelled faces, ``to_faces`` of the salience on them, the rest even."""
    cells = [
        Rect(column / GRID, row / GRID, 1 / GRID, 1 / GRID)
        for row in range(GRID)
        for column in range(GRID)
    ]
    on_faces = [sum((c.overlap(f) or NOTHING).area for f in labelled.faces) for c in cells]
    total = sum(on_faces)
    shares = tuple(to_faces * on / total + (1 - to_faces) / len(cells) for on in on_faces)
    faces = tuple(Face(box, 1.0) for box in labelled.faces)
    return Look(faces, Salience(GRID, GRID, shares), (), 1.4, 0.3, 2000, 0.0, 55.0)


def look_for_real(labelled: Labelled, file: Path) -> Look:
    """Look at a labelled picture, or at its part of it, as a book does."""
    with Image.open(file) as image:
        across, down = image.size
        part = labelled.part
        box = (part.x * across, part.y * down, part.right * across, part.bottom * down)
        seen = image.convert("RGB").crop(tuple(round(edge) for edge in box))
    small = seen.copy()
    small.thumbnail((FACES_PX, FACES_PX))
    return measure_look(np.asarray(seen), np.asarray(small))


def are_one_face(one: Rect, other: Rect) -> bool:
    """Whether two boxes are of one face: a third of both together is common to them."""
    common = one.overlap(other)
    return common is not None and common.area > (one.area + other.area) / 4


def make_photo(labelled: Labelled, look: Look) -> Photo:
    """Make a photograph of a labelled picture, or of a part of one."""
    return Photo(labelled.name, labelled.name, f"/{labelled.file}", labelled.size, look=look)


def lay_by_all(photos: Sequence[Photo], trim: Size, numbers: tuple[int, ...]) -> Iterator[Spread]:
    """Lay pictures in every way there is, with a caption and without, and under a leaf."""
    names = tuple(photo.id for photo in photos)
    for captions in ({}, {0: "The ferry, an hour late, and nobody minding"}):
        made = build_matter([1.0] * len(photos), numbers, BlockKind.GROUP, captions, trim)
        caption = made.words.get("caption:p0")
        matter = replace(
            made,
            book=replace(made.book, arranging=replace(made.book.arranging, families=FILLING)),
            photos={photo.id: photo for photo in photos},
            block=replace(made.block, photos=names),
            words=Words({f"caption:{names[0]}": caption} if caption else {}),
        )
        for way in list_ways(matter):
            yield Spread(way.family.name, way.laid.pages)
    opener = replace(matter.block, kind=BlockKind.OPENER)
    veiled = replace(matter, block=opener, veiled=numbers[:1])
    yield Spread("under a leaf", FIXED[BlockKind.OPENER](veiled).pages)


def find_wrongs(
    pages: Sequence[PageLayout],
    trim: Size,
    faces: Mapping[str, Sequence[Rect]],
    nearly: float = NEARLY,
) -> list[str]:
    """Say of each face on the pages what is wrong by more than ``nearly`` mm.

    ``faces`` by photo, in fractions of it.
    """
    return [
        f"{page.family} of {trim.width:g} x {trim.height:g}, page {page.number}, "
        f"face {i + 1} of {len(faces[frame.photo])}: {wrong}"
        for page in pages
        for frame in page.frames
        if isinstance(frame, PictureFrame)
        for i, face in enumerate(faces[frame.photo])
        for wrong in _judge_face(frame, face, trim, page.number % 2 == 1, nearly)
    ]


def _judge_face(
    frame: PictureFrame, face: Rect, trim: Size, recto: bool, nearly: float
) -> Iterator[str]:
    """Say what is wrong with one face in one frame."""
    picture = _place_whole(frame)
    box = _place(picture, face)
    # Beyond the picture itself nothing can be shown.
    room = box.grown(AIR * box.height).overlap(picture)
    assert room is not None
    if not frame.box.contains(box, NEARLY):
        yield f"cut by its frame ({_tell(box)} in {_tell(frame.box)})"
    elif not frame.box.contains(room, nearly):
        yield f"its air cut by its frame ({_tell(room)} in {_tell(frame.box)})"
    # Only an edge that the picture reaches asks for distance.
    edges = (
        ("left", frame.box.x < NEARLY, room.x),
        ("right", frame.box.right > trim.width - NEARLY, trim.width - room.right),
        ("head", frame.box.y < NEARLY, room.y),
        ("foot", frame.box.bottom > trim.height - NEARLY, trim.height - room.bottom),
    )
    for side, reached, apart in edges:
        folded = side == ("left" if recto else "right")
        if reached and folded and _reaches_over(frame, trim, recto):
            # Across the fold: on one side of it or the other.
            over = trim.width - box.center.x if side == "right" else box.center.x
            apart = apart if over > 0 else _beyond(room, trim, side)
        if reached and apart < (FROM_FOLD if folded else FROM_TRIM) - nearly:
            yield f"{apart:.1f} mm from the {'fold' if folded else side}"


def _reaches_over(frame: PictureFrame, trim: Size, recto: bool) -> bool:
    """Whether a frame goes on on the facing page by more than a bleed."""
    return frame.box.x < -20.0 if recto else frame.box.right > trim.width + 20.0


def _beyond(room: Rect, trim: Size, side: str) -> float:
    """How far beyond the fold a face on the facing page lies."""
    return room.x - trim.width if side == "right" else -room.right


def _place_whole(frame: PictureFrame) -> Rect:
    """Where on the page the whole picture would lie, of which the frame shows the crop."""
    across, down = frame.box.width / frame.crop.width, frame.box.height / frame.crop.height
    x, y = frame.box.x - frame.crop.x * across, frame.box.y - frame.crop.y * down
    return Rect(x, y, across, down)


def _place(picture: Rect, part: Rect) -> Rect:
    return Rect(
        picture.x + part.x * picture.width,
        picture.y + part.y * picture.height,
        part.width * picture.width,
        part.height * picture.height,
    )


def _tell(box: Rect) -> str:
    return f"{box.x:.0f} to {box.right:.0f} mm across, {box.y:.0f} to {box.bottom:.0f} mm down"
