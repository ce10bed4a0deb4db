"""The pages of the reading file: the bare ones among those seen through translucent leaves."""

from __future__ import annotations

from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.checks.refold.folding import Folding


def list_laid_over(folding: Folding) -> tuple[int, ...]:
    """Give the places (from 0) in the reading file of pages seen through leaves.

    Where k leaves lie after page n, the reading file has 2 k pages between n and n + 1: at each
    turn of a leaf a left page and a right one.
    """
    gaps = [
        after
        for interleaf in folding.interleaves
        for leaf, after in enumerate(interleaf.after)
        if not interleaf.is_stub(leaf)
    ]
    places = []
    for order, after in enumerate(sorted(gaps)):
        start = after + 2 * order
        places += [start, start + 1]
    return tuple(places)


def strip_laid_over(reading: Path, folding: Folding, scratch: Path) -> Path:
    """Give a reading file with the bare pages alone; the same file where it has no others.

    Raises UserError where the file cannot be read.
    """
    laid_over = list_laid_over(folding)
    if not laid_over or not reading.is_file():
        return reading
    import pikepdf

    try:
        with pikepdf.open(reading) as pdf:
            count = len(pdf.pages)
            inside = min(laid_over) >= 0 and max(laid_over) < count
            if count != folding.pages + len(laid_over) or not inside:
                return reading
            for place in reversed(laid_over):
                del pdf.pages[place]
            bare = scratch / "bare.pdf"
            pdf.save(bare)
    except pikepdf.PdfError as error:
        raise UserError(
            f"this file cannot be read as PDF ({error})",
            where=str(reading),
            remedy="Make the book again; if the file is protected, remove the password.",
        ) from error
    return bare
