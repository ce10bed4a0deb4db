"""Chapters do not follow the days of the journey."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject, name_chapter
from wayfold.words.dates import write_date

RULE = "chapter-dates"


def find_chapters_out_of_order(subject: Subject) -> Iterator[Finding]:
    """Name every chapter that begins before the one in front of it, and any that ends too soon."""
    if subject.story is None:
        return
    for chapter in subject.story.chapters:
        if chapter.first and chapter.last and chapter.last < chapter.first:
            yield Finding(
                RULE,
                Severity.WARN,
                name_chapter(chapter),
                f"{chapter.title} ends on {_say(chapter.last)}, before it begins on "
                f"{_say(chapter.first)}.",
                "Look at the times of its photographs; a camera's clock may be wrong.",
            )
    dated = [(c, c.first) for c in subject.story.chapters if c.first is not None]
    for (before, began), (after, begins) in pairwise(dated):
        if begins < began:
            yield Finding(
                RULE,
                Severity.WARN,
                name_chapter(after),
                f"{after.title} begins on {_say(begins)}, but follows {before.title}, which begins "
                f"on {_say(began)}.",
                "Put the chapters in the order of the journey, unless the order is meant.",
            )


def _say(day: date) -> str:
    return write_date(day, "en")
