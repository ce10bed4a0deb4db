"""The [layout] table of book.toml: how pictures may be laid, and families that are added."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, model_validator

from wayfold.base.geometry import Rect
from wayfold.book.arranging import (
    BY_HAND,
    LEAST_MEASURE,
    Arranging,
    HandLaid,
    PlacedPicture,
    PlacedText,
    Side,
)
from wayfold.book.families import Arrange, Family, Place

_ALL, _FAMILY = Arranging(), Family("", Arrange.SLICED)
# What a file leaves out is what the decisions' own types start from.

Fraction = Annotated[float, Field(ge=0, le=1)]
Share = Annotated[float, Field(gt=0, le=1)]
Shape = Annotated[float, Field(gt=0, le=100)]
FaceMm = Annotated[float, Field(ge=0, le=60)]
OffsetMm = Annotated[float, Field(ge=-2000, le=2000)]
SideMm = Annotated[float, Field(ge=1, le=2000)]
MOST_PICTURES = 18
MOST_PAGES = 400
ALONE = frozenset({Arrange.ALONE, Arrange.BLED, Arrange.BAND, Arrange.ACROSS, Arrange.REACHING})
FACING = frozenset({Arrange.ACROSS, Arrange.REACHING, Arrange.ONE_AND_REST})


class Table(BaseModel):
    """A table of the file: unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class PlaceTable(Table):
    """Where a picture lies: fractions of the page's picture area."""

    left: Fraction
    top: Fraction
    width: Share
    height: Share
    page: Annotated[int, Field(ge=1, le=2)] = 1
    fills: bool = False

    @model_validator(mode="after")
    def _check_lies_within(self) -> PlaceTable:
        if self.left + self.width > 1 + 1e-9 or self.top + self.height > 1 + 1e-9:
            raise ValueError(
                "a place lies within the picture area: left + width and top + height are 1 at most"
            )
        return self


class FamilyTable(Table):
    """A layout family of the person's own or of a style, or one of the shipped ones changed."""

    name: str = Field(min_length=1, max_length=40, pattern=r"^[^\d\s]\S*$")
    arrange: Arrange
    pictures: tuple[
        Annotated[int, Field(ge=1, le=MOST_PICTURES)], Annotated[int, Field(ge=1, le=MOST_PICTURES)]
    ] = (1, 1)
    pages: Annotated[int, Field(ge=1, le=2)] = _FAMILY.pages
    worth: Annotated[float, Field(ge=0, le=2)] = _FAMILY.worth
    size: Annotated[float, Field(ge=0.1, le=1)] = _FAMILY.size
    shapes: tuple[Shape, Shape] | None = None
    scene: bool = False
    place: list[PlaceTable] = []

    @model_validator(mode="after")
    def _check_agrees(self) -> FamilyTable:
        if self.name == BY_HAND:
            raise ValueError(
                f'"{BY_HAND}" says that pictures were placed by hand: call it otherwise'
            )
        if self.arrange is Arrange.PLACES:
            if not self.place:
                raise ValueError('arrange = "places" wants one [[layout.family.place]] a picture')
            if max(place.page for place in self.place) > self.pages:
                raise ValueError("a place lies on page 2: write pages = 2")
        elif self.place:
            raise ValueError('places go with arrange = "places" only')
        if self.pictures[0] > self.pictures[1]:
            raise ValueError("pictures are the fewest and the most: write the smaller number first")
        if self.arrange in ALONE and self.pictures != (1, 1):
            raise ValueError(f'arrange = "{self.arrange}" takes one picture')
        if self.arrange in FACING and self.pages != 2:
            raise ValueError(f'arrange = "{self.arrange}" wants pages = 2')
        return self


class PlacedTable(Table):
    """Where a picture was put by hand: left, top, width, height in mm from the page's corner."""

    page: Annotated[int, Field(ge=1, le=2)]
    box_mm: tuple[OffsetMm, OffsetMm, SideMm, SideMm]
    crop: tuple[Fraction, Fraction, Share, Share] | None = None
    """left, top, width, height in fractions of the upright picture"""

    @model_validator(mode="after")
    def _check_crop(self) -> PlacedTable:
        if self.crop and max(self.crop[0] + self.crop[2], self.crop[1] + self.crop[3]) > 1 + 1e-6:
            raise ValueError("a crop lies within the picture: left + width and top + height <= 1")
        return self


class PlacedTextTable(Table):
    """Where a text was put by hand: left and top in mm from the page's corner, and its measure."""

    page: Annotated[int, Field(ge=-1, le=MOST_PAGES)]
    at_mm: tuple[OffsetMm, OffsetMm]
    width_mm: Annotated[float, Field(ge=LEAST_MEASURE, le=2000)]


class HandTable(Table):
    """A block of which pictures or texts were placed by hand."""

    begins: Side
    picture: dict[str, PlacedTable] = {}
    text: dict[str, PlacedTextTable] = {}

    @model_validator(mode="after")
    def _check_says_something(self) -> HandTable:
        if not self.picture and not self.text:
            raise ValueError("nothing is placed here: name a picture or a text, or take it away")
        return self


class LayoutTable(Table):
    """The person's hand on how pages are arranged."""

    face_from_trim_mm: FaceMm = _ALL.face_from_trim
    face_from_fold_mm: FaceMm = _ALL.face_from_fold
    most_crop: Annotated[float, Field(ge=0, le=0.6)] = _ALL.most_crop
    seed: Annotated[int, Field(ge=0, le=9999)] = _ALL.seed
    reading_distance_mm: Annotated[float, Field(ge=150, le=2000)] = _ALL.reading_distance
    ways: dict[str, str] = {}
    by_hand: dict[str, HandTable] = {}
    exchanged: list[tuple[str, str]] = []
    family: list[FamilyTable] = []


def arranging_from_table(table: LayoutTable) -> Arranging:
    """Give the decisions that the table describes."""
    return Arranging(
        face_from_trim=table.face_from_trim_mm,
        face_from_fold=table.face_from_fold_mm,
        most_crop=table.most_crop,
        ways=dict(table.ways),
        exchanged=tuple(table.exchanged),
        by_hand={block: _read_hand(hand) for block, hand in table.by_hand.items()},
        seed=table.seed,
        reading_distance=table.reading_distance_mm,
        families=families_from_tables(table.family),
    )


def _read_hand(table: HandTable) -> HandLaid:
    pictures = (
        PlacedPicture(photo, one.page, Rect(*one.box_mm), Rect(*one.crop) if one.crop else None)
        for photo, one in table.picture.items()
    )
    texts = (
        PlacedText(name, one.page, *one.at_mm, one.width_mm) for name, one in table.text.items()
    )
    return HandLaid(table.begins, tuple(pictures), tuple(texts))


def families_from_tables(tables: Sequence[FamilyTable]) -> tuple[Family, ...]:
    """Give the layout families that tables describe, in book.toml or in a style."""
    return tuple(_family(table) for table in tables)


def _family(table: FamilyTable) -> Family:
    places = tuple(
        Place(Rect(p.left, p.top, p.width, p.height), p.page, p.fills) for p in table.place
    )
    least, most = (len(places), len(places)) if places else table.pictures
    narrowest, widest = table.shapes or (_FAMILY.narrowest, _FAMILY.widest)
    return Family(
        name=table.name,
        arrange=table.arrange,
        least=least,
        most=most,
        pages=table.pages,
        worth=table.worth,
        size=table.size,
        narrowest=narrowest,
        widest=widest,
        scene=table.scene,
        places=places,
    )
