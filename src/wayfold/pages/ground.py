"""What words on a translucent leaf lie over: how light and calm each part of a page is."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from wayfold.base.geometry import Point, Rect
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.photos.lightness import Lightness
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


@dataclass(frozen=True, slots=True)
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
        values = self._read(box.grown(AROUND))
        dark = sorted(values)[int(DARK_END * len(values))]
        mean = sum(values) / len(values)
        spread = math.sqrt(sum((v - mean) ** 2 for v in values) / len(values))
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
            share = seen.shares[row * seen.columns + column] * len(seen.shares)
            in_face = any(_holds(face.box, Point(there.x, there.y)) for face in look.faces)
            most = max(most, FACE if in_face else share)
        return most

    def _read(self, box: Rect) -> list[float]:
        """The lightness under a box as the eye steps it: 0 to 1, white where no picture lies."""
        return [_lightness(v) for v in self.read_light(box)]

    def read_light(self, box: Rect) -> list[float]:
        """Give the relative luminance of the patches under a box: 1 where no picture lies."""
        values: list[float] = []
        covered = 0.0
        for frame in self.pictures:
            shown = frame.box if frame.clip is None else frame.box.overlap(frame.clip)
            under = shown.overlap(box) if shown else None
            known = self.lightness.get(frame.photo)
            if under is None:
                continue
            covered += under.area
            if known is not None:
                values += known.within(_in_picture(under, frame))
        if values and covered < box.area:
            white = round(len(values) * (box.area - covered) / max(covered, 1.0))
            values += [1.0] * min(white, 4000)
        return values or [1.0]


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


def _lightness(luminance: float) -> float:
    """CIE 1976 lightness L* / 100 of a relative luminance (CIE 15: cube root, linear when dark)."""
    if luminance > (6 / 29) ** 3:
        return round(1.16 * math.cbrt(luminance) - 0.16, 12)
    return luminance * (29 / 3) ** 3 / 100.0
