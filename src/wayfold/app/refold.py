"""The proof: the print file folded back into a book."""

from __future__ import annotations

import json
from pathlib import Path

from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.progress import Progress
from wayfold.checks.refold.fold import refold
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.report import RefoldReport as RefoldReport
from wayfold.project.files import BookFolder


def refold_folder(root: Path, progress: Progress) -> RefoldReport:
    """Fold the sheets that ``make`` left in ``root`` and compare them with its pages.

    Only the print file, plan.json's words on paper and folding, and the pages themselves are
    read. Raises NotFoundError where the book has not been made yet, UserError
    where it has translucent leaves.
    """
    folder = BookFolder(root.resolve())
    folder.require()
    sheets, reading, plan = (folder.out / n for n in ("sheets.pdf", "reading.pdf", "plan.json"))
    for path in (sheets, reading, plan):
        if not path.is_file():
            raise NotFoundError(
                "This file has not been made yet.",
                where=folder.name_of(path),
                remedy=f"Make the book first: wayfold make {root}",
            )
    planned = json.loads(plan.read_text(encoding="utf-8"))
    if planned["interleaves"]:
        raise UserError(
            "The proof cannot fold translucent leaves in yet, and this book has some.",
            where=folder.name_of(plan),
            remedy="Fold a dummy by hand, or take interleaf = true away and prove the paper alone.",
        )
    folding = Folding.from_json(planned["folding"])
    return refold(sheets, folding, reading, progress)
