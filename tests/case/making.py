"""Books and blocks to make cases for."""

from typing import Any

from tests.bench.making import gather
from wayfold.base.geometry import Size
from wayfold.book.casing import BenchChoices, Casing, Pocket, PocketItem
from wayfold.book.materials import Source
from wayfold.book.state import Book
from wayfold.case.block import Layer, SewnBlock, reckon_block
from wayfold.case.measure import CaseMeasures, measure_case


def make_block(thickness: float, width: float = 210.0, height: float = 297.0) -> SewnBlock:
    """A block that was measured."""
    layers = (Layer("paper", 40, 240.0, Source.MEASURED),)
    return SewnBlock(Size(width, height), 8, layers, 1.0, 0.5, 1.0, 1.0, 2.0, 0.0, thickness)


def make_case(block: SewnBlock, **fields: Any) -> CaseMeasures:
    return measure_case(block, Casing(**fields))


def make_book(*items: tuple[float, float, float], **fields: Any) -> Book:
    """A book whose bench choices are defaults but for the case's fields and the pocket's items."""
    pocket = Pocket(tuple(PocketItem("ticket", *item) for item in items))
    return Book("A Trip", bench=BenchChoices(casing=Casing(**fields), pocket=pocket))


def reckon(*sheets: int, book: Book | None = None, **fields: Any) -> SewnBlock:
    return reckon_block(book or make_book(**fields), gather(*sheets))
