"""A PDF's own identity (ISO 32000-1, 14.4), given instead of reckoned from every byte.

The PDF library makes a repeatable one with a digest of all it writes, which takes longer than
writing a book's pictures does (measured for 92 MB: 0.28 s against 0.12 s).
"""

from __future__ import annotations

from pathlib import Path

from wayfold.base.hashing import DIGEST_BYTES

_STATIC = b"<31415926535897932384626433832795>"
"""What the library writes for both parts when asked for a static identity."""
_TAIL_BYTES = 1 << 20
"""The identity stands in the trailer, with the table of objects behind it at most."""


def write_identity(pdf: Path, identity: str) -> None:
    """Put ``identity`` (32 hexadecimal digits) into a PDF saved with a static one.

    Both parts get it, as of a file that was never updated. Raises ValueError where the file was
    saved in another way, OSError where it cannot be written.
    """
    digits = identity.encode("ascii")
    if len(digits) != 2 * DIGEST_BYTES:
        raise ValueError(f"an identity has {2 * DIGEST_BYTES} digits, not {len(digits)}")
    with pdf.open("r+b") as file:
        start = max(0, file.seek(0, 2) - _TAIL_BYTES)
        file.seek(start)
        at = file.read().rfind(b"/ID [" + 2 * _STATIC + b"]")
        if at < 0:
            raise ValueError(f"{pdf} has no static identity")
        file.seek(start + at)
        file.write(b"/ID [" + 2 * (b"<" + digits + b">") + b"]")
