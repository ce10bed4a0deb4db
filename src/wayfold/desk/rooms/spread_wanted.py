"""What is asked of the room Spread over the wire."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from wayfold.desk.rooms.spread_wire import Box, Length, WayChosen
from wayfold.desk.wire import Wire

MOST_LETTERS = 500_000
"""No text of a book is longer."""


class Placing(Wire):
    """Where a picture is wanted, in the space of ``page``; the box may reach over the fold."""

    photo: str
    page: int
    box: Box
    crop: Box | None = None


class Seen(Wire):
    """``page`` is one of the spread being looked at, which comes back as it then is."""

    page: Annotated[int, Field(ge=1)]


class PlaceWanted(Seen):
    """Pictures of a block placed by hand; the others of the block stay as they lie."""

    block: str
    frames: Annotated[list[Placing], Field(min_length=1, max_length=100)]


class CropWanted(Seen):
    """The part of a picture to show; null for all of it."""

    photo: str
    crop: Box | None


class SwapWanted(Seen):
    """Two pictures that are to change places."""

    photo: str
    other: str = Field(alias="with")


class TextPlacing(Seen):
    """A text, by its frame, placed on page ``on``: its upper left corner and measure in mm."""

    frame: str
    on: Annotated[int, Field(ge=1)]
    left: Length
    top: Length
    width: Length


class FrameWanted(Seen):
    """A text by its frame."""

    frame: str


class PhotoWanted(Seen):
    """A photograph."""

    photo: str


class ReleaseWanted(Seen):
    """A block to be given back to the layout."""

    block: str


class TextWanted(Seen):
    """A text of the book; ``was`` is what the writer began from."""

    key: str
    text: Annotated[str, Field(max_length=MOST_LETTERS)]
    was: str


class CaptionWanted(Seen):
    """A caption; null returns to the one in the picture's file."""

    photo: str
    caption: Annotated[str, Field(max_length=MOST_LETTERS)] | None
    was: str


class TitleWanted(Seen):
    """The title of a chapter by its place, or of the book where that is empty."""

    place: str
    title: Annotated[str, Field(max_length=500)]
    subtitle: Annotated[str, Field(max_length=500)] | None
    was: str
    was_subtitle: str | None


class WaysWanted(Seen):
    """The ways to lay blocks in; null leaves the choice to the layout."""

    choice: Annotated[list[WayChosen], Field(min_length=1, max_length=20)]


class LeafWanted(Seen):
    """Whether a translucent leaf is asked for over a picture, or over a chapter's opening."""

    photo: str | None = None
    chapter: str | None = None
    on: bool

    @model_validator(mode="after")
    def _check_one(self) -> Self:
        if (self.photo is None) == (self.chapter is None):
            raise ValueError("name a photo or a chapter")
        return self
