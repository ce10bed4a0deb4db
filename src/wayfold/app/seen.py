"""The pictures of what shows through translucent leaves, each made once and kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from wayfold.app.identity import code_key, library_key
from wayfold.app.setting import set_pages
from wayfold.base.hashing import hash_values
from wayfold.base.progress import NoProgress, Progress
from wayfold.base.units import px_from_mm
from wayfold.drawing.items import Drawing
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.pages.laid_over import Veiled
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter

SEEN_PPI = 180.0
"""What a gap leaves of a page is coarser than this."""


def show_through(
    folder: BookFolder,
    veiled: Sequence[Veiled],
    pictures: Mapping[str, Path],
    typesetter: Typesetter,
    progress: Progress,
) -> dict[str, Path]:
    """Give the JPEG of what shows through, by the key of its place; those not there are made.

    ``pictures`` has the file of every picture of the pages beneath, by its key.
    """
    cache = DiskCache(folder.cache, "seen", ".jpg")
    code = hash_values(code_key("checks", "typeset", "drawing", "book"), library_key(), SEEN_PPI)
    made, missing = {}, []
    for page in veiled:
        # The files of pictures are named by their content and by what was made of it.
        files = [pictures[key].name for key in _list_keys(page.under)]
        key = hash_values(page.asset, files, code)
        made[picture_key(page.picture)] = cache.path(key)
        if not cache.has(key):
            missing.append((key, page))
    with progress.task("Looking through the leaves", len(missing)) as task:
        for key, page in missing:
            if not cache.has(key):
                cache.put_file(key, _look(folder, page, pictures, typesetter, cache.path(key)))
            task.advance()
    return made


def _look(
    folder: BookFolder,
    veiled: Veiled,
    pictures: Mapping[str, Path],
    typesetter: Typesetter,
    near: Path,
) -> bytes:
    # Few makes look through a leaf anew, and loading this takes a while.
    from wayfold.checks.see_through import Leaf, see_through
    from wayfold.checks.view_page import view_page

    faces = veiled.faces
    drawn = [veiled.under or Drawing("nothing", faces[0].upper.size, faces[0].upper.bleed, ())]
    drawn += [ink for face in faces for ink in (face.lower, face.upper)]
    files = set_pages(folder, tuple(drawn), typesetter, NoProgress()).files
    px_per_mm = px_from_mm(1.0, SEEN_PPI)
    page = near.with_suffix(".pdf")
    try:
        mine = {key: pictures[key] for key in _list_keys(veiled.under)}
        assemble_pdf([files[0]], mine, page, DocumentInfo(veiled.label))
        seen = view_page(page, 1, px_per_mm, with_bleed=True)
    finally:
        page.unlink(missing_ok=True)
    inks = [
        view_page(file, 1, px_per_mm, with_bleed=True) if ink.items else None
        for file, ink in zip(files[1:], drawn[1:], strict=True)
    ]
    leaves = [Leaf(lower, upper) for lower, upper in zip(inks[::2], inks[1::2], strict=True)]
    leaves[-1] = Leaf(leaves[-1].lower)
    return see_through(seen, leaves, veiled.sheet, px_per_mm)


def _list_keys(drawing: Drawing | None) -> list[str]:
    pictures = list_pictures(drawing) if drawing is not None else ()
    return sorted({picture_key(picture) for picture in pictures})
