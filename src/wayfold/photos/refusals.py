"""Why a file cannot be read, in words, and what to do about it."""

from __future__ import annotations

import errno
from dataclasses import dataclass

from wayfold.photos.model import SizePx

MAX_PIXELS = 400_000_000
"""More pixels than any camera gives; a header that claims more is a mistake or a trap."""

_COPY_AGAIN = "Copy it again from the camera, card or backup."


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a file is left out. ``lasting``: the same bytes will be refused again next time."""

    rule: str
    message: str
    remedy: str
    lasting: bool = True


class RefusedError(Exception):
    """Carries a refusal up to where the file's result is made; never leaves the package."""

    def __init__(self, refusal: Refusal) -> None:
        self.refusal = refusal
        super().__init__(refusal.message)


def check_size(width_px: int, height_px: int) -> SizePx:
    """Give the size if it is one to work with; by the header alone, before anything is decoded.

    Raises RefusedError for an empty picture and for one over ``MAX_PIXELS``.
    """
    if width_px < 1 or height_px < 1:
        raise RefusedError(refuse_corrupt("its header gives it no size"))
    if width_px * height_px > MAX_PIXELS:
        raise RefusedError(
            Refusal(
                "photos.gigantic",
                f"The picture claims {width_px} x {height_px} pixels, more than the "
                f"{MAX_PIXELS // 1_000_000} million that Wayfold opens.",
                "If it is real, save a smaller copy and use that; else the file is damaged.",
            )
        )
    return SizePx(width_px, height_px)


def refuse_empty() -> Refusal:
    """Refuse a file of no bytes."""
    return Refusal("photos.empty", "The file is empty (0 bytes).", _COPY_AGAIN)


def refuse_corrupt(detail: str) -> Refusal:
    """Refuse a file that a decoder cannot make sense of; ``detail`` is its reason."""
    return Refusal(
        "photos.corrupt",
        f"The picture cannot be decoded: {_shorten(detail)}.",
        _COPY_AGAIN,
    )


def refuse_truncated(detail: str) -> Refusal:
    """Refuse a file that ends before its picture does."""
    return Refusal(
        "photos.truncated",
        f"The file ends before the picture is complete ({_shorten(detail)}).",
        _COPY_AGAIN,
    )


def refuse_unsupported(detail: str) -> Refusal:
    """Refuse a file whose way of storing pixels is too rare."""
    return Refusal(
        "photos.unsupported",
        f"The picture is stored in a rare way that Wayfold does not read ({_shorten(detail)}).",
        "Save it as JPEG, PNG or plain TIFF with another program.",
    )


def refuse_stranger(words: str) -> Refusal:
    """Refuse a file with a picture's ending that holds something else."""
    return Refusal(
        "photos.not-a-picture",
        f"The file is named like a photograph but is {words}.",
        "Save it as JPEG, PNG or TIFF if it is a picture, or take it out of the folder.",
    )


def refuse_raw() -> Refusal:
    """Refuse a camera raw while the raw reader is not installed."""
    return Refusal(
        "photos.raw-extra",
        "A camera raw can be read only with the optional raw reader.",
        'Install it with: pip install "wayfold[raw]"; or export the picture as JPEG or TIFF.',
        lasting=False,
    )


def refuse_lost() -> Refusal:
    """Refuse a file over which the decoder crashed."""
    return Refusal(
        "photos.crash",
        "The decoder crashed on this file; it is damaged in an unusual way.",
        "Open and save it again with another program, or take it out of the folder.",
    )


def refuse_changed() -> Refusal:
    """Refuse a file that was written to while it was read."""
    return Refusal(
        "photos.changed",
        "The file changed while it was being read.",
        "Wait until it is copied or saved completely, then try again.",
        lasting=False,
    )


def refuse_memory() -> Refusal:
    """Refuse a file that this machine has no room for."""
    return Refusal(
        "photos.memory",
        "There is not enough memory to decode the picture.",
        "Close other programs and try again, or save a smaller copy.",
        lasting=False,
    )


def refuse_file(error: OSError) -> Refusal:
    """Refuse a file that the system would not let us read."""
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        return Refusal(
            "photos.vanished",
            "The file was there a moment ago and is gone now.",
            "Put it back (was a disk or card taken out?), then try again.",
            lasting=False,
        )
    if isinstance(error, PermissionError):
        return Refusal(
            "photos.unreadable",
            "Reading the file is not permitted.",
            "Give yourself the right to read it, then try again.",
            lasting=False,
        )
    words = error.strerror or str(error) or "no reason given"
    if error.errno == errno.EIO:
        words += " (a failing disk or card?)"
    return Refusal(
        "photos.unreadable",
        f"The file cannot be read: {_shorten(words)}.",
        "Check the disk or card, copy the file elsewhere, then try again.",
        lasting=False,
    )


def _shorten(text: str) -> str:
    line = " ".join(text.split()).rstrip(".")
    return line if len(line) <= 160 else line[:159] + "…"
