"""Two pictures of a page lie on each other."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from wayfold.base.findings import Finding, Severity
from wayfold.book.arranging import BY_HAND
from wayfold.checks.subject import Subject, show_box
from wayfold.layout.model import PictureFrame

RULE = "overlapping-pictures"
SLACK = 0.05
"""Pictures that share less than this (mm) only touch."""


def find_overlapping_pictures(subject: Subject) -> Iterator[Finding]:
    """Name every pair of pictures of which one hides part of the other."""
    for page in subject.pages:
        where = f"page {page.number}"
        if subject.was_told("layout.overlap", where):
            continue
        shown = [
            (frame.photo, box)
            for frame in page.frames
            if isinstance(frame, PictureFrame)
            and (box := show_box(frame, subject.page)) is not None
        ]
        for (one, box), (other, over) in combinations(shown, 2):
            common = box.overlap(over)
            if common is None or min(common.width, common.height) <= SLACK:
                continue
            by_hand = page.family == BY_HAND
            yield Finding(
                RULE,
                Severity.WARN if by_hand else Severity.BLOCK,
                where,
                f"{subject.name_photo(other)} hides {common.width:.1f} x {common.height:.1f} mm of "
                f"{subject.name_photo(one)}.",
                "Move one of them, unless it is meant so."
                if by_hand
                else "Lay this page out again, or leave one of the pictures out.",
                about=other,
            )
