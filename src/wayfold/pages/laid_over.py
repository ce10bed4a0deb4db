"""The book as a reader turns it: every opening with its translucent leaves lying over the pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Contour, Drawing, Item, Placed, Shape
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.pages.see_through import Sheet, veil_of
from wayfold.plan.model import EndRole, Plan


@dataclass(frozen=True, slots=True)
class ReadingPage:
    """A page of the reading file: page ``page`` of the book, bare (``drawing`` None) or veiled."""

    page: int
    drawing: Drawing | None = None


def order_reading(
    plan: Plan, drawings: Sequence[Drawing], leaves: Sequence[InterleafLeaf], sheet: Sheet
) -> tuple[ReadingPage, ...]:
    """Give the pages as a reader meets them, turning every leaf of the paper ``sheet``.

    Each leaf adds two: the page it covers as it lies, and the page it covers once turned. So the
    bare pages follow each other as without leaves, and left and right stay what they are. Stubs
    cover nothing.
    """
    by_gap: dict[int, list[InterleafLeaf]] = {}
    for leaf in order_leaves(plan, leaves):
        if leaf.role is not EndRole.STUB:
            by_gap.setdefault(leaf.after_page, []).append(leaf)
    pages = dict(enumerate(drawings, start=1))
    return tuple(_walk(pages, by_gap, veil_of(sheet)))


def order_leaves(plan: Plan, leaves: Sequence[InterleafLeaf]) -> tuple[InterleafLeaf, ...]:
    """Give the leaves in the order a reader turns them.

    Of two sheets at one depth the one named first lies outside: its first leaf comes before the
    other's, its second after.
    """

    def key(leaf: InterleafLeaf) -> tuple[int, int, int]:
        inner = plan.interleaves[leaf.interleaf].depth is None
        turn = -leaf.interleaf if leaf.end else leaf.interleaf
        return leaf.after_page, 2 if leaf.end else int(inner), turn

    return tuple(sorted(leaves, key=key))


def _walk(
    pages: Mapping[int, Drawing], by_gap: Mapping[int, Sequence[InterleafLeaf]], veil: Colour
) -> Iterator[ReadingPage]:
    for number in range(len(pages) + 1):
        if number:
            yield ReadingPage(number)
        leaves = by_gap.get(number, ())
        for turned in range(len(leaves) + 1):
            if turned:
                faces = [(leaf.verso, leaf.recto) for leaf in leaves[:turned]]
                yield _veil(pages, number, leaves[0], faces, veil)
            if turned < len(leaves):
                faces = [(leaf.recto, leaf.verso) for leaf in reversed(leaves[turned:])]
                yield _veil(pages, number + 1, leaves[0], faces, veil)


def _veil(
    pages: Mapping[int, Drawing],
    number: int,
    leaf: InterleafLeaf,
    faces: Sequence[tuple[Drawing, Drawing]],
    veil: Colour,
) -> ReadingPage:
    """Lay leaves, the lowest first, each as (upper face, lower face), over a page or nothing."""
    under = pages.get(number)
    items: list[Item] = list(under.items) if under else []
    for upper, lower in faces:
        # The ink on the face turned down shows through, left and right changed.
        items.append(Placed(lower, Affine(-1.0, 0.0, 0.0, 1.0, upper.size.width, 0.0)))
        items.append(_cover(upper.media_box, veil))
        items.append(Placed(upper))
    label = f"page {number} under the {leaf.label}"
    size, bleed = leaf.recto.size, leaf.recto.bleed
    return ReadingPage(number, Drawing(label, size, bleed, tuple(items)))


def _cover(rect: Rect, veil: Colour) -> Shape:
    corners = (
        Point(rect.x, rect.y),
        Point(rect.right, rect.y),
        Point(rect.right, rect.bottom),
        Point(rect.x, rect.bottom),
    )
    return Shape((Contour(corners, closed=True),), fill=veil)
