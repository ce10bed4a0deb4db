"""Small texts that look for white on pages already laid out: far captions and day lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from wayfold.base.days import say_day
from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.book.families import Arrange
from wayfold.drawing.text import Align, Paragraph, VerticalAlign
from wayfold.layout.captions import caption_width, name_captions
from wayfold.layout.judge import shown_box
from wayfold.layout.matter import Matter, on_recto, with_frames
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.words.terms import Term, say

CLEAR = 3.0
"""White (mm) a small text keeps from everything else."""
DAY_LINE_RISE = 9.0
"""How far (mm, on A4) the day line stands above the head line."""
NO_HOSTS = frozenset({"half-title", "title"})


def house_captions(
    matters: Sequence[Matter],
    pages: Mapping[int, PageLayout],
    homeless: Sequence[tuple[int, str]],
) -> tuple[dict[int, PageLayout], tuple[Finding, ...]]:
    """Set captions of pictures that fill their page on a page nearby, saying where the picture is.

    Facing pages come first, then the other sides of the leaf. A caption that finds no white is a
    finding.
    """
    housed = dict(pages)
    findings = []
    by_page = {n: m for m in matters for n in m.numbers}
    for number, photo in homeless:
        matter = by_page[number]
        for host, term in _neighbours(matter, number, _lies_over_fold(pages, number, photo)):
            if host not in housed or housed[host].family in NO_HOSTS:
                continue
            if housed[host].arranged is Arrange.BLED:
                continue
            caption = matter.words.get(f"caption:{photo}")
            paragraphs = name_captions(matter, [(say(term, matter.book.language), caption[0])])
            page = _join_caption(matter, housed[host], paragraphs)
            if page is None:
                frame = _find_foot(matter, housed[host], f"caption:{photo}", paragraphs)
                page = with_frames(housed[host], frame) if frame else None
            if page:
                housed[host] = replace(page, folio=True)
                break
        else:
            findings.append(_no_white(number))
    return housed, tuple(findings)


def _lies_over_fold(pages: Mapping[int, PageLayout], number: int, photo: str) -> bool:
    """Whether the facing page shows the picture's other half."""
    facing = pages.get(number - 1 if on_recto(number) else number + 1)
    frames = facing.frames if facing else ()
    return any(isinstance(f, PictureFrame) and f.photo == photo for f in frames)


def _neighbours(matter: Matter, number: int, across: bool) -> Iterator[tuple[int, Term]]:
    """Pages to try, and how each calls the place of the picture."""
    if across:
        yield matter.numbers[1] + 1, Term.PRECEDING
        yield matter.numbers[0] - 1, Term.OVERLEAF
        return
    recto = on_recto(number)
    opposite = (number - 1 if recto else number + 1), Term.OPPOSITE
    overleaf = (number + 1 if recto else number - 1), Term.OVERLEAF
    # What faces a chapter's first page belongs to the chapter before it.
    yield from (overleaf, opposite) if number in matter.veiled else (opposite, overleaf)


def _join_caption(
    matter: Matter, page: PageLayout, paragraphs: tuple[Paragraph, ...]
) -> PageLayout | None:
    """Give the page with a caption more in the block it has already, or None."""
    for frame in page.frames:
        if not isinstance(frame, TextFrame) or not frame.key.startswith("caption"):
            continue
        if frame.vertical is VerticalAlign.BOTTOM:  # at the foot, for a picture of another page
            continue
        both, x, y = (*frame.paragraphs, *paragraphs), frame.box.x, frame.box.y
        pictures = (shown_box(f).right - x for f in page.frames if isinstance(f, PictureFrame))
        widest = max(pictures, default=frame.box.width)
        joined = matter.set_text(frame.key, both, x, y, caption_width(matter, widest, both))
        rest = replace(page, frames=tuple(f for f in page.frames if f is not frame))
        area = matter.grid.picture_area(on_recto(page.number))
        if joined.box.bottom <= area.bottom and is_clear(rest, joined.box, 0.0):
            return with_frames(rest, joined)
    return None


def _find_foot(
    matter: Matter, page: PageLayout, key: str, paragraphs: tuple[Paragraph, ...]
) -> TextFrame | None:
    """Give a place for a caption on the foot line of a page, or None."""
    grid, recto = matter.grid, on_recto(page.number)
    area = grid.picture_area(recto)
    width = caption_width(matter, area.width, paragraphs)
    texts = [f.box.x for f in page.frames if isinstance(f, TextFrame)]
    pictures = [shown_box(f).x for f in page.frames if isinstance(f, PictureFrame)]
    # In line with what the page has already; else from a margin.
    first = min(pictures or texts, default=grid.text_area(recto).x)
    places = (max(first, area.x), area.x, area.right - width, grid.column(3, 3, recto).x)
    for x in places:
        frame = matter.set_text(key, paragraphs, x, area.bottom, width, stands=True)
        if is_clear(page, frame.box):
            return frame
    return None


def set_day_lines(
    matters: Sequence[Matter], pages: Mapping[int, PageLayout]
) -> tuple[dict[int, PageLayout], tuple[Finding, ...]]:
    """Set each day's line at the head of its first page that has white there.

    A day whose text bears its date already needs none. One whose pages are all bled off goes
    without, which is a finding.
    """
    lined = dict(pages)
    findings = []
    ordered = sorted(matters, key=lambda m: m.numbers[0])
    for i, matter in enumerate(ordered):
        day = matter.block.day
        paragraphs = matter.words.get(f"day:{day.isoformat()}") if day else ()
        if not day or not paragraphs or _is_told(matter, lined, f"day:{day.isoformat()}"):
            continue
        numbers = [n for m in _swapped_before(ordered, i) for n in m.numbers]
        numbers += matter.numbers
        for later in ordered[i + 1 :]:
            if later.block.day or later.block.chapter != matter.block.chapter:
                break
            numbers += later.numbers
        for number in numbers:
            frame = _fit_day_line(matter, number, f"day:{day.isoformat()}", paragraphs)
            if lined[number].frames and is_clear(lined[number], frame.box):
                lined[number] = with_frames(lined[number], frame)
                break
        else:
            findings.append(_no_head(matter.numbers[0], say_day(day)))
    return lined, tuple(findings)


def _is_told(matter: Matter, pages: Mapping[int, PageLayout], key: str) -> bool:
    frames = (frame for number in matter.numbers for frame in pages[number].frames)
    return any(isinstance(frame, TextFrame) and frame.key == key for frame in frames)


def _swapped_before(ordered: Sequence[Matter], index: int) -> list[Matter]:
    """Give the blocks of the same day that changed places with the one that carries its date."""
    block = ordered[index].block
    before: list[Matter] = []
    for earlier in reversed(ordered[:index]):
        if not block.swap or earlier.block.swap != block.swap or earlier.block.day:
            break
        before.insert(0, earlier)
    return before


def _fit_day_line(
    matter: Matter, number: int, key: str, paragraphs: tuple[Paragraph, ...]
) -> TextFrame:
    grid, recto = matter.grid, on_recto(number)
    area = grid.picture_area(recto)
    align = Align.RIGHT if recto else Align.LEFT
    turned = tuple(replace(p, style=replace(p.style, align=align)) for p in paragraphs)
    width = area.width / 2
    x = area.right - width if recto else area.x
    rise = DAY_LINE_RISE * grid.picture_margins.head / 22.0
    return matter.set_text(key, turned, x, area.y - rise, width, stands=True)


def is_clear(page: PageLayout, box: Rect, apart: float = CLEAR) -> bool:
    """Whether nothing of a page lies in ``box`` or nearer to it than ``apart`` mm."""
    return all(shown_box(f).overlap(box.grown(apart)) is None for f in page.frames)


def _no_head(number: int, day: str) -> Finding:
    return Finding(
        "layout.day-line-left-out",
        Severity.NOTE,
        f"page {number}",
        f"No page of this day has white at its head for its date ({day}).",
    )


def _no_white(number: int) -> Finding:
    return Finding(
        "layout.caption-left-out",
        Severity.WARN,
        f"page {number}",
        "The picture fills its page, and no page near it has white for its caption.",
        "Do without the caption, or let the picture stand with a border.",
    )
