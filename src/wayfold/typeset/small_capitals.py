"""Small capitals that a font does not draw: their line is set in capitals a little smaller."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from wayfold.drawing.text import Run, TextStyle
from wayfold.typeset.fonts import FontLibrary, read_coverage, read_small_capitals

SIZE = 0.78
"""Size of the capitals that stand in for small ones: between the heights of both (in EB Garamond
0.453 em and 0.653 em), for among tall capitals small ones look smaller than they are."""


def wants_capitals(runs: Iterable[Run], style: TextStyle, fonts: FontLibrary) -> bool:
    """Whether small capitals are asked for of a letter that the style's font has none of.

    It would stand among the small capitals as an ordinary small letter.
    """
    return any(
        _lacks(run.text, style, style.italic if run.italic is None else run.italic, fonts)
        for run in runs
        if (style.small_caps if run.small_caps is None else run.small_caps)
    )


def _lacks(letters: str, style: TextStyle, italic: bool, fonts: FontLibrary) -> bool:
    path = fonts.find_face(style.family, italic, style.weight).path
    drawn, covered = read_small_capitals(path), read_coverage(path)
    small = {c for c in unicodedata.normalize("NFC", letters) if c.upper() != c}
    return any(ord(c) not in drawn for c in small if ord(c) in covered)
