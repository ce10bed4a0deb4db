"""A person starts a book from a folder of pictures, and comes back to it later."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.axe import find_barriers
from tests.browser.conftest import let_in, serve_desk
from tests.desk_book import paint_journey
from wayfold.app.places import Places
from wayfold.app.shelf import Shelf

pytestmark = pytest.mark.browser


@dataclass(slots=True)
class EmptyDesk:
    page: Page
    shelf: Shelf
    home: Path
    shoot: Callable[[str], None]

    def choose_folder(self, *names: str, take: str) -> None:
        """Go down the folders by their names, and take the last."""
        dialog = self.page.get_by_role("dialog")
        for name in names:
            item: Locator = dialog.get_by_role("listitem").filter(has_text=name)
            item.get_by_role("button").click()
        dialog.get_by_role("button", name=take).click()
        expect(dialog).to_have_count(0)


@pytest.fixture
def home(tmp_path: Path) -> Path:
    paint_journey(tmp_path / "home" / "Pictures" / "atlantic")
    (tmp_path / "home" / "Books").mkdir()
    return tmp_path / "home"


@pytest.fixture
def empty_desk(
    windows: BrowserContext, home: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> Iterator[EmptyDesk]:
    shelf = Shelf(Places(home), memory=tmp_path / "memory" / "books.json")
    with (
        serve_desk(shelf) as opening,
        let_in(windows, opening, request) as (page, _, shoot),
    ):
        yield EmptyDesk(page, shelf, home, shoot)


def test_a_book_is_started_from_a_folder_of_pictures(empty_desk: EmptyDesk) -> None:
    page = empty_desk.page
    page.get_by_role("button", name="Start the book").click()
    expect(page.get_by_role("alert")).to_have_text("It wants a title.")
    page.get_by_role("textbox", name="Title").fill("Four Days: Lisbon / Porto")
    page.get_by_role("button", name="Choose a folder").click()
    empty_desk.choose_folder("Pictures", "atlantic", take="Take this folder: atlantic")
    page.get_by_role("button", name="Where the book shall lie").click()
    empty_desk.choose_folder("Books", take="Take this folder: Books")
    page.get_by_role("radio", name="shore").check()
    page.get_by_role("button", name="Start the book").click()
    heading = page.get_by_role("heading", level=1)
    expect(heading).to_have_text("Four Days: Lisbon / Porto", timeout=90_000)
    root = empty_desk.home / "Books" / "Four Days Lisbon Porto"
    assert (root / "book.toml").is_file()
    page.get_by_role("link", name="Read", exact=True).click()
    page.locator("[data-spread] .ready").first.wait_for()

    page.get_by_role("button", name="Other books").click()
    known = page.get_by_role("button", name="Four Days: Lisbon / Porto")
    expect(known).to_be_visible()
    assert find_barriers(page) == []
    known.click()
    expect(heading).to_have_text("Four Days: Lisbon / Porto", timeout=60_000)


def test_the_folders_are_gone_through_by_keys(empty_desk: EmptyDesk) -> None:
    page = empty_desk.page
    page.get_by_role("button", name="Choose a folder").focus()
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("Pictures")
    assert find_barriers(page) == []
    empty_desk.shoot("start-folders")
    dialog.get_by_role("button", name="Pictures").focus()
    page.keyboard.press("Enter")
    expect(dialog).to_contain_text("atlantic")
    page.keyboard.press("Escape")
    expect(dialog).to_have_count(0)


@pytest.mark.expects_faults
def test_a_folder_without_pictures_says_what_to_do(empty_desk: EmptyDesk) -> None:
    (empty_desk.home / "Empty").mkdir()
    page = empty_desk.page
    page.get_by_role("textbox", name="Title").fill("Nothing")
    page.get_by_role("button", name="Choose a folder").click()
    empty_desk.choose_folder("Empty", take="Take this folder: Empty")
    page.get_by_role("button", name="Where the book shall lie").click()
    empty_desk.choose_folder("Books", take="Take this folder: Books")
    page.get_by_role("button", name="Start the book").click()
    expect(page.get_by_role("alert").first).to_contain_text("There are no photographs")
    assert list((empty_desk.home / "Books").iterdir()) == []
    # What was filled in is still there.
    expect(page.get_by_role("textbox", name="Title")).to_have_value("Nothing")
    empty_desk.shoot("start-refused")


@pytest.mark.expects_faults
def test_a_broken_book_is_opened_from_its_other_version(empty_desk: EmptyDesk) -> None:
    page, root = empty_desk.page, empty_desk.home / "Books" / "South"
    whole = 'version = 1\n[book]\ntitle = "South"\nphotographs = ["photographs"]\n'
    root.mkdir()
    (root / "book.toml").write_text(whole[:-12], "utf-8")
    (root / "book (conflicted copy 2026-11-29).toml").write_text(whole, "utf-8")
    page.get_by_role("button", name="Open another book").click()
    empty_desk.choose_folder("Books", "South", take="Open the book in South")
    expect(page.get_by_text("A file of this book lies here in two versions.")).to_be_visible()
    empty_desk.shoot("start-copies")
    page.get_by_role("button", name="Look at both").click()
    expect(page.get_by_role("region", name="book.toml")).to_contain_text("Not both can be read")
    assert find_barriers(page) == []
    empty_desk.shoot("start-copies-both")
    page.get_by_role("button", name="Take the other").click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    # It reads, and what it wants now are its photographs.
    expect(page.get_by_role("alert")).to_contain_text("photographs")


def test_start_shuts_nobody_out(empty_desk: EmptyDesk) -> None:
    page = empty_desk.page
    page.get_by_role("heading", name="A new book").wait_for()
    assert find_barriers(page) == []
    for width, height in ((1280, 800), (1920, 1080)):
        page.set_viewport_size({"width": width, "height": height})
        empty_desk.shoot(f"start-{width}")


def test_what_works_here_is_tried_when_asked_for(empty_desk: EmptyDesk) -> None:
    page = empty_desk.page
    page.get_by_text("What works here").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("All that Wayfold needs works here.")).to_be_visible(timeout=60_000)
    expect(page.get_by_role("listitem").filter(has_text="Typesetter")).to_contain_text("works")
    assert find_barriers(page) == []
    for width, height in ((1280, 800), (1920, 1080)):
        page.set_viewport_size({"width": width, "height": height})
        empty_desk.shoot(f"start-works-here-{width}")
