"""What the room Spread says over the wire."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field

from wayfold.app.rooms import spread_views as views
from wayfold.app.rooms.spread_ways import WaysView, WayView
from wayfold.app.views import PageSide
from wayfold.base.geometry import Rect
from wayfold.desk.wire import Wire
from wayfold.desk.wording import Told

Length = Annotated[float, Field(ge=-2000, le=2000)]


class Box(Wire):
    """A rectangle: mm on a page, or fractions of a picture."""

    x: Length
    y: Length
    width: Length
    height: Length

    def to_rect(self) -> Rect:
        """The rectangle meant."""
        return Rect(self.x, self.y, self.width, self.height)


class SizeMm(Wire):
    """Width and height in mm."""

    width: float
    height: float


class Overset(Wire):
    """What of a text finds no room."""

    words: int
    lines: int


class FrameWords(Wire):
    """Something the person writes that stands in a frame, as it is kept, and how it is set."""

    what: views.WordsKind
    key: str
    source: str
    subtitle: str | None
    name: str
    own: bool
    size_pt: float
    leading_pt: float
    align: views.Side
    italic: bool
    overset: Overset | None

    @classmethod
    def of(cls, words: views.WordsView) -> Self:
        """The wire form of ``words``."""
        over = words.overset
        return cls(
            what=words.what,
            key=words.key,
            source=words.source,
            subtitle=words.subtitle,
            name=words.name,
            own=words.own,
            size_pt=words.type.size_pt,
            leading_pt=words.type.leading_pt,
            align=words.type.align,
            italic=words.type.italic,
            overset=Overset(words=over.words, lines=over.lines) if over else None,
        )


class FramePicture(Wire):
    """A photograph in its frame; ``whole_box`` is in the space of the left page."""

    photo: str
    content: str
    name: str
    width_px: int
    height_px: int
    crop: Box
    crop_kept: bool
    across: bool
    whole_box: Box
    ppi: float
    largest_mm: SizeMm
    faces: list[Box]
    bleeds: bool

    @classmethod
    def of(cls, picture: views.PictureView) -> Self:
        """The wire form of ``picture``."""
        return cls(
            photo=picture.photo,
            content=picture.content,
            name=picture.name,
            width_px=picture.width_px,
            height_px=picture.height_px,
            crop=Box.mirror(picture.crop),
            crop_kept=picture.crop_kept,
            across=picture.across,
            whole_box=Box.mirror(picture.whole),
            ppi=picture.ppi,
            largest_mm=SizeMm.mirror(picture.largest),
            faces=[Box.mirror(face) for face in picture.faces],
            bleeds=picture.bleeds,
        )


class SpreadFrame(Wire):
    """One thing on a page."""

    id: str
    page: int
    kind: views.FrameKind
    block: str | None
    box: Box
    movable: bool
    why_not: str
    picture: FramePicture | None
    texts: list[FrameWords]
    by_hand: bool

    @classmethod
    def of(cls, frame: views.FrameView) -> Self:
        """The wire form of ``frame``."""
        return cls(
            id=frame.id,
            page=frame.page,
            kind=frame.kind,
            block=frame.block,
            box=Box.mirror(frame.box),
            movable=frame.movable,
            why_not=frame.why_not,
            picture=FramePicture.of(frame.picture) if frame.picture else None,
            texts=[FrameWords.of(words) for words in frame.words],
            by_hand=frame.by_hand,
        )


class SpreadPage(Wire):
    """One of the pages and the lines that things may lie on."""

    number: int
    side: PageSide
    label: str
    chapter: str
    family: str
    picture_area: Box
    text_area: Box
    columns: list[Box]
    baseline_first_mm: float
    baseline_step_mm: float

    @classmethod
    def of(cls, page: views.LaidPageView) -> Self:
        """The wire form of ``page``."""
        return cls(
            number=page.number,
            side=page.side,
            label=page.label,
            chapter=page.chapter,
            family=page.family,
            picture_area=Box.mirror(page.picture_area),
            text_area=Box.mirror(page.text_area),
            columns=[Box.mirror(column) for column in page.columns],
            baseline_first_mm=page.baseline_first,
            baseline_step_mm=page.baseline_step,
        )


class SpreadBlock(Wire):
    """A block of the story on these pages; ``way`` is null where it can lie in one way only."""

    id: str
    name: str
    pages: list[int]
    way: str | None
    chosen: bool
    by_hand: bool


class SpreadFinding(Wire):
    """A judgement on these pages."""

    rule: str
    severity: Literal["note", "warn", "block"]
    message: Told
    remedy: Told
    page: int
    frame: str | None

    @classmethod
    def of(cls, finding: views.FindingView) -> Self:
        """The wire form of ``finding``."""
        return cls(
            rule=finding.rule,
            severity=finding.severity.value,
            message=finding.message,
            remedy=finding.remedy,
            page=finding.page,
            frame=finding.frame,
        )


class LeafWish(Wire):
    """A translucent leaf that a picture or a chapter asks for, or could."""

    page: int
    photo: str | None
    chapter: str | None
    wanted: bool
    lies: bool
    possible: bool
    why_not: str


class SpreadLeaves(Wire):
    """The leaves between the pages: which of ``/veiled/N.svg`` show them, and what is asked for."""

    lying: int | None
    turned: int | None
    wishes: list[LeafWish]


class SpreadNow(Wire):
    """Two facing pages as they are now, with what stands on them. Lengths in mm."""

    revision: str
    page_count: int
    pages: list[SpreadPage]
    trim_width_mm: float
    trim_height_mm: float
    bleed_mm: float
    safe_trim_mm: float
    safe_fold_mm: float
    gap_mm: float
    caption_gap_mm: float
    sunk_mm: float
    frames: list[SpreadFrame]
    blocks: list[SpreadBlock]
    findings: list[SpreadFinding]
    interleaf: SpreadLeaves

    @classmethod
    def of(cls, spread: views.SpreadView) -> Self:
        """The wire form of ``spread``."""
        return cls(
            revision=spread.revision,
            page_count=spread.page_count,
            pages=[SpreadPage.of(page) for page in spread.pages],
            trim_width_mm=spread.trim.width,
            trim_height_mm=spread.trim.height,
            bleed_mm=spread.bleed,
            safe_trim_mm=spread.face_from_trim,
            safe_fold_mm=spread.face_from_fold,
            gap_mm=spread.gap,
            caption_gap_mm=spread.caption_gap,
            sunk_mm=spread.sunk,
            frames=[SpreadFrame.of(frame) for frame in spread.frames],
            blocks=[SpreadBlock.mirror(block) for block in spread.blocks],
            findings=[SpreadFinding.of(finding) for finding in spread.findings],
            interleaf=SpreadLeaves.mirror(spread.interleaf),
        )


class OtherPicture(Wire):
    """A picture that another may change places with; ``page`` is the first that shows it."""

    photo: str
    content: str
    name: str
    page: int
    width_px: int
    height_px: int


class WayChosen(Wire):
    """A block and the way it lies in; null leaves that to the layout."""

    block: str
    way: str | None


class WayPage(Wire):
    """A page as it would be."""

    side: PageSide
    svg: str


class SpreadWay(Wire):
    """A way for the spread to lie: its name, its blocks with their ways, its pages as SVG."""

    name: str
    choice: list[WayChosen]
    pages: list[WayPage]

    @classmethod
    def of(cls, way: WayView) -> Self:
        """The wire form of ``way``."""
        return cls(
            name=way.name,
            choice=[WayChosen(block=block, way=name) for block, name in way.choice],
            pages=[WayPage(side=side, svg=svg) for side, svg in way.pages],
        )


class SpreadWays(Wire):
    """How the spread lies now, and in what other ways it could, the best first."""

    now: SpreadWay
    ways: list[SpreadWay]

    @classmethod
    def of(cls, ways: WaysView) -> Self:
        """The wire form of ``ways``."""
        return cls(now=SpreadWay.of(ways.now), ways=[SpreadWay.of(way) for way in ways.ways])
