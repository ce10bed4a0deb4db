"""What the demo knows: an invented journey, the pictures that bear it, and what was fetched."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from wayfold.base.geometry import Rect
from wayfold.base.world import LonLat
from wayfold.book.state import ChapterChoice, PhotoChoice


@dataclass(frozen=True, slots=True)
class Credit:
    """Whom a picture is owed to: its own title, its author, a short licence name, its package."""

    title: str
    author: str
    licence: str
    package: str


@dataclass(frozen=True, slots=True)
class CameraBody:
    """An invented camera.

    ``naming`` is how it names its files ("DSC_{number:04d}.JPG", or a strftime pattern for a
    phone); ``first_number`` is the frame it had reached when the journey began. ``records_offset``
    says whether its files carry the offset from UTC. ``clock_error_s`` is how many seconds its
    clock is ahead of the true time.
    """

    key: str
    folder: str
    make: str
    model: str
    serial: str
    naming: str
    first_number: int = 0
    records_offset: bool = False
    clock_error_s: int = 0


@dataclass(frozen=True, slots=True)
class Painting:
    """What to paint where there is no photograph: a kind of scene, its hour and its seed."""

    scene: str
    hour: str
    seed: int


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture of the journey.

    ``source`` is the file inside the package (posix, no leading slash), or "" for a painted one.
    ``seen`` says plainly what is to be seen; ``caption`` is what the book says. ``taken`` is the
    true local time with its offset. ``place`` None means the camera did not note it. ``crop`` cuts
    the source before it is copied (fractions), as if the camera had been held so. ``bears_fold``
    says whether the fold of a book may run down its middle; ``bleeds`` whether it stands being
    cut to a whole page. ``stored_as`` is the EXIF orientation its pixels are stored in.
    ``opens`` says that it lies behind the title of its chapter, under a translucent leaf;
    ``veiled`` that such a leaf over it bears its caption; ``shown`` what the book shows of it;
    ``text`` names the text that stands with it.
    """

    key: str
    source: str
    credit: Credit
    seen: str
    caption: str
    taken: datetime
    body: str
    place: LonLat | None = None
    rating: int = 3
    hero: bool = False
    alone: bool = False
    bears_fold: bool = False
    bleeds: bool = False
    kept: bool = True
    crop: Rect | None = None
    keywords: tuple[str, ...] = ()
    name: str = ""
    file_format: str = "JPEG"
    profile: str = "none"
    caption_in: str = "none"
    stored_as: int = 1
    painting: Painting | None = None
    opens: bool = False
    veiled: bool = False
    shown: Rect | None = None
    text: str | None = None


@dataclass(frozen=True, slots=True)
class Town:
    """A town that a chapter is told by."""

    name: str
    country: str
    """ISO 3166-1 alpha-2 code."""
    place: LonLat


@dataclass(frozen=True, slots=True)
class Chapter:
    """One part of the journey. ``towns`` begins with the one the chapter belongs to.

    ``mapped`` says that the leaf over its opening picture bears its country's map.
    """

    key: str
    heading: str
    subtitle: str
    text: str
    accent: str
    towns: tuple[Town, ...]
    shots: tuple[Shot, ...]
    painted: tuple[Shot, ...]
    mapped: bool = False


@dataclass(frozen=True, slots=True)
class Journey:
    """The whole invented journey."""

    title: str
    subtitle: str
    author: str
    language: str
    bodies: tuple[CameraBody, ...]
    chapters: tuple[Chapter, ...]

    def body(self, key: str) -> CameraBody:
        """The camera called ``key``. Raises KeyError when the journey has none such."""
        for body in self.bodies:
            if body.key == key:
                return body
        raise KeyError(key)


@dataclass(frozen=True, slots=True)
class PackageOutcome:
    """How fetching one package went; ``problem`` is empty when it went well."""

    package: str
    version: str = ""
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Gathered:
    """The journey with a file for each picture that could be had.

    ``files``: shot key -> the picture's file, never to be changed. ``journey`` has only pictures
    that have one. ``painted`` counts the pictures painted by the demo itself.
    """

    journey: Journey
    files: dict[str, Path]
    outcomes: tuple[PackageOutcome, ...]
    remarks: tuple[str, ...]
    painted: int = 0


@dataclass(frozen=True, slots=True)
class DemoBook:
    """The maker's decisions for the demo's book.

    ``choices`` and ``credits`` are keyed by the picture's path relative to the book folder
    (posix), in order of time. ``texts``: key -> Markdown.
    """

    title: str
    subtitle: str
    author: str
    language: str
    photographs: str
    chapters: tuple[ChapterChoice, ...]
    choices: dict[str, PhotoChoice]
    credits: dict[str, Credit]
    texts: dict[str, str]
    notices: tuple[str, ...]
    """Plain words for the terminal: what was fetched, what was painted, what failed."""
