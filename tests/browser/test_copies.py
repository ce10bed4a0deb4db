"""Two versions of a file at the desk: told, set side by side, one chosen, and back again."""

import pytest
from playwright.sync_api import expect

from tests.browser.axe import find_barriers
from tests.browser.rooms import RealDesk

pytestmark = pytest.mark.browser


def test_of_two_versions_one_is_chosen_and_the_other_comes_back(real_desk: RealDesk) -> None:
    page, root = real_desk.page, real_desk.root
    book, text = root / "book.toml", root / "texts" / "foreword.md"
    ours = book.read_text("utf-8")
    title = "Four Days by the Atlantic"
    other = ours.replace(title, "Four Days in the Rain").replace('author = ""', 'author = "M. Q."')
    # What a program does that keeps the folder in step with another machine's.
    copy = root / "book (conflicted copy 2026-11-29).toml"
    copy.write_text(other, "utf-8")
    (root / "texts" / "foreword-STUDIO.md").write_text("We went *south*.\n\nAll of us.\n", "utf-8")
    look = page.get_by_role("button", name="Look at both")
    expect(page.get_by_text("2 files of this book lie here in two versions.")).to_be_visible()
    real_desk.shoot("copies-told")
    look.click()
    of_book = page.get_by_role("region", name="book.toml")
    expect(of_book.get_by_role("row", name="book · title")).to_contain_text("Four Days in the Rain")
    expect(of_book.get_by_role("row", name="book · author")).to_contain_text("M. Q.")
    of_text = page.get_by_role("region", name="texts/foreword.md")
    expect(of_text).to_contain_text("All of us.")
    assert find_barriers(page) == []
    for width, height in ((1280, 800), (1920, 1080)):
        page.set_viewport_size({"width": width, "height": height})
        real_desk.shoot(f"copies-{width}")

    # By the keyboard: ours is kept, and the other version is gone from the folder.
    of_text.get_by_role("button", name="Stay with the book’s").focus()
    page.keyboard.press("Enter")
    expect(of_text).to_have_count(0)
    assert text.read_text("utf-8") == "We went *west*.\n"
    of_book.get_by_role("button", name="Take the other").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Four Days in the Rain")
    expect(look).to_have_count(0)
    assert (book.read_text("utf-8"), copy.exists()) == (other, False)

    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(title)
    expect(look).to_be_visible()
    assert (book.read_text("utf-8"), copy.read_text("utf-8")) == (ours, other)
    look.click()
    expect(of_book).to_be_visible()
    page.keyboard.press("Escape")
    expect(of_book).to_have_count(0)
    expect(look).to_be_focused()
