"""Telling a person's caption from what cameras and programs write into the same field."""

from __future__ import annotations

import re

from wayfold.photos.model import Camera

# From memory and common practice: what camera makers, telephones and filters leave as description.
_BOILERPLATE = re.compile(
    r"""
      [\w\s]*\b(digital|still)\s+camera
    | sony\s+dsc | samsung(\s+csc)? | default | untitled | image | picture | photo | unknown | none
    | exif_jpeg_picture | jpeg | screenshot
    | (dcim|[a-z]:)?[\\/].*\.(jpe?g|dng|tiff?)
    | dcim[\\/].*
    | (dsc|dscn|dscf|img|pict|p)[_-]?\d{3,}(\.jpe?g)?
    | (file\s+)?(processed|edited|created|made|written)\s+(with|by|using)\s.*
    | software:.* | \{".*\}
    """,
    re.IGNORECASE | re.VERBOSE | re.DOTALL,
)
_SCENE_CODES = frozenset(
    ["cof", "dav", "edf", "hdr", "hdrpl", "mde", "nfd", "nor", "oznor", "ptr", "rhdr", "sdr", "tpl"]
)


def is_boilerplate(text: str, camera: Camera | None) -> bool:
    """Whether a description was written by a machine and says nothing about the picture."""
    bare = text.strip(" \t\r\n\0<>")
    if not any(c.isalnum() for c in bare):
        return True
    if bare.lower().split(";")[0].strip() in _SCENE_CODES or _BOILERPLATE.fullmatch(bare):
        return True
    names = (camera.make, camera.model, f"{camera.make} {camera.model}") if camera else ()
    return bare.casefold() in (n.casefold() for n in names)


def choose_caption(candidates: tuple[str | None, ...], camera: Camera | None) -> str | None:
    """Give the first candidate that a person may have written, line ends unified."""
    for text in candidates:
        if text and not is_boilerplate(text, camera):
            return re.sub(r"\r\n?", "\n", text).strip()
    return None
