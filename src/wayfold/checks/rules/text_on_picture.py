"""Text lies over a picture, where it may be hard to read."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.book.arranging import BY_HAND
from wayfold.checks.naming import name_text
from wayfold.checks.subject import Subject, show_box
from wayfold.layout.model import PictureFrame, TextFrame

RULE = "text-on-picture"


def find_text_on_pictures(subject: Subject) -> Iterator[Finding]:
    """Name every text whose box lies partly or wholly over a picture of its page."""
    for page in subject.pages:
        where = f"page {page.number}"
        if subject.was_told("layout.overlap", where):
            continue
        pictures = [f for f in page.frames if isinstance(f, PictureFrame)]
        for frame in page.frames:
            if not isinstance(frame, TextFrame) or not frame.paragraphs:
                continue
            for picture in pictures:
                seen = show_box(picture, subject.page)
                if seen is not None and (common := seen.overlap(frame.box)) is not None:
                    yield Finding(
                        RULE,
                        Severity.WARN,
                        where,
                        f"The {name_text(subject, frame.key)} lies "
                        f"{min(common.width, common.height):.1f} mm "
                        f"deep over {subject.name_photo(picture.photo)}.",
                        "Move one of them, unless it is meant so."
                        if frame.by_hand or page.family == BY_HAND
                        else "Shorten the text, or give the picture another place.",
                        about=frame.key,
                    )
