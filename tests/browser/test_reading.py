"""Reading a book at the desk, as a person does it. Our own expectations; keys as in PDF readers
at large (arrows, page keys, space, Home, End: common practice, no single source)."""

import re

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import OpenDesk
from tests.desk.fake_book import PAGE_COUNT, FakeShown
from wayfold.base.errors import UserError

pytestmark = pytest.mark.browser
LAST = PAGE_COUNT // 2


def test_opens_with_the_title_and_no_key_in_the_address(desk: OpenDesk) -> None:
    expect(desk.page.get_by_role("heading", level=1)).to_have_text("The Long Way Down to the Sea")
    expect(desk.page).to_have_title("The Long Way Down to the Sea")
    assert "key" not in desk.page.url
    desk.wait_for_pages(1)
    desk.shoot("first-page")


def test_pages_keep_their_shape_and_meet_at_the_fold(desk: OpenDesk) -> None:
    desk.page.keyboard.press("ArrowRight")
    desk.wait_for_pages(2, 3)
    left = desk.page.locator("[data-page='2']").bounding_box()
    right = desk.page.locator("[data-page='3']").bounding_box()
    assert left and right
    # ISO 216: A4 is 210 mm by 297 mm.
    assert left["width"] / left["height"] == pytest.approx(210 / 297, rel=0.004)
    assert right["width"] / right["height"] == pytest.approx(210 / 297, rel=0.004)
    assert left["x"] + left["width"] == pytest.approx(right["x"], abs=1)
    assert left["y"] == pytest.approx(right["y"], abs=0.5)
    desk.shoot("title-spread")


def test_keys_turn_the_pages_and_stop_at_the_covers(desk: OpenDesk) -> None:
    desk.wait_for_spread(0)
    for key, index in [
        ("ArrowLeft", 0),
        ("ArrowRight", 1),
        ("PageDown", 2),
        (" ", 3),
        ("Shift+ ", 2),
        ("ArrowLeft", 1),
        ("PageUp", 0),
        ("End", LAST),
        ("ArrowRight", LAST),
        ("Home", 0),
    ]:
        desk.page.keyboard.press(key)
        desk.wait_for_spread(index)
        assert desk.spread() == index


def test_clicking_the_page_edges_turns(desk: OpenDesk) -> None:
    desk.page.goto(f"{desk.address}#/read/page-6")
    desk.wait_for_pages(6, 7)
    box = desk.page.locator("[data-page='7']").bounding_box()
    assert box
    desk.page.mouse.click(box["x"] + box["width"] - 12, box["y"] + box["height"] / 3)
    desk.wait_for_spread(4)
    desk.page.get_by_role("button", name="Back").click()
    desk.wait_for_spread(3)
    desk.wait_for_pages(6, 7)
    desk.shoot("pictures")


def test_reload_and_hash_come_back_to_the_same_pages(desk: OpenDesk) -> None:
    desk.wait_for_spread(0)
    for _ in range(5):
        desk.page.keyboard.press("ArrowRight")
    desk.wait_for_spread(5)
    expect(desk.page).to_have_url(re.compile(r"#/read/page-10$"))
    desk.page.reload()
    desk.wait_for_spread(5)
    desk.wait_for_pages(10, 11)
    desk.page.evaluate("location.hash = '#/read/page-15'")
    desk.wait_for_spread(7)
    desk.page.evaluate("location.hash = '#/read/page-9999'")
    desk.wait_for_spread(LAST)


def test_contents_lead_to_the_chapters(desk: OpenDesk) -> None:
    desk.page.keyboard.press("ArrowRight")
    desk.page.get_by_role("button", name="Contents").click()
    contents = desk.page.get_by_role("navigation", name="Contents")
    expect(contents.get_by_role("button")).to_have_count(4)
    desk.shoot("contents")
    contents.get_by_role("button", name="The Night Ferry").click()
    desk.wait_for_spread(7)
    expect(contents).to_have_count(0)
    desk.wait_for_pages(14, 15)
    desk.shoot("chapter")
    desk.page.get_by_role("button", name="Contents").click()
    chapter = contents.get_by_role("button", name="The Night Ferry")
    expect(chapter).to_have_attribute("aria-current", "location")
    desk.page.keyboard.press("Escape")
    expect(contents).to_have_count(0)
    expect(desk.page.get_by_role("button", name="Contents")).to_be_focused()


def test_the_edge_of_the_book_is_a_slider(desk: OpenDesk) -> None:
    slider = desk.page.get_by_role("slider", name="Place in the book")
    slider.fill("9")
    desk.wait_for_spread(9)
    expect(slider).to_have_attribute("aria-valuetext", "pages 18 and 19")
    slider.focus()
    desk.page.keyboard.press("ArrowRight")
    desk.wait_for_spread(10)
    box = slider.bounding_box()
    assert box
    desk.page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    desk.wait_for_spread(LAST // 2)


def test_neighbours_are_fetched_before_they_are_asked_for(desk: OpenDesk) -> None:
    desk.page.goto(f"{desk.address}#/read/page-10")
    desk.page.reload()
    desk.wait_for_pages(10, 11)
    for number in (8, 9, 12, 13):
        desk.page.locator(f".away [data-page='{number}'].ready").wait_for(state="attached")
    desk.shown.asked.clear()
    desk.page.keyboard.press("ArrowRight")
    desk.wait_for_pages(12, 13)
    assert not {"page 12", "page 13"} & set(desk.shown.asked)


def test_pictures_of_the_svg_are_shown(desk: OpenDesk) -> None:
    with desk.page.expect_response("**/assets/photo-6") as picture:
        desk.page.goto(f"{desk.address}#/read/page-6")
        desk.page.reload()
    assert picture.value.ok
    desk.wait_for_pages(6, 7)


def test_light_and_dark_stay_as_chosen(desk: OpenDesk) -> None:
    desk.page.goto(f"{desk.address}#/read/page-10")
    desk.page.get_by_role("button", name="Dark").click()
    background = "getComputedStyle(document.body).backgroundColor"
    assert desk.page.evaluate(background) == "rgb(29, 26, 23)"
    desk.page.reload()
    desk.wait_for_spread(5)
    assert desk.page.evaluate(background) == "rgb(29, 26, 23)"
    desk.wait_for_pages(10, 11)
    desk.shoot("dark")
    desk.page.get_by_role("button", name="Light").click()
    assert desk.page.evaluate(background) == "rgb(250, 248, 244)"


def test_a_book_made_anew_is_shown_anew_at_the_same_place(desk: OpenDesk) -> None:
    desk.page.goto(f"{desk.address}#/read/page-10")
    desk.wait_for_pages(10, 11)
    desk.shown.revision = "two"
    desk.session.listeners.tell("changed")
    desk.page.wait_for_function(
        """() => document.querySelector("[data-page='10'] .drawing")
            .shadowRoot.querySelector('title').textContent === 'revision two'"""
    )
    assert desk.spread() == 5


@pytest.mark.expects_faults
def test_a_page_that_fails_says_why_and_the_rest_goes_on(desk: OpenDesk) -> None:
    desk.wait_for_pages(1)
    desk.shown.refusal = UserError(
        "The font has no sign for “ẞ”.", where="page 20", remedy="Write it with other letters."
    )
    desk.page.keyboard.press("End")
    notice = desk.page.locator(".spread:not(.away)").get_by_role("alert")
    expect(notice.first).to_contain_text("Write it with other letters.")
    desk.shoot("refused-page")
    desk.page.keyboard.press("Home")
    desk.wait_for_pages(1)


@pytest.mark.expects_faults
def test_another_browser_is_not_let_in(desk: OpenDesk, browser: Browser) -> None:
    context = browser.new_context()
    page = context.new_page()
    answer = page.goto(desk.opening_address)
    assert answer
    assert answer.status == 403
    expect(page.locator("body")).to_contain_text("open in another browser")
    context.close()


def test_nothing_is_fetched_from_elsewhere(desk: OpenDesk) -> None:
    hosts: set[str] = set()
    desk.page.on("request", lambda request: hosts.add(request.url.split("/")[2]))
    desk.page.reload()
    desk.wait_for_pages(1)
    desk.page.keyboard.press("End")
    desk.wait_for_pages(PAGE_COUNT)
    assert hosts == {desk.address.split("/")[2]}


def test_fits_small_and_wide_windows(desk: OpenDesk) -> None:
    desk.page.goto(f"{desk.address}#/read/page-10")
    for name, width, height in (("small", 760, 560), ("wide", 2200, 900), ("tall", 900, 1300)):
        desk.page.set_viewport_size({"width": width, "height": height})
        desk.wait_for_pages(10, 11)
        for number in (10, 11):
            box = desk.page.locator(f"[data-page='{number}']").bounding_box()
            assert box
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= width
            assert box["height"] > 180
        scroll = "document.documentElement.scrollHeight <= innerHeight"
        assert desk.page.evaluate(scroll)
        desk.shoot(f"window-{name}")


class TestLeaves:
    """A translucent leaf before chapter three: turned like any leaf, and it can be lifted.

    What is seen on turning a sheet of tracing paper: our own account, anyone can try it.
    """

    @pytest.fixture
    def session(self) -> FakeShown:
        return FakeShown(leaves=(14,))

    def seen(self, desk: OpenDesk) -> list[tuple[str | None, str | None]]:
        sheets = desk.page.locator(".spread:not(.away) article").all()
        return [(s.get_attribute("data-page"), s.get_attribute("data-veiled")) for s in sheets]

    def test_a_leaf_is_turned_before_the_page_it_covers_is_bare(self, desk: OpenDesk) -> None:
        desk.page.goto(f"{desk.address}#/read/page-15")
        desk.wait_for_pages(14, 15)
        assert self.seen(desk) == [("14", None), ("15", "1")]
        assert "On the leaf" in (
            desk.page.locator("[data-veiled='1'] .drawing").evaluate(
                "host => host.shadowRoot.textContent"
            )
        )
        desk.shoot("leaf-laid")
        desk.page.keyboard.press("ArrowRight")
        desk.wait_for_spread(8)
        desk.wait_for_pages(14, 15)
        assert self.seen(desk) == [("14", "2"), ("15", None)]
        desk.shoot("leaf-turned")
        desk.page.keyboard.press("ArrowRight")
        desk.wait_for_spread(9)
        desk.wait_for_pages(16, 17)
        assert self.seen(desk) == [("16", None), ("17", None)]

    def test_a_leaf_is_lifted_and_laid_down_again(self, desk: OpenDesk) -> None:
        lift = desk.page.get_by_role("button", name="Lift the leaf")
        desk.page.goto(f"{desk.address}#/read/page-12")
        desk.wait_for_pages(12, 13)
        expect(lift).to_have_count(0)
        desk.page.goto(f"{desk.address}#/read/page-15")
        desk.wait_for_pages(14, 15)
        lift.click()
        desk.page.locator(".spread:not(.away) [data-page='15']:not([data-veiled])").wait_for()
        desk.page.wait_for_function(
            """() => !document.querySelector(".spread:not(.away) [data-page='15'] .drawing")
                .shadowRoot.textContent.includes('On the leaf')"""
        )
        desk.shoot("leaf-lifted")
        desk.page.get_by_role("button", name="Lay the leaf down").click()
        desk.page.locator("[data-veiled='1']").wait_for()
        # Turned, the next time it lies as it should.
        lift.click()
        desk.page.keyboard.press("ArrowLeft")
        desk.page.keyboard.press("ArrowRight")
        desk.page.locator(".spread:not(.away) [data-veiled='1'].ready").wait_for()
        expect(lift).to_be_visible()

    def test_the_slider_says_where_the_leaf_lies(self, desk: OpenDesk) -> None:
        slider = desk.page.get_by_role("slider", name="Place in the book")
        slider.fill("7")
        expect(slider).to_have_attribute(
            "aria-valuetext", "pages 14 and 15, a leaf before the right one"
        )
        slider.fill("8")
        expect(slider).to_have_attribute("aria-valuetext", "pages 14 and 15, the leaf turned")


class TestOtherBooks:
    @pytest.fixture
    def session(self, request: pytest.FixtureRequest) -> FakeShown:
        width, height, pages = request.param
        return FakeShown(width_mm=width, height_mm=height, page_count=pages)

    @pytest.mark.parametrize("session", [(210.0, 210.0, 8), (297.0, 210.0, 8)], indirect=True)
    def test_square_and_landscape_pages(self, desk: OpenDesk) -> None:
        desk.page.keyboard.press("ArrowRight")
        desk.page.keyboard.press("ArrowRight")
        desk.wait_for_pages(4, 5)
        box = desk.page.locator("[data-page='4']").bounding_box()
        assert box
        wanted = desk.shown.width_mm / desk.shown.height_mm
        assert box["width"] / box["height"] == pytest.approx(wanted, rel=0.004)
        desk.shoot(f"format-{int(desk.shown.width_mm)}")

    @pytest.mark.parametrize("session", [(210.0, 297.0, 0)], indirect=True)
    def test_a_book_without_pages(self, desk: OpenDesk) -> None:
        expect(desk.page.get_by_role("alert")).to_contain_text("no pages yet")
        desk.page.keyboard.press("ArrowRight")
