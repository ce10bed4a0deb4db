"""The room Spread: two facing pages as they are now."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.app.rooms.spread_findings import find_faults
from wayfold.app.rooms.spread_frames import list_frames
from wayfold.app.rooms.spread_leaves import show_leaves
from wayfold.app.rooms.spread_views import BlockView, LaidPageView, SpreadView
from wayfold.app.shown import Shown
from wayfold.app.stages import Results
from wayfold.app.views import BookView
from wayfold.base.errors import NotFoundError
from wayfold.base.units import mm_from_pt
from wayfold.layout.captions import CAPTION_GAP
from wayfold.layout.fixed import FIXED
from wayfold.layout.grid import COLUMNS, Grid, make_grid
from wayfold.plan.paper import is_recto


def show_spread(shown: Shown, page: int) -> SpreadView:
    """Give the spread with ``page``. Raises NotFoundError where the book has no such page."""
    results, view = shown.results, shown.view()
    pages = find_pages(results, page)
    grid, arranging = make_grid(results.book), results.book.arranging
    frames = tuple(frame for number in pages for frame in list_frames(results, number))
    return SpreadView(
        revision=view.revision,
        page_count=len(view.pages),
        pages=tuple(_show_page(results, view, grid, number) for number in pages),
        trim=grid.trim,
        bleed=grid.bleed,
        face_from_trim=arranging.face_from_trim,
        face_from_fold=arranging.face_from_fold,
        caption_gap=CAPTION_GAP,
        gap=grid.gap,
        sunk=grid.sunk,
        frames=frames,
        blocks=tuple(_list_blocks(results, pages)),
        findings=find_faults(results, pages, frames),
        interleaf=show_leaves(results, view, pages),
    )


def find_pages(results: Results, page: int) -> tuple[int, ...]:
    """Give the pages of the spread with ``page``. Raises NotFoundError where there is no such."""
    count = len(results.layout.pages)
    if not 1 <= page <= count:
        raise NotFoundError(f"The book has no page {page}.")
    left = page - 1 if is_recto(page) else page
    return tuple(n for n in (left, left + 1) if 1 <= n <= count)


def _show_page(results: Results, view: BookView, grid: Grid, number: int) -> LaidPageView:
    about, recto = view.pages[number - 1], is_recto(number)
    text = grid.text_area(recto)
    return LaidPageView(
        number=number,
        side=about.side,
        label=about.label,
        chapter=about.chapter,
        family=results.layout.pages[number - 1].family,
        picture_area=grid.picture_area(recto),
        text_area=text,
        columns=tuple(grid.column(first, 1, recto) for first in range(COLUMNS)),
        baseline_first=text.y + mm_from_pt(_body_rise(results)),
        baseline_step=grid.baseline,
    )


def _body_rise(results: Results) -> float:
    """Give how far (pt) under its box's top the first line of running text stands."""
    body = results.book.style.body
    return body.leading_pt - body.size_pt / 4


def _list_blocks(results: Results, pages: tuple[int, ...]) -> Iterator[BlockView]:
    names = dict.fromkeys(results.plan.pages[number - 1].block for number in pages)
    for name in names:
        if name is None:
            continue
        block = results.story.block(name)
        numbers = tuple(page.number for page in results.plan.pages if page.block == name)
        way = results.blocks.ways.get(name)
        yield BlockView(
            id=name,
            name=block.kind.value,
            pages=numbers,
            way=None if way is None or block.kind in FIXED else way.name,
            chosen=name in results.book.arranging.ways,
            by_hand=name in results.blocks.by_hand,
        )
