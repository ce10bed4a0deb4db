"""What kind of picture a file is, by its name and, with the last word, by its first bytes."""

from __future__ import annotations

import enum

HEAD_BYTES = 64
"""How many first bytes of a file are enough to tell its kind."""


class Kind(enum.StrEnum):
    """The kinds of picture Wayfold reads."""

    JPEG = "JPEG"
    HEIC = "HEIC"
    PNG = "PNG"
    TIFF = "TIFF"
    WEBP = "WebP"
    RAW = "camera raw"


# fmt: off
_RAW_ENDINGS = (
    "3fr", "arw", "cr2", "cr3", "crw", "dcr", "dng", "erf", "fff", "iiq", "k25", "kdc", "mef",
    "mos", "mrw", "nef", "nrw", "orf", "pef", "raf", "raw", "rw2", "rwl", "sr2", "srf", "srw",
    "x3f",
)
_OTHER_PICTURES = frozenset((
    "apng", "avif", "bmp", "dib", "gif", "heics", "ico", "j2k", "jp2", "jxl", "pbm", "pcx", "pgm",
    "pnm", "ppm", "psb", "psd", "svg", "svgz", "tga", "xcf",
))
# fmt: on

_ENDINGS = {
    **dict.fromkeys(("jpg", "jpeg", "jpe", "jfif", "mpo"), Kind.JPEG),
    **dict.fromkeys(("heic", "heif", "hif"), Kind.HEIC),
    "png": Kind.PNG,
    **dict.fromkeys(("tif", "tiff"), Kind.TIFF),
    "webp": Kind.WEBP,
    **dict.fromkeys(_RAW_ENDINGS, Kind.RAW),
}

_HEIF_BRANDS = frozenset((b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx"))
_ANY_HEIF_BRANDS = frozenset((b"mif1", b"mif2", b"msf1", b"miaf"))

_RAW_HEADS = (
    b"IIRO",  # Olympus
    b"IIRS",
    b"MMOR",
    b"IIU\0",  # Panasonic, Leica
    b"FUJIFILMCCD-RAW",
    b"\0MRM",  # Minolta
    b"FOVb",  # Sigma
    b"II\x1a\0\0\0HEAPCCDR",  # Canon CRW
)

_STRANGERS = (
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"8BPS", "a layered PSD picture"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "a ZIP archive or office document"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL picture"),
    (b"\xff\x0a", "a JPEG XL picture"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000 picture"),
    (b"RIFF", "a sound or video file"),
    (b"<!DOCTYPE", "a web page"),
    (b"<html", "a web page"),
    (b"<?xml", "an XML file"),
    (b"version https://git-lfs", "a pointer to a file kept elsewhere"),
)


def kind_of_name(name: str) -> Kind | None:
    """Give the kind that a file's ending claims, or None where it is no picture we read."""
    return _ENDINGS.get(_ending(name))


def is_other_picture(name: str) -> bool:
    """Whether the ending is that of a picture of a kind Wayfold does not read."""
    return _ending(name) in _OTHER_PICTURES


def kind_of_content(name: str, head: bytes) -> Kind | None:
    """Give the kind that the first bytes show.

    Many raws are TIFF files inside; of those only the ending tells a raw from a plain TIFF.
    """
    if head.startswith(b"\xff\xd8\xff"):
        return Kind.JPEG
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return Kind.PNG
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return Kind.WEBP
    if head.startswith(_RAW_HEADS):
        return Kind.RAW
    if head[4:8] == b"ftyp":
        return _kind_of_brands(head)
    if head[:4] in (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"):
        is_raw = head[8:10] == b"CR" or kind_of_name(name) is Kind.RAW
        return Kind.RAW if is_raw else Kind.TIFF
    # Some makers' raws have no mark of their own (Leaf, Kodak); the raw reader has the last word.
    known_stranger = any(head.startswith(mark) for mark, _ in _STRANGERS)
    return Kind.RAW if kind_of_name(name) is Kind.RAW and not known_stranger else None


def describe_stranger(head: bytes) -> str:
    """Say in words what a file is that is none of our kinds."""
    for mark, words in _STRANGERS:
        if head.startswith(mark):
            return words
    if head[4:8] == b"ftyp":
        return "an AVIF picture" if b"avif" in head or b"avis" in head else "a video"
    if not head.strip(b"\0"):
        return "filled with zeros, as after a failed copy"
    return "no picture that Wayfold knows"


def _kind_of_brands(head: bytes) -> Kind | None:
    # ISO/IEC 14496-12: size, 'ftyp', major brand, minor version, compatible brands.
    size = min(int.from_bytes(head[:4], "big"), len(head))
    brands = {head[8:12], *(head[i : i + 4] for i in range(16, size - 3, 4))}
    if b"crx " in brands:
        return Kind.RAW
    if brands & _HEIF_BRANDS:
        return Kind.HEIC
    if brands & _ANY_HEIF_BRANDS and not brands & {b"avif", b"avis"}:
        return Kind.HEIC
    return None


def _ending(name: str) -> str:
    # Asked often of each of thousands of files, for which a Path takes ten times as long.
    stem, _, ending = name.rpartition("/")[2].rpartition(".")
    return ending.lower() if stem else ""
