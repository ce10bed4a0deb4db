"""Captions: under the pictures, on their left edge, naming positions where there are several."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.grid import COLUMN_GAP
from wayfold.layout.matter import Matter
from wayfold.layout.model import TextFrame
from wayfold.words.terms import Term, say, say_ordinal

CAPTION_GAP = 2.6
"""White (mm) between a picture and its caption."""
NARROWEST = 38.0
ONE_COLUMN = 4
"""More captions than these take two columns."""
NARROWEST_COLUMN = 48.0
WIDER = 70.0 / 62.0
"""How much wider than usual a caption may be set."""
ROUNDING = 0.01
_NAMES = {
    (-1, -1): Term.ABOVE_LEFT,
    (0, -1): Term.ABOVE,
    (1, -1): Term.ABOVE_RIGHT,
    (-1, 0): Term.LEFT,
    (0, 0): Term.CENTRE,
    (1, 0): Term.RIGHT,
    (-1, 1): Term.BELOW_LEFT,
    (0, 1): Term.BELOW,
    (1, 1): Term.BELOW_RIGHT,
}


def name_positions(rects: Sequence[Rect], language: str) -> tuple[str, ...]:
    """Give each picture's place in words ("Top left"), or its number in order if words fail."""
    left, top = min(r.x for r in rects), min(r.y for r in rects)
    width = max(r.right for r in rects) - left
    height = max(r.bottom for r in rects) - top
    zones = [
        (
            _zone(r.x - left, r.width, width),
            _zone(r.y - top, r.height, height),
        )
        for r in rects
    ]
    if len(set(zones)) < len(zones):
        return tuple(say_ordinal(i, language) for i in range(len(rects)))
    return tuple(say(_NAMES[zone], language) for zone in zones)


def _zone(start: float, length: float, whole: float) -> int:
    """-1, 0 or 1: whether the middle of a stretch lies before, about or after that of the whole."""
    off = (start + length / 2) / whole - 0.5
    return 0 if abs(off) < 1 / 9 else (-1 if off < 0 else 1)


def join_captions(matter: Matter, placed: Sequence[tuple[str, Rect]]) -> tuple[Paragraph, ...]:
    """Give one block of captions for the pictures of a page; none if none has a caption."""
    captions = [matter.words.get(f"caption:{photo}") for photo, _ in placed]
    if len(placed) == 1:
        return captions[0]
    names = name_positions([rect for _, rect in placed], matter.book.language)
    named = [(name, c[0]) for name, c in zip(names, captions, strict=True) if c]
    if not named:
        return ()
    return name_captions(matter, named)


def name_captions(matter: Matter, named: Sequence[tuple[str, Paragraph]]) -> tuple[Paragraph, ...]:
    """Give captions one under the other, each behind its picture's place in a quieter ink."""
    quiet = matter.book.style.quiet_ink
    return tuple(
        replace(caption, runs=(Run(f"{name}:\N{NO-BREAK SPACE}", colour=quiet), *caption.runs))
        for name, caption in named
    )


def caption_width(
    matter: Matter, picture_width: float, paragraphs: tuple[Paragraph, ...] = ()
) -> float:
    """The measure (mm) of a caption: the style's, narrower under a narrow picture.

    Where a little more width saves ``paragraphs`` a line, it is given; a caption that stands
    alone gets lines of even length.
    """
    usual = min(matter.grid.caption_measure, max(picture_width, NARROWEST))
    wide = min(usual * WIDER, max(picture_width, NARROWEST))
    if not paragraphs or wide <= usual:
        return usual
    high, low = matter.heights(paragraphs, (usual, wide))
    saves = low < high - ROUNDING
    width = wide if saves else usual
    return matter.balance(paragraphs, width) if len(paragraphs) == 1 else width


def caption_height(matter: Matter, photos: Sequence[str], width: float) -> float:
    """The room (mm) that the captions of ``photos`` will need below them, the gap included."""
    paragraphs = guess_captions(matter, photos)
    if not paragraphs:
        return 0.0
    if len(paragraphs) > ONE_COLUMN:
        columns = _cut_columns(matter, paragraphs, NARROWEST_COLUMN)
        return max(matter.height(c, NARROWEST_COLUMN) for c in columns) + CAPTION_GAP
    return matter.height(paragraphs, width) + CAPTION_GAP


def guess_captions(matter: Matter, photos: Sequence[str]) -> tuple[Paragraph, ...]:
    """Give the captions of a page whose pictures do not lie yet, with the longest names."""
    guess = [(photo, Rect(float(i), float(i), 1.0, 1.0)) for i, photo in enumerate(photos)]
    return join_captions(matter, guess)


def place_caption(
    matter: Matter, placed: Sequence[tuple[str, Rect]], bounds: Rect
) -> tuple[TextFrame, ...]:
    """Give the frames of the captions below ``bounds``, from its left edge; none without captions.

    More than ``ONE_COLUMN`` captions stand in two columns, where the pictures are wide enough.
    """
    paragraphs = join_captions(matter, placed)
    if not paragraphs:
        return ()
    key = f"caption:{placed[0][0]}" if len(placed) == 1 else f"captions:{matter.block.id}"
    y = bounds.bottom + CAPTION_GAP
    column = min(matter.grid.caption_measure, (bounds.width - COLUMN_GAP) / 2)
    if len(paragraphs) <= ONE_COLUMN or column < NARROWEST_COLUMN:
        width = caption_width(matter, bounds.width, paragraphs)
        return (matter.set_text(key, paragraphs, bounds.x, y, width),)
    left, right = _cut_columns(matter, paragraphs, column)
    return (
        matter.set_text(key, left, bounds.x, y, column),
        matter.set_text(f"{key}#2", right, bounds.x + column + COLUMN_GAP, y, column),
    )


def _cut_columns(
    matter: Matter, paragraphs: tuple[Paragraph, ...], width: float
) -> tuple[tuple[Paragraph, ...], tuple[Paragraph, ...]]:
    """Cut captions into two columns of about one height, the first never the shorter."""
    heights = [matter.height((p,), width) for p in paragraphs]
    half = sum(heights) / 2
    cut = next(
        i
        for i in range(1, len(heights))
        if i + 1 == len(heights) or sum(heights[:i]) >= half - ROUNDING
    )
    return paragraphs[:cut], paragraphs[cut:]
