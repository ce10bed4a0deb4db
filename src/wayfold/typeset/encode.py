"""Texts and drawings as the plain values the Typst template draws from."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from wayfold.base.geometry import Affine, Rect
from wayfold.base.units import pt_from_mm
from wayfold.drawing.items import Drawing, Emblem, Item, Picture, Placed, Shape, Text
from wayfold.drawing.pictures import picture_key
from wayfold.drawing.text import Figures, Paragraph, Run, TextBlock, TextStyle
from wayfold.typeset.fonts import FontLibrary
from wayfold.typeset.letters import (
    clean_text,
    find_direction,
    raise_capitals,
    split_lines,
    tie_dashes,
)
from wayfold.typeset.shapes import encode_colour, encode_shape
from wayfold.typeset.small_capitals import SIZE, wants_capitals
from wayfold.typeset.standin import make_standin

Job = dict[str, Any]
Reader = Callable[[Picture], bytes]
"""Gives the JPEG of the whole raster that a picture shows a part of."""
_EMPTY_LINE = "\u200b"
_MEASURABLE = 1.5
"""A word of n letters is never wider than n times this times its size (in Latin, by far)."""


class Encoder:
    """Gathers one job: its page, its styles, and what is to be drawn or measured.

    With ``read`` the pictures themselves are drawn, else stand-ins for them.
    """

    def __init__(self, fonts: FontLibrary, read: Reader | None = None) -> None:
        self._fonts = fonts
        self._read = read
        self._styles: dict[TextStyle, int] = {}
        self.texts: list[Text] = []
        self.job: Job = {
            "page": {"w": 10.0, "h": 10.0, "bleed": 0.0},
            "styles": [],
            "items": [],
            "blocks": [],
            "lines": [],
            "cuts": [],
        }

    def add_drawing(self, drawing: Drawing, *, trimmed: bool = False) -> None:
        """Have a drawing drawn on a page of its size, with its bleed unless it is ``trimmed``."""
        size = drawing.size
        bleed = 0.0 if trimmed else drawing.bleed
        self.job["page"] = {"w": size.width, "h": size.height, "bleed": bleed}
        self.job["items"] = list(self._encode_items(drawing.items))

    def add_block(self, block: TextBlock) -> None:
        """Have a block's height measured."""
        paragraphs = self._encode_paragraphs(block.paragraphs)
        self.job["blocks"].append({"paragraphs": paragraphs, "width": block.width})

    def add_line(self, line: Paragraph) -> None:
        """Have the width of a paragraph measured as it stands on one line."""
        self.job["lines"].extend(self._encode_paragraphs((line,)))

    def add_cut(
        self,
        pieces: Sequence[Sequence[Run]],
        guess: int,
        style: TextStyle,
        width: float,
        most_pt: float,
    ) -> None:
        """Have it found how many pieces of a paragraph, near ``guess``, fill ``most_pt``."""
        cut = {
            "pieces": [list(self._encode_runs(piece, style)) for piece in pieces],
            "guess": guess,
            "style": self._index(style),
            "width": width,
            "mostpt": most_pt,
        }
        self.job["cuts"].append(cut)

    def _encode_items(self, items: Iterable[Item]) -> Iterator[Job]:
        for item in items:
            match item:
                case Text():
                    yield self._encode_text(item)
                case Shape():
                    yield from encode_shape(item)
                case Picture():
                    yield from self._encode_picture(item)
                case Emblem():
                    yield _encode_emblem(item)
                case Placed():
                    yield from self._encode_placed(item)

    def _encode_picture(self, picture: Picture) -> Iterator[Job]:
        box, clip = picture.box, picture.clip
        if box.area <= 0 or (clip is not None and box.overlap(clip) is None):
            return
        if clip is not None and clip.contains(box, 0.0):
            clip = None
        jpeg = make_standin(picture_key(picture))
        if self._read is not None:
            jpeg, whole = self._read(picture), _spread_whole(picture)
            if whole != box:
                clip, box = _cut(box, clip), whole
        yield {
            "kind": "picture",
            "box": _corners(box),
            "clip": None if clip is None else _corners(clip),
            "jpeg": list(jpeg),
        }

    def _encode_text(self, text: Text) -> Job:
        self.texts.append(text)
        box = text.box
        return {
            "kind": "text",
            "id": len(self.texts) - 1,
            "x": box.x,
            "y": box.y,
            "w": box.width,
            "h": box.height,
            "vertical": text.vertical.value,
            "turn": text.turn_deg,
            "paragraphs": self._encode_paragraphs(text.paragraphs),
            "longwords": list(self._list_long_words(text)),
        }

    def _encode_placed(self, placed: Placed) -> Iterator[Job]:
        parts = split_affine(placed.transform)
        if parts is None:  # Flattened to a line: nothing of it can be seen.
            return
        items = list(self._encode_items(placed.drawing.items))
        clip = None if placed.clip is None else _corners(placed.clip)
        if placed.clip is None or placed.clip.area > 0:
            yield {"kind": "placed", "map": parts, "items": items, "clip": clip}

    def _encode_paragraphs(self, paragraphs: Iterable[Paragraph]) -> list[Job]:
        return [
            {
                "style": self._index(p.style),
                "runs": list(self._encode_runs(p.runs, p.style)) or [{"text": _EMPTY_LINE}],
                "continues": p.continues,
                "dir": find_direction(p.plain),
            }
            for p in paragraphs
        ]

    def _encode_runs(self, runs: Iterable[Run], style: TextStyle) -> Iterator[Job]:
        runs = tuple(runs)
        capitals = style.small_caps or any(run.small_caps for run in runs)
        capitals = capitals and wants_capitals(runs, style, self._fonts)
        for run in runs:
            if run.leader:
                yield {"leader": True}
            for i, line in enumerate(split_lines(run.text)):
                if i:
                    yield {"break": True}
                letters = tie_dashes(clean_text(line))
                if letters:
                    yield _encode_run(letters, run, style, capitals=capitals)
            if run.line_break:
                yield {"break": True}

    def _list_long_words(self, text: Text) -> Iterator[Job]:
        measure_pt = pt_from_mm(text.box.width)
        for paragraph in text.paragraphs:
            style = paragraph.style
            letter_pt = style.size_pt * (_MEASURABLE + abs(style.tracking) / 1000)
            for run in paragraph.runs:
                for word in clean_text(run.text).split():
                    if len(word) * letter_pt > measure_pt:
                        yield {**_encode_run(word, run, style), "style": self._index(style)}

    def _index(self, style: TextStyle) -> int:
        if style not in self._styles:
            self._styles[style] = len(self._styles)
            self.job["styles"].append(self._encode_style(style))
        return self._styles[style]

    def _encode_style(self, style: TextStyle) -> Job:
        language, region = split_language(style.language)
        return {
            "fonts": self._fonts.list_chain(style.family),
            "sizept": style.size_pt,
            "leadingpt": style.leading_pt,
            "firstpt": style.first_baseline_pt,
            "colour": encode_colour(style.colour),
            "align": style.align.value,
            "italic": style.italic,
            "weight": min(max(style.weight, 100), 900),
            "tracking": style.tracking,
            "features": _list_features(style.small_caps, style.capitals),
            "figures": "lining" if style.figures in _LINING else "old-style",
            "figurewidth": "tabular" if style.figures in _TABULAR else "proportional",
            "hyphenate": style.hyphenate,
            "lang": language,
            "region": region,
            "indentpt": style.first_indent_pt,
            "hangingpt": style.hanging_pt,
            "beforept": style.space_before_pt,
        }


_LINING = {Figures.LINING, Figures.TABULAR_LINING}
_TABULAR = {Figures.TABULAR_OLD_STYLE, Figures.TABULAR_LINING}


def split_language(code: str) -> tuple[str, str | None]:
    """Give language and region of a BCP 47 code; English for what is no such code."""
    parts = code.replace("_", "-").split("-")
    language = parts[0].lower()
    if not (2 <= len(language) <= 3 and language.isascii() and language.isalpha()):
        return "en", None
    regions = [p.upper() for p in parts[1:] if len(p) == 2 and p.isascii() and p.isalpha()]
    return language, regions[0] if regions else None


def split_affine(map_: Affine) -> Job | None:
    """Take an affine map apart: turn (deg) after shear (deg) after scale, then the shift (mm).

    Gives None for a map that flattens the plane.
    """
    scale_x = math.hypot(map_.a, map_.b)
    if scale_x == 0:
        return None
    cos, sin = map_.a / scale_x, map_.b / scale_x
    scale_y = map_.d * cos - map_.c * sin
    if abs(scale_y) < 1e-12 or scale_x < 1e-12:
        return None
    shear = math.degrees(math.atan((map_.c * cos + map_.d * sin) / scale_y))
    turn = math.degrees(math.atan2(sin, cos))
    return {
        "dx": map_.e,
        "dy": map_.f,
        "turn": turn,
        "shear": shear,
        "scalex": scale_x,
        "scaley": scale_y,
    }


def _encode_run(letters: str, run: Run, style: TextStyle, *, capitals: bool = False) -> Job:
    small_caps = style.small_caps if run.small_caps is None else run.small_caps
    stands_in = small_caps and capitals
    raised = style.capitals or stands_in
    job: Job = {"text": raise_capitals(letters, style.language) if raised else letters}
    if run.italic is not None and run.italic != style.italic:
        job["italic"] = run.italic
    if stands_in:
        job |= {"features": _list_features(False, True), "sizept": style.size_pt * SIZE}
        job["figures"] = "lining"
    elif small_caps != style.small_caps:
        job["features"] = _list_features(small_caps, style.capitals)
    if run.width_pt:
        job["widthpt"] = run.width_pt
    if run.superior:
        job["superior"] = True
    if run.colour is not None and run.colour != style.colour:
        job["colour"] = encode_colour(run.colour)
    return job


def _list_features(small_caps: bool, capitals: bool) -> list[str]:
    # "case" lifts dashes and brackets to the height of capitals.
    return (["smcp"] if small_caps else []) + (["case"] if capitals else [])


def _spread_whole(picture: Picture) -> Rect:
    """Where the whole raster would lie, of which a picture shows its crop in its box."""
    box, crop = picture.box, picture.crop
    width, height = box.width / crop.width, box.height / crop.height
    return Rect(box.x - crop.x * width, box.y - crop.y * height, width, height)


def _cut(box: Rect, clip: Rect | None) -> Rect:
    return box if clip is None else clip.overlap(box) or box


def _encode_emblem(emblem: Emblem) -> Job:
    box = emblem.box
    place = {"x": box.x, "y": box.y, "w": box.width, "h": box.height}
    return {"kind": "svg", **place, "svg": emblem.svg}


def _corners(rect: Rect) -> list[float]:
    return [rect.x, rect.y, rect.width, rect.height]
