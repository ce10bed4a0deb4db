"""Whether a plan file can be a plan of any book: pages on sheets, leaves in gatherings."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.errors import UserError
from wayfold.base.mends import Mend
from wayfold.project.schema import InterleafTable, PlanFile


def require_sound_plan(file: PlanFile, name: str) -> None:
    """Raise UserError naming what in the file contradicts itself."""
    flaw = next(_find_flaws(file), None)
    if flaw is not None:
        raise UserError(
            f"This is no plan of any book: {flaw}.",
            where=name,
            remedy="Undo what was changed in it by hand. Or delete it, and the book is planned "
            f"afresh; say again then which gatherings lie printed ({Mend.PRINTED}).",
        )


def _find_flaws(file: PlanFile) -> Iterator[str]:
    if not file.sheets:
        yield "it has no gathering"
    yield from _check_blocks(file)
    for interleaf in file.interleaf:
        yield from _check_interleaf(file, interleaf)


def _check_blocks(file: PlanFile) -> Iterator[str]:
    total = 4 * sum(file.sheets)
    holders: dict[int, str] = {}
    ids = set()
    for block in file.block:
        if block.id in ids:
            yield f"block {block.id!r} lies in two places"
        ids.add(block.id)
        last = block.first_page + block.pages - 1
        if last > total:
            yield f"block {block.id!r} ends on page {last}, but the sheets have {total} pages"
            continue
        for page in range(block.first_page, last + 1):
            if page in holders:
                yield f"page {page} holds both {holders[page]!r} and {block.id!r}"
            holders[page] = block.id


def _check_interleaf(file: PlanFile, interleaf: InterleafTable) -> Iterator[str]:
    where = f"an interleaf of gathering {interleaf.gathering}"
    if interleaf.gathering > len(file.sheets):
        yield f"it has {len(file.sheets)} gatherings, and {where}"
        return
    sheets = file.sheets[interleaf.gathering - 1]
    before = 4 * sum(file.sheets[: interleaf.gathering - 1])
    if interleaf.depth is None:
        if len(interleaf.end) != 1:
            yield f"{where} is pasted in but has two ends"
    elif interleaf.depth > sheets:
        yield f"{where} lies inside {interleaf.depth} sheets, but there are {sheets}"
    else:
        ends = [end.after_page - before for end in interleaf.end]
        folded = [2 * interleaf.depth, 4 * sheets - 2 * interleaf.depth]
        if ends != folded:
            yield f"{where}, folded inside {interleaf.depth} sheets, cannot have these ends"
    for end in interleaf.end:
        if end.over is not None and end.over not in (end.after_page, end.after_page + 1):
            yield f"{where} cannot lie over page {end.over} after page {end.after_page}"
