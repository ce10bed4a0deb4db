"""What ink lies on each side of each sheet, and what of it an edit has changed.

A side's ink is told part by part, so that a change has a reason ("page 37: caption"). Parts are
compared by the identity of what is drawn; what cannot be seen (a label, a description for those
who do not see the picture) has no part in it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.base.hashing import hash_values
from wayfold.drawing.items import Drawing, Emblem, Item, Picture, Placed, Shape, Text
from wayfold.press.model import SheetSide, SideName, TwoSided

MARKS, PLACE = "marks", "place"
"""What a change of the fold, trim and collating marks is called, and one of where a page lies."""
INK_ML_PER_M2 = 10.8
SAME_PLACE = 1e-4
"""Millimetres: nothing that prints is so small."""


@dataclass(frozen=True, slots=True)
class Part:
    """One thing on a page: what it is ("caption 3f…", "picture 3f…", "folio 12"), and its ink."""

    what: str
    ink: str


@dataclass(frozen=True, slots=True)
class PageInk:
    """A page on a side: where it lies (page space to sheet space), what shows, and its parts."""

    page: int
    place: Affine
    clip: Rect
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class SideInk:
    """All ink of a sheet side; ``marks`` is the identity of the marks round the pages."""

    size: Size
    pages: tuple[PageInk, ...]
    marks: str


@dataclass(frozen=True, slots=True)
class SheetInk:
    """All ink of a sheet, named as reports name it ("gathering 2, sheet 1")."""

    label: str
    front: SideInk
    back: SideInk

    @property
    def sides(self) -> tuple[tuple[SideName, SideInk], ...]:
        """Front, then back."""
        return ((SideName.FRONT, self.front), (SideName.BACK, self.back))


@dataclass(frozen=True, slots=True)
class Change:
    """What differs on a side: something on a page, or the marks (``page`` None).

    Where all of a page lies elsewhere, ``what`` is "place" and ``moved`` says how far (mm).
    """

    side: SideName
    page: int | None
    what: str
    moved: float = 0.0


def trace_sheets(
    sheets: Sequence[TwoSided], drawings: Sequence[Drawing], contents: Mapping[str, str]
) -> tuple[SheetInk, ...]:
    """Give the ink of sheets that carry ``drawings`` (page n is the n-th).

    ``contents`` has the identity of each picture's file, by the asset that drawings name.
    """
    sides = (side for sheet in sheets for side in (sheet.front, sheet.back))
    pages = {slot.page for side in sides for slot in side.slots}
    parts = {page: tuple(_list_parts(drawings[page - 1], contents)) for page in pages}
    return tuple(
        SheetInk(
            sheet.label,
            _trace_side(sheet.front, sheet.size, parts),
            _trace_side(sheet.back, sheet.size, parts),
        )
        for sheet in sheets
    )


def list_changes(printed: SheetInk, now: SheetInk) -> tuple[Change, ...]:
    """Give what differs between a sheet as it was printed and as it is now, front first."""
    return tuple(
        chain.from_iterable(
            _compare_sides(name, was, new)
            for (name, was), (_, new) in zip(printed.sides, now.sides, strict=True)
        )
    )


def estimate_ink_ml(sheet: SheetInk) -> float:
    """Give about how much ink (ml) a sheet takes, by the area of its pages.

    One millilitre a square foot is the printers' rule of thumb for photographs; single pictures
    take from a third to one and a half times as much.
    """
    area_mm2 = sum(page.clip.area for _, side in sheet.sides for page in side.pages)
    return INK_ML_PER_M2 * area_mm2 / 1e6


def _trace_side(side: SheetSide, size: Size, parts: Mapping[int, tuple[Part, ...]]) -> SideInk:
    good = side.made_good
    pages = tuple(
        PageInk(s.page, s.transform.then(good), s.clip, parts[s.page]) for s in side.slots
    )
    return SideInk(size, pages, hash_values(side.marks.items, good))


def _list_parts(drawing: Drawing, contents: Mapping[str, str]) -> Iterator[Part]:
    for item in drawing.items:
        yield Part(_name_item(item), hash_values(_leave_unseen(item, contents)))


def _name_item(item: Item) -> str:
    if isinstance(item, Text):
        return item.key.replace(":", " ")
    if isinstance(item, Picture):
        return f"picture {item.asset}"
    if isinstance(item, Emblem):
        return "emblem"
    return f"drawing {item.drawing.label}" if isinstance(item, Placed) else "lines"


def _leave_unseen(item: Item, contents: Mapping[str, str]) -> object:
    """Give what of an item shows in print."""
    if isinstance(item, Text):
        return replace(item, key="")
    if isinstance(item, Picture):
        return replace(item, alt="", asset=contents.get(item.asset, item.asset))
    if isinstance(item, Shape | Emblem):
        return item
    inner = [_leave_unseen(i, contents) for i in item.drawing.items]
    return (inner, item.transform, item.clip)


def _compare_sides(name: SideName, was: SideInk, now: SideInk) -> Iterator[Change]:
    if was.size != now.size:
        yield Change(name, None, "sheet")
    if was.marks != now.marks:
        yield Change(name, None, MARKS)
    for before, after in zip(was.pages, now.pages, strict=False):
        if before.page != after.page:
            yield Change(name, after.page, f"page {before.page}")
            continue
        for what in _name_changed(before.parts, after.parts):
            yield Change(name, after.page, what)
        moved = max(_measure_move(before, after), _measure_cut(before, after))
        if moved > SAME_PLACE:
            yield Change(name, after.page, PLACE, moved)
    for page in now.pages[len(was.pages) :]:
        yield Change(name, page.page, "all")
    for page in was.pages[len(now.pages) :]:
        yield Change(name, page.page, "gone")


def _name_changed(was: Sequence[Part], now: Sequence[Part]) -> tuple[str, ...]:
    if was == now:
        return ()
    named = dict.fromkeys(p.what for p in (*was, *now) if was.count(p) != now.count(p))
    return tuple(named) or ("order",)


def _measure_move(before: PageInk, after: PageInk) -> float:
    """How far the corner of what shows moves that moves the most, in mm."""
    page = before.place.inverse().apply_rect(before.clip)
    corners = (Point(page.x, page.y), Point(page.right, page.y), Point(page.x, page.bottom))
    pairs = [(before.place.apply(c), after.place.apply(c)) for c in corners]
    return max(math.hypot(a.x - b.x, a.y - b.y) for a, b in pairs)


def _measure_cut(before: PageInk, after: PageInk) -> float:
    one, other = before.clip, after.clip
    return max(
        abs(one.x - other.x),
        abs(one.y - other.y),
        abs(one.right - other.right),
        abs(one.bottom - other.bottom),
    )
