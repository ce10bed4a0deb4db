"""Text stands so near the knife or the fold that it may be cut or swallowed.

Common practice, no single source: 3 to 5 mm inside the trim; 10 mm from a fold or hinge.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.naming import name_text
from wayfold.checks.subject import Subject
from wayfold.layout.model import PageLayout, TextFrame

RULE = "text-near-edge"
FROM_TRIM = 5.0
FROM_FOLD = 10.0
SLACK = 0.01


def find_text_near_edges(subject: Subject) -> Iterator[Finding]:
    """Name text nearer than ``FROM_TRIM`` mm to the knife or ``FROM_FOLD`` mm to the fold."""
    for page in subject.pages:
        where = f"page {page.number}"
        if subject.was_told("layout.off-the-page", where):
            continue
        for frame in page.frames:
            if isinstance(frame, TextFrame) and frame.paragraphs:
                yield from _judge_frame(subject, page, frame, where)


def _judge_frame(
    subject: Subject, page: PageLayout, frame: TextFrame, where: str
) -> Iterator[Finding]:
    trim, box = subject.page, frame.box
    left, right = box.x, trim.width - box.right
    fold, fore = (left, right) if page.number % 2 else (right, left)
    room = {
        "head": (box.y, FROM_TRIM),
        "foot": (trim.height - box.bottom, FROM_TRIM),
        "fore edge": (fore, FROM_TRIM),
        "fold": (fold, FROM_FOLD),
    }
    for edge, (distance, wanted) in room.items():
        if distance >= wanted - SLACK:
            continue
        over = distance < 0
        yield Finding(
            RULE,
            Severity.BLOCK if over else Severity.WARN,
            where,
            f"The {name_text(subject, frame.key)} "
            + (
                f"runs {-distance:.1f} mm over the {edge}."
                if over
                else f"stands {distance:.1f} mm from the {edge}; it wants {wanted:.0f} mm."
            ),
            "Move it inwards."
            if frame.by_hand
            else "Shorten the text, or widen the style's margins.",
            about=frame.key,
        )
