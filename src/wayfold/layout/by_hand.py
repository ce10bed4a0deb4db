"""What the person laid by hand. Nothing is mended: what looks wrong is judged later."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.mends import Mend
from wayfold.book.arranging import BY_HAND, HandLaid, PlacedPicture
from wayfold.book.families import Arrange, Family
from wayfold.layout.by_hand_texts import leave_out_placed
from wayfold.layout.captions import CAPTION_GAP, caption_width, join_captions, place_caption
from wayfold.layout.cropping import cut_to
from wayfold.layout.grid import COLUMN_GAP
from wayfold.layout.homes import is_clear
from wayfold.layout.judge import shown_box
from wayfold.layout.matter import Laid, Matter, facing_pair, on_recto
from wayfold.layout.model import Frame, PageLayout, PictureFrame, TextFrame
from wayfold.layout.ways import Way

FAMILY = Family(BY_HAND, Arrange.PLACES)
SAME_SHAPE = 1e-3
"""A box that differs from its picture's shape by so little was drawn to it."""
BESIDE_LEAST = 38.0
"""A caption beside pictures wants so much width (mm)."""


def find_hand(matter: Matter) -> Way | None:
    """Give the way that the person laid a block in, where they did and it still fits."""
    if not obeys_hand(matter) or matter.hand is None or not matter.hand.pictures:
        return None
    return Way(BY_HAND, FAMILY, 1.0, lay_by_hand(leave_out_placed(matter), matter.hand))


def obeys_hand(matter: Matter) -> bool:
    """Whether a block was laid by hand so that it still fits."""
    return matter.hand is not None and not say_misfit(matter, matter.hand)


def tell_set_aside(matters: Sequence[Matter], by_hand: Mapping[str, HandLaid]) -> Iterator[Finding]:
    """Name what was placed by hand and cannot be obeyed any more."""
    known = {matter.block.id: matter for matter in matters}
    for block, hand in by_hand.items():
        matter = known.get(block)
        misfit = say_misfit(matter, hand) if matter else "they are in the book as one group no more"
        if misfit:
            yield Finding(
                "layout.hand-set-aside",
                Severity.WARN,
                f"page {matter.numbers[0]}" if matter else f"book.toml, layout.by_hand.{block}",
                f"What was placed by hand lies as the layout chose, for {misfit}.",
                f"What you placed is kept: place them anew, or let it go ({Mend.BY_HAND}).",
            )


def say_misfit(matter: Matter, hand: HandLaid) -> str:
    """Say why a placing does not fit its block any more; "" where it does."""
    recto = on_recto(matter.numbers[0])
    if hand.begins != ("recto" if recto else "verso"):
        return f"they now begin on a {'recto' if recto else 'verso'}"
    if hand.pictures and {one.photo for one in hand.pictures} != set(matter.block.photos):
        return "their group now has other pictures"
    if max((one.page for one in hand.pictures), default=1) > len(matter.numbers):
        return "they now have one page only"
    return ""


def lay_by_hand(matter: Matter, hand: HandLaid, beside: Sequence[PageLayout] = ()) -> Laid:
    """Give the pictures in their places, with captions under them, else beside or above them.

    ``beside`` are the block's pages where it has titles or texts too, which stay as they are.
    A caption that finds no white on its page is left to look for it on one near by.
    """
    frames: dict[int, list[Frame]] = {number: [] for number in matter.numbers}
    for one in hand.pictures:
        for number, frame in _show(matter, one):
            frames[number].append(frame)
    around = {page.number: page for page in beside}
    for number, page in around.items():
        frames[number] += (f for f in page.frames if not _belongs_to_pictures(f))
    homeless: list[tuple[int, str]] = []
    captioned: set[str] = set()
    # From the last page on: the caption of a picture across stands where the eye leaves it.
    for number in reversed(matter.numbers):
        shown = [f for f in frames[number] if isinstance(f, PictureFrame)]
        placed = [(f.photo, _seen(matter, f)) for f in shown if f.photo not in captioned]
        across = {f.photo for f in shown if number - 1 in frames and _on(frames[number - 1], f)}
        found = _find_caption(matter, number, frames[number], placed)
        if found is None:
            # What else shows on the page before may yet find white there.
            homeless += [
                (number, photo)
                for photo, _ in placed
                if photo not in across and matter.words.get(f"caption:{photo}")
            ]
            captioned |= {photo for photo, _ in placed} - across
        else:
            frames[number] += found
            captioned |= {photo for photo, _ in placed}
    pages = (_make_page(number, frames[number], around.get(number)) for number in matter.numbers)
    return Laid(tuple(pages), tuple(homeless))


def _make_page(number: int, frames: Sequence[Frame], before: PageLayout | None) -> PageLayout:
    shows = any(isinstance(frame, PictureFrame) for frame in frames)
    if before is None:
        return PageLayout(number, BY_HAND if frames else "blank", tuple(frames))
    family = BY_HAND if shows else before.family
    return PageLayout(number, family, tuple(frames), folio=before.folio and bool(frames))


def _belongs_to_pictures(frame: Frame) -> bool:
    if isinstance(frame, TextFrame):
        return frame.key.startswith("caption")
    return isinstance(frame, PictureFrame)


def _show(matter: Matter, one: PlacedPicture) -> Iterator[tuple[int, PictureFrame]]:
    """Give a picture's frame on each page that shows it."""
    grid, number, box = matter.grid, matter.numbers[one.page - 1], one.box
    if facing_pair(matter.numbers):
        if on_recto(number):  # the left page's space is that of both
            number, box = number - 1, box.moved(grid.trim.width, 0.0)
        if _lies_over(box, grid.trim.width, grid.bleed):
            crop = _crop(matter, one, box, None)
            for at in (0, 1):
                moved = box.moved(-at * grid.trim.width, 0.0)
                yield number + at, PictureFrame(moved, one.photo, crop, grid.media)
            return
        number, box = matter.numbers[one.page - 1], one.box
    crop = _crop(matter, one, box, number)
    clip = None if grid.media.contains(box) else grid.media
    yield number, PictureFrame(box, one.photo, crop, clip)


def _lies_over(box: Rect, fold: float, bleed: float) -> bool:
    """Whether a box reaches farther over the fold than a bleed does, to either side."""
    return box.x < fold - bleed - 0.01 and box.right > fold + bleed + 0.01


def _crop(matter: Matter, one: PlacedPicture, box: Rect, number: int | None) -> Rect:
    """Give what is shown: the person's own, else what keeps what matters, else the middle.

    ``number`` is None for a box across the fold.
    """
    whole, wanted = matter.photos[one.photo].size.aspect, box.size.aspect
    if one.crop is not None:
        return cut_to(one.crop, whole, wanted)
    part = matter.whole(one.photo, box).crop
    if abs(matter.aspect(one.photo) / wanted - 1.0) < SAME_SHAPE:
        return cut_to(part, whole, wanted)
    if number is None:
        found = matter.crop_across(one.photo, box)
    else:
        found = matter.crop_on_page(one.photo, box, number)
    return found or cut_to(part, whole, wanted)


def _on(frames: Sequence[Frame], frame: PictureFrame) -> bool:
    return any(isinstance(f, PictureFrame) and f.photo == frame.photo for f in frames)


def _seen(matter: Matter, frame: PictureFrame) -> Rect:
    """Give what of a picture is seen on the cut page."""
    page = matter.grid.media.grown(-matter.grid.bleed)
    return shown_box(frame).overlap(page) or shown_box(frame)


def _find_caption(
    matter: Matter, number: int, frames: Sequence[Frame], placed: list[tuple[str, Rect]]
) -> tuple[TextFrame, ...] | None:
    """Give the captions of pictures in white of their page, or None where there is none."""
    paragraphs = join_captions(matter, placed) if placed else ()
    if not paragraphs:
        return ()
    area = matter.grid.picture_area(on_recto(number))
    page = PageLayout(number, BY_HAND, tuple(frames))
    for captions in _try_places(matter, placed, area):
        boxes = [caption.box for caption in captions]
        if all(area.grown(0.5).contains(box) and is_clear(page, box, 0.5) for box in boxes):
            return captions
    return None


def _try_places(
    matter: Matter, placed: list[tuple[str, Rect]], area: Rect
) -> Iterator[tuple[TextFrame, ...]]:
    """Give places for captions: under all pictures, on their right, on their left, above them.

    Last under each single one, the lowest first, where white is left between them.
    """
    left, top = min(r.x for _, r in placed), min(r.y for _, r in placed)
    right, bottom = max(r.right for _, r in placed), max(r.bottom for _, r in placed)
    # A picture that passes the margins has its caption on them.
    x = max(left, area.x)
    bounds = Rect(x, top, max(min(right, area.right) - x, BESIDE_LEAST), bottom - top)
    under = place_caption(matter, placed, bounds)
    yield under
    key, paragraphs = under[0].key, join_captions(matter, placed)
    for start, end in ((right + COLUMN_GAP, area.right), (area.x, left - COLUMN_GAP)):
        if end - start >= BESIDE_LEAST:
            width = caption_width(matter, end - start, paragraphs)
            foot = min(bottom, area.bottom)
            yield (matter.set_text(key, paragraphs, start, foot, width, stands=True),)
    width = caption_width(matter, bounds.width, paragraphs)
    yield (matter.set_text(key, paragraphs, x, top - CAPTION_GAP, width, stands=True),)
    for _, rect in sorted(placed, key=lambda one: -one[1].bottom):
        start = max(rect.x, area.x)
        width = caption_width(matter, min(rect.right, area.right) - start, paragraphs)
        yield (matter.set_text(key, paragraphs, start, rect.bottom + CAPTION_GAP, width),)
