"""What words on a translucent leaf lie over: how light and calm each part of a page is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from wayfold.base.geometry import TOLERANCE, Point, Rect
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.photos.lightness import Lightness, Patches, find_calm, find_worst
from wayfold.photos.look import Look

AROUND = 4.0
"""So far (mm) round the words the ground counts as theirs."""
DARK_END = 0.1
"""Words are as legible as over the darkest tenth of their ground: the worst patch decides."""
BUSY = 0.8
"""What unevenness of the ground takes, against its lightness."""
OVER_TYPE = 4.0
"""What lying wholly over other words takes."""
CROSSED = 0.999
FACE = 30.0
"""How much more than anything else in a picture the eye goes to a face."""


@dataclass(frozen=True)
class Ground:
    """The pictures and texts of a page; how light the pictures are, and what is in them.

    ``lightness`` and ``looks`` are by photograph; those not known are left out.
    """

    pictures: tuple[PictureFrame, ...]
    texts: tuple[Rect, ...]
    lightness: Mapping[str, Lightness]
    looks: Mapping[str, Look] = field(default_factory=dict)

    def judge(self, box: Rect) -> float:
        """Give how well words would stand in ``box``: up to 1 on white, less where dark or busy."""
        pieces, white = self._find_patches([box.grown(AROUND)], seen=True)
        dark, spread = find_calm(pieces, white, DARK_END)
        return dark - BUSY * spread - OVER_TYPE * self.share_type(box)

    def share_type(self, box: Rect) -> float:
        """Give how much of a box, and of what is near it, lies over the page's own words."""
        round_box = box.grown(AROUND)
        under = sum(o.area for t in self.texts if (o := t.overlap(round_box)))
        return under / round_box.area

    def is_crossed(self, box: Rect) -> bool:
        """Whether the edge of a picture runs through a box."""
        shown = [f.box if f.clip is None else f.box.overlap(f.clip) for f in self.pictures]
        under = [part.overlap(box) for part in shown if part is not None]
        return any(part is not None and part.area < CROSSED * box.area for part in under)

    def watch(self, box: Rect) -> float:
        """Give how much the eye goes to what lies under a box.

        0 is white paper or nothing of interest, 1 as much as anywhere in the picture; a face counts
        as ``FACE`` wherever in the box it lies.
        """
        points = [
            Point(box.x + across * box.width, box.y + down * box.height)
            for across in (0.1, 0.5, 0.9)
            for down in (0.1, 0.5, 0.9)
        ]
        return sum(self.watch_at(point) for point in points) / len(points)

    def watch_at(self, point: Point) -> float:
        """Give the same of one point of the page."""
        most = 0.0
        for frame in self.pictures:
            look, box = self.looks.get(frame.photo), frame.clip or frame.box
            if look is None or not _holds(box, point) or not _holds(frame.box, point):
                continue
            there = _in_picture(Rect(point.x, point.y, 0.0, 0.0), frame)
            seen = look.salience
            row = min(int(max(there.y, 0.0) * seen.rows), seen.rows - 1)
            column = min(int(max(there.x, 0.0) * seen.columns), seen.columns - 1)
            share = seen.shares[row * seen.columns + column] * (seen.rows * seen.columns)
            in_face = any(_holds(face.box, Point(there.x, there.y)) for face in look.faces)
            most = max(most, FACE if in_face else share)
        return most

    def find_worst(
        self, boxes: Sequence[Rect], ink: float, dx: float = 0.0, dy: float = 0.0
    ) -> float:
        """Give the luminance of the patch under ``boxes`` that ``ink`` is hardest to see on.

        The boxes lie ``dx`` and ``dy`` mm from where they say. It is 1 where no picture lies; a few
        patches may be worse still.
        """
        return find_worst(*self._find_patches(boxes, dx, dy), ink)

    @cached_property
    def _views(self) -> tuple[_View, ...]:
        found = (_view(frame, self.lightness.get(frame.photo)) for frame in self.pictures)
        return tuple(view for view in found if view is not None)

    def _find_patches(
        self, boxes: Sequence[Rect], dx: float = 0.0, dy: float = 0.0, *, seen: bool = False
    ) -> tuple[list[Patches], int]:
        """Give the patches of the pictures under boxes, and how many white ones lie there too."""
        # Asked for some hundred thousand boxes a leaf, so it goes without rectangles.
        pieces: list[Patches] = []
        white = 0
        for box in boxes:
            count, covered = 0, 0.0
            left, top = box.x + dx, box.y + dy
            right, bottom = left + box.width, top + box.height
            for view in self._views:
                x, y = max(left, view.left), max(top, view.top)
                width, height = min(right, view.right) - x, min(bottom, view.bottom) - y
                if width <= TOLERANCE or height <= TOLERANCE:
                    continue
                covered += width * height
                if view.lightness is not None:
                    part = (
                        view.crop.x + (x - view.box.x) * view.by_x,
                        view.crop.y + (y - view.box.y) * view.by_y,
                        width * view.by_x,
                        height * view.by_y,
                    )
                    pieces.append(view.lightness.cut(*part, seen=seen))
                    count += len(pieces[-1])
            if count and covered < box.area:
                white += min(round(count * (box.area - covered) / max(covered, 1.0)), 4000)
            white += 0 if count else 1
        return pieces, white


@dataclass(frozen=True, slots=True)
class _View:
    """A picture on the page: what of the page shows it, and how to get from there into it."""

    left: float
    top: float
    right: float
    bottom: float
    box: Rect
    crop: Rect
    by_x: float
    by_y: float
    lightness: Lightness | None


def _view(frame: PictureFrame, lightness: Lightness | None) -> _View | None:
    box, crop = frame.box, frame.crop
    shown = box if frame.clip is None else box.overlap(frame.clip)
    if shown is None:
        return None
    return _View(
        shown.x,
        shown.y,
        shown.right,
        shown.bottom,
        box,
        crop,
        crop.width / box.width,
        crop.height / box.height,
        lightness,
    )


def read_ground(
    page: PageLayout | None,
    lightness: Mapping[str, Lightness],
    looks: Mapping[str, Look] | None = None,
) -> Ground:
    """Give the ground that a page is."""
    frames: Sequence[object] = page.frames if page is not None else ()
    return Ground(
        tuple(f for f in frames if isinstance(f, PictureFrame)),
        tuple(f.box for f in frames if isinstance(f, TextFrame)),
        lightness,
        looks or {},
    )


def _holds(box: Rect, point: Point) -> bool:
    return box.x <= point.x <= box.right and box.y <= point.y <= box.bottom


def _in_picture(part: Rect, frame: PictureFrame) -> Rect:
    """A part of the page as fractions of the upright picture."""
    box, crop = frame.box, frame.crop
    by_x, by_y = crop.width / box.width, crop.height / box.height
    return Rect(
        crop.x + (part.x - box.x) * by_x,
        crop.y + (part.y - box.y) * by_y,
        part.width * by_x,
        part.height * by_y,
    )
