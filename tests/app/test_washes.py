"""Washes on their whole way: into the print file, the desk and the ledger."""

import io
from pathlib import Path

import numpy as np
import pypdf
from PIL import Image

from tests.app.test_ledger import write_setting
from wayfold.app.ledger import mark_sheets
from wayfold.app.make import make_book
from wayfold.app.refold import refold_folder
from wayfold.app.session import Session
from wayfold.base.progress import NoProgress
from wayfold.project.files import BookFolder


def list_pictures(book: Path) -> list[list[tuple[tuple[int, int], bytes]]]:
    """The pictures on each page of the reading file, by an independent reader."""
    reader = pypdf.PdfReader(book / "out" / "reading.pdf")
    return [[(i.image.size, i.data) for i in page.images if i.image] for page in reader.pages]


def count_pictures(book: Path) -> int:
    return sum(len(page) for page in list_pictures(book))


def test_washes_are_printed_kept_and_left_out(book: Path) -> None:
    with_washes = list_pictures(book)
    again = make_book(book, NoProgress())
    assert again.nothing_to_do
    write_setting(BookFolder(book), "style", "wash_seed = 7")
    report = make_book(book, NoProgress())
    assert 0 < report.pictures <= 6  # washes alone
    assert list_pictures(book) != with_washes
    assert refold_folder(book, NoProgress()).ok
    write_setting(BookFolder(book), "style", "wash_seed = 0")
    assert make_book(book, NoProgress()).pictures == 0
    assert list_pictures(book) == with_washes  # the same bytes
    write_setting(BookFolder(book), "style", 'washes = "none"')
    make_book(book, NoProgress())
    assert 0 < count_pictures(book) < sum(len(page) for page in with_washes)


def test_the_desk_shows_a_wash(book: Path) -> None:
    session = Session.open(book, NoProgress()).shown
    addresses = {
        part.split('"')[0].removesuffix(".jpg")
        for number in range(1, len(session.view().pages) + 1)
        for part in session.page_svg(number).split("/assets/")[1:]
    }
    opened = [Image.open(io.BytesIO(session.asset_jpeg(a))) for a in addresses]
    pictures = [np.asarray(picture.convert("L")) for picture in opened]
    # Nothing darker than OKLab lightness 0.8: grey 187 in sRGB (0.8³ = 0.512 of light).
    washes = [p for p in pictures if p.min() >= 187]
    assert washes
    assert all(p.max() == 255 for p in washes)


def test_another_seed_is_a_reason_to_print_again(book: Path) -> None:
    mark_sheets(book, ["all"], printed=True)
    write_setting(BookFolder(book), "style", "wash_seed = 7")
    reasons = make_book(book, NoProgress()).reprint
    assert reasons
    assert all("wash" in reason and "picture" not in reason for reason in reasons), reasons
