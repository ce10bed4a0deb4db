"""The room for one spread as it will print. Every change answers with the spread after it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Path
from fastapi.responses import FileResponse

from wayfold.app.rooms.spread import show_spread
from wayfold.app.rooms.spread_exchange import exchange_places, list_others
from wayfold.app.rooms.spread_leaves import ask_for_leaf
from wayfold.app.rooms.spread_placing import Wish, crop_picture, place_pictures, release_block
from wayfold.app.rooms.spread_setting import place_text, release_text, set_caption_apart
from wayfold.app.rooms.spread_ways import cut_part, show_ways, take_ways
from wayfold.app.rooms.spread_writing import write_caption, write_text, write_title
from wayfold.app.session import Session
from wayfold.base.geometry import Rect
from wayfold.desk.reading import JPEG, KEEP, REFUSALS
from wayfold.desk.rooms import spread_wanted as ask
from wayfold.desk.rooms import spread_wire as wire
from wayfold.desk.rooms.spread_wire import SpreadNow

Name = Annotated[str, Path(pattern=r"^[A-Za-z0-9_-]{1,64}$")]
Sides = Annotated[str, Path(pattern=r"^[01]\.\d{5}(_[01]\.\d{5}){3}$")]
PageNumber = Annotated[int, Path(ge=1)]


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/spread", responses=REFUSALS)

    def show(page: int) -> SpreadNow:
        shown = find_session().shown
        # The book may have lost its last pages by the change.
        return SpreadNow.of(show_spread(shown, min(page, len(shown.results.drawings))))

    @router.get("/{page}/ways")
    def get_ways(page: PageNumber) -> wire.SpreadWays:
        """Other ways for the spread with ``page`` to lie, each drawn; may take a second."""
        return wire.SpreadWays.of(show_ways(find_session().shown, page))

    @router.get("/others/{photo}")
    def get_others(photo: Name) -> list[wire.OtherPicture]:
        """The pictures of all pages that a picture may change places with."""
        others = list_others(find_session().shown, photo)
        return [wire.OtherPicture.mirror(other) for other in others]

    @router.get("/part/{photo}/{content}/{sides}.jpg", response_class=FileResponse)
    def get_part(photo: Name, content: Name, sides: Sides) -> FileResponse:  # noqa: ARG001
        """A part of a picture, as the pages of other ways refer to it; ``sides`` are fractions."""
        left, top, width, height = map(float, sides.split("_"))
        path = cut_part(find_session(), photo, Rect(left, top, width, height))
        return FileResponse(path, media_type=JPEG, headers={"Cache-Control": KEEP})

    @router.get("/{page}")
    def get_spread(page: PageNumber) -> SpreadNow:
        """The spread with ``page``: what stands on it, where things may lie, what is wrong."""
        return SpreadNow.of(show_spread(find_session().shown, page))

    @router.post("/place")
    def place(wanted: ask.PlaceWanted) -> SpreadNow:
        """Place pictures of a block by hand."""
        wishes = [
            Wish(f.photo, f.page, f.box.to_rect(), f.crop.to_rect() if f.crop else None)
            for f in wanted.frames
        ]
        place_pictures(find_session(), wanted.block, wishes)
        return show(wanted.page)

    @router.post("/set")
    def place_words(wanted: ask.TextPlacing) -> SpreadNow:
        """Place a text or a caption by hand."""
        corner = (wanted.left, wanted.top)
        place_text(find_session(), wanted.frame, wanted.on, corner, wanted.width)
        return show(wanted.page)

    @router.post("/set-apart")
    def set_apart(wanted: ask.PhotoWanted) -> SpreadNow:
        """Set the caption of one picture by itself."""
        set_caption_apart(find_session(), wanted.photo)
        return show(wanted.page)

    @router.post("/release-text")
    def free_text(wanted: ask.FrameWanted) -> SpreadNow:
        """Let a text that was placed find its own place again."""
        release_text(find_session(), wanted.frame)
        return show(wanted.page)

    @router.post("/crop")
    def crop(wanted: ask.CropWanted) -> SpreadNow:
        """Show a part of a picture only."""
        part = wanted.crop.to_rect() if wanted.crop else None
        crop_picture(find_session(), wanted.photo, part)
        return show(wanted.page)

    @router.post("/swap")
    def swap(wanted: ask.SwapWanted) -> SpreadNow:
        """Let two pictures change places."""
        exchange_places(find_session(), wanted.photo, wanted.other)
        return show(wanted.page)

    @router.post("/release")
    def release(wanted: ask.ReleaseWanted) -> SpreadNow:
        """Give pictures placed by hand back to the layout."""
        release_block(find_session(), wanted.block)
        return show(wanted.page)

    @router.post("/ways")
    def ways(wanted: ask.WaysWanted) -> SpreadNow:
        """Lay the blocks of a spread in other ways."""
        take_ways(find_session(), [(chosen.block, chosen.way) for chosen in wanted.choice])
        return show(wanted.page)

    @router.post("/interleaf")
    def interleaf(wanted: ask.LeafWanted) -> SpreadNow:
        """Ask for a translucent leaf, or do without it."""
        ask_for_leaf(find_session(), wanted.photo, wanted.chapter, wanted.on)
        return show(wanted.page)

    @router.post("/text")
    def text(wanted: ask.TextWanted) -> SpreadNow:
        """Write a text where it stands."""
        write_text(find_session(), wanted.key, wanted.text, wanted.was)
        return show(wanted.page)

    @router.post("/caption")
    def caption(wanted: ask.CaptionWanted) -> SpreadNow:
        """Write a caption where it stands."""
        write_caption(find_session(), wanted.photo, wanted.caption, wanted.was)
        return show(wanted.page)

    @router.post("/title")
    def title(wanted: ask.TitleWanted) -> SpreadNow:
        """Write a title where it stands."""
        titles = (wanted.title, wanted.subtitle)
        write_title(find_session(), wanted.place, titles, (wanted.was, wanted.was_subtitle))
        return show(wanted.page)

    return router
