"""The marks on translucent sheets: where to trim, fold, cut and glue, and where each leaf goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.base.geometry import Affine, Point, Rect
from wayfold.drawing.items import Contour, Drawing, Item, Shape
from wayfold.drawing.text import Align
from wayfold.plan.model import EndRole, Interleaf, InterleafEnd, Plan
from wayfold.press.bed import Bed
from wayfold.press.marks import (
    HAIRLINE,
    LABEL_HEIGHT,
    Border,
    draw_fold_marks,
    draw_trim_marks,
    find_border,
    finish_marks,
    write_label,
    write_mark,
)
from wayfold.press.model import SideName
from wayfold.press.signatures import signature_of

GLUE = 3.0
"""Width (mm) of the strip by which a leaf is tipped in: 1/8 in in a university library's tip-in
guide, 2 to 4 mm in use."""
STUB = 10.0
"""Width (mm) to which a leaf is cut back that is not wanted; stubs are 6 to 15 mm wide."""


@dataclass(frozen=True, slots=True)
class Half:
    """A leaf on its half of a sheet: the plan's interleaf and end, and its way to the fold (mm).

    ``mirrored``: its faces are printed mirrored, each on the side of the other, to be read through.
    """

    at: tuple[int, int]
    interleaf: Interleaf
    end: InterleafEnd
    creep: float
    mirrored: bool = False

    @property
    def words(self) -> str:
        """Where the leaf goes."""
        if self.end.role is EndRole.STUB:
            return f"{self.end.after_page} (a stub)"
        stub = " (mirrored)" if self.mirrored else ""
        return f"{self.end.after_page}{stub}"


@dataclass(frozen=True, slots=True)
class MarkedLeaves:
    """What the marks of a side say: the leaves on its halves, heads up, and whose side it is."""

    plan: Plan
    name: SideName
    number: int
    left: Half | None
    right: Half | None
    by_hand: bool
    bare: bool = False
    """Whether the leaves are known to bear nothing on this side, so that it need not be printed."""

    @property
    def halves(self) -> tuple[Half, ...]:
        """The leaves, the one read first first."""
        there = (half for half in (self.left, self.right) if half is not None)
        return tuple(sorted(there, key=lambda half: half.at))

    @property
    def folded(self) -> bool:
        """Whether the sheet is folded, not cut."""
        return self.halves[0].interleaf.depth is not None


def draw_leaf_marks(side: MarkedLeaves, bed: Bed, trim: Rect, turn: Affine) -> Drawing:
    """Draw the marks of a side: ``trim`` is what stays of its leaves, heads up."""
    border = find_border(bed, trim, turn)
    # The label stands left of the fold, whether a leaf lies there or not.
    spread = Rect(bed.fold_x - bed.page.width, trim.y, 2 * bed.page.width, trim.height)
    items = [
        *draw_trim_marks(trim, border),
        *_draw_middle(side, bed.fold_x, border),
        *write_label(lambda edge: list_labels(side, edge), bed.fold_x, spread, border),
    ]
    return finish_marks(f"interleaf sheet {side.number}, {side.name}", items, bed, border, turn)


def _draw_middle(side: MarkedLeaves, fold: float, border: Border) -> Iterator[Item]:
    """The fold; or the cut, with the strips for glue beside it. And where a stub is cut."""
    if side.folded:
        yield from draw_fold_marks(fold, border)
    else:
        yield from draw_fold_marks(fold, border, HAIRLINE)
    for half, way in ((side.left, -1), (side.right, 1)):
        if half is None:
            continue
        if not side.folded:
            yield from _draw_strip(fold, fold + way * GLUE, border)
        if half.end.role is EndRole.STUB:
            yield from draw_fold_marks(fold + way * STUB, border, HAIRLINE)
    if border.room.foot >= LABEL_HEIGHT:
        yield from _write_mirrored(side, fold, border)
        if side.bare:
            box = Rect(fold - 60.0, border.bleed.bottom, 56.0, LABEL_HEIGHT)
            words = "nothing lies on this side: it need not be printed"
            yield write_mark(words, box, "bare side", Align.RIGHT)
    if not side.folded and border.room.foot >= LABEL_HEIGHT:
        box = Rect(fold + GLUE + 1.5, border.bleed.bottom, 60.0, LABEL_HEIGHT)
        yield write_mark(f"cut; glue {GLUE:g} mm at the cut edge", box, "glue strip")


def _write_mirrored(side: MarkedLeaves, fold: float, border: Border) -> Iterator[Item]:
    """Under a mirrored leaf, so that nobody takes it for a mistake."""
    for half, x in ((side.left, fold - 100.0), (side.right, fold + 45.0)):
        if half is not None and half.mirrored:
            box = Rect(x, border.bleed.bottom, 60.0, LABEL_HEIGHT)
            yield write_mark("mirrored: read through the sheet", box, "mirrored")


def _draw_strip(start: float, end: float, border: Border) -> Iterator[Item]:
    """A bracket over the strip that takes the glue, at head and foot, outside the trim.

    Glue hides nothing on translucent paper, so nothing is printed on the strip itself.
    """
    for edge, away, room in (
        (border.bleed.y, -1, border.room.head),
        (border.bleed.bottom, 1, border.room.foot),
    ):
        if room >= LABEL_HEIGHT:
            near, far = edge + away * 0.3, edge + away * 1.5
            points = (Point(start, near), Point(start, far), Point(end, far), Point(end, near))
            yield Shape((Contour(points),), stroke=HAIRLINE)


def list_labels(side: MarkedLeaves, edge: str) -> Iterator[str]:
    """Give the wordings of a side's label, the longest first."""
    numbers = " and ".join(half.words for half in side.halves)
    one = len(side.halves) == 1
    leaves = f"leaf after page {numbers}" if one else f"leaves after pages {numbers}"
    front = side.name is SideName.FRONT
    turning = " · for the back, turn the pile about its short edge"
    head = f" · this edge is the {edge}{turning if side.by_hand and front else ''}"
    start = f"{side.name} · interleaf sheet {side.number}"
    interleaf = side.halves[0].interleaf
    if interleaf.depth is None:
        letters = " and ".join(signature_of(half.interleaf.gathering) for half in side.halves)
        yield f"{start} · to be tipped in: {leaves} (gathering {letters}){head}"
        yield f"{side.name} · tipped in: {leaves}{head}"
        yield f"{side.name} · {leaves}"
        return
    gathering = side.plan.gatherings[interleaf.gathering - 1]
    letter = signature_of(gathering.number)
    inner = gathering.sheets - interleaf.depth
    lies = f"round the inner {inner} of {gathering.sheets} sheets" if inner else "in its middle"
    yield f"{start} · gathering {gathering.number} ({letter}), {lies} · {leaves}{head}"
    yield f"{side.name} · gathering {letter}, {lies} · {leaves}{head}"
    yield f"{side.name} · {letter}, {lies} · {leaves}"
    yield f"{side.name} · {letter} · {leaves}"
