"""What the person wrote that stands in a frame: found by the key of the frame's text."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import PurePath

from wayfold.app.rooms.spread_views import FrameKind, OversetView, Side, TypeView, WordsView
from wayfold.app.stages import Results
from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align, Paragraph, TextStyle
from wayfold.layout.judge import SAFE
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.words.styles import style_caption, style_title
from wayfold.words.texts import COLOPHON, FOREWORD

CLOSING = "closing"
TITLES = frozenset({"title", "subtitle", "half-title"})
TEXTS = frozenset({FOREWORD, CLOSING, COLOPHON})
NEAR = 7
"""So many pages, those nearest, may hold the picture that a caption is for."""
ROUNDING = 0.01
SIDES: Mapping[Align, Side] = {
    Align.LEFT: "left",
    Align.JUSTIFY: "left",
    Align.CENTER: "center",
    Align.RIGHT: "right",
}
KINDS: Mapping[str, FrameKind] = {
    "caption": "caption",
    "captions": "caption",
    "opener": "title",
    "title": "title",
    "subtitle": "title",
    "half-title": "title",
    "author": "title",
    "day": "other",
    "day-opener": "other",
    "running": "other",
    "contents": "table",
    "itinerary": "table",
}


def tell_kind(key: str) -> FrameKind:
    """Give what the text of that key is to the reader."""
    return KINDS.get(_stem(key).partition(":")[0], "text")


def find_words(results: Results, page: int, frame: TextFrame) -> tuple[WordsView, ...]:
    """Give what the person wrote that stands in a frame of ``page``; or none."""
    words = _find(results, page, _stem(frame.key), frame.paragraphs)
    over = _count_over(results, frame)
    # Of several captions the last ones run over.
    return (*words[:-1], replace(words[-1], overset=over)) if words and over else words


def _count_over(results: Results, frame: TextFrame) -> OversetView | None:
    """Count what of a frame's text is too much: what finds no page, or runs off this one."""
    if frame.overset is not None:
        return OversetView(frame.overset.words, frame.overset.lines)
    trim, box = results.book.trim, frame.box
    safe = Rect(0.0, 0.0, trim.width, trim.height).grown(-SAFE)
    beyond = max(box.bottom - safe.bottom, safe.y - box.y)
    if beyond <= ROUNDING or not frame.paragraphs:
        return None
    words = sum(len(paragraph.plain.split()) for paragraph in frame.paragraphs)
    lines = math.ceil(beyond / mm_from_pt(frame.paragraphs[-1].style.leading_pt))
    return OversetView(math.ceil(words * min(1.0, beyond / box.height)), lines)


def _find(
    results: Results, page: int, key: str, shown: tuple[Paragraph, ...]
) -> tuple[WordsView, ...]:
    kind, _, rest = key.partition(":")
    look = _tell_type(shown[0].style if shown else style_caption(results.book))
    match kind:
        case "caption" | "captions":
            return tuple(_list_captions(results, page, shown))
        case "opener" | "running":
            return (show_title(results, int(rest)),)
        case "notes":
            return _find(results, page, rest, shown)
        case "text":
            text = results.story.block(rest).text
            return (_show_text(results, text, look),) if text else ()
    if kind in TITLES:
        book = results.book
        return (WordsView("title", "", book.title, look, book.subtitle),)
    return (_show_text(results, kind, look),) if kind in TEXTS else ()


def show_title(results: Results, index: int) -> WordsView:
    """Give the title of a chapter, by its index in the story."""
    chapter = results.story.chapters[index]
    said = any(c.place == chapter.place and c.title for c in results.book.chapters)
    look = _tell_type(style_title(results.book))
    return WordsView("title", chapter.place, chapter.title, look, chapter.subtitle, own=said)


def show_caption(results: Results, photo: str) -> WordsView:
    """Give a photograph's caption as the person wrote it, or as its file has it."""
    written, known = results.book.choice(photo).caption, results.photos[photo]
    text = written if written is not None else known.caption or ""
    look = _tell_type(style_caption(results.book))
    name = PurePath(known.path).name
    return WordsView("caption", photo, text, look, name=name, own=written is not None)


def _show_text(results: Results, key: str, look: TypeView) -> WordsView:
    texts = results.book.texts
    return WordsView("text", key, texts.get(key, ""), look, own=key in texts)


def _list_captions(
    results: Results, page: int, shown: tuple[Paragraph, ...]
) -> Iterator[WordsView]:
    """Give the captions of a frame line by line: the nearest picture's that ends the line so.

    A caption may stand on a page near its picture's, behind words that say where that is.
    """
    near = sorted(results.layout.pages, key=lambda p: abs(p.number - page))[:NEAR]
    photos = [f.photo for p in near for f in p.frames if isinstance(f, PictureFrame)]
    left = list(dict.fromkeys(photos))
    for line in shown:
        for photo in left:
            said = results.words.get(f"caption:{photo}")
            if said and line.plain.endswith(said[0].plain):
                left.remove(photo)
                yield show_caption(results, photo)
                break


def _tell_type(style: TextStyle) -> TypeView:
    return TypeView(style.size_pt, style.leading_pt, SIDES[style.align], style.italic)


def _stem(key: str) -> str:
    """Give a key without the number of its part: "foreword#2" is a part of "foreword"."""
    return key.partition("#")[0]
