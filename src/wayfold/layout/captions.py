"""Captions: under the pictures, on their left edge, naming positions where there are several."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.matter import Matter
from wayfold.layout.model import TextFrame
from wayfold.words.terms import Term, say, say_ordinal

CAPTION_GAP = 2.6
"""White (mm) between a picture and its caption."""
NARROWEST = 38.0
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
    """Give each picture's place in words ("Above left"), or its number in order if words fail."""
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
    return run_in(matter, named)


def run_in(matter: Matter, named: Sequence[tuple[str, Paragraph]]) -> tuple[Paragraph, ...]:
    """Give named captions as one paragraph, run in one after the other."""
    runs: list[Run] = []
    for i, (name, caption) in enumerate(named):
        if i:
            runs.append(Run("\N{EM SPACE}"))
        runs.append(Run(f"{name}: ", colour=matter.book.style.quiet_ink))
        runs.extend(caption.runs)
    return (replace(named[0][1], runs=tuple(runs)),)


def caption_width(matter: Matter, picture_width: float) -> float:
    """The measure (mm) of a caption: the style's, narrower under a narrow picture."""
    return min(matter.grid.caption_measure, max(picture_width, NARROWEST))


def caption_height(matter: Matter, photos: Sequence[str], width: float) -> float:
    """The room (mm) that the captions of ``photos`` will need below them, the gap included."""
    # Positions are not known before the pictures lie, so the longest name stands for all.
    guess = [(photo, Rect(float(i), 0.0, 1.0, 1.0)) for i, photo in enumerate(photos)]
    paragraphs = join_captions(matter, guess)
    height = matter.height(paragraphs, width)
    return height + CAPTION_GAP if paragraphs else 0.0


def place_caption(
    matter: Matter, placed: Sequence[tuple[str, Rect]], bounds: Rect
) -> tuple[TextFrame, ...]:
    """Give the frame of the captions below ``bounds``, on its left edge; none without captions."""
    paragraphs = join_captions(matter, placed)
    if not paragraphs:
        return ()
    width = caption_width(matter, bounds.width)
    key = f"caption:{placed[0][0]}" if len(placed) == 1 else f"captions:{matter.block.id}"
    return (matter.set_text(key, paragraphs, bounds.x, bounds.bottom + CAPTION_GAP, width),)
