"""What is printed before and beside the sheets: trial, proof, and sides to be turned by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from wayfold.app.identity import code_key, library_key
from wayfold.app.kept_files import write_unless_there
from wayfold.app.setting import set_pages
from wayfold.app.stages import Results
from wayfold.base.hashing import hash_values
from wayfold.base.progress import Progress
from wayfold.bench.turning import draw_turning
from wayfold.book.materials import Duplex
from wayfold.drawing.pictures import list_pictures, picture_key
from wayfold.press.extract import extract_sheets, split_sides
from wayfold.press.ledger import SheetInk
from wayfold.press.model import PressSheet
from wayfold.press.proof import draw_proof
from wayfold.project.files import BookFolder
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf
from wayfold.typeset.engine import Typesetter

TRIAL, PROOF, TURNING = "trial.pdf", "proof.pdf", "turning.pdf"
FRONTS, BACKS = "fronts.pdf", "backs.pdf"


def write_print_aids(
    folder: BookFolder,
    results: Results,
    sheets: Path,
    inks: Sequence[SheetInk],
    pictures: Mapping[str, Path],
    typesetter: Typesetter,
    progress: Progress,
) -> None:
    """Write trial sheet, proof sheet and turning page; fronts and backs apart for the hand.

    ``inks`` are those of the sheets. A file whose content has not changed is left as it lies; those
    that the book or the printer has no use for any more are taken away.
    """
    book = results.book
    tried = choose_trial(results)
    sides = (2 * tried, 2 * tried + 1)
    code = hash_values(code_key(), library_key())
    trial = folder.out / TRIAL
    write_unless_there(
        folder, trial, [code, inks[tried]], lambda: extract_sheets(sheets, sides, trial)
    )
    if book.printer.duplex is Duplex.MANUAL:
        split_sides(sheets, book.printer.back_order, folder.out / FRONTS, folder.out / BACKS)
    else:
        for name in (FRONTS, BACKS):
            (folder.out / name).unlink(missing_ok=True)
    turning = draw_turning(book.printer, book.style)
    shown = set_pages(folder, turning, typesetter, progress, "Drawing how to turn the paper")
    info = DocumentInfo(f"{book.title}: turning the paper", book.author, "en")
    _assemble(folder, folder.out / TURNING, shown.files, {}, info)
    proof = draw_proof(results.drawings, book.printer, book.paper)
    if proof is None:
        (folder.out / PROOF).unlink(missing_ok=True)
        return
    pages = set_pages(folder, (proof,), typesetter, progress, "Drawing the proof sheet")
    strips = {key: pictures[key] for key in map(picture_key, list_pictures(proof))}
    info = DocumentInfo(f"{book.title}: proof", book.author, "en")
    _assemble(folder, folder.out / PROOF, pages.files, strips, info)


def _assemble(
    folder: BookFolder,
    target: Path,
    pages: Sequence[Path],
    pictures: Mapping[str, Path],
    info: DocumentInfo,
) -> None:
    # The names of pages and pictures are made of what they hold.
    names = [[p.name for p in pages], [p.name for p in pictures.values()]]
    key = [code_key("typeset"), library_key(), names, info]
    write_unless_there(folder, target, key, lambda: assemble_pdf(pages, pictures, target, info))


def choose_trial(results: Results) -> int:
    """Give the sheet (from 0) to print first: the one that bears most of pictures."""

    def inked(sheet: PressSheet) -> float:
        pages = [slot.page for side in (sheet.front, sheet.back) for slot in side.slots]
        drawings = (results.drawings[page - 1] for page in pages)
        return sum(p.box.area for drawing in drawings for p in list_pictures(drawing))

    return max(range(len(results.sheets)), key=lambda n: (round(inked(results.sheets[n])), -n))
