"""The small pictures that stand in for photographs until the book's PDF is put together."""

from __future__ import annotations

_MARK = b"wayfold picture "
_SOI = b"\xff\xd8"
# The rest of a baseline JPEG (ITU-T T.81) of 8 x 8 mid-grey pixels: quantisation by ones, one
# component, a DC and an AC table with a single one-bit code each (no difference; end of block).
_REST = (
    b"\xff\xdb\x00\x43\x00" + b"\x01" * 64
    + b"\xff\xc0\x00\x0b\x08\x00\x08\x00\x08\x01\x01\x11\x00"
    + b"\xff\xc4\x00\x14\x00\x01" + b"\x00" * 15 + b"\x00"
    + b"\xff\xc4\x00\x14\x10\x01" + b"\x00" * 15 + b"\x00"
    + b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00" + b"\x3f"
    + b"\xff\xd9"
)  # fmt: skip


def make_standin(key: str) -> bytes:
    """Give a tiny JPEG whose comment names the picture ``key``.

    Raises ValueError for a key of more than 65,000 bytes.
    """
    comment = _MARK + key.encode()
    if len(comment) > 65_000:
        raise ValueError("the picture's key is too long for a JPEG comment")
    return _SOI + b"\xff\xfe" + (len(comment) + 2).to_bytes(2, "big") + comment + _REST


def read_standin(jpeg: bytes) -> str | None:
    """Give the key a stand-in names, or None for any other picture."""
    head = _SOI + b"\xff\xfe"
    if not jpeg.startswith(head) or jpeg[6 : 6 + len(_MARK)] != _MARK:
        return None
    end = 4 + int.from_bytes(jpeg[4:6], "big")
    return jpeg[6 + len(_MARK) : end].decode()
