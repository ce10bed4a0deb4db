"""A photograph has its place in the book, but its file cannot be found or read."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject, list_placements

RULE = "missing-photograph"


def find_missing_photographs(subject: Subject) -> Iterator[Finding]:
    """Name every placed photograph without a file; its place would print white."""
    for placed in list_placements(subject):
        if placed.photo in subject.photos and placed.photo not in subject.missing:
            continue
        yield Finding(
            RULE,
            Severity.BLOCK,
            placed.where,
            f"The file of the photograph {subject.name_photo(placed.photo)} is missing.",
            "Put the file back into one of the book's folders, or leave the photograph out.",
        )
