"""Setting the type: every page and every leaf as a PDF of its own, kept until it changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from wayfold.app.drawing_keys import DrawingKeys
from wayfold.app.identity import code_key, library_key
from wayfold.app.reports import dump_findings, load_findings
from wayfold.app.stages import Results
from wayfold.base.findings import Finding
from wayfold.base.hashing import hash_values
from wayfold.base.progress import Progress
from wayfold.book.see_through import sheet_of
from wayfold.drawing.items import Drawing
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.pages.laid_over import Veiled, order_reading
from wayfold.press.model import InterleafSheet, TwoSided
from wayfold.project.cache import DiskCache, RecordCache
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter


@dataclass(frozen=True, slots=True)
class Proofs:
    """The pages set: every page's file in order, the numbers of those set now, what was found."""

    files: tuple[Path, ...]
    new: tuple[int, ...]
    findings: tuple[Finding, ...]


def set_pages(
    folder: BookFolder,
    drawings: tuple[Drawing, ...],
    typesetter: Typesetter,
    progress: Progress,
    label: str = "Setting the pages",
    known: DrawingKeys | None = None,
) -> Proofs:
    """Set the pages that are not there yet; ``label`` is what the work is called meanwhile.

    ``known`` remembers what was looked at, where the same drawings are set in several ways.
    """
    known = known or DrawingKeys()
    pages = DiskCache(folder.cache, "pages", ".pdf")
    code = hash_values(code_key("typeset", "drawing"), library_key(), typesetter.fonts.key)
    verdicts = RecordCache(folder.cache, "verdicts", code)
    keys = [hash_values(code, known.of(drawing)) for drawing in drawings]
    told = [verdicts.get(key) if pages.has(key) else None for key in keys]
    missing = [i for i, verdict in enumerate(told) if verdict is None]
    with progress.task(label, len(missing)) as task:
        for index in missing:
            proof = typesetter.page_pdf(drawings[index])
            told[index] = verdict = dump_findings(proof.findings)
            pages.put_file(keys[index], proof.pdf)
            verdicts.put(keys[index], verdict)
            task.advance()
    findings = [finding for verdict in told if verdict for finding in load_findings(verdict)]
    files = tuple(pages.path(k) for k in keys)
    return Proofs(files, tuple(i + 1 for i in missing), tuple(findings))


@dataclass(frozen=True, slots=True)
class VeiledProofs:
    """The translucent leaves set: ``leaves`` has the file of each of ``faces``, sheet by sheet.

    ``order`` gives the pages of the reading file: a bare page's number, or a veiled one's file;
    ``labels`` their names, "7" and "(7)". ``veiled`` are the pages seen through leaves, in order.
    All are empty where there are no leaves.
    """

    faces: tuple[Drawing, ...]
    leaves: tuple[Path, ...]
    order: tuple[int | Path, ...]
    labels: tuple[str, ...]
    veiled: tuple[Veiled, ...]
    findings: tuple[Finding, ...]

    def in_order(self, pages: Sequence[Path]) -> list[Path]:
        """Give the files of the reading file, of those of the bare pages."""
        if not self.order:
            return list(pages)
        return [pages[p - 1] if isinstance(p, int) else p for p in self.order]


def set_leaves(
    folder: BookFolder,
    results: Results,
    typesetter: Typesetter,
    progress: Progress,
    known: DrawingKeys | None = None,
) -> VeiledProofs:
    """Set the leaves, and the pages as they are seen through them."""
    if not results.leaves:
        return VeiledProofs((), (), (), (), (), ())
    faces = tuple(list_faces(results.interleaf_sheets, results.leaves))
    sheet = sheet_of(results.book.translucent)
    reading = order_reading(results.plan, results.drawings, results.leaves, sheet)
    veiled = tuple(p.veiled for p in reading if p.veiled is not None)
    bare = set_pages(folder, faces, typesetter, progress, known=known)
    # What is wrong with a page or a leaf is wrong with both together, and said already.
    shown = tuple(v.drawing for v in veiled)
    over = iter(set_pages(folder, shown, typesetter, progress, known=known).files)
    order = tuple(p.page if p.veiled is None else next(over) for p in reading)
    labels = tuple(str(p.page) if p.veiled is None else f"({p.page})" for p in reading)
    return VeiledProofs(faces, bare.files, order, labels, veiled, bare.findings)


def set_marks(
    folder: BookFolder, sheets: Sequence[TwoSided], typesetter: Typesetter, progress: Progress
) -> tuple[Path, ...]:
    """Set the marks of every sheet side, in the order of printing."""
    sides = (side for sheet in sheets for side in (sheet.front, sheet.back))
    drawings = tuple(side.marks for side in sides)
    return set_pages(folder, drawings, typesetter, progress, "Drawing the marks").files


def list_faces(
    sheets: Sequence[InterleafSheet], leaves: Sequence[InterleafLeaf]
) -> Iterator[Drawing]:
    """Give the faces of all leaves in the order their sheets name them: recto and verso of each."""
    at = {(leaf.interleaf, leaf.end): leaf for leaf in leaves}
    for sheet in sheets:
        for place in sheet.leaves:
            yield from (at[place].recto, at[place].verso)
