"""The whole book laid out: a family for each block, facing pages judged together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from wayfold.base.findings import Finding, Severity
from wayfold.base.memory import Aside, Memory
from wayfold.base.mends import Mend
from wayfold.book.arranging import BY_HAND
from wayfold.book.state import Book
from wayfold.drawing.text import TextMeasurer
from wayfold.layout.by_hand import obeys_hand, tell_set_aside
from wayfold.layout.by_hand_texts import place_texts
from wayfold.layout.facing import align_heads, match_companions
from wayfold.layout.fixed import FIXED, lay_fixed
from wayfold.layout.gather import gather_matters
from wayfold.layout.homes import house_captions, set_day_lines
from wayfold.layout.judge import judge_pages
from wayfold.layout.matter import Laid, Matter, blank_page
from wayfold.layout.model import BookLayout, Frame, PageLayout, PictureFrame
from wayfold.layout.spreads import choose_ways, list_around, rank_ways
from wayfold.layout.ways import Tried, Way
from wayfold.photos.model import Photo
from wayfold.plan.model import Plan
from wayfold.story.model import Story
from wayfold.words.model import Words


@dataclass(frozen=True, slots=True)
class LaidBlocks:
    """Every planned block laid out, before facing pages and small texts are brought to agree.

    ``laid`` and ``ways`` are by block id; ``ways`` has the blocks of pictures only; ``tried`` all
    that was worked out to choose them. ``by_hand`` are the blocks that lie as the person laid them.
    """

    matters: tuple[Matter, ...]
    numbers: tuple[int, ...]
    laid: Mapping[str, Laid]
    ways: Mapping[str, Way]
    findings: tuple[Finding, ...]
    tried: Tried
    by_hand: frozenset[str] = frozenset()


def arrange_book(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
) -> BookLayout:
    """Give every page of the plan its frames.

    Each photograph of a planned block stands on its pages exactly once (a picture across the
    fold has a frame on both). Words that a translucent leaf bears are not on the page under it.
    What cannot be placed or read is a finding.
    """
    return finish_pages(lay_blocks(book, story, plan, words, photos, measurer))


def lay_blocks(
    book: Book,
    story: Story,
    plan: Plan,
    words: Words,
    photos: Mapping[str, Photo],
    measurer: TextMeasurer,
    memory: Memory | None = None,
) -> LaidBlocks:
    """Lay out each block: first what has one way only, then pictures, spread by spread.

    What is in ``memory`` from the last time is not worked out again.
    """
    memory = memory or Memory()
    matters, findings = gather_matters(book, story, plan, words, photos, measurer, memory)
    shown = _gather_photos(matters)
    laid = {
        m.block.id: memory.recall_lasting(lay_fixed, m, at=m.block.id)
        for m in matters
        if m.block.kind in FIXED
    }
    pages = {page.number: page for one in laid.values() for page in one.pages}
    ways: dict[str, Way] = {}
    tried = memory.recall(Tried, memory)
    for opening in _gather_openings(matters):
        around = tuple(_leave_pictures(pages[n]) for n in list_around(opening) if n in pages)
        beside = _list_shown(around, shown)
        chosen = memory.recall_lasting(
            _choose_ways, opening, around, beside, Aside(tried), at=opening[0].block.id
        )
        for matter, way in zip(opening, chosen, strict=True):
            laid[matter.block.id], ways[matter.block.id] = way.laid, way
            pages.update({page.number: page for page in way.laid.pages})
    gone = tuple(
        _way_gone(matter, wanted)
        for matter in matters
        if (wanted := book.arranging.ways.get(matter.block.id))
        and matter.block.id in ways
        and ways[matter.block.id].name not in (wanted, BY_HAND)
    )
    aside = tell_set_aside(matters, book.arranging.by_hand)
    numbers = tuple(page.number for page in plan.pages)
    by_hand = frozenset(m.block.id for m in matters if obeys_hand(m))
    return LaidBlocks(matters, numbers, laid, ways, (*findings, *gone, *aside), tried, by_hand)


def finish_pages(
    blocks: LaidBlocks, other: Sequence[tuple[str, Way]] = (), memory: Memory | None = None
) -> BookLayout:
    """Give all pages, facing ones agreeing, far captions and day lines in place.

    ``other`` has blocks that lie another way than in ``blocks``. What is in ``memory`` from the
    last time is not worked out again.
    """
    memory = memory or Memory()
    laid = {**blocks.laid, **{block: way.laid for block, way in other}}
    ordered = [laid[m.block.id] for m in blocks.matters if m.block.id in laid]
    pages = {number: blank_page(number) for number in blocks.numbers}
    pages.update({page.number: page for one in ordered for page in one.pages})
    homeless = [far for one in ordered for far in one.homeless]
    pages = match_companions(blocks.matters, align_heads(pages))
    obeyed = blocks.by_hand.difference(block for block, _ in other)
    pages = place_texts(blocks.matters, pages, obeyed)
    pages, unplaced = house_captions(blocks.matters, pages, homeless)
    pages, undated = set_day_lines(blocks.matters, pages)
    whole = tuple(memory.keep(pages[n], ("page", n)) for n in sorted(pages))
    judged = judge_pages(blocks.matters[0].grid, whole, memory) if blocks.matters else ()
    told = [finding for one in ordered for finding in one.findings]
    return BookLayout(whole, (*blocks.findings, *told, *unplaced, *undated, *judged))


def list_alternatives(
    blocks: LaidBlocks, page: int, count: int
) -> tuple[tuple[tuple[str, Way], ...], ...]:
    """Give up to ``count`` other ways to lay the spread with ``page``, the best first.

    Each gives the blocks of pictures that begin on the spread with their ways, which look unlike
    how they lie now and unlike the ways before. None where the spread has no such pictures.
    """
    pages: dict[int, PageLayout] = {p.number: p for one in blocks.laid.values() for p in one.pages}
    opening = next(
        (o for o in _gather_openings(blocks.matters) if any(page in m.numbers for m in o)), None
    )
    if opening is None:
        return ()
    now = tuple(blocks.ways[m.block.id] for m in opening)
    names = [m.block.id for m in opening]
    taken = [_settle(blocks, now, pages)]
    found: list[tuple[tuple[str, Way], ...]] = []
    ranked = rank_ways(opening, pages, _gather_photos(blocks.matters), blocks.tried, free=True)
    settled = [(ways, _settle(blocks, ways, pages)) for ways in ranked]
    # First those of which nothing was seen before, then those new in one block.
    for fresh in (True, False):
        for ways, shown in settled:
            seen = [any(before[i] == one for before in taken) for i, one in enumerate(shown)]
            if shown in taken or (fresh and any(seen)) or len(found) >= count:
                continue
            taken.append(shown)
            found.append(tuple(zip(names, ways, strict=True)))
    return tuple(found)


def _leave_pictures(page: PageLayout) -> PageLayout:
    """Give of a page what those near it are chosen by: other words there choose nothing anew."""
    return replace(page, frames=tuple(f for f in page.frames if isinstance(f, PictureFrame)))


def _choose_ways(
    opening: tuple[Matter, ...],
    around: tuple[PageLayout, ...],
    photos: Mapping[str, Photo],
    tried: Aside[Tried],
) -> tuple[Way, ...]:
    return choose_ways(opening, around, photos, tried.value)


def _settle(
    blocks: LaidBlocks, ways: Sequence[Way], pages: Mapping[int, PageLayout]
) -> tuple[tuple[tuple[Frame, ...], ...], ...]:
    """Give the frames of each way's pages as they come to lie beside those that they face."""
    laid = {page.number: page for way in ways for page in way.laid.pages}
    spread = {n + side for n in laid for side in (-(n % 2), 1 - n % 2)}
    around = {n: pages[n] for n in spread if n in pages} | laid
    settled = match_companions(blocks.matters, align_heads(around))
    return tuple(tuple(settled[p.number].frames for p in way.laid.pages) for way in ways)


def _gather_openings(matters: Iterable[Matter]) -> list[tuple[Matter, ...]]:
    """Give the blocks of pictures that begin on the same two facing pages, in order."""
    pictures = (m for m in matters if m.block.kind not in FIXED and m.block.photos)
    return [tuple(o) for _, o in groupby(pictures, key=lambda m: m.numbers[0] // 2)]


def _gather_photos(matters: Iterable[Matter]) -> dict[str, Photo]:
    return {name: photo for matter in matters for name, photo in matter.photos.items()}


def _list_shown(pages: Iterable[PageLayout], photos: Mapping[str, Photo]) -> Mapping[str, Photo]:
    frames = (f for page in pages for f in page.frames if isinstance(f, PictureFrame))
    return {f.photo: photos[f.photo] for f in frames if f.photo in photos}


def _way_gone(matter: Matter, wanted: str) -> Finding:
    return Finding(
        "layout.way-gone",
        Severity.WARN,
        f"page {matter.numbers[0]}",
        f"The pictures were to lie in the way “{wanted}”, which does not suit them here any more.",
        f"Choose another way for the page: {Mend.WAYS}.",
    )
