"""All the book's JPEGs as image objects of one PDF that is never written down."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from wayfold.typeset.jpeg import JpegFacts, read_jpeg
from wayfold.typeset.parts import JoinedParts, Part

if TYPE_CHECKING:
    import pikepdf

_DEVICE = {1: "/DeviceGray", 3: "/DeviceRGB"}


def open_album(pictures: Mapping[str, Path]) -> tuple[pikepdf.Pdf, JoinedParts]:
    """Give a PDF whose catalogue has a dictionary /Album: picture key -> image object; its source.

    The JPEGs stay on disk, byte for byte as they are, until the PDF they are copied to is saved;
    each colour profile is one stream however many pictures have it. Raises UserError for a
    picture that cannot be used.
    """
    import pikepdf

    source = JoinedParts(_list_parts(pictures))
    return pikepdf.open(source), source  # type: ignore[arg-type]


def name_entry(key: str) -> str:
    """Give the name a picture has in the album: any key, spelt so that it is a PDF name."""
    return f"/P{key.encode().hex()}"


def _list_parts(pictures: Mapping[str, Path]) -> list[Part]:
    writer = _Writer()
    names: dict[str, int] = {}
    spaces: dict[tuple[bytes, int], int] = {}
    for key, path in sorted(pictures.items()):
        facts = read_jpeg(path)
        space = _DEVICE[facts.components]
        if facts.icc is not None:
            known = (facts.icc, facts.components)
            if known not in spaces:
                head = f"/N {facts.components} /Alternate {_DEVICE[facts.components]}"
                spaces[known] = writer.add_stream(head, facts.icc, len(facts.icc))
            space = f"[/ICCBased {spaces[known]} 0 R]"
        names[key] = writer.add_stream(_describe(facts, space), (path, facts.length), facts.length)
    return writer.finish(names)


def _describe(facts: JpegFacts, space: str) -> str:
    return (
        f"/Type /XObject /Subtype /Image /Width {facts.width_px} /Height {facts.height_px} "
        f"/ColorSpace {space} /BitsPerComponent 8 /Filter /DCTDecode"
    )


class _Writer:
    """Writes the few objects of a PDF (ISO 32000-1, 7.3 and 7.5) as parts."""

    def __init__(self) -> None:
        self._parts: list[Part] = []
        self._offsets: dict[int, int] = {}
        self._at = 0
        self._put(b"%PDF-1.7\n")

    def add_stream(self, head: str, body: Part, length: int) -> int:
        number = self._begin()
        self._put(f"<< {head} /Length {length} >>\nstream\n".encode())
        self._put(body)
        self._put(b"\nendstream\nendobj\n")
        return number

    def finish(self, names: Mapping[str, int]) -> list[Part]:
        album = " ".join(f"{name_entry(key)} {number} 0 R" for key, number in names.items())
        pages = self._add(b"<< /Type /Pages /Kids [] /Count 0 >>")
        root = self._add(f"<< /Type /Catalog /Pages {pages} 0 R /Album << {album} >> >>".encode())
        start, count = self._at, len(self._offsets) + 1
        rows = [b"0000000000 65535 f \n"]
        rows += [f"{self._offsets[n]:010d} 00000 n \n".encode() for n in range(1, count)]
        self._put(f"xref\n0 {count}\n".encode() + b"".join(rows))
        end = f"trailer\n<< /Size {count} /Root {root} 0 R >>\nstartxref\n{start}\n%%EOF\n"
        self._put(end.encode())
        return self._parts

    def _add(self, body: bytes) -> int:
        number = self._begin()
        self._put(body + b"\nendobj\n")
        return number

    def _begin(self) -> int:
        number = len(self._offsets) + 1
        self._offsets[number] = self._at
        self._put(f"{number} 0 obj\n".encode())
        return number

    def _put(self, part: Part) -> None:
        self._parts.append(part)
        self._at += len(part) if isinstance(part, bytes) else part[1]
