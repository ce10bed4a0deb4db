"""plan.pdf: every gathering drawn from the head, with its pages small."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.identity import code_key, library_key
from wayfold.app.setting import set_pages
from wayfold.app.stages import Results
from wayfold.base.hashing import hash_values
from wayfold.base.progress import Progress
from wayfold.bench.gatherings import draw_gatherings
from wayfold.book.state import Book
from wayfold.photos.miniature import make_miniature
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter

MINIATURE_PX = 320
"""The longer side: a picture over two pages drawn 60 mm wide comes to some 140 ppi."""


@dataclass(frozen=True, slots=True)
class PlanDrawing:
    """The worksheets set: the file of each, and their pictures by key."""

    files: tuple[Path, ...]
    pictures: Mapping[str, Path]


def set_gatherings(
    folder: BookFolder,
    results: Results,
    pictures: Mapping[str, Path],
    typesetter: Typesetter,
    progress: Progress,
) -> PlanDrawing:
    """Set the worksheets of all gatherings; ``pictures`` are the print pictures by their keys.

    What is wrong with a page's type is said where the page itself is set.
    """
    sheets = draw_gatherings(
        results.book, results.story, results.plan, results.drawings, results.leaves
    )
    files = set_pages(folder, sheets, typesetter, progress, "Drawing the gatherings").files
    return PlanDrawing(files, make_miniatures(folder, pictures, progress))


def write_plan_drawing(drawn: PlanDrawing, book: Book, target: Path) -> None:
    """Write plan.pdf."""
    info = DocumentInfo(f"{book.title}: the gatherings", book.author, "en")
    assemble_pdf(drawn.files, drawn.pictures, target, info)


def make_miniatures(
    folder: BookFolder, pictures: Mapping[str, Path], progress: Progress
) -> dict[str, Path]:
    """Give each print picture at the size of a stamp, made once and kept."""
    cache = DiskCache(folder.cache, "miniatures", ".jpg")
    code = hash_values(code_key("photos"), library_key(), MINIATURE_PX)
    files = {
        # Print pictures are named by what they show.
        key: cache.path(hash_values(source.stem, code))
        for key, source in pictures.items()
    }
    missing = [key for key, file in files.items() if not file.is_file()]
    with progress.task("Shrinking pictures", len(missing)) as task:
        for key in missing:
            make_miniature(pictures[key], MINIATURE_PX, files[key])
            task.advance()
    return files
