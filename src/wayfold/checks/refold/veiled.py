"""What the reading file shows of the leaves: each where it falls, over the page beneath it.

A veil lightens what lies under it, so whatever is darker than a veil can leave anything is ink on
the face that lies uppermost.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.naming.evidence import block
from wayfold.checks.refold.naming.leaves import AGAIN, PlannedLeaf
from wayfold.checks.refold.rendering import Grey, Pages, place_trim

Mask = npt.NDArray[np.bool_]

PX_PER_MM = 5
INK = 0.9
"""Ink on a leaf counts that is so much of the darkest that shows through it, or darker."""
BARE = 235.0
"""A leaf as light as this bears nothing to speak of."""
SHARE = 0.1
"""So much of the ink may be lost to the edges of letters."""
LEAST = 1.0
"""Ink (mm2) too little to tell anything by."""
ALIKE = 0.8
"""How closely (correlation) a page seen through leaves follows the page itself."""
EVERY = 3
"""Pixels from one that is compared to the next."""
SOFTER = 4
"""So many times a page is softened, a gap's blur being unknown, until it is given up."""
KEPT = 8
"""Faces kept in mind: those of one opening and the next."""
PLAIN = 8.0
"""A page whose greys spread less than this shows too little through a veil."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A page of the reading file (``place``, from 0) seen through leaves, the uppermost first.

    ``page`` is the one beneath; 0 or one more than there are: nothing lies there. ``recto`` says
    which face of the leaves is seen.
    """

    place: int
    page: int
    recto: bool
    leaves: tuple[PlannedLeaf, ...]


@dataclass(frozen=True, slots=True)
class ReadingOrder:
    """Where (from 0) the reading file has every bare page, and its openings."""

    bare: Mapping[int, int]
    openings: tuple[Opening, ...]

    @property
    def pages(self) -> int:
        """All pages of the file."""
        return len(self.bare) + len(self.openings)


def order_reading(folding: Folding, turned: Sequence[PlannedLeaf]) -> ReadingOrder:
    """Give what the reading file should have where; ``turned`` are its leaves as they are met.

    Stubs cover nothing.
    """
    by_gap: dict[int, list[PlannedLeaf]] = {}
    for leaf in turned:
        interleaf = folding.interleaves[leaf.interleaf]
        if not interleaf.is_stub(leaf.leaf):
            by_gap.setdefault(interleaf.after[leaf.leaf], []).append(leaf)
    bare: dict[int, int] = {}
    openings: list[Opening] = []
    for number in range(folding.pages + 1):
        if number:
            bare[number] = len(bare) + len(openings)
        leaves = by_gap.get(number, [])
        for n in range(len(leaves)):
            place = len(bare) + len(openings)
            openings.append(Opening(place, number + 1, True, tuple(leaves[n:])))
            openings.append(Opening(place + 1, number, False, tuple(leaves[n::-1])))
    return ReadingOrder(bare, tuple(openings))


def judge_reading(
    folding: Folding, reading: Path, leaves: Path, filed: Sequence[PlannedLeaf], order: ReadingOrder
) -> Iterator[Finding]:
    """Name the leaves that the reading file shows otherwise than they fall.

    ``filed`` are the leaves in the order of the file ``leaves``. A reading file with another
    number of pages, as one of bare pages alone, is not judged here.
    """
    faces = {leaf: 2 * n for n, leaf in enumerate(filed)}
    book, file = Pages(reading), Pages(leaves)
    try:
        if book.count != order.pages or file.count < 2 * len(filed):
            return
        desk = _Desk(folding, book, file, faces, {})
        for opening in order.openings:
            under = order.bare.get(opening.page)
            for fault in _judge_opening(desk, opening, under):
                after = folding.interleaves[opening.leaves[0].interleaf].after
                leaf = f"the leaf after page {after[opening.leaves[0].leaf]}"
                where = f"page {opening.place + 1} of the reading file"
                yield block("reading-leaf", where, f"Under {leaf} {fault}.", AGAIN)
    finally:
        book.close()
        file.close()


@dataclass(frozen=True, slots=True)
class _Desk:
    folding: Folding
    book: Pages
    leaves: Pages
    faces: Mapping[PlannedLeaf, int]
    seen: dict[int, Grey]
    """Faces of leaves looked at before: each is looked at from both its pages."""

    def see(self, pages: Pages, place: int) -> Grey:
        window = Rect(0, 0, self.folding.trim.width, self.folding.trim.height)
        with pages.page(place) as page:
            return page.render(window, place_trim(page), PX_PER_MM)

    def see_face(self, leaf: PlannedLeaf, recto: bool) -> Grey:
        place = self.faces[leaf] + (0 if recto else 1)
        if place not in self.seen:
            if len(self.seen) >= KEPT:
                del self.seen[next(iter(self.seen))]
            self.seen[place] = self.see(self.leaves, place)
        return self.seen[place]


def _judge_opening(desk: _Desk, opening: Opening, under: int | None) -> Iterator[str]:
    shown = desk.see(desk.book, opening.place)
    face = desk.see_face(opening.leaves[0], opening.recto)
    ink = face <= INK * desk.folding.veiled_grey
    seen = shown < desk.folding.veiled_grey
    if _area(ink) >= LEAST and _area(ink & ~_widen(seen)) > SHARE * _area(ink):
        yield "the reading file lacks the ink that the leaf bears"
    elif _area((shown < desk.folding.veiled_grey) & ~_widen(face < BARE)) >= LEAST:
        yield "the reading file shows ink that the leaf does not bear"
    elif not _shows(shown, _see_page(desk, under, shown), _free_of_ink(desk, opening)):
        name = f"page {opening.page}" if under is not None else "nothing"
        yield f"the reading file shows something else than {name}"


def _see_page(desk: _Desk, under: int | None, shown: Grey) -> Grey:
    return np.full_like(shown, 255.0) if under is None else desk.see(desk.book, under)


def _free_of_ink(desk: _Desk, opening: Opening) -> Mask:
    """Where no leaf bears anything on either face, the lower ones' mirrored."""
    inked: Mask | None = None
    for leaf in opening.leaves:
        upper = desk.see_face(leaf, opening.recto) < BARE
        lower = desk.see_face(leaf, not opening.recto)[:, ::-1] < BARE
        inked = upper | lower if inked is None else inked | upper | lower
    assert inked is not None
    return ~_widen(_widen(inked))


def _shows(shown: Grey, page: Grey, free: Mask) -> bool:
    """Whether what is seen through leaves follows the page, as far as there is anything on it."""
    # Some thousands of places tell as much as all.
    few = (slice(None, None, EVERY), slice(None, None, EVERY))
    clear = free[few]
    through = shown[few][clear]
    if through.size == 0:
        return True
    if float(np.std(page[few][clear])) < PLAIN:
        return float(np.std(through)) < PLAIN
    if float(np.std(through)) == 0.0:
        return False
    for _ in range(SOFTER + 1):
        if float(np.corrcoef(through, page[few][clear])[0, 1]) >= ALIKE:
            return True
        page = _soften(page)
    return False


def _soften(grey: Grey) -> Grey:
    """A quarter, a half and a quarter of each pixel and its neighbours, down and across."""
    for axis in (0, 1):
        before, after = np.roll(grey, 1, axis), np.roll(grey, -1, axis)
        grey = (before + 2.0 * grey + after) / 4.0
    return grey


def _area(mask: Mask) -> float:
    """In mm2."""
    return float(np.count_nonzero(mask)) / PX_PER_MM**2


def _widen(mask: Mask) -> Mask:
    """The mask with every neighbour of what it holds: boxes are rounded to the pixel."""
    wide = mask.copy()
    wide[1:] |= mask[:-1]
    wide[:-1] |= mask[1:]
    tall = wide.copy()
    wide[:, 1:] |= tall[:, :-1]
    wide[:, :-1] |= tall[:, 1:]
    return wide
