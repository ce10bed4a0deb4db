"""Other ways for a spread to lie: shown side by side, and chosen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wayfold.app.build import collect_pictures
from wayfold.app.fonts import open_typesetter
from wayfold.app.setting import set_pages
from wayfold.app.stages import Results, run_stages
from wayfold.base.errors import NotFoundError
from wayfold.base.hashing import hash_values
from wayfold.base.progress import Progress
from wayfold.bench.ways import ShownSpread, draw_ways
from wayfold.bench.worksheet import choose_hand
from wayfold.book.edits import SetWays
from wayfold.disk.refusals import explain_os_errors
from wayfold.drawing.items import Drawing
from wayfold.layout.arrange import finish_pages, list_alternatives
from wayfold.layout.ways import Way
from wayfold.photos.derive import make_preview
from wayfold.plan.paper import is_recto
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.project.store import write_edit
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter

MOST_WAYS = 5
SHOWN_PX = 700
WAYS_FILE = "ways.pdf"


@dataclass(frozen=True, slots=True)
class SpreadWays:
    """A spread's pages (from 1), how its blocks lie now, and in what other ways they could.

    ``now`` and each of ``ways`` give block ids with the names of ways, in order of the pages.
    """

    pages: tuple[int, ...]
    now: tuple[tuple[str, str], ...]
    ways: tuple[tuple[tuple[str, str], ...], ...]
    file: Path


def show_ways(root: Path, progress: Progress, page: int) -> SpreadWays:
    """Find other ways for the spread with ``page`` and draw them into out/ways.pdf.

    Raises NotFoundError where the book has no such page, or it has no pictures of its own.
    """
    folder = BookFolder(root.resolve())
    typesetter = open_typesetter(folder)
    results = run_stages(folder, typesetter, progress)
    found = _find_ways(results, page)
    pages = _spread_of(results, page)
    spreads = [_show("as it lies now", results.compose(results.layout), pages)]
    for ways in found:
        drawings = results.compose(finish_pages(results.blocks, ways))
        spreads.append(_show(_say(way.name for _, way in ways), drawings, pages))
    title = f"Pages {pages[0]} and {pages[-1]}" if len(pages) > 1 else f"Page {pages[0]}"
    target = folder.out / WAYS_FILE
    sheets = draw_ways(title, spreads, choose_hand(results.book.style))
    _write(folder, results, sheets, target, typesetter, progress)
    now = tuple((block, results.blocks.ways[block].name) for block, _ in found[0])
    named = tuple(tuple((block, way.name) for block, way in ways) for ways in found)
    return SpreadWays(pages, now, named, target)


def choose_way(
    root: Path, progress: Progress, page: int, number: int
) -> tuple[tuple[str, str | None], ...]:
    """Lay the spread with ``page`` in way ``number`` (from 1, as ``show_ways`` lists them).

    ``number`` 0 leaves the choice to the layout again. Gives the blocks with the ways noted for
    them. Raises NotFoundError for any other number or page.
    """
    folder = BookFolder(root.resolve())
    results = run_stages(folder, open_typesetter(folder), progress)
    _check_page(results, page)
    if number == 0:
        pages = set(_spread_of(results, page))
        blocks = (m.block.id for m in results.blocks.matters if pages.intersection(m.numbers))
        chosen: tuple[tuple[str, str | None], ...] = tuple((block, None) for block in blocks)
    else:
        found = _find_ways(results, page)
        if number > len(found):
            raise NotFoundError(f"There are {len(found)} other ways for page {page}, no {number}.")
        chosen = tuple((block, way.name) for block, way in found[number - 1])
    write_edit(folder, SetWays(chosen))
    return chosen


def tell_ways(view: SpreadWays) -> Iterator[str]:
    """Say the ways in lines of words."""
    yield f"Pages {', '.join(map(str, view.pages))} lie now: {_say(n for _, n in view.now)}."
    for number, ways in enumerate(view.ways, start=1):
        yield f"  {number}. {_say(name for _, name in ways)}"


def describe_ways(view: SpreadWays) -> dict[str, Any]:
    """Give the ways as plain values."""
    return {
        "pages": list(view.pages),
        "now": dict(view.now),
        "ways": [dict(ways) for ways in view.ways],
        "file": str(view.file),
    }


def list_ways_of_spread(results: Results, page: int) -> tuple[tuple[tuple[str, Way], ...], ...]:
    """Give the other ways on offer for the spread with ``page``: its blocks with their ways."""
    return list_alternatives(results.blocks, page, MOST_WAYS)


def _find_ways(results: Results, page: int) -> tuple[tuple[tuple[str, Way], ...], ...]:
    _check_page(results, page)
    found = list_ways_of_spread(results, page)
    if not found:
        raise NotFoundError(f"Page {page} has no pictures that could lie in another way.")
    return found


def _check_page(results: Results, page: int) -> None:
    if not 1 <= page <= len(results.drawings):
        raise NotFoundError(f"The book has no page {page}.")


def _spread_of(results: Results, page: int) -> tuple[int, ...]:
    left = page - 1 if is_recto(page) else page
    return tuple(n for n in (left, left + 1) if 1 <= n <= len(results.drawings))


def _show(name: str, drawings: Sequence[Drawing], pages: Sequence[int]) -> ShownSpread:
    by_side = {is_recto(number): drawings[number - 1] for number in pages}
    return ShownSpread(name, by_side.get(False), by_side.get(True))


def _say(names: Iterable[str]) -> str:
    return ", then ".join(names)


def _write(
    folder: BookFolder,
    results: Results,
    sheets: tuple[Drawing, ...],
    target: Path,
    typesetter: Typesetter,
    progress: Progress,
) -> None:
    kept = DiskCache(folder.cache, "previews", ".jpg")
    pictures = collect_pictures(sheets)
    files = {}
    with progress.task("Preparing small pictures", len(pictures)) as task:
        for key, picture in pictures.items():
            photo = results.photos[picture.asset]
            name = hash_values(key, photo.content, SHOWN_PX)
            if not kept.has(name):
                make_preview(photo, picture.crop, SHOWN_PX, kept.path(name))
            files[key] = kept.path(name)
            task.advance()
    proofs = set_pages(folder, sheets, typesetter, progress, "Drawing the ways")
    with explain_os_errors(folder.out):
        folder.out.mkdir(parents=True, exist_ok=True)
        assemble_pdf(proofs.files, files, target, DocumentInfo("Ways to lay the pages", "", "en"))
