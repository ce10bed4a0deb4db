"""The contents name another page than the one a chapter opens on."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject
from wayfold.drawing.text import Paragraph
from wayfold.layout.model import TextFrame
from wayfold.story.model import BlockKind

RULE = "contents-pages"
KEY = "contents"


def find_wrong_contents(subject: Subject) -> Iterator[Finding]:
    """Compare the numbers in the contents with the pages that the openers are planned on.

    The numbers are read off the laid-out pages (or the words, where nothing is laid out yet), in
    order, and must be those of the chapters' openers, the itinerary and the foreword.
    """
    if subject.plan is None or subject.story is None:
        return
    lines = _read_contents(subject)
    planned = {p.block for p in subject.plan.pages}
    if not lines:
        return
    kinds = (BlockKind.OPENER, BlockKind.FOREWORD, BlockKind.ITINERARY)
    blocks = [b for b in subject.story.blocks if b.kind in kinds and b.id in planned]
    right = sorted(subject.plan.first_page_of(b.id) for b in blocks)
    named = sorted(number for _, number in lines)
    for title, number in lines:
        if number not in right:
            yield Finding(
                RULE,
                Severity.BLOCK,
                KEY,
                f"The contents send the reader to page {number} for {title or 'a chapter'}, where "
                "nothing begins.",
                "Make the book again; if it stays so, the contents were written for an older plan.",
            )
    for number in right:
        if named.count(number) < right.count(number):
            yield Finding(
                RULE,
                Severity.WARN,
                KEY,
                f"What begins on page {number} is not in the contents.",
                "Make the book again, or add it to the contents.",
            )


def _read_contents(subject: Subject) -> list[tuple[str, int]]:
    paragraphs: list[Paragraph] = [
        p
        for page in subject.pages
        for frame in page.frames
        if isinstance(frame, TextFrame) and frame.key.split("#")[0] == KEY
        for p in frame.paragraphs
    ]
    if not paragraphs and subject.words is not None:
        paragraphs = list(subject.words.get(KEY))
    # Only lines with leaders lead to a page; a heading may end in a number of its own.
    return [line for p in paragraphs if (line := _read_line(p)) is not None]


def _read_line(paragraph: Paragraph) -> tuple[str, int] | None:
    """Give title and page of a line: what stands before and after its leader."""
    at = next((i for i, run in enumerate(paragraph.runs) if run.leader), None)
    if at is None:
        return None
    title = "".join(run.text for run in paragraph.runs[:at]).strip()
    number = "".join(run.text for run in paragraph.runs[at:]).strip()
    return (title, int(number)) if number.isdecimal() else None
