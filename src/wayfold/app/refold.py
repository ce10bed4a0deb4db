"""The proof: the print file folded back into a book."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.checks.refold.by_hand import print_by_hand
from wayfold.checks.refold.fold import refold
from wayfold.checks.refold.folding import Folding, Turning
from wayfold.checks.refold.leaves import LeafFiles
from wayfold.checks.refold.report import RefoldReport as RefoldReport
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder


def refold_folder(root: Path, progress: Progress) -> RefoldReport:
    """Fold the sheets that ``make`` left in ``root`` and compare them with its pages and leaves.

    Only the print files, plan.json's words on paper and folding, and the pages and leaves
    themselves are read. Raises NotFoundError where the book has not been made yet, UserError where
    there is no room to work in.
    """
    folder = BookFolder(root.resolve())
    folder.require()
    sheets, reading, plan = (folder.out / n for n in ("sheets.pdf", "reading.pdf", "plan.json"))
    for path in (sheets, reading, plan):
        if not path.is_file():
            raise NotFoundError(
                "This file has not been made yet.",
                where=folder.name_of(path),
                remedy=f"Make the book first: {Mend.MAKE}.",
            )
    folding = _read_folding(folder, plan)
    interleaves, leaves = folder.out / "interleaves.pdf", folder.out / "leaves.pdf"
    there = folding.interleaves and interleaves.is_file() and leaves.is_file()
    files = LeafFiles(interleaves, leaves) if there else None
    fronts, backs = folder.out / "fronts.pdf", folder.out / "backs.pdf"
    by_hand = folding.turning is Turning.MANUAL and fronts.is_file() and backs.is_file()
    with (
        explain_os_errors(Path(tempfile.gettempdir())),
        tempfile.TemporaryDirectory(prefix="refold-") as scratch,
    ):
        if by_hand:
            sheets = print_by_hand(fronts, backs, folding, Path(scratch) / "sheets.pdf")
        return refold(sheets, folding, reading, progress, leaf_files=files)


def _read_folding(folder: BookFolder, plan: Path) -> Folding:
    try:
        values = json.loads(plan.read_bytes())["folding"]
    except (ValueError, LookupError, TypeError, RecursionError) as error:
        raise UserError(
            "This file does not say any more how the sheets are folded.",
            where=folder.name_of(plan),
            remedy=f"Delete it and make the book again: {Mend.MAKE}.",
        ) from error
    return Folding.from_json(values)
