"""The desk over real books in a real browser: writes its part of docs/performance.md.

Over the demo's book and one of five thousand pictures, caches warm: how long the book takes to
open, an edit to be derived and drawn, and the page's picture to be on the screen after it; how the
pictures' room scrolls. Wall time hangs on what else the machine does, so the server's part is given
in processor time as well, and the load is said.

    python -m benchmarks.desk [BOOK FOLDER ...]
"""

from __future__ import annotations

import math
import os
import re
import shutil
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page, sync_playwright

from benchmarks.many_pictures import make_book
from benchmarks.pictures import keep_folder
from benchmarks.previews import find_captioned
from benchmarks.report import describe_machine, write_part
from wayfold.app.session import Session
from wayfold.app.shelf import Shelf
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.book.edits import Edit, SetCaption, SetCrop, SetText
from wayfold.demo.book import write_demo_book
from wayfold.desk.server import serve

EDITS = 15
SCROLL_S = 4.0
DRAG_S, DRAG_PX, DRAG_PAUSE_S = 3.0, 60, 0.008
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run")
WATCH = """() => {
  // The words may stand on the page that faces the picture.
  const look = () => [...document.querySelectorAll('[data-page] .drawing')]
    .map((host) => host.shadowRoot?.innerHTML ?? '').join();
  const before = look();
  window.changed = new Promise((done, fail) => {
    const frame = () => look() !== before
      ? requestAnimationFrame(() => done(performance.now()))
      : requestAnimationFrame(frame);
    requestAnimationFrame(frame);
    setTimeout(() => fail(new Error('no page of the spread changed within 30 s')), 30000);
  });
}"""
PRESSED = """() => window.addEventListener(
  'keydown', (e) => { if (e.key === 'Enter') window.pressed = performance.now(); }, true)"""
COUNT = """() => {
  window.stopped = false;
  window.frames = new Promise((done) => {
    const began = performance.now();
    let frames = 0;
    const frame = () => {
      frames += 1;
      const passed = performance.now() - began;
      if (window.stopped) done(frames / passed * 1000);
      else requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  });
}"""
SCROLL = """async (seconds) => {
  const all = [...document.querySelectorAll('*')];
  const long = (e) => e.scrollHeight - e.clientHeight;
  const room = all.filter((e) => getComputedStyle(e).overflowY === 'auto')
    .sort((a, b) => long(b) - long(a))[0];
  const began = performance.now();
  let last = began, blank = 0, longest = 0, frames = 0, slowest = 0;
  while (last - began < seconds * 1000) {
    room.scrollTop += 40;
    await new Promise(requestAnimationFrame);
    const now = performance.now();
    slowest = Math.max(slowest, now - last);
    frames += 1;
    const box = room.getBoundingClientRect();
    const seen = [...room.querySelectorAll('img')].filter((e) => {
      const r = e.getBoundingClientRect();
      return r.bottom > box.top && r.top < box.bottom;
    });
    const bare = !seen.length || seen.some((e) => !e.complete || !e.naturalWidth);
    blank = bare ? blank + now - last : 0;
    longest = Math.max(longest, blank);
    last = now;
  }
  return {fps: frames / (last - began) * 1000, slowest, longest, height: long(room)};
}"""


@dataclass(frozen=True, slots=True)
class Row:
    """One figure, its goal, and of what it is."""

    what: str
    figure: str
    goal: str = ""


def main(roots: list[Path]) -> None:
    lines = [
        f"{describe_machine()} Load {os.getloadavg()[0]:.1f} at the beginning; caches warm, "
        f"medians of {EDITS}. *Processor* is this process alone, however busy the machine."
    ]
    for root in roots:
        with tempfile.TemporaryDirectory(prefix="desk-", dir=root.parent) as name:
            copy = Path(name) / root.name
            shutil.copytree(root, copy)
            lines += ["", *measure_book(copy)]
            print("\n".join(lines), flush=True)
    write_part("desk", lines)


def measure_book(root: Path) -> Iterator[str]:
    """Give the table of one book."""
    Session.open(root, NoProgress()).close()  # warms what hangs on where the book lies
    opening = _time(lambda: Session.open(root, NoProgress()).close())
    shelf = Shelf()
    session = shelf.open(root, NoProgress())
    results = session.results
    rows = [Row("open the book", opening, "1.5 s"), *measure_edits(session), *watch_desk(shelf)]
    yield f"**{results.book.title}**: {len(results.catalogue.photos)} photographs, "
    yield f"{len(results.drawings)} pages."
    yield ""
    yield "| what | figure | goal |"
    yield "|---|--:|--:|"
    for row in rows:
        yield f"| {row.what} | {row.figure} | {row.goal} |"
    shelf.close()


def measure_edits(session: Session) -> Iterator[Row]:
    """Edit, and draw the page that changed: the server's part."""
    results = session.results
    page, photo = find_captioned(results)
    kinds: dict[str, Callable[[int], Edit]] = {
        "a caption": lambda n: SetCaption(photo, f"Words number {n}"),
        "a crop": lambda n: SetCrop(photo, Rect(0.01 * n, 0.05, 0.8, 0.8)),
    }
    if results.book.texts:
        key = min(results.book.texts)
        kinds["a text"] = lambda n: SetText(key, f"{results.book.texts[key].rstrip()} Again {n}.\n")
    for name, make in kinds.items():
        walls, processor = [], []
        for number in range(EDITS):
            edit = make(number)
            wall, cpu = time.perf_counter(), time.process_time()
            session.edit(edit).page_svg(page)
            walls.append(time.perf_counter() - wall)
            processor.append(time.process_time() - cpu)
        for _ in range(EDITS):
            session.undo()
        yield Row(
            f"{name}, derived and drawn",
            f"{_ms(walls)} (processor {_ms(processor)})",
            "60 ms",
        )


def watch_desk(shelf: Shelf) -> Iterator[Row]:
    """The same at the screen, and the room of pictures scrolled."""
    told: list[str] = []
    threading.Thread(target=serve, args=(shelf, None, False, told.append), daemon=True).start()
    while not told:
        time.sleep(0.01)
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(FLAGS))
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.set_default_timeout(120_000)
        page.goto(told[0])
        page.get_by_role("heading", level=1).wait_for()
        yield from watch_spread(page, told[0].split("?")[0], shelf.session)
        yield from watch_dragging(page, told[0].split("?")[0], shelf.session)
        yield from watch_pictures(page, told[0].split("?")[0])
        browser.close()


def watch_spread(page: Page, base: str, session: Session) -> Iterator[Row]:
    number, photo = find_captioned(session.results)
    page.goto(f"{base}#/spread/page-{number}")
    drawn = f"[data-page='{number}'].ready"
    page.locator(drawn).first.wait_for()
    painted = []
    for _ in range(3):
        began = time.perf_counter()
        page.reload()
        page.locator(drawn).first.wait_for()
        painted.append(time.perf_counter() - began)
    taken = []
    session.edit(SetCaption(photo, "At first"))
    page.locator(drawn).first.wait_for()
    page.evaluate(PRESSED)
    for count in range(EDITS):
        page.get_by_role("button", name=re.compile("^Caption: At ")).click()
        slip = page.get_by_role("group", name="Write here").get_by_role("textbox")
        slip.fill(f"At the screen {count}")
        page.evaluate(WATCH)
        page.keyboard.press("Control+Enter")
        taken.append(page.evaluate("async () => (await window.changed) - window.pressed") / 1000)
        slip.wait_for(state="detached")
    yield Row("a caption, until its page stands on the screen", _ms(taken), "150 ms")
    yield Row(
        "the room again, until its page is drawn", f"{statistics.median(painted):.2f} s", "1.0 s"
    )


def watch_dragging(page: Page, base: str, session: Session) -> Iterator[Row]:
    """Move a picture about on its spread, and a block in the flatplan; both are put back."""
    number, photo = find_captioned(session.results)
    name = Path(session.results.photos[photo].path).name
    page.goto(f"{base}#/spread/page-{number}")
    picture = page.get_by_role("button", name=re.compile(f"^Picture {re.escape(name)}, "))
    page.locator(f"[data-page='{number}'].ready").first.wait_for()
    yield Row("a picture moved on its spread, frames a second", f"{_drag(page, picture):.0f}", "55")
    page.goto(f"{base}#/flatplan/page-{number}")
    block = page.locator(f".plan [data-page='{number}']").first
    block.wait_for()
    page.wait_for_timeout(1500)
    yield Row("a block moved in the flatplan, frames a second", f"{_drag(page, block):.0f}", "55")


def _drag(page: Page, what: Locator) -> float:
    """Give the frames a second while something is moved in circles by the mouse."""
    box = what.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + DRAG_PX, y)
    page.evaluate(COUNT)
    began = time.monotonic()
    while (passed := time.monotonic() - began) < DRAG_S:
        angle = math.tau * passed
        page.mouse.move(x + DRAG_PX * math.cos(angle), y + DRAG_PX * math.sin(angle))
        time.sleep(DRAG_PAUSE_S)
    frames: float = page.evaluate("async () => { window.stopped = true; return window.frames; }")
    page.keyboard.press("Escape")
    page.mouse.up()
    return frames


def watch_pictures(page: Page, base: str) -> Iterator[Row]:
    page.goto(f"{base}#/pictures")
    page.locator("img").first.wait_for()
    page.wait_for_timeout(1500)
    found = page.evaluate(SCROLL, SCROLL_S)
    yield Row("pictures scrolled, frames a second", f"{found['fps']:.0f}", "55")
    yield Row(
        "the longest that a picture in view was not there", f"{found['longest']:.0f} ms", "150 ms"
    )


def _time(do: Callable[[], object]) -> str:
    wall, cpu = time.perf_counter(), time.process_time()
    do()
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    return f"{wall:.1f} s (processor {cpu:.1f} s)"


def _ms(seconds: list[float]) -> str:
    return f"{1000 * statistics.median(seconds):.0f} ms"


def keep_demo() -> Path:
    """Give the folder of the demo's book, made once."""
    root = keep_folder() / "desk-demo"
    write_demo_book(root, NoProgress())
    return root


if __name__ == "__main__":
    main([Path(name) for name in sys.argv[1:]] or [keep_demo(), make_book()])
