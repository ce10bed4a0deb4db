"""Printing by hand: fronts first, the pile turned, backs on whatever sheet is drawn in."""

from __future__ import annotations

from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.checks.refold.folding import DrawnIn, Folding
from wayfold.checks.refold.rendering import Pages


def print_by_hand(fronts: Path, backs: Path, folding: Folding, target: Path) -> Path:
    """Give the sheets as they come out, as a file of front, back, front, back … in ``target``.

    The fronts come out in the order of their file and are turned over as one pile; the printer then
    draws in its sheets as ``folding.drawn_in`` says. Fronts whose back is missing get a blank one,
    so that the proof names them. Raises UserError where a file cannot be read.
    """
    import pikepdf

    for path in (fronts, backs):
        Pages(path).close()  # says in plain words what is wrong with a file
    with pikepdf.open(fronts) as first, pikepdf.open(backs) as second, pikepdf.new() as printed:
        pile = list(range(len(first.pages)))
        if len(second.pages) > len(pile):
            raise UserError(
                f"There are {len(second.pages)} backs for {len(pile)} fronts.",
                where=str(backs),
                remedy="Make the book again.",
            )
        drawn_in = pile if folding.drawn_in is DrawnIn.SAME else pile[::-1]
        back_of = dict(zip(drawn_in, range(len(second.pages)), strict=False))
        for sheet in pile:
            printed.pages.append(first.pages[sheet])
            if sheet in back_of:
                printed.pages.append(second.pages[back_of[sheet]])
            else:
                box = first.pages[sheet].mediabox
                size = (float(box[2]) - float(box[0]), float(box[3]) - float(box[1]))
                printed.add_blank_page(page_size=size)
        printed.save(target)
    return target
