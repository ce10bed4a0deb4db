"""One picture over the fold of two facing pages."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.geometry import Rect
from wayfold.book.families import Family
from wayfold.layout.alone import MOST_CAPTION
from wayfold.layout.captions import caption_height, place_caption
from wayfold.layout.grid import OPTICAL_CENTRE
from wayfold.layout.matter import Laid, Matter, facing_pair, with_frames
from wayfold.layout.model import PageLayout, PictureFrame

BROAD_BAND = 0.30
"""White left by a wide picture across the fold, as a part of the page's height: above this it is
shared between head and foot, below it lies at the foot alone."""
REACHES = (0.26, 0.30, 0.34, 0.38, 0.42, 0.46, 0.50)
"""How far a picture may reach into the facing page, as a part of its width."""
LEAST_UNDER = 40.0
"""A caption under the part that reaches over wants so much width (mm)."""


def lay_across(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the picture across two facing pages, its caption in the white band where there is one.

    Bled off all round, or with white, which may ask for fewer pixels. Nothing where the pages do
    not face each other, or no crop keeps what matters out of the fold.
    """
    if not facing_pair(matter.numbers):
        return
    photo = matter.block.photos[0]
    fits = [(b, crop) for b in _list_boxes(matter) if (crop := matter.crop_across(photo, b))]
    # What shows no pixels comes first: a crop leaves fewer of them for as much paper.
    for box, crop in sorted(fits, key=lambda f: f[0].width > matter.largest(photo, f[1])):
        yield _lay_at(matter, family, box, crop)


def _lay_at(matter: Matter, family: Family, box: Rect, crop: Rect) -> Laid:
    photo = matter.block.photos[0]
    full = box.bottom >= matter.grid.trim.height
    laid = _lay_over_fold(matter, family, box, crop, folio=not full)
    if full:
        captioned = matter.words.get(f"caption:{photo}")
        return Laid(laid, ((matter.numbers[1], photo),) if captioned else ())
    # The caption stands under the right half, on the picture margin, where the eye leaves.
    area = matter.grid.picture_area(True)
    under = Rect(area.x, box.y, area.width, box.height)
    left, right = laid
    return Laid((left, with_frames(right, *place_caption(matter, [(photo, under)], under))))


def _list_boxes(matter: Matter) -> list[Rect]:
    """Give the places a picture might have across the fold, the best first.

    Bled off all round where no caption needs white. Else bled off at head and sides with a white
    band at the foot, as high as the foot margin or as what the picture leaves; a panorama has
    bands above and below.
    """
    grid, photo = matter.grid, matter.block.photos[0]
    bleed, trim = grid.bleed, grid.trim
    width = 2 * trim.width + 2 * bleed
    natural = width / matter.aspect(photo)
    foot = max(grid.picture_margins.foot, _band_for_caption(matter))
    highest = trim.height + bleed - foot
    boxes = []
    if not matter.words.get(f"caption:{photo}"):
        boxes.append(Rect(-bleed, -bleed, width, trim.height + 2 * bleed))
    if natural >= highest:
        return [*boxes, Rect(-bleed, -bleed, width, highest)]
    if trim.height - (natural - bleed) <= BROAD_BAND * trim.height:
        return [*boxes, Rect(-bleed, -bleed, width, natural)]
    top = max(grid.picture_margins.head, trim.height * OPTICAL_CENTRE - natural / 2)
    return [*boxes, Rect(-bleed, min(top, trim.height - foot - natural), width, natural)]


def _band_for_caption(matter: Matter) -> float:
    grid = matter.grid
    need = caption_height(matter, matter.block.photos[:1], grid.caption_measure)
    most = MOST_CAPTION * grid.trim.height
    return min(most, need + grid.picture_margins.foot / 2) if need else 0.0


def lay_reaching(matter: Matter, family: Family) -> Iterator[Laid]:
    """Give the picture on one page, bled off at its fore-edge, reaching over the fold.

    First to the side where less to look at lies in the fold. The caption stands beneath the part
    that reaches over.
    """
    if not facing_pair(matter.numbers):
        return
    sides = [fit for to_right in (True, False) if (fit := _fit_reaching(matter, to_right))]
    for _, box, crop, to_right in sorted(sides, key=lambda s: s[0]):
        pages = _lay_over_fold(matter, family, box, crop, folio=True)
        under = _find_under(matter, box, to_right)
        captions = place_caption(matter, [(matter.block.photos[0], under)], under)
        host = 0 if to_right else 1
        both = [with_frames(p, *captions) if i == host else p for i, p in enumerate(pages)]
        yield Laid(tuple(both))


def _fit_reaching(matter: Matter, to_right: bool) -> tuple[float, Rect, Rect, bool] | None:
    """Give the share of the salient in the fold, the box (the left page's space) and the crop."""
    grid, photo = matter.grid, matter.block.photos[0]
    trim, margins = grid.trim, grid.picture_margins
    aspect, look = matter.aspect(photo), matter.photos[photo].look
    below = caption_height(matter, (photo,), LEAST_UNDER)
    fits = []
    for reach in REACHES:
        width = trim.width * (1.0 + reach) + grid.bleed
        height = width / aspect
        top = grid.hang(height)
        if height > trim.height - margins.head - max(margins.foot, below):
            continue
        top = min(top, trim.height - max(margins.foot, below) - height)
        x = trim.width * (1.0 - reach) if to_right else -grid.bleed
        box = Rect(x, top, width, height)
        crop = matter.crop_across(photo, box)
        if crop is None:
            continue
        fold = crop.x + crop.width * (trim.width - box.x) / box.width
        band = crop.width * matter.book.arranging.face_from_fold / box.width
        inside = Rect(fold - band, crop.y, 2 * band, crop.height)
        fits.append((look.salience.within(inside) if look else 0.0, box, crop, to_right))
    return min(fits, key=lambda f: (round(f[0], 3), f[1].width), default=None)


def _find_under(matter: Matter, box: Rect, to_right: bool) -> Rect:
    """Give what the caption stands beneath, in the space of the page reached over to."""
    trim, inner = matter.grid.trim, matter.grid.picture_margins.inner
    if to_right:
        return Rect(box.x, box.y, trim.width - inner - box.x, box.height)
    return Rect(inner, box.y, box.right - trim.width - inner, box.height)


def _lay_over_fold(
    matter: Matter, family: Family, box: Rect, crop: Rect, folio: bool
) -> tuple[PageLayout, PageLayout]:
    """Give both pages; ``box`` is in the left one's space."""
    photo, media = matter.block.photos[0], matter.grid.media
    left, right = matter.numbers
    shifted = box.moved(-matter.grid.trim.width, 0.0)
    name, arranged = family.name, family.arrange
    return (
        PageLayout(left, name, (PictureFrame(box, photo, crop, media),), folio, arranged),
        PageLayout(right, name, (PictureFrame(shifted, photo, crop, media),), folio, arranged),
    )
