"""The book as a reader turns it: every opening with its translucent leaves lying over the pages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from wayfold.base.hashing import hash_values
from wayfold.base.memory import Memory
from wayfold.book.see_through import Sheet
from wayfold.drawing.items import Drawing, Picture, Placed
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.plan.model import EndRole, Plan


@dataclass(frozen=True, slots=True)
class Face:
    """A leaf as it lies: the ink on the face turned up, and on the one turned down.

    Both are drawn as they are read, so what is turned down shows with left and right changed.
    """

    upper: Drawing
    lower: Drawing


@dataclass(frozen=True, slots=True)
class Veiled:
    """A page (None where nothing lies there) under leaves of the paper ``sheet``, lowest first.

    It is shown as a picture of all that lies beneath the uppermost face, and that face's own ink,
    sharp, on top.
    """

    label: str
    under: Drawing | None
    faces: tuple[Face, ...]
    sheet: Sheet

    asset: str
    """The name of that picture: the identity of all that is in it but the photographs."""

    @property
    def picture(self) -> Picture:
        """The place of the picture of what shows through."""
        return Picture(self.faces[-1].upper.media_box, self.asset)

    @property
    def drawing(self) -> Drawing:
        """What a reader sees, the picture of it still to be made."""
        top = self.faces[-1].upper
        return Drawing(self.label, top.size, top.bleed, (self.picture, Placed(top)))


@dataclass(frozen=True, slots=True)
class ReadingPage:
    """A page of the reading file: page ``page`` of the book, bare (``veiled`` None) or veiled."""

    page: int
    veiled: Veiled | None = None


def order_reading(
    plan: Plan,
    drawings: Sequence[Drawing],
    leaves: Sequence[InterleafLeaf],
    sheet: Sheet,
    memory: Memory | None = None,
) -> tuple[ReadingPage, ...]:
    """Give the pages as a reader meets them, turning every leaf of the paper ``sheet``.

    Each leaf adds two: the page it covers as it lies, and the page it covers once turned. So the
    bare pages follow each other as without leaves, and left and right stay what they are. Stubs
    cover nothing. What is in ``memory`` from the last time is not worked out again.
    """
    by_gap: dict[int, list[InterleafLeaf]] = {}
    for leaf in order_leaves(plan, leaves):
        if leaf.role is not EndRole.STUB:
            by_gap.setdefault(leaf.after_page, []).append(leaf)
    pages = dict(enumerate(drawings, start=1))
    return tuple(_walk(pages, by_gap, sheet, memory or Memory()))


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
    pages: Mapping[int, Drawing],
    by_gap: Mapping[int, Sequence[InterleafLeaf]],
    sheet: Sheet,
    memory: Memory,
) -> Iterator[ReadingPage]:
    for number in range(len(pages) + 1):
        if number:
            yield ReadingPage(number)
        leaves = by_gap.get(number, ())
        for turned in range(len(leaves) + 1):
            for page, mine in (
                (number, [Face(leaf.verso, leaf.recto) for leaf in leaves[:turned]]),
                (number + 1, [Face(leaf.recto, leaf.verso) for leaf in reversed(leaves[turned:])]),
            ):
                if mine:
                    label = f"page {page} under the {leaves[0].label}"
                    under = pages.get(page)
                    veiled = memory.recall(_veil, label, under, tuple(mine), sheet, at=label)
                    yield ReadingPage(page, veiled)


def _veil(label: str, under: Drawing | None, faces: tuple[Face, ...], sheet: Sheet) -> Veiled:
    beneath = hash_values(under, faces[:-1], faces[-1].lower, sheet)
    return Veiled(label, under, faces, sheet, f"seen through leaves {beneath}")
