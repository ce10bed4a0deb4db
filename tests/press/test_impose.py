"""The imposed PDF, read back with an independent library and as pixels."""

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pypdf
import pypdfium2
import pytest

from wayfold.base.errors import UserError
from wayfold.base.geometry import Size
from wayfold.book.materials import Binding, Duplex, Paper, Printer
from wayfold.plan.model import Gathering
from wayfold.press.impose import write_book, write_sheets
from wayfold.press.model import PressSheet
from wayfold.press.sheets import lay_sheets
from wayfold.typeset.assemble import DocumentInfo, assemble_pdf

PagesWriter = Callable[[Path, int, Size, float], Path]
MarksWriter = Callable[[Path, Sequence[PressSheet]], Path]
ColourOf = Callable[[int], tuple[int, int, int]]
PX_PER_MM = 10
TRIM = Size(60, 80)
PAPER = Paper(sheet=Size(150, 110), caliper_um=400)
PRINTER = Printer(margin_left=2, margin_right=2, margin_head=2, margin_foot=2)
GATHERINGS = (Gathering(1, 2, 1), Gathering(2, 1, 9))
FOLD_X, HEAD_Y = 75.0, 15.0


def split(pdf: Path) -> list[Path]:
    """Every page as a file of its own, in a folder beside the file."""
    folder = pdf.parent / "single"
    folder.mkdir(exist_ok=True)
    files = []
    with pikepdf.open(pdf) as book:
        for number, page in enumerate(book.pages):
            single = pikepdf.new()
            single.pages.append(page)
            files.append(folder / f"{pdf.stem} {number}.pdf")
            single.save(files[-1], deterministic_id=True)
    return files


@pytest.fixture
def impose(
    tmp_path: Path, pages_writer: PagesWriter, marks_writer: MarksWriter
) -> Callable[..., Path]:
    def run(
        duplex: Duplex = Duplex.SHORT_EDGE,
        trim: Size = TRIM,
        paper: Paper = PAPER,
        printer: Printer = PRINTER,
        gatherings: Sequence[Gathering] = GATHERINGS,
        name: str = "sheets.pdf",
    ) -> Path:
        printer = replace(printer, duplex=duplex)
        binding = Binding(creep_coefficient=1.0)
        sheets = lay_sheets(gatherings, trim, 3, paper, printer, binding)
        pages = pages_writer(tmp_path / "pages.pdf", gatherings[-1].last_page, trim, 3)
        marks = marks_writer(tmp_path / "marks.pdf", sheets)
        write_sheets(split(pages), {}, split(marks), sheets, tmp_path / name)
        return tmp_path / name

    return run


def render(pdf: Path, page: int) -> Any:
    document = pypdfium2.PdfDocument(pdf)
    try:
        # A hair less, since the size in pixels is rounded up and the page stretched to it.
        bitmap = document[page].render(scale=PX_PER_MM * 25.4 / 72 * (1 - 1e-6))
        return bitmap.to_pil().convert("RGB")
    finally:
        document.close()


def find_colour(image: Any, colour: tuple[int, int, int]) -> tuple[float, float, float, float]:
    """The upright rectangle (mm: left, head, right, foot) round all pixels of a colour."""
    pixels = np.asarray(image)
    near = np.ones(pixels.shape[:2], dtype=bool)
    for channel, value in enumerate(colour):
        near &= (pixels[:, :, channel] >= value - 3) & (pixels[:, :, channel] <= value + 3)
    rows, columns = np.flatnonzero(near.any(axis=1)), np.flatnonzero(near.any(axis=0))
    edges = (columns[0], rows[0], columns[-1] + 1, rows[-1] + 1)
    left, head, right, foot = (float(v) / PX_PER_MM for v in edges)
    return left, head, right, foot


# Pages heads up, left and right, of every side in the order of printing; creep of the sheet
# (one sheet of 0.4 mm outside).
SIDES = [
    (8, 1, 0.0),
    (2, 7, 0.0),
    (6, 3, 0.4),
    (4, 5, 0.4),
    (12, 9, 0.0),
    (10, 11, 0.0),
]


@pytest.mark.parametrize("duplex", Duplex)
def test_pages_lie_to_a_tenth_of_a_millimetre(
    impose: Callable[..., Path], colour_of: ColourOf, duplex: Duplex
) -> None:
    pdf = impose(duplex)
    for number, (left, right, creep) in enumerate(SIDES):
        image = render(pdf, number)
        assert image.size == (1500, 1100)
        if number % 2 and duplex is Duplex.LONG_EDGE:
            image = image.rotate(180)  # so that heads are up again
        for page, edges in (
            (left, (FOLD_X - 60 + creep, HEAD_Y, FOLD_X, HEAD_Y + 80)),
            (right, (FOLD_X, HEAD_Y, FOLD_X + 60 - creep, HEAD_Y + 80)),
        ):
            assert find_colour(image, colour_of(page)) == pytest.approx(edges, abs=0.1001)
        # The black squares: in the head left corner of each page, cut by the fold on the right.
        pixels = np.asarray(image).astype(int)
        for x, width in ((FOLD_X - 60 + creep, 5.0), (FOLD_X, 5.0 - creep)):
            corner = pixels[
                round((HEAD_Y + 0.5) * 10) : round((HEAD_Y + 4.5) * 10),
                round((x + 1.2) * 10) : round((x + width - 0.2) * 10),
            ]
            assert corner.max() == 0
        # Bleed at head, tail and fore-edge; the foot left corner of the page is its colour.
        for x, y in ((40, 13.5), (110, 96.5), (13.5, 50), (136.5, 50)):
            assert tuple(pixels[round(y * 10), round(x * 10)]) == (255, 0, 255)
        assert tuple(pixels[940, 170]) == colour_of(left)


def test_nothing_is_printed_outside_the_bleed_but_marks(impose: Callable[..., Path]) -> None:
    pixels = np.asarray(render(impose(), 2)).astype(int)
    outside = np.ones(pixels.shape[:2], dtype=bool)
    outside[119:981, 119:1381] = False
    grey = pixels.max(axis=2) - pixels.min(axis=2)
    assert grey[outside].max() <= 3
    assert pixels[outside].min() < 100, "there are marks"


def test_boxes_read_back(impose: Callable[..., Path]) -> None:
    reader = pypdf.PdfReader(impose())
    assert len(reader.pages) == 6
    for number, page in enumerate(reader.pages):
        creep = SIDES[number][2]
        mm = [float(v) / 72 * 25.4 for v in page.mediabox]
        assert mm == pytest.approx([0, 0, 150, 110], abs=1e-3)
        mm = [float(v) / 72 * 25.4 for v in page.trimbox]
        assert mm == pytest.approx([15 + creep, 15, 135 - creep, 95], abs=1e-3)
        mm = [float(v) / 72 * 25.4 for v in page.bleedbox]
        assert mm == pytest.approx([12 + creep, 12, 138 - creep, 98], abs=1e-3)
        assert page.rotation == 0
        resources = page["/Resources"]
        assert sorted(resources["/XObject"]) == ["/M", "/P0", "/P1"]  # type: ignore[index]


def test_no_metadata_and_the_same_bytes(impose: Callable[..., Path]) -> None:
    first = impose(name="a.pdf")
    time.sleep(1.1)  # the pages written anew get another file identity, made of the second
    second = impose(name="b.pdf")
    assert first.read_bytes() == second.read_bytes()
    reader = pypdf.PdfReader(first)
    identity = reader.trailer["/ID"]
    assert identity[0] == identity[1]  # ISO 32000-1, 14.4, for a file that was never updated
    other = pypdf.PdfReader(impose(name="c.pdf", trim=Size(60, 89))).trailer["/ID"]
    assert other[0] != identity[0]
    (first.parent / "c.pdf").unlink()
    assert not reader.metadata
    assert reader.xmp_metadata is None
    assert sorted(p.name for p in first.parent.iterdir()) == [
        "a.pdf",
        "b.pdf",
        "marks.pdf",
        "pages.pdf",
        "single",
    ]


def test_a4_on_a3_plus(impose: Callable[..., Path], colour_of: ColourOf) -> None:
    pdf = impose(trim=Size(210, 297), paper=Paper(), gatherings=(Gathering(1, 1, 1),))
    image = render(pdf, 0)
    assert image.size == (4830, 3290)
    assert find_colour(image, colour_of(4)) == pytest.approx((31.5, 16, 241.5, 313), abs=0.1001)
    assert find_colour(image, colour_of(1)) == pytest.approx((241.5, 16, 451.5, 313), abs=0.1001)


def test_wrong_pages_or_marks(
    tmp_path: Path, pages_writer: PagesWriter, marks_writer: MarksWriter
) -> None:
    sheets = lay_sheets(GATHERINGS, TRIM, 3, PAPER, PRINTER, Binding())
    pages = pages_writer(tmp_path / "pages.pdf", 11, TRIM, 3)
    marks = marks_writer(tmp_path / "marks.pdf", sheets)
    with pytest.raises(ValueError, match="11 pages"):
        write_sheets(split(pages), {}, split(marks), sheets, tmp_path / "sheets.pdf")
    pages = pages_writer(tmp_path / "pages.pdf", 12, TRIM, 3)
    marks = marks_writer(tmp_path / "marks.pdf", sheets[:-1])
    with pytest.raises(ValueError, match="4 pages of marks"):
        write_sheets(split(pages), {}, split(marks), sheets, tmp_path / "sheets.pdf")


def test_what_cannot_be_read_or_written_is_said_and_nothing_is_lost(
    tmp_path: Path, pages_writer: PagesWriter, marks_writer: MarksWriter
) -> None:
    sheets = lay_sheets(GATHERINGS, TRIM, 3, PAPER, PRINTER, Binding())
    pages = pages_writer(tmp_path / "pages.pdf", 12, TRIM, 3)
    marks = marks_writer(tmp_path / "marks.pdf", sheets)
    with pytest.raises(UserError, match="cannot be written"):
        write_sheets(split(pages), {}, split(marks), sheets, tmp_path / "gone" / "sheets.pdf")
    target = tmp_path / "sheets.pdf"
    target.write_bytes(b"the sheets of yesterday")
    broken = split(marks)
    broken[2].write_bytes(b"%PDF-1.7 broken")
    with pytest.raises(UserError, match="no whole PDF"):
        write_sheets(split(pages), {}, broken, sheets, target)
    assert target.read_bytes() == b"the sheets of yesterday"
    assert not list(tmp_path.glob(".*.part"))


def test_what_describes_the_book_is_left_behind(
    tmp_path: Path, pages_writer: PagesWriter, marks_writer: MarksWriter
) -> None:
    sheets = lay_sheets(GATHERINGS, TRIM, 3, PAPER, PRINTER, Binding())
    pages = pages_writer(tmp_path / "pages.pdf", 12, TRIM, 3)
    singles = split(pages)
    for single in singles:
        writer = pypdf.PdfWriter(single)
        writer.add_metadata({"/Title": "A secret title", "/Author": "Nobody"})
        writer.add_outline_item(title="A secret chapter", page_number=0)
        writer.write(single)
    marks = marks_writer(tmp_path / "marks.pdf", sheets)
    write_sheets(singles, {}, split(marks), sheets, tmp_path / "sheets.pdf")
    reader = pypdf.PdfReader(tmp_path / "sheets.pdf")
    assert not reader.metadata
    assert reader.outline == []
    assert sorted(reader.root_object) == ["/Pages", "/Type"]
    assert len(reader.pages) == 6
    for pdf, told in ((singles[0], True), (tmp_path / "sheets.pdf", False)):
        with pikepdf.open(pdf) as plain:
            plain.save(tmp_path / "plain.pdf", qdf=True)
        assert (b"secret" in (tmp_path / "plain.pdf").read_bytes()) == told


def test_pages_opened_once_give_the_same_two_files(
    tmp_path: Path, pages_writer: PagesWriter, marks_writer: MarksWriter
) -> None:
    sheets = lay_sheets(GATHERINGS, TRIM, 3, PAPER, PRINTER, Binding())
    pages = split(pages_writer(tmp_path / "pages.pdf", GATHERINGS[-1].last_page, TRIM, 3))
    marks = split(marks_writer(tmp_path / "marks.pdf", sheets))
    info = DocumentInfo("The Way", "A. Walker", "en", tuple(str(n) for n in range(len(pages))))
    apart, both = tmp_path / "apart", tmp_path / "both"
    apart.mkdir()
    both.mkdir()
    assemble_pdf(pages, {}, apart / "reading.pdf", info)
    write_sheets(pages, {}, marks, sheets, apart / "sheets.pdf")
    to_read = (both / "reading.pdf", info)
    write_book(pages, {}, to_read, marks, sheets, both / "sheets.pdf")
    for name in ("reading.pdf", "sheets.pdf"):
        assert (both / name).read_bytes() == (apart / name).read_bytes(), name
    with pikepdf.open(both / "sheets.pdf") as printed:
        assert "/Title" not in printed.docinfo
        assert "/Lang" not in printed.Root
