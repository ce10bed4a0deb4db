"""What is printed before and beside the sheets: trial, proof, fronts and backs for the hand."""

from pathlib import Path

import pypdf

from wayfold.app.make import make_book
from wayfold.app.refold import refold_folder
from wayfold.base.progress import NoProgress


def set_printer(book: Path, *lines: str) -> None:
    path = book / "book.toml"
    kept = path.read_text(encoding="utf-8").split("[printer]")[0]
    path.write_text("\n".join((kept, "[printer]", *lines, "")), encoding="utf-8")


def read(path: Path) -> pypdf.PdfReader:
    return pypdf.PdfReader(path)  # an independent reader


def test_the_trial_is_a_sheet_of_the_book(book: Path) -> None:
    out = book / "out"
    trial, sheets = read(out / "trial.pdf"), read(out / "sheets.pdf")
    assert len(trial.pages) == 2
    contents = [page.get_contents().get_data() for page in sheets.pages]
    tried = [page.get_contents().get_data() for page in trial.pages]
    at = contents.index(tried[0])
    assert at % 2 == 0
    assert contents[at + 1] == tried[1]


def test_the_proof_is_of_the_books_paper_and_pictures(book: Path) -> None:
    (page,) = read(book / "out" / "proof.pdf").pages
    # A3+ (483 x 329 mm, common practice), 72 points to the inch.
    size = [float(v) / 72 * 25.4 for v in (page.mediabox.width, page.mediabox.height)]
    assert [round(v, 1) for v in size] == [483.0, 329.0]
    assert 1 <= len(page.images) <= 6


def test_printing_by_hand_in_both_orders(book: Path) -> None:
    out = book / "out"
    assert not (out / "backs.pdf").exists()
    for order in ("same", "reversed"):
        set_printer(book, 'duplex = "manual"', f'back_order = "{order}"')
        make_book(book, NoProgress())
        assert refold_folder(book, NoProgress()).ok
        fronts, backs = read(out / "fronts.pdf"), read(out / "backs.pdf")
        assert len(fronts.pages) == len(backs.pages) == len(read(out / "sheets.pdf").pages) // 2
    # The backs in the order that is not set come out on the wrong fronts.
    backwards = pypdf.PdfWriter()
    for page in reversed(read(out / "backs.pdf").pages):
        backwards.add_page(page)
    backwards.write(out / "backs.pdf")
    assert not refold_folder(book, NoProgress()).ok
    set_printer(book, 'duplex = "long-edge"')
    make_book(book, NoProgress())
    assert not (out / "backs.pdf").exists()
