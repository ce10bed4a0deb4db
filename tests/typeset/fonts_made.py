"""Small fonts made for the tests: every letter is a box."""

from __future__ import annotations

from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

SIGNS = "".join(map(chr, range(0x20, 0x7F))) + "–—…‘’“”‚„«»äöüßÄÖÜ"


def make_font(
    path: Path,
    family: str = "Field Notes",
    *,
    italic: bool = False,
    letters: str = SIGNS,
    width: int = 500,
    rights: int = 0,
    features: str = "",
    weights: tuple[int, int, int] | None = None,
) -> Path:
    """Write a TrueType font; ``rights`` is OS/2 fsType, ``features`` is in feature-file syntax.

    ``weights`` (lightest, usual, heaviest) makes it a variable font.
    """
    names = [".notdef", *(f"u{ord(sign):04X}" for sign in letters)]
    pen = TTGlyphPen(None)
    pen.moveTo((50, 0))
    for point in ((50, 450), (width - 50, 450), (width - 50, 0)):
        pen.lineTo(point)
    pen.closePath()
    box, style = pen.glyph(), "Italic" if italic else "Regular"
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(sign): f"u{ord(sign):04X}" for sign in letters})
    builder.setupGlyf(dict.fromkeys(names, box))
    builder.setupHorizontalMetrics(dict.fromkeys(names, (width, 50)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    # Typst passes over a font without a PostScript name.
    ps_name = f"{family.replace(' ', '')}-{style}"
    builder.setupNameTable({"familyName": family, "styleName": style, "psName": ps_name})
    builder.setupOS2(usWeightClass=400, fsType=rights, fsSelection=1 if italic else 0x40)
    builder.setupPost(italicAngle=-12.0 if italic else 0.0)
    builder.font["head"].macStyle = 2 if italic else 0
    if weights:
        builder.setupFvar([("wght", *weights, "Weight")], [])
    if features:
        builder.addOpenTypeFeatures(features)
    path.parent.mkdir(parents=True, exist_ok=True)
    builder.save(path)
    return path
