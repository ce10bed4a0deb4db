"""A photograph stands in the book more than once."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject, list_placements, name_pages

RULE = "used-twice"


def find_photographs_used_twice(subject: Subject) -> Iterator[Finding]:
    """Name every photograph with more than one place; the halves across a fold are one place."""
    places: dict[str, list[int]] = {}
    for placed in list_placements(subject):
        places.setdefault(placed.photo, []).append(placed.pages[0])
    for photo, pages in places.items():
        if len(pages) > 1:
            yield Finding(
                RULE,
                Severity.WARN,
                name_pages(tuple(pages)),
                f"{subject.name_photo(photo)} stands in the book {len(pages)} times.",
                "Leave it where it says most, unless the repetition is meant.",
            )
