"""A town's map lacks the notice that the licence of its streets asks for.

Open Database License 1.0, 4.3: a work produced from the data bears a notice; which one is said in
the OpenStreetMap Foundation's Attribution Guidelines. Of the makers of pictures ``words`` tells.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject
from wayfold.drawing.items import Drawing, Placed, Text
from wayfold.layout.model import DrawnFrame
from wayfold.story.model import BlockKind

RULE = "credit-lines"
NOTICE = "© OpenStreetMap contributors"
SLACK = 1.0
"""Lettering is measured a little wide: so far (mm) its room may reach over the map's edge."""


def find_missing_credits(subject: Subject) -> Iterator[Finding]:
    """Name town maps on whose pages no notice is seen; one across the fold bears it on one page."""
    blocks = subject.story.blocks if subject.story else ()
    towns = {block.id for block in blocks if block.kind is BlockKind.MAP}
    said: dict[str, tuple[int, list[str]]] = {}
    for page in subject.pages:
        drawn = subject.drawings[page.number - 1 : page.number]
        for frame in page.frames if drawn else ():
            if isinstance(frame, DrawnFrame) and frame.key in towns:
                said.setdefault(frame.key, (page.number, []))[1].extend(_read(drawn[0]))
    for number, words in said.values():
        if NOTICE not in " ".join(" ".join(words).split()):
            yield Finding(
                RULE,
                Severity.BLOCK,
                f"page {number}",
                f"The map bears no “{NOTICE}”, which the licence of its streets asks for.",
                "Make the book again; if it stays so, this is a fault: please report it.",
            )


def _read(drawing: Drawing) -> Iterator[str]:
    """Give what the drawings placed on a page say, where it is seen."""
    for placed in drawing.items:
        if not isinstance(placed, Placed):
            continue
        seen = placed.clip or drawing.trim_box
        for text in (item for item in placed.drawing.items if isinstance(item, Text)):
            if seen.contains(placed.transform.apply_rect(text.box), SLACK):
                yield from (paragraph.plain for paragraph in text.paragraphs)
