"""Choosing pictures at the desk, by keys, from the first look to the decision."""

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Locator, Route, expect

from tests.browser.axe import find_barriers
from tests.browser.conftest import let_in, serve_desk
from tests.browser.rooms import RealDesk
from tests.desk_book import copy_book
from wayfold.app.places import Places
from wayfold.app.shelf import Shelf
from wayfold.base.progress import NoProgress
from wayfold.book.state import Pick

pytestmark = pytest.mark.browser
LONGEST_BLANK_MS = 2000
"""So long a row may stand empty while one scrolls, on a machine busy with other tests; on a quiet
one the desk sets itself 150 ms, which ``benchmarks.desk`` measures."""


def enter(desk: RealDesk) -> Locator:
    desk.enter("Pictures")
    pictures = desk.page.get_by_role("listbox", name="Pictures")
    expect(pictures).to_be_focused()
    return pictures


def picks(desk: RealDesk) -> dict[str, Pick]:
    """What the book on the disk says, by the file's number."""
    known = desk.session.results
    return {
        known.photos[photo].path[-8:-4]: choice.pick
        for photo, choice in known.book.choices.items()
        if choice.pick is not Pick.OPEN
    }


def here(desk: RealDesk) -> Locator:
    listed = desk.page.get_by_role("listbox").get_attribute("aria-activedescendant")
    return desk.page.locator(f"#{listed}")


def expect_here(desk: RealDesk, name: str, fate: str) -> None:
    """Until one is at the picture of that name, and it is what it is said to be."""
    said = re.compile(f"^{re.escape(name)}, .* {fate}$")
    expect(here(desk)).to_have_accessible_name(said, timeout=30_000)


def test_pictures_are_chosen_by_keys_and_taken_back(real_desk: RealDesk) -> None:
    keys = real_desk.page.keyboard
    enter(real_desk)
    expect_here(real_desk, "IMG_0000.jpg", "taken")
    keys.press("h")
    expect_here(real_desk, "IMG_0000.jpg", "your hero")
    keys.press("ArrowRight")
    keys.press("l")
    keys.press("ArrowRight")
    keys.press("t")
    expect_here(real_desk, "IMG_0002.jpg", "you take it")
    real_desk.wait_until_saved()
    expect(real_desk.page.get_by_text("You take it.", exact=True)).to_be_visible(timeout=30_000)
    assert picks(real_desk) == {"0000": Pick.HERO, "0001": Pick.LEAVE, "0002": Pick.TAKE}
    real_desk.shoot("pictures-decided")

    # Several at once, and one key takes all of it back.
    for _ in range(3):
        keys.press("Shift+ArrowRight")
    expect(real_desk.page.get_by_text("4 pictures together")).to_be_visible()
    keys.press("l")
    real_desk.wait_until_saved()
    assert list(picks(real_desk).values()).count(Pick.LEAVE) == 5
    keys.press("Control+z")
    expect_here(real_desk, "H0005.jpg", "taken")
    real_desk.wait_until_saved()
    assert picks(real_desk) == {"0000": Pick.HERO, "0001": Pick.LEAVE, "0002": Pick.TAKE}


def test_one_goes_by_day_to_the_ends_and_filters(real_desk: RealDesk) -> None:
    page, keys = real_desk.page, real_desk.page.keyboard
    enter(real_desk)
    keys.press("End")
    expect_here(real_desk, "H0031.jpg", "taken")
    keys.press("Shift+D")
    expect_here(real_desk, "IMG_0024.jpg", "taken")
    keys.press("Home")
    keys.press("d")
    expect_here(real_desk, "IMG_0008.jpg", "taken")
    keys.press("h")
    page.get_by_role("button", name="Heroes 1", exact=True).click()
    expect(page.locator("[id^=picture-]")).to_have_count(1)
    keys.press("o")
    expect(page.get_by_text("No picture is as asked for here.")).to_be_visible()
    page.get_by_role("button", name="Show all pictures").click()
    page.get_by_role("combobox", name="Camera").select_option("Halden H7")
    expect(page.locator("[id^=picture-]").first).to_have_accessible_name(re.compile("^H0001"))
    expect(page.get_by_role("button", name="All 16")).to_be_visible()


def test_a_picture_is_looked_at_closer(real_desk: RealDesk) -> None:
    page, keys = real_desk.page, real_desk.page.keyboard
    enter(real_desk)
    keys.press("ArrowRight")
    keys.press("Enter")
    expect(page.get_by_role("heading", name="H0001.jpg")).to_be_visible()
    # docs/print-sizes.md: 240 pixels an inch; the painted picture is 1000 pixels wide.
    facts = page.evaluate("fetch('api/pictures').then((answer) => answer.json())")
    assert facts["width_px"][1] == 1000
    expect(page.get_by_text(f"{facts['largest_mm'][1]} × ")).to_be_visible()
    keys.press("p")
    expect(page.get_by_text("100 %", exact=True)).to_be_visible()
    width = page.locator(".picture").bounding_box()
    assert width
    assert round(width["width"]) == 1000
    real_desk.shoot("pictures-closer")
    keys.press("ArrowRight")
    expect(page.get_by_role("heading", name="IMG_0002.jpg")).to_be_visible()
    keys.press("Escape")
    expect_here(real_desk, "IMG_0002.jpg", "taken")


def test_two_are_compared_and_one_is_taken(real_desk: RealDesk) -> None:
    page, keys = real_desk.page, real_desk.page.keyboard
    enter(real_desk)
    keys.press("Space")
    for _ in range(3):
        keys.press("ArrowRight")
    keys.press("Space")
    keys.press("c")
    glasses = page.get_by_role("img")
    expect(glasses).to_have_count(2)
    expect(glasses.last).to_have_accessible_name("H0003.jpg")
    keys.press("p")
    before = [box for glass in page.locator(".picture").all() if (box := glass.bounding_box())]
    # Pulled in one, the other goes along.
    middle = glasses.first.bounding_box()
    assert middle
    page.mouse.move(middle["x"] + 200, middle["y"] + 150)
    page.mouse.down()
    page.mouse.move(middle["x"] + 160, middle["y"] + 150)
    page.mouse.up()
    after = [box for glass in page.locator(".picture").all() if (box := glass.bounding_box())]
    moved = [one["x"] - other["x"] for one, other in zip(before, after, strict=True)]
    assert moved == [pytest.approx(40, abs=1)] * 2
    real_desk.shoot("pictures-compare")
    keys.press("ArrowRight")
    keys.press("t")
    real_desk.wait_until_saved()
    assert picks(real_desk) == {"0003": Pick.TAKE, "0000": Pick.LEAVE}
    keys.press("Control+z")
    real_desk.wait_until_saved()
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    assert picks(real_desk) == {}


def test_every_key_is_told_and_the_signs_too(real_desk: RealDesk) -> None:
    page = real_desk.page
    enter(real_desk)
    page.keyboard.press("?")
    keys = page.get_by_role("dialog", name="Keys of this room")
    expect(keys).to_contain_text("take this one together with others")
    expect(keys).to_contain_text("stands small: left")
    real_desk.shoot("pictures-keys")
    page.keyboard.press("Escape")
    expect(keys).to_be_hidden()


def test_no_view_shuts_anyone_out(real_desk: RealDesk) -> None:
    page = real_desk.page
    enter(real_desk)
    page.wait_for_load_state("networkidle")
    for key in ("w", "Enter", "c", "?"):
        page.keyboard.press(key)
        page.wait_for_timeout(250)
        assert find_barriers(page) == [], key


def test_missing_files_are_looked_for_in_a_folder(
    windows: BrowserContext, atlantic: Path, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    root, drive = copy_book(atlantic, tmp_path / "atlantic"), tmp_path / "drive"
    (drive / "spring").mkdir(parents=True)
    shutil.move(root / "photographs" / "camera", drive / "spring" / "renamed")
    shelf = Shelf(Places(drive))
    shelf.open(root, NoProgress())
    with (
        serve_desk(shelf) as opening,
        let_in(windows, opening, request) as (page, faults, shoot),
    ):
        desk = RealDesk(page, shelf.session, opening.split("?")[0], shoot, faults)
        enter(desk)
        lost = page.get_by_role("region", name="16 files not found")
        expect(lost).to_be_visible()
        lost.get_by_role("button", name="Which").click()
        expect(lost.get_by_role("listitem").first).to_have_text("H0001.jpg camera")
        assert find_barriers(page) == []
        shoot("pictures-missing")
        lost.get_by_role("button", name="Look for them …").click()
        page.get_by_role("dialog").get_by_role("button", name="spring").click()
        page.get_by_role("button", name="Look here and below: spring").click()
        expect(lost).to_be_hidden(timeout=60_000)
        expect(page.get_by_role("button", name="All 32")).to_be_visible(timeout=30_000)


def multiply(facts: dict[str, Any], count: int) -> dict[str, Any]:
    """Facts of ``count`` pictures: the book's own again and again, each asked for by itself."""
    own = len(facts["id"])
    many = {
        name: [column[i % own] for i in range(count)]
        if isinstance(column, list) and len(column) == own
        else column
        for name, column in facts.items()
    }
    many["day"] = [i * len(facts["days"]) // count for i in range(count)]
    # A name of its own, which the server's content does not begin with: the browser asks anew.
    many["of"] = [f"{i:x}x" for i in range(count)]
    return many


WATCH = """() => {
  const list = document.querySelector('[role=listbox]');
  const since = new Map();
  window.longestBlank = 0;
  window.rowsSeen = new Set();
  const look = () => {
    const bounds = list.getBoundingClientRect();
    const now = performance.now();
    let covered = bounds.top;
    const lines = [...list.querySelectorAll('.row, .all > p')]
      .map((line) => [line, line.getBoundingClientRect()])
      .filter(([, box]) => box.bottom > bounds.top && box.top < bounds.bottom);
    const blank = new Set();
    for (const [line, box] of lines) {
      const key = line.style.top;
      window.rowsSeen.add(key);
      const images = [...line.querySelectorAll('img')];
      if (images.some((image) => !image.complete || !image.naturalWidth)) blank.add(key);
    }
    if (!lines.length) blank.add('nothing');
    for (const key of blank) {
      if (!since.has(key)) since.set(key, now);
      window.longestBlank = Math.max(window.longestBlank, now - since.get(key));
    }
    for (const key of [...since.keys()]) if (!blank.has(key)) since.delete(key);
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}"""


def test_five_thousand_pictures_scroll_without_a_blank_row(real_desk: RealDesk) -> None:
    page = real_desk.page
    count = 5000
    facts: dict[str, Any] = page.evaluate("fetch('api/pictures').then((answer) => answer.json())")
    verdicts = page.evaluate("fetch('api/pictures/verdicts').then((answer) => answer.json())")
    many = multiply(facts, count)
    own = len(facts["id"])
    said = {
        **verdicts,
        "picks": (verdicts["picks"] * (count // own + 1))[:count],
        "taken": ("110" * count)[:count],
        **{
            name: [verdicts[name][i % own] for i in range(count)]
            for name in ("reason", "instead", "runner_up", "page")
        },
    }

    def answer(value: dict[str, Any]) -> Any:
        body = json.dumps(value)
        return lambda route: Route.fulfill(route, body=body, content_type="application/json")

    page.route("**/api/pictures", answer(many))
    page.route("**/api/pictures/verdicts", answer(said))
    enter(real_desk)
    page.wait_for_load_state("networkidle")
    page.evaluate(WATCH)
    bounds = page.get_by_role("listbox").bounding_box()
    assert bounds
    page.mouse.move(bounds["x"] + 300, bounds["y"] + 300)
    for _ in range(60):
        page.mouse.wheel(0, 360)
        page.wait_for_timeout(50)
    longest = page.evaluate("window.longestBlank")
    rows = page.evaluate("window.rowsSeen.size")
    print(f"longest blank row {longest:.0f} ms over {rows} rows")
    assert rows > 80
    assert longest <= LONGEST_BLANK_MS
    # Only what is near is there.
    assert page.locator("[id^=picture-]").count() < 400
    page.keyboard.press("End")
    expect_here(real_desk, many["name"][-1], "taken")
