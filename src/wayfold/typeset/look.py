"""What pages of a PDF look like, as identities: equal ones show the same to the last pixel."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator
from importlib import metadata
from pathlib import Path

from wayfold.base.hashing import hash_bytes
from wayfold.base.units import PT_PER_INCH

VIEWING = threading.RLock()
"""PDFium is not for two threads at once, not even with two files."""
LOOK_PPI = 100.0
"""Fine enough that a caption moved by a tenth of a millimetre has other greys at its edges."""


def look_at_pages(pdf: Path, pages: Iterable[int]) -> Iterator[str]:
    """Give the identity of what each of ``pages`` (from 0) shows, in colour.

    Only looks of one ``viewer`` can be compared.
    """
    import pypdfium2

    with VIEWING:
        document = pypdfium2.PdfDocument(pdf)
    try:
        for index in pages:
            with VIEWING:
                page = document[index]
                bitmap = page.render(scale=LOOK_PPI / PT_PER_INCH)
                look = hash_bytes(bitmap.to_numpy().tobytes())
                bitmap.close()
                page.close()
            yield look
    finally:
        with VIEWING:
            document.close()


def name_viewer() -> str:
    """Give the name of what draws the pages, with its version."""
    return f"pypdfium2 {metadata.version('pypdfium2')}"
