"""Text is printed in a colour that hardly stands out from white paper.

WCAG 2.2, 1.4.3, level AA: 4.5 to 1, for large text 3 to 1. Washes, and words on translucent leaves,
are looked at by those who know what lies beneath them.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.checks.naming import name_text
from wayfold.checks.subject import Subject
from wayfold.drawing.colour import WHITE, Colour
from wayfold.drawing.contrast import contrast, least_contrast, luminance
from wayfold.layout.model import TextFrame

RULE = "text-contrast"


def find_faint_texts(subject: Subject) -> Iterator[Finding]:
    """Name the texts with letters too faint for their size, each with its faintest colour.

    Of the style's own inks the style itself is told.
    """
    style = subject.book.style
    for page in subject.pages:
        for frame in page.frames:
            if not isinstance(frame, TextFrame):
                continue
            faint = [
                (found, colour, wanted)
                for colour, wanted in _list_colours(frame)
                if colour not in (style.ink, style.quiet_ink)
                and (found := contrast(luminance(colour), luminance(WHITE))) < wanted
            ]
            if faint:
                found, colour, wanted = min(faint, key=lambda one: one[0])
                yield Finding(
                    RULE,
                    Severity.WARN,
                    f"page {page.number}",
                    f"The {name_text(subject, frame.key)} has letters in {colour.hex}: contrast "
                    f"{found:.1f} to 1 on white paper; {wanted:g} is needed at their size.",
                    f"Take a darker colour for the chapter or the style: {Mend.STYLE}.",
                    about=frame.key,
                )


def _list_colours(frame: TextFrame) -> Iterator[tuple[Colour, float]]:
    """Give the colours of a text's letters, each with the contrast that its size needs."""
    for paragraph in frame.paragraphs:
        style = paragraph.style
        for run in paragraph.runs:
            if run.text.strip():
                yield run.colour or style.colour, least_contrast(style.size_pt)
