"""Laid-out pages: frames in page space (mm, origin at the trim's top left corner, y down)."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.base.findings import Finding
from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange
from wayfold.drawing.text import Paragraph, VerticalAlign


@dataclass(frozen=True, slots=True)
class PictureFrame:
    """A photograph's place. ``crop`` is in fractions of the upright picture.

    ``box`` may reach over the page edge: into the bleed, or across the fold to the facing page,
    which then has a frame of the same picture with ``box`` shifted by the page width. ``clip``
    bounds what is shown on this page.
    """

    box: Rect
    photo: str
    crop: Rect = Rect(0.0, 0.0, 1.0, 1.0)
    clip: Rect | None = None


@dataclass(frozen=True, slots=True)
class Overset:
    """What of a text finds no room: so many words, which would take so many lines."""

    words: int
    lines: int


@dataclass(frozen=True, slots=True)
class TextFrame:
    """Set text's place; ``key`` is that of ``words.Words`` (with "#2" for a second part).

    ``overset`` is what of its paragraphs stands beyond ``box``, where they were to fit;
    ``by_hand`` whether the person put it there.
    """

    box: Rect
    key: str
    paragraphs: tuple[Paragraph, ...]
    vertical: VerticalAlign = VerticalAlign.TOP
    overset: Overset | None = None
    by_hand: bool = False


@dataclass(frozen=True, slots=True)
class RuleFrame:
    """A hairline from corner to corner of ``box`` (whose width or height is 0)."""

    box: Rect
    width: float
    colour: str
    """ "#rrggbb" """


@dataclass(frozen=True, slots=True)
class DrawnFrame:
    """The place of a drawing made elsewhere, a map; ``key`` names it.

    ``box`` is where its trim lies; it may reach over the page. ``clip`` bounds what is shown.
    """

    box: Rect
    key: str
    clip: Rect


Frame = PictureFrame | TextFrame | RuleFrame | DrawnFrame


@dataclass(frozen=True, slots=True)
class PageLayout:
    """One page: the layout family it was laid out by and its frames, lowest first.

    ``folio`` says whether the page shows its number; ``arranged`` how its pictures lie, None where
    they are not what the page is for.
    """

    number: int
    family: str
    frames: tuple[Frame, ...]
    folio: bool = True
    arranged: Arrange | None = None


@dataclass(frozen=True, slots=True)
class BookLayout:
    """All pages in order."""

    pages: tuple[PageLayout, ...]
    findings: tuple[Finding, ...] = ()
