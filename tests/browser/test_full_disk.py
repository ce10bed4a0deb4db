"""The disk fills up while one writes: the desk says so, and nothing that was typed is lost."""

from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, expect

from tests.browser.axe import find_barriers
from tests.browser.conftest import let_in, serve_desk
from tests.browser.rooms import RealDesk
from tests.browser.spread_room import find_page, open_spread, pictures_of
from tests.desk_book import copy_book, open_book
from tests.small_disk import fill, mount_small
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book

pytestmark = [pytest.mark.browser, pytest.mark.expects_faults]

WORDS = "The last ferry, which we nearly missed."


def caption_of(root: Path, photo: str) -> str | None:
    choice = load_book(BookFolder(root)).book.choices.get(photo)
    return choice.caption if choice else None


def test_a_caption_is_kept_once_there_is_room(
    windows: BrowserContext, atlantic: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    with mount_small(tmp_path / "disk", 64) as disk:
        shelf = open_book(copy_book(atlantic, disk / "atlantic"))
        with (
            serve_desk(shelf) as opening,
            let_in(windows, opening, request) as (page, faults, shoot),
        ):
            page.get_by_role("heading", level=1).wait_for()
            desk = RealDesk(page, shelf.session, opening.split("?")[0], shoot, faults)
            number = find_page(desk, 1)
            photo = pictures_of(shelf.session.results.layout.pages[number - 1])[0].photo
            spread = open_spread(desk, number)
            spread.find(photo).click()
            spread.side("Write its caption").click()
            slip = page.get_by_role("group", name="Write here").get_by_role("textbox")
            slip.fill(WORDS)
            filler = fill(disk)
            page.keyboard.press("Control+Enter")
            told = page.get_by_text("The disk is full.", exact=False)
            expect(told).to_be_visible()
            expect(slip).to_have_value(WORDS)
            expect(page.get_by_text("Not saved yet")).to_be_visible()
            assert not caption_of(desk.root, photo)
            shoot("disk-full")
            assert find_barriers(page) == []
            filler.unlink()
            slip.press("Control+Enter")
            expect(slip).not_to_be_attached()
            desk.wait_until_saved()
            assert caption_of(desk.root, photo) == WORDS
