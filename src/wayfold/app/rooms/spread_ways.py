"""Other ways for a spread to lie, each as its own small pages, and the one that is taken."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.arranging import list_ways_of_spread
from wayfold.app.rooms.spread import find_pages
from wayfold.app.rooms.spread_placing import LEAST_CROP, is_by_hand
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.views import PageSide
from wayfold.base.errors import NotFoundError
from wayfold.base.geometry import Rect
from wayfold.base.hashing import hash_values
from wayfold.book.edits import Edit, PlaceByHand, SetWays
from wayfold.drawing.items import Drawing, Picture
from wayfold.layout.arrange import finish_pages
from wayfold.layout.ways import list_ways
from wayfold.photos.crop import WHOLE
from wayfold.photos.derive import make_preview
from wayfold.plan.paper import is_recto
from wayfold.project.cache import DiskCache

SHOWN_PX = 700
DIGITS = 12
"""So many of a content's digits tell one from another."""


@dataclass(frozen=True, slots=True)
class WayView:
    """A way for a spread to lie: its blocks with their ways, and its pages as SVG."""

    choice: tuple[tuple[str, str], ...]
    pages: tuple[tuple[PageSide, str], ...]

    @property
    def name(self) -> str:
        """How it is called: its ways in the order of the pages."""
        return ", then ".join(way for _, way in self.choice)


@dataclass(frozen=True, slots=True)
class WaysView:
    """How a spread lies now and could lie otherwise, the best first."""

    now: WayView
    ways: tuple[WayView, ...]


def show_ways(shown: Shown, page: int) -> WaysView:
    """Give the ways for the spread with ``page``; none where it holds no pictures of its own.

    Raises NotFoundError where the book has no such page.
    """
    results = shown.results
    pages, blocks = find_pages(results, page), results.blocks
    found = list_ways_of_spread(results, page)
    names = [block for block, _ in found[0]] if found else []
    now = tuple((block, blocks.ways[block].name) for block in names)
    return WaysView(
        _show(shown, now, results.compose(results.layout), pages),
        tuple(
            _show(
                shown,
                tuple((block, way.name) for block, way in ways),
                results.compose(finish_pages(blocks, ways)),
                pages,
            )
            for ways in found
        ),
    )


def take_ways(session: Session, choice: Sequence[tuple[str, str | None]]) -> None:
    """Lay blocks in the ways named; None leaves the choice to the layout again.

    What was placed by hand in these blocks is given up. Raises NotFoundError for a block that has
    no such way.
    """
    results = session.results
    matters = {matter.block.id: matter for matter in results.blocks.matters}
    for block, name in choice:
        if block not in results.blocks.ways:
            raise NotFoundError("These pictures lie in one way only.")
        known = list_ways(matters[block], tried=results.blocks.tried)
        if name is not None and name not in {way.name for way in known}:
            raise NotFoundError(f"These pictures cannot lie in a way called “{name}”.")
    edits: list[Edit] = [SetWays(tuple(choice))]
    by_hand = [block for block, _ in choice if is_by_hand(results, block)]
    if by_hand:
        edits.append(PlaceByHand(tuple((block, None) for block in by_hand)))
    session.edit(*edits)


def cut_part(session: Session, photo: str, part: Rect) -> Path:
    """Give a small JPEG of a part of a photograph (fractions of it upright), made once.

    Raises NotFoundError for a photograph or a part that there is not.
    """
    known = session.results.photos.get(photo)
    if known is None:
        raise NotFoundError("This picture is not in the book.")
    if not WHOLE.contains(part) or min(part.width, part.height) < LEAST_CROP / 2:
        raise NotFoundError("There is no such part of a picture.")
    kept = DiskCache(session.folder.cache, "previews", ".jpg")
    path = kept.path(hash_values("part", part, known.content, SHOWN_PX))
    if not path.is_file():
        make_preview(known, part, SHOWN_PX, path)
    return path


def _show(
    shown: Shown,
    choice: tuple[tuple[str, str], ...],
    drawings: Sequence[Drawing],
    pages: Iterable[int],
) -> WayView:
    def address(picture: Picture) -> str:
        content, crop = shown.results.photos[picture.asset].content, picture.crop
        sides = "_".join(f"{side:.5f}" for side in (crop.x, crop.y, crop.width, crop.height))
        return f"/api/spread/part/{picture.asset}/{content[:DIGITS]}/{sides}.jpg"

    drawn: list[tuple[PageSide, str]] = [
        ("recto" if is_recto(number) else "verso", shown.draw_svg(drawings[number - 1], address))
        for number in pages
    ]
    return WayView(choice, tuple(drawn))
