"""The chapters' colours make no family, or a chapter's pages have another colour than its own.

Common practice, no single source: accents of one book differ in hue and agree in strength.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from statistics import median

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject, name_chapter
from wayfold.checks.writings import join_quotes
from wayfold.drawing.colour import Colour
from wayfold.drawing.oklab import Oklab, read_oklab, turn_between
from wayfold.layout.model import PageLayout, RuleFrame, TextFrame

RULE = "chapter-colours"
SEEN = 0.02
"""ΔE_OK that can just be seen side by side (CSS Color 4, 9.2): less is no other colour."""
VIVID = 0.09
"""Chroma by which an accent may be above the middle one."""
GREY = 0.03
"""Chroma under which a colour has no hue to speak of."""
HUE_RANGE_DEG = 30.0
"""Tints and shades of one colour keep to so much of its hue."""


def find_odd_colours(subject: Subject) -> Iterator[Finding]:
    """Name accents that nearly agree, one far more vivid than the rest, and strange hues."""
    if subject.story is None:
        return
    accents = {
        number: read_oklab(Colour.of(chapter.accent))
        for number, chapter in enumerate(subject.story.chapters)
        if chapter.accent
    }
    yield from _judge_family(subject, accents)
    yield from _judge_pages(subject, accents)


def _judge_family(subject: Subject, accents: dict[int, Oklab]) -> Iterator[Finding]:
    chapters = subject.story.chapters if subject.story else ()
    for one, other in combinations(accents, 2):
        apart = accents[one].distance(accents[other])
        same = chapters[one].accent == chapters[other].accent
        if apart < SEEN and not same:
            yield Finding(
                RULE,
                Severity.WARN,
                name_chapter(chapters[other]),
                f"Its accent {chapters[other].accent} cannot be told from "
                f"{chapters[one].accent} of {chapters[one].title}.",
                "Give both the same colour, or colours that differ clearly.",
            )
    if len(accents) < 3:
        return
    middle = median(accent.chroma for accent in accents.values())
    for number, accent in accents.items():
        if accent.chroma > middle + VIVID:
            yield Finding(
                RULE,
                Severity.WARN,
                name_chapter(chapters[number]),
                f"Its accent {chapters[number].accent} is far more vivid than the other chapters’ "
                f"(chroma {accent.chroma:.2f}, the middle one has {middle:.2f}).",
                "Take a quieter colour of the same hue.",
            )


def _judge_pages(subject: Subject, accents: dict[int, Oklab]) -> Iterator[Finding]:
    if subject.plan is None or subject.story is None:
        return
    chapter_of = {block.id: block.chapter for block in subject.story.blocks}
    chapters = {page.number: chapter_of.get(page.block or "") for page in subject.plan.pages}
    inks = {subject.book.style.ink, subject.book.style.quiet_ink}
    for page in subject.pages:
        chapter = chapters.get(page.number)
        accent = accents.get(chapter) if chapter is not None else None
        if accent is None or accent.chroma < GREY:
            continue
        coloured = [c for c in _list_colours(page) if c not in inks]
        strange = [c for c in coloured if _is_strange(read_oklab(c), accent)]
        if strange:
            codes = [f"#{c.red:02x}{c.green:02x}{c.blue:02x}" for c in strange]
            yield Finding(
                RULE,
                Severity.WARN,
                f"page {page.number}",
                f"Type or lines have {join_quotes(codes)}, of another hue than the chapter’s "
                "accent.",
                "Give the chapter one colour: its accent, its tints, and ink.",
            )


def _list_colours(page: PageLayout) -> Iterator[Colour]:
    for frame in page.frames:
        if isinstance(frame, RuleFrame):
            yield Colour.of(frame.colour)
        elif isinstance(frame, TextFrame):
            for paragraph in frame.paragraphs:
                yield paragraph.style.colour
                yield from (run.colour for run in paragraph.runs if run.colour)


def _is_strange(colour: Oklab, accent: Oklab) -> bool:
    turned = abs(turn_between(accent.hue_deg, colour.hue_deg))
    return colour.chroma >= GREY and turned > HUE_RANGE_DEG
