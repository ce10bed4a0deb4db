"""What the room Spread shows: two facing pages, what stands on them, and what may be done to it.

All lengths in mm, in the space of the page named: origin at its trim corner, y down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wayfold.app.views import PageSide
from wayfold.base.findings import Severity
from wayfold.base.geometry import Rect, Size

FrameKind = Literal["picture", "text", "caption", "title", "table", "map", "other"]
WordsKind = Literal["text", "caption", "title"]
Side = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class TypeView:
    """How a text is set."""

    size_pt: float
    leading_pt: float
    align: Side
    italic: bool


@dataclass(frozen=True, slots=True)
class OversetView:
    """What of a text finds no room."""

    words: int
    lines: int


@dataclass(frozen=True, slots=True)
class WordsView:
    """Something the person writes, as it is kept (Markdown), and how it is set.

    ``key`` is the text's, the photograph's id, or the chapter's place ("" for the book itself).
    ``name`` is the file's name of a captioned photograph. ``own`` is False where what stands there
    is not the person's: a caption out of the picture's file, a title made by the journey.
    """

    what: WordsKind
    key: str
    source: str
    type: TypeView
    subtitle: str | None = None
    name: str = ""
    own: bool = True
    overset: OversetView | None = None


@dataclass(frozen=True, slots=True)
class PictureView:
    """A photograph in its frame.

    ``crop`` and ``faces`` are fractions of the upright picture; ``crop`` is what both pages show of
    a picture ``across`` them. ``whole`` is the frame over both pages, in the space of the left one.
    ``largest`` is the size up to which what is shown prints well.
    """

    photo: str
    content: str
    name: str
    width_px: int
    height_px: int
    crop: Rect
    crop_kept: bool
    across: bool
    whole: Rect
    ppi: float
    largest: Size
    faces: tuple[Rect, ...]
    bleeds: bool


@dataclass(frozen=True, slots=True)
class FrameView:
    """One thing on a page. ``id`` stays the same while the thing stands on the page.

    ``box`` is what its page shows of it, bleed included. ``why_not`` says why what is not
    ``movable`` is not. ``by_hand`` says whether a text was put there by the person.
    """

    id: str
    page: int
    kind: FrameKind
    block: str | None
    box: Rect
    movable: bool
    why_not: str
    picture: PictureView | None = None
    words: tuple[WordsView, ...] = ()
    by_hand: bool = False


@dataclass(frozen=True, slots=True)
class LaidPageView:
    """One of the pages, with the lines that things may lie on.

    ``columns`` divide the picture area; running text stands on lines ``baseline_step`` apart, the
    first at ``baseline_first``. ``family`` names how its pictures lie.
    """

    number: int
    side: PageSide
    label: str
    chapter: str
    family: str
    picture_area: Rect
    text_area: Rect
    columns: tuple[Rect, ...]
    baseline_first: float
    baseline_step: float


@dataclass(frozen=True, slots=True)
class BlockView:
    """A block of the story on these pages: on which of the book's pages, and who laid it.

    ``way`` names how its pictures lie, None where they could not lie otherwise; ``chosen`` says
    whether the person took that way, ``by_hand`` whether they placed the pictures themselves.
    """

    id: str
    name: str
    pages: tuple[int, ...]
    way: str | None
    chosen: bool
    by_hand: bool


@dataclass(frozen=True, slots=True)
class LeafWishView:
    """A translucent leaf over a page here: asked for or to be had, by a picture or a chapter.

    One of ``photo`` and ``chapter`` (its place) is given. ``lies`` says whether it lies there now.
    """

    page: int
    photo: str | None
    chapter: str | None
    wanted: bool
    lies: bool
    possible: bool
    why_not: str


@dataclass(frozen=True, slots=True)
class InterleafView:
    """The leaves between the two pages.

    ``lying`` numbers the page seen through leaves (from 1) that shows the right page under them;
    ``turned`` the one that shows the left page once they are turned. None where no leaf lies.
    """

    lying: int | None
    turned: int | None
    wishes: tuple[LeafWishView, ...]


@dataclass(frozen=True, slots=True)
class FindingView:
    """A judgement on these pages; ``frame`` is the id of what it speaks of, where that is known."""

    rule: str
    severity: Severity
    message: str
    remedy: str
    page: int
    frame: str | None


@dataclass(frozen=True, slots=True)
class SpreadView:
    """Two facing pages, or the one that stands alone; frames in reading order.

    Faces keep ``face_from_trim`` and ``face_from_fold`` from the page's edges; ``gap`` is the white
    between pictures, ``caption_gap`` that between one and its caption, ``sunk`` the line that
    titles hang from.
    """

    revision: str
    page_count: int
    pages: tuple[LaidPageView, ...]
    trim: Size
    bleed: float
    face_from_trim: float
    face_from_fold: float
    gap: float
    caption_gap: float
    sunk: float
    frames: tuple[FrameView, ...]
    blocks: tuple[BlockView, ...]
    findings: tuple[FindingView, ...]
    interleaf: InterleafView
