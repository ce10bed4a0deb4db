"""A person prints a book: marks sheets, changes a caption, prints again just what it touches."""

from io import BytesIO
from pathlib import Path

import pypdf
import pytest
import pyvips
from playwright.sync_api import expect

from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk
from wayfold.app.make import make_book
from wayfold.base.progress import NoProgress
from wayfold.book.edits import SetCaption
from wayfold.layout.model import PictureFrame

pytestmark = pytest.mark.browser


def test_a_changed_caption_is_printed_again_on_its_own_sheet(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    real_desk.enter("Sheets")
    expect(page.get_by_text("The print files are not made yet.")).to_be_visible()
    page.get_by_role("button", name="Make the print files").click()
    expect(page.get_by_text("The print files are those of the book as it is now.")).to_be_visible(
        timeout=120_000
    )
    rows = page.locator("[data-sheet]")
    number = rows.count()
    assert number == len(session.results.sheets) + len(session.results.interleaf_sheets)
    # From the first sheet to the third by keys, then all.
    page.locator("[data-choose]").first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Shift+ArrowDown")
    expect(page.get_by_text("2 sheets chosen")).to_be_visible()
    page.keyboard.press("p")
    expect(page.locator("[data-state='printed']")).to_have_count(2)
    page.keyboard.press("a")
    page.keyboard.press("p")
    expect(page.locator("[data-state='printed']")).to_have_count(number)
    real_desk.shoot("sheets-printed")

    session.edit(SetCaption(find_placed(real_desk), "Where the road ends."))
    expect(page.get_by_text("1 sheet is to be printed again.")).to_be_visible()
    changed = page.locator("[data-state='print again']")
    expect(changed).to_have_count(1)
    expect(changed).to_contain_text("caption")
    page.get_by_role("button", name="Make the print files").click()
    expect(page.get_by_role("link", name="Open the file of just these")).to_be_visible(
        timeout=120_000
    )
    real_desk.shoot("sheets-again")
    door = page.get_by_role("link", name="Open the file of just these").get_attribute("href")
    answer = page.request.get(real_desk.address + (door or ""))
    assert answer.headers["content-type"] == "application/pdf"
    assert len(pypdf.PdfReader(BytesIO(answer.body())).pages) == 2

    page.get_by_role("button", name="those to print again").click()
    page.get_by_role("button", name="They lie printed").click()
    expect(page.locator("[data-state='printed']")).to_have_count(number)
    expect(page.get_by_text("Noted: 1 sheet lies printed.")).to_be_visible()
    page.get_by_role("button", name="Take this back").click()
    expect(page.locator("[data-state='print again']")).to_have_count(1)


def find_placed(desk: RealDesk) -> str:
    """A photograph that stands in the book."""
    pages = desk.session.results.layout.pages
    frames = (frame for page in pages for frame in page.frames)
    return next(frame.photo for frame in frames if isinstance(frame, PictureFrame))


def test_the_sheets_and_their_files_shut_nobody_out(real_desk: RealDesk) -> None:
    make_book(real_desk.root, NoProgress())
    page = real_desk.page
    for place in ("sheets", "files", "printer", "registration", "proof"):
        page.goto(f"{real_desk.address}#/sheets/{place}")
        page.locator("h2").first.wait_for()
        page.wait_for_load_state("networkidle")
        assert find_barriers(page) == []


def test_a_printer_is_set_up_and_its_registration_typed_in(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    real_desk.enter("Sheets")
    page.get_by_role("link", name="Paper and printer").click()
    pictures = page.get_by_role("region", name="How the paper is laid and turned").locator("li")
    expect(pictures).to_have_count(3)
    page.get_by_label("it prints one side, and I turn the pile").check()
    expect(pictures).to_have_count(4)
    page.get_by_label("What does it weigh, in g/m²?").first.fill("20")
    page.get_by_role("button", name="Keep these answers").click()
    expect(page.get_by_text("Not kept yet")).to_be_visible()
    real_desk.shoot("printer-doubt")
    page.get_by_label("What does it weigh, in g/m²?").first.fill("170")
    page.get_by_role("button", name="Keep these answers").click()
    expect(page.get_by_text("Kept.", exact=True)).to_be_visible()
    assert session.results.book.printer.duplex == "manual"
    assert session.results.book.paper.grammage_gsm == 170

    page.get_by_role("link", name="Registration").click()
    page.get_by_role("button", name="Make the sheet").click()
    expect(page.get_by_role("link", name="Open the sheet")).to_be_visible()
    for name, right, down in (("A", "0,4", "−0.3"), ("B", "0.6", "0.5"), ("C", "-.2", "-0.4")):
        page.get_by_label(f"{name}: to the right, in mm").fill(right)
        page.get_by_label(f"{name}: below, in mm").fill(down)
    page.get_by_label("D: to the right, in mm").fill("1.3")
    page.get_by_label("D: below, in mm").fill("0.6")
    page.get_by_label("across, in mm").fill("423.6")
    page.keyboard.press("Enter")
    expect(page.get_by_text("at odds with the others")).to_be_visible()
    page.get_by_label("D: to the right, in mm").fill("0.1")
    page.keyboard.press("Enter")
    expect(page.get_by_text("at odds with the others")).to_be_hidden()
    expect(page.get_by_text("In the middle of the sheet the back lies")).to_be_visible()
    real_desk.shoot("registration-found")
    registration = session.results.book.registration
    assert registration is not None
    assert [(p.x, p.y) for p in registration.offsets] == [
        (0.4, -0.3),
        (0.6, 0.5),
        (-0.2, -0.4),
        (0.1, 0.6),
    ]
    assert registration.across == 423.6
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("D: to the right, in mm")).to_have_value("1.3")
    page.get_by_label("D: to the right, in mm").fill("wide")
    page.get_by_role("button", name="Keep these readings").click()
    expect(page.get_by_text("Write a number of millimetres")).to_be_visible()


def test_pages_are_proven_with_a_profile_that_is_handed_in(
    real_desk: RealDesk, tmp_path: Path
) -> None:
    """The profile is a third party's (Graeme W. Gill, public domain), from the imaging library."""
    make_book(real_desk.root, NoProgress())
    profile = tmp_path / "press.icc"
    profile.write_bytes(bytes(pyvips.Operation.call("profile_load", "cmyk")))
    page = real_desk.page
    real_desk.enter("Sheets")
    page.get_by_role("link", name="Colours on paper").click()
    page.get_by_label("Choose a profile").set_input_files(profile)
    page.get_by_text("(CMYK)").wait_for()
    page.get_by_label("Page", exact=True).select_option("8")
    page.get_by_role("button", name="Prove this page").click()
    pictures = page.locator("figure img")
    expect(pictures).to_have_count(3)
    expect(page.get_by_text("ΔE")).to_be_visible()
    page.wait_for_function(
        "() => [...document.querySelectorAll('figure img')].every((i) => i.naturalWidth > 0)"
    )
    real_desk.shoot("proof")
    assert find_barriers(page) == []
