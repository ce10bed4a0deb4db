"""Writes the sheets as a PDF: one page a side, front, back, front, back.

PDF space: points, y up. Every book page becomes one form, placed in its slot; the marks lie on top.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.base.hashing import hash_values
from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.press.model import SheetSide, Slot, TwoSided
from wayfold.typeset.assemble import DocumentInfo, OpenPages, open_book

if TYPE_CHECKING:
    import pikepdf


def write_sheets(
    pages: Sequence[Path],
    pictures: Mapping[str, Path],
    marks: Sequence[Path],
    sheets: Sequence[TwoSided],
    target: Path,
) -> None:
    """Impose ``pages`` (a one-page PDF each, in the book's order) on ``sheets`` into ``target``.

    ``pictures`` are the print pictures by their keys; ``marks`` has a one-page PDF of the marks of
    every side in the order of printing. Pages are anchored by their TrimBox. The same input gives
    the same bytes; ``target`` is replaced only once all is written. Raises UserError where a file
    cannot be read or written, ValueError where pages or marks are not those of the sheets.
    """
    _check_counts(len(pages), len(marks), sheets)
    with open_book(pages, pictures, target) as book:
        _write(book, marks, sheets, target)


def write_book(
    pages: Sequence[Path],
    pictures: Mapping[str, Path],
    reading: tuple[Path, DocumentInfo],
    marks: Sequence[Path],
    sheets: Sequence[TwoSided],
    target: Path,
) -> None:
    """Write the file for ``reading`` as ``assemble_pdf`` does, and ``target`` as ``write_sheets``.

    The pages are opened once for both.
    """
    _check_counts(len(pages), len(marks), sheets)
    with open_book(pages, pictures, target) as book:
        book.save_described(*reading)
        _write(book, marks, sheets, target)


def _write(
    book: OpenPages, marks: Sequence[Path], sheets: Sequence[TwoSided], target: Path
) -> None:
    sides = [(s.size, side) for s in sheets for side in (s.front, s.back)]
    # The book itself is turned into the sheets: copied into another file, its pictures would all
    # lie in memory.
    count = len(book.pdf.pages)
    with open_book(marks, {}, target) as drawn:
        for (size, side), marks_page in zip(sides, drawn.pdf.pages, strict=True):
            _add_side(book.pdf, marks_page, size, side)
        del book.pdf.pages[:count]
        slots = [(size, side.slots, side.made_good) for size, side in sides]
        book.save(target, hash_values(book.identity, drawn.identity, slots))


def _check_counts(pages: int, marks: int, sheets: Sequence[TwoSided]) -> None:
    wanted = {slot.page for s in sheets for side in (s.front, s.back) for slot in side.slots}
    if wanted != set(range(1, pages + 1)):
        raise ValueError(f"{pages} pages were given, the sheets carry {len(wanted)}")
    if marks != 2 * len(sheets):
        raise ValueError(f"{marks} pages of marks were given for {2 * len(sheets)} sides")


def _add_side(book: pikepdf.Pdf, marks_page: pikepdf.Page, size: Size, side: SheetSide) -> None:
    """Add a side behind the book's own pages, which are still the first ones."""
    import pikepdf

    page = book.add_blank_page(page_size=(pt_from_mm(size.width), pt_from_mm(size.height)))
    forms, content = {}, []
    for index, slot in enumerate(side.slots):
        source = book.pages[slot.page - 1]
        forms[f"/P{index}"] = _make_form(source)
        content.append(_place(f"/P{index}", source, slot, size))
    forms["/M"] = book.copy_foreign(_make_form(marks_page))
    content.append(f"q {_write_matrix(_put_marks(marks_page))} cm /M Do Q")
    page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(forms))
    if side.made_good != Affine():
        content = [f"q {_write_matrix(_from_sheet(side.made_good, size))} cm", *content, "Q"]
    page.Contents = book.make_stream("\n".join(content).encode("ascii"))
    page.TrimBox = _box(side.trim, size)
    page.BleedBox = _box(_join([slot.clip for slot in side.slots]), size)


def _make_form(page: pikepdf.Page) -> pikepdf.Object:
    form = page.as_form_xobject()
    # A form's box is the TrimBox unless said otherwise, which would cut the bleed off.
    form.BBox = page.mediabox
    return form


def _place(name: str, source: pikepdf.Page, slot: Slot, size: Size) -> str:
    clip = _box(slot.clip, size)
    clip_text = " ".join(
        _number(v) for v in (clip[0], clip[1], clip[2] - clip[0], clip[3] - clip[1])
    )
    left, _, _, head = (float(v) for v in source.trimbox)
    page_from_pdf = Affine.shift(-left, -head).then(Affine.scale(mm_from_pt(1), -mm_from_pt(1)))
    pdf_from_sheet = Affine.scale(pt_from_mm(1), -pt_from_mm(1)).then(
        Affine.shift(0.0, pt_from_mm(size.height))
    )
    matrix = page_from_pdf.then(slot.transform).then(pdf_from_sheet)
    return f"q {clip_text} re W n {_write_matrix(matrix)} cm {name} Do Q"


def _from_sheet(map_: Affine, size: Size) -> Affine:
    """Give a map of sheet space as one of PDF space."""
    pdf_from_sheet = Affine.scale(pt_from_mm(1), -pt_from_mm(1)).then(
        Affine.shift(0.0, pt_from_mm(size.height))
    )
    return pdf_from_sheet.inverse().then(map_).then(pdf_from_sheet)


def _put_marks(page: pikepdf.Page) -> Affine:
    left, foot = (float(v) for v in list(page.mediabox)[:2])
    return Affine.shift(-left, -foot)


def _write_matrix(m: Affine) -> str:
    return " ".join(_number(v) for v in (m.a, m.b, m.c, m.d, m.e, m.f))


def _number(value: float) -> str:
    """Write a number in the shortest way with at most six decimals; never "-0"."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _box(rect: Rect, size: Size) -> list[float]:
    """A rectangle of the sheet as PDF box: left, foot, right, head in points."""
    edges = (rect.x, size.height - rect.bottom, rect.right, size.height - rect.y)
    return [round(pt_from_mm(v), 6) for v in edges]


def _join(rects: Sequence[Rect]) -> Rect:
    x, y = min(r.x for r in rects), min(r.y for r in rects)
    return Rect(x, y, max(r.right for r in rects) - x, max(r.bottom for r in rects) - y)
