"""Looks over pages that are laid out: does anything run off the page or into something else?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.memory import Memory
from wayfold.book.arranging import BY_HAND
from wayfold.layout.grid import Grid
from wayfold.layout.model import Frame, Overset, PageLayout, PictureFrame, TextFrame

SAFE = 5.0
"""White (mm) that text keeps from the trim (common practice: 3 to 5 mm)."""


def shown_box(frame: Frame) -> Rect:
    """Give the part of a frame's box that its page shows."""
    if isinstance(frame, PictureFrame) and frame.clip:
        return frame.box.overlap(frame.clip) or Rect(0.0, 0.0, 0.0, 0.0)
    return frame.box


def judge_pages(
    grid: Grid, pages: Sequence[PageLayout], memory: Memory | None = None
) -> tuple[Finding, ...]:
    """Give a finding for each text that runs off its page, and for frames upon each other."""
    memory = memory or Memory()
    judged = (memory.recall(_judge_page, grid, page, at=page.number) for page in pages)
    return tuple(finding for findings in judged for finding in findings)


def _judge_page(grid: Grid, page: PageLayout) -> tuple[Finding, ...]:
    return tuple(_list_faults(grid, page))


def _list_faults(grid: Grid, page: PageLayout) -> Iterator[Finding]:
    safe = grid.media.grown(-grid.bleed - SAFE)
    where = f"page {page.number}"
    for i, frame in enumerate(page.frames):
        if isinstance(frame, TextFrame) and not frame.by_hand and not safe.contains(frame.box):
            yield Finding(
                "layout.off-the-page",
                Severity.BLOCK,
                where,
                f"The text {frame.key!r} is too long: it runs off the page.",
                "Shorten it.",
                frame.key,
            )
        upon = [other for other in page.frames[i + 1 :] if _lies_on(page, frame, other)]
        yield from _tell_upon(where, frame, upon)


def _tell_upon(where: str, frame: Frame, upon: Sequence[Frame]) -> Iterator[Finding]:
    if any(not _is_placed(frame, other) for other in upon):
        yield Finding(
            "layout.overlap",
            Severity.BLOCK,
            where,
            "There is not room enough: something lies on something else.",
            "Shorten the texts of this page, or take a photograph from it.",
        )
    for other in upon:
        if _is_placed(frame, other):
            about = other if isinstance(other, TextFrame) and other.by_hand else frame
            yield Finding(
                "layout.text-on-text",
                Severity.WARN,
                where,
                "A text that was placed by hand lies on another.",
                "Move one of them, or let it find its own place again.",
                about.key if isinstance(about, TextFrame) else "",
            )


def _is_placed(*frames: Frame) -> bool:
    return any(isinstance(frame, TextFrame) and frame.by_hand for frame in frames)


def _lies_on(page: PageLayout, frame: Frame, other: Frame) -> bool:
    # What the person laid on a picture, or a picture on something, may be meant so: the checks
    # name it.
    with_picture = isinstance(frame, PictureFrame) or isinstance(other, PictureFrame)
    by_hand = page.family == BY_HAND or _is_placed(frame, other)
    if with_picture and by_hand:
        return False
    return shown_box(frame).overlap(shown_box(other)) is not None


def say_too_long(key: str, numbers: tuple[int, ...], over: Overset) -> Finding:
    """Give the finding for a text of which ``over`` finds no page."""
    pages = "page" if len(numbers) == 1 else f"{len(numbers)} pages"
    return Finding(
        "layout.overset",
        Severity.BLOCK,
        f"page {numbers[-1]}",
        f"{over.words} words of the text {key!r}, {over.lines} lines, find no room on its {pages}.",
        "Shorten the text, or plan the book anew so that the text gets another page.",
        key,
    )
