"""The room for one spread as it will print. Every change answers with the spread after it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Path

from wayfold.app.rooms.spread import show_spread
from wayfold.app.rooms.spread_exchange import exchange_pictures
from wayfold.app.rooms.spread_placing import Wish, crop_picture, place_pictures, release_block
from wayfold.app.rooms.spread_writing import write_caption, write_text, write_title
from wayfold.app.session import Session
from wayfold.desk.reading import REFUSALS
from wayfold.desk.rooms import spread_wire as wire
from wayfold.desk.rooms.spread_wire import SpreadNow

PageNumber = Annotated[int, Path(ge=1)]


def make_router(find_session: Callable[[], Session]) -> APIRouter:
    """The routes over the book that ``find_session`` gives, at each request anew."""
    router = APIRouter(prefix="/api/spread", responses=REFUSALS)

    def show(page: int) -> SpreadNow:
        shown = find_session().shown
        # The book may have lost its last pages by the change.
        return SpreadNow.of(show_spread(shown, min(page, len(shown.results.drawings))))

    @router.get("/{page}")
    def get_spread(page: PageNumber) -> SpreadNow:
        """The spread with ``page``: what stands on it, where things may lie, what is wrong."""
        return SpreadNow.of(show_spread(find_session().shown, page))

    @router.post("/place")
    def place(wanted: wire.PlaceWanted) -> SpreadNow:
        """Place pictures of a block by hand."""
        wishes = [
            Wish(f.photo, f.page, f.box.to_rect(), f.crop.to_rect() if f.crop else None)
            for f in wanted.frames
        ]
        place_pictures(find_session(), wanted.block, wishes)
        return show(wanted.page)

    @router.post("/crop")
    def crop(wanted: wire.CropWanted) -> SpreadNow:
        """Show a part of a picture only."""
        part = wanted.crop.to_rect() if wanted.crop else None
        crop_picture(find_session(), wanted.photo, part)
        return show(wanted.page)

    @router.post("/swap")
    def swap(wanted: wire.SwapWanted) -> SpreadNow:
        """Let two pictures change places."""
        exchange_pictures(find_session(), wanted.photo, wanted.other)
        return show(wanted.page)

    @router.post("/release")
    def release(wanted: wire.ReleaseWanted) -> SpreadNow:
        """Give pictures placed by hand back to the layout."""
        release_block(find_session(), wanted.block)
        return show(wanted.page)

    @router.post("/text")
    def text(wanted: wire.TextWanted) -> SpreadNow:
        """Write a text where it stands."""
        write_text(find_session(), wanted.key, wanted.text, wanted.was)
        return show(wanted.page)

    @router.post("/caption")
    def caption(wanted: wire.CaptionWanted) -> SpreadNow:
        """Write a caption where it stands."""
        write_caption(find_session(), wanted.photo, wanted.caption, wanted.was)
        return show(wanted.page)

    @router.post("/title")
    def title(wanted: wire.TitleWanted) -> SpreadNow:
        """Write a title where it stands."""
        titles = (wanted.title, wanted.subtitle)
        write_title(find_session(), wanted.place, titles, (wanted.was, wanted.was_subtitle))
        return show(wanted.page)

    return router
