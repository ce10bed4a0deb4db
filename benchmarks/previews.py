"""How soon a page is drawn after an edit, by the desk's server: over its own API, on one line.

An edit is sent, answered with the spread as it then is, and the page that it changed is fetched; no
browser takes part (``benchmarks.desk`` measures that). The floor is the same page fetched again
with nothing changed. Every page fetched has to differ from the one before, or the run fails.
"""

from __future__ import annotations

import shutil
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from benchmarks.many_pictures import make_book, open_book
from benchmarks.pictures import keep_folder
from benchmarks.rows import Effort, Part, Row
from benchmarks.serving import Served
from wayfold.app.rooms.spread_words import show_caption
from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.progress import NoProgress
from wayfold.story.model import Block, BlockKind
from wayfold.words.leaves import find_veiled_blocks

COUNTS = {Effort.QUICK: (300,), Effort.USUAL: (300, 5000), Effort.LONG: (300, 5000)}
EDITS = {Effort.QUICK: 3, Effort.USUAL: 15, Effort.LONG: 40}
WORDS_GOAL_MS, DRAWN_GOAL_MS = 60.0, 120.0
FLOOR = "the page fetched again, nothing changed"
Send = Callable[[Served, int], object]


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of edit: the address of what it changes, and how its ``n``-th is sent."""

    name: str
    address: str
    send: Send
    goal_ms: float


@dataclass(frozen=True, slots=True)
class Timed:
    """Milliseconds of single edits and of fetches, and of the server's processor for an edit."""

    edits: list[float]
    fetches: list[float]
    processor_ms: float


def report(effort: Effort) -> Part:
    """Measure over all books."""
    rows: list[Row] = []
    lines = ["## Pages after an edit, by the server", ""]
    lines.append(f"Medians of {EDITS[effort]} edits, milliseconds; processor: of the server alone.")
    for count in COUNTS[effort]:
        with tempfile.TemporaryDirectory(prefix="previews-", dir=keep_folder()) as name:
            root = Path(name) / "book"
            kept = make_book(count)
            open_book(kept)
            shutil.copytree(kept, root)
            open_book(root)  # what hangs on where it lies
            kinds, pages = find_kinds(root)
            with Served.desk(root) as desk:
                desk.wait_for("/api/view")
                timed = {kind: time_edits(desk, kind, EDITS[effort]) for kind in kinds}
        about = f"{count:,} photographs, {pages} pages"
        rows += list_rows(timed, about)
        lines += ["", *tell(timed, about)]
    return Part(tuple(rows), tuple(lines))


def find_kinds(root: Path) -> tuple[list[Kind], int]:
    """Give what can be edited in a book, and how many pages it has."""
    session = Session.open(root, NoProgress())
    results = session.results
    page, photo = find_captioned(results)
    key = min(results.book.texts)
    texted = _find_page(results, lambda block: block.text == key)
    mapped = _find_page(results, lambda block: block.kind is BlockKind.OVERVIEW)
    stop = results.trip.stops[0].own_name
    under, place = _find_leaf(session)
    session.close()

    def crop(desk: Served, number: int) -> None:
        part = {"x": 0.01 * (number % 20), "y": 0.05, "width": 0.8, "height": 0.8}
        desk.send("POST", "/api/spread/crop", page=page, photo=photo, crop=part)

    def name(desk: Served, number: int) -> None:
        desk.send("PUT", "/api/journey/stop", place=stop, visit=1, name=f"Place number {number}")

    shown = f"/pages/{page}.svg"
    kinds = [
        Kind("a caption", shown, write_captions(results, page, photo), WORDS_GOAL_MS),
        Kind("a text", f"/pages/{texted}.svg", write_texts(results, texted, key), WORDS_GOAL_MS),
        Kind("a crop", shown, crop, WORDS_GOAL_MS),
        Kind("a name on the map", f"/pages/{mapped}.svg", name, DRAWN_GOAL_MS),
        Kind(
            "a caption on a leaf",
            f"/veiled/{place}.svg",
            write_captions(results, page, under),
            DRAWN_GOAL_MS,
        ),
    ]
    return kinds, len(results.drawings)


def write_captions(results: Results, page: int, photo: str) -> Send:
    """Give what writes a photograph's caption, each time another."""
    was = show_caption(results, photo).source

    def send(desk: Served, number: int) -> None:
        nonlocal was
        words = f"Words number {number}"
        desk.send("POST", "/api/spread/caption", page=page, photo=photo, caption=words, was=was)
        was = words

    return send


def write_texts(results: Results, page: int, key: str) -> Send:
    """Give what writes one of the book's texts, each time another."""
    first = was = results.book.texts[key]

    def send(desk: Served, number: int) -> None:
        nonlocal was
        text = f"{first.rstrip()} Again {number}.\n"
        desk.send("POST", "/api/spread/text", page=page, key=key, text=text, was=was)
        was = text

    return send


def time_edits(desk: Served, kind: Kind, count: int) -> Timed:
    """Time edits and fetches by turns, after one edit that is not counted."""
    edits, fetches, processor_s = [], [], 0.0
    kind.send(desk, -1)
    shown = desk.get(kind.address)
    for number in range(count):
        began, before = time.perf_counter(), desk.processor_s()
        kind.send(desk, number)
        page = desk.get(kind.address)
        edits.append(1000 * (time.perf_counter() - began))
        processor_s += desk.processor_s() - before
        if page == shown:
            raise SystemExit(f"{kind.name} changed nothing of {kind.address}.")
        shown = page
        began = time.perf_counter()
        desk.get(kind.address)
        fetches.append(1000 * (time.perf_counter() - began))
    return Timed(edits, fetches, 1000 * processor_s / count)


def list_rows(timed: dict[Kind, Timed], about: str) -> Iterator[Row]:
    for kind, taken in timed.items():
        yield Row(
            f"Page after an edit: {kind.name}; {about}",
            statistics.median(taken.edits), statistics.median(taken.fetches), FLOOR, "ms",
            most=kind.goal_ms,
        )  # fmt: skip


def tell(timed: dict[Kind, Timed], about: str) -> Iterator[str]:
    yield f"| {about} | median | worst | processor, mean | {FLOOR} | goal |"
    yield "|---|--:|--:|--:|--:|---|"
    for kind, taken in timed.items():
        yield (
            f"| {kind.name} | {statistics.median(taken.edits):.0f} | {max(taken.edits):.0f} "
            f"| {taken.processor_ms:.0f} | {statistics.median(taken.fetches):.1f} "
            f"| ≤ {kind.goal_ms:.0f} |"
        )


def find_captioned(results: Results) -> tuple[int, str]:
    """Give a page in the middle with a lone picture, no leaf near, and the picture."""
    veiled = {end.after_page for i in results.plan.interleaves for end in i.ends}
    shut = veiled | {n + 1 for n in veiled}
    found = [
        (page.number, block.photos[0])
        for page in results.plan.pages
        for block in results.story.blocks
        if page.block == block.id and len(block.photos) == 1 and page.number not in shut
    ]
    return found[len(found) // 2]


def _find_page(results: Results, wanted: Callable[[Block], bool]) -> int:
    """Give the first page of a block."""
    blocks = {block.id for block in results.story.blocks if wanted(block)}
    return next(page.number for page in results.plan.pages if page.block in blocks)


def _find_leaf(session: Session) -> tuple[str, int]:
    """Give a photograph whose caption a leaf bears, and the place of the page seen through it."""
    results, view = session.results, session.shown.view()
    veiled = {page.number: page.veiled for page in view.reading if page.veiled is not None}
    blocks = find_veiled_blocks(results.story, results.plan)
    lone = {
        b.id: b.photos[0] for b in blocks if len(b.photos) == 1 and b.kind is not BlockKind.OPENER
    }
    for page in results.plan.pages:
        if page.block in lone and page.number in veiled:
            return lone[page.block], veiled[page.number]
    raise SystemExit("No leaf lies over a picture in this book.")
