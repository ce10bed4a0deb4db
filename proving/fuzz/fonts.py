"""The door for the person's own fonts: spoilt font files in a book's folder."""

from __future__ import annotations

import shutil
import struct
from pathlib import Path
from random import Random

from proving.fuzz.door import Door, Entrance
from proving.fuzz.mutate import SIZES, spoil
from wayfold.base.errors import UserError
from wayfold.base.findings import Severity
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, Run, TextBlock
from wayfold.typeset.engine import Typesetter
from wayfold.typeset.fonts import PACKAGED, FontLibrary
from wayfold.typeset.own_fonts import judge_own_fonts, refuse_unfit
from wayfold.words.styles import style_body

ENTRY = 16
"""Bytes of a table's entry in the directory of a font file (ISO/IEC 14496-22, 4.3)."""


def prepare(room: Path) -> Entrance:
    """Make the door ready: a book's folder of fonts that always holds one file."""
    folder = room / "fonts"
    files = sorted(PACKAGED.rglob("*.[to]tf"), key=lambda p: (p.stat().st_size, p.name))
    whole = [path.read_bytes() for path in files[:4]]
    style = style_body(Book("T"))

    def make(rng: Random) -> bytes:
        data = rng.choice(whole)
        if rng.random() < 0.6:
            data = _spoil_tables(data, rng)
        return spoil(data, rng, head=True) if rng.random() < 0.6 else data

    def enter(case: bytes) -> None:
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        (folder / "own.ttf").write_bytes(case)
        refuse_unfit(folder, lambda path: path.name)
        library = FontLibrary(("EB Garamond",), folder)
        family = library.own[0].family if library.own else "EB Garamond"
        found = list(judge_own_fonts(folder, library, family, family, "en", lambda p: p.name))
        words = Paragraph((Run("We went *west*, 12 km — fi ffl"),), style)
        Typesetter(library).measure_heights((TextBlock((words,), 80.0),))
        told = [f for f in found if f.severity is Severity.WARN and f.remedy]
        if told and not library.own:
            raise UserError(told[0].message, where=told[0].where, remedy=told[0].remedy)

    return Entrance(make, enter)


def _spoil_tables(data: bytes, rng: Random) -> bytes:
    """Spoil one table of a font, or what the directory says of it."""
    work = bytearray(data)
    count = int.from_bytes(work[4:6], "big")
    at = 12 + ENTRY * rng.randrange(max(count, 1))
    if at + ENTRY > len(work):
        return data
    start, long = struct.unpack_from(">II", work, at + 8)
    match rng.randrange(4):
        case 0:
            struct.pack_into(">I", work, at + rng.choice((4, 8, 12)), rng.choice(SIZES))
        case 1:
            work[at : at + 4] = rng.choice((b"cmap", b"GSUB", b"OS/2", b"    ", b"fvar"))
        case 2:
            work[start : start + long] = spoil(bytes(work[start : start + long]), rng, head=True)
        case _:
            inside = start + rng.randrange(min(max(long, 1), 64))
            if inside + 2 <= len(work):
                struct.pack_into(">H", work, inside, rng.choice(SIZES[:9]))
    return bytes(work)


FONTS = Door("fonts", "fonts of the person's own", prepare)
