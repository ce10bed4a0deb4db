"""A book, photographs and a stand-in for the typesetter, all made here."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import pytest

from wayfold.base.geometry import Size
from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.book.families import SHIPPED
from wayfold.book.state import Book, PhotoChoice
from wayfold.drawing.text import Paragraph, Run, TextBlock
from wayfold.layout.grid import make_grid
from wayfold.layout.matter import Laid, Matter, RememberingMeasurer
from wayfold.layout.ways import ARRANGERS
from wayfold.photos.model import Photo, SizePx
from wayfold.story.model import Alternative, Block, BlockKind
from wayfold.words.model import Words
from wayfold.words.styles import style_caption

A4 = Size(210.0, 297.0)


class CountingMeasurer:
    """Sets text with letters that are all 0.42 em wide, and counts how often it is asked."""

    def __init__(self) -> None:
        self.questions = 0

    def _lines(self, paragraph: Paragraph, width: float) -> list[str]:
        style = paragraph.style
        room = max(1, int(pt_from_mm(width) / (0.42 * style.size_pt)))
        lines, line = [], ""
        for word in paragraph.plain.split():
            if line and len(line) + 1 + len(word) > room:
                lines.append(line)
                line = word
            else:
                line = f"{line} {word}".strip()
        return [*lines, line]

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        self.questions += 1
        return tuple(
            mm_from_pt(
                sum(
                    p.style.leading_pt * len(self._lines(p, block.width))
                    + (p.style.space_before_pt if i else 0.0)
                    for i, p in enumerate(block.paragraphs)
                )
            )
            for block in blocks
        )

    def split_to_height(
        self, block: TextBlock, heights: Sequence[float]
    ) -> tuple[tuple[Paragraph, ...], ...]:
        left = list(block.paragraphs)
        frames = []
        for height in heights:
            room, part = pt_from_mm(height), []
            while left:
                paragraph = left[0]
                room -= paragraph.style.space_before_pt if part else 0.0
                fits = max(0, math.floor(room / paragraph.style.leading_pt + 1e-9))
                lines = self._lines(paragraph, block.width)
                if fits < len(lines):
                    if fits:
                        part.append(replace(paragraph, runs=(Run(" ".join(lines[:fits])),)))
                        left[0] = replace(paragraph, runs=(Run(" ".join(lines[fits:])),))
                    break
                part.append(left.pop(0))
                room -= len(lines) * paragraph.style.leading_pt
            frames.append(tuple(part))
        return (*frames, tuple(left))


@pytest.fixture
def measurer() -> CountingMeasurer:
    return CountingMeasurer()


def make_photo(name: str, aspect: float) -> Photo:
    height = 3000
    return Photo(name, name, f"/{name}.jpg", SizePx(round(height * aspect), height))


@pytest.fixture(scope="session")
def photo_of() -> Callable[[str, float], Photo]:
    return make_photo


def build_matter(
    aspects: Sequence[float],
    numbers: tuple[int, ...] = (2,),
    kind: BlockKind = BlockKind.GROUP,
    captions: Mapping[int, str] | None = None,
    trim: Size = A4,
    choices: Mapping[str, PhotoChoice] | None = None,
) -> Matter:
    """Make a block of pictures of given aspects on given pages."""
    names = [f"p{i}" for i in range(len(aspects))]
    photos = {n: make_photo(n, a) for n, a in zip(names, aspects, strict=True)}
    book = Book("A Book", trim=trim, choices=choices or {})
    words = {
        f"caption:p{i}": (Paragraph((Run(text),), style_caption(book)),)
        for i, text in (captions or {}).items()
    }
    return Matter(
        book,
        make_grid(book),
        Words(words),
        photos,
        RememberingMeasurer(CountingMeasurer()),
        Block("b", kind, (Alternative(len(numbers)),), 0, tuple(names)),
        numbers,
    )


@pytest.fixture(scope="session")
def make_matter() -> Callable[..., Matter]:
    return build_matter


@pytest.fixture(scope="session")
def lay_by() -> Callable[..., Laid | None]:
    """Lay a block by a shipped family, in its first way; None where that does not suit."""
    families = {family.name: family for family in SHIPPED}

    def lay(matter: Matter, name: str) -> Laid | None:
        family = families[name]
        return next(ARRANGERS[family.arrange](matter, family), None)

    return lay
