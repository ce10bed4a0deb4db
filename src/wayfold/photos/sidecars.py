"""XMP files that lie beside their pictures."""

from __future__ import annotations

from collections.abc import Mapping, Set
from pathlib import Path

from wayfold.photos.kinds import Kind, kind_of_name
from wayfold.photos.xmp import XmpData, parse_xmp

_MAX_BYTES = 4_000_000


def find_sidecar(path: str, sidecars: Mapping[str, str], raw_stems: Set[str]) -> XmpData | None:
    """Give what the sidecar of ``path`` says, or None where it has none.

    Two namings are about: ``name.jpg.xmp`` and ``name.xmp``. The latter belongs to the raw where
    a raw of that name (in ``raw_stems``, lower case) lies there too. ``sidecars``: lower-case
    path -> path.
    """
    full = sidecars.get(f"{path}.xmp".lower())
    stem = path.rsplit(".", 1)[0].lower()
    if full is None and (kind_of_name(path) is Kind.RAW or stem not in raw_stems):
        full = sidecars.get(f"{stem}.xmp")
    return _read_sidecar(full) if full else None


def _read_sidecar(path: str) -> XmpData | None:
    try:
        with Path(path).open("rb") as file:
            return parse_xmp(file.read(_MAX_BYTES))
    except OSError:  # It adds to the picture; without it the picture is still whole.
        return None
