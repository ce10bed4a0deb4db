"""The papers for the bench: case.pdf, bench.pdf, templates.pdf, dummy.pdf.

Each is written anew only when something in it changed: its pages' files are named by their content,
so the names of pages and pictures tell.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.beside import Beside
from wayfold.app.drawing_keys import DrawingKeys
from wayfold.app.identity import code_key, library_key
from wayfold.app.measuring import keep_measures
from wayfold.app.plan_drawing import show_planned
from wayfold.app.setting import Proofs, set_pages
from wayfold.app.stages import Results
from wayfold.base.findings import Finding
from wayfold.base.hashing import hash_values
from wayfold.base.progress import Progress
from wayfold.bench.bench_book import BenchBook, draw_bench_book
from wayfold.bench.case_sheets import draw_case_sheets
from wayfold.bench.costs import InkLoad
from wayfold.bench.dummy import draw_dummy
from wayfold.bench.model import PlannedBook
from wayfold.bench.templates import draw_templates
from wayfold.bench.worksheet import choose_hand
from wayfold.case.work import CaseWork
from wayfold.disk.placing import write_whole
from wayfold.drawing.items import Drawing
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.photos.darkness import measure_darkness
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter

CASE = "case.pdf"


@dataclass(frozen=True, slots=True)
class PaperPictures:
    """The files of the print pictures by their keys, and of their miniatures."""

    printed: Mapping[str, Path]
    miniatures: Mapping[str, Path]


@dataclass(frozen=True, slots=True)
class BenchPapers:
    """The papers set: the files of each one's pages, the pictures they show, what was found."""

    pages: Mapping[str, tuple[Path, ...]]
    pictures: Mapping[str, Mapping[str, Path]]
    findings: tuple[Finding, ...]


def set_bench_papers(
    folder: BookFolder,
    results: Results,
    pictures: PaperPictures,
    typesetter: Typesetter,
    progress: Progress,
    known: DrawingKeys | None = None,
) -> BenchPapers:
    """Set all pages of the papers that are not there yet.

    What is wrong with a page's type is said where the page itself is set; with the cover's, here.
    """
    planned = show_planned(results)
    drawings = draw_bench_papers(folder, planned, results.case, pictures.miniatures, typesetter)
    pages, shown = {}, {}
    findings: tuple[Finding, ...] = ()
    for name, sheets in drawings.items():
        proofs = set_pages(folder, sheets, typesetter, progress, f"Drawing {name}", known)
        pages[name] = proofs.files
        findings += proofs.findings if name == CASE else ()
        files = pictures.printed if name == CASE else pictures.miniatures
        keys = dict.fromkeys(picture_key(p) for sheet in sheets for p in list_pictures(sheet))
        shown[name] = {key: files[key] for key in keys}
    return BenchPapers(pages, shown, findings)


def set_case(
    folder: BookFolder, results: Results, typesetter: Typesetter, progress: Progress
) -> Proofs:
    """Set the sheets of case.pdf alone, to see whether the cover's words have room."""
    sheets = draw_case_sheets(results.case, choose_hand(results.book.style))
    return set_pages(folder, sheets, typesetter, progress, f"Drawing {CASE}")


def draw_bench_papers(
    folder: BookFolder,
    planned: PlannedBook,
    work: CaseWork,
    miniatures: Mapping[str, Path],
    typesetter: Typesetter,
) -> dict[str, tuple[Drawing, ...]]:
    """Draw all papers, by the name of their file."""
    inks = tuple(list_inks(folder, planned.pages, miniatures))
    measurer = keep_measures(folder, typesetter)
    return {
        CASE: draw_case_sheets(work, planned.hand),
        "bench.pdf": draw_bench_book(BenchBook(planned, work, inks), measurer),
        "templates.pdf": draw_templates(work, planned.hand),
        "dummy.pdf": draw_dummy(planned, work.book.bench.dummy_sheet),
    }


def list_inks(
    folder: BookFolder, pages: tuple[Drawing, ...], miniatures: Mapping[str, Path]
) -> Iterator[InkLoad]:
    """Give every printed picture's area within its page's bleed, and how dark it is."""
    code = hash_values(code_key("photos"), library_key())
    kept = RecordCache(folder.cache, "darkness", code)
    for page in pages:
        for picture in list_pictures(page):
            box = picture.box if picture.clip is None else picture.box.overlap(picture.clip)
            seen = box.overlap(page.media_box) if box is not None else None
            if seen is None:
                continue
            path = miniatures[picture_key(picture)]
            key = hash_values(path.name)
            known = kept.get(key)
            darkness = json.loads(known) if known else round(measure_darkness(path), 4)
            if not known:
                kept.put(key, json.dumps(darkness).encode())
            yield InkLoad(seen.area, darkness)


def begin_bench_papers(
    folder: BookFolder, papers: BenchPapers, results: Results, beside: Beside
) -> Callable[[], None]:
    """Begin to write the papers that are not there as they should be by now.

    Gives what waits until they are, and notes what they were made of.
    """
    record = folder.cache / "papers.json"
    before = _read(record)
    after = {}
    under_way = []
    for name, pages in papers.pages.items():
        pictures, target = papers.pictures[name], folder.out / name
        title = f"{results.book.title}: {name.removesuffix('.pdf')}"
        shown = {key: path.name for key, path in pictures.items()}
        key = hash_values([p.name for p in pages], shown, title, code_key("typeset"))
        after[name] = key
        if before.get(name) == key and target.exists():
            continue
        info = DocumentInfo(title, results.book.author, "en")
        under_way.append(beside.begin(assemble_pdf, pages, pictures, target, info))

    def finish() -> None:
        for paper in under_way:
            paper.result()
        write_whole(record, json.dumps(after).encode(), lasting=False)

    return finish


def _read(record: Path) -> dict[str, str]:
    try:
        return dict(json.loads(record.read_text(encoding="utf-8")))
    except (FileNotFoundError, ValueError, TypeError):
        return {}  # it lies in the cache: losing it costs writing them again
