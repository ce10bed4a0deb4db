"""Text before it is set: paragraphs of runs in a style. The typesetter makes lines of them."""

from __future__ import annotations

import enum
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from wayfold.drawing.colour import Colour


class Align(enum.StrEnum):
    """How lines lie in their measure."""

    LEFT = "left"
    RIGHT = "right"
    CENTER = "center"
    JUSTIFY = "justify"


class VerticalAlign(enum.StrEnum):
    """How set text lies in a box that is taller."""

    TOP = "top"
    MIDDLE = "middle"
    BOTTOM = "bottom"


class Figures(enum.StrEnum):
    """The form of the digits."""

    OLD_STYLE = "old-style"
    LINING = "lining"
    TABULAR_OLD_STYLE = "tabular-old-style"
    TABULAR_LINING = "tabular-lining"


@dataclass(frozen=True, slots=True)
class TextStyle:
    """How a paragraph looks.

    ``family`` is a font family name of the book's fonts. ``leading_pt`` is the distance of
    baselines. ``tracking`` is extra space between letters in thousandths of an em.
    ``first_indent_pt`` indents the first line, ``hanging_pt`` all others; ``space_before_pt``
    parts the paragraph from the one above. ``language`` is a BCP 47 code; it steers hyphenation
    (only when ``hyphenate``).
    """

    family: str
    size_pt: float
    leading_pt: float
    colour: Colour
    align: Align = Align.LEFT
    italic: bool = False
    weight: int = 400
    small_caps: bool = False
    capitals: bool = False
    tracking: float = 0.0
    figures: Figures = Figures.OLD_STYLE
    hyphenate: bool = False
    language: str = "en"
    first_indent_pt: float = 0.0
    hanging_pt: float = 0.0
    space_before_pt: float = 0.0

    @property
    def first_baseline_pt(self) -> float:
        """How far under the top of its box a text's first baseline lies.

        A line's box is as high as the leading; beneath the baseline it leaves a quarter of the
        letter size, which is about what the descenders of a book face take.
        """
        return self.leading_pt - self.size_pt / 4


@dataclass(frozen=True, slots=True)
class Run:
    """Letters in the paragraph's style, or leaning on it in one way.

    ``leader`` fills the rest of the line up to what follows with spaced dots (``text`` is then
    empty). ``line_break`` ends the line after the run. ``superior`` raises it as small figures,
    which stay with the word before them; where they call a footnote for the first time, ``note``
    is what it says. ``width_pt``, where it is not 0, is the room the run takes whatever its
    letters do, as the sign before an item of a list does.
    """

    text: str = ""
    italic: bool | None = None
    small_caps: bool | None = None
    colour: Colour | None = None
    leader: bool = False
    line_break: bool = False
    superior: bool = False
    width_pt: float = 0.0
    note: tuple[Paragraph, ...] = ()


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Runs in one style.

    ``continues`` says that the paragraph was cut here and goes on in another frame: its last
    line is then filled like those above it. ``heads`` says that it belongs to what follows, as a
    heading does: it does not end a frame in which something stands before it.
    """

    runs: tuple[Run, ...]
    style: TextStyle
    continues: bool = False
    heads: bool = False

    @property
    def plain(self) -> str:
        """The letters alone."""
        return "".join(r.text + ("\n" if r.line_break else "") for r in self.runs)

    @property
    def notes(self) -> tuple[Paragraph, ...]:
        """The paragraphs of all footnotes that are called here, in order."""
        return tuple(paragraph for run in self.runs for paragraph in run.note)


@dataclass(frozen=True, slots=True)
class TextBlock:
    """Paragraphs and the measure (mm) they are to be set to."""

    paragraphs: tuple[Paragraph, ...]
    width: float


class TextMeasurer(Protocol):
    """Says how much room text takes. Layout receives one and knows no fonts."""

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        """Give the height in mm of each block, set to its width."""

    def split_to_height(
        self, block: TextBlock, heights: Sequence[float]
    ) -> tuple[tuple[Paragraph, ...], ...]:
        """Thread a text through frames of the given heights (mm).

        Gives one tuple of paragraphs a frame, and a last one with what did not fit (empty if
        all did). A paragraph cut between frames is carried on without a first indent.
        """
