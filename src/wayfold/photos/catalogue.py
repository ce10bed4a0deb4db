"""All photographs of a book's folders, and what the book remembers of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wayfold.base.findings import Finding
from wayfold.photos.model import Photo


@dataclass(frozen=True, slots=True)
class KnownFile:
    """What the book remembers of a picture: where it lay and what its bytes were."""

    path: str
    content: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All photographs that could be read, in order of path, and what was wrong with the rest.

    ``copies``: photo id -> further paths with the same bytes.
    ``missing``: ids the book knows whose file is nowhere to be found.
    """

    photos: tuple[Photo, ...]
    findings: tuple[Finding, ...] = ()
    copies: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    missing: tuple[str, ...] = ()
