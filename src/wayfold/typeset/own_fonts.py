"""The person's own font files: whether they can be read and embedded, and what they lack."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.base.findings import Finding, Severity
from wayfold.typeset.font_claims import claims_too_much
from wayfold.typeset.fonts import (
    ENDINGS,
    FontLibrary,
    ask_font,
    is_variable,
    read_coverage,
    read_features,
)

WEB_ENDINGS = (".woff", ".woff2")
RESTRICTED, NO_SUBSETTING, BITMAP_ONLY = 0x0002, 0x0100, 0x0200
USAGE = 0x000F
"""Bits of OS/2 fsType (ISO/IEC 14496-22, table "OS/2"). Of several bits of usage, as old fonts may
have them, the least restrictive counts; only where bit 1 stands alone is embedding forbidden."""

_BASIC = "".join(map(chr, (*range(0x41, 0x5B), *range(0x61, 0x7B))))
_FIGURES = "0123456789"
_SIGNS = ".,;:!?()&-–—…‘’“”"
LETTERS = {
    "cs": "áčďéěíňóřšťúůýž„‚",
    "da": "æøå»«",
    "de": "äöüß„‚",
    "es": "áéíóúüñ¿¡«»",
    "fi": "äåö",
    "fr": "àâæçéèêëîïôœùûüÿ«»",
    "hu": "áéíóöőúüű„»«",
    "it": "àèéìíîòóùú«»",
    "nb": "åæøéòô«»",
    "nl": "áäéëíïóöúü",
    "pl": "ąćęłńóśźż„»«",
    "pt": "áàâãçéêíóôõú«»",
    "sv": "åäöé",
    "tr": "çğıİöşüâîû",
}
"""Letters, in small ones, and quotation marks beyond the basic ones (the main exemplar characters
of Unicode CLDR, from memory). In other languages each text is looked at as it is set."""


def list_font_files(folder: Path) -> tuple[Path, ...]:
    """Give the font files in a folder and those below it, web fonts too."""
    known = ENDINGS + WEB_ENDINGS
    return tuple(sorted(p for p in folder.rglob("*") if p.suffix.lower() in known and p.is_file()))


def list_needed(language: str) -> tuple[str, ...]:
    """Give the letters, figures and signs that a book in a language (BCP 47) needs."""
    own = LETTERS.get(language.split("-")[0].lower(), "")
    capitals = (letter.upper() for letter in own)
    every = [*_BASIC, *_FIGURES, *_SIGNS, *own, *(c for c in capitals if len(c) == 1)]
    return tuple(dict.fromkeys(every))


def refuse_unfit(folder: Path, name_of: Callable[[Path], str]) -> None:
    """Raise UserError for a font file that must not be set, or that nothing must read.

    Its maker may forbid that it is embedded in a PDF; or it is damaged so that reading it would
    fill the memory.
    """
    for path in list_font_files(folder):
        if claims_too_much(_read_font(path)):
            raise UserError(
                "This font file is damaged: it claims to have more letters and signs than there "
                "are.",
                where=name_of(path),
                remedy="Take it out of fonts/, and fetch it anew from its maker.",
            )
        rights = _read_rights(path)
        if rights is not None and rights & USAGE == RESTRICTED:
            raise UserError(
                "The maker of this font does not allow it to be put into a PDF "
                "(its embedding is “restricted licence”).",
                where=name_of(path),
                remedy="Take it out of fonts/ and choose another, or ask its maker for a licence "
                "and the file that goes with it.",
            )


def judge_own_fonts(
    folder: Path, library: FontLibrary, serif: str, sans: str, language: str,
    name_of: Callable[[Path], str],
) -> Iterator[Finding]:  # fmt: skip
    """Say what of the book's own fonts cannot be used, and what those of its style lack."""
    readable = {face.path.resolve() for face in library.own}
    for path in list_font_files(folder):
        yield from _judge_file(path, name_of(path), readable=path.resolve() in readable)
    own = {face.family for face in library.own}
    for family in dict.fromkeys((serif, sans)):
        if family in own:
            yield from _judge_family(family, library, language, bears_text=family == serif)


def _judge_file(path: Path, name: str, *, readable: bool) -> Iterator[Finding]:
    rights = _read_rights(path)
    if path.suffix.lower() in WEB_ENDINGS:
        yield _warn(name, "This is a font for web pages; it is passed over.",
                    "Put the family’s TTF or OTF files there.")  # fmt: skip
    elif rights is None or not readable:
        yield _warn(name, "This font file cannot be read; it is passed over.",
                    "Fetch it anew from its maker, or take it away.")  # fmt: skip
    elif rights & BITMAP_ONLY:
        yield _warn(name, "Its maker allows only its bitmaps in a PDF, and Wayfold sets outlines.",
                    "Ask its maker before you give the PDF away, or choose another.")  # fmt: skip
    elif rights & NO_SUBSETTING:
        yield _warn(name, "Its maker allows it in a PDF only whole, and Wayfold puts in just the "
                    "letters that are used.",
                    "Ask its maker before you give the PDF away, or choose another.")  # fmt: skip


def _judge_family(
    family: str, library: FontLibrary, language: str, *, bears_text: bool
) -> Iterator[Finding]:
    upright = library.find_face(family, italic=False, weight=400)
    faces = [upright]
    if any(is_variable(face.path) for face in library.own if face.family == family):
        yield _note(family, "A font file with many cuts in one: Wayfold sets its first one.",
                    "Put the cuts there as files of their own.")  # fmt: skip
    if bears_text:
        italic = library.find_face(family, italic=True, weight=400)
        if italic.italic:
            faces.append(italic)
        else:
            yield _warn(family, "The family has no italic: what should lean stands upright.",
                        "Add its italic to fonts/, or choose another family.")  # fmt: skip
        features = read_features(upright.path)
        if "smcp" not in features:
            yield _note(family, "The family has no small capitals: smaller capitals stand in.")
        if "onum" not in features:
            yield _note(family, "The family has no old-style figures.")
    needed = list_needed(language)
    for face in faces:
        covered = read_coverage(face.path)
        missing = "".join(sign for sign in needed if ord(sign) not in covered)
        if missing:
            form = "italic" if face.italic else "upright"
            yield _warn(family, f"Its {form} lacks {missing}, which the book’s language needs; "
                        "another font stands in.", "Choose a family that has them.")  # fmt: skip


def _read_font(path: Path) -> bytes:
    """Give a font file's bytes; none of one that cannot be read, which is told elsewhere."""
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _read_rights(path: Path) -> int | None:
    """Give OS/2 fsType, or None for a file that cannot be read as a font."""
    return ask_font(path, lambda font: int(font["OS/2"].fsType), None)


def _warn(where: str, message: str, remedy: str) -> Finding:
    return Finding("fonts", Severity.WARN, where, message, remedy)


def _note(where: str, message: str, remedy: str = "") -> Finding:
    return Finding("fonts", Severity.NOTE, where, message, remedy)
