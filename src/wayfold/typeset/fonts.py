"""The book's fonts: where they are, what families they make, and which characters they have."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_bytes, hash_values

if TYPE_CHECKING:
    import typst

T = TypeVar("T")

PACKAGED = Path(__file__).parent / "fonts"
"""Where the build puts the fonts of the package, one folder a family."""

HOUSE = ("EB Garamond", "Source Sans 3")
"""Families that every library has: marks and worksheets are set in them, whatever the style."""

LAST_RESORT = "Libertinus Serif"
"""A family inside Typst itself; used, with a finding, where the book's own fonts lack a sign."""

ENDINGS = (".ttf", ".otf", ".ttc", ".otc")


@dataclass(frozen=True, slots=True)
class FontFace:
    """One font file: a family in one weight, upright or italic."""

    family: str
    italic: bool
    weight: int
    path: Path


class FontLibrary:
    """The fonts of one book: those of the package that it asks for, and all of the person's own.

    ``families`` are asked for besides those of the ``HOUSE``; the others of the package stay
    away, so that they cannot lend a sign unasked. Of a family that lies in the folder ``own``
    none of the package's files is taken. Raises UserError when the package has no fonts.
    """

    def __init__(
        self, families: Sequence[str] = (), own: Path | None = None, packaged: Path = PACKAGED
    ) -> None:
        has_own = own is not None and own.is_dir()
        self.own = _list_faces(own) if own is not None and has_own else ()
        kept = {face.family for face in self.own}
        shipped = _list_shipped(packaged) if packaged.is_dir() else ()
        if not shipped:
            raise UserError(
                "the book's fonts are missing",
                where=str(packaged),
                remedy="Install the package again: python -m pip install --force-reinstall wayfold",
            )
        self.known = tuple(sorted({face.family for face in shipped} | kept))
        """All families that could be asked for."""
        wanted = {*HOUSE, *families} - kept
        taken = [face for face in shipped if face.family in wanted]
        # Folders are read in no fixed order; the order of fallbacks must not hang on it.
        self.faces = tuple(sorted((*self.own, *taken), key=_rank))
        folders = sorted({face.path.parent for face in taken})
        self.typst_fonts: typst.Fonts = _load([*folders, own] if own and has_own else folders)

    @cached_property
    def key(self) -> str:
        """The identity of what can be set: the families at hand, and the own files' bytes.

        The package's own files are known by the package.
        """
        own = [hash_bytes(path.read_bytes()) for path in sorted({f.path for f in self.own})]
        return hash_values(self.families, own)

    @cached_property
    def families(self) -> tuple[str, ...]:
        """The families' names, those of the house first."""
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


def _load(folders: Sequence[Path]) -> typst.Fonts:
    import typst

    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=True, font_paths=list(folders)
    )


@cache
def _list_shipped(folder: Path) -> tuple[FontFace, ...]:
    # The package's own files stay as they are; to look into them takes longer than into a book's.
    return _list_faces(folder)


def _list_faces(folder: Path) -> tuple[FontFace, ...]:
    return tuple(
        FontFace(f.family, f.style != "normal", f.weight, Path(f.path))
        for f in _load([folder]).fonts()
        if f.path is not None
    )


def _rank(face: FontFace) -> tuple[int, str, bool, int, Path]:
    first = HOUSE.index(face.family) if face.family in HOUSE else len(HOUSE)
    return first, face.family, face.italic, face.weight, face.path


def ask_font(path: Path, read: Callable[[Any], T], otherwise: T) -> T:
    """Give what ``read`` gives of a font file; ``otherwise`` where its tables are damaged."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    try:
        with TTFont(path, lazy=True, fontNumber=0) as font:
            return read(font)
    except Exception:  # The library's errors over damaged tables are of many kinds.
        return otherwise


@cache
def read_coverage(path: Path) -> frozenset[int]:
    """Give the code points a font file has glyphs for (its Unicode cmap)."""

    def read(font: Any) -> frozenset[int]:
        # Which glyph it is does not matter, and reading their names takes most of the time.
        font.setGlyphOrder([str(number) for number in range(font["maxp"].numGlyphs)])
        return frozenset(font.getBestCmap() or {})

    return ask_font(path, read, frozenset())


@cache
def read_licence(path: Path) -> str:
    """Give the name of the licence a font file says it is under; "" where it says none known here.

    It stands in the table ``name`` (OpenType: name ID 13, License Description).
    """
    said = ask_font(path, lambda font: str(font["name"].getDebugName(13) or ""), "")
    found = re.search(r"(SIL Open Font|Apache) Licen[sc]e,? Version (\d[\d.]*\d)", said, re.I)
    return f"{found[1]} License {found[2]}" if found else ""


@cache
def read_features(path: Path) -> frozenset[str]:
    """Give the OpenType features a font file substitutes glyphs by (tags of its GSUB table)."""

    def read(font: Any) -> frozenset[str]:
        if "GSUB" not in font:
            return frozenset()
        records = font["GSUB"].table.FeatureList.FeatureRecord
        return frozenset(record.FeatureTag for record in records)

    return ask_font(path, read, frozenset())


@cache
def read_small_capitals(path: Path) -> frozenset[int]:
    """Give the code points whose glyphs a font file has small capitals for (its feature smcp)."""
    return ask_font(path, _list_small_capitals, frozenset())


def _list_small_capitals(font: Any) -> frozenset[int]:
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
    return frozenset(c for c, glyph in (font.getBestCmap() or {}).items() if glyph in drawn)


@cache
def is_variable(path: Path) -> bool:
    """Tell whether a font file holds a range of cuts (ISO/IEC 14496-22, table "fvar")."""
    return ask_font(path, lambda font: "fvar" in font, False)


@cache
def read_alphabet(path: Path) -> float:
    """Give the width of the letters a to z side by side, in the letter size (0 where none are)."""

    def read(font: Any) -> float:
        glyphs, widths = font.getBestCmap() or {}, font["hmtx"]
        found = [glyphs[code] for code in range(ord("a"), ord("z") + 1) if code in glyphs]
        return float(sum(widths[glyph][0] for glyph in found) / font["head"].unitsPerEm)

    return ask_font(path, read, 0.0)
