"""Shaping the book in the flatplan, as a person does it, with keys and with the pointer."""

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests import desk_book
from tests.browser.axe import find_barriers
from tests.browser.conftest import let_in, serve_desk
from tests.browser.rooms import RealDesk
from tests.desk_book import CAMERA_LATE, START, copy_book, open_book, paint
from wayfold.book.edits import SetText

pytestmark = pytest.mark.browser
LARGE = (6000, 4000)
PATIENCE_MS = 90_000


@pytest.fixture
def large_desk(
    windows: BrowserContext,
    atlantic: Path,
    tmp_path: Path,
    request: pytest.FixtureRequest,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[RealDesk]:
    """The journey with one picture more, large enough to cross two pages."""
    root = copy_book(atlantic, tmp_path / "large")
    monkeypatch.setattr(desk_book, "SIZES", (LARGE,) * 3)
    taken = START + timedelta(days=1, hours=2) - CAMERA_LATE
    paint(root / "photographs" / "camera" / "H9000.jpg", 90, taken, None)
    shelf = open_book(root)
    with (
        serve_desk(shelf) as opening,
        let_in(windows, opening, request) as (page, faults, shoot),
    ):
        page.get_by_role("heading", level=1).wait_for()
        yield RealDesk(page, shelf.session, opening.split("?")[0], shoot, faults)


def find_page(page: Page, number: int) -> Locator:
    return page.locator(f"[data-page='{number}']")


def do_it(page: Page) -> None:
    page.get_by_role("button", name="Do it").click(timeout=PATIENCE_MS)
    expect(page.get_by_role("button", name="Leave it")).to_have_count(0, timeout=PATIENCE_MS)


def list_pins(desk: RealDesk) -> dict[str, int | None]:
    return {pin.block: pin.page for pin in desk.session.results.book.planning.pins}


def undo(desk: RealDesk) -> None:
    before = desk.session.state().changes
    desk.page.get_by_role("button", name="Undo").click()
    expect(desk.page.get_by_role("button", name="Do again")).to_be_enabled(timeout=PATIENCE_MS)
    # The history says so before the pages are derived again.
    desk.wait_until_saved()
    assert desk.session.state().changes > before


def test_every_page_lies_in_its_gathering_and_looks_as_it_prints(real_desk: RealDesk) -> None:
    page, plan = real_desk.page, real_desk.session.results.plan
    real_desk.enter("Flatplan")
    expect(page.get_by_role("listbox")).to_have_count(len(plan.gatherings))
    expect(page.get_by_role("option")).to_have_count(len(plan.pages))
    expect(page.get_by_role("heading", level=2)).to_have_text(
        re.compile(rf"{len(plan.pages)} pages on \d+ sheets in {len(plan.gatherings)} gatherings")
    )
    picture = find_page(page, plan.first_page_of("opener:0")).locator("img")
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", True)
    assert picture.evaluate("image => image.naturalHeight") == 330
    box = picture.bounding_box()
    assert box
    # ISO 216: A4 is 210 mm by 297 mm.
    assert box["width"] / box["height"] == pytest.approx(210 / 297, rel=0.01)
    real_desk.shoot("flatplan")


def test_what_belongs_together_lights_up(real_desk: RealDesk) -> None:
    page, plan = real_desk.page, real_desk.session.results.plan
    real_desk.enter("Flatplan")
    gathering = plan.gatherings[1]
    number = gathering.first_page + 1
    find_page(page, number).click()
    # Geometry of folding: the pages of one sheet side come to first + last.
    conjugate = gathering.first_page + gathering.last_page - number
    expect(find_page(page, conjugate)).to_have_class(re.compile(r"\bconjugate\b"))
    expect(page.locator(".sheet.lit")).to_have_count(1)
    expect(page.get_by_text(f"lies page {conjugate}.")).to_be_visible()


def test_a_change_from_elsewhere_leaves_the_chosen_page_alone(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Flatplan", "page-3")
    expect(find_page(page, 3)).to_be_focused()
    find_page(page, 9).click()
    real_desk.session.edit(SetText("foreword", "Other words."))
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    page.wait_for_load_state("networkidle")
    expect(find_page(page, 9)).to_have_attribute("aria-selected", "true")


def test_keys_go_from_page_to_page_and_into_the_spread(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Flatplan")
    find_page(page, 1).focus()
    for key, number in [("ArrowRight", 2), ("ArrowRight", 3), ("ArrowLeft", 2), ("End", 24)]:
        page.keyboard.press(key)
        expect(find_page(page, number)).to_be_focused()
    page.keyboard.press("Home")
    expect(find_page(page, 1)).to_be_focused()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"#/spread/page-2$"))


def test_a_picture_becomes_a_hero_at_a_centre_and_is_undone(large_desk: RealDesk) -> None:
    page, session = large_desk.page, large_desk.session
    large_desk.enter("Flatplan")
    plan = session.results.plan
    photo = next(p.id for p in session.results.catalogue.photos if "H9000" in p.path)
    block = next(b.id for b in session.results.story.blocks if photo in b.photos)
    find_page(page, plan.first_page_of(block)).click()
    page.locator("li", has_text="H9000").get_by_role("button", name="Make it a hero").click()
    page.get_by_role("button", name="Leave it").wait_for(timeout=PATIENCE_MS)
    if page.get_by_role("button", name="At a centre").count():
        page.get_by_role("button", name="At a centre").first.click()
    expect(page.get_by_text("lies at the centre of gathering")).to_be_visible(timeout=PATIENCE_MS)
    page.locator(".rows.drawn").wait_for(timeout=PATIENCE_MS)
    large_desk.shoot("flatplan-hero")
    do_it(page)
    first = session.results.plan.first_page_of(f"hero:{photo}")
    assert first in {g.centre[0] for g in session.results.plan.gatherings}
    expect(find_page(page, first)).to_have_attribute(
        "aria-label", re.compile("hero H9000.*at the centre")
    )
    undo(large_desk)
    assert session.results.plan == plan


def test_an_interleaf_is_asked_for_with_its_pair_and_undone(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    real_desk.enter("Flatplan")
    plan = session.results.plan
    photo = next(p.id for p in session.results.catalogue.photos if "IMG_0008" in p.path)
    block = next(b.id for b in session.results.story.blocks if photo in b.photos)
    find_page(page, plan.first_page_of(block)).click()
    page.locator("li", has_text="IMG_0008").get_by_role(
        "button", name="Ask for an interleaf over it"
    ).click()
    expect(page.get_by_text("it comes out again between pages")).to_be_visible(timeout=PATIENCE_MS)
    real_desk.shoot("flatplan-interleaf")
    do_it(page)
    (leaf,) = session.results.plan.interleaves
    assert leaf.depth is not None
    expect(page.locator(".fan .leaf")).to_have_count(1)
    over = next(end.over for end in leaf.ends if end.over is not None)
    find_page(page, over).click()
    expect(page.locator(".fan .leaf.lit")).to_have_count(1)
    expect(page.locator(".veil.lit")).to_have_count(2)
    expect(page.get_by_role("button", name="Take its interleaf away")).to_be_visible()
    undo(real_desk)
    expect(page.locator(".fan .leaf")).to_have_count(0)
    assert session.results.plan == plan


def test_a_block_is_moved_by_keys_and_held_and_all_is_undone(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    real_desk.enter("Flatplan")
    plan = session.results.plan
    block = next(b.id for b in session.results.story.blocks if b.kind.value == "group")
    first = plan.first_page_of(block)
    find_page(page, first).click()
    page.keyboard.press("m")
    expect(page.get_by_text("Taken up:")).to_be_visible()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_text(f"to begin on page {first + 1}")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_text("Taken up:")).to_have_count(0)
    page.keyboard.press("m")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Do it").wait_for(timeout=PATIENCE_MS)
    real_desk.shoot("flatplan-moved")
    do_it(page)
    assert session.results.plan.first_page_of(block) == first + 1
    assert list_pins(real_desk) == {block: first + 1}
    expect(page.locator(".numbers i", has_text="held")).to_have_count(1)
    real_desk.wait_until_saved()
    real_desk.wait_until_quiet()
    opener = find_page(page, session.results.plan.first_page_of("opener:0"))
    opener.click()
    page.get_by_role("button", name=re.compile(r"^Hold on page")).click()
    expect(page.locator(".numbers i", has_text="held")).to_have_count(2, timeout=PATIENCE_MS)
    undo(real_desk)
    expect(page.locator(".numbers i", has_text="held")).to_have_count(1, timeout=PATIENCE_MS)
    undo(real_desk)
    expect(page.locator(".numbers i", has_text="held")).to_have_count(0, timeout=PATIENCE_MS)
    assert session.results.plan == plan
    assert list_pins(real_desk) == {}


def test_a_block_is_carried_by_the_pointer(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    real_desk.enter("Flatplan")
    block = next(b.id for b in session.results.story.blocks if b.kind.value == "group")
    first = session.results.plan.first_page_of(block)
    find_page(page, first + 1).scroll_into_view_if_needed()
    find_page(page, first).hover()
    page.mouse.down()
    find_page(page, first + 1).hover()
    expect(page.locator(".ghost")).to_be_visible()
    expect(page.get_by_text(f"to begin on page {first + 1}")).to_be_visible()
    page.mouse.up()
    page.get_by_role("button", name="Do it").wait_for(timeout=PATIENCE_MS)
    page.get_by_role("button", name="Leave it").click()
    assert list_pins(real_desk) == {}


def test_where_something_cannot_lie_the_ways_out_are_offered(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    real_desk.enter("Flatplan")
    first = session.results.plan.first_page_of("opener:1")
    find_page(page, first).click()
    page.keyboard.press("m")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_text("This cannot be.")).to_be_visible(timeout=PATIENCE_MS)
    way = page.get_by_role("button", name=re.compile(r"^On page \d+$")).first
    number = int((way.text_content() or "").split()[-1])
    way.click()
    do_it(page)
    assert session.results.plan.first_page_of("opener:1") == number


def test_a_picture_carried_far_changes_places_with_what_stands_there(real_desk: RealDesk) -> None:
    page, session = real_desk.page, real_desk.session
    plan = session.results.plan
    groups = [b for b in session.results.story.blocks if b.kind.value == "group"]
    mine, theirs = groups[0], groups[-1]
    far = plan.first_page_of(theirs.id)
    real_desk.enter("Flatplan")
    find_page(page, plan.first_page_of(mine.id)).click()
    page.keyboard.press("m")
    for _ in range(far - plan.first_page_of(mine.id)):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.get_by_text("This cannot be.")).to_be_visible(timeout=PATIENCE_MS)
    real_desk.shoot("flatplan-too-far")
    page.get_by_role("button", name=re.compile(rf"^On page {far}, changing places with ")).click()
    page.locator(".rows.drawn").wait_for(timeout=PATIENCE_MS)
    real_desk.shoot("flatplan-exchange")
    do_it(page)
    assert mine.photos[0] in session.results.story.block(theirs.id).photos
    page.get_by_role("button", name="Undo").click()
    real_desk.wait_until_saved()
    assert session.results.story.block(theirs.id).photos == theirs.photos


def test_a_trial_shuts_nobody_out(real_desk: RealDesk) -> None:
    page = real_desk.page
    real_desk.enter("Flatplan")
    find_page(page, real_desk.session.results.plan.first_page_of("opener:0")).click()
    page.get_by_role("button", name="Open the chapter behind an interleaf").click()
    page.locator(".rows.drawn").wait_for(timeout=PATIENCE_MS)
    assert find_barriers(page) == []
