"""The book's fonts: where they are, what families they make, and which characters they have."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from wayfold.base.errors import UserError

if TYPE_CHECKING:
    import typst

PACKAGED = Path(__file__).parent / "fonts"
"""Where the build puts the fonts of the package."""

LAST_RESORT = "Libertinus Serif"
"""A family inside Typst itself; used, with a finding, where the book's own fonts lack a sign."""


@dataclass(frozen=True, slots=True)
class FontFace:
    """One font file: a family in one weight, upright or italic."""

    family: str
    italic: bool
    weight: int
    path: Path


class FontLibrary:
    """The fonts of one folder (files ending in .ttf or .otf, subfolders included).

    Raises UserError when the folder holds none.
    """

    def __init__(self, folder: Path | None = None) -> None:
        import typst

        self.folder = folder or PACKAGED
        self.typst_fonts: typst.Fonts = typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=True,
            font_paths=[self.folder] if self.folder.is_dir() else [],
        )
        faces = [
            FontFace(f.family, f.style != "normal", f.weight, Path(f.path))
            for f in self.typst_fonts.fonts()
            if f.path is not None
        ]
        # Folders are read in no fixed order; the order of fallbacks must not hang on it.
        self.faces = tuple(sorted(faces, key=lambda f: (f.family, f.italic, f.weight, f.path)))
        if not self.faces:
            raise UserError(
                "the book's fonts are missing",
                where=str(self.folder),
                remedy="Install the package again: python -m pip install --force-reinstall wayfold",
            )

    @cached_property
    def families(self) -> tuple[str, ...]:
        """The family names, in alphabetical order."""
        return tuple(dict.fromkeys(face.family for face in self.faces))

    def list_chain(self, family: str) -> tuple[str, ...]:
        """Give the families to look for a sign in: the one asked for first.

        Raises UserError for a family that is not among the book's fonts.
        """
        if family not in self.families:
            raise UserError(
                f"there is no font family “{family}”",
                where="style",
                remedy=f"Choose one of: {', '.join(self.families)}.",
            )
        return (family, *(f for f in self.families if f != family), LAST_RESORT)

    def find_face(self, family: str, italic: bool, weight: int) -> FontFace:
        """Give the face of a family nearest in slope first, then in weight."""
        faces = [face for face in self.faces if face.family == family]
        return min(faces, key=lambda f: (f.italic != italic, abs(f.weight - weight), f.weight))


@cache
def read_coverage(path: Path) -> frozenset[int]:
    """Give the code points a font file has glyphs for (its Unicode cmap)."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    with TTFont(path, lazy=True) as font:
        # Which glyph it is does not matter, and reading their names takes most of the time.
        font.setGlyphOrder([str(number) for number in range(font["maxp"].numGlyphs)])
        return frozenset(font.getBestCmap() or {})


@cache
def read_features(path: Path) -> frozenset[str]:
    """Give the OpenType features a font file substitutes glyphs by (tags of its GSUB table)."""
    from fontTools.ttLib import TTFont

    with TTFont(path, lazy=True) as font:
        if "GSUB" not in font:
            return frozenset()
        records = font["GSUB"].table.FeatureList.FeatureRecord
        return frozenset(record.FeatureTag for record in records)


@cache
def read_small_capitals(path: Path) -> frozenset[int]:
    """Give the code points whose glyphs a font file has small capitals for (its feature smcp)."""
    from fontTools.ttLib import TTFont

    with TTFont(path, lazy=True) as font:
        if "GSUB" not in font:
            return frozenset()
        table = font["GSUB"].table
        records = [r for r in table.FeatureList.FeatureRecord if r.FeatureTag == "smcp"]
        lookups = {index for record in records for index in record.Feature.LookupListIndex}
        drawn: set[str] = set()
        for index in lookups:
            for part in table.LookupList.Lookup[index].SubTable:
                # An extension holds the substitution itself (OpenType, GSUB lookup type 7).
                drawn.update(getattr(getattr(part, "ExtSubTable", part), "mapping", ()))
        return frozenset(c for c, glyph in font.getBestCmap().items() if glyph in drawn)
