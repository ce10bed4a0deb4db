"""The book's words, styled and ready to be measured and placed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from wayfold.base.findings import Finding
from wayfold.drawing.text import Paragraph
from wayfold.words.itinerary import Itinerary


@dataclass(frozen=True, slots=True)
class Words:
    """Every text of the book by its key.

    Keys: "half-title", "title", "subtitle", "author", "foreword", "contents", "closing",
    "colophon", "opener:<chapter index>", "text:<block id>", "caption:<photo id>",
    "day:<ISO date>", "day-opener:<ISO date>" (day and date under each other),
    "running:<chapter index>"; on translucent leaves "leaf:opener:<chapter index>",
    "leaf:caption:<photo id>", "leaf:name:<chapter index>". A text nobody wrote has no key.
    """

    paragraphs: Mapping[str, tuple[Paragraph, ...]] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    itinerary: Itinerary | None = None

    def get(self, key: str) -> tuple[Paragraph, ...]:
        """The paragraphs of ``key``, or none."""
        return self.paragraphs.get(key, ())
