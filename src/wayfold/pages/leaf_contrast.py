"""Whether what is printed on translucent leaves can be read over the pages beneath."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.base.memory import Memory
from wayfold.base.mends import Mend
from wayfold.book.see_through import Sheet
from wayfold.drawing.items import Drawing
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.pages.ground import read_ground
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.pages.leaf_marks import Verdict, judge_items
from wayfold.photos.lightness import Lightness

RULE = "leaf-contrast"


def prove_leaves(
    leaves: Sequence[InterleafLeaf],
    layout: BookLayout,
    lightness: Mapping[str, Lightness],
    sheet: Sheet,
    list_others: Callable[[int], Sequence[str]] | None = None,
    memory: Memory | None = None,
) -> tuple[Finding, ...]:
    """Find every text and line on a leaf that is hard to see over the page beneath it.

    ``list_others`` names, for a page that opens a chapter, other pictures that would bear its
    title; it is asked for pages with a finding only. What is in ``memory`` is not proved again.
    """
    memory = memory or Memory()
    pages = {page.number: page for page in layout.pages}
    found: list[Finding] = []
    for leaf in leaves:
        for face, under in ((leaf.recto, leaf.after_page + 1), (leaf.verso, leaf.after_page)):
            page = pages.get(under)
            shown = _list_shown(page, lightness)
            weak = memory.recall(_list_weak, face, page, shown, sheet, at=face.label)
            if weak:
                others = list_others(under) if list_others else ()
                found.append(_report(leaf, under, weak, others))
    return tuple(found)


def _list_shown(
    page: PageLayout | None, lightness: Mapping[str, Lightness]
) -> Mapping[str, Lightness]:
    frames = page.frames if page else ()
    shown = (frame.photo for frame in frames if isinstance(frame, PictureFrame))
    return {photo: lightness[photo] for photo in shown if photo in lightness}


def _list_weak(
    face: Drawing, page: PageLayout | None, lightness: Mapping[str, Lightness], sheet: Sheet
) -> tuple[Verdict, ...]:
    ground = read_ground(page, lightness)
    return tuple(v for v in judge_items(face.items, ground, sheet) if v.margin < 1.0)


def _report(
    leaf: InterleafLeaf, under: int, weak: Sequence[Verdict], others: Sequence[str]
) -> Finding:
    worst = min(weak, key=lambda v: v.margin)
    names = list(dict.fromkeys(v.mark.name for v in sorted(weak, key=lambda v: v.margin)))
    what = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
    if others:
        first = f"Open the chapter with {' or '.join(others)} ({Mend.OPENING_PHOTO})"
    else:
        first = f"Crop the picture to a lighter part ({Mend.CROP}) or take another"
    return Finding(
        RULE,
        Severity.WARN,
        leaf.label,
        f"Over page {under}, {what} will be hard to read: "
        f"contrast {worst.contrast:.1f} to 1 at the worst, {worst.mark.needs:.1f} is needed. "
        "No place on the leaf and no other crop is better.",
        f"{first}; or take a clearer sheet ([translucent]), or do without "
        "(country_map = false, interleaf = false).",
    )
