"""Washes lie under pictures or under words that they make hard to read, or in foreign colours."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.mends import Mend
from wayfold.base.units import mm_from_pt
from wayfold.bench.stacking import count_lines
from wayfold.checks.naming import name_text
from wayfold.checks.subject import Subject, show_box
from wayfold.drawing.colour import Colour
from wayfold.drawing.contrast import contrast, luminance
from wayfold.drawing.oklab import read_oklab, turn_between
from wayfold.drawing.text import Paragraph, VerticalAlign
from wayfold.layout.model import PageLayout, PictureFrame, TextFrame
from wayfold.pages.washes import PageWash
from wayfold.words.tint import COLOURFUL, FAMILY

UNDER_PICTURE, UNDER_WORDS, COLOURS = "wash-under-picture", "wash-under-words", "wash-colours"
SMALL_PT = 9.0
CONTRAST = 12.0
EIGHT_BITS = 8.0
"""So far (degrees) rounding to eight bits turns a pastel's hue."""
OTHER = f'Try another wash_seed, or washes = "none": {Mend.STYLE}.'


def find_bad_washes(subject: Subject) -> Iterator[Finding]:
    """Name washes under pictures, under words that do not stand out, and those of other hues."""
    pages = {page.number: page for page in subject.pages}
    for wash in subject.washes:
        page = pages.get(wash.page)
        if page is not None:
            yield from _find_covered(subject, wash, page)
    for at, wash in enumerate(subject.washes):
        yield from _find_foreign(subject, wash, subject.washes[:at])


def _find_covered(subject: Subject, wash: PageWash, page: PageLayout) -> Iterator[Finding]:
    where = f"page {wash.page}"
    for frame in page.frames:
        if isinstance(frame, PictureFrame):
            seen = show_box(frame, subject.page)
            if seen is not None and seen.overlap(wash.box):
                name = subject.name_photo(frame.photo)
                message = f"A wash lies under {name}: it costs ink and is seen at its edge."
                yield Finding(UNDER_PICTURE, Severity.WARN, where, message, OTHER)
        if isinstance(frame, TextFrame):
            for box, paragraph in _place_paragraphs(frame):
                said = _judge_words(paragraph, wash) if box.overlap(wash.box) else ""
                if said:
                    message = f"A wash lies under the {name_text(subject, frame.key)}: {said}."
                    yield Finding(UNDER_WORDS, Severity.WARN, where, message, OTHER)


def _judge_words(paragraph: Paragraph, wash: PageWash) -> str:
    size = paragraph.style.size_pt
    if size < SMALL_PT:
        return f"words of {size:g} pt want bare paper, {SMALL_PT:g} pt is the least"
    inks = {run.colour or paragraph.style.colour for run in paragraph.runs}
    worst = min((contrast(luminance(i), wash.wash.darkest) for i in inks), default=CONTRAST)
    if worst >= CONTRAST:
        return ""
    return f"contrast {worst:.1f} to 1 at the worst, {CONTRAST:g} is needed"


def _place_paragraphs(frame: TextFrame) -> Iterator[tuple[Rect, Paragraph]]:
    """Give about where the paragraphs of a text lie, reckoned up from its last line.

    Lines are counted before type is set and may be too many: what comes to lie over the text's
    own box is cut.
    """
    box = frame.box
    heights: list[float] = []
    for paragraph in frame.paragraphs:
        lines = count_lines(paragraph.plain, paragraph.style, box.width)
        space = paragraph.style.space_before_pt if heights else 0.0
        heights.append(mm_from_pt(lines * paragraph.style.leading_pt + space))
    spare = max(box.height - sum(heights), 0.0)
    bottom = box.bottom - (spare / 2 if frame.vertical is VerticalAlign.MIDDLE else 0.0)
    for paragraph, height in zip(reversed(frame.paragraphs), reversed(heights), strict=True):
        words = height - mm_from_pt(paragraph.style.space_before_pt)
        seen = Rect(box.x, bottom - words, box.width, words).overlap(box)
        if seen is not None:
            yield seen, paragraph
        bottom -= height


def _find_foreign(
    subject: Subject, wash: PageWash, before: tuple[PageWash, ...]
) -> Iterator[Finding]:
    """Compare a wash with its chapter's accent, and with the chapter's washes before it."""
    if wash.tint.hue_deg is None:
        return
    hue = read_oklab(wash.wash.tint).hue_deg
    others = [
        (f"the wash on page {other.page}", read_oklab(other.wash.tint).hue_deg)
        for other in before
        if other.chapter == wash.chapter and other.tint.hue_deg is not None
    ]
    accent = subject.story.chapters[wash.chapter].accent if subject.story else None
    if accent and (seen := read_oklab(Colour.of(accent))).chroma >= COLOURFUL:
        others.append(("its chapter's accent", seen.hue_deg))
    for name, other_hue in others:
        away = abs(turn_between(hue, other_hue))
        if away > FAMILY + EIGHT_BITS:
            message = f"The wash is {away:.0f} degrees of hue from {name}; {FAMILY:g} go together."
            yield Finding(COLOURS, Severity.WARN, f"page {wash.page}", message, OTHER)
