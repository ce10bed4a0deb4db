"""A small book of our own for the desk's tests: pictures and words, drawn as SVG."""

import itertools
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from io import BytesIO
from typing import cast

from PIL import Image, ImageDraw

from wayfold.app.events import Event, Listeners
from wayfold.app.session import Session
from wayfold.app.shelf import Shelf
from wayfold.app.views import BookState, BookView, PageSide, PageView, ReadingView
from wayfold.base.errors import ConflictError, NotFoundError, UserError

CHAPTERS = {5: "Over the Pass", 9: "Two Days by the Lake", 15: "The Night Ferry", 19: "Home"}
PAGE_COUNT = 24
TITLE = "The Long Way Down to the Sea"
SKIES = ((172, 196, 214), (226, 178, 138), (96, 112, 140), (206, 210, 196))


@dataclass(slots=True)
class FakeShown:
    """Counts what it is asked for, and refuses where a test wants it to."""

    width_mm: float = 210.0
    height_mm: float = 297.0
    revision: str = "one"
    asked: list[str] = field(default_factory=list)
    refusal: UserError | None = None
    page_count: int = PAGE_COUNT
    leaves: tuple[int, ...] = ()
    """The versos that a translucent leaf follows."""

    def view(self) -> BookView:
        pages: list[PageView] = []
        chapter = ""
        for number in range(1, self.page_count + 1):
            chapter = CHAPTERS.get(number, chapter)
            side: PageSide = "recto" if number % 2 else "verso"
            label = "" if number < 4 or number in CHAPTERS else str(number)
            pages.append(PageView(number, side, chapter, label))
        return BookView(
            title=TITLE,
            author="M. Quill",
            language="en",
            revision=self.revision,
            trim_width_mm=self.width_mm,
            trim_height_mm=self.height_mm,
            pages=tuple(pages),
            reading=tuple(self._list_reading()),
        )

    def _list_reading(self) -> Iterator[ReadingView]:
        veiled = itertools.count(1)
        for number in range(self.page_count + 1):
            if number:
                yield ReadingView(number, "recto" if number % 2 else "verso")
            if number in self.leaves:
                yield ReadingView(number + 1, "recto", next(veiled))
                yield ReadingView(number, "verso", next(veiled))

    def page_key(self, number: int) -> str:
        return f"page {number} of {self.revision}"

    def veiled_key(self, place: int) -> str:
        return f"veiled {place} of {self.revision}"

    def veiled_svg(self, place: int) -> str:
        self.asked.append(f"veiled {place}")
        under = [r.number for r in self._list_reading() if r.veiled]
        if place > len(under):
            raise NotFoundError("There is no such page.", where=f"veiled {place}")
        ink = _set_words("On the leaf", self.width_mm / 2, self.height_mm * 0.6, 9, "middle")
        veil = f'<rect width="{self.width_mm}" height="{self.height_mm}" fill="#d7d7d4"'
        over = f'{veil} fill-opacity=".66"/>{ink if place % 2 else ""}</svg>'
        number = under[place - 1]
        if not 1 <= number <= self.page_count:
            return f"{self._open_svg()}{over}"
        return self.page_svg(number).removesuffix("</svg>") + over

    def page_svg(self, number: int) -> str:
        self.asked.append(f"page {number}")
        if self.refusal:
            raise self.refusal
        if number > self.page_count:
            raise NotFoundError("There is no such page.", where=f"page {number}")
        if number in CHAPTERS:
            inside = _set_title(CHAPTERS[number], self.width_mm, self.height_mm)
        elif number == 3:
            inside = _set_title("The Long Way Down to the Sea", self.width_mm, self.height_mm)
        elif number < 4:
            inside = ""
        else:
            inside = self._place_picture(number)
        return f"{self._open_svg()}<title>revision {self.revision}</title>{inside}</svg>"

    def _open_svg(self) -> str:
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width_mm}'
            f' {self.height_mm}" width="{self.width_mm}mm" height="{self.height_mm}mm">'
        )

    def asset_jpeg(self, asset_id: str) -> bytes:
        self.asked.append(f"asset {asset_id}")
        if asset_id == "moved":
            raise ConflictError("The picture has changed.", where=asset_id, remedy="Make it again.")
        if not asset_id.startswith("photo-"):
            raise NotFoundError("There is no such picture.", where=asset_id)
        return _paint_hills(int(asset_id.removeprefix("photo-")))

    def _place_picture(self, number: int) -> str:
        full = number % 4 == 0
        x, y = (0.0, 0.0) if full else (22.0, 30.0)
        width = self.width_mm if full else self.width_mm - 44
        height = self.height_mm if full else width * 2 / 3
        folio = "" if full else _set_words(str(number), 22, self.height_mm - 16, 3.2)
        caption = "" if full else _set_words("Above the tree line, early", 22, y + height + 8, 3.4)
        return (
            f'<image x="{x}" y="{y}" width="{width}" height="{height}"'
            f' preserveAspectRatio="xMidYMid slice" href="/assets/photo-{number}"/>{caption}{folio}'
        )


def _set_title(text: str, width: float, height: float) -> str:
    rule = f'<path d="M{width / 2 - 8} {height * 0.36}h16" stroke="#8a3d2f" stroke-width=".3"/>'
    size = min(11.0, width * 1.7 / len(text))
    return _set_words(text, width / 2, height * 0.33, size, "middle") + rule


def _set_words(text: str, x: float, y: float, size: float, anchor: str = "start") -> str:
    return (
        f'<text x="{x}" y="{y}" font-family="Georgia, serif" font-size="{size}"'
        f' text-anchor="{anchor}" fill="#2a2723">{text}</text>'
    )


def _paint_hills(seed: int) -> bytes:
    sky = SKIES[seed % len(SKIES)]
    picture = Image.new("RGB", (900, 1200), sky)
    draw = ImageDraw.Draw(picture)
    for ridge in range(4):
        shade = tuple(int(c * (0.78 - 0.16 * ridge)) for c in sky)
        top = 480 + 170 * ridge
        points = [(x, top - ((x * (seed + ridge + 3)) // 7) % 160) for x in range(0, 901, 90)]
        draw.polygon([(0, 1200), *points, (900, 1200)], fill=shade)
    out = BytesIO()
    picture.save(out, "JPEG", quality=80)
    return out.getvalue()


class FakeSession:
    """An open book whose pages are ``shown``, and nothing else happens to it."""

    def __init__(self, shown: FakeShown) -> None:
        self.shown = shown
        self.listeners = Listeners()

    def listen(self, call: Callable[[Event], None]) -> AbstractContextManager[None]:
        return self.listeners.listen(call)

    def asset_jpeg(self, asset_id: str) -> bytes:
        return self.shown.asset_jpeg(asset_id)

    def close(self) -> None:
        """There is nothing to put away."""

    def state(self) -> BookState:
        return BookState("long-way", TITLE, self.shown.revision, None, None, None, ())


def put_on_shelf(shown: FakeShown, shelf: Shelf | None = None) -> Shelf:
    shelf = shelf or Shelf()
    session = FakeSession(shown)
    shelf._session = cast(Session, session)
    shelf._held.enter_context(session.listen(lambda e: shelf._listeners.tell(e.kind)))
    return shelf
