"""The form of style.toml, and of [style] in book.toml: the same keys, each of which may be left."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from wayfold.book.style import Canon, Letters, TitleAlign, Washes
from wayfold.project.layout_schema import FamilyTable

Mm = Annotated[float, Field(ge=0, le=5000)]
LengthMm = Annotated[float, Field(gt=0, le=5000)]
Hex = Annotated[str, Field(pattern=r"^#[0-9a-fA-F]{6}$")]
SizePt = Annotated[float, Field(ge=6, le=100)]
LeadingPt = Annotated[float, Field(ge=6, le=140)]
TypePt = tuple[SizePt, LeadingPt]
"""Letter size, and distance of baselines."""
Name = Annotated[str, Field(pattern=r"^[^\W_][\w -]*$", max_length=60)]
"""A style's name is that of its folder."""


class Table(BaseModel):
    """A table of the file: unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class MarginsTable(Table):
    """Margins of an A4 page; those of other pages are in proportion."""

    inner: Mm
    outer: Mm
    head: Mm
    foot: Mm


class ScaleTable(Table):
    """The sizes that there are: a base that grows and shrinks by a ratio, or a list."""

    base_pt: SizePt | None = None
    ratio: Annotated[float, Field(ge=1.05, le=2)] | None = None
    sizes_pt: Annotated[list[SizePt], Field(min_length=1)] | None = None

    @model_validator(mode="after")
    def _check_is_one(self) -> Self:
        by_ratio = (self.base_pt is not None, self.ratio is not None)
        if any(by_ratio) == (self.sizes_pt is not None) or any(by_ratio) != all(by_ratio):
            raise ValueError("write base_pt and ratio, or else sizes_pt")
        return self


class SizesTable(Table):
    """What is set in which size."""

    body: TypePt | None = None
    caption: TypePt | None = None
    title: TypePt | None = None
    subtitle: TypePt | None = None
    small: TypePt | None = None
    running_head: TypePt | None = None
    day_line: TypePt | None = None


class StyleTable(Table):
    """All values of a style."""

    serif: Annotated[str, Field(min_length=1)] | None = None
    sans: Annotated[str, Field(min_length=1)] | None = None
    canon: Canon | None = None
    text_margins_mm: MarginsTable | Mm | None = None
    picture_margins_mm: MarginsTable | Mm | None = None
    gap_mm: Mm | None = None
    text_measure_mm: LengthMm | None = None
    caption_measure_mm: LengthMm | None = None
    title_align: TitleAlign | None = None
    title_letters: Letters | None = None
    caption_letters: Letters | None = None
    ink: Hex | None = None
    quiet_ink: Hex | None = None
    accent: Hex | None = None
    land: Hex | None = None
    land_beyond: Hex | None = None
    washes: Washes | None = None
    wash_seed: Annotated[int, Field(ge=0, le=1_000_000)] | None = None
    scale: ScaleTable | None = None
    sizes: SizesTable = SizesTable()

    @model_validator(mode="after")
    def _check_margins_are_one(self) -> Self:
        if self.canon is not None and self.text_margins_mm is not None:
            raise ValueError("write canon or text_margins_mm, not both")
        return self


class StyleFile(StyleTable):
    """style.toml."""

    version: int
    about: Annotated[str, Field(min_length=1, max_length=200)]
    """What the style is like, in one line."""
    family: list[FamilyTable] = []
    """Layout families, as [[layout.family]] of book.toml has them."""


class BookStyleTable(StyleTable):
    """[style] of book.toml: a style, and values that differ from it."""

    name: Name = "garden"
